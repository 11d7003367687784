// A user's catalogue file: rows that can be planned with, mistakes with line and key. Expected
// numbers are those written in the file, converted by the definitions of the units.

#include "slantrule/files/catalogue_file.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "slantrule/files/job_file.hpp"

using namespace slantrule;
using Catch::Matchers::Contains;
using Catch::Matchers::WithinRel;

namespace {

constexpr double rounding = 1e-14;

constexpr std::string_view pair_row = R"json({
  "key": "Lab Pair", "about": "bench pair", "frequency": "2 MHz", "element": "8 mm",
  "wedge": { "sound_speed": "2400 m/s +- 20 m/s (k=1)", "slope": "-1.8 m/s/K", "angle": "37 deg",
             "path": "15 mm" },
  "setback": "-12 mm", "nose": "15 mm", "length": "55 mm", "mark": "notch", "delay": "0.4 us",
  "cycles": 6, "least_face_gap": "5 mm", "zero_stability": "0.2 ns",
  "temperature": ["-20 degC", "100 degC"], "pipe_range": ["50 mm", "600 mm"] })json";

std::string sensors(std::string_view row) {
  return "{ \"sensors\": [ " + std::string(row) + " ] }";
}

std::vector<Problem> problems_of(std::string_view text) {
  Catalogue catalogue;
  return read_catalogue(text, catalogue);
}

Resolution resolved(const Catalogue& catalogue, const std::vector<std::string>& more) {
  std::vector<std::string> sets = {"pipe.size=NPS 6 sch 40", "pipe.liner=none", "fluid.name=water",
                                   "fluid.temperature=20 degC"};
  sets.insert(sets.end(), more.begin(), more.end());
  const ReadJob read = read_job(std::nullopt, sets);
  REQUIRE(read.problems.empty());
  Resolution out = resolve(read.request, catalogue);
  for (const Problem& one : out.problems) UNSCOPED_INFO(one.key << ": " << one.message);
  return out;
}

}  // namespace

TEST_CASE("catalogue file: a sensor pair of the user's own is used as written") {
  Catalogue catalogue;
  REQUIRE(read_catalogue(sensors(pair_row), catalogue).empty());
  const Resolution resolution =
      resolved(catalogue, {"sensors=lab-pair", "pipe.material=carbon steel"});
  REQUIRE(resolution.variants.size() == 1);
  const ResolvedSensors& pair = resolution.variants[0].job.sensors;
  CHECK(pair.key == "Lab Pair");
  CHECK(pair.about == "bench pair");
  CHECK(pair.mark == "notch");
  CHECK_FALSE(pair.invented);
  CHECK_THAT(pair.frequency_Hz, WithinRel(2e6, rounding));
  CHECK_THAT(pair.element_m.value(), WithinRel(0.008, rounding));
  CHECK_THAT(pair.wedge.sound_speed_m_s, WithinRel(2400.0, rounding));
  CHECK_THAT(pair.wedge.u_m_s, WithinRel(20.0, rounding));
  CHECK_THAT(pair.wedge.slope_m_s_K, WithinRel(-1.8, rounding));
  CHECK_THAT(pair.wedge.at_K, WithinRel(293.15, rounding));
  CHECK_THAT(pair.wedge_angle_rad, WithinRel(37 * std::numbers::pi / 180, rounding));
  CHECK_THAT(pair.wedge_path_m, WithinRel(0.015, rounding));
  CHECK_THAT(pair.setback_m, WithinRel(-0.012, rounding));
  CHECK_THAT(pair.nose_m.value(), WithinRel(0.015, rounding));
  CHECK_THAT(pair.length_m.value(), WithinRel(0.055, rounding));
  CHECK_THAT(pair.delay_s, WithinRel(0.4e-6, rounding));
  CHECK(pair.cycles == 6);
  CHECK_THAT(pair.least_face_gap_m, WithinRel(0.005, rounding));
  CHECK_THAT(pair.zero_stability_s.value(), WithinRel(0.2e-9, rounding));
  CHECK_THAT(pair.lowest_K.value(), WithinRel(253.15, rounding));
  CHECK_THAT(pair.highest_K.value(), WithinRel(373.15, rounding));
  CHECK_THAT(pair.smallest_pipe_m.value(), WithinRel(0.05, rounding));
  CHECK_THAT(pair.largest_pipe_m.value(), WithinRel(0.6, rounding));
}

