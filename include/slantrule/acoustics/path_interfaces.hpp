#pragma once

/// The interfaces of one sound path at one frequency, each by itself (no reverberation). They do
/// not depend on bore or traverses.

#include <array>
#include <cstddef>

#include "slantrule/acoustics/interface.hpp"

namespace slantrule {

using LayerModes = std::array<WaveMode, most_layers>;

LayerModes layer_modes(const SoundPath& path);

/// Media of the path as waves of its frequency meet them. `layers[layer_count]` is the liquid.
struct PathMedia {
  WaveMedium wedge;
  std::array<WaveMedium, most_layers + 1> layers;
  std::size_t layer_count = 0;
  bool has_film = false;
  WaveMedium film;
  double film_m = 0;
  double angular_frequency = 0;
};

PathMedia path_media(const SoundPath& path);

/// Everything at one ray parameter. Interface i lies above layer i; interface `layer_count` is the
/// inner face.
struct PathInterfaces {
  std::size_t layer_count = 0;
  std::array<Interface, most_layers + 1> interfaces;
  std::array<Complex, 2> film_transmission{};  ///< wedge to the first layer, through the film
  Coefficients outer_face;                     ///< of the first layer, with air behind it

  /// Wedge to the wave `mode` of the first layer: shear-free contact, and with the film if any.
  Complex slip(WaveMode mode) const {
    return interfaces[0].transmission_down.at(mode, WaveMode::longitudinal);
  }
  Complex entry(WaveMode mode) const { return film_transmission[static_cast<std::size_t>(mode)]; }
  /// From layer i - 1 into layer i (the liquid for i = layer_count), i from 1.
  Complex into(std::size_t i, const LayerModes& modes) const {
    const WaveMode below = i == layer_count ? WaveMode::longitudinal : modes[i];
    return interfaces[i].transmission_down.at(below, modes[i - 1]);
  }
  /// Wedge to liquid.
  Complex transmission(const LayerModes& modes) const;
  /// In the liquid at the inner face.
  Complex inner_reflection() const { return interfaces[layer_count].reflection_below.at(0, 0); }
  /// In the liquid, turned round at the upper face of layer `layer`, without absorption. The wave
  /// keeps its mode in each layer.
  Complex outer_reflection(std::size_t layer, const LayerModes& modes) const;
};

PathInterfaces path_interfaces(const PathMedia& media, double ray_parameter_s_m);
/// At the ray of the path.
PathInterfaces path_interfaces(const SoundPath& path);

/// Wedge to the first layer through a liquid film with all its echoes.
std::array<Complex, 2> film_transmission(const PartialWaves& wedge, const WaveMedium& film,
                                         double film_m, double angular_frequency,
                                         const PartialWaves& layer, double ray_parameter_s_m);

/// -20 log10 of an amplitude; at most 300 dB, so that nothing is infinite.
double amplitude_loss_dB(double amplitude);
double amplitude_loss_dB(Complex amplitude);

}  // namespace slantrule
