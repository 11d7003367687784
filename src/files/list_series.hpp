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

/// A bare number of a size column with what the rest of its row tells.
struct BareSize {
  double value = 0;
  bool tube =
      false;  ///< copper, stainless steel or plastic, an SDR, or a wall too thin for the NPS
  bool iron = false;  ///< a material of pipes that are not sold by the outside diameter
};

/// What bare numbers of a size column are.
struct SizeDecision {
  std::string unit;   ///< "NPS", "DN" or empty: they are taken for nothing
  std::string words;  ///< what speaks for the unit, or why there is none
};

/// Decides for the whole column: nominal sizes of one series of the pipe tables, provided that some
/// numbers are of that series alone and all could not as well be outside diameters of tubes. One
/// number in ten or fewer, of ten or more, may be off the series: a slip, refused by itself. Inch
/// sizes beside numbers that can only be millimetres decide nothing.
SizeDecision decide_bare_sizes(std::span<const BareSize> sizes);

/// The same for numbers that a heading calls NPS or DN; `by_user`: a map or key does, which only
/// most of the numbers together can contradict.
SizeDecision check_stated_sizes(std::span<const BareSize> sizes, bool nps, bool by_user);

/// Whether `unit` is a unit of anything.
bool parses_with_some_unit(std::string_view unit);
/// Whether both are units and not of the same size.
bool different_units(std::string_view one, std::string_view other);

/// A unit that bare numbers of the key could have, for messages: "degC".
std::string example_unit(const ColumnKey& key);

}  // namespace slantrule
