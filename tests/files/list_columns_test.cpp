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

TEST_CASE("list_columns: headings of many lists and languages", "[list]") {
  const auto proposed = [](std::string_view heading, std::string_view cell) {
    return layout_of({{"Prepared by", heading}, {"x", cell}}).columns.at(1).proposal;
  };
  for (std::string_view heading :
       {"OrgDiameter", "RR_Diameter", "diametro", "Diámetro", "DIÁMETRO", "Pipe Dia", "DIAM",
        "Durchmesser", "Диаметр", "ДИАМЕТР", "Promjer", "średnica", "Diamètre"}) {
    CAPTURE(heading);
    CHECK(proposed(heading, "DN 100") == "pipe.size");
  }
  CHECK(proposed("Nom Dia (in)", "4") == "pipe.size [NPS]");
  CHECK(proposed("Nominal Dia", "4") == "pipe.size");
  CHECK(proposed("DN (mm)", "100") == "pipe.size [DN]");
  CHECK(proposed("Ду", "100") == "pipe.size [DN]");
  for (std::string_view heading : {"O.D.", "Außendurchmesser", "AUSSENDURCHMESSER", "Da"}) {
    CAPTURE(heading);
    CHECK(proposed(heading, "114.3") == "pipe.outside_diameter");
  }
  for (std::string_view heading : {"W.T.", "Wandstärke", "WANDSTÄRKE", "Wandstaerke", "Épaisseur",
                                   "épaisseur", "pipe wall", "tml-1", "TML-3", "Толщина стенки"}) {
    CAPTURE(heading);
    CHECK(proposed(heading, "7.1") == "pipe.wall");
  }
  for (std::string_view heading :
       {"OrgMaterial", "RRPS_Material", "cod_material", "Matériau", "MATÉRIAU", "Материал",
        "МАТЕРИАЛ", "Materiał", "Materijal", "Matl", "PIPE_MAT"}) {
    CAPTURE(heading);
    CHECK(proposed(heading, "steel") == "pipe.material");
  }
  CHECK(proposed("Cédula", "40") == "pipe.schedule");
  CHECK(proposed("DR", "18") == "pipe.schedule [SDR]");
  for (std::string_view heading : {"Auskleidung", "Revestimiento", "Internal lining"}) {
    CHECK(proposed(heading, "cement") == "pipe.liner");
  }
  for (std::string_view heading : {"Medium", "Fluido", "Среда"}) {
    CHECK(proposed(heading, "water") == "fluid.name");
  }
  CHECK(proposed("Caudal [m3/h]", "60") == "flow.rate [m3/h]");
  CHECK(proposed("Расход", "60") == "flow.rate");
  CHECK(proposed("TEMPERATURA", "60") == "fluid.temperature");
  CHECK(proposed("Температура", "60") == "fluid.temperature");
  CHECK(proposed("Failure_ID", "F-1") == "tag");
  CHECK(proposed("FACILITYID", "F-1") == "tag");
  // The number of a row, and the wall when new.
  CHECK(proposed("Lp.", "1").empty());
  CHECK(proposed("№ п/п", "1").empty());
  CHECK(proposed("Original Thickness", "7.1").empty());
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

  const ListLayout none = layout_of({{"3", "b"}, {"1", "2"}});
  REQUIRE(none.problems.size() == 1);
  CHECK(none.problems[0].find("--heading-line") != std::string::npos);
  LayoutOptions told;
  told.heading_line = 2;
  CHECK(layout_of({{"tag", "pipe.size"}, {"x", "pipe.size"}}, told).heading_line == 2);
}

