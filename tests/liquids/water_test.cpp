// Water against the check tables of the IAPWS releases, against independent equations and
// measurements, and against thermodynamic identities.

#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <initializer_list>
#include <limits>
#include <stdexcept>

#include "slantrule/liquids/water.hpp"

using namespace slantrule;

namespace {

constexpr double kAtmosphere_Pa = 101325;
constexpr double kNaN = std::numeric_limits<double>::quiet_NaN();
constexpr double kInfinity = std::numeric_limits<double>::infinity();

double kelvin(double temperature_degC) {
  return temperature_degC + 273.15;
}

double sound_speed_m_s(double temperature_degC, double pressure_Pa) {
  return make_water()
      ->at({.temperature_K = kelvin(temperature_degC), .pressure_Pa = pressure_Pa})
      .sound_speed_m_s->value;
}

double polynomial(std::initializer_list<double> coefficients, double x) {
  double sum = 0, power = 1;
  for (double coefficient : coefficients) {
    sum += coefficient * power;
    power *= x;
  }
  return sum;
}

// Fits to independent measurements at 1 atm, t on ITS-90.
// Bilaniuk and Wong 1993/1996, all 148 points, 0 to 100 degC.
double bilaniuk_wong_m_s(double t) {
  return polynomial(
      {1402.38744, 5.03836171, -0.0581172916, 0.000334638117, -1.48259672e-06, 3.1658502e-09}, t);
}
// Marczak 1997, J. Acoust. Soc. Am. 102, 2776, 0 to 95 degC. A copy with -5.779136e-2 goes round.
double marczak_m_s(double t) {
  return polynomial({1402.385, 5.038813, -0.05799136, 0.0003287156, -1.398845e-06, 2.78786e-09}, t);
}

// IAPWS SR6-08(2011): liquid water at 0.1 MPa in closed form, 253.15 to 383.15 K. The pairs are
// (a_i, n_i) and (b_i, m_i) of its table 1, R = 461.51805 J/(kg K).
namespace sr6 {
struct Pair {
  double factor, exponent;
};
struct Water {
  double density_kg_m3, sound_speed_m_s, viscosity_Pa_s, heat_capacity_J_kg_K;
};
// sum of factor (weight of the exponent) base^(exponent + raise)
template <typename Weight>
double sum(std::initializer_list<Pair> pairs, double base, double raise, Weight weight) {
  double total = 0;
  for (const Pair& pair : pairs) {
    total += pair.factor * weight(pair.exponent) * std::pow(base, pair.exponent + raise);
  }
  return total;
}
Water at(double temperature_K) {
  constexpr double kR = 461.51805, kTr = 10, kP0 = 1e5;
  const double tau = temperature_K / kTr;
  const double alpha = kTr / (593 - temperature_K), beta = kTr / (temperature_K - 232);
  const auto one = [](double) { return 1.0; };
  const auto first = [](double n) { return n; };
  const auto second = [](double n) { return n * (n + 1); };
  const auto a1 = {Pair{-166147.0539, 4}, Pair{2708781.64, 5}, Pair{-155719154.4, 7}};
  const auto b1 = {Pair{-0.8237426256, 2}, Pair{1.908956353, 3}, Pair{-2.017597384, 4},
                   Pair{0.8546361348, 5}};
  const auto a6 = {Pair{6744.58446, 4}, Pair{-222521.604, 5}, Pair{100231247, 7},
                   Pair{-1635521180, 8}, Pair{8322996580, 9}};
  const auto b5 = {Pair{0.00578545292, 1}, Pair{-0.0153195665, 2}, Pair{0.0311337859, 3},
                   Pair{-0.0423546241, 4}, Pair{0.0338713507, 5},  Pair{-0.0119946761, 6}};
  const auto a11 = {Pair{-7.5245878e-06, 1}, Pair{-0.013767418, 3}, Pair{10.627293, 5},
                    Pair{-204.57795, 6}, Pair{1203.7414, 7}};
  const auto b11 = {Pair{-3.109147e-06, 1}, Pair{2.8964919e-05, 3},  Pair{-0.00013112763, 4},
                    Pair{0.00030410453, 5}, Pair{-0.00039034594, 6}, Pair{0.00023403117, 7},
                    Pair{-4.8510101e-05, 9}};
  constexpr double kA5 = 0.0193763157, kC3 = -8.983025854;
  const double v = kR * kTr / kP0 * (kA5 + sum(a6, alpha, 0, one) + sum(b5, beta, 0, one));
  const double v_p = kR * kTr / (kP0 * kP0) * (sum(a11, alpha, 0, one) + sum(b11, beta, 0, one));
  const double v_t = kR / kP0 * (sum(a6, alpha, 1, first) - sum(b5, beta, 1, first));
  const double cp = -kR * (kC3 + tau * sum(a1, alpha, 2, second) + tau * sum(b1, beta, 2, second));
  const double ts = temperature_K / 300;
  const double mu_uPa_s = 280.68 * std::pow(ts, -1.9) + 511.45 * std::pow(ts, -7.7) +
                          61.131 * std::pow(ts, -19.6) + 0.45903 * std::pow(ts, -40);
  return {1 / v, std::sqrt(-v * v / (v_p + temperature_K * v_t * v_t / cp)), mu_uPa_s * 1e-6, cp};
}
}  // namespace sr6

}  // namespace

