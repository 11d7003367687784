#pragma once

/// The straight-ray path of a clamp-on pair: refraction, spacings, times, flow effect.
///
/// Every layer of the path is flat and parallel to the pipe axis, so the axial slowness (ray
/// parameter) p is the same in all of them (Snell's law):
///
///     p = sin(wedge angle)/c_wedge = sin(angle)/c    [s/m],    trace speed = 1/p
///
/// and a wave of speed c can run in a layer only while p c < 1. With N traverses of the bore D and
/// layers (thickness h) each crossed twice, tan = p c / sqrt(1 - p^2 c^2):
///
///     exit spacing   = N D tan(liquid) + 2 sum h tan
///     mark spacing   = exit spacing + 2 setback
///     face gap       = exit spacing - 2 nose
///     overall length = exit spacing + 2 (length - nose)
///     zero-flow time = 2 wedge path / c_wedge + 2 sum h/(c cos) + N D/(c cos) + delay
///
/// Reflections are taken at the inner face. Sources: Snell's law and straight-ray geometry; the
/// phase-slowness form for a moving liquid is derived in the comments of ray_path.cpp.

#include <array>
#include <cstddef>
#include <span>
#include <variant>

namespace slantrule {

/// A layer between wedge and liquid, with the speed of the wave that is used in it. Both > 0.
struct Layer {
  double thickness_m;
  double sound_speed_m_s;
};

/// Coating, wall, liner and deposit.
inline constexpr std::size_t most_layers = 4;

struct PathInputs {
  double wedge_sound_speed_m_s;   ///< at the wedge's temperature
  double wedge_angle_rad;         ///< from the pipe normal, in (0, pi/2)
  double wedge_path_m = 0;        ///< the sound's way inside one wedge
  std::span<const Layer> layers;  ///< from the wedge inwards, at most `most_layers`
  double bore_m;                  ///< inside the innermost layer
  double liquid_sound_speed_m_s;
  int traverses;  ///< 1 or more
  double setback_m = 0;
  double delay_s = 0;  ///< cable and electronics, both sensors together
};

/// One leg of the ray.
struct Leg {
  double angle_rad;  ///< from the pipe normal
  double run_m;      ///< distance along the pipe in one crossing
  double time_s;     ///< time of one crossing
};

struct RayPath {
  double ray_parameter_s_m;
  double trace_speed_m_s;
  std::array<Leg, most_layers> layer_legs;  ///< the first `layer_count` are valid
  std::size_t layer_count;
  Leg liquid_leg;  ///< one traverse
  double exit_spacing_m;
  double mark_spacing_m;
  double fluid_time_s;      ///< N traverses
  double zero_flow_time_s;  ///< everything, one way, at rest
};

/// No ray: the wave of this layer (index into `layers`, or layers.size() for the liquid) would have
/// to run along the pipe, because trace speed <= its sound speed.
struct NoRay {
  std::size_t layer;
  double trace_speed_m_s;
  double sound_speed_m_s;
};

/// Throws std::invalid_argument when an input is not finite or out of its range.
/// Error: rounding; grows towards grazing, where tan is steep.
std::variant<RayPath, NoRay> trace_ray(const PathInputs& in);

/// Gives `ray`, the trace_ray of `in` but for the number of traverses, that of `in`: the legs stay,
/// only the sums change. Throws std::invalid_argument for traverses below 1.
void set_traverses(RayPath& ray, const PathInputs& in);

/// The liquid part of a path, for the effects of flow.
struct LiquidPath {
  double ray_parameter_s_m;
  double sound_speed_m_s;
  double bore_m;
  int traverses;
};

/// Upstream minus downstream time of flight, exact for a velocity v uniform along the path:
///
///     N D [ sqrt(((1 + v p)/c)^2 - p^2) - sqrt(((1 - v p)/c)^2 - p^2) ]
///
/// Needs p c < 1 and |v| small enough for both roots (|v| p < 1 - p c); otherwise throws
/// std::invalid_argument. Positive v runs from A to B.
double time_difference_s(const LiquidPath& path, double path_velocity_m_s);

/// The same to first order in v: 2 v p t_f. Relative error (v/c)^2 tan^4(angle) / 2.
double time_difference_first_order_s(const LiquidPath& path, double path_velocity_m_s);

/// Path velocity that makes the time difference half a period, beyond which a phase-tracking
/// transmitter may slip by a cycle: 1 / (4 f p t_f).
double half_cycle_velocity_m_s(const LiquidPath& path, double frequency_Hz);

/// Path velocity that a time error stands for: dt / (2 p t_f). With the zero stability of the
/// transmitter this is the smallest velocity it can tell from rest.
double velocity_of_time_error_m_s(const LiquidPath& path, double time_error_s);

/// How far the flow carries the beam along the pipe: N D (v/c) / cos^3(angle).
double beam_drift_m(const LiquidPath& path, double path_velocity_m_s);

/// Speed of sound that a transmitter infers from the time in the liquid when it knows D, N and p:
/// the root of c sqrt(1 - (c p)^2) = N D / t_f on the branch p c < 1/sqrt(2); NaN when there is
/// none.
double sound_speed_from_fluid_time_m_s(double fluid_time_s, double bore_m, int traverses,
                                       double ray_parameter_s_m);

/// Wedge angle (rad) from which on a wave of this speed no longer enters a layer:
/// asin(c_wedge / c). NaN when the wedge is at least as fast (the wave always enters).
double critical_wedge_angle_rad(double wedge_sound_speed_m_s, double layer_sound_speed_m_s);

}  // namespace slantrule
