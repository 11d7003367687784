#include "slantrule/files/list_columns.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <map>
#include <set>

#include "list_headings.hpp"
#include "list_series.hpp"
#include "slantrule/files/job_file.hpp"
#include "slantrule/planning/job_visit.hpp"
#include "slantrule/units/ascii.hpp"
#include "slantrule/units/number_text.hpp"
#include "slantrule/units/suggest.hpp"

namespace slantrule {
namespace {

constexpr std::string_view unit_of_words = "unit of ";

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

/// A unit of length in metres; nullopt: it is none.
std::optional<double> unit_in_metres(std::string_view unit) {
  const auto parsed = parse_quantity(fmt::format("1 {}", unit), Dimensions{Dimension::length});
  const auto* reading = std::get_if<Reading>(&parsed);
  if (!reading) return std::nullopt;
  return reading->si;
}

/// Whether a bare number with this unit is a value of the key; `message` says what is wrong.
bool unit_fits(const ColumnKey& key, std::string_view unit, std::string& message) {
  if (unit.empty()) return true;
  if (key.path == "pipe.size") {
    const std::string folded = folded_name(unit);
    if (folded == "nps" || folded == "dn" || folded == "mm" || folded == "in" || folded == "inch") {
      return true;
    }
    message = fmt::format("\"{}\" is no unit of a size; write NPS, DN, in or mm", shown(unit));
    const std::optional<double> factor = unit_in_metres(unit);
    if (!factor) return false;
    message += fmt::format(
        "; a measured diameter is pipe.outside_diameter [{}], where 0.2 {} is "
        "{:g} mm outside",
        unit, unit, 0.2 * *factor * 1000);
    return false;
  }
  if (key.kind == ColumnKind::schedule) return true;
  const bool takes = key.kind == ColumnKind::quantity || key.kind == ColumnKind::wall ||
                     key.kind == ColumnKind::fittings || key.kind == ColumnKind::layer;
  if (!takes) {
    message = fmt::format("{} takes no unit; leave \"[{}]\" out", key.path, shown(unit));
    return false;
  }
  const Dimensions accepted = key.kind == ColumnKind::fittings
                                  ? Dimensions{Dimension::length, Dimension::pipe_diameters}
                              : key.kind == ColumnKind::layer ? Dimensions{Dimension::length}
                                                              : key.info.dimensions;
  const auto parsed = parse_quantity(fmt::format("1 {}", unit), accepted);
  if (const auto* wrong = std::get_if<QuantityProblem>(&parsed)) {
    message = fmt::format("[{}] is no unit of {}: {}", shown(unit), key.path, wrong->message);
    return false;
  }
  return true;
}

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

/// Lets the cells of a column be the units of the bare numbers of others.
bool serve_with_units(ListColumn& column, std::string_view list, ListLayout& layout,
                      std::string& message) {
  static const ColumnKey unit_key{"unit", ColumnKind::unit_of, {}};
  const auto served = columns_of_list(list, layout, message);
  if (!served) return false;
  for (ListColumn* one : *served) one->unit_column = column.index;
  column.key = &unit_key;
  return true;
}

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

/// "[mm]" and "(mm)" as "mm".
std::string_view without_brackets(std::string_view text) {
  text = trimmed(text);
  const bool bracketed = text.size() > 2 && ((text.front() == '[' && text.back() == ']') ||
                                             (text.front() == '(' && text.back() == ')'));
  return bracketed ? trimmed(text.substr(1, text.size() - 2)) : text;
}

bool is_unit_text(std::string_view text) {
  text = without_brackets(text);
  if (text.empty() || text == "-" || text == "--") return false;
  const std::string folded = folded_name(text);
  if (folded == "nps" || folded == "dn") return true;
  if (text.front() >= '0' && text.front() <= '9') return false;
  return parses_with_some_unit(text);
}

/// The key that a column stands for or is proposed for.
std::string_view likely_key(const ListColumn& column) {
  if (column.key) return column.key->path;
  return heading_parts(column.proposal).name;
}

/// A unit of the key that leaves something open: "bar" (gauge or absolute), "ML/D" (mega or milli).
bool is_half_a_unit(const ColumnKey& key, std::string_view unit) {
  std::string message;
  if (unit.empty() || is_digit(unit.front()) || unit_fits(key, unit, message)) return false;
  return unit_fits(key, fmt::format("{} gauge", unit), message) ||
         unit_fits(key, lower(unit), message);
}

/// A record of units alone, some cells blank: under each key that takes a unit one that fits, and
/// nothing under the others, so that no pipe called "P" is taken for poise.
bool is_unit_row(const ListRecord& record, const ListLayout& layout) {
  bool any = false;
  for (std::size_t i = 0; i < record.cells.size(); ++i) {
    const std::string_view cell = trimmed(record.cells[i]);
    if (says_nothing(cell)) continue;
    if (i >= layout.columns.size()) return false;
    const ColumnKey* key = find_column_key(likely_key(layout.columns[i]));
    if (key && is_half_a_unit(*key, without_brackets(cell))) continue;
    if (!is_unit_text(cell)) return false;
    std::string message;
    if (key && !unit_fits(*key, without_brackets(cell), message)) return false;
    any = any || key;
  }
  return any;
}

void take_units(const ListRecord& record, ListLayout& layout) {
  for (ListColumn& column : layout.columns) {
    if (column.index >= record.cells.size()) continue;
    const std::string_view unit = without_brackets(record.cells[column.index]);
    if (!is_unit_text(unit)) {
      const ColumnKey* key = find_column_key(likely_key(column));
      std::string message;
      if (!key || !column.unit.empty() || !is_half_a_unit(*key, unit)) continue;
      if (!unit_fits(*key, unit, message)) {
        column.veto = fmt::format("line {}: {}; or say it with --map '{}={} [UNIT]'", record.line,
                                  message, column.heading, key->path);
      }
      continue;
    }
    const std::string_view said =
        column.unit.empty() ? heading_parts(column.heading).unit : std::string_view(column.unit);
    if (!said.empty() && different_units(said, unit)) {
      column.unit.clear();
      column.veto = fmt::format(
          "the heading says {} and line {} says {}; say which holds with --map '{}={} [{}]'", said,
          record.line, unit, column.heading, likely_key(column), unit);
    } else if (column.unit.empty()) {
      column.unit = unit;
      column.why += fmt::format("{}unit from line {}", column.why.empty() ? "" : "; ", record.line);
    }
  }
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

// ---------------------------------------------------------------- units

std::vector<std::string_view> window_cells(std::span<const ListRecord> rows, std::size_t index) {
  std::vector<std::string_view> out;
  for (const ListRecord& record : rows) {
    if (index < record.cells.size()) out.push_back(without_text_marks(record.cells[index]));
  }
  return out;
}

std::optional<double> bare_value(std::string_view cell, NumberStyle style) {
  const BareNumber bare = read_bare_number(cell, style);
  if (bare.kind != BareNumber::Kind::number) return std::nullopt;
  return read_number(bare.text).times_ten_to(0);
}

/// The bare numbers of a column, placeholders aside.
std::vector<double> bare_numbers(std::span<const std::string_view> cells, NumberStyle style) {
  std::vector<double> out;
  for (std::string_view cell : cells) {
    const double value = bare_value(cell, style).value_or(0);
    if (value != 0 && value != 7) out.push_back(value);
  }
  return out;
}

/// Whether the bare numbers of a wall column are millimetres, or can be: no wall is below half of
/// one.
bool may_be_in_mm(const ListColumn& wall, std::span<const ListRecord> rows) {
  const std::string_view unit =
      wall.unit.empty() ? heading_parts(wall.proposal).unit : std::string_view(wall.unit);
  if (!unit.empty() || wall.unit_column) return unit.empty() || unit == "mm";
  const std::vector<double> values = bare_numbers(window_cells(rows, wall.index), wall.numbers);
  return std::ranges::all_of(values, [](double value) { return value >= 0.5; });
}

/// What the other columns tell about the sizes of a list.
struct SizeNeighbours {
  std::vector<const ListColumn*> materials, walls, schedules;

  SizeNeighbours(const ListLayout& layout, std::span<const ListRecord> rows) {
    for (const ListColumn& column : layout.columns) {
      const std::string_view key = likely_key(column);
      if (key == "pipe.material") materials.push_back(&column);
      if (key == "pipe.wall" && may_be_in_mm(column, rows)) walls.push_back(&column);
      if (key == "pipe.schedule") schedules.push_back(&column);
    }
  }
};

/// Materials that are sold by the outside diameter, as well or only, in the words of lists (common
/// practice, no source).
bool is_tube_material(std::string_view cell) {
  static const std::set<std::string, std::less<>> words = {
      "cu",   "ss",   "pe",  "hdpe", "pehd", "pead", "mdpe",  "pex", "pp",   "ppr", "pvc", "upvc",
      "pvcu", "cpvc", "abs", "pb",   "pvdf", "rame", "miedz", "304", "304l", "316", "316l"};
  static constexpr std::string_view beginnings[] = {"copper",
                                                    "kupfer",
                                                    "cuivre",
                                                    "cobre",
                                                    "bakar",
                                                    "stainless",
                                                    "inox",
                                                    "inoks",
                                                    "nehrdaj",
                                                    "nierdz",
                                                    "edelst",
                                                    "rostfr",
                                                    "plasti",
                                                    "kunststoff",
                                                    "tworzyw",
                                                    "poly",
                                                    "poli",
                                                    "press",
                                                    "pe80",
                                                    "pe100",
                                                    "\u043C\u0435\u0434",
                                                    "\u043D\u0435\u0440\u0436",
                                                    "\u043F\u043B\u0430\u0441\u0442",
                                                    "\u043F\u043E\u043B\u0438"};
  std::string folded = folded_heading(cell);
  std::ranges::replace(folded, '/', ' ');
  // Material numbers of stainless steels (EN 10088-1): 1.40 to 1.46.
  if (folded.starts_with("1 4")) return true;
  for (std::string_view rest = folded; !rest.empty();) {
    const std::size_t blank = rest.find(' ');
    const std::string_view word = rest.substr(0, blank);
    if (words.contains(word)) return true;
    if (std::ranges::any_of(beginnings, [&](auto begin) { return word.starts_with(begin); })) {
      return true;
    }
    rest = blank == std::string_view::npos ? std::string_view() : rest.substr(blank + 1);
  }
  return false;
}

std::string_view cell_of(const ListRecord& record, const ListColumn& column) {
  if (column.index >= record.cells.size()) return {};
  return without_text_marks(record.cells[column.index]);
}

/// Whether a wall in mm is far too thin for a pipe of this size in inches: 1 for 28. The thinnest
/// walls of ASME B36.19M (5S) are 0.8 % of the outside diameter and more.
bool is_too_thin(double wall, double size) {
  return wall < 0.005 * 25.4 * size;
}

/// The bare numbers of a size column, placeholders aside.
std::vector<BareSize> bare_sizes(const ListColumn& column, std::span<const ListRecord> rows,
                                 const SizeNeighbours& beside) {
  std::vector<BareSize> out;
  for (const ListRecord& record : rows) {
    const auto value = bare_value(cell_of(record, column), column.numbers);
    if (!value || *value == 0 || *value == 7) continue;
    BareSize size{.value = *value};
    for (const ListColumn* material : beside.materials) {
      const std::string_view cell = cell_of(record, *material);
      if (says_nothing(cell)) continue;
      (is_tube_material(cell) ? size.tube : size.iron) = true;
    }
    for (const ListColumn* wall : beside.walls) {
      const bool other_unit = wall->unit_column && *wall->unit_column < record.cells.size() &&
                              trimmed(record.cells[*wall->unit_column]) != "mm";
      if (other_unit) continue;
      const auto thickness = bare_value(cell_of(record, *wall), wall->numbers);
      size.tube = size.tube || (thickness && is_too_thin(*thickness, *value));
    }
    for (const ListColumn* schedule : beside.schedules) {
      const std::string cell = lower(cell_of(record, *schedule));
      const bool ratio = cell.starts_with("sdr") || schedule->unit == "SDR" ||
                         heading_parts(schedule->proposal).unit == "SDR";
      size.tube = size.tube || (ratio && !says_nothing(cell));
    }
    size.iron = size.iron && !size.tube;
    out.push_back(size);
  }
  return out;
}

/// Bare numbers of a size column are nominal sizes of one series, or are not used.
void decide_size(ListColumn& column, std::span<const ListRecord> rows, const SizeNeighbours& beside,
                 bool by_user) {
  const std::string folded = folded_name(column.unit);
  const std::vector<BareSize> sizes = bare_sizes(column, rows, beside);
  if (folded == "mm" || folded == "in" || folded == "inch" || sizes.empty()) return;
  const bool stated = !folded.empty();
  const SizeDecision decision =
      stated ? check_stated_sizes(sizes, folded == "nps", by_user) : decide_bare_sizes(sizes);
  if (stated) column.unit = folded == "nps" ? "NPS" : "DN";
  if (!decision.unit.empty()) {
    column.unit = decision.unit;
    if (!stated) column.why += "; " + decision.words;
    return;
  }
  column.veto = fmt::format(
      "{}; they are taken for nothing: say what they are with --map: '{}=pipe.size [NPS]' or [DN] "
      "for nominal sizes, '{}=pipe.outside_diameter [mm]' for measured diameters, or write the "
      "unit "
      "into the cells, as in \"NPS 6\", \"DN 150\" and \"OD 28 mm\"",
      decision.words, column.heading, column.heading);
}

/// Thinnest wall and thickest wall of pipes, and least and greatest diameter, in metres (judged
/// wide); one unit alone may bring all numbers of a column within.
struct LengthBounds {
  double least_m, greatest_m;
};

void decide_length(ListColumn& column, std::span<const std::string_view> cells,
                   const LengthBounds& bounds) {
  const std::vector<double> values = bare_numbers(cells, column.numbers);
  if (values.empty() || !column.unit.empty() || column.unit_column) return;
  const auto [least, greatest] = std::ranges::minmax(values);
  std::vector<std::string> fitting;
  for (const auto& [unit, metres] : {std::pair{"mm", 1e-3}, {"in", 25.4e-3}, {"m", 1.0}}) {
    if (least * metres >= bounds.least_m && greatest * metres <= bounds.greatest_m) {
      fitting.emplace_back(unit);
    }
  }
  if (fitting.size() == 1) {
    column.unit = fitting.front();
    column.why += fmt::format("; bare numbers from {:g} to {:g} can only be {}", least, greatest,
                              column.unit);
    return;
  }
  column.veto = fmt::format(
      "its bare numbers have no unit; write it into the heading, as in \"{} [mm]\", or --map "
      "'{}={} [mm]'",
      column.heading, column.heading, column.key->path);
}

void decide_units(ListColumn& column, std::span<const ListRecord> rows,
                  const SizeNeighbours& beside, bool by_user) {
  if (!column.key || column.unit_column || !column.veto.empty()) return;
  const auto cells = window_cells(rows, column.index);
  const std::string& path = column.key->path;
  if (path == "pipe.size") return decide_size(column, rows, beside, by_user);
  if (path == "pipe.wall") return decide_length(column, cells, {0.3e-3, 65e-3});
  if (path == "pipe.outside_diameter") return decide_length(column, cells, {6e-3, 4.2});
  const bool needs_unit =
      column.key->kind == ColumnKind::quantity || column.key->kind == ColumnKind::fittings;
  const bool any_bare = std::ranges::any_of(cells, [&](std::string_view cell) {
    return read_bare_number(cell, column.numbers).kind == BareNumber::Kind::number;
  });
  if (needs_unit && column.unit.empty() && any_bare) {
    const HeadingParts heading = heading_parts(column.heading);
    std::string message;
    column.veto = heading.unit.empty() || unit_fits(*column.key, heading.unit, message)
                      ? fmt::format("has no unit; write it into the heading, as in \"{} [{}]\"",
                                    heading.name, example_unit(*column.key))
                      : message;
    column.veto += fmt::format("; or say it with --map '{}={} [UNIT]'", column.heading, path);
  }
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

/// "6,625" by itself is decimal or has its thousands apart.
bool has_open_comma(std::string_view cell) {
  return cell.find(',') != std::string_view::npos &&
         read_bare_number(cell, NumberStyle::open).kind == BareNumber::Kind::unclear &&
         read_bare_number(cell, NumberStyle::decimal_comma).kind == BareNumber::Kind::number;
}

/// Commas that can only be decimal in one column make those of the others decimal, unless others
/// separate thousands: people do not change their style from column to column.
/// The greatest number that a column may hold in its unit.
double largest_of(const ListColumn& column) {
  const std::string_view key = likely_key(column);
  const std::string_view unit =
      column.unit.empty() ? heading_parts(column.proposal).unit : std::string_view(column.unit);
  const bool diameter = key == "pipe.outside_diameter" || key == "pipe.inside_diameter";
  return largest_number(unit, diameter ? 4 : key == "pipe.wall" ? 0.2 : 20);
}

void decide_numbers(ListLayout& layout, std::span<const ListRecord> rows, bool semicolons) {
  bool decimal = semicolons, thousands = false;
  std::vector<ListColumn*> open;
  for (ListColumn& column : layout.columns) {
    const auto cells = window_cells(rows, column.index);
    column.numbers = number_style(cells, largest_of(column));
    bool any_open = false;
    for (const std::string_view cell : cells) {
      any_open = any_open || !is_plain_decimal(cell, NumberStyle::open);
      if (cell.find(',') == std::string_view::npos) continue;
      const NumberStyle style = number_style({&cell, 1});
      decimal = decimal || style == NumberStyle::decimal_comma;
      thousands = thousands || style == NumberStyle::decimal_point;
      any_open = any_open || has_open_comma(cell);
    }
    if (any_open && column.numbers == NumberStyle::open) open.push_back(&column);
  }
  if (!decimal || thousands) return;
  for (ListColumn* column : open) column->numbers = NumberStyle::decimal_comma;
}

// ---------------------------------------------------------------- proposals

void propose(ListColumn& column, const HeadingMeaning& meaning) {
  const ColumnKey& key = *find_column_key(meaning.key);
  std::string message;
  const bool with_unit = !meaning.unit.empty() && unit_fits(key, meaning.unit, message);
  column.proposal = with_unit ? fmt::format("{} [{}]", key.path, meaning.unit) : key.path;
}

void leave_out(ListColumn& column, std::string why) {
  column.proposal.clear();
  column.why = std::move(why);
}

/// "2019-05-04", "4.5.2019", "04-May-19", "4/05/19"; not "5.9/5.8/6.0" and "7/7/6".
bool is_date(std::string_view cell) {
  std::vector<std::string_view> groups;
  cell = trimmed(cell);
  cell = cell.substr(0, cell.find(' '));
  // "2019-05-04T10:30"
  if (const std::size_t time = cell.find('T'); time == 10) cell = cell.substr(0, time);
  while (!cell.empty() && groups.size() < 4) {
    const std::size_t end = cell.find_first_of("-/.");
    groups.push_back(cell.substr(0, end));
    cell = end == std::string_view::npos ? std::string_view() : cell.substr(end + 1);
  }
  if (groups.size() != 3) return false;
  const auto number = [](std::string_view text) {
    return !text.empty() && text.find_first_not_of("0123456789") == std::string_view::npos;
  };
  static const std::set<std::string, std::less<>> months = {
      "jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"};
  if (number(groups[0]) && number(groups[2]) && months.contains(lower(groups[1].substr(0, 3)))) {
    return true;
  }
  if (!std::ranges::all_of(groups, number)) return false;
  const bool year = groups[0].size() == 4 || groups[2].size() == 4;
  return year || std::ranges::any_of(groups, [](std::string_view group) {
           return group.size() == 2 && group.front() == '0';
         });
}

/// Schedules and wall series as the pipe tables and people name them: "Sch. 40", "STD", "SDR 11",
/// "PN 10", "K9"; not "A1B" and not the flange class "150".
bool is_schedule(std::string_view cell) {
  static const std::set<std::string, std::less<>> numbers = {"5",  "10",  "20",  "30",  "40", "60",
                                                             "80", "100", "120", "140", "160"};
  static const std::set<std::string, std::less<>> words = {
      "std",  "xs",    "xxs",   "xh",       "xxh",   "sdr",   "dr",     "pn",    "cl",     "class",
      "type", "table", "serie", "standard", "extra", "heavy", "medium", "light", "regular"};
  const std::string folded = folded_heading(cell);
  for (std::string_view rest = folded; !rest.empty();) {
    const std::size_t blank = rest.find_first_of(" /");
    std::string_view token = rest.substr(0, blank);
    rest = blank == std::string_view::npos ? std::string_view() : rest.substr(blank + 1);
    if (words.contains(token)) return true;
    for (std::string_view front : {"schedule", "sched", "sch", "cedula", "ced", "s"}) {
      if (token.starts_with(front)) token.remove_prefix(front.size());
    }
    if (token.ends_with('s')) token.remove_suffix(1);
    if (numbers.contains(token)) return true;
    // "SDR11", "PN16", "K9", "C40"
    const std::size_t digit = token.find_first_of("0123456789");
    const bool mark = digit != std::string_view::npos &&
                      token.find_first_not_of("0123456789.", digit) == std::string_view::npos;
    const std::string_view front = token.substr(0, digit);
    if (mark && (front == "dr" || front == "pn" || front == "k" || front == "c")) return true;
  }
  return false;
}

/// Whether a cell could be a value of the key at all, with the unit that the heading says. What
/// defaults may stand in for falls out only where it is something else: a word is refused in its
/// row.
bool could_be(const ColumnKey& key, std::string_view unit, std::string_view cell) {
  const bool digit = cell.find_first_of("0123456789") != std::string_view::npos;
  switch (key.kind) {
    case ColumnKind::quantity:
      return !is_date(cell);
    case ColumnKind::wall:
      return digit && !is_date(cell);
    case ColumnKind::schedule:
      return is_schedule(cell) || (digit && unit == "SDR");
    case ColumnKind::name:
      return !is_date(cell) && (digit || key.path != "pipe.size");
    case ColumnKind::material: {
      // "316" and "1.4404" are materials.
      const bool number = bare_value(cell, NumberStyle::open).has_value();
      return !is_date(cell) && (!number || cell.size() == 3 || cell.starts_with("1.4"));
    }
    default:
      return true;
  }
}

/// Headings promise what cells must hold.
void drop_what_does_not_fit(ListColumn& column, std::span<const ListRecord> rows) {
  const ColumnKey* key = find_column_key(likely_key(column));
  if (column.key || !key) return;
  std::size_t stated = 0, fitting = 0;
  std::string_view example;
  for (const ListRecord& record : rows) {
    const std::string_view cell = cell_of(record, column);
    if (says_nothing(cell)) continue;
    ++stated;
    if (could_be(*key, heading_parts(column.proposal).unit, cell)) {
      ++fitting;
    } else if (example.empty()) {
      example = cell;
    }
  }
  if (2 * fitting > stated || stated == 0) return;
  leave_out(column, fmt::format("not used: {}, but {} of {} cells are no {} (\"{}\")", column.why,
                                stated - fitting, stated, key->path, shown(example)));
}

/// A size in metres is a diameter, nominal or measured; where the numbers tell, it is proposed.
void look_at_metres(ListColumn& column, std::span<const ListRecord> rows) {
  const auto meaning = heading_meaning(column.heading);
  if (column.key || !meaning || meaning->key != "pipe.size") return;
  if (meaning->unit != "m" && meaning->unit != "cm") return;
  const double mm = meaning->unit == "m" ? 1000 : 10;
  std::size_t nominal = 0;
  const std::vector<double> values = bare_numbers(window_cells(rows, column.index), column.numbers);
  for (const double value : values) nominal += is_dn(std::round(value * mm * 1000) / 1000);
  if (values.empty()) return;
  const std::string diameter = fmt::format("pipe.outside_diameter [{}]", meaning->unit);
  const std::string example =
      fmt::format("{:g} would be {:g} mm outside", values.front(), values.front() * mm);
  if (5 * nominal <= values.size()) {
    column.proposal = diameter;
    column.why += fmt::format("; most numbers are no nominal sizes: {}", example);
    return;
  }
  leave_out(
      column,
      fmt::format("can be a measured diameter: --map '{}={}' ({}); {} of {} numbers could be "
                  "nominal sizes, which are written in mm, as in \"DN {:g}\"",
                  column.heading, diameter, example, nominal, values.size(), values.front() * mm));
}

/// Walls of one kind of heading.
struct WallSeries {
  std::string words;
  WallRole role = WallRole::unsaid;
  std::vector<ListColumn*> columns;
};

std::vector<WallSeries> wall_series(ListLayout& layout) {
  std::vector<WallSeries> out;
  for (ListColumn& column : layout.columns) {
    if (likely_key(column) != "pipe.wall") continue;
    const auto meaning = heading_meaning(column.heading);
    const std::string all = meaning ? meaning->words : folded_heading(column.heading);
    const std::string words(without_number(all));
    auto found = std::ranges::find(out, words, &WallSeries::words);
    if (found == out.end()) {
      out.push_back(WallSeries{words, wall_role(words), {}});
      found = out.end() - 1;
    }
    found->columns.push_back(&column);
  }
  return out;
}

/// Only readings of one series are readings of one wall; a wall when new is none of them.
void choose_wall(ListLayout& layout) {
  const std::vector<WallSeries> all = wall_series(layout);
  const auto is_own = [](const WallSeries& series) {
    return std::ranges::any_of(series.columns,
                               [](const ListColumn* column) { return column->key; });
  };
  const auto is_measured = [](const WallSeries& series) {
    return series.role == WallRole::measured;
  };
  auto chosen = std::ranges::find_if(all, is_own);
  if (chosen == all.end()) {
    if (all.size() < 2) return;
    const bool single = std::ranges::count_if(all, is_measured) == 1;
    chosen = single ? std::ranges::find_if(all, is_measured) : all.end();
  }
  for (const WallSeries& series : all) {
    for (ListColumn* column : series.columns) {
      if (column->key || (chosen != all.end() && series.words == chosen->words)) continue;
      if (chosen == all.end()) {
        const WallSeries& other = series.words == all.front().words ? all[1] : all.front();
        leave_out(
            *column,
            fmt::format("can be the wall, as \"{}\" can; --map the one that was measured last",
                        other.columns.front()->heading));
        continue;
      }
      const bool measured = series.role == WallRole::measured;
      leave_out(*column, fmt::format("not used: {}; the wall is taken from \"{}\"",
                                     measured ? "other readings" : "the original or nominal wall",
                                     chosen->columns.front()->heading));
    }
  }
}

/// Texts, which change no result: of several headings the likeliest is taken.
bool is_label(const ColumnKey& key) {
  return key.path == "tag" || key.path == "title" || key.path == "site" || key.path == "note";
}

/// A column that the user or its own heading states wins over proposals for the same key; of labels
/// the likeliest is proposed. Other keys that several headings suggest are left for report_twice: a
/// temperature of two must not fall out unseen.
void choose_one_each(ListLayout& layout) {
  std::map<std::string, std::vector<ListColumn*>> by_key;
  for (ListColumn& column : layout.columns) {
    const ColumnKey* key = find_column_key(likely_key(column));
    const bool one = key && key->kind != ColumnKind::wall && key->kind != ColumnKind::fittings;
    if (one) by_key[key->path].push_back(&column);
  }
  const auto rank = [](const ListColumn* column) {
    const auto meaning = heading_meaning(column->heading);
    return meaning ? meaning->rank : 0;
  };
  for (auto& [path, columns] : by_key) {
    if (columns.size() < 2) continue;
    const auto own = std::ranges::find_if(columns, [](const auto* column) { return column->key; });
    const ListColumn* chosen = own == columns.end() ? nullptr : *own;
    if (!chosen && is_label(*find_column_key(path))) {
      chosen = *std::ranges::min_element(columns, {}, rank);
    }
    if (!chosen) continue;
    for (ListColumn* column : columns) {
      if (column == chosen || column->key) continue;
      leave_out(*column, fmt::format("not used: {} is taken from \"{}\"", path, chosen->heading));
    }
  }
}

/// Whether the column's name says that it holds units.
bool is_unit_heading(const ListColumn& column) {
  const std::string words = folded_heading(column.heading);
  return words == "uom" || words == "unit" || words == "units";
}

/// Whether the cells of a column are units of the key. One unit with blanks among it tells less
/// than the numbers themselves: the rows without it would be refused.
bool holds_units_of(const ColumnKey& key, const ListColumn& column,
                    std::span<const ListRecord> rows) {
  std::set<std::string, std::less<>> units;
  bool blanks = false;
  std::string message;
  for (const ListRecord& record : rows) {
    const std::string_view unit = cell_of(record, column);
    if (says_nothing(unit)) {
      blanks = true;
    } else if (!units.contains(unit)) {
      if (!unit_fits(key, unit, message)) return false;
      units.emplace(unit);
    }
  }
  return units.size() > 1 || (units.size() == 1 && !blanks);
}

/// A column of units serves all quantities whose heading has none.
void propose_units(ListLayout& layout, std::span<const ListRecord> rows) {
  for (ListColumn& column : layout.columns) {
    if (column.key || column.why.starts_with("by --map") || !is_unit_heading(column)) continue;
    std::vector<std::string> served;
    for (const ListColumn& other : layout.columns) {
      const ColumnKey* key = find_column_key(likely_key(other));
      if (!key || other.unit_column || !other.unit.empty()) continue;
      if (key->kind != ColumnKind::quantity && key->kind != ColumnKind::wall) continue;
      if (!heading_parts(other.proposal).unit.empty()) continue;
      if (!holds_units_of(*key, column, rows)) continue;
      if (std::ranges::find(served, other.heading) == served.end()) {
        served.push_back(other.heading);
      }
    }
    if (served.empty()) continue;
    column.proposal = fmt::format("{}{}", unit_of_words, fmt::join(served, ", "));
    column.why = "its cells are units, and the headings of those columns have none";
  }
}

void review_proposals(ListLayout& layout, std::span<const ListRecord> rows) {
  for (ListColumn& column : layout.columns) {
    look_at_metres(column, rows);
    drop_what_does_not_fit(column, rows);
  }
  choose_wall(layout);
  choose_one_each(layout);
  for (ListColumn& column : layout.columns) {
    // Units from their own line.
    const bool without = !column.proposal.empty() && heading_parts(column.proposal).unit.empty();
    if (!column.key && without && !column.unit.empty()) {
      column.proposal = fmt::format("{} [{}]", column.proposal, column.unit);
    }
  }
  propose_units(layout, rows);
}

void take_proposals(ListLayout& layout) {
  for (ListColumn& column : layout.columns) {
    if (column.key || column.proposal.empty()) continue;
    std::string message;
    if (column.proposal.starts_with(unit_of_words)) {
      serve_with_units(column, column.proposal.substr(unit_of_words.size()), layout, message);
    } else {
      const HeadingParts parts = heading_parts(column.proposal);
      column.key = find_column_key(parts.name);
      if (column.veto.empty()) column.unit = parts.unit;
    }
    column.why += ", taken as proposed";
  }
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
