// SignalDetail::screened against SignalDetail::placement: whatever the bounds rule out, no caution
// may get lost, appear or change a number. The note on the best place is the placement's alone.

#include <algorithm>
#include <catch2/catch.hpp>

#include "bench/list_jobs.hpp"
#include "slantrule/planning/check_table.hpp"
#include "slantrule/planning/plan.hpp"
#include "slantrule/planning/resolver.hpp"

namespace slantrule {
namespace {

Plan plan_at(const ResolvedJob& job, SignalDetail detail) {
  return plan(job, {.findings = true, .sensitivity = false, .signal = detail, .response = {}});
}

bool same(const Finding& a, const Finding& b) {
  for (std::size_t i = 0; i < a.values.size(); ++i) {
    if (a.values[i].kind != b.values[i].kind) return false;
    if (a.values[i].value != Approx(b.values[i].value).epsilon(1e-9).margin(1e-12)) return false;
  }
  return a.check == b.check && a.severity == b.severity && a.subject == b.subject &&
         a.detail == b.detail;
}

void leave_out_best_place(Plan& plan) {
  std::erase_if(plan.findings,
                [](const Finding& one) { return one.check == CheckId::signal_off_best; });
}

struct Compared {
  int plans = 0;
  int with_placement_findings = 0;
};

bool is_of_placement(const Finding& one) {
  switch (one.check) {
    case CheckId::signal_window:
    case CheckId::signal_wall_echoes:
    case CheckId::signal_liner_modes:
    case CheckId::signal_other_traverses:
    case CheckId::pipe_plate_wave:
      return true;
    default:
      return false;
  }
}

Compared compare_details(std::uint64_t first, std::uint64_t count, bool typical) {
  const Catalogue catalogue;
  Resolver resolver(catalogue);
  Compared out;
  for (std::uint64_t seed = first; seed < first + count; ++seed) {
    test::JobDraw draw(seed);
    const Resolution resolution = resolver.resolve(typical ? draw.typical() : draw.any());
    if (resolution.variants.empty()) continue;  // a wall that leaves no bore
    CAPTURE(seed, typical);
    const ResolvedJob& job = resolution.variants.front().job;
    const Plan screened = plan_at(job, SignalDetail::screened);
    Plan whole = plan_at(job, SignalDetail::placement);
    leave_out_best_place(whole);
    ++out.plans;
    bool equal = screened.verdict == whole.verdict && screened.traverses == whole.traverses &&
                 screened.findings.size() == whole.findings.size();
    for (std::size_t i = 0; equal && i < whole.findings.size(); ++i) {
      equal = same(screened.findings[i], whole.findings[i]);
    }
    if (!equal) FAIL_CHECK("the findings differ");
    out.with_placement_findings += std::ranges::any_of(whole.findings, is_of_placement);
    if (screened.signal && screened.signal->arrivals) FAIL_CHECK("the placement is exposed");
  }
  return out;
}

}  // namespace

TEST_CASE("screened: the findings are those of the whole placement", "[planning]") {
  const Compared typical = compare_details(1, 150, true);
  const Compared any = compare_details(1, 300, false);
  CHECK(typical.plans == 150);
  CHECK(any.plans > 250);
  // The comparison is worth something: many of them have such findings, many have none.
  for (const Compared& one : {typical, any}) {
    CHECK(one.with_placement_findings > one.plans / 10);
    CHECK(one.with_placement_findings < one.plans * 9 / 10);
  }
}

// Minutes: run by name where the bound or the direct response are touched.
TEST_CASE("screened: the same over thousands", "[.][screened-long]") {
  CHECK(compare_details(10000, 10000, true).plans == 10000);
  CHECK(compare_details(10000, 20000, false).plans > 17000);
}

TEST_CASE("screened: the rail's remainder is priced for the check alone", "[planning]") {
  const Catalogue catalogue;
  JobRequest request = test::JobDraw(7).typical();
  KitRequest kit;
  kit.rail_step.options.push_back(
      {{.si = 0.07, .dimension = Dimension::length}, Origin::unstated, {}});
  request.kit.value = kit;
  const Resolution resolution = resolve(request, catalogue);
  REQUIRE(resolution.variants.size() == 1);
  const ResolvedJob& job = resolution.variants.front().job;
  const Plan screened = plan_at(job, SignalDetail::screened);
  Plan whole = plan_at(job, SignalDetail::placement);
  leave_out_best_place(whole);
  REQUIRE(whole.rail);
  CHECK_FALSE(whole.rail->within_tolerance);
  CHECK(whole.rail->loss_dB != 0);
  CHECK(screened.rail->loss_dB == 0);
  REQUIRE(screened.findings.size() == whole.findings.size());
  for (std::size_t i = 0; i < whole.findings.size(); ++i) {
    CHECK(same(screened.findings[i], whole.findings[i]));
  }
}

}  // namespace slantrule
