#include "slantrule/planning/check_table.hpp"

#include <array>

namespace slantrule {
namespace {

constexpr Severity note = Severity::note;
constexpr Severity caution = Severity::caution;
constexpr Severity stop = Severity::stop;
constexpr std::string_view trade = "common practice, no source";
constexpr std::string_view rays = "Snell's law; straight-ray geometry";

// Columns: check, id, worst severity, acceptable, has measured, has required, rule, message, mend,
// basis, source.
constexpr std::array<CheckInfo, check_count> rows{{
    {CheckId::run_upstream, "run.upstream", stop, true, true, true,
     "Undisturbed straight pipe upstream of sensor A, by the governing fitting",
     "{0} of straight pipe upstream of A behind {s}; {1} are needed. The reading may be off by "
     "about {2}.",
     "Move the pair further from the fitting, or to a place with more straight pipe; otherwise "
     "treat the flow as that uncertain.",
     Basis::common_practice,
     "10 D floor: trade rule, and New Mexico Office of the State Engineer meter standards, item G; "
     "by fitting: data/fittings.csv; price after one elbow: fit through Univ. of Western Ontario "
     "thesis 8357 and Sensors 2021 21(3):868; other prices: proposal"},
    {CheckId::run_upstream_unknown, "run.upstream.unknown", caution, false, false, true,
     "The straight run upstream must be known",
     "The straight pipe upstream of A is not known; at least {1} are needed.",
     "Find the nearest upstream fitting and its distance, and enter location.upstream.",
     Basis::common_practice, trade},
    {CheckId::run_downstream, "run.downstream", stop, true, true, true,
     "Undisturbed straight pipe downstream of sensor B, by the governing fitting",
     "{0} of straight pipe downstream of B before {s}; {1} are needed. The reading may be off by "
     "about {2}.",
     "Move the pair upstream, or to a place with more straight pipe.", Basis::common_practice,
     "5 D floor: trade rule, and New Mexico Office of the State Engineer meter standards, item G; "
     "by fitting: data/fittings.csv; price: proposal"},
    {CheckId::run_downstream_unknown, "run.downstream.unknown", caution, false, false, true,
     "The straight run downstream must be known",
     "The straight pipe downstream of B is not known; at least {1} are needed.",
     "Find the nearest downstream fitting and its distance, and enter location.downstream.",
     Basis::common_practice, trade},
    {CheckId::run_mark_only, "run.weld-or-flange", stop, true, true, true,
     "Sensors stay a body length off welds and flanges",
     "{s} lies {0} from the exit point of a sensor; keep {1}.",
     "Shift the pair so that neither sensor nor a reflection spot comes near it.",
     Basis::common_practice, trade},
    {CheckId::run_straight_short, "run.straight", stop, true, true, true,
     "The pair and its straight runs fit between the two nearest fittings",
     "{0} of straight pipe between the fittings; the pair itself takes {1}.",
     "Choose another place, or a path with a smaller spacing.", Basis::physics,
     "straight-ray geometry"},
    {CheckId::mount_clock, "mount.clock", stop, true, true, true,
     "On a horizontal pipe both ends of the beam keep off crown and invert",
     "Clock position {0} brings an end of the beam {2} from the horizontal; up to {1} is good, "
     "beyond {3} gas at the crown or sediment at the invert blocks the sound.",
     "Mount at 3 or 9 o'clock.", Basis::common_practice,
     "common practice, no source: 3 or 9 o'clock, never 12 or 6; limits 30 and 45 degrees"},
    {CheckId::mount_clock_unknown, "mount.clock.unknown", caution, false, false, false,
     "The clock position must be known", "No clock position is stated.",
     "On a horizontal pipe mount at 3 or 9 o'clock; enter location.clock.", Basis::common_practice,
     trade},
    {CheckId::mount_clock_landmark, "mount.clock.landmark", note, false, false, false,
     "On a vertical pipe the position counts from a landmark",
     "On a vertical pipe any position round the pipe will do.",
     "Note the position from a landmark, so that it can be found again.", Basis::common_practice,
     trade},
    {CheckId::mount_orientation_unknown, "mount.orientation.unknown", caution, false, false, false,
     "The run of the pipe must be known",
     "It is not stated whether the pipe runs horizontal, vertical or sloped.",
     "Look, and enter pipe.orientation; on a horizontal pipe mount at 3 or 9 o'clock.",
     Basis::common_practice, trade},
    {CheckId::mount_couplant, "mount.couplant", caution, false, true, false,
     "The couplant stands the temperature of the wall's surface",
     "The wall's surface is at {0}; {s} is good from {1} to {2}.",
     "Take another couplant: see `slantrule lookup couplants`.", Basis::common_practice,
     "data/couplants.csv"},
    {CheckId::mount_down_flow, "mount.down-flow", caution, false, false, false,
     "Vertical pipe with downward flow may not run full",
     "The liquid flows down: the pipe may run part empty, and gas collects.",
     "Make sure of back-pressure so that the pipe is full; a riser is the better place.",
     Basis::common_practice, trade},
    {CheckId::path_no_ray, "path.no-ray", stop, false, true, true,
     "The wave chosen for each layer can run there",
     "No sound reaches the liquid: the trace speed of the wedge is {0}, and the {s} is faster with "
     "{1}, so the wave is turned back.",
     "Use another wave in that layer, or a pair with a smaller wedge angle.", Basis::physics, rays},
    {CheckId::path_no_wave, "path.no-wave", stop, false, false, false,
     "The wave asked for has a known speed in the material",
     "No speed is known for the wave asked for in {s}.",
     "Choose the other wave, or state the speed with an inline material.", Basis::physics, rays},
    {CheckId::path_both_modes, "path.both-modes", caution, false, true, true,
     "Only one wave should run in the wall",
     "Both waves enter the wall: the longitudinal one disappears only above a wedge angle of {1}, "
     "and this wedge has {0}. A second arrival comes {2} apart; its spacing differs by {3}.",
     "Take the arrival at the planned time; prefer a pair with a steeper wedge.", Basis::physics,
     rays},
    {CheckId::path_near_critical, "path.near-critical", caution, false, true, true,
     "The wedge angle keeps clear of critical angles",
     "The wedge angle {0} lies {2} from the critical angle {1} of the {s}: a small error in a "
     "speed of sound moves the beam far.",
     "Prefer a pair with another wedge angle; measure the wall's speed of sound.", Basis::physics,
     "Snell's law: d(angle) = tan(angle) dc/c; the limit of 2 degrees is a proposal"},
    {CheckId::path_overlap, "path.overlap", stop, false, true, true,
     "Sensors on one side need room between their front ends",
     "The front ends are {0} apart where at least {1} is needed: the bodies overlap.",
     "Take more traverses, an odd count (opposite sides), or a smaller pair.", Basis::physics,
     "straight-ray geometry"},
    {CheckId::path_overlap_unknown, "path.overlap.unknown", caution, false, false, false,
     "The nose length must be known to tell whether the bodies overlap",
     "The pair's nose is not stated: whether the bodies have room is not known.",
     "Measure from exit point to front end and enter sensors.nose.", Basis::physics,
     "straight-ray geometry"},
    {CheckId::path_no_even_count, "path.no-even-count", caution, false, false, false,
     "An even traverse count is preferred", "No even count up to 12 leaves room for both bodies.",
     "The plan takes one traverse with the sensors on opposite sides.", Basis::common_practice,
     trade},
    {CheckId::path_geometry_only, "path.geometry-only", note, false, true, false,
     "How the traverse count was chosen",
     "{0} traverses were chosen by geometry alone: the least even count that leaves room for both "
     "bodies.",
     "If the signal is weak, plan again with fewer traverses.", Basis::common_practice, trade},
    {CheckId::path_marks_cross, "path.marks-cross", caution, false, true, false,
     "Whether A's reference mark lies downstream of B's",
     "The mark spacing is {0}: the marks cross, and A's mark comes to lie downstream of B's.",
     "On opposite sides that is right: set the distance with A's mark on the downstream side of "
     "B's mark.",
     Basis::physics, "straight-ray geometry"},
    {CheckId::path_rail_short, "path.rail", stop, true, true, true, "The rail is long enough",
     "Both bodies together take {0}; the rail is {1} long.",
     "Take a longer rail, fewer traverses, or mount without a rail.", Basis::physics,
     "straight-ray geometry"},
    {CheckId::path_rail_step, "path.rail-step", caution, false, true, true,
     "The rail's steps come near enough to the spacing",
     "The rail's step of {2} misses the spacing by {0}; {1} is allowed.",
     "Set the spacing in the box without the rail's steps.", Basis::proposal,
     "mounting tolerance 0.5 mm below 100 mm bore, else 1 mm (proposal)"},
    {CheckId::path_one_side, "path.one-side", stop, true, true, false,
     "With access to one side only, the traverse count must be even",
     "An odd count ({0}) puts the sensors on opposite sides, but only one side can be reached.",
     "Take an even count, or make the other side accessible.", Basis::physics,
     "straight-ray geometry"},
    {CheckId::path_beam_drift, "path.beam-drift", caution, false, true, true,
     "The flow does not carry the beam off the receiving element",
     "The flow carries the beam {0} along the pipe; up to {1} (a quarter of the element) is good.",
     "Take fewer traverses.", Basis::proposal, "N D (v/c)/cos^3(angle); the limit is a proposal"},
    {CheckId::sensors_invented, "sensors.invented", caution, false, false, false,
     "Demonstration pairs are no real sensors",
     "The pair {s} is invented for training: its numbers belong to no real sensor.",
     "Never mount by this plan. Enter the data of the real pair.", Basis::physics,
     "data/sensors.csv"},
    {CheckId::sensors_temperature, "sensors.temperature", stop, false, true, true,
     "The wall's surface lies within the pair's temperature rating",
     "The wall's surface is at {0}; the pair is rated from {1} to {2}.",
     "Use a pair rated for this surface.", Basis::physics, "rating stated for the pair"},
    {CheckId::sensors_temperature_unknown, "sensors.temperature.unknown", caution, false, true,
     false, "The pair's temperature rating must be known",
     "The pair's temperature rating is not stated; the wall's surface is at {0}.",
     "Read the rating from the pair's data and enter sensors.temperature.", Basis::common_practice,
     trade},
    {CheckId::sensors_wedge_slope_unknown, "sensors.wedge-slope.unknown", caution, false, true,
     false, "The wedge's speed of sound must be known at its temperature",
     "How the wedge's speed of sound changes with temperature is not stated; the wedge is {0} from "
     "the temperature its speed holds for. For a common plastic the spacing could be off by about "
     "{1}.",
     "Get the slope from the pair's data and enter sensors.wedge.slope.", Basis::physics,
     "Snell's law; plastics change by about -2 m/s/K (from memory)"},
    {CheckId::sensors_pipe_range, "sensors.pipe-range", caution, false, true, false,
     "The pipe lies within the range the pair is made for",
     "The outside diameter {0} is outside the pair's range, {1} to {2}.",
     "Use a pair made for this pipe.", Basis::common_practice, "range stated for the pair"},
    {CheckId::fluid_flashing, "fluid.flashing", stop, true, true, true,
     "The line pressure keeps the liquid from boiling",
     "The pressure is {0}; {s} boils at {2} at this temperature, and below {1} vapour may form "
     "and block the sound.",
     "Find a place with more pressure or a lower temperature.", Basis::physics,
     "vapour pressure of the liquid model; the margin of 1.2 is a proposal"},
    {CheckId::fluid_flashing_unknown, "fluid.flashing.unknown", caution, false, false, true,
     "The line pressure must be known where the liquid could boil",
     "The pressure is not stated; at this temperature {s} needs more than {1} to stay liquid.",
     "Read the pressure and enter fluid.pressure.", Basis::physics,
     "vapour pressure of the liquid model"},
    {CheckId::fluid_boiling_unknown, "fluid.boiling.unknown", caution, false, false, false,
     "The boiling pressure must be known", "The boiling pressure of {s} is not known.",
     "Make sure that it cannot boil or give off gas at this temperature and pressure.",
     Basis::physics, "no data for this liquid"},
    {CheckId::fluid_freezing, "fluid.freezing", stop, false, true, true, "The liquid is not frozen",
     "{s} at {0} is at or below its freezing point of {1}.",
     "Check the temperature and the strength of the solution.", Basis::physics,
     "freezing point of the liquid model"},
    {CheckId::fluid_freezing_unknown, "fluid.freezing.unknown", caution, false, true, false,
     "The freezing point must be known where the liquid is cold",
     "The freezing point of {s} is not known, and it is at {0}.",
     "Make sure that it is liquid there.", Basis::physics, "no data for this liquid"},
    {CheckId::fluid_range, "fluid.range", stop, false, true, false,
     "The liquid model is used inside its valid range",
     "{0} is outside the range of the model of {s} ({1} to {2}): the properties are extrapolated, "
     "or those at the end of the range.",
     "Measure the speed of sound and enter fluid.sound_speed.", Basis::physics,
     "validity range of the model's release"},
    {CheckId::fluid_sound_speed_uncertain, "fluid.sound-speed", caution, false, true, true,
     "The speed of sound is known well enough for the spacing",
     "The liquid's speed of sound is uncertain by {0}; beyond {1} the spacing and the signal "
     "suffer.",
     "Measure it, or compare what the transmitter shows after mounting.", Basis::proposal,
     "one per cent of speed moves the run of the beam by 1.1 to 1.2 per cent (Snell's law); the "
     "limit is a proposal"},
    {CheckId::fluid_gas, "fluid.gas", stop, true, true, true, "The liquid is free of gas",
     "{0} of free gas by volume; above {1} the method was found nearly useless.",
     "Find a place with more pressure, or upstream of where gas comes in.", Basis::published,
     "Applied Mechanics and Materials 678:285-289, 2014 (abstract)"},
    {CheckId::flow_unknown, "flow.unknown", caution, false, false, false,
     "The flow to be measured must be known",
     "No usual flow is stated: velocity, Reynolds number and profile are not known.",
     "Ask for the usual, least and greatest flow.", Basis::common_practice, trade},
    {CheckId::flow_velocity_low, "flow.velocity.low", caution, false, true, true,
     "The velocity is high enough to be measured well",
     "The {s} flow is a velocity of {0}, below {1}. An offset of 1 ns at zero would be {2} of it.",
     "Do a zero test; take more traverses or a smaller pipe.", Basis::physics,
     "v = dt/(2 p t_f); the limit is common practice"},
    {CheckId::flow_velocity_high, "flow.velocity.high", caution, false, true, true,
     "The velocity is not so high that noise and gas disturb",
     "The {s} flow is a velocity of {0}, above {1}: expect noise, cavitation behind fittings, and "
     "a "
     "beam carried along by {2}.",
     "Check the flow and the bore; take fewer traverses.", Basis::common_practice, trade},
    {CheckId::flow_velocity_slip, "flow.velocity.slip", stop, false, true, true,
     "The velocity is believable",
     "The {s} flow is a velocity of {0}; above {1} a slip of units is likely.",
     "Check the unit of the flow and the size of the pipe.", Basis::common_practice, trade},
    {CheckId::flow_reynolds_laminar, "flow.reynolds.laminar", caution, false, true, true,
     "Laminar flow has its own profile",
     "The {s} flow is laminar (Reynolds number {0}, below {1}); the profile factor is 0.75 only "
     "after {2} of straight pipe.",
     "Set the transmitter for laminar flow, or measure where the flow is faster.", Basis::published,
     "exact for the parabola; development length 0.06 Re D from memory"},
    {CheckId::flow_reynolds_transition, "flow.reynolds.transition", caution, false, true, true,
     "Between laminar and turbulent the profile is not known",
     "The {s} flow is in transition (Reynolds number {0}, below {1}): the profile factor lies "
     "anywhere "
     "between {2} and {3}.",
     "Don't trust a single corrected flow here; measure at a higher flow (Reynolds number above "
     "4000).",
     Basis::physics, "limits of the laminar and the turbulent profile"},
    {CheckId::flow_reynolds_low, "flow.reynolds.low", caution, false, true, true,
     "Below a Reynolds number of 10 000 field results are worse",
     "The {s} flow has a Reynolds number of {0}, below {1}: expect only about 10 % accuracy, and a "
     "longer straight run.",
     "Measure at a higher flow where possible.", Basis::published,
     "Svensson and Delsing, Flow Meas. Instrum. 1998, pp. 33-41 (abstract)"},
    {CheckId::flow_reynolds_unknown, "flow.reynolds.unknown", caution, false, false, false,
     "The viscosity must be known for the profile",
     "The viscosity or density of {s} is not known: neither Reynolds number nor profile factor can "
     "be given.",
     "Enter fluid.viscosity and fluid.density.", Basis::physics, "Re = v D / nu"},
    {CheckId::flow_density_unknown, "flow.density.unknown", caution, false, false, false,
     "A mass flow needs the density",
     "The flow is stated as a mass flow, and the density of {s} is not known.",
     "Enter fluid.density.", Basis::physics, "volume = mass / density"},
    {CheckId::flow_half_cycle, "flow.half-cycle", caution, false, true, true,
     "The time difference stays below half a period",
     "The greatest velocity along the path, {0}, makes the time difference more than half a period "
     "(from {1} on): a transmitter that tracks the phase alone may slip by a cycle.",
     "Take fewer traverses or a lower frequency, or make sure that the transmitter counts cycles.",
     Basis::physics, "v = 1/(4 f p t_f)"},
    {CheckId::flow_least, "flow.least", caution, false, true, true,
     "The least flow stands clear of the zero offset",
     "The least velocity is {0}; with this zero stability {1} is needed to be within 5 %. The zero "
     "offset alone is {2} of the least flow.",
     "Do a zero test; take more traverses.", Basis::physics, "v = dt/(2 p t_f)"},
    {CheckId::flow_least_unknown, "flow.least.unknown", note, false, false, false,
     "The least flow that matters", "The least flow that matters is not stated.",
     "Ask for it, and enter flow.least.", Basis::common_practice, trade},
    {CheckId::flow_zero_unknown, "flow.zero.unknown", note, false, true, false,
     "The zero stability of pair and transmitter",
     "The zero stability is not stated. Each nanosecond of it is worth {0} of velocity.",
     "Do a zero test, or enter sensors.zero_stability.", Basis::physics, "v = dt/(2 p t_f)"},
    {CheckId::pipe_wall_conflict, "pipe.wall-conflict", caution, false, true, true,
     "The stated wall agrees with the size designation",
     "The wall is stated as {0}; {s} has {1}, and mills keep 12.5 %. If the designation were "
     "right, "
     "the flow would be off by {2}.",
     "Find out which pipe it is before mounting; gauge the wall again.", Basis::published,
     "ASTM A530/A999 mill tolerance 12.5 % (supplier summaries)"},
    {CheckId::pipe_diameter_conflict, "pipe.diameter-conflict", caution, false, true, true,
     "The measured diameter agrees with the size designation",
     "The outside diameter was measured as {0}; {s} has {1}. If the designation were right, the "
     "flow would be off by {2}.",
     "Find out which pipe it is before mounting: another standard, a coating, a slip of the tape.",
     Basis::proposal, "1 % of the diameter: ASTM A53 tolerance (supplier summary)"},
    {CheckId::pipe_liner_unknown, "pipe.liner.unknown", caution, false, false, true,
     "It must be known whether the pipe is lined",
     "Nothing is stated about a lining. {1} of cement mortar that the plan leaves out would make "
     "the flow read {2} high.",
     "Ask, or look at an open end; enter pipe.liner, or \"none\".", Basis::physics,
     "area of the bore; usual mortar thickness for illustration"},
    {CheckId::pipe_over_coating_unknown, "pipe.over-coating.unknown", caution, false, false, false,
     "It must be known whether a diameter was taken over the coating",
     "It is not stated whether the diameter was taken over the coating; the plan takes it for the "
     "bare wall. If not, the bore is {2} smaller and the flow would read {3} high.",
     "Look, and enter pipe.over_coating: true or false.", Basis::physics, "area of the bore"},
    {CheckId::pipe_orientation_not_used, "pipe.sloped", note, false, false, false, "Sloped pipe",
     "The pipe is sloped: gas gathers towards the high end, sediment at the invert.",
     "Mount at 3 or 9 o'clock, and make sure that the pipe is full.", Basis::common_practice,
     trade},
    {CheckId::pipe_material_uncertain, "pipe.material-speed", caution, false, true, true,
     "The wall's speed of sound is known well enough",
     "The speed of sound in {s} is uncertain by {0}; beyond {1} it matters for the spacing, which "
     "may move by {2}.",
     "Measure it on a piece of known thickness, and enter an inline material.", Basis::published,
     "spread of handbook values, data/solids.csv"},
    {CheckId::pipe_thin_wall, "pipe.thin-wall", caution, false, true, true,
     "The wall is at least a wavelength thick for the ray picture",
     "The wall is {0} thick, less than one wavelength ({1}): plate waves may take the place of the "
     "ray.",
     "Prefer a higher frequency; search for the signal near the planned spacing with care.",
     Basis::proposal, "metrology practice; the limit is a proposal"},
    {CheckId::pipe_deposit, "pipe.deposit", caution, false, true, false,
     "Scale inside changes bore and sound path",
     "{0} of scale inside: the plan takes it off the bore, but its speed of sound is not known, so "
     "the spacing leaves it out.",
     "Expect a weak signal; search a little above the planned spacing; clean or move if it fails.",
     Basis::common_practice, trade},
    {CheckId::pipe_range_candidate, "pipe.range-candidate", caution, false, false, false,
     "A range only tells candidates apart",
     "{s} is given as a range: the ends are planned to tell them apart.",
     "Measure it, and plan again with the one value.", Basis::physics, "straight-ray geometry"},
    {CheckId::job_not_evaluated, "job.not-evaluated", caution, false, false, false,
     "Entries that this version does not check", "Stated, but not checked by this version: {s}.",
     "Judge these yourself before mounting.", Basis::physics, "scope of `plan`"},
    {CheckId::job_places_not_compared, "job.places", note, false, false, false,
     "Alternative places", "Only `location` is planned; the alternative places are not.",
     "Plan each place by putting it into `location`.", Basis::physics, "scope of `plan`"},
    {CheckId::job_accept_nothing, "job.accept.nothing", note, false, false, false,
     "An acceptance finds its finding", "There is nothing to accept for {s}.",
     "Take the entry out of `accept` if it isn't needed any more.", Basis::physics,
     "job file, key accept"},
    {CheckId::job_accept_not_acceptable, "job.accept.refused", caution, false, false, false,
     "Only some stops may be lived with", "{s} is not a finding that can be accepted; it stands.",
     "Remove its cause.", Basis::physics, "job file, key accept"},
    {CheckId::job_accept_lapsed, "job.accept.lapsed", caution, false, true, true,
     "An acceptance holds down to its limit",
     "The acceptance of {s} lapsed: {0} is below its limit of {1}.",
     "Remove the cause, or have the acceptance renewed.", Basis::physics, "job file, key accept"},
}};

constexpr bool in_order() {
  for (std::size_t i = 0; i < rows.size(); ++i) {
    if (static_cast<std::size_t>(rows[i].check) != i) return false;
  }
  return true;
}
static_assert(in_order(), "one row a CheckId, in its order");

}  // namespace

std::string_view severity_name(Severity severity) {
  switch (severity) {
    case Severity::note:
      return "note";
    case Severity::caution:
      return "caution";
    case Severity::stop:
      return "stop";
  }
  return {};
}

std::string_view verdict_name(Verdict verdict) {
  switch (verdict) {
    case Verdict::go:
      return "go";
    case Verdict::caution:
      return "caution";
    case Verdict::stop:
      return "stop";
  }
  return {};
}

std::string_view basis_name(Basis basis) {
  switch (basis) {
    case Basis::published:
      return "published";
    case Basis::physics:
      return "physics";
    case Basis::common_practice:
      return "common practice";
    case Basis::proposal:
      return "proposal";
  }
  return {};
}

std::span<const CheckInfo> check_table() {
  return rows;
}

const CheckInfo& check_info(CheckId check) {
  return rows[static_cast<std::size_t>(check)];
}

const CheckInfo* find_check(std::string_view id) {
  for (const CheckInfo& row : rows) {
    if (row.id == id) return &row;
  }
  return nullptr;
}

}  // namespace slantrule
