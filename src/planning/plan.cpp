#include "slantrule/planning/plan.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "liquid_answer.hpp"
#include "slantrule/planning/checks.hpp"
#include "slantrule/planning/clock.hpp"
#include "slantrule/planning/defaults.hpp"
#include "slantrule/planning/path_choice.hpp"
#include "slantrule/planning/straight_run.hpp"

namespace slantrule {
namespace {

bool follows_ambient(const ResolvedMaterial& material) {
  // Poor conductors: the wall's mean lies half way between the liquid and the surroundings.
  return !material.is_inline &&
         (material.family == SolidFamily::plastic || material.family == SolidFamily::composite);
}

/// Change of the speed of sound with one coordinate of the state, over a small step, which is taken
/// backwards where the model has no speed ahead: at the end of its range, or of what is known of a
/// solution. nullopt: neither way. `here_m_s` is the speed at `state`.
std::optional<double> sound_speed_slope(const LiquidModel& model, const LiquidState& state,
                                        double here_m_s, double LiquidState::*coordinate,
                                        double step) {
  for (const double by : {step, -step}) {
    LiquidState other = state;
    other.*coordinate += by;
    try {
      other.pressure_Pa = std::max(other.pressure_Pa,
                                   model.saturation_pressure_Pa(other.temperature_K).value_or(0));
      if (const auto there = model.at(other).sound_speed_m_s) {
        return (there->value - here_m_s) / by;
      }
    } catch (const std::domain_error&) {
    } catch (const std::invalid_argument&) {
    }
  }
  return std::nullopt;
}

/// What the strength's own uncertainty adds to that of the speed of sound.
void add_strength_uncertainty(const ResolvedLiquid& liquid, const LiquidState& state,
                              Estimate& speed_m_s) {
  if (liquid.sound_speed_measured || !(liquid.u_mass_fraction > 0)) return;
  if (const auto slope_m_s = sound_speed_slope(*liquid.model, state, speed_m_s.value,
                                               &LiquidState::mass_fraction, 0.001)) {
    speed_m_s.u = std::hypot(speed_m_s.u, *slope_m_s * liquid.u_mass_fraction);
  }
}

/// At the end of its range a model knows what it says there, not what it is asked. The way from
/// there to the state asked for adds what the speed would change by along its slope, and no less
/// than 5 m/s (judged).
void add_distance_uncertainty(const LiquidModel& model, const LiquidState& asked,
                              const LiquidState& answered, Estimate& speed_m_s) {
  double far_m_s = 5;
  const auto add = [&](double LiquidState::*coordinate, double step) {
    const double distance = asked.*coordinate - answered.*coordinate;
    if (distance == 0) return;
    if (const auto slope = sound_speed_slope(model, answered, speed_m_s.value, coordinate, step)) {
      far_m_s = std::hypot(far_m_s, *slope * distance);
    }
  };
  add(&LiquidState::temperature_K, 0.1);
  add(&LiquidState::pressure_Pa, -1e4);
  add(&LiquidState::mass_fraction, 0.001);
  speed_m_s.u = std::hypot(speed_m_s.u, far_m_s);
}

Conditions conditions(const ResolvedJob& job, const PlanOptions& options) {
  const ResolvedLiquid& liquid = job.liquid;
  Conditions out;
  const double temperature_K = liquid.temperature_K.value;
  out.saturation_pressure_Pa = liquid.model->saturation_pressure_Pa(temperature_K);
  // Unknown pressure: 1 atm, or just above saturation where that is more.
  out.pressure_Pa = liquid.pressure_Pa.value_or(
      std::max(defaults::atmosphere_Pa, out.saturation_pressure_Pa.value_or(0) * (1 + 1e-9)));
  const LiquidState asked{temperature_K, out.pressure_Pa, liquid.mass_fraction};
  const LiquidAnswer answer = answer_near(*liquid.model, asked);
  const LiquidProperties& properties = answer.properties;
  const LiquidState& state = answer.state;
  out.at_range_end = answer.at_range_end;
  // `resolve` lets no liquid through without a speed of sound.
  out.liquid_sound_speed_m_s = properties.sound_speed_m_s.value();
  add_strength_uncertainty(liquid, state, out.liquid_sound_speed_m_s);
  if (out.at_range_end && !liquid.sound_speed_measured) {
    add_distance_uncertainty(*liquid.model, asked, state, out.liquid_sound_speed_m_s);
  } else if (!liquid.sound_speed_measured && (options.findings || options.sensitivity)) {
    out.sound_speed_slope_m_s_K = sound_speed_slope(
        *liquid.model, state, out.liquid_sound_speed_m_s.value, &LiquidState::temperature_K, 0.1);
  }
  if (options.findings || options.signal != SignalDetail::none)
    out.absorption = liquid.model->absorption_of(state, properties);
  out.density_kg_m3 = properties.density_kg_m3;
  out.viscosity_Pa_s = properties.viscosity_Pa_s;
  if (const auto& measured = liquid.kinematic_viscosity_m2_s) {
    out.viscosity_Pa_s.reset();
    if (out.density_kg_m3) {
      out.viscosity_Pa_s = Estimate{measured->value * out.density_kg_m3->value,
                                    measured->u * out.density_kg_m3->value};
    }
  }
  out.freezing_temperature_K = liquid.model->freezing_temperature_K(state);

  const double ambient_K = job.site.ambient_K.value;
  out.liner_temperature_K = temperature_K;
  out.wall_temperature_K = job.pipe.wall_temperature_K.value_or(
      follows_ambient(job.pipe.material) ? (temperature_K + ambient_K) / 2 : temperature_K);
  out.coating_temperature_K = out.wall_temperature_K;
  out.wedge_temperature_K = job.site.wedge_temperature_K.value_or(
      job.site.refitted_insulation ? out.wall_temperature_K
                                   : (out.wall_temperature_K + ambient_K) / 2);
  return out;
}

std::optional<double> velocity_m_s(const FlowAmount& amount, const Plan& plan) {
  switch (amount.dimension) {
    case Dimension::velocity:
      return amount.si;
    case Dimension::volume_flow:
      return amount.si / plan.kernel.area_m2;
    case Dimension::mass_flow:
      if (!plan.conditions.density_kg_m3) return std::nullopt;
      return amount.si / plan.conditions.density_kg_m3->value / plan.kernel.area_m2;
    default:
      return std::nullopt;
  }
}

void add_flow(const ResolvedJob& job, Plan& plan) {
  const auto point = [&](const std::optional<FlowAmount>& amount) -> std::optional<FlowPoint> {
    if (!amount) return std::nullopt;
    const auto velocity = velocity_m_s(*amount, plan);
    if (!velocity) return std::nullopt;
    return flow_point(plan.kernel, *velocity);
  };
  plan.usual = point(job.flow.usual);
  plan.least = point(job.flow.least);
  plan.most = point(job.flow.most);
}

void add_time_differences(Plan& plan) {
  if (!plan.path) return;
  const LiquidPath path = liquid_path(plan.kernel, plan.path->ray.ray_parameter_s_m);
  for (std::optional<FlowPoint>* point : {&plan.usual, &plan.least, &plan.most}) {
    if (*point) (*point)->time_difference_s = flow_time_difference_s(path, **point);
  }
}

void find_runs(const ResolvedJob& job, std::optional<Placement> placed, Plan& plan) {
  std::optional<double> nearest_up_m, nearest_down_m;
  if (placed) {
    nearest_up_m = placed->upstream_m;
    nearest_down_m = placed->downstream_m;
  }
  const bool reversing = job.flow.reversing;
  plan.upstream = straight_run(job.site, RunSide::upstream, reversing, plan.bore_m, nearest_up_m);
  plan.downstream =
      straight_run(job.site, RunSide::downstream, reversing, plan.bore_m, nearest_down_m);
}

/// The runs were found before the path was chosen, but for a pair that the planner places.
void add_straight_run(const ResolvedJob& job, Plan& plan) {
  if (plan.path) {
    plan.placement = place_pair(job.site, job.flow.reversing, plan.path->ray.exit_spacing_m,
                                plan.path->overall_length_m.value_or(0));
  }
  if (plan.placement) find_runs(job, plan.placement, plan);
  const auto& flow = plan.usual ? plan.usual : plan.least ? plan.least : plan.most;
  const bool low = flow && flow->reynolds && *flow->reynolds < slow_recovery_reynolds;
  plan.upstream.low_reynolds = low;
  plan.downstream.low_reynolds = low;
  plan.u_installation = installation_uncertainty(plan.upstream, plan.downstream);
  if (low && flow->regime == FlowRegime::laminar) {
    const auto nearest_D = nearest_upstream_D(plan.upstream, plan.downstream);
    if (nearest_D && *nearest_D < laminar_development_length_D(*flow->reynolds)) {
      plan.u_installation = std::hypot(plan.u_installation, undeveloped_laminar_u);
    }
  }
}

/// The kernel with one input moved, everything that depends on it along with it.
struct Entered {
  std::string_view input, per;
  double step;      ///< the size of `per`
  double fraction;  ///< part of it that the difference is taken over
  void (*move)(KernelInputs&, const Plan&, double by);
};

void move_diameter(KernelInputs& k, const Plan&, double by_m) {
  const double old_bore_m = k.bore_m;
  k.bore_m += by_m;
  k.area_m2 *= (k.bore_m / old_bore_m) * (k.bore_m / old_bore_m);
}

void move_wall(KernelInputs& k, const Plan& plan, double by_m) {
  for (std::size_t i = 0; i < plan.layer_roles.size(); ++i) {
    if (plan.layer_roles[i] == LayerRole::wall) k.layers[i].thickness_m += by_m;
  }
  move_diameter(k, plan, -2 * by_m);
}

void move_liquid_speed(KernelInputs& k, const Plan&, double by) {
  k.liquid_sound_speed_m_s *= 1 + by;
}

void move_wedge_speed(KernelInputs& k, const Plan&, double by) {
  k.wedge_sound_speed_m_s *= 1 + by;
}

void add_sensitivity(const ResolvedJob& job, Plan& plan) {
  const FluidTime method = job.fluid_time_computed ? FluidTime::computed : FluidTime::measured;
  const auto add = [&](std::string_view input, std::string_view per, double scale,
                       const KernelInputs& moved) {
    const auto traced = trace_ray(moved);
    const RayPath* ray = std::get_if<RayPath>(&traced);
    if (!ray) return;
    const ReadOut shown = read_out(plan.kernel, moved, method);
    Sensitivity row{.input = input,
                    .per = per,
                    .mark_spacing_m = (ray->mark_spacing_m - plan.path->ray.mark_spacing_m) * scale,
                    .sound_speed_m_s = {},
                    .flow_percent = {}};
    if (std::isfinite(shown.sound_speed_m_s)) {
      row.sound_speed_m_s = (shown.sound_speed_m_s - plan.kernel.liquid_sound_speed_m_s) * scale;
    }
    if (std::isfinite(shown.flow_ratio)) row.flow_percent = 100 * (shown.flow_ratio - 1) * scale;
    plan.sensitivity.push_back(row);
  };
  static constexpr Entered inputs[] = {
      {"pipe.outside_diameter", "1 mm", 1e-3, 0.01, move_diameter},
      {"pipe.wall", "1 mm", 1e-3, 0.01, move_wall},
      {"fluid.sound_speed", "1 %", 0.01, 0.1, move_liquid_speed},
      {"sensors.wedge.sound_speed", "1 %", 0.01, 0.1, move_wedge_speed},
  };
  for (const Entered& one : inputs) {
    KernelInputs moved = plan.kernel;
    one.move(moved, plan, one.step * one.fraction);
    if (!(moved.bore_m > 0)) continue;
    add(one.input, one.per, 1 / one.fraction, moved);
  }
  // One kelvin of liquid, one per cent of strength, ten kelvin of wedge.
  if (const auto slope_m_s_K = plan.conditions.sound_speed_slope_m_s_K) {
    KernelInputs moved = plan.kernel;
    moved.liquid_sound_speed_m_s += 0.1 * *slope_m_s_K;
    add("fluid.temperature", "1 K", 10, moved);
  }
  const ResolvedLiquid& liquid = job.liquid;
  if (liquid.solution && !liquid.sound_speed_measured && !plan.conditions.at_range_end) {
    const LiquidState state{liquid.temperature_K.value, plan.conditions.pressure_Pa,
                            liquid.mass_fraction};
    if (const auto slope_m_s =
            sound_speed_slope(*liquid.model, state, plan.conditions.liquid_sound_speed_m_s.value,
                              &LiquidState::mass_fraction, 0.001)) {
      KernelInputs moved = plan.kernel;
      moved.liquid_sound_speed_m_s += 0.001 * *slope_m_s;
      add("fluid.concentration", "1 % mass", 10, moved);
    }
  }
  if (job.sensors.wedge_slope_stated) {
    KernelInputs moved = plan.kernel;
    moved.wedge_sound_speed_m_s += job.sensors.wedge.slope_m_s_K;
    if (moved.wedge_sound_speed_m_s > 0) {
      add("location.wedge_temperature", "10 K", 10, moved);
    }
  }
}

void add_expectation(Plan& plan) {
  Expectation expect;
  expect.sound_speed_m_s = plan.conditions.liquid_sound_speed_m_s.value;
  // Accept within 1 % (proposal); total time within 1 % or 1 us, whichever is more (proposal).
  expect.sound_speed_tolerance_m_s = 0.01 * expect.sound_speed_m_s;
  expect.zero_flow_time_s = plan.path->ray.zero_flow_time_s;
  expect.zero_flow_time_tolerance_s = std::max(0.01 * expect.zero_flow_time_s, 1e-6);
  if (plan.usual) expect.time_difference_s = plan.usual->time_difference_s;
  plan.expect = expect;
}

/// The shortest rail of the kit that takes the spacing, and what its steps leave over. The signal's
/// share comes with the signal.
void add_rail(const ResolvedJob& job, Plan& plan) {
  const double spacing_m = plan.path->ray.mark_spacing_m;
  const ResolvedRail* taken = nullptr;
  for (const ResolvedRail& rail : job.kit.rails) {
    if (!rail.takes(spacing_m, plan.same_side())) continue;
    if (!taken || rail.greatest_spacing_m < taken->greatest_spacing_m) taken = &rail;
  }
  RailSetting setting;
  if (taken) {
    setting.name = taken->name;
    setting.step_m = taken->step_m;
  } else if (job.kit.rails.empty() && job.site.rail_step_m) {
    setting.step_m = job.site.rail_step_m;
  } else {
    return;
  }
  setting.set_m = spacing_m;
  if (setting.step_m) {
    setting.remainder_m = -std::remainder(spacing_m, *setting.step_m);
    setting.set_m = spacing_m + setting.remainder_m;
    setting.within_tolerance = std::fabs(setting.remainder_m) <= plan.mounting_tolerance_m;
    const FluidTime method = job.fluid_time_computed ? FluidTime::computed : FluidTime::measured;
    const ReadOut shown = read_out(plan.kernel, plan.kernel, method, setting.remainder_m);
    if (std::isfinite(shown.flow_ratio)) setting.flow_percent = 100 * (shown.flow_ratio - 1);
  }
  plan.rail = std::move(setting);
}

/// What the rail's remainder does to the direct signal.
void price_rail_remainder(Plan& plan) {
  if (!plan.rail || !plan.signal || !plan.signal->arrivals) return;
  const PlanSignal& signal = *plan.signal;
  const double best_m = signal.best_mark_spacing_m;
  plan.rail->loss_dB = misplacement_loss_dB(signal.budget, plan.rail->set_m - best_m) -
                       misplacement_loss_dB(signal.budget, plan.path->ray.mark_spacing_m - best_m);
}

void add_setting(const ResolvedJob& job, Plan& plan) {
  plan.mounting_tolerance_m = plan.bore_m < 0.1 ? 0.5e-3 : 1e-3;
  plan.setting_step_m = plan.mounting_tolerance_m;
  add_rail(job, plan);
  // A rail too coarse for the tolerance is no reason to mount wrong: kit.rail-step tells.
  if (plan.rail && plan.rail->step_m && plan.rail->within_tolerance) {
    plan.setting_step_m = *plan.rail->step_m;
  }
  // Half a per cent of the liquid's speed of sound is what a good property table leaves open.
  KernelInputs moved = plan.kernel;
  moved.liquid_sound_speed_m_s *= 1.005;
  const auto traced = trace_ray(moved);
  if (const RayPath* ray = std::get_if<RayPath>(&traced)) {
    plan.transmitter_spacing_tolerance_m =
        std::max(1e-3, std::fabs(ray->mark_spacing_m - plan.path->ray.mark_spacing_m));
  }
}

}  // namespace

std::string_view layer_role_name(LayerRole role) {
  switch (role) {
    case LayerRole::coating:
      return "coating";
    case LayerRole::wall:
      return "wall";
    case LayerRole::liner:
      return "liner";
  }
  return {};
}

Plan plan(const ResolvedJob& job, const PlanOptions& options) {
  Plan out;
  out.conditions = conditions(job, options);
  out.bore_m = job.pipe.bore_m();

  KernelInputs& kernel = out.kernel;
  kernel.bore_m = out.bore_m;
  kernel.area_m2 = job.pipe.area_m2();
  kernel.wedge_sound_speed_m_s = job.sensors.wedge.at(out.conditions.wedge_temperature_K);
  kernel.wedge_angle_rad = job.sensors.wedge_angle_rad;
  kernel.wedge_path_m = job.sensors.wedge_path_m;
  kernel.setback_m = job.sensors.setback_m;
  kernel.delay_s = job.sensors.delay_s;
  kernel.liquid_sound_speed_m_s = out.conditions.liquid_sound_speed_m_s.value;
  kernel.roughness_m = job.pipe.roughness_m.value_or(0);
  if (job.liquid.kinematic_viscosity_m2_s) {
    kernel.kinematic_viscosity_m2_s = job.liquid.kinematic_viscosity_m2_s->value;
  } else if (out.conditions.viscosity_Pa_s && out.conditions.density_kg_m3) {
    kernel.kinematic_viscosity_m2_s =
        out.conditions.viscosity_Pa_s->value / out.conditions.density_kg_m3->value;
  }

  add_flow(job, out);
  find_runs(job, std::nullopt, out);
  const SoundPathAnswer sound = choose_path(job, options, out);
  add_time_differences(out);
  add_straight_run(job, out);
  if (job.site.clock_h) {
    out.clock_h = job.site.clock_h;
    out.other_clock_h = out.same_side() ? *job.site.clock_h : opposite_clock_h(*job.site.clock_h);
  }
  if (out.path) {
    add_setting(job, out);
    add_expectation(out);
    if (options.sensitivity) add_sensitivity(job, out);
  }
  if (out.path && options.signal != SignalDetail::none) {
    out.signal = plan_signal(sound, out, options.signal, options.response);
    out.signal_missing = sound.missing;
    price_rail_remainder(out);
  }
  if (options.findings) {
    out.findings = run_checks(job, out);
    out.verdict = verdict_of(out.findings);
  }
  if (options.signal == SignalDetail::screened) {
    if (out.signal) hide_placement(*out.signal);
    if (out.rail) out.rail->loss_dB = 0;
  }
  return out;
}

}  // namespace slantrule
