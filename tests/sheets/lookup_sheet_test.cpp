// What look-ups find and how they show it. Sizes, walls and speeds are copied from the standards
// and lists named beside them; bores, girths and per cents follow from them by hand.

#include "slantrule/sheets/lookup_sheet.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <nlohmann/json.hpp>
#include <numbers>
#include <set>
#include <string>
#include <vector>

#include "slantrule/catalogue/pipe_standards.hpp"
#include "slantrule/sheets/text_layout.hpp"

using namespace slantrule;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;
using Catch::Matchers::WithinAbs;
using Json = nlohmann::json;

namespace {

constexpr Display metric;
constexpr Display us{.units = UnitSystem::us};

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = std::min(text.find('\n', at), text.size());
    lines.push_back(text.substr(at, end - at));
    at = end + 1;
  }
  return lines;
}

/// Holds for every sheet: 80 columns and no control characters; JSON is one ASCII line, no nulls.
template <class Found>
void check_sheets(const Found& lookup) {
  for (const Display& display : {metric, us}) {
    const std::string text = text_sheet(lookup, display);
    CHECK(text.empty() == !lookup.found());
    for (const std::string& line : lines_of(text)) {
      CAPTURE(line);
      CHECK(columns(line) <= sheet_columns);
      CHECK(std::ranges::none_of(line, [](char c) { return c >= 0 && c < 0x20; }));
      CHECK_THAT(line, !Contains(" nan") && !Contains(" inf"));
    }
  }
  const std::string json = json_sheet(lookup);
  CHECK(std::ranges::all_of(json, [](char c) { return c >= 0x20 && c < 0x7F; }));
  const Json object = Json::parse(json);
  CHECK(json.find(":null") == std::string::npos);
  for (const char* key : {"found", "nearest", "readings"}) CHECK(object.at(key).is_array());
  CHECK(object.at("found").empty() == !lookup.found());
}

/// "EN 545 DN 150: C40, C50" for every size found under the text.
struct FoundSize {
  std::string standard, size;
  std::vector<std::string> walls;
};
std::vector<FoundSize> sizes_under(const std::string& text) {
  const Catalogue catalogue;
  std::vector<FoundSize> sizes;
  for (const PipeMeaning& meaning : find_pipes(text, catalogue).meanings) {
    for (const PipeSize& size : meaning.sizes) {
      FoundSize one{std::string(size.row().standard), std::string(size.row().designation), {}};
      for (const PipeRecord* row : size.walls) one.walls.emplace_back(row->schedule);
      sizes.push_back(one);
    }
  }
  return sizes;
}

bool has_size(const std::vector<FoundSize>& sizes, const std::string& standard,
              const std::string& size) {
  return std::ranges::any_of(
      sizes, [&](const FoundSize& one) { return one.standard == standard && one.size == size; });
}

std::set<std::string> standards_under(const std::string& text) {
  std::set<std::string> standards;
  for (const FoundSize& size : sizes_under(text)) standards.insert(size.standard);
  return standards;
}

}  // namespace

// ---------------------------------------------------------------- pipes