TEST_CASE("IF97 region 1 gives its verification table", "[liquids][if97]") {
  // R7-97(2012) table 5, nine digits; tolerances are half of the last.
  struct Row {
    double temperature_K, pressure_MPa, volume_m3_kg, enthalpy_kJ_kg, heat_capacity_kJ_kg_K,
        sound_speed_m_s;
    double volume_tol, enthalpy_tol;
  };
  for (const Row& row :
       {Row{300, 3, 0.00100215168, 115.331273, 4.17301218, 1507.73921, 0.5e-11, 0.5e-6},
        Row{300, 80, 0.000971180894, 184.142828, 4.01008987, 1634.69054, 0.5e-12, 0.5e-6},
        Row{500, 3, 0.00120241800, 975.542239, 4.65580682, 1240.71337, 0.5e-11, 0.5e-6}}) {
    CAPTURE(row.temperature_K, row.pressure_MPa);
    const auto got = if97::region1(row.temperature_K, row.pressure_MPa * 1e6);
    CHECK_THAT(1 / got.density_kg_m3, Catch::WithinAbs(row.volume_m3_kg, row.volume_tol));
    CHECK_THAT(got.enthalpy_J_kg / 1e3, Catch::WithinAbs(row.enthalpy_kJ_kg, row.enthalpy_tol));
    CHECK_THAT(got.isobaric_heat_capacity_J_kg_K / 1e3,
               Catch::WithinAbs(row.heat_capacity_kJ_kg_K, 0.5e-8));
    CHECK_THAT(got.sound_speed_m_s, Catch::WithinAbs(row.sound_speed_m_s, 0.5e-5));
    CHECK_THAT(if97::region1_density_kg_m3(row.temperature_K, row.pressure_MPa * 1e6),
               Catch::WithinRel(got.density_kg_m3, 1e-15));  // the same sum: rounding
  }
}

TEST_CASE("IF97 region 1 is one consistent equation", "[liquids][if97]") {
  // cp = dh/dT and 1/c^2 = (drho/dp)_T - T alpha^2 / cp by central differences; the step errors are
  // some 1e-7 of the whole.
  for (double temperature_K : {280.0, 350.0, 450.0, 600.0}) {
    for (double pressure_Pa : {20e6, 60e6, 90e6}) {
      CAPTURE(temperature_K, pressure_Pa);
      const double dt = 0.01, dp = 1e3;
      const auto here = if97::region1(temperature_K, pressure_Pa);
      const auto warmer = if97::region1(temperature_K + dt, pressure_Pa);
      const auto colder = if97::region1(temperature_K - dt, pressure_Pa);
      const double rho_p = (if97::region1(temperature_K, pressure_Pa + dp).density_kg_m3 -
                            if97::region1(temperature_K, pressure_Pa - dp).density_kg_m3) /
                           (2 * dp);
      const double alpha =
          -(warmer.density_kg_m3 - colder.density_kg_m3) / (2 * dt) / here.density_kg_m3;
      const double cp = here.isobaric_heat_capacity_J_kg_K;
      CHECK_THAT((warmer.enthalpy_J_kg - colder.enthalpy_J_kg) / (2 * dt),
                 Catch::WithinRel(cp, 1e-6));
      CHECK_THAT(1 / std::sqrt(rho_p - temperature_K * alpha * alpha / cp),
                 Catch::WithinRel(here.sound_speed_m_s, 1e-6));
    }
  }
}

TEST_CASE("IF97 region 4 gives its verification tables", "[liquids][if97]") {
  struct Row {
    const char* source;
    double temperature_K, pressure_MPa, tol_MPa;
  };
  for (const Row& row : {Row{"R7-97(2012) table 35", 300, 0.353658941e-2, 0.5e-11},
                         Row{"R7-97(2012) table 35", 500, 0.263889776e1, 0.5e-8},
                         Row{"R7-97(2012) table 35", 600, 0.123443146e2, 0.5e-7},
                         Row{"R7-97(2012) section 8.2, lower end", 273.15, 611.213e-6, 0.5e-9},
                         Row{"R7-97(2012) section 8.2, critical point", 647.096, 22.064, 0.5e-3},
                         Row{"R6-95(2018), triple point 611.657 Pa", 273.16, 611.657e-6, 1e-9}}) {
    CAPTURE(row.source, row.temperature_K);
    CHECK_THAT(if97::saturation_pressure_Pa(row.temperature_K) / 1e6,
               Catch::WithinAbs(row.pressure_MPa, row.tol_MPa));
  }
  // Table 36, printed to 1e-6 K.
  CHECK_THAT(if97::saturation_temperature_K(0.1e6), Catch::WithinAbs(372.755919, 0.5e-6));
  CHECK_THAT(if97::saturation_temperature_K(1e6), Catch::WithinAbs(453.035632, 0.5e-6));
  CHECK_THAT(if97::saturation_temperature_K(10e6), Catch::WithinAbs(584.149488, 0.5e-6));
}

