// What a list comes to, against counts made by hand, and independent of how rows are split.

#include <algorithm>
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <random>

#include "sheets/survey_rows.hpp"
#include "slantrule/planning/check_table.hpp"
#include "slantrule/sheets/survey_summary.hpp"
#include "slantrule/sheets/text_layout.hpp"

using namespace slantrule;
using namespace slantrule::test;
using Catch::Matchers::Contains;
using Json = nlohmann::json;

namespace {

constexpr const char* sharp_elbow =
    R"(location.upstream=[{"fitting":"elbow-90","distance":"1 D"}])";

std::string text_of(const SurveySummary& summary, const Display& display = {}) {
  const std::string text = survey_summary_text(summary, display);
  for (const std::string& line : lines_of(text)) {
    INFO(line);
    CHECK(columns(line) <= sheet_columns);
  }
  return text;
}

const Json& entry(const Json& list, const char* key, const std::string& value) {
  for (const Json& one : list) {
    if (one.at(key) == value) return one;
  }
  FAIL("no entry " << value);
  throw std::logic_error("unreachable");
}

/// Rows of every kind.
std::vector<HeldRow> mixed_rows() {
  std::vector<HeldRow> rows;
  for (const auto& sets : dozen_jobs()) rows.push_back(planned_row(rows.size() + 1, sets));
  rows.push_back(planned_row(rows.size() + 1, {"pipe.liner=", "pipe.size=NPS 12 sch 40"}));
  rows.push_back(
      planned_row(rows.size() + 1, {R"(pipe.size={"one_of":["NPS 6 sch 40","NPS 1/2 sch 40"]})"}));
  for (int i = 0; i < 40; ++i) {
    const std::string number = std::to_string(i);
    rows.push_back(refused_row(
        rows.size() + 1,
        {{i % 3 ? "Wall" : "Size", number, "\"" + number + "\" has no unit; write \"mm\""},
         {"Material " + std::to_string(i % 7), "", "is missing; write \"carbon steel\""}}));
  }
  return rows;
}

}  // namespace

TEST_CASE("survey summary: verdicts and their reasons are counted by row") {
  SurveySummary summary;
  summary.add(planned_row(1, {real_pair}).row);
  summary.add(planned_row(2).row);
  summary.add(planned_row(3, {real_pair, sharp_elbow}).row);
  summary.add(planned_row(4, {sharp_elbow}).row);
  HeldRow refused = refused_row(5, {{"Wall", "x", "is odd"}});
  refused.row.list.remarks = {{"lined", "NULL", "taken for missing"}};
  summary.add(refused.row);
  CHECK(summary.rows() == 5);
  CHECK(summary.stop() == 2);
  CHECK(summary.refused() == 1);
  CHECK(summary.go() + summary.caution() == 2);
  CHECK(summary.invented() == 2);
  CHECK(summary.with_remarks() == 1);
  CHECK(summary.count(CheckId::run_upstream).stops == 2);
  CHECK(summary.count(CheckId::run_upstream).cautions == 0);
  CHECK(summary.count(CheckId::sensors_invented).cautions == 2);

  const Json json = Json::parse(survey_summary_json(summary));
  CHECK(json.at("rows") == 5);
  CHECK(json.at("stop") == 2);
  CHECK(json.at("refused") == 1);
  const Json& run = entry(json.at("findings"), "id", "run.upstream");
  CHECK(run.at("severity") == "stop");
  CHECK(run.at("rows") == 2);
  CHECK(run.at("rule") == std::string(check_info(CheckId::run_upstream).rule));
  CHECK(json.at("findings").front().at("severity") == "stop");
  for (const Json& one : json.at("findings")) CHECK(one.at("severity") != "note");

  const std::string text = text_of(summary);
  CHECK_THAT(text, Contains("SUMMARY: 5 rows: "));
  CHECK_THAT(text, Contains("2 stop, 1 refused"));
  CHECK_THAT(text, Contains("stop         2  run.upstream: "));
  CHECK_THAT(text, Contains("TRAINING DATA: the spacings of 2 rows"));
  CHECK(text.find("run.upstream: ") < text.find("sensors.invented: "));
}

TEST_CASE("survey summary: without rows it says so") {
  const SurveySummary none;
  CHECK(text_of(none) == "SUMMARY: 0 rows: 0 go, 0 caution, 0 stop, 0 refused\n");
  CHECK(Json::parse(survey_summary_json(none)).at("rows") == 0);
}

