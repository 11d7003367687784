#include "slantrule/acoustics/signal_budget.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <span>
#include <stdexcept>

#include "slantrule/acoustics/beam.hpp"

namespace slantrule {
namespace {

constexpr double pi = std::numbers::pi;
constexpr double dB_per_neper = 20 / std::numbers::ln10;

// Judged; see BudgetUncertainty.
constexpr double model_u_dB = 0.7;
constexpr double reverberation_u_dB = 2;
constexpr double unknown_film_m = 1e-4;
constexpr AcousticMedium unknown_couplant{
    .density_kg_m3 = 1100, .longitudinal_m_s = 1800, .shear_m_s = 0};

double square(double x) {
  return x * x;
}

/// A straight piece of the ray in one medium: `depth_m` across the pipe, crossed `times`.
struct Piece {
  double depth_m;
  double speed_m_s;
  double cosine;
  double absorption_dB_m;
  double absorption_relative_u;
  int times;

  double length_m() const { return times * depth_m / cosine; }
  double loss_dB() const { return absorption_dB_m * length_m(); }
  /// d(run)/dp = h s^2/q^3 = h c/cos^3
  double slope_m2_s() const { return length_m() * speed_m_s / square(cosine); }
  /// d(length)/dp = h s p/q^3 = h p c^2/cos^3
  double loss_slope_dB_m_s(double p) const {
    return absorption_dB_m * length_m() * p * square(speed_m_s / cosine);
  }
};

struct Pieces {
  std::array<Piece, most_layers + 2> all;  ///< layers, liquid, wedge
  std::size_t layer_count;
  const Piece& liquid() const { return all[layer_count]; }
  const Piece& wedge() const { return all[layer_count + 1]; }
  std::size_t size() const { return layer_count + 2; }
};

Pieces pieces_of(const SoundPath& path, const RayPath& ray) {
  const auto piece = [&](double depth_m, double speed_m_s, double cosine,
                         const Absorption& absorption, int times) {
    const double dB_m = absorption.dB_m > 0 ? absorption.at(path.frequency_Hz) : 0;
    return Piece{depth_m, speed_m_s, cosine, dB_m, absorption.relative_u, times};
  };
  // A leg's time is depth / (speed cosine).
  const auto crossed = [&](double depth_m, double speed_m_s, const Leg& leg,
                           const Absorption& absorption, int times) {
    return piece(depth_m, speed_m_s, depth_m / (speed_m_s * leg.time_s), absorption, times);
  };
  Pieces pieces{};
  pieces.layer_count = path.layer_count;
  for (std::size_t i = 0; i < path.layer_count; ++i) {
    const PathLayer& layer = path.layers[i];
    const Absorption& absorption = layer.mode == WaveMode::shear
                                       ? layer.medium.shear_absorption
                                       : layer.medium.longitudinal_absorption;
    pieces.all[i] =
        crossed(layer.thickness_m, layer.sound_speed_m_s(), ray.layer_legs[i], absorption, 2);
  }
  pieces.all[path.layer_count] = crossed(path.bore_m, path.liquid.longitudinal_m_s, ray.liquid_leg,
                                         path.liquid.longitudinal_absorption, path.traverses);
  const double wedge_cosine = std::cos(path.wedge_angle_rad);
  pieces.all[path.layer_count + 1] =
      piece(path.wedge_path_m * wedge_cosine, path.wedge.longitudinal_m_s, wedge_cosine,
            path.wedge.longitudinal_absorption, 2);
  return pieces;
}

void check(const SoundPath& path) {
  if (!(path.frequency_Hz > 0 && std::isfinite(path.frequency_Hz))) {
    throw std::invalid_argument("frequency must be positive");
  }
  if (path.cycles < 1) throw std::invalid_argument("cycles of the burst must be 1 or more");
  if (!(path.element_m > 0 && std::isfinite(path.element_m))) {
    throw std::invalid_argument("element must be positive");
  }
  if (!(path.element_width_m > 0 && std::isfinite(path.element_width_m))) {
    throw std::invalid_argument("element width must be positive");
  }
}

void add(SignalBudget& budget, BudgetItem item, double loss_dB, std::size_t layer = 0) {
  budget.parts[budget.part_count++] = {item, layer, loss_dB};
  budget.loss_dB += loss_dB;
}

WaveMode first_mode(const SoundPath& path) {
  return path.layer_count > 0 ? path.layers[0].mode : WaveMode::longitudinal;
}

void add_interfaces(SignalBudget& budget, const SoundPath& path, const PathInterfaces& at) {
  const LayerModes modes = layer_modes(path);
  const double slip_dB = 2 * amplitude_loss_dB(at.slip(first_mode(path)));
  add(budget, BudgetItem::wedge_interface, slip_dB);
  if (path.couplant) {
    const double film_dB = 2 * amplitude_loss_dB(at.entry(first_mode(path)));
    add(budget, BudgetItem::couplant, film_dB - slip_dB);
  }
  for (std::size_t i = 1; i <= path.layer_count; ++i) {
    const bool liquid = i == path.layer_count;
    add(budget, liquid ? BudgetItem::liquid_interface : BudgetItem::layer_interface,
        2 * amplitude_loss_dB(at.into(i, modes)), liquid ? 0 : i);
  }
  budget.bounce_loss_dB = amplitude_loss_dB(at.inner_reflection());
  if (path.traverses > 1) {
    add(budget, BudgetItem::bounces, (path.traverses - 1) * budget.bounce_loss_dB);
  }
}

void add_absorption(SignalBudget& budget, const Pieces& pieces) {
  for (std::size_t i = 0; i < pieces.layer_count; ++i) {
    add(budget, BudgetItem::layer_absorption, pieces.all[i].loss_dB(), i);
  }
  add(budget, BudgetItem::liquid_absorption, pieces.liquid().loss_dB());
  add(budget, BudgetItem::wedge_absorption, pieces.wedge().loss_dB());
}

/// What the beam's spreading goes with, summed over pieces.
struct Spreading {
  double slope_m2_s = 0;   // d(spacing)/dp, wedges included
  double across_m2_s = 0;  // length times speed

