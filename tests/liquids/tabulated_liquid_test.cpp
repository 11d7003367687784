// Tabulated liquids against measurements of other laboratories, equations of state between and
// beyond the points, and what a smooth curve must do.

#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <functional>
#include <limits>
#include <stdexcept>
#include <string>
#include <vector>

#include "slantrule/liquids/tabulated_liquid.hpp"

using namespace slantrule;
using Catch::Matchers::Contains;

namespace {

constexpr double kNaN = std::numeric_limits<double>::quiet_NaN();
constexpr double kInfinity = std::numeric_limits<double>::infinity();
constexpr double kAtmosphere_bar = 1.01325;

LiquidState state(double temperature_degC, double pressure_bar, double mass_percent = 0) {
  return {.temperature_K = temperature_degC + 273.15,
          .pressure_Pa = pressure_bar * 1e5,
          .mass_fraction = mass_percent / 100};
}

std::shared_ptr<const LiquidModel> table(const std::vector<LiquidPoint>& points,
                                         TabulatedLiquidOptions options = {.name = "test",
                                                                           .source = "a test",
                                                                           .vapour_curve = {},
                                                                           .freezing_point_K = {},
                                                                           .pressure_effect = {}}) {
  return make_tabulated_liquid(points, std::move(options));
}

double sound_speed(const LiquidModel& liquid, const LiquidState& at) {
  return liquid.at(at).sound_speed_m_s->value;
}

double u_sound_speed(const LiquidModel& liquid, const LiquidState& at) {
  return liquid.at(at).sound_speed_m_s->u;
}

// n-Butane (Buecker and Wagner 2006, JPCRD; density, viscosity and u of the grid). The lines end
// where butane boils: at 1 atm at -0.5 degC, at 10 bar at 79 degC, at 20 bar at 114 degC.
const std::vector<LiquidPoint> kButane = {
    {-20, 1.01325, 0, 1144.1, 621.79, 0.2505, 4}, {-10, 1.01325, 0, 1089.6, 611.39, 0.2247, 4},
    {-20, 10, 0, 1151.5, 622.75, 0.2528, 4},      {-10, 10, 0, 1097.4, 612.45, 0.2270, 4},
    {0, 10, 0, 1043.6, 601.90, 0.2046, 4},        {10, 10, 0, 990.0, 591.06, 0.1851, 4},
    {20, 10, 0, 936.3, 579.88, 0.1679, 4},        {30, 10, 0, 882.6, 568.29, 0.1527, 4},
    {40, 10, 0, 828.6, 556.22, 0.1389, 4},        {50, 10, 0, 774.1, 543.55, 0.1265, 4},
    {-20, 50, 0, 1182.8, 626.86, 0.2631, 4},      {-10, 50, 0, 1131.0, 616.95, 0.2367, 4},
    {0, 50, 0, 1079.6, 606.87, 0.2140, 4},        {10, 50, 0, 1028.6, 596.56, 0.1941, 4},
    {20, 50, 0, 978.0, 586.00, 0.1767, 4},        {30, 50, 0, 927.7, 575.14, 0.1613, 4},
    {40, 50, 0, 877.7, 563.95, 0.1475, 4},        {50, 50, 0, 827.9, 552.36, 0.1351, 4},
    {60, 50, 0, 778.2, 540.30, 0.1238, 4},        {70, 50, 0, 728.3, 527.68, 0.1134, 6.8},
};

// Ethanol and water at 92.3 kPa (Hoga and Torres 2018, J. Chem. Thermodyn.), water by IAPWS-95.
const std::vector<LiquidPoint> kEthanolWater = {
    {20, 1, 0, 1482.3, 998.21, 1.002, 0.1},  {25, 1, 0, 1496.7, 997.05, 0.89, 0.1},
    {20, 1, 22.07, 1625.74, 966.1, kNaN, 1}, {25, 1, 22.07, 1618.97, 963.65, kNaN, 1},
    {25, 1, 16.29, 1603.21, kNaN, kNaN, 1},  {20, 1, 52.27, 1478.23, kNaN, kNaN, 1},
    {25, 1, 52.27, 1464.53, kNaN, kNaN, 1},  {25, 1, 39.12, 1553.74, kNaN, kNaN, 1},
    {25, 1, 67.79, 1363.91, kNaN, kNaN, 1},  {20, 1, 100, 1160.65, kNaN, kNaN, 1},
    {25, 1, 100, 1143.5, kNaN, kNaN, 1},
};

// Toluene at 1 atm (Lemmon and Span 2006 equation of state).
const std::vector<LiquidPoint> kToluene = {
    {10, 1.01325, 0, 1367.8, 876.17, 0.664, 2},  {20, 1.01325, 0, 1324.3, 866.89, 0.5868, 2},
    {30, 1.01325, 0, 1281.6, 857.57, 0.523, 2},  {40, 1.01325, 0, 1239.8, 848.20, 0.4691, 2},
    {50, 1.01325, 0, 1198.6, 838.76, 0.4231, 2}, {60, 1.01325, 0, 1158.0, 829.23, 0.3834, 2},
};

}  // namespace

