#include "slantrule/planning/path_choice.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "slantrule/planning/straight_run.hpp"

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

std::optional<Obstacle> pair_obstacle(const ResolvedJob& job, const Plan& plan) {
  const ResolvedSensors& pair = job.sensors;
  const double outside_m = job.pipe.outside_diameter_m.value;
  if ((pair.smallest_pipe_m && outside_m < *pair.smallest_pipe_m) ||
      (pair.largest_pipe_m && outside_m > *pair.largest_pipe_m)) {
    return Obstacle::pipe_range;
  }
  const double surface_K = plan.conditions.wall_temperature_K;
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

Obstacle obstacle(const ResolvedJob& job, const Plan& plan, const PlannedPath& path,
                  bool same_side) {
  if (const auto of_pair = pair_obstacle(job, plan)) return *of_pair;
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

/// What the transmitter's flow is off by, in per cent, when the wall is thicker by `by_m` than
/// entered.
double wall_error_percent(const ResolvedJob& job, const Plan& plan, const KernelInputs& kernel,
                          double by_m) {
  KernelInputs truth = kernel;
  for (std::size_t i = 0; i < plan.layer_roles.size(); ++i) {
    if (plan.layer_roles[i] == LayerRole::wall) truth.layers[i].thickness_m += by_m;
  }
  truth.bore_m -= 2 * by_m;
  if (!(truth.bore_m > 0)) return 0;
  truth.area_m2 *= (truth.bore_m / kernel.bore_m) * (truth.bore_m / kernel.bore_m);
  const FluidTime method = job.fluid_time_computed ? FluidTime::computed : FluidTime::measured;
  const ReadOut shown = read_out(truth, kernel, method);
  return std::isfinite(shown.flow_ratio) ? 100 * (shown.flow_ratio - 1) : 0;
}

// ---------------------------------------------------------------- candidates

/// The kernel with its layers in one wall mode.
struct ModeLayers {
  KernelInputs kernel;
  std::vector<LayerRole> roles;
  double wall_sound_speed_m_s = 0;
  bool complete = false;  ///< false: a layer lacks the wave asked for
};

/// Fills the layers from the wedge inwards, up to the first in which the wave asked for has no
/// speed.
ModeLayers layers_in(const ResolvedJob& job, const Plan& plan, WaveMode wall_mode) {
  ModeLayers out{.kernel = plan.kernel, .roles = {}};
  const Conditions& at = plan.conditions;
  // A slip in a slope can bring a speed down to nothing.
  if (!(out.kernel.wedge_sound_speed_m_s > 0)) return out;
  const auto add = [&](LayerRole role, const ResolvedMaterial& material, WaveMode mode,
                       double thickness_m, double temperature_K) {
    const auto& wave = material.wave(mode);
    if (!wave || !(wave->at(temperature_K) > 0)) return false;
    out.kernel.add_layer({thickness_m, wave->at(temperature_K)});
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

PlannedPath planned(const RayPath& ray, const ResolvedSensors& sensors) {
  PlannedPath path{.ray = ray, .face_gap_m = {}, .overall_length_m = {}};
  if (sensors.nose_m) {
    path.face_gap_m = ray.exit_spacing_m - 2 * *sensors.nose_m;
    if (sensors.length_m) {
      path.overall_length_m = ray.exit_spacing_m + 2 * (*sensors.length_m - *sensors.nose_m);
    }
  }
  return path;
}

bool run_is_short(const StraightRun& run) {
  return !run.available_D || *run.available_D < run.required_D;
}

bool is_disturbed(const ResolvedJob& job, const Plan& plan) {
  if (job.site.straight_m) return false;  // the planner places the pair; nothing to choose by
  const bool reversing = job.flow.reversing;
  return run_is_short(straight_run(job.site, RunSide::upstream, reversing, plan.bore_m)) ||
         run_is_short(straight_run(job.site, RunSide::downstream, reversing, plan.bore_m));
}

std::optional<double> level_dB(const SoundPathAnswer& answer, int traverses) {
  if (!answer.path) return std::nullopt;
  SoundPath path = *answer.path;
  path.traverses = traverses;
  const auto traced = trace_ray(path);
  const RayPath* ray = std::get_if<RayPath>(&traced);
  if (!ray) return std::nullopt;
  return signal_budget(path, *ray, BudgetDetail::level).loss_dB;
}

}  // namespace

PathMerit path_merit(const ResolvedJob& job, const Plan& plan, const PathCase& one) {
  PathMerit merit;
  const int traverses = one.kernel.traverses;
  const bool same_side = traverses % 2 == 0;
  merit.obstacle = obstacle(job, plan, one.path, same_side);
  merit.loss_dB = one.loss_dB;

  const LiquidPath liquid = liquid_path(one.kernel, one.path.ray.ray_parameter_s_m);
  const double zero_s =
      job.sensors.zero_stability_s.value_or(usual_zero_per_period / job.sensors.frequency_Hz);
  const double zero_m_s = velocity_of_time_error_m_s(liquid, zero_s);
  const double usual_m_s = plan.usual ? std::fabs(plan.usual->path_velocity_m_s) : 0;
  merit.zero_percent = 100 * zero_m_s / (usual_m_s > 0 ? usual_m_s : 1);
  merit.smallest_velocity_m_s = zero_m_s / zero_part;
  merit.least_met =
      !plan.least || std::fabs(plan.least->path_velocity_m_s) >= merit.smallest_velocity_m_s;
  merit.half_cycle_met =
      !plan.most || std::fabs(plan.most->path_velocity_m_s) <=
                        half_cycle_velocity_m_s(liquid, job.sensors.frequency_Hz);
  if (!same_side) {
    merit.cross_flow_percent =
        (one.disturbed ? disturbed_cross_flow_percent : cross_flow_percent) / traverses;
    merit.opposite_percent = opposite_percent;
  }
  merit.wall_percent = std::fabs(wall_error_percent(job, plan, one.kernel, job.pipe.wall_m.u));
  // A wide beam arrives p dS later (derived): that part of the time in the liquid.
  const double tolerance_m = plan.bore_m < 0.1 ? 0.5e-3 : 1e-3;
  merit.placement_percent =
      100 * one.path.ray.ray_parameter_s_m * tolerance_m / one.path.ray.fluid_time_s;

  double variance = common_percent * common_percent;
  for (const double part : {merit.zero_percent, merit.cross_flow_percent, merit.opposite_percent,
                            merit.placement_percent}) {
    variance += part * part;
  }
  merit.own_percent = std::sqrt(variance);
  merit.u_percent = std::hypot(merit.own_percent, merit.wall_percent);
  const double loss_dB = one.loss_dB.value_or(unknown_loss_per_traverse_dB * traverses);
  merit.tier += !merit.least_met;
  merit.tier += !merit.half_cycle_met;
  merit.score = merit.own_percent + wall_weight * merit.wall_percent + signal_cost_percent(loss_dB);
  return merit;
}

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

void choose_path(const ResolvedJob& job, const PlanOptions& options, Plan& plan) {
  const double wall_K = plan.conditions.wall_temperature_K;
  const double trace_speed_m_s =
      plan.kernel.wedge_sound_speed_m_s / std::sin(plan.kernel.wedge_angle_rad);
  const WaveMode usual_mode = usual_wall_mode(job.pipe.material, wall_K, trace_speed_m_s);
  std::vector<WaveMode> modes;
  if (job.path.wall_mode) {
    modes = {*job.path.wall_mode};
  } else {
    modes = {usual_mode};
    if (!mode_is_settled(job.pipe.material)) {
      modes.push_back(usual_mode == WaveMode::shear ? WaveMode::longitudinal : WaveMode::shear);
    }
  }
  const bool disturbed = is_disturbed(job, plan);
  plan.traverses_chosen = !job.path.traverses;
  const int first = job.path.traverses.value_or(1);
  const int last = job.path.traverses.value_or(most_traverses);
  const bool with_levels = options.signal != SignalDetail::none;

  struct Best {
    PathMerit merit;
    PlannedPath path;
    int traverses;
  };
  std::optional<Best> best;
  bool any_even = false;
  const Plan before = plan;  // without layers
  for (const WaveMode mode : modes) {
    if (best && !with_levels) break;
    Plan trial = before;
    const ModeLayers layers = layers_in(job, before, mode);
    trial.wall_mode = mode;
    trial.kernel = layers.kernel;
    trial.layer_roles = layers.roles;
    trial.wall_sound_speed_m_s = layers.wall_sound_speed_m_s;
    SoundPathAnswer sound;
    if (layers.complete && with_levels) sound = sound_path(job, trial);
    // The other wave is worth a look only where levels can tell.
    if (mode != usual_mode && !job.path.wall_mode && !sound.path) continue;
    const bool keep_as_is = mode == modes.front();
    if (keep_as_is) {
      plan.wall_mode = mode;
      plan.kernel = trial.kernel;
      plan.layer_roles = trial.layer_roles;
      plan.wall_sound_speed_m_s = trial.wall_sound_speed_m_s;
      plan.traverses = job.path.traverses.value_or(2);
      plan.kernel.traverses = plan.traverses;
    }
    if (!layers.complete) continue;
    for (int traverses = first; traverses <= last; ++traverses) {
      trial.kernel.traverses = traverses;
      const auto traced = trace_ray(trial.kernel);
      const RayPath* ray = std::get_if<RayPath>(&traced);
      if (!ray) {
        if (keep_as_is) plan.no_ray = std::get<NoRay>(traced);
        break;
      }
      const PlannedPath path = planned(*ray, job.sensors);
      const PathMerit merit =
          path_merit(job, trial, {trial.kernel, path, level_dB(sound, traverses), disturbed});
      any_even = any_even || (traverses % 2 == 0 && merit.obstacle != Obstacle::overlap);
      if (best && !better(merit, best->merit)) continue;
      best = Best{merit, path, traverses};
      plan.wall_mode = mode;
      plan.kernel = trial.kernel;
      plan.layer_roles = trial.layer_roles;
      plan.wall_sound_speed_m_s = trial.wall_sound_speed_m_s;
    }
  }
  if (!best) return;
  plan.no_ray.reset();
  plan.path = best->path;
  plan.merit = best->merit;
  plan.traverses = best->traverses;
  plan.no_even_count = plan.traverses_chosen && !any_even && plan.traverses % 2 == 1;
}

}  // namespace slantrule
