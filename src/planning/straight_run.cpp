#include "slantrule/planning/straight_run.hpp"

#include <algorithm>
#include <cmath>

namespace slantrule {
namespace {

std::optional<double> distance_D(const ResolvedFitting& fitting, double bore_m) {
  if (fitting.distance_D) return fitting.distance_D;
  if (fitting.distance_m) return *fitting.distance_m / bore_m;
  return std::nullopt;
}

bool single_bend(const ResolvedFitting& fitting) {
  return fitting.bend && fitting.key.starts_with("elbow-");
}

}  // namespace

double single_elbow_bias(double at_D) {
  return 0.108 * std::exp(-(at_D - 1) / 4.15);
}

StraightRun straight_run(const ResolvedSite& site, RunSide side, bool reversing, double bore_m,
                         std::optional<double> nearest_m) {
  const bool counts_as_upstream = side == RunSide::upstream || reversing;
  const double floor_D = counts_as_upstream ? least_upstream_D : least_downstream_D;
  const auto& fittings = side == RunSide::upstream ? site.upstream : site.downstream;

  StraightRun worst{.required_D = floor_D, .available_D = {}, .governing = {}};
  double worst_ratio = 0;
  bool past_nearest = false;
  for (std::size_t i = 0; i < fittings.size(); ++i) {
    const ResolvedFitting& fitting = fittings[i];
    if (fitting.mark_only) continue;
    auto available_D = distance_D(fitting, bore_m);
    if (!available_D && nearest_m && !past_nearest) available_D = *nearest_m / bore_m;
    past_nearest = true;
    if (!available_D) continue;
    StraightRun here{.required_D = std::max(
                         floor_D, counts_as_upstream ? fitting.upstream_D : fitting.downstream_D),
                     .available_D = available_D,
                     .governing = fitting.name,
                     .single_elbow = single_bend(fitting)};
    if (single_bend(fitting)) {
      // A second bend close behind this one makes a pair; the nearer of the two governs.
      for (std::size_t j = i + 1; j < fittings.size(); ++j) {
        const auto next_D = distance_D(fittings[j], bore_m);
        if (!single_bend(fittings[j]) || !next_D) continue;
        if (*next_D - *available_D < bend_pair_D) {
          here.required_D = std::max(floor_D, counts_as_upstream ? site.bend_pair.upstream_D
                                                                 : site.bend_pair.downstream_D);
          here.governing = site.bend_pair.name;
          here.single_elbow = false;
        }
        break;
      }
    }
    const double ratio = *available_D / here.required_D;
    if (!worst.available_D || ratio < worst_ratio) {
      worst = here;
      worst_ratio = ratio;
    }
  }
  return worst;
}

double straight_run_price(const StraightRun& run) {
  if (!run.available_D) return 0;
  if (run.single_elbow) return single_elbow_bias(*run.available_D);
  // Standard uncertainty 2.5 % between half and all of the requirement, 5 % below half (proposal);
  // about twice that is what the reading may be off.
  return *run.available_D >= run.required_D / 2 ? 0.05 : 0.10;
}

}  // namespace slantrule
