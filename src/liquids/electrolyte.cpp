#include "slantrule/liquids/electrolyte.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <iterator>
#include <optional>
#include <string_view>

#include "slantrule/liquids/absorption.hpp"
#include "slantrule/liquids/coolant.hpp"
#include "slantrule/liquids/water.hpp"
#include "state_range.hpp"

namespace slantrule {
namespace {

// Slope of the speed of sound, dc = M (s0 + s1 (t - 25 degC)), M in mol/L, of an ion beside
// chloride; 1 to 30 degC. From an open freshwater tool of the Helmholtz Centre for Environmental
// Research.
struct Ion {
  double s0, s1;
};
constexpr Ion kHydrogen{13.772, -0.2532}, kSodium{63.860, -0.4722}, kPotassium{57.948, -0.4947},
    kMagnesium{125.068, -0.7623}, kCalcium{97.691, -0.7666}, kChloride{0, 0},
    kHydroxide{34.516, -0.1857}, kNitrate{-19.054, -0.1627}, kCarbonate{60.234, -0.1887},
    kSulfate{40.854, -0.2882};
constexpr double kHighestIons_mol_L = 0.0505;  // 0.05, and what a rounded strength may add

struct IonCount {
  Ion ion;
  int count;
};

// Where a fit holds.
struct FitRange {
  double lowest_degC, highest_degC, highest_mass_fraction;
};

struct RelativeUncertainties {
  double density, viscosity;
};

struct Electrolyte {
  Solute solute;
  std::string_view name;
  double c[5];  // c0 to c4, of density
  FitRange density_range;
  double v[6];  // v1 to v6, of viscosity
  FitRange viscosity_range;
  double molar_mass_g_mol;
  IonCount ions[2];
  RelativeUncertainties u;  // judged
};

constexpr Electrolyte kElectrolytes[] = {
    {.solute = Solute::CaCl2,
     .name = "calcium chloride solution",
     .c = {-9.728937471, 14.7005353, 4.190333415, 0.03974036243, 2708.127789},
     .density_range = {15, 126.7, 0.51},
     .v = {32.01436994, 0.7881040859, -1.141204539, 0.002700106932, 776516.7469, 5.838881307},
     .viscosity_range = {0, 100, 0.51},
     .molar_mass_g_mol = 110.98,
     .ions = {{kCalcium, 1}, {kChloride, 2}},
     .u = {0.002, 0.05}},
    {.solute = Solute::H2SO4,
     .name = "sulfuric acid solution",
     .c = {70.83951523, 142.3526939, 0.6877945962, 0.006492996832, 1667.238646},
     .density_range = {-11.15, 75, 0.78},
     .v = {7.776994775, 1.234430568, 1.916433926, 0.005636315369, 46.00653935, 2.830719653},
     .viscosity_range = {-10, 75, 0.78},
     .molar_mass_g_mol = 98.08,
     .ions = {{kHydrogen, 2}, {kSulfate, 1}},
     .u = {0.002, 0.05}},
    {.solute = Solute::HCl,
     .name = "hydrochloric acid solution",
     .c = {0.0002838722605, 0.003949469572, 2.850200477, -0.01577470126, -3766.208687},
     .density_range = {5, 98.82, 0.38},
     .v = {10.3259686, 1.7137827, 1.48613182, 0.001279074492, 23.76441889, 2.182742312},
     .viscosity_range = {10, 42.5, 0.36},
     .molar_mass_g_mol = 36.461,
     .ions = {{kHydrogen, 1}, {kChloride, 1}},
     .u = {0.002, 0.05}},
    {.solute = Solute::HNO3,
     .name = "nitric acid solution",
     .c = {0.2720707882, -0.399605969, -2.336919777, 0.006621123843, -3089.017941},
     .density_range = {-10, 95, 0.70},
     .v = {8.226403933e-05, -1.397188114, 0.119618842, -0.0199197916, -1.44481164, 0.9069400983},
     .viscosity_range = {4, 25, 0.31},
     .molar_mass_g_mol = 63.013,
     .ions = {{kHydrogen, 1}, {kNitrate, 1}},
     .u = {0.002, 0.05}},
    {.solute = Solute::K2CO3,
     .name = "potassium carbonate solution",
     .c = {2290.108679, 1038.773639, 0.1097693273, 0.0004977833409, -74.07868621},
     .density_range = {5, 95, 0.36},
     .v = {41.38745649, 3.677913493, 3.268074, 0.008767024124, 8684.043981, 12.72762955},
     .viscosity_range = {19, 89, 0.52},
     .molar_mass_g_mol = 138.205,
     .ions = {{kPotassium, 2}, {kCarbonate, 1}},
     .u = {0.005, 0.05}},
    {.solute = Solute::KCl,
     .name = "potassium chloride solution",
     .c = {-0.855928946, 6.040735713, 2.817874162, 0.02539246459, 2681.617235},
     .density_range = {5, 125, 0.26},
     .v = {6.488059671, 1.317531313, -0.777820553, 0.09271560224, -1.300202562, 2.081207318},
     .viscosity_range = {5, 150, 0.31},
     .molar_mass_g_mol = 74.551,
     .ions = {{kPotassium, 1}, {kChloride, 1}},
     .u = {0.002, 0.05}},
    {.solute = Solute::KOH,
     .name = "potassium hydroxide solution",
     .c = {821.1190433, 1043.201734, 0.1128733302, 0.001240236364, 539.6303884},
     .density_range = {4, 95, 0.52},
     .v = {57.41981572, 3.804814062, 2.622700937, 0.01031447765, 5202.710481, 10.94258742},
     .viscosity_range = {-14.1, 40, 0.52},
     .molar_mass_g_mol = 56.105,
     .ions = {{kPotassium, 1}, {kHydroxide, 1}},
     .u = {0.002, 0.05}},
    {.solute = Solute::MgCl2,
     .name = "magnesium chloride solution",
     .c = {-0.02150014233, 0.04412020839, 1.532275868, -0.009807850606, -3478.364969},
     .density_range = {0, 98.67, 0.32},
     .v = {35.39962779, 2.73271429, 3.929738278, 0.02043208176, -1.119646154, 0.1449423817},
     .viscosity_range = {15, 70, 0.39},
     .molar_mass_g_mol = 95.211,
     .ions = {{kMagnesium, 1}, {kChloride, 2}},
     .u = {0.002, 0.10}},
    {.solute = Solute::Na2CO3,
     .name = "sodium carbonate solution",
     .c = {5.454865435e-07, 1.721549294e-07, -0.08258502073, 0.001688229498, 4705.398222},
     .density_range = {0, 100.14, 0.21},
     .v = {27.68319968, 1.563240407, 6.80529472, 0.01507770508, 22452.34407, 28.23623973},
     .viscosity_range = {20, 90, 0.31},
     .molar_mass_g_mol = 105.988,
     .ions = {{kSodium, 2}, {kCarbonate, 1}},
     .u = {0.002, 0.05}},
    {.solute = Solute::Na2SO4,
     .name = "sodium sulfate solution",
     .c = {4.450254495e-06, 9.120865196e-06, 0.08403583701, 0.004657675254, 4349.505139},
     .density_range = {0, 125, 0.33},
     .v = {26.51903056, 1.574613889, 3.496628457, 0.01038795554, 106.2252847, 2.97377112},
     .viscosity_range = {15, 150, 0.33},
     .molar_mass_g_mol = 142.04,
     .ions = {{kSodium, 2}, {kSulfate, 1}},
     .u = {0.002, 0.05}},
    {.solute = Solute::NaCl,
     .name = "sodium chloride solution",
     .c = {-0.003241122237, 0.06363543359, 1.013713995, 0.01459510152, 3317.348544},
     .density_range = {0, 140, 0.27},
     .v = {16.22178863, 1.322930868, 1.48485985, 0.007469125597, 30.78020075, 2.058268523},
     .viscosity_range = {5, 154, 0.26},
     .molar_mass_g_mol = 58.443,
     .ions = {{kSodium, 1}, {kChloride, 1}},
     .u = {0.001, 0.05}},
    {.solute = Solute::NaOH,
     .name = "sodium hydroxide solution",
     .c = {319.0205095, 528.5923585, -0.1021978966, 0.0003504207064, 765.9704702},
     .density_range = {4, 120, 0.50},
     .v = {448.4575667, 0.00871452409, -431.9721233, 0.0160144202, 104.0117387, 4.644936845},
     .viscosity_range = {12.5, 70, 0.56},
     .molar_mass_g_mol = 39.997,
     .ions = {{kSodium, 1}, {kHydroxide, 1}},
     .u = {0.01, 0.05}},
};

constexpr bool in_order() {
  for (std::size_t k = 0; k < std::size(kElectrolytes); ++k) {
    if (kElectrolytes[k].solute != Solute{static_cast<int>(k)}) return false;
  }
  return true;
}
static_assert(in_order());

constexpr const Electrolyte& electrolyte(Solute solute) {
  return kElectrolytes[static_cast<std::size_t>(solute)];
}

constexpr double squared(double x) {
  return x * x;
}

}  // namespace

namespace laliberte {

double water_density_kg_m3(double temperature_degC) {
  const double t = temperature_degC;
  return (((((-2.8054253e-10 * t + 1.0556302e-7) * t - 4.6170461e-5) * t - 0.0079870401) * t +
           16.945176) *
              t +
          999.83952) /
         (1 + 0.01687985 * t);
}

double water_viscosity_mPa_s(double temperature_degC) {
  const double t = temperature_degC;
  return (t + 246) / ((0.05594 * t + 5.2842) * t + 137.37);
}

// 1/rho = (1 - w)/rho_w + w V, V = (w + c2 + c3 t) / ((c0 w + c1) exp(1e-6 (t + c4)^2)) in m3/kg.
double density_kg_m3(Solute solute, double mass_fraction, double temperature_degC) {
  const Electrolyte& of = electrolyte(solute);
  const double w = mass_fraction, t = temperature_degC;
  const double volume_m3_kg = (w + of.c[2] + of.c[3] * t) /
                              ((of.c[0] * w + of.c[1]) * std::exp(1e-6 * squared(t + of.c[4])));
  return 1 / ((1 - w) / water_density_kg_m3(t) + w * volume_m3_kg);
}

// mu = mu_w^(1 - w) mu_s^w, mu_s = exp[(v1 w^v2 + v3)/(v4 t + 1)] / (v5 w^v6 + 1).
double viscosity_mPa_s(Solute solute, double mass_fraction, double temperature_degC) {
  const Electrolyte& of = electrolyte(solute);
  const double w = mass_fraction, t = temperature_degC;
  const double ln_solute = (of.v[0] * std::pow(w, of.v[1]) + of.v[2]) / (of.v[3] * t + 1) -
                           std::log(of.v[4] * std::pow(w, of.v[5]) + 1);
  return std::exp((1 - w) * std::log(water_viscosity_mPa_s(t)) + w * ln_solute);
}

}  // namespace laliberte

namespace batzle_wang {

double salt_increment_m_s(const Brine& brine) {
  const double t = brine.temperature_degC, p = brine.pressure_MPa, s = brine.mass_fraction;
  return s * (1170 - 9.6 * t + 0.055 * t * t - 8.5e-5 * t * t * t + 2.6 * p - 0.0029 * t * p -
              0.0476 * p * p) +
         s * std::sqrt(s) * (780 - 10 * p + 0.16 * p * p) - 820 * s * s;
}

double brine_sound_speed_m_s(const Brine& brine) {
  // Rows: powers of t; columns: powers of p.
  constexpr double kWater[5][4] = {{1402.85, 1.524, 3.437e-3, -1.197e-5},
                                   {4.871, -0.0111, 1.739e-4, -1.628e-6},
                                   {-0.04783, 2.747e-4, -2.135e-6, 1.237e-8},
                                   {1.487e-4, -6.503e-7, -1.455e-8, 1.327e-10},
                                   {-2.197e-7, 7.987e-10, 5.230e-11, -4.614e-13}};
  double water_m_s = 0, t_power = 1;
  for (const auto& row : kWater) {
    const double p = brine.pressure_MPa;
    water_m_s += t_power * (row[0] + p * (row[1] + p * (row[2] + p * row[3])));
    t_power *= brine.temperature_degC;
  }
  return water_m_s + salt_increment_m_s(brine);
}

double brine_density_kg_m3(const Brine& brine) {
  const double t = brine.temperature_degC, p = brine.pressure_MPa, s = brine.mass_fraction;
  const double water_g_cm3 =
      1 + 1e-6 * (-80 * t - 3.3 * t * t + 0.00175 * t * t * t + 489 * p - 2 * t * p +
                  0.016 * t * t * p - 1.3e-5 * t * t * t * p - 0.333 * p * p - 0.002 * t * p * p);
  const double salt_g_cm3 =
      s * (0.668 + 0.44 * s +
           1e-6 * (300 * p - 2400 * p * s + t * (80 + 3 * t - 3300 * s - 13 * p + 47 * p * s)));
  return 1e3 * (water_g_cm3 + salt_g_cm3);
}

}  // namespace batzle_wang

namespace {

constexpr double kIcePoint_K = 273.15;

// Below it the equations of viscosity are not smooth (nitric acid's grows without bound); the
// logarithm of the ratio to water is taken to be proportional to the mass fraction there.
constexpr double kDilute = 0.005;

// From this mass fraction on the uncertainties of the fits count in full; below, in proportion.
constexpr double kUsual = 0.05;

constexpr double kLowestWater_K = 253.15;  // a rounding below it may be asked for

constexpr double kHighestPressure_Pa = 10e6;
constexpr double kHighestBrinePressure_Pa = 100e6;
constexpr double kLowestBrine_degC = -15;

// Laliberte's range of density, but from 0 degC for calcium chloride (extrapolated from 15 degC it
// agrees with Melinder within 0.2 %) and from below for brine.
ValidRange range_of(const Electrolyte& of) {
  const bool brine = of.solute == Solute::NaCl;
  const double lowest_degC = brine                        ? kLowestBrine_degC
                             : of.solute == Solute::CaCl2 ? 0
                                                          : of.density_range.lowest_degC;
  return {.lowest_temperature_K = lowest_degC + kIcePoint_K,
          .highest_temperature_K = of.density_range.highest_degC + kIcePoint_K,
          .highest_pressure_Pa = brine ? kHighestBrinePressure_Pa : kHighestPressure_Pa,
          .lowest_mass_fraction = 0,
          .highest_mass_fraction = of.density_range.highest_mass_fraction};
}

// Who knows where it freezes; null: nobody.
std::shared_ptr<const LiquidModel> coolant_of(Solute solute) {
  switch (solute) {
    case Solute::CaCl2:
      return make_coolant(melinder::Fluid::MCA);
    case Solute::K2CO3:
      return make_coolant(melinder::Fluid::MKC);
    case Solute::MgCl2:
      return make_coolant(melinder::Fluid::MMG);
    case Solute::NaCl:
      return make_coolant(melinder::Fluid::MNA);
    default:
      return nullptr;
  }
}

// Judged; see make_sodium_chloride_brine.
double brine_sound_speed_u_m_s(double mass_fraction, double temperature_degC) {
  struct Point {
    double mass_fraction, u_m_s;
  };
  constexpr Point kPoints[] = {{0, 0},    {0.01, 1}, {0.05, 2},  {0.1, 3},
                               {0.15, 5}, {0.2, 8},  {0.25, 10}, {0.3, 12}};
  constexpr double kLowest_degC = 10, kHighest_degC = 40, kPerKelvin_m_s = 0.1;
  const auto above = std::find_if(std::begin(kPoints) + 1, std::end(kPoints) - 1,
                                  [&](const Point& p) { return p.mass_fraction >= mass_fraction; });
  const Point& a = above[-1];
  const Point& b = above[0];
  const double u_m_s = a.u_m_s + (b.u_m_s - a.u_m_s) * (mass_fraction - a.mass_fraction) /
                                     (b.mass_fraction - a.mass_fraction);
  const double outside_K =
      temperature_degC - std::clamp(temperature_degC, kLowest_degC, kHighest_degC);
  return u_m_s + std::min(1.0, mass_fraction / 0.05) * kPerKelvin_m_s * std::abs(outside_K);
}

class ElectrolyteModel final : public LiquidModel {
 public:
  explicit ElectrolyteModel(Solute solute)
      : of_(electrolyte(solute)), range_(range_of(of_)), coolant_(coolant_of(solute)) {}

