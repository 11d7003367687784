// Every check on both sides of its limit. The base job is clean: each test changes what it is
// about.

#include "slantrule/planning/checks.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>
#include <string>

#include "planning/test_jobs.hpp"

using namespace slantrule;
using test::Changes;
using test::check_rows;
using test::Planned;

namespace {

constexpr double mm = 1e-3;
constexpr double deg = std::numbers::pi / 180;

std::string severity(const Changes& changes, std::string_view id) {
  const Planned planned(changes);
  CAPTURE(changes);
  return planned.severity(id);
}

/// A liquid that nobody knows anything of but its speed: mean velocity is path velocity.
const Changes brew{"fluid.name=brew", "fluid.sound_speed=1480 m/s"};

Changes with(Changes changes, std::initializer_list<std::string> more) {
  changes.insert(changes.end(), more.begin(), more.end());
  return changes;
}

/// Only the usual flow, as a velocity.
Changes only_velocity(const std::string& velocity) {
  return {"flow.rate=", "flow.least=", "flow.most=", "flow.velocity=" + velocity};
}

std::string number(double value, const char* unit) {
  return std::to_string(value) + unit;
}

std::string upstream(const std::string& distance, const std::string& fitting = "elbow-90") {
  return R"(location.upstream=[{"fitting":")" + fitting + R"(","distance":")" + distance + "\"}]";
}
std::string downstream(const std::string& distance, const std::string& fitting = "elbow-90") {
  return R"(location.downstream=[{"fitting":")" + fitting + R"(","distance":")" + distance + "\"}]";
}
std::string accept(const std::string& finding, const std::string& down_to = "") {
  return R"(accept=[{"finding":")" + finding +
         R"(","because":"comparison only","by":"site engineer")" +
         (down_to.empty() ? "" : R"(,"down_to":")" + down_to + "\"") + "}]";
}

}  // namespace

TEST_CASE("checks: the base job is clean", "[planning]") {
  const Planned clean({});
  CAPTURE(test::ids(clean.plan));
  // In a wall of 7 mm the echoes of a 1 MHz burst overlap, as in most pipes: a note.
  REQUIRE(clean.plan.findings.size() == 1);
  CHECK(clean.severity("signal.wall-echoes") == "note");
  CHECK(clean.plan.verdict == Verdict::go);
}

// ---------------------------------------------------------------- straight run

TEST_CASE("checks: straight run upstream", "[planning]") {
  // DESIGN section 8: 10 D at least, below 2 D stop.
  check_rows({
      {"run.upstream", {upstream("10.1 D")}, "-"},
      {"run.upstream", {upstream("10 D")}, "-"},
      {"run.upstream", {upstream("9.8 D")}, "caution"},
      {"run.upstream", {upstream("2 D")}, "caution"},
      {"run.upstream", {upstream("1.9 D")}, "stop"},
      {"run.upstream", {upstream("1.55 m")}, "-"},  // bore 154.08 mm
      {"run.upstream", {upstream("1.53 m")}, "caution"},
      {"run.upstream", {upstream("45 D", "tee")}, "caution"},
      {"run.upstream", {upstream("50 D", "tee")}, "-"},
      {"run.upstream.unknown", {"location.upstream="}, "caution"},
      {"run.upstream.unknown", {"location.upstream=[]"}, "caution"},
      {"run.upstream.unknown", {}, "-"},
  });
  const Planned near({upstream("9.8 D")});
  const Finding& finding = *near.finding("run.upstream");
  CHECK(finding.values[0].value == Approx(9.8));
  CHECK(finding.values[1].value == 10);
  CHECK(finding.subject == "90 degree elbow");
  // Behind one elbow the reading is low, at 9.8 D by 10.8 % exp(-8.8/4.15) = 1.3 %.
  CHECK(finding.values[2].kind == ValueKind::percent_low);
  CHECK(finding.values[2].value == Approx(1.30).margin(0.01));
  // The sign after others is not known.
  CHECK(Planned({upstream("20 D", "valve-part-open")}).finding("run.upstream")->values[2].kind ==
        ValueKind::percent_either);
}

TEST_CASE("checks: two elbows 4 D apart need 30 D", "[planning]") {
  const Planned pair({R"(location.upstream=[{"fitting":"elbow-90","distance":"20 D"},)"
                      R"({"fitting":"elbow-90","distance":"24 D"}])"});
  CHECK(pair.severity("run.upstream") == "caution");
  CHECK(pair.finding("run.upstream")->values[1].value == 30);
  CHECK(severity({R"(location.upstream=[{"fitting":"elbow-90","distance":"30 D"},)"
                  R"({"fitting":"elbow-90","distance":"34 D"}])"},
                 "run.upstream") == "-");
}

