// The commands of README.md and of every --help are run, so that none of them is wrong.

#include <catch2/catch.hpp>
#include <string>

#include "cli/run.hpp"

using namespace slantrule::test;

namespace {

bool is_ours(const std::string& command) {
  for (const char* name : {"slantrule", "build/release/slantrule", "./build/release/slantrule"}) {
    const std::string start(name);
    if (command == start || command.rfind(start + " ", 0) == 0) return true;
  }
  // In a pipeline of the shell.
  if (command.find(" slantrule ") != std::string::npos) return true;
  return false;
}

/// Lines that end in a backslash, joined with what follows them.
std::vector<std::string> joined_lines(const std::string& text) {
  std::vector<std::string> out;
  bool goes_on = false;
  for (const std::string& line : lines_of(text)) {
    if (goes_on) {
      out.back() += line;
    } else {
      out.push_back(line);
    }
    goes_on = !out.back().empty() && out.back().back() == '\\';
    if (goes_on) out.back().pop_back();
  }
  return out;
}

std::vector<std::string> readme_commands() {
  std::vector<std::string> commands;
  bool console = false;
  for (const std::string& line :
       joined_lines(text_of(fs::path(SLANTRULE_SOURCE_DIR) / "README.md"))) {
    if (line.rfind("```", 0) == 0) {
      console = line == "```console";
    } else if (console && line.rfind("$ ", 0) == 0 && is_ours(line.substr(2))) {
      commands.push_back(line.substr(2));
    }
  }
  return commands;
}

std::vector<std::string> help_commands(const Folder& folder, const std::string& command) {
  std::vector<std::string> commands;
  bool examples = false;
  for (const std::string& line : joined_lines(run_slantrule(folder, {command, "--help"}).out)) {
    if (line == "Examples:") examples = true;
    if (examples && line.rfind("  slantrule ", 0) == 0) commands.push_back(line.substr(2));
  }
  return commands;
}

void check_runs(const Folder& folder, const std::string& command) {
  CAPTURE(command);
  const std::size_t before = folder.entries();
  const Outcome outcome = run_program("/bin/sh", folder, {"-c", command});
  CAPTURE(outcome.err);
  CHECK((outcome.code == 0 || outcome.code == 1));
  // It shows something, or says where it wrote it.
  CHECK((!outcome.out.empty() || folder.entries() > before));
}

}  // namespace

TEST_CASE("readme: its commands run") {
  const Folder folder;
  // README may call the program where the build puts it.
  fs::create_directories(folder / "build/release");
  fs::create_symlink(SLANTRULE_PROGRAM, folder / "build/release/slantrule");
  const auto commands = readme_commands();
  INFO("README.md has no ```console block with a line \"$ slantrule ...\"");
  REQUIRE(!commands.empty());
  for (const std::string& command : commands) check_runs(folder, command);
}

TEST_CASE("readme: the examples of every command's help run") {
  for (const char* command :
       {"plan", "compare", "survey", "pack", "wrap", "lesson", "lookup", "new", "schema"}) {
    CAPTURE(command);
    const Folder folder;
    const auto commands = help_commands(folder, command);
    CHECK(commands.size() == 2);
    for (const std::string& one : commands) check_runs(folder, one);
  }
}

TEST_CASE("readme: the output it shows is what the commands give") {
  const Folder folder;
  const std::string readme = text_of(fs::path(SLANTRULE_SOURCE_DIR) / "README.md");
  const auto shown_at = [&](const std::string& marker) {
    const std::size_t mark = readme.find("<!-- " + marker + " -->\n```text\n");
    REQUIRE(mark != std::string::npos);
    const std::size_t from = readme.find("```text\n", mark) + 8;
    return readme.substr(from, readme.find("```", from) - from);
  };
  const std::string sheet = shown_at("sheet");
  CHECK(sheet ==
        run_slantrule(folder, {"plan", "examples/chilled-water.json"}).out.substr(0, sheet.size()));
  const std::string survey = run_slantrule(folder, {"survey", "examples/plant-list.csv",
                                                    "--map-file", "examples/plant-list.map",
                                                    "--defaults", "examples/plant-defaults.json"})
                                 .out;
  CHECK(survey.rfind(shown_at("survey"), 0) == 0);
  CHECK(survey.find(shown_at("survey-facts")) != std::string::npos);
}

TEST_CASE("examples: every file runs, says what it shows, and stands in README") {
  const Folder folder;
  const std::string readme = text_of(fs::path(SLANTRULE_SOURCE_DIR) / "README.md");
  int jobs = 0, catalogues = 0;
  for (const auto& entry : fs::directory_iterator(fs::path(SLANTRULE_SOURCE_DIR) / "examples")) {
    const std::string name = entry.path().filename().string();
    CAPTURE(name);
    CHECK(readme.find("`" + name + "`") != std::string::npos);
    const std::string text = text_of(entry.path());
    CHECK(text.find("nvented") != std::string::npos);
    // The list of pipes with its map and defaults: see survey_test.cpp.
    if (name.rfind("plant-", 0) == 0) continue;
    CHECK(text.rfind("// ", 0) == 0);  // what it shows
    const bool is_job = text.find("\"slantrule\": 1") != std::string::npos;
    const bool is_kit = text.find("\"rails\"") != std::string::npos;
    const Outcome outcome =
        is_job ? run_slantrule(folder, {"plan", "examples/" + name})
        : is_kit
            ? run_slantrule(folder, {"plan", "examples/chilled-water.json", "--set", "kit=" + name})
            : run_slantrule(folder,
                            {"lookup", "solids", "steel", "--catalogue", "examples/" + name});
    CAPTURE(outcome.err);
    CHECK((outcome.code == 0 || (is_job && outcome.code == 1)));
    CHECK(outcome.err.empty());
    if (is_job) {
      const std::vector<std::string> lines = lines_of(outcome.out);
      CHECK((lines.size() > 20 && lines.size() <= 120));
    }
    (is_job ? jobs : catalogues) += 1;
  }
  CHECK(jobs >= 12);
  CHECK(catalogues >= 2);
}
