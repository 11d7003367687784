// The numeric kernel: the same path as acoustics, one flow, and what a transmitter reads when its
// entries are wrong.
//
// "Metrology notes" are the project's reference notes; their numbers for example A were worked out
// there from the measurement equation, with the sensitivities differentiated by hand.

#include "slantrule/planning/kernel.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>
#include <stdexcept>

using namespace slantrule;

namespace {

constexpr double deg = std::numbers::pi / 180;

/// Metrology notes 1.4, example A: steel 114.3 x 6.02 mm, shear 3230 m/s, water 1482.3 m/s, wedge
/// 2730 m/s at 38 degrees with the element 10 mm above the face.
KernelInputs example_a() {
  KernelInputs a;
  a.add_layer({6.02e-3, 3230});
  a.bore_m = 102.26e-3;
  a.area_m2 = std::numbers::pi / 4 * 102.26e-3 * 102.26e-3;
  a.wedge_sound_speed_m_s = 2730;
  a.wedge_angle_rad = 38 * deg;
  a.wedge_path_m = 10e-3 / std::cos(38 * deg);
  a.liquid_sound_speed_m_s = 1482.3;
  a.traverses = 2;
  return a;
}

void scale_bore(KernelInputs& k, double by) {
  k.bore_m *= by;
  k.area_m2 *= by * by;
}

/// Outside diameter and wall entered too great by these.
KernelInputs entered(double diameter_m, double wall_m) {
  KernelInputs a = example_a();
  a.layers[0].thickness_m += wall_m;
  scale_bore(a, (a.bore_m + diameter_m - 2 * wall_m) / a.bore_m);
  return a;
}

double flow_percent(const KernelInputs& wrong, FluidTime method = FluidTime::measured) {
  return 100 * (read_out(example_a(), wrong, method).flow_ratio - 1);
}

}  // namespace

TEST_CASE("kernel: the path of acoustics", "[planning]") {
  KernelInputs in = example_a();
  in.add_layer({4e-3, 2500});
  in.setback_m = 14e-3;
  in.delay_s = 1e-6;
  const std::array layers{Layer{6.02e-3, 3230}, Layer{4e-3, 2500}};
  const auto kernel = std::get<RayPath>(trace_ray(in));
  const auto direct =
      std::get<RayPath>(trace_ray(PathInputs{.wedge_sound_speed_m_s = 2730,
                                             .wedge_angle_rad = 38 * deg,
                                             .wedge_path_m = 10e-3 / std::cos(38 * deg),
                                             .layers = layers,
                                             .bore_m = 102.26e-3,
                                             .liquid_sound_speed_m_s = 1482.3,
                                             .traverses = 2,
                                             .setback_m = 14e-3,
                                             .delay_s = 1e-6}));
  CHECK(kernel.layer_count == 2);
  CHECK(kernel.mark_spacing_m == direct.mark_spacing_m);
  CHECK(kernel.zero_flow_time_s == direct.zero_flow_time_s);
  CHECK(kernel.fluid_time_s == direct.fluid_time_s);
  CHECK(liquid_path(in, kernel.ray_parameter_s_m).bore_m == 102.26e-3);
}

/// The flow, with what it does to a path of this ray parameter.
FlowPoint on_path(const KernelInputs& in, double velocity_m_s, double ray_parameter_s_m) {
  FlowPoint point = flow_point(in, velocity_m_s);
  point.time_difference_s = flow_time_difference_s(liquid_path(in, ray_parameter_s_m), point);
  return point;
}