TEST_CASE("every point of a table comes back", "[liquids][tabulated]") {
  for (const auto* points : {&kButane, &kToluene, &kEthanolWater}) {
    const auto liquid = table(*points);
    for (const LiquidPoint& p : *points) {
      CAPTURE(p.temperature_degC, p.pressure_bar, p.mass_percent);
      const auto got = liquid->at(state(p.temperature_degC, p.pressure_bar, p.mass_percent));
      CHECK(got.sound_speed_m_s->value == Approx(p.sound_speed_m_s).epsilon(1e-12));
      CHECK(got.sound_speed_m_s->u == Approx(p.u_sound_speed_m_s).epsilon(1e-12));
      CHECK(got.density_kg_m3.has_value() == !std::isnan(p.density_kg_m3));
      CHECK(got.viscosity_Pa_s.has_value() == !std::isnan(p.viscosity_mPa_s));
      if (got.density_kg_m3) CHECK(got.density_kg_m3->value == Approx(p.density_kg_m3));
      if (got.viscosity_Pa_s) CHECK(got.viscosity_Pa_s->value == Approx(p.viscosity_mPa_s * 1e-3));
    }
  }
}

TEST_CASE("between the points: the same equations of state at temperatures left out",
          "[liquids][tabulated]") {
  struct Row {
    const char* source;
    const std::vector<LiquidPoint>* points;
    double temperature_degC, pressure_bar, sound_speed_m_s, density_kg_m3, viscosity_mPa_s;
    double tolerance_m_s;
  };
  // Between temperatures 0.25 m/s, as the header promises.
  const auto row = GENERATE(values<Row>({
      {"Buecker & Wagner 2006", &kButane, 25, 10, 909.5, 574.14, 0.1601, 0.25},
      {"Buecker & Wagner 2006", &kButane, 25, 50, 952.8, 580.61, 0.1688, 0.25},
      // An isobar that the table does not hold: 2 % of the effect of the 40 bar between its
      // neighbours, 41.7 and 53.8 m/s.
      {"Buecker & Wagner 2006", &kButane, 20, 20, 947.1, 581.47, 0.1702, 0.83},
      {"Buecker & Wagner 2006", &kButane, 50, 20, 788.3, 545.89, 0.1287, 1.1},
      {"Lemmon & Span 2006; viscosity 25 degC of fluids.md 8.3", &kToluene, 25, 1.01325, 1302.9,
       862.24, 0.552, 0.25},
  }));
  CAPTURE(row.source, row.temperature_degC, row.pressure_bar);
  const auto got = table(*row.points)->at(state(row.temperature_degC, row.pressure_bar));
  CHECK(got.sound_speed_m_s->value ==
        Approx(row.sound_speed_m_s).margin(row.tolerance_m_s).epsilon(0));
  CHECK(got.density_kg_m3->value == Approx(row.density_kg_m3).margin(0.15).epsilon(0));
  CHECK(got.viscosity_Pa_s->value == Approx(row.viscosity_mPa_s * 1e-3).epsilon(0.004));
}

TEST_CASE("an equation of state's table meets another laboratory's measurements",
          "[liquids][tabulated]") {
  // Toluene, Gonzalez-Olmos et al. 2007, Int. J. Thermophys. 28:1199, u 1 m/s; table u 2 m/s.
  const std::vector<std::array<double, 2>> measured = {{15, 1347.5}, {20, 1325.3}, {25, 1303.4},
                                                       {30, 1281.9}, {35, 1260.5}, {40, 1239.2},
                                                       {45, 1218.0}, {50, 1196.6}};
  const auto liquid = table(kToluene);
  for (const auto& [temperature_degC, sound_speed_m_s] : measured) {
    CAPTURE(temperature_degC);
    CHECK(sound_speed(*liquid, state(temperature_degC, kAtmosphere_bar)) ==
          Approx(sound_speed_m_s).margin(std::hypot(1, 2)).epsilon(0));
  }
}

