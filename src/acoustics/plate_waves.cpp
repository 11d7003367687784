#include "slantrule/acoustics/plate_waves.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

namespace slantrule {
namespace {

using Complex = std::complex<double>;
constexpr double pi = std::numbers::pi;

void require_solid(const AcousticMedium& solid) {
  if (!(solid.shear_m_s > 0 && solid.shear_m_s < solid.longitudinal_m_s)) {
    throw std::invalid_argument("a solid needs a shear speed between 0 and its longitudinal speed");
  }
}

double square(double x) {
  return x * x;
}

/// Root of an increasing function with a sign change in [low, high], to rounding: the false
/// position with the Illinois rule (an end that stays counts half), halving where that leads out.
template <typename Function>
double root_between(Function function, double low, double high) {
  double at_low = function(low), at_high = function(high);
  if (!(at_low < 0)) return low;
  if (!(at_high > 0)) return high;
  int stayed = 0;  // the end that the last step left: -1 high, 1 low
  double root = low;
  for (int step = 0; step < 100; ++step) {
    const double before = root;
    root = (low * at_high - high * at_low) / (at_high - at_low);
    if (!(root > low && root < high)) root = (low + high) / 2;
    const double here = function(root);
    if (here == 0 || std::fabs(root - before) < 1e-15 * high) break;
    if (here < 0) {
      low = root;
      at_low = here;
      if (stayed == -1) at_high /= 2;
      stayed = -1;
    } else {
      high = root;
      at_high = here;
      if (stayed == 1) at_low /= 2;
      stayed = 1;
    }
  }
  return root;
}

// With y = frequency x thickness, G = (1 - 2 b^2 p^2)^2 and K = 4 b^4 p^2 |qL| qS the Rayleigh-Lamb
// equations are
//     p > 1/cL:  tan(pi y qS) =  (K/G) tanh(pi y |qL|)  symmetric
//                tan(pi y qS) = -(G/K) tanh(pi y |qL|)  antisymmetric
//     p < 1/cL:  sin(pi y (qS + qL)) = -+ r sin(pi y (qS - qL)),  r = (G - K)/(G + K)
// Each branch of the arc tangent or arc sine holds one root; `lean` below is how far it stands from
// the branch's middle, as a phase within +-pi/2.
struct Dispersion {
  double sum;        // qS + qL, or qS alone beyond the longitudinal critical angle
  double other;      // qS - qL, or |qL|
  double g_squared;  // G
  double coupling;   // K
  bool evanescent;   // longitudinal part

  Dispersion(const AcousticMedium& solid, double p) {
    const double shear = 1 / solid.shear_m_s, longitudinal = 1 / solid.longitudinal_m_s;
    const double b2p2 = square(solid.shear_m_s * p);
    const double q_shear = std::sqrt((shear - p) * (shear + p));
    const double q_long = std::sqrt(std::fabs((longitudinal - p) * (longitudinal + p)));
    evanescent = p > longitudinal;
    sum = evanescent ? q_shear : q_shear + q_long;
    other = evanescent ? q_long : q_shear - q_long;
    g_squared = square(1 - 2 * b2p2);
    coupling = 4 * b2p2 * square(solid.shear_m_s) * q_long * q_shear;
  }

  double lean(PlateSymmetry symmetry, int branch, double y) const {
    const bool even = symmetry == PlateSymmetry::symmetric;
    if (evanescent) {
      const double fall = std::tanh(pi * y * other);
      return even ? std::atan2(coupling * fall, g_squared)
                  : -std::atan2(g_squared * fall, coupling);
    }
    const double r = (g_squared - coupling) / (g_squared + coupling);
    const double turned = std::asin(std::clamp(r * std::sin(pi * y * other), -1.0, 1.0));
    return (branch % 2 == 0) == even ? -turned : turned;
  }

  /// S0 stands in branch 0 of the symmetric waves while the trace speed is below the plate speed.
  int first_branch(PlateSymmetry symmetry) const {
    const bool s0 =
        symmetry == PlateSymmetry::symmetric && evanescent && coupling * other > g_squared * sum;
    return s0 ? 0 : 1;
  }

  double root(PlateSymmetry symmetry, int branch) const {
    const auto excess = [&](double y) {
      return pi * y * sum - branch * pi - lean(symmetry, branch, y);
    };
    // In branch 0 the equation also holds at y = 0, so start a little above.
    const double low = branch == 0 ? 1e-6 / sum : (branch - 0.5) / sum;
    return root_between(excess, low, (branch + 0.5) / sum);
  }

