#include "slantrule/sheets/survey_summary.hpp"

#include <algorithm>
#include <bit>
#include <tuple>

#include "slantrule/units/suggest.hpp"

namespace slantrule {
namespace {

/// In the order of `facts`.
enum class Fact : std::uint8_t {
  size,
  wall,
  material,
  liner,
  liner_bond,
  over_coating,
  gauge_setting,
  orientation,
  seam,
  liquid,
  temperature,
  pressure,
  boiling,
  freezing,
  viscosity,
  density,
  absorption,
  rate,
  least_flow,
  upstream,
  downstream,
  clock,
  wedge_temperature,
  sensors,
  nose,
  length,
  rating,
  slope,
  zero,
  certificate,
  signal,
  candidate,
  count_
};

constexpr std::array<SurveyFact, static_cast<std::size_t>(Fact::count_)> facts{{
    {"pipe.size", "size"},
    {"pipe.wall", "wall", true},
    {"pipe.material", "material"},
    {"pipe.liner", "lining", true},
    {"pipe.liner-bond.unknown", "bond of the lining", true},
    {"pipe.over_coating", "whether the coating is in the diameter"},
    {"pipe.wall.gauge_set_to", "what the gauge was set to", true},
    {"pipe.orientation", "run of the pipe"},
    {"pipe.seam", "place of the weld"},
    {"fluid.name", "liquid"},
    {"fluid.temperature", "temperature of the liquid"},
    {"fluid.pressure", "pressure"},
    {"fluid.boiling.unknown", "boiling pressure of the liquid"},
    {"fluid.freezing.unknown", "freezing point of the liquid"},
    {"fluid.viscosity", "viscosity of the liquid"},
    {"fluid.density", "density of the liquid"},
    {"fluid.absorption", "absorption or viscosity of the liquid"},
    {"flow.rate", "usual flow"},
    {"flow.least", "least flow"},
    {"location.upstream", "straight pipe upstream"},
    {"location.downstream", "straight pipe downstream"},
    {"location.clock", "clock position"},
    {"location.wedge_temperature", "temperature of the wedge"},
    {"sensors", "sensor pair"},
    {"sensors.nose", "nose of the pair"},
    {"sensors.length", "length of the pair"},
    {"sensors.temperature", "temperature rating of the pair"},
    {"sensors.wedge.slope", "slope of the wedge's speed of sound"},
    {"sensors.zero_stability", "zero stability"},
    {"sensors.certified_for", "certificate of the pair"},
    {"signal.unknown", "what the signal is figured from"},
    {"candidates", "which of the candidates it is", true},
}};
static_assert(facts.size() <= most_survey_facts);

std::optional<Fact> fact_of(CheckId check) {
  switch (check) {
    case CheckId::run_upstream_unknown:
      return Fact::upstream;
    case CheckId::run_downstream_unknown:
      return Fact::downstream;
    case CheckId::mount_clock_unknown:
      return Fact::clock;
    case CheckId::mount_orientation_unknown:
      return Fact::orientation;
    case CheckId::mount_seam_unknown:
      return Fact::seam;
    case CheckId::mount_clear_length_unknown:
      return Fact::length;
    case CheckId::mount_hazardous_area_unknown:
      return Fact::certificate;
    case CheckId::path_overlap_unknown:
      return Fact::nose;
    case CheckId::signal_unknown:
      return Fact::signal;
    case CheckId::signal_absorption_unknown:
      return Fact::absorption;
    case CheckId::sensors_temperature_unknown:
      return Fact::rating;
    case CheckId::sensors_wedge_slope_unknown:
      return Fact::slope;
    case CheckId::sensors_wedge_temperature_unknown:
      return Fact::wedge_temperature;
    case CheckId::fluid_flashing_unknown:
    case CheckId::fluid_degassing_unknown:
      return Fact::pressure;
    case CheckId::fluid_boiling_unknown:
      return Fact::boiling;
    case CheckId::fluid_freezing_unknown:
      return Fact::freezing;
    case CheckId::flow_unknown:
      return Fact::rate;
    case CheckId::flow_reynolds_unknown:
      return Fact::viscosity;
    case CheckId::flow_density_unknown:
      return Fact::density;
    case CheckId::flow_least_unknown:
      return Fact::least_flow;
    case CheckId::flow_zero_unknown:
      return Fact::zero;
    case CheckId::pipe_gauge_setting_unknown:
      return Fact::gauge_setting;
    case CheckId::pipe_liner_bond_unknown:
      return Fact::liner_bond;
    case CheckId::pipe_liner_unknown:
      return Fact::liner;
    case CheckId::pipe_over_coating_unknown:
      return Fact::over_coating;
    default:
      return {};
  }
}

constexpr std::uint64_t bit(std::size_t fact) {
  return std::uint64_t{1} << fact;
}

std::optional<std::size_t> fact_named(std::string_view key) {
  const auto* found = std::ranges::find(facts, key, &SurveyFact::key);
  if (found == facts.end()) return {};
  return static_cast<std::size_t>(found - facts.begin());
}

bool is_missing(const CellMessage& problem) {
  return problem.message.find("is missing") != std::string::npos;
}

/// The message without its mend, numbers and quoted texts: what refusals of a kind have in common.
std::string kind_of(std::string_view message) {
  std::string kind;
  bool quoted = false;
  for (std::size_t i = 0; i < message.size(); ++i) {
    const char c = message[i];
    if (c == '"') {
      quoted = !quoted;
      if (quoted) kind += "\"\"";
      continue;
    }
    if (quoted) continue;
    if (c == ';') break;
    const bool digit = c >= '0' && c <= '9';
    if (!digit) {
      kind += c;
    } else if (!kind.ends_with('#') && !kind.ends_with("#.") && !kind.ends_with("#,")) {
      kind += '#';
    }
  }
  return kind.substr(0, 200);
}

/// Of a message that is kept; rows may bring very long ones.
constexpr std::size_t most_kept = 300;

std::size_t count_of(const Plan& plan, Severity severity) {
  return static_cast<std::size_t>(std::ranges::count(plan.findings, severity, &Finding::severity));
}

/// Worse rows first; no two rows of a list are equal.
auto badness(const WorstRow& row) {
  // Ascending order puts the greatest counts first when their complements are compared.
  return std::tuple(~row.stops, ~row.cautions, -row.loss_dB.value_or(-1e9), row.row);
}

bool worse(const WorstRow& a, const WorstRow& b) {
  return badness(a) < badness(b);
}

}  // namespace

std::span<const SurveyFact> survey_facts() {
  return facts;
}

std::optional<std::size_t> survey_fact(CheckId check) {
  const std::optional<Fact> fact = fact_of(check);
  if (!fact) return {};
  return static_cast<std::size_t>(*fact);
}

void RefusalGroup::merge(const RefusalGroup& other) {
  rows += other.rows;
  if (lines.empty() || (!other.lines.empty() && other.lines.front() < lines.front())) {
    column = other.column;
    message = other.message;
  }
  lines.insert(lines.end(), other.lines.begin(), other.lines.end());
  std::ranges::sort(lines);
  if (lines.size() > most_lines) lines.resize(most_lines);
}

void MissingFact::merge(const MissingFact& other) {
  rows += other.rows;
  settled += other.settled;
  materials.merge(other.materials);
}

/// What one row leaves open.
struct SurveySummary::Unknowns {
  std::uint64_t facts = 0;
  std::vector<std::string_view> columns;  ///< that no fact names
  bool otherwise_refused = false;
  std::string_view material;  ///< empty: not known

