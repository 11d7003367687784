#pragma once

/// What stands against a path and what speaks for it, in numbers.

#include <cstdint>
#include <optional>

namespace slantrule {

/// Traverse counts that are looked at.
inline constexpr int most_traverses = 12;

/// What makes a path impossible with this pair at this place, the easiest to mend first.
enum class Obstacle : std::uint8_t {
  none,
  rail,          ///< no rail takes the spacing
  clear_length,  ///< the clear pipe is too short for both bodies
  overlap,       ///< the bodies are in each other's way
  one_side,      ///< opposite sides, but only one can be reached
  pipe_range,    ///< the pair is not made for this pipe
  temperature,   ///< the surface is outside the pair's rating
  no_ray,        ///< some wave would have to run along the pipe
  no_wave        ///< a layer lacks the wave asked for
};

/// How good a path is, as far as paths differ. Percentages are standard uncertainties of the flow.
struct PathMerit {
  Obstacle obstacle = Obstacle::none;
  std::optional<double> loss_dB;  ///< absent: the pair's element is not stated
  double zero_percent = 0;        ///< the zero, at the usual flow; at 1 m/s where that is unknown
  double cross_flow_percent = 0;  ///< odd counts see flow across the pipe
  double opposite_percent = 0;    ///< the other side is harder to find
  double wall_percent = 0;        ///< the wall's uncertainty, by what the transmitter makes of it
  double placement_percent = 0;   ///< a spacing off by the mounting tolerance
  double smallest_velocity_m_s = 0;  ///< at which the zero still makes no more than 5 %
  bool least_met = true;             ///< the least flow is above it, or not stated
  bool half_cycle_met = true;        ///< the greatest flow keeps within half a period
  double own_percent = 0;            ///< zero, cross flow, placement and what paths share
  double u_percent = 0;              ///< with the wall's
  int tier = 0;                      ///< 0 good; more: least or greatest flow out of reach
  double score = 0;                  ///< within a tier, lower is better
};

/// score = own_percent + wall_weight wall_percent + signal_cost_percent(loss). The weights are
/// judged, so that the choice falls as practice has it: two traverses, four in small pipes, one in
/// large lined ones. The wall weighs less, because it is measured where it matters.
inline constexpr double wall_weight = 0.3;

/// What the loss weighs beside a per cent of uncertainty: 0.05 a decibel, four times that beyond
/// what is comfortable, ten times beyond what is usable. Continuous, so that no decibel decides
/// all.
double signal_cost_percent(double loss_dB);

}  // namespace slantrule
