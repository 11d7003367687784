#include "slantrule/catalogue/size_designation.hpp"

#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <random>
#include <string>
#include <vector>

#include "slantrule/catalogue/catalogue.hpp"

using namespace slantrule;
using Kind = SizeReading::Kind;

namespace {

// Dimensions below carry the digits of the standards, by two kinds of copies: piping tables in
// millimetres (B36.10M-2004, B36.19M-2004, D1785, D2241, F441, F714, C900, C905), which agree with
// the HI engineering data book (2018, inch), and manufacturers' and handbook tables (EN, ISO, JIS).
constexpr const char* b36_10 = "ASME B36.10M";
constexpr const char* b36_19 = "ASME B36.19M";
constexpr const char* written = "";  ///< dimensions as written: no row

/// How the mean wall follows from the wall of the standard's table (see mean_wall_mm): PE 1.05 e +
/// 0.05; PVC e + the larger of 0.06 e and 0.25; ductile iron by class e + 1.3, above 6 mm + 0.001
/// DN.
enum class Mean { nominal, pe, pvc, ductile };

double mean_mm(Mean rule, double wall_mm) {
  switch (rule) {
    case Mean::nominal:
      return wall_mm;
    case Mean::pe:
      return 1.05 * wall_mm + 0.05;
    case Mean::pvc:
      return wall_mm + std::max(0.06 * wall_mm, 0.25);
    case Mean::ductile:  // thin ones only
      return wall_mm + 1.3;
  }
  return 0;
}

constexpr double rounding_m = 1e-12;  // a printed millimetre value divided by 1000

bool holds(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

bool holds(const std::vector<std::string>& texts, const std::string& text) {
  return std::ranges::find(texts, text) != texts.end();
}

struct Understood {
  const char* standard;
  const char* text;
  const char* family;
  double outside_diameter_mm, wall_mm;
  Mean rule = Mean::nominal;
};

void check_understood(const Understood& row) {
  CAPTURE(row.text, row.family);
  const SizeReading reading = read_size(row.text, row.family);
  CAPTURE(reading.message, reading.readings);
  REQUIRE(reading.kind == Kind::understood);
  CHECK(reading.outside_diameter_m == Approx(row.outside_diameter_mm / 1000).margin(rounding_m));
  CHECK(reading.wall_m == Approx(mean_mm(row.rule, row.wall_mm) / 1000).margin(rounding_m));
  CHECK(std::string(reading.row ? reading.row->standard : "") == row.standard);
  CHECK(reading.readings.empty());
  CHECK(reading.message.empty());
}

/// What a text that is not settled offers. Each reading must itself be read.
void check_readings(const SizeReading& reading, const std::string& family) {
  for (const std::string& text : reading.readings) {
    CAPTURE(text, family);
    const SizeReading again = read_size(text, family);
    CAPTURE(again.message);
    CHECK((again.kind == Kind::understood || again.kind == Kind::needs_wall));
  }
}

}  // namespace

TEST_CASE("steel by nominal size and schedule") {
  const auto row = GENERATE(values<Understood>({
      {b36_10, "4\" sch 40", "carbon steel", 114.3, 6.02},
      {b36_10, "NPS 6 sch 40", "", 168.3, 7.11},
      {b36_10, "nps6 SCH40", "", 168.3, 7.11},
      {b36_10, "6\" sch40", "", 168.3, 7.11},
      {b36_10, "6\"SCH40", "", 168.3, 7.11},
      {b36_10, "6\" x SCH 40", "", 168.3, 7.11},
      {b36_10, "6\"xSCH40", "", 168.3, 7.11},
      {b36_10, "6\u201D Sch. 40", "carbon steel", 168.3, 7.11},
      {b36_10, "6\u2033 schedule 40", "", 168.3, 7.11},
      {b36_10, "6\u2032\u2032 sch:40", "", 168.3, 7.11},
      {b36_10, "6'' #40", "", 168.3, 7.11},
      {b36_10, "6\u00B4\u00B4 sch 40", "", 168.3, 7.11},
      {b36_10, "6 in STD", "", 168.3, 7.11},
      {b36_10, "6 in. std wt", "", 168.3, 7.11},
      {b36_10, "6 in. Std. Wt.", "", 168.3, 7.11},
      {b36_10, "6\" standard weight", "", 168.3, 7.11},
      {b36_10, "6-inch Sch-40 pipe", "", 168.3, 7.11},
      {b36_10, "4-inch sch40", "", 114.3, 6.02},
      {b36_10, "4 inch SCH40", "", 114.3, 6.02},
      {b36_10, "6in-sch40", "", 168.3, 7.11},
      {b36_10, "SCH 40, 6 inch", "", 168.3, 7.11},
      {b36_10, "STD 8\"", "", 219.1, 8.18},
      {b36_10, "PIPE 6 INCH SCH40 ASTM A106 GR B SMLS", "", 168.3, 7.11},
      {b36_10, "PIPE, 6\", SCH 40, A53 GR.B, ERW", "carbon steel", 168.3, 7.11},
      {b36_10, "CS PIPE 10 INCH SCH40", "", 273, 9.27},
      {b36_10, "6\"-SCH40-A106-B", "", 168.3, 7.11},
      {b36_10, "1-\u00BD sch 40", "", 48.3, 3.68},
      // A length behind, a tag or a grade in front.
      {b36_10, "6\" SCH40 x 20 ft", "", 168.3, 7.11},
      {b36_10, "6\" STD x 20'", "", 168.3, 7.11},
      {b36_10, "NPS 6 SCH 40 x 6 m", "", 168.3, 7.11},
      {b36_10, "P-101: 4\" SCH40", "", 114.3, 6.02},
      {b36_10, "FT-102 DN100 SCH40", "", 114.3, 6.02},
      {b36_10, "LINE 12 - 4\" SCH 40", "", 114.3, 6.02},
      {b36_10, "304 4\" SCH 10", "", 114.3, 3.05},
      // Line numbers with the schedule in them.
      {b36_10, "6\"-SCH40-CW-1234", "", 168.3, 7.11},
      {b36_10, "4\"-SCH80-HW-2001-A1B", "", 114.3, 8.56},
      {b36_10, "6\"-CW-1001-SCH40-A1B", "", 168.3, 7.11},
      {b36_10, "CW-1001-6\"-SCH40-A1B", "", 168.3, 7.11},
      // "OD" in whole inches that are the diameter of a row.
      {b36_10, "OD 14\" SCH 40", "", 355.6, 11.13},
      {b36_10, "14\" dia SCH 40", "", 355.6, 11.13},
      {b36_10, "OD 6-5/8\" SCH 40", "", 168.3, 7.11},
      {b36_10, "A106B 4\" XS", "", 114.3, 8.56},
      {b36_10, "API 5L X52 PSL2 12\" STD", "", 323.8, 9.53},
      {b36_10, "ASTM A53 4\" SCH 40 GALV", "carbon steel", 114.3, 6.02},
      {b36_10, "6\" 40/STD", "", 168.3, 7.11},
      {b36_10, "6\" sch STD/40", "", 168.3, 7.11},
      {b36_10, "6\" 80/XS", "", 168.3, 10.97},
      {b36_10, "6 in. Sch. 40 (STD)", "", 168.3, 7.11},
      {b36_10, "DN150 sch 40", "", 168.3, 7.11},
      {b36_10, "DN 80 sch 40", "carbon steel", 88.9, 5.49},
      {b36_10, "NPS 6 sch 40 ASME B36.10", "", 168.3, 7.11},
      {b36_10, "NPS 6 XS", "", 168.3, 10.97},
      {b36_10, "6 in xh", "", 168.3, 10.97},
      {b36_10, "2\" extra heavy", "", 60.3, 5.54},
      {b36_10, "1/2\" extra strong", "", 21.3, 3.73},
      {b36_10, "6\" X-STG", "", 168.3, 10.97},
      {b36_10, "6\" X-Strong", "", 168.3, 10.97},
      {b36_10, "6\" XX-STG", "", 168.3, 21.95},
      {b36_10, "6 in. nom. sch 40", "", 168.3, 7.11},
      {b36_10, "6\" XXS", "", 168.3, 21.95},
      {b36_10, "2\" double extra strong", "", 60.3, 11.07},
      {b36_10, "1-1/2\" SCH40", "", 48.3, 3.68},
      {b36_10, "1 1/2 in sch 40", "", 48.3, 3.68},
      {b36_10, "1.1/2\" sch 40", "", 48.3, 3.68},
      {b36_10, "1\u00BD\u2033 Sch-40 pipe", "", 48.3, 3.68},
      {b36_10, "1.5 in sch 40", "", 48.3, 3.68},
      {b36_10, "1,5 in sch 40", "", 48.3, 3.68},
      {b36_10, "1/2 NPS sch 40", "", 21.3, 2.77},
      {b36_10, "1\" NPT sch 80", "", 33.4, 4.55},
      {b36_10, "NPS2.5 sch 40", "", 73, 5.16},
      {b36_10, "6\" C\u00E9dula 40", "", 168.3, 7.11},
      {b36_10, "Tubo 4\" Ced 40", "", 114.3, 6.02},
      {b36_10, "S40 4\"", "", 114.3, 6.02},
      {b36_10, "6\" S\u0421\u041D 40", "", 168.3, 7.11},  // Cyrillic letters
      {b36_10, "\uFF16\u2033 \uFF33\uFF23\uFF28 \uFF14\uFF10", "", 168.3, 7.11},  // full width
      // A number without a unit that is a size in one way only.
      {b36_10, "4 sch 40", "", 114.3, 6.02},
      {b36_10, "150 sch 40", "", 168.3, 7.11},
      // The diameter of a nominal size with a schedule.
      {b36_10, "168.3 mm sch 40", "", 168.3, 7.11},
      {b36_10, "6.625\" sch 40", "", 168.3, 7.11},
      {b36_10, "\u00D8168,3 sch 40", "", 168.3, 7.11},
      // STD and 40 part above NPS 10; 40S follows STD.
      {b36_10, "NPS 10 sch 40", "", 273, 9.27},
      {b36_10, "NPS 10 STD", "", 273, 9.27},
      {b36_19, "NPS 10 sch 40S", "", 273.1, 9.27},
      {b36_10, "NPS 12 sch 40", "stainless steel", 323.8, 10.31},
      {b36_10, "NPS 12 STD", "", 323.8, 9.53},
      {b36_19, "12\" sch. 40S", "stainless steel", 323.9, 9.53},
      {b36_19, "NPS 12 SCH 40s", "", 323.9, 9.53},
      {b36_10, "DN 300 sch 40", "", 323.8, 10.31},
      {b36_10, "24\" sch 40", "", 610, 17.48},
      {b36_10, "24\" STD", "", 610, 9.53},
      {b36_19, "DN-150 40s", "", 168.3, 7.11},
      {b36_19, "ASME B36.19M NPS 6 sch 40S", "", 168.3, 7.11},
      {b36_19, "316SS 4\" sch 10S", "", 114.3, 3.05},
      {b36_19, "4\" SCH 10S 316L", "stainless steel", 114.3, 3.05},
      {b36_19, "4\" 304 sch 10S", "", 114.3, 3.05},
      {b36_19, "Schedule 10S 6 inch stainless", "", 168.3, 3.4},
      {b36_19, "ASTM A312 TP316L 2\" SCH 10S", "", 60.3, 2.77},
      {b36_19, "4\" Sch.40S / STD", "", 114.3, 6.02},
      // A flange class is no schedule.
      {b36_10, "6\" sch 40 150#", "", 168.3, 7.11},
      {b36_10, "DN 100 sch 40 PN16", "", 114.3, 6.02},
      // Wall and schedule that agree.
      {b36_10, "6\" sch 40 x 7.11 mm", "", 168.3, 7.11},
      {b36_10, "6\" sch 40 x 0.280\"", "", 168.3, 7.11},
      // "Steel" is not more than a stated kind of steel; a standard counts for any other metal.
      {b36_10, "steel 4\" sch 40", "stainless steel", 114.3, 6.02},
      {b36_10, "ASME B36.10M NPS 6 sch 40", "titanium", 168.3, 7.11},
      // Keys of solids do as families.
      {b36_10, "NPS 6 sch 40", "carbon_steel", 168.3, 7.11},
      {b36_19, "NPS 6 sch 40S", "stainless_304", 168.3, 7.11},
  }));
  check_understood(row);
}

TEST_CASE("pipe of other families by its own names") {
  constexpr Mean pe = Mean::pe, pvc = Mean::pvc, ductile = Mean::ductile, nominal = Mean::nominal;
  const auto row = GENERATE_COPY(values<Understood>({
      // EN 10255 / BS 1387: DN 50 60.3 x 3.6 medium, 4.5 heavy.
      {"EN 10255", "EN 10255 DN 50 medium", "", 60.3, 3.6},
      {"EN 10255", "DN 50 heavy", "carbon steel", 60.3, 4.5},
      {"EN 10255", "2\" NB heavy", "", 60.3, 4.5},
      {"EN 10255", "50 NB medium", "", 60.3, 3.6},
      {"EN 10255", "2\" BSP medium", "", 60.3, 3.6},
      {"EN 10255", "Serie M 2\"", "", 60.3, 3.6},
      {"EN 10255", "GI pipe 2\" medium", "", 60.3, 3.6},
      // JIS G 3452 65A 76.3 x 4.2, 100A 114.3 x 4.5; G 3454 100A sch 40 6.0, 200A sch 80 12.7.
      {"JIS G 3452", "SGP 65A 2 1/2B", "", 76.3, 4.2},
      {"JIS G 3452", "65A SGP", "carbon steel", 76.3, 4.2},
      {"JIS G 3452", "JIS G 3452 100A", "", 114.3, 4.5},
      {"JIS G 3454", "STPG370 100A SCH40", "", 114.3, 6.0},
      {"JIS G 3454", "200A Sch 80", "", 216.3, 12.7},
      // EN 10220: a usual wall has a row.
      {"EN 10220", "EN 10220 168.3 x 4.5", "", 168.3, 4.5},
      // ASTM B88 size 2: OD 2.125 in; L 0.070, K 0.083, M 0.058 in.
      {"ASTM B88", "NPS 2 type L", "", 53.97, 1.778},
      {"ASTM B88", "2\" copper type L", "", 53.97, 1.778},
      {"ASTM B88", "2 in type-K", "copper", 53.97, 2.108},
      {"ASTM B88", "2\" copper tube type M", "", 53.97, 1.473},
      {"ASTM B88", "3/4\" type K copper", "", 22.22, 1.651},
      // EN 1057.
      {"EN 1057", "28x1", "copper", 28, 1},
      {"EN 1057", "Cu 22x1", "", 22, 1},
      {"EN 1057", "28 mm x 1.5 mm copper pipe", "", 28, 1.5},
      {"EN 1057", "EN 1057 54 x 2", "", 54, 2},
      {"EN 1057", "15x1 Cu", "", 15, 1},
      {"EN 1057", "15 x 1 mm", "copper", 15, 1},
      // ASTM B42 NPS 2: 2.375 in, regular 0.156, extra strong 0.221 in. B466 special 1: 0.083 in.
      {"ASTM B42", "2\" regular", "copper", 60.32, 3.962},
      {"ASTM B42", "2\" XS", "copper", 60.32, 5.613},
      {"ASTM B466", "NPS 2 special 1", "copper-nickel", 60.32, 2.108},
      {"ASTM B466", "CuNi 90/10 2\" special 1", "", 60.32, 2.108},
      // ASTM D1785 NPS 6 sch 80: 6.625 x 0.432 in; NPS 4 sch 40: 4.500 x 0.237 in.
      {"ASTM D1785", "6\" PVC sch 80", "", 168.28, 10.973, pvc},
      {"ASTM D1785", "NPS 4 sch 40", "PVC", 114.3, 6.02, pvc},
      {"ASTM D1785", "NPS 4 sch 40", "pvc_u", 114.3, 6.02, pvc},
      {"ASTM D1785", "DN 100 sch 40 PVC", "", 114.3, 6.02, pvc},
      {"ASTM F441", "4\" sch 80", "CPVC", 114.3, 8.56, pvc},
      {"ASTM D2241", "6\" SDR 26", "PVC", 168.28, 6.477, pvc},
      // AWWA C900 NPS 8: 9.05 in, DR 18 0.503 in; C905 NPS 16: 17.40 in, DR 25 0.696 in.
      {"AWWA C900", "8\" C900 DR18", "", 229.9, 12.78, pvc},
      {"AWWA C900", "8\" DR 18", "", 229.9, 12.78, pvc},
      {"AWWA C900", "8\" DR 18", "PVC C900", 229.9, 12.78, pvc},
      {"AWWA C905", "16\" C900 DR 25", "", 442, 17.68, pvc},
      {"AWWA C905", "PVC-C905 16\" DR 25", "PVC", 442, 17.68, pvc},
      // ASTM F714 NPS 4 DR 11: 4.500 / 11 = 0.409 in.
      {"ASTM F714", "4\" DR 11", "PE", 114.3, 10.389, pe},
      {"ASTM F714", "HDPE 4\" IPS SDR 11", "", 114.3, 10.389, pe},
      // ISO 4427-2: d 110 SDR 11 e 10.0; d 63 SDR 11 e 5.8; d 160 SDR 26 e 6.2.
      {"ISO 4427", "PE100 SDR11 d110", "", 110, 10, pe},
      {"ISO 4427", "110 DR 11", "", 110, 10, pe},
      {"ISO 4427", "PE 110 SDR 11", "PE", 110, 10, pe},
      {"ISO 4427", "PE 110 SDR 11", "hdpe", 110, 10, pe},
      {"ISO 4427", "d110 SDR11 PE", "", 110, 10, pe},
      {"ISO 4427", "PE 63 SDR 11", "", 63, 5.8, pe},
      {"ISO 4427", "63 mm HDPE SDR 11", "", 63, 5.8, pe},
      {"ISO 4427", "PE100 63x5.8 SDR11", "", 63, 5.8, pe},
      {"ISO 4427", "DN 110 SDR 11", "PE", 110, 10, pe},
      {"ISO 4427", "EN 12201 110 SDR 11", "", 110, 10, pe},
      {"ISO 4427", "\u041F\u042D100 SDR11 110", "", 110, 10, pe},
      {"ISO 4427", "160 x 6.2 SDR 26", "PE", 160, 6.2, pe},
      {"ISO 4427", "PE 32 SDR 11", "", 32, 3, pe},
      // ISO 2531 / EN 545: DN 200 222 mm; K9 6.3, C40 least 3.1 mm. K9 is the nominal wall.
      {"ISO 2531", "DN 200 K9", "", 222, 6.3},
      {"ISO 2531", "200 DI K9", "", 222, 6.3},
      {"ISO 2531", "EN 545 DN 200 K9", "ductile iron", 222, 6.3},
      {"EN 545", "DN200 C40", "", 222, 3.1, ductile},
      {"EN 545", "DN 200 class 40", "ductile iron", 222, 3.1, ductile},
      {"EN 545", "DI 200 C40", "", 222, 3.1, ductile},
      // AWWA C151: 8 in 9.05 in, class 350 0.25 in; 12 in 13.20 in, 0.28 in.
      {"AWWA C151", "NPS 8 class 350", "ductile iron", 229.87, 6.35},
      {"AWWA C151", "8 in class 350", "", 229.87, 6.35},
      {"AWWA C151", "12\" DI CL 350", "", 335.28, 7.11},
      // Ductile iron has no schedules: 350 is the class.
      {"AWWA C151", "8 in sch 350", "ductile iron", 229.87, 6.35},
      {"AWWA C151", "8 in sch class 350", "ductile iron", 229.87, 6.35},
      {"AWWA C151", "DN 200 Class 350", "ductile iron", 229.87, 6.35},
      {"AWWA C151", "DIP 12\" PC350", "ductile_iron", 335.28, 7.11},
  }));
  static_cast<void>(nominal);
  check_understood(row);
}

TEST_CASE("dimensions are taken as written") {
  // By hand; 1 in = 25.4 mm exactly.
  const auto row = GENERATE(values<Understood>({
      {written, "168.3 x 7.11 mm", "", 168.3, 7.11},
      {written, "168.3X7.11mm", "", 168.3, 7.11},
      {written, "168.3 mm x 7.11 mm", "", 168.3, 7.11},
      {written, "168.3mmx7.11mm", "", 168.3, 7.11},
      {written, "168.3mm\u00D77.11mm", "", 168.3, 7.11},
      {written, "168,3 x 7,11 mm", "", 168.3, 7.11},
      {written, "\u00D8168,3 x 7,11 mm", "", 168.3, 7.11},
      {written, "OD 168.3 mm x 7.11", "", 168.3, 7.11},
      {written, "OD: 168.3 mm, wall thickness: 7.11 mm", "", 168.3, 7.11},
      {written, "OD=88.9 WT=3.2", "", 88.9, 3.2},
      {written, "D=159 s=4.5", "", 159, 4.5},
      {written, "AD 168,3 x 7,1", "", 168.3, 7.1},
      {written, "168.3 x 7.11 - 6000", "", 168.3, 7.11},
      {written, "316 60.3x1.65", "", 60.3, 1.65},
      {written, "316 50.8x1.65 mm", "", 50.8, 1.65},
      {written, "X-65 508 x 12.7", "", 508, 12.7},
      {written, "\u0441\u0442\u0430\u043B\u044C 20 57\u04453", "", 57, 3},
      {written, "\u0414\u043D 500\u044510", "", 500, 10},
      {written, "\u0414\u043D 500\u044510", "carbon steel", 500, 10},
      {written, "200 x 7.7 mm SDR 26", "PVC", 200, 7.7},
      {written, "6.625 x 0.280 in", "", 168.275, 7.112},
      {written, "6.625\" x .280\"", "", 168.275, 7.112},
      {written, "6 5/8 in x 7.11 mm", "", 168.275, 7.11},
      {written, "4.5\" OD x 0.237\"", "", 114.3, 6.0198},
      {written, "OD 6 in x 0.280 in", "", 152.4, 7.112},
      {written, "1\" tube 0.065 wall", "", 25.4, 1.651},
      {written, "4\" OD tube x 0.065\"", "", 101.6, 1.651},
      {written, "EN 10220 168.3 x 7.1", "", 168.3, 7.1},
      {written, "en 10220 168,3 x 7,1 mm", "", 168.3, 7.1},
      {written, "EN 10216-2 P235GH 114.3 x 6.3", "", 114.3, 6.3},
      {written, "NPS 6 x 7.5 mm", "", 168.3, 7.5},
      {written, "DN 100 x 6.3", "carbon steel", 114.3, 6.3},
      {written, "DN 6 x 1 mm ASME B36.10M", "", 10.3, 1},
      {written, "EN 10220 DN 150 x 5 mm", "", 168.3, 5},
      {written, "177 x 12 mm", "cast_iron_gray", 177, 12},
      // No unit, but an outside diameter of the tables in mm and no other reading.
      {written, "4IN, 114.3X6.02", "", 114.3, 6.02},
      {written, "114.3X6.02", "", 114.3, 6.02},
      {written, "168,3*7,1", "", 168.3, 7.1},
      {written, "\u00D8139,7 x 4,5", "", 139.7, 4.5},
      {written, "\u03C676.3\u00D74.2", "", 76.3, 4.2},
      {written, "TB A53 \u00D8114,3x6,02 L6000mm", "", 114.3, 6.02},
      {written, "DN 100 (\u00D8114,3 x 2 mm)", "", 114.3, 2},
      {written, "DN 100 x 114.3 x 6.3", "", 114.3, 6.3},
      {written, "12\" (323.9 x 7.1)", "", 323.9, 7.1},
      {written, "114.3 x 6.02 x 6000 mm", "", 114.3, 6.02},
      {written, "P235GH 168.3x7.1", "carbon steel", 168.3, 7.1},
      {written, "219x6", "", 219, 6},
      // Cyrillic letters for the diameter sign, Latin D with Cyrillic н, a blank between thousands.
      {written, "\u044457\u04453,5", "", 57, 3.5},
      {written, "\u0424114\u04454", "", 114, 4},
      {written, "\u0444 57\u04453,5", "carbon steel", 57, 3.5},
      {written, "\u041E114\u04454", "", 114, 4},
      {written, "D\u043D 219\u04456", "carbon steel", 219, 6},
      {written, "1 016 x 12,5", "carbon steel", 1016, 12.5},
      {written, "1 016 x 12.5", "", 1016, 12.5},
      {written, "1 220 mm x 12,5 mm", "", 1220, 12.5},
      {written, "\u00D81\u00A0016,0 x 12,5", "", 1016, 12.5},
      {written, "76\u04453,5 \u0413\u041E\u0421\u0422 10704-91", "carbon steel", 76, 3.5},
      {written,
       "\u0422\u0440\u0443\u0431\u0430 "
       "\u0441\u0442\u0430\u043B\u044C\u043D\u0430\u044F 76\u04453,5",
       "", 76, 3.5},
      {written, "\u0413\u041E\u0421\u0422 8732-78 108\u04454", "", 108, 4},
      {written, "\u0442\u0440\u0443\u0431\u0430 \u0441\u044220 57\u04453,5", "", 57, 3.5},
      {written, "PE-HD 63x5,8", "", 63, 5.8},
      {written, "32x3", "PE", 32, 3},
      // Stainless tube of DIN 11850, ISO 2037 and ISO 1127; ASME has no pipe of these.
      {written, "53 x 1.5", "stainless steel", 53, 1.5},
      {written, "104x2", "stainless steel", 104, 2},
      {written, "50.8x1.65", "stainless steel", 50.8, 1.65},
      {written, "41x1,5", "stainless steel", 41, 1.5},
      {written, "28 x 1", "stainless steel", 28, 1},
      {written, "18 x 1", "stainless steel", 18, 1},
      {written, "316L 129 x 2", "", 129, 2},
      {written, "\u03C6114.3\u00D74.5t", "", 114.3, 4.5},
      {written, "88.9 OD x 3.2 WT", "carbon steel", 88.9, 3.2},
      {written, "Rura 114,3x4,5", "carbon steel", 114.3, 4.5},
      {written, "AISI 316L \u00D860,3x2", "stainless steel", 60.3, 2},
      {written, "PVC 160 x 4.0", "", 160, 4},
      {written, "160 x 6.2 SDR 26", "", 160, 6.2},     // PE or PVC
      {written, "160 x 6.2 SDR 26", "PVC", 160, 6.2},  // SDR = 160 / 6.2 to 1 %
      {written, "\u00D8 20 x 2", "PE", 20, 2},
      {written, "6.625 x .280", "", 168.275, 7.112},  // a row of B36.10M in inches
  }));
  check_understood(row);
}

TEST_CASE("a wall beside a nominal size finds its row") {
  // ASME B36.10M: NPS 6 sch 40 7.11 mm (0.280 in), NPS 4 6.02 mm (0.237 in), NPS 12 STD 0.375 in,
  // NPS 16 sch 30 (STD) 9.53 mm.
  const auto row = GENERATE(values<Understood>({
      {b36_10, "6\" x .280 wall", "", 168.3, 7.11},
      {b36_10, "6\" x 0.280\"", "", 168.3, 7.11},
      {b36_10, "6\" wall 0.28", "", 168.3, 7.11},
      {b36_10, "0.28\" wall, 6\" pipe", "", 168.3, 7.11},
      {b36_10, "6\" x 7.11", "", 168.3, 7.11},
      {b36_10, "NPS 4 x 6.02", "", 114.3, 6.02},
      {b36_10, "NPS 4 x 0.237", "", 114.3, 6.02},
      {b36_10, "NPS 12 x .375", "", 323.8, 9.53},
      {b36_10, "4 x 6.02", "", 114.3, 6.02},
      {b36_10, "24 x .375", "", 610, 9.53},
      {b36_10, "16\" x 0.375\"", "", 406.4, 9.53},
      {b36_10, "4\" 6.02 mm", "", 114.3, 6.02},
      {b36_10, "4\" .237w", "", 114.3, 6.02},
      {b36_10, "API 5L 12\" 0.375\" wall", "", 323.8, 9.53},  // line pipe, no tube
  }));
  check_understood(row);
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
    const char* family;
    double outside_diameter_mm;
  };
  const auto row = GENERATE(values<Row>({
      {b36_10, "NPS 6", "", 168.3},
      {b36_10, "NPS 6", "carbon steel", 168.3},
      {b36_10, "NPS 6 in", "", 168.3},
      {b36_10, "1/2 NPS", "", 21.3},
      {b36_10, "NPS 1/2", "carbon steel", 21.3},
      {b36_10, "1/2\" NPT", "", 21.3},
      {b36_10, "4\" pipe", "", 114.3},
      {b36_10, "4\" nominal", "", 114.3},
      {b36_10, "6 in. nom.", "", 168.3},
      {b36_10, "6 in. nom.", "carbon steel", 168.3},
      {b36_10, "100 NB", "", 114.3},
      {b36_10, "6\"-CW-1001-A1B-H", "", 168.3},
      {b36_10, "6\"-CW-1001-A1B-H", "carbon steel", 168.3},
      {b36_10, "CW-1001-6\"-A1B", "", 168.3},
      {b36_10, "1-1/2\"-P-2034-CS1", "", 48.3},
      {b36_10, "6\" 150#", "", 168.3},
      {b36_10, "6 inch class 150", "", 168.3},
      {b36_10, "ANSI 300 6\"", "", 168.3},
      {b36_10, "NPS 10", "carbon steel", 273},
      {b36_19, "NPS 10", "stainless", 273.1},
      {b36_10, "NPS 26", "stainless_304", 660},  // not in B36.19M
      {b36_19, "1.4404 DN100", "", 114.3},
      {b36_10, "DN100", "carbon steel", 114.3},
      {b36_10, "DN100 (4\")", "carbon steel", 114.3},
      {b36_10, "DN 100 PN16", "carbon steel", 114.3},
      {b36_10, "DN150/6\"", "carbon steel", 168.3},
      {b36_10, "\u0414\u0443 100", "carbon steel", 114.3},
      {b36_10, "\u0414\u0423100", "carbon steel", 114.3},
      {b36_10, "\u0414\u0443-40", "carbon steel", 48.3},
      {"as written", "\u0414\u043D 530", "carbon steel", 530},  // outside: there is no DN 530
      {b36_10, "8 in", "carbon steel", 219.1},  // the trade counts steel pipe in nominal inches
      {b36_10, "4\"", "carbon steel", 114.3},
      {b36_19, "4\"", "stainless steel", 114.3},
      {b36_10, "16\"", "carbon steel", 406.4},  // from NPS 14 nominal and diameter are the same
      {"EN 10220 series 1 and ASME B36.10M agree", "DN 150", "carbon steel", 168.3},
      {"EN 10220 series 1", "EN 10220 DN 125", "", 139.7},
      {"EN 10255", "1/2\" BSPT", "", 21.3},
      {"EN 10255", "1/2 BSP", "", 21.3},
      {"EN 10255", "G 1/2", "", 21.3},
      {"EN 10255", "6\" BSP", "", 165.1},
      {"JIS G 3452", "65A", "", 76.3},
      {"JIS G 3452", "2 1/2B", "carbon steel", 76.3},
      {"JIS G 3452", "SUS304 100A", "", 114.3},
      {"EN 545", "DN100", "ductile iron", 118},
      {"EN 545", "DN 300 DI", "", 326},
      {"AWWA C151", "8\"", "ductile iron", 229.87},
      {"AWWA C900", "6\" C900", "", 175.3},
      {"ASTM D1785", "2\"", "PVC", 60.33},  // C900 starts at NPS 4
      {"AWWA C900", "8\"", "PVC C900", 229.9},
      {"ASTM F714", "HDPE 4\"", "", 114.3},
      {"ASTM B466", "2\"", "copper-nickel", 60.32},
      {"EN 1057", "28 mm Cu", "", 28},
      {"EN 1057", "15 mm", "copper", 15},
      {"ISO 4427", "110 mm", "PE", 110},
      {"ISO 4427", "d110", "PE", 110},
      {"ISO 4427", "DN 110", "PE", 110},
      {"ISO 4427", "200 mm PE", "", 200},
      {"EN ISO 1452: metric d", "PVC-U d110 PN10", "", 110},
      {"EN ISO 1452: metric d", "DN 160", "PVC", 160},
      {"as written", "114.3 mm", "", 114.3},
      {"as written", "1 016 mm", "carbon steel", 1016},
      {"as written", "\u0444 159", "carbon steel", 159},
      {"ASME B36.10M", "DN 1 000", "carbon steel", 1016},
      {"as written", "\u00D8 48,3", "", 48.3},
      {"as written", "\u03C6 89.1", "", 89.1},
      {"as written", "0.1143 m", "", 114.3},
      {"as written", "16.83 cm", "", 168.3},
      {"as written", "OD 4 in", "", 101.6},
      {"as written", "1\" tube", "", 25.4},
      {"as written", "6\" (168.3 mm)", "", 168.3},
      {"as written; 8.6 in is no nominal size", "8.6 in", "", 218.44},
  }));
  CAPTURE(row.source, row.text, row.family);
  const SizeReading reading = read_size(row.text, row.family);
  CAPTURE(reading.message, reading.readings);
  REQUIRE(reading.kind == Kind::needs_wall);
  CHECK(reading.outside_diameter_m == Approx(row.outside_diameter_mm / 1000).margin(rounding_m));
  CHECK(reading.wall_m == 0);
  CHECK(reading.row == nullptr);
  CHECK(holds(reading.message, "wall is missing"));
}

