#include "slantrule/hydraulics/pipe_flow.hpp"

#include <cmath>
#include <numbers>
#include <stdexcept>

#include <fmt/format.h>

namespace slantrule {
namespace {

constexpr double kLaminarBelow = 2000;
constexpr double kTransitionUpTo = 4000;
constexpr double kSettledFrom = 10000;
constexpr double kRoughestPipe = 0.1;

constexpr double kLaminarProfileFactor = 0.75;

constexpr double kRelativeU = 0.005;
constexpr double kRelativeUBelowSettled = 0.01;

void require(bool holds, const char* name, double value, const char* range) {
  if (!holds)
    throw std::invalid_argument(fmt::format("{} is {}; it must be {}", name, value, range));
}

void require_reynolds(double reynolds) {
  require(reynolds >= 0 && std::isfinite(reynolds), "Reynolds number", reynolds, "finite and >= 0");
}

void require_roughness(double relative_roughness) {
  require(relative_roughness >= 0 && relative_roughness <= kRoughestPipe, "relative roughness",
          relative_roughness, "from 0 to 0.1");
}

// With x = 1/sqrt(f), a = (e/D)/3.7 and b = 2.51/Re the Colebrook equation reads
// g(x) = x + 2 log10(a + b x) = 0; g rises and bends one way only, so Newton's method cannot miss.
// The natural logarithm takes a third of the time of log10.
double colebrook_friction_factor(double reynolds, double relative_roughness) {
  const double a = relative_roughness / 3.7;
  const double b = 2.51 / reynolds;
  constexpr double two_by_ln_10 = 2 * std::numbers::log10e;
  // Haaland's formula (from memory), within 2 % of the root.
  double x = -1.8 * std::log10(std::pow(a, 1.11) + 6.9 / reynolds);
  for (int i = 0; i < 10; ++i) {
    const double inside = a + b * x;
    const double step = (x + two_by_ln_10 * std::log(inside)) / (1 + two_by_ln_10 * b / inside);
    x -= step;
    if (std::abs(step) <= 1e-9 * x) break;  // what is left is less than the square of that
  }
  return 1 / (x * x);
}

double turbulent_profile_factor(double reynolds, double relative_roughness) {
  const double f = colebrook_friction_factor(reynolds, relative_roughness);
  return 1 / (1 + 1.25 * std::sqrt(f / 8));
}

ProfileFactor with_relative_u(double value, double relative_u) {
  const double u = relative_u * value;
  return {.value = value, .low = value - 2 * u, .high = value + 2 * u, .u = u};
}

}  // namespace

double reynolds_number(const ReynoldsInputs& in) {
  require(std::isfinite(in.velocity_m_s), "velocity in m/s", in.velocity_m_s, "finite");
  require(in.bore_m > 0 && std::isfinite(in.bore_m), "bore in m", in.bore_m, "finite and > 0");
  require(in.kinematic_viscosity_m2_s > 0 && std::isfinite(in.kinematic_viscosity_m2_s),
          "kinematic viscosity in m2/s", in.kinematic_viscosity_m2_s, "finite and > 0");
  const double reynolds = std::abs(in.velocity_m_s) * in.bore_m / in.kinematic_viscosity_m2_s;
  require_reynolds(reynolds);
  return reynolds;
}

FlowRegime flow_regime(double reynolds) {
  require_reynolds(reynolds);
  if (reynolds < kLaminarBelow) return FlowRegime::laminar;
  return reynolds <= kTransitionUpTo ? FlowRegime::transition : FlowRegime::turbulent;
}

double darcy_friction_factor(double reynolds, double relative_roughness) {
  require(reynolds > 0 && std::isfinite(reynolds), "Reynolds number", reynolds, "finite and > 0");
  require_roughness(relative_roughness);
  return flow_regime(reynolds) == FlowRegime::laminar
             ? 64 / reynolds
             : colebrook_friction_factor(reynolds, relative_roughness);
}

ProfileFactor profile_factor(double reynolds, double relative_roughness) {
  require_reynolds(reynolds);
  require_roughness(relative_roughness);
  switch (flow_regime(reynolds)) {
    case FlowRegime::laminar:
      return with_relative_u(kLaminarProfileFactor, kRelativeU);
    case FlowRegime::transition: {
      const double low = kLaminarProfileFactor;
      const double high = turbulent_profile_factor(kTransitionUpTo, relative_roughness);
      return {.value = (low + high) / 2,
              .low = low,
              .high = high,
              .u = (high - low) / 2 / std::numbers::sqrt3};
    }
    case FlowRegime::turbulent:
      break;
  }
  return with_relative_u(turbulent_profile_factor(reynolds, relative_roughness),
                         reynolds < kSettledFrom ? kRelativeUBelowSettled : kRelativeU);
}

double profile_factor_log10(double reynolds) {
  require(reynolds >= kTransitionUpTo && std::isfinite(reynolds), "Reynolds number", reynolds,
          "finite and >= 4000");
  return 1 / (1.119 - 0.011 * std::log10(reynolds));
}

double laminar_development_length_D(double reynolds) {
  require(reynolds >= 0 && reynolds <= kLaminarBelow, "Reynolds number", reynolds,
          "from 0 to 2000");
  return 0.06 * reynolds;
}

}  // namespace slantrule