TEST_CASE("an isobar goes on smoothly where the liquid boils on it", "[liquids][tabulated]") {
  const auto liquid = table(kButane);

  SECTION("points that were left out come back within the uncertainty that stands beside them") {
    // Buecker and Wagner 2006: the 10 bar line at 60 and 70 degC, which kButane stops short of.
    const std::vector<std::array<double, 4>> left_out = {{60, 718.6, 530.16, 0.1151},
                                                         {70, 661.7, 515.86, 0.1046}};
    for (const auto& [temperature_degC, sound_speed_m_s, density_kg_m3, viscosity_mPa_s] :
         left_out) {
      CAPTURE(temperature_degC);
      const auto got = liquid->at(state(temperature_degC, 10));
      // 66.6 m/s is what 40 bar do at 70 degC; 8 % of it.
      CHECK(got.sound_speed_m_s->value == Approx(sound_speed_m_s).margin(5.3).epsilon(0));
      CHECK(got.sound_speed_m_s->u > 5.3);
      CHECK(got.density_kg_m3->value == Approx(density_kg_m3).epsilon(0.003));
      CHECK(got.viscosity_Pa_s->value == Approx(viscosity_mPa_s * 1e-3).epsilon(0.03));
    }
  }
  SECTION("nothing jumps and no slope breaks where a line ends") {
    for (double pressure_bar : {1.01325, 5.0, 10.0, 30.0}) {
      for (double temperature_degC = -19.99; temperature_degC < 69; temperature_degC += 0.5) {
        CAPTURE(pressure_bar, temperature_degC);
        const double step = sound_speed(*liquid, state(temperature_degC + 0.5, pressure_bar)) -
                            sound_speed(*liquid, state(temperature_degC, pressure_bar));
        // -5.4 m/s/K is the grid's slope at 10 bar; at saturation it stays between -5 and -6.
        CHECK(step < -0.5 * 4.5);
        CHECK(step > -0.5 * 6.6);
      }
    }
  }
}

TEST_CASE("the slope in temperature is continuous", "[liquids][tabulated]") {
  const auto ethanol_water = table(kEthanolWater);
  const auto butane = table(kButane);
  const double h = 1e-4;
  const auto check = [h](const std::function<double(double)>& f, double at_degC) {
    const double before = (f(at_degC) - f(at_degC - h)) / h;
    const double after = (f(at_degC + h) - f(at_degC)) / h;
    CAPTURE(at_degC, before, after);
    // One-sided differences are off by h f''/2; f'' stays below 5 times the slope per kelvin.
    CHECK(std::abs(after - before) < 5 * h * std::abs(before) + 1e-9 * std::abs(f(at_degC)) / h);
  };
  for (double at_degC : {-10.0, 0.0, 20.0, 40.0, 50.0, 60.0}) {
    check([&](double t) { return sound_speed(*butane, state(t, 15)); }, at_degC);
    check([&](double t) { return butane->at(state(t, 15)).density_kg_m3->value; }, at_degC);
    check([&](double t) { return butane->at(state(t, 15)).viscosity_Pa_s->value; }, at_degC);
  }
  for (double at_percent : {16.29, 22.07, 39.12, 52.27}) {
    for (double t : {20.0, 22.5, 25.0}) {
      check([&](double x) { return sound_speed(*ethanol_water, state(t, 1, x)); }, at_percent);
    }
  }
}

TEST_CASE("curves do not overshoot their points", "[liquids][tabulated]") {
  // Invented: a step, on which an ordinary cubic spline swings by a tenth of it.
  const std::vector<LiquidPoint> step = {
      {0, 1, 0, 1000, kNaN, kNaN, 1},  {10, 1, 0, 1000, kNaN, kNaN, 1},
      {20, 1, 0, 1000, kNaN, kNaN, 1}, {21, 1, 0, 1500, kNaN, kNaN, 1},
      {30, 1, 0, 1500, kNaN, kNaN, 1}, {40, 1, 0, 1500, kNaN, kNaN, 1}};
  const auto liquid = table(step);
  double last = 0;
  for (double t = 0; t <= 40; t += 0.125) {
    CAPTURE(t);
    const double c = sound_speed(*liquid, state(t, 1));
    CHECK(c >= 1000 - 1e-9);
    CHECK(c <= 1500 + 1e-9);
    CHECK(c >= last - 1e-9);
    last = c;
  }
}

