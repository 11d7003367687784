#include "slantrule/files/list_cells.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cstdint>

#include "list_words.hpp"
#include "slantrule/units/ascii.hpp"
#include "slantrule/units/number_text.hpp"
#include "slantrule/units/quantity.hpp"
#include "slantrule/units/suggest.hpp"

namespace slantrule {
namespace {

constexpr bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

constexpr bool is_blank(char c) {
  return c == ' ' || c == '\t' || c == '\r' || c == '\n';
}

}  // namespace

bool begins_with_letters(std::string_view text, std::string_view word) {
  return text.size() >= word.size() &&
         std::equal(word.begin(), word.end(), text.begin(),
                    [](char letter, char c) { return letter == lower(c); });
}

bool begins_with_word(std::string_view text, std::string_view word) {
  return text.starts_with(word) && (text.size() == word.size() || !is_letter(text[word.size()]));
}

namespace {

/// Characters of several bytes that stand where a number has one of ASCII.
struct Mark {
  std::string_view bytes, plain;
};
constexpr std::array<Mark, 16> wide_marks = {{
    {"\u00a0", " "},  // no-break blank
    {"\u2002", " "},
    {"\u2003", " "},
    {"\u2007", " "},  // figure blank
    {"\u2008", " "},
    {"\u2009", " "},  // thin blank
    {"\u200a", " "},
    {"\u202f", " "},  // narrow no-break blank
    {"\u3000", " "},
    {"\u2018", "'"},
    {"\u2019", "'"},
    {"\u2212", "-"},
    {"\u200b", ""},  // blank without width
    {"\u200c", ""},
    {"\u2060", ""},
    {"\ufeff", ""},  // byte order mark
}};

constexpr bool is_ascii(char c) {
  return static_cast<unsigned char>(c) < 0x80;
}

const Mark* mark_at(std::string_view text) {
  if (text.empty() || is_ascii(text.front())) return nullptr;
  const auto* found = std::ranges::find_if(
      wide_marks, [&](const Mark& mark) { return text.starts_with(mark.bytes); });
  return found == wide_marks.end() ? nullptr : found;
}

/// `text` itself, or in `store` with those characters as one of ASCII.
std::string_view with_plain_marks(std::string_view text, std::string& store) {
  if (std::ranges::all_of(text, is_ascii)) return text;
  while (!text.empty()) {
    const Mark* mark = mark_at(text);
    store += mark != nullptr ? mark->plain : text.substr(0, 1);
    text.remove_prefix(mark != nullptr ? mark->bytes.size() : 1);
  }
  return store;
}

/// Without blanks of any width and marks of none at the ends.
std::string_view trimmed_marks(std::string_view text) {
  const auto goes = [](const Mark& mark) { return mark.plain.empty() || mark.plain == " "; };
  for (;;) {
    text = trimmed(text);
    if (text.empty() || (is_ascii(text.front()) && is_ascii(text.back()))) return text;
    const Mark* first = mark_at(text);
    if (first != nullptr && goes(*first)) {
      text.remove_prefix(first->bytes.size());
      continue;
    }
    const auto* last = std::ranges::find_if(
        wide_marks, [&](const Mark& mark) { return goes(mark) && text.ends_with(mark.bytes); });
    if (last == wide_marks.end()) return text;
    text.remove_suffix(last->bytes.size());
  }
}

/// In lower case, accented Latin letters and Cyrillic ones too.
std::string lower_letters(std::string_view text) {
  std::string out = lower(text);
  for (std::size_t i = 0; i + 1 < out.size(); ++i) {
    const auto lead = static_cast<unsigned char>(out[i]);
    const auto trail = static_cast<unsigned char>(out[i + 1]);
    const auto put = [&](unsigned first, unsigned second) {
      out[i] = static_cast<char>(first);
      out[i + 1] = static_cast<char>(second);
    };
    // UTF-8 of U+00C0 to U+00DE, of the pairs from U+0100 to U+017E, and of U+0410 to U+042F.
    if (lead == 0xC3 && trail >= 0x80 && trail <= 0x9E && trail != 0x97) put(lead, trail + 0x20U);
    const bool even_is_capital = lead == 0xC4 ? trail < 0xB8 : trail >= 0x8A && trail < 0xB8;
    if ((lead == 0xC4 || lead == 0xC5) && even_is_capital && trail % 2 == 0) put(lead, trail + 1U);
    const bool odd_is_capital = lead == 0xC4 ? trail >= 0xB9 : trail <= 0x87 || trail >= 0xB9;
    if ((lead == 0xC4 || lead == 0xC5) && odd_is_capital && trail % 2 == 1 && trail < 0xBF) {
      put(lead, trail + 1U);
    }
    if (lead == 0xD0 && trail >= 0x90 && trail <= 0x9F) put(lead, trail + 0x20U);
    if (lead == 0xD0 && trail >= 0xA0 && trail <= 0xAF) put(0xD1, trail - 0x20U);
    if (lead >= 0xC2) ++i;
  }
  return out;
}

// ---------------------------------------------------------------- nothing

/// Words for "not known", common practice in inventories (no source).
constexpr std::array<std::string_view, 71> nothing_words = {
    "?",
    "??",
    "???",
    "-",
    "--",
    "---",
    "\u2013",
    "\u2014",
    ".",
    "*",
    "~",
    "/",
    "n/a",
    "na",
    "n.a.",
    "n.a",
    "n/k",
    "nk",
    "nan",
    "nil",
    "null",
    "<null>",
    "(null)",
    "unknown",
    "unk",
    "unk.",
    "unkn",
    "not known",
    "not available",
    "pending",
    "tbd",
    "tbc",
    "tba",
    "t.b.d.",
    "t.b.c.",
    "t.b.a.",
    "no data",
    "nodata",
    "missing",
    "(blank)",
    "blank",
    "oth",
    "k.a.",
    "k.a",
    "k. a.",
    "unbekannt",
    "s. foto",
    "s.foto",
    "s. bild",
    "unspecified",
    "undefined",
    "desconocido",
    "nd",
    "n/d",
    "n.d.",
    "n.d",
    "s/d",
    "sin datos",
    "inconnu",
    "nepoznato",
    "nema podataka",
    "brak",
    "b.d.",
    "nieznana",
    "nieznany",
    "nieznane",
    "ask",
    "\u043d\u0435\u0438\u0437\u0432\u0435\u0441\u0442\u043d\u043e",
    "\u043d\u0435\u0438\u0437\u0432\u0435\u0441\u0442\u0435\u043d",
    "\u043d\u0435\u0442 \u0434\u0430\u043d\u043d\u044b\u0445",
    "\u043d/\u0434"};

/// By first byte, the lengths of those words as bits: most cells are told by these.
constexpr std::array<std::uint32_t, 256> nothing_lengths = [] {
  std::array<std::uint32_t, 256> out{};
  for (std::string_view word : nothing_words) {
    out[static_cast<unsigned char>(word.front())] |= std::uint32_t{1} << word.size();
  }
  return out;
}();

/// Beginnings that send the reader elsewhere.
constexpr std::array<std::string_view, 10> see_words = {
    "see ",      "siehe ", "ver ",    "voir ",        "vidi ",
    "refer to ", "to be ", "as per ", "not recorded", "\u0441\u043c. "};

/// Words and marks that repeat the cell above (common practice, no source).
constexpr std::array<std::string_view, 20> ditto_words = {
    "ditto",
    "same",
    "same as above",
    "as above",
    "see above",
    "idem",
    "id.",
    "\u00eddem",
    "dto",
    "dto.",
    "wie oben",
    "s.o.",
    "\"",
    "''",
    "\u201d",
    "\u3003",
    "-\"-",
    "- \" -",
    "\u0442\u043e \u0436\u0435",
    "\u043a\u0430\u043a \u0432\u044b\u0448\u0435"};

constexpr std::array<bool, 256> begins_ditto = [] {
  std::array<bool, 256> out{};
  for (std::string_view word : ditto_words) {
    const char c = word.front();
    out[static_cast<unsigned char>(c)] = true;
    if (c >= 'a' && c <= 'z') out[static_cast<unsigned char>(c - 'a' + 'A')] = true;
  }
  return out;
}();

// ---------------------------------------------------------------- numbers

/// The groups of digits of a number and what stands between them.
struct Groups {
  bool negative = false;
  std::vector<std::string_view> digits;
  std::vector<char> between;  ///< '.', ',', '\'' or ' '
};

/// nullopt: anything but digits in groups.
std::optional<Groups> groups_of(std::string_view text) {
  Groups out;
  if (text.starts_with('-') || text.starts_with('+')) {
    out.negative = text.front() == '-';
    text.remove_prefix(1);
  }
  std::size_t start = 0;
  const auto close = [&](std::size_t end) {
    out.digits.push_back(text.substr(start, end - start));
  };
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (is_digit(c)) continue;
    if (c != '.' && c != ',' && c != '\'' && c != ' ') return std::nullopt;
    close(i);
    out.between.push_back(c);
    start = i + 1;
  }
  close(text.size());
  // "60." is 60.
  if (out.between.size() == 1 && out.between.front() == '.' && out.digits.back().empty()) {
    out.between.pop_back();
    out.digits.pop_back();
  }
  const bool leading_point = out.digits.front().empty() && out.between.size() == 1;
  for (std::size_t i = leading_point ? 1 : 0; i < out.digits.size(); ++i) {
    if (out.digits[i].empty()) return std::nullopt;
  }
  return out;
}

/// Whether groups `first` and on are the threes of a number with thousands apart.
bool threes(const Groups& groups, std::size_t first, std::size_t last) {
  if (groups.digits.front().size() > 3 || groups.digits.front().empty()) return false;
  for (std::size_t i = first; i < last; ++i) {
    if (groups.digits[i].size() != 3) return false;
  }
  return true;
}

enum class Reading3 : std::uint8_t {
  no_number,
  whole,
  decimal_point,
  decimal_comma,
  thousands,
  open
};

/// What the separators of one number can mean by themselves.
Reading3 meaning(const Groups& groups) {
  const std::size_t marks = groups.between.size();
  if (marks == 0) return Reading3::whole;
  const char last = groups.between.back();
  if (marks == 1 && (last == '.' || last == ',')) {
    const std::string_view whole = groups.digits.front();
    const bool three = groups.digits.back().size() == 3 && !whole.empty() && whole.size() <= 3 &&
                       whole.front() != '0';
    if (three) return Reading3::open;
    return last == '.' ? Reading3::decimal_point : Reading3::decimal_comma;
  }
  const char first = groups.between.front();
  const bool same = std::ranges::all_of(groups.between, [&](char c) { return c == first; });
  if (same) {
    return threes(groups, 1, groups.digits.size()) ? Reading3::thousands : Reading3::no_number;
  }
  // Thousands by one mark, decimals by another.
  const bool uniform = std::all_of(groups.between.begin(), groups.between.end() - 1,
                                   [&](char c) { return c == first; });
  if (!uniform || !threes(groups, 1, groups.digits.size() - 1)) return Reading3::no_number;
  if (last == '.') return Reading3::decimal_point;
  return last == ',' ? Reading3::decimal_comma : Reading3::no_number;
}

/// Digits behind the mark of "12.000", "9.500" or "1.250", as a number of thousands is likely to
/// end; "12.750" ends as a diameter in quarters of an inch does.
bool ends_round(const Groups& groups) {
  const std::string_view behind = groups.digits.back();
  return behind.back() == '0' && behind != "750";
}

double thousands_value(const Groups& groups) {
  double value = 0;
  for (std::string_view digits : groups.digits) {
    for (const char c : digits) value = 10 * value + (c - '0');
  }
  return value;
}

std::string joined(const Groups& groups, bool last_is_decimal) {
  std::string out = groups.negative ? "-" : "";
  for (std::size_t i = 0; i < groups.digits.size(); ++i) {
    if (i > 0 && last_is_decimal && i + 1 == groups.digits.size()) {
      if (out.empty() || out == "-") out += '0';
      out += '.';
    }
    out += groups.digits[i];
  }
  return out;
}

/// The decimal that can't be taken for thousands in a column of the style: "12" for "12.000".
std::string unmistakable(const Groups& groups, NumberStyle style) {
  std::string out = joined(groups, true);
  while (out.back() == '0') out.pop_back();
  if (out.back() == '.') out.pop_back();
  const std::size_t point = out.find('.');
  const bool three = point != std::string::npos && out.size() - point == 4;
  if (!three || style == NumberStyle::decimal_point) return out;
  if (style == NumberStyle::decimal_comma) {
    out[point] = ',';
  } else {
    out += '0';
  }
  return out;
}

bool has_exponent(std::string_view text) {
  const std::size_t e = text.find_first_of("eE");
  if (e == std::string_view::npos || e == 0 || e + 1 >= text.size()) return false;
  const auto part = [](std::string_view some) {
    return !some.empty() && some.find_first_not_of("0123456789.,+-") == std::string_view::npos;
  };
  return part(text.substr(0, e)) && is_digit(text.back()) && part(text.substr(e + 1));
}

}  // namespace

