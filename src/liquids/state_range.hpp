#pragma once

/// What every liquid model asks of a state before it answers.

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

}  // namespace slantrule
