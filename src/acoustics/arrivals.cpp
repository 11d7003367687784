#include "slantrule/acoustics/arrivals.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "slantrule/acoustics/beam.hpp"
#include "slantrule/acoustics/plate_waves.hpp"

namespace slantrule {
namespace {

constexpr double pi = std::numbers::pi;
constexpr int most_outer_bounces = 3;
constexpr int most_half_turns = 6;

/// Run, time and the like of a path, leg by leg.
struct Legs {
  double spacing_m = 0;
  double time_s = 0;
  double slope_m2_s = 0;   // d(spacing)/dp, wedges included
  double across_m2_s = 0;  // sum of length times speed
  double absorption_dB = 0;
  bool runs = true;

  void add(double depth_m, double speed_m_s, double p, double absorption_dB_m, double times) {
    const double sine = p * speed_m_s;
    if (sine >= 1) {
      runs = false;
      return;
    }
    const double cosine = std::sqrt((1 - sine) * (1 + sine));
    const double length_m = times * depth_m / cosine;
    spacing_m += length_m * sine;
    time_s += length_m / speed_m_s;
    slope_m2_s += length_m * speed_m_s / (cosine * cosine);
    across_m2_s += length_m * speed_m_s;
    absorption_dB += absorption_dB_m * length_m;
  }
};

/// One way to get from wedge to wedge.
struct Way {
  int traverses;
  LayerModes in, out;
  int outer_bounces = 0;
  std::size_t outer_layer = 0;
  double multiplicity = 1;  ///< equal ways that arrive together
};

double choose(int n, int k) {
  double product = 1;
  for (int i = 1; i <= k; ++i) product *= static_cast<double>(n - k + i) / i;
  return product;
}

bool has_mode(const AcousticMedium& medium, WaveMode mode) {
  return mode == WaveMode::longitudinal || medium.shear_m_s > 0;
}

class Finder {
 public:
  Finder(const SoundPath& path, const RayPath& ray, std::size_t wall_layer, double exit_spacing_m,
         const PathInterfaces& at, const SignalBudget& budget)
      : path_(path),
        p_(ray.ray_parameter_s_m),
        wall_(wall_layer),
        planned_m_(exit_spacing_m),
        modes_(layer_modes(path)),
        at_(at),
        budget_(budget) {
    found_.burst_s = path.cycles / path.frequency_Hz;
    find_reverberation(ray);
  }

  Arrivals run() {
    const Arrival nominal = arrival(ArrivalKind::nominal, 0, 0, way());
    found_.nominal_s = nominal.earliest_s;
    nominal_dB_ = *nominal.level_dB;
    keep(nominal);
    add_other_modes();
    add_outer_bounces();
    add_other_traverses();
    add_wall_sound();
    return sorted();
  }

  /// For troubling_arrivals.
  Arrivals run(const TroubleSought& sought) {
    const Legs nominal = legs_of(way());
    found_.nominal_s = nominal.time_s + p_ * (planned_m_ - nominal.spacing_m);
    nominal_dB_ = -budget_.loss_dB;
    for (std::size_t i = 0; i < path_.layer_count; ++i) {
      if (sought.other_wave[i]) add_other_modes(i);
    }
    for (int traverses : {path_.traverses - 2, path_.traverses + 2}) {
      if (traverses < 1) continue;
      const Way other = way_of(traverses);
      const Arrival timed =
          timed_arrival(ArrivalKind::other_traverses, 0, traverses, legs_of(other));
      if (meets_nominal(timed)) {
        keep_if_heard(ArrivalKind::other_traverses, 0, traverses, other);
      }
    }
    return sorted();
  }

 private:
  Way way_of(int traverses) const { return {.traverses = traverses, .in = modes_, .out = modes_}; }
  Way way() const { return way_of(path_.traverses); }

  Arrivals sorted() {
    const auto first = found_.all.begin();
    std::sort(first, first + static_cast<std::ptrdiff_t>(found_.count),
              [](const Arrival& a, const Arrival& b) { return a.earliest_s < b.earliest_s; });
    return found_;
  }

  void add_layer(Legs& legs, std::size_t i, WaveMode mode, double times) const {
    const PathLayer& layer = path_.layers[i];
    const bool shear = mode == WaveMode::shear;
    const Absorption& absorption =
        shear ? layer.medium.shear_absorption : layer.medium.longitudinal_absorption;
    legs.add(layer.thickness_m, shear ? layer.medium.shear_m_s : layer.medium.longitudinal_m_s, p_,
             absorption.at(path_.frequency_Hz), times);
  }

