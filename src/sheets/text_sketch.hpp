#pragma once

#include <string>
#include <vector>

#include "slantrule/sheets/sheet_content.hpp"

namespace slantrule {

/// Side view in proportion, of characters: bore height to exit spacing (a character is twice as
/// high as wide); says so where the proportion can't be kept.
std::vector<std::string> text_sketch(const Sketch& sketch);

}  // namespace slantrule
