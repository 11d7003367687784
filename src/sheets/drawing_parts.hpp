#pragma once

/// What the drawings share: the layers as they lie, and the pair as it sits on them. In metres, x
/// from A's exit point with the flow, y from the outer face on A's side into the pipe.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "slantrule/sheets/drawing.hpp"
#include "svg_canvas.hpp"

namespace slantrule {

struct DrawnLayer {
  Texture texture;
  std::string_view name;  ///< "wall"
  double thickness_m;
  double run_m = 0;      ///< of the ray in one crossing
  double angle_rad = 0;  ///< of the ray
  bool has_ray = true;   ///< false: no part of the planned path
  std::string material;  ///< as shown
};

/// A drawn view, to be put into a picture.
struct View {
  double width, height;
  std::string content;
};
/// Absent when there is no path.
std::optional<View> side_view(const PlannedVariant& variant, const Display& display,
                              const DrawnResponse& response);
View end_view(const PlannedVariant& variant, const Display& display);

/// From the outside inwards, deposit included; rays as far as there is a path.
std::vector<DrawnLayer> drawn_layers(const PlannedVariant& variant, const Display& display);

/// Outside diameter over a coating that stays under the sensors.
double outer_diameter_m(const PlannedVariant& variant);

/// The outline of one body, seen from its exit point.
struct DrawnBody {
  double front_m, rear_m;  ///< ahead of and behind the exit point
  double height_m;         ///< never known: indicated
  double path_m;           ///< the sound's way in the wedge, or an indicated one
  double element_m;        ///< 0: not known
  bool outline_known, path_known;
};
DrawnBody drawn_body(const ResolvedSensors& sensors);

/// Corners of the ray from A's exit point to B's. Needs a path.
std::vector<At> ray_corners_m(const PlannedVariant& variant, const std::vector<DrawnLayer>& layers);

/// A scale that a reader can name: "1 : 4.2" for 1/4.2, "5 : 1" for 5.
std::string scale_text(double drawn_per_true);

/// The layers at A enlarged, with the ray and its angles: drawn below `top`; returns the lower end.
double draw_detail(SvgCanvas& canvas, double top, double units_per_m, const PlannedVariant& variant,
                   const Display& display);

/// Windows and response curve below the view, `x_of` a mark spacing on its axis; returns the lower
/// end.
struct SpacingAxis {
  double mark_a_x;  ///< of A's mark
  double units_per_m;
  double planned_m;    ///< the planned mark spacing
  double left, right;  ///< within which is drawn

  double x(double spacing_m) const { return mark_a_x + units_per_m * spacing_m; }
};
double draw_response(SvgCanvas& canvas, double top, const SpacingAxis& axis,
                     const DrawnResponse& response, const Display& display);

}  // namespace slantrule
