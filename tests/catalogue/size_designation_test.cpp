#include "slantrule/catalogue/size_designation.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <string>
#include <vector>

#include "slantrule/catalogue/catalogue.hpp"

using namespace slantrule;
using Kind = SizeReading::Kind;

namespace {

// Dimensions below carry the digits of ASME B36.10M and B36.19M in millimetres: "fluids" piping
// tables (B36.10M-2004, B36.19M-2004), which agree with the HI engineering data book (2018, inch).
constexpr const char* asme = "ASME B36.10M / B36.19M, mm";
constexpr double rounding_m = 1e-12;  // a printed millimetre value divided by 1000

bool holds(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

bool holds(const std::vector<std::string>& texts, const std::string& text) {
  return std::ranges::find(texts, text) != texts.end();
}

}  // namespace

TEST_CASE("a nominal size with a schedule gives the standard's dimensions") {
  struct Row {
    const char* source;
    const char* text;
    const char* material;
    double outside_diameter_mm, wall_mm;
    const char* standard;
  };
  const auto row = GENERATE(values<Row>({
      {asme, "NPS 6 sch 40", "", 168.3, 7.11, "ASME B36.10M"},
      {asme, "nps6 SCH40", "", 168.3, 7.11, "ASME B36.10M"},
      {asme, "6\" sch40", "", 168.3, 7.11, "ASME B36.10M"},
      {asme, "6\u201D Sch. 40", "carbon steel", 168.3, 7.11, "ASME B36.10M"},
      {asme, "6\u2033 schedule 40", "", 168.3, 7.11, "ASME B36.10M"},
      {asme, "6'' #40", "", 168.3, 7.11, "ASME B36.10M"},
      {asme, "6 in STD", "", 168.3, 7.11, "ASME B36.10M"},
      {asme, "6 in. std wt", "", 168.3, 7.11, "ASME B36.10M"},
      {asme, "6-inch Sch-40 pipe", "", 168.3, 7.11, "ASME B36.10M"},
      {asme, "SCH 40, 6 inch", "", 168.3, 7.11, "ASME B36.10M"},
      {asme, "6\" 40/STD", "", 168.3, 7.11, "ASME B36.10M"},
      {asme, "6\" sch STD/40", "", 168.3, 7.11, "ASME B36.10M"},
      {asme, "DN150 sch 40", "", 168.3, 7.11, "ASME B36.10M"},
      {asme, "dn 150 SCH 40S", "", 168.3, 7.11, "ASME B36.19M"},
      {asme, "DN-150 40s", "", 168.3, 7.11, "ASME B36.19M"},
      {asme, "ASME B36.19M NPS 6 sch 40S", "", 168.3, 7.11, "ASME B36.19M"},
      {asme, "NPS 6 sch 40 ASME B36.10", "", 168.3, 7.11, "ASME B36.10M"},
      {asme, "NPS 6 XS", "", 168.3, 10.97, "ASME B36.10M"},
      {asme, "6 in xh", "", 168.3, 10.97, "ASME B36.10M"},
      {asme, "6\" XXS", "", 168.3, 21.95, "ASME B36.10M"},
      {asme, "1-1/2\" SCH40", "", 48.3, 3.68, "ASME B36.10M"},
      {asme, "1 1/2 in sch 40", "", 48.3, 3.68, "ASME B36.10M"},
      {asme, "1\u00BD\u2033 Sch-40", "", 48.3, 3.68, "ASME B36.10M"},
      {asme, "1.5 in sch 40", "", 48.3, 3.68, "ASME B36.10M"},
      {asme, "1,5 in sch 40", "", 48.3, 3.68, "ASME B36.10M"},
      {asme, "1/2 NPS sch 40", "", 21.3, 2.77, "ASME B36.10M"},
      {asme, "NPS 4 sch 40", "", 114.3, 6.02, "ASME B36.10M"},
      // STD and 40 part above NPS 10; 40S follows STD.
      {asme, "NPS 10 sch 40", "", 273, 9.27, "ASME B36.10M"},
      {asme, "NPS 10 STD", "", 273, 9.27, "ASME B36.10M"},
      {asme, "NPS 10 sch 40S", "", 273.1, 9.27, "ASME B36.19M"},
      {asme, "NPS 12 sch 40", "stainless", 323.8, 10.31, "ASME B36.10M"},
      {asme, "NPS 12 STD", "", 323.8, 9.53, "ASME B36.10M"},
      {asme, "NPS 12 sch 40S", "stainless", 323.9, 9.53, "ASME B36.19M"},
      {asme, "DN 300 sch 40", "", 323.8, 10.31, "ASME B36.10M"},
      {asme, "24\" sch 40", "", 610, 17.48, "ASME B36.10M"},
      {asme, "24\" STD", "", 610, 9.53, "ASME B36.10M"},
      // Behind a standard's name the material does not matter.
      {asme, "ASME B36.10M NPS 6 sch 40", "titanium", 168.3, 7.11, "ASME B36.10M"},
  }));
  CAPTURE(row.source, row.text, row.material);
  const SizeReading reading = read_size(row.text, row.material);
  CAPTURE(reading.message);
  REQUIRE(reading.kind == Kind::understood);
  CHECK(reading.outside_diameter_m == Approx(row.outside_diameter_mm / 1000).margin(rounding_m));
  CHECK(reading.wall_m == Approx(row.wall_mm / 1000).margin(rounding_m));
  REQUIRE(reading.row != nullptr);
  CHECK(reading.row->standard == row.standard);
  CHECK(reading.readings.empty());
  CHECK(reading.message.empty());
}

TEST_CASE("dimensions are taken as written") {
  struct Row {
    const char* text;
    double outside_diameter_mm, wall_mm;  // by hand; 1 in = 25.4 mm exactly
  };
  const auto row = GENERATE(values<Row>({
      {"168.3 x 7.11 mm", 168.3, 7.11},       {"168.3X7.11mm", 168.3, 7.11},
      {"168.3 mm x 7.11 mm", 168.3, 7.11},    {"168.3mm\u00D77.11mm", 168.3, 7.11},
      {"168,3 x 7,11 mm", 168.3, 7.11},       {"168,3*7,11 mm", 168.3, 7.11},
      {"\u00D8168,3 x 7,11 mm", 168.3, 7.11}, {"\u03C6168.3\u00D77.11 mm", 168.3, 7.11},
      {"OD 168.3 mm x 7.11", 168.3, 7.11},    {"15\u04452.8 mm", 15, 2.8},
      {"6.625 x 0.280 in", 168.275, 7.112},   {"6.625\" x .280\"", 168.275, 7.112},
      {"6 5/8 in x 7.11 mm", 168.275, 7.11},  {"OD 6 in x 0.280 in", 152.4, 7.112},
      {"16\" x 0.375\"", 406.4, 9.525},  // NPS 16 is 406.4 mm outside: no second reading
      {"EN 10220 168.3 x 7.1", 168.3, 7.1},   {"en 10220 168,3 x 7,1 mm", 168.3, 7.1},
      {"NPS 6 x 7.5 mm", 168.3, 7.5},         {"DN 6 x 1 mm ASME B36.10M", 10.3, 1},
      {"EN 10220 DN 150 x 5 mm", 168.3, 5},
  }));
  CAPTURE(row.text);
  const SizeReading reading = read_size(row.text, "");
  CAPTURE(reading.message);
  REQUIRE(reading.kind == Kind::understood);
  CHECK(reading.outside_diameter_m == Approx(row.outside_diameter_mm / 1000).margin(rounding_m));
  CHECK(reading.wall_m == Approx(row.wall_mm / 1000).margin(rounding_m));
}

TEST_CASE("a written dimension has a table row only where a standard is named") {
  CHECK(read_size("168.3 x 7.11 mm", "").row == nullptr);
  const SizeReading named = read_size("ASME B36.10M 168.3 x 7.11 mm", "");
  REQUIRE(named.row != nullptr);
  CHECK(named.row->designation == "NPS 6");
  // DIN 2448 usual wall of 168.3 mm: 4.5 mm; EN 10220 allows any other wall too.
  CHECK(read_size("EN 10220 168.3 x 4.5", "").row != nullptr);
  CHECK(read_size("EN 10220 168.3 x 7.1", "").row == nullptr);
  CHECK(read_size("ASME B36.10M 168.3 x 7.0 mm", "").kind == Kind::not_understood);
}

TEST_CASE("a size without a wall asks for it") {
  struct Row {
    const char* source;
    const char* text;
    const char* material;
    double outside_diameter_mm;
  };
  const auto row = GENERATE(values<Row>({
      {asme, "NPS 6", "", 168.3},
      {asme, "NPS 6", "carbon steel", 168.3},
      {asme, "NPS 6 in", "", 168.3},
      {asme, "1/2 NPS", "", 21.3},
      {asme, "NPS 10", "carbon steel", 273},
      {asme, "NPS 10", "stainless", 273.1},
      {asme, "NPS 10", "stainless_304", 273.1},
      {asme, "NPS 26", "stainless", 660},  // not in B36.19M
      {asme, "DN100", "stainless", 114.3},
      {"EN 10220 series 1 and ASME B36.10M agree", "DN 150", "carbon steel", 168.3},
      {"EN 10220 series 1", "EN 10220 DN 125", "", 139.7},
      {"as written", "114.3 mm", "", 114.3},
      {"as written", "OD 4 in", "", 101.6},
      {"as written; 8.6 in is no nominal size", "8.6 in", "", 218.44},
      {"as written; the diameter of NPS 6", "6 5/8\"", "", 168.275},
  }));
  CAPTURE(row.source, row.text, row.material);
  const SizeReading reading = read_size(row.text, row.material);
  CAPTURE(reading.message);
  REQUIRE(reading.kind == Kind::needs_wall);
  CHECK(reading.outside_diameter_m == Approx(row.outside_diameter_mm / 1000).margin(rounding_m));
  CHECK(reading.wall_m == 0);
  CHECK(reading.row == nullptr);
  CHECK(holds(reading.message, "wall is missing"));
}

TEST_CASE("what has several readings is not guessed") {
  struct Row {
    const char* text;
    const char* material;
    std::vector<std::string> readings;
  };
  const auto row = GENERATE(values<Row>({
      {"4\"", "", {"NPS 4", "OD 4 in"}},
      {"4 in", "carbon steel", {"NPS 4", "OD 4 in"}},
      {"6\" x 0.280\"", "", {"NPS 6 x 7.112 mm", "OD 152.4 x 7.112 mm"}},
      {"DN100", "", {"ASME B36.10M NPS 4"}},
      {"DN125", "carbon steel", {"ASME B36.10M NPS 5", "EN 10220 DN 125"}},
      {"DN65", "carbon steel", {"ASME B36.10M NPS 2-1/2", "EN 10220 DN 65"}},
      {"12\" 40/STD", "", {"NPS 12 sch 40", "NPS 12 STD"}},
      {"6-8\"", "", {"6 in", "8 in"}},
      {"48/54?", "", {"48", "54"}},
  }));
  CAPTURE(row.text, row.material);
  const SizeReading reading = read_size(row.text, row.material);
  CAPTURE(reading.message);
  CHECK(reading.kind == Kind::ambiguous);
  CHECK(reading.readings == row.readings);
  CHECK_FALSE(reading.message.empty());
  CHECK(reading.outside_diameter_m == 0);
}

TEST_CASE("DN100 alone says which outside diameters it can have") {
  const SizeReading reading = read_size("DN100", "");
  CHECK(holds(reading.message, "114.3 mm"));
  CHECK(holds(reading.message, "plastic"));
}

TEST_CASE("what is not understood is refused, with what it could mean") {
  struct Row {
    const char* text;
    const char* material;
    const char* message;  ///< what the message must say
    const char* reading;  ///< one of the readings, or null
  };
  const auto row = GENERATE(values<Row>({
      {"", "", "names no size", nullptr},
      {"sch 40", "", "names no size", nullptr},
      {"?", "", "\"?\" is not understood", nullptr},
      {"NPS 2 type L", "", "\"type l\" is not understood", nullptr},
      {"DN 200 K9", "", "\"k9\" is not understood", nullptr},
      {"PE 110 SDR 11", "", "\"pe 110 sdr 11\" is not understood", nullptr},
      {"NPS 6 sch", "", "\"sch\" is not understood", nullptr},
      {"NPS 6 40", "", "\"40\" is not understood", nullptr},
      {"nan x 5 mm", "", "\"nan x 5 mm\" is not understood", nullptr},
      {"\u0414\u0443 100", "", "is not understood", nullptr},
      {"NPS 6 sch 30", "", "NPS 6 has no sch 30 in ASME B36.10M; it has sch 5, sch 10, sch 40",
       "NPS 6 sch 40"},
      {"DN150 sch 30", "", "DN 150 has no sch 30", "DN 150 sch 40"},
      {"ASME B36.19M NPS 6 sch 40", "", "has no sch 40 in ASME B36.19M", "NPS 6 sch 40S"},
      {"NPS 7 sch 40", "", "there is no NPS 7", "NPS 6"},
      {"NPS 7 sch 40", "", "there is no NPS 7", "NPS 8"},
      {"NPS 5/8", "", "there is no NPS 5/8", "NPS 1/2"},
      {"DN 160 sch 40", "", "there is no DN 160", "ASME B36.10M DN 150"},
      {"NPS 26 sch 40S", "", "there is no NPS 26 in ASME B36.19M", "NPS 24"},
      {"EN 10220 NPS 6", "", "there is no NPS 6 in EN 10220", "EN 10220 DN 150"},
      {"EN 10220 DN 150 sch 40", "", "has no schedules", nullptr},
      {"NPS 0", "", "is no nominal size", nullptr},
      {"NPS 6.1 sch 40", "", "is no nominal size", nullptr},
      {"DN 0", "", "is no nominal size", nullptr},
      {"DN 99999999999999", "", "is no nominal size", nullptr},
      {"NPS 6 sch 40", "copper", "sizes of copper pipe", "ASME B36.10M NPS 6 sch 40"},
      {"DN 100", "PVC", "sizes of PVC pipe", "ASME B36.10M DN 100"},
      {"6 sch 40", "", "could be inches or millimetres", "NPS 6 sch 40"},
      {"150 sch 40", "", "could be inches or millimetres", "DN 150 sch 40"},
      {"168.3 mm sch 40", "", "not to a diameter", "NPS 6 sch 40"},
      {"168.3 x 7.11 mm sch 40", "", "a wall and a schedule", nullptr},
      {"150", "", "has no unit", "DN 150"},
      {"6", "", "has no unit", "NPS 6"},
      {"114.3X6.02", "", "has no unit", "114.3 x 6.02 mm"},
      {"NPS 4 x 6.02", "", "the wall has no unit", "NPS 4 x 6.02 mm"},
      {"1,220 mm", "", "comma", nullptr},
      {"168.3 x 7.11 furlong", "", "unit", nullptr},
      {"168.3 x 84.15 mm", "", "leaves no bore", nullptr},
      {"168.3 x 711 mm", "", "leaves no bore", "711 x 168.3 mm"},
      {"7.11 x 168.3 mm", "", "leaves no bore", "168.3 x 7.11 mm"},
      {"4\"x3\"", "", "leaves no bore", nullptr},
      {"0 x 0 mm", "", "must be above 0", nullptr},
      {"0 mm", "", "must be above 0", nullptr},
  }));
  CAPTURE(row.text, row.material);
  const SizeReading reading = read_size(row.text, row.material);
  CAPTURE(reading.message, reading.readings);
  CHECK(reading.kind == Kind::not_understood);
  CHECK(holds(reading.message, row.message));
  if (row.reading) CHECK(holds(reading.readings, row.reading));
  CHECK(reading.outside_diameter_m == 0);
  CHECK(reading.wall_m == 0);
}

TEST_CASE("a schedule that is missing lists all that exist") {
  // ASME B36.10M, NPS 6: nine rows.
  CHECK(read_size("NPS 6 sch 30", "").readings ==
        std::vector<std::string>{"NPS 6 sch 5", "NPS 6 sch 10", "NPS 6 sch 40", "NPS 6 STD",
                                 "NPS 6 sch 80", "NPS 6 XS", "NPS 6 sch 120", "NPS 6 sch 160",
                                 "NPS 6 XXS"});
}

TEST_CASE("every row can be written and read back") {
  for (const PipeRecord& row : built_in_pipes()) {
    const std::string text = size_text(row);
    CAPTURE(row.standard, text);
    const SizeReading reading = read_size(text, row.material_family);
    REQUIRE(reading.kind == Kind::understood);
    CHECK(reading.row == &row);
    CHECK(reading.outside_diameter_m == Approx(row.outside_diameter_mm / 1000).margin(rounding_m));
    CHECK(reading.wall_m == Approx(row.wall_mm / 1000).margin(rounding_m));
  }
}

TEST_CASE("what a refusal proposes can be read") {
  for (const char* text : {"4\"", "DN100", "DN125", "12\" 40/STD", "NPS 6 sch 30", "6 sch 40",
                           "114.3X6.02", "7.11 x 168.3 mm", "150", "EN 10220 NPS 6"}) {
    for (const std::string& reading : read_size(text, "carbon steel").readings) {
      CAPTURE(text, reading);
      CHECK(read_size(reading, "carbon steel").kind != Kind::not_understood);
    }
  }
}

TEST_CASE("no text upsets the reader") {
  const std::string parts[] = {"NPS", "6",      "\"", "x", "sch",  "40S", "/",
                               "-",   "1/2",    ",",  ".", "\xff", "mm",  "EN 10220",
                               "#",   "\u00D8", "DN", " ", "40/",  "(",   "0"};
  for (const std::string& a : parts) {
    for (const std::string& b : parts) {
      for (const std::string& c : parts) {
        const SizeReading reading = read_size(a + b + c, "");
        if (reading.kind == Kind::understood) {
          CHECK(reading.wall_m > 0);
          CHECK(2 * reading.wall_m < reading.outside_diameter_m);
        } else {
          CHECK_FALSE(reading.message.empty());
        }
      }
    }
  }
  CHECK(read_size(std::string(100000, '1'), "").kind == Kind::not_understood);
}

TEST_CASE("pipes near a diameter") {
  const auto near = pipes_near(0.1683, 0.001);
  CHECK_FALSE(near.empty());
  for (const PipeRecord* row : near) CHECK(row->dn == 150);
  // NPS 10: 273 mm in B36.10M and EN 10220, 273.1 mm in B36.19M, 0.04 % apart.
  const auto standards_near = [](double relative) {
    std::vector<std::string_view> standards;
    for (const PipeRecord* row : pipes_near(0.2730, relative)) standards.push_back(row->standard);
    standards.erase(std::unique(standards.begin(), standards.end()), standards.end());
    return standards;
  };
  CHECK(standards_near(1e-9) == std::vector<std::string_view>{"ASME B36.10M", "EN 10220"});
  CHECK(standards_near(5e-4) ==
        std::vector<std::string_view>{"ASME B36.10M", "ASME B36.19M", "EN 10220"});
  CHECK(pipes_near(std::numeric_limits<double>::quiet_NaN(), 0.01).empty());
  CHECK(pipes_near(-0.1683, 0.01).empty());
  CHECK(pipes_near(0.1500, 0.001).empty());
}
