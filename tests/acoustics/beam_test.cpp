// The field of finite elements: values by an independent program, published coefficients, direct
// Rayleigh integrals, and a second route (numerical integration of the definition).

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <complex>
#include <numbers>

#include "slantrule/acoustics/beam.hpp"

using namespace slantrule;

namespace {

constexpr double pi = std::numbers::pi;
constexpr double deg = pi / 180;

double sinc(double x) {
  return x == 0 ? 1 : std::sin(x) / x;
}

/// The definition as a convolution, triangle * exp(i y^2/(2u))/sqrt(2 pi i u), by Simpson's rule.
std::complex<double> by_integration(double xi, double u) {
  const int panels = 200000;
  std::complex<double> sum{0, 0};
  for (int i = 0; i <= panels; ++i) {
    const double t = -1 + 2.0 * i / panels;
    const double phase = (xi - t) * (xi - t) / (2 * u);
    const double weight = i == 0 || i == panels ? 1 : i % 2 == 1 ? 4 : 2;
    sum += weight * (1 - std::fabs(t)) * std::complex<double>{std::cos(phase), std::sin(phase)};
  }
  return sum * (2.0 / panels / 3) / std::sqrt(std::complex<double>{0, 2 * pi * u});
}

}  // namespace

TEST_CASE("Two-aperture function: values of an independent program") {
  struct Row {
    double xi, u, magnitude;
  };
  // By adaptive integration of the definition, an independent program; 1e-7.
  const Row rows[] = {
      {0, 0.001, 0.982345015674}, {0.5, 0.001, 0.500000544479}, {1, 0.001, 0.0126010108499},
      {0, 0.01, 0.94485008446},   {0.5, 0.01, 0.500861358655},  {1, 0.01, 0.0397560550841},
      {0, 0.05, 0.891429262318},  {0.5, 0.05, 0.506128034108},  {1, 0.05, 0.0850039905813},
      {0, 0.1, 0.853086273003},   {0.5, 0.1, 0.536242383294},   {1, 0.1, 0.099995596243},
      {0, 0.2, 0.793782113194},   {0.5, 0.2, 0.541135111837},   {1, 0.2, 0.234358472},
      {0, 0.5, 0.553387835982},   {0.5, 0.5, 0.51039079804},    {1, 0.5, 0.39819828904},
      {0, 1, 0.39701045764},      {0.5, 1, 0.38888023201},      {1, 1, 0.365297636268},
      {0, 2, 0.28175229913},      {0.5, 2, 0.280291095871},     {1, 2, 0.275943959841},
      {0, 5, 0.178377725672},     {0.5, 5, 0.178229179017},     {1, 5, 0.17778413309},
      {0, 20, 0.0892051217149},   {0.5, 20, 0.089200475813},    {1, 20, 0.0891865392688}};
  for (const Row& row : rows) {
    INFO("xi " << row.xi << ", u " << row.u);
    CHECK(two_aperture_magnitude(row.xi, row.u) == Approx(row.magnitude).margin(1e-7).epsilon(0));
    CHECK(two_aperture_magnitude(-row.xi, row.u) == two_aperture_magnitude(row.xi, row.u));
  }
}

TEST_CASE("Two-aperture function: the definition by another route, with its phase") {
  for (double u : {0.003, 0.02, 0.17, 0.9, 7.0, 99.0, 130.0, 4000.0}) {
    for (double share : {0.0, 0.1, 0.5, 0.93, 1.0, 1.4, 3.0}) {
      const double xi = share * std::max(1.0, u);
      INFO("xi " << xi << ", u " << u);
      CHECK(std::abs(two_aperture_response(xi, u) - by_integration(xi, u)) < 1e-9);
    }
  }
}

