#include "slantrule/sheets/pack_sheet.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "sheets/pack_list.hpp"
#include "slantrule/sheets/text_layout.hpp"

namespace slantrule {
namespace {

using Plain = nlohmann::json;

const Display metric_ascii{UnitSystem::metric, false, false};
const Display us_ascii{UnitSystem::us, false, false};

bool has(const std::string& text, std::string_view part) {
  return text.find(part) != std::string::npos;
}

/// Cells of one CSV line, quotes undone.
std::vector<std::string> cells(const std::string& line) {
  std::vector<std::string> out(1);
  bool quoted = false;
  for (std::size_t i = 0; i < line.size(); ++i) {
    if (line[i] == '"' && quoted && i + 1 < line.size() && line[i + 1] == '"') {
      out.back() += line[++i];
    } else if (line[i] == '"') {
      quoted = !quoted;
    } else if (line[i] == ',' && !quoted) {
      out.emplace_back();
    } else {
      out.back() += line[i];
    }
  }
  return out;
}

}  // namespace

TEST_CASE("loading list: 80 columns of ASCII, sections in order, counts first", "[sheets]") {
  for (const Display& display : {metric_ascii, us_ascii}) {
    const std::string text = pack_text(test::packed(test::mixed_list(), {test::own_kit}), display);
    for (const std::string& line : test::lines_of(text)) {
      CAPTURE(line);
      CHECK(columns(line) <= sheet_columns);
    }
    for (char c : text) CHECK((c == '\n' || (c >= ' ' && c <= '~')));
    std::size_t at = 0;
    for (const char* title : {"10 rows: 7 to load for, 2 stopped, 1 refused.", "\nSENSORS\n",
                              "\nFIXING\n", "\nCOUPLANT\n", "\nFIND OUT ON SITE\n", "\nCLEANING\n",
                              "\nSAFETY", "\nNOT SERVED\n", "\nBEFORE YOU GO\n"}) {
      CAPTURE(title);
      const std::size_t found = text.find(title);
      REQUIRE(found != std::string::npos);
      CHECK(found >= at);
      at = found;
    }
    CHECK(has(text, "NOT TO BE MOUNTED"));
    CHECK(has(text, "NOT IN THE KIT"));
    CHECK(has(text, "rows 6 TOP-6, 10 HOT-10"));
    CHECK(has(text, "licensed people"));
  }
}

TEST_CASE("loading list: metric and US units", "[sheets]") {
  const Packing packing = test::packed({{"A", {}}});
  const std::string metric = pack_text(packing, metric_ascii), us = pack_text(packing, us_ascii);
  CHECK(has(metric, "outside diameter 168.3 mm"));  // NPS 6, ASME B36.10M: 6.625 in
  CHECK(has(metric, "528.7 mm"));                   // pi 168.3
  CHECK(has(us, "outside diameter 6.626 in"));      // 168.3/25.4
  CHECK(has(us, "20.82 in"));                       // 528.73/25.4
  CHECK_FALSE(has(us, " mm"));
}

TEST_CASE("loading list: every box is an item with a count or a plain reminder", "[sheets]") {
  const std::string text = pack_text(test::packed(test::mixed_list()), metric_ascii);
  std::size_t boxes = 0;
  for (const std::string& line : test::lines_of(text)) {
    if (!line.starts_with("[ ] ")) continue;
    ++boxes;
    CAPTURE(line);
    CHECK(columns(line) == sheet_columns);
    CHECK(std::string_view("cpsk").find(line.back()) != std::string_view::npos);
  }
  CHECK(boxes > 20);
}

TEST_CASE("loading list: texts of the list never reach the terminal raw", "[sheets]") {
  const std::string evil = "\x1b[31mT\u202e" + std::string(500, 'x');
  const std::string pair =
      R"(sensors={ "key": "k\u001b[2J", "frequency": "1 MHz",
        "wedge": { "sound_speed": "2430 m/s", "angle": "38 deg" }, "setback": "14 mm" })";
  const std::string kit =
      R"(kit={ "rails": [ { "name": "r\u0007", "least": "1 mm", "greatest": "900 mm" } ] })";
  const Packing packing = test::packed(
      {{evil, {pair}}, {"=cmd|x", {pair, "fluid.temperature=30 degC", "location.surface=rust"}}},
      {kit});
  for (const Display& display : {metric_ascii, Display{UnitSystem::metric, true, false}}) {
    const std::string text = pack_text(packing, display), csv = pack_csv(packing, display);
    for (const std::string& out : {text, csv}) {
      CHECK_FALSE(has(out, "\x1b"));
      CHECK_FALSE(has(out, "\a"));
      CHECK_FALSE(has(out, "\u202e"));
    }
    for (const std::string& line : test::lines_of(text)) CHECK(columns(line) <= sheet_columns);
  }
  for (char c : pack_json(packing, "0")) CHECK((c >= ' ' && c <= '~'));
}

