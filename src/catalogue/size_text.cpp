#include "size_text.hpp"

#include <algorithm>
#include <array>
#include <charconv>

namespace slantrule {
namespace {

struct Sign {
  char32_t code;
  std::string_view plain;
};

/// Signs and letters beyond ASCII, sorted by code point.
constexpr Sign signs[] = {
    {0x00A0, " "},    {0x00B0, " "},    {0x00B4, "'"},    {0x00BC, " 1/4"}, {0x00BD, " 1/2"},
    {0x00BE, " 3/4"}, {0x00C0, "a"},    {0x00C1, "a"},    {0x00C4, "a"},    {0x00C9, "e"},
    {0x00CD, "i"},    {0x00D1, "n"},    {0x00D3, "o"},    {0x00D6, "o"},    {0x00D7, " x "},
    {0x00D8, " od "}, {0x00DA, "u"},    {0x00DC, "u"},    {0x00E0, "a"},    {0x00E1, "a"},
    {0x00E4, "a"},    {0x00E8, "e"},    {0x00E9, "e"},    {0x00ED, "i"},    {0x00F1, "n"},
    {0x00F3, "o"},    {0x00F6, "o"},    {0x00F8, " od "}, {0x00FA, "u"},    {0x00FC, "u"},
    {0x0106, "c"},    {0x0107, "c"},    {0x010C, "c"},    {0x010D, "c"},    {0x0110, "d"},
    {0x0111, "d"},    {0x0118, "e"},    {0x0119, "e"},    {0x0141, "l"},    {0x0142, "l"},
    {0x0160, "s"},    {0x0161, "s"},    {0x017D, "z"},    {0x017E, "z"},    {0x0391, "a"},
    {0x0392, "b"},    {0x0395, "e"},    {0x0397, "h"},    {0x0399, "i"},    {0x039A, "k"},
    {0x039C, "m"},    {0x039D, "n"},    {0x039F, "o"},    {0x03A1, "p"},    {0x03A4, "t"},
    {0x03A5, "y"},    {0x03A6, " od "}, {0x03A7, "x"},    {0x03BF, "o"},    {0x03C6, " od "},
    {0x03D5, " od "}, {0x0410, "a"},    {0x0412, "b"},    {0x0415, "e"},    {0x041A, "k"},
    {0x041C, "m"},    {0x041D, "h"},    {0x041E, "o"},    {0x0420, "p"},    {0x0421, "c"},
    {0x0422, "t"},    {0x0423, "y"},    {0x0425, "x"},    {0x0430, "a"},    {0x0432, "b"},
    {0x0435, "e"},    {0x043A, "k"},    {0x043C, "m"},    {0x043D, "h"},    {0x043E, "o"},
    {0x0440, "p"},    {0x0441, "c"},    {0x0442, "t"},    {0x0443, "y"},    {0x0445, "x"},
    {0x2002, " "},    {0x2003, " "},    {0x2007, " "},    {0x2009, " "},    {0x200A, " "},
    {0x200B, ""},     {0x2010, "-"},    {0x2011, "-"},    {0x2012, "-"},    {0x2013, "-"},
    {0x2014, "-"},    {0x2018, "'"},    {0x2019, "'"},    {0x201A, ","},    {0x201C, "\""},
    {0x201D, "\""},   {0x201E, "\""},   {0x201F, "\""},   {0x202F, " "},    {0x2032, "'"},
    {0x2033, "\""},   {0x2044, "/"},    {0x2116, "#"},    {0x2153, " 1/3"}, {0x215B, " 1/8"},
    {0x215C, " 3/8"}, {0x215D, " 5/8"}, {0x215E, " 7/8"}, {0x2205, " od "}, {0x2212, "-"},
    {0x2215, "/"},    {0x2300, " od "}, {0x2715, " x "},  {0x2A2F, " x "},  {0x3000, " "},
    {0xFEFF, ""},
};
static_assert(std::ranges::is_sorted(signs, {}, &Sign::code));

/// The character at the start of `text`, and its length; U+FFFD with length 1 where the bytes are
/// no short UTF-8.
std::pair<char32_t, std::size_t> first_character(std::string_view text) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const auto follows = [&](std::size_t i) { return i < text.size() && (byte(i) & 0xC0U) == 0x80U; };
  const char32_t lead = byte(0);
  if (lead < 0x80) return {lead, 1};
  if (lead >= 0xC2 && lead < 0xE0 && follows(1)) {
    return {(lead & 0x1FU) << 6 | (byte(1) & 0x3FU), 2};
  }
  if (lead >= 0xE0 && lead < 0xF0 && follows(1) && follows(2)) {
    return {(lead & 0x0FU) << 12 | (byte(1) & 0x3FU) << 6 | (byte(2) & 0x3FU), 3};
  }
  return {0xFFFD, 1};
}

/// A letter that is drawn like "Ø": Cyrillic "ф", and "О" typed for it. It marks a diameter only in
/// front of a digit, and not inside a word.
bool is_drawn_diameter(char32_t code, std::string_view before, std::string_view behind) {
  const bool ef = code == 0x0424 || code == 0x0444;
  const bool o = code == 0x041E || code == 0x043E;
  if (!ef && !o) return false;
  if (!before.empty()) {
    const char last = before.back();
    if (is_letter(last) || is_digit(last)) return false;
  }
  if (ef && behind.starts_with(' ')) behind.remove_prefix(1);
  return !behind.empty() && is_digit(behind.front());
}

std::size_t digits(std::string_view text, std::size_t at) {
  std::size_t n = 0;
  while (at + n < text.size() && is_digit(text[at + n])) ++n;
  return n;
}

double value_of(std::string_view digits) {
  double value = 0;
  std::from_chars(digits.data(), digits.data() + digits.size(), value);
  return value;
}

/// The fraction of an inch that starts at `at`; empty where there is none.
std::string_view fraction_at(std::string_view text, std::size_t at) {
  const std::size_t above = digits(text, at);
  if (above == 0 || above > 2 || at + above >= text.size() || text[at + above] != '/') return {};
  const std::size_t below = digits(text, at + above + 1);
  const std::string_view under = text.substr(at + above + 1, below);
  static constexpr std::array<std::string_view, 6> powers{"2", "4", "8", "16", "32", "64"};
  if (std::ranges::find(powers, under) == powers.end()) return {};
  const std::string_view over = text.substr(at, above);
  const int numerator = static_cast<int>(value_of(over));
  if (numerator % 2 == 0 || numerator >= value_of(under)) return {};
  return text.substr(at, above + 1 + below);
}

double fraction_value(std::string_view fraction) {
  const std::size_t slash = fraction.find('/');
  return value_of(fraction.substr(0, slash)) / value_of(fraction.substr(slash + 1));
}

/// "1 016 x 12,5", "1 016 mm": a blank between thousands, in front of a wall or before a 0. Only
/// where nothing else can be meant: no pipe of NPS 1 or 2 has a diameter of three digits.
std::optional<WrittenNumber> thousands_at(std::string_view text, std::size_t at,
                                          std::size_t whole) {
  const std::size_t group = at + 2;
  if (whole != 1 || (text[at] != '1' && text[at] != '2') || group >= text.size() ||
      text[at + 1] != ' ' || digits(text, group) != 3 ||
      (at > 0 && (is_digit(text[at - 1]) || text[at - 1] == '/' || text[at - 1] == '-'))) {
    return std::nullopt;
  }
  WrittenNumber number;
  std::size_t end = group + 3;
  if (end < text.size() && (text[end] == '.' || text[end] == ',')) {
    number.decimals = static_cast<int>(digits(text, end + 1));
    if (number.decimals == 0 || number.decimals > 2) return std::nullopt;
    number.comma = text[end] == ',';
    end += 1 + static_cast<std::size_t>(number.decimals);
  }
  std::size_t behind = end;
  const auto skip_blanks = [&] {
    while (behind < text.size() && text[behind] == ' ') ++behind;
  };
  skip_blanks();
  if (text.substr(behind).starts_with("mm")) behind += 2;
  skip_blanks();
  const bool before_wall = behind < text.size() && text[behind] == 'x';
  const bool padded = text[group] == '0';  // "1 016": no number of its own starts with 0
  if (!before_wall && !(padded && behind >= text.size())) return std::nullopt;
  number.text = text.substr(at, end - at);
  number.length = end - at;
  std::string joined(number.text);
  std::erase(joined, ' ');
  std::ranges::replace(joined, ',', '.');
  number.value = value_of(joined);
  return number;
}

}  // namespace

