#include "slantrule/sheets/drawing.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "drawing_parts.hpp"

namespace slantrule {
namespace {

constexpr double between = 4;

std::string picture(const View& view, std::string_view title) {
  return svg_opening(view.width, view.height, title, false) + view.content + "</svg>\n";
}

std::string moved(const View& view, double x, double y) {
  return fmt::format("<g transform=\"translate({} {})\">\n{}</g>\n", svg_number(x), svg_number(y),
                     view.content);
}

/// Which job and candidate a pair of views belongs to.
std::string name_of(const PlannedVariant& variant, const Display& display) {
  std::string name = job_text(variant.job.tag.empty() ? "(no tag)" : variant.job.tag, display);
  if (!variant.what.empty()) name += ": " + job_text(variant.what, display);
  return name;
}

}  // namespace

std::string side_view_svg(const PlannedVariant& variant, const Display& display,
                          const DrawnResponse& response) {
  const auto view = side_view(variant, display, response);
  return view ? picture(*view, "Side view of pipe, sensors and sound path") : std::string();
}

std::string end_view_svg(const PlannedVariant& variant, const Display& display) {
  return picture(end_view(variant, display), "End view of the pipe, looking with the flow");
}

std::string drawings_svg(const std::vector<PlannedJob>& jobs, const Display& display) {
  constexpr double width = side_view_width + between + end_view_width;
  std::string content;
  double top = 0;
  for (const PlannedJob& job : jobs) {
    for (const PlannedVariant& variant : job.variants) {
      SvgCanvas head;
      head.text({1, row_height}, text_within(name_of(variant, display), width - 2), Anchor::start,
                true);
      const auto side = side_view(variant, display, drawn_response(variant.plan));
      if (!side)
        head.text({1, 3 * row_height}, "No side view: there is no path, see the findings.");
      const View end = end_view(variant, display);
      const double below = top + 2 + row_height;
      content += moved({width, 0, head.content()}, 0, top);
      if (side) content += moved(*side, 0, below);
      content += moved(end, side_view_width + between, below);
      top = below + std::max(end.height, side ? side->height : 0) + between;
    }
  }
  // Paper white, whatever it is shown on.
  return svg_opening(width, top, "Side and end views of planned sensor pairs", true) +
         fmt::format("<rect width=\"{}\" height=\"{}\" fill=\"#fff\"/>\n", svg_number(width),
                     svg_number(top)) +
         content + "</svg>\n";
}

}  // namespace slantrule