bool says_nothing(std::string_view cell) {
  cell = trimmed_marks(cell);
  if (cell.empty()) return true;
  if (cell.size() > 60) return false;
  const char c = cell.front();
  std::string store;
  if (!is_ascii(c)) {
    store = lower_letters(cell);
    cell = store;
  }
  if (is_digit(c)) {
    // What map systems write for "no data".
    return cell == "9999" || cell == "99999" || cell == "9999.0" || cell == "99999.0";
  }
  if (c == '#') {
    // #N/A, #VALUE!, #REF!, #NAME?, #DIV/0!, #NUM!, #NULL!
    return cell.size() > 3 && (cell == "#N/A" || cell.ends_with('!') || cell == "#NAME?");
  }
  if (c == '-' && cell.size() > 1 && is_digit(cell[1])) {
    return cell == "-999" || cell == "-9999" || cell == "-99999" || cell == "-999.0" ||
           cell == "-9999.0";
  }
  const std::uint32_t lengths = nothing_lengths[static_cast<unsigned char>(lower(cell.front()))];
  const bool as_long = cell.size() < 32 && (lengths >> cell.size() & 1) != 0;
  if (as_long && std::ranges::any_of(nothing_words, [&](std::string_view word) {
        return word.size() == cell.size() && begins_with_letters(cell, word);
      })) {
    return true;
  }
  return std::ranges::any_of(
      see_words, [&](std::string_view word) { return begins_with_letters(cell, word); });
}

