#include "slantrule/liquids/petroleum.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>

#include <fmt/format.h>

#include "state_range.hpp"

namespace slantrule {
namespace {

using astm_d1250::Product;

constexpr double kIcePoint_K = 273.15;
constexpr double k60degF_K = (60.0 - 32) / 1.8 + kIcePoint_K;
constexpr double kWaterAt60degF_kg_m3 = 999.016;  // API MPMS 11.1, from memory

constexpr ValidRange range_degC(double lowest, double highest, double highest_pressure_MPa = 10) {
  return {.lowest_temperature_K = lowest + kIcePoint_K,
          .highest_temperature_K = highest + kIcePoint_K,
          .highest_pressure_Pa = highest_pressure_MPa * 1e6};
}

void require_batzle_wang(double specific_gravity, double temperature_K, double pressure_Pa) {
  require_between(specific_gravity, 0.6, 1.07, "Batzle-Wang dead oil: specific gravity");
  require_between(temperature_K, 250, 600, "Batzle-Wang dead oil: temperature in K");
  require_between(pressure_Pa, 0, 100e6, "Batzle-Wang dead oil: pressure in Pa");
}

// ASTM D1250 starts from 15 degC, API gravity from 60 degF.
double density_15_degC_kg_m3(double specific_gravity) {
  const double at_60_degF = specific_gravity * kWaterAt60degF_kg_m3;
  // The two densities are 0.05 % apart, so that their ratio may be taken at either.
  return at_60_degF * at_60_degF / astm_d1250::density_kg_m3(Product::crude, at_60_degF, k60degF_K);
}

struct CrudeOil {
  double api_gravity;
  LiquidProperties operator()(const LiquidState& state) const {
    const double gravity = specific_gravity(api_gravity);
    const double temperature_K = state.temperature_K, pressure_Pa = state.pressure_Pa;
    LiquidProperties out;
    out.sound_speed_m_s = {
        batzle_wang::dead_oil_sound_speed_m_s(gravity, temperature_K, pressure_Pa), 25};
    out.density_kg_m3 = relative(
        astm_d1250::density_kg_m3(Product::crude, density_15_degC_kg_m3(gravity), temperature_K) *
            batzle_wang::dead_oil_compression(gravity, pressure_Pa),
        0.005);
    constexpr double k70degF_K = (70.0 - 32) / 1.8 + kIcePoint_K;
    if (api_gravity >= 16 && temperature_K >= k60degF_K) {
      const double relative_u = temperature_K >= k70degF_K ? 0.45 : 1.5;
      out.viscosity_Pa_s = viscosity_under_pressure_Pa_s(
          relative(beggs_robinson::dead_oil_viscosity_Pa_s(api_gravity, temperature_K), relative_u),
          pressure_Pa);
    }
    return out;
  }
};

struct MineralOilByRule {
  double density_15_degC_kg_m3;
  astm_d341::ViscosityLine viscosity;
  double viscosity_20_degC_mm2_s;
  double density_relative_u, viscosity_relative_u;
  LiquidProperties operator()(const LiquidState& state) const {
    const double density_1_atm = astm_d1250::density_kg_m3(
        Product::lubricating_oil, density_15_degC_kg_m3, state.temperature_K);
    const double bulk_modulus_Pa = mineral_oil_rule::bulk_modulus_Pa(
        viscosity_20_degC_mm2_s, state.temperature_K, state.pressure_Pa);
    const double compressed_kg_m3 =
        compressed_density_kg_m3({density_1_atm, 0}, std::sqrt(bulk_modulus_Pa / density_1_atm),
                                 state.pressure_Pa)
            .value;
    const double u = 20 + 15 * std::clamp((state.temperature_K - kIcePoint_K - 60) / 20, 0.0, 1.0);
    const double viscosity_Pa_s =
        viscosity.viscosity_mm2_s(state.temperature_K) * 1e-6 * density_1_atm;
    return {.sound_speed_m_s = Estimate{std::sqrt(bulk_modulus_Pa / compressed_kg_m3), u},
            .density_kg_m3 = relative(compressed_kg_m3, density_relative_u),
            .viscosity_Pa_s = viscosity_under_pressure_Pa_s(
                relative(viscosity_Pa_s, viscosity_relative_u), state.pressure_Pa)};
  }
};

std::shared_ptr<const LiquidModel> make_by_rule(const MineralOil& oil, double density_relative_u,
                                                double viscosity_relative_u, std::string name,
                                                std::string source) {
  require_between(oil.viscosity_40_degC_mm2_s, 2, 2000, "mineral oil: mm2/s at 40 degC");
  require_between(oil.viscosity_100_degC_mm2_s, 1, oil.viscosity_40_degC_mm2_s,
                  "mineral oil: mm2/s at 100 degC");
  require_between(oil.density_15_degC_kg_m3, 700, 1050, "mineral oil: kg/m3 at 15 degC");
  const astm_d341::ViscosityLine line({kIcePoint_K + 40, oil.viscosity_40_degC_mm2_s},
                                      {kIcePoint_K + 100, oil.viscosity_100_degC_mm2_s});
  const double viscosity_20_degC_mm2_s = line.viscosity_mm2_s(kIcePoint_K + 20);
  require_between(viscosity_20_degC_mm2_s, 2, 1e5, "mineral oil: mm2/s at 20 degC, of the line");
  // Thick oils are viscoelastic and lose less than their viscosity says; both K from memory.
  const double factor_K = oil.viscosity_40_degC_mm2_s > 200 ? 1.5 : 2;
  return make_correlated_liquid(
      {.name = std::move(name),
       .source = std::move(source),
       .range = range_degC(0, 100),
       .properties = MineralOilByRule{oil.density_15_degC_kg_m3, line, viscosity_20_degC_mm2_s,
                                      density_relative_u, viscosity_relative_u},
       .absorption = AbsorptionRule{.factor_K = factor_K},
       .saturation_pressure_Pa = nullptr,
       .freezing_temperature_K = std::nullopt});
}

// ISO 3448 grades with the viscosity at 100 degC that makes the viscosity index of ASTM D2270 95,
// and typical densities (from memory).
constexpr MineralOil kIsoVgOils[] = {{10, 2.64, 845},  {15, 3.38, 853},  {22, 4.25, 860},
                                     {32, 5.29, 865},  {46, 6.64, 870},  {68, 8.53, 876},
                                     {100, 11.1, 882}, {150, 14.5, 887}, {220, 18.8, 891},
                                     {320, 24.0, 896}, {460, 30.3, 900}};

// A fuel of one composition: speed of sound by a line, density by ASTM D1250, viscosity by ASTM
// D341, which below 2 mm2/s serves as a smooth curve through two points and no more.
struct TypicalFuel {
  SoundSpeedLine sound_speed;
  Product product;
  Estimate density_15_degC_kg_m3;
  std::optional<astm_d341::ViscosityLine> viscosity;
  LiquidProperties operator()(const LiquidState& state) const {
    const Estimate c = sound_speed.at(state);
    const double density =
        astm_d1250::density_kg_m3(product, density_15_degC_kg_m3.value, state.temperature_K);
    LiquidProperties out;
    out.sound_speed_m_s = c;
    out.density_kg_m3 =
        compressed_density_kg_m3({density, density_15_degC_kg_m3.u}, c.value, state.pressure_Pa);
    if (viscosity) {
      const double mu = viscosity->viscosity_mm2_s(state.temperature_K) * 1e-6 * density;
      out.viscosity_Pa_s = viscosity_under_pressure_Pa_s(relative(mu, 0.3), state.pressure_Pa);
    }
    return out;
  }
};

// Batzle and Wang's equation as a line, with the pressure slope it has at `at_degC`.
SoundSpeedLine batzle_wang_line(double specific_gravity, double at_degC, double u_m_s,
                                double slope_u_m_s_K) {
  constexpr double kAtmosphere_Pa = 101325;
  const auto c_m_s = [&](double pressure_Pa) {
    return batzle_wang::dead_oil_sound_speed_m_s(specific_gravity, at_degC + kIcePoint_K,
                                                 pressure_Pa);
  };
  return {.sound_speed_m_s = {c_m_s(kAtmosphere_Pa), u_m_s},
          .at_degC = at_degC,
          .slope_m_s_K = {-3.7, slope_u_m_s_K},
          .pressure_slope_m_s_MPa = c_m_s(kAtmosphere_Pa + 1e6) - c_m_s(kAtmosphere_Pa)};
}

std::shared_ptr<const LiquidModel> make_typical(std::string name, std::string source,
                                                const ValidRange& range, TypicalFuel fuel,
                                                std::optional<AbsorptionRule> absorption) {
  return make_correlated_liquid({.name = std::move(name),
                                 .source = std::move(source),
                                 .range = range,
                                 .properties = std::move(fuel),
                                 .absorption = absorption,
                                 .saturation_pressure_Pa = nullptr,
                                 .freezing_temperature_K = std::nullopt});
}

astm_d341::ViscosityLine viscosity_line(double one_degC, double one_mm2_s, double other_degC,
                                        double other_mm2_s) {
  return {{one_degC + kIcePoint_K, one_mm2_s}, {other_degC + kIcePoint_K, other_mm2_s}};
}

}  // namespace

double specific_gravity(double api_gravity) {
  require_between(api_gravity, -10, 100, "API gravity in degrees");
  return 141.5 / (api_gravity + 131.5);
}

namespace batzle_wang {

double dead_oil_compression(double specific_gravity, double pressure_Pa) {
  require_batzle_wang(specific_gravity, 300, pressure_Pa);
  const double P = pressure_Pa / 1e6, rho0 = specific_gravity;
  const double rho_P =
      rho0 + (0.00277 * P - 1.71e-7 * P * P * P) * (rho0 - 1.15) * (rho0 - 1.15) + 3.49e-4 * P;
  return rho_P / rho0;
}

double dead_oil_density_kg_m3(double specific_gravity, double temperature_K, double pressure_Pa) {
  require_batzle_wang(specific_gravity, temperature_K, pressure_Pa);
  // At 255.37 K (0 degF) the power ends, and with it the expansion.
  const double above_0_degF = std::max(0.0, temperature_K - kIcePoint_K + 17.78);
  return 1000 * specific_gravity * dead_oil_compression(specific_gravity, pressure_Pa) /
         (0.972 + 3.81e-4 * std::pow(above_0_degF, 1.175));
}

double dead_oil_sound_speed_m_s(double specific_gravity, double temperature_K, double pressure_Pa) {
  require_batzle_wang(specific_gravity, temperature_K, pressure_Pa);
  const double T = temperature_K - kIcePoint_K, P = pressure_Pa / 1e6, rho0 = specific_gravity;
  return 2096 * std::sqrt(rho0 / (2.6 - rho0)) - 3.7 * T + 4.64 * P +
         0.0115 * (4.12 * std::sqrt(1.08 / rho0 - 1) - 1) * T * P;
}

}  // namespace batzle_wang

double beggs_robinson::dead_oil_viscosity_Pa_s(double api_gravity, double temperature_K) {
  require_between(api_gravity, 16, 58, "Beggs-Robinson dead oil: API gravity in degrees");
  require_between(temperature_K, k60degF_K - 1e-9, 450,
                  "Beggs-Robinson dead oil: temperature in K");
  const double T_degF = (temperature_K - kIcePoint_K) * 1.8 + 32;
  const double x = std::pow(T_degF, -1.163) * std::exp(6.9824 - 0.04658 * api_gravity);
  return 1e-3 * (std::pow(10, x) - 1);
}

double astm_d1250::density_kg_m3(Product product, double density_15_degC_kg_m3,
                                 double temperature_K) {
  require_between(density_15_degC_kg_m3, 600, 1100, "ASTM D1250: kg/m3 at 15 degC");
  require_between(temperature_K, 220, 430, "ASTM D1250: temperature in K");
  struct Constants {
    double K0, K1;
  };
  const auto [K0, K1] = [product]() -> Constants {
    switch (product) {
      case Product::crude:
        return {613.9723, 0};
      case Product::gasoline:
        return {346.4228, 0.4388};
      case Product::jet:
        return {594.5418, 0};
      case Product::fuel_oil:
        return {186.9696, 0.4862};
      case Product::lubricating_oil:
        return {0, 0.6278};
    }
    throw std::invalid_argument("ASTM D1250: no such product");
  }();
  const double rho15 = density_15_degC_kg_m3;
  const double a_dt = (K0 / rho15 + K1) / rho15 * (temperature_K - kIcePoint_K - 15);
  return rho15 * std::exp(-a_dt * (1 + 0.8 * a_dt));
}

double mineral_oil_rule::bulk_modulus_Pa(double viscosity_20_degC_mm2_s, double temperature_K,
                                         double pressure_Pa) {
  require_between(viscosity_20_degC_mm2_s, 2, 1e5, "mineral oil rule: mm2/s at 20 degC");
  const double t = temperature_K - kIcePoint_K;
  require_between(t, -50, 150, "mineral oil rule: temperature in degC");
  require_between(pressure_Pa, 0, 100e6, "mineral oil rule: pressure in Pa");
  constexpr double kPascal_bar = 1e5;
  return kPascal_bar * (1.57 + 0.15 * std::log10(viscosity_20_degC_mm2_s)) * 1e4 *
             std::pow(10, 0.0024 * (20 - t)) +
         5.6 * pressure_Pa;
}

std::shared_ptr<const LiquidModel> make_crude_oil(double api_gravity) {
  require_between(api_gravity, 10, 50, "crude oil: API gravity in degrees");
  return make_correlated_liquid(
      {.name = fmt::format("crude oil of {:.4g} API", api_gravity),
       .source = "speed of sound Batzle and Wang 1992, density ASTM D1250, viscosity Beggs and "
                 "Robinson 1975; for dead oil (no gas)",
       .range = range_degC(0, 100, 20),
       .properties = CrudeOil{api_gravity},
       .absorption = AbsorptionRule{},
       .saturation_pressure_Pa = nullptr,
       .freezing_temperature_K = std::nullopt});
}

std::shared_ptr<const LiquidModel> make_mineral_oil(const MineralOil& oil) {
  return make_by_rule(oil, 0.005, 0.1, "mineral oil",
                      "speed of sound: mineral oil rule from memory; density ASTM D1250 and "
                      "viscosity ASTM D341 from data of the oil");
}

MineralOil iso_vg_oil(int grade) {
  for (const MineralOil& oil : kIsoVgOils) {
    if (oil.viscosity_40_degC_mm2_s == grade) return oil;
  }
  throw std::invalid_argument(
      fmt::format("mineral oil: ISO VG {} is not one of the grades 10, 15, 22, 32, 46, 68, 100, "
                  "150, 220, 320, 460",
                  grade));
}

std::shared_ptr<const LiquidModel> make_iso_vg_oil(int grade) {
  return make_by_rule(iso_vg_oil(grade), 0.012, 0.15, fmt::format("mineral oil ISO VG {}", grade),
                      "mineral oil rule for the speed of sound, viscosity index 95 and typical "
                      "density, all from memory; ASTM D1250 and D341");
}

std::shared_ptr<const LiquidModel> make_transformer_oil() {
  return make_by_rule({.viscosity_40_degC_mm2_s = 9.5,
                       .viscosity_100_degC_mm2_s = 2.3,
                       .density_15_degC_kg_m3 = 878},
                      0.012, 0.15, "transformer oil",
                      "mineral oil rule for the speed of sound, typical viscosity and density, all "
                      "from memory; ASTM D1250 and D341");
}

std::shared_ptr<const LiquidModel> make_lubricating_oil() {
  // The pressure slope is that of the mineral oil rule, 5.6 K / (2 rho c) less the compression.
  return make_typical("lubricating oil",
                      "speed of sound: handbook list value at 25 degC, slope and density from "
                      "memory; name the ISO VG grade to have the viscosity",
                      range_degC(0, 100),
                      {.sound_speed = {.sound_speed_m_s = {1461, 25},
                                       .at_degC = 25,
                                       .slope_m_s_K = {-3.5, 0.3},
                                       .pressure_slope_m_s_MPa = 1.8},
                       .product = Product::lubricating_oil,
                       .density_15_degC_kg_m3 = {880, 13},
                       .viscosity = std::nullopt},
                      std::nullopt);
}

std::shared_ptr<const LiquidModel> make_fuel(Fuel fuel) {
  switch (fuel) {
    case Fuel::gasoline:
      // By volume 25 % isooctane, 20 % heptane, 10 % hexane, 10 % pentane and 35 % toluene, in
      // which the speed of sound is close to linear; so is the pressure slope (judged).
      return make_typical(
          "gasoline",
          "speed of sound: mix of measured hydrocarbons; density ASTM D1250, typical "
          "density and viscosity from memory",
          range_degC(-20, 50),
          {.sound_speed = {.sound_speed_m_s = {1182, 30},
                           .at_degC = 20,
                           .slope_m_s_K = {-4.3, 0.2},
                           .pressure_slope_m_s_MPa = 6.5},
           .product = Product::gasoline,
           .density_15_degC_kg_m3 = {745, 18},
           .viscosity = viscosity_line(20, 0.74, 40, 0.62)},
          AbsorptionRule{.factor_K = 5});  // judged: alkanes 3, aromatics 10
    case Fuel::kerosene:
      return make_typical(
          "kerosene",
          "speed of sound: two handbook lists, slope from memory; density ASTM D1250, "
          "typical density and viscosity from memory",
          range_degC(-30, 60),
          {.sound_speed = {.sound_speed_m_s = {1324, 20},
                           .at_degC = 25,
                           .slope_m_s_K = {-3.7, 0.3},
                           .pressure_slope_m_s_MPa = 6},
           .product = Product::jet,
           .density_15_degC_kg_m3 = {805, 16},
           .viscosity = viscosity_line(-20, 6, 40, 1.4)},
          AbsorptionRule{.factor_K = 4});  // judged, as diesel
    case Fuel::diesel:
      return make_typical(
          "diesel",
          "speed of sound Batzle and Wang 1992; density ASTM D1250, typical density "
          "and viscosity from memory",
          range_degC(-10, 80),
          {.sound_speed = batzle_wang_line(0.8345, 20, 20, 0.2),
           .product = Product::fuel_oil,
           .density_15_degC_kg_m3 = {835, 17},
           .viscosity = viscosity_line(20, 5, 40, 3.1)},
          AbsorptionRule{.factor_K = 4});  // judged
    case Fuel::heavy_fuel_oil:
      return make_typical("heavy fuel oil",
                          "speed of sound Batzle and Wang 1992 for 975 kg/m3, wide; density ASTM "
                          "D1250, from memory; viscosity: the grade decides, enter it",
                          range_degC(20, 130),
                          {.sound_speed = batzle_wang_line(0.975, 50, 40, 0.3),
                           .product = Product::fuel_oil,
                           .density_15_degC_kg_m3 = {975, 20},
                           .viscosity = std::nullopt},
                          std::nullopt);
    case Fuel::biodiesel:
      // The density constants of fuel oil fall as the fatty esters do, within 0.1 % at 80 degC.
      return make_typical("biodiesel",
                          "speed of sound and density: fatty esters of soy by Huber et al. 2009; "
                          "viscosity from memory",
                          range_degC(10, 80),
                          {.sound_speed = {.sound_speed_m_s = {1340, 12},
                                           .at_degC = 40,
                                           .slope_m_s_K = {-3.4, 0.1},
                                           .pressure_slope_m_s_MPa = 3.6},
                           .product = Product::fuel_oil,
                           .density_15_degC_kg_m3 = {884, 9},
                           .viscosity = viscosity_line(20, 6.7, 40, 4.1)},
                          AbsorptionRule{});
  }
  throw std::invalid_argument("fuel: no such fuel");
}

}  // namespace slantrule
