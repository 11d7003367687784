#include "liquid_parts.hpp"

#include <algorithm>
#include <array>
#include <utility>

#include "slantrule/units/ascii.hpp"
#include "slantrule/units/number_text.hpp"
#include "slantrule/units/suggest.hpp"

namespace slantrule {
namespace {

/// Letters of other scripts make words too, which nothing knows.
bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || static_cast<unsigned char>(c) >= 0x80;
}

// --- Text to plain words -----------------------------------------------------------------------

/// Plain words, and where in the text each of their bytes came from.
struct PlainWords {
  std::string words;
  std::vector<std::size_t> at;

  void add(std::string_view bytes, std::size_t from) {
    words += bytes;
    at.insert(at.end(), bytes.size(), from);
  }
};

/// One character as lower case, a Latin one as ASCII without accent, and how many bytes it takes in
/// the text.
struct PlainCharacter {
  std::string_view plain;
  std::size_t length;
};

PlainCharacter plain_character(std::string_view text) {
  static constexpr std::string_view lower = "abcdefghijklmnopqrstuvwxyz";
  static constexpr std::string_view digits = "0123456789";
  static constexpr std::array<std::string_view, 32> latin_1{
      "a", "a", "a", "a", "a", "a", "ae", "c", "e", "e", "e", "e", "i", "i", "i",  "i",
      "d", "n", "o", "o", "o", "o", "o",  "",  "o", "u", "u", "u", "u", "y", "th", "y"};
  // U+0100 to U+017F, and the lower case of U+0410 to U+042F.
  static constexpr std::string_view latin_a =
      "aaaaaaccccccccddddeeeeeeeeeegggggggghhhhiiiiiiiiiiiijjkkklllllll"
      "lllnnnnnnnnnoooooooorrrrrrssssssssttttttuuuuuuuuuuuuwwyyyzzzzzzs";
  static constexpr std::string_view cyrillic =
      "\u0430\u0431\u0432\u0433\u0434\u0435\u0436\u0437\u0438\u0439\u043a\u043b\u043c\u043d\u043e"
      "\u043f"
      "\u0440\u0441\u0442\u0443\u0444\u0445\u0446\u0447\u0448\u0449\u044a\u044b\u044c\u044d\u044e"
      "\u044f";
  const auto byte = [&](std::size_t i) {
    return i < text.size() ? static_cast<unsigned char>(text[i]) : 0U;
  };
  const char c = text[0];
  if (c >= 'A' && c <= 'Z') return {lower.substr(static_cast<std::size_t>(c - 'A'), 1), 1};
  if (byte(0) == 0xC3 && byte(1) == 0x9F) return {"ss", 2};
  if (byte(0) == 0xC3 && byte(1) >= 0x80 && byte(1) <= 0xBF && (byte(1) & 0x1FU) != 0x17) {
    return {latin_1[byte(1) & 0x1FU], 2};  // U+00C0 to U+00FF but the signs for times and divided
  }
  if (byte(0) == 0xC5 && (byte(1) == 0x92 || byte(1) == 0x93)) return {"oe", 2};
  if ((byte(0) == 0xC4 || byte(0) == 0xC5) && byte(1) >= 0x80 && byte(1) <= 0xBF) {
    return {latin_a.substr((byte(0) - 0xC4U) * 64 + byte(1) - 0x80U, 1), 2};
  }
  if (byte(0) == 0xD0 && byte(1) >= 0x90 && byte(1) <= 0xAF) {  // Cyrillic capitals
    return {cyrillic.substr(2 * (byte(1) - 0x90U), 2), 2};
  }
  if (byte(0) == 0xCC && byte(1) >= 0x80) return {"", 2};  // combining accents
  if (byte(0) == 0xCD && byte(1) >= 0x80 && byte(1) <= 0xAF) return {"", 2};
  if (byte(0) == 0xE2 && byte(1) == 0x82 && byte(2) >= 0x80 && byte(2) <= 0x89) {
    return {digits.substr(byte(2) - 0x80U, 1), 3};  // the subscripts of a formula
  }
  return {text.substr(0, 1), 1};
}

bool is_separator(char c) {
  return std::string_view(" \t-_.:=()[]{}'\"").find(c) != std::string_view::npos;
}

/// What stays of the separators between `before` and `after` (0 at the ends of the text): the point
/// of a decimal, the colon of a ratio, the dash of a range; else a blank.
std::string_view kept_separator(char before, std::string_view run, char after) {
  std::string bare;
  for (char c : run) {
    if (c != ' ' && c != '\t') bare += c;
  }
  const bool range = bare == "-" || bare == ".." || bare == "...";
  if (is_digit(after)) {
    if (is_digit(before) && run == ".") return ".";
    if (is_digit(before) && bare == ":") return ":";
    if ((is_digit(before) || before == '%') && range) return "-";
    if (before == 0 && run.ends_with('-')) return "-";  // "-5 %": kept, to be refused
    if (run.ends_with('.') && (before == 0 || run.size() > 1)) return before == 0 ? "." : " .";
  }
  return before == 0 || after == 0 ? "" : " ";
}

PlainWords fold(std::string_view text) {
  PlainWords folded;
  for (std::size_t at = 0; at < text.size();) {
    std::size_t end = at;
    while (end < text.size() && is_separator(text[end])) ++end;
    if (end > at) {
      const char before = folded.words.empty() ? char{0} : folded.words.back();
      const char after = end < text.size() ? text[end] : char{0};
      folded.add(kept_separator(before, text.substr(at, end - at), after), at);
      at = end;
      continue;
    }
    const PlainCharacter character = plain_character(text.substr(at));
    folded.add(character.plain, at);
    at += character.length;
  }
  return folded;
}

// --- Plain words to parts ----------------------------------------------------------------------

using Kind = LiquidParts::Kind;
using Choice = std::span<const std::string_view>;

constexpr std::pair<std::string_view, Kind> small_words[] = {
    {"/", Kind::joint},
    {",", Kind::joint},
    {";", Kind::joint},
    {"or", Kind::joint},
    {"oder", Kind::joint},
    {"ou", Kind::joint},
    {"+", Kind::with},
    {"&", Kind::with},
    {"and", Kind::with},
    {"und", Kind::with},
    {"et", Kind::with},
    {"y", Kind::with},
    {"in", Kind::with},
    {"with", Kind::with},
    {"mit", Kind::with},
    {"avec", Kind::with},
    {"con", Kind::with},
    {"plus", Kind::with},
    {"aqueous", Kind::aqueous},
    {"aq", Kind::aqueous},
    {"solution", Kind::aqueous},
    {"soln", Kind::aqueous},
    {"losung", Kind::aqueous},
    {"loesung", Kind::aqueous},
    {"solucion", Kind::aqueous},
    {"pure", Kind::pure},
    {"neat", Kind::pure},
    {"anhydrous", Kind::pure},
    {"rein", Kind::pure},
    {"pur", Kind::pure},
    {"puro", Kind::pure},
    {"liquid", Kind::liquid},
    {"liquefied", Kind::liquid},
    {"flussig", Kind::liquid},
    {"fluessig", Kind::liquid},
    {"liquide", Kind::liquid},
    {"liquido", Kind::liquid},
    {"salinity", Kind::salinity},
    {"salinite", Kind::salinity},
    {"salinidad", Kind::salinity},
    {"salzgehalt", Kind::salinity},
};

/// Words that say nothing of which liquid it is.
constexpr std::string_view idle_words[] = {
    "supply",   "return",    "loop", "circuit", "system",    "line",    "mix",      "mixture",
    "mixed",    "fluid",     "of",   "content", "inhibited", "gemisch", "mischung", "vorlauf",
    "rucklauf", "ruecklauf", "a",    "de",      "du",        "d"};

struct UnitWords {
  std::string_view words;
  AmountUnit unit;
  int power;
};
constexpr UnitWords units[] = {
    {"g/kg", AmountUnit::mass, -3},
    {"kg/kg", AmountUnit::mass, 0},
    {"g/g", AmountUnit::mass, 0},
    {"mg/kg", AmountUnit::mass, -6},
    {"ppmw", AmountUnit::mass, -6},
    {"ml/l", AmountUnit::volume, -3},
    {"l/l", AmountUnit::volume, 0},
    {"psu", AmountUnit::salinity, -3},
    {"ppt", AmountUnit::salinity, -3},
    {"permille", AmountUnit::percent, -3},
    {"per mille", AmountUnit::percent, -3},
    {"promille", AmountUnit::percent, -3},
    {"o/oo", AmountUnit::percent, -3},
    {"degbrix", AmountUnit::sugar, -2},
    {"deg brix", AmountUnit::sugar, -2},
    {"degbx", AmountUnit::sugar, -2},
    {"deg bx", AmountUnit::sugar, -2},
    {"brix", AmountUnit::sugar, -2},
    {"bx", AmountUnit::sugar, -2},
    {"g/l", AmountUnit::mass_per_volume, -3},
    {"mg/l", AmountUnit::mass_per_volume, -6},
    {"kg/m3", AmountUnit::mass_per_volume, -3},
    {"kg/m^3", AmountUnit::mass_per_volume, -3},
    {"kg/l", AmountUnit::mass_per_volume, 0},
    {"mol/l", AmountUnit::other, 0},
    {"mol/kg", AmountUnit::other, 0},
    {"mol%", AmountUnit::other, 0},
    {"mol %", AmountUnit::other, 0},
    {"% mol", AmountUnit::other, 0},
    {"ppm", AmountUnit::other, 0},
    {"degbe", AmountUnit::other, 0},
    {"deg be", AmountUnit::other, 0},
    {"degbaume", AmountUnit::other, 0},
    {"baume", AmountUnit::other, 0},
};

constexpr std::string_view percent_words[] = {"%",       "percent",   "per cent",  "pct",
                                              "prozent", "pour cent", "por ciento"};
constexpr std::string_view mass_words[] = {
    "by mass", "by weight", "by wt",    "w/w",     "m/m",     "wt/wt",  "mass",
    "masse",   "massique",  "en masse", "en masa", "masa",    "weight", "wt",
    "gew",     "gewicht",   "en poids", "poids",   "en peso", "peso",   "ma"};
constexpr std::string_view volume_words[] = {"by volume", "by vol",     "v/v",       "vol/vol",
                                             "volume",    "volumen",    "volumique", "vol",
                                             "en volume", "en volumen", "en vol",    "abv"};
constexpr std::string_view range_words[] = {"-", "to", "bis", "a"};
constexpr std::string_view api_words[] = {"api"};
constexpr std::string_view vg_words[] = {"iso vg", "isovg", "vg", "hlp", "hvlp", "hm"};
constexpr std::string_view mass_per_volume_words[] = {"w/v", "m/v", "wt/vol"};

class Cutter {
 public:
  Cutter(std::string_view text, const PhraseTable& phrases)
      : text_(plain_text(text)), folded_(fold(text_)), words_(folded_.words), phrases_(phrases) {}

