// The plan as JSON, read back. Keys and units are those of the contract ("format": 1); numbers are
// compared with the plan's own in other units, relations with each other.

#include <catch2/catch.hpp>
#include <cmath>
#include <functional>
#include <nlohmann/json.hpp>
#include <set>
#include <string>

#include "sheets/planned.hpp"
#include "slantrule/planning/check_table.hpp"

using namespace slantrule;
using namespace slantrule::test;
using Catch::Matchers::Contains;
using Catch::Matchers::WithinRel;
using Json = nlohmann::json;

namespace {

constexpr double rounding = 1e-12;

/// Parsed back, after what must hold of every sheet.
Json sheet_of(const PlannedJob& job) {
  const std::string text = json_sheet(job, "9.8.7");
  for (char c : text) {
    REQUIRE(static_cast<unsigned char>(c) >= 0x20);
    REQUIRE(static_cast<unsigned char>(c) < 0x7f);
  }
  const Json sheet = Json::parse(text);
  const std::function<void(const Json&)> finite = [&](const Json& node) {
    REQUIRE_FALSE(node.is_null());
    if (node.is_number()) REQUIRE(std::isfinite(node.get<double>()));
    if (node.is_structured()) {
      for (const Json& one : node) finite(one);
    }
  };
  finite(sheet);
  CHECK(sheet.at("slantrule") == "9.8.7");
  CHECK(sheet.at("format") == 1);
  const std::string verdict = sheet.at("verdict");
  CHECK((verdict == "go" || verdict == "caution" || verdict == "stop"));
  return sheet;
}

double number(const Json& sheet, const char* pointer) {
  CAPTURE(pointer);
  return sheet.at(Json::json_pointer(pointer)).get<double>();
}

bool has(const Json& sheet, const char* pointer) {
  return sheet.contains(Json::json_pointer(pointer));
}

const Json& finding(const Json& sheet, std::string_view id) {
  for (const Json& one : sheet.at("findings")) {
    if (one.at("id") == id) return one;
  }
  FAIL("no finding " << id);
  throw std::logic_error("unreachable");
}

}  // namespace

