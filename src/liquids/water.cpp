#include "slantrule/liquids/water.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <stdexcept>
#include <string_view>

#include <fmt/format.h>

#include "slantrule/liquids/absorption.hpp"

namespace slantrule {
namespace {

constexpr ValidRange kValid{
    .lowest_temperature_K = 273.15, .highest_temperature_K = 623.15, .highest_pressure_Pa = 100e6};

// Where the equations still run smoothly: supercooled water down to the limit of IAPWS SR6-08, and
// IAPWS-95 up to its own limit of 1000 MPa.
constexpr double kLowestTemperature_K = 253.15;
constexpr double kHighestPressure_Pa = 1000e6;

constexpr double kCriticalTemperature_K = 647.096;

// IAPWS R14-08(2011), ice Ih: p / p_t = 1 + sum a (1 - theta^b), theta = T / 273.16 K. Coefficients
// from memory; they give the release's check value (138.268 MPa at 260 K) and its triple point with
// ice III (208.566 MPa at 251.165 K), both from memory too, and the slope of Clausius and
// Clapeyron.
struct MeltingTerm {
  double a, b;
};
constexpr MeltingTerm kMelting[] = {
    {0.119539337e7, 0.300000e1}, {0.808183159e5, 0.257500e2}, {0.333826860e4, 0.103750e3}};
constexpr double kTriplePointTemperature_K = 273.16;
constexpr double kTriplePointPressure_Pa = 611.657;
constexpr double kHighestIce1hPressure_Pa = 208.566e6;  // above, other kinds of ice

// Dissolved air lowers the freezing point at 1 atm by 2.5 mK to the ice point, where the equations
// begin; lower pressure is not let to raise it above.
constexpr double kIcePoint_K = 273.15;

// Newton's method on the melting line; its curve bends one way only, and starts nearly straight.
double ice1h_melting_temperature_K(double pressure_Pa) {
  double theta = 1;
  for (int i = 0; i < 20; ++i) {
    double excess = 1 - pressure_Pa / kTriplePointPressure_Pa, slope = 0;
    const double log_theta = std::log(theta);
    for (const MeltingTerm& term : kMelting) {
      const double power = std::exp(term.b * log_theta);
      excess += term.a * (1 - power);
      slope -= term.a * term.b * power / theta;
    }
    const double step = excess / slope;
    theta -= step;
    if (std::abs(step) < 1e-9) break;  // what is left is some fifty times the square of that
  }
  return theta * kTriplePointTemperature_K;
}

// See make_water for the reasons.
struct RelativeUncertainties {
  double sound_speed, density, viscosity;
};

RelativeUncertainties relative_uncertainties(double temperature_K, double pressure_Pa,
                                             double sound_speed_m_s) {
  if (temperature_K < kValid.lowest_temperature_K || pressure_Pa > kValid.highest_pressure_Pa) {
    return {.sound_speed = 0.005, .density = 0.001, .viscosity = 0.05};
  }
  constexpr double kNearAtmospheric_Pa = 0.2e6;
  constexpr double kModeratePressure_Pa = 10e6;
  const bool near_atmospheric = pressure_Pa <= kNearAtmospheric_Pa && temperature_K <= 373.15;
  const double sound_speed = near_atmospheric                      ? 0.1 / sound_speed_m_s
                             : pressure_Pa <= kModeratePressure_Pa ? 0.5 / sound_speed_m_s
                                                                   : 0.001;  // R6-95, from memory
  const double viscosity = near_atmospheric ? 0.0017 : 0.01;                 // R12-08
  return {.sound_speed = sound_speed, .density = 0.0001, .viscosity = viscosity};
}

void require(bool holds, std::string_view what, double value) {
  if (!holds) throw std::invalid_argument(fmt::format("water: {} is {}", what, value));
}

void require_temperature(double temperature_K) {
  require(temperature_K > 0 && std::isfinite(temperature_K), "temperature in K", temperature_K);
}

void require_pressure(double pressure_Pa) {
  require(pressure_Pa > 0 && std::isfinite(pressure_Pa), "absolute pressure in Pa", pressure_Pa);
}

class Water final : public LiquidModel {
 public:
  LiquidProperties at(const LiquidState& state) const override {
    const double temperature_K = state.temperature_K;
    require_temperature(temperature_K);
    require_pressure(state.pressure_Pa);
    require(state.mass_fraction == 0, "mass fraction of a dissolved part", state.mass_fraction);
    if (temperature_K < kLowestTemperature_K || temperature_K > kValid.highest_temperature_K ||
        state.pressure_Pa > kHighestPressure_Pa) {
      throw std::domain_error(fmt::format(
          "water: {:.2f} K and {:.4g} MPa is outside the equations for the liquid, {} to {} K and "
          "up to {} MPa",
          temperature_K, state.pressure_Pa / 1e6, kLowestTemperature_K,
          kValid.highest_temperature_K, kHighestPressure_Pa / 1e6));
    }

    const double pressure_Pa =
        std::max(state.pressure_Pa, if97::saturation_pressure_Pa(temperature_K));
    // Density and viscosity by IF97's density; IAPWS-95 solves for its own (4e-5 apart) to give
    // the speed of sound, of which IF97 is up to 2.9 m/s wide.
    const double density_kg_m3 = if97::region1_density_kg_m3(
        temperature_K, std::min(pressure_Pa, kValid.highest_pressure_Pa));
    const double sound_speed_m_s =
        iapws95::at_pressure(temperature_K, pressure_Pa, density_kg_m3).sound_speed_m_s;
    const double viscosity_Pa_s =
        iapws_viscosity::dynamic_viscosity_Pa_s(temperature_K, density_kg_m3);

    const RelativeUncertainties u =
        relative_uncertainties(temperature_K, pressure_Pa, sound_speed_m_s);
    return {.sound_speed_m_s = Estimate{sound_speed_m_s, u.sound_speed * sound_speed_m_s},
            .density_kg_m3 = Estimate{density_kg_m3, u.density * density_kg_m3},
            .viscosity_Pa_s = Estimate{viscosity_Pa_s, u.viscosity * viscosity_Pa_s}};
  }

