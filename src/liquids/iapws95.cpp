// IAPWS R6-95(2018): the Helmholtz energy of ordinary water, f/(RT) = phi0 + phir, as a function of
// delta = rho / 322 kg/m3 and tau = 647.096 K / T. The tables below keep the release's layout, so
// that they can be read against it.
//
// Every derivative is carried scaled by its variables. A term m = n delta^d tau^t exp(-delta^c),
// with x = c delta^c, gives
//
//     delta m_delta         = m (d - x)
//     delta^2 m_deltadelta  = m ((d - x)(d - 1 - x) - c x)
//     delta tau m_deltatau  = m (d - x) t
//     tau^2 m_tautau        = m t (t - 1)
//
// x and the exponential belong to a whole group of equal c, so only sums of m times powers of d and
// t are taken per term.

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <stdexcept>
#include <type_traits>
#include <utility>

#include <fmt/format.h>

#include "slantrule/liquids/water.hpp"

namespace slantrule::iapws95 {
namespace {

constexpr double kCriticalTemperature_K = 647.096;
constexpr double kCriticalDensity_kg_m3 = 322;
constexpr double kGasConstant_J_kg_K = 461.51805;

constexpr double kLowestTemperature_K = 253.15;
constexpr double kHighestTemperature_K = 623.15;
constexpr double kHighestDensity_kg_m3 = 1400;

// Table 1: n_3, which stands before ln(tau), and terms 4 to 8; terms 1 and 2 have no second tau
// derivative.
struct IdealTerm {
  double n, gamma;
};
constexpr double kIdealLogTau = 3.00632;
constexpr std::array<IdealTerm, 5> kIdeal{{
    {0.012436, 1.28728967},
    {0.97315, 3.53734222},
    {1.2795, 7.74073708},
    {0.96956, 9.24437796},
    {0.24873, 27.5075105},
}};

// Table 2, terms 1 to 51.
struct Term {
  int c, d;
  double t, n;
};
constexpr std::array<Term, 51> kTerms{{
    {0, 1, -0.5, 0.12533547935523e-1},    // 1
    {0, 1, 0.875, 0.78957634722828e1},    // 2
    {0, 1, 1, -0.87803203303561e1},       // 3
    {0, 2, 0.5, 0.31802509345418},        // 4
    {0, 2, 0.75, -0.26145533859358},      // 5
    {0, 3, 0.375, -0.78199751687981e-2},  // 6
    {0, 4, 1, 0.88089493102134e-2},       // 7
    {1, 1, 4, -0.66856572307965},         // 8
    {1, 1, 6, 0.20433810950965},          // 9
    {1, 1, 12, -0.66212605039687e-4},     // 10
    {1, 2, 1, -0.19232721156002},         // 11
    {1, 2, 5, -0.25709043003438},         // 12
    {1, 3, 4, 0.16074868486251},          // 13
    {1, 4, 2, -0.40092828925807e-1},      // 14
    {1, 4, 13, 0.39343422603254e-6},      // 15
    {1, 5, 9, -0.75941377088144e-5},      // 16
    {1, 7, 3, 0.56250979351888e-3},       // 17
    {1, 9, 4, -0.15608652257135e-4},      // 18
    {1, 10, 11, 0.11537996422951e-8},     // 19
    {1, 11, 4, 0.36582165144204e-6},      // 20
    {1, 13, 13, -0.13251180074668e-11},   // 21
    {1, 15, 1, -0.62639586912454e-9},     // 22
    {2, 1, 7, -0.10793600908932},         // 23
    {2, 2, 1, 0.17611491008752e-1},       // 24
    {2, 2, 9, 0.22132295167546},          // 25
    {2, 2, 10, -0.40247669763528},        // 26
    {2, 3, 10, 0.58083399985759},         // 27
    {2, 4, 3, 0.49969146990806e-2},       // 28
    {2, 4, 7, -0.31358700712549e-1},      // 29
    {2, 4, 10, -0.74315929710341},        // 30
    {2, 5, 10, 0.4780732991548},          // 31
    {2, 6, 6, 0.20527940895948e-1},       // 32
    {2, 6, 10, -0.13636435110343},        // 33
    {2, 7, 10, 0.14180634400617e-1},      // 34
    {2, 9, 1, 0.83326504880713e-2},       // 35
    {2, 9, 2, -0.29052336009585e-1},      // 36
    {2, 9, 3, 0.38615085574206e-1},       // 37
    {2, 9, 4, -0.20393486513704e-1},      // 38
    {2, 9, 8, -0.16554050063734e-2},      // 39
    {2, 10, 6, 0.19955571979541e-2},      // 40
    {2, 10, 9, 0.15870308324157e-3},      // 41
    {2, 12, 8, -0.1638856834253e-4},      // 42
    {3, 3, 16, 0.43613615723811e-1},      // 43
    {3, 4, 22, 0.34994005463765e-1},      // 44
    {3, 4, 23, -0.76788197844621e-1},     // 45
    {3, 5, 23, 0.22446277332006e-1},      // 46
    {4, 14, 10, -0.62689710414685e-4},    // 47
    {6, 3, 50, -0.55711118565645e-9},     // 48
    {6, 6, 44, -0.19905718354408},        // 49
    {6, 6, 46, 0.31777497330738},         // 50
    {6, 6, 50, -0.11841182425981},        // 51
}};

// Table 2, terms 52 to 54: n delta^d tau^t exp(-alpha (delta - eps)^2 - beta (tau - gamma)^2).
// The factor in delta is the same in all three.
struct GaussianTerm {
  int d;
  double t, n, alpha, beta, gamma, eps;
};
constexpr std::array<GaussianTerm, 3> kGaussian{{
    {3, 0, -31.306260323435, 20, 150, 1.21, 1},  // 52
    {3, 1, 31.546140237781, 20, 150, 1.21, 1},   // 53
    {3, 4, -2521.3154341695, 20, 250, 1.25, 1},  // 54
}};

// Where the terms of equal c begin; exp(-delta^c) stands from the second group on.
struct Group {
  int c;
  std::size_t begin, end;
};
constexpr std::array<Group, 6> kGroups{
    {{0, 0, 7}, {1, 7, 22}, {2, 22, 42}, {3, 42, 46}, {4, 46, 47}, {6, 47, 51}}};

constexpr bool groups_match_terms() {
  std::size_t next = 0;
  for (const Group& group : kGroups) {
    if (group.begin != next) return false;
    for (; next < group.end; ++next) {
      if (kTerms[next].c != group.c) return false;
    }
  }
  return next == kTerms.size();
}
static_assert(groups_match_terms());

// Terms of one group that share a power of delta, by rising power: what stands before delta^d
// depends on tau alone.
struct DeltaPower {
  std::size_t group;
  int d;
};
constexpr std::size_t count_of_powers() {
  std::size_t count = 0;
  for (std::size_t i = 0; i < kTerms.size(); ++i) {
    count += i == 0 || kTerms[i].c != kTerms[i - 1].c || kTerms[i].d != kTerms[i - 1].d;
  }
  return count;
}
constexpr std::size_t kPowerCount = count_of_powers();

struct PowerTable {
  std::array<DeltaPower, kPowerCount> powers{};
  /// tau^t = tau^whole tau^(eighths/8), shifted by 1: all t are multiples of 1/8 from -1/2 to 50.
  std::array<unsigned, kTerms.size()> whole{}, eighths{};
  std::array<std::size_t, kTerms.size()> of_term{};
  std::array<std::size_t, kGroups.size() + 1> begin{};  // of each group, and the end
};
constexpr PowerTable power_table() {
  PowerTable table;
  std::size_t next = 0;
  for (std::size_t group = 0; group < kGroups.size(); ++group) {
    table.begin[group] = next;
    for (std::size_t i = kGroups[group].begin; i < kGroups[group].end; ++i) {
      if (i == kGroups[group].begin || kTerms[i].d != kTerms[i - 1].d) {
        table.powers[next++] = {group, kTerms[i].d};
      }
      table.of_term[i] = next - 1;
      const auto eighths = static_cast<unsigned>(8 * (kTerms[i].t + 1));
      table.whole[i] = eighths / 8;
      table.eighths[i] = eighths % 8;
    }
  }
  table.begin[kGroups.size()] = next;
  return table;
}
constexpr PowerTable kPowers = power_table();

/// exp(-x) is 0 in double from here on.
constexpr double kExponentialIsZero = 746;

constexpr double squared(double x) {
  return x * x;
}

/// Calls `what` with 0 to count - 1 as constants of the compiler, so that it writes out every step.
template <std::size_t count, class What>
void written_out(const What& what) {
  [&]<std::size_t... k>(std::index_sequence<k...>) {
    (what(std::integral_constant<std::size_t, k>()), ...);
  }
  (std::make_index_sequence<count>());
}

// base^0 to base^(size - 1), each from two halves: rounding and latency grow with log2 only.
template <std::size_t size>
std::array<double, size> powers_of(double base) {
  std::array<double, size> power;
  power[0] = 1;
  power[1] = base;
  written_out<size - 2>([&](auto step) {
    constexpr std::size_t k = step + 2;
    power[k] = power[k / 2] * power[k - k / 2];
  });
  return power;
}

// Derivatives of phir, scaled by their variables.
struct Residual {
  double d = 0;   // delta phir_delta
  double dd = 0;  // delta^2 phir_deltadelta
  double dt = 0;  // delta tau phir_deltatau
  double tt = 0;  // tau^2 phir_tautau
};

struct PressureAndSlope {
  double pressure_Pa, slope_Pa_m3_kg;
};

// The equation at one temperature: what depends on tau alone is worked out once.
class Isotherm {
 public:
  explicit Isotherm(double temperature_K)
      : rt_J_kg_(kGasConstant_J_kg_K * temperature_K),
        tau_(kCriticalTemperature_K / temperature_K) {
    const auto eighth = powers_of<8>(std::sqrt(std::sqrt(std::sqrt(tau_))));
    const auto whole = powers_of<52>(tau_);
    const double inverse = 1 / tau_;
    written_out<kTerms.size()>([&](auto term) {
      constexpr std::size_t i = term;
      constexpr double t = kTerms[i].t;
      const double amplitude =
          kTerms[i].n * inverse * whole[kPowers.whole[i]] * eighth[kPowers.eighths[i]];
      InTau& sums = in_tau_[kPowers.of_term[i]];
      sums.plain += amplitude;
      sums.first += amplitude * t;
      sums.second += amplitude * t * (t - 1);
    });
    for (std::size_t i = 0; i < kGaussian.size(); ++i) {
      const GaussianTerm& g = kGaussian[i];
      gaussian_amplitude_[i] =
          g.n * whole[static_cast<std::size_t>(g.t)] * std::exp(-g.beta * squared(tau_ - g.gamma));
    }
  }