TEST_CASE("catalogue file: what a pair leaves out is absent, or the default of the format") {
  Catalogue catalogue;
  REQUIRE(read_catalogue(sensors(R"({ "key": "bare", "frequency": "1 MHz", "setback": "10 mm",
                                      "wedge": { "sound_speed": "2500 m/s", "angle": "40 deg" } })"),
                         catalogue)
              .empty());
  const auto resolution = resolved(catalogue, {"sensors=bare", "pipe.material=carbon steel"});
  REQUIRE(resolution.variants.size() == 1);
  const ResolvedSensors& pair = resolution.variants[0].job.sensors;
  CHECK_FALSE(pair.element_m);
  CHECK_FALSE(pair.nose_m);
  CHECK_FALSE(pair.length_m);
  CHECK_FALSE(pair.lowest_K);
  CHECK_FALSE(pair.highest_K);
  CHECK_FALSE(pair.smallest_pipe_m);
  CHECK_FALSE(pair.zero_stability_s);
  CHECK_FALSE(pair.wedge_slope_stated);
  CHECK(pair.wedge_path_m == 0);
  CHECK(pair.delay_s == 0);
  CHECK(pair.cycles == 4);
  CHECK(pair.least_face_gap_m == 0);
}

TEST_CASE("catalogue file: a solid of the user's own is used as written") {
  Catalogue catalogue;
  REQUIRE(read_catalogue(R"json({ "solids": [
      { "key": "mill steel 7", "name": "Steel of mill 7", "longitudinal": "5930 m/s +- 10 m/s (k=1)",
        "shear": "3240 m/s", "density": "7850 kg/m3", "longitudinal_slope": "-0.9 m/s/K" },
      { "key": "vague", "name": "Vague", "longitudinal": "2000 m/s" } ] })json",
                         catalogue)
              .empty());
  const auto steel = resolved(catalogue, {"sensors=demo-1mhz", "pipe.material=Mill-Steel 7"});
  REQUIRE(steel.variants.size() == 1);
  const ResolvedMaterial& material = steel.variants[0].job.pipe.material;
  CHECK(material.name == "Steel of mill 7");
  CHECK(material.longitudinal->sound_speed_m_s == 5930);
  CHECK_THAT(material.longitudinal->u_m_s, WithinRel(10.0, rounding));
  CHECK(material.longitudinal->slope_m_s_K == -0.9);
  CHECK(material.shear->sound_speed_m_s == 3240);
  CHECK(material.shear->slope_m_s_K == 0);
  CHECK(material.density_kg_m3 == 7850);

  // No tolerance is no certainty.
  const auto vague =
      resolved(catalogue, {"sensors=demo-1mhz", "pipe.material=vague", "pipe.size=50 x 5 mm"});
  REQUIRE(vague.variants.size() == 1);
  CHECK(vague.variants[0].job.pipe.material.longitudinal->u_m_s > 0);
  CHECK_FALSE(vague.variants[0].job.pipe.material.shear);
  CHECK_FALSE(vague.variants[0].job.pipe.material.density_kg_m3);
}

TEST_CASE("catalogue file: a row overrides the built-in one of its key") {
  Catalogue catalogue;
  REQUIRE(read_catalogue(R"({
    "sensors": [ { "key": "demo-1mhz", "frequency": "0.9 MHz", "setback": "10 mm",
                   "wedge": { "sound_speed": "2500 m/s", "angle": "40 deg" } } ],
    "solids": [ { "key": "carbon_steel", "name": "Our steel", "longitudinal": "5900 m/s",
                  "shear": "3200 m/s" } ] })",
                         catalogue)
              .empty());
  const auto resolution = resolved(catalogue, {"sensors=demo-1mhz", "pipe.material=carbon steel"});
  REQUIRE(resolution.variants.size() == 1);
  CHECK(resolution.variants[0].job.sensors.wedge.sound_speed_m_s == 2500);
  CHECK_FALSE(resolution.variants[0].job.sensors.invented);
  CHECK(resolution.variants[0].job.pipe.material.name == "Our steel");
}

