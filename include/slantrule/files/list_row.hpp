#pragma once

/// A row of a list of pipes as it was read, with what is to be said of its cells.

#include <cstddef>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace slantrule {

/// A remark on a cell of a list, or the reason why it is refused.
struct CellMessage {
  std::string column;   ///< the heading as it stands in the list, or a dotted key; empty: the row
  std::string cell;     ///< as written; empty where there is none
  std::string message;  ///< one line: what is wrong and how to mend it, or what it was taken for
};

struct ListRow {
  std::size_t row = 0;   ///< from 1, without titles, headings and notes
  std::size_t line = 0;  ///< of the file, from 1
  /// As written, in UTF-8, in the order of the list's columns. Valid as long as what they were read
  /// from. A row may have fewer or more than there are headings.
  std::span<const std::string_view> cells;
  std::vector<CellMessage> problems;  ///< with any, the row is refused
  std::vector<CellMessage> remarks;   ///< what was taken for missing, mended or read both ways
};

}  // namespace slantrule
