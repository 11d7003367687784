#pragma once

/// What else reaches the receiver at the planned spacing, when, and how strong: other waves in wall
/// and liner, bounces at the outer face, other numbers of traverses, sound along or round the wall.
///
/// Levels are those of the budget (single interfaces, closed-form beam), so a few dB; each
/// alternative that also rings in the wall does so like the main arrival. Airborne sound is left
/// out: against liquids it does not matter.

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <string_view>

#include "slantrule/acoustics/signal_budget.hpp"
#include "slantrule/acoustics/sound_path.hpp"

namespace slantrule {

enum class ArrivalKind : std::uint8_t {
  nominal,          ///< the planned path itself
  other_mode,       ///< the other wave in layer `layer`, on both sides
  mixed_mode,       ///< the other wave in layer `layer` on one side only (either, both ways summed)
  outer_bounce,     ///< `count` of the bounces turn round at the upper face of layer `layer`
  other_traverses,  ///< `count` traverses instead
  along_wall,       ///< in the wall, straight from sensor to sensor (same side)
  round_wall        ///< in the wall, round the pipe: `count` half turns
};
std::string_view arrival_kind_name(ArrivalKind kind);

struct Arrival {
  ArrivalKind kind;
  std::size_t layer;  ///< of other_mode, mixed_mode, outer_bounce
  int count;          ///< of outer_bounce, other_traverses, round_wall
  /// From the same zero as RayPath::zero_flow_time_s, wedges included, centre of the burst. Latest
  /// differs from earliest for sound in the wall, which spreads into plate waves.
  double earliest_s, latest_s;
  std::optional<double> level_dB;  ///< comparable with -SignalBudget::loss_dB; none for wall sound
  double spacing_m;  ///< the exit spacing at which this one is strongest; the planned one for wall
                     ///< sound
  bool disturbs;     ///< within burst and reverberation of the nominal arrival
};

/// The nominal path; two for the other wave and three outer bounces of each layer; two other
/// traverse counts; four in the wall.
inline constexpr std::size_t most_arrivals = 7 + 5 * most_layers;

struct Arrivals {
  std::array<Arrival, most_arrivals> all;  ///< by time
  std::size_t count = 0;
  double nominal_s = 0;        ///< time of the nominal arrival at the planned spacing
  double burst_s = 0;          ///< cycles / frequency
  double echo_amplitude = 0;   ///< of one echo to and fro in the wall, against the one before
  double reverberation_s = 0;  ///< until such echoes have fallen by 20 dB, at most 100 echoes

  std::span<const Arrival> by_time() const { return std::span(all).first(count); }
};

/// Alternatives weaker than the nominal path by more than this are left out.
inline constexpr double faintest_arrival_dB = 40;

/// `ray` being the path's trace_ray; `wall_layer` the layer that carries sound along and round the
/// pipe; `exit_spacing_m` what is planned (the ray's own, or what a rail allows).
/// Throws std::invalid_argument as signal_budget, and where wall_layer is none of the layers.
Arrivals arrivals(const SoundPath& path, const RayPath& ray, std::size_t wall_layer,
                  double exit_spacing_m);

/// Which of the arrivals could trouble the planned one, as far as levels decide that.
struct TroubleSought {
  /// Layers whose other wave is looked for, whenever it comes.
  std::array<bool, most_layers> other_wave{};
};

/// Of `arrivals` at the ray's spacing only the other waves of the layers that are sought, and other
/// traverses that disturb; where the weakest are left out by their times, at a small part of the
/// price. `at` and `budget` are those of the path.
Arrivals troubling_arrivals(const SoundPath& path, const RayPath& ray, std::size_t wall_layer,
                            const PathInterfaces& at, const SignalBudget& budget,
                            const TroubleSought& sought);

}  // namespace slantrule