  std::optional<double> saturation_pressure_Pa(double temperature_K) const override {
    require_temperature(temperature_K);
    if (temperature_K < kLowestTemperature_K || temperature_K > kCriticalTemperature_K) {
      return std::nullopt;
    }
    return if97::saturation_pressure_Pa(temperature_K);
  }

  std::optional<double> freezing_temperature_K(const LiquidState& state) const override {
    require_pressure(state.pressure_Pa);
    if (state.pressure_Pa > kHighestIce1hPressure_Pa) return std::nullopt;
    return std::min(kIcePoint_K, ice1h_melting_temperature_K(state.pressure_Pa));
  }

  std::optional<Absorption> absorption(const LiquidState& state) const override {
    return absorption_of(state, at(state));  // at: for what it throws
  }

  std::optional<Absorption> absorption_of(const LiquidState& state,
                                          const LiquidProperties& /*here*/) const override {
    constexpr double kFrequency_Hz = 1e6;
    const double t = state.temperature_K - 273.15;
    const bool measured = t >= 0 && t <= 60 && state.pressure_Pa <= 10e6;
    const bool compared = t >= 0 && t <= 100 && state.pressure_Pa <= 20e6;
    return Absorption{.dB_m = water_absorption_dB_m(state.temperature_K, kFrequency_Hz),
                      .at_Hz = kFrequency_Hz,
                      .power = 2,
                      .relative_u = measured   ? 0.05
                                    : compared ? 0.1
                                               : 0.3};
  }

  bool always_has_sound_speed() const override { return true; }

  std::optional<ValidRange> valid_range() const override { return kValid; }

  std::string_view source() const override {
    return "IAPWS R6-95(2018) for speed of sound, R7-97(2012) for density and saturation, R12-08 "
           "for viscosity";
  }
};

}  // namespace

std::shared_ptr<const LiquidModel> make_water() {
  return std::make_shared<Water>();
}

}  // namespace slantrule
