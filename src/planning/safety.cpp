#include "slantrule/planning/safety.hpp"

#include <algorithm>
#include <array>

#include "slantrule/planning/defaults.hpp"
#include "slantrule/units/suggest.hpp"

namespace slantrule {
namespace {

constexpr std::string_view trade = "common practice, no source";

constexpr std::array<SafetyInfo, safety_count> rows{{
    {SafetyId::hot_surface, "hot-surface",
     "HOT surface, {0}: gloves and sleeves, short contact; keep others away; refit guards and "
     "insulation before leaving.",
     "60 degC: bare metal burns within seconds (EN ISO 13732-1, from memory)"},
    {SafetyId::cold_surface, "cold-surface",
     "COLD surface, {0}: gloves; skin sticks to cold metal; look out for falling ice.", trade},
    {SafetyId::height, "height",
     "Work at {0} above the floor: platform or fall protection by the site's rules; secure tools "
     "and sensors against falling; keep the place below clear.",
     trade},
    {SafetyId::hazardous_area, "hazardous-area",
     "Hazardous area ({s}): only equipment certified for it, cables, lamps and hand tools "
     "included; mounting outside the pipe is no exemption. No grinding without a hot-work permit.",
     trade},
    {SafetyId::confined_space, "confined-space",
     "The place may be a confined space: entry permit, air test, an attendant and a way of rescue "
     "first.",
     trade},
    {SafetyId::chemicals, "chemicals",
     "{s} is in the pipe: read its safety data sheet; know drains, leaks, wind and the nearest "
     "shower. Clamping on from outside does not make it safe.",
     trade},
    {SafetyId::old_insulation, "old-insulation",
     "Insulation: old lagging, mastic and gaskets may hold asbestos; don't cut or disturb it "
     "before "
     "it is known what it is. Pipe corroded underneath can fail.",
     "29 CFR 1926.1101 and OSHA 3096 (first parts)"},
    {SafetyId::asbestos_cement, "asbestos-cement",
     "Asbestos cement: no scraping, sanding or dry brushing; wipe wet, and go by the local rules.",
     "29 CFR 1926.1101 and OSHA interpretation of 29 May 2007 (first part)"},
    {SafetyId::work_on_wall, "work-on-wall",
     "Cleaning down to metal: never grind or file a pressurised wall that is thin, pitted or of "
     "unknown thickness; gauge it first and have the owner's consent.",
     trade},
    {SafetyId::high_pressure, "high-pressure",
     "Line at {0}: stay out of line with vents, plugs and gauges; report a leak, don't tighten it.",
     trade},
    {SafetyId::moving_plant, "moving-plant",
     "Pump or driven valve close by: keep cables, straps and clothing off rotating parts; it may "
     "start by itself.",
     trade},
    {SafetyId::zero_test, "zero-test",
     "Zero test: stopping and blocking in the flow changes the process; the operator does it and "
     "locks it out by site procedure.",
     "29 CFR 1910.147 on hazardous energy, by way of a note"},
    {SafetyId::magnets, "magnets",
     "If the fixture holds by magnets: pacemakers and defibrillators at least 15 cm (6 in) away; "
     "mind your fingers.",
     "advice of a regulator on strong magnets (FDA 2021, news reports)"},
    {SafetyId::permits, "permits",
     "Permits, lock-out and protective gear go by local codes and the site's own rules; licensed "
     "people decide.",
     trade},
}};

constexpr bool in_order() {
  for (std::size_t i = 0; i < rows.size(); ++i) {
    if (static_cast<std::size_t>(rows[i].id) != i) return false;
  }
  return true;
}
static_assert(in_order(), "one row a SafetyId, in its order");

// Limits (common practice; the first from memory of EN ISO 13732-1).
constexpr double hot_K = 60 + defaults::zero_celsius_K;
constexpr double cold_K = 0 + defaults::zero_celsius_K;
constexpr double height_m = 2;
constexpr double high_pressure_Pa = 10e5;
/// A fitting this near is within reach of cables and sleeves.
constexpr double near_D = 10;

bool speaks_of(const std::string& text, std::initializer_list<std::string_view> words) {
  const std::string folded = folded_name(text);
  return std::ranges::any_of(
      words, [&](std::string_view word) { return folded.find(word) != std::string::npos; });
}

bool harmless(const ResolvedLiquid& liquid) {
  return !liquid.full_name.empty() &&
         speaks_of(liquid.full_name, {"water", "milk", "vegetable", "sucrose", "glucose"}) &&
         !speaks_of(liquid.full_name, {"ammonia", "heavy_water"});
}

bool on_surface(const ResolvedSite& site, std::initializer_list<std::string_view> words) {
  return std::ranges::any_of(site.surface, [&](const std::string& word) {
    return std::ranges::find(words, word) != words.end();
  });
}

bool plant_nearby(const ResolvedJob& job, const Plan& plan) {
  for (const auto* side : {&job.site.upstream, &job.site.downstream}) {
    for (const ResolvedFitting& one : *side) {
      if (one.key != "pump" && one.key != "control-valve") continue;
      const double distance_D = one.distance_D.value_or(one.distance_m.value_or(0) / plan.bore_m);
      if (distance_D < near_D) return true;
    }
  }
  return job.site.pump_suction;
}

}  // namespace

std::span<const SafetyInfo> safety_table() {
  return rows;
}

const SafetyInfo& safety_info(SafetyId id) {
  return rows[static_cast<std::size_t>(id)];
}

std::vector<SafetyCaution> safety_cautions(const ResolvedJob& job, const Plan& plan) {
  std::vector<SafetyCaution> out;
  const ResolvedSite& site = job.site;
  const double surface_K = plan.conditions.wall_temperature_K;
  if (surface_K >= hot_K) {
    out.push_back({SafetyId::hot_surface, {surface_K, ValueKind::temperature_K}});
  } else if (surface_K <= cold_K) {
    out.push_back({SafetyId::cold_surface, {surface_K, ValueKind::temperature_K}});
  }
  if (site.height_m && *site.height_m >= height_m) {
    out.push_back({SafetyId::height, {*site.height_m, ValueKind::length_m}});
  }
  if (!site.hazardous_area.empty() && !speaks_of(site.hazardous_area, {"none", "safe", "not_"})) {
    out.push_back({SafetyId::hazardous_area, {}, site.hazardous_area});
  }
  if (speaks_of(job.title + " " + job.site_name,
                {"chamber", "manhole", "vault", "trench", "sewer", "tunnel", "pit_"}) ||
      folded_name(job.title).ends_with("_pit")) {
    out.push_back({SafetyId::confined_space});
  }
  if (!harmless(job.liquid)) out.push_back({SafetyId::chemicals, {}, job.liquid.name});
  if (site.opened_insulation || site.refitted_insulation || on_surface(site, {"wrapped"})) {
    out.push_back({SafetyId::old_insulation});
  }
  if (job.pipe.material.key.starts_with("asbestos_cement")) {
    out.push_back({SafetyId::asbestos_cement});
  }
  if (on_surface(site, {"rust", "pitted", "scaled", "paint"})) {
    out.push_back({SafetyId::work_on_wall});
  }
  if (job.liquid.pressure_Pa && *job.liquid.pressure_Pa >= high_pressure_Pa) {
    out.push_back({SafetyId::high_pressure, {*job.liquid.pressure_Pa, ValueKind::pressure_Pa}});
  }
  if (plant_nearby(job, plan)) out.push_back({SafetyId::moving_plant});
  if (job.flow.can_stop.value_or(false)) out.push_back({SafetyId::zero_test});
  const std::string_view key = job.pipe.material.key;
  if (key.starts_with("carbon_steel") || key.starts_with("cast_iron") ||
      key.starts_with("ductile_iron")) {
    out.push_back({SafetyId::magnets});
  }
  out.push_back({SafetyId::permits});
  return out;
}

}  // namespace slantrule
