// Waves along the wall: exact roots by an independent program, handbook limits, and the plate's own
// equations as a property.

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <complex>
#include <numbers>
#include <variant>

#include "slantrule/acoustics/plate_waves.hpp"

using namespace slantrule;

namespace {

constexpr double pi = std::numbers::pi;
const AcousticMedium steel{7850, 5900, 3230, {}, {}};
const AcousticMedium pvc{1400, 2380, 1060, {}, {}};
const AcousticMedium water{998.2, 1482.3, 0, {}, {}};

/// The Rayleigh-Lamb determinants with complex slownesses, whatever the regime.
std::complex<double> plate_equation(const AcousticMedium& solid, double p, PlateSymmetry symmetry,
                                    double y) {
  using C = std::complex<double>;
  const double b2 = solid.shear_m_s * solid.shear_m_s;
  const C ql = std::sqrt(C(1 / (solid.longitudinal_m_s * solid.longitudinal_m_s) - p * p));
  const C qs = std::sqrt(C(1 / b2 - p * p));
  const C g = 1 - 2 * b2 * p * p;
  const C k = 4 * b2 * b2 * p * p * ql * qs;
  // cos of the evanescent part grows; divide it out.
  const C l = pi * y * ql, s = pi * y * qs;
  const C scale = std::abs(std::cos(l)) + std::abs(std::sin(l));
  return symmetry == PlateSymmetry::symmetric
             ? (g * g * std::sin(s) * std::cos(l) + k * std::cos(s) * std::sin(l)) / scale
             : (g * g * std::cos(s) * std::sin(l) + k * std::sin(s) * std::cos(l)) / scale;
}

AcousticMedium solid_of_poisson_ratio(double nu) {
  return {1000, 1000 * std::sqrt(2 * (1 - nu) / (1 - 2 * nu)), 1000, {}, {}};
}

}  // namespace

TEST_CASE("Rayleigh and plate speeds") {
  // Exact roots by an independent program.
  CHECK(rayleigh_speed_m_s(steel) == Approx(2988.43511763).epsilon(1e-10));
  CHECK(rayleigh_speed_m_s(solid_of_poisson_ratio(0.25)) / 1000 ==
        Approx(0.919401686762).epsilon(1e-11));
  CHECK(rayleigh_speed_m_s(solid_of_poisson_ratio(0)) / 1000 ==
        Approx(0.874032048898).epsilon(1e-11));
  CHECK(rayleigh_speed_m_s(solid_of_poisson_ratio(1.0 / 3)) / 1000 ==
        Approx(0.932525905931).epsilon(1e-9));
  // Viktorov's approximation (0.87 + 1.12 nu)/(1 + nu), quoted by Rose, Ultrasonic Waves in Solid
  // Media: 0.92 at nu = 0.29, and within 0.5 % from 0 to 0.45.
  CHECK(rayleigh_speed_m_s(solid_of_poisson_ratio(0.29)) / 1000 == Approx(0.92).margin(0.01));
  for (double nu = 0; nu < 0.46; nu += 0.05) {
    CHECK(rayleigh_speed_m_s(solid_of_poisson_ratio(nu)) / 1000 ==
          Approx((0.87 + 1.12 * nu) / (1 + nu)).epsilon(0.005));
  }
  // 2 cS sqrt(1 - cS^2/cL^2), steel, an independent program.
  CHECK(plate_speed_m_s(steel) == Approx(5405.94379161).epsilon(1e-11));
  CHECK_THROWS_AS(rayleigh_speed_m_s(water), std::invalid_argument);
  CHECK_THROWS_AS(plate_speed_m_s(water), std::invalid_argument);
}

