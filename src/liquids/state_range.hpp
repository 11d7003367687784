#pragma once

/// What the liquid models share: what they ask of a state before they answer, and small helpers.

#include <string_view>

#include "slantrule/liquids/liquid_model.hpp"

namespace slantrule {

/// How far outside its range a model still answers, with a larger uncertainty.
struct RangeMargin {
  double temperature_K = 5;
  double mass_fraction = 0.02;
};

/// Beyond its range, but within the margin, a model's uncertainties grow by this factor (judged).
inline constexpr double outside_range_factor = 3;

/// Throws std::invalid_argument for a temperature or pressure that is not finite and above 0 and
/// for a mass fraction outside 0 to 1; `liquid` is named in the message.
void require_state(std::string_view liquid, const LiquidState& state);

/// Factor on the uncertainties: 1 inside `range`, outside_range_factor within the margin around
/// it (any pressure from the range's highest up to twice it). Throws std::domain_error beyond.
double range_factor(std::string_view liquid, const LiquidState& state, const ValidRange& range,
                    const RangeMargin& margin = {});

/// Throws std::invalid_argument unless lowest <= value <= highest; `what` is named in the message.
void require_between(double value, double lowest, double highest, std::string_view what);

/// A value with a standard uncertainty relative to it.
inline Estimate relative(double value, double relative_u) {
  return {value, relative_u * value};
}

}  // namespace slantrule
