// `slantrule lookup` from outside: what a person reads, and what a script relies on.

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "cli/run.hpp"

using namespace slantrule::test;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;
using Catch::Matchers::WithinAbs;
using Json = nlohmann::json;

namespace {

Outcome lookup(const Args& args, const Setting& setting = {}) {
  const Folder folder;
  Args all = {"lookup"};
  all.insert(all.end(), args.begin(), args.end());
  return run_slantrule(folder, all, setting);
}

/// The one object that a look-up prints for programs.
Json json(Args args) {
  args.insert(args.end(), {"--format", "json"});
  const Outcome outcome = lookup(args);
  CAPTURE(outcome.out, outcome.err);
  REQUIRE(lines_of(outcome.out).size() == 1);
  for (char c : outcome.out) CHECK((c == '\n' || (c >= 0x20 && c < 0x7F)));
  return Json::parse(outcome.out);
}

std::vector<double> temperatures_degC(const Args& options) {
  Args args = {"liquid", "water"};
  args.insert(args.end(), options.begin(), options.end());
  std::vector<double> temperatures;
  const Json answer = json(args);
  for (const Json& row : answer.at("found").at(0).at("rows")) {
    temperatures.push_back(row.at("temperature_degC").get<double>());
  }
  return temperatures;
}

}  // namespace

TEST_CASE("cli lookup: found is 0, nothing found is 1, a wrong command line is 2") {
  struct Row {
    const char* what;
    Args args;
    int code;
    const char* out;  // null: nothing on standard output
    const char* err;
  };
  const auto row = GENERATE(values<Row>({
      {"a standard size", {"pipes", "NPS", "6", "sch", "40"}, 0, "154.08", nullptr},
      {"a girth", {"pipes", "girth 721 mm"}, 0, "AWWA C151 8 in", nullptr},
      {"no standard size", {"pipes", "OD 150 mm"}, 0, "NO standard size", nullptr},
      {"all standards", {"pipes"}, 0, "ISO 4427", nullptr},
      {"ambiguous, both shown", {"pipes", "4\""}, 0, "IF IT IS NPS 4", nullptr},
      {"no such size", {"pipes", "EN 545 DN 175"}, 1, nullptr, "\"EN 545 DN 150\""},
      {"no unit", {"pipes", "girth 721"}, 1, nullptr, "no unit"},
      {"a solid", {"solids", "ductile iron"}, 0, "EVIDENCE", nullptr},
      {"ambiguous, both rows", {"solids", "CS"}, 0, "carbon_steel or concrete", nullptr},
      {"refused", {"solids", "PCCP"}, 1, nullptr, "is refused"},
      {"misspelt", {"solids", "carbon_stel"}, 1, nullptr, "did you mean \"carbon_steel\""},
      {"no such solid", {"solids", "unobtainium"}, 1, nullptr, "nothing among the solids"},
      {"a liquid", {"liquid", "water"}, 0, "speed of sound, m/s", nullptr},
      {"no such liquid", {"liquid", "unobtainium"}, 1, nullptr, "nothing among the liquids"},
      {"no such fitting", {"fittings", "nonesuch"}, 1, nullptr, "nothing among the fittings"},
      {"one of a kind", {"fitting", "elbow-90"}, 0, "elbow-90", nullptr},
      {"kind misspelt", {"solds", "steel"}, 2, nullptr, "did you mean solids?"},
      {"no kind", {"bricks"}, 2, nullptr, "kinds are pipes, solids"},
      {"temperature without unit",
       {"liquid", "water", "--temperature", "20"},
       2,
       nullptr,
       "--temperature: \"20\" has no unit"},
      {"pressure of no kind",
       {"liquid", "water", "--pressure", "4 bar"},
       2,
       nullptr,
       "--pressure: "},
      {"concentration of no kind",
       {"liquid", "MEG", "--concentration", "30 %"},
       2,
       nullptr,
       "--concentration: "},
      {"a range backwards",
       {"liquid", "water", "--temperature", "60 to 0 degC"},
       2,
       nullptr,
       "from warm to cold"},
      {"too many rows",
       {"liquid", "water", "--temperature", "0 to 60 degC", "--step", "0.01 K"},
       2,
       nullptr,
       "more than 1000 steps"},
      {"a step without a range",
       {"liquid", "water", "--temperature", "5 degC", "--step", "1 K"},
       2,
       nullptr,
       "--step goes with a range"},
      {"temperature of a pipe",
       {"pipes", "NPS 6", "--temperature", "20 degC"},
       2,
       nullptr,
       "go with one liquid"},
      {"temperature of no liquid",
       {"liquids", "--temperature", "20 degC"},
       2,
       nullptr,
       "go with one liquid"},
  }));
  CAPTURE(row.what);
  const Outcome outcome = lookup(row.args);
  CAPTURE(outcome.out, outcome.err);
  CHECK(outcome.code == row.code);
  if (row.out) {
    CHECK_THAT(outcome.out, Contains(row.out));
    CHECK(outcome.err.empty());
  } else {
    CHECK(outcome.out.empty());
    CHECK_THAT(outcome.err, StartsWith("slantrule: ") && Contains(row.err));
    CHECK(lines_of(outcome.err).size() == 1);
  }
}

