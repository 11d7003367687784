#include "slantrule/liquids/correlated_liquid.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <string_view>
#include <utility>

#include <fmt/format.h>

#include "slantrule/liquids/water.hpp"
#include "state_range.hpp"

namespace slantrule {
namespace {

constexpr double kAtmosphere_Pa = 101325;
constexpr double kIcePoint_K = 273.15;
constexpr double kHighestPressure_Pa = 10e6;

constexpr ValidRange range_degC(double lowest, double highest, double highest_mass_fraction = 0) {
  return {.lowest_temperature_K = lowest + kIcePoint_K,
          .highest_temperature_K = highest + kIcePoint_K,
          .highest_pressure_Pa = kHighestPressure_Pa,
          .highest_mass_fraction = highest_mass_fraction};
}

void require(bool holds, std::string_view what, double value) {
  if (!holds) throw std::invalid_argument(fmt::format("{} is {}", what, value));
}

double above_atmosphere_MPa(double pressure_Pa) {
  return (pressure_Pa - kAtmosphere_Pa) / 1e6;
}

class Correlated final : public LiquidModel {
 public:
  explicit Correlated(CorrelatedLiquid liquid) : liquid_(std::move(liquid)) {
    if (liquid_.name.empty()) throw std::invalid_argument("correlated liquid: it has no name");
    if (!liquid_.properties) {
      throw std::invalid_argument(fmt::format("{}: it has no properties", liquid_.name));
    }
  }

  LiquidProperties at(const LiquidState& state) const override {
    require_state(liquid_.name, state);
    const bool pure = liquid_.range.highest_mass_fraction == 0;
    const RangeMargin margin{.mass_fraction = pure ? 0 : RangeMargin{}.mass_fraction};
    const double factor = range_factor(liquid_.name, state, liquid_.range, margin);
    LiquidProperties out = liquid_.properties(state);
    for (auto* property : {&out.sound_speed_m_s, &out.density_kg_m3, &out.viscosity_Pa_s}) {
      if (*property) (*property)->u *= factor;
    }
    return out;
  }

  std::optional<double> saturation_pressure_Pa(double temperature_K) const override {
    require(temperature_K > 0 && std::isfinite(temperature_K),
            fmt::format("{}: temperature in K", liquid_.name), temperature_K);
    if (!liquid_.saturation_pressure_Pa) return std::nullopt;
    return liquid_.saturation_pressure_Pa(temperature_K);
  }

  std::optional<double> freezing_temperature_K(const LiquidState& state) const override {
    require_state(liquid_.name, state);
    return liquid_.freezing_temperature_K;
  }

  std::optional<Absorption> absorption(const LiquidState& state) const override {
    const auto [sound_speed, density, viscosity] = at(state);
    if (!liquid_.absorption || !sound_speed || !density || !viscosity) return std::nullopt;
    const AbsorptionRule& rule = *liquid_.absorption;
    Absorption out =
        stokes_absorption(density->value, sound_speed->value, viscosity->value, rule.factor_K,
                          std::hypot(rule.relative_u, viscosity->u / viscosity->value));
    out.power = rule.power;
    return out;
  }

  std::optional<ValidRange> valid_range() const override { return liquid_.range; }

  std::string_view source() const override { return liquid_.source; }

