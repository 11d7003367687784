#include <algorithm>
#include <variant>

#include "marked_text.hpp"
#include "sheet_words.hpp"
#include "slantrule/sheets/sheet.hpp"
#include "slantrule/sheets/sheet_content.hpp"
#include "text_sketch.hpp"

namespace slantrule {
namespace {

/// Whether a character of a job's text could begin or end markup where it stands: emphasis, code,
/// links, tables and formulas anywhere; headings and lists at the start; addresses that readers of
/// GitHub's dialect turn into links.
bool could_mark(std::string_view text, std::size_t at) {
  const char c = text[at];
  if (std::string_view("\\`*_[]|~$@").find(c) != std::string_view::npos) return true;
  const std::string_view before = text.substr(0, at);
  if (c == ':') return text.substr(at + 1, 1) == "/";
  if (c == '.' && before.ends_with("www")) return true;
  if (std::string_view("#-+=").find(c) != std::string_view::npos) {
    return before.find_first_not_of(' ') == before.npos;
  }
  return (c == '.' || c == ')') && before.find_first_not_of(" 0123456789") == before.npos;
}

std::string job_words(std::string_view text) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    // As entities, for readers that pass HTML on.
    if (text[i] == '<') {
      out += "&lt;";
    } else if (text[i] == '>') {
      out += "&gt;";
    } else if (text[i] == '&') {
      out += "&amp;";
    } else {
      if (could_mark(text, i)) out += '\\';
      out += text[i];
    }
  }
  return out;
}

/// Our own words have neither links nor lists in them, nor angle brackets but in arrows.
std::string own_words(std::string_view text) {
  std::string out;
  for (const char c : text) {
    if (std::string_view("\\`*_[]|~").find(c) != std::string_view::npos) out += '\\';
    out += c;
  }
  return out;
}

/// Runs of blanks, which text uses to set columns, become one.
std::string single_blanks(std::string_view text) {
  std::string out;
  for (const char c : text) {
    if (c != ' ' || (!out.empty() && out.back() != ' ')) out += c;
  }
  while (!out.empty() && out.back() == ' ') out.pop_back();
  return out;
}

std::string marked(std::string_view text) {
  std::string out;
  for (const TextPart& part : text_parts(text)) {
    out += part.kind == TextPart::Kind::of_job ? job_words(part.text) : own_words(part.text);
  }
  return single_blanks(out);
}

class MarkdownSheet {
 public:
  std::string build(const SheetContent& content) {
    line("# " + marked(content.verdict_words) + ": " + marked(content.tag));
    for (const std::string& one : content.head_lines) paragraph(marked(one));
    box(content.box);
    for (const Section& section : content.sections) {
      if (!section.heading.empty()) paragraph("## " + marked(section.heading));
      for (const Block& block : section.blocks) {
        line();
        std::visit([&](const auto& one) { show(one); }, block);
      }
    }
    if (!content.sign_off.empty()) {
      line();
      for (const ValueRow& one : content.sign_off) {
        line("- " + marked(one.name) + ": " + marked(one.value));
      }
    }
    return std::move(out_);
  }

 private:
  void line(std::string_view text = {}) {
    out_ += text;
    out_ += '\n';
  }
  void paragraph(std::string_view text) {
    line();
    line(text);
  }

  /// A quotation, one paragraph a row.
  void box(const SpacingBox& box) {
    line();
    bool first = true;
    const auto row = [&](const std::string& text) {
      if (!first) line(">");
      line("> " + text);
      first = false;
    };
    if (box.issued) {
      row("**SET " + marked(box.setting) + "** (" + marked(box.other) + "), mark to +- " +
          marked(box.hold));
    }
    for (const BoxRow& one : box.rows) {
      const std::string text = marked(one.text);
      row(one.warning ? "**" + text + "**" : text);
    }
  }

  void show(const Paragraph& text) { line(marked(text.text)); }

  void show(const Values& values) {
    line("| | |");
    line("| --- | --- |");
    for (const ValueRow& row : values.rows) {
      line("| " + marked(row.name) + " | " + marked(row.value) + " |");
    }
  }

  void show(const Steps& steps) {
    for (const std::string& one : steps.items) line("- [ ] " + marked(one));
  }

  void show(const Points& points) {
    for (const Point& one : points.items) line("- " + marked(one.text));
  }

  void show(const Ranking& ranking) {
    std::size_t number = 0;
    for (const std::string& one : ranking.items) {
      ++number;
      line(std::to_string(number) + ". " + (number == 1 ? "best: " : "") + marked(one));
    }
  }

  void show(const FindingList& list) {
    for (const FindingItem& item : list.items) {
      line("- **" + upper(severity_name(item.severity)) + "** " + marked(item.message) + " -> " +
           marked(item.mend));
      if (!item.accepted.empty()) line("  " + marked(item.accepted));
    }
  }

  void show(const Table& table) {
    std::string heads = "|", rule = "|";
    for (const Column& column : table.columns) {
      heads += " " + marked(column.head) + " |";
      rule += " --- |";
    }
    // A remark stands in a column of its own.
    const bool remarks =
        std::ranges::any_of(table.rows, [](const TableRow& row) { return !row.remark.empty(); });
    if (remarks) {
      heads += " |";
      rule += " --- |";
    }
    line(heads);
    line(rule);
    for (const TableRow& row : table.rows) {
      std::string text = "|";
      for (const std::string& cell : row.cells) text += " " + marked(cell) + " |";
      if (remarks) {
        text += " " + marked(row.remark) +
                (row.source.empty() ? "" : " (" + marked(row.source) + ")") + " |";
      }
      line(text);
    }
  }

  void show(const Sketch& sketch) {
    line("```text");
    for (const std::string& one : text_sketch(sketch)) line(one);
    line("```");
  }

  std::string out_;
};

}  // namespace

std::string markdown_sheet(const PlannedJob& job, const Display& display) {
  Display isolating = display;
  isolating.isolate = true;
  return MarkdownSheet().build(sheet_content(job, isolating));
}

}  // namespace slantrule