  void add(const Piece& piece) {
    slope_m2_s += piece.slope_m2_s();
    across_m2_s += piece.length_m() * piece.speed_m_s;
  }
};

void set_spreading(SignalBudget& budget, const SoundPath& path, const Spreading& all,
                   const Piece& wedge) {
  budget.beam_slope_m2_s = all.slope_m2_s;
  budget.spacing_slope_m2_s = all.slope_m2_s - wedge.slope_m2_s();
  const double w = 2 * pi * path.frequency_Hz;
  budget.beam_length_m = path.element_m / wedge.cosine;
  budget.inverse_fresnel_in_plane = all.slope_m2_s / (w * square(budget.beam_length_m));
  budget.inverse_fresnel_across = all.across_m2_s / (w * square(path.element_width_m));
}

double spreading_dB(double inverse_fresnel) {
  return amplitude_loss_dB(two_aperture_magnitude(0, inverse_fresnel));
}

void add_spreading(SignalBudget& budget, const SoundPath& path, const Pieces& pieces) {
  Spreading all;
  for (std::size_t i = 0; i < pieces.size(); ++i) all.add(pieces.all[i]);
  set_spreading(budget, path, all, pieces.wedge());
  add(budget, BudgetItem::spreading_in_plane, spreading_dB(budget.inverse_fresnel_in_plane));
  add(budget, BudgetItem::spreading_across, spreading_dB(budget.inverse_fresnel_across));
}

void find_outer_bounces(SignalBudget& budget, const SoundPath& path, const RayPath& ray,
                        const Pieces& pieces, const PathInterfaces& at) {
  const LayerModes modes = layer_modes(path);
  OuterBounce way{};  // to the upper face of layer i and back
  for (std::size_t i = path.layer_count; i-- > 0;) {
    way.added_spacing_m += 2 * ray.layer_legs[i].run_m;
    way.added_time_s += 2 * ray.layer_legs[i].time_s;
    way.added_slope_m2_s += pieces.all[i].slope_m2_s();
    way.loss_dB += pieces.all[i].loss_dB();
    budget.outer_bounces[i] = way;
    budget.outer_bounces[i].loss_dB += amplitude_loss_dB(at.outer_reflection(i, modes));
  }
}

/// What a film of unknown thickness may cost at both ends.
double unknown_film_loss_dB(const SoundPath& path, const RayPath& ray, const PathInterfaces& at) {
  const double p = ray.ray_parameter_s_m;
  const double f = path.frequency_Hz;
  const std::array<Complex, 2> film = film_transmission(
      partial_waves(wave_medium(path.wedge, f), p), wave_medium(unknown_couplant, f),
      unknown_film_m, 2 * pi * f, partial_waves(wave_medium(path.layers[0].medium, f), p), p);
  const WaveMode mode = first_mode(path);
  return 2 * (amplitude_loss_dB(film[static_cast<std::size_t>(mode)]) -
              amplitude_loss_dB(at.slip(mode)));
}

bool echoes_overlap(const SoundPath& path, const RayPath& ray) {
  const double burst_s = path.cycles / path.frequency_Hz;
  for (std::size_t i = 0; i < path.layer_count; ++i) {
    const double delay_s = 2 * path.layers[i].thickness_m * std::cos(ray.layer_legs[i].angle_rad) /
                           path.layers[i].sound_speed_m_s();
    if (delay_s < burst_s) return true;
  }
  return false;
}

BudgetUncertainty uncertainty_of(const SignalBudget& budget, const SoundPath& path,
                                 const RayPath& ray, const Pieces& pieces,
                                 const PathInterfaces& at) {
  BudgetUncertainty u{};
  u.model_dB = model_u_dB;
  double absorption = 0;
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    absorption += square(pieces.all[i].loss_dB() * pieces.all[i].absorption_relative_u);
  }
  u.absorption_dB = std::sqrt(absorption);
  if (path.couplant) {
    for (std::size_t i = 0; i < budget.part_count; ++i) {
      if (budget.parts[i].item == BudgetItem::couplant) {
        u.couplant_dB = std::fabs(budget.parts[i].loss_dB) / 2;
      }
    }
  } else {
    u.couplant_dB = std::fabs(unknown_film_loss_dB(path, ray, at)) / std::sqrt(12.0);
  }
  u.reverberation_dB = echoes_overlap(path, ray) ? reverberation_u_dB : 0;
  u.combined_dB = std::sqrt(square(u.model_dB) + absorption + square(u.couplant_dB) +
                            square(u.reverberation_dB));
  return u;
}

/// ln of the coefficients' product at p above, over that at p below.
Complex log_ratio(const PathInterfaces& above, const PathInterfaces& below, const SoundPath& path) {
  const LayerModes modes = layer_modes(path);
  const auto logarithm = [](Complex high, Complex low) {
    return high == 0.0 || low == 0.0 ? Complex{0, 0} : std::log(high / low);
  };
  return 2.0 * logarithm(above.transmission(modes), below.transmission(modes)) +
         (path.traverses - 1.0) * logarithm(above.inner_reflection(), below.inner_reflection());
}

void find_placement(SignalBudget& budget, const SoundPath& path, const RayPath& ray,
                    const Pieces& pieces) {
  const PathMedia media = path_media(path);
  const double p = ray.ray_parameter_s_m;
  const double w = media.angular_frequency;
  // sigma_p^2 = 6/(k a)^2 (cos/c_w)^2, the spread of the beam's ray parameters.
  const double spread = std::sqrt(6.0) / (w * budget.beam_length_m);
  // The slope over a small part of the beam: a critical angle nearby does not make it infinite.
  const double step = std::min(spread / 16, p / 100);
  const Complex change =
      log_ratio(path_interfaces(media, p + step), path_interfaces(media, p - step), path);
  double absorption_slope_dB = 0;
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    absorption_slope_dB += pieces.all[i].loss_slope_dB_m_s(p);
  }
  const double log_slope = change.real() / (2 * step) - absorption_slope_dB / dB_per_neper;
  budget.phase_shift_m = -change.imag() / (2 * step * w);
  budget.slope_shift_m = spread * spread * budget.beam_slope_m2_s * log_slope;
  const HalfWindows windows = half_windows(budget.inverse_fresnel_in_plane);
  budget.half_window_3_dB_m = windows.minus_3_dB * budget.beam_length_m;
  budget.half_window_6_dB_m = windows.minus_6_dB * budget.beam_length_m;
}

}  // namespace