TEST_CASE("saturation backward undoes forward", "[liquids][if97]") {
  // Both solve the same quadratic form: rounding, enlarged by the square roots.
  double lower_Pa = 0;
  for (double temperature_K = 253.15; temperature_K <= 647.0; temperature_K += 3.7) {
    CAPTURE(temperature_K);
    const double pressure_Pa = if97::saturation_pressure_Pa(temperature_K);
    CHECK(pressure_Pa > lower_Pa);
    CHECK_THAT(if97::saturation_temperature_K(pressure_Pa), Catch::WithinAbs(temperature_K, 1e-9));
    lower_Pa = pressure_Pa;
  }
}

TEST_CASE("IAPWS-95 gives its verification table", "[liquids][iapws95]") {
  // R6-95(2018) table 7, nine digits; tolerances are half of the last.
  struct Row {
    double temperature_K, density_kg_m3, pressure_MPa, pressure_tol_MPa, sound_speed_m_s;
  };
  for (const Row& row : {Row{300, 996.556, 0.992418352e-1, 0.5e-10, 1501.51914},
                         Row{300, 1005.308, 0.200022515e2, 0.5e-7, 1534.92501},
                         Row{300, 1188.202, 0.700004704e3, 0.5e-6, 2443.57992},
                         Row{500, 838.025, 0.100003858e2, 0.5e-7, 1271.28441},
                         Row{500, 1084.564, 0.700000405e3, 0.5e-6, 2412.00877}}) {
    CAPTURE(row.temperature_K, row.density_kg_m3);
    const auto got = iapws95::at_density(row.temperature_K, row.density_kg_m3);
    CHECK_THAT(got.pressure_Pa / 1e6, Catch::WithinAbs(row.pressure_MPa, row.pressure_tol_MPa));
    CHECK_THAT(got.sound_speed_m_s, Catch::WithinAbs(row.sound_speed_m_s, 0.5e-5));
  }
}

TEST_CASE("IAPWS-95 gives the liquid densities of the saturation table", "[liquids][iapws95]") {
  // R6-95(2018) table 8, from memory: nine digits.
  CHECK_THAT(iapws95::liquid_density_kg_m3(275, 0.698451167e3, 1000),
             Catch::WithinAbs(0.999887406e3, 0.5e-6));
  CHECK_THAT(iapws95::liquid_density_kg_m3(450, 0.932203564e6, 900),
             Catch::WithinAbs(0.890341250e3, 0.5e-6));
}

TEST_CASE("IAPWS-95: pressure of the density, slope and order", "[liquids][iapws95]") {
  for (double temperature_K : {253.15, 273.15, 298.15, 373.15, 473.15, 573.15, 623.15}) {
    double lower_kg_m3 = 0;
    for (double pressure_Pa : {17e6, 30e6, 100e6, 300e6, 1000e6}) {
      CAPTURE(temperature_K, pressure_Pa);
      const double density_kg_m3 = iapws95::liquid_density_kg_m3(temperature_K, pressure_Pa,
                                                                 temperature_K < 600 ? 950 : 700);
      const auto got = iapws95::at_density(temperature_K, density_kg_m3);
      CHECK_THAT(got.pressure_Pa, Catch::WithinRel(pressure_Pa, 1e-9));
      CHECK(density_kg_m3 > lower_kg_m3);
      lower_kg_m3 = density_kg_m3;
      const double step = 1e-3;
      const double slope = (iapws95::at_density(temperature_K, density_kg_m3 + step).pressure_Pa -
                            iapws95::at_density(temperature_K, density_kg_m3 - step).pressure_Pa) /
                           (2 * step);
      CHECK_THAT(got.pressure_slope_Pa_m3_kg, Catch::WithinRel(slope, 1e-7));
      // c^2 - dp/drho = T (dp/dT)^2 / (rho^2 cv) is never negative.
      CHECK(got.sound_speed_m_s * got.sound_speed_m_s >= got.pressure_slope_Pa_m3_kg);
    }
  }
  // At low pressure the terms of rho R T (1 + delta phir_delta), 126 MPa each, cancel almost
  // wholly; their rounding, 1e-12 at most, leaves 1e-4 Pa: 5e-14 of the density.
  for (double pressure_Pa : {700.0, 1e4, 1e5, 1e6}) {
    CAPTURE(pressure_Pa);
    const double density_kg_m3 = iapws95::liquid_density_kg_m3(274, pressure_Pa, 1000);
    CHECK_THAT(iapws95::at_density(274, density_kg_m3).pressure_Pa,
               Catch::WithinAbs(pressure_Pa, 1e-4));
  }
}

