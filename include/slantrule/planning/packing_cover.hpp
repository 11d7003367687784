#pragma once

/// The fewest items of a kit that serve as many pipes as the whole kit would.

#include <cstddef>
#include <span>
#include <vector>

namespace slantrule {

/// Something that one of the items `items` has to do for `rows` pipes.
struct ServeNeed {
  std::vector<std::size_t> items;  ///< indices; none: no item can
  std::size_t rows = 1;
};

/// Indices of the items to take, ascending. Every need that any item meets is met. The fewest
/// possible where a search of 20 000 steps finds them, which it does for the kits of one truck;
/// else what taking the most useful item again and again comes to (at most 1 + ln(rows) times as
/// many: Chvatal, Math. Oper. Res. 4 (1979) 233, from memory). Of equally useful items the first.
std::vector<std::size_t> fewest_that_serve(std::span<const ServeNeed> needs,
                                           std::size_t item_count);

}  // namespace slantrule
