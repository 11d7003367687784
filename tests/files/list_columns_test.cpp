#include "slantrule/files/list_columns.hpp"

#include <catch2/catch.hpp>
#include <deque>

using namespace slantrule;

namespace {

using Row = std::vector<std::string_view>;

/// A list as it was split into cells; line numbers from 1.
ListLayout layout_of(const std::vector<Row>& rows, const LayoutOptions& options = {}) {
  std::vector<ListRecord> records;
  for (std::size_t i = 0; i < rows.size(); ++i) records.push_back({i + 1, rows[i]});
  return decide_layout(records, options);
}

LayoutOptions mapped(std::initializer_list<std::string_view> maps) {
  LayoutOptions out;
  for (std::string_view text : maps) {
    std::string message;
    auto map = read_column_map(text, message);
    REQUIRE(map);
    out.maps.push_back(std::move(*map));
  }
  return out;
}

/// A column of sizes under `heading`.
ListColumn size_column(std::string_view heading, const std::vector<std::string_view>& cells,
                       const LayoutOptions& options = {}) {
  std::vector<Row> rows = {{"tag", heading}};
  for (std::string_view cell : cells) rows.push_back({"P", cell});
  const ListLayout layout = layout_of(rows, options);
  CHECK(layout.problems.empty());
  return layout.columns.at(1);
}

}  // namespace

TEST_CASE("list_columns: dotted keys map by themselves", "[list]") {
  const ListLayout layout =
      layout_of({{"Tag", "pipe.size", "pipe.wall [mm]", "fluid.temperature (degC)",
                  "location.upstream [m]", "anything"},
                 {"P-1", "NPS 6", "7.11", "7", "elbow-90 @ 2", "x"}});
  REQUIRE(layout.problems.empty());
  CHECK(layout.heading_line == 1);
  CHECK(layout.columns[0].key->path == "tag");
  CHECK(layout.columns[1].key->path == "pipe.size");
  CHECK(layout.columns[2].key->path == "pipe.wall");
  CHECK(layout.columns[2].unit == "mm");
  CHECK(layout.columns[3].unit == "degC");
  CHECK(layout.columns[4].key->kind == ColumnKind::fittings);
  CHECK(layout.columns[5].key == nullptr);
}

TEST_CASE("list_columns: other headings are proposals until the user says so", "[list]") {
  const std::vector<Row> rows = {{"Line No.", "OD (mm)", "wallThicknessIn", "MOC", "tag"},
                                 {"P-1", "168.3", "0.28", "CS", "x"}};
  const ListLayout layout = layout_of(rows);
  CHECK(layout.columns[1].key == nullptr);
  CHECK(layout.columns[1].proposal == "pipe.outside_diameter [mm]");
  CHECK(layout.columns[2].proposal == "pipe.wall [in]");
  CHECK(layout.columns[3].proposal == "pipe.material");
  LayoutOptions take;
  take.take_proposals = true;
  const ListLayout taken = layout_of({{"Line No.", "OD (mm)"}, {"P-1", "168.3"}}, take);
  CHECK(taken.columns[1].key->path == "pipe.outside_diameter");
  CHECK(taken.columns[1].unit == "mm");

  // Words with two meanings are never proposed.
  for (const char* heading : {"ID", "id_mm", "coating", "Class", "Units"}) {
    const ListColumn column = size_column(heading, {"1"});
    INFO(heading);
    CHECK(column.proposal.empty());
    CHECK(column.why.find("can be") == 0);
  }
}

TEST_CASE("list_columns: maps", "[list]") {
  const std::vector<Row> rows = {{"A", "OD (mm)", "Reading", "Reading", "UOM"},
                                 {"P-1", "168.3", "7.1", "7.0", "mm"}};
  const ListLayout layout = layout_of(rows, mapped({"A=tag", "od (MM)=pipe.outside_diameter",
                                                    "Reading=pipe.wall", "UOM=unit of OD (mm)"}));
  REQUIRE(layout.problems.empty());
  CHECK(layout.columns[1].key->path == "pipe.outside_diameter");
  CHECK(layout.columns[1].unit_column == 4);
  CHECK(layout.columns[2].key->path == "pipe.wall");
  CHECK(layout.columns[3].key->path == "pipe.wall");
  CHECK(layout.columns[4].key->kind == ColumnKind::unit_of);

  const auto wrong = [&](std::string_view map) {
    const ListLayout one = layout_of(rows, mapped({"A=tag", map}));
    REQUIRE(one.problems.size() == 1);
    return one.problems.front();
  };
  CHECK(wrong("Readnig=pipe.wall").find("did you mean \"Reading\"") != std::string::npos);
  CHECK(wrong("UOM=pipe.wal").find("did you mean \"pipe.wall\"") != std::string::npos);
  CHECK(wrong("UOM=pipe.wall [furlongs]").find("furlongs") != std::string::npos);
  CHECK(wrong("Reading=pipe.girth").find("#3=pipe.girth") != std::string::npos);
  CHECK(wrong("UOM=tag").find("both stand for tag") != std::string::npos);
  // A column by its number.
  CHECK(layout_of(rows, mapped({"A=tag", "#3=pipe.girth [mm]"})).columns[2].key->path ==
        "pipe.girth");

  std::string message;
  CHECK_FALSE(read_column_map("no key", message));
  CHECK(message.find("HEADING=KEY") != std::string::npos);
  std::vector<Problem> problems;
  const auto maps =
      read_column_map_file("# comment\n\nA=tag\nodd\n# x\nB = pipe.wall [mm]\r\n", problems);
  REQUIRE(maps.size() == 2);
  CHECK(maps[1].heading == "B");
  CHECK(maps[1].unit == "mm");
  REQUIRE(problems.size() == 1);
  CHECK(problems[0].place.line == 4);
}