TEST_CASE("an end curve keeps to the side of its points", "[liquids][tabulated]") {
  // Invented: flat, then steep; the parabola through the three points would dip 12 m/s below.
  const auto liquid = table({{0, 1, 0, 1000, kNaN, kNaN, 1},
                             {10, 1, 0, 1001, kNaN, kNaN, 1},
                             {20, 1, 0, 1100, kNaN, kNaN, 1}});
  for (double t = 0; t <= 10; t += 0.5) CHECK(sound_speed(*liquid, state(t, 1)) >= 1000 - 1e-9);
}

TEST_CASE("the cubic of Fritsch and Butland, by hand", "[liquids][tabulated]") {
  // c^2 = 1, 1.1 and 1.2e6 at 0, 10 and 40 degC: chords 10000 and 3333.3, so the slope in the
  // middle is 120 / (70 / 10000 + 50 / 3333.3) = 5454.5 and at the end (50 x 10000 - 10 x 3333.3) /
  // 40 = 11666.7. Half way: 1.05e6 + 10 / 8 x (11666.7 - 5454.5) = 1057765.2.
  const auto liquid = table({{0, 1, 0, 1000, kNaN, kNaN, 1},
                             {10, 1, 0, std::sqrt(1.1e6), kNaN, kNaN, 1},
                             {40, 1, 0, std::sqrt(1.2e6), kNaN, kNaN, 1}});
  CHECK(std::pow(sound_speed(*liquid, state(5, 1)), 2) == Approx(1057765.2).margin(0.1).epsilon(0));
}

TEST_CASE("a bilinear table stays bilinear", "[liquids][tabulated]") {
  const auto liquid = table({{0, 1, 0, 1000, kNaN, kNaN, 1},
                             {10, 1, 0, 1100, kNaN, kNaN, 1},
                             {0, 1, 50, 1200, kNaN, kNaN, 1},
                             {10, 1, 50, 1400, kNaN, kNaN, 1}});
  // c^2 = 1.00, 1.21, 1.44 and 1.96e6 with the weights 9, 3, 3 and 1 in 16.
  CHECK(std::pow(sound_speed(*liquid, state(2.5, 1, 12.5)), 2) ==
        Approx(1.181875e6).margin(1e-3).epsilon(0));
}

TEST_CASE("beyond the isobars u grows with the way", "[liquids][tabulated]") {
  const auto liquid = table({{0, 50, 0, 500, kNaN, kNaN, 3},
                             {0, 100, 0, 600, kNaN, kNaN, 3},
                             {10, 50, 0, 500, kNaN, kNaN, 3},
                             {10, 100, 0, 600, kNaN, kNaN, 3}});
  // c^2 falls by 0.11e6 m2/s2 in 50 bar: 0.25e6 - 0.044e6 at 30 bar, that is 453.87 m/s.
  const auto below = *liquid->at(state(5, 30)).sound_speed_m_s;
  CHECK(below.value == Approx(453.87).margin(0.01).epsilon(0));
  CHECK(below.u == Approx(std::hypot(3, 0.1 * (500 - 453.87))).epsilon(1e-3));
  // 0.36e6 + 0.022e6 at 110 bar, 618.06 m/s; outside the range, three times.
  const auto above = *liquid->at(state(5, 110)).sound_speed_m_s;
  CHECK(above.value == Approx(618.06).margin(0.01).epsilon(0));
  CHECK(above.u == Approx(3 * std::hypot(3, 0.1 * 18.06)).epsilon(1e-3));
}

TEST_CASE("a solution measured at one temperature takes its neighbours' slope",
          "[liquids][tabulated]") {
  // Hoga and Torres 2018, 20 degC; kEthanolWater holds these strengths at 25 degC only.
  const auto liquid = table(kEthanolWater);
  const auto check = [&](double mass_percent, double sound_speed_m_s) {
    CAPTURE(mass_percent);
    const auto got = liquid->at(state(20, 1, mass_percent)).sound_speed_m_s;
    CHECK(got->value == Approx(sound_speed_m_s).margin(2 * got->u).epsilon(0));
    CHECK(got->u > 1);
    CHECK(got->u < 3);
  };
  check(16.29, 1604.25);
  check(67.79, 1379.03);
  // Between the strengths of the table, 25 degC, same source. The table is coarse there.
  CHECK(sound_speed(*liquid, state(25, 1, 58.0)) == Approx(1426.17).margin(3).epsilon(0));
  CHECK(sound_speed(*liquid, state(25, 1, 46.06)) == Approx(1506.97).margin(3).epsilon(0));
}