TEST_CASE("checks: straight run downstream", "[planning]") {
  check_rows({
      {"run.downstream", {downstream("5.1 D")}, "-"},
      {"run.downstream", {downstream("4.9 D")}, "caution"},
      {"run.downstream", {downstream("2.1 D")}, "caution"},
      {"run.downstream", {downstream("1.9 D")}, "stop"},
      {"run.downstream", {downstream("9 D", "control-valve")}, "caution"},
      {"run.downstream", {downstream("10 D", "control-valve")}, "-"},
      {"run.downstream.unknown", {"location.downstream="}, "caution"},
      // Reversing flow: this side counts as upstream too.
      {"run.downstream", {downstream("9.8 D"), "flow.direction=reversing"}, "caution"},
      {"run.downstream", {downstream("10.1 D"), "flow.direction=reversing"}, "-"},
  });
}

TEST_CASE("checks: welds and flanges", "[planning]") {
  // A sensor length from the feet: the body reaches 58 - 16 = 42 mm behind the exit point, and 58
  // more are wanted.
  const auto weld = [](const char* distance) {
    return Changes{std::string(R"(location.upstream=[{"fitting":"weld","distance":")") + distance +
                   R"("},{"fitting":"elbow-90","distance":"20 D"}])"};
  };
  check_rows({
      {"run.weld-or-flange", weld("101 mm"), "-"},
      {"run.weld-or-flange", weld("99 mm"), "caution"},
      {"run.weld-or-flange", weld("43 mm"), "caution"},
      {"run.weld-or-flange", weld("41 mm"), "stop"},
      {"run.upstream", weld("41 mm"), "-"},  // no flow disturbance
      {"run.weld-or-flange", {downstream("41 mm", "flange")}, "stop"},
      {"run.downstream.unknown", {downstream("41 mm", "flange")}, "caution"},
  });
}

// ---------------------------------------------------------------- mounting

TEST_CASE("checks: clock position", "[planning]") {
  // DESIGN section 8: to 30 degrees from the horizontal fine, to 45 caution, beyond stop; an hour
  // is 30 degrees. Both ends of the beam's diameter: sides do not matter.
  const struct {
    const char* clock;
    const char* severity;
  } rows[] = {{"3", "-"},           {"9", "-"},       {"2:30", "-"},       {"2", "-"},
              {"4", "-"},           {"8:00", "-"},    {"1:59", "caution"}, {"1:30", "caution"},
              {"10:30", "caution"}, {"1:29", "stop"}, {"1:20", "stop"},    {"12:30", "stop"},
              {"12", "stop"},       {"6", "stop"},    {"7", "stop"}};
  for (const auto& row : rows) {
    CAPTURE(row.clock);
    const std::string clock = std::string("location.clock=") + row.clock;
    CHECK(severity({clock}, "mount.clock") == row.severity);
    CHECK(severity({clock, "path.traverses=1"}, "mount.clock") == row.severity);
    // A vertical pipe has no crown.
    CHECK(severity({clock, "pipe.orientation=vertical up"}, "mount.clock") == "-");
  }
  check_rows({
      {"mount.clock.unknown", {"location.clock="}, "caution"},
      {"mount.clock.unknown", {"location.clock=", "pipe.orientation=sloped up"}, "caution"},
      {"mount.clock.unknown", {"location.clock=", "pipe.orientation=vertical up"}, "-"},
      {"mount.clock.landmark", {"location.clock=", "pipe.orientation=vertical up"}, "note"},
      {"mount.clock.landmark", {"pipe.orientation=vertical up"}, "-"},
      {"mount.orientation.unknown", {"pipe.orientation="}, "caution"},
      {"mount.clock", {"pipe.orientation=", "location.clock=12"}, "stop"},
      {"mount.down-flow", {"pipe.orientation=vertical down", "fluid.pressure="}, "caution"},
      {"mount.down-flow", {"pipe.orientation=vertical up"}, "-"},
      {"pipe.sloped", {"pipe.orientation=sloped down"}, "note"},
      {"pipe.sloped", {}, "-"},
  });
}

// ---------------------------------------------------------------- path

TEST_CASE("checks: no ray and no wave", "[planning]") {
  const Planned none({"path.wall_mode=longitudinal"});
  CHECK(none.severity("path.no-ray") == "stop");
  CHECK(none.finding("path.no-ray")->subject == "longitudinal wave in the wall");
  CHECK(none.finding("path.no-ray")->values[1].value == 5910);
  CHECK(severity({}, "path.no-ray") == "-");
  // Trace speed 2430/sin 38 = 3947 m/s: 3940 runs in a liner, 3955 does not.
  const auto liner = [](const char* speed) {
    return Changes{std::string(R"(pipe.liner={"material":{"name":"l","longitudinal":")") + speed +
                   R"("},"thickness":"4 mm"})"};
  };
  CHECK(severity(liner("3940 m/s"), "path.no-ray") == "-");
  CHECK(severity(liner("3955 m/s"), "path.no-ray") == "stop");
  CHECK(Planned(liner("3955 m/s")).finding("path.no-ray")->subject ==
        "longitudinal wave in the liner");
  // The liquid itself.
  const Planned fast(with(brew, {"fluid.sound_speed=3955 m/s"}));
  CHECK(fast.finding("path.no-ray")->subject == "liquid");
}

