#include "slantrule/planning/path_choice.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>
#include <vector>

namespace slantrule {
namespace {

// ---------------------------------------------------------------- what merits are made of

/// What every path of a pipe has in common: profile, diameter, liquid (judged).
constexpr double common_percent = 1.5;
/// Flow across the pipe seen by one traverse in a good place, and behind a short or unknown run;
/// it cancels in pairs of traverses (derived), so odd counts keep one part in N (sizes judged).
constexpr double cross_flow_percent = 1;
constexpr double disturbed_cross_flow_percent = 2;
/// A pair on opposite sides is harder to place: half a girth to be halved (judged).
constexpr double opposite_percent = 0.8;
/// Loss taken for each traverse where the pair's element is not stated (judged).
constexpr double unknown_loss_per_traverse_dB = 8;
/// Zero of a pair that states none, as a part of its period: 0.5 ns at 1 MHz (from memory: a good
/// transmitter; timing goes with the period). And the part of the reading that the zero may make at
/// the least flow (20 d0 for 5 %: proposal).
constexpr double usual_zero_per_period = 0.5e-3;
constexpr double zero_part = 0.05;

/// What stands against the pair on this pipe, whatever the path.
std::optional<Obstacle> pair_obstacle(const ResolvedJob& job, const Conditions& at) {
  const ResolvedSensors& pair = job.sensors;
  const double outside_m = job.pipe.outside_diameter_m.value;
  if ((pair.smallest_pipe_m && outside_m < *pair.smallest_pipe_m) ||
      (pair.largest_pipe_m && outside_m > *pair.largest_pipe_m)) {
    return Obstacle::pipe_range;
  }
  const double surface_K = at.wall_temperature_K;
  if ((pair.lowest_K && surface_K < *pair.lowest_K) ||
      (pair.highest_K && surface_K > *pair.highest_K)) {
    return Obstacle::temperature;
  }
  return std::nullopt;
}

/// Whether the kit's rails, where it has any for that side, take the path.
bool rails_take(const ResolvedJob& job, const PlannedPath& path, bool same_side) {
  const std::vector<ResolvedRail>& rails = job.kit.rails;
  const bool any = std::ranges::any_of(rails, [&](const ResolvedRail& rail) {
    return same_side ? rail.same_side : rail.opposite_sides;
  });
  // On opposite sides straps alone will do; on the same side a kit with rails is meant to use one.
  if (!rails.empty() && (any || same_side)) {
    return std::ranges::any_of(rails, [&](const ResolvedRail& rail) {
      return rail.takes(path.ray.mark_spacing_m, same_side);
    });
  }
  return !(job.site.rail_length_m && path.overall_length_m && same_side &&
           *path.overall_length_m > *job.site.rail_length_m);
}

Obstacle obstacle(const ResolvedJob& job, std::optional<Obstacle> of_pair, const PlannedPath& path,
                  bool same_side) {
  if (of_pair) return *of_pair;
  if (!same_side && job.site.one_side) return Obstacle::one_side;
  if (same_side && path.face_gap_m && *path.face_gap_m < job.sensors.least_face_gap_m) {
    return Obstacle::overlap;
  }
  if (!rails_take(job, path, same_side)) return Obstacle::rail;
  if (job.site.clear_length_m && path.overall_length_m &&
      *path.overall_length_m > *job.site.clear_length_m) {
    return Obstacle::clear_length;
  }
  return Obstacle::none;
}

// ---------------------------------------------------------------- candidates

/// The layers of the ray in one wall mode.
struct ModeLayers {
  std::array<Layer, most_layers> layers{};
  LayerRoles roles;
  double wall_sound_speed_m_s = 0;
  bool complete = false;  ///< false: a layer lacks the wave asked for
};

/// Fills the layers from the wedge inwards, up to the first in which the wave asked for has no
/// speed.
ModeLayers layers_in(const ResolvedJob& job, const Plan& plan, WaveMode wall_mode) {
  ModeLayers out;
  const Conditions& at = plan.conditions;
  // A slip in a slope can bring a speed down to nothing.
  if (!(plan.kernel.wedge_sound_speed_m_s > 0)) return out;
  const auto add = [&](LayerRole role, const ResolvedMaterial& material, WaveMode mode,
                       double thickness_m, double temperature_K) {
    const auto& wave = material.wave(mode);
    if (!wave || !(wave->at(temperature_K) > 0)) return false;
    out.layers[out.roles.size()] = {thickness_m, wave->at(temperature_K)};
    out.roles.push_back(role);
    if (role == LayerRole::wall) out.wall_sound_speed_m_s = wave->at(temperature_K);
    return true;
  };
  const ResolvedPipe& pipe = job.pipe;
  if (pipe.coating && pipe.coating_under_sensors &&
      !add(LayerRole::coating, pipe.coating->material, job.path.coating_mode,
           pipe.coating->thickness_m, at.coating_temperature_K)) {
    return out;
  }
  if (!add(LayerRole::wall, pipe.material, wall_mode, pipe.wall_m.value, at.wall_temperature_K)) {
    return out;
  }
  out.complete = !pipe.liner || add(LayerRole::liner, pipe.liner->material, job.path.liner_mode,
                                    pipe.liner->thickness_m, at.liner_temperature_K);
  return out;
}

/// Puts the plan into one wall mode.
void enter_mode(WaveMode mode, const ModeLayers& layers, Plan& plan) {
  plan.wall_mode = mode;
  plan.kernel.layers = layers.layers;
  plan.kernel.layer_count = layers.roles.size();
  plan.layer_roles = layers.roles;
  plan.wall_sound_speed_m_s = layers.wall_sound_speed_m_s;
}

/// The wave for the wall where only rays are known. Metals and glass: shear, which runs alone
/// between the two critical wedge angles. Plastics and rubber: longitudinal, because their shear
/// waves are slower than water, weakly excited and lossy. Elsewhere whichever runs, longitudinal
/// first.
WaveMode usual_wall_mode(const ResolvedMaterial& material, double temperature_K,
                         double trace_speed_m_s) {
  const auto runs = [&](WaveMode mode) {
    const auto& wave = material.wave(mode);
    return wave && wave->at(temperature_K) < trace_speed_m_s;
  };
  const bool longitudinal = runs(WaveMode::longitudinal);
  const bool shear = runs(WaveMode::shear);
  if (!longitudinal && shear) return WaveMode::shear;
  if (longitudinal && !shear) return WaveMode::longitudinal;
  const bool metal_like =
      material.is_inline
          ? material.shear && material.shear->at(temperature_K) > metal_like_shear_m_s
          : material.family == SolidFamily::metal || material.family == SolidFamily::glass;
  return metal_like && material.shear ? WaveMode::shear : WaveMode::longitudinal;
}

/// Where practice has settled on a wave: shear in metals and glass, longitudinal in plastics,
/// composites and rubber. In cement and in materials stated by their speeds the signal decides.
bool mode_is_settled(const ResolvedMaterial& material) {
  return !material.is_inline && material.family != SolidFamily::cement;
}

/// Gap and length of the bodies, where they are known.
void place_bodies(const ResolvedSensors& sensors, PlannedPath& path) {
  if (!sensors.nose_m) return;
  path.face_gap_m = path.ray.exit_spacing_m - 2 * *sensors.nose_m;
  if (sensors.length_m) {
    path.overall_length_m = path.ray.exit_spacing_m + 2 * (*sensors.length_m - *sensors.nose_m);
  }
}

bool run_is_short(const StraightRun& run) {
  return !run.available_D || *run.available_D < run.required_D;
}

bool is_disturbed(const ResolvedJob& job, const Plan& plan) {
  if (job.site.straight_m) return false;  // the planner places the pair; nothing to choose by
  return run_is_short(plan.upstream) || run_is_short(plan.downstream);
}

/// The pipe with its wall thicker by the wall's uncertainty, where that leaves a bore.
std::optional<KernelInputs> with_thicker_wall(const ResolvedJob& job, const Plan& plan) {
  const double by_m = job.pipe.wall_m.u;
  KernelInputs out = plan.kernel;
  for (std::size_t i = 0; i < plan.layer_roles.size(); ++i) {
    if (plan.layer_roles[i] == LayerRole::wall) out.layers[i].thickness_m += by_m;
  }
  out.bore_m -= 2 * by_m;
  if (!(out.bore_m > 0)) return std::nullopt;
  out.area_m2 *= (out.bore_m / plan.kernel.bore_m) * (out.bore_m / plan.kernel.bore_m);
  return out;
}

// ---------------------------------------------------------------- one wall mode

/// The paths of a plan that differ by their number of traverses alone. What they have in common,
/// interfaces and legs of the ray, is worked out once.
class PathsOfMode {
 public:
  /// `plan` is in the mode, and `ray` its ray with any number of traverses.
  PathsOfMode(const ResolvedJob& job, const Plan& plan, const RayPath& ray,
              const SoundPathAnswer& sound)
      : job_(job),
        plan_(plan),
        kernel_(plan.kernel),
        path_{.ray = ray, .face_gap_m = {}, .overall_length_m = {}},
        of_pair_(pair_obstacle(job, plan.conditions)),
        disturbed_(is_disturbed(job, plan)) {
    if (sound.path) loss_.emplace(*sound.path, ray, *sound.interfaces);
  }

