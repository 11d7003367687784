// Rows of lists as people keep them, from cells to jobs. Cells are of the kinds met in public
// inventories, or made in their style.

#include "slantrule/files/list_reader.hpp"

#include <catch2/catch.hpp>

#include "slantrule/files/job_file.hpp"
#include "slantrule/planning/job_visit.hpp"
#include "slantrule/planning/resolved_job.hpp"

using namespace slantrule;

namespace {

using Cells = std::vector<std::string_view>;

std::vector<Cells> rows(std::initializer_list<Cells> some) {
  return some;
}

/// A list of one or more rows with its reader.
class List {
 public:
  explicit List(std::vector<Cells> rows, std::initializer_list<std::string_view> maps = {},
                const JobRequest& defaults = {})
      : rows_(std::move(rows)) {
    LayoutOptions options;
    for (std::string_view text : maps) {
      std::string message;
      options.maps.push_back(read_column_map(text, message).value());
    }
    std::vector<ListRecord> records;
    for (std::size_t i = 0; i < rows_.size(); ++i) records.push_back({i + 1, rows_[i]});
    layout_ = decide_layout(records, options);
    REQUIRE(layout_.problems.empty());
    reader_ = std::make_unique<RowReader>(layout_, defaults);
  }
  /// Reads row `i`, the headings being row 0.
  const JobRequest& read(std::size_t i = 1) {
    row_ = {};
    row_.cells = rows_.at(i);
    return reader_->read(row_);
  }
  const ListRow& row() const { return row_; }
  const ListLayout& layout() const { return layout_; }
  std::string problem() const {
    return row_.problems.empty()
               ? ""
               : row_.problems.front().column + ": " + row_.problems.front().message;
  }

 private:
  std::vector<Cells> rows_;
  ListLayout layout_;
  std::unique_ptr<RowReader> reader_;
  ListRow row_;
};

std::string texts(const auto& entry) {
  std::string out;
  for (const auto& option : entry.options) out += (out.empty() ? "" : " or ") + option.text;
  return out;
}

/// The size that a cell under "Size [NPS]" comes to, or the problem.
std::string nps(std::string_view cell) {
  List list({{"tag", "Size"},
             {"P", cell},
             {"P", "12"},
             {"P", "3"},
             {"P", "2.5"},
             {"P", "14"},
             {"P", "18"}},
            {"Size=pipe.size [NPS]"});
  const JobRequest& job = list.read();
  if (!list.problem().empty()) return "refused";
  if (!job.pipe.size.given()) return "missing";
  return texts(job.pipe.size);
}

}  // namespace

TEST_CASE("list_reader: a clean row is the job it says", "[list]") {
  List list({{"tag", "pipe.size", "pipe.material", "pipe.wall [mm]", "fluid.name",
              "fluid.temperature [degC]", "fluid.pressure [barg]", "flow.rate [m3/h]", "sensors",
              "path.traverses", "location.upstream", "location.clock", "flow.can_stop",
              "location.surface", "pipe.orientation", "pipe.liner"},
             {"P-1", "NPS 6 sch 40", "carbon steel", "7.11", "water", "7", "4", "60", "demo-1mhz",
              "2", "elbow-90 @ 2.1 m; pump @ 12 D", "3", "yes", "paint; rust", "horiz", "none"}});
  const JobRequest& job = list.read();
  REQUIRE(list.row().problems.empty());
  CHECK(list.row().remarks.empty());
  CHECK(job.tag.value == "P-1");
  CHECK(texts(job.pipe.size) == "NPS 6 sch 40");
  // The same double as "7.11 mm" in a job file.
  CHECK(job.pipe.wall.options.at(0).value.readings.at(0).si == 0.00711);
  CHECK(job.fluid.temperature.options.at(0).value.si == 280.15);
  CHECK(job.fluid.pressure.options.at(0).value.dimension == Dimension::pressure_gauge);
  CHECK(job.flow.rate.options.at(0).value.si == Approx(60.0 / 3600));
  CHECK(job.sensors.key == "demo-1mhz");
  CHECK(job.path.traverses.value == 2);
  REQUIRE(job.location.upstream.items.size() == 2);
  CHECK(job.location.upstream.items[1].distance.options.at(0).value.dimension ==
        Dimension::pipe_diameters);
  CHECK(job.flow.can_stop.value == true);
  CHECK(job.location.surface.values == std::vector<std::string>{"paint", "rust"});
  CHECK(job.pipe.orientation.value == "horizontal");
  CHECK(job.pipe.liner.options.at(0).value.none);
}

