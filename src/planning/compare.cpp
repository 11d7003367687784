#include "slantrule/planning/compare.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "slantrule/planning/straight_run.hpp"

namespace slantrule {
namespace {

/// What a caution weighs beside a per cent of uncertainty (judged): it decides between equals.
constexpr double percent_per_caution = 0.15;

/// Less than this sets no option back (judged).
constexpr double least_difference = 0.02;

struct Spot {
  std::string name;
  ResolvedSite site;
  Orientation orientation;
};

std::vector<Spot> spots(const ResolvedJob& job) {
  std::vector<Spot> out;
  out.push_back({job.places.empty() ? "" : "location", job.site, job.pipe.orientation});
  for (const ResolvedPlace& place : job.places) {
    out.push_back({place.name, place.site, place.orientation});
  }
  return out;
}

std::vector<ResolvedSensors> pairs(const ResolvedJob& job) {
  std::vector<ResolvedSensors> out;
  const auto known = [&](const ResolvedSensors& pair) {
    return std::ranges::any_of(out,
                               [&](const ResolvedSensors& one) { return one.key == pair.key; });
  };
  if (!job.sensors_open) out.push_back(job.sensors);
  for (const ResolvedSensors& pair : job.kit.sensors) {
    if (!known(pair)) out.push_back(pair);
  }
  return out;
}

/// Waves for the liner: the stated one, else both where it has both.
std::vector<WaveMode> liner_modes(const ResolvedJob& job) {
  if (!job.pipe.liner || job.path.liner_mode_stated) return {job.path.liner_mode};
  std::vector<WaveMode> out = {WaveMode::longitudinal};
  if (job.pipe.liner->material.shear) out.push_back(WaveMode::shear);
  return out;
}

/// What the straight pipe of the place costs: the installation's uncertainty, or the price of what
/// is missing where that is more.
double straight_run_percent(const ComparedOption& option) {
  const Plan& made = option.plan;
  return 100 * std::max(made.u_installation, std::hypot(straight_run_price(made.upstream),
                                                        straight_run_price(made.downstream)));
}

int cautions(const ComparedOption& option) {
  return static_cast<int>(
      std::ranges::count(option.plan.findings, Severity::caution, &Finding::severity));
}

std::unique_ptr<ComparedOption> planned(const ResolvedJob& job, const Spot& spot,
                                        const ResolvedSensors& pair, WaveMode mode,
                                        WaveMode liner_mode, int traverses) {
  auto option = std::make_unique<ComparedOption>();
  option->job = job;
  option->job.site = spot.site;
  option->job.pipe.orientation = spot.orientation;
  option->job.sensors = pair;
  option->job.path.wall_mode = mode;
  option->job.path.liner_mode = liner_mode;
  option->job.path.traverses = traverses;
  option->place = spot.name;
  option->plan =
      plan(option->job,
           {.findings = true, .sensitivity = false, .signal = SignalDetail::level, .response = {}});
  const Plan& made = option->plan;
  PathMerit& merit = option->plan.merit;
  if (!made.path) merit.obstacle = made.no_ray ? Obstacle::no_ray : Obstacle::no_wave;
  option->feasible = merit.obstacle == Obstacle::none && made.verdict != Verdict::stop;
  if (!option->feasible) {
    option->reason = merit.obstacle != Obstacle::none ? Reason::obstacle : Reason::stop;
    // Stops stand first among the findings.
    if (option->reason == Reason::stop) option->check = made.findings.front().check;
  }
  option->straight_run_percent = straight_run_percent(*option);
  option->score =
      merit.score + straight_run_percent(*option) + percent_per_caution * cautions(*option);
  return option;
}

bool before(const ComparedOption& a, const ComparedOption& b) {
  if (a.feasible != b.feasible) return a.feasible;
  const PathMerit &mine = a.plan.merit, &its = b.plan.merit;
  // What cannot be is ordered by how far it is from being possible.
  if (mine.obstacle != its.obstacle) return mine.obstacle < its.obstacle;
  if (mine.tier != its.tier) return mine.tier < its.tier;
  return a.score < b.score;
}

/// What sets `option` back most against `best`.
Reason main_reason(const ComparedOption& option, const ComparedOption& best) {
  const PathMerit &mine = option.plan.merit, &its = best.plan.merit;
  if (mine.tier > its.tier) {
    if (!mine.least_met) return Reason::least_flow;
    if (!mine.half_cycle_met) return Reason::half_cycle;
  }
  // Own parts add as squares: what one adds is its square over twice their sum.
  const double both = mine.own_percent + its.own_percent;
  const auto share = [&](double a, double b) { return (a * a - b * b) / both; };
  const std::array<std::pair<Reason, double>, 7> parts = {{
      {mine.loss_dB.value_or(0) > comfortable_loss_dB ? Reason::weak_signal : Reason::signal,
       signal_cost_percent(mine.loss_dB.value_or(0)) -
           signal_cost_percent(its.loss_dB.value_or(0))},
      {Reason::zero, share(mine.zero_percent, its.zero_percent)},
      {Reason::cross_flow, share(std::hypot(mine.cross_flow_percent, mine.opposite_percent),
                                 std::hypot(its.cross_flow_percent, its.opposite_percent))},
      {Reason::wall, wall_weight * (mine.wall_percent - its.wall_percent)},
      {Reason::placement, share(mine.placement_percent, its.placement_percent)},
      {Reason::straight_run, straight_run_percent(option) - straight_run_percent(best)},
      {Reason::cautions, percent_per_caution * (cautions(option) - cautions(best))},
  }};
  const auto& greatest = *std::ranges::max_element(parts, {}, &std::pair<Reason, double>::second);
  return greatest.second < least_difference ? Reason::equal : greatest.first;
}

}  // namespace

Comparison compare(const ResolvedJob& job) {
  Comparison out;
  for (const Spot& spot : spots(job)) {
    for (const ResolvedSensors& pair : pairs(job)) {
      for (const WaveMode mode : {WaveMode::shear, WaveMode::longitudinal}) {
        if (!job.pipe.material.wave(mode)) continue;
        for (const WaveMode liner_mode : liner_modes(job)) {
          for (int traverses = 1; traverses <= most_traverses; ++traverses) {
            out.push_back(planned(job, spot, pair, mode, liner_mode, traverses));
            // Without a ray more traverses are no way out.
            if (!out.back()->plan.path) break;
          }
        }
      }
    }
  }
  std::ranges::stable_sort(out, [](const auto& a, const auto& b) { return before(*a, *b); });
  for (auto& option : out) {
    if (!option->feasible) continue;
    option->reason = option == out.front() ? Reason::best : main_reason(*option, *out.front());
    option->plan.signal = plan_signal(sound_path(option->job, option->plan), option->plan,
                                      SignalDetail::placement, {});
  }
  return out;
}

void settle_sensors(ResolvedJob& job) {
  if (!job.sensors_open || job.kit.sensors.empty()) return;
  ResolvedJob here = job;
  here.places.clear();
  const Comparison all = compare(here);
  job.sensors = all.front()->job.sensors;
  job.sensors_open = false;
  job.assumptions.push_back(
      {"sensors", "the pair of the kit that does best here: " + job.sensors.key});
}

}  // namespace slantrule