TEST_CASE("a strength that cannot be completed is refused", "[liquids][tabulated]") {
  std::vector<LiquidPoint> points = kEthanolWater;
  points.push_back({30, 1, 100, 1126.44, kNaN, kNaN, 1});  // nothing weaker is known at 30 degC
  CHECK_THROWS_WITH(table(points), Contains("30 degC") && Contains("0 % by mass"));
  CHECK_THROWS_AS(table(points), std::invalid_argument);
}

TEST_CASE("outside the table: a wide margin, then refusal", "[liquids][tabulated]") {
  const auto toluene = table(kToluene);
  const double inside_u = u_sound_speed(*toluene, state(60, kAtmosphere_bar));
  CHECK(inside_u == 2);
  const auto beyond = toluene->at(state(65, kAtmosphere_bar));
  // Lemmon and Span 2006 at 70 degC: 1118.0, 819.61; at 65 half way.
  CHECK(beyond.sound_speed_m_s->value == Approx(1138.0).margin(0.5).epsilon(0));
  CHECK(beyond.density_kg_m3->value == Approx(824.42).margin(0.2).epsilon(0));
  CHECK(beyond.sound_speed_m_s->u == 3 * inside_u);
  CHECK(u_sound_speed(*toluene, state(5, kAtmosphere_bar)) == 3 * inside_u);
  CHECK_THROWS_AS(toluene->at(state(65.1, kAtmosphere_bar)), std::domain_error);
  CHECK_THROWS_AS(toluene->at(state(4.9, kAtmosphere_bar)), std::domain_error);
  CHECK_THROWS_AS(toluene->at(state(20, kAtmosphere_bar, 1)), std::domain_error);  // it is pure
  CHECK_THROWS_AS(toluene->at(state(20, 101)), std::domain_error);
  CHECK_THROWS_AS(toluene->at(state(kNaN, 1)), std::invalid_argument);
  CHECK_THROWS_AS(toluene->at(state(20, 0)), std::invalid_argument);
  CHECK_THROWS_AS(toluene->at(state(20, 1, -1)), std::invalid_argument);
  CHECK_THROWS_AS(toluene->at(state(20, 1, kInfinity)), std::invalid_argument);

  const auto sugar = table({{20, 1, 10, 1515, kNaN, kNaN, 4},
                            {20, 1, 20, 1550, kNaN, kNaN, 4},
                            {30, 1, 10, 1538, kNaN, kNaN, 4},
                            {30, 1, 20, 1570, kNaN, kNaN, 4}});
  CHECK(sound_speed(*sugar, state(20, 1, 22)) == Approx(1557).margin(0.5).epsilon(0));
  CHECK(u_sound_speed(*sugar, state(20, 1, 22)) == 12);
  CHECK_THROWS_AS(sugar->at(state(20, 1, 22.1)), std::domain_error);
  CHECK_THROWS_AS(sugar->at(state(20, 1, 7.9)), std::domain_error);
  const auto range = *sugar->valid_range();
  CHECK(range.lowest_mass_fraction == 0.1);
  CHECK(range.highest_mass_fraction == 0.2);
  CHECK(range.lowest_temperature_K == 293.15);
}

TEST_CASE("a single temperature, a single strength: constant, with u that grows",
          "[liquids][tabulated]") {
  // Lubricating oil, handbook list: 1461 m/s at 25 degC.
  const auto oil = table({{25, kAtmosphere_bar, 0, 1461, 880, kNaN, 25}});
  CHECK(u_sound_speed(*oil, state(25, kAtmosphere_bar)) == 25);
  CHECK(sound_speed(*oil, state(29, kAtmosphere_bar)) == Approx(1461).margin(1e-9));
  // Three times the root of 25^2 + (4 K x 4 m/s/K)^2.
  CHECK(u_sound_speed(*oil, state(29, kAtmosphere_bar)) == Approx(3 * std::hypot(25, 16)));
  CHECK_THROWS_AS(oil->at(state(31, kAtmosphere_bar)), std::domain_error);

  const auto glucose =
      table({{25, 1, 16.9, 1564.8, 1065.07, kNaN, 4}, {30, 1, 16.9, 1574.3, 1063.30, kNaN, 4}});
  CHECK(u_sound_speed(*glucose, state(25, 1, 17.9)) == Approx(3 * std::hypot(4, 10)));
  CHECK_THROWS_AS(glucose->at(state(25, 1, 19)), std::domain_error);
}