std::optional<std::string> repeats_above(std::string_view cell, std::string_view heading) {
  cell = trimmed_marks(cell);
  // The longest of the words has 13 letters; most cells are told by their first.
  if (cell.empty() || cell.size() > 20 || !begins_ditto[static_cast<unsigned char>(cell.front())]) {
    return std::nullopt;
  }
  if (std::ranges::find(ditto_words, lower_letters(cell)) == ditto_words.end()) {
    return std::nullopt;
  }
  return fmt::format(
      "\"{}\" repeats the cell above; write the value itself, or leave the cell empty and "
      "fill the column by --fill-down '{}'",
      shown(cell), shown(heading));
}

std::string_view without_text_marks(std::string_view cell) {
  cell = trimmed_marks(cell);
  if (cell.size() > 3 && cell.starts_with("=\"") && cell.ends_with('"')) {
    return trimmed(cell.substr(2, cell.size() - 3));
  }
  // Two apostrophes are inches; one in front marks a text.
  if (cell.size() > 1 && cell.front() == '\'' && cell[1] != '\'') return trimmed(cell.substr(1));
  return cell;
}

double largest_number(std::string_view unit, double longest_m) {
  struct Bound {
    Dimension dimension;
    double si;
  };
  const std::array<Bound, 11> bounds = {{{Dimension::length, longest_m},
                                         {Dimension::pipe_diameters, 500},
                                         {Dimension::temperature, 1000},
                                         {Dimension::pressure_absolute, 1e8},
                                         {Dimension::pressure_gauge, 1e8},
                                         {Dimension::volume_flow, 100},
                                         {Dimension::mass_flow, 1e5},
                                         {Dimension::density, 25000},
                                         {Dimension::fraction, 1},
                                         {Dimension::mass_fraction, 1},
                                         {Dimension::volume_fraction, 1}}};
  static constexpr Dimensions bounded = {Dimension::length,         Dimension::pipe_diameters,
                                         Dimension::temperature,    Dimension::pressure_absolute,
                                         Dimension::pressure_gauge, Dimension::volume_flow,
                                         Dimension::mass_flow,      Dimension::density,
                                         Dimension::fraction,       Dimension::mass_fraction,
                                         Dimension::volume_fraction};
  const double none = std::numeric_limits<double>::infinity();
  if (unit.empty()) return none;
  const auto read = parse_quantity(fmt::format("1000 {}", unit), bounded);
  const auto* thousand = std::get_if<Reading>(&read);
  if (thousand == nullptr) return none;
  // A thousand of any unit of temperature is far above its zero, so this holds for scales too.
  const auto* bound = std::ranges::find(bounds, thousand->dimension, &Bound::dimension);
  return bound == bounds.end() ? none : 1000 * bound->si / thousand->si;
}

