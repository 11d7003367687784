// Cells as they stand in public inventories and in spreadsheets' exports.

#include "slantrule/files/list_cells.hpp"

#include <catch2/catch.hpp>

using namespace slantrule;

namespace {

/// The number a bare cell is, "unclear", or "none".
std::string number(std::string_view cell, NumberStyle style = NumberStyle::open) {
  const BareNumber bare = read_bare_number(cell, style);
  if (bare.kind == BareNumber::Kind::none) return "none";
  if (bare.kind == BareNumber::Kind::unclear) return "unclear";
  return bare.text;
}

}  // namespace

TEST_CASE("list_cells: what says nothing is missing", "[list]") {
  for (const char* cell : {"",
                           "  ",
                           "?",
                           "-",
                           "--",
                           "\u2013",
                           "n/a",
                           "N/A",
                           "NA",
                           "NULL",
                           "null",
                           "unknown",
                           "UNK",
                           "Unk",
                           "TBD",
                           "see photo",
                           "See drawing 12",
                           "#N/A",
                           "#VALUE!",
                           "#REF!",
                           "NaN",
                           "-9999",
                           "9999",
                           "not known",
                           "unbekannt",
                           "k.A.",
                           "k. A.",
                           "T.B.C.",
                           "s. Foto",
                           "ND",
                           "N/D",
                           "n.d.",
                           "s/d",
                           "sin datos",
                           "b.d.",
                           "not available",
                           "pending",
                           "~",
                           "/",
                           "Oth",
                           "OTH",
                           "\u0441\u043c. \u0444\u043e\u0442\u043e",
                           "\u0421\u043c. \u0444\u043e\u0442\u043e",
                           "\u043d\u0435\u0438\u0437\u0432\u0435\u0441\u0442\u043d\u043e",
                           "\u041d\u0435\u0438\u0437\u0432\u0435\u0441\u0442\u043d\u043e",
                           "\u041d\u0415\u0422 \u0414\u0410\u041d\u041d\u042b\u0425",
                           "nieznana",
                           "Nieznany",
                           "nema podataka"}) {
    INFO(cell);
    CHECK(says_nothing(cell));
  }
  for (const char* cell :
       {"0", "7", "6", "-5", "NPS 6", "none", "no", "seep water", "sea water", "carbon steel",
        "999", "99.99", "natural gas", "nab", "#40", "S. Steel", "x", "ditto", "other oil"}) {
    INFO(cell);
    CHECK_FALSE(says_nothing(cell));
  }
}

TEST_CASE("list_cells: a cell may repeat the one above", "[list]") {
  for (const char* cell :
       {"ditto", "Ditto", "same", "as above", "AS ABOVE", "idem", "dto", "dto.", "\"", "-\"-", "''",
        "\u201d", "\u00cdDEM", "\u0442\u043e \u0436\u0435", " same "}) {
    INFO(cell);
    const auto message = repeats_above(cell, "Pipe size");
    REQUIRE(message);
    CHECK(message->find("--fill-down 'Pipe size'") != std::string::npos);
    CHECK_FALSE(says_nothing(cell));
  }
  for (const char* cell : {"", "-", "6\"", "samew", "1/2", "see photo"}) {
    INFO(cell);
    CHECK_FALSE(repeats_above(cell, "Pipe size"));
  }
}

TEST_CASE("list_cells: marks of texts are taken off", "[list]") {
  CHECK(without_text_marks("'0123") == "0123");
  CHECK(without_text_marks("=\"1/2\"") == "1/2");
  CHECK(without_text_marks("  6\" ") == "6\"");
  CHECK(without_text_marks("4''") == "4''");
  CHECK(without_text_marks("''4") == "''4");
}

TEST_CASE("list_cells: numbers with thousands apart", "[list]") {
  // The four ways in which one number is met (common practice, no source).
  for (const char* cell : {"1,234.5", "1.234,5", "1 234,5", "1'234.5"}) {
    INFO(cell);
    CHECK(number(cell) == "1234.5");
  }
  CHECK(number("1,234,567") == "1234567");
  CHECK(number("12 345") == "12345");
  CHECK(number("114,3") == "114.3");
  CHECK(number("0,237") == "0.237");
  CHECK(number(".237") == "0.237");
  CHECK(number("-5,5") == "-5.5");
  CHECK(number("12") == "12");
  CHECK(number("7.1100") == "7.1100");
  CHECK(number("1,2,3") == "none");
  CHECK(number("12,34,567") == "none");
  CHECK(number("60.") == "60");
  CHECK(number("5..") == "none");
  CHECK(number(".") == "none");
  CHECK(number("6 1/2") == "none");
  CHECK(number("6\"") == "none");
  CHECK(number("") == "none");
}

