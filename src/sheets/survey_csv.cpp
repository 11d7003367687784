#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <set>

#include "json_parts.hpp"
#include "slantrule/planning/check_table.hpp"
#include "slantrule/planning/clock.hpp"
#include "slantrule/sheets/survey_sheet.hpp"
#include "survey_cells.hpp"

namespace slantrule {
namespace {

using Variant = PlannedVariant;

/// A column that one candidate fills by itself.
struct Column {
  std::string_view name;
  void (*write)(CsvLine& line, const Variant& of);
};

/// The end of a path, or nothing where there is no ray.
template <class Value>
void path_number(CsvLine& line, const Variant& of, const Value& value) {
  if (of.plan.path) {
    line.number(value(*of.plan.path));
  } else {
    line.empty();
  }
}

template <class Value>
void flow_number(CsvLine& line, const Variant& of, const Value& value) {
  if (of.plan.usual) {
    line.number(value(*of.plan.usual));
  } else {
    line.empty();
  }
}

template <class Value>
void expected_number(CsvLine& line, const Variant& of, const Value& value) {
  if (of.plan.expect) {
    line.number(value(*of.plan.expect));
  } else {
    line.empty();
  }
}

void estimate(CsvLine& line, const std::optional<Estimate>& value, double factor) {
  if (value) {
    line.number(value->value * factor);
  } else {
    line.empty();
  }
}

void clock_cell(CsvLine& line, const Variant& of) {
  if (of.plan.clock_h) {
    line.text(clock_text(*of.plan.clock_h));
  } else {
    line.text(of.job.site.clock_text);
  }
}

void regime_cell(CsvLine& line, const Variant& of) {
  const std::optional<FlowPoint>& usual = of.plan.usual;
  line.word(usual && usual->reynolds ? flow_regime_name(usual->regime) : std::string_view());
}

/// None where the flow is in transition.
void profile_cell(CsvLine& line, const Variant& of) {
  const std::optional<FlowPoint>& usual = of.plan.usual;
  if (usual && usual->profile_factor && usual->regime != FlowRegime::transition) {
    line.number(usual->profile_factor->value);
  } else {
    line.empty();
  }
}

constexpr Column plan_columns[] = {
    {"pipe.size", [](auto& line, auto& of) { line.text(of.job.pipe.size_text); }},
    {"pipe.outside_diameter_mm",
     [](auto& line, auto& of) { line.number(of.job.pipe.outside_diameter_m.value * 1e3); }},
    {"pipe.wall_mm", [](auto& line, auto& of) { line.number(of.job.pipe.wall_m.value * 1e3); }},
    {"pipe.liner_mm",
     [](auto& line, auto& of) {
       line.number(of.job.pipe.liner ? of.job.pipe.liner->thickness_m * 1e3 : 0);
     }},
    {"pipe.coating_mm",
     [](auto& line, auto& of) {
       line.number(of.job.pipe.coating ? of.job.pipe.coating->thickness_m * 1e3 : 0);
     }},
    {"pipe.inside_diameter_mm", [](auto& line, auto& of) { line.number(of.plan.bore_m * 1e3); }},
    {"pipe.material", [](auto& line, auto& of) { line.text(of.job.pipe.material.name); }},
    {"pipe.liner_material",
     [](auto& line, auto& of) {
       line.text(of.job.pipe.liner ? of.job.pipe.liner->material.name : std::string_view());
     }},
    {"fluid.name", [](auto& line, auto& of) { line.text(of.job.liquid.name); }},
    {"fluid.full_name", [](auto& line, auto& of) { line.text(of.job.liquid.full_name); }},
    {"fluid.temperature_degC",
     [](auto& line, auto& of) { line.number(of.job.liquid.temperature_K.value - 273.15); }},
    {"fluid.pressure_bar",
     [](auto& line, auto& of) { line.number(of.plan.conditions.pressure_Pa * 1e-5); }},
    {"fluid.sound_speed_m_s",
     [](auto& line, auto& of) { line.number(of.plan.conditions.liquid_sound_speed_m_s.value); }},
    {"fluid.density_kg_m3",
     [](auto& line, auto& of) { estimate(line, of.plan.conditions.density_kg_m3, 1); }},
    {"fluid.viscosity_mPa_s",
     [](auto& line, auto& of) { estimate(line, of.plan.conditions.viscosity_Pa_s, 1e3); }},
    {"path.traverses",
     [](auto& line, auto& of) {
       if (of.plan.path) {
         line.count(static_cast<std::size_t>(of.plan.traverses));
       } else {
         line.empty();
       }
     }},
    {"path.sides",
     [](auto& line, auto& of) {
       line.word(!of.plan.path ? "" : of.plan.same_side() ? "same" : "opposite");
     }},
    {"path.wall_mode",
     [](auto& line, auto& of) {
       line.word(of.plan.path ? wave_mode_name(of.plan.wall_mode) : std::string_view());
     }},
    {"path.angles_deg.fluid",
     [](auto& line, auto& of) {
       path_number(line, of, [](auto& path) { return path.ray.liquid_leg.angle_rad * degree; });
     }},
    {"path.exit_spacing_mm",
     [](auto& line, auto& of) {
       path_number(line, of, [](auto& path) { return path.ray.exit_spacing_m * 1e3; });
     }},
    {"path.mark_spacing_mm",
     [](auto& line, auto& of) {
       path_number(line, of, [](auto& path) { return path.ray.mark_spacing_m * 1e3; });
     }},
    {"path.face_gap_mm",
     [](auto& line, auto& of) {
       line.number(of.plan.path ? of.plan.path->face_gap_m : std::nullopt, 1e3);
     }},
    {"path.overall_length_mm",
     [](auto& line, auto& of) {
       line.number(of.plan.path ? of.plan.path->overall_length_m : std::nullopt, 1e3);
     }},
    {"path.zero_flow_time_us",
     [](auto& line, auto& of) {
       path_number(line, of, [](auto& path) { return path.ray.zero_flow_time_s * 1e6; });
     }},
    {"path.fluid_time_us",
     [](auto& line, auto& of) {
       path_number(line, of, [](auto& path) { return path.ray.fluid_time_s * 1e6; });
     }},
    {"flow.rate_m3_h",
     [](auto& line, auto& of) {
       flow_number(line, of, [](auto& flow) { return flow.volume_flow_m3_s * 3600; });
     }},
    {"flow.velocity_m_s",
     [](auto& line, auto& of) {
       flow_number(line, of, [](auto& flow) { return flow.velocity_m_s; });
     }},
    {"flow.reynolds",
     [](auto& line, auto& of) { flow_number(line, of, [](auto& flow) { return flow.reynolds; }); }},
    {"flow.regime", regime_cell},
    {"flow.profile_factor", profile_cell},
    {"flow.time_difference_ns",
     [](auto& line, auto& of) {
       line.number(of.plan.usual ? of.plan.usual->time_difference_s : std::nullopt, 1e9);
     }},
    {"straight_run.upstream.required_D",
     [](auto& line, auto& of) { line.number(of.plan.upstream.required_D); }},
    {"straight_run.upstream.available_D",
     [](auto& line, auto& of) { line.number(of.plan.upstream.available_D); }},
    {"straight_run.downstream.required_D",
     [](auto& line, auto& of) { line.number(of.plan.downstream.required_D); }},
    {"straight_run.downstream.available_D",
     [](auto& line, auto& of) { line.number(of.plan.downstream.available_D); }},
    {"mounting.clock", clock_cell},
    {"mounting.setting_step_mm",
     [](auto& line, auto& of) { line.number(of.plan.setting_step_m * 1e3); }},
    {"signal.loss_dB",
     [](auto& line, auto& of) {
       if (of.plan.signal) {
         line.number(of.plan.signal->budget.loss_dB);
       } else {
         line.empty();
       }
     }},
    {"sensors.key", [](auto& line, auto& of) { line.text(of.job.sensors.key); }},
    {"sensors.invented", [](auto& line, auto& of) { line.flag(of.job.sensors.invented); }},
    {"expect.sound_speed_m_s",
     [](auto& line, auto& of) {
       expected_number(line, of, [](auto& expect) { return expect.sound_speed_m_s; });
     }},
    {"expect.sound_speed_tolerance_m_s",
     [](auto& line, auto& of) {
       expected_number(line, of, [](auto& expect) { return expect.sound_speed_tolerance_m_s; });
     }},
    {"expect.zero_flow_time_us",
     [](auto& line, auto& of) {
       expected_number(line, of, [](auto& expect) { return expect.zero_flow_time_s * 1e6; });
     }},
    {"expect.zero_flow_time_tolerance_us",
     [](auto& line, auto& of) {
       expected_number(line, of,
                       [](auto& expect) { return expect.zero_flow_time_tolerance_s * 1e6; });
     }},
    {"expect.time_difference_ns",
     [](auto& line, auto& of) {
       line.number(of.plan.expect ? of.plan.expect->time_difference_s : std::nullopt, 1e9);
     }},
};

constexpr std::string_view row_columns[] = {"row", "line", "status", "tag", "verdict"};
constexpr std::string_view reason_columns[] = {"candidates",    "findings.stop", "findings.caution",
                                               "findings.note", "finding",       "problems",
                                               "remarks"};

void candidates_cell(CsvLine& line, const PlannedJob& planned) {
  if (planned.variants.size() < 2) {
    line.empty();
    return;
  }
  line.composed([&](std::string& out) {
    std::string_view between;
    for (const Variant& one : planned.variants) {
      out += between;
      out += one.what;
      if (one.plan.path) {
        fmt::format_to(std::back_inserter(out), ": {:.1f} mm, ",
                       one.plan.path->ray.mark_spacing_m * 1e3);
      } else {
        out += ": no path, ";
      }
      out += verdict_name(one.plan.verdict);
      between = "; ";
    }
  });
}

/// Ids of one severity, each once.
void ids_cell(CsvLine& line, const PlannedJob& planned, Severity severity) {
  std::array<bool, check_count> told{};
  line.composed([&](std::string& out) {
    std::string_view between;
    for (const Variant& variant : planned.variants) {
      for (const Finding& finding : variant.plan.findings) {
        bool& before = told[static_cast<std::size_t>(finding.check)];
        if (finding.severity != severity || before) continue;
        before = true;
        out += between;
        out += check_info(finding.check).id;
        between = "; ";
      }
    }
  });
}

/// The foremost of the candidate that fares worst.
void gravest_cell(CsvLine& line, const PlannedJob& planned) {
  const Variant* worst = nullptr;
  for (const Variant& one : planned.variants) {
    if (one.plan.findings.empty()) continue;
    if (!worst || one.plan.findings.front().severity > worst->plan.findings.front().severity) {
      worst = &one;
    }
  }
  if (!worst) {
    line.empty();
    return;
  }
  line.composed([&](std::string& out) {
    if (!worst->what.empty()) {
      out += worst->what;
      out += ": ";
    }
    const FindingText text = finding_text(*foremost_finding(worst->plan), Display{});
    out += text.message;
    out += ' ';
    out += text.mend;
  });
}

void messages_cell(CsvLine& line, const std::vector<CellMessage>& messages) {
  line.composed([&](std::string& out) {
    std::string_view between;
    for (const CellMessage& one : messages) {
      out += between;
      out += one.column;
      if (!one.column.empty()) out += ": ";
      out += one.message;
      between = " | ";
    }
  });
}

void plan_cells(CsvLine& line, const PlannedJob& planned) {
  for (const Column& column : plan_columns) {
    if (planned.variants.empty()) {
      line.empty();
    } else if (planned.variants.size() == 1) {
      column.write(line, planned.variants.front());
    } else {
      line.common(planned.variants, column.write);
    }
  }
}

void list_cells(CsvLine& line, std::span<const std::string_view> cells, std::size_t columns) {
  for (std::size_t i = 0; i < columns; ++i) {
    if (i < cells.size()) {
      line.original(cells[i]);
    } else {
      line.empty();
    }
  }
  line.composed_of_cells([&](std::string& out) {
    for (std::size_t i = columns; i < cells.size(); ++i) {
      if (i > columns) out += " | ";
      out += cells[i];
    }
  });
}

}  // namespace

ListColumns::ListColumns(std::span<const std::string> headings, bool rows_are_sparse)
    : sparse(rows_are_sparse) {
  std::set<std::string> taken;
  for (std::size_t i = 0; i < headings.size(); ++i) {
    const std::string name = headings[i].find_first_not_of(' ') == std::string::npos
                                 ? fmt::format("column {}", i + 1)
                                 : headings[i];
    std::string unique = name;
    for (int count = 2; !taken.insert(unique).second; ++count) {
      unique = fmt::format("{} ({})", name, count);
    }
    names.push_back(std::move(unique));
  }
}

std::string survey_csv_header(const ListColumns& columns, char separator) {
  std::string out;
  CsvLine line(out, separator);
  for (std::string_view name : row_columns) line.word(name);
  for (const Column& column : plan_columns) line.word(column.name);
  for (std::string_view name : reason_columns) line.word(name);
  for (const std::string& name : columns.names) line.text("list: " + name);
  line.word("list: beyond");
  line.end_line();
  return out;
}

void append_survey_csv(std::string& out, const SurveyRow& row, const ListColumns& columns,
                       char separator) {
  CsvLine line(out, separator);
  line.count(row.list.row);
  line.count(row.list.line);
  line.word(row.refused() ? "refused" : "planned");
  line.text(row.tag);
  line.word(row.refused() ? std::string_view() : verdict_name(row.planned.verdict()));
  plan_cells(line, row.planned);
  candidates_cell(line, row.planned);
  for (Severity severity : {Severity::stop, Severity::caution, Severity::note}) {
    ids_cell(line, row.planned, severity);
  }
  gravest_cell(line, row.planned);
  messages_cell(line, row.list.problems);
  messages_cell(line, row.list.remarks);
  list_cells(line, row.list.cells, columns.names.size());
  line.end_line();
}

}  // namespace slantrule