  // p = rho R T (1 + delta phir_delta) and its derivative by rho.
  PressureAndSlope pressure(double density_kg_m3) const {
    return pressure(density_kg_m3, residual<false>(density_kg_m3 / kCriticalDensity_kg_m3));
  }

  // c^2 = RT [1 + 2 delta phir_delta + delta^2 phir_deltadelta
  //           - (1 + delta phir_delta - delta tau phir_deltatau)^2 / (tau^2 (phi0 + phir)_tautau)]
  State state(double density_kg_m3) const {
    const Residual r = residual<true>(density_kg_m3 / kCriticalDensity_kg_m3);
    const PressureAndSlope p = pressure(density_kg_m3, r);
    const double c2 =
        p.slope_Pa_m3_kg - rt_J_kg_ * squared(1 + r.d - r.dt) / (ideal_tautau() + r.tt);
    return {p.pressure_Pa, std::sqrt(c2), p.slope_Pa_m3_kg};
  }

 private:
  PressureAndSlope pressure(double density_kg_m3, const Residual& r) const {
    return {density_kg_m3 * rt_J_kg_ * (1 + r.d), rt_J_kg_ * (1 + 2 * r.d + r.dd)};
  }

  // tau^2 phi0_tautau = -n_3 - sum n (gamma tau)^2 e / (1 - e)^2,  e = exp(-gamma tau)
  double ideal_tautau() const {
    double sum = -kIdealLogTau;
    for (const IdealTerm& term : kIdeal) {
      const double e = std::exp(-term.gamma * tau_);
      sum -= term.n * squared(term.gamma * tau_ / (1 - e)) * e;
    }
    return sum;
  }