NumberStyle number_style(std::span<const std::string_view> cells, double largest) {
  bool point = false, comma = false;
  bool uneven = false, uneven_hundreds = false, whole_hundreds = false;
  std::string last_unit;
  double largest_of_unit = largest;
  const auto exceeds = [&](const Groups& groups, std::string_view unit) {
    if (unit != last_unit) {
      last_unit = unit;
      largest_of_unit = std::min(largest, largest_number(unit));
    }
    return thousands_value(groups) > largest_of_unit;
  };
  // The number in front of a unit tells as well.
  const auto look_at = [&](std::string_view text) {
    const std::size_t length = number_length(text);
    std::string store;
    const std::string_view number = trimmed(with_plain_marks(text.substr(0, length), store));
    if (number.empty()) return;
    const auto groups = groups_of(number);
    if (!groups) return;
    const Reading3 reading = meaning(*groups);
    const char mark = groups->between.empty() ? ' ' : groups->between.front();
    const bool open = reading == Reading3::open;
    const bool too_large = open && exceeds(*groups, trimmed(text.substr(length)));
    point = point || reading == Reading3::decimal_point ||
            (reading == Reading3::thousands && mark == ',') || (too_large && mark == '.');
    comma = comma || reading == Reading3::decimal_comma ||
            (reading == Reading3::thousands && mark == '.') || (too_large && mark == ',');
    if (open && mark == '.' && !ends_round(*groups)) {
      uneven = true;
      uneven_hundreds = uneven_hundreds || groups->digits.front().size() == 3;
    }
    whole_hundreds =
        whole_hundreds || (reading == Reading3::whole && groups->digits.front().size() == 3);
  };
  for (std::string_view cell : cells) {
    look_at(cell);
    // The distances of fittings.
    for (std::size_t at = cell.find('@'); at != std::string_view::npos; at = cell.find('@')) {
      cell.remove_prefix(at + 1);
      look_at(trimmed(cell.substr(0, cell.find_first_of(";|\n@"))));
    }
  }
  if (point && comma) return NumberStyle::contradictory;
  if (point || comma) return point ? NumberStyle::decimal_point : NumberStyle::decimal_comma;
  if (!uneven) return NumberStyle::open;
  return whole_hundreds && !uneven_hundreds ? NumberStyle::contradictory
                                            : NumberStyle::decimal_point;
}

