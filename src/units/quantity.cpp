#include "slantrule/units/quantity.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <limits>
#include <numeric>
#include <stdexcept>

#include "slantrule/units/ascii.hpp"
#include "slantrule/units/number_text.hpp"
#include "slantrule/units/suggest.hpp"
#include "unit_table.hpp"

namespace slantrule {
namespace {

constexpr std::size_t kLongestText = 200;
constexpr double kInch_m = 0.0254;  // exact by definition, NIST SP 811 (2008), appendix B
const double kRectangular = 1 / std::sqrt(3.0);  // JCGM 100:2008, 4.3.7: u = a / sqrt(3)

struct DimensionText {
  std::string_view name, example;
};

/// In the order of the enumeration.
constexpr std::array<DimensionText, 19> kDimensions = {{
    {"a length", "7.11 mm"},
    {"a length in pipe diameters", "12 D"},
    {"a temperature", "20 degC"},
    {"an absolute pressure", "5 bar absolute"},
    {"a gauge pressure", "4 bar gauge"},
    {"a volume flow", "60 m3/h"},
    {"a mass flow", "16 kg/s"},
    {"a velocity", "1.5 m/s"},
    {"a change of speed with temperature", "-1.9 m/s/K"},
    {"a dynamic viscosity", "1.2 mPa s"},
    {"a kinematic viscosity", "1.2 mm2/s"},
    {"a density", "998 kg/m3"},
    {"an angle", "38 deg"},
    {"a time", "20 us"},
    {"a frequency", "1 MHz"},
    {"a fraction", "5 %"},
    {"a mass fraction", "30 % mass"},
    {"a volume fraction", "2 % vol"},
    {"an attenuation", "3 dB/m"},
}};
static_assert(kDimensions.size() == static_cast<std::size_t>(Dimension::attenuation) + 1);

using Result = std::variant<Reading, QuantityProblem>;

constexpr bool is_letter(char c) {
  return (c | 0x20) >= 'a' && (c | 0x20) <= 'z';
}

bool same_letters(std::string_view text, std::string_view lower) {
  return text.size() == lower.size() &&
         std::equal(text.begin(), text.end(), lower.begin(),
                    [](char a, char b) { return a == b || (is_letter(a) && (a | 0x20) == b); });
}

bool is_pressure(Dimension dimension) {
  return dimension == Dimension::pressure_absolute || dimension == Dimension::pressure_gauge;
}

bool is_fraction(Dimension dimension) {
  return dimension == Dimension::fraction || dimension == Dimension::mass_fraction ||
         dimension == Dimension::volume_fraction;
}

/// The one conversion of a value; format_exact inverts it. nullopt beyond the range of a double.
std::optional<double> to_si(const NumberText& number, const Unit& unit) {
  if (unit.power_of_ten) return number.times_ten_to(*unit.power_of_ten);
  const auto value = number.times_ten_to(0);
  if (!value) return {};
  const double si = *value * unit.info.factor + unit.info.offset;
  const bool lost = si == 0 && *value != 0 && unit.info.offset == 0;
  if (!std::isfinite(si) || lost) return {};
  return si;
}

/// The same for a difference: without the unit's offset.
std::optional<double> difference_to_si(const NumberText& number, Unit unit) {
  unit.info.offset = 0;
  return to_si(number, unit);
}

/// Whether fractions are written with this unit; "5/8 mm" rather means two values.
bool takes_fractions(const Unit& unit) {
  return unit.info.name == "in" || unit.info.name == "ft" || unit.info.name == "yd";
}

/// "06/12/2024", "2024-11-07", "7.11.24", "07-Nov-2024".
bool is_date(std::string_view text) {
  if (text.size() < 6 || text.size() > 12 || !is_digit(text.front()) || !is_digit(text.back())) {
    return false;
  }
  const std::size_t first = text.find_first_of("/.-");
  if (first == std::string_view::npos) return false;
  const std::size_t second = text.find(text[first], first + 1);
  if (second == std::string_view::npos) return false;
  const auto digits = [](std::string_view part) {
    return std::all_of(part.begin(), part.end(), is_digit) ? part.size() : 0;
  };
  const std::size_t front = digits(text.substr(0, first));
  const std::string_view middle = text.substr(first + 1, second - first - 1);
  const std::size_t back = digits(text.substr(second + 1));
  const bool month = digits(middle) == 1 || digits(middle) == 2 ||
                     (middle.size() == 3 && std::all_of(middle.begin(), middle.end(), is_letter));
  const auto day = [](std::size_t count) { return count == 1 || count == 2; };
  return month && ((day(front) && (back == 2 || back == 4)) || (front == 4 && day(back)));
}

/// "7.11" for the number, whatever way it was written.
std::string number_for_message(const NumberText& number) {
  if (const auto value = number.times_ten_to(0)) return decimal_text(*value);
  return (number.negative ? "-" : "") + std::string(number.decimal);
}

/// Reads one text; one object per text.
class QuantityReader {
 public:
  QuantityReader(std::string_view text, Dimensions accepted) : text_(text), accepted_(accepted) {}

