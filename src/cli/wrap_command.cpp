#include <fmt/format.h>

#include <memory>

#include "slantrule/cli/command_table.hpp"
#include "slantrule/cli/common_options.hpp"
#include "slantrule/cli/job_input.hpp"
#include "slantrule/cli/output.hpp"
#include "slantrule/sheets/wrap_sheet.hpp"
#include "slantrule/units/quantity.hpp"
#include "slantrule/units/suggest.hpp"

namespace slantrule::cli {
namespace {

struct WrapCommand {
  CommonOptions common;
  JobInput input;
  std::string paper = "a4";
  std::string thickness = "0.1 mm";

  /// False after complaining.
  bool read_thickness(double& thickness_m) const {
    const auto read = parse_quantity(thickness, Dimension::length);
    if (const auto* problem = std::get_if<QuantityProblem>(&read)) {
      complain("--paper-thickness: " + problem->message);
      return false;
    }
    thickness_m = std::get<Reading>(read).si;
    if (thickness_m >= 0 && thickness_m <= 5e-3) return true;
    complain(fmt::format("--paper-thickness: {} is no paper; write 0 to 5 mm, as in \"0.1 mm\"",
                         shown(thickness)));
    return false;
  }

  ExitCode run() const {
    WrapOptions options;
    options.paper = paper == "letter" ? paper_letter : paper_a4;
    if (!read_thickness(options.paper_thickness_m)) return ExitCode::failed;
    Catalogue catalogue;
    auto all = input.resolve_all(common, catalogue);
    if (!all) return ExitCode::failed;
    const PlannedJob job = plan_all(std::move(all->front()));
    if (const std::string why = wrap_refusal(job); !why.empty()) {
      const std::string name =
          input.jobs.empty() ? "--set" : std::string(input_name(input.jobs.front()));
      complain(shown(name, 200) + ": " + why);
      return ExitCode::stop;
    }
    const PlannedVariant& variant = job.variants.front();
    return write_output(wrap_sheet(variant, wrap_strip(variant, options), common.display()),
                        common.output, common.force);
  }
};

}  // namespace

std::function<ExitCode()> setup_wrap(CLI::App& app) {
  auto command = std::make_shared<WrapCommand>();
  command->input.add_to(app, false);
  command->common.add_catalogues(app);
  app.add_option("--paper", command->paper, "Paper in the printer")
      ->check(CLI::IsMember({"a4", "letter"}))
      ->capture_default_str()
      ->group("Output");
  app.add_option("--paper-thickness", command->thickness, "Corrects the strip's length")
      ->type_name("LENGTH")
      ->capture_default_str()
      ->group("Output");
  command->common.add_units(app);
  command->common.add_output(app);
  return [command] { return command->run(); };
}

}  // namespace slantrule::cli