TEST_CASE("checks: no wave names the layer that lacks it", "[planning]") {
  const std::string epoxy = R"({"material":{"name":"skin","longitudinal":"2600 m/s"},)"
                            R"("thickness":"0.4 mm"})";
  const auto subject = [](const Changes& changes) {
    const Planned planned(changes);
    const Finding* finding = planned.finding("path.no-wave");
    REQUIRE(finding);
    CHECK(finding->severity == Severity::stop);
    CHECK_FALSE(planned.plan.path);
    return finding->subject;
  };
  CHECK(subject({"pipe.coating=" + epoxy, "path.coating_mode=shear"}) == "skin");
  CHECK(subject({"pipe.liner=" + epoxy, "path.liner_mode=shear"}) == "skin");
  const std::string plastic = R"(pipe.material={"name":"own","longitudinal":"2300 m/s"})";
  CHECK(subject({plastic, "path.wall_mode=shear"}) == "own");
  // With a liner behind it, or a coating before it, it is still the wall.
  CHECK(subject({plastic, "path.wall_mode=shear", "pipe.liner=" + epoxy}) == "own");
  CHECK(subject({plastic, "path.wall_mode=shear", "pipe.coating=" + epoxy}) == "own");
  CHECK(severity({}, "path.no-wave") == "-");
}

TEST_CASE("checks: critical angles and both modes", "[planning]") {
  // First critical angle of this wedge on carbon steel: asin(2430/5910) = 24.28 degrees; second
  // asin(2430/3220) = 49.00. Solids notes section 5: within about 2 degrees.
  const double first_deg = std::asin(2430.0 / 5910) / deg;
  const double second_deg = std::asin(2430.0 / 3220) / deg;
  const auto at = [](double angle_deg) {
    return Changes{"sensors.wedge.angle=" + number(angle_deg, " deg")};
  };
  check_rows({
      {"path.near-critical", at(first_deg - 2.01), "-"},
      {"path.near-critical", at(first_deg - 1.99), "caution"},
      {"path.near-critical", at(first_deg + 1.99), "caution"},
      {"path.near-critical", at(first_deg + 2.01), "-"},
      {"path.near-critical", at(second_deg - 2.01), "-"},
      {"path.near-critical", at(second_deg - 1.99), "caution"},
      {"path.near-critical", at(second_deg + 1.99), "caution"},
      {"path.both-modes", at(first_deg - 0.01), "caution"},
      {"path.both-modes", at(first_deg + 0.01), "-"},
      {"path.both-modes", {}, "-"},
      // Plastic shear waves, slower than water, are no second arrival.
      {"path.both-modes", {"pipe.material=PVC", "pipe.size=OD 160 x 7.7 mm"}, "-"},
  });
}

TEST_CASE("checks: room for the bodies", "[planning]") {
  const double half_mm = Planned({}).ray().exit_spacing_m / 2 / mm;
  const std::string just = number(half_mm - 0.01, " mm"), over = number(half_mm + 0.01, " mm");
  const std::string length = "sensors.length=200 mm";
  check_rows({
      {"path.overlap", {"sensors.nose=" + just, length}, "-"},
      {"path.overlap", {"sensors.nose=" + over, length}, "stop"},
      // No matter on opposite sides.
      {"path.overlap", {"sensors.nose=" + over, length, "path.traverses=1"}, "-"},
      {"path.overlap", {"sensors.least_face_gap=" + number(2 * half_mm - 32 - 0.01, " mm")}, "-"},
      {"path.overlap",
       {"sensors.least_face_gap=" + number(2 * half_mm - 32 + 0.01, " mm")},
       "stop"},
      {"path.overlap.unknown", {"sensors.nose="}, "caution"},
      {"path.overlap.unknown", {"sensors.nose=", "path.traverses=1"}, "-"},
      {"path.one-side", {"location.access=one side", "path.traverses=1"}, "stop"},
      {"path.one-side", {"location.access=one side"}, "-"},
      {"path.one-side", {"path.traverses=1"}, "-"},
      {"path.marks-cross", {"sensors.setback=" + number(-half_mm - 0.01, " mm")}, "caution"},
      {"path.marks-cross", {"sensors.setback=" + number(-half_mm + 0.01, " mm")}, "-"},
      {"path.geometry-only", {"path.traverses=", "sensors.element="}, "note"},
      {"path.geometry-only", {"path.traverses="}, "-"},
      {"path.chosen", {"path.traverses="}, "note"},
      {"path.chosen", {}, "-"},
      {"path.no-even-count",
       {"path.traverses=", "pipe.size=21.3 x 2.77 mm", "sensors.nose=50 mm", "flow.rate=1 m3/h",
        "flow.least=", "flow.most="},
       "caution"},
      {"path.no-even-count", {"path.traverses=1"}, "-"},
  });
  // Rail: exit spacing and 2 x (58 - 16) mm.
  const double overall_mm = 2 * half_mm + 84;
  const auto rail = [](double length_mm) {
    return Changes{R"(kit={"rail_length":")" + number(length_mm, " mm") + R"("})"};
  };
  check_rows({{"path.rail", rail(overall_mm + 0.01), "-"},
              {"path.rail", rail(overall_mm - 0.01), "stop"},
              {"path.rail", with(rail(overall_mm - 0.01), {"path.traverses=1"}), "-"}});
}

