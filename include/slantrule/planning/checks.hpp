#pragma once

/// The checks themselves: from a resolved job and the plan so far to findings. Their texts are in
/// check_table.hpp.

#include <vector>

#include "slantrule/planning/plan.hpp"

namespace slantrule {

/// Runs every check, applies the job's acceptances, and sorts the findings, gravest first.
std::vector<Finding> run_checks(const ResolvedJob& job, const Plan& plan);

/// The worst severity among the findings; notes do not count.
Verdict verdict_of(const std::vector<Finding>& findings);

}  // namespace slantrule