TEST_CASE("list_cells: three digits behind one mark are decided by the column", "[list]") {
  CHECK(number("1,220") == "unclear");
  CHECK(number("1,220", NumberStyle::decimal_point) == "unclear");
  CHECK(number("1,220", NumberStyle::decimal_comma) == "1.220");
  // So is a point with round digits behind it; others are a diameter's or a measured value's.
  for (const char* cell : {"12.000", "9.500", "1.220", "1.250"}) {
    INFO(cell);
    CHECK(number(cell) == "unclear");
    CHECK(number(cell, NumberStyle::contradictory) == "unclear");
    CHECK(number(cell, NumberStyle::decimal_point) == cell);
    CHECK(number(cell, NumberStyle::decimal_comma) == "unclear");
  }
  for (const char* cell : {"168.275", "6.625", "12.750"}) {
    INFO(cell);
    CHECK(number(cell) == cell);
    CHECK(number(cell, NumberStyle::contradictory) == "unclear");
  }
  CHECK(number("0.280") == "0.280");
  CHECK(number("1.220", NumberStyle::decimal_point) == "1.220");
  CHECK(number("1.220", NumberStyle::decimal_comma) == "unclear");
  const BareNumber open = read_bare_number("1,220", NumberStyle::open);
  CHECK(open.message.find("1220") != std::string::npos);
  CHECK(open.message.find("1.22;") != std::string::npos);
  // What is proposed is not asked about again.
  CHECK(read_bare_number("12.000", NumberStyle::open).message.find("12000 or 12;") !=
        std::string::npos);
  CHECK(read_bare_number("6.625", NumberStyle::decimal_comma).message.find("6625 or 6,625;") !=
        std::string::npos);
  CHECK(read_bare_number("6.625", NumberStyle::contradictory).message.find("6625 or 6.6250;") !=
        std::string::npos);
  CHECK(number("6.6250", NumberStyle::contradictory) == "6.6250");

  const auto style = [](std::vector<std::string_view> cells) { return number_style(cells); };
  CHECK(style({"114,3", "1,220"}) == NumberStyle::decimal_comma);
  CHECK(style({"114.3 mm", "6"}) == NumberStyle::decimal_point);
  CHECK(style({"1.234,5"}) == NumberStyle::decimal_comma);
  CHECK(style({"1,234,567"}) == NumberStyle::decimal_point);
  CHECK(style({"1,220", "12", "NPS 6"}) == NumberStyle::open);
  CHECK(style({"114,3", "114.3"}) == NumberStyle::contradictory);
}

