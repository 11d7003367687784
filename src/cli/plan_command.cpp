#include <unistd.h>

#include <algorithm>
#include <cstdio>
#include <memory>
#include <thread>

#include "slantrule/cli/command_table.hpp"
#include "slantrule/cli/common_options.hpp"
#include "slantrule/cli/job_input.hpp"
#include "slantrule/cli/output.hpp"
#include "slantrule/sheets/drawing.hpp"
#include "slantrule/sheets/sheet.hpp"

namespace slantrule::cli {
namespace {

/// On a terminal, how far a long computation has come; leaves the line empty behind it.
void show_progress(double fraction) {
  if (fraction < 1) {
    std::fprintf(stderr, "\r%3.0f %%", 100 * fraction);
  } else {
    std::fprintf(stderr, "\r      \r");
  }
  std::fflush(stderr);
}

struct PlanCommand {
  CommonOptions common;
  JobInput input;
  std::string signal = "path";

  PlanOptions options() const {
    PlanOptions out;
    if (signal != "full") return out;
    out.signal = SignalDetail::response;
    out.response.threads = static_cast<int>(std::max(1u, std::thread::hardware_concurrency()));
    if (::isatty(STDERR_FILENO)) out.response.progress = show_progress;
    return out;
  }

  ExitCode run() const {
    Catalogue catalogue;
    auto all = input.resolve_all(common, catalogue);
    if (!all) return ExitCode::failed;

    std::vector<PlannedJob> jobs;
    for (auto& variants : *all) jobs.push_back(plan_all(std::move(variants), options()));
    const ExitCode written = write_output(rendered(jobs), common.output, common.force);
    if (written != ExitCode::ok) return written;
    const bool any_stop = std::ranges::any_of(
        jobs, [](const PlannedJob& job) { return job.verdict() == Verdict::stop; });
    return any_stop ? ExitCode::stop : ExitCode::ok;
  }

  std::string rendered(const std::vector<PlannedJob>& jobs) const {
    Display display = common.display();
    // Files for a browser or an editor say or mean UTF-8; the terminal's locale is no matter.
    if (common.format == "markdown" || common.format == "html" || common.format == "svg") {
      display.utf8 = true;
    }
    if (common.format == "html") return html_sheets(jobs, display);
    if (common.format == "svg") return drawings_svg(jobs, display);
    std::string out;
    for (const PlannedJob& job : jobs) {
      if (common.format == "json") {
        out += json_sheet(job, SLANTRULE_VERSION) + '\n';
      } else if (common.format == "markdown") {
        if (!out.empty()) out += "\n---\n\n";
        out += markdown_sheet(job, display);
      } else {
        if (!out.empty()) out += '\n' + std::string(80, '=') + "\n\n";
        out += text_sheet(job, display);
      }
    }
    return out;
  }
};

}  // namespace

std::function<ExitCode()> setup_plan(CLI::App& app) {
  auto command = std::make_shared<PlanCommand>();
  command->input.add_to(app, true);
  app.add_option("--signal", command->signal, "full: with all echoes in the wall, a second")
      ->check(CLI::IsMember({"path", "full"}))
      ->capture_default_str()
      ->group("Computation");
  command->common.add_catalogues(app);
  command->common.add_format(app, {"text", "json", "markdown", "html", "svg"});
  command->common.add_units(app);
  command->common.add_output(app);
  return [command] { return command->run(); };
}

}  // namespace slantrule::cli