std::string_view PlainText::written_part(std::string_view written, std::size_t begin,
                                         std::size_t end) const {
  return written.substr(from[begin], static_cast<std::size_t>(from[end] - from[begin]));
}

PlainText plain_size_text(std::string_view text) {
  PlainText plain;
  plain.text.reserve(text.size() + 16);
  plain.from.reserve(text.size() + 17);
  const auto put = [&](char c, std::size_t at) {
    plain.text += c;
    plain.from.push_back(static_cast<std::uint16_t>(at));
  };
  for (std::size_t at = 0; at < text.size();) {
    const char c = text[at];
    if (static_cast<unsigned char>(c) < 0x80) {
      if (c >= 'A' && c <= 'Z') {
        put(static_cast<char>(c - 'A' + 'a'), at);
      } else if (c == '\'' && !plain.text.empty() && plain.text.back() == '\'') {
        plain.text.back() = '"';
      } else {
        put(c == '*' ? 'x' : (c == '\t' || c == '\n' || c == '\r' ? ' ' : c), at);
      }
      ++at;
      continue;
    }
    const auto [code, length] = first_character(text.substr(at));
    const auto* sign = std::ranges::lower_bound(signs, code, {}, &Sign::code);
    if (is_drawn_diameter(code, plain.text, text.substr(at + length))) {
      for (char plain_c : std::string_view(" od ")) put(plain_c, at);
    } else if (sign != std::end(signs) && sign->code == code) {
      if (sign->plain == "'" && !plain.text.empty() && plain.text.back() == '\'') {
        plain.text.back() = '"';
      } else {
        const bool joined = !plain.text.empty() && plain.text.back() == '-' &&
                            sign->plain[0] == ' ' && sign->plain.size() == 4;  // "1-½"
        for (char plain_c : sign->plain.substr(joined ? 1 : 0)) put(plain_c, at);
      }
    } else if (code >= 0xFF01 && code <= 0xFF5E) {  // full-width forms of ASCII
      const char narrow = static_cast<char>(code - 0xFEE0);
      put(narrow >= 'A' && narrow <= 'Z' ? static_cast<char>(narrow - 'A' + 'a') : narrow, at);
    } else if (code >= 0x0410 && code <= 0x042F) {  // Cyrillic capitals
      const char32_t lower = code + 0x20;
      put(static_cast<char>(0xC0U | (lower >> 6)), at);
      put(static_cast<char>(0x80U | (lower & 0x3FU)), at);
    } else {
      for (std::size_t i = 0; i < length; ++i) put(text[at + i], at);
    }
    at += length;
  }
  plain.from.push_back(static_cast<std::uint16_t>(text.size()));
  return plain;
}

