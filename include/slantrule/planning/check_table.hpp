#pragma once

/// The table of checks: the single definition of every finding's id, text and source.

#include <optional>
#include <span>
#include <string_view>

#include "slantrule/planning/finding.hpp"

namespace slantrule {

/// Where a rule comes from, which limits what it may do: rules from memory or proposal may caution
/// but never stop, unless physics or a trade fact stands behind them.
enum class Basis : std::uint8_t { published, physics, common_practice, proposal };
std::string_view basis_name(Basis basis);

/// In `message` and `mend`, {0} to {3} stand for the finding's values, {s} for its subject, {d} for
/// its detail.
struct CheckInfo {
  CheckId check;
  std::string_view id;       ///< "run.upstream"
  Severity worst;            ///< the gravest severity it can have
  bool acceptable;           ///< whether `accept` may turn its stop into a caution
  bool has_measured;         ///< values[0] is what was found
  bool has_required;         ///< values[1] is what is needed
  std::string_view rule;     ///< what is checked, one line for the reference
  std::string_view message;  ///< what was found and what is needed
  std::string_view mend;     ///< what to do
  Basis basis;
  std::string_view source;
};

/// All rows, in the order of CheckId.
std::span<const CheckInfo> check_table();
const CheckInfo& check_info(CheckId check);
const CheckInfo* find_check(std::string_view id);

}  // namespace slantrule