TEST_CASE("Leaky Rayleigh wave, steel under water") {
  // Complex root of the same equation by an independent program.
  const std::complex<double> p = leaky_rayleigh_slowness_s_m(steel, water);
  CHECK(1 / p.real() == Approx(2989.9926986).epsilon(1e-9));
  CHECK(p.imag() == Approx(3.555359242e-06).epsilon(1e-7));
  CHECK(std::asin(p.real() * 1482.3) * 180 / pi == Approx(29.7194637).margin(1e-6));
  // 0.58 dB a wavelength, 1.9 dB/cm at 1 MHz.
  const double dB_m = 2 * pi * 1e6 * p.imag() * 20 / std::log(10.0);
  CHECK(dB_m / 100 == Approx(1.94).margin(0.05));
  CHECK(dB_m / (1e6 * p.real()) == Approx(0.58).margin(0.005));
}

TEST_CASE("Plate resonances under an acrylic wedge at 38 degrees") {
  const double p = 1 / 4434.25504016789;
  // Independent program, 1e-8 MHz mm.
  const double symmetric[] = {2.34715399224, 7.06357778986, 11.7780270856};
  const double antisymmetric[] = {4.70658100146, 9.42081590951, 14.1352412336};
  for (int i = 0; i < 3; ++i) {
    CHECK(plate_root(steel, p, PlateSymmetry::symmetric, i + 1)->frequency_thickness_Hz_m / 1000 ==
          Approx(symmetric[i]).margin(1e-8).epsilon(0));
    CHECK(plate_root(steel, p, PlateSymmetry::antisymmetric, i + 1)->frequency_thickness_Hz_m /
              1000 ==
          Approx(antisymmetric[i]).margin(1e-8).epsilon(0));
  }
}

TEST_CASE("Cut-off frequencies are the roots at no axial slowness") {
  // A1 at cS/2; the next two at cL/2 and cS (Viktorov; Rose). Then cL and 3 cS/2 antisymmetric.
  const auto at = [](PlateSymmetry symmetry, int number) {
    return plate_root(steel, 0, symmetry, number)->frequency_thickness_Hz_m / 1000;
  };
  CHECK(at(PlateSymmetry::antisymmetric, 1) == Approx(1.615).epsilon(1e-9));
  CHECK(at(PlateSymmetry::symmetric, 1) == Approx(2.950).epsilon(1e-9));
  CHECK(at(PlateSymmetry::symmetric, 2) == Approx(3.230).epsilon(1e-9));
  CHECK(at(PlateSymmetry::antisymmetric, 2) == Approx(1.5 * 3.230).epsilon(1e-9));
  CHECK(at(PlateSymmetry::antisymmetric, 3) == Approx(5.900).epsilon(1e-9));
}

TEST_CASE("Plate roots solve the plate's equations, none is missed") {
  for (const AcousticMedium& solid : {steel, pvc}) {
    for (double share : {0.02, 0.3, 0.5, 0.547, 0.6, 0.7, 1 / std::sqrt(2.0), 0.9, 0.99}) {
      const double p = share / solid.shear_m_s;
      for (PlateSymmetry symmetry : {PlateSymmetry::symmetric, PlateSymmetry::antisymmetric}) {
        INFO("cS " << solid.shear_m_s << ", p cS " << share << ", symmetry "
                   << static_cast<int>(symmetry));
        double before = 0;
        for (int number = 1; number <= 8; ++number) {
          const double y = plate_root(solid, p, symmetry, number)->frequency_thickness_Hz_m;
          CHECK(y > before);
          CHECK(std::abs(plate_equation(solid, p, symmetry, y)) < 1e-10);
          before = y;
        }
        // As many changes of sign below the eighth root as there are roots.
        const int steps = 40000;
        int changes = 0;
        const double top = before * 1.0001;
        const auto value = [&](int i) {
          const std::complex<double> v = plate_equation(solid, p, symmetry, top * i / steps);
          return v.real() + v.imag();  // either real or imaginary throughout
        };
        double last = value(1);
        for (int i = 2; i <= steps; ++i) {
          const double next = value(i);
          if (last * next < 0) ++changes;
          last = next;
        }
        CHECK(changes == 8);
      }
    }
  }
}

