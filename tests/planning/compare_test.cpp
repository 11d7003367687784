#include "slantrule/planning/compare.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "planning/test_jobs.hpp"

namespace slantrule {
namespace {

using test::Changes;
using test::Planned;

Comparison comparison_of(const Changes& changes) {
  return compare(test::job_of(changes));
}

const ComparedOption& best(const Comparison& all) {
  return *all.front();
}

/// The option with this count in the shear wave at the first place.
const ComparedOption& option(const Comparison& all, int traverses) {
  const auto found = std::ranges::find_if(all, [&](const auto& one) {
    return one->plan.traverses == traverses && one->plan.wall_mode == WaveMode::shear;
  });
  REQUIRE(found != all.end());
  return **found;
}

const std::string kit_of(const std::string& inside) {
  return "kit={" + inside + "}";
}

}  // namespace

TEST_CASE("compare: counts as practice has them", "[planning]") {
  // Metrology practice (common practice, no source): 2 traverses from 25 to 400 mm, 4 in small
  // bores, 1 in large lined pipes.
  CHECK(best(comparison_of({})).plan.traverses == 2);
  const Comparison small =
      comparison_of({"pipe.size=OD 28 x 1.2 mm", "pipe.material=copper", "sensors.frequency=2 MHz",
                     "sensors.element=6 mm", "sensors.nose=9 mm", "sensors.length=34 mm",
                     "sensors.setback=8 mm", "flow.rate=1.5 m3/h", "flow.least=", "flow.most="});
  CHECK(best(small).plan.traverses >= 4);
  CHECK(best(small).plan.same_side());
  const Comparison lined =
      comparison_of({"pipe.size=OD 1220 x 12.7 mm",
                     R"(pipe.liner={"material":"cement mortar","thickness":"12 mm"})",
                     "sensors.frequency=0.5 MHz", "sensors.element=24 mm", "flow.rate=4000 m3/h",
                     "flow.least=", "flow.most="});
  CHECK(best(lined).plan.traverses == 1);
  // In cement shear on both sides beats longitudinal by 5 dB and more (independent wave model).
  CHECK(best(lined).job.path.liner_mode == WaveMode::shear);
}

TEST_CASE("compare: no single decibel decides", "[planning]") {
  CHECK(signal_cost_percent(comfortable_loss_dB + 1e-6) ==
        Approx(signal_cost_percent(comfortable_loss_dB)).epsilon(1e-6));
  CHECK(signal_cost_percent(greatest_loss_dB + 1e-6) ==
        Approx(signal_cost_percent(greatest_loss_dB)).epsilon(1e-6));
  // The weaker the signal, the fewer the traverses; more of them never come back.
  int before = most_traverses;
  for (int loss_dB_m = 0; loss_dB_m <= 2000; loss_dB_m += 250) {
    const int count =
        best(comparison_of({"sensors.wedge.absorption={\"longitudinal\":\"" +
                            std::to_string(loss_dB_m) + R"( dB/m","at":"1 MHz","power":1})"}))
            .plan.traverses;
    CAPTURE(loss_dB_m);
    CHECK(count <= before);
    before = count;
  }
  CHECK(before == 1);
}

TEST_CASE("compare: every count and wave is there once, with a reason, the possible ones first",
          "[planning]") {
  const Comparison all = comparison_of({});
  CHECK(all.size() == 13);  // 12 in shear; the longitudinal wave has no ray at all
  bool impossible = false;
  for (const auto& one : all) {
    if (impossible) CHECK_FALSE(one->feasible);
    impossible = !one->feasible;
    CHECK((one->reason == Reason::best) == (one == all.front()));
  }
  CHECK(all.back()->plan.merit.obstacle == Obstacle::no_ray);
  // What the job states is no limit here.
  CHECK(comparison_of({"path.traverses=3"}).size() == 13);
}

TEST_CASE("compare: what stands in the way", "[planning]") {
  const Changes small{"pipe.size=21.3 x 2.77 mm", "flow.rate=1 m3/h", "flow.least=", "flow.most="};
  const auto with = [&](const std::string& change) {
    Changes changes = small;
    changes.push_back(change);
    return comparison_of(changes);
  };
  CHECK(option(comparison_of(small), 2).plan.merit.obstacle == Obstacle::overlap);
  CHECK(option(with("location.access=one side"), 3).plan.merit.obstacle == Obstacle::one_side);
  CHECK(best(with("location.access=one side")).plan.same_side());
  CHECK(option(comparison_of({"location.clear_length=260 mm"}), 4).plan.merit.obstacle ==
        Obstacle::clear_length);
  CHECK(
      option(comparison_of({R"(sensors.pipe_range=["200 mm","600 mm"])"}), 2).plan.merit.obstacle ==
      Obstacle::pipe_range);
  const Comparison hot = comparison_of({R"(sensors.temperature=["-20 degC","15 degC"])"});
  CHECK(option(hot, 2).plan.merit.obstacle == Obstacle::temperature);
  CHECK_FALSE(best(hot).feasible);
  // A stop of the place is an obstacle too.
  const Comparison top = comparison_of({"location.clock=12"});
  CHECK_FALSE(best(top).feasible);
  CHECK(best(top).reason == Reason::stop);
}

TEST_CASE("compare: the rails of the kit decide what can be held", "[planning]") {
  // NPS 6: 2 traverses 168 mm, 4 traverses 288 mm, 6 traverses 408 mm between the marks.
  const std::string rail =
      R"("rails":[{"name":"r","least":"60 mm","greatest":"200 mm","sides":"same","step":"5 mm"}])";
  const Comparison all = comparison_of({kit_of(rail)});
  CHECK(option(all, 2).feasible);
  CHECK(option(all, 4).plan.merit.obstacle == Obstacle::rail);
  CHECK(option(all, 3).feasible);  // opposite sides go without
  const Planned two({kit_of(rail)});
  REQUIRE(two.plan.rail);
  CHECK(two.plan.rail->name == "r");
  CHECK(std::fabs(std::remainder(two.plan.rail->set_m, 5e-3)) < 1e-9);
  CHECK(two.plan.rail->set_m - two.plan.rail->remainder_m ==
        Approx(two.ray().mark_spacing_m).epsilon(1e-12));
  // A wide beam comes p dS later: -p dS/t_f of the flow (derived).
  CHECK(two.plan.rail->flow_percent == Approx(-100 * two.ray().ray_parameter_s_m *
                                              two.plan.rail->remainder_m / two.ray().fluid_time_s)
                                           .epsilon(0.01));
}

TEST_CASE("compare: the kit's other pieces", "[planning]") {
  test::check_rows({
      {"kit.sensors", {kit_of(R"("sensors":["demo-2mhz"])")}, "caution"},
      {"kit.sensors", {}, "-"},
      // Girth of NPS 6: 168.3 pi = 529 mm.
      {"kit.strap", {kit_of(R"("straps":[{"name":"s","greatest_girth":"528 mm"}])")}, "caution"},
      {"kit.strap", {kit_of(R"("straps":[{"name":"s","greatest_girth":"530 mm"}])")}, "-"},
      {"kit.couplant",
       {kit_of(R"("couplants":["gel-water"])"), "fluid.temperature=90 degC"},
       "caution"},
      {"kit.couplant",
       {kit_of(R"("couplants":["gel-water","paste-high-temperature"])"),
        "fluid.temperature=90 degC"},
       "-"},
      {"kit.gauge", {kit_of(R"("gauges":["girth tape"])")}, "note"},
      {"kit.gauge", {kit_of(R"("gauges":["girth tape","wall gauge"])")}, "-"},
      {"kit.rail", {kit_of(R"("rails":[{"name":"r","greatest":"100 mm"}])")}, "caution"},
      {"kit.rail", {kit_of(R"("rails":[{"name":"r","greatest":"200 mm"}])")}, "-"},
  });
}

TEST_CASE("compare: places are ranked by their straight run", "[planning]") {
  const std::string places =
      R"(places=[{"name":"good","upstream":[{"fitting":"elbow-90","distance":"30 D"}],)"
      R"("downstream":[{"fitting":"elbow-90","distance":"10 D"}],"clock":"3","ambient":"20 degC"},)"
      R"({"name":"top","upstream":[{"fitting":"elbow-90","distance":"30 D"}],)"
      R"("downstream":[{"fitting":"elbow-90","distance":"10 D"}],"clock":"12"}])";
  const Comparison all =
      comparison_of({R"(location.upstream=[{"fitting":"elbow-90","distance":"4 D"}])", places});
  CHECK(best(all).place == "good");
  const auto other = std::ranges::find_if(
      all, [](const auto& one) { return one->place == "location" && one->plan.traverses == 2; });
  REQUIRE(other != all.end());
  CHECK((*other)->reason == Reason::straight_run);
  const auto top = std::ranges::find_if(all, [](const auto& one) { return one->place == "top"; });
  CHECK_FALSE((*top)->feasible);
}

TEST_CASE("compare: without a pair in the job, the best of the kit is planned with", "[planning]") {
  ResolvedJob job =
      test::job_of({"sensors=", kit_of(R"("sensors":["demo-500khz","demo-1mhz","demo-2mhz"])")});
  REQUIRE(job.sensors_open);
  const std::string first = compare(job).front()->job.sensors.key;
  settle_sensors(job);
  CHECK_FALSE(job.sensors_open);
  CHECK(job.sensors.key.starts_with("demo-"));
  CHECK(first.starts_with("demo-"));
  CHECK(job.assumptions.back().key == "sensors");
}

}  // namespace slantrule
