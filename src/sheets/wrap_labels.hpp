#pragma once

/// Places for words on a piece of paper where they hit neither each other nor a line.

#include <optional>
#include <string_view>
#include <vector>

namespace slantrule {

/// A rectangle in paper coordinates, millimetres.
struct PaperBox {
  double along_mm, round_mm, along_end_mm, round_end_mm;

  bool overlaps(const PaperBox& other) const {
    return along_mm < other.along_end_mm && other.along_mm < along_end_mm &&
           round_mm < other.round_end_mm && other.round_mm < round_end_mm;
  }
  bool holds(const PaperBox& other) const {
    return along_mm <= other.along_mm && other.along_end_mm <= along_end_mm &&
           round_mm <= other.round_mm && other.round_end_mm <= round_end_mm;
  }
};

class LabelPlaces {
 public:
  explicit LabelPlaces(const PaperBox& inside) : inside_(inside) {}

  void take(const PaperBox& box) { taken_.push_back(box); }
  bool is_free(const PaperBox& box) const;

  /// The free place of this size nearest to a wished one, taken at once; nullopt when there is
  /// none within reach.
  std::optional<PaperBox> find(double along_size_mm, double round_size_mm, double wished_along_mm,
                               double wished_round_mm, double along_reach_mm,
                               double round_reach_mm);

 private:
  PaperBox inside_;
  std::vector<PaperBox> taken_;
};

/// Upper bound of a line of words in an ordinary sans-serif face.
double label_width_mm(std::string_view text, double size_mm, bool bold);

}  // namespace slantrule
