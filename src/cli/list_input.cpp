#include "slantrule/cli/list_input.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <fcntl.h>
#include <unistd.h>
#include <algorithm>
#include <cstring>
#include <thread>

#include "slantrule/cli/job_input.hpp"
#include "slantrule/cli/ordered_run.hpp"
#include "slantrule/cli/output.hpp"
#include "slantrule/cli/stop_signal.hpp"
#include "slantrule/files/job_file.hpp"
#include "slantrule/files/list_reader.hpp"
#include "slantrule/planning/resolver.hpp"
#include "slantrule/sheets/columns_sheet.hpp"
#include "slantrule/units/ascii.hpp"
#include "slantrule/units/suggest.hpp"

namespace slantrule::cli {
namespace {

/// Rows that one worker takes at a time: enough to make the taking cheap, few enough to keep memory
/// small and all workers busy to the end. Their results stay below the size from which the
/// allocator asks the system for fresh pages each time.
constexpr std::size_t block_rows = 48;
constexpr std::size_t most_left_out_kept = 100;
/// What the layout says of a column that a map decided.
constexpr std::string_view by_map = "by --map";

std::string joined_cells(std::span<const std::string_view> cells) {
  std::string out;
  for (std::string_view cell : cells) {
    if (cell.empty()) continue;
    if (!out.empty()) out += " | ";
    out += cell;
  }
  return shown(out, 100);
}

/// A heading without the unit in brackets behind it.
std::string_view without_unit(std::string_view heading) {
  const std::size_t end = heading.find_last_not_of(' ');
  if (end == std::string_view::npos || (heading[end] != ']' && heading[end] != ')')) return heading;
  const std::size_t open = heading.rfind(heading[end] == ']' ? " [" : " (");
  return open == std::string_view::npos ? heading : heading.substr(0, open);
}

/// Whether a heading is written as the dotted keys of a job are: "pipe.size" or nearly so.
bool looks_like_key(std::string_view name) {
  const std::size_t dot = name.find('.');
  if (dot == std::string_view::npos || dot + 1 == name.size()) return false;
  // "Pipe. No": an abbreviation.
  const char next = name[dot + 1];
  if (!((next >= 'a' && next <= 'z') || (next >= 'A' && next <= 'Z'))) return false;
  static constexpr std::string_view sections[] = {"pipe", "fluid", "flow",   "location",
                                                  "path", "meter", "sensors"};
  const std::string section = folded_name(name.substr(0, dot));
  return std::ranges::find(sections, section) != std::end(sections);
}

std::vector<std::string_view> dotted_keys() {
  std::vector<std::string_view> out;
  for (const ColumnKey& one : column_keys()) {
    if (one.path.find('.') != std::string::npos) out.push_back(one.path);
  }
  return out;
}

/// What is wrong with a heading that looks like a key of a job and is none; else empty.
std::string misspelt_key(std::string_view heading) {
  const std::string_view name = without_unit(heading);
  if (name.find('.') == std::string_view::npos) return {};
  const std::vector<std::string_view> keys = dotted_keys();
  std::optional<std::string_view> meant = nearest_name(name, keys);
  if (!meant && !looks_like_key(name)) return {};
  if (!meant) {
    // "flow.rate_m3_h", "location.upstream[0].fitting": a key with more behind it.
    const std::string folded = folded_name(name);
    for (std::string_view key : keys) {
      if (folded.starts_with(key) && (!meant || key.size() > meant->size())) meant = key;
    }
  }
  return fmt::format(
      "\"{}\" is no key of a job that a column can stand for{}; --map '{}=' leaves "
      "the column unused",
      shown(heading),
      meant ? fmt::format("; did you mean \"{}\"?", *meant)
            : std::string("; see `slantrule lookup keys`"),
      shown(heading));
}

/// Whether a dotted key begins as a job's do.
bool is_job_path(std::string_view dotted_key) {
  return is_job_key(dotted_key.substr(0, dotted_key.find('.')));
}

/// A member of a line of JSON as results show it.
std::string member_text(const JsonNode& value) {
  return cell_text(value).value_or(holds_object(value) ? compact_json(value) : std::string());
}

/// The same as columns are decided on it: what only a job can hold is no cell.
std::string sample_text(const JsonMember& member) {
  if (holds_object(member.node) && is_job_path(member.key)) return {};
  return member_text(member.node);
}

std::optional<TextEncoding> encoding_named(const std::string& name) {
  if (name == "utf-8") return TextEncoding::utf8;
  if (name == "windows-1252") return TextEncoding::windows_1252;
  if (name == "windows-1250") return TextEncoding::windows_1250;
  if (name == "windows-1251") return TextEncoding::windows_1251;
  if (name == "utf-16le") return TextEncoding::utf16_le;
  if (name == "utf-16be") return TextEncoding::utf16_be;
  return std::nullopt;
}

std::optional<char> separator_named(const std::string& name) {
  if (name == "comma") return ',';
  if (name == "semicolon") return ';';
  if (name == "tab") return '\t';
  if (name == "bar") return '|';
  if (name == "blanks") return ' ';
  return std::nullopt;
}

std::string_view separator_name(char separator) {
  switch (separator) {
    case ',':
      return "commas";
    case ';':
      return "semicolons";
    case '\t':
      return "tabs";
    case '|':
      return "bars";
    case ' ':
      return "runs of blanks";
    default:
      return "nothing: a single column";
  }
}

}  // namespace

void ListInput::add_to(CLI::App& app) {
  app.add_option("LIST", list, "CSV or JSON Lines; - reads standard input")->type_name("");
  app.add_option("--map", maps, "what a column stands for: 'OD (mm)=pipe.outside_diameter [mm]'")
      ->type_name("HEADING=KEY")
      ->allow_extra_args(false)
      ->group("Columns");
  app.add_option("--map-file", map_files, "a file of such lines")
      ->type_name("FILE")
      ->allow_extra_args(false)
      ->group("Columns");
  app.add_flag("--take-proposals", take_proposals, "use what --columns proposes for other headings")
      ->group("Columns");
  app.add_option("--heading-line", heading_line, "the line that holds the headings")
      ->type_name("N")
      ->check(CLI::PositiveNumber)
      ->group("Columns");
  app.add_option("--fill-down", fill_down, "a column whose blanks repeat the value above")
      ->type_name("HEADING")
      ->allow_extra_args(false)
      ->group("Columns");
  app.add_option("--separator", separator, "between cells")
      ->check(CLI::IsMember({"auto", "comma", "semicolon", "tab", "bar", "blanks"}))
      ->capture_default_str()
      ->group("Columns");
  app.add_option("--encoding", encoding, "of the text")
      ->check(CLI::IsMember({"auto", "utf-8", "windows-1252", "windows-1250", "windows-1251",
                             "utf-16le", "utf-16be"}))
      ->capture_default_str()
      ->group("Columns");
  app.add_option("--defaults", defaults, "a job file with what rows leave blank")
      ->type_name("JOB")
      ->group("Input");
  app.add_option("--set", sets, "sets a job key for all rows, over their cells")
      ->type_name("KEY=VALUE")
      ->allow_extra_args(false)
      ->group("Input");
  app.add_option("--threads", threads, "workers; 0: one for each core")
      ->type_name("N")
      ->check(CLI::Range(0, 256))
      ->capture_default_str()
      ->group("Computation");
}

// ---------------------------------------------------------------- opening

std::unique_ptr<OpenList> OpenList::open(const ListInput& input, const CommonOptions& common) {
  if (input.list.empty()) {
    complain("no list: name a CSV or JSON Lines file, or - for standard input");
    return nullptr;
  }
  std::vector<std::string> inputs = {input.list};
  inputs.insert(inputs.end(), input.map_files.begin(), input.map_files.end());
  if (!input.defaults.empty()) inputs.push_back(input.defaults);
  if (common.reads_stdin_twice(inputs)) return nullptr;
  std::unique_ptr<OpenList> out(new OpenList());
  out->name_ = std::string(shown(input_name(input.list), 200));
  const bool catalogues = common.load_catalogues(out->catalogue_);
  const bool defaults = out->read_defaults(input, input.defaults);
  if (!out->open_source(input) || !catalogues || !defaults || !out->decide(input)) return nullptr;
  return out;
}

OpenList::~OpenList() {
  if (descriptor_ > STDIN_FILENO) ::close(descriptor_);
}

bool OpenList::read_defaults(const ListInput& input, const std::string& path) {
  sets_ = input.sets;
  files_ = files_beside(path);
  defaults_tree_.kind = JsonNode::Kind::object;
  std::vector<Problem> problems;
  if (!path.empty()) {
    const auto text = read_or_complain(path);
    if (!text) return false;
    defaults_tree_ = parse_json(*text, problems);
    if (problems.empty() && defaults_tree_.kind != JsonNode::Kind::object) {
      problems.push_back({defaults_tree_.place, "", "must hold one object, as a job file does"});
    }
  }
  if (problems.empty()) {
    ReadJob read = read_job(defaults_tree_, sets_, files_);
    problems = std::move(read.problems);
    for (Problem& one : problems) {
      if (one.key != "pipe.schedule") continue;
      // A column can stand for it, a job has none.
      one.message =
          "is a key of columns only, as a schedule belongs to the size of its row; give the list a "
          "column of that name, or set both as in --set pipe.size=\"NPS 6 sch 40\"";
    }
    defaults_ = std::move(read.request);
  }
  complain(path.empty() ? std::string_view("--set") : input_name(path), problems);
  return problems.empty();
}

std::size_t OpenList::read(char* into, std::size_t most) {
  if (!begun_.empty()) {
    const std::size_t length = std::min(most, begun_.size());
    std::memcpy(into, begun_.data(), length);
    begun_.erase(0, length);
    return length;
  }
  for (;;) {
    if (stop_asked()) return 0;
    const ssize_t got = ::read(descriptor_, into, most);
    if (got >= 0) return static_cast<std::size_t>(got);
    if (errno == EINTR) continue;
    complain(fmt::format("{}: cannot be read: {}", name_, std::strerror(errno)));
    failed_ = true;
    return 0;
  }
}

bool OpenList::open_source(const ListInput& input) {
  descriptor_ = input.list == "-" ? STDIN_FILENO : ::open(input.list.c_str(), O_RDONLY | O_CLOEXEC);
  if (descriptor_ < 0) {
    complain(fmt::format("{}: cannot be read: {}", name_, std::strerror(errno)));
    return false;
  }
  note_input_file(descriptor_);
  const auto source = [this](char* into, std::size_t most) { return read(into, most); };
  // JSON Lines begin with a brace; what comes before it may be blank.
  std::string start;
  for (std::string block(4096, '\0');;) {
    const std::size_t got = read(block.data(), block.size());
    start.append(block, 0, got);
    const bool blank = start.find_first_not_of(" \t\r\n\xEF\xBB\xBF") == std::string::npos;
    if (got == 0 || !blank || start.size() > (1u << 16)) break;
  }
  if (failed_) return false;
  begun_ = start;
  const std::size_t first = start.find_first_not_of(" \t\r\n\xEF\xBB\xBF");
  if (first != std::string::npos && start[first] == '{') {
    lines_.emplace(source);
    return true;
  }
  DelimitedOptions options;
  options.separator = separator_named(input.separator);
  options.encoding = encoding_named(input.encoding);
  table_.emplace(source, options);
  return !failed_;
}

std::string OpenList::how_written() const {
  if (!table_) return "JSON Lines";
  return fmt::format("cells separated by {}; {} ({})", separator_name(table_->separator()),
                     encoding_name(table_->encoding()), table_->encoding_reason());
}

// ---------------------------------------------------------------- columns

bool OpenList::decide(const ListInput& input) {
  LayoutOptions options;
  options.take_proposals = input.take_proposals;
  options.semicolons = table_ && table_->separator() == ';';
  if (input.heading_line > 0) options.heading_line = input.heading_line;
  bool good = true;
  for (const std::string& path : input.map_files) {
    const auto text = read_or_complain(path);
    std::vector<Problem> problems;
    if (text) {
      for (ColumnMap& map : read_column_map_file(*text, problems)) {
        options.maps.push_back(std::move(map));
      }
      complain(input_name(path), problems);
    }
    good = good && text && problems.empty();
  }
  for (const std::string& text : input.maps) {
    std::string message;
    if (auto map = read_column_map(text, message)) {
      options.maps.push_back(std::move(*map));
    } else {
      complain(fmt::format("--map: {}", message));
      good = false;
    }
  }
  if (!good) return false;
  if (!(table_ ? decide_table(options) : decide_lines(options))) return false;
  for (const std::string& message : layout_.problems) {
    complain(
        fmt::format("{}:{}: {}", name_, std::max<std::size_t>(layout_.heading_line, 1), message));
  }
  if (!layout_.problems.empty()) return false;
  note_misspelt();
  // A line of JSON has headings of its own and is refused by itself.
  if (table_ && !refuse_misspelt()) return false;
  note_unused();
  // What --set says wins over cells: those columns are not read.
  for (const std::string& set : sets_) {
    const std::string key = set.substr(0, set.find('='));
    for (ListColumn& column : layout_.columns) {
      if (!column.key || column.key->path != key) continue;
      column.key = nullptr;
      column.proposal.clear();
      column.why = "not read: --set wins over it";
    }
  }
  for (const std::string& heading : input.fill_down) {
    const auto found = std::ranges::find(layout_.columns, heading, &ListColumn::heading);
    if (found == layout_.columns.end()) {
      complain(fmt::format("--fill-down \"{}\": no column is called so; the columns are: {}",
                           shown(heading),
                           shown(fmt::format("{}", fmt::join(layout_.headings(), ", ")), 400)));
      return false;
    }
    fill_columns_.push_back(found->index);
  }
  above_.resize(fill_columns_.size());
  note_headings_within();
  remarks_.left_out = layout_.left_out;
  remarks_.left_out_count = layout_.left_out.size();
  return true;
}

ListColumns OpenList::result_columns() const {
  return table_ ? ListColumns(layout_.headings()) : ListColumns(member_names_, true);
}

void OpenList::note_filled(std::span<const ListRecord> rows) {
  filled_.assign(layout_.columns.size(), false);
  for (const ListRecord& record : rows) {
    for (std::size_t i = 0; i < std::min(filled_.size(), record.cells.size()); ++i) {
      if (!record.cells[i].empty()) filled_[i] = true;
    }
  }
}

void OpenList::note_misspelt() {
  for (const ListColumn& column : layout_.columns) {
    const bool decided = column.key || column.why == by_map || !column.proposal.empty();
    misspelt_.push_back(decided ? std::string() : misspelt_key(column.heading));
  }
}

bool OpenList::refuse_misspelt() const {
  constexpr std::size_t most_told = 8;
  std::size_t wrong = 0;
  for (const std::string& message : misspelt_) {
    if (message.empty() || ++wrong > most_told) continue;
    complain(fmt::format("{}:{}: column {}", name_, layout_.heading_line, message));
  }
  if (wrong > most_told) {
    complain(fmt::format("{}: and {} more headings of that kind", name_, wrong - most_told));
  }
  return wrong == 0;
}

void OpenList::note_unused() {
  for (const ListColumn& column : layout_.columns) {
    const bool meant = column.key || column.why == by_map || !misspelt_[column.index].empty();
    if (meant || column.index >= filled_.size() || !filled_[column.index]) continue;
    unused_.push_back(column.heading.empty() ? fmt::format("#{}", column.index + 1)
                                             : column.heading);
  }
}

void OpenList::tell_columns() const {
  std::vector<std::string> plain;
  for (const ListColumn& column : layout_.columns) {
    const std::string heading = shown(column.heading);
    if (!column.veto.empty()) {
      complain(fmt::format("column \"{}\": {}", heading, column.veto));
    } else if (column.key && column.why.find(';') != std::string::npos) {
      complain(fmt::format("column \"{}\" is {} [{}]: {}", heading, column.key->path, column.unit,
                           column.why));
    } else if (!column.key && !column.proposal.empty() && filled_[column.index]) {
      complain(fmt::format("column \"{}\" is not used; it looks like {}", heading,
                           map_option(column, layout_, column.proposal)));
    }
  }
  for (const std::string& heading : unused_) {
    const auto column = std::ranges::find(layout_.columns, heading, &ListColumn::heading);
    const bool told = column != layout_.columns.end() && !column->proposal.empty();
    if (!told) plain.push_back(fmt::format("\"{}\"", shown(heading, 30)));
  }
  if (plain.empty()) return;
  constexpr std::size_t most_told = 12;
  const std::size_t more = plain.size() - std::min(plain.size(), most_told);
  plain.resize(plain.size() - more);
  complain(fmt::format("columns not used: {}{}; see --columns, give --map", fmt::join(plain, ", "),
                       more ? fmt::format(" and {} more", more) : ""));
}

/// Where the defaults hold the size, a line with a tag or a remark alone would become a pipe.
void OpenList::note_headings_within() {
  const PipeRequest& pipe = defaults_.pipe;
  if (lines_ || !(pipe.size.given() || pipe.outside_diameter.given() || pipe.girth.given())) return;
  static constexpr std::string_view sizes[] = {"pipe.size", "pipe.outside_diameter", "pipe.girth"};
  static constexpr std::string_view words[] = {"tag", "title", "site", "note", "prepared_by"};
  bool size_in_list = false;
  for (const ListColumn& column : layout_.columns) {
    if (!column.key || std::ranges::find(words, column.key->path) != std::end(words)) continue;
    const bool is_size = std::ranges::find(sizes, column.key->path) != std::end(sizes);
    size_in_list = size_in_list || (is_size && filled_[column.index]);
    pipe_columns_.push_back(column.index);
    // Most rows are told by their size.
    if (is_size) std::swap(pipe_columns_.front(), pipe_columns_.back());
  }
  const bool repeats = std::ranges::any_of(fill_columns_, [&](std::size_t index) {
    return std::ranges::find(pipe_columns_, index) != pipe_columns_.end();
  });
  if (!size_in_list || repeats) pipe_columns_.clear();
}

bool OpenList::is_heading_within(std::span<const std::string_view> cells) const {
  return !pipe_columns_.empty() && std::ranges::all_of(pipe_columns_, [&](std::size_t index) {
    return index >= cells.size() || cells[index].empty();
  });
}

/// A heading has words; a tag is one word, or has a digit.
bool OpenList::has_tag(std::span<const std::string_view> cells) const {
  const ListColumn* column = layout_.column_of("tag");
  if (!column || column->index >= cells.size()) return false;
  const std::string_view tag = cells[column->index];
  return !tag.empty() && (tag.find(' ') == std::string_view::npos ||
                          tag.find_first_of("0123456789") != std::string_view::npos);
}

bool OpenList::decide_table(const LayoutOptions& options) {
  std::vector<ListRecord> window;
  while (window.size() < list_window_rows) {
    RecordBlock block;
    if (!table_->next(block, block_rows)) break;
    window_.push_back(std::move(block));
    for (const RecordBlock::Record& record : window_.back().records) {
      window.push_back({record.line, window_.back().cells(record)});
    }
  }
  if (failed_ || stop_asked()) return false;
  if (window.empty()) {
    complain(fmt::format("{}: holds no rows", name_));
    return false;
  }
  layout_ = decide_layout(window, options);
  skip_records_ = layout_.first_row;
  note_filled(std::span(window).subspan(std::min(window.size(), layout_.first_row)));
  return true;
}

bool OpenList::decide_lines(const LayoutOptions& options) {
  std::vector<std::string> headings, of_jobs;
  const auto note = [](std::vector<std::string>& names, const std::string& name) {
    if (std::ranges::find(names, name) == names.end()) names.push_back(name);
  };
  std::deque<std::vector<std::pair<std::string, std::string>>> objects;
  while (line_window_.size() < list_window_rows) {
    JobLine line;
    if (!lines_->next(line)) break;
    std::vector<Problem> problems;
    const JsonNode object = parse_json(line.text, problems);
    const bool readable = problems.empty() && object.kind == JsonNode::Kind::object;
    const bool job = readable && is_job_object(object);
    if (readable && !job) objects.emplace_back();
    for (const JsonMember& member : object.members) {
      if (!readable) break;
      if (job || (is_job_key(member.key) && holds_object(member.node))) {
        note(of_jobs, member.key);
        continue;
      }
      note(headings, member.key);
      objects.back().emplace_back(member.key, sample_text(member));
    }
    line_window_.push_back(std::move(line));
  }
  if (failed_ || stop_asked()) return false;
  if (line_window_.empty()) {
    complain(fmt::format("{}: holds no rows", name_));
    return false;
  }
  member_names_ = headings;
  for (const std::string& name : of_jobs) note(member_names_, name);
  member_names_.emplace_back("line");
  if (headings.empty()) return true;  // jobs only
  // A table of the same headings and cells.
  std::vector<std::string_view> head(headings.begin(), headings.end());
  std::deque<std::vector<std::string_view>> rows;
  std::vector<ListRecord> window = {{1, head}};
  for (const auto& object : objects) {
    auto& row = rows.emplace_back(headings.size());
    for (const auto& [heading, cell] : object) {
      row[static_cast<std::size_t>(std::ranges::find(headings, heading) - headings.begin())] = cell;
    }
    window.push_back({0, row});
  }
  LayoutOptions first_line = options;
  first_line.heading_line = 1;
  layout_ = decide_layout(window, first_line);
  layout_.left_out.clear();
  note_filled(std::span(window).subspan(1));
  return true;
}

// ---------------------------------------------------------------- rows

void OpenList::fill_from_above(ListBlock& block, ListBlock::Row& row) {
  std::vector<std::string_view>* own = nullptr;
  for (std::size_t i = 0; i < fill_columns_.size(); ++i) {
    const std::size_t index = fill_columns_[i];
    const std::string_view here = index < row.cells.size() ? row.cells[index] : std::string_view();
    if (!here.empty()) {
      above_[i] = here;
      continue;
    }
    if (above_[i].empty()) continue;
    if (!own) own = &block.filled.emplace_back(row.cells.begin(), row.cells.end());
    if (own->size() <= index) own->resize(index + 1);
    (*own)[index] = block.texts.emplace_back(above_[i]);
  }
  if (own) row.cells = *own;
}

void OpenList::add_rows(ListBlock& block, std::size_t first) {
  for (std::size_t i = first; i < block.records.records.size(); ++i) {
    const RecordBlock::Record& record = block.records.records[i];
    const auto cells = block.records.cells(record);
    auto why = no_row(cells, layout_);
    const bool unsaid = !why && is_heading_within(cells);
    if (unsaid && !has_tag(cells)) why = "a heading or note: no cell tells of a pipe";
    if (why) {
      ++remarks_.left_out_count;
      if (remarks_.left_out.size() < most_left_out_kept) {
        remarks_.left_out.push_back({record.line, joined_cells(cells), *why});
      }
      continue;
    }
    ListBlock::Row row;
    row.row = ++rows_;
    row.line = record.line;
    row.cells = cells;
    row.quotes_mended = record.quotes_mended;
    row.too_long = record.too_long;
    row.foreign_bytes = record.foreign_bytes;
    row.tag_alone = unsaid;
    if (!fill_columns_.empty()) fill_from_above(block, row);
    block.rows.push_back(row);
  }
}

bool OpenList::take(ListBlock& block) {
  block.rows.clear();
  block.filled.clear();
  block.texts.clear();
  if (lines_) {
    JobLine line;
    while (block.rows.size() < block_rows) {
      if (!line_window_.empty()) {
        line = std::move(line_window_.front());
        line_window_.pop_front();
      } else if (stop_asked() || !lines_->next(line)) {
        break;
      }
      ListBlock::Row row;
      row.row = ++rows_;
      row.line = line.line;
      row.too_long = line.too_long;
      row.json = block.texts.emplace_back(std::move(line.text));
      block.rows.push_back(row);
    }
    return !block.rows.empty();
  }
  // A block may hold notes alone.
  while (block.rows.empty()) {
    if (stop_asked()) return false;
    if (!window_.empty()) {
      block.records = std::move(window_.front());
      window_.pop_front();
    } else if (!table_->next(block.records, block_rows)) {
      return false;
    }
    const std::size_t skipped = std::min(skip_records_, block.records.records.size());
    skip_records_ -= skipped;
    add_rows(block, skipped);
  }
  return true;
}

std::vector<std::vector<CellSample>> OpenList::samples() const {
  constexpr std::size_t wanted = 4;
  std::vector<std::vector<CellSample>> out(layout_.columns.size());
  RowReader reader(layout_, defaults_);
  std::size_t skip = skip_records_;
  for (const RecordBlock& block : window_) {
    for (const RecordBlock::Record& record : block.records) {
      if (skip > 0) {
        --skip;
        continue;
      }
      ListRow row{.row = 0, .line = 0, .cells = block.cells(record), .problems = {}, .remarks = {}};
      if (no_row(row.cells, layout_)) continue;
      reader.read(row);
      for (std::size_t i = 0; i < std::min(out.size(), row.cells.size()); ++i) {
        const std::string_view cell = row.cells[i];
        const bool known = std::ranges::find(out[i], cell, &CellSample::cell) != out[i].end();
        if (cell.empty() || known || out[i].size() >= wanted) continue;
        out[i].push_back({std::string(cell), reader.reading_of(row, i)});
      }
    }
  }
  return out;
}

std::vector<std::string> OpenList::fill_down_advice() const {
  static constexpr std::string_view keys[] = {"pipe.size", "pipe.outside_diameter", "pipe.material",
                                              "fluid.name"};
  std::vector<std::string> out(layout_.columns.size());
  for (const ListColumn& column : layout_.columns) {
    if (!column.key || std::ranges::find(keys, column.key->path) == std::end(keys)) continue;
    if (std::ranges::find(fill_columns_, column.index) != fill_columns_.end()) continue;
    std::size_t rows = 0, below = 0, skip = skip_records_;
    bool above = false;
    for (const RecordBlock& block : window_) {
      for (const RecordBlock::Record& record : block.records) {
        const auto cells = block.cells(record);
        if (skip > 0) {
          --skip;
        } else if (!no_row(cells, layout_) && !is_heading_within(cells)) {
          const bool blank = column.index >= cells.size() || cells[column.index].empty();
          ++rows;
          if (blank && above) ++below;
          above = above || !blank;
        }
      }
    }
    if (below < 2 || 4 * below < rows) continue;
    out[column.index] =
        fmt::format("{} of {} rows; --fill-down '{}' repeats the value above, as merged cells mean",
                    below, rows, shown(column.heading));
  }
  return out;
}

// ---------------------------------------------------------------- workers

struct OpenList::Worker::Parts {
  const OpenList& list;
  RowReader reader;
  Resolver resolver;
  // Of a line of JSON:
  std::vector<std::string> texts, beyond;
  std::vector<std::string_view> cells;    ///< as results show them
  std::vector<std::string_view> to_read;  ///< of the layout's columns, without blanks at the ends