  Result read() {
    if (text_.size() > kLongestText) {
      return problem("is too long for a quantity; write it such as {}", example());
    }
    plain_ = plain_text(text_);
    if (is_date(trimmed(plain_))) {
      return problem("is a date; write the value with its unit, such as {}", example());
    }
    split_tolerance();
    if (auto wrong = take_coverage()) return *wrong;
    if (value_.empty() && has_tolerance_) {
      return problem("has no value before its tolerance; write it such as {}", example());
    }
    number_ = read_number(value_);
    unit_text_ = unit_part(value_, number_);
    if (has_tolerance_) {
      limit_ = read_number(tolerance_);
      limit_unit_text_ = unit_part(tolerance_, limit_);
      if (unit_text_.empty()) share_unit();
    }
    if (number_.fault != NumberFault::none) return number_problem(number_, unit_text_);
    if (has_tolerance_) {
      if (auto wrong = limit_problem()) return *wrong;
    }
    if (unit_text_.empty()) return no_unit();
    return read_with_unit();
  }

 private:
  template <typename... Args>
  QuantityProblem problem(fmt::format_string<Args...> rest, Args&&... args) const {
    return {fmt::format("\"{}\" ", shown(text_)) + fmt::format(rest, std::forward<Args>(args)...)};
  }

  Dimension first_accepted() const {
    for (std::size_t i = 0; i < kDimensions.size(); ++i) {
      if (accepted_.contains(static_cast<Dimension>(i))) return static_cast<Dimension>(i);
    }
    return Dimension::length;
  }

  std::string example() const { return fmt::format("\"{}\"", dimension_example(first_accepted())); }

  /// "20 degC +- 2 K", with `coverage` behind it.
  std::string example_with_limit(std::string_view coverage = {}) const {
    const Dimension dimension = first_accepted();
    const std::string_view value = dimension_example(dimension);
    if (dimension == Dimension::temperature) return fmt::format("\"{} +- 2 K{}\"", value, coverage);
    // Behind "5 %" the limit could be a share of the value.
    if (dimension == Dimension::fraction) return fmt::format("\"5 +- 0.2 %{}\"", coverage);
    return fmt::format("\"{} +- {} {}{}\"", value, dimension == Dimension::length ? "0.15" : "0.2",
                       example_unit(), coverage);
  }

  std::string_view example_unit() const {
    const std::string_view whole = dimension_example(first_accepted());
    return whole.substr(whole.find(' ') + 1);
  }

  /// What may be shown of a part of the text.
  static std::string part(std::string_view text) { return shown(trimmed(text), 40); }

  /// A unit to go on with in a message: as it was written, but words for ' and ", or the example's.
  std::string unit_for_message(std::string_view unit_text) const {
    const Unit* unit = find_unit(unit_text).unit;
    if (unit == nullptr) return std::string(example_unit());
    const bool is_mark = unit_text == "'" || unit_text == "\"";
    return is_mark ? std::string(unit->info.name) : part(unit_text);
  }

  /// Reads "(k=2)" behind a tolerance and blanks it out.
  std::optional<QuantityProblem> take_coverage() {
    const std::size_t equals = plain_.find('=');
    if (equals == std::string::npos) return {};
    const std::size_t open = plain_.rfind('(', equals);
    const std::size_t close = plain_.find(')', equals);
    const bool behind_limit = has_tolerance_ && open != std::string::npos &&
                              close != std::string::npos &&
                              plain_.data() + open > tolerance_.data();
    if (!behind_limit) {
      return problem("has \"=\" without a tolerance before it; write it such as {}",
                     example_with_limit(" (k=2)"));
    }
    const std::string_view all = plain_;
    const std::string_view name = trimmed(all.substr(open + 1, equals - open - 1));
    const std::string_view factor = trimmed(all.substr(equals + 1, close - equals - 1));
    if (!same_letters(name, "k") || (factor != "1" && factor != "2")) {
      return problem("has \"({}={})\" behind its tolerance; only (k=1) and (k=2) are known",
                     part(name), part(factor));
    }
    limit_to_u_ = factor == "1" ? 1.0 : 0.5;
    for (std::size_t i = open; i <= close; ++i) plain_[i] = ' ';
    return {};
  }

  void split_tolerance() {
    const std::string_view all = plain_;
    value_ = trimmed(all);
    for (std::size_t plus = all.find('+'); plus != std::string_view::npos;
         plus = all.find('+', plus + 1)) {
      const std::string_view behind = all.substr(plus);
      const std::size_t sign = behind.starts_with("+-") ? 2 : behind.starts_with("+/-") ? 3 : 0;
      if (sign == 0) continue;
      has_tolerance_ = true;
      value_ = trimmed(all.substr(0, plus));
      tolerance_ = trimmed(behind.substr(sign));
      return;
    }
  }

