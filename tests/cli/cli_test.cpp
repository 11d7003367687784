// The program as scripts and people meet it: arguments, streams, exit codes, files.

#include <sys/stat.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <functional>
#include <nlohmann/json.hpp>
#include <set>
#include <string>

#include "cli/run.hpp"

using namespace slantrule::test;
using Catch::Matchers::Contains;
using Json = nlohmann::json;

namespace {

const std::string good_job = R"({
  "tag": "T-1",
  "pipe": { "size": "NPS 6 sch 40", "material": "carbon steel", "liner": "none",
            "orientation": "horizontal" },
  "fluid": { "name": "water", "temperature": "7 degC", "pressure": "4 bar gauge" },
  "sensors": "demo-1mhz", "path": { "traverses": 2 } })";

/// Freezing: a stop whatever else.
const std::string stop_job = R"({
  "tag": "T-2",
  "pipe": { "size": "NPS 6 sch 40", "material": "carbon steel", "liner": "none",
            "orientation": "horizontal" },
  "fluid": { "name": "water", "temperature": "-5 degC", "pressure": "4 bar gauge" },
  "sensors": "demo-1mhz", "path": { "traverses": 2 } })";

const std::string bad_job = "{ \"pipe\": {\n\"wall\": \"7.11\" } }";

/// Every line on standard error begins with the program's name, and none is a control character.
void check_messages(const Outcome& outcome) {
  for (const std::string& line : lines_of(outcome.err)) {
    CAPTURE(line);
    CHECK((line.rfind("slantrule: ", 0) == 0 || line.rfind("usage: ", 0) == 0));
    for (char c : line) CHECK(static_cast<unsigned char>(c) >= 0x20);
  }
}

Json json_of(const Outcome& outcome) {
  INFO(outcome.err);
  return Json::parse(outcome.out);
}

}  // namespace

