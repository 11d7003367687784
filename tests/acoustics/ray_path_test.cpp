// Straight rays against published refraction examples, worked geometry and identities.
//
// "metrology notes" are the project's reference notes: geometry worked out there from Snell's law
// and confirmed there by a numerical least-time search, not a published table. A tolerance is half
// the last printed digit, or the source's own where it says so.

#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>
#include <string>
#include <vector>

#include "slantrule/acoustics/ray_path.hpp"

using namespace slantrule;

namespace {

constexpr double deg = std::numbers::pi / 180;
constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();
constexpr double infinity = std::numeric_limits<double>::infinity();

/// One layer under a wedge and a liquid slow enough that it never turns the ray back.
std::variant<RayPath, NoRay> through(double wedge_m_s, double wedge_deg, double layer_m_s) {
  const std::array layers{Layer{0.006, layer_m_s}};
  return trace_ray({.wedge_sound_speed_m_s = wedge_m_s,
                    .wedge_angle_rad = wedge_deg * deg,
                    .layers = layers,
                    .bore_m = 0.1,
                    .liquid_sound_speed_m_s = 500,
                    .traverses = 1});
}

double refracted_deg(double wedge_m_s, double wedge_deg, double layer_m_s) {
  return std::get<RayPath>(through(wedge_m_s, wedge_deg, layer_m_s)).layer_legs[0].angle_rad / deg;
}

/// The wedge angle that gives a wanted angle in the layer, by halving on what trace_ray says.
double wedge_deg_for(double wedge_m_s, double layer_deg, double layer_m_s) {
  double low = 1e-6, high = 90 - 1e-6;
  for (int i = 0; i < 60; ++i) {
    const double middle = (low + high) / 2;
    const auto ray = through(wedge_m_s, middle, layer_m_s);
    const bool beyond = std::holds_alternative<NoRay>(ray) ||
                        std::get<RayPath>(ray).layer_legs[0].angle_rad > layer_deg * deg;
    (beyond ? high : low) = middle;
  }
  return (low + high) / 2;
}

/// The pair, wall and water of example A in the metrology notes, 1.4: wedge 2730 m/s at 38 degrees,
/// element 10 mm above the face, steel 102.26 mm bore, 6.02 mm wall.
struct Example {
  std::vector<Layer> layers{{6.02e-3, 3230}};
  double bore_m = 102.26e-3;
  int traverses = 2;
  double height_m = 10e-3;

  PathInputs inputs() const {
    return {.wedge_sound_speed_m_s = 2730,
            .wedge_angle_rad = 38 * deg,
            .wedge_path_m = height_m / std::cos(38 * deg),
            .layers = layers,
            .bore_m = bore_m,
            .liquid_sound_speed_m_s = 1482.3,
            .traverses = traverses};
  }
  RayPath ray() const { return std::get<RayPath>(trace_ray(inputs())); }
  LiquidPath liquid() const { return {ray().ray_parameter_s_m, 1482.3, bore_m, traverses}; }
};

}  // namespace

TEST_CASE("refraction: published examples", "[acoustics]") {
  struct Row {
    const char* source;
    double wedge_m_s, wedge_deg, layer_m_s, layer_deg, tolerance_deg;
  };
  const Row row = GENERATE(values<Row>({
      {"NDT training sheet, perspex to steel", 2740, 29, 3240, 35.0, 0.05},
      {"same sheet; printed 80 is rounded up", 2740, 56, 3240, 80, 1.5},
      {"NDT course slides on Snell's law", 2730, 20, 5960, 48.3, 0.05},
      {"NDT course slides on Snell's law", 2730, 15, 5960, 34.4, 0.05},
      {"NDT course slides on Snell's law", 2700, 37.9, 3250, 47.7, 0.05},
      {"NDT course slides; they round the sine to 0.38 first", 2700, 10, 5920, 22.3, 0.1},
      {"ASNT Level III study guide correction sheet 2013: 0.964 sin 30", 1000, 30, 964, 28.8, 0.05},
      {"ASNT Level III notes, Q4-12, from water", 1483, 20.8, 3250, 51, 0.15},
      {"ASNT Level III notes, Q4-12, from water", 1483, 16.9, 3250, 39.6, 0.05},
      {"Level II practice question; exact 31.5", 1480, 14, 3200, 31, 0.6},
  }));
  CAPTURE(row.source, row.wedge_m_s, row.wedge_deg, row.layer_m_s);
  CHECK(refracted_deg(row.wedge_m_s, row.wedge_deg, row.layer_m_s) ==
        Approx(row.layer_deg).margin(row.tolerance_deg));
}

