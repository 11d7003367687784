#include "slantrule/acoustics/path_interfaces.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace slantrule {
namespace {

constexpr double dB_per_neper = 20 / std::numbers::ln10;

}  // namespace

LayerModes layer_modes(const SoundPath& path) {
  LayerModes modes{};
  for (std::size_t i = 0; i < path.layer_count; ++i) modes[i] = path.layers[i].mode;
  return modes;
}

PathMedia path_media(const SoundPath& path) {
  PathMedia media;
  media.wedge = wave_medium(path.wedge, path.frequency_Hz);
  media.layer_count = path.layer_count;
  for (std::size_t i = 0; i < path.layer_count; ++i) {
    media.layers[i] = wave_medium(path.layers[i].medium, path.frequency_Hz);
  }
  media.layers[path.layer_count] = wave_medium(path.liquid, path.frequency_Hz);
  media.has_film = path.couplant.has_value() && path.couplant->thickness_m > 0;
  if (media.has_film) {
    media.film = wave_medium(path.couplant->medium, path.frequency_Hz);
    media.film_m = path.couplant->thickness_m;
  }
  media.angular_frequency = 2 * std::numbers::pi * path.frequency_Hz;
  return media;
}

Complex PathInterfaces::transmission(const LayerModes& modes) const {
  Complex product = entry(layer_count == 0 ? WaveMode::longitudinal : modes[0]);
  for (std::size_t i = 1; i <= layer_count; ++i) product *= into(i, modes);
  return product;
}

Complex PathInterfaces::outer_reflection(std::size_t layer, const LayerModes& modes) const {
  const Coefficients& face = layer == 0 ? outer_face : interfaces[layer].reflection_below;
  Complex product = face.at(modes[layer], modes[layer]);
  for (std::size_t i = layer + 1; i <= layer_count; ++i) {
    const Complex crossing = into(i, modes);
    product *= crossing * crossing;
  }
  return product;
}

std::array<Complex, 2> film_transmission(const PartialWaves& wedge, const WaveMedium& film,
                                         double film_m, double angular_frequency,
                                         const PartialWaves& layer, double ray_parameter_s_m) {
  const PartialWaves waves = partial_waves(film, ray_parameter_s_m);
  const Interface above = shear_free_contact(wedge, waves);
  const Interface below = shear_free_contact(waves, layer);
  const Complex crossing =
      std::exp(Complex{0, 1} * angular_frequency * film_m * waves.vertical_slowness_s_m[0]);
  const Complex echo =
      above.reflection_below.at(0, 0) * below.reflection_above.at(0, 0) * crossing * crossing;
  const Complex into = above.transmission_down.at(0, 0) * crossing / (1.0 - echo);
  return {below.transmission_down.at(0, 0) * into, below.transmission_down.at(1, 0) * into};
}

PathInterfaces path_interfaces(const PathMedia& media, double ray_parameter_s_m) {
  PathInterfaces path;
  path.layer_count = media.layer_count;
  const PartialWaves wedge = partial_waves(media.wedge, ray_parameter_s_m);
  PartialWaves above = partial_waves(media.layers[0], ray_parameter_s_m);
  path.interfaces[0] = shear_free_contact(wedge, above);
  path.outer_face = free_face(above);
  if (media.has_film) {
    path.film_transmission = film_transmission(wedge, media.film, media.film_m,
                                               media.angular_frequency, above, ray_parameter_s_m);
  } else {
    path.film_transmission = {path.slip(WaveMode::longitudinal), path.slip(WaveMode::shear)};
  }
  for (std::size_t i = 1; i <= media.layer_count; ++i) {
    const PartialWaves below = partial_waves(media.layers[i], ray_parameter_s_m);
    path.interfaces[i] = welded_contact(above, below);
    above = below;
  }
  return path;
}

PathInterfaces path_interfaces(const SoundPath& path) {
  return path_interfaces(path_media(path),
                         std::sin(path.wedge_angle_rad) / path.wedge.longitudinal_m_s);
}

double amplitude_loss_dB(double amplitude) {
  // The natural logarithm takes a third of the time of log10.
  return -dB_per_neper * std::log(std::max(amplitude, 1e-15));
}

double amplitude_loss_dB(Complex amplitude) {
  return -dB_per_neper / 2 * std::log(std::max(std::norm(amplitude), 1e-30));
}

}  // namespace slantrule
