#pragma once

/// First half of reading a size designation: from text to its parts, without any table of pipes.

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "size_text.hpp"
#include "size_words.hpp"

namespace slantrule {

enum class LengthUnit : std::uint8_t { none, inch, millimetre, centimetre, metre, foot };

/// A number with the unit that was written behind it.
struct WrittenLength {
  double value = 0;
  std::string number;  ///< "168.3", "1-1/2"
  LengthUnit unit = LengthUnit::none;
  int decimals = 0;
  bool fraction = false;       ///< of an inch
  bool comma = false;          ///< with a decimal comma, as where millimetres are used
  bool comma_unclear = false;  ///< "1,220"

  /// In mm, taken in `otherwise` where no unit was written.
  double mm(LengthUnit otherwise = LengthUnit::millimetre) const;
  bool is_integer() const { return decimals == 0 && !fraction; }
};

/// A size as it stands in the text; there may be several ("DN 100 (4\")").
struct WrittenSize {
  enum class Kind : std::uint8_t {
    number,      ///< not said what it is
    nps,         ///< nominal, inches
    dn,          ///< nominal, mm
    nominal,     ///< nominal, unit as written
    japanese_a,  ///< "65A": nominal of JIS, mm
    japanese_b,  ///< "2 1/2B": inches
    outside,     ///< outside diameter
    inside
  };
  Kind kind = Kind::number;
  WrittenLength length;
  bool diameter_sign = false;   ///< marked as outside diameter by "Ø" or "d", not by "OD"
  bool may_be_outside = false;  ///< Russian "Dn": nominal or, beside a wall, outside diameter

  bool is_nominal() const { return kind != Kind::outside && kind != Kind::number; }
};

/// A wall by name.
struct WrittenLabel {
  LabelKind kind = LabelKind::none;
  std::string text;     ///< "40", "40S", "STD", "11", "type L", "class 350", "K9"
  std::string written;  ///< as it stands in the text, for classes
};

/// The classes of steel and iron flanges (ASME B16.1, B16.5).
bool is_flange_class(std::string_view number);

/// What stands in a designation.
struct SizeParts {
  std::string_view standard;                 ///< as PipeRecord::standard, or empty
  Family standard_family = Family::unknown;  ///< where the standard is for one material only
  Material material;                         ///< what the words say
  Material second_material;                  ///< where they contradict each other
  std::vector<WrittenSize> sizes;
  bool alternatives = false;  ///< the sizes are joined by "-", "/" or "or"
  bool crossed = false;       ///< the sizes are joined by "x": a reducer
  std::optional<WrittenLength> wall;
  bool wall_marked = false;  ///< called a wall, not only written behind an "x"
  std::vector<WrittenLabel> labels;
  std::string flange_class;       ///< "150#"; see also labels of kind pressure_class
  bool nominal_pressure = false;  ///< "PN16" was set aside
  bool tube = false;
  bool pipe = false;         ///< called a pipe, or the size stands in a line number
  bool pipe_thread = false;  ///< BSP
  bool taper_thread = false;
  bool iron_pipe_sizes = false, cast_iron_sizes = false, copper_sizes = false;
  bool ratio_is_dr = false;            ///< "DR", as beside inches, not "SDR"
  bool doubtful = false;               ///< a question mark, "approx"
  bool missing = false;                ///< a word that says that nothing is known
  std::vector<std::string> set_aside;  ///< as written
  std::string gauge;                   ///< a wall by its gauge, as written: "16 ga"
  std::string left_over;               ///< what was not understood, as written
};

/// Cuts a text of at most 65535 bytes into its parts. Nothing is skipped: what it does not know
/// goes to `left_over`.
SizeParts parts_of_size(std::string_view text);

}  // namespace slantrule
