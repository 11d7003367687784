#pragma once

/// A size designation as plain text, and the numbers in it.

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "slantrule/units/ascii.hpp"

namespace slantrule {

/// Lower-case text with the signs people use brought to ASCII: `"` inch, `x` times, `od` diameter.
/// Letters of other alphabets that look like Latin ones become these, so that a Cyrillic "мм" or
/// "SCH" with a Cyrillic "С" reads as it looks.
struct PlainText {
  std::string text;
  std::vector<std::uint16_t> from;  ///< where each character comes from; one more for the end

  /// The characters [begin, end) as they were written in `written`, the text that was made plain.
  std::string_view written_part(std::string_view written, std::size_t begin, std::size_t end) const;
};

/// `text` must not be longer than 65535 bytes. Any bytes will do; what is no known sign stays.
PlainText plain_size_text(std::string_view text);

/// Letters of other scripts count; they stay together as words.
inline bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || static_cast<unsigned char>(c) >= 0x80;
}

/// A number in a plain text.
struct WrittenNumber {
  double value = 0;
  std::string_view text;      ///< without the fraction: "114,3", "1", "1 016"
  std::string_view fraction;  ///< "1/2"
  int decimals = 0;           ///< digits behind the decimal mark
  bool comma = false;         ///< the decimal mark is a comma
  std::size_t length = 0;     ///< of the whole number

  /// "1,220": a decimal comma, or one between thousands.
  bool comma_is_unclear() const { return comma && decimals == 3 && text.front() != '0'; }
  bool is_integer() const { return decimals == 0 && fraction.empty(); }
  /// As it would be written: "114.3", "1-1/2".
  std::string plain() const;
};

/// Reads the number that stands at `at`: a decimal with point or comma (".237" too), or an inch
/// fraction ("1-1/2", "1 1/2", "1.1/2", "13/16"), which is proper, reduced, and has a power of two
/// up to 64 below; or thousands with a blank in front of a wall ("1 016 x 12,5"). nullopt where
/// there is none, or one of more than 15 digits.
std::optional<WrittenNumber> number_at(std::string_view text, std::size_t at);

}  // namespace slantrule
