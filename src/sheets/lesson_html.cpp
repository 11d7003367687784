#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>

#include "slantrule/sheets/html_text.hpp"
#include "slantrule/sheets/lesson.hpp"

namespace slantrule {
namespace {

constexpr std::string_view style = R"(
:root { color-scheme: light; }
body { font: 16px/1.4 system-ui, sans-serif; color: #000; background: #fff;
  max-width: 46em; margin: 0 auto; padding: 0.8em; overflow-wrap: anywhere; }
h1 { font-size: 1.4em; margin: 0 0 0.3em; }
h2 { font-size: 1.15em; margin: 1.3em 0 0.4em; border-bottom: 2px solid #000; }
h3 { font-size: 1em; margin: 1em 0 0.2em; }
p { margin: 0.3em 0; }
.warn { border: 2px solid #000; padding: 0.4em 0.6em; font-weight: bold; }
table { border-collapse: collapse; margin: 0.4em 0; width: 100%; break-inside: avoid; }
caption { text-align: left; font-weight: bold; }
th { overflow-wrap: normal; }
th, td { text-align: left; vertical-align: top; padding: 0.15em 0.4em;
  border-bottom: 1px solid #999; }
.note { font-size: 0.85em; }
h2, h3 { break-after: avoid; }
dl.sum { break-inside: avoid; }
dl.sum { margin: 0.3em 0 0.5em 0.6em; }
dl.sum dt { font-family: ui-monospace, monospace; font-size: 0.95em; }
dl.sum dd { font-family: ui-monospace, monospace; font-size: 0.95em; margin: 0 0 0 2em; }
dl.sum dd.result { font-weight: bold; margin-bottom: 0.4em; white-space: nowrap; }
.fill { display: inline-block; border-bottom: 1px solid #000; height: 1.6em; width: 75%; }
.fill.short { width: 8em; }
.card { break-inside: avoid; }
.card td:first-child { width: 1.6em; }
.card b { white-space: nowrap; }
.card td:nth-child(2) { width: 5em; }
.box { display: inline-block; width: 0.9em; height: 0.9em; border: 1.5px solid #000; }
.sign { display: flex; flex-wrap: wrap; gap: 0.6em 1.5em; margin-top: 0.8em; }
.sign span { flex: 1 1 9em; border-bottom: 1px solid #000; padding-bottom: 1.4em; }
.key dl.sum dt, .key dl.sum dd { display: inline; margin: 0; }
.key { break-before: page; border-top: 6px double #000; padding-top: 0.6em; margin-top: 2em; }
@media (max-width: 500px) {
  body { font-size: 15px; padding: 0.5em; }
  th, td { padding: 0.1em 0.2em; font-size: 0.85em; }
  dl.sum dd { margin-left: 0.8em; }
}
@media print {
  body { font-size: 10.5pt; max-width: none; padding: 0; }
  .key { border-top: 0; margin-top: 0; }
}
@page { margin: 14mm; }
)";

struct Greek {
  std::string_view word, letter;
};
constexpr std::array greek{
    Greek{"alpha", "&alpha;"}, Greek{"beta", "&beta;"},   Greek{"gamma", "&gamma;"},
    Greek{"delta", "&delta;"}, Greek{"theta", "&theta;"}, Greek{"rho", "&rho;"},
    Greek{"mu", "&mu;"},       Greek{"nu", "&nu;"},       Greek{"pi", "&pi;"}};
constexpr std::array functions{"sin", "cos", "tan", "asin", "sqrt", "log10"};

/// A symbol of ours as the field prints it: Greek letters, the rest of a letter lowered.
std::string symbol(std::string_view word) {
  for (const Greek& one : greek) {
    if (one.word == word) return std::string(one.letter);
  }
  if (std::ranges::find(functions, word) != functions.end() || word == "OD" || word == "Re") {
    return std::string(word);
  }
  std::string out = fmt::format("<i>{}</i>", word.substr(0, 1));
  if (word.size() > 1) out += fmt::format("<sub>{}</sub>", word.substr(1));
  return out;
}

/// Arithmetic: symbols as the field prints them, "x" as a times sign.
std::string arithmetic(std::string_view text) {
  std::string out;
  const auto is_word = [](char c) { return std::isalnum(static_cast<unsigned char>(c)) != 0; };
  while (!text.empty()) {
    const char c = text.front();
    std::size_t length = 1;
    if (std::isalpha(static_cast<unsigned char>(c))) {
      while (length < text.size() && is_word(text[length])) ++length;
      const std::string_view word = text.substr(0, length);
      out += word == "x" ? "&times;" : symbol(word);
    } else if (c == '-') {
      out += "&minus;";
    } else {
      out += c;
    }
    text.remove_prefix(length);
  }
  return out;
}

/// Our words with words of the job among them, which html_text cleans one by one.
std::string words(std::string_view text) {
  std::string out;
  while (!text.empty()) {
    const std::size_t blank = std::min(text.find(' '), text.size());
    out += html_text(text.substr(0, blank));
    if (blank < text.size()) out += ' ';
    text.remove_prefix(std::min(blank + 1, text.size()));
  }
  return out;
}

/// The same for words about a sum: the names of Greek letters become the letters of the sums.
std::string prose(std::string_view text) {
  std::string out;
  while (!text.empty()) {
    const std::size_t blank = std::min(text.find(' '), text.size());
    const std::string_view word = text.substr(0, blank);
    const std::size_t end = std::min(word.find_first_of(",.;:)"), word.size());
    const auto letter = std::ranges::find(greek, word.substr(0, end), &Greek::word);
    out +=
        letter == greek.end() ? words(word) : std::string(letter->letter) + words(word.substr(end));
    if (blank < text.size()) out += ' ';
    text.remove_prefix(std::min(blank + 1, text.size()));
  }
  return out;
}

class LessonHtml {
 public:
  LessonHtml(const Lesson& lesson, bool blanks) : lesson_(lesson), blanks_(blanks) {}

  std::string build() {
    head(blanks_ ? "Exercise" : "Worked lesson");
    heading("How to work");
    list(lesson_.rules);
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
    list(lesson_.sources);
    return html_page(title(blanks_ ? "Exercise" : "Worked lesson"), style, out_);
  }

 private:
  enum class Mode { worked, blank, key };

  std::string title(std::string_view kind) const {
    std::string name(kind);
    if (!lesson_.seed.empty()) name += ", " + lesson_.seed;
    if (!lesson_.tag.empty()) name += ": " + lesson_.tag;
    return name;
  }
  void paragraph(std::string_view text, std::string_view css = {}) {
    if (text.empty()) return;
    out_ += css.empty() ? "<p dir=\"auto\">" : fmt::format("<p class=\"{}\" dir=\"auto\">", css);
    out_ += words(text) + "</p>\n";
  }
  void said(std::string_view text) {
    if (!text.empty()) out_ += "<p dir=\"auto\">" + prose(text) + "</p>\n";
  }
  void heading(std::string_view text) { out_ += fmt::format("<h2>{}</h2>\n", text); }
  void list(const std::vector<std::string>& all) {
    out_ += "<ul>\n";
    for (const std::string& one : all) out_ += "<li>" + words(one) + "</li>\n";
    out_ += "</ul>\n";
  }

  void head(std::string_view kind) {
    out_ += "<h1 dir=\"auto\">" + words(title(kind)) + "</h1>\n";
    paragraph(lesson_.title);
    paragraph(lesson_.varied);
    paragraph(lesson_.warning, "warn");
  }

  void cells(const std::vector<std::string>& row, std::string_view tag) {
    out_ += "<tr>";
    for (const std::string& cell : row) {
      out_ += fmt::format("<{0} dir=\"auto\">{1}</{0}>", tag, words(cell));
    }
    out_ += "</tr>\n";
  }

  void known() {
    heading("What is known");
    out_ += "<table>\n<tr><th>what</th><th>symbol</th><th>value</th><th>note</th></tr>\n";
    for (const LessonKnown& one : lesson_.known) {
      out_ +=
          fmt::format("<tr><td>{}</td><td>{}</td><td>{}</td><td dir=\"auto\">{}</td></tr>\n",
                      words(one.name), arithmetic(one.symbol), words(one.value), words(one.note));
    }
    out_ += "</table>\n";
  }

  void excerpt(const LessonTable& table) {
    out_ += "<table>\n<caption dir=\"auto\">" + words(table.caption) + "</caption>\n";
    out_ += "<tr>";
    for (const std::string& cell : table.head) out_ += "<th>" + prose(cell) + "</th>";
    out_ += "</tr>\n";
    for (const auto& row : table.rows) cells(row, "td");
    out_ += "</table>\n";
    paragraph(table.note, "note");
  }

  void steps(const std::vector<LessonStep>& all, std::string_view kind, Mode mode) {
    for (std::size_t i = 0; i < all.size(); ++i) {
      const LessonStep& one = all[i];
      out_ +=
          fmt::format("<div class=\"step\">\n<h3>{} {}: {}</h3>\n", kind, i + 1, prose(one.title));
      if (mode != Mode::key) said(one.before);
      if (one.table && mode != Mode::key) excerpt(*one.table);
      for (const LessonLine& each : one.lines) sum(each, mode);
      if (mode != Mode::blank) {
        said(one.after);
      } else if (!one.blank.empty()) {
        out_ += fmt::format("<p>{} <span class=\"fill\"></span></p>\n", words(one.blank));
      }
      out_ += "</div>\n";
    }
  }

  void sum(const LessonLine& one, Mode mode) {
    const bool blank = mode == Mode::blank;
    const std::string fill = "<span class=\"fill\"></span>";
    const std::string result =
        blank ? "<span class=\"fill short\"></span>" : arithmetic(one.result);
    out_ += fmt::format(
        "<dl class=\"sum\"><dt>{} = {}</dt> <dd>= {}</dd> <dd class=\"result\">= {} {}</dd></dl>\n",
        arithmetic(one.symbol), arithmetic(one.formula), blank ? fill : arithmetic(one.numbers),
        result, words(one.unit));
  }

  void outcome() {
    heading("Beside the program");
    paragraph(lesson_.comparison_intro);
    out_ += "<table>\n";
    cells({"what", "by steps", "program", "difference", "at most", "unit"}, "th");
    for (const LessonComparison& one : lesson_.comparisons) {
      cells({one.what, one.steps, one.program, one.difference, one.allowed, one.unit}, "td");
    }
    out_ += "</table>\n";
    paragraph(lesson_.setting);
    heading("Usual mistakes");
    paragraph(lesson_.mistakes_intro);
    std::vector<std::string> rows;
    for (const LessonMistake& one : lesson_.mistakes) {
      rows.push_back(fmt::format("If you got {}: {}.", one.answer, one.what));
    }
    list(rows);
  }

  void card() {
    out_ += "<div class=\"card\">\n";
    heading("Practical card");
    paragraph(lesson_.card_note);
    out_ += "<table>\n";
    for (const LessonCardRow& one : lesson_.card) {
      out_ += fmt::format(
          "<tr><td><span class=\"box\"></span></td><td><b>{}</b></td><td>{}</td></tr>\n",
          words(one.what), words(one.how));
    }
    out_ +=
        "</table>\n<div class=\"sign\"><span>Trainee</span><span>Trainer</span>"
        "<span>Date</span></div>\n</div>\n";
  }

  void key() {
    out_ += "<section class=\"key\">\n";
    head("Answer key");
    heading("Estimate");
    steps(lesson_.estimates, "Estimate", Mode::key);
    heading("Step by step");
    steps(lesson_.steps, "Step", Mode::key);
    outcome();
    heading("More exercises");
    steps(lesson_.exercises, "Exercise", Mode::key);
    out_ += "</section>\n";
  }

  const Lesson& lesson_;
  bool blanks_;
  std::string out_;
};

}  // namespace

std::string lesson_html(const Lesson& lesson, bool blanks) {
  return LessonHtml(lesson, blanks).build();
}

}  // namespace slantrule
