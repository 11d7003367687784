#include "json_writer.hpp"

#include <array>
#include <nlohmann/json.hpp>

namespace slantrule {
namespace {

constexpr char32_t replacement = 0xFFFD;

struct Decoded {
  char32_t code;
  std::size_t length;  ///< bytes taken; of faulty text the longest beginning of a character
};

/// The character at the start of `text`, which begins with a byte above 0x7F.
Decoded decoded(std::string_view text) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned lead = byte(0);
  if (lead < 0xC2 || lead > 0xF4) return {replacement, 1};
  const std::size_t length = lead >= 0xF0 ? 4 : lead >= 0xE0 ? 3 : 2;
  // The second byte's range is what keeps out overlong forms, surrogates and what lies beyond.
  const unsigned least = lead == 0xE0 ? 0xA0 : lead == 0xF0 ? 0x90 : 0x80;
  const unsigned most = lead == 0xED ? 0x9F : lead == 0xF4 ? 0x8F : 0xBF;
  char32_t code = lead & (0xFFU >> (length + 1));
  for (std::size_t i = 1; i < length; ++i) {
    if (i >= text.size()) return {replacement, i};
    const bool fits = i == 1 ? byte(i) >= least && byte(i) <= most : (byte(i) & 0xC0U) == 0x80U;
    if (!fits) return {replacement, i};
    code = (code << 6) | (byte(i) & 0x3FU);
  }
  return {code, length};
}

void append_unit(std::string& out, unsigned unit) {
  constexpr std::string_view digits = "0123456789abcdef";
  const char escape[] = {'\\',
                         'u',
                         digits[unit >> 12 & 15],
                         digits[unit >> 8 & 15],
                         digits[unit >> 4 & 15],
                         digits[unit & 15]};
  out.append(escape, sizeof escape);
}

void append_escaped(std::string& out, char32_t code) {
  switch (code) {
    case '\b':
      out += "\\b";
      break;
    case '\t':
      out += "\\t";
      break;
    case '\n':
      out += "\\n";
      break;
    case '\f':
      out += "\\f";
      break;
    case '\r':
      out += "\\r";
      break;
    case '"':
      out += "\\\"";
      break;
    case '\\':
      out += "\\\\";
      break;
    default:
      if (code < 0x10000) {
        append_unit(out, code);
      } else {  // a pair of surrogates
        append_unit(out, 0xD7C0U + (code >> 10));
        append_unit(out, 0xDC00U + (code & 0x3FFU));
      }
  }
}

bool plain(char c) {
  const auto byte = static_cast<unsigned char>(c);
  return byte >= 0x20 && byte < 0x7F && c != '"' && c != '\\';
}

}  // namespace

void append_json_string(std::string& out, std::string_view text) {
  out += '"';
  while (!text.empty()) {
    std::size_t run = 0;
    while (run < text.size() && plain(text[run])) ++run;
    out.append(text.data(), run);
    text.remove_prefix(run);
    if (text.empty()) break;
    const auto byte = static_cast<unsigned char>(text.front());
    const Decoded next = byte < 0x80 ? Decoded{byte, 1} : decoded(text);
    append_escaped(out, next.code);
    text.remove_prefix(next.length);
  }
  out += '"';
}

void append_json_number(std::string& out, double value) {
  // The library's own routine: numbers of all its objects and of ours are spelt alike.
  std::array<char, 64> buffer;
  const char* end = nlohmann::detail::to_chars(buffer.data(), buffer.data() + buffer.size(), value);
  out.append(buffer.data(), static_cast<std::size_t>(end - buffer.data()));
}

}  // namespace slantrule
