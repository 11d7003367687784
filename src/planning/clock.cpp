#include "slantrule/planning/clock.hpp"

#include <charconv>
#include <cmath>
#include <numbers>

#include "slantrule/units/ascii.hpp"

namespace slantrule {
namespace {

std::optional<int> whole_number(std::string_view text) {
  int value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc{} || end != text.data() + text.size() || text.empty()) return std::nullopt;
  return value;
}

}  // namespace

std::optional<double> read_clock_h(std::string_view text) {
  text = trimmed(text);
  for (std::string_view behind : {"o'clock", "o’clock", "h"}) {
    if (text.ends_with(behind)) text = trimmed(text.substr(0, text.size() - behind.size()));
  }
  const std::size_t colon = text.find(':');
  const auto hours = whole_number(text.substr(0, colon));
  if (!hours || *hours < 0 || *hours > 12) return std::nullopt;
  int minutes = 0;
  if (colon != std::string_view::npos) {
    const std::string_view behind = text.substr(colon + 1);
    const auto read = whole_number(behind);
    if (!read || behind.size() != 2 || *read < 0 || *read > 59) return std::nullopt;
    minutes = *read;
  }
  return (*hours % 12) + minutes / 60.0;
}

std::string clock_text(double clock_h) {
  const int minutes = static_cast<int>(std::lround(clock_h * 60)) % 720;
  const int hours = minutes / 60;
  std::string text = std::to_string(hours == 0 ? 12 : hours);
  if (minutes % 60 == 0) return text;
  text += ':';
  if (minutes % 60 < 10) text += '0';
  return text + std::to_string(minutes % 60);
}

double opposite_clock_h(double clock_h) {
  return std::fmod(clock_h + 6, 12);
}

double angle_from_horizontal_rad(double clock_h) {
  const double from_three_h = std::fabs(std::remainder(clock_h - 3, 6));
  return from_three_h * std::numbers::pi / 6;
}

}  // namespace slantrule
