// A user's catalogue file: rows that can be planned with, mistakes with line and key. Expected
// numbers are those written in the file, converted by the definitions of the units.

#include "slantrule/files/catalogue_file.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <map>
#include <numbers>
#include <set>

#include "slantrule/files/job_file.hpp"
#include "slantrule/planning/job_visit.hpp"

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

void good(std::string_view text, Catalogue& catalogue) {
  const auto problems = read_catalogue(text, catalogue, "own.json");
  for (const Problem& one : problems) UNSCOPED_INFO(one.key << ": " << one.message);
  REQUIRE(problems.empty());
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

TEST_CASE("catalogue file: names of a user's solid, its family and what it rests on") {
  Catalogue catalogue;
  good(R"json({ "solids": [
      { "key": "pipe plastic", "name": "Pipe plastic", "names": ["grey pipe", "steel"],
        "family": "plastic", "longitudinal": "2300 m/s",
        "absorption": { "longitudinal": "3 dB/m", "at": "1 MHz", "power": 1 },
        "source": "report 7", "confidence": "computed" },
      { "key": "plain", "name": "Plain", "longitudinal": "2000 m/s" } ] })json",
       catalogue);
  const SolidRecord* solid = catalogue.solid("Grey-Pipe").record;
  REQUIRE(solid);
  CHECK(solid->key == "pipe plastic");
  CHECK(solid->family == SolidFamily::plastic);
  CHECK(solid->source == "report 7");
  CHECK(solid->confidence == Confidence::computed);
  CHECK(solid->attenuation_note == "longitudinal 3 dB/m, at 1 MHz, power 1");
  CHECK(catalogue.solid("steel").record == solid);  // built in: carbon steel
  CHECK(catalogue.solid("gray pipe").nearest.front() == "grey_pipe");

  // A row that says nothing of its source is remembered, not published.
  const SolidRecord* plain = catalogue.solid("plain").record;
  REQUIRE(plain);
  CHECK(plain->family == SolidFamily::metal);
  CHECK(plain->source == "user's catalogue own.json");
  CHECK(plain->confidence == Confidence::memory);
}

TEST_CASE("catalogue file: a liquid by its points") {
  Catalogue catalogue;
  good(R"json({ "liquids": [ {
      "key": "Brine-7", "name": "Brine of tank 7", "names": ["tank brine"],
      "points": [
        { "temperature": "30 degC", "concentration": "20 % mass", "sound_speed": "1690 m/s +- 3 m/s (k=2)" },
        { "temperature": "0 degC", "concentration": "20 % mass", "sound_speed": "1640 m/s" },
        { "temperature": "0 degC", "concentration": "10 % mass", "pressure": "0 bar gauge",
          "sound_speed": "1530 m/s +- 3 m/s (k=1)", "density": "1085 kg/m3 +- 2 % (k=1)",
          "viscosity": "2 mm2/s" },
        { "temperature": "30 degC", "concentration": "10 % mass", "pressure": "101325 Pa absolute",
          "sound_speed": "1590 m/s", "density": "1.075 kg/l +- 1 % (k=1)", "viscosity": "1.1 mPa s" } ],
      "freezing_point": "-6 degC", "boiling_point": "104 degC", "critical_temperature": "380 degC",
      "critical_pressure": "22 MPa absolute", "source": "lab sheet 3" } ] })json",
       catalogue);
  const LiquidRecord* liquid = catalogue.liquid("Tank Brine").record;
  REQUIRE(liquid);
  CHECK(liquid == catalogue.liquid("brine_7").record);
  CHECK(liquid->key == "Brine-7");
  CHECK(liquid->name == "Brine of tank 7");
  CHECK(liquid->model == "tabulated");
  CHECK(liquid->solution);
  CHECK(liquid->source == "lab sheet 3");
  CHECK(liquid->confidence == Confidence::published);

  // By mass per cent, pressure and temperature.
  const auto points = catalogue.liquid_points(liquid->parameter);
  REQUIRE(points.size() == 4);
  const auto row = [&](std::size_t i) {
    return std::vector<double>{points[i].mass_percent, points[i].temperature_degC,
                               points[i].sound_speed_m_s};
  };
  CHECK(row(0) == std::vector<double>{10, 0, 1530});
  CHECK(row(1) == std::vector<double>{10, 30, 1590});
  CHECK(row(2) == std::vector<double>{20, 0, 1640});
  CHECK(row(3) == std::vector<double>{20, 30, 1690});
  // 1 atm is 101 325 Pa by definition; gauge pressures count from it.
  for (const LiquidPoint& point : points)
    CHECK_THAT(point.pressure_bar, WithinRel(1.01325, rounding));
  CHECK_THAT(points[0].u_sound_speed_m_s, WithinRel(3.0, rounding));
  CHECK_THAT(points[3].u_sound_speed_m_s, WithinRel(1.5, rounding));
  // Without a tolerance 0.3 %, as the key's help says.
  CHECK_THAT(points[1].u_sound_speed_m_s, WithinRel(0.003 * 1590, rounding));
  CHECK_THAT(points[0].density_kg_m3, WithinRel(1085.0, rounding));
  CHECK_THAT(points[1].density_kg_m3, WithinRel(1075.0, rounding));
  CHECK(std::isnan(points[2].density_kg_m3));
  CHECK_THAT(points[0].viscosity_mPa_s, WithinRel(2e-6 * 1085 * 1e3, rounding));  // nu rho
  CHECK_THAT(points[1].viscosity_mPa_s, WithinRel(1.1, rounding));
  CHECK(std::isnan(points[3].viscosity_mPa_s));

  const LiquidTableRecord* table = catalogue.liquid_table(liquid->parameter);
  REQUIRE(table);
  CHECK_THAT(table->freezing_point_K, WithinRel(267.15, rounding));
  CHECK_THAT(table->boiling_point_K, WithinRel(377.15, rounding));
  CHECK_THAT(table->boiling_pressure_bar, WithinRel(1.01325, rounding));
  CHECK_THAT(table->critical_temperature_K, WithinRel(653.15, rounding));
  CHECK_THAT(table->critical_pressure_bar, WithinRel(220.0, rounding));
  CHECK_THAT(table->u_density_percent, WithinRel(2.0, rounding));  // the greatest stated
  CHECK(std::isnan(table->u_viscosity_percent));

  // The model goes through the points.
  const auto model = make_tabulated_liquid(*table, "lab sheet 3");
  const auto at = model->at({273.15, 101325, 0.10});
  CHECK_THAT(at.sound_speed_m_s->value, WithinRel(1530.0, 1e-9));
  CHECK_THAT(at.density_kg_m3->u, WithinRel(0.02 * 1085, 1e-9));
}

