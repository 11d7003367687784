#pragma once

/// What the columns of a list are taken for, before anything is planned.

#include <span>
#include <string>
#include <vector>

#include "slantrule/files/list_columns.hpp"
#include "slantrule/sheets/display.hpp"

namespace slantrule {

/// Each column with the key it stands for, why, and how some of its cells are read; then what is
/// not used and what it could be. At most 80 columns. `list` and `how_written` tell the file.
std::string columns_text(const ListLayout& layout,
                         const std::vector<std::vector<CellSample>>& samples,
                         const std::string& list, const std::string& how_written,
                         const Display& display);

/// The same choice as a map file, proposals included, columns that are not used as comments.
std::string columns_map(const ListLayout& layout);

}  // namespace slantrule