  template <std::size_t group, bool with_tau>
  void add_group(const std::array<double, 16>& power, Residual& r) const {
    constexpr int c = kGroups[group].c;
    const double to_the_c = c == 0 ? 0 : power[static_cast<std::size_t>(c)];
    // The terms of c = 6 are gone in a cold liquid: their exponential is no more than zero, and
    // takes longest of all.
    if (to_the_c > kExponentialIsZero) return;
    double m0 = 0, m1 = 0, m2 = 0, mt = 0, m1t = 0, mtt = 0;  // sums of m, m d, m d^2, m t, ...
    constexpr std::size_t first = kPowers.begin[group];
    written_out<kPowers.begin[group + 1] - first>([&](auto step) {
      constexpr std::size_t i = first + step;
      constexpr int d = kPowers.powers[i].d;
      const double to_the_d = power[static_cast<std::size_t>(d)];
      const double m = in_tau_[i].plain * to_the_d;
      m0 += m;
      m1 += m * d;
      m2 += m * d * d;
      if constexpr (with_tau) {
        const double by_t = in_tau_[i].first * to_the_d;
        mt += by_t;
        m1t += by_t * d;
        mtt += in_tau_[i].second * to_the_d;
      }
    });
    const double x = c * to_the_c;
    const double e = std::exp(-to_the_c);
    r.d += e * (m1 - x * m0);
    r.dd += e * (m2 - (1 + 2 * x) * m1 + x * (1 + x - c) * m0);
    if constexpr (with_tau) {
      r.dt += e * (m1t - x * mt);
      r.tt += e * mtt;
    }
  }

