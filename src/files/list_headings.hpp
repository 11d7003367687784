#pragma once

/// Headings of lists: their unit, and what they usually stand for.

#include <cstddef>
#include <cstdint>
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

/// Lower case, "wallThickness" and "wall_thickness" as "wall thickness", without marks and accents:
/// Latin, Greek and Cyrillic letters, "Wandst\u00E4rke" as "wandstarke", "\u00DF" as "ss".
std::string folded_heading(std::string_view heading);

/// What a heading suggests. It is shown as a proposal and taken only where the user says so.
struct HeadingMeaning {
  std::string_view key;  ///< empty: said to be nothing that is used (`why`)
  std::string unit;      ///< of bare numbers, as far as the heading tells
  std::string why;
  std::string words;     ///< those that are known, folded
  std::size_t rank = 0;  ///< of headings with the same key the least is the likeliest
};
std::optional<HeadingMeaning> heading_meaning(std::string_view heading);

/// What a heading says of a wall.
enum class WallRole : std::uint8_t { unsaid, when_new, measured };
WallRole wall_role(std::string_view words);

/// The words of a heading without the number at their end: "reading 2" as "reading", so that
/// columns of one series of readings are alike.
std::string_view without_number(std::string_view words);

}  // namespace slantrule
