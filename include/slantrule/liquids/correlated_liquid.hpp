#pragma once

/// Liquids that no equation of state covers: a line for the speed of sound, a correlation for
/// density and one for viscosity.
///
/// Equations are in the units of their sources, with pressure in Pa and temperature in K. They
/// throw std::invalid_argument for arguments that are not finite or outside the stated range.

#include <functional>
#include <memory>
#include <optional>
#include <string>

#include "slantrule/liquids/absorption.hpp"
#include "slantrule/liquids/liquid_model.hpp"
#include "slantrule/units/estimate.hpp"

namespace slantrule {

/// Speed of sound that is linear in temperature and pressure,
///
///     c = c0 + (dc/dt) (t - t0) + (dc/dp) (p - 1 atm)
///
/// with the standard uncertainties of c0 and dc/dt, and 30 % of dc/dp (judged), in quadrature.
struct SoundSpeedLine {
  Estimate sound_speed_m_s;  ///< c0
  double at_degC;            ///< t0
  Estimate slope_m_s_K;      ///< dc/dt
  double pressure_slope_m_s_MPa;
  Estimate at(const LiquidState& state) const;
};

/// Density (kg/m3) under pressure from the density at 1 atm and the speed of sound there:
///
///     rho = rho_1atm + gamma (p - 1 atm) / c^2,   gamma = cp/cv = 1.2 +- 0.2 (judged for oils)
Estimate compressed_density_kg_m3(const Estimate& at_1_atm_kg_m3, double sound_speed_m_s,
                                  double pressure_Pa);

/// The viscosity at 1 atm, for use under pressure: u grows by 2 % of the value per MPa, which is
/// what the viscosity itself does in mineral oils (from memory).
Estimate viscosity_under_pressure_Pa_s(const Estimate& at_1_atm_Pa_s, double pressure_Pa);

/// Absorption from viscosity: K times the classical shear absorption. `relative_u` is that of K.
struct AbsorptionRule {
  double factor_K = default_absorption_factor;
  double relative_u = default_absorption_relative_u;
  double power = 2;  ///< of the frequency, about 1 MHz
};

/// A liquid as a few functions. They are asked for states inside the range or a little outside,
/// must not change, and must be safe to call from several threads.
struct CorrelatedLiquid {
  std::string name;    ///< named in messages
  std::string source;  ///< one line for the sheet
  ValidRange range;
  std::function<LiquidProperties(const LiquidState&)> properties;
  std::optional<AbsorptionRule> absorption;                             ///< absent: not known
  std::function<std::optional<double>(double)> saturation_pressure_Pa;  ///< empty: not known
  std::optional<double> freezing_temperature_K;                         ///< absent: not known
};

/// Makes a model of it. Within 5 K (and, for solutions, 2 % by mass) around the range and up to
/// twice its pressure the uncertainties are three times those inside; beyond, `at` and `absorption`
/// throw std::domain_error. Absorption is absent where density, speed of sound or viscosity is.
/// Throws std::invalid_argument without a name or without properties.
std::shared_ptr<const LiquidModel> make_correlated_liquid(CorrelatedLiquid liquid);

namespace vdi_heat_atlas {
/// VDI Heat Atlas 2010, part D3: density and viscosity of saturated liquids, for 1 atm here.
enum class Liquid { isopropanol, acetone, ethylene_glycol, glycerol, methyl_ethyl_ketone };

///     rho = rho_c + A q^0.35 + B q^(2/3) + C q + D q^(4/3),   q = 1 - T/Tc
///
/// Up to the critical temperature, above 200 K. Standard uncertainty 0.3 % (judged: handbook
/// densities of isopropanol are 0.1 % lower).
double density_kg_m3(Liquid liquid, double temperature_K);

///     mu = E exp[a r^(1/3) + b r^(4/3)],   r = (c - T)/(T - d)
///
/// 200 K to 500 K. Standard uncertainty 7 % (judged: handbook viscosity of ethylene glycol is 7 %
/// lower at 25 degC).
double viscosity_Pa_s(Liquid liquid, double temperature_K);
}  // namespace vdi_heat_atlas

namespace perry {
/// Propylene glycol: mu = exp(-804.54 + 30487/T + 130.79 ln T - 0.15449 T), 213 K to 500 K.
/// Perry's Chemical Engineers' Handbook, 8th ed., table 2-313. Standard uncertainty 5 % (judged).
double propylene_glycol_viscosity_Pa_s(double temperature_K);
}  // namespace perry

namespace glycerol_water {
/// Volk and Kaehler 2018, Exp. Fluids 59, 75; 0 to 100 degC, stated for 15 to 30 degC. Standard
/// uncertainty 0.1 % there, 0.5 % elsewhere (judged). Mass fraction of glycerol 0 to 1.
double density_kg_m3(double temperature_K, double mass_fraction);
/// Cheng 2008, Ind. Eng. Chem. Res. 47, 3285; 0 to 100 degC. Standard uncertainty 5 % (judged).
double viscosity_Pa_s(double temperature_K, double mass_fraction);
}  // namespace glycerol_water

namespace astm_d341 {
/// Kinematic viscosity at one temperature.
struct Point {
  double temperature_K;
  double viscosity_mm2_s;
};

/// Kinematic viscosity of a petroleum product between and a little beyond two measured points
/// (ASTM D341, Walther's equation; constants from memory):
///
///     log10 log10(nu + 0.7) = A - B log10 T
///
/// Down to 2 mm2/s; between 1 and 2 mm2/s about 1 % off the standard, which adds terms there.
class ViscosityLine {
 public:
  /// Throws std::invalid_argument unless both viscosities are finite and above 0.3 mm2/s (where the
  /// logarithm ends) and the hotter point is the thinner.
  ViscosityLine(const Point& one, const Point& other);
  double viscosity_mm2_s(double temperature_K) const;

