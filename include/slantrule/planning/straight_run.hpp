#pragma once

/// How much undisturbed straight pipe a place has, and which fitting governs.

#include "slantrule/planning/plan.hpp"

namespace slantrule {

/// Bends closer to each other than this many bores act as a pair.
inline constexpr double bend_pair_D = 10;
/// The floor for any fitting (trade rule).
inline constexpr double least_upstream_D = 10;
inline constexpr double least_downstream_D = 5;
/// Closer to a fitting than this no measurement is planned.
inline constexpr double refused_below_D = 2;

enum class RunSide { upstream, downstream };

/// The governing fitting on one side: that with the least available/required. With reversing flow
/// both sides count as upstream. Without any fitting at a known distance, only the floor is known.
/// `nearest_m`: distance of the nearest fitting where the job leaves it to the planner.
StraightRun straight_run(const ResolvedSite& site, RunSide side, bool reversing, double bore_m,
                         std::optional<double> nearest_m = std::nullopt);

/// Expected bias after a single elbow at `distance_D`, as a fraction; reads low.
///
///     e = 10.8 % exp(-(x - 1) / 4.15)
///
/// Fit through 10.8 % at 1 D (University of Western Ontario thesis 8357) and 2 % at 8 D (Sensors
/// 2021 21(3):868). Not for other fittings.
double single_elbow_bias(double distance_D);

/// What a shortfall may cost, as a fraction of the flow (about two standard uncertainties).
double straight_run_price(const StraightRun& run);

}  // namespace slantrule