  // Newton's method asks for the pressure alone, without the tau derivatives.
  template <bool with_tau>
  Residual residual(double delta) const {
    const auto power = powers_of<16>(delta);
    Residual r;
    written_out<kGroups.size()>([&](auto group) { add_group<group, with_tau>(power, r); });

    // With L = d - 2 alpha delta (delta - eps), M = t - 2 beta tau (tau - gamma):
    // delta g_delta = g L, delta^2 g_deltadelta = g (L^2 - d - 2 alpha delta^2), and so in tau.
    const GaussianTerm& same = kGaussian[0];
    const double bell =
        power[static_cast<std::size_t>(same.d)] * std::exp(-same.alpha * squared(delta - same.eps));
    const double l = same.d - 2 * same.alpha * delta * (delta - same.eps);
    for (std::size_t i = 0; i < kGaussian.size(); ++i) {
      const GaussianTerm& g = kGaussian[i];
      const double m = gaussian_amplitude_[i] * bell;
      r.d += m * l;
      r.dd += m * (l * l - g.d - 2 * g.alpha * delta * delta);
      if constexpr (with_tau) {
        const double in_tau = g.t - 2 * g.beta * tau_ * (tau_ - g.gamma);
        r.dt += m * l * in_tau;
        r.tt += m * (in_tau * in_tau - g.t - 2 * g.beta * tau_ * tau_);
      }
    }
    return r;
  }

  // Sums of n tau^t, and of that times t and t (t - 1), over the terms of one power of delta.
  struct InTau {
    double plain = 0, first = 0, second = 0;
  };