  explicit Parts(const OpenList& of)
      : list(of), reader(of.layout_, of.defaults_), resolver(of.catalogue_) {}

  void add_problems(const std::vector<Problem>& problems, SurveyRow& out) const {
    for (const Problem& one : problems) {
      out.list.problems.push_back(cell_message(one, out.list, list.layout_));
    }
  }

  void resolve_and_plan(const JobRequest& request, const PlanOptions& options, SurveyRow& out) {
    out.tag = request.tag.value.value_or("");
    if (!out.list.problems.empty()) return;
    Resolution resolution = resolver.resolve(request);
    add_problems(resolution.problems, out);
    if (!resolution.variants.empty())
      out.planned = plan_all(std::move(resolution.variants), options);
  }

  void table_row(const PlanOptions& options, SurveyRow& out) {
    const JobRequest& request = reader.read(out.list);
    resolve_and_plan(request, options, out);
  }

  void json_row(const ListBlock::Row& row, const PlanOptions& options, SurveyRow& out) {
    std::vector<Problem> problems;
    JsonNode object = parse_json(row.json, problems);
    if (problems.empty() && object.kind != JsonNode::Kind::object) {
      problems.push_back({{}, "", "a line must hold one object: { \"pipe\": ... }"});
    }
    if (!problems.empty()) {
      cells.assign(list.member_names_.size(), {});
      cells.back() = row.json.substr(0, row.json.find_last_not_of('\r') + 1);
      out.list.cells = cells;
      return add_problems(problems, out);
    }
    keep_members(object);
    JsonNode job;
    job.kind = JsonNode::Kind::object;
    if (is_job_object(object)) {
      job = std::move(object);
    } else {
      share_out(object, job, out);
    }
    out.list.cells = to_read;
    if (job.members.empty()) {
      table_row(options, out);
    } else {
      json_job(std::move(job), options, out);
    }
    out.list.cells = cells;
  }

