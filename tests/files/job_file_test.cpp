// Job files and --set: what is read where, and every mistake with its line and key. Expected
// values follow from the contract of the format, and SI values from the definitions of the units.

#include "slantrule/files/job_file.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <string>

#include "slantrule/planning/job_visit.hpp"

using namespace slantrule;
using Catch::Matchers::Contains;

namespace {

using Sets = std::vector<std::string>;

JobRequest good(std::string_view text, const Sets& sets = {}, const ReadNamedFile& files = {}) {
  const ReadJob read = read_job(text, sets, files);
  for (const Problem& one : read.problems) UNSCOPED_INFO(one.key << ": " << one.message);
  REQUIRE(read.problems.empty());
  return read.request;
}

std::vector<Problem> bad(std::string_view text, const Sets& sets = {}) {
  return read_job(text, sets).problems;
}

/// The only problem of `text`.
Problem only(std::string_view text, const Sets& sets = {}) {
  const auto problems = bad(text, sets);
  for (const Problem& one : problems) UNSCOPED_INFO(one.key << ": " << one.message);
  REQUIRE(problems.size() == 1);
  return problems.front();
}

double si(const QuantityEntry& entry) {
  REQUIRE(entry.options.size() == 1);
  return entry.options.front().value.si;
}

}  // namespace

TEST_CASE("job file: every kind of entry is read with its place") {
  const JobRequest job = good(R"({
    "slantrule": 1,
    "tag": "P-1",
    "pipe": {
      "size": "NPS 6 sch 40",
      "outside_diameter": { "value": "168.3 mm +- 0.6 mm", "from": "tape" },
      "wall": { "readings": ["7.1 mm", "7.0 mm"], "gauge_set_to": "5920 m/s", "through_paint": "0.3 mm" },
      "material": { "name": "mill 7", "longitudinal": "5930 m/s", "shear": "3240 m/s",
                    "absorption": { "shear": "5 dB/m", "at": "1 MHz", "power": 1.5 } },
      "liner": { "material": "cement mortar", "thickness": "3.2 mm" },
      "coating": "none",
      "over_coating": false,
      "orientation": "Vertical_Up"
    },
    "fluid": { "name": "water", "temperature": { "between": ["5 degC", "9 degC"] } },
    "flow": { "rate": "60 m3/h", "can_stop": true },
    "sensors": { "frequency": "1 MHz", "wedge": { "sound_speed": "2430 m/s", "angle": "38 deg" },
                 "setback": "-3 mm", "temperature": ["-20 degC", "110 degC"], "cycles": 6 },
    "path": { "traverses": "best", "wall_mode": "shear" },
    "location": { "upstream": [ { "fitting": "elbow-90", "distance": "12 D" } ], "downstream": [],
                  "surface": ["paint", "rust"], "place": "high point" },
    "kit": { "sensors": ["demo-1mhz"], "rail_step": "0.5 mm" },
    "places": [ { "name": "north", "clock": "9" }, { "name": "south" } ],
    "purpose": { "difference": "5 %" },
    "accept": [ { "finding": "run.upstream", "because": "b", "by": "c", "down_to": "1.5 D" } ]
  })");
  CHECK(job.tag.value == "P-1");
  CHECK(job.tag.place.line == 3);
  CHECK_FALSE(job.tag.place.from_set);
  CHECK(job.pipe.size.options.at(0).value == "NPS 6 sch 40");
  CHECK(job.pipe.size.place.line == 5);
  const auto& diameter = job.pipe.outside_diameter.options.at(0);
  CHECK(diameter.value.si == 0.1683);
  CHECK(diameter.value.tolerance_stated);
  CHECK(diameter.from == Origin::tape);
  CHECK(diameter.text == "168.3 mm +- 0.6 mm");
  const WallRequest& wall = job.pipe.wall.options.at(0).value;
  REQUIRE(wall.readings.size() == 2);
  CHECK(wall.readings[1].si == 0.007);
  CHECK(si(wall.gauge_set_to) == 5920);
  CHECK(si(wall.through_paint) == 0.0003);
  const MaterialRequest& material = job.pipe.material.options.at(0).value;
  CHECK(material.is_inline);
  CHECK(material.name.value == "mill 7");
  CHECK(si(material.shear) == 3240);
  CHECK(material.absorption.value->power.value == 1.5);
  const LayerRequest& liner = job.pipe.liner.options.at(0).value;
  CHECK_FALSE(liner.none);
  CHECK(si(liner.thickness) == 0.0032);
  CHECK(liner.material.options.at(0).value.name.value == "cement mortar");
  CHECK(job.pipe.coating.options.at(0).value.none);
  CHECK(job.pipe.over_coating.value == false);
  CHECK(job.pipe.orientation.value == "vertical up");
  CHECK(job.fluid.temperature.between);
  REQUIRE(job.fluid.temperature.options.size() == 2);
  CHECK(job.fluid.temperature.options[1].value.si == 282.15);
  CHECK(job.flow.can_stop.value == true);
  CHECK_FALSE(job.flow.pulsating.value.has_value());
  REQUIRE(job.sensors.pair.has_value());
  CHECK(si(job.sensors.pair->setback) == -0.003);
  CHECK(job.sensors.pair->temperature.low->si == Approx(253.15).epsilon(1e-15));
  CHECK(job.sensors.pair->cycles.value == 6);
  CHECK(job.path.traverses.best);
  CHECK(job.location.upstream.items.at(0).distance.options.at(0).value.dimension ==
        Dimension::pipe_diameters);
  CHECK(job.location.downstream.given);
  CHECK(job.location.downstream.items.empty());
  CHECK(job.location.surface.values == Sets{"paint", "rust"});
  CHECK(job.location.place.values == Sets{"high point"});
  CHECK(job.kit.value->sensors.values == Sets{"demo-1mhz"});
  REQUIRE(job.places.items.size() == 2);
  CHECK(job.places.items[0].clock.value == "9");
  CHECK(si(job.purpose.value->difference) == 0.05);
  CHECK(job.accept.items.at(0).because.value == "b");
}

