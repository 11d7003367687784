#include "slantrule/acoustics/wave_response.hpp"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>
#include <system_error>
#include <thread>

#include "angular_spectrum.hpp"
#include "direct_path.hpp"
#include "small_complex.hpp"

namespace slantrule {

using namespace detail;

namespace {

constexpr double pi = std::numbers::pi;

/// Phase between neighbouring plane waves at the far end of the reach: the sum over angles repeats
/// itself along the pipe after 2 pi / this of the reach. A steady tone rings on where a burst has
/// ended, and needs more.
constexpr double burst_phase_rad = 1.4;
constexpr double steady_phase_rad = 0.35;

void check(const WaveOptions& options) {
  if (!(options.refinement > 0)) throw std::invalid_argument("refinement must be positive");
  if (options.threads < 1) throw std::invalid_argument("threads must be 1 or more");
  if (!(options.quality > 0)) throw std::invalid_argument("quality must be positive");
}

/// One round trip of the path's mode in every layer, at the ray's parameter.
struct RoundTrip {
  double run_m = 0;
  double time_s = 0;
};

RoundTrip round_trip(const SoundPath& path, double p) {
  RoundTrip trip;
  for (std::size_t i = 0; i < path.layer_count; ++i) {
    const double c = path.layers[i].sound_speed_m_s();
    const double cosine = std::sqrt((1 - p * c) * (1 + p * c));
    trip.run_m += 2 * path.layers[i].thickness_m * p * c / cosine;
    trip.time_s += 2 * path.layers[i].thickness_m * cosine / c;
  }
  return trip;
}

/// Grids of one response.
struct Grids {
  OffsetGrid offsets;
  std::vector<AngleNode> nodes;
  BurstSpectrum burst;
  double first_time_s;
  double time_step_s;
  std::size_t times;
};

/// Distance from the ray spacing within which sound comes out, with what stays in the layers.
double reach_m(const SoundPath& path, const CentralRay& ray, double span_m) {
  double layers_m = 0;
  for (std::size_t i = 0; i < path.layer_count; ++i) layers_m += path.layers[i].thickness_m;
  return beam_reach_m(path, ray.spacing_m) + span_m + 30 * layers_m + 0.02;
}

/// Extra round trips in the wall after which less than 3 % is left of a wave.
double lasting_trips(const SoundPath& path, const CentralRay& ray, WaveModel model) {
  constexpr double most_trips = 12;
  if (path.layer_count > 1) return most_trips;  // layers hand sound to and fro
  const double p = ray.ray_parameter_s_m;
  const StackMedia media = stack_media(path, path.frequency_Hz);
  const StackInterfaces faces = stack_interfaces(media, p);
  const Coefficients outer =
      model == WaveModel::air_on_wall
          ? faces.bare_face
          : entry_contact(faces,
                          layer_phase(media.film, media.film_thickness_m, p, path.frequency_Hz))
                .reflection_below;
  const WaveMode mode = path.layers[0].mode;
  const double kept =
      std::abs(outer.at(mode, mode)) * std::abs(faces.below[0].reflection_above.at(mode, mode));
  return kept < 1 ? std::clamp(std::log(0.03) / std::log(kept), 4.0, most_trips) : most_trips;
}

OffsetGrid offset_grid(const CentralRay& ray, const DirectResponse& direct, double lobes_m,
                       double refinement) {
  // Before: the beam's flank. Beyond: the lobes of extra round trips in the layers.
  const double half_m = std::max(0.5 * direct.within_6_dB.width_m(), 1e-4);
  const double before_m =
      std::min(2 * half_m + std::max(0.0, -direct.best_offset_m), ray.spacing_m);
  const double beyond_m = 2 * half_m + std::max(0.0, direct.best_offset_m) + lobes_m;
  const auto count = lanes * static_cast<std::size_t>(std::ceil(24 * refinement));
  const double step_m = (before_m + beyond_m) / static_cast<double>(count - 1);
  return {-std::floor(before_m / step_m) * step_m, step_m, count};
}

Grids grids_of(const SoundPath& path, const CentralRay& ray, const WaveOptions& options) {
  const RoundTrip trip = round_trip(path, ray.ray_parameter_s_m);
  Grids grids;
  grids.offsets =
      offset_grid(ray, direct_response(path), lasting_trips(path, ray, options.model) * trip.run_m,
                  options.refinement);
  const double span_m = grids.offsets.step_m * static_cast<double>(grids.offsets.count);
  grids.nodes = angle_nodes(
      path, angle_step_rad(path, reach_m(path, ray, span_m), burst_phase_rad) / options.refinement);
  const double length_s = burst_length_s(path);
  const double trips = options.model == WaveModel::air_on_wall ? 40 : 24;
  const double window_s = (4 * length_s + trips * trip.time_s + 10e-6) * options.refinement;
  grids.burst = burst_spectrum(path.frequency_Hz, path.cycles, 1 / window_s);
  grids.first_time_s = -(2 * length_s + 5e-6);
  grids.time_step_s = length_s / (16 * options.refinement);
  grids.times = static_cast<std::size_t>(std::floor(window_s / grids.time_step_s));
  return grids;
}

/// Does `work(i)` for every i below `count`, on this thread and `threads - 1` others. Each i writes
/// to its own place, so the order in which they are done leaves no trace.
template <class Work>
void for_all(std::size_t count, int threads, const Work& work,
             const std::function<void(std::size_t)>& progress) {
  std::atomic<std::size_t> next{0}, done{0};
  const auto run = [&](bool reports) {
    for (std::size_t i = next++; i < count; i = next++) {
      work(i);
      ++done;
      if (reports && progress) progress(done);
    }
  };
  std::vector<std::jthread> others;
  try {
    for (int i = 1; i < threads; ++i) others.emplace_back([&] { run(false); });
  } catch (const std::system_error&) {
    // No more threads to be had: those there are do the work.
  }
  run(true);
}

/// Response of the layers to one plane wave, and the time it takes as far as it is a pure phase.
class Layers {
 public:
  Layers(const SoundPath& path, const WaveOptions& options)
      : path_(path), options_(options), middle_(media(path.frequency_Hz)) {}