  LiquidProperties at(const LiquidState& state) const override {
    require_state(of_.name, state);
    const double factor = range_factor(of_.name, state, range_at(state));
    const double w = state.mass_fraction;
    const double t = state.temperature_K - kIcePoint_K;
    const LiquidProperties water =
        water_->at({.temperature_K = std::max(state.temperature_K, kLowestWater_K),
                    .pressure_Pa = state.pressure_Pa});
    // What is dissolved scales water's properties, with this uncertainty; it grows up to kUsual.
    const auto scaled = [&](const Estimate& of_water, double ratio, double relative_u) {
      const double u =
          std::hypot(of_water.u / of_water.value, relative_u * std::min(1.0, w / kUsual));
      return Estimate{ratio * of_water.value, factor * u * ratio * of_water.value};
    };

    LiquidProperties here;
    constexpr double kPerPascal = 4e-11;
    here.density_kg_m3 = scaled(*water.density_kg_m3, density_ratio(w, t, state.pressure_Pa),
                                of_.u.density + kPerPascal * state.pressure_Pa);
    if (w <= of_.viscosity_range.highest_mass_fraction + RangeMargin{}.mass_fraction) {
      const double lowest_degC = brine() ? kLowestBrine_degC : of_.viscosity_range.lowest_degC;
      const double fit_t = std::clamp(t, lowest_degC, of_.viscosity_range.highest_degC);
      constexpr double kPerKelvin = 0.003;
      here.viscosity_Pa_s = scaled(*water.viscosity_Pa_s, viscosity_ratio(w, fit_t),
                                   of_.u.viscosity + kPerKelvin * std::abs(t - fit_t));
    }
    const double density_kg_m3 = here.density_kg_m3->value;
    if (const auto increment = increment_m_s(state, density_kg_m3)) {
      here.sound_speed_m_s = Estimate{water.sound_speed_m_s->value + increment->value,
                                      factor * std::hypot(water.sound_speed_m_s->u, increment->u)};
    }
    return here;
  }

