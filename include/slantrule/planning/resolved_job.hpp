#pragma once

/// A job with nothing left open: SI numbers, a liquid model, and what had to be assumed.

#include <cstdint>
#include <memory>
#include <numbers>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "slantrule/acoustics/sound_path.hpp"
#include "slantrule/catalogue/catalogue.hpp"
#include "slantrule/liquids/liquid_model.hpp"
#include "slantrule/planning/finding.hpp"
#include "slantrule/planning/job_request.hpp"
#include "slantrule/units/estimate.hpp"

namespace slantrule {

/// Speed of a wave in a solid as a function of temperature: linear about a reference.
struct WaveSpeed {
  double sound_speed_m_s = 0;
  double slope_m_s_K = 0;
  double at_K = 0;
  double u_m_s = 0;  ///< standard uncertainty

  double at(double temperature_K) const {
    return sound_speed_m_s + slope_m_s_K * (temperature_K - at_K);
  }
};

struct ResolvedMaterial {
  std::string key;  ///< of the catalogue row; empty when inline
  std::string name;
  SolidFamily family = SolidFamily::metal;
  bool is_inline = false;  ///< stated in the job; the family is then unknown
  std::optional<WaveSpeed> longitudinal, shear;
  std::optional<double> density_kg_m3;
  std::string source;
  std::string attenuation_note;  ///< the catalogue's
  Absorption longitudinal_loss{.power = 1}, shear_loss{.power = 1};
  bool loss_known = false;  ///< false: what materials of its kind usually lose

  const Absorption& loss(WaveMode mode) const {
    return mode == WaveMode::shear ? shear_loss : longitudinal_loss;
  }
  const std::optional<WaveSpeed>& wave(WaveMode mode) const {
    return mode == WaveMode::shear ? shear : longitudinal;
  }
};

struct ResolvedLayer {
  ResolvedMaterial material;
  double thickness_m = 0;
};

/// Above this shear speed a material of unknown family is taken for a metal; in plastics shear
/// waves are slower than sound in water.
inline constexpr double metal_like_shear_m_s = 2000;

/// How the outside diameter and the wall were come by.
enum class DimensionSource : std::uint8_t { table, stated, measured, girth };

enum class Orientation : std::uint8_t {
  unknown,
  horizontal,
  vertical_up,
  vertical_down,
  sloped_up,
  sloped_down
};
std::string_view orientation_name(Orientation orientation);

/// A size of a pipe standard that a measured diameter fits.
struct PipeMatch {
  std::string size;  ///< "AWWA C900 NPS 8"
  double outside_diameter_m = 0;
  double smallest_bore_m = 0, largest_bore_m = 0;  ///< over the walls of the standard
};

/// What a thickness gauge showed, before any correction.
struct GaugeReadings {
  int count = 0;
  double mean_m = 0;
  double spread_m = 0;                 ///< greatest less least
  std::optional<double> set_to_m_s;    ///< speed of sound the gauge was set to
  std::optional<double> doubled_m;     ///< a reading that looks like the second echo
  std::optional<double> without_it_m;  ///< mean of the other readings
};

struct ResolvedPipe {
  std::string size_text;           ///< the designation as understood, or empty
  Estimate outside_diameter_m;     ///< of the bare wall, in the plane of the beam
  std::optional<double> across_m;  ///< second outside diameter, at right angles to it
  Estimate wall_m;
  DimensionSource diameter_source = DimensionSource::table;
  DimensionSource wall_source = DimensionSource::table;
  ResolvedMaterial material;
  std::optional<ResolvedLayer> liner, coating;
  bool coating_under_sensors = true;
  /// Whether it is said if a measured diameter includes the coating; if not, bare wall is assumed.
  bool over_coating_stated = true;
  bool liner_stated = false;  ///< false: unknown, planned as none
  double deposit_m = 0;
  std::optional<double> roughness_m;
  std::optional<double> wall_temperature_K;
  Orientation orientation = Orientation::unknown;
  std::string seam;
  /// What the size designation says where a measurement overrides it.
  std::optional<double> designated_outside_diameter_m, designated_wall_m;
  std::string nearest_wall;  ///< of the same size: "sch 80, 8.56 mm"; with designated_wall_m
  std::optional<double> least_wall_m;  ///< the standard's, where its table gives a least wall
  std::string standard;                ///< of the row planned with, or empty
  std::string family;                  ///< of pipe standards that go with the material, or empty
  int nominal_mm = 0;                  ///< nominal size, for the usual lining
  std::optional<GaugeReadings> gauge;
  bool measured_identity = false;        ///< the two lists below were looked up
  std::vector<PipeMatch> matches;        ///< standard sizes that a measured diameter fits
  std::vector<PipeMatch> neighbours;     ///< where none does: the next below and above
  std::optional<double> usual_lining_m;  ///< where no lining is stated and one is usual
  std::string usual_lining_source;
  bool loose_liner = false;         ///< slip liner, or a lining that is not bonded
  bool liner_bond_unknown = false;  ///< a plastic lining in a metal pipe, bond not said