TEST_CASE("job file: a wall may be one length, a list, an object, or unknown") {
  CHECK(good(R"({"pipe": {"wall": "7 mm"}})").pipe.wall.options.at(0).value.readings.size() == 1);
  CHECK(good(R"({"pipe": {"wall": ["7 mm", "6.9 mm", "7.1 mm"]}})")
            .pipe.wall.options.at(0)
            .value.readings.size() == 3);
  CHECK(good(R"({"pipe": {"wall": "Unknown"}})").pipe.wall.unknown);
  CHECK(good(R"({"pipe": {"wall": {"one_of": ["7 mm", ["6 mm", "6.1 mm"]]}}})")
            .pipe.wall.options.size() == 2);
  CHECK_THAT(only(R"({"pipe": {"wall": []}})").message, Contains("no readings"));
  CHECK(only(R"({"pipe": {"wall": ["7 mm", "x"]}})").key == "pipe.wall[1]");
  CHECK_THAT(only(R"({"pipe": {"wall": {"gauge_set_to": "5920 m/s"}}})").message,
             Contains("needs readings"));
  CHECK(only(R"({"pipe": {"wall": {"readings": ["7"]}}})").key == "pipe.wall.readings[0]");
}

TEST_CASE("job file: candidates") {
  const JobRequest job = good(R"({"pipe": {
      "size": { "one_of": ["NPS 4 sch 40", { "value": "NPS 4 sch 80", "from": "drawing" }] },
      "liner": { "one_of": ["none", { "material": "epoxy", "thickness": "0.4 mm" }] } },
    "fluid": { "temperature": { "one_of": ["5 degC"] } } })");
  REQUIRE(job.pipe.size.options.size() == 2);
  CHECK(job.pipe.size.options[1].from == Origin::drawing);
  CHECK(job.pipe.size.open());
  CHECK_FALSE(job.pipe.size.between);
  CHECK(job.pipe.liner.options.at(0).value.none);
  CHECK(job.pipe.liner.options.at(1).text == "epoxy 0.4 mm");
  CHECK_FALSE(job.fluid.temperature.open());  // one candidate is none
  CHECK(good(R"({"pipe": {"size": "unknown", "liner": "unknown"}})").pipe.liner.unknown);
}

