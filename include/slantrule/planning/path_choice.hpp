#pragma once

/// Which path is worth setting: what stands against one, and what speaks for it.

#include <optional>

#include "slantrule/planning/path_merit.hpp"
#include "slantrule/planning/plan.hpp"

namespace slantrule {

/// Whether `a` is to be preferred to `b`.
bool better(const PathMerit& a, const PathMerit& b);

/// Chooses what the job leaves open of wall mode and traverses, and fills the plan's wall mode,
/// traverses, layers, path (or no_ray) and merit. Needs the plan's conditions, the kernel's wedge,
/// bore and liquid, the flows' velocities and the straight runs. Returns the sound path of what was
/// chosen, where levels are asked for.
SoundPathAnswer choose_path(const ResolvedJob& job, const PlanOptions& options, Plan& plan);

}  // namespace slantrule
