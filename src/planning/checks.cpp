#include "slantrule/planning/checks.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "slantrule/planning/check_table.hpp"
#include "slantrule/planning/clock.hpp"
#include "slantrule/planning/defaults.hpp"
#include "slantrule/planning/straight_run.hpp"

namespace slantrule {
namespace {

using Kind = ValueKind;

// ---------------------------------------------------------------- limits

constexpr double deg = std::numbers::pi / 180;
constexpr double clock_good_rad = 30 * deg;
constexpr double clock_limit_rad = 45 * deg;
constexpr double near_critical_rad = 2 * deg;
constexpr double lowest_velocity_m_s = 0.1;
constexpr double highest_velocity_m_s = 10;
constexpr double slip_velocity_m_s = 15;
constexpr double low_reynolds = 10000;
constexpr double flashing_margin = 1.2;
constexpr double gas_limit = 0.01;
constexpr double sound_speed_limit = 0.02;     ///< relative standard uncertainty
constexpr double material_speed_limit = 0.03;  ///< relative standard uncertainty
constexpr double mill_wall_tolerance = 0.125;
constexpr double diameter_tolerance = 0.01;
/// Slope of a common wedge plastic where none is stated (from memory), to price its absence.
constexpr double usual_wedge_slope_m_s_K = -2;

/// Collects findings; `job` and `plan` are what every check sees.
struct Context {
  const ResolvedJob& job;
  const Plan& plan;
  std::vector<Finding>& findings;

