#include <fmt/format.h>

#include <unistd.h>
#include <atomic>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <memory>

#include "slantrule/cli/command_table.hpp"
#include "slantrule/cli/list_input.hpp"
#include "slantrule/cli/output.hpp"
#include "slantrule/cli/stop_signal.hpp"
#include "slantrule/sheets/columns_sheet.hpp"
#include "slantrule/sheets/survey_sheet.hpp"
#include "slantrule/sheets/survey_summary.hpp"
#include "slantrule/sheets/text_layout.hpp"
#include "slantrule/units/suggest.hpp"

namespace slantrule::cli {
namespace {

struct SurveyCommand {
  CommonOptions common;
  ListInput input;
  bool columns = false;
  std::string save_map, sheets, summary_path, signal = "level";

  /// Everything a row's columns and findings need, and no more.
  PlanOptions options() const {
    PlanOptions out;
    out.sensitivity = common.format == "jsonl" || !sheets.empty();
    out.signal =
        signal == "path" || !sheets.empty() ? SignalDetail::placement : SignalDetail::screened;
    return out;
  }

  ExitCode run() const {
    note_stop_signals();
    const auto list = OpenList::open(input, common);
    if (!list) return ExitCode::failed;
    if (columns || !save_map.empty()) return show_columns(*list);
    if (!sheets.empty() && !make_folder()) return ExitCode::failed;
    list->tell_columns();
    return survey(*list);
  }

  ExitCode show_columns(const OpenList& list) const {
    if (list.is_json() && list.layout().columns.empty()) {
      complain(fmt::format("{}: every line is a job and has no columns",
                           shown(input_name(input.list), 200)));
      return ExitCode::failed;
    }
    if (!save_map.empty()) {
      const ExitCode saved = write_output(columns_map(list.layout()), save_map, common.force);
      if (saved != ExitCode::ok || !columns) return saved;
    }
    const std::string text =
        columns_text(list.layout(), list.samples(), std::string(input_name(input.list)),
                     list.how_written(), common.display(), list.fill_down_advice());
    return write_output(text, common.output, common.force);
  }

  bool make_folder() const {
    std::error_code wrong;
    std::filesystem::create_directory(sheets, wrong);
    if (!wrong && std::filesystem::is_directory(sheets, wrong)) return true;
    complain(fmt::format("{}: is no folder and could not be made one{}", shown(sheets, 200),
                         wrong ? ": " + wrong.message() : ""));
    return false;
  }

  bool write_sheet(const SurveyRow& row) const {
    if (row.refused()) return true;
    const std::string path =
        (std::filesystem::path(sheets) / sheet_file_name(row.list.row, row.tag, "txt")).string();
    return write_output(text_sheet(row.planned, common.display()), path, common.force) ==
           ExitCode::ok;
  }

  struct PerThread {
    explicit PerThread(const OpenList& list) : worker(list) {}
    OpenList::Worker worker;
    SurveySummary summary;
    bool sheets_written = true;
  };

  ExitCode survey(OpenList& list) const {
    auto output = OutputFile::open(common.output, common.force);
    if (!output) return ExitCode::failed;
    const ListColumns headings = list.result_columns();
    const Display display = common.display();
    const bool text = common.format == "text";
    if (text) output->write(survey_text_header(display));
    if (common.format == "csv") {
      output->holds_csv();
      output->write(survey_csv_header(headings));
    }

    Pool<PerThread> pool([&] { return std::make_unique<PerThread>(list); });
    const PlanOptions wanted = options();
    std::atomic<std::size_t> rows = 0;
    std::size_t blocks = 0;
    const bool terminal = ::isatty(STDERR_FILENO) && !::isatty(STDOUT_FILENO);
    run_through(
        list, input.threads,
        [&](ListBlock& block, std::string& out) {
          rows += block.rows.size();
          pool.with([&](PerThread& mine) {
            mine.worker.work(block, wanted, [&](SurveyRow& row) {
              if (text) {
                append_survey_text(out, row, display);
              } else if (common.format == "csv") {
                append_survey_csv(out, row, headings);
              } else {
                append_survey_json(out, row, headings, SLANTRULE_VERSION);
              }
              mine.summary.add(row);
              if (!sheets.empty()) mine.sheets_written = write_sheet(row) && mine.sheets_written;
            });
          });
        },
        [&](std::string&& lines) {
          if (terminal && ++blocks % 200 == 0) show_progress(rows);
          return output->write(lines) && !stop_asked();
        });
    if (terminal && blocks >= 200) std::fprintf(stderr, "\r%20s\r", "");

    SurveySummary total;
    bool sheets_written = true;
    for (const auto& one : pool.all()) {
      total.merge(one->summary);
      sheets_written = sheets_written && one->sheets_written;
    }
    return finish(list, *output, total, sheets_written);
  }

