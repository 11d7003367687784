// Melinder's polynomials: with X = x - xm, Y = t - ym, x in mass per cent and t in degC,
//
//     rho = sum C_ij X^i Y^j in kg/m3
//     ln(mu / mPa s) = sum C_ij X^i Y^j
//     t_freeze / degC = sum C_i0 X^i
//
// The tables keep the book's order of i,j.

#include "slantrule/liquids/coolant.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <optional>
#include <stdexcept>
#include <string_view>

#include "slantrule/liquids/absorption.hpp"
#include "slantrule/liquids/water.hpp"
#include "state_range.hpp"

namespace slantrule {
namespace {

using melinder::Fluid;

// The powers of X and Y, term by term.
constexpr std::array<std::size_t, 18> kI{0, 0, 0, 0, 1, 1, 1, 1, 2, 2, 2, 2, 3, 3, 3, 4, 4, 5};
constexpr std::array<std::size_t, 18> kJ{0, 1, 2, 3, 0, 1, 2, 3, 0, 1, 2, 3, 0, 1, 2, 0, 1, 0};

struct Row {
  double density, ln_viscosity, freezing;
};
struct Polynomials {
  Fluid fluid;
  std::string_view name;
  melinder::Limits limits;
  double xm_percent, ym_degC;
  std::array<Row, 18> rows;
};

constexpr std::array<Polynomials, 12> kPolynomials{{
    {Fluid::MEG,
     "ethylene glycol solution",
     {60, 100},
     30.8462,
     31.728,
     {{
         {1034, 0.4705, -15.25},               // 0,0
         {-0.4781, -0.0255, 0},                // 0,1
         {-0.002692, 0.0001782, 0},            // 0,2
         {4.725e-06, -7.669e-07, 0},           // 0,3
         {1.311, 0.02471, -0.808},             // 1,0
         {-0.006876, -0.0001171, 0},           // 1,1
         {4.805e-05, 1.052e-06, 0},            // 1,2
         {1.69e-08, -1.634e-08, 0},            // 1,3
         {7.49e-05, 3.328e-06, -0.01334},      // 2,0
         {7.855e-05, 1.086e-06, 0},            // 2,1
         {-3.995e-07, 1.051e-08, 0},           // 2,2
         {4.982e-09, -6.475e-10, 0},           // 2,3
         {-0.0001062, 1.659e-06, -7.293e-05},  // 3,0
         {1.229e-06, 3.157e-09, 0},            // 3,1
         {-1.153e-08, 4.063e-10, 0},           // 3,2
         {-9.623e-07, 3.089e-08, 1.006e-06},   // 4,0
         {-7.211e-08, 1.831e-10, 0},           // 4,1
         {4.891e-08, -1.865e-09, 1.14e-09},    // 5,0
     }}},
    {Fluid::MPG,
     "propylene glycol solution",
     {60, 100},
     30.7031,
     32.7083,
     {{
         {1018, 0.6837, -13.25},                // 0,0
         {-0.5406, -0.03045, 0},                // 0,1
         {-0.002666, 0.0002525, 0},             // 0,2
         {1.347e-05, -1.399e-06, 0},            // 0,3
         {0.7604, 0.03328, -0.6631},            // 1,0
         {-0.00945, -0.0003984, 0},             // 1,1
         {5.541e-05, 4.332e-06, 0},             // 1,2
         {-1.343e-07, -1.86e-08, 0},            // 1,3
         {-0.002498, 5.453e-05, -0.01094},      // 2,0
         {2.7e-05, -8.6e-08, 0},                // 2,1
         {-4.018e-07, -1.593e-08, 0},           // 2,2
         {3.376e-09, -4.465e-11, 0},            // 2,3
         {-0.000155, -3.9e-06, -0.0002283},     // 3,0
         {2.829e-06, 1.054e-07, 0},             // 3,1
         {-7.175e-09, -1.589e-09, 0},           // 3,2
         {-1.131e-06, -1.587e-08, -3.409e-06},  // 4,0
         {-2.221e-08, 4.475e-10, 0},            // 4,1
         {2.342e-08, 3.564e-09, 1.465e-08},     // 5,0
     }}},
    {Fluid::MCA,
     "calcium chloride solution",
     {30, 40},
     18.7414,
     7.5257,
     {{
         {1171, 0.8939, -16.21},               // 0,0
         {-0.1463, -0.02647, 0},               // 0,1
         {-0.001302, 0.0001718, 0},            // 0,2
         {-0.0001871, -7.918e-07, 0},          // 0,3
         {9.847, 0.04389, -1.555},             // 1,0
         {-0.02488, 0.0002102, 0},             // 1,1
         {-0.000553, -8.688e-07, 0},           // 1,2
         {1.665e-05, -4.353e-08, 0},           // 1,3
         {0.03389, 0.0009121, -0.05496},       // 2,0
         {-0.002302, 3.993e-06, 0},            // 2,1
         {3.526e-05, 3.785e-07, 0},            // 2,2
         {2.788e-07, -9.979e-09, 0},           // 2,3
         {0.001062, 1.963e-06, -0.002624},     // 3,0
         {6.291e-05, -4.892e-07, 0},           // 3,1
         {1.806e-06, 1.526e-11, 0},            // 3,2
         {2.785e-05, 2.997e-07, -0.0001726},   // 4,0
         {6.423e-06, -3.631e-08, 0},           // 4,1
         {-1.811e-06, 3.435e-08, -4.494e-06},  // 5,0
     }}},
    {Fluid::MMG,
     "magnesium chloride solution",
     {21, 40},
     14.1327,
     9.3163,
     {{
         {1124, 0.9573, -15.12},              // 0,0
         {-0.3072, -0.03065, 0},              // 0,1
         {-0.003295, 0.0001115, 0},           // 0,2
         {1.015e-05, -2.923e-06, 0},          // 0,3
         {9.071, 0.04968, -1.885},            // 1,0
         {-0.006513, 0.0001559, 0},           // 1,1
         {4.664e-05, -1.796e-05, 0},          // 1,2
         {2.287e-06, 3.051e-07, 0},           // 1,3
         {0.02449, -0.002722, -0.05455},      // 2,0
         {3.574e-05, -1.753e-05, 0},          // 2,1
         {4.337e-06, 2.021e-06, 0},           // 2,2
         {6.044e-07, 2.614e-08, 0},           // 2,3
         {0.003402, 9.351e-05, -0.0007257},   // 3,0
         {-0.0001409, -8.353e-06, 0},         // 3,1
         {1.857e-06, 1.901e-07, 0},           // 3,2
         {0.0003344, 7.364e-05, -0.0003208},  // 4,0
         {-6.83e-06, -4.014e-07, 0},          // 4,1
         {7.239e-06, 3.717e-06, -1.794e-05},  // 5,0
     }}},
    {Fluid::MKF,
     "potassium formate solution",
     {48, 40},
     29.1447,
     5.8908,
     {{
         {1189, 0.8088, -20.19},                // 0,0
         {-0.3515, -0.02556, 0},                // 0,1
         {-0.001918, 0.0002195, 0},             // 0,2
         {3.132e-05, -1.667e-06, 0},            // 0,3
         {7.044, 0.01758, -1.106},              // 1,0
         {-0.00656, 8.603e-05, 0},              // 1,1
         {7.018e-05, 2.498e-06, 0},             // 1,2
         {-1.459e-06, -3.569e-08, 0},           // 1,3
         {0.01889, -8.372e-05, -0.021},         // 2,0
         {0.0001034, -1.601e-06, 0},            // 2,1
         {-3.889e-06, 4.815e-09, 0},            // 2,2
         {9.225e-09, -1.861e-09, 0},            // 2,3
         {-0.0002262, -1.184e-06, -0.0002638},  // 3,0
         {3.692e-07, -1.331e-07, 0},            // 3,1
         {6.609e-08, -5.489e-09, 0},            // 3,2
         {2.368e-05, 1.088e-06, 8.327e-07},     // 4,0
         {8.766e-08, -7.003e-09, 0},            // 4,1
         {1.061e-06, 3.098e-08, 6.345e-08},     // 5,0
     }}},
    {Fluid::MKA,
     "potassium acetate solution",
     {45, 40},
     25.6757,
     6.7757,
     {{
         {1138, 1.042, -17.04},               // 0,0
         {-0.3565, -0.03071, 0},              // 0,1
         {-0.00202, 0.0002819, 0},            // 0,2
         {4.205e-06, -2.19e-06, 0},           // 0,3
         {5.796, 0.03405, -1.228},            // 1,0
         {-0.0079, -0.0001511, 0},            // 1,1
         {2.753e-05, 1.172e-06, 0},           // 1,2
         {5.14e-08, -2.379e-08, 0},           // 1,3
         {0.01306, 0.0005017, -0.03862},      // 2,0
         {6.845e-05, -7.779e-06, 0},          // 2,1
         {-1.13e-06, 9.125e-08, 0},           // 2,2
         {2.433e-08, -1.888e-09, 0},          // 2,3
         {-0.001427, 5.637e-06, -0.0004571},  // 3,0
         {8.304e-07, 2.534e-08, 0},           // 3,1
         {1.303e-08, 1.596e-09, 0},           // 3,2
         {9.353e-06, -2.922e-07, 2.969e-05},  // 4,0
         {2.322e-08, 4.601e-09, 0},           // 4,1
         {2.285e-06, -7.96e-09, 8.69e-07},    // 5,0
     }}},
    {Fluid::MGL,
     "glycerol solution",
     {60, 40},
     36.1905,
     8.911,
     {{
         {1093, 1.52, -13},                    // 0,0
         {-0.3624, -0.03729, 0},               // 0,1
         {-0.002451, 0.0003572, 0},            // 0,2
         {1.547e-05, -3.648e-06, 0},           // 0,3
         {2.74, 0.0445, -0.5742},              // 1,0
         {-0.008373, -0.0002688, 0},           // 1,1
         {9.596e-05, 8.876e-07, 0},            // 1,2
         {-6.999e-07, -2.209e-08, 0},          // 1,3
         {0.004081, 0.0003633, -0.009119},     // 2,0
         {1.808e-05, -4.088e-06, 0},           // 2,1
         {-8.516e-07, 6.219e-08, 0},           // 2,2
         {1.441e-08, 6.331e-10, 0},            // 2,3
         {-4.744e-05, 1.069e-06, -0.0001641},  // 3,0
         {1.833e-06, -1.248e-07, 0},           // 3,1
         {-3.077e-08, 3.019e-09, 0},           // 3,2
         {-1.415e-06, 5.729e-08, -2.408e-06},  // 4,0
         {1.863e-08, -1.78e-09, 0},            // 4,1
         {-6.097e-09, 2.116e-09, -7.734e-09},  // 5,0
     }}},
    {Fluid::MEA,
     "ethanol solution",
     {60, 40},
     29.2361,
     8.1578,
     {{
         {961.9, 1.474, -19.41},              // 0,0
         {-0.5222, -0.04745, 0},              // 0,1
         {-0.003281, 0.0004314, 0},           // 0,2
         {1.569e-05, -3.023e-06, 0},          // 0,3
         {-1.433, 0.01565, -0.954},           // 1,0
         {-0.01989, -4.106e-05, 0},           // 1,1
         {0.000187, -5.135e-06, 0},           // 1,2
         {-9.154e-07, 7.004e-08, 0},          // 1,3
         {-0.0226, -0.0008435, -0.002648},    // 2,0
         {0.0002281, 1.64e-05, 0},            // 2,1
         {-8.581e-08, -1.091e-07, 0},         // 2,2
         {4.056e-09, -1.967e-09, 0},          // 2,3
         {-0.000169, 7.552e-06, 0.0003851},   // 3,0
         {8.594e-06, -1.118e-07, 0},          // 3,1
         {-9.607e-08, 1.899e-09, 0},          // 3,2
         {1.291e-05, 1.529e-07, -2.858e-07},  // 4,0
         {-1.59e-07, -9.481e-10, 0},          // 4,1
         {-8.318e-08, -4.13e-09, -1.67e-07},  // 5,0
     }}},
    {Fluid::MMA,
     "methanol solution",
     {60, 40},
     30.5128,
     3.5359,
     {{
         {958.1, 1.153, -26.29},               // 0,0
         {-0.4151, -0.03866, 0},               // 0,1
         {-0.002261, 0.0002779, 0},            // 0,2
         {2.998e-07, -1.543e-06, 0},           // 0,3
         {-1.391, 0.005448, -1.187},           // 1,0
         {-0.0151, 0.0001008, 0},              // 1,1
         {0.0001113, -2.809e-06, 0},           // 1,2
         {-3.264e-07, 9.811e-09, 0},           // 1,3
         {-0.01105, -0.0005552, -0.01218},     // 2,0
         {0.0001828, 8.384e-06, 0},            // 2,1
         {-1.641e-06, -3.997e-08, 0},          // 2,2
         {1.51e-08, -3.466e-10, 0},            // 2,3
         {-0.0001208, 3.038e-06, -6.823e-05},  // 3,0
         {2.992e-06, -7.435e-08, 0},           // 3,1
         {1.455e-09, 7.442e-10, 0},            // 3,2
         {4.927e-06, 6.669e-08, 1.297e-07},    // 4,0
         {-1.325e-07, -9.105e-10, 0},          // 4,1
         {-7.727e-08, -8.472e-10, 2.363e-08},  // 5,0
     }}},
    {Fluid::MAM,
     "ammonia solution",
     {30, 30},
     16.0784,
     -4.649,
     {{
         {944.5, 0.9255, -25.76},             // 0,0
         {-0.2743, -0.03439, 0},              // 0,1
         {-0.003113, 0.0003217, 0},           // 0,2
         {3.349e-06, -4.544e-06, 0},          // 0,3
         {-2.914, 0.01327, -2.385},           // 1,0
         {-0.02307, 0.0001856, 0},            // 1,1
         {0.0001341, -1.646e-05, 0},          // 1,2
         {-5.151e-07, 3.004e-07, 0},          // 1,3
         {0.02262, -0.0005979, -0.07636},     // 2,0
         {6.645e-05, -2.184e-05, 0},          // 2,1
         {-8.7e-06, 1.297e-06, 0},            // 2,2
         {8.999e-08, -1.141e-08, 0},          // 2,3
         {-0.0006685, -0.0001097, -0.00261},  // 3,0
         {-1.002e-06, 1.67e-06, 0},           // 3,1
         {3.309e-07, -3.377e-08, 0},          // 3,2
         {1.635e-06, 3.065e-06, -7.3e-05},    // 4,0
         {4.465e-07, -6.166e-08, 0},          // 4,1
         {6.298e-07, 3.244e-07, -1.075e-06},  // 5,0
     }}},
    {Fluid::MKC,
     "potassium carbonate solution",
     {40, 40},
     22.0833,
     11.2422,
     {{
         {1216, 0.8063, -10.3},                 // 0,0
         {-0.4114, -0.02362, 0},                // 0,1
         {-0.003383, 0.0001851, 0},             // 0,2
         {2.99e-05, -2.372e-06, 0},             // 0,3
         {10.64, 0.03624, -0.7786},             // 1,0
         {-0.007614, -1.262e-05, 0},            // 1,1
         {5.214e-05, -3.022e-07, 0},            // 1,2
         {-8.087e-07, -7.761e-09, 0},           // 1,3
         {0.04413, 0.0006659, -0.02766},        // 2,0
         {7.806e-05, -1.611e-05, 0},            // 2,1
         {-1.173e-06, 1.53e-07, 0},             // 2,2
         {5.658e-08, 1.061e-09, 0},             // 2,3
         {-0.0001333, 1.077e-05, -0.0008226},   // 3,0
         {-2.381e-06, -9.796e-08, 0},           // 3,1
         {1.696e-07, 3.07e-09, 0},              // 3,2
         {-1.246e-05, -1.097e-07, -2.372e-06},  // 4,0
         {2.708e-07, 7.825e-09, 0},             // 4,1
         {2.035e-07, -8.453e-09, 3.251e-07},    // 5,0
     }}},
    {Fluid::MNA,
     "sodium chloride solution",
     {23, 40},
     13.3897,
     12.6179,
     {{
         {1099, 0.4369, -9.383},              // 0,0
         {-0.3758, -0.02666, 0},              // 0,1
         {-0.002023, 0.0002035, 0},           // 0,2
         {0, 0, 0},                           // 0,3
         {7.723, 0.02346, -0.9039},           // 1,0
         {-0.01426, -5.368e-05, 0},           // 1,1
         {0.0001535, 2.871e-06, 0},           // 1,2
         {0, 0, 0},                           // 1,3
         {0.02567, 0.0004276, -0.02204},      // 2,0
         {0.0003994, -4.526e-06, 0},          // 2,1
         {-7.281e-06, 1.838e-07, 0},          // 2,2
         {0, 0, 0},                           // 2,3
         {0.0001108, 7.386e-06, -0.0004827},  // 3,0
         {3.522e-07, 5.437e-07, 0},           // 3,1
         {0, 0, 0},                           // 3,2
         {-1.686e-05, 4.688e-07, 2.247e-06},  // 4,0
         {0, 0, 0},                           // 4,1
         {0, 0, 0},                           // 5,0
     }}},
}};

constexpr bool in_order() {
  for (std::size_t k = 0; k < kPolynomials.size(); ++k) {
    if (kPolynomials[k].fluid != Fluid{static_cast<int>(k)}) return false;
  }
  return true;
}
static_assert(in_order());

constexpr const Polynomials& polynomials(Fluid fluid) {
  return kPolynomials[static_cast<std::size_t>(fluid)];
}

double sum_of(const Polynomials& of, double Row::*coefficient, double mass_percent,
              double temperature_degC) {
  std::array<double, 6> x{1};
  std::array<double, 4> y{1};
  for (std::size_t i = 1; i < x.size(); ++i) x[i] = x[i - 1] * (mass_percent - of.xm_percent);
  for (std::size_t j = 1; j < y.size(); ++j) y[j] = y[j - 1] * (temperature_degC - of.ym_degC);
  double sum = 0;
  for (std::size_t k = 0; k < kI.size(); ++k) {
    sum += of.rows[k].*coefficient * x[kI[k]] * y[kJ[k]];
  }
  return sum;
}

}  // namespace

namespace melinder {

Limits limits(Fluid fluid) {
  return polynomials(fluid).limits;
}

double density_kg_m3(Fluid fluid, double mass_percent, double temperature_degC) {
  return sum_of(polynomials(fluid), &Row::density, mass_percent, temperature_degC);
}

double viscosity_mPa_s(Fluid fluid, double mass_percent, double temperature_degC) {
  return std::exp(sum_of(polynomials(fluid), &Row::ln_viscosity, mass_percent, temperature_degC));
}

double freezing_temperature_degC(Fluid fluid, double mass_percent) {
  const Polynomials& of = polynomials(fluid);
  return sum_of(of, &Row::freezing, mass_percent, of.ym_degC);
}

}  // namespace melinder

namespace glycol_analogy {

double excess_m_s(double mass_fraction, double temperature_degC) {
  const double w = mass_fraction, d = 1 - 2 * w;
  const double th = (temperature_degC - 25) / 10;
  return w * (1 - w) *
         (550.973 - 55.402 * th + 3.908 * th * th + d * (-182.214 + 10.496 * th + 2.430 * th * th) +
          d * d * (-59.413 + 16.924 * th));
}

double pure_sound_speed_m_s(Glycol glycol, double temperature_degC) {
  const double s = temperature_degC - 25;
  switch (glycol) {
    case Glycol::ethylene:
      return 1660 - 2.3 * s;
    case Glycol::propylene:
      return 1508.25 + (-2.7813 + (-1.776e-3 + 4.99e-6 * s) * s) * s;
    case Glycol::propane_1_3_diol:
      return 1625.0 - 2.28 * s;
  }
  throw std::invalid_argument("no such glycol");
}

double excess_factor(Glycol glycol) {
  return glycol == Glycol::ethylene ? 0.90 : 1;
}

}  // namespace glycol_analogy

namespace {

constexpr double kIcePoint_K = 273.15;
constexpr double kAtmosphere_Pa = 101325;
constexpr double kHighestPressure_Pa = 5e6;

// Of water at 20 degC; propylene glycol has 4.7e-10, salt solutions down to 3e-10, which at 5 MPa
// is within the uncertainty.
constexpr double kCompressibility_1_Pa = 4.6e-10;

double pressure_factor(double pressure_Pa) {
  return 1 + kCompressibility_1_Pa * (pressure_Pa - kAtmosphere_Pa);
}

// Freezing under pressure as water's changes.
std::optional<double> freezing_K(Fluid fluid, const LiquidModel& water, const LiquidState& state) {
  const double mass_percent = 100 * state.mass_fraction;
  constexpr double kRounding = 1e-9;
  if (mass_percent > melinder::limits(fluid).highest_mass_percent + kRounding) return std::nullopt;
  const auto water_K = water.freezing_temperature_K(state);
  if (!water_K) return std::nullopt;
  // At x = 0 some polynomials are a few mK above 0 degC.
  return *water_K + std::min(0.0, melinder::freezing_temperature_degC(fluid, mass_percent));
}

ValidRange range_of(Fluid fluid) {
  const melinder::Limits limits = melinder::limits(fluid);
  return {.lowest_temperature_K =
              kIcePoint_K + melinder::freezing_temperature_degC(fluid, limits.highest_mass_percent),
          .highest_temperature_K = kIcePoint_K + limits.highest_temperature_degC,
          .highest_pressure_Pa = kHighestPressure_Pa,
          .lowest_mass_fraction = 0,
          .highest_mass_fraction = limits.highest_mass_percent / 100};
}

class Coolant final : public LiquidModel {
 public:
  explicit Coolant(Fluid fluid)
      : fluid_(fluid), name_(polynomials(fluid).name), range_(range_of(fluid)) {}

