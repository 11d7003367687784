#pragma once

/// Look-up over the built-in tables and a user's additions.

#include <deque>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "slantrule/catalogue/records.hpp"

namespace slantrule {

/// The built-in tables, each sorted by key (pipes: by standard, outside diameter, wall).
std::span<const PipeRecord> built_in_pipes();
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
std::span<const NameRecord> built_in_liquid_names();

/// What a name led to. `record` is null when nothing matched; then `nearest` may hold up to three
/// suggestions, and `readings` the keys of what an ambiguous name could mean ("CS": carbon steel or
/// concrete-steel). `record` stays valid until a row is added to the catalogue.
template <class Record>
struct Found {
  const Record* record = nullptr;
  std::vector<std::string_view> nearest;
  std::vector<std::string_view> readings;
};

/// The built-in rows with a user's rows before them. Cheap to make; not copyable, because records
/// of user rows hold views of texts kept here. Safe for concurrent reading.
class Catalogue {
 public:
  Catalogue() = default;
  Catalogue(const Catalogue&) = delete;
  Catalogue& operator=(const Catalogue&) = delete;

  /// By key or common name, folded. Evidence rows answer to their full key only; rows that are
  /// not `usable` are never found.
  Found<SolidRecord> solid(std::string_view name) const;
  Found<LiquidRecord> liquid(std::string_view name) const;
  Found<FittingRecord> fitting(std::string_view key) const;
  Found<CouplantRecord> couplant(std::string_view key) const;
  Found<SensorPairRecord> sensor_pair(std::string_view key) const;

  /// Adds a row that overrides a built-in one of the same key. The texts are copied.
  void add(const SolidRecord& row);
  void add(const SensorPairRecord& row);

  std::span<const SolidRecord> user_solids() const { return solids_; }
  std::span<const SensorPairRecord> user_sensor_pairs() const { return sensor_pairs_; }

 private:
  std::string_view keep(std::string_view text);

  std::deque<std::string> texts_;
  std::vector<SolidRecord> solids_;
  std::vector<SensorPairRecord> sensor_pairs_;
};

}  // namespace slantrule