TEST_CASE("list_cells: a column of points with three digits behind them", "[list]") {
  using Cells = std::vector<std::string_view>;
  const auto style = [](Cells cells) { return number_style(cells); };
  // Flows in l/h, thousands apart.
  CHECK(style({"12.000", "9.500", "1.250"}) == NumberStyle::open);
  CHECK(style({"12.000 l/h", "9.500 l/h", "850 l/h"}) == NumberStyle::open);
  CHECK(style({"12.431", "9.512", "850"}) == NumberStyle::contradictory);
  CHECK(style({"12.000", "1.234.567"}) == NumberStyle::decimal_comma);
  // Diameters and walls in inches (ASME B36.10M), and in mm.
  CHECK(style({"6.625", "4.500"}) == NumberStyle::decimal_point);
  CHECK(style({"10.750", "14.000"}) == NumberStyle::decimal_point);
  CHECK(style({"4.500", "0.280"}) == NumberStyle::decimal_point);
  CHECK(style({"168.275", "610"}) == NumberStyle::decimal_point);
  // No pipe has 114 m.
  const Cells steel = {"114.300", "219.100", "610"};
  CHECK(number_style(steel) == NumberStyle::open);
  CHECK(number_style(steel, 4000) == NumberStyle::decimal_point);
  CHECK(number_style(Cells{"114,300", "219,100"}, 4000) == NumberStyle::decimal_comma);
  // 1220 mm is a pipe, so this remains to be asked.
  CHECK(number_style(Cells{"813", "1.220"}, 4000) == NumberStyle::open);
  CHECK(number_style(Cells{"813", "1.016"}, 4000) == NumberStyle::contradictory);

  // The unit bounds a column as well, in its heading and in its cells.
  CHECK(largest_number("mm") == Approx(20e3));
  CHECK(largest_number("mm", 4) == Approx(4e3));
  CHECK(largest_number("in") == Approx(20 / 0.0254));
  CHECK(largest_number("m3/h") == Approx(360e3));
  CHECK(largest_number("%") == Approx(100));
  CHECK(largest_number("degC") < 1100);
  CHECK(largest_number("") == std::numeric_limits<double>::infinity());
  CHECK(number_style(Cells{"7.110", "8.180"}, largest_number("mm", 0.2)) ==
        NumberStyle::decimal_point);
  CHECK(style({"114.300 mm", "219.100 mm"}) == NumberStyle::decimal_point);
  CHECK(style({"10.500 in"}) == NumberStyle::decimal_point);
  CHECK(style({"20.500 \u00b0C"}) == NumberStyle::decimal_point);
  CHECK(style({"12.000 l/h"}) == NumberStyle::open);
  // Distances of fittings: 1200 mm is one, 1200 m is none.
  CHECK(style({"elbow @ 1.200 mm; pump @ 3.500 mm"}) == NumberStyle::open);
  CHECK(style({"elbow @ 1.200 m"}) == NumberStyle::decimal_point);
  CHECK(style({"elbow @ 2,1 m; pump @ 1.200 mm"}) == NumberStyle::decimal_comma);
  CHECK(number_style(Cells{"elbow @ 1.200"}, largest_number("m")) == NumberStyle::decimal_point);
  CHECK(number_style(Cells{"elbow @ 1.200"}, largest_number("mm")) == NumberStyle::open);

  CHECK(is_plain_decimal("12", NumberStyle::open));
  CHECK(is_plain_decimal("7.11", NumberStyle::open));
  CHECK(is_plain_decimal("6.625", NumberStyle::open));
  CHECK(is_plain_decimal("12.000", NumberStyle::decimal_point));
  CHECK_FALSE(is_plain_decimal("12.000", NumberStyle::open));
  CHECK_FALSE(is_plain_decimal("6.625", NumberStyle::contradictory));
  CHECK_FALSE(is_plain_decimal("7.11", NumberStyle::decimal_comma));
}

TEST_CASE("list_cells: blanks and apostrophes of every kind", "[list]") {
  // U+00A0, U+202F, U+2009, U+2007 and U+2019: what word processors and spreadsheets put between
  // thousands (common practice, no source).
  for (const char* cell : {"12 000", "12\u00a0000", "12\u202f000", "12\u2009000", "12\u2007000",
                           "12\u2019000", "12'000", "\ufeff12 000", "12 000\u200b"}) {
    INFO(cell);
    CHECK(number(cell) == "12000");
  }
  CHECK(number("\u22125,5") == "-5.5");
  CHECK(without_text_marks("\ufeff60 m3/h\u00a0") == "60 m3/h");
  CHECK(without_text_marks("\u200b\u200b6\" ") == "6\"");
  CHECK(without_text_marks("\u00a0") == "");
  CHECK(without_text_marks("\u041406 \u0417") == "\u041406 \u0417");
  CHECK(says_nothing("\u00a0\ufeff"));

  const auto front = [](std::string_view cell) { return cell.substr(0, number_length(cell)); };
  CHECK(front("1 200 l/min") == "1 200");
  CHECK(front("12'000 l/h") == "12'000");
  CHECK(front("1 234,5 m3/h") == "1 234,5");
  CHECK(front("60 m3/h") == "60");
  CHECK(front("6 1/2 in") == "6");
  CHECK(front("1/2 in") == "");
  CHECK(front("6/12 degC") == "");
  CHECK(front("5' 6\"") == "5");
  CHECK(front("4-6 degC") == "4-6");
  CHECK(front("DN 100") == "");
  CHECK(number(front("1\u202f200\u00a0l/min")) == "1200");
}