  /// The path that everything below is about.
  const PlannedPath& take(int traverses) {
    kernel_.traverses = traverses;
    set_traverses(path_.ray, kernel_);
    place_bodies(job_.sensors, path_);
    return path_;
  }

  /// Merit of the path, as far as it costs next to nothing: obstacle, tier and parts of
  /// own_percent. complete() adds the rest.
  PathMerit outline() const {
    PathMerit merit;
    const int traverses = kernel_.traverses;
    const bool same_side = traverses % 2 == 0;
    merit.obstacle = obstacle(job_, of_pair_, path_, same_side);
    add_zero(merit);
    if (!same_side) {
      merit.cross_flow_percent =
          (disturbed_ ? disturbed_cross_flow_percent : cross_flow_percent) / traverses;
      merit.opposite_percent = opposite_percent;
    }
    // A wide beam arrives p dS later (derived): that part of the time in the liquid.
    const double tolerance_m = plan_.bore_m < 0.1 ? 0.5e-3 : 1e-3;
    merit.placement_percent =
        100 * path_.ray.ray_parameter_s_m * tolerance_m / path_.ray.fluid_time_s;
    double variance = common_percent * common_percent;
    for (const double part : {merit.zero_percent, merit.cross_flow_percent, merit.opposite_percent,
                              merit.placement_percent}) {
      variance += part * part;
    }
    merit.own_percent = std::sqrt(variance);
    merit.tier += !merit.least_met;
    merit.tier += !merit.half_cycle_met;
    return merit;
  }

