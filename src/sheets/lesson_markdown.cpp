#include <fmt/format.h>

#include <algorithm>

#include "slantrule/sheets/lesson.hpp"

namespace slantrule {
namespace {

/// Words as text: what Markdown or the HTML inside it would take for markup is escaped.
std::string plain(std::string_view text) {
  std::string out;
  while (!text.empty()) {
    const std::size_t blank = std::min(text.find(' '), text.size());
    for (const char c : job_text(text.substr(0, blank), Display{})) {
      if (std::string_view("\\`*_[]<>|&#~!$").find(c) != std::string_view::npos) out += '\\';
      out += c;
    }
    if (blank < text.size()) out += ' ';
    text.remove_prefix(std::min(blank + 1, text.size()));
  }
  return out;
}

class LessonMarkdown {
 public:
  LessonMarkdown(const Lesson& lesson, bool blanks) : lesson_(lesson), blanks_(blanks) {}

  std::string build() {
    head("#", blanks_ ? "Exercise" : "Worked lesson");
    heading("How to work");
    line();
    for (const std::string& rule : lesson_.rules) line("- " + plain(rule));
    known();
    for (const LessonTable& table : lesson_.excerpts) excerpt(table);
    heading("First an estimate");
    paragraph(lesson_.estimate_intro);
    steps(lesson_.estimates, "Estimate", blanks_ ? Mode::blank : Mode::worked);
    heading("Step by step");
    steps(lesson_.steps, "Step", blanks_ ? Mode::blank : Mode::worked);
    if (!blanks_) outcome();
    heading("More exercises");
    steps(lesson_.exercises, "Exercise", blanks_ ? Mode::blank : Mode::worked);
    card();
    if (blanks_) key();
    heading("Sources");
    line();
    for (const std::string& one : lesson_.sources) line("- " + plain(one));
    return std::move(out_);
  }

 private:
  enum class Mode { worked, blank, key };

  void line(std::string_view text = {}) {
    out_ += text;
    out_ += '\n';
  }
  void paragraph(std::string_view text) {
    if (text.empty()) return;
    line();
    line(plain(text));
  }
  void heading(std::string_view text) {
    line();
    line(fmt::format("## {}", text));
  }

  void head(std::string_view level, std::string_view kind) {
    std::string name(kind);
    if (!lesson_.seed.empty()) name += ", " + lesson_.seed;
    if (!lesson_.tag.empty()) name += ": " + lesson_.tag;
    line(fmt::format("{} {}", level, plain(name)));
    paragraph(lesson_.title);
    paragraph(lesson_.varied);
    paragraph(lesson_.warning);
  }

  void row(const std::vector<std::string>& cells) {
    out_ += '|';
    for (const std::string& cell : cells) out_ += " " + plain(cell) + " |";
    out_ += '\n';
  }
  void table(const std::vector<std::string>& head,
             const std::vector<std::vector<std::string>>& rows) {
    line();
    row(head);
    out_ += '|';
    for (std::size_t i = 0; i < head.size(); ++i) out_ += " --- |";
    out_ += '\n';
    for (const auto& one : rows) row(one);
  }

  void known() {
    heading("What is known");
    std::vector<std::vector<std::string>> rows;
    for (const LessonKnown& one : lesson_.known) {
      rows.push_back({one.name, one.symbol, one.value, one.note});
    }
    table({"what", "symbol", "value", "note"}, rows);
  }

  void excerpt(const LessonTable& one) {
    paragraph(one.caption);
    table(one.head, one.rows);
    paragraph(one.note);
  }

  void steps(const std::vector<LessonStep>& all, std::string_view kind, Mode mode) {
    for (std::size_t i = 0; i < all.size(); ++i) {
      const LessonStep& one = all[i];
      line();
      line(fmt::format("### {} {}: {}", kind, i + 1, plain(one.title)));
      if (mode != Mode::key) paragraph(one.before);
      if (one.table && mode != Mode::key) excerpt(*one.table);
      if (!one.lines.empty()) {
        line();
        line("```text");
        for (const LessonLine& each : one.lines) arithmetic(each, mode);
        line("```");
      }
      if (mode == Mode::blank) {
        if (!one.blank.empty()) paragraph(one.blank + " ______________________________");
      } else {
        paragraph(one.after);
      }
    }
  }

  void arithmetic(const LessonLine& one, Mode mode) {
    const std::string indent(one.symbol.size(), ' ');
    const std::string unit = one.unit.empty() ? "" : " " + one.unit;
    line(one.symbol + " = " + one.formula);
    if (mode == Mode::blank) {
      line(indent + " = " + std::string(50, '_'));
      line(indent + " = ______________" + unit);
    } else {
      line(indent + " = " + one.numbers);
      line(indent + " = " + one.result + unit);
    }
  }

  void outcome() {
    heading("Beside the program");
    paragraph(lesson_.comparison_intro);
    std::vector<std::vector<std::string>> rows;
    for (const LessonComparison& one : lesson_.comparisons) {
      rows.push_back(
          {one.what, one.symbol, one.steps, one.program, one.difference, one.allowed, one.unit});
    }
    table({"what", "symbol", "by steps", "program", "difference", "at most", "unit"}, rows);
    paragraph(lesson_.setting);
    heading("Usual mistakes");
    paragraph(lesson_.mistakes_intro);
    line();
    for (const LessonMistake& one : lesson_.mistakes) {
      line(plain(fmt::format("- If you got {}: {}.", one.answer, one.what)));
    }
  }

  void card() {
    heading("Practical card");
    paragraph(lesson_.card_note);
    line();
    for (const LessonCardRow& one : lesson_.card) {
      line(fmt::format("- [ ] **{}**: {}", plain(one.what), plain(one.how)));
    }
    paragraph("Trainee: ____________________ Trainer: ____________________ Date: __________");
  }

  void key() {
    line();
    line("---");
    line();
    head("#", "Answer key");
    heading("Estimate");
    steps(lesson_.estimates, "Estimate", Mode::key);
    heading("Step by step");
    steps(lesson_.steps, "Step", Mode::key);
    outcome();
    heading("More exercises");
    steps(lesson_.exercises, "Exercise", Mode::key);
  }

  const Lesson& lesson_;
  bool blanks_;
  std::string out_;
};

}  // namespace

std::string lesson_markdown(const Lesson& lesson, bool blanks) {
  return LessonMarkdown(lesson, blanks).build();
}

}  // namespace slantrule
