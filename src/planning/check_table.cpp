#include "slantrule/planning/check_table.hpp"

#include <array>

namespace slantrule {
namespace {

constexpr Severity note = Severity::note;
constexpr Severity caution = Severity::caution;
constexpr Severity stop = Severity::stop;
constexpr std::string_view trade = "common practice, no source";
constexpr std::string_view waves = "plane-wave coefficients, strip elements, flat layers (derived)";
constexpr std::string_view rays = "Snell's law; straight-ray geometry";

// Columns: check, id, worst severity, acceptable, has measured, has required, rule, message, mend,
// basis, source.
constexpr std::array<CheckInfo, check_count> rows{{
    {CheckId::run_upstream, "run.upstream", stop, true, true, true,
     "Undisturbed straight pipe upstream of sensor A, by the governing fitting",
     "{0} of straight pipe upstream of A behind {s}; {1} are needed, {3} more. The reading may be "
     "off "
     "by about {2}.",
     "{d}; otherwise treat the flow as that uncertain.", Basis::common_practice,
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
     "{0} of straight pipe downstream of B before {s}; {1} are needed, {3} more. The reading may "
     "be "
     "off by about {2}.",
     "{d}.", Basis::common_practice,
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
    {CheckId::run_odd_count, "run.odd-count", caution, false, true, false,
     "Where the flow is disturbed, an even traverse count cancels cross-flow",
     "An odd traverse count ({0}) sees the flow across the pipe behind {s} as flow along it.",
     "Take an even count; if it must be odd, cross two such pairs in one plane and average them.",
     Basis::physics, "symmetry: cross-flow changes its sign from one traverse to the next"},
    {CheckId::run_laminar, "run.laminar", caution, false, true, true,
     "A laminar profile needs its own, long straight run",
     "The {s} flow is laminar, and the nearest fitting is {0} away where its profile needs {1} to "
     "form: the profile factor lies anywhere between {2} and {3}.",
     "State no single corrected flow here; measure where there is that much straight pipe, or "
     "where the flow is turbulent.",
     Basis::published,
     "Applied Sciences 2024 14(17):7895 (abstract): in laminar flow even 100 D may not do; "
     "development length 0.06 Re D from memory"},
    {CheckId::mount_clock, "mount.clock", stop, true, true, true,
     "On a horizontal pipe both ends of the beam keep off crown and invert",
     "Clock position {0}{d} brings an end of the beam {2} from the horizontal; up to {1} is good, "
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
    {CheckId::mount_clock_no_landmark, "mount.clock.no-landmark", note, false, false, false,
     "On a vertical pipe the position needs a landmark",
     "The pipe is vertical and has no 12 o'clock: \"{s}\" says nothing without a landmark.",
     "Write the position as an angle from something that stays, looking with the flow.",
     Basis::common_practice, trade},
    {CheckId::mount_couplant, "mount.couplant", caution, false, true, false,
     "The couplant stands the temperature of the wall's surface",
     "The wall's surface is at {0}; {s} is good from {1} to {2}.",
     "Take another couplant: see `slantrule lookup couplants`.", Basis::common_practice,
     "data/couplants.csv"},
    {CheckId::mount_couplant_limit, "mount.couplant.limit", stop, false, true, true,
     "The wall's surface stays below what the couplant can stand at all",
     "The wall's surface is at {0}; {s} must never go above {1}: it boils, drips off or may burn.",
     "Take another couplant: see `slantrule lookup couplants`.", Basis::physics,
     "boiling point, flash point or top of service of the couplant, data/couplants.csv"},
    {CheckId::mount_couplant_near, "mount.couplant.near", caution, false, true, true,
     "The couplant has some kelvin in hand",
     "The wall's surface is at {0}; {s} is good up to {1}, and that leaves little in hand.",
     "Measure the surface, and read the limit in the couplant's data sheet.", Basis::proposal,
     "data/couplants.csv; the margin of 5 K is a proposal"},
    {CheckId::mount_couplant_none, "mount.couplant.none", caution, false, true, false,
     "A couplant is known for the temperature of the wall's surface",
     "The wall's surface is at {0}: no couplant of the table is good there.",
     "Find a couplant whose data sheet covers it, and enter it in a catalogue file.",
     Basis::common_practice, "data/couplants.csv"},
    {CheckId::mount_couplant_short_lived, "mount.couplant.short-lived", caution, false, false,
     false, "Under refitted insulation the couplant has to last",
     "The insulation is closed over the sensors, and {s} does not keep for long ({d}).",
     "Take a permanent couplant, such as a solid pad; or plan when to open and couple again.",
     Basis::common_practice, "data/couplants.csv"},
    {CheckId::mount_couplant_rough_wall, "mount.couplant.rough-wall", caution, false, false, false,
     "A rough wall wants a stiff couplant",
     "The surface is rusty or pitted, and {s} is for a smooth wall: it leaves air in the pits.",
     "Clean to even metal, or take a stiff couplant such as grease.", Basis::published,
     "TM 1-1500-335-23 table 5-4: oils to 700 microinch (18 um), grease above"},
    {CheckId::mount_couplant_harm, "mount.couplant.harm", caution, false, false, false,
     "The couplant does no harm to what it meets", "The couplant is {s}: {d}.",
     "Read the data sheets of couplant and pipe; ask the owner; try a couplant without this "
     "risk.",
     Basis::common_practice, trade},
    {CheckId::mount_couplant_food, "mount.couplant.food", note, false, false, false,
     "Food plants want a couplant fit for food",
     "The liquid is food ({s}): the plant may allow only couplants and cleaners fit for food.",
     "Ask before bringing any.", Basis::common_practice, trade},
    {CheckId::mount_down_flow, "mount.down-flow", caution, false, false, true,
     "Vertical pipe with downward flow may not run full",
     "The liquid flows down, where gas is carried along only above about {1}{d}.",
     "Make sure of back-pressure so that the pipe is full; a riser is the better place.",
     Basis::common_practice,
     "common practice, no source; gas slugs rise at 0.35 sqrt(g D) (Dumitrescu 1943, Davies and "
     "Taylor 1950, from memory)"},
    {CheckId::mount_high_point, "mount.high-point", stop, true, false, false,
     "No sensors at a high point, where gas collects",
     "The place is a high point: gas collects there{d}.",
     "Go lower, best to a riser; if it must be here, vent first and watch the signal.",
     Basis::common_practice, trade},
    {CheckId::mount_free_outlet, "mount.free-outlet", stop, true, false, false,
     "Before a free outlet the pipe may not run full", "Downstream the pipe ends freely: {s}.",
     "Measure where the pipe rises or stays drowned, or make sure that it runs full.",
     Basis::common_practice, trade},
    {CheckId::mount_part_full, "mount.part-full", stop, true, false, false,
     "The pipe must run full",
     "The pipe may run part full: then the beam meets gas, and the area is not the bore's.",
     "Measure where it runs full (a riser, a drowned section), or only while it is seen to be "
     "full.",
     Basis::physics,
     "sound does not cross the gas; full pipe asked for by NAVFAC MO-221, New Mexico Office of the "
     "State Engineer, K.A.R. 5-1-9"},
    {CheckId::mount_pump_suction, "mount.pump-suction", caution, false, false, false,
     "The suction side of a pump is a poor place",
     "The place is on the suction side of a pump: low pressure, gas coming out and swirl{d}.",
     "Prefer the discharge side beyond its straight run; here keep well off the pump.",
     Basis::common_practice, trade},
    {CheckId::mount_seam, "mount.seam", stop, true, true, true,
     "Both ends of the beam keep off a lengthwise weld",
     "The weld at {2} o'clock lies {0} round the pipe from {s}; keep {1}.",
     "Turn the pair round the pipe, within the limits of the clock position, or take a length "
     "whose weld lies elsewhere.",
     Basis::common_practice,
     "common practice, no source: a sensor length off welds; that two hours of the clock are "
     "enough on a small pipe is a proposal"},
    {CheckId::mount_seam_unknown, "mount.seam.unknown", caution, false, false, false,
     "Where a weld lies must be comparable with the sensors' position",
     "A weld is stated (\"{s}\"), but not how it lies to the sensors.",
     "Look, and keep both ends of the beam about a quarter turn off it; write pipe.seam as a clock "
     "position or \"spiral\".",
     Basis::common_practice, trade},
    {CheckId::mount_seam_spiral, "mount.seam.spiral", caution, false, false, false,
     "Between the turns of a spiral weld there is a window",
     "The weld is a spiral and crosses every line along the pipe once a turn. The pair takes {0} "
     "along the pipe, with {s} {1} downstream of A's exit point.",
     "Follow the weld round and choose a window: both sensors and that spot a body length off it. "
     "Shift or turn the pair where it does not fit.",
     Basis::common_practice, trade},
    {CheckId::mount_seam_look, "mount.seam.look", note, false, false, false,
     "Large steel pipe is usually welded",
     "Steel pipe of this size usually has a weld along or round it; none is stated.",
     "Look and feel for it, also under paint; keep both ends of the beam off it and enter "
     "pipe.seam.",
     Basis::common_practice, trade},
    {CheckId::mount_clear_length, "mount.clear-length", stop, false, true, true,
     "The pair and its cables fit in the clear length",
     "{0} of pipe is clear; the pair takes {1}, and the cables about {2} more at each end.",
     "Choose another place, a path with a smaller spacing, or a smaller pair.", Basis::physics,
     "straight-ray geometry; the room for cables is a proposal, which only cautions"},
    {CheckId::mount_clear_length_unknown, "mount.clear-length.unknown", caution, false, true, false,
     "The pair's overall length must be known where room is short",
     "{0} of pipe is clear, but the overall length of the pair is not known.",
     "Measure the bodies, and enter sensors.nose and sensors.length.", Basis::physics,
     "straight-ray geometry"},
    {CheckId::mount_height, "mount.height", caution, false, true, true, "Work at height is planned",
     "The place is {0} above the floor; from about {1} it is work at height.",
     "Ask for platform or scaffold, permit and rescue before travelling; tie tools and sensors.",
     Basis::common_practice, "common practice, no source: local rules decide, many begin lower"},
    {CheckId::mount_hazardous_area, "mount.hazardous-area", stop, false, false, false,
     "In a hazardous area only what is certified for it",
     "The place is a hazardous area (\"{s}\"), the pair's certificate says \"{d}\".",
     "Have the site's licensed people decide: zone, gas or dust group, temperature class, cables, "
     "transmitter and tools all count. This plan doesn't judge it.",
     Basis::common_practice,
     "common practice, no source: a certificate for a less exacting zone never covers a more "
     "exacting one; clamping on exempts nothing"},
    {CheckId::mount_hazardous_area_unknown, "mount.hazardous-area.unknown", caution, false, false,
     false, "What the pair is certified for must be known in a hazardous area",
     "The place is a hazardous area (\"{s}\"); what the pair is certified for is not stated.",
     "Read its certificate, enter sensors.certified_for, and have the site's licensed people "
     "decide.",
     Basis::common_practice, trade},
    {CheckId::mount_insulation_opened, "mount.insulation.opened", note, false, false, false,
     "The window in the insulation is large enough",
     "The insulation is opened: at least {0} along the pipe and {1} round it, with {2} at each end "
     "for the hands.",
     "Know what the insulation is before cutting (old lagging may hold asbestos); look for "
     "corrosion beneath; refit and seal when leaving.",
     Basis::common_practice, trade},
    {CheckId::mount_insulation_refitted, "mount.insulation.refitted", note, false, true, false,
     "Under refitted insulation sensors and couplant stay for long",
     "The insulation is closed over the sensors: the wedges take the wall's temperature, {0}.",
     "Take a permanent couplant; bring the cables out and seal; close the vapour barrier of cold "
     "pipe.",
     Basis::common_practice, trade},
    {CheckId::mount_wedge_temperature, "mount.wedge-temperature", caution, false, true, true,
     "Under refitted insulation wedges are as warm as the wall",
     "The wedges are stated to be at {0}, but under the refitted insulation they take the wall's "
     "temperature, {1}.",
     "Leave location.wedge_temperature out, or correct it.", Basis::physics,
     "no heat flows where insulation covers wall and wedge; the limit of 5 K is a proposal"},
    {CheckId::mount_condensation, "mount.condensation", caution, false, true, true,
     "The wall is warmer than the dew point",
     "The wall's surface is at {0}; in surroundings of {2} at {3} relative humidity water "
     "condenses below {1}{d}.",
     "Dry the wall just before mounting, use a couplant that stands water, and close the vapour "
     "barrier after.",
     Basis::physics,
     "dew point by the Magnus formula (Alduchov and Eskridge 1996, coefficients from memory); the "
     "humidities are a proposal"},
    {CheckId::mount_surface_paint, "mount.surface.paint", caution, false, false, true,
     "Paint under the sensors, and under the tape",
     "The surface is painted. Thin, tight paint (to about {1}) may stay; that much of it in a "
     "measured diameter makes the flow read {2} high.",
     "Take loose, blistered or thick paint off to bare metal; measure paint with the owner's "
     "consent at a chip, and enter pipe.coating.",
     Basis::common_practice, "common practice, no source; area of the bore"},
    {CheckId::mount_surface_rust, "mount.surface.rust", note, false, false, false,
     "A rusty surface is cleaned", "The surface is rusty.",
     "Brush both places to even metal, without gouging; gauge the wall there; take a stiff "
     "couplant such as grease.",
     Basis::common_practice,
     "common practice, no source; a rough wall wants the stiffer couplant (TM 1-1500-335-23 table "
     "5-4)"},
    {CheckId::mount_surface_pitted, "mount.surface.pitted", caution, false, false, false,
     "Sensors keep off pitted wall",
     "The surface is pitted: pits scatter the sound, and the wall differs from place to place.",
     "Choose a sounder place; otherwise gauge the wall at several points where both sensors sit "
     "and where the sound is reflected. Never grind a thin wall.",
     Basis::common_practice, trade},
    {CheckId::mount_surface_scaled, "mount.surface.scaled", caution, false, false, false,
     "Scale outside comes off", "There is scale on the outside: air lies in and under it.",
     "Take it off to bare, even metal where the sensors go; ask what the inside looks like.",
     Basis::common_practice, trade},
    {CheckId::mount_surface_wrapped, "mount.surface.wrapped", caution, false, false, false,
     "A wrapping comes off where the sensors sit", "The pipe is wrapped{d}.",
     "With the owner's consent cut it away to bare wall; know what it is (old tape and enamel may "
     "hold asbestos); restore the protection after.",
     Basis::common_practice, trade},
    {CheckId::mount_surface_galvanised, "mount.surface.galvanised", note, false, false, false,
     "Tight zinc may stay", "The pipe is galvanised: a tight zinc layer may stay.",
     "Take off only what is loose or white-rusted; look for runs and lumps of zinc.",
     Basis::common_practice,
     "common practice, no source; 0.05 to 0.1 mm of zinc takes no time that matters "
     "(data/solids.csv)"},
    {CheckId::mount_coating, "mount.coating", caution, false, true, true,
     "Coating under the sensors is thin and hard",
     "{0} of {s} lies under the sensors; up to {1} of it may stay. Beyond that it costs signal, "
     "and its thickness and speed blur the spacing.",
     "Take it off to bare wall with the owner's consent, and write under_sensors: \"removed\"; "
     "otherwise measure its thickness at both places.",
     Basis::common_practice,
     "common practice, no source: paint to 0.3 mm; the limit of 1 mm for other hard coatings is a "
     "proposal"},
    {CheckId::mount_coating_gas, "mount.coating.gas", stop, false, false, false,
     "Nothing with gas in it lies under the sensors",
     "The coating under the sensors ({s}) is full of gas, which passes no sound.",
     "Take it off where the sensors sit, and write under_sensors: \"removed\".", Basis::physics,
     "sound does not cross gas-filled cells"},
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
    {CheckId::path_chosen, "path.chosen", note, false, true, false, "How the path was chosen",
     "A traverse count of {0} with the {s} wave in the wall was chosen: the path loses {1}, and "
     "the "
     "zero of the transmitter makes {2} of the usual flow{d}.",
     "See the other paths and why they stand behind: `slantrule compare`.", Basis::proposal,
     "uncertainty of the flow and loss of the path; weights in path_choice.cpp"},
    {CheckId::path_geometry_only, "path.geometry-only", note, false, true, false,
     "How the path was chosen where the signal is not known",
     "A traverse count of {0} was chosen without knowing the signal, by geometry and the zero of "
     "the transmitter.",
     "Enter sensors.element; if the signal is weak, plan again with fewer traverses.",
     Basis::common_practice, trade},
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
    {CheckId::path_one_side, "path.one-side", stop, true, true, false,
     "With access to one side only, the traverse count must be even",
     "An odd count ({0}) puts the sensors on opposite sides, but only one side can be reached.",
     "Take an even count, or make the other side accessible.", Basis::physics,
     "straight-ray geometry"},
    {CheckId::path_beam_drift, "path.beam-drift", caution, false, true, true,
     "The flow does not carry the beam off the receiving element",
     "The flow carries the beam {0} along the pipe; up to {1} (a quarter of the element) is good.",
     "Take fewer traverses.", Basis::proposal, "N D (v/c)/cos^3(angle); the limit is a proposal"},
    {CheckId::path_element_long, "path.element-long", caution, false, true, true,
     "The beam is narrow against the bore",
     "The element is {0} long, more than {1}, a third of the bore: the beam fills the pipe, and "
     "arrivals of other traverse counts come close.",
     "Take a smaller pair with a higher frequency; judge the arrival by its time.", Basis::proposal,
     "straight-ray geometry; the limit is a proposal"},
    {CheckId::path_element_wide, "path.element-wide", caution, false, true, true,
     "The element is no wider than the bore",
     "The element is {0} wide, the bore {1}: part of the sound passes the liquid by in the wall.",
     "Take a pair made for small pipes.", Basis::physics, "straight-ray geometry"},
    {CheckId::signal_unknown, "signal.unknown", caution, false, false, false,
     "Whether there will be signal must be known",
     "No figure can be given for the signal: {s} is not known.",
     "Enter it; until then judge the signal on the pipe.", Basis::physics, waves},
    {CheckId::signal_absorption_unknown, "signal.absorption.unknown", caution, false, false, false,
     "How much sound the liquid absorbs must be known",
     "How much sound {s} absorbs is not known; the signal is figured without it, over {0} of "
     "liquid.",
     "Enter fluid.viscosity or fluid.absorption; expect a weaker signal.", Basis::physics, waves},
    {CheckId::signal_weak, "signal.weak", caution, false, true, true,
     "The path leaves enough signal",
     "The path loses {0} (+- {2}); up to {1} is comfortable. Most is lost by {s} ({3}){d}.",
     "Compare other paths and pairs with `slantrule compare`; clean the wall, use fresh couplant.",
     Basis::proposal,
     "budget of the path: plane-wave coefficients, beam, absorption; the limits "
     "of 60 and 80 dB are proposals"},
    {CheckId::signal_off_best, "signal.off-best", note, false, true, true,
     "The planned spacing is near where the direct signal is greatest",
     "The interfaces shift the beam: at the planned spacing the direct signal is {2} weaker than "
     "at "
     "its best place, {0} {d}; within {1} of that it falls by 3 dB.",
     "Set the planned spacing all the same: times and flow are those of the ray.", Basis::physics,
     "phase of the interface coefficients (Goos-Haenchen shift)"},
    {CheckId::signal_window, "signal.window", caution, false, true, true,
     "The sensors may stand a little off without losing the signal",
     "The signal falls by 3 dB within {0} of its best place; marks are held to {1}.",
     "Mark with care and hold the pair in a rail.", Basis::physics, waves},
    {CheckId::signal_wall_echoes, "signal.wall-echoes", note, false, true, true,
     "Echoes in the wall come after the burst",
     "Echoes in the wall follow each other by {0}, within the burst of {1}: they pile up, and the "
     "greatest signal stands on a later echo, beyond the planned spacing.",
     "Set the planned spacing, and do not slide the sensors to the greatest signal.",
     Basis::physics, "2 h q against the burst: angular-spectrum wave model (derived)"},
    {CheckId::signal_outer_bounce, "signal.outer-bounce", caution, false, true, true,
     "The sound turns round at the inner face of the wall",
     "Of the reflections, that at the outer face of the {s} loses {0}, that at the inner face {1}: "
     "the stronger path has a spacing {2} longer than planned, and comes {3} later there.",
     "Set the planned spacing and take the arrival at the planned time; one traverse has no "
     "reflection at all.",
     Basis::physics, waves},
    {CheckId::signal_liner_modes, "signal.liner-modes", caution, false, true, true,
     "One wave alone carries the sound through the lining",
     "The lining carries both waves: {s} arrives {0} {d} than the planned path, {1} from it in "
     "time; its own spacing lies {2} from the planned one.",
     "Take the arrival at the planned time; plan again with the other path.liner_mode where that "
     "one is stronger.",
     Basis::physics, waves},
    {CheckId::signal_other_traverses, "signal.other-traverses", caution, false, true, true,
     "Arrivals of other traverse counts keep apart",
     "{s} arrives {0} from the planned path in time, within the burst and its echoes ({1}), at "
     "{2}.",
     "Take a pair with a higher frequency or a shorter burst; judge the arrival by its time.",
     Basis::physics, waves},
    {CheckId::kit_sensors, "kit.sensors", caution, false, false, false,
     "The sensor pair is in the kit", "The pair {s} is not in the kit.",
     "Load it, or name a pair of the kit: `slantrule compare` ranks them.", Basis::physics,
     "job file, key kit"},
    {CheckId::kit_rail, "kit.rail", caution, false, false, true,
     "A rail of the kit takes the spacing",
     "No rail of the kit takes the planned spacing with the sensors on {s}; the longest goes to "
     "{1}.",
     "Load a rail that does, or mount with straps by the marks alone.", Basis::physics,
     "job file, key kit"},
    {CheckId::kit_rail_step, "kit.rail-step", caution, false, true, true,
     "The rail's steps come near enough to the spacing",
     "The nearest step of the rail ({s}) misses the planned spacing by {0}; {1} is allowed. Set "
     "there, the flow is off by {2}{d}.",
     "Set the spacing in the box without the rail's steps, or enter the spacing actually set into "
     "the transmitter.",
     Basis::physics,
     "p dS of the time in the liquid; beam (derived); tolerance 0.5 mm below 100 mm bore, else 1 "
     "mm "
     "(proposal)"},
    {CheckId::kit_strap, "kit.strap", caution, false, true, true,
     "A strap of the kit goes round the pipe",
     "The girth is {0}; the longest strap of the kit goes round {1}.",
     "Load a longer strap or chain, or join two.", Basis::physics, "job file, key kit"},
    {CheckId::kit_couplant, "kit.couplant", caution, false, true, false,
     "A couplant of the kit stands the surface",
     "The surface is at {0}; none of the kit's couplants is for that.",
     "Load one that is: `slantrule lookup couplants`.", Basis::physics, "data/couplants.csv"},
    {CheckId::kit_gauge, "kit.gauge", note, false, false, false,
     "The kit holds what the pipe must be measured with",
     "The kit has no {s}, and {d} from a table or a drawing.",
     "Load it, and measure before mounting.", Basis::common_practice, trade},
    {CheckId::sensors_invented, "sensors.invented", caution, false, false, false,
     "Demonstration pairs are no real sensors",
     "The pair {s} is invented for training: its numbers belong to no real sensor.",
     "Never mount by this plan. Enter the data of the real pair.", Basis::physics,
     "data/sensors.csv"},
    {CheckId::sensors_temperature, "sensors.temperature", stop, false, true, true,
     "The wall's surface lies within the pair's temperature rating",
     "The wall's surface is at {0}; the pair is rated from {1} to {2}.",
     "Use a pair rated for this surface.", Basis::physics, "rating stated for the pair"},
    {CheckId::sensors_temperature_near, "sensors.temperature.near", caution, false, true, true,
     "The pair's temperature rating has some kelvin in hand",
     "The wall's surface is at {0}, and the pair is rated to {1}: that leaves little in hand.",
     "Measure the surface at its worst; prefer a pair with a wider rating.", Basis::proposal,
     "rating stated for the pair; the margin of 5 K is a proposal"},
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
    {CheckId::sensors_wedge_temperature_unknown, "sensors.wedge-temperature.unknown", caution,
     false, true, true, "The wedge's temperature must be known where it moves the spacing",
     "The wedge is taken at {0}, between wall and surroundings; {3} either way would move the "
     "spacing "
     "by {2}, and it is to be held to {1}.",
     "Let the mounted pair settle for a quarter of an hour, measure on the wedge, enter "
     "location.wedge_temperature and plan again.",
     Basis::physics,
     "Snell's law with the wedge's slope; a quarter of the difference of wall and surroundings is "
     "a "
     "proposal"},
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
     "{s} at {0} {d} its freezing point of {1}.",
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
    {CheckId::fluid_sound_speed_conflict, "fluid.sound-speed-conflict", caution, false, true, true,
     "A measured speed of sound agrees with what is known of the liquid",
     "The stated speed of sound is {0}; {s} is known to have {1} +- {3}, that is {2} away.",
     "Check the reading, the temperature and the liquid: one of them is not what it is taken for.",
     Basis::physics,
     "liquid model of the name; the limit of 3 standard uncertainties and 1 % is a "
     "proposal"},
    {CheckId::fluid_strength_range, "fluid.strength", stop, false, true, false,
     "The strength of a solution lies where its model holds",
     "{0} by mass is outside the range of the model of {s} ({1} to {2}): the properties are "
     "extrapolated, or those at the end of the range.",
     "Check the strength; measure the speed of sound and enter fluid.sound_speed.", Basis::physics,
     "range of the model's data"},
    {CheckId::fluid_temperature_flat, "fluid.temperature-flat", note, false, false, false,
     "Where the temperature hardly matters",
     "At this temperature the speed of sound of {s} hardly changes with temperature: an error of "
     "{0} moves it by {1} and the spacing by {2}.",
     "No need to measure the temperature closely.", Basis::physics,
     "slope of the liquid model with temperature"},
    {CheckId::fluid_temperature_steep, "fluid.temperature-steep", note, false, false, false,
     "Where a small error of temperature matters",
     "The speed of sound of {s} moves by {1} for {0} here, and the spacing by {2}.",
     "Take the temperature at the pipe on the day, and judge the transmitter's speed of sound by "
     "it.",
     Basis::physics, "slope of the liquid model with temperature"},
    {CheckId::fluid_temperature_uncertain, "fluid.temperature-uncertain", caution, false, true,
     true, "The temperature is known well enough for the speed of sound",
     "The stated uncertainty of the temperature, {0}, leaves the speed of sound of {s} open by "
     "{2}; "
     "beyond {1} the check against the transmitter loses its worth.",
     "Measure the temperature at the pipe.", Basis::physics,
     "slope of the liquid model with temperature; the limit is a proposal"},
    {CheckId::fluid_absorption, "fluid.absorption", caution, false, true, true,
     "The liquid does not swallow the sound",
     "The liquid takes about {0} from the sound on its way; beyond {1} the signal may be lost.",
     "Take a lower frequency or fewer traverses, or measure where the liquid is warmer and "
     "thinner.",
     Basis::physics, "Stokes-Kirchhoff absorption, good to a factor of 2; the limit is a proposal"},
    {CheckId::fluid_gas, "fluid.gas", stop, true, true, true, "The liquid is free of gas",
     "{0} of free gas by volume; above {1} the method was found nearly useless.",
     "Find a place with more pressure, or upstream of where gas comes in.", Basis::published,
     "Applied Mechanics and Materials 678:285-289, 2014 (abstract)"},
    {CheckId::fluid_degassing, "fluid.degassing", caution, false, true, true,
     "Dissolved air stays dissolved",
     "The pressure is {0}; {s} that stood open to the air at 20 degC gives off air below {1} at "
     "this temperature, and bubbles take the sound away.",
     "Measure where there is more pressure or the liquid is colder: downstream of the pump, lower "
     "down; vent the line.",
     Basis::physics,
     "Henry's law; solubility of air from memory; called out below 1.5 bar absolute (proposal)"},
    {CheckId::fluid_degassing_unknown, "fluid.degassing.unknown", caution, false, false, true,
     "The pressure of a warm liquid must be known to tell whether air comes out",
     "The pressure is not stated; {s} that stood open to the air at 20 degC gives off air below "
     "{1} "
     "at this temperature.",
     "Read the pressure and enter fluid.pressure.", Basis::physics,
     "Henry's law; solubility of air from memory; asked for above 1.5 bar absolute (proposal)"},
    {CheckId::fluid_solids, "fluid.solids", caution, false, true, true,
     "The liquid is free of grains that scatter",
     "{2} of solids by volume take {0} from the sound if they are {s}, but {3} as fine silt; "
     "beyond {1} the signal may be lost.",
     "Ask for the grain size. Against sand take a lower frequency; fewer traverses help in any "
     "case.",
     Basis::physics,
     "Urick 1948 (formula from memory), quartz in this liquid, good to an order of magnitude; more "
     "than 5 %: common practice"},
    {CheckId::flow_unknown, "flow.unknown", caution, false, false, false,
     "The flow to be measured must be known",
     "No usual flow is stated: velocity, Reynolds number and profile are not known.",
     "Ask for the usual, least and greatest flow.", Basis::common_practice, trade},
    {CheckId::flow_velocity_low, "flow.velocity.low", caution, false, true, true,
     "The velocity is high enough to be measured well",
     "The {s} flow is a velocity of {0}, below {1}. An offset of 1 ns at zero would be {2} of it.",
     "{d}; take more traverses or a smaller pipe.", Basis::physics,
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
     "{d}; take more traverses.", Basis::physics, "v = dt/(2 p t_f)"},
    {CheckId::flow_least_unknown, "flow.least.unknown", caution, false, false, false,
     "The least flow that matters must be known; a note where a tenth of the usual flow would do",
     "The least flow that matters is not stated; the zero offset stays within 5 % of it down to a "
     "velocity of {0}.",
     "Ask for it, and enter flow.least.", Basis::physics,
     "v = dt/(2 p t_f); 1 ns where the zero stability is not stated (common practice: 0.1 to 1 "
     "ns)"},
    {CheckId::flow_zero_unknown, "flow.zero.unknown", caution, false, true, false,
     "The zero stability must be known; a note where 1 ns would do or the flow can be stopped",
     "The zero stability is not stated. Each nanosecond of it is worth {0} of velocity.",
     "Enter sensors.zero_stability. {d}.", Basis::physics,
     "v = dt/(2 p t_f); 1 ns stands in (common practice: 0.1 to 1 ns)"},
    {CheckId::flow_no_zero_test, "flow.no-zero-test", note, false, true, false,
     "Where the flow cannot be stopped, the zero is found by swapping",
     "The flow can't be stopped, so there is no zero test; the zero stability is worth {0} of "
     "velocity.",
     "Swap the two sensors in steady flow: half the sum of both readings is the offset, half the "
     "difference the flow.",
     Basis::physics, "v_n = v + v_0, v_s = -v + v_0"},
    {CheckId::flow_pulsating, "flow.pulsating", caution, false, false, false,
     "A pulsating flow is averaged over many of its periods",
     "The flow pulsates: a single reading is no mean, and a slow one may follow the pulses.",
     "Average over ten periods at least, and over a minute; see that the mean holds still before "
     "judging zero, swap test or profile; further from the pump it is smoother.",
     Basis::common_practice, trade},
    {CheckId::pipe_wall_conflict, "pipe.wall-conflict", caution, false, true, true,
     "The stated wall agrees with the size designation",
     "The wall is stated as {0}; {s} has {1}, and mills keep 12.5 %{d}. If the designation were "
     "right, the flow would be off by {2}.",
     "Find out which pipe it is before mounting; gauge the wall again.", Basis::published,
     "ASTM A530/A999 mill tolerance 12.5 % (supplier summaries)"},
    {CheckId::pipe_diameter_conflict, "pipe.diameter-conflict", caution, false, true, true,
     "The measured diameter agrees with the size designation",
     "The outside diameter was measured as {0}; {s} has {1}{d}. If the designation were right, the "
     "flow would be off by {2}.",
     "Find out which pipe it is before mounting: another standard, a coating, a slip of the tape.",
     Basis::proposal, "1 % of the diameter: ASTM A53 tolerance (supplier summary)"},
    {CheckId::pipe_identity, "pipe.identity", note, false, true, false,
     "Standard pipes that a measured diameter fits",
     "The outside diameter {0} is within 1.5 % of: {s}.",
     "If it is one of these, its walls are known: look them up with `slantrule lookup pipes`.",
     Basis::published, "data/pipes.csv; the limit of 1.5 % is a proposal"},
    {CheckId::pipe_identity_none, "pipe.identity.none", caution, false, true, false,
     "A measured diameter is that of some standard pipe",
     "No standard pipe of this material lies within 1.5 % of the outside diameter {0}; the next "
     "are {s}. The plan keeps what was measured.",
     "Measure again (tape straight and tight, coating, ovality), and check the material.",
     Basis::published, "data/pipes.csv; the limit of 1.5 % is a proposal"},
    {CheckId::pipe_ovality, "pipe.ovality", caution, false, true, true, "The pipe is round",
     "The two diameters differ by {0}; pipe standards allow about {1}. Taken for "
     "round with the first one, the flow would be off by {2}.",
     "Keep both entries: the spacing follows the first, the area both. Look for a dent, or clamp "
     "at "
     "a rounder place.",
     Basis::published, "roundness clauses: API 5L and EN 10217-7 2 %, ASTM A358 1 % (summaries)"},
    {CheckId::pipe_wall_doubled, "pipe.wall-doubled", caution, false, true, true,
     "No gauge reading is a second echo",
     "The gauge reading {0} is about twice {1}: most likely the gauge took the second echo. The "
     "plan "
     "keeps it in; if it is wrong, the flow is off by {2}.",
     "Gauge again there; if it was the second echo, take the reading out.", Basis::physics,
     "a second echo has gone through the wall twice"},
    {CheckId::pipe_wall_spread, "pipe.wall-spread", caution, false, true, true,
     "The gauge readings agree",
     "The gauge readings differ by {0}, that is {2} of their mean; a mill keeps about {1}.",
     "Look for pits and corrosion; gauge where the sensors will sit, or choose another place.",
     Basis::published, "ASTM A530/A999 mill tolerance 12.5 % (supplier summaries)"},
    {CheckId::pipe_gauge_setting, "pipe.gauge-setting", caution, false, true, true,
     "A gauge set to another metal is corrected",
     "The gauge was set to {3}, and {s} has another speed of sound: {0} was read, {1} is planned. "
     "Uncorrected, the flow would be off by {2}; the correction is only as good as the speed of "
     "this wall is known.",
     "Set the gauge on a piece of the same metal of known thickness, and read again.",
     Basis::physics, "t = t_read c_wall / c_set"},
    {CheckId::pipe_gauge_setting_small, "pipe.gauge-setting.small", note, false, true, true,
     "A gauge set to another metal, where it hardly matters",
     "A gauge set to {3} reads {0} where the wall of {s} is {1}: that moves the flow by {2} only, "
     "so "
     "the setting does not matter here.",
     "Nothing.", Basis::physics, "t = t_read c_wall / c_set"},
    {CheckId::pipe_gauge_setting_unknown, "pipe.gauge-setting.unknown", caution, false, true, true,
     "It must be known what speed a gauge was set to",
     "It is not stated what the gauge was set to. Set to carbon steel ({3}) it reads {0} where the "
     "wall of {s} is {1}, and the flow would be off by {2}.",
     "Find out, and enter pipe.wall as an object with readings and gauge_set_to.", Basis::physics,
     "t = t_read c_wall / c_set"},
    {CheckId::pipe_liner_loose, "pipe.liner-loose", stop, true, false, false,
     "The lining is bonded to the pipe",
     "The lining ({s}) is loose: an air gap behind it passes no sound.",
     "Measure where the pipe has no such lining; accept only after sound was seen to go through.",
     Basis::physics, "sound does not cross an air gap"},
    {CheckId::pipe_liner_bond_unknown, "pipe.liner-bond.unknown", caution, false, false, false,
     "It must be known whether a plastic lining is bonded",
     "It is not stated whether the lining ({s}) is bonded to the pipe; a loose one has an air gap "
     "and passes no sound.",
     "Ask how it was put in; if it was slipped in, write \"slip liner\" as its material.",
     Basis::common_practice, trade},
    {CheckId::pipe_liner_unknown, "pipe.liner.unknown", caution, false, false, true,
     "It must be known whether the pipe is lined",
     "Nothing is stated about a lining. {1} of cement mortar ({s}) that the plan leaves out would "
     "make the flow read {2} high.",
     "Ask, or look at an open end; enter pipe.liner, or \"none\".", Basis::physics,
     "area of the bore; usual mortar by data/linings.csv"},
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
     "The wall is {0} thick, {2} of a wavelength ({1}): plate waves may take the place of the "
     "ray{d}.",
     "Prefer a higher frequency; set the planned spacing and take the arrival by its time.",
     Basis::proposal, "metrology practice; the limit is a proposal"},
    {CheckId::pipe_plate_wave, "pipe.plate-wave", note, false, true, true,
     "Whether the wall resonates",
     "At this trace speed the wall of {2} resonates at {1}; the pair works at {0}, {3} of the way "
     "to the next resonance: the sound stands in the wall, strong and ringing long.",
     "Take the arrival by its time, not by its strength; a pair well away from {1} rings less.",
     Basis::physics,
     "roots of the Rayleigh-Lamb equations at the trace speed; within 15 % of their spacing "
     "(proposal)"},
    {CheckId::pipe_small, "pipe.small", caution, false, true, true,
     "Small tube with a thin wall guides the sound",
     "The outside diameter is {0}; below {1} with a wall of a few millimetres (here {2}) guided "
     "waves confuse the signal.",
     "Take the highest frequency at hand; compare the speed of sound shown before trusting the "
     "flow.",
     Basis::published, "guided-wave metering of small pipes, Smith, Dixon and others (abstracts)"},
    {CheckId::pipe_scatter, "pipe.scatter", caution, false, true, true,
     "The wall and its lining let the sound through",
     "{s} takes much from the sound{d}; the pair works at {0}, and up to {1} is usual.",
     "Take the lowest frequency at hand and one traverse with the sensors on opposite sides; "
     "if that fails, move the pair to another place, the spacing unchanged.",
     Basis::published,
     "grain and aggregate scattering: solids notes and data/solids.csv; GRP: Baltzersen 1995; "
     "frequencies partly judged"},
    {CheckId::pipe_asbestos, "pipe.asbestos", caution, false, false, false,
     "Asbestos is not worked on", "{s} sheds fibres when it is sanded, scraped or ground.",
     "Don't work on its surface; ask who is licensed, and follow the local rules.",
     Basis::common_practice, trade},
    {CheckId::pipe_deposit, "pipe.deposit", caution, false, true, false,
     "Scale inside changes bore and sound path",
     "{0} of scale inside: the plan takes it off the bore, but its speed of sound is not known, so "
     "the spacing leaves it out.",
     "Expect a weak signal at the planned spacing; clean the pipe or move on if it fails.",
     Basis::common_practice, trade},
    {CheckId::pipe_range_candidate, "pipe.range-candidate", caution, false, false, false,
     "A range only tells candidates apart",
     "{s} is given as a range: the ends are planned to tell them apart.",
     "Measure it, and plan again with the one value.", Basis::physics, "straight-ray geometry"},
    {CheckId::job_not_evaluated, "job.not-evaluated", caution, false, false, false,
     "Entries that this version does not check", "Stated, but not checked by this version: {s}.",
     "Judge these yourself before mounting.", Basis::physics, "scope of `plan`"},
    {CheckId::job_places_not_compared, "job.places", note, false, false, false,
     "Alternative places", "This sheet plans `location`; {0} other places are stated.",
     "Compare them all with `slantrule compare`.", Basis::physics, "scope of `plan`"},
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
