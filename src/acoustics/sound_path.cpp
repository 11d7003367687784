#include "slantrule/acoustics/sound_path.hpp"

namespace slantrule {

std::string_view wave_mode_name(WaveMode mode) {
  return mode == WaveMode::shear ? "shear" : "longitudinal";
}

std::variant<RayPath, NoRay> trace_ray(const SoundPath& path) {
  std::array<Layer, most_layers> layers{};
  for (std::size_t i = 0; i < path.layer_count; ++i) {
    layers[i] = {path.layers[i].thickness_m, path.layers[i].sound_speed_m_s()};
  }
  return trace_ray(PathInputs{.wedge_sound_speed_m_s = path.wedge.longitudinal_m_s,
                              .wedge_angle_rad = path.wedge_angle_rad,
                              .wedge_path_m = path.wedge_path_m,
                              .layers = std::span(layers).first(path.layer_count),
                              .bore_m = path.bore_m,
                              .liquid_sound_speed_m_s = path.liquid.longitudinal_m_s,
                              .traverses = path.traverses});
}

}  // namespace slantrule