TEST_CASE("catalogue file: a liquid by a slope is that line") {
  Catalogue catalogue;
  good(R"json({ "liquids": [ { "key": "works oil", "name": "Works oil",
      "sound_speed": "1440 m/s +- 4 m/s (k=1)", "at": "25 degC",
      "slope": "-5 m/s/K +- 0.3 m/s/K (k=1)", "from": "10 degC", "to": "75 degC",
      "density": "870 kg/m3", "viscosity": "40 mm2/s" } ] })json",
       catalogue);
  const LiquidRecord* liquid = catalogue.liquid("works-oil").record;
  REQUIRE(liquid);
  CHECK_FALSE(liquid->solution);
  CHECK(liquid->confidence == Confidence::memory);
  const LiquidTableRecord* table = catalogue.liquid_table(liquid->parameter);
  REQUIRE(table);
  const auto model = make_tabulated_liquid(*table, "");
  for (double temperature_degC = 10; temperature_degC <= 75; temperature_degC += 1.25) {
    CAPTURE(temperature_degC);
    const auto at = model->at({temperature_degC + 273.15, 101325, 0});
    // The curve between the points is no line in c, but within what the points' steps promise.
    const double line_m_s = 1440 - 5 * (temperature_degC - 25);
    CHECK(std::abs(at.sound_speed_m_s->value - line_m_s) < 0.01);
  }
  // At a point, by the law of propagation: u^2 = 4^2 + (0.3 (T - 25))^2.
  CHECK_THAT(model->at({283.15, 101325, 0}).sound_speed_m_s->u,
             WithinRel(std::hypot(4, 4.5), 1e-9));
  CHECK_THAT(model->at({348.15, 101325, 0}).sound_speed_m_s->u, WithinRel(std::hypot(4, 15), 1e-9));
  // Density and viscosity are known at 25 degC; 50 K away they are less sure, as limits of 0.1 %
  // and 3 % a kelvin.
  CHECK_THAT(table->u_density_percent, WithinRel(0.1 * 50 / std::sqrt(3), 1e-9));
  CHECK_THAT(table->u_viscosity_percent, WithinRel(3 * 50 / std::sqrt(3), 1e-9));
  CHECK_THAT(model->at({298.15, 101325, 0}).viscosity_Pa_s->value, WithinRel(40e-6 * 870, 1e-9));
  // A line with neither slope nor speed uncertain would be a claim that nobody made.
  Catalogue bare;
  good(R"json({ "liquids": [ { "key": "b", "name": "B", "sound_speed": "1400 m/s", "at": "20 degC",
      "slope": "-4 m/s/K", "from": "20 degC", "to": "30 degC" } ] })json",
       bare);
  const auto points = bare.liquid_points("b");
  REQUIRE(points.size() == 2);
  CHECK_THAT(points[0].u_sound_speed_m_s, WithinRel(4.2, rounding));
  CHECK_THAT(points[1].u_sound_speed_m_s, WithinRel(std::hypot(4.2, 4.0), rounding));
}

TEST_CASE("catalogue file: pipes") {
  Catalogue catalogue;
  good(R"json({ "pipes": [
      { "standard": "asme b36.10m", "designation": "NPS 6", "schedule": "37", "dn": 150,
        "outside_diameter": "6.625 in", "wall": "6.8 mm" },
      { "standard": "Works 12", "designation": "W 80", "outside_diameter": "88.9 mm", "wall": "4 mm",
        "wall_kind": "minimum", "material_family": "Carbon Steel", "source": "works standard 12" },
      { "standard": "Works 12", "designation": "W 80", "outside_diameter": "88.9 mm", "wall": "5 mm",
        "material_family": "works alloy" } ] })json",
       catalogue);
  const auto pipes = catalogue.user_pipes();
  REQUIRE(pipes.size() == 3);
  CHECK(pipes[0].standard == "ASME B36.10M");  // a built-in one, as that spells it
  CHECK(pipes[0].designation == "NPS 6");
  CHECK(pipes[0].schedule == "37");
  CHECK(pipes[0].dn == 150);
  CHECK_THAT(pipes[0].outside_diameter_mm, WithinRel(168.275, rounding));  // 6.625 in x 25.4
  CHECK_THAT(pipes[0].wall_mm, WithinRel(6.8, rounding));
  CHECK(pipes[0].wall_kind == WallKind::nominal);
  CHECK(pipes[0].material_family == "carbon steel");  // that of the standard
  CHECK(pipes[0].confidence == Confidence::memory);
  CHECK(pipes[1].wall_kind == WallKind::minimum);
  CHECK(pipes[1].dn == 0);
  CHECK(pipes[1].schedule.empty());
  CHECK(pipes[1].material_family == "carbon steel");
  CHECK(pipes[1].source == "works standard 12");
  CHECK(pipes[1].confidence == Confidence::published);
  CHECK(pipes[2].material_family == "works alloy");
}