TEST_CASE("the speed of sound of IAPWS-95 is the isentropic one", "[liquids][iapws95]") {
  // c^2 = dp/drho + T (dp/dT)^2 / (rho^2 cv), with dp/dT by differences and cv from Mayer's
  // relation on the cp of IF97, another equation of state. An error of 0.2 % in that cp, times the
  // second part's share of c^2 (up to a tenth in these rows), halved by the root: 1e-4.
  for (double temperature_K : {280.0, 300.0, 320.0, 350.0}) {
    CAPTURE(temperature_K);
    const double pressure_Pa = 5e6, dt = 0.01;
    const double rho = iapws95::liquid_density_kg_m3(temperature_K, pressure_Pa, 1000);
    const auto here = iapws95::at_density(temperature_K, rho);
    const double p_t = (iapws95::at_density(temperature_K + dt, rho).pressure_Pa -
                        iapws95::at_density(temperature_K - dt, rho).pressure_Pa) /
                       (2 * dt);
    const double excess =
        temperature_K * p_t * p_t / (rho * rho);  // T (dp/dT)^2 / rho^2 = (cp - cv) dp/drho
    const double cv = if97::region1(temperature_K, pressure_Pa).isobaric_heat_capacity_J_kg_K -
                      excess / here.pressure_slope_Pa_m3_kg;
    const double c = std::sqrt(here.pressure_slope_Pa_m3_kg + excess / cv);
    CHECK_THAT(here.sound_speed_m_s, Catch::WithinRel(c, 2e-4));
  }
}

TEST_CASE("R12-08 gives its verification table", "[liquids][viscosity]") {
  // R12-08 table 4 (critical enhancement factor 1), printed to 1e-6 uPa s.
  struct Row {
    double temperature_K, density_kg_m3, viscosity_uPa_s;
  };
  for (const Row& row :
       {Row{298.15, 998, 889.735100}, Row{298.15, 1200, 1437.649467}, Row{373.15, 1000, 307.883622},
        Row{433.15, 1, 14.538324}, Row{433.15, 1000, 217.685358}, Row{873.15, 1, 32.619287},
        Row{873.15, 100, 35.802262}, Row{873.15, 600, 77.430195}, Row{1173.15, 1, 44.217245},
        Row{1173.15, 100, 47.640433}, Row{1173.15, 400, 64.154608}}) {
    CAPTURE(row.temperature_K, row.density_kg_m3);
    CHECK_THAT(iapws_viscosity::dynamic_viscosity_Pa_s(row.temperature_K, row.density_kg_m3) * 1e6,
               Catch::WithinAbs(row.viscosity_uPa_s, 0.5e-6));
  }
}

TEST_CASE("the closed form SR6-08 of this test gives its own table", "[liquids][water]") {
  // SR6-08(2011) table 8.
  struct Row {
    double temperature_K, density_kg_m3, density_tol, sound_speed_m_s, viscosity_uPa_s,
        viscosity_tol, heat_capacity_kJ_kg_K;
  };
  for (const Row& row :
       {Row{260, 997.06836, 0.5e-5, 1324.87258, 3058.36075, 0.5e-5, 4.30017472},
        Row{298.15, 997.047013, 0.5e-6, 1496.69922, 889.996774, 0.5e-6, 4.18144618},
        Row{375, 957.009710, 0.5e-6, 1541.46611, 276.207245, 0.5e-6, 4.21774697}}) {
    CAPTURE(row.temperature_K);
    const auto got = sr6::at(row.temperature_K);
    CHECK_THAT(got.density_kg_m3, Catch::WithinAbs(row.density_kg_m3, row.density_tol));
    CHECK_THAT(got.sound_speed_m_s, Catch::WithinAbs(row.sound_speed_m_s, 0.5e-5));
    CHECK_THAT(got.viscosity_Pa_s * 1e6, Catch::WithinAbs(row.viscosity_uPa_s, row.viscosity_tol));
    CHECK_THAT(got.heat_capacity_J_kg_K / 1e3, Catch::WithinAbs(row.heat_capacity_kJ_kg_K, 0.5e-8));
  }
}

TEST_CASE("water follows the closed form SR6-08 at 0.1 MPa", "[liquids][water]") {
  // SR6-08 was fitted to IAPWS-95 and R12-08, supercooled water included. Tolerances are far below
  // the uncertainties that water states: one part in a million of the density, some mm/s, 0.1 %.
  const auto water = make_water();
  for (double temperature_K = 253.15; temperature_K < 372.7; temperature_K += 1.9) {
    CAPTURE(temperature_K);
    const auto want = sr6::at(temperature_K);
    const auto got = water->at({.temperature_K = temperature_K, .pressure_Pa = 1e5});
    CHECK_THAT(iapws95::liquid_density_kg_m3(temperature_K, 1e5, got.density_kg_m3->value),
               Catch::WithinAbs(want.density_kg_m3, 0.001));
    // Plans take IF97's density, which is as near as the uncertainty stated with it.
    CHECK_THAT(got.density_kg_m3->value,
               Catch::WithinAbs(want.density_kg_m3, got.density_kg_m3->u));
    CHECK_THAT(got.sound_speed_m_s->value, Catch::WithinAbs(want.sound_speed_m_s, 0.006));
    CHECK_THAT(got.viscosity_Pa_s->value, Catch::WithinRel(want.viscosity_Pa_s, 0.001));
  }
}

