#pragma once

/// Will there be signal: the planned path with its media, what arrives of the sound, and how far a
/// sensor may stand from its place.

#include <functional>
#include <optional>
#include <string>

#include "slantrule/acoustics/arrivals.hpp"
#include "slantrule/acoustics/plate_waves.hpp"
#include "slantrule/acoustics/signal_budget.hpp"
#include "slantrule/acoustics/wave_response.hpp"

namespace slantrule {

struct Plan;
struct ResolvedJob;

/// How much of the signal to compute; each step holds the ones before it. At `screened` the checks
/// say what they say at `placement`, but for the note on the best place; the plan holds no more
/// than at `level`.
enum class SignalDetail : std::uint8_t {
  none,
  level,      ///< the budget of the path: microseconds
  screened,   ///< the same, and every finding of `placement` but the note on the best place
  placement,  ///< the direct path against spacing, and other arrivals: about a millisecond
  response    ///< the whole wave model: about a second
};

/// Loss up to which a path is comfortable, and beyond which it is hardly usable (proposals). Of 100
/// V, 60 dB of path and 25 dB of elements leave 6 mV, far above the noise; 80 dB leave 0.6 mV.
inline constexpr double comfortable_loss_dB = 60;
inline constexpr double greatest_loss_dB = 80;

/// A shift of the direct maximum that costs less than this is not worth a word (judged).
inline constexpr double off_best_dB = 1;
/// The half window is to be so many times what the marks are held to (proposal).
inline constexpr double window_per_tolerance = 3;

struct PlanSignal {
  SoundPath path;  ///< what all of this was computed from
  std::size_t wall_layer = 0;
  SignalBudget budget;           ///< at the ray spacing
  bool absorption_known = true;  ///< of the liquid; false: taken as none

  // SignalDetail::placement. Spacings between the reference marks.
  double best_mark_spacing_m = 0;  ///< where the direct path is strongest
  SpacingWindow window_3_dB, window_6_dB;
  double ray_below_best_dB = 0;  ///< the direct path at the ray spacing, against its best
  std::optional<Arrivals> arrivals;
  std::optional<WallIndicators> wall;

  std::optional<WaveResponse> response;  ///< exit spacings; levels as -loss
  double mark_offset_m = 0;              ///< mark spacing less exit spacing: two setbacks
};

/// The planned path with its media; `path` is empty where the job doesn't say enough, and `missing`
/// tells what.
struct SoundPathAnswer {
  std::optional<SoundPath> path;
  std::optional<PathInterfaces> interfaces;  ///< of the path, at its ray
  std::size_t wall_layer = 0;
  std::string missing;
};

/// Needs the plan's conditions, kernel, layer roles and wall mode.
SoundPathAnswer sound_path(const ResolvedJob& job, const Plan& plan);

/// What of the couplant's and the model's choices the whole model is run with.
struct ResponseOptions {
  int threads = 1;
  std::function<void(double)> progress{};
};

/// Signal of the plan's path; nothing where `answer.path` is empty. At `screened`, what the checks
/// of the plan need of the placement is in it too, to be taken out by hide_placement: where no
/// finding can come of a number, a harmless one stands in its place.
std::optional<PlanSignal> plan_signal(const SoundPathAnswer& answer, const Plan& plan,
                                      SignalDetail detail, const ResponseOptions& options);

/// Leaves what SignalDetail::level holds.
void hide_placement(PlanSignal& signal);

}  // namespace slantrule
