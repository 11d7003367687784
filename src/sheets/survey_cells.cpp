#include "survey_cells.hpp"

#include <fmt/compile.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <cstdint>

#include "slantrule/files/text_encoding.hpp"
#include "slantrule/units/suggest.hpp"

namespace slantrule {
namespace {

bool is_control(unsigned char c) {
  return c < 0x20 || c == 0x7F;
}

/// Whether a cell that a spreadsheet takes for a formula may begin so.
bool may_begin_formula(unsigned char c) {
  return c <= ' ' || c >= 0x7F || c == '=' || c == '+' || c == '-' || c == '@';
}

/// What of a text asks for more than to be copied.
struct Peculiar {
  bool unprintable = false;  ///< control bytes, or any but ASCII
  bool quote = false;
  bool separator = false;
};

/// Without branches, so that the compiler looks at many bytes at a time.
Peculiar peculiar(std::string_view text, char separator) {
  std::uint8_t unprintable = 0, quote = 0, separates = 0;
  for (const char c : text) {
    const auto byte = static_cast<std::uint8_t>(c);
    unprintable |= static_cast<std::uint8_t>(byte < 0x20) | static_cast<std::uint8_t>(byte >= 0x7F);
    quote |= static_cast<std::uint8_t>(c == '"');
    separates |= static_cast<std::uint8_t>(c == separator);
  }
  return {unprintable != 0, quote != 0, separates != 0};
}

/// `text` on one line, without anything that steers a terminal.
std::string on_one_line(std::string_view text) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] == '\n' && i > 0 && text[i - 1] == '\r') continue;
    out += is_control(static_cast<unsigned char>(text[i])) ? ' ' : text[i];
  }
  return shown(out, out.size());
}

std::string_view without_leading_blanks(std::string_view text) {
  constexpr std::array<std::string_view, 4> blanks{" ", "\u00a0", "\u3000", "\ufeff"};
  for (bool found = true; found;) {
    found = false;
    for (std::string_view blank : blanks) {
      if (!text.starts_with(blank)) continue;
      text.remove_prefix(blank.size());
      found = true;
    }
  }
  return text;
}

std::size_t skip_digits(std::string_view& text) {
  const auto* end =
      std::find_if_not(text.begin(), text.end(), [](char c) { return c >= '0' && c <= '9'; });
  const auto count = static_cast<std::size_t>(end - text.begin());
  text.remove_prefix(count);
  return count;
}

/// "-5.3", "+5,3", "-1E+02": what a spreadsheet can but take for a number.
bool plain_number(std::string_view text) {
  while (text.ends_with(' ')) text.remove_suffix(1);
  if (text.starts_with('-') || text.starts_with('+')) text.remove_prefix(1);
  std::size_t digits = skip_digits(text);
  if (text.starts_with('.') || text.starts_with(',')) {
    text.remove_prefix(1);
    digits += skip_digits(text);
  }
  if (digits == 0) return false;
  if (text.starts_with('e') || text.starts_with('E')) {
    text.remove_prefix(1);
    if (text.starts_with('-') || text.starts_with('+')) text.remove_prefix(1);
    if (skip_digits(text) == 0) return false;
  }
  return text.empty();
}

/// Whether a spreadsheet might take the cell for a formula.
bool looks_like_formula(std::string_view cell) {
  if (!may_begin_formula(static_cast<unsigned char>(cell.front()))) return false;
  const std::string_view text = without_leading_blanks(cell);
  constexpr std::array<std::string_view, 8> starts{"=",      "+",      "-",      "@",
                                                   "\uff1d", "\uff0b", "\uff0d", "\uff20"};
  return std::ranges::any_of(starts, [&](std::string_view one) { return text.starts_with(one); }) &&
         !plain_number(text);
}

void double_quotes(std::string& out, std::size_t from) {
  std::string doubled;
  for (char c : std::string_view(out).substr(from)) {
    if (c == '"') doubled += '"';
    doubled += c;
  }
  out.replace(from, std::string::npos, doubled);
}

void enclose(std::string& out, std::size_t from, bool has_quotes) {
  if (has_quotes) double_quotes(out, from);
  out.insert(from, 1, '"');
  out += '"';
}

}  // namespace

void append_csv_number(std::string& out, double value) {
  if (!std::isfinite(value)) return;
  std::array<char, 32> digits;
  char* const begin = digits.data();
  char* end = nullptr;
  const double size = std::fabs(value);
  if (size < 1e15 && std::trunc(value) == value) {
    // A whole number needs no search for the shortest digits.
    end = std::to_chars(begin, begin + digits.size(), static_cast<std::int64_t>(value)).ptr;
  } else if (size >= 1e-3 && size < 1e15) {
    // The same digits as by to_chars, in half the time; beyond, the two differ in where they begin
    // to write exponents.
    end = fmt::format_to(begin, FMT_COMPILE("{}"), value);
  } else {
    end = std::to_chars(begin, begin + digits.size(), value).ptr;
  }
  out.append(begin, static_cast<std::size_t>(end - begin));
}

void make_text_cell(std::string& out, std::size_t from, char separator) {
  const auto cell = [&] { return std::string_view(out).substr(from); };
  if (cell().empty()) return;
  const Peculiar found = peculiar(cell(), separator);
  bool formula = false;
  if (found.unprintable) {
    constexpr std::string_view dangerous = "\t\r\n";
    formula = dangerous.find(out[from]) != std::string_view::npos;
    const std::string clean = on_one_line(cell());
    out.replace(from, std::string::npos, clean);
  }
  if (formula || looks_like_formula(cell())) out.insert(from, 1, '\'');
  // A tab has become a blank.
  const bool splits = found.separator && separator != '\t';
  if (found.quote || splits) enclose(out, from, found.quote);
}

void make_original_cell(std::string& out, std::size_t from, char separator) {
  const auto cell = [&] { return std::string_view(out).substr(from); };
  if (cell().empty()) return;
  const Peculiar found = peculiar(cell(), separator);
  bool breaks = false, formula = false;
  if (found.unprintable) {
    if (!is_utf8(cell())) {
      const std::string clean = on_one_line(cell());
      out.replace(from, std::string::npos, clean);
    }
    constexpr std::string_view dangerous = "\t\r\n";
    formula = dangerous.find(out[from]) != std::string_view::npos;
    breaks = cell().find_first_of("\r\n") != std::string_view::npos;
  }
  if (formula || looks_like_formula(cell())) out.insert(from, 1, '\'');
  if (found.quote || found.separator || breaks) enclose(out, from, found.quote);
}

}  // namespace slantrule