TEST_CASE("what has several readings is not guessed") {
  struct Row {
    const char* text;
    const char* family;
    std::vector<std::string> readings;
  };
  const auto row = GENERATE(values<Row>({
      {"4\"", "", {"NPS 4", "OD 4 in"}},
      {"4''", "", {"NPS 4", "OD 4 in"}},
      // "Diameter" and its sign are said of nominal sizes, too; a schedule speaks for these.
      {"8\" dia", "", {"NPS 8", "OD 8 in"}},
      {"8\" dia", "carbon steel", {"NPS 8", "OD 8 in"}},
      {"diameter 8\"", "", {"NPS 8", "OD 8 in"}},
      {"\u00D88\"", "", {"NPS 8", "OD 8 in"}},
      {"\u00D81-1/2", "", {"NPS 1-1/2", "OD 1-1/2 in"}},
      {"8\" dia x 8.18 mm", "", {"NPS 8 x 8.18 mm", "OD 203.2 x 8.18 mm"}},
      {"\u00D86\" x 0.280\"", "", {"NPS 6 x 7.112 mm", "OD 152.4 x 7.112 mm"}},
      {"\u00D8 6\" SCH 40", "carbon steel", {"NPS 6 sch 40", "OD 6 in"}},
      {"OD 6\" SCH 40", "carbon steel", {"NPS 6 sch 40", "OD 6 in"}},
      {"6\" dia SCH 40", "carbon steel", {"NPS 6 sch 40", "OD 6 in"}},
      {"\u00D8 6\" SCH 10S", "stainless steel", {"NPS 6 sch 10S", "OD 6 in"}},
      {"\u00D812\" DR 17 HDPE", "", {"ASTM F714 NPS 12 DR 17", "OD 12 in"}},
      {"OD 10\" SDR 17", "PE", {"ASTM F714 NPS 10 DR 17", "OD 10 in"}},
      {"\u00D83-1/2\" SCH 40", "", {"NPS 3-1/2 sch 40", "NPS 3 sch 40"}},  // NPS 3: OD 3-1/2 in
      // Russian "Dn" is DN or the outside diameter.
      {"\u0414\u041D50", "carbon steel", {"ASME B36.10M DN 50", "OD 50 mm"}},
      // Metric PVC by its ratio; least wall d / SDR, the mean one 6 % or 0.25 mm above.
      {"200 mm SDR 26", "PVC", {"ASTM D2241 NPS 8 SDR 26", "OD 200 x 8.2 mm"}},
      {"PVC 200 SDR 26", "", {"ASTM D2241 NPS 8 SDR 26", "OD 200 x 8.2 mm"}},
      {"PVC 200 mm SDR 21", "", {"ASTM D2241 NPS 8 SDR 21", "OD 200 x 10.1 mm"}},
      {"250 mm SDR 21", "PVC", {"ASTM D2241 NPS 10 SDR 21", "OD 250 x 12.6 mm"}},
      {"400 mm SDR 26", "PVC", {"ASTM D2241 NPS 16 SDR 26", "OD 400 x 16.3 mm"}},
      {"50 mm SDR 21", "PVC", {"ASTM D2241 NPS 2 SDR 21", "OD 50 x 2.6 mm"}},
      {"32 mm SDR 21", "PVC", {"ASTM D2241 NPS 1-1/4 SDR 21", "OD 32 x 1.8 mm"}},
      {"90 mm SDR 17", "PVC", {"ASTM D2241 NPS 3-1/2 SDR 17", "OD 90 x 5.6 mm"}},
      {"PVC 200mm DR 18", "", {"AWWA C900 NPS 8 DR 18", "OD 200 x 11.8 mm"}},
      {"150 mm SDR 26", "PVC", {"ASTM D2241 NPS 6 SDR 26", "OD 160 x 6.5 mm"}},
      {"DN 200 SDR 26", "PVC", {"ASTM D2241 NPS 8 SDR 26", "OD 200 x 8.2 mm", "OD 225 x 9.2 mm"}},
      {"100 mm SDR 11", "HDPE", {"ASTM F714 NPS 4 DR 11", "ISO 4427 110 SDR 11"}},
      {"100 SDR 11", "PE", {"ASTM F714 NPS 4 DR 11", "ISO 4427 110 SDR 11"}},
      {"1 1/4", "", {"NPS 1-1/4", "OD 1-1/4 in"}},
      {"6 5/8\"", "", {"NPS 6", "OD 6-5/8 in"}},
      {"8\" x 0.5\"", "", {"NPS 8 x 12.7 mm", "OD 203.2 x 12.7 mm"}},  // a wall of tubes, too
      {"2\" x 0.065\"", "", {"NPS 2 x 1.651 mm", "OD 50.8 x 1.651 mm"}},
      {"DN100", "", {"ASME B36.10M DN 100", "ISO 2531 DN 100", "OD 110 mm"}},
      {"dn 100", "", {"ASME B36.10M DN 100", "ISO 2531 DN 100", "OD 110 mm"}},
      {"DN100 (4\")", "", {"ASME B36.10M DN 100", "ISO 2531 DN 100", "OD 110 mm"}},
      {"DN100", "PVC", {"ASTM D1785 DN 100", "AWWA C900 DN 100", "OD 110 mm"}},
      {"DN100", "PE", {"ASTM F714 DN 100", "OD 110 mm"}},
      {"DN125", "carbon steel", {"ASME B36.10M DN 125", "EN 10220 DN 125"}},
      {"DN65", "carbon steel", {"ASME B36.10M DN 65", "EN 10220 DN 65"}},
      {"DN 65", "stainless steel", {"ASME B36.19M DN 65", "EN 10220 DN 65"}},
      {"150 mm", "carbon steel", {"ASME B36.10M DN 150", "OD 150 mm"}},
      {"0.2 m", "", {"ASME B36.10M DN 200", "OD 200 mm"}},
      {"15\u04452.8, \u043C.\u043F", "", {"ASME B36.10M DN 15 x 2.8 mm", "OD 15 x 2.8 mm"}},
      {"100 x 4 mm", "carbon steel", {"ASME B36.10M DN 100 x 4 mm", "OD 100 x 4 mm"}},
      {"28x1", "", {"NPS 28 x 25.4 mm", "OD 28 x 1 mm"}},
      // NPS 12 sch 120 is 25.4 mm = 1 in thick; NPS 6 and DN 25 are sizes as well.
      {"12 x 1", "stainless steel", {"NPS 12 x 25.4 mm", "OD 12 x 1 mm"}},
      {"25 x 2",
       "stainless steel",
       {"ASME B36.19M DN 25 x 2 mm", "OD 33.7 x 2 mm", "OD 25 x 2 mm"}},
      {"\u00D820 x 0.5", "", {"OD 20 x 0.5 mm", "OD 508 x 12.7 mm"}},  // NPS 20 XS in inches
      {"6 sch 40", "", {"NPS 6 sch 40", "NPS 1/8 sch 40"}},            // inches or DN
      {"6 NB", "", {"NPS 6", "ASME B36.10M DN 6"}},
      {"12\" 40/STD", "", {"NPS 12 sch 40", "NPS 12 STD"}},
      {"6\" sch 40 x 6.0 mm", "", {"NPS 6 sch 40", "NPS 6 x 6 mm"}},
      {"8\" PVC", "", {"ASTM D1785 NPS 8", "AWWA C900 NPS 8"}},
      {"200 mm DI", "", {"EN 545 DN 200", "AWWA C151 DN 200"}},
      {".4m 300mm  DI",
       "",
       {"EN 545 DN 400", "AWWA C151 DN 400", "EN 545 DN 300", "AWWA C151 DN 300"}},
      {"8\" DR 17", "", {"ASTM F714 NPS 8 DR 17", "ASTM D2241 NPS 8 SDR 17"}},
      {"16\" SDR 21", "PVC", {"ASTM D2241 NPS 16 SDR 21", "AWWA C905 NPS 16 DR 21"}},
      {"PE100 DN200 SDR11",
       "",
       {"ISO 4427 200 SDR 11", "ASTM F714 NPS 8 DR 11", "ISO 4427 225 SDR 11"}},
      {"2\"", "copper", {"ASTM B88 size 2", "ASTM B42 NPS 2", "OD 2 in"}},
      {"4\"x3\"", "", {"NPS 4", "NPS 3"}},
      {"6x4", "", {"NPS 6", "NPS 4"}},
      {"DN100xDN80", "carbon steel", {"ASME B36.10M DN 100", "ASME B36.10M DN 80"}},
      {"5/8x3/4", "", {"OD 5/8 in", "NPS 3/4"}},
      {"6-8\"", "", {"NPS 6", "NPS 8"}},
      {"6\", 8\"", "", {"NPS 6", "NPS 8"}},
      {"48/54?", "", {"NPS 48", "OD 54 in"}},
      {"10.3 (was 12.7)", "", {"OD 10.3 mm", "OD 12.7 mm"}},
      {"2.75 / 4.28 / 4.49", "", {"OD 2.75 mm", "OD 4.28 mm", "OD 4.49 mm"}},
      {"6\" (152 mm)", "", {"NPS 6", "OD 152 mm"}},
      {"DN100 (3\")", "carbon steel", {"ASME B36.10M DN 100", "NPS 3"}},
      {"NPS 6 sch 40?", "", {"NPS 6 sch 40"}},
      {"approx 6\"", "", {"NPS 6", "OD 6 in"}},
      {"~8\"", "", {"NPS 8", "OD 8 in"}},
      {"~8\"", "carbon steel", {"NPS 8"}},
      {"12\"x8\" SCH40", "", {"NPS 12 sch 40", "NPS 8 sch 40"}},
      {"6\" SCH 40 x 10.97", "", {"NPS 6 sch 40", "NPS 6 sch 80"}},
  }));
  CAPTURE(row.text, row.family);
  const SizeReading reading = read_size(row.text, row.family);
  CAPTURE(reading.message);
  CHECK(reading.kind == Kind::ambiguous);
  CHECK(reading.readings == row.readings);
  CHECK_FALSE(reading.message.empty());
  CHECK(reading.outside_diameter_m == 0);
  check_readings(reading, row.family);
}