TEST_CASE("list_columns: units said twice, in half, and under a map", "[list]") {
  // A heading and its unit row that say different things: asked.
  const ListLayout twice = layout_of({{"tag", "flow.rate [m3/h]", "fluid.temperature [degC]"},
                                      {"", "l/s", "\u00b0C"},
                                      {"P", "60", "20"}});
  CHECK(twice.first_row == 2);
  CHECK(twice.columns[1].veto.find("--map 'flow.rate [m3/h]=flow.rate [l/s]'") !=
        std::string::npos);
  CHECK(twice.columns[2].veto.empty());
  CHECK(twice.columns[2].unit == "degC");

  // "bar" says neither gauge nor absolute: its column is asked, the others have their units.
  LayoutOptions take;
  take.take_proposals = true;
  const ListLayout half = layout_of(
      {{"Tag", "Temp", "Flow", "Press"}, {"", "\u00b0C", "m3/h", "bar"}, {"A", "40", "60", "4"}},
      take);
  CHECK(half.first_row == 2);
  CHECK(half.columns[1].unit == "\u00b0C");
  CHECK(half.columns[2].unit == "m3/h");
  CHECK(half.columns[3].veto.find("gauge or absolute") != std::string::npos);

  // A map without a unit leaves the one that the heading says.
  const ListLayout map =
      layout_of({{"tag", "Temp (\u00b0F)", "FLOW (ML/D)"}, {"P", "140", "1.3"}},
                mapped({"Temp (\u00b0F)=fluid.temperature", "FLOW (ML/D)=flow.rate"}));
  CHECK(map.columns[1].unit == "\u00b0F");
  CHECK(map.columns[2].unit.empty());
  CHECK(map.columns[2].veto.find("\"ml/d\" or \"Ml/d\"") != std::string::npos);
}

TEST_CASE("list_columns: headings in words that are not known", "[list]") {
  const auto line = [](const std::vector<Row>& rows) { return layout_of(rows).heading_line; };
  CHECK(line({{"Pos", "Tube", "Standard", "Surface"},
              {"1", "DN 50", "DIN 11850", "Ra 0.8"},
              {"2", "53 x 1.5", "DIN 11850", ""}}) == 1);
  CHECK(line({{"Трубы цеха", "", ""},
              {"Участок", "Толщина слоя", "Заметка"},
              {"P-1", "15х2.8", "x"}}) == 2);
  CHECK(line({{"Nazwa", "Wysokość [m]"}, {"R", "0,2"}, {"R", "0,3"}}) == 1);
  // Rows are no headings: a name alike, a number, nothing below that is one.
  CHECK(line({{"P-1", "steel"}, {"P-2", "steel"}}) == 0);
  CHECK(line({{"x", "6"}, {"y", "8"}}) == 0);
  CHECK(line({{"water", "steel"}, {"brine", "copper"}}) == 0);
}

TEST_CASE("list_columns: bare sizes are decided for the whole column", "[list]") {
  // ASME B36.10M: NPS 3, 12 and 2-1/2 are no DN; DN 150, 65 and 100 are no NPS; 6, 8, 10, 20, 32
  // and 40 are both.
  CHECK(size_column("pipe.size", {"6", "8", "3", "12", "2.5"}).unit == "NPS");
  CHECK(size_column("pipe.size", {"20", "150", "65", "25", "40"}).unit == "DN");
  CHECK(size_column("pipe.size", {"10", "15", "20", "25", "32", "40", "50", "65"}).unit == "DN");
  CHECK(size_column("pipe.size", {"4"}).unit == "NPS");
  CHECK(size_column("pipe.size", {"150"}).unit == "DN");
  const ListColumn open = size_column("pipe.size", {"6", "8", "10"});
  CHECK(open.unit.empty());
  CHECK(open.veto.find("[NPS]") != std::string::npos);
  CHECK_FALSE(size_column("pipe.size", {"6", "8", "15", "20"}).veto.empty());
  // 6 in inches beside 150 in mm; 20 beside 3 and 150 is neither for sure.
  for (const std::vector<std::string_view>& mixed : std::vector<std::vector<std::string_view>>{
           {"150", "6", "8"},
           {"3", "150", "12"},
           {"2", "3", "4", "3", "4", "2", "3", "4", "20", "150"}}) {
    const ListColumn column = size_column("pipe.size", mixed);
    CHECK(column.unit.empty());
    CHECK(column.veto.find("mix inches and millimetres") != std::string::npos);
    CHECK(column.veto.find("\"DN 150\"") != std::string::npos);
  }
  // The same numbers with a unit that the user states.
  CHECK(size_column("A", {"150", "6", "8"}, mapped({"A=pipe.size [DN]"})).veto.empty());

  // An NPS column that holds outside diameters rounded to mm: 21.3, 26.7, 33.4, 42.2 mm. 42 alone
  // would pass for NPS 42.
  const ListColumn lying =
      size_column("NPS", {"21", "27", "33", "42"}, mapped({"NPS=pipe.size [NPS]"}));
  CHECK(lying.veto.find("pipe.outside_diameter [mm]") != std::string::npos);
  // What the user states is refused row by row, unless most of the numbers contradict it.
  CHECK(size_column("DN", {"100", "150", "66", "17"}, mapped({"DN=pipe.size [DN]"})).veto.empty());
}