  std::optional<double> saturation_pressure_Pa(double temperature_K) const override {
    if (of_.solute == Solute::HCl || of_.solute == Solute::HNO3) return std::nullopt;
    return water_->saturation_pressure_Pa(temperature_K);
  }

  std::optional<double> freezing_temperature_K(const LiquidState& state) const override {
    require_state(of_.name, state);
    return coolant_ ? coolant_->freezing_temperature_K(state) : std::nullopt;
  }

  std::optional<Absorption> absorption(const LiquidState& state) const override {
    const LiquidProperties here = at(state);
    if (!here.sound_speed_m_s || !here.viscosity_Pa_s) return std::nullopt;
    return stokes_absorption(here.density_kg_m3->value, here.sound_speed_m_s->value,
                             here.viscosity_Pa_s->value, water_absorption_factor, 0.3);
  }

  std::optional<ValidRange> valid_range() const override { return range_; }

  std::string_view source() const override {
    if (brine()) {
      return "IAPWS-95 and Batzle-Wang 1992 salt increment for speed of sound; Laliberte 2007 and "
             "2009 for density, viscosity; Melinder 2010 for freezing";
    }
    return "Laliberte 2007, 2009 for density, viscosity; speed of sound by ion slopes (open "
           "freshwater tool) up to 0.05 mol/L of ions, then not known";
  }

