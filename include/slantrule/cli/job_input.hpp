#pragma once

/// Jobs as the commands take them: files, standard input, or `--set` alone.

#include <CLI/CLI.hpp>
#include <optional>
#include <string>
#include <vector>

#include "slantrule/catalogue/catalogue.hpp"
#include "slantrule/cli/common_options.hpp"
#include "slantrule/files/job_file.hpp"
#include "slantrule/planning/resolved_job.hpp"

namespace slantrule::cli {

/// Reads files that a job names, which lie beside it.
ReadNamedFile files_beside(const std::string& job_path);

struct JobInput {
  std::vector<std::string> jobs;  ///< paths; "-" is standard input
  std::vector<std::string> sets;

  /// Declares `JOB` (`JOB…` when `many`) and `--set`.
  void add_to(CLI::App& app, bool many);

  /// Every job's candidates, in order; nullopt after complaining when any job or catalogue cannot
  /// be read: then nothing is to be printed.
  std::optional<std::vector<std::vector<Variant>>> resolve_all(const CommonOptions& common,
                                                               Catalogue& catalogue) const;
};

}  // namespace slantrule::cli
