#pragma once

/// Lines of text at most 80 columns wide.

#include <string>
#include <string_view>
#include <vector>

namespace slantrule {

inline constexpr std::size_t sheet_columns = 80;

/// Code points in `text`, which is what a terminal shows as columns for Latin, Greek and Cyrillic.
std::size_t columns(std::string_view text);

/// Breaks `text` at blanks into lines of at most `width` columns, the first behind `first`, the
/// others behind `next`. A word longer than a line is cut.
std::vector<std::string> wrapped(std::string_view text, std::string_view first,
                                 std::string_view next, std::size_t width = sheet_columns);

/// `text` filled up with blanks to `width` columns; cut with "..." when longer.
std::string padded(std::string_view text, std::size_t width);

/// `left` and `right` at the two ends of a line of `width` columns; the left one is cut to fit.
std::string two_ends(std::string_view left, std::string_view right,
                     std::size_t width = sheet_columns);

}  // namespace slantrule