  LiquidProperties at(const LiquidState& state) const override {
    require_state(name_, state);
    ValidRange range = range_;
    range.lowest_temperature_K =
        freezing_K(fluid_, *water_, state).value_or(range_.lowest_temperature_K);
    const double factor = range_factor(name_, state, range);
    const double x = 100 * state.mass_fraction, t = state.temperature_K - kIcePoint_K;
    const double u_viscosity = fluid_ == Fluid::MMG || fluid_ == Fluid::MAM ? 0.10 : 0.05;
    return {.sound_speed_m_s = std::nullopt,
            .density_kg_m3 =
                relative(melinder::density_kg_m3(fluid_, x, t) * pressure_factor(state.pressure_Pa),
                         factor * 0.002),
            .viscosity_Pa_s =
                relative(1e-3 * melinder::viscosity_mPa_s(fluid_, x, t), factor * u_viscosity)};
  }

  std::optional<double> saturation_pressure_Pa(double temperature_K) const override {
    if (fluid_ == Fluid::MEA || fluid_ == Fluid::MMA || fluid_ == Fluid::MAM) return std::nullopt;
    return water_->saturation_pressure_Pa(temperature_K);
  }

  std::optional<double> freezing_temperature_K(const LiquidState& state) const override {
    require_state(name_, state);
    return freezing_K(fluid_, *water_, state);
  }