TEST_CASE("speed of sound at 1 atm as two other programs give it", "[liquids][water]") {
  // IAPWS-95 solved at 101325 Pa by two independent programs that agree; printed to 0.001 m/s.
  struct Row {
    double temperature_degC, sound_speed_m_s;
  };
  for (const Row& row : std::initializer_list<Row>{
           {0.01, 1402.433},
           {10, 1447.272},
           {20, 1482.346},
           {25, 1496.701},
           {30, 1509.154},
           {40, 1528.904},
           {50, 1542.577},
           {60, 1550.973},
           {70, 1554.747},
           {74, 1555.085},
           {80, 1554.430},
           {90, 1550.452},
           {95, 1547.200},
       }) {
    CAPTURE(row.temperature_degC);
    CHECK_THAT(sound_speed_m_s(row.temperature_degC, kAtmosphere_Pa),
               Catch::WithinAbs(row.sound_speed_m_s, 0.0006));
  }
}

TEST_CASE("speed of sound and density under pressure as two other programs give them",
          "[liquids][water]") {
  // As above, printed to 0.001 m/s and 0.0001 kg/m3.
  struct Row {
    double temperature_degC, pressure_MPa, sound_speed_m_s, density_kg_m3;
  };
  for (const Row& row :
       {Row{20, 0.101325, 1482.346, 998.2072}, Row{60, 0.101325, 1550.973, 983.1958},
        Row{20, 5, 1490.456, 1000.4396}, Row{80, 5, 1564.121, 973.9735},
        Row{150, 5, 1478.038, 919.5575}, Row{200, 10, 1362.154, 870.9353}}) {
    CAPTURE(row.temperature_degC, row.pressure_MPa);
    const auto got = make_water()->at(
        {.temperature_K = kelvin(row.temperature_degC), .pressure_Pa = row.pressure_MPa * 1e6});
    CHECK_THAT(got.sound_speed_m_s->value, Catch::WithinAbs(row.sound_speed_m_s, 0.0006));
    CHECK_THAT(iapws95::liquid_density_kg_m3(kelvin(row.temperature_degC), row.pressure_MPa * 1e6,
                                             got.density_kg_m3->value),
               Catch::WithinAbs(row.density_kg_m3, 0.6e-4));
    CHECK_THAT(got.density_kg_m3->value, Catch::WithinAbs(row.density_kg_m3, got.density_kg_m3->u));
  }
}

TEST_CASE("water agrees with measurements at 1 atm within its stated u", "[liquids][water]") {
  for (double t = 0; t <= 95; t += 2.5) {
    CAPTURE(t);
    const auto got = make_water()->at({.temperature_K = kelvin(t), .pressure_Pa = kAtmosphere_Pa});
    const Estimate c = *got.sound_speed_m_s;
    CHECK_THAT(c.u, Catch::WithinAbs(0.1, 1e-12));  // judged for planning
    CHECK_THAT(c.value, Catch::WithinAbs(bilaniuk_wong_m_s(t), c.u));
    CHECK_THAT(c.value, Catch::WithinAbs(marczak_m_s(t), c.u));
  }
  // Its maximum: Marczak 1555.140 m/s at 74.17 degC, SR6-08 1555.08 at 74.13.
  CHECK_THAT(sound_speed_m_s(74, kAtmosphere_Pa), Catch::WithinAbs(1555.085, 0.0006));
  CHECK(sound_speed_m_s(73.5, kAtmosphere_Pa) < sound_speed_m_s(74.15, kAtmosphere_Pa));
  CHECK(sound_speed_m_s(74.8, kAtmosphere_Pa) < sound_speed_m_s(74.15, kAtmosphere_Pa));
}

TEST_CASE("water agrees with measurements under pressure within its stated 2 u",
          "[liquids][water]") {
  // Belogol'skii, Sekoyan et al., Meas. Tech. 42, 406 (1999): c(t, p) = c(t, Bilaniuk and Wong)
  // + sum a_ij t^i (p/MPa - 0.101325)^j, 0 to 40 degC, up to 60 MPa; j = 1 to 3 in each row.
  constexpr double a[4][3] = {
      {1.49043589, 0.00431532833, -1.852993525e-05},
      {0.01077850609, -0.0002938590293, 1.481844713e-06},
      {-0.0002232794656, 6.822485943e-06, -3.940994021e-08},
      {2.718246452e-06, -6.674551162e-08, 3.939902307e-10},
  };
  for (double t : {0.0, 10.0, 20.0, 30.0, 40.0}) {
    for (double pressure_MPa : {1.0, 2.0, 5.0, 10.0, 20.0, 40.0, 60.0}) {
      CAPTURE(t, pressure_MPa);
      double want = bilaniuk_wong_m_s(t);
      const double p = pressure_MPa - 0.101325;
      for (int i = 0; i < 4; ++i) {
        for (int j = 0; j < 3; ++j) want += a[i][j] * std::pow(t, i) * std::pow(p, j + 1);
      }
      const auto got =
          make_water()->at({.temperature_K = kelvin(t), .pressure_Pa = pressure_MPa * 1e6});
      const Estimate c = *got.sound_speed_m_s;
      CHECK_THAT(c.value, Catch::WithinAbs(want, 2 * c.u));
      if (t >= 20 && pressure_MPa <= 10) CHECK_THAT(c.value, Catch::WithinAbs(want, 0.1));
    }
  }
}

