#pragma once

/// Several candidates for one pipe: what the transmitter would show on each, and which measurement
/// tells them apart.

#include <optional>
#include <string_view>
#include <vector>

#include "slantrule/planning/plan.hpp"

namespace slantrule {

/// A candidate with its plan.
struct Candidate {
  const ResolvedJob* job;
  const Plan* plan;
};

/// What the transmitter shows on the pipe as this candidate has it, with the sensors at the spacing
/// of the first candidate and the first candidate's entries.
struct CandidateReadOut {
  double sound_speed_m_s = 0;
  double flow_percent = 0;  ///< shown flow less true flow, of the true flow
  double time_of_flight_s = 0;
};

enum class TellingMeasurement : std::uint8_t {
  outside_diameter,  ///< girth by tape
  wall,              ///< thickness gauge
  time_of_flight,    ///< transmitter, mounted at the first candidate's spacing
  liquid_density,    ///< hydrometer
  liquid_temperature,
};
/// In words: "wall, by thickness gauge".
std::string_view telling_measurement_name(TellingMeasurement measurement);

/// How well one measurement separates the candidates.
struct Separation {
  TellingMeasurement measurement;
  int pairs_separated = 0;  ///< apart by more than 3 standard uncertainties
  int pairs = 0;
  /// Least difference between two separated candidates, in the quantity's SI unit (metres, seconds,
  /// kg/m3, kelvin) and in standard uncertainties.
  double least_difference_si = 0;
  double least_in_u = 0;
};

struct CandidateComparison {
  /// One a candidate, in their order; absent where there is no ray. Empty when the first has none.
  std::vector<std::optional<CandidateReadOut>> read_outs;
  /// Measurements that separate at least one pair, the best first.
  std::vector<Separation> separations;
};

/// Compares two or more candidates. Standard uncertainties of the measurements (judged): diameter
/// by tape 0.3 mm and 0.05 %; wall 0.1 mm and 1 %; time of flight 0.15 us and what the liquid's
/// speed of sound leaves open; density 1 kg/m3; temperature 0.5 K.
CandidateComparison compare_candidates(const std::vector<Candidate>& candidates);

}  // namespace slantrule
