// Lists of pipes through the program: results row by row, refusals, scale, and stops in between.

#include <algorithm>
#include <catch2/catch.hpp>
#include <chrono>
#include <csignal>
#include <nlohmann/json.hpp>
#include <thread>

#include "cli/run.hpp"

using namespace slantrule::test;
using Json = nlohmann::json;

namespace {

/// Rows of cells by RFC 4180.
std::vector<std::vector<std::string>> cells_of(const std::string& text) {
  std::vector<std::vector<std::string>> rows;
  bool quoted = false, begun = false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (!begun) rows.emplace_back(1);
    begun = true;
    std::vector<std::string>& cells = rows.back();
    if (quoted && c == '"' && i + 1 < text.size() && text[i + 1] == '"') {
      cells.back() += '"';
      ++i;
    } else if (c == '"') {
      quoted = !quoted;
    } else if (c == ',' && !quoted) {
      cells.emplace_back();
    } else if (c == '\n' && !quoted) {
      begun = false;
    } else {
      cells.back() += c;
    }
  }
  CHECK_FALSE(quoted);
  CHECK_FALSE(begun);
  return rows;
}

/// A CSV result: cells by row and heading.
class Table {
 public:
  explicit Table(const std::string& text) : lines_(cells_of(text)) {
    REQUIRE_FALSE(lines_.empty());
  }
  std::size_t rows() const { return lines_.size() - 1; }
  std::string at(std::size_t row, const std::string& heading) const {
    const auto found = std::find(lines_[0].begin(), lines_[0].end(), heading);
    INFO("column " << heading);
    REQUIRE(found != lines_[0].end());
    return lines_.at(row + 1).at(static_cast<std::size_t>(found - lines_[0].begin()));
  }
  bool whole() const {
    return std::all_of(lines_.begin(), lines_.end(),
                       [&](const auto& line) { return line.size() == lines_[0].size(); });
  }

 private:
  std::vector<std::vector<std::string>> lines_;
};

const std::string three_pipes =
    "tag,pipe.size,pipe.material,fluid.name,fluid.temperature [degC],sensors\n"
    "A,NPS 6 sch 40,carbon steel,water,7,demo-1mhz\n"
    "B,NPS 6 sch 40,unobtainium,water,7,demo-1mhz\n"
    "C,28 x 1 mm,copper,water,60,demo-2mhz\n";

Outcome survey(const Folder& folder, const std::string& list, Args args = {}) {
  Args all = {"survey", "-", "--format", "csv"};
  all.insert(all.end(), args.begin(), args.end());
  return run_slantrule(folder, all, {.input = list});
}

/// `rows` different pipes.
std::string long_list(int rows) {
  std::string text =
      "tag,pipe.size,pipe.material,pipe.wall [mm],fluid.name,"
      "fluid.temperature [degC],sensors\n";
  for (int i = 0; i < rows; ++i) {
    text += "P" + std::to_string(i) + ",NPS 6,carbon steel," + std::to_string(6.5 + i * 1e-4) +
            ",water," + std::to_string(5 + i % 80) + ",demo-1mhz\n";
  }
  return text;
}

/// The program in `folder` with its standard output in a file; it can be stopped while it runs.
pid_t start_slantrule(const Folder& folder, const Args& args, const char* standard_output) {
  std::vector<std::string> words = {SLANTRULE_PROGRAM};
  words.insert(words.end(), args.begin(), args.end());
  std::vector<char*> given;
  for (std::string& word : words) given.push_back(word.data());
  given.push_back(nullptr);
  const pid_t child = ::fork();
  REQUIRE(child >= 0);
  if (child > 0) return child;
  if (::chdir(folder.path().c_str()) != 0) ::_exit(126);
  const int file = ::open(standard_output, O_WRONLY | O_CREAT | O_TRUNC, 0600);
  const int null = ::open("/dev/null", O_WRONLY);
  if (file < 0 || null < 0 || ::dup2(file, 1) < 0 || ::dup2(null, 2) < 0) ::_exit(126);
  ::execv(SLANTRULE_PROGRAM, given.data());
  ::_exit(127);
}

/// Waits until `happened`: a machine may be slow, and a stop before the work began shows nothing.
template <class Happened>
bool wait_until(Happened happened) {
  for (int tries = 0; tries < 30000; ++tries) {
    if (happened()) return true;
    std::this_thread::sleep_for(std::chrono::milliseconds(1));
  }
  return false;
}

}  // namespace

