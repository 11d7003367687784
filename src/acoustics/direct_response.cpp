#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>
#include <vector>

#include "angular_spectrum.hpp"
#include "direct_path.hpp"
#include "slantrule/acoustics/wave_response.hpp"
#include "small_complex.hpp"

namespace slantrule {

using namespace detail;

namespace detail {

Complex power(Complex z, int n) {
  Complex result = 1;
  for (; n > 0; --n) result = times(result, z);
  return result;
}

namespace {

/// Do the path's modes run in all layers? Waves that only tunnel are no part of the direct path;
/// among them are the poles of half-spaces (Rayleigh waves), which the layers do not have.
bool runs_everywhere(const SoundPath& path, double p) {
  for (std::size_t i = 0; i < path.layer_count; ++i) {
    if (std::abs(p) * path.layers[i].sound_speed_m_s() >= 1) return false;
  }
  return true;
}

}  // namespace

Complex direct_coefficients(const SoundPath& path, const StackMedia& media,
                            const StackInterfaces& interfaces, double p, double frequency_Hz) {
  const auto mode = [&](std::size_t i) { return path.layers[i].mode; };
  if (!runs_everywhere(path, p)) return 0;
  const LayerPhase film = layer_phase(media.film, media.film_thickness_m, p, frequency_Hz);
  Complex way =
      entry_contact(interfaces, film).transmission_down.at(mode(0), WaveMode::longitudinal);
  const std::size_t last = path.layer_count - 1;
  for (std::size_t i = 0; i < last; ++i) {
    way = times(way, interfaces.below[i].transmission_down.at(mode(i + 1), mode(i)));
  }
  const Interface& face = interfaces.below[last];
  way = times(way, face.transmission_down.at(WaveMode::longitudinal, mode(last)));
  return times(times(way, way), power(face.reflection_below.value[0], path.traverses - 1));
}

Complex direct_layers_s(const SoundPath& path, const StackMedia& media, double p) {
  Complex sum;
  for (std::size_t i = 0; i < path.layer_count; ++i) {
    const WaveMedium& medium = media.layers[i];
    const bool shear = path.layers[i].mode == WaveMode::shear;
    sum += 2 * media.thickness_m[i] *
           vertical_slowness_s_m(shear ? medium.shear_s_m : medium.longitudinal_s_m, p);
  }
  return sum;
}

}  // namespace detail

namespace {

constexpr double as_stated = std::numeric_limits<double>::infinity();

/// Half the window of 6 dB, roughly: the shadow of the element at short range, its divergence at
/// long range.
double half_window_m(const SoundPath& path, const CentralRay& ray) {
  const double cosine = std::cos(path.wedge_angle_rad);
  const double near_m = 0.5 * path.element_m / cosine;
  const double far_m = 2.783 * ray.spread_m2_s * cosine /
                       (2 * std::numbers::pi * path.frequency_Hz * path.element_m);
  return std::hypot(near_m, far_m);
}

/// Levels and delays of the direct path over one grid of offsets.
struct DirectCurve {
  OffsetGrid offsets;
  std::vector<double> level_dB;
  std::vector<double> delay_s;
};

struct PlaneWave {
  AngleNode node;
  Complex coefficients;
};

/// Those of the plane waves that have a direct path.
std::vector<PlaneWave> direct_waves(const SoundPath& path, const std::vector<AngleNode>& nodes) {
  const StackMedia media = stack_media(path, path.frequency_Hz, as_stated);
  std::vector<PlaneWave> waves;
  waves.reserve(nodes.size());
  for (const AngleNode& node : nodes) {
    const double p = node.ray_parameter_s_m;
    const Complex coefficients =
        direct_coefficients(path, media, stack_interfaces(media, p), p, path.frequency_Hz);
    if (coefficients != 0.0) waves.push_back({node, coefficients});
  }
  return waves;
}

std::vector<OffsetRow> direct_rows(const SoundPath& path, const CentralRay& ray,
                                   const BurstSpectrum& burst, const OffsetGrid& offsets,
                                   double refinement) {
  const double reach_m =
      beam_reach_m(path, ray.spacing_m) + offsets.step_m * static_cast<double>(offsets.count);
  // The sum over angles repeats itself along the pipe after 2 pi/3 of the reach: twice what the
  // beam and the grid cover.
  const std::vector<PlaneWave> waves =
      direct_waves(path, angle_nodes(path, angle_step_rad(path, reach_m, 3.0) / refinement));
  std::vector<OffsetRow> rows;
  for (const double frequency_Hz : burst.frequency_Hz) {
    const StackMedia media = stack_media(path, frequency_Hz, as_stated);
    const OpenPath open(path, ray, frequency_Hz);
    OffsetRow& row = rows.emplace_back(offsets.count);
    for (const auto& [node, coefficients] : waves) {
      const Complex layers_s = direct_layers_s(path, media, node.ray_parameter_s_m);
      row.add_geometric(open.amplitude(node, offsets.first_m, coefficients, layers_s),
                        open.ratio(node, offsets.step_m));
    }
  }
  return rows;
}

DirectCurve direct_curve(const SoundPath& path, const CentralRay& ray, const OffsetGrid& offsets,
                         double refinement) {
  // Only the direct burst is there, so a few burst lengths hold everything.
  const double length_s = burst_length_s(path);
  const BurstSpectrum burst =
      burst_spectrum(path.frequency_Hz, path.cycles, 1 / (3 * refinement * length_s));
  const std::vector<OffsetRow> rows = direct_rows(path, ray, burst, offsets, refinement);

  const double time_step_s = length_s / (16 * refinement);
  const int each_side = static_cast<int>(8 * refinement);
  std::vector<std::vector<double>> moments;
  for (int i = -each_side; i <= each_side; ++i) {
    envelope_at(burst, rows, i * time_step_s, moments.emplace_back(offsets.count));
  }
  DirectCurve curve{offsets, {}, {}};
  for (std::size_t i = 0; i < offsets.count; ++i) {
    std::size_t most = 0;
    for (std::size_t n = 1; n < moments.size(); ++n) {
      if (moments[n][i] > moments[most][i]) most = n;
    }
    const std::size_t middle = std::clamp<std::size_t>(most, 1, moments.size() - 2);
    const Vertex top = vertex(moments[middle - 1][i], moments[middle][i], moments[middle + 1][i]);
    const double height = most == middle ? top.height : moments[most][i];
    curve.level_dB.push_back(to_dB(height));
    curve.delay_s.push_back(
        (static_cast<double>(middle) - each_side + (most == middle ? top.steps : 0)) * time_step_s);
  }
  return curve;
}

/// The window of the whole computation was never narrower than 0.70 of the beam's own, over 120 000
/// paths whose beam keeps off the layers' critical angles by so many of its lobes; nearer to them
/// slopes at the ray tell less (both judged with a margin).
constexpr double longitudinal_lobes = 1.1, shear_lobes = 0.75;
constexpr double narrowest_part = 0.6, narrowest_part_near = 0.4;

/// How far the nearest critical angle of a wave of the layers lies off the beam's axis, in lobes.
double critical_lobes(const SoundPath& path, double AcousticMedium::*speed) {
  const double lobe = path.wedge.longitudinal_m_s / (path.frequency_Hz * path.element_m);
  double nearest = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < path.layer_count; ++i) {
    const double speed_m_s = path.layers[i].medium.*speed;
    if (speed_m_s <= path.wedge.longitudinal_m_s) continue;
    const double critical_rad = std::asin(path.wedge.longitudinal_m_s / speed_m_s);
    nearest = std::min(nearest, std::fabs(critical_rad - path.wedge_angle_rad) / lobe);
  }
  return nearest;
}

}  // namespace

