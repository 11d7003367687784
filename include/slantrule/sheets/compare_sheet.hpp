#pragma once

/// The ways to measure one pipe, side by side.

#include <string>

#include "slantrule/planning/compare.hpp"
#include "slantrule/sheets/display.hpp"

namespace slantrule {

/// A table, best first, each loser with its reason; then what is not possible. At most 80 columns,
/// lines ended by '\n'. `comparison` holds at least one option.
std::string compare_text(const Comparison& comparison, const Display& display);

/// { slantrule, format, tag, title, options: [ { rank, traverses, wall_mode, sensors, place?,
/// feasible, why, path, signal, ... } ] } on one line, without the line end.
std::string compare_json(const Comparison& comparison, const std::string& version);

}  // namespace slantrule
