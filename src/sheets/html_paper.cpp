#include "html_paper.hpp"

#include <algorithm>
#include <cmath>
#include <variant>

namespace slantrule {
namespace {

/// One size of print, as sheet_style() has it.
struct Print {
  std::string_view name;
  double letters_pt, line_height, views_mm;
  bool notes;  ///< and assumptions
};
constexpr Print prints[] = {{"", 9, 1.3, 150, true},
                            {"close", 8, 1.25, 132, true},
                            {"closest", 7, 1.2, 114, true},
                            {"closest few", 7, 1.2, 114, false},
                            {"closest few bare", 7, 1.2, 0, false}};

// The narrower of the two papers, and the lower one, inside margins of 12 mm.
constexpr double paper_width_mm = 210 - 24, paper_height_mm = 279.4 - 24;
constexpr double mm_per_pt = 25.4 / 72;
/// Mean width of a letter by its size, in running English with figures (Helvetica and its like).
constexpr double letter_width = 0.46;

/// How far down the pages a sheet comes.
class Paper {
 public:
  Paper(const Print& print, double views_height)
      : print_(print),
        line_mm_(print.letters_pt * print.line_height * mm_per_pt),
        columns_(paper_width_mm / (letter_width * print.letters_pt * mm_per_pt)),
        views_mm_(views_height * print.views_mm) {}

  bool holds(const SheetContent& content) {
    down(2.2);
    for (const std::string& one : content.head_lines) text(one.size(), 0.6);
    double box = content.box.issued ? 5 : 2;
    for (const BoxRow& row : content.box.rows) box += rows_of(row.text.size()) + 0.3;
    down(box);
    for (const Section& section : content.sections) {
      const bool yields = section.yield == Yield::named || section.yield == Yield::counted;
      if (yields && !print_.notes) {
        down(1.2);
        continue;
      }
      down(2.1);
      for (const Block& block : section.blocks) {
        std::visit([&](const auto& one) { count(one); }, block);
      }
    }
    down(2.4);
    return at_mm_ <= 2 * paper_height_mm;
  }

 private:
  void down(double lines) { at_mm_ += lines * line_mm_; }
  double rows_of(std::size_t bytes) const {
    return std::max(1.0, std::ceil(static_cast<double>(bytes) / columns_));
  }
  void text(std::size_t bytes, double margin) { down(rows_of(bytes) + margin); }

  void count(const Paragraph& one) { text(one.text.size(), 0.4); }
  void count(const Values& values) {
    // In two columns of about 50 and 90 mm for names and values.
    double lines = 0;
    for (const ValueRow& row : values.rows) lines += rows_of(4 * row.value.size());
    down(lines / 2 + 1);
  }
  void count(const Steps& steps) {
    for (const std::string& one : steps.items) text(one.size() + 4, 0.3);
  }
  void count(const Points& points) {
    for (const Point& one : points.items) text(one.text.size(), 0.3);
  }
  void count(const Ranking& ranking) {
    for (const std::string& one : ranking.items) text(one.size() + 5, 0.3);
  }
  void count(const FindingList& list) {
    for (const FindingItem& item : list.items) {
      text(item.message.size() + 9, 0.2);
      text(item.mend.size() + 5, 0);
      if (!item.accepted.empty()) text(item.accepted.size() + 3, 0);
    }
  }
  void count(const Table& table) {
    down(1.4);
    for (const TableRow& row : table.rows) {
      down(1.4);
      if (!row.remark.empty()) text(row.remark.size() + row.source.size() + 3, 0.3);
    }
  }
  /// The drawings are not torn apart.
  void count(const Sketch&) {
    if (views_mm_ <= 0) return;
    if (at_mm_ < paper_height_mm && at_mm_ + views_mm_ > paper_height_mm) at_mm_ = paper_height_mm;
    at_mm_ += views_mm_;
    down(0.6);
  }

  const Print& print_;
  double line_mm_, columns_, views_mm_;
  double at_mm_ = 0;
};

}  // namespace

std::string_view paper_class(const SheetContent& content, double views_height) {
  for (const Print& print : prints) {
    if (Paper(print, views_height).holds(content)) return print.name;
  }
  return std::end(prints)[-1].name;
}

}  // namespace slantrule
