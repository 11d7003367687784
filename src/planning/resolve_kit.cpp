#include <cmath>

#include "resolve_draft.hpp"
#include "slantrule/planning/defaults.hpp"

namespace slantrule {
namespace {

std::vector<ResolvedSensors> kit_sensors(const WordsEntry& keys, Draft& draft) {
  std::vector<ResolvedSensors> out;
  for (const std::string& key : keys.values) {
    const auto& found = draft.names.sensor_pair(key);
    if (found.record) {
      out.push_back(sensors_of(*found.record));
    } else {
      draft.problem(keys.place, "kit.sensors", not_found("sensor pair", key, "sensors", found));
    }
  }
  return out;
}

std::vector<ResolvedCouplant> kit_couplants(const WordsEntry& keys, Draft& draft) {
  std::vector<ResolvedCouplant> out;
  for (const std::string& key : keys.values) {
    const auto& found = draft.names.couplant(key);
    if (found.record) {
      out.push_back({.key = std::string(found.record->key),
                     .name = std::string(found.record->name),
                     .lowest_K = found.record->lowest_degC + defaults::zero_celsius_K,
                     .highest_K = found.record->highest_degC + defaults::zero_celsius_K});
    } else {
      draft.problem(keys.place, "kit.couplants", not_found("couplant", key, "couplants", found));
    }
  }
  return out;
}

std::vector<ResolvedRail> kit_rails(const ListEntry<RailRequest>& rails, Draft& draft) {
  std::vector<ResolvedRail> out;
  for (std::size_t i = 0; i < rails.items.size(); ++i) {
    const RailRequest& rail = rails.items[i];
    const Reading* greatest = reading(rail.greatest);
    if (!rail.name.value || !greatest) continue;  // reported by check_required
    const double least_m = stated_si(rail.least).value_or(0);
    if (least_m >= greatest->si) {
      draft.problem(rail.greatest.place, fmt::format("kit.rails[{}].greatest", i),
                    "must be more than the rail's least spacing");
    }
    out.push_back({.name = *rail.name.value,
                   .least_spacing_m = least_m,
                   .greatest_spacing_m = greatest->si,
                   .same_side = rail.sides.value != "opposite",
                   .opposite_sides = rail.sides.value != "same",
                   .step_m = stated_si(rail.step)});
  }
  return out;
}

}  // namespace

void resolve_kit(Draft& draft) {
  if (!draft.request.kit.value) return;
  const KitRequest& request = *draft.request.kit.value;
  ResolvedKit& kit = draft.job.kit;
  kit.sensors = kit_sensors(request.sensors, draft);
  if (!draft.request.sensors.given() && !kit.sensors.empty()) {
    draft.job.sensors_open = true;
    draft.job.sensors = kit.sensors.front();
  }
  kit.rails = kit_rails(request.rails, draft);
  kit.couplants = kit_couplants(request.couplants, draft);
  kit.gauges = request.gauges.values;
  for (const StrapRequest& strap : request.straps.items) {
    const Reading* girth = reading(strap.greatest_girth);
    if (strap.name.value && girth) kit.straps.push_back({*strap.name.value, girth->si});
  }
}

}  // namespace slantrule
