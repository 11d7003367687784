// What grains take from the sound, against a table computed elsewhere.

#include "slantrule/liquids/suspension.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>

using namespace slantrule;

namespace {

/// Quartz in water; one gram in a litre fills 1/2650 of it.
double loss_per_g_l_dB_m(double radius_um, double frequency_MHz) {
  return suspension_loss_dB_m({.volume_fraction = 1.0 / 2650, .grain_radius_m = radius_um * 1e-6},
                              frequency_MHz * 1e6);
}

}  // namespace

TEST_CASE("suspension: quartz in water", "[liquids]") {
  // Second-pass notes E6, dB/m per g/L, given to two digits; its water is not stated, so 3 % more.
  struct Row {
    double radius_um, at_500kHz, at_1MHz, at_2MHz;
  };
  const Row rows[] = {
      {1, 0.88, 1.6, 2.6}, {5, 0.32, 0.46, 0.66}, {20, 0.08, 0.12, 0.19}, {100, 0.03, 0.20, 2.9}};
  const auto digit = [](double value) { return value < 1 ? 0.005 : 0.05; };
  for (const Row& row : rows) {
    CAPTURE(row.radius_um);
    CHECK(loss_per_g_l_dB_m(row.radius_um, 0.5) ==
          Approx(row.at_500kHz).margin(digit(row.at_500kHz) + 0.03 * row.at_500kHz));
    CHECK(loss_per_g_l_dB_m(row.radius_um, 1) ==
          Approx(row.at_1MHz).margin(digit(row.at_1MHz) + 0.03 * row.at_1MHz));
    CHECK(loss_per_g_l_dB_m(row.radius_um, 2) ==
          Approx(row.at_2MHz).margin(digit(row.at_2MHz) + 0.03 * row.at_2MHz));
  }
  CHECK(loss_per_g_l_dB_m(200, 0.5) == Approx(0.10).margin(0.008));
  CHECK(loss_per_g_l_dB_m(200, 1) == Approx(1.4).margin(0.09));
}

TEST_CASE("suspension: coarse grains end at the geometric limit", "[liquids]") {
  // 3/(4 a) with a = 1 mm and 1 % is 7.5 Np/m = 65.14 dB/m; friction adds less than 3 % of that.
  const Suspension gravel{.volume_fraction = 0.01, .grain_radius_m = 1e-3};
  CHECK(suspension_loss_dB_m(gravel, 4e6) > 65.14);
  CHECK(suspension_loss_dB_m(gravel, 4e6) < 1.03 * 65.14);
  // 0.2 mm at 2 MHz: k a = 1.7. The open formula would give 23 dB/m per g/L (notes E6).
  CHECK(loss_per_g_l_dB_m(200, 2) < 13);
}

TEST_CASE("suspension: how the loss goes", "[liquids]") {
  const Suspension sand{.volume_fraction = 0.01, .grain_radius_m = 1e-4};
  Suspension twice = sand;
  twice.volume_fraction = 0.02;
  CHECK(suspension_loss_dB_m(twice, 1e6) ==
        Approx(2 * suspension_loss_dB_m(sand, 1e6)).epsilon(1e-14));
  Suspension clear = sand;
  clear.volume_fraction = 0;
  CHECK(suspension_loss_dB_m(clear, 1e6) == 0);
  // Grains as heavy as the liquid have no friction: scattering alone, k^4 a^3 / 6.
  Suspension floating = sand;
  floating.grain_density_kg_m3 = floating.liquid_density_kg_m3;
  const double k = 2 * std::numbers::pi * 1e6 / 1482;
  CHECK(suspension_loss_dB_m(floating, 1e6) ==
        Approx(20 / std::numbers::ln10 * 0.01 * std::pow(k, 4) * 1e-12 / 6).epsilon(1e-12));
  double before_dB_m = 0;
  for (double frequency_Hz = 1e5; frequency_Hz < 1e7; frequency_Hz *= 1.3) {
    const double now_dB_m = suspension_loss_dB_m(sand, frequency_Hz);
    CHECK(now_dB_m > before_dB_m);
    before_dB_m = now_dB_m;
  }
}

TEST_CASE("suspension: refuses what cannot be", "[liquids]") {
  constexpr double nan = std::numeric_limits<double>::quiet_NaN();
  const Suspension good{.volume_fraction = 0.01, .grain_radius_m = 1e-4};
  const auto refused = [&](auto change) {
    Suspension bad = good;
    change(bad);
    CHECK_THROWS_AS(suspension_loss_dB_m(bad, 1e6), std::invalid_argument);
  };
  refused([](Suspension& s) { s.volume_fraction = -0.01; });
  refused([](Suspension& s) { s.volume_fraction = 0.51; });
  refused([](Suspension& s) { s.volume_fraction = nan; });
  refused([](Suspension& s) { s.grain_radius_m = 0; });
  refused([](Suspension& s) { s.grain_density_kg_m3 = nan; });
  refused([](Suspension& s) { s.liquid_density_kg_m3 = 0; });
  refused([](Suspension& s) { s.liquid_sound_speed_m_s = -1; });
  refused([](Suspension& s) { s.kinematic_viscosity_m2_s = 0; });
  CHECK_THROWS_AS(suspension_loss_dB_m(good, 0), std::invalid_argument);
}