TEST_CASE("refraction: wedge angle for a wanted angle in the wall", "[acoustics]") {
  // ASNT Level III: 45 degrees of shear in steel from a plastic (in/us) and from water.
  CHECK(wedge_deg_for(0.105e6, 45, 0.125e6) == Approx(36.4).margin(0.05));
  CHECK(wedge_deg_for(1483, 45, 3250) == Approx(18.8).margin(0.05));
  // Beam angle after a change of 1 % in the shear speed, Krautkramer 4th ed., ch. 32: 1.5 degrees
  // at 70 (to first order tan(70) 0.01 rad is 1.57, exactly it is 1.64).
  const double wedge_deg = wedge_deg_for(2730, 70, 3230);
  CHECK(refracted_deg(2730, wedge_deg, 3230 * 1.01) - 70 == Approx(1.5).margin(0.15));
}

TEST_CASE("refraction: military NDI manual table of wedge angles", "[acoustics]") {
  // T.O. 33B-1-1 / TM 1-1500-335-23, Table 5-3: wedge angle for a shear angle, five metals. The
  // manual prints no velocities; those here were found from it, one a column, and reproduce all its
  // angles within 0.08 degrees (the tolerance).
  struct Row {
    double shear_deg;
    std::array<double, 5> wedge_deg;  // steel, stainless 302, 410, aluminium 1100-0, nickel alloy
  };
  constexpr std::array<double, 5> shear_m_s{3230, 3120, 2990, 3100, 3020};
  const Row row = GENERATE(values<Row>({
      {62, {46.9, 49.1, 52.0, 49.5, 51.3}},
      {63, {47.4, 49.7, 52.7, 50.1, 52.0}},
      {64, {48.0, 50.3, 53.4, 50.7, 52.7}},
      {65, {48.5, 50.9, 54.0, 51.3, 53.3}},
      {66, {49.0, 51.4, 54.7, 51.9, 53.9}},
      {67, {49.5, 52.0, 55.3, 52.5, 54.4}},
      {68, {50.0, 52.5, 55.9, 53.0, 55.1}},
      {69, {50.5, 53.0, 56.5, 53.5, 55.6}},
      {73, {52.2, 54.9, 58.6, 55.5, 57.7}},
      {74, {52.6, 55.3, 59.1, 55.9, 58.2}},
      {75, {53.0, 55.8, 59.6, 56.3, 58.6}},
      {76, {53.3, 56.1, 60.0, 56.7, 59.1}},
      {77, {53.7, 56.5, 60.5, 57.1, 59.5}},
  }));
  for (std::size_t i = 0; i < shear_m_s.size(); ++i) {
    CAPTURE(row.shear_deg, shear_m_s[i]);
    CHECK(wedge_deg_for(2670, row.shear_deg, shear_m_s[i]) ==
          Approx(row.wedge_deg[i]).margin(0.08));
  }
}