TEST_CASE("lookup: a designation finds its row, with the bore that is planned with") {
  struct Row {
    const char* source;
    const char* text;
    const char* standard;
    double outside_mm, wall_mm, mean_wall_mm;
  };
  // Mean walls by the rules of mean_wall_mm.
  const auto row = GENERATE(values<Row>({
      {"ASME B36.10M", "NPS 6 sch 40", "ASME B36.10M", 168.3, 7.11, 7.11},
      {"ASME B36.10M", "6\" STD", "ASME B36.10M", 168.3, 7.11, 7.11},
      {"ASME B36.10M", "schedule 40, DN150", "ASME B36.10M", 168.3, 7.11, 7.11},
      {"ASME B36.19M", "NPS 6 Sch. 40S", "ASME B36.19M", 168.3, 7.11, 7.11},
      // ISO 4427-2: e_min 10.0; 1.05 * 10.0 + 0.05
      {"ISO 4427-2", "PE 110 SDR 11", "ISO 4427", 110, 10.0, 10.55},
      {"ISO 4427-2", "SDR11 110 mm HDPE", "ISO 4427", 110, 10.0, 10.55},
      {"ISO 4427-2", "PE100 OD 110 SDR 11", "ISO 4427", 110, 10.0, 10.55},
      // EN 545:2010: e_min 3.0, nominal e_min + 1.3
      {"EN 545", "EN 545 DN 150 C40", "EN 545", 170, 3.0, 4.3},
      {"EN 545", "ductile iron dn150 c 40", "EN 545", 170, 3.0, 4.3},
      // AWWA C900: 9.05 in outside, 9.05 / 18 = 0.503 in; 12.78 + 0.06 * 12.78
      {"AWWA C900", "C900 NPS 8 DR 18", "AWWA C900", 229.9, 12.78, 13.5468},
  }));
  CAPTURE(row.source, row.text);
  const Catalogue catalogue;
  const PipeLookup lookup = find_pipes(row.text, catalogue);
  check_sheets(lookup);
  REQUIRE(lookup.meanings.size() == 1);
  const auto& sizes = lookup.meanings[0].sizes;
  const auto size = std::ranges::find_if(
      sizes, [&](const PipeSize& one) { return one.row().standard == row.standard; });
  REQUIRE(size != sizes.end());
  REQUIRE(size->walls.size() == 1);
  CHECK(size->row().outside_diameter_mm == row.outside_mm);
  CHECK(size->row().wall_mm == row.wall_mm);
  CHECK_THAT(size->largest_bore_mm(), WithinAbs(row.outside_mm - 2 * row.mean_wall_mm, 1e-9));
  CHECK(size->largest_bore_mm() == size->smallest_bore_mm());
}

TEST_CASE("lookup: every row is found under its own standard, size and wall") {
  const Catalogue catalogue;
  const auto rows = built_in_pipes();
  for (std::size_t i = 0; i < rows.size(); i += 17) {
    const PipeRecord& row = rows[i];
    const std::string text = std::string(row.standard) + " " + std::string(row.designation) + " " +
                             std::string(row.schedule);
    CAPTURE(text);
    const PipeLookup lookup = find_pipes(text, catalogue);
    REQUIRE(lookup.meanings.size() == 1);
    REQUIRE(lookup.meanings[0].sizes.size() == 1);
    const auto& walls = lookup.meanings[0].sizes[0].walls;
    CHECK(std::ranges::find(walls, &row) != walls.end());
    for (const PipeRecord* wall : walls) {
      CHECK(wall->standard == row.standard);
      CHECK(wall->designation == row.designation);
      if (!row.schedule.empty()) CHECK(wall->schedule == row.schedule);
    }
  }
}

TEST_CASE(
    "lookup: a nominal size finds every standard that uses it, a standard or material all its "
    "sizes") {
  // NPS 6 is 168.3 mm of steel and 6.90 in of ductile iron: which one it is, is the question.
  const auto six = sizes_under("NPS 6");
  CHECK(has_size(six, "ASME B36.10M", "NPS 6"));
  CHECK(has_size(six, "ASTM D1785", "NPS 6"));
  CHECK(has_size(six, "AWWA C151", "6 in"));
  CHECK(has_size(six, "ASTM B88", "size 6"));
  CHECK(has_size(sizes_under("DN 150"), "EN 545", "DN 150"));
  CHECK(has_size(sizes_under("NPS 1\xC2\xBD"), "ASME B36.10M", "NPS 1-1/2"));

  CHECK(standards_under("EN 545") == std::set<std::string>{"EN 545"});
  CHECK(standards_under("b36.19") == std::set<std::string>{"ASME B36.19M"});
  CHECK(standards_under("C900") == std::set<std::string>{"AWWA C900"});
  CHECK(standards_under("ductile iron") ==
        std::set<std::string>{"AWWA C151", "EN 545", "ISO 2531"});
  CHECK(standards_under("PEHD") == std::set<std::string>{"ASTM F714", "ISO 4427"});
  CHECK(standards_under("mild steel DN 65") ==
        std::set<std::string>{"ASME B36.10M", "EN 10220", "EN 10255", "JIS G 3452", "JIS G 3454"});
}

