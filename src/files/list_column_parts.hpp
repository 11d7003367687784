#pragma once

/// Steps of deciding the columns of a list; decide_layout puts them together.

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "list_headings.hpp"
#include "slantrule/files/list_cells.hpp"
#include "slantrule/files/list_columns.hpp"

namespace slantrule::list_layout {

inline constexpr std::string_view unit_of_words = "unit of ";

/// Whether a bare number with this unit is a value of the key; `message` says what is wrong.
bool unit_fits(const ColumnKey& key, std::string_view unit, std::string& message);

/// "[mm]" and "(mm)" as "mm".
std::string_view without_brackets(std::string_view text);
bool is_unit_text(std::string_view text);

/// The key that a column stands for or is proposed for.
std::string_view likely_key(const ListColumn& column);

/// A record of units alone, some cells blank: under each key that takes a unit one that fits, and
/// nothing under the others, so that no pipe called "P" is taken for poise.
bool is_unit_row(const ListRecord& record, const ListLayout& layout);
void take_units(const ListRecord& record, ListLayout& layout);

std::string_view cell_of(const ListRecord& record, const ListColumn& column);
std::vector<std::string_view> window_cells(std::span<const ListRecord> rows, std::size_t index);
std::optional<double> bare_value(std::string_view cell, NumberStyle style);
/// The bare numbers of a column, placeholders aside.
std::vector<double> bare_numbers(std::span<const std::string_view> cells, NumberStyle style);

/// What the other columns tell about the sizes of a list.
struct SizeNeighbours {
  std::vector<const ListColumn*> materials, walls, schedules;

  SizeNeighbours(const ListLayout& layout, std::span<const ListRecord> rows);
};

/// The unit of a column's bare numbers, or why they are refused. `by_user`: the key was stated.
void decide_units(ListColumn& column, std::span<const ListRecord> rows,
                  const SizeNeighbours& beside, bool by_user);
/// Commas that can only be decimal in one column make those of the others decimal, unless others
/// separate thousands: people do not change their style from column to column.
void decide_numbers(ListLayout& layout, std::span<const ListRecord> rows, bool semicolons);

void propose(ListColumn& column, const HeadingMeaning& meaning);
/// Takes back proposals that do not fit their cells or each other.
void review_proposals(ListLayout& layout, std::span<const ListRecord> rows);
void take_proposals(ListLayout& layout);

/// Lets the cells of a column be the units of the bare numbers of others.
bool serve_with_units(ListColumn& column, std::string_view list, ListLayout& layout,
                      std::string& message);

}  // namespace slantrule::list_layout