TEST_CASE("pressure where the table has one isobar", "[liquids][tabulated]") {
  // Equations of state at 50 bar and 20 degC, none of which the tables of one isobar know.
  struct Row {
    const char* source;
    LiquidPoint at_1_atm;
    double sound_speed_m_s, density_kg_m3;
  };
  const auto row = GENERATE(values<Row>({
      {"Thol et al. 2012, benzene", {20, 1.01325, 0, 1326.2, 878.84, 0.6468, 5}, 1350.5, 882.76},
      {"Lemmon & Span 2006, toluene", {20, 1.01325, 0, 1324.3, 866.89, 0.587, 2}, 1348.8, 871.0},
      {"Buecker & Wagner 2006, n-butane at -20 degC, 50 bar",
       {-20, 1.01325, 0, 1144.1, 621.79, 0.2505, 4},
       1182.8,
       626.86},
      {"Eisenbach et al. 2021, propylene glycol",
       {20, 1.01325, 0, 1522.2, 1036.36, 57.61, 3},
       1540.4,
       1038.76},
  }));
  CAPTURE(row.source);
  const auto liquid = table({row.at_1_atm});
  const auto got = liquid->at(state(row.at_1_atm.temperature_degC, 50));
  const double change_m_s = row.sound_speed_m_s - row.at_1_atm.sound_speed_m_s;
  CHECK(got.sound_speed_m_s->value == Approx(row.sound_speed_m_s).margin(0.12 * change_m_s));
  CHECK(got.sound_speed_m_s->u > row.at_1_atm.u_sound_speed_m_s);
  CHECK(got.density_kg_m3->value == Approx(row.density_kg_m3).margin(0.7).epsilon(0));
  CHECK(liquid->valid_range()->highest_pressure_Pa == 50e5);
}

TEST_CASE("pressures that differ as the weather does are one isobar", "[liquids][tabulated]") {
  const auto liquid =
      table({{20, 0.923, 0, 1160.65, kNaN, kNaN, 1}, {25, 1.01325, 0, 1143.5, kNaN, kNaN, 1}});
  CHECK(sound_speed(*liquid, state(25, 1.01325)) == Approx(1143.5).margin(0.1).epsilon(0));
  CHECK(sound_speed(*liquid, state(20, 1.01325)) == Approx(1160.65).margin(0.1).epsilon(0));
}

TEST_CASE("properties end where the table's do", "[liquids][tabulated]") {
  const auto liquid = table({{20, 1, 0, 1200, 800, kNaN, 1},
                             {30, 1, 0, 1160, 790, 0.5, 1},
                             {40, 1, 0, 1120, kNaN, 0.4, 1}});
  CHECK_FALSE(liquid->at(state(25, 1)).viscosity_Pa_s.has_value());
  CHECK(liquid->at(state(30, 1)).viscosity_Pa_s.has_value());
  // A temperature that misses its point by rounding still finds it.
  for (double off_K : {-1e-10, 1e-10}) {
    LiquidState near = state(30, 1);
    near.temperature_K += off_K;
    CHECK(liquid->at(near).viscosity_Pa_s.has_value());
    CHECK(liquid->at(near).density_kg_m3.has_value());
  }
  // The logarithm is interpolated: the geometric mean.
  CHECK(liquid->at(state(35, 1)).viscosity_Pa_s->value == Approx(std::sqrt(0.5 * 0.4) * 1e-3));
  CHECK(liquid->at(state(25, 1)).density_kg_m3.has_value());
  CHECK_FALSE(liquid->at(state(35, 1)).density_kg_m3.has_value());
  CHECK(liquid->at(state(35, 1)).sound_speed_m_s.has_value());
  CHECK_FALSE(liquid->absorption(state(35, 1)).has_value());
  CHECK_FALSE(liquid->saturation_pressure_Pa(300).has_value());
  CHECK_FALSE(liquid->freezing_temperature_K(state(35, 1)).has_value());
}