TEST_CASE("cli: exit codes and streams") {
  struct Row {
    const char* what;
    Args args;
    int code;
    const char* out;  // what standard output holds; null: it is empty
    const char* err;  // what standard error holds; null: it is empty
  };
  const auto row = GENERATE(values<Row>({
      {"nothing", {}, 2, nullptr, "usage: slantrule COMMAND"},
      {"help", {"--help"}, 0, "slantrule", nullptr},
      {"short help", {"-h"}, 0, "slantrule", nullptr},
      {"version", {"--version"}, 0, "slantrule ", nullptr},
      {"short version", {"-V"}, 0, "slantrule ", nullptr},
      {"a job", {"plan", "good.json"}, 0, "T-1", nullptr},
      {"a stop", {"plan", "stop.json"}, 1, "STOP", nullptr},
      {"a mistake", {"plan", "bad.json"}, 2, nullptr, "bad.json:2: pipe.wall: "},
      {"several jobs", {"plan", "good.json", "good.json"}, 0, "T-1", nullptr},
      {"one of them stopped", {"plan", "good.json", "stop.json"}, 1, "T-2", nullptr},
      {"2 beats 1, and nothing is printed",
       {"plan", "stop.json", "bad.json"},
       2,
       nullptr,
       "bad.json:2: "},
      {"no such job, and nothing is printed",
       {"plan", "good.json", "none.json"},
       2,
       nullptr,
       "none.json: cannot be read: No such file"},
      {"a folder", {"plan", "examples"}, 2, nullptr, "examples: cannot be read"},
      {"no job", {"plan"}, 2, nullptr, "no job"},
      {"two jobs from one input", {"plan", "-", "-"}, 2, nullptr, "standard input"},
      {"job and catalogue from one input",
       {"plan", "-", "--catalogue", "-"},
       2,
       nullptr,
       "standard input"},
      {"catalogues from one input",
       {"lookup", "sensors", "--catalogue", "-", "--catalogue", "-"},
       2,
       nullptr,
       "standard input"},
      {"--set alone",
       {"plan", "--set", "pipe.size=NPS 6 sch 40", "--set", "pipe.material=carbon steel", "--set",
        "fluid.name=water", "--set", "fluid.temperature=7 degC", "--set", "sensors=demo-1mhz"},
       0,
       "SET ",
       nullptr},
      {"--set alone, wrong", {"plan", "--set", "pipe.wall=7"}, 2, nullptr, "--set: pipe.wall: "},
      {"--set over a file", {"plan", "good.json", "--set", "tag=OTHER"}, 0, "OTHER", nullptr},
      {"--set, wrong",
       {"plan", "good.json", "--set", "pipe.siz=1"},
       2,
       nullptr,
       "--set: pipe.siz: is no known key; did you mean \"size\""},
      {"--set without a value", {"plan", "good.json", "--set"}, 2, nullptr, "--set"},
      {"a command misspelt", {"plna", "good.json"}, 2, nullptr, "did you mean plan?"},
      {"an unknown command", {"bake"}, 2, nullptr, "\"bake\" is not known here"},
      {"an option misspelt",
       {"plan", "--fromat", "json", "good.json"},
       2,
       nullptr,
       "did you mean --format?"},
      {"an unknown format", {"plan", "good.json", "--format", "xml"}, 2, nullptr, "text,json"},
      {"unknown units", {"plan", "good.json", "--units", "imperial"}, 2, nullptr, "metric,us"},
      {"us units", {"plan", "good.json", "--units", "us"}, 0, "degF", nullptr},
      {"catalogue",
       {"plan", "good.json", "--catalogue", "examples/own-pairs.json", "--set",
        "sensors=lab-pair-a"},
       0,
       "SET ",
       nullptr},
      {"catalogue that isn't there",
       {"plan", "good.json", "--catalogue", "none.json"},
       2,
       nullptr,
       "none.json: cannot be read"},
      {"catalogue with a mistake",
       {"plan", "good.json", "--catalogue", "bad.json"},
       2,
       nullptr,
       "bad.json:1: pipe: is no kind"},
      {"lookup", {"lookup", "solids", "ductile"}, 0, "ductile", nullptr},
      {"lookup of nothing",
       {"lookup", "solids", "unobtainium"},
       1,
       nullptr,
       "nothing among the solids matches \"unobtainium\""},
      {"lookup misspelt",
       {"lookup", "solids", "carbon_stel"},
       1,
       nullptr,
       "did you mean \"carbon_steel\""},
      {"lookup of no kind", {"lookup", "solds"}, 2, nullptr, "did you mean solids"},
      {"lookup without a kind", {"lookup"}, 2, nullptr, "KIND"},
      {"schema", {"schema"}, 0, "$schema", nullptr},
      {"schema of what", {"schema", "extra"}, 2, nullptr, "\"extra\" is not known here"},
      {"new", {"new"}, 0, "\"slantrule\": 1", nullptr},
      {"new, twice named", {"new", "a.json", "--output", "b.json"}, 2, nullptr, "once"},
      {"new over a file", {"new", "good.json"}, 2, nullptr, "good.json: is there already"},
  }));
  CAPTURE(row.what);
  const Folder folder;
  write(folder / "good.json", good_job);
  write(folder / "stop.json", stop_job);
  write(folder / "bad.json", bad_job);
  const std::size_t before = folder.entries();
  const Outcome outcome = run_slantrule(folder, row.args);
  CAPTURE(outcome.out, outcome.err);
  CHECK(outcome.code == row.code);
  if (row.out) {
    CHECK_THAT(outcome.out, Contains(row.out));
  } else {
    CHECK(outcome.out.empty());
  }
  if (row.err) {
    CHECK_THAT(outcome.err, Contains(row.err));
  } else {
    CHECK(outcome.err.empty());
  }
  check_messages(outcome);
  CHECK(folder.entries() == before);
}

TEST_CASE("cli: every command has help with two examples, at most 80 columns wide") {
  const Folder folder;
  for (const Args& args : std::vector<Args>{{"--help"},
                                            {"plan", "--help"},
                                            {"wrap", "--help"},
                                            {"lookup", "--help"},
                                            {"new", "--help"},
                                            {"schema", "--help"}}) {
    CAPTURE(args);
    const Outcome outcome = run_slantrule(folder, args);
    CHECK(outcome.code == 0);
    CHECK(outcome.err.empty());
    int examples = 0;
    for (const std::string& line : lines_of(outcome.out)) {
      CAPTURE(line);
      CHECK(line.size() <= 80);
      examples += line.rfind("  slantrule ", 0) == 0;
    }
    if (args.size() > 1) CHECK(examples == 2);
    CHECK_THAT(outcome.out, Contains("Exit codes: 0"));
  }
}

