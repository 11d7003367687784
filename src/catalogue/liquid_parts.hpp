#pragma once

/// First half of reading a liquid's name: from text to its parts. Which words are names is the
/// caller's to say; what they mean is not decided here.

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace slantrule {

/// Words that stand for something, in the form of `plain_words`.
struct Phrase {
  std::string words;
  std::size_t id;  ///< the caller's
};

/// Phrases, to be found at the start of a text.
class PhraseTable {
 public:
  explicit PhraseTable(std::vector<Phrase> phrases);

  /// The longest phrase that `text` starts with and that ends with a word there ("pg" in "pg30",
  /// not in "pgx"); none: empty. Several when the same words stand for several things.
  std::span<const Phrase> at_start_of(std::string_view text) const;
  const std::vector<Phrase>& all() const { return phrases_; }

 private:
  std::vector<Phrase> phrases_;  ///< by first byte, then the longest first
};

/// Lower case ASCII without accents, every run of blanks, hyphens, underscores, dots, colons,
/// equals signs and brackets made one blank: the form in which names are compared. "Kühl-Wasser" is
/// "kuhl wasser".
std::string plain_words(std::string_view text);

/// What the number of an amount counts.
enum class AmountUnit {
  none,
  percent,  ///< of what is not said; thousandths too
  mass,
  volume,
  salinity,         ///< practical salinity: thousandths, and no unit
  sugar,            ///< degrees Brix: per cent of sucrose by mass
  mass_per_volume,  ///< g/l; `low` and `high` in kg/l
  other             ///< mol/l, degrees Baumé
};

/// "35 %", "25-30 % mass". For AmountUnit::none the numbers as written, else parts of one.
struct Amount {
  double low = 0, high = 0;
  AmountUnit unit = AmountUnit::none;
};

struct LiquidParts {
  enum class Kind {
    phrase,   ///< one of the caller's; several ids when it stands for several things
    amount,   ///< a number or a range
    ratio,    ///< "40/60": two numbers without a unit
    api,      ///< "32 API"
    vg,       ///< "ISO VG 46"
    joint,    ///< "/", "," or "or" between two parts
    with,     ///< "and", "+", "in": both are meant
    aqueous,  ///< "solution", "aq"
    pure,
    liquid,
    salinity,  ///< the word
    mass,      ///< "by mass", apart from its number
    volume,
    unknown  ///< a word or number that makes no sense; `fault` may say why
  };
  struct Part {
    Kind kind;
    std::string written;           ///< as it stands in the text
    std::vector<std::size_t> ids;  ///< phrase
    Amount amount;                 ///< amount, ratio, api, vg
  };
  std::vector<Part> parts;
  std::string fault;  ///< what is wrong with the first number that is none, or empty
};

/// Cuts `text` into parts; phrases win over all else, the longest first. Nothing is skipped but
/// words that change nothing ("supply", "loop", "inhibited").
LiquidParts parts_of_liquid(std::string_view text, const PhraseTable& phrases);

}  // namespace slantrule
