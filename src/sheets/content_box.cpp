#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "sheet_words.hpp"
#include "slantrule/planning/clock.hpp"
#include "slantrule/units/quantity.hpp"

namespace slantrule {
namespace {

int count_of(const std::vector<Finding>& findings, Severity severity) {
  return static_cast<int>(std::count_if(findings.begin(), findings.end(), [&](const Finding& one) {
    return one.severity == severity;
  }));
}

/// Where a clock position lies for somebody who looks with the flow.
std::string side_of(double clock_h) {
  if (clock_h > 0 && clock_h < 6) return " = RIGHT";
  if (clock_h > 6 && clock_h < 12) return " = LEFT";
  return "";
}

std::string clock_words(double clock_h) {
  return clock_text(clock_h) + " o'clock";
}

std::string in_unit_text(double length_m, int decimals) {
  return fmt::format("{:.{}f}", length_m / 0.0254, decimals);
}

std::string sides_row(const SheetWords& words) {
  const Plan& plan = words.plan;
  if (plan.clock_h) {
    const std::string a = clock_words(*plan.clock_h) + side_of(*plan.clock_h);
    if (plan.same_side()) return "SAME side, both at " + a + ", looking with the flow";
    return "OPPOSITE sides: A at " + a + ", B at " + clock_words(*plan.other_clock_h) +
           side_of(*plan.other_clock_h) + ", looking with the flow";
  }
  if (!words.vertical()) {
    return std::string(plan.same_side() ? "SAME side" : "OPPOSITE sides") +
           ", at 3 or 9 o'clock, NEVER at the top or bottom; chosen: " + std::string(write_in);
  }
  const std::string& clock = words.job.site.clock_text;
  const std::string where = clock.empty() ? ", landmark " + std::string(write_in)
                                          : ", position " + words.shown_text(clock);
  return plan.same_side()
             ? "SAME side of the pipe" + where
             : "OPPOSITE sides of the pipe, half a girth apart, A at" + where.substr(1);
}

/// How the flow runs for a fitter who faces the pipe: at 3 o'clock left to right, at 9 o'clock
/// right to left; on a riser A is the lower one.
std::string flow_as_seen(const SheetWords& words) {
  const Plan& plan = words.plan;
  switch (words.job.pipe.orientation) {
    case Orientation::vertical_up:
      return "flow upward: A is the LOWER sensor";
    case Orientation::vertical_down:
      return "flow downward: A is the UPPER sensor";
    default:
      break;
  }
  if (!plan.clock_h) {
    return "facing the pipe, flow runs LEFT TO RIGHT at 3 o'clock, RIGHT TO LEFT at 9";
  }
  const double clock_h = *plan.clock_h;
  if (clock_h == 0 || clock_h == 6 || clock_h == 12) return {};
  const std::string way = clock_h < 6 ? "LEFT TO RIGHT" : "RIGHT TO LEFT";
  return "facing the pipe" + std::string(plan.same_side() ? "" : " at A") + ", flow runs " + way +
         (plan.same_side() ? "" : " (the other way at B)");
}

/// The spacing as it is set, in the sheet's units, and in the other system.
void set_spacing(SpacingBox& box, const SheetWords& words) {
  const double step_m = words.plan.setting_step_m;
  const double size_m = std::fabs(words.spacing_m());
  const double rounded_m = std::round(size_m / step_m) * step_m;
  box.setting = setting_text(size_m, step_m, {UnitSystem::metric, words.display.utf8});
  box.other = fmt::format("{} in ({})", in_unit_text(rounded_m, 2),
                          format_inch_fraction(rounded_m, step_m < 1e-3 ? 64 : 32));
  if (words.display.units == UnitSystem::us) std::swap(box.setting, box.other);
  box.hold = words.length(words.plan.mounting_tolerance_m);
}

}  // namespace

std::string verdict_words(Verdict verdict, const std::vector<Finding>& findings) {
  const int stops = count_of(findings, Severity::stop);
  const int cautions = count_of(findings, Severity::caution);
  switch (verdict) {
    case Verdict::go:
      return "GO";
    case Verdict::caution:
      return fmt::format("CAUTION ({})", cautions);
    case Verdict::stop:
      return cautions ? fmt::format("STOP ({}), CAUTION ({})", stops, cautions)
                      : fmt::format("STOP ({})", stops);
  }
  return {};
}

SpacingBox spacing_box(const SheetWords& words) {
  SpacingBox box{.issued = words.issued(), .setting = {}, .other = {}, .hold = {}, .rows = {}};
  const auto row = [&](std::string text) { box.rows.push_back({std::move(text)}); };
  const auto warning = [&](std::string text) { box.rows.push_back({std::move(text), true}); };
  if (!box.issued) {
    warning("NO SPACING IS ISSUED: clear the stops below, then plan again.");
    return box;
  }
  const ResolvedJob& job = words.job;
  const Plan& plan = words.plan;
  set_spacing(box, words);
  row(job.sensors.mark.empty()
          ? "between the reference marks (securing-bolt centres), along the pipe"
          : "between the two marks (" + words.shown_text(job.sensors.mark) + "), along the pipe");
  row(sides_row(words));
  if (std::string way = flow_as_seen(words); !way.empty()) row(std::move(way));
  if (words.spacing_m() < 0) {
    warning("MARKS CROSS: A's mark lies that far DOWNSTREAM of B's mark");
  }
  row("A = UPSTREAM     flow  A ==> B     beams face each other, cables outward");
  if (job.flow.reversing) {
    row("the flow REVERSES: A is upstream of the forward flow, which reads positive");
  }
  if (plan.path->face_gap_m && plan.same_side()) {
    row("cross-check: clear gap between the front ends " +
        setting_text(*plan.path->face_gap_m, plan.setting_step_m, words.display));
  }
  if (job.sensors.invented) {
    warning("TRAINING DATA: this pair is invented. DO NOT MOUNT BY THIS SHEET.");
  }
  return box;
}

}  // namespace slantrule