TEST_CASE("checks: thin wall", "[planning]") {
  // Solids notes section 5: steel shear at 1 MHz has a wavelength of 3.2 mm (3220 m/s: 3.22).
  check_rows({{"pipe.thin-wall", {"pipe.size=OD 100 x 3.23 mm"}, "-"},
              {"pipe.thin-wall", {"pipe.size=OD 100 x 3.21 mm"}, "caution"},
              {"pipe.thin-wall", {"pipe.size=OD 100 x 3.21 mm", "sensors.frequency=2 MHz"}, "-"}});
}

TEST_CASE("checks: beam drift and half a period", "[planning]") {
  // Drift N D (v/c)/cos^3, against a quarter of the 12 mm element; v_half = 1/(4 f p t_f). Angle in
  // the liquid from Snell's law: sin = 1480 sin(38)/2430.
  const double p = std::sin(38 * deg) / 2430;
  const double cosine = std::cos(std::asin(1480 * p));
  const double way_m = 2 * 0.15408;
  const double drift_m_s = 3 * mm / way_m * 1480 * std::pow(cosine, 3);
  const double half_m_s = 1480 * cosine / (4 * 1e6 * p * way_m);
  const auto flow = [](double velocity) {
    return with(brew, {"flow.rate=", "flow.least=", "flow.velocity=1 m/s",
                       "flow.most=" + number(velocity, " m/s")});
  };
  check_rows({{"path.beam-drift", flow(0.999 * drift_m_s), "-"},
              {"path.beam-drift", flow(1.001 * drift_m_s), "caution"},
              {"flow.half-cycle", flow(0.999 * half_m_s), "-"},
              {"flow.half-cycle", flow(1.001 * half_m_s), "caution"}});
}

// ---------------------------------------------------------------- sensors

TEST_CASE("checks: sensors", "[planning]") {
  const auto wall = [](const char* temperature) {
    return Changes{std::string("pipe.wall_temperature=") + temperature};
  };
  check_rows({
      {"sensors.invented", {"sensors=demo-1mhz"}, "caution"},
      {"sensors.invented", {"sensors.invented=true"}, "caution"},
      {"sensors.invented", {}, "-"},
      // Rated -20 to 110 degC, compared with the wall's surface.
      {"sensors.temperature", wall("110 degC"), "-"},
      {"sensors.temperature", wall("110.1 degC"), "stop"},
      {"sensors.temperature", wall("-20 degC"), "-"},
      {"sensors.temperature", wall("-20.1 degC"), "stop"},
      {"sensors.temperature.unknown", {"sensors.temperature="}, "caution"},
      {"sensors.temperature.unknown", {}, "-"},
      {"sensors.wedge-slope.unknown", {"sensors.wedge.slope="}, "caution"},
      {"sensors.wedge-slope.unknown", {"sensors.wedge.slope=0 m/s/K"}, "-"},
      {"sensors.pipe-range", {R"(sensors.pipe_range=["50 mm","168.3 mm"])"}, "-"},
      {"sensors.pipe-range", {R"(sensors.pipe_range=["50 mm","168.2 mm"])"}, "caution"},
      {"sensors.pipe-range", {R"(sensors.pipe_range=["168.4 mm","600 mm"])"}, "caution"},
  });
}

TEST_CASE("checks: an unknown wedge slope is priced", "[planning]") {
  // At 50 degC about -2 m/s/K would make the wedge 60 m/s slower: the spacing by the same formulas.
  const auto spacing_m = [](double wedge_m_s) {
    const double p = std::sin(38 * deg) / wedge_m_s;
    return 2 * 0.15408 * std::tan(std::asin(p * 1480)) +
           2 * 7.11 * mm * std::tan(std::asin(p * 3220));
  };
  const Planned planned(
      {"sensors.wedge.slope=", "location.wedge_temperature=50 degC", "fluid.sound_speed=1480 m/s"});
  const Finding& finding = *planned.finding("sensors.wedge-slope.unknown");
  CHECK(finding.values[0].value == Approx(30));
  CHECK(finding.values[1].value == Approx(spacing_m(2370) - spacing_m(2430)).epsilon(1e-9));
}

