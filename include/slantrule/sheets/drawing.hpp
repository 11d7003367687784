#pragma once

/// Drawings of a planned pair as SVG: side view to scale, end view looking with the flow.
///
/// Black and white will do: what differs, differs by dash and hatching. No script, no fonts, no
/// references; a view is as wide as it is let be. Labels overlap neither each other nor lines.

#include <optional>
#include <string>
#include <vector>

#include "slantrule/sheets/sheet.hpp"

namespace slantrule {

/// A point of the response curve: what arrives at a mark spacing.
struct ResponsePoint {
  double spacing_m, level_dB;
};

/// What the signal's computation adds to the side view, as far as it was computed.
struct DrawnResponse {
  std::optional<SpacingWindow> window_3dB, window_6dB;  ///< mark spacings
  std::vector<ResponsePoint> curve;                     ///< by rising spacing; empty: none
};

/// Of the plan's signal.
DrawnResponse drawn_response(const Plan& plan);

/// Widths of the views in units of their viewBox; printed that many millimetres wide, their letters
/// are 3.6 mm in size and the stated scale holds.
inline constexpr double side_view_width = 112;
inline constexpr double end_view_width = 66;

/// Pipe, layers, bodies, ray, marks and windows to scale, the layers once more enlarged. On a stop
/// and while candidates are open, without any dimension of the spacing. Empty when there is no
/// path.
std::string side_view_svg(const PlannedVariant& variant, const Display& display,
                          const DrawnResponse& response = {});

/// Where round the pipe: clock positions, layers, gas and sediment zones, plane of the beam, way
/// round from the crown. Needs no path.
std::string end_view_svg(const PlannedVariant& variant, const Display& display);

/// Both views of every candidate of every job, in one SVG file.
std::string drawings_svg(const std::vector<PlannedJob>& jobs, const Display& display);

}  // namespace slantrule
