#pragma once

/// What the parts of `resolve` share. One closed request (every entry has one option at most)
/// becomes one ResolvedJob; each part fills its share of it and reports its mistakes.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "name_memory.hpp"
#include "slantrule/catalogue/catalogue.hpp"
#include "slantrule/planning/job_request.hpp"
#include "slantrule/planning/resolved_job.hpp"
#include "slantrule/units/quantity.hpp"
#include "slantrule/units/suggest.hpp"

namespace slantrule {

/// A job in the making.
struct Draft {
  const JobRequest& request;
  NameMemory& names;
  ResolvedJob& job;
  std::vector<Problem> problems = {};

  void problem(const Place& place, std::string key, std::string message) {
    problems.push_back({place, std::move(key), std::move(message)});
  }
  void assume(std::string_view key, std::string what) {
    job.assumptions.push_back({key, std::move(what)});
  }
};

void resolve_pipe(Draft& draft);
void resolve_liquid(Draft& draft);
void resolve_flow(Draft& draft);
void resolve_sensors(Draft& draft);
void resolve_path(Draft& draft);
void resolve_site(Draft& draft);  ///< after the pipe: the clock needs its orientation
void resolve_kit(Draft& draft);
void resolve_acceptances(Draft& draft);

/// The catalogue's pair as sensors of a job.
ResolvedSensors sensors_of(const SensorPairRecord& row);

/// The orientation that a word of the key table means; `unknown` where none is given.
Orientation orientation_of(const ChoiceEntry& choice);

// ---------------------------------------------------------------- reading entries

inline const Reading* reading(const QuantityEntry& entry) {
  return entry.options.empty() ? nullptr : &entry.options.front().value;
}
inline std::optional<double> stated_si(const QuantityEntry& entry) {
  if (entry.options.empty()) return std::nullopt;
  return entry.options.front().value.si;
}
inline Estimate estimate(const Reading& value) {
  return {value.si, value.u_si};
}
/// Standard uncertainty stated, or `relative` of the value when no tolerance was given.
inline Estimate estimate_or(const Reading& value, double relative) {
  return {value.si, value.tolerance_stated ? value.u_si : relative * value.si};
}

inline std::string mm_text(double length_m) {
  return format_rounded(length_m, Dimension::length, "mm", 2);
}

/// A message with what a text could mean, unless it says so itself.
inline std::string with_readings(std::string message, const std::vector<std::string>& readings) {
  if (readings.empty() || message.find(readings.front()) != std::string::npos) return message;
  return message + fmt::format(" (could be: \"{}\")", fmt::join(readings, "\" or \""));
}

/// The message for a name that the catalogue does not hold.
template <class Record>
std::string not_found(std::string_view what, std::string_view name, std::string_view list,
                      const Found<Record>& found) {
  if (!found.readings.empty()) {
    return fmt::format("\"{}\" could be {}; write the one that is meant", shown(name),
                       fmt::join(found.readings, " or "));
  }
  std::string message = fmt::format("no {} is known as \"{}\"", what, shown(name));
  if (!found.nearest.empty()) {
    message += fmt::format("; did you mean {}?", fmt::join(found.nearest, " or "));
  } else {
    message += fmt::format("; see `slantrule lookup {}`", list);
  }
  return message;
}

}  // namespace slantrule