TEST_CASE("a polynomial fitted to another program's IAPWS-95 agrees", "[liquids][water]") {
  // c = sum a_ij (t/100 degC)^i (p/10 MPa)^j, 0.01 to 200 degC, saturation to 10 MPa; its largest
  // deviation from IAPWS-95 is stated as 0.017 m/s.
  constexpr double a[8][3] = {
      {1402.23691, 15.9721715, 0.133653978},
      {503.090908, 1.63692011, -0.70962332},
      {-576.605512, 7.80351812, 0.47127267},
      {328.316034, -9.36793435, -0.171058043},
      {-155.157043, 8.16277543, -0.0286929882},
      {50.0893658, -3.22338213, 0},
      {-9.89009386, 0.532749849, 0},
      {0.862625067, 0, 0},
  };
  for (double t = 0.01; t < 200; t += 9.7) {
    for (double pressure_MPa : {2.0, 4.0, 7.0, 10.0}) {
      CAPTURE(t, pressure_MPa);
      double want = 0;
      for (int i = 0; i < 8; ++i) {
        for (int j = 0; j < 3; ++j) {
          want += a[i][j] * std::pow(t / 100, i) * std::pow(pressure_MPa / 10, j);
        }
      }
      CHECK_THAT(sound_speed_m_s(t, pressure_MPa * 1e6), Catch::WithinAbs(want, 0.018));
    }
  }
}

TEST_CASE("IF97 is off in the speed of sound where another program found it to be",
          "[liquids][if97]") {
  // IF97 minus IAPWS-95 in m/s, printed to 0.01: why plans do not use the IF97 speed of sound.
  struct Row {
    double pressure_MPa, temperature_degC, difference_m_s;
  };
  for (const Row& row : std::initializer_list<Row>{
           {0.101325, 0.01, 0.06}, {0.101325, 20, 1.07}, {0.101325, 40, 2.4}, {0.101325, 60, 2.89},
           {0.101325, 80, 2.64},   {1, 0.01, 0.03},      {1, 20, 1.01},       {1, 40, 2.28},
           {1, 60, 2.76},          {1, 80, 2.52},        {1, 100, 1.84},      {1, 120, 1.05},
           {1, 150, 0.14},         {2, 0.01, -0.0},      {2, 20, 0.93},       {2, 40, 2.16},
           {2, 60, 2.63},          {2, 80, 2.4},         {2, 100, 1.74},      {2, 120, 0.98},
           {2, 150, 0.13},         {2, 180, -0.32},      {2, 200, -0.52},     {5, 0.01, -0.08},
           {5, 20, 0.73},          {5, 40, 1.81},        {5, 60, 2.23},       {5, 80, 2.04},
           {5, 100, 1.45},         {5, 120, 0.78},       {5, 150, 0.09},      {5, 180, -0.15},
           {5, 200, -0.23},        {5, 250, 0.14},       {10, 0.01, -0.18},   {10, 20, 0.44},
           {10, 40, 1.27},         {10, 60, 1.63},       {10, 80, 1.49},      {10, 100, 0.99},
           {10, 120, 0.44},        {10, 150, -0.02},     {10, 180, 0.03},     {10, 200, 0.15},
           {10, 250, 0.31},        {10, 300, 0.06},      {20, 0.01, -0.24},   {20, 20, 0.01},
           {20, 40, 0.39},         {20, 60, 0.65},       {20, 80, 0.58},      {20, 100, 0.24},
           {20, 120, -0.15},       {20, 150, -0.34},     {20, 180, 0.09},     {20, 200, 0.48},
           {20, 250, 0.72},        {20, 300, 0.21},
       }) {
    CAPTURE(row.pressure_MPa, row.temperature_degC);
    const double pressure_Pa = row.pressure_MPa * 1e6;
    CHECK_THAT(if97::region1(kelvin(row.temperature_degC), pressure_Pa).sound_speed_m_s -
                   sound_speed_m_s(row.temperature_degC, pressure_Pa),
               Catch::WithinAbs(row.difference_m_s, 0.0055));
  }
}

TEST_CASE("IF97 density and IAPWS-95 density agree", "[liquids][water]") {
  // Two equations of state; R7-97 was made to follow IAPWS-95. Tolerance: the stated u, 0.01 %.
  for (double t : {5.0, 25.0, 60.0, 100.0, 150.0, 200.0, 250.0, 300.0}) {
    for (double pressure_Pa : {10e6, 30e6, 90e6}) {
      CAPTURE(t, pressure_Pa);
      const auto got = make_water()->at({.temperature_K = kelvin(t), .pressure_Pa = pressure_Pa});
      CHECK_THAT(got.density_kg_m3->value,
                 Catch::WithinRel(if97::region1_density_kg_m3(kelvin(t), pressure_Pa), 1e-4));
    }
  }
}

TEST_CASE("viscosity of water at 20 degC is the reference value", "[liquids][water]") {
  // ISO/TR 3666: 1.0016 mPa s, u = 0.17 % (from memory).
  const auto got = make_water()->at({.temperature_K = 293.15, .pressure_Pa = kAtmosphere_Pa});
  CHECK_THAT(got.viscosity_Pa_s->value, Catch::WithinRel(1.0016e-3, 0.0017));
  CHECK_THAT(got.viscosity_Pa_s->u / got.viscosity_Pa_s->value, Catch::WithinRel(0.0017, 1e-12));
}

