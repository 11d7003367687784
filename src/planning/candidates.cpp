#include "candidates.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "pipe_identity.hpp"
#include "resolve_draft.hpp"
#include "slantrule/catalogue/liquid_designation.hpp"
#include "slantrule/catalogue/pipe_standards.hpp"
#include "slantrule/catalogue/size_designation.hpp"
#include "slantrule/planning/job_visit.hpp"

namespace slantrule {
namespace {

/// An open entry: its path and the options it has.
struct Axis {
  std::string path;
  std::vector<std::string> labels;
  bool between = false;
};

/// The first open entry, an outer one before those inside its options.
std::optional<Axis> first_open_axis(const JobRequest& request) {
  std::optional<Axis> axis;
  walk_keys(request, [&](const KeyPath& path, const KeyInfo&, const auto& entry) {
    if constexpr (requires { entry.options; }) {
      if (axis || entry.options.size() < 2) return;
      axis = Axis{path.text(), {}, entry.between};
      for (const auto& option : entry.options) axis->labels.push_back(option.text);
    }
  });
  return axis;
}

/// Keeps only option `chosen` of the first open entry.
void close_first_axis(JobRequest& request, std::size_t chosen) {
  bool closed = false;
  walk_keys(request, [&](const KeyPath&, const KeyInfo&, auto& entry) {
    if constexpr (requires { entry.options; }) {
      if (closed || entry.options.size() < 2) return;
      auto keep = std::move(entry.options[chosen]);
      entry.options.clear();
      entry.options.push_back(std::move(keep));
      entry.between = false;
      closed = true;
    }
  });
}

/// A measured wall and one of a table may be the same within the mill's tolerance.
constexpr double mill_wall_tolerance = 0.125;
/// Walls of different standards this near are one candidate.
constexpr double same_wall = 0.02;

std::optional<double> measured_wall_m(const PipeRequest& pipe) {
  if (pipe.wall.options.size() != 1) return std::nullopt;
  const auto& readings = pipe.wall.options.front().value.readings;
  if (readings.empty()) return std::nullopt;
  double sum_m = 0;
  for (const Reading& one : readings) sum_m += one.si;
  return sum_m / static_cast<double>(readings.size());
}

bool in_family(const PipeRecord& row, const std::string& family) {
  return family.empty() || row.material_family == family;
}

/// A single candidate would be planned as if somebody had stated it.
std::string only_one(const std::string& candidate) {
  return fmt::format(
      "\"unknown\" leaves one candidate, {}, which is a guess: measure, and write what "
      "was found",
      candidate);
}

void open_size(PipeRequest& pipe, const std::string& family, const Catalogue& catalogue,
               std::vector<Problem>& problems) {
  pipe.size.unknown = false;
  const auto diameter_m = measured_diameter_m(pipe);
  if (!diameter_m) {
    problems.push_back({pipe.size.place, "pipe.size",
                        "\"unknown\" needs a measured diameter or girth to name candidates; "
                        "write \"girth\": \"529 mm\""});
    return;
  }
  const auto wall_m = measured_wall_m(pipe);
  std::vector<const PipeRecord*> taken;
  for (const PipeRecord* row : pipes_near(*diameter_m, same_size_tolerance, catalogue)) {
    if (!in_family(*row, family)) continue;
    if (wall_m && std::fabs(mean_wall_mm(*row) * 1e-3 / *wall_m - 1) > mill_wall_tolerance) {
      continue;
    }
    // "sch 40" and "STD" of one wall are one pipe.
    const bool twin = std::ranges::any_of(taken, [&](const PipeRecord* other) {
      return other->standard == row->standard && other->designation == row->designation &&
             other->wall_mm == row->wall_mm;
    });
    if (twin) continue;
    taken.push_back(row);
    const std::string text = size_text(*row);
    pipe.size.options.push_back({text, Origin::table, text});
  }
  if (pipe.size.options.size() == 1) {
    problems.push_back({pipe.size.place, "pipe.size", only_one(pipe.size.options.front().text)});
  } else if (pipe.size.options.empty()) {
    problems.push_back(
        {pipe.size.place, "pipe.size",
         fmt::format("no standard {} pipe{} lies within 1.5 % of {}; state the wall and leave the "
                     "size out",
                     family, wall_m ? " of this wall" : "", mm_text(*diameter_m))});
  }
}

/// The walls that pipes of this diameter are made with, thinnest first.
void open_wall(PipeRequest& pipe, const std::string& family, const Catalogue& catalogue,
               std::vector<Problem>& problems) {
  pipe.wall.unknown = false;
  std::optional<double> diameter_m = measured_diameter_m(pipe);
  double within = same_size_tolerance;
  if (pipe.size.options.size() == 1) {
    const SizeReading size = read_size(pipe.size.options.front().value, family, catalogue);
    if (size.outside_diameter_m > 0) {
      diameter_m = size.outside_diameter_m;
      within = 0.002;
    }
  }
  struct Wall {
    double wall_mm;
    std::string label;
  };
  std::vector<Wall> walls;
  if (diameter_m) {
    for (const PipeRecord* row : pipes_near(*diameter_m, within, catalogue)) {
      if (!in_family(*row, family)) continue;
      const double wall_mm = mean_wall_mm(*row);
      walls.push_back({wall_mm, fmt::format("{:.4g} mm ({})", wall_mm, size_text(*row))});
    }
  }
  std::ranges::stable_sort(walls, {}, &Wall::wall_mm);
  double last_mm = 0;
  for (const Wall& one : walls) {
    if (one.wall_mm <= last_mm * (1 + same_wall)) continue;
    last_mm = one.wall_mm;
    WallRequest wall;
    wall.readings.push_back({.si = one.wall_mm * 1e-3, .dimension = Dimension::length});
    pipe.wall.options.push_back({std::move(wall), Origin::table, one.label});
  }
  if (pipe.wall.options.size() == 1) {
    problems.push_back({pipe.wall.place, "pipe.wall", only_one(pipe.wall.options.front().text)});
  } else if (walls.empty()) {
    problems.push_back({pipe.wall.place, "pipe.wall",
                        "\"unknown\" has no candidates: the tables have no pipe of this "
                        "diameter and material; write candidates as { \"one_of\": [\"6 mm\", "
                        "\"8 mm\"] }"});
  }
}

/// Bare, and with each lining that is usual for the pipe.
void open_liner(PipeRequest& pipe, const std::string& family, const Catalogue& catalogue) {
  pipe.liner.unknown = false;
  const PipeRecord* row = nullptr;
  double outside_m = measured_diameter_m(pipe).value_or(0);
  if (!pipe.size.options.empty()) {
    const SizeReading size = read_size(pipe.size.options.front().value, family, catalogue);
    row = size.row;
    if (size.outside_diameter_m > 0) outside_m = size.outside_diameter_m;
  }
  const int dn = nominal_size_mm(row, outside_m);
  LayerRequest none;
  none.none = true;
  pipe.liner.options.push_back({std::move(none), Origin::unstated, "none"});
  // Old iron was lined like ductile iron.
  const std::string_view lined = family == "carbon steel" ? "carbon steel" : "ductile iron";
  for (const LiningRecord* usual : usual_linings(lined, dn)) {
    const LiningRecord& lining = *usual;
    LayerRequest layer;
    MaterialRequest material;
    material.name.value = std::string(lining.material);
    layer.material.options.push_back({std::move(material), Origin::table, "cement mortar"});
    layer.thickness.options.push_back(
        {{.si = lining.thickness_mm * 1e-3, .dimension = Dimension::length},
         Origin::table,
         fmt::format("{} mm", lining.thickness_mm)});
    pipe.liner.options.push_back({std::move(layer), Origin::table,
                                  fmt::format("cement mortar {} mm ({} {})", lining.thickness_mm,
                                              lining.standard, lining.lining_class)});
  }
}

/// A range of strengths in the liquid's name, where the job doesn't state the strength itself; or
/// null.
const LiquidReading* strength_range(const FluidRequest& fluid, NameMemory& names) {
  if (fluid.name.options.size() != 1 || fluid.concentration.given()) return nullptr;
  // Most names hold no number, and are not read twice.
  const std::string& name = fluid.name.options.front().value;
  if (std::ranges::none_of(name, [](char c) { return c >= '0' && c <= '9'; })) return nullptr;
  const LiquidReading& reading = names.liquid(name);
  const bool range =
      reading.kind == LiquidReading::Kind::understood && reading.strengths.size() == 2;
  return range ? &reading : nullptr;
}

void open_strength(const LiquidReading& range, JobRequest& request) {
  FluidRequest& fluid = request.fluid;
  const bool by_volume = range.basis == StrengthBasis::volume;
  for (const double fraction : range.strengths) {
    Reading strength{
        .si = fraction,
        .dimension = by_volume ? Dimension::volume_fraction : Dimension::mass_fraction};
    fluid.concentration.options.push_back(
        {strength, Origin::unstated,
         fmt::format("{:g} % {}", 100 * fraction, by_volume ? "volume" : "mass")});
  }
  fluid.concentration.between = true;
  fluid.concentration.place = fluid.name.place;
  // The name keeps the liquid and gives its strength away.
  fluid.name.options.front().value = std::string(range.record->key);
}

}  // namespace

bool has_unknowns(const JobRequest& request, NameMemory& names) {
  const PipeRequest& pipe = request.pipe;
  return pipe.size.unknown || pipe.wall.unknown || pipe.liner.unknown ||
         strength_range(request.fluid, names);
}

void open_unknowns(JobRequest& request, NameMemory& names, std::vector<Problem>& problems) {
  PipeRequest& pipe = request.pipe;
  const std::string family(material_family(pipe, names));
  const Catalogue& catalogue = names.catalogue();
  if (pipe.size.unknown) open_size(pipe, family, catalogue, problems);
  if (pipe.wall.unknown) open_wall(pipe, family, catalogue, problems);
  if (pipe.liner.unknown) open_liner(pipe, family, catalogue);
  if (const auto* range = strength_range(request.fluid, names)) open_strength(*range, request);
}

bool has_open_entry(const JobRequest& request) {
  return first_open_axis(request).has_value();
}

void expand(ClosedRequest one, std::vector<ClosedRequest>& into, std::string& crowded) {
  if (into.size() > most_variants) return;
  const auto axis = first_open_axis(one.request);
  if (!axis) {
    into.push_back(std::move(one));
    return;
  }
  for (std::size_t i = 0; i < axis->labels.size(); ++i) {
    ClosedRequest next = one;
    close_first_axis(next.request, i);
    if (!next.what.empty()) next.what += ", ";
    next.what += fmt::format("{} {}", axis->path, axis->labels[i]);
    if (axis->between) next.ranges.push_back(axis->path);
    expand(std::move(next), into, crowded);
    if (into.size() > most_variants) {
      if (crowded.empty()) crowded = axis->path;
      return;
    }
  }
}

}  // namespace slantrule
