#pragma once

#include <string_view>

namespace slantrule {

/// How a setup sheet looks: on paper of either size, on a wide screen, and on a phone.
std::string_view sheet_style();

}  // namespace slantrule