TEST_CASE("Two-aperture function: limits") {
  // Near field: the overlap of the two elements, approached as the square root of u.
  for (double xi : {0.0, 0.3, 0.99, 1.0, 1.7}) {
    const double overlap = std::max(0.0, 1 - xi);
    CHECK(two_aperture_magnitude(xi, 0) == Approx(overlap).margin(1e-15));
    for (double u : {1e-300, 1e-26, 1e-24, 1e-12, 1e-6}) {
      INFO("xi " << xi << ", u " << u);
      CHECK(std::fabs(two_aperture_magnitude(xi, u) - overlap) <= std::sqrt(u));
    }
  }
  // Far field: Fraunhofer, sinc^2(xi/(2u))/sqrt(2 pi u); its first correction is of order 1/u^2.
  for (double u : {10.0, 1e3, 1e6, 1e9}) {
    for (double ratio : {0.0, 1.0, 2.5, 5.0, 14.0}) {
      INFO("u " << u << ", xi/u " << ratio);
      const double far = sinc(ratio / 2) * sinc(ratio / 2) / std::sqrt(2 * pi * u);
      CHECK(two_aperture_magnitude(ratio * u, u) ==
            Approx(far).margin(0.02 * std::pow(u, -2.5) + 1e-15 * std::sqrt(u)).epsilon(1e-11));
    }
  }
  // No step where one form of the computation hands over to the other.
  for (double u : {1e-25, 100.0}) {
    for (double xi : {0.0, 0.4, 1.0, 30.0}) {
      CHECK(two_aperture_magnitude(xi, u * (1 + 1e-13)) ==
            Approx(two_aperture_magnitude(xi, u * (1 - 1e-13))).margin(1e-12).epsilon(0));
    }
  }
}

TEST_CASE("Two-aperture function: energy over all offsets") {
  // Parseval: Int |F|^2 dxi = (1/2pi) Int sinc^4(x/2) dx = 2/3, whatever u.
  for (double u : {0.01, 0.3, 2.0, 150.0}) {
    const double width = 60 * std::max(1.0, u), step = 0.002 * std::max(1.0, u);
    double sum = 0;
    for (double xi = -width; xi < width; xi += step) {
      sum += std::norm(two_aperture_response(xi, u)) * step;
    }
    INFO("u " << u);
    CHECK(sum == Approx(2.0 / 3).epsilon(1e-4));
  }
}

TEST_CASE("Half windows: values of an independent program, and the levels themselves") {
  struct Row {
    double u, minus_3, minus_6;
  };
  // First crossings of the definition, an independent program; 2e-4.
  const Row rows[] = {{0.01, 0.32967, 0.53031},
                      {0.1, 0.44241, 0.58915},
                      {0.3, 0.64232, 0.91285},
                      {1, 2.012, 2.79974},
                      {3, 6.00532, 8.34304}};
  for (const Row& row : rows) {
    INFO("u " << row.u);
    const HalfWindows found = half_windows(row.u);
    CHECK(found.minus_3_dB == Approx(row.minus_3).margin(2e-4).epsilon(0));
    CHECK(found.minus_6_dB == Approx(row.minus_6).margin(2e-4).epsilon(0));
  }
  // Near field: 1 - xi = 10^(-3/20) and 10^(-6/20).
  CHECK(half_windows(0).minus_3_dB == Approx(1 - std::pow(10, -0.15)).epsilon(1e-12));
  CHECK(half_windows(0).minus_6_dB == Approx(1 - std::pow(10, -0.30)).epsilon(1e-12));
}

TEST_CASE("Half windows: the first place where the level falls so far") {
  for (double exponent = -7; exponent < 6; exponent += 0.037) {
    const double u = std::pow(10, exponent);
    const HalfWindows found = half_windows(u);
    const double centre = two_aperture_magnitude(0, u);
    INFO("u " << u);
    CHECK(20 * std::log10(two_aperture_magnitude(found.minus_3_dB, u) / centre) ==
          Approx(-3).margin(1e-8));
    CHECK(20 * std::log10(two_aperture_magnitude(found.minus_6_dB, u) / centre) ==
          Approx(-6).margin(1e-8));
    for (int i = 1; i < 200; ++i) {
      const double share = i / 200.0 * (1 - 1e-6);
      CHECK(two_aperture_magnitude(share * found.minus_3_dB, u) > centre * std::pow(10, -0.15));
      CHECK(two_aperture_magnitude(share * found.minus_6_dB, u) > centre * std::pow(10, -0.30));
    }
  }
}

TEST_CASE("Facing elements in one liquid: direct Rayleigh integrals") {
  // Two elements of 10 mm face to face over 60 mm of water, 1 MHz: u = distance c/(w a^2).
  const double u = 0.060 * 1480 / (2 * pi * 1e6 * 0.010 * 0.010);
  // The narrow-beam limit leaves 0.02 dB: 0.0023 of the amplitude.
  const double strips = two_aperture_magnitude(0, u);
  const double strips_shifted = two_aperture_magnitude(0.5, u);
  CHECK(strips == Approx(0.850301227803).epsilon(0.0023));
  CHECK(strips_shifted == Approx(0.532526978626).epsilon(0.0023));
  // Squares, 3-D: the planes multiply.
  CHECK(strips * strips == Approx(0.72309).epsilon(0.0023));
  CHECK(strips_shifted * strips == Approx(0.45285).epsilon(0.0023));
}

