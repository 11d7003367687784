#include "wrap_labels.hpp"

#include <algorithm>
#include <cmath>

namespace slantrule {

bool LabelPlaces::is_free(const PaperBox& box) const {
  return inside_.holds(box) &&
         std::ranges::none_of(taken_, [&](const PaperBox& one) { return one.overlaps(box); });
}

std::optional<PaperBox> LabelPlaces::find(double along_size_mm, double round_size_mm,
                                          double wished_along_mm, double wished_round_mm,
                                          double along_reach_mm, double round_reach_mm) {
  constexpr double step_mm = 1;
  std::optional<PaperBox> best;
  double best_mm = 0;
  const int most_along = static_cast<int>(along_reach_mm / step_mm);
  const int most_round = static_cast<int>(round_reach_mm / step_mm);
  for (int r = -most_round; r <= most_round; ++r) {
    for (int a = -most_along; a <= most_along; ++a) {
      const double distance_mm = std::hypot(a * step_mm, r * step_mm);
      if (best && distance_mm >= best_mm) continue;
      const double along_mm = wished_along_mm + a * step_mm;
      const double round_mm = wished_round_mm + r * step_mm;
      const PaperBox box{along_mm, round_mm, along_mm + along_size_mm, round_mm + round_size_mm};
      if (!is_free(box)) continue;
      best = box;
      best_mm = distance_mm;
    }
  }
  if (best) taken_.push_back(*best);
  return best;
}

double label_width_mm(std::string_view text, double size_mm, bool bold) {
  // Per em, over letters and digits of wide faces in common use; other writing may be full width.
  const double letter_em = bold ? 0.68 : 0.6;
  double width_em = 0;
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if ((byte & 0xC0) == 0x80) continue;
    const bool wide = byte >= 0x80 || c == 'M' || c == 'W' || c == 'm' || c == 'w' || c == '@';
    width_em += wide ? 1 : letter_em;
  }
  return width_em * size_mm;
}

}  // namespace slantrule
