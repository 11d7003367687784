#pragma once

/// Pipe sizes as people write them.

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "slantrule/catalogue/records.hpp"

namespace slantrule {

/// What a designation says of the pipe. Exactly one of the three kinds.
struct SizeReading {
  enum class Kind {
    understood,  ///< outside diameter and wall are known
    needs_wall,  ///< the outside diameter is known ("NPS 6"); the wall must be stated
    ambiguous,   ///< several pipes answer to it: `readings` says which
    not_understood
  };
  Kind kind = Kind::not_understood;
  double outside_diameter_m = 0;
  double wall_m = 0;
  /// The table row, or null when dimensions were written out ("168.3 x 7.11 mm").
  const PipeRecord* row = nullptr;
  /// For `ambiguous` and `not_understood`: what it could mean, each as one would write it.
  std::vector<std::string> readings;
  /// For all but `understood`: one line that says what is wrong and how to write it.
  std::string message;
};

/// Reads a designation: `NPS 6 sch 40`, `6" sch40`, `6 in STD`, `DN150 sch 40`, `DN 150 sch 40S`,
/// `168.3 x 7.11 mm`, `OD 6.625 in x 7.11 mm`, `NPS 6 x 7.11 mm`, `EN 10220 168.3 x 7.1`,
/// `ASME B36.19M NPS 6 sch 40S`. Case, blanks, typographic quotes and fractions do not matter, and
/// `x`, `×`, `*` and `Ø`, `OD` are alike; one unit may serve both dimensions.
///
/// `material_family` ("carbon steel", "stainless"; any text with "steel", "stainless" or "duplex"
/// in it, such as a solid's key; empty when not known) decides between standards that share a size.
/// A plain "sch 40" is B36.10M, "40S" is B36.19M, and STD, XS and XXS are rows of their own. For
/// any other material a nominal size counts only behind a standard's name.
///
/// A nominal size is never taken for a dimension: `4"` is `ambiguous` (NPS 4 or 101.6 mm), `DN100`
/// without a material too. A number without a unit, a schedule that the size does not have and a
/// wall that leaves no bore are `not_understood`; `readings` says what was likely meant.
SizeReading read_size(std::string_view text, std::string_view material_family);

/// All rows of the tables whose outside diameter lies within `relative` of `outside_diameter_m`
/// (0.01: 1 %), in the order of the tables.
std::vector<const PipeRecord*> pipes_near(double outside_diameter_m, double relative);

/// A row as one would write it in a job: "NPS 6 sch 40", "EN 10220 168.3 x 7.1 mm".
std::string size_text(const PipeRecord& row);

}  // namespace slantrule
