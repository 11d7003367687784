#include <fmt/format.h>

#include <algorithm>
#include <memory>

#include "slantrule/cli/command_table.hpp"
#include "slantrule/cli/common_options.hpp"
#include "slantrule/cli/output.hpp"
#include "slantrule/files/job_file.hpp"
#include "slantrule/sheets/sheet.hpp"
#include "slantrule/units/suggest.hpp"

namespace slantrule::cli {
namespace {

struct PlanCommand {
  CommonOptions common;
  std::vector<std::string> jobs;
  std::vector<std::string> sets;

  /// A kit file named by a job lies beside the job.
  static ReadNamedFile beside(const std::string& job_path) {
    const std::size_t slash = job_path.rfind('/');
    const std::string folder =
        slash == std::string::npos ? std::string() : job_path.substr(0, slash + 1);
    return [folder](const std::string& path) {
      std::string why;
      return read_input(path.starts_with('/') ? path : folder + path, why);
    };
  }

  /// Variants of one job; empty after complaining.
  std::vector<Variant> resolved(const std::string& path, std::optional<std::string_view> text,
                                const Catalogue& catalogue) const {
    const std::string_view name = text ? input_name(path) : std::string_view("--set");
    ReadJob read = read_job(text, sets, beside(path));
    // What was misread would look missing to the resolver: only one of the two speaks.
    if (!read.problems.empty()) {
      complain(name, read.problems);
      return {};
    }
    Resolution resolution = resolve(read.request, catalogue);
    complain(name, resolution.problems);
    return std::move(resolution.variants);
  }

  ExitCode run() const {
    if (common.reads_stdin_twice(jobs)) return ExitCode::failed;
    if (jobs.empty() && sets.empty()) {
      complain(
          "no job: name a job file, or describe the job with --set; see "
          "`slantrule plan --help`");
      return ExitCode::failed;
    }
    Catalogue catalogue;
    bool good = common.load_catalogues(catalogue);

    std::vector<std::vector<Variant>> all;
    if (jobs.empty()) all.push_back(resolved("", std::nullopt, catalogue));
    for (const std::string& path : jobs) {
      std::string why;
      const auto text = read_input(path, why);
      if (!text) {
        complain(fmt::format("{}: cannot be read: {}", shown(input_name(path), 200), why));
        good = false;
        continue;
      }
      all.push_back(resolved(path, *text, catalogue));
    }
    for (const auto& variants : all) good = good && !variants.empty();
    if (!good) return ExitCode::failed;

    std::string out;
    bool any_stop = false;
    for (auto& variants : all) {
      const PlannedJob job = plan_all(std::move(variants));
      any_stop = any_stop || job.verdict() == Verdict::stop;
      if (common.format == "json") {
        out += json_sheet(job, SLANTRULE_VERSION) + '\n';
      } else {
        if (!out.empty()) out += '\n' + std::string(80, '=') + "\n\n";
        out += text_sheet(job, common.display());
      }
    }
    const ExitCode written = write_output(out, common.output, common.force);
    if (written != ExitCode::ok) return written;
    return any_stop ? ExitCode::stop : ExitCode::ok;
  }
};

}  // namespace

std::function<ExitCode()> setup_plan(CLI::App& app) {
  auto command = std::make_shared<PlanCommand>();
  app.add_option("JOB", command->jobs, "Job files; - reads one from standard input")->type_name("");
  app.add_option("--set", command->sets, "sets a job key over the file; KEY= clears it")
      ->type_name("KEY=VALUE")
      ->allow_extra_args(false)
      ->group("Input");
  command->common.add_catalogues(app);
  command->common.add_format(app, {"text", "json"});
  command->common.add_units(app);
  command->common.add_output(app);
  return [command] { return command->run(); };
}

}  // namespace slantrule::cli