TEST_CASE("catalogue file: couplants and fittings") {
  Catalogue catalogue;
  good(R"json({
    "couplants": [ { "key": "site paste", "name": "paste of the site",
                     "temperature": ["-30 degC", "302 degF"], "lasts": "weeks", "note": "sticky",
                     "source": "its data sheet" },
                   { "key": "spit", "name": "spit", "temperature": ["5 degC", "40 degC"] } ],
    "fittings": [ { "key": "static mixer", "name": "static mixer", "upstream": "30 D",
                    "downstream": "7.5 D" },
                  { "key": "mitre", "name": "mitre bend", "upstream": "10 D", "downstream": "5 D",
                    "bend": true },
                  { "key": "clamp", "name": "repair clamp", "mark_only": true },
                  { "key": "saddle", "name": "saddle", "upstream": "2 D", "downstream": "0.5 D",
                    "mark_only": true } ] })json",
       catalogue);
  const CouplantRecord* paste = catalogue.couplant("Site-Paste").record;
  REQUIRE(paste);
  CHECK(paste->name == "paste of the site");
  CHECK(paste->lowest_degC == -30);
  CHECK_THAT(paste->highest_degC, WithinRel(150.0, rounding));  // (302 - 32) / 1.8
  CHECK(paste->lasts == "weeks");
  CHECK(paste->note == "sticky");
  CHECK(paste->source == "its data sheet");
  CHECK(paste->confidence == Confidence::published);
  REQUIRE(catalogue.couplant("spit").record);
  CHECK(catalogue.couplant("spit").record->source == "user's catalogue own.json");
  CHECK(catalogue.couplant("site past").nearest.front() == "site paste");

  const FittingRecord* mixer = catalogue.fitting("static_mixer").record;
  REQUIRE(mixer);
  CHECK(mixer->name == "static mixer");
  CHECK(mixer->upstream_D == 30);
  CHECK(mixer->downstream_D == 7.5);
  CHECK_FALSE(mixer->bend);
  CHECK_FALSE(mixer->mark_only);
  CHECK(mixer->confidence == Confidence::memory);
  CHECK(catalogue.fitting("mitre").record->bend);
  // As the built-in welds and flanges.
  CHECK(catalogue.fitting("clamp").record->mark_only);
  CHECK(catalogue.fitting("clamp").record->upstream_D ==
        catalogue.fitting("weld").record->upstream_D);
  CHECK(catalogue.fitting("clamp").record->downstream_D ==
        catalogue.fitting("weld").record->downstream_D);
  CHECK(catalogue.fitting("saddle").record->downstream_D == 0.5);
}

TEST_CASE("catalogue file: every kind goes before the built-in rows, the later file first") {
  constexpr std::string_view first = R"json({
    "solids": [ { "key": "carbon_steel", "name": "one", "longitudinal": "5900 m/s" } ],
    "liquids": [ { "key": "acetone", "name": "one", "points": [
                   { "temperature": "20 degC", "sound_speed": "1170 m/s" } ] } ],
    "couplants": [ { "key": "grease", "name": "one", "temperature": ["0 degC", "50 degC"] } ],
    "fittings": [ { "key": "elbow-90", "name": "one", "upstream": "40 D", "downstream": "8 D" } ] })json";
  std::string second(first);
  for (std::size_t at; (at = second.find("\"one\"")) != second.npos;)
    second.replace(at, 5, "\"two\"");

  Catalogue catalogue;
  REQUIRE(catalogue.liquid_points("acetone").size() > 1);  // the built-in table
  const auto names = [&] {
    return std::vector<std::string_view>{
        catalogue.solid("mild steel").record->name, catalogue.liquid("propanone").record->name,
        catalogue.couplant("grease").record->name, catalogue.fitting("elbow 90").record->name};
  };
  good(first, catalogue);
  CHECK(names() == std::vector<std::string_view>(4, "one"));
  CHECK(catalogue.liquid_points("acetone").size() == 1);
  good(second, catalogue);
  CHECK(names() == std::vector<std::string_view>(4, "two"));
  CHECK(catalogue.user_solids().size() == 1);
  CHECK(catalogue.user_liquids().size() == 1);
  CHECK(catalogue.user_couplants().size() == 1);
  CHECK(catalogue.user_fittings().size() == 1);
}

// ---------------------------------------------------------------- mistakes

namespace {

/// A good row of each kind, one key a line; a test takes lines out or puts others in.
const std::map<std::string, std::string> good_rows = {
    {"sensors", R"("key": "a",
"frequency": "1 MHz",
"setback": "10 mm",
"wedge": { "sound_speed": "2400 m/s", "angle": "38 deg" })"},
    {"solids", R"("key": "a",
"name": "A",
"longitudinal": "5900 m/s",
"shear": "3200 m/s")"},
    {"liquids", R"("key": "a",
"name": "A",
"points": [ { "temperature": "20 degC", "sound_speed": "1400 m/s" } ])"},
    {"lines", R"("key": "a",
"name": "A",
"sound_speed": "1400 m/s",
"at": "20 degC",
"slope": "-3 m/s/K",
"from": "10 degC",
"to": "50 degC")"},
    {"pipes", R"("standard": "ASME B36.10M",
"designation": "NPS 6",
"schedule": "37",
"outside_diameter": "168.3 mm",
"wall": "6.8 mm")"},
    {"couplants", R"("key": "a",
"name": "A",
"temperature": ["0 degC", "60 degC"])"},
    {"fittings", R"("key": "a",
"name": "A",
"upstream": "20 D",
"downstream": "5 D")"},
};

/// The row with the line of `key` replaced by `instead`, or left out; a new key goes behind.
std::string row_with(const std::string& kind, const std::string& key, const std::string& instead) {
  std::vector<std::string> lines;
  bool replaced = false;
  std::string rest = good_rows.at(kind);
  while (!rest.empty()) {
    const std::size_t end = std::min(rest.find(",\n"), rest.size());
    std::string line = rest.substr(0, end);
    rest.erase(0, end + 2);
    if (!key.empty() && line.starts_with("\"" + key + "\"")) {
      replaced = true;
      if (instead.empty()) continue;
      line = instead;
    }
    lines.push_back(std::move(line));
  }
  if (!replaced && !instead.empty()) lines.push_back(instead);
  std::string row = "{";
  for (std::size_t i = 0; i < lines.size(); ++i) row += (i ? ",\n" : "\n") + lines[i];
  return row + " }";
}

std::string file_of(const std::string& kind, const std::string& rows) {
  return "{ \"" + (kind == "lines" ? std::string("liquids") : kind) + "\": [ " + rows + " ] }";
}

std::size_t user_rows(const Catalogue& catalogue) {
  return catalogue.user_sensor_pairs().size() + catalogue.user_solids().size() +
         catalogue.user_liquids().size() + catalogue.user_pipes().size() +
         catalogue.user_couplants().size() + catalogue.user_fittings().size() +
         catalogue.user_solid_names().size() + catalogue.user_liquid_names().size();
}

}  // namespace

