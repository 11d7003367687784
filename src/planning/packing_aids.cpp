#include "slantrule/planning/packing_aids.hpp"

#include <algorithm>
#include <array>
#include <numbers>

#include "check_context.hpp"

namespace slantrule {
namespace {

constexpr std::string_view trade = "common practice, no source";
constexpr Basis practice = Basis::common_practice;

constexpr std::array<PackAidInfo, pack_aid_count> rows{{
    {PackAid::transmitter,
     PackGroup::sensors,
     "transmitter",
     "transmitter with cables, charged, its manual",
     "one for each pipe measured at the same time",
     {},
     {},
     practice,
     trade},
    {PackAid::rule_and_tape,
     PackGroup::fixing,
     "rule-and-tape",
     "steel rule and tape measure",
     "to set the spacing, and to measure straight runs from a datum",
     {},
     {},
     practice,
     trade},
    {PackAid::marker,
     PackGroup::fixing,
     "marker",
     "marker pen and chalk, square, masking tape",
     "to mark both sensors",
     {},
     {},
     practice,
     trade},
    {PackAid::spirit_level,
     PackGroup::fixing,
     "spirit-level",
     "spirit level",
     "to find the crown of a pipe that is not vertical",
     {},
     {},
     practice,
     trade},
    {PackAid::wrap_strip,
     PackGroup::fixing,
     "wrap-strip",
     "paper strips printed with `slantrule wrap`",
     "sensors on opposite sides, or a large pipe: marks are carried round it on paper",
     "outside diameter",
     {},
     Basis::proposal,
     "common practice for opposite sides; from 300 mm: proposal"},
    {PackAid::wall_gauge, PackGroup::find_out, "wall-gauge",
     "ultrasonic wall thickness gauge, with its couplant and a piece of the same metal to set it",
     "the wall is not measured, or the readings are in doubt", "wall", "wall gauge", practice,
     trade},
    {PackAid::girth_tape, PackGroup::find_out, "girth-tape", "girth tape",
     "the diameter is not measured, or is in doubt, and a calliper does not reach across", "girth",
     "girth tape", practice, "common practice, no source; calliper to 80 mm: 40 mm jaws"},
    {PackAid::calliper, PackGroup::find_out, "calliper", "calliper",
     "the diameter of a small pipe is not measured, or is in doubt", "outside diameter", "calliper",
     practice, "common practice, no source; calliper to 80 mm: 40 mm jaws"},
    {PackAid::coating_gauge,
     PackGroup::find_out,
     "coating-gauge",
     "coating thickness gauge, or a rule to measure at a chip",
     "paint or coating lies in the diameter or under the sensors, and its thickness matters",
     {},
     {},
     practice,
     trade},
    {PackAid::surface_thermometer,
     PackGroup::find_out,
     "surface-thermometer",
     "surface thermometer with a contact probe",
     "a temperature is uncertain, moves the spacing, or leaves little in hand",
     {},
     "surface thermometer",
     practice,
     trade},
    {PackAid::pressure_gauge,
     PackGroup::find_out,
     "pressure-gauge",
     "pressure gauge for an existing tapping; the operator connects it",
     "the pressure is not stated where the liquid could boil or give off air",
     {},
     "pressure gauge",
     practice,
     trade},
    {PackAid::torch,
     PackGroup::find_out,
     "torch",
     "torch and a small mirror",
     "to look for seams, dents, labels and marks",
     {},
     {},
     practice,
     trade},
    {PackAid::cloths,
     PackGroup::cleaning,
     "cloths",
     "cleaning cloths",
     "both faces are wiped, and the couplant off after",
     {},
     {},
     practice,
     trade},
    {PackAid::cleaner,
     PackGroup::cleaning,
     "cleaner",
     "cleaner or solvent that leaves no film, and that the site allows",
     "grease and dirt keep the couplant off the wall",
     {},
     {},
     practice,
     trade},
    {PackAid::scraper,
     PackGroup::cleaning,
     "scraper",
     "paint scraper",
     "loose or thick paint, scale or coating comes off, with the owner's consent",
     {},
     {},
     practice,
     trade},
    {PackAid::wire_brush,
     PackGroup::cleaning,
     "wire-brush",
     "wire brush",
     "rust and scale come off to even metal; know the wall first",
     {},
     {},
     practice,
     trade},
    {PackAid::abrasive_cloth,
     PackGroup::cleaning,
     "abrasive-cloth",
     "abrasive cloth",
     "an even, bare face under both sensors",
     {},
     {},
     practice,
     trade},
    {PackAid::wrapping_knife,
     PackGroup::cleaning,
     "wrapping-knife",
     "knife, and tape or paint to restore the protection",
     "a wrapping is cut away, with the owner's consent, once it is known what it is",
     {},
     {},
     practice,
     trade},
    {PackAid::insulation_knife,
     PackGroup::cleaning,
     "insulation-knife",
     "insulation knife, bags for the pieces",
     "the insulation is opened, once it is known that it holds no asbestos",
     {},
     {},
     practice,
     trade},
    {PackAid::insulation_tape,
     PackGroup::cleaning,
     "insulation-tape",
     "tape, wire and sheet to refit insulation and close its vapour barrier",
     "what is opened is refitted before leaving",
     {},
     {},
     practice,
     trade},
    {PackAid::wet_cloths,
     PackGroup::cleaning,
     "wet-cloths",
     "water and cloths to wipe wet",
     "asbestos cement is not scraped, sanded or brushed dry",
     {},
     {},
     Basis::published,
     "29 CFR 1926.1101 and OSHA interpretation of 29 May 2007 (first part)"},
    {PackAid::dry_cloths,
     PackGroup::cleaning,
     "dry-cloths",
     "dry, absorbent cloths",
     "water condenses on the cold wall: dry it just before mounting",
     {},
     {},
     practice,
     trade},
}};

constexpr bool in_order() {
  for (std::size_t i = 0; i < rows.size(); ++i) {
    if (static_cast<std::size_t>(rows[i].aid) != i) return false;
  }
  return true;
}
static_assert(in_order(), "one row a PackAid, in its order");

void always(PackAids& aids) {
  for (PackAid aid : {PackAid::transmitter, PackAid::rule_and_tape, PackAid::marker, PackAid::torch,
                      PackAid::cloths, PackAid::cleaner}) {
    aids.set(static_cast<std::size_t>(aid));
  }
}

bool diameter_open(const ResolvedPipe& pipe, const FoundChecks& found) {
  return pipe.diameter_source == DimensionSource::table ||
         pipe.diameter_source == DimensionSource::stated ||
         found.warns(CheckId::pipe_diameter_conflict) || found.warns(CheckId::pipe_identity_none);
}

bool wall_open(const ResolvedPipe& pipe, const FoundChecks& found) {
  return pipe.wall_source != DimensionSource::measured ||
         found.warns(CheckId::pipe_wall_conflict) || found.warns(CheckId::pipe_wall_doubled) ||
         found.warns(CheckId::pipe_wall_spread) ||
         found.warns(CheckId::pipe_gauge_setting_unknown) ||
         found.has(CheckId::mount_surface_pitted);
}

bool temperature_open(const ResolvedJob& job, const FoundChecks& found) {
  return found.has(CheckId::fluid_temperature_uncertain) ||
         found.has(CheckId::fluid_temperature_steep) ||
         found.has(CheckId::sensors_temperature_near) ||
         found.has(CheckId::sensors_wedge_temperature_unknown) ||
         found.has(CheckId::mount_couplant_near) ||
         std::ranges::find(job.ranges, "fluid.temperature") != job.ranges.end();
}

}  // namespace

std::span<const PackAidInfo> pack_aid_table() {
  return rows;
}

const PackAidInfo& pack_aid_info(PackAid aid) {
  return rows[static_cast<std::size_t>(aid)];
}

FoundChecks found_checks(const Plan& plan) {
  FoundChecks out;
  for (const Finding& one : plan.findings) {
    const auto at = static_cast<std::size_t>(one.check);
    out.all.set(at);
    if (one.severity != Severity::note) out.cautions.set(at);
  }
  return out;
}

PackAids pack_aids_of(const ResolvedJob& job, const Plan& plan, const FoundChecks& found) {
  PackAids aids;
  const auto set = [&](PackAid aid, bool wanted) {
    if (wanted) aids.set(static_cast<std::size_t>(aid));
  };
  always(aids);
  const ResolvedPipe& pipe = job.pipe;
  const ResolvedSite& site = job.site;
  set(PackAid::spirit_level, pipe.orientation != Orientation::vertical_up &&
                                 pipe.orientation != Orientation::vertical_down);
  set(PackAid::wrap_strip,
      plan.path && (!plan.same_side() || pipe.outer_surface_m() >= wrap_strip_from_m));
  set(PackAid::wall_gauge, wall_open(pipe, found));
  const bool small = pipe.outer_surface_m() <= calliper_reach_m;
  set(PackAid::girth_tape, !small && diameter_open(pipe, found));
  set(PackAid::calliper, small && diameter_open(pipe, found));
  set(PackAid::coating_gauge, found.warns(CheckId::mount_surface_paint) ||
                                  found.warns(CheckId::mount_coating) ||
                                  found.warns(CheckId::pipe_over_coating_unknown));
  set(PackAid::surface_thermometer, temperature_open(job, found));
  set(PackAid::pressure_gauge, found.warns(CheckId::fluid_flashing_unknown) ||
                                   found.warns(CheckId::fluid_degassing_unknown));
  // Nothing that makes dust goes to a pipe whose fibres must stay where they are.
  const bool fibres = pipe.material.key.starts_with("asbestos_cement");
  set(PackAid::wet_cloths, fibres);
  const bool paint = surface_is(site, "paint"), rust = surface_is(site, "rust"),
             scaled = surface_is(site, "scaled"), pitted = surface_is(site, "pitted");
  const bool coated =
      pipe.coating && (!pipe.coating_under_sensors || found.has(CheckId::mount_coating));
  set(PackAid::scraper, !fibres && (paint || scaled || coated));
  set(PackAid::wire_brush, !fibres && (rust || scaled || pitted));
  set(PackAid::abrasive_cloth, !fibres && (paint || rust || coated));
  set(PackAid::wrapping_knife, surface_is(site, "wrapped"));
  const bool insulated = site.opened_insulation || site.refitted_insulation;
  set(PackAid::insulation_knife, insulated);
  set(PackAid::insulation_tape, insulated);
  set(PackAid::dry_cloths, found.warns(CheckId::mount_condensation));
  return aids;
}

std::optional<double> pack_aid_value(PackAid aid, const ResolvedJob& job) {
  switch (aid) {
    case PackAid::wrap_strip:
    case PackAid::calliper:
      return job.pipe.outer_surface_m();
    case PackAid::wall_gauge:
      return job.pipe.wall_m.value;
    case PackAid::girth_tape:
      return std::numbers::pi * job.pipe.outer_surface_m();
    default:
      return std::nullopt;
  }
}

std::string_view pack_safety_items(SafetyId id) {
  switch (id) {
    case SafetyId::hot_surface:
      return "heat-resistant gloves, long sleeves, something to screen the place off";
    case SafetyId::cold_surface:
      return "insulating gloves";
    case SafetyId::height:
      return "ladder or platform and fall protection by the site's rules, lanyards for tools";
    case SafetyId::hazardous_area:
      return "permit; only certified sensors, transmitter, cables, lamp and tools";
    case SafetyId::confined_space:
      return "entry permit, air tester, attendant, means of rescue";
    case SafetyId::chemicals:
      return "safety data sheets, and the gloves, goggles and clothing they ask for";
    case SafetyId::old_insulation:
      return "the site's word on what the insulation is, in writing; bags and mask by its rules";
    case SafetyId::asbestos_cement:
      return "leave scrapers, brushes and abrasives; protection by the local rules";
    case SafetyId::work_on_wall:
      return "the owner's consent; eye protection and gloves";
    case SafetyId::high_pressure:
      return "eye protection";
    case SafetyId::moving_plant:
      return "close-fitting clothes, ties for cables";
    case SafetyId::zero_test:
      return "appointment with the operator, locks and tags by site procedure";
    case SafetyId::magnets:
      return "nobody with a pacemaker at magnetic fixtures";
    case SafetyId::permits:
      return "permits and protective gear of the site";
    case SafetyId::count_:
      break;
  }
  return {};
}

}  // namespace slantrule
