/// What the sheet says of the signal: how much arrives, how far a sensor may stand from its place,
/// and what else arrives.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "sheet_words.hpp"

namespace slantrule {
namespace {

/// Other arrivals worth a line: as strong as the planned one less this, and no more than so many.
constexpr double told_below_dB = 20;
constexpr std::size_t most_told = 2;

void add(Values& values, std::string_view name, std::string value) {
  values.rows.push_back({std::string(name), std::move(value)});
}

std::string to_step(const SheetWords& words, double spacing_m) {
  return setting_text(spacing_m, words.plan.mounting_tolerance_m, words.display);
}

/// "145 to 179 mm"
std::string range(const SheetWords& words, const SpacingWindow& window) {
  constexpr double step_m = 1e-4;
  std::string from = setting_text(window.from_m, step_m, words.display);
  from.resize(from.find(' '));
  return from + " to " + setting_text(window.to_m, step_m, words.display);
}

std::string wave_words(const Plan& plan, const Arrival& arrival) {
  switch (arrival.kind) {
    case ArrivalKind::other_mode:
      return "other wave in the " + std::string(layer_role_name(plan.layer_roles[arrival.layer]));
    case ArrivalKind::mixed_mode:
      return "one wave in, the other out of the " +
             std::string(layer_role_name(plan.layer_roles[arrival.layer]));
    case ArrivalKind::outer_bounce:
      return "reflected at the outer face of the " +
             std::string(layer_role_name(plan.layer_roles[arrival.layer]));
    case ArrivalKind::other_traverses:
      return fmt::format("{} traverses", arrival.count);
    default:
      return std::string(arrival_kind_name(arrival.kind));
  }
}

void arrival_rows(const SheetWords& words, const PlanSignal& signal, Values& values) {
  std::vector<const Arrival*> told;
  for (const Arrival& arrival : signal.arrivals->by_time()) {
    if (arrival.kind == ArrivalKind::nominal || !arrival.level_dB) continue;
    if (*arrival.level_dB < -signal.budget.loss_dB - told_below_dB) continue;
    told.push_back(&arrival);
  }
  std::ranges::sort(told, std::greater{}, [](const Arrival* one) { return *one->level_dB; });
  if (told.size() > most_told) told.resize(most_told);
  for (const Arrival* arrival : told) {
    const double later_s = arrival->earliest_s - signal.arrivals->nominal_s;
    values.rows.push_back(
        {"",
         fmt::format("also arrives: {}, {:.2f} us {}, {:+.0f} dB", wave_words(words.plan, *arrival),
                     std::fabs(later_s) * 1e6, later_s < 0 ? "earlier" : "later",
                     *arrival->level_dB + signal.budget.loss_dB),
         true});
  }
}

void spacing_rows(const SheetWords& words, const PlanSignal& signal, Values& values) {
  const Plan& plan = words.plan;
  add(values, "holds within 3 dB, 6 dB",
      range(words, signal.window_3_dB) + ", " + range(words, signal.window_6_dB));
  const OuterBounce& outer = signal.budget.outer_bounces[signal.wall_layer];
  if (words.found(CheckId::signal_outer_bounce)) {
    add(values, "reflected at the outer face",
        "has its spacing at " +
            to_step(words, words.spacing_m() + (plan.traverses - 1) * outer.added_spacing_m));
  }
  if (signal.response) {
    const WaveResponse& response = *signal.response;
    add(values, "with all wall echoes",
        fmt::format("loss {:.0f} dB at the planned spacing, {:.0f} dB at best, {}",
                    -response.at_ray.level_dB, -response.best_level_dB,
                    to_step(words, response.ray_spacing_m + response.best_offset_m +
                                       signal.mark_offset_m)));
  }
  if (plan.rail && plan.rail->step_m) {
    const std::string name =
        plan.rail->name.empty() ? "rail" : "rail: " + words.shown_text(plan.rail->name);
    add(values, name,
        fmt::format("nearest step {}, {} from plan: {:+.2f} % of flow, {:+.1f} dB",
                    words.length(plan.rail->set_m), words.length(plan.rail->remainder_m),
                    plan.rail->flow_percent, -plan.rail->loss_dB));
  }
}

}  // namespace

void add_signal(const SheetWords& words, Section& section) {
  if (!words.plan.signal) return;
  const PlanSignal& signal = *words.plan.signal;
  Values values;
  add(values, "loss of the path",
      fmt::format("{:.0f} dB (u {:.0f} dB); up to {:.0f} dB is comfortable", signal.budget.loss_dB,
                  signal.budget.uncertainty.combined_dB, comfortable_loss_dB));
  if (signal.arrivals) {
    // On a stop no spacing is issued, and none of these either.
    if (words.issued()) spacing_rows(words, signal, values);
    arrival_rows(words, signal, values);
  }
  section.blocks.push_back(std::move(values));
  if (words.issued()) {
    section.blocks.push_back(Paragraph{
        words.found(CheckId::signal_wall_echoes)
            ? "Don't slide the sensors to the greatest signal: it is a later wall echo."
            : "Don't slide the sensors to the greatest signal: times are those of the ray.",
        true});
  }
}

}  // namespace slantrule
