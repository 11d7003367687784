/// Checks of the wall's surface: what is on it, moisture, couplant.

#include "slantrule/planning/surface.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "check_context.hpp"
#include "slantrule/planning/defaults.hpp"
#include "slantrule/units/suggest.hpp"

namespace slantrule {
namespace {

using Kind = ValueKind;

/// Paint up to this may stay (common practice, no source).
constexpr double thin_paint_m = 0.3e-3;
/// Other hard coatings (proposal): fusion-bonded epoxy of 0.3 to 0.6 mm passes.
constexpr double thin_coating_m = 1e-3;
/// A flow error by paint under the tape that is called out (proposal).
constexpr double paint_price_percent = 1;
/// Where a damp room has its dew point; `usual_humidity` is the ordinary one.
constexpr double damp_humidity = 0.8;
constexpr double couplant_margin_K = 5;

bool has_any(std::string_view text, std::initializer_list<std::string_view> parts) {
  return std::any_of(parts.begin(), parts.end(),
                     [&](std::string_view part) { return text.find(part) != text.npos; });
}

void check_paint(const CheckContext& c) {
  const ResolvedPipe& pipe = c.job.pipe;
  if (pipe.coating) return;  // planned with, and its thickness is checked
  const double power = c.job.fluid_time_computed ? 1 : 2;
  const double bare_m = c.plan.bore_m - 2 * thin_paint_m;
  if (!(bare_m > 0)) return;
  const double high_percent = 100 * (std::pow(c.plan.bore_m / bare_m, power) - 1);
  const bool measured = pipe.diameter_source == DimensionSource::measured ||
                        pipe.diameter_source == DimensionSource::girth;
  c.add(CheckId::mount_surface_paint,
        measured && high_percent >= paint_price_percent ? Severity::caution : Severity::note,
        {{{}, {thin_paint_m, Kind::length_m}, {high_percent, Kind::percent}}});
}

void check_coating(const CheckContext& c) {
  const ResolvedPipe& pipe = c.job.pipe;
  if (!pipe.coating || !pipe.coating_under_sensors) return;
  const ResolvedMaterial& material = pipe.coating->material;
  if (has_any(folded_name(material.name), {"foam", "wool", "lagging", "cork", "felt"})) {
    c.add(CheckId::mount_coating_gas, {}, material.name);
    return;
  }
  // Bitumen and rubber swallow sound and yield under the clamp, so they get no more than paint.
  const bool soft =
      material.key == "bitumen" || (!material.is_inline && material.family == SolidFamily::rubber);
  const double limit_m = soft || material.key == "paint" ? thin_paint_m : thin_coating_m;
  if (pipe.coating->thickness_m <= limit_m * (1 + 1e-9)) return;
  c.add(CheckId::mount_coating,
        {{{pipe.coating->thickness_m, Kind::length_m}, {limit_m, Kind::length_m}}}, material.name);
}

void check_couplant_temperature(const CheckContext& c) {
  const ResolvedSite& site = c.job.site;
  if (!site.couplant_lowest_K || !site.couplant_highest_K) return;
  const FindingValue surface{c.plan.conditions.wall_temperature_K, Kind::temperature_K};
  const FindingValue highest{*site.couplant_highest_K, Kind::temperature_K};
  if (site.couplant_limit_K && surface.value > *site.couplant_limit_K) {
    c.add(CheckId::mount_couplant_limit, {{surface, {*site.couplant_limit_K, Kind::temperature_K}}},
          site.couplant_name);
  } else if (surface.value < *site.couplant_lowest_K || surface.value > highest.value) {
    c.add(CheckId::mount_couplant,
          {{surface, {*site.couplant_lowest_K, Kind::temperature_K}, highest}}, site.couplant_name);
  } else if (surface.value > highest.value - couplant_margin_K) {
    c.add(CheckId::mount_couplant_near, {{surface, highest}}, site.couplant_name);
  }
}

void check_couplant_harm(const CheckContext& c) {
  const ResolvedSite& site = c.job.site;
  const std::string_view harms = site.couplant_harms;
  const double surface_K = c.plan.conditions.wall_temperature_K;
  const ResolvedMaterial& contact = contact_material(c.job.pipe);
  const auto add = [&](Severity severity, std::string why) {
    c.add(CheckId::mount_couplant_harm, severity, {}, site.couplant_name).detail = std::move(why);
  };
  const bool plastic = !contact.is_inline && contact.family == SolidFamily::plastic;
  if (couplant_harms(harms, contact, surface_K)) {
    if (plastic) {
      add(Severity::caution, "oils and greases can make " + contact.name + " crack under stress");
    } else if (contact.family == SolidFamily::rubber) {
      add(Severity::caution, "oils and greases make rubber swell");
    } else {
      add(Severity::caution,
          "if it holds chlorides, hot stainless steel can crack; take one stated to be free of "
          "them");
    }
  } else if (plastic && has_word(harms, "abs")) {
    add(Severity::note, "some oils and greases attack plastics");
  }
  if (has_word(harms, "oxidiser") && c.job.liquid.oxidiser) {
    add(Severity::caution,
        "what burns must not meet " + c.job.liquid.name + ": a leak can set it alight");
  }
}

}  // namespace

void check_surface(const CheckContext& c) {
  const ResolvedSite& site = c.job.site;
  if (surface_is(site, "paint")) check_paint(c);
  if (surface_is(site, "rust")) c.add(CheckId::mount_surface_rust);
  if (surface_is(site, "pitted")) c.add(CheckId::mount_surface_pitted);
  if (surface_is(site, "scaled")) c.add(CheckId::mount_surface_scaled);
  if (surface_is(site, "wrapped")) {
    const bool removed = c.job.pipe.coating && !c.job.pipe.coating_under_sensors;
    c.add(CheckId::mount_surface_wrapped, removed ? Severity::note : Severity::caution).detail =
        removed ? ", and the wrapping is removed under the sensors"
                : ": tape and felt hold air, which passes no sound";
  }
  if (site.galvanised) c.add(CheckId::mount_surface_galvanised);
  check_coating(c);
}

void check_moisture(const CheckContext& c) {
  const double surface_K = c.plan.conditions.wall_temperature_K;
  const double ambient_K = c.job.site.ambient_K.value;
  const bool usual = surface_K < dew_point_K(ambient_K, usual_humidity);
  const double humidity = usual ? usual_humidity : damp_humidity;
  const double dew_K = dew_point_K(ambient_K, humidity);
  if (surface_K >= dew_K) return;
  // Nobody is warned of an assumed room, nor who brings a couplant that stands water.
  const bool wet = usual && c.job.site.ambient_stated &&
                   !has_word(c.job.site.couplant_traits, "water-resistant");
  c.add(CheckId::mount_condensation, wet ? Severity::caution : Severity::note,
        {{{surface_K, Kind::temperature_K},
          {dew_K, Kind::temperature_K},
          {ambient_K, Kind::temperature_K},
          {100 * humidity, Kind::percent}}})
      .detail = surface_K < defaults::zero_celsius_K ? ", and freezes" : "";
}

void check_couplant(const CheckContext& c) {
  const ResolvedSite& site = c.job.site;
  if (c.job.liquid.food) c.add(CheckId::mount_couplant_food, {}, c.job.liquid.name);
  const double surface_K = c.plan.conditions.wall_temperature_K;
  if (site.couplant_name.empty()) {
    if (!any_suitable_couplant({.surface_K = surface_K})) {
      c.add(CheckId::mount_couplant_none, {{{surface_K, Kind::temperature_K}}});
    }
    return;
  }
  check_couplant_temperature(c);
  check_couplant_harm(c);
  const std::string_view traits = site.couplant_traits;
  if (site.refitted_insulation && (has_word(traits, "visit") || has_word(traits, "weeks"))) {
    c.add(CheckId::mount_couplant_short_lived,
          has_word(traits, "visit") ? Severity::caution : Severity::note, {}, site.couplant_name)
        .detail = site.couplant_lasts;
  }
  if (has_word(traits, "smooth-wall") && couplant_need(c.job, c.plan).rough_wall) {
    c.add(CheckId::mount_couplant_rough_wall, {}, site.couplant_name);
  }
}

}  // namespace slantrule