TEST_CASE("list_reader: nothing of a row is left in the next", "[list]") {
  List list(rows({{"tag", "pipe.size", "pipe.wall [mm]", "location.upstream [m]", "pipe.liner"},
                  {"P-1", "NPS 6", "7.11", "elbow-90 @ 2", "epoxy 0.4 mm"},
                  {"P-2", "", "", "", ""}}));
  list.read(1);
  const JobRequest& job = list.read(2);
  CHECK(job.tag.value == "P-2");
  CHECK_FALSE(job.pipe.size.given());
  CHECK_FALSE(job.pipe.wall.given());
  CHECK_FALSE(job.location.upstream.given);
  CHECK_FALSE(job.pipe.liner.given());
}

TEST_CASE("list_reader: nothing is left in the next row whatever columns a list has", "[list]") {
  // All columns, then all but one: parts that join in a row must not need the one that is missing.
  std::vector<std::string> cells;
  for (const ColumnKey& key : column_keys()) {
    std::string cell(key.info.example);
    if (cell.size() > 1 && cell.front() == '"') cell = cell.substr(1, cell.size() - 2);
    if (key.path == "pipe.schedule") cell = "40";
    if (key.kind == ColumnKind::fittings) cell = "elbow-90 @ 2 m";
    cells.push_back(cell);
  }
  JobRequest nothing;
  std::size_t filled = 0;
  for (std::size_t without = 0; without <= column_keys().size(); ++without) {
    Cells headings, first, blank;
    for (std::size_t i = 0; i < column_keys().size(); ++i) {
      if (i == without || column_keys()[i].kind == ColumnKind::unit_of) continue;
      headings.push_back(column_keys()[i].path);
      first.push_back(cells[i]);
      blank.push_back("");
    }
    List list({headings, first, blank});
    const std::size_t before = filled;
    visit_all_keys(list.read(1), "", [&](const std::string&, const KeyInfo&, const auto& entry) {
      if constexpr (requires { entry.options; }) filled += entry.options.size();
    });
    CHECK(filled - before > 10);
    INFO("without " << (without < cells.size() ? column_keys()[without].path : "any"));
    visit_all_keys(list.read(2), "",
                   [&](const std::string& key, const KeyInfo&, const auto& entry) {
                     INFO(key);
                     if constexpr (requires { entry.options; }) CHECK(entry.options.empty());
                     if constexpr (requires { entry.value.has_value(); })
                       CHECK_FALSE(entry.value.has_value());
                     if constexpr (requires { entry.items; }) CHECK(entry.items.empty());
                   });
  }
}

TEST_CASE("list_reader: blanks take the defaults, cells win over them", "[list]") {
  const ReadJob defaults = read_job(
      R"({ "pipe": { "material": "copper", "liner": "none" }, "fluid": { "name": "water" } })", {});
  List list({{"tag", "pipe.material"}, {"P-1", ""}, {"P-2", "brass"}, {"P-3", "UNK"}}, {},
            defaults.request);
  CHECK(texts(list.read(1).pipe.material) == "copper");
  CHECK(texts(list.read(1).fluid.name) == "water");
  CHECK(texts(list.read(2).pipe.material) == "brass");
  CHECK(texts(list.read(3).pipe.material) == "copper");
  REQUIRE(list.row().remarks.size() == 1);
  CHECK(list.row().remarks[0].cell == "UNK");
}