TEST_CASE("lookup: a girth or diameter finds what fits, nearest first") {
  struct Row {
    const char* what;
    const char* text;
    double diameter_mm;
    const char* first;
  };
  const auto row = GENERATE(values<Row>({
      // 9.05 in is the outside diameter of 8 inch ductile iron and C900 pipe: 229.87 mm.
      {"721 / pi", "girth 721 mm", 229.501, "AWWA C151"},
      {"28.4 in / pi", "28.4 in girth", 229.616, "AWWA C151"},
      {"the word behind", "721 mm circumference", 229.501, "AWWA C151"},
      {"signs between", "girth = 721 +- 2 mm", 229.501, "AWWA C151"},
      {"9.05 in", "OD 9.05 in", 229.87, "AWWA C151"},
      {"as written", "168.3 mm", 168.3, "ASME B36.10M"},
      {"the word written out", "outside diameter 168.3 mm", 168.3, "ASME B36.10M"},
      {"a material beside it", "PVC girth 721 mm", 229.501, "AWWA C900"},
      {"a standard beside it", "EN 545 OD 9.05 in", 229.87, nullptr},
  }));
  CAPTURE(row.what, row.text);
  const Catalogue catalogue;
  const PipeLookup lookup = find_pipes(row.text, catalogue);
  check_sheets(lookup);
  REQUIRE(lookup.meanings.size() == 1);
  const PipeMeaning& meaning = lookup.meanings[0];
  REQUIRE(meaning.outside_diameter_m);
  CHECK_THAT(*meaning.outside_diameter_m * 1000, WithinAbs(row.diameter_mm, 5e-4));
  CHECK(meaning.fits == (row.first != nullptr));
  REQUIRE(!meaning.sizes.empty());
  if (row.first) CHECK(meaning.sizes[0].row().standard == row.first);
}

TEST_CASE("lookup: what fits is within 1.5 %, what doesn't fit is not rounded to") {
  const Catalogue catalogue;
  double diameter_mm = 9;
  int misfits = 0;
  while (diameter_mm < 2500) {
    diameter_mm *= 1.0371;
    CAPTURE(diameter_mm);
    const PipeLookup lookup = find_pipes("OD " + std::to_string(diameter_mm) + " mm", catalogue);
    REQUIRE(lookup.meanings.size() == 1);
    const PipeMeaning& meaning = lookup.meanings[0];
    double nearest = 1e9, below_mm = 0, above_mm = 1e9;
    for (const PipeRecord& row : built_in_pipes()) {
      const double size_mm = row.outside_diameter_mm;
      nearest = std::min(nearest, std::fabs(size_mm / diameter_mm - 1));
      if (size_mm < diameter_mm) below_mm = std::max(below_mm, size_mm);
      if (size_mm > diameter_mm) above_mm = std::min(above_mm, size_mm);
    }
    CHECK(meaning.fits == (nearest <= 0.015));
    double last = 0;
    for (const PipeSize& size : meaning.sizes) {
      const double size_mm = size.row().outside_diameter_mm;
      const double off = std::fabs(size_mm / diameter_mm - 1);
      if (meaning.fits) {
        CHECK(off <= 0.015);
        CHECK(off >= last - 1e-12);
        last = off;
      } else {
        ++misfits;
        CHECK((size_mm == below_mm || size_mm == above_mm));
      }
      CHECK(size.smallest_bore_mm() <= size.largest_bore_mm());
    }
    if (!meaning.fits) {
      CHECK_THAT(text_sheet(lookup, metric), Contains("NO standard size is within 1.5 %"));
    }
  }
  CHECK(misfits > 0);
}

TEST_CASE("lookup: a diameter with a wall names the nearest wall of each size") {
  const Catalogue catalogue;
  const PipeLookup lookup = find_pipes("168.3 x 10.5 mm", catalogue);
  check_sheets(lookup);
  // ASME B36.10M: 7.11 mm is schedule 40, 10.97 mm schedule 80.
  CHECK_THAT(text_sheet(lookup, metric), Contains("ASME B36.10M NPS 6, sch 80 10.97"));
}

TEST_CASE("lookup: an ambiguous size shows each of its meanings apart") {
  const Catalogue catalogue;
  const PipeLookup lookup = find_pipes("4\"", catalogue);
  check_sheets(lookup);
  REQUIRE(lookup.meanings.size() == 2);
  CHECK(lookup.readings.size() == 2);
  // NPS 4 is 114.3 mm outside; 4 in are 101.6 mm, which is NPS 3-1/2 (ASME B36.10M).
  CHECK(lookup.meanings[0].sizes[0].row().outside_diameter_mm == 114.3);
  REQUIRE(lookup.meanings[1].outside_diameter_m);
  CHECK(*lookup.meanings[1].outside_diameter_m == 0.1016);
  CHECK(has_size(sizes_under("4\""), "ASME B36.10M", "NPS 3-1/2"));
  const std::string text = text_sheet(lookup, metric);
  CHECK_THAT(text, Contains("IF IT IS NPS 4\n") && Contains("IF IT IS OD 4 in\n"));
}

