#pragma once

/// The loading list of a list of pipes, in words and for machines.

#include <string>

#include "slantrule/planning/packing.hpp"
#include "slantrule/sheets/display.hpp"

namespace slantrule {

/// Counts first, then what to load with boxes to tick, then what no item serves and what is to be
/// done before leaving. At most 80 columns, lines ended by '\n', texts of the list as `job_text`
/// shows them; letters tell where the rules come from.
std::string pack_text(const Packing& packing, const Display& display);

/// The same, a line an item: section,item,number,pipes,details,rows,basis,source. Lines ended by
/// '\n'; a cell of the list that a spreadsheet would take for a formula gets an apostrophe in
/// front.
std::string pack_csv(const Packing& packing, const Display& display);

/// One object on one line, without the line end. Numbers in SI or the unit in the key's name,
/// whatever the display. Of the rows behind a count the first 20 are named.
std::string pack_json(const Packing& packing, const std::string& version);

}  // namespace slantrule
