#pragma once

/// Arithmetic as it is taught: a term knows how it is written in symbols, how with the numbers put
/// in, what comes out of those numbers, what would come out of unrounded ones, and by how much
/// rounding may move the result. Formula, numbers and result of a lesson's line have one
/// definition.

#include <string>
#include <string_view>

#include "slantrule/sheets/display.hpp"

namespace slantrule {

/// What kind of number a quantity is: it decides the unit and the places it is rounded to.
enum class LessonKind : std::uint8_t {
  length,        ///< mm to 0.01, in to 0.001
  round_length,  ///< whole mm, in to 0.1: for estimates
  roughness,     ///< mm to 0.0001, in to 0.00001
  angle,         ///< deg to 0.01
  sound_speed,   ///< m/s to 0.1, whole ft/s
  speed_slope,   ///< m/s per K, ft/s per degF, to 0.01
  velocity,      ///< m/s to 0.0001, ft/s to 0.001
  time,          ///< us (microseconds) to 0.001
  round_time,    ///< whole us: for estimates
  nanoseconds,   ///< ns to 0.01
  volume_flow,   ///< m3/h to 0.01, gpm to 0.1
  area,          ///< cm2, in2, to 0.01
  temperature,   ///< degC, degF, to 0.1
  density,       ///< kg/m3 to 0.1, lb/ft3 to 0.01
  viscosity,     ///< mPa s to 0.0001
  kinematic,     ///< mm2/s to 0.0001
  whole,         ///< a whole number
  factor,        ///< a pure number to 0.0001
  root,          ///< a pure number to 0.001
  diameters,     ///< D to 0.01
  percent,       ///< to 0.01
};

struct LessonKindInfo {
  std::string_view unit;
  int decimals;
};
LessonKindInfo kind_info(LessonKind kind, UnitSystem units);

/// `si` in the unit of its kind.
double in_lesson_unit(double si, LessonKind kind, UnitSystem units);

/// To a fixed number of decimals, halves away from zero. A half that binary numbers miss by a hair
/// (3.555) counts as one, as on a pocket calculator.
double rounded_to(double value, int decimals);
std::string rounded_text(double value, int decimals);

class Term {
 public:
  /// A bare number that stands in the formula itself: 2, 1000, 1.25.
  Term(double literal);  // NOLINT: a formula reads as it is written

  /// A named number, rounded as printed. `exact`: without rounding. `error`: how far it may lie
  /// from `exact`.
  static Term named(std::string symbol, double value, int decimals, double exact, double error);
  /// The same with the value as it is to be written.
  static Term named(std::string symbol, std::string text, double value, double exact, double error);

  const std::string& symbols() const { return symbols_; }
  const std::string& numbers() const { return numbers_; }
  double value() const { return value_; }
  double exact() const { return exact_; }
  /// Most that the rounding of the numbers put in can move the result, to first order.
  double error() const { return error_; }

  friend Term operator+(const Term& a, const Term& b);
  friend Term operator-(const Term& a, const Term& b);
  friend Term operator*(const Term& a, const Term& b);
  friend Term operator/(const Term& a, const Term& b);
  friend Term call(std::string_view name, const Term& argument, double (*function)(double),
                   double (*slope)(double));

 private:
  enum class Binding : std::uint8_t { sum, product, atom };
  Term() = default;
  static Term joined(const Term& a, std::string_view sign, const Term& b, Binding binding,
                     bool right_needs_more);
  static std::string held(const std::string& text, Binding has, Binding needs);

  std::string symbols_, numbers_;
  double value_ = 0, exact_ = 0, error_ = 0;
  Binding symbols_binding_ = Binding::atom, numbers_binding_ = Binding::atom;
};

/// Angles in degrees.
Term sine(const Term& angle);
Term cosine(const Term& angle);
Term tangent(const Term& angle);
Term arc_sine(const Term& sine);
Term square_root(const Term& a);
Term common_logarithm(const Term& a);
Term pi_term();

}  // namespace slantrule