 private:
  bool brine() const { return of_.solute == Solute::NaCl; }

  // Below 0 degC (brine only) the freezing line bounds what is known; without one, 0 degC.
  ValidRange range_at(const LiquidState& state) const {
    ValidRange range = range_;
    if (brine()) {
      range.lowest_temperature_K =
          std::max(range.lowest_temperature_K, freezing_temperature_K(state).value_or(kIcePoint_K));
    }
    return range;
  }

  double density_ratio(double w, double t, double pressure_Pa) const {
    const double at_0_1_MPa =
        laliberte::density_kg_m3(of_.solute, w, t) / laliberte::water_density_kg_m3(t);
    if (!brine()) return at_0_1_MPa;
    const auto batzle_wang_ratio = [&](double pressure_MPa) {
      return batzle_wang::brine_density_kg_m3({t, pressure_MPa, w}) /
             batzle_wang::brine_density_kg_m3({t, pressure_MPa, 0});
    };
    return at_0_1_MPa * batzle_wang_ratio(pressure_Pa / 1e6) / batzle_wang_ratio(0.1);
  }

  double viscosity_ratio(double w, double t) const {
    const double fit_w = std::max(w, kDilute);
    const double ratio =
        laliberte::viscosity_mPa_s(of_.solute, fit_w, t) / laliberte::water_viscosity_mPa_s(t);
    return std::pow(ratio, w / fit_w);
  }

