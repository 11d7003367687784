#pragma once

/// One sound path, wedge to wedge, with everything its strength depends on. The ray of ray_path.hpp
/// needs the speeds alone; interfaces, absorption and the beam need the rest.

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string_view>

#include "slantrule/acoustics/ray_path.hpp"
#include "slantrule/units/absorption.hpp"

namespace slantrule {

enum class WaveMode : std::uint8_t { longitudinal, shear };
std::string_view wave_mode_name(WaveMode mode);

/// A solid or a liquid as sound meets it. Density and longitudinal speed > 0.
struct AcousticMedium {
  double density_kg_m3 = 0;
  double longitudinal_m_s = 0;
  double shear_m_s = 0;  ///< 0: a liquid, or a solid without a shear wave of its own
  Absorption longitudinal_absorption{.power = 1};
  Absorption shear_absorption{.power = 1};

  bool is_liquid() const { return !(shear_m_s > 0); }
};

/// A layer between wedge and liquid; `mode` is the wave that carries the sound through it.
struct PathLayer {
  AcousticMedium medium;
  double thickness_m = 0;
  WaveMode mode = WaveMode::longitudinal;

  double sound_speed_m_s() const {
    return mode == WaveMode::shear ? medium.shear_m_s : medium.longitudinal_m_s;
  }
};

/// Couplant of a finite thickness between wedge and pipe.
struct CouplantFilm {
  AcousticMedium medium;
  double thickness_m = 0;
};

/// Two equal strip elements on equal wedges. Layers are bonded to each other; between wedge and the
/// first of them lies couplant, which carries no shear stress.
struct SoundPath {
  AcousticMedium wedge;
  double wedge_angle_rad = 0;                   ///< from the pipe normal
  double wedge_path_m = 0;                      ///< the sound's way inside one wedge
  std::optional<CouplantFilm> couplant;         ///< absent: a film too thin to matter
  std::array<PathLayer, most_layers> layers{};  ///< from the wedge inwards
  std::size_t layer_count = 0;
  AcousticMedium liquid;
  double bore_m = 0;  ///< inside the innermost layer
  int traverses = 2;

  double frequency_Hz = 0;
  int cycles = 4;              ///< of the burst
  double element_m = 0;        ///< length of the element, in the plane of the beam
  double element_width_m = 0;  ///< across it

  void add_layer(const PathLayer& layer) { layers[layer_count++] = layer; }
};

/// The straight ray of this path, from exit point to exit point (setback and delay 0).
/// Throws as trace_ray(PathInputs) does.
std::variant<RayPath, NoRay> trace_ray(const SoundPath& path);

}  // namespace slantrule