TEST_CASE("list_cells: what a spreadsheet spoiled is told", "[list]") {
  // 1/2 and 3/4 typed into a cell that shows dates.
  for (const char* cell : {"2-Jan", "4-Mar", "Jan-02", "02.Jan"}) {
    INFO(cell);
    CHECK(spoiled_by_spreadsheet(cell).has_value());
  }
  // Month and day first: what was typed as 1/2 and 3/4.
  CHECK(spoiled_by_spreadsheet("2-Jan")->find("like 1/2 or 1-2, less often 2/1;") !=
        std::string::npos);
  CHECK(spoiled_by_spreadsheet("4-Mar")->find("like 3/4 or 3-4,") != std::string::npos);
  CHECK(spoiled_by_spreadsheet("26:01.0").has_value());
  for (const char* cell : {"6-8\"", "1-1/2", "marine", "NPS 6", "Jan", "March steel", "7.11"}) {
    INFO(cell);
    CHECK_FALSE(spoiled_by_spreadsheet(cell).has_value());
  }
  CHECK(number("1E+02") == "unclear");
  CHECK(number("1.14E+02") == "unclear");
}

TEST_CASE("list_cells: alternatives, ranges, present and former", "[list]") {
  using Parts = std::vector<std::string_view>;
  CHECK(alternatives("48/54?") == Parts{"48", "54"});
  CHECK(alternatives("DN 100 or DN 125") == Parts{"DN 100", "DN 125"});
  CHECK(alternatives("4\" | 6\"") == Parts{"4\"", "6\""});
  CHECK(alternatives("6?") == Parts{"6?"});
  CHECK(alternatives("5/8") == Parts{"5/8"});
  CHECK(alternatives("40/STD") == Parts{"40/STD"});
  CHECK(alternatives("or ") == Parts{"or"});

  const auto range = cell_range("4-6\u00B0C");
  REQUIRE(range);
  CHECK(range->low == "4 \u00B0C");
  CHECK(range->high == "6 \u00B0C");
  REQUIRE(cell_range("25 to 30 %"));
  CHECK(cell_range("25 to 30 %")->high == "30 %");
  REQUIRE(cell_range("-4 to 6 degC"));
  CHECK(cell_range("-4 to 6 degC")->low == "-4 degC");
  CHECK(cell_range("-20 - -10")->high == "-10");
  const auto ends = [](std::string_view cell) {
    const auto both_ends = cell_range(cell);
    return both_ends ? both_ends->low + ".." + both_ends->high : std::string("none");
  };
  CHECK(ends("4\u20266 \u00b0C") == "4 \u00b0C..6 \u00b0C");
  CHECK(ends("-5...+10 \u00b0C") == "-5 \u00b0C..+10 \u00b0C");
  CHECK(ends("60..80 m3/h") == "60 m3/h..80 m3/h");
  CHECK(ends("60 to 80 m3/h") == "60 m3/h..80 m3/h");
  CHECK(ends("60 - 80 m\u00b3/h") == "60 m\u00b3/h..80 m\u00b3/h");
  CHECK(ends("60-80 m3 h-1") == "60 m3 h-1..80 m3 h-1");
  CHECK(ends("4,5\u20136,5 bar gauge") == "4,5 bar gauge..6,5 bar gauge");
  // Temperatures of flow and return, not a range.
  CHECK(ends("6/12 \u00b0C") == "none");
  CHECK(ends("60..80..90 m3/h") == "none");
  CHECK_FALSE(cell_range("1-1/2"));
  CHECK_FALSE(cell_range("-4"));
  CHECK_FALSE(cell_range("6 mm"));
  CHECK_FALSE(cell_range("2024-11-07"));

  const auto both = present_and_former("10.3 (was 12.7)");
  REQUIRE(both);
  CHECK(both->present == "10.3");
  CHECK(both->former == "12.7");
  for (const char* cell :
       {"10,3 (war 12,7)", "10,3 (originally 12,7)", "10,3 (ex 12,7)", "10,3 (antes 12,7)",
        "10,3 (fr\u00fcher 12,7)", "10,3 (Fr\u00fcher 12,7)", "10,3 (by\u0142o 12,7)",
        "10,3 (\u0431\u044b\u043b\u043e 12,7)", "10,3 (\u0411\u044b\u043b\u043e 12,7)"}) {
    INFO(cell);
    const auto was = present_and_former(cell);
    REQUIRE(was);
    CHECK(was->present == "10,3");
    CHECK(was->former == "12,7");
  }
  CHECK_FALSE(present_and_former("10.3 (extra strong)"));
  CHECK_FALSE(present_and_former("DN100 (4\")"));
}