  LiquidParts parts() {
    while (skip_blanks(), at_ < words_.size()) {
      start_ = at_;
      if (read_phrase() || read_grade() || read_amount() || read_small_word()) continue;
      if (accept_one_of(idle_words)) continue;
      read_unknown();
    }
    return std::move(result_);
  }

 private:
  std::string_view rest() const { return words_.substr(at_); }
  char now() const { return at_ < words_.size() ? words_[at_] : char{0}; }
  void skip_blanks() {
    while (now() == ' ') ++at_;
  }

  /// The text from where the part began to here, as it was written.
  std::string written() const {
    const std::size_t from = folded_.at[start_];
    const std::size_t to = at_ < words_.size() ? folded_.at[at_] : text_.size();
    std::string_view slice = std::string_view(text_).substr(from, to - from);
    while (!slice.empty() && is_separator(slice.back())) slice.remove_suffix(1);
    return std::string(slice);
  }

  LiquidParts::Part& add(Kind kind) {
    return result_.parts.emplace_back(LiquidParts::Part{kind, written(), {}, {}});
  }

  /// Whole words only: "in" is not the start of "indigo", nor "w" that of "w/w".
  bool accept(std::string_view word) {
    const std::size_t back = at_;
    skip_blanks();
    if (rest().starts_with(word)) {
      at_ += word.size();
      const bool sign = !is_letter(word.back());
      if (sign || !(is_letter(now()) || is_digit(now()) || now() == '/')) return true;
    }
    at_ = back;
    return false;
  }
  bool accept_one_of(Choice choice) {
    return std::ranges::any_of(choice, [&](std::string_view word) { return accept(word); });
  }

