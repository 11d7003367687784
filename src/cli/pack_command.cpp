#include <fmt/format.h>

#include <memory>

#include "slantrule/cli/command_table.hpp"
#include "slantrule/cli/list_input.hpp"
#include "slantrule/cli/output.hpp"
#include "slantrule/cli/stop_signal.hpp"
#include "slantrule/planning/packing.hpp"
#include "slantrule/sheets/pack_sheet.hpp"
#include "slantrule/units/suggest.hpp"

namespace slantrule::cli {
namespace {

struct PackCommand {
  CommonOptions common;
  ListInput input;
  std::size_t at_once = 1;

  struct PerThread {
    PerThread(const OpenList& list, const PackOptions& options) : worker(list), packing(options) {}
    OpenList::Worker worker;
    Packing packing;
  };

  ExitCode run() const {
    note_stop_signals();
    const auto list = OpenList::open(input, common);
    if (!list) return ExitCode::failed;
    list->tell_columns();
    const PackOptions options{.at_once = at_once, .couplants = couplants_of(list->catalogue())};
    Pool<PerThread> pool([&] { return std::make_unique<PerThread>(*list, options); });
    PlanOptions wanted;
    wanted.sensitivity = false;
    wanted.signal = SignalDetail::screened;
    run_through(
        *list, input.threads,
        [&](ListBlock& block, std::string&) {
          pool.with([&](PerThread& mine) {
            mine.worker.work(block, wanted, [&](SurveyRow& row) { add(row, mine.packing); });
          });
        },
        [](std::string&&) { return !stop_asked(); });
    if (stop_asked()) {
      complain("stopped before the end of the list; nothing is written");
      return ExitCode::failed;
    }
    Packing all(options);
    for (const auto& one : pool.all()) all.merge(one->packing);
    const PackReport report = all.report();
    if (report.load.count() + report.stopped.count() + report.refused.count() == 0) {
      if (!list->read_failed()) {
        complain(fmt::format("{}: holds no pipe, so there is nothing to load",
                             shown(input_name(input.list), 200)));
      }
      return ExitCode::failed;
    }
    const ExitCode written = write_output(rendered(all), common.output, common.force);
    if (written != ExitCode::ok) return written;
    if (list->read_failed()) return ExitCode::failed;
    const bool open = report.refused.count() + report.stopped.count() + report.may_stop.count() > 0;
    return open ? ExitCode::stop : ExitCode::ok;
  }

  static void add(const SurveyRow& row, Packing& packing) {
    if (row.refused()) return packing.add_refused(row.list.row, row.tag);
    for (const PlannedVariant& variant : row.planned.variants) {
      packing.add(row.list.row, row.tag, variant.job, variant.plan);
    }
  }

  std::string rendered(const Packing& packing) const {
    if (common.format == "json") return pack_json(packing, SLANTRULE_VERSION) + '\n';
    if (common.format == "csv") return pack_csv(packing, common.display());
    return pack_text(packing, common.display());
  }
};

}  // namespace

std::function<ExitCode()> setup_pack(CLI::App& app) {
  auto command = std::make_shared<PackCommand>();
  command->input.add_to(app);
  app.add_option("--at-once", command->at_once, "pipes that are measured at the same time")
      ->type_name("N")
      ->check(CLI::Range(1, 1000))
      ->capture_default_str()
      ->group("Computation");
  command->common.add_catalogues(app);
  command->common.add_format(app, {"text", "csv", "json"});
  command->common.add_units(app);
  command->common.add_output(app);
  return [command] { return command->run(); };
}

}  // namespace slantrule::cli
