#include "liquid_answer.hpp"

#include <algorithm>
#include <stdexcept>

namespace slantrule {

LiquidAnswer answer_near(const LiquidModel& model, const LiquidState& state) {
  try {
    return {model.at(state), state, false};
  } catch (const std::domain_error&) {
    const auto range = model.valid_range();
    if (!range) throw;
    LiquidState near = state;
    near.temperature_K =
        std::clamp(state.temperature_K, range->lowest_temperature_K, range->highest_temperature_K);
    near.pressure_Pa = std::min(state.pressure_Pa, range->highest_pressure_Pa);
    near.mass_fraction =
        std::clamp(state.mass_fraction, range->lowest_mass_fraction, range->highest_mass_fraction);
    // A solution's range ends at its freezing line, which corners of the rectangular range lie
    // beyond; from there into the middle the model answers at last.
    if (const auto freezing_K = model.freezing_temperature_K(near)) {
      near.temperature_K = std::max(near.temperature_K, *freezing_K);
    }
    const double middle_K = (range->lowest_temperature_K + range->highest_temperature_K) / 2;
    for (int tries = 0; tries < 12; ++tries) {
      try {
        return {model.at(near), near, true};
      } catch (const std::domain_error&) {
        near.temperature_K += (middle_K - near.temperature_K) / 4;
      }
    }
    near.temperature_K = middle_K;
    return {model.at(near), near, true};
  }
}

}  // namespace slantrule