TEST_CASE("cli: the version stands alone on the first line") {
  const Folder folder;
  const std::string first = lines_of(run_slantrule(folder, {"--version"}).out).at(0);
  CHECK_THAT(first, Catch::Matchers::Matches("slantrule [0-9]+\\.[0-9]+\\.[0-9]+"));
}

TEST_CASE("cli: - is standard input, called so in messages") {
  const Folder folder;
  const Outcome good = run_slantrule(folder, {"plan", "-"}, {.input = good_job});
  CHECK(good.code == 0);
  CHECK_THAT(good.out, Contains("T-1"));
  const Outcome bad = run_slantrule(folder, {"plan", "-"}, {.input = bad_job});
  CHECK(bad.code == 2);
  CHECK_THAT(bad.err, Contains("slantrule: <stdin>:2: pipe.wall: "));
  const Outcome empty = run_slantrule(folder, {"plan", "-"});
  CHECK(empty.code == 2);
  CHECK_THAT(empty.err, Contains("<stdin>: is empty"));
}

TEST_CASE("cli: --output writes a whole file, and none over another without --force") {
  const Folder folder;
  write(folder / "good.json", good_job);
  write(folder / "stop.json", stop_job);
  const std::string sheet = run_slantrule(folder, {"plan", "good.json"}).out;

  const Outcome first = run_slantrule(folder, {"plan", "good.json", "--output", "sheet.txt"});
  CHECK(first.code == 0);
  CHECK(first.out.empty());
  CHECK(text_of(folder / "sheet.txt") == sheet);
  const std::size_t entries = folder.entries();

  const Outcome second = run_slantrule(folder, {"plan", "stop.json", "--output", "sheet.txt"});
  CHECK(second.code == 2);  // 2 beats the stop's 1
  CHECK_THAT(second.err, Contains("sheet.txt: is there already"));
  CHECK(text_of(folder / "sheet.txt") == sheet);

  const Outcome forced =
      run_slantrule(folder, {"plan", "stop.json", "--output", "sheet.txt", "--force"});
  CHECK(forced.code == 1);
  CHECK_THAT(text_of(folder / "sheet.txt"), Contains("T-2"));

  // With a mistake in the job the file stays as it is.
  write(folder / "bad.json", bad_job);
  const std::size_t before = folder.entries();
  CHECK(run_slantrule(folder, {"plan", "bad.json", "--output", "sheet.txt", "--force"}).code == 2);
  CHECK_THAT(text_of(folder / "sheet.txt"), Contains("T-2"));
  CHECK(run_slantrule(folder, {"plan", "bad.json", "--output", "new.txt"}).code == 2);
  CHECK_FALSE(fs::exists(folder / "new.txt"));
  CHECK(folder.entries() == before);
  CHECK(before == entries + 1);
  CHECK(run_slantrule(folder, {"plan", "good.json", "--output", "-"}).out == sheet);
}

TEST_CASE("cli: outputs that cannot be written are exit 2") {
  const Folder folder;
  write(folder / "good.json", good_job);
  const std::size_t entries = folder.entries();
  for (const std::string& place :
       {std::string("none/sheet.txt"), std::string("good.json/sheet"), std::string("examples")}) {
    CAPTURE(place);
    const Outcome outcome =
        run_slantrule(folder, {"plan", "good.json", "--output", place, "--force"});
    CHECK(outcome.code == 2);
    CHECK_THAT(outcome.err, Contains(place + ": "));
    CHECK(outcome.out.empty());
  }
  CHECK(folder.entries() == entries);
  CHECK(fs::is_directory(folder / "examples"));
  if (fs::exists("/dev/full")) {
    for (const Args& args : std::vector<Args>{{"plan", "good.json"},
                                              {"plan", "good.json", "--format", "json"},
                                              {"lookup", "fittings"},
                                              {"new"},
                                              {"schema"},
                                              {"--help"},
                                              {"plan", "--help"},
                                              {"--version"}}) {
      CAPTURE(args);
      const Outcome outcome = run_slantrule(folder, args, {.standard_output = "/dev/full"});
      CHECK(outcome.code == 2);
      CHECK_THAT(outcome.err, Contains("could not be written"));
    }
  }
}

