#include "text_sketch.hpp"

#include <algorithm>
#include <cmath>

namespace slantrule {
namespace {

void put(std::string& text, int column, std::string_view what) {
  const auto place = static_cast<std::size_t>(column);
  if (text.size() < place + what.size()) text.resize(place + what.size(), ' ');
  text.replace(place, what.size(), what);
}

}  // namespace

std::vector<std::string> text_sketch(const Sketch& sketch) {
  constexpr int most_width = 54;
  constexpr int most_rows = 7;
  constexpr int margin = 14;  // room for the flow arrow, and for the pipe left of A
  const double ratio = sketch.exit_spacing_m / sketch.bore_m;
  int rows = most_rows;
  int width = static_cast<int>(std::lround(2 * ratio * rows));
  if (width > most_width) {
    rows = std::max(2, static_cast<int>(std::lround(most_width / (2 * ratio))));
    width = most_width;
  }
  const int least_width = std::max(4, 2 * sketch.traverses);
  const bool in_proportion = width >= least_width && (rows > 2 || ratio <= 14);
  width = std::max(width, least_width);

  std::string above, below;
  put(above, margin, "A");
  put(sketch.traverses % 2 == 0 ? above : below, margin + width, "B");
  std::string face(static_cast<std::size_t>(margin - 4), ' ');
  face += std::string(static_cast<std::size_t>(width + 9), '=');

  std::vector<std::string> bore(static_cast<std::size_t>(rows));
  put(bore[static_cast<std::size_t>(rows / 2)], 0, "flow ==>");
  for (int traverse = 0; traverse < sketch.traverses; ++traverse) {
    const bool down = traverse % 2 == 0;
    for (int row = 0; row < rows; ++row) {
      const double across = (row + 0.5) / rows;
      const double along = (traverse + (down ? across : 1 - across)) / sketch.traverses;
      put(bore[static_cast<std::size_t>(row)],
          margin + static_cast<int>(std::lround(along * width)), down ? "\\" : "/");
    }
  }
  std::vector<std::string> lines = {above, face};
  lines.insert(lines.end(), bore.begin(), bore.end());
  lines.push_back(face);
  if (!below.empty()) lines.push_back(below);
  if (!in_proportion) lines.push_back(std::string(margin, ' ') + "(not in proportion)");
  return lines;
}

}  // namespace slantrule