 private:
  double a_, b_;
};
}  // namespace astm_d341

/// 2-Propanol, -10 to 70 degC, up to 10 MPa. 1138.5 m/s at 25 degC, u 3 m/s (mean of two measured
/// sets, 1135.9 and 1140.4), -3.5 +- 0.2 m/s/K (from memory), +6.5 m/s/MPa (as ethanol). Density
/// 0.3 %, viscosity 7 %. Boiling by Antoine's equation, from memory.
std::shared_ptr<const LiquidModel> make_isopropanol();

/// Ethylene glycol without water, -10 to 100 degC, up to 10 MPa. 1660 m/s at 25 degC, u 4 m/s
/// (handbook list), -2.3 +- 0.2 m/s/K (from memory), +3.7 m/s/MPa (as propylene glycol). Density
/// 0.3 %, viscosity 7 %. Freezes at -12.9 degC (from memory).
std::shared_ptr<const LiquidModel> make_ethylene_glycol();

/// Glycerol without water, 10 to 80 degC, up to 10 MPa. 1912 m/s at 25 degC, u 12 m/s (handbook
/// lists: 1904 and 1920), -2.2 +- 0.2 m/s/K (from memory), +3 m/s/MPa (judged). Density 0.3 %,
/// viscosity 7 %; a little water lowers all three. It supercools, so no freezing point is given.
std::shared_ptr<const LiquidModel> make_glycerol();

/// Glycerol and water by mass fraction of glycerol, 0 to 100 degC, up to 10 MPa: density and
/// viscosity by namespace glycerol_water. The speed of sound is not known in between and absent
/// but for water (0) and glycerol (1). Boiling, freezing and absorption are not given.
std::shared_ptr<const LiquidModel> make_glycerol_water();

/// Edible oil (sunflower, rape, soy, olive), 10 to 60 degC, up to 10 MPa, from memory: 1470 m/s at
/// 20 degC, u 8 m/s, -3.3 +- 0.2 m/s/K; 920 kg/m3, u 5; 68 mPa s at 20 and 34 at 40 degC, u 15 %.
std::shared_ptr<const LiquidModel> make_vegetable_oil();

/// Castor oil, 10 to 60 degC, up to 10 MPa: 1523.4 m/s at 19.4 degC and 2 MHz (measured to 3 m/s;
/// 7 m/s more at 10 MHz), -3.2 +- 1 m/s/K (judged); u 8 m/s, since a handbook list has 1490 m/s at
/// 25 degC.
/// Density 960 kg/m3, u 5, and viscosity 650 mPa s at 25 degC, u 15 %, from memory. Absorption
/// grows with the frequency to the power 5/3 (published).
std::shared_ptr<const LiquidModel> make_castor_oil();

/// Whole milk, 0 to 70 degC, up to 10 MPa, as water plus a constant excess, from memory: speed of
/// sound 33 m/s - 0.24 m/s/K (t - 20 degC) above water's, u 10 m/s; density 32.3 kg/m3, u 3, and
/// viscosity 2.1 times, u 15 %. Boils at most as water; freezes at -0.52 degC. Absorption by fat
/// globules is not known.
std::shared_ptr<const LiquidModel> make_milk();

}  // namespace slantrule