TEST_CASE("cli: --force writes through links and pipes instead of replacing them") {
  // Renaming a file over them once replaced a device by a sheet.
  const Folder folder;
  write(folder / "good.json", good_job);
  write(folder / "target.txt", "old");
  fs::create_symlink("target.txt", folder / "link.txt");
  CHECK(run_slantrule(folder, {"plan", "good.json", "--output", "link.txt"}).code == 2);
  CHECK(text_of(folder / "target.txt") == "old");
  CHECK(run_slantrule(folder, {"plan", "good.json", "--output", "link.txt", "--force"}).code == 0);
  CHECK(fs::is_symlink(folder / "link.txt"));
  CHECK_THAT(text_of(folder / "target.txt"), Contains("T-1"));

  const std::string pipe = folder / "pipe";
  REQUIRE(::mkfifo(pipe.c_str(), 0600) == 0);
  const int reader = ::open(pipe.c_str(), O_RDONLY | O_NONBLOCK);
  REQUIRE(reader >= 0);
  CHECK(run_slantrule(folder, {"plan", "good.json", "--output", "pipe", "--force"}).code == 0);
  CHECK(fs::is_fifo(folder / "pipe"));
  char head[8] = {};
  CHECK(::read(reader, head, 7) == 7);
  CHECK_THAT(std::string(head), Contains("CAUTION"));
  ::close(reader);
}

TEST_CASE("cli: a closed pipe ends quietly") {
  const Folder folder;
  write(folder / "good.json", good_job);
  for (const Args& args : std::vector<Args>{
           {"plan", "good.json"}, {"lookup", "pipes"}, {"schema"}, {"new"}, {"--help"}}) {
    CAPTURE(args);
    const Outcome outcome = run_slantrule(folder, args, {.closed_pipe = true});
    CHECK(outcome.code == 0);
    CHECK(outcome.err.empty());
  }
}

TEST_CASE("cli: bad job files give a line a mistake, exit 2 and no output") {
  struct Row {
    const char* what;
    std::string text;
    std::vector<std::string> messages;  // one a line, behind "slantrule: job.json"
  };
  const std::string head =
      R"({"pipe":{"size":"NPS 6 sch 40","material":"carbon steel"},)"
      R"("fluid":{"name":"water","temperature":"7 degC"},"sensors":"demo-1mhz",)";
  using namespace std::string_literals;
  const auto row = GENERATE_COPY(values<Row>({
      {"missing unit", head + "\n\"flow\":{\"rate\":\"60\"}}", {":2: flow.rate: "}},
      {"wrong unit", head + "\n\"flow\":{\"rate\":\"60 degC\"}}", {":2: flow.rate: "}},
      {"bare number", head + "\n\"flow\":{\"rate\":60}}", {":2: flow.rate: 60 has no unit"}},
      {"missing keys",
       "{}",
       {": pipe.material: is missing", ": fluid.name: is missing",
        ": fluid.temperature: is missing", ": sensors: is missing", ": pipe.size: is missing"}},
      {"duplicate key", head + "\n\"tag\":\"a\",\n\"tag\":\"b\"}", {":3: tag: stands twice"}},
      {"unknown key",
       head + "\n\"tga\":\"a\"}",
       {":2: tga: is no known key; did you mean \"tag\""}},
      {"NaN", head + "\n\"path\":{\"traverses\":NaN}}", {":2: is not valid JSON"}},
      {"NaN as text", head + "\n\"flow\":{\"rate\":\"nan m3/h\"}}", {":2: flow.rate: "}},
      {"beyond a double",
       head + "\n\"path\":{\"traverses\":1e400}}",
       {":2: is not valid JSON: a number is beyond"}},
      {"beyond a double, as text",
       head + "\n\"flow\":{\"rate\":\"1e400 m3/h\"}}",
       {":2: flow.rate: "}},
      {"too deep", std::string(33, '[') + std::string(33, ']'), {":1: is nested deeper"}},
      {"NUL", head + "\n\"tag\":\"\0\"}"s, {":2: holds a NUL"}},
      {"binary",
       "\x7f"
       "ELF\x02\x01\x01\x03\xff\xfe"s,
       {":1: is not valid JSON"}},
      {"empty", "", {": is empty"}},
      {"5 MiB", std::string(5 << 20, ' '), {": is larger than 4 MiB"}},
      {"not UTF-8", head + "\n\"tag\":\"\xff\xfe\"}", {":2: is not valid JSON"}},
      {"a list", "[]", {":1: must hold one object"}},
      {"several mistakes",
       "{\"tag\": 5,\n\"pipe\": { \"siez\": \"x\",\n\"wall\": 7 },\n\"flow\": { \"rate\": \"1\" } "
       "}",
       {":1: tag: ", ":2: pipe.siez: ", ":3: pipe.wall: ", ":4: flow.rate: "}},
      {"no bore",
       R"({"pipe":{"outside_diameter":"10 mm","wall":"5 mm","material":"carbon steel"},)"
       R"("fluid":{"name":"water","temperature":"7 degC"},"sensors":"demo-1mhz"})",
       {": pipe.wall: "}},
  }));
  CAPTURE(row.what);
  const Folder folder;
  write(folder / "job.json", row.text);
  const Outcome outcome = run_slantrule(folder, {"plan", "job.json"});
  CHECK(outcome.code == 2);
  CHECK(outcome.out.empty());
  check_messages(outcome);
  const auto lines = lines_of(outcome.err);
  CAPTURE(outcome.err);
  REQUIRE(lines.size() == row.messages.size());
  for (std::size_t i = 0; i < lines.size(); ++i) {
    // "no bore" may know its line.
    CHECK_THAT(lines[i], Contains("slantrule: job.json") && Contains(row.messages[i]));
  }
}

