#include <fmt/format.h>

#include <cmath>

#include "sheet_words.hpp"
#include "slantrule/units/suggest.hpp"

namespace slantrule {
namespace {

/// The rows of a table of values.
class Rows {
 public:
  void add(std::string_view name, std::string value) {
    values_.rows.push_back({std::string(name), std::move(value)});
  }
  void source(std::string text) { values_.rows.push_back({{}, std::move(text), true}); }
  Values take() { return std::move(values_); }

 private:
  Values values_;
};

/// A dimension with its standard uncertainty, where one is known.
std::string with_u(const SheetWords& words, const Estimate& dimension_m) {
  if (!(dimension_m.u > 0)) return words.length(dimension_m.value);
  return words.length(dimension_m.value) + " (u " + words.length(dimension_m.u) + ")";
}

std::string liquid_name(const SheetWords& words) {
  const ResolvedLiquid& liquid = words.job.liquid;
  std::string name = words.shown_text(liquid.name);
  if (!liquid.full_name.empty() && folded_name(liquid.full_name) != folded_name(liquid.name)) {
    name += " (" + words.shown_text(liquid.full_name) + ")";
  }
  if (liquid.solution) name += fmt::format(", {:.4g} % by mass,", 100 * liquid.mass_fraction);
  return name;
}

void pipe_rows(const SheetWords& words, Rows& rows) {
  const ResolvedPipe& pipe = words.job.pipe;
  if (!pipe.size_text.empty()) rows.add("pipe", words.shown_text(pipe.size_text));
  rows.add("outside diameter, bare wall", with_u(words, pipe.outside_diameter_m));
  rows.add("wall", with_u(words, pipe.wall_m) + ", " + words.shown_text(pipe.material.name));
  if (pipe.gauge && pipe.gauge->count > 1) {
    rows.add("gauge readings",
             fmt::format("{}, mean {}, spread {}", pipe.gauge->count,
                         words.length(pipe.gauge->mean_m), words.length(pipe.gauge->spread_m)));
  }
  for (const PipeMatch& match : pipe.matches) {
    rows.add(&match == &pipe.matches.front() ? "standard pipes of that diameter" : "",
             fmt::format("{}: {}, bores {} to {}", words.shown_text(match.size),
                         words.length(match.outside_diameter_m),
                         words.length(match.smallest_bore_m), words.length(match.largest_bore_m)));
  }
}

void layer_rows(const SheetWords& words, Rows& rows) {
  const ResolvedPipe& pipe = words.job.pipe;
  const Plan& plan = words.plan;
  const Conditions& at = plan.conditions;
  if (plan.wall_sound_speed_m_s > 0) {
    rows.add(
        "speed of sound in the wall",
        fmt::format("{} ({}) at {}", sound_speed_text(plan.wall_sound_speed_m_s, words.display),
                    wave_mode_name(plan.wall_mode),
                    temperature_text(at.wall_temperature_K, words.display)));
  }
  rows.add("wedge", fmt::format("{} at {}{}",
                                sound_speed_text(plan.kernel.wedge_sound_speed_m_s, words.display),
                                temperature_text(at.wedge_temperature_K, words.display),
                                words.job.site.wedge_temperature_K ? "" : " (taken)"));
  rows.add("lining", pipe.liner ? words.length(pipe.liner->thickness_m) + ", " +
                                      words.shown_text(pipe.liner->material.name)
                     : pipe.liner_stated ? "none"
                                         : "not stated; planned as none");
  if (pipe.coating) {
    rows.add("coating", words.length(pipe.coating->thickness_m) + ", " +
                            words.shown_text(pipe.coating->material.name) +
                            (pipe.coating_under_sensors ? ", left under the sensors"
                                                        : ", removed under the sensors"));
  }
  rows.add("bore", words.length(plan.bore_m));
}

void liquid_rows(const SheetWords& words, Rows& rows) {
  const ResolvedLiquid& liquid = words.job.liquid;
  const Conditions& at = words.plan.conditions;
  rows.add("liquid", liquid_name(words) + " at " +
                         temperature_text(liquid.temperature_K.value, words.display) + ", " +
                         pressure_text(at.pressure_Pa, words.display) +
                         (liquid.pressure_Pa ? "" : " (assumed)"));
  rows.add(
      "speed of sound in the liquid",
      fmt::format("{} +- {}{}", sound_speed_text(at.liquid_sound_speed_m_s.value, words.display),
                  sound_speed_text(at.liquid_sound_speed_m_s.u, words.display),
                  liquid.sound_speed_measured ? " (measured)" : ""));
  rows.source("by " + words.shown_text(liquid.model->source()));
  if (words.plan.kernel.kinematic_viscosity_m2_s) {
    rows.add("kinematic viscosity",
             fmt::format("{:.3g} mm2/s", *words.plan.kernel.kinematic_viscosity_m2_s * 1e6));
  }
}

std::string profile_factor_words(const SheetWords& words, const FlowPoint& usual) {
  const ProfileFactor& factor = *usual.profile_factor;
  const std::string band = words.found(CheckId::run_laminar)
                               ? fmt::format("between {:.2f} and 1", factor.value)
                           : usual.regime == FlowRegime::transition
                               ? fmt::format("between {:.3f} and {:.3f}", factor.low, factor.high)
                               : fmt::format("{:.4f} +- {:.4f}", factor.value, factor.u);
  return "profile factor " + band +
         ": find out whether the transmitter applies it itself, and have it applied once.";
}

TableRow run_row(const SheetWords& words, std::string_view side, const StraightRun& run) {
  const double bore_m = words.plan.bore_m;
  TableRow row;
  row.cells = {std::string(side),
               fmt::format("needed {:>6} ({})", diameters_text(run.required_D),
                           words.length(run.required_D * bore_m)),
               run.available_D ? fmt::format("there {:>7} ({})", diameters_text(*run.available_D),
                                             words.length(*run.available_D * bore_m))
                               : "there: not stated"};
  if (!run.governing.empty()) {
    row.remark = "governed by: " + words.shown_text(run.governing);
    row.source = words.shown_text(run.source.substr(0, run.source.find(';')));
  }
  return row;
}

}  // namespace

Section path_section(const SheetWords& words) {
  Section section{words.plan.signal ? "PATH AND SIGNAL" : "PATH", {}};
  const Plan& plan = words.plan;
  if (!plan.path) return section;
  const RayPath& ray = plan.path->ray;
  std::string text =
      fmt::format("{} {} of the bore with the {} wave in the wall: wedge {}", plan.traverses,
                  plan.traverses == 1 ? "traverse" : "traverses", wave_mode_name(plan.wall_mode),
                  angle_text(words.job.sensors.wedge_angle_rad));
  for (std::size_t i = 0; i < ray.layer_count; ++i) {
    text += fmt::format(", {} {}", layer_role_name(plan.layer_roles[i]),
                        angle_text(ray.layer_legs[i].angle_rad));
  }
  text += fmt::format(", liquid {} from the pipe normal.", angle_text(ray.liquid_leg.angle_rad));
  section.blocks.push_back(Paragraph{std::move(text)});
  section.blocks.push_back(Sketch{plan.traverses, ray.exit_spacing_m, plan.bore_m});
  add_signal(words, section);
  return section;
}

Section values_section(const SheetWords& words) {
  Rows rows;
  pipe_rows(words, rows);
  layer_rows(words, rows);
  liquid_rows(words, rows);
  rows.add("traverses", std::to_string(words.plan.traverses));
  Section section{"VALUES FOR THE TRANSMITTER", {rows.take()}};
  if (words.issued()) {
    const double tolerance_m = std::ceil(words.plan.transmitter_spacing_tolerance_m * 2e3) * 0.5e-3;
    section.blocks.push_back(Paragraph{
        fmt::format("spacing the transmitter shows: {}   more than +- {} from plan: an entry "
                    "differs; find it before mounting",
                    write_in, words.length(tolerance_m)),
        true});
  }
  if (words.plan.usual && words.plan.usual->profile_factor) {
    section.blocks.push_back(Paragraph{profile_factor_words(words, *words.plan.usual), true});
  }
  return section;
}

Section straight_run_section(const SheetWords& words) {
  Table table{{{"", 12}, {"", 30}, {"", 0}}, {}};
  table.rows.push_back(run_row(words, "upstream", words.plan.upstream));
  table.rows.push_back(run_row(words, "downstream", words.plan.downstream));
  return {"STRAIGHT RUN (in bores, D = " + words.length(words.plan.bore_m) + ")",
          {std::move(table)}};
}

}  // namespace slantrule
