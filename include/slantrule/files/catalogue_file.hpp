#pragma once

/// A user's catalogue file: one JSON object with a list of rows for each kind, overlaid on the
/// built-in catalogue.
///
///     { "sensors": [...], "solids": [...], "liquids": [...], "pipes": [...], "couplants": [...],
///       "fittings": [...] }

#include <string_view>
#include <vector>

#include "slantrule/catalogue/catalogue.hpp"
#include "slantrule/files/catalogue_keys.hpp"
#include "slantrule/planning/resolved_job.hpp"

namespace slantrule {

/// Adds the rows of `text` to `catalogue`, where they go before built-in rows and rows of files
/// read earlier. All mistakes are returned, in the order of the file (rows behind more than 1000
/// are not looked at); a row with one is left out whole. Two rows of one file under the same key or
/// name are a mistake.
///
/// `file` is what to call the file in the source of rows that state none. Such rows are of
/// confidence `memory`, those that state their source `published`, unless they say otherwise.
/// Numbers far beyond anything real are refused as slips of units.
std::vector<Problem> read_catalogue(std::string_view text, Catalogue& catalogue,
                                    std::string_view file = {});

/// A request in which every list holds one row and every optional object is there, so that a walk
/// by `visit_all_keys` shows every key.
CatalogueRequest catalogue_with_every_key();

}  // namespace slantrule
