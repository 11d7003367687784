#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "drawing_parts.hpp"

namespace slantrule {
namespace {

/// The next of 1, 2, 5 times a power of ten from `least` on.
double round_step(double least) {
  const double decade = std::pow(10, std::floor(std::log10(least)));
  for (const double step : {1.0, 2.0, 5.0}) {
    if (step * decade >= least) return step * decade;
  }
  return 10 * decade;
}

double display_unit_m(const Display& display) {
  return display.units == UnitSystem::us ? 0.0254 : 1e-3;
}

/// "144.5 to 178.7 mm": the unit once, where both ends have the same.
std::string range_text(const SpacingWindow& window, const Display& display) {
  std::string from = length_text(window.from_m, display);
  const std::string to = length_text(window.to_m, display);
  const std::string unit = to.substr(std::min(to.find(' '), to.size()));
  if (!unit.empty() && from.ends_with(unit)) from.resize(from.size() - unit.size());
  return from + " to " + to;
}

/// A bar with its label, beside it or, where there is no room, below; returns the lower end.
double draw_window(SvgCanvas& canvas, double top, const SpacingAxis& axis,
                   const SpacingWindow& window, std::string_view name, const Display& display) {
  const double y = top + row_height;
  const double from = std::clamp(axis.x(window.from_m), axis.left, axis.right);
  const double to = std::clamp(axis.x(window.to_m), axis.left, axis.right);
  const double middle = y - 0.35 * letter_size;
  canvas.line({from, middle}, {std::max(to, from + 0.4), middle}, Pen::thick);
  for (const double x : {from, to}) canvas.line({x, middle - 1.2}, {x, middle + 1.2}, Pen::thin);
  const std::string words = fmt::format("{}: {}", name, range_text(window, display));
  const double width = text_width(words);
  if (to + 2 + width <= side_view_width - 1) {
    canvas.text({to + 2, y}, words);
  } else if (from - 2 - width >= 1) {
    canvas.text({from - 2, y}, words, Anchor::end);
  } else {
    canvas.text({1, y + row_height}, words);
    return y + row_height;
  }
  return y;
}

/// Pieces of the curve within the axis and above the lowest level shown.
std::vector<std::vector<At>> curve_pieces(const SpacingAxis& axis, const DrawnResponse& response,
                                          double low_dB, double bottom, double units_per_dB) {
  std::vector<std::vector<At>> pieces(1);
  for (const ResponsePoint& point : response.curve) {
    const double x = axis.x(point.spacing_m);
    if (x < axis.left || x > axis.right || !(point.level_dB >= low_dB)) {
      if (!pieces.back().empty()) pieces.emplace_back();
      continue;
    }
    pieces.back().push_back({x, bottom - (point.level_dB - low_dB) * units_per_dB});
  }
  if (pieces.back().empty()) pieces.pop_back();
  return pieces;
}

void spacing_ticks(SvgCanvas& canvas, const SpacingAxis& axis, double from, double to, double y,
                   const Display& display) {
  constexpr double least_apart = 17;
  const double unit_m = display_unit_m(display);
  const double step = round_step(least_apart / (axis.units_per_m * unit_m));
  const double first =
      std::ceil((from - axis.mark_a_x) / (axis.units_per_m * unit_m) / step) * step;
  for (double value = first; axis.x(value * unit_m) <= to; value += step) {
    const double x = axis.x(value * unit_m);
    canvas.line({x, y}, {x, y + 1}, Pen::thin);
    canvas.text({x, y + 1.4 + 0.8 * letter_size}, svg_number(value), Anchor::middle);
  }
}

double draw_curve(SvgCanvas& canvas, double top, const SpacingAxis& axis,
                  const DrawnResponse& response, const Display& display) {
  constexpr double height = 22, most_range_dB = 24;
  double high = response.curve.front().level_dB, low = high;
  for (const ResponsePoint& point : response.curve) {
    high = std::max(high, point.level_dB);
    low = std::min(low, point.level_dB);
  }
  high = std::ceil(high);
  low = std::min(high - 3, std::floor(std::max(low, high - most_range_dB)));
  const double y = top + row_height;
  canvas.text({axis.left, y}, fmt::format("level in dB, mark spacing in {}; dashed: planned",
                                          display.units == UnitSystem::us ? "in" : "mm"));
  const double box_top = y + 2, bottom = box_top + height;
  const double units_per_dB = height / (high - low);
  canvas.text({axis.left - 1, box_top + 0.7 * letter_size}, fmt::format("{:.0f}", high),
              Anchor::end);
  canvas.text({axis.left - 1, bottom}, fmt::format("{:.0f}", low), Anchor::end);
  const At frame[] = {
      {axis.left, box_top}, {axis.right, box_top}, {axis.right, bottom}, {axis.left, bottom}};
  canvas.polygon(frame, Pen::thin, Fill::none);
  for (const auto& piece : curve_pieces(axis, response, low, bottom, units_per_dB)) {
    canvas.polyline(piece, Pen::ray, "response");
  }
  const double planned = axis.x(axis.planned_m);
  if (planned > axis.left && planned < axis.right) {
    canvas.line({planned, box_top}, {planned, bottom}, Pen::dashed);
  }
  spacing_ticks(canvas, axis, axis.left + 4, axis.right - 4, bottom, display);
  return bottom + 1.4 + letter_size;
}

}  // namespace

double draw_response(SvgCanvas& canvas, double top, const SpacingAxis& axis,
                     const DrawnResponse& response, const Display& display) {
  double end = top;
  if (response.window_3dB || response.window_6dB) {
    end += row_height;
    canvas.text({1, end}, "Mark spacings at which the signal is within");
  }
  if (const auto& window = response.window_3dB) {
    end = draw_window(canvas, end, axis, *window, "3 dB", display);
  }
  if (const auto& window = response.window_6dB) {
    end = draw_window(canvas, end, axis, *window, "6 dB", display);
  }
  return response.curve.empty() ? end : draw_curve(canvas, end, axis, response, display);
}

DrawnResponse drawn_response(const Plan& plan) {
  DrawnResponse out;
  if (!plan.signal) return out;
  const PlanSignal& signal = *plan.signal;
  if (signal.window_3_dB.width_m() > 0) out.window_3dB = signal.window_3_dB;
  if (signal.window_6_dB.width_m() > 0) out.window_6dB = signal.window_6_dB;
  if (!signal.response) return out;
  for (const SpacingLevel& level : signal.response->levels) {
    out.curve.push_back({level.exit_spacing_m + signal.mark_offset_m, level.level_dB});
  }
  return out;
}

}  // namespace slantrule
