#include "slantrule/planning/kernel.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace slantrule {

namespace {

PathInputs path_inputs(const KernelInputs& in) {
  return {.wedge_sound_speed_m_s = in.wedge_sound_speed_m_s,
          .wedge_angle_rad = in.wedge_angle_rad,
          .wedge_path_m = in.wedge_path_m,
          .layers = std::span(in.layers).first(in.layer_count),
          .bore_m = in.bore_m,
          .liquid_sound_speed_m_s = in.liquid_sound_speed_m_s,
          .traverses = in.traverses,
          .setback_m = in.setback_m,
          .delay_s = in.delay_s};
}

}  // namespace

std::variant<RayPath, NoRay> trace_ray(const KernelInputs& in) {
  return trace_ray(path_inputs(in));
}

void set_traverses(RayPath& ray, const KernelInputs& in) {
  set_traverses(ray, path_inputs(in));
}

LiquidPath liquid_path(const KernelInputs& in, double ray_parameter_s_m) {
  return {.ray_parameter_s_m = ray_parameter_s_m,
          .sound_speed_m_s = in.liquid_sound_speed_m_s,
          .bore_m = in.bore_m,
          .traverses = in.traverses};
}

ReadOut read_out(const KernelInputs& truth, const KernelInputs& entered, FluidTime method,
                 double extra_spacing_m) {
  const auto true_ray = trace_ray(truth);
  const auto entered_ray = trace_ray(entered);
  const auto* is = std::get_if<RayPath>(&true_ray);
  const auto* told = std::get_if<RayPath>(&entered_ray);
  if (!is || !told) throw std::invalid_argument("no ray to read out");
  return read_out(TracedPath{truth, *is}, TracedPath{entered, *told}, method, extra_spacing_m);
}

ReadOut read_out(const TracedPath& truth, const TracedPath& entered, FluidTime method,
                 double extra_spacing_m) {
  const RayPath& is = truth.ray;
  const RayPath& told = entered.ray;
  const double total_s = is.zero_flow_time_s + is.ray_parameter_s_m * extra_spacing_m;
  const double dead_s = told.zero_flow_time_s - told.fluid_time_s;
  const double measured_s = total_s - dead_s;
  const double fluid_time_s = method == FluidTime::measured ? measured_s : told.fluid_time_s;
  if (!(measured_s > 0)) return {std::nan(""), std::nan("")};
  // v = dt / (2 p t_f) with the same dt, and Q = K A v with the same K.
  const double velocity_ratio =
      (is.ray_parameter_s_m * is.fluid_time_s) / (told.ray_parameter_s_m * fluid_time_s);
  return {sound_speed_from_fluid_time_m_s(measured_s, entered.in.bore_m, entered.in.traverses,
                                          told.ray_parameter_s_m),
          velocity_ratio * entered.in.area_m2 / truth.in.area_m2};
}

FlowPoint flow_point(const KernelInputs& in, double velocity_m_s) {
  FlowPoint point;
  point.velocity_m_s = velocity_m_s;
  point.volume_flow_m3_s = velocity_m_s * in.area_m2;
  point.path_velocity_m_s = velocity_m_s;
  if (in.kinematic_viscosity_m2_s && velocity_m_s != 0) {
    point.reynolds = reynolds_number({.velocity_m_s = velocity_m_s,
                                      .bore_m = in.bore_m,
                                      .kinematic_viscosity_m2_s = *in.kinematic_viscosity_m2_s});
    point.regime = flow_regime(*point.reynolds);
    // Beyond a tenth of the bore the friction formula ends; such a wall is no pipe wall.
    const double relative_roughness = std::min(in.roughness_m / in.bore_m, 0.1);
    point.profile_factor = profile_factor(*point.reynolds, relative_roughness);
    point.path_velocity_m_s = velocity_m_s / point.profile_factor->value;
  }
  return point;
}

std::optional<double> flow_time_difference_s(const LiquidPath& path, const FlowPoint& point) {
  // The exact form ends where the flow would outrun the wave's tilt.
  const double limit = 1 - path.ray_parameter_s_m * path.sound_speed_m_s;
  if (std::fabs(point.path_velocity_m_s) * path.ray_parameter_s_m >= limit) return std::nullopt;
  return time_difference_s(path, point.path_velocity_m_s);
}

}  // namespace slantrule
