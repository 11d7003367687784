#include "slantrule/sheets/sheet_content.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <numbers>

#include "sheet_words.hpp"
#include "slantrule/planning/check_table.hpp"

namespace slantrule {

bool SheetWords::vertical() const {
  return job.pipe.orientation == Orientation::vertical_up ||
         job.pipe.orientation == Orientation::vertical_down;
}

bool SheetWords::found(CheckId check) const {
  return std::ranges::any_of(plan.findings, [&](const Finding& one) { return one.check == check; });
}

double SheetWords::girth_m() const {
  const ResolvedPipe& pipe = job.pipe;
  const double coating_m =
      pipe.coating && pipe.coating_under_sensors ? pipe.coating->thickness_m : 0;
  return std::numbers::pi * (pipe.outside_diameter_m.value + 2 * coating_m);
}

std::string upper(std::string_view text) {
  std::string out(text);
  std::transform(out.begin(), out.end(), out.begin(),
                 [](unsigned char c) { return static_cast<char>(std::toupper(c)); });
  return out;
}

std::string title_line(const ResolvedJob& job, const Display& display) {
  std::string line = job_text(job.title, display);
  if (!job.site_name.empty()) {
    line += (line.empty() ? "" : ", ") + job_text(job.site_name, display);
  }
  return line;
}

FindingItem finding_item(const Finding& finding, const Display& display) {
  const FindingText text = finding_text(finding, display);
  const CheckInfo& info = check_info(finding.check);
  FindingItem item{finding.severity, text.message, text.mend, {}, info.id, info.rule};
  if (finding.accepted) {
    item.accepted = fmt::format("Accepted by {}: {}", job_text(finding.accepted_by, display),
                                job_text(finding.accepted_because, display));
  }
  return item;
}

namespace {

Section reasons_section(const SheetWords& words) {
  FindingList list;
  for (const Finding& finding : words.plan.findings) {
    if (finding.severity != Severity::note) {
      list.items.push_back(finding_item(finding, words.display));
    }
  }
  Section section{"BEFORE YOU START", {}, Yield::cautions};
  if (!list.items.empty()) section.blocks.push_back(std::move(list));
  return section;
}

Section notes_section(const SheetWords& words) {
  Points points;
  for (const Finding& finding : words.plan.findings) {
    if (finding.severity != Severity::note) continue;
    const FindingItem item = finding_item(finding, words.display);
    points.items.push_back({item.message + " " + item.mend, item.id});
  }
  Section section{"NOTES", {}, Yield::named};
  if (!points.items.empty()) section.blocks.push_back(std::move(points));
  return section;
}

Section safety_section(const SheetWords& words) {
  Points points;
  for (const SafetyCaution& caution : safety_cautions(words.job, words.plan)) {
    points.items.push_back({safety_text(caution, words.display), {}});
  }
  return {"SAFETY (local rules and licensed people decide)", {std::move(points)}};
}

Section assumptions_section(const SheetWords& words) {
  Points points;
  for (const Assumption& one : words.job.assumptions) {
    points.items.push_back({fmt::format("{}: {}", one.key, one.what), {}});
  }
  Section section{"ASSUMED WHERE THE JOB IS SILENT", {}, Yield::counted};
  if (!points.items.empty()) section.blocks.push_back(std::move(points));
  return section;
}

}  // namespace

SheetContent sheet_content(const PlannedVariant& variant, const Display& display) {
  const SheetWords words(variant, display);
  const ResolvedJob& job = variant.job;
  SheetContent content;
  content.verdict = variant.plan.verdict;
  content.verdict_words = verdict_words(variant.plan.verdict, variant.plan.findings);
  content.tag = words.shown_text(job.tag.empty() ? "(no tag)" : job.tag);
  if (std::string title = title_line(job, display); !title.empty()) {
    content.head_lines.push_back(std::move(title));
  }
  if (!job.note.empty()) content.head_lines.push_back("Note: " + words.shown_text(job.note));
  if (!variant.what.empty()) {
    content.head_lines.push_back("Candidate: " + words.shown_text(variant.what));
  }
  content.box = spacing_box(words);
  for (Section section :
       {reasons_section(words), path_section(words), values_section(words), steps_section(words),
        checks_section(words), straight_run_section(words), safety_section(words),
        leaving_section(words), notes_section(words), assumptions_section(words)}) {
    if (!section.blocks.empty()) content.sections.push_back(std::move(section));
  }
  const std::string blank(write_in);
  content.sign_off = {
      {"Planned by", job.prepared_by.empty() ? blank : words.shown_text(job.prepared_by)},
      {"Mounted by", blank},
      {"Date", blank},
      {"Sign", blank}};
  return content;
}

SheetContent sheet_content(const PlannedJob& job, const Display& display) {
  return job.variants.size() > 1 ? candidates_content(job, display)
                                 : sheet_content(job.variants.front(), display);
}

}  // namespace slantrule