TEST_CASE("Nearest plate root") {
  const double p = 1 / 4434.25504016789;
  // Midway between roots (3.55 and 8.25 MHz mm) and on one (4.707).
  const auto on = nearest_plate_root(steel, p, 4.70658100146e3);
  REQUIRE(on);
  CHECK(on->root.symmetry == PlateSymmetry::antisymmetric);
  CHECK(on->root.number == 1);
  CHECK(std::fabs(on->distance_Hz_m) < 1e-4);
  CHECK(on->mean_spacing_Hz_m / 1000 == Approx(2.357).margin(0.001));
  for (double midway : {3.55e3, 8.25e3}) {
    const auto off = nearest_plate_root(steel, p, midway);
    REQUIRE(off);
    CHECK(std::fabs(off->distance_Hz_m) / off->mean_spacing_Hz_m == Approx(0.5).margin(0.02));
  }
  // By exhaustive search.
  for (const AcousticMedium& solid : {steel, pvc}) {
    for (double share : {0.1, 0.4, 0.6, 0.73, 0.95}) {
      for (double y = 10; y < 20e3; y += 371) {
        const double q = share / solid.shear_m_s;
        double least = 1e9;
        for (PlateSymmetry symmetry : {PlateSymmetry::symmetric, PlateSymmetry::antisymmetric}) {
          for (int number = 1; number < 60; ++number) {
            least = std::min(
                least,
                std::fabs(y - plate_root(solid, q, symmetry, number)->frequency_thickness_Hz_m));
          }
        }
        INFO("cS " << solid.shear_m_s << ", p cS " << share << ", f h " << y);
        CHECK(std::fabs(nearest_plate_root(solid, q, y)->distance_Hz_m) ==
              Approx(least).margin(1e-6));
      }
    }
  }
  CHECK_FALSE(nearest_plate_root(water, p, 1000));
  CHECK_FALSE(nearest_plate_root(steel, 1 / 3000.0, 1000));
}

TEST_CASE("Wall regimes") {
  SoundPath path;
  path.wedge = {1180, 2730, 1430, {}, {}};
  path.wedge_angle_rad = 38 * pi / 180;
  path.add_layer({steel, 0.00602, WaveMode::shear});
  path.liquid = water;
  path.bore_m = 0.1;
  path.frequency_Hz = 1e6;
  path.cycles = 4;
  path.element_m = 0.01;
  path.element_width_m = 0.01;
  const auto indicators = [&] {
    return wall_indicators(path, std::get<RayPath>(trace_ray(path)), 0);
  };
  // Steel, shear at 47 degrees: one echo parts from a burst of 4 cycles above 9.4 MHz mm.
  CHECK(indicators().delay_per_burst * 9.4 / 6.02 == Approx(1).epsilon(0.01));
  CHECK(indicators().regime == WallRegime::overlapping);
  path.layers[0].thickness_m = 0.0096;
  CHECK(indicators().regime == WallRegime::separate);
  path.layers[0].thickness_m = 0.003;  // 3 MHz mm, below the shear speed of 3.23 km/s
  CHECK(indicators().regime == WallRegime::guided);
  // 2 h tan(46.75) / (10 mm / cos 38) = 2 * 3 * 1.063 / 12.69
  CHECK(indicators().footprint_ratio == Approx(0.503).margin(0.002));
  CHECK(indicators().wavelengths == Approx(3.0 / 3.23));
}

TEST_CASE("Wall-borne sound runs between Rayleigh and plate speed") {
  CHECK(wall_borne_speeds(steel).least_m_s == Approx(2988.435).margin(0.001));
  CHECK(wall_borne_speeds(steel).greatest_m_s == Approx(5405.944).margin(0.001));
  CHECK(wall_borne_speeds(water).least_m_s == 1482.3);
}