  /// What stands behind the number, less the hyphen of "4-inch".
  static std::string_view unit_part(std::string_view text, const NumberText& number) {
    std::string_view unit = trimmed(text.substr(number.length));
    if (unit.size() > 1 && unit[0] == '-' && is_letter(unit[1])) unit.remove_prefix(1);
    return unit;
  }

  /// "7.11 +- 0.15 mm" and "1482 +- 0.2 % m/s": the unit stands behind the tolerance.
  void share_unit() {
    unit_text_ = limit_unit_text_;
    if (!limit_unit_text_.starts_with('%')) return;
    const std::string_view behind = trimmed(limit_unit_text_.substr(1));
    const bool percent_is_the_unit = find_unit(limit_unit_text_).unit != nullptr;
    const bool wanted = accepted_.contains(Dimension::fraction) ||
                        accepted_.contains(Dimension::mass_fraction) ||
                        accepted_.contains(Dimension::volume_fraction);
    if (percent_is_the_unit && (wanted || !behind.empty())) return;
    unit_text_ = behind;
    limit_unit_text_ = limit_unit_text_.substr(0, 1);
  }

  std::optional<QuantityProblem> limit_problem() const {
    if (limit_.negative) return problem("has a negative tolerance; write it without the minus");
    if (limit_.fault == NumberFault::missing) {
      return problem("has no number behind +-; write it such as {}", example_with_limit());
    }
    if (limit_.fault == NumberFault::none) return {};
    return number_problem(limit_, limit_unit_text_.empty() ? unit_text_ : limit_unit_text_);
  }

  Result read_with_unit() {
    const UnitMatch match = find_unit(unit_text_);
    Reading reading;
    if (match.unit == nullptr) {
      const auto feet = feet_and_inches();
      const bool no_feet = !feet || (std::holds_alternative<QuantityProblem>(*feet) &&
                                     !accepted_.contains(Dimension::length));
      if (no_feet) return unknown_unit(match, number_, unit_text_);
      if (const auto* wrong = std::get_if<QuantityProblem>(&*feet)) return *wrong;
      reading.si = std::get<double>(*feet);
      reading.dimension = Dimension::length;
    } else {
      if (match.unit->difference_only) return gauge_or_absolute(*match.unit);
      reading.dimension = match.unit->info.dimension;
    }
    if (!accepted_.contains(reading.dimension)) return not_accepted(reading.dimension);
    if (match.unit != nullptr) {
      if (number_.slash_only && !takes_fractions(*match.unit)) return fraction_problem();
      const auto si = to_si(number_, *match.unit);
      if (!si) return out_of_range();
      reading.si = *si;
    }
    if (reading.si < 0 && reading.dimension == Dimension::temperature) {
      return problem("is below absolute zero, -273.15 degC");
    }
    if (reading.si < 0 && reading.dimension == Dimension::pressure_absolute) {
      return problem(
          "is an absolute pressure below zero; write \"gauge\" if it is against the "
          "atmosphere");
    }
    if (has_tolerance_) {
      if (auto wrong = read_tolerance(reading, match.unit)) return *wrong;
    }
    return reading;
  }

  /// Sets the uncertainty of `reading`; `value_unit` is null behind feet and inches.
  std::optional<QuantityProblem> read_tolerance(Reading& reading, const Unit* value_unit) const {
    const Unit* unit = value_unit;
    if (!limit_unit_text_.empty()) {
      const UnitMatch match = find_unit(limit_unit_text_);
      if (match.unit == nullptr) return unknown_unit(match, limit_, limit_unit_text_);
      unit = match.unit;
    } else if (unit == nullptr) {
      return problem(
          "has a tolerance without a unit behind feet and inches; write it such as "
          "\"+- 1/4 in\"");
    }

    const Dimension kind = unit->info.dimension;
    const auto in_si = difference_to_si(limit_, *unit);
    if (!in_si) return out_of_range();
    double limit = *in_si;
    if (kind == Dimension::fraction && !is_fraction(reading.dimension)) {
      if (reading.dimension == Dimension::temperature) {
        return problem(
            "has a percentage of a temperature as its tolerance, which depends on the "
            "scale; write it such as \"20 degC +- 2 K\"");
      }
      limit *= std::abs(reading.si);
    } else if (kind == Dimension::fraction && !limit_unit_text_.empty() &&
               limit_unit_text_.data() != unit_text_.data()) {
      // "30 % mass +- 2 %": two points of the mixture, or two hundredths of the thirty?
      return problem(
          "has a tolerance that could be points of the mixture or a share of the value; for "
          "points write \"{} +- {:.6g} {}\"",
          number_for_message(number_), limit / value_unit->info.factor, part(unit_text_));
    } else if (kind != reading.dimension &&
               !(is_pressure(kind) && is_pressure(reading.dimension))) {
      return problem(
          "has a tolerance that is {} behind a value that is {}; write both in the same "
          "unit",
          dimension_name(kind), dimension_name(reading.dimension));
    }
    reading.tolerance_stated = true;
    reading.u_si = limit * limit_to_u_.value_or(kRectangular);
    if (!std::isfinite(reading.u_si)) return out_of_range();
    return {};
  }

