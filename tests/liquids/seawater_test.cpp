// Seawater against the tables of the UNESCO paper and of Sharqawy et al., against IAPWS-08, and
// where the equations are joined.

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "slantrule/liquids/seawater.hpp"
#include "slantrule/liquids/water.hpp"

using namespace slantrule;

namespace {

constexpr double kAtmosphere_Pa = 101325;
constexpr double kNaN = std::numeric_limits<double>::quiet_NaN();
constexpr double kInfinity = std::numeric_limits<double>::infinity();

LiquidState state(double temperature_degC, double salinity, double pressure_Pa = kAtmosphere_Pa) {
  return {.temperature_K = temperature_degC + 273.15,
          .pressure_Pa = pressure_Pa,
          .mass_fraction = salinity};
}

double sound_speed_m_s(const LiquidModel& model, const LiquidState& at) {
  return model.at(at).sound_speed_m_s->value;
}

}  // namespace

TEST_CASE("Chen and Millero give the UNESCO check value and table", "[liquids][seawater]") {
  // UNESCO Tech. Paper 44 (1983), p. 48.
  CHECK_THAT(unesco1983::sound_speed_m_s({40, 40, 10000}), Catch::WithinAbs(1731.995, 0.0005));
  // Its table on p. 50, at 0, 10, 20, 30 and 40 degC (IPTS-68), printed to 0.1 m/s.
  struct Row {
    double salinity_g_kg, pressure_dbar, sound_speed_m_s[5];
  };
  for (const Row& row : {Row{25, 0, {1435.8, 1477.7, 1510.3, 1535.2, 1553.4}},
                         Row{25, 5000, {1520.4, 1561.3, 1593.6, 1619.0, 1638.0}},
                         Row{25, 10000, {1610.4, 1647.4, 1676.8, 1700.6, 1719.2}},
                         Row{30, 0, {1442.5, 1483.7, 1515.9, 1540.4, 1558.3}},
                         Row{30, 1000, {1458.8, 1500.2, 1532.5, 1557.3, 1575.4}},
                         Row{35, 0, {1449.1, 1489.8, 1521.5, 1545.6, 1563.2}},
                         Row{35, 1000, {1465.5, 1506.3, 1538.1, 1562.4, 1580.2}},
                         Row{35, 5000, {1534.0, 1573.4, 1604.5, 1629.0, 1647.3}},
                         Row{35, 10000, {1623.2, 1659.0, 1687.2, 1710.1, 1727.8}},
                         Row{40, 0, {1455.8, 1495.9, 1527.1, 1550.8, 1568.1}},
                         Row{40, 10000, {1629.3, 1664.6, 1692.2, 1714.6, 1732.0}}}) {
    for (int k = 0; k < 5; ++k) {
      CAPTURE(row.salinity_g_kg, row.pressure_dbar, 10 * k);
      CHECK_THAT(unesco1983::sound_speed_m_s({row.salinity_g_kg, 10.0 * k, row.pressure_dbar}),
                 Catch::WithinAbs(row.sound_speed_m_s[k], 0.05));
    }
  }
}

TEST_CASE("EOS-80 gives the UNESCO check values", "[liquids][seawater]") {
  // UNESCO Tech. Paper 44 (1983), p. 19; the last digit printed is not always rounded.
  struct Row {
    double salinity_g_kg, temperature_degC68, pressure_dbar, density_kg_m3;
  };
  for (const Row& row :
       {Row{0, 5, 0, 999.96675}, Row{0, 5, 10000, 1044.12802}, Row{0, 25, 0, 997.04796},
        Row{0, 25, 10000, 1037.90204}, Row{35, 5, 0, 1027.67547}, Row{35, 5, 10000, 1069.48914},
        Row{35, 25, 0, 1023.34306}, Row{35, 25, 10000, 1062.53817}}) {
    CAPTURE(row.salinity_g_kg, row.temperature_degC68, row.pressure_dbar);
    CHECK_THAT(
        unesco1983::density_kg_m3({row.salinity_g_kg, row.temperature_degC68, row.pressure_dbar}),
        Catch::WithinAbs(row.density_kg_m3, 1e-5));
  }
  // Density anomaly, listing of the program SVAN.
  CHECK_THAT(unesco1983::density_kg_m3({40, 40, 10000}) - 1000, Catch::WithinAbs(59.82037, 1e-5));
}