TEST_CASE("list_reader: placeholders are missing, never values", "[list]") {
  for (const char* cell : {"0", "0.0", "7", "NULL", "unknown", "N/A", "see photo", "-", "?"}) {
    List list(rows({{"tag", "pipe.wall [mm]", "pipe.outside_diameter [mm]"}, {"P-1", cell, cell}}));
    const JobRequest& job = list.read();
    INFO(cell);
    CHECK_FALSE(job.pipe.wall.given());
    CHECK_FALSE(job.pipe.outside_diameter.given());
    CHECK(list.row().problems.empty());
    CHECK(list.row().remarks.size() == 2);
  }
  // With its unit it is a value; and 7 degC is a common temperature of chilled water.
  List list(rows({{"tag", "pipe.wall [mm]", "fluid.temperature [degC]"}, {"P-1", "7 mm", "7"}}));
  CHECK(list.read().pipe.wall.options.at(0).value.readings.at(0).si == 0.007);
  CHECK(list.read().fluid.temperature.given());
  // A tag is kept as it is.
  List tag(rows({{"tag", "pipe.wall [mm]"}, {"NA", "7.1"}}));
  CHECK(tag.read().tag.value == "NA");
}

TEST_CASE("list_reader: sizes under NPS", "[list]") {
  CHECK(nps("6") == "NPS 6");
  CHECK(nps("6\"") == "NPS 6");
  CHECK(nps("6 in") == "NPS 6");
  CHECK(nps("1 1/2") == "NPS 1 1/2");
  CHECK(nps("1-1/2\"") == "NPS 1-1/2");
  CHECK(nps("1\u00BD") == "NPS 1 1/2");
  CHECK(nps("48/54?") == "NPS 48 or NPS 54");
  CHECK(nps("DN 150") == "DN 150");
  CHECK(nps("168.3 x 7.11 mm") == "168.3 x 7.11 mm");
  CHECK(nps("0") == "missing");
  CHECK(nps("7") == "missing");
  CHECK(nps("see photo") == "missing");
  CHECK(nps("66") == "refused");
  CHECK(nps("6.625") == "refused");
  CHECK(nps("2-Jan") == "refused");
  CHECK(nps("1E+02") == "refused");
  // Millimetres are never an NPS.
  CHECK(nps("150 mm") == "150 mm");
}

