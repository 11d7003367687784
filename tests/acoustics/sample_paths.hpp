#pragma once

/// Sound paths that the tests of budget, direct path and arrivals share. Materials as in the
/// published and independently computed values they are compared with.

#include <numbers>
#include <variant>

#include "slantrule/acoustics/sound_path.hpp"

namespace sample {

inline constexpr double deg = std::numbers::pi / 180;

inline const slantrule::AcousticMedium acrylic{1180, 2730, 1430, {}, {}};
inline const slantrule::AcousticMedium peek{1300, 2550, 1130, {}, {}};
inline const slantrule::AcousticMedium steel{7850, 5900, 3230, {}, {}};
inline const slantrule::AcousticMedium copper{8930, 4700, 2260, {}, {}};
inline const slantrule::AcousticMedium pvc{1400, 2380, 1060, {}, {}};
inline const slantrule::AcousticMedium cement{2200, 3700, 2200, {}, {}};
inline const slantrule::AcousticMedium water{998.2, 1482.3, 0, {}, {}};

/// Sensors on a wedge of 38 degrees, elements square, over a pipe still without layers.
inline slantrule::SoundPath bare_path(const slantrule::AcousticMedium& wedge, double frequency_Hz,
                                      double element_m, double bore_m, int traverses) {
  slantrule::SoundPath path;
  path.wedge = wedge;
  path.wedge_angle_rad = 38 * deg;
  path.wedge_path_m = 0.01;
  path.liquid = water;
  path.bore_m = bore_m;
  path.traverses = traverses;
  path.frequency_Hz = frequency_Hz;
  path.element_m = path.element_width_m = element_m;
  return path;
}

/// 22 x 1 mm copper tube, four traverses, 2 MHz.
inline slantrule::SoundPath copper_22() {
  slantrule::SoundPath path = bare_path(peek, 2e6, 0.008, 0.020, 4);
  path.add_layer({copper, 0.001, slantrule::WaveMode::shear});
  return path;
}

/// 28 x 1 mm copper tube, two traverses, 2 MHz.
inline slantrule::SoundPath copper_28() {
  slantrule::SoundPath path = bare_path(peek, 2e6, 0.008, 0.026, 2);
  path.add_layer({copper, 0.001, slantrule::WaveMode::shear});
  return path;
}

/// Steel DN 100 schedule 40, two traverses, 1 MHz.
inline slantrule::SoundPath steel_100() {
  slantrule::SoundPath path = bare_path(acrylic, 1e6, 0.015, 0.10226, 2);
  path.add_layer({steel, 0.00602, slantrule::WaveMode::shear});
  return path;
}

/// PVC 110 x 5.3 mm, two traverses, 1 MHz; the wall swallows 2 dB/cm at 1 MHz.
inline slantrule::SoundPath pvc_110() {
  slantrule::SoundPath path = bare_path(acrylic, 1e6, 0.015, 0.0994, 2);
  slantrule::AcousticMedium wall = pvc;
  wall.longitudinal_absorption = {.dB_m = 200, .at_Hz = 1e6, .power = 1, .relative_u = 0.3};
  path.add_layer({wall, 0.0053, slantrule::WaveMode::longitudinal});
  return path;
}

/// Steel 1.2 m with cement mortar, one traverse, 0.5 MHz.
inline slantrule::SoundPath lined_1200() {
  slantrule::SoundPath path = bare_path(acrylic, 0.5e6, 0.025, 1.17, 1);
  path.add_layer({steel, 0.0095, slantrule::WaveMode::shear});
  slantrule::AcousticMedium liner = cement;
  liner.longitudinal_absorption = {.dB_m = 600, .at_Hz = 1e6, .power = 1, .relative_u = 0.55};
  liner.shear_absorption = {.dB_m = 900, .at_Hz = 1e6, .power = 1, .relative_u = 0.55};
  path.add_layer({liner, 0.006, slantrule::WaveMode::shear});
  return path;
}

inline slantrule::RayPath ray_of(const slantrule::SoundPath& path) {
  return std::get<slantrule::RayPath>(slantrule::trace_ray(path));
}

}  // namespace sample