  std::optional<Absorption> absorption(const LiquidState& state) const override {
    at(state);  // throws what it throws
    return std::nullopt;
  }

  std::optional<ValidRange> valid_range() const override { return range_; }

  std::string_view source() const override {
    return "Melinder 2010 (IIF/IIR) for density, viscosity, freezing; speed of sound not known";
  }

 private:
  Fluid fluid_;
  std::string_view name_;
  ValidRange range_;
  std::shared_ptr<const LiquidModel> water_ = make_water();
};

// ------------------------------------------------------------ glycols

constexpr double kMelinderEnd = 0.6;  // mass fraction; beyond, towards the pure glycol

constexpr double kMeasuredFrom_degC = 10;  // the temperatures of the analogy
constexpr double kMeasuredTo_degC = 40;

// VDI Heat Atlas 2010, ethylene glycol: rho = rho_c + A q^0.35 + B q^(2/3) + C q + D q^(4/3) with
// q = 1 - T/T_c; mu = E exp(a r^(1/3) + b r^(4/3)) with r = (c - T)/(T - d).
double ethylene_glycol_density_kg_m3(double temperature_K) {
  const double q = 1 - temperature_K / 719.15;
  return 325 + 1305.5931 * std::pow(q, 0.35) - 1374.2561 * std::pow(q, 2.0 / 3) + 1691.0501 * q -
         665.0358 * std::pow(q, 4.0 / 3);
}
double ethylene_glycol_viscosity_Pa_s(double temperature_K) {
  const double r = (587.004 - temperature_K) / (temperature_K - 10.679);
  return 0.00132759 * std::exp((-2.46697 + 5.00103 * r) * std::cbrt(r));
}

// Propylene glycol: parabola through the densities at 0, 50 and 100 degC of Eisenbach et al. 2021
// (0.1 kg/m3 off between); viscosity from Perry's Handbook, 8th ed., table 2-313.
double propylene_glycol_density_kg_m3(double temperature_K) {
  const double t = temperature_K - kIcePoint_K;
  return 1051.38 - 0.7381 * t - 4.58e-4 * t * t;
}
double propylene_glycol_viscosity_Pa_s(double temperature_K) {
  return std::exp(-804.54 + 30487 / temperature_K + 130.79 * std::log(temperature_K) -
                  0.15449 * temperature_K);
}

struct GlycolData {
  Glycol glycol;
  std::string_view name, source;
  std::optional<Fluid> fluid;
  double lowest_pure_degC;  // where the range begins for the pure glycol
  double (*density_kg_m3)(double temperature_K);
  double (*viscosity_Pa_s)(double temperature_K);
  double u_mixing_m_s, u_pure_m_s, u_pure_slope_m_s_K, u_pressure_m_s_Pa;
  double u_absorption;  // relative
};

const GlycolData& glycol_data(Glycol glycol) {
  static constexpr GlycolData kGlycols[] = {
      {.glycol = Glycol::ethylene,
       .name = "ethylene glycol",
       .source =
           "IAPWS-95 and analogy to measured 1,3-propanediol for speed of sound (slope of the "
           "glycol from memory); Melinder 2010 for density, viscosity",
       .fluid = Fluid::MEG,
       .lowest_pure_degC = -13,  // freezes (from memory)
       .density_kg_m3 = ethylene_glycol_density_kg_m3,
       .viscosity_Pa_s = ethylene_glycol_viscosity_Pa_s,
       .u_mixing_m_s = 8,
       .u_pure_m_s = 4,
       .u_pure_slope_m_s_K = 0.1,
       .u_pressure_m_s_Pa = 1e-6,
       .u_absorption = 0.3},
      {.glycol = Glycol::propylene,
       .name = "propylene glycol",
       .source =
           "IAPWS-95 and analogy to 1,3-propanediol for speed of sound (probably up to 40 m/s "
           "too low; measure it); Melinder 2010 for density, viscosity",
       .fluid = Fluid::MPG,
       .lowest_pure_degC = -10,  // does not freeze; thicker than 0.6 Pa s below
       .density_kg_m3 = propylene_glycol_density_kg_m3,
       .viscosity_Pa_s = propylene_glycol_viscosity_Pa_s,
       .u_mixing_m_s = 25,
       .u_pure_m_s = 3,
       .u_pure_slope_m_s_K = 0,
       .u_pressure_m_s_Pa = 0,
       .u_absorption = 0.5},
      {.glycol = Glycol::propane_1_3_diol,
       .name = "1,3-propanediol",
       .source = "speed of sound fitted to Zaoui-Djelloul-Daouadji et al. 2016, 10 to 40 degC; "
                 "density and viscosity not known",
       .fluid = std::nullopt,
       .lowest_pure_degC = 0,
       .density_kg_m3 = nullptr,
       .viscosity_Pa_s = nullptr,
       .u_mixing_m_s = 2,
       .u_pure_m_s = 2,
       .u_pure_slope_m_s_K = 0,
       .u_pressure_m_s_Pa = 1e-6,
       .u_absorption = 0},
  };
  const GlycolData& data = kGlycols[static_cast<std::size_t>(glycol)];
  return data;
}

// A property above 60 %: keeps the value and slope that Melinder gives there, ends at `pure`.
template <typename Property>
double towards_pure(const Property& melinder_at_percent, double pure, double mass_fraction) {
  constexpr double kStep = 0.01;  // per cent; the polynomials are smooth
  const double end = 100 * kMelinderEnd;
  const double value = melinder_at_percent(end);
  const double slope =
      (melinder_at_percent(end + kStep) - melinder_at_percent(end - kStep)) / (2 * kStep);
  const double x = 100 * (mass_fraction - kMelinderEnd), whole = 100 - end;
  return value + slope * x + (pure - value - slope * whole) * (x / whole) * (x / whole);
}

class GlycolWater final : public LiquidModel {
 public:
  explicit GlycolWater(Glycol glycol) : of_(glycol_data(glycol)) {
    const double lowest_degC =
        of_.fluid ? melinder::freezing_temperature_degC(*of_.fluid, 100 * kMelinderEnd)
                  : of_.lowest_pure_degC;
    const double highest_degC =
        of_.fluid ? melinder::limits(*of_.fluid).highest_temperature_degC : 60;
    range_ = {.lowest_temperature_K = lowest_degC + kIcePoint_K,
              .highest_temperature_K = highest_degC + kIcePoint_K,
              .highest_pressure_Pa = kHighestPressure_Pa,
              .lowest_mass_fraction = 0,
              .highest_mass_fraction = 1};
  }