TEST_CASE("survey: one row of results for each row of the list", "[cli]") {
  const Folder folder;
  const Outcome done = survey(folder, three_pipes);
  CHECK(done.code == 1);
  const Table table(done.out);
  REQUIRE(table.rows() == 3);
  CHECK(table.whole());
  CHECK(table.at(0, "status") == "planned");
  CHECK(table.at(0, "tag") == "A");
  CHECK(table.at(1, "status") == "refused");
  CHECK(table.at(1, "problems").find("unobtainium") != std::string::npos);
  CHECK(table.at(1, "line") == "3");
  CHECK(table.at(1, "list: pipe.material") == "unobtainium");
  CHECK(table.at(2, "status") == "planned");
  CHECK(done.err.find("3 rows") != std::string::npos);
}

TEST_CASE("survey: rows are what plan says of them", "[cli]") {
  const Folder folder;
  const Table table(survey(folder, three_pipes).out);
  const Outcome plan =
      run_slantrule(folder, {"plan", "--format", "json", "--set", "pipe.size=NPS 6 sch 40", "--set",
                             "pipe.material=carbon steel", "--set", "fluid.name=water", "--set",
                             "fluid.temperature=7 degC", "--set", "sensors=demo-1mhz"});
  const Json one = Json::parse(plan.out);
  CHECK(std::stod(table.at(0, "path.mark_spacing_mm")) == one["path"]["mark_spacing_mm"]);
  CHECK(std::stod(table.at(0, "path.zero_flow_time_us")) == one["path"]["zero_flow_time_us"]);
  CHECK(std::stod(table.at(0, "signal.loss_dB")) == one["signal"]["loss_dB"]);
  CHECK(table.at(0, "verdict") == one["verdict"]);
  std::string cautions;
  for (const Json& finding : one["findings"]) {
    if (finding["severity"] != "caution") continue;
    cautions += (cautions.empty() ? "" : "; ") + finding["id"].get<std::string>();
  }
  CHECK(table.at(0, "findings.caution") == cautions);

  const Outcome lines =
      run_slantrule(folder, {"survey", "-", "--format", "jsonl"}, {.input = three_pipes});
  const auto each = lines_of(lines.out);
  REQUIRE(each.size() == 3);
  const Json first = Json::parse(each[0]), second = Json::parse(each[1]);
  // All of the plan's object but title and site of the shared job, and what of the signal takes a
  // hundred times as long.
  for (const auto& [key, value] : one.items()) {
    INFO(key);
    if (key == "tag") continue;
    REQUIRE(first.contains(key));
    if (key != "signal") CHECK(first[key] == value);
  }
  REQUIRE(first["signal"].size() >= 3);
  for (const auto& [key, value] : first["signal"].items()) {
    INFO(key);
    CHECK(one["signal"][key] == value);
  }
  CHECK(first["row"] == 1);
  CHECK(first["line"] == 2);
  CHECK(second["status"] == "refused");
  CHECK(second["problems"][0]["column"] == "pipe.material");
  CHECK(second["problems"][0]["cell"] == "unobtainium");
}

TEST_CASE("survey: JSON Lines in, as jobs and as cells", "[cli]") {
  const Folder folder;
  const std::string list =
      R"({"tag":"A","pipe":{"size":"NPS 6 sch 40","material":"carbon steel"},"fluid":{"name":"water","temperature":"7 degC"}})"
      "\n\n"
      R"({"tag":"B","pipe.size":"NPS 6","pipe.schedule":40,"pipe.material":"carbon steel","fluid.name":"water","fluid.temperature":"7 degC"})"
      "\n{broken\n";
  const Outcome done = run_slantrule(
      folder, {"survey", "-", "--format", "jsonl", "--set", "sensors=demo-1mhz"}, {.input = list});
  CHECK(done.code == 1);
  const auto lines = lines_of(done.out);
  REQUIRE(lines.size() == 3);
  const Json a = Json::parse(lines[0]), b = Json::parse(lines[1]), c = Json::parse(lines[2]);
  CHECK(a["status"] == "planned");
  CHECK(b["status"] == "planned");
  CHECK(a["path"]["mark_spacing_mm"] == b["path"]["mark_spacing_mm"]);
  CHECK(b["line"] == 3);
  CHECK(c["status"] == "refused");
  CHECK(c["line"] == 4);
}

