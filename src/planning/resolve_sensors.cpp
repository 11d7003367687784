#include <fmt/format.h>

#include <cmath>
#include <numbers>

#include "resolve_draft.hpp"
#include "slantrule/planning/defaults.hpp"

namespace slantrule {
namespace {

/// Standard uncertainty of a stated loss in the wedge, relative (judged).
constexpr double u_stated_wedge_loss = 0.1;

double in_radian(double angle_deg) {
  return angle_deg * std::numbers::pi / 180;
}

/// Usual wedge plastics (acrylic, PEEK, cross-linked polystyrene: shear 0.44 to 0.50 of the
/// longitudinal speed, 1050 to 1300 kg/m3; data/solids.csv) where the pair doesn't say.
constexpr double usual_wedge_shear_ratio = 0.47;
constexpr double usual_wedge_density_kg_m3 = 1150;

void set_wedge_medium(std::optional<double> shear_m_s, std::optional<double> density_kg_m3,
                      std::optional<double> loss_dB_m, double at_Hz, double power,
                      ResolvedSensors& out) {
  out.wedge_shear_m_s = shear_m_s.value_or(usual_wedge_shear_ratio * out.wedge.sound_speed_m_s);
  out.wedge_density_kg_m3 = density_kg_m3.value_or(usual_wedge_density_kg_m3);
  out.wedge_loss = usual_loss(SolidFamily::wedge, WaveMode::longitudinal);
  if (loss_dB_m) {
    out.wedge_loss = {
        .dB_m = *loss_dB_m, .at_Hz = at_Hz, .power = power, .relative_u = u_stated_wedge_loss};
  }
  out.wedge_medium_stated = shear_m_s && density_kg_m3 && loss_dB_m;
}

}  // namespace

ResolvedSensors sensors_of(const SensorPairRecord& row) {
  ResolvedSensors out;
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
  out.element_width_m = length(row.element_width_mm);
  const auto known = [](double value) -> std::optional<double> {
    if (std::isnan(value)) return std::nullopt;
    return value;
  };
  set_wedge_medium(known(row.wedge_shear_m_s), known(row.wedge_density_kg_m3),
                   known(row.wedge_dB_m), 1e6, row.wedge_loss_power, out);
  if (!std::isnan(row.time_resolution_ns)) out.time_resolution_s = row.time_resolution_ns * 1e-9;
  out.certified_for = row.certified_for;
  out.least_face_gap_m = row.least_face_gap_mm * 1e-3;
  if (!std::isnan(row.zero_stability_ns)) out.zero_stability_s = row.zero_stability_ns * 1e-9;
  return out;
}

namespace {

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
  out.time_resolution_s = stated_si(pair.time_resolution);
  std::optional<double> loss_dB_m;
  double at_Hz = 1e6, power = 1;
  if (const auto& absorption = wedge.absorption.value) {
    loss_dB_m = stated_si(absorption->longitudinal);
    at_Hz = stated_si(absorption->at).value_or(at_Hz);
    power = absorption->power.value.value_or(power);
  }
  set_wedge_medium(stated_si(wedge.shear), stated_si(wedge.density), loss_dB_m, at_Hz, power, out);
  out.certified_for = pair.certified_for.value.value_or("");
}

}  // namespace

void resolve_sensors(Draft& draft) {
  if (draft.request.sensors.pair) {
    inline_sensors(*draft.request.sensors.pair, draft);
    return;
  }
  if (!draft.request.sensors.key) return;
  const auto& found = draft.names.sensor_pair(*draft.request.sensors.key);
  if (!found.record) {
    draft.problem(draft.request.sensors.place, "sensors",
                  not_found("sensor pair", *draft.request.sensors.key, "sensors", found));
    return;
  }
  draft.job.sensors = sensors_of(*found.record);
}

}  // namespace slantrule
