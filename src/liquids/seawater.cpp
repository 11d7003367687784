#include "slantrule/liquids/seawater.hpp"

#include <cmath>
#include <cstddef>
#include <iterator>
#include <optional>
#include <string_view>
#include <utility>

#include "slantrule/liquids/absorption.hpp"
#include "slantrule/liquids/electrolyte.hpp"
#include "slantrule/liquids/water.hpp"
#include "state_range.hpp"

namespace slantrule {

namespace {

template <std::size_t size>
constexpr double polynomial(const double (&coefficients)[size], double x) {
  double sum = 0;
  for (auto c = std::rbegin(coefficients); c != std::rend(coefficients); ++c) sum = sum * x + *c;
  return sum;
}

}  // namespace

namespace unesco1983 {

double sound_speed_m_s(const State& state) {
  const double s = state.salinity_g_kg, t = state.temperature_degC68;
  const double p = state.pressure_dbar / 10;  // bar
  const double root_s = std::sqrt(s);
  // Rows: powers of t at p^0 to p^3; eq. 34 for water, eq. 35 for the salt.
  constexpr double kC0[] = {1402.388, 5.03711, -5.80852e-2, 3.3420e-4, -1.47800e-6, 3.1464e-9};
  constexpr double kC1[] = {0.153563, 6.8982e-4, -8.1788e-6, 1.3621e-7, -6.1185e-10};
  constexpr double kC2[] = {3.1260e-5, -1.7107e-6, 2.5974e-8, -2.5335e-10, 1.0405e-12};
  constexpr double kC3[] = {-9.7729e-9, 3.8504e-10, -2.3643e-12};
  constexpr double kA0[] = {1.389, -1.262e-2, 7.164e-5, 2.006e-6, -3.21e-8};
  constexpr double kA1[] = {9.4742e-5, -1.2580e-5, -6.4885e-8, 1.0507e-8, -2.0122e-10};
  constexpr double kA2[] = {-3.9064e-7, 9.1041e-9, -1.6002e-10, 7.988e-12};
  constexpr double kA3[] = {1.100e-10, 6.649e-12, -3.389e-13};
  const double water = polynomial(
      {polynomial(kC0, t), polynomial(kC1, t), polynomial(kC2, t), polynomial(kC3, t)}, p);
  const double a = polynomial(
      {polynomial(kA0, t), polynomial(kA1, t), polynomial(kA2, t), polynomial(kA3, t)}, p);
  const double b = -1.922e-2 - 4.42e-5 * t + (7.3637e-5 + 1.7945e-7 * t) * p;
  const double d = 1.727e-3 - 7.9836e-6 * p;
  return water + a * s + b * s * root_s + d * s * s;
}

// rho = rho0 / (1 - p/K), K = K0 + A p + B p^2, p in bar.
double density_kg_m3(const State& state) {
  const double s = state.salinity_g_kg, t = state.temperature_degC68;
  const double p = state.pressure_dbar / 10;
  const double s15 = s * std::sqrt(s);
  const double rho0 =
      polynomial({999.842594, 6.793952e-2, -9.095290e-3, 1.001685e-4, -1.120083e-6, 6.536332e-9},
                 t) +
      polynomial({0.824493, -4.0899e-3, 7.6438e-5, -8.2467e-7, 5.3875e-9}, t) * s +
      polynomial({-5.72466e-3, 1.0227e-4, -1.6546e-6}, t) * s15 + 4.8314e-4 * s * s;
  const double k0 = polynomial({19652.21, 148.4206, -2.327105, 1.360477e-2, -5.155288e-5}, t) +
                    polynomial({54.6746, -0.603459, 1.09987e-2, -6.1670e-5}, t) * s +
                    polynomial({7.944e-2, 1.6483e-2, -5.3009e-4}, t) * s15;
  const double a = polynomial({3.239908, 1.43713e-3, 1.16092e-4, -5.77905e-7}, t) +
                   polynomial({2.2838e-3, -1.0981e-5, -1.6078e-6}, t) * s + 1.91075e-4 * s15;
  const double b = polynomial({8.50935e-5, -6.12293e-6, 5.2787e-8}, t) +
                   polynomial({-9.9348e-7, 2.0816e-8, 9.1697e-10}, t) * s;
  return rho0 / (1 - p / (k0 + (a + b * p) * p));
}

double freezing_temperature_degC68(double salinity_g_kg, double pressure_dbar) {
  const double s = salinity_g_kg;
  return -0.0575 * s + 1.710523e-3 * s * std::sqrt(s) - 2.154996e-4 * s * s -
         7.53e-4 * pressure_dbar;
}

}  // namespace unesco1983

namespace sharqawy2010 {

double viscosity_Pa_s(double temperature_degC, double salinity) {
  const double t = temperature_degC, s = salinity;
  const double water = 4.2844e-5 + 1 / (0.157 * (t + 64.993) * (t + 64.993) - 91.296);
  const double a = 1.541 + 1.998e-2 * t - 9.52e-5 * t * t;
  const double b = 7.974 - 7.561e-2 * t + 4.724e-4 * t * t;
  return water * (1 + a * s + b * s * s);
}

double density_kg_m3(double temperature_degC, double salinity) {
  const double t = temperature_degC;
  return polynomial({999.9, 2.034e-2, -6.162e-3, 2.261e-5, -4.657e-8}, t) +
         polynomial({802.0, -2.001, 1.677e-2, -3.060e-5}, t) * salinity;
}

}  // namespace sharqawy2010

namespace {

constexpr std::string_view kName = "seawater";
constexpr ValidRange kValid{.lowest_temperature_K = 271.15,
                            .highest_temperature_K = 393.15,
                            .highest_pressure_Pa = 100e6,
                            .lowest_mass_fraction = 0,
                            .highest_mass_fraction = 0.12};

constexpr double kAtmosphere_Pa = 101325;
constexpr double kIcePoint_K = 273.15;

// Where the UNESCO equation for the speed of sound ends.
constexpr double kHighestSalinity_g_kg = 40;
constexpr double kHighestTemperature_degC = 40;

constexpr double t68_degC(double temperature_degC) {
  return 1.00024 * temperature_degC;
}

// x up to the limit, then bent smoothly (a parabola) until it stays at limit + 2. Without this knee
// the slopes of the two routes would meet at an angle.
constexpr double levelled(double x, double limit) {
  constexpr double kKnee = 2;
  if (x <= limit) return x;
  const double over = x - limit;
  return over >= 2 * kKnee ? limit + kKnee : x - over * over / (4 * kKnee);
}

class Seawater final : public LiquidModel {
 public:
  LiquidProperties at(const LiquidState& state) const override {
    require_state(kName, state);
    const double factor = range_factor(kName, state, kValid);
    const double t = state.temperature_K - kIcePoint_K;
    const double s = 1e3 * state.mass_fraction;
    const double pressure_MPa = state.pressure_Pa / 1e6;
    const double core_t = levelled(t, kHighestTemperature_degC);
    const double core_s = levelled(s, kHighestSalinity_g_kg);
    const bool warm = t > kHighestTemperature_degC, salty = s > kHighestSalinity_g_kg;

    const unesco1983::State core{.salinity_g_kg = core_s,
                                 .temperature_degC68 = t68_degC(core_t),
                                 .pressure_dbar = (state.pressure_Pa - kAtmosphere_Pa) / 1e4};
    double sound_speed_m_s = unesco1983::sound_speed_m_s(core);
    double density_kg_m3 = unesco1983::density_kg_m3(core);
    if (warm) {
      sound_speed_m_s += water_sound_speed_m_s(t, state) - water_sound_speed_m_s(core_t, state);
    }
    if (warm || salty) {
      sound_speed_m_s += batzle_wang::salt_increment_m_s({t, pressure_MPa, state.mass_fraction}) -
                         batzle_wang::salt_increment_m_s({core_t, pressure_MPa, core_s / 1e3});
      density_kg_m3 *= sharqawy2010::density_kg_m3(t, state.mass_fraction) /
                       sharqawy2010::density_kg_m3(core_t, core_s / 1e3);
    }
    const double viscosity_Pa_s = sharqawy2010::viscosity_Pa_s(t, state.mass_fraction);

    const double u_m_s = 0.3 + 0.005 * pressure_MPa +
                         0.05 * (std::fmax(0, s - kHighestSalinity_g_kg) +
                                 std::fmax(0, t - kHighestTemperature_degC));
    const double relative_u_density = warm || salty ? 1e-3 : 2e-4;
    return {.sound_speed_m_s = Estimate{sound_speed_m_s, factor * u_m_s},
            .density_kg_m3 = Estimate{density_kg_m3, factor * relative_u_density * density_kg_m3},
            .viscosity_Pa_s = Estimate{viscosity_Pa_s, factor * 0.015 * viscosity_Pa_s}};
  }

