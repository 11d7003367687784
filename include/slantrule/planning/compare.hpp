#pragma once

/// Every way to measure one pipe, side by side: traverse counts, waves in the wall, sensor pairs of
/// the kit, places on the line.

#include <cstdint>
#include <memory>
#include <string>
#include <vector>

#include "slantrule/planning/path_choice.hpp"
#include "slantrule/planning/plan.hpp"

namespace slantrule {

/// Why an option stands where it stands.
enum class Reason : std::uint8_t {
  best,          ///< the first
  obstacle,      ///< not possible: see the merit's obstacle
  stop,          ///< not possible: the finding named by `check`
  weak_signal,   ///< loss beyond what is comfortable
  least_flow,    ///< the least flow is below what it can tell from rest
  half_cycle,    ///< the greatest flow goes beyond half a period
  signal,        ///< behind the best mostly for its loss
  zero,          ///< ... its share of the transmitter's zero
  cross_flow,    ///< ... seeing flow across the pipe, and opposite sides to find
  wall,          ///< ... what the unknown wall does to it
  placement,     ///< ... what a slip in the spacing does to it
  straight_run,  ///< ... the straight pipe of its place
  cautions,      ///< ... the number of its cautions
  equal          ///< nothing worth a word
};

struct ComparedOption {
  ResolvedJob job;  ///< with this option's pair, place, traverses and mode
  Plan plan;        ///< holds views into `job`
  std::string place;
  bool feasible = false;
  double straight_run_percent = 0;  ///< what the straight pipe of the place costs
  double score = 0;
  Reason reason = Reason::best;
  CheckId check = CheckId::count_;  ///< of Reason::stop
};

/// Options, best first; those that are not possible last. Not movable one by one: plans hold views.
using Comparison = std::vector<std::unique_ptr<ComparedOption>>;

/// Compares 1 to 12 traverses, both waves in the wall, both in a liner whose wave isn't stated, the
/// job's pair and those of its kit, and the places it offers. What the job states of traverses and
/// wave is not taken for granted here.
Comparison compare(const ResolvedJob& job);

/// Where the job names no pair but its kit does, takes the pair of the kit that does best with this
/// pipe, and says so among the assumptions.
void settle_sensors(ResolvedJob& job);

}  // namespace slantrule
