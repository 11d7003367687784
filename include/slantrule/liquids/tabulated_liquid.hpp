#pragma once

/// Liquids known by a table of points: the built-in ones and a user's own.

#include <memory>
#include <optional>
#include <span>
#include <string>

#include "slantrule/liquids/absorption.hpp"
#include "slantrule/liquids/liquid_model.hpp"

namespace slantrule {

/// One row of a table, in the units of the data files.
struct LiquidPoint {
  double temperature_degC;
  double pressure_bar;  ///< absolute
  double mass_percent;  ///< of the dissolved part; 0 for a pure liquid
  double sound_speed_m_s;
  double density_kg_m3;    ///< NaN: not known
  double viscosity_mPa_s;  ///< dynamic; NaN: not known
  double u_sound_speed_m_s;
};

/// Two points of the vapour-pressure curve: a boiling point (as a rule the normal one, at 1 atm)
/// and the critical point.
struct VapourCurve {
  double boiling_point_K;
  double boiling_pressure_Pa = 101325;
  double critical_temperature_K;
  double critical_pressure_Pa;
};

/// Vapour pressure (Pa) at a temperature above 0 K and not above the critical one.
///
///     ln(p / pc) = f0(T / Tc) + omega f1(T / Tc)
///     f0(x) =  5.92714 -  6.09648 / x -  1.28862 ln x + 0.169347 x^6
///     f1(x) = 15.2518  - 15.6875  / x - 13.4721  ln x + 0.43577  x^6
///
/// B. I. Lee and M. G. Kesler, AIChE J. 21 (1975) 510 (coefficients from memory), with omega set
/// so that the curve passes through the boiling point. Between -50 degC and 0.9 Tc it is within 3 %
/// of known values for hydrocarbons, refrigerants and ammonia; for liquids with hydrogen bonds up
/// to 6 % high above the boiling point, and low below it, up to 15 % in the cold.
/// Throws std::invalid_argument for a temperature out of range and for a curve whose points are not
/// finite, above 0 and in order.
double vapour_pressure_Pa(const VapourCurve& curve, double temperature_K);

/// How a liquid answers to pressure where its table holds one pressure only.
///
///     (dc/dp)_T = stiffening / (rho c),  (drho/dp)_T = heat_capacity_ratio / c^2
///
/// The second is exact. The stiffening, a half of the parameter of nonlinearity B/A but for a few
/// per cent, hardly changes with temperature: in the built-in tables with several pressures it is
/// 5.2 to 6.6 for hydrocarbons, alcohols, glycols and acetone, 3.9 to 5.2 for fatty esters, up to
/// 7.3 with halogens; 2 to 3 for water. The defaults are for organic liquids.
struct PressureEffect {
  double stiffening = 5.7;
  double u_stiffening = 0.6;
  double heat_capacity_ratio = 1.3;
};

struct TabulatedLiquidOptions {
  std::string name;    ///< for messages
  std::string source;  ///< for the sheet
  std::optional<VapourCurve> vapour_curve;
  std::optional<double> freezing_point_K;
  PressureEffect pressure_effect;
  /// Standard uncertainties of density and viscosity relative to them; the points say that of the
  /// speed of sound.
  double relative_u_density = 0.002;
  double relative_u_viscosity = 0.05;
  /// Absorption relative to that of shear viscosity alone, and its relative standard uncertainty.
  double absorption_factor = default_absorption_factor;
  double relative_u_absorption = default_absorption_relative_u;
};

/// A liquid that follows `points` (copied, in any order) by smooth curves through every one.
///
/// The points form a grid of temperatures, pressures and mass fractions; points less than 0.25 bar
/// apart count as one isobar. What is missing from the grid is filled in as follows.
///
/// - Isobars end where the liquid boils. An isobar is continued from the next higher one with the
///   pressure effect (see PressureEffect) at the nearest temperature that both hold, so nothing
///   jumps where a line ends. Left out on trial, points 40 K beyond a line's end come back within
///   8 % of the pressure's effect, 12 % near the critical point; 70 K beyond, within 16 %. u grows
///   by 10 % of that effect.
/// - Solutions are often measured at one temperature only. Such a composition takes the change with
///   temperature that lies between those of its neighbours, in proportion to the mass fraction; u
///   grows by 10 % of the difference of the two neighbours.
///
/// In temperature and in mass fraction a monotone piecewise cubic runs through c^2, density and the
/// logarithm of viscosity: no overshoot, first derivatives continuous. (F. N. Fritsch and R. E.
/// Carlson, SIAM J. Numer. Anal. 17 (1980) 238, with the slopes of F. N. Fritsch and J. Butland,
/// SIAM J. Sci. Stat. Comput. 5 (1984) 300.) On 10 K steps c is within 0.25 m/s of the built-in
/// equations of state. c^2 is linear in pressure, as constant stiffening wants it.
///
/// Below saturation pressure the properties at saturation are given, where it is known. Below the
/// lowest isobar and above the highest the lines go on straight, u growing by 10 % of the change;
/// `valid_range` ends at the highest isobar, or at 50 bar when there is one only. Up to 5 K and 2 %
/// by mass outside the table straight lines go on with three times the uncertainty. A property
/// that the neighbouring points do not hold is absent. With a single temperature, or a single mass
/// fraction other than 0, the properties are constant and u grows by 4 m/s for a kelvin and by
/// 10 m/s for one per cent.
///
/// Errors of `at`: as LiquidModel says; std::domain_error beyond the margins, and for a pure liquid
/// for any mass fraction other than 0. Boiling is answered up to the critical point.
///
/// Throws std::invalid_argument when there are no points, when a number is out of range, when two
/// points stand at the same place and when the speed of sound of a composition cannot be completed
/// over the temperatures of the table.
std::shared_ptr<const LiquidModel> make_tabulated_liquid(std::span<const LiquidPoint> points,
                                                         TabulatedLiquidOptions options);

}  // namespace slantrule
