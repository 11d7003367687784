#include <fmt/format.h>

#include <algorithm>
#include <variant>

#include "sheet_words.hpp"
#include "slantrule/sheets/sheet.hpp"
#include "slantrule/sheets/sheet_content.hpp"
#include "slantrule/sheets/text_layout.hpp"
#include "text_sketch.hpp"

namespace slantrule {
namespace {

constexpr std::size_t most_lines = 120;  // two pages of 60

/// What yields, step by step, on a sheet that would be longer than two pages. Assumptions and notes
/// have yielded before.
enum class Fullness {
  all,
  no_sketch,     ///< the path in words stays, sources go
  no_remarks,    ///< nor what governs the straight run; where it falls short, a caution says so
  few_cautions,  ///< as many as fit, gravest first, and how many more there are
};

/// Titles and names have two lines at most.
std::string two_lines(const std::string& text) {
  return columns(text) > 2 * sheet_columns ? padded(text, 2 * sheet_columns - 8) : text;
}

/// Lays a sheet out in lines, section by section.
class TextSheet {
 public:
  TextSheet(const SheetContent& content, Fullness fullness, std::size_t most_cautions)
      : content_(content), fullness_(fullness), most_cautions_(most_cautions) {}

  std::size_t line_count() const { return lines_.size(); }

  std::string build() {
    line(two_ends(content_.verdict_words, content_.tag));
    for (const std::string& one : content_.head_lines) wrap(two_lines(one));
    box();
    for (const Section& one : content_.sections) section(one);
    if (!content_.sign_off.empty()) {
      line();
      wrap(sign_off_text());
    }
    std::string out;
    for (const std::string& one : lines_) {
      out += one;
      out += '\n';
    }
    return out;
  }

 private:
  void line(std::string text = {}) { lines_.push_back(std::move(text)); }
  void wrap(std::string_view text, std::string_view first = "", std::string_view next = "") {
    for (std::string& one : wrapped(text, first, next)) lines_.push_back(std::move(one));
  }
  bool full() const { return fullness_ == Fullness::all; }

  // ------------------------------------------------------------ the box

  void box() {
    const SpacingBox& box = content_.box;
    if (content_.candidates) {
      line();
      for (const BoxRow& row : box.rows) line(row.text);
      return;
    }
    const std::string rule = "+" + std::string(sheet_columns - 2, '-') + "+";
    line(rule);
    if (box.issued) {
      box_row("SET   " + box.setting + "   " + box.other + "        mark to +- " + box.hold);
    }
    for (const BoxRow& row : box.rows) box_row(row.text);
    line(rule);
  }

  void box_row(const std::string& row) {
    constexpr std::size_t inside = sheet_columns - 4;
    // A row that fits keeps its wide gaps.
    if (columns(row) <= inside) {
      line("| " + padded(row, inside) + " |");
      return;
    }
    for (const std::string& one : wrapped(row, "", "  ", inside)) {
      line("| " + padded(one, inside) + " |");
    }
  }

  // ------------------------------------------------------------ sections

  void section(const Section& section) {
    // Sign-off takes the last lines; assumptions yield when two pages are full.
    if (section.yield == Yield::counted && !room_for(3)) return;
    line();
    if (!section.heading.empty()) line(heading(section));
    for (const Block& block : section.blocks) {
      std::visit([&](const auto& one) { show(one, section.yield); }, block);
    }
  }

  /// The columns of a table that comes first are named on the line of the heading.
  static std::string heading(const Section& section) {
    const Table* table = std::get_if<Table>(&section.blocks.front());
    if (!table || !table->indented || table->columns.back().head.empty()) return section.heading;
    std::string text = padded(section.heading, 2 + table->columns.front().width);
    for (std::size_t i = 1; i < table->columns.size(); ++i) {
      text += in_column(table->columns[i].head, table->columns[i]);
    }
    return text;
  }

  bool room_for(std::size_t more) const {
    return lines_.size() + more + sign_off_lines() <= most_lines;
  }

  void show(const Paragraph& paragraph, Yield) {
    const char* margin = paragraph.indented ? "  " : "";
    wrap(paragraph.text, margin, margin);
  }

  void show(const Values& values, Yield) {
    for (const ValueRow& row : values.rows) {
      if (row.is_source && !full()) continue;
      wrap(row.value, "  " + padded(row.name, 34), std::string(36, ' '));
    }
  }

  void show(const Steps& steps, Yield) {
    for (const std::string& one : steps.items) wrap(one, "  [ ] ", "      ");
  }

  void show(const Ranking& ranking, Yield) {
    for (const std::string& one : ranking.items) {
      wrap(one, &one == &ranking.items.front() ? "best  " : "      ", "        ");
    }
  }

