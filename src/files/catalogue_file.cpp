#include "slantrule/files/catalogue_file.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <set>
#include <span>
#include <stdexcept>
#include <tuple>

#include "slantrule/catalogue/pipe_standards.hpp"
#include "slantrule/files/request_reader.hpp"
#include "slantrule/planning/defaults.hpp"
#include "slantrule/units/suggest.hpp"

namespace slantrule {
namespace {

// ---------------------------------------------------------------- what stands in an entry

const Reading* reading(const QuantityEntry& entry) {
  return entry.options.empty() ? nullptr : &entry.options.front().value;
}

double or_absent(const QuantityEntry& entry, double factor = 1) {
  const Reading* stated = reading(entry);
  return stated ? stated->si * factor : absent;
}

double or_zero(const QuantityEntry& entry, double factor) {
  const Reading* stated = reading(entry);
  return stated ? stated->si * factor : 0;
}

double u_or_zero(const QuantityEntry& entry) {
  const Reading* stated = reading(entry);
  return stated ? stated->u_si : 0;
}

/// Standard uncertainty stated, or `relative` of the value when no tolerance was given.
double u_or(const Reading& value, double relative) {
  return value.tolerance_stated ? value.u_si : relative * std::abs(value.si);
}

std::string_view text_of(const TextEntry& entry) {
  return entry.value ? std::string_view(*entry.value) : std::string_view();
}

/// Without the rounding of the two conversions, so that 20 degC is 20.
double degC_of(double temperature_K) {
  return std::round((temperature_K - defaults::zero_celsius_K) * 1e9) / 1e9;
}
double degC_of(const std::optional<Reading>& temperature) {
  return temperature ? degC_of(temperature->si) : absent;
}

/// The enumerator that a word of `words` stands for; a test holds both in the same order.
template <class Enum>
Enum chosen(const ChoiceEntry& choice, std::span<const std::string_view> words, Enum otherwise) {
  if (!choice.value) return otherwise;
  return static_cast<Enum>(std::ranges::find(words, *choice.value) - words.begin());
}

// ---------------------------------------------------------------- what is out of all reason

struct Plausible {
  Dimension dimension;
  double least, most;  ///< of the magnitude, SI; zero is for the key to allow
  std::string_view text;
};

/// Wide enough for anything that exists, narrow enough for most slips of units (judged). Velocities
/// are speeds of sound here.
constexpr Plausible plausible[] = {
    {Dimension::length, 1e-6, 100, "1 um to 100 m"},
    {Dimension::pipe_diameters, 0.1, 1000, "0.1 D to 1000 D"},
    {Dimension::temperature, 1, 3000, "-272 degC to 2700 degC"},
    {Dimension::pressure_absolute, 1, 1e9, "1 Pa to 10 kbar"},
    {Dimension::pressure_gauge, 0, 1e9, "up to 10 kbar"},
    {Dimension::velocity, 100, 20000, "100 m/s to 20000 m/s"},
    {Dimension::speed_slope, 0, 100, "up to 100 m/s/K"},
    {Dimension::dynamic_viscosity, 1e-6, 1e5, "0.001 mPa s to 100000 Pa s"},
    {Dimension::kinematic_viscosity, 1e-9, 1e2, "0.001 mm2/s to 100 m2/s"},
    {Dimension::density, 10, 25000, "10 kg/m3 to 25000 kg/m3"},
    {Dimension::time, 0, 1, "up to 1 s"},
    {Dimension::frequency, 1e3, 1e9, "1 kHz to 1 GHz"},
};

/// Why the number can't be meant; empty where it can.
std::string unreasonable(const Reading& value) {
  const double magnitude = std::abs(value.si);
  for (const Plausible& row : plausible) {
    if (row.dimension != value.dimension || magnitude == 0) continue;
    if (magnitude < row.least || magnitude > row.most) {
      return fmt::format("is out of all reason ({}); check the number and its unit", row.text);
    }
  }
  const bool is_ratio_scale = value.dimension == Dimension::velocity ||
                              value.dimension == Dimension::density ||
                              value.dimension == Dimension::dynamic_viscosity ||
                              value.dimension == Dimension::kinematic_viscosity;
  if (is_ratio_scale && value.u_si >= magnitude) {
    return "has a tolerance greater than itself; check its number and unit";
  }
  return {};
}

// ---------------------------------------------------------------- rows to records

struct Evidence {
  std::string_view source;
  Confidence confidence;
};

/// Standard uncertainty of stated losses, relative (judged).
constexpr double u_stated_loss = 0.1;

/// A loss in dB/m as the records hold it, at 1 MHz; absent where it isn't stated.
double at_1_MHz(const QuantityEntry& loss, const AbsorptionRequest& stated) {
  if (!loss.given()) return absent;
  const Reading* at = reading(stated.at);
  return Absorption{.dB_m = reading(loss)->si,
                    .at_Hz = at ? at->si : 1e6,
                    .power = stated.power.value.value_or(1)}
      .at(1e6);
}

SensorPairRecord sensor_record(const SensorPairRequest& pair, std::string_view source) {
  const WedgeRequest& wedge = *pair.wedge.value;
  const auto mm = [](const std::optional<Reading>& at) { return at ? at->si * 1e3 : absent; };
  const Reading* wedge_at = reading(wedge.at);
  SensorPairRecord row{};
  row.key = *pair.key.value;
  row.about = text_of(pair.about);
  row.invented = pair.invented.value.value_or(false);
  row.frequency_MHz = or_absent(pair.frequency, 1e-6);
  row.element_mm = or_absent(pair.element, 1e3);
  row.wedge_sound_speed_m_s = or_absent(wedge.sound_speed);
  row.wedge_at_degC = degC_of(wedge_at ? wedge_at->si : defaults::solid_reference_K);
  row.wedge_slope_m_s_K = or_absent(wedge.slope);
  row.wedge_angle_deg = or_absent(wedge.angle, 180 / std::numbers::pi);
  row.wedge_path_mm = or_zero(wedge.path, 1e3);
  row.setback_mm = or_absent(pair.setback, 1e3);
  row.nose_mm = or_absent(pair.nose, 1e3);
  row.length_mm = or_absent(pair.length, 1e3);
  row.lowest_degC = degC_of(pair.temperature.low);
  row.highest_degC = degC_of(pair.temperature.high);
  row.mark = text_of(pair.mark);
  row.source = source;
  row.delay_us = or_zero(pair.delay, 1e6);
  row.cycles = pair.cycles.value.value_or(4);
  row.least_face_gap_mm = or_zero(pair.least_face_gap, 1e3);
  row.smallest_pipe_mm = mm(pair.pipe_range.low);
  row.largest_pipe_mm = mm(pair.pipe_range.high);
  row.zero_stability_ns = or_absent(pair.zero_stability, 1e9);
  row.u_wedge_sound_speed_m_s = u_or_zero(wedge.sound_speed);
  row.element_width_mm = or_absent(pair.element_width, 1e3);
  row.wedge_shear_m_s = or_absent(wedge.shear);
  row.wedge_density_kg_m3 = or_absent(wedge.density);
  if (const auto& absorption = wedge.absorption.value) {
    row.wedge_loss_power = absorption->power.value.value_or(1);
    row.wedge_dB_m = at_1_MHz(absorption->longitudinal, *absorption);
  }
  row.time_resolution_ns = or_absent(pair.time_resolution, 1e9);
  row.certified_for = text_of(pair.certified_for);
  return row;
}

/// "longitudinal 3 dB/m, shear 5 dB/m, at 1 MHz, power 1"
std::string attenuation_note(const MaterialRequest& material) {
  if (!material.absorption.value) return {};
  std::string note;
  visit_keys(*material.absorption.value, [&](const KeyInfo& info, const auto& entry) {
    std::string value;
    if constexpr (requires { entry.options; }) {
      if (!entry.options.empty()) value = entry.options.front().text;
    } else if (entry.value) {
      value = fmt::format("{}", *entry.value);
    }
    if (value.empty()) return;
    note += fmt::format("{}{} {}", note.empty() ? "" : ", ", info.key, value);
  });
  return note;
}

SolidRecord solid_record(const SolidRow& row, std::string_view note, const Evidence& evidence) {
  const MaterialRequest& material = row.material;
  // Without a tolerance the uncertainty isn't nought but unknown.
  const double u_m_s = u_or_zero(material.longitudinal);
  const auto& loss = material.absorption.value;
  return {.key = *row.key.value,
          .name = *material.name.value,
          .family = chosen(row.family, key_words::family, SolidFamily::metal),
          .longitudinal_m_s = or_absent(material.longitudinal),
          .shear_m_s = or_absent(material.shear),
          .density_kg_m3 = or_absent(material.density),
          .longitudinal_slope_m_s_K = or_absent(material.longitudinal_slope),
          .shear_slope_m_s_K = or_absent(material.shear_slope),
          .u_longitudinal_m_s = u_m_s > 0 ? u_m_s : absent,
          .attenuation_note = note,
          .source = evidence.source,
          .confidence = evidence.confidence,
          .recommended = true,
          .usable = true,
          .longitudinal_dB_m = loss ? at_1_MHz(loss->longitudinal, *loss) : absent,
          .shear_dB_m = loss ? at_1_MHz(loss->shear, *loss) : absent,
          .loss_power = loss ? loss->power.value.value_or(1) : absent,
          .u_loss_percent = loss ? 100 * u_stated_loss : absent};
}

// ---------------------------------------------------------------- liquids

/// Speeds of sound without a tolerance: about what handbook tables differ by (judged).
constexpr double u_sound_speed = 0.003;
/// Slopes without a tolerance, relative (judged).
constexpr double u_slope = 0.1;
/// By how much density and viscosity of a liquid change in a kelvin where the row doesn't say
/// (liquids expand by 0.02 to 0.12 %, viscosity falls by 2 to 5 %; from memory). As limits.
constexpr double density_change_1_K = 0.001;
constexpr double viscosity_change_1_K = 0.03;

/// A line is cut into points this near, so that the smooth curve through them is the line: c^2 of a
/// slope of 5 m/s/K is then straight within 0.01 m/s between two points.
constexpr double step_K = 10;

constexpr double standard_atmosphere_bar = defaults::atmosphere_Pa / 1e5;

/// More than any table in print; the grid that a model spans over its points grows with the product
/// of their temperatures, pressures and strengths.
constexpr std::size_t most_points = 1000;
constexpr std::size_t most_grid_places = 10000;

double viscosity_mPa_s(const QuantityEntry& viscosity, double density_kg_m3) {
  const Reading* stated = reading(viscosity);
  if (!stated) return absent;
  const bool kinematic = stated->dimension == Dimension::kinematic_viscosity;
  return stated->si * (kinematic ? density_kg_m3 : 1) * 1e3;
}

LiquidPoint liquid_point(const LiquidPointRow& point) {
  const Reading* pressure = reading(point.pressure);
  const bool gauge = pressure && pressure->dimension == Dimension::pressure_gauge;
  const double density_kg_m3 = or_absent(point.density);
  return {.temperature_degC = degC_of(reading(point.temperature)->si),
          .pressure_bar = (pressure ? pressure->si / 1e5 : standard_atmosphere_bar) +
                          (gauge ? standard_atmosphere_bar : 0),
          .mass_percent = or_zero(point.concentration, 100),
          .sound_speed_m_s = or_absent(point.sound_speed),
          .density_kg_m3 = density_kg_m3,
          .viscosity_mPa_s = viscosity_mPa_s(point.viscosity, density_kg_m3),
          .u_sound_speed_m_s = u_or(*reading(point.sound_speed), u_sound_speed)};
}

/// Points on the line of `row`, which states all that a line needs.
std::vector<LiquidPoint> points_on_line(const LiquidRow& row) {
  const Reading& speed = *reading(row.sound_speed);
  const Reading& slope = *reading(row.slope);
  const double at_K = reading(row.at)->si;
  const double from_K = reading(row.from)->si, to_K = reading(row.to)->si;
  const int steps = std::max(1, static_cast<int>(std::ceil((to_K - from_K) / step_K - 1e-9)));
  std::vector<LiquidPoint> points;
  for (int i = 0; i <= steps; ++i) {
    const double temperature_K = from_K + (to_K - from_K) * i / steps;
    const double away_K = temperature_K - at_K;
    points.push_back({.temperature_degC = degC_of(temperature_K),
                      .pressure_bar = standard_atmosphere_bar,
                      .mass_percent = 0,
                      .sound_speed_m_s = speed.si + slope.si * away_K,
                      .density_kg_m3 = or_absent(row.density),
                      .viscosity_mPa_s = viscosity_mPa_s(row.viscosity, or_absent(row.density)),
                      .u_sound_speed_m_s =
                          std::hypot(u_or(speed, u_sound_speed), u_or(slope, u_slope) * away_K)});
  }
  return points;
}

/// Greatest stated relative uncertainty, in per cent; absent where none is stated.
void take_greater(double& u_percent, const QuantityEntry& entry) {
  const Reading* stated = reading(entry);
  if (!stated || !stated->tolerance_stated) return;
  const double u = 100 * stated->u_si / stated->si;
  if (!(u_percent > u)) u_percent = u;
}

/// Everything but `points`, which live elsewhere.
LiquidTableRecord liquid_table(const LiquidRow& row, const Evidence& evidence) {
  LiquidTableRecord table{
      .key = *row.key.value,
      .points = {},
      .boiling_point_K = or_absent(row.boiling_point),
      .boiling_pressure_bar = row.boiling_point.given() ? standard_atmosphere_bar : absent,
      .critical_temperature_K = or_absent(row.critical_temperature),
      .critical_pressure_bar = or_absent(row.critical_pressure, 1e-5),
      .freezing_point_K = or_absent(row.freezing_point),
      .stiffening = absent,
      .u_stiffening = absent,
      .heat_capacity_ratio = absent,
      .u_density_percent = absent,
      .u_viscosity_percent = absent,
      .absorption_factor = default_absorption_factor,
      .relative_u_absorption = default_absorption_relative_u,
      .source = evidence.source,
      .confidence = evidence.confidence};
  for (const LiquidPointRow& point : row.points.items) {
    take_greater(table.u_density_percent, point.density);
    take_greater(table.u_viscosity_percent, point.viscosity);
  }
  if (!row.points.given) {
    // Density and viscosity stand at one temperature of the line only.
    const double at_K = reading(row.at)->si;
    const double away_K =
        std::max(at_K - reading(row.from)->si, reading(row.to)->si - at_K) / std::numbers::sqrt3;
    const auto u_percent = [&](const QuantityEntry& entry, double change_1_K) {
      const double stated = entry.given() ? u_or_zero(entry) / reading(entry)->si : 0;
      return 100 * std::hypot(stated, change_1_K * away_K);
    };
    if (row.density.given()) table.u_density_percent = u_percent(row.density, density_change_1_K);
    if (row.viscosity.given()) {
      table.u_viscosity_percent = u_percent(row.viscosity, viscosity_change_1_K);
    }
  }
  return table;
}

// ---------------------------------------------------------------- reading

/// Far more than anyone mends in one go; a file that is no catalogue may hold millions.
constexpr std::size_t most_problems = 1000;

class CatalogueReader {
 public:
  CatalogueReader(Catalogue& catalogue, std::string_view file, std::vector<Problem>& problems)
      : catalogue_(catalogue), problems_(problems), reader_(problems, no_files_) {
    source_ = "user's catalogue";
    if (!file.empty()) source_ += " " + shown(file, 200);
  }

