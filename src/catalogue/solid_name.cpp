#include "solid_name.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <string>
#include <utility>

#include "size_text.hpp"
#include "size_words.hpp"
#include "slantrule/catalogue/pipe_standards.hpp"
#include "slantrule/units/suggest.hpp"

namespace slantrule {
namespace {

constexpr std::size_t longest_text = 80;   ///< bytes; a name with its grade and standard is shorter
constexpr std::size_t longest_phrase = 5;  ///< words

/// A decimal point ("1.4404"), or the slash between the shares of an alloy ("90/10").
bool is_in_number(std::string_view text, std::size_t at) {
  const auto digit = [&](std::size_t i) { return i < text.size() && is_digit(text[i]); };
  if (at == 0 || !digit(at - 1) || !digit(at + 1)) return false;
  if (text[at] == '.') return true;
  const bool shares =
      at >= 2 && digit(at - 2) && digit(at + 2) && !digit(at + 3) && (at < 3 || !digit(at - 3));
  return text[at] == '/' && shares;
}

/// The words of a folded text. A point or slash between digits stays ("1.4404", "90/10"); letters
/// with points between make one word ("C.S.", "P.V.C").
std::vector<std::string> words_of(std::string_view folded) {
  constexpr std::string_view separators = "_,;:()[]+&/.";
  std::vector<std::string> words;
  std::string word;
  bool joins = false;  // what stands before was a single letter with a point
  const auto end_word = [&](char separator) {
    if (word.empty()) return;
    const bool letter = word.size() == 1 && !is_digit(word.front());
    if (letter && joins) {
      words.back() += word;
    } else {
      words.push_back(word);
    }
    joins = letter && separator == '.';
    word.clear();
  };
  for (std::size_t i = 0; i < folded.size(); ++i) {
    const char c = folded[i];
    if (separators.find(c) == std::string_view::npos || is_in_number(folded, i)) {
      word += c;
    } else {
      end_word(c);
    }
  }
  end_word(' ');
  return words;
}

/// What was read of the material: the keys of a name, or a family with no grade said.
struct Named {
  std::vector<std::string_view> keys;
  Family family = Family::unknown;  ///< of a word that leaves the grade open; else unknown
};

/// The key that stands for a family when no grade is said.
std::string_view usual_key(Family family) {
  switch (family) {
    case Family::steel:
    case Family::carbon_steel:
      return "carbon_steel";
    case Family::stainless:
      return "stainless_304";
    case Family::copper:
      return "copper";
    case Family::pvc:
      return "pvc_u";
    case Family::cpvc:
      return "cpvc";
    case Family::pe:
      return "pe_pipe";
    case Family::ductile_iron:
      return "ductile_iron";
    default:
      return {};
  }
}

/// The family of a name that leaves the grade open: "SS", "steel", "PE".
Family open_family(const std::string& joined, const std::vector<std::string_view>& keys) {
  const Word* word = find_word(plain_size_text(joined).text);
  if (word && word->family == Family::steel) return Family::steel;
  if (keys.size() != 1 || std::ranges::any_of(joined, is_digit)) return Family::unknown;
  if (keys.front() == usual_key(Family::stainless)) return Family::stainless;
  return keys.front() == usual_key(Family::pe) ? Family::pe : Family::unknown;
}

bool is_of_family(std::string_view key, Family family) {
  const std::string_view of = pipe_family(key);
  if (family == Family::steel) return of == "carbon steel" || of == "stainless steel";
  return !of.empty() && of == family_name(family);
}

class SolidNameReader {
 public:
  SolidNameReader(std::vector<std::string> words, const SolidLookUp& look_up)
      : words_(std::move(words)), look_up_(look_up) {}

  SolidReading read() {
    while (at_ < words_.size()) {
      if (!read_grown_together() && !read_phrase() && !read_wall_name()) return {};
      if (!refused_.empty()) return {{}, refused_};
    }
    return {agreed(), {}};
  }

 private:
  std::string joined(std::size_t count, std::string_view between) const {
    std::string text = words_[at_];
    for (std::size_t i = 1; i < count; ++i) text.append(between).append(words_[at_ + i]);
    return text;
  }

  /// The longest name or word of the trade that starts here.
  bool read_phrase() {
    for (std::size_t n = std::min(longest_phrase, words_.size() - at_); n > 0; --n) {
      const std::string grown = joined(n, "");
      // "AISI 316L": the grade behind says more than the two as one word.
      const bool authority = n > 1 && is_authority(words_[at_]);
      if (!take_name(joined(n, "_"), grown) && !(n > 1 && take_name(grown, grown)) &&
          !(!authority && take_word(grown))) {
        continue;
      }
      at_ += n;
      if (skip_grade_ && at_ < words_.size()) take_grade();
      skip_grade_ = false;
      return true;
    }
    return false;
  }

  static bool is_authority(const std::string& text) {
    const Word* word = find_word(plain_size_text(text).text);
    return word && word->kind == WordKind::authority;
  }

  bool take_name(std::string_view folded, const std::string& grown) {
    SolidReading meaning = look_up_(folded);
    refused_ = meaning.refused;
    if (meaning.keys.empty()) return !refused_.empty();
    const Family open = open_family(grown, meaning.keys);
    named_.push_back({std::move(meaning.keys), open});
    return true;
  }

