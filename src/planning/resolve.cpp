#include <algorithm>
#include <memory>

#include "candidates.hpp"
#include "resolve_draft.hpp"
#include "slantrule/planning/job_visit.hpp"
#include "slantrule/planning/resolver.hpp"

namespace slantrule {
namespace {

using Problems = std::vector<Problem>;

/// "PE100 SDR 11" with an outside diameter tells the wall.
bool material_names_wall(const PipeRequest& pipe) {
  const auto& options = pipe.material.options;
  const auto names_wall = [](const auto& option) {
    return !wall_name_in(option.value.name.value.value_or("")).empty();
  };
  return pipe.outside_diameter.given() && !pipe.outside_diameter.unknown && !options.empty() &&
         std::ranges::all_of(options, names_wall);
}

/// Reports every required key that is missing inside an object that is there.
void check_required(const JobRequest& request, Problems& problems) {
  const auto missing = [&](const KeyPath& path, const KeyInfo& info, Place place) {
    problems.push_back(
        {place, path.text(),
         fmt::format("is missing ({}); write \"{}\": {}", info.help, info.key, info.example)});
  };
  // A layer that is stated to be absent has no material.
  const auto of_absent_layer = [&](const void* entry) {
    for (const auto* layer : {&request.pipe.liner, &request.pipe.coating}) {
      for (const auto& option : layer->options) {
        if (option.value.none &&
            (entry == &option.value.material || entry == &option.value.thickness)) {
          return true;
        }
      }
    }
    return false;
  };
  // A kit with pairs in it leaves the choice to the planner.
  const bool pair_from_kit = request.kit.value && !request.kit.value->sensors.values.empty();
  const void* const of_planner = pair_from_kit ? &request.sensors : nullptr;
  walk_keys(request, [&](const KeyPath& path, const KeyInfo& info, const auto& entry) {
    if (!info.required) return;
    using EntryType = std::remove_cvref_t<decltype(entry)>;
    if (&entry == of_planner || of_absent_layer(&entry)) return;
    // The name of a catalogue material is the entry itself.
    if constexpr (std::is_same_v<EntryType, TextEntry>) {
      if (!entry.value) missing(path, info, entry.place);
    } else if constexpr (requires { entry.given(); }) {
      if (!entry.given()) missing(path, info, entry.place);
    } else if constexpr (requires { entry.value.has_value(); }) {
      if (!entry.value) missing(path, info, entry.place);
    }
  });
  const PipeRequest& pipe = request.pipe;
  const bool diameter_known =
      pipe.size.given() || pipe.outside_diameter.given() || pipe.girth.given();
  if (!diameter_known) {
    problems.push_back({{},
                        "pipe.size",
                        "is missing: neither a size nor a diameter is stated; write "
                        "\"size\": \"NPS 6 sch 40\", or \"outside_diameter\" and \"wall\""});
  } else if (!pipe.size.given() && !pipe.wall.given() && !material_names_wall(pipe)) {
    problems.push_back({{},
                        "pipe.wall",
                        "is missing: a diameter alone does not tell the wall; write \"wall\": "
                        "\"7.11 mm\", or \"unknown\" to plan the usual walls"});
  }
}

/// States the material that the size was found to name.
void name_material(PipeRequest& pipe, const std::string& material) {
  MaterialRequest named;
  named.name.value = material;
  pipe.material.options.push_back({std::move(named), Origin::unstated, material});
  pipe.material.place = pipe.size.place;
}

void add_new(Problems& all, Problems more) {
  for (Problem& one : more) {
    const bool known = std::any_of(all.begin(), all.end(), [&](const Problem& other) {
      return other.key == one.key && other.message == one.message;
    });
    if (!known) all.push_back(std::move(one));
  }
}

void resolve_closed(const JobRequest& request, NameMemory& names, std::string what,
                    std::vector<std::string> ranges, Resolution& into) {
  Variant& variant = into.variants.emplace_back();
  variant.what = std::move(what);
  ResolvedJob& job = variant.job;
  Draft draft{request, names, job};
  job.tag = request.tag.value.value_or("");
  job.title = request.title.value.value_or("");
  job.site_name = request.site.value.value_or("");
  job.prepared_by = request.prepared_by.value.value_or("");
  job.note = request.note.value.value_or("");
  job.fluid_time_computed = request.meter.fluid_time.value == "computed";
  job.ranges = std::move(ranges);
  resolve_pipe(draft);
  resolve_liquid(draft);
  resolve_flow(draft);
  resolve_sensors(draft);
  resolve_path(draft);
  resolve_site(draft);
  resolve_kit(draft);
  resolve_acceptances(draft);
  add_new(into.problems, std::move(draft.problems));
}

}  // namespace

std::string_view origin_name(Origin origin) {
  switch (origin) {
    case Origin::unstated:
      return "";
    case Origin::gauge:
      return "gauge";
    case Origin::tape:
      return "tape";
    case Origin::calliper:
      return "calliper";
    case Origin::drawing:
      return "drawing";
    case Origin::plate:
      return "plate";
    case Origin::table:
      return "table";
    case Origin::inventory:
      return "inventory";
    case Origin::guess:
      return "guess";
  }
  return {};
}

std::optional<Origin> origin_from_name(std::string_view name) {
  for (Origin one : {Origin::gauge, Origin::tape, Origin::calliper, Origin::drawing, Origin::plate,
                     Origin::table, Origin::inventory, Origin::guess}) {
    if (name == origin_name(one)) return one;
  }
  return std::nullopt;
}

std::string_view orientation_name(Orientation orientation) {
  switch (orientation) {
    case Orientation::unknown:
      return "not stated";
    case Orientation::horizontal:
      return "horizontal";
    case Orientation::vertical_up:
      return "vertical up";
    case Orientation::vertical_down:
      return "vertical down";
    case Orientation::sloped_up:
      return "sloped up";
    case Orientation::sloped_down:
      return "sloped down";
  }
  return {};
}

Resolver::Resolver(const Catalogue& catalogue) : names_(std::make_unique<NameMemory>(catalogue)) {}
Resolver::~Resolver() = default;
Resolver::Resolver(Resolver&&) noexcept = default;
Resolver& Resolver::operator=(Resolver&&) noexcept = default;

Resolution Resolver::resolve(const JobRequest& request) {
  names_->make_room();
  NameMemory& names = *names_;
  Resolution out;
  std::optional<JobRequest> opened;
  const JobRequest* base = &request;
  const std::string material = material_of_size(request.pipe, names);
  if (!material.empty()) {
    opened = request;
    name_material(opened->pipe, material);
    base = &*opened;
  }
  check_required(*base, out.problems);

  if (has_unknowns(*base, names)) {
    if (!opened) opened = request;
    open_unknowns(*opened, names, out.problems);
    base = &*opened;
  }

  if (!has_open_entry(*base)) {
    resolve_closed(*base, names, {}, {}, out);
  } else {
    std::vector<ClosedRequest> closed;
    std::string crowded;
    expand({*base, {}, {}}, closed, crowded);
    if (closed.size() > most_variants) {
      out.problems.push_back({{},
                              crowded,
                              fmt::format("the candidates multiply to more than {}; narrow one of "
                                          "the open entries",
                                          most_variants)});
      return out;
    }
    out.variants.reserve(closed.size());
    for (ClosedRequest& one : closed) {
      resolve_closed(one.request, names, std::move(one.what), std::move(one.ranges), out);
    }
  }
  if (!material.empty()) {
    for (Variant& one : out.variants) {
      one.job.assumptions.insert(
          one.job.assumptions.begin(),
          {"pipe.material", fmt::format("{}, as pipe.size says", shown(material))});
    }
  }
  if (!out.problems.empty()) out.variants.clear();
  return out;
}

Resolution resolve(const JobRequest& request, const Catalogue& catalogue) {
  return Resolver(catalogue).resolve(request);
}

}  // namespace slantrule