TEST_CASE("critical wedge angles", "[acoustics]") {
  // NDT training sheet, perspex to steel: the printed sines.
  CHECK(std::sin(critical_wedge_angle_rad(2740, 5960)) == Approx(0.459731543).margin(5e-10));
  CHECK(std::sin(critical_wedge_angle_rad(2740, 3240)) == Approx(0.845679012).margin(5e-10));

  struct Row {
    const char* what;
    double wedge_m_s, layer_m_s, angle_deg, tolerance_deg;
  };
  const Row row = GENERATE(values<Row>({
      {"NDT training sheet, arcsine of the printed sine", 2740, 5960, 27.37, 0.005},
      {"NDT training sheet, arcsine of the printed sine", 2740, 3240, 57.745, 0.001},
      // Wave notes: asin(c1/c2) by another program, to ten decimals.
      {"acrylic, steel longitudinal", 2730, 5900, 27.5622380744, 1e-9},
      {"acrylic, steel shear", 2730, 3230, 57.6935033189, 1e-9},
      {"acrylic, copper longitudinal", 2730, 4700, 35.5104242219, 1e-9},
      {"acrylic, stainless longitudinal", 2730, 5740, 28.3990586119, 1e-9},
      {"acrylic, stainless shear", 2730, 3090, 62.0668985224, 1e-9},
      {"PEEK, steel longitudinal", 2550, 5900, 25.6074742759, 1e-9},
      {"PEEK, steel shear", 2550, 3230, 52.1363536383, 1e-9},
      {"water, steel longitudinal", 1482.3, 5900, 14.5507405994, 1e-9},
      {"water, steel shear", 1482.3, 3230, 27.3172074132, 1e-9},
      {"water, cement mortar shear", 1482.3, 2200, 42.3589177978, 1e-9},
  }));
  CAPTURE(row.what);
  const double critical_rad = critical_wedge_angle_rad(row.wedge_m_s, row.layer_m_s);
  CHECK(critical_rad / deg == Approx(row.angle_deg).margin(row.tolerance_deg));

  // The wave runs on one side of the angle and not on the other.
  const double critical_deg = critical_rad / deg;
  CHECK(std::holds_alternative<RayPath>(
      through(row.wedge_m_s, critical_deg * (1 - 1e-9), row.layer_m_s)));
  CHECK(std::holds_alternative<NoRay>(
      through(row.wedge_m_s, critical_deg * (1 + 1e-9), row.layer_m_s)));
}

TEST_CASE("critical wedge angle: a fast wedge has none", "[acoustics]") {
  CHECK(std::isnan(critical_wedge_angle_rad(2700, 2340)));
  CHECK(std::isnan(critical_wedge_angle_rad(2700, 2700)));
  CHECK_THROWS_AS(critical_wedge_angle_rad(0, 2340), std::invalid_argument);
  CHECK_THROWS_AS(critical_wedge_angle_rad(2700, not_a_number), std::invalid_argument);
}

