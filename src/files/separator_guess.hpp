#pragma once

/// By what the cells of a list are separated, judged by its start.

#include <cstddef>
#include <optional>
#include <string_view>

namespace slantrule {

struct SeparatorGuess {
  char separator = '\0';        ///< as in `DelimitedReader`
  std::size_t usual_cells = 1;  ///< that most lines have
};

/// The separator that gives the most lines the same number of cells; titles and notes round the
/// table count little. `text` is the start, in UTF-8 or a code page; `whole` says that nothing
/// follows. With `given` only the number of cells is judged.
SeparatorGuess guess_separator(std::string_view text, bool whole, std::optional<char> given);

/// A spreadsheet's own first line "sep=;".
struct SeparatorLine {
  char separator;
  std::size_t bytes;  ///< with its line end
};
std::optional<SeparatorLine> read_separator_line(std::string_view text);

}  // namespace slantrule
