/// Checks of the signal: whether enough arrives, and whether something else arrives beside it.

#include <algorithm>
#include <cmath>
#include <string>

#include "check_context.hpp"

namespace slantrule {
namespace {

using Kind = ValueKind;

/// A liquid whose absorption is not known may absorb this much more than water, which loses 0.22
/// dB/m at 1 MHz (from memory); below this loss in all it doesn't matter (both judged).
constexpr double stand_in_absorption_dB_m = 2;
constexpr double minor_loss_dB = 3;
/// Two reflections nearer than this are alike (judged).
constexpr double worth_telling_dB = 0.5;
/// Another arrival matters within so much of the planned one (judged).
constexpr double beside_dB = 10;

std::string material_of(const CheckContext& c, std::size_t layer) {
  switch (c.plan.layer_roles[layer]) {
    case LayerRole::coating:
      return c.job.pipe.coating->material.name;
    case LayerRole::wall:
      return c.job.pipe.material.name;
    case LayerRole::liner:
      return c.job.pipe.liner->material.name;
  }
  return {};
}

/// What takes the sound, in the trade's words.
std::string part_words(const CheckContext& c, const BudgetPart& part) {
  std::string words(budget_item_name(part.item));
  if (part.item == BudgetItem::layer_absorption) {
    words = "absorption in " + material_of(c, part.layer);
  } else if (part.item == BudgetItem::layer_interface) {
    words = "the passage into " + material_of(c, part.layer);
  } else if (part.item == BudgetItem::liquid_interface) {
    words = "the passage into the liquid";
  } else if (part.item == BudgetItem::wedge_interface) {
    words = "the passage from wedge to pipe";
  }
  return words;
}

void check_level(const CheckContext& c, const PlanSignal& signal) {
  const SignalBudget& budget = signal.budget;
  if (!signal.absorption_known) {
    const double way_m = c.plan.path->ray.fluid_time_s * c.plan.kernel.liquid_sound_speed_m_s;
    const double megahertz = c.job.sensors.frequency_Hz / 1e6;
    const double stand_in_dB = stand_in_absorption_dB_m * way_m * megahertz * megahertz;
    c.add(CheckId::signal_absorption_unknown,
          stand_in_dB > minor_loss_dB ? Severity::caution : Severity::note,
          {{{way_m, Kind::length_m}}}, c.job.liquid.name);
  }
  if (budget.loss_dB <= comfortable_loss_dB) return;
  const auto parts = std::span(budget.parts).first(budget.part_count);
  const BudgetPart& greatest = *std::ranges::max_element(parts, {}, &BudgetPart::loss_dB);
  Finding& weak = c.add(CheckId::signal_weak,
                        {{{budget.loss_dB, Kind::decibel},
                          {comfortable_loss_dB, Kind::decibel},
                          {budget.uncertainty.combined_dB, Kind::decibel},
                          {greatest.loss_dB, Kind::decibel}}},
                        part_words(c, greatest));
  if (budget.loss_dB > greatest_loss_dB) weak.detail = "; such a path hardly works";
}

void check_window(const CheckContext& c, const PlanSignal& signal) {
  const double planned_m = c.plan.path->ray.mark_spacing_m;
  const double half_m = signal.window_3_dB.width_m() / 2;
  if (half_m < window_per_tolerance * c.plan.mounting_tolerance_m) {
    c.add(CheckId::signal_window,
          {{{half_m, Kind::length_m}, {c.plan.mounting_tolerance_m, Kind::length_m}}});
  }
  if (signal.ray_below_best_dB > off_best_dB) {
    Finding& off = c.add(CheckId::signal_off_best,
                         {{{std::fabs(signal.best_mark_spacing_m - planned_m), Kind::length_m},
                           {half_m, Kind::length_m},
                           {signal.ray_below_best_dB, Kind::decibel}}});
    off.detail = signal.best_mark_spacing_m < planned_m ? "short of it" : "beyond it";
  }
}

void check_regime(const CheckContext& c, const PlanSignal& signal) {
  if (signal.wall && signal.wall->regime == WallRegime::overlapping) {
    c.add(CheckId::signal_wall_echoes,
          {{{signal.wall->delay_s, Kind::time_s}, {signal.arrivals->burst_s, Kind::time_s}}});
  }
  const OuterBounce& outer = signal.budget.outer_bounces[signal.wall_layer];
  const int bounces = c.plan.traverses - 1;
  if (bounces > 0 && outer.loss_dB < signal.budget.bounce_loss_dB - worth_telling_dB) {
    c.add(CheckId::signal_outer_bounce,
          {{{outer.loss_dB, Kind::decibel},
            {signal.budget.bounce_loss_dB, Kind::decibel},
            {bounces * outer.added_spacing_m, Kind::length_m},
            {bounces * outer.added_time_s, Kind::time_s}}},
          material_of(c, signal.wall_layer));
  }
}

/// Other arrivals that come near the planned one in time and strength.
void check_arrivals(const CheckContext& c, const PlanSignal& signal) {
  const Arrivals& all = *signal.arrivals;
  const auto beside = [&](const Arrival& one) {
    return one.level_dB && *one.level_dB > -signal.budget.loss_dB - beside_dB;
  };
  const Arrival* liner = nullptr;
  for (const Arrival& one : all.by_time()) {
    if (!beside(one)) continue;
    const double apart_s = std::fabs(one.earliest_s - all.nominal_s);
    const bool of_liner =
        (one.kind == ArrivalKind::other_mode || one.kind == ArrivalKind::mixed_mode) &&
        c.plan.layer_roles[one.layer] == LayerRole::liner;
    if (of_liner && (!liner || *one.level_dB > *liner->level_dB)) liner = &one;
    if (one.kind == ArrivalKind::other_traverses && one.disturbs) {
      c.add(CheckId::signal_other_traverses,
            {{{apart_s, Kind::time_s},
              {all.burst_s + all.reverberation_s, Kind::time_s},
              {*one.level_dB + signal.budget.loss_dB, Kind::decibel}}},
            std::to_string(one.count) + " traverses");
    }
  }
  if (!liner) return;
  const double over_dB = *liner->level_dB + signal.budget.loss_dB;
  Finding& modes =
      c.add(CheckId::signal_liner_modes,
            {{{std::fabs(over_dB), Kind::decibel},
              {std::fabs(liner->earliest_s - all.nominal_s), Kind::time_s},
              {std::fabs(liner->spacing_m - c.plan.path->ray.exit_spacing_m), Kind::length_m}}},
            liner->kind == ArrivalKind::mixed_mode ? "the mixed pair of waves" : "the other wave");
  modes.detail = over_dB > 0 ? "stronger" : "weaker";
}

}  // namespace

void check_signal(const CheckContext& c) {
  if (!c.plan.path) return;
  if (!c.plan.signal) {
    if (!c.plan.signal_missing.empty()) {
      c.add(CheckId::signal_unknown, {}, c.plan.signal_missing);
    }
    return;
  }
  check_level(c, *c.plan.signal);
  if (!c.plan.signal->arrivals) return;
  check_window(c, *c.plan.signal);
  check_regime(c, *c.plan.signal);
  check_arrivals(c, *c.plan.signal);
}

}  // namespace slantrule