  void read(const JsonNode& root) {
    for (const auto& [kind, node] : root.members) {
      bool known = false;
      std::vector<std::string_view> kinds;
      CatalogueRequest every;
      visit_keys(every, [&](const KeyInfo& info, auto& list) {
        kinds.push_back(info.key);
        if (info.key != kind) return;
        known = true;
        using Row = typename decltype(list.items)::value_type;
        rows<Row>(node, info);
      });
      if (known) continue;
      const auto near = nearest_name(kind, kinds);
      problem(
          node.place, shown(kind),
          near ? fmt::format("is no kind of catalogue rows; did you mean \"{}\"?", *near)
               : fmt::format("is no kind of catalogue rows; kinds are {}", fmt::join(kinds, ", ")));
    }
  }

 private:
  template <KeyedRequest Row>
  void rows(const JsonNode& list, const KeyInfo& info) {
    if (list.kind != JsonNode::Kind::list) {
      problem(list.place, std::string(info.key),
              fmt::format("must be a list of objects; write \"{}\": {}", info.key, info.example));
      return;
    }
    taken_.clear();
    for (std::size_t i = 0; i < list.items.size(); ++i) {
      const JsonNode& node = list.items[i];
      if (problems_.size() > most_problems) {
        problem(node.place, std::string(info.key),
                "come after more than 1000 mistakes and are not looked at; mend those first");
        return;
      }
      path_ = fmt::format("{}[{}]", info.key, i);
      place_ = node.place;
      if (node.kind != JsonNode::Kind::object) {
        problem(place_, path_, "must be an object; write { \"key\": ... }");
        continue;
      }
      before_ = problems_.size();
      Row row;
      reader_.read_object(node, path_, row);
      check_required<Row>(node, path_);
      check_values(row);
      take(row);
    }
  }