TEST_CASE("worked examples A to F", "[acoustics]") {
  // Metrology notes 1.4; water 1482.3 m/s, wedge 2730 m/s at 38 degrees, 10 mm high, no delay.
  struct Row {
    const char* what;
    std::vector<Layer> layers;
    double bore_mm;
    int traverses;
    double wall_deg, spacing_mm, fluid_us, wall_us, total_us, difference_ns, worth_mm_s;
  };
  const std::vector<Row> rows{
      {"A steel",
       {{6.02e-3, 3230}},
       102.26,
       2,
       46.7541,
       85.3416,
       146.3966,
       5.4406,
       161.1341,
       66.0299,
       15.14},
      {"B as A, one traverse",
       {{6.02e-3, 3230}},
       102.26,
       1,
       46.7541,
       49.0712,
       73.1983,
       5.4406,
       87.9358,
       33.0149,
       30.29},
      {"C steel, small bore",
       {{3.38e-3, 3230}},
       26.64,
       4,
       46.7541,
       44.9827,
       76.2763,
       3.0547,
       88.6278,
       34.4032,
       29.07},
      {"D steel, large bore",
       {{9.53e-3, 3230}},
       590.6,
       1,
       46.7541,
       229.7432,
       422.7549,
       8.6128,
       440.6646,
       190.6769,
       5.24},
      {"E PVC",
       {{6.0e-3, 2395}},
       102.2,
       2,
       32.6914,
       80.1996,
       146.3107,
       5.9535,
       161.5611,
       65.9911,
       15.15},
      {"F lined iron",
       {{9.5e-3, 3000}, {4.8e-3, 2500}},
       304.8,
       1,
       42.5747,
       132.1181,
       218.1776,
       8.6004,
       240.7243,
       98.4055,
       10.16},
  };
  for (const Row& row : rows) {
    CAPTURE(row.what);
    const Example example{row.layers, row.bore_mm * 1e-3, row.traverses};
    const RayPath ray = example.ray();
    // Half the last printed digit; the times in us and lengths in mm have four decimals.
    constexpr double half = 0.5001e-4;
    CHECK(ray.trace_speed_m_s == Approx(4434.26).margin(0.005));
    CHECK(ray.ray_parameter_s_m * ray.trace_speed_m_s == Approx(1).epsilon(1e-15));
    CHECK(ray.liquid_leg.angle_rad / deg == Approx(19.5290).margin(half));
    CHECK(ray.layer_legs[0].angle_rad / deg == Approx(row.wall_deg).margin(half));
    CHECK(ray.exit_spacing_m * 1e3 == Approx(row.spacing_mm).margin(half));
    CHECK(ray.fluid_time_s * 1e6 == Approx(row.fluid_us).margin(half));
    CHECK(2 * ray.layer_legs[0].time_s * 1e6 == Approx(row.wall_us).margin(half));
    CHECK(ray.zero_flow_time_s * 1e6 == Approx(row.total_us).margin(half));
    CHECK(time_difference_s(example.liquid(), 1) * 1e9 == Approx(row.difference_ns).margin(half));
    CHECK(velocity_of_time_error_m_s(example.liquid(), 1e-9) * 1e3 ==
          Approx(row.worth_mm_s).margin(0.005));
    if (ray.layer_count == 2) {
      CHECK(2 * ray.layer_legs[1].time_s * 1e6 == Approx(4.6494).margin(half));
    }
  }
}

TEST_CASE("limits that follow from a path", "[acoustics]") {
  const LiquidPath a = Example{}.liquid();
  const LiquidPath d = Example{{{9.53e-3, 3230}}, 590.6e-3, 1}.liquid();
  // Metrology notes 1.6, with the digits of its check list.
  CHECK(velocity_of_time_error_m_s(a, 1e-9) == Approx(15.1447e-3).margin(0.5e-7));
  CHECK(velocity_of_time_error_m_s(a, 0.2e-9) == Approx(3.0e-3).margin(0.5e-4));
  CHECK(20 * velocity_of_time_error_m_s(a, 0.2e-9) == Approx(61e-3).margin(0.5e-3));
  // 5.3: drift at 10 m/s.
  CHECK(beam_drift_m(a, 10) == Approx(1.6481e-3).margin(0.5e-7));
  // 5.4: half a period.
  CHECK(half_cycle_velocity_m_s(a, 1e6) == Approx(7.5723).margin(0.5e-4));
  CHECK(half_cycle_velocity_m_s(a, 2e6) == Approx(3.8).margin(0.05));
  CHECK(half_cycle_velocity_m_s(d, 0.5e6) == Approx(5.2445).margin(0.5e-4));
  // What half_cycle means: there the time difference is half a period.
  CHECK(time_difference_first_order_s(a, half_cycle_velocity_m_s(a, 1e6)) ==
        Approx(0.5e-6).epsilon(1e-14));
}

TEST_CASE("wetted path as a limit", "[acoustics]") {
  // GATE Instrumentation Engineering 2014: bore 0.5 m, path at 45 degrees, 1500 m/s, clock steps of
  // 0.2 us: smallest step of velocity 0.45 m/s (published key).
  const LiquidPath exam{std::sin(45 * deg) / 1500, 1500, 0.5, 1};
  CHECK(velocity_of_time_error_m_s(exam, 0.2e-6) == Approx(0.45).margin(0.001));
  // Two times, 100.1 and 100.0 us, over 0.15 m bore at 45 degrees: exactly, v = L/(2 sin) dt/(t t')
  // = 1.498501 m/s and c = L/2 (t + t')/(t t') = 2120.261 m/s (metrology notes, check list).
  const LiquidPath two{std::sin(45 * deg) / 2120.261, 2120.261, 0.15, 1};
  CHECK(time_difference_first_order_s(two, 1.498501) == Approx(0.1e-6).epsilon(2e-6));
}