TEST_CASE("list_reader: schedules join their size", "[list]") {
  const auto joined = [](std::string_view size, std::string_view schedule) {
    List list(rows({{"tag", "pipe.size", "pipe.schedule"}, {"P", size, schedule}}));
    const JobRequest& job = list.read();
    return list.problem() + texts(job.pipe.size);
  };
  CHECK(joined("NPS 6", "40") == "NPS 6 sch 40");
  CHECK(joined("NPS 6", "40S") == "NPS 6 sch 40S");
  CHECK(joined("NPS 6", "STD") == "NPS 6 STD");
  CHECK(joined("NPS 6",
               "C\u00E9"
               "dula 40") ==
        "NPS 6 C\u00E9"
        "dula 40");
  CHECK(joined("NPS 6 sch 40", "40") == "NPS 6 sch 40");
  CHECK(joined("NPS 6", "-") == "NPS 6");
  List diameter(
      rows({{"tag", "pipe.outside_diameter [mm]", "pipe.schedule"}, {"P", "168.3", "40"}}));
  CHECK(texts(diameter.read().pipe.size) == "OD 168.3 mm sch 40");
  List sdr(rows({{"tag", "pipe.size", "pipe.schedule [SDR]"}, {"P", "d 110", "11"}}));
  CHECK(texts(sdr.read().pipe.size) == "d 110 SDR 11");

  // A size that has no column of its own is each row's.
  List rows_of_diameters(rows({{"tag", "pipe.outside_diameter [mm]", "pipe.schedule"},
                               {"P", "168.3", "40"},
                               {"P", "219.1", "40.0"},
                               {"P", "114.3", ""},
                               {"P", "", "40"},
                               {"P", "168.3 or 219.1", "40"}}));
  CHECK(texts(rows_of_diameters.read(1).pipe.size) == "OD 168.3 mm sch 40");
  CHECK(texts(rows_of_diameters.read(2).pipe.size) == "OD 219.1 mm sch 40");
  CHECK_FALSE(rows_of_diameters.read(3).pipe.size.given());
  rows_of_diameters.read(4);
  CHECK(rows_of_diameters.problem().find("pipe.schedule: \"40\" belongs to a size") == 0);
  rows_of_diameters.read(5);
  CHECK(rows_of_diameters.problem().find("\"OD 168.3 mm sch 40 or OD 219.1 mm sch 40\"") !=
        std::string::npos);
  const ReadJob defaults = read_job(R"({ "pipe": { "size": "NPS 6" } })", {});
  List of_one_size({{"tag", "pipe.schedule"}, {"P", "40"}, {"P", "80"}}, {}, defaults.request);
  CHECK(texts(of_one_size.read(1).pipe.size) == "NPS 6 sch 40");
  CHECK(texts(of_one_size.read(2).pipe.size) == "NPS 6 sch 80");

  // Every schedule that a cell offers is planned, with every size.
  CHECK(joined("NPS 6", "40 or 80") == "NPS 6 sch 40 or NPS 6 sch 80");
  CHECK(joined("NPS 6", "STD/XS?") == "NPS 6 STD or NPS 6 XS");
  CHECK(joined("NPS 6 or NPS 8", "40 or 80") ==
        "NPS 6 sch 40 or NPS 6 sch 80 or NPS 8 sch 40 or NPS 8 sch 80");
}

TEST_CASE("list_reader: outside diameters", "[list]") {
  const auto diameter = [](std::string_view cell) {
    List list(rows({{"tag", "pipe.outside_diameter [mm]"}, {"P", cell}}));
    const JobRequest& job = list.read();
    return list.row().problems.empty() ? texts(job.pipe.outside_diameter) : list.problem();
  };
  CHECK(diameter("168.3") == "168.3 mm");
  CHECK(diameter("OD 168.3") == "168.3 mm");
  CHECK(diameter("\u00d8168.3") == "168.3 mm");
  CHECK(diameter("168.3 OD") == "168.3 mm");
  CHECK(diameter("168.3 +- 0.5") == "168.3 +- 0.5 mm");
  CHECK(diameter("6.625 in") == "6.625 in");
  // An inch mark in a column of millimetres: NPS 6 is 168.3 mm outside (ASME B36.10M).
  CHECK(diameter("6\"").find("NPS 6 or an outside diameter of 152.4 mm") != std::string::npos);
  CHECK(diameter("1-1/2 in").find("NPS 1.5 or") != std::string::npos);
  CHECK(diameter("16 in") == "16 in");  // NPS 16 is 16 in outside
}