TEST_CASE("survey: JSON Lines in, no text of a line is lost", "[cli]") {
  const Folder folder;
  const std::string pipe = R"({"size":"NPS 6 sch 40","material":"carbon steel"})";
  const std::string fluid = R"("fluid.name":"water","fluid.temperature":"7 degC")";
  const std::vector<std::string> list = {
      R"({"tag":"A","pipe":)" + pipe + R"(,"fluid":{"name":"water","temperature":"7 degC"}})",
      R"({not "json")",
      R"(["a list"])",
      R"({"tag":"B","pipe.size":"NPS 6 sch 40","pipe.material":" carbon steel ",)" + fluid +
          R"(,"extra":{"a":1.50,"b":["x\ty",null,true]}})",
      R"({"tag":"C","pipe":)" + pipe + "," + fluid +
          R"(,"flow.rate":{"between":["50 m3/h","60 m3/h"]}})",
      R"({"tag":"D","pipe.size":"NPS 6 sch 40","pipe.material":"carbon steel",)" + fluid +
          R"(,"location.upstream":[{"fitting":"elbow-90","distance":"4 m"}]})",
      R"({"tag":"E","pips":)" + pipe + "," + fluid + "}",
      R"({"tag":"F","pipe":)" + pipe + R"(,"pipe.wall":"5 mm",)" + fluid + "}",
      R"({"tag":"G","pipe":)" + pipe + R"(,"fluid":{"nmae":"water"}})"};
  std::string text;
  for (const std::string& line : list) text += line + "\n";
  const Args given = {"survey", "-", "--set", "sensors=demo-1mhz", "--format"};
  Args args = given;
  args.emplace_back("jsonl");
  const Outcome done = run_slantrule(folder, args, {.input = text});
  const auto lines = lines_of(done.out);
  REQUIRE(lines.size() == list.size());
  std::vector<Json> rows;
  for (const std::string& line : lines) rows.push_back(Json::parse(line));
  for (std::size_t i : {0U, 3U, 4U, 5U, 7U}) {
    INFO(lines[i]);
    CHECK(rows[i]["status"] == "planned");
  }
  CHECK(rows[0]["list"]["pipe"] == pipe);
  CHECK(rows[0]["list"].size() == 3);
  CHECK(rows[1]["status"] == "refused");
  CHECK(rows[1]["list"] == Json{{"line", list[1]}});
  CHECK(rows[2]["list"] == Json{{"line", list[2]}});
  CHECK(rows[3]["list"]["extra"] == R"({"a":1.50,"b":["x\u0009y",null,true]})");
  CHECK(rows[3]["list"]["pipe.material"] == " carbon steel ");
  CHECK(rows[4]["list"]["flow.rate"] == R"({"between":["50 m3/h","60 m3/h"]})");
  CHECK(rows[4]["candidates"].size() == 2);
  CHECK(rows[5]["list"]["location.upstream"] == R"([{"fitting":"elbow-90","distance":"4 m"}])");
  // 4 m of NPS 6 schedule 40, inside diameter 154.08 mm (ASME B36.10M), are 26 diameters.
  CHECK(rows[5]["straight_run"]["upstream"]["available_D"].get<double>() ==
        Approx(4000 / 154.08).epsilon(1e-6));
  CHECK(rows[6]["status"] == "refused");
  CHECK(rows[6]["problems"][0]["message"].get<std::string>().find("did you mean \"pipe\"") !=
        std::string::npos);
  // A cell beside the job wins over it, as it wins over the defaults.
  CHECK(rows[7]["pipe"]["wall_mm"] == 5);
  CHECK(rows[8]["status"] == "refused");
  CHECK(rows[8]["tag"] == "G");
  CHECK(done.err.find("columns not used: \"extra\", \"pips\";") != std::string::npos);

  args = given;
  args.emplace_back("csv");
  const Table table(run_slantrule(folder, args, {.input = text}).out);
  CHECK(table.whole());
  CHECK(table.at(1, "list: line") == list[1]);
  CHECK(table.at(0, "list: pipe") == pipe);
  CHECK(table.at(0, "list: line").empty());
}

TEST_CASE("survey: the demonstration list", "[cli]") {
  const Folder folder;
  const Args given = {"--map-file", "examples/plant-list.map", "--defaults",
                      "examples/plant-defaults.json"};
  Args args = {"survey", "examples/plant-list.csv", "--format", "csv"};
  args.insert(args.end(), given.begin(), given.end());
  const Outcome done = run_slantrule(folder, args);
  CHECK(done.code == 1);
  const Table table(done.out);
  // Thirty-three pipes: neither titles, units, the total nor the note below are one.
  REQUIRE(table.rows() == 33);
  CHECK(table.whole());
  const auto row_of = [&](const std::string& tag) {
    for (std::size_t i = 0; i < table.rows(); ++i) {
      if (table.at(i, "list: Line No.") == tag) return i;
    }
    FAIL(tag);
    return std::size_t{0};
  };
  const auto status = [&](const std::string& tag) { return table.at(row_of(tag), "status"); };
  CHECK(status("CHW-S-01") == "planned");
  // CS: carbon steel or concrete-steel.
  CHECK(status("CHW-R-01") == "refused");
  CHECK(status("CON-02") == "refused");
  CHECK(status("FW-04") == "refused");
  CHECK(status("WW-01") == "refused");
  CHECK(status("WW-03") == "refused");
  // 0 under the size is missing; the measured diameter does instead.
  CHECK(status("FW-02") == "planned");
  CHECK(table.at(row_of("FW-02"), "remarks").find("missing") != std::string::npos);
  CHECK(table.at(row_of("FW-03"), "candidates").find("NPS 18") != std::string::npos);
  CHECK(table.at(row_of("HTG-S-02"), "findings.caution").find("pipe.wall-conflict") !=
        std::string::npos);
  CHECK(table.at(row_of("CND-02"), "findings.stop").find("mount.clock") != std::string::npos);
  CHECK(done.err.find("TOTAL") != std::string::npos);
  CHECK(done.err.find("Notes: wall by gauge") != std::string::npos);
}

