// IAPWS R7-97(2012), regions 1 (compressed liquid) and 4 (saturation). The tables keep the
// release's layout and units (MPa, K), so that they can be read against it.

#include <array>
#include <cmath>
#include <cstddef>
#include <stdexcept>
#include <utility>

#include <fmt/format.h>

#include "slantrule/liquids/water.hpp"

namespace slantrule::if97 {
namespace {

constexpr double kGasConstant_J_kg_K = 461.526;
constexpr double kLowestTemperature_K = 253.15;
constexpr double kRegion1Highest_K = 623.15;
constexpr double kCriticalTemperature_K = 647.096;
constexpr double kHighestPressure_Pa = 100e6;
constexpr double kPascalPerMegapascal = 1e6;

// Table 2: gamma = sum n (7.1 - pi)^I (tau - 1.222)^J, pi = p / 16.53 MPa, tau = 1386 K / T.
constexpr double kReducingPressure_Pa = 16.53e6;
constexpr double kReducingTemperature_K = 1386;
struct Term {
  int i, j;
  double n;
};
constexpr std::array<Term, 34> kRegion1{{
    {0, -2, 0.14632971213167},         // 1
    {0, -1, -0.84548187169114},        // 2
    {0, 0, -0.3756360367204e1},        // 3
    {0, 1, 0.33855169168385e1},        // 4
    {0, 2, -0.95791963387872},         // 5
    {0, 3, 0.15772038513228},          // 6
    {0, 4, -0.16616417199501e-1},      // 7
    {0, 5, 0.81214629983568e-3},       // 8
    {1, -9, 0.28319080123804e-3},      // 9
    {1, -7, -0.60706301565874e-3},     // 10
    {1, -1, -0.18990068218419e-1},     // 11
    {1, 0, -0.32529748770505e-1},      // 12
    {1, 1, -0.21841717175414e-1},      // 13
    {1, 3, -0.5283835796993e-4},       // 14
    {2, -3, -0.47184321073267e-3},     // 15
    {2, 0, -0.30001780793026e-3},      // 16
    {2, 1, 0.47661393906987e-4},       // 17
    {2, 3, -0.44141845330846e-5},      // 18
    {2, 17, -0.72694996297594e-15},    // 19
    {3, -4, -0.31679644845054e-4},     // 20
    {3, 0, -0.28270797985312e-5},      // 21
    {3, 6, -0.85205128120103e-9},      // 22
    {4, -5, -0.22425281908e-5},        // 23
    {4, -2, -0.65171222895601e-6},     // 24
    {4, 10, -0.14341729937924e-12},    // 25
    {5, -8, -0.40516996860117e-6},     // 26
    {8, -11, -0.12734301741641e-8},    // 27
    {8, -6, -0.17424871230634e-9},     // 28
    {21, -29, -0.68762131295531e-18},  // 29
    {23, -31, 0.14478307828521e-19},   // 30
    {29, -38, 0.26335781662795e-22},   // 31
    {30, -39, -0.11947622640071e-22},  // 32
    {31, -40, 0.18228094581404e-23},   // 33
    {32, -41, -0.93537087292458e-25},  // 34
}};
constexpr std::size_t kFirstTermWithPressure = 8;  // those before have I = 0

// Table 34: coefficients n1 to n10 of the saturation line; [0] is unused, to keep the numbering.
constexpr std::array<double, 11> n{
    0,
    0.11670521452767e4,   // 1
    -0.72421316703206e6,  // 2
    -0.17073846940092e2,  // 3
    0.1202082470247e5,    // 4
    -0.32325550322333e7,  // 5
    0.1491510861353e2,    // 6
    -0.48232657361591e4,  // 7
    0.40511340542057e6,   // 8
    -0.23855557567849,    // 9
    0.65017534844798e3,   // 10
};

constexpr double squared(double x) {
  return x * x;
}

// Integer powers of the two arguments of gamma, each from two halves.
class Powers {
 public:
  Powers(double temperature_K, double pressure_Pa)
      : pressure_(7.1 - pressure_Pa / kReducingPressure_Pa),
        temperature_(kReducingTemperature_K / temperature_K - 1.222) {
    fill(of_pressure_, pressure_);
    fill(of_temperature_, temperature_);
    fill(of_inverse_temperature_, 1 / temperature_);
  }
  double pressure() const { return pressure_; }
  double temperature() const { return temperature_; }
  double term(const Term& term) const {
    const double temperature_part = term.j < 0
                                        ? of_inverse_temperature_[static_cast<std::size_t>(-term.j)]
                                        : of_temperature_[static_cast<std::size_t>(term.j)];
    return term.n * of_pressure_[static_cast<std::size_t>(term.i)] * temperature_part;
  }

 private:
  template <std::size_t size>
  static void fill(std::array<double, size>& power, double base) {
    power[0] = 1;
    power[1] = base;
    // Every index a constant of the compiler, so that it writes out every step.
    [&]<std::size_t... k>(std::index_sequence<k...>) {
      ((power[k + 2] = power[(k + 2) / 2] * power[k + 2 - (k + 2) / 2]), ...);
    }
    (std::make_index_sequence<size - 2>());
  }