// ---------------------------------------------------------------- liquid

TEST_CASE("checks: boiling", "[planning]") {
  // Water at 105 degC boils at 1.209 bar (steam tables, from memory); 1.2 times that is 1.45 bar.
  const auto hot = [](const char* pressure) {
    return Changes{"fluid.temperature=105 degC", std::string("fluid.pressure=") + pressure};
  };
  check_rows({
      {"fluid.flashing", hot("1.2 bar absolute"), "stop"},
      {"fluid.flashing", hot("1.22 bar absolute"), "caution"},
      {"fluid.flashing", hot("1.44 bar absolute"), "caution"},
      {"fluid.flashing", hot("1.46 bar absolute"), "-"},
      {"fluid.flashing", hot("0.2 bar gauge"), "caution"},
      {"fluid.flashing", hot(""), "-"},
      {"fluid.flashing.unknown", hot(""), "caution"},
      {"fluid.flashing.unknown", hot("5 bar absolute"), "-"},
      // Vapour pressure times 1.2 against half an atmosphere, 0.51 bar: 0.39 bar at 75 degC, 0.47
      // at 80 (steam tables, from memory).
      {"fluid.flashing.unknown", {"fluid.pressure=", "fluid.temperature=75 degC"}, "-"},
      {"fluid.flashing.unknown", {"fluid.pressure=", "fluid.temperature=80 degC"}, "caution"},
      {"fluid.boiling.unknown", brew, "caution"},
      {"fluid.boiling.unknown", {}, "-"},
  });
  CHECK(Planned(hot("1.2 bar absolute")).finding("fluid.flashing")->values[1].value ==
        Approx(1.2 * 1.209e5).epsilon(1e-3));
}

TEST_CASE("checks: freezing and the model's range", "[planning]") {
  check_rows({
      {"fluid.freezing", {"fluid.temperature=0.5 degC"}, "-"},
      {"fluid.freezing", {"fluid.temperature=-0.5 degC"}, "stop"},
      {"fluid.freezing", {"fluid.temperature=-60 degC"}, "stop"},
      {"fluid.freezing.unknown", brew, "caution"},
      {"fluid.freezing.unknown", {}, "-"},
      {"fluid.range", {"fluid.temperature=0.5 degC"}, "-"},
      {"fluid.range", {"fluid.temperature=-0.5 degC"}, "caution"},
      // Water is answered from 253.15 to 623.15 K; beyond that there is nothing to extrapolate.
      {"fluid.range", {"fluid.temperature=-60 degC"}, "stop"},
      {"fluid.range", {"fluid.temperature=360 degC", "fluid.pressure=250 bar absolute"}, "stop"},
      {"fluid.range", {"fluid.pressure=99 MPa absolute"}, "-"},
      {"fluid.range", {"fluid.pressure=101 MPa absolute"}, "caution"},
  });
}

TEST_CASE("checks: liquid", "[planning]") {
  check_rows({
      // u = limit/sqrt 3 against 2 %.
      {"fluid.sound-speed", {"fluid.sound_speed=1480 m/s +- 3.4 %"}, "-"},
      {"fluid.sound-speed", {"fluid.sound_speed=1480 m/s +- 3.5 %"}, "caution"},
      // Metrology notes section 4: above 1 % by volume refuse, below caution.
      {"fluid.gas", {"fluid.gas=0 %"}, "-"},
      {"fluid.gas", {"fluid.gas=0.01 %"}, "caution"},
      {"fluid.gas", {"fluid.gas=1 %"}, "caution"},
      {"fluid.gas", {"fluid.gas=1.01 %"}, "stop"},
  });
}

// ---------------------------------------------------------------- flow