TEST_CASE("what is not understood is refused, with what it could mean") {
  struct Row {
    const char* text;
    const char* family;
    const char* message;  ///< what the message must say
    const char* reading;  ///< one of the readings; null: there must be none
  };
  const auto row = GENERATE(values<Row>({
      // Nothing is known.
      {"", "", "missing size", nullptr},
      {"   ", "", "missing size", nullptr},
      {"?", "", "missing size", nullptr},
      {"-", "", "missing size", nullptr},
      {"0", "", "missing size", nullptr},
      {"n/a", "", "missing size", nullptr},
      {"NA", "", "missing size", nullptr},
      {"TBD", "", "missing size", nullptr},
      {"NULL", "", "missing size", nullptr},
      {"unknown", "", "missing size", nullptr},
      {"UNK", "", "missing size", nullptr},
      {"see photo", "", "missing size", nullptr},
      // A wall without a size.
      {"sch 40", "", "names no size", nullptr},
      {"STD", "", "names no size", nullptr},
      {"#40", "", "names no size", nullptr},
      {"40/STD", "", "names no size", nullptr},
      {"Ced 40", "", "names no size", nullptr},
      {".375w", "", "names no size", nullptr},
      {"DI", "", "names no size", nullptr},
      {"0.237\"", "", "is no nominal size", "NPS 4 STD"},
      {"6.02mm", "", "no outside diameter of the tables", "OD 6.02 mm"},
      // Words that are not understood.
      {"DIN 2440 DN 50", "carbon steel", "\"2440\" is not understood", "ASME B36.10M DN 50"},
      {"NPS 6 sch 40 lined", "", "\"lined\" is not understood", "NPS 6 sch 40"},
      {"NPS 6 sch", "", "\"sch\" is not understood", "NPS 6"},
      {"NPS 6 40", "", "\"40\" is not understood", "NPS 6 sch 40"},
      {"6 in 350", "ductile iron", "\"350\" is not understood", "AWWA C151 6 in class 350"},
      {"nan x 5 mm", "", "is not understood", "OD 5 mm"},
      {"6\" 40#", "", "is not understood", "NPS 6"},
      {"GS 4\"", "", "\"GS\" is not understood", "NPS 4"},  // galvanised steel or grey iron
      {"168.3 x 7.11 furlong", "", "\"furlong\" is not understood", "OD 168.3 x 7.11 mm"},
      // A fraction is one of inches, never of millimetres.
      {"OD 6 5/8 mm sch 40", "", "a fraction counts inches, but \"mm\" stands behind it",
       "NPS 6 sch 40"},
      {"OD 6 5/8 mm", "carbon steel", "a fraction counts inches", "OD 6-5/8 in"},
      {"6 5/8 mm", "", "a fraction counts inches", "NPS 6"},
      {"NPS 6 x 1/4 mm", "", "a fraction counts inches", "NPS 6 x 6.35 mm"},
      // Walls by gauge: 16 is 1.651 mm by Birmingham, 1.519 mm by the sheet steel gauge.
      {"2\" 16 ga", "stainless steel", "\"16 ga\" is a wall by gauge", "NPS 2"},
      {"2 in x 16 ga", "", "\"16 ga\" is a wall by gauge", "OD 2 in"},
      {"2\" tube 16-gauge 316L", "", "is a wall by gauge", "OD 2 in"},
      {"2\" OD BWG 16", "copper", "\"BWG 16\" is a wall by gauge", "OD 2 in"},
      {"100 GA", "", "has no unit", "ASME B36.10M DN 100"},  // galvanised steel
      {"16 ga", "stainless steel", "\"16 ga\" is a wall by gauge", nullptr},
      // Names of walls that the size does not have.
      {"NPS 6 sch 30", "", "NPS 6 has no sch 30; it has sch 5, sch 10, sch 40", "NPS 6 sch 40"},
      {"DN150 sch 30", "", "NPS 6 has no sch 30", "NPS 6 sch 40"},
      {"ASME B36.19M NPS 6 sch 40", "", "ASME B36.19M NPS 6 has no sch 40", "NPS 6 sch 40S"},
      {"NPS 26 sch 40S", "", "ASME B36.10M NPS 26 has no sch 40S", "NPS 26 STD"},
      {"ASME B36.19M NPS 26 sch 40S", "", "there is no NPS 26", "NPS 24"},
      {"2\" sch 40", "copper", "has no sch 40", "ASTM B42 NPS 2 regular"},
      {"6\" sch 40", "copper-nickel", "has no sch 40", "ASTM B466 NPS 6 regular"},
      {"4\" sch 40", "PE", "has no sch 40", "ASTM F714 NPS 4 DR 11"},
      {"6\" SDR 35", "PVC", "has no SDR 35", "ASTM D2241 NPS 6 SDR 26"},
      {"8\" class 150", "PVC", "has no class 150", "AWWA C900 NPS 8 DR 18"},
      {"DN200 K7", "ductile iron", "has no K7; it has K9", "ISO 2531 DN 200 K9"},
      {"150 mm DI class 52", "", "has no thickness class 52; it has class 350",
       "AWWA C151 6 in class 350"},
      {"8\" CL52", "ductile iron", "has no thickness class 52", "AWWA C151 8 in class 350"},
      {"110 SDR 26", "PVC", "SDR 26 is not in the tables of PVC pipe", "OD 110 x 4.5 mm"},
      // AWWA C900 and C905: diameters of cast iron, no schedules.
      {"8 in sch 40", "PVC C900", "AWWA C900 NPS 8 has no sch 40; it has DR 25, DR 18, DR 14",
       "AWWA C900 NPS 8 DR 18"},
      {"NPS 16 sch 40", "PVC C900", "AWWA C905 NPS 16 has no sch 40", "AWWA C905 NPS 16 DR 25"},
      {"C900 8 in sch 40", "", "AWWA C900 NPS 8 has no sch 40", "AWWA C900 NPS 8 DR 18"},
      {"8\" CIOD sch 40", "PVC", "AWWA C900 NPS 8 has no sch 40", "AWWA C900 NPS 8 DR 18"},
      {"8\" DR 11 DIPS", "PE", "SDR 11 is not in the tables of PE pipe", nullptr},
      {"CPVC 1\" CTS", "", "copper tube sizes", "OD 28.57 mm"},  // 1 + 1/8 in outside
      {"EN 10220 DN 150 sch 40", "", "EN 10220 names no walls", "EN 10220 168.3 x 4.5 mm"},
      {"XS 80", "", "a schedule or a size", "NPS 3 XS"},
      // Sizes that are not there.
      {"NPS 7 sch 40", "", "there is no NPS 7", "NPS 6"},
      {"NPS 7 sch 40", "", "there is no NPS 7", "NPS 8"},
      {"NPS 5/8", "", "there is no NPS 5/8", "NPS 1/2"},
      {"DN 160 sch 40", "", "there is no DN 160", "ASME B36.10M NPS 6"},
      {"\u0414\u0443 1020", "carbon steel", "there is no DN 1020", "OD 1020 mm"},
      {"7\"", "", "is no nominal size", "OD 7 in"},
      {"13/16", "", "is no nominal size", "NPS 1/2"},
      {"EN 10220 NPS 6", "", "there is no NPS 6 in EN 10220", "EN 10220 DN 150"},
      {"NPS 0", "", "must be above 0", nullptr},
      {"DN 0", "", "must be above 0", nullptr},
      {"0 mm", "", "must be above 0", nullptr},
      {"NPS 6.1 sch 40", "", "there is no NPS 6.1", "NPS 6"},
      {"DN 99999", "", "larger than any pipe", nullptr},
      {"219.1 m", "", "larger than any pipe", "OD 219.1 mm"},
      {"219,1 m x 6,3", "", "larger than any pipe", "OD 219.1 mm"},
      {"7000 x 20 mm", "", "larger than any pipe", nullptr},
      {"DN 99999999999999999999", "", "is not understood", nullptr},
      // Materials outside the tables.
      {"NPS 6 sch 40", "titanium", "sizes of titanium pipe", "ASME B36.10M NPS 6 sch 40"},
      {"DN 100", "titanium", "sizes of titanium pipe", "ASME B36.10M NPS 4"},
      // Grey iron has no walls of ductile iron, whatever the standard.
      {"CI 6\"", "", "sizes of cast iron pipe", nullptr},
      {"6\"", "cast_iron_gray", "sizes of cast iron pipe", nullptr},
      {"DN 150 K9", "cast_iron_gray", "walls are not those of ductile iron", nullptr},
      {"6 in class 350", "cast_iron_gray", "walls are not those of ductile iron", nullptr},
      {"AWWA C151 6 in class 350", "cast_iron_gray",
       "says AWWA C151, but the material is cast iron", nullptr},
      {"EN 545 DN 150", "cast iron", "says EN 545, but the material is cast iron", nullptr},
      {"AC 200", "", "sizes of asbestos cement pipe", "OD 200 mm"},
      // No unit.
      {"150", "", "has no unit", "ASME B36.10M DN 150"},
      {"150", "", "has no unit", "OD 150 mm"},
      {"6", "", "has no unit", "NPS 6"},
      {"6", "", "has no unit", "OD 6 mm"},
      {"66", "", "has no unit", "OD 66 mm"},
      {"457.2", "", "has no unit", "NPS 18"},
      {"457.2", "", "has no unit", "OD 457.2 mm"},
      {"114,3", "PVC", "has no unit", "ASTM D1785 NPS 4"},
      {"\u00D8 150", "", "has no unit", "OD 150 mm"},
      {"5 x 2.5", "", "has no unit", "NPS 5 x 2.5 mm"},
      {"\u00D8 1,220", "", "comma", "OD 1220 mm"},
      {"1,220 mm", "", "comma", "OD 1.220 mm"},
      // Dimensions that make no pipe.
      {"ID 150 mm", "", "inside diameter", nullptr},
      {"168.3 x 84.15 mm", "", "leaves no bore", "OD 168.3 mm"},
      {"168.3 x 711 mm", "", "leaves no bore", "OD 711 x 168.3 mm"},
      {"7.11 x 168.3 mm", "", "leaves no bore", "OD 168.3 x 7.11 mm"},
      {"0 x 0 mm", "", "must be above 0", nullptr},
      {"168.3 x 0 mm", "", "a wall must be above 0", "OD 168.3 mm"},
      {"ASME B36.10M 168.3 x 7.0 mm", "", "has no pipe of 168.3 x 7 mm", "OD 168.3 x 7 mm"},
      {"DN100 6.3 mm", "carbon steel", "what is 6.3 mm", "ASME B36.10M DN 100 x 6.3 mm"},
      // The text contradicts the material, or itself.
      {"PVC 6\" sch 80", "carbon steel", "says PVC, but the material is carbon steel",
       "NPS 6 sch 80"},
      {"CS 4\" sch 40", "stainless steel", "says carbon steel, but the material is stainless",
       "NPS 4 sch 40"},
      {"PE 110 SDR 11", "PVC", "says PE, but the material is PVC", "OD 110 x 10.6 mm"},
      {"ASTM D1785 NPS 6 sch 40", "carbon steel", "says ASTM D1785", "NPS 6 sch 40"},
      {"ASME B36.10M NPS 6 sch 40", "PVC", "says ASME B36.10M", "ASTM D1785 NPS 6 sch 40"},
      {"DI 6\"", "cast_iron_gray", "says ductile iron, but the material is cast iron", nullptr},
      {"4\" sch 40 CS/SS", "", "says carbon steel and stainless steel", "NPS 4 sch 40"},
  }));
  CAPTURE(row.text, row.family);
  const SizeReading reading = read_size(row.text, row.family);
  CAPTURE(reading.message, reading.readings);
  CHECK(reading.kind == Kind::not_understood);
  CHECK(holds(reading.message, row.message));
  CHECK_FALSE(holds(reading.message, "\n"));
  if (row.reading) {
    CHECK(holds(reading.readings, row.reading));
  } else {
    CHECK(reading.readings.empty());
  }
  CHECK(reading.outside_diameter_m == 0);
  CHECK(reading.wall_m == 0);
  check_readings(reading, row.family);
}

