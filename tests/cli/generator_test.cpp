// The build's table generator refuses broken data and says where: a mistake in data/ must stop the
// build instead of reaching a plan.

#include <catch2/catch.hpp>
#include <functional>
#include <string>

#include "cli/run.hpp"

using namespace slantrule::test;
using Catch::Matchers::Contains;

namespace {

/// `text` with its first `from` made `to`.
std::string changed(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  INFO(from);
  REQUIRE(at != std::string::npos);
  return text.replace(at, from.size(), to);
}

/// Line on which `word` first stands; 1 is the first.
int line_of(const std::string& text, const std::string& word) {
  return 1 + static_cast<int>(std::count(
                 text.begin(), text.begin() + static_cast<std::ptrdiff_t>(text.find(word)), '\n'));
}

}  // namespace

TEST_CASE("generator: sound data make tables, twice the same") {
  const Folder folder;
  fs::copy(fs::path(SLANTRULE_SOURCE_DIR) / "data", folder / "data");
  for (const char* name : {"a.cpp", "b.cpp"}) {
    const Outcome outcome = run_program(SLANTRULE_GENERATOR, folder, {"data", name});
    CHECK(outcome.code == 0);
    CHECK(outcome.err.empty());
  }
  CHECK(text_of(folder / "a.cpp").size() > 10000);
  CHECK(text_of(folder / "a.cpp") == text_of(folder / "b.cpp"));
}

TEST_CASE("generator: broken data are refused with file and line") {
  struct Row {
    const char* what;
    const char* file;
    const char* near;  // a word of the line that breaks; null: the whole file
    std::function<std::string(std::string)> breaks;
  };
  const auto row = GENERATE(values<Row>({
      {"a number that is none", "sensors.csv", "demo-2mhz,",
       [](std::string text) { return changed(text, "yes,2,6,2430", "yes,2,six,2430"); }},
      {"a cell too few", "fittings.csv", "elbow-90,",
       [](std::string text) { return changed(text, "elbow-90,", "elbow-90"); }},
      {"a cell too many", "couplants.csv", "grease",
       [](std::string text) { return changed(text, "grease,", "grease,,"); }},
      {"a key twice", "sensors.csv", "demo-500khz,",
       [](std::string text) { return changed(text, "demo-2mhz,", "demo-1mhz,"); }},
      {"a heading misspelt", "sensors.csv", "key,",
       [](std::string text) { return changed(text, "frequency_MHz", "frequency_mhz"); }},
      {"a quote left open", "sensors.csv", "demo-1mhz,",
       [](std::string text) { return changed(text, "sensor\",yes", "sensor,yes"); }},
      {"no source", "sensors.csv", "demo-1mhz,",
       [](std::string text) { return changed(text, ",,invented\n", ",,\n"); }},
      {"not a number", "sensors.csv", "demo-1mhz,",
       [](std::string text) { return changed(text, ",2430,", ",nan,"); }},
      {"a name for no solid", "solid_names.csv", nullptr,
       [](std::string text) { return text + "nonesuch,no_such_solid\n"; }},
      {"nothing in it", "liquids.csv", nullptr, [](std::string) { return std::string(); }},
  }));
  CAPTURE(row.what);
  const Folder folder;
  fs::copy(fs::path(SLANTRULE_SOURCE_DIR) / "data", folder / "data");
  const std::string file = std::string("data/") + row.file;
  const std::string before = text_of(folder / file);
  write(folder / file, row.breaks(before));
  const Outcome outcome = run_program(SLANTRULE_GENERATOR, folder, {"data", "tables.cpp"});
  CAPTURE(outcome.err);
  CHECK(outcome.code == 1);
  CHECK_FALSE(fs::exists(folder / "tables.cpp"));
  const auto lines = lines_of(outcome.err);
  REQUIRE(!lines.empty());
  for (const std::string& line : lines) {
    CHECK_THAT(line, Catch::Matchers::Matches("data/[a-z_]+\\.csv:[0-9]+: .+"));
  }
  const bool duplicate = std::string(row.what) == "a key twice";
  if (row.near && !duplicate) {
    CHECK_THAT(outcome.err,
               Contains(file + ":" + std::to_string(line_of(before, row.near)) + ": "));
  } else {
    CHECK_THAT(outcome.err, Contains(file + ":"));
  }
}

TEST_CASE("generator: a file that isn't there, and a wrong command line") {
  const Folder folder;
  fs::copy(fs::path(SLANTRULE_SOURCE_DIR) / "data", folder / "data");
  fs::remove(folder / "data/couplants.csv");
  const Outcome missing = run_program(SLANTRULE_GENERATOR, folder, {"data", "tables.cpp"});
  CHECK(missing.code == 1);
  CHECK_THAT(missing.err, Contains("couplants.csv"));
  CHECK(run_program(SLANTRULE_GENERATOR, folder, {}).code == 2);
}
