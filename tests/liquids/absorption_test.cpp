// Absorption of ultrasound: the shear part by hand, water against two fits to measurements.

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "slantrule/liquids/absorption.hpp"
#include "slantrule/liquids/water.hpp"

using namespace slantrule;

namespace {

constexpr double kNaN = std::numeric_limits<double>::quiet_NaN();
constexpr double kInfinity = std::numeric_limits<double>::infinity();
constexpr double kDecibelPerNeper = 8.685889638065037;  // 20 log10(e)

}  // namespace

TEST_CASE("shear part of the absorption, by hand", "[liquids][absorption]") {
  // 2 pi^2 f^2 / (rho c^3) (4/3) mu: with rho 1000, c 1500, mu 1e-3, f 1 MHz
  // 19.7392088 e12 / 3.375e12 * 1.33333e-3 = 7.79821e-3 Np/m = 0.0677344 dB/m.
  CHECK_THAT(shear_absorption_dB_m(1000, 1500, 1e-3, 1e6), Catch::WithinRel(0.0677344, 1e-5));
  // It grows with f^2 and mu, and falls with rho and c^3.
  CHECK_THAT(shear_absorption_dB_m(1000, 1500, 1e-3, 2e6), Catch::WithinRel(4 * 0.0677344, 1e-5));
  CHECK_THAT(shear_absorption_dB_m(500, 1500, 3e-3, 1e6), Catch::WithinRel(6 * 0.0677344, 1e-5));
  CHECK_THAT(shear_absorption_dB_m(1000, 3000, 1e-3, 1e6), Catch::WithinRel(0.0677344 / 8, 1e-5));

  const Absorption got = stokes_absorption(1000, 1500, 1e-3, 2.5, 0.4);
  CHECK_THAT(got.dB_m, Catch::WithinRel(2.5 * 0.0677344, 1e-5));
  CHECK(got.at_Hz == 1e6);
  CHECK(got.power == 2);
  CHECK(got.relative_u == 0.4);
}

TEST_CASE("shear part of the absorption of viscous liquids", "[liquids][absorption]") {
  // Independent evaluations, printed to two digits or fewer. Densities and speeds: mixture and
  // handbook values to three digits, far closer than the print.
  struct Row {
    const char* liquid;
    double density_kg_m3, sound_speed_m_s, viscosity_Pa_s, dB_m, tol;
  };
  for (const Row& row : {Row{"ethylene glycol 50 %, 20 degC", 1065, 1707, 3.69e-3, 0.16, 0.005},
                         Row{"ethylene glycol, 25 degC", 1110, 1660, 17.2e-3, 0.8, 0.05},
                         Row{"glycerol, 25 degC", 1258, 1912, 0.928, 24, 0.5},
                         Row{"toluene, 25 degC", 862, 1305, 0.552e-3, 0.066, 0.0005},
                         Row{"benzene, 25 degC", 874, 1298, 0.602e-3, 0.072, 0.0005}}) {
    CAPTURE(row.liquid);
    CHECK_THAT(
        shear_absorption_dB_m(row.density_kg_m3, row.sound_speed_m_s, row.viscosity_Pa_s, 1e6),
        Catch::WithinAbs(row.dB_m, row.tol));
  }
}

TEST_CASE("the two fits of water's absorption, evaluated by another program",
          "[liquids][absorption]") {
  struct Row {
    double temperature_degC, pinkerton_fNp, francois_garrison_fNp;  // 1e-15 Np s^2/m
  };
  for (const Row& row : {Row{0, 56.72, 56.84}, Row{10, 35.80, 35.78}, Row{20, 25.16, 25.34},
                         Row{25, 21.77, 21.92}, Row{30, 19.08, 19.06}, Row{40, 14.92, 14.78},
                         Row{50, 11.89, 12.05}, Row{60, 9.89, 10.41}}) {
    CAPTURE(row.temperature_degC);
    CHECK_THAT(pinkerton_absorption_Np_s2_m(row.temperature_degC) * 1e15,
               Catch::WithinAbs(row.pinkerton_fNp, 0.0051));
    CHECK_THAT(francois_garrison_absorption_Np_s2_m(row.temperature_degC) * 1e15,
               Catch::WithinAbs(row.francois_garrison_fNp, 0.0051));
  }
  CHECK_THAT(francois_garrison_absorption_Np_s2_m(80) * 1e15, Catch::WithinAbs(8.61, 0.0051));
  CHECK_THAT(francois_garrison_absorption_Np_s2_m(90) * 1e15, Catch::WithinAbs(7.56, 0.0051));
}

