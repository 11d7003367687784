#include "record_split.hpp"

#include <algorithm>

#include "slantrule/units/ascii.hpp"

namespace slantrule {
namespace {

constexpr char column_blanks = ' ';

bool is_line_end(char c) {
  return c == '\n' || c == '\r';
}
bool is_any_blank(char c) {
  return c == ' ' || c == '\t';
}
}  // namespace

/// A record while it is read.
struct RecordSplitter::Reading {
  Reading(std::string_view text, TextEnd text_end, std::vector<RawCell>& to)
      : start(text.data()), stop(start + text.size()), end(text_end), cells(&to) {
    cells->clear();
  }

  const char* start;
  const char* stop;
  TextEnd end;
  std::vector<RawCell>* cells;

  const char* next = nullptr;            ///< start of the next line
  const char* first_line_end = nullptr;  ///< where a quoted cell runs over it
  std::size_t lines = 1;
  bool mended = false;
  bool doubtful = false;    ///< works out as written, yet may be meant otherwise
  bool inch_close = false;  ///< the quote that closes a cell of several lines stands behind a digit
  bool unended = false;
  bool starved = false;

  bool spans_lines() const { return first_line_end != nullptr; }

  void add(const char* begin, const char* cell_end, bool quotes_doubled = false) {
    while (begin != cell_end && is_any_blank(*begin)) ++begin;
    while (begin != cell_end && is_any_blank(cell_end[-1])) --cell_end;
    cells->push_back({static_cast<std::uint32_t>(begin - start),
                      static_cast<std::uint32_t>(cell_end - begin), quotes_doubled});
  }

  /// A cell whose quotes don't work out. A pair round the whole was meant as such: `"4""`.
  void add_mended(const char* begin, const char* cell_end) {
    mended = true;
    while (begin != cell_end && is_any_blank(cell_end[-1])) --cell_end;
    const bool pair = cell_end - begin >= 2 && *begin == '"' && cell_end[-1] == '"';
    add(begin + (pair ? 1 : 0), cell_end - (pair ? 1 : 0), pair);
  }

  /// `at` is a line end or the end of the bytes.
  void end_line(const char* at) {
    next = at;
    if (at == stop) {
      unended = true;
    } else if (*next++ == '\r') {
      if (next != stop && *next == '\n') {
        ++next;
      } else if (next == stop && end == TextEnd::more) {
        starved = true;
      }
    }
    if (unended && end == TextEnd::more) starved = true;
  }