TEST_CASE("json sheet: the contract's keys, in their units") {
  const PlannedJob job = planned();
  const Json sheet = sheet_of(job);
  const PlannedVariant& variant = job.variants.front();
  const Plan& plan = variant.plan;
  const RayPath& ray = plan.path->ray;
  CHECK(sheet.at("tag") == "CHW-R-02");
  CHECK(sheet.at("title") == "Chilled water return");
  CHECK(sheet.at("verdict") == "caution");

  // ASME B36.10M: NPS 6 schedule 40 is 168.3 mm x 7.11 mm.
  CHECK_THAT(number(sheet, "/pipe/outside_diameter_mm"), WithinRel(168.3, rounding));
  CHECK_THAT(number(sheet, "/pipe/wall_mm"), WithinRel(7.11, rounding));
  CHECK(number(sheet, "/pipe/liner_mm") == 0);
  CHECK(number(sheet, "/pipe/coating_mm") == 0);
  CHECK_THAT(number(sheet, "/pipe/inside_diameter_mm"), WithinRel(168.3 - 2 * 7.11, rounding));
  CHECK_THAT(sheet.at("pipe").at("material").get<std::string>(), Contains("steel"));
  CHECK_THAT(number(sheet, "/pipe/wall_sound_speed_m_s"),
             WithinRel(plan.wall_sound_speed_m_s, rounding));

  CHECK(sheet.at("fluid").at("name") == "water");
  CHECK_THAT(number(sheet, "/fluid/temperature_degC"), WithinRel(7.0, rounding));
  CHECK_THAT(number(sheet, "/fluid/pressure_bar"), WithinRel(4 + 1.01325, rounding));
  // IAPWS-95 at 7 degC: 1434.9 m/s at 1 atm (Del Grosso and Mader's table has 1434.92), and some
  // 0.16 m/s more a bar.
  CHECK_THAT(number(sheet, "/fluid/sound_speed_m_s"), Catch::WithinAbs(1434.9 + 4 * 0.16, 0.3));
  CHECK(number(sheet, "/fluid/u_sound_speed_m_s") > 0);
  CHECK_THAT(number(sheet, "/fluid/density_kg_m3"), Catch::WithinAbs(1000, 0.5));
  CHECK_THAT(number(sheet, "/fluid/viscosity_mPa_s"), Catch::WithinAbs(1.43, 0.01));
  CHECK_THAT(sheet.at("fluid").at("source").get<std::string>(), Contains("IAPWS"));

  CHECK(sheet.at("path").at("traverses") == 2);
  CHECK(sheet.at("path").at("sides") == "same");
  CHECK(sheet.at("path").at("wall_mode") == "shear");
  CHECK_THAT(number(sheet, "/path/mark_spacing_mm"), WithinRel(ray.mark_spacing_m * 1e3, rounding));
  // Definitions of spacing, gap and length for setback 14, nose 16, length 58 mm.
  const double exit_mm = number(sheet, "/path/exit_spacing_mm");
  CHECK_THAT(number(sheet, "/path/mark_spacing_mm"), WithinRel(exit_mm + 2 * 14, rounding));
  CHECK_THAT(number(sheet, "/path/face_gap_mm"), WithinRel(exit_mm - 2 * 16, rounding));
  CHECK_THAT(number(sheet, "/path/overall_length_mm"),
             WithinRel(exit_mm + 2 * (58 - 16), rounding));
  // Snell's law in the sheet's own numbers: c / sin(angle) is the trace speed in every layer.
  const auto sine = [&](const char* angle) {
    return std::sin(number(sheet, angle) * std::acos(-1.0) / 180);
  };
  const double trace_m_s = number(sheet, "/path/trace_speed_m_s");
  CHECK_THAT(number(sheet, "/fluid/sound_speed_m_s") / sine("/path/angles_deg/fluid"),
             WithinRel(trace_m_s, rounding));
  CHECK_THAT(number(sheet, "/pipe/wall_sound_speed_m_s") / sine("/path/angles_deg/wall"),
             WithinRel(trace_m_s, rounding));
  CHECK_THAT(number(sheet, "/path/angles_deg/wedge"), WithinRel(38.0, rounding));
  CHECK_FALSE(has(sheet, "/path/angles_deg/coating"));
  CHECK_FALSE(has(sheet, "/path/angles_deg/liner"));
  CHECK(has(sheet, "/path/wedge_temperature_degC"));
  CHECK_THAT(number(sheet, "/path/zero_flow_time_us"),
             WithinRel(ray.zero_flow_time_s * 1e6, rounding));
  // N D / (c cos) in mm and m/s.
  const double cosine = std::sqrt(1 - std::pow(sine("/path/angles_deg/fluid"), 2));
  CHECK_THAT(number(sheet, "/path/fluid_time_us"),
             WithinRel(2 * number(sheet, "/pipe/inside_diameter_mm") * 1e3 /
                           (number(sheet, "/fluid/sound_speed_m_s") * cosine),
                       rounding));

  CHECK_THAT(number(sheet, "/flow/rate_m3_h"), WithinRel(60.0, rounding));
  // 60 m3/h through a bore of 154.08 mm: 0.89385 m/s.
  CHECK_THAT(number(sheet, "/flow/velocity_m_s"), Catch::WithinAbs(0.89385, 5e-6));
  CHECK(sheet.at("flow").at("regime") == "turbulent");
  CHECK(number(sheet, "/flow/reynolds") > 90000);
  CHECK(number(sheet, "/flow/profile_factor") > 0.9);
  CHECK(number(sheet, "/flow/time_difference_ns") > 0);
  CHECK_THAT(number(sheet, "/flow/least_rate_m3_h"), WithinRel(10.0, rounding));
  CHECK_THAT(number(sheet, "/flow/most_rate_m3_h"), WithinRel(110.0, rounding));
  CHECK(has(sheet, "/flow/least_velocity_m_s"));
  CHECK(has(sheet, "/flow/most_time_difference_ns"));

  CHECK(has(sheet, "/straight_run/upstream/required_D"));
  CHECK_THAT(number(sheet, "/straight_run/upstream/available_D"),
             WithinRel(2100 / (168.3 - 2 * 7.11), rounding));
  CHECK_THAT(sheet.at("straight_run").at("upstream").at("governing").get<std::string>(),
             Contains("elbow"));
  CHECK(sheet.at("mounting").at("clock") == "3");
  CHECK(sheet.at("expect").at("sound_speed_m_s") == sheet.at("fluid").at("sound_speed_m_s"));
  CHECK(sheet.at("expect").at("zero_flow_time_us") == sheet.at("path").at("zero_flow_time_us"));
  CHECK(sheet.at("expect").at("time_difference_ns") == sheet.at("flow").at("time_difference_ns"));
  REQUIRE(!sheet.at("sensitivity").empty());
  for (const Json& one : sheet.at("sensitivity")) {
    CHECK(one.at("input").is_string());
    CHECK(one.at("per").is_string());
    CHECK(one.at("mark_spacing_mm").is_number());
  }
}