  /// Inside any lining and deposit, in the plane of the beam.
  double bore_m() const { return outside_diameter_m.value - 2 * layers_m(); }

  /// Diameter of the surface that sensors and straps sit on.
  double outer_surface_m() const {
    const bool over = coating && coating_under_sensors;
    return outside_diameter_m.value + (over ? 2 * coating->thickness_m : 0);
  }

  /// Area of the bore; an oval one is pi a b / 4.
  double area_m2() const {
    const double other_m = across_m ? *across_m - 2 * layers_m() : bore_m();
    return std::numbers::pi / 4 * bore_m() * other_m;
  }

 private:
  double layers_m() const { return wall_m.value + deposit_m + (liner ? liner->thickness_m : 0); }
};

struct ResolvedLiquid {
  std::string name;       ///< as written
  std::string full_name;  ///< the catalogue's; empty for a liquid known by measured values alone
  bool solution = false;
  std::shared_ptr<const LiquidModel> model;
  Estimate temperature_K;
  std::optional<double> pressure_Pa;                 ///< absolute
  std::optional<Estimate> kinematic_viscosity_m2_s;  ///< measured; wins over the model's viscosity
  double mass_fraction = 0;
  double u_mass_fraction = 0;
  bool sound_speed_measured = false;
  std::shared_ptr<const LiquidModel> named_model;  ///< of the name, under any measured values
  std::optional<double> gas_fraction;
  std::optional<double> solids_fraction;
  bool aqueous = false;                 ///< known to be water or a solution in water
  bool food = false, oxidiser = false;  ///< by a word of either name
};

/// A flow as stated; turned into velocity once bore and density are known.
struct FlowAmount {
  Dimension dimension = Dimension::volume_flow;  ///< volume_flow, mass_flow or velocity
  double si = 0;
};

struct ResolvedFlow {
  std::optional<FlowAmount> usual, least, most;
  bool reversing = false;
  bool pulsating = false;
  std::optional<bool> can_stop;
};

/// A sensor pair; everything optional that a pair need not state.
struct ResolvedSensors {
  std::string key, about, mark;
  bool invented = false;
  double frequency_Hz = 0;
  std::optional<double> element_m;
  std::optional<double> element_width_m;
  WaveSpeed wedge;
  bool wedge_slope_stated = false;
  double wedge_shear_m_s = 0;
  double wedge_density_kg_m3 = 0;
  Absorption wedge_loss{.power = 1};
  bool wedge_medium_stated = false;  ///< false: shear, density or loss of usual wedge plastics
  double wedge_angle_rad = 0;
  double wedge_path_m = 0;
  double setback_m = 0;
  std::optional<double> nose_m, length_m;
  std::optional<double> lowest_K, highest_K;
  std::optional<double> smallest_pipe_m, largest_pipe_m;
  double delay_s = 0;
  int cycles = 4;
  double least_face_gap_m = 0;
  std::optional<double> zero_stability_s, time_resolution_s;
  std::string certified_for;  ///< hazardous area, in the writer's words; empty: not stated
};

/// One thing in the line.
struct ResolvedFitting {
  std::string key, name;
  double upstream_D = 0, downstream_D = 0;
  bool bend = false, mark_only = false;
  std::optional<double> distance_m;  ///< absent: given in bores, or not stated
  std::optional<double> distance_D;
  std::string source = {};  ///< of its requirements
};

struct ResolvedSite {
  bool upstream_stated = false, downstream_stated = false;
  std::vector<ResolvedFitting> upstream, downstream;
  ResolvedFitting bend_pair;  ///< what two bends close together count as
  std::optional<double> straight_m;
  std::optional<double> clock_h;  ///< horizontal and sloped pipes
  std::string clock_text;         ///< as stated
  bool one_side = false;
  bool refitted_insulation = false;
  bool opened_insulation = false;
  bool high_point = false, free_outlet = false, may_run_part_full = false, pump_suction = false;
  std::optional<double> clear_length_m, height_m;
  std::string hazardous_area;          ///< in the writer's words; empty: not stated
  std::optional<double> seam_clock_h;  ///< of a lengthwise weld, where pipe.seam gives one
  bool spiral_seam = false;
  bool galvanised = false;  ///< by the name of the pipe's material
  Estimate ambient_K;
  bool ambient_stated = false;
  std::optional<double> wedge_temperature_K;
  std::vector<std::string> surface;
  std::string couplant_name;
  std::optional<double> couplant_lowest_K, couplant_highest_K;
  std::optional<double> couplant_limit_K;       ///< never above; absent: not known
  std::string couplant_lasts;                   ///< how long it keeps, in words
  std::string couplant_traits, couplant_harms;  ///< words, as in CouplantRecord
  std::optional<double> rail_length_m, rail_step_m;
};

/// A place on the line that the job offers beside `location`.
struct ResolvedPlace {
  std::string name;
  ResolvedSite site;
  Orientation orientation = Orientation::unknown;
};

struct ResolvedCouplant {
  std::string key, name;
  double lowest_K = 0, highest_K = 0;
};

/// Holds both sensors; spacings between the reference marks.
struct ResolvedRail {
  std::string name;
  double least_spacing_m = 0, greatest_spacing_m = 0;
  bool same_side = true, opposite_sides = true;
  std::optional<double> step_m;  ///< holes or graduations, counted from nought

