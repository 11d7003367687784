/// Checks of the liquid and the flow.

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "check_context.hpp"
#include "slantrule/liquids/suspension.hpp"
#include "slantrule/planning/defaults.hpp"

namespace slantrule {
namespace {

using Kind = ValueKind;

constexpr double flashing_margin = 1.2;
/// At less than half an atmosphere only a suction line could boil.
constexpr double suction_Pa = defaults::atmosphere_Pa / 2;
constexpr double gas_limit = 0.01;
constexpr double sound_speed_limit = 0.02;  ///< relative standard uncertainty
constexpr double lowest_velocity_m_s = 0.1;
constexpr double highest_velocity_m_s = 10;
constexpr double slip_velocity_m_s = 15;
constexpr double low_reynolds = 10000;

// Temperature: what five kelvin may move the speed of sound by where it hardly matters, what one
// kelvin does where it matters, and what its uncertainty may (proposals).
constexpr double flat_slope = 0.001;
constexpr double flat_step_K = 5;
constexpr double steep_slope_1_K = 0.0028;
constexpr double temperature_limit = 0.005;

/// Solutions this near to freezing are called out: their strength is never known exactly
/// (proposal).
constexpr double freezing_margin_K = 3;

/// Above it the freezing point of a liquid that is known by name need not be known (proposal).
constexpr double warm_enough_K = 10 + defaults::zero_celsius_K;

/// Below it, and above twice the atmosphere's pressure, an oil or fuel known by name does not boil
/// (proposal).
constexpr double cool_K = 40 + defaults::zero_celsius_K;

/// Loss in the liquid above which the signal may be lost (proposal).
constexpr double absorption_limit_dB = 20;

/// More solids than this are too many, whatever the grain (common practice: 1 to 5 %).
constexpr double solids_limit = 0.05;

/// Pressure from which on a closed system has usually given off its air (proposal).
constexpr double near_atmospheric_Pa = 1.5e5;

/// The upper end of usual zero offsets of an external pair (common practice: 0.1 to 1 ns): stands
/// in where none is stated.
constexpr double usual_zero_s = 1e-9;
/// The zero offset may be this part of the least flow.
constexpr double zero_part = 0.05;
/// Stands in where the least flow is not stated: a tenth of the usual (proposal).
constexpr double usual_turn_down = 10;

constexpr std::string_view do_zero_test =
    "Do a zero test: flow stopped and blocked in, pipe full, several minutes";
constexpr std::string_view swap_sensors =
    "As the flow can't stop, swap the two sensors in steady flow: half the sum of both readings is "
    "the offset";
constexpr std::string_view ask_for_zero_test =
    "Do a zero test if the flow can be stopped (say so in flow.can_stop), otherwise swap the two "
    "sensors in steady flow";

/// How the zero offset is found, by whether the flow can be stopped.
std::string_view zero_test_words(const ResolvedFlow& flow) {
  if (!flow.can_stop) return ask_for_zero_test;
  return *flow.can_stop ? do_zero_test : swap_sensors;
}

/// What grains may be, from friendliest to worst in the middle of the usual frequencies.
struct Grain {
  double radius_m;
  const char* name;
};
constexpr Grain silt{20e-6, "silt of 0.04 mm"};
constexpr Grain other_grains[] = {{1e-6, "clay of 0.002 mm"}, {200e-6, "sand of 0.4 mm"}};

/// Air that a litre of water holds at 1 atm of air, in mL (from memory: CRC, solubility of nitrogen
/// and oxygen), by temperature; straight lines between, and the ends beyond.
double dissolved_air_mL(double temperature_degC) {
  constexpr std::array<std::pair<double, double>, 9> points{{{0, 29.2},
                                                             {10, 22.8},
                                                             {20, 18.7},
                                                             {30, 16.1},
                                                             {40, 14.2},
                                                             {50, 13.0},
                                                             {60, 12.2},
                                                             {80, 11.3},
                                                             {100, 11.1}}};
  for (std::size_t i = 1; i < points.size(); ++i) {
    const auto& [low_degC, low_mL] = points[i - 1];
    const auto& [high_degC, high_mL] = points[i];
    if (temperature_degC > high_degC) continue;
    const double part = std::max(0.0, (temperature_degC - low_degC) / (high_degC - low_degC));
    return low_mL + part * (high_mL - low_mL);
  }
  return points.back().second;
}

/// Pressure below which water that stood open to the air at 20 degC gives off air at this
/// temperature: Henry's law, and the vapour's own pressure.
double degassing_pressure_Pa(double temperature_K, double saturation_pressure_Pa) {
  const double temperature_degC = temperature_K - defaults::zero_celsius_K;
  return saturation_pressure_Pa +
         defaults::atmosphere_Pa * dissolved_air_mL(20) / dissolved_air_mL(temperature_degC);
}

void check_degassing(const CheckContext& c) {
  const ResolvedLiquid& liquid = c.job.liquid;
  if (!liquid.aqueous || liquid.gas_fraction == 0.0) return;
  const double saturation_Pa = c.plan.conditions.saturation_pressure_Pa.value_or(0);
  const double needed_Pa = degassing_pressure_Pa(liquid.temperature_K.value, saturation_Pa);
  if (!liquid.pressure_Pa) {
    // Hotter still, fluid.flashing.unknown asks for the pressure.
    const bool may_boil = flashing_margin * saturation_Pa > suction_Pa;
    if (needed_Pa > near_atmospheric_Pa && !may_boil) {
      c.add(CheckId::fluid_degassing_unknown, {{{}, {needed_Pa, Kind::pressure_Pa}}}, liquid.name);
    }
    return;
  }
  if (*liquid.pressure_Pa >= std::min(needed_Pa, near_atmospheric_Pa) ||
      *liquid.pressure_Pa < flashing_margin * saturation_Pa) {
    return;
  }
  c.add(CheckId::fluid_degassing,
        {{{*liquid.pressure_Pa, Kind::pressure_Pa}, {needed_Pa, Kind::pressure_Pa}}}, liquid.name);
}

void check_solids(const CheckContext& c) {
  const double fraction = c.job.liquid.solids_fraction.value_or(0);
  if (!(fraction > 0) || !c.plan.path) return;
  const KernelInputs& kernel = c.plan.kernel;
  const double way_m = c.plan.path->ray.fluid_time_s * kernel.liquid_sound_speed_m_s;
  const auto loss_dB = [&](const Grain& grain) {
    Suspension suspension{.volume_fraction = std::min(fraction, 0.5),
                          .grain_radius_m = grain.radius_m};
    suspension.liquid_sound_speed_m_s = kernel.liquid_sound_speed_m_s;
    if (c.plan.conditions.density_kg_m3) {
      suspension.liquid_density_kg_m3 = c.plan.conditions.density_kg_m3->value;
    }
    if (kernel.kinematic_viscosity_m2_s) {
      suspension.kinematic_viscosity_m2_s = *kernel.kinematic_viscosity_m2_s;
    }
    return way_m * suspension_loss_dB_m(suspension, c.job.sensors.frequency_Hz);
  };
  const double fine_dB = loss_dB(silt);
  double worst_dB = fine_dB;
  const char* worst = silt.name;
  for (const Grain& grain : other_grains) {
    if (loss_dB(grain) <= worst_dB) continue;
    worst_dB = loss_dB(grain);
    worst = grain.name;
  }
  const bool much = worst_dB > absorption_limit_dB || fraction > solids_limit;
  c.add(CheckId::fluid_solids, much ? Severity::caution : Severity::note,
        {{{worst_dB, Kind::decibel},
          {absorption_limit_dB, Kind::decibel},
          {100 * fraction, Kind::percent},
          {fine_dB, Kind::decibel}}},
        worst);
}

void check_state(const CheckContext& c) {
  const ResolvedLiquid& liquid = c.job.liquid;
  const Conditions& at = c.plan.conditions;
  const double temperature_K = liquid.temperature_K.value;

  if (!at.saturation_pressure_Pa) {
    // Oils and fuels known by name boil far above a plant's surroundings, or say so by their name.
    const bool cool_under_pressure = !liquid.full_name.empty() && !liquid.solution &&
                                     temperature_K < cool_K && liquid.pressure_Pa &&
                                     *liquid.pressure_Pa > 2 * defaults::atmosphere_Pa;
    c.add(CheckId::fluid_boiling_unknown, cool_under_pressure ? Severity::note : Severity::caution,
          {}, liquid.name);
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
    } else if (needed_Pa > suction_Pa) {
      c.add(CheckId::fluid_flashing_unknown, {{{}, {needed_Pa, Kind::pressure_Pa}}}, liquid.name);
    }
  }