TEST_CASE("survey: columns are shown before anything runs, and saved as a map", "[cli]") {
  const Folder folder;
  const Outcome shown = run_slantrule(folder, {"survey", "examples/plant-list.csv", "--columns"});
  CHECK(shown.code == 0);
  CHECK(shown.out.find("separated by semicolons") != std::string::npos);
  CHECK(shown.out.find("--map 'OD (mm)=pipe.outside_diameter [mm]'") != std::string::npos);
  for (const std::string& line : lines_of(shown.out)) CHECK(line.size() <= 80 + 40);

  const Outcome mapped = run_slantrule(folder, {"survey", "examples/plant-list.csv", "--columns",
                                                "--map-file", "examples/plant-list.map"});
  CHECK(mapped.out.find("\"Pipe size\"  ->  pipe.size [NPS]") != std::string::npos);
  CHECK(mapped.out.find("\"1 1/2\" -> NPS 1 1/2 sch 40") != std::string::npos);
  CHECK(mapped.out.find("missing") != std::string::npos);

  CHECK(run_slantrule(folder, {"survey", "examples/plant-list.csv", "--save-map", "my.map"}).code ==
        0);
  CHECK(run_slantrule(folder,
                      {"survey", "examples/plant-list.csv", "--columns", "--map-file", "my.map"})
            .code == 0);
}

TEST_CASE("survey: mistakes of the command are one line each", "[cli]") {
  const Folder folder;
  const auto fails = [&](const Args& args, const std::string& words) {
    const Outcome done = run_slantrule(folder, args, {.input = three_pipes});
    INFO(done.err);
    CHECK(done.code == 2);
    CHECK(done.out.empty());
    CHECK(done.err.find(words) != std::string::npos);
  };
  fails({"survey"}, "no list");
  fails({"survey", "nowhere.csv"}, "nowhere.csv: cannot be read");
  fails({"survey", "-", "--map", "tga=tag"}, "did you mean \"tag\"");
  fails({"survey", "-", "--map", "tag=pipe.sise"}, "did you mean \"pipe.size\"");
  fails({"survey", "-", "--defaults", "nowhere.json"}, "nowhere.json: cannot be read");
  fails({"survey", "-", "--set", "pipe.sise=6"}, "did you mean \"size\"");
  fails({"survey", "-", "--set", "pipe.schedule=40"},
        "--set: pipe.schedule: is a key of columns only, as a schedule belongs to the size of its "
        "row; give the list a column of that name");
  fails({"survey", "-", "--fill-down", "area"}, "no column is called so");
  fails({"survey", "-", "--output", "examples/plant-list.csv"}, "is there already");
  const Outcome empty = run_slantrule(folder, {"survey", "-"}, {.input = "\n\n"});
  CHECK(empty.code == 2);
  CHECK(empty.err.find("holds no rows") != std::string::npos);
}

TEST_CASE("survey: columns that are not used are named", "[cli]") {
  const Folder folder;
  const std::string list =
      "tag,pipe.size,pipe.material,fluid.name,fluid.temperature "
      "[degC],sensors,Q,Druck,Empty,Press\n"
      "A,NPS 6 sch 40,carbon steel,water,7,demo-1mhz,60 m3/h,4 bar,,4 bar gauge\n";
  const Outcome done = survey(folder, list, {"--summary", "sum.json"});
  CHECK(done.code == 0);
  CHECK(done.err.find("columns not used: \"Q\", \"Druck\"; see --columns, give --map\n") !=
        std::string::npos);
  CHECK(done.err.find("--map 'Press=fluid.pressure'") != std::string::npos);
  const Json summary = Json::parse(text_of(folder / "sum.json"));
  CHECK(summary["columns_not_used"] == Json::array({"Q", "Druck", "Press"}));
  const Outcome text = run_slantrule(folder, {"survey", "-"}, {.input = list});
  CHECK(text.out.find("Columns of the list that are not used: Q, Druck, Press\n") !=
        std::string::npos);
  const Outcome pack = run_slantrule(folder, {"pack", "-"}, {.input = list});
  CHECK(pack.err.find("columns not used: \"Q\", \"Druck\"") != std::string::npos);
  const Outcome meant = survey(folder, list, {"--map", "Q=", "--map", "Druck="});
  CHECK(meant.err.find("columns not used") == std::string::npos);
}

