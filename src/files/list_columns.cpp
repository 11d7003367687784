#include "slantrule/files/list_columns.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <charconv>
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

/// Whether a bare number with this unit is a value of the key; `message` says what is wrong.
bool unit_fits(const ColumnKey& key, std::string_view unit, std::string& message) {
  if (unit.empty()) return true;
  if (key.path == "pipe.size") {
    const std::string folded = folded_name(unit);
    if (folded == "nps" || folded == "dn" || folded == "mm" || folded == "in" || folded == "inch") {
      return true;
    }
    message = fmt::format("\"{}\" is no unit of a size; write NPS, DN, in or mm", shown(unit));
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
    column->key = nullptr;
    column->unit.clear();
    if (map.key.empty()) continue;
    if (map.key.starts_with(unit_of_words)) {
      const auto of = named_columns(map.key.substr(unit_of_words.size()), layout);
      if (of.size() != 1) return wrong("names no single column whose unit it is");
      of.front()->unit_column = column->index;
      static const ColumnKey unit_key{"unit", ColumnKind::unit_of, {}};
      column->key = &unit_key;
      column->why = fmt::format("by --map: unit of \"{}\"", of.front()->heading);
      continue;
    }
    const ColumnKey* key = find_column_key(map.key);
    if (!key) return wrong(no_such_key(map.key));
    std::string message;
    if (!unit_fits(*key, map.unit, message)) return wrong(message);
    column->key = key;
    column->unit = map.unit;
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
  return best_score >= 4 ? best : std::nullopt;
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

/// A record of units alone, some cells blank: under each key that takes a unit one that fits, and
/// nothing under the others, so that no pipe called "P" is taken for poise.
bool is_unit_row(const ListRecord& record, const ListLayout& layout) {
  bool any = false;
  for (std::size_t i = 0; i < record.cells.size(); ++i) {
    const std::string_view cell = trimmed(record.cells[i]);
    if (says_nothing(cell)) continue;
    if (!is_unit_text(cell) || i >= layout.columns.size()) return false;
    const ColumnKey* key = layout.columns[i].key;
    std::string message;
    if (key && !unit_fits(*key, without_brackets(cell), message)) return false;
    any = any || key || !layout.columns[i].proposal.empty();
  }
  return any;
}

void take_units(const ListRecord& record, ListLayout& layout) {
  for (ListColumn& column : layout.columns) {
    if (column.index >= record.cells.size()) continue;
    const std::string_view unit = without_brackets(record.cells[column.index]);
    if (!is_unit_text(unit)) continue;
    if (column.unit.empty()) {
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

/// The bare numbers of a column, placeholders aside.
std::vector<double> bare_numbers(std::span<const std::string_view> cells, NumberStyle style) {
  std::vector<double> out;
  for (std::string_view cell : cells) {
    const BareNumber bare = read_bare_number(cell, style);
    if (bare.kind != BareNumber::Kind::number) continue;
    const double value = *read_number(bare.text).times_ten_to(0);
    if (value != 0 && value != 7) out.push_back(value);
  }
  return out;
}

/// Bare numbers of a size column are nominal sizes of one series, or are not used.
void decide_size(ListColumn& column, std::span<const std::string_view> cells) {
  const std::string folded = folded_name(column.unit);
  const std::vector<double> values = bare_numbers(cells, column.numbers);
  if (folded == "mm" || folded == "in" || folded == "inch" || values.empty()) return;
  const SeriesCount count = count_series(values);
  if (!folded.empty()) {
    const bool nps = folded == "nps";
    column.unit = nps ? "NPS" : "DN";
    const std::size_t off = nps ? count.off_nps : count.off_dn;
    // A heading that lies shows by many numbers that are no such size, not by a slip or two.
    if (5 * off <= values.size()) return;
    column.veto = fmt::format(
        "{} of {} numbers of this column are no {} ({}); they are taken for nothing: say what they "
        "are, for instance --map '{}=pipe.outside_diameter [mm]', or write single sizes out as in "
        "\"{} 6\"",
        off, values.size(), column.unit,
        fmt::join(nps ? count.off_nps_examples : count.off_dn_examples, ", "), column.heading,
        nps ? "NPS" : "DN");
    return;
  }
  const auto ask = [&](std::string_view what) {
    column.veto = fmt::format(
        "{}; say what they are in the heading or with --map: '{}=pipe.size [NPS]' or [DN] for "
        "nominal sizes, '{}=pipe.outside_diameter [mm]' for measured diameters",
        what, column.heading, column.heading);
  };
  if (count.off_nps == 0 && count.only_nps > 0) {
    column.unit = "NPS";
    column.why += fmt::format("; its {} bare numbers are all sizes in inches, {} of them no DN",
                              values.size(), count.only_nps);
  } else if (count.off_dn == 0 && count.only_dn > 0) {
    column.unit = "DN";
    column.why +=
        fmt::format("; its {} bare numbers are all nominal sizes in mm, {} of them no NPS",
                    values.size(), count.only_dn);
  } else if (count.off_nps == 0 && count.off_dn == 0) {
    ask("its bare numbers are sizes in inches as well as nominal sizes in mm");
  } else {
    ask(fmt::format("its bare numbers are neither all NPS ({} are none) nor all DN ({})",
                    fmt::join(count.off_nps_examples, ", "),
                    fmt::join(count.off_dn_examples, ", ")));
  }
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

void decide_units(ListColumn& column, std::span<const ListRecord> rows) {
  if (!column.key) return;
  const auto cells = window_cells(rows, column.index);
  column.numbers = number_style(cells);
  if (column.unit_column) return;
  const std::string& path = column.key->path;
  if (path == "pipe.size") return decide_size(column, cells);
  if (path == "pipe.wall") return decide_length(column, cells, {0.3e-3, 65e-3});
  if (path == "pipe.outside_diameter") return decide_length(column, cells, {6e-3, 4.2});
  const bool needs_unit =
      column.key->kind == ColumnKind::quantity || column.key->kind == ColumnKind::fittings;
  const bool any_bare = std::ranges::any_of(cells, [&](std::string_view cell) {
    return read_bare_number(cell, column.numbers).kind == BareNumber::Kind::number;
  });
  if (needs_unit && column.unit.empty() && any_bare) {
    column.veto = fmt::format(
        "has no unit; write it into the heading, as in \"{} [{}]\", or --map '{}={} [{}]'",
        column.heading, example_unit(*column.key), column.heading, path, example_unit(*column.key));
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
      if (!meaning->key.empty()) {
        const ColumnKey& suggested = *find_column_key(meaning->key);
        std::string suggested_unit = meaning->unit;
        if (!unit_fits(suggested, suggested_unit, message)) suggested_unit.clear();
        column.proposal = suggested_unit.empty()
                              ? suggested.path
                              : fmt::format("{} [{}]", suggested.path, suggested_unit);
        if (options.take_proposals) {
          column.key = &suggested;
          column.unit = suggested_unit;
          column.why += ", taken as proposed";
        }
      }
    }
    layout.columns.push_back(std::move(column));
  }
  for (const ColumnMap& map : options.maps) apply_map(map, layout);
  // One key, one column; readings of a wall aside.
  std::map<std::string, std::string> taken;
  for (ListColumn& column : layout.columns) {
    if (!column.key || column.key->kind == ColumnKind::unit_of || column.key->path == "pipe.wall") {
      continue;
    }
    const auto [other, is_new] = taken.try_emplace(column.key->path, column.heading);
    if (is_new) continue;
    layout.problems.push_back(fmt::format(
        "columns \"{}\" and \"{}\" both stand for {}; take one out with --map '{}='",
        shown(other->second), shown(column.heading), column.key->path, shown(column.heading)));
  }
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
  for (ListColumn& column : layout.columns) {
    std::string message;
    if (column.key && !unit_fits(*column.key, column.unit, message)) {
      layout.problems.push_back(fmt::format("column \"{}\": {}", shown(column.heading), message));
    }
  }
  const auto rows = window.subspan(layout.first_row);
  for (ListColumn& column : layout.columns) decide_units(column, rows);
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
  // Most rows are told by one letter.
  if (!few && first.front() != '#' && first.front() != '*' &&
      std::string_view("tsgnrlp").find(c) == std::string_view::npos) {
    return std::nullopt;
  }
  const auto stated = [&](std::string_view key) {
    const ListColumn* column = layout.column_of(key);
    return column && column->index < cells.size() && !says_nothing(cells[column->index]) &&
           trimmed(cells[column->index]).data() != first.data();
  };
  if (stated("pipe.size") || stated("pipe.outside_diameter") || stated("pipe.girth") ||
      stated("pipe.material") || stated("fluid.name")) {
    return std::nullopt;
  }
  std::string words = folded_heading(first);
  for (std::string_view total : {"total", "totals", "grand total", "subtotal", "sub total", "sum",
                                 "summe", "gesamt", "suma", "razem", "totale", "ukupno", "count"}) {
    if (words == total || words.starts_with(fmt::format("{} ", total))) return "a total";
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
