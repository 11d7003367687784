#include "slantrule/units/number_text.hpp"

#include <algorithm>
#include <array>
#include <bit>
#include <cfloat>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <cstdlib>

#include "slantrule/units/ascii.hpp"

namespace slantrule {
namespace {

struct Replacement {
  std::string_view from, to;
};

constexpr Replacement kTypography[] = {
    {"\u00b0", "deg"},       {"\u00ba", "deg"},       {"\u02da", "deg"}, {"\u2103", "degC"},
    {"\u2109", "degF"},      {"\u212a", "K"},         {"\u00b5", "u"},   {"\u03bc", "u"},
    {"\u00b2", "^2"},        {"\u00b3", "^3"},        {"\u00b9", "^1"},  {"\u207b\u00b9", "^-1"},
    {"\u207b\u00b2", "^-2"}, {"\u207b\u00b3", "^-3"}, {"\u00b7", "*"},   {"\u22c5", "*"},
    {"\u2219", "*"},         {"\u00d7", "x"},         {"\u00b1", "+-"},  {"\u2030", "permille"},
    {"\u2248", "~"},         {"\u2264", "<"},         {"\u2265", ">"},   {"\u2044", "/"},
    {"\u2215", "/"},         {"\u2212", "-"},         {"\u2010", "-"},   {"\u2011", "-"},
    {"\u2012", "-"},         {"\u2013", "-"},         {"\u2014", "-"},   {"\u00a0", " "},
    {"\u2002", " "},         {"\u2003", " "},         {"\u2007", " "},   {"\u2009", " "},
    {"\u200a", " "},         {"\u202f", " "},         {"\u3000", " "},   {"\u2018", "'"},
    {"\u2019", "'"},         {"\u2032", "'"},         {"\u00b4", "'"},   {"\u201c", "\""},
    {"\u201d", "\""},        {"\u201f", "\""},        {"\u2033", "\""},  {"\u2008", " "},
    {"\u200b", ""},          {"\u200c", ""},          {"\u2060", ""},    {"\ufeff", ""},
};

constexpr Replacement kVulgarFractions[] = {
    {"\u00bd", "1/2"}, {"\u00bc", "1/4"}, {"\u00be", "3/4"}, {"\u215b", "1/8"}, {"\u215c", "3/8"},
    {"\u215d", "5/8"}, {"\u215e", "7/8"}, {"\u2153", "1/3"}, {"\u2154", "2/3"}, {"\u2155", "1/5"},
    {"\u2156", "2/5"}, {"\u2157", "3/5"}, {"\u2158", "4/5"}, {"\u2159", "1/6"}, {"\u215a", "5/6"},
};

const Replacement* replacement_at(std::string_view text, const Replacement* first,
                                  const Replacement* last) {
  const auto* found =
      std::find_if(first, last, [&](const Replacement& one) { return text.starts_with(one.from); });
  return found == last ? nullptr : found;
}

bool digit_at(std::string_view text, std::size_t at) {
  return at < text.size() && is_digit(text[at]);
}

std::size_t digits_at(std::string_view text, std::size_t at) {
  const std::size_t start = at;
  while (digit_at(text, at)) ++at;
  return at - start;
}

/// A vulgar fraction joins the whole number before it; alone it gets the whole number 0, so that it
/// can't be mistaken for two values with a slash between them.
void append_vulgar(std::string& out, std::string_view fraction) {
  const std::size_t last = out.find_last_not_of(' ');
  const bool after_digit = last != std::string::npos && is_digit(out[last]);
  const bool after_hyphen = last != std::string::npos && last > 0 && last + 1 == out.size() &&
                            out[last] == '-' && is_digit(out[last - 1]);
  if (after_digit) {
    out += ' ';
  } else if (!after_hyphen) {
    out += "0 ";
  }
  out += fraction;
  out += ' ';
}

bool starts_with_word(std::string_view text, std::string_view lower_word) {
  if (text.size() < lower_word.size()) return false;
  for (std::size_t i = 0; i < lower_word.size(); ++i) {
    if ((text[i] | 0x20) != lower_word[i]) return false;
  }
  const char next = text.size() > lower_word.size() ? text[lower_word.size()] : ' ';
  return !((next | 0x20) >= 'a' && (next | 0x20) <= 'z');
}

struct Fraction {
  unsigned numerator, denominator;
  std::size_t end;
};

std::optional<Fraction> fraction_at(std::string_view text, std::size_t at) {
  // Four digits are more than any tape has, and can't overflow.
  const std::size_t above = digits_at(text, at);
  if (above == 0 || above > 4 || at + above >= text.size() || text[at + above] != '/') return {};
  const std::size_t below_at = at + above + 1;
  const std::size_t below = digits_at(text, below_at);
  if (below == 0 || below > 4) return {};
  Fraction found{0, 0, below_at + below};
  std::from_chars(text.data() + at, text.data() + at + above, found.numerator);
  std::from_chars(text.data() + below_at, text.data() + found.end, found.denominator);
  return found;
}

/// Whether the digits of `token` stand in groups as thousands do: "1,234,567", "1.234,5".
bool grouped_in_thousands(std::string_view token) {
  const char group = *std::find_if_not(token.begin(), token.end(), is_digit);
  std::size_t at = digits_at(token, 0);
  if (at == 0 || at > 3) return false;
  while (at < token.size() && token[at] == group) {
    const std::size_t digits = digits_at(token, at + 1);
    if (digits != 3) return false;
    at += 1 + digits;
  }
  if (at == token.size()) return true;
  return at + 1 + digits_at(token, at + 1) == token.size();  // the other sign is the decimal one
}

/// `token` without thousands separators and with a decimal dot. The last sign is the decimal one
/// unless it occurs before as well.
std::string without_separators(std::string_view token) {
  const std::size_t last = token.find_last_of(".,");
  const bool has_decimal = token.find(token[last]) == last;
  std::string plain;
  for (std::size_t i = 0; i < token.size(); ++i) {
    if (is_digit(token[i])) {
      plain += token[i];
    } else if (i == last && has_decimal) {
      plain += '.';
    }
  }
  return plain;
}

/// Length of an exponent ("e-3") at `at`; 0 if there is none.
std::size_t exponent_length(std::string_view text, std::size_t at) {
  if (at >= text.size() || (text[at] != 'e' && text[at] != 'E')) return 0;
  std::size_t digits = at + 1;
  if (digits < text.size() && (text[digits] == '+' || text[digits] == '-')) ++digits;
  const std::size_t count = digits_at(text, digits);
  return count == 0 ? 0 : digits + count - at;
}

/// Judges digits with dots and commas between them; a digit stands behind each of these.
NumberFault decimal_fault(std::string_view token, std::string (&readings)[2]) {
  const auto dots = std::count(token.begin(), token.end(), '.');
  const auto commas = std::count(token.begin(), token.end(), ',');
  if (commas == 0 && dots <= 1) return NumberFault::none;
  if (commas == 1 && dots == 0) {
    const std::string_view whole = token.substr(0, token.find(','));
    const std::string_view behind = token.substr(whole.size() + 1);
    if (whole.empty()) {
      readings[0] = "0.";
      readings[0] += behind;
      return NumberFault::malformed;
    }
    if (behind.size() != 3 || whole == "0") return NumberFault::none;
    readings[0] = whole;
    readings[1] = readings[0] + std::string(behind);
    readings[0] += '.';
    readings[0] += behind;
    return NumberFault::comma;
  }
  if (!grouped_in_thousands(token)) return NumberFault::malformed;
  readings[0] = without_separators(token);
  return NumberFault::separators;
}

/// Reads a fraction, alone or behind the whole number that stands from `start` to `end`; false
/// where there is none.
bool read_fraction(std::string_view text, std::size_t start, std::size_t end, NumberText& number) {
  std::optional<Fraction> part = fraction_at(text, start);
  number.slash_only = part.has_value();
  double whole = 0;
  bool good = false;
  if (part) {
    // "48/54" and "4/8" may be two values; an odd numerator over a power of two is a tape's.
    good = part->numerator % 2 == 1 && part->numerator < part->denominator &&
           std::has_single_bit(part->denominator) && part->denominator <= 128;
    if (!good) {
      number.fault = NumberFault::fraction;
      number.readings[0] = std::to_string(part->numerator);
      number.readings[1] = std::to_string(part->denominator);
    }
  } else {
    if (end >= text.size() || (text[end] != '-' && text[end] != ' ')) return false;
    const std::size_t blanks = std::min(text.find_first_not_of(' ', end), text.size());
    part = fraction_at(text, text[end] == '-' ? end + 1 : blanks);
    if (!part) return false;
    // More digits would not be a whole number of anything.
    good = part->numerator > 0 && part->numerator < part->denominator && part->denominator <= 128 &&
           end - start <= 9;
    std::from_chars(text.data() + start, text.data() + end, whole);
    if (!good) number.fault = NumberFault::malformed;
  }
  number.length = part->end;

  const std::string_view behind = text.substr(part->end);
  const bool goes_on =
      digit_at(behind, 0) ||
      (!behind.empty() && std::string_view("./,").find(behind[0]) != std::string_view::npos &&
       digit_at(behind, 1));
  if (goes_on) {  // "1/6/2015"
    number.fault = NumberFault::malformed;
    number.readings[0].clear();
    number.readings[1].clear();
  } else if (good) {
    number.fault = NumberFault::none;
    number.fraction = whole + static_cast<double>(part->numerator) / part->denominator;
  }
  return true;
}

/// The value of plain digits with at most one dot or comma, times ten to `power`; nullopt: by
/// from_chars. Whole numbers of 15 digits and powers of ten up to 22 are exact in a double, so
/// their product or quotient is rounded once, as from_chars rounds (W. D. Clinger, "How to read
/// floating point numbers accurately", PLDI 1990, from memory).
std::optional<double> short_decimal(std::string_view decimal, int power) {
  static_assert(FLT_EVAL_METHOD == 0, "products must be rounded to double at once");
  static constexpr std::array<double, 23> powers_of_ten = {
      1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,  1e8,  1e9,  1e10, 1e11,
      1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};
  if (decimal.size() > 16) return {};
  std::int64_t digits = 0;
  int count = 0, behind_mark = 0;
  bool mark = false;
  for (const char c : decimal) {
    if (is_digit(c)) {
      digits = 10 * digits + (c - '0');
      ++count;
      behind_mark += mark;
    } else if ((c == '.' || c == ',') && !mark) {
      mark = true;
    } else {
      return {};
    }
  }
  const int exponent = power - behind_mark;
  if (count > 15 || exponent < -22 || exponent > 22) return {};
  const auto whole = static_cast<double>(digits);
  return exponent < 0 ? whole / powers_of_ten[static_cast<std::size_t>(-exponent)]
                      : whole * powers_of_ten[static_cast<std::size_t>(exponent)];
}

}  // namespace

std::string plain_text(std::string_view text) {
  std::string out;
  out.reserve(text.size());
  while (!text.empty()) {
    std::size_t used = 1;
    if (static_cast<unsigned char>(text[0]) < 0x80) {
      out += text[0] == '\t' ? ' ' : text[0];
    } else if (const auto* sign =
                   replacement_at(text, std::begin(kTypography), std::end(kTypography))) {
      out += sign->to;
      used = sign->from.size();
    } else if (const auto* vulgar =
                   replacement_at(text, std::begin(kVulgarFractions), std::end(kVulgarFractions))) {
      append_vulgar(out, vulgar->to);
      used = vulgar->from.size();
    } else {
      out += text[0];
    }
    if (out.ends_with("''")) out.replace(out.size() - 2, 2, "\"");
    text.remove_prefix(used);
  }
  return out;
}

NumberText read_number(std::string_view text) {
  NumberText number;
  std::size_t at = 0;
  if (!text.empty() && (text[0] == '-' || text[0] == '+')) {
    number.negative = text[0] == '-';
    at = 1;
  }
  if (!digit_at(text, at)) {
    for (std::string_view word : {"nan", "inf", "infinity"}) {
      if (!starts_with_word(text.substr(at), word)) continue;
      number.fault = NumberFault::not_finite;
      number.length = at + word.size();
      return number;
    }
  }

  const std::size_t start = at;
  // A dot or comma belongs to the number only with a digit behind it: "4..6", "7, 8", "12 in.".
  while (digit_at(text, at) ||
         (at < text.size() && (text[at] == '.' || text[at] == ',') && digit_at(text, at + 1))) {
    ++at;
  }
  const std::string_view token = text.substr(start, at - start);
  number.length = at;
  if (token.empty()) return number;

  if (digits_at(token, 0) == token.size() && read_fraction(text, start, at, number)) return number;

  number.fault = decimal_fault(token, number.readings);
  number.length = at + exponent_length(text, at);
  if (number.fault == NumberFault::none) {
    number.decimal = text.substr(start, number.length - start);
  }
  return number;
}

std::optional<double> NumberText::times_ten_to(int power) const {
  double magnitude = 0;
  bool is_zero = false;
  if (decimal.empty()) {
    if (fault != NumberFault::none) return {};
    magnitude = fraction * std::pow(10.0, power);
  } else if (const auto value = short_decimal(decimal, power)) {
    return negative ? -*value : *value;
  } else {
    // from_chars rounds once; multiplying by the factor would round twice.
    const std::size_t exponent_at = std::min(decimal.find_first_of("eE"), decimal.size());
    const std::string_view mantissa = decimal.substr(0, exponent_at);
    is_zero = mantissa.find_first_of("123456789") == std::string_view::npos;
    if (!is_zero) {
      int exponent = 0;
      if (exponent_at < decimal.size()) {
        std::string_view digits = decimal.substr(exponent_at + 1);
        if (digits.front() == '+') digits.remove_prefix(1);
        const auto read = std::from_chars(digits.data(), digits.data() + digits.size(), exponent);
        // Far beyond a double, whatever the mantissa of a text of bounded length.
        constexpr int kFar = 1'000'000;
        if (read.ec != std::errc{} || std::abs(exponent) > kFar) return {};
      }
      std::string shifted(mantissa);
      std::replace(shifted.begin(), shifted.end(), ',', '.');
      shifted += 'e';
      shifted += std::to_string(exponent + power);
      const auto read = std::from_chars(shifted.data(), shifted.data() + shifted.size(), magnitude);
      if (read.ec != std::errc{}) return {};
    }
  }
  if (!std::isfinite(magnitude) || (magnitude == 0 && !is_zero && !decimal.empty())) return {};
  return negative ? -magnitude : magnitude;
}

std::string decimal_text(double value, int power) {
  if (value == 0) return "0";
  std::array<char, 32> buffer{};
  const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), std::abs(value),
                                 std::chars_format::scientific);
  const std::string_view shortest(buffer.data(), static_cast<std::size_t>(end.ptr - buffer.data()));
  const std::size_t e = shortest.find('e');
  int exponent = 0;
  const std::size_t exponent_digits = shortest[e + 1] == '+' ? e + 2 : e + 1;
  std::from_chars(shortest.data() + exponent_digits, end.ptr, exponent);
  exponent += power;

  std::string digits(1, shortest[0]);
  if (e > 2) digits += shortest.substr(2, e - 2);
  const std::string sign = value < 0 ? "-" : "";
  if (exponent < -5 || exponent >= 15) {
    if (digits.size() > 1) digits.insert(1, 1, '.');
    return sign + digits + "e" + std::to_string(exponent);
  }
  if (exponent < 0) {
    digits.insert(0, "0." + std::string(static_cast<std::size_t>(-exponent - 1), '0'));
  } else if (const auto whole = static_cast<std::size_t>(exponent) + 1; digits.size() > whole) {
    digits.insert(whole, 1, '.');
  } else {
    digits.append(whole - digits.size(), '0');
  }
  return sign + digits;
}

}  // namespace slantrule