TEST_CASE("catalogue file: the good rows of the table of mistakes are good") {
  for (const auto& [kind, row] : good_rows) {
    CAPTURE(kind);
    Catalogue catalogue;
    good(file_of(kind, row_with(kind, "", "")), catalogue);
    CHECK(user_rows(catalogue) == 1);
  }
}

TEST_CASE(
    "catalogue file: each mistake of a row has its line, key and mend, and leaves the row out") {
  struct Row {
    const char* kind;
    const char* key;      ///< of the good row, whose line is replaced (2 is the first line)
    const char* instead;  ///< empty: left out
    int line;
    const char* where;  ///< behind "kind[0]"
    const char* message;
  };
  // clang-format off
  const auto row = GENERATE(values<Row>({
      // what is required
      {"sensors", "key", "", 1, ".key", "is missing (name of the pair); write \"key\": \"pair-7\""},
      {"sensors", "key", R"("key": " ")", 2, ".key", "is empty; write \"pair-7\""},
      {"sensors", "frequency", "", 1, ".frequency", "\"frequency\": \"1 MHz\""},
      {"sensors", "setback", "", 1, ".setback", "\"setback\": \"14 mm\""},
      {"sensors", "wedge", "", 1, ".wedge", "\"sound_speed\": \"2430 m/s\""},
      {"sensors", "wedge", "\"wedge\":\n{ \"sound_speed\": \"2400 m/s\" }", 5, ".wedge.angle", "\"angle\": \"38 deg\""},
      {"solids", "key", "", 1, ".key", "is missing"},
      {"solids", "name", "", 1, ".name", "is missing"},
      {"solids", "longitudinal", "", 1, ".longitudinal", "\"longitudinal\": \"5920 m/s\""},
      {"liquids", "key", "", 1, ".key", "is missing"},
      {"liquids", "name", "", 1, ".name", "is missing"},
      {"liquids", "points", "", 1, ".points", "is missing: write \"points\": ["},
      {"liquids", "points", R"("points": [])", 4, ".points", "is empty; write [ {"},
      {"liquids", "points", R"("points": [ { "sound_speed": "1400 m/s" } ])", 4, ".points[0].temperature", "\"temperature\": \"20 degC\""},
      {"liquids", "points", "\"points\": [ { \"temperature\": \"1 degC\", \"sound_speed\": \"1400 m/s\" },\n{ \"temperature\": \"20 degC\" } ]", 5, ".points[1].sound_speed", "is missing"},
      {"lines", "sound_speed", "", 1, ".sound_speed", "\"sound_speed\": \"1320 m/s +- 3 m/s\""},
      {"lines", "at", "", 1, ".at", "without points a liquid needs"},
      {"lines", "slope", "", 1, ".slope", "\"slope\": \"-3.5 m/s/K\""},
      {"lines", "from", "", 1, ".from", "is missing"},
      {"lines", "to", "", 1, ".to", "is missing"},
      {"pipes", "standard", "", 1, ".standard", "\"standard\": \"ASME B36.10M\""},
      {"pipes", "designation", "", 1, ".designation", "is missing"},
      {"pipes", "outside_diameter", "", 1, ".outside_diameter", "is missing"},
      {"pipes", "wall", "", 1, ".wall", "\"wall\": \"7.11 mm\""},
      {"couplants", "key", "", 1, ".key", "is missing"},
      {"couplants", "name", "", 1, ".name", "is missing"},
      {"couplants", "temperature", "", 1, ".temperature", "[\"-30 degC\", \"150 degC\"]"},
      {"fittings", "key", "", 1, ".key", "is missing"},
      {"fittings", "name", "", 1, ".name", "is missing"},
      {"fittings", "upstream", "", 1, ".upstream", "\"upstream\": \"20 D\""},
      {"fittings", "downstream", "", 1, ".downstream", "\"downstream\": \"5 D\""},

      // keys and kinds of value
      {"sensors", "", R"("setbak": "1 mm")", 6, ".setbak", "did you mean \"setback\"?"},
      {"solids", "", R"("sheer": "1 m/s")", 6, ".sheer", "did you mean \"shear\"?"},
      {"liquids", "", R"("sound_sped": "1 m/s")", 5, ".sound_sped", "did you mean \"sound_speed\"?"},
      {"pipes", "", R"("material": "copper")", 7, ".material", "is no known key"},
      {"couplants", "", R"("range": "1 m/s")", 5, ".range", "known here: key, name, temperature"},
      {"fittings", "", R"("bends": true)", 6, ".bends", "did you mean \"bend\"?"},
      {"fittings", "", R"("bend": "yes")", 6, ".bend", "true or false"},
      {"pipes", "", R"("dn": "150")", 7, ".dn", "whole number from 1 to 10000"},
      {"pipes", "schedule", R"("schedule": 40)", 4, ".schedule", "\"schedule\": \"40\""},
      {"pipes", "", R"("wall_kind": "average")", 7, ".wall_kind", "nominal, minimum"},
      {"solids", "", R"("family": "steel")", 6, ".family", "must be one of: metal, plastic"},
      {"solids", "", R"("confidence": "sure")", 6, ".confidence", "must be one of: published"},
      {"solids", "", R"("names": [7])", 6, ".names", "is a bare number where a text is needed"},
      {"solids", "", R"("names": [" "])", 6, ".names", "empty name"},
      {"solids", "", R"("source": null)", 6, ".source", "leave the key out"},
      {"liquids", "points", R"("points": { "temperature": "20 degC" })", 4, ".points", "is an object where a list is needed"},
      {"liquids", "points", R"("points": [ 1400 ])", 4, ".points[0]", "where an object is needed"},
      {"liquids", "points", R"("points": [ { "temperature": "20 degC", "sound_speed": "1400 m/s", "sped": 1 } ])", 4, ".points[0].sped", "known here: temperature, pressure"},
      {"sensors", "frequency", R"("frequency": { "one_of": ["1 MHz", "2 MHz"] })", 3, ".frequency", "one value"},
      {"pipes", "wall", R"("wall": { "between": ["6 mm", "7 mm"] })", 6, ".wall", "one value"},

      // units
      {"sensors", "frequency", R"("frequency": "1")", 3, ".frequency", "no unit"},
      {"solids", "longitudinal", R"("longitudinal": 5900)", 4, ".longitudinal", "has no unit; write it as a text with its unit, for instance \"5920 m/s\""},
      {"liquids", "points", R"("points": [ { "temperature": "20 degC", "sound_speed": "1400" } ])", 4, ".points[0].sound_speed", "no unit"},
      {"liquids", "points", R"("points": [ { "temperature": "20 degC", "concentration": "30 % vol", "sound_speed": "1400 m/s" } ])", 4, ".points[0].concentration", "% mass"},
      {"liquids", "points", R"("points": [ { "temperature": "20 degC", "pressure": "1 bar", "sound_speed": "1400 m/s" } ])", 4, ".points[0].pressure", "gauge or absolute"},
      {"lines", "slope", R"("slope": "-3 m/s")", 6, ".slope", "m/s/K"},
      {"pipes", "wall", R"("wall": "6.8 kg")", 6, ".wall", "unknown unit \"kg\""},
      {"pipes", "wall", R"("wall": "7,110 mm")", 6, ".wall", "7.11"},
      {"couplants", "temperature", R"("temperature": ["0", "60 degC"])", 4, ".temperature[0]", "no unit"},
      {"couplants", "temperature", R"("temperature": ["0 degC"])", 4, ".temperature", "list of two"},
      {"fittings", "upstream", R"("upstream": "2 m")", 4, ".upstream", "D"},

      // numbers that can't be meant
      {"sensors", "frequency", R"("frequency": "1 Hz")", 3, ".frequency", "\"1 Hz\" is out of all reason (1 kHz to 1 GHz); check the number and its unit"},
      {"sensors", "setback", R"("setback": "10 km")", 4, ".setback", "1 um to 100 m"},
      {"solids", "longitudinal", R"("longitudinal": "5.9 m/s")", 4, ".longitudinal", "100 m/s to 20000 m/s"},
      {"solids", "", R"("density": "7.85 kg/m3")", 6, ".density", "10 kg/m3 to 25000 kg/m3"},
      {"solids", "longitudinal", R"("longitudinal": "5900 m/s +- 90000 m/s")", 4, ".longitudinal", "tolerance greater than itself"},
      {"solids", "longitudinal", R"("longitudinal": "-5900 m/s")", 4, ".longitudinal", "below zero"},
      {"liquids", "points", R"("points": [ { "temperature": "20000 degC", "sound_speed": "1400 m/s" } ])", 4, ".points[0].temperature", "-272 degC to 2700 degC"},
      {"liquids", "points", R"("points": [ { "temperature": "20 degC", "sound_speed": "14 m/s" } ])", 4, ".points[0].sound_speed", "out of all reason"},
      {"liquids", "points", R"("points": [ { "temperature": "20 degC", "sound_speed": "1400 m/s", "viscosity": "1e9 Pa s" } ])", 4, ".points[0].viscosity", "out of all reason"},
      {"liquids", "points", R"("points": [ { "temperature": "20 degC", "concentration": "130 % mass", "sound_speed": "1400 m/s" } ])", 4, ".points[0].concentration", "more than the whole"},
      {"liquids", "points", R"("points": [ { "temperature": "20 degC", "pressure": "-1.2 bar gauge", "sound_speed": "1400 m/s" } ])", 4, ".points[0].pressure", "gauge or absolute?"},
      {"lines", "slope", R"("slope": "-300 m/s/K")", 6, ".slope", "up to 100 m/s/K"},
      {"lines", "slope", R"("slope": "-60 m/s/K")", 6, ".slope", "leads to"},
      {"couplants", "temperature", R"("temperature": ["0 degC", "6000 degC"])", 4, ".temperature", "out of all reason"},
      {"fittings", "upstream", R"("upstream": "0.01 D")", 4, ".upstream", "0.1 D to 1000 D"},
      {"pipes", "wall", R"("wall": "6.8 km")", 6, ".wall", "1 um to 100 m"},
      {"fittings", "upstream", R"("upstream": "20000 D")", 4, ".upstream", "0.1 D to 1000 D"},
      {"pipes", "outside_diameter", R"("outside_diameter": "168.3 km")", 5, ".outside_diameter", "1 um to 100 m"},

      // what does not go together
      {"sensors", "wedge", R"("wedge": { "sound_speed": "2400 m/s", "angle": "95 deg" })", 5, ".wedge.angle", "0 and 90 degrees"},
      {"sensors", "", R"("temperature": ["90 degC", "-20 degC"])", 6, ".temperature", "lower one first: [\"-20 degC\", \"110 degC\"]"},
      {"sensors", "", "\"nose\": \"16 mm\",\n\"length\": \"12 mm\"", 7, ".length", "less than the nose"},
      {"solids", "", R"("at": "60 degC")", 6, ".at", "20 degC"},
      {"solids", "shear", R"("shear": "5800 m/s")", 5, ".shear", "exchanged"},
      {"liquids", "", R"("slope": "-3 m/s/K")", 5, ".slope", "belongs to a row without points"},
      {"liquids", "", R"("density": "870 kg/m3")", 5, ".density", "belongs to a row without points"},
      {"liquids", "points", R"("points": [ { "temperature": "20 degC", "sound_speed": "1400 m/s", "viscosity": "40 mm2/s" } ])", 4, ".points[0].viscosity", "write the density too"},
      {"liquids", "points", R"("points": [ { "temperature": "20 degC", "sound_speed": "1400 m/s" }, { "temperature": "20 degC", "sound_speed": "1410 m/s" } ])", 4, ".points", "point at 20 degC, 1.01325 bar, 0 %: another point stands there"},
      {"liquids", "points", R"("points": [ { "temperature": "20 degC", "sound_speed": "1400 m/s" }, { "temperature": "30 degC", "concentration": "10 % mass", "sound_speed": "1410 m/s" } ])", 4, ".points", "is not known"},
      {"liquids", "", R"("boiling_point": "80 degC", "critical_pressure": "40 bar absolute")", 1, ".critical_temperature", "all three or none"},
      {"liquids", "", R"("boiling_point": "480 degC", "critical_pressure": "40 bar absolute", "critical_temperature": "300 degC")", 5, ".boiling_point", "below the critical temperature"},
      {"lines", "", R"("viscosity": "40 mm2/s")", 9, ".viscosity", "write the density too"},
      {"lines", "at", R"("at": "60 degC")", 5, ".at", "between \"from\" and \"to\""},
      {"lines", "to", R"("to": "10 degC")", 8, ".to", "above \"from\""},
      {"pipes", "wall", R"("wall": "84.2 mm")", 6, ".wall", "leaves no bore"},
      {"pipes", "wall", R"("wall": "7 mm +- 0.5 mm")", 6, ".wall", "cannot keep a tolerance"},
      {"pipes", "schedule", R"("schedule": "Sch 40")", 4, ".schedule", "write \"40\""},
      {"pipes", "standard", R"("standard": "ASME B36.10")", 1, ".material_family", "did you mean \"ASME B36.10M\"?"},
      {"pipes", "standard", R"("standard": "Works 12")", 1, ".material_family", "write \"material_family\": \"carbon steel\""},
      {"pipes", "", R"("wall_kind": "minimum")", 7, ".wall_kind", "must be \"nominal\" with ASME B36.10M"},
      {"couplants", "temperature", R"("temperature": ["60 degC", "0 degC"])", 4, ".temperature", "greater value first"},
      {"fittings", "upstream", R"("upstream": "8 D")", 4, ".upstream", "\"8 D\" is less than 10 D"},
      {"fittings", "downstream", R"("downstream": "0 D")", 5, ".downstream", "\"0 D\" is less than 5 D"},
      {"fittings", "", R"("bend": true, "mark_only": true)", 6, ".mark_only", "keep one"},
  }));
  // clang-format on
  const std::string text = file_of(row.kind, row_with(row.kind, row.key, row.instead));
  CAPTURE(text);
  Catalogue catalogue;
  const auto problems = read_catalogue(text, catalogue);
  for (const Problem& one : problems) UNSCOPED_INFO(one.key << ": " << one.message);
  REQUIRE(problems.size() == 1);
  CHECK(problems[0].place.line == row.line);
  const std::string kind = std::string(row.kind) == "lines" ? "liquids" : row.kind;
  CHECK(problems[0].key == kind + "[0]" + row.where);
  CHECK_THAT(problems[0].message, Contains(row.message));
  CHECK(user_rows(catalogue) == 0);
}