TEST_CASE("what a message says to write can be written") {
  struct Row {
    const char* text;
    const char* family;
  };
  const auto row = GENERATE(values<Row>({
      {"6 in", "ductile iron"},
      {"DN 150", "ductile iron"},
      {"6 in 350", "ductile iron"},
      {"class 350", "ductile iron"},
      {"K9", "ductile iron"},
      {"150", "ductile iron"},
      {"150", "PE"},
      {"SDR 11", "PE"},
      {"4\"", "PE"},
      {"110 mm", "PE"},
      {"sch 80", "PVC"},
      {"2\"", "PVC"},
      {"sch 80", "CPVC"},
      {"1\"", "CPVC"},
      {"28 mm", "copper"},
      {"28", "copper"},
      {"type L", "copper"},
      {"2\"", "copper-nickel"},
      {"special 1", "copper-nickel"},
      {"NPS 6", "carbon steel"},
      {"sch 40", "carbon steel"},
      {"NPS 6", "stainless steel"},
      {"66 x 3", "stainless steel"},
      {"6\"", "cast_iron_gray"},
      {"6\"", "titanium"},
      {"OD 4 in", ""},
      {"114.3 mm", ""},
      {"7\"", ""},
      {"13/16", ""},
      {"0", "PE"},
      {"NPS 6", "PVC C900"},
  }));
  CAPTURE(row.text, row.family);
  const std::string message = read_size(row.text, row.family).message;
  CAPTURE(message);
  std::size_t at = message.find("write");
  REQUIRE(at != std::string::npos);
  int proposals = 0;
  while ((at = message.find('"', at)) != std::string::npos) {
    const std::size_t end = message.find('"', at + 1);
    REQUIRE(end != std::string::npos);
    const std::string proposal = message.substr(at + 1, end - at - 1);
    CAPTURE(proposal);
    const SizeReading again = read_size(proposal, row.family);
    CAPTURE(again.message);
    CHECK((again.kind == Kind::understood || again.kind == Kind::needs_wall));
    ++proposals;
    at = end + 1;
  }
  CHECK(proposals > 0);
}