TEST_CASE("job file: mistakes name the key, the line and the mend") {
  struct Row {
    const char* text;
    int line;
    const char* key;
    const char* message;
  };
  const auto row = GENERATE(values<Row>({
      {"{\n\"pip\": {}}", 2, "pip", "did you mean \"pipe\""},
      {"{\"pipe\": {\n\"wal\": \"7 mm\"}}", 2, "pipe.wal", "did you mean \"wall\""},
      {"{\"fluid\": {\n\"tempreature\": \"7 degC\"}}", 2, "fluid.tempreature",
       "did you mean \"temperature\""},
      {"{\"location\": {\"upstream\": [ {\n\"fiting\": \"tee\"} ]}}", 2,
       "location.upstream[0].fiting", "did you mean \"fitting\""},
      {"{\"sensors\": {\"wedge\": {\n\"sound_sped\": \"1 m/s\"}}}", 2, "sensors.wedge.sound_sped",
       "did you mean \"sound_speed\""},
      {"{\"colour\": 1}", 1, "colour", "known here"},
      {"{\"\": 1}", 1, "", "no known key"},
      {"{\"flow\": {\n\"rate\": 60}}", 2, "flow.rate", "60 has no unit"},
      {"{\"flow\": {\"rate\": 60.50}}", 1, "flow.rate", "60.50 has no unit"},
      {"{\"flow\": {\"rate\": \"60\"}}", 1, "flow.rate", "no unit"},
      {"{\"flow\": {\"rate\": \"60 degC\"}}", 1, "flow.rate", "60 degC"},
      {"{\"flow\": {\"rate\": \"-60 m3/h\"}}", 1, "flow.rate", "below zero"},
      {"{\"flow\": {\"rate\": \"0 m3/h\"}}", 1, "flow.rate", "greater than zero"},
      {"{\"flow\": {\"rate\": true}}", 1, "flow.rate", "is true or false where a text is needed"},
      {"{\"flow\": {\"rate\": null}}", 1, "flow.rate", "is null"},
      {"{\"flow\": {\"rate\": \"unknown\"}}", 1, "flow.rate", "cannot be \"unknown\""},
      {"{\"flow\": {\"can_stop\": \"yes\"}}", 1, "flow.can_stop", "true or false"},
      {"{\"flow\": \"60 m3/h\"}", 1, "flow", "is a text where an object is needed"},
      {"{\"flow\": null}", 1, "flow", "is null"},
      {"{\"tag\": 5}", 1, "tag", "is a bare number where a text is needed"},
      {"{\"fluid\": {\"temperature\": \"-300 degC\"}}", 1, "fluid.temperature", "-300"},
      {"{\"fluid\": {\"pressure\": \"4 bar\"}}", 1, "fluid.pressure", "gauge"},
      {"{\"fluid\": {\"gas\": \"120 %\"}}", 1, "fluid.gas", "more than the whole"},
      {"{\"fluid\": {\"name\": \" \"}}", 1, "fluid.name", "is empty"},
      {"{\"path\": {\"traverses\": 0}}", 1, "path.traverses", "1 to 12"},
      {"{\"path\": {\"traverses\": 13}}", 1, "path.traverses", "1 to 12"},
      {"{\"path\": {\"traverses\": 2.5}}", 1, "path.traverses", "whole number"},
      {"{\"path\": {\"traverses\": \"2\"}}", 1, "path.traverses", "without quotes"},
      {"{\"path\": {\"traverses\": -1}}", 1, "path.traverses", "1 to 12"},
      {"{\"path\": {\"traverses\": 1e300}}", 1, "path.traverses", "1 to 12"},
      {"{\"path\": {\"wall_mode\": \"sheer\"}}", 1, "path.wall_mode", "did you mean \"shear\""},
      {"{\"pipe\": {\"orientation\": \"upwards\"}}", 1, "pipe.orientation", "must be one of"},
      {"{\"pipe\": {\"liner\": \"epoxy\"}}", 1, "pipe.liner", "thickness"},
      {"{\"pipe\": {\"coating\": \"unknown\"}}", 1, "pipe.coating", "cannot be \"unknown\""},
      {"{\"pipe\": {\"material\": 7}}", 1, "pipe.material", "needed"},
      {"{\"location\": {\"surface\": [\"paint\", \"mud\"]}}", 1, "location.surface",
       "must be one of"},
      {"{\"location\": {\"upstream\": {\"fitting\": \"tee\"}}}", 1, "location.upstream",
       "is an object where a list is needed"},
      {"{\"location\": {\"upstream\": [\"tee\"]}}", 1, "location.upstream[0]",
       "is a text where an object is needed"},
      {"{\"sensors\": [\"demo-1mhz\"]}", 1, "sensors", "is a list where an object is needed"},
      {"{\"sensors\": {\"temperature\": [\"1 degC\"]}}", 1, "sensors.temperature", "list of two"},
      {"{\"sensors\": {\"temperature\": [\"1 degC\", 2]}}", 1, "sensors.temperature[1]", "no unit"},
      {"{\"accept\": {}}", 1, "accept", "where a list is needed"},
      {"{\"fluid\": {\"absorption\": {\"power\": \"2\"}}}", 1, "fluid.absorption.power",
       "bare number"},
      {"{\"pipe\": {\"size\": {\"value\": \"NPS 6 sch 40\", \"from\": \"hearsay\"}}}", 1,
       "pipe.size.from", "must be one of gauge"},
      {"{\"pipe\": {\"size\": {\"value\": \"NPS 6 sch 40\",\n\"form\": \"tape\"}}}", 2,
       "pipe.size.form", "did you mean \"from\""},
      {"{\"pipe\": {\"size\": {\"one_of\": []}}}", 1, "pipe.size.one_of", "must be a list"},
      {"{\"pipe\": {\"size\": {\"one_of\": \"NPS 6 sch 40\"}}}", 1, "pipe.size.one_of",
       "must be a list"},
      {"{\"fluid\": {\"temperature\": {\"between\": [\"5 degC\"]}}}", 1,
       "fluid.temperature.between", "two values"},
      {"{\"fluid\": {\"temperature\": {\"between\": [\"5 degC\", \"x\"]}}}", 1,
       "fluid.temperature.between[1]", "x"},
      {"{\"fluid\": {\"temperature\": {\"one_of\": [\"5 degC\"], \"x\": 1}}}", 1,
       "fluid.temperature.x", "no known key"},
      {"{\"slantrule\": 2}", 1, "slantrule", "must be 1"},
      {"{\"slantrule\": \"1\"}", 1, "slantrule", "without quotes"},
      {"[]", 1, "", "must hold one object"},
      {"\n\"job\"", 2, "", "must hold one object"},
  }));
  CAPTURE(row.text);
  const Problem problem = only(row.text);
  CHECK(problem.place.line == row.line);
  CHECK_FALSE(problem.place.from_set);
  CHECK(problem.key == row.key);
  CHECK_THAT(problem.message, Contains(row.message));
}

