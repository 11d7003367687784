#pragma once

/// Pipe sizes as people write them.

#include <string>
#include <string_view>
#include <vector>

#include "slantrule/catalogue/records.hpp"

namespace slantrule {

class Catalogue;

/// What a designation says of the pipe. Exactly one of the four kinds.
struct SizeReading {
  enum class Kind {
    understood,     ///< outside diameter and wall are known
    needs_wall,     ///< the outside diameter is known ("NPS 6"); the wall must be stated
    ambiguous,      ///< several pipes answer to it: `readings` says which
    not_understood  ///< no pipe does, or the text is unclear; `readings` says what is likely meant
  };
  Kind kind = Kind::not_understood;
  double outside_diameter_m = 0;  ///< 0 where not known
  /// Wall to plan with: the mean wall of a table row (mean_wall_mm), or the wall as written.
  double wall_m = 0;
  /// The table row; null where only dimensions were written out ("168.3 x 7.11 mm").
  const PipeRecord* row = nullptr;
  /// What the words say the pipe is made of, as pipe_family names it or by the word for a material
  /// outside the tables ("cast iron"); empty when they say nothing.
  std::string material_family;
  /// What was understood as no part of the size, as it was written: "ASTM A106 GR B", "SMLS".
  std::vector<std::string> set_aside;
  /// For `ambiguous` and `not_understood`: what it could mean. Each one is read as `understood` or
  /// `needs_wall`, for the same material. Empty where nothing can be made of the text.
  std::vector<std::string> readings;
  /// For all but `understood`: one line that says what is wrong and how to write it.
  std::string message;
};

/// Reads a designation: a size, and a wall by its measure or its name.
///
///     NPS 6 sch 40    6" STD    4-inch sch40    DN150 sch 40S    1½″ Sch-40 pipe
///     168.3 x 7.11 mm    Ø139,7 x 4,5    OD 6.625 in x .280    DN 100 (Ø114,3 x 2 mm)
///     PE100 SDR11 d110    8" C900 DR18    NPS 2 type L    DN 200 K9    8 in class 350    65A
///     EN 10255 DN 50 medium    PIPE 6 INCH SCH40 ASTM A106 GR B SMLS    6"-CW-1001-A1B-H
///
/// Case, blanks, typographic signs and letters that only look Latin do not matter.
///
/// `material_family` decides between standards that share a size: a family as pipe_family gives it,
/// or any other text for a material outside the tables; empty where it is not known. "PVC C900" is
/// PVC pipe with the outside diameters of cast iron (AWWA C900, C905), which has ratios and no
/// schedules. What the text
/// itself says of the material must agree with it. A plain "sch 40" is ASME B36.10M for steel, also
/// stainless, and ASTM D1785 or F441 for PVC and CPVC; "40S" is B36.19M; STD, XS and XXS are rows
/// of their own. For a material outside the tables a nominal size counts only behind the name of a
/// standard.
///
/// A nominal size is never taken for a dimension: `4"` is `ambiguous` (NPS 4 or 101.6 mm), `DN100`
/// without a material and `150 mm` are too. With a schedule, called a pipe, with a thread or in a
/// line number inches are nominal; called a tube they are the outside diameter. A flange class and
/// PN are set aside: they are no schedule.
///
/// Numbers without a unit are millimetres only where nothing else fits: the outside diameter is one
/// of the tables, the wall lies between OD/250 and OD/4, and no other reading does (where "Ø", "d"
/// or a decimal comma stands, no other row of the tables does). Else, and for a schedule that the
/// size does not have, a wall that leaves no bore, contradictions and words it does not know, the
/// text is refused. Texts above 200 bytes are.
SizeReading read_size(std::string_view text, std::string_view material_family);

/// The same with a user's rows before the built-in ones. `row` stays valid until a row is added.
/// Rows of a standard that the built-in tables lack answer to their size_text.
SizeReading read_size(std::string_view text, std::string_view material_family,
                      const Catalogue& catalogue);

/// The wall that is named beside a material: "sch 80" in "PVC Sch 80", "SDR 11" in "PE100 SDR11".
/// Empty where there is none.
std::string wall_name_in(std::string_view text);

/// All rows whose outside diameter lies within `relative` of `outside_diameter_m` (0.01: 1 %), in
/// the order of the tables, a user's before them.
std::vector<const PipeRecord*> pipes_near(double outside_diameter_m, double relative);
std::vector<const PipeRecord*> pipes_near(double outside_diameter_m, double relative,
                                          const Catalogue& catalogue);

/// A row as one would write it in a job: "NPS 6 sch 40", "EN 10220 168.3 x 7.1 mm", "ISO 4427 110
/// SDR 11". read_size gives the row back, with its material family or without one.
std::string size_text(const PipeRecord& row);

}  // namespace slantrule