  bool takes(double mark_spacing_m, bool on_same_side) const {
    return (on_same_side ? same_side : opposite_sides) && mark_spacing_m >= least_spacing_m &&
           mark_spacing_m <= greatest_spacing_m;
  }
};

struct ResolvedStrap {
  std::string name;
  double greatest_girth_m = 0;
};

/// What is at hand. Of a kind that the kit doesn't list, nothing is said.
struct ResolvedKit {
  std::vector<ResolvedSensors> sensors;
  std::vector<ResolvedRail> rails;
  std::vector<ResolvedStrap> straps;
  std::vector<ResolvedCouplant> couplants;
  std::vector<std::string> gauges;
};

struct PathWish {
  std::optional<int> traverses;       ///< absent: best
  std::optional<WaveMode> wall_mode;  ///< absent: best
  WaveMode liner_mode = WaveMode::longitudinal;
  bool liner_mode_stated = false;
  WaveMode coating_mode = WaveMode::longitudinal;
};

struct Acceptance {
  std::string finding, because, by;
  std::optional<double> down_to_si;
};

/// What was taken where the job is silent. `key` is a fixed text.
struct Assumption {
  std::string_view key;
  std::string what;
};

struct ResolvedJob {
  std::string tag, title, site_name, prepared_by, note;
  ResolvedPipe pipe;
  ResolvedLiquid liquid;
  ResolvedFlow flow;
  ResolvedSensors sensors;
  bool sensors_open = false;  ///< the pair is to be chosen from the kit (settle_sensors)
  ResolvedSite site;
  PathWish path;
  bool fluid_time_computed = false;
  std::vector<ResolvedPlace> places;
  ResolvedKit kit;
  std::vector<Acceptance> acceptances;
  std::string not_evaluated;        ///< stated keys that no check looks at yet, for a finding
  std::vector<std::string> ranges;  ///< keys given as a range, of which this variant is one end
  std::vector<Assumption> assumptions;
};

/// A mistake in a job that makes planning impossible, tied to a key.
struct Problem {
  Place place;
  std::string key;
  std::string message;  ///< what is wrong and how to mend it, one line
};

/// One candidate. `what` tells how it differs: "wall 7.11 mm"; empty when nothing was open.
struct Variant {
  std::string what;
  ResolvedJob job;
};

/// Either problems, or one to 64 variants.
struct Resolution {
  std::vector<Variant> variants;
  std::vector<Problem> problems;
};

/// The most candidates that one job may be.
inline constexpr std::size_t most_variants = 64;

/// Looks up every name, fills every default, opens every candidate. Pure: the same request and
/// catalogue give the same resolution. Mistakes are all reported at once.
Resolution resolve(const JobRequest& request, const Catalogue& catalogue);

}  // namespace slantrule
