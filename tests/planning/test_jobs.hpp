#pragma once

/// Jobs for the tests of planning: a base job with nothing wrong, changed key by key.

#include <catch2/catch.hpp>
#include <string>
#include <string_view>
#include <vector>

#include "slantrule/files/job_file.hpp"
#include "slantrule/planning/check_table.hpp"
#include "slantrule/planning/plan.hpp"

namespace slantrule::test {

/// All is known and nothing is wrong: no finding at all.
inline constexpr std::string_view base_job = R"({
  "slantrule": 1,
  "pipe": { "size": "NPS 6 sch 40", "material": "carbon steel", "liner": "none",
            "orientation": "horizontal" },
  "fluid": { "name": "water", "temperature": "20 degC", "pressure": "4 bar gauge" },
  "flow": { "rate": "100 m3/h", "least": "50 m3/h", "most": "150 m3/h" },
  "sensors": { "key": "bench pair", "frequency": "1 MHz", "element": "12 mm",
               "wedge": { "sound_speed": "2430 m/s", "at": "20 degC", "slope": "-1.9 m/s/K",
                          "angle": "38 deg", "path": "14 mm" },
               "setback": "14 mm", "nose": "16 mm", "length": "58 mm",
               "temperature": ["-20 degC", "110 degC"], "zero_stability": "0.2 ns" },
  "path": { "traverses": 2 },
  "location": {
    "upstream": [ { "fitting": "elbow-90", "distance": "20 D" } ],
    "downstream": [ { "fitting": "elbow-90", "distance": "10 D" } ],
    "clock": "3", "ambient": "20 degC"
  }
})";

/// Each change is "key=value", or "key=" to take the key out.
using Changes = std::vector<std::string>;

inline JobRequest request_of(const Changes& changes, std::string_view job = base_job) {
  ReadJob read = read_job(job, changes);
  for (const Problem& one : read.problems) {
    UNSCOPED_INFO(one.key << ": " << one.message);
  }
  REQUIRE(read.problems.empty());
  return std::move(read.request);
}

inline Resolution resolution_of(const Changes& changes, std::string_view job = base_job) {
  const Catalogue catalogue;
  return resolve(request_of(changes, job), catalogue);
}

/// The one job that the changes give.
inline ResolvedJob job_of(const Changes& changes, std::string_view job = base_job) {
  Resolution resolution = resolution_of(changes, job);
  for (const Problem& one : resolution.problems) {
    UNSCOPED_INFO(one.key << ": " << one.message);
  }
  REQUIRE(resolution.problems.empty());
  REQUIRE(resolution.variants.size() == 1);
  return std::move(resolution.variants.front().job);
}

/// A plan with the job that it points into.
struct Planned {
  ResolvedJob job;
  Plan plan;

  explicit Planned(const Changes& changes, std::string_view text = base_job,
                   const PlanOptions& options = {})
      : job(job_of(changes, text)), plan(slantrule::plan(job, options)) {}
  Planned(const Planned&) = delete;
  Planned& operator=(const Planned&) = delete;

  /// The finding of this id; null when there is none.
  const Finding* finding(std::string_view id) const {
    const CheckInfo* info = find_check(id);
    REQUIRE(info);
    for (const Finding& one : plan.findings) {
      if (one.check == info->check) return &one;
    }
    return nullptr;
  }
  std::size_t count(std::string_view id) const {
    const CheckInfo* info = find_check(id);
    REQUIRE(info);
    std::size_t found = 0;
    for (const Finding& one : plan.findings) found += one.check == info->check;
    return found;
  }
  /// "note", "caution", "stop"; "-" when the check found nothing.
  std::string severity(std::string_view id) const {
    const Finding* one = finding(id);
    return one ? std::string(severity_name(one->severity)) : "-";
  }
  const RayPath& ray() const {
    REQUIRE(plan.path);
    return plan.path->ray;
  }
};

/// One change made, and the severity that the check of `id` answers with; "-": none.
struct SeverityRow {
  const char* id;
  Changes changes;
  const char* severity;
};

inline void check_rows(const std::vector<SeverityRow>& rows) {
  for (const SeverityRow& row : rows) {
    CAPTURE(row.id, row.changes);
    CHECK(Planned(row.changes).severity(row.id) == row.severity);
  }
}

/// All ids that a plan found, in its order, for messages.
inline std::string ids(const Plan& plan) {
  std::string all;
  for (const Finding& one : plan.findings) {
    all += std::string(check_info(one.check).id) + " " + std::string(severity_name(one.severity)) +
           "; ";
  }
  return all;
}

}  // namespace slantrule::test
