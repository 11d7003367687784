#include <fmt/format.h>

#include <charconv>
#include <memory>
#include <optional>

#include "slantrule/cli/command_table.hpp"
#include "slantrule/cli/common_options.hpp"
#include "slantrule/cli/job_input.hpp"
#include "slantrule/cli/output.hpp"
#include "slantrule/sheets/lesson.hpp"
#include "slantrule/units/suggest.hpp"

namespace slantrule::cli {
namespace {

std::optional<std::uint64_t> read_seed(const std::string& text) {
  std::uint64_t seed = 0;
  const char* const end = text.data() + text.size();
  const auto [stopped, error] = std::from_chars(text.data(), end, seed);
  if (error != std::errc() || stopped != end) return std::nullopt;
  return seed;
}

std::string check_seed(const std::string& text) {
  if (read_seed(text)) return {};
  return "a seed is a whole number from 0 to 18446744073709551615, for instance 7";
}

struct LessonCommand {
  CommonOptions common;
  JobInput input;
  bool blanks = false;
  std::string seed_text;

  ExitCode refuse(std::string_view why) const {
    const std::string name =
        input.jobs.empty() ? "--set" : shown(input_name(input.jobs.front()), 200);
    complain(fmt::format("{}: no lesson: {}", name, why));
    return ExitCode::stop;
  }

  ExitCode run() const {
    Catalogue catalogue;
    auto all = input.resolve_all(common, catalogue);
    if (!all) return ExitCode::failed;
    PlannedJob job = plan_all(std::move(all->front()));
    const Display display = common.display();
    auto made = make_lesson(job, catalogue, display.units);
    if (const auto* why = std::get_if<std::string>(&made)) return refuse(*why);
    PlannedJob varied;
    if (const auto seed = read_seed(seed_text)) {
      auto drawn = vary_job(job, *seed, catalogue);
      if (!drawn) {
        return refuse(
            "no other pipe of this family is as easy to mount; leave --seed out for the job as it "
            "is");
      }
      varied = std::move(*drawn);
      made = make_lesson(varied, catalogue, display.units, seed);
      if (const auto* why = std::get_if<std::string>(&made)) return refuse(*why);
    }
    const Lesson& lesson = std::get<Lesson>(made);
    const std::string out = common.format == "html"       ? lesson_html(lesson, blanks)
                            : common.format == "markdown" ? lesson_markdown(lesson, blanks)
                                                          : lesson_text(lesson, blanks, display);
    return write_output(out, common.output, common.force);
  }
};

}  // namespace

std::function<ExitCode()> setup_lesson(CLI::App& app) {
  auto command = std::make_shared<LessonCommand>();
  command->input.add_to(app, false);
  command->common.add_catalogues(app);
  app.add_flag("--blanks", command->blanks,
               "The exercise, with the answer key on a page of its own");
  app.add_option("--seed", command->seed_text,
                 "Draws another pipe of the family; same N, same lesson")
      ->check(check_seed)
      ->type_name("N");
  command->common.add_format(app, {"text", "markdown", "html"});
  command->common.add_units(app);
  command->common.add_output(app);
  return [command] { return command->run(); };
}

}  // namespace slantrule::cli