TEST_CASE("job file: all mistakes come in one run, in the order of the file") {
  const auto problems = bad(R"({
    "slantrule": 3,
    "tag": 5,
    "pipe": { "siez": "NPS 6", "wall": 7.11 },
    "fluid": { "temperature": "7" },
    "flow": { "rate": null },
    "path": { "traverses": 99 }
  })");
  std::vector<std::pair<std::string, int>> seen;
  for (const Problem& one : problems) seen.emplace_back(one.key, one.place.line);
  CHECK(seen == std::vector<std::pair<std::string, int>>{{"slantrule", 2},
                                                         {"tag", 3},
                                                         {"pipe.siez", 4},
                                                         {"pipe.wall", 4},
                                                         {"fluid.temperature", 5},
                                                         {"flow.rate", 6},
                                                         {"path.traverses", 7}});
}

TEST_CASE("job file: a duplicate key doesn't hide the other mistakes") {
  const auto problems = bad("{\"tag\": \"a\",\n\"tag\": \"b\",\n\"flow\": { \"rate\": 5 }}");
  REQUIRE(problems.size() == 2);
  CHECK(problems[0].key == "tag");
  CHECK(problems[0].place.line == 2);
  CHECK(problems[1].key == "flow.rate");
}

TEST_CASE("job file: --set overrides, adds and clears") {
  const std::string_view file =
      R"({"tag": "file", "pipe": {"size": "NPS 6 sch 40"}, "flow": {"rate": "60 m3/h", "can_stop": true},
          "sensors": {"frequency": "1 MHz"}})";
  CHECK(good(file, {"tag=set"}).tag.value == "set");
  CHECK(good(file, {"tag=set"}).tag.place.from_set);
  CHECK(good(file, {"tag=a=b"}).tag.value == "a=b");
  CHECK(good(file, {"tag=one", "tag=two"}).tag.value == "two");
  CHECK_FALSE(good(file, {"tag="}).tag.value.has_value());
  CHECK(good(file, {"tag=", "tag=again"}).tag.value == "again");
  CHECK_FALSE(good(file, {"flow="}).flow.rate.given());
  CHECK_FALSE(good(file, {"flow.rate="}).flow.rate.given());
  CHECK(good(file, {"flow.rate="}).flow.can_stop.value == true);
  CHECK_FALSE(good(file, {"location.clock="}).location.clock.value.has_value());
  CHECK(si(good(file, {"flow.most=3600 m3/h"}).flow.most) == Approx(1).epsilon(1e-15));
  CHECK(good(file, {"location.clock=9:30"}).location.clock.value == "9:30");
  CHECK(good(file, {"pipe.size=168.3 x 7.11 mm"}).pipe.size.options.at(0).value ==
        "168.3 x 7.11 mm");
  CHECK(good(file, {"pipe.wall=unknown"}).pipe.wall.unknown);
  CHECK(good(file, {"flow.can_stop=false"}).flow.can_stop.value == false);
  CHECK(good(file, {"path.traverses=3"}).path.traverses.value == 3);
  CHECK(good(file, {"path.traverses=best"}).path.traverses.best);
  // A tag that looks like a number or a flag stays a text.
  CHECK(good(file, {"tag=17"}).tag.value == "17");
  CHECK(good(file, {"tag=true"}).tag.value == "true");
  CHECK(good(file, {"tag=\"quoted\""}).tag.value == "quoted");
  CHECK(good(file, {"tag=\""}).tag.value == "\"");
  CHECK(good(file, {"pipe.size=6\" sch40"}).pipe.size.options.at(0).value == "6\" sch40");
}

