#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "pipe_identity.hpp"
#include "resolve_draft.hpp"
#include "slantrule/catalogue/pipe_standards.hpp"
#include "slantrule/catalogue/size_designation.hpp"
#include "slantrule/planning/defaults.hpp"

namespace slantrule {
namespace {

/// Standard uncertainty of a stated loss without a tolerance, relative (judged).
constexpr double u_stated_loss = 0.1;

/// No pipe that sensors are clamped on is larger: the tables end near 2.1 m (judged).
constexpr double largest_diameter_m = 6;

/// Beyond this the diameter is that of another size, and no ovality, paint or slip of the tape: the
/// neighbouring sizes of a standard lie at least 5 % apart (judged).
constexpr double other_size_tolerance = 0.03;

// ---------------------------------------------------------------- materials

std::optional<ResolvedMaterial> inline_material(const MaterialRequest& request, Place place,
                                                std::string_view key, Draft& draft) {
  if (!request.longitudinal.given() && !request.shear.given()) {
    draft.problem(place, std::string(key),
                  "an inline material needs a speed of sound; write \"longitudinal\": \"5920 m/s\" "
                  "and, where a shear wave runs, \"shear\": \"3230 m/s\"");
    return std::nullopt;
  }
  ResolvedMaterial out;
  out.name = *request.name.value;
  out.is_inline = true;
  out.source = "stated in the job";
  const double at_K = stated_si(request.at).value_or(defaults::solid_reference_K);
  const auto wave = [&](const QuantityEntry& speed,
                        const QuantityEntry& slope) -> std::optional<WaveSpeed> {
    if (!speed.given()) return std::nullopt;
    return WaveSpeed{reading(speed)->si, stated_si(slope).value_or(0), at_K, reading(speed)->u_si};
  };
  out.longitudinal = wave(request.longitudinal, request.longitudinal_slope);
  out.shear = wave(request.shear, request.shear_slope);
  out.density_kg_m3 = stated_si(request.density);
  // What is unknown about the loss is taken from the kind that the shear speed points to.
  const bool metal_like = out.shear && out.shear->sound_speed_m_s > metal_like_shear_m_s;
  out.longitudinal_loss =
      usual_loss(metal_like ? SolidFamily::metal : SolidFamily::plastic, WaveMode::longitudinal);
  out.shear_loss =
      usual_loss(metal_like ? SolidFamily::metal : SolidFamily::plastic, WaveMode::shear);
  if (request.absorption.value) {
    const AbsorptionRequest& stated = *request.absorption.value;
    const auto take = [&](const QuantityEntry& loss, Absorption& into) {
      if (!loss.given()) return;
      into = {.dB_m = reading(loss)->si,
              .at_Hz = stated_si(stated.at).value_or(1e6),
              .power = stated.power.value.value_or(1),
              .relative_u = estimate_or(*reading(loss), u_stated_loss).u / reading(loss)->si};
      out.loss_known = true;
    };
    take(stated.longitudinal, out.longitudinal_loss);
    take(stated.shear, out.shear_loss);
  }
  return out;
}

std::optional<ResolvedMaterial> material(const Entry<MaterialRequest>& entry, std::string_view key,
                                         Draft& draft) {
  if (entry.options.empty()) return std::nullopt;
  const MaterialRequest& request = entry.options.front().value;
  if (!request.name.value) return std::nullopt;
  if (request.is_inline) return inline_material(request, entry.place, key, draft);
  const NamedSolid& named = draft.names.solid(*request.name.value);
  if (named.material) return named.material;
  const auto& found = named.found;
  if (!found.refused.empty()) {
    draft.problem(entry.place, std::string(key),
                  fmt::format("\"{}\" is refused: {}", shown(*request.name.value), found.refused));
  } else {
    draft.problem(entry.place, std::string(key),
                  not_found("material", *request.name.value, "solids", found));
  }
  return std::nullopt;
}

std::optional<ResolvedLayer> layer(const Entry<LayerRequest>& entry, std::string_view material_key,
                                   Draft& draft) {
  if (entry.options.empty() || entry.options.front().value.none) return std::nullopt;
  const LayerRequest& request = entry.options.front().value;
  auto of = material(request.material, material_key, draft);
  if (!of || !request.thickness.given()) return std::nullopt;
  return ResolvedLayer{std::move(*of), reading(request.thickness)->si};
}

/// A lining with an air gap behind it passes no sound: one that is said to be loose or slipped in,
/// and fluoroplastics, which are not bonded. Other thermoplastics may be either.
void liner_bond(Draft& draft) {
  ResolvedPipe& pipe = draft.job.pipe;
  if (!pipe.liner) return;
  const auto& options = draft.request.pipe.liner.options;
  const auto& named = options.front().value.material.options;
  const std::string written =
      named.empty() ? std::string() : folded_name(named.front().value.name.value.value_or(""));
  const auto says = [&](std::string_view word) { return written.find(word) != std::string::npos; };
  const std::string_view key = pipe.liner->material.key;
  pipe.loose_liner = says("loose") || says("slip") || key.starts_with("ptfe") ||
                     key.starts_with("pfa") || key == "liner_ptfe";
  pipe.liner_bond_unknown = !pipe.loose_liner && pipe.material.family == SolidFamily::metal &&
                            pipe.liner->material.family == SolidFamily::plastic;
}

// ---------------------------------------------------------------- wall by gauge

/// The reading that looks like a second echo: near twice the mean of all the others, which agree;
/// or a single one near twice the designated wall.
void find_doubled(const std::vector<Reading>& readings, std::optional<double> designated_m,
                  GaugeReadings& gauge) {
  const auto near_twice = [](double value, double of) {
    return std::fabs(value / (2 * of) - 1) < 0.12;
  };
  const auto greatest = std::ranges::max_element(readings, {}, &Reading::si);
  if (readings.size() >= 3) {
    double others_m = 0, least_m = greatest->si, most_m = 0;
    for (auto one = readings.begin(); one != readings.end(); ++one) {
      if (one == greatest) continue;
      others_m += one->si;
      least_m = std::min(least_m, one->si);
      most_m = std::max(most_m, one->si);
    }
    others_m /= static_cast<double>(readings.size() - 1);
    if (near_twice(greatest->si, others_m) && most_m < 1.3 * least_m) {
      gauge.doubled_m = greatest->si;
      gauge.without_it_m = others_m;
      return;
    }
  }
  if (designated_m && near_twice(gauge.mean_m, *designated_m)) {
    gauge.doubled_m = gauge.mean_m;
    gauge.without_it_m = gauge.mean_m / 2;
  }
}

/// Mean of the readings, corrected for paint and for the speed that the gauge was set to.
std::optional<Estimate> stated_wall(const ResolvedMaterial& wall_material, Draft& draft) {
  const auto& entry = draft.request.pipe.wall;
  if (entry.options.empty()) return std::nullopt;
  const WallRequest& wall = entry.options.front().value;
  if (wall.readings.empty()) {
    draft.problem(entry.place, "pipe.wall", "has no reading; write \"7.11 mm\"");
    return std::nullopt;
  }
  GaugeReadings gauge;
  gauge.count = static_cast<int>(wall.readings.size());
  const auto [least, greatest] = std::ranges::minmax(wall.readings, {}, &Reading::si);
  gauge.spread_m = greatest.si - least.si;
  double sum_m = 0;
  for (const Reading& one : wall.readings) sum_m += one.si;
  gauge.mean_m = sum_m / gauge.count;
  double squares_m2 = 0;
  for (const Reading& one : wall.readings) {
    squares_m2 += (one.si - gauge.mean_m) * (one.si - gauge.mean_m);
  }
  // The scatter averages out; the gauge's calibration is the same in every reading and does not.
  const double u_mean_m =
      gauge.count > 1 ? std::sqrt(squares_m2 / (gauge.count - 1) / gauge.count) : 0;
  const bool stated = wall.readings.front().tolerance_stated;
  // A wall out of a table is as good as mills keep it.
  const bool from_table = entry.options.front().from == Origin::table;
  double u_calibration_m =
      stated ? wall.readings.front().u_si
             : (from_table ? defaults::u_mill_wall : defaults::u_gauge) * gauge.mean_m;

  double wall_m = gauge.mean_m;
  double u_speed = 0;
  gauge.set_to_m_s = stated_si(wall.gauge_set_to);
  const auto& speed = wall_material.longitudinal;
  if (wall.through_paint.given()) {
    // A gauge that is not echo-to-echo counts the paint's time as wall: t c_set / c_paint.
    const auto& paint = draft.names.solid("paint").found;
    const double set_m_s = gauge.set_to_m_s.value_or(speed ? speed->sound_speed_m_s : 0);
    if (!(set_m_s > 0)) {
      draft.problem(wall.through_paint.place, "pipe.wall.through_paint",
                    "cannot be taken off without the speed the gauge was set to; write "
                    "\"gauge_set_to\": \"5920 m/s\"");
      return std::nullopt;
    }
    if (paint.record) {
      wall_m -= reading(wall.through_paint)->si * set_m_s / paint.record->longitudinal_m_s;
    }
  }
  if (gauge.set_to_m_s) {
    if (!speed) {
      draft.problem(entry.place, "pipe.wall.gauge_set_to",
                    "the wall material has no longitudinal speed to correct the gauge with; leave "
                    "it out, or state the speed");
      return std::nullopt;
    }
    const double ratio = speed->sound_speed_m_s / *gauge.set_to_m_s;
    wall_m *= ratio;
    u_calibration_m *= ratio;
    u_speed = speed->u_m_s / speed->sound_speed_m_s;
  }
  if (!(wall_m > 0)) {
    draft.problem(
        entry.place, "pipe.wall",
        fmt::format("leaves no wall after the corrections ({} read)", mm_text(gauge.mean_m)));
    return std::nullopt;
  }
  ResolvedPipe& pipe = draft.job.pipe;
  const bool by_gauge = gauge.count > 1 || gauge.set_to_m_s || wall.through_paint.given() ||
                        entry.options.front().from == Origin::gauge;
  std::optional<double> designated_m;
  if (pipe.wall_m.value > 0) designated_m = pipe.wall_m.value;
  if (by_gauge) {
    find_doubled(wall.readings, designated_m, gauge);
    pipe.gauge = gauge;
  }
  return Estimate{wall_m, std::hypot(std::hypot(u_mean_m, u_calibration_m), u_speed * wall_m)};
}

// ---------------------------------------------------------------- size and diameter

/// What an ambiguous designation means once the diameter is measured: the one reading that fits,
/// or null.
const NamedSize* settled_by_diameter(const SizeReading& size, std::string_view family, Draft& draft,
                                     std::string& written) {
  if (size.kind != SizeReading::Kind::ambiguous) return nullptr;
  const auto measured_m = measured_diameter_m(draft.request.pipe);
  if (!measured_m) return nullptr;
  const NamedSize* fits = nullptr;
  std::string meant;
  for (const std::string& text : size.readings) {
    const NamedSize& one = draft.names.size(text, family);
    const double diameter_m = one.reading.outside_diameter_m;
    if (!(diameter_m > 0) || std::fabs(diameter_m / *measured_m - 1) > same_size_tolerance) {
      continue;
    }
    if (!fits) {
      fits = &one;
      meant = text;
    } else if (!(std::fabs(fits->reading.outside_diameter_m - diameter_m) < 2e-4 &&
                 fits->reading.wall_m == one.reading.wall_m)) {
      return nullptr;
    }
  }
  if (fits) written = fmt::format("{} (as measured: {})", written, meant);
  return fits;
}

/// The wall of the same size that lies nearest to a measured one: "sch 80, 8.56 mm".
std::string nearest_wall(const PipeRecord& row, double wall_m, NameMemory& names) {
  const PipeRecord* nearest = nullptr;
  const auto off = [&](const PipeRecord& one) {
    return std::fabs(mean_wall_mm(one) - wall_m * 1e3);
  };
  for (const PipeRecord* one : names.walls(row)) {
    if (!nearest || off(*one) < off(*nearest)) nearest = one;
  }
  return nearest && nearest != &row
             ? fmt::format("{}, {:g} mm", size_text(*nearest), mean_wall_mm(*nearest))
             : std::string();
}

/// A short statement of the rule behind a mean wall.
std::string_view rule_text(WallRule rule) {
  switch (rule) {
    case WallRule::pe_minimum:
      return "1.05 e + 0.05 mm";
    case WallRule::pvc_minimum:
      return "e + the larger of 6 % and 0.25 mm";
    case WallRule::ductile_minimum:
      return "e + 1.3 mm, above 6 mm and 0.001 DN more";
    case WallRule::nominal:
      break;
  }
  return {};
}

void take_row(const NamedSize& size, Draft& draft) {
  const PipeRecord& row = *size.reading.row;
  ResolvedPipe& pipe = draft.job.pipe;
  pipe.standard = row.standard;
  pipe.size_text = size.row_text;
  double u_diameter_percent = 100 * defaults::u_mill_diameter;
  double u_wall_percent = 100 * defaults::u_mill_wall;
  if (const PipeStandardRecord* standard = find_pipe_standard(row.standard)) {
    u_diameter_percent = standard->u_outside_diameter_percent;
    u_wall_percent = standard->u_wall_percent;
    if (standard->wall_rule != WallRule::nominal) pipe.least_wall_m = row.wall_mm / 1000;
  }
  const double wall_m = mean_wall_mm(row) / 1000;
  pipe.outside_diameter_m = {row.outside_diameter_mm / 1000,
                             u_diameter_percent / 100 * row.outside_diameter_mm / 1000};
  pipe.wall_m = {wall_m, u_wall_percent / 100 * wall_m};
  pipe.diameter_source = pipe.wall_source = DimensionSource::table;
  if (pipe.least_wall_m && !draft.request.pipe.wall.given()) {
    const PipeStandardRecord& standard = *find_pipe_standard(row.standard);
    draft.assume(
        "pipe.wall",
        fmt::format("mean wall {} from the least wall {} of {}: {}{}", mm_text(wall_m),
                    mm_text(*pipe.least_wall_m), row.standard, rule_text(standard.wall_rule),
                    standard.wall_rule == WallRule::pe_minimum ? "" : " (from memory)"));
  }
}

bool is_built_in(const PipeRecord& row) {
  const auto rows = built_in_pipes();
  return &row >= rows.data() && &row < rows.data() + rows.size();
}

/// The family that decides what a size means. PVC pipe of AWWA C900 and C905 has the outside
/// diameters of cast iron: a material that is named so is no pipe of other standards.
std::string size_family(const PipeRequest& request, NameMemory& names) {
  std::string family(material_family(request, names));
  if (family != "PVC") return family;
  const std::string named =
      folded_name(request.material.options.front().value.name.value.value_or(""));
  const bool cast_iron_sizes = named.find("c900") != named.npos || named.find("c905") != named.npos;
  return cast_iron_sizes ? "PVC C900" : family;
}

/// A wall that is named in the material ("PVC Sch 80") belongs to the size; a size that names
/// another one contradicts it.
std::string with_wall_of_material(std::string size, Draft& draft) {
  const auto& options = draft.request.pipe.material.options;
  if (options.empty() || options.front().value.is_inline) return size;
  const std::string material = options.front().value.name.value.value_or("");
  if (!draft.names.solid(material).found.record) return size;
  const std::string wall = wall_name_in(material);
  if (wall.empty()) return size;
  // Without a size it belongs to the outside diameter.
  if (size.empty()) {
    const Reading* diameter = reading(draft.request.pipe.outside_diameter);
    if (!diameter) return size;
    size = fmt::format("OD {:.6g} mm", diameter->si * 1e3);
  }
  draft.assume("pipe.size", fmt::format("{}, as pipe.material \"{}\" says", wall, shown(material)));
  return size + " " + wall;
}

/// The row that the size designation led to, or null.
const PipeRecord* size(std::string_view family, Draft& draft) {
  const NameEntry& entry = draft.request.pipe.size;
  ResolvedPipe& pipe = draft.job.pipe;
  std::string written = with_wall_of_material(
      entry.options.empty() ? std::string() : entry.options.front().value, draft);
  if (written.empty()) return nullptr;
  const NamedSize* named = &draft.names.size(written, family);
  if (const auto* settled = settled_by_diameter(named->reading, family, draft, written)) {
    named = settled;
  }
  const SizeReading& size = named->reading;
  switch (size.kind) {
    case SizeReading::Kind::understood:
      // A user's row answers to its name whatever the material is.
      if (size.row && !is_built_in(*size.row) && !pipe.family.empty() &&
          size.row->material_family != pipe.family) {
        draft.problem(
            entry.place, "pipe.size",
            fmt::format("\"{}\" is {} pipe, and pipe.material says {}; correct one of them",
                        shown(written), shown(size.row->material_family), pipe.family));
        return nullptr;
      }
      if (size.row) {
        take_row(*named, draft);
      } else {
        pipe.size_text = written;
        pipe.outside_diameter_m = {size.outside_diameter_m,
                                   defaults::u_mill_diameter * size.outside_diameter_m};
        pipe.wall_m = {size.wall_m, defaults::u_mill_wall * size.wall_m};
        pipe.diameter_source = pipe.wall_source = DimensionSource::stated;
      }
      return size.row;
    case SizeReading::Kind::needs_wall:
      pipe.size_text = written;
      pipe.outside_diameter_m = {size.outside_diameter_m,
                                 defaults::u_mill_diameter * size.outside_diameter_m};
      if (!draft.request.pipe.wall.given()) draft.problem(entry.place, "pipe.size", size.message);
      return size.row;
    case SizeReading::Kind::ambiguous:
    case SizeReading::Kind::not_understood:
      // A measured diameter and wall win over the designation, but a text that is not
      // understood is a mistake all the same: it would stand on the sheet as if it were.
      draft.problem(entry.place, "pipe.size", with_readings(size.message, size.readings));
      return nullptr;
  }
  return nullptr;
}

/// Refuses what is larger than any pipe, with the unit that was probably meant.
bool is_too_large(const QuantityEntry& entry, std::string_view key, double largest_m,
                  Draft& draft) {
  const Reading* stated = reading(entry);
  if (!stated || stated->si <= largest_m) return false;
  std::string meant;
  if (const double millimetres_m = stated->si / 1000; millimetres_m <= largest_m) {
    meant = fmt::format("; were millimetres meant? Write \"{:.6g} mm\"", millimetres_m * 1e3);
  }
  draft.problem(
      entry.place, std::string(key),
      fmt::format("{} is larger than any pipe (up to {:.4g} m){}",
                  format_rounded(stated->si, Dimension::length, "m", 2), largest_m, meant));
  return true;
}

/// The pipe of a measured diameter that has the schedule of a row: "NPS 4 sch 40"; else the sizes
/// that the diameter fits.
std::string size_as_measured(const PipeRecord* row, double diameter_m, Draft& draft) {
  std::string sizes;
  if (row) {
    for (const PipeRecord* one :
         pipes_near(diameter_m, same_size_tolerance, draft.names.catalogue())) {
      if (one->standard == row->standard && one->schedule == row->schedule &&
          !row->schedule.empty()) {
        return size_text(*one);
      }
    }
  }
  for (const PipeMatch& match :
       draft.names.sizes_by_diameter(draft.job.pipe.family).matching(diameter_m)) {
    constexpr std::size_t enough = 60;
    if (sizes.size() > enough) break;
    sizes += (sizes.empty() ? "" : " or ") + match.size;
  }
  return sizes;
}

/// A diameter of quite another size: the wall of the size that is named is not this pipe's. A wall
/// that is stated itself goes with the diameter, and a finding tells the conflict.
void refuse_other_size(const PipeRecord* row, Draft& draft) {
  const PipeRequest& request = draft.request.pipe;
  const ResolvedPipe& pipe = draft.job.pipe;
  if (!pipe.designated_outside_diameter_m || request.wall.given()) return;
  const double named_m = *pipe.designated_outside_diameter_m;
  const double measured_m =
      (pipe.outside_diameter_m.value + pipe.across_m.value_or(pipe.outside_diameter_m.value)) / 2;
  if (std::fabs(measured_m / named_m - 1) <= other_size_tolerance) return;
  const bool girth = pipe.diameter_source == DimensionSource::girth;
  const std::string fits = size_as_measured(row, measured_m, draft);
  draft.problem(
      girth ? request.girth.place : request.outside_diameter.place,
      girth ? "pipe.girth" : "pipe.outside_diameter",
      fmt::format("gives {}, but pipe.size \"{}\" has {}: {}; correct one of them, or state the "
                  "wall itself",
                  mm_text(measured_m), shown(request.size.options.front().text), mm_text(named_m),
                  fits.empty() ? "no standard pipe of this material has the diameter"
                               : "the diameter is that of " + fits));
}

void measured_diameter(Draft& draft) {
  const PipeRequest& request = draft.request.pipe;
  ResolvedPipe& pipe = draft.job.pipe;
  const Reading* diameter = reading(request.outside_diameter);
  const Reading* girth = reading(request.girth);
  if (diameter && girth) {
    draft.problem(
        request.girth.place, "pipe.girth",
        "and pipe.outside_diameter are both stated; keep the one that was measured better");
    return;
  }
  if (!diameter && !girth) return;
  if (is_too_large(request.outside_diameter, "pipe.outside_diameter", largest_diameter_m, draft) ||
      is_too_large(request.girth, "pipe.girth", std::numbers::pi * largest_diameter_m, draft)) {
    return;
  }
  Estimate measured;
  if (diameter) {
    measured = estimate(*diameter);
    pipe.diameter_source = DimensionSource::measured;
  } else {
    // The tape's neutral line lies half a tape thickness off the pipe: girth = pi (OD + tape).
    const double tape_m = stated_si(request.tape_thickness).value_or(0);
    measured = {girth->si / std::numbers::pi - tape_m, girth->u_si / std::numbers::pi};
    pipe.diameter_source = DimensionSource::girth;
  }
  if (request.over_coating.value.value_or(false)) {
    if (pipe.coating) {
      measured.value -= 2 * pipe.coating->thickness_m;
    } else {
      draft.problem(request.over_coating.place, "pipe.over_coating",
                    "is true, but no coating is stated; write \"coating\": { \"material\": "
                    "\"paint\", \"thickness\": \"0.3 mm\" }");
    }
  } else if (pipe.coating && !request.over_coating.value) {
    pipe.over_coating_stated = false;
  }
  if (!(measured.value > 0)) {
    draft.problem(girth ? request.girth.place : request.outside_diameter.place,
                  girth ? "pipe.girth" : "pipe.outside_diameter",
                  "leaves no diameter after the tape and the coating are taken off");
    return;
  }
  if (pipe.outside_diameter_m.value > 0) {
    pipe.designated_outside_diameter_m = pipe.outside_diameter_m.value;
  }
  if (measured.u == 0) measured.u = defaults::u_diameter * measured.value;
  pipe.outside_diameter_m = measured;
}

void across(Draft& draft) {
  const Reading* across = reading(draft.request.pipe.across);
  ResolvedPipe& pipe = draft.job.pipe;
  if (!across || !(pipe.outside_diameter_m.value > 0)) return;
  const bool over_coating = draft.request.pipe.over_coating.value.value_or(false) && pipe.coating;
  const double bare_m = across->si - (over_coating ? 2 * pipe.coating->thickness_m : 0);
  if (std::fabs(bare_m / pipe.outside_diameter_m.value - 1) > 0.1) {
    draft.problem(
        draft.request.pipe.across.place, "pipe.across",
        fmt::format("differs by more than 10 % from the other diameter, {}; is it a slip?",
                    mm_text(pipe.outside_diameter_m.value)));
  }
  pipe.across_m = bare_m;
}

/// The standard pipes that a measured diameter fits. The mean of two diameters where there are two.
void identify(Draft& draft) {
  ResolvedPipe& pipe = draft.job.pipe;
  const bool measured = pipe.diameter_source == DimensionSource::measured ||
                        pipe.diameter_source == DimensionSource::girth;
  const bool has_tables = !pipe.family.empty();
  if (!measured || !has_tables) return;
  const double mean_m =
      (pipe.outside_diameter_m.value + pipe.across_m.value_or(pipe.outside_diameter_m.value)) / 2;
  // A designation that the measurement bears out needs no list of others.
  if (pipe.designated_outside_diameter_m &&
      std::fabs(mean_m / *pipe.designated_outside_diameter_m - 1) <= 0.01) {
    return;
  }
  pipe.measured_identity = true;
  const SizesByDiameter& sizes = draft.names.sizes_by_diameter(pipe.family);
  pipe.matches = sizes.matching(mean_m);
  if (pipe.matches.empty()) pipe.neighbours = sizes.neighbours(mean_m);
}

// ---------------------------------------------------------------- the rest

void roughness(Draft& draft) {
  ResolvedPipe& pipe = draft.job.pipe;
  if (const auto stated = stated_si(draft.request.pipe.roughness)) {
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
      draft.assume("pipe.roughness", "0.0015 mm, smooth inner face (from memory)");
      return;
    case SolidFamily::cement:
      pipe.roughness_m = defaults::cement_roughness_m;
      draft.assume("pipe.roughness", "0.5 mm, mortar or concrete (from memory)");
      return;
    case SolidFamily::metal:
      if (!inner.is_inline && (name.starts_with("Copper") || name.starts_with("Brass"))) {
        pipe.roughness_m = defaults::smooth_roughness_m;
        draft.assume("pipe.roughness", "0.0015 mm, drawn tube (from memory)");
      } else {
        pipe.roughness_m = defaults::metal_roughness_m;
        draft.assume("pipe.roughness", "0.05 mm, commercial steel in good order (from memory)");
      }
      return;
  }
}

void usual_lining_of(Draft& draft) {
  ResolvedPipe& pipe = draft.job.pipe;
  if (pipe.liner_stated) return;
  // Old grey iron was lined like ductile iron, where it was lined at all.
  const bool iron = pipe.family == "ductile iron" || pipe.material.key.starts_with("cast_iron");
  const std::string_view lined = iron ? std::string_view("ductile iron") : pipe.family;
  if (const LiningRecord* row = usual_lining(lined, pipe.nominal_mm)) {
    pipe.usual_lining_m = row->thickness_mm / 1000;
    pipe.usual_lining_source = row->standard;
  }
}

}  // namespace

void resolve_pipe(Draft& draft) {
  const PipeRequest& request = draft.request.pipe;
  ResolvedPipe& pipe = draft.job.pipe;
  auto wall_material = material(request.material, "pipe.material", draft);
  const bool has_material = wall_material.has_value();
  if (has_material) pipe.material = std::move(*wall_material);
  pipe.family = pipe_family(pipe.material.key);

  pipe.coating = layer(request.coating, "pipe.coating.material", draft);
  if (!request.coating.options.empty() && !request.coating.options.front().value.none) {
    pipe.coating_under_sensors =
        request.coating.options.front().value.under_sensors.value != "removed";
  }
  pipe.liner_stated = request.liner.given();
  pipe.liner = layer(request.liner, "pipe.liner.material", draft);
  liner_bond(draft);
  pipe.deposit_m = stated_si(request.deposit).value_or(0);
  pipe.wall_temperature_K = stated_si(request.wall_temperature);
  pipe.seam = request.seam.value.value_or("");
  // What is said of the place itself wins.
  const LocationRequest& place = draft.request.location;
  draft.job.pipe.orientation =
      orientation_of(place.orientation.value ? place.orientation : draft.request.pipe.orientation);

  const PipeRecord* row = size(size_family(request, draft.names), draft);
  measured_diameter(draft);
  across(draft);
  refuse_other_size(row, draft);
  if (has_material) {
    if (const auto wall = stated_wall(pipe.material, draft)) {
      if (pipe.wall_m.value > 0) pipe.designated_wall_m = pipe.wall_m.value;
      if (pipe.designated_wall_m && row) {
        pipe.nearest_wall = nearest_wall(*row, wall->value, draft.names);
      }
      pipe.wall_m = *wall;
      pipe.wall_source = DimensionSource::measured;
    }
  }
  identify(draft);
  pipe.nominal_mm = nominal_size_mm(row, pipe.outside_diameter_m.value);
  usual_lining_of(draft);
  roughness(draft);

  if (!draft.problems.empty()) return;
  if (!(pipe.wall_m.value > 0) || !(pipe.outside_diameter_m.value > 0)) return;
  if (!(pipe.bore_m() > 0) || !(pipe.area_m2() > 0)) {
    draft.problem(request.wall.given() ? request.wall.place : request.size.place, "pipe.wall",
                  fmt::format("{} of wall{} leaves no bore in a pipe of {} outside diameter; is a "
                              "decimal point missing?",
                              mm_text(pipe.wall_m.value),
                              pipe.liner || pipe.deposit_m > 0 ? ", liner and deposit" : "",
                              mm_text(pipe.outside_diameter_m.value)));
  }
}

}  // namespace slantrule
