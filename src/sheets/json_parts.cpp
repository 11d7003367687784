#include "json_parts.hpp"

namespace slantrule {
namespace {

const char* regime_name(WallRegime regime) {
  switch (regime) {
    case WallRegime::separate:
      return "separate";
    case WallRegime::overlapping:
      return "overlapping";
    case WallRegime::guided:
      return "guided";
  }
  return "";
}

/// "reflections", "absorption in the layer: wall"
std::string part_name(const BudgetPart& part, const Plan& plan) {
  std::string name(budget_item_name(part.item));
  if (part.item == BudgetItem::layer_absorption || part.item == BudgetItem::layer_interface) {
    name += ": " + std::string(layer_role_name(plan.layer_roles[part.layer]));
  }
  return name;
}

std::string arrival_name(const Arrival& arrival, const Plan& plan) {
  std::string name(arrival_kind_name(arrival.kind));
  switch (arrival.kind) {
    case ArrivalKind::other_mode:
    case ArrivalKind::mixed_mode:
    case ArrivalKind::outer_bounce:
      name += ": " + std::string(layer_role_name(plan.layer_roles[arrival.layer]));
      break;
    case ArrivalKind::other_traverses:
    case ArrivalKind::round_wall:
      name += ": " + std::to_string(arrival.count);
      break;
    default:
      break;
  }
  return name;
}

Json window_json(const SpacingWindow& window, double offset_m = 0) {
  return {(window.from_m + offset_m) * 1e3, (window.to_m + offset_m) * 1e3};
}

Json arrivals_json(const PlanSignal& signal, const Plan& plan) {
  Json out = Json::array();
  for (const Arrival& arrival : signal.arrivals->by_time()) {
    Json one = Json::object();
    one["what"] = arrival_name(arrival, plan);
    // Cables and electronics delay every arrival alike.
    put(one, "time_us", (arrival.earliest_s + plan.kernel.delay_s) * 1e6);
    if (arrival.latest_s > arrival.earliest_s) {
      put(one, "latest_time_us", (arrival.latest_s + plan.kernel.delay_s) * 1e6);
    }
    put(one, "level_dB", arrival.level_dB);
    put(one, "mark_spacing_mm", (arrival.spacing_m + signal.mark_offset_m) * 1e3);
    one["within_burst_and_echoes"] = arrival.disturbs;
    out.push_back(std::move(one));
  }
  return out;
}

Json wall_json(const WallIndicators& wall, double burst_s) {
  Json out = Json::object();
  out["regime"] = regime_name(wall.regime);
  put(out, "frequency_thickness_MHz_mm", wall.frequency_thickness_Hz_m * 1e-3);
  put(out, "echo_delay_us", wall.delay_s * 1e6);
  put(out, "burst_us", burst_s * 1e6);
  put(out, "echo_delay_per_burst", wall.delay_per_burst);
  put(out, "footprint_ratio", wall.footprint_ratio);
  put(out, "thickness_in_wavelengths", wall.wavelengths);
  if (wall.nearest_root) {
    put(out, "nearest_resonance_MHz_mm", wall.nearest_root->root.frequency_thickness_Hz_m * 1e-3);
    put(out, "distance_MHz_mm", wall.nearest_root->distance_Hz_m * 1e-3);
    put(out, "resonance_spacing_MHz_mm", wall.nearest_root->mean_spacing_Hz_m * 1e-3);
  }
  return out;
}

Json response_json(const WaveResponse& response, double offset_m) {
  Json out = Json::object();
  put(out, "best_mark_spacing_mm",
      (response.ray_spacing_m + response.best_offset_m + offset_m) * 1e3);
  put(out, "best_level_dB", response.best_level_dB);
  put(out, "best_delay_us", response.best_delay_s * 1e6);
  put(out, "level_at_planned_dB", response.at_ray.level_dB);
  put(out, "early_level_at_planned_dB", response.at_ray.early_level_dB);
  put(out, "early_best_mark_spacing_mm",
      (response.ray_spacing_m + response.early_best_offset_m + offset_m) * 1e3);
  put(out, "early_best_level_dB", response.early_best_level_dB);
  out["window_3dB_mm"] = window_json(response.within_3_dB, response.ray_spacing_m + offset_m);
  out["window_6dB_mm"] = window_json(response.within_6_dB, response.ray_spacing_m + offset_m);
  Json curve = Json::array();
  for (const SpacingLevel& level : response.levels) {
    Json one = Json::object();
    put(one, "mark_spacing_mm", (level.exit_spacing_m + offset_m) * 1e3);
    put(one, "level_dB", level.level_dB);
    put(one, "early_level_dB", level.early_level_dB);
    put(one, "peak_delay_us", level.peak_delay_s * 1e6);
    curve.push_back(std::move(one));
  }
  out["curve"] = std::move(curve);
  out["grid"] = {{"frequencies", response.grid.frequencies},
                 {"angles", response.grid.angles},
                 {"spacings", response.grid.spacings},
                 {"times", response.grid.times}};
  return out;
}

}  // namespace

Json path_json(const ResolvedJob& job, const Plan& plan) {
  const RayPath& ray = plan.path->ray;
  Json out = Json::object();
  out["traverses"] = plan.traverses;
  out["sides"] = plan.same_side() ? "same" : "opposite";
  out["wall_mode"] = wave_mode_name(plan.wall_mode);
  put(out, "trace_speed_m_s", ray.trace_speed_m_s);
  put(out, "wedge_temperature_degC", plan.conditions.wedge_temperature_K - 273.15);
  put(out, "wedge_sound_speed_m_s", plan.kernel.wedge_sound_speed_m_s);
  Json angles = Json::object();
  put(angles, "wedge", job.sensors.wedge_angle_rad * degree);
  for (std::size_t i = 0; i < ray.layer_count; ++i) {
    put(angles, std::string(layer_role_name(plan.layer_roles[i])).c_str(),
        ray.layer_legs[i].angle_rad * degree);
  }
  put(angles, "fluid", ray.liquid_leg.angle_rad * degree);
  out["angles_deg"] = angles;
  put(out, "exit_spacing_mm", ray.exit_spacing_m * 1e3);
  put(out, "mark_spacing_mm", ray.mark_spacing_m * 1e3);
  put(out, "face_gap_mm", plan.path->face_gap_m, 1e3);
  put(out, "overall_length_mm", plan.path->overall_length_m, 1e3);
  put(out, "zero_flow_time_us", ray.zero_flow_time_s * 1e6);
  put(out, "fluid_time_us", ray.fluid_time_s * 1e6);
  put(out, "half_cycle_velocity_m_s",
      half_cycle_velocity_m_s(liquid_path(plan.kernel, ray.ray_parameter_s_m),
                              job.sensors.frequency_Hz));
  return out;
}

Json run_json(const StraightRun& run) {
  Json out = Json::object();
  put(out, "required_D", run.required_D);
  put(out, "available_D", run.available_D);
  if (!run.governing.empty()) out["governing"] = run.governing;
  if (!run.source.empty()) out["source"] = run.source;
  return out;
}

Json signal_json(const Plan& plan) {
  const PlanSignal& signal = *plan.signal;
  const SignalBudget& budget = signal.budget;
  Json out = Json::object();
  put(out, "loss_dB", budget.loss_dB);
  put(out, "u_loss_dB", budget.uncertainty.combined_dB);
  Json parts = Json::array();
  for (std::size_t i = 0; i < budget.part_count; ++i) {
    parts.push_back({{"part", part_name(budget.parts[i], plan)}, {"dB", budget.parts[i].loss_dB}});
  }
  out["parts"] = std::move(parts);
  if (!signal.arrivals) return out;
  put(out, "best_mark_spacing_mm", signal.best_mark_spacing_m * 1e3);
  out["window_3dB_mm"] = window_json(signal.window_3_dB);
  out["window_6dB_mm"] = window_json(signal.window_6_dB);
  put(out, "planned_below_best_dB", signal.ray_below_best_dB);
  put(out, "phase_shift_mm", budget.phase_shift_m * 1e3);
  if (plan.traverses > 1) {
    const OuterBounce& outer = budget.outer_bounces[signal.wall_layer];
    Json bounce = Json::object();
    put(bounce, "inner_face_dB", budget.bounce_loss_dB);
    put(bounce, "outer_face_dB", outer.loss_dB);
    put(bounce, "outer_face_mark_spacing_mm",
        (plan.path->ray.mark_spacing_m + (plan.traverses - 1) * outer.added_spacing_m) * 1e3);
    out["bounce"] = std::move(bounce);
  }
  if (signal.wall) out["wall"] = wall_json(*signal.wall, signal.arrivals->burst_s);
  out["arrivals"] = arrivals_json(signal, plan);
  if (signal.response) out["response"] = response_json(*signal.response, signal.mark_offset_m);
  return out;
}

}  // namespace slantrule
