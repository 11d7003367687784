#include "slantrule/planning/signal.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "planning/test_jobs.hpp"

namespace slantrule {
namespace {

using test::Changes;
using test::check_rows;
using test::Planned;

const std::string acrylic_wedge_speed = "sensors.wedge.sound_speed=2730 m/s";

/// The base job on data for which coefficients are known: acrylic and steel as in Krautkraemer's
/// diagrams, nothing absorbing but the liquid.
Changes textbook() {
  return {acrylic_wedge_speed,
          "sensors.wedge.slope=0 m/s/K",
          "sensors.wedge.shear=1430 m/s",
          "sensors.wedge.density=1180 kg/m3",
          R"(sensors.wedge.absorption={"longitudinal":"0 dB/m","at":"1 MHz","power":1})",
          R"(pipe.material={"name":"steel","longitudinal":"5900 m/s","shear":"3230 m/s",)"
          R"("density":"7850 kg/m3","absorption":{"longitudinal":"0 dB/m","shear":"0 dB/m",)"
          R"("at":"1 MHz","power":1}})",
          "fluid.sound_speed=1482.3 m/s",
          "fluid.density=998.2 kg/m3"};
}

double part_dB(const SignalBudget& budget, BudgetItem item) {
  double sum_dB = 0;
  for (std::size_t i = 0; i < budget.part_count; ++i) {
    if (budget.parts[i].item == item) sum_dB += budget.parts[i].loss_dB;
  }
  return sum_dB;
}

}  // namespace

TEST_CASE("signal: the plan's budget is that of its own media", "[planning]") {
  const Planned job(textbook());
  REQUIRE(job.plan.signal);
  const SignalBudget& budget = job.plan.signal->budget;
  // Energy coefficients at 38 deg, slip: acrylic to steel shear 0.235, steel shear to water 0.157
  // at 46.75 deg (independent computation, derived): both ends together twice that in dB.
  CHECK(part_dB(budget, BudgetItem::wedge_interface) ==
        Approx(-20 * std::log10(0.235)).margin(0.05));
  CHECK(part_dB(budget, BudgetItem::liquid_interface) ==
        Approx(-20 * std::log10(0.157)).margin(0.1));
  // One bounce in steel, 0.7 to 1 dB: 10 log10(1 - 0.157) turned round in the water.
  CHECK(part_dB(budget, BudgetItem::bounces) == Approx(-10 * std::log10(1 - 0.157)).margin(0.1));
  double sum_dB = 0;
  for (std::size_t i = 0; i < budget.part_count; ++i) sum_dB += budget.parts[i].loss_dB;
  CHECK(budget.loss_dB == Approx(sum_dB).epsilon(1e-12));
  CHECK(part_dB(budget, BudgetItem::wedge_absorption) == 0);
}

TEST_CASE("signal: window and best place stand in mark spacings round the ray's", "[planning]") {
  const Planned job(textbook());
  const PlanSignal& signal = *job.plan.signal;
  const double planned_m = job.ray().mark_spacing_m;
  CHECK(signal.window_3_dB.from_m < planned_m);
  CHECK(signal.window_3_dB.to_m > planned_m);
  CHECK(signal.window_6_dB.from_m < signal.window_3_dB.from_m);
  CHECK(signal.window_6_dB.to_m > signal.window_3_dB.to_m);
  // Two setbacks of 14 mm.
  CHECK(signal.mark_offset_m == Approx(0.028).epsilon(1e-12));
  // Steel shifts the beam by -0.4 to -5 mm (independent angular-spectrum model, derived).
  CHECK(signal.best_mark_spacing_m - planned_m < -0.0004);
  CHECK(signal.best_mark_spacing_m - planned_m > -0.005);
  // The closed form takes the coefficients as constant over the beam; the longitudinal critical
  // angle, 27.6 deg in the wedge, cuts into this one (12 mm: 6 deg either way at half amplitude).
  CHECK(signal.window_3_dB.width_m() < 2 * signal.budget.half_window_3_dB_m);
  CHECK(signal.window_3_dB.width_m() > signal.budget.half_window_3_dB_m);
}

TEST_CASE("signal: what the job doesn't say is named", "[planning]") {
  check_rows({
      {"signal.unknown", {"sensors.element="}, "caution"},
      {"signal.unknown", {}, "-"},
      {"signal.unknown",
       {R"(pipe.material={"name":"steel","longitudinal":"5900 m/s","shear":"3230 m/s"})"},
       "caution"},
  });
  CHECK(Planned({"sensors.element="}).finding("signal.unknown")->subject ==
        "the element of the sensor pair");
  const Planned bare({"sensors.element="});
  CHECK_FALSE(bare.plan.signal);
  CHECK(bare.plan.path);
}

TEST_CASE("signal: stated losses count, and grow with their power of the frequency", "[planning]") {
  const auto wall_dB = [](const char* loss) {
    Changes changes = textbook();
    changes.push_back(std::string("pipe.material=") +
                      R"({"name":"steel","longitudinal":"5900 m/s","shear":"3230 m/s",)" +
                      R"("density":"7850 kg/m3","absorption":)" + loss + "}");
    const Planned job(changes);
    return part_dB(job.plan.signal->budget, BudgetItem::layer_absorption);
  };
  // Hand: 7.112 mm of wall at asin(3230 sin38/2730) = 46.75 deg, crossed twice: 20.76 mm.
  const double way_m =
      2 * 7.112e-3 / std::cos(std::asin(3230 * std::sin(38 * std::numbers::pi / 180) / 2730));
  CHECK(wall_dB(R"({"shear":"100 dB/m","at":"1 MHz","power":1})") ==
        Approx(100 * way_m).epsilon(1e-3));
  CHECK(wall_dB(R"({"shear":"100 dB/m","at":"2 MHz","power":1})") ==
        Approx(50 * way_m).epsilon(1e-3));
  CHECK(wall_dB(R"({"shear":"100 dB/m","at":"2 MHz","power":2})") ==
        Approx(25 * way_m).epsilon(1e-3));
}

TEST_CASE("signal: regimes are findings", "[planning]") {
  check_rows({
      // Delay 2 h cos/c = 3.0 us in 7.11 mm of steel at 1 MHz, the burst 4 us; one cycle is 1 us.
      {"signal.wall-echoes", {}, "note"},
      {"signal.wall-echoes", {"sensors.cycles=1"}, "-"},
      // PVC: inner face 8.6 dB, outer 6.5 dB (independent computation, derived).
      {"signal.outer-bounce",
       {"pipe.size=OD 110 x 5.3 mm", "pipe.material=PVC", "sensors.element=10 mm"},
       "caution"},
      {"signal.outer-bounce",
       {"pipe.size=OD 110 x 5.3 mm", "pipe.material=PVC", "path.traverses=1"},
       "-"},
      {"signal.outer-bounce", {}, "-"},
      // In cement both waves run.
      {"signal.liner-modes",
       {"pipe.size=OD 300 x 8 mm", R"(pipe.liner={"material":"cement mortar","thickness":"6 mm"})"},
       "caution"},
      {"signal.liner-modes", {}, "-"},
  });
}

TEST_CASE("signal: a weak path is told with what eats it", "[planning]") {
  // 400 dB/m over 2 x 154 mm / cos is more than 100 dB.
  const Planned job({R"(fluid.absorption={"longitudinal":"400 dB/m","at":"1 MHz","power":2})"});
  REQUIRE(job.severity("signal.weak") == "caution");
  CHECK(job.finding("signal.weak")->subject == "absorption in the liquid");
  CHECK(job.finding("signal.weak")->values[0].value > greatest_loss_dB);
  CHECK_FALSE(job.finding("signal.weak")->detail.empty());
  CHECK(Planned({}).severity("signal.weak") == "-");
}

TEST_CASE("signal: the whole model comes with the detail asked for, whatever the threads",
          "[planning]") {
  const ResolvedJob job = test::job_of({"pipe.size=OD 60.3 x 3.6 mm", "sensors.cycles=2",
                                        "flow.rate=8 m3/h", "flow.least=", "flow.most="});
  const auto with_threads = [&](int threads) {
    return plan(job, {.findings = false,
                      .sensitivity = false,
                      .signal = SignalDetail::response,
                      .response = {.threads = threads, .progress = {}}});
  };
  const Plan one = with_threads(1), three = with_threads(3);
  REQUIRE(one.signal->response);
  REQUIRE(one.signal->response->levels.size() == three.signal->response->levels.size());
  for (std::size_t i = 0; i < one.signal->response->levels.size(); ++i) {
    CHECK(one.signal->response->levels[i].level_dB == three.signal->response->levels[i].level_dB);
  }
  CHECK_FALSE(plan(job).signal->response);
}

}  // namespace slantrule