  // ------------------------------------------------------------ one function a kind

  void take(const SensorRow& row) {
    const SensorPairRequest& pair = row.pair;
    claim(pair.key, "key");
    if (pair.wedge.value) {
      const Reading* angle = reading(pair.wedge.value->angle);
      refuse(angle && angle->si >= std::numbers::pi / 2, pair.wedge.value->angle.place,
             "wedge.angle", "must lie between 0 and 90 degrees, counted from the pipe normal");
    }
    const Reading* nose = reading(pair.nose);
    const Reading* length = reading(pair.length);
    refuse(nose && length && length->si < nose->si, pair.length.place, "length",
           "is less than the nose; the nose counts from the exit point to the front end");
    if (clean()) catalogue_.add(sensor_record(pair, source_of(row.source)));
  }

  void take(const SolidRow& row) {
    const MaterialRequest& material = row.material;
    claim(row.key, "key");
    claim_names(row.names, text_of(row.key));
    const Reading* at = reading(material.at);
    refuse(at && std::abs(at->si - defaults::solid_reference_K) > 0.05, material.at.place, "at",
           "must be 20 degC in a catalogue; convert the speeds with their slopes");
    // cL^2 - 4/3 cT^2 is the bulk modulus over the density: below 0 no solid holds together.
    const Reading* longitudinal = reading(material.longitudinal);
    const Reading* shear = reading(material.shear);
    refuse(longitudinal && shear && unreported("longitudinal") &&
               shear->si >= std::sqrt(0.75) * longitudinal->si,
           material.shear.place, "shear",
           "must be less than 0.866 of the longitudinal speed; are the two exchanged?");
    if (!clean()) return;
    catalogue_.add(solid_record(row, attenuation_note(material), evidence(row.evidence)));
    for (const std::string& name : row.names.values) {
      catalogue_.add_solid_name(name, *row.key.value);
    }
  }