TEST_CASE("json sheet: a finding's keys") {
  const Json sheet =
      sheet_of(planned({"location.upstream=[{\"fitting\":\"elbow-90\","
                        "\"distance\":\"3 D\"}]"}));
  const Json& run = finding(sheet, "run.upstream");
  CHECK_THAT(run.at("measured").get<double>(), WithinRel(3.0, rounding));
  CHECK(run.at("measured_unit") == "D");
  CHECK(run.at("required").get<double>() > 3);
  CHECK_FALSE(run.contains("accepted"));
  for (const Json& one : sheet.at("findings")) {
    const CheckInfo* info = find_check(one.at("id").get<std::string>());
    REQUIRE(info);
    const std::string severity = one.at("severity");
    CHECK((severity == "stop" || severity == "caution" || severity == "note"));
    CHECK(!one.at("message").get<std::string>().empty());
    CHECK(!one.at("do").get<std::string>().empty());
    CHECK(one.at("source") == std::string(info->source));
    CHECK(one.contains("measured") == one.contains("measured_unit"));
    CHECK(one.contains("required") == one.contains("required_unit"));
  }
}

TEST_CASE("json sheet: an acceptance stands with its reason and name") {
  const Json stopped =
      sheet_of(planned({R"(location.upstream=[{"fitting":"elbow-90","distance":"1 D"}])"}));
  REQUIRE(finding(stopped, "run.upstream").at("severity") == "stop");
  CHECK(stopped.at("verdict") == "stop");
  // A stop never withholds a number that exists.
  CHECK(has(stopped, "/path/mark_spacing_mm"));
  CHECK(has(stopped, "/expect/zero_flow_time_us"));

  const Json accepted = sheet_of(
      planned({R"(location.upstream=[{"fitting":"elbow-90","distance":"1 D"}])",
               R"(accept=[{"finding":"run.upstream","because":"trend only","by":"me"}])"}));
  const Json& run = finding(accepted, "run.upstream");
  CHECK(run.at("severity") == "caution");
  CHECK(run.at("accepted").at("because") == "trend only");
  CHECK(run.at("accepted").at("by") == "me");
}