TEST_CASE("catalogue file: a standard with least walls takes least walls only") {
  // data/pipe_standards.csv: the tables of ISO 4427-2 give the least wall.
  const auto standards = built_in_pipe_standards();
  const auto least = std::ranges::find_if(
      standards, [](const auto& one) { return one.wall_rule != WallRule::nominal; });
  REQUIRE(least != standards.end());
  const std::string row = "{ \"standard\": \"" + std::string(least->standard) +
                          "\", \"designation\": \"115\", \"outside_diameter\": \"115 mm\", "
                          "\"wall\": \"10.5 mm\"";
  const auto problems = problems_of(file_of("pipes", row + " }"));
  REQUIRE(problems.size() == 1);
  CHECK(problems[0].key == "pipes[0].wall_kind");
  CHECK_THAT(problems[0].message, Contains("must be \"minimum\""));
  Catalogue catalogue;
  good(file_of("pipes", row + ", \"wall_kind\": \"minimum\" }"), catalogue);
}

TEST_CASE("catalogue file: mistakes of the file as a whole") {
  struct Row {
    const char* text;
    int line;
    const char* key;
    const char* message;
  };
  const auto row = GENERATE(values<Row>({
      {"", 0, "", "is empty"},
      {"[]", 1, "", "must hold one object"},
      {"{\n\"sensors\": {}}", 2, "sensors", "must be a list of objects; write \"sensors\": [ {"},
      {"{\n\n\"fittings\": 7}", 3, "fittings", "list"},
      {"{\"sensors\": [\n5]}", 2, "sensors[0]", "object"},
      {"{\"pipes\": [\nnull]}", 2, "pipes[0]", "object"},
      {"{\"senors\": []}", 1, "senors", "did you mean \"sensors\"?"},
      {"{\"materials\": []}", 1, "materials",
       "kinds are sensors, solids, liquids, pipes, couplants, fittings"},
      {"{\"pipes\": [],\n\"pipes\": []}", 2, "pipes", "twice"},
      {"{\"pipes\": [}", 1, "", "JSON"},
  }));
  CAPTURE(row.text);
  const auto problems = problems_of(row.text);
  for (const Problem& one : problems) UNSCOPED_INFO(one.key << ": " << one.message);
  REQUIRE(problems.size() == 1);
  CHECK(problems[0].place.line == row.line);
  CHECK(problems[0].key == row.key);
  CHECK_THAT(problems[0].message, Contains(row.message));
}

