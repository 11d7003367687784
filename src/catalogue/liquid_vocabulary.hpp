#pragma once

/// The words that name liquids, and words that name what is none.

#include <cstdint>
#include <string_view>
#include <vector>

#include "liquid_parts.hpp"
#include "slantrule/catalogue/catalogue.hpp"

namespace slantrule {

/// What keeps a stream from being planned.
enum class Hindrance : std::uint8_t { none, gas, solids, two_phase, cryogenic, waste_water };

/// The second half of a sentence: "is a gas; ...".
std::string_view reason(Hindrance hindrance);

/// One thing that a phrase may stand for: a key of the catalogue, or a hindrance.
struct PhraseMeaning {
  std::string_view key;
  Hindrance hindrance = Hindrance::none;
};

struct Vocabulary {
  std::vector<PhraseMeaning> meanings;  ///< by Phrase::id
  PhraseTable phrases;
};

const Vocabulary& built_in_vocabulary();

/// With a user's keys and names instead of built-in ones of the same words.
Vocabulary with_user_names(const Catalogue& catalogue);

}  // namespace slantrule
