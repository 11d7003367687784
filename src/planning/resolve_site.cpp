#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "resolve_draft.hpp"
#include "slantrule/planning/check_table.hpp"
#include "slantrule/planning/clock.hpp"
#include "slantrule/planning/defaults.hpp"

namespace slantrule {
namespace {

/// `place` and `side` name the list: "location", "upstream".
std::vector<ResolvedFitting> fittings(const ListEntry<FittingRequest>& list, bool straight_stated,
                                      Draft& draft, std::string_view place, std::string_view side) {
  std::vector<ResolvedFitting> out;
  out.reserve(list.items.size());
  for (std::size_t i = 0; i < list.items.size(); ++i) {
    const FittingRequest& item = list.items[i];
    const auto here = [&](std::string_view key) {
      return fmt::format("{}.{}[{}].{}", place, side, i, key);
    };
    if (!item.fitting.value) continue;
    const auto& found = draft.names.fitting(*item.fitting.value);
    if (!found.record) {
      draft.problem(item.fitting.place, here("fitting"),
                    not_found("fitting", *item.fitting.value, "fittings", found));
      continue;
    }
    ResolvedFitting& fitting = out.emplace_back(catalogue_fitting(*found.record));
    if (const Reading* distance = reading(item.distance)) {
      if (distance->dimension == Dimension::pipe_diameters) {
        fitting.distance_D = distance->si;
      } else {
        fitting.distance_m = distance->si;
      }
    } else if (!straight_stated) {
      draft.problem(
          item.fitting.place, here("distance"),
          fmt::format("is missing; write \"distance\": \"2.1 m\" or \"12 D\", or give {}.straight "
                      "and leave the distances of the two nearest fittings out",
                      place));
    }
  }
  return out;
}

void clock(const TextEntry& entry, Orientation orientation, std::string_view place, Draft& draft,
           ResolvedSite& site) {
  if (!entry.value) return;
  site.clock_text = *entry.value;
  const bool vertical =
      orientation == Orientation::vertical_up || orientation == Orientation::vertical_down;
  if (vertical) return;  // an angle from a landmark, in the writer's words
  site.clock_h = read_clock_h(*entry.value);
  if (!site.clock_h) {
    draft.problem(
        entry.place, fmt::format("{}.clock", place),
        fmt::format("\"{}\" is no clock position; write \"3\" or \"9:30\"", shown(*entry.value)));
  }
}

bool galvanised(Draft& draft) {
  const auto& options = draft.request.pipe.material.options;
  if (options.empty() || !options.front().value.name.value) return false;
  const MaterialRequest& material = options.front().value;
  return material.is_inline ? is_galvanised(*material.name.value)
                            : draft.names.solid(*material.name.value).galvanised;
}

/// In what an acceptance of this finding can be limited; nullopt: not at all.
std::optional<Dimension> down_to_dimension(CheckId check) {
  switch (check) {
    case CheckId::run_upstream:
    case CheckId::run_downstream:
      return Dimension::pipe_diameters;
    case CheckId::run_mark_only:
    case CheckId::run_straight_short:
    case CheckId::mount_seam:
      return Dimension::length;
    default:
      return std::nullopt;
  }
}

/// Keys that a job may state and no check looks at yet. Silence would pass for approval.
void not_evaluated(Draft& draft) {
  const std::pair<std::string_view, bool> stated[] = {
      {"purpose", draft.request.purpose.value.has_value()},
  };
  for (const auto& [key, given] : stated) {
    if (!given) continue;
    if (!draft.job.not_evaluated.empty()) draft.job.not_evaluated += ", ";
    draft.job.not_evaluated += key;
  }
}

}  // namespace

void resolve_path(Draft& draft) {
  const PathRequest& request = draft.request.path;
  draft.job.path.traverses = request.traverses.value;
  const auto mode = [](const ChoiceEntry& choice) -> std::optional<WaveMode> {
    if (choice.value == "shear") return WaveMode::shear;
    if (choice.value == "longitudinal") return WaveMode::longitudinal;
    return std::nullopt;
  };
  draft.job.path.wall_mode = mode(request.wall_mode);
  draft.job.path.liner_mode = mode(request.liner_mode).value_or(WaveMode::longitudinal);
  draft.job.path.liner_mode_stated = request.liner_mode.value.has_value();
  draft.job.path.coating_mode = mode(request.coating_mode).value_or(WaveMode::longitudinal);
}

namespace {

/// What `request` says of a place, under the dotted key `key`.
void read_site(const LocationRequest& request, Orientation orientation, std::string_view key,
               Draft& draft, ResolvedSite& site) {
  site.upstream_stated = request.upstream.given;
  site.downstream_stated = request.downstream.given;
  site.straight_m = stated_si(request.straight);
  const bool straight_stated = site.straight_m.has_value();
  site.bend_pair = draft.names.bend_pair();
  site.upstream = fittings(request.upstream, straight_stated, draft, key, "upstream");
  site.downstream = fittings(request.downstream, straight_stated, draft, key, "downstream");
  site.one_side = request.access.value == "one side";
  site.refitted_insulation = request.insulation.value == "refitted";
  site.opened_insulation = request.insulation.value == "opened";
  const auto said = [&](std::string_view word) {
    return std::ranges::find(request.place.values, word) != request.place.values.end();
  };
  site.high_point = said("high point");
  site.free_outlet = said("free outlet");
  site.may_run_part_full = said("may run part full");
  site.pump_suction = said("pump suction");
  site.clear_length_m = stated_si(request.clear_length);
  site.height_m = stated_si(request.height);
  site.hazardous_area = request.hazardous_area.value.value_or("");
  if (const Reading* ambient = reading(request.ambient)) {
    site.ambient_K = estimate(*ambient);
    site.ambient_stated = true;
  } else {
    site.ambient_K = {defaults::ambient_K, defaults::u_ambient_K};
  }
  site.wedge_temperature_K = stated_si(request.wedge_temperature);
  site.surface = request.surface.values;
  clock(request.clock, orientation, key, draft, site);
}

/// What holds wherever on the line the sensors are put.
void add_common(Draft& draft, ResolvedSite& site) {
  if (const auto& seam = draft.request.pipe.seam.value) {
    site.spiral_seam = folded_name(*seam) == "spiral";
    site.seam_clock_h = read_clock_h(*seam);
  }
  site.galvanised = galvanised(draft);
  if (draft.request.couplant.value) {
    const auto& found = draft.names.couplant(*draft.request.couplant.value);
    if (found.record) {
      site.couplant_name = found.record->name;
      site.couplant_lowest_K = found.record->lowest_degC + defaults::zero_celsius_K;
      site.couplant_highest_K = found.record->highest_degC + defaults::zero_celsius_K;
      if (!std::isnan(found.record->limit_degC)) {
        site.couplant_limit_K = found.record->limit_degC + defaults::zero_celsius_K;
      }
      site.couplant_lasts = found.record->lasts;
      site.couplant_traits = found.record->traits;
      site.couplant_harms = found.record->harms;
    } else {
      draft.problem(draft.request.couplant.place, "couplant",
                    not_found("couplant", *draft.request.couplant.value, "couplants", found));
    }
  }
  if (draft.request.kit.value) {
    site.rail_length_m = stated_si(draft.request.kit.value->rail_length);
    site.rail_step_m = stated_si(draft.request.kit.value->rail_step);
  }
}

}  // namespace

Orientation orientation_of(const ChoiceEntry& choice) {
  for (Orientation one :
       {Orientation::horizontal, Orientation::vertical_up, Orientation::vertical_down,
        Orientation::sloped_up, Orientation::sloped_down}) {
    if (choice.value == orientation_name(one)) return one;
  }
  return Orientation::unknown;
}

void resolve_site(Draft& draft) {
  ResolvedSite& site = draft.job.site;
  read_site(draft.request.location, draft.job.pipe.orientation, "location", draft, site);
  add_common(draft, site);
  if (!site.ambient_stated) draft.assume("location.ambient", "20 degC +- 17 K");
  if (!site.wedge_temperature_K) {
    draft.assume("location.wedge_temperature", site.refitted_insulation
                                                   ? "the wall's, under closed insulation"
                                                   : "mean of wall and surroundings");
  }
  for (std::size_t i = 0; i < draft.request.places.items.size(); ++i) {
    const LocationRequest& request = draft.request.places.items[i];
    ResolvedPlace place;
    place.name = request.name.value.value_or(fmt::format("place {}", i + 1));
    place.orientation = request.orientation.value ? orientation_of(request.orientation)
                                                  : orientation_of(draft.request.pipe.orientation);
    read_site(request, place.orientation, fmt::format("places[{}]", i), draft, place.site);
    add_common(draft, place.site);
    draft.job.places.push_back(std::move(place));
  }
  not_evaluated(draft);
}

void resolve_acceptances(Draft& draft) {
  for (std::size_t i = 0; i < draft.request.accept.items.size(); ++i) {
    const AcceptRequest& item = draft.request.accept.items[i];
    if (!item.finding.value || !item.because.value || !item.by.value) continue;
    if (!find_check(*item.finding.value)) {
      std::vector<std::string_view> ids;
      for (const CheckInfo& row : check_table()) ids.push_back(row.id);
      const auto near = nearest_name(*item.finding.value, ids);
      draft.problem(item.finding.place, fmt::format("accept[{}].finding", i),
                    fmt::format("\"{}\" is no finding{}; see `slantrule lookup checks`",
                                shown(*item.finding.value),
                                near ? fmt::format(", did you mean \"{}\"?", *near) : ""));
      continue;
    }
    if (const Reading* down_to = reading(item.down_to)) {
      const auto wanted = down_to_dimension(find_check(*item.finding.value)->check);
      if (wanted != down_to->dimension) {
        draft.problem(
            item.down_to.place, fmt::format("accept[{}].down_to", i),
            wanted ? fmt::format("must be {} for {}, for instance \"{}\"", dimension_name(*wanted),
                                 *item.finding.value, dimension_example(*wanted))
                   : fmt::format("has no meaning for {}; leave it out", *item.finding.value));
        continue;
      }
    }
    draft.job.acceptances.push_back(
        {*item.finding.value, *item.because.value, *item.by.value, stated_si(item.down_to)});
  }
}

}  // namespace slantrule
