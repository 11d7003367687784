#pragma once

/// Strengths of solutions.

#include <optional>

#include "slantrule/catalogue/records.hpp"

namespace slantrule {

/// Standard seawater, taken where no salinity is stated; open oceans hold 33 to 37 g/kg (from
/// memory), which `u_usual_salinity` covers as a standard uncertainty.
inline constexpr double usual_salinity = 0.035;
inline constexpr double u_usual_salinity = 0.001;

/// Mass fraction of a strength by volume (0 to 1), volumes counted before mixing at 20 degC;
/// nullopt where the density of the pure substance is not known.
std::optional<double> mass_fraction_of_volume(const LiquidRecord& row, double volume_fraction);

}  // namespace slantrule