  /// For a result that is read without what was said on standard error.
  static std::string unused_words(const std::vector<std::string>& headings,
                                  const Display& display) {
    if (headings.empty()) return {};
    std::string out;
    for (const std::string& heading : headings) {
      out += (out.empty() ? "" : ", ") + job_text(shown(heading), display);
    }
    std::string lines = "\n";
    for (const std::string& line :
         wrapped("Columns of the list that are not used: " + out, "", "  ")) {
      lines += line + "\n";
    }
    return lines;
  }

  static void show_progress(std::size_t rows) {
    std::fprintf(stderr, "\r%zu rows", rows);
    std::fflush(stderr);
  }

  ExitCode finish(const OpenList& list, OutputFile& output, const SurveySummary& total,
                  bool sheets_written) const {
    const Display display = common.display();
    std::string words = survey_summary_text(total, display);
    const ListRemarks& remarks = list.remarks();
    if (remarks.left_out_count > 0) {
      words += fmt::format("\nNo rows of the list ({} lines):\n", remarks.left_out_count);
      for (const LeftOutLine& line : remarks.left_out) {
        words += fmt::format("  line {}: {}: {}\n", line.line, line.why,
                             shown(job_text(line.text, display), 60));
      }
    }
    const bool stopped = stop_asked();
    if (common.format == "text" && !stopped) {
      output.write("\n" + words + unused_words(list.unused_columns(), display));
    }
    if (stopped && !output.reader_gone()) {
      complain("stopped before the end of the list; the rows that were written are whole");
      // A file that was to hold the whole list does not appear.
      if (common.output.empty() || common.output == "-") output.finish();
      return ExitCode::failed;
    }
    const bool reader_gone = output.reader_gone();
    const ExitCode written = output.finish();
    if (written != ExitCode::ok || reader_gone) return written;
    if (common.format != "text") std::fputs(words.c_str(), stderr);
    if (!summary_path.empty()) {
      const ExitCode summed = write_output(survey_summary_json(total, list.unused_columns()) + "\n",
                                           summary_path, common.force);
      if (summed != ExitCode::ok) return summed;
    }
    if (list.read_failed() || !sheets_written) return ExitCode::failed;
    return total.stop() + total.refused() > 0 ? ExitCode::stop : ExitCode::ok;
  }
};

}  // namespace

std::function<ExitCode()> setup_survey(CLI::App& app) {
  auto command = std::make_shared<SurveyCommand>();
  command->input.add_to(app);
  app.add_flag("--columns", command->columns,
               "show what each column is taken for and how its cells are read, and plan nothing")
      ->group("Columns");
  app.add_option("--save-map", command->save_map,
                 "write that choice, proposals included, as a map file")
      ->type_name("FILE")
      ->group("Columns");
  app.add_option("--signal", command->signal,
                 "path: windows and other arrivals of every row too, a hundred times slower")
      ->check(CLI::IsMember({"level", "path"}))
      ->capture_default_str()
      ->group("Computation");
  command->common.add_catalogues(app);
  command->common.add_format(app, {"text", "csv", "jsonl"});
  command->common.add_units(app);
  command->common.add_output(app);
  app.add_option("--sheets", command->sheets, "a setup sheet for each row, in this folder")
      ->type_name("DIR")
      ->group("Output");
  app.add_option("--summary", command->summary_path, "the summary as JSON, in this file")
      ->type_name("FILE")
      ->group("Output");
  return [command] { return command->run(); };
}

}  // namespace slantrule::cli