TEST_CASE("survey: a heading that is nearly a key is a mistake", "[cli]") {
  const Folder folder;
  const auto with = [](const std::string& heading) {
    return "tag,pipe.size,pipe.material,fluid.name,sensors," + heading +
           "\nA,NPS 6 sch 40,carbon steel,water,demo-1mhz,7 degC\n";
  };
  const std::pair<const char*, const char*> cases[] = {
      {"fluid.temprature", "did you mean \"fluid.temperature\"?"},
      {"fluid.temprature [degC]", "did you mean \"fluid.temperature\"?"},
      {"Pipe.Sise", "did you mean \"pipe.size\"?"},
      {"fluids.pressure", "did you mean \"fluid.pressure\"?"},
      {"flow.rate_m3_h", "did you mean \"flow.rate\"?"},
      {"location.upstream[0].fitting", "did you mean \"location.upstream\"?"},
      {"sensors.angle", "see `slantrule lookup keys`"}};
  for (const auto& [heading, words] : cases) {
    INFO(heading);
    for (const char* command : {"survey", "pack"}) {
      const Outcome done = run_slantrule(folder, {command, "-"}, {.input = with(heading)});
      INFO(done.err);
      CHECK(done.code == 2);
      CHECK(done.out.empty());
      CHECK(done.err.find("<stdin>:1: column ") != std::string::npos);
      CHECK(done.err.find(words) != std::string::npos);
    }
    const std::string map = std::string(heading) + "=";
    CHECK(survey(folder, with(heading), {"--map", map}).code != 2);
    const std::string line =
        R"({"tag":"A","pipe.size":"NPS 6 sch 40","pipe.material":"carbon steel",)"
        R"("fluid.name":"water","sensors":"demo-1mhz"})";
    const std::string wrong = line.substr(0, line.size() - 1) + ",\"" + heading + "\":\"7 degC\"}";
    const Outcome rows = run_slantrule(
        folder, {"survey", "-", "--format", "jsonl", "--set", "fluid.temperature=9 degC"},
        {.input = line + "\n" + wrong + "\n"});
    const auto lines = lines_of(rows.out);
    REQUIRE(lines.size() == 2);
    CHECK(Json::parse(lines[0])["status"] == "planned");
    const Json refused = Json::parse(lines[1]);
    CHECK(refused["status"] == "refused");
    CHECK(refused["problems"][0]["column"] == heading);
    CHECK(refused["problems"][0]["message"].get<std::string>().find(words) != std::string::npos);
  }
  // Words with a dot that are no keys.
  for (const char* heading : {"Pipe. No", "Rev. no", "Bldg.", "a.b"}) {
    INFO(heading);
    CHECK(survey(folder, with(heading)).code != 2);
  }
}

TEST_CASE("survey: where the defaults hold a size, headings between the rows are no pipes",
          "[cli]") {
  const Folder folder;
  const std::string list =
      "tag,pipe.size,pipe.material,fluid.name,fluid.temperature,Words\n"
      "GROUND FLOOR,,,,,\n"
      "A,NPS 8 sch 40,carbon steel,water,7 degC,x\n"
      "Upper floor,,,,,see plan\n"
      "B,,,water,,\n"
      ",,,,,valves are new\n";
  const Args defaults = {"--set", "sensors=demo-1mhz", "--defaults", "defaults.json"};
  write(folder / "defaults.json", R"({"pipe":{"size":"NPS 6 sch 40","material":"carbon steel"},)"
                                  R"("fluid":{"name":"water","temperature":"7 degC"}})");
  const Outcome done = survey(folder, list, defaults);
  const Table table(done.out);
  REQUIRE(table.rows() == 2);
  CHECK(table.at(0, "tag") == "A");
  CHECK(table.at(1, "tag") == "B");
  CHECK(table.at(1, "pipe.size").find("NPS 6") != std::string::npos);
  CHECK(done.err.find("No rows of the list (3 lines)") != std::string::npos);
  CHECK(done.err.find("GROUND FLOOR") != std::string::npos);
  CHECK(done.err.find("valves are new") != std::string::npos);
  // Without a size in the defaults a row with a tag alone lacks one, and says so.
  const Outcome open = survey(folder, list, {"--set", "sensors=demo-1mhz"});
  CHECK(Table(open.out).at(0, "status") == "refused");
  // Where no row has a size, a tag is all that a pipe needs.
  const Table tags(survey(folder, "tag,pipe.size,fluid.name\nA,,water\nB,,\n", defaults).out);
  CHECK(tags.rows() == 2);
}