  /// Reads `5' 6 1/2"` and "5 ft 6 in" where `number_` holds the feet and `unit_text_` starts
  /// with their unit; nullopt if it isn't of that shape. The result is in m.
  std::optional<std::variant<double, QuantityProblem>> feet_and_inches() const {
    std::string_view behind = unit_text_;
    std::size_t mark = 0;
    if (behind.starts_with('\'')) {
      mark = 1;
    } else {
      while (mark < behind.size() && is_letter(behind[mark])) ++mark;
      const std::string_view word = behind.substr(0, mark);
      const bool is_foot =
          same_letters(word, "ft") || same_letters(word, "feet") || same_letters(word, "foot");
      if (!is_foot) return {};
      if (mark < behind.size() && behind[mark] == '.') ++mark;
    }
    const bool digit_follows = mark < behind.size() && is_digit(behind[mark]);
    const bool apostrophe_inside = digit_follows && behind[0] == '\'';
    behind = trimmed(behind.substr(mark));
    if (behind.starts_with('-')) behind = trimmed(behind.substr(1));
    const NumberText inches = read_number(behind);
    if (inches.fault == NumberFault::missing || inches.negative) return {};

    const std::string_view unit_text = unit_part(behind, inches);
    const UnitMatch match = find_unit(unit_text);
    const auto feet_value = number_.times_ten_to(0);
    const auto inch_value = inches.times_ten_to(0);
    const bool are_inches = match.unit != nullptr && match.unit->info.name == "in";
    if (!are_inches && apostrophe_inside && match.unit != nullptr) {
      return problem(
          "has an apostrophe inside its number, which stands for feet here; write "
          "\"{}{} {}\"",
          number_for_message(number_), behind.substr(0, inches.length), part(unit_text));
    }
    if (inches.fault != NumberFault::none) return number_problem(inches, unit_text);
    if (!feet_value || !inch_value) return out_of_range();
    if (!are_inches && digit_follows && !apostrophe_inside)
      return {};  // "ft3" is no foot and three
    if (!are_inches) {
      return problem(
          "gives feet and then a number that isn't in inches; write it such as "
          "\"5 ft 6 1/2 in\"");
    }
    if (number_.decimal.empty() || *feet_value != std::trunc(*feet_value) || *inch_value >= 12) {
      return problem(
          "is no whole number of feet with less than 12 inches; write it such as "
          "\"5 ft 6 1/2 in\"");
    }
    const double length_m = (std::abs(*feet_value) * 12 + *inch_value) * kInch_m;
    if (!std::isfinite(length_m)) return out_of_range();
    return number_.negative ? -length_m : length_m;
  }

  // Refusals. From here on speed is no matter, and words are.

  QuantityProblem out_of_range() const {
    return problem("is beyond the range of a double-precision number; check the exponent");
  }

  QuantityProblem no_unit() const {
    if (number_.decimal.empty() && accepted_.contains(Dimension::length)) {
      return problem("has no unit; write it as \"{} in\"", value_.substr(0, number_.length));
    }
    return problem("has no unit; write it as \"{} {}\"", number_for_message(number_),
                   example_unit());
  }

  QuantityProblem gauge_or_absolute(const Unit& unit) const {
    if (!accepted_.contains(Dimension::pressure_gauge) &&
        !accepted_.contains(Dimension::pressure_absolute)) {
      return not_accepted_name("a pressure");
    }
    const std::string number = number_for_message(number_);
    return problem("doesn't say gauge or absolute; write \"{0} {1} gauge\" or \"{0} {1} absolute\"",
                   number, unit.info.name);
  }

  QuantityProblem not_accepted(Dimension got) const {
    const bool mass = accepted_.contains(Dimension::mass_fraction);
    const bool volume = accepted_.contains(Dimension::volume_fraction);
    const std::string number = number_for_message(number_);
    if (got == Dimension::fraction && (mass || volume)) {
      const std::string unit = part(unit_text_);
      return problem("doesn't say whether by mass or by volume; write \"{} {} {}\"{}", number, unit,
                     mass ? "mass" : "vol",
                     mass && volume ? fmt::format(" or \"{} {} vol\"", number, unit) : "");
    }
    if (got == Dimension::angle && find_unit(unit_text_).unit == find_unit("deg").unit &&
        accepted_.contains(Dimension::temperature)) {
      return problem("could be degC or degF; write \"{0} degC\" or \"{0} degF\"", number);
    }
    return not_accepted_name(dimension_name(got));
  }