  bool read_phrase() {
    const std::span<const Phrase> found = phrases_.at_start_of(rest());
    if (found.empty()) return false;
    at_ += found.front().words.size();
    LiquidParts::Part& part = add(Kind::phrase);
    for (const Phrase& phrase : found) part.ids.push_back(phrase.id);
    return true;
  }

  bool at_number() const {
    return is_digit(now()) ||
           (now() == '.' && at_ + 1 < words_.size() && is_digit(words_[at_ + 1]));
  }

  /// A number from here as text; empty where there is none. A number glued to a word behind it that
  /// is no unit ("30x") is found out there.
  std::string_view number() {
    skip_blanks();
    if (!at_number()) return {};
    const std::size_t from = at_;
    while (at_ < words_.size() &&
           (is_digit(now()) || ((now() == '.' || now() == ',') && at_ + 1 < words_.size() &&
                                is_digit(words_[at_ + 1])))) {
      ++at_;
    }
    return words_.substr(from, at_ - from);
  }

  /// The number times 10^power; what is wrong with it goes to `fault`.
  double value(std::string_view number, int power) {
    const NumberText text = read_number(number);
    const std::optional<double> scaled = text.times_ten_to(power);
    if (scaled) return *scaled;
    if (result_.fault.empty()) {
      result_.fault = "\"" + shown(number, 20) + "\" is no number";
      if (text.fault == NumberFault::comma) {
        result_.fault = "\"" + shown(number, 20) + "\" could be " + text.readings[0] + " or " +
                        text.readings[1] + "; write one of them";
      }
    }
    return 0;
  }

