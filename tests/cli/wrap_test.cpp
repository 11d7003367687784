// `slantrule wrap`: exit codes, refusals, a whole file or none.

#include <catch2/catch.hpp>
#include <string>

#include "cli/run.hpp"

using namespace slantrule::test;
using Catch::Matchers::Contains;

namespace {

const Args good{"wrap", "examples/chilled-water.json"};

Args with(Args args, const Args& more) {
  args.insert(args.end(), more.begin(), more.end());
  return args;
}

}  // namespace

TEST_CASE("wrap: exit codes and messages") {
  struct Row {
    const char* what;
    Args args;
    int code;
    const char* out;  // what standard output holds; null: it is empty
    const char* err;  // what standard error holds; null: it is empty
  };
  const auto row = GENERATE(values<Row>({
      {"a job", good, 0, "CHW-R-02", nullptr},
      {"letter", with(good, {"--paper", "letter"}), 0, "215.9mm 279.4mm", nullptr},
      {"a4 is what is taken", good, 0, "210mm 297mm", nullptr},
      {"us units", with(good, {"--units", "us"}), 0, "pipe: 6.61 in (6 5/8) = 168 mm", nullptr},
      // pi x (168.3 + 0.2) mm
      {"thicker paper", with(good, {"--paper-thickness", "0.2 mm"}), 0, "529.4 mm", nullptr},
      {"another paper", with(good, {"--paper", "a3"}), 2, nullptr, "a4,letter"},
      {"thickness without unit", with(good, {"--paper-thickness", "0.1"}), 2, nullptr,
       "--paper-thickness: \"0.1\" has no unit"},
      {"no paper", with(good, {"--paper-thickness", "2 cm"}), 2, nullptr, "write 0 to 5 mm"},
      {"below nothing", with(good, {"--paper-thickness", "-1 mm"}), 2, nullptr,
       "--paper-thickness"},
      {"--set", with(good, {"--set", "tag=OTHER"}), 0, "OTHER", nullptr},
      {"a stop",
       {"wrap", "examples/seawater-cuni.json"},
       1,
       nullptr,
       "slantrule: examples/seawater-cuni.json: no strip is issued: the plan is a stop ("},
      {"candidates open",
       {"wrap", "examples/wall-unknown.json"},
       1,
       nullptr,
       "no strip is issued: the job leaves"},
      {"a mistake in the job", with(good, {"--set", "pipe.wall=7"}), 2, nullptr,
       "--set: pipe.wall: "},
      {"no such job", {"wrap", "none.json"}, 2, nullptr, "none.json: cannot be read"},
      {"no job", {"wrap"}, 2, nullptr, "no job"},
      {"two jobs", with(good, {"examples/copper-tube.json"}), 2, nullptr, "JOB: "},
  }));
  CAPTURE(row.what);
  const Folder folder;
  const std::size_t before = folder.entries();
  const Outcome outcome = run_slantrule(folder, row.args);
  CAPTURE(outcome.err);
  CHECK(outcome.code == row.code);
  if (row.out) {
    CHECK_THAT(outcome.out, Contains(row.out));
  } else {
    CHECK(outcome.out.empty());
  }
  if (row.err) {
    CHECK_THAT(outcome.err, Contains(row.err));
    CHECK(lines_of(outcome.err).size() == 1);
  } else {
    CHECK(outcome.err.empty());
  }
  CHECK(folder.entries() == before);
}

TEST_CASE("wrap: a file is written whole, or not at all") {
  const Folder folder;
  const Args stop{"wrap", "examples/seawater-cuni.json"};
  const std::string page = run_slantrule(folder, good).out;
  CHECK(page.rfind("<!DOCTYPE html>", 0) == 0);
  CHECK_THAT(page, Catch::Matchers::EndsWith("</html>\n"));

  CHECK(run_slantrule(folder, with(good, {"--output", "strip.html"})).code == 0);
  CHECK(text_of(folder / "strip.html") == page);
  const std::size_t entries = folder.entries();
  const Outcome again = run_slantrule(folder, with(good, {"--output", "strip.html"}));
  CHECK(again.code == 2);
  CHECK_THAT(again.err, Contains("--force"));

  // What is not issued leaves a file alone, even with --force, and makes none.
  CHECK(run_slantrule(folder, with(stop, {"--output", "strip.html", "--force"})).code == 1);
  CHECK(text_of(folder / "strip.html") == page);
  CHECK(run_slantrule(folder, with(stop, {"--output", "other.html"})).code == 1);
  CHECK_FALSE(fs::exists(folder / "other.html"));
  CHECK(folder.entries() == entries);

  CHECK(run_slantrule(folder, with(good, {"--output", "none/strip.html"})).code == 2);
  if (fs::exists("/dev/full")) {
    CHECK(run_slantrule(folder, good, {.standard_output = "/dev/full"}).code == 2);
  }
  const Outcome closed = run_slantrule(folder, good, {.closed_pipe = true});
  CHECK(closed.code == 0);
  CHECK(closed.err.empty());
}
