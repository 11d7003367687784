#pragma once

/// The numeric core under `plan`: one path, one flow, numbers in and numbers out. Budgets,
/// comparisons and simulations call it with varied inputs.

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>

#include "slantrule/acoustics/ray_path.hpp"
#include "slantrule/hydraulics/pipe_flow.hpp"

namespace slantrule {

/// Everything the path and the flow effect depend on.
struct KernelInputs {
  std::array<Layer, most_layers> layers{};  ///< coating, wall, liner: those that are there
  std::size_t layer_count = 0;
  double bore_m = 0;
  double area_m2 = 0;  ///< of the bore, oval or not
  double wedge_sound_speed_m_s = 0;
  double wedge_angle_rad = 0;
  double wedge_path_m = 0;
  double setback_m = 0;
  double delay_s = 0;
  double liquid_sound_speed_m_s = 0;
  int traverses = 2;
  double roughness_m = 0;
  std::optional<double> kinematic_viscosity_m2_s;

  void add_layer(Layer layer) { layers[layer_count++] = layer; }
};

std::variant<RayPath, NoRay> trace_ray(const KernelInputs& in);

/// Gives `ray`, the trace_ray of `in` but for the number of traverses, that of `in`.
void set_traverses(RayPath& ray, const KernelInputs& in);

/// One flow, seen by the path.
struct FlowPoint {
  double volume_flow_m3_s = 0;
  double velocity_m_s = 0;         ///< mean over the bore
  std::optional<double> reynolds;  ///< absent: viscosity not known, or no flow
  FlowRegime regime = FlowRegime::turbulent;
  std::optional<ProfileFactor> profile_factor;
  /// Velocity along the path; without a profile factor, the mean velocity is taken for it.
  double path_velocity_m_s = 0;
  std::optional<double> time_difference_s;  ///< absent: no ray
};

/// The flow through the bore, without its time difference.
FlowPoint flow_point(const KernelInputs& in, double velocity_m_s);

/// What the flow does to the path; absent where it is faster than the formula goes, far beyond any
/// real flow.
std::optional<double> flow_time_difference_s(const LiquidPath& path, const FlowPoint& point);

/// How the transmitter gets the time in the liquid: from the measured times less the entered dead
/// time, or computed from entered diameter and speed of sound.
enum class FluidTime : std::uint8_t { measured, computed };

/// What a transmitter shows when its entries differ from the truth.
struct ReadOut {
  double sound_speed_m_s;  ///< NaN when the times fit no speed of sound
  double flow_ratio;       ///< shown flow / true flow, to first order in v
};

/// `truth` is the pipe as it is, with the sensors at the spacing of its own ray plus
/// `extra_spacing_m` (plane-wave limit: a wide beam arrives p times the extra spacing later);
/// `entered` is what the transmitter was told. Both need a ray, otherwise std::invalid_argument.
ReadOut read_out(const KernelInputs& truth, const KernelInputs& entered, FluidTime method,
                 double extra_spacing_m = 0);

/// A kernel with its trace_ray.
struct TracedPath {
  const KernelInputs& in;
  const RayPath& ray;
};
/// The same with the rays at hand.
ReadOut read_out(const TracedPath& truth, const TracedPath& entered, FluidTime method,
                 double extra_spacing_m = 0);

/// The liquid leg of the kernel's path.
LiquidPath liquid_path(const KernelInputs& in, double ray_parameter_s_m);

}  // namespace slantrule