TEST_CASE("list_columns: titles above, units above and below", "[list]") {
  const ListLayout below = layout_of({{"Pipes of the plant"},
                                      {"Rev 3, size list"},
                                      {"tag", "pipe.wall", "fluid.temperature"},
                                      {"", "mm", "\u00B0C"},
                                      {"P-1", "7.11", "7"}});
  REQUIRE(below.problems.empty());
  CHECK(below.heading_line == 3);
  CHECK(below.first_row == 4);
  CHECK(below.columns[1].unit == "mm");
  CHECK(below.columns[2].unit == "\u00B0C");
  CHECK(below.left_out.size() == 3);
  const ListLayout above = layout_of(
      {{"", "[mm]", "(degC)"}, {"tag", "pipe.wall", "fluid.temperature"}, {"P-1", "7.11", "7"}});
  CHECK(above.columns[1].unit == "mm");
  CHECK(above.columns[2].unit == "degC");
  CHECK(above.first_row == 2);
  // A row of data is no row of units.
  CHECK(layout_of({{"tag", "pipe.wall"}, {"m", "7.11 mm"}}).first_row == 1);

  const ListLayout none = layout_of({{"a", "b"}, {"1", "2"}});
  REQUIRE(none.problems.size() == 1);
  CHECK(none.problems[0].find("--heading-line") != std::string::npos);
  LayoutOptions told;
  told.heading_line = 2;
  CHECK(layout_of({{"tag", "pipe.size"}, {"x", "pipe.size"}}, told).heading_line == 2);
}

TEST_CASE("list_columns: bare sizes are decided for the whole column", "[list]") {
  // ASME B36.10M: NPS 3, 12 and 2-1/2 are no DN; DN 150, 65 and 25 are no NPS; 6, 8 and 10 are
  // both.
  CHECK(size_column("pipe.size", {"6", "8", "3", "12", "2.5"}).unit == "NPS");
  CHECK(size_column("pipe.size", {"6", "150", "65", "25"}).unit == "DN");
  const ListColumn open = size_column("pipe.size", {"6", "8", "10"});
  CHECK(open.unit.empty());
  CHECK(open.veto.find("[NPS]") != std::string::npos);
  const ListColumn mixed = size_column("pipe.size", {"3", "150", "12"});
  CHECK(mixed.unit.empty());
  CHECK_FALSE(mixed.veto.empty());

  // An NPS column that holds outside diameters rounded to mm: 21.3, 26.7, 33.4, 42.2 mm. 42 alone
  // would pass for NPS 42.
  const ListColumn lying =
      size_column("NPS", {"21", "27", "33", "42"}, mapped({"NPS=pipe.size [NPS]"}));
  CHECK(lying.veto.find("pipe.outside_diameter [mm]") != std::string::npos);
  // A slip or two among many is refused by itself.
  const ListColumn slips =
      size_column("DN", {"100", "150", "200", "100", "80", "66", "0", "7", "100", "150", "250"},
                  mapped({"DN=pipe.size [DN]"}));
  CHECK(slips.veto.empty());
  CHECK(slips.unit == "DN");
}

TEST_CASE("list_columns: bare lengths get the only unit that is possible", "[list]") {
  const auto unit = [](std::string_view heading, const std::vector<std::string_view>& cells) {
    return size_column(heading, cells).unit;
  };
  CHECK(unit("pipe.wall", {"7.11", "6.02", "3.91"}) == "mm");
  CHECK(unit("pipe.wall", {"0.280", "0.237", "0.154"}) == "in");
  CHECK(unit("pipe.outside_diameter", {"168.3", "114.3"}) == "mm");
  CHECK(unit("pipe.outside_diameter", {"0.2", "0.16"}) == "m");
  // 1 to 2: thin walls in mm, or thick ones in inches.
  const ListColumn open = size_column("pipe.wall", {"1", "2"});
  CHECK(open.unit.empty());
  CHECK(open.veto.find("pipe.wall [mm]") != std::string::npos);
  CHECK_FALSE(size_column("fluid.temperature", {"7", "60"}).veto.empty());
  CHECK_FALSE(size_column("flow.rate", {"7", "60"}).veto.empty());
  CHECK(size_column("flow.rate [l/s]", {"7", "60"}).veto.empty());
}

TEST_CASE("list_columns: totals and notes are no rows", "[list]") {
  const ListLayout layout = layout_of(
      {{"tag", "pipe.size", "pipe.material", "flow.rate [m3/h]"}, {"P-1", "NPS 6", "CS", "60"}});
  const auto why = [&](Row row) { return no_row(row, layout).value_or("a row"); };
  CHECK(why({"TOTAL", "", "", "150"}) == "a total");
  CHECK(why({"", "Total", "", ""}) == "a total");
  CHECK(why({"Sum of flows", "", "", "9"}) == "a total");
  CHECK(why({"Note: schedule 40 unless stated", "", "", ""}) == "a note");
  CHECK(why({"All walls are as drawn in 1978", "", "", ""}) == "a note");
  CHECK(why({"* measured", "", "", ""}) == "a note");
  // A pipe whose facts are all missing is still a pipe; so is one with a telling name.
  CHECK(why({"P-103", "", "", ""}) == "a row");
  CHECK(why({"Total loss line", "NPS 6", "CS", ""}) == "a row");
  CHECK(why({"Sump drain", "", "CS", "9"}) == "a row");
  CHECK(why({"Note 5", "NPS 6", "", ""}) == "a row");
}