  /// "API 32", "32 deg API", "ISO VG 46", "HLP 46" (DIN 51524 names the grade, from memory).
  bool read_grade() {
    const std::size_t back = at_;
    Kind kind = Kind::api;
    std::string_view low, high;
    if (at_number()) {
      low = number();
      high = end_of_range();
      accept("deg");
      if (!accept("api") && !accept("degapi")) {
        at_ = back;
        return false;
      }
      accept("gravity");
    } else {
      if (accept_grade(api_words)) {
        accept("gravity");
      } else if (accept_grade(vg_words)) {
        kind = Kind::vg;
      } else {
        return false;
      }
      low = number();
      if (low.empty()) {
        at_ = back;
        return false;
      }
      high = end_of_range();
    }
    const Amount amount{value(low, 0), value(high.empty() ? low : high, 0), AmountUnit::none};
    add(kind).amount = amount;
    return true;
  }

  /// One of the words with a blank or a number behind it.
  bool accept_grade(Choice choice) {
    return std::ranges::any_of(choice, [&](std::string_view word) {
      if (accept(word)) return true;
      const bool glued = rest().starts_with(word) && at_ + word.size() < words_.size() &&
                         is_digit(words_[at_ + word.size()]);
      if (glued) at_ += word.size();
      return glued;
    });
  }

  /// The other end of a range, behind "-" or "to"; empty where there is none.
  std::string_view end_of_range() {
    const std::size_t back = at_;
    if (accept_one_of(range_words)) {
      const std::string_view end = number();
      if (!end.empty()) return end;
    }
    at_ = back;
    return {};
  }

  bool accept_percent() { return accept_one_of(percent_words); }

  /// The unit from here and the power of ten that belongs to it.
  std::pair<AmountUnit, int> unit() {
    for (const UnitWords& one : units) {
      if (accept(one.words)) return {one.unit, one.power};
    }
    const std::size_t back = at_;
    AmountUnit basis = AmountUnit::percent;  // "35 vol%"
    const auto read_basis = [&] {
      if (accept_one_of(mass_per_volume_words)) {
        basis = AmountUnit::mass_per_volume;
      } else if (accept_one_of(mass_words)) {
        basis = AmountUnit::mass;
      } else if (accept_one_of(volume_words)) {
        basis = AmountUnit::volume;
      }
    };
    read_basis();
    if (!accept_percent()) {
      at_ = back;
      return {AmountUnit::none, 0};
    }
    if (basis == AmountUnit::percent) read_basis();  // "35 % vol"
    return {basis, -2};
  }