TEST_CASE("cli: control characters of a job never reach the terminal") {
  const Folder folder;
  Json job = Json::parse(good_job);
  job["tag"] = "a\x1b[31mb\x07\xC2\x9B\xE2\x80\xAE\x7f\r\n";
  job["title"] = job["site"] = job["prepared_by"] = job["tag"];
  write(folder / "job.json", job.dump());
  write(folder / "pairs.json",
        R"({"solids":[{"key":"x\u001b","name":"y\u001b\u009b\u007f","longitudinal":"2 km/s"}]})");
  for (const Args& args :
       std::vector<Args>{{"plan", "job.json"},
                         {"plan", "job.json", "--format", "json"},
                         {"plan", "job.json", "--set", "title=\x1b[2J"},
                         {"lookup", "solids", "--catalogue", "pairs.json"},
                         {"lookup", "solids", "--catalogue", "pairs.json", "--format", "json"},
                         {"plan", "no\x1b[31m.json"},
                         {"plan", "job.json", "--set", "tag.\x1b[31m=1"},
                         {"\x1b[31m"},
                         {"plan", "--\x1b[31m"},
                         {"lookup", "solids", "\x1b[31m"},
                         {"lookup", "\x1b[31m"},
                         {"plan", "job.json", "--output", "no/\x1b[31m"},
                         {"plan", "job.json", "--format", "\x1b[31m"}}) {
    CAPTURE(args);
    const Outcome outcome = run_slantrule(folder, args);
    for (const std::string& text : {outcome.out, outcome.err}) {
      for (char c : text) {
        CHECK((c == '\n' || static_cast<unsigned char>(c) >= 0x20));
        CHECK(c != '\x7f');
      }
      CHECK_THAT(text, !Contains("\xC2\x9B") && !Contains("\xE2\x80\xAE"));
    }
  }
}

TEST_CASE("cli: plain ASCII where the locale is not UTF-8") {
  const Folder folder;
  Json job = Json::parse(good_job);
  job["title"] = "K\xC3\xA4lte";
  write(folder / "job.json", job.dump());
  const Outcome ascii = run_slantrule(folder, {"plan", "job.json"}, {.locale = "C"});
  CHECK(ascii.code == 0);
  for (char c : ascii.out) CHECK(static_cast<unsigned char>(c) < 0x80);
  CHECK_THAT(run_slantrule(folder, {"plan", "job.json"}).out, Contains("K\xC3\xA4lte"));
}

TEST_CASE("cli: JSON is one object a line, one line a job, in the order asked") {
  const Folder folder;
  write(folder / "good.json", good_job);
  write(folder / "stop.json", stop_job);
  const Outcome outcome = run_slantrule(
      folder, {"plan", "stop.json", "good.json", "--format", "json", "--units", "us"});
  CHECK(outcome.code == 1);
  const auto lines = lines_of(outcome.out);
  REQUIRE(lines.size() == 2);
  const Json first = Json::parse(lines[0]), second = Json::parse(lines[1]);
  CHECK(first.at("tag") == "T-2");
  CHECK(first.at("verdict") == "stop");
  CHECK(second.at("tag") == "T-1");
  CHECK(second.at("format") == 1);
  // JSON is SI whatever the sheet's units.
  CHECK(second.at("fluid").at("temperature_degC").get<double>() == Approx(7).epsilon(1e-12));
}

