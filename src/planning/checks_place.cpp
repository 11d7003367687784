/// Checks of the place: where round the pipe, what is special about it, welds, room, access.

#include <algorithm>
#include <charconv>
#include <cmath>
#include <numbers>

#include "check_context.hpp"
#include "slantrule/planning/clock.hpp"
#include "slantrule/planning/defaults.hpp"
#include "slantrule/units/suggest.hpp"

namespace slantrule {
namespace {

using Kind = ValueKind;

constexpr double deg = std::numbers::pi / 180;
constexpr double clock_good_rad = 30 * deg;
constexpr double clock_limit_rad = 45 * deg;
constexpr double hour_rad = 30 * deg;
constexpr double gravity_m_s2 = 9.80665;
/// Steel pipe from this outside diameter (NPS 16) on is mostly welded (from memory).
constexpr double mostly_welded_from_m = 0.4;
/// Room for the cables behind each body (proposal).
constexpr double cable_room_m = 0.05;
/// Room for the hands at each end of a window in the insulation (metrology practice: 100 to 200 mm
/// more than the sensors, no source).
constexpr double hand_room_m = 0.1;
constexpr double height_limit_m = 2;

bool is_vertical(Orientation orientation) {
  return orientation == Orientation::vertical_up || orientation == Orientation::vertical_down;
}

bool under_pressure(const ResolvedLiquid& liquid) {
  return liquid.pressure_Pa && *liquid.pressure_Pa > defaults::atmosphere_Pa;
}

void check_down_flow(const CheckContext& c) {
  if (c.job.site.free_outlet) return;  // said by mount.free-outlet
  // A gas slug in still liquid rises at 0.35 sqrt(g D); only a faster flow takes it down.
  const double slug_m_s = 0.35 * std::sqrt(gravity_m_s2 * c.plan.bore_m);
  const auto& slowest = c.plan.least ? c.plan.least : c.plan.usual;
  const FindingValue slug{slug_m_s, Kind::velocity_m_s};
  if (!under_pressure(c.job.liquid)) {
    c.add(CheckId::mount_down_flow, {{{}, slug}}).detail =
        "; the pressure is not known to be above the atmosphere's, so the pipe may run part empty";
  } else if (!slowest) {
    c.add(CheckId::mount_down_flow, {{{}, slug}}).detail = "; the flow is not known";
  } else if (slowest->velocity_m_s < slug_m_s) {
    c.add(CheckId::mount_down_flow, {{{}, slug}}).detail = "; the flow can be slower";
  } else {
    c.add(CheckId::mount_down_flow, Severity::note, {{{}, slug}}).detail =
        "; the flow is faster, and the line is under pressure";
  }
}

void check_free_outlet(const CheckContext& c) {
  switch (c.job.pipe.orientation) {
    case Orientation::vertical_down:
    case Orientation::sloped_down:
      c.add(CheckId::mount_free_outlet, {}, "flowing down to it, the pipe runs empty");
      return;
    case Orientation::vertical_up:
    case Orientation::sloped_up:
      c.add(CheckId::mount_free_outlet, Severity::note, {},
            "rising to it, the pipe stays full while it flows");
      return;
    case Orientation::horizontal:
    case Orientation::unknown:
      c.add(CheckId::mount_free_outlet, Severity::caution, {},
            "near the outlet it may run part full");
      return;
  }
}

/// How far round the pipe a weld lies from the nearer end of the beam, and what is there.
struct SeamDistance {
  double round_m;
  bool at_sensor;
  const char* what;
};

SeamDistance seam_distance(const CheckContext& c, double seam_h, double clock_h) {
  const double radius_m = c.job.pipe.outside_diameter_m.value / 2;
  const double round_m = radius_m * std::fabs(std::remainder(seam_h - clock_h, 6)) * hour_rad;
  const bool on_a_side = std::fabs(std::remainder(seam_h - clock_h, 12)) <= 3;
  if (!c.plan.same_side()) return {round_m, true, on_a_side ? "sensor A" : "sensor B"};
  if (on_a_side) return {round_m, true, "both sensors"};
  return {round_m, false, "the spots opposite where the sound is reflected"};
}

void check_lengthwise_seam(const CheckContext& c, double seam_h) {
  const double radius_m = c.job.pipe.outside_diameter_m.value / 2;
  // A body length off; on a small pipe two hours, a third of the way round to the weld's other
  // side, must do, or no position would be left.
  const double needed_m =
      std::min(c.job.sensors.length_m.value_or(c.plan.bore_m), radius_m * 2 * hour_rad);
  const SeamDistance found = seam_distance(c, seam_h, *c.plan.clock_h);
  // A hair of rounding is no offence: two hours off is exactly enough.
  if (found.round_m >= needed_m * (1 - 1e-9)) return;
  const bool under_element =
      found.at_sensor && found.round_m < c.job.sensors.element_m.value_or(0) / 2;
  c.add(CheckId::mount_seam, under_element ? Severity::stop : Severity::caution,
        {{{found.round_m, Kind::length_m}, {needed_m, Kind::length_m}, {seam_h, Kind::clock_h}}},
        found.what);
}

void check_spiral_seam(const CheckContext& c) {
  if (!c.plan.path) return;
  const RayPath& ray = c.plan.path->ray;
  double first_spot_m = ray.exit_spacing_m;
  if (c.plan.traverses > 1) {
    first_spot_m = ray.liquid_leg.run_m;
    for (std::size_t i = 0; i < ray.layer_count; ++i) first_spot_m += ray.layer_legs[i].run_m;
  }
  c.add(CheckId::mount_seam_spiral,
        {{{c.plan.path->overall_length_m.value_or(ray.exit_spacing_m), Kind::length_m},
          {first_spot_m, Kind::length_m}}},
        c.plan.traverses > 1 ? "the first reflection on the opposite side"
                             : "sensor B on the opposite side");
}

/// A class of hazardous area that a text names once, plainly: "zone 1", "Class I Division 2".
struct AreaClass {
  bool division;
  int number;  ///< the smaller, the more exacting; dust zones are 20 to 22
  bool dust() const { return number >= 20; }
};

std::optional<AreaClass> area_class(std::string_view text) {
  std::optional<AreaClass> found;
  std::string words = folded_name(text);
  std::replace_if(
      words.begin(), words.end(), [](char one) { return one == ',' || one == ';'; }, '_');
  std::string_view rest = words, before;
  while (!rest.empty()) {
    const std::size_t end = std::min(rest.find('_'), rest.size());
    const std::string_view word = rest.substr(0, end);
    rest.remove_prefix(std::min(end + 1, rest.size()));
    if (word.empty()) continue;
    const bool division = before == "division" || before == "div";
    if (division || before == "zone") {
      int number = 0;
      const auto [stop, error] = std::from_chars(word.data(), word.data() + word.size(), number);
      if (error != std::errc{} || stop != word.data() + word.size() || found) return std::nullopt;
      found = AreaClass{division, number};
    }
    before = word;
  }
  return found;
}

bool is_one_of(std::string_view text, std::initializer_list<std::string_view> words) {
  const std::string folded = folded_name(text);
  return std::find(words.begin(), words.end(), folded) != words.end();
}

/// Whether the certificate, as far as its words go, is for less than the area asks. Never says that
/// it is enough.
bool falls_short(std::string_view area, std::string_view certificate) {
  if (is_one_of(certificate, {"none", "no", "nothing", "not_certified", "uncertified"}))
    return true;
  const auto asked = area_class(area), has = area_class(certificate);
  if (!asked || !has) return false;
  return asked->division == has->division && asked->dust() == has->dust() &&
         has->number > asked->number;
}

void check_hazardous_area(const CheckContext& c) {
  const std::string& area = c.job.site.hazardous_area;
  if (area.empty() ||
      is_one_of(area, {"none", "no", "safe", "safe_area", "non_hazardous", "nonhazardous",
                       "not_hazardous", "unclassified", "not_classified"})) {
    return;
  }
  const std::string& certificate = c.job.sensors.certified_for;
  if (certificate.empty()) {
    c.add(CheckId::mount_hazardous_area_unknown, {}, area);
    return;
  }
  c.add(CheckId::mount_hazardous_area,
        falls_short(area, certificate) ? Severity::stop : Severity::caution, {}, area)
      .detail = certificate;
}

void check_clear_length(const CheckContext& c) {
  if (!c.job.site.clear_length_m || !c.plan.path) return;
  const double clear_m = *c.job.site.clear_length_m;
  if (!c.plan.path->overall_length_m) {
    c.add(CheckId::mount_clear_length_unknown, {{{clear_m, Kind::length_m}}});
    return;
  }
  // Bodies on opposite sides may pass each other: then one body's length is all they take.
  const double pair_m = std::max(*c.plan.path->overall_length_m, *c.job.sensors.length_m);
  if (clear_m >= pair_m + 2 * cable_room_m) return;
  c.add(CheckId::mount_clear_length, clear_m < pair_m ? Severity::stop : Severity::caution,
        {{{clear_m, Kind::length_m}, {pair_m, Kind::length_m}, {cable_room_m, Kind::length_m}}});
}

void check_insulation(const CheckContext& c) {
  const ResolvedSite& site = c.job.site;
  if (site.opened_insulation && c.plan.path) {
    const double pair_m = c.plan.path->overall_length_m.value_or(c.plan.path->ray.exit_spacing_m);
    const double girth_m = std::numbers::pi * c.job.pipe.outside_diameter_m.value;
    c.add(CheckId::mount_insulation_opened,
          {{{pair_m + 2 * hand_room_m, Kind::length_m},
            {c.plan.same_side() ? girth_m / 2 : girth_m, Kind::length_m},
            {hand_room_m, Kind::length_m}}});
  }
  if (!site.refitted_insulation) return;
  const double wall_K = c.plan.conditions.wall_temperature_K;
  c.add(CheckId::mount_insulation_refitted, {{{wall_K, Kind::temperature_K}}});
  constexpr double wedge_limit_K = 5;
  if (site.wedge_temperature_K && std::fabs(*site.wedge_temperature_K - wall_K) > wedge_limit_K) {
    c.add(CheckId::mount_wedge_temperature,
          {{{*site.wedge_temperature_K, Kind::temperature_K}, {wall_K, Kind::temperature_K}}});
  }
}

}  // namespace

void check_clock(const CheckContext& c) {
  switch (c.job.pipe.orientation) {
    case Orientation::vertical_down:
      check_down_flow(c);
      [[fallthrough]];
    case Orientation::vertical_up:
      if (c.job.site.clock_text.empty()) {
        c.add(CheckId::mount_clock_landmark);
      } else if (read_clock_h(c.job.site.clock_text)) {
        c.add(CheckId::mount_clock_no_landmark, {}, c.job.site.clock_text);
      }
      return;
    case Orientation::unknown:
      c.add(CheckId::mount_orientation_unknown);
      break;
    case Orientation::sloped_up:
    case Orientation::sloped_down:
      c.add(CheckId::pipe_orientation_not_used);
      break;
    case Orientation::horizontal:
      break;
  }
  if (!c.plan.clock_h) {
    c.add(CheckId::mount_clock_unknown);
    return;
  }
  // Both ends of a diameter lie equally far from the horizontal. A hair of rounding is no offence:
  // 2 o'clock is exactly 30 degrees.
  const double tilt_rad = angle_from_horizontal_rad(*c.plan.clock_h);
  if (tilt_rad <= clock_good_rad * (1 + 1e-9)) return;
  c.add(CheckId::mount_clock,
        tilt_rad <= clock_limit_rad * (1 + 1e-9) ? Severity::caution : Severity::stop,
        {{{*c.plan.clock_h, Kind::clock_h},
          {clock_good_rad, Kind::angle_rad},
          {tilt_rad, Kind::angle_rad},
          {clock_limit_rad, Kind::angle_rad}}})
      .detail = (c.plan.same_side() ? " (the sound is reflected at " : " (sensor B at ") +
                clock_text(opposite_clock_h(*c.plan.clock_h)) + ")";
}

void check_place(const CheckContext& c) {
  const ResolvedSite& site = c.job.site;
  const auto& pressure_Pa = c.job.liquid.pressure_Pa;
  if (site.high_point) {
    const bool held = under_pressure(c.job.liquid);
    c.add(CheckId::mount_high_point, held ? Severity::caution : Severity::stop).detail =
        held ? "" : ", and the pressure is not known to be above the atmosphere's";
  }
  if (site.free_outlet) check_free_outlet(c);
  if (site.may_run_part_full) c.add(CheckId::mount_part_full);
  if (site.pump_suction) {
    c.add(CheckId::mount_pump_suction).detail =
        pressure_Pa && *pressure_Pa < defaults::atmosphere_Pa
            ? "; below the atmosphere's pressure, air comes in at any leak"
            : "";
  }
}

void check_seam(const CheckContext& c) {
  const ResolvedPipe& pipe = c.job.pipe;
  const ResolvedSite& site = c.job.site;
  if (pipe.seam.empty()) {
    const bool steel = pipe.material.key.starts_with("carbon_steel") ||
                       pipe.material.key.starts_with("stainless") ||
                       pipe.material.key.starts_with("duplex");
    if (steel && pipe.outside_diameter_m.value >= mostly_welded_from_m) {
      c.add(CheckId::mount_seam_look);
    }
  } else if (is_one_of(pipe.seam, {"none", "no", "seamless"})) {
    return;
  } else if (site.spiral_seam) {
    check_spiral_seam(c);
  } else if (site.seam_clock_h && c.plan.clock_h) {
    check_lengthwise_seam(c, *site.seam_clock_h);
  } else {
    // On a vertical pipe positions go by landmarks, to be found on site.
    const bool to_be_found = is_vertical(pipe.orientation);
    c.add(CheckId::mount_seam_unknown, to_be_found ? Severity::note : Severity::caution, {},
          pipe.seam);
  }
}

void check_site(const CheckContext& c) {
  check_clear_length(c);
  check_insulation(c);
  if (c.job.site.height_m && *c.job.site.height_m >= height_limit_m) {
    c.add(CheckId::mount_height,
          {{{*c.job.site.height_m, Kind::length_m}, {height_limit_m, Kind::length_m}}});
  }
  check_hazardous_area(c);
}

}  // namespace slantrule