  void take(const LiquidRow& row) {
    claim(row.key, "key");
    claim_names(row.names, text_of(row.key));
    if (row.points.given) {
      check_points(row);
    } else {
      check_line(row);
    }
    check_vapour_curve(row);
    if (!clean()) return;

    std::vector<LiquidPoint> points;
    if (row.points.given) {
      for (const LiquidPointRow& point : row.points.items) points.push_back(liquid_point(point));
    } else {
      points = points_on_line(row);
    }
    std::ranges::sort(points, {}, [](const LiquidPoint& point) {
      return std::tuple(point.mass_percent, point.pressure_bar, point.temperature_degC);
    });
    if (!makes_a_model(points, row.points.place)) return;

    const Evidence from = evidence(row.evidence);
    LiquidTableRecord table = liquid_table(row, from);
    table.points = points;
    catalogue_.add(LiquidRecord{.key = *row.key.value,
                                .name = *row.name.value,
                                .model = "tabulated",
                                .parameter = *row.key.value,
                                .solution = points.back().mass_percent > 0,
                                .source = from.source,
                                .confidence = from.confidence},
                   table);
    for (const std::string& name : row.names.values) {
      catalogue_.add_liquid_name(name, *row.key.value);
    }
  }

  void take(const PipeRow& row) {
    const PipeStandardRecord* standard = built_in_standard(text_of(row.standard));
    const std::string_view schedule = text_of(row.schedule);
    const Reading* diameter = reading(row.outside_diameter);
    const Reading* wall = reading(row.wall);
    refuse(diameter && wall && unreported("wall") && 2 * wall->si >= diameter->si, row.wall.place,
           "wall", "leaves no bore; it must be less than half the outside diameter");
    refuse(folded_name(schedule).starts_with("sch"), row.schedule.place, "schedule",
           "stands without the word: write \"40\", not \"sch 40\"");
    for (const auto* entry : {&row.outside_diameter, &row.wall}) {
      const Reading* stated = reading(*entry);
      refuse(stated && stated->tolerance_stated, entry->place,
             entry == &row.wall ? "wall" : "outside_diameter",
             "cannot keep a tolerance: that of its standard counts; leave it out here");
    }
    check_wall_kind(row, standard);
    const bool family_stated = row.material_family.value.has_value();
    if (!family_stated && !standard && row.standard.value && unreported("material_family")) {
      std::vector<std::string_view> standards;
      for (const PipeStandardRecord& one : built_in_pipe_standards()) {
        standards.push_back(one.standard);
      }
      const auto near = nearest_name(*row.standard.value, standards);
      problem(place_, joined_key(path_, "material_family"),
              fmt::format("is missing: \"{}\" is no built-in standard{}; write "
                          "\"material_family\": \"carbon steel\"",
                          shown(*row.standard.value),
                          near ? fmt::format(" (did you mean \"{}\"?)", *near) : ""));
    }
    claim_pipe(row);
    if (!clean()) return;

    const Evidence from = evidence(row.evidence);
    catalogue_.add(PipeRecord{.standard = standard ? standard->standard : text_of(row.standard),
                              .designation = *row.designation.value,
                              .dn = row.dn.value.value_or(0),
                              .schedule = schedule,
                              .outside_diameter_mm = or_absent(row.outside_diameter, 1e3),
                              .wall_mm = or_absent(row.wall, 1e3),
                              .wall_kind = wall_kind(row),
                              .material_family = family_stated
                                                     ? known_family(*row.material_family.value)
                                                     : standard->material_family,
                              .source = from.source,
                              .confidence = from.confidence});
  }

