#pragma once

/// What a setup sheet says, before it is laid out: built once from a plan, then rendered as text,
/// Markdown or HTML. Texts are ready to be shown, but for the markup of the format; where
/// `write_in` stands, the reader writes.

#include <cstdint>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "slantrule/sheets/sheet.hpp"

namespace slantrule {

/// A place to write in.
inline constexpr std::string_view write_in = "________";

/// A row of the box that is read first.
struct BoxRow {
  std::string text;
  bool warning = false;
};

struct SpacingBox {
  bool issued = false;  ///< false: no spacing may be read anywhere, and the three texts are empty
  std::string setting;  ///< the spacing to set, in the sheet's units
  std::string other;    ///< the same in the other system
  std::string hold;     ///< to what it is to be marked
  std::vector<BoxRow> rows;
};

/// Running text.
struct Paragraph {
  std::string text;
  bool indented = false;
};

/// A name and its value. Without a name it belongs to the row before it.
struct ValueRow {
  std::string name, value;
  bool is_source = false;  ///< or another detail of the row before it; yields on paper
};
struct Values {
  std::vector<ValueRow> rows;
};

/// Things to do, each with a box to tick.
struct Steps {
  std::vector<std::string> items;
};

/// Points of a list.
struct Point {
  std::string text;
  std::string_view id;  ///< of the check behind it, or empty
};
struct Points {
  std::vector<Point> items;
};

/// Findings in full, the gravest first.
struct FindingItem {
  Severity severity;
  std::string message, mend, accepted;  ///< `accepted`: by whom and why, or empty
  std::string_view id, rule;            ///< of the check, and where its rule comes from
};
struct FindingList {
  std::vector<FindingItem> items;
  bool brief = false;  ///< message and mend run on
};

/// Points ranked by worth, the first marked as the best.
struct Ranking {
  std::vector<std::string> items;
};

struct Column {
  std::string head;
  std::size_t width;  ///< in text, in characters; 0: as wide as its cells
};
struct TableRow {
  std::vector<std::string> cells;
  std::string remark;  ///< below the row, over its whole width; or empty
  std::string source;  ///< of the remark; yields on paper
};
struct Table {
  std::vector<Column> columns;
  std::vector<TableRow> rows;
  bool indented = true;
};

/// The path from the side.
struct Sketch {
  int traverses;
  double exit_spacing_m, bore_m;
};

using Block = std::variant<Paragraph, Values, Steps, Points, FindingList, Ranking, Table, Sketch>;

/// What a section gives up on a sheet that would be longer than two pages.
enum class Yield : std::uint8_t {
  nothing,   ///< but sketches and sources, as every section
  cautions,  ///< the mildest, named and counted
  named,     ///< points that don't fit, their ids named
  counted,   ///< points that don't fit, counted
};

struct Section {
  std::string heading;
  std::vector<Block> blocks;
  Yield yield = Yield::nothing;
};

struct SheetContent {
  Verdict verdict = Verdict::go;
  std::string verdict_words;            ///< "CAUTION (2)"
  std::string tag;                      ///< or "(no tag)"
  std::vector<std::string> head_lines;  ///< title and site, note
  bool candidates = false;              ///< several: nothing is issued
  SpacingBox box;
  std::vector<Section> sections;
  /// Labels with what is known behind them: "Planned by", "Mounted by", ...
  std::vector<ValueRow> sign_off;
};

/// The sheet of one candidate.
SheetContent sheet_content(const PlannedVariant& variant, const Display& display);

/// The sheet of several candidates: side by side first, so that they can be told apart, then what
/// they share.
SheetContent candidates_content(const PlannedJob& job, const Display& display);

/// Whichever the job needs.
SheetContent sheet_content(const PlannedJob& job, const Display& display);

}  // namespace slantrule
