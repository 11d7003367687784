#include "slantrule/files/list_reader.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <charconv>

#include "list_mends.hpp"
#include "list_series.hpp"
#include "slantrule/files/request_reader.hpp"
#include "slantrule/planning/job_visit.hpp"
#include "slantrule/units/ascii.hpp"
#include "slantrule/units/number_text.hpp"
#include "slantrule/units/suggest.hpp"

namespace slantrule {
namespace {

template <class Entry>
void clear_entry(Entry& entry) {
  entry = Entry{};
}
/// Keeps the memory of the options for the next row.
template <class T>
void clear_entry(Entry<T>& entry) {
  entry.options.clear();
  entry.between = entry.unknown = false;
}
template <class T>
void clear_entry(ListEntry<T>& entry) {
  entry.items.clear();
  entry.given = false;
  entry.place = {};
}

bool is_zero(std::string_view cell) {
  return !cell.empty() && cell.find_first_not_of("0.,") == std::string_view::npos &&
         cell.find('0') != std::string_view::npos;
}

/// Keys whose cells are kept word for word, placeholders too.
bool is_plain_text(const ListColumn& column) {
  static constexpr std::array<std::string_view, 5> keys = {"tag", "title", "site", "prepared_by",
                                                           "note"};
  return std::ranges::find(keys, column.key->path) != keys.end();
}

/// Dimensions of pipes, where a bare 7 is what some inventories fill gaps with.
bool is_pipe_dimension(const ListColumn& column) {
  static constexpr std::array<std::string_view, 7> keys = {"pipe.size",
                                                           "pipe.outside_diameter",
                                                           "pipe.girth",
                                                           "pipe.across",
                                                           "pipe.wall",
                                                           "pipe.liner.thickness",
                                                           "pipe.coating.thickness"};
  return std::ranges::find(keys, column.key->path) != keys.end();
}

std::string_view cell_at(const ListRow& row, std::size_t index) {
  return index < row.cells.size() ? row.cells[index] : std::string_view();
}

/// What people write for a word of a key's list, folded (common practice, no source).
struct ChoiceWord {
  std::string_view key, words, choice;
};
constexpr std::array<ChoiceWord, 14> choice_words = {{
    {"pipe.orientation", "h", "horizontal"},
    {"pipe.orientation", "horiz", "horizontal"},
    {"pipe.orientation", "horiz.", "horizontal"},
    {"pipe.orientation", "hor", "horizontal"},
    {"pipe.orientation", "up", "vertical up"},
    {"pipe.orientation", "vert_up", "vertical up"},
    {"pipe.orientation", "v_up", "vertical up"},
    {"pipe.orientation", "riser_up", "vertical up"},
    {"pipe.orientation", "down", "vertical down"},
    {"pipe.orientation", "vert_down", "vertical down"},
    {"pipe.orientation", "v_down", "vertical down"},
    {"location.insulation", "no", "none"},
    {"location.insulation", "removed", "opened"},
    {"location.access", "all", "all round"},
}};

const KeyInfo& distance_info() {
  static const KeyInfo info{.key = "distance",
                            .help = {},
                            .example = {},
                            .dimensions = {Dimension::length, Dimension::pipe_diameters}};
  return info;
}

template <class T>
std::string entry_text(const Entry<T>& entry) {
  std::vector<std::string_view> texts;
  for (const auto& option : entry.options) texts.push_back(option.text);
  return fmt::format("{}", fmt::join(texts, " or "));
}
std::string entry_text(const TextEntry& entry) {
  return entry.value.value_or("");
}
std::string entry_text(const ChoiceEntry& entry) {
  return entry.value.value_or("");
}
std::string entry_text(const WordsEntry& entry) {
  return fmt::format("{}", fmt::join(entry.values, ", "));
}
std::string entry_text(const FlagEntry& entry) {
  if (!entry.value) return {};
  return *entry.value ? "yes" : "no";
}
std::string entry_text(const CountEntry& entry) {
  if (entry.best) return "best";
  return entry.value ? std::to_string(*entry.value) : std::string();
}
std::string entry_text(const SensorsEntry& entry) {
  return entry.key.value_or("");
}
std::string entry_text(const ListEntry<FittingRequest>& entry) {
  std::vector<std::string> texts;
  for (const FittingRequest& one : entry.items) {
    const std::string distance = entry_text(one.distance);
    texts.push_back(entry_text(one.fitting) + (distance.empty() ? "" : " @ " + distance));
  }
  return fmt::format("{}", fmt::join(texts, "; "));
}

template <class EntryType>
EntryType* entry_of(JobRequest& request, std::string_view path) {
  EntryType* found = nullptr;
  visit_all_keys(request, "", [&](const std::string& here, const KeyInfo&, auto& entry) {
    if constexpr (std::is_same_v<std::remove_cvref_t<decltype(entry)>, EntryType>) {
      if (here == path) found = &entry;
    }
  });
  return found;
}

}  // namespace

// ---------------------------------------------------------------- binding

RowReader::RowReader(const ListLayout& layout, const JobRequest& defaults)
    : layout_(layout), defaults_(defaults), request_(defaults) {
  const auto several = [&](std::string_view key) {
    return std::ranges::count_if(layout.columns, [&](const ListColumn& column) {
             return column.key && column.key->path == key;
           }) > 1;
  };
  split_upstream_ = several("location.upstream");
  split_downstream_ = several("location.downstream");
  size_by_schedule_ = layout.column_of("pipe.schedule") && !layout.column_of("pipe.size");
  for (const ListColumn& column : layout.columns) {
    if (column.key && column.key->kind != ColumnKind::unit_of) bind(column);
  }
}

void RowReader::bind(const ListColumn& column) {
  const std::string& path = column.key->path;
  const auto add = [&](auto* entry, const auto* when_blank) {
    using EntryType = std::remove_cvref_t<decltype(*entry)>;
    std::optional<UnitReader> plain;
    const bool measured =
        std::is_same_v<EntryType, QuantityEntry> || std::is_same_v<EntryType, Entry<WallRequest>>;
    if (measured && !column.unit.empty() && !column.unit_column) {
      plain = UnitReader::of(column.unit, column.key->info.dimensions);
    }
    columns_.push_back(
        {&column, Bound<EntryType>{entry, when_blank}, plain, is_plain_text(column)});
  };
  const auto in_request = [&]<class EntryType>(const EntryType*) {
    add(entry_of<EntryType>(request_, path), entry_of<EntryType>(defaults_, path));
  };
  const auto in_layer = [&](LayerColumns& layer) {
    layer.in_parts = true;
    LayerRequest& parts = layer.parts;
    if (path.ends_with(".material")) return add(&parts.material, &no_layer_.material);
    if (path.ends_with(".thickness")) return add(&parts.thickness, &no_layer_.thickness);
    add(&parts.under_sensors, &no_layer_.under_sensors);
  };
  if (path.starts_with("pipe.liner.")) return in_layer(liner_);
  if (path.starts_with("pipe.coating.")) return in_layer(coating_);
  switch (column.key->kind) {
    case ColumnKind::quantity:
      return in_request(static_cast<const QuantityEntry*>(nullptr));
    case ColumnKind::name:
      return in_request(static_cast<const NameEntry*>(nullptr));
    case ColumnKind::schedule:
      return add(&schedule_, &no_schedule_);
    case ColumnKind::text:
      return in_request(static_cast<const TextEntry*>(nullptr));
    case ColumnKind::choice:
      return in_request(static_cast<const ChoiceEntry*>(nullptr));
    case ColumnKind::words:
      return in_request(static_cast<const WordsEntry*>(nullptr));
    case ColumnKind::flag:
      return in_request(static_cast<const FlagEntry*>(nullptr));
    case ColumnKind::count:
      return in_request(static_cast<const CountEntry*>(nullptr));
    case ColumnKind::material:
      return in_request(static_cast<const Entry<MaterialRequest>*>(nullptr));
    case ColumnKind::layer:
      return in_request(static_cast<const Entry<LayerRequest>*>(nullptr));
    case ColumnKind::wall:
      return in_request(static_cast<const Entry<WallRequest>*>(nullptr));
    case ColumnKind::fittings:
      return in_request(static_cast<const ListEntry<FittingRequest>*>(nullptr));
    case ColumnKind::sensors:
      return in_request(static_cast<const SensorsEntry*>(nullptr));
    case ColumnKind::unit_of:
      return;
  }
}

// ---------------------------------------------------------------- rows

const JobRequest& RowReader::read(ListRow& row) {
  row_ = &row;
  for (LayerColumns* layer : {&liner_, &coating_}) {
    clear_entry(layer->parts);
    layer->said_to_be = nullptr;
  }
  clear_entry(schedule_);
  // Entries that several columns share are emptied once, before any of them is read.
  for (const BoundColumn& one : columns_) {
    std::visit([](const auto& bound) { clear_entry(*bound.entry); }, one.bound);
  }
  if (liner_.in_parts && !layout_.column_of("pipe.liner")) clear_entry(request_.pipe.liner);
  if (coating_.in_parts && !layout_.column_of("pipe.coating")) clear_entry(request_.pipe.coating);
  // A schedule becomes part of a size that has no column of its own.
  if (size_by_schedule_) request_.pipe.size = defaults_.pipe.size;
  for (const BoundColumn& one : columns_) read_cell(one, cell_at(row, one.column->index));
  fill_blanks();
  join_size_and_schedule();
  join_layers();
  if (split_upstream_) join_fitting(request_.location.upstream);
  if (split_downstream_) join_fitting(request_.location.downstream);
  check_readings();
  check_units();
  for (std::size_t i = layout_.columns.size(); i < row.cells.size(); ++i) {
    if (trimmed(row.cells[i]).empty()) continue;
    row.problems.push_back(
        {"", std::string(row.cells[i]),
         fmt::format("the row has {} cells under {} headings; put quotes round a cell that holds "
                     "the separator, or head the last column",
                     row.cells.size(), layout_.columns.size())});
    break;
  }
  return request_;
}

namespace {

/// Readings of one wall, and fittings with their distances, can stand in several columns.
template <class EntryType>
constexpr bool is_shared = std::is_same_v<EntryType, Entry<WallRequest>> ||
                           std::is_same_v<EntryType, ListEntry<FittingRequest>>;

}  // namespace

/// What no column of a shared entry has said is that of the defaults.
void RowReader::fill_blanks() {
  for (const BoundColumn& one : columns_) {
    std::visit(
        [](const auto& bound) {
          using EntryType = std::remove_cvref_t<decltype(*bound.entry)>;
          if constexpr (is_shared<EntryType>) {
            bool stated = false;
            if constexpr (requires { bound.entry->given; }) stated = bound.entry->items.size() > 0;
            if constexpr (requires { bound.entry->options; }) stated = bound.entry->given();
            if (!stated) *bound.entry = *bound.when_blank;
          }
        },
        one.bound);
  }
}

void RowReader::read_cell(const BoundColumn& one, std::string_view written) {
  const ListColumn& column = *one.column;
  const std::string_view cell = without_text_marks(written);
  std::visit(
      [&](const auto& bound) {
        using EntryType = std::remove_cvref_t<decltype(*bound.entry)>;
        if (one.word_for_word) {
          if (cell.empty()) {
            *bound.entry = *bound.when_blank;
          } else {
            read(column, cell, *bound.entry);
          }
          return;
        }
        if (auto above = repeats_above(cell, column.heading)) {
          problem(column, cell, std::move(*above));
          return;
        }
        bool missing = cell.empty();
        if (!missing &&
            (is_zero(cell) || says_nothing(cell) || (cell == "7" && is_pipe_dimension(column)))) {
          missing = true;
          const bool number = is_digit(cell.front());
          remark(column, written,
                 number ? fmt::format("\"{}\" is taken for missing; where it is a value write it "
                                      "with its unit",
                                      shown(cell))
                        : "is taken for missing");
        }
        if (missing) {
          // Several columns may share an entry: see fill_blanks.
          if constexpr (!is_shared<EntryType>) *bound.entry = *bound.when_blank;
          return;
        }
        if constexpr (requires { take_plain(one, cell, *bound.entry); }) {
          if (take_plain(one, cell, *bound.entry)) return;
        }
        read(column, cell, *bound.entry);
      },
      one.bound);
}

std::optional<Reading> RowReader::plain_reading(const BoundColumn& one,
                                                std::string_view cell) const {
  if (!one.plain || !is_plain_decimal(cell, one.column->numbers)) return std::nullopt;
  const auto reading = one.plain->read(cell);
  if (!reading || not_allowed(*reading, cell, one.column->key->info)) return std::nullopt;
  return reading;
}

bool RowReader::take_plain(const BoundColumn& one, std::string_view cell, QuantityEntry& entry) {
  const auto reading = plain_reading(one, cell);
  if (!reading) return false;
  Option<Reading>& option = entry.options.emplace_back();
  option.value = *reading;
  option.text.append(cell).append(" ").append(one.column->unit);
  return true;
}

bool RowReader::take_plain(const BoundColumn& one, std::string_view cell,
                           Entry<WallRequest>& entry) {
  if (entry.options.size() > 1) return false;  // alternatives of another column
  const auto reading = plain_reading(one, cell);
  if (!reading) return false;
  if (entry.options.empty()) {
    entry.options.emplace_back().text.append(cell).append(" ").append(one.column->unit);
  }
  entry.options.front().value.readings.push_back(*reading);
  return true;
}

void RowReader::problem(const ListColumn& column, std::string_view cell, std::string message) {
  row_->problems.push_back(
      {column.heading, std::string(cell), in_list_words(message, column.key->path)});
}

void RowReader::remark(const ListColumn& column, std::string_view cell, std::string message) {
  row_->remarks.push_back({column.heading, std::string(cell), std::move(message)});
}

std::string RowReader::reading_of(const ListRow& row, std::size_t column) const {
  const auto one = std::ranges::find(columns_, column,
                                     [](const BoundColumn& bound) { return bound.column->index; });
  if (one == columns_.end()) return {};
  for (const CellMessage& problem : row.problems) {
    if (problem.column == one->column->heading) return "refused: " + problem.message;
  }
  for (const CellMessage& remark : row.remarks) {
    const bool missing = remark.message.find("taken for missing") != std::string::npos;
    if (missing && remark.column == one->column->heading) return "missing";
  }
  return std::visit([](const auto& bound) { return entry_text(*bound.entry); }, one->bound);
}

// ---------------------------------------------------------------- numbers

std::optional<std::string> RowReader::with_unit(const ListColumn& column, std::string_view cell) {
  BareNumber bare = read_bare_number(cell, column.numbers);
  if (bare.kind == BareNumber::Kind::unclear) {
    problem(column, cell, bare.message);
    return std::nullopt;
  }
  if (bare.kind == BareNumber::Kind::none) {
    if (auto spoiled = spoiled_by_spreadsheet(cell)) {
      problem(column, cell, std::move(*spoiled));
      return std::nullopt;
    }
    // "7.1 +- 0.2": the column's unit is that of both.
    const bool tolerance = cell.find("+-") != std::string_view::npos ||
                           cell.find("+/-") != std::string_view::npos ||
                           cell.find("\u00b1") != std::string_view::npos;
    if (tolerance && !column.unit.empty() && is_digit(cell.back()) &&
        std::ranges::none_of(cell, [](char c) { return lower(c) >= 'a' && lower(c) <= 'z'; })) {
      return fmt::format("{} {}", cell, column.unit);
    }
    // The number in front of a unit follows the column's style too.
    const std::size_t end = number_length(cell);
    if (end > 0 && end < cell.size() && cell[end] != '/') {
      const BareNumber front = read_bare_number(cell.substr(0, end), column.numbers);
      if (front.kind == BareNumber::Kind::unclear) {
        problem(column, cell, front.message);
        return std::nullopt;
      }
      if (front.kind == BareNumber::Kind::number) {
        const std::string_view rest = trimmed(cell.substr(end));
        // "60°" has a degree sign and no letter; the column says which degree.
        const bool degree = (plain_text(rest) == "deg") && column.unit.starts_with("deg");
        return fmt::format("{} {}", front.text, degree ? std::string_view(column.unit) : rest);
      }
    }
    return std::string(cell);
  }
  std::string_view unit = column.unit;
  if (column.unit_column) unit = trimmed(cell_at(*row_, *column.unit_column));
  if (unit.empty() || (column.unit_column && says_nothing(unit))) {
    std::string message =
        column.veto.empty()
            ? fmt::format("\"{}\" has no unit, and the column has none; write it as \"{} {}\"",
                          shown(cell), bare.text, example_unit(*column.key))
            : fmt::format("\"{}\": {}", shown(cell), column.veto);
    if (column.unit_column) {
      message = fmt::format("\"{}\" has no unit: the cell under \"{}\" is empty", shown(cell),
                            layout_.columns[*column.unit_column].heading);
    }
    problem(column, cell, std::move(message));
    return std::nullopt;
  }
  bare.text += ' ';
  bare.text += unit;
  return std::move(bare.text);
}

bool RowReader::add_quantity(const ListColumn& column, std::string_view cell,
                             QuantityEntry& entry) {
  auto text = with_unit(column, cell);
  if (!text) return false;
  auto stated = stated_quantity(*text, column.key->info);
  if (auto* wrong = std::get_if<std::string>(&stated)) {
    problem(column, cell, std::move(*wrong));
    return false;
  }
  Option<Reading>& option = entry.options.emplace_back();
  option.value = std::get<Reading>(stated);
  option.text = std::move(*text);
  return true;
}

namespace {

/// "OD 168.3", "\u00d8168.3" and "168.3 OD" without the sign that the column says already.
std::string_view without_diameter_sign(std::string_view cell) {
  for (std::string_view sign : {"OD", "O.D.", "od", "o.d.", "\u00d8", "\u00f8", "\u2300", "\u03c6",
                                "\u03a6", "dia.", "dia"}) {
    if (cell.starts_with(sign) && cell.size() > sign.size()) {
      return trimmed(cell.substr(sign.size()));
    }
    if (cell.ends_with(sign) && cell.size() > sign.size()) {
      return trimmed(cell.substr(0, cell.size() - sign.size()));
    }
  }
  return cell;
}

/// Inches in a column of millimetres that are a nominal size as well; nullopt: none.
std::optional<double> inches_of_a_size(std::string_view cell, std::string_view unit) {
  if (unit != "mm" && !unit.empty()) return std::nullopt;
  for (std::string_view inch : {"\"", "''", "\u2033", "\u201d", "inch", "in.", "in"}) {
    if (!cell.ends_with(inch)) continue;
    const std::string number = plain_text(trimmed(cell.substr(0, cell.size() - inch.size())));
    const NumberText read = read_number(number);
    const double value = read.times_ten_to(0).value_or(0);
    constexpr double same_from = 14;  // from NPS 14 on the size is the outside diameter
    const bool whole = read.fault == NumberFault::none && read.length == number.size();
    if (whole && value < same_from && is_nps(value)) return value;
  }
  return std::nullopt;
}

}  // namespace

void RowReader::read(const ListColumn& column, std::string_view cell, QuantityEntry& entry) {
  if (column.key->path == "pipe.outside_diameter") {
    cell = without_diameter_sign(cell);
    if (const auto inches = inches_of_a_size(cell, column.unit)) {
      problem(column, cell,
              fmt::format("\"{0}\" can be the size NPS {1:g} or an outside diameter of {2:g} mm; "
                          "write the outside diameter as \"{2:g} mm\", or the size for pipe.size",
                          shown(cell), *inches, *inches * 25.4));
      return;
    }
  }
  if (const auto both = present_and_former(cell)) {
    remark(column, cell, fmt::format("the former value {} is not used", shown(both->former)));
    add_quantity(column, both->present, entry);
    return;
  }
  const auto several = alternatives(cell);
  if (several.size() > 1) {
    for (std::string_view one : several) {
      if (!add_quantity(column, one, entry)) return;
    }
    remark(column, cell, fmt::format("planned for {}", fmt::join(several, " and for ")));
    return;
  }
  if (const auto range = cell_range(cell)) {
    if (!add_quantity(column, range->low, entry) || !add_quantity(column, range->high, entry)) {
      return;
    }
    entry.between = true;
    remark(column, cell, fmt::format("planned for {} and for {}", range->low, range->high));
    return;
  }
  add_quantity(column, cell, entry);
}

namespace {

/// Readings of one wall: "7.1; 7.0", "2.75 / 4.28 / 4.49" or "0.28/0.275/0.281 in", where the unit
/// stands behind the last for all of them. Two with a slash could be a choice and are one text.
std::vector<std::string> wall_readings(std::string_view cell) {
  const char mark = cell.find(';') != std::string_view::npos ? ';' : '/';
  const auto marks = std::ranges::count(cell, mark);
  if (marks == 0 || (mark == '/' && marks == 1)) return {std::string(cell)};
  std::vector<std::string> out;
  for (std::string_view rest = cell; !rest.empty();) {
    const std::size_t at = rest.find(mark);
    if (const auto one = trimmed(rest.substr(0, at)); !one.empty()) out.emplace_back(one);
    rest = at == std::string_view::npos ? std::string_view() : rest.substr(at + 1);
  }
  const auto is_bare = [](std::string_view text) {
    return text.find_first_not_of("0123456789., ") == std::string_view::npos;
  };
  const bool shared =
      !out.empty() && !is_bare(out.back()) && std::all_of(out.begin(), out.end() - 1, is_bare);
  if (!shared) return out;
  const std::size_t unit = out.back().find_first_not_of("0123456789., ");
  for (std::size_t i = 0; i + 1 < out.size(); ++i) out[i] += " " + out.back().substr(unit);
  return out;
}

}  // namespace

std::optional<Reading> RowReader::wall_reading(const ListColumn& column, std::string_view cell,
                                               std::string_view one, std::string& text) {
  // ".375w": a wall in a list of pipe sizes.
  if (one.size() > 1 && one.back() == 'w' && is_digit(one[one.size() - 2])) one.remove_suffix(1);
  auto with = with_unit(column, one);
  if (!with) return std::nullopt;
  auto stated = stated_quantity(*with, column.key->info);
  if (auto* wrong = std::get_if<std::string>(&stated)) {
    const bool word = !is_digit(one.front()) && one.front() != '.';
    if (word) *wrong += "; a schedule stands in a column for pipe.schedule";
    problem(column, cell, std::move(*wrong));
    return std::nullopt;
  }
  text = std::move(*with);
  return std::get<Reading>(stated);
}

void RowReader::read(const ListColumn& column, std::string_view cell, Entry<WallRequest>& entry) {
  const auto several = alternatives(cell);
  if (entry.options.size() > 1 || (several.size() > 1 && !entry.options.empty())) {
    problem(column, cell,
            "two columns have a wall, and one of them offers alternatives; state one of them");
    return;
  }
  if (several.size() > 1) {
    for (std::string_view one : several) {
      std::string text;
      const auto reading = wall_reading(column, cell, one, text);
      if (!reading) return;
      auto& option = entry.options.emplace_back();
      option.value.readings.push_back(*reading);
      option.text = std::move(text);
    }
    remark(column, cell, fmt::format("planned for {}", fmt::join(several, " and for ")));
    return;
  }
  std::vector<std::string> readings;
  if (const auto both = present_and_former(cell)) {
    remark(column, cell, fmt::format("the former wall {} is not used", shown(both->former)));
    readings.emplace_back(both->present);
  } else {
    readings = wall_readings(cell);
  }
  for (const std::string& one : readings) {
    std::string text;
    const auto reading = wall_reading(column, cell, one, text);
    if (!reading) return;
    if (entry.options.empty()) entry.options.emplace_back();
    Option<WallRequest>& option = entry.options.front();
    option.value.readings.push_back(*reading);
    if (option.text.empty()) option.text = std::move(text);
  }
}

namespace {

/// A mean of readings that lie so far apart is no wall: a slip of the decimal mark or of the unit.
constexpr double most_ratio_of_readings = 3;  // (judged)

}  // namespace

/// The thinnest wall of a pipe wider than `wide_m` (judged: 22 x 0.6 mm is a tube, 50 x 0.5 none).
constexpr double thinnest_wall_m = 0.5e-3, wide_m = 0.05;
/// The widest pipe whose diameter lists hold in inches: 80 of ASME B36.10M, and some more.
constexpr double widest_in_inches_m = 84 * 25.4e-3;

/// A number of the other unit in a column of inches or millimetres.
void RowReader::check_units() {
  const QuantityEntry& diameter = request_.pipe.outside_diameter;
  if (diameter.options.size() != 1) return;
  const double diameter_m = diameter.options.front().value.si;
  const auto bare_cell = [&](std::string_view key, std::string_view unit) -> const ListColumn* {
    const ListColumn* column = layout_.column_of(key);
    if (!column || column->unit != unit || column->unit_column) return nullptr;
    const std::string_view cell = cell_at(*row_, column->index);
    const bool bare = read_bare_number(cell, column->numbers).kind == BareNumber::Kind::number;
    return bare ? column : nullptr;
  };
  if (diameter_m > widest_in_inches_m) {
    if (const ListColumn* column = bare_cell("pipe.outside_diameter", "in")) {
      const std::string_view cell = cell_at(*row_, column->index);
      problem(*column, cell,
              fmt::format("{0} inches are {1:.4g} mm; write \"{0} mm\" or, where inches are meant, "
                          "\"{0} in\"",
                          shown(cell), diameter_m * 1e3));
    }
  }
  const auto& walls = request_.pipe.wall.options;
  if (walls.size() != 1 || walls.front().value.readings.size() != 1 || diameter_m < wide_m) return;
  const double wall_m = walls.front().value.readings.front().si;
  if (wall_m >= thinnest_wall_m) return;
  if (const ListColumn* column = bare_cell("pipe.wall", "mm")) {
    const std::string_view cell = cell_at(*row_, column->index);
    problem(*column, cell,
            fmt::format("{0} mm are no wall of a pipe of {1:.4g} mm; write \"{0} in\" where inches "
                        "are meant, or the wall with its unit",
                        shown(cell), diameter_m * 1e3));
  }
}

void RowReader::check_readings() {
  for (const Option<WallRequest>& option : request_.pipe.wall.options) {
    const auto& readings = option.value.readings;
    if (readings.size() < 2) continue;
    const auto value = [](const Reading& one) { return one.si; };
    const auto [least, most] = std::ranges::minmax_element(readings, {}, value);
    if (value(*most) <= most_ratio_of_readings * value(*least)) continue;
    const ListColumn* column = layout_.column_of("pipe.wall");
    if (!column) return;
    problem(*column, cell_at(*row_, column->index),
            fmt::format(
                "readings of {:.4g} mm and {:.4g} mm are not of one wall: leave out the one "
                "that is wrong, or write \"{:.4g} mm or {:.4g} mm\" to plan both",
                value(*least) * 1e3, value(*most) * 1e3, value(*least) * 1e3, value(*most) * 1e3));
    return;
  }
}

// ---------------------------------------------------------------- sizes

/// The cell as a designation: bare numbers get the column's NPS or DN before them.
std::optional<std::string> RowReader::nominal_size(const ListColumn& column,
                                                   std::string_view cell) {
  if (auto spoiled = spoiled_by_spreadsheet(cell)) {
    problem(column, cell, std::move(*spoiled));
    return std::nullopt;
  }
  // Designations begin with letters ("NPS 6"), numbers don't.
  const char first = static_cast<char>(cell.front() | 0x20);
  if (first >= 'a' && first <= 'z') return std::string(cell);
  const std::string typed = plain_text(cell);
  const std::string plain(trimmed(typed));
  std::string_view number = plain;
  std::string_view unit_written;
  const std::string low = lower(plain);
  for (std::string_view inch : {"-inch", " inch", "inch", " in.", " in", "in", "\"", " mm", "mm"}) {
    if (!low.ends_with(inch) || low.size() == inch.size()) continue;
    number = trimmed(std::string_view(plain).substr(0, plain.size() - inch.size()));
    unit_written = inch.ends_with("mm") ? "mm" : "in";
    break;
  }
  const BareNumber bare = read_bare_number(number, column.numbers);
  if (bare.kind == BareNumber::Kind::unclear) {
    problem(column, cell, bare.message);
    return std::nullopt;
  }
  const NumberText read =
      read_number(bare.kind == BareNumber::Kind::number ? std::string_view(bare.text) : number);
  const std::size_t length =
      bare.kind == BareNumber::Kind::number ? bare.text.size() : number.size();
  const bool is_number = read.fault == NumberFault::none && read.length == length;
  if (!is_number) return std::string(cell);
  const double value = read.times_ten_to(0).value_or(0);
  std::string_view unit = column.unit;
  if (column.unit_column) unit = trimmed(cell_at(*row_, *column.unit_column));
  const bool nps = unit == "NPS" && unit_written != "mm";
  const bool dn = unit == "DN" && unit_written != "in";
  const std::string digits =
      bare.kind == BareNumber::Kind::number ? bare.text : std::string(number);
  if (unit_written.empty() && !column.veto.empty()) {
    problem(column, cell, fmt::format("\"{}\": {}", shown(cell), column.veto));
    return std::nullopt;
  }
  if (nps || dn) {
    if (nps ? is_nps(value) : is_dn(value)) return fmt::format("{} {}", nps ? "NPS" : "DN", digits);
    if (unit_written == "mm") return std::string(cell);
    problem(column, cell,
            fmt::format("\"{}\" is no {} of any pipe table; write the size with what it is, as "
                        "\"{}\", or as an outside diameter, as \"OD {} {}\"{}",
                        shown(cell), unit, nps ? "NPS 6" : "DN 150", digits,
                        !unit_written.empty() ? unit_written
                        : nps                 ? "in"
                                              : "mm",
                        nps && unit_written.empty() ? fmt::format(" or \"OD {} mm\"", digits)
                                                    : std::string()));
    return std::nullopt;
  }
  if (!unit_written.empty()) return std::string(cell);
  if (unit.empty()) return std::string(cell);
  return fmt::format("{} {}", digits, unit);
}

void RowReader::read(const ListColumn& column, std::string_view cell, NameEntry& entry) {
  const auto add = [&](std::string text) {
    Option<std::string>& option = entry.options.emplace_back();
    option.value = text;
    option.text = std::move(text);
  };
  if (!may_offer_alternatives(cell)) {
    if (column.key->path != "pipe.size") return add(std::string(cell));
    if (auto text = nominal_size(column, cell)) add(std::move(*text));
    return;
  }
  const auto several = alternatives(cell);
  if (column.key->path != "pipe.size") {
    for (std::string_view one : several) add(std::string(one));
  } else {
    for (std::string_view one : several) {
      auto text = nominal_size(column, one);
      if (!text) return;
      add(std::move(*text));
    }
  }
  if (several.size() > 1) {
    std::vector<std::string_view> texts;
    for (const auto& option : entry.options) texts.push_back(option.text);
    remark(column, cell, fmt::format("planned for {}", fmt::join(texts, " and for ")));
  }
}

namespace {

/// A schedule's cell as designations have it: "40", "40S" and "10.0" are schedules, or what the
/// column's unit says ("SDR").
std::string schedule_words(std::string_view cell, std::string_view unit) {
  if (cell.ends_with(".0")) cell.remove_suffix(2);
  const std::size_t digits = cell.find_first_not_of("0123456789.");
  const bool bare = digits == std::string::npos ||
                    (lower(cell[digits]) == 's' && digits + 1 == cell.size() && digits > 0);
  if (!bare) return std::string(cell);
  return fmt::format("{} {}", unit.empty() ? "sch" : unit, cell);
}

}  // namespace

void RowReader::join_size_and_schedule() {
  if (schedule_.options.empty()) return;
  const ListColumn& column = *layout_.column_of("pipe.schedule");
  NameEntry& size = request_.pipe.size;
  if (size.options.empty()) {
    const QuantityEntry& diameter = request_.pipe.outside_diameter;
    if (diameter.options.empty()) {
      if (!row_->problems.empty()) return;  // perhaps that it can't be read
      const std::string_view cell = cell_at(*row_, column.index);
      problem(column, cell,
              fmt::format("\"{}\" belongs to a size, and the row has none: write the size or the "
                          "outside diameter too (pipe.size, pipe.outside_diameter)",
                          shown(cell)));
      return;
    }
    if (diameter.options.size() > 1) {
      problem(column, cell_at(*row_, column.index),
              fmt::format("the outside diameter has alternatives; write sizes in their place, such "
                          "as \"OD {0} {1} or OD {2} {1}\" for pipe.size",
                          diameter.options[0].text,
                          schedule_words(schedule_.options.front().text, column.unit),
                          diameter.options[1].text));
      return;
    }
    size.options.emplace_back().value = fmt::format("OD {}", diameter.options.front().text);
  }
  std::vector<Option<std::string>> joined;
  for (const Option<std::string>& one : size.options) {
    for (const Option<std::string>& option : schedule_.options) {
      const std::string schedule = schedule_words(option.text, column.unit);
      Option<std::string>& both = joined.emplace_back(one);
      if (lower(one.value).find(lower(schedule)) == std::string::npos) {
        both.value = fmt::format("{} {}", one.value, schedule);
      }
      both.text = both.value;
    }
  }
  size.options = std::move(joined);
}

// ---------------------------------------------------------------- words

void RowReader::read(const ListColumn&, std::string_view cell, TextEntry& entry) {
  entry.value = std::string(cell);
}

void RowReader::read(const ListColumn& column, std::string_view cell, ChoiceEntry& entry) {
  const auto exact = std::ranges::find(column.key->info.choices, cell);
  if (exact != column.key->info.choices.end()) {
    entry.value = std::string(cell);
    return;
  }
  const std::string folded = folded_name(cell);
  for (const ChoiceWord& word : choice_words) {
    if (word.key == column.key->path && word.words == folded) {
      entry.value = std::string(word.choice);
      return;
    }
  }
  auto stated = stated_choice(cell, column.key->info);
  if (auto* wrong = std::get_if<std::string>(&stated)) {
    problem(column, cell, std::move(*wrong));
    return;
  }
  entry.value = std::string(std::get<std::string_view>(stated));
}

void RowReader::read(const ListColumn& column, std::string_view cell, WordsEntry& entry) {
  for (std::string_view rest = cell; !rest.empty();) {
    const std::size_t at = rest.find_first_of(";,|+");
    const std::string_view word = trimmed(rest.substr(0, at));
    rest = at == std::string_view::npos ? std::string_view() : rest.substr(at + 1);
    if (word.empty()) continue;
    ChoiceEntry one;
    read(column, word, one);
    if (one.value) entry.values.push_back(std::move(*one.value));
  }
}

void RowReader::read(const ListColumn& column, std::string_view cell, FlagEntry& entry) {
  const std::string word = lower(cell);
  for (std::string_view yes : {"yes", "y", "true", "x", "1", "ja", "si", "da"}) {
    if (word == yes) entry.value = true;
  }
  for (std::string_view no : {"no", "n", "false", "nein", "ne"}) {
    if (word == no) entry.value = false;
  }
  if (!entry.value) problem(column, cell, fmt::format("\"{}\" must be yes or no", shown(cell)));
}

void RowReader::read(const ListColumn& column, std::string_view cell, CountEntry& entry) {
  if (column.key->info.may_be_best && folded_name(cell) == "best") {
    entry.best = true;
    return;
  }
  int count = 0;
  const auto [end, fault] = std::from_chars(cell.data(), cell.data() + cell.size(), count);
  if (fault != std::errc() || end != cell.data() + cell.size() || count < 1 ||
      count > column.key->info.most_count) {
    problem(
        column, cell,
        fmt::format("\"{}\" must be a whole number from 1 to {}{}", shown(cell),
                    column.key->info.most_count, column.key->info.may_be_best ? ", or best" : ""));
    return;
  }
  entry.value = count;
}

void RowReader::read(const ListColumn&, std::string_view cell, SensorsEntry& entry) {
  entry.key = std::string(cell);
}

void RowReader::read(const ListColumn& column, std::string_view cell,
                     Entry<MaterialRequest>& entry) {
  const auto several =
      may_offer_alternatives(cell) ? alternatives(cell) : std::vector<std::string_view>{cell};
  for (std::string_view one : several) {
    Option<MaterialRequest>& option = entry.options.emplace_back();
    option.value.name.value = std::string(one);
    option.text = one;
  }
  if (several.size() > 1) {
    remark(column, cell, fmt::format("planned for {}", fmt::join(several, " and for ")));
  }
}

// ---------------------------------------------------------------- layers and fittings

namespace {

/// What people write where there is no lining or coating, folded (common practice, no source).
bool says_no_layer(std::string_view cell) {
  static constexpr std::array<std::string_view, 29> words = {"none",
                                                             "no",
                                                             "n",
                                                             "unlined",
                                                             "not_lined",
                                                             "uncoated",
                                                             "bare",
                                                             "false",
                                                             "ohne",
                                                             "without",
                                                             "w/o",
                                                             "no_lining",
                                                             "no_coating",
                                                             "no_liner",
                                                             "keine",
                                                             "kein",
                                                             "nein",
                                                             "ninguno",
                                                             "ninguna",
                                                             "sin",
                                                             "nema",
                                                             "sin_revestimiento",
                                                             "aucun",
                                                             "sans",
                                                             "brak",
                                                             "nessuno",
                                                             "\u043d\u0435\u0442",
                                                             "\u041d\u0435\u0442",
                                                             "not_coated"};
  return std::ranges::find(words, folded_name(cell)) != words.end();
}

bool says_some_layer(std::string_view cell) {
  static constexpr std::array<std::string_view, 10> words = {"yes", "y",  "lined", "coated", "true",
                                                             "x",   "ja", "si",    "oui",    "da"};
  return std::ranges::find(words, folded_name(cell)) != words.end();
}

}  // namespace

void RowReader::read(const ListColumn& column, std::string_view cell, Entry<LayerRequest>& entry) {
  if (says_no_layer(cell)) {
    entry.options.emplace_back().value.none = true;
    entry.options.front().text = "none";
    return;
  }
  if (says_some_layer(cell)) {
    LayerColumns& layer = column.key->path == "pipe.liner" ? liner_ : coating_;
    layer.said_to_be = &column;  // with what may stand in a column for the material
    return;
  }
  // Material and thickness in either order: "cement mortar 3.2 mm", "3 mm epoxy".
  std::string_view material = cell, thickness;
  const std::size_t digit = cell.find_first_of("0123456789");
  if (digit == 0) {
    const std::size_t unit = cell.find_first_not_of("0123456789.,/ ");
    const std::size_t end = unit == std::string_view::npos ? unit : cell.find_first_of(" ,", unit);
    thickness = trimmed(cell.substr(0, end));
    material = end == std::string_view::npos ? std::string_view() : trimmed(cell.substr(end + 1));
  } else if (digit != std::string_view::npos) {
    thickness = trimmed(cell.substr(digit));
    material = trimmed(cell.substr(0, digit));
    while (!material.empty() && std::string_view("(,:-").find(material.back()) != material.npos) {
      material = trimmed(material.substr(0, material.size() - 1));
    }
    if (thickness.ends_with(')')) thickness.remove_suffix(1);
  }
  Option<LayerRequest>& option = entry.options.emplace_back();
  if (!material.empty()) {
    auto& name = option.value.material.options.emplace_back();
    name.value.name.value = std::string(material);
    name.text = material;
  }
  if (!thickness.empty()) {
    static const KeyInfo length{.key = "thickness", .help = {}, .example = {}, .positive = true};
    auto text = with_unit(column, thickness);
    if (!text) return;
    auto stated = stated_quantity(*text, length);
    if (auto* wrong = std::get_if<std::string>(&stated)) {
      problem(column, cell,
              fmt::format("{}; write material and thickness, for instance \"cement mortar 3.2 mm\"",
                          *wrong));
      return;
    }
    auto& value = option.value.thickness.options.emplace_back();
    value.value = std::get<Reading>(stated);
    value.text = *text;
  }
  option.text = cell;
}

void RowReader::join_layers() {
  join_layer(liner_, request_.pipe.liner, defaults_.pipe.liner, "pipe.liner");
  join_layer(coating_, request_.pipe.coating, defaults_.pipe.coating, "pipe.coating");
}

void RowReader::join_layer(LayerColumns& columns, Entry<LayerRequest>& entry,
                           const Entry<LayerRequest>& when_blank, std::string_view key) {
  LayerRequest& parts = columns.parts;
  // A cell "none" under the material is no layer.
  const bool none =
      !parts.material.options.empty() && says_no_layer(parts.material.options.front().text);
  const bool stated = parts.material.given() || parts.thickness.given();
  if (columns.said_to_be && (none || !parts.material.given())) {
    const std::string_view cell = cell_at(*row_, columns.said_to_be->index);
    problem(*columns.said_to_be, cell,
            fmt::format("\"{}\" does not say with what; write material and thickness, for instance "
                        "\"cement mortar 3.2 mm\", or leave the cell empty where it is not known",
                        shown(cell)));
    return;
  }
  if (!columns.in_parts) return;
  if (entry.options.empty() && !stated) {
    entry = when_blank;
    // A thickness or material for all rows waits for the other, which this row has not.
    if (!entry.options.empty() && !entry.options.front().value.none &&
        !(entry.options.front().value.material.given() &&
          entry.options.front().value.thickness.given())) {
      clear_entry(entry);
    }
    return;
  }
  if (!stated) return;
  const bool said_none = !entry.options.empty() && entry.options.front().value.none;
  if (none) {
    clear_entry(entry);
    entry.options.emplace_back().value.none = true;
    return;
  }
  if (said_none) {
    const ListColumn* column = layout_.column_of(key);
    const std::string& other = parts.material.given() ? parts.material.options.front().text
                                                      : parts.thickness.options.front().text;
    if (column) {
      problem(*column, cell_at(*row_, column->index),
              fmt::format("says that there is none, and another column says \"{}\"; correct one of "
                          "them",
                          shown(other)));
    }
    return;
  }
  if (entry.options.empty()) entry.options.emplace_back();
  LayerRequest& layer = entry.options.front().value;
  const LayerRequest* rest =
      when_blank.options.empty() ? nullptr : &when_blank.options.front().value;
  if (parts.material.given()) layer.material = parts.material;
  if (parts.thickness.given()) layer.thickness = parts.thickness;
  if (rest && !layer.material.given()) layer.material = rest->material;
  if (rest && !layer.thickness.given()) layer.thickness = rest->thickness;
  if (parts.under_sensors.value) layer.under_sensors = parts.under_sensors;
}

/// "2.1 m", as nearly all distances are written; nullopt: to be read with all that a cell can be.
std::optional<Reading> RowReader::plain_distance(const ListColumn& column, std::string_view text) {
  const std::size_t blank = text.find(' ');
  if (blank == std::string_view::npos) return {};
  if (!is_plain_decimal(text.substr(0, blank), column.numbers)) return {};
  const std::string_view unit = text.substr(blank + 1);
  if (unit.empty() || unit.front() == ' ') return {};
  if (unit != distance_unit_) {
    distance_unit_ = unit;
    distance_reader_ = UnitReader::of(unit, distance_info().dimensions);
  }
  if (!distance_reader_) return {};
  auto reading = distance_reader_->read(text.substr(0, blank));
  if (reading && not_allowed(*reading, text, distance_info())) return {};
  return reading;
}

void RowReader::read(const ListColumn& column, std::string_view cell,
                     ListEntry<FittingRequest>& entry) {
  CellFittings read = read_fittings(cell);
  if (!read.message.empty()) {
    problem(column, cell, std::move(read.message));
    return;
  }
  for (CellFitting& one : read.fittings) {
    FittingRequest fitting;
    fitting.fitting.value = std::move(one.fitting);
    if (!one.taken_as.empty()) remark(column, cell, std::move(one.taken_as));
    if (const auto plain = plain_distance(column, one.distance)) {
      auto& option = fitting.distance.options.emplace_back();
      option.value = *plain;
      option.text = std::move(one.distance);
    } else if (!one.distance.empty()) {
      auto text = with_unit(column, one.distance);
      if (!text) return;
      auto stated = stated_quantity(*text, distance_info());
      if (auto* wrong = std::get_if<std::string>(&stated)) {
        problem(column, cell, std::move(*wrong));
        return;
      }
      auto& option = fitting.distance.options.emplace_back();
      option.value = std::get<Reading>(stated);
      option.text = std::move(*text);
    }
    entry.items.push_back(std::move(fitting));
  }
  entry.given = true;
}

/// A fitting and its distance in two columns: "elbow-90" and "2.1 m".
void RowReader::join_fitting(ListEntry<FittingRequest>& entry) {
  if (entry.items.size() != 2) return;
  const auto is_distance = [](const FittingRequest& one) {
    return one.fitting.value == "unknown" && one.distance.given();
  };
  if (is_distance(entry.items[0])) std::swap(entry.items[0], entry.items[1]);
  if (!is_distance(entry.items[1]) || entry.items[0].distance.given()) return;
  entry.items[0].distance = std::move(entry.items[1].distance);
  entry.items.pop_back();
}

// ---------------------------------------------------------------- problems of the job

CellMessage cell_message(const Problem& of_job, const ListRow& row, const ListLayout& layout) {
  Problem problem = of_job;
  const bool missing = problem.message.starts_with("is missing");
  // In a cell "unknown" is missing; for all rows at once it can be set.
  constexpr std::string_view in_job = ", or \"unknown\" to plan the usual walls";
  if (const std::size_t at = problem.message.find(in_job); at != std::string::npos) {
    problem.message.replace(at, in_job.size(),
                            ", or --set pipe.wall=unknown to plan the usual walls of every row");
  }
  // The column of the key itself, of its list ("location.upstream[0].distance") or of its object.
  std::string key = problem.key;
  const ListColumn* column = layout.column_of(key);
  while (!column && !key.empty()) {
    const std::size_t cut = key.find_last_of(".[");
    key = cut == std::string::npos ? std::string() : key.substr(0, cut);
    if (key == "pipe" || key == "fluid" || key == "flow" || key == "location") break;
    if (!key.empty()) column = layout.column_of(key);
  }
  // A wall is missing where the size has none; a size without a wall may come from its schedule.
  if (!column && problem.key == "pipe.wall") column = layout.column_of("pipe.schedule");
  problem.message = in_list_words(problem.message, column ? column->key->path : problem.key);
  if (column) {
    const std::string_view cell = cell_at(row, column->index);
    CellMessage out{column->heading, std::string(cell), problem.message};
    // A missing value that has something in its cell needs a word on that.
    for (const CellMessage& remark : row.remarks) {
      if (missing && remark.column == column->heading &&
          remark.message.find("taken for missing") != std::string::npos) {
        out.message += fmt::format("; \"{}\" is taken for missing", shown(cell));
        break;
      }
    }
    return out;
  }
  CellMessage out{problem.key, {}, problem.message};
  if (!missing) return out;
  for (const ListColumn& other : layout.columns) {
    if (other.key || other.proposal.empty() || !other.proposal.starts_with(problem.key)) continue;
    out.message += fmt::format("; column \"{}\" looks like it: --map '{}={}'", shown(other.heading),
                               shown(other.heading), other.proposal);
    return out;
  }
  out.message += fmt::format(
      "; no column stands for it: --map 'HEADING={}', or give it to all rows with --set or "
      "--defaults",
      problem.key);
  return out;
}

}  // namespace slantrule
