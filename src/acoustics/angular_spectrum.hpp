#pragma once

// What the direct path and the whole model share: grids, sums over angles and over the burst.

#include <array>
#include <cstddef>
#include <span>
#include <vector>

#include "slantrule/acoustics/layer_stack.hpp"
#include "slantrule/acoustics/wave_response.hpp"

namespace slantrule::detail {

/// The ray about which everything is reckoned.
struct CentralRay {
  double ray_parameter_s_m;
  double spacing_m;
  double time_s;
  double spread_m2_s;  ///< dS/dp
};

/// Throws std::invalid_argument for what direct_response refuses.
CentralRay central_ray(const SoundPath& path);

/// How far from `spacing_m` the rays within three lobes of the beam come out.
double beam_reach_m(const SoundPath& path, double spacing_m);

/// One plane wave of the spectrum.
struct AngleNode {
  double ray_parameter_s_m;
  double sine_off_axis;  ///< sin(th - th_w)
  double weight_rad;     ///< step, tapered towards the ends of the range
};

/// Largest step of angle that keeps neighbouring plane waves within `phase_rad` of each other at
/// offsets up to `reach_m` from the ray spacing.
double angle_step_rad(const SoundPath& path, double reach_m, double phase_rad);

std::vector<AngleNode> angle_nodes(const SoundPath& path, double step_rad);

/// Offsets from the ray spacing at which the response is wanted; the count is a multiple of
/// `lanes`.
struct OffsetGrid {
  double first_m;
  double step_m;
  std::size_t count;

  double at(std::size_t i) const { return first_m + step_m * static_cast<double>(i); }
};

/// Length of inner loops, known to the compiler so that it can use vector instructions.
inline constexpr std::size_t lanes = 8;

/// One complex number for each offset.
struct OffsetRow {
  explicit OffsetRow(std::size_t count) : real(count), imaginary(count) {}
  std::vector<double> real;
  std::vector<double> imaginary;

  /// Adds amplitude * ratio^i to entry i.
  void add_geometric(Complex amplitude, Complex ratio);
};

/// The burst as equally spaced frequencies with the weights of its spectrum; envelope 1 at its
/// centre.
struct BurstSpectrum {
  double step_Hz;
  std::vector<double> frequency_Hz;
  std::vector<double> weight;
};

BurstSpectrum burst_spectrum(double frequency_Hz, int cycles, double step_Hz);
double burst_length_s(const SoundPath& path);

/// Everything but T and Rb at one frequency: beam, wedges, liquid. Times are reckoned from the
/// ray's, offsets from the ray spacing.
class OpenPath {
 public:
  OpenPath(const SoundPath& path, const CentralRay& ray, double frequency_Hz);

  /// Amplitude of a plane wave whose way through the layers has the coefficients `layers` and takes
  /// w times `layers_s`, at the offset `offset_m`.
  Complex amplitude(const AngleNode& node, double offset_m, Complex layers, Complex layers_s) const;
  /// Factor by which the amplitude changes over `step_m` of offset.
  Complex ratio(const AngleNode& node, double step_m) const;

 private:
  double angular_frequency_;
  double wave_number_element_;  ///< k a
  double wedge_way_m_;
  double wedge_sine_, wedge_cosine_;
  double liquid_way_m_;
  CentralRay ray_;
  Complex wedge_slowness_, liquid_slowness_;
};

/// Envelope over all offsets at one moment after the ray's burst centre.
void envelope_at(const BurstSpectrum& burst, std::span<const OffsetRow> rows, double time_s,
                 std::span<double> envelope);

/// Finite for 0 too.
double to_dB(double amplitude);

/// Vertex of the parabola through three equally spaced values: place in steps from the middle one,
/// and height.
struct Vertex {
  double steps;
  double height;
};
Vertex vertex(double before, double middle, double after);

/// Greatest of a row of levels (dB), refined by a parabola; index may be fractional.
struct Peak {
  double index;
  double level_dB;
};
Peak peak_of(std::span<const double> levels_dB);

/// Where the levels fall by `fall_dB` below the peak, first crossing on each side, as fractional
/// indices; the ends of the row where they do not.
struct IndexWindow {
  double from;
  double to;
  bool open_below;
  bool open_above;
};
IndexWindow window_of(std::span<const double> levels_dB, const Peak& peak, double fall_dB);

}  // namespace slantrule::detail