  LiquidProperties at(const LiquidState& state) const override {
    require_state(of_.name, state);
    const double factor = range_factor(of_.name, state, range_at(state));
    const double w = state.mass_fraction;
    LiquidProperties here;
    here.sound_speed_m_s = sound_speed_m_s(state);
    here.sound_speed_m_s->u *= factor;
    if (of_.fluid) {
      const bool strong = w > kMelinderEnd;
      here.density_kg_m3 = relative(density_kg_m3(state), factor * (strong ? 0.005 : 0.002));
      here.viscosity_Pa_s = relative(viscosity_Pa_s(state), factor * (strong ? 0.15 : 0.05));
    }
    return here;
  }

  std::optional<double> saturation_pressure_Pa(double temperature_K) const override {
    return water_->saturation_pressure_Pa(temperature_K);
  }

  std::optional<double> freezing_temperature_K(const LiquidState& state) const override {
    require_state(of_.name, state);
    return of_.fluid ? freezing_K(*of_.fluid, *water_, state) : std::nullopt;
  }

  std::optional<Absorption> absorption(const LiquidState& state) const override {
    return absorption_of(state, at(state));
  }

  std::optional<Absorption> absorption_of(const LiquidState& state,
                                          const LiquidProperties& here) const override {
    if (!here.density_kg_m3 || !here.viscosity_Pa_s) return std::nullopt;
    const double w = state.mass_fraction;
    return stokes_absorption(here.density_kg_m3->value, here.sound_speed_m_s->value,
                             here.viscosity_Pa_s->value, water_absorption_factor - 0.6 * w * w,
                             of_.u_absorption);
  }

