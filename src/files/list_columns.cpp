#include "slantrule/files/list_columns.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <charconv>
#include <map>
#include <set>

#include "list_column_parts.hpp"
#include "list_headings.hpp"
#include "list_series.hpp"
#include "slantrule/files/job_file.hpp"
#include "slantrule/planning/job_visit.hpp"
#include "slantrule/units/ascii.hpp"
#include "slantrule/units/number_text.hpp"
#include "slantrule/units/suggest.hpp"

namespace slantrule {

using namespace list_layout;

namespace {

// ---------------------------------------------------------------- keys

template <class EntryType>
std::optional<ColumnKind> kind_of(std::string_view path) {
  if constexpr (std::is_same_v<EntryType, QuantityEntry>) return ColumnKind::quantity;
  if constexpr (std::is_same_v<EntryType, NameEntry>) return ColumnKind::name;
  if constexpr (std::is_same_v<EntryType, TextEntry>) return ColumnKind::text;
  if constexpr (std::is_same_v<EntryType, ChoiceEntry>) return ColumnKind::choice;
  if constexpr (std::is_same_v<EntryType, WordsEntry>) return ColumnKind::words;
  if constexpr (std::is_same_v<EntryType, FlagEntry>) return ColumnKind::flag;
  if constexpr (std::is_same_v<EntryType, CountEntry>) return ColumnKind::count;
  if constexpr (std::is_same_v<EntryType, SensorsEntry>) return ColumnKind::sensors;
  if constexpr (std::is_same_v<EntryType, Entry<MaterialRequest>>) return ColumnKind::material;
  if constexpr (std::is_same_v<EntryType, Entry<LayerRequest>>) return ColumnKind::layer;
  if constexpr (std::is_same_v<EntryType, Entry<WallRequest>>) return ColumnKind::wall;
  if (path == "location.upstream" || path == "location.downstream") return ColumnKind::fittings;
  return std::nullopt;
}

/// Whether entries under this path lie where a row can put them: not in lists, nor in objects that
/// a row cannot write in one cell.
bool fits_a_cell(std::string_view path) {
  if (path.find('[') != std::string_view::npos) return false;
  for (std::string_view closed :
       {"pipe.material.", "pipe.liner.material.", "pipe.wall.", "pipe.coating.material.",
        "fluid.absorption", "sensors.", "kit", "places", "purpose", "accept", "location.name",
        "location.orientation"}) {
    if (path.starts_with(closed)) return false;
  }
  return true;
}

std::vector<ColumnKey> make_column_keys() {
  std::vector<ColumnKey> out;
  const JobRequest all = request_with_every_key();
  visit_all_keys(all, "", [&](const std::string& path, const KeyInfo& info, const auto& entry) {
    if (!fits_a_cell(path)) return;
    const auto kind = kind_of<std::remove_cvref_t<decltype(entry)>>(path);
    if (kind) out.push_back({path, *kind, info});
    if (path == "pipe.size") {
      out.push_back({"pipe.schedule", ColumnKind::schedule,
                     KeyInfo{.key = "schedule",
                             .help = "schedule or class that goes with the size of the row",
                             .example = R"("40")"}});
    }
  });
  return out;
}

// ---------------------------------------------------------------- maps

std::string no_such_key(std::string_view key) {
  std::vector<std::string_view> known;
  for (const ColumnKey& one : column_keys()) known.push_back(one.path);
  const auto near = nearest_name(key, known);
  return fmt::format("\"{}\" is no key that a column can stand for{}; see `slantrule lookup keys`",
                     shown(key), near ? fmt::format("; did you mean \"{}\"?", *near) : "");
}

bool same_heading(std::string_view a, std::string_view b) {
  return folded_heading(a) == folded_heading(b);
}

/// The columns that a map's heading names.
std::vector<ListColumn*> named_columns(std::string_view heading, ListLayout& layout) {
  std::vector<ListColumn*> exact, loose;
  if (heading.starts_with('#')) {
    std::size_t number = 0;
    const auto [end, fault] =
        std::from_chars(heading.data() + 1, heading.data() + heading.size(), number);
    if (fault == std::errc() && end == heading.data() + heading.size() && number >= 1 &&
        number <= layout.columns.size()) {
      return {&layout.columns[number - 1]};
    }
  }
  for (ListColumn& column : layout.columns) {
    if (column.heading == heading) {
      exact.push_back(&column);
    } else if (same_heading(column.heading, heading)) {
      loose.push_back(&column);
    }
  }
  return exact.empty() ? loose : exact;
}

/// The columns of "OD, Reading": all that are called so. Headings may have commas themselves.
std::optional<std::vector<ListColumn*>> columns_of_list(std::string_view list, ListLayout& layout,
                                                        std::string& message) {
  std::vector<ListColumn*> out;
  while (!trimmed(list).empty()) {
    std::size_t end = list.size();
    std::vector<ListColumn*> found = named_columns(trimmed(list), layout);
    while (found.empty() && end != 0) {
      const std::size_t comma = list.rfind(',', end - 1);
      end = comma == std::string_view::npos ? 0 : comma;
      if (end > 0) found = named_columns(trimmed(list.substr(0, end)), layout);
    }
    if (found.empty()) {
      message = fmt::format("no column is called \"{}\"", shown(trimmed(list)));
      return std::nullopt;
    }
    out.insert(out.end(), found.begin(), found.end());
    list = end >= list.size() ? std::string_view() : list.substr(end + 1);
  }
  if (out.empty()) {
    message = "names no column whose unit it is";
    return std::nullopt;
  }
  return out;
}

}  // namespace

bool list_layout::serve_with_units(ListColumn& column, std::string_view list, ListLayout& layout,
                                   std::string& message) {
  static const ColumnKey unit_key{"unit", ColumnKind::unit_of, {}};
  const auto served = columns_of_list(list, layout, message);
  if (!served) return false;
  for (ListColumn* one : *served) one->unit_column = column.index;
  column.key = &unit_key;
  return true;
}

namespace {

void apply_map(const ColumnMap& map, ListLayout& layout) {
  const auto wrong = [&](std::string message) {
    layout.problems.push_back(
        fmt::format("--map \"{}={}\": {}", shown(map.heading), shown(map.key), message));
  };
  const auto columns = named_columns(map.heading, layout);
  if (columns.empty()) {
    const auto names = layout.headings();
    const std::vector<std::string_view> known(names.begin(), names.end());
    const auto near = nearest_name(map.heading, known);
    return wrong(
        fmt::format("no column is called so{}",
                    near ? fmt::format("; did you mean \"{}\"?", shown(*near))
                         : fmt::format("; the columns are: {}",
                                       shown(fmt::format("{}", fmt::join(names, ", ")), 400))));
  }
  const bool readings = map.key == "pipe.wall";
  if (columns.size() > 1 && !readings) {
    return wrong(
        fmt::format("{} columns are called so; name the one that is meant by its number, "
                    "for instance \"#{}={}\"",
                    columns.size(), columns.front()->index + 1, map.key));
  }
  for (ListColumn* column : columns) {
    column->why = "by --map";
    column->unit.clear();
    column->proposal.clear();
    if (!map.key.starts_with(unit_of_words)) column->key = nullptr;
    if (map.key.empty()) continue;
    if (map.key.starts_with(unit_of_words)) {
      std::string message;
      if (!serve_with_units(*column, map.key.substr(unit_of_words.size()), layout, message)) {
        return wrong(message);
      }
      column->why = "by --map: unit of " + map.key.substr(unit_of_words.size());
      continue;
    }
    const ColumnKey* key = find_column_key(map.key);
    if (!key) return wrong(no_such_key(map.key));
    std::string message;
    if (!unit_fits(*key, map.unit, message)) return wrong(message);
    column->key = key;
    column->unit = map.unit;
    // "Temp (°F)" has said it.
    const std::string_view said = heading_parts(column->heading).unit;
    if (map.unit.empty() && !said.empty() && key->path != "pipe.size" &&
        unit_fits(*key, said, message)) {
      column->unit = said;
      column->why += ", unit from the heading";
    }
  }
}

// ---------------------------------------------------------------- headings

/// A dotted key and unit that a heading is by itself.
const ColumnKey* key_of_heading(std::string_view heading, std::string_view& unit) {
  const HeadingParts parts = heading_parts(heading);
  unit = parts.unit;
  return find_column_key(folded_name(parts.name));
}

/// How much a record looks like headings: dotted keys and mapped headings count most.
int heading_score(const ListRecord& record, const LayoutOptions& options) {
  int score = 0;
  for (std::string_view cell : record.cells) {
    std::string_view unit;
    if (key_of_heading(cell, unit)) score += 6;
    const bool mapped = std::ranges::any_of(
        options.maps, [&](const ColumnMap& map) { return same_heading(map.heading, cell); });
    if (mapped) score += 6;
    if (!mapped && heading_meaning(cell)) score += 2;
  }
  // A title may hold one word of a heading; a row of values none.
  return score;
}

constexpr std::size_t most_lines_above = 60;

bool has_digit(std::string_view text) {
  return text.find_first_of("0123456789") != std::string_view::npos;
}

/// Whether a line is headings though none of its words is known: different texts in most columns,
/// at least one without digits above cells that hold numbers.
bool looks_like_headings(const ListRecord& record, std::span<const ListRecord> below) {
  constexpr std::size_t lines_looked_at = 20;
  below = below.first(std::min(below.size(), lines_looked_at));
  std::set<std::string> words;
  std::size_t filled = 0;
  for (std::string_view cell : record.cells) {
    cell = trimmed(cell);
    if (cell.empty()) continue;
    const char c = cell.front();
    if (says_nothing(cell) || is_digit(c) || c == '-' || c == '+' || c == '=') return false;
    ++filled;
    words.insert(folded_heading(cell));
  }
  std::size_t columns = record.cells.size();
  for (const ListRecord& row : below) columns = std::max(columns, row.cells.size());
  if (filled < 2 || words.size() < filled || 3 * filled < 2 * columns) return false;
  for (std::size_t i = 0; i < record.cells.size(); ++i) {
    if (trimmed(record.cells[i]).empty() || has_digit(heading_parts(record.cells[i]).name))
      continue;
    std::size_t stated = 0, numbers = 0;
    for (const ListRecord& row : below) {
      if (i >= row.cells.size() || says_nothing(row.cells[i])) continue;
      ++stated;
      numbers += has_digit(row.cells[i]);
    }
    if (stated > 0 && 2 * numbers > stated) return true;
  }
  return false;
}

std::optional<std::size_t> find_headings(std::span<const ListRecord> window,
                                         const LayoutOptions& options) {
  if (options.heading_line) {
    for (std::size_t i = 0; i < window.size(); ++i) {
      if (window[i].line == *options.heading_line) return i;
    }
    return std::nullopt;
  }
  std::optional<std::size_t> best;
  int best_score = 0;
  for (std::size_t i = 0; i < std::min(window.size(), most_lines_above); ++i) {
    const int score = heading_score(window[i], options);
    if (score > best_score) {
      best = i;
      best_score = score;
    }
  }
  // One heading of a vocabulary may be a title's word; a dotted key or a mapped heading is none.
  if (best_score >= 4) return best;
  for (std::size_t i = 0; i < std::min(window.size(), most_lines_above); ++i) {
    if (looks_like_headings(window[i], window.subspan(i + 1))) return i;
  }
  return std::nullopt;
}

std::string joined_cells(std::span<const std::string_view> cells) {
  std::string out;
  for (std::string_view cell : cells) {
    if (trimmed(cell).empty()) continue;
    if (!out.empty()) out += " | ";
    out += trimmed(cell);
  }
  return shown(out, 100);
}

/// What heads a line of totals, folded (common practice, no source).
constexpr std::string_view total_words[] = {"total",
                                            "totals",
                                            "grand total",
                                            "subtotal",
                                            "sub total",
                                            "sum",
                                            "summe",
                                            "gesamt",
                                            "gesamtsumme",
                                            "insgesamt",
                                            "zwischensumme",
                                            "suma",
                                            "razem",
                                            "ogolem",
                                            "totale",
                                            "totaal",
                                            "totalt",
                                            "ukupno",
                                            "sveukupno",
                                            "celkem",
                                            "summa",
                                            "somme",
                                            "soma",
                                            "count",
                                            "\u0438\u0442\u043E\u0433\u043E",
                                            "\u0432\u0441\u0435\u0433\u043E"};

/// A word for totals and nothing but a number behind it: "TOTAL", "Total: 31", "Total (3)".
bool is_total(std::string_view first) {
  std::string words = folded_heading(first);
  const std::size_t last = words.find_last_not_of("0123456789.,()= ");
  words.resize(last == std::string::npos ? 0 : last + 1);
  return std::ranges::find(total_words, words) != std::end(total_words);
}

/// Whether all filled cells but `first` are bare numbers; told by one letter for most rows.
bool only_numbers_behind(std::span<const std::string_view> cells, std::string_view first) {
  const auto may_be_number = [&](std::string_view cell) {
    cell = trimmed(cell);
    return cell.empty() || cell.data() == first.data() || is_digit(cell.front()) ||
           std::string_view("+-.,").find(cell.front()) != std::string_view::npos;
  };
  const auto is_number = [&](std::string_view cell) {
    cell = trimmed(cell);
    return cell.empty() || cell.data() == first.data() ||
           read_bare_number(cell, NumberStyle::open).kind != BareNumber::Kind::none;
  };
  return std::ranges::all_of(cells, may_be_number) && std::ranges::all_of(cells, is_number);
}

/// The rows that columns are decided by: a count below the sizes is no size.
std::vector<ListRecord> without_totals(std::span<const ListRecord> rows) {
  std::vector<ListRecord> out;
  for (const ListRecord& record : rows) {
    const auto first = std::ranges::find_if(
        record.cells, [](std::string_view cell) { return !trimmed(cell).empty(); });
    if (first == record.cells.end()) continue;
    const std::string_view words = trimmed(*first);
    if (!only_numbers_behind(record.cells, words) || !is_total(words)) out.push_back(record);
  }
  return out;
}

/// One key, one column; readings of a wall aside, and a fitting and its distance.
void report_twice(ListLayout& layout) {
  std::map<std::string, std::string> taken;
  for (const ListColumn& column : layout.columns) {
    if (!column.key || column.key->kind == ColumnKind::unit_of ||
        column.key->kind == ColumnKind::wall || column.key->kind == ColumnKind::fittings) {
      continue;
    }
    const auto [other, is_new] = taken.try_emplace(column.key->path, column.heading);
    if (is_new) continue;
    layout.problems.push_back(fmt::format(
        "columns \"{}\" and \"{}\" both stand for {}; take one out with --map '{}='",
        shown(other->second), shown(column.heading), column.key->path, shown(column.heading)));
  }
}

}  // namespace

const std::vector<ColumnKey>& column_keys() {
  static const std::vector<ColumnKey> keys = make_column_keys();
  return keys;
}

const ColumnKey* find_column_key(std::string_view path) {
  const auto& keys = column_keys();
  const auto found = std::ranges::find(keys, path, &ColumnKey::path);
  return found == keys.end() ? nullptr : &*found;
}

std::optional<ColumnMap> read_column_map(std::string_view text, std::string& message) {
  text = trimmed(text);
  const std::size_t equals = text.rfind('=');
  if (equals == std::string_view::npos || trimmed(text.substr(0, equals)).empty()) {
    message = fmt::format(
        "\"{}\" must be written HEADING=KEY, for instance 'OD (mm)=pipe.outside_diameter [mm]'",
        shown(text));
    return std::nullopt;
  }
  // "unit of OD (mm)" names a heading, whose bracket is its own.
  const std::string_view meaning = trimmed(text.substr(equals + 1));
  const HeadingParts parts =
      meaning.starts_with(unit_of_words) ? HeadingParts{meaning, {}} : heading_parts(meaning);
  return ColumnMap{std::string(trimmed(text.substr(0, equals))), std::string(parts.name),
                   std::string(parts.unit)};
}

std::vector<ColumnMap> read_column_map_file(std::string_view text, std::vector<Problem>& problems) {
  std::vector<ColumnMap> out;
  int line_number = 0;
  while (!text.empty()) {
    const std::size_t end = text.find('\n');
    const std::string_view line = trimmed(text.substr(0, end));
    text = end == std::string_view::npos ? std::string_view() : text.substr(end + 1);
    ++line_number;
    if (line.empty() || line == "#" || line.starts_with("# ")) continue;
    std::string message;
    if (auto map = read_column_map(line, message)) {
      out.push_back(std::move(*map));
    } else {
      problems.push_back({{line_number, false}, "", message});
    }
  }
  return out;
}

std::vector<std::string> ListLayout::headings() const {
  std::vector<std::string> out;
  for (const ListColumn& column : columns) out.push_back(column.heading);
  return out;
}

const ListColumn* ListLayout::column_of(std::string_view key) const {
  for (const ListColumn& column : columns) {
    if (column.key && column.key->path == key) return &column;
  }
  return nullptr;
}

ListLayout decide_layout(std::span<const ListRecord> window, const LayoutOptions& options) {
  ListLayout layout;
  const auto at = find_headings(window, options);
  if (!at) {
    layout.problems.push_back(
        options.heading_line
            ? fmt::format("line {} is no line of cells that could be headings",
                          *options.heading_line)
            : "no line of headings was found; head the columns with keys such as pipe.size, "
              "pipe.material, fluid.name, map your own with --map 'HEADING=KEY', or tell their "
              "line "
              "with --heading-line");
    return layout;
  }
  const ListRecord& headings = window[*at];
  layout.heading_line = headings.line;
  for (std::size_t i = 0; i < headings.cells.size(); ++i) {
    ListColumn column;
    column.heading = trimmed(headings.cells[i]);
    column.index = i;
    std::string_view unit;
    const ColumnKey* key = key_of_heading(column.heading, unit);
    std::string message;
    if (key && unit_fits(*key, unit, message)) {
      column.key = key;
      column.unit = unit;
      column.why = "the heading is the key";
    } else if (key) {
      layout.problems.push_back(fmt::format("column \"{}\": {}", shown(column.heading), message));
    } else if (const auto meaning = heading_meaning(column.heading)) {
      column.why = meaning->why;
      if (!meaning->key.empty()) propose(column, *meaning);
    }
    layout.columns.push_back(std::move(column));
  }
  for (const ColumnMap& map : options.maps) apply_map(map, layout);
  for (std::size_t i = 0; i < *at; ++i) {
    const bool units = i + 1 == *at && is_unit_row(window[i], layout);
    if (units) take_units(window[i], layout);
    layout.left_out.push_back({window[i].line, joined_cells(window[i].cells),
                               units ? "units of the columns" : "above the headings"});
  }
  layout.first_row = *at + 1;
  if (layout.first_row < window.size() && is_unit_row(window[layout.first_row], layout)) {
    take_units(window[layout.first_row], layout);
    layout.left_out.push_back({window[layout.first_row].line,
                               joined_cells(window[layout.first_row].cells),
                               "units of the columns"});
    ++layout.first_row;
  }
  const std::vector<ListRecord> rows = without_totals(window.subspan(layout.first_row));
  std::set<std::size_t> by_user;
  for (const ListColumn& column : layout.columns) {
    if (column.key) by_user.insert(column.index);
  }
  decide_numbers(layout, rows, options.semicolons);
  review_proposals(layout, rows);
  if (options.take_proposals) take_proposals(layout);
  report_twice(layout);
  for (ListColumn& column : layout.columns) {
    std::string message;
    if (column.key && !unit_fits(*column.key, column.unit, message)) {
      layout.problems.push_back(fmt::format("column \"{}\": {}", shown(column.heading), message));
    }
  }
  const SizeNeighbours beside(layout, rows);
  for (ListColumn& column : layout.columns) {
    decide_units(column, rows, beside, by_user.contains(column.index));
  }
  return layout;
}

std::optional<std::string> no_row(std::span<const std::string_view> cells,
                                  const ListLayout& layout) {
  std::size_t filled = 0;
  std::string_view first;
  for (std::string_view cell : cells) {
    if (trimmed(cell).empty()) continue;
    if (filled++ == 0) first = trimmed(cell);
  }
  if (filled == 0) return "blank";
  const char c = static_cast<char>(first.front() | 0x20);
  const bool few = filled == 1 && layout.columns.size() > 2;
  // Most rows are told by one letter; totals in Cyrillic begin beyond ASCII.
  const bool ascii = static_cast<unsigned char>(first.front()) < 0x80;
  if (!few && ascii && first.front() != '#' && first.front() != '*' &&
      std::string_view("tsgnrlpucioz").find(c) == std::string_view::npos) {
    return std::nullopt;
  }
  if (only_numbers_behind(cells, first) && is_total(first)) return "a total";
  const auto stated = [&](std::string_view key) {
    const ListColumn* column = layout.column_of(key);
    return column && column->index < cells.size() && !says_nothing(cells[column->index]) &&
           trimmed(cells[column->index]).data() != first.data();
  };
  if (stated("pipe.size") || stated("pipe.outside_diameter") || stated("pipe.girth") ||
      stated("pipe.material") || stated("fluid.name")) {
    return std::nullopt;
  }
  const std::string words = folded_heading(first);
  for (std::string_view total : total_words) {
    if (!words.starts_with(total)) continue;
    if (words.size() == total.size() || words[total.size()] == ' ') return "a total";
  }
  for (std::string_view note : {"note", "notes", "remark", "remarks", "legend", "source",
                                "prepared by", "printed", "page", "rev", "revision", "nb"}) {
    if (few && (words == note || words.starts_with(fmt::format("{} ", note)))) return "a note";
  }
  if (few && (first.starts_with("# ") || first.starts_with("* ") || first.starts_with("** "))) {
    return "a note";
  }
  // A sentence alone in its line.
  if (few && std::ranges::count(first, ' ') >= 3) return "a note";
  return std::nullopt;
}

}  // namespace slantrule