TEST_CASE("survey summary: of candidates a finding counts once, by its gravest") {
  const HeldRow held =
      planned_row(1, {R"(pipe.size={"one_of":["NPS 6 sch 40","NPS 1/2 sch 40"]})"});
  SurveySummary summary;
  summary.add(held.row);
  CHECK(summary.stop() == 1);
  CHECK(summary.count(CheckId::sensors_invented).cautions == 1);
  std::size_t stops = 0;
  for (const CheckInfo& info : check_table()) stops += summary.count(info.check).stops;
  CHECK(stops >= 1);
  const Json json = Json::parse(survey_summary_json(summary));
  CHECK(entry(json.at("missing"), "key", "candidates").at("rows") == 1);
  CHECK(json.at("worst").at(0).at("what") == "pipe.size NPS 1/2 sch 40");
}

TEST_CASE("survey summary: what is to be found out, by the rows it would settle") {
  SurveySummary summary;
  // The lining is all that is unknown of these; of the next the way of the pipe and the clock too.
  const std::vector<std::string> steel{real_pair,
                                       "pipe.liner=",
                                       "pipe.size=NPS 12 sch 40",
                                       "flow.rate=400 m3/h",
                                       "flow.least=100 m3/h",
                                       "flow.most=",
                                       "location.ambient=7 degC"};
  std::vector<std::string> iron = steel;
  iron.insert(iron.end(), {"pipe.size=DN 300 K9", "pipe.material=ductile iron"});
  std::vector<std::string> open = steel;
  open.insert(open.end(), {"pipe.orientation=", "location.clock="});
  for (std::size_t i = 1; i <= 2; ++i) summary.add(planned_row(i, steel).row);
  summary.add(planned_row(3, iron).row);
  summary.add(planned_row(4, open).row);
  // The wall is the only thing these refusals lack, but the last has another fault.
  const CellMessage no_wall{"pipe.wall", "", "is missing: a diameter alone does not tell the wall"};
  summary.add(refused_row(5, {no_wall}).row);
  summary.add(refused_row(6, {no_wall, {"fluid.name", "x", "is no liquid"}}).row);
  summary.add(refused_row(7, {{"Medium", "", "is missing (liquid); write one"}}).row);

  const Json missing = Json::parse(survey_summary_json(summary)).at("missing");
  const Json& lining = entry(missing, "key", "pipe.liner");
  CHECK(lining.at("what") == "lining");
  CHECK(lining.at("rows") == 4);
  CHECK(lining.at("settled") == 3);
  REQUIRE(lining.at("materials").size() == 2);
  std::size_t in_materials = 0;
  for (const Json& rows : lining.at("materials")) in_materials += rows.get<std::size_t>();
  CHECK(in_materials == 4);
  CHECK(missing.front() == lining);
  const Json& wall = entry(missing, "key", "pipe.wall");
  CHECK(wall.at("rows") == 2);
  CHECK(wall.at("settled") == 1);
  CHECK(entry(missing, "key", "Medium").at("settled") == 1);
  CHECK(entry(missing, "key", "pipe.orientation").at("rows") == 1);
  CHECK(entry(missing, "key", "pipe.orientation").at("settled") == 0);

  const std::string text = text_of(summary);
  CHECK_THAT(text, Contains("lining of 4 rows (Carbon steel (pipe) 3, "));
  CHECK_THAT(text, Contains("wall of 2 rows: all that is unknown of 1 of them"));
}

TEST_CASE("survey summary: every check that lacks its input asks for a fact") {
  for (const CheckInfo& info : check_table()) {
    CAPTURE(info.id);
    CHECK(survey_fact(info.check).has_value() == info.id.ends_with("unknown"));
    if (const auto fact = survey_fact(info.check)) REQUIRE(*fact < survey_facts().size());
  }
}

TEST_CASE("survey summary: the worst rows by stops, cautions, loss and place") {
  const std::vector<HeldRow> rows = mixed_rows();
  SurveySummary summary;
  for (const HeldRow& one : rows) summary.add(one.row);
  REQUIRE(summary.worst().size() == SurveySummary::most_worst);
  for (std::size_t i = 1; i < summary.worst().size(); ++i) {
    const WorstRow &a = summary.worst()[i - 1], &b = summary.worst()[i];
    CAPTURE(a.row, b.row);
    CHECK(a.stops >= b.stops);
    if (a.stops != b.stops) continue;
    CHECK(a.cautions >= b.cautions);
    if (a.cautions != b.cautions) continue;
    CHECK(a.loss_dB.value_or(-1) >= b.loss_dB.value_or(-1));
  }
  // None that was left out is worse than the last.
  const WorstRow& last = summary.worst().back();
  for (const HeldRow& one : rows) {
    if (one.row.refused() || one.row.planned.variants.size() > 1) continue;
    const bool in = std::ranges::any_of(
        summary.worst(), [&](const WorstRow& worst) { return worst.row == one.row.list.row; });
    if (in) continue;
    const auto stops = static_cast<std::size_t>(std::ranges::count(
        one.row.planned.variants.front().plan.findings, Severity::stop, &Finding::severity));
    CHECK(stops <= last.stops);
  }
  CHECK_THAT(text_of(summary), Contains("THE WORST ROWS\n  row "));
}