TEST_CASE("kernel: one flow", "[planning]") {
  KernelInputs a = example_a();
  const double p = std::get<RayPath>(trace_ray(a)).ray_parameter_s_m;

  SECTION("without a viscosity the mean velocity is taken along the path") {
    const FlowPoint point = on_path(a, 1, p);
    CHECK_FALSE(point.reynolds);
    CHECK_FALSE(point.profile_factor);
    CHECK(point.path_velocity_m_s == 1);
    CHECK(*point.time_difference_s * 1e9 == Approx(66.0299).margin(0.5e-4));
    // By hand: 1 m/s through a circle of 102.26 mm.
    CHECK(point.volume_flow_m3_s == Approx(3.14159265 / 4 * 0.10226 * 0.10226).epsilon(1e-8));
  }
  SECTION("laminar: the parabola, 4/3 along a diameter") {
    a.kinematic_viscosity_m2_s = 0.1 * a.bore_m / 1000;
    const FlowPoint point = on_path(a, 0.1, p);
    CHECK(*point.reynolds == Approx(1000).epsilon(1e-12));
    CHECK(point.regime == FlowRegime::laminar);
    CHECK(point.path_velocity_m_s == Approx(0.1 * 4 / 3).epsilon(1e-12));
    CHECK(*point.time_difference_s * 1e9 == Approx(66.0299 * 0.1 * 4 / 3).epsilon(1e-6));
  }
  SECTION("smooth and turbulent at Re 1e5: 0.944041, metrology check list") {
    a.kinematic_viscosity_m2_s = 1 * a.bore_m / 1e5;
    const FlowPoint point = on_path(a, 1, p);
    CHECK(point.regime == FlowRegime::turbulent);
    CHECK(point.profile_factor->value == Approx(0.944041).margin(1e-6));
    CHECK(point.path_velocity_m_s == Approx(1 / 0.944041).epsilon(2e-6));
  }
  SECTION("rough at Re 1e6, e/D 0.01: 0.920717, metrology check list") {
    a.kinematic_viscosity_m2_s = 1 * a.bore_m / 1e6;
    a.roughness_m = 0.01 * a.bore_m;
    CHECK(on_path(a, 1, p).profile_factor->value == Approx(0.920717).margin(1e-6));
  }
  SECTION("roughness beyond a tenth of the bore counts as a tenth, whatever the rounding") {
    a.kinematic_viscosity_m2_s = 1e-6;
    for (int i = 0; i < 1000; ++i) {
      a.bore_m = 0.01 + 0.0013 * i;
      a.roughness_m = 0.1 * a.bore_m;
      CHECK_NOTHROW(on_path(a, 1, p));
    }
    const double tenth = on_path(a, 1, p).profile_factor->value;
    a.roughness_m = 0.4 * a.bore_m;
    CHECK(on_path(a, 1, p).profile_factor->value == Approx(tenth).epsilon(1e-12));
  }
  SECTION("at rest") {
    a.kinematic_viscosity_m2_s = 1e-6;
    const FlowPoint point = on_path(a, 0, p);
    CHECK_FALSE(point.reynolds);
    CHECK(*point.time_difference_s == 0);
  }
  SECTION("without a ray there is no time difference, and all else") {
    a.kinematic_viscosity_m2_s = 1e-6;
    const FlowPoint point = flow_point(a, 1);
    CHECK_FALSE(point.time_difference_s);
    CHECK(point.reynolds);
  }
  SECTION("a flow that outruns the wave's tilt has no time difference either") {
    CHECK_FALSE(on_path(a, 2960, p).time_difference_s);  // limit 4434.26 - 1482.3
    CHECK(on_path(a, 2940, p).time_difference_s);
  }
}

TEST_CASE("read-out: right entries", "[planning]") {
  for (FluidTime method : {FluidTime::measured, FluidTime::computed}) {
    const ReadOut shown = read_out(example_a(), example_a(), method);
    CHECK(shown.sound_speed_m_s == Approx(1482.3).epsilon(1e-12));
    CHECK(shown.flow_ratio == Approx(1).epsilon(1e-12));
  }
}

TEST_CASE("read-out: one wrong entry, metrology notes 6.2", "[planning]") {
  // Indicated speed of sound (tolerances of the check list, half the last digit) and flow in
  // per cent as printed there.
  KernelInputs bore = example_a();
  scale_bore(bore, 1.01);
  CHECK(read_out(example_a(), bore, FluidTime::measured).sound_speed_m_s ==
        Approx(1499.3).margin(0.05));
  CHECK(flow_percent(bore) == Approx(2.0).margin(0.05));

  const KernelInputs wall = entered(0, 0.5e-3);
  CHECK(read_out(example_a(), wall, FluidTime::measured).sound_speed_m_s ==
        Approx(1470.937).margin(0.0005));
  CHECK(flow_percent(wall) == Approx(-1.65).margin(0.02));  // printed from the slope

  const ReadOut far = read_out(example_a(), example_a(), FluidTime::measured, 1e-3);
  CHECK(far.sound_speed_m_s == Approx(1479.693).margin(0.0005));
  CHECK(100 * (far.flow_ratio - 1) == Approx(-0.154).margin(0.0005));
  // Method C does not look at the time: no effect of the spacing.
  CHECK(read_out(example_a(), example_a(), FluidTime::computed, 1e-3).flow_ratio ==
        Approx(1).epsilon(1e-12));
}

