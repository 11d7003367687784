#pragma once

/// What the columns of a list are taken for, before anything is planned.

#include <span>
#include <string>
#include <vector>

#include "slantrule/files/list_columns.hpp"
#include "slantrule/sheets/display.hpp"

namespace slantrule {

/// Each column with the key it stands for, why, and how some of its cells are read; then what is
/// not used and what it could be. At most 80 columns. `list` and `how_written` tell the file;
/// `advice` is a line on some of the columns, by index.
std::string columns_text(const ListLayout& layout,
                         const std::vector<std::vector<CellSample>>& samples,
                         const std::string& list, const std::string& how_written,
                         const Display& display, std::span<const std::string> advice = {});

/// What a map calls a column: its heading on one line, or "#3" where that would name no column, or
/// several, or could not be read back.
std::string map_name(const ListColumn& column, const ListLayout& layout);

/// "--map 'HEADING=MEANING'" as a shell takes it.
std::string map_option(const ListColumn& column, const ListLayout& layout,
                       const std::string& meaning);

/// The same choice as a map file, proposals included, columns that are not used as comments.
std::string columns_map(const ListLayout& layout);

}  // namespace slantrule