TEST_CASE("list_reader: walls", "[list]") {
  const auto readings = [](std::string_view cell) {
    List list(rows({{"tag", "pipe.wall [mm]"}, {"P", cell}}));
    const JobRequest& job = list.read();
    std::vector<double> out;
    for (const auto& option : job.pipe.wall.options) {
      for (const Reading& one : option.value.readings) out.push_back(one.si * 1e3);
    }
    if (!list.row().problems.empty()) out.clear();
    return out;
  };
  CHECK(readings("6,02").at(0) == Approx(6.02));
  CHECK(readings("0.237\"").at(0) == Approx(6.0198));
  CHECK(readings("10.3 (was 12.7)").at(0) == Approx(10.3));
  CHECK(readings("2.75 / 4.28 / 4.49").size() == 3);
  CHECK(readings("7.1; 7.0").size() == 2);
  CHECK(readings("7.1 / 7.0").empty());
  CHECK(readings("STD").empty());
  CHECK(readings("-3").empty());
  // A unit behind the last is that of all.
  CHECK(readings("0.28/0.275/0.281 in").at(0) == Approx(0.28 * 25.4));
  CHECK(readings("7.1; 7.0; 6.9 mm").size() == 3);
  CHECK(readings("0.28 in; 7.0; 6.9 mm").at(1) == Approx(7.0));
  CHECK(readings("7.1 +- 0.2").at(0) == Approx(7.1));
  // A slip of the decimal mark is no reading; the mean would be 28 mm.
  CHECK(readings("7.1/71/7.0").empty());

  // Three columns are readings of one wall; gaps among them are gaps.
  List three({{"tag", "R1", "R2", "R3"}, {"P", "7.1", "", "6.9"}, {"P", "", "n/a", ""}},
             {"R1=pipe.wall [mm]", "R2=pipe.wall [mm]", "R3=pipe.wall [mm]"});
  CHECK(three.read(1).pipe.wall.options.at(0).value.readings.size() == 2);
  CHECK_FALSE(three.read(2).pipe.wall.given());

  // Alternatives are planned each.
  List both(rows({{"tag", "pipe.wall"}, {"P", "7.11 mm or 10.97 mm"}}));
  CHECK(both.read().pipe.wall.options.size() == 2);
  CHECK(both.row().remarks.size() == 1);
  List beside({{"tag", "R1", "R2"}, {"P", "7.1 or 9", "6.9"}, {"P", "7.1", "71"}},
              {"R1=pipe.wall [mm]", "R2=pipe.wall [mm]"});
  beside.read(1);
  CHECK(beside.problem().find("R2: two columns have a wall") == 0);
  beside.read(2);
  CHECK(beside.problem().find("readings of 7.1 mm and 71 mm") != std::string::npos);
}

TEST_CASE("list_reader: numbers without a unit are refused with the way to give one", "[list]") {
  List list(rows({{"tag", "flow.rate", "fluid.temperature"}, {"P", "60", "7"}}));
  list.read();
  REQUIRE(list.row().problems.size() == 2);
  CHECK(list.row().problems[0].message.find("flow.rate [m3/h]") != std::string::npos);
  CHECK(list.row().problems[1].message.find("[degC]") != std::string::npos);
  List unit({{"tag", "flow", "UOM"}, {"P", "60", "m3/h"}, {"P", "60", ""}, {"P", "500", "gpm"}},
            {"flow=flow.rate", "UOM=unit of flow"});
  CHECK(unit.read(1).flow.rate.options.at(0).value.si == Approx(60.0 / 3600));
  unit.read(2);
  CHECK(unit.problem().find("UOM") != std::string::npos);
  // US gallon: 231 cubic inches (NIST SP 811, appendix B).
  CHECK(unit.read(3).flow.rate.options.at(0).value.si == Approx(500 * 3.785411784e-3 / 60));
}

TEST_CASE("list_reader: ranges and temperatures", "[list]") {
  const auto read = [](std::string_view cell) {
    List list(rows({{"tag", "fluid.temperature [degC]"}, {"P", cell}}));
    const QuantityEntry entry = list.read().fluid.temperature;
    std::string out = list.row().problems.empty() ? texts(entry) : "refused";
    return out + (entry.between ? " between" : "");
  };
  CHECK(read("4-6\u00B0C") == "4 \u00B0C or 6 \u00B0C between");
  CHECK(read("4-6") == "4 degC or 6 degC between");
  CHECK(read("140F") == "140 F");
  CHECK(read("60\u00B0") == "60 degC");
  CHECK(read("-4") == "-4 degC");
  CHECK(read("0") == "");
  CHECK(read("warm") == "refused");
}