std::string WrittenNumber::plain() const {
  std::string out(text);
  std::erase(out, ' ');  // between thousands
  std::ranges::replace(out, ',', '.');
  if (!out.empty() && out.front() == '.') out.insert(0, 1, '0');
  if (!out.empty() && !fraction.empty()) out += '-';
  return out += fraction;
}

std::optional<WrittenNumber> number_at(std::string_view text, std::size_t at) {
  constexpr std::size_t most_digits = 15;  // as a double holds
  WrittenNumber number;
  number.fraction = fraction_at(text, at);
  if (!number.fraction.empty()) {  // 1/2
    number.value = fraction_value(number.fraction);
    number.length = number.fraction.size();
    return number;
  }
  const std::size_t whole = digits(text, at);
  std::size_t next = at + whole;
  if (next < text.size() && (text[next] == '.' || text[next] == ',')) {
    const std::size_t after = digits(text, next + 1);
    if (whole > 0) number.fraction = fraction_at(text, next + 1);  // 1.1/2
    if (after > 0 && number.fraction.empty()) {                    // 114.3, 114,3, .237
      if (whole + after > most_digits) return std::nullopt;
      number.comma = text[next] == ',';
      number.decimals = static_cast<int>(after);
      number.length = whole + 1 + after;
      number.text = text.substr(at, number.length);
      std::array<char, most_digits + 1> dotted;
      std::ranges::replace_copy(number.text, dotted.begin(), ',', '.');
      number.value = value_of({dotted.data(), number.text.size()});
      return number;
    }
  }
  if (whole == 0 || whole > most_digits) return std::nullopt;
  if (auto thousands = thousands_at(text, at, whole)) return thousands;
  number.text = text.substr(at, whole);
  number.value = value_of(number.text);
  if (!number.fraction.empty()) {
    next += 1;
  } else if (next < text.size() && (text[next] == '-' || text[next] == ' ')) {  // 1-1/2, 1 1/2
    const char joint = text[next];
    do ++next;
    while (joint == ' ' && next < text.size() && text[next] == ' ');
    number.fraction = fraction_at(text, next);
  }
  if (number.fraction.empty()) {
    number.length = whole;
  } else {
    number.value += fraction_value(number.fraction);
    number.length = next - at + number.fraction.size();
  }
  return number;
}

}  // namespace slantrule
