#include "slantrule/planning/straight_run.hpp"

#include <algorithm>
#include <cmath>

namespace slantrule {
namespace {

using Fittings = std::vector<ResolvedFitting>;

constexpr double good_place_u = 0.01;
constexpr double short_u = 0.025;
constexpr double very_short_u = 0.05;

std::optional<double> distance_D(const ResolvedFitting& fitting, double bore_m) {
  if (fitting.distance_D) return fitting.distance_D;
  if (fitting.distance_m) return *fitting.distance_m / bore_m;
  return std::nullopt;
}

const Fittings& fittings_on(const ResolvedSite& site, RunSide side) {
  return side == RunSide::upstream ? site.upstream : site.downstream;
}

double floor_D(bool as_upstream) {
  return as_upstream ? least_upstream_D : least_downstream_D;
}

double required_D(const ResolvedFitting& fitting, bool as_upstream) {
  return std::max(floor_D(as_upstream), as_upstream ? fitting.upstream_D : fitting.downstream_D);
}

/// Whether a bend has another close behind it. `placed`: the planner sets its distance, and what
/// lies behind may be without one.
bool in_pair(const Fittings& fittings, const ResolvedFitting& fitting, double at_D, double bore_m,
             bool placed) {
  return fitting.bend &&
         std::any_of(fittings.begin(), fittings.end(), [&](const ResolvedFitting& other) {
           if (&other == &fitting || !other.bend) return false;
           const auto other_D = distance_D(other, bore_m);
           if (!other_D) return placed;
           return *other_D >= at_D && *other_D - at_D < bend_pair_D;
         });
}

/// What the nearest fitting of a side needs when the planner sets its distance.
double placed_requirement_D(const ResolvedSite& site, RunSide side, bool as_upstream) {
  const Fittings& fittings = fittings_on(site, side);
  const auto nearest = std::find_if(fittings.begin(), fittings.end(),
                                    [](const ResolvedFitting& one) { return !one.mark_only; });
  if (nearest == fittings.end()) return floor_D(as_upstream);
  const bool bend_behind =
      nearest->bend && std::any_of(nearest + 1, fittings.end(), [](const ResolvedFitting& other) {
        return other.bend && !other.distance_m && !other.distance_D;
      });
  return std::max(required_D(*nearest, as_upstream),
                  bend_behind ? required_D(site.bend_pair, as_upstream) : 0);
}

}  // namespace

double single_elbow_bias(double at_D) {
  return 0.108 * std::exp(-(at_D - 1) / 4.15);
}

StraightRun straight_run(const ResolvedSite& site, RunSide side, bool reversing, double bore_m,
                         std::optional<double> nearest_m) {
  const bool as_upstream = side == RunSide::upstream || reversing;
  const Fittings& fittings = fittings_on(site, side);

  StraightRun worst{.required_D = floor_D(as_upstream), .available_D = {}, .governing = {}};
  std::optional<double> nearest_D;
  double worst_ratio = 0;
  bool past_nearest = false;
  for (const ResolvedFitting& fitting : fittings) {
    if (fitting.mark_only) continue;
    auto at_D = distance_D(fitting, bore_m);
    const bool placed = !at_D && nearest_m && !past_nearest;
    past_nearest = true;
    if (placed) at_D = *nearest_m / bore_m;
    if (!at_D) continue;
    nearest_D = std::min(nearest_D.value_or(*at_D), *at_D);

    const bool paired = in_pair(fittings, fitting, *at_D, bore_m, placed);
    const ResolvedFitting& by = paired ? site.bend_pair : fitting;
    StraightRun here{
        .required_D = std::max(required_D(fitting, as_upstream), required_D(by, as_upstream)),
        .available_D = at_D,
        .governing = by.name,
        .single_elbow =
            as_upstream && !paired && fitting.bend && fitting.key.starts_with("elbow-")};
    here.source = by.source;
    here.bend = fitting.bend;
    const double ratio = *at_D / here.required_D;
    if (!worst.available_D || ratio < worst_ratio) {
      worst = here;
      worst_ratio = ratio;
    }
  }
  worst.as_upstream = as_upstream;
  worst.nearest_D = nearest_D;
  return worst;
}

std::optional<Placement> place_pair(const ResolvedSite& site, bool reversing, double exit_spacing_m,
                                    double overall_m) {
  if (!site.straight_m || !(*site.straight_m > std::max(exit_spacing_m, overall_m))) {
    return std::nullopt;
  }
  const double free_m = *site.straight_m - exit_spacing_m;
  const double up_D = placed_requirement_D(site, RunSide::upstream, true);
  const double down_D = placed_requirement_D(site, RunSide::downstream, reversing);
  const double upstream_m = free_m * up_D / (up_D + down_D);
  return Placement{upstream_m, free_m - upstream_m};
}

double shortfall_uncertainty(const StraightRun& run) {
  if (!run.available_D) return very_short_u;
  const double available_D = *run.available_D;
  double u = available_D >= run.required_D       ? 0
             : available_D >= run.required_D / 2 ? short_u
                                                 : very_short_u;
  const bool slow = run.low_reynolds && run.as_upstream && available_D < slow_recovery_D;
  if (slow) u = u == 0 ? short_u : very_short_u;
  if (!run.single_elbow) return u;
  // The curve was found at higher Reynolds numbers, where it replaces the steps.
  const double half_bias = single_elbow_bias(available_D) / 2;
  return slow ? std::max(u, half_bias) : half_bias;
}

double straight_run_price(const StraightRun& run) {
  return run.available_D ? 2 * shortfall_uncertainty(run) : 0;
}

std::optional<double> nearest_upstream_D(const StraightRun& upstream,
                                         const StraightRun& downstream) {
  std::optional<double> nearest_D = upstream.nearest_D;
  if (downstream.as_upstream && downstream.nearest_D) {
    nearest_D = std::min(nearest_D.value_or(*downstream.nearest_D), *downstream.nearest_D);
  }
  return nearest_D;
}

double installation_uncertainty(const StraightRun& upstream, const StraightRun& downstream) {
  return std::max(good_place_u,
                  std::hypot(shortfall_uncertainty(upstream), shortfall_uncertainty(downstream)));
}

}  // namespace slantrule
