#include "slantrule/sheets/display.hpp"

#include <fmt/compile.h>
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "slantrule/planning/check_table.hpp"
#include "slantrule/planning/clock.hpp"
#include "slantrule/units/quantity.hpp"
#include "slantrule/units/suggest.hpp"

namespace slantrule {
namespace {

/// A fixed number of decimals, trailing zeros off, never "-0".
std::string trimmed(double value, int decimals) {
  std::string text = fmt::format(FMT_COMPILE("{:.{}f}"), value, decimals);
  if (text.find('.') != std::string::npos) {
    while (text.back() == '0') text.pop_back();
    if (text.back() == '.') text.pop_back();
  }
  return text == "-0" ? "0" : text;
}

/// Three significant digits for numbers below a thousand, whole numbers above.
std::string significant(double value) {
  const double size = std::fabs(value);
  const int decimals = size >= 100 ? 0 : size >= 10 ? 1 : size >= 1 ? 2 : 3;
  return fmt::format(FMT_COMPILE("{:.{}f}"), value, decimals);
}

bool us(const Display& display) {
  return display.units == UnitSystem::us;
}

}  // namespace

std::string length_text(double length_m, const Display& display) {
  if (us(display)) {
    const double inches = length_m / 0.0254;
    if (std::fabs(inches) < 120) {
      return format_rounded(length_m, Dimension::length, "in", std::fabs(inches) < 20 ? 3 : 2);
    }
    return format_rounded(length_m, Dimension::length, "ft", 2);
  }
  if (std::fabs(length_m) < 1e-5) return trimmed(length_m * 1e3, 4) + " mm";
  if (std::fabs(length_m) < 1e-4) return trimmed(length_m * 1e3, 3) + " mm";
  if (std::fabs(length_m) < 2)
    return trimmed(length_m * 1e3, std::fabs(length_m) < 0.1 ? 2 : 1) + " mm";
  return format_rounded(length_m, Dimension::length, "m", 2);
}

std::string setting_text(double length_m, double step_m, const Display& display) {
  const double rounded_m = std::round(length_m / step_m) * step_m;
  if (us(display)) return format_rounded(rounded_m, Dimension::length, "in", 2);
  // As many decimals as the step has: a rail may count in 0.25 mm or in sixteenths of an inch.
  int decimals = 0;
  for (double step_mm = step_m * 1e3; decimals < 3; step_mm *= 10, ++decimals) {
    if (std::fabs(step_mm - std::round(step_mm)) < 1e-6) break;
  }
  return format_rounded(rounded_m, Dimension::length, "mm", decimals);
}

std::string temperature_text(double temperature_K, const Display& display) {
  return format_rounded(temperature_K, Dimension::temperature, us(display) ? "degF" : "degC", 1);
}

std::string pressure_text(double pressure_Pa, const Display& display) {
  if (us(display)) return fmt::format("{:.1f} psi absolute", pressure_Pa / 6894.757293168361);
  return fmt::format("{:.{}f} bar absolute", pressure_Pa / 1e5, pressure_Pa < 1e5 ? 3 : 2);
}

std::string velocity_text(double velocity_m_s, const Display& display) {
  if (us(display)) return significant(velocity_m_s / 0.3048) + " ft/s";
  if (std::fabs(velocity_m_s) < 0.1) return significant(velocity_m_s * 1e3) + " mm/s";
  return significant(velocity_m_s) + " m/s";
}

std::string sound_speed_text(double sound_speed_m_s, const Display& display) {
  if (us(display)) return fmt::format("{:.0f} ft/s", sound_speed_m_s / 0.3048);
  return fmt::format("{:.1f} m/s", sound_speed_m_s);
}

std::string flow_text(double volume_flow_m3_s, const Display& display) {
  if (us(display)) return significant(volume_flow_m3_s / 3.785411784e-3 * 60) + " US gpm";
  return significant(volume_flow_m3_s * 3600) + " m3/h";
}

std::string time_text(double time_s) {
  if (std::fabs(time_s) < 1e-6) return fmt::format("{:.2f} ns", time_s * 1e9);
  return fmt::format("{:.2f} us", time_s * 1e6);
}

std::string diameters_text(double diameters) {
  return trimmed(diameters, 2) + " D";
}

std::string angle_text(double angle_rad) {
  return trimmed(angle_rad * 180 / std::numbers::pi, 1) + " deg";
}

std::string value_text(const FindingValue& value, const Display& display) {
  const double x = value.value;
  switch (value.kind) {
    case ValueKind::none:
      return "an unknown amount";
    case ValueKind::length_m:
      return length_text(x, display);
    case ValueKind::temperature_K:
      return temperature_text(x, display);
    case ValueKind::temperature_difference_K:
      return us(display) ? trimmed(x * 1.8, 1) + " degF" : trimmed(x, 1) + " K";
    case ValueKind::pressure_Pa:
      return pressure_text(x, display);
    case ValueKind::velocity_m_s:
      return velocity_text(x, display);
    case ValueKind::diameters:
      return diameters_text(x);
    case ValueKind::percent:
      return trimmed(x, std::fabs(x) < 1 ? 2 : 1) + " %";
    case ValueKind::percent_low:
      return trimmed(x, 1) + " %, reading low";
    case ValueKind::percent_either:
      return trimmed(x, 1) + " % either way";
    case ValueKind::angle_rad:
      return angle_text(x);
    case ValueKind::clock_h:
      return clock_text(x);
    case ValueKind::number:
      return x >= 100 ? fmt::format("{:.0f}", x) : fmt::format("{:.3f}", x);
    case ValueKind::count:
      return trimmed(x, 0);
    case ValueKind::frequency_Hz:
      return trimmed(x * 1e-6, 3) + " MHz";
    case ValueKind::decibel:
      return trimmed(x, 0) + " dB";
    case ValueKind::time_s:
      return time_text(x);
  }
  return {};
}

std::string job_text(std::string_view text, const Display& display) {
  std::string out = shown(text, 400);
  if (!display.utf8) {
    std::string ascii;
    for (char c : out) {
      const auto byte = static_cast<unsigned char>(c);
      if (byte < 0x80) {
        ascii += c;
      } else if ((byte & 0xC0) != 0x80) {  // first byte of a code point
        ascii += '?';
      }
    }
    return ascii;
  }
  if (display.isolate && !out.empty()) return "\u2068" + out + "\u2069";
  return out;
}

namespace {

/// `words` with {0} to {3}, {s} and {d} put in.
std::string filled(std::string_view words, const std::array<FindingValue, 4>& values,
                   std::string_view subject, std::string_view detail, const Display& display) {
  std::string out;
  out.reserve(words.size() + 64);
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (words[i] != '{' || i + 2 >= words.size() || words[i + 2] != '}') {
      const std::size_t end = std::min(words.find('{', i + 1), words.size());
      out += words.substr(i, end - i);
      i = end - 1;
      continue;
    }
    const char which = words[i + 1];
    out += which == 's'   ? job_text(subject, display)
           : which == 'd' ? job_text(detail, display)
                          : value_text(values[static_cast<std::size_t>(which - '0')], display);
    i += 2;
  }
  if (!out.empty()) {
    out.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(out.front())));
  }
  return out;
}

}  // namespace

std::string safety_text(const SafetyCaution& caution, const Display& display) {
  return filled(safety_info(caution.id).text, {{caution.value}}, caution.subject, {}, display);
}

FindingText finding_text(const Finding& finding, const Display& display) {
  const CheckInfo& info = check_info(finding.check);
  return {filled(info.message, finding.values, finding.subject, finding.detail, display),
          filled(info.mend, finding.values, finding.subject, finding.detail, display)};
}

}  // namespace slantrule
