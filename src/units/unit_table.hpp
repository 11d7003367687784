#pragma once

/// The one table of units, and the look-up in it. Inside the units floor only.

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "slantrule/units/quantity.hpp"

namespace slantrule {

struct Unit {
  UnitInfo info;
  /// Exponent where the factor is a power of ten and the offset is zero: such units convert by
  /// moving the decimal point, without a rounding of their own.
  std::optional<int> power_of_ten;
  /// A pressure that says neither gauge nor absolute: good for a tolerance only.
  bool difference_only = false;
};

/// Outcome of a look-up: a unit; or, where case decides, the spellings that it may stand for; or
/// neither, for an unknown unit.
struct UnitMatch {
  const Unit* unit = nullptr;
  std::array<std::string_view, 2> readings;
};

/// The unit that `spelling` (plain text) means. Blanks, product signs, ^, "per" may be written any
/// way; case as find_unit's table has it, or another where it can mean one unit only.
UnitMatch find_unit(std::string_view spelling);

/// The unit whose spelling is nearest, among those with which a text of the dimensions could go on;
/// the shortest way to write it.
std::optional<std::string_view> nearest_unit_among(std::string_view spelling, Dimensions some);

/// The unit of factor 1 (dB/m for an attenuation), or the first whose factor is a power of ten.
const Unit& si_unit(Dimension dimension);

}  // namespace slantrule