TEST_CASE("a schedule that is missing lists all that exist") {
  // ASME B36.10M, NPS 6: nine rows.
  CHECK(read_size("NPS 6 sch 30", "").readings ==
        std::vector<std::string>{"NPS 6 sch 5", "NPS 6 sch 10", "NPS 6 sch 40", "NPS 6 STD",
                                 "NPS 6 sch 80", "NPS 6 XS", "NPS 6 sch 120", "NPS 6 sch 160",
                                 "NPS 6 XXS"});
}

TEST_CASE("a flange class and PN are named as what they are") {
  CHECK(holds(read_size("6\" 150#", "").message, "class of a flange is no schedule"));
  CHECK(holds(read_size("DN 100 PN16", "carbon steel").message, "PN says nothing of the wall"));
}

TEST_CASE("what does not belong to the size is set aside") {
  struct Row {
    const char* text;
    std::vector<std::string> set_aside;
  };
  const auto row = GENERATE(values<Row>({
      {"PIPE 6 INCH SCH40 ASTM A106 GR B SMLS", {"PIPE", "ASTM A106 GR B", "SMLS"}},
      {"TB A53 \u00D8114,3x6,02 L6000mm", {"TB", "A53", "L6000mm"}},
      {"6\"-CW-1001-A1B-H", {"CW-1001-A1B-H"}},
      {"CW-1001-6\"-A1B", {"CW-1001", "A1B"}},
      {"6\" sch 40 150#", {"150#"}},
      {"6 inch class 150", {"class 150"}},
      {"DN 100 PN 16", {"PN 16"}},
      {"1.4404 DN100", {"1.4404"}},
      {"CuNi 90/10 2\"", {"90/10"}},
      {"114.3 x 6.02 x 6000 mm", {"6000 mm"}},
      {"1/2\" BSPT", {"BSPT"}},
      {"15\u04452.8, \u043C.\u043F", {"\u043C.\u043F"}},
      {"API 5L X52 PSL2 12\" STD", {"API 5L X52", "PSL2"}},
      {"NPS 6 sch 40", {}},
  }));
  CAPTURE(row.text);
  CHECK(read_size(row.text, "").set_aside == row.set_aside);
}

