#pragma once

/// A list of pipes as the commands take it, and the way through it: blocks of rows are read in
/// order, planned by all cores, and given out in order, with memory for a few blocks only.

#include <CLI/CLI.hpp>
#include <cstddef>
#include <deque>
#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <set>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "slantrule/catalogue/catalogue.hpp"
#include "slantrule/cli/common_options.hpp"
#include "slantrule/files/delimited_text.hpp"
#include "slantrule/files/job_file.hpp"
#include "slantrule/files/job_lines.hpp"
#include "slantrule/files/list_columns.hpp"
#include "slantrule/sheets/survey_sheet.hpp"

namespace slantrule::cli {

/// Options of the list commands.
struct ListInput {
  std::string list;
  std::vector<std::string> maps, map_files, sets, fill_down;
  std::string defaults, encoding = "auto", separator = "auto";
  std::size_t heading_line = 0;
  bool take_proposals = false;
  std::size_t threads = 0;

  void add_to(CLI::App& app);
};

/// A few rows of a list, with the text they were read from.
struct ListBlock {
  struct Row {
    std::size_t row = 0, line = 0;
    std::span<const std::string_view> cells;  ///< of a table
    std::string_view json;                    ///< of JSON Lines
    bool quotes_mended = false, too_long = false, foreign_bytes = false;
    bool tag_alone = false;  ///< and the size, which the defaults hold, is blank
  };
  std::vector<Row> rows;
  RecordBlock records;
  std::deque<std::vector<std::string_view>> filled;  ///< rows that took values from above
  std::deque<std::string> texts;                     ///< lines of JSON, values from above
};

/// What became of a list besides its rows.
struct ListRemarks {
  std::vector<LeftOutLine> left_out;  ///< the first hundred
  std::size_t left_out_count = 0;
};

/// An opened list whose columns are decided.
class OpenList {
 public:
  /// Null after complaining: the list, a map, the defaults or a catalogue cannot be read.
  static std::unique_ptr<OpenList> open(const ListInput& input, const CommonOptions& common);

  const Catalogue& catalogue() const { return catalogue_; }
  const ListLayout& layout() const { return layout_; }
  const ListRemarks& remarks() const { return remarks_; }
  /// The list's columns as results name them. Of JSON Lines these are the headings of the first
  /// lines, then the keys of jobs, and "line" for what could not be read.
  ListColumns result_columns() const;
  /// Headings of columns that hold something and stand for nothing, unless a map says that this is
  /// meant so. Those with a proposal are among them.
  const std::vector<std::string>& unused_columns() const { return unused_; }
  /// Tells on standard error what was decided about columns without the list saying so itself.
  void tell_columns() const;
  bool is_json() const { return lines_.has_value(); }
  /// How the text of a table is written: "separated by ;, windows-1252 (...)".
  std::string how_written() const;
  /// For each column, how some of its first cells are read.
  std::vector<std::vector<CellSample>> samples() const;

  /// For each column, whether its blanks look as if they repeat the value above; else empty.
  std::vector<std::string> fill_down_advice() const;

  /// The next rows in order; false at the end. Not for several threads at once.
  bool take(ListBlock& block);

  /// Reads and resolves the rows of blocks; one for each thread.
  class Worker;

 private:
  OpenList() = default;
  bool open_source(const ListInput& input);
  bool read_defaults(const ListInput& input, const std::string& path);
  bool decide(const ListInput& input);
  bool decide_table(const LayoutOptions& options);
  bool decide_lines(const LayoutOptions& options);
  void note_filled(std::span<const ListRecord> rows);
  void note_unused();
  void note_misspelt();
  bool refuse_misspelt() const;
  void note_headings_within();
  bool is_heading_within(std::span<const std::string_view> cells) const;
  bool has_tag(std::span<const std::string_view> cells) const;
  void add_rows(ListBlock& block, std::size_t first);
  void fill_from_above(ListBlock& block, ListBlock::Row& row);
  std::size_t read(char* into, std::size_t most);

  Catalogue catalogue_;
  std::string name_;
  int descriptor_ = -1;
  bool failed_ = false;
  std::string begun_;  ///< bytes read to tell the kind of list
  std::optional<DelimitedReader> table_;
  std::optional<LineSplitter> lines_;
  std::deque<RecordBlock> window_;   ///< read ahead, of a table
  std::deque<JobLine> line_window_;  ///< the same, of JSON Lines
  std::size_t skip_records_ = 0;     ///< of the window: titles, headings, units
  ListLayout layout_;
  std::vector<std::string> member_names_;  ///< of JSON Lines; the layout's columns come first
  std::vector<std::string> unused_;
  /// By column: what is wrong with a heading that looks like a key and is none; else empty.
  std::vector<std::string> misspelt_;
  /// Columns of which a pipe has some: a row with none of them is a heading or a note. None where
  /// rows are not told apart so.
  std::vector<std::size_t> pipe_columns_;
  std::vector<bool> filled_;  ///< by column: whether the first rows hold anything
  ListRemarks remarks_;
  JobRequest defaults_;
  JsonNode defaults_tree_;
  std::vector<std::string> sets_;
  ReadNamedFile files_;
  std::vector<std::size_t> fill_columns_;
  std::vector<std::string> above_;  ///< last values of those columns
  std::size_t rows_ = 0;

 public:
  OpenList(const OpenList&) = delete;
  OpenList& operator=(const OpenList&) = delete;
  ~OpenList();
  bool read_failed() const { return failed_; }
};

/// Reads, resolves and plans rows, each by itself.
class OpenList::Worker {
 public:
  explicit Worker(const OpenList& list);
  ~Worker();
  /// Calls `each` with every row of the block, in order.
  void work(ListBlock& block, const PlanOptions& options,
            const std::function<void(SurveyRow&)>& each);

 private:
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

/// What a thread needs for a block and another can use for the next one: a worker and what it
/// counts. Kept until the end, so that the counts can be added up.
template <class T>
class Pool {
 public:
  explicit Pool(std::function<std::unique_ptr<T>()> make) : make_(std::move(make)) {}

  /// Calls `use` with a T that no other thread has.
  void with(const std::function<void(T&)>& use) {
    std::unique_ptr<T> mine;
    {
      const std::lock_guard lock(mutex_);
      if (!free_.empty()) {
        mine = std::move(free_.back());
        free_.pop_back();
      }
    }
    if (!mine) mine = make_();
    use(*mine);
    const std::lock_guard lock(mutex_);
    free_.push_back(std::move(mine));
  }
  /// All of them, once no thread is at work any more.
  const std::vector<std::unique_ptr<T>>& all() const { return free_; }

 private:
  std::function<std::unique_ptr<T>()> make_;
  std::mutex mutex_;
  std::vector<std::unique_ptr<T>> free_;
};

/// Runs through the whole list with `threads` workers (0: one for each core). `work` fills its text
/// by a block; `give` takes the texts in order and returns false to stop.
void run_through(OpenList& list, std::size_t threads,
                 const std::function<void(ListBlock&, std::string&)>& work,
                 const std::function<bool(std::string&&)>& give);

}  // namespace slantrule::cli
