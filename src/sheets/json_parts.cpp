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

void write_window(JsonWriter& json, std::string_view key, const SpacingWindow& window,
                  double offset_m = 0) {
  json.range(key, (window.from_m + offset_m) * 1e3, (window.to_m + offset_m) * 1e3);
}

void write_arrival(JsonWriter& json, const Arrival& arrival, const PlanSignal& signal,
                   const Plan& plan) {
  json.text("what", arrival_name(arrival, plan));
  // Cables and electronics delay every arrival alike.
  json.put("time_us", (arrival.earliest_s + plan.kernel.delay_s) * 1e6);
  if (arrival.latest_s > arrival.earliest_s) {
    json.put("latest_time_us", (arrival.latest_s + plan.kernel.delay_s) * 1e6);
  }
  json.put("level_dB", arrival.level_dB);
  json.put("mark_spacing_mm", (arrival.spacing_m + signal.mark_offset_m) * 1e3);
  json.flag("within_burst_and_echoes", arrival.disturbs);
}

void write_wall(JsonWriter& json, const WallIndicators& wall, double burst_s) {
  json.text("regime", regime_name(wall.regime));
  json.put("frequency_thickness_MHz_mm", wall.frequency_thickness_Hz_m * 1e-3);
  json.put("echo_delay_us", wall.delay_s * 1e6);
  json.put("burst_us", burst_s * 1e6);
  json.put("echo_delay_per_burst", wall.delay_per_burst);
  json.put("footprint_ratio", wall.footprint_ratio);
  json.put("thickness_in_wavelengths", wall.wavelengths);
  if (wall.nearest_root) {
    json.put("nearest_resonance_MHz_mm", wall.nearest_root->root.frequency_thickness_Hz_m * 1e-3);
    json.put("distance_MHz_mm", wall.nearest_root->distance_Hz_m * 1e-3);
    json.put("resonance_spacing_MHz_mm", wall.nearest_root->mean_spacing_Hz_m * 1e-3);
  }
}

void write_response(JsonWriter& json, const WaveResponse& response, double offset_m) {
  json.put("best_mark_spacing_mm",
           (response.ray_spacing_m + response.best_offset_m + offset_m) * 1e3);
  json.put("best_level_dB", response.best_level_dB);
  json.put("best_delay_us", response.best_delay_s * 1e6);
  json.put("level_at_planned_dB", response.at_ray.level_dB);
  json.put("early_level_at_planned_dB", response.at_ray.early_level_dB);
  json.put("early_best_mark_spacing_mm",
           (response.ray_spacing_m + response.early_best_offset_m + offset_m) * 1e3);
  json.put("early_best_level_dB", response.early_best_level_dB);
  write_window(json, "window_3dB_mm", response.within_3_dB, response.ray_spacing_m + offset_m);
  write_window(json, "window_6dB_mm", response.within_6_dB, response.ray_spacing_m + offset_m);
  json.array("curve", [&] {
    for (const SpacingLevel& level : response.levels) {
      json.object([&] {
        json.put("mark_spacing_mm", (level.exit_spacing_m + offset_m) * 1e3);
        json.put("level_dB", level.level_dB);
        json.put("early_level_dB", level.early_level_dB);
        json.put("peak_delay_us", level.peak_delay_s * 1e6);
      });
    }
  });
  json.object("grid", [&] {
    json.count("frequencies", response.grid.frequencies);
    json.count("angles", response.grid.angles);
    json.count("spacings", response.grid.spacings);
    json.count("times", response.grid.times);
  });
}

template <class Inside>
Json parsed(const Inside& inside) {
  std::string text;
  JsonWriter json(text);
  json.object([&] { inside(json); });
  return Json::parse(text);
}

}  // namespace

std::string_view flow_regime_name(FlowRegime regime) {
  switch (regime) {
    case FlowRegime::laminar:
      return "laminar";
    case FlowRegime::transition:
      return "transition";
    case FlowRegime::turbulent:
      return "turbulent";
  }
  return "";
}