  /// The text of every member, for the results.
  void keep_members(const JsonNode& object) {
    const std::vector<std::string>& names = list.member_names_;
    texts.resize(names.size());
    cells.assign(names.size(), {});
    beyond.clear();
    for (const JsonMember& member : object.members) {
      // The last name is that of lines that could not be read.
      const auto name = std::find(names.begin(), names.end() - 1, member.key);
      if (name == names.end() - 1) {
        beyond.push_back(fmt::format("{}: {}", member.key, member_text(member.node)));
        continue;
      }
      const auto index = static_cast<std::size_t>(name - names.begin());
      texts[index] = member_text(member.node);
      cells[index] = texts[index];
    }
    for (const std::string& one : beyond) cells.push_back(one);
    to_read.assign(list.layout_.columns.size(), {});
  }

  /// The layout's column of a member; null where it has none.
  const ListColumn* column_of(const JsonMember& member) const {
    const auto& columns = list.layout_.columns;
    const auto begin = list.member_names_.begin();
    const auto end = begin + static_cast<std::ptrdiff_t>(columns.size());
    const auto found = std::find(begin, end, member.key);
    return found == end ? nullptr : &columns[static_cast<std::size_t>(found - begin)];
  }

  /// Values that a cell can hold go to the cells, those that only a job can to `job`.
  void share_out(JsonNode& object, JsonNode& job, SurveyRow& out) {
    const bool nested = std::ranges::any_of(object.members, [](const JsonMember& member) {
      return holds_object(member.node) && is_job_path(member.key);
    });
    for (JsonMember& member : object.members) {
      const ListColumn* column = column_of(member);
      const bool unused = column && !column->key && column->why == by_map;
      const bool holds = holds_object(member.node);
      const auto problem = [&](std::string message) {
        out.list.problems.push_back(
            {member.key, holds ? std::string() : member_text(member.node), std::move(message)});
      };
      if (unused) continue;
      if (column && !list.misspelt_[column->index].empty()) {
        problem(list.misspelt_[column->index]);
      } else if (holds) {
        take_nested(member, column, job, problem);
      } else if (nested && !(column && column->key) && is_job_path(member.key)) {
        take_nested(member, column, job, problem);
      } else if (column) {
        to_read[column->index] = trimmed(texts[column->index]);
      } else if (!nested) {
        problem(
            fmt::format("is a heading that none of the first {} lines has; leave it out, or put "
                        "it into one of them",
                        list_window_rows));
      }
    }
  }