TEST_CASE("read-out: sensitivities, metrology notes 7.2", "[planning]") {
  // Slopes, so small steps: 10 nm of length, 1e-6 of a ratio.
  constexpr double step_m = 1e-8, small = 1e-6;
  const auto M = FluidTime::measured;
  const auto C = FluidTime::computed;
  CHECK(1e5 * flow_percent(entered(step_m, 0), M) == Approx(1.9558).margin(0.5e-4));
  CHECK(1e5 * flow_percent(entered(0, step_m), M) == Approx(-3.2943).margin(0.5e-4));

  KernelInputs bore = example_a();
  scale_bore(bore, 1 + small);
  CHECK(flow_percent(bore, M) / 100 / small == Approx(2).margin(1e-5));
  CHECK(flow_percent(bore, C) / 100 / small == Approx(1).margin(1e-5));

  KernelInputs liquid = example_a();
  liquid.liquid_sound_speed_m_s *= 1 + small;
  CHECK(std::fabs(flow_percent(liquid, M)) < 1e-10);  // drops out of method M
  CHECK(flow_percent(liquid, C) / 100 / small == Approx(0.874196).margin(1e-5));

  KernelInputs wedge = example_a();
  wedge.wedge_sound_speed_m_s *= 1 + small;
  CHECK(flow_percent(wedge, C) / 100 / small == Approx(1.125804).margin(1e-5));

  // OD and wall by method C: 1/D and -2/D per metre.
  CHECK(flow_percent(entered(step_m, 0), C) == Approx(100 * step_m / 102.26e-3).epsilon(1e-4));
  CHECK(flow_percent(entered(0, step_m), C) == Approx(-200 * step_m / 102.26e-3).epsilon(1e-4));

  // Dead time: 0.15 us is 0.102 % (budget 7.3), 0.683 % per us.
  KernelInputs dead = example_a();
  dead.delay_s = 0.15e-6;
  CHECK(flow_percent(dead, M) == Approx(0.102).margin(0.0006));
  CHECK(std::fabs(flow_percent(dead, C)) < 1e-10);
}

TEST_CASE("read-out: an error carries the same sign in both numbers", "[planning]") {
  // Metrology notes 6.3: bore too large reads speed and flow high; wall too thick reads both low.
  const ReadOut large = read_out(example_a(), entered(1e-3, 0), FluidTime::measured);
  CHECK(large.sound_speed_m_s > 1482.3);
  CHECK(large.flow_ratio > 1);
  const ReadOut thick = read_out(example_a(), entered(0, 1e-3), FluidTime::measured);
  CHECK(thick.sound_speed_m_s < 1482.3);
  CHECK(thick.flow_ratio < 1);
  // There and back: to enter A for B undoes entering B for A.
  const double there = read_out(example_a(), entered(1e-3, 0), FluidTime::computed).flow_ratio;
  const double back = read_out(entered(1e-3, 0), example_a(), FluidTime::computed).flow_ratio;
  CHECK(there * back == Approx(1).epsilon(1e-12));
}

TEST_CASE("read-out: what cannot be read", "[planning]") {
  KernelInputs none = example_a();
  none.layers[0].sound_speed_m_s = 5900;  // no ray
  CHECK_THROWS_AS(read_out(none, example_a(), FluidTime::measured), std::invalid_argument);
  CHECK_THROWS_AS(read_out(example_a(), none, FluidTime::measured), std::invalid_argument);
  // More dead time entered than the whole flight takes.
  KernelInputs dead = example_a();
  dead.delay_s = 1e-3;
  const ReadOut shown = read_out(example_a(), dead, FluidTime::measured);
  CHECK(std::isnan(shown.sound_speed_m_s));
  CHECK(std::isnan(shown.flow_ratio));
}
