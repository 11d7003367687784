#include "angular_spectrum.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <string>

#include "small_complex.hpp"

namespace slantrule::detail {

namespace {

constexpr double pi = std::numbers::pi;

/// Angles in the wedge beyond this are left out.
constexpr double furthest_rad = 85 * pi / 180;

void require(bool ok, const char* what) {
  if (!ok) throw std::invalid_argument(what);
}

bool positive(double x) {
  return std::isfinite(x) && x > 0;
}

/// tan of the ray in a layer, kept finite where the wave hardly runs or does not.
double layer_tangent(double ray_parameter_s_m, double speed_m_s) {
  constexpr double steepest = 5;
  const double sine = ray_parameter_s_m * speed_m_s;
  if (std::abs(sine) >= 1) return std::copysign(steepest, sine);
  return std::clamp(sine / std::sqrt(1 - sine * sine), -steepest, steepest);
}

/// Exit spacing of the ray with this ray parameter; layers near grazing are kept finite.
double spacing_of_ray_m(const SoundPath& path, double p) {
  double spacing_m = path.traverses * path.bore_m * layer_tangent(p, path.liquid.longitudinal_m_s);
  for (std::size_t i = 0; i < path.layer_count; ++i) {
    spacing_m +=
        2 * path.layers[i].thickness_m * layer_tangent(p, path.layers[i].sound_speed_m_s());
  }
  return spacing_m;
}

/// dS/dp of a leg.
double leg_spread(double height_m, double speed_m_s, double ray_parameter_s_m) {
  const double sine = ray_parameter_s_m * speed_m_s;
  return height_m * speed_m_s / std::pow(1 - sine * sine, 1.5);
}

/// sin(x)/x, squared.
double sinc_squared(double x) {
  if (std::abs(x) < 1e-4) return 1 - x * x / 3;
  const double s = std::sin(x) / x;
  return s * s;
}

void check(const SoundPath& path) {
  require(path.layer_count > 0, "the path has no wall between wedge and liquid");
  require(positive(path.element_m), "the length of the element must be positive");
  require(positive(path.frequency_Hz), "the frequency must be positive");
  require(path.cycles >= 1, "the burst must have one cycle or more");
  require(positive(path.wedge.density_kg_m3) && positive(path.liquid.density_kg_m3),
          "wedge and liquid must have a density");
  for (std::size_t i = 0; i < path.layer_count; ++i) {
    require(positive(path.layers[i].medium.density_kg_m3), "each layer must have a density");
  }
  require(!path.couplant || (positive(path.couplant->medium.density_kg_m3) &&
                             positive(path.couplant->medium.longitudinal_m_s)),
          "the couplant must have a density and a speed of sound");
  require(path.wedge.longitudinal_m_s >= path.liquid.longitudinal_m_s,
          "a wedge slower than the liquid is outside this model");
}

}  // namespace

CentralRay central_ray(const SoundPath& path) {
  check(path);
  const auto traced = trace_ray(path);
  if (const NoRay* none = std::get_if<NoRay>(&traced)) {
    throw std::invalid_argument(
        none->layer < path.layer_count
            ? "no ray: the wave of layer " + std::to_string(none->layer + 1) +
                  " does not run at this wedge angle"
            : "no ray: sound does not enter the liquid at this wedge angle");
  }
  const RayPath& ray = std::get<RayPath>(traced);
  const double p = ray.ray_parameter_s_m;
  double spread = leg_spread(path.traverses * path.bore_m, path.liquid.longitudinal_m_s, p) +
                  leg_spread(2 * path.wedge_path_m * std::cos(path.wedge_angle_rad),
                             path.wedge.longitudinal_m_s, p);
  for (std::size_t i = 0; i < path.layer_count; ++i) {
    const PathLayer& layer = path.layers[i];
    spread += leg_spread(2 * layer.thickness_m, layer.sound_speed_m_s(), p);
  }
  return {p, ray.exit_spacing_m, ray.zero_flow_time_s, spread};
}

double beam_reach_m(const SoundPath& path, double spacing_m) {
  const double half_angle =
      std::min(3 * path.wedge.longitudinal_m_s / (path.frequency_Hz * path.element_m), pi / 4);
  double reach_m = 0;
  for (int i = -6; i <= 6; ++i) {
    const double angle =
        std::clamp(path.wedge_angle_rad + half_angle * i / 6, -furthest_rad, furthest_rad);
    const double p = std::sin(angle) / path.wedge.longitudinal_m_s;
    reach_m = std::max(reach_m, std::abs(spacing_of_ray_m(path, p) - spacing_m));
  }
  return reach_m;
}

double angle_step_rad(const SoundPath& path, double reach_m, double phase_rad) {
  const double highest_Hz = path.frequency_Hz * (1 + 2.6 / path.cycles);
  return phase_rad * path.wedge.longitudinal_m_s /
         (2 * pi * highest_Hz * std::cos(path.wedge_angle_rad) * reach_m);
}

std::vector<AngleNode> angle_nodes(const SoundPath& path, double step_rad) {
  constexpr double taper = 0.12;  // of the range, at each end
  const double lobe = path.wedge.longitudinal_m_s / (path.frequency_Hz * path.element_m);
  const double half_range = std::min(pi / 4, std::max(8 * lobe, 14 * pi / 180));
  const double from = std::max(path.wedge_angle_rad - half_range, -furthest_rad);
  const double to = std::min(path.wedge_angle_rad + half_range, furthest_rad);
  const auto steps = static_cast<std::size_t>(std::ceil((to - from) / step_rad));
  const double step = (to - from) / static_cast<double>(steps);
  std::vector<AngleNode> nodes;
  nodes.reserve(steps);
  for (std::size_t i = 0; i < steps; ++i) {
    const double place = (static_cast<double>(i) + 0.5) / static_cast<double>(steps);
    const double edge = std::min({place, 1 - place, taper}) / taper;
    const double angle = from + place * (to - from);
    nodes.push_back({std::sin(angle) / path.wedge.longitudinal_m_s,
                     std::sin(angle - path.wedge_angle_rad),
                     step * 0.5 * (1 - std::cos(pi * edge))});
  }
  return nodes;
}

void OffsetRow::add_geometric(Complex amplitude, Complex ratio) {
  std::array<double, lanes> re, im;
  Complex term = amplitude, lanes_ratio = 1;
  for (std::size_t lane = 0; lane < lanes; ++lane) {
    re[lane] = term.real();
    im[lane] = term.imag();
    term = times(term, ratio);
    lanes_ratio = times(lanes_ratio, ratio);
  }
  const double a = lanes_ratio.real(), b = lanes_ratio.imag();
  for (std::size_t i = 0; i < real.size(); i += lanes) {
    double* const to_real = &real[i];
    double* const to_imaginary = &imaginary[i];
    for (std::size_t lane = 0; lane < lanes; ++lane) {
      to_real[lane] += re[lane];
      to_imaginary[lane] += im[lane];
      const double turned = re[lane] * a - im[lane] * b;
      im[lane] = re[lane] * b + im[lane] * a;
      re[lane] = turned;
    }
  }
}

double burst_length_s(const SoundPath& path) {
  return path.cycles / path.frequency_Hz;
}

BurstSpectrum burst_spectrum(double frequency_Hz, int cycles, double step_Hz) {
  const double length_s = cycles / frequency_Hz;
  // The spectrum of a Hann window falls to -32 dB at its second side lobe, 2.6 / length from the
  // middle.
  const auto each_side = static_cast<int>(std::floor(2.6 / length_s / step_Hz));
  BurstSpectrum burst{step_Hz, {}, {}};
  for (int i = -each_side; i <= each_side; ++i) {
    const double f = frequency_Hz + i * step_Hz;
    if (f < 0.05 * frequency_Hz) continue;
    const double d = i * step_Hz * length_s;
    double shape = 1 / (1 - d * d);
    if (std::abs(std::abs(d) - 1) < 1e-6) {
      shape = 0.5;  // limit of the product below
    } else if (d != 0) {
      shape *= std::sin(pi * d) / (pi * d);
    }
    burst.frequency_Hz.push_back(f);
    burst.weight.push_back(0.5 * length_s * shape * step_Hz);
  }
  return burst;
}

OpenPath::OpenPath(const SoundPath& path, const CentralRay& ray, double frequency_Hz)
    : angular_frequency_(2 * pi * frequency_Hz),
      wave_number_element_(angular_frequency_ / path.wedge.longitudinal_m_s * path.element_m),
      wedge_way_m_(2 * path.wedge_path_m),
      wedge_sine_(std::sin(path.wedge_angle_rad)),
      wedge_cosine_(std::cos(path.wedge_angle_rad)),
      liquid_way_m_(path.traverses * path.bore_m),
      ray_(ray),
      wedge_slowness_(wave_medium(path.wedge, frequency_Hz).longitudinal_s_m),
      liquid_slowness_(wave_medium(path.liquid, frequency_Hz).longitudinal_s_m) {}

Complex OpenPath::amplitude(const AngleNode& node, double offset_m, Complex layers,
                            Complex layers_s) const {
  const double p = node.ray_parameter_s_m;
  const Complex time_s =
      layers_s + liquid_way_m_ * vertical_slowness_s_m(liquid_slowness_, p) +
      wedge_way_m_ * (p * wedge_sine_ + wedge_cosine_ * vertical_slowness_s_m(wedge_slowness_, p)) +
      (p * ray_.spacing_m - ray_.time_s + (p - ray_.ray_parameter_s_m) * offset_m);
  const double beam = wave_number_element_ / (2 * pi) * node.weight_rad *
                      sinc_squared(0.5 * wave_number_element_ * node.sine_off_axis);
  return times(layers, beam * phasor(angular_frequency_ * time_s));
}

Complex OpenPath::ratio(const AngleNode& node, double step_m) const {
  return phasor(angular_frequency_ * (node.ray_parameter_s_m - ray_.ray_parameter_s_m) * step_m);
}

void envelope_at(const BurstSpectrum& burst, std::span<const OffsetRow> rows, double time_s,
                 std::span<double> envelope) {
  const Complex turn = phasor(-2 * pi * burst.step_Hz * time_s);
  const double a = turn.real(), b = turn.imag();
  for (std::size_t i = 0; i < envelope.size(); i += lanes) {
    std::array<double, lanes> re{}, im{};
    // Horner's rule, from the highest frequency down.
    for (std::size_t k = rows.size(); k-- > 0;) {
      const double* const from_real = &rows[k].real[i];
      const double* const from_imaginary = &rows[k].imaginary[i];
      const double weight = burst.weight[k];
      for (std::size_t lane = 0; lane < lanes; ++lane) {
        const double turned = re[lane] * a - im[lane] * b + weight * from_real[lane];
        im[lane] = re[lane] * b + im[lane] * a + weight * from_imaginary[lane];
        re[lane] = turned;
      }
    }
    for (std::size_t lane = 0; lane < lanes; ++lane) {
      envelope[i + lane] = std::sqrt(re[lane] * re[lane] + im[lane] * im[lane]);
    }
  }
}

double to_dB(double amplitude) {
  return 20 * std::log10(std::max(amplitude, 1e-300));
}

Vertex vertex(double before, double middle, double after) {
  const double curvature = before - 2 * middle + after;
  if (!(curvature < 0)) return {0, middle};
  const double steps = 0.5 * (before - after) / curvature;
  return {steps, middle - 0.25 * (before - after) * steps};
}

Peak peak_of(std::span<const double> levels_dB) {
  const auto most = static_cast<std::size_t>(std::max_element(levels_dB.begin(), levels_dB.end()) -
                                             levels_dB.begin());
  if (most == 0 || most + 1 == levels_dB.size()) {
    return {static_cast<double>(most), levels_dB[most]};
  }
  const Vertex top = vertex(levels_dB[most - 1], levels_dB[most], levels_dB[most + 1]);
  return {static_cast<double>(most) + top.steps, top.height};
}

IndexWindow window_of(std::span<const double> levels_dB, const Peak& peak, double fall_dB) {
  const double least_dB = peak.level_dB - fall_dB;
  const auto middle = static_cast<std::size_t>(std::lround(peak.index));
  const auto crossing = [&](std::size_t inside, std::size_t outside) {
    const double share = (levels_dB[inside] - least_dB) / (levels_dB[inside] - levels_dB[outside]);
    const auto from = static_cast<double>(inside);
    return outside > inside ? from + share : from - share;
  };
  std::size_t low = middle, high = middle;
  while (low > 0 && levels_dB[low - 1] >= least_dB) --low;
  while (high + 1 < levels_dB.size() && levels_dB[high + 1] >= least_dB) ++high;
  const bool open_below = low == 0, open_above = high + 1 == levels_dB.size();
  return {open_below ? 0 : crossing(low, low - 1),
          open_above ? static_cast<double>(high) : crossing(high, high + 1), open_below,
          open_above};
}

}  // namespace slantrule::detail
