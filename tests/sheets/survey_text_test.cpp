// The table of a survey for reading, and the names of its sheets.

#include <catch2/catch.hpp>
#include <set>

#include "sheets/survey_rows.hpp"
#include "slantrule/sheets/text_layout.hpp"

using namespace slantrule;
using namespace slantrule::test;
using Catch::Matchers::Contains;

namespace {

const Display metric{};
const Display ascii{UnitSystem::metric, false};

std::string text_of(const SurveyRow& row, const Display& display = metric) {
  std::string out;
  append_survey_text(out, row, display);
  for (const std::string& line : lines_of(out)) {
    INFO(line);
    CHECK(columns(line) <= sheet_columns);
    CHECK_FALSE(line.ends_with(' '));
  }
  return out;
}

/// The one line of a row, and that it is one.
std::string line_of(const SurveyRow& row, const Display& display = metric) {
  const std::string text = text_of(row, display);
  REQUIRE(lines_of(text).size() == 1);
  return lines_of(text).front();
}

/// The spacing in the box of the setup sheet: "SET 166.5 mm".
std::string spacing_of_sheet(const PlannedJob& job, const Display& display = metric) {
  const std::string sheet = text_sheet(job, display);
  const std::size_t set = sheet.find("SET ");
  REQUIRE(set != std::string::npos);
  const std::size_t at = sheet.find_first_not_of(' ', set + 4);
  return sheet.substr(at, sheet.find(' ', at) - at);
}

}  // namespace

TEST_CASE("survey text: a row, with the spacing as the setup sheet rounds it") {
  const HeldRow large = planned_row(12, {real_pair});
  const std::string line = line_of(large.row);
  CHECK_THAT(line, Contains("   12 CHW-R-02 "));
  // ASME B36.10M: NPS 6 schedule 40.
  CHECK_THAT(line, Contains(" 168.3x7.11 "));
  CHECK_THAT(line, Contains(" 2 same "));
  CHECK_THAT(line, Contains(" " + spacing_of_sheet(large.row.planned) + " "));
  CHECK(spacing_of_sheet(large.row.planned).find('.') == std::string::npos);

  // Below 100 mm bore to half a millimetre.
  const HeldRow small = planned_row(1, {real_pair, "pipe.size=NPS 3 sch 40", "path.traverses=1"});
  const std::string set = spacing_of_sheet(small.row.planned);
  CHECK((set.ends_with(".0") || set.ends_with(".5")));
  CHECK_THAT(line_of(small.row), Contains(" 1 opp. ") && Contains(" " + set + " "));

  const Display us{UnitSystem::us, true};
  // 168.3 mm / 25.4 = 6.626 in, 7.11 mm / 25.4 = 0.280 in.
  CHECK_THAT(line_of(large.row, us), Contains(" 6.626x0.28 "));
  CHECK_THAT(line_of(large.row, us), Contains(" " + spacing_of_sheet(large.row.planned, us) + " "));
  CHECK_THAT(survey_text_header(us), Contains("OD x wall in"));
  CHECK_THAT(survey_text_header(metric), Contains("OD x wall mm"));
}

TEST_CASE("survey text: a conflict is the first reason of its severity, with its price") {
  // NPS 6 schedule 40: 168.28 mm x 7.11 mm (ASME B36.10M). Taken with 5 mm where 7.11 mm are true,
  // the area and with it the flow come out (158.28 / 154.06)^2 - 1 = 5.6 % too large.
  const HeldRow held = planned_row(1, {"pipe.wall=5 mm", "location.upstream=", real_pair});
  CHECK_THAT(text_of(held.row), Contains("pipe.wall-conflict, flow"));
  const std::string text = text_of(held.row);
  const std::size_t at = text.find("flow ") + 5;
  CHECK(std::abs(std::stod(text.substr(text.find_first_of("0123456789", at)))) ==
        Approx(5.6).margin(0.4));
}

TEST_CASE("survey text: the columns stand below their headings") {
  const std::vector<std::string> head = lines_of(survey_text_header(metric));
  const std::string& headings = head[head.size() - 2];
  for (const std::string& line : head) CHECK(columns(line) <= sheet_columns);
  const std::string line =
      line_of(planned_row(1, {real_pair, "location.upstream=", "flow.least=1 m3/h"}).row);
  CHECK(line.find("CHW") == headings.find("tag"));
  CHECK(line.find("caution") == headings.find("verdict"));
  CHECK(line.find("168.3x") == headings.find("OD x"));
  CHECK(line.find("same") == headings.find("side"));
  CHECK(line.find("run.upstream.unknown") == headings.find("first reason"));
  // Right-aligned numbers end where their headings end.
  const std::string set = spacing_of_sheet(planned({real_pair}));
  CHECK(line.find(" " + set + " ") + 1 + set.size() == headings.find("SET") + 3);
}

TEST_CASE("survey text: training data is marked, and the head says so") {
  const HeldRow held = planned_row(1);
  CHECK_THAT(line_of(held.row), Contains(" " + spacing_of_sheet(held.row.planned) + "! "));
  CHECK_THAT(line_of(planned_row(1, {real_pair}).row), !Contains("!"));
  CHECK_THAT(survey_text_header(metric), Contains("!: TRAINING DATA"));
  CHECK_THAT(survey_text_header(metric), Contains("DO NOT MOUNT"));
}