bool is_plain_decimal(std::string_view cell, NumberStyle style) {
  if (style == NumberStyle::decimal_point) return true;
  const std::size_t point = cell.find('.');
  if (point == std::string_view::npos) return true;
  if (style == NumberStyle::decimal_comma) return false;
  const auto groups = groups_of(cell);
  if (!groups || meaning(*groups) != Reading3::open) return true;
  return style == NumberStyle::open && !ends_round(*groups);
}

std::size_t number_length(std::string_view cell) {
  // Blanks of other widths and typographic apostrophes have several bytes.
  std::size_t end = 0;
  for (std::string_view rest = cell; !rest.empty(); rest = cell.substr(end)) {
    const char c = rest.front();
    const Mark* mark = mark_at(rest);
    if (is_digit(c) || std::string_view("+-.,' ").find(c) != std::string_view::npos) {
      ++end;
    } else if (mark != nullptr) {
      end += mark->bytes.size();
    } else {
      break;
    }
  }
  const auto is_number = [&](std::size_t length) {
    std::string store;
    const auto groups = groups_of(trimmed(with_plain_marks(cell.substr(0, length), store)));
    return groups && meaning(*groups) != Reading3::no_number;
  };
  // "6 1/2 in" is not 61 halves.
  const bool fraction = end < cell.size() && cell[end] == '/';
  if (!fraction && end > 0 && is_number(end)) {
    while (end > 0 && is_blank(cell[end - 1])) --end;
    return end;
  }
  const std::size_t plain = std::min(cell.find_first_not_of("+-0123456789.,"), cell.size());
  // The 1 of "1/2 in" is no number of its own.
  return plain < cell.size() && cell[plain] == '/' ? 0 : plain;
}

