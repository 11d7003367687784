#pragma once

#include <string>
#include <string_view>

/// Texts byte by byte, whatever the locale: ASCII is meant, other bytes stay as they are.

namespace slantrule {

constexpr bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

constexpr char lower(char c) {
  return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

inline std::string lower(std::string_view text) {
  std::string out(text);
  for (char& c : out) c = lower(c);
  return out;
}

/// Without blanks, tabs and line ends before and behind.
constexpr std::string_view trimmed(std::string_view text) {
  const auto is_blank = [](char c) { return c == ' ' || c == '\t' || c == '\r' || c == '\n'; };
  while (!text.empty() && is_blank(text.front())) text.remove_prefix(1);
  while (!text.empty() && is_blank(text.back())) text.remove_suffix(1);
  return text;
}

}  // namespace slantrule