  Legs legs_of(const Way& way) const {
    Legs legs;
    legs.add(path_.bore_m, path_.liquid.longitudinal_m_s, p_,
             path_.liquid.longitudinal_absorption.at(path_.frequency_Hz), way.traverses);
    for (std::size_t i = 0; i < path_.layer_count; ++i) {
      add_layer(legs, i, way.in[i], 1);
      add_layer(legs, i, way.out[i], 1);
      if (way.outer_bounces > 0 && i >= way.outer_layer) {
        add_layer(legs, i, modes_[i], 2 * way.outer_bounces);
      }
    }
    // The beam crosses the wedges, but spacing is measured between its exits.
    const double spacing_m = legs.spacing_m;
    legs.add(path_.wedge_path_m * std::cos(path_.wedge_angle_rad), path_.wedge.longitudinal_m_s, p_,
             path_.wedge.longitudinal_absorption.at(path_.frequency_Hz), 2);
    legs.spacing_m = spacing_m;
    return legs;
  }

  double interface_loss_dB(const Way& way) const {
    const int inner = way.traverses - 1 - way.outer_bounces;
    double loss_dB = amplitude_loss_dB(at_.transmission(way.in)) +
                     amplitude_loss_dB(at_.transmission(way.out)) +
                     inner * amplitude_loss_dB(at_.inner_reflection());
    if (way.outer_bounces > 0) {
      loss_dB +=
          way.outer_bounces * amplitude_loss_dB(at_.outer_reflection(way.outer_layer, modes_));
    }
    return loss_dB - 20 * std::log10(way.multiplicity);
  }

  /// The arrival without its level.
  Arrival timed_arrival(ArrivalKind kind, std::size_t layer, int count, const Legs& legs) const {
    Arrival arrival{kind, layer, count, 0, 0, std::nullopt, legs.spacing_m, false};
    if (!legs.runs) return arrival;
    const double off_m = planned_m_ - legs.spacing_m;
    // Along the wave front as far as the two footprints meet, beyond that by a steeper or flatter
    // ray: T(S) to second order.
    const double beyond_m = std::max(0.0, std::fabs(off_m) - budget_.beam_length_m);
    arrival.earliest_s = arrival.latest_s =
        legs.time_s + p_ * off_m + beyond_m * beyond_m / (2 * legs.slope_m2_s);
    return arrival;
  }

  Arrival arrival(ArrivalKind kind, std::size_t layer, int count, const Way& way) const {
    const Legs legs = legs_of(way);
    Arrival arrival = timed_arrival(kind, layer, count, legs);
    if (!legs.runs) return arrival;
    const double off_m = planned_m_ - legs.spacing_m;
    const double w = 2 * pi * path_.frequency_Hz;
    const double length_m = budget_.beam_length_m;
    const double u_in_plane = legs.slope_m2_s / (w * length_m * length_m);
    const double u_across = legs.across_m2_s / (w * path_.element_width_m * path_.element_width_m);
    arrival.level_dB = -interface_loss_dB(way) - legs.absorption_dB -
                       amplitude_loss_dB(two_aperture_magnitude(off_m / length_m, u_in_plane)) -
                       amplitude_loss_dB(two_aperture_magnitude(0, u_across));
    return arrival;
  }

  bool meets_nominal(const Arrival& arrival) const {
    const double guard_s = found_.burst_s + found_.reverberation_s;
    return arrival.latest_s > found_.nominal_s - guard_s &&
           arrival.earliest_s < found_.nominal_s + guard_s;
  }

  void keep(Arrival arrival) {
    arrival.disturbs = arrival.kind != ArrivalKind::nominal && meets_nominal(arrival);
    found_.all[found_.count++] = arrival;
  }

  void keep_if_heard(ArrivalKind kind, std::size_t layer, int count, const Way& way) {
    const Arrival found = arrival(kind, layer, count, way);
    if (found.level_dB && *found.level_dB > nominal_dB_ - faintest_arrival_dB) keep(found);
  }

  void add_other_modes() {
    for (std::size_t i = 0; i < path_.layer_count; ++i) add_other_modes(i);
  }

  void add_other_modes(std::size_t i) {
    const WaveMode other = modes_[i] == WaveMode::shear ? WaveMode::longitudinal : WaveMode::shear;
    if (!has_mode(path_.layers[i].medium, other)) return;
    Way mixed = way();
    mixed.in[i] = other;
    Way both = mixed;
    both.out[i] = other;
    mixed.multiplicity = 2;
    keep_if_heard(ArrivalKind::mixed_mode, i, 0, mixed);
    keep_if_heard(ArrivalKind::other_mode, i, 0, both);
  }

  void add_outer_bounces() {
    const int bounces = path_.traverses - 1;
    for (std::size_t i = 0; i < path_.layer_count; ++i) {
      for (int outer = 1; outer <= std::min(bounces, most_outer_bounces); ++outer) {
        Way other = way();
        other.outer_bounces = outer;
        other.outer_layer = i;
        other.multiplicity = choose(bounces, outer);
        keep_if_heard(ArrivalKind::outer_bounce, i, outer, other);
      }
    }
  }

