#include "slantrule/planning/packing_cover.hpp"

#include <algorithm>

namespace slantrule {
namespace {

using Items = std::vector<std::size_t>;

bool meets(const ServeNeed& need, std::size_t item) {
  return std::ranges::find(need.items, item) != need.items.end();
}

bool met_by(const ServeNeed& need, const Items& items) {
  return std::ranges::any_of(items, [&](std::size_t item) { return meets(need, item); });
}

/// The most useful item again and again.
Items greedy(std::span<const ServeNeed> needs, std::size_t item_count) {
  Items taken;
  std::vector<bool> met(needs.size(), false);
  for (;;) {
    std::vector<std::size_t> gain(item_count, 0);
    for (std::size_t i = 0; i < needs.size(); ++i) {
      if (met[i]) continue;
      for (std::size_t item : needs[i].items) gain[item] += needs[i].rows;
    }
    const auto best = std::ranges::max_element(gain);
    if (best == gain.end() || *best == 0) return taken;
    taken.push_back(static_cast<std::size_t>(best - gain.begin()));
    for (std::size_t i = 0; i < needs.size(); ++i) {
      if (meets(needs[i], taken.back())) met[i] = true;
    }
  }
}

/// Takes out what later choices made needless, the last taken being looked at first.
Items without_needless(std::span<const ServeNeed> needs, Items taken) {
  for (std::size_t i = taken.size(); i-- > 0;) {
    Items others = taken;
    others.erase(others.begin() + static_cast<std::ptrdiff_t>(i));
    const bool needless = std::ranges::all_of(needs, [&](const ServeNeed& need) {
      return need.items.empty() || met_by(need, others) || !meets(need, taken[i]);
    });
    if (needless) taken = std::move(others);
  }
  return taken;
}

/// Looks for fewer items than are known to do, branching on the need with the fewest ways.
class Search {
 public:
  Search(std::span<const ServeNeed> needs, Items best) : needs_(needs), best_(std::move(best)) {}

  Items run() {
    descend();
    return best_;
  }

 private:
  void descend() {
    if (--steps_left_ < 0) return;
    const ServeNeed* narrowest = nullptr;
    for (const ServeNeed& need : needs_) {
      if (need.items.empty() || met_by(need, taken_)) continue;
      if (!narrowest || need.items.size() < narrowest->items.size()) narrowest = &need;
    }
    if (!narrowest) {
      if (taken_.size() < best_.size()) best_ = taken_;
      return;
    }
    if (taken_.size() + 1 >= best_.size()) return;
    for (std::size_t item : narrowest->items) {
      taken_.push_back(item);
      descend();
      taken_.pop_back();
    }
  }

  std::span<const ServeNeed> needs_;
  Items taken_, best_;
  int steps_left_ = 20'000;
};

}  // namespace

std::vector<std::size_t> fewest_that_serve(std::span<const ServeNeed> needs,
                                           std::size_t item_count) {
  Items taken = Search(needs, without_needless(needs, greedy(needs, item_count))).run();
  std::ranges::sort(taken);
  return taken;
}

}  // namespace slantrule