  StackMedia media(double frequency_Hz) const {
    return stack_media(path_, frequency_Hz,
                       options_.model == WaveModel::direct ? std::numeric_limits<double>::infinity()
                                                           : options_.quality);
  }
  StackInterfaces interfaces(double p) const { return stack_interfaces(middle_, p); }

  Complex coefficients(const StackInterfaces& interfaces, const StackMedia& media, double p,
                       double frequency_Hz) const {
    if (options_.model == WaveModel::direct) {
      return direct_coefficients(path_, middle_, interfaces, p, path_.frequency_Hz);
    }
    const StackPhases phases = stack_phases(media, p, frequency_Hz);
    const Complex way =
        transmission(interfaces, phases,
                     options_.model == WaveModel::air_on_wall ? OuterFace::air : OuterFace::wedge);
    const Complex there_and_back = times(way, way);
    if (path_.traverses == 1) return there_and_back;
    return times(there_and_back, power(bounce(interfaces, phases), path_.traverses - 1));
  }

  Complex time_s(const StackMedia& media, double p) const {
    return options_.model == WaveModel::direct ? direct_layers_s(path_, media, p) : 0;
  }

 private:
  const SoundPath& path_;
  const WaveOptions& options_;
  StackMedia middle_;
};

/// Frequencies that share the interfaces of each plane wave.
constexpr std::size_t frequencies_at_once = 8;

void sum_over_angles(const SoundPath& path, const CentralRay& ray, const Layers& layers,
                     const Grids& grids, std::size_t first, std::size_t last,
                     std::span<OffsetRow> rows) {
  std::vector<StackMedia> media;
  std::vector<OpenPath> open;
  for (std::size_t k = first; k < last; ++k) {
    media.push_back(layers.media(grids.burst.frequency_Hz[k]));
    open.emplace_back(path, ray, grids.burst.frequency_Hz[k]);
  }
  for (const AngleNode& node : grids.nodes) {
    const double p = node.ray_parameter_s_m;
    const StackInterfaces interfaces = layers.interfaces(p);
    for (std::size_t k = first; k < last; ++k) {
      const std::size_t i = k - first;
      const Complex coefficients =
          layers.coefficients(interfaces, media[i], p, grids.burst.frequency_Hz[k]);
      rows[k].add_geometric(
          open[i].amplitude(node, grids.offsets.first_m, coefficients, layers.time_s(media[i], p)),
          open[i].ratio(node, grids.offsets.step_m));
    }
  }
}

/// Greatest of an envelope among the first `count` times, refined by a parabola.
struct Moment {
  double index;
  double amplitude;
};

Moment greatest(const std::vector<std::vector<double>>& moments, std::size_t place,
                std::size_t count) {
  std::size_t most = 0;
  for (std::size_t n = 1; n < count; ++n) {
    if (moments[n][place] > moments[most][place]) most = n;
  }
  if (most == 0 || most + 1 >= count) return {static_cast<double>(most), moments[most][place]};
  const Vertex top =
      vertex(moments[most - 1][place], moments[most][place], moments[most + 1][place]);
  return {static_cast<double>(most) + top.steps, top.height};
}

/// Level up to the ray's burst centre: of the maximum before it, or of the envelope at it.
double early_level_dB(const std::vector<std::vector<double>>& moments, std::size_t place,
                      double centre_index) {
  const auto before = static_cast<std::size_t>(std::floor(centre_index));
  const double share = centre_index - static_cast<double>(before);
  const double at_centre =
      (1 - share) * moments[before][place] + share * moments[before + 1][place];
  return to_dB(std::max(greatest(moments, place, before + 1).amplitude, at_centre));
}

WaveResponse read_off(const CentralRay& ray, const Grids& grids,
                      const std::vector<std::vector<double>>& moments) {
  WaveResponse response;
  response.ray_spacing_m = ray.spacing_m;
  response.grid = {grids.burst.frequency_Hz.size(), grids.nodes.size(), grids.offsets.count,
                   grids.times};
  std::vector<double> levels_dB, early_dB;
  const double centre_index = -grids.first_time_s / grids.time_step_s;
  for (std::size_t i = 0; i < grids.offsets.count; ++i) {
    const Moment top = greatest(moments, i, grids.times);
    levels_dB.push_back(to_dB(top.amplitude));
    early_dB.push_back(early_level_dB(moments, i, centre_index));
    response.levels.push_back({ray.spacing_m + grids.offsets.at(i), levels_dB[i], early_dB[i],
                               grids.first_time_s + top.index * grids.time_step_s});
  }
  response.at_ray = response.levels[static_cast<std::size_t>(
      std::lround(-grids.offsets.first_m / grids.offsets.step_m))];
  const auto offset_m = [&](double index) {
    return grids.offsets.first_m + index * grids.offsets.step_m;
  };
  const Peak best = peak_of(levels_dB), early = peak_of(early_dB);
  const IndexWindow narrow = window_of(levels_dB, best, 3), wide = window_of(levels_dB, best, 6);
  response.best_offset_m = offset_m(best.index);
  response.best_level_dB = best.level_dB;
  response.best_delay_s =
      response.levels[static_cast<std::size_t>(std::lround(best.index))].peak_delay_s;
  response.early_best_offset_m = offset_m(early.index);
  response.early_best_level_dB = early.level_dB;
  response.within_3_dB = {offset_m(narrow.from), offset_m(narrow.to)};
  response.within_6_dB = {offset_m(wide.from), offset_m(wide.to)};
  return response;
}

}  // namespace

WaveResponse wave_response(const SoundPath& path, const WaveOptions& options) {
  check(options);
  const CentralRay ray = central_ray(path);
  const Grids grids = grids_of(path, ray, options);
  const Layers layers(path, options);

  // Nearly all the work is the sum over angles; the envelopes get the last tenth of the progress.
  const std::size_t frequencies = grids.burst.frequency_Hz.size();
  const std::size_t parts = (frequencies + frequencies_at_once - 1) / frequencies_at_once;
  const auto report = [&](double done) {
    if (options.progress) options.progress(done);
  };
  std::vector<OffsetRow> rows(frequencies, OffsetRow(grids.offsets.count));
  for_all(
      parts, options.threads,
      [&](std::size_t part) {
        const std::size_t first = part * frequencies_at_once;
        sum_over_angles(path, ray, layers, grids, first,
                        std::min(first + frequencies_at_once, frequencies), rows);
      },
      [&](std::size_t done) {
        report(0.9 * static_cast<double>(done) / static_cast<double>(parts));
      });

  std::vector<std::vector<double>> moments(grids.times, std::vector<double>(grids.offsets.count));
  for_all(
      grids.times, options.threads,
      [&](std::size_t n) {
        envelope_at(grids.burst, rows,
                    grids.first_time_s + static_cast<double>(n) * grids.time_step_s, moments[n]);
      },
      nullptr);
  WaveResponse response = read_off(ray, grids, moments);
  report(1);
  return response;
}

Complex steady_response(const SoundPath& path, double exit_spacing_m, double frequency_Hz,
                        const WaveOptions& options) {
  check(options);
  const CentralRay ray = central_ray(path);
  const double offset_m = exit_spacing_m - ray.spacing_m;
  const std::vector<AngleNode> nodes = angle_nodes(
      path, angle_step_rad(path, reach_m(path, ray, std::abs(offset_m)), steady_phase_rad) /
                options.refinement);
  const Layers layers(path, options);
  const StackMedia media = layers.media(frequency_Hz);
  const OpenPath open(path, ray, frequency_Hz);
  Complex sum;
  for (const AngleNode& node : nodes) {
    const double p = node.ray_parameter_s_m;
    sum += open.amplitude(node, offset_m,
                          layers.coefficients(layers.interfaces(p), media, p, frequency_Hz),
                          layers.time_s(media, p));
  }
  const double ray_time_s = ray.time_s + ray.ray_parameter_s_m * offset_m;
  return sum * phasor(2 * pi * frequency_Hz * ray_time_s);
}

}  // namespace slantrule
