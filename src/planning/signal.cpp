#include "slantrule/planning/signal.hpp"

#include <array>
#include <cmath>
#include <utility>

#include "slantrule/planning/plan.hpp"

namespace slantrule {
namespace {

/// The material as sound meets it; nullopt with `missing` set where the job doesn't say enough.
std::optional<AcousticMedium> medium(const ResolvedMaterial& material, WaveMode mode,
                                     double temperature_K, std::string& missing) {
  if (!material.density_kg_m3) {
    missing = "the density of " + material.name;
    return std::nullopt;
  }
  const auto speed = [&](const std::optional<WaveSpeed>& wave) {
    return wave ? wave->at(temperature_K) : 0;
  };
  AcousticMedium out{.density_kg_m3 = *material.density_kg_m3,
                     .longitudinal_m_s = speed(material.longitudinal),
                     .shear_m_s = speed(material.shear),
                     .longitudinal_absorption = material.longitudinal_loss,
                     .shear_absorption = material.shear_loss};
  if (!(out.longitudinal_m_s > out.shear_m_s) || out.longitudinal_m_s <= 0) {
    missing = "the longitudinal speed of sound of " + material.name;
    return std::nullopt;
  }
  if (mode == WaveMode::shear && !(out.shear_m_s > 0)) return std::nullopt;
  return out;
}

/// The wave model is two-dimensional; the budget's spreading across its plane makes its levels
/// comparable with the loss.
void add_spreading_across(const SignalBudget& budget, WaveResponse& response) {
  double across_dB = 0;
  for (std::size_t i = 0; i < budget.part_count; ++i) {
    if (budget.parts[i].item == BudgetItem::spreading_across) across_dB += budget.parts[i].loss_dB;
  }
  const auto lower = [&](SpacingLevel& level) {
    level.level_dB -= across_dB;
    level.early_level_dB -= across_dB;
  };
  for (SpacingLevel& level : response.levels) lower(level);
  lower(response.at_ray);
  response.best_level_dB -= across_dB;
  response.early_best_level_dB -= across_dB;
}

}  // namespace

SoundPathAnswer sound_path(const ResolvedJob& job, const Plan& plan) {
  SoundPathAnswer out;
  const ResolvedSensors& pair = job.sensors;
  const Conditions& at = plan.conditions;
  if (!pair.element_m) {
    out.missing = "the element of the sensor pair";
    return out;
  }
  if (!at.density_kg_m3) {
    out.missing = "the density of the liquid";
    return out;
  }
  SoundPath& path = out.path.emplace();
  path.wedge = {.density_kg_m3 = pair.wedge_density_kg_m3,
                .longitudinal_m_s = plan.kernel.wedge_sound_speed_m_s,
                .shear_m_s = pair.wedge_shear_m_s,
                .longitudinal_absorption = pair.wedge_loss,
                .shear_absorption = pair.wedge_loss};
  path.wedge_angle_rad = pair.wedge_angle_rad;
  path.wedge_path_m = pair.wedge_path_m;
  for (std::size_t i = 0; i < plan.layer_roles.size(); ++i) {
    const double thickness_m = plan.kernel.layers[i].thickness_m;
    const auto add = [&](const ResolvedMaterial& material, WaveMode mode, double temperature_K) {
      const auto found = medium(material, mode, temperature_K, out.missing);
      if (found) path.add_layer({*found, thickness_m, mode});
      return found.has_value();
    };
    bool good = false;
    switch (plan.layer_roles[i]) {
      case LayerRole::coating:
        good = add(job.pipe.coating->material, job.path.coating_mode, at.coating_temperature_K);
        break;
      case LayerRole::wall:
        out.wall_layer = i;
        good = add(job.pipe.material, plan.wall_mode, at.wall_temperature_K);
        break;
      case LayerRole::liner:
        good = add(job.pipe.liner->material, job.path.liner_mode, at.liner_temperature_K);
        break;
    }
    if (!good) {
      out.path.reset();
      return out;
    }
  }
  path.liquid = {.density_kg_m3 = at.density_kg_m3->value,
                 .longitudinal_m_s = plan.kernel.liquid_sound_speed_m_s,
                 .shear_m_s = 0,
                 .longitudinal_absorption = at.absorption.value_or(Absorption{}),
                 .shear_absorption = {}};
  path.bore_m = plan.kernel.bore_m;
  path.traverses = plan.kernel.traverses;
  path.frequency_Hz = pair.frequency_Hz;
  path.cycles = pair.cycles;
  path.element_m = *pair.element_m;
  path.element_width_m = pair.element_width_m.value_or(*pair.element_m);
  out.interfaces = path_interfaces(path);
  return out;
}

namespace {

/// Where the direct path is strongest, in mark spacings; `from_ray_m` is the planned one.
void place_direct(const DirectResponse& direct, double from_ray_m, PlanSignal& out) {
  out.best_mark_spacing_m = from_ray_m + direct.best_offset_m;
  out.window_3_dB = {from_ray_m + direct.within_3_dB.from_m, from_ray_m + direct.within_3_dB.to_m};
  out.window_6_dB = {from_ray_m + direct.within_6_dB.from_m, from_ray_m + direct.within_6_dB.to_m};
  out.ray_below_best_dB = direct.loss_at_ray_dB - direct.loss_at_best_dB;
}

/// The same by the closed form. Needs a budget of BudgetDetail::placement.
void place_by_budget(double from_ray_m, PlanSignal& out) {
  const SignalBudget& budget = out.budget;
  const double shift_m = budget.phase_shift_m + budget.slope_shift_m;
  const double best_m = from_ray_m + shift_m;
  out.best_mark_spacing_m = best_m;
  out.window_3_dB = {best_m - budget.half_window_3_dB_m, best_m + budget.half_window_3_dB_m};
  out.window_6_dB = {best_m - budget.half_window_6_dB_m, best_m + budget.half_window_6_dB_m};
  out.ray_below_best_dB = misplacement_loss_dB(budget, shift_m);
}

/// A wedge slower than the liquid carries waves that the angular spectrum does not hold.
bool has_direct_response(const SoundPath& path) {
  return path.wedge.longitudinal_m_s > path.liquid.longitudinal_m_s;
}

/// What the checks need beyond the level, and no more.
void screen(const SoundPathAnswer& answer, const Plan& plan, const RayPath& ray, PlanSignal& out) {
  const SoundPath& path = out.path;
  const double wavelength_m = plan.wall_sound_speed_m_s / path.frequency_Hz;
  const bool thin = path.layers[out.wall_layer].thickness_m < wavelength_m;
  // Resonances are looked for in thin walls alone.
  out.wall = thin ? wall_indicators(path, ray, out.wall_layer)
                  : wall_echo_indicators(path, ray, out.wall_layer);
  TroubleSought sought;
  for (std::size_t i = 0; i < plan.layer_roles.size(); ++i) {
    sought.other_wave[i] = plan.layer_roles[i] == LayerRole::liner;
  }
  out.arrivals =
      troubling_arrivals(path, ray, out.wall_layer, *answer.interfaces, out.budget, sought);
  const double from_ray_m = ray.exit_spacing_m + out.mark_offset_m;
  if (!has_direct_response(path)) {
    const SignalBudget level = out.budget;
    out.budget = signal_budget(path, ray, *answer.interfaces, BudgetDetail::placement);
    place_by_budget(from_ray_m, out);
    out.budget = level;
    out.ray_below_best_dB = 0;
    return;
  }
  const bool off_rail = plan.rail && plan.rail->step_m && !plan.rail->within_tolerance;
  const double half_m = narrowest_half_window_3_dB_m(path);
  // Where next to nothing arrives, stray parts of the beam count, of which the bound knows nothing.
  if (off_rail || out.budget.loss_dB > greatest_loss_dB ||
      half_m < window_per_tolerance * plan.mounting_tolerance_m) {
    place_direct(direct_response(path), from_ray_m, out);
    out.ray_below_best_dB = 0;  // a note that only the whole placement makes
    return;
  }
  out.best_mark_spacing_m = from_ray_m;
  out.window_3_dB = out.window_6_dB = {from_ray_m - half_m, from_ray_m + half_m};
  out.ray_below_best_dB = 0;
}

}  // namespace

std::optional<PlanSignal> plan_signal(const SoundPathAnswer& answer, const Plan& plan,
                                      SignalDetail detail, const ResponseOptions& options) {
  if (!answer.path || !plan.path || detail == SignalDetail::none) return std::nullopt;
  std::optional<PlanSignal> signal(std::in_place);
  PlanSignal& out = *signal;
  out.path = *answer.path;
  out.path.traverses = plan.kernel.traverses;
  out.wall_layer = answer.wall_layer;
  const RayPath& ray = plan.path->ray;
  out.mark_offset_m = ray.mark_spacing_m - ray.exit_spacing_m;
  out.absorption_known = plan.conditions.absorption.has_value();
  const bool placement = detail >= SignalDetail::placement;
  out.budget = signal_budget(out.path, ray, *answer.interfaces,
                             placement ? BudgetDetail::placement : BudgetDetail::level);
  if (detail == SignalDetail::screened) screen(answer, plan, ray, out);
  if (!placement) return signal;

  out.wall = wall_indicators(out.path, ray, out.wall_layer);
  out.arrivals = arrivals(out.path, ray, out.wall_layer, ray.exit_spacing_m);
  const double from_ray_m = ray.exit_spacing_m + out.mark_offset_m;
  if (has_direct_response(out.path)) {
    place_direct(direct_response(out.path), from_ray_m, out);
    if (detail == SignalDetail::response) {
      WaveOptions wave;
      wave.threads = options.threads;
      wave.progress = options.progress;
      out.response = wave_response(out.path, wave);
      add_spreading_across(out.budget, *out.response);
    }
  } else {
    place_by_budget(from_ray_m, out);
  }
  return signal;
}

void hide_placement(PlanSignal& signal) {
  signal.best_mark_spacing_m = 0;
  signal.window_3_dB = signal.window_6_dB = {};
  signal.ray_below_best_dB = 0;
  signal.arrivals.reset();
  signal.wall.reset();
}

}  // namespace slantrule
