#include "separator_guess.hpp"

#include <algorithm>
#include <map>
#include <vector>

#include "record_split.hpp"
#include "slantrule/units/ascii.hpp"

namespace slantrule {
namespace {

constexpr std::string_view candidates = ",;\t|";
constexpr char columns = ' ';

/// Lines that hold something; the last is left out where it may go on behind the window.
std::vector<std::string_view> lines_of(std::string_view window, bool whole) {
  std::vector<std::string_view> lines;
  while (!window.empty()) {
    const std::size_t end = window.find_first_of("\r\n");
    if (end == std::string_view::npos && !whole && !lines.empty()) break;
    const std::string_view line = window.substr(0, end);
    if (line.find_first_not_of(" \t,;|\"") != std::string_view::npos) lines.push_back(line);
    window.remove_prefix(end == std::string_view::npos ? window.size() : end + 1);
  }
  return lines;
}

/// Cells of each line or record, as a separator makes them.
struct Counts {
  std::vector<std::size_t> cells;
  std::size_t mended = 0;  ///< records whose quotes don't work out

  void add(const std::vector<RawCell>& record, const RecordShape& shape) {
    const auto holds_text = [](const RawCell& cell) { return cell.bytes > 0; };
    if (std::none_of(record.begin(), record.end(), holds_text)) return;
    cells.push_back(record.size());
    if (shape.quotes_mended) ++mended;
  }
};

/// Line by line, so that stray quotes do no harm.
Counts count_lines(char separator, const std::vector<std::string_view>& lines) {
  const RecordSplitter splitter(separator, 0);
  std::vector<RawCell> cells;
  Counts counts;
  for (const std::string_view line : lines) {
    counts.add(cells, splitter.split_line(line, TextEnd::file_end, cells));
  }
  return counts;
}

/// With quoted cells of several lines kept together, so that these do no harm.
Counts count_records(char separator, std::string_view window, bool whole) {
  RecordSplitter splitter(separator, 0);
  std::vector<RawCell> cells;
  Counts counts;
  while (!window.empty()) {
    const TextEnd end = whole || counts.cells.empty() ? TextEnd::file_end : TextEnd::more;
    const RecordShape shape = splitter.split(window, end, cells);
    if (shape.starved) break;
    counts.add(cells, shape);
    window.remove_prefix(shape.bytes);
  }
  return counts;
}

struct Fit {
  char separator = '\0';
  std::size_t usual_cells = 1;
  double score = 0;  ///< 0 to 1; 0: does not fit
};

Fit fit_of(char separator, const Counts& counts) {
  std::map<std::size_t, std::size_t> lines_with;
  for (const std::size_t cells : counts.cells) {
    if (cells >= 2) ++lines_with[cells];
  }
  if (lines_with.empty()) return {separator};
  // Of equally frequent numbers the greater: the list's, rather than that of notes below it.
  const auto [usual_cells, usual_lines] =
      *std::max_element(lines_with.begin(), lines_with.end(),
                        [](const auto& a, const auto& b) { return a.second <= b.second; });
  // Here and there a separator within a single column makes no table.
  const auto splits = [](std::size_t cells) { return cells >= 2; };
  const auto first = std::find_if(counts.cells.begin(), counts.cells.end(), splits);
  const auto last = std::find_if(counts.cells.rbegin(), counts.cells.rend(), splits).base();
  if (2 * std::count_if(first, last, splits) < last - first) return {separator};
  if (last - first == 1 && usual_cells == 2 && counts.cells.size() > 1) return {separator};
  const auto lines = static_cast<double>(counts.cells.size());
  const double share = static_cast<double>(usual_lines) / lines;
  const double mended = static_cast<double>(counts.mended) / lines;
  // A cell may hold a semicolon in every line; many cells alike are rarely chance. Where quotes
  // don't work out the separator may stand within them. Judged.
  const double score = share * (1 - 1 / static_cast<double>(usual_cells)) * (1 - 0.7 * mended);
  return {separator, usual_cells, score};
}

/// Share of the commas that stand between digits, as decimal commas do.
double decimal_share(std::string_view window) {
  std::size_t commas = 0;
  std::size_t decimal = 0;
  for (std::size_t at = window.find(','); at != std::string_view::npos;
       at = window.find(',', at + 1)) {
    ++commas;
    if (at > 0 && at + 1 < window.size() && is_digit(window[at - 1]) && is_digit(window[at + 1])) {
      ++decimal;
    }
  }
  return commas == 0 ? 0 : static_cast<double>(decimal) / static_cast<double>(commas);
}

/// The start of a list, to be tried with several separators.
struct Window {
  std::string_view text;
  bool whole;
  std::vector<std::string_view> lines;

  Fit fit(char separator) const {
    const Fit by_lines = fit_of(separator, count_lines(separator, lines));
    const Fit by_records = fit_of(separator, count_records(separator, text, whole));
    return by_records.score >= by_lines.score ? by_records : by_lines;
  }

  Fit best_fit() const {
    Fit best;
    for (const char separator : candidates) {
      Fit candidate = fit(separator);
      // Commas come first: where another separator fits too, they may be decimal.
      if (separator == ',') candidate.score *= 1 - decimal_share(text) / 2;
      if (candidate.score > best.score) best = candidate;
    }
    if (best.score > 0) return best;
    const Fit in_columns = fit(columns);
    return in_columns.score > 0 ? in_columns : best;
  }
};

}  // namespace

SeparatorGuess guess_separator(std::string_view text, bool whole, std::optional<char> given) {
  const Window window{text, whole, lines_of(text, whole)};
  const Fit fit = given ? window.fit(*given) : window.best_fit();
  return {fit.separator, fit.usual_cells};
}

std::optional<SeparatorLine> read_separator_line(std::string_view text) {
  const bool quoted = text.starts_with('"');
  std::size_t at = quoted ? 1 : 0;
  for (const char c : {'s', 'e', 'p'}) {
    if (at >= text.size() || (text[at++] | 0x20) != c) return std::nullopt;
  }
  if (at + 1 >= text.size() || text[at] != '=') return std::nullopt;
  const char separator = text[at + 1];
  at += 2;
  if (std::string_view(",;|\t:^~!#&*").find(separator) == std::string_view::npos) {
    return std::nullopt;
  }
  if (quoted && (at >= text.size() || text[at++] != '"')) return std::nullopt;
  if (at < text.size() && text[at] != '\r' && text[at] != '\n') return std::nullopt;
  if (at < text.size() && text[at++] == '\r' && at < text.size() && text[at] == '\n') ++at;
  return SeparatorLine{separator, at};
}

}  // namespace slantrule
