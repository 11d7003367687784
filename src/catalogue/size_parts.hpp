#pragma once

/// First half of reading a size designation: from text to its parts, without any table.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace slantrule {

/// The standards of the tables, as `PipeRecord::standard` names them.
inline constexpr std::string_view asme_b36_10 = "ASME B36.10M";
inline constexpr std::string_view asme_b36_19 = "ASME B36.19M";
inline constexpr std::string_view en_10220 = "EN 10220";

/// A number with the unit behind it, both as text that parse_quantity reads.
struct WrittenLength {
  std::string number;  ///< "168,3", "1 1/2"
  std::string unit;    ///< "in", "mm"; empty when none was written
};

/// What stands in a designation: at most one standard, size, wall and schedule.
struct SizeParts {
  enum class SizeKind { none, nps, dn, number };

  std::string_view standard;  ///< one of the above, or empty
  SizeKind size_kind = SizeKind::none;
  WrittenLength size;                       ///< for NPS and DN without a unit
  bool outside_diameter = false;            ///< the size is marked as one: "Ø", "OD"
  std::optional<WrittenLength> other_size;  ///< "6-8 in", "48/54": a second size beside the first
  std::optional<WrittenLength> wall;
  std::vector<std::string> schedules;  ///< "40", "40S", "STD"; two for "40/STD"
  std::string left_over;               ///< the text from where it was no longer understood
};

/// Brings the signs of the text to plain ASCII, takes a standard's name out, cuts the rest into
/// numbers, words and signs, and these into parts. Nothing is skipped: what it does not know goes
/// to `left_over`.
SizeParts parts_of_size(std::string_view text);

}  // namespace slantrule
