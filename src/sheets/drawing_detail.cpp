#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "drawing_parts.hpp"

namespace slantrule {
namespace {

constexpr double left = 3, right = 46;  // of the window
constexpr double labels_x = 52;
constexpr double most_wedge = 10, most_liquid = 10, most_layers_height = 18;

/// The arc of an angle from the normal at `at`; `up`: above the interface, where the ray comes
/// from.
void angle_arc(SvgCanvas& canvas, At at, double angle_rad, double radius, bool up) {
  std::vector<At> points;
  constexpr int steps = 12;
  const double way = up ? -1 : 1;
  for (int i = 0; i <= steps; ++i) {
    const double a = angle_rad * i / steps;
    points.push_back({at.x + way * radius * std::sin(a), at.y + way * radius * std::cos(a)});
  }
  canvas.polyline(points, Pen::thin);
}

struct Arc {
  At at;
  double angle_rad;
};

/// A medium with its label: where the leader ends, and what it says.
struct Labelled {
  At dot;
  std::string words;
};

void label_rows(SvgCanvas& canvas, double first_baseline, const std::vector<Labelled>& rows) {
  double y = first_baseline;
  for (const Labelled& row : rows) {
    canvas.circle(row.dot, 0.5, Pen::none, Fill::ink);
    canvas.line(row.dot, {labels_x - 1, y - 0.35 * letter_size}, Pen::thin);
    canvas.text({labels_x, y}, text_within(row.words, side_view_width - 1 - labels_x));
    y += row_height;
  }
}

std::string words_of(const DrawnLayer& layer, const Plan& plan, const Display& display) {
  const std::string thickness = length_text(layer.thickness_m, display);
  if (!layer.has_ray) return fmt::format("{} {}, not in the path", layer.name, thickness);
  const std::string wave =
      layer.texture == Texture::wall && plan.wall_mode == WaveMode::shear ? " (shear)" : "";
  return fmt::format("{} {}{}, {}", layer.name, angle_text(layer.angle_rad), wave, thickness);
}

}  // namespace

double draw_detail(SvgCanvas& canvas, double top, double units_per_m, const PlannedVariant& variant,
                   const Display& display) {
  const Plan& plan = variant.plan;
  const double wedge_rad = variant.job.sensors.wedge_angle_rad;
  const double liquid_rad = plan.path->ray.liquid_leg.angle_rad;
  const std::vector<DrawnLayer> layers = drawn_layers(variant, display);
  double thickness_m = 0, run_m = 0;
  for (const DrawnLayer& layer : layers) {
    thickness_m += layer.thickness_m;
    run_m += layer.run_m;
  }

  // The ray takes a part of the window's width in wedge and liquid, the layers have the rest.
  const double wedge_height = std::min(most_wedge, 12 / std::tan(wedge_rad));
  const double liquid_height = std::min(most_liquid, 12 / std::max(1e-3, std::tan(liquid_rad)));
  const double wedge_run = wedge_height * std::tan(wedge_rad);
  const double liquid_run = liquid_height * std::tan(liquid_rad);
  const double rest = right - left - 6 - wedge_run - liquid_run;
  const double scale = std::min(most_layers_height / thickness_m, run_m > 0 ? rest / run_m : 1e9);

  double y = top + row_height;
  canvas.text({1, y}, fmt::format("Detail at A, {} times the view; angles from the normal",
                                  fmt::format("{:.{}f}", scale / units_per_m,
                                              scale / units_per_m < 10 ? 1 : 0)));
  y += 2;
  const double face = y + std::max(wedge_height, 2.0 * row_height);
  const double exit_x = left + 3 + wedge_run;

  // The wedge, from the window's edge to its front end.
  const double front =
      std::clamp(exit_x + scale * drawn_body(variant.job.sensors).front_m, exit_x + 1, right);
  const At wedge[] = {{left, y}, {front, y}, {front, face}, {left, face}};
  canvas.polygon(wedge, Pen::none, Fill::pale);
  if (front < right) canvas.line({front, y}, {front, face}, Pen::outline);

  std::vector<Labelled> rows;
  rows.push_back({{front - 1.5, (y + face) / 2}, "wedge " + angle_text(wedge_rad)});
  std::vector<At> ray = {{exit_x - wedge_run, face - wedge_height}, {exit_x, face}};
  double below = face;
  bool too_thin = false;
  std::vector<Arc> arcs;
  for (const DrawnLayer& layer : layers) {
    const double height = scale * layer.thickness_m;
    too_thin = too_thin || height < 0.35;
    canvas.band({left, below}, {right, below + height}, layer.texture, "detail");
    rows.push_back({{right - 1.5, below + height / 2}, words_of(layer, plan, display)});
    if (layer.has_ray && height >= 6) {
      canvas.line(ray.back(), {ray.back().x, below + std::min(height, 7.0)}, Pen::centre);
      arcs.push_back({ray.back(), layer.angle_rad});
    }
    below += height;
    ray.push_back({ray.back().x + scale * layer.run_m, below});
  }
  const At inner = ray.back();
  const double bottom = below + liquid_height;
  ray.push_back({inner.x + liquid_run, bottom});
  rows.push_back({{right - 1.5, below + liquid_height / 2}, "liquid " + angle_text(liquid_rad)});

  canvas.line({exit_x, face - wedge_height}, {exit_x, std::min(below, face + 4)}, Pen::centre);
  for (const Arc& arc : arcs) angle_arc(canvas, arc.at, arc.angle_rad, 4.5, false);
  canvas.line({inner.x, std::max(face, inner.y - 4)}, {inner.x, bottom}, Pen::centre);
  angle_arc(canvas, {exit_x, face}, wedge_rad, 0.7 * wedge_height, true);
  angle_arc(canvas, inner, liquid_rad, 0.8 * liquid_height, false);
  canvas.polyline(ray, Pen::ray);
  canvas.arrow_head(ray.back(), std::sin(liquid_rad), std::cos(liquid_rad));
  for (const double x : {left, right}) canvas.line({x, y}, {x, bottom}, Pen::dashed);

  // Rows about as high as their media, so that leaders stay short.
  const double rows_height = row_height * static_cast<double>(rows.size());
  const double first = std::max(y + 0.75 * row_height, (y + bottom - rows_height) / 2 + row_height);
  label_rows(canvas, first, rows);
  double end = std::max(bottom, first + rows_height - row_height);
  if (too_thin) {
    end += row_height;
    canvas.text({1, end}, "A layer too thin for the scale is drawn as a line.");
  }
  return end;
}

}  // namespace slantrule