BareNumber read_bare_number(std::string_view cell, NumberStyle style) {
  using Kind = BareNumber::Kind;
  std::string store;
  cell = trimmed(with_plain_marks(cell, store));
  const auto unclear = [&](std::string message) {
    return BareNumber{Kind::unclear, {}, std::move(message)};
  };
  if (has_exponent(cell)) {
    return unclear(fmt::format(
        "\"{}\" was cut to an exponent by a spreadsheet; write all its digits", shown(cell)));
  }
  const auto groups = groups_of(cell);
  if (!groups) return {};
  switch (meaning(*groups)) {
    case Reading3::no_number:
      return {};
    case Reading3::whole:
    case Reading3::thousands:
      return {Kind::number, joined(*groups, false), {}};
    case Reading3::decimal_point:
    case Reading3::decimal_comma:
      return {Kind::number, joined(*groups, true), {}};
    case Reading3::open:
      break;
  }
  const bool comma = groups->between.front() == ',';
  if (!comma && (style == NumberStyle::decimal_point ||
                 (style == NumberStyle::open && !ends_round(*groups)))) {
    return {Kind::number, joined(*groups, true), {}};
  }
  if (comma && style == NumberStyle::decimal_comma) {
    return {Kind::number, joined(*groups, true), {}};
  }
  return unclear(fmt::format("\"{}\" can be {} or {}; write the one that is meant", shown(cell),
                             joined(*groups, false), unmistakable(*groups, style)));
}

std::optional<std::string> spoiled_by_spreadsheet(std::string_view cell) {
  if (cell.size() < 4 || cell.size() > 12) return std::nullopt;
  static constexpr std::array<std::string_view, 12> months = {
      "jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"};
  const auto letter = std::ranges::find_if(cell, is_letter);
  const auto at = static_cast<std::size_t>(letter - cell.begin());
  if (letter == cell.end()) {
    const bool clock = cell.find(':') != std::string_view::npos &&
                       cell.find_first_not_of("0123456789:.") == std::string_view::npos;
    if (!clock) return std::nullopt;
    return fmt::format("\"{}\" is a time that a spreadsheet left over; write the value again",
                       shown(cell));
  }
  const auto month = std::ranges::find(months, lower(cell.substr(at, 3)));
  if (month == months.end()) return std::nullopt;
  std::string rest(cell.substr(0, at));
  rest += cell.substr(std::min(at + 3, cell.size()));
  std::erase_if(rest, [](char c) { return c == '-' || c == '.' || c == ' ' || c == '/'; });
  if (rest.empty() || rest.size() > 2 || !std::ranges::all_of(rest, is_digit)) return std::nullopt;
  const auto number = month - months.begin() + 1;
  // Typed as month and day, where the spreadsheet reads dates so.
  return fmt::format(
      "\"{0}\" is a date that a spreadsheet made of something like {2}/{1} or {2}-{1}, less often "
      "{1}/{2}; write the value again, in a cell formatted as text",
      shown(cell), rest, number);
}

bool may_offer_alternatives(std::string_view cell) {
  return cell.find('|') != std::string_view::npos || cell.ends_with('?') ||
         cell.find(" or ") != std::string_view::npos || cell.find(" OR ") != std::string_view::npos;
}

