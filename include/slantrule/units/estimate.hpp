#pragma once

namespace slantrule {

/// A value with its standard uncertainty (k = 1), both in the unit that the name of the variable
/// says.
struct Estimate {
  double value = 0;
  double u = 0;
};

}  // namespace slantrule
