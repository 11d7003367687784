#include "slantrule/acoustics/ray_path.hpp"

#include <cmath>
#include <limits>
#include <stdexcept>

namespace slantrule {
namespace {

// In a liquid that moves along x with velocity v, a wave with axial slowness p has the frequency
// w (1 - v p) in the moving frame, so its slowness vector there is (1 - v p)/c and the part
// across the pipe is q(v) = sqrt(((1 - v p)/c)^2 - p^2). Flat walls keep p. Two fixed points that
// lie X along and N D across the pipe see the phase p X + N D q(v); the time of flight at fixed p
// against the flow less that with it is therefore N D [q(-v) - q(v)].

void require(bool ok, const char* what) {
  if (!ok) throw std::invalid_argument(what);
}

bool positive(double x) {
  return std::isfinite(x) && x > 0;
}

/// One crossing of a layer at sine p c < 1.
Leg cross(double thickness_m, double sound_speed_m_s, double ray_parameter_s_m) {
  const double sine = ray_parameter_s_m * sound_speed_m_s;
  const double cosine = std::sqrt((1 - sine) * (1 + sine));
  return {.angle_rad = std::asin(sine),
          .run_m = thickness_m * sine / cosine,
          .time_s = thickness_m / (sound_speed_m_s * cosine)};
}

/// Spacings and times, once the legs are known.
void add_up_legs(RayPath& path, const PathInputs& in) {
  double layers_run_m = 0;
  double layers_time_s = 0;
  for (std::size_t i = 0; i < path.layer_count; ++i) {
    layers_run_m += path.layer_legs[i].run_m;
    layers_time_s += path.layer_legs[i].time_s;
  }
  path.exit_spacing_m = in.traverses * path.liquid_leg.run_m + 2 * layers_run_m;
  path.mark_spacing_m = path.exit_spacing_m + 2 * in.setback_m;
  path.fluid_time_s = in.traverses * path.liquid_leg.time_s;
  path.zero_flow_time_s = 2 * in.wedge_path_m / in.wedge_sound_speed_m_s + 2 * layers_time_s +
                          path.fluid_time_s + in.delay_s;
}

void check(const LiquidPath& path) {
  require(positive(path.ray_parameter_s_m), "ray parameter must be positive");
  require(positive(path.sound_speed_m_s), "sound speed of the liquid must be positive");
  require(positive(path.bore_m), "bore must be positive");
  require(path.traverses >= 1, "traverses must be 1 or more");
  require(path.ray_parameter_s_m * path.sound_speed_m_s < 1, "no ray in the liquid");
}

double liquid_cosine(const LiquidPath& path) {
  const double sine = path.ray_parameter_s_m * path.sound_speed_m_s;
  return std::sqrt((1 - sine) * (1 + sine));
}

double fluid_time_s(const LiquidPath& path) {
  return path.traverses * path.bore_m / (path.sound_speed_m_s * liquid_cosine(path));
}

}  // namespace

std::variant<RayPath, NoRay> trace_ray(const PathInputs& in) {
  require(positive(in.wedge_sound_speed_m_s), "wedge sound speed must be positive");
  require(in.wedge_angle_rad > 0 && in.wedge_angle_rad < std::acos(0.0),
          "wedge angle must lie between 0 and 90 degrees");
  require(std::isfinite(in.wedge_path_m) && in.wedge_path_m >= 0, "wedge path must be 0 or more");
  require(in.layers.size() <= most_layers, "too many layers");
  require(positive(in.bore_m), "bore must be positive");
  require(positive(in.liquid_sound_speed_m_s), "sound speed of the liquid must be positive");
  require(in.traverses >= 1, "traverses must be 1 or more");
  require(std::isfinite(in.setback_m), "setback must be finite");
  require(std::isfinite(in.delay_s), "delay must be finite");

  RayPath path{};
  path.ray_parameter_s_m = std::sin(in.wedge_angle_rad) / in.wedge_sound_speed_m_s;
  path.trace_speed_m_s = 1 / path.ray_parameter_s_m;
  path.layer_count = in.layers.size();

  for (std::size_t i = 0; i < in.layers.size(); ++i) {
    const Layer& layer = in.layers[i];
    require(positive(layer.thickness_m), "layer thickness must be positive");
    require(positive(layer.sound_speed_m_s), "layer sound speed must be positive");
    if (path.ray_parameter_s_m * layer.sound_speed_m_s >= 1) {
      return NoRay{i, path.trace_speed_m_s, layer.sound_speed_m_s};
    }
    path.layer_legs[i] = cross(layer.thickness_m, layer.sound_speed_m_s, path.ray_parameter_s_m);
  }
  if (path.ray_parameter_s_m * in.liquid_sound_speed_m_s >= 1) {
    return NoRay{in.layers.size(), path.trace_speed_m_s, in.liquid_sound_speed_m_s};
  }
  path.liquid_leg = cross(in.bore_m, in.liquid_sound_speed_m_s, path.ray_parameter_s_m);
  add_up_legs(path, in);
  return path;
}

void set_traverses(RayPath& ray, const PathInputs& in) {
  require(in.traverses >= 1, "traverses must be 1 or more");
  require(in.layers.size() == ray.layer_count, "the ray is not one of these layers");
  add_up_legs(ray, in);
}

double time_difference_s(const LiquidPath& path, double path_velocity_m_s) {
  check(path);
  const double p = path.ray_parameter_s_m;
  const double vp = path_velocity_m_s * p;
  require(std::fabs(vp) < 1 - p * path.sound_speed_m_s, "velocity too great for this path");
  const double up = (1 + vp) / path.sound_speed_m_s;
  const double down = (1 - vp) / path.sound_speed_m_s;
  const double q_up = std::sqrt(up * up - p * p);
  const double q_down = std::sqrt(down * down - p * p);
  // q_up - q_down by the difference of squares: at small v the roots agree in most digits.
  const double difference = 4 * vp / (path.sound_speed_m_s * path.sound_speed_m_s);
  return path.traverses * path.bore_m * difference / (q_up + q_down);
}

double time_difference_first_order_s(const LiquidPath& path, double path_velocity_m_s) {
  check(path);
  require(std::isfinite(path_velocity_m_s), "velocity must be finite");
  return 2 * path_velocity_m_s * path.ray_parameter_s_m * fluid_time_s(path);
}

double half_cycle_velocity_m_s(const LiquidPath& path, double frequency_Hz) {
  check(path);
  require(positive(frequency_Hz), "frequency must be positive");
  return 1 / (4 * frequency_Hz * path.ray_parameter_s_m * fluid_time_s(path));
}

double velocity_of_time_error_m_s(const LiquidPath& path, double time_error_s) {
  check(path);
  require(std::isfinite(time_error_s), "time error must be finite");
  return time_error_s / (2 * path.ray_parameter_s_m * fluid_time_s(path));
}

double beam_drift_m(const LiquidPath& path, double path_velocity_m_s) {
  check(path);
  require(std::isfinite(path_velocity_m_s), "velocity must be finite");
  const double cosine = liquid_cosine(path);
  return path.traverses * path.bore_m * (path_velocity_m_s / path.sound_speed_m_s) /
         (cosine * cosine * cosine);
}

double sound_speed_from_fluid_time_m_s(double fluid_time_s, double bore_m, int traverses,
                                       double ray_parameter_s_m) {
  require(
      positive(fluid_time_s) && positive(bore_m) && traverses >= 1 && positive(ray_parameter_s_m),
      "times and lengths must be positive");
  // With x = c^2: x (1 - p^2 x) = g^2, so p^2 x^2 - x + g^2 = 0; the smaller root, written
  // without cancellation, is the one with p c < 1/sqrt(2).
  const double g = traverses * bore_m / fluid_time_s;
  const double discriminant = 1 - 4 * ray_parameter_s_m * ray_parameter_s_m * g * g;
  if (discriminant < 0) return std::numeric_limits<double>::quiet_NaN();
  return std::sqrt(2 * g * g / (1 + std::sqrt(discriminant)));
}

double critical_wedge_angle_rad(double wedge_sound_speed_m_s, double layer_sound_speed_m_s) {
  require(positive(wedge_sound_speed_m_s) && positive(layer_sound_speed_m_s),
          "sound speeds must be positive");
  if (wedge_sound_speed_m_s >= layer_sound_speed_m_s) {
    return std::numeric_limits<double>::quiet_NaN();
  }
  return std::asin(wedge_sound_speed_m_s / layer_sound_speed_m_s);
}

}  // namespace slantrule
