#pragma once

/// Seawater and the brine that desalination makes of it.

#include <memory>

#include "slantrule/liquids/liquid_model.hpp"

namespace slantrule {

/// Fofonoff and Millard, UNESCO Technical Papers in Marine Science 44 (1983), in its own units.
/// The equations are evaluated as they stand, also outside the ranges given here.
namespace unesco1983 {
struct State {
  double salinity_g_kg;       ///< practical salinity (PSS-78)
  double temperature_degC68;  ///< on IPTS-68: 1.00024 times that on ITS-90
  double pressure_dbar;       ///< gauge
};
/// Chen and Millero 1977 (eq. 33 to 37): 0 to 40 g/kg, 0 to 40 degC, up to 10 000 dbar. Standard
/// deviation of the fit: 0.19 m/s.
double sound_speed_m_s(const State& state);
/// Equation of state EOS-80 (eq. 7 and 13 to 19): 0 to 42 g/kg, -2 to 40 degC, up to 10 000 dbar.
/// Standard deviation of the fit: 0.004 kg/m3 at atmospheric pressure (from memory).
double density_kg_m3(const State& state);
/// Millero's freezing point of air-saturated seawater, 4 to 40 g/kg, up to 500 dbar; +-0.003 K.
/// Formula from memory; it gives the paper's check value, from memory too.
double freezing_temperature_degC68(double salinity_g_kg, double pressure_dbar);
}  // namespace unesco1983

/// Sharqawy, Lienhard and Zubair, Desalin. Water Treat. 16, 354 (2010), at 1 atm (saturation above
/// 100 degC). Temperature on ITS-90, salinity in kg/kg.
namespace sharqawy2010 {
/// Eq. 22 and 23: 0 to 180 degC, up to 0.15 kg/kg; uncertainty 1.5 % (from memory).
double viscosity_Pa_s(double temperature_degC, double salinity);
/// 0 to 180 degC, up to 0.15 kg/kg, 0.1 %; coefficients from memory, within 0.2 kg/m3 of the
/// paper's table from 0 to 120 g/kg.
double density_kg_m3(double temperature_degC, double salinity);
}  // namespace sharqawy2010

/// Seawater as planning uses it: -2 to 120 degC, up to 100 MPa. The mass fraction is the salinity,
/// 0 to 0.12 kg/kg, taken as practical salinity; reference salinity is 0.5 % larger, worth 0.2 m/s.
///
/// The UNESCO equations up to 40 g/kg and 40 degC. Beyond, the speed of sound changes as water's
/// (IAPWS-95) and as Batzle and Wang's salt increment do, the density as Sharqawy's does; salinity
/// and temperature of the UNESCO equations level off smoothly at 42 g/kg and 42 degC. Viscosity is
/// Sharqawy's throughout.
///
/// Standard uncertainties, judged:
///
///     speed of sound  0.3 m/s + 0.005 m/s per MPa; beyond, + 0.05 m/s per g/kg and per K
///     density         0.02 %; beyond, 0.1 %
///     viscosity       1.5 %
///
/// With this IAPWS-08, which holds to 42 g/kg, is followed within 1.5 m/s at 100 g/kg, 3.1 m/s at
/// 120 g/kg (10 and 25 degC). A state just outside is answered with three times these.
/// `at` throws as LiquidModel says.
///
/// Boiling is pure water's, for want of the salinity: the real saturation pressure is lower, by 2 %
/// at 35 g/kg and 7 % at 120 (Raoult). Freezing: UNESCO's formula, beyond 40 g/kg extrapolated
/// (nullopt beyond the range).
///
/// Absorption: 3.1 times the shear part, as in water, plus 0.1 dB/m of magnesium sulfate per
/// 35 g/kg, constant above 0.5 MHz (from memory). The power is that of the sum at 1 MHz; it holds
/// within 30 % from 0.5 to 2 MHz.
std::shared_ptr<const LiquidModel> make_seawater();

}  // namespace slantrule
