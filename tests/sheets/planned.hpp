#pragma once

// A job planned from text, for tests of sheets.

#include <algorithm>
#include <catch2/catch.hpp>
#include <string>
#include <string_view>
#include <vector>

#include "slantrule/files/catalogue_file.hpp"
#include "slantrule/files/job_file.hpp"
#include "slantrule/sheets/sheet.hpp"

namespace slantrule::test {

/// NPS 6 carbon steel, water, a demonstration pair: nothing amiss but that the pair is invented.
inline constexpr std::string_view plain_job = R"({
  "slantrule": 1, "tag": "CHW-R-02", "title": "Chilled water return",
  "pipe": { "size": "NPS 6 sch 40", "material": "carbon steel", "liner": "none",
            "orientation": "horizontal" },
  "fluid": { "name": "water", "temperature": "7 degC", "pressure": "4 bar gauge" },
  "flow": { "rate": "60 m3/h", "least": "10 m3/h", "most": "110 m3/h" },
  "sensors": "demo-1mhz", "path": { "traverses": 2 },
  "location": { "upstream": [ { "fitting": "elbow-90", "distance": "2.1 m" } ],
                "downstream": [ { "fitting": "tee", "distance": "1.8 m" } ],
                "clock": "3" } })";

/// A pair that isn't declared invented.
inline const std::string real_pair =
    R"(sensors={ "key": "own", "frequency": "1 MHz", "element": "12 mm",
      "wedge": { "sound_speed": "2430 m/s", "slope": "-1.9 m/s/K", "angle": "38 deg", "path": "14 mm" },
      "setback": "14 mm", "nose": "16 mm", "length": "58 mm",
      "temperature": ["-20 degC", "110 degC"], "zero_stability": "0.2 ns" })";

inline PlannedJob planned_text(std::string_view text, const std::vector<std::string>& sets = {}) {
  const ReadJob read = read_job(text, sets);
  for (const Problem& one : read.problems) UNSCOPED_INFO(one.key << ": " << one.message);
  REQUIRE(read.problems.empty());
  const Catalogue catalogue;
  Resolution resolution = resolve(read.request, catalogue);
  for (const Problem& one : resolution.problems) UNSCOPED_INFO(one.key << ": " << one.message);
  REQUIRE(resolution.problems.empty());
  REQUIRE(!resolution.variants.empty());
  return plan_all(std::move(resolution.variants));
}

/// The plain job with changes.
inline PlannedJob planned(const std::vector<std::string>& sets = {}) {
  return planned_text(plain_job, sets);
}

inline std::vector<std::string> lines_of(std::string_view text) {
  std::vector<std::string> lines;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    lines.emplace_back(text.substr(0, end));
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return lines;
}

}  // namespace slantrule::test