  template <class Complain>
  void take_nested(JsonMember& member, const ListColumn* column, JsonNode& job,
                   const Complain& problem) const {
    const bool mapped = column && column->key && !is_job_key(member.key);
    const std::string path = mapped ? column->key->path : member.key;
    if (is_job_path(path)) {
      if (!put_at(job, path, std::move(member.node))) problem("is stated twice in this line");
      return;
    }
    static constexpr std::string_view sections[] = {"pipe",     "fluid",   "flow", "meter", "path",
                                                    "location", "sensors", "kit",  "places"};
    if (const auto near = nearest_name(member.key, sections)) {
      problem(fmt::format("is no key of a job; did you mean \"{}\"?", *near));
    }
  }

  void json_job(JsonNode object, const PlanOptions& options, SurveyRow& out) {
    lay_under(object, list.defaults_tree_);
    const ReadJob read = read_job(std::move(object), list.sets_, list.files_);
    for (const Problem& one : read.problems) {
      out.list.problems.push_back({one.key, {}, one.message});
    }
    const bool alone =
        std::ranges::all_of(to_read, [](std::string_view cell) { return cell.empty(); });
    if (alone) return resolve_and_plan(read.request, options, out);
    // Cells beside the job win over it, as they win over the defaults.
    RowReader beside(list.layout_, read.request);
    resolve_and_plan(beside.read(out.list), options, out);
  }
};

OpenList::Worker::Worker(const OpenList& list) : parts_(std::make_unique<Parts>(list)) {}
OpenList::Worker::~Worker() = default;

void OpenList::Worker::work(ListBlock& block, const PlanOptions& options,
                            const std::function<void(SurveyRow&)>& each) {
  for (const ListBlock::Row& row : block.rows) {
    SurveyRow out;
    out.list.row = row.row;
    out.list.line = row.line;
    out.list.cells = row.cells;
    if (row.too_long) {
      out.list.problems.push_back({"", "", "the line is too long and was not read to its end"});
    }
    if (row.tag_alone) {
      out.list.problems.push_back(
          {parts_->list.layout_.column_of("tag")->heading,
           {},
           "tells of no pipe but this: where cells were merged, fill them from above with "
           "--fill-down 'HEADING'; a heading or note is to be taken out of the list"});
    }
    if (row.quotes_mended) {
      out.list.remarks.push_back(
          {"", "", "quotes that do not pair were taken as they stand, as inch marks are"});
    }
    if (row.foreign_bytes) {
      out.list.remarks.push_back(
          {"", "", "letters that are no UTF-8 were read as a Windows code page; see --encoding"});
    }
    if (parts_->list.lines_) {
      parts_->json_row(row, options, out);
    } else {
      parts_->table_row(options, out);
    }
    each(out);
  }
}

void run_through(OpenList& list, std::size_t threads,
                 const std::function<void(ListBlock&, std::string&)>& work,
                 const std::function<bool(std::string&&)>& give) {
  if (threads == 0) threads = std::max(1u, std::thread::hardware_concurrency());
  OrderedRun<ListBlock> run([&](ListBlock& block) { return list.take(block); }, work, give);
  run.run(threads);
}

}  // namespace slantrule::cli