  void take(const CouplantRow& row) {
    claim(row.key, "key");
    if (!clean()) return;
    const Evidence from = evidence(row.evidence);
    catalogue_.add(CouplantRecord{.key = *row.key.value,
                                  .name = *row.name.value,
                                  .lowest_degC = degC_of(row.temperature.low),
                                  .highest_degC = degC_of(row.temperature.high),
                                  .lasts = text_of(row.lasts),
                                  .note = text_of(row.note),
                                  .source = from.source,
                                  .confidence = from.confidence});
  }

  void take(const FittingRow& row) {
    claim(row.key, "key");
    const bool mark_only = row.mark_only.value.value_or(false);
    const bool bend = row.bend.value.value_or(false);
    refuse(mark_only && bend, row.mark_only.place, "mark_only",
           "and bend are both true: a bend does disturb the flow; keep one");
    if (!mark_only) {
      check_run(row.upstream, "upstream", least_upstream_D, "20 D");
      check_run(row.downstream, "downstream", least_downstream_D, "5 D");
    }
    if (!clean()) return;
    const Evidence from = evidence(row.evidence);
    const auto run_D = [](const QuantityEntry& entry) {
      return entry.given() ? or_absent(entry) : mark_only_D;
    };
    catalogue_.add(FittingRecord{.key = *row.key.value,
                                 .name = *row.name.value,
                                 .upstream_D = run_D(row.upstream),
                                 .downstream_D = run_D(row.downstream),
                                 .bend = bend,
                                 .mark_only = mark_only,
                                 .source = from.source,
                                 .confidence = from.confidence});
  }

  // ------------------------------------------------------------ parts of them

  /// The floors of the straight run, and what built-in welds and flanges ask for.
  static constexpr double least_upstream_D = 10, least_downstream_D = 5, mark_only_D = 1;