  QuantityProblem not_accepted_name(std::string_view got) const {
    std::string wanted;
    for (std::size_t i = 0; i < kDimensions.size(); ++i) {
      if (!accepted_.contains(static_cast<Dimension>(i))) continue;
      if (!wanted.empty()) wanted += " or ";
      wanted += kDimensions[i].name;
    }
    return problem("is {}, but {} is wanted, such as {}", got, wanted, example());
  }

  QuantityProblem fraction_problem() const {
    const double value = number_.times_ten_to(0).value_or(0);
    const std::string_view pair = trimmed(value_).substr(0, number_.length);
    const std::size_t slash = pair.find('/');
    const std::string unit = part(unit_text_);
    return problem(
        "could be {0:.4g} {1}, or two values; write a decimal, or {{ \"one_of\": "
        "[\"{2} {1}\", \"{3} {1}\"] }}",
        value, unit, pair.substr(0, slash), pair.substr(slash + 1));
  }

  /// `unit_text` is what stands behind the faulty number.
  QuantityProblem number_problem(const NumberText& number, std::string_view unit_text) const {
    const std::string unit = unit_for_message(unit_text);
    const std::string& first = number.readings[0];
    const std::string& second = number.readings[1];
    switch (number.fault) {
      case NumberFault::not_finite:
        return problem("is not a finite number; write it such as {}", example());
      case NumberFault::comma:
        return problem(
            "has a comma that could be decimal or separate thousands; write \"{0} {2}\" "
            "or \"{1} {2}\"",
            first, second, unit);
      case NumberFault::separators:
        return problem("separates thousands; write it as \"{} {}\"", first, unit);
      case NumberFault::fraction:
        if (unit_text.ends_with('?')) unit_text.remove_suffix(1);
        if (!is_accepted(first + " " + unit) || !known_or_none(trimmed(unit_text))) {
          return problem("has more than one number; write one value with its unit, such as {}",
                         example());
        }
        return problem(
            "could be a fraction or two values; write a decimal, or {{ \"one_of\": "
            "[\"{0} {2}\", \"{1} {2}\"] }}",
            first, second, unit);
      case NumberFault::malformed:
        if (!first.empty()) return problem("lacks a zero; write it as \"{} {}\"", first, unit);
        return problem("has a number that can't be read; write it with one decimal dot, such as {}",
                       example());
      case NumberFault::missing:
      case NumberFault::none:
        break;
    }
    return no_number();
  }

  QuantityProblem no_number() const {
    const std::string_view text = trimmed(plain_);
    if (text.empty()) return problem("is empty; write it such as {}", example());
    if (text.find_first_of("0123456789") == std::string_view::npos) {
      return problem("has no number; write it such as {}", example());
    }
    const std::string_view value = text.substr(text.find_first_of("0123456789"));
    std::size_t letters = 0;
    while (letters < text.size() && is_letter(text[letters])) ++letters;
    const std::string_view word = text.substr(0, letters);
    const auto is_one_of = [&](std::initializer_list<std::string_view> words) {
      return std::any_of(words.begin(), words.end(),
                         [&](std::string_view one) { return same_letters(word, one); });
    };
    if (text[0] == '~' ||
        is_one_of({"approx", "approximately", "about", "around", "ca", "circa", "c", "say"})) {
      return problem("is approximate, but doesn't say how much; write \"{} +- ...\" with a limit",
                     part(value));
    }
    if (text[0] == '<' || text[0] == '>' ||
        is_one_of({"max", "min", "over", "under", "above", "below", "at", "up"})) {
      return bound();
    }
    if (is_one_of({"dn", "nps", "nb"})) {
      return problem(
          "is a pipe size, whose diameter depends on the standard, not {}; write it such "
          "as {}",
          dimension_name(first_accepted()), example());
    }
    return problem("doesn't start with a number; write it such as {}", example());
  }

  QuantityProblem bound() const {
    return problem(
        "is a bound, not a value; write one value, or "
        "{{ \"between\": [lowest, highest] }}");
  }