TEST_CASE("time difference: first order and exact", "[acoustics]") {
  const LiquidPath a = Example{}.liquid();
  // Metrology notes 1.2: 660.299 ns from the formulas at 10 m/s.
  CHECK(time_difference_s(a, 10) * 1e9 == Approx(660.299).margin(0.5e-3));
  CHECK(time_difference_first_order_s(a, 10) * 1e9 == Approx(660.299).margin(0.5e-3));
  // Their relative difference is (v/c)^2 tan^4(angle) / 2 to leading order. At 30 m/s that is 3e-6,
  // of which the next order, (v/c)^2 times a few, changes 0.2 %.
  const double tangent = std::tan(19.5290 * deg);
  for (double v : {10.0, 30.0}) {
    const double relative = time_difference_s(a, v) / time_difference_first_order_s(a, v) - 1;
    const double expected = std::pow(v / 1482.3, 2) * std::pow(tangent, 4) / 2;
    CHECK(relative == Approx(expected).epsilon(5e-3));
  }
  // Near grazing, where the exact form matters, it is the larger one.
  const LiquidPath grazing{0.95 / 1482.3, 1482.3, 0.1, 1};
  CHECK(time_difference_s(grazing, 10) > 1.001 * time_difference_first_order_s(grazing, 10));
  // No digits are lost at small velocities: exactly linear there.
  CHECK(time_difference_s(a, 1e-9) == Approx(1e-9 * time_difference_s(a, 1)).epsilon(1e-6));
}

TEST_CASE("time difference: reversed and standing flow", "[acoustics]") {
  const LiquidPath a = Example{}.liquid();
  for (double v : {1e-6, 0.3, 10.0}) {
    CHECK(time_difference_s(a, -v) == -time_difference_s(a, v));
    CHECK(time_difference_first_order_s(a, -v) == -time_difference_first_order_s(a, v));
    CHECK(beam_drift_m(a, -v) == -beam_drift_m(a, v));
  }
  CHECK(time_difference_s(a, 0) == 0);
  CHECK(time_difference_s(a, 1) > 0);  // A is upstream: against the flow takes longer
}

TEST_CASE("sound speed from the time in the liquid", "[acoustics]") {
  const RayPath ray = Example{}.ray();
  const double p = ray.ray_parameter_s_m;
  CHECK(sound_speed_from_fluid_time_m_s(ray.fluid_time_s, 102.26e-3, 2, p) ==
        Approx(1482.3).epsilon(1e-13));
  // Metrology notes 6.2: bore entered 1 % large reads 1499.3 m/s; the slope is 1/(1 - tan^2).
  CHECK(sound_speed_from_fluid_time_m_s(ray.fluid_time_s, 1.01 * 102.26e-3, 2, p) ==
        Approx(1499.3).margin(0.05));
  const double up = sound_speed_from_fluid_time_m_s(ray.fluid_time_s, 102.26e-3 * (1 + 1e-5), 2, p);
  const double down =
      sound_speed_from_fluid_time_m_s(ray.fluid_time_s, 102.26e-3 * (1 - 1e-5), 2, p);
  CHECK(std::log(up / down) / 2e-5 == Approx(1.143908).margin(1e-6));
  // A short time fits no speed: c cos(angle) is at most 1/(2 p).
  const double shortest_s = 2 * 102.26e-3 * 2 * p;
  CHECK(std::isnan(sound_speed_from_fluid_time_m_s(shortest_s * (1 - 1e-9), 102.26e-3, 2, p)));
  CHECK(sound_speed_from_fluid_time_m_s(shortest_s * (1 + 1e-9), 102.26e-3, 2, p) * p ==
        Approx(std::sqrt(0.5)).epsilon(1e-4));
  CHECK_THROWS_AS(sound_speed_from_fluid_time_m_s(0, 0.1, 2, p), std::invalid_argument);
  CHECK_THROWS_AS(sound_speed_from_fluid_time_m_s(1e-4, not_a_number, 2, p), std::invalid_argument);
  CHECK_THROWS_AS(sound_speed_from_fluid_time_m_s(1e-4, 0.1, 0, p), std::invalid_argument);
  CHECK_THROWS_AS(sound_speed_from_fluid_time_m_s(1e-4, 0.1, 2, -p), std::invalid_argument);
}

