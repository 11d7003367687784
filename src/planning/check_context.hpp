#pragma once

/// What the check functions share, and the functions themselves. Each looks at the resolved job and
/// the plan so far and adds its findings.

#include <algorithm>
#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "slantrule/planning/check_table.hpp"
#include "slantrule/planning/plan.hpp"

namespace slantrule {

/// Collects findings; `job` and `plan` are what every check sees.
struct CheckContext {
  const ResolvedJob& job;
  const Plan& plan;
  std::vector<Finding>& findings;

  Finding& add(CheckId check, Severity severity, std::array<FindingValue, 4> values = {},
               std::string_view subject = {}) const {
    Finding& finding = findings.emplace_back();
    finding.check = check;
    finding.severity = severity;
    finding.values = values;
    finding.subject = subject;
    return finding;
  }
  Finding& add(CheckId check, std::array<FindingValue, 4> values = {},
               std::string_view subject = {}) const {
    return add(check, check_info(check).worst, values, subject);
  }
};

/// Spacing of the plan's path with other inputs; nullopt when there is no ray.
inline std::optional<double> mark_spacing_m(const KernelInputs& kernel) {
  const auto traced = trace_ray(kernel);
  const RayPath* ray = std::get_if<RayPath>(&traced);
  if (!ray) return std::nullopt;
  return ray->mark_spacing_m;
}

/// A flow of the plan with its name; the pointer is never null, the flow may be absent.
using Flow = std::pair<std::string_view, const std::optional<FlowPoint>*>;
inline std::array<Flow, 3> flows(const Plan& plan) {
  return {{{"usual", &plan.usual}, {"least", &plan.least}, {"greatest", &plan.most}}};
}

void check_straight_run(const CheckContext& c);
void check_ray(const CheckContext& c);
void check_wall_modes(const CheckContext& c);
void check_room(const CheckContext& c);
void check_thin_wall(const CheckContext& c);
void check_element(const CheckContext& c);
void check_scattering(const CheckContext& c);
/// Relative humidity of an ordinary room, in whose air a cold wall gets wet (proposal).
inline constexpr double usual_humidity = 0.6;

/// Whether `word` is among those of location.surface.
inline bool surface_is(const ResolvedSite& site, std::string_view word) {
  return std::find(site.surface.begin(), site.surface.end(), word) != site.surface.end();
}

void check_clock(const CheckContext& c);
void check_place(const CheckContext& c);
void check_seam(const CheckContext& c);
void check_site(const CheckContext& c);
void check_surface(const CheckContext& c);
void check_moisture(const CheckContext& c);
void check_couplant(const CheckContext& c);
void check_liquid(const CheckContext& c);
void check_velocity(const CheckContext& c);
void check_reynolds(const CheckContext& c);
void check_time_difference(const CheckContext& c);
void check_zero(const CheckContext& c);
void check_pipe_identity(const CheckContext& c);
void check_gauge(const CheckContext& c);
void check_lining(const CheckContext& c);
void check_wall_material(const CheckContext& c);
void check_signal(const CheckContext& c);
void check_kit(const CheckContext& c);
void check_choice(const CheckContext& c);

}  // namespace slantrule
