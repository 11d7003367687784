#pragma once

/// Aqueous heat-transfer fluids: glycols, brines and other secondary coolants.

#include <memory>

#include "slantrule/liquids/liquid_model.hpp"

namespace slantrule {

/// Melinder, Properties of Secondary Working Fluids for Indirect Systems (IIF/IIR 2010):
/// polynomials in mass per cent x and degC. They are evaluated as they stand. At x = 0 they are,
/// within their temperatures, 0.13 % in density and 2 % in viscosity of water (ammonia: 9 % in
/// viscosity), and within 0.05 K of 0 degC in freezing.
namespace melinder {
/// The book's own codes.
enum class Fluid {
  MEG,  ///< ethylene glycol
  MPG,  ///< propylene glycol
  MCA,  ///< calcium chloride
  MMG,  ///< magnesium chloride
  MKF,  ///< potassium formate
  MKA,  ///< potassium acetate
  MGL,  ///< glycerol
  MEA,  ///< ethanol
  MMA,  ///< methanol
  MAM,  ///< ammonia
  MKC,  ///< potassium carbonate
  MNA   ///< sodium chloride
};
/// From 0 to this mass per cent, from the freezing line to this temperature.
/// Magnesium chloride is cut from 30 to 21 %, its eutectic: beyond, the polynomials leave
/// Laliberte's equations by 2 % in density and a factor of 1000 in viscosity.
struct Limits {
  double highest_mass_percent, highest_temperature_degC;
};
Limits limits(Fluid fluid);
double density_kg_m3(Fluid fluid, double mass_percent, double temperature_degC);
double viscosity_mPa_s(Fluid fluid, double mass_percent, double temperature_degC);
double freezing_temperature_degC(Fluid fluid, double mass_percent);
}  // namespace melinder

enum class Glycol { ethylene, propylene, propane_1_3_diol };

/// Speed of sound of glycol and water by analogy: what 1,3-propanediol and water have above the
/// average by mass, measured from 10 to 40 degC and from 32 to 97 % (Zaoui-Djelloul-Daouadji et
/// al., Thermochim. Acta 642, 111, 2016), in other glycols scaled by one factor.
namespace glycol_analogy {
/// E(w, t); with it the measurements are met within 0.28 m/s rms, 0.75 m/s at most.
double excess_m_s(double mass_fraction, double temperature_degC);
/// Pure glycol at 1 atm. Ethylene: 1660 m/s at 25 degC (handbook), slope -2.3 m/s/K from memory;
/// propylene: fit to the equation of state of Eisenbach et al. 2021, -20 to 120 degC;
/// 1,3-propanediol: as measured.
double pure_sound_speed_m_s(Glycol glycol, double temperature_degC);
/// The factor on E: 0.90 for ethylene glycol, whose "30 percent" mixture has 1638 +-3.5 m/s from
/// 15.6 to 38.4 degC (J. Clin. Ultrasound 7, 465, 1979); 1 for its isomers, for propylene glycol as
/// an assumption.
double excess_factor(Glycol glycol);
}  // namespace glycol_analogy

/// Glycol in water, 0 to 100 % by mass, up to 5 MPa. Range: up to 60 % from the freezing line to
/// 100 degC; above, from a line between that at 60 % and -13 degC (ethylene) or -10 degC
/// (propylene) at 100 %. 1,3-propanediol: 0 to 60 degC.
///
///     c = (1 - w) c_water + w c_glycol + factor E
///
/// with c_water from IAPWS-95 at the state's temperature (below -20 degC continued straight) and
/// pressure; the glycol's grows by 0.37 m/s per bar (that of propylene glycol). So it goes over
/// into water's. Density and viscosity: Melinder's up to 60 %; above, parabolas in w (of the
/// logarithm of viscosity) that keep value and slope at 60 % and end at the pure glycol: VDI Heat
/// Atlas 2010 for ethylene; Eisenbach 2021 and Perry for propylene. Of 1,3-propanediol only the
/// speed is given.
///
/// Standard uncertainties, judged, combined in quadrature:
///
///     speed of sound  4w(1-w) times (8 m/s ethylene; 25 propylene, which is probably faster than
///                     given, by 0 to 40 m/s; 2 for 1,3-propanediol; + 0.5 m/s for each K outside
///                     10 to 40 degC); w times (4, 3, 2 m/s); ethylene w times 0.1 m/s for each K
///                     from 25 degC; 5 m/s for inhibitors from 25 % on, in proportion below; w
///                     times 0.1 m/s per bar except for propylene; 1-w times water's
///     density         0.2 %; above 60 % 0.5 %
///     viscosity       5 %; above 60 % 15 %
///
/// A measured speed is worth asking for. A state just outside is answered with three times these,
/// one further away throws as LiquidModel says.
///
/// Boiling is pure water's: the real saturation pressure is lower. Freezing: nullopt above 60 %.
/// Absorption: 3.1 - 0.6 w^2 times the shear part (2.95 at 50 %, 2.5 for pure glycol: judged).
std::shared_ptr<const LiquidModel> make_glycol_water(Glycol glycol);

/// A secondary coolant by Melinder 2010: density (u 0.2 %), viscosity (u 5 %; magnesium chloride
/// and ammonia 10 %), freezing. The speed of sound is not known and must be measured. MEG and MPG
/// give make_glycol_water's. Range: see melinder::limits, up to 5 MPa. Boiling is pure water's for
/// the salts and glycerol (the real saturation pressure is lower), unknown for ethanol, methanol
/// and ammonia. A state just outside, 5 K below freezing included, is answered with three times the
/// uncertainties.
std::shared_ptr<const LiquidModel> make_coolant(melinder::Fluid fluid);

}  // namespace slantrule