TEST_CASE("survey: cells that were merged are filled down on advice", "[cli]") {
  const Folder folder;
  const std::string list =
      "tag,pipe.size,pipe.material\nA,NPS 8 sch 40,copper\nB,,copper\nC,,copper\n"
      "D,NPS 6 sch 40,copper\nE,,copper\n";
  const Outcome shown = run_slantrule(folder, {"survey", "-", "--columns"}, {.input = list});
  CHECK(shown.out.find("blanks: 3 of 5 rows") != std::string::npos);
  CHECK(shown.out.find("--fill-down 'pipe.size'") != std::string::npos);
  CHECK(shown.out.find("--fill-down 'pipe.material'") == std::string::npos);
  const Outcome filled = run_slantrule(
      folder, {"survey", "-", "--columns", "--fill-down", "pipe.size"}, {.input = list});
  CHECK(filled.out.find("blanks:") == std::string::npos);
}

TEST_CASE("survey: a saved map is read again, whatever the headings", "[cli]") {
  const Folder folder;
  const std::string list =
      "Line No.,Pipe size,Temp,Temp,\"Flow\n(m3/h)\",# of it,Pump's flow (m3/h)\n"
      "A,NPS 6 sch 40,7 degC,8 degC,60,1,61\n";
  write(folder / "list.csv", list);
  const Outcome columns = run_slantrule(folder, {"survey", "list.csv", "--columns"});
  CHECK(columns.out.find("--map 'Flow (m3/h)=flow.rate [m3/h]'") != std::string::npos);
  CHECK(columns.out.find("--map '#3=fluid.temperature'") != std::string::npos);
  CHECK(run_slantrule(folder, {"survey", "list.csv", "--save-map", "my.map"}).code == 0);
  std::string map = text_of(folder / "my.map");
  CHECK(map.find("\nFlow (m3/h)=flow.rate [m3/h]\n") != std::string::npos);
  CHECK(map.find("\n#4=fluid.temperature\n") != std::string::npos);
  map.replace(map.find("#4=fluid.temperature"), 20, "#4=");
  map += "#6=path.traverses\nPump's flow (m3/h)=flow.most [m3/h]\n";
  write(folder / "my.map", map);
  const Outcome read =
      run_slantrule(folder, {"survey", "list.csv", "--columns", "--map-file", "my.map"});
  CHECK(read.code == 0);
  CHECK(read.out.find("(m3/h)\"  ->  flow.rate [m3/h]") != std::string::npos);
  CHECK(read.out.find("#3 \"Temp\"  ->  fluid.temperature") != std::string::npos);
  CHECK(read.out.find("#4 \"Temp\"  ->  not used") != std::string::npos);
}

TEST_CASE("survey: no file that was read is written over, whatever it is called", "[cli]") {
  const Folder folder;
  write(folder / "list.csv", three_pipes);
  write(folder / "my.map", "tag=tag\n");
  write(folder / "defaults.json", R"({"couplant": "gel"})");
  fs::create_symlink("list.csv", folder / "link.csv");
  fs::create_hard_link(folder / "list.csv", folder / "same.csv");
  for (const char* command : {"survey", "pack"}) {
    for (const char* target :
         {"list.csv", "./list.csv", "link.csv", "same.csv", "my.map", "defaults.json"}) {
      INFO(command << " " << target);
      const std::string before = text_of(folder / target);
      const Outcome done =
          run_slantrule(folder, {command, "list.csv", "--map-file", "my.map", "--defaults",
                                 "defaults.json", "--output", target, "--force"});
      CHECK(done.code == 2);
      CHECK(done.err.find("is a file that was read") != std::string::npos);
      CHECK(text_of(folder / target) == before);
    }
  }
  const Outcome map =
      run_slantrule(folder, {"survey", "list.csv", "--save-map", "list.csv", "--force"});
  CHECK(map.code == 2);
  const Outcome summary = run_slantrule(
      folder, {"survey", "list.csv", "--format", "csv", "--summary", "link.csv", "--force"});
  CHECK(summary.code == 2);
  CHECK(text_of(folder / "list.csv") == three_pipes);
  const Outcome other = run_slantrule(folder, {"survey", "list.csv", "--output", "new.txt"});
  CHECK(other.code == 1);
  CHECK(run_slantrule(folder, {"survey", "list.csv", "--output", "new.txt", "--force"}).code == 1);
}

TEST_CASE("survey: --set wins over cells, blanks are filled from above when asked", "[cli]") {
  const Folder folder;
  const Table set(survey(folder, three_pipes, {"--set", "pipe.material=carbon steel"}).out);
  CHECK(set.at(1, "status") == "planned");
  const std::string groups =
      "tag,pipe.size,pipe.material,fluid.name,fluid.temperature,sensors\n"
      "A,NPS 6 sch 40,carbon steel,water,7 degC,demo-1mhz\n"
      "B,NPS 8 sch 40,,water,7 degC,demo-1mhz\n";
  const Outcome not_asked = survey(folder, groups);
  CHECK(Table(not_asked.out).at(1, "status") == "refused");
  CHECK(Table(survey(folder, groups, {"--fill-down", "pipe.material"}).out).at(1, "status") ==
        "planned");
}

