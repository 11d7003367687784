#pragma once

/// From the cells of one row to a job, every refusal tied to its column and cell.

#include <memory>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "slantrule/files/list_columns.hpp"
#include "slantrule/files/list_row.hpp"
#include "slantrule/planning/job_request.hpp"

namespace slantrule {

/// Reads row after row into one request, whose memory it keeps. One for each thread.
class RowReader {
 public:
  /// `layout` must outlive the reader. `defaults` holds what rows leave blank.
  RowReader(const ListLayout& layout, const JobRequest& defaults);
  RowReader(const RowReader&) = delete;
  RowReader& operator=(const RowReader&) = delete;

  /// The job of the row's cells. Adds to its problems and remarks; with problems the request is
  /// incomplete. Valid until the next row is read.
  const JobRequest& read(ListRow& row);

  /// What the cell of a column came to in the row just read: "NPS 6", "missing", "refused: ...";
  /// empty where the column is not used.
  std::string reading_of(const ListRow& row, std::size_t column) const;

 private:
  template <class EntryType>
  struct Bound {
    EntryType* entry;             ///< in request_, liner_ or coating_
    const EntryType* when_blank;  ///< the same entry of the defaults
  };
  using AnyBound =
      std::variant<Bound<QuantityEntry>, Bound<NameEntry>, Bound<TextEntry>, Bound<ChoiceEntry>,
                   Bound<WordsEntry>, Bound<FlagEntry>, Bound<CountEntry>, Bound<SensorsEntry>,
                   Bound<Entry<MaterialRequest>>, Bound<Entry<LayerRequest>>,
                   Bound<Entry<WallRequest>>, Bound<ListEntry<FittingRequest>>>;
  struct BoundColumn {
    const ListColumn* column;
    AnyBound bound;
    std::optional<UnitReader> plain;  ///< of bare numbers, where their unit is known
    bool word_for_word = false;       ///< placeholders are kept too
  };

  /// What the row's cells say of a lining or coating part by part.
  struct LayerColumns {
    LayerRequest parts;
    bool in_parts = false;                   ///< there are columns for parts
    const ListColumn* said_to_be = nullptr;  ///< its cell says "yes"
  };

  void bind(const ListColumn& column);
  void read_cell(const BoundColumn& one, std::string_view cell);
  void read(const ListColumn& column, std::string_view cell, QuantityEntry& entry);
  void read(const ListColumn& column, std::string_view cell, NameEntry& entry);
  void read(const ListColumn& column, std::string_view cell, TextEntry& entry);
  void read(const ListColumn& column, std::string_view cell, ChoiceEntry& entry);
  void read(const ListColumn& column, std::string_view cell, WordsEntry& entry);
  void read(const ListColumn& column, std::string_view cell, FlagEntry& entry);
  void read(const ListColumn& column, std::string_view cell, CountEntry& entry);
  void read(const ListColumn& column, std::string_view cell, SensorsEntry& entry);
  void read(const ListColumn& column, std::string_view cell, Entry<MaterialRequest>& entry);
  void read(const ListColumn& column, std::string_view cell, Entry<LayerRequest>& entry);
  void read(const ListColumn& column, std::string_view cell, Entry<WallRequest>& entry);
  void read(const ListColumn& column, std::string_view cell, ListEntry<FittingRequest>& entry);

  void problem(const ListColumn& column, std::string_view cell, std::string message);
  void remark(const ListColumn& column, std::string_view cell, std::string message);
  /// The cell as a job would have it, with the column's unit behind a bare number; nullopt after a
  /// problem.
  std::optional<std::string> with_unit(const ListColumn& column, std::string_view cell);
  std::optional<std::string> nominal_size(const ListColumn& column, std::string_view cell);
  bool add_quantity(const ListColumn& column, std::string_view cell, QuantityEntry& entry);
  /// Takes a plain decimal of a column whose unit is known; false: it is something else.
  bool take_plain(const BoundColumn& one, std::string_view cell, QuantityEntry& entry);
  bool take_plain(const BoundColumn& one, std::string_view cell, Entry<WallRequest>& entry);
  std::optional<Reading> plain_reading(const BoundColumn& one, std::string_view cell) const;
  std::optional<Reading> plain_distance(const ListColumn& column, std::string_view text);
  /// One reading of the wall in `cell`, with the text that a job would have for it; nullopt after a
  /// problem.
  std::optional<Reading> wall_reading(const ListColumn& column, std::string_view cell,
                                      std::string_view one, std::string& text);
  void join_size_and_schedule();
  void join_layer(LayerColumns& columns, Entry<LayerRequest>& entry,
                  const Entry<LayerRequest>& when_blank, std::string_view key);
  void fill_blanks();
  void join_fitting(ListEntry<FittingRequest>& entry);
  void check_readings();
  void check_units();
  void join_layers();

  const ListLayout& layout_;
  JobRequest defaults_, request_;
  LayerColumns liner_, coating_;
  LayerRequest no_layer_;
  NameEntry schedule_, no_schedule_;
  bool size_by_schedule_ = false;  ///< sizes come from schedule and diameter alone
  bool split_upstream_ = false, split_downstream_ = false;  ///< fittings have several columns
  std::string distance_unit_;  ///< of the last plain distance, and what it means
  std::optional<UnitReader> distance_reader_;
  std::vector<BoundColumn> columns_;
  ListRow* row_ = nullptr;  ///< the one being read
};

/// Ties a problem of the whole job to the column that its key came from, and says how a key that
/// has no column can be given.
CellMessage cell_message(const Problem& problem, const ListRow& row, const ListLayout& layout);

}  // namespace slantrule
