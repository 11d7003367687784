/// Checks of the pipe: which one it is, its wall, its lining.

#include <algorithm>
#include <cmath>

#include "check_context.hpp"
#include "slantrule/planning/defaults.hpp"

namespace slantrule {
namespace {

using Kind = ValueKind;

constexpr double material_speed_limit = 0.03;  ///< relative standard uncertainty
constexpr double mill_wall_tolerance = 0.125;
constexpr double diameter_tolerance = 0.01;
constexpr double roundness_limit = 0.02;
constexpr double roundness_note = 0.005;
/// A flow error that a gauge's setting may make without being called out (proposal).
constexpr double small_flow_percent = 1;
/// Below it a setting is the wall's own.
constexpr double no_flow_percent = 0.1;

/// By how much the flow is off when the transmitter is told of `entered_m` and the bore is
/// `true_m`: it goes with the bore squared, or with the bore alone where the transmitter computes
/// the time in the liquid.
FindingValue price(const CheckContext& c, double entered_m, double true_m) {
  if (!(entered_m > 0 && true_m > 0)) return {};
  const double power = c.job.fluid_time_computed ? 1 : 2;
  return {100 * (std::pow(entered_m / true_m, power) - 1), Kind::percent};
}

std::string names_of(const std::vector<PipeMatch>& matches) {
  // More would bury the likeliest; the sheet and the JSON list them all.
  constexpr std::size_t most = 4;
  std::string names;
  for (std::size_t i = 0; i < std::min(matches.size(), most); ++i) {
    if (i > 0) names += ", ";
    names += matches[i].size;
  }
  if (matches.size() > most) names += " and others";
  return names;
}

void check_wall_conflict(const CheckContext& c) {
  const ResolvedPipe& pipe = c.job.pipe;
  if (!pipe.designated_wall_m) return;
  const double designated_m = *pipe.designated_wall_m;
  if (std::fabs(pipe.wall_m.value / designated_m - 1) <= mill_wall_tolerance) return;
  const double other_bore_m = c.plan.bore_m + 2 * (pipe.wall_m.value - designated_m);
  Finding& finding = c.add(CheckId::pipe_wall_conflict,
                           {{{pipe.wall_m.value, Kind::length_m},
                             {designated_m, Kind::length_m},
                             price(c, c.plan.bore_m, other_bore_m)}},
                           pipe.size_text);
  if (!pipe.nearest_wall.empty()) {
    finding.detail = "; the nearest wall of that size is " + pipe.nearest_wall;
  }
}

void check_diameter_conflict(const CheckContext& c) {
  const ResolvedPipe& pipe = c.job.pipe;
  if (!pipe.designated_outside_diameter_m) return;
  const double designated_m = *pipe.designated_outside_diameter_m;
  const double mean_m =
      (pipe.outside_diameter_m.value + pipe.across_m.value_or(pipe.outside_diameter_m.value)) / 2;
  if (std::fabs(mean_m / designated_m - 1) <= diameter_tolerance) return;
  const double other_bore_m = c.plan.bore_m - pipe.outside_diameter_m.value + designated_m;
  Finding& finding = c.add(CheckId::pipe_diameter_conflict,
                           {{{mean_m, Kind::length_m},
                             {designated_m, Kind::length_m},
                             price(c, c.plan.bore_m, other_bore_m)}},
                           pipe.size_text);
  if (!pipe.matches.empty()) {
    finding.detail = "; what was measured fits " + names_of(pipe.matches);
  } else if (pipe.measured_identity) {
    finding.detail = "; what was measured fits no standard pipe of this material";
  }
}

void check_identity(const CheckContext& c) {
  const ResolvedPipe& pipe = c.job.pipe;
  // With a designation in conflict, that finding names the pipes.
  if (!pipe.measured_identity || pipe.designated_outside_diameter_m) return;
  const FindingValue measured{pipe.outside_diameter_m.value, Kind::length_m};
  if (!pipe.matches.empty()) {
    c.add(CheckId::pipe_identity, {{measured}}, names_of(pipe.matches));
  } else {
    c.add(CheckId::pipe_identity_none, {{measured}},
          pipe.neighbours.empty() ? "far off" : names_of(pipe.neighbours));
  }
}

void check_ovality(const CheckContext& c) {
  const ResolvedPipe& pipe = c.job.pipe;
  if (!pipe.across_m) return;
  const double first_m = pipe.outside_diameter_m.value;
  const double mean_m = (first_m + *pipe.across_m) / 2;
  const double ovality = std::fabs(first_m - *pipe.across_m) / mean_m;
  if (ovality <= roundness_note) return;
  const double round_area_m2 = c.plan.bore_m * c.plan.bore_m;
  const double area_m2 = c.plan.bore_m * (c.plan.bore_m + *pipe.across_m - first_m);
  c.add(CheckId::pipe_ovality, ovality > roundness_limit ? Severity::caution : Severity::note,
        {{{100 * ovality, Kind::percent},
          {100 * roundness_limit, Kind::percent},
          {100 * (round_area_m2 / area_m2 - 1), Kind::percent}}});
}

}  // namespace

void check_pipe_identity(const CheckContext& c) {
  check_wall_conflict(c);
  check_diameter_conflict(c);
  check_identity(c);
  check_ovality(c);
  if (!c.job.pipe.over_coating_stated && c.job.pipe.coating) {
    const double over_m = 2 * c.job.pipe.coating->thickness_m;
    c.add(CheckId::pipe_over_coating_unknown,
          {{{}, {}, {over_m, Kind::length_m}, price(c, c.plan.bore_m, c.plan.bore_m - over_m)}});
  }
}

void check_gauge(const CheckContext& c) {
  const ResolvedPipe& pipe = c.job.pipe;
  if (!pipe.gauge) return;
  const GaugeReadings& gauge = *pipe.gauge;
  if (gauge.doubled_m && gauge.without_it_m) {
    const double bore_m = c.plan.bore_m + 2 * (gauge.mean_m - *gauge.without_it_m);
    c.add(CheckId::pipe_wall_doubled, {{{*gauge.doubled_m, Kind::length_m},
                                        {*gauge.without_it_m, Kind::length_m},
                                        price(c, c.plan.bore_m, bore_m)}});
  } else if (gauge.spread_m > mill_wall_tolerance * gauge.mean_m) {
    c.add(CheckId::pipe_wall_spread, {{{gauge.spread_m, Kind::length_m},
                                       {100 * mill_wall_tolerance, Kind::percent},
                                       {100 * gauge.spread_m / gauge.mean_m, Kind::percent}}});
  }

  const auto& speed = pipe.material.longitudinal;
  if (!speed) return;
  const double set_m_s = gauge.set_to_m_s.value_or(defaults::usual_gauge_setting_m_s);
  const double wall_m = pipe.wall_m.value;
  const double would_read_m = wall_m * set_m_s / speed->sound_speed_m_s;
  // The wall entered as read makes the bore smaller than it is.
  const FindingValue off = price(c, c.plan.bore_m + 2 * (wall_m - would_read_m), c.plan.bore_m);
  const double off_percent = off.kind == Kind::none ? 100 : std::fabs(off.value);
  const std::array<FindingValue, 4> values{{{would_read_m, Kind::length_m},
                                            {wall_m, Kind::length_m},
                                            off,
                                            {set_m_s, Kind::velocity_m_s}}};
  if (off_percent >= small_flow_percent) {
    c.add(gauge.set_to_m_s ? CheckId::pipe_gauge_setting : CheckId::pipe_gauge_setting_unknown,
          values, pipe.material.name);
  } else if (off_percent >= no_flow_percent) {
    c.add(CheckId::pipe_gauge_setting_small, values, pipe.material.name);
  }
}

void check_lining(const CheckContext& c) {
  const ResolvedPipe& pipe = c.job.pipe;
  if (pipe.loose_liner) {
    c.add(CheckId::pipe_liner_loose, {}, pipe.liner->material.name);
  } else if (pipe.liner_bond_unknown) {
    c.add(CheckId::pipe_liner_bond_unknown, {}, pipe.liner->material.name);
  }
  if (pipe.deposit_m > 0) c.add(CheckId::pipe_deposit, {{{pipe.deposit_m, Kind::length_m}}});

  if (pipe.liner_stated) return;
  // Mortar is usual in iron and in larger steel; elsewhere a lining would be a surprise, and the
  // figure is an illustration.
  constexpr double illustrated_mortar_m = 3e-3;
  const bool usual = pipe.usual_lining_m.has_value() || pipe.material.is_inline;
  const double mortar_m = pipe.usual_lining_m.value_or(illustrated_mortar_m);
  const FindingValue off = price(c, c.plan.bore_m, c.plan.bore_m - 2 * mortar_m);
  if (off.kind == Kind::none) return;
  c.add(CheckId::pipe_liner_unknown, usual ? Severity::caution : Severity::note,
        {{{}, {mortar_m, Kind::length_m}, off}},
        pipe.usual_lining_m ? "usual by " + pipe.usual_lining_source : "for illustration");
}

void check_wall_material(const CheckContext& c) {
  const ResolvedPipe& pipe = c.job.pipe;
  const auto& wave = pipe.material.wave(c.plan.wall_mode);
  if (!wave || !c.plan.path || wave->u_m_s <= material_speed_limit * wave->sound_speed_m_s) return;
  KernelInputs moved = c.plan.kernel;
  for (std::size_t i = 0; i < c.plan.layer_roles.size(); ++i) {
    if (c.plan.layer_roles[i] == LayerRole::wall) moved.layers[i].sound_speed_m_s -= wave->u_m_s;
  }
  const auto spacing_m = mark_spacing_m(moved);
  const double off_m = spacing_m ? std::fabs(*spacing_m - c.plan.path->ray.mark_spacing_m) : 0;
  c.add(CheckId::pipe_material_uncertain,
        {{{100 * wave->u_m_s / wave->sound_speed_m_s, Kind::percent},
          {100 * material_speed_limit, Kind::percent},
          {off_m, Kind::length_m}}},
        pipe.material.name);
}

}  // namespace slantrule
