#pragma once

/// How much undisturbed straight pipe a place has, which fitting governs, and what a shortfall
/// costs.

#include "slantrule/planning/plan.hpp"

namespace slantrule {

/// Bends closer to each other than this many bores act as a pair.
inline constexpr double bend_pair_D = 10;
/// The floor for any fitting (trade rule).
inline constexpr double least_upstream_D = 10;
inline constexpr double least_downstream_D = 5;
/// Closer to a fitting than this no measurement is planned.
inline constexpr double refused_below_D = 2;
/// Below this Reynolds number a disturbed profile takes longer to recover, up to `slow_recovery_D`
/// (computed behind one elbow: 10 to 40 D at Re 5600; Applied Sciences 2024 14(17):7895, abstract).
inline constexpr double slow_recovery_reynolds = 10000;
inline constexpr double slow_recovery_D = 40;

enum class RunSide { upstream, downstream };

/// The governing fitting on one side: that with the least available/required. With reversing flow
/// both sides count as upstream. Without any fitting at a known distance, only the floor is known.
/// `nearest_m`: distance of the nearest fitting where the job leaves it to the planner; a further
/// bend without a distance is then taken as close.
StraightRun straight_run(const ResolvedSite& site, RunSide side, bool reversing, double bore_m,
                         std::optional<double> nearest_m = std::nullopt);

/// Where the pair goes on `site.straight_m` of pipe between the two nearest fittings: the free
/// length is shared in proportion to what each side needs, so that both have the same
/// available/required. Absent when the pair, `overall_m` long, does not fit.
std::optional<Placement> place_pair(const ResolvedSite& site, bool reversing, double exit_spacing_m,
                                    double overall_m);

/// Expected bias after a single elbow at `distance_D`, as a fraction; reads low.
///
///     e = 10.8 % exp(-(x - 1) / 4.15)
///
/// Fit through 10.8 % at 1 D (University of Western Ontario thesis 8357) and 2 % at 8 D (Sensors
/// 2021 21(3):868, Re 70 000 and 100 000). Not for other fittings.
double single_elbow_bias(double distance_D);

/// Standard uncertainty (a fraction of the flow) that the disturbance on one side adds to that of a
/// good place. Behind one elbow half the expected bias; else 2.5 % between half and all of the
/// requirement, 5 % below half or where it is not known, 0 where it is met. At a low Reynolds
/// number a run upstream shorter than `slow_recovery_D` counts as the next worse step. All steps
/// are proposals.
double shortfall_uncertainty(const StraightRun& run);

/// What a shortfall may cost, as a fraction of the flow: about two standard uncertainties, behind
/// one elbow the expected bias. 0 where the run is not known.
double straight_run_price(const StraightRun& run);

/// Standard uncertainty of the flow from the place, both sides together: 1 % (proposal) where all
/// is met.
double installation_uncertainty(const StraightRun& upstream, const StraightRun& downstream);

/// Straight pipe behind the nearest fitting that counts as upstream; absent where none is known.
std::optional<double> nearest_upstream_D(const StraightRun& upstream,
                                         const StraightRun& downstream);

/// Standard uncertainty of the profile factor of a laminar flow whose profile had not the room to
/// form: anywhere from 3/4 (the parabola) to 1 (flat), rectangular: 1/8 / sqrt(3) of 7/8.
inline constexpr double undeveloped_laminar_u = 0.0825;

}  // namespace slantrule