TEST_CASE("lookup: what no table has is said, with the nearest that they do have") {
  struct Row {
    const char* text;
    std::vector<std::string> nearest;
    const char* message;
  };
  const auto row = GENERATE(values<Row>({
      // EN 545 has no DN 175: its sizes are 125, 150, 200.
      {"EN 545 DN 175", {"EN 545 DN 150", "EN 545 DN 200"}, "\"DN 175\""},
      // ASME B36.10M NPS 6: 5, 10, 40, 80, 120, 160.
      {"NPS 6 sch 41", {"NPS 6 sch 40", "NPS 6 sch 80"}, "\"sch 41\""},
      {"EN 5454", {"EN 545"}, "EN 545"},
      {"cast iron", {}, "no standard sizes of cast iron"},
      {"girth 721", {}, "has no unit"},
      {"girth wide", {}, "girth wide"},
      {"110", {}, "has no unit"},
      {"EN 545 PE", {}, "\"PE\""},
      {"gibberish", {}, "gibberish"},
  }));
  CAPTURE(row.text);
  const Catalogue catalogue;
  const PipeLookup lookup = find_pipes(row.text, catalogue);
  check_sheets(lookup);
  CHECK_FALSE(lookup.found());
  CHECK_THAT(lookup.message, Contains(row.message));
  for (const std::string& name : row.nearest) {
    CAPTURE(name);
    CHECK(std::ranges::find(lookup.nearest, name) != lookup.nearest.end());
    // What is suggested can be looked up.
    CHECK(find_pipes(name, catalogue).found());
  }
}

TEST_CASE("lookup: the sheet of pipes says what a wall is, and where it comes from") {
  const Catalogue catalogue;
  const std::string plastic = text_sheet(find_pipes("PE 110 SDR 11", catalogue), metric);
  CHECK_THAT(plastic, Contains(">= 10.00") && Contains("10.55") && Contains("88.90"));
  CHECK_THAT(plastic, Contains(">= marks a least wall") && Contains("ISO 4427-2 web tables"));
  // 168.3 - 2 * 7.11 = 154.08 mm = 6.066 in (handbooks: 6.065 in, from 6.625 - 2 * 0.280).
  const PipeLookup steel = find_pipes("NPS 6 sch 40 carbon steel", catalogue);
  CHECK_THAT(text_sheet(steel, metric), Contains("154.08") && !Contains(">="));
  CHECK_THAT(text_sheet(steel, us),
             Contains("6.066") && Contains("0.280") && Contains("in inches"));
  CHECK_THAT(text_sheet(steel, metric), Contains("-12.5 %"));

  const Json json = Json::parse(json_sheet(steel));
  const Json& wall = json.at("found").at(0).at("walls").at(0);
  CHECK(wall.at("wall_mm") == 7.11);
  CHECK(wall.at("designation") == "NPS 6 sch 40");
  CHECK(json.at("found").at(0).at("dn") == 150);
  CHECK(json.at("standards").at(0).at("standard") == "ASME B36.10M");
}

TEST_CASE("lookup: usual linings go with the standard of the pipe") {
  const Catalogue catalogue;
  const auto linings = [&](const char* text) {
    std::vector<std::string> names;
    const Json json = Json::parse(json_sheet(find_pipes(text, catalogue)));
    for (const Json& one : json.at("linings")) {
      names.push_back(one.at("standard").get<std::string>());
    }
    return names;
  };
  CHECK(linings("EN 545 DN 150") == std::vector<std::string>{"EN 545"});
  CHECK(linings("AWWA C151 NPS 8") == std::vector<std::string>{"AWWA C104", "AWWA C104"});
  CHECK(linings("EN 10220 DN 150") == std::vector<std::string>{"AWWA C205"});
  CHECK(linings("PE 110 SDR 11").empty());
  // EN 545: 4 mm up to DN 300.
  CHECK_THAT(text_sheet(find_pipes("EN 545 DN 150", catalogue), metric), Contains("4.00 mm"));
}

