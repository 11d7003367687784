#pragma once

/// From a row of the list of liquids to the model that answers for it.

#include <memory>
#include <optional>

#include "slantrule/catalogue/catalogue.hpp"
#include "slantrule/liquids/liquid_model.hpp"

namespace slantrule {

/// Whether the row's model needs a number that stands in the name beside it.
enum class LiquidParameter { none, api_gravity, iso_vg };
LiquidParameter parameter_needed(const LiquidRecord& row);

/// The model of `row`. `parameter`: degrees API of a crude oil, ISO VG grade of a mineral oil; not
/// looked at otherwise. Tables of points come from `catalogue`, a user's before the built-in ones.
/// Models without state are made once and shared.
/// Throws std::invalid_argument for a parameter that is missing or outside the model's range (the
/// message says how to mend it), and for a user's table that cannot be interpolated.
std::shared_ptr<const LiquidModel> make_liquid(const LiquidRecord& row,
                                               std::optional<double> parameter,
                                               const Catalogue& catalogue);

}  // namespace slantrule
