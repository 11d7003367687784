/// Checks of the path: whether sound gets through, and whether the bodies have room.

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <string>

#include "check_context.hpp"

namespace slantrule {
namespace {

using Kind = ValueKind;

/// Shear waves slower than this many times the liquid's speed (plastics) are too weak to matter.
constexpr double weak_shear = 1.2;
constexpr double near_critical_rad = 2 * std::numbers::pi / 180;
/// A resonance of the wall this near, as a part of their spacing, is called out (proposal).
constexpr double near_resonance = 0.15;
/// Small tube, where guided waves take the place of the beam (metrology notes, section 4: 30 mm
/// and less with a wall of a few millimetres).
constexpr double small_pipe_m = 30e-3;
constexpr double small_wall_m = 3e-3;
/// What part of the bore an element may be long (proposal).
constexpr double element_part = 1.0 / 3;

const ResolvedMaterial* layer_material(const ResolvedJob& job, LayerRole role) {
  switch (role) {
    case LayerRole::coating:
      return &job.pipe.coating->material;
    case LayerRole::wall:
      return &job.pipe.material;
    case LayerRole::liner:
      return &job.pipe.liner->material;
  }
  return nullptr;
}

/// A material that takes much from the sound, and up to which frequency it is usually tried.
struct Scatterer {
  bool scatters;
  double advised_Hz;
};

/// Frequencies: attenuation notes of data/solids.csv; for composites judged from "low-frequency
/// transducers advised".
Scatterer scatterer(const ResolvedMaterial& material) {
  if (material.is_inline) return {false, 0};
  switch (material.family) {
    case SolidFamily::cement:
      return {true, material.key.starts_with("concrete") ? 0.5e6 : 1e6};
    case SolidFamily::composite:
      return {true, 0.5e6};
    case SolidFamily::metal:
      return {material.key.starts_with("cast_iron_gray"), 1e6};
    default:
      return {false, 0};
  }
}

}  // namespace

void check_ray(const CheckContext& c) {
  if (c.plan.path) return;
  if (!c.plan.no_ray) {
    if (!(c.plan.kernel.wedge_sound_speed_m_s > 0)) {
      c.add(CheckId::path_no_wave, {}, "the wedge at its temperature");
      return;
    }
    // A layer without the wave asked for; it is the first one not in the list.
    const std::size_t have = c.plan.layer_roles.size();
    const bool coated = c.job.pipe.coating && c.job.pipe.coating_under_sensors;
    const LayerRole role = have == 0 && coated         ? LayerRole::coating
                           : have == (coated ? 1u : 0) ? LayerRole::wall
                                                       : LayerRole::liner;
    c.add(CheckId::path_no_wave, {}, layer_material(c.job, role)->name);
    return;
  }
  const NoRay& no_ray = *c.plan.no_ray;
  std::string layer = "liquid";
  if (no_ray.layer < c.plan.layer_roles.size()) {
    layer = layer_role_name(c.plan.layer_roles[no_ray.layer]);
    const WaveMode mode = layer == "wall"    ? c.plan.wall_mode
                          : layer == "liner" ? c.job.path.liner_mode
                                             : c.job.path.coating_mode;
    layer = std::string(wave_mode_name(mode)) + " wave in the " + layer;
  }
  c.add(CheckId::path_no_ray,
        {{{no_ray.trace_speed_m_s, Kind::velocity_m_s},
          {no_ray.sound_speed_m_s, Kind::velocity_m_s}}},
        layer);
}

void check_wall_modes(const CheckContext& c) {
  const double wall_K = c.plan.conditions.wall_temperature_K;
  const ResolvedMaterial& wall = c.job.pipe.material;
  const KernelInputs& kernel = c.plan.kernel;
  const double wedge_m_s = kernel.wedge_sound_speed_m_s;
  if (!(wedge_m_s > 0)) return;

  for (WaveMode mode : {WaveMode::longitudinal, WaveMode::shear}) {
    const auto& wave = wall.wave(mode);
    if (!wave || !(wave->at(wall_K) > 0)) continue;
    const double critical_rad = critical_wedge_angle_rad(wedge_m_s, wave->at(wall_K));
    const double off_rad = std::fabs(kernel.wedge_angle_rad - critical_rad);
    if (std::isnan(critical_rad) || off_rad > near_critical_rad) continue;
    c.add(CheckId::path_near_critical,
          {{{kernel.wedge_angle_rad, Kind::angle_rad},
            {critical_rad, Kind::angle_rad},
            {off_rad, Kind::angle_rad}}},
          std::string(wave_mode_name(mode)) + " wave in the wall");
  }

  if (!c.plan.path) return;
  const WaveMode other =
      c.plan.wall_mode == WaveMode::shear ? WaveMode::longitudinal : WaveMode::shear;
  const auto& other_wave = wall.wave(other);
  if (!other_wave || !(other_wave->at(wall_K) > 0) ||
      other_wave->at(wall_K) >= c.plan.path->ray.trace_speed_m_s) {
    return;
  }
  if (other == WaveMode::shear &&
      other_wave->at(wall_K) < weak_shear * kernel.liquid_sound_speed_m_s) {
    return;
  }
  KernelInputs with_other = kernel;
  for (std::size_t i = 0; i < c.plan.layer_roles.size(); ++i) {
    if (c.plan.layer_roles[i] == LayerRole::wall) {
      with_other.layers[i].sound_speed_m_s = other_wave->at(wall_K);
    }
  }
  const auto traced = trace_ray(with_other);
  const RayPath* ray = std::get_if<RayPath>(&traced);
  if (!ray || !wall.longitudinal || !(wall.longitudinal->at(wall_K) > 0)) return;
  const double critical_rad = critical_wedge_angle_rad(wedge_m_s, wall.longitudinal->at(wall_K));
  c.add(CheckId::path_both_modes,
        {{{kernel.wedge_angle_rad, Kind::angle_rad},
          {std::isnan(critical_rad) ? std::numbers::pi / 2 : critical_rad, Kind::angle_rad},
          {std::fabs(ray->zero_flow_time_s - c.plan.path->ray.zero_flow_time_s), Kind::time_s},
          {std::fabs(ray->mark_spacing_m - c.plan.path->ray.mark_spacing_m), Kind::length_m}}});
}

void check_room(const CheckContext& c) {
  if (!c.plan.path) return;
  const PlannedPath& path = *c.plan.path;
  const double least_m = c.job.sensors.least_face_gap_m;
  if (c.plan.same_side()) {
    if (!path.face_gap_m) {
      c.add(CheckId::path_overlap_unknown);
    } else if (*path.face_gap_m < least_m) {
      c.add(CheckId::path_overlap,
            {{{*path.face_gap_m, Kind::length_m}, {least_m, Kind::length_m}}});
    }
  } else {
    if (c.plan.no_even_count) c.add(CheckId::path_no_even_count);
    if (c.job.site.one_side) {
      c.add(CheckId::path_one_side, {{{static_cast<double>(c.plan.traverses), Kind::count}}});
    }
  }
  if (path.ray.mark_spacing_m < 0) {
    c.add(CheckId::path_marks_cross, {{{path.ray.mark_spacing_m, Kind::length_m}}});
  }
  if (c.job.site.rail_length_m && path.overall_length_m && c.plan.same_side() &&
      *path.overall_length_m > *c.job.site.rail_length_m) {
    c.add(CheckId::path_rail_short, {{{*path.overall_length_m, Kind::length_m},
                                      {*c.job.site.rail_length_m, Kind::length_m}}});
  }
}

void check_choice(const CheckContext& c) {
  if (!c.plan.path || !c.plan.traverses_chosen) return;
  const double count = c.plan.traverses;
  const PathMerit& merit = c.plan.merit;
  if (!merit.loss_dB) {
    c.add(CheckId::path_geometry_only, {{{count, Kind::count}}});
    return;
  }
  Finding& chosen = c.add(CheckId::path_chosen,
                          {{{count, Kind::count},
                            {*merit.loss_dB, Kind::decibel},
                            {merit.zero_percent, Kind::percent}}},
                          wave_mode_name(c.plan.wall_mode));
  if (!c.plan.usual) chosen.detail = " (of 1 m/s, no flow being stated)";
}

void check_thin_wall(const CheckContext& c) {
  const double frequency_Hz = c.job.sensors.frequency_Hz;
  if (!c.plan.path || frequency_Hz <= 0) return;
  const double wavelength_m = c.plan.wall_sound_speed_m_s / frequency_Hz;
  const double wall_m = c.job.pipe.wall_m.value;
  if (wall_m >= wavelength_m) {
    const double outside_m = c.job.pipe.outside_diameter_m.value;
    if (outside_m <= small_pipe_m && wall_m <= small_wall_m) {
      c.add(CheckId::pipe_small, {{{outside_m, Kind::length_m},
                                   {small_pipe_m, Kind::length_m},
                                   {wall_m, Kind::length_m}}});
    }
    return;
  }
  Finding& thin = c.add(CheckId::pipe_thin_wall, {{{wall_m, Kind::length_m},
                                                   {wavelength_m, Kind::length_m},
                                                   {100 * wall_m / wavelength_m, Kind::percent}}});
  if (wall_m < wavelength_m / 2) {
    thin.detail = "; below half a wavelength there is no ray, and the spacing is a first guess";
  }
  if (!c.plan.signal || !c.plan.signal->wall) return;
  const auto& nearest = c.plan.signal->wall->nearest_root;
  if (!nearest) return;
  const double off = std::fabs(nearest->distance_Hz_m) / nearest->mean_spacing_Hz_m;
  if (off > near_resonance) return;
  c.add(CheckId::pipe_plate_wave,
        {{{frequency_Hz, Kind::frequency_Hz},
          {nearest->root.frequency_thickness_Hz_m / wall_m, Kind::frequency_Hz},
          {wall_m, Kind::length_m},
          {100 * off, Kind::percent}}});
}

void check_element(const CheckContext& c) {
  const ResolvedSensors& pair = c.job.sensors;
  if (pair.element_m && *pair.element_m > element_part * c.plan.bore_m) {
    c.add(CheckId::path_element_long,
          {{{*pair.element_m, Kind::length_m}, {element_part * c.plan.bore_m, Kind::length_m}}});
  }
  if (pair.element_width_m && *pair.element_width_m > c.plan.bore_m) {
    c.add(CheckId::path_element_wide,
          {{{*pair.element_width_m, Kind::length_m}, {c.plan.bore_m, Kind::length_m}}});
  }
}

void check_scattering(const CheckContext& c) {
  const double frequency_Hz = c.job.sensors.frequency_Hz;
  const auto look_at = [&](const ResolvedMaterial& material, bool is_wall) {
    if (material.key.starts_with("asbestos")) c.add(CheckId::pipe_asbestos, {}, material.name);
    const Scatterer by = scatterer(material);
    if (!by.scatters) return;
    // A lining is thin: with the right frequency and one traverse all is done that can be.
    const bool done = !is_wall && c.plan.traverses == 1 && frequency_Hz <= by.advised_Hz;
    Finding& finding = c.add(
        CheckId::pipe_scatter, done ? Severity::note : Severity::caution,
        {{{frequency_Hz, Kind::frequency_Hz}, {by.advised_Hz, Kind::frequency_Hz}}}, material.name);
    if (!material.attenuation_note.empty()) finding.detail = " (" + material.attenuation_note + ")";
  };
  look_at(c.job.pipe.material, true);
  if (c.job.pipe.liner) look_at(c.job.pipe.liner->material, false);
}

}  // namespace slantrule