  std::optional<double> saturation_pressure_Pa(double temperature_K) const override {
    return water_->saturation_pressure_Pa(temperature_K);
  }

  std::optional<double> freezing_temperature_K(const LiquidState& state) const override {
    require_state(kName, state);
    if (state.mass_fraction > kValid.highest_mass_fraction + RangeMargin{}.mass_fraction ||
        state.pressure_Pa > kValid.highest_pressure_Pa) {
      return std::nullopt;
    }
    return kIcePoint_K +
           unesco1983::freezing_temperature_degC68(
               1e3 * state.mass_fraction, std::fmax(0, state.pressure_Pa - kAtmosphere_Pa) / 1e4);
  }

  std::optional<Absorption> absorption(const LiquidState& state) const override {
    const LiquidProperties here = at(state);
    Absorption sum = stokes_absorption(here.density_kg_m3->value, here.sound_speed_m_s->value,
                                       here.viscosity_Pa_s->value, water_absorption_factor, 0.3);
    const double magnesium_sulfate_dB_m = 0.1 * state.mass_fraction / 0.035;
    // d ln(a f^2 + b) / d ln f at the reference frequency.
    sum.power = 2 * sum.dB_m / (sum.dB_m + magnesium_sulfate_dB_m);
    sum.dB_m += magnesium_sulfate_dB_m;
    return sum;
  }

  std::optional<ValidRange> valid_range() const override { return kValid; }

  std::string_view source() const override {
    return "UNESCO Tech. Paper 44 (Chen-Millero, EOS-80), Sharqawy 2010 viscosity; beyond 40 g/kg, "
           "40 degC: Batzle-Wang; freezing from memory";
  }

 private:
  double water_sound_speed_m_s(double temperature_degC, const LiquidState& state) const {
    return water_
        ->at({.temperature_K = temperature_degC + kIcePoint_K, .pressure_Pa = state.pressure_Pa})
        .sound_speed_m_s->value;
  }

  std::shared_ptr<const LiquidModel> water_ = make_water();
};

}  // namespace

std::shared_ptr<const LiquidModel> make_seawater() {
  return std::make_shared<Seawater>();
}

}  // namespace slantrule
