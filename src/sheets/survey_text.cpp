#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "slantrule/planning/check_table.hpp"
#include "slantrule/sheets/survey_sheet.hpp"
#include "slantrule/sheets/text_layout.hpp"

namespace slantrule {
namespace {

constexpr std::size_t tag_columns = 12, pipe_columns = 12, set_columns = 6;
/// Where what belongs to a row but has no room in its line begins.
constexpr std::string_view below = "      ";
/// More complaints about one row are counted, not shown.
constexpr std::size_t most_problems = 3;

std::string_view length_unit(const Display& display) {
  return display.units == UnitSystem::us ? "in" : "mm";
}

/// At most two decimals of a millimetre or three of an inch, no trailing zeros.
std::string dimension(double length_m, const Display& display) {
  std::string text = display.units == UnitSystem::us ? fmt::format("{:.3f}", length_m / 0.0254)
                                                     : fmt::format("{:.2f}", length_m * 1e3);
  text.erase(text.find_last_not_of('0') + 1);
  if (text.ends_with('.')) text.pop_back();
  return text;
}

std::string pipe_text(const ResolvedPipe& pipe, const Display& display) {
  return dimension(pipe.outside_diameter_m.value, display) + "x" +
         dimension(pipe.wall_m.value, display);
}

std::string path_text(const Plan& plan) {
  if (!plan.path) return " -";
  return fmt::format("{:>2} {}", plan.traverses, plan.same_side() ? "same" : "opp.");
}

/// As the setup sheet issues it, with "!" where it is training data; "-" where none is issued.
std::string set_text(const PlannedVariant& variant, const Display& display) {
  const Plan& plan = variant.plan;
  if (!plan.path || plan.verdict == Verdict::stop) return "-";
  std::string text = setting_text(plan.path->ray.mark_spacing_m, plan.setting_step_m, display);
  text.erase(text.find(' '));
  return text + (variant.job.sensors.invented ? "!" : "");
}

std::string loss_text(const Plan& plan) {
  if (!plan.path) return "-";
  return plan.signal ? fmt::format("{:.0f}", plan.signal->budget.loss_dB) : "?";
}

std::string first_reason(const Plan& plan, const Display& display) {
  const Finding* finding = foremost_finding(plan);
  if (!finding || finding->severity == Severity::note) return {};
  const std::string price = price_in_flow(*finding, display);
  return std::string(check_info(finding->check).id) + (price.empty() ? "" : ", " + price);
}

/// How early a finding comes among those of its severity.
enum class Rank : std::uint8_t { conflict, priced, other };

bool tells_price(const CheckInfo& info) {
  return info.message.find("flow would be off by {2}") != std::string_view::npos ||
         info.message.find("flow is off by {2}") != std::string_view::npos;
}

Rank rank_of(CheckId check) {
  static const std::vector<Rank> ranks = [] {
    std::vector<Rank> out;
    for (const CheckInfo& info : check_table()) {
      // What is merely not known would come first in most rows of a list.
      const bool priced = tells_price(info) && !info.id.ends_with(".unknown");
      const bool conflict = info.id.ends_with("-conflict");
      out.push_back(conflict ? Rank::conflict : priced ? Rank::priced : Rank::other);
    }
    return out;
  }();
  return ranks[static_cast<std::size_t>(check)];
}

void append_line(std::string& out, std::string_view line) {
  out += line.substr(0, line.find_last_not_of(' ') + 1);
  out += '\n';
}

void append_below(std::string& out, std::string_view text) {
  for (const std::string& line : wrapped(text, below, "        ")) append_line(out, line);
}

std::string start_of(const SurveyRow& row, std::string_view verdict, const Display& display) {
  return fmt::format("{:>5} {} {}", row.list.row, padded(job_text(row.tag, display), tag_columns),
                     padded(verdict, 7));
}

void append_refused(std::string& out, const SurveyRow& row, const Display& display) {
  append_line(out, start_of(row, "refused", display));
  const std::vector<CellMessage>& problems = row.list.problems;
  for (std::size_t i = 0; i < std::min(problems.size(), most_problems); ++i) {
    std::string text = "refused: ";
    if (!problems[i].column.empty()) text += job_text(problems[i].column, display) + ": ";
    append_below(out, text + job_text(problems[i].message, display));
  }
  if (problems.size() > most_problems) {
    append_below(out, fmt::format("and {} more", problems.size() - most_problems));
  }
}

/// A row with a pipe of its own, so that everything has its column.
void append_single(std::string& out, const SurveyRow& row, const Display& display) {
  const PlannedVariant& variant = row.planned.variants.front();
  const Plan& plan = variant.plan;
  // The mark of training data stands behind the digits, so that these stay in line.
  std::string set = set_text(variant, display);
  if (!set.ends_with('!')) set += ' ';
  const std::string line =
      fmt::format("{} {} {} {:>{}} {:>3} ", start_of(row, verdict_name(plan.verdict), display),
                  padded(pipe_text(variant.job.pipe, display), pipe_columns),
                  padded(path_text(plan), 7), set, set_columns + 1, loss_text(plan));
  const std::string reason = first_reason(plan, display);
  if (columns(line) + reason.size() <= sheet_columns) {
    append_line(out, line + reason);
  } else {
    append_line(out, line);
    append_below(out, reason);
  }
}

void append_candidates(std::string& out, const SurveyRow& row, const Display& display) {
  append_line(out, fmt::format("{} {} candidates",
                               start_of(row, verdict_name(row.planned.verdict()), display),
                               row.planned.variants.size()));
  for (const PlannedVariant& one : row.planned.variants) {
    const std::string reason = first_reason(one.plan, display);
    append_below(out,
                 fmt::format("{}: {}, {}, N {}, SET {}, {} dB{}{}", job_text(one.what, display),
                             verdict_name(one.plan.verdict), pipe_text(one.job.pipe, display),
                             path_text(one.plan), set_text(one, display), loss_text(one.plan),
                             reason.empty() ? "" : ", ", reason));
  }
}

}  // namespace

const Finding* foremost_finding(const Plan& plan) {
  const Finding* best = nullptr;
  for (const Finding& finding : plan.findings) {
    if (finding.severity != plan.findings.front().severity) break;
    if (!best || rank_of(finding.check) < rank_of(best->check)) best = &finding;
  }
  return best;
}

std::string price_in_flow(const Finding& finding, const Display& display) {
  if (!tells_price(check_info(finding.check))) return {};
  return "flow " + value_text(finding.values[2], display);
}

std::string survey_text_header(const Display& display) {
  const std::string_view unit = length_unit(display);
  std::string out;
  append_line(
      out, fmt::format("SET: from mark to mark along the pipe, {}; \"-\": none is issued.", unit));
  append_line(out, "!: TRAINING DATA, the pair is invented: DO NOT MOUNT by that spacing.");
  append_line(out, "Below zero: A's mark lies that far DOWNSTREAM of B's. dB: loss of the path.");
  append_line(out, "");
  append_line(out, fmt::format("  row {} verdict {}  N side {:>6}   dB first reason",
                               padded("tag", tag_columns),
                               padded(fmt::format("OD x wall {}", unit), pipe_columns), "SET"));
  append_line(out, std::string(sheet_columns, '-'));
  return out;
}

void append_survey_text(std::string& out, const SurveyRow& row, const Display& display) {
  if (row.refused()) {
    append_refused(out, row, display);
  } else if (row.planned.variants.size() == 1) {
    append_single(out, row, display);
  } else {
    append_candidates(out, row, display);
  }
}

std::string sheet_file_name(std::size_t row, std::string_view tag, std::string_view extension) {
  constexpr std::size_t most_bytes = 80;
  std::string name = fmt::format("{:04}", row);
  const std::size_t most = most_bytes - 1 - extension.size();
  bool gap = true;  // the number and the tag stand apart
  for (char c : tag) {
    const bool digit = c >= '0' && c <= '9';
    const bool letter = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
    // A dot only inside, or it would hide what follows or climb out of the folder.
    const bool inner = (c == '.' || c == '_') && !gap;
    if (!digit && !letter && !inner) {
      gap = true;
      continue;
    }
    if (name.size() + 2 > most) break;
    if (gap) name += '-';
    gap = false;
    name += c;
  }
  name.erase(name.find_last_not_of("._") + 1);
  name += '.';
  name += extension;
  return name;
}

}  // namespace slantrule
