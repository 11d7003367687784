#pragma once

/// What every sheet is made from, and the sheets.

#include <string>
#include <vector>

#include "slantrule/planning/plan.hpp"
#include "slantrule/planning/tell_apart.hpp"
#include "slantrule/sheets/display.hpp"

namespace slantrule {

/// One candidate of a job with its plan.
struct PlannedVariant {
  std::string what;  ///< how it differs; empty when nothing was open
  ResolvedJob job;
  Plan plan;

  PlannedVariant() {}  // written out, so that its kilobytes aren't filled with zeros first
};

/// A job, planned. At least one variant. Not copyable: plans hold views into their jobs.
struct PlannedJob {
  std::vector<PlannedVariant> variants;
  CandidateComparison comparison;  ///< of several variants; empty for one

  PlannedJob() = default;
  PlannedJob(PlannedJob&&) = default;
  PlannedJob& operator=(PlannedJob&&) = default;

  /// The worst of the variants.
  Verdict verdict() const;
};

/// Resolves nothing, plans every variant. The variants' texts stay inside the result.
PlannedJob plan_all(std::vector<Variant> variants, const PlanOptions& options = {});

/// The setup sheet: at most 80 columns, lines ended by '\n'. A single candidate takes at most 120
/// lines, assumptions yielding first.
std::string text_sheet(const PlannedJob& job, const Display& display);

/// The setup sheet in Markdown with tables and task lists; texts of the job escaped, so that they
/// can become neither markup nor HTML.
std::string markdown_sheet(const PlannedJob& job, const Display& display);

/// Setup sheets as one HTML page that needs nothing else: drawings within, boxes to tick and lines
/// to write on. Each job starts on paper of its own, and is printed on two pages of A4 or US
/// Letter.
std::string html_sheets(const std::vector<PlannedJob>& jobs, const Display& display);

/// The plan as one JSON object on one line, without the line end. `version` of the program.
std::string json_sheet(const PlannedJob& job, const std::string& version);

}  // namespace slantrule