TEST_CASE("list_columns: a slip among many sizes is refused by itself", "[list]") {
  const std::vector<std::string_view> good = {"100", "150", "200", "100", "80",
                                              "65",  "100", "150", "250", "300"};
  std::vector<std::string_view> cells = good;
  cells.push_back("66");
  const ListColumn slip = size_column("pipe.size", cells);
  CHECK(slip.veto.empty());
  CHECK(slip.unit == "DN");
  // Two of eight are no slips, nor is 6, which would be taken for DN 6.
  CHECK_FALSE(
      size_column("pipe.size", {"100", "150", "200", "80", "65", "100", "66", "17"}).veto.empty());
  cells.back() = "6";
  CHECK_FALSE(size_column("pipe.size", cells).veto.empty());
  const std::vector<std::string_view> inches = {"2", "3",   "4", "6", "8", "12",
                                                "2", "1.5", "3", "4", "66"};
  CHECK(size_column("pipe.size", inches).unit == "NPS");
  // Among ten that are on both series one does not decide.
  std::vector<std::string_view> both(10, "20");
  both.push_back("3");
  CHECK(size_column("pipe.size", both).veto.find("nearly all of its bare numbers") == 0);
}

TEST_CASE("list_columns: numbers that may be diameters of tubes are no sizes", "[list]") {
  // EN 1057 has copper tubes of 12, 15, 22, 28, 42 and 54 mm; EN 12201-2 plastic pipes of 20, 25,
  // 32, 50 and 63 mm. NPS 28 would be 711 mm.
  const auto size = [](std::string_view other, std::string_view cell,
                       const std::vector<std::string_view>& sizes) {
    std::vector<Row> rows = {{"tag", "pipe.size", other}};
    for (std::string_view one : sizes) rows.push_back({"P", one, cell});
    return layout_of(rows).columns.at(1);
  };
  for (const std::vector<std::string_view>& tubes :
       std::vector<std::vector<std::string_view>>{{"28", "22", "42", "54", "15", "12"},
                                                  {"28"},
                                                  {"28", "12"},
                                                  {"15"},
                                                  {"18"},
                                                  {"20", "25"}}) {
    CAPTURE(tubes.front());
    CHECK(size_column("pipe.size", tubes).veto.find("outside diameters of tubes") !=
          std::string::npos);
  }
  CHECK(size("pipe.wall [mm]", "1.5", {"28", "2", "3"}).veto.find("tubes") != std::string::npos);
  for (std::string_view material : {"copper", "Kupferrohr", "Cu", "stainless steel", "1.4404",
                                    "нержавеющая сталь", "Polyethylen"}) {
    CAPTURE(material);
    CHECK(size("pipe.material", material, {"28", "2", "3"}).unit.empty());
  }
  CHECK(size("pipe.schedule", "SDR 11", {"28", "32"}).unit.empty());
  CHECK(size("pipe.material", "HDPE PE100", {"20", "25", "32", "50"}).unit.empty());
  // A unit of its own in each row.
  const auto by_unit = [](std::string_view unit) {
    return layout_of({{"NPS", "pipe.wall", "U", "Material"},
                      {"42", "3.5", unit, "steel"},
                      {"3", "5.5", "mm", "steel"},
                      {"4", "6.0", "mm", "steel"}},
                     mapped({"U=unit of pipe.wall", "NPS=pipe.size"}))
        .columns[0]
        .veto;
  };
  CHECK(by_unit("mm").find("tubes") != std::string::npos);
  CHECK(by_unit("in").empty());
  // Where the material says that it is no tube, or the series does.
  CHECK(size("pipe.material", "ductile iron", {"50", "200", "250"}).unit == "DN");
  CHECK(size("pipe.material", "cast iron", {"6", "8", "12"}).unit == "NPS");
  CHECK(size("pipe.material", "stainless steel", {"2", "3", "6", "12"}).unit == "NPS");
  CHECK(size("pipe.material", "PVC", {"0.5", "1", "2", "6", "8"}).unit == "NPS");
  CHECK(size("pipe.wall [mm]", "3.91", {"2", "3", "6", "12"}).unit == "NPS");
  CHECK(size("pipe.wall [in]", "0.5", {"42", "24", "36"}).unit == "NPS");
  CHECK(size("pipe.wall", "0.375", {"42", "24", "36"}).unit == "NPS");
  CHECK(size_column("pipe.size", {"15", "20", "25", "32", "40", "50"}).unit == "DN");
}