TEST_CASE("no ray names the layer that turns the wave back", "[acoustics]") {
  Example example;
  SECTION("wall: longitudinal in steel") {
    example.layers = {{0.3e-3, 2400}, {6.02e-3, 5900}, {4e-3, 3400}};
    const auto no_ray = std::get<NoRay>(trace_ray(example.inputs()));
    CHECK(no_ray.layer == 1);
    CHECK(no_ray.sound_speed_m_s == 5900);
    CHECK(no_ray.trace_speed_m_s == Approx(4434.26).margin(0.005));
  }
  SECTION("the outermost of two") {
    example.layers = {{6.02e-3, 5900}, {4e-3, 5000}};
    CHECK(std::get<NoRay>(trace_ray(example.inputs())).layer == 0);
  }
  SECTION("liquid: index one past the layers") {
    PathInputs in = example.inputs();
    in.liquid_sound_speed_m_s = 4500;
    const auto no_ray = std::get<NoRay>(trace_ray(in));
    CHECK(no_ray.layer == 1);
    CHECK(no_ray.sound_speed_m_s == 4500);
  }
  SECTION("equal to the trace speed is too fast") {
    PathInputs in = example.inputs();
    in.wedge_sound_speed_m_s = 1500;
    in.wedge_angle_rad = 30 * deg;  // sine rounds to 1/2 or just below
    const double trace_m_s = 1500 / std::sin(30 * deg);
    example.layers[0].sound_speed_m_s = trace_m_s * (1 + 1e-15);
    in.layers = example.layers;
    CHECK(std::holds_alternative<NoRay>(trace_ray(in)));
  }
}

TEST_CASE("the ray parameter is kept in every leg", "[acoustics]") {
  Example example;
  example.layers = {{0.3e-3, 2400}, {6.02e-3, 3230}, {4e-3, 3400}, {1e-3, 1200}};
  const RayPath ray = example.ray();
  const double p = std::sin(38 * deg) / 2730;
  REQUIRE(ray.layer_count == example.layers.size());
  double spacing_m = example.traverses * ray.liquid_leg.run_m;
  for (std::size_t i = 0; i < ray.layer_count; ++i) {
    const Leg& leg = ray.layer_legs[i];
    const Layer& layer = example.layers[i];
    CHECK(std::sin(leg.angle_rad) / layer.sound_speed_m_s == Approx(p).epsilon(1e-14));
    // Each leg is a right triangle, run at the layer's speed.
    CHECK(leg.run_m == Approx(layer.thickness_m * std::tan(leg.angle_rad)).epsilon(1e-13));
    CHECK(leg.time_s * layer.sound_speed_m_s ==
          Approx(std::hypot(leg.run_m, layer.thickness_m)).epsilon(1e-14));
    spacing_m += 2 * leg.run_m;
  }
  CHECK(std::sin(ray.liquid_leg.angle_rad) / 1482.3 == Approx(p).epsilon(1e-14));
  CHECK(ray.exit_spacing_m == Approx(spacing_m).epsilon(1e-14));
}

