#include "slantrule/catalogue/catalogue.hpp"

#include <algorithm>
#include <cstddef>
#include <optional>
#include <string>

#include "slantrule/units/suggest.hpp"
#include "solid_name.hpp"

namespace slantrule {
namespace {

constexpr std::size_t most_suggestions = 3;

/// A name that may be suggested, and the key it leads to.
struct Candidate {
  std::string_view name;
  std::string_view key;
};

template <class Record>
const Record* find_key(std::span<const Record> rows, std::string_view folded) {
  const auto found =
      std::ranges::find_if(rows, [&](const Record& row) { return folded_name(row.key) == folded; });
  return found == rows.end() ? nullptr : &*found;
}

/// The user's row of this key, else the built-in one; `built_in` is sorted by folded keys.
template <class Record>
const Record* find_overlaid(const UserRows<Record>& user, std::span<const Record> built_in,
                            std::string_view folded) {
  if (const Record* row = user.find(folded)) return row;
  const auto row = std::ranges::lower_bound(built_in, folded, {}, &Record::key);
  return row != built_in.end() && row->key == folded ? &*row : nullptr;
}

/// Names that hold the text ("elbow": elbow-45, elbow-90), then the nearest in spelling. One name a
/// key: "aluminum" and "aluminium" would say the same thing twice.
std::vector<std::string_view> nearest_names(std::string_view text,
                                            std::vector<Candidate> candidates) {
  constexpr std::size_t least_part = 3;
  std::vector<std::string_view> nearest;
  const auto take = [&](const Candidate& taken) {
    nearest.push_back(taken.name);
    const std::string_view key = taken.key;  // `taken` goes with the erased
    std::erase_if(candidates, [&](const Candidate& other) { return other.key == key; });
  };

  const std::string part = folded_name(text);
  const auto holds_part = [&](const Candidate& candidate) {
    return folded_name(candidate.name).find(part) != std::string::npos;
  };
  while (part.size() >= least_part && nearest.size() < most_suggestions) {
    const auto hit = std::ranges::find_if(candidates, holds_part);
    if (hit == candidates.end()) break;
    take(*hit);
  }

  while (nearest.size() < most_suggestions) {
    std::vector<std::string_view> names;
    for (const Candidate& candidate : candidates) names.push_back(candidate.name);
    const std::optional<std::string_view> name = nearest_name(text, names);
    if (!name) break;
    take(*std::ranges::find(candidates, *name, &Candidate::name));
  }
  return nearest;
}

template <class Record>
std::vector<Candidate> keys_of(std::span<const Record> rows) {
  std::vector<Candidate> candidates;
  for (const Record& row : rows) candidates.push_back({row.key, row.key});
  return candidates;
}

/// Look-up in tables without common names; the first table wins.
template <class Record>
Found<Record> find_in(std::string_view key, const UserRows<Record>& user,
                      std::span<const Record> built_in) {
  Found<Record> found;
  const std::string folded = folded_name(key);
  found.record = user.find(folded);
  if (!found.record) found.record = find_key(built_in, folded);
  if (found.record) return found;
  std::vector<Candidate> candidates = keys_of(user.all());
  for (const Candidate& candidate : keys_of(built_in)) candidates.push_back(candidate);
  found.nearest = nearest_names(key, std::move(candidates));
  return found;
}

struct ByName {
  bool operator()(const NameRecord& row, std::string_view name) const { return row.name < name; }
  bool operator()(std::string_view name, const NameRecord& row) const { return name < row.name; }
};

/// The rows of a common name; several when the name is ambiguous.
std::span<const NameRecord> meanings(std::span<const NameRecord> names, std::string_view folded) {
  const auto [first, last] = std::equal_range(names.begin(), names.end(), folded, ByName{});
  return {first, last};
}

/// Why a known kind of pipe cannot be planned; empty for any other name.
std::string_view reason_of_refusal(std::string_view folded) {
  const auto rows = built_in_refused_materials();
  const auto row = std::ranges::lower_bound(rows, folded, {}, &RefusedMaterialRecord::name);
  return row != rows.end() && row->name == folded ? row->reason : std::string_view();
}

}  // namespace

Found<SolidRecord> Catalogue::solid(std::string_view name) const {
  const auto by_key = [&](std::string_view folded) {
    return find_overlaid(solids_, built_in_solids(), folded);
  };

  Found<SolidRecord> found;
  const std::string folded = folded_name(name);
  found.record = solids_.find(folded);
  if (!found.record) {
    if (const NameRecord* own = solid_names_.find(folded)) found.record = by_key(own->key);
  }
  if (!found.record) found.record = by_key(folded);
  if (!found.record) {
    const auto keys = meanings(built_in_solid_names(), folded);
    if (keys.size() > 1) {
      for (const NameRecord& meaning : keys) found.readings.push_back(meaning.key);
      return found;
    }
    if (keys.size() == 1) found.record = by_key(keys.front().key);
  }
  if (found.record && found.record->usable) return found;

  found.record = nullptr;
  found.refused = reason_of_refusal(folded);
  if (!found.refused.empty()) return found;
  const SolidReading meaning = read_solid_name(name, [&](std::string_view part) -> SolidReading {
    if (const SolidRecord* own = solids_.find(part)) return {{own->key}, {}};
    if (const NameRecord* own = solid_names_.find(part)) return {{own->key}, {}};
    SolidReading of;
    const SolidRecord* row = by_key(part);
    if (row && row->recommended && row->usable) of.keys.push_back(row->key);
    for (const NameRecord& one : meanings(built_in_solid_names(), part)) of.keys.push_back(one.key);
    if (of.keys.empty()) of.refused = reason_of_refusal(part);
    return of;
  });
  found.refused = meaning.refused;
  if (!found.refused.empty()) return found;
  if (meaning.keys.size() == 1) found.record = by_key(folded_name(meaning.keys.front()));
  if (meaning.keys.size() > 1) found.readings = meaning.keys;
  if (!meaning.keys.empty()) return found;
  std::vector<Candidate> candidates;
  for (const SolidRecord& row : user_solids()) candidates.push_back({row.key, row.key});
  for (const NameRecord& row : user_solid_names()) candidates.push_back({row.name, row.key});
  for (const SolidRecord& row : built_in_solids()) {
    if (row.recommended && row.usable) candidates.push_back({row.key, row.key});
  }
  for (const NameRecord& row : built_in_solid_names()) candidates.push_back({row.name, row.key});
  found.nearest = nearest_names(name, std::move(candidates));
  return found;
}

Found<LiquidRecord> Catalogue::liquid(std::string_view name) const {
  const auto by_key = [&](std::string_view folded) {
    return find_overlaid(liquids_, built_in_liquids(), folded);
  };

  Found<LiquidRecord> found;
  const std::string folded = folded_name(name);
  found.record = liquids_.find(folded);
  if (!found.record) {
    if (const NameRecord* own = liquid_names_.find(folded)) found.record = by_key(own->key);
  }
  if (!found.record) found.record = by_key(folded);
  if (found.record) return found;
  const auto keys = meanings(built_in_liquid_names(), folded);
  if (keys.size() > 1) {
    for (const NameRecord& meaning : keys) found.readings.push_back(meaning.key);
    return found;
  }
  if (keys.size() == 1) {
    found.record = by_key(keys.front().key);
    return found;
  }
  std::vector<Candidate> candidates = keys_of(user_liquids());
  for (const NameRecord& row : user_liquid_names()) candidates.push_back({row.name, row.key});
  for (const Candidate& candidate : keys_of(built_in_liquids())) candidates.push_back(candidate);
  for (const NameRecord& row : built_in_liquid_names()) candidates.push_back({row.name, row.key});
  found.nearest = nearest_names(name, std::move(candidates));
  return found;
}

Found<FittingRecord> Catalogue::fitting(std::string_view key) const {
  return find_in(key, fittings_, built_in_fittings());
}

Found<CouplantRecord> Catalogue::couplant(std::string_view key) const {
  return find_in(key, couplants_, built_in_couplants());
}

Found<SensorPairRecord> Catalogue::sensor_pair(std::string_view key) const {
  return find_in(key, sensor_pairs_, built_in_sensor_pairs());
}

const LiquidTableRecord* Catalogue::liquid_table(std::string_view key) const {
  const LiquidTableRecord* own = liquid_tables_.find(folded_name(key));
  return own ? own : find_liquid_table(key);
}

std::span<const LiquidPoint> Catalogue::liquid_points(std::string_view key) const {
  const LiquidTableRecord* table = liquid_table(key);
  return table ? table->points : std::span<const LiquidPoint>();
}

void Catalogue::add(const SolidRecord& row) {
  SolidRecord kept = row;
  kept.key = keep(row.key);
  kept.name = keep(row.name);
  kept.attenuation_note = keep(row.attenuation_note);
  kept.source = keep(row.source);
  solids_.put(folded_name(kept.key), kept);
}

void Catalogue::add(const LiquidRecord& row) {
  LiquidRecord kept = row;
  kept.key = keep(row.key);
  kept.name = keep(row.name);
  kept.model = keep(row.model);
  kept.parameter = keep(row.parameter);
  kept.source = keep(row.source);
  liquids_.put(folded_name(kept.key), kept);
}

void Catalogue::add(const SensorPairRecord& row) {
  SensorPairRecord kept = row;
  kept.key = keep(row.key);
  kept.about = keep(row.about);
  kept.mark = keep(row.mark);
  kept.source = keep(row.source);
  sensor_pairs_.put(folded_name(kept.key), kept);
}

void Catalogue::add(const PipeRecord& row) {
  PipeRecord kept = row;
  kept.standard = keep(row.standard);
  kept.designation = keep(row.designation);
  kept.schedule = keep(row.schedule);
  kept.material_family = keep(row.material_family);
  kept.source = keep(row.source);
  const std::string wall =
      row.schedule.empty() ? std::to_string(row.wall_mm) : folded_name(row.schedule);
  pipes_.put(folded_name(row.standard) + '\n' + folded_name(row.designation) + '\n' + wall, kept);
}

void Catalogue::add(const FittingRecord& row) {
  FittingRecord kept = row;
  kept.key = keep(row.key);
  kept.name = keep(row.name);
  kept.source = keep(row.source);
  fittings_.put(folded_name(kept.key), kept);
}

void Catalogue::add(const CouplantRecord& row) {
  CouplantRecord kept = row;
  kept.key = keep(row.key);
  kept.name = keep(row.name);
  kept.lasts = keep(row.lasts);
  kept.traits = keep(row.traits);
  kept.harms = keep(row.harms);
  kept.note = keep(row.note);
  kept.source = keep(row.source);
  couplants_.put(folded_name(kept.key), kept);
}

void Catalogue::add(const LiquidRecord& row, const LiquidTableRecord& table) {
  add(row);
  LiquidTableRecord kept = table;
  kept.key = keep(row.parameter);
  kept.points = points_.emplace_back(table.points.begin(), table.points.end());
  kept.source = keep(table.source);
  liquid_tables_.put(folded_name(kept.key), kept);
}

void Catalogue::add(const LiquidRecord& row, std::span<const LiquidPoint> points) {
  add(row, LiquidTableRecord{.key = row.parameter,
                             .points = points,
                             .boiling_point_K = absent,
                             .boiling_pressure_bar = absent,
                             .critical_temperature_K = absent,
                             .critical_pressure_bar = absent,
                             .freezing_point_K = absent,
                             .stiffening = absent,
                             .u_stiffening = absent,
                             .heat_capacity_ratio = absent,
                             .u_density_percent = absent,
                             .u_viscosity_percent = absent,
                             .absorption_factor = default_absorption_factor,
                             .relative_u_absorption = default_absorption_relative_u,
                             .source = row.source,
                             .confidence = row.confidence});
}

void Catalogue::add_solid_name(std::string_view name, std::string_view key) {
  const NameRecord kept{keep(folded_name(name)), keep(folded_name(key))};
  solid_names_.put(std::string(kept.name), kept);
}

void Catalogue::add_liquid_name(std::string_view name, std::string_view key) {
  const NameRecord kept{keep(folded_name(name)), keep(folded_name(key))};
  liquid_names_.put(std::string(kept.name), kept);
}

std::string_view Catalogue::keep(std::string_view text) {
  return texts_.emplace_back(text);
}

}  // namespace slantrule