  /// Whether the path of this outline cannot be preferred to `best`, whatever complete() adds.
  bool is_beaten(const PathMerit& outline, const PathMerit& best) const {
    // Then the score doesn't matter.
    if (outline.obstacle != best.obstacle || outline.tier != best.tier) {
      return !better(outline, best);
    }
    const double loss_dB = loss_ ? loss_->least_loss_dB(kernel_.traverses)
                                 : unknown_loss_per_traverse_dB * kernel_.traverses;
    return !(outline.own_percent + signal_cost_percent(loss_dB) < best.score);
  }

  void complete(PathMerit& merit) {
    const int traverses = kernel_.traverses;
    if (loss_) merit.loss_dB = loss_->loss_dB(traverses);
    merit.wall_percent = std::fabs(wall_error_percent());
    merit.u_percent = std::hypot(merit.own_percent, merit.wall_percent);
    const double loss_dB = merit.loss_dB.value_or(unknown_loss_per_traverse_dB * traverses);
    merit.score =
        merit.own_percent + wall_weight * merit.wall_percent + signal_cost_percent(loss_dB);
  }

 private:
  void add_zero(PathMerit& merit) const {
    // velocity_of_time_error_m_s and half_cycle_velocity_m_s of this path.
    const double p_time_s2_m = path_.ray.ray_parameter_s_m * path_.ray.fluid_time_s;
    const double frequency_Hz = job_.sensors.frequency_Hz;
    const double zero_s =
        job_.sensors.zero_stability_s.value_or(usual_zero_per_period / frequency_Hz);
    const double zero_m_s = zero_s / (2 * p_time_s2_m);
    const double usual_m_s = plan_.usual ? std::fabs(plan_.usual->path_velocity_m_s) : 0;
    merit.zero_percent = 100 * zero_m_s / (usual_m_s > 0 ? usual_m_s : 1);
    merit.smallest_velocity_m_s = zero_m_s / zero_part;
    merit.least_met =
        !plan_.least || std::fabs(plan_.least->path_velocity_m_s) >= merit.smallest_velocity_m_s;
    merit.half_cycle_met = !plan_.most || std::fabs(plan_.most->path_velocity_m_s) <=
                                              1 / (4 * frequency_Hz * p_time_s2_m);
  }

  /// What the transmitter's flow is off by when the wall is thicker by its uncertainty than
  /// entered.
  double wall_error_percent() {
    if (!thicker_looked_at_) {
      thicker_looked_at_ = true;
      thicker_ = with_thicker_wall(job_, plan_);
      if (thicker_) thicker_ray_ = std::get<RayPath>(trace_ray(*thicker_));
    }
    if (!thicker_) return 0;
    thicker_->traverses = kernel_.traverses;
    set_traverses(thicker_ray_, *thicker_);
    const FluidTime method = job_.fluid_time_computed ? FluidTime::computed : FluidTime::measured;
    const ReadOut shown =
        read_out(TracedPath{*thicker_, thicker_ray_}, TracedPath{kernel_, path_.ray}, method);
    return std::isfinite(shown.flow_ratio) ? 100 * (shown.flow_ratio - 1) : 0;
  }

