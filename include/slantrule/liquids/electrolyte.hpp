#pragma once

/// Salts, acids and alkalis dissolved in water.

#include <memory>

#include "slantrule/liquids/liquid_model.hpp"

namespace slantrule {

enum class Solute { CaCl2, H2SO4, HCl, HNO3, K2CO3, KCl, KOH, MgCl2, Na2CO3, Na2SO4, NaCl, NaOH };

/// Laliberte and Cooper 2004; Laliberte, J. Chem. Eng. Data 52, 321 (2007) and 54, 1725 (2009).
/// At about 0.1 MPa; typical errors 0.1 % of density, 2 to 5 % of viscosity (from memory). The
/// equations are evaluated as they stand; where they hold, depends on the solute (see the .cpp).
namespace laliberte {
double density_kg_m3(Solute solute, double mass_fraction, double temperature_degC);
/// Mass fraction above 0.
double viscosity_mPa_s(Solute solute, double mass_fraction, double temperature_degC);
double water_density_kg_m3(double temperature_degC);
double water_viscosity_mPa_s(double temperature_degC);
}  // namespace laliberte

/// Sodium chloride brine by Batzle and Wang, Geophysics 57, 1396 (1992), eq. 27 to 29; stated for
/// 20 to 350 degC, 5 to 100 MPa, mass fractions up to 0.32. In the speed of sound the square of the
/// mass fraction has the coefficient -820: copies with -1820 go round, which are 8 to 18 m/s low at
/// 10 to 12 %.
namespace batzle_wang {
struct Brine {
  double temperature_degC, pressure_MPa, mass_fraction;
};
double brine_sound_speed_m_s(const Brine& brine);
double brine_density_kg_m3(const Brine& brine);
/// What the salt adds to the speed of sound in water. Water's own part of the paper is off by 2
/// m/s.
double salt_increment_m_s(const Brine& brine);
}  // namespace batzle_wang

/// Sodium chloride brine: up to 27 % by mass, from freezing (-15 degC at the lowest) to 140 degC,
/// up to 100 MPa.
///
/// Speed of sound: water's (IAPWS-95) and the increment of Batzle and Wang. Density and viscosity:
/// water's (IF97, R12-08) times the ratios to water that Laliberte's equations give, the density
/// also times the effect of pressure on that ratio by Batzle and Wang. So the model goes over into
/// water. Below 0 degC these are extrapolations, which agree along the freezing line with Melinder
/// 2010 within 0.2 % of density and 6 % of viscosity.
///
/// Standard uncertainties, judged:
///
///     speed of sound  1 m/s at 1 % of salt, 2 at 5 %, 3 at 10 %, 5 at 15 %, 8 at 20 %, 10 at 25 %,
///                     and 0.1 m/s for each K outside 10 to 40 degC
///     density         0.1 %, and 0.004 % per MPa } from 5 % by mass on; in proportion below,
///     viscosity       5 %                        } with water's
///
/// Boiling is pure water's: the real saturation pressure is lower, by up to a quarter. Freezing by
/// Melinder 2010 up to 23 %, then nullopt. Absorption: 3.1 times the shear part, as in water.
/// A state just outside is answered with three times the uncertainties, one further away throws
/// as LiquidModel says.
std::shared_ptr<const LiquidModel> make_sodium_chloride_brine();

/// An aqueous electrolyte in the range of Laliberte's density, up to 10 MPa; for NaCl the brine
/// above.
///
/// Density and viscosity: as of the brine, without the effect of pressure on the ratio. Beyond the
/// temperatures of the viscosity's own range the ratio is kept, with an uncertainty that grows by
/// 0.3 % per K; beyond its mass fractions viscosity is absent.
///
/// Speed of sound: only up to 0.05 mol/L of ions (some 0.1 to 0.3 %), by slopes per ion. What
/// stronger solutions do is not known well enough: caustic soda at 30 % is hundreds of m/s faster
/// than water. There it is absent, and must be measured.
///
/// Standard uncertainties, judged:
///
///     speed of sound  water's, and 10 % of what the ions add; 50 % outside 1 to 30 degC
///     density         0.2 %; K2CO3 0.5 %; NaOH 1 %, reached when hot and strong; and 0.004 % per
///     MPa viscosity       5 %; MgCl2 10 %
///
/// the last two from 5 % by mass on, in proportion below.
///
/// Boiling is pure water's, of HCl and HNO3 unknown: they boil off themselves. Freezing is known of
/// CaCl2, MgCl2 and K2CO3 (Melinder 2010). Absorption: 3.1 times the shear part where the speed of
/// sound is known.
std::shared_ptr<const LiquidModel> make_electrolyte(Solute solute);

}  // namespace slantrule