TEST_CASE("cli: sheets for paper are one document for all jobs, whatever the locale") {
  const Folder folder;
  write(folder / "good.json", good_job);
  write(folder / "stop.json", stop_job);
  const auto run = [&](const char* format) {
    const std::vector<std::string> arguments = {
        "plan", "good.json", "stop.json", "--format", format, "--set", "title=K\xC3\xA4lte"};
    const Outcome outcome = run_slantrule(folder, arguments, {.locale = "C"});
    CHECK(outcome.code == 1);
    CHECK(outcome.err.empty());
    return outcome.out;
  };
  const std::string html = run("html"), markdown = run("markdown"), svg = run("svg");
  CHECK(html.rfind("<!DOCTYPE html>", 0) == 0);
  CHECK(html.find("<article") != html.rfind("<article"));
  CHECK_THAT(html, Contains("K\xC3\xA4lte") && Contains("charset=\"utf-8\""));
  CHECK_THAT(markdown, Contains("\n---\n\n# STOP") && Contains("K\xC3\xA4lte"));
  CHECK(svg.rfind("<svg ", 0) == 0);
  CHECK(svg.find("</svg>") == svg.size() - std::string("</svg>\n").size());
}

TEST_CASE("cli: lookup of every kind, as text and as JSON") {
  const Folder folder;
  for (const char* kind :
       {"pipes", "solids", "liquids", "fittings", "couplants", "sensors", "checks", "keys"}) {
    CAPTURE(kind);
    const Outcome text = run_slantrule(folder, {"lookup", kind});
    CHECK(text.code == 0);
    CHECK(text.err.empty());
    for (const std::string& line : lines_of(text.out)) {
      CAPTURE(line);
      CHECK(line.size() <= 240);
    }
    const Outcome json = run_slantrule(folder, {"lookup", kind, "--format", "json"});
    CHECK(json.code == 0);
    REQUIRE(lines_of(json.out).size() == 1);
    const Json rows = Json::parse(json.out).at("found");
    CHECK(!rows.empty());
    for (const Json& one : rows) {
      CHECK(one.is_object());
      for (const Json& value : one) CHECK_FALSE(value.is_null());
      if (std::string(kind) != "keys") CHECK(!one.at("source").get<std::string>().empty());
    }
  }
  // Common names lead to their rows.
  CHECK_THAT(run_slantrule(folder, {"lookup", "solids", "mild", "steel"}).out,
             Contains("carbon_steel"));
  CHECK_THAT(run_slantrule(folder, {"lookup", "pipes", "NPS", "6", "sch", "40"}).out,
             Contains("168.3"));
  const Outcome own =
      run_slantrule(folder, {"lookup", "sensors", "lab", "--catalogue", "examples/own-pairs.json"});
  CHECK_THAT(own.out, Contains("lab-pair-a"));
}

TEST_CASE("cli: new writes a job that plans as it stands") {
  const Folder folder;
  const Outcome made = run_slantrule(folder, {"new", "job.json"});
  CHECK(made.code == 0);
  CHECK(made.out.empty());
  CHECK_THAT(made.err, Contains("job.json"));
  const Outcome planned = run_slantrule(folder, {"plan", "job.json"});
  CAPTURE(planned.err);
  CHECK(planned.code == 0);
  const std::string text = text_of(folder / "job.json");
  CHECK(run_slantrule(folder, {"new", "--output", "other.json"}).code == 0);
  CHECK(text_of(folder / "other.json") == text);
  CHECK(run_slantrule(folder, {"new"}).out == text);
  for (const std::string& line : lines_of(text)) CHECK(line.size() <= 80);
}