TEST_CASE("the words say what the pipe is made of") {
  struct Row {
    const char* text;
    const char* family;
  };
  // Words of inventories, drawings and lists; also without a size.
  const auto row = GENERATE(values<Row>({
      {"NPS 6 sch 40", ""},
      {"CI", "cast iron"},
      {"CIP 6\"", "cast iron"},
      {"CAS", "cast iron"},
      {"Cast Iron 8 in", "cast iron"},
      {"CICL 150", "cast iron"},
      {"DI", "ductile iron"},
      {"DIP", "ductile iron"},
      {"Ductile Iron", "ductile iron"},
      {"DICL", "ductile iron"},
      {"DIPL", "ductile iron"},
      {"AC", "asbestos cement"},
      {"ASB", "asbestos cement"},
      {"Asbestos Cement", "asbestos cement"},
      {"GAL", "carbon steel"},
      {"GI", "carbon steel"},
      {"Galvanized", "carbon steel"},
      {"CS", "carbon steel"},
      {"ST", "carbon steel"},
      {"STL", "carbon steel"},
      {"Steel", "carbon steel"},
      {"CSC", "concrete"},
      {"PCCP", "concrete"},
      {"COP", "copper"},
      {"CU", "copper"},
      {"Copper 2\"", "copper"},
      {"PE", "PE"},
      {"POLYE", "PE"},
      {"HDPE", "PE"},
      {"PEAD", "PE"},
      {"PE-HD", "PE"},
      {"PE100", "PE"},
      {"PVC-U", "PVC"},
      {"uPVC", "PVC"},
      {"PVC-C905", "PVC"},
      {"C900", "PVC"},
      {"FUSPVC", "PVC"},
      {"PVC-C", "CPVC"},
      {"PVCO", "PVC-O"},
      {"PE-X", "PEX"},
      {"PPR", "PP"},
      {"316SS", "stainless steel"},
      {"A106 Gr.B", "carbon steel"},
      {"1.4404", "stainless steel"},
      {"1.0345", "carbon steel"},
      {"P235GH", "carbon steel"},
      {"Po\u010Din\u010Dani \u010Delik", "carbon steel"},
      {"Nehr\u0111aju\u0107i \u010Delik", "stainless steel"},
      {"VCT", ""},
      {"LCP", ""},
      {"Wo", ""},
  }));
  CAPTURE(row.text);
  CHECK(read_size(row.text, "").material_family == row.family);
}