void write_path(JsonWriter& json, const ResolvedJob& job, const Plan& plan) {
  const RayPath& ray = plan.path->ray;
  json.count("traverses", plan.traverses);
  json.text("sides", plan.same_side() ? "same" : "opposite");
  json.text("wall_mode", wave_mode_name(plan.wall_mode));
  json.put("trace_speed_m_s", ray.trace_speed_m_s);
  json.put("wedge_temperature_degC", plan.conditions.wedge_temperature_K - 273.15);
  json.put("wedge_sound_speed_m_s", plan.kernel.wedge_sound_speed_m_s);
  json.object("angles_deg", [&] {
    json.put("wedge", job.sensors.wedge_angle_rad * degree);
    for (std::size_t i = 0; i < ray.layer_count; ++i) {
      json.put(layer_role_name(plan.layer_roles[i]), ray.layer_legs[i].angle_rad * degree);
    }
    json.put("fluid", ray.liquid_leg.angle_rad * degree);
  });
  json.put("exit_spacing_mm", ray.exit_spacing_m * 1e3);
  json.put("mark_spacing_mm", ray.mark_spacing_m * 1e3);
  json.put("face_gap_mm", plan.path->face_gap_m, 1e3);
  json.put("overall_length_mm", plan.path->overall_length_m, 1e3);
  json.put("zero_flow_time_us", ray.zero_flow_time_s * 1e6);
  json.put("fluid_time_us", ray.fluid_time_s * 1e6);
  json.put("half_cycle_velocity_m_s",
           half_cycle_velocity_m_s(liquid_path(plan.kernel, ray.ray_parameter_s_m),
                                   job.sensors.frequency_Hz));
}

void write_run(JsonWriter& json, const StraightRun& run) {
  json.put("required_D", run.required_D);
  json.put("available_D", run.available_D);
  if (!run.governing.empty()) json.text("governing", run.governing);
  if (!run.source.empty()) json.text("source", run.source);
}

void write_signal(JsonWriter& json, const Plan& plan) {
  const PlanSignal& signal = *plan.signal;
  const SignalBudget& budget = signal.budget;
  json.put("loss_dB", budget.loss_dB);
  json.put("u_loss_dB", budget.uncertainty.combined_dB);
  json.array("parts", [&] {
    for (std::size_t i = 0; i < budget.part_count; ++i) {
      json.object([&] {
        json.text("part", part_name(budget.parts[i], plan));
        json.put("dB", budget.parts[i].loss_dB);
      });
    }
  });
  if (!signal.arrivals) return;
  json.put("best_mark_spacing_mm", signal.best_mark_spacing_m * 1e3);
  write_window(json, "window_3dB_mm", signal.window_3_dB);
  write_window(json, "window_6dB_mm", signal.window_6_dB);
  json.put("planned_below_best_dB", signal.ray_below_best_dB);
  json.put("phase_shift_mm", budget.phase_shift_m * 1e3);
  if (plan.traverses > 1) {
    const OuterBounce& outer = budget.outer_bounces[signal.wall_layer];
    json.object("bounce", [&] {
      json.put("inner_face_dB", budget.bounce_loss_dB);
      json.put("outer_face_dB", outer.loss_dB);
      json.put(
          "outer_face_mark_spacing_mm",
          (plan.path->ray.mark_spacing_m + (plan.traverses - 1) * outer.added_spacing_m) * 1e3);
    });
  }
  if (signal.wall) {
    json.object("wall", [&] { write_wall(json, *signal.wall, signal.arrivals->burst_s); });
  }
  json.array("arrivals", [&] {
    for (const Arrival& arrival : signal.arrivals->by_time()) {
      json.object([&] { write_arrival(json, arrival, signal, plan); });
    }
  });
  if (signal.response) {
    json.object("response", [&] { write_response(json, *signal.response, signal.mark_offset_m); });
  }
}

Json path_json(const ResolvedJob& job, const Plan& plan) {
  return parsed([&](JsonWriter& json) { write_path(json, job, plan); });
}

Json run_json(const StraightRun& run) {
  return parsed([&](JsonWriter& json) { write_run(json, run); });
}

Json signal_json(const Plan& plan) {
  return parsed([&](JsonWriter& json) { write_signal(json, plan); });
}

}  // namespace slantrule
