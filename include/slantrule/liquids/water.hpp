#pragma once

/// Ordinary liquid water: IAPWS-95 for the speed of sound, IF97 for density and saturation, IAPWS
/// R12-08 for viscosity.
///
/// Functions throw std::invalid_argument for NaN and for arguments outside the stated range.
/// Temperatures from 253.15 K to 273.15 K (supercooled water) are accepted everywhere: the
/// equations run on smoothly there, at 260 K within 0.001 kg/m3 and 0.002 m/s of IAPWS SR6-08.

#include <memory>

#include "slantrule/liquids/liquid_model.hpp"

namespace slantrule {

namespace iapws95 {
/// What the equation says at one temperature and density.
struct State {
  double pressure_Pa;
  double sound_speed_m_s;
  double pressure_slope_Pa_m3_kg;  ///< (dp/drho) at constant temperature
};
/// IAPWS R6-95(2018), table 3, with the terms of tables 1 and 2 except the non-analytic 55 and 56.
/// Those serve the critical region: for the liquid they vanish in double precision up to 300 degC,
/// and at 350 degC they would change the pressure by 2 Pa and the speed of sound by some 1e-6.
/// 253.15 K to 623.15 K, 322 to 1400 kg/m3 (liquid only).
/// Throws std::domain_error where the liquid is not stable.
State at_density(double temperature_K, double density_kg_m3);
/// Liquid density (kg/m3) at a pressure > 0 by Newton's method from `first_guess_kg_m3`, to
/// rounding.
/// Throws std::domain_error when there is no liquid root near it.
double liquid_density_kg_m3(double temperature_K, double pressure_Pa, double first_guess_kg_m3);
/// at_density at the liquid density of that pressure; throws as both do.
State at_pressure(double temperature_K, double pressure_Pa, double first_guess_kg_m3);
}  // namespace iapws95

namespace if97 {
/// Region 1 (IAPWS R7-97(2012), eq. 7): up to 623.15 K, psat <= p <= 100 MPa.
struct Region1 {
  double density_kg_m3;
  double enthalpy_J_kg;
  double isobaric_heat_capacity_J_kg_K;
  double sound_speed_m_s;  ///< up to 2.9 m/s high in warm low-pressure water: not used for plans
};
Region1 region1(double temperature_K, double pressure_Pa);
/// Density alone, without the terms that only the other properties need.
double region1_density_kg_m3(double temperature_K, double pressure_Pa);
/// Region 4 (eq. 30 and 31): up to the critical point, 647.096 K.
double saturation_pressure_Pa(double temperature_K);
double saturation_temperature_K(double pressure_Pa);
}  // namespace if97

namespace iapws_viscosity {
/// IAPWS R12-08, eq. 10 to 12, critical enhancement factor 1 (exact to far better than 0.1 % below
/// 600 K). Up to 1173.15 K; density above 0, up to 1400 kg/m3.
double dynamic_viscosity_Pa_s(double temperature_K, double density_kg_m3);
}  // namespace iapws_viscosity

/// Water as planning uses it. Valid 273.15 to 623.15 K, saturation to 100 MPa; answered with larger
/// uncertainties from 253.15 K (supercooled) and up to 1000 MPa. Below saturation pressure the
/// properties at saturation are given (the finding `fluid.flashing` tells).
///
/// `at` throws std::domain_error beyond the answered states; std::invalid_argument for a
/// temperature or pressure that is not finite and above 0, and for a mass fraction other than 0: a
/// solution is not water. Boiling is answered from 253.15 K to the critical point; freezing (to ice
/// Ih, IAPWS R14-08(2011), at most 273.15 K) up to 208.566 MPa; otherwise nullopt.
///
/// Standard uncertainties, judged for planning from the scatter between independent equations:
///
///     speed of sound  0.1 m/s up to 0.2 MPa and 100 degC; 0.5 m/s up to 10 MPa; 0.1 % above
///     density         0.01 %
///     viscosity       0.17 % up to 0.2 MPa and 100 degC, otherwise 1 % (R12-08, from memory)
///
/// and 0.5 %, 0.1 % and 5 % in supercooled water and above 100 MPa, where there are few
/// measurements to compare with.
///
/// Absorption is that at 0.1 MPa or saturation (water_absorption_dB_m), relative u 5 % from 0 to
/// 60 degC and up to 10 MPa, 10 % to 100 degC and 20 MPa, 30 % elsewhere: pressure lowers it by
/// some 4 % per 10 MPa (from memory).
///
/// Tap water is about 1 m/s faster per g/kg of dissolved salts; that is not in these figures.
std::shared_ptr<const LiquidModel> make_water();

}  // namespace slantrule