TEST_CASE("list_columns: only readings of one series join", "[list]") {
  LayoutOptions take;
  take.take_proposals = true;
  const auto walls = [&](const Row& headings) {
    Row cells;
    for (std::size_t i = 0; i < headings.size(); ++i) cells.push_back("7.1");
    std::string out;
    for (const ListColumn& column : layout_of({headings, cells}, take).columns) {
      if (column.key && column.key->path == "pipe.wall") out += column.heading + ";";
    }
    return out;
  };
  CHECK(walls({"Material", "Reading_1", "Reading_2", "Reading 4"}) ==
        "Reading_1;Reading_2;Reading 4;");
  CHECK(walls({"Material", "Reading", "Reading"}) == "Reading;Reading;");
  CHECK(walls({"Material", "tml-1", "tml-2", "wallThickness"}) == "tml-1;tml-2;");
  CHECK(walls({"Material", "wall_thickness (mm)", "t act (mm)"}) == "t act (mm);");
  CHECK(walls({"Material", "Reading (mm)", "Wall (mm)"}) == "Reading (mm);");
  CHECK(walls({"Material", "OrigThick", "LastMeasured"}) == "LastMeasured;");
  // Two kinds of readings, or two walls of which nothing is said: the user is asked.
  CHECK(walls({"Material", "Reading 1", "Reading 2", "t act"}).empty());
  CHECK(walls({"Material", "wall", "thickness"}).empty());
  // What the user states wins.
  CHECK(walls({"Material", "pipe.wall [mm]", "Reading"}) == "pipe.wall [mm];");

  const ListLayout told = layout_of({{"Wall (mm)", "Reading (mm)"}, {"7.1", "7.0"}});
  CHECK(told.columns[0].why.find("not used: the original or nominal wall") == 0);
  const ListLayout asked = layout_of({{"wall", "thickness"}, {"7.1", "7.0"}});
  CHECK(asked.columns[0].why.find("\"thickness\"") != std::string::npos);
  CHECK(asked.columns[0].proposal.empty());
}

TEST_CASE("list_columns: a proposal must fit the cells", "[list]") {
  const auto proposed = [](std::string_view heading, std::vector<std::string_view> cells) {
    std::vector<Row> rows = {{"Description", heading, "Tag"}};
    for (std::string_view cell : cells) rows.push_back({"feed", cell, "P"});
    return layout_of(rows).columns.at(1).proposal;
  };
  CHECK(proposed("LastMeasured", {"2019-05-04", "2020-01-01"}).empty());
  CHECK(proposed("LastMeasured", {"04-May-19", "04-OCT-19", "4.5.2019", ""}).empty());
  CHECK(proposed("LastMeasured", {"2019-05-04T10:30", "04/05/19"}).empty());
  CHECK(proposed("Temp (degC)", {"ambient", "ambient"}) == "fluid.temperature [degC]");
  CHECK(proposed("LastMeasured", {"7.1", "7.0", "7.0/7.1/7.2"}) == "pipe.wall");
  CHECK(proposed("Pipe Class", {"A1B", "B2A"}).empty());
  CHECK(proposed("Pipe Class", {"150", "300"}).empty());
  CHECK(proposed("Pipe Class", {"40", "STD", "?"}) == "pipe.schedule");
  CHECK(proposed("Schedule", {"Sch. 40", "S-40", "40S", "XXS", "SDR11"}) == "pipe.schedule");
  CHECK(proposed("Size", {"large", "small"}).empty());
  CHECK(proposed("Mat", {"100012", "100013"}).empty());
  CHECK(proposed("Mat", {"1.4404", "316"}) == "pipe.material");
  const ListLayout layout =
      layout_of({{"Material", "LastMeasured"}, {"steel", "2019-05-04"}, {"steel", "2019-05-04"}});
  CHECK(layout.columns[1].why.find("\"2019-05-04\"") != std::string::npos);
}

