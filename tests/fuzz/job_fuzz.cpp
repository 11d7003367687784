// Any bytes as a job: refused with a message a line, or planned, with both sheets whole.

#include <cstdint>
#include <cstdlib>
#include <nlohmann/json.hpp>
#include <string>

#include "slantrule/files/catalogue_file.hpp"
#include "slantrule/files/job_file.hpp"
#include "slantrule/sheets/sheet.hpp"
#include "slantrule/sheets/text_layout.hpp"

namespace {

void require(bool ok) {
  if (!ok) std::abort();
}

void check_problems(const std::vector<slantrule::Problem>& problems) {
  for (const auto& problem : problems) {
    require(!problem.message.empty());
    for (const std::string& text : {problem.key, problem.message}) {
      for (const char c : text) require(static_cast<unsigned char>(c) >= 0x20);
    }
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace slantrule;
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  Catalogue own;
  check_problems(read_catalogue(text, own));

  const ReadJob read = read_job(text, {});
  check_problems(read.problems);
  if (!read.problems.empty()) return 0;
  static const Catalogue catalogue;
  Resolution resolution = resolve(read.request, catalogue);
  check_problems(resolution.problems);
  require(resolution.problems.empty() != resolution.variants.empty());
  if (resolution.variants.empty()) return 0;
  const PlannedJob job = plan_all(std::move(resolution.variants));

  const std::string sheet = text_sheet(job, {});
  for (std::size_t at = 0; at < sheet.size();) {
    const std::size_t end = sheet.find('\n', at);
    require(end != std::string::npos);
    const std::string_view line = std::string_view(sheet).substr(at, end - at);
    require(columns(line) <= sheet_columns);
    for (const char c : line) require(static_cast<unsigned char>(c) >= 0x20);
    at = end + 1;
  }
  const std::string json = json_sheet(job, "fuzz");
  require(json.find("null") == std::string::npos || json.find(":null") == std::string::npos);
  require(nlohmann::json::accept(json));
  return 0;
}
