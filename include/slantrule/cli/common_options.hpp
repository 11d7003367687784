#pragma once

/// Options that several commands share.

#include <CLI/CLI.hpp>
#include <optional>
#include <string>
#include <vector>

#include "slantrule/catalogue/catalogue.hpp"
#include "slantrule/sheets/display.hpp"

namespace slantrule::cli {

struct CommonOptions {
  std::string format = "text";
  std::string units = "metric";
  std::string output;
  bool force = false;
  std::vector<std::string> catalogues;

  void add_format(CLI::App& app, const std::vector<std::string>& formats);
  void add_units(CLI::App& app);
  void add_output(CLI::App& app);
  void add_catalogues(CLI::App& app);

  Display display() const;

  /// Whether `inputs` and the catalogues name standard input more than once; complains then.
  bool reads_stdin_twice(const std::vector<std::string>& inputs = {}) const;

  /// Reads the catalogue files into `catalogue`; false after complaining about every mistake.
  bool load_catalogues(Catalogue& catalogue) const;
};

}  // namespace slantrule::cli