  /// "60 max", "60 m3/h (avg)": what a word behind the value says of it.
  std::optional<QuantityProblem> word_behind(const NumberText& number,
                                             std::string_view unit_text) const {
    constexpr std::string_view kAround = " ().,";
    const std::size_t end = unit_text.find_last_not_of(kAround) + 1;
    std::size_t start = end;
    while (start > 0 && is_letter(unit_text[start - 1])) --start;
    const std::string_view word = unit_text.substr(start, end - start);
    const std::string_view before = unit_text.substr(0, start);
    const std::string_view unit = before.substr(0, before.find_last_not_of(kAround) + 1);
    if (!known_or_none(unit) || (start > 0 && kAround.find(before.back()) == kAround.npos))
      return {};
    const auto is_one_of = [&](std::initializer_list<std::string_view> words) {
      return std::any_of(words.begin(), words.end(),
                         [&](std::string_view one) { return same_letters(word, one); });
    };
    if (is_one_of({"max", "min", "maximum", "minimum", "peak", "design"})) return bound();
    const std::string value = number_for_message(number) + " " + unit_for_message(unit);
    if (!is_accepted(value)) return {};
    if (is_one_of({"approx", "approximately", "about", "ca", "circa", "est"})) {
      return problem("is approximate, but doesn't say how much; write \"{} +- ...\" with a limit",
                     value);
    }
    if (is_one_of({"avg", "average", "mean", "typ", "typical", "normal", "nom", "nominal"})) {
      return problem("has the word \"{}\" behind it; write the value alone, \"{}\"", word, value);
    }
    return {};
  }

  /// `unit_text` is what stands behind `number`, of the value or of the limit.
  QuantityProblem unknown_unit(const UnitMatch& match, const NumberText& number,
                               std::string_view unit_text) const {
    if (!match.readings[0].empty()) {
      const std::string both =
          match.readings[1].empty()
              ? fmt::format("\"{}\"", match.readings[0])
              : fmt::format("\"{}\" or \"{}\"", match.readings[0], match.readings[1]);
      return problem("has the unit \"{}\", where upper and lower case matter; write {}",
                     part(unit_text), both);
    }
    if (unit_text.find('+') != std::string_view::npos) {
      return problem(
          "has unequal or several limits; write one, such as {}, or "
          "{{ \"between\": [lowest, highest] }}",
          example_with_limit());
    }
    if (auto several = several_values(number, unit_text)) return *several;
    if (auto word = word_behind(number, unit_text)) return *word;
    if (unit_text.ends_with('?')) {
      const std::string_view sure = trimmed(unit_text.substr(0, unit_text.size() - 1));
      return problem(
          "is in doubt; write \"{} {}\" if sure, or {{ \"one_of\": [...] }} with all that "
          "it may be",
          number_for_message(number), unit_for_message(sure));
    }
    if (const auto nearest = near_unit(unit_text)) {
      return problem("has an unknown unit \"{}\"; did you mean \"{}\"?", part(unit_text), *nearest);
    }
    return problem("has an unknown unit \"{}\"; write it such as {}", part(unit_text), example());
  }

  /// The unit that a slip of `unit_text` may mean. In a short one each other letter makes another
  /// unit ("mbd" and "mgd"); there only signs and doubled letters are slips.
  std::optional<std::string_view> near_unit(std::string_view unit_text) const {
    const auto nearest = nearest_unit_among(unit_text, accepted_);
    if (!nearest) return {};
    const auto letters = [](std::string_view text) {
      std::string out;
      for (const char c : text) {
        const bool sign = c == '/' || c == ' ' || c == '.' || c == '-' || c == '_';
        if (!sign && (out.empty() || out.back() != lower(c))) out += lower(c);
      }
      return out;
    };
    constexpr std::size_t kShort = 4;
    if (unit_text.size() > kShort || letters(unit_text) == letters(*nearest)) return nearest;
    return {};
  }

  /// Where a second number starts in what should be a unit. Digits within "m3", "ft^2" and "h-1"
  /// belong to the unit, but not those behind the x of "168.3x7.11".
  static std::size_t second_number_at(std::string_view rest) {
    const auto in_word = [](char c) {
      return is_letter(c) || is_digit(c) || c == '^' || static_cast<unsigned char>(c) >= 0x80;
    };
    for (std::size_t at = 0; at < rest.size(); ++at) {
      if (!is_digit(rest[at])) continue;
      const char before = at == 0 ? ' ' : rest[at - 1];
      const bool behind_x = at == 1 && (before == 'x' || before == 'X');
      const bool exponent =
          before == '-' && at + 1 == rest.size() && at > 1 && in_word(rest[at - 2]);
      if (behind_x || !(in_word(before) || exponent)) return at;
    }
    return std::string_view::npos;
  }

  enum class Between : std::uint8_t { blank, range, choice, other };

  /// What the sign before a second number says; takes it off.
  static Between take_sign(std::string_view& between) {
    struct Sign {
      std::string_view sign;
      Between kind;
    };
    for (const Sign& sign :
         {Sign{"-", Between::range}, Sign{"...", Between::range}, Sign{"..", Between::range},
          Sign{"to", Between::range}, Sign{"/", Between::choice}, Sign{"or", Between::choice},
          Sign{"and", Between::choice}, Sign{",", Between::choice}, Sign{";", Between::choice},
          Sign{"&", Between::choice}, Sign{"x", Between::other}, Sign{"X", Between::other},
          Sign{"*", Between::other}, Sign{"(", Between::other}}) {
      if (!between.ends_with(sign.sign)) continue;
      between = trimmed(between.substr(0, between.size() - sign.sign.size()));
      return sign.kind;
    }
    return Between::blank;
  }

