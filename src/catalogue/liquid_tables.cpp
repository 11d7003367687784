#include "slantrule/catalogue/liquid_tables.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace slantrule {

const LiquidTableRecord* find_liquid_table(std::string_view key) {
  const auto tables = built_in_liquid_tables();
  const auto found = std::ranges::lower_bound(tables, key, {}, &LiquidTableRecord::key);
  return found != tables.end() && found->key == key ? &*found : nullptr;
}

std::shared_ptr<const LiquidModel> make_tabulated_liquid(const LiquidTableRecord& table,
                                                         std::string source) {
  TabulatedLiquidOptions options{.name = std::string(table.key),
                                 .source = std::move(source),
                                 .vapour_curve = std::nullopt,
                                 .freezing_point_K = std::nullopt,
                                 .pressure_effect = {},
                                 .absorption_factor = table.absorption_factor,
                                 .relative_u_absorption = table.relative_u_absorption};
  if (!std::isnan(table.boiling_point_K)) {
    options.vapour_curve = {.boiling_point_K = table.boiling_point_K,
                            .boiling_pressure_Pa = table.boiling_pressure_bar * 1e5,
                            .critical_temperature_K = table.critical_temperature_K,
                            .critical_pressure_Pa = table.critical_pressure_bar * 1e5};
  }
  if (!std::isnan(table.freezing_point_K)) options.freezing_point_K = table.freezing_point_K;
  if (!std::isnan(table.stiffening)) {
    options.pressure_effect = {.stiffening = table.stiffening,
                               .u_stiffening = table.u_stiffening,
                               .heat_capacity_ratio = table.heat_capacity_ratio};
  }
  if (!std::isnan(table.u_density_percent)) {
    options.relative_u_density = table.u_density_percent / 100;
  }
  if (!std::isnan(table.u_viscosity_percent)) {
    options.relative_u_viscosity = table.u_viscosity_percent / 100;
  }
  return make_tabulated_liquid(table.points, std::move(options));
}

}  // namespace slantrule