TEST_CASE("limits and scaling of the geometry", "[acoustics]") {
  const Example a;
  const RayPath ray = a.ray();

  SECTION("layers of no thickness leave the liquid alone") {
    Example thin = a;
    thin.layers = {{1e-15, 3230}, {1e-15, 2000}};
    thin.height_m = 0;
    const RayPath bare = thin.ray();
    CHECK(bare.exit_spacing_m ==
          Approx(2 * 102.26e-3 * std::tan(ray.liquid_leg.angle_rad)).epsilon(1e-11));
    CHECK(bare.zero_flow_time_s == Approx(bare.fluid_time_s).epsilon(1e-11));
    thin.layers.clear();
    CHECK(thin.ray().exit_spacing_m == Approx(bare.exit_spacing_m).epsilon(1e-11));
  }
  SECTION("the order of the layers does not matter") {
    Example one = a, other = a;
    one.layers = {{6e-3, 3230}, {4e-3, 2500}};
    other.layers = {{4e-3, 2500}, {6e-3, 3230}};
    CHECK(one.ray().exit_spacing_m == Approx(other.ray().exit_spacing_m).epsilon(1e-15));
    CHECK(one.ray().zero_flow_time_s == Approx(other.ray().zero_flow_time_s).epsilon(1e-15));
  }
  SECTION("a layer cut in two is the same layer") {
    Example cut = a;
    cut.layers = {{2.02e-3, 3230}, {4.00e-3, 3230}};
    CHECK(cut.ray().exit_spacing_m == Approx(ray.exit_spacing_m).epsilon(1e-14));
  }
  SECTION("all lengths by three: spacing and times by three, angles as they were") {
    Example big = a;
    big.layers[0].thickness_m *= 3;
    big.bore_m *= 3;
    big.height_m *= 3;
    const RayPath tripled = big.ray();
    CHECK(tripled.exit_spacing_m == Approx(3 * ray.exit_spacing_m).epsilon(1e-14));
    CHECK(tripled.zero_flow_time_s == Approx(3 * ray.zero_flow_time_s).epsilon(1e-14));
    CHECK(tripled.liquid_leg.angle_rad == ray.liquid_leg.angle_rad);
  }
  SECTION("all speeds by two: the same ray in half the time") {
    PathInputs in = a.inputs();
    const std::array fast{Layer{6.02e-3, 2 * 3230}};
    in.layers = fast;
    in.wedge_sound_speed_m_s *= 2;
    in.liquid_sound_speed_m_s *= 2;
    const auto doubled = std::get<RayPath>(trace_ray(in));
    CHECK(doubled.exit_spacing_m == Approx(ray.exit_spacing_m).epsilon(1e-14));
    CHECK(doubled.zero_flow_time_s == Approx(ray.zero_flow_time_s / 2).epsilon(1e-14));
  }
  SECTION("each traverse adds the same") {
    Example more = a;
    more.traverses = 5;
    const RayPath five = more.ray();
    CHECK(five.exit_spacing_m - ray.exit_spacing_m ==
          Approx(3 * ray.liquid_leg.run_m).epsilon(1e-13));
    CHECK(five.fluid_time_s == Approx(2.5 * ray.fluid_time_s).epsilon(1e-14));
  }
}

TEST_CASE("setback, wedge and delay", "[acoustics]") {
  const Example a;
  PathInputs in = a.inputs();
  in.setback_m = 14e-3;
  in.delay_s = 1.2e-6;
  const auto ray = std::get<RayPath>(trace_ray(in));
  CHECK(ray.mark_spacing_m - ray.exit_spacing_m == Approx(28e-3).epsilon(1e-13));
  CHECK(ray.zero_flow_time_s - a.ray().zero_flow_time_s == Approx(1.2e-6).epsilon(1e-9));
  CHECK(ray.fluid_time_s == a.ray().fluid_time_s);

  // Marks ahead of the exit points: the mark spacing may pass through zero.
  in.setback_m = -60e-3;
  const auto crossed = std::get<RayPath>(trace_ray(in));
  CHECK(crossed.mark_spacing_m == Approx(crossed.exit_spacing_m - 120e-3).epsilon(1e-13));
  CHECK(crossed.mark_spacing_m < 0);
}