TEST_CASE("checks: velocity", "[planning]") {
  // DESIGN section 8: outside 0.1 to 10 m/s priced, above 15 m/s refused.
  check_rows({
      {"flow.velocity.low", only_velocity("0.1 m/s"), "-"},
      {"flow.velocity.low", only_velocity("0.099 m/s"), "caution"},
      {"flow.velocity.high", only_velocity("10 m/s"), "-"},
      {"flow.velocity.high", only_velocity("10.1 m/s"), "caution"},
      {"flow.velocity.high", only_velocity("15 m/s"), "caution"},
      {"flow.velocity.slip", only_velocity("15 m/s"), "-"},
      {"flow.velocity.slip", only_velocity("15.1 m/s"), "stop"},
      {"flow.velocity.high", only_velocity("15.1 m/s"), "-"},
      // By the least and the greatest flow too; no flow at all is not slow.
      {"flow.velocity.low", {"flow.least=0.05 m/s"}, "caution"},
      {"flow.velocity.low", {"flow.least=0 m3/h"}, "-"},
      {"flow.velocity.slip", {"flow.most=16 m/s"}, "stop"},
      {"flow.unknown", {"flow.rate=", "flow.least=", "flow.most="}, "caution"},
      {"flow.unknown", {"flow.rate="}, "-"},
      {"flow.density.unknown", with(brew, {"flow.rate=20 kg/s"}), "caution"},
      {"flow.density.unknown", {"flow.rate=20 kg/s"}, "-"},
      {"flow.density.unknown", brew, "-"},
  });
  // The price of 1 ns at zero: 1/(2 p t_f) along the path, of 0.05 m/s.
  const Planned slow(
      with(brew, {"flow.rate=", "flow.least=", "flow.most=", "flow.velocity=0.05 m/s"}));
  const double p = std::sin(38 * deg) / 2430;
  const double fluid_time_s = 2 * 0.15408 / (1480 * std::cos(std::asin(1480 * p)));
  CHECK(slow.finding("flow.velocity.low")->values[2].value ==
        Approx(100 * 1e-9 / (2 * p * fluid_time_s) / 0.05).epsilon(1e-9));
  // 400 m3/h written as litres per second: 21 m/s.
  CHECK(Planned({"flow.most=400 L/s"}).severity("flow.velocity.slip") == "stop");
}

TEST_CASE("checks: Reynolds number", "[planning]") {
  // 1 m/s in 154.08 mm, density 1000: viscosity in mPa s = 154080/Re.
  const auto at = [](double reynolds) {
    return with(only_velocity("1 m/s"), {"fluid.density=1000 kg/m3",
                                         "fluid.viscosity=" + number(154080 / reynolds, " mPa s")});
  };
  check_rows({
      {"flow.reynolds.laminar", at(1990), "caution"},
      {"flow.reynolds.laminar", at(2010), "-"},
      {"flow.reynolds.transition", at(1990), "-"},
      {"flow.reynolds.transition", at(2010), "caution"},
      {"flow.reynolds.transition", at(3990), "caution"},
      {"flow.reynolds.transition", at(4010), "-"},
      {"flow.reynolds.low", at(4010), "caution"},
      {"flow.reynolds.low", at(9990), "caution"},
      {"flow.reynolds.low", at(10010), "-"},
      {"flow.reynolds.unknown", brew, "caution"},
      {"flow.reynolds.unknown", {}, "-"},
  });
  // Laminar flow needs 0.06 Re D of pipe.
  CHECK(Planned(at(1000)).finding("flow.reynolds.laminar")->values[2].value ==
        Approx(60).epsilon(1e-5));
  // The least flow alone may fall into a worse regime, and is named.
  Changes slow = at(20000);
  slow.push_back("flow.least=0.15 m/s");
  const Planned least(slow);
  CHECK(least.finding("flow.reynolds.transition")->subject == "least");
}

TEST_CASE("checks: least flow against the zero", "[planning]") {
  // Metrology notes 1.6: 20 times the velocity of the zero stability, 0.2 ns here.
  const double p = std::sin(38 * deg) / 2430;
  const double fluid_time_s = 2 * 0.15408 / (1480 * std::cos(std::asin(1480 * p)));
  const double needed_m_s = 20 * 0.2e-9 / (2 * p * fluid_time_s);
  const auto least = [](double velocity) {
    return with(brew, {"flow.least=" + number(velocity, " m/s")});
  };
  check_rows({
      {"flow.least", least(1.001 * needed_m_s), "-"},
      {"flow.least", least(0.999 * needed_m_s), "caution"},
      {"flow.least.unknown", {"flow.least="}, "note"},
      {"flow.least.unknown", {}, "-"},
      {"flow.zero.unknown", {"sensors.zero_stability="}, "note"},
      {"flow.zero.unknown", {}, "-"},
  });
}

// ---------------------------------------------------------------- pipe