TEST_CASE("catalogue file: one file has one row for a key or name") {
  struct Row {
    const char* text;
    const char* key;
    const char* message;
  };
  const auto row = GENERATE(values<Row>({
      {R"({ "couplants": [ { "key": "Site Paste", "name": "A", "temperature": ["0 degC", "60 degC"] },
 { "key": "site-paste", "name": "B", "temperature": ["0 degC", "60 degC"] } ] })",
       "couplants[1].key", "\"site-paste\" stands for couplants[0] (line 1) already"},
      {R"({ "solids": [ { "key": "a", "name": "A", "longitudinal": "5900 m/s" },
 { "key": "b", "name": "B", "names": ["c", "A"], "longitudinal": "5900 m/s" } ] })",
       "solids[1].names", "\"A\" stands for solids[0]"},
      {R"({ "liquids": [ { "key": "a", "name": "A", "names": ["x"], "points": [ { "temperature": "20 degC", "sound_speed": "1400 m/s" } ] },
 { "key": "b", "name": "B", "names": "X", "points": [ { "temperature": "20 degC", "sound_speed": "1400 m/s" } ] } ] })",
       "liquids[1].names", "\"X\" stands for liquids[0]"},
      {R"({ "pipes": [ { "standard": "ASME B36.10M", "designation": "NPS 6", "schedule": "37", "outside_diameter": "168.3 mm", "wall": "6.8 mm" },
 { "standard": "asme b36.10m", "designation": "nps-6", "schedule": "37", "outside_diameter": "168.3 mm", "wall": "6.9 mm" } ] })",
       "pipes[1].designation", "pipes[0] (line 1) already"},
      {R"({ "pipes": [ { "standard": "W", "designation": "80", "outside_diameter": "88.9 mm", "wall": "4 mm", "material_family": "PE" },
 { "standard": "W", "designation": "80", "outside_diameter": "88.9 mm", "wall": "0.4 cm", "material_family": "PE" } ] })",
       "pipes[1].designation", "\"W 80 x 0.4 cm\" stands for pipes[0]"},
  }));
  CAPTURE(row.text);
  Catalogue catalogue;
  const auto problems = read_catalogue(row.text, catalogue);
  for (const Problem& one : problems) UNSCOPED_INFO(one.key << ": " << one.message);
  REQUIRE(problems.size() == 1);
  CHECK(problems[0].place.line == 2);
  CHECK(problems[0].key == row.key);
  CHECK_THAT(problems[0].message, Contains(row.message));
  // Kinds are apart, and a row may name itself.
  Catalogue apart;
  good(R"({ "couplants": [ { "key": "x", "name": "A", "temperature": ["0 degC", "60 degC"] } ],
            "solids": [ { "key": "x", "name": "X", "names": ["X"], "longitudinal": "5900 m/s" } ] })",
       apart);
}

