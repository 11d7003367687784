#include <algorithm>
#include <cmath>

#include "json_parts.hpp"
#include "slantrule/planning/check_table.hpp"
#include "slantrule/planning/clock.hpp"
#include "slantrule/sheets/sheet.hpp"

namespace slantrule {
namespace {

void write_matches(JsonWriter& json, std::string_view key, const std::vector<PipeMatch>& matches) {
  json.array(key, [&] {
    for (const PipeMatch& match : matches) {
      json.object([&] {
        json.put("size", match.size);
        json.put("outside_diameter_mm", match.outside_diameter_m * 1e3);
        json.put("smallest_bore_mm", match.smallest_bore_m * 1e3);
        json.put("largest_bore_mm", match.largest_bore_m * 1e3);
      });
    }
  });
}

void write_gauge(JsonWriter& json, const GaugeReadings& gauge) {
  json.count("count", gauge.count);
  json.put("mean_mm", gauge.mean_m * 1e3);
  json.put("spread_mm", gauge.spread_m * 1e3);
  json.put("set_to_m_s", gauge.set_to_m_s);
}

void write_pipe(JsonWriter& json, const ResolvedJob& job, const Plan& plan) {
  const ResolvedPipe& pipe = job.pipe;
  json.put("size", pipe.size_text);
  json.put("outside_diameter_mm", pipe.outside_diameter_m.value * 1e3);
  json.put("u_outside_diameter_mm", pipe.outside_diameter_m.u * 1e3);
  json.put("wall_mm", pipe.wall_m.value * 1e3);
  json.put("u_wall_mm", pipe.wall_m.u * 1e3);
  json.put("liner_mm", pipe.liner ? pipe.liner->thickness_m * 1e3 : 0);
  json.put("coating_mm", pipe.coating ? pipe.coating->thickness_m * 1e3 : 0);
  json.put("inside_diameter_mm", plan.bore_m * 1e3);
  json.put("material", pipe.material.name);
  if (pipe.liner) json.put("liner_material", pipe.liner->material.name);
  if (pipe.coating) json.put("coating_material", pipe.coating->material.name);
  if (plan.wall_sound_speed_m_s > 0) json.put("wall_sound_speed_m_s", plan.wall_sound_speed_m_s);
  json.put("wall_temperature_degC", plan.conditions.wall_temperature_K - 273.15);
  if (const auto& wave = pipe.material.wave(plan.wall_mode)) {
    json.put("u_wall_sound_speed_m_s", wave->u_m_s);
  }
  json.put("least_wall_mm", pipe.least_wall_m, 1e3);
  json.put("standard", pipe.standard);
  if (pipe.gauge) json.object("gauge", [&] { write_gauge(json, *pipe.gauge); });
  if (pipe.measured_identity) {
    write_matches(json, "matches", pipe.matches);
    if (!pipe.neighbours.empty()) write_matches(json, "next_sizes", pipe.neighbours);
  }
  json.put("roughness_mm", pipe.roughness_m, 1e3);
  json.text("orientation", orientation_name(pipe.orientation));
  json.put("source", pipe.material.source);
}

void write_fluid(JsonWriter& json, const ResolvedJob& job, const Plan& plan) {
  const Conditions& at = plan.conditions;
  json.put("name", job.liquid.name);
  json.put("temperature_degC", job.liquid.temperature_K.value - 273.15);
  json.put("pressure_bar", at.pressure_Pa * 1e-5);
  json.flag("pressure_stated", job.liquid.pressure_Pa.has_value());
  json.put("sound_speed_m_s", at.liquid_sound_speed_m_s.value);
  json.put("u_sound_speed_m_s", at.liquid_sound_speed_m_s.u);
  if (at.density_kg_m3) json.put("density_kg_m3", at.density_kg_m3->value);
  if (at.viscosity_Pa_s) json.put("viscosity_mPa_s", at.viscosity_Pa_s->value * 1e3);
  json.put("boiling_pressure_bar", at.saturation_pressure_Pa, 1e-5);
  json.put("full_name", job.liquid.full_name);
  if (job.liquid.solution) json.put("mass_percent", job.liquid.mass_fraction * 100);
  json.put("sound_speed_slope_m_s_K", at.sound_speed_slope_m_s_K);
  if (at.freezing_temperature_K) json.put("freezing_degC", *at.freezing_temperature_K - 273.15);
  if (at.absorption) json.put("absorption_dB_m", at.absorption->at(job.sensors.frequency_Hz));
  json.put("source", std::string(job.liquid.model->source()));
}

/// Keys of one flow: "rate_m3_h", "least_rate_m3_h", "most_rate_m3_h".
struct FlowKeys {
  std::string_view rate, velocity, reynolds, regime, band, factor, u_factor, time_difference;
};
constexpr FlowKeys usual_keys{"rate_m3_h",        "velocity_m_s",        "reynolds",
                              "regime",           "profile_factor_band", "profile_factor",
                              "u_profile_factor", "time_difference_ns"};
constexpr FlowKeys least_keys{
    "least_rate_m3_h",        "least_velocity_m_s",        "least_reynolds",
    "least_regime",           "least_profile_factor_band", "least_profile_factor",
    "least_u_profile_factor", "least_time_difference_ns"};
constexpr FlowKeys most_keys{
    "most_rate_m3_h",        "most_velocity_m_s",        "most_reynolds",
    "most_regime",           "most_profile_factor_band", "most_profile_factor",
    "most_u_profile_factor", "most_time_difference_ns"};

void write_flow(JsonWriter& json, const FlowKeys& keys, const std::optional<FlowPoint>& point) {
  if (!point) return;
  json.put(keys.rate, point->volume_flow_m3_s * 3600);
  json.put(keys.velocity, point->velocity_m_s);
  if (point->reynolds) {
    json.put(keys.reynolds, *point->reynolds);
    json.text(keys.regime, flow_regime_name(point->regime));
    const ProfileFactor& factor = *point->profile_factor;
    if (point->regime == FlowRegime::transition) {
      json.range(keys.band, factor.low, factor.high);
    } else {
      json.put(keys.factor, factor.value);
      json.put(keys.u_factor, factor.u);
    }
  }
  json.put(keys.time_difference, point->time_difference_s, 1e9);
}

void write_mounting(JsonWriter& json, const ResolvedJob& job, const Plan& plan) {
  if (plan.clock_h) {
    json.text("clock", clock_text(*plan.clock_h));
    json.text("other_clock", clock_text(*plan.other_clock_h));
  } else {
    json.put("clock", job.site.clock_text);
  }
  if (plan.placement) {
    json.put("upstream_fitting_to_exit_point_mm", plan.placement->upstream_m * 1e3);
    json.put("exit_point_to_downstream_fitting_mm", plan.placement->downstream_m * 1e3);
  }
  json.put("setting_step_mm", plan.setting_step_m * 1e3);
  if (plan.rail) {
    json.object("rail", [&] {
      json.put("name", plan.rail->name);
      json.put("step_mm", plan.rail->step_m, 1e3);
      json.put("set_mm", plan.rail->set_m * 1e3);
      json.put("remainder_mm", plan.rail->remainder_m * 1e3);
      json.put("flow_percent", plan.rail->flow_percent);
      json.put("loss_dB", plan.rail->loss_dB);
    });
  }
  json.put("transmitter_spacing_tolerance_mm", plan.transmitter_spacing_tolerance_m * 1e3);
}

void write_expectation(JsonWriter& json, const Expectation& expect) {
  json.put("sound_speed_m_s", expect.sound_speed_m_s);
  json.put("sound_speed_tolerance_m_s", expect.sound_speed_tolerance_m_s);
  json.put("zero_flow_time_us", expect.zero_flow_time_s * 1e6);
  json.put("zero_flow_time_tolerance_us", expect.zero_flow_time_tolerance_s * 1e6);
  json.put("time_difference_ns", expect.time_difference_s, 1e9);
}

void write_sensitivity(JsonWriter& json, const Sensitivity& row) {
  json.text("input", row.input);
  json.text("per", row.per);
  json.put("mark_spacing_mm", row.mark_spacing_m * 1e3);
  json.put("sound_speed_m_s", row.sound_speed_m_s);
  json.put("flow_percent", row.flow_percent);
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

void write_finding(JsonWriter& json, const Finding& finding) {
  const CheckInfo& info = check_info(finding.check);
  const FindingText text = finding_text(finding, Display{});
  json.text("id", info.id);
  json.text("severity", severity_name(finding.severity));
  json.text("message", text.message);
  json.text("do", text.mend);
  const auto write_value = [&](const char* key, const char* unit_key, std::size_t i) {
    const FindingValue& value = finding.values[i];
    if (value.kind == ValueKind::none || !std::isfinite(value.value)) return;
    json.put(key, value.value);
    json.text(unit_key, unit_of(value.kind));
  };
  if (info.has_measured) write_value("measured", "measured_unit", 0);
  if (info.has_required) write_value("required", "required_unit", 1);
  if (finding.accepted) {
    json.object("accepted", [&] {
      json.text("because", finding.accepted_because);
      json.text("by", finding.accepted_by);
    });
  }
  json.text("basis", basis_name(info.basis));
  json.text("source", info.source);
}

void write_safety(JsonWriter& json, const ResolvedJob& job, const Plan& plan) {
  for (const SafetyCaution& caution : safety_cautions(job, plan)) {
    json.object([&] {
      json.text("id", safety_info(caution.id).name);
      json.text("message", safety_text(caution, Display{}));
      json.text("source", safety_info(caution.id).source);
    });
  }
}

/// Everything that one variant has, for the top of the object or for a candidate; findings last.
void write_variant(JsonWriter& json, const PlannedVariant& variant) {
  const ResolvedJob& job = variant.job;
  const Plan& plan = variant.plan;
  json.object("pipe", [&] { write_pipe(json, job, plan); });
  json.object("fluid", [&] { write_fluid(json, job, plan); });
  if (plan.path) json.object("path", [&] { write_path(json, job, plan); });
  if (plan.usual || plan.least || plan.most) {
    json.object("flow", [&] {
      write_flow(json, usual_keys, plan.usual);
      write_flow(json, least_keys, plan.least);
      write_flow(json, most_keys, plan.most);
    });
  }
  json.object("sensors", [&] {
    json.text("key", job.sensors.key);
    json.flag("invented", job.sensors.invented);
  });
  json.object("straight_run", [&] {
    json.object("upstream", [&] { write_run(json, plan.upstream); });
    json.object("downstream", [&] { write_run(json, plan.downstream); });
    json.put("u_installation_percent", plan.u_installation * 100);
  });
  json.object("mounting", [&] { write_mounting(json, job, plan); });
  if (plan.signal) json.object("signal", [&] { write_signal(json, plan); });
  if (plan.expect) json.object("expect", [&] { write_expectation(json, *plan.expect); });
  if (!plan.sensitivity.empty()) {
    json.array("sensitivity", [&] {
      for (const Sensitivity& row : plan.sensitivity) {
        json.object([&] { write_sensitivity(json, row); });
      }
    });
  }
  if (!job.assumptions.empty()) {
    json.array("assumptions", [&] {
      for (const Assumption& one : job.assumptions) {
        json.object([&] {
          json.text("key", one.key);
          json.text("what", one.what);
        });
      }
    });
  }
  json.array("safety", [&] { write_safety(json, job, plan); });
  json.array("findings", [&] {
    for (const Finding& finding : plan.findings) {
      json.object([&] { write_finding(json, finding); });
    }
  });
}

/// Each finding as JSON.
std::vector<std::string> finding_texts(const std::vector<Finding>& findings) {
  std::vector<std::string> texts;
  for (const Finding& finding : findings) {
    JsonWriter json(texts.emplace_back());
    json.object([&] { write_finding(json, finding); });
  }
  return texts;
}

/// What every candidate has in common.
void write_common_findings(JsonWriter& json, const PlannedJob& job) {
  std::vector<std::string> common = finding_texts(job.variants.front().plan.findings);
  for (const PlannedVariant& variant : job.variants) {
    const std::vector<std::string> its = finding_texts(variant.plan.findings);
    std::erase_if(common,
                  [&](const std::string& one) { return std::ranges::find(its, one) == its.end(); });
  }
  for (const std::string& one : common) json.raw_value(one);
}

void write_candidate(JsonWriter& json, const PlannedVariant& variant,
                     const std::optional<CandidateReadOut>& read_out) {
  json.text("what", variant.what);
  json.text("verdict", verdict_name(variant.plan.verdict));
  write_variant(json, variant);
  if (read_out) {
    json.object("read_out_set_for_first", [&] {
      json.put("sound_speed_m_s", read_out->sound_speed_m_s);
      json.put("flow_percent", read_out->flow_percent);
      json.put("time_of_flight_us", read_out->time_of_flight_s * 1e6);
    });
  }
}

void write_separation(JsonWriter& json, const Separation& separation) {
  json.text("by", telling_measurement_name(separation.measurement));
  json.count("pairs_separated", separation.pairs_separated);
  json.count("pairs", separation.pairs);
  json.put("least_difference_si", separation.least_difference_si);
  json.put("least_in_standard_uncertainties", separation.least_in_u);
}

void write_candidates(JsonWriter& json, const PlannedJob& job) {
  const auto& read_outs = job.comparison.read_outs;
  json.array("candidates", [&] {
    for (std::size_t i = 0; i < job.variants.size(); ++i) {
      json.object([&] {
        write_candidate(json, job.variants[i], i < read_outs.size() ? read_outs[i] : std::nullopt);
      });
    }
  });
  json.array("told_apart_by", [&] {
    for (const Separation& separation : job.comparison.separations) {
      json.object([&] { write_separation(json, separation); });
    }
  });
  json.array("findings", [&] { write_common_findings(json, job); });
}

}  // namespace

void write_sheet(JsonWriter& json, const PlannedJob& job, std::string_view version) {
  const ResolvedJob& first = job.variants.front().job;
  json.text("slantrule", version);
  json.count("format", 1);
  json.put("tag", first.tag);
  json.put("title", first.title);
  json.put("site", first.site_name);
  json.put("note", first.note);
  json.text("verdict", verdict_name(job.verdict()));
  if (job.variants.size() == 1) {
    write_variant(json, job.variants.front());
  } else {
    write_candidates(json, job);
  }
}

std::string json_sheet(const PlannedJob& job, const std::string& version) {
  std::string out;
  JsonWriter json(out);
  json.object([&] { write_sheet(json, job, version); });
  return out;
}

}  // namespace slantrule
