#include "list_column_parts.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <map>
#include <set>

#include "list_headings.hpp"
#include "list_series.hpp"
#include "slantrule/units/ascii.hpp"
#include "slantrule/units/number_text.hpp"
#include "slantrule/units/suggest.hpp"

namespace slantrule::list_layout {

void propose(ListColumn& column, const HeadingMeaning& meaning) {
  const ColumnKey& key = *find_column_key(meaning.key);
  std::string message;
  const bool with_unit = !meaning.unit.empty() && unit_fits(key, meaning.unit, message);
  column.proposal = with_unit ? fmt::format("{} [{}]", key.path, meaning.unit) : key.path;
}

namespace {

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

}  // namespace

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

}  // namespace slantrule::list_layout
