#include <cmath>
#include <nlohmann/json.hpp>
#include <numbers>

#include "json_parts.hpp"
#include "slantrule/planning/check_table.hpp"
#include "slantrule/planning/clock.hpp"
#include "slantrule/sheets/sheet.hpp"

namespace slantrule {
namespace {

Json matches_json(const std::vector<PipeMatch>& matches) {
  Json out = Json::array();
  for (const PipeMatch& match : matches) {
    Json one = Json::object();
    put(one, "size", match.size);
    put(one, "outside_diameter_mm", match.outside_diameter_m * 1e3);
    put(one, "smallest_bore_mm", match.smallest_bore_m * 1e3);
    put(one, "largest_bore_mm", match.largest_bore_m * 1e3);
    out.push_back(std::move(one));
  }
  return out;
}

Json pipe_json(const ResolvedJob& job, const Plan& plan) {
  const ResolvedPipe& pipe = job.pipe;
  Json out = Json::object();
  put(out, "size", pipe.size_text);
  put(out, "outside_diameter_mm", pipe.outside_diameter_m.value * 1e3);
  put(out, "u_outside_diameter_mm", pipe.outside_diameter_m.u * 1e3);
  put(out, "wall_mm", pipe.wall_m.value * 1e3);
  put(out, "u_wall_mm", pipe.wall_m.u * 1e3);
  put(out, "liner_mm", pipe.liner ? pipe.liner->thickness_m * 1e3 : 0);
  put(out, "coating_mm", pipe.coating ? pipe.coating->thickness_m * 1e3 : 0);
  put(out, "inside_diameter_mm", plan.bore_m * 1e3);
  put(out, "material", pipe.material.name);
  if (pipe.liner) put(out, "liner_material", pipe.liner->material.name);
  if (pipe.coating) put(out, "coating_material", pipe.coating->material.name);
  if (plan.wall_sound_speed_m_s > 0) put(out, "wall_sound_speed_m_s", plan.wall_sound_speed_m_s);
  put(out, "wall_temperature_degC", plan.conditions.wall_temperature_K - 273.15);
  if (const auto& wave = pipe.material.wave(plan.wall_mode)) {
    put(out, "u_wall_sound_speed_m_s", wave->u_m_s);
  }
  put(out, "least_wall_mm", pipe.least_wall_m, 1e3);
  put(out, "standard", pipe.standard);
  if (pipe.gauge) {
    const GaugeReadings& gauge = *pipe.gauge;
    Json readings = Json::object();
    readings["count"] = gauge.count;
    put(readings, "mean_mm", gauge.mean_m * 1e3);
    put(readings, "spread_mm", gauge.spread_m * 1e3);
    put(readings, "set_to_m_s", gauge.set_to_m_s);
    out["gauge"] = std::move(readings);
  }
  if (pipe.measured_identity) {
    out["matches"] = matches_json(pipe.matches);
    if (!pipe.neighbours.empty()) out["next_sizes"] = matches_json(pipe.neighbours);
  }
  put(out, "roughness_mm", pipe.roughness_m, 1e3);
  out["orientation"] = orientation_name(pipe.orientation);
  put(out, "source", pipe.material.source);
  return out;
}

Json fluid_json(const ResolvedJob& job, const Plan& plan) {
  const Conditions& at = plan.conditions;
  Json out = Json::object();
  put(out, "name", job.liquid.name);
  put(out, "temperature_degC", job.liquid.temperature_K.value - 273.15);
  put(out, "pressure_bar", at.pressure_Pa * 1e-5);
  out["pressure_stated"] = job.liquid.pressure_Pa.has_value();
  put(out, "sound_speed_m_s", at.liquid_sound_speed_m_s.value);
  put(out, "u_sound_speed_m_s", at.liquid_sound_speed_m_s.u);
  if (at.density_kg_m3) put(out, "density_kg_m3", at.density_kg_m3->value);
  if (at.viscosity_Pa_s) put(out, "viscosity_mPa_s", at.viscosity_Pa_s->value * 1e3);
  put(out, "boiling_pressure_bar", at.saturation_pressure_Pa, 1e-5);
  put(out, "full_name", job.liquid.full_name);
  if (job.liquid.solution) put(out, "mass_percent", job.liquid.mass_fraction * 100);
  put(out, "sound_speed_slope_m_s_K", at.sound_speed_slope_m_s_K);
  if (at.freezing_temperature_K) put(out, "freezing_degC", *at.freezing_temperature_K - 273.15);
  if (at.absorption) put(out, "absorption_dB_m", at.absorption->at(job.sensors.frequency_Hz));
  put(out, "source", std::string(job.liquid.model->source()));
  return out;
}

void put_flow(Json& out, const std::string& prefix, const std::optional<FlowPoint>& point) {
  if (!point) return;
  const auto key = [&](const char* name) { return prefix + name; };
  put(out, key("rate_m3_h").c_str(), point->volume_flow_m3_s * 3600);
  put(out, key("velocity_m_s").c_str(), point->velocity_m_s);
  if (point->reynolds) {
    put(out, key("reynolds").c_str(), *point->reynolds);
    const ProfileFactor& factor = *point->profile_factor;
    switch (point->regime) {
      case FlowRegime::laminar:
        out[key("regime")] = "laminar";
        break;
      case FlowRegime::transition:
        out[key("regime")] = "transition";
        break;
      case FlowRegime::turbulent:
        out[key("regime")] = "turbulent";
        break;
    }
    if (point->regime == FlowRegime::transition) {
      out[key("profile_factor_band")] = {factor.low, factor.high};
    } else {
      put(out, key("profile_factor").c_str(), factor.value);
      put(out, key("u_profile_factor").c_str(), factor.u);
    }
  }
  put(out, key("time_difference_ns").c_str(), point->time_difference_s, 1e9);
}

Json mounting_json(const ResolvedJob& job, const Plan& plan) {
  Json out = Json::object();
  if (plan.clock_h) {
    out["clock"] = clock_text(*plan.clock_h);
    out["other_clock"] = clock_text(*plan.other_clock_h);
  } else {
    put(out, "clock", job.site.clock_text);
  }
  if (plan.placement) {
    put(out, "upstream_fitting_to_exit_point_mm", plan.placement->upstream_m * 1e3);
    put(out, "exit_point_to_downstream_fitting_mm", plan.placement->downstream_m * 1e3);
  }
  put(out, "setting_step_mm", plan.setting_step_m * 1e3);
  if (plan.rail) {
    Json rail = Json::object();
    put(rail, "name", plan.rail->name);
    put(rail, "step_mm", plan.rail->step_m, 1e3);
    put(rail, "set_mm", plan.rail->set_m * 1e3);
    put(rail, "remainder_mm", plan.rail->remainder_m * 1e3);
    put(rail, "flow_percent", plan.rail->flow_percent);
    put(rail, "loss_dB", plan.rail->loss_dB);
    out["rail"] = std::move(rail);
  }
  put(out, "transmitter_spacing_tolerance_mm", plan.transmitter_spacing_tolerance_m * 1e3);
  return out;
}

Json expect_json(const Expectation& expect) {
  Json out = Json::object();
  put(out, "sound_speed_m_s", expect.sound_speed_m_s);
  put(out, "sound_speed_tolerance_m_s", expect.sound_speed_tolerance_m_s);
  put(out, "zero_flow_time_us", expect.zero_flow_time_s * 1e6);
  put(out, "zero_flow_time_tolerance_us", expect.zero_flow_time_tolerance_s * 1e6);
  put(out, "time_difference_ns", expect.time_difference_s, 1e9);
  return out;
}

Json sensitivity_json(const std::vector<Sensitivity>& rows) {
  Json out = Json::array();
  for (const Sensitivity& row : rows) {
    Json one = Json::object();
    one["input"] = row.input;
    one["per"] = row.per;
    put(one, "mark_spacing_mm", row.mark_spacing_m * 1e3);
    put(one, "sound_speed_m_s", row.sound_speed_m_s);
    put(one, "flow_percent", row.flow_percent);
    out.push_back(std::move(one));
  }
  return out;
}

const char* unit_of(ValueKind kind) {
  switch (kind) {
    case ValueKind::none:
      return "";
    case ValueKind::length_m:
      return "m";
    case ValueKind::temperature_K:
    case ValueKind::temperature_difference_K:
      return "K";
    case ValueKind::pressure_Pa:
      return "Pa";
    case ValueKind::velocity_m_s:
      return "m/s";
    case ValueKind::diameters:
      return "D";
    case ValueKind::percent:
    case ValueKind::percent_low:
    case ValueKind::percent_either:
      return "%";
    case ValueKind::angle_rad:
      return "rad";
    case ValueKind::clock_h:
      return "h";
    case ValueKind::number:
    case ValueKind::count:
      return "1";
    case ValueKind::frequency_Hz:
      return "Hz";
    case ValueKind::decibel:
      return "dB";
    case ValueKind::time_s:
      return "s";
  }
  return "";
}

Json findings_json(const std::vector<Finding>& findings) {
  Json out = Json::array();
  const Display plain;
  for (const Finding& finding : findings) {
    const CheckInfo& info = check_info(finding.check);
    const FindingText text = finding_text(finding, plain);
    Json one = Json::object();
    one["id"] = info.id;
    one["severity"] = severity_name(finding.severity);
    one["message"] = text.message;
    one["do"] = text.mend;
    const auto put_value = [&](const char* key, const char* unit_key, std::size_t i) {
      const FindingValue& value = finding.values[i];
      if (value.kind == ValueKind::none || !std::isfinite(value.value)) return;
      one[key] = value.value;
      one[unit_key] = unit_of(value.kind);
    };
    if (info.has_measured) put_value("measured", "measured_unit", 0);
    if (info.has_required) put_value("required", "required_unit", 1);
    if (finding.accepted) {
      one["accepted"] = {{"because", finding.accepted_because}, {"by", finding.accepted_by}};
    }
    one["basis"] = basis_name(info.basis);
    one["source"] = info.source;
    out.push_back(std::move(one));
  }
  return out;
}

/// Everything that one variant has, for the top of the object or for a candidate.
void put_variant(Json& out, const PlannedVariant& variant) {
  const ResolvedJob& job = variant.job;
  const Plan& plan = variant.plan;
  out["pipe"] = pipe_json(job, plan);
  out["fluid"] = fluid_json(job, plan);
  if (plan.path) out["path"] = path_json(job, plan);
  Json flow = Json::object();
  put_flow(flow, "", plan.usual);
  put_flow(flow, "least_", plan.least);
  put_flow(flow, "most_", plan.most);
  if (!flow.empty()) out["flow"] = std::move(flow);
  out["sensors"] = {{"key", job.sensors.key}, {"invented", job.sensors.invented}};
  out["straight_run"] = {{"upstream", run_json(plan.upstream)},
                         {"downstream", run_json(plan.downstream)},
                         {"u_installation_percent", plan.u_installation * 100}};
  out["mounting"] = mounting_json(job, plan);
  if (plan.signal) out["signal"] = signal_json(plan);
  if (plan.expect) out["expect"] = expect_json(*plan.expect);
  if (!plan.sensitivity.empty()) out["sensitivity"] = sensitivity_json(plan.sensitivity);
  Json assumptions = Json::array();
  for (const Assumption& one : job.assumptions) {
    assumptions.push_back({{"key", one.key}, {"what", one.what}});
  }
  if (!assumptions.empty()) out["assumptions"] = std::move(assumptions);
  Json safety = Json::array();
  for (const SafetyCaution& caution : safety_cautions(job, plan)) {
    safety.push_back({{"id", safety_info(caution.id).name},
                      {"message", safety_text(caution, Display{})},
                      {"source", safety_info(caution.id).source}});
  }
  out["safety"] = std::move(safety);
  out["findings"] = findings_json(plan.findings);
}

}  // namespace

std::string json_sheet(const PlannedJob& job, const std::string& version) {
  const ResolvedJob& first = job.variants.front().job;
  Json out = Json::object();
  out["slantrule"] = version;
  out["format"] = 1;
  put(out, "tag", first.tag);
  put(out, "title", first.title);
  put(out, "site", first.site_name);
  put(out, "note", first.note);
  out["verdict"] = verdict_name(job.verdict());
  if (job.variants.size() == 1) {
    put_variant(out, job.variants.front());
  } else {
    Json candidates = Json::array();
    const auto& read_outs = job.comparison.read_outs;
    for (std::size_t i = 0; i < job.variants.size(); ++i) {
      const PlannedVariant& variant = job.variants[i];
      Json one = Json::object();
      one["what"] = variant.what;
      one["verdict"] = verdict_name(variant.plan.verdict);
      put_variant(one, variant);
      if (i < read_outs.size() && read_outs[i]) {
        Json shown = Json::object();
        put(shown, "sound_speed_m_s", read_outs[i]->sound_speed_m_s);
        put(shown, "flow_percent", read_outs[i]->flow_percent);
        put(shown, "time_of_flight_us", read_outs[i]->time_of_flight_s * 1e6);
        one["read_out_set_for_first"] = std::move(shown);
      }
      candidates.push_back(std::move(one));
    }
    out["candidates"] = std::move(candidates);
    Json told_apart = Json::array();
    for (const Separation& separation : job.comparison.separations) {
      told_apart.push_back({{"by", telling_measurement_name(separation.measurement)},
                            {"pairs_separated", separation.pairs_separated},
                            {"pairs", separation.pairs},
                            {"least_difference_si", separation.least_difference_si},
                            {"least_in_standard_uncertainties", separation.least_in_u}});
    }
    out["told_apart_by"] = std::move(told_apart);
    // What every candidate has in common stands once at the top as well.
    Json common = Json::array();
    const Json all = out["candidates"];
    for (const Json& finding : all.front()["findings"]) {
      bool everywhere = true;
      for (const Json& candidate : all) {
        bool here = false;
        for (const Json& other : candidate["findings"]) here = here || other == finding;
        everywhere = everywhere && here;
      }
      if (everywhere) common.push_back(finding);
    }
    out["findings"] = std::move(common);
  }
  return one_line(out);
}

}  // namespace slantrule