double narrowest_half_window_3_dB_m(const SoundPath& path) {
  const bool clear =
      critical_lobes(path, &AcousticMedium::longitudinal_m_s) >= longitudinal_lobes &&
      critical_lobes(path, &AcousticMedium::shear_m_s) >= shear_lobes;
  return (clear ? narrowest_part : narrowest_part_near) * half_window_m(path, central_ray(path));
}

DirectResponse direct_response(const SoundPath& path, double refinement) {
  if (!(refinement > 0)) throw std::invalid_argument("refinement must be positive");
  const CentralRay ray = central_ray(path);
  double below_m = 2 * half_window_m(path, ray), above_m = below_m;
  constexpr int most_attempts = 5;
  for (int attempt = 1;; ++attempt) {
    const auto count = lanes * static_cast<std::size_t>(std::ceil(6 * refinement));
    const double step_m = (below_m + above_m) / static_cast<double>(count - 1);
    const double first_step = std::round(below_m / step_m);
    const DirectCurve curve =
        direct_curve(path, ray, {-first_step * step_m, step_m, count}, refinement);
    const Peak peak = peak_of(curve.level_dB);
    const IndexWindow narrow = window_of(curve.level_dB, peak, 3);
    const IndexWindow wide = window_of(curve.level_dB, peak, 6);
    if ((wide.open_below || wide.open_above) && attempt < most_attempts) {
      if (wide.open_below) below_m *= 2;
      if (wide.open_above) above_m *= 2;
      continue;
    }
    const auto offset_m = [&](double index) { return curve.offsets.first_m + index * step_m; };
    const auto at_ray = static_cast<std::size_t>(first_step);
    return {.ray_spacing_m = ray.spacing_m,
            .best_offset_m = offset_m(peak.index),
            .within_3_dB = {offset_m(narrow.from), offset_m(narrow.to)},
            .within_6_dB = {offset_m(wide.from), offset_m(wide.to)},
            .loss_at_ray_dB = -curve.level_dB[at_ray],
            .loss_at_best_dB = -peak.level_dB,
            .delay_at_ray_s = curve.delay_s[at_ray]};
  }
}

}  // namespace slantrule