TEST_CASE("survey: results do not depend on the number of threads", "[cli]") {
  const Folder folder;
  const std::string list = long_list(2000);
  const Outcome one = survey(folder, list, {"--threads", "1"});
  CHECK(one.code == 0);
  CHECK(Table(one.out).rows() == 2000);
  CHECK(survey(folder, list, {"--threads", "4"}).out == one.out);
  CHECK(Table(one.out).at(1999, "tag") == "P1999");
}

TEST_CASE("survey: a sheet for each row, nothing written over", "[cli]") {
  const Folder folder;
  CHECK(survey(folder, three_pipes, {"--sheets", "sheets"}).code == 1);
  CHECK(text_of(folder / "sheets/0001-A.txt").find("SET ") != std::string::npos);
  CHECK_FALSE(fs::exists(folder / "sheets/0002-B.txt"));
  CHECK(fs::exists(folder / "sheets/0003-C.txt"));
  const Outcome again = survey(folder, three_pipes, {"--sheets", "sheets"});
  CHECK(again.code == 2);
  CHECK(again.err.find("0001-A.txt: is there already") != std::string::npos);
}

TEST_CASE("survey: a reader that goes, a full disk", "[cli]") {
  const Folder folder;
  const std::string list = long_list(3000);
  const Outcome gone = run_slantrule(folder, {"survey", "-", "--format", "csv"},
                                     {.input = list, .closed_pipe = true});
  CHECK(gone.code == 0);
  CHECK(gone.err.find("could not be written") == std::string::npos);
  const Outcome full = run_slantrule(folder, {"survey", "-", "--format", "csv"},
                                     {.input = list, .standard_output = "/dev/full"});
  CHECK(full.code == 2);
  CHECK(full.err.find("could not be written") != std::string::npos);
}

TEST_CASE("survey: stopped at any moment, rows are whole", "[cli]") {
  const Folder folder;
  write(folder / "long.csv", long_list(60000));
  const fs::path out = folder / "out.csv";
  for (const int signal : {SIGINT, SIGTERM, SIGKILL}) {
    for (const int wait_ms : {0, 80}) {
      INFO("signal " << signal << " after " << wait_ms << " ms");
      fs::remove(out);
      const pid_t child =
          start_slantrule(folder, {"survey", "long.csv", "--format", "csv"}, "out.csv");
      std::error_code not_yet;
      const bool begun = wait_until([&] {
        const auto size = fs::file_size(out, not_yet);
        return !not_yet && size > 0;
      });
      std::this_thread::sleep_for(std::chrono::milliseconds(wait_ms));
      ::kill(child, signal);
      int status = 0;
      REQUIRE(::waitpid(child, &status, 0) == child);
      REQUIRE(begun);
      std::string text = text_of(out);
      // A line that crosses a page of memory can be cut by a kill; no program can prevent that.
      if (signal == SIGKILL) text.erase(text.rfind('\n') + 1);
      REQUIRE_FALSE(text.empty());
      CHECK(text.back() == '\n');
      const Table table(text);
      CHECK(table.whole());
      if (signal == SIGKILL) continue;
      CHECK(WIFEXITED(status));
      CHECK(WEXITSTATUS(status) == (table.rows() == 60000 ? 0 : 2));
    }
  }
}

TEST_CASE("survey: cells with line breaks come back, in whole rows when stopped", "[cli]") {
  const Folder folder;
  // Rows of many lengths, so that pages and pipes end at every place in them.
  std::string list = "tag,pipe.size,pipe.material,fluid.name,fluid.temperature,sensors,my words\n";
  std::vector<std::string> words;
  for (int i = 0; i < 3000; ++i) {
    std::string& one = words.emplace_back("a");
    for (int line = 0; line < i % 7; ++line)
      one += std::string(static_cast<std::size_t>(i) % 90, 'x') + "\n\"\", \ty";
    list += "P,NPS 6 sch 40,carbon steel,water,7 degC,demo-1mhz,\"";
    for (char c : one) list += c == '"' ? std::string("\"\"") : std::string(1, c);
    list += "\"\n";
  }
  write(folder / "list.csv", list);
  const fs::path out = folder / "out.csv";
  for (const bool stopped : {false, true}) {
    fs::remove(out);
    const pid_t child =
        start_slantrule(folder, {"survey", "list.csv", "--format", "csv"}, "out.csv");
    std::error_code not_yet;
    const bool begun = wait_until([&] {
      const auto size = fs::file_size(out, not_yet);
      return !not_yet && size > 0;
    });
    if (stopped) ::kill(child, SIGTERM);
    int status = 0;
    REQUIRE(::waitpid(child, &status, 0) == child);
    REQUIRE(begun);
    const Table table(text_of(out));
    CHECK(table.whole());
    if (!stopped) REQUIRE(table.rows() == words.size());
    for (std::size_t row = 0; row < table.rows(); ++row) {
      if (table.at(row, "list: my words") != words[row]) FAIL("row " << row);
    }
  }
}

