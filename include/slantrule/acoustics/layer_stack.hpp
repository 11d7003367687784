#pragma once

/// Plane waves through the whole chain wedge | couplant | layers | liquid, with everything that
/// runs to and fro in it, at one ray parameter and one frequency.
///
/// Two scatterers are joined through the layer between them by the one-way phases E of its waves,
/// |E| <= 1, so nothing grows however thick the layers are (recursion of Kennett's reflectivity
/// method; Kennett, Seismic Wave Propagation in Stratified Media, 1983). With 1 above and 2 below:
///
///     X = (1 - R1' E R2 E)^-1 T1,    R = R1 + T1' E R2 E X,    T = T2 E X
///
/// Interfaces need the ray parameter only as long as losses grow in proportion to the frequency,
/// phases need both; they are therefore kept apart.

#include <array>
#include <cstddef>

#include "slantrule/acoustics/interface.hpp"

namespace slantrule {

/// Media of a path at one frequency.
struct StackMedia {
  WaveMedium wedge;
  WaveMedium film;  ///< the couplant; used if film_thickness_m > 0
  double film_thickness_m = 0;
  std::array<WaveMedium, most_layers> layers{};
  std::array<double, most_layers> thickness_m{};
  std::size_t layer_count = 0;
  WaveMedium liquid;
};

/// Least loss that keeps plate resonances finite: quality factor w/(2 alpha c) of every solid.
inline constexpr double greatest_quality = 1000;

/// Media of this path. Each wave of a solid gets at least the absorption that goes with `quality`;
/// infinity takes the media as they are. Throws std::invalid_argument without a layer.
StackMedia stack_media(const SoundPath& path, double frequency_Hz,
                       double quality = greatest_quality);

/// What a wave that returns from the liquid side meets at the outer face of the first layer. Truth
/// lies between: the face is under the wedge for a while and bare beyond it.
enum class OuterFace { wedge, air };

/// Interfaces of a path at one ray parameter.
struct StackInterfaces {
  bool has_film = false;
  Interface entry;                             ///< wedge to the first layer, or to the film
  Interface below_film;                        ///< film to the first layer
  std::array<Interface, most_layers> below{};  ///< of each layer to the next, at last the liquid
  std::size_t layer_count = 0;
  Coefficients bare_face;  ///< outer face of the first layer without anything on it
};

StackInterfaces stack_interfaces(const StackMedia& media, double ray_parameter_s_m);

/// One-way phases exp(i w q h) of a layer's waves; 0 for a wave that does not exist.
using LayerPhase = std::array<Complex, 2>;

struct StackPhases {
  LayerPhase film{};
  std::array<LayerPhase, most_layers> layers{};
};

LayerPhase layer_phase(const WaveMedium& medium, double thickness_m, double ray_parameter_s_m,
                       double frequency_Hz);
StackPhases stack_phases(const StackMedia& media, double ray_parameter_s_m, double frequency_Hz);

/// Two interfaces with a layer between them, as one.
Interface join(const Interface& above, const LayerPhase& between, const Interface& below);

/// Wedge to the first layer, a couplant film included.
Interface entry_contact(const StackInterfaces& interfaces, const LayerPhase& film);

/// Longitudinal wave in the wedge to the wave in the liquid, all modes and reverberations of the
/// layers included; the way back is the same (reciprocity).
Complex transmission(const StackInterfaces& interfaces, const StackPhases& phases,
                     OuterFace outer_face = OuterFace::wedge);

/// Reflection in the liquid of layers with a bare outer face; modulus 1 without loss.
Complex bounce(const StackInterfaces& interfaces, const StackPhases& phases);

}  // namespace slantrule
