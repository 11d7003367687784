#pragma once

/// Results of a list of pipes: a row for each, and what all of them come to.

#include <string>

#include "slantrule/files/list_row.hpp"
#include "slantrule/sheets/sheet.hpp"

namespace slantrule {

/// One row of a list with its plan; `planned` has no variants where the row is refused.
struct SurveyRow {
  ListRow list;
  std::string tag;  ///< of refused rows too, where it could be read
  PlannedJob planned;

  bool refused() const { return !list.problems.empty(); }
};

}  // namespace slantrule