TEST_CASE("water's absorption is Pinkerton's fit and stays near the other one",
          "[liquids][absorption]") {
  for (double t = 0; t <= 90; t += 2.5) {
    CAPTURE(t);
    const double got = water_absorption_dB_m(t + 273.15, 1e6) / kDecibelPerNeper / 1e12;
    if (t <= 40) CHECK_THAT(got, Catch::WithinRel(pinkerton_absorption_Np_s2_m(t), 1e-12));
    // Twice the stated standard uncertainty of 3 and 10 %.
    CHECK_THAT(got,
               Catch::WithinRel(francois_garrison_absorption_Np_s2_m(t), t <= 60 ? 0.06 : 0.2));
  }
  // The values that the rule of thumb rounds: 0.2 dB/m at 1 MHz and 20 degC, with f^2.
  CHECK_THAT(water_absorption_dB_m(293.15, 1e6), Catch::WithinAbs(0.219, 0.001));
  CHECK_THAT(water_absorption_dB_m(293.15, 2e6), Catch::WithinAbs(4 * 0.2185, 0.002));
}

TEST_CASE("water's absorption falls smoothly up to 157 degC", "[liquids][absorption]") {
  // A jump of the slope by 1e-4 dB/m/K (3 % of it at 40 degC) would show as a second difference of
  // 1e-6 in steps of 0.01 K; the curvature gives less than 1e-7 dB/m above 0 degC, 5e-7 below.
  const double step = 0.01;
  double before = water_absorption_dB_m(253.15, 1e6);
  double here = water_absorption_dB_m(253.15 + step, 1e6);
  for (double temperature_K = 253.15 + 2 * step; temperature_K < 430; temperature_K += step) {
    const double after = water_absorption_dB_m(temperature_K, 1e6);
    if (!(after < here && std::abs(after - 2 * here + before) < 1e-6)) {
      CAPTURE(temperature_K);
      CHECK(after < here);
      CHECK(std::abs(after - 2 * here + before) < 1e-6);
    }
    before = here;
    here = after;
  }
}

TEST_CASE("absorption refuses what has no meaning", "[liquids][absorption]") {
  for (double bad : {kNaN, kInfinity, 0.0, -1.0}) {
    CAPTURE(bad);
    CHECK_THROWS_AS(shear_absorption_dB_m(bad, 1500, 1e-3, 1e6), std::invalid_argument);
    CHECK_THROWS_AS(shear_absorption_dB_m(1000, bad, 1e-3, 1e6), std::invalid_argument);
    CHECK_THROWS_AS(shear_absorption_dB_m(1000, 1500, bad, 1e6), std::invalid_argument);
    CHECK_THROWS_AS(shear_absorption_dB_m(1000, 1500, 1e-3, bad), std::invalid_argument);
    CHECK_THROWS_AS(stokes_absorption(1000, 1500, 1e-3, bad, 0.1), std::invalid_argument);
    CHECK_THROWS_AS(water_absorption_dB_m(bad, 1e6), std::invalid_argument);
    CHECK_THROWS_AS(water_absorption_dB_m(300, bad), std::invalid_argument);
  }
  CHECK_THROWS_AS(stokes_absorption(1000, 1500, 1e-3, 3, -0.1), std::invalid_argument);
  CHECK_THROWS_AS(stokes_absorption(1000, 1500, 1e-3, 3, kNaN), std::invalid_argument);
  CHECK_NOTHROW(stokes_absorption(1000, 1500, 1e-3, 3, 0));
  CHECK_THROWS_AS(pinkerton_absorption_Np_s2_m(60.1), std::invalid_argument);
  CHECK_THROWS_AS(pinkerton_absorption_Np_s2_m(-20.1), std::invalid_argument);
  CHECK_THROWS_AS(pinkerton_absorption_Np_s2_m(kNaN), std::invalid_argument);
  CHECK_THROWS_AS(francois_garrison_absorption_Np_s2_m(-0.1), std::invalid_argument);
  CHECK_THROWS_AS(francois_garrison_absorption_Np_s2_m(90.1), std::invalid_argument);
  CHECK_THROWS_AS(francois_garrison_absorption_Np_s2_m(kNaN), std::invalid_argument);
  CHECK_THROWS_AS(water_absorption_dB_m(253.14, 1e6), std::invalid_argument);
  CHECK_THROWS_AS(water_absorption_dB_m(623.16, 1e6), std::invalid_argument);
}
