#pragma once

// Rows of a survey planned from text, for tests of its results.

#include <catch2/catch.hpp>
#include <string>
#include <string_view>
#include <vector>

#include "sheets/planned.hpp"
#include "slantrule/sheets/survey_sheet.hpp"

namespace slantrule::test {

/// A row whose cells lie beside it.
struct HeldRow {
  std::vector<std::string> cells;
  std::vector<std::string_view> views;
  SurveyRow row;

  void take(std::size_t number, std::vector<std::string> list) {
    cells = std::move(list);
    views.assign(cells.begin(), cells.end());
    row.list.row = number;
    row.list.line = number + 3;
    row.list.cells = views;
  }
};

/// The plain job with changes, planned as a survey does.
inline HeldRow planned_row(std::size_t number, const std::vector<std::string>& sets = {},
                           std::vector<std::string> cells = {}) {
  HeldRow out;
  out.take(number, std::move(cells));
  const ReadJob read = read_job(plain_job, sets);
  for (const Problem& one : read.problems) UNSCOPED_INFO(one.key << ": " << one.message);
  REQUIRE(read.problems.empty());
  const Catalogue catalogue;
  Resolution resolution = resolve(read.request, catalogue);
  for (const Problem& one : resolution.problems) UNSCOPED_INFO(one.key << ": " << one.message);
  REQUIRE(resolution.problems.empty());
  PlanOptions options;
  options.sensitivity = false;
  options.signal = SignalDetail::level;
  out.row.planned = plan_all(std::move(resolution.variants), options);
  out.row.tag = out.row.planned.variants.front().job.tag;
  return out;
}

inline HeldRow refused_row(std::size_t number, std::vector<CellMessage> problems,
                           std::vector<std::string> cells = {}, std::string tag = {}) {
  HeldRow out;
  out.take(number, std::move(cells));
  out.row.list.problems = std::move(problems);
  out.row.tag = std::move(tag);
  return out;
}

/// A dozen pipes that differ in what they have and lack.
inline const std::vector<std::vector<std::string>>& dozen_jobs() {
  static const std::vector<std::vector<std::string>> jobs{
      {},
      {real_pair},
      {"path.traverses=1"},
      {R"(pipe.liner={"material":"cement mortar","thickness":"5 mm"})",
       R"(pipe.coating={"material":"epoxy","thickness":"0.4 mm"})"},
      {"pipe.size=NPS 1/2 sch 40"},
      {"flow.rate=1.87 m3/h", "flow.least="},
      {"flow.rate=0.5 m3/h", "flow.least="},
      {"flow.rate=", "flow.least=", "flow.most="},
      {"fluid.name=some oil", "fluid.sound_speed=1400 m/s"},
      {R"(sensors={"frequency":"1 MHz","setback":"14 mm",
          "wedge":{"sound_speed":"1200 m/s","angle":"60 deg"}})"},
      {"location.upstream=", "location.downstream=", "location.clock="},
      {R"(location.upstream=[{"fitting":"elbow-90","distance":"1 D"}])", "tag=a, \"b\""},
      {"fluid.temperature=-3.5 degC", "fluid.name=PG", "fluid.concentration=40 % mass"},
  };
  return jobs;
}

}  // namespace slantrule::test