TEST_CASE("vapour pressures", "[liquids][tabulated]") {
  struct Row {
    const char* source;
    VapourCurve curve;
    double temperature_degC, pressure_bar, tolerance;
  };
  const VapourCurve water{.boiling_point_K = 373.124,
                          .critical_temperature_K = 647.096,
                          .critical_pressure_Pa = 220.64e5};
  const VapourCurve benzene{
      .boiling_point_K = 353.24, .critical_temperature_K = 562.05, .critical_pressure_Pa = 48.95e5};
  const VapourCurve propane{
      .boiling_point_K = 231.04, .critical_temperature_K = 369.83, .critical_pressure_Pa = 42.48e5};
  const VapourCurve ammonia{
      .boiling_point_K = 239.82, .critical_temperature_K = 405.4, .critical_pressure_Pa = 113.3e5};
  const VapourCurve ethanol{
      .boiling_point_K = 351.44, .critical_temperature_K = 514.0, .critical_pressure_Pa = 61.4e5};
  const VapourCurve refrigerant{
      .boiling_point_K = 247.08, .critical_temperature_K = 374.21, .critical_pressure_Pa = 40.59e5};
  const VapourCurve carbon_dioxide{.boiling_point_K = 273.15,
                                   .boiling_pressure_Pa = 34.85e5,
                                   .critical_temperature_K = 304.13,
                                   .critical_pressure_Pa = 73.77e5};
  // Tolerances: what the header promises.
  const auto row = GENERATE_COPY(values<Row>({
      {"IF97 table 35: 0.353658941e-2 MPa at 300 K", water, 26.85, 0.0353658941, 0.15},
      {"IF97 table 35: 2.63889776 MPa at 500 K", water, 226.85, 26.3889776, 0.06},
      {"IF97 table 35: 12.3443146 MPa at 600 K", water, 326.85, 123.443146, 0.06},
      {"handbook, from memory: 95.2 mmHg at 25 degC", benzene, 25, 0.127, 0.03},
      {"refrigerant tables, from memory", propane, 20, 8.36, 0.03},
      {"refrigerant tables, from memory", propane, 50, 17.13, 0.03},
      {"refrigerant tables, from memory", ammonia, 20, 8.575, 0.03},
      {"refrigerant tables, from memory", ammonia, -50, 0.409, 0.03},
      {"handbook, from memory: 59 mmHg at 25 degC", ethanol, 25, 0.0787, 0.15},
      {"refrigerant tables, from memory", refrigerant, 20, 5.717, 0.03},
      {"refrigerant tables, from memory", refrigerant, 50, 13.18, 0.03},
      {"refrigerant tables, from memory", carbon_dioxide, -20, 19.70, 0.03},
      {"refrigerant tables, from memory", carbon_dioxide, 20, 57.29, 0.03},
  }));
  CAPTURE(row.source, row.temperature_degC);
  CHECK(vapour_pressure_Pa(row.curve, row.temperature_degC + 273.15) ==
        Approx(row.pressure_bar * 1e5).epsilon(row.tolerance));
  // Through both points of the curve: at the critical one both functions are 0 but for the last
  // digits of their coefficients.
  CHECK(vapour_pressure_Pa(row.curve, row.curve.boiling_point_K) ==
        Approx(row.curve.boiling_pressure_Pa).epsilon(1e-12));
  CHECK(vapour_pressure_Pa(row.curve, row.curve.critical_temperature_K) ==
        Approx(row.curve.critical_pressure_Pa).epsilon(1e-4));
}

TEST_CASE("vapour curves and temperatures that make no sense are refused", "[liquids][tabulated]") {
  const VapourCurve good{
      .boiling_point_K = 353.24, .critical_temperature_K = 562.05, .critical_pressure_Pa = 48.95e5};
  for (double bad_K : {kNaN, 0.0, -1.0, 562.1, kInfinity}) {
    CAPTURE(bad_K);
    CHECK_THROWS_AS(vapour_pressure_Pa(good, bad_K), std::invalid_argument);
  }
  for (const auto& spoil : std::vector<std::function<void(VapourCurve&)>>{
           [](VapourCurve& c) { c.boiling_point_K = 562.05; },
           [](VapourCurve& c) { c.boiling_point_K = kNaN; },
           [](VapourCurve& c) { c.boiling_point_K = 0; },
           [](VapourCurve& c) { c.boiling_pressure_Pa = 49e5; },
           [](VapourCurve& c) { c.critical_pressure_Pa = kNaN; },
           [](VapourCurve& c) { c.critical_temperature_K = kInfinity; }}) {
    VapourCurve bad = good;
    spoil(bad);
    CHECK_THROWS_AS(vapour_pressure_Pa(bad, 300), std::invalid_argument);
    CHECK_THROWS_AS(table(kToluene, {.name = "bad",
                                     .source = "",
                                     .vapour_curve = bad,
                                     .freezing_point_K = {},
                                     .pressure_effect = {}}),
                    std::invalid_argument);
  }
}

