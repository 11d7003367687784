#pragma once

/// Numbers as people write them: decimal dots and commas, fractions of an inch, typographic signs.

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace slantrule {

/// `text` with its typography made plain ASCII: primes and curly quotes to ' and ", dashes and the
/// minus sign to -, degree signs to "deg", micro signs to "u", superscripts to ^2, product dots to
/// *, special blanks to a blank, "1½" to "1 1/2". Two apostrophes become ". What it doesn't know
/// stays as it is. At most three times as long as `text`.
std::string plain_text(std::string_view text);

/// Why the characters at hand are no number.
enum class NumberFault : std::uint8_t {
  none,
  missing,     ///< no digit where a number should start
  not_finite,  ///< NaN or infinity
  comma,       ///< one comma and three digits: decimal or thousands? `readings` holds both
  separators,  ///< thousands separators; `readings[0]` is the number without them
  malformed,   ///< dots, commas or slashes that make no number
  fraction,    ///< "48/54": a fraction, or two values? `readings` holds the two
};

/// A number at the start of a text. Views point into the text that was read.
struct NumberText {
  NumberFault fault = NumberFault::missing;
  std::size_t length = 0;  ///< bytes that belong to the number, faulty or not
  bool negative = false;
  std::string_view decimal;  ///< digits without sign; empty for a fraction
  double fraction = 0;       ///< magnitude where `decimal` is empty
  bool slash_only = false;   ///< a fraction without a whole number: "5/8"
  std::string readings[2];   ///< for messages; empty without a fault

  /// The number times 10^power. A decimal is shifted before it is rounded, so 7.11 times 10^-3 is
  /// the double nearest to 0.00711. nullopt without a number, or where the result is too large for
  /// a double or too small to be told from zero.
  std::optional<double> times_ten_to(int power) const;
};

/// Reads the number that `text` (as plain_text gives it) starts with.
///
///     number   = ["+" | "-"] (decimal | fraction | whole (blanks | "-") fraction)
///     decimal  = digits with one dot or comma, exponent as in 1.5e-3
///     fraction = digits "/" digits
///
/// A comma is decimal, but "1,234" (three digits behind it, and no "0" alone before it) is refused.
/// A fraction alone is one of a tape's: proper, reduced, halves to 128ths. Behind a whole number
/// any proper fraction down to 128ths will do.
NumberText read_number(std::string_view text);

/// `value` (finite) times 10^power: the shortest digits that read back as `value`, with the decimal
/// point moved. No exponent from 1e-5 to 1e15; zero has no sign.
std::string decimal_text(double value, int power = 0);

}  // namespace slantrule
