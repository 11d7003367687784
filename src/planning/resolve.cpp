#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <numbers>

#include "slantrule/catalogue/size_designation.hpp"
#include "slantrule/liquids/measured_liquid.hpp"
#include "slantrule/liquids/water.hpp"
#include "slantrule/planning/check_table.hpp"
#include "slantrule/planning/clock.hpp"
#include "slantrule/planning/defaults.hpp"
#include "slantrule/planning/job_visit.hpp"
#include "slantrule/planning/resolved_job.hpp"
#include "slantrule/units/suggest.hpp"

namespace slantrule {
namespace {

using Problems = std::vector<Problem>;

std::string mm(double length_m) {
  return format_rounded(length_m, Dimension::length, "mm", 2);
}

std::string joined(const std::vector<std::string_view>& names, std::string_view separator) {
  return fmt::format("{}", fmt::join(names, separator));
}

// ---------------------------------------------------------------- required keys

/// Reports every required key that is missing inside an object that is there.
void check_required(const JobRequest& request, Problems& problems) {
  const auto missing = [&](const std::string& path, const KeyInfo& info, Place place) {
    problems.push_back(
        {place, path,
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
  visit_all_keys(request, "", [&](const std::string& path, const KeyInfo& info, const auto& entry) {
    if (!info.required) return;
    using EntryType = std::remove_cvref_t<decltype(entry)>;
    if (of_absent_layer(&entry)) return;
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
  } else if (!pipe.size.given() && !pipe.wall.given()) {
    problems.push_back({{},
                        "pipe.wall",
                        "is missing: a diameter alone does not tell the wall; write \"wall\": "
                        "\"7.11 mm\", or \"unknown\" to plan the usual walls"});
  }
}

// ---------------------------------------------------------------- candidates

/// An open entry: its path and the options it has.
struct Axis {
  std::string path;
  std::vector<std::string> labels;
  bool between = false;
};

/// The first open entry, an outer one before those inside its options.
std::optional<Axis> first_open_axis(const JobRequest& request) {
  std::optional<Axis> axis;
  visit_all_keys(request, "", [&](const std::string& path, const KeyInfo&, const auto& entry) {
    if constexpr (requires { entry.options; }) {
      if (axis || entry.options.size() < 2) return;
      axis = Axis{path, {}, entry.between};
      for (const auto& option : entry.options) axis->labels.push_back(option.text);
    }
  });
  return axis;
}

/// Keeps only option `chosen` of the first open entry.
void close_first_axis(JobRequest& request, std::size_t chosen) {
  bool closed = false;
  visit_all_keys(request, "", [&](const std::string&, const KeyInfo&, auto& entry) {
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

/// A request in which every entry has one option at most, and how it came from the open one.
struct ClosedRequest {
  JobRequest request;
  std::string what;                 ///< "pipe.wall 7.11 mm, ..."
  std::vector<std::string> ranges;  ///< paths given as a range
};

/// Opens the candidates one entry at a time, so that entries inside an option multiply that option
/// alone. Stops with one more than may be; then `crowded` is the path that was too many.
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

std::optional<double> stated_si(const QuantityEntry& entry) {
  if (entry.options.empty()) return std::nullopt;
  return entry.options.front().value.si;
}

/// Bare-wall outside diameter as measured, before candidates are opened; nullopt: only a size.
std::optional<double> measured_diameter_m(const PipeRequest& pipe) {
  double coating_m = 0;
  if (pipe.over_coating.value.value_or(false) && !pipe.coating.options.empty()) {
    coating_m = stated_si(pipe.coating.options.front().value.thickness).value_or(0);
  }
  if (const auto diameter_m = stated_si(pipe.outside_diameter)) return *diameter_m - 2 * coating_m;
  if (const auto girth_m = stated_si(pipe.girth)) {
    return *girth_m / std::numbers::pi - stated_si(pipe.tape_thickness).value_or(0) - 2 * coating_m;
  }
  return std::nullopt;
}

std::string material_family(const PipeRequest& pipe, const Catalogue& catalogue) {
  if (pipe.material.options.empty()) return {};
  const MaterialRequest& material = pipe.material.options.front().value;
  if (material.is_inline || !material.name.value) return {};
  const auto found = catalogue.solid(*material.name.value);
  if (!found.record) return {};
  const std::string_view key = found.record->key;
  if (key.starts_with("stainless") || key.starts_with("duplex")) return "stainless";
  if (key.starts_with("carbon_steel")) return "carbon steel";
  return std::string(key);
}

/// Puts the candidates that the catalogue knows in place of "unknown".
void open_unknowns(JobRequest& request, const Catalogue& catalogue, Problems& problems) {
  PipeRequest& pipe = request.pipe;
  const std::string family = material_family(pipe, catalogue);
  if (pipe.size.unknown) {
    const auto diameter = measured_diameter_m(pipe);
    if (!diameter) {
      problems.push_back({pipe.size.place, "pipe.size",
                          "\"unknown\" needs a measured diameter or girth to name candidates; "
                          "write \"girth\": \"529 mm\""});
    } else {
      for (const PipeRecord* row : pipes_near(*diameter, 0.015)) {
        pipe.size.options.push_back({size_text(*row), Origin::table, size_text(*row)});
      }
      if (pipe.size.options.empty()) {
        problems.push_back({pipe.size.place, "pipe.size",
                            fmt::format("no standard pipe lies within 1.5 % of {}; state the wall "
                                        "and leave the size out",
                                        mm(*diameter))});
      }
    }
    pipe.size.unknown = false;
  }
  if (pipe.wall.unknown) {
    std::optional<double> diameter = measured_diameter_m(pipe);
    if (!diameter && pipe.size.options.size() == 1) {
      const SizeReading size = read_size(pipe.size.options.front().value, family);
      if (size.outside_diameter_m > 0) diameter = size.outside_diameter_m;
    }
    std::vector<double> walls_mm;
    if (diameter) {
      for (const PipeRecord* row : pipes_near(*diameter, 0.002)) walls_mm.push_back(row->wall_mm);
      std::sort(walls_mm.begin(), walls_mm.end());
      walls_mm.erase(std::unique(walls_mm.begin(), walls_mm.end()), walls_mm.end());
    }
    for (double wall_mm : walls_mm) {
      WallRequest wall;
      wall.readings.push_back({.si = wall_mm * 1e-3, .dimension = Dimension::length});
      pipe.wall.options.push_back({std::move(wall), Origin::table, fmt::format("{} mm", wall_mm)});
    }
    if (walls_mm.empty()) {
      problems.push_back({pipe.wall.place, "pipe.wall",
                          "\"unknown\" has no candidates: the tables have no pipe of this "
                          "diameter; write candidates as { \"one_of\": [\"6 mm\", \"8 mm\"] }"});
    }
    pipe.wall.unknown = false;
  }
  if (pipe.liner.unknown) {
    const auto diameter = measured_diameter_m(pipe);
    double outside_m = diameter.value_or(0);
    if (!diameter && !pipe.size.options.empty()) {
      outside_m = read_size(pipe.size.options.front().value, family).outside_diameter_m;
    }
    // EN 545 nominal cement-mortar linings by size: 4, 5, 6, 9 mm.
    const double mortar_m = outside_m < 0.33   ? 4e-3
                            : outside_m < 0.65 ? 5e-3
                            : outside_m < 1.26 ? 6e-3
                                               : 9e-3;
    LayerRequest none;
    none.none = true;
    LayerRequest mortar;
    MaterialRequest material;
    material.name.value = "cement mortar";
    mortar.material.options.push_back({std::move(material), Origin::table, "cement mortar"});
    mortar.thickness.options.push_back(
        {{.si = mortar_m, .dimension = Dimension::length}, Origin::table, mm(mortar_m)});
    pipe.liner.options.push_back({std::move(none), Origin::unstated, "none"});
    pipe.liner.options.push_back(
        {std::move(mortar), Origin::table, fmt::format("cement mortar {}", mm(mortar_m))});
    pipe.liner.unknown = false;
  }
}

// ---------------------------------------------------------------- one closed job

template <class Record>
std::string not_found(std::string_view what, std::string_view name, std::string_view list,
                      const Found<Record>& found) {
  if (!found.readings.empty()) {
    return fmt::format("\"{}\" could be {}; write the one that is meant", shown(name),
                       joined(found.readings, " or "));
  }
  std::string message = fmt::format("no {} is known as \"{}\"", what, shown(name));
  if (!found.nearest.empty()) {
    message += fmt::format("; did you mean {}?", joined(found.nearest, " or "));
  } else {
    message += fmt::format("; see `slantrule lookup {}`", list);
  }
  return message;
}

/// Resolves a request in which every entry has one option at most.
class Resolver {
 public:
  Resolver(const JobRequest& request, const Catalogue& catalogue)
      : request_(request), catalogue_(catalogue) {}

  ResolvedJob run() {
    job_.tag = request_.tag.value.value_or("");
    job_.title = request_.title.value.value_or("");
    job_.site_name = request_.site.value.value_or("");
    job_.prepared_by = request_.prepared_by.value.value_or("");
    job_.note = request_.note.value.value_or("");
    job_.has_alternative_places = request_.places.given;
    job_.fluid_time_computed = request_.meter.fluid_time.value == "computed";
    pipe();
    liquid();
    flow();
    sensors();
    path();
    site();
    acceptances();
    not_evaluated();
    return std::move(job_);
  }

  Problems take_problems() { return std::move(problems_); }

 private:
  void problem(const Place& place, std::string key, std::string message) {
    problems_.push_back({place, std::move(key), std::move(message)});
  }
  void assume(std::string_view key, std::string_view what) {
    job_.assumptions.push_back({key, what});
  }

  static const Reading* reading(const QuantityEntry& entry) {
    return entry.options.empty() ? nullptr : &entry.options.front().value;
  }
  static std::optional<double> si(const QuantityEntry& entry) { return stated_si(entry); }
  static Estimate estimate(const Reading& value) { return {value.si, value.u_si}; }
  /// Standard uncertainty stated, or `relative` of the value when no tolerance was given.
  static Estimate estimate_or(const Reading& value, double relative) {
    return {value.si, value.tolerance_stated ? value.u_si : relative * value.si};
  }

  // ------------------------------------------------------------ pipe

  std::optional<ResolvedMaterial> material(const Entry<MaterialRequest>& entry,
                                           const std::string& key) {
    if (entry.options.empty()) return std::nullopt;
    const MaterialRequest& request = entry.options.front().value;
    if (!request.name.value) return std::nullopt;
    if (request.is_inline) return inline_material(request, entry.place, key);
    const auto found = catalogue_.solid(*request.name.value);
    if (!found.record) {
      problem(entry.place, key, not_found("material", *request.name.value, "solids", found));
      return std::nullopt;
    }
    const SolidRecord& row = *found.record;
    ResolvedMaterial out;
    out.name = row.name;
    out.family = row.family;
    out.source = row.source;
    const auto wave = [](double speed_m_s, double slope_m_s_K,
                         double u_m_s) -> std::optional<WaveSpeed> {
      if (std::isnan(speed_m_s)) return std::nullopt;
      return WaveSpeed{speed_m_s, std::isnan(slope_m_s_K) ? 0 : slope_m_s_K,
                       defaults::solid_reference_K, u_m_s};
    };
    const double u_relative =
        std::isnan(row.u_longitudinal_m_s) ? 0.02 : row.u_longitudinal_m_s / row.longitudinal_m_s;
    // The same relative uncertainty for shear in metals and glass, twice that elsewhere
    // (solids notes, section 1: our judgement).
    const bool stiff = row.family == SolidFamily::metal || row.family == SolidFamily::glass;
    out.longitudinal =
        wave(row.longitudinal_m_s, row.longitudinal_slope_m_s_K, u_relative * row.longitudinal_m_s);
    out.shear =
        wave(row.shear_m_s, row.shear_slope_m_s_K, (stiff ? 1 : 2) * u_relative * row.shear_m_s);
    if (!std::isnan(row.density_kg_m3)) out.density_kg_m3 = row.density_kg_m3;
    return out;
  }

  std::optional<ResolvedMaterial> inline_material(const MaterialRequest& request, Place place,
                                                  const std::string& key) {
    if (!request.longitudinal.given() && !request.shear.given()) {
      problem(place, key,
              "an inline material needs a speed of sound; write \"longitudinal\": \"5920 m/s\" "
              "and, where a shear wave runs, \"shear\": \"3230 m/s\"");
      return std::nullopt;
    }
    ResolvedMaterial out;
    out.name = *request.name.value;
    out.is_inline = true;
    out.source = "stated in the job";
    const double at_K = si(request.at).value_or(defaults::solid_reference_K);
    const auto wave = [&](const QuantityEntry& speed,
                          const QuantityEntry& slope) -> std::optional<WaveSpeed> {
      if (!speed.given()) return std::nullopt;
      return WaveSpeed{reading(speed)->si, si(slope).value_or(0), at_K, reading(speed)->u_si};
    };
    out.longitudinal = wave(request.longitudinal, request.longitudinal_slope);
    out.shear = wave(request.shear, request.shear_slope);
    out.density_kg_m3 = si(request.density);
    return out;
  }

  std::optional<ResolvedLayer> layer(const Entry<LayerRequest>& entry, const std::string& key) {
    if (entry.options.empty() || entry.options.front().value.none) return std::nullopt;
    const LayerRequest& request = entry.options.front().value;
    auto of = material(request.material, key + ".material");
    if (!of || !request.thickness.given()) return std::nullopt;
    return ResolvedLayer{std::move(*of), reading(request.thickness)->si};
  }

  /// Mean of the gauge readings, corrected for the speed the gauge was set to and for paint.
  std::optional<Estimate> stated_wall(const ResolvedMaterial& wall_material) {
    const auto& entry = request_.pipe.wall;
    if (entry.options.empty()) return std::nullopt;
    const WallRequest& wall = entry.options.front().value;
    if (wall.readings.empty()) {
      problem(entry.place, "pipe.wall", "has no reading; write \"7.11 mm\"");
      return std::nullopt;
    }
    double sum_m = 0;
    for (const Reading& one : wall.readings) sum_m += one.si;
    const double count = static_cast<double>(wall.readings.size());
    const double mean_m = sum_m / count;
    double spread = 0;
    for (const Reading& one : wall.readings) spread += (one.si - mean_m) * (one.si - mean_m);
    // Standard error of the mean, beside the tolerance the readings share.
    const double u_mean_m = count > 1 ? std::sqrt(spread / (count - 1) / count) : 0;
    double u_m = std::hypot(u_mean_m, wall.readings.front().u_si);
    double wall_m = mean_m;
    const double gauge_m_s = si(wall.gauge_set_to).value_or(0);
    if (wall.through_paint.given()) {
      // A gauge that is not echo-to-echo counts the paint's time as wall: t c_set / c_paint.
      const auto paint = catalogue_.solid("paint");
      const double set_m_s = gauge_m_s > 0 ? gauge_m_s
                             : wall_material.longitudinal
                                 ? wall_material.longitudinal->sound_speed_m_s
                                 : 0;
      if (!(set_m_s > 0)) {
        problem(wall.through_paint.place, "pipe.wall.through_paint",
                "cannot be taken off without the speed the gauge was set to; write "
                "\"gauge_set_to\": \"5920 m/s\"");
        return std::nullopt;
      }
      if (paint.record) {
        wall_m -= reading(wall.through_paint)->si * set_m_s / paint.record->longitudinal_m_s;
      }
    }
    if (gauge_m_s > 0) {
      if (!wall_material.longitudinal) {
        problem(entry.place, "pipe.wall.gauge_set_to",
                "the wall material has no longitudinal speed to correct the gauge with; leave it "
                "out, or state the speed");
        return std::nullopt;
      }
      wall_m *= wall_material.longitudinal->sound_speed_m_s / gauge_m_s;
    }
    if (!(wall_m > 0)) {
      problem(entry.place, "pipe.wall",
              fmt::format("leaves no wall after the corrections ({} read)", mm(mean_m)));
      return std::nullopt;
    }
    if (u_m == 0) u_m = 0.01 * wall_m;  // a gauge in practised hands (judged)
    return Estimate{wall_m, u_m};
  }

  void pipe() {
    const PipeRequest& request = request_.pipe;
    ResolvedPipe& pipe = job_.pipe;
    const auto wall_material = material(request.material, "pipe.material");
    if (wall_material) pipe.material = *wall_material;

    pipe.coating = layer(request.coating, "pipe.coating");
    if (!request.coating.options.empty() && !request.coating.options.front().value.none) {
      pipe.coating_under_sensors =
          request.coating.options.front().value.under_sensors.value != "removed";
    }
    pipe.liner_stated = request.liner.given();
    pipe.liner = layer(request.liner, "pipe.liner");
    pipe.deposit_m = si(request.deposit).value_or(0);
    pipe.wall_temperature_K = si(request.wall_temperature);
    pipe.seam = request.seam.value.value_or("");
    orientation();

    size();
    measured_diameter();
    across();
    if (wall_material) {
      if (const auto wall = stated_wall(*wall_material)) {
        if (pipe.wall_m.value > 0) pipe.designated_wall_m = pipe.wall_m.value;
        pipe.wall_m = *wall;
        pipe.wall_source = DimensionSource::measured;
      }
    }
    roughness();

    if (!problems_.empty()) return;
    if (!(pipe.wall_m.value > 0) || !(pipe.outside_diameter_m.value > 0)) return;
    if (!(pipe.bore_m() > 0) || !(pipe.area_m2() > 0)) {
      problem(request.wall.given() ? request.wall.place : request.size.place, "pipe.wall",
              fmt::format("{} of wall{} leaves no bore in a pipe of {} outside diameter; is a "
                          "decimal point missing?",
                          mm(pipe.wall_m.value),
                          pipe.liner || pipe.deposit_m > 0 ? ", liner and deposit" : "",
                          mm(pipe.outside_diameter_m.value)));
    }
  }

  void size() {
    const NameEntry& entry = request_.pipe.size;
    if (entry.options.empty()) return;
    const SizeReading size =
        read_size(entry.options.front().value, material_family(request_.pipe, catalogue_));
    ResolvedPipe& pipe = job_.pipe;
    const bool wall_stated = request_.pipe.wall.given();
    switch (size.kind) {
      case SizeReading::Kind::understood:
        pipe.size_text = size.row ? fmt::format("{} {}", size.row->standard, size_text(*size.row))
                                  : entry.options.front().value;
        if (size.row && size_text(*size.row).starts_with(size.row->standard)) {
          pipe.size_text = size_text(*size.row);
        }
        // Mill limits as rectangular: +-1 % of the diameter (ASTM A53), and for the wall
        // -12.5 to +5 %, u about 5 % (solids notes, section 9).
        pipe.outside_diameter_m = {size.outside_diameter_m,
                                   size.row ? 0.01 / std::sqrt(3.0) * size.outside_diameter_m : 0};
        pipe.wall_m = {size.wall_m, size.row ? 0.05 * size.wall_m : 0};
        pipe.diameter_source = size.row ? DimensionSource::table : DimensionSource::stated;
        pipe.wall_source = pipe.diameter_source;
        return;
      case SizeReading::Kind::needs_wall:
        pipe.size_text = entry.options.front().value;
        pipe.outside_diameter_m = {size.outside_diameter_m,
                                   0.01 / std::sqrt(3.0) * size.outside_diameter_m};
        if (!wall_stated) problem(entry.place, "pipe.size", size.message);
        return;
      case SizeReading::Kind::ambiguous:
      case SizeReading::Kind::not_understood:
        // A measured diameter and wall win over the designation, but a text that is not
        // understood is a mistake all the same: it would stand on the sheet as if it were.
        problem(entry.place, "pipe.size", size.message);
        return;
    }
  }

  void measured_diameter() {
    const PipeRequest& request = request_.pipe;
    ResolvedPipe& pipe = job_.pipe;
    const Reading* diameter = reading(request.outside_diameter);
    const Reading* girth = reading(request.girth);
    if (diameter && girth) {
      problem(request.girth.place, "pipe.girth",
              "and pipe.outside_diameter are both stated; keep the one that was measured better");
      return;
    }
    if (!diameter && !girth) return;
    Estimate measured;
    if (diameter) {
      measured = estimate(*diameter);
      pipe.diameter_source = DimensionSource::measured;
    } else {
      // The tape's neutral line lies half a tape thickness off the pipe: girth = pi (OD + tape).
      const double tape_m = si(request.tape_thickness).value_or(0);
      measured = {girth->si / std::numbers::pi - tape_m, girth->u_si / std::numbers::pi};
      pipe.diameter_source = DimensionSource::girth;
    }
    if (request.over_coating.value.value_or(false)) {
      if (pipe.coating) {
        measured.value -= 2 * pipe.coating->thickness_m;
      } else {
        problem(request.over_coating.place, "pipe.over_coating",
                "is true, but no coating is stated; write \"coating\": { \"material\": \"paint\", "
                "\"thickness\": \"0.3 mm\" }");
      }
    } else if (pipe.coating && !request.over_coating.value) {
      pipe.over_coating_stated = false;
    }
    if (!(measured.value > 0)) {
      problem(girth ? request.girth.place : request.outside_diameter.place,
              girth ? "pipe.girth" : "pipe.outside_diameter",
              "leaves no diameter after the tape and the coating are taken off");
      return;
    }
    if (pipe.outside_diameter_m.value > 0) {
      pipe.designated_outside_diameter_m = pipe.outside_diameter_m.value;
    }
    // 0.1 % for a measured diameter without a tolerance (judged).
    if (measured.u == 0) measured.u = 1e-3 * measured.value;
    pipe.outside_diameter_m = measured;
  }

  void across() {
    const Reading* across = reading(request_.pipe.across);
    ResolvedPipe& pipe = job_.pipe;
    if (!across || !(pipe.outside_diameter_m.value > 0)) return;
    const bool over_coating = request_.pipe.over_coating.value.value_or(false) && pipe.coating;
    const double bare_m = across->si - (over_coating ? 2 * pipe.coating->thickness_m : 0);
    if (std::fabs(bare_m / pipe.outside_diameter_m.value - 1) > 0.1) {
      problem(request_.pipe.across.place, "pipe.across",
              fmt::format("differs by more than 10 % from the other diameter, {}; is it a slip?",
                          mm(pipe.outside_diameter_m.value)));
    }
    pipe.across_m = bare_m;
  }

  void orientation() {
    const auto& choice = request_.pipe.orientation.value;
    if (!choice) return;
    for (Orientation one :
         {Orientation::horizontal, Orientation::vertical_up, Orientation::vertical_down,
          Orientation::sloped_up, Orientation::sloped_down}) {
      if (*choice == orientation_name(one)) job_.pipe.orientation = one;
    }
  }

  void roughness() {
    ResolvedPipe& pipe = job_.pipe;
    if (const auto stated = si(request_.pipe.roughness)) {
      pipe.roughness_m = *stated;
      return;
    }
    const ResolvedMaterial& inner = pipe.liner ? pipe.liner->material : pipe.material;
    const std::string_view name = inner.name;
    switch (inner.family) {
      case SolidFamily::plastic:
      case SolidFamily::rubber:
      case SolidFamily::glass:
      case SolidFamily::coating:
      case SolidFamily::composite:
      case SolidFamily::wedge:
        pipe.roughness_m = defaults::smooth_roughness_m;
        assume("pipe.roughness", "0.0015 mm, smooth inner face (from memory)");
        return;
      case SolidFamily::cement:
        pipe.roughness_m = defaults::cement_roughness_m;
        assume("pipe.roughness", "0.5 mm, mortar or concrete (from memory)");
        return;
      case SolidFamily::metal:
        if (!inner.is_inline && (name.starts_with("Copper") || name.starts_with("Brass"))) {
          pipe.roughness_m = defaults::smooth_roughness_m;
          assume("pipe.roughness", "0.0015 mm, drawn tube (from memory)");
        } else {
          pipe.roughness_m = defaults::metal_roughness_m;
          assume("pipe.roughness", "0.05 mm, commercial steel in good order (from memory)");
        }
        return;
    }
  }

  // ------------------------------------------------------------ liquid

  void liquid() {
    const FluidRequest& request = request_.fluid;
    ResolvedLiquid& liquid = job_.liquid;
    if (request.name.options.empty() || !request.temperature.given()) return;
    const std::string& name = request.name.options.front().value;
    liquid.name = name;
    liquid.temperature_K = estimate(*reading(request.temperature));

    MeasuredProperties measured;
    if (const Reading* speed = reading(request.sound_speed)) {
      measured.sound_speed_m_s = estimate_or(*speed, 1e-3);
      liquid.sound_speed_measured = true;
    }
    if (const Reading* density = reading(request.density)) {
      measured.density_kg_m3 = estimate_or(*density, 1e-3);
    }
    if (const Reading* viscosity = reading(request.viscosity)) {
      const Estimate value = estimate_or(*viscosity, 0.02);
      if (viscosity->dimension == Dimension::kinematic_viscosity) {
        liquid.kinematic_viscosity_m2_s = value;
      } else {
        measured.viscosity_Pa_s = value;
      }
    }
    const bool any = measured.sound_speed_m_s || measured.density_kg_m3 || measured.viscosity_Pa_s;

    const auto found = catalogue_.liquid(name);
    std::shared_ptr<const LiquidModel> base;
    if (found.record) {
      base = make_model(found.record->model);
    } else if (!measured.sound_speed_m_s) {
      problem(request.name.place, "fluid.name",
              not_found("liquid", name, "liquids", found) +
                  "; any liquid can be planned with a measured speed: \"sound_speed\": "
                  "\"1482 m/s\"");
      return;
    }
    liquid.model = any ? make_measured_liquid(measured, base) : base;

    if (const Reading* pressure = reading(request.pressure)) {
      // Gauge pressure counts from the standard atmosphere.
      liquid.pressure_Pa =
          pressure->si +
          (pressure->dimension == Dimension::pressure_gauge ? defaults::atmosphere_Pa : 0);
      if (!(*liquid.pressure_Pa > 0)) {
        problem(request.pressure.place, "fluid.pressure",
                "is at or below vacuum; is it gauge or absolute?");
        return;
      }
      if (pressure->dimension == Dimension::pressure_gauge) {
        assume("fluid.pressure", "gauge pressure counts from 101.325 kPa");
      }
    } else {
      assume("fluid.pressure",
             "not stated: liquid taken at 1 atm, or just above its boiling pressure");
    }
    if (const Reading* strength = reading(request.concentration)) {
      if (strength->dimension == Dimension::volume_fraction && found.record) {
        problem(request.concentration.place, "fluid.concentration",
                "by volume cannot be used with this liquid; write it by mass: \"30 % mass\"");
      }
      if (found.record && found.record->model == "water" && strength->si > 0) {
        problem(
            request.concentration.place, "fluid.concentration",
            fmt::format("has no meaning for {}; name the solution, or leave it out", shown(name)));
        return;
      }
      if (found.record) liquid.mass_fraction = strength->si;
    }
    liquid.gas_fraction = si(request.gas);
  }

  static std::shared_ptr<const LiquidModel> make_model(std::string_view model) {
    if (model == "water") {
      static const std::shared_ptr<const LiquidModel> water = make_water();
      return water;
    }
    return nullptr;
  }

  // ------------------------------------------------------------ flow

  void flow() {
    const FlowRequest& request = request_.flow;
    if (request.rate.given() && request.velocity.given()) {
      problem(request.velocity.place, "flow.velocity", "and flow.rate are both stated; keep one");
    }
    const auto amount = [](const QuantityEntry& entry) -> std::optional<FlowAmount> {
      const Reading* value = reading(entry);
      if (!value) return std::nullopt;
      return FlowAmount{value->dimension, value->si};
    };
    job_.flow.usual = request.rate.given() ? amount(request.rate) : amount(request.velocity);
    job_.flow.least = amount(request.least);
    job_.flow.most = amount(request.most);
    job_.flow.reversing = request.direction.value == "reversing";
    job_.flow.can_stop = request.can_stop.value;
    const auto rank = [&](const std::optional<FlowAmount>& low,
                          const std::optional<FlowAmount>& high, Place place, const char* key,
                          const char* message) {
      if (low && high && low->dimension == high->dimension && low->si > high->si) {
        problem(place, key, message);
      }
    };
    rank(job_.flow.least, job_.flow.most, request.least.place, "flow.least",
         "is greater than flow.most; are the two swapped?");
    rank(job_.flow.least, job_.flow.usual, request.least.place, "flow.least",
         "is greater than the usual flow; are the two swapped?");
    rank(job_.flow.usual, job_.flow.most, request.most.place, "flow.most",
         "is less than the usual flow; are the two swapped?");
  }

  // ------------------------------------------------------------ sensors

  void sensors() {
    if (request_.sensors.pair) {
      inline_sensors(*request_.sensors.pair);
      return;
    }
    if (!request_.sensors.key) return;
    const auto found = catalogue_.sensor_pair(*request_.sensors.key);
    if (!found.record) {
      problem(request_.sensors.place, "sensors",
              not_found("sensor pair", *request_.sensors.key, "sensors", found));
      return;
    }
    from_record(*found.record);
  }

  void from_record(const SensorPairRecord& row) {
    ResolvedSensors& out = job_.sensors;
    const auto length = [](double value_mm) -> std::optional<double> {
      if (std::isnan(value_mm)) return std::nullopt;
      return value_mm * 1e-3;
    };
    const auto kelvin = [](double value_degC) -> std::optional<double> {
      if (std::isnan(value_degC)) return std::nullopt;
      return value_degC + defaults::zero_celsius_K;
    };
    out.key = row.key;
    out.about = row.about;
    out.mark = row.mark;
    out.invented = row.invented;
    out.frequency_Hz = row.frequency_MHz * 1e6;
    out.element_m = length(row.element_mm);
    out.wedge_slope_stated = !std::isnan(row.wedge_slope_m_s_K);
    out.wedge = {row.wedge_sound_speed_m_s, out.wedge_slope_stated ? row.wedge_slope_m_s_K : 0,
                 row.wedge_at_degC + defaults::zero_celsius_K, row.u_wedge_sound_speed_m_s};
    out.wedge_angle_rad = in_radian(row.wedge_angle_deg);
    out.wedge_path_m = length(row.wedge_path_mm).value_or(0);
    out.setback_m = *length(row.setback_mm);
    out.nose_m = length(row.nose_mm);
    out.length_m = length(row.length_mm);
    out.lowest_K = kelvin(row.lowest_degC);
    out.highest_K = kelvin(row.highest_degC);
    out.smallest_pipe_m = length(row.smallest_pipe_mm);
    out.largest_pipe_m = length(row.largest_pipe_mm);
    out.delay_s = row.delay_us * 1e-6;
    out.cycles = row.cycles;
    out.least_face_gap_m = row.least_face_gap_mm * 1e-3;
    if (!std::isnan(row.zero_stability_ns)) out.zero_stability_s = row.zero_stability_ns * 1e-9;
  }

  static double in_radian(double angle_deg) { return angle_deg * std::numbers::pi / 180; }

  void inline_sensors(const SensorPairRequest& pair) {
    ResolvedSensors& out = job_.sensors;
    if (!pair.wedge.value || !pair.wedge.value->sound_speed.given() ||
        !pair.wedge.value->angle.given() || !pair.frequency.given() || !pair.setback.given()) {
      return;  // reported by check_required
    }
    const WedgeRequest& wedge = *pair.wedge.value;
    out.key = pair.key.value.value_or("stated in the job");
    out.about = pair.about.value.value_or("");
    out.mark = pair.mark.value.value_or("");
    out.invented = pair.invented.value.value_or(false);
    out.frequency_Hz = reading(pair.frequency)->si;
    out.element_m = si(pair.element);
    out.wedge_slope_stated = wedge.slope.given();
    out.wedge = {reading(wedge.sound_speed)->si, si(wedge.slope).value_or(0),
                 si(wedge.at).value_or(defaults::solid_reference_K),
                 reading(wedge.sound_speed)->u_si};
    out.wedge_angle_rad = reading(wedge.angle)->si;
    if (!(out.wedge_angle_rad < std::numbers::pi / 2)) {
      problem(wedge.angle.place, "sensors.wedge.angle",
              "must lie between 0 and 90 degrees, counted from the pipe normal");
    }
    out.wedge_path_m = si(wedge.path).value_or(0);
    out.setback_m = reading(pair.setback)->si;
    out.nose_m = si(pair.nose);
    out.length_m = si(pair.length);
    if (out.nose_m && out.length_m && *out.length_m < *out.nose_m) {
      problem(pair.length.place, "sensors.length",
              "is less than the nose; the nose counts from the exit point to the front end");
    }
    const auto range = [&](const RangeRequest& in, const char* key, std::optional<double>& low,
                           std::optional<double>& high) {
      if (!in.low || !in.high) return;
      if (in.low->si > in.high->si) {
        problem(in.place, key, "has its greater value first; write the lower one first");
      }
      low = in.low->si;
      high = in.high->si;
    };
    range(pair.temperature, "sensors.temperature", out.lowest_K, out.highest_K);
    range(pair.pipe_range, "sensors.pipe_range", out.smallest_pipe_m, out.largest_pipe_m);
    out.delay_s = si(pair.delay).value_or(0);
    out.cycles = pair.cycles.value.value_or(4);
    out.least_face_gap_m = si(pair.least_face_gap).value_or(0);
    out.zero_stability_s = si(pair.zero_stability);
  }

  // ------------------------------------------------------------ path and place

  void path() {
    const PathRequest& request = request_.path;
    job_.path.traverses = request.traverses.value;
    const auto mode = [](const ChoiceEntry& choice) -> std::optional<WaveMode> {
      if (choice.value == "shear") return WaveMode::shear;
      if (choice.value == "longitudinal") return WaveMode::longitudinal;
      return std::nullopt;
    };
    job_.path.wall_mode = mode(request.wall_mode);
    job_.path.liner_mode = mode(request.liner_mode).value_or(WaveMode::longitudinal);
    job_.path.coating_mode = mode(request.coating_mode).value_or(WaveMode::longitudinal);
  }

  void site() {
    const LocationRequest& request = request_.location;
    ResolvedSite& site = job_.site;
    site.upstream_stated = request.upstream.given;
    site.downstream_stated = request.downstream.given;
    site.straight_m = si(request.straight);
    if (const auto pair = catalogue_.fitting("elbows-out-of-plane"); pair.record) {
      site.bend_pair = resolved(*pair.record);
      site.bend_pair.name = "two bends close together";
    }
    site.upstream = fittings(request.upstream, "location.upstream");
    site.downstream = fittings(request.downstream, "location.downstream");
    site.one_side = request.access.value == "one side";
    site.refitted_insulation = request.insulation.value == "refitted";
    if (const Reading* ambient = reading(request.ambient)) {
      site.ambient_K = estimate(*ambient);
      site.ambient_stated = true;
    } else {
      site.ambient_K = {defaults::ambient_K, defaults::u_ambient_K};
      assume("location.ambient", "20 degC +- 17 K");
    }
    site.wedge_temperature_K = si(request.wedge_temperature);
    site.surface = request.surface.values;
    if (request_.couplant.value) {
      const auto found = catalogue_.couplant(*request_.couplant.value);
      if (found.record) {
        site.couplant_name = found.record->name;
        site.couplant_lowest_K = found.record->lowest_degC + defaults::zero_celsius_K;
        site.couplant_highest_K = found.record->highest_degC + defaults::zero_celsius_K;
      } else {
        problem(request_.couplant.place, "couplant",
                not_found("couplant", *request_.couplant.value, "couplants", found));
      }
    }
    if (request_.kit.value) {
      site.rail_length_m = si(request_.kit.value->rail_length);
      site.rail_step_m = si(request_.kit.value->rail_step);
    }
    clock(request.clock);
  }

  static ResolvedFitting resolved(const FittingRecord& row) {
    return {.key = std::string(row.key),
            .name = std::string(row.name),
            .upstream_D = row.upstream_D,
            .downstream_D = row.downstream_D,
            .bend = row.bend,
            .mark_only = row.mark_only,
            .distance_m = {},
            .distance_D = {}};
  }

  std::vector<ResolvedFitting> fittings(const ListEntry<FittingRequest>& list,
                                        const std::string& key) {
    std::vector<ResolvedFitting> out;
    for (std::size_t i = 0; i < list.items.size(); ++i) {
      const FittingRequest& item = list.items[i];
      const std::string here = fmt::format("{}[{}]", key, i);
      if (!item.fitting.value) continue;
      const auto found = catalogue_.fitting(*item.fitting.value);
      if (!found.record) {
        problem(item.fitting.place, here + ".fitting",
                not_found("fitting", *item.fitting.value, "fittings", found));
        continue;
      }
      ResolvedFitting fitting = resolved(*found.record);
      if (const Reading* distance = reading(item.distance)) {
        if (distance->dimension == Dimension::pipe_diameters) {
          fitting.distance_D = distance->si;
        } else {
          fitting.distance_m = distance->si;
        }
      } else if (!job_.site.straight_m) {
        problem(item.fitting.place, here + ".distance",
                "is missing; write \"distance\": \"2.1 m\" or \"12 D\", or give location.straight "
                "and leave the distances of the two nearest fittings out");
      }
      out.push_back(std::move(fitting));
    }
    return out;
  }

  void clock(const TextEntry& entry) {
    if (!entry.value) return;
    job_.site.clock_text = *entry.value;
    const bool vertical = job_.pipe.orientation == Orientation::vertical_up ||
                          job_.pipe.orientation == Orientation::vertical_down;
    if (vertical) return;  // an angle from a landmark, in the writer's words
    job_.site.clock_h = read_clock_h(*entry.value);
    if (!job_.site.clock_h) {
      problem(
          entry.place, "location.clock",
          fmt::format("\"{}\" is no clock position; write \"3\" or \"9:30\"", shown(*entry.value)));
    }
  }

  /// In what an acceptance of this finding can be limited; nullopt: not at all.
  static std::optional<Dimension> down_to_dimension(CheckId check) {
    switch (check) {
      case CheckId::run_upstream:
      case CheckId::run_downstream:
        return Dimension::pipe_diameters;
      case CheckId::run_mark_only:
      case CheckId::run_straight_short:
        return Dimension::length;
      default:
        return std::nullopt;
    }
  }

  void acceptances() {
    for (std::size_t i = 0; i < request_.accept.items.size(); ++i) {
      const AcceptRequest& item = request_.accept.items[i];
      if (!item.finding.value || !item.because.value || !item.by.value) continue;
      if (!find_check(*item.finding.value)) {
        std::vector<std::string_view> ids;
        for (const CheckInfo& row : check_table()) ids.push_back(row.id);
        const auto near = nearest_name(*item.finding.value, ids);
        problem(item.finding.place, fmt::format("accept[{}].finding", i),
                fmt::format("\"{}\" is no finding{}; see `slantrule lookup checks`",
                            shown(*item.finding.value),
                            near ? fmt::format(", did you mean \"{}\"?", *near) : ""));
        continue;
      }
      if (const Reading* down_to = reading(item.down_to)) {
        const auto wanted = down_to_dimension(find_check(*item.finding.value)->check);
        if (wanted != down_to->dimension) {
          problem(item.down_to.place, fmt::format("accept[{}].down_to", i),
                  wanted ? fmt::format("must be {} for {}, for instance \"{}\"",
                                       dimension_name(*wanted), *item.finding.value,
                                       dimension_example(*wanted))
                         : fmt::format("has no meaning for {}; leave it out", *item.finding.value));
          continue;
        }
      }
      job_.acceptances.push_back(
          {*item.finding.value, *item.because.value, *item.by.value, si(item.down_to)});
    }
  }

  /// Keys that a job may state and no check looks at yet. Silence would pass for approval.
  void not_evaluated() {
    const FluidRequest& fluid = request_.fluid;
    const LocationRequest& location = request_.location;
    const std::pair<std::string_view, bool> stated[] = {
        {"pipe.seam", request_.pipe.seam.value.has_value()},
        {"fluid.solids", fluid.solids.given()},
        {"fluid.absorption", fluid.absorption.value.has_value()},
        {"flow.pulsating", request_.flow.pulsating.value.value_or(false)},
        {"location.surface",
         location.surface.given() && location.surface.values != std::vector<std::string>{"clean"}},
        {"location.place", location.place.given()},
        {"location.insulation", location.insulation.value && *location.insulation.value != "none"},
        {"location.clear_length", location.clear_length.given()},
        {"location.hazardous_area", location.hazardous_area.value.has_value()},
        {"location.height", location.height.given()},
        {"purpose", request_.purpose.value.has_value()},
    };
    for (const auto& [key, given] : stated) {
      if (!given) continue;
      if (!job_.not_evaluated.empty()) job_.not_evaluated += ", ";
      job_.not_evaluated += key;
    }
  }

  const JobRequest& request_;
  const Catalogue& catalogue_;
  ResolvedJob job_;
  Problems problems_;
};

void add_new(Problems& all, Problems more) {
  for (Problem& one : more) {
    const bool known = std::any_of(all.begin(), all.end(), [&](const Problem& other) {
      return other.key == one.key && other.message == one.message;
    });
    if (!known) all.push_back(std::move(one));
  }
}

void resolve_closed(const JobRequest& request, const Catalogue& catalogue, std::string what,
                    std::vector<std::string> ranges, Resolution& into) {
  Resolver resolver(request, catalogue);
  ResolvedJob job = resolver.run();
  job.ranges = std::move(ranges);
  add_new(into.problems, resolver.take_problems());
  into.variants.push_back({std::move(what), std::move(job)});
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

std::string_view wave_mode_name(WaveMode mode) {
  return mode == WaveMode::shear ? "shear" : "longitudinal";
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

Resolution resolve(const JobRequest& request, const Catalogue& catalogue) {
  Resolution out;
  check_required(request, out.problems);

  const bool has_unknowns =
      request.pipe.size.unknown || request.pipe.wall.unknown || request.pipe.liner.unknown;
  JobRequest opened;
  const JobRequest* base = &request;
  if (has_unknowns) {
    opened = request;
    open_unknowns(opened, catalogue, out.problems);
    base = &opened;
  }

  if (!first_open_axis(*base)) {
    resolve_closed(*base, catalogue, {}, {}, out);
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
    for (ClosedRequest& one : closed) {
      resolve_closed(one.request, catalogue, std::move(one.what), std::move(one.ranges), out);
    }
  }
  if (!out.problems.empty()) out.variants.clear();
  return out;
}

}  // namespace slantrule
