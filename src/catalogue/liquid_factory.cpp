#include "slantrule/catalogue/liquid_factory.hpp"

#include <fmt/format.h>

#include <array>
#include <charconv>
#include <cmath>
#include <mutex>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

#include "slantrule/catalogue/liquid_tables.hpp"
#include "slantrule/liquids/coolant.hpp"
#include "slantrule/liquids/correlated_liquid.hpp"
#include "slantrule/liquids/electrolyte.hpp"
#include "slantrule/liquids/petroleum.hpp"
#include "slantrule/liquids/seawater.hpp"
#include "slantrule/liquids/water.hpp"

namespace slantrule {
namespace {

using Model = std::shared_ptr<const LiquidModel>;

/// The value that stands beside `name` in a list of pairs; std::logic_error when there is none: the
/// data and this file have come apart (a test makes every built-in liquid).
template <class Value, std::size_t n>
Value named(const std::array<std::pair<std::string_view, Value>, n>& list,
            const LiquidRecord& row) {
  for (const auto& [name, value] : list) {
    if (name == row.parameter) return value;
  }
  throw std::logic_error(fmt::format("liquid {}: model {} knows no parameter \"{}\"", row.key,
                                     row.model, row.parameter));
}

Model electrolyte(const LiquidRecord& row) {
  static constexpr std::array<std::pair<std::string_view, Solute>, 12> solutes{{
      {"CaCl2", Solute::CaCl2},
      {"H2SO4", Solute::H2SO4},
      {"HCl", Solute::HCl},
      {"HNO3", Solute::HNO3},
      {"K2CO3", Solute::K2CO3},
      {"KCl", Solute::KCl},
      {"KOH", Solute::KOH},
      {"MgCl2", Solute::MgCl2},
      {"Na2CO3", Solute::Na2CO3},
      {"Na2SO4", Solute::Na2SO4},
      {"NaCl", Solute::NaCl},
      {"NaOH", Solute::NaOH},
  }};
  return make_electrolyte(named(solutes, row));
}

Model coolant(const LiquidRecord& row) {
  using melinder::Fluid;
  static constexpr std::array<std::pair<std::string_view, Fluid>, 12> fluids{{
      {"MEG", Fluid::MEG},
      {"MPG", Fluid::MPG},
      {"MCA", Fluid::MCA},
      {"MMG", Fluid::MMG},
      {"MKF", Fluid::MKF},
      {"MKA", Fluid::MKA},
      {"MGL", Fluid::MGL},
      {"MEA", Fluid::MEA},
      {"MMA", Fluid::MMA},
      {"MAM", Fluid::MAM},
      {"MKC", Fluid::MKC},
      {"MNA", Fluid::MNA},
  }};
  return make_coolant(named(fluids, row));
}

Model glycol_water(const LiquidRecord& row) {
  static constexpr std::array<std::pair<std::string_view, Glycol>, 2> glycols{{
      {"ethylene_glycol", Glycol::ethylene},
      {"propylene_glycol", Glycol::propylene},
  }};
  return make_glycol_water(named(glycols, row));
}

Model fuel(const LiquidRecord& row) {
  static constexpr std::array<std::pair<std::string_view, Fuel>, 5> fuels{{
      {"gasoline", Fuel::gasoline},
      {"kerosene", Fuel::kerosene},
      {"diesel", Fuel::diesel},
      {"heavy_fuel_oil", Fuel::heavy_fuel_oil},
      {"biodiesel", Fuel::biodiesel},
  }};
  return make_fuel(named(fuels, row));
}

Model correlated(const LiquidRecord& row) {
  static constexpr std::array<std::pair<std::string_view, Model (*)()>, 6> liquids{{
      {"isopropanol", make_isopropanol},
      {"ethylene_glycol", make_ethylene_glycol},
      {"glycerol", make_glycerol},
      {"vegetable_oil", make_vegetable_oil},
      {"castor_oil", make_castor_oil},
      {"milk_whole", make_milk},
  }};
  return named(liquids, row)();
}

/// An oil by its ISO viscosity grade: the row's own, or the one that stands beside the name.
Model mineral_oil(const LiquidRecord& row, std::optional<double> parameter) {
  if (row.parameter == "transformer") return make_transformer_oil();
  if (row.parameter == "lubricating") return make_lubricating_oil();
  int grade = 0;
  if (!row.parameter.empty()) {
    std::from_chars(row.parameter.data(), row.parameter.data() + row.parameter.size(), grade);
  } else if (parameter) {
    grade = static_cast<int>(std::lround(*parameter));
  } else {
    throw std::invalid_argument(
        fmt::format("{} needs its ISO viscosity grade; write it with the name: \"{} VG 46\"",
                    row.name, row.name));
  }
  return make_iso_vg_oil(grade);
}

Model crude_oil(const LiquidRecord& row, std::optional<double> parameter) {
  if (!parameter) {
    throw std::invalid_argument(fmt::format(
        "{} needs its API gravity; write it with the name: \"{} 32 API\"", row.name, row.name));
  }
  return make_crude_oil(*parameter);
}

/// A table of points. A built-in one is made when it is first asked for, and kept; a user's may be
/// another one under the same name tomorrow.
Model tabulated(const LiquidRecord& row, const Catalogue& catalogue) {
  const LiquidTableRecord* table = catalogue.liquid_table(row.parameter);
  if (!table) throw std::logic_error(fmt::format("liquid {}: there is no table", row.key));
  const auto built_in = built_in_liquid_tables();
  if (table < built_in.data() || table >= built_in.data() + built_in.size()) {
    return make_tabulated_liquid(*table, std::string(row.source));
  }
  static std::vector<std::once_flag> once(built_in.size());
  static std::vector<Model> models(built_in.size());
  const auto index = static_cast<std::size_t>(table - built_in.data());
  std::call_once(once[index],
                 [&] { models[index] = make_tabulated_liquid(*table, std::string(row.source)); });
  return models[index];
}

/// Models that need nothing but the row are made once.
template <Model (*make)()>
Model shared() {
  static const Model model = make();
  return model;
}

}  // namespace

LiquidParameter parameter_needed(const LiquidRecord& row) {
  if (row.model == "crude_oil") return LiquidParameter::api_gravity;
  if (row.model == "mineral_oil" && row.parameter.empty()) return LiquidParameter::iso_vg;
  return LiquidParameter::none;
}

std::shared_ptr<const LiquidModel> make_liquid(const LiquidRecord& row,
                                               std::optional<double> parameter,
                                               const Catalogue& catalogue) {
  if (row.model == "water") return shared<make_water>();
  if (row.model == "seawater") return shared<make_seawater>();
  if (row.model == "brine_nacl") return shared<make_sodium_chloride_brine>();
  if (row.model == "glycerol_water") return shared<make_glycerol_water>();
  if (row.model == "electrolyte") return electrolyte(row);
  if (row.model == "coolant") return coolant(row);
  if (row.model == "glycol_water") return glycol_water(row);
  if (row.model == "fuel") return fuel(row);
  if (row.model == "correlated") return correlated(row);
  if (row.model == "mineral_oil") return mineral_oil(row, parameter);
  if (row.model == "crude_oil") return crude_oil(row, parameter);
  if (row.model == "tabulated") return tabulated(row, catalogue);
  throw std::logic_error(fmt::format("liquid {}: there is no model \"{}\"", row.key, row.model));
}

}  // namespace slantrule
