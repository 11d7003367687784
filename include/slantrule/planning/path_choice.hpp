#pragma once

/// Which path is worth setting: what stands against one, and what speaks for it.

#include <optional>

#include "slantrule/planning/path_merit.hpp"
#include "slantrule/planning/plan.hpp"

namespace slantrule {

/// What the merit of a path depends on.
struct PathCase {
  const KernelInputs& kernel;
  const PlannedPath& path;
  std::optional<double> loss_dB;
  bool disturbed;  ///< the straight run is short or unknown
};

/// Needs a ray. Obstacles of the place and the pair included.
PathMerit path_merit(const ResolvedJob& job, const Plan& plan, const PathCase& one);

/// Whether `a` is to be preferred to `b`.
bool better(const PathMerit& a, const PathMerit& b);

/// Chooses what the job leaves open of wall mode and traverses, and fills the plan's wall mode,
/// traverses, layers, path (or no_ray) and merit. Needs the plan's conditions, the kernel's wedge,
/// bore and liquid, and the flows' velocities.
void choose_path(const ResolvedJob& job, const PlanOptions& options, Plan& plan);

}  // namespace slantrule