TEST_CASE("loading list: nothing to load for", "[sheets]") {
  Packing packing;
  packing.add_refused(1, "A");
  const std::string text = pack_text(packing, metric_ascii);
  CHECK(has(text, "1 row: 0 to load for, 0 stopped, 1 refused."));
  CHECK_FALSE(has(text, "SENSORS"));
  CHECK(has(text, "rows 1 A"));
  CHECK(has(pack_text(Packing(), metric_ascii), "0 rows"));
}

TEST_CASE("loading list: CSV has eight cells a line and no formula", "[sheets]") {
  const std::string kit =
      R"(kit={ "rails": [ { "name": "=1+1, \"x\"", "least": "1 mm", "greatest": "900 mm" } ] })";
  const std::string csv = pack_csv(test::packed(test::mixed_list(), {kit}), metric_ascii);
  const std::vector<std::string> lines = test::lines_of(csv);
  REQUIRE(lines.size() > 20);
  CHECK(lines[0] == "section,item,number,pipes,details,rows,basis,source");
  bool rail = false;
  for (const std::string& line : lines) {
    const std::vector<std::string> one = cells(line);
    CAPTURE(line);
    REQUIRE(one.size() == 8);
    for (const std::string& cell : one) {
      CHECK((cell.empty() || std::string_view("=+-@").find(cell[0]) == std::string_view::npos));
    }
    CHECK_FALSE(one[7].empty());
    rail = rail || one[1] == "'=1+1, \"x\"";
  }
  CHECK(rail);
}

TEST_CASE("loading list: JSON holds the counts with units in the keys", "[sheets]") {
  const Packing packing =
      test::packed(test::mixed_list(), {test::own_kit}, {.at_once = 2, .couplants = {}});
  const Plain json = Plain::parse(pack_json(packing, "9.9"));
  CHECK(json["slantrule"] == "9.9");
  CHECK(json["at_once"] == 2);
  CHECK(json["load"]["pipes"] == 7);
  CHECK(json["stopped"]["rows"][1]["tag"] == "HOT-10");
  CHECK(json["refused"]["rows"][0]["row"] == 7);
  CHECK_FALSE(json["refused"]["rows"][0].contains("tag"));
  bool found = false;
  for (const Plain& pair : json["sensors"]) {
    if (pair["sensors"] != "demo-1mhz") continue;
    found = true;
    CHECK(pair["number"] == 2);
    CHECK(pair["must_not_be_mounted"] == true);
    CHECK(pair["outside_diameter_mm"][0] == Approx(168.3));
  }
  CHECK(found);
  CHECK(json["fixing"]["girth_mm"][1] == Approx(3.14159265358979323846 * 1220));
  CHECK(json["fixing"]["straps"][0]["greatest_girth_mm"] == Approx(1200));
  for (const Plain& lack : json["not_served"]) {
    if (lack["lack"] == "strap") CHECK(lack["rows"][0]["tag"] == "RAW-3");
  }
  for (const Plain& aid : json["aids"]) {
    CHECK_FALSE(aid["source"].get<std::string>().empty());
    CHECK_FALSE(aid["basis"].get<std::string>().empty());
  }
  // Never null, as the plan's JSON.
  CHECK(pack_json(packing, "0").find("null") == std::string::npos);
}

}  // namespace slantrule
