/// Checks of the kit: whether what is at hand will do for this pipe.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>

#include "check_context.hpp"

namespace slantrule {
namespace {

using Kind = ValueKind;

void check_kit_rails(const CheckContext& c) {
  const std::vector<ResolvedRail>& rails = c.job.kit.rails;
  if (rails.empty() || !c.plan.path || c.plan.rail) return;
  const bool same_side = c.plan.same_side();
  double longest_m = 0;
  for (const ResolvedRail& rail : rails) {
    if (same_side ? rail.same_side : rail.opposite_sides) {
      longest_m = std::max(longest_m, rail.greatest_spacing_m);
    }
  }
  // A pair on opposite sides is strapped on by its marks where the kit has no rail for that.
  if (longest_m == 0 && !same_side) return;
  c.add(CheckId::kit_rail, {{{}, {longest_m, Kind::length_m}}},
        same_side ? "the same side" : "opposite sides");
}

/// What of the pipe was not measured though the kit would be for that.
void check_kit_gauges(const CheckContext& c) {
  const std::vector<std::string>& gauges = c.job.kit.gauges;
  if (gauges.empty()) return;
  const auto lacks = [&](std::string_view gauge) {
    return std::ranges::find(gauges, gauge) == gauges.end();
  };
  const ResolvedPipe& pipe = c.job.pipe;
  if (pipe.wall_source == DimensionSource::table && lacks("wall gauge")) {
    c.add(CheckId::kit_gauge, {}, "wall gauge").detail = "the wall is";
  }
  if (pipe.diameter_source == DimensionSource::table && lacks("girth tape") && lacks("calliper")) {
    c.add(CheckId::kit_gauge, {}, "girth tape or calliper").detail = "the diameter is";
  }
}

}  // namespace

void check_kit(const CheckContext& c) {
  const ResolvedKit& kit = c.job.kit;
  const auto known = [&](const ResolvedSensors& pair) { return pair.key == c.job.sensors.key; };
  if (!kit.sensors.empty() && std::ranges::none_of(kit.sensors, known)) {
    c.add(CheckId::kit_sensors, {}, c.job.sensors.key);
  }
  check_kit_rails(c);
  if (const auto& rail = c.plan.rail; rail && rail->step_m && !rail->within_tolerance) {
    Finding& step =
        c.add(CheckId::kit_rail_step, Severity::caution,
              {{{std::fabs(rail->remainder_m), Kind::length_m},
                {c.plan.mounting_tolerance_m, Kind::length_m},
                {std::fabs(rail->flow_percent), Kind::percent}}},
              rail->name.empty() ? fmt::format("step {:g} mm", *rail->step_m * 1e3) : rail->name);
    if (std::fabs(rail->loss_dB) >= 0.5) {
      step.detail = fmt::format(", and the direct signal {:.0f} dB {}", std::fabs(rail->loss_dB),
                                rail->loss_dB > 0 ? "weaker" : "stronger");
    }
  }
  const double girth_m = std::numbers::pi * c.job.pipe.outer_surface_m();
  const auto longest = std::ranges::max_element(kit.straps, {}, &ResolvedStrap::greatest_girth_m);
  if (longest != kit.straps.end() && longest->greatest_girth_m < girth_m) {
    c.add(CheckId::kit_strap,
          {{{girth_m, Kind::length_m}, {longest->greatest_girth_m, Kind::length_m}}});
  }
  const double surface_K = c.plan.conditions.wall_temperature_K;
  const auto stands = [&](const ResolvedCouplant& one) {
    return surface_K >= one.lowest_K && surface_K <= one.highest_K;
  };
  if (!kit.couplants.empty() && std::ranges::none_of(kit.couplants, stands)) {
    c.add(CheckId::kit_couplant, {{{surface_K, Kind::temperature_K}}});
  }
  check_kit_gauges(c);
}

}  // namespace slantrule
