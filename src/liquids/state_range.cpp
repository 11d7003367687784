#include "state_range.hpp"

#include <cmath>
#include <stdexcept>

#include <fmt/format.h>

namespace slantrule {

void require_state(std::string_view liquid, const LiquidState& state) {
  const auto require = [&](bool holds, std::string_view what, double value) {
    if (!holds) throw std::invalid_argument(fmt::format("{}: {} is {}", liquid, what, value));
  };
  require(state.temperature_K > 0 && std::isfinite(state.temperature_K), "temperature in K",
          state.temperature_K);
  require(state.pressure_Pa > 0 && std::isfinite(state.pressure_Pa), "absolute pressure in Pa",
          state.pressure_Pa);
  require(state.mass_fraction >= 0 && state.mass_fraction <= 1, "mass fraction",
          state.mass_fraction);
}

double range_factor(std::string_view liquid, const LiquidState& state, const ValidRange& range,
                    const RangeMargin& margin) {
  // A value converted from degC or per cent may be a rounding away from the limit it stands at.
  constexpr double rounding = 1e-9;
  const double below_K = range.lowest_temperature_K - state.temperature_K;
  const double above_K = state.temperature_K - range.highest_temperature_K;
  const double weaker = range.lowest_mass_fraction - state.mass_fraction;
  const double stronger = state.mass_fraction - range.highest_mass_fraction;
  const double over = state.pressure_Pa / range.highest_pressure_Pa;
  const double off_K = std::fmax(below_K, above_K);
  const double off_fraction = std::fmax(weaker, stronger);
  if (off_K > margin.temperature_K || off_fraction > margin.mass_fraction + rounding || over > 2) {
    throw std::domain_error(fmt::format(
        "{}: {:.2f} K, {:.4g} MPa, {:.4g} % by mass is outside what is known of it, {:.2f} to "
        "{:.2f} K, up "
        "to {:.4g} MPa, {:.4g} to {:.4g} %",
        liquid, state.temperature_K, state.pressure_Pa / 1e6, state.mass_fraction * 100,
        range.lowest_temperature_K, range.highest_temperature_K, range.highest_pressure_Pa / 1e6,
        range.lowest_mass_fraction * 100, range.highest_mass_fraction * 100));
  }
  const bool inside = off_K <= rounding && off_fraction <= rounding && over <= 1 + rounding;
  return inside ? 1 : outside_range_factor;
}

void require_between(double value, double lowest, double highest, std::string_view what) {
  if (!(value >= lowest && value <= highest)) {
    throw std::invalid_argument(
        fmt::format("{} is {}, not {} to {}", what, value, lowest, highest));
  }
}

}  // namespace slantrule