  Finding& add(CheckId check, Severity severity, std::array<FindingValue, 4> values = {},
               std::string_view subject = {}) const {
    findings.push_back({.check = check,
                        .severity = severity,
                        .values = values,
                        .subject = std::string(subject),
                        .accepted = false,
                        .accepted_because = {},
                        .accepted_by = {}});
    return findings.back();
  }
  Finding& add(CheckId check, std::array<FindingValue, 4> values = {},
               std::string_view subject = {}) const {
    return add(check, check_info(check).worst, values, subject);
  }
};

using Flow = std::pair<std::string_view, const std::optional<FlowPoint>*>;

std::array<Flow, 3> flows(const Plan& plan) {
  return {{{"usual", &plan.usual}, {"least", &plan.least}, {"greatest", &plan.most}}};
}

/// Spacing of the plan's path with other inputs; nullopt when there is no ray.
std::optional<double> mark_spacing_m(const KernelInputs& kernel) {
  const auto traced = trace_ray(kernel);
  const RayPath* ray = std::get_if<RayPath>(&traced);
  if (!ray) return std::nullopt;
  return ray->mark_spacing_m;
}

// ---------------------------------------------------------------- straight run

void check_one_run(const Context& c, const StraightRun& run, CheckId short_id, CheckId unknown_id) {
  if (!run.available_D) {
    c.add(unknown_id, {{{}, {run.required_D, Kind::diameters}}});
    return;
  }
  if (*run.available_D >= run.required_D) return;
  const Severity severity = *run.available_D < refused_below_D ? Severity::stop : Severity::caution;
  c.add(short_id, severity,
        {{{*run.available_D, Kind::diameters},
          {run.required_D, Kind::diameters},
          {straight_run_price(run) * 100, run.single_elbow && short_id == CheckId::run_upstream
                                              ? Kind::percent_low
                                              : Kind::percent_either}}},
        run.governing);
}

void check_straight_run(const Context& c) {
  if (c.job.site.straight_m && c.plan.path && !c.plan.placement) {
    c.add(CheckId::run_straight_short, {{{*c.job.site.straight_m, Kind::length_m},
                                         {c.plan.path->ray.exit_spacing_m, Kind::length_m}}});
  }
  check_one_run(c, c.plan.upstream, CheckId::run_upstream, CheckId::run_upstream_unknown);
  check_one_run(c, c.plan.downstream, CheckId::run_downstream, CheckId::run_downstream_unknown);

  // Welds and flanges disturb the mounting, not the flow: a body length off the foot.
  const ResolvedSensors& pair = c.job.sensors;
  for (const auto* side : {&c.job.site.upstream, &c.job.site.downstream}) {
    for (const ResolvedFitting& fitting : *side) {
      if (!fitting.mark_only) continue;
      double distance_m = 0;
      if (fitting.distance_m) {
        distance_m = *fitting.distance_m;
      } else if (fitting.distance_D) {
        distance_m = *fitting.distance_D * c.plan.bore_m;
      } else {
        continue;
      }
      const double body_m = pair.length_m.value_or(c.plan.bore_m);
      const double behind_exit_m = body_m - pair.nose_m.value_or(0);
      const double needed_m = behind_exit_m + body_m;
      if (distance_m >= needed_m) continue;
      c.add(CheckId::run_mark_only, distance_m < behind_exit_m ? Severity::stop : Severity::caution,
            {{{distance_m, Kind::length_m}, {needed_m, Kind::length_m}}}, fitting.name);
    }
  }
}

// ---------------------------------------------------------------- mounting

void check_clock(const Context& c) {
  switch (c.job.pipe.orientation) {
    case Orientation::vertical_down:
      c.add(CheckId::mount_down_flow);
      [[fallthrough]];
    case Orientation::vertical_up:
      if (c.job.site.clock_text.empty()) c.add(CheckId::mount_clock_landmark);
      return;
    case Orientation::unknown:
      c.add(CheckId::mount_orientation_unknown);
      break;
    case Orientation::sloped_up:
    case Orientation::sloped_down:
      c.add(CheckId::pipe_orientation_not_used);
      break;
    case Orientation::horizontal:
      break;
  }
  if (!c.plan.clock_h) {
    c.add(CheckId::mount_clock_unknown);
    return;
  }
  // Both ends of a diameter lie equally far from the horizontal. A hair of rounding is no offence:
  // 2 o'clock is exactly 30 degrees.
  const double tilt_rad = angle_from_horizontal_rad(*c.plan.clock_h);
  if (tilt_rad <= clock_good_rad * (1 + 1e-9)) return;
  c.add(CheckId::mount_clock,
        tilt_rad <= clock_limit_rad * (1 + 1e-9) ? Severity::caution : Severity::stop,
        {{{*c.plan.clock_h, Kind::clock_h},
          {clock_good_rad, Kind::angle_rad},
          {tilt_rad, Kind::angle_rad},
          {clock_limit_rad, Kind::angle_rad}}});
}

// ---------------------------------------------------------------- path

const ResolvedMaterial* layer_material(const ResolvedJob& job, LayerRole role) {
  switch (role) {
    case LayerRole::coating:
      return &job.pipe.coating->material;
    case LayerRole::wall:
      return &job.pipe.material;
    case LayerRole::liner:
      return &job.pipe.liner->material;
  }
  return nullptr;
}

void check_ray(const Context& c) {
  if (c.plan.path) return;
  if (!c.plan.no_ray) {
    if (!(c.plan.kernel.wedge_sound_speed_m_s > 0)) {
      c.add(CheckId::path_no_wave, {}, "the wedge at its temperature");
      return;
    }
    // A layer without the wave asked for; it is the first one not in the list.
    const std::size_t have = c.plan.layer_roles.size();
    const bool coated = c.job.pipe.coating && c.job.pipe.coating_under_sensors;
    const LayerRole role = have == 0 && coated         ? LayerRole::coating
                           : have == (coated ? 1u : 0) ? LayerRole::wall
                                                       : LayerRole::liner;
    c.add(CheckId::path_no_wave, {}, layer_material(c.job, role)->name);
    return;
  }
  const NoRay& no_ray = *c.plan.no_ray;
  std::string layer = "liquid";
  if (no_ray.layer < c.plan.layer_roles.size()) {
    layer = layer_role_name(c.plan.layer_roles[no_ray.layer]);
    const WaveMode mode = layer == "wall"    ? c.plan.wall_mode
                          : layer == "liner" ? c.job.path.liner_mode
                                             : c.job.path.coating_mode;
    layer = std::string(wave_mode_name(mode)) + " wave in the " + layer;
  }
  c.add(CheckId::path_no_ray,
        {{{no_ray.trace_speed_m_s, Kind::velocity_m_s},
          {no_ray.sound_speed_m_s, Kind::velocity_m_s}}},
        layer);
}

void check_wall_modes(const Context& c) {
  const double wall_K = c.plan.conditions.wall_temperature_K;
  const ResolvedMaterial& wall = c.job.pipe.material;
  const KernelInputs& kernel = c.plan.kernel;
  const double wedge_m_s = kernel.wedge_sound_speed_m_s;
  if (!(wedge_m_s > 0)) return;

  for (WaveMode mode : {WaveMode::longitudinal, WaveMode::shear}) {
    const auto& wave = wall.wave(mode);
    if (!wave || !(wave->at(wall_K) > 0)) continue;
    const double critical_rad = critical_wedge_angle_rad(wedge_m_s, wave->at(wall_K));
    const double off_rad = std::fabs(kernel.wedge_angle_rad - critical_rad);
    if (std::isnan(critical_rad) || off_rad > near_critical_rad) continue;
    c.add(CheckId::path_near_critical,
          {{{kernel.wedge_angle_rad, Kind::angle_rad},
            {critical_rad, Kind::angle_rad},
            {off_rad, Kind::angle_rad}}},
          std::string(wave_mode_name(mode)) + " wave in the wall");
  }

  if (!c.plan.path) return;
  const WaveMode other =
      c.plan.wall_mode == WaveMode::shear ? WaveMode::longitudinal : WaveMode::shear;
  const auto& other_wave = wall.wave(other);
  if (!other_wave || !(other_wave->at(wall_K) > 0) ||
      other_wave->at(wall_K) >= c.plan.path->ray.trace_speed_m_s) {
    return;
  }
  // Shear waves near or below the liquid's speed (plastics) are too weak to be taken for another
  // arrival.
  if (other == WaveMode::shear && other_wave->at(wall_K) < 1.2 * kernel.liquid_sound_speed_m_s) {
    return;
  }
  KernelInputs with_other = kernel;
  for (std::size_t i = 0; i < c.plan.layer_roles.size(); ++i) {
    if (c.plan.layer_roles[i] == LayerRole::wall) {
      with_other.layers[i].sound_speed_m_s = other_wave->at(wall_K);
    }
  }
  const auto traced = trace_ray(with_other);
  const RayPath* ray = std::get_if<RayPath>(&traced);
  if (!ray || !wall.longitudinal || !(wall.longitudinal->at(wall_K) > 0)) return;
  const double critical_rad = critical_wedge_angle_rad(wedge_m_s, wall.longitudinal->at(wall_K));
  c.add(CheckId::path_both_modes,
        {{{kernel.wedge_angle_rad, Kind::angle_rad},
          {std::isnan(critical_rad) ? std::numbers::pi / 2 : critical_rad, Kind::angle_rad},
          {std::fabs(ray->zero_flow_time_s - c.plan.path->ray.zero_flow_time_s), Kind::time_s},
          {std::fabs(ray->mark_spacing_m - c.plan.path->ray.mark_spacing_m), Kind::length_m}}});
}

void check_room(const Context& c) {
  if (!c.plan.path) return;
  const PlannedPath& path = *c.plan.path;
  const double least_m = c.job.sensors.least_face_gap_m;
  if (c.plan.same_side()) {
    if (!path.face_gap_m) {
      c.add(CheckId::path_overlap_unknown);
    } else if (*path.face_gap_m < least_m) {
      c.add(CheckId::path_overlap,
            {{{*path.face_gap_m, Kind::length_m}, {least_m, Kind::length_m}}});
    }
  } else {
    if (c.plan.traverses_chosen) c.add(CheckId::path_no_even_count);
    if (c.job.site.one_side) {
      c.add(CheckId::path_one_side, {{{static_cast<double>(c.plan.traverses), Kind::count}}});
    }
  }
  if (path.ray.mark_spacing_m < 0) {
    c.add(CheckId::path_marks_cross, {{{path.ray.mark_spacing_m, Kind::length_m}}});
  }
  if (c.job.site.rail_length_m && path.overall_length_m && c.plan.same_side() &&
      *path.overall_length_m > *c.job.site.rail_length_m) {
    c.add(CheckId::path_rail_short, {{{*path.overall_length_m, Kind::length_m},
                                      {*c.job.site.rail_length_m, Kind::length_m}}});
  }
  if (c.job.site.rail_step_m && c.plan.setting_step_m != *c.job.site.rail_step_m) {
    c.add(CheckId::path_rail_step,
          {{{std::fabs(std::remainder(path.ray.mark_spacing_m, *c.job.site.rail_step_m)),
             Kind::length_m},
            {c.plan.mounting_tolerance_m, Kind::length_m},
            {*c.job.site.rail_step_m, Kind::length_m}}});
  }
  if (c.plan.traverses_chosen && c.plan.same_side()) {
    c.add(CheckId::path_geometry_only, {{{static_cast<double>(c.plan.traverses), Kind::count}}});
  }
}

void check_thin_wall(const Context& c) {
  if (!c.plan.path || c.job.sensors.frequency_Hz <= 0) return;
  const double wavelength_m = c.plan.wall_sound_speed_m_s / c.job.sensors.frequency_Hz;
  const double wall_m = c.job.pipe.wall_m.value;
  if (wall_m >= wavelength_m) return;
  c.add(CheckId::pipe_thin_wall, {{{wall_m, Kind::length_m}, {wavelength_m, Kind::length_m}}});
}

// ---------------------------------------------------------------- sensors

void check_sensors(const Context& c) {
  const ResolvedSensors& pair = c.job.sensors;
  if (pair.invented) c.add(CheckId::sensors_invented, {}, pair.key);

  const double surface_K = c.plan.conditions.wall_temperature_K;
  if (!pair.lowest_K || !pair.highest_K) {
    c.add(CheckId::sensors_temperature_unknown, {{{surface_K, Kind::temperature_K}}});
  } else if (surface_K < *pair.lowest_K || surface_K > *pair.highest_K) {
    c.add(CheckId::sensors_temperature, {{{surface_K, Kind::temperature_K},
                                          {*pair.lowest_K, Kind::temperature_K},
                                          {*pair.highest_K, Kind::temperature_K}}});
  }

  const ResolvedSite& site = c.job.site;
  if (site.couplant_lowest_K && site.couplant_highest_K &&
      (surface_K < *site.couplant_lowest_K || surface_K > *site.couplant_highest_K)) {
    c.add(CheckId::mount_couplant,
          {{{surface_K, Kind::temperature_K},
            {*site.couplant_lowest_K, Kind::temperature_K},
            {*site.couplant_highest_K, Kind::temperature_K}}},
          site.couplant_name);
  }

  if (!pair.wedge_slope_stated) {
    const double off_K = c.plan.conditions.wedge_temperature_K - pair.wedge.at_K;
    double spacing_off_m = 0;
    if (c.plan.path) {
      KernelInputs moved = c.plan.kernel;
      moved.wedge_sound_speed_m_s += usual_wedge_slope_m_s_K * off_K;
      if (moved.wedge_sound_speed_m_s > 0) {
        const auto spacing_m = mark_spacing_m(moved);
        if (spacing_m) spacing_off_m = std::fabs(*spacing_m - c.plan.path->ray.mark_spacing_m);
      }
    }
    c.add(CheckId::sensors_wedge_slope_unknown,
          {{{off_K, Kind::temperature_difference_K}, {spacing_off_m, Kind::length_m}}});
  }

  const double outside_m = c.job.pipe.outside_diameter_m.value;
  if (pair.smallest_pipe_m && pair.largest_pipe_m &&
      (outside_m < *pair.smallest_pipe_m || outside_m > *pair.largest_pipe_m)) {
    c.add(CheckId::sensors_pipe_range, {{{outside_m, Kind::length_m},
                                         {*pair.smallest_pipe_m, Kind::length_m},
                                         {*pair.largest_pipe_m, Kind::length_m}}});
  }
}

// ---------------------------------------------------------------- liquid

void check_liquid(const Context& c) {
  const ResolvedLiquid& liquid = c.job.liquid;
  const Conditions& at = c.plan.conditions;
  const double temperature_K = liquid.temperature_K.value;

  if (!at.saturation_pressure_Pa) {
    c.add(CheckId::fluid_boiling_unknown, {}, liquid.name);
  } else {
    const double needed_Pa = flashing_margin * *at.saturation_pressure_Pa;
    if (liquid.pressure_Pa) {
      if (*liquid.pressure_Pa < needed_Pa) {
        c.add(
            CheckId::fluid_flashing,
            *liquid.pressure_Pa <= *at.saturation_pressure_Pa ? Severity::stop : Severity::caution,
            {{{*liquid.pressure_Pa, Kind::pressure_Pa},
              {needed_Pa, Kind::pressure_Pa},
              {*at.saturation_pressure_Pa, Kind::pressure_Pa}}},
            liquid.name);
      }
    } else if (needed_Pa > defaults::atmosphere_Pa / 2) {
      // Below half an atmosphere only a suction line could boil.
      c.add(CheckId::fluid_flashing_unknown, {{{}, {needed_Pa, Kind::pressure_Pa}}}, liquid.name);
    }
  }

  if (!at.freezing_temperature_K) {
    c.add(CheckId::fluid_freezing_unknown, {{{temperature_K, Kind::temperature_K}}}, liquid.name);
  } else if (temperature_K <= *at.freezing_temperature_K) {
    c.add(
        CheckId::fluid_freezing,
        {{{temperature_K, Kind::temperature_K}, {*at.freezing_temperature_K, Kind::temperature_K}}},
        liquid.name);
  }

  if (const auto range = liquid.model->valid_range()) {
    const Severity severity = at.at_range_end ? Severity::stop : Severity::caution;
    if (temperature_K < range->lowest_temperature_K ||
        temperature_K > range->highest_temperature_K) {
      c.add(CheckId::fluid_range, severity,
            {{{temperature_K, Kind::temperature_K},
              {range->lowest_temperature_K, Kind::temperature_K},
              {range->highest_temperature_K, Kind::temperature_K}}},
            liquid.name);
    } else if (at.pressure_Pa > range->highest_pressure_Pa) {
      c.add(CheckId::fluid_range, severity,
            {{{at.pressure_Pa, Kind::pressure_Pa},
              {0, Kind::pressure_Pa},
              {range->highest_pressure_Pa, Kind::pressure_Pa}}},
            liquid.name);
    }
  }

  const Estimate& speed = at.liquid_sound_speed_m_s;
  if (speed.u > sound_speed_limit * speed.value) {
    c.add(CheckId::fluid_sound_speed_uncertain, {{{100 * speed.u / speed.value, Kind::percent},
                                                  {100 * sound_speed_limit, Kind::percent}}});
  }
  if (liquid.gas_fraction && *liquid.gas_fraction > 0) {
    c.add(CheckId::fluid_gas, *liquid.gas_fraction > gas_limit ? Severity::stop : Severity::caution,
          {{{100 * *liquid.gas_fraction, Kind::percent}, {100 * gas_limit, Kind::percent}}});
  }
}

// ---------------------------------------------------------------- flow

void check_velocity(const Context& c) {
  if (!c.job.flow.usual && !c.job.flow.least && !c.job.flow.most) {
    c.add(CheckId::flow_unknown);
    return;
  }
  for (const auto* amount : {&c.job.flow.usual, &c.job.flow.least, &c.job.flow.most}) {
    if (*amount && (*amount)->dimension == Dimension::mass_flow &&
        !c.plan.conditions.density_kg_m3) {
      c.add(CheckId::flow_density_unknown, {}, c.job.liquid.name);
      break;
    }
  }
  // Each limit is reported once, for the flow that breaks it worst.
  const Flow* slowest = nullptr;
  const Flow* fastest = nullptr;
  const auto all = flows(c.plan);
  for (const Flow& flow : all) {
    if (!*flow.second) continue;
    const double velocity_m_s = (*flow.second)->velocity_m_s;
    if (velocity_m_s > 0 && (!slowest || velocity_m_s < (*slowest->second)->velocity_m_s)) {
      slowest = &flow;
    }
    if (!fastest || velocity_m_s > (*fastest->second)->velocity_m_s) fastest = &flow;
  }
  if (slowest && (*slowest->second)->velocity_m_s < lowest_velocity_m_s) {
    const FlowPoint& point = **slowest->second;
    FindingValue price{};
    if (c.plan.path) {
      const double v_1ns_m_s = velocity_of_time_error_m_s(
          liquid_path(c.plan.kernel, c.plan.path->ray.ray_parameter_s_m), 1e-9);
      price = {100 * v_1ns_m_s / point.path_velocity_m_s, Kind::percent};
    }
    c.add(CheckId::flow_velocity_low,
          {{{point.velocity_m_s, Kind::velocity_m_s},
            {lowest_velocity_m_s, Kind::velocity_m_s},
            price}},
          slowest->first);
  }
  if (!fastest) return;
  const FlowPoint& point = **fastest->second;
  if (point.velocity_m_s > slip_velocity_m_s) {
    c.add(CheckId::flow_velocity_slip,
          {{{point.velocity_m_s, Kind::velocity_m_s}, {slip_velocity_m_s, Kind::velocity_m_s}}},
          fastest->first);
  } else if (point.velocity_m_s > highest_velocity_m_s) {
    FindingValue drift{};
    if (c.plan.path) {
      drift = {beam_drift_m(liquid_path(c.plan.kernel, c.plan.path->ray.ray_parameter_s_m),
                            point.path_velocity_m_s),
               Kind::length_m};
    }
    c.add(CheckId::flow_velocity_high,
          {{{point.velocity_m_s, Kind::velocity_m_s},
            {highest_velocity_m_s, Kind::velocity_m_s},
            drift}},
          fastest->first);
  }
}

void check_reynolds(const Context& c) {
  if (!c.plan.kernel.kinematic_viscosity_m2_s) {
    c.add(CheckId::flow_reynolds_unknown, {}, c.job.liquid.name);
    return;
  }
  // The usual flow, and the least where it falls into a worse regime.
  bool reported_transition = false, reported_laminar = false, reported_low = false;
  for (const Flow& flow : flows(c.plan)) {
    if (!*flow.second || !(*flow.second)->reynolds) continue;
    const FlowPoint& point = **flow.second;
    const double reynolds = *point.reynolds;
    if (point.regime == FlowRegime::laminar && !reported_laminar) {
      reported_laminar = true;
      c.add(CheckId::flow_reynolds_laminar,
            {{{reynolds, Kind::number},
              {2000, Kind::number},
              {laminar_development_length_D(reynolds), Kind::diameters}}},
            flow.first);
    } else if (point.regime == FlowRegime::transition && !reported_transition) {
      reported_transition = true;
      c.add(CheckId::flow_reynolds_transition,
            {{{reynolds, Kind::number},
              {4000, Kind::number},
              {point.profile_factor->low, Kind::number},
              {point.profile_factor->high, Kind::number}}},
            flow.first);
    } else if (point.regime == FlowRegime::turbulent && reynolds < low_reynolds && !reported_low) {
      reported_low = true;
      c.add(CheckId::flow_reynolds_low, {{{reynolds, Kind::number}, {low_reynolds, Kind::number}}},
            flow.first);
    }
  }
}

void check_time_difference(const Context& c) {
  if (!c.plan.path) return;
  const LiquidPath path = liquid_path(c.plan.kernel, c.plan.path->ray.ray_parameter_s_m);
  const auto& fastest = c.plan.most ? c.plan.most : c.plan.usual;
  if (fastest) {
    const double half_cycle_m_s = half_cycle_velocity_m_s(path, c.job.sensors.frequency_Hz);
    if (fastest->path_velocity_m_s > half_cycle_m_s) {
      c.add(CheckId::flow_half_cycle, {{{fastest->path_velocity_m_s, Kind::velocity_m_s},
                                        {half_cycle_m_s, Kind::velocity_m_s}}});
    }
    // A quarter of the element's length is a fair limit (proposal).
    const double drift_m = beam_drift_m(path, fastest->path_velocity_m_s);
    if (c.job.sensors.element_m && drift_m > *c.job.sensors.element_m / 4) {
      c.add(CheckId::path_beam_drift,
            {{{drift_m, Kind::length_m}, {*c.job.sensors.element_m / 4, Kind::length_m}}});
    }
  }
  if (!c.job.sensors.zero_stability_s) {
    c.add(CheckId::flow_zero_unknown,
          {{{velocity_of_time_error_m_s(path, 1e-9), Kind::velocity_m_s}}});
    return;
  }
  if (!c.job.flow.least) {
    c.add(CheckId::flow_least_unknown);
    return;
  }
  if (!c.plan.least || !(c.plan.least->path_velocity_m_s > 0)) return;
  const double zero_m_s = velocity_of_time_error_m_s(path, *c.job.sensors.zero_stability_s);
  const double least_m_s = c.plan.least->path_velocity_m_s;
  if (least_m_s < 20 * zero_m_s) {
    c.add(CheckId::flow_least, {{{least_m_s, Kind::velocity_m_s},
                                 {20 * zero_m_s, Kind::velocity_m_s},
                                 {100 * zero_m_s / least_m_s, Kind::percent}}});
  }
}

// ---------------------------------------------------------------- pipe

void check_pipe(const Context& c) {
  const ResolvedPipe& pipe = c.job.pipe;
  const double bore_m = c.plan.bore_m;
  // Price of the designation being right after all: the flow goes with the bore squared, or with
  // the bore alone where the transmitter computes the time in the liquid.
  const double power = c.job.fluid_time_computed ? 1 : 2;
  const auto price = [&](double other_bore_m) {
    return FindingValue{100 * (std::pow(bore_m / other_bore_m, power) - 1), Kind::percent};
  };
  if (pipe.designated_wall_m) {
    const double designated_m = *pipe.designated_wall_m;
    if (std::fabs(pipe.wall_m.value / designated_m - 1) > mill_wall_tolerance) {
      const double other_bore_m = bore_m + 2 * (pipe.wall_m.value - designated_m);
      c.add(CheckId::pipe_wall_conflict,
            {{{pipe.wall_m.value, Kind::length_m},
              {designated_m, Kind::length_m},
              other_bore_m > 0 ? price(other_bore_m) : FindingValue{}}},
            pipe.size_text);
    }
  }
  if (pipe.designated_outside_diameter_m) {
    const double designated_m = *pipe.designated_outside_diameter_m;
    if (std::fabs(pipe.outside_diameter_m.value / designated_m - 1) > diameter_tolerance) {
      const double other_bore_m = bore_m - pipe.outside_diameter_m.value + designated_m;
      c.add(CheckId::pipe_diameter_conflict,
            {{{pipe.outside_diameter_m.value, Kind::length_m},
              {designated_m, Kind::length_m},
              other_bore_m > 0 ? price(other_bore_m) : FindingValue{}}},
            pipe.size_text);
    }
  }

  if (!pipe.liner_stated) {
    // Mortar is usual in iron and old steel; elsewhere a lining would be a surprise.
    const std::string_view name = pipe.material.name;
    const bool iron_or_steel = pipe.material.is_inline ||
                               (pipe.material.family == SolidFamily::metal &&
                                (name.starts_with("Carbon steel") || name.starts_with("Steel") ||
                                 name.starts_with("Mild steel") || name.find("iron") != name.npos));
    constexpr double usual_mortar_m = 3.2e-3;
    const double lined_m = bore_m - 2 * usual_mortar_m;
    if (lined_m > 0) {
      c.add(CheckId::pipe_liner_unknown, iron_or_steel ? Severity::caution : Severity::note,
            {{{},
              {usual_mortar_m, Kind::length_m},
              {100 * (std::pow(bore_m / lined_m, power) - 1), Kind::percent}}});
    }
  }

  if (!pipe.over_coating_stated && pipe.coating) {
    const double over_m = 2 * pipe.coating->thickness_m;
    const double smaller_m = bore_m - over_m;
    c.add(CheckId::pipe_over_coating_unknown,
          {{{},
            {},
            {over_m, Kind::length_m},
            smaller_m > 0
                ? FindingValue{100 * (std::pow(bore_m / smaller_m, power) - 1), Kind::percent}
                : FindingValue{}}});
  }

  if (pipe.deposit_m > 0) c.add(CheckId::pipe_deposit, {{{pipe.deposit_m, Kind::length_m}}});

  const auto& wave = pipe.material.wave(c.plan.wall_mode);
  if (wave && c.plan.path && wave->u_m_s > material_speed_limit * wave->sound_speed_m_s) {
    KernelInputs moved = c.plan.kernel;
    for (std::size_t i = 0; i < c.plan.layer_roles.size(); ++i) {
      if (c.plan.layer_roles[i] == LayerRole::wall) moved.layers[i].sound_speed_m_s -= wave->u_m_s;
    }
    const auto spacing_m = mark_spacing_m(moved);
    const double off_m = spacing_m ? std::fabs(*spacing_m - c.plan.path->ray.mark_spacing_m) : 0;
    c.add(CheckId::pipe_material_uncertain,
          {{{100 * wave->u_m_s / wave->sound_speed_m_s, Kind::percent},
            {100 * material_speed_limit, Kind::percent},
            {off_m, Kind::length_m}}},
          pipe.material.name);
  }

  if (!c.job.not_evaluated.empty()) c.add(CheckId::job_not_evaluated, {}, c.job.not_evaluated);
  for (const std::string& key : c.job.ranges) c.add(CheckId::pipe_range_candidate, {}, key);
  if (c.job.has_alternative_places) c.add(CheckId::job_places_not_compared);
}

// ---------------------------------------------------------------- acceptance

void apply_acceptances(const Context& c) {
  for (const Acceptance& accept : c.job.acceptances) {
    const CheckInfo& info = *find_check(accept.finding);
    bool any = false;
    std::vector<Finding> lapsed;
    for (Finding& finding : c.findings) {
      if (finding.check != info.check || finding.severity != Severity::stop) continue;
      any = true;
      if (!info.acceptable) continue;
      if (accept.down_to_si && finding.values[0].value < *accept.down_to_si) {
        lapsed.push_back(
            {.check = CheckId::job_accept_lapsed,
             .severity = Severity::caution,
             .values = {{finding.values[0], {*accept.down_to_si, finding.values[0].kind}}},
             .subject = accept.finding,
             .accepted = false,
             .accepted_because = {},
             .accepted_by = {}});
        continue;
      }
      finding.severity = Severity::caution;
      finding.accepted = true;
      finding.accepted_because = accept.because;
      finding.accepted_by = accept.by;
    }
    for (Finding& finding : lapsed) c.findings.push_back(std::move(finding));
    if (!any) {
      c.add(CheckId::job_accept_nothing, {}, accept.finding);
    } else if (!info.acceptable) {
      c.add(CheckId::job_accept_not_acceptable, {}, accept.finding);
    }
  }
}

constexpr std::array checks{
    check_ray,       check_room,   check_wall_modes, check_straight_run,    check_clock,
    check_sensors,   check_liquid, check_velocity,   check_time_difference, check_reynolds,
    check_thin_wall, check_pipe,
};

}  // namespace

std::vector<Finding> run_checks(const ResolvedJob& job, const Plan& plan) {
  std::vector<Finding> findings;
  findings.reserve(16);
  const Context context{job, plan, findings};
  for (const auto& check : checks) check(context);
  apply_acceptances(context);
  std::stable_sort(findings.begin(), findings.end(),
                   [](const Finding& a, const Finding& b) { return a.severity > b.severity; });
  return findings;
}

Verdict verdict_of(const std::vector<Finding>& findings) {
  Verdict verdict = Verdict::go;
  for (const Finding& finding : findings) {
    if (finding.severity == Severity::stop) return Verdict::stop;
    if (finding.severity == Severity::caution) verdict = Verdict::caution;
  }
  return verdict;
}

}  // namespace slantrule
