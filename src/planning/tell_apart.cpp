#include "slantrule/planning/tell_apart.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace slantrule {
namespace {

struct Measured {
  double value;
  double u;
};

/// Time of flight with the sensors at the first candidate's spacing: a wide beam arrives p times
/// the extra spacing later.
double time_at_first_spacing_s(const Plan& first, const Plan& plan) {
  const RayPath& ray = plan.path->ray;
  return ray.zero_flow_time_s +
         ray.ray_parameter_s_m * (first.path->ray.mark_spacing_m - ray.mark_spacing_m);
}

std::optional<Measured> measured(TellingMeasurement measurement, const Candidate& first,
                                 const Candidate& one) {
  const Plan& plan = *one.plan;
  switch (measurement) {
    case TellingMeasurement::outside_diameter: {
      const double diameter_m = one.job->pipe.outside_diameter_m.value;
      return Measured{diameter_m, std::hypot(0.3e-3, 5e-4 * diameter_m)};
    }
    case TellingMeasurement::wall: {
      const double wall_m = one.job->pipe.wall_m.value;
      return Measured{wall_m, std::hypot(0.1e-3, 0.01 * wall_m)};
    }
    case TellingMeasurement::time_of_flight: {
      if (!plan.path || !first.plan->path) return std::nullopt;
      const Estimate& speed = plan.conditions.liquid_sound_speed_m_s;
      return Measured{time_at_first_spacing_s(*first.plan, plan),
                      std::hypot(0.15e-6, plan.path->ray.fluid_time_s * speed.u / speed.value)};
    }
    case TellingMeasurement::liquid_density:
      if (!plan.conditions.density_kg_m3) return std::nullopt;
      return Measured{plan.conditions.density_kg_m3->value, 1};
    case TellingMeasurement::liquid_temperature:
      return Measured{one.job->liquid.temperature_K.value, 0.5};
  }
  return std::nullopt;
}

Separation separation(TellingMeasurement measurement, const std::vector<Candidate>& candidates) {
  constexpr double apart_in_u = 3;
  Separation out{.measurement = measurement};
  out.least_in_u = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < candidates.size(); ++i) {
    for (std::size_t j = i + 1; j < candidates.size(); ++j) {
      ++out.pairs;
      const auto a = measured(measurement, candidates.front(), candidates[i]);
      const auto b = measured(measurement, candidates.front(), candidates[j]);
      if (!a || !b) continue;
      const double difference = std::fabs(a->value - b->value);
      const double in_u = difference / std::max(a->u, b->u);
      if (in_u <= apart_in_u) continue;
      ++out.pairs_separated;
      if (in_u < out.least_in_u) {
        out.least_in_u = in_u;
        out.least_difference_si = difference;
      }
    }
  }
  return out;
}

}  // namespace

std::string_view telling_measurement_name(TellingMeasurement measurement) {
  switch (measurement) {
    case TellingMeasurement::outside_diameter:
      return "girth, by tape";
    case TellingMeasurement::wall:
      return "wall, by thickness gauge";
    case TellingMeasurement::time_of_flight:
      return "time of flight, mounted for candidate 1";
    case TellingMeasurement::liquid_density:
      return "density of the liquid, by hydrometer";
    case TellingMeasurement::liquid_temperature:
      return "temperature of the liquid";
  }
  return {};
}

CandidateComparison compare_candidates(const std::vector<Candidate>& candidates) {
  CandidateComparison out;
  const Plan& first = *candidates.front().plan;
  if (first.path) {
    for (const Candidate& one : candidates) {
      std::optional<CandidateReadOut>& shown = out.read_outs.emplace_back();
      if (!one.plan->path) continue;
      const RayPath& ray = one.plan->path->ray;
      // Another count of traverses is another arrival altogether, not a read-out of this one.
      if (one.plan->traverses != first.traverses) continue;
      const ReadOut read =
          read_out(one.plan->kernel, first.kernel,
                   one.job->fluid_time_computed ? FluidTime::computed : FluidTime::measured,
                   first.path->ray.mark_spacing_m - ray.mark_spacing_m);
      if (!std::isfinite(read.sound_speed_m_s) || !std::isfinite(read.flow_ratio)) continue;
      shown = {read.sound_speed_m_s, 100 * (read.flow_ratio - 1),
               time_at_first_spacing_s(first, *one.plan)};
    }
  }
  constexpr std::array measurements{TellingMeasurement::outside_diameter, TellingMeasurement::wall,
                                    TellingMeasurement::time_of_flight,
                                    TellingMeasurement::liquid_density,
                                    TellingMeasurement::liquid_temperature};
  for (TellingMeasurement measurement : measurements) {
    const Separation one = separation(measurement, candidates);
    if (one.pairs_separated > 0) out.separations.push_back(one);
  }
  std::ranges::stable_sort(out.separations, [](const Separation& a, const Separation& b) {
    // Of equals the first in the list: what is done before mounting comes first.
    return a.pairs_separated > b.pairs_separated;
  });
  return out;
}

}  // namespace slantrule
