#include <fmt/format.h>

#include <cmath>
#include <numbers>

#include "resolve_draft.hpp"
#include "slantrule/planning/defaults.hpp"

namespace slantrule {
namespace {

double in_radian(double angle_deg) {
  return angle_deg * std::numbers::pi / 180;
}

void from_record(const SensorPairRecord& row, ResolvedSensors& out) {
  const auto length = [](double value_mm) -> std::optional<double> {
    if (std::isnan(value_mm)) return std::nullopt;
    return value_mm * 1e-3;
  };
  const auto kelvin = [](double value_degC) -> std::optional<double> {
    if (std::isnan(value_degC)) return std::nullopt;
    return value_degC + defaults::zero_celsius_K;
  };
  out.key = row.key;
  out.about = row.about;
  out.mark = row.mark;
  out.invented = row.invented;
  out.frequency_Hz = row.frequency_MHz * 1e6;
  out.element_m = length(row.element_mm);
  out.wedge_slope_stated = !std::isnan(row.wedge_slope_m_s_K);
  out.wedge = {row.wedge_sound_speed_m_s, out.wedge_slope_stated ? row.wedge_slope_m_s_K : 0,
               row.wedge_at_degC + defaults::zero_celsius_K, row.u_wedge_sound_speed_m_s};
  out.wedge_angle_rad = in_radian(row.wedge_angle_deg);
  out.wedge_path_m = length(row.wedge_path_mm).value_or(0);
  out.setback_m = *length(row.setback_mm);
  out.nose_m = length(row.nose_mm);
  out.length_m = length(row.length_mm);
  out.lowest_K = kelvin(row.lowest_degC);
  out.highest_K = kelvin(row.highest_degC);
  out.smallest_pipe_m = length(row.smallest_pipe_mm);
  out.largest_pipe_m = length(row.largest_pipe_mm);
  out.delay_s = row.delay_us * 1e-6;
  out.cycles = row.cycles;
  out.least_face_gap_m = row.least_face_gap_mm * 1e-3;
  if (!std::isnan(row.zero_stability_ns)) out.zero_stability_s = row.zero_stability_ns * 1e-9;
}

void inline_sensors(const SensorPairRequest& pair, Draft& draft) {
  ResolvedSensors& out = draft.job.sensors;
  if (!pair.wedge.value || !pair.wedge.value->sound_speed.given() ||
      !pair.wedge.value->angle.given() || !pair.frequency.given() || !pair.setback.given()) {
    return;  // reported by check_required
  }
  const WedgeRequest& wedge = *pair.wedge.value;
  out.key = pair.key.value.value_or("stated in the job");
  out.about = pair.about.value.value_or("");
  out.mark = pair.mark.value.value_or("");
  out.invented = pair.invented.value.value_or(false);
  out.frequency_Hz = reading(pair.frequency)->si;
  out.element_m = stated_si(pair.element);
  out.element_width_m = stated_si(pair.element_width);
  out.wedge_slope_stated = wedge.slope.given();
  out.wedge = {reading(wedge.sound_speed)->si, stated_si(wedge.slope).value_or(0),
               stated_si(wedge.at).value_or(defaults::solid_reference_K),
               reading(wedge.sound_speed)->u_si};
  out.wedge_angle_rad = reading(wedge.angle)->si;
  if (!(out.wedge_angle_rad < std::numbers::pi / 2)) {
    draft.problem(wedge.angle.place, "sensors.wedge.angle",
                  "must lie between 0 and 90 degrees, counted from the pipe normal");
  }
  out.wedge_path_m = stated_si(wedge.path).value_or(0);
  out.setback_m = reading(pair.setback)->si;
  out.nose_m = stated_si(pair.nose);
  out.length_m = stated_si(pair.length);
  if (out.nose_m && out.length_m && *out.length_m < *out.nose_m) {
    draft.problem(pair.length.place, "sensors.length",
                  "is less than the nose; the nose counts from the exit point to the front end");
  }
  const auto range = [&](const RangeRequest& in, const char* key, std::optional<double>& low,
                         std::optional<double>& high) {
    if (!in.low || !in.high) return;
    if (in.low->si > in.high->si) {
      draft.problem(in.place, key, "has its greater value first; write the lower one first");
    }
    low = in.low->si;
    high = in.high->si;
  };
  range(pair.temperature, "sensors.temperature", out.lowest_K, out.highest_K);
  range(pair.pipe_range, "sensors.pipe_range", out.smallest_pipe_m, out.largest_pipe_m);
  out.delay_s = stated_si(pair.delay).value_or(0);
  out.cycles = pair.cycles.value.value_or(4);
  out.least_face_gap_m = stated_si(pair.least_face_gap).value_or(0);
  out.zero_stability_s = stated_si(pair.zero_stability);
  out.certified_for = pair.certified_for.value.value_or("");
}

}  // namespace

void resolve_sensors(Draft& draft) {
  if (draft.request.sensors.pair) {
    inline_sensors(*draft.request.sensors.pair, draft);
    return;
  }
  if (!draft.request.sensors.key) return;
  const auto found = draft.catalogue.sensor_pair(*draft.request.sensors.key);
  if (!found.record) {
    draft.problem(draft.request.sensors.place, "sensors",
                  not_found("sensor pair", *draft.request.sensors.key, "sensors", found));
    return;
  }
  from_record(*found.record, draft.job.sensors);
}

}  // namespace slantrule