  RecordShape shape() const {
    return {static_cast<std::size_t>(next - start), lines, mended, unended, starved};
  }
};

RecordSplitter::RecordSplitter(char separator, std::size_t usual_cells)
    : separator_(separator), usual_cells_(usual_cells) {
  ends_cell_['\n'] = ends_cell_['\r'] = true;
  if (separator != '\0') ends_cell_[static_cast<unsigned char>(separator)] = true;
}

const char* RecordSplitter::skip_blanks(const char* at, const char* stop) const {
  while (at != stop && is_blank(*at)) ++at;
  return at;
}

const char* RecordSplitter::find_cell_end(const char* at, const char* stop) const {
  while (at != stop && !ends_cell(*at)) ++at;
  return at;
}

/// `",STD,"` is rather two stray quotes, as marks for "the same", than a cell of that content.
bool RecordSplitter::has_separators_at_both_ends(const char* begin, const char* end) const {
  begin = skip_blanks(begin, end);
  while (begin != end && is_blank(end[-1])) --end;
  return begin != end && *begin == separator_ && end[-1] == separator_;
}

/// Finds the quote that closes the cell, over line ends where `quotes` allows it.
RecordSplitter::Closing RecordSplitter::find_closing(const Reading& reading, const char* open,
                                                     Quotes quotes) const {
  const char* const stop = reading.stop;
  Closing closing{nullptr, reading.first_line_end, reading.lines};
  for (const char* at = open + 1;; ++at) {
    while (at != stop && *at != '"' && !is_line_end(*at)) ++at;
    if (at == stop) {
      closing.starved = reading.end == TextEnd::more;
      return closing;
    }
    if (closing.first_line_end != nullptr &&
        at - closing.first_line_end > static_cast<std::ptrdiff_t>(most_bytes_of_further_lines)) {
      return closing;
    }
    if (is_line_end(*at)) {
      if (quotes != Quotes::spreadsheet || ++closing.lines > most_lines_of_record) return closing;
      if (closing.first_line_end == nullptr) closing.first_line_end = at;
      if (*at == '\r' && at + 1 != stop && at[1] == '\n') ++at;
      continue;
    }
    if (at + 1 == stop || at[1] != '"') {
      closing.starved = at + 1 == stop && reading.end == TextEnd::more;
      closing.at = at;
      return closing;
    }
    closing.doubled = true;
    ++at;
  }
}

/// Adds the cell that opens at `open` if its quotes work out, and sets `next` behind it.
bool RecordSplitter::accept_quoted_cell(Reading& reading, const char* open, Quotes quotes) const {
  const Closing closing = find_closing(reading, open, quotes);
  reading.starved |= closing.starved;
  if (closing.at == nullptr || closing.starved) return false;
  const char* const behind = skip_blanks(closing.at + 1, reading.stop);
  if (behind != reading.stop && !ends_cell(*behind)) return false;
  const bool doubtful = has_separators_at_both_ends(open + 1, closing.at);
  if (doubtful && quotes != Quotes::spreadsheet) return false;
  reading.doubtful |= doubtful;
  if (closing.lines > reading.lines) reading.inch_close = is_digit(closing.at[-1]);
  reading.lines = closing.lines;
  reading.first_line_end = closing.first_line_end;
  reading.add(open + 1, closing.at, closing.doubled);
  reading.next = behind;
  return true;
}

/// The quote that closes a cell in which quotes were not doubled: `"4" sch 40, long"`. None where
/// another cell seems to open before.
const char* RecordSplitter::find_pair_on_line(const Reading& reading, const char* open) const {
  const char* const stop = reading.stop;
  for (const char* at = open + 1; at != stop && !is_line_end(*at); ++at) {
    if (*at != '"' && *at != separator_) continue;
    const char* const behind = skip_blanks(at + 1, stop);
    if (*at == '"' && (behind == stop || ends_cell(*behind))) return at;
    if (*at == separator_ && behind != stop && *behind == '"') return nullptr;
  }
  return nullptr;
}

/// Returns where the cell ends.
const char* RecordSplitter::read_quoted_cell(Reading& reading, const char* open,
                                             Quotes quotes) const {
  if (accept_quoted_cell(reading, open, quotes)) return reading.next;
  if (quotes == Quotes::pairs_of_line) {
    if (const char* close = find_pair_on_line(reading, open)) {
      reading.mended = true;
      reading.add(open + 1, close, true);
      return skip_blanks(close + 1, reading.stop);
    }
  }
  const char* const cell_end = find_cell_end(open, reading.stop);
  reading.add_mended(open, cell_end);
  return cell_end;
}

RecordSplitter::Reading RecordSplitter::read(std::string_view text, TextEnd end, Quotes quotes,
                                             std::vector<RawCell>& cells) const {
  if (separator_ == column_blanks) return read_columns(text, end, cells);
  Reading reading(text, end, cells);
  const char* at = reading.start;
  for (;;) {
    const char* const begin = skip_blanks(at, reading.stop);
    const char* cell_end = nullptr;
    if (begin != reading.stop && *begin == '"') {
      cell_end = read_quoted_cell(reading, begin, quotes);
    } else {
      cell_end = find_cell_end(begin, reading.stop);
      reading.add(begin, cell_end);
    }
    if (cell_end == reading.stop || is_line_end(*cell_end)) {
      reading.end_line(cell_end);
      return reading;
    }
    at = cell_end + 1;
  }
}

/// Reads up to the blanks that set off the next column, or the line end.
const char* RecordSplitter::read_column(Reading& reading, const char* begin) const {
  const char* const stop = reading.stop;
  const auto ends = [stop](const char* at) {
    if (at == stop || is_line_end(*at) || *at == '\t') return true;
    return *at == ' ' && (at + 1 == stop || is_any_blank(at[1]) || is_line_end(at[1]));
  };
  if (*begin == '"') {
    // A quote behind a blank rather opens the next column.
    const auto is_of_pair = [&](const char* quote) {
      return ends(quote + 1) || (quote != begin + 1 && is_any_blank(quote[-1]));
    };
    const char* close = begin + 1;
    while (close != stop && !is_line_end(*close) && !(*close == '"' && is_of_pair(close))) ++close;
    if (close != stop && *close == '"' && ends(close + 1)) {
      reading.add(begin + 1, close, true);
      return close + 1;
    }
  }
  const char* at = begin;
  while (!ends(at)) ++at;
  reading.add(begin, at);
  return at;
}

RecordSplitter::Reading RecordSplitter::read_columns(std::string_view text, TextEnd end,
                                                     std::vector<RawCell>& cells) const {
  Reading reading(text, end, cells);
  const char* at = reading.start;
  for (;;) {
    while (at != reading.stop && is_any_blank(*at)) ++at;
    if (at == reading.stop || is_line_end(*at)) break;
    at = read_column(reading, at);
  }
  if (cells.empty()) reading.add(at, at);
  reading.end_line(at);
  return reading;
}

std::vector<bool> RecordSplitter::lines_with_usual_cells(const Reading& reading) {
  std::vector<bool> usual;
  for (const char* at = reading.start; at < reading.next;) {
    const std::string_view rest(at, static_cast<std::size_t>(reading.stop - at));
    at = read(rest, reading.end, Quotes::of_line, scratch_).next;
    usual.push_back(scratch_.size() == usual_cells_);
  }
  return usual;
}

/// Chooses between readings by the number of cells. `first` is that of a spreadsheet.
RecordShape RecordSplitter::settle(const Reading& first, std::string_view text, TextEnd end,
                                   std::vector<RawCell>& cells) {
  std::vector<bool> usual;
  if (first.spans_lines()) usual = lines_with_usual_cells(first);
  if (cells.size() == usual_cells_ && !lines_are_records(first, usual)) return first.shape();
  for (const Quotes quotes : {Quotes::of_line, Quotes::pairs_of_line}) {
    const RecordShape shape = read(text, end, quotes, cells).shape();
    if (cells.size() == usual_cells_) return shape;
  }
  const bool swallowed =
      usual.size() > 2 && std::find(usual.begin() + 1, usual.end() - 1, true) != usual.end() - 1;
  return read(text, end, swallowed ? Quotes::of_line : Quotes::spreadsheet, cells).shape();
}

/// Sizes such as `4"` stand in the same column, so that a record that swallows the lines between
/// two of them has the usual number of cells too; but then so has every line. The lines of a note
/// may have as many separators by chance, in a list of few columns.
bool RecordSplitter::lines_are_records(const Reading& reading,
                                       const std::vector<bool>& usual) const {
  if (usual.size() < 2 || (usual_cells_ < 4 && !reading.inch_close)) return false;
  if (std::find(usual.begin() + 1, usual.end(), false) != usual.end()) return false;
  return usual.front() || usual.size() > 2;
}

RecordShape RecordSplitter::split(std::string_view text, TextEnd end, std::vector<RawCell>& cells) {
  const Reading reading = read(text, end, Quotes::spreadsheet, cells);
  const bool plain = !reading.mended && !reading.doubtful && !reading.spans_lines();
  if (plain || reading.starved) return reading.shape();
  // Beyond the longest record only a line is cut.
  if (reading.spans_lines() && reading.unended && end == TextEnd::cut) {
    return split_line(text, end, cells);
  }
  if (usual_cells_ < 2) return reading.shape();
  return settle(reading, text, end, cells);
}

RecordShape RecordSplitter::split_line(std::string_view text, TextEnd end,
                                       std::vector<RawCell>& cells) const {
  return read(text, end, Quotes::of_line, cells).shape();
}

}  // namespace slantrule
