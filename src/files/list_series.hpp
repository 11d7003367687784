#pragma once

/// Whether numbers are nominal sizes, and units of the quantities of a list.

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "slantrule/files/list_columns.hpp"

namespace slantrule {

/// How many of the numbers of a column are sizes of the two nominal series of the pipe tables.
struct SeriesCount {
  std::size_t off_nps = 0, off_dn = 0;    ///< no NPS; no DN
  std::size_t only_nps = 0, only_dn = 0;  ///< of one series and not of the other
  std::vector<std::string> off_nps_examples, off_dn_examples;  ///< up to three different ones
};
SeriesCount count_series(std::span<const double> values);

/// Whether `size` is a nominal size in inches (1.5), or in millimetres, of any pipe table.
bool is_nps(double size);
bool is_dn(double size);

/// Whether `unit` is a unit of anything.
bool parses_with_some_unit(std::string_view unit);

/// A unit that bare numbers of the key could have, for messages: "degC".
std::string example_unit(const ColumnKey& key);

}  // namespace slantrule
