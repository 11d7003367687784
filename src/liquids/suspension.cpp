#include "slantrule/liquids/suspension.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <string_view>

#include <fmt/format.h>

namespace slantrule {
namespace {

constexpr double kDecibelPerNeper = 20 / std::numbers::ln10;  // 8.686

void require_above_0(std::string_view what, double value) {
  if (!(value > 0 && std::isfinite(value))) {
    throw std::invalid_argument(fmt::format("suspension: {} is {}", what, value));
  }
}

}  // namespace

double suspension_loss_dB_m(const Suspension& in, double frequency_Hz) {
  if (!(in.volume_fraction >= 0 && in.volume_fraction <= 0.5)) {
    throw std::invalid_argument(
        fmt::format("suspension: volume fraction is {}, not in 0 to 0.5", in.volume_fraction));
  }
  require_above_0("grain radius in m", in.grain_radius_m);
  require_above_0("density of the grains in kg/m3", in.grain_density_kg_m3);
  require_above_0("density of the liquid in kg/m3", in.liquid_density_kg_m3);
  require_above_0("speed of sound in m/s", in.liquid_sound_speed_m_s);
  require_above_0("kinematic viscosity in m2/s", in.kinematic_viscosity_m2_s);
  require_above_0("frequency in Hz", frequency_Hz);

  const double a = in.grain_radius_m;
  const double k = 2 * std::numbers::pi * frequency_Hz / in.liquid_sound_speed_m_s;
  const double ba = a * std::sqrt(std::numbers::pi * frequency_Hz / in.kinematic_viscosity_m2_s);
  const double g = in.grain_density_kg_m3 / in.liquid_density_kg_m3;
  const double s = 9 / (4 * ba) * (1 + 1 / ba);
  const double tau = 0.5 + 9 / (4 * ba);
  const double scattering = std::min(k * k * k * k * a * a * a / 6, 3 / (4 * a));
  const double friction = k * (g - 1) * (g - 1) * s / (2 * (s * s + (g + tau) * (g + tau)));
  return kDecibelPerNeper * in.volume_fraction * (scattering + friction);
}

}  // namespace slantrule
