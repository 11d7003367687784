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

  double at(double frequency_Hz) const { return dB_m * std::pow(frequency_Hz / at_Hz, power); }
};

}  // namespace slantrule
