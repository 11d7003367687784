#pragma once

/// Results of a list of pipes, a row for each: as CSV, as JSON Lines, as a table to read.

#include <cstddef>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "slantrule/files/list_row.hpp"
#include "slantrule/sheets/sheet.hpp"

namespace slantrule {

/// One row of a list with its plan; `planned` has no variants where the row is refused.
struct SurveyRow {
  ListRow list;
  std::string tag;  ///< of refused rows too, where it could be read
  PlannedJob planned;

  bool refused() const { return !list.problems.empty(); }
};

/// The finding that a row is to be known by: of those of the gravest severity a conflict in the
/// data first, then another that says by how much the flow would be off, then the first. Null where
/// there are none.
const Finding* foremost_finding(const Plan& plan);

/// By how much the flow would be off, "flow -9.8 %", where the finding says so; else empty.
std::string price_in_flow(const Finding& finding, const Display& display);

/// The list's columns as results name them: the headings as written, but no two alike ("Reading",
/// "Reading (2)") and none empty ("column 3").
struct ListColumns {
  /// `sparse`: rows need not have every column, as lines of JSON; a cell whose view has no data is
  /// not there.
  explicit ListColumns(std::span<const std::string> headings, bool sparse = false);
  std::vector<std::string> names;
  bool sparse = false;
};

/// The first line of the CSV, line end included. `separator` is ',', ';' or a tab.
///
/// Columns are named by the dotted keys of the plan's JSON. Behind them stands the list itself,
/// each column as "list: HEADING", and in "list: beyond" what a row has beyond its headings, joined
/// by " | ".
std::string survey_csv_header(const ListColumns& columns, char separator = ',');

/// Appends one row, '\n' at its end and, quoted, where a cell of the list has one.
///
/// Numbers are unrounded: the shortest digits that read back as the same double, with a decimal
/// dot. A value that doesn't exist is an empty cell. Of several candidates the cells hold what all
/// have in common, `verdict` the worst, `candidates` each with its mark spacing, and the findings
/// those of any.
///
/// Quoted by RFC 4180, except that rows end in '\n'. A cell of the list comes back as it was read,
/// line breaks and control characters included; bytes that are no UTF-8 as '?'. In all other texts
/// control characters are written as blanks (a CR LF as one), and C1 controls, controls of writing
/// direction and bytes that are no UTF-8 as '?'. So that no spreadsheet takes a text for a formula,
/// an apostrophe is put before one that begins, blanks aside, with = + - @, one of their full-width
/// forms, a tab or a line end, unless all of it is a plain number (OWASP, "CSV Injection").
void append_survey_csv(std::string& out, const SurveyRow& row, const ListColumns& columns,
                       char separator = ',');

/// Appends one line of JSON, '\n' at its end:
///
///     { row, line, status: "planned", ...the object of json_sheet..., remarks?, list }
///     { row, line, status: "refused", slantrule, format, tag?, problems, remarks?, list }
///
/// problems and remarks: [ { column, cell, message } ]; list: { heading: text as written }, and
/// `list_beyond`, an array, for what a row has beyond its headings. Of a line of JSON, `list` has
/// what the line has, objects as JSON, or `line`, the line that could not be read. `version` of the
/// program.
void append_survey_json(std::string& out, const SurveyRow& row, const ListColumns& columns,
                        std::string_view version);

/// Table to read, at most 80 columns: the head, a row of it, and the foot (survey_summary.hpp).
/// Spacings are rounded as the setup sheet rounds them; a stop shows none. A spacing of an invented
/// pair bears an exclamation mark, which the head explains.
std::string survey_text_header(const Display& display);
void append_survey_text(std::string& out, const SurveyRow& row, const Display& display);

/// Name of a row's own sheet: "0012-CHW-R-02.txt". ASCII letters, digits, '-', '_' and '.', at most
/// 80 bytes, neither hidden nor reserved on any system; the number tells rows apart where case does
/// not count. `extension` without a dot, at most 10 letters.
std::string sheet_file_name(std::size_t row, std::string_view tag, std::string_view extension);

}  // namespace slantrule