TEST_CASE("survey text: a stop shows no spacing") {
  const HeldRow held =
      planned_row(1, {R"(location.upstream=[{"fitting":"elbow-90","distance":"1 D"}])"});
  const Plan& plan = held.row.planned.variants.front().plan;
  REQUIRE(plan.path);
  const std::string line = line_of(held.row);
  CHECK_THAT(line, Contains("stop ") && Contains(" - ") && Contains("run.upstream"));
  const std::string spacing = setting_text(plan.path->ray.mark_spacing_m, 1e-3, metric);
  CHECK_THAT(line, !Contains(" " + spacing.substr(0, spacing.find(' ')) + " "));

  const HeldRow dark = planned_row(1, {R"(sensors={"frequency":"1 MHz","setback":"14 mm",
                   "wedge":{"sound_speed":"1200 m/s","angle":"60 deg"}})"});
  CHECK_THAT(line_of(dark.row), Contains("path.no-ray"));
}

TEST_CASE("survey text: a long reason stands below") {
  const HeldRow held =
      planned_row(1, {real_pair, "location.hazardous_area=zone 1", "location.ambient=7 degC"});
  const std::string text = text_of(held.row);
  CHECK_THAT(text, Contains("\n      mount.hazardous-area.unknown\n"));
}

TEST_CASE("survey text: candidates each have a line") {
  const HeldRow held =
      planned_row(1, {R"(pipe.size={"one_of":["NPS 6 sch 40","NPS 1/2 sch 40"]})"});
  const std::string text = text_of(held.row);
  CHECK_THAT(text, Contains("stop    2 candidates\n"));
  CHECK_THAT(text, Contains("NPS 6 sch 40: caution, 168.3x7.11, N 2 same, SET "));
  CHECK_THAT(text, Contains("NPS 1/2 sch 40: stop, "));
}

TEST_CASE("survey text: a refused row says what is wrong, wrapped below") {
  const HeldRow held = refused_row(7,
                                   {{"Wall (mm)", "7,111",
                                     "\"7,111\" may be 7.111 or 7111; write the one that is meant, "
                                     "with a unit: \"7.111 mm\""}},
                                   {}, "X-1");
  const std::vector<std::string> lines = lines_of(text_of(held.row));
  REQUIRE(lines.size() > 2);
  CHECK_THAT(lines[0], Contains("    7 X-1 ") && Contains(" refused"));
  CHECK(lines[1].starts_with("      refused: Wall (mm): \"7,111\" may be"));

  std::vector<CellMessage> many(9, {"c", "", "odd"});
  CHECK_THAT(text_of(refused_row(1, many).row), Contains("and 6 more"));
  CHECK_THAT(text_of(refused_row(1, {{"", "", "empty row"}}).row), Contains("refused: empty row"));
}

TEST_CASE("survey text: texts of a list obey no terminal") {
  const HeldRow held =
      refused_row(1, {{"a\x1b[31m", "", "b\x07\xC2\x9B"}}, {}, "t\x1b]0;x\xE2\x80\xAEü");
  for (const Display& display : {metric, ascii}) {
    for (char c : text_of(held.row, display)) CHECK((c == '\n' || c < 0 || c >= 0x20));
    CHECK_THAT(text_of(held.row, display), !Contains("\xC2\x9B") && !Contains("\xE2\x80\xAE"));
  }
  CHECK_THAT(text_of(held.row, metric), Contains("ü"));
  for (char c : text_of(held.row, ascii)) CHECK(static_cast<unsigned char>(c) < 0x80);
  for (char c : survey_text_header(ascii)) CHECK(static_cast<unsigned char>(c) < 0x80);
}

TEST_CASE("survey: names of sheets") {
  CHECK(sheet_file_name(12, "CHW-R-02", "txt") == "0012-CHW-R-02.txt");
  CHECK(sheet_file_name(1, "", "html") == "0001.html");
  CHECK(sheet_file_name(123456, "a", "txt") == "123456-a.txt");
  CHECK(sheet_file_name(1, "6\"-CW-1001-A1B-H", "txt") == "0001-6-CW-1001-A1B-H.txt");
  CHECK(sheet_file_name(1, "Ду 100 / pump_2.1", "txt") == "0001-100-pump_2.1.txt");
  CHECK(sheet_file_name(1, "../../etc/passwd", "txt") == "0001-etc-passwd.txt");
  CHECK(sheet_file_name(1, "..", "txt") == "0001.txt");
  CHECK(sheet_file_name(1, "a...", "txt") == "0001-a.txt");
}

TEST_CASE("survey: a name of a sheet is safe on every system, whatever the tag") {
  const std::set<std::string> reserved{"CON", "PRN", "AUX", "NUL", "COM1", "LPT9"};
  std::vector<std::string> tags{std::string(500, 'x'),
                                std::string(300, '.'),
                                "CON",
                                "nul.txt",
                                "LPT9",
                                "-rf",
                                "~",
                                "a:b",
                                "c\\d",
                                "e*?<>|f",
                                "g\n\x01h",
                                "i ",
                                std::string("j\0k", 3)};
  for (int c = 0; c < 256; ++c) tags.push_back("p" + std::string(1, static_cast<char>(c)) + "q");
  for (const std::string& tag : tags) {
    for (std::size_t row : {std::size_t{1}, std::size_t{1'000'000}}) {
      const std::string name = sheet_file_name(row, tag, "txt");
      INFO(name);
      CHECK(name.size() <= 80);
      CHECK(name.find_first_not_of(
                "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_.") ==
            std::string::npos);
      CHECK((name[0] >= '0' && name[0] <= '9'));
      CHECK(name.ends_with(".txt"));
      CHECK(reserved.count(name.substr(0, name.find('.'))) == 0);
    }
  }
  CHECK(sheet_file_name(1, "a", "txt") != sheet_file_name(2, "A", "txt"));
}