TEST_CASE("lookup: the list of standards counts sizes and walls") {
  const Catalogue catalogue;
  for (const std::string& line : lines_of(pipe_standards_text(catalogue, metric))) {
    CHECK(columns(line) <= sheet_columns);
  }
  const Json json = Json::parse(pipe_standards_json(catalogue));
  std::size_t walls = 0;
  for (const Json& one : json.at("found")) {
    walls += one.at("walls").get<std::size_t>();
    CHECK(one.at("sizes") <= one.at("walls"));
    CHECK(one.at("sizes") > 0);
  }
  CHECK(walls == built_in_pipes().size());
  CHECK(json.at("found").size() == built_in_pipe_standards().size());
}

// ---------------------------------------------------------------- solids

TEST_CASE("lookup: a solid comes with evidence and spread") {
  const Catalogue catalogue;
  const SolidLookup lookup = find_solids("mild steel", catalogue);
  check_sheets(lookup);
  REQUIRE(lookup.meanings.size() == 1);
  const SolidMeaning& steel = lookup.meanings[0];
  CHECK(steel.row->key == "carbon_steel");
  CHECK(steel.row->longitudinal_m_s == 5910);
  // Slowest: steel 4340, 5860 m/s (Ono 2020); fastest: mild steel, 5960 m/s (CRC/AIP).
  const auto longitudinal = longitudinal_spread(steel);
  REQUIRE(longitudinal);
  CHECK(longitudinal->least_m_s == 5860);
  CHECK(longitudinal->greatest_m_s == 5960);
  // Shear: 3160 m/s (steel 4340) to 3240 m/s (steel with 0.4 % carbon).
  const auto shear = shear_spread(steel);
  REQUIRE(shear);
  CHECK(shear->least_m_s == 3160);
  CHECK(shear->greatest_m_s == 3240);
  // 50 / 5910 = 0.85 %: 0.8 either way.
  CHECK_THAT(text_sheet(lookup, metric),
             Contains("5860 to 5960 m/s, -0.8 % to +0.8 % from 5910, 9 rows"));
  const Json json = Json::parse(json_sheet(lookup)).at("found").at(0);
  CHECK(json.at("least_longitudinal_m_s") == 5860);
  CHECK_THAT(json.at("least_longitudinal_percent").get<double>(),
             WithinAbs(-100 * 50 / 5910.0, 1e-9));
  CHECK(json.at("evidence").size() == 8);
  for (const Json& row : json.at("evidence")) CHECK(!row.at("source").get<std::string>().empty());
}

TEST_CASE("lookup: a row that is not to be used is marked, and not counted") {
  const Catalogue catalogue;
  const SolidLookup pvc = find_solids("PVC", catalogue);
  check_sheets(pvc);
  // PVC from static moduli: 2065 m/s, 12 % low. The slowest usable row: 2258 m/s (sheet,
  // pulse-echo).
  const auto spread = longitudinal_spread(pvc.meanings.at(0));
  REQUIRE(spread);
  CHECK(spread->least_m_s == 2258);
  const std::string text = text_sheet(pvc, metric);
  CHECK_THAT(text, Contains("pvc_u_static") && Contains("DO NOT USE"));

  const SolidLookup itself = find_solids("pvc_u_static", catalogue);
  check_sheets(itself);
  REQUIRE(itself.found());
  CHECK_THAT(text_sheet(itself, metric), Contains("DO NOT USE: shows a trap"));
  CHECK(Json::parse(json_sheet(itself)).at("found").at(0).at("standing") == "do not use");
  CHECK(itself.meanings[0].recommended->key == "pvc_u");
}

TEST_CASE("lookup: shear is as uncertain as longitudinal in metals and glass, twice elsewhere") {
  struct Row {
    SolidFamily family;
    double factor;
  };
  const auto row = GENERATE(values<Row>({{SolidFamily::metal, 1},
                                         {SolidFamily::glass, 1},
                                         {SolidFamily::plastic, 2},
                                         {SolidFamily::cement, 2},
                                         {SolidFamily::coating, 2}}));
  SolidRecord solid{};
  solid.family = row.family;
  solid.longitudinal_m_s = 2000;
  solid.shear_m_s = 1000;
  solid.u_longitudinal_m_s = 60;  // 3 %
  CHECK_THAT(standard_u_shear_m_s(solid), WithinAbs(row.factor * 30, 1e-9));
  solid.u_longitudinal_m_s = absent;  // 2 % where none is stated
  CHECK_THAT(standard_u_shear_m_s(solid), WithinAbs(row.factor * 20, 1e-9));
  solid.shear_m_s = absent;
  CHECK(std::isnan(standard_u_shear_m_s(solid)));
}

