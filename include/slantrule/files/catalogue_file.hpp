#pragma once

/// A user's catalogue file: { "sensors": [ ... ], "solids": [ ... ] }.

#include <string_view>
#include <vector>

#include "slantrule/catalogue/catalogue.hpp"
#include "slantrule/planning/resolved_job.hpp"

namespace slantrule {

/// Adds the rows of `text` to `catalogue`. All mistakes are returned; rows with one are left out.
/// Sensor pairs and solids; the other kinds of the format are refused as not yet readable.
std::vector<Problem> read_catalogue(std::string_view text, Catalogue& catalogue);

}  // namespace slantrule
