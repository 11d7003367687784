#pragma once

/// What the columns of a list are: which row holds the headings, which key of a job each column
/// stands for, and the unit of its bare numbers. All of it is decided on the first rows, once, and
/// shown before anything is planned.

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "slantrule/files/list_cells.hpp"
#include "slantrule/planning/job_keys.hpp"
#include "slantrule/planning/resolved_job.hpp"

namespace slantrule {

/// Rows on which the columns are decided.
inline constexpr std::size_t list_window_rows = 1000;

/// How the cells of a column are read.
enum class ColumnKind : std::uint8_t {
  quantity,
  name,      ///< pipe.size, fluid.name
  schedule,  ///< pipe.schedule, the list's own key: joined to the size of the row
  text,      ///< tag, title, couplant ...
  choice,    ///< one word of a list
  words,     ///< several
  flag,      ///< yes or no
  count,     ///< path.traverses
  material,  ///< pipe.material, and those of liner and coating
  layer,     ///< pipe.liner, pipe.coating: "none", or material and thickness
  wall,      ///< pipe.wall; several columns are readings of one wall
  fittings,  ///< location.upstream and .downstream
  sensors,   ///< a catalogue key
  unit_of    ///< the unit of another column's bare numbers
};

/// A key that a column can stand for.
struct ColumnKey {
  std::string path;
  ColumnKind kind = ColumnKind::text;
  KeyInfo info;
};

/// All of them, in the order of a job.
const std::vector<ColumnKey>& column_keys();
const ColumnKey* find_column_key(std::string_view path);

/// One record of a list, as it was split into cells.
struct ListRecord {
  std::size_t line = 0;
  std::span<const std::string_view> cells;
};

/// "HEADING=KEY [UNIT]": a column and what it stands for. Without a key the column is not used.
struct ColumnMap {
  std::string heading;  ///< or "#3": the third column
  std::string key;      ///< a dotted key, or "unit of HEADING, HEADING"
  std::string unit;     ///< of bare numbers; empty: to be decided by the cells
};

/// nullopt, with `message` set: not of that form.
std::optional<ColumnMap> read_column_map(std::string_view text, std::string& message);
/// A file of such lines; blank lines and those that begin with "#" and a blank are passed over.
/// Mistakes are reported with their lines.
std::vector<ColumnMap> read_column_map_file(std::string_view text, std::vector<Problem>& problems);

/// How a cell of the column was read, for showing.
struct CellSample {
  std::string cell, reading;
};

struct ListColumn {
  std::string heading;
  std::size_t index = 0;           ///< position in a row, from 0
  const ColumnKey* key = nullptr;  ///< null: kept, and not used
  std::string unit;                ///< put to bare numbers: "mm", "NPS"; empty: none is known
  std::string veto;                ///< why bare numbers of this column are refused; or empty
  NumberStyle numbers = NumberStyle::open;
  std::optional<std::size_t> unit_column;  ///< index of the column that holds their unit
  std::string why;                         ///< what the choice rests on
  std::string proposal;  ///< of an unused column: what it could be, as `--map` takes it; or empty
};

/// A line that is no row: a title, units, a note or a total.
struct LeftOutLine {
  std::size_t line = 0;
  std::string text, why;
};

struct ListLayout {
  std::vector<ListColumn> columns;
  std::size_t heading_line = 0;
  std::size_t first_row = 0;          ///< index of the first record behind headings and units
  std::vector<LeftOutLine> left_out;  ///< above the first row
  std::vector<std::string> problems;  ///< of headings and maps; with any, nothing can be read

  std::vector<std::string> headings() const;
  /// The first column of that key, or null.
  const ListColumn* column_of(std::string_view key) const;
};

struct LayoutOptions {
  std::vector<ColumnMap> maps;
  bool take_proposals = false;              ///< use what the headings suggest, too
  bool semicolons = false;                  ///< they separate cells, as where commas are decimal
  std::optional<std::size_t> heading_line;  ///< absent: found by its words
};

/// Decides by the first records of a list. Pure.
ListLayout decide_layout(std::span<const ListRecord> window, const LayoutOptions& options);

/// Why a record is no row of the list: a total or a note below the table; nullopt for a row.
std::optional<std::string> no_row(std::span<const std::string_view> cells,
                                  const ListLayout& layout);

}  // namespace slantrule