TEST_CASE(
    "catalogue file: mistakes name the row, the key and the line; rows without one are kept") {
  struct Row {
    const char* text;
    int line;
    const char* key;
    const char* message;
  };
  const auto row = GENERATE(values<Row>({
      {"", 0, "", "is empty"},
      {"[]", 1, "", "must hold one object"},
      {"{\n\"sensors\": {}}", 2, "sensors", "list"},
      {"{\"sensors\": [\n5]}", 2, "sensors[0]", "object"},
      {"{\n\"liquids\": []}", 2, "liquids", "cannot be added by a catalogue file yet"},
      {"{\"pipes\": []}", 1, "pipes", "cannot be added"},
      {"{\"couplants\": []}", 1, "couplants", "cannot be added"},
      {"{\"fittings\": []}", 1, "fittings", "cannot be added"},
      {"{\"senors\": []}", 1, "senors", "\"sensors\""},
      {R"({"sensors": [{ "frequency": "1 MHz", "setback": "1 mm", "wedge": { "sound_speed": "2400 m/s", "angle": "38 deg" } }]})",
       1, "sensors[0].key", "missing"},
      {R"({"sensors": [{ "key": " ", "frequency": "1 MHz", "setback": "1 mm", "wedge": { "sound_speed": "2400 m/s", "angle": "38 deg" } }]})",
       1, "sensors[0].key", "missing"},
      {R"({"sensors": [{ "key": "a", "setback": "1 mm", "wedge": { "sound_speed": "2400 m/s", "angle": "38 deg" } }]})",
       1, "sensors[0].frequency", "missing"},
      {R"({"sensors": [{ "key": "a", "frequency": "1 MHz", "wedge": { "sound_speed": "2400 m/s", "angle": "38 deg" } }]})",
       1, "sensors[0].setback", "missing"},
      {R"({"sensors": [{ "key": "a", "frequency": "1 MHz", "setback": "1 mm" }]})", 1,
       "sensors[0].wedge", "missing"},
      {R"({"sensors": [{ "key": "a", "frequency": "1 MHz", "setback": "1 mm", "wedge": { "sound_speed": "2400 m/s" } }]})",
       1, "sensors[0].wedge", "incomplete"},
      {R"({"sensors": [{ "key": "a", "frequency": "1", "setback": "1 mm", "wedge": { "sound_speed": "2400 m/s", "angle": "38 deg" } }]})",
       1, "sensors[0].frequency", "no unit"},
      {R"({"sensors": [{ "key": "a", "frequency": "1 MHz", "setbak": "1 mm", "setback": "1 mm", "wedge": { "sound_speed": "2400 m/s", "angle": "38 deg" } }]})",
       1, "sensors[0].setbak", "did you mean"},
      {R"({"sensors": [{ "key": "a", "frequency": "1 MHz", "setback": "1 mm", "wedge": { "sound_speed": "2400 m/s", "angle": "95 deg" } }]})",
       1, "sensors[0].wedge.angle", "0 and 90 degrees"},
      {R"({"sensors": [{ "key": "a", "frequency": "1 MHz", "setback": "1 mm", "temperature": ["90 degC", "-20 degC"], "wedge": { "sound_speed": "2400 m/s", "angle": "38 deg" } }]})",
       1, "sensors[0].temperature", "greater value first"},
      {R"({"sensors": [{ "key": "a", "frequency": { "one_of": ["1 MHz", "2 MHz"] }, "setback": "1 mm", "wedge": { "sound_speed": "2400 m/s", "angle": "38 deg" } }]})",
       1, "sensors[0].frequency", "one value"},
      {"{\"solids\": [{ \"key\": \"a\", \"name\": \"A\" }]}", 1, "solids[0].longitudinal",
       "missing"},
      {"{\"solids\": [{ \"key\": \"a\", \"longitudinal\": \"2000 m/s\" }]}", 1, "solids[0].name",
       "missing"},
      {"{\"solids\": [{ \"name\": \"A\", \"longitudinal\": \"2000 m/s\" }]}", 1, "solids[0].key",
       "missing"},
      {"{\"solids\": [{ \"key\": \"a\", \"name\": \"A\", \"longitudinal\": \"2000 m/s\",\n\"at\": "
       "\"60 degC\" }]}",
       2, "solids[0].at", "20 degC"},
  }));
  CAPTURE(row.text);
  const auto problems = problems_of(row.text);
  for (const Problem& one : problems) UNSCOPED_INFO(one.key << ": " << one.message);
  REQUIRE(problems.size() == 1);
  CHECK(problems[0].place.line == row.line);
  CHECK(problems[0].key == row.key);
  CHECK_THAT(problems[0].message, Contains(row.message));

  Catalogue catalogue;
  const std::string mixed =
      "{ \"sensors\": [ { \"key\": \"broken\" }, " + std::string(pair_row) + " ], \"other\": 1 }";
  CHECK(read_catalogue(mixed, catalogue).size() >= 3);
  CHECK(catalogue.user_sensor_pairs().size() == 1);
  CHECK(catalogue.sensor_pair("lab pair").record != nullptr);
  CHECK(catalogue.sensor_pair("broken").record == nullptr);
}
