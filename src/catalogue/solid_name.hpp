#pragma once

/// A material as people write it: "CS A106 Gr B", "1.4404 / 316L", "Carbon Steel (A53)", "C.S.".

#include <functional>
#include <string_view>
#include <vector>

namespace slantrule {

/// What a text leads to: no key where it is not understood, several where it could be either.
struct SolidReading {
  std::vector<std::string_view> keys;
  std::string_view refused = {};  ///< why a known kind of pipe cannot be planned
};

/// The meaning of one name, folded (see folded_name); empty where it is not known.
using SolidLookUp = std::function<SolidReading(std::string_view folded)>;

/// Reads a text made of names, grades and standards of solids, with words that say nothing of the
/// material ("pipe", "seamless", "ASTM", "sch 80"). Punctuation does not matter. All that is named
/// must go together: a grade makes its family certain ("SS 316L"), and names that contradict each
/// other are all returned. A word that is not known makes the text not understood.
SolidReading read_solid_name(std::string_view text, const SolidLookUp& look_up);

}  // namespace slantrule