std::string_view budget_item_name(BudgetItem item) {
  switch (item) {
    case BudgetItem::wedge_interface:
      return "wedge to pipe";
    case BudgetItem::couplant:
      return "couplant film";
    case BudgetItem::layer_interface:
      return "layer to layer";
    case BudgetItem::liquid_interface:
      return "into the liquid";
    case BudgetItem::bounces:
      return "reflections";
    case BudgetItem::wedge_absorption:
      return "absorption in the wedges";
    case BudgetItem::layer_absorption:
      return "absorption in the layer";
    case BudgetItem::liquid_absorption:
      return "absorption in the liquid";
    case BudgetItem::spreading_in_plane:
      return "spreading along the pipe";
    case BudgetItem::spreading_across:
      return "spreading across the pipe";
  }
  return "";
}

SignalBudget signal_budget(const SoundPath& path, const RayPath& ray, BudgetDetail detail) {
  check(path);
  return signal_budget(path, ray, path_interfaces(path_media(path), ray.ray_parameter_s_m), detail);
}

SignalBudget signal_budget(const SoundPath& path, const RayPath& ray, const PathInterfaces& at,
                           BudgetDetail detail) {
  check(path);
  const Pieces pieces = pieces_of(path, ray);
  SignalBudget budget;
  add_interfaces(budget, path, at);
  add_absorption(budget, pieces);
  add_spreading(budget, path, pieces);
  find_outer_bounces(budget, path, ray, pieces, at);
  budget.uncertainty = uncertainty_of(budget, path, ray, pieces, at);
  if (detail == BudgetDetail::placement) find_placement(budget, path, ray, pieces);
  return budget;
}

