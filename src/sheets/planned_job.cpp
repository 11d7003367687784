#include <algorithm>

#include "slantrule/planning/compare.hpp"
#include "slantrule/sheets/sheet.hpp"

namespace slantrule {

Verdict PlannedJob::verdict() const {
  Verdict worst = Verdict::go;
  for (const PlannedVariant& variant : variants) worst = std::max(worst, variant.plan.verdict);
  return worst;
}

PlannedJob plan_all(std::vector<Variant> variants, const PlanOptions& options) {
  PlannedJob out;
  // Plans hold views into their jobs, so every job must lie where it will stay.
  out.variants.resize(variants.size());
  for (std::size_t i = 0; i < variants.size(); ++i) {
    PlannedVariant& variant = out.variants[i];
    variant.what = std::move(variants[i].what);
    variant.job = std::move(variants[i].job);
    settle_sensors(variant.job);
    variant.plan = plan(variant.job, options);
  }
  if (out.variants.size() > 1) {
    std::vector<Candidate> candidates;
    for (const PlannedVariant& variant : out.variants) {
      candidates.push_back({&variant.job, &variant.plan});
    }
    out.comparison = compare_candidates(candidates);
  }
  return out;
}

}  // namespace slantrule
