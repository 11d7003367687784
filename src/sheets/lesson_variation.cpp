#include <algorithm>
#include <cmath>

#include "lesson_parts.hpp"
#include "slantrule/catalogue/pipe_standards.hpp"
#include "slantrule/catalogue/size_designation.hpp"

namespace slantrule {
namespace {

/// Draws until one is fit to be mounted; beyond this many the job is taken to have no variation.
constexpr int most_draws = 400;
/// How far the varied pipe may go from the job's own, as a ratio.
constexpr double least_diameter = 0.6, greatest_diameter = 1.7;
constexpr double least_wall = 0.5, greatest_wall = 2;
/// Room between the bodies beyond what the pair asks for.
constexpr double spare_gap_m = 5e-3;

double to_step(double value, double step) {
  return std::round(value / step) * step;
}

/// To two significant digits: what people write down for a flow.
double two_digits(double value) {
  if (!(value > 0)) return value;
  const double step = std::pow(10.0, std::floor(std::log10(value)) - 1);
  return to_step(value, step);
}

class Variation {
 public:
  Variation(const PlannedVariant& example, std::uint64_t seed, const Catalogue& catalogue)
      : example_(example), random_(seed) {
    const ResolvedPipe& pipe = example.job.pipe;
    for (const PipeRecord* row : sibling_pipes(pipe, catalogue)) {
      const double diameter = row->outside_diameter_mm * 1e-3 / pipe.outside_diameter_m.value;
      const double wall = mean_wall_mm(*row) * 1e-3 / pipe.wall_m.value / diameter;
      if (diameter >= least_diameter && diameter <= greatest_diameter && wall >= least_wall &&
          wall <= greatest_wall) {
        rows_.push_back(row);
      }
    }
  }

  std::optional<PlannedJob> draw() {
    for (int i = 0; i < most_draws; ++i) {
      std::vector<Variant> one;
      one.push_back({{}, drawn()});
      if (!(one.front().job.pipe.bore_m() > 0)) continue;
      // Many pipes are tried; whether there is signal is all that matters of it here.
      PlanOptions options;
      options.signal = SignalDetail::level;
      PlannedJob planned = plan_all(std::move(one), options);
      if (fits(planned.variants.front())) return planned;
    }
    return std::nullopt;
  }

 private:
  ResolvedJob drawn() {
    ResolvedJob job = example_.job;
    job.path.traverses = example_.plan.traverses;
    job.path.wall_mode = example_.plan.wall_mode;
    if (!rows_.empty()) take_pipe(*rows_[random_.below(rows_.size())], job.pipe);
    take_liner(job.pipe);
    if (!job.liquid.sound_speed_measured) {
      job.liquid.temperature_K.value += random_.between(-10, 10, 1);
    }
    take_flow(job);
    take_distances(job);
    return job;
  }

  /// What was measured on the example's pipe belongs to it, and goes.
  void take_pipe(const PipeRecord& row, ResolvedPipe& pipe) const {
    const std::string text = size_text(row);
    pipe.size_text = text.starts_with(row.standard) ? text : std::string(row.standard) + " " + text;
    pipe.standard = row.standard;
    pipe.outside_diameter_m = {row.outside_diameter_mm * 1e-3, pipe.outside_diameter_m.u};
    pipe.wall_m = {mean_wall_mm(row) * 1e-3, pipe.wall_m.u};
    pipe.least_wall_m.reset();
    const PipeStandardRecord* standard = find_pipe_standard(row.standard);
    if (standard && standard->wall_rule != WallRule::nominal) {
      pipe.least_wall_m = row.wall_mm * 1e-3;
    }
    if (pipe.diameter_source != DimensionSource::girth) {
      pipe.diameter_source = DimensionSource::table;
    }
    pipe.wall_source = DimensionSource::table;
    pipe.nominal_mm = row.dn;
    pipe.across_m.reset();
    pipe.gauge.reset();
    pipe.designated_outside_diameter_m.reset();
    pipe.designated_wall_m.reset();
    pipe.nearest_wall.clear();
    pipe.measured_identity = false;
    pipe.matches.clear();
    pipe.neighbours.clear();
    if (pipe.usual_lining_m) {
      const LiningRecord* usual = usual_lining(pipe.family, pipe.nominal_mm);
      pipe.usual_lining_m.reset();
      if (usual) pipe.usual_lining_m = usual->thickness_mm * 1e-3;
    }
  }