TEST_CASE("list_columns: of two headings the likelier is the tag", "[list]") {
  LayoutOptions take;
  take.take_proposals = true;
  const auto tag = [&](const Row& headings) {
    const ListLayout layout = layout_of({headings, Row(headings.size(), "x1")}, take);
    CHECK(layout.problems.empty());
    return layout.column_of("tag")->heading;
  };
  CHECK(tag({"OBJECTID", "WATMAINID", "Material"}) == "WATMAINID");
  CHECK(tag({"CML", "Circuit_ID", "Material"}) == "CML");
  CHECK(tag({"Line Number", "Tag", "Material"}) == "Tag");
  CHECK(tag({"Line Number", "Tag No.", "Material"}) == "Tag No.");
  const ListLayout left = layout_of({{"OBJECTID", "WATMAINID", "Size"}, {"1", "W", "4"}}, take);
  CHECK(left.columns[0].why.find("\"WATMAINID\"") != std::string::npos);
  // Of two materials neither is likelier, and none may fall out unseen.
  const ListLayout both = layout_of({{"Material", "MOC"}, {"steel", "steel"}}, take);
  REQUIRE(both.problems.size() == 1);
  CHECK(both.problems[0].find("both stand for pipe.material") != std::string::npos);
  // What the user states is not chosen among.
  const ListLayout stated = layout_of({{"pipe.material", "MOC"}, {"steel", "steel"}}, take);
  CHECK(stated.columns[0].key->path == "pipe.material");
  CHECK(stated.columns[1].key == nullptr);
}

TEST_CASE("list_columns: diameters in metres", "[list]") {
  // 0.2 m is DN 200 or a duct of 200 mm; 0.1143 and 0.2191 m are outside diameters of steel pipe
  // (ISO 4200).
  const ListColumn open = size_column("size [m]", {"0.2", "0.15"});
  CHECK(open.proposal.empty());
  CHECK(open.why.find("pipe.outside_diameter [m]") != std::string::npos);
  CHECK(open.why.find("0.2 would be 200 mm outside") != std::string::npos);
  const ListColumn measured = size_column("średnica [m]", {"0,1143", "0,2191", "0,4064"});
  CHECK(measured.proposal == "pipe.outside_diameter [m]");
  CHECK(measured.why.find("114.3 mm") != std::string::npos);
  const ListLayout wrong =
      layout_of({{"tag", "A"}, {"P", "0.2"}}, mapped({"A=pipe.size [m]", "tag=tag"}));
  REQUIRE(wrong.problems.size() == 1);
  CHECK(wrong.problems[0].find("pipe.outside_diameter [m]") != std::string::npos);
  CHECK(wrong.problems[0].find("200 mm") != std::string::npos);
}