TEST_CASE("lookup: evidence belongs to one plain key at most") {
  const Catalogue catalogue;
  std::set<std::string_view> seen;
  for (const SolidMeaning& meaning : find_solids("", catalogue).meanings) {
    CHECK(meaning.row->recommended);
    for (const SolidRecord* row : meaning.evidence) {
      CAPTURE(row->key);
      CHECK_THAT(std::string(row->key), StartsWith(std::string(meaning.row->key) + "_"));
      CHECK_FALSE(row->recommended);
      CHECK(seen.insert(row->key).second);
    }
  }
  CHECK(seen.size() > 50);
}

TEST_CASE("lookup: ambiguous, refused and misspelt solids") {
  const Catalogue catalogue;
  const SolidLookup both = find_solids("CS", catalogue);
  check_sheets(both);
  REQUIRE(both.meanings.size() == 2);
  CHECK(both.meanings[0].row->key == "carbon_steel");
  CHECK(both.meanings[1].row->key == "concrete");
  CHECK_THAT(both.message, Contains("carbon_steel or concrete"));

  const SolidLookup refused = find_solids("PCCP", catalogue);
  check_sheets(refused);
  CHECK_FALSE(refused.found());
  CHECK_THAT(refused.message, Contains("is refused") && Contains("wires"));

  const SolidLookup misspelt = find_solids("carbon_stel", catalogue);
  check_sheets(misspelt);
  CHECK_FALSE(misspelt.found());
  REQUIRE(!misspelt.nearest.empty());
  CHECK(misspelt.nearest[0] == "carbon_steel");
  CHECK_THAT(misspelt.message, Contains("did you mean \"carbon_steel\""));

  // Words that are no name: every recommended row that holds them.
  const SolidLookup words = find_solids("ductile", catalogue);
  check_sheets(words);
  CHECK(words.found());
}

TEST_CASE("lookup: a user's solid goes before the built-in row, which stays as evidence") {
  Catalogue catalogue;
  SolidRecord own = *catalogue.solid("copper").record;
  own.longitudinal_m_s = 4700;
  own.source = "measured on site\x1b[31m";
  catalogue.add(own);
  const SolidLookup lookup = find_solids("copper", catalogue);
  check_sheets(lookup);
  REQUIRE(lookup.meanings.size() == 1);
  CHECK(lookup.meanings[0].from_user);
  CHECK(lookup.meanings[0].row->longitudinal_m_s == 4700);
  CHECK(std::ranges::any_of(lookup.meanings[0].evidence,
                            [](const SolidRecord* row) { return row->longitudinal_m_s == 4690; }));
  CHECK_THAT(text_sheet(lookup, metric), Contains("from your own catalogue"));
}

// ---------------------------------------------------------------- liquids

namespace {

LiquidLookup liquid(const std::string& text, std::vector<double> temperatures_degC = {},
                    std::optional<double> pressure_Pa = {},
                    std::optional<double> mass_fraction = {}) {
  static const Catalogue catalogue;
  LiquidQuery query{text, {}, pressure_Pa, mass_fraction};
  for (double t : temperatures_degC) query.temperatures_K.push_back(t + 273.15);
  return find_liquids(query, catalogue);
}

const LiquidTable& only_table(const LiquidLookup& lookup) {
  REQUIRE(lookup.meanings.size() == 1);
  CAPTURE(lookup.meanings[0].why_no_table);
  REQUIRE(lookup.meanings[0].table);
  return *lookup.meanings[0].table;
}

}  // namespace

