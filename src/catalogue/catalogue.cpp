#include "slantrule/catalogue/catalogue.hpp"

#include <algorithm>
#include <cstddef>
#include <optional>

#include "slantrule/units/suggest.hpp"

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
Found<Record> find_in(std::string_view key, std::span<const Record> user,
                      std::span<const Record> built_in) {
  Found<Record> found;
  const std::string folded = folded_name(key);
  found.record = find_key(user, folded);
  if (!found.record) found.record = find_key(built_in, folded);
  if (found.record) return found;
  std::vector<Candidate> candidates = keys_of(user);
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

template <class Record>
void add_or_replace(std::vector<Record>& rows, const Record& row) {
  const std::string folded = folded_name(row.key);
  const auto same = std::ranges::find_if(
      rows, [&](const Record& other) { return folded_name(other.key) == folded; });
  if (same == rows.end()) {
    rows.push_back(row);
  } else {
    *same = row;
  }
}

}  // namespace

Found<SolidRecord> Catalogue::solid(std::string_view name) const {
  const auto by_key = [&](std::string_view folded) -> const SolidRecord* {
    if (const SolidRecord* row = find_key<SolidRecord>(solids_, folded)) return row;
    const std::span<const SolidRecord> rows = built_in_solids();  // their keys are folded
    const auto row = std::ranges::lower_bound(rows, folded, {}, &SolidRecord::key);
    return row != rows.end() && row->key == folded ? &*row : nullptr;
  };

  Found<SolidRecord> found;
  const std::string folded = folded_name(name);
  found.record = by_key(folded);
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
  std::vector<Candidate> candidates;
  for (const SolidRecord& row : solids_) candidates.push_back({row.key, row.key});
  for (const SolidRecord& row : built_in_solids()) {
    if (row.recommended && row.usable) candidates.push_back({row.key, row.key});
  }
  for (const NameRecord& row : built_in_solid_names()) candidates.push_back({row.name, row.key});
  found.nearest = nearest_names(name, std::move(candidates));
  return found;
}

Found<LiquidRecord> Catalogue::liquid(std::string_view name) const {
  Found<LiquidRecord> found;
  const std::string folded = folded_name(name);
  found.record = find_key(built_in_liquids(), folded);
  if (found.record) return found;
  const auto keys = meanings(built_in_liquid_names(), folded);
  if (keys.size() > 1) {
    for (const NameRecord& meaning : keys) found.readings.push_back(meaning.key);
    return found;
  }
  if (keys.size() == 1) {
    found.record = find_key(built_in_liquids(), keys.front().key);
    return found;
  }
  std::vector<Candidate> candidates = keys_of(built_in_liquids());
  for (const NameRecord& row : built_in_liquid_names()) candidates.push_back({row.name, row.key});
  found.nearest = nearest_names(name, std::move(candidates));
  return found;
}

Found<FittingRecord> Catalogue::fitting(std::string_view key) const {
  return find_in<FittingRecord>(key, {}, built_in_fittings());
}

Found<CouplantRecord> Catalogue::couplant(std::string_view key) const {
  return find_in<CouplantRecord>(key, {}, built_in_couplants());
}

Found<SensorPairRecord> Catalogue::sensor_pair(std::string_view key) const {
  return find_in<SensorPairRecord>(key, sensor_pairs_, built_in_sensor_pairs());
}

void Catalogue::add(const SolidRecord& row) {
  SolidRecord kept = row;
  kept.key = keep(row.key);
  kept.name = keep(row.name);
  kept.attenuation_note = keep(row.attenuation_note);
  kept.source = keep(row.source);
  add_or_replace(solids_, kept);
}

void Catalogue::add(const SensorPairRecord& row) {
  SensorPairRecord kept = row;
  kept.key = keep(row.key);
  kept.about = keep(row.about);
  kept.mark = keep(row.mark);
  kept.source = keep(row.source);
  add_or_replace(sensor_pairs_, kept);
}

std::string_view Catalogue::keep(std::string_view text) {
  return texts_.emplace_back(text);
}

}  // namespace slantrule