 private:
  CorrelatedLiquid liquid_;
};

// VDI Heat Atlas 2010, part D3.
struct VdiConstants {
  double critical_temperature_K, critical_density_kg_m3;
  double A, B, C, D;
  double a, b, c_K, d_K, E_Pa_s;
};

const VdiConstants& constants(vdi_heat_atlas::Liquid liquid) {
  static constexpr VdiConstants isopropanol{508.25,   273,       865.9165, -744.0943,
                                            975.9052, -381.1278, 3.07172,  3.84587,
                                            580.414,  -62.691,   7.42e-06};
  static constexpr VdiConstants acetone{508.1,   274,    547.382, 208.742, -203.7599, 253.9936,
                                        1.65496, 0.5733, 610.687, 11.477,  2.915e-05};
  static constexpr VdiConstants ethylene_glycol{719.15,    325,       1305.5931, -1374.2561,
                                                1691.0501, -665.0358, -2.46697,  5.00103,
                                                587.004,   10.679,    0.00132759};
  static constexpr VdiConstants glycerol{850.05,    349,      1341.5932, -1168.205,
                                         1429.7634, -527.771, -3.91153,  6.54946,
                                         582.48,    73.885,   0.0079964};
  static constexpr VdiConstants methyl_ethyl_ketone{535.55,   270,       560.7857, -90.7312,
                                                    454.3929, -120.5211, 3.36887,  0.15106,
                                                    994.604,  10.71,     2.62e-06};
  switch (liquid) {
    case vdi_heat_atlas::Liquid::isopropanol:
      return isopropanol;
    case vdi_heat_atlas::Liquid::acetone:
      return acetone;
    case vdi_heat_atlas::Liquid::ethylene_glycol:
      return ethylene_glycol;
    case vdi_heat_atlas::Liquid::glycerol:
      return glycerol;
    case vdi_heat_atlas::Liquid::methyl_ethyl_ketone:
      return methyl_ethyl_ketone;
  }
  throw std::invalid_argument("VDI Heat Atlas: no such liquid");
}

// Antoine's equation of isopropanol for mmHg and degC, from memory; it gives the boiling point,
// 82.3 degC (from memory too), within 0.1 K.
std::optional<double> isopropanol_saturation_pressure_Pa(double temperature_K) {
  const double t = temperature_K - kIcePoint_K;
  if (t < 0 || t > 101) return std::nullopt;
  constexpr double kPascal_mmHg = 101325.0 / 760;
  return kPascal_mmHg * std::pow(10, 8.11778 - 1580.92 / (219.61 + t));
}

// Speed of sound by a line, density and viscosity by the VDI Heat Atlas.
struct LineAndAtlas {
  SoundSpeedLine sound_speed;
  vdi_heat_atlas::Liquid liquid;
  LiquidProperties operator()(const LiquidState& state) const {
    const Estimate c = sound_speed.at(state);
    const double density = vdi_heat_atlas::density_kg_m3(liquid, state.temperature_K);
    const double viscosity = vdi_heat_atlas::viscosity_Pa_s(liquid, state.temperature_K);
    return {.sound_speed_m_s = c,
            .density_kg_m3 =
                compressed_density_kg_m3(relative(density, 0.003), c.value, state.pressure_Pa),
            .viscosity_Pa_s =
                viscosity_under_pressure_Pa_s(relative(viscosity, 0.07), state.pressure_Pa)};
  }
};

constexpr SoundSpeedLine kIsopropanolLine{.sound_speed_m_s = {1138.5, 3},
                                          .at_degC = 25,
                                          .slope_m_s_K = {-3.5, 0.2},
                                          .pressure_slope_m_s_MPa = 6.5};
constexpr SoundSpeedLine kEthyleneGlycolLine{.sound_speed_m_s = {1660, 4},
                                             .at_degC = 25,
                                             .slope_m_s_K = {-2.3, 0.2},
                                             .pressure_slope_m_s_MPa = 3.7};
constexpr SoundSpeedLine kGlycerolLine{.sound_speed_m_s = {1912, 12},
                                       .at_degC = 25,
                                       .slope_m_s_K = {-2.2, 0.2},
                                       .pressure_slope_m_s_MPa = 3};

// Speed of sound by a line, density linear about 20 degC, kinematic viscosity by ASTM D341.
struct FoodOil {
  SoundSpeedLine sound_speed;
  Estimate density_20_degC_kg_m3;
  double density_slope_kg_m3_K;
  astm_d341::ViscosityLine viscosity;
  double viscosity_relative_u;
  LiquidProperties operator()(const LiquidState& state) const {
    const Estimate c = sound_speed.at(state);
    const double density = density_20_degC_kg_m3.value +
                           density_slope_kg_m3_K * (state.temperature_K - kIcePoint_K - 20);
    const double mu = viscosity.viscosity_mm2_s(state.temperature_K) * 1e-6 * density;
    return {.sound_speed_m_s = c,
            .density_kg_m3 = compressed_density_kg_m3({density, density_20_degC_kg_m3.u}, c.value,
                                                      state.pressure_Pa),
            .viscosity_Pa_s = viscosity_under_pressure_Pa_s(relative(mu, viscosity_relative_u),
                                                            state.pressure_Pa)};
  }
};

}  // namespace

Estimate SoundSpeedLine::at(const LiquidState& state) const {
  const double dt = state.temperature_K - kIcePoint_K - at_degC;
  const double pressure_m_s = pressure_slope_m_s_MPa * above_atmosphere_MPa(state.pressure_Pa);
  return {sound_speed_m_s.value + slope_m_s_K.value * dt + pressure_m_s,
          std::hypot(sound_speed_m_s.u, slope_m_s_K.u * dt, 0.3 * pressure_m_s)};
}

Estimate compressed_density_kg_m3(const Estimate& at_1_atm_kg_m3, double sound_speed_m_s,
                                  double pressure_Pa) {
  const double isentropic_kg_m3 =
      (pressure_Pa - kAtmosphere_Pa) / (sound_speed_m_s * sound_speed_m_s);
  return {at_1_atm_kg_m3.value + 1.2 * isentropic_kg_m3,
          std::hypot(at_1_atm_kg_m3.u, 0.2 * isentropic_kg_m3)};
}

Estimate viscosity_under_pressure_Pa_s(const Estimate& at_1_atm_Pa_s, double pressure_Pa) {
  const double rise = 0.02 * above_atmosphere_MPa(pressure_Pa);
  return {at_1_atm_Pa_s.value, std::hypot(at_1_atm_Pa_s.u, rise * at_1_atm_Pa_s.value)};
}

std::shared_ptr<const LiquidModel> make_correlated_liquid(CorrelatedLiquid liquid) {
  return std::make_shared<Correlated>(std::move(liquid));
}

namespace vdi_heat_atlas {

double density_kg_m3(Liquid liquid, double temperature_K) {
  const VdiConstants& k = constants(liquid);
  require_between(temperature_K, 200, k.critical_temperature_K,
                  "VDI Heat Atlas density: temperature in K");
  const double q = 1 - temperature_K / k.critical_temperature_K;
  return k.critical_density_kg_m3 + k.A * std::pow(q, 0.35) + k.B * std::pow(q, 2.0 / 3) + k.C * q +
         k.D * std::pow(q, 4.0 / 3);
}

double viscosity_Pa_s(Liquid liquid, double temperature_K) {
  const VdiConstants& k = constants(liquid);
  require_between(temperature_K, 200, 500, "VDI Heat Atlas viscosity: temperature in K");
  const double r = (k.c_K - temperature_K) / (temperature_K - k.d_K);
  const double root = std::cbrt(r);
  return k.E_Pa_s * std::exp(k.a * root + k.b * root * r);
}

}  // namespace vdi_heat_atlas

double perry::propylene_glycol_viscosity_Pa_s(double temperature_K) {
  require_between(temperature_K, 213, 500, "propylene glycol viscosity: temperature in K");
  return std::exp(-804.54 + 30487 / temperature_K + 130.79 * std::log(temperature_K) -
                  0.15449 * temperature_K);
}

namespace glycerol_water {
namespace {
// The model answers 5 K outside its range, and so do the equations.
double checked_degC(double temperature_K, double mass_fraction) {
  const double t = temperature_K - kIcePoint_K;
  require_between(t, -5 - 1e-9, 105 + 1e-9, "glycerol-water: temperature in degC");
  require_between(mass_fraction, 0, 1, "glycerol-water: mass fraction");
  return t;
}
}  // namespace

double density_kg_m3(double temperature_K, double mass_fraction) {
  // rho = k [rho_w + w (rho_g - rho_w) / (w + (rho_g/rho_w) (1 - w))]
  // k   = 1 + (1.78e-6 t^2 - 1.82e-4 t + 1.41e-2) sin(pi w^1.31)^0.81
  const double t = checked_degC(temperature_K, mass_fraction), w = mass_fraction;
  const double glycerol = 1273 - 0.612 * t;
  const double water = 1000 * (1 - std::pow(std::abs((t - 3.98) / 615), 1.71));
  const double volume_fraction = w / (w + glycerol / water * (1 - w));
  const double contraction = (1.78e-6 * t - 1.82e-4) * t + 1.41e-2;
  // At w = 1 the sine is a rounding error and may be below 0.
  const double sine = std::max(0.0, std::sin(std::numbers::pi * std::pow(w, 1.31)));
  return (1 + contraction * std::pow(sine, 0.81)) * (water + volume_fraction * (glycerol - water));
}

double viscosity_Pa_s(double temperature_K, double mass_fraction) {
  // mu = mu_w^alpha mu_g^(1 - alpha),  alpha = 1 - w + a b w (1 - w) / (a w + b (1 - w))
  // a = 0.705 - 0.0017 t,  b = (4.9 + 0.036 t) a^2.5;  mPa s
  const double t = checked_degC(temperature_K, mass_fraction), w = mass_fraction;
  const double water = 1.790 * std::exp((-1230 - t) * t / (36100 + 360 * t));
  const double glycerol = 12100 * std::exp((-1233 + t) * t / (9900 + 70 * t));
  const double a = 0.705 - 0.0017 * t;
  const double b = (4.9 + 0.036 * t) * std::pow(a, 2.5);
  const double alpha = 1 - w + a * b * w * (1 - w) / (a * w + b * (1 - w));
  return 1e-3 * std::pow(water, alpha) * std::pow(glycerol, 1 - alpha);
}

}  // namespace glycerol_water

namespace astm_d341 {
namespace {
double double_log(const Point& point) {
  require(point.temperature_K > 0 && std::isfinite(point.temperature_K),
          "ASTM D341: temperature in K", point.temperature_K);
  require(point.viscosity_mm2_s > 0.3 && std::isfinite(point.viscosity_mm2_s),
          "ASTM D341: viscosity in mm2/s", point.viscosity_mm2_s);
  return std::log10(std::log10(point.viscosity_mm2_s + 0.7));
}
}  // namespace

ViscosityLine::ViscosityLine(const Point& one, const Point& other) {
  const double z_one = double_log(one), z_other = double_log(other);
  const double log_one = std::log10(one.temperature_K), log_other = std::log10(other.temperature_K);
  b_ = (z_one - z_other) / (log_other - log_one);
  if (!(b_ > 0 && std::isfinite(b_))) {
    throw std::invalid_argument(fmt::format(
        "ASTM D341: {} mm2/s at {} K and {} mm2/s at {} K: the hotter is not the "
        "thinner",
        one.viscosity_mm2_s, one.temperature_K, other.viscosity_mm2_s, other.temperature_K));
  }
  a_ = z_one + b_ * log_one;
}

double ViscosityLine::viscosity_mm2_s(double temperature_K) const {
  require(temperature_K > 0 && std::isfinite(temperature_K), "ASTM D341: temperature in K",
          temperature_K);
  return std::pow(10, std::pow(10, a_ - b_ * std::log10(temperature_K))) - 0.7;
}

}  // namespace astm_d341

std::shared_ptr<const LiquidModel> make_isopropanol() {
  return make_correlated_liquid(
      {.name = "isopropanol",
       .source = "speed of sound: mean of two measured sets, slope from memory; density and "
                 "viscosity VDI Heat Atlas 2010; boiling from memory",
       .range = range_degC(-10, 70),
       .properties = LineAndAtlas{kIsopropanolLine, vdi_heat_atlas::Liquid::isopropanol},
       .absorption = AbsorptionRule{},
       .saturation_pressure_Pa = isopropanol_saturation_pressure_Pa,
       .freezing_temperature_K = kIcePoint_K - 88});  // from memory
}

std::shared_ptr<const LiquidModel> make_ethylene_glycol() {
  return make_correlated_liquid(
      {.name = "ethylene glycol",
       .source = "speed of sound: handbook list, slope from memory; density and viscosity VDI Heat "
                 "Atlas 2010; freezing from memory",
       .range = range_degC(-10, 100),
       .properties = LineAndAtlas{kEthyleneGlycolLine, vdi_heat_atlas::Liquid::ethylene_glycol},
       .absorption = AbsorptionRule{.factor_K = 2.5},  // from memory
       .saturation_pressure_Pa = nullptr,
       .freezing_temperature_K = kIcePoint_K - 12.9});
}

std::shared_ptr<const LiquidModel> make_glycerol() {
  return make_correlated_liquid(
      {.name = "glycerol",
       .source = "speed of sound: mean of two handbook lists, slope from memory; density and "
                 "viscosity VDI Heat Atlas 2010",
       .range = range_degC(10, 80),
       .properties = LineAndAtlas{kGlycerolLine, vdi_heat_atlas::Liquid::glycerol},
       .absorption = AbsorptionRule{.factor_K = 2},  // relaxes above a few MHz when cold
       .saturation_pressure_Pa = nullptr,
       .freezing_temperature_K = std::nullopt});
}

std::shared_ptr<const LiquidModel> make_glycerol_water() {
  const auto properties = [water = make_water()](const LiquidState& state) {
    constexpr double kRounding = 1e-9;  // of a fraction given in per cent
    const double t = state.temperature_K - kIcePoint_K, w = state.mass_fraction;
    const double density_relative_u = t >= 15 && t <= 30 ? 0.001 : 0.005;
    LiquidProperties out;
    if (w <= kRounding) {
      out.sound_speed_m_s =
          water->at({.temperature_K = state.temperature_K, .pressure_Pa = state.pressure_Pa})
              .sound_speed_m_s;
    } else if (w >= 1 - kRounding) {
      out.sound_speed_m_s = kGlycerolLine.at(state);
    }
    // Where the speed is not known, between water's and glycerol's, 1700 m/s does for the
    // compressibility: at 10 MPa that is 4 kg/m3.
    out.density_kg_m3 = compressed_density_kg_m3(
        relative(glycerol_water::density_kg_m3(state.temperature_K, w), density_relative_u), 1700,
        state.pressure_Pa);
    out.viscosity_Pa_s = viscosity_under_pressure_Pa_s(
        relative(glycerol_water::viscosity_Pa_s(state.temperature_K, w), 0.05), state.pressure_Pa);
    return out;
  };
  return make_correlated_liquid(
      {.name = "glycerol-water",
       .source = "density Volk and Kaehler 2018, viscosity Cheng 2008; speed of sound not known "
                 "between water and glycerol",
       .range = range_degC(0, 100, 1),
       .properties = properties,
       .absorption = std::nullopt,
       .saturation_pressure_Pa = nullptr,
       .freezing_temperature_K = std::nullopt});
}

std::shared_ptr<const LiquidModel> make_vegetable_oil() {
  // 68 mPa s at 920 kg/m3 and 34 mPa s at 906.8 kg/m3; the pressure slope is that of methyl oleate.
  return make_correlated_liquid(
      {.name = "vegetable oil",
       .source = "edible oils after Coupland and McClements 1997, from memory",
       .range = range_degC(10, 60),
       .properties = FoodOil{.sound_speed = {.sound_speed_m_s = {1470, 8},
                                             .at_degC = 20,
                                             .slope_m_s_K = {-3.3, 0.2},
                                             .pressure_slope_m_s_MPa = 3.6},
                             .density_20_degC_kg_m3 = {920, 5},
                             .density_slope_kg_m3_K = -0.66,
                             .viscosity = {{293.15, 73.91}, {313.15, 37.49}},
                             .viscosity_relative_u = 0.15},
       .absorption = AbsorptionRule{.factor_K = 2},  // from memory
       .saturation_pressure_Pa = nullptr,
       .freezing_temperature_K = std::nullopt});
}

std::shared_ptr<const LiquidModel> make_castor_oil() {
  // 650 mPa s at 25 degC; 20 mm2/s at 100 degC is from memory too.
  return make_correlated_liquid(
      {.name = "castor oil",
       .source =
           "speed of sound Javanaud and Rahalkar 1988 at 19.4 degC, slope judged; density and "
           "viscosity from memory",
       .range = range_degC(10, 60),
       .properties = FoodOil{.sound_speed = {.sound_speed_m_s = {1523.4, 8},
                                             .at_degC = 19.4,
                                             .slope_m_s_K = {-3.2, 1},
                                             .pressure_slope_m_s_MPa = 3.6},
                             .density_20_degC_kg_m3 = {960, 5},
                             .density_slope_kg_m3_K = -0.68,
                             .viscosity = {{298.15, 679.5}, {373.15, 20}},
                             .viscosity_relative_u = 0.15},
       .absorption = AbsorptionRule{.factor_K = 2, .power = 5.0 / 3},  // Fyke 1979, He 1999
       .saturation_pressure_Pa = nullptr,
       .freezing_temperature_K = std::nullopt});
}

std::shared_ptr<const LiquidModel> make_milk() {
  const auto water = make_water();
  const auto properties = [water](const LiquidState& state) {
    const double t = state.temperature_K - kIcePoint_K;
    const LiquidProperties base = water->at(state);
    return LiquidProperties{
        .sound_speed_m_s = Estimate{base.sound_speed_m_s->value + 33 - 0.24 * (t - 20), 10},
        .density_kg_m3 = Estimate{base.density_kg_m3->value + 32.3, 3},
        .viscosity_Pa_s = relative(2.1 * base.viscosity_Pa_s->value, 0.15)};
  };
  return make_correlated_liquid(
      {.name = "milk",
       .source = "water (IAPWS) plus a constant excess of whole milk, from memory",
       .range = range_degC(0, 70),
       .properties = properties,
       .absorption = std::nullopt,
       .saturation_pressure_Pa = [water](double t_K) { return water->saturation_pressure_Pa(t_K); },
       .freezing_temperature_K = kIcePoint_K - 0.52});
}

}  // namespace slantrule