TEST_CASE("what is no path is refused", "[acoustics]") {
  const Example a;
  const PathInputs good = a.inputs();
  REQUIRE_NOTHROW(trace_ray(good));

  for (double bad : {0.0, -1.0, not_a_number, infinity}) {
    CAPTURE(bad);
    PathInputs in = good;
    in.wedge_sound_speed_m_s = bad;
    CHECK_THROWS_AS(trace_ray(in), std::invalid_argument);
    in = good;
    in.bore_m = bad;
    CHECK_THROWS_AS(trace_ray(in), std::invalid_argument);
    in = good;
    in.liquid_sound_speed_m_s = bad;
    CHECK_THROWS_AS(trace_ray(in), std::invalid_argument);
    const std::array no_thickness{Layer{bad, 3230}};
    in = good;
    in.layers = no_thickness;
    CHECK_THROWS_AS(trace_ray(in), std::invalid_argument);
    const std::array no_speed{Layer{6e-3, bad}};
    in.layers = no_speed;
    CHECK_THROWS_AS(trace_ray(in), std::invalid_argument);
  }
  for (double bad_rad : {0.0, -0.1, std::numbers::pi / 2, not_a_number}) {
    PathInputs in = good;
    in.wedge_angle_rad = bad_rad;
    CHECK_THROWS_AS(trace_ray(in), std::invalid_argument);
  }
  for (double bad : {-1e-3, not_a_number, infinity}) {
    PathInputs in = good;
    in.wedge_path_m = bad;
    CHECK_THROWS_AS(trace_ray(in), std::invalid_argument);
  }
  for (double bad : {not_a_number, infinity}) {
    PathInputs in = good;
    in.setback_m = bad;
    CHECK_THROWS_AS(trace_ray(in), std::invalid_argument);
    in = good;
    in.delay_s = bad;
    CHECK_THROWS_AS(trace_ray(in), std::invalid_argument);
  }
  for (int bad : {0, -2}) {
    PathInputs in = good;
    in.traverses = bad;
    CHECK_THROWS_AS(trace_ray(in), std::invalid_argument);
  }
  const std::vector<Layer> many(most_layers + 1, Layer{1e-3, 2000});
  PathInputs in = good;
  in.layers = many;
  CHECK_THROWS_AS(trace_ray(in), std::invalid_argument);
  in.layers = std::span(many).first(most_layers);
  CHECK_NOTHROW(trace_ray(in));
}

TEST_CASE("flow effects refuse what has no answer", "[acoustics]") {
  const LiquidPath a = Example{}.liquid();
  // Both roots exist up to |v| p = 1 - p c: 4434.26 - 1482.3 m/s for this path.
  const double limit_m_s = 1 / a.ray_parameter_s_m - a.sound_speed_m_s;
  CHECK_NOTHROW(time_difference_s(a, limit_m_s * (1 - 1e-9)));
  CHECK_THROWS_AS(time_difference_s(a, limit_m_s * (1 + 1e-9)), std::invalid_argument);
  for (double bad : {not_a_number, infinity, -infinity}) {
    CHECK_THROWS_AS(time_difference_s(a, bad), std::invalid_argument);
    CHECK_THROWS_AS(time_difference_first_order_s(a, bad), std::invalid_argument);
    CHECK_THROWS_AS(beam_drift_m(a, bad), std::invalid_argument);
    CHECK_THROWS_AS(velocity_of_time_error_m_s(a, bad), std::invalid_argument);
    CHECK_THROWS_AS(half_cycle_velocity_m_s(a, bad), std::invalid_argument);
  }
  CHECK_THROWS_AS(half_cycle_velocity_m_s(a, 0), std::invalid_argument);

  LiquidPath bad = a;
  bad.ray_parameter_s_m = 1 / bad.sound_speed_m_s;  // along the pipe
  CHECK_THROWS_AS(time_difference_s(bad, 0), std::invalid_argument);
  bad = a;
  bad.traverses = 0;
  CHECK_THROWS_AS(beam_drift_m(bad, 1), std::invalid_argument);
  bad = a;
  bad.bore_m = -0.1;
  CHECK_THROWS_AS(velocity_of_time_error_m_s(bad, 1e-9), std::invalid_argument);
}
