#pragma once

/// Tools and aids beside sensors, fixing and couplant: which of them a pipe asks for, and why.

#include <bitset>
#include <cstdint>
#include <optional>
#include <span>
#include <string_view>

#include "slantrule/planning/check_table.hpp"
#include "slantrule/planning/plan.hpp"
#include "slantrule/planning/safety.hpp"

namespace slantrule {

enum class PackAid : std::uint8_t {
  transmitter,
  rule_and_tape,
  marker,
  spirit_level,
  wrap_strip,
  wall_gauge,
  girth_tape,
  calliper,
  coating_gauge,
  surface_thermometer,
  pressure_gauge,
  torch,
  cloths,
  cleaner,
  scraper,
  wire_brush,
  abrasive_cloth,
  wrapping_knife,
  insulation_knife,
  insulation_tape,
  wet_cloths,
  dry_cloths,
  count_
};
inline constexpr std::size_t pack_aid_count = static_cast<std::size_t>(PackAid::count_);
using PackAids = std::bitset<pack_aid_count>;

/// Parts of the loading list.
enum class PackGroup : std::uint8_t { sensors, fixing, couplant, find_out, cleaning, safety };

struct PackAidInfo {
  PackAid aid;
  PackGroup group;
  std::string_view key;   ///< "wall-gauge"
  std::string_view name;  ///< with what it must be fit for
  std::string_view why;
  std::string_view value;     ///< what the range of its numbers is: "wall"; empty: it has none
  std::string_view kit_word;  ///< its word in kit.gauges; empty: a kit doesn't list it
  Basis basis;
  std::string_view source;
};

/// All rows, in the order of PackAid, which is that of the list.
std::span<const PackAidInfo> pack_aid_table();
const PackAidInfo& pack_aid_info(PackAid aid);

/// Which findings a plan made, notes included; `cautions`: those above a note.
struct FoundChecks {
  std::bitset<check_count> all, cautions;

  bool has(CheckId check) const { return all[static_cast<std::size_t>(check)]; }
  bool warns(CheckId check) const { return cautions[static_cast<std::size_t>(check)]; }
};
FoundChecks found_checks(const Plan& plan);

/// What this pipe asks for. The plan must have been made with findings.
PackAids pack_aids_of(const ResolvedJob& job, const Plan& plan, const FoundChecks& found);

/// The length, in metres, that an aid has to be fit for; absent where it has none.
std::optional<double> pack_aid_value(PackAid aid, const ResolvedJob& job);

/// What to load against a danger; empty where there is nothing to load.
std::string_view pack_safety_items(SafetyId id);

/// Up to this outside diameter a calliper reaches across: jaws of 40 mm, as callipers of 150 mm
/// have (common practice, no source).
inline constexpr double calliper_reach_m = 0.08;
/// From this diameter of the outer surface on marks on one side are also found best by a paper
/// strip (proposal): a square and a straight edge no longer carry round.
inline constexpr double wrap_strip_from_m = 0.3;

}  // namespace slantrule