  /// Grades and standards say the family; other words nothing.
  bool take_word(const std::string& grown) {
    const std::string plain = plain_size_text(grown).text;
    const Word* word = plain.size() <= longest_word ? find_word(plain) : nullptr;
    if (!word) return false;
    switch (word->kind) {
      case WordKind::authority:
      case WordKind::aside:
      case WordKind::pipe:
      case WordKind::tube:
      case WordKind::label:  // "copper type L"
        return true;
      case WordKind::grade_of:
        skip_grade_ = true;
        return true;
      case WordKind::standard:
        if (word->family == Family::unknown) return true;
        break;
      case WordKind::material:
      case WordKind::grade:
        break;
      default:
        return false;
    }
    if (word->family == Family::other) {
      const SolidReading meaning = look_up_(folded_name(word->value));
      if (meaning.keys.empty()) return false;
      named_.push_back({meaning.keys, Family::unknown});
      return true;
    }
    if (word->family == Family::stainless && word->kind == WordKind::grade &&
        take_stainless_grade(word->text)) {
      return true;
    }
    if (word->family == Family::copper_nickel) {
      named_.push_back({{"cuni_70_30", "cuni_90_10"}, Family::unknown});
    } else {
      named_.push_back({{usual_key(word->family)}, word->family});
    }
    return true;
  }

  /// Grades of stainless steel that are not 304 or its like.
  bool take_stainless_grade(std::string_view text) {
    static constexpr std::array<std::pair<std::string_view, std::string_view>, 5> grades{
        {{"316", "stainless_316"},
         {"2205", "duplex_2205"},
         {"31803", "duplex_2205"},
         {"32205", "duplex_2205"},
         {"a790", "duplex_2205"}}};
    for (const auto& [grade, key] : grades) {
      if (text.find(grade) == std::string_view::npos) continue;
      named_.push_back({{key}, Family::unknown});
      return true;
    }
    return false;
  }

  /// "Gr. B": the letter behind is no material; "grade 316L" is one.
  void take_grade() {
    const std::string& grade = words_[at_];
    if (take_name(grade, grade) || grade.size() <= 3) ++at_;
  }

  /// "AISI304", "SUS316L", "SA312": the authority grown together with its number.
  bool read_grown_together() {
    static constexpr std::array<std::string_view, 7> beginnings{"aisi", "astm", "asme", "sus",
                                                                "sst",  "din",  "sa"};
    std::string word = words_[at_];
    if (word == "sa" && at_ + 1 < words_.size() && is_digit(words_[at_ + 1].front()) &&
        take_word("a" + words_[at_ + 1])) {  // ASME SA-312 is ASTM A312
      at_ += 2;
      return true;
    }
    for (std::string_view beginning : beginnings) {
      if (!word.starts_with(beginning) || word.size() == beginning.size() ||
          !is_digit(word[beginning.size()])) {
        continue;
      }
      std::string rest = word.substr(beginning.size());
      if (beginning == "sa") rest.insert(0, 1, 'a');
      if (!take_name(rest, rest) && !take_word(rest)) return false;
      if (beginning == "sus" || beginning == "sst") {
        named_.push_back({{usual_key(Family::stainless)}, Family::stainless});
      }
      ++at_;
      return true;
    }
    return false;
  }

  /// "sch 80", "SDR11": a wall that stands beside the material.
  bool read_wall_name() {
    std::string_view word = words_[at_];
    const auto kind_of = [](std::string_view text) {
      const Word* known = find_word(text);
      return known ? known->kind : WordKind::aside;
    };
    const std::size_t letters = std::min(word.find_first_of("0123456789"), word.size());
    const WordKind kind = kind_of(word.substr(0, letters));
    static constexpr std::array kinds{WordKind::schedule, WordKind::ratio, WordKind::pressure_class,
                                      WordKind::thickness_class, WordKind::nominal_pressure};
    if (std::ranges::find(kinds, kind) == kinds.end()) return false;
    if (letters < word.size()) {
      ++at_;
      return true;
    }
    if (at_ + 1 >= words_.size() || !is_digit(words_[at_ + 1].front())) return false;
    at_ += 2;
    return true;
  }

  /// The keys that all names agree on; where they do not, all of them.
  std::vector<std::string_view> agreed() const {
    std::vector<std::string_view> common, all;
    bool first = true;
    for (const Named& one : named_) {
      for (std::string_view key : one.keys) {
        if (std::ranges::find(all, key) == all.end()) all.push_back(key);
      }
      if (one.family != Family::unknown && is_made_certain(one)) continue;
      if (first) {
        common = one.keys;
      } else {
        std::erase_if(common, [&](std::string_view key) {
          return std::ranges::find(one.keys, key) == one.keys.end();
        });
      }
      first = false;
    }
    if (!first && !common.empty()) return common;
    std::ranges::sort(all);
    return all;
  }

  /// Whether another name says the grade that this one leaves open.
  bool is_made_certain(const Named& open) const {
    return std::ranges::any_of(named_, [&](const Named& other) {
      if (&other == &open) return false;
      // Of two that leave it open one stays: the narrower, else the first.
      if (other.family != Family::unknown) {
        const bool narrower = open.family == Family::steel && other.family != Family::steel;
        if (!narrower && !(other.family == open.family && &other < &open)) return false;
      }
      return std::ranges::any_of(
          other.keys, [&](std::string_view key) { return is_of_family(key, open.family); });
    });
  }

  std::vector<std::string> words_;
  const SolidLookUp& look_up_;
  std::size_t at_ = 0;
  bool skip_grade_ = false;
  std::vector<Named> named_;
  std::string_view refused_;
};

}  // namespace

SolidReading read_solid_name(std::string_view text, const SolidLookUp& look_up) {
  if (text.size() > longest_text) return {};
  return SolidNameReader(words_of(folded_name(text)), look_up).read();
}

}  // namespace slantrule
