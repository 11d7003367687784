#include "slantrule/planning/checks.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "check_context.hpp"
#include "slantrule/planning/defaults.hpp"

namespace slantrule {
namespace {

using Kind = ValueKind;

// ---------------------------------------------------------------- limits

/// Of a temperature rating, below which little is in hand (proposal).
constexpr double rating_margin_K = 5;
/// Slope of a common wedge plastic where none is stated (from memory), to price its absence.
constexpr double usual_wedge_slope_m_s_K = -2;

// ---------------------------------------------------------------- sensors

/// The wedge is taken half way between wall and surroundings; a quarter of their difference either
/// way is quite possible (proposal).
void check_wedge_temperature(const CheckContext& c) {
  const ResolvedSite& site = c.job.site;
  if (site.wedge_temperature_K || site.refitted_insulation || !c.plan.path) return;
  const Conditions& at = c.plan.conditions;
  const double off_K = std::fabs(at.wall_temperature_K - site.ambient_K.value) / 4;
  KernelInputs moved = c.plan.kernel;
  moved.wedge_sound_speed_m_s += c.job.sensors.wedge.slope_m_s_K * off_K;
  if (!(moved.wedge_sound_speed_m_s > 0)) return;
  const auto spacing_m = mark_spacing_m(moved);
  if (!spacing_m) return;
  const double spacing_off_m = std::fabs(*spacing_m - c.plan.path->ray.mark_spacing_m);
  if (spacing_off_m <= c.plan.mounting_tolerance_m) return;
  c.add(CheckId::sensors_wedge_temperature_unknown, {{{at.wedge_temperature_K, Kind::temperature_K},
                                                      {c.plan.mounting_tolerance_m, Kind::length_m},
                                                      {spacing_off_m, Kind::length_m},
                                                      {off_K, Kind::temperature_difference_K}}});
}

void check_sensors(const CheckContext& c) {
  const ResolvedSensors& pair = c.job.sensors;
  if (pair.invented) c.add(CheckId::sensors_invented, {}, pair.key);

  const double surface_K = c.plan.conditions.wall_temperature_K;
  if (!pair.lowest_K || !pair.highest_K) {
    c.add(CheckId::sensors_temperature_unknown, {{{surface_K, Kind::temperature_K}}});
  } else if (surface_K < *pair.lowest_K || surface_K > *pair.highest_K) {
    c.add(CheckId::sensors_temperature, {{{surface_K, Kind::temperature_K},
                                          {*pair.lowest_K, Kind::temperature_K},
                                          {*pair.highest_K, Kind::temperature_K}}});
  } else if (surface_K > *pair.highest_K - rating_margin_K) {
    c.add(CheckId::sensors_temperature_near,
          {{{surface_K, Kind::temperature_K}, {*pair.highest_K, Kind::temperature_K}}});
  } else if (surface_K < *pair.lowest_K + rating_margin_K) {
    c.add(CheckId::sensors_temperature_near,
          {{{surface_K, Kind::temperature_K}, {*pair.lowest_K, Kind::temperature_K}}});
  }

  if (!pair.wedge_slope_stated) {
    const double off_K = c.plan.conditions.wedge_temperature_K - pair.wedge.at_K;
    double spacing_off_m = 0;
    if (c.plan.path) {
      KernelInputs moved = c.plan.kernel;
      moved.wedge_sound_speed_m_s += usual_wedge_slope_m_s_K * off_K;
      if (moved.wedge_sound_speed_m_s > 0) {
        const auto spacing_m = mark_spacing_m(moved);
        if (spacing_m) spacing_off_m = std::fabs(*spacing_m - c.plan.path->ray.mark_spacing_m);
      }
    }
    c.add(CheckId::sensors_wedge_slope_unknown,
          {{{off_K, Kind::temperature_difference_K}, {spacing_off_m, Kind::length_m}}});
  }

  check_wedge_temperature(c);

  const double outside_m = c.job.pipe.outside_diameter_m.value;
  if (pair.smallest_pipe_m && pair.largest_pipe_m &&
      (outside_m < *pair.smallest_pipe_m || outside_m > *pair.largest_pipe_m)) {
    c.add(CheckId::sensors_pipe_range, {{{outside_m, Kind::length_m},
                                         {*pair.smallest_pipe_m, Kind::length_m},
                                         {*pair.largest_pipe_m, Kind::length_m}}});
  }
}

// ---------------------------------------------------------------- acceptance

void apply_acceptances(const CheckContext& c) {
  for (const Acceptance& accept : c.job.acceptances) {
    const CheckInfo& info = *find_check(accept.finding);
    bool any = false;
    std::vector<Finding> lapsed;
    for (Finding& finding : c.findings) {
      if (finding.check != info.check || finding.severity != Severity::stop) continue;
      any = true;
      if (!info.acceptable) continue;
      if (accept.down_to_si && finding.values[0].value < *accept.down_to_si) {
        lapsed.push_back(
            {.check = CheckId::job_accept_lapsed,
             .severity = Severity::caution,
             .values = {{finding.values[0], {*accept.down_to_si, finding.values[0].kind}}},
             .subject = accept.finding,
             .accepted = false,
             .accepted_because = {},
             .accepted_by = {}});
        continue;
      }
      finding.severity = Severity::caution;
      finding.accepted = true;
      finding.accepted_because = accept.because;
      finding.accepted_by = accept.by;
    }
    for (Finding& finding : lapsed) c.findings.push_back(std::move(finding));
    if (!any) {
      c.add(CheckId::job_accept_nothing, {}, accept.finding);
    } else if (!info.acceptable) {
      c.add(CheckId::job_accept_not_acceptable, {}, accept.finding);
    }
  }
}

/// Entries of the job that no check above answers for.
void check_job(const CheckContext& c) {
  if (!c.job.not_evaluated.empty()) c.add(CheckId::job_not_evaluated, {}, c.job.not_evaluated);
  for (const std::string& key : c.job.ranges) c.add(CheckId::pipe_range_candidate, {}, key);
  if (!c.job.places.empty()) {
    c.add(CheckId::job_places_not_compared,
          {{{static_cast<double>(c.job.places.size()), ValueKind::count}}});
  }
}

constexpr std::array checks{
    check_ray,          check_room,       check_wall_modes,
    check_straight_run, check_clock,      check_sensors,
    check_place,        check_seam,       check_site,
    check_surface,      check_moisture,   check_couplant,
    check_liquid,       check_velocity,   check_time_difference,
    check_zero,         check_reynolds,   check_thin_wall,
    check_element,      check_scattering, check_pipe_identity,
    check_gauge,        check_lining,     check_wall_material,
    check_signal,       check_choice,     check_kit,
    check_job,
};

/// Gravest first, otherwise as they were found; that the pair is invented stands in the sheet's box
/// already, and comes last of its kind.
std::vector<Finding> gravest_first(std::vector<Finding> findings) {
  std::vector<Finding> sorted;
  sorted.reserve(findings.size());
  for (const Severity severity : {Severity::stop, Severity::caution, Severity::note}) {
    for (const bool invented : {false, true}) {
      for (Finding& one : findings) {
        if (one.severity == severity && (one.check == CheckId::sensors_invented) == invented) {
          sorted.push_back(std::move(one));
        }
      }
    }
  }
  return sorted;
}

}  // namespace

std::vector<Finding> run_checks(const ResolvedJob& job, const Plan& plan) {
  std::vector<Finding> findings;
  findings.reserve(16);
  const CheckContext context{job, plan, findings};
  for (const auto& check : checks) check(context);
  apply_acceptances(context);
  return gravest_first(std::move(findings));
}

Verdict verdict_of(const std::vector<Finding>& findings) {
  Verdict verdict = Verdict::go;
  for (const Finding& finding : findings) {
    if (finding.severity == Severity::stop) return Verdict::stop;
    if (finding.severity == Severity::caution) verdict = Verdict::caution;
  }
  return verdict;
}

}  // namespace slantrule
