#include <fmt/format.h>

#include <memory>

#include "slantrule/cli/command_table.hpp"
#include "slantrule/cli/common_options.hpp"
#include "slantrule/cli/job_input.hpp"
#include "slantrule/cli/output.hpp"
#include "slantrule/planning/compare.hpp"
#include "slantrule/sheets/compare_sheet.hpp"

namespace slantrule::cli {
namespace {

struct CompareCommand {
  CommonOptions common;
  JobInput input;

  ExitCode run() const {
    Catalogue catalogue;
    const auto all = input.resolve_all(common, catalogue);
    if (!all) return ExitCode::failed;
    const std::vector<Variant>& variants = all->front();
    if (variants.size() > 1) {
      complain(
          fmt::format("{} candidates are open, and each would be compared by itself: settle "
                      "them first; `slantrule plan` tells what tells them apart",
                      variants.size()));
      return ExitCode::stop;
    }
    const Comparison comparison = compare(variants.front().job);
    const ExitCode written =
        write_output(common.format == "json" ? compare_json(comparison, SLANTRULE_VERSION) + '\n'
                                             : compare_text(comparison, common.display()),
                     common.output, common.force);
    if (written != ExitCode::ok) return written;
    return comparison.front()->feasible ? ExitCode::ok : ExitCode::stop;
  }
};

}  // namespace

std::function<ExitCode()> setup_compare(CLI::App& app) {
  auto command = std::make_shared<CompareCommand>();
  command->input.add_to(app, false);
  command->common.add_catalogues(app);
  command->common.add_format(app, {"text", "json"});
  command->common.add_units(app);
  command->common.add_output(app);
  return [command] { return command->run(); };
}

}  // namespace slantrule::cli
