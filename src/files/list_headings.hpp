#pragma once

/// Headings of lists: their unit, and what they usually stand for.

#include <optional>
#include <string>
#include <string_view>

namespace slantrule {

/// "OD (mm)": "OD" and "mm"; "pipe.wall [mm]": "pipe.wall" and "mm". `unit` is empty where no
/// bracket ends the heading.
struct HeadingParts {
  std::string_view name, unit;
};
HeadingParts heading_parts(std::string_view heading);

/// Lower case, "wallThickness" and "wall_thickness" as "wall thickness", without marks.
std::string folded_heading(std::string_view heading);

/// What a heading suggests. It is shown as a proposal and taken only where the user says so.
struct HeadingMeaning {
  std::string_view key;  ///< empty: said to be nothing that is used (`why`)
  std::string unit;      ///< of bare numbers, as far as the heading tells
  std::string why;
};
std::optional<HeadingMeaning> heading_meaning(std::string_view heading);

}  // namespace slantrule