TEST_CASE("list_reader: layers", "[list]") {
  const auto layer = [](std::string_view cell) {
    List list(rows({{"tag", "pipe.liner [mm]"}, {"P", cell}}));
    const JobRequest& job = list.read();
    if (!list.row().problems.empty()) return std::string("refused");
    if (!job.pipe.liner.given()) return std::string("missing");
    const LayerRequest& one = job.pipe.liner.options.front().value;
    return one.none ? std::string("none") : texts(one.material) + ", " + texts(one.thickness);
  };
  CHECK(layer("none") == "none");
  CHECK(layer("NO") == "none");
  CHECK(layer("cement mortar 3.2 mm") == "cement mortar, 3.2 mm");
  CHECK(layer("cement mortar, 3,2") == "cement mortar, 3.2 mm");
  CHECK(layer("epoxy (0.4 mm)") == "epoxy, 0.4 mm");
  CHECK(layer("3 mm cement mortar") == "cement mortar, 3 mm");
  CHECK(layer("yes") == "refused");
  CHECK(layer("?") == "missing");
  CHECK(layer("epoxy") == "epoxy, ");
  CHECK(layer("cement mortar 1/8 in") == "cement mortar, 1/8 in");
  CHECK(layer("1/8\" cement mortar") == "cement mortar, 1/8\"");
  CHECK(layer("No lining") == "none");
  CHECK(layer("keine") == "none");

  List parts(rows({{"tag", "pipe.liner.material", "pipe.liner.thickness [mm]"},
                   {"P", "cement mortar", "3.2"},
                   {"P", "none", ""},
                   {"P", "", ""}}));
  CHECK(texts(parts.read(1).pipe.liner.options.at(0).value.thickness) == "3.2 mm");
  CHECK(parts.read(2).pipe.liner.options.at(0).value.none);
  CHECK_FALSE(parts.read(3).pipe.liner.given());

  // Whether, with what and how thick, in three columns.
  List three({{"tag", "Lined", "With", "Thick"},
              {"P", "YES", "cement mortar", "3.2"},
              {"P", "YES", "", ""},
              {"P", "NO", "cement mortar", ""},
              {"P", "NO", "none", ""},
              {"P", "", "", ""}},
             {"Lined=pipe.liner", "With=pipe.liner.material", "Thick=pipe.liner.thickness [mm]"});
  const LayerRequest lined = three.read(1).pipe.liner.options.at(0).value;
  CHECK(texts(lined.material) == "cement mortar");
  CHECK(texts(lined.thickness) == "3.2 mm");
  three.read(2);
  CHECK(three.problem().find("Lined: \"YES\" does not say with what") == 0);
  three.read(3);
  CHECK(three.problem().find("Lined: says that there is none") == 0);
  CHECK(three.read(4).pipe.liner.options.at(0).value.none);
  CHECK_FALSE(three.read(5).pipe.liner.given());

  // What all rows share goes with what a row says, and lines no row that says nothing.
  const ReadJob shared = read_job(R"({ "pipe": { "liner": { "thickness": "3.2 mm" } } })", {});
  List material({{"tag", "pipe.liner.material"}, {"P", "cement mortar"}, {"P", ""}}, {},
                shared.request);
  CHECK(texts(material.read(1).pipe.liner.options.at(0).value.thickness) == "3.2 mm");
  CHECK_FALSE(material.read(2).pipe.liner.given());
}

TEST_CASE("list_reader: longer and shorter rows", "[list]") {
  List list(rows({{"tag", "pipe.size", "note"},
                  {"P-1"},
                  {"P-2", "NPS 6", "a", "b"},
                  {"P-3", "NPS 6", "a", "", ""}}));
  list.read(1);
  CHECK(list.row().problems.empty());
  list.read(2);
  REQUIRE(list.row().problems.size() == 1);
  CHECK(list.row().problems[0].message.find("4 cells under 3 headings") != std::string::npos);
  list.read(3);
  CHECK(list.row().problems.empty());
}