  void check_run(const QuantityEntry& entry, std::string_view key, double least_D,
                 std::string_view example) {
    const Reading* run = reading(entry);
    if (!run && unreported(key)) {
      problem(place_, joined_key(path_, key),
              fmt::format("is missing (straight run needed); write \"{}\": \"{}\"", key, example));
    }
    if (run && run->si < least_D && unreported(key)) {
      problem(entry.place, joined_key(path_, key),
              fmt::format("\"{}\" is less than {} D, the least that any fitting needs for the flow "
                          "to settle; write {} D or more, or \"mark_only\": true for a weld or "
                          "flange that does not disturb it",
                          shown(entry.options.front().text), least_D, least_D));
    }
  }

  void check_viscosity(const QuantityEntry& viscosity, const QuantityEntry& density,
                       const std::string& key) {
    const Reading* stated = reading(viscosity);
    refuse(stated && stated->dimension == Dimension::kinematic_viscosity && !density.given(),
           viscosity.place, key,
           "is kinematic: write the density too, or the dynamic viscosity in mPa s");
  }

  void check_points(const LiquidRow& row) {
    refuse(row.points.items.empty() && clean(), row.points.place, "points",
           "is empty; write [ { \"temperature\": \"20 degC\", \"sound_speed\": \"1320 m/s\" } ]");
    refuse(row.points.items.size() > most_points, row.points.place, "points",
           "holds more than 1000 points; keep those that the curve needs");
    for (std::size_t i = 0; i < row.points.items.size(); ++i) {
      const LiquidPointRow& point = row.points.items[i];
      const std::string here = fmt::format("points[{}]", i);
      check_viscosity(point.viscosity, point.density, here + ".viscosity");
      const Reading* pressure = reading(point.pressure);
      const bool gauge = pressure && pressure->dimension == Dimension::pressure_gauge;
      refuse(pressure && pressure->si + (gauge ? defaults::atmosphere_Pa : 0) <= 0,
             point.pressure.place, here + ".pressure",
             "is at or below vacuum; is it gauge or absolute?");
    }
    const std::pair<std::string_view, const QuantityEntry&> of_a_line[] = {
        {"sound_speed", row.sound_speed},
        {"at", row.at},
        {"slope", row.slope},
        {"from", row.from},
        {"to", row.to},
        {"density", row.density},
        {"viscosity", row.viscosity}};
    for (const auto& [key, entry] : of_a_line) {
      refuse(entry.given(), entry.place, key,
             "belongs to a row without points; write it into the points, or leave them out");
    }
  }

  void check_line(const LiquidRow& row) {
    const std::tuple<std::string_view, const QuantityEntry&, std::string_view> needed[] = {
        {"sound_speed", row.sound_speed, "1320 m/s +- 3 m/s"},
        {"at", row.at, "20 degC"},
        {"slope", row.slope, "-3.5 m/s/K"},
        {"from", row.from, "10 degC"},
        {"to", row.to, "60 degC"}};
    const bool none = std::ranges::none_of(
        needed, [](const auto& one) { return std::get<const QuantityEntry&>(one).given(); });
    if (none) {
      if (clean() && unreported("points")) {
        problem(place_, joined_key(path_, "points"),
                "is missing: write \"points\": [ { \"temperature\": \"20 degC\", \"sound_speed\": "
                "\"1320 m/s +- 3 m/s\" } ], or sound_speed, at, slope, from and to");
      }
      return;
    }
    for (const auto& [key, entry, example] : needed) {
      if (entry.given() || !unreported(key)) continue;
      problem(place_, joined_key(path_, key),
              fmt::format("is missing: without points a liquid needs sound_speed, at, slope, from "
                          "and to; write \"{}\": \"{}\"",
                          key, example));
    }
    check_viscosity(row.viscosity, row.density, "viscosity");
    const Reading* at = reading(row.at);
    const Reading* from = reading(row.from);
    const Reading* to = reading(row.to);
    if (from && to && from->si >= to->si) {
      problem(row.to.place, joined_key(path_, "to"), "must be above \"from\"");
      return;
    }
    const bool outside = at && from && to && (at->si < from->si || at->si > to->si);
    refuse(outside, row.at.place, "at", "must lie between \"from\" and \"to\"");
    if (!clean()) return;
    for (const LiquidPoint& point : points_on_line(row)) {
      const Reading end{.si = point.sound_speed_m_s, .dimension = Dimension::velocity};
      if (point.sound_speed_m_s > 0 && unreasonable(end).empty()) continue;
      problem(row.slope.place, joined_key(path_, "slope"),
              fmt::format("leads to {:.4g} m/s at {:.4g} degC; check the slope, or bring \"from\" "
                          "and \"to\" nearer",
                          point.sound_speed_m_s, point.temperature_degC));
      return;
    }
  }

