// IAPWS R12-08. The tables keep the release's layout, so that they can be read against it.

#include <array>
#include <cmath>
#include <cstddef>
#include <stdexcept>

#include <fmt/format.h>

#include "slantrule/liquids/water.hpp"

namespace slantrule::iapws_viscosity {
namespace {

constexpr double kReducingTemperature_K = 647.096;
constexpr double kReducingDensity_kg_m3 = 322;
constexpr double kReducingViscosity_Pa_s = 1e-6;

constexpr double kLowestTemperature_K = 253.15;
constexpr double kHighestTemperature_K = 1173.15;
constexpr double kHighestDensity_kg_m3 = 1400;

// Table 1: H_i of the dilute-gas part.
constexpr std::array<double, 4> kDilute{1.67752, 2.20462, 0.6366564, -0.241605};

// Table 2: H_ij, a row for each i = 0 to 5 and a column for each j = 0 to 6.
constexpr std::array<std::array<double, 7>, 6> kFinite{{
    {0.520094, 0.222531, -0.281378, 0.161913, -0.0325372, 0, 0},
    {0.0850895, 0.999115, -0.906851, 0.257399, 0, 0, 0},
    {-1.08374, 1.88797, -0.772479, 0, 0, 0, 0},
    {-0.289555, 1.26613, -0.489837, 0, 0.0698452, 0, -0.00435673},
    {0, 0, -0.25704, 0, 0, 0.00872102, 0},
    {0, 0.120573, 0, 0, 0, 0, -0.000593264},
}};

// Horner's scheme.
template <std::size_t size>
double polynomial(const std::array<double, size>& coefficients, double x) {
  double sum = 0;
  for (std::size_t k = size; k-- > 0;) sum = sum * x + coefficients[k];
  return sum;
}

}  // namespace

double dynamic_viscosity_Pa_s(double temperature_K, double density_kg_m3) {
  if (!(temperature_K >= kLowestTemperature_K && temperature_K <= kHighestTemperature_K)) {
    throw std::invalid_argument(
        fmt::format("IAPWS R12-08: temperature {} K is not within {} to {} K", temperature_K,
                    kLowestTemperature_K, kHighestTemperature_K));
  }
  if (!(density_kg_m3 > 0 && density_kg_m3 <= kHighestDensity_kg_m3)) {
    throw std::invalid_argument(
        fmt::format("IAPWS R12-08: density {} kg/m3 is not within 0 to {} kg/m3", density_kg_m3,
                    kHighestDensity_kg_m3));
  }
  const double t = temperature_K / kReducingTemperature_K;
  const double rho = density_kg_m3 / kReducingDensity_kg_m3;
  // Eq. 11: mu0 = 100 sqrt(T) / sum H_i / T^i
  const double mu0 = 100 * std::sqrt(t) / polynomial(kDilute, 1 / t);
  // Eq. 12: mu1 = exp[ rho sum_ij (1/T - 1)^i H_ij (rho - 1)^j ]
  std::array<double, kFinite.size()> of_density;
  for (std::size_t i = 0; i < kFinite.size(); ++i) of_density[i] = polynomial(kFinite[i], rho - 1);
  const double mu1 = std::exp(rho * polynomial(of_density, 1 / t - 1));
  return mu0 * mu1 * kReducingViscosity_Pa_s;  // eq. 10 with mu2 = 1
}

}  // namespace slantrule::iapws_viscosity
