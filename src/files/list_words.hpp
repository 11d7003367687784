#pragma once

#include <string_view>

namespace slantrule {

/// Whether `text` begins with `word`, which is in lower case, however `text` is written.
bool begins_with_letters(std::string_view text, std::string_view word);
/// Whether it begins with the word `word`: no letter follows.
bool begins_with_word(std::string_view text, std::string_view word);

}  // namespace slantrule
