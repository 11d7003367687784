#include "slantrule/catalogue/liquid_strength.hpp"

namespace slantrule {

std::optional<double> mass_fraction_of_volume(const LiquidRecord& row, double volume_fraction) {
  struct Solute {
    std::string_view key;
    double density_kg_m3;
  };
  // Densities at 20 degC of the pure liquids, from memory (CRC); water 998.2.
  static constexpr Solute solutes[] = {
      {"ethylene_glycol_aq", 1113.5}, {"propylene_glycol_aq", 1036.1}, {"ethanol_aq", 789.3},
      {"ethanol_coolant", 789.3},     {"methanol_coolant", 791.4},     {"glycerol_water", 1261.3},
      {"glycerol_coolant", 1261.3},   {"propanediol_13_aq", 1053.0},
  };
  constexpr double water_kg_m3 = 998.2;
  for (const Solute& solute : solutes) {
    if (solute.key != row.key) continue;
    const double dissolved = volume_fraction * solute.density_kg_m3;
    return dissolved / (dissolved + (1 - volume_fraction) * water_kg_m3);
  }
  return std::nullopt;
}

}  // namespace slantrule
