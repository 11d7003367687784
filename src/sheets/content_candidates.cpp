#include <fmt/format.h>

#include <algorithm>
#include <numbers>

#include "sheet_words.hpp"

namespace slantrule {
namespace {

std::string difference_text(const Separation& one, const Display& display) {
  switch (one.measurement) {
    case TellingMeasurement::outside_diameter:  // what the tape shows
      return length_text(one.least_difference_si * std::numbers::pi, display);
    case TellingMeasurement::wall:
      return length_text(one.least_difference_si, display);
    case TellingMeasurement::time_of_flight:
      return time_text(one.least_difference_si);
    case TellingMeasurement::liquid_density:
      return fmt::format("{:.0f} kg/m3", one.least_difference_si);
    case TellingMeasurement::liquid_temperature:
      return value_text({one.least_difference_si, ValueKind::temperature_difference_K}, display);
  }
  return {};
}

Section side_by_side(const PlannedJob& job, const Display& display) {
  Table table{{{"", 5},
               {"bore", 12},
               {"spacing", 12},
               {"flow time", 12},
               {"shows c", 14},
               {"flow off", 11},
               {"verdict", 0}},
              {},
              false};
  const auto& shows = job.comparison.read_outs;
  for (std::size_t i = 0; i < job.variants.size(); ++i) {
    const PlannedVariant& variant = job.variants[i];
    const Plan& plan = variant.plan;
    const CandidateReadOut* shown = i < shows.size() && shows[i] ? &*shows[i] : nullptr;
    table.rows.push_back(
        {{fmt::format("{:>3}", i + 1), length_text(plan.bore_m, display),
          plan.path ? length_text(plan.path->ray.mark_spacing_m, display) : "no ray",
          plan.path ? time_text(plan.path->ray.zero_flow_time_s) : "-",
          shown ? sound_speed_text(shown->sound_speed_m_s, display) : "-",
          shown ? fmt::format("{:+.1f} %", shown->flow_percent) : "-",
          std::string(verdict_name(plan.verdict))},
         job_text(variant.what, display),
         {}});
  }
  return {"", {std::move(table)}};
}

/// The measurements that tell candidates apart, best first.
Section tell_apart_section(const CandidateComparison& comparison, const Display& display) {
  Section section{"TO TELL THEM APART", {}};
  if (comparison.separations.empty()) {
    section.blocks.push_back(
        Paragraph{"No single measurement on the pipe does; narrow the candidates first."});
  }
  constexpr std::size_t most = 3;
  Ranking ranking;
  for (std::size_t i = 0; i < std::min(most, comparison.separations.size()); ++i) {
    const Separation& one = comparison.separations[i];
    ranking.items.push_back(fmt::format("{}: tells {} of {} pairs apart, the nearest by {}",
                                        telling_measurement_name(one.measurement),
                                        one.pairs_separated, one.pairs,
                                        difference_text(one, display)));
  }
  if (!ranking.items.empty()) section.blocks.push_back(std::move(ranking));
  section.blocks.push_back(
      Paragraph{"Once one is left, plan again with it alone and set that plan's own spacing."});
  return section;
}

/// One a finding and subject: the numbers differ from candidate to candidate.
Section shared_findings(const PlannedJob& job, const Display& display) {
  std::vector<const Finding*> told;
  FindingList list{{}, true};
  for (const PlannedVariant& variant : job.variants) {
    for (const Finding& finding : variant.plan.findings) {
      if (finding.severity == Severity::note) continue;
      const bool known = std::ranges::any_of(told, [&](const Finding* other) {
        return other->check == finding.check && other->subject == finding.subject &&
               other->severity == finding.severity;
      });
      if (known) continue;
      told.push_back(&finding);
      list.items.push_back(finding_item(finding, display));
    }
  }
  Section section{"FINDINGS (numbers of the first candidate that has them)", {}};
  if (!list.items.empty()) section.blocks.push_back(std::move(list));
  return section;
}

}  // namespace

SheetContent candidates_content(const PlannedJob& job, const Display& display) {
  const ResolvedJob& first = job.variants.front().job;
  SheetContent content;
  content.candidates = true;
  // Nothing is issued while candidates are open, so the word is never GO.
  content.verdict = std::max(job.verdict(), Verdict::caution);
  content.verdict_words = fmt::format("{}: {} candidates, no spacing to set yet",
                                      upper(verdict_name(content.verdict)), job.variants.size());
  content.tag = job_text(first.tag.empty() ? "(no tag)" : first.tag, display);
  if (std::string title = title_line(first, display); !title.empty()) {
    content.head_lines.push_back(std::move(title));
  }
  content.box.rows.push_back(
      {"NO SPACING IS ISSUED while these candidates are open. Measure, then plan again:", true});
  content.sections.push_back(side_by_side(job, display));
  if (!job.comparison.read_outs.empty()) {
    content.sections.push_back(
        {"",
         {Paragraph{"\"shows c\" and \"flow off\": what the transmitter shows on a pipe that is as "
                    "the row says, with the entries and the spacing of candidate 1."}}});
  }
  content.sections.push_back(tell_apart_section(job.comparison, display));
  if (Section findings = shared_findings(job, display); !findings.blocks.empty()) {
    content.sections.push_back(std::move(findings));
  }
  return content;
}

}  // namespace slantrule
