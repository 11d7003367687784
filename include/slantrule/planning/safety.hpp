#pragma once

/// Cautions for people, as far as a job gives cause for them. They remind; local codes, the site's
/// permits and licensed people decide.

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "slantrule/planning/plan.hpp"

namespace slantrule {

enum class SafetyId : std::uint8_t {
  hot_surface,
  cold_surface,
  height,
  hazardous_area,
  confined_space,
  chemicals,
  old_insulation,
  asbestos_cement,
  work_on_wall,
  high_pressure,
  moving_plant,
  zero_test,
  magnets,
  permits,
  count_
};
inline constexpr std::size_t safety_count = static_cast<std::size_t>(SafetyId::count_);

/// In `text`, {0} stands for the caution's value and {s} for its subject.
struct SafetyInfo {
  SafetyId id;
  std::string_view name;  ///< "hot-surface"
  std::string_view text;
  std::string_view source;
};
/// All rows, in the order of SafetyId, which is that of the sheet.
std::span<const SafetyInfo> safety_table();
const SafetyInfo& safety_info(SafetyId id);

struct SafetyCaution {
  SafetyId id;
  FindingValue value = {};
  std::string subject = {};
};

/// The cautions that this job gives cause for; `permits` always, at the end.
std::vector<SafetyCaution> safety_cautions(const ResolvedJob& job, const Plan& plan);

}  // namespace slantrule