TEST_CASE("survey summary: refusals by column and kind") {
  SurveySummary summary;
  for (std::size_t i = 1; i <= 9; ++i) {
    const std::string cell = std::to_string(i) + ".5";
    summary.add(refused_row(10 - i, {{"Wall", cell,
                                      "\"" + cell + "\" has no unit; write \"" + cell + " mm\""}})
                    .row);
  }
  summary.add(refused_row(20, {{"Wall", "x", "\"x\" is no length"}}).row);
  summary.add(refused_row(21, {{"Temp", "7", "\"7\" has no unit; write \"7 degC\""}}).row);
  const Json refusals = Json::parse(survey_summary_json(summary)).at("refusals");
  REQUIRE(refusals.size() == 3);
  CHECK(refusals[0].at("column") == "Wall");
  CHECK(refusals[0].at("rows") == 9);
  // Lines of rows 1 to 5, and what is said of the first: row 1 came last.
  CHECK(refusals[0].at("lines") == Json({4, 5, 6, 7, 8}));
  CHECK(refusals[0].at("message") == "\"9.5\" has no unit; write \"9.5 mm\"");
  CHECK_THAT(text_of(summary), Contains("Wall: 9 rows, lines 4, 5, 6, 7, 8 ...: \"9.5\" has no"));
}

TEST_CASE("survey summary: the same however the rows are split and in whatever order") {
  std::vector<HeldRow> rows = mixed_rows();
  SurveySummary whole;
  for (const HeldRow& one : rows) whole.add(one.row);
  const std::string json = survey_summary_json(whole), text = text_of(whole);
  std::mt19937 random(7);
  for (std::size_t parts : {1U, 2U, 3U, 7U}) {
    CAPTURE(parts);
    std::ranges::shuffle(rows, random);
    std::vector<SurveySummary> each(parts);
    for (const HeldRow& one : rows) each[random() % parts].add(one.row);
    std::ranges::shuffle(each, random);
    SurveySummary merged;
    for (const SurveySummary& one : each) merged.merge(one);
    CHECK(survey_summary_json(merged) == json);
    CHECK(survey_summary_text(merged, {}) == text);
  }
}

TEST_CASE("survey summary: memory is bounded, and what finds no room is counted") {
  const std::size_t many = 3 * SurveySummary::most_groups;
  const auto row = [](std::size_t i) {
    return refused_row(i, {{"column " + std::string(1 + i % 40, 'x') + std::string(1 + i / 40, 'y'),
                            "", "is missing"}});
  };
  SurveySummary whole, even, odd;
  for (std::size_t i = 1; i <= many; ++i) {
    whole.add(row(i).row);
    (i % 2 ? odd : even).add(row(i).row);
  }
  std::size_t groups = 0, rows = 0;
  whole.refusals().each([&](const std::string&, const RefusalGroup& group) {
    ++groups;
    rows += group.rows;
  });
  CHECK(groups == SurveySummary::most_groups);
  CHECK(rows + whole.refusals().other_rows() == many);
  CHECK_THAT(text_of(whole), Contains("and others in "));
  CHECK(Json::parse(survey_summary_json(whole)).at("refused_elsewhere") == many - rows);
  odd.merge(even);
  CHECK(survey_summary_json(odd) == survey_summary_json(whole));
}

TEST_CASE("survey summary: texts of a list obey no terminal") {
  SurveySummary summary;
  summary.add(refused_row(1, {{"a\x1b[31m", "", "b\x07 is missing\xC2\x9B"}}).row);
  summary.add(planned_row(2, {"tag=x\x1b]0;y", sharp_elbow}).row);
  for (char c : text_of(summary, {UnitSystem::metric, false})) {
    CHECK((c == '\n' || (c >= 0x20 && c < 0x7f)));
  }
  for (char c : survey_summary_json(summary)) CHECK((c >= 0x20 && c < 0x7f));
}
