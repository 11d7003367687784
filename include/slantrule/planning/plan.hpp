#pragma once

/// The plan: everything computed from one resolved job.

#include <array>
#include <initializer_list>
#include <optional>
#include <string_view>
#include <vector>

#include "slantrule/planning/finding.hpp"
#include "slantrule/planning/kernel.hpp"
#include "slantrule/planning/path_merit.hpp"
#include "slantrule/planning/resolved_job.hpp"
#include "slantrule/planning/signal.hpp"

namespace slantrule {

/// What to compute beside the path itself.
struct PlanOptions {
  bool findings = true;     ///< the checks, and the verdict with them
  bool sensitivity = true;  ///< how the plan moves with its inputs
  SignalDetail signal = SignalDetail::placement;
  ResponseOptions response = {};  ///< for SignalDetail::response
};

/// Temperatures and liquid properties at which the path is planned.
struct Conditions {
  double pressure_Pa = 0;  ///< at which properties were taken
  double wall_temperature_K = 0;
  double coating_temperature_K = 0;
  double liner_temperature_K = 0;
  double wedge_temperature_K = 0;
  Estimate liquid_sound_speed_m_s;
  std::optional<Estimate> density_kg_m3, viscosity_Pa_s;
  std::optional<double> saturation_pressure_Pa, freezing_temperature_K;
  std::optional<double> sound_speed_slope_m_s_K;  ///< with temperature; absent: measured speed
  std::optional<Absorption> absorption;
  /// The model has no answer at the job's state; properties are those at the near end of its range.
  bool at_range_end = false;
};

/// Which layer a leg of the ray belongs to.
enum class LayerRole : std::uint8_t { coating, wall, liner };
std::string_view layer_role_name(LayerRole role);

/// Roles of a ray's layers from the wedge inwards, `most_layers` at most.
class LayerRoles {
 public:
  LayerRoles() = default;
  LayerRoles(std::initializer_list<LayerRole> roles) {
    for (const LayerRole role : roles) push_back(role);
  }
  bool operator==(const LayerRoles&) const = default;

  void push_back(LayerRole role) { roles_[count_++] = role; }
  std::size_t size() const { return count_; }
  bool empty() const { return count_ == 0; }
  LayerRole operator[](std::size_t i) const { return roles_[i]; }
  LayerRole front() const { return roles_[0]; }
  const LayerRole* begin() const { return roles_.data(); }
  const LayerRole* end() const { return roles_.data() + count_; }

 private:
  std::array<LayerRole, most_layers> roles_{};
  std::size_t count_ = 0;
};

struct PlannedPath {
  RayPath ray;
  std::optional<double> face_gap_m;        ///< needs the nose
  std::optional<double> overall_length_m;  ///< needs nose and length
};

/// Straight pipe on one side of the pair.
struct StraightRun {
  double required_D = 0;
  std::optional<double> available_D;
  std::string_view governing;    ///< name of the fitting; points into the resolved job
  bool single_elbow = false;     ///< a bend alone, for which the bias is known: reads low
  bool bend = false;             ///< a bend or a pair of bends governs
  bool as_upstream = true;       ///< counts as upstream: always with reversing flow
  bool low_reynolds = false;     ///< the profile takes longer to recover
  std::string_view source = {};  ///< of the requirement; points into the resolved job
  /// Of the nearest fitting that disturbs the flow, governing or not.
  std::optional<double> nearest_D = {};
};

/// Where `location.straight` puts the pair.
struct Placement {
  double upstream_m;    ///< from the upstream fitting to A's exit point
  double downstream_m;  ///< from B's exit point to the downstream fitting
};

/// How the kit's rail takes the spacing.
struct RailSetting {
  std::string name;              ///< empty: the only rail
  std::optional<double> step_m;  ///< absent: set freely
  double set_m = 0;              ///< mark spacing at the nearest step
  double remainder_m = 0;        ///< by which that misses the planned spacing
  bool within_tolerance = true;
  double flow_percent = 0;  ///< what the remainder does to the flow shown
  double loss_dB = 0;       ///< and to the direct signal; may be negative
};

/// What the transmitter should show after mounting.
struct Expectation {
  double sound_speed_m_s;
  double sound_speed_tolerance_m_s;
  double zero_flow_time_s;
  double zero_flow_time_tolerance_s;
  std::optional<double> time_difference_s;
};

/// Effect of one input being entered `step` too great: on the spacing that is planned, and, with
/// the sensors set right for the true value, on what the transmitter shows.
struct Sensitivity {
  std::string_view input;  ///< dotted key
  std::string_view per;    ///< the step, in words: "1 mm"
  double mark_spacing_m;
  std::optional<double> sound_speed_m_s;
  std::optional<double> flow_percent;
};

struct Plan {
  Verdict verdict = Verdict::go;
  Conditions conditions;
  double bore_m = 0;
  int traverses = 2;
  bool traverses_chosen = false;  ///< by the planner, not by the job
  bool no_even_count = false;     ///< chosen odd because no even count has room
  WaveMode wall_mode = WaveMode::shear;
  double wall_sound_speed_m_s = 0;
  LayerRoles layer_roles;  ///< of the ray's legs, in order
  KernelInputs kernel;
  std::optional<PlannedPath> path;
  std::optional<NoRay> no_ray;
  PathMerit merit;  ///< of the path
  std::optional<PlanSignal> signal;
  std::string signal_missing;  ///< what there is no signal for lack of; or empty
  std::optional<FlowPoint> usual, least, most;
  StraightRun upstream, downstream;
  double u_installation = 0;  ///< of the flow, relative, from the disturbance of the place (k = 1)
  std::optional<Placement> placement;
  std::optional<double> clock_h, other_clock_h;  ///< A and B on a horizontal or sloped pipe
  /// To what the spacing is to be set and marked: 0.5 mm below 100 mm bore, else 1 mm, or the
  /// rail's step.
  double setting_step_m = 1e-3;
  double mounting_tolerance_m = 1e-3;  ///< 0.5 mm below 100 mm bore, else 1 mm (proposal)
  /// A transmitter whose own spacing differs by more works with another entry.
  double transmitter_spacing_tolerance_m = 1e-3;
  std::optional<RailSetting> rail;
  std::optional<Expectation> expect;
  std::vector<Sensitivity> sensitivity;
  std::vector<Finding> findings;  ///< gravest first

  bool same_side() const { return traverses % 2 == 0; }
};

/// Plans one resolved job. Pure: the result depends on the arguments alone.
/// The plan holds views into `job` (names of fittings), which must outlive it.
Plan plan(const ResolvedJob& job, const PlanOptions& options = {});

}  // namespace slantrule
