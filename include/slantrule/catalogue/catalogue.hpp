#pragma once

/// Look-up over the built-in tables and a user's additions.

#include <cstddef>
#include <deque>
#include <functional>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "slantrule/catalogue/liquid_tables.hpp"
#include "slantrule/catalogue/records.hpp"

namespace slantrule {

/// The built-in tables, each sorted by key (pipes: by standard, outside diameter, wall).
std::span<const PipeRecord> built_in_pipes();
std::span<const PipeStandardRecord> built_in_pipe_standards();
std::span<const LiningRecord> built_in_linings();
std::span<const SolidRecord> built_in_solids();
std::span<const FittingRecord> built_in_fittings();
std::span<const CouplantRecord> built_in_couplants();
std::span<const SensorPairRecord> built_in_sensor_pairs();
std::span<const LiquidRecord> built_in_liquids();

/// A common name and the key it stands for: {"steel", "carbon_steel"}. Sorted by name, then key; an
/// ambiguous name has one row for each meaning.
struct NameRecord {
  std::string_view name;  ///< folded (see folded_name)
  std::string_view key;
};
std::span<const NameRecord> built_in_solid_names();

/// A kind of pipe that no sound gets through, or whose name says more than a material, and why.
struct RefusedMaterialRecord {
  std::string_view name;  ///< folded
  std::string_view reason;
};
std::span<const RefusedMaterialRecord> built_in_refused_materials();

std::span<const NameRecord> built_in_liquid_names();

/// What a name led to. `record` is null when nothing matched; then `nearest` may hold up to three
/// suggestions, and `readings` the keys of what an ambiguous name could mean ("CS": carbon steel or
/// concrete-steel). `refused` says why a known kind of pipe cannot be planned ("PCCP"). `record`
/// stays valid until a row is added to the catalogue.
template <class Record>
struct Found {
  const Record* record = nullptr;
  std::vector<std::string_view> nearest;
  std::vector<std::string_view> readings;
  std::string_view refused = {};
};

/// A user's rows in the order in which they were added, one for each folded key.
template <class Record>
class UserRows {
 public:
  const Record* find(std::string_view folded_key) const {
    const auto found = at_.find(folded_key);
    return found == at_.end() ? nullptr : &rows_[found->second];
  }
  /// Replaces the row of the same key.
  void put(std::string folded_key, const Record& row) {
    const auto [at, is_new] = at_.try_emplace(std::move(folded_key), rows_.size());
    if (is_new) {
      rows_.push_back(row);
    } else {
      rows_[at->second] = row;
    }
  }
  std::span<const Record> all() const { return rows_; }

 private:
  std::vector<Record> rows_;
  std::map<std::string, std::size_t, std::less<>> at_;
};

/// The built-in rows with a user's rows before them. Cheap to make; not copyable, because records
/// of user rows hold views of texts kept here. Safe for concurrent reading.
class Catalogue {
 public:
  Catalogue() = default;
  Catalogue(const Catalogue&) = delete;
  Catalogue& operator=(const Catalogue&) = delete;

  /// By key or common name, folded; a user's keys and names go before the built-in ones. Evidence
  /// rows answer to their full key only; rows that are not `usable` are never found.
  Found<SolidRecord> solid(std::string_view name) const;
  Found<LiquidRecord> liquid(std::string_view name) const;
  Found<FittingRecord> fitting(std::string_view key) const;
  Found<CouplantRecord> couplant(std::string_view key) const;
  Found<SensorPairRecord> sensor_pair(std::string_view key) const;

  /// The table of a liquid whose model is "tabulated", by LiquidRecord::parameter: a user's before
  /// the built-in one; null where there is none. The points are valid as long as the catalogue.
  const LiquidTableRecord* liquid_table(std::string_view key) const;
  std::span<const LiquidPoint> liquid_points(std::string_view key) const;

  /// Adds a row that overrides a built-in one of the same key. The texts are copied.
  void add(const SolidRecord& row);
  void add(const LiquidRecord& row);
  void add(const SensorPairRecord& row);
  /// A pipe's key is its standard, designation and schedule; where it has no schedule, its wall.
  void add(const PipeRecord& row);
  void add(const FittingRecord& row);
  void add(const CouplantRecord& row);

  /// Adds a liquid with its table (copied, points too), which answers to `row.parameter`. With
  /// points alone, nothing else is known of the liquid.
  void add(const LiquidRecord& row, const LiquidTableRecord& table);
  void add(const LiquidRecord& row, std::span<const LiquidPoint> points);

  /// Adds a common name for a row, the user's or a built-in one.
  void add_solid_name(std::string_view name, std::string_view key);
  void add_liquid_name(std::string_view name, std::string_view key);

  std::span<const SolidRecord> user_solids() const { return solids_.all(); }
  std::span<const LiquidRecord> user_liquids() const { return liquids_.all(); }
  std::span<const SensorPairRecord> user_sensor_pairs() const { return sensor_pairs_.all(); }
  std::span<const PipeRecord> user_pipes() const { return pipes_.all(); }
  std::span<const FittingRecord> user_fittings() const { return fittings_.all(); }
  std::span<const CouplantRecord> user_couplants() const { return couplants_.all(); }
  std::span<const NameRecord> user_solid_names() const { return solid_names_.all(); }
  std::span<const NameRecord> user_liquid_names() const { return liquid_names_.all(); }

 private:
  std::string_view keep(std::string_view text);

  std::deque<std::string> texts_;
  std::deque<std::vector<LiquidPoint>> points_;
  UserRows<SolidRecord> solids_;
  UserRows<LiquidRecord> liquids_;
  UserRows<LiquidTableRecord> liquid_tables_;
  UserRows<SensorPairRecord> sensor_pairs_;
  UserRows<PipeRecord> pipes_;
  UserRows<FittingRecord> fittings_;
  UserRows<CouplantRecord> couplants_;
  UserRows<NameRecord> solid_names_, liquid_names_;
};

}  // namespace slantrule