TEST_CASE("catalogue file: all mistakes in one run, in the order of the file; good rows stay") {
  const std::string text =
      "{ \"solids\": [\n"
      "{ \"key\": \"a\", \"names\": [\"half\"], \"longitudinal\": \"5900\", \"sheer\": 1 },\n"
      "{ \"key\": \"b\", \"name\": \"B\", \"longitudinal\": \"5900 m/s\" } ],\n"
      "\"sensors\": [ " +
      std::string(pair_row) +
      " ],\n"
      "\"fittings\": [\n"
      "{ \"key\": \"f\", \"name\": \"F\", \"upstream\": \"5 D\", \"downstream\": \"2 D\" } ],\n"
      "\"liquids\": [\n"
      "{ \"key\": \"l\", \"name\": \"L\", \"names\": [\"half liquid\"], \"points\": [\n"
      "{ \"temperature\": \"20 degC\", \"sound_speed\": \"1400 m/s\" },\n"
      "{ \"temperature\": \"20\", \"sound_speed\": \"1 m/s\" } ] } ],\n"
      "\"other\": 1 }";
  Catalogue catalogue;
  const auto problems = read_catalogue(text, catalogue);
  std::vector<std::string> keys;
  std::vector<int> lines;
  for (const Problem& one : problems) {
    keys.push_back(one.key);
    lines.push_back(one.place.line);
  }
  CHECK(keys == std::vector<std::string>{"solids[0].longitudinal", "solids[0].sheer",
                                         "solids[0].name", "fittings[0].upstream",
                                         "fittings[0].downstream",
                                         "liquids[0].points[1].temperature",
                                         "liquids[0].points[1].sound_speed", "other"});
  CHECK(std::ranges::is_sorted(lines));

  // Nothing of a row with a mistake is there: no record, no points, no name.
  CHECK(catalogue.user_sensor_pairs().size() == 1);
  CHECK(catalogue.user_solids().size() == 1);
  CHECK(user_rows(catalogue) == 2);
  CHECK(catalogue.solid("half").record == nullptr);
  CHECK(catalogue.liquid("half liquid").record == nullptr);
  CHECK(catalogue.liquid_points("l").empty());
}