  /// Within the usual linings of that pipe, in steps of half a millimetre; where none are known,
  /// within a fifth of the job's own.
  void take_liner(ResolvedPipe& pipe) {
    if (!pipe.liner) return;
    double low_mm = 0.8e3 * pipe.liner->thickness_m, high_mm = 1.2e3 * pipe.liner->thickness_m;
    bool known = false;
    for (const LiningRecord* row : usual_linings(pipe.family, pipe.nominal_mm)) {
      if (row->material != pipe.liner->material.key) continue;
      low_mm = known ? std::min(low_mm, row->thickness_mm) : row->thickness_mm;
      high_mm = known ? std::max(high_mm, row->thickness_mm) : row->thickness_mm;
      known = true;
    }
    const double from_mm = std::ceil(2 * low_mm - 1e-9) / 2;
    const double to_mm = std::max(from_mm, std::floor(2 * high_mm + 1e-9) / 2);
    pipe.liner->thickness_m = random_.between(from_mm, to_mm, 0.5) * 1e-3;
  }

  void take_flow(ResolvedJob& job) {
    const double velocity_ratio = random_.between(0.7, 1.6, 0.01);
    const double area_ratio = job.pipe.area_m2() / example_.job.pipe.area_m2();
    const auto scale = [&](std::optional<FlowAmount>& amount) {
      if (!amount) return;
      if (amount->dimension == Dimension::velocity) {
        amount->si = std::max(0.05, to_step(amount->si * velocity_ratio, 0.05));
      } else {
        amount->si = two_digits(amount->si * velocity_ratio * area_ratio * 3600) / 3600;
      }
    };
    scale(job.flow.usual);
    scale(job.flow.least);
    scale(job.flow.most);
  }

  /// Distances in bores stay; lengths go with the bore, to 50 mm.
  void take_distances(ResolvedJob& job) {
    const double bore_ratio = job.pipe.bore_m() / example_.job.pipe.bore_m();
    const double ratio = bore_ratio * random_.between(0.9, 1.25, 0.01);
    for (auto* side : {&job.site.upstream, &job.site.downstream}) {
      for (ResolvedFitting& fitting : *side) {
        if (fitting.distance_m) {
          fitting.distance_m = std::max(0.05, to_step(*fitting.distance_m * ratio, 0.05));
        }
      }
    }
    if (job.site.straight_m) job.site.straight_m = to_step(*job.site.straight_m * ratio, 0.05);
  }

  /// As easy to mount as the example.
  bool fits(const PlannedVariant& drawn) const {
    const Plan& plan = drawn.plan;
    const Plan& example = example_.plan;
    if (!plan.path || plan.verdict == Verdict::stop || plan.traverses != example.traverses ||
        plan.wall_mode != example.wall_mode) {
      return false;
    }
    if (plan.same_side() && plan.path->face_gap_m &&
        *plan.path->face_gap_m < drawn.job.sensors.least_face_gap_m + spare_gap_m) {
      return false;
    }
    if (plan.usual && example.usual && plan.usual->regime != example.usual->regime) return false;
    return std::ranges::all_of(plan.findings, [&](const Finding& finding) {
      if (finding.severity == Severity::note) return true;
      return std::ranges::any_of(example.findings, [&](const Finding& known) {
        return known.check == finding.check && known.severity >= finding.severity;
      });
    });
  }

  const PlannedVariant& example_;
  SplitMix64 random_;
  std::vector<const PipeRecord*> rows_;
};

}  // namespace

std::uint64_t SplitMix64::next() {
  state_ += 0x9e3779b97f4a7c15ULL;
  std::uint64_t z = state_;
  z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9ULL;
  z = (z ^ (z >> 27)) * 0x94d049bb133111ebULL;
  return z ^ (z >> 31);
}

double SplitMix64::between(double low, double high, double step) {
  const auto steps = static_cast<std::uint64_t>(std::llround((high - low) / step));
  return low + step * static_cast<double>(below(steps + 1));
}

std::optional<PlannedJob> vary_job(const PlannedJob& job, std::uint64_t seed,
                                   const Catalogue& catalogue) {
  if (job.variants.size() != 1 || job.verdict() == Verdict::stop) return std::nullopt;
  return Variation(job.variants.front(), seed, catalogue).draw();
}

}  // namespace slantrule