TEST_CASE("lookup: the table of water holds what the formulations print") {
  struct Row {
    double t_degC;
    double sound_speed_m_s;  // IAPWS-95, to 0.001
    double slope_m_s_K;      // derivative of Marczak 1997 (JASA 102, 2776)
    double density_kg_m3;    // IF97 saturated liquid and 1 atm tables, to 0.1
    double absorption_dB_m;  // 8.686e-3 times Pinkerton's 1949 fit in 1e-15 Np s2/m, to 0.001
  };
  const auto row = GENERATE(values<Row>({
      // 5.038813 - 2 * 0.05799136 t + 3 * 3.287156e-4 t^2 - 4 * 1.398845e-6 t^3 + 5 * 2.78786e-9
      // t^4
      {20, 1482.346, 3.0711, 998.2, 0.219},
      {40, 1528.904, 1.6549, 992.2, 0.130},
      {60, 1550.973, 0.6020, 983.2, 0.086},
  }));
  CAPTURE(row.t_degC);
  const LiquidLookup lookup = liquid("water", {row.t_degC});
  check_sheets(lookup);
  const LiquidTableRow& at = only_table(lookup).rows.at(0);
  CHECK_THAT(at.properties.sound_speed_m_s->value, WithinAbs(row.sound_speed_m_s, 0.002));
  // The two fits differ by up to 0.06 m/s, and by some 0.03 m/s/K in slope.
  CHECK_THAT(at.sound_speed_slope_m_s_K.value(), WithinAbs(row.slope_m_s_K, 0.03));
  CHECK_THAT(at.properties.density_kg_m3->value, WithinAbs(row.density_kg_m3, 0.06));
  // At 60 degC half way from Pinkerton to 3.1 times the shear part (0.090).
  CHECK_THAT(at.absorption_dB_m.value(), WithinAbs(row.absorption_dB_m, 0.005));
  CHECK(at.pressure_Pa == 101325);
  CHECK(at.in_range);
  CHECK_FALSE(at.frozen);
  CHECK_FALSE(at.boils);
}

TEST_CASE("lookup: the speed of sound in water has its maximum at 74 degC") {
  // 74.15 degC (Bilaniuk and Wong), 74.17 (Marczak), 74.13 (IAPWS SR6-08).
  const LiquidLookup lookup = liquid("water", {73.5, 75});
  const LiquidTable& table = only_table(lookup);
  CHECK(table.rows[0].sound_speed_slope_m_s_K.value() > 0);
  CHECK(table.rows[1].sound_speed_slope_m_s_K.value() < 0);
}

TEST_CASE("lookup: without temperatures a liquid is shown where it is one") {
  // At 1 atm water freezes at 0 degC and boils at 99.97 degC.
  const LiquidLookup water = liquid("water");
  const LiquidTable& table = only_table(water);
  CHECK_THAT(table.rows.front().temperature_K, WithinAbs(273.15, 0.01));
  CHECK_THAT(table.rows.back().temperature_K, WithinAbs(373.15, 0.01));
  for (const LiquidTableRow& row : table.rows) {
    CHECK_FALSE(row.boils);
    CHECK(row.in_range);
  }
  // At 5 bar it boils at 151.8 degC (IF97 steam tables; from memory).
  const LiquidLookup pressed = liquid("water", {}, 5e5);
  const double hottest_K = only_table(pressed).rows.back().temperature_K;
  CHECK(hottest_K > 273.15 + 130);
  CHECK(hottest_K < 273.15 + 151.9);
}

TEST_CASE("lookup: boiling, freezing and leaving the range are marked") {
  // Water at 120 degC boils below 1.9867 bar (IF97 steam tables; from memory).
  const LiquidLookup hot = liquid("water", {120}, 1e5);
  check_sheets(hot);
  CHECK(only_table(hot).rows[0].boils);
  CHECK_THAT(only_table(hot).rows[0].boiling_pressure_Pa.value(), WithinAbs(1.9867e5, 5));
  CHECK_THAT(text_sheet(hot, metric), Contains("120.0b") && Contains("b boils"));
  CHECK_FALSE(only_table(liquid("water", {120})).rows[0].boils);

  const LiquidLookup cold = liquid("water", {-5});
  check_sheets(cold);
  CHECK(only_table(cold).rows[0].frozen);
  CHECK_FALSE(only_table(cold).rows[0].in_range);
  CHECK_THAT(text_sheet(cold, metric), Contains("-5.0f"));

  const LiquidLookup beyond = liquid("water", {500});
  check_sheets(beyond);
  CHECK(!only_table(beyond).rows[0].refusal.empty());
  CHECK_THAT(text_sheet(beyond, metric), Contains("no answer"));
}

