#pragma once

/// What the catalogue holds: one struct a kind. Built-in rows are constant tables made at build
/// time from `data/`; numbers stay in the units of the data files so that a row can be proofread
/// against its source. Texts live as long as the catalogue (built-in ones for ever).

#include <array>
#include <cstdint>
#include <limits>
#include <string_view>

#include "slantrule/acoustics/sound_path.hpp"
#include "slantrule/units/absorption.hpp"

namespace slantrule {

/// How sure a row is: seen in print, computed from a published equation, or only remembered.
enum class Confidence : std::uint8_t {
  published,
  computed,
  memory,
  common_practice,
  proposal,
  invented
};
std::string_view confidence_name(Confidence confidence);

/// An absent number in a record.
inline constexpr double absent = std::numeric_limits<double>::quiet_NaN();

enum class WallKind : std::uint8_t { nominal, minimum };

/// How the mean wall follows from the wall that a standard's table gives (see mean_wall_mm).
enum class WallRule : std::uint8_t { nominal, pe_minimum, pvc_minimum, ductile_minimum };
std::string_view wall_rule_name(WallRule rule);

/// A pipe standard: what all its rows share.
struct PipeStandardRecord {
  std::string_view standard;  ///< "ASME B36.10M", as PipeRecord::standard
  std::string_view title;
  std::string_view material_family;
  WallRule wall_rule;
  /// Standard uncertainties for a pipe known by its designation alone: the limits of the standard
  /// taken as rectangular, judged where the standard has none.
  double u_outside_diameter_percent, u_wall_percent;
  std::string_view tolerances;  ///< in words
  std::string_view source;
  Confidence confidence;
};

/// A usual lining of a pipe, by nominal size.
struct LiningRecord {
  std::string_view standard;  ///< "EN 545"
  std::string_view pipe;      ///< material family of the pipe: "ductile iron"
  std::string_view lining_class;
  int lowest_dn, highest_dn;
  double thickness_mm;
  WallKind thickness_kind;
  std::string_view material;  ///< key of a solid
  std::string_view source;
  Confidence confidence;
};

/// One wall of one size of one pipe standard.
struct PipeRecord {
  std::string_view standard;     ///< "ASME B36.10M"
  std::string_view designation;  ///< "NPS 6", "168.3"
  int dn;                        ///< nominal size in mm; 0 where the standard has none
  std::string_view schedule;     ///< "40", "STD", "40S"; empty where the standard has none
  double outside_diameter_mm;
  double wall_mm;
  WallKind wall_kind;
  std::string_view material_family;
  std::string_view source;
  Confidence confidence;
};

enum class SolidFamily : std::uint8_t {
  metal,
  plastic,
  wedge,
  glass,
  composite,
  cement,
  rubber,
  coating
};
std::string_view solid_family_name(SolidFamily family);

/// A wall, liner, coating or wedge material. Speeds at 20 degC.
struct SolidRecord {
  std::string_view key;
  std::string_view name;
  SolidFamily family;
  double longitudinal_m_s;          ///< absent where not known
  double shear_m_s;                 ///< absent: no usable shear wave, or none in the source
  double density_kg_m3;             ///< absent where not known
  double longitudinal_slope_m_s_K;  ///< absent: taken as 0
  double shear_slope_m_s_K;
  double u_longitudinal_m_s;  ///< standard, when only the name is known; see data/README
  std::string_view attenuation_note;
  std::string_view source;
  Confidence confidence;
  bool recommended;                   ///< false: evidence, chosen only by its full key
  bool usable;                        ///< false: shows a trap ("do not use"); never planned with
  double longitudinal_dB_m = absent;  ///< loss at 1 MHz; absent where no figure is known
  double shear_dB_m = absent;
  double loss_power = absent;      ///< of the frequency; absent: 1
  double u_loss_percent = absent;  ///< standard; with the losses
};

/// Standard uncertainties of a solid's speeds when only its name is known (solids notes, section 1:
/// our judgement). Longitudinal: the row's, or 2 % where it states none. Shear: the same relative
/// value in metals and glass, twice that elsewhere. NaN where the row has no such speed.
double standard_u_longitudinal_m_s(const SolidRecord& row);
double standard_u_shear_m_s(const SolidRecord& row);

/// What solids of a family usually lose, for those without figures of their own; the standard
/// uncertainty is as large as the loss (judged; data/README).
Absorption usual_loss(SolidFamily family, WaveMode mode);

/// Loss of a wave in the solid: the row's figure; for shear without one, 4 times the longitudinal
/// figure in plastics, wedges, coatings and rubber (PVC, HDPE, PEEK: 3.3 to 4.5 times) and 1.5
/// times elsewhere (judged); without any figure usual_loss.
Absorption standard_loss(const SolidRecord& row, WaveMode mode);

/// Something in the line that disturbs the flow. Requirements in bore diameters.
struct FittingRecord {
  std::string_view key;   ///< "elbow-90"
  std::string_view name;  ///< "90 degree elbow"
  double upstream_D;      ///< straight run needed when it lies upstream of A
  double downstream_D;    ///< when it lies downstream of B
  bool bend;              ///< two bends within 10 D count as a pair
  bool mark_only;         ///< a weld or flange: no flow disturbance, but no sensor on it
  std::string_view source;
  Confidence confidence;
};

/// Couplant between wedge and wall. Temperatures of the wall's surface in degC.
struct CouplantRecord {
  std::string_view key;
  std::string_view name;
  double lowest_degC, highest_degC;
  std::string_view lasts;  ///< how long it keeps, in words
  std::string_view note;
  std::string_view source;
  Confidence confidence;
  double limit_degC = absent;    ///< never above: there it boils, drips off or may burn
  std::string_view traits = {};  ///< of couplant_traits, separated by blanks; what is not said is
                                 ///< not known
  std::string_view harms = {};   ///< keys and families of solids, "stainless", "oxidiser"
};

/// `visit`: hours to days, `weeks`: to months, `permanent`: for years; what water does to it; the
/// wall it is for.
inline constexpr std::array<std::string_view, 7> couplant_traits = {
    "visit", "weeks", "permanent", "washes-off", "water-resistant", "smooth-wall", "rough-wall"};

/// Whether `word` is one of the words of `list`, which `separator` keeps apart.
bool has_word(std::string_view list, std::string_view word, char separator = ' ');

/// A pair of sensors. See DESIGN section 4; absent where optional and not stated.
struct SensorPairRecord {
  std::string_view key;
  std::string_view about;
  bool invented;
  double frequency_MHz;
  double element_mm;
  double wedge_sound_speed_m_s;
  double wedge_at_degC;
  double wedge_slope_m_s_K;
  double wedge_angle_deg;
  double wedge_path_mm;
  double setback_mm;
  double nose_mm;
  double length_mm;
  double lowest_degC, highest_degC;
  std::string_view mark;
  std::string_view source;
  double delay_us = 0;  ///< cable and electronics, both sensors together
  int cycles = 4;
  double least_face_gap_mm = 0;
  double smallest_pipe_mm = absent, largest_pipe_mm = absent;
  double zero_stability_ns = absent;
  double u_wedge_sound_speed_m_s = 0;
  double element_width_mm = absent;  ///< across the beam's plane; absent: as the length
  double wedge_shear_m_s = absent;
  double wedge_density_kg_m3 = absent;
  double wedge_dB_m = absent;  ///< longitudinal loss at 1 MHz
  double wedge_loss_power = 1;
  double time_resolution_ns = absent;
  std::string_view certified_for = {};  ///< hazardous area, in the writer's words
};

/// A liquid known by name, and the model that gives its properties.
struct LiquidRecord {
  std::string_view key;
  std::string_view name;
  std::string_view model;      ///< "water", "electrolyte"; all of them in liquid_factory.cpp
  std::string_view parameter;  ///< what the model needs to know beside: "NaOH"; or empty
  bool solution;               ///< needs a strength; nothing is taken where none is stated
  std::string_view source;
  Confidence confidence;
};

}  // namespace slantrule