TEST_CASE("freezing point of seawater", "[liquids][seawater]") {
  // UNESCO Tech. Paper 44 (1983): -2.588567 degC at 40 g/kg, 500 dbar (from memory).
  CHECK_THAT(unesco1983::freezing_temperature_degC68(40, 500), Catch::WithinAbs(-2.588567, 5e-7));
  const auto seawater = make_seawater();
  CHECK_THAT(*seawater->freezing_temperature_K(state(10, 0)), Catch::WithinAbs(273.15, 1e-9));
  // Ordinary seawater, 35 g/kg: -1.92 degC (handbooks, from memory).
  CHECK_THAT(*seawater->freezing_temperature_K(state(10, 0.035)),
             Catch::WithinAbs(273.15 - 1.92, 0.005));
  double higher_K = 274;
  for (double s = 0; s <= 0.12; s += 0.005) {
    const double here_K = *seawater->freezing_temperature_K(state(10, s));
    CHECK(here_K < higher_K);
    higher_K = here_K;
  }
  CHECK_FALSE(seawater->freezing_temperature_K(state(10, 0.15)).has_value());
  CHECK_FALSE(seawater->freezing_temperature_K(state(10, 0.03, 101e6)).has_value());
}

TEST_CASE("Sharqawy's equations give the paper's tables", "[liquids][seawater]") {
  // Sharqawy et al. 2010 as tabulated in open library data, printed to 0.001 mPa s and 0.1 kg/m3.
  struct Row {
    double salinity_g_kg, temperature_degC, value;
  };
  for (const Row& row :
       {Row{0, 20, 1.002}, Row{10, 20, 1.021}, Row{30, 20, 1.065}, Row{40, 20, 1.089},
        Row{80, 20, 1.197}, Row{120, 20, 1.326}, Row{0, 60, 0.466}, Row{40, 60, 0.515},
        Row{80, 60, 0.571}, Row{120, 60, 0.635}, Row{0, 100, 0.282}, Row{40, 100, 0.313},
        Row{100, 100, 0.369}, Row{120, 100, 0.39}, Row{0, 0, 1.791}, Row{40, 0, 1.925},
        Row{0, 120, 0.232}, Row{120, 120, 0.323}}) {
    CAPTURE(row.salinity_g_kg, row.temperature_degC);
    CHECK_THAT(sharqawy2010::viscosity_Pa_s(row.temperature_degC, row.salinity_g_kg / 1e3) * 1e3,
               Catch::WithinAbs(row.value, 0.001));
  }
  // Coefficients from memory: within twice the print of the table.
  for (const Row& row :
       {Row{0, 20, 998.2}, Row{40, 20, 1028.8}, Row{80, 20, 1059.5}, Row{120, 20, 1090.3},
        Row{0, 60, 983.2}, Row{80, 60, 1042.1}, Row{40, 100, 987.9}, Row{120, 100, 1047.0}}) {
    CAPTURE(row.salinity_g_kg, row.temperature_degC);
    CHECK_THAT(sharqawy2010::density_kg_m3(row.temperature_degC, row.salinity_g_kg / 1e3),
               Catch::WithinAbs(row.value, 0.25));
  }
}

TEST_CASE("seawater follows IAPWS-08", "[liquids][seawater]") {
  const auto seawater = make_seawater();
  // IAPWS R13-08 table 8(a): S_A = 35.16504 g/kg, which is practical salinity 35, at 0 degC, 1 atm.
  // Tolerance: the standard deviation of Chen and Millero's fit.
  CHECK_THAT(sound_speed_m_s(*seawater, state(0, 0.035)), Catch::WithinAbs(1449.00246, 0.19));
  // IAPWS-08 beyond its own 42 g/kg, evaluated by another program; tolerance: what the model
  // states.
  struct Row {
    double salinity, temperature_degC, sound_speed_m_s;
  };
  for (const Row& row : {Row{0.1, 10, 1573.07}, Row{0.1, 25, 1607.63}, Row{0.12, 10, 1601.0},
                         Row{0.12, 25, 1631.99}}) {
    CAPTURE(row.salinity, row.temperature_degC);
    const auto got = seawater->at(state(row.temperature_degC, row.salinity));
    CHECK_THAT(got.sound_speed_m_s->value,
               Catch::WithinAbs(row.sound_speed_m_s, got.sound_speed_m_s->u));
  }
}

