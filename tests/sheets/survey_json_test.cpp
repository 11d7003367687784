// Rows of a survey as JSON Lines: the object that `plan` prints, with the row's own keys about it.

#include <algorithm>
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <random>

#include "sheets/survey_rows.hpp"

using namespace slantrule;
using namespace slantrule::test;
using Catch::Matchers::StartsWith;
using Json = nlohmann::ordered_json;

namespace {

const std::vector<std::string> headings{"Tag", "Tag", "Size"};

std::string line_of(const SurveyRow& row) {
  std::string out;
  append_survey_json(out, row, ListColumns(headings), "9.8.7");
  REQUIRE(out.ends_with('\n'));
  out.pop_back();
  // Pure ASCII without control characters.
  REQUIRE(std::ranges::all_of(out, [](char c) { return c >= 0x20 && c < 0x7f; }));
  return out;
}

}  // namespace

TEST_CASE("survey json: a planned row is json_sheet's object with the row's keys about it") {
  for (std::size_t i = 0; i < dozen_jobs().size(); ++i) {
    CAPTURE(i);
    const HeldRow held = planned_row(i + 1, dozen_jobs()[i], {"a", "b"});
    Json row = Json::parse(line_of(held.row));
    CHECK(row.at("row") == i + 1);
    CHECK(row.at("line") == i + 4);
    CHECK(row.at("status") == "planned");
    CHECK(row.at("list") == Json{{"Tag", "a"}, {"Tag (2)", "b"}});
    for (const char* key : {"row", "line", "status", "list"}) row.erase(key);
    CHECK(row.dump() == Json::parse(json_sheet(held.row.planned, "9.8.7")).dump());
  }
}

TEST_CASE("survey json: row, line and status stand in front") {
  const HeldRow held = planned_row(12);
  CHECK_THAT(line_of(held.row),
             StartsWith(R"({"row":12,"line":15,"status":"planned","slantrule":"9.8.7",)"));
}

TEST_CASE("survey json: candidates too") {
  const HeldRow held =
      planned_row(1, {R"(pipe.size={"one_of":["NPS 6 sch 40","NPS 6 sch 80"]})"}, {"48/54?"});
  const Json row = Json::parse(line_of(held.row));
  CHECK(row.at("status") == "planned");
  CHECK(row.at("candidates").size() == 2);
  CHECK(row.at("list").at("Tag") == "48/54?");
}

TEST_CASE("survey json: a refused row") {
  HeldRow held = refused_row(3, {{"Wall", "7,111", "may be 7.111 or 7111"}, {"", "", "odd"}},
                             {"t", "u", "4\"", "more", ""}, "X-1");
  held.row.list.remarks = {{"Size", "4\"", "taken as NPS 4"}};
  const Json row = Json::parse(line_of(held.row));
  const Json expected{
      {"row", 3},
      {"line", 6},
      {"status", "refused"},
      {"slantrule", "9.8.7"},
      {"format", 1},
      {"tag", "X-1"},
      {"problems",
       {{{"column", "Wall"}, {"cell", "7,111"}, {"message", "may be 7.111 or 7111"}},
        {{"column", ""}, {"cell", ""}, {"message", "odd"}}}},
      {"remarks", {{{"column", "Size"}, {"cell", "4\""}, {"message", "taken as NPS 4"}}}},
      {"list", {{"Tag", "t"}, {"Tag (2)", "u"}, {"Size", "4\""}}},
      {"list_beyond", {"more", ""}}};
  CHECK(row.dump() == expected.dump());

  // No verdict and no tag where there are none.
  HeldRow bare = refused_row(1, {{"", "", "odd"}});
  const Json other = Json::parse(line_of(bare.row));
  CHECK_FALSE(other.contains("tag"));
  CHECK_FALSE(other.contains("verdict"));
  CHECK_FALSE(other.contains("remarks"));
  CHECK(other.at("list").empty());
}

TEST_CASE("survey json: the cells come back as they were written") {
  // Every byte, characters of two to four bytes, and broken ones: what the JSON library makes of
  // the same text, byte for byte.
  std::mt19937 random(20240607);
  const std::vector<std::string> pieces{
      "a",        "\"",     "\\",         "\n",   "\x01",     "\x7f",         "\u00e9",
      "\u0416",   "\u20ac", "\U0001F4A7", "\xC2", "\xE2\x82", "\xF0\x9F\x92", "\xED\xA0\x80",
      "\xC0\x80", "\xF5",   "\xF4\x90",   "\xFF"};
  for (int i = 0; i < 2000; ++i) {
    std::string cell;
    for (std::size_t count = random() % 8; count > 0; --count) {
      if (random() % 2) {
        cell += pieces[random() % pieces.size()];
      } else {
        cell += static_cast<char>(random() % 256);
      }
    }
    HeldRow held = refused_row(1, {{"", "", "no"}}, {cell});
    const std::string expected = Json(cell).dump(-1, ' ', true, Json::error_handler_t::replace);
    const std::string line = line_of(held.row);
    INFO(expected);
    REQUIRE(line.ends_with("\"list\":{\"Tag\":" + expected + "}}"));
  }
}

TEST_CASE("survey json: the sheet is spelt as the JSON library spells it") {
  for (const auto& sets : dozen_jobs()) {
    const std::string sheet = json_sheet(planned(sets), "1");
    CHECK(Json::parse(sheet).dump(-1, ' ', true) == sheet);
  }
}