TEST_CASE("job file: --set reaches into objects, present or not") {
  const JobRequest job = good(
      R"({"sensors": {"frequency": "1 MHz", "wedge": {"angle": "38 deg"}}})",
      {"sensors.wedge.sound_speed=2430 m/s", "sensors.nose=16 mm", "sensors.cycles=6",
       "sensors.invented=true", "sensors.wedge.absorption.power=2", "fluid.absorption.power=1.5",
       "pipe.material.name=own", "pipe.material.absorption.power=1", "pipe.liner.material=epoxy",
       "pipe.liner.thickness=0.4 mm", "purpose.difference=5 %"});
  CHECK(si(job.sensors.pair->wedge.value->sound_speed) == 2430);
  CHECK(job.sensors.pair->wedge.value->angle.given());
  CHECK(job.sensors.pair->invented.value == true);
  CHECK(job.sensors.pair->cycles.value == 6);
  CHECK(job.sensors.pair->wedge.value->absorption.value->power.value == 2);
  CHECK(job.fluid.absorption.value->power.value == 1.5);
  const MaterialRequest& material = job.pipe.material.options.at(0).value;
  CHECK(material.name.value == "own");
  CHECK(material.absorption.value->power.value == 1);
  CHECK(si(job.pipe.liner.options.at(0).value.thickness) == 0.0004);
  CHECK(si(job.purpose.value->difference) == 0.05);
}

TEST_CASE("job file: --set takes lists and objects as JSON") {
  const JobRequest job = good(
      "{}",
      {R"(location.upstream=[{"fitting": "elbow-90", "distance": "2 m"}, {"fitting": "tee"}])",
       R"(pipe.wall=["7 mm", "7.1 mm"])", R"(fluid.temperature={"one_of": ["5 degC", "6 degC"]})"});
  CHECK(job.location.upstream.items.size() == 2);
  CHECK(job.pipe.wall.options.at(0).value.readings.size() == 2);
  CHECK(job.fluid.temperature.options.size() == 2);
}

TEST_CASE("job file: --set alone makes a job") {
  const Sets sets{"pipe.size=NPS 6 sch 40", "fluid.name=water"};
  const ReadJob read = read_job(std::nullopt, sets);
  CHECK(read.problems.empty());
  CHECK(read.request.fluid.name.options.at(0).value == "water");
}