  std::size_t count() const {
    return static_cast<std::size_t>(std::popcount(facts)) + columns.size();
  }
};

void SurveySummary::add(const SurveyRow& row) {
  if (!row.list.remarks.empty()) ++with_remarks_;
  if (row.refused()) {
    add_refused(row);
  } else {
    add_planned(row);
  }
}

void SurveySummary::add_refused(const SurveyRow& row) {
  ++refused_;
  Unknowns unknowns;
  std::vector<std::string> told;
  for (const CellMessage& problem : row.list.problems) {
    std::string key = shown(problem.column, most_kept) + '\n' + kind_of(problem.message);
    if (std::ranges::find(told, key) == told.end()) {
      refusals_.add(key, {1,
                          {row.list.line},
                          shown(problem.column, most_kept),
                          shown(problem.message, most_kept)});
      told.push_back(std::move(key));
    }
    if (!is_missing(problem)) {
      unknowns.otherwise_refused = true;
    } else if (const auto fact = fact_named(problem.column)) {
      unknowns.facts |= bit(*fact);
    } else if (std::ranges::find(unknowns.columns, problem.column) == unknowns.columns.end()) {
      unknowns.columns.push_back(problem.column);
    }
  }
  add_unknowns(unknowns);
}

void SurveySummary::add_planned(const SurveyRow& row) {
  const std::vector<PlannedVariant>& variants = row.planned.variants;
  switch (row.planned.verdict()) {
    case Verdict::go:
      ++go_;
      break;
    case Verdict::caution:
      ++caution_;
      break;
    case Verdict::stop:
      ++stop_;
      break;
  }
  if (variants.front().job.sensors.invented) ++invented_;

  Unknowns unknowns;
  unknowns.material = variants.front().job.pipe.material.name;
  if (variants.size() > 1) unknowns.facts |= bit(static_cast<std::size_t>(Fact::candidate));
  std::array<Severity, check_count> gravest{};
  for (const PlannedVariant& variant : variants) {
    for (const Finding& finding : variant.plan.findings) {
      if (finding.severity == Severity::note) continue;
      const auto check = static_cast<std::size_t>(finding.check);
      const Severity before = gravest[check];
      if (finding.severity <= before) continue;
      gravest[check] = finding.severity;
      FindingCount& count = findings_[check];
      if (before == Severity::caution) --count.cautions;
      ++(finding.severity == Severity::stop ? count.stops : count.cautions);
      if (const auto fact = survey_fact(finding.check)) unknowns.facts |= bit(*fact);
    }
  }
  add_unknowns(unknowns);
  if (row.planned.verdict() != Verdict::go) add_worst(row);
}

void SurveySummary::add_unknowns(const Unknowns& unknowns) {
  const bool settles = unknowns.count() == 1 && !unknowns.otherwise_refused;
  for (std::uint64_t left = unknowns.facts; left != 0; left &= left - 1) {
    const auto fact = static_cast<std::size_t>(std::countr_zero(left));
    MissingFact& missing = facts_[fact];
    ++missing.rows;
    if (settles) ++missing.settled;
    if (facts[fact].by_material && !unknowns.material.empty()) {
      missing.materials.add(unknowns.material.substr(0, most_kept), {1});
    }
  }
  for (std::string_view column : unknowns.columns) {
    MissingFact one;
    one.rows = 1;
    one.settled = settles ? 1 : 0;
    columns_.add(shown(column, most_kept), one);
  }
}

void SurveySummary::add_worst(const SurveyRow& row) {
  WorstRow candidate;
  const PlannedVariant* worst = nullptr;
  for (const PlannedVariant& one : row.planned.variants) {
    WorstRow next;
    next.row = row.list.row;
    next.line = row.list.line;
    next.stops = count_of(one.plan, Severity::stop);
    next.cautions = count_of(one.plan, Severity::caution);
    if (one.plan.signal) next.loss_dB = one.plan.signal->budget.loss_dB;
    if (worst && !worse(next, candidate)) continue;
    candidate = std::move(next);
    worst = &one;
  }
  // Names are copied only for rows that come in.
  if (worst_.size() == most_worst && !worse(candidate, worst_.back())) return;
  candidate.tag = shown(row.tag, most_kept);
  candidate.what = shown(worst->what, most_kept);
  candidate.reason = *foremost_finding(worst->plan);
  keep_worst(std::move(candidate));
}

void SurveySummary::keep_worst(WorstRow row) {
  const auto at = std::ranges::upper_bound(worst_, row, worse);
  worst_.insert(at, std::move(row));
  if (worst_.size() > most_worst) worst_.pop_back();
}

void SurveySummary::merge(const SurveySummary& other) {
  go_ += other.go_;
  caution_ += other.caution_;
  stop_ += other.stop_;
  refused_ += other.refused_;
  with_remarks_ += other.with_remarks_;
  invented_ += other.invented_;
  for (std::size_t i = 0; i < findings_.size(); ++i) {
    findings_[i].stops += other.findings_[i].stops;
    findings_[i].cautions += other.findings_[i].cautions;
  }
  for (const WorstRow& row : other.worst_) keep_worst(row);
  refusals_.merge(other.refusals_);
  for (std::size_t i = 0; i < facts_.size(); ++i) facts_[i].merge(other.facts_[i]);
  columns_.merge(other.columns_);
}

}  // namespace slantrule
