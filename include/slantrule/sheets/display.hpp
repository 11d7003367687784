#pragma once

/// How numbers are shown to people. Machine output doesn't come this way.

#include <optional>
#include <string>
#include <string_view>

#include "slantrule/planning/finding.hpp"
#include "slantrule/planning/safety.hpp"

namespace slantrule {

enum class UnitSystem { metric, us };

/// Settings of a sheet.
struct Display {
  UnitSystem units = UnitSystem::metric;
  bool utf8 = true;  ///< false: texts are cut down to ASCII
  /// Texts of the job stand between U+2068 and U+2069 (Unicode's isolates of writing direction),
  /// so that a renderer can set them apart. None of these is left in a job's text itself.
  bool isolate = false;
};

std::string length_text(double length_m, const Display& display);
/// To a given step, with as many decimals as the step has in millimetres (at most 3).
std::string setting_text(double length_m, double step_m, const Display& display);
std::string temperature_text(double temperature_K, const Display& display);
std::string pressure_text(double pressure_Pa, const Display& display);
std::string velocity_text(double velocity_m_s, const Display& display);
std::string sound_speed_text(double sound_speed_m_s, const Display& display);
std::string flow_text(double volume_flow_m3_s, const Display& display);
std::string time_text(double time_s);
std::string diameters_text(double diameters);
std::string angle_text(double angle_rad);
std::string value_text(const FindingValue& value, const Display& display);

/// A text of the job as it may be shown: no control characters, ASCII where it must be.
std::string job_text(std::string_view text, const Display& display);

struct FindingText {
  std::string message;
  std::string mend;
};
/// The words of a caution for people.
std::string safety_text(const SafetyCaution& caution, const Display& display);

/// The words of a finding: its row's text with the numbers put in.
FindingText finding_text(const Finding& finding, const Display& display);

}  // namespace slantrule