TEST_CASE("every row can be written and read back") {
  for (const PipeRecord& row : built_in_pipes()) {
    const std::string text = size_text(row);
    for (const std::string& family : {std::string(row.material_family), std::string()}) {
      CAPTURE(row.standard, text, family);
      const SizeReading reading = read_size(text, family);
      CAPTURE(reading.message);
      REQUIRE(reading.kind == Kind::understood);
      CHECK(reading.row == &row);
      CHECK(reading.outside_diameter_m ==
            Approx(row.outside_diameter_mm / 1000).margin(rounding_m));
      CHECK(reading.wall_m >= row.wall_mm / 1000 - rounding_m);
      CHECK(2 * reading.wall_m < reading.outside_diameter_m);
    }
  }
}

TEST_CASE("no text upsets the reader") {
  const std::string parts[] = {
      "NPS",   "6",      "\"",   "x",      "sch",  "40S",    "/",     "-",        "1/2",
      ",",     ".",      "\xff", "mm",     "#",    "\u00D8", "DN",    "EN 10220", "40/",
      "(",     "0",      "PE",   "SDR",    "11",   "type L", "K9",    "wall",     "16",
      "in",    "class",  "150",  "110",    "Cu",   "(4\")",  "114,3", "D",        "m",
      "heavy", "168.3",  "A",    "B",      "S",    "tube",   "pipe",  "\u00BD",   "\u0414\u0443",
      "A106",  "1.4404", "gr",   "CW-100", "C900", "was",    "?",     "28",       "C40"};
  const char* families[] = {
      "",       "carbon steel",  "stainless steel", "PVC",      "CPVC",          "PE",
      "copper", "copper-nickel", "ductile iron",    "concrete", "cast_iron_gray"};
  std::mt19937 random(20240501);
  const auto pick = [&](std::size_t count) { return random() % count; };
  for (int i = 0; i < 20000; ++i) {
    std::string text;
    for (std::size_t n = 1 + pick(6); n > 0; --n) {
      text += parts[pick(std::size(parts))];
      if (pick(2) == 0) text += ' ';
    }
    const std::string family = families[pick(std::size(families))];
    const SizeReading reading = read_size(text, family);
    CAPTURE(text, family);
    if (reading.kind == Kind::understood) {
      CHECK(reading.wall_m > 0);
      CHECK(2 * reading.wall_m < reading.outside_diameter_m);
    } else {
      CHECK_FALSE(reading.message.empty());
      CHECK((reading.kind == Kind::needs_wall) == (reading.outside_diameter_m > 0));
      if (reading.kind == Kind::ambiguous) CHECK_FALSE(reading.readings.empty());
      check_readings(reading, family);
    }
  }
}