  void add_other_traverses() {
    for (int traverses : {path_.traverses - 2, path_.traverses + 2}) {
      if (traverses < 1) continue;
      keep_if_heard(ArrivalKind::other_traverses, 0, traverses, way_of(traverses));
    }
  }

  void add_wall_sound() {
    const SpeedBand speeds = wall_borne_speeds(path_.layers[wall_].medium);
    const double wedges_s = 2 * path_.wedge_path_m / path_.wedge.longitudinal_m_s;
    double diameter_m = path_.bore_m;
    for (std::size_t i = 0; i < path_.layer_count; ++i) {
      diameter_m += 2 * path_.layers[i].thickness_m;
    }
    const int first = path_.traverses % 2 == 0 ? 0 : 1;
    for (int half_turns = first; half_turns <= most_half_turns; half_turns += 2) {
      const double way_m = std::hypot(planned_m_, half_turns * pi * diameter_m / 2);
      Arrival sound{
          ArrivalKind::round_wall, wall_, half_turns, 0, 0, std::nullopt, planned_m_, false};
      if (half_turns == 0) sound.kind = ArrivalKind::along_wall;
      sound.earliest_s = wedges_s + way_m / speeds.greatest_m_s;
      sound.latest_s = wedges_s + way_m / speeds.least_m_s;
      // The first in any case; more turns only where they meet the nominal arrival.
      if (half_turns > first && !meets_nominal(sound)) continue;
      keep(sound);
    }
  }

  /// Echoes between the faces of the wall: outer against the wedge, inner against what follows.
  void find_reverberation(const RayPath& ray) {
    const PathLayer& wall = path_.layers[wall_];
    const Leg& leg = ray.layer_legs[wall_];
    const Absorption& absorption = wall.mode == WaveMode::shear
                                       ? wall.medium.shear_absorption
                                       : wall.medium.longitudinal_absorption;
    const double swallowed_dB =
        absorption.at(path_.frequency_Hz) * 2 * leg.time_s * wall.sound_speed_m_s();
    const double outer = std::abs(at_.interfaces[wall_].reflection_below.at(wall.mode, wall.mode));
    const double inner =
        std::abs(at_.interfaces[wall_ + 1].reflection_above.at(wall.mode, wall.mode));
    found_.echo_amplitude = outer * inner * std::pow(10.0, -swallowed_dB / 20);
    const double echo_s = 2 * wall.thickness_m * std::cos(leg.angle_rad) / wall.sound_speed_m_s();
    const double echo_dB = std::max(amplitude_loss_dB(found_.echo_amplitude), 0.2);
    found_.reverberation_s = echo_s * 20 / echo_dB;
  }

  const SoundPath& path_;
  double p_;
  std::size_t wall_;
  double planned_m_;
  LayerModes modes_;
  const PathInterfaces& at_;
  const SignalBudget& budget_;
  double nominal_dB_ = 0;
  Arrivals found_;
};

}  // namespace

std::string_view arrival_kind_name(ArrivalKind kind) {
  switch (kind) {
    case ArrivalKind::nominal:
      return "planned path";
    case ArrivalKind::other_mode:
      return "other wave";
    case ArrivalKind::mixed_mode:
      return "other wave on one side";
    case ArrivalKind::outer_bounce:
      return "bounce farther out";
    case ArrivalKind::other_traverses:
      return "other traverses";
    case ArrivalKind::along_wall:
      return "along the wall";
    case ArrivalKind::round_wall:
      return "round the wall";
  }
  return "";
}

Arrivals arrivals(const SoundPath& path, const RayPath& ray, std::size_t wall_layer,
                  double exit_spacing_m) {
  if (wall_layer >= path.layer_count)
    throw std::invalid_argument("the wall is no layer of the path");
  if (!std::isfinite(exit_spacing_m)) throw std::invalid_argument("exit spacing must be finite");
  const PathInterfaces at = path_interfaces(path_media(path), ray.ray_parameter_s_m);
  const SignalBudget budget = signal_budget(path, ray, at, BudgetDetail::level);
  return Finder(path, ray, wall_layer, exit_spacing_m, at, budget).run();
}

Arrivals troubling_arrivals(const SoundPath& path, const RayPath& ray, std::size_t wall_layer,
                            const PathInterfaces& at, const SignalBudget& budget,
                            const TroubleSought& sought) {
  if (wall_layer >= path.layer_count)
    throw std::invalid_argument("the wall is no layer of the path");
  return Finder(path, ray, wall_layer, ray.exit_spacing_m, at, budget).run(sought);
}

}  // namespace slantrule
