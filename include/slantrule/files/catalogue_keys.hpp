#pragma once

/// The table of catalogue keys: the single definition of every key that a catalogue file knows, in
/// the manner of the job keys (job_keys.hpp), whose entries it shares.
///
/// To add a key: a member here, its line in visit_keys, and its use in catalogue_file.cpp.

#include <array>
#include <string_view>

#include "slantrule/planning/job_keys.hpp"

namespace slantrule {

namespace key_words {
inline constexpr std::array<std::string_view, 2> wall_kind = {"nominal", "minimum"};
inline constexpr std::array<std::string_view, 8> family = {
    "metal", "plastic", "wedge", "glass", "composite", "cement", "rubber", "coating"};
inline constexpr std::array<std::string_view, 6> confidence = {
    "published", "computed", "memory", "common practice", "proposal", "invented"};
}  // namespace key_words

/// Where a row comes from, and how sure it is.
struct EvidenceKeys {
  TextEntry source;
  ChoiceEntry confidence;
};

/// A sensor pair is written as in a job; its `invented` says what `confidence` says of other rows.
struct SensorRow {
  SensorPairRequest pair;
  TextEntry source;
};

/// A solid is written as an inline material of a job.
struct SolidRow {
  TextEntry key;
  MaterialRequest material;
  WordsEntry names;
  ChoiceEntry family;
  EvidenceKeys evidence;
};

struct LiquidPointRow {
  QuantityEntry temperature, pressure, concentration, sound_speed, density, viscosity;
};

/// Points; or a slope: the speed of sound `at` one temperature and its change, good `from` one
/// temperature `to` another.
struct LiquidRow {
  TextEntry key, name;
  WordsEntry names;
  ListEntry<LiquidPointRow> points;
  QuantityEntry sound_speed, at, slope, from, to, density, viscosity;
  QuantityEntry freezing_point, boiling_point, critical_temperature, critical_pressure;
  EvidenceKeys evidence;
};

struct PipeRow {
  TextEntry standard, designation, schedule;
  CountEntry dn;
  QuantityEntry outside_diameter, wall;
  ChoiceEntry wall_kind;
  TextEntry material_family;
  EvidenceKeys evidence;
};

struct CouplantRow {
  TextEntry key, name;
  RangeRequest temperature;
  TextEntry lasts, note;
  EvidenceKeys evidence;
};

struct FittingRow {
  TextEntry key, name;
  QuantityEntry upstream, downstream;
  FlagEntry bend, mark_only;
  EvidenceKeys evidence;
};

/// A whole catalogue file: one list a kind.
struct CatalogueRequest {
  ListEntry<SensorRow> sensors;
  ListEntry<SolidRow> solids;
  ListEntry<LiquidRow> liquids;
  ListEntry<PipeRow> pipes;
  ListEntry<CouplantRow> couplants;
  ListEntry<FittingRow> fittings;
};

template <RequestOf<EvidenceKeys> Request, class Visit>
void visit_keys(Request& evidence, Visit&& visit) {
  visit(KeyInfo{.key = "source",
                .help = "where the row's numbers come from",
                .example = R"("data sheet of the maker, 2024")",
                .default_text = "the catalogue file"},
        evidence.source);
  visit(KeyInfo{.key = "confidence",
                .help = "how sure the row is (published where a source is stated, else memory)",
                .example = R"("published")",
                .choices = key_words::confidence},
        evidence.confidence);
}

template <RequestOf<SensorRow> Request, class Visit>
void visit_keys(Request& row, Visit&& visit) {
  visit_keys(row.pair, [&](KeyInfo info, auto& entry) {
    if (info.key == "key") info.required = true;
    visit(info, entry);
  });
  visit(KeyInfo{.key = "source",
                .help = "where the row's numbers come from",
                .example = R"("data sheet of the maker, 2024")",
                .default_text = "the catalogue file"},
        row.source);
}

template <RequestOf<SolidRow> Request, class Visit>
void visit_keys(Request& row, Visit&& visit) {
  visit(KeyInfo{.key = "key",
                .help = "name by which a job calls the material",
                .example = R"("mill steel 7")",
                .required = true},
        row.key);
  visit_keys(row.material, [&](KeyInfo info, auto& entry) {
    if (info.key == "longitudinal") info.required = true;
    visit(info, entry);
  });
  visit(KeyInfo{.key = "names", .help = "other names of it", .example = R"(["mill steel"])"},
        row.names);
  visit(KeyInfo{.key = "family",
                .help = "kind of material",
                .example = R"("plastic")",
                .choices = key_words::family,
                .default_text = "metal"},
        row.family);
  visit_keys(row.evidence, visit);
}

template <RequestOf<LiquidPointRow> Request, class Visit>
void visit_keys(Request& point, Visit&& visit) {
  visit(KeyInfo{.key = "temperature",
                .help = "temperature of the point",
                .example = R"("20 degC")",
                .dimensions = Dimension::temperature,
                .required = true},
        point.temperature);
  visit(KeyInfo{.key = "pressure",
                .help = "pressure of the point",
                .example = R"("10 bar absolute")",
                .dimensions = {Dimension::pressure_absolute, Dimension::pressure_gauge},
                .default_text = "1 atm"},
        point.pressure);
  visit(KeyInfo{.key = "concentration",
                .help = "strength of a solution, by mass",
                .example = R"("30 % mass")",
                .dimensions = Dimension::mass_fraction,
                .default_text = "0 % mass"},
        point.concentration);
  visit(
      KeyInfo{.key = "sound_speed",
              .help = "speed of sound; its tolerance is the uncertainty (0.3 % where none stands)",
              .example = R"("1320 m/s +- 3 m/s")",
              .dimensions = Dimension::velocity,
              .required = true,
              .positive = true},
      point.sound_speed);
  visit(KeyInfo{.key = "density",
                .help = "density",
                .example = R"("870 kg/m3")",
                .dimensions = Dimension::density,
                .positive = true},
        point.density);
  visit(KeyInfo{.key = "viscosity",
                .help = "viscosity; a kinematic one needs the density beside it",
                .example = R"("12 mPa s")",
                .dimensions = {Dimension::dynamic_viscosity, Dimension::kinematic_viscosity},
                .positive = true},
        point.viscosity);
}

template <RequestOf<LiquidRow> Request, class Visit>
void visit_keys(Request& row, Visit&& visit) {
  visit(KeyInfo{.key = "key",
                .help = "name by which a job calls the liquid",
                .example = R"("works oil")",
                .required = true},
        row.key);
  visit(KeyInfo{.key = "name",
                .help = "what the sheet calls it",
                .example = R"("Quench oil of the works")",
                .required = true},
        row.name);
  visit(KeyInfo{.key = "names", .help = "other names of it", .example = R"(["quench oil"])"},
        row.names);
  visit(
      KeyInfo{.key = "points",
              .help = "table of points; or sound_speed, at, slope, from and to instead",
              .example = R"([ { "temperature": "20 degC", "sound_speed": "1320 m/s +- 3 m/s" } ])"},
      row.points);
  visit(KeyInfo{.key = "sound_speed",
                .help = "without points: speed of sound at the temperature `at`",
                .example = R"("1320 m/s +- 3 m/s")",
                .dimensions = Dimension::velocity,
                .positive = true},
        row.sound_speed);
  visit(KeyInfo{.key = "at",
                .help = "without points: temperature at which sound_speed holds",
                .example = R"("20 degC")",
                .dimensions = Dimension::temperature},
        row.at);
  visit(KeyInfo{.key = "slope",
                .help = "without points: change of the speed of sound with temperature (known to "
                        "10 % where no tolerance stands)",
                .example = R"("-3.5 m/s/K +- 0.2 m/s/K")",
                .dimensions = Dimension::speed_slope,
                .not_negative = false},
        row.slope);
  visit(KeyInfo{.key = "from",
                .help = "without points: lowest temperature at which they hold",
                .example = R"("10 degC")",
                .dimensions = Dimension::temperature},
        row.from);
  visit(KeyInfo{.key = "to",
                .help = "without points: highest temperature at which they hold",
                .example = R"("60 degC")",
                .dimensions = Dimension::temperature},
        row.to);
  visit(KeyInfo{.key = "density",
                .help = "without points: density at `at`",
                .example = R"("870 kg/m3")",
                .dimensions = Dimension::density,
                .positive = true},
        row.density);
  visit(KeyInfo{.key = "viscosity",
                .help = "without points: viscosity at `at`",
                .example = R"("12 mPa s")",
                .dimensions = {Dimension::dynamic_viscosity, Dimension::kinematic_viscosity},
                .positive = true},
        row.viscosity);
  visit(KeyInfo{.key = "freezing_point",
                .help = "temperature at which it freezes",
                .example = R"("-12 degC")",
                .dimensions = Dimension::temperature},
        row.freezing_point);
  visit(KeyInfo{.key = "boiling_point",
                .help = "boiling point at 1 atm; goes with the critical temperature and pressure",
                .example = R"("110 degC")",
                .dimensions = Dimension::temperature},
        row.boiling_point);
  visit(KeyInfo{.key = "critical_temperature",
                .help = "temperature of the critical point",
                .example = R"("320 degC")",
                .dimensions = Dimension::temperature},
        row.critical_temperature);
  visit(KeyInfo{.key = "critical_pressure",
                .help = "pressure of the critical point",
                .example = R"("41 bar absolute")",
                .dimensions = Dimension::pressure_absolute,
                .positive = true},
        row.critical_pressure);
  visit_keys(row.evidence, visit);
}

template <RequestOf<PipeRow> Request, class Visit>
void visit_keys(Request& row, Visit&& visit) {
  visit(KeyInfo{.key = "standard",
                .help = "standard of the pipe; a built-in one gets a row more",
                .example = R"("ASME B36.10M")",
                .required = true},
        row.standard);
  visit(KeyInfo{.key = "designation",
                .help = "size as the standard calls it",
                .example = R"("NPS 6")",
                .required = true},
        row.designation);
  visit(KeyInfo{.key = "schedule",
                .help = "schedule, class or SDR, where the standard has them",
                .example = R"("40")"},
        row.schedule);
  visit(KeyInfo{.key = "dn",
                .help = "nominal size in mm, where the standard has one",
                .example = R"(150)",
                .most_count = 10000},
        row.dn);
  visit(KeyInfo{.key = "outside_diameter",
                .help = "outside diameter",
                .example = R"("168.3 mm")",
                .dimensions = Dimension::length,
                .required = true,
                .positive = true},
        row.outside_diameter);
  visit(KeyInfo{.key = "wall",
                .help = "wall thickness",
                .example = R"("7.11 mm")",
                .dimensions = Dimension::length,
                .required = true,
                .positive = true},
        row.wall);
  visit(KeyInfo{.key = "wall_kind",
                .help = "whether the wall is the nominal or the least one",
                .example = R"("nominal")",
                .choices = key_words::wall_kind,
                .default_text = "nominal"},
        row.wall_kind);
  visit(KeyInfo{.key = "material_family",
                .help = "material of the pipe (that of a built-in standard)",
                .example = R"("carbon steel")"},
        row.material_family);
  visit_keys(row.evidence, visit);
}

template <RequestOf<CouplantRow> Request, class Visit>
void visit_keys(Request& row, Visit&& visit) {
  visit(KeyInfo{.key = "key",
                .help = "name by which a job calls the couplant",
                .example = R"("site paste")",
                .required = true},
        row.key);
  visit(KeyInfo{.key = "name",
                .help = "what the sheet calls it",
                .example = R"("silicone paste of the site")",
                .required = true},
        row.name);
  visit(KeyInfo{.key = "temperature",
                .help = "lowest and highest temperature of the wall's surface",
                .example = R"(["-30 degC", "150 degC"])",
                .dimensions = Dimension::temperature,
                .required = true},
        row.temperature);
  visit(KeyInfo{.key = "lasts", .help = "how long it keeps", .example = R"("weeks")"}, row.lasts);
  visit(KeyInfo{.key = "note",
                .help = "what else to know of it",
                .example = R"("not on porous linings")"},
        row.note);
  visit_keys(row.evidence, visit);
}

template <RequestOf<FittingRow> Request, class Visit>
void visit_keys(Request& row, Visit&& visit) {
  visit(KeyInfo{.key = "key",
                .help = "name by which a job calls the fitting",
                .example = R"("static mixer")",
                .required = true},
        row.key);
  visit(KeyInfo{.key = "name",
                .help = "what the sheet calls it",
                .example = R"("static mixer of six elements")",
                .required = true},
        row.name);
  visit(KeyInfo{.key = "upstream",
                .help = "straight run needed behind it, in bores: 10 D or more; mark_only: 1 D",
                .example = R"("20 D")",
                .dimensions = Dimension::pipe_diameters},
        row.upstream);
  visit(KeyInfo{.key = "downstream",
                .help = "straight run needed before it, in bores: 5 D or more; mark_only: 1 D",
                .example = R"("5 D")",
                .dimensions = Dimension::pipe_diameters},
        row.downstream);
  visit(KeyInfo{.key = "bend",
                .help = "true: two such close together count as a pair of bends",
                .example = R"(false)",
                .default_text = "false"},
        row.bend);
  visit(KeyInfo{.key = "mark_only",
                .help = "true: does not disturb the flow, but no sensor goes on it",
                .example = R"(false)",
                .default_text = "false"},
        row.mark_only);
  visit_keys(row.evidence, visit);
}

template <RequestOf<CatalogueRequest> Request, class Visit>
void visit_keys(Request& file, Visit&& visit) {
  visit(KeyInfo{.key = "sensors",
                .help = "sensor pairs",
                .example = R"([ { "key": "pair-7", "frequency": "1 MHz", ... } ])"},
        file.sensors);
  visit(KeyInfo{.key = "solids",
                .help = "materials of walls, liners and coatings",
                .example = R"([ { "key": "mill steel 7", "longitudinal": "5930 m/s", ... } ])"},
        file.solids);
  visit(KeyInfo{.key = "liquids",
                .help = "liquids",
                .example = R"([ { "key": "works oil", "points": [ ... ] } ])"},
        file.liquids);
  visit(KeyInfo{.key = "pipes",
                .help = "sizes of pipes",
                .example = R"([ { "standard": "ASME B36.10M", "designation": "NPS 6", ... } ])"},
        file.pipes);
  visit(KeyInfo{.key = "couplants",
                .help = "couplants",
                .example = R"([ { "key": "site paste", "temperature": [...], ... } ])"},
        file.couplants);
  visit(KeyInfo{.key = "fittings",
                .help = "what disturbs the flow",
                .example = R"([ { "key": "static mixer", "upstream": "20 D", ... } ])"},
        file.fittings);
}

}  // namespace slantrule