TEST_CASE("cli: a starter job is valid with any of its comments taken off") {
  // The // before a key could only be taken off together with a comma added by hand.
  const Folder folder;
  const auto lines = lines_of(run_slantrule(folder, {"new"}).out);
  std::vector<std::size_t> keys;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    const std::size_t slashes = lines[i].find("//");
    if (slashes == std::string::npos || slashes == 0) continue;
    const std::string behind = lines[i].substr(slashes + 2);
    const bool key = behind.rfind(" \"", 0) == 0 || behind.rfind(", \"", 0) == 0;
    if (key && behind.find("\": ") != std::string::npos) keys.push_back(i);
  }
  REQUIRE(keys.size() > 20);
  const auto with = [&](const std::function<bool(std::size_t)>& taken_off) {
    std::string text;
    for (std::size_t i = 0, key = 0; i < lines.size(); ++i) {
      std::string line = lines[i];
      if (key < keys.size() && i == keys[key]) {
        if (taken_off(key)) line.erase(line.find("//"), 2);
        ++key;
      }
      text += line + "\n";
    }
    return text;
  };
  for (std::size_t key = 0; key < keys.size(); ++key) {
    CAPTURE(lines[keys[key]]);
    CHECK(Json::accept(with([&](std::size_t one) { return one == key; }), true));
  }
  const std::string all = with([](std::size_t) { return true; });
  CHECK(Json::accept(all, true));
  // The program knows each of them: what it may complain about is only that they contradict.
  write(folder / "all.json", all);
  CHECK_THAT(run_slantrule(folder, {"plan", "all.json"}).err,
             !Contains("no known key") && !Contains("JSON") && !Contains("is needed"));
}

TEST_CASE("cli: the schema is JSON, and knows every key that lookup knows") {
  const Folder folder;
  const Json schema = json_of(run_slantrule(folder, {"schema"}));
  const auto resolved = [&](const Json& node) -> const Json& {
    if (!node.contains("$ref")) return node;
    return schema.at(Json::json_pointer(node.at("$ref").get<std::string>().substr(1)));
  };
  // Whether `key` is a property of `node`, behind any of its alternatives and list items.
  const std::function<std::vector<Json>(const Json&, const std::string&)> under =
      [&](const Json& node, const std::string& key) {
        std::vector<Json> found;
        const Json& here = resolved(node);
        if (here.contains("properties") && here.at("properties").contains(key)) {
          found.push_back(here.at("properties").at(key));
        }
        for (const Json& one : here.value("anyOf", Json::array())) {
          for (const Json& deeper : under(one, key)) found.push_back(deeper);
        }
        if (here.contains("items")) {
          for (const Json& deeper : under(here.at("items"), key)) found.push_back(deeper);
        }
        return found;
      };
  std::size_t known = 0;
  const Json keys = Json::parse(run_slantrule(folder, {"lookup", "keys", "--format", "json"}).out);
  for (const Json& row : keys.at("found")) {
    const std::string path = row.at("key");
    CAPTURE(path);
    std::vector<Json> nodes = {schema};
    std::string rest = path;
    while (!rest.empty()) {
      const std::size_t dot = std::min(rest.find('.'), rest.size());
      std::string key = rest.substr(0, dot);
      if (const auto bracket = key.find('['); bracket != std::string::npos) key.resize(bracket);
      rest.erase(0, std::min(dot + 1, rest.size()));
      std::vector<Json> next;
      for (const Json& node : nodes) {
        for (Json& one : under(node, key)) next.push_back(std::move(one));
      }
      nodes = std::move(next);
    }
    CHECK(!nodes.empty());
    ++known;
  }
  CHECK(known > 100);
  CHECK(schema.at("properties").contains("slantrule"));
  CHECK(schema.at("additionalProperties") == false);
}

TEST_CASE("cli: every shipped job plans") {
  const Folder folder;
  std::size_t jobs = 0;
  for (const auto& entry : fs::directory_iterator(folder / "examples")) {
    if (entry.path().extension() != ".json") continue;
    const Json file = Json::parse(text_of(entry.path()), nullptr, true, /*ignore_comments=*/true);
    // A catalogue, a kit, or what the pipes of a list share.
    if (!file.contains("pipe") || !file.contains("fluid")) continue;
    ++jobs;
    CAPTURE(entry.path());
    const Outcome outcome = run_slantrule(folder, {"plan", entry.path()});
    CHECK((outcome.code == 0 || outcome.code == 1));
    CHECK(!outcome.out.empty());
    CHECK(outcome.err.empty());
  }
  CHECK(jobs >= 3);
}

TEST_CASE("cli: the worst of 4 MiB is answered, not chewed") {
  const Folder folder;
  std::string keys = "{";
  for (int i = 0; i < 250000; ++i) keys += "\"k" + std::to_string(i) + "\":1,";
  write(folder / "keys.json", keys + "\"k\":1}");
  CHECK(run_slantrule(folder, {"plan", "keys.json"}).code == 2);
}
