#pragma once

/// Cells of a CSV line, written straight into a text.

#include <optional>
#include <string>
#include <string_view>

namespace slantrule {

/// The digits of survey_sheet.hpp; nothing for what isn't finite.
void append_csv_number(std::string& out, double value);

/// Makes what `out` holds from byte `from` on a text cell by the rules of survey_sheet.hpp.
void make_text_cell(std::string& out, std::size_t from, char separator);

/// The same for a cell of the list, of which every character stays, line ends included.
void make_original_cell(std::string& out, std::size_t from, char separator);

/// A line in the making. Every call but `end_line` is one cell.
class CsvLine {
 public:
  CsvLine(std::string& out, char separator) : out_(out), separator_(separator) {}

  void empty() { next(); }
  void number(double value) {
    next();
    append_csv_number(out_, value);
  }
  void number(const std::optional<double>& value, double factor = 1) {
    next();
    if (value) append_csv_number(out_, *value * factor);
  }
  void count(std::size_t value) {
    next();
    out_ += std::to_string(value);
  }
  /// A word of ours that no rule applies to.
  void word(std::string_view word) {
    next();
    out_ += word;
  }
  void flag(bool value) { word(value ? "true" : "false"); }
  void text(std::string_view text) {
    next();
    const std::size_t from = out_.size();
    out_ += text;
    make_text_cell(out_, from, separator_);
  }
  /// A cell of the list.
  void original(std::string_view text) {
    next();
    const std::size_t from = out_.size();
    out_ += text;
    make_original_cell(out_, from, separator_);
  }
  /// The text that `append` puts behind `out`.
  template <class Append>
  void composed(const Append& append) {
    next();
    const std::size_t from = out_.size();
    append(out_);
    make_text_cell(out_, from, separator_);
  }
  /// What all of `items` write alike as one cell, else an empty one. At least one item.
  template <class Items, class Write>
  void common(const Items& items, const Write& write) {
    auto item = items.begin();
    const std::size_t from = out_.size();
    write(*this, *item);
    const std::size_t to = out_.size();
    for (++item; item != items.end(); ++item) {
      write(*this, *item);
      const std::string_view both(out_);
      const bool alike = both.substr(from, to - from) == both.substr(to);
      out_.resize(to);
      if (alike) continue;
      out_.resize(from);
      empty();
      return;
    }
  }
  /// The same of cells of the list.
  template <class Append>
  void composed_of_cells(const Append& append) {
    next();
    const std::size_t from = out_.size();
    append(out_);
    make_original_cell(out_, from, separator_);
  }
  void end_line() {
    out_ += '\n';
    first_ = true;
  }

 private:
  void next() {
    if (!first_) out_ += separator_;
    first_ = false;
  }

  std::string& out_;
  char separator_;
  bool first_ = true;
};

}  // namespace slantrule
