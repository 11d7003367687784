#include "slantrule/planning/surface.hpp"

#include <algorithm>
#include <cmath>

#include "check_context.hpp"
#include "slantrule/planning/defaults.hpp"

namespace slantrule {
namespace {

/// Stress cracking by chlorides hardly occurs below 50 to 60 degC (common practice, no source).
constexpr double chloride_cracking_K = 50 + defaults::zero_celsius_K;

bool is_austenitic(const ResolvedMaterial& material) {
  return material.key.starts_with("stainless_3") ||
         material.key.starts_with("stainless_austenitic");
}

}  // namespace

double dew_point_K(double ambient_K, double relative_humidity) {
  constexpr double a = 17.625, b_degC = 243.04;
  const double ambient_degC = ambient_K - defaults::zero_celsius_K;
  const double g = std::log(relative_humidity) + a * ambient_degC / (b_degC + ambient_degC);
  return b_degC * g / (a - g) + defaults::zero_celsius_K;
}

const ResolvedMaterial& contact_material(const ResolvedPipe& pipe) {
  return pipe.coating && pipe.coating_under_sensors ? pipe.coating->material : pipe.material;
}

bool couplant_harms(std::string_view harms, const ResolvedMaterial& material, double surface_K) {
  if (material.is_inline) return false;
  return has_word(harms, material.key) || has_word(harms, solid_family_name(material.family)) ||
         (is_austenitic(material) && surface_K >= chloride_cracking_K &&
          has_word(harms, "stainless"));
}

CouplantNeed couplant_need(const ResolvedJob& job, const Plan& plan) {
  const double surface_K = plan.conditions.wall_temperature_K;
  return {.surface_K = surface_K,
          .permanent = job.site.refitted_insulation,
          .wet = surface_K < dew_point_K(job.site.ambient_K.value, usual_humidity),
          .rough_wall = surface_is(job.site, "rust") || surface_is(job.site, "pitted"),
          .contact = &contact_material(job.pipe)};
}

namespace {

bool is_suitable(const CouplantRecord& row, const CouplantNeed& need) {
  const double lowest_K = row.lowest_degC + defaults::zero_celsius_K;
  const double highest_K = row.highest_degC + defaults::zero_celsius_K;
  const bool fails = need.surface_K < lowest_K || need.surface_K > highest_K ||
                     (need.permanent && has_word(row.traits, "visit")) ||
                     (need.wet && has_word(row.traits, "washes-off")) ||
                     (need.rough_wall && has_word(row.traits, "smooth-wall")) ||
                     (need.contact && couplant_harms(row.harms, *need.contact, need.surface_K));
  return !fails;
}

}  // namespace

std::vector<const CouplantRecord*> suitable_couplants(const CouplantNeed& need,
                                                      std::span<const CouplantRecord> rows) {
  std::vector<const CouplantRecord*> suitable;
  for (const CouplantRecord& row : rows) {
    if (is_suitable(row, need)) suitable.push_back(&row);
  }
  return suitable;
}

bool any_suitable_couplant(const CouplantNeed& need, std::span<const CouplantRecord> rows) {
  return std::ranges::any_of(rows,
                             [&](const CouplantRecord& row) { return is_suitable(row, need); });
}

}  // namespace slantrule