  static bool known_or_none(std::string_view unit_text) {
    return unit_text.empty() || find_unit(unit_text).unit != nullptr;
  }

  bool is_accepted(const std::string& text) const {
    return std::holds_alternative<Reading>(parse_quantity(text, accepted_));
  }

  /// Names the values where a second number stands in what should be the unit, as in "4-6 degC" or
  /// "60 degC / 140 degF"; only such as would be accepted.
  std::optional<QuantityProblem> several_values(const NumberText& first,
                                                std::string_view rest) const {
    const std::size_t second_at = second_number_at(rest);
    if (second_at == std::string_view::npos) return {};
    const NumberText second = read_number(rest.substr(second_at));
    std::string_view own_unit = trimmed(rest.substr(0, second_at));
    std::string_view last_unit = unit_part(rest.substr(second_at), second);
    const bool bracket = own_unit.ends_with('(');
    const Between kind = take_sign(own_unit);
    if (bracket && last_unit.ends_with(')')) {
      last_unit = trimmed(last_unit.substr(0, last_unit.size() - 1));
    }
    const QuantityProblem unnamed =
        problem("has more than one number; write one value with its unit, such as {}", example());
    const bool unitless = own_unit.empty() && last_unit.empty();
    const bool one_lacks = !unitless && last_unit.empty();
    if (second.fault != NumberFault::none || one_lacks) return unnamed;

    const std::string unit = unit_for_message(last_unit);
    if (kind == Between::blank && own_unit.empty() && !bracket) {
      const std::string_view digits = second.decimal.substr(0, second.decimal.find_first_of(",."));
      if (digits.size() == 3 && !first.decimal.empty() &&
          first.decimal.find_first_of(".,eE") == std::string_view::npos) {
        std::string joined = first.negative ? "-" : "";
        joined += first.decimal;
        joined += second.decimal;
        std::replace(joined.begin(), joined.end(), ',', '.');
        joined += ' ';
        joined += unit;
        if (is_accepted(joined)) {
          return problem("has a blank inside its number; write \"{}\"", joined);
        }
      }
    }
    const std::string a =
        number_for_message(first) + " " + (own_unit.empty() ? unit : unit_for_message(own_unit));
    const std::string b = number_for_message(second) + " " + unit;
    if (!known_or_none(own_unit) || !known_or_none(last_unit) || !is_accepted(a) || !is_accepted(b))
      return unnamed;
    if (!own_unit.empty() && find_unit(own_unit).unit != find_unit(last_unit).unit) {
      return problem("has values in two units; write one of them, \"{}\" or \"{}\"", a, b);
    }
    switch (kind) {
      case Between::blank:
      case Between::choice:
        return problem(
            "has more than one number; write one value, or {{ \"one_of\": [\"{}\", "
            "\"{}\"] }}",
            a, b);
      case Between::range:
        return problem("is a range; write one value, or {{ \"between\": [\"{}\", \"{}\"] }}", a, b);
      case Between::other:
        break;
    }
    return problem("has more than one number; write one value, \"{}\" or \"{}\"", a, b);
  }

  std::string_view text_;
  Dimensions accepted_;
  std::string plain_;
  std::string_view value_, tolerance_;
  NumberText number_, limit_;
  std::string_view unit_text_, limit_unit_text_;
  bool has_tolerance_ = false;
  std::optional<double> limit_to_u_;
};

const Unit& require_unit(Dimension dimension, std::string_view name) {
  const std::string plain = plain_text(name);
  const Unit* unit = find_unit(trimmed(plain)).unit;
  if (unit == nullptr || unit->difference_only || unit->info.dimension != dimension) {
    throw std::invalid_argument(
        fmt::format("\"{}\" is no unit of {}", shown(name), dimension_name(dimension)));
  }
  return *unit;
}

void require_finite(double si) {
  if (!std::isfinite(si)) throw std::invalid_argument("a quantity to print is not finite");
}

double from_si(double si, const Unit& unit) {
  return (si - unit.info.offset) / unit.info.factor;
}

/// The shortest decimal in `unit` that to_si takes back to `si`, or nullopt.
std::optional<std::string> exact_decimal(double si, const Unit& unit) {
  const auto reads_back = [&](const std::string& decimal) {
    return to_si(read_number(decimal), unit) == si;
  };
  if (unit.power_of_ten) {
    std::string decimal = decimal_text(si, -*unit.power_of_ten);
    if (!reads_back(decimal)) return {};
    return decimal;
  }
  // Rounded to ever more digits; and as the division may miss by an ulp or two the value that the
  // multiplication wants, its neighbours at last.
  const double value = from_si(si, unit);
  if (!std::isfinite(value)) return {};
  for (int digits = 1; digits <= std::numeric_limits<double>::max_digits10; ++digits) {
    std::array<char, 40> buffer{};
    const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value,
                                   std::chars_format::scientific, digits - 1);
    double rounded = 0;
    if (std::from_chars(buffer.data(), end.ptr, rounded).ec != std::errc{}) continue;
    std::string decimal = decimal_text(rounded);
    if (reads_back(decimal)) return decimal;
  }
  double above = value, below = value;
  for (int ulps = 1; ulps <= 2; ++ulps) {
    above = std::nextafter(above, HUGE_VAL);
    below = std::nextafter(below, -HUGE_VAL);
    for (double near : {above, below}) {
      if (!std::isfinite(near)) continue;
      std::string decimal = decimal_text(near);
      if (reads_back(decimal)) return decimal;
    }
  }
  return {};
}

}  // namespace