  if (!at.freezing_temperature_K) {
    // A liquid of the catalogue that is liquid in a plant's surroundings is no cause for alarm.
    const bool usual = !liquid.full_name.empty() && temperature_K >= warm_enough_K;
    c.add(CheckId::fluid_freezing_unknown, usual ? Severity::note : Severity::caution,
          {{{temperature_K, Kind::temperature_K}}}, liquid.name);
  } else {
    const double margin_K = liquid.solution ? freezing_margin_K : 0;
    const double above_K = temperature_K - *at.freezing_temperature_K;
    if (above_K <= margin_K) {
      c.add(CheckId::fluid_freezing, above_K <= 0 ? Severity::stop : Severity::caution,
            {{{temperature_K, Kind::temperature_K},
              {*at.freezing_temperature_K, Kind::temperature_K}}},
            liquid.name)
          .detail = above_K <= 0 ? "is at or below" : "is hardly above";
    }
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
    if (liquid.mass_fraction < range->lowest_mass_fraction * (1 - 1e-9) ||
        liquid.mass_fraction > range->highest_mass_fraction * (1 + 1e-9)) {
      c.add(CheckId::fluid_strength_range, severity,
            {{{100 * liquid.mass_fraction, Kind::percent},
              {100 * range->lowest_mass_fraction, Kind::percent},
              {100 * range->highest_mass_fraction, Kind::percent}}},
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

/// How the speed of sound goes with temperature, and what that means for the plan.
void check_temperature(const CheckContext& c) {
  const Conditions& at = c.plan.conditions;
  if (!at.sound_speed_slope_m_s_K || !c.plan.path) return;
  // A table with one temperature knows no slope.
  const auto range = c.job.liquid.model->valid_range();
  if (range && !(range->highest_temperature_K > range->lowest_temperature_K)) return;
  const double slope_m_s_K = std::fabs(*at.sound_speed_slope_m_s_K);
  const double speed_m_s = at.liquid_sound_speed_m_s.value;
  const auto spacing_moves_m = [&](double by_m_s) {
    KernelInputs moved = c.plan.kernel;
    moved.liquid_sound_speed_m_s += by_m_s;
    const auto spacing_m = mark_spacing_m(moved);
    return spacing_m ? std::fabs(*spacing_m - c.plan.path->ray.mark_spacing_m) : 0;
  };
  const double u_K = c.job.liquid.temperature_K.u;
  if (u_K * slope_m_s_K > temperature_limit * speed_m_s) {
    c.add(CheckId::fluid_temperature_uncertain,
          {{{u_K, Kind::temperature_difference_K},
            {100 * temperature_limit, Kind::percent},
            {100 * u_K * slope_m_s_K / speed_m_s, Kind::percent}}},
          c.job.liquid.name);
    return;
  }
  if (flat_step_K * slope_m_s_K < flat_slope * speed_m_s) {
    c.add(CheckId::fluid_temperature_flat,
          {{{flat_step_K, Kind::temperature_difference_K},
            {flat_step_K * slope_m_s_K, Kind::velocity_m_s},
            {spacing_moves_m(flat_step_K * slope_m_s_K), Kind::length_m}}},
          c.job.liquid.name);
  } else if (slope_m_s_K > steep_slope_1_K * speed_m_s) {
    c.add(CheckId::fluid_temperature_steep,
          {{{1, Kind::temperature_difference_K},
            {slope_m_s_K, Kind::velocity_m_s},
            {spacing_moves_m(slope_m_s_K), Kind::length_m}}},
          c.job.liquid.name);
  }
}

/// A measured speed of sound beside what the liquid's name says.
void check_measured_speed(const CheckContext& c) {
  const ResolvedLiquid& liquid = c.job.liquid;
  if (!liquid.sound_speed_measured || !liquid.named_model) return;
  std::optional<Estimate> known;
  try {
    known =
        liquid.named_model
            ->at({liquid.temperature_K.value, c.plan.conditions.pressure_Pa, liquid.mass_fraction})
            .sound_speed_m_s;
  } catch (const std::domain_error&) {
    return;  // outside the model there is nothing to compare with
  }
  if (!known) return;
  const Estimate& stated = c.plan.conditions.liquid_sound_speed_m_s;
  const double off_m_s = std::fabs(stated.value - known->value);
  const double limit_m_s = std::max(3 * std::hypot(known->u, stated.u), 0.01 * known->value);
  if (off_m_s <= limit_m_s) return;
  c.add(CheckId::fluid_sound_speed_conflict,
        {{{stated.value, Kind::velocity_m_s},
          {known->value, Kind::velocity_m_s},
          {100 * off_m_s / known->value, Kind::percent},
          {known->u, Kind::velocity_m_s}}},
        liquid.full_name);
}

void check_absorption(const CheckContext& c) {
  if (!c.plan.path || !c.plan.conditions.absorption) return;
  const Absorption& loss = *c.plan.conditions.absorption;
  const double frequency_Hz = c.job.sensors.frequency_Hz;
  const double way_m = c.plan.path->ray.fluid_time_s * c.plan.kernel.liquid_sound_speed_m_s;
  const double loss_dB = loss.at(frequency_Hz) * way_m;
  if (loss_dB <= absorption_limit_dB) return;
  c.add(CheckId::fluid_absorption,
        {{{loss_dB, Kind::decibel}, {absorption_limit_dB, Kind::decibel}}});
}

}  // namespace

void check_liquid(const CheckContext& c) {
  check_state(c);
  check_temperature(c);
  check_measured_speed(c);
  check_absorption(c);
  check_degassing(c);
  check_solids(c);
}

void check_velocity(const CheckContext& c) {
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
          slowest->first)
        .detail = zero_test_words(c.job.flow);
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

void check_reynolds(const CheckContext& c) {
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

void check_time_difference(const CheckContext& c) {
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
}

void check_zero(const CheckContext& c) {
  if (c.job.flow.pulsating) c.add(CheckId::flow_pulsating);
  if (!c.plan.path) return;
  const LiquidPath path = liquid_path(c.plan.kernel, c.plan.path->ray.ray_parameter_s_m);
  const ResolvedFlow& flow = c.job.flow;
  const auto& stated_zero_s = c.job.sensors.zero_stability_s;
  const double zero_m_s = velocity_of_time_error_m_s(path, stated_zero_s.value_or(usual_zero_s));
  const double needed_m_s = zero_m_s / zero_part;
  const auto velocity = [](const std::optional<FlowPoint>& point) {
    return point ? point->path_velocity_m_s : 0;
  };
  // Where the least flow or the zero stability is not stated, something cautious stands in; the
  // lack is a caution only where that does not do.
  const double least_m_s =
      flow.least ? velocity(c.plan.least) : velocity(c.plan.usual) / usual_turn_down;
  const bool matters = least_m_s > 0 && least_m_s < needed_m_s;
  const std::string_view zero_test = zero_test_words(flow);
  if (!flow.least && flow.usual) {
    c.add(CheckId::flow_least_unknown, matters ? Severity::caution : Severity::note,
          {{{needed_m_s, Kind::velocity_m_s}}});
  }
  const bool short_of_zero = flow.least && matters;
  if (!stated_zero_s) {
    // A zero test on site finds the offset whatever was stated.
    const bool open = short_of_zero && !flow.can_stop.value_or(false);
    c.add(CheckId::flow_zero_unknown, open ? Severity::caution : Severity::note,
          {{{velocity_of_time_error_m_s(path, 1e-9), Kind::velocity_m_s}}})
        .detail = zero_test;
  } else if (short_of_zero) {
    c.add(CheckId::flow_least, {{{least_m_s, Kind::velocity_m_s},
                                 {needed_m_s, Kind::velocity_m_s},
                                 {100 * zero_m_s / least_m_s, Kind::percent}}})
        .detail = zero_test;
  } else if (flow.can_stop == false) {
    c.add(CheckId::flow_no_zero_test, {{{zero_m_s, Kind::velocity_m_s}}});
  }
}

}  // namespace slantrule