  void show(const Sketch& sketch, Yield) {
    if (!full()) return;
    for (std::string& one : text_sketch(sketch)) line(std::move(one));
  }

  static std::string in_column(const std::string& cell, const Column& column) {
    return column.width ? padded(cell, column.width) : cell;
  }

  void show(const Table& table, Yield) {
    const std::string margin = table.indented ? "  " : "";
    const std::string remark_margin(margin.size() + table.columns.front().width, ' ');
    if (!table.indented) {
      std::string heads;
      for (const Column& column : table.columns) heads += in_column(column.head, column);
      line(heads);
    }
    for (const TableRow& row : table.rows) {
      std::string text = margin;
      for (std::size_t i = 0; i < row.cells.size(); ++i) {
        text += in_column(row.cells[i], table.columns[i]);
      }
      line(text);
      if (row.remark.empty() || (table.indented && fullness_ >= Fullness::no_remarks)) continue;
      const bool sourced = full() && !row.source.empty();
      wrap(row.remark + (sourced ? " (" + row.source + ")" : ""), remark_margin, remark_margin);
    }
  }

  // ------------------------------------------------------------ what yields one by one

  void show(const Points& points, Yield yield) {
    std::size_t told = 0;
    std::string left_out;
    // Notes yield to the line that names those which yielded, assumptions to the one that counts.
    const std::size_t reserve = yield == Yield::named ? 3 : 1;
    for (const Point& point : points.items) {
      auto more = wrapped(point.text, "- ", "  ");
      if (yield != Yield::nothing && !room_for(more.size() + reserve)) {
        if (yield == Yield::counted) break;
        if (left_out.find(point.id) == left_out.npos) {
          left_out += (left_out.empty() ? "" : ", ") + std::string(point.id);
        }
        continue;
      }
      for (std::string& one : more) line(std::move(one));
      ++told;
    }
    if (!left_out.empty()) wrap("more, in full with --format json: " + left_out, "- ", "  ");
    if (yield == Yield::counted && told < points.items.size()) {
      line(fmt::format("- and {} more: see --format json", points.items.size() - told));
    }
  }

  void show(const FindingList& list, Yield) {
    std::size_t told = 0, untold = 0;
    std::string rules;
    for (const FindingItem& item : list.items) {
      if (item.severity == Severity::caution && told >= most_cautions_) {
        rules += fmt::format("{}{} ({})", rules.empty() ? "" : "; ", item.id, item.rule);
        ++untold;
        continue;
      }
      list.brief ? brief_finding(item) : finding(item);
      ++told;
    }
    if (untold == 0) return;
    wrap(fmt::format("AND {} MORE CAUTIONS, in full with --format json: {}.", untold, rules));
  }

  void finding(const FindingItem& item) {
    const std::string first = upper(severity_name(item.severity)) + "  ";
    const std::string next(columns(first), ' ');
    wrap(item.message, first, next);
    wrap("-> " + item.mend, next, next + "   ");
    if (!item.accepted.empty()) wrap(item.accepted, next, next);
  }

  void brief_finding(const FindingItem& item) {
    wrap(upper(severity_name(item.severity)) + "  " + item.message + " -> " + item.mend, "",
         "      ");
  }

  // ------------------------------------------------------------ the end

  std::string sign_off_text() const {
    std::string text;
    for (const ValueRow& one : content_.sign_off) {
      text += (text.empty() ? "" : "    ") + one.name + ": " + two_lines(one.value);
    }
    return text;
  }
  std::size_t sign_off_lines() const { return 1 + wrapped(sign_off_text(), "", "").size(); }

  const SheetContent& content_;
  Fullness fullness_;
  std::size_t most_cautions_;
  std::vector<std::string> lines_;
};

/// How many findings there are that can yield.
std::size_t finding_count(const SheetContent& content) {
  std::size_t count = 0;
  for (const Section& section : content.sections) {
    for (const Block& block : section.blocks) {
      if (const auto* list = std::get_if<FindingList>(&block)) count += list->items.size();
    }
  }
  return count;
}

}  // namespace

std::string text_sheet(const PlannedJob& job, const Display& display) {
  const SheetContent content = sheet_content(job, display);
  const std::size_t findings = finding_count(content);
  std::string out;
  const auto fits = [&](Fullness fullness, std::size_t most_cautions) {
    TextSheet sheet(content, fullness, most_cautions);
    out = sheet.build();
    return content.candidates || sheet.line_count() <= most_lines;
  };
  for (const Fullness fullness : {Fullness::all, Fullness::no_sketch, Fullness::no_remarks}) {
    if (fits(fullness, findings)) return out;
  }
  for (std::size_t most = findings; most-- > 0;) {
    if (fits(Fullness::few_cautions, most)) break;
  }
  return out;
}

}  // namespace slantrule