TEST_CASE("job file: wrong --set") {
  struct Row {
    const char* set;
    const char* key;
    const char* message;
  };
  const auto row = GENERATE(values<Row>({
      {"", "", "KEY=VALUE"},
      {"tag", "tag", "KEY=VALUE"},
      {"=5", "=5", "KEY=VALUE"},
      {"tga=5", "tga", "did you mean \"tag\""},
      {"pipe.siz=5", "pipe.siz", "did you mean \"size\""},
      {"pipe.=5", "pipe.", "no known key"},
      {"pipe=5", "pipe", "where an object is needed"},
      {"tag.x=5", "tag.x", "\"tag\" is a text here"},
      {"path.traverses=two", "path.traverses", "whole number"},
      {"path.traverses=007", "path.traverses", "whole number"},
      {"path.traverses=1e400", "path.traverses", "whole number"},
      {"flow.can_stop=yes", "flow.can_stop", "true or false"},
      {"flow.rate=60", "flow.rate", "no unit"},
      {"pipe.wall=[", "pipe.wall", "not valid JSON"},
      {"pipe.wall=[\"7 mm\"] x", "pipe.wall", "not valid JSON"},
      {"fluid.temperature={\"value\": \"7 degC\", \"value\": \"8 degC\"}",
       "fluid.temperature.value", "twice"},
      {"tag\x1b[31m.x=5", "tag?[31m", "no known key"},
      {"tag.\x1b[31m=5", "tag.?[31m", "cannot be set"},
  }));
  CAPTURE(row.set);
  const auto problems = bad(R"({"tag": "a"})", {row.set});
  REQUIRE(!problems.empty());
  CHECK(problems[0].place.from_set);
  CHECK(problems[0].place.line == 0);
  CHECK(problems[0].key == row.key);
  CHECK_THAT(problems[0].message, Contains(row.message));
}

TEST_CASE("job file: a --set as deep as a command line can be does no harm") {
  std::string deep;
  for (int i = 0; i < 60000; ++i) deep += "a.";
  CHECK(!bad("{}", {deep + "b=1"}).empty());
}

TEST_CASE("job file: a kit may be a file beside the job") {
  const auto files = [](const std::string& path) -> std::optional<std::string> {
    if (path == "kit.json") return R"({ "sensors": ["demo-1mhz"], "rail_length": "400 mm" })";
    if (path == "bad.json") return "{\n\"rail\": 5,\n\"rail_step\": \"1\" }";
    return std::nullopt;
  };
  const JobRequest job = good(R"({"kit": "kit.json"})", {}, files);
  CHECK(si(job.kit.value->rail_length) == 0.4);

  const ReadJob missing = read_job(R"({"kit": "no.json"})", {}, files);
  REQUIRE(missing.problems.size() == 1);
  CHECK_THAT(missing.problems[0].message, Contains("no.json") && Contains("cannot be read"));

  const ReadJob wrong = read_job("{\n\"kit\": \"bad.json\"}", {}, files);
  REQUIRE(wrong.problems.size() == 2);
  CHECK(wrong.problems[0].place.line == 2);
  CHECK_THAT(wrong.problems[0].message, Contains("bad.json") && Contains("line 2: kit.rail"));
  CHECK_THAT(wrong.problems[1].message, Contains("line 3: kit.rail_step"));
}

TEST_CASE("job file: messages hold no control characters") {
  for (const char* text :
       {"{\"a\\u001b[31m\": 1}", "{\"flow\": {\"rate\": \"5 \\u001b[31m\"}}",
        "{\"pipe\": {\"orientation\": \"\\u0007\"}}", "{\"pipe\": {\"liner\": \"\\u202e\"}}",
        "{\"a\\u001b\": 1, \"a\\u001b\": 2}", "{\"kit\": \"\\u001b\"}"}) {
    const auto problems = bad(text);
    CAPTURE(text);
    REQUIRE(!problems.empty());
    for (const Problem& one : problems) {
      for (char c : one.key + one.message) CHECK(static_cast<unsigned char>(c) >= 0x20);
      CHECK_THAT(one.key + one.message, !Contains("\u202e"));
    }
  }
}

TEST_CASE("job file: a request with every key shows those of inline objects") {
  std::vector<std::string> keys;
  const JobRequest all = request_with_every_key();
  visit_all_keys(
      all, "", [&](const std::string& path, const KeyInfo&, const auto&) { keys.push_back(path); });
  for (const char* key : {"pipe.material.absorption.power", "pipe.liner.material.longitudinal",
                          "pipe.wall.gauge_set_to", "sensors.wedge.absorption.at",
                          "fluid.absorption.longitudinal", "location.upstream[0].fitting",
                          "kit.rail_step", "purpose.difference", "accept[0].down_to"}) {
    CAPTURE(key);
    CHECK(std::count(keys.begin(), keys.end(), key) == 1);
  }
}
