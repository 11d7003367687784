#pragma once

/// Quantities as people write them, and back.
///
/// Text with a unit becomes a double in the coherent SI unit of its dimension, together with the
/// standard uncertainty that a stated tolerance implies. No other floor of the house parses or
/// prints a unit.

#include <cstdint>
#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace slantrule {

/// What a number measures. The SI unit in which the number is held stands behind each.
enum class Dimension : std::uint8_t {
  length,               ///< m
  pipe_diameters,       ///< bore diameters, "12 D"
  temperature,          ///< K (thermodynamic; "20 degC" is 293.15)
  pressure_absolute,    ///< Pa
  pressure_gauge,       ///< Pa above the atmosphere
  volume_flow,          ///< m3/s
  mass_flow,            ///< kg/s
  velocity,             ///< m/s; speeds of sound too
  speed_slope,          ///< m/s per K: change of a speed of sound with temperature
  dynamic_viscosity,    ///< Pa s
  kinematic_viscosity,  ///< m2/s
  density,              ///< kg/m3
  angle,                ///< rad
  time,                 ///< s
  frequency,            ///< Hz
  fraction,             ///< 1 ("30 %" is 0.3)
  mass_fraction,        ///< 1 ("30 % mass")
  volume_fraction,      ///< 1 ("30 % vol")
  attenuation,          ///< dB/m
};

/// The dimensions that a key takes, for instance a flow as volume, mass or velocity.
class Dimensions {
 public:
  constexpr Dimensions(Dimension one) : bits_(bit(one)) {}
  constexpr Dimensions(std::initializer_list<Dimension> some) : bits_(0) {
    for (Dimension one : some) bits_ |= bit(one);
  }
  constexpr bool contains(Dimension one) const { return (bits_ & bit(one)) != 0; }

 private:
  static constexpr std::uint32_t bit(Dimension one) {
    return std::uint32_t{1} << static_cast<unsigned>(one);
  }
  std::uint32_t bits_;
};

/// A number read from text.
struct Reading {
  double si = 0;    ///< value in the SI unit of `dimension`; always finite
  double u_si = 0;  ///< standard uncertainty, k = 1; 0 when no tolerance was stated
  Dimension dimension = Dimension::length;
  bool tolerance_stated = false;
};

/// Why a text is no quantity, and how to write it. `message` is one line without the key or file,
/// for instance `"7.11" has no unit; write it as "7.11 mm"`.
struct QuantityProblem {
  std::string message;
};

/// Reads one quantity.
///
///     quantity  = number [tolerance] unit | number unit [tolerance] | feet-and-inches [tolerance]
///     number    = decimal | decimal comma | fraction | whole and fraction ("6 5/8", "6-5/8", "1½")
///     tolerance = ("+-" | "+/-" | "±") number [unit | "%"] ["(k=1)" | "(k=2)"]
///
/// A tolerance is a limit a, u = a / sqrt(3) (rectangular, JCGM 100:2008 4.3.7); behind it `(k=1)`
/// says u = a and `(k=2)` says u = a / 2. Without a unit it is in the unit of the value; that of a
/// temperature is a difference and no percentage; that of a pressure needs no gauge or absolute.
/// Behind a fraction "%" could be points or a share of the value: refused, "30 +- 2 % mass" is not.
/// A comma is a decimal comma, but with exactly three digits behind it (and no leading "0,") it
/// could separate thousands: refused, naming both readings. A dot is always a decimal dot.
/// A fraction alone belongs to in, ft or yd and is one of a tape's ("5/8", not "48/54").
/// Units are matched by case first; another case is taken only where it can mean one unit ("MM",
/// "mhz"), and not where only the prefix differs ("mHz" is no MHz, "MPa s" no mPa s). `gpm` and
/// `gal` are US gallons. A pressure says gauge or absolute; `atm` alone is absolute.
/// A decimal in a unit that is a power of ten of the SI unit is rounded once: "7.11 mm" is the
/// double nearest to 0.00711. Else rounding: a few parts in 1e16.
/// Refused with a mend: no unit, an unknown unit, a unit of a dimension that is not accepted,
/// NaN, infinity, a number beyond the range of a double, several readings (`48/54?`, `4-6 degC`),
/// a temperature or an absolute pressure below zero, more than 200 bytes. Takes any bytes.
std::variant<Reading, QuantityProblem> parse_quantity(std::string_view text, Dimensions accepted);

struct Unit;

/// Reads decimals that all have one unit, as in a column of a table: the same double that
/// parse_quantity gives for the decimal with the unit behind it, at a fraction of the cost.
class UnitReader {
 public:
  /// nullopt where parse_quantity would refuse the unit.
  static std::optional<UnitReader> of(std::string_view unit, Dimensions accepted);

  /// nullopt for anything but digits with at most one dot among them ("7.11", "60"), and for what
  /// is too large for a double.
  std::optional<Reading> read(std::string_view decimal) const;

 private:
  explicit UnitReader(const Unit& unit) : unit_(&unit) {}
  const Unit* unit_;
};

/// Writes `si` in `unit` so that parse_quantity gives the same double back: the shortest decimal
/// that does; where rounding in the unit's conversion allows none, the SI unit is used instead.
/// A zero is written without its sign. What parse_quantity refuses by its value (below absolute
/// zero) can't come back.
/// `unit` is a name that parse_quantity knows for `dimension`; otherwise throws
/// std::invalid_argument, as it does for a value that is not finite.
std::string format_exact(double si, Dimension dimension, std::string_view unit);

/// Writes `si` in `unit` with a fixed number of decimals, for reading by people: "166.5 mm". Never
/// "-0.0". Throws as format_exact does, and for `decimals` < 0.
std::string format_rounded(double si, Dimension dimension, std::string_view unit, int decimals);

/// `si` converted to `unit` (temperatures with their offset). Throws as format_exact does.
double in_unit(double si, Dimension dimension, std::string_view unit);

/// Inches as a tape shows them: the nearest 1/`denominator` as "6 9/16", reduced; "-1/2" below 0.
/// Throws std::invalid_argument for a length that is not finite or has more than 2^53 such parts,
/// and for a denominator below 1.
std::string format_inch_fraction(double length_m, int denominator = 16);

/// Name of a dimension for messages: "a length", "a temperature".
std::string_view dimension_name(Dimension dimension);

/// An accepted way of writing a quantity of this dimension, for messages and help: "7.11 mm".
std::string_view dimension_example(Dimension dimension);

/// A unit by its first name.
struct UnitInfo {
  std::string_view name;
  Dimension dimension;
  double factor;  ///< SI value of one unit
  double offset;  ///< SI value of zero in this unit (temperatures)
};
/// Every unit, in the order of the dimensions, for `schema`, help and tests.
const std::vector<UnitInfo>& known_units();

/// The first name of the unit of any dimension that has a spelling nearest to `text`.
std::optional<std::string_view> nearest_unit(std::string_view text);

}  // namespace slantrule
