#pragma once

/// The built-in liquids that are known by tables of points.

#include <memory>
#include <span>
#include <string>
#include <string_view>

#include "slantrule/catalogue/records.hpp"
#include "slantrule/liquids/tabulated_liquid.hpp"

namespace slantrule {

/// One liquid: its points, sorted by mass percent, pressure and temperature, and what else its
/// model needs. Absent numbers are NaN; of the boiling and critical point all four are known or
/// none, and so are the three of the pressure effect, which only a table with one isobar has.
struct LiquidTableRecord {
  std::string_view key;
  std::span<const LiquidPoint> points;
  double boiling_point_K, boiling_pressure_bar;
  double critical_temperature_K, critical_pressure_bar;
  double freezing_point_K;
  double stiffening, u_stiffening, heat_capacity_ratio;  ///< see PressureEffect
  double u_density_percent, u_viscosity_percent;         ///< standard; of the value
  double absorption_factor, relative_u_absorption;
  std::string_view source;  ///< of the numbers beside the points
  Confidence confidence;
};

/// Sorted by key.
std::span<const LiquidTableRecord> built_in_liquid_tables();

/// The table under exactly this key, or null.
const LiquidTableRecord* find_liquid_table(std::string_view key);

/// The table's liquid; `source` tells where its points come from, for the sheet.
std::shared_ptr<const LiquidModel> make_tabulated_liquid(const LiquidTableRecord& table,
                                                         std::string source);

}  // namespace slantrule