  bool always_has_sound_speed() const override { return true; }

  std::optional<ValidRange> valid_range() const override { return range_; }

  std::string_view source() const override { return of_.source; }

 private:
  // The range at this mass fraction: it begins at the freezing line where that is known.
  ValidRange range_at(const LiquidState& state) const {
    ValidRange range = range_;
    if (const auto freezing_K = freezing_temperature_K(state)) {
      range.lowest_temperature_K = *freezing_K;
    } else if (of_.fluid) {
      const double share = (state.mass_fraction - kMelinderEnd) / (1 - kMelinderEnd);
      range.lowest_temperature_K +=
          share * (of_.lowest_pure_degC + kIcePoint_K - range.lowest_temperature_K);
    }
    return range;
  }

  Estimate sound_speed_m_s(const LiquidState& state) const {
    const double w = state.mass_fraction, t = state.temperature_K - kIcePoint_K;
    const double over_Pa = state.pressure_Pa - kAtmosphere_Pa;
    const Estimate water = water_sound_speed_m_s(state);
    constexpr double kPressureSlope_m_s_Pa = 0.37e-5;  // of propylene glycol, 20 degC, to 5 MPa
    const double pure_m_s =
        glycol_analogy::pure_sound_speed_m_s(of_.glycol, t) + kPressureSlope_m_s_Pa * over_Pa;
    const double value =
        (1 - w) * water.value + w * pure_m_s +
        glycol_analogy::excess_factor(of_.glycol) * glycol_analogy::excess_m_s(w, t);

    constexpr double kPerKelvin_m_s = 0.5;
    constexpr double kInhibitors_m_s = 5, kFullyInhibited = 0.25;
    const double outside_K = std::abs(t - std::clamp(t, kMeasuredFrom_degC, kMeasuredTo_degC));
    double variance = 0;
    for (const double u :
         {(1 - w) * water.u, 4 * w * (1 - w) * (of_.u_mixing_m_s + kPerKelvin_m_s * outside_K),
          w * of_.u_pure_m_s, w * of_.u_pure_slope_m_s_K * (t - 25),
          w * of_.u_pressure_m_s_Pa * over_Pa,
          kInhibitors_m_s * std::min(1.0, w / kFullyInhibited)}) {
      variance += u * u;
    }
    return {value, std::sqrt(variance)};
  }