  double pressure_, temperature_;
  std::array<double, 33> of_pressure_;
  std::array<double, 18> of_temperature_;
  std::array<double, 42> of_inverse_temperature_;
};

// rho = p / (pi gamma_pi R T)
double density_kg_m3(double gamma_pi, double temperature_K) {
  return kReducingPressure_Pa / (gamma_pi * kGasConstant_J_kg_K * temperature_K);
}

void require_temperature(double temperature_K, double highest_K) {
  if (!(temperature_K >= kLowestTemperature_K && temperature_K <= highest_K)) {
    throw std::invalid_argument(fmt::format("IF97: temperature {} K is not within {} to {} K",
                                            temperature_K, kLowestTemperature_K, highest_K));
  }
}

void require_region1(double temperature_K, double pressure_Pa) {
  require_temperature(temperature_K, kRegion1Highest_K);
  // Pressures come from saturation_pressure_Pa and units that round: a little slack at both ends.
  constexpr double kSlack = 1e-9;
  const double lowest_Pa = saturation_pressure_Pa(temperature_K);
  if (!(pressure_Pa >= lowest_Pa * (1 - kSlack) &&
        pressure_Pa <= kHighestPressure_Pa * (1 + kSlack))) {
    throw std::invalid_argument(
        fmt::format("IF97: pressure {} Pa is not within {} to {} Pa at {} K", pressure_Pa,
                    lowest_Pa, kHighestPressure_Pa, temperature_K));
  }
}

}  // namespace

Region1 region1(double temperature_K, double pressure_Pa) {
  require_region1(temperature_K, pressure_Pa);
  const Powers powers(temperature_K, pressure_Pa);
  const double a = powers.pressure(), b = powers.temperature();
  double pi = 0, pipi = 0, t = 0, tt = 0, pit = 0;  // derivatives of gamma
  for (const Term& term : kRegion1) {
    const double m = powers.term(term);
    pi -= m * term.i / a;
    pipi += m * term.i * (term.i - 1) / (a * a);
    t += m * term.j / b;
    tt += m * term.j * (term.j - 1) / (b * b);
    pit -= m * term.i * term.j / (a * b);
  }
  const double tau = kReducingTemperature_K / temperature_K;
  const double rt_J_kg = kGasConstant_J_kg_K * temperature_K;
  // Table 3: c^2 = R T gamma_pi^2 / [(gamma_pi - tau gamma_pitau)^2 / (tau^2 gamma_tautau)
  //                                  - gamma_pipi]
  const double c2 = rt_J_kg * pi * pi / (squared(pi - tau * pit) / (tau * tau * tt) - pipi);
  return {.density_kg_m3 = density_kg_m3(pi, temperature_K),
          .enthalpy_J_kg = rt_J_kg * tau * t,
          .isobaric_heat_capacity_J_kg_K = -kGasConstant_J_kg_K * tau * tau * tt,
          .sound_speed_m_s = std::sqrt(c2)};
}

double region1_density_kg_m3(double temperature_K, double pressure_Pa) {
  require_region1(temperature_K, pressure_Pa);
  const Powers powers(temperature_K, pressure_Pa);
  double sum = 0;
  for (std::size_t k = kFirstTermWithPressure; k < kRegion1.size(); ++k) {
    sum -= powers.term(kRegion1[k]) * kRegion1[k].i;
  }
  return density_kg_m3(sum / powers.pressure(), temperature_K);
}

// Eq. 30: theta = T + n9 / (T - n10), A = theta^2 + n1 theta + n2, B = n3 theta^2 + n4 theta + n5,
// C = n6 theta^2 + n7 theta + n8, p / MPa = [2C / (-B + sqrt(B^2 - 4AC))]^4.
double saturation_pressure_Pa(double temperature_K) {
  require_temperature(temperature_K, kCriticalTemperature_K);
  const double theta = temperature_K + n[9] / (temperature_K - n[10]);
  const double a = (theta + n[1]) * theta + n[2];
  const double b = (n[3] * theta + n[4]) * theta + n[5];
  const double c = (n[6] * theta + n[7]) * theta + n[8];
  return kPascalPerMegapascal * squared(squared(2 * c / (-b + std::sqrt(b * b - 4 * a * c))));
}

// Eq. 31: beta = (p / MPa)^(1/4), E = beta^2 + n3 beta + n6, F = n1 beta^2 + n4 beta + n7,
// G = n2 beta^2 + n5 beta + n8, D = 2G / (-F - sqrt(F^2 - 4EG)),
// T / K = [n10 + D - sqrt((n10 + D)^2 - 4 (n9 + n10 D))] / 2.
double saturation_temperature_K(double pressure_Pa) {
  static const double lowest_Pa = saturation_pressure_Pa(kLowestTemperature_K);
  static const double highest_Pa = saturation_pressure_Pa(kCriticalTemperature_K);
  if (!(pressure_Pa >= lowest_Pa && pressure_Pa <= highest_Pa)) {
    throw std::invalid_argument(
        fmt::format("IF97: saturation pressure {} Pa is not within {} to {} Pa", pressure_Pa,
                    lowest_Pa, highest_Pa));
  }
  const double beta = std::sqrt(std::sqrt(pressure_Pa / kPascalPerMegapascal));
  const double e = (beta + n[3]) * beta + n[6];
  const double f = (n[1] * beta + n[4]) * beta + n[7];
  const double g = (n[2] * beta + n[5]) * beta + n[8];
  const double d = 2 * g / (-f - std::sqrt(f * f - 4 * e * g));
  return (n[10] + d - std::sqrt(squared(n[10] + d) - 4 * (n[9] + n[10] * d))) / 2;
}

}  // namespace slantrule::if97