  const ResolvedJob& job_;
  const Plan& plan_;
  KernelInputs kernel_;
  PlannedPath path_;
  std::optional<LossByTraverses> loss_;
  std::optional<Obstacle> of_pair_;
  bool disturbed_;  ///< the straight run is short or unknown
  bool thicker_looked_at_ = false;
  std::optional<KernelInputs> thicker_;
  RayPath thicker_ray_{};
};

/// The best path so far.
struct BestPath {
  WaveMode mode;
  int traverses;
  PlannedPath path;
  PathMerit merit;
};

}  // namespace

double signal_cost_percent(double loss_dB) {
  constexpr double percent_per_dB = 0.05;
  return percent_per_dB * (loss_dB + 3 * std::max(0.0, loss_dB - comfortable_loss_dB) +
                           6 * std::max(0.0, loss_dB - greatest_loss_dB));
}

bool better(const PathMerit& a, const PathMerit& b) {
  // What cannot be is ranked too, by how far it is from being possible.
  if (a.obstacle != b.obstacle) return a.obstacle < b.obstacle;
  if (a.tier != b.tier) return a.tier < b.tier;
  return a.score < b.score;
}

namespace {

/// Wall modes worth a look, the usual one first.
struct ModesToTry {
  std::array<WaveMode, 2> all;
  std::size_t count;
};

ModesToTry modes_to_try(const ResolvedJob& job, const Plan& plan) {
  if (job.path.wall_mode) return {{*job.path.wall_mode}, 1};
  const double trace_speed_m_s =
      plan.kernel.wedge_sound_speed_m_s / std::sin(plan.kernel.wedge_angle_rad);
  const WaveMode usual =
      usual_wall_mode(job.pipe.material, plan.conditions.wall_temperature_K, trace_speed_m_s);
  const WaveMode other = usual == WaveMode::shear ? WaveMode::longitudinal : WaveMode::shear;
  return {{usual, other}, mode_is_settled(job.pipe.material) ? 1u : 2u};
}

}  // namespace

SoundPathAnswer choose_path(const ResolvedJob& job, const PlanOptions& options, Plan& plan) {
  const ModesToTry modes = modes_to_try(job, plan);
  plan.traverses_chosen = !job.path.traverses;
  const int first = job.path.traverses.value_or(1);
  const int last = job.path.traverses.value_or(most_traverses);
  const bool with_levels = options.signal != SignalDetail::none;

  std::array<ModeLayers, 2> layers;
  std::array<SoundPathAnswer, 2> sounds;
  std::optional<BestPath> best;
  bool any_even = false;
  for (std::size_t i = 0; i < modes.count; ++i) {
    // The other wave is worth a look only where levels can tell.
    if (i > 0 && !with_levels) break;
    layers[i] = layers_in(job, plan, modes.all[i]);
    enter_mode(modes.all[i], layers[i], plan);
    if (!layers[i].complete) continue;
    SoundPathAnswer& sound = sounds[i];
    if (with_levels) sound = sound_path(job, plan);
    if (i > 0 && !sound.path) continue;
    const auto traced = trace_ray(plan.kernel);
    const RayPath* ray = std::get_if<RayPath>(&traced);
    if (!ray) {
      if (i == 0) plan.no_ray = std::get<NoRay>(traced);
      continue;
    }
    PathsOfMode paths(job, plan, *ray, sound);
    for (int traverses = first; traverses <= last; ++traverses) {
      const PlannedPath& path = paths.take(traverses);
      PathMerit merit = paths.outline();
      any_even = any_even || (traverses % 2 == 0 && merit.obstacle != Obstacle::overlap);
      if (best && paths.is_beaten(merit, best->merit)) continue;
      paths.complete(merit);
      if (!best || better(merit, best->merit)) best = {modes.all[i], traverses, path, merit};
    }
  }
  // Without a path the plan stays as the first mode has it.
  const std::size_t taken = best && best->mode != modes.all[0] ? 1 : 0;
  if (plan.wall_mode != modes.all[taken]) enter_mode(modes.all[taken], layers[taken], plan);
  plan.traverses = best ? best->traverses : job.path.traverses.value_or(2);
  plan.kernel.traverses = plan.traverses;
  if (!best) return {};
  plan.no_ray.reset();
  plan.path = best->path;
  plan.merit = best->merit;
  plan.no_even_count = plan.traverses_chosen && !any_even && plan.traverses % 2 == 1;
  return std::move(sounds[taken]);
}

}  // namespace slantrule
