#pragma once

/// Findings: what the checks say, as ids with numbers. Words are in the check table, and put
/// together in `sheets/`.

#include <array>
#include <cstdint>
#include <string>
#include <string_view>

namespace slantrule {

enum class Severity : std::uint8_t { note, caution, stop };
std::string_view severity_name(Severity severity);

/// The outcome of a plan: the worst severity among its findings, notes aside.
enum class Verdict : std::uint8_t { go, caution, stop };
std::string_view verdict_name(Verdict verdict);

/// Every finding the checks can make; the row of each is in check_table.hpp.
enum class CheckId : std::uint8_t {
  run_upstream,
  run_upstream_unknown,
  run_downstream,
  run_downstream_unknown,
  run_mark_only,
  run_straight_short,
  run_odd_count,
  run_laminar,
  mount_clock,
  mount_clock_unknown,
  mount_clock_landmark,
  mount_orientation_unknown,
  mount_clock_no_landmark,
  mount_couplant,
  mount_couplant_limit,
  mount_couplant_near,
  mount_couplant_none,
  mount_couplant_short_lived,
  mount_couplant_rough_wall,
  mount_couplant_harm,
  mount_couplant_food,
  mount_down_flow,
  mount_high_point,
  mount_free_outlet,
  mount_part_full,
  mount_pump_suction,
  mount_seam,
  mount_seam_unknown,
  mount_seam_spiral,
  mount_seam_look,
  mount_clear_length,
  mount_clear_length_unknown,
  mount_height,
  mount_hazardous_area,
  mount_hazardous_area_unknown,
  mount_insulation_opened,
  mount_insulation_refitted,
  mount_wedge_temperature,
  mount_condensation,
  mount_surface_paint,
  mount_surface_rust,
  mount_surface_pitted,
  mount_surface_scaled,
  mount_surface_wrapped,
  mount_surface_galvanised,
  mount_coating,
  mount_coating_gas,
  path_no_ray,
  path_no_wave,
  path_both_modes,
  path_near_critical,
  path_overlap,
  path_overlap_unknown,
  path_no_even_count,
  path_chosen,
  path_geometry_only,
  path_marks_cross,
  path_rail_short,
  path_one_side,
  path_beam_drift,
  path_element_long,
  path_element_wide,
  signal_unknown,
  signal_absorption_unknown,
  signal_weak,
  signal_off_best,
  signal_window,
  signal_wall_echoes,
  signal_outer_bounce,
  signal_liner_modes,
  signal_other_traverses,
  kit_sensors,
  kit_rail,
  kit_rail_step,
  kit_strap,
  kit_couplant,
  kit_gauge,
  sensors_invented,
  sensors_temperature,
  sensors_temperature_near,
  sensors_temperature_unknown,
  sensors_wedge_slope_unknown,
  sensors_wedge_temperature_unknown,
  sensors_pipe_range,
  fluid_flashing,
  fluid_flashing_unknown,
  fluid_boiling_unknown,
  fluid_freezing,
  fluid_freezing_unknown,
  fluid_range,
  fluid_sound_speed_uncertain,
  fluid_sound_speed_conflict,
  fluid_strength_range,
  fluid_temperature_flat,
  fluid_temperature_steep,
  fluid_temperature_uncertain,
  fluid_absorption,
  fluid_gas,
  fluid_degassing,
  fluid_degassing_unknown,
  fluid_solids,
  flow_unknown,
  flow_velocity_low,
  flow_velocity_high,
  flow_velocity_slip,
  flow_reynolds_laminar,
  flow_reynolds_transition,
  flow_reynolds_low,
  flow_reynolds_unknown,
  flow_density_unknown,
  flow_half_cycle,
  flow_least,
  flow_least_unknown,
  flow_zero_unknown,
  flow_no_zero_test,
  flow_pulsating,
  pipe_wall_conflict,
  pipe_diameter_conflict,
  pipe_identity,
  pipe_identity_none,
  pipe_ovality,
  pipe_wall_doubled,
  pipe_wall_spread,
  pipe_gauge_setting,
  pipe_gauge_setting_small,
  pipe_gauge_setting_unknown,
  pipe_liner_loose,
  pipe_liner_bond_unknown,
  pipe_liner_unknown,
  pipe_over_coating_unknown,
  pipe_orientation_not_used,
  pipe_material_uncertain,
  pipe_thin_wall,
  pipe_plate_wave,
  pipe_small,
  pipe_scatter,
  pipe_asbestos,
  pipe_deposit,
  pipe_range_candidate,
  job_not_evaluated,
  job_places_not_compared,
  job_accept_nothing,
  job_accept_not_acceptable,
  job_accept_lapsed,
  count_
};
inline constexpr std::size_t check_count = static_cast<std::size_t>(CheckId::count_);

/// How a number of a finding is to be shown.
enum class ValueKind : std::uint8_t {
  none,
  length_m,
  temperature_K,
  temperature_difference_K,
  pressure_Pa,
  velocity_m_s,
  diameters,
  percent,
  percent_low,     ///< a bias: reads low
  percent_either,  ///< either way
  angle_rad,
  clock_h,  ///< hours on the clock face, 0 to 12
  number,
  count,
  frequency_Hz,
  decibel,
  time_s,
};

struct FindingValue {
  double value = 0;
  ValueKind kind = ValueKind::none;
};

struct Finding {
  CheckId check = CheckId::count_;
  Severity severity = Severity::note;
  /// In the order in which the row's text names them; by agreement [0] is what was found
  /// ("measured") and [1] what is needed ("required") where the row says so.
  std::array<FindingValue, 4> values{};
  std::string subject;      ///< a name in the text: fitting, material, key
  std::string detail = {};  ///< another name in the text, where the row has {d}
  bool accepted = false;    ///< a stop that the job accepts, shown as a caution
  std::string accepted_because;
  std::string accepted_by;
};

}  // namespace slantrule