TEST_CASE("json sheet: what doesn't exist is left out") {
  const Json bare = sheet_of(planned_text(
      R"({ "pipe": { "size": "NPS 6 sch 40", "material": "carbon steel", "liner": "none" },
           "fluid": { "name": "water", "temperature": "7 degC" },
           "sensors": { "frequency": "1 MHz", "setback": "14 mm",
                        "wedge": { "sound_speed": "2430 m/s", "angle": "38 deg" } } })"));
  for (const char* absent :
       {"/tag", "/title", "/flow", "/path/face_gap_mm", "/path/overall_length_mm",
        "/straight_run/upstream/available_D", "/straight_run/downstream/available_D",
        "/mounting/clock", "/expect/time_difference_ns", "/candidates"}) {
    CAPTURE(absent);
    CHECK_FALSE(has(bare, absent));
  }
  CHECK(has(bare, "/path/mark_spacing_mm"));

  // Nose without length: a gap but no overall length.
  const Json nose =
      sheet_of(planned({R"(sensors={"frequency":"1 MHz","setback":"14 mm","nose":"16 mm",
                   "wedge":{"sound_speed":"2430 m/s","angle":"38 deg"}})"}));
  CHECK(has(nose, "/path/face_gap_mm"));
  CHECK_FALSE(has(nose, "/path/overall_length_mm"));

  // A measured liquid without viscosity: no Reynolds number and no profile factor.
  const Json oil = sheet_of(planned({"fluid.name=some oil", "fluid.sound_speed=1400 m/s"}));
  CHECK_FALSE(has(oil, "/fluid/viscosity_mPa_s"));
  CHECK_FALSE(has(oil, "/fluid/density_kg_m3"));
  CHECK(has(oil, "/flow/velocity_m_s"));
  CHECK_FALSE(has(oil, "/flow/reynolds"));
  CHECK_FALSE(has(oil, "/flow/regime"));
  CHECK_FALSE(has(oil, "/flow/profile_factor"));

  // No ray: sin(angle) would be 1480/1200 * sin(60 deg) > 1 in the liquid.
  const Json dark = sheet_of(planned({R"(sensors={"frequency":"1 MHz","setback":"14 mm",
                   "wedge":{"sound_speed":"1200 m/s","angle":"60 deg"}})"}));
  CHECK(dark.at("verdict") == "stop");
  CHECK_FALSE(has(dark, "/path"));
  CHECK_FALSE(has(dark, "/expect"));
  CHECK(has(dark, "/fluid/sound_speed_m_s"));
  CHECK(has(dark, "/pipe/inside_diameter_mm"));
}

TEST_CASE("json sheet: in transition there is a band and no factor") {
  // Re 3000 with nu = 1.43 mm2/s and D = 154.08 mm: v = 0.0278 m/s, 1.87 m3/h.
  const Json sheet = sheet_of(planned({"flow.rate=1.87 m3/h", "flow.least="}));
  CHECK_THAT(number(sheet, "/flow/reynolds"), Catch::WithinAbs(3000, 60));
  CHECK(sheet.at("flow").at("regime") == "transition");
  CHECK_FALSE(has(sheet, "/flow/profile_factor"));
  const Json& band = sheet.at("flow").at("profile_factor_band");
  REQUIRE(band.size() == 2);
  // From laminar (3/4 for a diametral path) to turbulent.
  CHECK_THAT(band[0].get<double>(), Catch::WithinAbs(0.75, 1e-9));
  CHECK(band[1].get<double>() > 0.9);
  CHECK(band[1].get<double>() < 1);

  const Json laminar = sheet_of(planned({"flow.rate=0.5 m3/h", "flow.least="}));
  CHECK(laminar.at("flow").at("regime") == "laminar");
  CHECK_THAT(number(laminar, "/flow/profile_factor"), Catch::WithinAbs(0.75, 1e-9));
}

TEST_CASE("json sheet: layers have their angles and thicknesses") {
  const Json sheet =
      sheet_of(planned({R"(pipe.liner={"material":"cement mortar","thickness":"5 mm"})",
                        R"(pipe.coating={"material":"epoxy","thickness":"0.4 mm"})"}));
  CHECK_THAT(number(sheet, "/pipe/liner_mm"), WithinRel(5.0, rounding));
  CHECK_THAT(number(sheet, "/pipe/coating_mm"), WithinRel(0.4, rounding));
  CHECK_THAT(number(sheet, "/pipe/outside_diameter_mm"), WithinRel(168.3, rounding));
  CHECK_THAT(number(sheet, "/pipe/inside_diameter_mm"), WithinRel(168.3 - 2 * 12.11, rounding));
  CHECK(has(sheet, "/path/angles_deg/liner"));
  CHECK(has(sheet, "/path/angles_deg/coating"));
}

TEST_CASE("json sheet: an odd count puts the sensors on opposite sides") {
  const Json sheet = sheet_of(planned({"path.traverses=1"}));
  CHECK(sheet.at("path").at("sides") == "opposite");
  CHECK(sheet.at("mounting").at("clock") == "3");
  CHECK(sheet.at("mounting").at("other_clock") == "9");
}

TEST_CASE("json sheet: candidates") {
  const PlannedJob job =
      planned({R"(pipe.size={"one_of":["NPS 6 sch 40","NPS 6 sch 80","NPS 6 sch 160"]})",
               R"(location.upstream=[{"fitting":"elbow-90","distance":"2.1 m"}])"});
  const Json sheet = sheet_of(job);
  REQUIRE(sheet.at("candidates").size() == 3);
  for (const char* absent : {"/path", "/pipe", "/fluid", "/expect", "/flow"}) {
    CAPTURE(absent);
    CHECK_FALSE(has(sheet, absent));
  }
  std::set<std::string> what;
  for (const Json& one : sheet.at("candidates")) {
    what.insert(one.at("what").get<std::string>());
    for (const char* key : {"pipe", "fluid", "path", "verdict", "expect"}) {
      CAPTURE(key);
      CHECK(one.contains(key));
    }
  }
  CHECK(what.size() == 3);
  CHECK(sheet.at("findings").is_array());
  finding(sheet, "sensors.invented");

  // The verdict is the worst: NPS 1/2 is far too small for two traverses of this pair.
  const Json mixed =
      sheet_of(planned({R"(pipe.size={"one_of":["NPS 6 sch 40","NPS 1/2 sch 40"]})"}));
  std::set<std::string> verdicts;
  for (const Json& one : mixed.at("candidates")) {
    verdicts.insert(one.at("verdict").get<std::string>());
  }
  REQUIRE(verdicts.count("stop") == 1);
  REQUIRE(verdicts.size() == 2);
  CHECK(mixed.at("verdict") == "stop");
}

TEST_CASE("json sheet: texts come back as they were written, with control characters escaped") {
  const std::string tag = "a\"b\\c\n\x1b[31m\x7f\xC2\x9B\xE2\x80\xAE\xC3\xBC\xF0\x9F\x92\xA7";
  Json job = Json::parse(plain_job);
  job["tag"] = tag;
  const Json sheet = sheet_of(planned_text(job.dump()));
  CHECK(sheet.at("tag") == tag);
  // --set may bring bytes that are no UTF-8: the sheet stays valid JSON.
  CHECK_NOTHROW(sheet_of(planned({"title=\xff\xfe"})));
}

TEST_CASE("json sheet: a sheet is one line") {
  CHECK_THAT(json_sheet(planned(), "1"), !Contains("\n"));
}