TEST_CASE("any bytes are read, and long texts refused") {
  std::mt19937 random(7);
  for (int i = 0; i < 20000; ++i) {
    std::string text(random() % 60, ' ');
    for (char& c : text) c = static_cast<char>(random());
    const SizeReading reading = read_size(text, text);
    CHECK((reading.kind == Kind::understood || !reading.message.empty()));
  }
  CHECK(read_size(std::string(100000, '1'), "").kind == Kind::not_understood);
  for (const char* unit :
       {"1", "1 ", "-", "x", "sch", "\u00D8", "a1", "(", "1-1/2", "\xff", "6\""}) {
    std::string text;
    while (text.size() < 190) text += unit;
    CHECK(read_size(text, "").kind != Kind::understood);
    text += text;
    CHECK(holds(read_size(text, "").message, "too long"));
  }
  // Blanks around it do not make a text long.
  CHECK(read_size(std::string(1000, ' ') + "NPS 6 sch 40" + std::string(1000, ' '), "").kind ==
        Kind::understood);
}

TEST_CASE("a user's rows come before the built-in ones") {
  Catalogue catalogue;
  PipeRecord row{"ASME B36.10M",
                 "NPS 6",
                 150,
                 "40",
                 168.3,
                 7.0,
                 WallKind::nominal,
                 "carbon steel",
                 "mill sheet",
                 Confidence::published};
  catalogue.add(row);
  row.standard = "Works 12";
  row.designation = "size 3";
  row.schedule = "light";
  row.outside_diameter_mm = 95;
  row.wall_mm = 4;
  catalogue.add(row);
  row.wall_mm = 4.5;  // the same pipe again: the last one counts
  catalogue.add(row);
  REQUIRE(catalogue.user_pipes().size() == 2);

  const SizeReading own = read_size("6\" sch 40", "carbon steel", catalogue);
  REQUIRE(own.kind == Kind::understood);
  CHECK(own.row == &catalogue.user_pipes()[0]);
  CHECK(own.wall_m == Approx(0.0070).margin(rounding_m));
  CHECK(read_size("6\" sch 80", "", catalogue).wall_m == Approx(0.01097).margin(rounding_m));
  CHECK(read_size("6\" sch 40", "").wall_m == Approx(0.00711).margin(rounding_m));

  // A standard that the tables lack.
  const PipeRecord& works = catalogue.user_pipes()[1];
  const SizeReading named = read_size("works 12  SIZE 3 light", "", catalogue);
  REQUIRE(named.kind == Kind::understood);
  CHECK(named.row == &works);
  CHECK(named.wall_m == Approx(0.0045).margin(rounding_m));
  CHECK(read_size(size_text(works), "", catalogue).row == &works);
  CHECK(read_size(size_text(works), "").kind == Kind::not_understood);

  const auto near = pipes_near(0.1683, 1e-4, catalogue);
  REQUIRE_FALSE(near.empty());
  CHECK(near.front() == &catalogue.user_pipes()[0]);
  CHECK(near.size() == pipes_near(0.1683, 1e-4).size());  // in place of the built-in one
  CHECK(pipes_near(0.095, 1e-4, catalogue) == std::vector<const PipeRecord*>{&works});
}

TEST_CASE("pipes near a diameter") {
  const auto near = pipes_near(0.3238, 1e-9);
  CHECK_FALSE(near.empty());
  for (const PipeRecord* row : near) CHECK(row->outside_diameter_mm == 323.8);
  // NPS 10: 273 mm in B36.10M and EN 10220, 273.1 mm in B36.19M and F441, 0.04 % apart.
  const auto standards_near = [](double relative) {
    std::vector<std::string_view> standards;
    for (const PipeRecord* row : pipes_near(0.2730, relative)) standards.push_back(row->standard);
    standards.erase(std::unique(standards.begin(), standards.end()), standards.end());
    return standards;
  };
  CHECK(standards_near(1e-9) == std::vector<std::string_view>{"ASME B36.10M", "EN 10220"});
  const auto wider = standards_near(5e-4);
  CHECK(std::ranges::find(wider, "ASME B36.19M") != wider.end());
  CHECK(std::ranges::find(wider, "ASTM F441") != wider.end());
  CHECK(pipes_near(std::numeric_limits<double>::quiet_NaN(), 0.01).empty());
  CHECK(pipes_near(-0.1683, 0.01).empty());
  CHECK(pipes_near(0.1480, 0.001).empty());
}
