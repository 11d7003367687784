#pragma once

/// One record of a list from bytes: where its cells lie, and whether its quotes work out.

#include <array>
#include <cstddef>
#include <cstdint>
#include <string_view>
#include <vector>

namespace slantrule {

/// A cell as it lies in its record, without outer blanks and quotes.
struct RawCell {
  std::uint32_t begin = 0;
  std::uint32_t bytes = 0;
  bool quotes_doubled = false;  ///< `""` within it stands for `"`
};

/// What stands behind the bytes at hand.
enum class TextEnd { file_end, more, cut };

struct RecordShape {
  std::size_t bytes = 0;       ///< up to the start of the next line
  std::size_t lines = 1;       ///< physical ones
  bool quotes_mended = false;  ///< quotes that do not work out were taken as characters
  bool unended = false;        ///< no line end was found before the bytes ended
  bool starved = false;        ///< to be asked again with more bytes
};

/// Stray quotes are given up for this many lines or bytes behind the end of the record's first
/// line.
inline constexpr std::size_t most_lines_of_record = 100;
inline constexpr std::size_t most_bytes_of_further_lines = std::size_t{64} << 10;

/// Separator as in `DelimitedReader`. `usual_cells` is how many cells most lines have; 0: unknown.
class RecordSplitter {
 public:
  RecordSplitter(char separator, std::size_t usual_cells);

  /// The record at the start of `text` (less than 4 GiB), which is ASCII in its lower half. Where
  /// the quotes make sense in several ways, the number of cells decides.
  RecordShape split(std::string_view text, TextEnd end, std::vector<RawCell>& cells);

  /// The line at the start of `text` alone.
  RecordShape split_line(std::string_view text, TextEnd end, std::vector<RawCell>& cells) const;

 private:
  /// How a cell is read that starts with a quote.
  enum class Quotes {
    spreadsheet,    ///< over line ends too
    of_line,        ///< a cell that does not work out ends at the next separator
    pairs_of_line,  ///< ... at the next quote before a separator, the quotes within it being plain
  };
  struct Reading;
  struct Closing {
    const char* at = nullptr;  ///< the quote; none where it is missing or too far
    const char* first_line_end = nullptr;
    std::size_t lines = 1;
    bool doubled = false;
    bool starved = false;
  };

  bool is_blank(char c) const { return c == ' ' || (c == '\t' && separator_ != '\t'); }
  bool ends_cell(char c) const { return ends_cell_[static_cast<unsigned char>(c)]; }
  const char* skip_blanks(const char* at, const char* stop) const;
  const char* find_cell_end(const char* at, const char* stop) const;

  Reading read(std::string_view text, TextEnd end, Quotes quotes,
               std::vector<RawCell>& cells) const;
  const char* read_quoted_cell(Reading& reading, const char* open, Quotes quotes) const;
  Closing find_closing(const Reading& reading, const char* open, Quotes quotes) const;
  bool accept_quoted_cell(Reading& reading, const char* open, Quotes quotes) const;
  const char* find_pair_on_line(const Reading& reading, const char* open) const;
  bool has_separators_at_both_ends(const char* begin, const char* end) const;

  Reading read_columns(std::string_view text, TextEnd end, std::vector<RawCell>& cells) const;
  const char* read_column(Reading& reading, const char* begin) const;

  RecordShape settle(const Reading& first, std::string_view text, TextEnd end,
                     std::vector<RawCell>& cells);
  std::vector<bool> lines_with_usual_cells(const Reading& reading);
  bool lines_are_records(const Reading& reading, const std::vector<bool>& usual) const;

  char separator_;
  std::size_t usual_cells_;
  std::array<bool, 256> ends_cell_{};
  std::vector<RawCell> scratch_;
};

}  // namespace slantrule