TEST_CASE("below saturation the liquid at saturation is given", "[liquids][tabulated]") {
  const auto liquid = table(kButane, {.name = "butane",
                                      .source = "Buecker and Wagner 2006",
                                      .vapour_curve = VapourCurve{.boiling_point_K = 272.65,
                                                                  .critical_temperature_K = 425.12,
                                                                  .critical_pressure_Pa = 37.96e5},
                                      .freezing_point_K = 134.9,
                                      .pressure_effect = {}});
  const double boiling_Pa = *liquid->saturation_pressure_Pa(293.15);
  CHECK(boiling_Pa == Approx(2.076e5).epsilon(0.03));  // from memory
  CHECK(sound_speed(*liquid, state(20, 1)) == sound_speed(*liquid, state(20, boiling_Pa / 1e5)));
  CHECK(sound_speed(*liquid, state(20, 1)) < sound_speed(*liquid, state(20, 3)));
  CHECK_FALSE(liquid->saturation_pressure_Pa(426).has_value());
  CHECK_THROWS_AS(liquid->saturation_pressure_Pa(kNaN), std::invalid_argument);
  CHECK(*liquid->freezing_temperature_K(state(20, 10)) == 134.9);
  CHECK(liquid->source() == "Buecker and Wagner 2006");
}

TEST_CASE("absorption follows Stokes with the liquid's factor", "[liquids][tabulated]") {
  TabulatedLiquidOptions options{.name = "toluene",
                                 .source = "test",
                                 .vapour_curve = {},
                                 .freezing_point_K = {},
                                 .pressure_effect = {},
                                 .absorption_factor = 10,
                                 .relative_u_absorption = 0.7};
  const auto got = *table(kToluene, options)->absorption(state(25, kAtmosphere_bar));
  // Shear part 0.066 dB/m at 1 MHz and 25 degC, times the factor 10 (hand calculation:
  // 8.686 x 2 pi^2 x 1e12 / (862.2 x 1303^3) x 4/3 x 0.552e-3).
  CHECK(got.dB_m == Approx(0.662).epsilon(0.01));
  CHECK(got.at_Hz == 1e6);
  CHECK(got.power == 2);
  CHECK(got.relative_u == 0.7);
  CHECK_THROWS_AS(table(kToluene, options)->absorption(state(90, 1)), std::domain_error);
}

TEST_CASE("points that are none are refused", "[liquids][tabulated]") {
  const LiquidPoint good{20, 1, 0, 1200, 800, 0.5, 1};
  CHECK_NOTHROW(table({good}));
  CHECK_THROWS_WITH(table({}), Contains("no points"));
  CHECK_THROWS_WITH(table({good, good}), Contains("another point stands there"));
  const auto refused = [&](double LiquidPoint::*member, std::vector<double> values) {
    for (double bad : values) {
      CAPTURE(bad);
      LiquidPoint point = good;
      point.*member = bad;
      CHECK_THROWS_AS(table({point}), std::invalid_argument);
    }
  };
  refused(&LiquidPoint::temperature_degC, {-273.15, kNaN, kInfinity});
  refused(&LiquidPoint::pressure_bar, {0, -1, kNaN, kInfinity});
  refused(&LiquidPoint::mass_percent, {-1, 101, kNaN});
  refused(&LiquidPoint::sound_speed_m_s, {0, -1, kNaN, kInfinity});
  refused(&LiquidPoint::density_kg_m3, {0, -1, kInfinity});
  refused(&LiquidPoint::viscosity_mPa_s, {0, -1, kInfinity});
  refused(&LiquidPoint::u_sound_speed_m_s, {-1, kNaN, kInfinity});
}

TEST_CASE("the order of the points does not matter", "[liquids][tabulated]") {
  std::vector<LiquidPoint> reversed(kEthanolWater.rbegin(), kEthanolWater.rend());
  const auto one = table(kEthanolWater), other = table(reversed);
  for (double x = 0; x <= 100; x += 3.7) {
    CHECK(sound_speed(*one, state(22, 1, x)) == sound_speed(*other, state(22, 1, x)));
  }
}
