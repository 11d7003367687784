#include "list_column_parts.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <set>

#include "list_headings.hpp"
#include "list_series.hpp"
#include "slantrule/units/ascii.hpp"
#include "slantrule/units/number_text.hpp"
#include "slantrule/units/suggest.hpp"

namespace slantrule::list_layout {

namespace {

/// A unit of length in metres; nullopt: it is none.
std::optional<double> unit_in_metres(std::string_view unit) {
  const auto parsed = parse_quantity(fmt::format("1 {}", unit), Dimensions{Dimension::length});
  const auto* reading = std::get_if<Reading>(&parsed);
  if (!reading) return std::nullopt;
  return reading->si;
}

}  // namespace

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

namespace {

/// A unit of the key that leaves something open: "bar" (gauge or absolute), "ML/D" (mega or milli).
bool is_half_a_unit(const ColumnKey& key, std::string_view unit) {
  std::string message;
  if (unit.empty() || is_digit(unit.front()) || unit_fits(key, unit, message)) return false;
  return unit_fits(key, fmt::format("{} gauge", unit), message) ||
         unit_fits(key, lower(unit), message);
}

}  // namespace

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

namespace {

/// Whether the bare numbers of a wall column are millimetres, or can be: no wall is below half of
/// one.
bool may_be_in_mm(const ListColumn& wall, std::span<const ListRecord> rows) {
  const std::string_view unit =
      wall.unit.empty() ? heading_parts(wall.proposal).unit : std::string_view(wall.unit);
  if (!unit.empty() || wall.unit_column) return unit.empty() || unit == "mm";
  const std::vector<double> values = bare_numbers(window_cells(rows, wall.index), wall.numbers);
  return std::ranges::all_of(values, [](double value) { return value >= 0.5; });
}

}  // namespace

SizeNeighbours::SizeNeighbours(const ListLayout& layout, std::span<const ListRecord> rows) {
  for (const ListColumn& column : layout.columns) {
    const std::string_view key = likely_key(column);
    if (key == "pipe.material") materials.push_back(&column);
    if (key == "pipe.wall" && may_be_in_mm(column, rows)) walls.push_back(&column);
    if (key == "pipe.schedule") schedules.push_back(&column);
  }
}

namespace {

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

}  // namespace

std::string_view cell_of(const ListRecord& record, const ListColumn& column) {
  if (column.index >= record.cells.size()) return {};
  return without_text_marks(record.cells[column.index]);
}

namespace {

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

}  // namespace

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

namespace {

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

}  // namespace

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

}  // namespace slantrule::list_layout
