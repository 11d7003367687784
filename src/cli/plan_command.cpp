#include <memory>

#include "slantrule/cli/command_table.hpp"
#include "slantrule/cli/common_options.hpp"
#include "slantrule/cli/job_input.hpp"
#include "slantrule/cli/output.hpp"
#include "slantrule/sheets/sheet.hpp"

namespace slantrule::cli {
namespace {

struct PlanCommand {
  CommonOptions common;
  JobInput input;

  ExitCode run() const {
    Catalogue catalogue;
    auto all = input.resolve_all(common, catalogue);
    if (!all) return ExitCode::failed;

    std::string out;
    bool any_stop = false;
    for (auto& variants : *all) {
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
  command->input.add_to(app, true);
  command->common.add_catalogues(app);
  command->common.add_format(app, {"text", "json"});
  command->common.add_units(app);
  command->common.add_output(app);
  return [command] { return command->run(); };
}

}  // namespace slantrule::cli
