#include "survey_cells.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <cstdint>

#include "slantrule/units/suggest.hpp"

namespace slantrule {
namespace {

/// Kinds of bytes, as bits. `first` may begin what a spreadsheet takes for a formula.
constexpr std::uint8_t control = 1, high = 2, quote = 4, comma = 8, semicolon = 16, first = 32;

constexpr std::array<std::uint8_t, 256> kinds = [] {
  std::array<std::uint8_t, 256> out{};
  for (std::size_t i = 0; i < out.size(); ++i) {
    out[i] = i < 0x20 || i == 0x7F ? control | first : i >= 0x80 ? high | first : 0;
  }
  for (char c : {' ', '=', '+', '-', '@'}) out[static_cast<unsigned char>(c)] = first;
  out['"'] = quote;
  out[','] = comma;
  out[';'] = semicolon;
  return out;
}();

int kinds_in(std::string_view text) {
  int found = 0;
  for (char c : text) found |= kinds[static_cast<unsigned char>(c)];
  return found;
}

bool is(std::uint8_t kind, char c) {
  return (kinds[static_cast<unsigned char>(c)] & kind) != 0;
}

/// `text` on one line, without anything that steers a terminal.
std::string on_one_line(std::string_view text) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] == '\n' && i > 0 && text[i - 1] == '\r') continue;
    out += is(control, text[i]) ? ' ' : text[i];
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
  if (!is(first, cell.front())) return false;
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

}  // namespace

void append_csv_number(std::string& out, double value) {
  if (!std::isfinite(value)) return;
  std::array<char, 32> digits;
  char* const begin = digits.data();
  char* const end = begin + digits.size();
  // A whole number needs no search for the shortest digits.
  const bool whole = std::fabs(value) < 1e15 && std::trunc(value) == value;
  char* const last = whole ? std::to_chars(begin, end, static_cast<std::int64_t>(value)).ptr
                           : std::to_chars(begin, end, value).ptr;
  out.append(begin, static_cast<std::size_t>(last - begin));
}

void make_text_cell(std::string& out, std::size_t from, char separator) {
  const auto cell = [&] { return std::string_view(out).substr(from); };
  if (cell().empty()) return;
  const int found = kinds_in(cell());
  bool formula = false;
  if (found & (control | high)) {
    constexpr std::string_view dangerous = "\t\r\n";
    formula = dangerous.find(out[from]) != std::string_view::npos;
    const std::string clean = on_one_line(cell());
    out.replace(from, std::string::npos, clean);
  }
  if (formula || looks_like_formula(cell())) out.insert(from, 1, '\'');
  const int splits = separator == ';' ? semicolon : separator == ',' ? comma : 0;
  if (found & quote) double_quotes(out, from);
  if (found & (quote | splits)) {
    out.insert(from, 1, '"');
    out += '"';
  }
}

}  // namespace slantrule
