#pragma once

/// One candidate in the words of its sheet: what the sections of sheet_content.hpp share, and the
/// sections themselves, by theme.

#include <optional>
#include <string>
#include <string_view>

#include "slantrule/sheets/sheet_content.hpp"

namespace slantrule {

class SheetWords {
 public:
  SheetWords(const PlannedVariant& variant, const Display& shown_as)
      : job(variant.job), plan(variant.plan), what(variant.what), display(shown_as) {}

  const ResolvedJob& job;
  const Plan& plan;
  const std::string& what;
  const Display& display;

  /// A spacing is issued: there is a path, and no stop.
  bool issued() const { return plan.path && plan.verdict != Verdict::stop; }
  double spacing_m() const { return plan.path->ray.mark_spacing_m; }
  bool vertical() const;
  bool found(CheckId check) const;
  /// Round the pipe as the strap and the paper go.
  double girth_m() const;

  std::string shown_text(std::string_view text) const { return job_text(text, display); }
  std::string length(double length_m) const { return length_text(length_m, display); }
  /// A length to be marked out on the pipe: whole millimetres, or hundredths of an inch.
  std::string marking(double length_m) const { return setting_text(length_m, 1e-3, display); }
};

std::string upper(std::string_view text);

/// "Title, site", as far as there are any.
std::string title_line(const ResolvedJob& job, const Display& display);

FindingItem finding_item(const Finding& finding, const Display& display);

// content_box.cpp
std::string verdict_words(Verdict verdict, const std::vector<Finding>& findings);
SpacingBox spacing_box(const SheetWords& words);

// content_values.cpp
Section path_section(const SheetWords& words);
Section values_section(const SheetWords& words);
Section straight_run_section(const SheetWords& words);

// content_signal.cpp
/// Puts what there is of the signal behind the path.
void add_signal(const SheetWords& words, Section& section);

// content_steps.cpp
Section steps_section(const SheetWords& words);
Section checks_section(const SheetWords& words);
Section leaving_section(const SheetWords& words);

}  // namespace slantrule