TEST_CASE("seawater takes IPTS-68 and gauge pressure from the state", "[liquids][seawater]") {
  // UNESCO p. 48 and p. 19 again, with t90 = t68 / 1.00024 and absolute pressure.
  const auto seawater = make_seawater();
  const auto got = seawater->at(state(40 / 1.00024, 0.040, 100e6 + kAtmosphere_Pa));
  CHECK_THAT(got.sound_speed_m_s->value, Catch::WithinAbs(1731.995, 0.0005));
  CHECK_THAT(got.density_kg_m3->value, Catch::WithinAbs(1059.82037, 1e-5));
  const auto cool = seawater->at(state(5 / 1.00024, 0.035));
  CHECK_THAT(cool.density_kg_m3->value, Catch::WithinAbs(1027.67547, 1e-5));
  CHECK_THAT(seawater->at(state(20, 0.08)).viscosity_Pa_s->value, Catch::WithinAbs(1.197e-3, 1e-6));
}

TEST_CASE("seawater without salt is water", "[liquids][seawater]") {
  // Independent equations: Chen and Millero's water is Del Grosso and Mader's.
  const auto seawater = make_seawater(), water = make_water();
  for (double t : {0.5, 10.0, 25.0, 39.0, 41.0, 50.0, 80.0, 99.0}) {
    CAPTURE(t);
    const auto got = seawater->at(state(t, 0)), want = water->at(state(t, 0));
    CHECK_THAT(got.sound_speed_m_s->value, Catch::WithinAbs(want.sound_speed_m_s->value, 0.1));
    CHECK_THAT(got.density_kg_m3->value, Catch::WithinRel(want.density_kg_m3->value, 1e-4));
    CHECK_THAT(got.viscosity_Pa_s->value, Catch::WithinRel(want.viscosity_Pa_s->value, 0.015));
  }
}

TEST_CASE("seawater's speed of sound has no jump and no kink at 40 degC and 40 g/kg",
          "[liquids][seawater]") {
  // A jump of the slope shows in the second difference times the step: 1e-4 m/s would be 0.01 m/s
  // per K. The curvatures, 0.1 m/s/K^2 and 0.02 m/s/(g/kg)^2, leave 1e-5 m/s.
  const auto seawater = make_seawater();
  const double step = 0.01;
  for (double pressure_Pa : {kAtmosphere_Pa, 5e6, 60e6}) {
    for (double fixed : {0.0, 10.0, 40.0, 43.0, 70.0}) {
      for (double x = 38; x <= 46; x += step) {
        const auto over_t = [&](double t) {
          return sound_speed_m_s(*seawater, state(t, fixed / 1e3, pressure_Pa));
        };
        const auto over_s = [&](double s) {
          return sound_speed_m_s(*seawater, state(fixed, s / 1e3, pressure_Pa));
        };
        const double bend_t = over_t(x + step) - 2 * over_t(x) + over_t(x - step);
        const double bend_s = over_s(x + step) - 2 * over_s(x) + over_s(x - step);
        if (!(std::abs(bend_t) < 5e-5 && std::abs(bend_s) < 5e-5)) {
          CAPTURE(pressure_Pa, fixed, x);
          CHECK(std::abs(bend_t) < 5e-5);
          CHECK(std::abs(bend_s) < 5e-5);
        }
      }
    }
  }
}

TEST_CASE("salt makes water faster, heavier and thicker; heat thins it", "[liquids][seawater]") {
  const auto seawater = make_seawater();
  for (double t = -2; t <= 118; t += 4) {
    for (double s = 0; s < 0.12; s += 0.005) {
      CAPTURE(t, s);
      const auto here = seawater->at(state(t, s));
      const auto saltier = seawater->at(state(t, s + 0.005));
      const auto warmer = seawater->at(state(t + 1, s));
      CHECK(saltier.sound_speed_m_s->value > here.sound_speed_m_s->value);
      CHECK(saltier.density_kg_m3->value > here.density_kg_m3->value);
      CHECK(saltier.viscosity_Pa_s->value > here.viscosity_Pa_s->value);
      CHECK(warmer.viscosity_Pa_s->value < here.viscosity_Pa_s->value);
      if (t >= 4) CHECK(warmer.density_kg_m3->value < here.density_kg_m3->value);
    }
  }
}

