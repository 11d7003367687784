#pragma once

/// Crude oil, mineral oils and fuels.
///
/// The equations are in SI unless the name says otherwise and throw std::invalid_argument for
/// arguments that are not finite or outside the stated range. Viscosity between two points is
/// astm_d341::ViscosityLine in correlated_liquid.hpp.
///
/// None of this holds for oil with gas: dissolved gas lowers the speed of sound, and 0.1 % of
/// bubbles by volume makes any of these figures worthless.

#include <memory>

#include "slantrule/liquids/correlated_liquid.hpp"
#include "slantrule/liquids/liquid_model.hpp"

namespace slantrule {

/// Specific gravity 60 degF/60 degF by definition of API gravity: 141.5 / (API + 131.5).
/// -10 to 100 degrees API.
double specific_gravity(double api_gravity);

namespace batzle_wang {
/// Dead oil (Batzle and Wang 1992, Geophysics 57, 1396). `specific_gravity` is the paper's rho0,
/// the density in g/cm3 at 15.6 degC and 1 atm, 0.6 to 1.07; 250 K to 600 K; up to 100 MPa.
///
/// Equations 18 and 19, T in degC, P in MPa, g/cm3:
///
///     rho_P = rho0 + (0.00277 P - 1.71e-7 P^3) (rho0 - 1.15)^2 + 3.49e-4 P
///     rho   = rho_P / [0.972 + 3.81e-4 (T + 17.78)^1.175]
///
/// At 15.6 degC and no pressure this is 0.4 % above rho0, so models take the density elsewhere.
double dead_oil_density_kg_m3(double specific_gravity, double temperature_K, double pressure_Pa);
/// rho_P / rho0 of equation 18.
double dead_oil_compression(double specific_gravity, double pressure_Pa);
/// Equation 20a, m/s:
///
///     c = 2096 sqrt(rho0 / (2.6 - rho0)) - 3.7 T + 4.64 P
///         + 0.0115 [4.12 sqrt(1.08/rho0 - 1) - 1] T P
///
/// For crude oil. 34 m/s high for heptane, 90 m/s for toluene: not for gasoline or pure liquids.
double dead_oil_sound_speed_m_s(double specific_gravity, double temperature_K, double pressure_Pa);
}  // namespace batzle_wang

namespace beggs_robinson {
/// Dead oil (Beggs and Robinson 1975), T in degF, mPa s:
///
///     mu = 10^x - 1,   x = T^-1.163 exp(6.9824 - 0.04658 API)
///
/// 16 to 58 degrees API and from 70 degF (limits from memory) up to 450 K; answered from 60 degF,
/// where it is too steep already. Good to a factor of 1.5.
double dead_oil_viscosity_Pa_s(double api_gravity, double temperature_K);
}  // namespace beggs_robinson

namespace astm_d1250 {
/// The products that have constants of their own. Those of gasoline and jet fuel and K0 of fuel oil
/// are 1.8 times the published ones of the degF form; K1 of fuel oil and of lubricating oil is from
/// memory.
enum class Product { crude, gasoline, jet, fuel_oil, lubricating_oil };

/// Density at 1 atm from the density at 15 degC (ASTM D1250-80, API MPMS 11.1, metric form):
///
///     rho = rho15 exp[-a dt (1 + 0.8 a dt)],   dt = t - 15 degC,   a = K0/rho15^2 + K1/rho15
///
/// rho15 from 600 to 1100 kg/m3, 220 K to 430 K. Standard uncertainty 0.1 % for the product whose
/// density was measured (judged).
double density_kg_m3(Product product, double density_15_degC_kg_m3, double temperature_K);
}  // namespace astm_d1250

namespace mineral_oil_rule {
/// Isentropic secant bulk modulus by the rule of the hydraulics literature, from memory:
///
///     K/bar = [1.57 + 0.15 log10(nu20)] 1e4 10^(0.0024 (20 - t)) + 5.6 p/bar
///
/// nu20 is the kinematic viscosity at 20 degC, 2 to 1e5 mm2/s; t in degC, -50 to 150; up to
/// 100 MPa.
double bulk_modulus_Pa(double viscosity_20_degC_mm2_s, double temperature_K, double pressure_Pa);
}  // namespace mineral_oil_rule

/// Crude oil without gas, 10 to 50 degrees API (judged: below it is bitumen, above condensate, for
/// which the equation runs high), 0 to 100 degC, up to 20 MPa.
///
/// Standard uncertainties: speed of sound 25 m/s (Batzle and Wang; judged), density 0.5 % (ASTM
/// D1250, compressed by Batzle and Wang), viscosity 45 % (Beggs and Robinson; a factor of 1.5).
/// Viscosity and absorption are absent below 16 degrees API; below 70 degF the viscosity is
/// answered down to 60 degF with 150 %, then absent.
/// Throws std::invalid_argument outside 10 to 50 degrees API.
std::shared_ptr<const LiquidModel> make_crude_oil(double api_gravity);

/// A mineral oil by its data sheet.
struct MineralOil {
  double viscosity_40_degC_mm2_s;
  double viscosity_100_degC_mm2_s;
  double density_15_degC_kg_m3;
};

/// Mineral, hydraulic, gear or insulating oil, 0 to 100 degC, up to 10 MPa. Speed of sound by the
/// bulk modulus rule from memory, u 20 m/s to 60 degC rising to 35 m/s at 80 degC (judged); density
/// 0.5 % (ASTM D1250); viscosity 10 % (ASTM D341).
/// Throws std::invalid_argument unless the viscosity at 40 degC is 2 to 2000 mm2/s, that at 100
/// degC 1 mm2/s or more and lower (and the line through them 1e5 mm2/s at most at 20 degC), and the
/// density 700 to 1050 kg/m3.
std::shared_ptr<const LiquidModel> make_mineral_oil(const MineralOil& oil);

/// What a mineral oil of an ISO viscosity grade (ISO 3448: 10, 15, 22, 32, 46, 68, 100, 150, 220,
/// 320, 460) is when no more is known: the grade at 40 degC, a viscosity index of 95 and a typical
/// density, from memory. As make_mineral_oil, but density 1.2 % and viscosity 15 %.
/// Throws std::invalid_argument for any other grade.
MineralOil iso_vg_oil(int grade);
std::shared_ptr<const LiquidModel> make_iso_vg_oil(int grade);

/// Insulating oil of transformers: make_mineral_oil for 9.5 mm2/s at 40 degC, 2.3 at 100 degC and
/// 878 kg/m3, typical values from memory; density 1.2 %, viscosity 15 %.
std::shared_ptr<const LiquidModel> make_transformer_oil();

/// Lubricating oil of which nothing more is known, 0 to 100 degC, up to 10 MPa: 1461 m/s at 25 degC
/// (handbook list), u 25 m/s, -3.5 +- 0.3 m/s/K (mineral oil rule, from memory); density 1.5 %.
/// Viscosity and absorption are absent: grades differ fiftyfold.
std::shared_ptr<const LiquidModel> make_lubricating_oil();

enum class Fuel { gasoline, kerosene, diesel, heavy_fuel_oil, biodiesel };

/// A typical fuel of its kind, up to 10 MPa. Composition makes the uncertainty; densities and
/// viscosities are typical values from memory. dc/dt and u for the speed of sound:
///
///     gasoline        -20 to  50 degC  1182 m/s at 20 degC, -4.3 m/s/K, u 30: mix of hydrocarbons
///     kerosene, jet   -30 to  60 degC  1324 m/s at 25 degC, -3.7 m/s/K, u 20: handbook lists
///     diesel          -10 to  80 degC  1367 m/s at 20 degC, -3.7 m/s/K, u 20: Batzle and Wang
///     heavy fuel oil   20 to 130 degC  1439 m/s at 50 degC, -3.7 m/s/K, u 40: Batzle and Wang
///     biodiesel (soy)  10 to  80 degC  1340 m/s at 40 degC, -3.4 m/s/K, u 12: fatty esters
///
/// Density 2 % (gasoline 2.5 %, biodiesel 1 %), viscosity 30 %. Heavy fuel oil has no viscosity
/// and no absorption: grades differ a hundredfold.
std::shared_ptr<const LiquidModel> make_fuel(Fuel fuel);

}  // namespace slantrule