TEST_CASE("list_columns: one column holds the units of several", "[list]") {
  const std::vector<Row> rows = {{"Tag", "OD", "Reading 1", "Reading 2", "UNIT", "Flow", "L, net"},
                                 {"P-1", "168.3", "7.1", "7.0", "mm", "60", "2"},
                                 {"P-2", "4.5", "0.23", "0.24", "in", "60", "3"}};
  const ListLayout stated =
      layout_of(rows, mapped({"Tag=tag", "OD=pipe.outside_diameter", "Reading 1=pipe.wall",
                              "L, net=location.straight", "UNIT=unit of OD, L, net,Reading 1"}));
  CHECK(stated.problems.empty());
  CHECK(stated.columns[1].unit_column == 4);
  CHECK(stated.columns[2].unit_column == 4);
  CHECK_FALSE(stated.columns[3].unit_column);
  CHECK(stated.columns[6].unit_column == 4);
  CHECK(layout_of(rows, mapped({"UNIT=unit of OD, nothing"})).problems.size() == 1);
  CHECK(layout_of(rows, mapped({"UNIT=unit of "})).problems.size() == 1);

  const ListLayout proposed = layout_of(rows);
  CHECK(proposed.columns[4].proposal == "unit of OD, Reading 1, Reading 2");
  LayoutOptions take;
  take.take_proposals = true;
  const ListLayout taken = layout_of(rows, take);
  CHECK(taken.columns[2].unit_column == 4);
  CHECK(taken.columns[4].key->kind == ColumnKind::unit_of);
  CHECK_FALSE(taken.columns[5].unit_column);
  // One unit and blanks: the numbers tell more.
  CHECK(layout_of({{"Tag", "OD", "Units"}, {"P", "168.3", "mm"}, {"P", "88.9", ""}})
            .columns[2]
            .proposal.empty());
  // Columns that are called alike are served alike.
  const ListLayout alike =
      layout_of({{"Tag", "Reading", "Reading", "Units"}, {"P", "7", "6.9", "mm"}}, take);
  CHECK(alike.columns[1].unit_column == 3);
  CHECK(alike.columns[2].unit_column == 3);
  // Cells that are no units of lengths, and headings with a unit.
  CHECK(layout_of({{"Tag", "OD", "Units"}, {"P", "168.3", "pcs"}}).columns[2].proposal.empty());
  CHECK(layout_of({{"Tag", "OD [mm]", "Units"}, {"P", "168.3", "mm"}}).columns[2].proposal.empty());
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

TEST_CASE("list_columns: decimal commas of one column are those of the list", "[list]") {
  const auto style = [](const std::vector<Row>& rows, bool semicolons = false) {
    LayoutOptions options;
    options.semicolons = semicolons;
    std::vector<Row> all = {{"flow.rate [l/h]", "flow.most [l/h]"}};
    all.insert(all.end(), rows.begin(), rows.end());
    return layout_of(all, options).columns.at(0).numbers;
  };
  CHECK(style({{"6,625", "0,280"}, {"4,500", "0,237"}}) == NumberStyle::decimal_comma);
  CHECK(style({{"6,625", "12,75"}}) == NumberStyle::decimal_comma);
  CHECK(style({{"6,625", "x"}}) == NumberStyle::open);
  CHECK(style({{"6,625", "x"}}, true) == NumberStyle::decimal_comma);
  // Thousands apart somewhere: undecided.
  CHECK(style({{"6,625", "0,280"}, {"8,625", "1,234.5"}}) == NumberStyle::open);
  CHECK(style({{"6,625", "1,234.5"}}, true) == NumberStyle::open);
  // Beside decimal commas a point separates thousands.
  CHECK(style({{"12.000", "4,5"}, {"9.500", "3,5"}}) == NumberStyle::decimal_comma);
  // No pipe is 6625 inches wide.
  CHECK(size_column("pipe.outside_diameter [in]", {"6,625"}).numbers == NumberStyle::decimal_comma);
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
  // A count beneath a column that is used, and other languages; the words are those of the
  // languages for "total".
  CHECK(why({"Total", "31", "", ""}) == "a total");
  CHECK(why({"TOTAL: 31", "", "", "9,5"}) == "a total");
  for (std::string_view word : {"Итого", "ВСЕГО", "Razem", "Ogółem", "Gesamt", "Summe", "Suma",
                                "Ukupno", "Totaal", "Somme", "Summa"}) {
    CAPTURE(word);
    CHECK(why({word, "31", "", "150,5"}) == "a total");
    CHECK(why({word, "NPS 6", "CS", ""}) == "a row");
  }
  CHECK(why({"Итого 31", "", "", ""}) == "a total");
  // A count decides nothing about a column.
  CHECK(layout_of({{"tag", "pipe.size"}, {"P-1", "6"}, {"P-2", "8"}, {"Razem", "2"}})
            .columns[1]
            .unit.empty());
  // A pipe whose facts are all missing is still a pipe; so is one with a telling name.
  CHECK(why({"P-103", "", "", ""}) == "a row");
  CHECK(why({"Total loss line", "NPS 6", "CS", ""}) == "a row");
  CHECK(why({"Sump drain", "", "CS", "9"}) == "a row");
  CHECK(why({"Note 5", "NPS 6", "", ""}) == "a row");
}
