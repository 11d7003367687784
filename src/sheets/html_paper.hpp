#pragma once

#include <string_view>

#include "slantrule/sheets/sheet_content.hpp"

namespace slantrule {

/// The classes of sheet_style() in the largest print that two pages of A4 or US Letter hold: none,
/// "close" or "closest"; with "few", notes and assumptions yield; with "bare", the drawings too.
/// `views_height`: height of the drawings by their width; 0: none.
std::string_view paper_class(const SheetContent& content, double views_height);

}  // namespace slantrule