  double mean_spacing() const { return 1 / (2 * sum); }
};

bool rays_run(const AcousticMedium& solid, double p) {
  return solid.shear_m_s > 0 && solid.shear_m_s < solid.longitudinal_m_s && p >= 0 &&
         p * solid.shear_m_s < 1;
}

}  // namespace

double rayleigh_speed_m_s(const AcousticMedium& solid) {
  require_solid(solid);
  const double k = square(solid.shear_m_s / solid.longitudinal_m_s);
  const auto cubic = [k](double x) { return ((x - 8) * x + 24 - 16 * k) * x - 16 * (1 - k); };
  return solid.shear_m_s * std::sqrt(root_between(cubic, 0, 1));
}

double plate_speed_m_s(const AcousticMedium& solid) {
  require_solid(solid);
  return 2 * solid.shear_m_s * std::sqrt(1 - square(solid.shear_m_s / solid.longitudinal_m_s));
}

std::complex<double> leaky_rayleigh_slowness_s_m(const AcousticMedium& solid,
                                                 const AcousticMedium& liquid) {
  const double b2 = square(solid.shear_m_s);
  const auto impedances = [&](Complex p) {
    // Bound to the solid's surface, radiating into the liquid.
    const auto bound = [p](double speed) {
      return Complex{0, 1} * std::sqrt(p * p - 1 / (speed * speed));
    };
    const Complex q_long = bound(solid.longitudinal_m_s), q_shear = bound(solid.shear_m_s);
    const Complex q_liquid = std::sqrt(1 / square(liquid.longitudinal_m_s) - p * p);
    const Complex g = 1.0 - 2 * b2 * p * p;
    const Complex rayleigh = g * g + 4 * b2 * b2 * p * p * q_long * q_shear;
    return solid.density_kg_m3 * rayleigh / q_long + liquid.density_kg_m3 / q_liquid;
  };
  // The secant method from the Rayleigh wave of the bare wall.
  Complex before = 1 / rayleigh_speed_m_s(solid);
  Complex now = before * Complex{1, 1e-3};
  Complex value_before = impedances(before);
  for (int iteration = 0; iteration < 50; ++iteration) {
    const Complex value = impedances(now);
    if (value == value_before) break;
    const Complex next = now - value * (now - before) / (value - value_before);
    before = now;
    value_before = value;
    now = next;
    if (std::abs(now - before) < 1e-15 * std::abs(now)) break;
  }
  return now;
}

std::optional<PlateRoot> plate_root(const AcousticMedium& solid, double ray_parameter_s_m,
                                    PlateSymmetry symmetry, int number) {
  if (!rays_run(solid, ray_parameter_s_m) || number < 1) return std::nullopt;
  const Dispersion dispersion(solid, ray_parameter_s_m);
  const int branch = dispersion.first_branch(symmetry) + number - 1;
  return PlateRoot{symmetry, number, dispersion.root(symmetry, branch)};
}

std::optional<NearestPlateRoot> nearest_plate_root(const AcousticMedium& solid,
                                                   double ray_parameter_s_m,
                                                   double frequency_thickness_Hz_m) {
  if (!rays_run(solid, ray_parameter_s_m)) return std::nullopt;
  const Dispersion dispersion(solid, ray_parameter_s_m);
  const int here = static_cast<int>(std::lround(frequency_thickness_Hz_m * dispersion.sum));
  NearestPlateRoot nearest{{}, 0, dispersion.mean_spacing()};
  bool found = false;
  for (PlateSymmetry symmetry : {PlateSymmetry::symmetric, PlateSymmetry::antisymmetric}) {
    const int first = dispersion.first_branch(symmetry);
    // A root stands within half a branch of its branch's middle.
    for (int branch = std::max(first, here - 1); branch <= std::max(first, here + 1); ++branch) {
      const double root = dispersion.root(symmetry, branch);
      const double distance = frequency_thickness_Hz_m - root;
      if (found && std::fabs(distance) >= std::fabs(nearest.distance_Hz_m)) continue;
      nearest.root = {symmetry, branch - first + 1, root};
      nearest.distance_Hz_m = distance;
      found = true;
    }
  }
  return nearest;
}

WallIndicators wall_echo_indicators(const SoundPath& path, const RayPath& ray, std::size_t layer) {
  const PathLayer& wall = path.layers[layer];
  const double c = wall.sound_speed_m_s();
  const double angle = ray.layer_legs[layer].angle_rad;
  WallIndicators found{};
  found.frequency_thickness_Hz_m = path.frequency_Hz * wall.thickness_m;
  found.delay_s = 2 * wall.thickness_m * std::cos(angle) / c;
  found.delay_per_burst = found.delay_s * path.frequency_Hz / path.cycles;
  found.footprint_ratio =
      2 * ray.layer_legs[layer].run_m / (path.element_m / std::cos(path.wedge_angle_rad));
  found.wavelengths = found.frequency_thickness_Hz_m / c;
  if (found.frequency_thickness_Hz_m < wall.medium.shear_m_s) {
    found.regime = WallRegime::guided;
  } else {
    found.regime = found.delay_per_burst > 1 ? WallRegime::separate : WallRegime::overlapping;
  }
  return found;
}

WallIndicators wall_indicators(const SoundPath& path, const RayPath& ray, std::size_t layer) {
  WallIndicators found = wall_echo_indicators(path, ray, layer);
  found.nearest_root = nearest_plate_root(path.layers[layer].medium, ray.ray_parameter_s_m,
                                          found.frequency_thickness_Hz_m);
  return found;
}

SpeedBand wall_borne_speeds(const AcousticMedium& solid) {
  if (solid.is_liquid()) return {solid.longitudinal_m_s, solid.longitudinal_m_s};
  return {rayleigh_speed_m_s(solid), plate_speed_m_s(solid)};
}

}  // namespace slantrule