  void check_vapour_curve(const LiquidRow& row) {
    const std::pair<std::string_view, const QuantityEntry&> parts[] = {
        {"boiling_point", row.boiling_point},
        {"critical_temperature", row.critical_temperature},
        {"critical_pressure", row.critical_pressure}};
    const auto given = std::ranges::count_if(parts, [](auto& part) { return part.second.given(); });
    if (given == 0) return;
    for (const auto& [key, entry] : parts) {
      if (entry.given() || !unreported(key)) continue;
      problem(place_, joined_key(path_, key),
              "is missing: boiling_point, critical_temperature and critical_pressure together make "
              "the vapour pressure; write all three or none");
    }
    if (given < 3) return;
    refuse(reading(row.boiling_point)->si >= reading(row.critical_temperature)->si ||
               reading(row.critical_pressure)->si <= defaults::atmosphere_Pa,
           row.boiling_point.place, "boiling_point",
           "(at 1 atm) must lie below the critical temperature and pressure");
  }

  /// What the model refuses: two points at one place, strengths that can't be completed.
  bool makes_a_model(std::span<const LiquidPoint> points, Place place) {
    std::set<double> temperatures, pressures, strengths;
    for (const LiquidPoint& point : points) {
      temperatures.insert(point.temperature_degC);
      pressures.insert(point.pressure_bar);
      strengths.insert(point.mass_percent);
    }
    const std::size_t places = temperatures.size() * pressures.size() * strengths.size();
    refuse(places > most_grid_places, place, "points",
           "must lie on a grid: the same temperatures at each pressure and each strength");
    if (!clean()) return false;
    try {
      make_tabulated_liquid(points, {.name = "the table",
                                     .source = {},
                                     .vapour_curve = {},
                                     .freezing_point_K = {},
                                     .pressure_effect = {}});
      return true;
    } catch (const std::invalid_argument& error) {
      problem(place, joined_key(path_, "points"), std::string("cannot be used: ") + error.what());
      return false;
    }
  }

  static const PipeStandardRecord* built_in_standard(std::string_view name) {
    const std::string folded = folded_name(name);
    for (const PipeStandardRecord& row : built_in_pipe_standards()) {
      if (folded_name(row.standard) == folded) return &row;
    }
    return nullptr;
  }

  /// As the built-in standards spell it, so that rows of one material are found together.
  static std::string_view known_family(std::string_view family) {
    for (const PipeStandardRecord& row : built_in_pipe_standards()) {
      if (folded_name(row.material_family) == folded_name(family)) return row.material_family;
    }
    return family;
  }

  static WallKind wall_kind(const PipeRow& row) {
    return chosen(row.wall_kind, key_words::wall_kind, WallKind::nominal);
  }

  /// The mean wall follows from the standard (mean_wall_mm), so all its rows mean the same wall.
  void check_wall_kind(const PipeRow& row, const PipeStandardRecord* standard) {
    if (!standard) return;
    const bool least = standard->wall_rule != WallRule::nominal;
    if (least == (wall_kind(row) == WallKind::minimum)) return;
    problem(row.wall_kind.value ? row.wall_kind.place : row.wall.place,
            joined_key(path_, "wall_kind"),
            fmt::format("must be \"{0}\" with {1}: its tables give the {0} wall; write that one",
                        least ? "minimum" : "nominal", standard->standard));
  }

  // ------------------------------------------------------------ what all rows share

  Evidence evidence(const EvidenceKeys& keys) const {
    return {source_of(keys.source),
            chosen(keys.confidence, key_words::confidence,
                   keys.source.value ? Confidence::published : Confidence::memory)};
  }
  std::string_view source_of(const TextEntry& source) const {
    return source.value ? std::string_view(*source.value) : std::string_view(source_);
  }

  /// Reports required keys that the object lacks, down to those of inner objects and lists.
  template <KeyedRequest Request>
  void check_required(const JsonNode& node, const std::string& path) {
    const Request table;
    visit_keys(table, [&](const KeyInfo& info, const auto& entry) {
      using EntryType = std::remove_cvref_t<decltype(entry)>;
      const JsonNode* member = node.find(info.key);
      const std::string here = joined_key(path, info.key);
      if (!member) {
        if (!info.required) return;
        problem(
            node.place, here,
            fmt::format("is missing ({}); write \"{}\": {}", info.help, info.key, info.example));
      } else if constexpr (requires { typename decltype(EntryType::items)::value_type; }) {
        using Item = typename decltype(EntryType::items)::value_type;
        for (std::size_t i = 0; i < member->items.size(); ++i) {
          if (member->items[i].kind != JsonNode::Kind::object) continue;
          check_required<Item>(member->items[i], fmt::format("{}[{}]", here, i));
        }
      } else if constexpr (requires { typename decltype(EntryType::value)::value_type; }) {
        using Inner = typename decltype(EntryType::value)::value_type;
        if constexpr (KeyedRequest<Inner>) {
          if (member->kind == JsonNode::Kind::object) check_required<Inner>(*member, here);
        }
      }
    });
  }

