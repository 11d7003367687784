#pragma once

#include "slantrule/liquids/liquid_model.hpp"

namespace slantrule {

/// What a model says of a state, or of the nearest one that it has an answer for.
struct LiquidAnswer {
  LiquidProperties properties;
  LiquidState state;          ///< for which they hold
  bool at_range_end = false;  ///< it is not the state asked for
};

/// Properties at `state`, or at the near end of the model's range where it has no answer there: a
/// frozen or far too hot liquid is a stop, not a mistake of the text. Throws std::domain_error for
/// a model without a range that has none.
LiquidAnswer answer_near(const LiquidModel& model, const LiquidState& state);

}  // namespace slantrule