TEST_CASE("survey: a named file appears whole or not at all", "[cli]") {
  const Folder folder;
  write(folder / "long.csv", long_list(60000));
  const pid_t child = start_slantrule(
      folder, {"survey", "long.csv", "--format", "csv", "--output", "whole.csv"}, "/dev/null");
  const fs::path part = folder / ("whole.csv." + std::to_string(child) + ".part");
  const bool begun = wait_until([&] { return fs::exists(part); });
  std::this_thread::sleep_for(std::chrono::milliseconds(20));
  ::kill(child, SIGTERM);
  int status = 0;
  REQUIRE(::waitpid(child, &status, 0) == child);
  REQUIRE(begun);
  CHECK(WIFEXITED(status));
  CHECK_FALSE(fs::exists(part));
  if (fs::exists(folder / "whole.csv")) {
    CHECK(WEXITSTATUS(status) == 0);
    CHECK(Table(text_of(folder / "whole.csv")).rows() == 60000);
  } else {
    CHECK(WEXITSTATUS(status) == 2);
  }
}

TEST_CASE("pack: what to load for the demonstration list", "[cli]") {
  const Folder folder;
  const Args given = {"pack",       "examples/plant-list.csv",
                      "--map-file", "examples/plant-list.map",
                      "--defaults", "examples/plant-defaults.json"};
  const Outcome text = run_slantrule(folder, given);
  CHECK(text.code == 1);
  CHECK(text.out.find("NOT TO BE MOUNTED") != std::string::npos);
  CHECK(text.out.find("NOT SERVED") != std::string::npos);
  for (const std::string& line : lines_of(text.out)) CHECK(line.size() <= 80);
  Args json = given;
  json.insert(json.end(), {"--format", "json"});
  const Json report = Json::parse(run_slantrule(folder, json).out);
  CHECK(report.is_object());
}

TEST_CASE("pack: a list without a pipe, straps to take, details as sentences", "[cli]") {
  const Folder folder;
  const Outcome none =
      run_slantrule(folder, {"pack", "-"}, {.input = "tag,pipe.size,fluid.name\n"});
  CHECK(none.code == 2);
  CHECK(none.out.empty());
  CHECK(none.err.find("<stdin>: holds no pipe") != std::string::npos);
  const Args given = {"pack", "-", "--set", "kit=examples/own-kit.json", "--at-once", "2"};
  const std::string list = three_pipes + "D,NPS 6 sch 40,copper,water,7,demo-1mhz\n";
  const Outcome text = run_slantrule(folder, given, {.input = list});
  CHECK(text.out.find("[ ] strap pair: 4 single ones, or 2 sets of two") != std::string::npos);
  Args csv = given;
  csv.insert(csv.end(), {"--format", "csv"});
  const std::string cells = run_slantrule(folder, csv, {.input = list}).out;
  CHECK(cells.find("the real pair. outside diameter") != std::string::npos);
  CHECK(cells.find(".;") == std::string::npos);
}

TEST_CASE("survey: a tag alone is no pipe by the defaults' size", "[cli]") {
  const Folder folder;
  write(folder / "defaults.json",
        R"({ "pipe": { "size": "NPS 6 sch 40", "material": "carbon steel" },
             "fluid": { "name": "water", "temperature": "20 degC" }, "sensors": "demo-1mhz" })");
  const std::string list =
      "tag,pipe.size\n"
      "Utility building,\n"  // a heading of a group
      "A1,NPS 4 sch 40\n"
      "A2,\n";  // merged with the cell above, or forgotten
  const Outcome asked = survey(folder, list, {"--defaults", "defaults.json"});
  const Table table(asked.out);
  REQUIRE(table.rows() == 2);
  CHECK(table.at(0, "status") == "planned");
  CHECK(table.at(1, "status") == "refused");
  CHECK(table.at(1, "problems").find("--fill-down") != std::string::npos);
  CHECK(asked.err.find("Utility building") != std::string::npos);
  const Table filled(
      survey(folder, list, {"--defaults", "defaults.json", "--fill-down", "pipe.size"}).out);
  CHECK(filled.at(filled.rows() - 1, "pipe.size") == "ASME B36.10M NPS 4 sch 40");
}
