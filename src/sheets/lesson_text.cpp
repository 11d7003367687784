#include <fmt/format.h>

#include <algorithm>

#include "slantrule/sheets/lesson.hpp"
#include "slantrule/sheets/text_layout.hpp"

namespace slantrule {
namespace {

class LessonText {
 public:
  LessonText(const Lesson& lesson, bool blanks, const Display& display)
      : lesson_(lesson), blanks_(blanks), display_(display) {}

  std::string build() {
    head(blanks_ ? "EXERCISE" : "WORKED LESSON");
    rules();
    known();
    for (const LessonTable& table : lesson_.excerpts) excerpt(table);
    heading("FIRST AN ESTIMATE");
    wrap(lesson_.estimate_intro);
    steps(lesson_.estimates, "Estimate", blanks_ ? Mode::blank : Mode::worked);
    heading("STEP BY STEP");
    steps(lesson_.steps, "Step", blanks_ ? Mode::blank : Mode::worked);
    if (!blanks_) outcome();
    heading("MORE EXERCISES");
    steps(lesson_.exercises, "Exercise", blanks_ ? Mode::blank : Mode::worked);
    card();
    if (blanks_) key();
    sources();
    return std::move(out_);
  }

 private:
  enum class Mode { worked, blank, key };

  void line(std::string_view text = {}) {
    out_ += text;
    out_ += '\n';
  }
  /// Words of the job among ours are cleaned one by one: a whole text may be longer than one of a
  /// job may.
  std::string clean(std::string_view text) const {
    std::string out;
    while (!text.empty()) {
      const std::size_t blank = std::min(text.find(' '), text.size());
      out += job_text(text.substr(0, blank), display_);
      if (blank < text.size()) out += ' ';
      text.remove_prefix(std::min(blank + 1, text.size()));
    }
    return out;
  }
  void wrap(std::string_view text, std::string_view first = "", std::string_view next = "") {
    if (text.empty()) return;
    for (const std::string& one : wrapped(clean(text), first, next)) line(one);
  }
  void heading(std::string_view text) {
    line();
    line(text);
    line(std::string(text.size(), '-'));
  }

  void head(std::string_view kind) {
    const std::string name =
        fmt::format("{}{}", kind, lesson_.seed.empty() ? "" : ", " + lesson_.seed);
    line(two_ends(name, clean(lesson_.tag)));
    wrap(lesson_.title);
    wrap(lesson_.varied);
    wrap(lesson_.warning);
  }

  void rules() {
    heading("HOW TO WORK");
    for (const std::string& rule : lesson_.rules) wrap(rule, "- ", "  ");
  }

  void known() {
    heading("WHAT IS KNOWN");
    constexpr std::size_t name_width = 28, symbol_width = 6, value_width = 20;
    const std::string next(name_width + symbol_width + value_width, ' ');
    for (const LessonKnown& one : lesson_.known) {
      const std::string start = padded(one.name, name_width) + padded(one.symbol, symbol_width) +
                                padded(one.value, value_width);
      if (one.note.empty()) {
        line(trimmed(start));
      } else {
        wrap(one.note, start, next);
      }
    }
  }

  static std::string trimmed(std::string text) {
    text.erase(text.find_last_not_of(' ') + 1);
    return text;
  }

  void excerpt(const LessonTable& table) {
    line();
    wrap(table.caption);
    std::vector<std::size_t> widths(table.head.size());
    const auto measure = [&](const std::vector<std::string>& row) {
      for (std::size_t i = 0; i < row.size(); ++i) {
        widths[i] = std::max(widths[i], std::min<std::size_t>(columns(clean(row[i])), 36));
      }
    };
    measure(table.head);
    for (const auto& row : table.rows) measure(row);
    const auto write = [&](const std::vector<std::string>& row) {
      std::string text = " ";
      for (std::size_t i = 0; i < row.size(); ++i)
        text += " " + padded(clean(row[i]), widths[i] + 1);
      line(trimmed(text));
    };
    write(table.head);
    for (const auto& row : table.rows) write(row);
    wrap(table.note, "  ", "  ");
  }

  void steps(const std::vector<LessonStep>& steps, std::string_view kind, Mode mode) {
    for (std::size_t i = 0; i < steps.size(); ++i) {
      const LessonStep& one = steps[i];
      line();
      line(fmt::format("{} {}: {}", kind, i + 1, one.title));
      if (mode != Mode::key) wrap(one.before);
      if (one.table && mode != Mode::key) excerpt(*one.table);
      for (const LessonLine& each : one.lines) arithmetic(each, mode);
      if (mode == Mode::blank) {
        if (!one.blank.empty()) line(one.blank + " ______________________________");
      } else {
        wrap(one.after);
      }
    }
  }

  void arithmetic(const LessonLine& one, Mode mode) {
    const std::string name = "  " + one.symbol;
    const std::string indent(name.size(), ' ');
    const std::string next = indent + "     ";
    const std::string unit = one.unit.empty() ? "" : " " + one.unit;
    for (const std::string& text : wrapped(one.formula, name + " = ", next)) line(text);
    if (mode == Mode::blank) {
      line(indent + " = " + std::string(50, '_'));
      line(indent + " = ______________" + unit);
      return;
    }
    for (const std::string& text : wrapped(one.numbers, indent + " = ", next)) line(text);
    line(indent + " = " + one.result + unit);
  }

  void outcome() {
    heading("BESIDE THE PROGRAM");
    wrap(lesson_.comparison_intro);
    line(trimmed("  " + padded("", 18) + padded("", 7) + padded("by steps", 12) +
                 padded("program", 14) + padded("difference", 12) + "at most"));
    for (const LessonComparison& one : lesson_.comparisons) {
      line(trimmed("  " + padded(one.what, 18) + padded(one.symbol, 7) + padded(one.steps, 12) +
                   padded(one.program, 14) + padded(one.difference, 12) + padded(one.allowed, 9) +
                   one.unit));
    }
    wrap(lesson_.setting);
    heading("USUAL MISTAKES");
    wrap(lesson_.mistakes_intro);
    for (const LessonMistake& one : lesson_.mistakes) {
      wrap(fmt::format("If you got {}: {}.", one.answer, one.what), "- ", "  ");
    }
  }

  void card() {
    heading("PRACTICAL CARD");
    wrap(lesson_.card_note);
    for (const LessonCardRow& row : lesson_.card) {
      wrap(row.how, "[ ] " + padded(row.what, 9), std::string(13, ' '));
    }
    line();
    line("Trainee: ____________________   Trainer: ____________________   Date: __________");
  }

  void key() {
    line("\f");
    head("ANSWER KEY");
    heading("ESTIMATE");
    steps(lesson_.estimates, "Estimate", Mode::key);
    heading("STEP BY STEP");
    steps(lesson_.steps, "Step", Mode::key);
    outcome();
    heading("MORE EXERCISES");
    steps(lesson_.exercises, "Exercise", Mode::key);
  }

  void sources() {
    heading("SOURCES");
    for (const std::string& one : lesson_.sources) wrap(one, "- ", "  ");
  }

  const Lesson& lesson_;
  bool blanks_;
  const Display& display_;
  std::string out_;
};

}  // namespace

std::string lesson_text(const Lesson& lesson, bool blanks, const Display& display) {
  return LessonText(lesson, blanks, display).build();
}

}  // namespace slantrule
