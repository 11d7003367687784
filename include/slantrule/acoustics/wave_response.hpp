#pragma once

/// What the receiver gets, against the spacing of the sensors: two equal strip elements on wedges,
/// layers between flat parallel faces, a Hann-windowed burst.
///
/// Angular spectrum over the real angle th in the wedge, p = sin(th)/c_w, k = w/c_w:
///
///     IL(S,w) = k a/(2 pi) Int sinc^2(k a sin(th - th_w)/2) H(p,w) exp(i w p S) dth
///     H = T(p,w)^2 Rb(p,w)^(N-1) exp(i w N D q_liquid) exp(2 i w h_w (p sin th_w + q_w cos th_w))
///
/// and the envelope is the modulus of the sum of IL over the burst's spectrum. 0 dB: the elements
/// face to face. Two-dimensional: spreading across the plane of the beam is left to the caller.
/// Levels are of one direction; both are equal (reciprocity).
///
/// Source: derived (plane-wave expansion of the field of a strip, reciprocity for the receiver).
/// Not in it: curvature of the pipe, flow, the wedge's own side walls, other traverse counts.

#include <cstddef>
#include <functional>
#include <vector>

#include "slantrule/acoustics/layer_stack.hpp"
#include "slantrule/acoustics/sound_path.hpp"

namespace slantrule {

/// Spacings between which the level stays within a stated fall from its maximum, as offsets from
/// the ray spacing; contiguous round the maximum.
struct SpacingWindow {
  double from_m = 0;
  double to_m = 0;

  double width_m() const { return to_m - from_m; }
};

/// The direct path: each interface passed once, each bounce at the innermost face, in the modes
/// that the path names. This is what a ray describes, with the beam and the burst added.
struct DirectResponse {
  double ray_spacing_m = 0;  ///< exit spacing of the ray
  double best_offset_m = 0;  ///< spacing of the greatest level less the ray spacing
  SpacingWindow within_3_dB;
  SpacingWindow within_6_dB;
  double loss_at_ray_dB = 0;  ///< against the elements face to face, without spreading across
  double loss_at_best_dB = 0;
  double delay_at_ray_s = 0;  ///< of the envelope's peak after the ray's own time
};

/// One to three milliseconds. Solids absorb what their media state, nothing else. Throws
/// std::invalid_argument when the path has no ray or no wall, when the element, the frequency or
/// the cycles are not positive, and when the wedge is slower than the liquid (waves bound to the
/// liquid would then lie among the angles). `refinement` makes all grids finer by that factor.
DirectResponse direct_response(const SoundPath& path, double refinement = 1);

/// Half of within_3_dB is surely no less than this: the beam's own window with a margin. Costs next
/// to nothing. Throws as direct_response does.
double narrowest_half_window_3_dB_m(const SoundPath& path);

/// How sound in the layers is taken.
enum class WaveModel {
  direct,         ///< as DirectResponse: one passage, no reverberation
  wedge_on_wall,  ///< all modes and reverberations; on its way in and out sound meets the wedge
  air_on_wall     ///< the same with a bare outer face: the most reverberation there can be
};

struct WaveOptions {
  WaveModel model = WaveModel::wedge_on_wall;
  double refinement = 1;                   ///< makes all grids finer by this factor
  int threads = 1;                         ///< the result does not depend on it
  double quality = greatest_quality;       ///< see stack_media
  std::function<void(double)> progress{};  ///< gets the fraction done, on the calling thread
};

struct SpacingLevel {
  double exit_spacing_m = 0;
  double level_dB = 0;        ///< of the envelope's maximum
  double early_level_dB = 0;  ///< of its maximum up to the ray's burst centre
  double peak_delay_s = 0;    ///< of the maximum after the burst centre of the ray at this spacing
};

struct WaveGrid {
  std::size_t frequencies = 0;
  std::size_t angles = 0;
  std::size_t spacings = 0;
  std::size_t times = 0;
};

struct WaveResponse {
  double ray_spacing_m = 0;
  std::vector<SpacingLevel> levels;  ///< uniform in exit spacing; the ray spacing is one of them
  SpacingLevel at_ray;
  double best_offset_m = 0;  ///< spacing of the greatest level less the ray spacing
  double best_level_dB = 0;
  double best_delay_s = 0;
  double early_best_offset_m = 0;  ///< the same for the early gate
  double early_best_level_dB = 0;
  SpacingWindow within_3_dB;  ///< cut at the ends of `levels`
  SpacingWindow within_6_dB;
  WaveGrid grid;
};

/// The whole model: about a second of one core. Every solid gets the least loss of stack_media.
/// Throws as direct_response does, and when refinement or threads are not positive.
WaveResponse wave_response(const SoundPath& path, const WaveOptions& options = {});

/// IL at one frequency and spacing, without the burst: complex, phase exp(-i w t).
Complex steady_response(const SoundPath& path, double exit_spacing_m, double frequency_Hz,
                        const WaveOptions& options = {});

}  // namespace slantrule
