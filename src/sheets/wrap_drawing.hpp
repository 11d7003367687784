#pragma once

/// The pictures of a wrap strip's pages, in SVG with millimetres as units.

#include <string>
#include <string_view>

#include "slantrule/sheets/wrap_sheet.hpp"

namespace slantrule {

/// Words on the paper itself, so that a strip that was cut out still says what it is. Plain text.
struct WrapWords {
  std::string tag;
  std::string spacing;  ///< "168 mm   6.61 in (6 5/8)"
  bool invented = false;
};

/// A 100 mm and a 4 in ruler.
std::string wrap_rulers(const Paper& paper);

/// The tiles of one page, counted from 0; empty when it has none.
std::string wrap_page_drawing(const WrapStrip& strip, int page, const WrapWords& words);

/// A stretch of the spacing or the girth in both systems: "529.0 mm (20.83 in)".
std::string wrap_length_text(double length_mm, int decimals, UnitSystem first);

}  // namespace slantrule