TEST_CASE("checks: measurement against designation", "[planning]") {
  // Wall 7.11 mm: mill tolerance 12.5 %. Diameter 168.3 mm: 1 %.
  check_rows({
      {"pipe.wall-conflict", {"pipe.wall=6.23 mm"}, "-"},
      {"pipe.wall-conflict", {"pipe.wall=6.21 mm"}, "caution"},
      {"pipe.wall-conflict", {"pipe.wall=7.99 mm"}, "-"},
      {"pipe.wall-conflict", {"pipe.wall=8.01 mm"}, "caution"},
      {"pipe.wall-conflict", {}, "-"},
      {"pipe.diameter-conflict", {"pipe.outside_diameter=169.9 mm"}, "-"},
      {"pipe.diameter-conflict", {"pipe.outside_diameter=170.1 mm"}, "caution"},
      {"pipe.diameter-conflict", {"pipe.outside_diameter=166.5 mm"}, "caution"},
      {"pipe.diameter-conflict", {"pipe.girth=528.7 mm"}, "-"},
  });
  // Priced by area: entered bore over the designation's, squared; by the bore alone where the
  // transmitter computes the time in the liquid. Bore with 6.00 mm 156.3, with 7.11 mm 154.08.
  const double ratio = 156.3 / 154.08;
  CHECK(Planned({"pipe.wall=6 mm"}).finding("pipe.wall-conflict")->values[2].value ==
        Approx(100 * (ratio * ratio - 1)).epsilon(1e-9));
  CHECK(Planned({"pipe.wall=6 mm", "meter.fluid_time=computed"})
            .finding("pipe.wall-conflict")
            ->values[2]
            .value == Approx(100 * (ratio - 1)).epsilon(1e-9));
}

TEST_CASE("checks: lining", "[planning]") {
  check_rows({
      {"pipe.liner.unknown", {"pipe.liner="}, "caution"},
      {"pipe.liner.unknown", {}, "-"},
      {"pipe.liner.unknown", {R"(pipe.liner={"material":"epoxy","thickness":"1 mm"})"}, "-"},
      {"pipe.liner.unknown",
       {"pipe.liner=", "pipe.material=ductile iron", "pipe.size=168.3 x 7.11 mm"},
       "caution"},
  });
  // 1/4 in of mortar left out (AWWA C205, 4 to 10 in, from memory; 6.4 mm): area ratio.
  const double ratio = 154.08 / (154.08 - 2 * 6.4);
  CHECK(Planned({"pipe.liner="}).finding("pipe.liner.unknown")->values[2].value ==
        Approx(100 * (ratio * ratio - 1)).epsilon(1e-9));
}

TEST_CASE("checks: a diameter over a coating", "[planning]") {
  const std::string paint = R"(pipe.coating={"material":"paint","thickness":"0.3 mm"})";
  const std::string diameter = "pipe.outside_diameter=168.3 mm";
  check_rows({
      {"pipe.over-coating.unknown", {paint, diameter}, "caution"},
      {"pipe.over-coating.unknown", {paint, diameter, "pipe.over_coating=false"}, "-"},
      {"pipe.over-coating.unknown", {paint, diameter, "pipe.over_coating=true"}, "-"},
      {"pipe.over-coating.unknown", {paint}, "-"},  // the size designation is the bare pipe's
      {"pipe.over-coating.unknown", {diameter}, "-"},
  });
  // Bare wall taken: 0.6 mm of bore, and by area (154.08/153.48) squared of flow.
  const Planned taken({paint, diameter});
  const Finding& finding = *taken.finding("pipe.over-coating.unknown");
  CHECK(finding.values[2].value == Approx(0.6 * mm).epsilon(1e-9));
  const double ratio = 154.08 / 153.48;
  CHECK(finding.values[3].value == Approx(100 * (ratio * ratio - 1)).epsilon(1e-9));
}

TEST_CASE("checks: material, deposit, ranges and places", "[planning]") {
  check_rows({
      // Solids table: gray iron 350 of 4550 m/s is 7.7 %, carbon steel 30 of 5910 is 0.5 %.
      {"pipe.material-speed",
       {"pipe.material=cast iron gray", "pipe.size=168.3 x 7.11 mm"},
       "caution"},
      {"pipe.material-speed", {}, "-"},
      {"pipe.deposit", {"pipe.deposit=1 mm"}, "caution"},
      {"pipe.deposit", {}, "-"},
      {"job.places", {R"(places=[{"name":"north rack"}])"}, "note"},
      {"job.places", {}, "-"},
      {"pipe.range-candidate", {}, "-"},
      {"job.not-evaluated", {}, "-"},
      {"job.not-evaluated", {"location.surface=clean"}, "-"},
      {"job.not-evaluated", {R"(purpose={"difference":"5 %"})"}, "caution"},
  });
  const Resolution range = test::resolution_of({R"(pipe.wall={"between":["7 mm","7.2 mm"]})"});
  REQUIRE(range.variants.size() == 2);
  const Plan end = plan(range.variants[0].job);
  bool found = false;
  for (const Finding& one : end.findings) {
    if (check_info(one.check).id != "pipe.range-candidate") continue;
    found = true;
    CHECK(one.severity == Severity::caution);
    CHECK(one.subject == "pipe.wall");
  }
  CHECK(found);
}

// ---------------------------------------------------------------- acceptance