std::vector<std::string_view> alternatives(std::string_view cell) {
  std::vector<std::string_view> out;
  std::string_view rest = trimmed(cell);
  const bool question = rest.size() > 1 && rest.ends_with('?');
  if (question) rest = trimmed(rest.substr(0, rest.size() - 1));
  const auto next = [&](std::size_t& length) {
    std::size_t at = std::string_view::npos;
    for (std::string_view mark : {" or ", " OR ", "|", "/"}) {
      if (mark == "/" && !question) continue;
      const std::size_t here = rest.find(mark);
      if (here < at) {
        at = here;
        length = mark.size();
      }
    }
    return at;
  };
  std::size_t length = 0;
  for (std::size_t at = next(length); at != std::string_view::npos; at = next(length)) {
    out.push_back(trimmed(rest.substr(0, at)));
    rest = trimmed(rest.substr(at + length));
  }
  out.push_back(rest);
  const bool hollow = std::ranges::any_of(out, [](std::string_view part) { return part.empty(); });
  // A question mark behind a single value doubts it and offers nothing instead.
  if (hollow || out.size() == 1) return {trimmed(cell)};
  return out;
}

std::optional<CellRange> cell_range(std::string_view cell) {
  cell = trimmed(cell);
  const auto number_end = [](std::string_view text) {
    const std::size_t sign = text.starts_with('-') || text.starts_with('+') ? 1 : 0;
    const std::size_t end = text.find_first_not_of("0123456789.,", sign);
    return std::min({end, text.find(".."), text.size()});
  };
  const auto begins_number = [](std::string_view text) {
    if (text.starts_with('-') || text.starts_with('+')) text.remove_prefix(1);
    return !text.empty() && is_digit(text.front());
  };
  if (!begins_number(cell)) return std::nullopt;
  const std::size_t first_end = number_end(cell);
  std::string_view rest = trimmed(cell.substr(first_end));
  bool dash = false;
  for (std::string_view mark : {"-", "\u2013", "\u2014", "\u2026", "to ", "...", ".."}) {
    if (!rest.starts_with(mark)) continue;
    rest = trimmed(rest.substr(mark.size()));
    dash = true;
    break;
  }
  if (!dash || !begins_number(rest)) return std::nullopt;
  const std::size_t second_end = number_end(rest);
  const std::string_view unit = trimmed(rest.substr(second_end));
  // "m3/h" and "m3 h-1" have digits of their own; those of "1-1/2" and of dates are others.
  for (std::size_t i = 0; i < unit.size(); ++i) {
    const char before = i == 0 ? ' ' : unit[i - 1];
    const bool in_word =
        is_letter(before) || is_digit(before) || before == '^' || !is_ascii(before);
    const bool exponent = before == '-' && i > 1 && is_letter(unit[i - 2]);
    if (is_digit(unit[i]) && !in_word && !exponent) return std::nullopt;
    if (unit[i] == '-' && !is_letter(before)) return std::nullopt;
  }
  const auto with_unit = [&](std::string_view number) {
    return unit.empty() ? std::string(number) : fmt::format("{} {}", number, unit);
  };
  return CellRange{with_unit(cell.substr(0, first_end)), with_unit(rest.substr(0, second_end))};
}

std::optional<PresentAndFormer> present_and_former(std::string_view cell) {
  cell = trimmed(cell);
  const std::size_t open = cell.find('(');
  if (open == std::string_view::npos || open == 0 || !cell.ends_with(')')) return std::nullopt;
  const std::string_view inside = trimmed(cell.substr(open + 1, cell.size() - open - 2));
  const std::string word = lower_letters(inside);
  for (std::string_view was :
       {"was ", "orig ", "orig. ", "original ", "originally ", "ex ", "nom ", "nominal ", "new ",
        "war ", "fr\u00fcher ", "antes ", "by\u0142o ", "by\u0142a ", "\u0431\u044b\u043b\u043e ",
        "\u0431\u044b\u043b\u0430 "}) {
    if (word.starts_with(was)) {
      return PresentAndFormer{trimmed(cell.substr(0, open)), trimmed(inside.substr(was.size()))};
    }
  }
  return std::nullopt;
}

}  // namespace slantrule
