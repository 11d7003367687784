#pragma once

/// Clock positions round a horizontal pipe, looking with the flow: 12 is the crown, 6 the invert.

#include <optional>
#include <string>
#include <string_view>

namespace slantrule {

/// "3", "9:30", "12" -> hours in [0, 12); nullopt when the text is no clock position.
std::optional<double> read_clock_h(std::string_view text);

/// 3 -> "3", 9.5 -> "9:30".
std::string clock_text(double clock_h);

/// The other end of a diameter.
double opposite_clock_h(double clock_h);

/// Angle of a diameter from the horizontal, 0 to pi/2; the same for both of its ends.
double angle_from_horizontal_rad(double clock_h);

}  // namespace slantrule