  // Below the temperatures that water is answered at, its curve is continued straight: there the
  // solution is more than a third glycol, and the anomaly of supercooled water gone.
  Estimate water_sound_speed_m_s(const LiquidState& state) const {
    constexpr double kLowest_K = 253.15, kStep_K = 0.01;
    const auto at = [&](double temperature_K) {
      return *water_->at({.temperature_K = temperature_K, .pressure_Pa = state.pressure_Pa})
                  .sound_speed_m_s;
    };
    if (state.temperature_K >= kLowest_K) return at(state.temperature_K);
    Estimate water = at(kLowest_K);
    const double slope_m_s_K = (at(kLowest_K + kStep_K).value - water.value) / kStep_K;
    water.value += slope_m_s_K * (state.temperature_K - kLowest_K);
    return water;
  }

  double density_kg_m3(const LiquidState& state) const {
    const double t = state.temperature_K - kIcePoint_K;
    const auto melinder_at = [&](double percent) {
      return melinder::density_kg_m3(*of_.fluid, percent, t);
    };
    const double at_1_atm = state.mass_fraction <= kMelinderEnd
                                ? melinder_at(100 * state.mass_fraction)
                                : towards_pure(melinder_at, of_.density_kg_m3(state.temperature_K),
                                               state.mass_fraction);
    return at_1_atm * pressure_factor(state.pressure_Pa);
  }

