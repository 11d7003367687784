#include "slantrule/units/quantity.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <limits>
#include <map>
#include <random>
#include <stdexcept>
#include <string>
#include <vector>

#include "slantrule/units/number_text.hpp"

namespace slantrule {
namespace {

using enum Dimension;

const Dimensions kPressures = {pressure_gauge, pressure_absolute};
const Dimensions kFlows = {volume_flow, mass_flow, velocity};
const Dimensions kStrengths = {mass_fraction, volume_fraction};
const Dimensions kViscosities = {dynamic_viscosity, kinematic_viscosity};

Reading must_read(const std::string& text, Dimensions accepted) {
  CAPTURE(text);
  const auto result = parse_quantity(text, accepted);
  if (const auto* problem = std::get_if<QuantityProblem>(&result)) FAIL(problem->message);
  return std::get<Reading>(result);
}

std::string must_refuse(const std::string& text, Dimensions accepted) {
  CAPTURE(text);
  const auto result = parse_quantity(text, accepted);
  if (std::holds_alternative<Reading>(result)) FAIL("was read");
  return std::get<QuantityProblem>(result).message;
}

bool is_below_zero_refused(Dimension dimension) {
  return dimension == temperature || dimension == pressure_absolute;
}

/// Conversions by whole numbers that define the units: the arithmetic of the expectation and that
/// of the table round apart, at four places at most.
constexpr double kRounding = 4 * std::numeric_limits<double>::epsilon();

}  // namespace

TEST_CASE("quantities are read in every unit that a technician writes") {
  struct Row {
    const char* source;
    const char* text;
    Dimensions accepted;
    Dimension dimension;
    double si;
    double relative_tolerance = kRounding;
  };
  // Definitions: inch 25.4 mm, foot 12 in, yard 3 ft, US gallon 231 in3, UK gallon 4.546 09 l,
  // petroleum barrel 42 US gallons, pound 0.453 592 37 kg, standard gravity 9.806 65 m/s2 (NIST SP
  // 811 (2008), appendix B; exact). The arithmetic is by hand.
  const double in3 = 0.0254 * 0.0254 * 0.0254;
  const double ft3 = 1728 * in3;
  const double pi = std::acos(-1.0);
  const std::vector<Row> rows = {
      {"SI", "1.5 m", length, length, 1.5, 0},
      {"SI", "7.11 mm", length, length, 7.11e-3, 0},
      {"SI", "7.11mm", length, length, 7.11e-3, 0},
      {"SI", "-7.11 mm", length, length, -7.11e-3, 0},
      {"SI", "+7.11 mm", length, length, 7.11e-3, 0},
      {"SI, minus sign U+2212", "\u22127.11 mm", length, length, -7.11e-3, 0},
      {"SI, no-break space", "7.11\u00a0mm", length, length, 7.11e-3, 0},
      {"SI", "  7.11   mm ", length, length, 7.11e-3, 0},
      {"SI, capitals of a drawing", "7.11 MM", length, length, 7.11e-3, 0},
      {"SI", "2.1 cm", length, length, 2.1e-2, 0},
      {"SI", "150 um", length, length, 150e-6, 0},
      {"SI, micro sign", "150 \u00b5m", length, length, 150e-6, 0},
      {"SI, Greek mu", "150 \u03bcm", length, length, 150e-6, 0},
      {"SI", "150 micron", length, length, 150e-6, 0},
      {"SI", "1.2 km", length, length, 1200, 0},
      {"SI", "1.5e3 mm", length, length, 1.5, 0},
      {"spreadsheet exponent", "1E+02 mm", length, length, 0.1, 0},
      {"decimal comma", "7,11 mm", length, length, 7.11e-3, 0},
      {"decimal comma", "0,125 mm", length, length, 0.125e-3, 0},
      {"decimal comma", "7,1234 mm", length, length, 7.1234e-3, 0},
      {"a dot is always decimal", "1.234 mm", length, length, 1.234e-3, 0},
      {"25.4 mm", "1 in", length, length, 0.0254},
      {"25.4 mm", "1 inch", length, length, 0.0254},
      {"2 x 25.4", "2 inches", length, length, 0.0508},
      {"4 x 25.4", "4-inch", length, length, 0.1016},
      {"4 x 25.4", "4\"", length, length, 0.1016},
      {"4 x 25.4", "4''", length, length, 0.1016},
      {"4 x 25.4", "4\u201d", length, length, 0.1016},
      {"4 x 25.4", "4\u2033", length, length, 0.1016},
      {"0.5 x 25.4", ".5 in", length, length, 0.0127},
      {"6.625 x 25.4", "6 5/8 in", length, length, 0.168275},
      {"6.625 x 25.4", "6-5/8\"", length, length, 0.168275},
      {"1.5 x 25.4", "1\u00bd\"", length, length, 0.0381},
      {"1.5 x 25.4", "1 \u00bd\u2033", length, length, 0.0381},
      {"0.5 x 25.4", "\u00bd in", length, length, 0.0127},
      {"3 / 8 x 25.4", "\u215c in", length, length, 0.009525},
      {"5 / 8 x 25.4", "5/8 in", length, length, 0.015875},
      {"5 / 8 x 25.4, U+2044", "5\u20448 in", length, length, 0.015875},
      {"0.237 x 25.4", "237 mil", length, length, 0.0060198},
      {"0.237 x 25.4", "237 thou", length, length, 0.0060198},
      {"5 x 304.8", "5 ft", length, length, 1.524},
      {"5 x 304.8", "5 feet", length, length, 1.524},
      {"1 x 304.8", "1 foot", length, length, 0.3048},
      {"5 x 304.8", "5'", length, length, 1.524},
      {"66 x 25.4", "5' 6\"", length, length, 1.6764},
      {"66 x 25.4", "5'6\"", length, length, 1.6764},
      {"66 x 25.4", "5'-6\"", length, length, 1.6764},
      {"66 x 25.4", "-5' 6\"", length, length, -1.6764},
      {"66 x 25.4", "5\u2032 6\u2033", length, length, 1.6764},
      {"66 x 25.4", "5\u2019 6\u201d", length, length, 1.6764},
      {"66 x 25.4", "5' 6''", length, length, 1.6764},
      {"66.5 x 25.4", "5 ft 6 1/2 in", length, length, 1.6891},
      {"66.5 x 25.4", "5'-6 1/2\"", length, length, 1.6891},
      {"66.5 x 25.4", "5' 6\u00bd\"", length, length, 1.6891},
      {"6.5 x 25.4 below 1 ft", "0' 6 1/2\"", length, length, 0.1651},
      {"3 ft", "1 yd", length, length, 0.9144},

      {"count", "12 D", {length, pipe_diameters}, pipe_diameters, 12, 0},
      {"count", "12D", {length, pipe_diameters}, pipe_diameters, 12, 0},
      {"count", "12 dia", pipe_diameters, pipe_diameters, 12, 0},

      // 0 degC = 273.15 K = 32 degF = 491.67 degR, exact.
      {"+ 273.15", "20 degC", temperature, temperature, 293.15},
      {"+ 273.15", "20 \u00b0C", temperature, temperature, 293.15},
      {"+ 273.15", "20 \u00baC", temperature, temperature, 293.15},
      {"+ 273.15", "20\u2103", temperature, temperature, 293.15},
      {"+ 273.15", "60C", temperature, temperature, 333.15},
      {"+ 273.15", "-20 deg C", temperature, temperature, 253.15},
      {"(140 - 32) / 1.8 = 60", "140 \u00b0F", temperature, temperature, 333.15},
      {"(140 - 32) / 1.8 = 60", "140F", temperature, temperature, 333.15},
      {"-40 on both", "-40 degF", temperature, temperature, 233.15},
      {"boiling", "212 degF", temperature, temperature, 373.15},
      {"absolute zero", "-273.15 degC", temperature, temperature, 0, 0},
      {"absolute zero", "-459.67 degF", temperature, temperature, 0, 0},
      {"SI", "293 K", temperature, temperature, 293, 0},
      {"527.67 / 1.8 = 293.15", "527.67 degR", temperature, temperature, 293.15},
      {"527.67 / 1.8 = 293.15", "527.67 \u00b0R", temperature, temperature, 293.15},

      {"1e5 Pa", "4 bar gauge", kPressures, pressure_gauge, 4e5, 0},
      {"1e5 Pa", "4 bar g", kPressures, pressure_gauge, 4e5, 0},
      {"1e5 Pa", "4 barg", kPressures, pressure_gauge, 4e5, 0},
      {"1e5 Pa", "4 bar(g)", kPressures, pressure_gauge, 4e5, 0},
      {"1e5 Pa", "-0.3 bar gauge", kPressures, pressure_gauge, -0.3e5, 0},
      {"1e5 Pa", "4 bara", kPressures, pressure_absolute, 4e5, 0},
      {"1e5 Pa", "4 bar abs", kPressures, pressure_absolute, 4e5, 0},
      {"1e5 Pa", "4 bar absolute", kPressures, pressure_absolute, 4e5, 0},
      {"1e2 Pa", "300 mbar gauge", kPressures, pressure_gauge, 3e4, 0},
      {"SI", "3 kPa(g)", kPressures, pressure_gauge, 3e3, 0},
      {"SI", "0.4 MPa gauge", kPressures, pressure_gauge, 4e5, 0},
      {"SI", "7 Pa absolute", kPressures, pressure_absolute, 7, 0},
      {"0.45359237 x 9.80665 / 0.0254^2", "1 psig", kPressures, pressure_gauge,
       0.45359237 * 9.80665 / (0.0254 * 0.0254)},
      {"0.45359237 x 9.80665 / 0.0254^2", "1 PSIA", kPressures, pressure_absolute,
       0.45359237 * 9.80665 / (0.0254 * 0.0254)},
      {"definition", "1 atm", kPressures, pressure_absolute, 101325, 0},
      {"definition", "2 atm gauge", kPressures, pressure_gauge, 202650},
      // 760 mm of conventional mercury miss the atmosphere by 1.4e-7 of it, as 13.5951 is rounded.
      {"760 mmHg are an atmosphere", "760 mmHg absolute", kPressures, pressure_absolute, 101325,
       1.5e-7},
      {"1 inHg = 25.4 mmHg", "29.92125984251968 inHg abs", kPressures, pressure_absolute, 101325,
       1.5e-7},
      {"1000 kg/m3 x 9.80665 m/s2", "10 mH2O gauge", kPressures, pressure_gauge, 98066.5},
      {"kilopond on a square centimetre", "1 kgf/cm2 g", kPressures, pressure_gauge, 98066.5},
      {"kilopond on a square centimetre", "1 kg/cm\u00b2(g)", kPressures, pressure_gauge, 98066.5},

      {"/ 3600", "60 m3/h", kFlows, volume_flow, 60.0 / 3600},
      {"/ 3600", "60 m\u00b3/hr", kFlows, volume_flow, 60.0 / 3600},
      {"/ 3600", "60 m^3 / h", kFlows, volume_flow, 60.0 / 3600},
      {"/ 3600", "60 cbm/h", kFlows, volume_flow, 60.0 / 3600},
      {"/ 3600", "60 CMH", kFlows, volume_flow, 60.0 / 3600},
      {"/ 3600", "60 cubic metres per hour", kFlows, volume_flow, 60.0 / 3600},
      {"SI", "0.5 m3/s", kFlows, volume_flow, 0.5, 0},
      {"/ 60", "3 m3/min", kFlows, volume_flow, 0.05},
      {"/ 86400", "864 m3/d", kFlows, volume_flow, 0.01},
      {"1e-3", "10 l/s", kFlows, volume_flow, 0.01, 0},
      {"1e-3", "10 L/s", kFlows, volume_flow, 0.01, 0},
      {"1e-3", "10 lps", kFlows, volume_flow, 0.01, 0},
      {"1e-3", "10 litres per second", kFlows, volume_flow, 0.01, 0},
      {"1e-3 / 60", "60 l/min", kFlows, volume_flow, 1e-3},
      {"1e-3 / 60", "60 LPM", kFlows, volume_flow, 1e-3},
      {"1e-3 / 3600", "36 l/h", kFlows, volume_flow, 1e-5},
      {"1e-6 / 60", "60 ml/min", kFlows, volume_flow, 1e-6},
      {"1e3 m3 a day", "86.4 Ml/d", kFlows, volume_flow, 1},
      {"1e3 m3 a day", "86.4 MLD", kFlows, volume_flow, 1},
      {"1e-6 m3 a day", "86.4 ml/d", kFlows, volume_flow, 1e-9},
      {"231 in3 / 60 s", "1 gpm", kFlows, volume_flow, 231 * in3 / 60},
      {"231 in3 / 60 s", "1 US gpm", kFlows, volume_flow, 231 * in3 / 60},
      {"231 in3 / 60 s", "1 gal/min", kFlows, volume_flow, 231 * in3 / 60},
      {"231 in3 / 60 s", "1 gallon per minute", kFlows, volume_flow, 231 * in3 / 60},
      {"231 in3 / 3600 s", "1 gph", kFlows, volume_flow, 231 * in3 / 3600},
      {"231 in3 / 86400 s", "1 gpd", kFlows, volume_flow, 231 * in3 / 86400},
      {"4.54609 l / 60 s", "1 imp gpm", kFlows, volume_flow, 4.54609e-3 / 60},
      {"4.54609 l / 60 s", "1 igpm", kFlows, volume_flow, 4.54609e-3 / 60},
      {"231e6 in3 / 86400 s", "1 mgd", kFlows, volume_flow, 231e6 * in3 / 86400},
      {"231e6 in3 / 86400 s", "1 MGD", kFlows, volume_flow, 231e6 * in3 / 86400},
      {"4546.09 m3 / 86400 s", "1 imp mgd", kFlows, volume_flow, 4546.09 / 86400},
      {"9702 in3 / 86400 s", "1 bbl/d", kFlows, volume_flow, 9702 * in3 / 86400},
      {"9702 in3 / 86400 s", "1 BPD", kFlows, volume_flow, 9702 * in3 / 86400},
      {"9702 in3 / 3600 s", "1 bbl/h", kFlows, volume_flow, 9702 * in3 / 3600},
      {"9702e3 in3 / 86400 s", "1 kbd", kFlows, volume_flow, 9702e3 * in3 / 86400},
      {"158.987 l (field data 1.4)", "86400 bbl/d", kFlows, volume_flow, 0.158987,
       0.5e-6 / 0.158987},
      {"449 gpm (field data 1.4)", "449 gpm", kFlows, volume_flow, ft3, 0.5 / 449},
      {"1728 in3", "1 cfs", kFlows, volume_flow, ft3},
      {"1728 in3", "1 ft3/s", kFlows, volume_flow, ft3},
      {"1728 in3 / 60 s", "1 cfm", kFlows, volume_flow, ft3 / 60},
      {"43 560 ft2 x 1 ft", "1 acre-ft/d", kFlows, volume_flow, 43560 * ft3 / 86400},

      {"SI", "16 kg/s", kFlows, mass_flow, 16, 0},
      {"/ 3600", "36 kg/h", kFlows, mass_flow, 0.01},
      {"1000 kg / 3600 s", "3.6 t/h", kFlows, mass_flow, 1},
      {"0.45359237 kg", "1 lb/s", kFlows, mass_flow, 0.45359237},
      {"0.45359237 kg / 60 s", "1 lb/min", kFlows, mass_flow, 0.45359237 / 60},
      {"0.45359237 kg / 3600 s", "1 lb/h", kFlows, mass_flow, 0.45359237 / 3600},

      {"SI", "1482 m/s", kFlows, velocity, 1482, 0},
      {"ISO 80000 style", "1482 m\u00b7s\u207b\u00b9", kFlows, velocity, 1482, 0},
      {"SI", "5 mm/s", kFlows, velocity, 5e-3, 0},
      {"SI", "5.92 km/s", kFlows, velocity, 5920, 0},
      {"SI", "5.92 mm/us", kFlows, velocity, 5920, 0},
      {"0.3048", "5 ft/s", kFlows, velocity, 1.524},
      {"0.3048", "5 fps", kFlows, velocity, 1.524},
      {"0.3048 / 60", "60 ft/min", kFlows, velocity, 0.3048},
      {"0.0254", "1 in/s", kFlows, velocity, 0.0254},
      {"0.233 x 25 400", "0.233 in/us", kFlows, velocity, 5918.2},
      {"0.233 x 25 400", "0.233 in/\u00b5s", kFlows, velocity, 5918.2},
      {"/ 3.6", "3.6 km/h", kFlows, velocity, 1},

      {"SI", "-1.9 m/s/K", speed_slope, speed_slope, -1.9, 0},
      {"SI", "-1.9 m/(s K)", speed_slope, speed_slope, -1.9, 0},
      {"SI", "-1.9 m/(s\u00b7K)", speed_slope, speed_slope, -1.9, 0},
      {"a degree Celsius is a kelvin", "-1.9 m/s/\u00b0C", speed_slope, speed_slope, -1.9, 0},
      {"a degree Celsius is a kelvin", "-1.9 m/s per degC", speed_slope, speed_slope, -1.9, 0},
      {"0.3048 x 1.8", "1 ft/s/degF", speed_slope, speed_slope, 0.54864},
      {"1.8", "1 m/s/degF", speed_slope, speed_slope, 1.8},

      {"SI", "2 Pa s", kViscosities, dynamic_viscosity, 2, 0},
      {"SI", "2 Pa.s", kViscosities, dynamic_viscosity, 2, 0},
      {"SI", "1.2 mPa s", kViscosities, dynamic_viscosity, 1.2e-3, 0},
      {"SI", "1.2 mPa.s", kViscosities, dynamic_viscosity, 1.2e-3, 0},
      {"SI", "1.2 mPa\u00b7s", kViscosities, dynamic_viscosity, 1.2e-3, 0},
      {"SI", "1.2 mPa*s", kViscosities, dynamic_viscosity, 1.2e-3, 0},
      {"1 mPa s", "1.2 cP", kViscosities, dynamic_viscosity, 1.2e-3, 0},
      {"0.1 Pa s", "3 P", kViscosities, dynamic_viscosity, 0.3, 0},
      {"SI", "3 kg/m/s", kViscosities, dynamic_viscosity, 3, 0},
      {"0.45359237 / 0.3048", "1 lb/ft/s", kViscosities, dynamic_viscosity, 0.45359237 / 0.3048},
      {"SI", "1.2e-6 m2/s", kViscosities, kinematic_viscosity, 1.2e-6, 0},
      {"SI", "1.2 mm2/s", kViscosities, kinematic_viscosity, 1.2e-6, 0},
      {"1 mm2/s", "1.2 cSt", kViscosities, kinematic_viscosity, 1.2e-6, 0},
      {"1 cm2/s", "1.2 St", kViscosities, kinematic_viscosity, 1.2e-4, 0},
      {"0.3048^2", "1 ft\u00b2/s", kViscosities, kinematic_viscosity, 0.3048 * 0.3048},

      {"SI", "998 kg/m3", density, density, 998, 0},
      {"SI", "1.02 g/cm\u00b3", density, density, 1020, 0},
      {"SI", "1.02 g/ml", density, density, 1020, 0},
      {"SI", "1.02 kg/l", density, density, 1020, 0},
      {"SI", "1020 g/l", density, density, 1020, 0},
      {"0.45359237 / 0.3048^3", "1 lb/ft3", density, density, 0.45359237 / ft3},
      {"0.45359237 / (231 in3)", "1 lb/gal", density, density, 0.45359237 / (231 * in3)},

      {"pi / 180", "38 deg", angle, angle, 38 * pi / 180},
      {"pi / 180", "38\u00b0", angle, angle, 38 * pi / 180},
      {"SI", "0.6 rad", angle, angle, 0.6, 0},
      {"SI", "600 mrad", angle, angle, 0.6, 0},
      {"a right angle is 100 gon", "100 gon", angle, angle, pi / 2},
      {"a right angle is 100 gon", "100 grad", angle, angle, pi / 2},
      {"60 arcmin = 1 deg", "60 arcmin", angle, angle, pi / 180},

      {"SI", "2 s", time, time, 2, 0},
      {"SI", "2 ms", time, time, 2e-3, 0},
      {"SI", "2 us", time, time, 2e-6, 0},
      {"SI", "2 \u00b5s", time, time, 2e-6, 0},
      {"SI", "2 ns", time, time, 2e-9, 0},
      {"SI", "2 ps", time, time, 2e-12, 0},
      {"60 s", "2 min", time, time, 120, 0},
      {"3600 s", "2 h", time, time, 7200, 0},

      {"SI", "50 Hz", frequency, frequency, 50, 0},
      {"SI", "500 kHz", frequency, frequency, 5e5, 0},
      {"SI", "1 MHz", frequency, frequency, 1e6, 0},
      {"SI", "1 mhz", frequency, frequency, 1e6, 0},
      {"SI", "1 GHz", frequency, frequency, 1e9, 0},

      {"hundredth", "5 %", fraction, fraction, 0.05, 0},
      {"hundredth", "5%", fraction, fraction, 0.05, 0},
      {"thousandth", "5 \u2030", fraction, fraction, 0.005, 0},
      {"millionth", "50 ppm", fraction, fraction, 50e-6, 0},
      {"1e-9", "50 ppb", fraction, fraction, 50e-9, 0},
      {"hundredth", "30 % mass", kStrengths, mass_fraction, 0.3, 0},
      {"hundredth", "30 % by mass", kStrengths, mass_fraction, 0.3, 0},
      {"hundredth", "30 wt%", kStrengths, mass_fraction, 0.3, 0},
      {"hundredth", "30 wt.-%", kStrengths, mass_fraction, 0.3, 0},
      {"hundredth", "30% w/w", kStrengths, mass_fraction, 0.3, 0},
      {"thousandth", "35 g/kg", kStrengths, mass_fraction, 0.035, 0},
      {"hundredth", "30 % vol", kStrengths, volume_fraction, 0.3, 0},
      {"hundredth", "30 vol%", kStrengths, volume_fraction, 0.3, 0},
      {"hundredth", "30 % v/v", kStrengths, volume_fraction, 0.3, 0},
      {"hundredth", "30 % by volume", kStrengths, volume_fraction, 0.3, 0},
      {"hundredth", "2 % vol", {fraction, volume_fraction}, volume_fraction, 0.02, 0},
      {"hundredth", "2 %", {fraction, volume_fraction}, fraction, 0.02, 0},

      {"SI", "3 dB/m", attenuation, attenuation, 3, 0},
      {"SI", "3 dB/cm", attenuation, attenuation, 300, 0},
      {"SI", "3 dB/mm", attenuation, attenuation, 3000, 0},
      {"20 lg e dB", "1 Np/m", attenuation, attenuation, 20 * std::log10(std::exp(1.0))},
      {"20 lg e dB", "1 Np/cm", attenuation, attenuation, 2000 * std::log10(std::exp(1.0))},
  };
  for (const Row& row : rows) {
    CAPTURE(row.source, row.text);
    const Reading reading = must_read(row.text, row.accepted);
    CHECK(reading.dimension == row.dimension);
    CHECK(std::abs(reading.si - row.si) <= row.relative_tolerance * std::abs(row.si));
    CHECK(reading.u_si == 0);
    CHECK_FALSE(reading.tolerance_stated);
  }
}

TEST_CASE("a tolerance becomes a standard uncertainty") {
  struct Row {
    const char* text;
    Dimensions accepted;
    double si;
    double limit;     // in SI
    double coverage;  // limit / u: sqrt(3) for a rectangular limit, JCGM 100:2008, 4.3.7
  };
  const double root3 = std::sqrt(3.0);
  const std::vector<Row> rows = {
      {"7.11 mm +- 0.15 mm", length, 7.11e-3, 0.15e-3, root3},
      {"7.11 mm+-0.15mm", length, 7.11e-3, 0.15e-3, root3},
      {"7.11 mm +/- 0.15 mm", length, 7.11e-3, 0.15e-3, root3},
      {"7.11 mm \u00b1 0.15 mm", length, 7.11e-3, 0.15e-3, root3},
      {"7,11 \u00b1 0,15 mm", length, 7.11e-3, 0.15e-3, root3},
      {"7.11 +- 0.15 mm", length, 7.11e-3, 0.15e-3, root3},
      {"7.11 mm \u00b10.15", length, 7.11e-3, 0.15e-3, root3},
      {"7.11 mm +- 150 um", length, 7.11e-3, 150e-6, root3},
      {"7.11 mm +- 0.15 mm (k=1)", length, 7.11e-3, 0.15e-3, 1},
      {"7.11 mm +- 0.15 mm (k=2)", length, 7.11e-3, 0.15e-3, 2},
      {"7.11 mm +- 0.15 mm ( k = 2 )", length, 7.11e-3, 0.15e-3, 2},
      {"7.11 +- 0.15 (k=2) mm", length, 7.11e-3, 0.15e-3, 2},
      {"7.11 mm +- 2 % (k=2)", length, 7.11e-3, 0.02 * 7.11e-3, 2},
      {"7.11 mm +- 0 mm", length, 7.11e-3, 0, root3},
      {"-1.9 m/s/K +- 10 %", speed_slope, -1.9, 0.19, root3},
      {"1482 m/s +- 0.2 %", velocity, 1482, 2.964, root3},
      {"1482 +- 0.2 % m/s", velocity, 1482, 2.964, root3},
      {"1 MHz +- 50 ppm", frequency, 1e6, 50, root3},
      {"6 5/8 in +- 1/32 in", length, 6.625 * 0.0254, 0.0254 / 32, root3},
      {"5' 6\" +- 1/4\"", length, 66 * 0.0254, 0.0254 / 4, root3},
      {"20 degC +- 17 K", temperature, 293.15, 17, root3},
      {"20 degC +- 2 degC", temperature, 293.15, 2, root3},
      {"20 +- 2 degC", temperature, 293.15, 2, root3},
      {"68 degF +- 9 degF", temperature, 293.15, 5, root3},
      {"20 degC +- 9 F", temperature, 293.15, 5, root3},
      {"4 bar gauge +- 0.1 bar", kPressures, 4e5, 1e4, root3},
      {"4 +- 0.1 bar gauge", kPressures, 4e5, 1e4, root3},
      {"4 kPa(g) +- 1 % (k=2)", kPressures, 4e3, 40, 2},
      {"30 % mass +- 2 % mass", kStrengths, 0.3, 0.02, root3},
      {"30 +- 2 % mass", kStrengths, 0.3, 0.02, root3},
      {"5 +- 1 %", fraction, 0.05, 0.01, root3},
      {"12 D +- 1 D", pipe_diameters, 12, 1, root3},
  };
  for (const Row& row : rows) {
    CAPTURE(row.text);
    const Reading reading = must_read(row.text, row.accepted);
    CHECK(reading.tolerance_stated);
    CHECK(std::abs(reading.si - row.si) <= kRounding * std::abs(row.si));
    CHECK(std::abs(reading.u_si - row.limit / row.coverage) <= kRounding * row.limit);
  }
}

TEST_CASE("a text that is no quantity is refused with its reason") {
  struct Row {
    const char* text;
    Dimensions accepted;
    const char* reason;                   // part of the message
    std::vector<std::string> mends = {};  // in the message, and readable
  };
  const std::vector<Row> rows = {
      {"", length, "empty"},
      {"   ", length, "empty"},
      {"TBD", length, "no number"},
      {"?", length, "no number"},
      {"7.11", length, "no unit", {"7.11 mm"}},
      {"7,11", length, "no unit", {"7.11 mm"}},
      {"7.11 +- 0.15", length, "no unit", {"7.11 mm"}},
      {"7.11 +- 2 %", length, "no unit", {"7.11 mm"}},
      {"6 5/8", length, "no unit", {"6 5/8 in"}},
      {"4", kPressures, "no unit", {"4 bar absolute"}},
      {"60", kFlows, "no unit", {"60 m3/h"}},
      {"0.3", fraction, "no unit", {"0.3 %"}},
      {"7.11 mmm", length, "unknown unit", {}},
      {"7.11 bananas", length, "unknown unit"},
      {"7, mm", length, "unknown unit"},
      {"5 ft3", length, "unknown unit"},

      // Commas, dots, blanks and apostrophes.
      {"1,234 mm", length, "thousands", {"1.234 mm", "1234 mm"}},
      {"-1,234 mm", length, "thousands"},
      {"00,234 mm", length, "thousands"},
      {"7.11 mm +- 1,150 mm", length, "thousands", {"1.150 mm", "1150 mm"}},
      {"1,234.5 mm", length, "thousands", {"1234.5 mm"}},
      {"1.234,5 mm", length, "thousands", {"1234.5 mm"}},
      {"1,234,567 mm", length, "thousands", {"1234567 mm"}},
      {"1.234.567 mm", length, "thousands", {"1234567 mm"}},
      {"1.234.5 mm", length, "can't be read"},
      {"1,2,3 mm", length, "can't be read"},
      {",5 mm", length, "lacks a zero", {"0.5 mm"}},
      {"1 234 mm", length, "blank", {"1234 mm"}},
      {"1 234,5 mm", length, "blank", {"1234.5 mm"}},
      {"1\u00a0234 mm", length, "blank", {"1234 mm"}},
      {"1'234.5 mm", length, "apostrophe", {"1234.5 mm"}},

      // No finite number.
      {"NaN mm", length, "finite"},
      {"nan", length, "finite"},
      {"-inf mm", length, "finite"},
      {"Infinity m", length, "finite"},
      {"1e400 mm", length, "range"},
      {"1e-400 mm", length, "range"},
      {"1e308 km", length, "range"},
      {"5e-324 mm", length, "range"},
      {"5e-324 in", length, "range"},
      {"1e99999999999999999999 mm", length, "range"},
      {"1 mm +- 1e400 mm", length, "range"},

      // Several readings.
      {"4-6 degC", temperature, "range", {"4 degC", "6 degC"}},
      {"4\u20136\u00b0C", temperature, "range"},
      {"4 degC to 6 degC", temperature, "range", {"4 degC", "6 degC"}},
      {"12..14 mm", length, "range", {"12 mm", "14 mm"}},
      {"6-8\"", length, "range", {"6 in", "8 in"}},
      {"48/54?", length, "two values", {"48 mm", "54 mm"}},
      {"48/54 in", length, "two values", {"48 in", "54 in"}},
      {"4/8 in", length, "two values", {"4 in", "8 in"}},
      {"5/12 in", length, "two values", {"5 in", "12 in"}},
      {"5/8 mm", length, "two values", {"0.625 mm", "5 mm", "8 mm"}},
      {"1/6/2015", length, "is a date"},
      {"06/12/2024", temperature, "is a date"},
      {"2024-11-07", length, "is a date"},
      {"7.11.24", length, "is a date"},
      {"07-Nov-2024", length, "is a date"},
      {"6 9/8 in", length, "can't be read"},
      {"7.1 mm, 7.2 mm", length, "more than one number", {"7.1 mm", "7.2 mm"}},
      {"4 mm or 6 mm", length, "more than one number", {"4 mm", "6 mm"}},
      {"168.3 x 7.11 mm", length, "more than one number", {"168.3 mm", "7.11 mm"}},
      {"168,3\u00d77,1", length, "more than one number"},
      {"10.3 (was 12.7)", length, "more than one number"},
      {"60 \u00b0C / 140 \u00b0F", temperature, "two units", {"60 degC", "140 degF"}},
      {"15.6 \u00b0C (60 \u00b0F)", temperature, "two units", {"15.6 degC", "60 degF"}},
      {"6/12 \u00b0C", temperature, "two values", {"6 degC", "12 degC"}},
      {"60 m3/h @ 4 bar", kFlows, "write one value with its unit, such as \"60 m3/h\""},
      {"60 m3/h 4", kFlows, "write one value with its unit, such as \"60 m3/h\""},
      {"elbow-90 @ 2,1 m, pump @ 12 D", length, "doesn't start with a number"},
      {"2,1 m, pump @ 12 D", length, "write one value with its unit, such as \"7.11 mm\""},
      {"4-6 bar", kPressures, "write one value with its unit, such as \"5 bar absolute\""},
      {"60 max", kFlows, "is a bound"},
      {"60 m3/h (design)", kFlows, "is a bound"},
      {"60 C min", temperature, "is a bound"},
      {"60 (avg)", kFlows, "\"avg\" behind it", {"60 m3/h"}},
      {"60 l/s avg.", kFlows, "\"avg\" behind it", {"60 l/s"}},
      {"60 m3/h approx.", kFlows, "approximate"},
      {"7 mm?", length, "in doubt", {"7 mm"}},
      {"~7 mm", length, "approximate"},
      {"\u22487 mm", length, "approximate"},
      {"approx 7 mm", length, "approximate"},
      {"ca. 7 mm", length, "approximate"},
      {">3 mm", length, "bound"},
      {"\u2264 3 mm", length, "bound"},
      {"max 3 mm", length, "bound"},
      {"DN100", length, "pipe size"},
      {"NPS 4", length, "pipe size"},
      {"x7 mm", length, "start with a number"},
      {"--5 mm", length, "start with a number"},

      // Feet and inches.
      {"5' 6", length, "isn't in inches"},
      {"5' 6 mm", length, "isn't in inches"},
      {"5' 12\"", length, "less than 12 inches"},
      {"5.5' 6\"", length, "whole number of feet"},
      {"5' 6\"", temperature, "a length"},
      {"5' 6\" +- 1", length, "without a unit"},

      // Dimensions.
      {"60 m3/h", length, "a volume flow"},
      {"7 mm", kFlows, "a volume flow or a mass flow or a velocity"},
      {"4 bar", kPressures, "gauge or absolute", {"4 bar gauge", "4 bar absolute"}},
      {"4 +- 0.1 bar", kPressures, "gauge or absolute", {"4 bar gauge", "4 bar absolute"}},
      {"30 psi", pressure_absolute, "gauge or absolute", {"30 psi absolute"}},
      {"4 bar", length, "a pressure"},
      {"4 bar gauge", pressure_absolute, "a gauge pressure"},
      {"60 deg", temperature, "degC or degF", {"60 degC", "60 degF"}},
      {"60\u00b0", temperature, "degC or degF", {"60 degC", "60 degF"}},
      {"60 rad", temperature, "an angle"},
      {"30 %", kStrengths, "by mass or by volume", {"30 % mass", "30 % vol"}},
      {"30%", mass_fraction, "by mass or by volume", {"30 % mass"}},
      {"100 ppm", volume_fraction, "by mass or by volume", {"100 ppm vol"}},
      {"30 % vol", mass_fraction, "a volume fraction"},
      {"30 % mass", fraction, "a mass fraction"},

      // Case.
      {"60 ML/D", kFlows, "case matter"},
      {"1 mHz", frequency, "case matter"},
      {"1 MPa s", kViscosities, "case matter"},
      {"5 mPa gauge", kPressures, "case matter"},
      {"7 Mm", length, "case matter"},
      {"7 Ms", time, "case matter"},

      // Tolerances.
      {"+- 0.2 mm", length, "no value"},
      {"7 mm +-", length, "no number behind"},
      {"7 mm +- mm", length, "no number behind"},
      {"7 mm +- -0.1 mm", length, "negative"},
      {"7 mm +- nan mm", length, "finite"},
      {"7 mm +- 0.1 K", length, "same unit"},
      {"7 mm +- 0.1 bananas", length, "unknown unit"},
      {"7 mm +0.4/-0.8 mm", length, "unequal"},
      {"7 +0.4 -0.8 mm", length, "unequal"},
      {"7 mm +- 1 mm +- 2 mm", length, "several limits"},
      {"20 degC +- 2 %", temperature, "percentage"},
      {"20 degC +- 2 deg", temperature, "an angle"},
      {"30 % mass +- 2 %", kStrengths, "points", {"30 +- 2 % mass"}},
      {"5 % +- 1 %", fraction, "points", {"5 +- 1 %"}},
      {"7 mm +- 0.1 mm (k=3)", length, "(k=1) and (k=2)"},
      {"7 mm +- 0.1 mm (n=2)", length, "(k=1) and (k=2)"},
      {"7 mm (k=2)", length, "without a tolerance"},
      {"1e+3 mm (k=2)", length, "without a tolerance"},
      {"7 mm (k=2) +- 0.1 mm", length, "without a tolerance"},
      {"7 mm +- 0.1 mm (k=2", length, "without a tolerance"},
      {"7 mm +- 0.(k=2)1 mm", length, "more than one number"},

      // What can't be.
      {"-300 degC", temperature, "absolute zero"},
      {"-1 K", temperature, "absolute zero"},
      {"-1 bar absolute", kPressures, "below zero"},
  };
  for (const Row& row : rows) {
    CAPTURE(row.text);
    const std::string message = must_refuse(row.text, row.accepted);
    CAPTURE(message);
    CHECK(message.find(row.reason) != std::string::npos);
    for (const std::string& mend : row.mends) {
      CAPTURE(mend);
      CHECK(message.find(mend) != std::string::npos);
      must_read(mend, row.accepted);
    }
  }
}

TEST_CASE("a refusal is one line that quotes the text without control characters") {
  const std::string message = must_refuse("7.11\x1b[31m\nmm \xff", length);
  CHECK(message.rfind("\"7.11?[31m?mm ?\" ", 0) == 0);
  CHECK(message.find_first_of("\x1b\n\xff") == std::string::npos);
  CHECK(must_refuse("7.11", length) == "\"7.11\" has no unit; write it as \"7.11 mm\"");
}

TEST_CASE("a text of 200 bytes is read, a longer one is not") {
  const std::string unit = " mm";
  const std::string longest = "7." + std::string(200 - 2 - unit.size(), '1') + unit;
  CHECK(must_read(longest, length).si == 64.0 / 9000);  // 7.111... is 64 / 9
  CHECK(must_refuse("7" + longest, length).find("too long") != std::string::npos);
  CHECK(must_refuse(std::string(1'000'000, '1'), length).size() < 250);
}

TEST_CASE("every unit reads its own name, and names its dimension") {
  std::map<Dimension, int> count;
  Dimension last = length;
  for (const UnitInfo& unit : known_units()) {
    CAPTURE(std::string(unit.name));
    CHECK(unit.dimension >= last);
    last = unit.dimension;
    ++count[unit.dimension];
    const Reading reading = must_read("300 " + std::string(unit.name), unit.dimension);
    CHECK(reading.dimension == unit.dimension);
    CHECK(std::abs(reading.si - (300 * unit.factor + unit.offset)) <= kRounding * reading.si);
    CHECK(in_unit(reading.si, unit.dimension, unit.name) == Approx(300).epsilon(1e-13));
  }
  for (int i = 0; i <= static_cast<int>(attenuation); ++i) {
    const auto dimension = static_cast<Dimension>(i);
    CAPTURE(dimension_name(dimension));
    CHECK(count[dimension] > 0);
    CHECK(must_read(std::string(dimension_example(dimension)), dimension).dimension == dimension);
  }
}

TEST_CASE("format_exact: the double comes back, from any unit and magnitude") {
  std::mt19937_64 random(20240607);
  std::uniform_real_distribution<double> mantissa(1, 10);
  std::uniform_int_distribution<int> usual(-12, 12), extreme(-300, 300);
  for (const UnitInfo& unit : known_units()) {
    CAPTURE(std::string(unit.name));
    for (int i = 0; i < 400; ++i) {
      const int power = i % 4 == 0 ? extreme(random) : usual(random);
      double si = mantissa(random) * std::pow(10.0, power);
      if (i % 3 == 0 && !is_below_zero_refused(unit.dimension)) si = -si;
      const std::string text = format_exact(si, unit.dimension, unit.name);
      const auto result = parse_quantity(text, unit.dimension);
      const auto* back = std::get_if<Reading>(&result);
      if (back == nullptr || back->si != si) {
        CAPTURE(si, text);
        CHECK(back != nullptr);
        CHECK((back != nullptr && back->si == si));
      }
    }
  }
}

TEST_CASE("format_exact: what was written comes back as it was written") {
  std::mt19937_64 random(19591001);
  std::uniform_int_distribution<int> digits(1, 999999), shift(-3, 6);
  for (const UnitInfo& unit : known_units()) {
    for (int i = 0; i < 100; ++i) {
      const std::string number = decimal_text(digits(random), -shift(random));
      const std::string written = number + " " + std::string(unit.name);
      const double si = must_read(written, unit.dimension).si;
      const std::string text = format_exact(si, unit.dimension, unit.name);
      if (text == written) continue;
      // Beside 0 degC in kelvins some small readings share a double; then a shorter one may win.
      CAPTURE(written, text);
      CHECK(unit.offset != 0);
      CHECK(text.size() <= written.size());
    }
  }
}

TEST_CASE("format_exact keeps the unit wherever a decimal in it exists") {
  std::mt19937_64 random(6689);
  std::uniform_real_distribution<double> any_value(1, 1000);
  for (const UnitInfo& unit : known_units()) {
    const std::string name(unit.name);
    for (int i = 0; i < 200; ++i) {
      const double si = must_read(decimal_text(any_value(random)) + " " + name, unit.dimension).si;
      const std::string text = format_exact(si, unit.dimension, name);
      if (text.ends_with(" " + name)) continue;
      CAPTURE(name, text);
      CHECK(false);
    }
  }
}

TEST_CASE("format_exact writes plain decimals") {
  struct Row {
    double si;
    Dimension dimension;
    const char* unit;
    const char* want;
  };
  const double huge = std::numeric_limits<double>::max();
  const std::vector<Row> rows = {
      {7.11e-3, length, "mm", "7.11 mm"},
      {-7.11e-3, length, "mm", "-7.11 mm"},
      {0, length, "mm", "0 mm"},
      {-0.0, length, "mm", "0 mm"},
      {1e6, frequency, "MHz", "1 MHz"},
      {1e6, frequency, "Hz", "1000000 Hz"},
      {1e-5, length, "m", "0.00001 m"},
      {1e-6, length, "m", "1e-6 m"},
      {1.5e-7, length, "m", "1.5e-7 m"},
      {1e15, length, "m", "1e15 m"},
      {293.15, temperature, "degC", "20 degC"},
      {0, temperature, "degF", "-459.67 degF"},
      {4e5, pressure_gauge, "bar gauge", "4 bar gauge"},
      {4e5, pressure_gauge, "barg", "4 barg"},
      {0.3, mass_fraction, "% mass", "30 % mass"},
      {0.0254, length, "in", "1 in"},
      {5e-324, length, "mm", "5e-321 mm"},               // the least double
      {huge, length, "in", "1.7976931348623157e308 m"},  // beyond it in inches
  };
  for (const Row& row : rows) {
    CAPTURE(row.want);
    const std::string text = format_exact(row.si, row.dimension, row.unit);
    CHECK(text == row.want);
    CHECK(must_read(text, row.dimension).si == row.si);
  }
}

TEST_CASE("format_rounded rounds in the unit and never prints a negative zero") {
  struct Row {
    double si;
    Dimension dimension;
    const char* unit;
    int decimals;
    const char* want;
  };
  const std::vector<Row> rows = {
      {0.16648, length, "mm", 1, "166.5 mm"},
      {-0.16648, length, "mm", 0, "-166 mm"},
      {-0.00004, length, "mm", 1, "0.0 mm"},
      {-0.00006, length, "mm", 1, "-0.1 mm"},
      {-0.0, length, "mm", 0, "0 mm"},
      {273.1499, temperature, "degC", 1, "0.0 degC"},
      {60.0 / 3600, volume_flow, "m3/h", 2, "60.00 m3/h"},
  };
  for (const Row& row : rows) {
    CHECK(format_rounded(row.si, row.dimension, row.unit, row.decimals) == row.want);
  }
  CHECK_THROWS_AS(format_rounded(1, length, "mm", -1), std::invalid_argument);
}

TEST_CASE("a unit of another dimension, or a number that isn't finite, is a caller's mistake") {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const double infinity = std::numeric_limits<double>::infinity();
  for (const char* unit : {"degC", "bar", "", "bananas", "Mm"}) {
    CAPTURE(unit);
    CHECK_THROWS_AS(format_exact(1, length, unit), std::invalid_argument);
    CHECK_THROWS_AS(format_rounded(1, length, unit, 1), std::invalid_argument);
    CHECK_THROWS_AS(in_unit(1, length, unit), std::invalid_argument);
  }
  CHECK_THROWS_AS(in_unit(1, pressure_gauge, "bar"), std::invalid_argument);
  CHECK_THROWS_AS(in_unit(1, pressure_gauge, "bar absolute"), std::invalid_argument);
  for (double si : {nan, infinity, -infinity}) {
    CHECK_THROWS_AS(format_exact(si, length, "mm"), std::invalid_argument);
    CHECK_THROWS_AS(format_rounded(si, length, "mm", 1), std::invalid_argument);
    CHECK_THROWS_AS(in_unit(si, length, "mm"), std::invalid_argument);
    CHECK_THROWS_AS(format_inch_fraction(si), std::invalid_argument);
  }
}

TEST_CASE("inches are printed as on a tape, and read back within half a part") {
  struct Row {
    double inches;
    int denominator;
    const char* want;
  };
  const std::vector<Row> rows = {
      {6.5625, 16, "6 9/16"}, {6.5, 16, "6 1/2"}, {6.56, 16, "6 9/16"},      {6, 16, "6"},
      {0.25, 16, "1/4"},      {-0.5, 16, "-1/2"}, {-6.5, 16, "-6 1/2"},      {0, 16, "0"},
      {-0.01, 16, "0"},       {6.99, 16, "7"},    {6.515625, 64, "6 33/64"}, {6.6, 1, "7"},
      {0.3, 10, "3/10"},
  };
  for (const Row& row : rows) {
    CAPTURE(row.inches, row.denominator);
    CHECK(format_inch_fraction(row.inches * 0.0254, row.denominator) == row.want);
  }
  std::mt19937_64 random(254);
  std::uniform_real_distribution<double> span_m(-3, 3);
  for (int i = 0; i < 1000; ++i) {
    const double length_m = span_m(random);
    const double back_m = must_read(format_inch_fraction(length_m, 32) + " in", length).si;
    CHECK(std::abs(back_m - length_m) <= 0.0254 / 64 * (1 + 1e-9));
  }
  CHECK_THROWS_AS(format_inch_fraction(1, 0), std::invalid_argument);
  CHECK_THROWS_AS(format_inch_fraction(1e18), std::invalid_argument);
}

TEST_CASE("a mend names units of the quantity that is wanted only") {
  const auto refusal = [](std::string_view text, Dimensions accepted) {
    const auto result = parse_quantity(text, accepted);
    REQUIRE(std::holds_alternative<QuantityProblem>(result));
    return std::get<QuantityProblem>(result).message;
  };
  // Each letter of a short unit makes another one.
  for (const char* text : {"60 m3", "60 mcg", "60 mdb", "60 xyz"}) {
    CAPTURE(text);
    const std::string message = refusal(text, kFlows);
    CHECK(message.find("did you mean") == std::string::npos);
    CHECK(message.find("60 m3/h") != std::string::npos);
  }
  CHECK(refusal("60 m3/hh", kFlows).find("did you mean \"m3/h\"") != std::string::npos);
  CHECK(refusal("7 mmm", length).find("did you mean \"mm\"") != std::string::npos);
  for (const char* text :
       {"20 degC +- 1 +- 2", "20 degC +-", "20 degC (k=2)", "5' 6", "20 ft 6 m"}) {
    CAPTURE(text);
    const std::string message = refusal(text, temperature);
    CHECK(message.find("7.11 mm") == std::string::npos);
    CHECK(message.find("1/2 in") == std::string::npos);
    CHECK(message.find("20 degC") != std::string::npos);
  }
  // The proposed limits are accepted themselves.
  for (const Dimension dimension : {length, temperature, pressure_gauge, volume_flow, velocity,
                                    density, fraction, mass_fraction, dynamic_viscosity}) {
    const std::string message =
        refusal(std::string(dimension_example(dimension)) + " +-", dimension);
    const std::size_t from = message.rfind('"', message.size() - 2) + 1;
    CAPTURE(message);
    CHECK(must_read(message.substr(from, message.size() - 1 - from), dimension).tolerance_stated);
  }
}

TEST_CASE("units as they are spelled in other countries and trades") {
  struct Row {
    const char* text;
    Dimension dimension;
    double si;
  };
  // Words and letters: common practice, no source; the factors are those of the units' own names.
  const double per_h = 1.0 / 3600;
  const std::vector<Row> rows = {
      {"60 qm/h", volume_flow, 60 * per_h},
      {"60 m\u00b3/Std", volume_flow, 60 * per_h},
      {"60 m\u00b3/Std.", volume_flow, 60 * per_h},
      {"60 m3/u", volume_flow, 60 * per_h},
      {"60 mc/h", volume_flow, 60 * per_h},
      {"60 cum/hr", volume_flow, 60 * per_h},
      {"60 m3h-1", volume_flow, 60 * per_h},
      {"60 \u043c3/\u0447", volume_flow, 60 * per_h},
      {"60 \u043c\u00b3/\u0447\u0430\u0441", volume_flow, 60 * per_h},
      {"15 \u043b/\u0441", volume_flow, 15e-3},
      {"15 l/sek", volume_flow, 15e-3},
      {"900 l/mn", volume_flow, 15e-3},
      {"900 lt/min", volume_flow, 15e-3},
      {"900 ltr/min", volume_flow, 15e-3},
      {"1440 CMD", volume_flow, 60 * per_h},
      {"1.5 MLPD", volume_flow, 1500.0 / 86400},
      {"260 gpm (US)", volume_flow, 260 * 3.785411784e-3 / 60},
      {"260 gal(US)/min", volume_flow, 260 * 3.785411784e-3 / 60},
      {"2 mgd (UK)", volume_flow, 2e6 * 4.54609e-3 / 86400},
      {"2 MBPD", volume_flow, 2e3 * 0.158987294928 / 86400},
      {"2 mbd", volume_flow, 2e3 * 0.158987294928 / 86400},
      {"20 \u00b0\u0421", temperature, 293.15},
      {"20 oC", temperature, 293.15},
      {"20 gr C", temperature, 293.15},
      {"20 Grad C", temperature, 293.15},
      {"20 degrees C", temperature, 293.15},
  };
  for (const Row& row : rows) {
    CAPTURE(row.text);
    CHECK(must_read(row.text, row.dimension).si == Approx(row.si).epsilon(1e-12));
  }
  // In capitals cubic metres as well as centimetres.
  for (const char* text : {"60 CM/H", "60 CM/HR"}) {
    CAPTURE(text);
    const auto result = parse_quantity(text, kFlows);
    REQUIRE(std::holds_alternative<QuantityProblem>(result));
    const std::string message = std::get<QuantityProblem>(result).message;
    CHECK(message.find("\"m3/h\" or \"cm/h\"") != std::string::npos);
  }
  CHECK(must_read("60 cm/h", kFlows).dimension == velocity);
}

TEST_CASE("nearest_unit finds the unit behind a slip") {
  CHECK(nearest_unit("mmm") == "mm");
  CHECK(nearest_unit("inchs") == "in");
  CHECK(nearest_unit("degrees Celcius") == "degC");
  CHECK(nearest_unit("m3/hour") == "m3/h");
  CHECK(nearest_unit("barr gauge") == "bar gauge");
  CHECK_FALSE(nearest_unit("bananas").has_value());
  CHECK_FALSE(nearest_unit("").has_value());
}

TEST_CASE("any bytes are read or refused, with finite numbers and one clean line") {
  const std::vector<std::string> pieces = {"7.11",
                                           "1,234",
                                           "5/8",
                                           "6 ",
                                           "-",
                                           "+-",
                                           "+/-",
                                           "\u00b1",
                                           "mm",
                                           " ",
                                           "\"",
                                           "'",
                                           "\u00bd",
                                           "%",
                                           "bar",
                                           "gauge",
                                           "(k=2)",
                                           "(k",
                                           "=",
                                           ")",
                                           "degC",
                                           "\u00b0",
                                           "e",
                                           "E+",
                                           "999999999",
                                           ".",
                                           ",",
                                           "/",
                                           "m3/h",
                                           "nan",
                                           "inf",
                                           "1e400",
                                           "to",
                                           "x",
                                           "?",
                                           "~",
                                           "ft",
                                           "in",
                                           "mass",
                                           "\xff",
                                           "\xc2",
                                           "\n",
                                           std::string(1, '\0'),
                                           "0",
                                           "^",
                                           "\u00b3",
                                           "per",
                                           "DN",
                                           "1e-320"};
  const Dimensions any = {length,   temperature, pressure_gauge, volume_flow,
                          velocity, fraction,    mass_fraction};
  std::mt19937_64 random(42);
  std::uniform_int_distribution<std::size_t> piece(0, pieces.size() - 1), how_many(0, 12);
  std::uniform_int_distribution<int> byte(0, 255);
  for (int i = 0; i < 50'000; ++i) {
    std::string text;
    for (std::size_t n = how_many(random); n > 0; --n) {
      text += i % 5 == 0 ? std::string(1, static_cast<char>(byte(random))) : pieces[piece(random)];
    }
    const auto result = parse_quantity(text, any);
    if (const auto* reading = std::get_if<Reading>(&result)) {
      if (std::isfinite(reading->si) && std::isfinite(reading->u_si) && reading->u_si >= 0 &&
          any.contains(reading->dimension) && (reading->tolerance_stated || reading->u_si == 0)) {
        continue;
      }
    } else {
      const std::string& message = std::get<QuantityProblem>(result).message;
      bool clean = message.size() > 2 && message.front() == '"';
      for (char c : message) clean = clean && static_cast<unsigned char>(c) >= 0x20 && c != 0x7f;
      if (clean) continue;
    }
    CAPTURE(text);
    CHECK(false);
  }
}

TEST_CASE("plain_text makes typography plain") {
  CHECK(plain_text("1\u00bd\u2033") == "1 1/2 \"");
  CHECK(plain_text("\u00bd") == "0 1/2 ");
  CHECK(plain_text("6-\u00bd") == "6-1/2 ");
  CHECK(plain_text("20\u202f\u00b0C \u00b1 2") == "20 degC +- 2");
  CHECK(plain_text("\u20185\u2032\u2032") == "'5\"");
  CHECK(plain_text("\xff\t\xc2") == "\xff \xc2");
}

TEST_CASE("decimal_text moves the decimal point without touching the digits") {
  CHECK(decimal_text(0.1) == "0.1");
  CHECK(decimal_text(7.11e-3, 3) == "7.11");
  CHECK(decimal_text(-1234.5, -3) == "-1.2345");
  CHECK(decimal_text(5, 2) == "500");
  CHECK(decimal_text(-0.0) == "0");
  CHECK(decimal_text(12345, 20) == "1.2345e24");
}

TEST_CASE("every plain decimal is the double nearest to it") {
  // Against the C library's strtod, which rounds right (ISO C 7.22.1.3, recommended practice).
  std::mt19937_64 random(7);
  for (int i = 0; i < 20000; ++i) {
    std::string digits = std::to_string(random() >> (random() % 60));
    digits.insert(1 + random() % digits.size(), ".");
    if (digits.back() == '.') digits += '0';
    const auto number = read_number(digits);
    REQUIRE(number.length == digits.size());
    for (const int power : {0, -3, 3, -12, 9, 25}) {
      const std::string shifted = digits + "e" + std::to_string(power);
      INFO(shifted);
      CHECK(number.times_ten_to(power) == std::strtod(shifted.c_str(), nullptr));
    }
  }
}

}  // namespace slantrule
