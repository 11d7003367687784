#pragma once

/// How a medium swallows sound, as a function of frequency.

#include <cmath>

namespace slantrule {

/// Absorption of sound: `dB_m` at the frequency `at_Hz`, growing with the `power` of the frequency
/// (2 for simple liquids, about 1 for solids). `relative_u` is the standard uncertainty relative to
/// dB_m.
struct Absorption {
  double dB_m = 0;
  double at_Hz = 1e6;
  double power = 2;
  double relative_u = 0;

  double at(double frequency_Hz) const {
    const double ratio = frequency_Hz / at_Hz;
    // Nearly all powers are 1 or 2, and pow takes long.
    if (power == 1) return dB_m * ratio;
    if (power == 2) return dB_m * (ratio * ratio);
    return dB_m * std::pow(ratio, power);
  }
};

}  // namespace slantrule