  double rt_J_kg_, tau_;
  std::array<InTau, kPowerCount> in_tau_{};
  std::array<double, kGaussian.size()> gaussian_amplitude_;  // n tau^t exp(-beta (tau - gamma)^2)
};

bool liquid_density_range(double density_kg_m3) {
  return density_kg_m3 >= kCriticalDensity_kg_m3 && density_kg_m3 <= kHighestDensity_kg_m3;
}

void require_temperature(double temperature_K) {
  if (!(temperature_K >= kLowestTemperature_K && temperature_K <= kHighestTemperature_K)) {
    throw std::invalid_argument(fmt::format("IAPWS-95: temperature {} K is not within {} to {} K",
                                            temperature_K, kLowestTemperature_K,
                                            kHighestTemperature_K));
  }
}

void require_density(double density_kg_m3) {
  if (!liquid_density_range(density_kg_m3)) {
    throw std::invalid_argument(
        fmt::format("IAPWS-95: density {} kg/m3 is not within {} to {} kg/m3", density_kg_m3,
                    kCriticalDensity_kg_m3, kHighestDensity_kg_m3));
  }
}

State stable_state(const Isotherm& isotherm, double temperature_K, double density_kg_m3) {
  const State state = isotherm.state(density_kg_m3);
  if (!(state.pressure_slope_Pa_m3_kg > 0)) {
    throw std::domain_error(fmt::format("IAPWS-95: no stable liquid at {} K and {} kg/m3",
                                        temperature_K, density_kg_m3));
  }
  return state;
}

void require_pressure(double pressure_Pa) {
  if (!(pressure_Pa > 0 && std::isfinite(pressure_Pa))) {
    throw std::invalid_argument(
        fmt::format("IAPWS-95: pressure {} Pa is not above zero", pressure_Pa));
  }
}

double density_at(const Isotherm& isotherm, double temperature_K, double pressure_Pa,
                  double first_guess_kg_m3) {
  // Newton's error is squared in each step: after a relative step of 1e-8 what is left is some
  // 1e-15, rounding. From the IF97 density two steps do.
  constexpr double kLastStep = 1e-8;
  // p bends upwards with density: a full step from 100 MPa towards 1000 MPa leaves the range.
  constexpr double kLongestStep = 0.1;
  constexpr int kMostSteps = 30;
  double density_kg_m3 = first_guess_kg_m3;
  for (int i = 0; i < kMostSteps; ++i) {
    const PressureAndSlope at = isotherm.pressure(density_kg_m3);
    if (!(at.slope_Pa_m3_kg > 0)) break;  // past the spinodal
    const double longest_kg_m3 = kLongestStep * density_kg_m3;
    const double step_kg_m3 = std::clamp((pressure_Pa - at.pressure_Pa) / at.slope_Pa_m3_kg,
                                         -longest_kg_m3, longest_kg_m3);
    density_kg_m3 += step_kg_m3;
    if (!liquid_density_range(density_kg_m3)) break;
    if (std::abs(step_kg_m3) <= kLastStep * density_kg_m3) return density_kg_m3;
  }
  throw std::domain_error(fmt::format("IAPWS-95: no liquid root at {} K and {} Pa near {} kg/m3",
                                      temperature_K, pressure_Pa, first_guess_kg_m3));
}

}  // namespace

State at_density(double temperature_K, double density_kg_m3) {
  require_temperature(temperature_K);
  require_density(density_kg_m3);
  return stable_state(Isotherm(temperature_K), temperature_K, density_kg_m3);
}

State at_pressure(double temperature_K, double pressure_Pa, double first_guess_kg_m3) {
  require_temperature(temperature_K);
  require_density(first_guess_kg_m3);
  require_pressure(pressure_Pa);
  const Isotherm isotherm(temperature_K);
  return stable_state(isotherm, temperature_K,
                      density_at(isotherm, temperature_K, pressure_Pa, first_guess_kg_m3));
}

double liquid_density_kg_m3(double temperature_K, double pressure_Pa, double first_guess_kg_m3) {
  require_temperature(temperature_K);
  require_density(first_guess_kg_m3);
  require_pressure(pressure_Pa);
  return density_at(Isotherm(temperature_K), temperature_K, pressure_Pa, first_guess_kg_m3);
}

}  // namespace slantrule::iapws95