TEST_CASE("seawater's uncertainty grows where less is known", "[liquids][seawater]") {
  const auto seawater = make_seawater();
  const auto u = [&](double t, double s, double p = kAtmosphere_Pa) {
    return seawater->at(state(t, s, p)).sound_speed_m_s->u;
  };
  CHECK_THAT(u(20, 0.035), Catch::WithinAbs(0.3, 0.001));
  CHECK(u(20, 0.07) > u(20, 0.035));
  CHECK(u(80, 0.035) > u(20, 0.035));
  CHECK(u(20, 0.035, 50e6) > u(20, 0.035));
  CHECK_THAT(u(20, 0.13), Catch::WithinRel(3 * (u(20, 0.12) + 0.5), 1e-9));  // beyond the range
  CHECK(u(122, 0.03) > 2.9 * u(120, 0.03));
  CHECK(u(-4, 0.035) > 2.9 * u(-2, 0.035));
}

TEST_CASE("seawater absorbs more than water, and less steeply with frequency",
          "[liquids][seawater]") {
  const auto seawater = make_seawater();
  const Absorption pure = *seawater->absorption(state(20, 0));
  const Absorption sea = *seawater->absorption(state(20, 0.035));
  // 3.1 times the shear part of water at 20 degC, 0.2185 dB/m; K = 3.10 there by Pinkerton.
  CHECK_THAT(pure.dB_m, Catch::WithinAbs(0.2185, 0.001));
  CHECK(pure.power == 2);
  // Magnesium sulfate: 0.1 dB/m from 0.5 MHz up (from memory), on the 7 % more viscous and 8 %
  // (c^3) faster solution: 0.2185 * 1.075 / (1.027 * 1.081) = 0.2116.
  CHECK_THAT(sea.dB_m, Catch::WithinAbs(0.3116, 0.001));
  for (double f_MHz : {0.5, 2.0}) {
    CAPTURE(f_MHz);
    const double want = 0.2116 * f_MHz * f_MHz + 0.1;
    CHECK_THAT(sea.dB_m * std::pow(f_MHz, sea.power), Catch::WithinRel(want, 1.1 * sea.relative_u));
  }
}

TEST_CASE("seawater tells its range, boiling and source", "[liquids][seawater]") {
  const auto seawater = make_seawater();
  const auto range = seawater->valid_range();
  REQUIRE(range.has_value());
  CHECK(range->lowest_temperature_K == 271.15);  // EOS-80
  CHECK(range->highest_pressure_Pa == 100e6);
  CHECK(range->highest_mass_fraction == 0.12);
  CHECK(*seawater->saturation_pressure_Pa(300) == *make_water()->saturation_pressure_Pa(300));
  for (const char* word : {"UNESCO", "Sharqawy", "Batzle-Wang", "from memory"}) {
    CHECK(seawater->source().find(word) != std::string_view::npos);
  }
  CHECK(seawater->source().size() < 160);
}

TEST_CASE("seawater refuses what is no state and what it does not know", "[liquids][seawater]") {
  const auto seawater = make_seawater();
  for (double bad : {kNaN, kInfinity, -kInfinity, 0.0, -1.0}) {
    CAPTURE(bad);
    CHECK_THROWS_AS(seawater->at({bad, 1e5, 0.03}), std::invalid_argument);
    CHECK_THROWS_AS(seawater->at({300, bad, 0.03}), std::invalid_argument);
    CHECK_THROWS_AS(seawater->absorption({bad, 1e5, 0.03}), std::invalid_argument);
    CHECK_THROWS_AS(seawater->freezing_temperature_K({300, bad, 0.03}), std::invalid_argument);
  }
  CHECK_THROWS_AS(seawater->at({300, 1e5, -0.01}), std::invalid_argument);
  CHECK_THROWS_AS(seawater->at({300, 1e5, 1.01}), std::invalid_argument);
  CHECK_THROWS_AS(seawater->at({300, 1e5, kNaN}), std::invalid_argument);

  CHECK_NOTHROW(seawater->at(state(-6.9, 0.035)));
  CHECK_THROWS_AS(seawater->at(state(-7.1, 0.035)), std::domain_error);
  CHECK_NOTHROW(seawater->at(state(124.9, 0.035)));
  CHECK_THROWS_AS(seawater->at(state(125.1, 0.035)), std::domain_error);
  CHECK_NOTHROW(seawater->at(state(20, 0.139)));
  CHECK_THROWS_AS(seawater->at(state(20, 0.141)), std::domain_error);
  CHECK_THROWS_AS(seawater->at(state(20, 0.035, 201e6)), std::domain_error);
  CHECK_THROWS_AS(seawater->absorption(state(20, 0.141)), std::domain_error);
}