std::variant<Reading, QuantityProblem> parse_quantity(std::string_view text, Dimensions accepted) {
  return QuantityReader(text, accepted).read();
}

std::optional<UnitReader> UnitReader::of(std::string_view unit, Dimensions accepted) {
  if (!std::holds_alternative<Reading>(parse_quantity(fmt::format("1 {}", unit), accepted))) {
    return std::nullopt;
  }
  const std::string plain = plain_text(unit);
  const UnitMatch match = find_unit(trimmed(plain));
  if (match.unit == nullptr || match.unit->difference_only) return std::nullopt;
  return UnitReader(*match.unit);
}

std::optional<Reading> UnitReader::read(std::string_view decimal) const {
  if (decimal.empty() || !is_digit(decimal.front()) || !is_digit(decimal.back()) ||
      decimal.size() > kLongestText ||
      !std::ranges::all_of(decimal, [](char c) { return is_digit(c) || c == '.'; })) {
    return std::nullopt;
  }
  if (std::ranges::count(decimal, '.') > 1) return std::nullopt;
  NumberText number;  // what read_number makes of plain digits
  number.fault = NumberFault::none;
  number.decimal = decimal;
  number.length = decimal.size();
  const auto si = to_si(number, *unit_);
  if (!si) return std::nullopt;
  Reading reading;
  reading.si = *si;
  reading.dimension = unit_->info.dimension;
  return reading;
}

std::string format_exact(double si, Dimension dimension, std::string_view unit) {
  const Unit& wanted = require_unit(dimension, unit);
  require_finite(si);
  if (const auto decimal = exact_decimal(si, wanted)) {
    return fmt::format("{} {}", *decimal, unit);
  }
  const Unit& fallback = si_unit(dimension);
  return fmt::format("{} {}", decimal_text(si, -fallback.power_of_ten.value_or(0)),
                     fallback.info.name);
}

std::string format_rounded(double si, Dimension dimension, std::string_view unit, int decimals) {
  const Unit& wanted = require_unit(dimension, unit);
  require_finite(si);
  if (decimals < 0) throw std::invalid_argument("a number of decimals is negative");
  std::string number = fmt::format("{:.{}f}", from_si(si, wanted), decimals);
  // A small negative value that rounds to nothing has no sign.
  if (number[0] == '-' && number.find_first_of("123456789") == std::string::npos)
    number.erase(0, 1);
  return fmt::format("{} {}", number, unit);
}

double in_unit(double si, Dimension dimension, std::string_view unit) {
  const Unit& wanted = require_unit(dimension, unit);
  require_finite(si);
  return from_si(si, wanted);
}

std::string format_inch_fraction(double length_m, int denominator) {
  require_finite(length_m);
  if (denominator < 1) throw std::invalid_argument("the denominator of a fraction is below 1");
  const double parts = std::round(std::abs(length_m) / kInch_m * denominator);
  constexpr double kMost = 9007199254740992;  // 2^53: beyond, parts aren't whole numbers any more
  if (!(parts < kMost)) throw std::invalid_argument("a length is too large for a tape");
  const auto count = static_cast<long long>(parts);
  const long long whole = count / denominator;
  const long long over = count % denominator;
  const std::string_view sign = length_m < 0 && count > 0 ? "-" : "";
  if (over == 0) return fmt::format("{}{}", sign, whole);
  const long long common = std::gcd(over, static_cast<long long>(denominator));
  if (whole == 0) return fmt::format("{}{}/{}", sign, over / common, denominator / common);
  return fmt::format("{}{} {}/{}", sign, whole, over / common, denominator / common);
}

std::string_view dimension_name(Dimension dimension) {
  return kDimensions[static_cast<std::size_t>(dimension)].name;
}

std::string_view dimension_example(Dimension dimension) {
  return kDimensions[static_cast<std::size_t>(dimension)].example;
}

}  // namespace slantrule