  bool read_amount() {
    if (!at_number()) return false;
    const std::string_view low = number();
    const std::size_t behind_low = at_;
    const auto [low_unit, low_power] = unit();
    std::string_view high = end_of_range();
    Kind kind = Kind::amount;
    if (high.empty() && low_unit == AmountUnit::none) {
      at_ = behind_low;
      if (accept("/") || accept(":")) {
        high = number();
        if (high.empty()) at_ = behind_low;
        if (!high.empty()) kind = Kind::ratio;
      }
    }
    std::pair<AmountUnit, int> last{low_unit, low_power};
    if (!high.empty()) {
      last = unit();
      const bool differ = low_unit != AmountUnit::none && low_unit != last.first;
      if (differ && last.first != AmountUnit::none && low_unit != AmountUnit::percent) {
        if (result_.fault.empty()) result_.fault = "the two ends of a range have different units";
      }
      if (last.first == AmountUnit::none) last = {low_unit, low_power};
    }
    const Amount amount{value(low, last.second), value(high.empty() ? low : high, last.second),
                        last.first};
    add(kind).amount = amount;
    return true;
  }

  bool read_small_word() {
    // ",5 %" is no comma between parts.
    const bool bare_decimal = now() == ',' && (at_ == 0 || words_[at_ - 1] == ' ') &&
                              at_ + 1 < words_.size() && is_digit(words_[at_ + 1]);
    if (bare_decimal) return false;
    for (const auto& [word, kind] : small_words) {
      if (!accept(word)) continue;
      add(kind);
      return true;
    }
    if (accept_one_of(mass_words)) {
      add(Kind::mass);
      return true;
    }
    if (accept_one_of(volume_words)) {
      add(Kind::volume);
      return true;
    }
    return false;
  }

  void read_unknown() {
    if (!is_letter(now()) && !is_digit(now())) {
      const bool minus = now() == '-';
      ++at_;
      while (minus && is_digit(now())) ++at_;
    } else {
      while (is_letter(now()) || is_digit(now())) ++at_;
    }
    add(Kind::unknown);
  }

  std::string text_;  ///< with the typography made plain
  PlainWords folded_;
  std::string_view words_;
  const PhraseTable& phrases_;
  std::size_t at_ = 0;
  std::size_t start_ = 0;
  LiquidParts result_;
};

struct ByFirstByte {
  bool operator()(const Phrase& phrase, char c) const { return phrase.words[0] < c; }
  bool operator()(char c, const Phrase& phrase) const { return c < phrase.words[0]; }
};

}  // namespace

PhraseTable::PhraseTable(std::vector<Phrase> phrases) : phrases_(std::move(phrases)) {
  std::erase_if(phrases_, [](const Phrase& phrase) { return phrase.words.empty(); });
  std::ranges::sort(phrases_, [](const Phrase& a, const Phrase& b) {
    if (a.words[0] != b.words[0]) return a.words[0] < b.words[0];
    if (a.words.size() != b.words.size()) return a.words.size() > b.words.size();
    return a.words != b.words ? a.words < b.words : a.id < b.id;
  });
}

std::span<const Phrase> PhraseTable::at_start_of(std::string_view text) const {
  if (text.empty()) return {};
  const auto [first, last] =
      std::equal_range(phrases_.begin(), phrases_.end(), text[0], ByFirstByte{});
  const auto found = std::find_if(first, last, [&](const Phrase& phrase) {
    if (!text.starts_with(phrase.words)) return false;
    const char next = text.size() > phrase.words.size() ? text[phrase.words.size()] : char{0};
    return !is_letter(next) && !(is_digit(phrase.words.back()) && is_digit(next));
  });
  if (found == last) return {};
  const auto end =
      std::find_if(found, last, [&](const Phrase& phrase) { return phrase.words != found->words; });
  return {found, end};
}

std::string plain_words(std::string_view text) {
  return fold(text).words;
}

LiquidParts parts_of_liquid(std::string_view text, const PhraseTable& phrases) {
  return Cutter(text, phrases).parts();
}

}  // namespace slantrule