  // What is dissolved adds this to the speed of sound in water.
  std::optional<Estimate> increment_m_s(const LiquidState& state, double density_kg_m3) const {
    const double w = state.mass_fraction;
    const double t = state.temperature_K - kIcePoint_K;
    if (brine()) {
      return Estimate{batzle_wang::salt_increment_m_s({t, state.pressure_Pa / 1e6, w}),
                      brine_sound_speed_u_m_s(w, t)};
    }
    const double molarity_mol_L = w * density_kg_m3 / of_.molar_mass_g_mol;
    double ions_mol_L = 0, increment_m_s = 0;
    for (const auto& [ion, count] : of_.ions) {
      ions_mol_L += count * molarity_mol_L;
      increment_m_s += count * molarity_mol_L * (ion.s0 + ion.s1 * (t - 25));
    }
    if (ions_mol_L > kHighestIons_mol_L) return std::nullopt;
    constexpr double kLowest_degC = 1, kHighest_degC = 30;
    const bool inside = t >= kLowest_degC && t <= kHighest_degC;
    return Estimate{increment_m_s, (inside ? 0.1 : 0.5) * std::abs(increment_m_s)};
  }

  const Electrolyte& of_;
  ValidRange range_;
  std::shared_ptr<const LiquidModel> coolant_;
  std::shared_ptr<const LiquidModel> water_ = make_water();
};

}  // namespace

std::shared_ptr<const LiquidModel> make_sodium_chloride_brine() {
  return make_electrolyte(Solute::NaCl);
}

std::shared_ptr<const LiquidModel> make_electrolyte(Solute solute) {
  return std::make_shared<ElectrolyteModel>(solute);
}

}  // namespace slantrule