  /// Candidates are for jobs: a row of a catalogue has one value a key, and that a reasonable one.
  template <KeyedRequest Row>
  void check_values(const Row& row) {
    visit_all_keys(row, path_, [&](const std::string& key, const KeyInfo& info, const auto& entry) {
      using EntryType = std::remove_cvref_t<decltype(entry)>;
      if constexpr (std::is_same_v<EntryType, TextEntry>) {
        if (info.required && entry.value && folded_name(*entry.value).empty()) {
          problem(entry.place, key, fmt::format("is empty; write {}", info.example));
        }
      } else if constexpr (std::is_same_v<EntryType, QuantityEntry>) {
        if (entry.open()) problem(entry.place, key, "must be one value in a catalogue");
        for (const auto& option : entry.options) {
          const std::string why = unreasonable(option.value);
          if (why.empty()) continue;
          problem(entry.place, key, fmt::format("\"{}\" {}", shown(option.text), why));
        }
      } else if constexpr (std::is_same_v<EntryType, RangeRequest>) {
        for (const auto& end : {entry.low, entry.high}) {
          const std::string why = end ? unreasonable(*end) : std::string();
          if (!why.empty()) problem(entry.place, key, "holds a value that " + why);
        }
        if (entry.low && entry.high && entry.low->si > entry.high->si) {
          problem(entry.place, key,
                  "has its greater value first; write the lower one first: " +
                      std::string(info.example));
        }
      }
    });
  }

  /// Takes a key or name for the row at hand; two rows of a file can't have the same.
  void claim(const std::string& identity, std::string_view text, Place place,
             std::string_view key) {
    const auto [other, is_free] = taken_.try_emplace(identity, path_, place.line);
    if (is_free || other->second.first == path_) return;
    problem(place, joined_key(path_, key),
            fmt::format("\"{}\" stands for {} (line {}) already; one file has one row for each",
                        shown(text), other->second.first, other->second.second));
  }
  void claim(const TextEntry& entry, std::string_view key) {
    const std::string folded = folded_name(text_of(entry));
    if (!folded.empty()) claim(folded, *entry.value, entry.place, key);
  }
  void claim_names(const WordsEntry& names, std::string_view own_key) {
    for (const std::string& name : names.values) {
      const std::string folded = folded_name(name);
      refuse(folded.empty(), names.place, "names", "holds an empty name; take it out");
      if (!folded.empty() && folded != folded_name(own_key)) {
        claim(folded, name, names.place, "names");
      }
    }
  }
  void claim_pipe(const PipeRow& row) {
    const Reading* wall = reading(row.wall);
    if (!row.standard.value || !row.designation.value || !wall) return;
    std::string text = *row.standard.value + " " + *row.designation.value;
    // Without a schedule it is the wall that tells the rows of a size apart.
    text +=
        row.schedule.value ? " sch " + *row.schedule.value : " x " + row.wall.options.front().text;
    const std::string walls =
        row.schedule.value ? folded_name(*row.schedule.value) : fmt::format("{}", wall->si);
    claim(fmt::format("{}\n{}\n{}", folded_name(*row.standard.value),
                      folded_name(*row.designation.value), walls),
          text, row.designation.place, "designation");
  }

  void problem(Place place, std::string key, std::string message) {
    problems_.push_back({place, std::move(key), std::move(message)});
  }
  void refuse(bool wrong, Place place, std::string_view key, const char* message) {
    if (wrong) problem(place, joined_key(path_, key), message);
  }

  /// Whether this row has no problem with the key yet: one slip isn't told twice.
  bool unreported(std::string_view key) const {
    const std::string path = joined_key(path_, key);
    return std::none_of(problems_.begin() + static_cast<std::ptrdiff_t>(before_), problems_.end(),
                        [&](const Problem& one) { return one.key == path; });
  }
  bool clean() const { return problems_.size() == before_; }

  Catalogue& catalogue_;
  std::vector<Problem>& problems_;
  ReadNamedFile no_files_;
  RequestReader reader_;
  std::string source_;
  std::string path_;                                          ///< of the row at hand: "solids[0]"
  Place place_;                                               ///< of the row at hand
  std::size_t before_ = 0;                                    ///< problems before the row at hand
  std::map<std::string, std::pair<std::string, int>> taken_;  ///< by key or name: path and line
};

}  // namespace

std::vector<Problem> read_catalogue(std::string_view text, Catalogue& catalogue,
                                    std::string_view file) {
  std::vector<Problem> problems;
  if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);
  const JsonNode root = parse_json(text, problems);
  if (!problems.empty()) return problems;
  if (root.kind != JsonNode::Kind::object) {
    problems.push_back({root.place, "", "must hold one object: { \"sensors\": [ ... ] }"});
    return problems;
  }
  CatalogueReader(catalogue, file, problems).read(root);
  return problems;
}

CatalogueRequest catalogue_with_every_key() {
  CatalogueRequest all;
  all.sensors.items.emplace_back().pair.wedge.value.emplace().absorption.value.emplace();
  all.solids.items.emplace_back().material.absorption.value.emplace();
  all.liquids.items.emplace_back().points.items.emplace_back();
  all.pipes.items.emplace_back();
  all.couplants.items.emplace_back();
  all.fittings.items.emplace_back();
  return all;
}

}  // namespace slantrule
