// `slantrule lesson` from outside: formats, seeds, exit codes.

#include <catch2/catch.hpp>
#include <string>

#include "cli/run.hpp"

using namespace slantrule::test;
using Catch::Contains;

namespace {

const char* const examples[] = {"examples/lesson-easy.json", "examples/lesson-lined.json",
                                "examples/lesson-opposite.json"};

std::size_t count(const std::string& text, const std::string& what) {
  std::size_t found = 0;
  for (std::size_t at = text.find(what); at != std::string::npos; at = text.find(what, at + 1)) {
    ++found;
  }
  return found;
}

}  // namespace

TEST_CASE("lesson: the three examples in every format, as lesson and as exercise") {
  const Folder folder;
  for (const char* example : examples) {
    for (const char* units : {"metric", "us"}) {
      for (const char* format : {"text", "markdown", "html"}) {
        CAPTURE(example, units, format);
        Args args = {"lesson", example, "--units", units, "--format", format};
        const Outcome worked = run_slantrule(folder, args);
        CHECK(worked.code == 0);
        CHECK(worked.err.empty());
        args.push_back("--blanks");
        const Outcome blanks = run_slantrule(folder, args);
        CHECK(blanks.code == 0);
        CHECK(blanks.out != worked.out);
        for (const Outcome* one : {&worked, &blanks}) {
          CHECK_THAT(one->out, Contains("training data"));
          CHECK_THAT(one->out, Contains("Trainer"));  // the card is there to be signed
        }
        CHECK(count(worked.out, "\f") == 0);
        CHECK(count(blanks.out, "\f") == (format == std::string("text") ? 1U : 0U));
        if (format == std::string("html")) {
          CHECK(worked.out.rfind("<!DOCTYPE html>", 0) == 0);
          CHECK_THAT(blanks.out, Contains("break-before: page"));
        }
      }
    }
  }
}

TEST_CASE("lesson: the opposite-side example says how far round B goes") {
  const Folder folder;
  const Outcome lesson = run_slantrule(folder, {"lesson", "examples/lesson-opposite.json"});
  // Half of pi x 610 mm.
  CHECK_THAT(lesson.out, Contains("958.19 mm"));
}

TEST_CASE("lesson: a seed gives the same lesson again, another seed another") {
  const Folder folder;
  const auto text = [&](const char* seed, const char* name = "examples/lesson-lined.json") {
    const Outcome one = run_slantrule(folder, {"lesson", name, "--seed", seed, "--blanks"});
    CHECK(one.code == 0);
    return one.out;
  };
  CHECK(text("7") == text("7"));
  CHECK(text("7") != text("8"));
  CHECK(count(text("18446744073709551615"), "seed 18446744073709551615") == 2);
  // From standard input, which can be read once only.
  const Outcome piped = run_slantrule(folder, {"lesson", "-", "--seed", "7", "--blanks"},
                                      {.input = text_of(folder / "examples/lesson-lined.json")});
  CHECK(piped.out == text("7"));
}

TEST_CASE("lesson: what can't be taught is exit 1 and one line") {
  const Folder folder;
  for (const Args& args :
       {Args{"lesson", "examples/wall-unknown.json"},
        Args{"lesson", "examples/seawater-cuni.json", "--seed", "1"},
        Args{"lesson", "examples/lesson-easy.json", "--set", "path.wall_mode=longitudinal"}}) {
    CAPTURE(args);
    const Outcome outcome = run_slantrule(folder, args);
    CHECK(outcome.code == 1);
    CHECK(outcome.out.empty());
    CHECK(lines_of(outcome.err).size() == 1);
    CHECK_THAT(outcome.err, Contains(": no lesson: "));
  }
}

TEST_CASE("lesson: wrong command lines and jobs are exit 2") {
  const Folder folder;
  for (const Args& args :
       {Args{"lesson"}, Args{"lesson", "nowhere.json"},
        Args{"lesson", "examples/lesson-easy.json", "--seed", "many"},
        Args{"lesson", "examples/lesson-easy.json", "--seed", "-1"},
        Args{"lesson", "examples/lesson-easy.json", "--seed", "18446744073709551616"},
        Args{"lesson", "examples/lesson-easy.json", "--seed", "1.5"},
        Args{"lesson", "examples/lesson-easy.json", "--format", "json"},
        Args{"lesson", "examples/lesson-easy.json", "examples/lesson-lined.json"}}) {
    CAPTURE(args);
    const Outcome outcome = run_slantrule(folder, args);
    CHECK(outcome.code == 2);
    CHECK(outcome.out.empty());
    CHECK_THAT(outcome.err, Contains("slantrule: "));
  }
}

TEST_CASE("lesson: a file is written, and never over another") {
  const Folder folder;
  const Args args = {"lesson",     "examples/lesson-easy.json", "--format", "html", "--output",
                     "lesson.html"};
  CHECK(run_slantrule(folder, args).code == 0);
  CHECK(text_of(folder / "lesson.html").rfind("<!DOCTYPE html>", 0) == 0);
  CHECK(run_slantrule(folder, args).code == 2);
}

TEST_CASE("lesson: a pair of one's own and a catalogue of one's own") {
  const Folder folder;
  const Outcome outcome =
      run_slantrule(folder, {"lesson", "examples/lesson-easy.json", "--catalogue",
                             "examples/own-pairs.json", "--set", "sensors=lab-pair-a"});
  CHECK(outcome.code == 0);
  CHECK_THAT(outcome.out, Contains("lab-pair-a"));
}

TEST_CASE("lesson: help keeps to 80 columns, and its examples run") {
  const Folder folder;
  int run = 0;
  std::string command;
  for (const std::string& line : lines_of(run_slantrule(folder, {"lesson", "--help"}).out)) {
    CAPTURE(line);
    CHECK(line.size() <= 80);
    if (line.rfind("  slantrule ", 0) == 0 || !command.empty()) command += line;
    if (command.empty()) continue;
    if (command.back() == '\\') {
      command.pop_back();
      continue;
    }
    CHECK(run_program("/bin/sh", folder, {"-c", command}).code == 0);
    command.clear();
    ++run;
  }
  CHECK(run == 2);
  CHECK(fs::exists(folder / "exercise.html"));
}
