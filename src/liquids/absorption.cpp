#include "slantrule/liquids/absorption.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <numbers>
#include <stdexcept>
#include <string_view>

#include <fmt/format.h>

#include "slantrule/liquids/water.hpp"

namespace slantrule {
namespace {

constexpr double kDecibelPerNeper = 20 / std::numbers::ln10;  // 8.686
constexpr double kReferenceFrequency_Hz = 1e6;

void require(bool holds, std::string_view what, double value) {
  if (!holds) throw std::invalid_argument(fmt::format("absorption: {} is {}", what, value));
}

void require_above_0(std::string_view what, double value) {
  require(value > 0 && std::isfinite(value), what, value);
}

template <std::size_t size>
double polynomial(const double (&coefficients)[size], double x) {
  double sum = 0;
  for (auto c = std::rbegin(coefficients); c != std::rend(coefficients); ++c) sum = sum * x + *c;
  return sum;
}

// The two routes for water, and where one gives way to the other.
constexpr double kBlendFrom_degC = 40;
constexpr double kBlendTo_degC = 60;

double water_shear_dB_m(double temperature_K, double frequency_Hz) {
  const double pressure_Pa = std::max(1e5, if97::saturation_pressure_Pa(temperature_K));
  const double density_kg_m3 = if97::region1_density_kg_m3(temperature_K, pressure_Pa);
  const double sound_speed_m_s =
      iapws95::at_pressure(temperature_K, pressure_Pa, density_kg_m3).sound_speed_m_s;
  return shear_absorption_dB_m(
      density_kg_m3, sound_speed_m_s,
      iapws_viscosity::dynamic_viscosity_Pa_s(temperature_K, density_kg_m3), frequency_Hz);
}

}  // namespace

double shear_absorption_dB_m(double density_kg_m3, double sound_speed_m_s, double viscosity_Pa_s,
                             double frequency_Hz) {
  require_above_0("density in kg/m3", density_kg_m3);
  require_above_0("speed of sound in m/s", sound_speed_m_s);
  require_above_0("viscosity in Pa s", viscosity_Pa_s);
  require_above_0("frequency in Hz", frequency_Hz);
  const double omega = 2 * std::numbers::pi * frequency_Hz;
  const double c3 = sound_speed_m_s * sound_speed_m_s * sound_speed_m_s;
  return kDecibelPerNeper * omega * omega / (2 * density_kg_m3 * c3) * (4.0 / 3) * viscosity_Pa_s;
}

Absorption stokes_absorption(double density_kg_m3, double sound_speed_m_s, double viscosity_Pa_s,
                             double factor, double relative_u) {
  require_above_0("factor on the shear part", factor);
  require(relative_u >= 0 && std::isfinite(relative_u), "relative uncertainty", relative_u);
  return {.dB_m = factor * shear_absorption_dB_m(density_kg_m3, sound_speed_m_s, viscosity_Pa_s,
                                                 kReferenceFrequency_Hz),
          .at_Hz = kReferenceFrequency_Hz,
          .power = 2,
          .relative_u = relative_u};
}

double pinkerton_absorption_Np_s2_m(double temperature_degC) {
  require(temperature_degC >= -20.000001 && temperature_degC <= 60.000001, "temperature in degC",
          temperature_degC);
  // As an open acoustics toolbox carries it.
  constexpr double kCoefficients[] = {
      56.723531840522710,   -2.899633796917384,    0.099253401567561,      -0.002067502501557,
      2.189417428917596e-5, -6.210860973978427e-8, -6.402634551821596e-10, 3.869387679459408e-12};
  return 1e-15 * polynomial(kCoefficients, temperature_degC);
}

double francois_garrison_absorption_Np_s2_m(double temperature_degC) {
  require(temperature_degC >= 0 && temperature_degC <= 90.000001, "temperature in degC",
          temperature_degC);
  constexpr double kCool[] = {4.937e-4, -2.590e-5, 9.11e-7, -1.50e-8};
  constexpr double kWarm[] = {3.964e-4, -1.146e-5, 1.45e-7, -6.5e-10};
  const double dB_km_kHz2 = polynomial(temperature_degC <= 20 ? kCool : kWarm, temperature_degC);
  return dB_km_kHz2 * 1e-3 * 1e-6 / kDecibelPerNeper;
}

double water_absorption_dB_m(double temperature_K, double frequency_Hz) {
  require(temperature_K >= 253.15 && temperature_K <= 623.15, "temperature of water in K",
          temperature_K);
  require_above_0("frequency in Hz", frequency_Hz);
  const double t = temperature_K - 273.15;
  const double x = std::clamp((t - kBlendFrom_degC) / (kBlendTo_degC - kBlendFrom_degC), 0.0, 1.0);
  const double share = x * x * (3 - 2 * x);  // of the shear route; its slope is 0 at both ends
  double dB_m = 0;
  if (share < 1) {
    dB_m += (1 - share) * kDecibelPerNeper * frequency_Hz * frequency_Hz *
            pinkerton_absorption_Np_s2_m(t);
  }
  if (share > 0) {
    dB_m += share * water_absorption_factor * water_shear_dB_m(temperature_K, frequency_Hz);
  }
  return dB_m;
}

}  // namespace slantrule
