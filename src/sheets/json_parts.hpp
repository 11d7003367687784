#pragma once

/// Parts of the plan's JSON that several sheets share.

#include <cmath>
#include <nlohmann/json.hpp>
#include <numbers>
#include <optional>
#include <string>

#include "json_writer.hpp"
#include "slantrule/planning/plan.hpp"
#include "slantrule/sheets/sheet.hpp"

namespace slantrule {

using Json = nlohmann::ordered_json;

/// Puts a value that exists; what isn't finite is left out, never null.
inline void put(Json& object, const char* key, double value) {
  if (std::isfinite(value)) object[key] = value;
}
inline void put(Json& object, const char* key, const std::optional<double>& value,
                double factor = 1) {
  if (value) put(object, key, *value * factor);
}
inline void put(Json& object, const char* key, const std::string& text) {
  if (!text.empty()) object[key] = text;
}

inline constexpr double degree = 180 / std::numbers::pi;

std::string_view flow_regime_name(FlowRegime regime);

/// Members of an object that the caller has opened. `write_path` needs a path, `write_signal` a
/// signal.
void write_path(JsonWriter& json, const ResolvedJob& job, const Plan& plan);
void write_run(JsonWriter& json, const StraightRun& run);
void write_signal(JsonWriter& json, const Plan& plan);
/// Everything that the sheet of a job has.
void write_sheet(JsonWriter& json, const PlannedJob& job, std::string_view version);

/// The same as objects, for those who put them into a larger one.
Json path_json(const ResolvedJob& job, const Plan& plan);
Json run_json(const StraightRun& run);
Json signal_json(const Plan& plan);

/// The object as one line: pure ASCII, so that a terminal that shows it obeys no control character
/// of a text, C1 and writing direction included. --set can bring bytes that are no UTF-8.
inline std::string one_line(const Json& object) {
  return object.dump(-1, ' ', true, Json::error_handler_t::replace);
}

}  // namespace slantrule