TEST_CASE("list_cells: fittings in one cell", "[list]") {
  const CellFittings two = read_fittings("elbow-90 @ 2.1 m; pump @ 12 D");
  REQUIRE(two.message.empty());
  REQUIRE(two.fittings.size() == 2);
  CHECK(two.fittings[0].fitting == "elbow-90");
  CHECK(two.fittings[0].distance == "2.1 m");
  CHECK(two.fittings[0].taken_as.empty());
  CHECK(two.fittings[1].fitting == "pump");
  CHECK(two.fittings[1].distance == "12 D");

  const auto one = [](std::string_view cell) { return read_fittings(cell).fittings.at(0); };
  // Common practice, no source; what is taken for a key is remarked on.
  for (const char* bend : {"elbow", "Ell", "90", "bow"}) {
    CHECK(one(std::string(bend) + " @ 2 m").fitting == "elbow-90");
    CHECK_FALSE(one(std::string(bend) + " @ 2 m").taken_as.empty());
  }
  CHECK(one("2x90 OOP at 3 m").fitting == "elbows-out-of-plane");
  CHECK(one("butterfly 50% @ 5 m").fitting == "valve-part-open");
  // A distance alone is that of something unknown, never endless.
  CHECK(one("2.1 m").fitting == "unknown");
  CHECK(one("2.1 m").distance == "2.1 m");
  // What the catalogue does not know is left to it to refuse.
  CHECK(one("gizmo @ 2 m").fitting == "gizmo");
  CHECK_FALSE(read_fittings("elbow @").message.empty());
  CHECK_FALSE(read_fittings("@ 2 m").message.empty());
  CHECK_FALSE(read_fittings("none").message.empty());
  CHECK_FALSE(read_fittings("straight").message.empty());
}