TEST_CASE("lookup: a solution asks for its strength, and takes it from the name or the query") {
  const LiquidLookup without = liquid("MEG");
  check_sheets(without);
  REQUIRE(without.found());
  const LiquidLookup named = liquid("30 % mass MEG", {20});
  check_sheets(named);
  CHECK_THAT(only_table(named).mass_fraction, WithinAbs(0.3, 1e-12));
  const LiquidLookup asked = liquid("ethylene_glycol_aq", {20}, {}, 0.3);
  CHECK(only_table(asked).rows[0].properties.sound_speed_m_s->value ==
        only_table(named).rows[0].properties.sound_speed_m_s->value);
  const LiquidLookup none = liquid("ethylene_glycol_aq", {20});
  REQUIRE(none.meanings.size() == 1);
  CHECK_FALSE(none.meanings[0].table);
  CHECK_THAT(none.meanings[0].why_no_table, Contains("30 % mass"));
  CHECK_FALSE(liquid("water", {20}, {}, 0.3).meanings.at(0).table);

  // The sea's salinity is known well enough: 35 g/kg, and said so.
  const LiquidLookup sea = liquid("sea water", {20});
  check_sheets(sea);
  CHECK(only_table(sea).mass_fraction == 0.035);
  CHECK(only_table(sea).strength_assumed);
  CHECK_THAT(text_sheet(sea, metric), Contains("35 g/kg, not stated"));
}

TEST_CASE("lookup: ambiguous and unknown liquids") {
  const LiquidLookup glycol = liquid("glycol");
  check_sheets(glycol);
  CHECK(glycol.readings.size() >= 2);
  CHECK(glycol.meanings.size() >= 2);
  CHECK(!glycol.message.empty());
  const LiquidLookup crude = liquid("crude oil");
  check_sheets(crude);
  REQUIRE(crude.meanings.size() == 1);
  CHECK_THAT(crude.meanings[0].why_no_table, Contains("API"));
  CHECK(only_table(liquid("crude oil 32 API", {20})).rows[0].properties.sound_speed_m_s);
  const LiquidLookup nothing = liquid("unobtainium\x1b[31m");
  check_sheets(nothing);
  CHECK_FALSE(nothing.found());
  CHECK_THAT(nothing.message, StartsWith("nothing among the liquids matches") && !Contains("\x1b"));
}

TEST_CASE("lookup: every liquid of the catalogue has a sheet") {
  const Catalogue catalogue;
  std::size_t tables = 0;
  for (const LiquidRecord& row : built_in_liquids()) {
    CAPTURE(row.key);
    LiquidQuery query;
    query.text = row.key;
    if (row.solution) query.mass_fraction = 0.1;
    const LiquidLookup lookup = find_liquids(query, catalogue);
    check_sheets(lookup);
    REQUIRE(lookup.found());
    tables += lookup.meanings[0].table.has_value();
    if (!lookup.meanings[0].table) CHECK(!lookup.meanings[0].why_no_table.empty());
  }
  CHECK(tables > 90);
}

TEST_CASE("lookup: the plot is 60 by 15, and rises where the speed does") {
  const std::string text = text_sheet(liquid("water", {0, 30, 60}), metric);
  std::vector<std::string> plot;
  bool inside = false;
  for (const std::string& line : lines_of(text)) {
    if (line == "speed of sound, m/s") inside = true;
    if (inside && line.size() > 9 && (line[9] == '|' || line[9] == '+') &&
        line.find("--") == std::string::npos) {
      plot.push_back(line.substr(10));
    }
  }
  REQUIRE(plot.size() == 15);
  std::size_t most = 0;
  for (const std::string& line : plot) most = std::max(most, line.size());
  CHECK(most == 60);
  // Water between 0 and 60 degC gets faster all the way: top right, bottom left.
  CHECK(plot.front().size() == 60);
  CHECK(plot.back().find('*') == 0);
  CHECK_THAT(text, Contains("1402.4 +*") && Contains("1551.0 +") && Contains("60.0 degC"));
}

TEST_CASE("lookup: any bytes are answered") {
  const Catalogue catalogue;
  for (const std::string& text :
       {std::string("\x1b[2J"), std::string("\xff\xfe"), std::string("a\0b", 3),
        std::string(100000, '1'), std::string("\xE2\x80\xAE 6"), std::string("girth girth"),
        std::string("OD"), std::string("   "), std::string("-"), std::string("1e999 mm"),
        std::string("OD 0 mm"), std::string("girth -3 m")}) {
    CAPTURE(text.substr(0, 20));
    const PipeLookup pipes = find_pipes(text, catalogue);
    check_sheets(pipes);
    CHECK_FALSE(pipes.found());
    CHECK_THAT(pipes.message, !Contains("\x1b") && !Contains("\n") && !Contains("\xE2\x80\xAE"));
    CHECK(pipes.message.size() < 500);
    check_sheets(find_solids(text, catalogue));
    check_sheets(liquid(text));
  }
}