TEST_CASE("list_reader: problems of the job find their column", "[list]") {
  List list({{"Line", "Grade", "Size", "OD (mm)"}, {"P-1", "unobtainium", "6", "168.3"}},
            {"Grade=pipe.material", "Line=tag"});
  list.read();
  const auto told = [&](std::string key, std::string message) {
    return cell_message({{}, std::move(key), std::move(message)}, list.row(), list.layout());
  };
  const CellMessage grade = told("pipe.material", "no material is known so");
  CHECK(grade.column == "Grade");
  CHECK(grade.cell == "unobtainium");
  CHECK(told("pipe.size", "is missing (size)").message.find("--map 'Size=pipe.size'") !=
        std::string::npos);
  CHECK(told("fluid.name", "is missing (name)").message.find("--set") != std::string::npos);
  CHECK(told("fluid.name", "is missing (name)").column == "fluid.name");
  // What a job would take and a cell does not is not told as a mend.
  const ReadJob no_wall =
      read_job(R"({ "pipe": { "outside_diameter": "168.3 mm", "material": "carbon steel" } })", {});
  for (const Problem& one : resolve(no_wall.request, Catalogue()).problems) {
    CHECK(cell_message(one, list.row(), list.layout()).message.find("\"unknown\"") ==
          std::string::npos);
  }
}

TEST_CASE("list_reader: mends of a job in the words of a list", "[list]") {
  List list(rows({{"tag", "pipe.material", "fluid.name", "pipe.liner"},
                  {"P", "DICL", "glycol", "cement mortar"}}));
  list.read();
  const auto told = [&](std::string key, std::string message) {
    return cell_message({{}, std::move(key), std::move(message)}, list.row(), list.layout())
        .message;
  };
  // The cell's own key: the value alone. Another one: its whole key.
  CHECK(told("pipe.material", R"(no; write "material": "carbon steel")") ==
        "no; write \"carbon steel\"");
  CHECK(told("fluid.name", R"(or "sound_speed": "1482 m/s")")
            .find("or \"1482 m/s\" for fluid.sound_speed (") == 0);
  CHECK(told("pipe.liner", R"(write "material": "cement mortar")") ==
        "write the material before the thickness, such as \"cement mortar 3.2 mm\"");
  CHECK(told("pipe.liner", R"(write "thickness": "3.2 mm")").find("\"cement mortar 3.2 mm\"") !=
        std::string::npos);
  CHECK(told("pipe.material",
             R"(state "liner": { "material": "cement mortar", "thickness": "4 mm" } or "unknown")")
            .find("state \"cement mortar 4 mm\" for pipe.liner (") == 0);
  CHECK(told("fluid.temperature", R"(write { "one_of": ["60 degC", "80 degC"] })") ==
        "write \"60 degC or 80 degC\"");
  CHECK(told("location.upstream[0].distance", R"(write "distance": "2.1 m")")
            .find("elbow-90 @ 2.1 m") != std::string::npos);
  // What is no key of a list stays as it is.
  CHECK(told("pipe.material", R"(write "longitudinal": "5920 m/s")") ==
        R"(write "longitudinal": "5920 m/s")");
}

