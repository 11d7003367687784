/// Checks of the straight run: what disturbs the flow, and what that costs.

#include <algorithm>

#include "check_context.hpp"
#include "slantrule/hydraulics/pipe_flow.hpp"
#include "slantrule/planning/straight_run.hpp"

namespace slantrule {
namespace {

using Kind = ValueKind;

/// What would help: moving, where the other side has pipe to spare, and what beside.
std::string what_helps(const StraightRun& run, const StraightRun& other) {
  const double missing_D = run.required_D - *run.available_D;
  std::string words;
  if (!other.available_D || *other.available_D - other.required_D >= missing_D) {
    words =
        "Move the pair that much further from the fitting, or to a place with more straight pipe";
  } else {
    words =
        "No position between these fittings gives both sides their run: look for a place with "
        "more straight pipe";
  }
  if (run.as_upstream && run.bend) {
    // Two diameters at right angles cancel the two-fold part of a skewed profile as well as the
    // one-sided part (metrology notes 3.2, from symmetry).
    words += ", or take two pairs in planes at 90 degrees and average them";
  }
  if (run.as_upstream && run.low_reynolds) {
    words += " (at this low Reynolds number a profile may take 40 D to recover)";
  }
  return words;
}

void check_one_run(const CheckContext& c, RunSide side) {
  const bool up = side == RunSide::upstream;
  const StraightRun& run = up ? c.plan.upstream : c.plan.downstream;
  if (!run.available_D) {
    c.add(up ? CheckId::run_upstream_unknown : CheckId::run_downstream_unknown,
          {{{}, {run.required_D, Kind::diameters}}});
    return;
  }
  if (*run.available_D >= run.required_D) return;
  Finding& finding =
      c.add(up ? CheckId::run_upstream : CheckId::run_downstream,
            *run.available_D < refused_below_D ? Severity::stop : Severity::caution,
            {{{*run.available_D, Kind::diameters},
              {run.required_D, Kind::diameters},
              {100 * straight_run_price(run),
               run.single_elbow ? Kind::percent_low : Kind::percent_either},
              {(run.required_D - *run.available_D) * c.plan.bore_m, Kind::length_m}}},
            run.governing);
  finding.detail = what_helps(run, up ? c.plan.downstream : c.plan.upstream);
}

/// Behind a disturbance a single traverse sees the flow across the pipe too.
void check_odd_count(const CheckContext& c) {
  if (c.plan.same_side()) return;
  const auto is_short = [](const StraightRun& run) {
    return run.as_upstream && run.available_D && *run.available_D < run.required_D;
  };
  if (!is_short(c.plan.upstream) && !is_short(c.plan.downstream)) return;
  c.add(CheckId::run_odd_count, {{{static_cast<double>(c.plan.traverses), Kind::count}}},
        is_short(c.plan.upstream) ? c.plan.upstream.governing : c.plan.downstream.governing);
}

/// A laminar profile takes far longer to form than a turbulent one.
void check_laminar_run(const CheckContext& c) {
  const auto nearest_D = nearest_upstream_D(c.plan.upstream, c.plan.downstream);
  if (!nearest_D) return;
  // The fastest laminar flow needs most.
  double needed_D = 0;
  std::string_view which;
  for (const Flow& flow : flows(c.plan)) {
    const auto& point = *flow.second;
    if (!point || !point->reynolds || point->regime != FlowRegime::laminar) continue;
    const double here_D = laminar_development_length_D(*point->reynolds);
    if (here_D > needed_D) {
      needed_D = here_D;
      which = flow.first;
    }
  }
  if (*nearest_D >= needed_D) return;
  c.add(CheckId::run_laminar,
        {{{*nearest_D, Kind::diameters},
          {needed_D, Kind::diameters},
          {profile_factor(0, 0).value, Kind::number},
          {1, Kind::number}}},
        which);
}

/// Welds and flanges disturb the mounting, not the flow: a body length off the foot.
void check_welds(const CheckContext& c) {
  const ResolvedSensors& pair = c.job.sensors;
  for (const auto* side : {&c.job.site.upstream, &c.job.site.downstream}) {
    for (const ResolvedFitting& fitting : *side) {
      if (!fitting.mark_only) continue;
      double distance_m = 0;
      if (fitting.distance_m) {
        distance_m = *fitting.distance_m;
      } else if (fitting.distance_D) {
        distance_m = *fitting.distance_D * c.plan.bore_m;
      } else {
        continue;
      }
      const double body_m = pair.length_m.value_or(c.plan.bore_m);
      const double behind_exit_m = body_m - pair.nose_m.value_or(0);
      const double needed_m = behind_exit_m + body_m;
      if (distance_m >= needed_m) continue;
      c.add(CheckId::run_mark_only, distance_m < behind_exit_m ? Severity::stop : Severity::caution,
            {{{distance_m, Kind::length_m}, {needed_m, Kind::length_m}}}, fitting.name);
    }
  }
}

}  // namespace

void check_straight_run(const CheckContext& c) {
  if (c.job.site.straight_m && c.plan.path && !c.plan.placement) {
    const PlannedPath& path = *c.plan.path;
    c.add(
        CheckId::run_straight_short,
        {{{*c.job.site.straight_m, Kind::length_m},
          {std::max(path.ray.exit_spacing_m, path.overall_length_m.value_or(0)), Kind::length_m}}});
  }
  check_one_run(c, RunSide::upstream);
  check_one_run(c, RunSide::downstream);
  check_odd_count(c);
  check_laminar_run(c);
  check_welds(c);
}

}  // namespace slantrule
