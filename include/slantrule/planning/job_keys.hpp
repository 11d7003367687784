#pragma once

/// The table of job keys: the single definition of every key that a job file, `--set`, `schema`,
/// `new`, `lookup keys` and a survey heading know.
///
/// visit_keys(request, visit) calls `visit(KeyInfo, entry)` for each key of that object in the
/// order in which a job is written. To add a key: a member in job_request.hpp, a row here, and its
/// use in resolve.cpp.

#include <array>
#include <concepts>
#include <span>
#include <string_view>
#include <type_traits>

#include "slantrule/planning/job_request.hpp"

namespace slantrule {

/// What is known of a key beside the type of its entry.
struct KeyInfo {
  std::string_view key;
  std::string_view help;
  std::string_view example;
  Dimensions dimensions = Dimension::length;       ///< quantities: what is accepted
  std::span<const std::string_view> choices = {};  ///< words that may stand here
  std::string_view default_text = {};              ///< what stands when the key is left out
  bool required = false;
  bool may_be_unknown = false;  ///< "unknown" is planned as candidates
  bool not_negative = true;     ///< quantities: refuse a value below zero
  bool positive = false;        ///< quantities: refuse zero too
  int most_count = 0;           ///< counts: the greatest; the least is 1
  bool may_be_best = false;     ///< counts: "best" is a value
};

namespace key_words {
inline constexpr std::array<std::string_view, 5> orientation = {
    "horizontal", "vertical up", "vertical down", "sloped up", "sloped down"};
inline constexpr std::array<std::string_view, 2> direction = {"one way", "reversing"};
inline constexpr std::array<std::string_view, 2> fluid_time = {"measured", "computed"};
inline constexpr std::array<std::string_view, 3> wall_mode = {"shear", "longitudinal", "best"};
inline constexpr std::array<std::string_view, 2> layer_mode = {"longitudinal", "shear"};
inline constexpr std::array<std::string_view, 2> under_sensors = {"left", "removed"};
inline constexpr std::array<std::string_view, 6> surface = {"clean",  "paint",  "rust",
                                                            "pitted", "scaled", "wrapped"};
inline constexpr std::array<std::string_view, 4> place = {"high point", "free outlet",
                                                          "may run part full", "pump suction"};
inline constexpr std::array<std::string_view, 2> access = {"all round", "one side"};
inline constexpr std::array<std::string_view, 3> insulation = {"none", "opened", "refitted"};
inline constexpr std::array<std::string_view, 3> rail_sides = {"either", "same", "opposite"};
inline constexpr std::array<std::string_view, 5> gauges = {"wall gauge", "girth tape", "calliper",
                                                           "surface thermometer", "pressure gauge"};
}  // namespace key_words

/// `Request` or `const Request`, so that one table serves reading and listing.
template <class Request, class Plain>
concept RequestOf = std::same_as<std::remove_const_t<Request>, Plain>;

template <RequestOf<AbsorptionRequest> Request, class Visit>
void visit_keys(Request& absorption, Visit&& visit) {
  visit(KeyInfo{.key = "longitudinal",
                .help = "loss of the longitudinal wave at the frequency `at`",
                .example = R"("3 dB/m")",
                .dimensions = Dimension::attenuation},
        absorption.longitudinal);
  visit(KeyInfo{.key = "shear",
                .help = "loss of the shear wave at the frequency `at`",
                .example = R"("5 dB/m")",
                .dimensions = Dimension::attenuation},
        absorption.shear);
  visit(KeyInfo{.key = "at",
                .help = "frequency at which the losses hold",
                .example = R"("1 MHz")",
                .dimensions = Dimension::frequency,
                .positive = true},
        absorption.at);
  visit(
      KeyInfo{
          .key = "power", .help = "the loss goes with frequency to this power", .example = R"(1)"},
      absorption.power);
}

/// An inline material: { name, longitudinal, shear, density, ... }.
template <RequestOf<MaterialRequest> Request, class Visit>
void visit_keys(Request& material, Visit&& visit) {
  visit(KeyInfo{.key = "name",
                .help = "what to call an inline material",
                .example = R"("steel of this mill")",
                .required = true},
        material.name);
  visit(KeyInfo{.key = "longitudinal",
                .help = "longitudinal speed of sound",
                .example = R"("5920 m/s")",
                .dimensions = Dimension::velocity,
                .positive = true},
        material.longitudinal);
  visit(KeyInfo{.key = "shear",
                .help = "shear speed of sound; leave out where no shear wave runs",
                .example = R"("3230 m/s")",
                .dimensions = Dimension::velocity,
                .positive = true},
        material.shear);
  visit(KeyInfo{.key = "density",
                .help = "density",
                .example = R"("7850 kg/m3")",
                .dimensions = Dimension::density,
                .positive = true},
        material.density);
  visit(KeyInfo{.key = "longitudinal_slope",
                .help = "change of the longitudinal speed with temperature",
                .example = R"("-0.9 m/s/K")",
                .dimensions = Dimension::speed_slope,
                .default_text = "0 m/s/K",
                .not_negative = false},
        material.longitudinal_slope);
  visit(KeyInfo{.key = "shear_slope",
                .help = "change of the shear speed with temperature",
                .example = R"("-0.55 m/s/K")",
                .dimensions = Dimension::speed_slope,
                .default_text = "0 m/s/K",
                .not_negative = false},
        material.shear_slope);
  visit(KeyInfo{.key = "at",
                .help = "temperature at which the speeds hold",
                .example = R"("20 degC")",
                .dimensions = Dimension::temperature,
                .default_text = "20 degC"},
        material.at);
  visit(KeyInfo{.key = "absorption",
                .help = "losses of the material",
                .example = R"({ "shear": "5 dB/m", "at": "1 MHz", "power": 1 })"},
        material.absorption);
}

/// Liner and coating; "none" where there is none.
template <RequestOf<LayerRequest> Request, class Visit>
void visit_keys(Request& layer, Visit&& visit) {
  visit(KeyInfo{.key = "material",
                .help = "material of the layer: a name or an inline material",
                .example = R"("cement mortar")",
                .required = true},
        layer.material);
  visit(KeyInfo{.key = "thickness",
                .help = "thickness of the layer",
                .example = R"("3.2 mm")",
                .dimensions = Dimension::length,
                .required = true,
                .positive = true},
        layer.thickness);
  visit(KeyInfo{.key = "under_sensors",
                .help = "coating only: whether it is left or removed where the sensors sit",
                .example = R"("left")",
                .choices = key_words::under_sensors,
                .default_text = "left"},
        layer.under_sensors);
}

/// Beside `readings`, a list of lengths, which the reader takes itself.
template <RequestOf<WallRequest> Request, class Visit>
void visit_keys(Request& wall, Visit&& visit) {
  visit(KeyInfo{.key = "gauge_set_to",
                .help = "speed of sound the thickness gauge was set to",
                .example = R"("5920 m/s")",
                .dimensions = Dimension::velocity,
                .positive = true},
        wall.gauge_set_to);
  visit(KeyInfo{.key = "through_paint",
                .help = "thickness of the paint that the gauge read through",
                .example = R"("0.3 mm")",
                .dimensions = Dimension::length},
        wall.through_paint);
}

template <RequestOf<PipeRequest> Request, class Visit>
void visit_keys(Request& pipe, Visit&& visit) {
  visit(KeyInfo{.key = "size",
                .help = "size designation: standard size with schedule, or diameter x wall",
                .example = R"("NPS 6 sch 40")",
                .may_be_unknown = true},
        pipe.size);
  visit(KeyInfo{.key = "outside_diameter",
                .help = "measured outside diameter; wins over size",
                .example = R"("168.3 mm")",
                .dimensions = Dimension::length,
                .positive = true},
        pipe.outside_diameter);
  visit(KeyInfo{.key = "girth",
                .help = "measured circumference; wins over size",
                .example = R"("529 mm")",
                .dimensions = Dimension::length,
                .positive = true},
        pipe.girth);
  visit(KeyInfo{.key = "tape_thickness",
                .help = "thickness of the tape that took the girth",
                .example = R"("0.2 mm")",
                .dimensions = Dimension::length,
                .default_text = "0 mm"},
        pipe.tape_thickness);
  visit(KeyInfo{.key = "across",
                .help = "second diameter at right angles to the beam plane, for ovality",
                .example = R"("168.9 mm")",
                .dimensions = Dimension::length,
                .positive = true},
        pipe.across);
  visit(KeyInfo{.key = "wall",
                .help =
                    "wall thickness: a length, a list of gauge readings, or an object of readings, "
                    "gauge_set_to and through_paint; wins over size",
                .example = R"("7.11 mm")",
                .dimensions = Dimension::length,
                .may_be_unknown = true,
                .positive = true},
        pipe.wall);
  visit(KeyInfo{.key = "material",
                .help = "wall material: a name or an inline material",
                .example = R"("carbon steel")",
                .required = true},
        pipe.material);
  visit(KeyInfo{.key = "liner",
                .help = "lining inside, { material, thickness } or none; not stated is unknown",
                .example = R"("none")",
                .may_be_unknown = true},
        pipe.liner);
  visit(KeyInfo{.key = "coating",
                .help = "coating outside, { material, thickness } or none",
                .example = R"("none")",
                .default_text = "none"},
        pipe.coating);
  visit(KeyInfo{.key = "over_coating",
                .help = "true: diameter or girth was taken over the coating",
                .example = R"(false)",
                .default_text = "false"},
        pipe.over_coating);
  visit(KeyInfo{.key = "roughness",
                .help = "roughness of the inner face",
                .example = R"("0.05 mm")",
                .dimensions = Dimension::length},
        pipe.roughness);
  visit(KeyInfo{.key = "deposit",
                .help = "thickness of scale inside",
                .example = R"("1 mm")",
                .dimensions = Dimension::length,
                .default_text = "0 mm"},
        pipe.deposit);
  visit(KeyInfo{.key = "wall_temperature",
                .help = "temperature of the wall (metals and inline materials: as the liquid; "
                        "plastics: mean of liquid and ambient)",
                .example = R"("60 degC")",
                .dimensions = Dimension::temperature},
        pipe.wall_temperature);
  visit(KeyInfo{.key = "orientation",
                .help = "run of the pipe, the way the liquid flows",
                .example = R"("horizontal")",
                .choices = key_words::orientation},
        pipe.orientation);
  visit(KeyInfo{.key = "seam",
                .help = "clock position of a longitudinal weld, or spiral",
                .example = R"("1:30")"},
        pipe.seam);
}

template <RequestOf<FluidRequest> Request, class Visit>
void visit_keys(Request& fluid, Visit&& visit) {
  visit(KeyInfo{.key = "name", .help = "liquid", .example = R"("water")", .required = true},
        fluid.name);
  visit(KeyInfo{.key = "temperature",
                .help = "temperature at the sensors",
                .example = R"("7 degC")",
                .dimensions = Dimension::temperature,
                .required = true},
        fluid.temperature);
  visit(KeyInfo{.key = "pressure",
                .help = "pressure at the height of the sensors, gauge or absolute",
                .example = R"("4 bar gauge")",
                .dimensions = {Dimension::pressure_absolute, Dimension::pressure_gauge}},
        fluid.pressure);
  visit(KeyInfo{.key = "concentration",
                .help = "strength of a solution, by mass or volume",
                .example = R"("30 % mass")",
                .dimensions = {Dimension::mass_fraction, Dimension::volume_fraction}},
        fluid.concentration);
  visit(KeyInfo{.key = "sound_speed",
                .help = "measured speed of sound; wins over the name",
                .example = R"("1482 m/s +- 2 m/s")",
                .dimensions = Dimension::velocity,
                .positive = true},
        fluid.sound_speed);
  visit(KeyInfo{.key = "density",
                .help = "measured density; wins over the name",
                .example = R"("998 kg/m3")",
                .dimensions = Dimension::density,
                .positive = true},
        fluid.density);
  visit(KeyInfo{.key = "viscosity",
                .help = "measured viscosity; wins over the name",
                .example = R"("1.0 mPa s")",
                .dimensions = {Dimension::dynamic_viscosity, Dimension::kinematic_viscosity},
                .positive = true},
        fluid.viscosity);
  visit(KeyInfo{.key = "absorption",
                .help = "measured loss in the liquid",
                .example = R"({ "longitudinal": "0.2 dB/m", "at": "1 MHz", "power": 2 })"},
        fluid.absorption);
  visit(KeyInfo{.key = "gas",
                .help = "free gas, by volume",
                .example = R"("0.1 %")",
                .dimensions = {Dimension::fraction, Dimension::volume_fraction}},
        fluid.gas);
  visit(KeyInfo{.key = "solids",
                .help = "solids, by volume",
                .example = R"("0.5 %")",
                .dimensions = {Dimension::fraction, Dimension::volume_fraction}},
        fluid.solids);
}

template <RequestOf<FlowRequest> Request, class Visit>
void visit_keys(Request& flow, Visit&& visit) {
  visit(KeyInfo{.key = "rate",
                .help = "usual flow",
                .example = R"("60 m3/h")",
                .dimensions = {Dimension::volume_flow, Dimension::mass_flow, Dimension::velocity},
                .positive = true},
        flow.rate);
  visit(KeyInfo{.key = "velocity",
                .help = "usual flow as mean velocity over the bore",
                .example = R"("0.9 m/s")",
                .dimensions = Dimension::velocity,
                .positive = true},
        flow.velocity);
  visit(KeyInfo{.key = "least",
                .help = "least flow that matters",
                .example = R"("10 m3/h")",
                .dimensions = {Dimension::volume_flow, Dimension::mass_flow, Dimension::velocity}},
        flow.least);
  visit(KeyInfo{.key = "most",
                .help = "greatest flow",
                .example = R"("110 m3/h")",
                .dimensions = {Dimension::volume_flow, Dimension::mass_flow, Dimension::velocity},
                .positive = true},
        flow.most);
  visit(KeyInfo{.key = "direction",
                .help = "whether the flow may turn round",
                .example = R"("one way")",
                .choices = key_words::direction,
                .default_text = "one way"},
        flow.direction);
  visit(KeyInfo{.key = "pulsating", .help = "whether the flow pulsates", .example = R"(false)"},
        flow.pulsating);
  visit(KeyInfo{.key = "can_stop",
                .help = "whether the flow can be stopped for a zero test",
                .example = R"(true)"},
        flow.can_stop);
}

template <RequestOf<WedgeRequest> Request, class Visit>
void visit_keys(Request& wedge, Visit&& visit) {
  visit(KeyInfo{.key = "sound_speed",
                .help = "speed of sound of the wedge plastic",
                .example = R"("2430 m/s")",
                .dimensions = Dimension::velocity,
                .required = true,
                .positive = true},
        wedge.sound_speed);
  visit(KeyInfo{.key = "at",
                .help = "temperature at which that speed holds",
                .example = R"("20 degC")",
                .dimensions = Dimension::temperature,
                .default_text = "20 degC"},
        wedge.at);
  visit(KeyInfo{.key = "slope",
                .help = "change of that speed with temperature",
                .example = R"("-1.9 m/s/K")",
                .dimensions = Dimension::speed_slope,
                .not_negative = false},
        wedge.slope);
  visit(KeyInfo{.key = "angle",
                .help = "angle of the sound in the wedge from the pipe normal",
                .example = R"("38 deg")",
                .dimensions = Dimension::angle,
                .required = true,
                .positive = true},
        wedge.angle);
  visit(KeyInfo{.key = "path",
                .help = "way of the sound inside one wedge",
                .example = R"("14 mm")",
                .dimensions = Dimension::length,
                .default_text = "0 mm"},
        wedge.path);
  visit(KeyInfo{.key = "shear",
                .help = "shear speed of the wedge plastic",
                .example = R"("1150 m/s")",
                .dimensions = Dimension::velocity,
                .positive = true},
        wedge.shear);
  visit(KeyInfo{.key = "density",
                .help = "density of the wedge plastic",
                .example = R"("1180 kg/m3")",
                .dimensions = Dimension::density,
                .positive = true},
        wedge.density);
  visit(KeyInfo{.key = "absorption",
                .help = "losses in the wedge",
                .example = R"({ "longitudinal": "1 dB/cm", "at": "1 MHz", "power": 1 })"},
        wedge.absorption);
}

/// A sensor pair written into the job or a catalogue file.
template <RequestOf<SensorPairRequest> Request, class Visit>
void visit_keys(Request& pair, Visit&& visit) {
  visit(KeyInfo{.key = "key", .help = "name of the pair", .example = R"("pair-7")"}, pair.key);
  visit(KeyInfo{.key = "about", .help = "what it is", .example = R"("site pair, calibrated")"},
        pair.about);
  visit(KeyInfo{.key = "invented",
                .help = "true: training data, not a real sensor",
                .example = R"(false)",
                .default_text = "false"},
        pair.invented);
  visit(KeyInfo{.key = "frequency",
                .help = "frequency",
                .example = R"("1 MHz")",
                .dimensions = Dimension::frequency,
                .required = true,
                .positive = true},
        pair.frequency);
  visit(KeyInfo{.key = "element",
                .help = "length of the element along the pipe",
                .example = R"("12 mm")",
                .dimensions = Dimension::length,
                .positive = true},
        pair.element);
  visit(KeyInfo{.key = "element_width",
                .help = "width of the element",
                .example = R"("12 mm")",
                .dimensions = Dimension::length,
                .positive = true},
        pair.element_width);
  visit(KeyInfo{.key = "wedge",
                .help = "the wedge: { sound_speed, angle, ... }",
                .example = R"({ "sound_speed": "2430 m/s", "angle": "38 deg" })",
                .required = true},
        pair.wedge);
  visit(KeyInfo{.key = "setback",
                .help = "how far the reference mark lies behind the exit point (may be negative)",
                .example = R"("14 mm")",
                .dimensions = Dimension::length,
                .required = true,
                .not_negative = false},
        pair.setback);
  visit(KeyInfo{.key = "nose",
                .help = "how far the front end lies ahead of the exit point",
                .example = R"("16 mm")",
                .dimensions = Dimension::length,
                .not_negative = false},
        pair.nose);
  visit(KeyInfo{.key = "length",
                .help = "length of the body",
                .example = R"("58 mm")",
                .dimensions = Dimension::length,
                .positive = true},
        pair.length);
  visit(KeyInfo{.key = "temperature",
                .help = "lowest and highest surface temperature",
                .example = R"(["-20 degC", "110 degC"])",
                .dimensions = Dimension::temperature},
        pair.temperature);
  visit(KeyInfo{.key = "pipe_range",
                .help = "smallest and largest outside diameter",
                .example = R"(["25 mm", "600 mm"])",
                .dimensions = Dimension::length},
        pair.pipe_range);
  visit(KeyInfo{.key = "mark",
                .help = "what the reference mark is",
                .example = R"("centre of the securing bolt")"},
        pair.mark);
  visit(KeyInfo{.key = "delay",
                .help = "cable and electronics, both sensors together",
                .example = R"("1.2 us")",
                .dimensions = Dimension::time,
                .default_text = "0 us"},
        pair.delay);
  visit(KeyInfo{.key = "cycles",
                .help = "cycles in a burst",
                .example = R"(4)",
                .default_text = "4",
                .most_count = 1000},
        pair.cycles);
  visit(KeyInfo{.key = "least_face_gap",
                .help = "least clear distance between the front ends",
                .example = R"("5 mm")",
                .dimensions = Dimension::length,
                .default_text = "0 mm"},
        pair.least_face_gap);
  visit(KeyInfo{.key = "time_resolution",
                .help = "smallest time step of the transmitter",
                .example = R"("0.1 ns")",
                .dimensions = Dimension::time},
        pair.time_resolution);
  visit(KeyInfo{.key = "zero_stability",
                .help = "time difference shown at rest",
                .example = R"("0.2 ns")",
                .dimensions = Dimension::time},
        pair.zero_stability);
  visit(KeyInfo{.key = "certified_for",
                .help = "hazardous area the pair is certified for",
                .example = R"("zone 1")"},
        pair.certified_for);
}

template <RequestOf<MeterRequest> Request, class Visit>
void visit_keys(Request& meter, Visit&& visit) {
  visit(KeyInfo{.key = "fluid_time",
                .help = "how the transmitter forms velocity: from the measured or a computed time "
                        "in the liquid",
                .example = R"("measured")",
                .choices = key_words::fluid_time,
                .default_text = "measured"},
        meter.fluid_time);
}

template <RequestOf<PathRequest> Request, class Visit>
void visit_keys(Request& path, Visit&& visit) {
  visit(KeyInfo{.key = "traverses",
                .help = "crossings of the bore, 1 to 12, or best",
                .example = R"(2)",
                .default_text = "best",
                .most_count = 12,
                .may_be_best = true},
        path.traverses);
  visit(KeyInfo{.key = "wall_mode",
                .help = "wave in the wall",
                .example = R"("shear")",
                .choices = key_words::wall_mode,
                .default_text = "best"},
        path.wall_mode);
  visit(KeyInfo{.key = "liner_mode",
                .help = "wave in the liner",
                .example = R"("longitudinal")",
                .choices = key_words::layer_mode,
                .default_text = "longitudinal"},
        path.liner_mode);
  visit(KeyInfo{.key = "coating_mode",
                .help = "wave in the coating",
                .example = R"("longitudinal")",
                .choices = key_words::layer_mode,
                .default_text = "longitudinal"},
        path.coating_mode);
}

template <RequestOf<FittingRequest> Request, class Visit>
void visit_keys(Request& item, Visit&& visit) {
  visit(KeyInfo{.key = "fitting",
                .help = "what it is: see `slantrule lookup fittings`",
                .example = R"("elbow-90")",
                .required = true},
        item.fitting);
  visit(KeyInfo{.key = "distance",
                .help =
                    "from the nearer sensor's exit point to its near end, as a length or in bores",
                .example = R"("2.1 m")",
                .dimensions = {Dimension::length, Dimension::pipe_diameters}},
        item.distance);
}

/// `location`, and each of `places`.
template <RequestOf<LocationRequest> Request, class Visit>
void visit_keys(Request& location, Visit&& visit) {
  visit(
      KeyInfo{.key = "name", .help = "name of an alternative place", .example = R"("north rack")"},
      location.name);
  visit(KeyInfo{.key = "orientation",
                .help = "of the pipe at this place, where it differs from pipe.orientation",
                .example = R"("vertical up")",
                .choices = key_words::orientation},
        location.orientation);
  visit(KeyInfo{.key = "upstream",
                .help = "fittings upstream of sensor A, nearest first",
                .example = R"([ { "fitting": "elbow-90", "distance": "2.1 m" } ])"},
        location.upstream);
  visit(KeyInfo{.key = "downstream",
                .help = "fittings downstream of sensor B, nearest first",
                .example = R"([ { "fitting": "gate-valve-open", "distance": "12 D" } ])"},
        location.downstream);
  visit(KeyInfo{.key = "straight",
                .help = "straight pipe between the two nearest fittings (their distances left "
                        "out): the planner places the pair",
                .example = R"("4.2 m")",
                .dimensions = Dimension::length,
                .positive = true},
        location.straight);
  visit(KeyInfo{.key = "clock",
                .help = "clock position of sensor A looking with the flow; on a vertical pipe an "
                        "angle from a landmark",
                .example = R"("3")"},
        location.clock);
  visit(KeyInfo{.key = "surface",
                .help = "state of the surface, one or several words",
                .example = R"("clean")",
                .choices = key_words::surface},
        location.surface);
  visit(KeyInfo{.key = "place",
                .help = "what is special about the place, one or several",
                .example = R"("high point")",
                .choices = key_words::place},
        location.place);
  visit(KeyInfo{.key = "access",
                .help = "whether one can get all round the pipe",
                .example = R"("all round")",
                .choices = key_words::access,
                .default_text = "all round"},
        location.access);
  visit(KeyInfo{.key = "insulation",
                .help = "insulation at the sensors",
                .example = R"("none")",
                .choices = key_words::insulation,
                .default_text = "none"},
        location.insulation);
  visit(KeyInfo{.key = "clear_length",
                .help = "clear length of pipe for the sensors",
                .example = R"("600 mm")",
                .dimensions = Dimension::length,
                .positive = true},
        location.clear_length);
  visit(KeyInfo{.key = "hazardous_area",
                .help = "hazardous area class of the place",
                .example = R"("zone 1")"},
        location.hazardous_area);
  visit(KeyInfo{.key = "height",
                .help = "height above the floor",
                .example = R"("4 m")",
                .dimensions = Dimension::length},
        location.height);
  visit(KeyInfo{.key = "ambient",
                .help = "temperature of the surroundings",
                .example = R"("20 degC")",
                .dimensions = Dimension::temperature,
                .default_text = "20 degC +- 17 K"},
        location.ambient);
  visit(KeyInfo{.key = "wedge_temperature",
                .help = "temperature of the wedges (mean of wall and ambient; under refitted "
                        "insulation as the wall)",
                .example = R"("15 degC")",
                .dimensions = Dimension::temperature},
        location.wedge_temperature);
}

template <RequestOf<RailRequest> Request, class Visit>
void visit_keys(Request& rail, Visit&& visit) {
  visit(KeyInfo{.key = "name",
                .help = "what the rail is called",
                .example = R"("short rail")",
                .required = true},
        rail.name);
  visit(KeyInfo{.key = "least",
                .help = "least mark spacing it takes",
                .example = R"("40 mm")",
                .dimensions = Dimension::length,
                .default_text = "0 mm"},
        rail.least);
  visit(KeyInfo{.key = "greatest",
                .help = "greatest mark spacing it takes",
                .example = R"("300 mm")",
                .dimensions = Dimension::length,
                .required = true,
                .positive = true},
        rail.greatest);
  visit(KeyInfo{.key = "sides",
                .help = "for sensors on the same side, on opposite sides, or either",
                .example = R"("same")",
                .choices = key_words::rail_sides,
                .default_text = "either"},
        rail.sides);
  visit(KeyInfo{.key = "step",
                .help = "step of its holes or scale, counted from nought",
                .example = R"("5 mm")",
                .dimensions = Dimension::length,
                .positive = true},
        rail.step);
}

template <RequestOf<StrapRequest> Request, class Visit>
void visit_keys(Request& strap, Visit&& visit) {
  visit(KeyInfo{.key = "name",
                .help = "what the strap or chain is called",
                .example = R"("long strap")",
                .required = true},
        strap.name);
  visit(KeyInfo{.key = "greatest_girth",
                .help = "greatest girth it goes round",
                .example = R"("1.2 m")",
                .dimensions = Dimension::length,
                .required = true,
                .positive = true},
        strap.greatest_girth);
}

template <RequestOf<KitRequest> Request, class Visit>
void visit_keys(Request& kit, Visit&& visit) {
  visit(KeyInfo{.key = "sensors",
                .help = "keys of the sensor pairs at hand",
                .example = R"(["demo-1mhz", "demo-2mhz"])"},
        kit.sensors);
  visit(KeyInfo{.key = "rails",
                .help = "rails that hold both sensors",
                .example = R"([ { "name": "short rail", "greatest": "300 mm" } ])"},
        kit.rails);
  visit(KeyInfo{.key = "straps",
                .help = "straps and chains that go round the pipe",
                .example = R"([ { "name": "long strap", "greatest_girth": "1.2 m" } ])"},
        kit.straps);
  visit(KeyInfo{.key = "couplants",
                .help = "keys of the couplants at hand",
                .example = R"(["gel-water", "grease"])"},
        kit.couplants);
  visit(KeyInfo{.key = "gauges",
                .help = "measuring tools at hand, one or several",
                .example = R"("wall gauge")",
                .choices = key_words::gauges},
        kit.gauges);
  visit(KeyInfo{.key = "rail_length",
                .help = "length of the only rail",
                .example = R"("400 mm")",
                .dimensions = Dimension::length,
                .positive = true},
        kit.rail_length);
  visit(KeyInfo{.key = "rail_step",
                .help = "step of the rail's scale or holes",
                .example = R"("1 mm")",
                .dimensions = Dimension::length,
                .positive = true},
        kit.rail_step);
}

template <RequestOf<PurposeRequest> Request, class Visit>
void visit_keys(Request& purpose, Visit&& visit) {
  visit(KeyInfo{.key = "difference",
                .help = "difference that has to be proved",
                .example = R"("5 %")",
                .dimensions = Dimension::fraction},
        purpose.difference);
  visit(KeyInfo{.key = "reference",
                .help = "uncertainty of what it is compared with",
                .example = R"("1 %")",
                .dimensions = Dimension::fraction},
        purpose.reference);
}

template <RequestOf<AcceptRequest> Request, class Visit>
void visit_keys(Request& accept, Visit&& visit) {
  visit(KeyInfo{.key = "finding",
                .help = "id of a finding of severity stop",
                .example = R"("run.upstream")",
                .required = true},
        accept.finding);
  visit(KeyInfo{.key = "because",
                .help = "why it may be lived with",
                .example = R"("comparison only")",
                .required = true},
        accept.because);
  visit(
      KeyInfo{
          .key = "by", .help = "who says so", .example = R"("site engineer")", .required = true},
      accept.by);
  visit(KeyInfo{.key = "down_to",
                .help = "the acceptance lapses below this value",
                .example = R"("1.5 D")",
                .dimensions = {Dimension::length, Dimension::pipe_diameters}},
        accept.down_to);
}

/// The whole job.
template <RequestOf<JobRequest> Request, class Visit>
void visit_keys(Request& job, Visit&& visit) {
  visit(KeyInfo{.key = "tag", .help = "tag of the pipe", .example = R"("CHW-R-02")"}, job.tag);
  visit(
      KeyInfo{
          .key = "title", .help = "what it is", .example = R"("Chilled water return, pump room")"},
      job.title);
  visit(KeyInfo{.key = "site", .help = "where it is", .example = R"("Training hall")"}, job.site);
  visit(KeyInfo{.key = "prepared_by", .help = "who planned it", .example = R"("A. Planner")"},
        job.prepared_by);
  visit(KeyInfo{.key = "note", .help = "anything else", .example = R"("bring a ladder")"},
        job.note);
  visit(KeyInfo{.key = "pipe",
                .help = "the pipe",
                .example = R"({ "size": "NPS 6 sch 40", "material": "carbon steel" })",
                .required = true},
        job.pipe);
  visit(KeyInfo{.key = "fluid",
                .help = "the liquid",
                .example = R"({ "name": "water", "temperature": "7 degC" })",
                .required = true},
        job.fluid);
  visit(KeyInfo{.key = "flow", .help = "the flow", .example = R"({ "rate": "60 m3/h" })"},
        job.flow);
  visit(KeyInfo{.key = "sensors",
                .help = "sensor pair: a catalogue key or the pair itself",
                .example = R"("demo-1mhz")",
                .required = true},
        job.sensors);
  visit(
      KeyInfo{
          .key = "meter", .help = "the transmitter", .example = R"({ "fluid_time": "measured" })"},
      job.meter);
  visit(KeyInfo{.key = "path", .help = "the path", .example = R"({ "traverses": 2 })"}, job.path);
  visit(KeyInfo{.key = "location", .help = "the place", .example = R"({ "clock": "3" })"},
        job.location);
  visit(KeyInfo{.key = "couplant", .help = "couplant key", .example = R"("grease")"}, job.couplant);
  visit(KeyInfo{.key = "kit", .help = "what is at hand", .example = R"({ "rail_step": "1 mm" })"},
        job.kit);
  visit(KeyInfo{.key = "places",
                .help = "alternative places, each a `location` with a name",
                .example = R"([ { "name": "north rack", "clock": "9" } ])"},
        job.places);
  visit(KeyInfo{.key = "purpose",
                .help = "what the measurement must prove",
                .example = R"({ "difference": "5 %", "reference": "1 %" })"},
        job.purpose);
  visit(KeyInfo{.key = "accept",
                .help = "findings that may be lived with",
                .example = R"([ { "finding": "run.upstream", "because": "...", "by": "..." } ])"},
        job.accept);
}

}  // namespace slantrule