LossByTraverses::LossByTraverses(const SoundPath& path, const RayPath& ray,
                                 const PathInterfaces& at) {
  check(path);
  const Pieces pieces = pieces_of(path, ray);
  SignalBudget budget;
  add_interfaces(budget, path, at);
  per_bounce_dB_ = budget.bounce_loss_dB;
  fixed_dB_ = budget.loss_dB - (path.traverses - 1) * per_bounce_dB_;
  Piece traverse = pieces.liquid();
  traverse.times = 1;
  per_traverse_dB_ = traverse.loss_dB();
  Spreading fixed, per_traverse;
  per_traverse.add(traverse);
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    if (i == pieces.layer_count) continue;
    fixed.add(pieces.all[i]);
    fixed_dB_ += pieces.all[i].loss_dB();
  }
  const double w = 2 * pi * path.frequency_Hz;
  const double in_plane = w * square(path.element_m / pieces.wedge().cosine);
  const double across = w * square(path.element_width_m);
  fixed_in_plane_ = fixed.slope_m2_s / in_plane;
  fixed_across_ = fixed.across_m2_s / across;
  in_plane_per_traverse_ = per_traverse.slope_m2_s / in_plane;
  across_per_traverse_ = per_traverse.across_m2_s / across;
}

double LossByTraverses::without_spreading_dB(int traverses) const {
  return fixed_dB_ + traverses * per_traverse_dB_ + (traverses - 1) * per_bounce_dB_;
}

double LossByTraverses::loss_dB(int traverses) const {
  return without_spreading_dB(traverses) +
         spreading_dB(fixed_in_plane_ + traverses * in_plane_per_traverse_) +
         spreading_dB(fixed_across_ + traverses * across_per_traverse_);
}

double LossByTraverses::least_loss_dB(int traverses) const {
  // |F(0, u)| <= 1/sqrt(2 pi u): the modulus of the convolution is at most that of its kernel.
  const double in_plane = 2 * pi * (fixed_in_plane_ + traverses * in_plane_per_traverse_);
  const double across = 2 * pi * (fixed_across_ + traverses * across_per_traverse_);
  return without_spreading_dB(traverses) +
         dB_per_neper / 2 * std::log(std::max(in_plane, 1.0) * std::max(across, 1.0));
}

double misplacement_loss_dB(const SignalBudget& budget, double offset_m) {
  const double u = budget.inverse_fresnel_in_plane;
  return amplitude_loss_dB(two_aperture_magnitude(offset_m / budget.beam_length_m, u)) -
         amplitude_loss_dB(two_aperture_magnitude(0, u));
}

}  // namespace slantrule