TEST_CASE("cli lookup: JSON is one object of one shape for every kind, found or not") {
  for (const char* kind :
       {"pipes", "solids", "liquids", "fittings", "couplants", "sensors", "checks", "keys"}) {
    CAPTURE(kind);
    const Json all = json({kind});
    CHECK(all.at("kind") == kind);
    CHECK(all.at("text") == "");
    CHECK(!all.at("found").empty());
    const Json none = json({kind, "no such thing"});
    CHECK(none.at("text") == "no such thing");
    CHECK(none.at("found").empty());
    CHECK(!none.at("message").get<std::string>().empty());
    for (const Json& object : {all, none}) {
      CHECK(object.at("nearest").is_array());
      CHECK(object.at("readings").is_array());
    }
  }
}

TEST_CASE("cli lookup: nothing found is 1 in JSON too, and said on standard error") {
  const Outcome outcome = lookup({"solids", "carbon_stel", "--format", "json"});
  CHECK(outcome.code == 1);
  CHECK(Json::parse(outcome.out).at("nearest").at(0) == "carbon_steel");
  CHECK_THAT(outcome.err, Contains("did you mean"));
}

TEST_CASE("cli lookup: numbers for programs are not rounded, and SI whatever the units shown") {
  const Json metric = json({"pipes", "PE 110 SDR 11"});
  CHECK(json({"pipes", "PE 110 SDR 11", "--units", "us"}) == metric);
  // ISO 4427-2: e_min 10.0 mm; the mean wall is 1.05 * 10.0 + 0.05.
  const Json wall = metric.at("found").at(0).at("walls").at(0);
  CHECK(wall.at("wall_mm") == 10.0);
  CHECK(wall.at("wall_kind") == "minimum");
  CHECK_THAT(wall.at("mean_wall_mm").get<double>(), WithinAbs(10.55, 1e-12));
  // 721 mm / pi
  const Json girth = json({"pipes", "girth 721 mm"});
  CHECK_THAT(girth.at("found").at(0).at("asked_outside_diameter_mm").get<double>(),
             WithinAbs(229.5014280, 1e-6));
}

TEST_CASE("cli lookup: temperatures one by one and as ranges") {
  using List = std::vector<double>;
  struct Row {
    Args options;
    List want;
  };
  const auto row = GENERATE(values<Row>({
      {{"--temperature", "5 degC"}, List{5}},
      {{"--temperature", "-5 degC"}, List{-5}},
      {{"--temperature", "40 degC", "--temperature", "5 degC"}, List{5, 40}},
      {{"--temperature", "0 degC to 60 degC"},
       List{0, 5, 10, 15, 20, 25, 30, 35, 40, 45, 50, 55, 60}},
      {{"--temperature", "0 to 60 degC", "--step", "20 K"}, List{0, 20, 40, 60}},
      {{"--temperature", "0..50 degC", "--step", "20 degC"}, List{0, 20, 40, 50}},
      {{"--temperature", "41 to 59 degF", "--step", "9 degF"}, List{5, 10, 15}},
      {{"--temperature", "1 to 2 degC", "--step", "0.5 K", "--temperature", "20 degC"},
       List{1, 1.5, 2, 20}},
  }));
  CAPTURE(row.options);
  const List got = temperatures_degC(row.options);
  REQUIRE(got.size() == row.want.size());
  for (std::size_t i = 0; i < got.size(); ++i) CHECK_THAT(got[i], WithinAbs(row.want[i], 1e-9));
}

TEST_CASE("cli lookup: pressure is taken as said, gauge from the standard atmosphere") {
  const auto pressure_bar = [](const char* text) {
    return json({"liquid", "water", "--temperature", "20 degC", "--pressure", text})
        .at("found")
        .at(0)
        .at("rows")
        .at(0)
        .at("pressure_bar")
        .get<double>();
  };
  CHECK_THAT(pressure_bar("4 bar absolute"), WithinAbs(4, 1e-12));
  CHECK_THAT(pressure_bar("4 bar gauge"), WithinAbs(5.01325, 1e-12));
}

TEST_CASE("cli lookup: text is plain ASCII where the locale is not UTF-8") {
  for (const Args& args : std::vector<Args>{{"pipes", "168.3 mm"},
                                            {"solids", "ductile iron"},
                                            {"liquid", "water"},
                                            {"liquid", "glycol"}}) {
    CAPTURE(args);
    const Outcome outcome = lookup(args, {.locale = "C"});
    CHECK(outcome.code == 0);
    for (char c : outcome.out) CHECK(static_cast<unsigned char>(c) < 0x80);
  }
}

TEST_CASE("cli lookup: --output and --units") {
  const Folder folder;
  const Outcome outcome = run_slantrule(
      folder, {"lookup", "pipes", "NPS 6 sch 40 steel", "--units", "us", "--output", "six.txt"});
  CHECK(outcome.code == 0);
  CHECK(outcome.out.empty());
  // 6.625 in outside, 0.280 in wall (ASME B36.10M).
  CHECK_THAT(text_of(folder / "six.txt"), Contains("6.626") && Contains("0.280"));
}