TEST_CASE("water is answered with finite numbers everywhere it answers", "[liquids][water]") {
  const auto water = make_water();
  for (double temperature_K : {253.15, 263.0, 273.15, 300.0, 373.15, 450.0, 550.0, 600.0, 623.15}) {
    for (double pressure_Pa : {1e-3, 1.0, 1e3, 1e5, 2e5, 1e6, 1e7, 1.7e7, 1e8, 1.1e8, 1e9}) {
      CAPTURE(temperature_K, pressure_Pa);
      const auto got = water->at({.temperature_K = temperature_K, .pressure_Pa = pressure_Pa});
      for (const auto& estimate : {got.sound_speed_m_s, got.density_kg_m3, got.viscosity_Pa_s}) {
        REQUIRE(estimate.has_value());
        CHECK((estimate->value > 0 && std::isfinite(estimate->value)));
        CHECK((estimate->u > 0 && estimate->u < 0.06 * estimate->value));
      }
    }
  }
}

TEST_CASE("below saturation pressure water is given at saturation", "[liquids][water]") {
  const auto water = make_water();
  for (double temperature_K : {300.0, 420.0, 600.0, 623.15}) {
    const double saturation_Pa = *water->saturation_pressure_Pa(temperature_K);
    const auto below =
        water->at({.temperature_K = temperature_K, .pressure_Pa = saturation_Pa / 2});
    const auto at = water->at({.temperature_K = temperature_K, .pressure_Pa = saturation_Pa});
    CHECK(below.sound_speed_m_s->value == at.sound_speed_m_s->value);
    CHECK(below.density_kg_m3->value == at.density_kg_m3->value);
    CHECK(below.viscosity_Pa_s->value == at.viscosity_Pa_s->value);
  }
}

TEST_CASE("water states larger uncertainties away from the well-known states", "[liquids][water]") {
  const auto u_of = [](double temperature_K, double pressure_Pa) {
    return make_water()
        ->at({.temperature_K = temperature_K, .pressure_Pa = pressure_Pa})
        .sound_speed_m_s->u;
  };
  const double usual = u_of(293.15, kAtmosphere_Pa);
  CHECK(u_of(293.15, 1e6) > usual);
  CHECK(u_of(293.15, 50e6) > u_of(293.15, 1e6));
  CHECK(u_of(393.15, 1.9e5) > usual);  // above 100 degC
  CHECK(u_of(263.15, kAtmosphere_Pa) > u_of(293.15, 50e6));
  CHECK(u_of(293.15, 150e6) > u_of(293.15, 50e6));
}

TEST_CASE("water freezes on the melting line of ice Ih", "[liquids][water]") {
  const auto freezing_K = [](double pressure_Pa) {
    return make_water()->freezing_temperature_K({.temperature_K = 300, .pressure_Pa = pressure_Pa});
  };
  // The ice point, by its definition; and not above it at lower pressure.
  CHECK_THAT(*freezing_K(kAtmosphere_Pa), Catch::WithinAbs(273.15, 1e-9));
  CHECK_THAT(*freezing_K(1e3), Catch::WithinAbs(273.15, 1e-9));
  // R14-08(2011), check value for ice Ih: 138.268 MPa at 260 K (from memory); half its last digit
  // times 1.2e-7 K/Pa.
  CHECK_THAT(*freezing_K(138.268e6), Catch::WithinAbs(260, 1e-4));
  // Clausius and Clapeyron at 0 degC: T (1/916.7 - 1/999.8) / 333.5e3 J/kg = 7.43e-8 K/Pa
  // (densities and heat of melting of the handbooks, from memory).
  const double slope = 273.15 * (1 / 916.7 - 1 / 999.8) / 333.5e3;
  CHECK_THAT(*freezing_K(0.2e6) - *freezing_K(0.4e6), Catch::WithinRel(slope * 0.2e6, 0.005));
  CHECK_FALSE(freezing_K(209e6).has_value());
}

TEST_CASE("water absorbs 0.2 dB/m at 1 MHz", "[liquids][water]") {
  // Pinkerton 1949, in dB/m at 1 MHz, as another program evaluates the fit.
  struct Row {
    double temperature_degC, dB_m;
  };
  const auto water = make_water();
  for (const Row& row : {Row{0, 0.493}, Row{10, 0.311}, Row{20, 0.219}, Row{25, 0.189},
                         Row{30, 0.166}, Row{40, 0.130}}) {
    CAPTURE(row.temperature_degC);
    const auto got =
        water->absorption({.temperature_K = kelvin(row.temperature_degC), .pressure_Pa = 1e5});
    REQUIRE(got.has_value());
    CHECK_THAT(got->dB_m, Catch::WithinAbs(row.dB_m, 0.0006));
    CHECK(got->at_Hz == 1e6);
    CHECK(got->power == 2);
  }
  const auto relative_u = [&](double t, double pressure_Pa) {
    return water->absorption({.temperature_K = kelvin(t), .pressure_Pa = pressure_Pa})->relative_u;
  };
  CHECK(relative_u(20, 1e5) < relative_u(80, 1e5));
  CHECK(relative_u(80, 1e5) < relative_u(150, 1e6));
  CHECK(relative_u(20, 1e5) < relative_u(20, 50e6));
  CHECK_THROWS_AS(water->absorption({300, 1e5, 0.1}), std::invalid_argument);
  CHECK_THROWS_AS(water->absorption({623.16, 20e6, 0}), std::domain_error);
}

