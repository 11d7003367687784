#include "slantrule/sheets/compare_sheet.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <tuple>

#include "json_parts.hpp"
#include "slantrule/planning/check_table.hpp"
#include "slantrule/sheets/text_layout.hpp"

namespace slantrule {
namespace {

/// Options that the table shows; who needs the thirtieth best reads the JSON.
constexpr std::size_t most_rows = 24;

std::string percent(double value) {
  return fmt::format("{:.1f} %", value);
}

std::string decibels(const std::optional<double>& loss_dB) {
  return loss_dB ? fmt::format("{:.0f} dB", *loss_dB) : "?";
}

/// Why an option is not possible.
std::string obstacle_words(const ComparedOption& option, const Display& display) {
  const Plan& plan = option.plan;
  const ResolvedJob& job = option.job;
  switch (plan.merit.obstacle) {
    case Obstacle::none:
      break;
    case Obstacle::no_wave:
      return "no speed is known for this wave in a layer";
    case Obstacle::no_ray:
      return "this wave cannot enter: the wedge angle is beyond its critical angle";
    case Obstacle::overlap:
      return "the bodies overlap by " +
             length_text(job.sensors.least_face_gap_m - *plan.path->face_gap_m, display);
    case Obstacle::one_side:
      return "opposite sides, and only one can be reached";
    case Obstacle::rail:
      return "no rail takes " + length_text(plan.path->ray.mark_spacing_m, display);
    case Obstacle::clear_length:
      return "the bodies take " + length_text(*plan.path->overall_length_m, display) + " of " +
             length_text(*job.site.clear_length_m, display) + " clear pipe";
    case Obstacle::pipe_range:
      return "the pair is not made for this pipe";
    case Obstacle::temperature:
      return "the surface is outside the pair's temperature rating";
  }
  const Finding& stop = plan.findings.front();
  return finding_text(stop, display).message;
}

/// ": weak signal"; empty where there is nothing to say.
std::string shortcoming_words(const PathMerit& merit, const Display& display) {
  if (merit.loss_dB && *merit.loss_dB > comfortable_loss_dB) {
    return fmt::format(": weak signal, beyond {:.0f} dB", comfortable_loss_dB);
  }
  if (!merit.least_met) {
    return ": it tells flow from rest above " + velocity_text(merit.smallest_velocity_m_s, display);
  }
  return merit.half_cycle_met ? "" : ": the greatest flow exceeds half a period";
}

/// What sets a possible option back, with its number and that of the best.
std::string reason_words(const ComparedOption& option, const ComparedOption& best,
                         const Display& display) {
  const PathMerit &mine = option.plan.merit, &its = best.plan.merit;
  const auto against = [](double a, double b) {
    if (percent(a) != percent(b)) return fmt::format("{} against {}", percent(a), percent(b));
    return fmt::format("{:.2f} % against {:.2f} %", a, b);
  };
  switch (option.reason) {
    case Reason::best:
      return mine.tier == 0 ? "best trade of signal and uncertainty"
                            : "nothing here is without fault; this comes nearest" +
                                  shortcoming_words(mine, display);
    case Reason::weak_signal:
      return fmt::format("weak signal: beyond {:.0f} dB", comfortable_loss_dB);
    case Reason::least_flow:
      return "cannot tell the least flow: good from " +
             velocity_text(mine.smallest_velocity_m_s, display);
    case Reason::half_cycle:
      return "the greatest flow exceeds half a period";
    case Reason::signal:
      return fmt::format("{:.0f} dB less signal", *mine.loss_dB - its.loss_dB.value_or(0));
    case Reason::zero:
      return "zero of the transmitter: " + against(mine.zero_percent, its.zero_percent);
    case Reason::cross_flow:
      return "sees flow across the pipe; the far side must be found";
    case Reason::wall:
      return "unknown wall costs more: " + against(mine.wall_percent, its.wall_percent);
    case Reason::placement:
      return "a slip in the spacing costs more: " +
             against(mine.placement_percent, its.placement_percent);
    case Reason::straight_run:
      return "less straight run: " +
             against(option.straight_run_percent, best.straight_run_percent);
    case Reason::cautions:
      return "more cautions";
    case Reason::equal:
      return "as good";
    case Reason::obstacle:
    case Reason::stop:
      return obstacle_words(option, display);
  }
  return {};
}

std::string who(const ComparedOption& option) {
  return option.job.sensors.key + (option.place.empty() ? "" : ", " + option.place);
}

/// "2 to 6, 8": counts that share a reason.
std::string counts_words(const std::vector<int>& counts) {
  std::string out;
  for (std::size_t i = 0; i < counts.size();) {
    std::size_t end = i;
    while (end + 1 < counts.size() && counts[end + 1] == counts[end] + 1) ++end;
    if (!out.empty()) out += ", ";
    out += std::to_string(counts[i]);
    if (end > i) out += (end == i + 1 ? ", " : " to ") + std::to_string(counts[end]);
    i = end + 1;
  }
  return out;
}

/// What is not possible, traverse counts with the same reason on one line. Spacings differ from
/// count to count, so the words of the least count stand for those that share its kind.
std::vector<std::string> impossible_lines(const Comparison& comparison, const Display& display) {
  struct Group {
    std::vector<std::string> who;
    std::vector<int> counts;
    const ComparedOption* first;
  };
  std::map<std::tuple<std::string, WaveMode, WaveMode, Obstacle, CheckId>, Group> groups;
  for (const auto& option : comparison) {
    if (option->feasible) continue;
    // Without a ray pairs and places are alike; else each has its own numbers.
    const std::string name = job_text(who(*option), display);
    Group& group =
        groups[{option->plan.path ? name : std::string(), option->plan.wall_mode,
                option->job.path.liner_mode, option->plan.merit.obstacle, option->check}];
    if (std::ranges::find(group.who, name) == group.who.end()) group.who.push_back(name);
    group.counts.push_back(option->plan.traverses);
    if (group.counts.size() == 1 || option->plan.traverses < group.first->plan.traverses) {
      group.first = option.get();
    }
  }
  std::vector<std::string> lines;
  for (auto& [key, group] : groups) {
    std::ranges::sort(group.counts);
    const bool no_path = !group.first->plan.path;
    const std::string counts = no_path ? "any count" : "N " + counts_words(group.counts);
    const std::string liner =
        group.first->job.pipe.liner
            ? fmt::format(" ({} in the liner)", wave_mode_name(group.first->job.path.liner_mode))
            : std::string();
    std::string text = fmt::format("{}, {} wave{}, {}: {}", fmt::join(group.who, "; "),
                                   wave_mode_name(group.first->plan.wall_mode), liner, counts,
                                   obstacle_words(*group.first, display));
    if (!no_path && group.counts.size() > 1 &&
        (group.first->plan.merit.obstacle == Obstacle::overlap ||
         group.first->plan.merit.obstacle == Obstacle::rail ||
         group.first->plan.merit.obstacle == Obstacle::clear_length)) {
      text += fmt::format(" with N = {}", group.counts.front());
    }
    for (std::string& line : wrapped(text, "  ", "    ")) lines.push_back(std::move(line));
  }
  return lines;
}

std::string row(const ComparedOption& option, std::size_t rank, const Display& display) {
  const Plan& plan = option.plan;
  const std::string window =
      plan.signal && plan.signal->arrivals
          ? "+-" + setting_text(plan.signal->window_3_dB.width_m() / 2, 1e-3, display)
          : "?";
  return fmt::format("{:>3}  {}  {:>2}  {}  {}  {}  {}  {}  {}", rank,
                     padded(job_text(option.job.sensors.key, display), 14), plan.traverses,
                     plan.same_side() ? "same" : "opp.",
                     plan.wall_mode == WaveMode::shear ? "shear" : "long.",
                     padded(setting_text(plan.path->ray.mark_spacing_m, 1e-4, display), 10),
                     padded(decibels(plan.merit.loss_dB), 6), padded(window, 10),
                     percent(std::hypot(plan.merit.u_percent, option.straight_run_percent)));
}

}  // namespace

std::string compare_text(const Comparison& comparison, const Display& display) {
  std::string out;
  const auto line = [&](const std::string& text) { out += text + '\n'; };
  const ComparedOption& best = *comparison.front();
  const ResolvedJob& job = best.job;
  line(two_ends("WAYS TO MEASURE, best first",
                job_text(job.tag.empty() ? "(no tag)" : job.tag, display)));
  if (!job.title.empty()) {
    for (const std::string& one : wrapped(job_text(job.title, display), "", "")) line(one);
  }
  line("");
  if (best.feasible) {
    line("  #  pair             N  side  wave   spacing     loss    window      u(flow)");
    // Beyond so many rows only the first of each pair and place is shown.
    std::size_t rank = 0, shown_rows = 0;
    std::set<std::string> told;
    for (const auto& option : comparison) {
      if (!option->feasible) break;
      ++rank;
      const bool first_of_kind = told.insert(who(*option)).second;
      if (shown_rows >= most_rows && !first_of_kind) continue;
      ++shown_rows;
      line(row(*option, rank, display));
      std::string place =
          option->place.empty() ? "" : "at " + job_text(option->place, display) + ": ";
      if (option->job.pipe.liner) {
        place += std::string(wave_mode_name(option->job.path.liner_mode)) + " wave in the liner: ";
      }
      for (const std::string& one :
           wrapped(place + reason_words(*option, best, display), "     ", "     ")) {
        line(one);
      }
    }
    if (rank > shown_rows) {
      line(fmt::format("     {} more are left out here; `--format json` has them",
                       rank - shown_rows));
    }
    line("");
    for (const std::string& one : wrapped(
             "N: traverses. loss: what the path takes from the sound, against two elements face to "
             "face. window: how far from its best place the direct signal falls by 3 dB. u(flow): "
             "standard uncertainty as far as paths and places differ, no budget.",
             "", "")) {
      line(one);
    }
  } else {
    line("No way is possible with this pair, pipe and place.");
  }
  const std::vector<std::string> impossible = impossible_lines(comparison, display);
  if (!impossible.empty()) {
    line("");
    line("NOT POSSIBLE");
    for (const std::string& one : impossible) line(one);
  }
  if (best.feasible) {
    line("");
    const std::string place =
        best.place.empty() || best.place == "location"
            ? ""
            : fmt::format(", and the keys of place \"{}\" put into `location`",
                          job_text(best.place, display));
    for (const std::string& one :
         wrapped(fmt::format("The sheet of the first: `slantrule plan` with sensors={}, "
                             "path.traverses={}, path.wall_mode={}{}.",
                             job_text(job.sensors.key, display), best.plan.traverses,
                             wave_mode_name(best.plan.wall_mode), place),
                 "", "")) {
      line(one);
    }
  }
  return out;
}

std::string compare_json(const Comparison& comparison, const std::string& version) {
  Json out = Json::object();
  out["slantrule"] = version;
  out["format"] = 1;
  const ComparedOption& best = *comparison.front();
  put(out, "tag", best.job.tag);
  put(out, "title", best.job.title);
  Json options = Json::array();
  const Display plain;
  std::size_t rank = 0;
  for (const auto& option : comparison) {
    const Plan& plan = option->plan;
    Json one = Json::object();
    one["rank"] = ++rank;
    one["traverses"] = plan.traverses;
    one["wall_mode"] = wave_mode_name(plan.wall_mode);
    if (option->job.pipe.liner) {
      one["liner_mode"] = wave_mode_name(option->job.path.liner_mode);
    }
    one["sensors"] = option->job.sensors.key;
    put(one, "place", option->place);
    one["feasible"] = option->feasible;
    one["why"] = reason_words(*option, best, plain);
    one["verdict"] = verdict_name(plan.verdict);
    if (plan.path) {
      one["path"] = path_json(option->job, plan);
      const PathMerit& merit = plan.merit;
      Json parts = Json::object();
      put(parts, "total", std::hypot(merit.u_percent, option->straight_run_percent));
      put(parts, "zero", merit.zero_percent);
      put(parts, "cross_flow", std::hypot(merit.cross_flow_percent, merit.opposite_percent));
      put(parts, "wall", merit.wall_percent);
      put(parts, "placement", merit.placement_percent);
      put(parts, "straight_run", option->straight_run_percent);
      one["flow_percent"] = std::move(parts);
      put(one, "smallest_velocity_m_s", merit.smallest_velocity_m_s);
    }
    if (plan.signal) {
      one["signal"] = signal_json(plan);
    } else if (plan.merit.loss_dB) {
      one["signal"] = {{"loss_dB", *plan.merit.loss_dB}};
    }
    one["straight_run"] = {{"upstream", run_json(plan.upstream)},
                           {"downstream", run_json(plan.downstream)}};
    options.push_back(std::move(one));
  }
  out["options"] = std::move(options);
  return one_line(out);
}

}  // namespace slantrule