TEST_CASE("list_reader: what several columns say of one thing", "[list]") {
  // A fitting and its distance; one without the other keeps what there is.
  List fitting(
      {{"tag", "Upstream fitting", "Upstream distance [m]"},
       {"P", "elbow", "2.1"},
       {"P", "pump", ""},
       {"P", "", "3"},
       {"P", "elbow @ 2 m", "4"}},
      {"Upstream fitting=location.upstream", "Upstream distance [m]=location.upstream [m]"});
  const auto upstream = [&](std::size_t row) {
    std::string out;
    for (const FittingRequest& one : fitting.read(row).location.upstream.items) {
      out += one.fitting.value.value_or("") + " @ " + texts(one.distance) + "; ";
    }
    return out;
  };
  CHECK(upstream(1) == "elbow-90 @ 2.1 m; ");
  CHECK(upstream(2) == "pump @ ; ");
  CHECK(upstream(3) == "unknown @ 3 m; ");
  CHECK(upstream(4) == "elbow-90 @ 2 m; unknown @ 4 m; ");

  // The defaults' wall is no reading beside those of the row.
  const ReadJob defaults = read_job(R"({ "pipe": { "wall": "9 mm" } })", {});
  List walls({{"tag", "R1", "R2"}, {"P", "", "7.1"}, {"P", "7.0", ""}, {"P", "", "?"}},
             {"R1=pipe.wall [mm]", "R2=pipe.wall [mm]"}, defaults.request);
  const auto readings = [&](std::size_t row) {
    return walls.read(row).pipe.wall.options.at(0).value.readings;
  };
  REQUIRE(readings(1).size() == 1);
  CHECK(readings(1)[0].si == Approx(7.1e-3));
  REQUIRE(readings(2).size() == 1);
  CHECK(readings(2)[0].si == Approx(7.0e-3));
  REQUIRE(readings(3).size() == 1);
  CHECK(readings(3)[0].si == Approx(9e-3));
}

TEST_CASE("list_reader: a point among thousands is asked, never taken", "[list]") {
  const auto flow = [](std::vector<Cells> rows) {
    rows.insert(rows.begin(), Cells{"tag", "flow.rate [l/h]", "fluid.pressure [barg]"});
    List list(rows);
    const JobRequest& job = list.read();
    return list.row().problems.empty() ? job.flow.rate.options.at(0).value.si * 3.6e6 : 0;
  };
  // Litres in an hour; 0: asked.
  CHECK(flow({{"A", "12.000", "4"}, {"B", "9.500", "3"}}) == 0);
  CHECK(flow({{"A", "12.000", "4,5"}, {"B", "9.500", "3,5"}}) == 0);
  CHECK(flow({{"A", "12.000,0", "4,5"}, {"B", "9.500", "3,5"}}) == Approx(12000));
  CHECK(flow({{"A", "12.000", "4.5"}, {"B", "9.5", "3.5"}}) == Approx(12));
  CHECK(flow({{"A", "12000", "4.5"}}) == Approx(12000));
  CHECK(flow({{"A", "12\u00a0000", "4.5"}}) == Approx(12000));
  CHECK(flow({{"A", "12 000 l/h", "4.5"}}) == Approx(12000));
}

TEST_CASE("list_reader: a number of the other unit is asked", "[list]") {
  const auto problem = [](std::string_view unit, std::string_view diameter, std::string_view wall) {
    const std::string od = "pipe.outside_diameter [" + std::string(unit) + "]";
    const std::string thickness = "pipe.wall [" + std::string(unit) + "]";
    List list(rows({{"tag", od, thickness}, {"P", diameter, wall}}));
    list.read();
    return list.problem();
  };
  CHECK(problem("in", "6.625", "0.28").empty());
  CHECK(problem("mm", "168.3", "7.11").empty());
  CHECK(problem("mm", "22", "0.6").empty());
  // NPS 4 in millimetres among inches, walls of NPS 6 in inches among millimetres (ASME B36.10M).
  CHECK(problem("in", "114.3", "6.02").find("\"114.3 mm\"") != std::string::npos);
  CHECK(problem("in", "114.3 mm", "6.02 mm").empty());
  CHECK(problem("in", "114.3 in", "2 in").empty());
  CHECK(problem("mm", "168.3", "0.28").find("\"0.28 in\"") != std::string::npos);
  CHECK(problem("mm", "168.3", "0.28 in").empty());
}

TEST_CASE("list_reader: a cell that repeats the one above is no value and not missing", "[list]") {
  List list(rows({{"tag", "pipe.size"}, {"P", "NPS 6"}, {"P", "ditto"}, {"P", "\""}}));
  for (const std::size_t row : {std::size_t{2}, std::size_t{3}}) {
    list.read(row);
    CHECK(list.problem().find("--fill-down 'pipe.size'") != std::string::npos);
    CHECK(list.row().remarks.empty());
  }
}