TEST_CASE("Near field and half angles") {
  struct Row {
    double size_mm, f_MHz, c_m_s;
    double near_short_wave_mm, near_mm, circle_one_way_deg, circle_both_ways_deg,
        strip_both_ways_deg, circle_null_deg;
  };
  // Textbook formulas evaluated by an independent program; 0.001 deg.
  const Row rows[] = {{15, 1, 2730, 20.6043956044, 19.9218956044, 7.37284254027, 5.37288632053,
                       4.62398418985, 12.8253510611},
                      {10, 2, 2730, 18.315018315, 17.973768315, 5.52293292007, 4.02707627912,
                       3.46633896839, 9.58350939411},
                      {15, 1, 1482.3, 37.9477838494, 37.5772088494, 3.99540891877, 2.91428283743,
                       2.50874804471, 6.92256377343},
                      {25, 0.5, 1482.3, 52.7052553464, 51.9641053464, 4.79620539521, 3.49780392032,
                       3.01092140083, 8.31604772397},
                      {8, 2, 2550, 12.5490196078, 12.2302696078, 6.45212594869, 4.70335364121,
                       4.04813511269, 11.208793775}};
  for (const Row& row : rows) {
    const double size_m = row.size_mm / 1000;
    const double lambda_m = row.c_m_s / (row.f_MHz * 1e6);
    INFO("element " << row.size_mm << " mm, " << row.f_MHz << " MHz, " << row.c_m_s << " m/s");
    CHECK(near_field_short_wave_m(size_m, lambda_m) * 1000 == Approx(row.near_short_wave_mm));
    CHECK(near_field_m(size_m, lambda_m) * 1000 == Approx(row.near_mm));
    CHECK(circle_half_angle_rad(size_m, lambda_m) / deg ==
          Approx(row.circle_one_way_deg).margin(0.001));
    CHECK(circle_half_angle_both_ways_rad(size_m, lambda_m) / deg ==
          Approx(row.circle_both_ways_deg).margin(0.001));
    CHECK(strip_half_angle_both_ways_rad(size_m, lambda_m) / deg ==
          Approx(row.strip_both_ways_deg).margin(0.001));
    CHECK(circle_first_null_rad(size_m, lambda_m) / deg ==
          Approx(row.circle_null_deg).margin(0.001));
  }
  // Brass, 2.25 MHz, 0.375 inch: 0.469 inch, the worked example of an open teaching site on
  // non-destructive testing.
  CHECK(near_field_short_wave_m(0.375, 0.1685e6 / 2.25e6) == Approx(0.469).margin(0.001));
  // Training texts: sines of the -6 dB half angles 0.514 lambda/D and 0.44 lambda/a.
  CHECK(std::sin(circle_half_angle_both_ways_rad(10, 1)) * 10 == Approx(0.514).margin(0.0005));
  CHECK(std::sin(strip_half_angle_both_ways_rad(10, 1)) * 10 == Approx(0.44).margin(0.005));

  // The levels themselves: pattern sinc(pi a sin/lambda) of a strip, 2 J1(x)/x of a circle.
  const double strip = std::sin(strip_half_angle_rad(7, 1)) * pi * 7;
  CHECK(sinc(strip) == Approx(0.5).margin(1e-8));
  const double strip_both = std::sin(strip_half_angle_both_ways_rad(7, 1)) * pi * 7;
  CHECK(sinc(strip_both) * sinc(strip_both) == Approx(0.5).margin(1e-8));
  const double circle = std::sin(circle_half_angle_rad(7, 1)) * pi * 7;
  CHECK(2 * std::cyl_bessel_j(1, circle) / circle == Approx(0.5).margin(1e-8));
  CHECK(std::sin(strip_first_null_rad(7, 1)) == Approx(1.0 / 7));
}

TEST_CASE("Elements below a wavelength have no near field and no edge of the beam") {
  CHECK(near_field_m(1, 2) == 0);
  CHECK(strip_half_angle_rad(1, 2) == Approx(pi / 2));
  CHECK(circle_first_null_rad(1, 2) == Approx(pi / 2));
}