TEST_CASE("checks: a stop that may be lived with becomes a caution", "[planning]") {
  REQUIRE(Planned({upstream("1.5 D")}).plan.verdict == Verdict::stop);
  const Planned accepted({upstream("1.5 D"), accept("run.upstream")});
  const Finding& finding = *accepted.finding("run.upstream");
  CHECK(finding.severity == Severity::caution);
  CHECK(finding.accepted);
  CHECK(finding.accepted_because == "comparison only");
  CHECK(finding.accepted_by == "site engineer");
  CHECK(accepted.plan.verdict == Verdict::caution);
}

TEST_CASE("checks: an acceptance lapses below its limit", "[planning]") {
  const Planned holds({upstream("1.5 D"), accept("run.upstream", "1.5 D")});
  CHECK(holds.severity("run.upstream") == "caution");
  CHECK(holds.severity("job.accept.lapsed") == "-");
  const Planned lapsed({upstream("1.4 D"), accept("run.upstream", "1.5 D")});
  CHECK(lapsed.severity("run.upstream") == "stop");
  CHECK_FALSE(lapsed.finding("run.upstream")->accepted);
  CHECK(lapsed.severity("job.accept.lapsed") == "caution");
  CHECK(lapsed.finding("job.accept.lapsed")->values[1].value == 1.5);
  CHECK(lapsed.plan.verdict == Verdict::stop);
}

TEST_CASE("checks: nothing to accept, and what cannot be accepted", "[planning]") {
  // Nothing found, or no stop: a note, whether the finding is acceptable or not.
  const Planned nothing({accept("run.upstream")});
  CHECK(nothing.severity("job.accept.nothing") == "note");
  CHECK(nothing.plan.verdict == Verdict::go);
  const Planned no_stop({upstream("5 D"), accept("run.upstream")});
  CHECK(no_stop.severity("run.upstream") == "caution");
  CHECK_FALSE(no_stop.finding("run.upstream")->accepted);
  CHECK(no_stop.severity("job.accept.nothing") == "note");
  const Planned absent({accept("path.overlap")});
  CHECK(absent.severity("job.accept.nothing") == "note");
  CHECK(absent.plan.verdict == Verdict::go);
  // Physics stays a stop.
  const Planned refused({"sensors.nose=80 mm", "sensors.length=90 mm", accept("path.overlap")});
  CHECK(refused.severity("path.overlap") == "stop");
  CHECK_FALSE(refused.finding("path.overlap")->accepted);
  CHECK(refused.severity("job.accept.refused") == "caution");
  CHECK(refused.severity("job.accept.nothing") == "-");
  // One acceptance accepts its own finding, no other.
  const Planned two({upstream("1.5 D"), "location.clock=12", accept("run.upstream")});
  CHECK(two.severity("run.upstream") == "caution");
  CHECK(two.severity("mount.clock") == "stop");
  CHECK(two.plan.verdict == Verdict::stop);
}

// ---------------------------------------------------------------- verdict

TEST_CASE("checks: the verdict is the gravest finding, notes aside", "[planning]") {
  const auto of = [](std::initializer_list<Severity> severities) {
    std::vector<Finding> findings;
    for (Severity one : severities) {
      Finding finding;
      finding.severity = one;
      findings.push_back(finding);
    }
    return verdict_of(findings);
  };
  CHECK(of({}) == Verdict::go);
  CHECK(of({Severity::note, Severity::note}) == Verdict::go);
  CHECK(of({Severity::note, Severity::caution}) == Verdict::caution);
  CHECK(of({Severity::caution, Severity::note, Severity::stop}) == Verdict::stop);
}

TEST_CASE("checks: findings come gravest first and keep to their table", "[planning]") {
  // A job with much wrong.
  const Planned bad({upstream("1 D"), "location.clock=1:45", "sensors=demo-1mhz",
                     "fluid.pressure=", "fluid.temperature=105 degC", "pipe.liner=",
                     "path.traverses=", "location.downstream=", "flow.least=0.05 m/s"});
  CHECK(bad.plan.findings.size() >= 7);
  for (std::size_t i = 1; i < bad.plan.findings.size(); ++i) {
    CHECK(bad.plan.findings[i - 1].severity >= bad.plan.findings[i].severity);
  }
  for (const Finding& one : bad.plan.findings) {
    const CheckInfo& info = check_info(one.check);
    CAPTURE(info.id);
    CHECK(one.severity <= info.worst);
    // What the table calls measured and required is there, and a number; so is all that the text
    // names.
    const std::string text = std::string(info.message) + std::string(info.mend);
    for (std::size_t i = 0; i < one.values.size(); ++i) {
      if (text.find('{' + std::to_string(i) + '}') == text.npos) continue;
      CHECK(one.values[i].kind != ValueKind::none);
      CHECK(std::isfinite(one.values[i].value));
    }
    if (text.find("{s}") != text.npos) CHECK_FALSE(one.subject.empty());
  }
}