TEST_CASE("list_cells: fittings as people call them", "[list]") {
  const auto told = [](std::string_view cell) {
    const CellFittings read = read_fittings(cell);
    std::string out = read.message.empty() ? "" : "asked";
    for (const CellFitting& one : read.fittings) {
      if (!read.message.empty()) break;
      if (!out.empty()) out += "; ";
      out += one.fitting + (one.distance.empty() ? "" : " @ " + one.distance);
    }
    return out;
  };
  struct Row {
    std::string_view cell, meaning;
  };
  // Common practice, no source; the keys are those of the catalogue's table of straight runs.
  const std::vector<Row> rows = {
      // The distance without its mark, before or behind.
      {"elbow 2.1 m", "elbow-90 @ 2.1 m"},
      {"2 m elbow", "elbow-90 @ 2 m"},
      {"2m elbow", "elbow-90 @ 2m"},
      {"90\u00b0 bend, 3 m", "elbow-90 @ 3 m"},
      {"pump 12 D", "pump @ 12 D"},
      {"pump 12D upstream", "pump @ 12D"},
      {"3 m after elbow", "elbow-90 @ 3 m"},
      {"gate-valve-open 6 ft", "gate-valve-open @ 6 ft"},
      // A size of the fitting or the radius of a bend.
      {"6\" elbow", "asked"},
      {"elbow 150 mm", "asked"},
      {"3D bend", "asked"},
      {"elbow @ 150 mm", "elbow-90 @ 150 mm"},
      {"elbow @ 3D", "elbow-90 @ 3D"},
      // Several.
      {"elbow-90 @ 2,1 m, pump @ 12 D", "elbow-90 @ 2,1 m; pump @ 12 D"},
      {"elbow @ 2 m / tee @ 5 m", "elbow-90 @ 2 m; tee @ 5 m"},
      {"elbow @ 2 m + pump @ 5 m", "elbow-90 @ 2 m; pump @ 5 m"},
      {"elbow, 2 m, pump, 5 m", "elbow-90 @ 2 m; pump @ 5 m"},
      {"elbow 2 m, tee 5 m", "elbow-90 @ 2 m; tee @ 5 m"},
      {"elbow, tee (branch)", "elbow-90; tee"},
      // A straight length up to something that is not told.
      {"10 D straight", "unknown @ 10 D"},
      {"straight 10 D", "unknown @ 10 D"},
      {"20D+", "unknown @ 20D"},
      {"> 20 D", "unknown @ 20 D"},
      // The distance is not known, but the fitting is.
      {"elbow", "elbow-90"},
      {"elbow @ ?", "elbow-90"},
      {"elbow @ unknown", "elbow-90"},
      {"elbow @ 2 m (approx)", "elbow-90 @ 2 m"},
      {"elbow @ ~2 m", "elbow-90 @ 2 m"},
      // Names.
      {"long radius elbow @ 2 m", "elbow-90 @ 2 m"},
      {"90\u00b0 LR elbow @ 2 m", "elbow-90 @ 2 m"},
      {"45 deg elbow @ 2 m", "elbow-45 @ 2 m"},
      {"45\u00b0 @ 2 m", "elbow-45 @ 2 m"},
      {"Elbow 90 @ 2 m", "elbow-90 @ 2 m"},
      {"Bogen 90\u00b0 @ 2 m", "elbow-90 @ 2 m"},
      {"Bogen 45\u00b0 @ 2 m", "elbow-45 @ 2 m"},
      {"Kr\u00fcmmer @ 2 m", "elbow-90 @ 2 m"},
      {"codo @ 2 m", "elbow-90 @ 2 m"},
      {"coude 45 @ 2 m", "elbow-45 @ 2 m"},
      {"\u043e\u0442\u0432\u043e\u0434 @ 2 m", "elbow-90 @ 2 m"},
      {"gate valve (open) @ 2 m", "gate-valve-open @ 2 m"},
      {"gate valve open @ 2 m", "gate-valve-open @ 2 m"},
      {"valve half open @ 2 m", "valve-part-open @ 2 m"},
      {"tee (branch) @ 2 m", "tee @ 2 m"},
      {"tee-branch @ 2 m", "tee @ 2 m"},
      {"reducer 8x6 @ 2 m", "reducer @ 2 m"},
      {"eccentric reducer @ 2 m", "reducer @ 2 m"},
      {"2 elbows @ 2 m", "elbows-out-of-plane @ 2 m"},
      {"2 x 45 @ 2 m", "elbows-out-of-plane @ 2 m"},
      {"two elbows same plane @ 2 m", "elbows-in-plane @ 2 m"},
      {"U-bend @ 2 m", "elbows-in-plane @ 2 m"},
      {"PRV @ 2 m", "control-valve @ 2 m"},
      {"check valve @ 2 m", "check valve @ 2 m"},
      {"flow-meter @ 2 m", "flow-meter @ 2 m"},  // a user's key
      // What says too little, or has no row.
      {"valve, fully open @ 2 m", "asked"},
      {"valve @ 2 m", "asked"},
      {"BFV @ 2 m", "asked"},
      {"GV @ 2 m", "asked"},
      {"orifice @ 2 m", "asked"},
      {"flow meter @ 2 m", "asked"},
      {"tank outlet @ 2 m", "asked"},
  };
  for (const Row& row : rows) {
    INFO(row.cell);
    CHECK(told(row.cell) == row.meaning);
  }
  CHECK(read_fittings("Bogen 90\u00b0 @ 2 m").fittings.at(0).taken_as ==
        "\"Bogen 90\u00b0\" taken for elbow-90");
  CHECK(read_fittings("elbow-90 @ 2 m").fittings.at(0).taken_as.empty());
  CHECK(read_fittings("Elbow-90 @ 2 m").fittings.at(0).taken_as.empty());
  CHECK(read_fittings("GV @ 2 m").message.find("gate-valve-open") != std::string::npos);
  CHECK(read_fittings("6\" elbow").message.find("elbow-90 @ 2.1 m") != std::string::npos);
}
