#include "slantrule/cli/common_options.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>

#include "slantrule/cli/output.hpp"
#include "slantrule/files/catalogue_file.hpp"
#include "slantrule/units/suggest.hpp"

namespace slantrule::cli {
namespace {

/// Whether the terminal's character set is UTF-8, by the first variable that is set.
bool locale_is_utf8() {
  for (const char* name : {"LC_ALL", "LC_CTYPE", "LANG"}) {
    const char* value = std::getenv(name);
    if (!value || !*value) continue;
    const std::string folded = folded_name(value);
    return folded.find("utf_8") != std::string::npos || folded.find("utf8") != std::string::npos;
  }
  return false;
}

}  // namespace

void CommonOptions::add_format(CLI::App& app, const std::vector<std::string>& formats) {
  app.add_option("--format", format, "How the result is written")
      ->check(CLI::IsMember(formats))
      ->capture_default_str()
      ->group("Output");
}

void CommonOptions::add_units(CLI::App& app) {
  app.add_option("--units", units, "Units of the sheet; JSON is always SI")
      ->check(CLI::IsMember({"metric", "us"}))
      ->capture_default_str()
      ->group("Output");
}

void CommonOptions::add_output(CLI::App& app) {
  app.add_option("--output", output, "File to write instead of standard output")
      ->type_name("PATH")
      ->group("Output");
  app.add_flag("--force", force, "Write over an existing file")->group("Output");
}

void CommonOptions::add_catalogues(CLI::App& app) {
  app.add_option("--catalogue", catalogues, "sensor pairs and materials of your own")
      ->type_name("FILE")
      ->allow_extra_args(false)
      ->group("Input");
}

Display CommonOptions::display() const {
  return {.units = units == "us" ? UnitSystem::us : UnitSystem::metric, .utf8 = locale_is_utf8()};
}

bool CommonOptions::reads_stdin_twice(const std::vector<std::string>& inputs) const {
  const auto dashes = std::count(inputs.begin(), inputs.end(), "-") +
                      std::count(catalogues.begin(), catalogues.end(), "-");
  if (dashes > 1) complain("standard input (-) can be read once only");
  return dashes > 1;
}

bool CommonOptions::load_catalogues(Catalogue& catalogue) const {
  bool good = true;
  for (const std::string& path : catalogues) {
    const auto text = read_or_complain(path);
    if (!text) {
      good = false;
      continue;
    }
    const auto problems = read_catalogue(*text, catalogue, input_name(path));
    complain(input_name(path), problems);
    good = good && problems.empty();
  }
  return good;
}

}  // namespace slantrule::cli
