#pragma once

/// Cells of a list as people and spreadsheets leave them: nothing, numbers in several styles,
/// numbers that a spreadsheet spoiled, values with an alternative, fittings in the line.

#include <cstddef>
#include <cstdint>
#include <limits>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace slantrule {

/// Whether a cell says that nothing is known: blank, a dash or question mark, "n/a", "NULL",
/// "unknown", "TBD", "see photo", a spreadsheet's error, a map system's -9999.
bool says_nothing(std::string_view cell);

/// Whether a cell says that it repeats the one above: "ditto", "as above", "idem", a quotation
/// mark. It holds no value and is not missing either: one line that says how to write it, for the
/// column under `heading`.
std::optional<std::string> repeats_above(std::string_view cell, std::string_view heading);

/// A cell without what a spreadsheet puts round a text: the apostrophe before it, or ="..."; and
/// without blanks of any width, byte order marks and the like at its ends.
std::string_view without_text_marks(std::string_view cell);

/// What separates decimals in a column, as far as its cells tell.
enum class NumberStyle : std::uint8_t {
  open,           ///< no cell tells
  decimal_point,  ///< "114.3"
  decimal_comma,  ///< "114,3"
  contradictory   ///< some cells say the one, some the other
};

/// Decides by the cells that allow one reading alone: "114,3", "1.234,5", "6.02". A point with
/// three digits behind it that are not round ("6.625", "12.750") is a decimal one too, unless
/// whole numbers from 100 on stand in the column without any mark, as beside thousands apart.
/// Nothing in the column is greater than `largest`, in the unit of the column, or than
/// largest_number() of the unit in a cell: what would be with thousands apart has decimals
/// ("114.300" mm of a pipe).
NumberStyle number_style(std::span<const std::string_view> cells,
                         double largest = std::numeric_limits<double>::infinity());

/// The greatest number that a list of pipes may hold in a unit, by wide bounds: 20 m (or
/// `longest_m`, for instance 4 for a diameter and 0.2 for a wall), 1000 K, 100 m3/s. Infinite for
/// an unknown unit and a quantity without such a bound.
double largest_number(std::string_view unit, double longest_m = 20);

/// Whether a plain decimal ("7.11", "60") is nothing but that in a column of the style: no point,
/// or one that can't separate thousands.
bool is_plain_decimal(std::string_view cell, NumberStyle style);

/// How many bytes the number at the beginning of a cell has, thousands apart included: 5 of
/// "1 200 l/min". 0 where there is none, and before a slash ("1/2 in").
std::size_t number_length(std::string_view cell);

/// A cell as a number without a unit.
struct BareNumber {
  enum class Kind : std::uint8_t {
    none,    ///< it is something else
    number,  ///< `text` holds it with a decimal point and without separators
    unclear  ///< it is a number that can be read in two ways, or was spoiled: `message`
  };
  Kind kind = Kind::none;
  std::string text;
  std::string message;  ///< one line: what is wrong and how to write it
};

/// "1,234.5", "1.234,5", "1 234,5" and "1'234.5" are 1234.5, with blanks and apostrophes of any
/// kind. One separator with three digits behind it ("1,220", "1.220") is decided by the column's
/// style. In an open one a comma is unclear, and a point where the digits are round ("12.000",
/// "1.250"); "6.625" and "12.750" (quarters of an inch) are decimals. Numbers with an exponent
/// ("1E+02") were cut by a spreadsheet and are unclear.
BareNumber read_bare_number(std::string_view cell, NumberStyle style);

/// What a spreadsheet made of a fraction or a range ("2-Jan" of 1/2, "4-Mar" of 3/4, "26:01.0"):
/// one line that says so, with the order of month and day first; nullopt for anything else.
std::optional<std::string> spoiled_by_spreadsheet(std::string_view cell);

/// The values of a cell that offers several: "48/54?", "150 or 200", "DN100 | DN150". One part
/// where it offers none. A slash counts only with a question mark at the end.
std::vector<std::string_view> alternatives(std::string_view cell);
/// Whether a look by alternatives() is worth it.
bool may_offer_alternatives(std::string_view cell);

/// "4-6 degC", "-5...+10 degC", "25 to 30 %": both ends with the unit; nullopt for anything else.
struct CellRange {
  std::string low, high;
};
std::optional<CellRange> cell_range(std::string_view cell);

/// "10.3 (was 12.7)", in several languages: what stands in front, and what it was.
struct PresentAndFormer {
  std::string_view present, former;
};
std::optional<PresentAndFormer> present_and_former(std::string_view cell);

/// One fitting of a cell such as "elbow-90 @ 2.1 m; pump @ 12 D".
struct CellFitting {
  std::string fitting;   ///< catalogue key, or the words where none is known for them
  std::string distance;  ///< empty: not said
  std::string taken_as;  ///< a remark where common words were taken for a key
};

/// Fittings are separated by ";" or "|"; distances stand behind "@" or "at". A distance alone is
/// that of a fitting of an unknown kind. Either fittings, or `message` tells what is wrong.
struct CellFittings {
  std::vector<CellFitting> fittings;
  std::string message;
};
CellFittings read_fittings(std::string_view cell);

}  // namespace slantrule