TEST_CASE("catalogue file: hostile files are refused in bounded time, in printable lines") {
  const auto check = [](const std::vector<Problem>& problems) {
    REQUIRE_FALSE(problems.empty());
    for (const Problem& one : problems) {
      for (const std::string& text : {one.key, one.message}) {
        CHECK(std::ranges::none_of(
            text, [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7f; }));
      }
    }
  };
  check(problems_of(std::string(100000, '[')));
  check(problems_of("{ \"pipes\": [ { \"wall\": 1e999 } ] }"));
  check(problems_of("{ \"\\u001b[31m\": [] }"));
  check(problems_of(
      "{ \"solids\": [ { \"\\u001b\": 1, \"family\": \"\\n\", \"key\": \"\\u0007\" } ] }"));
  check(problems_of(R"({ "pipes": [ { "standard": "\u001b[2J", "designation": "\n" } ] })"));
  check(problems_of(std::string("{ \"pipes\": [ ] }").insert(3, 1, '\0')));

  std::string many = "{ \"fittings\": [ {}";
  for (int i = 0; i < 5000; ++i) many += ",{}";
  // 4 mistakes a row: after 251 rows there are more than 1000.
  const auto most = problems_of(many + "] }");
  CHECK(most.size() == 4 * 251 + 1);
  CHECK_THAT(most.back().message, Contains("mend those first"));

  // A grid that no memory holds, and one with more points than any table has.
  std::string diagonal, crowd;
  for (int i = 1; i <= 900; ++i) {
    const std::string at = "{ \"temperature\": \"" + std::to_string(i) + " degC\", ";
    const std::string speed = "\"sound_speed\": \"1400 m/s\" }";
    if (i > 1) diagonal += ",";
    diagonal += at + "\"pressure\": \"" + std::to_string(i) +
                " bar absolute\", \"concentration\": \"" + std::to_string(i * 0.1) + " % mass\", " +
                speed;
    crowd += at + speed + "," + "{ \"temperature\": \"" + std::to_string(1000 + i) + " degC\", " +
             speed + (i < 900 ? "," : "");
  }
  const auto liquid = [](const std::string& points) {
    return "{ \"liquids\": [ { \"key\": \"a\", \"name\": \"A\", \"points\": [" + points + "] } ] }";
  };
  const auto grid = problems_of(liquid(diagonal));
  REQUIRE(grid.size() == 1);
  CHECK_THAT(grid[0].message, Contains("grid"));
  const auto points = problems_of(liquid(crowd));
  REQUIRE(points.size() == 1);
  CHECK_THAT(points[0].message, Contains("1000 points"));

  // Many rows are found by their keys, not by going through all.
  std::string rows = "{ \"solids\": [";
  for (int i = 0; i < 20000; ++i) {
    rows += std::string(i ? "," : "") + "{\"key\":\"k" + std::to_string(i) +
            "\",\"name\":\"n\",\"longitudinal\":\"5900 m/s\"}";
  }
  Catalogue catalogue;
  good(rows + "] }", catalogue);
  CHECK(catalogue.user_solids().size() == 20000);
  CHECK(catalogue.solid("k19999").record != nullptr);
}

// ---------------------------------------------------------------- the table of keys

TEST_CASE("catalogue keys: words stand in the order of what they stand for") {
  for (std::size_t i = 0; i < key_words::family.size(); ++i) {
    CHECK(key_words::family[i] == solid_family_name(static_cast<SolidFamily>(i)));
  }
  for (std::size_t i = 0; i < key_words::confidence.size(); ++i) {
    CHECK(key_words::confidence[i] == confidence_name(static_cast<Confidence>(i)));
  }
  CHECK(solid_family_name(static_cast<SolidFamily>(key_words::family.size())).empty());
  CHECK(confidence_name(static_cast<Confidence>(key_words::confidence.size())).empty());
}

TEST_CASE("catalogue keys: no key twice, each with help and an example that its row takes") {
  std::set<std::string> seen;
  const CatalogueRequest all = catalogue_with_every_key();
  visit_all_keys(all, "", [&](const std::string& path, const KeyInfo& info, const auto&) {
    CAPTURE(path);
    CHECK(seen.insert(path).second);
    CHECK(info.help.size() > 3);
    CHECK_FALSE(info.example.empty());
    CHECK_FALSE((info.required && !info.default_text.empty()));
    // Keys of a row itself; the examples of the lists leave things out.
    const std::size_t end = path.find("[0].");
    const std::string kind = path.substr(0, std::min(end, path.size()));
    if (end == path.npos || path.find('.', end + 4) != path.npos) return;
    std::string base = kind;
    for (const char* key : {"sound_speed", "at", "slope", "from", "to", "density", "viscosity"}) {
      if (kind == "liquids" && info.key == key) base = "lines";
    }
    const std::string line = "\"" + std::string(info.key) + "\": " + std::string(info.example);
    const auto problems = problems_of(file_of(base, row_with(base, std::string(info.key), line)));
    for (const Problem& one : problems) {
      INFO(one.key << ": " << one.message);
      // What has to stand beside it in the same row.
      const bool alone = one.message.find("all three or none") != std::string::npos;
      CHECK(alone);
    }
  });
  for (const char* key : {"sensors[0].source", "solids[0].names", "liquids[0].points[0].pressure",
                          "pipes[0].wall_kind", "couplants[0].lasts", "fittings[0].mark_only"}) {
    CHECK(seen.count(key) == 1);
  }
}