  double viscosity_Pa_s(const LiquidState& state) const {
    const double t = state.temperature_K - kIcePoint_K;
    if (state.mass_fraction <= kMelinderEnd) {
      return 1e-3 * melinder::viscosity_mPa_s(*of_.fluid, 100 * state.mass_fraction, t);
    }
    const auto ln_melinder_at = [&](double percent) {
      return std::log(1e-3 * melinder::viscosity_mPa_s(*of_.fluid, percent, t));
    };
    return std::exp(towards_pure(ln_melinder_at, std::log(of_.viscosity_Pa_s(state.temperature_K)),
                                 state.mass_fraction));
  }

  const GlycolData& of_;
  ValidRange range_{};
  std::shared_ptr<const LiquidModel> water_ = make_water();
};

}  // namespace

std::shared_ptr<const LiquidModel> make_glycol_water(Glycol glycol) {
  return std::make_shared<GlycolWater>(glycol);
}

std::shared_ptr<const LiquidModel> make_coolant(melinder::Fluid fluid) {
  if (fluid == Fluid::MEG) return make_glycol_water(Glycol::ethylene);
  if (fluid == Fluid::MPG) return make_glycol_water(Glycol::propylene);
  return std::make_shared<Coolant>(fluid);
}

}  // namespace slantrule