TEST_CASE("water tells where it boils, where it is valid and whence it comes", "[liquids][water]") {
  const auto water = make_water();
  CHECK_THAT(*water->saturation_pressure_Pa(300),
             Catch::WithinAbs(3536.58941, 0.5e-5));  // table 35
  CHECK_FALSE(water->saturation_pressure_Pa(648).has_value());
  CHECK_FALSE(water->saturation_pressure_Pa(250).has_value());
  const auto range = water->valid_range();
  REQUIRE(range.has_value());
  CHECK(range->lowest_temperature_K == 273.15);  // R7-97 region 1
  CHECK(range->highest_temperature_K == 623.15);
  CHECK(range->highest_pressure_Pa == 100e6);
  for (const char* release : {"R6-95", "R7-97", "R12-08"}) {
    CHECK(water->source().find(release) != std::string_view::npos);
  }
}

TEST_CASE("water refuses what is no state and what is no liquid", "[liquids][water]") {
  const auto water = make_water();
  const auto at = [&](double temperature_K, double pressure_Pa, double mass_fraction = 0) {
    return water->at({temperature_K, pressure_Pa, mass_fraction});
  };
  for (double bad : {kNaN, kInfinity, -kInfinity, 0.0, -1.0}) {
    CAPTURE(bad);
    CHECK_THROWS_AS(at(bad, 1e5), std::invalid_argument);
    CHECK_THROWS_AS(at(300, bad), std::invalid_argument);
    CHECK_THROWS_AS(water->saturation_pressure_Pa(bad), std::invalid_argument);
    CHECK_THROWS_AS(water->freezing_temperature_K({300, bad, 0}), std::invalid_argument);
    CHECK_THROWS_AS(if97::region1(bad, 1e6), std::invalid_argument);
    CHECK_THROWS_AS(if97::region1(300, bad), std::invalid_argument);
    CHECK_THROWS_AS(if97::region1_density_kg_m3(300, bad), std::invalid_argument);
    CHECK_THROWS_AS(if97::saturation_pressure_Pa(bad), std::invalid_argument);
    CHECK_THROWS_AS(if97::saturation_temperature_K(bad), std::invalid_argument);
    CHECK_THROWS_AS(iapws95::at_density(bad, 1000), std::invalid_argument);
    CHECK_THROWS_AS(iapws95::at_density(300, bad), std::invalid_argument);
    CHECK_THROWS_AS(iapws95::liquid_density_kg_m3(bad, 1e5, 1000), std::invalid_argument);
    CHECK_THROWS_AS(iapws95::liquid_density_kg_m3(300, bad, 1000), std::invalid_argument);
    CHECK_THROWS_AS(iapws95::liquid_density_kg_m3(300, 1e5, bad), std::invalid_argument);
    CHECK_THROWS_AS(iapws_viscosity::dynamic_viscosity_Pa_s(bad, 1000), std::invalid_argument);
    CHECK_THROWS_AS(iapws_viscosity::dynamic_viscosity_Pa_s(300, bad), std::invalid_argument);
  }
  CHECK_THROWS_AS(at(300, 1e5, 0.1), std::invalid_argument);  // a solution is not water
  CHECK_THROWS_AS(at(300, 1e5, kNaN), std::invalid_argument);

  CHECK_THROWS_AS(at(623.16, 20e6), std::domain_error);
  CHECK_THROWS_AS(at(253.14, 1e5), std::domain_error);
  CHECK_THROWS_AS(at(300, 1.001e9), std::domain_error);
  CHECK_NOTHROW(at(623.15, 20e6));
  CHECK_NOTHROW(at(253.15, 1e5));

  // Just outside each equation's range.
  CHECK_THROWS_AS(if97::region1(623.16, 50e6), std::invalid_argument);
  CHECK_THROWS_AS(if97::region1(300, 3500), std::invalid_argument);  // below 3536.6 Pa: vapour
  CHECK_THROWS_AS(if97::region1(300, 100.1e6), std::invalid_argument);
  CHECK_THROWS_AS(if97::saturation_pressure_Pa(647.1), std::invalid_argument);
  CHECK_THROWS_AS(if97::saturation_temperature_K(22.1e6), std::invalid_argument);
  CHECK_THROWS_AS(iapws95::at_density(300, 321), std::invalid_argument);
  CHECK_THROWS_AS(iapws95::at_density(300, 1401), std::invalid_argument);

  // 600 K and 400 kg/m3 lies between the spinodals; at 600 K and 1 kPa no liquid is even
  // metastable.
  CHECK_THROWS_AS(iapws95::at_density(600, 400), std::domain_error);
  CHECK_THROWS_AS(iapws95::liquid_density_kg_m3(600, 1e3, 650), std::domain_error);
}
