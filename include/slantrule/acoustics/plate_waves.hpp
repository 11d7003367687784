#pragma once

/// Waves that run along the wall: what a thin wall does to the ray picture, and the sound that
/// reaches the other sensor without crossing the liquid.

#include <complex>
#include <cstdint>
#include <optional>

#include "slantrule/acoustics/sound_path.hpp"

namespace slantrule {

/// Rayleigh speed (m/s) of a solid's free surface, the exact root of
/// x^3 - 8 x^2 + (24 - 16 k) x - 16 (1 - k) = 0, x = (cR/cS)^2, k = (cS/cL)^2. Needs
/// 0 < cS < cL. Rounding only.
double rayleigh_speed_m_s(const AcousticMedium& solid);

/// Speed (m/s) of the lowest symmetric plate wave (S0) at low frequency:
/// 2 cS sqrt(1 - (cS/cL)^2). Needs 0 < cS < cL.
double plate_speed_m_s(const AcousticMedium& solid);

/// Rayleigh wave on a wall under a liquid, which it leaks into: axial slowness (s/m), attenuation
/// in the imaginary part (amplitude exp(-w Im(p) x)). Lossless media; the liquid slower than the
/// wave.
std::complex<double> leaky_rayleigh_slowness_s_m(const AcousticMedium& solid,
                                                 const AcousticMedium& liquid);

enum class PlateSymmetry : std::uint8_t { symmetric, antisymmetric };

/// A frequency times thickness (Hz m; 1 MHz mm is 1000 Hz m) at which a free plate carries a wave
/// with the trace speed 1/p: there the wall is resonant.
struct PlateRoot {
  PlateSymmetry symmetry;
  int number;  ///< from 1, in order of frequency within its symmetry
  double frequency_thickness_Hz_m;
};

/// Root `number` (from 1) of the Rayleigh-Lamb equations at the axial slowness p >= 0. Nothing for
/// a medium without shear wave or where p cS >= 1: no ray runs in the wall there. p = 0 gives the
/// cut-off frequencies. Viktorov, Rayleigh and Lamb Waves (from memory). Rounding only.
std::optional<PlateRoot> plate_root(const AcousticMedium& solid, double ray_parameter_s_m,
                                    PlateSymmetry symmetry, int number);

/// The root nearest to the wall's own frequency times thickness.
struct NearestPlateRoot {
  PlateRoot root;
  double distance_Hz_m;      ///< the wall's less the root's
  double mean_spacing_Hz_m;  ///< of all roots; distance / mean_spacing is near 0 on resonance and
                             ///< near 1/2 midway
};
std::optional<NearestPlateRoot> nearest_plate_root(const AcousticMedium& solid,
                                                   double ray_parameter_s_m,
                                                   double frequency_thickness_Hz_m);

/// How a wall treats the burst. The limits are of our own derivation, not a published criterion.
enum class WallRegime : std::uint8_t {
  separate,     ///< the wall's echoes come after the burst: the ray picture holds
  overlapping,  ///< they overlap: the ray spacing is the leading edge of the response
  guided        ///< frequency times thickness below the shear speed: few plate waves, no rays
};

struct WallIndicators {
  WallRegime regime;
  double frequency_thickness_Hz_m;
  double delay_s;          ///< of one echo to and fro in the wall, 2 h q
  double delay_per_burst;  ///< over cycles / frequency
  double footprint_ratio;  ///< step of one echo along the pipe, 2 h tan, over the beam's length
                           ///< on the wall, element / cos(wedge angle); above 1 they part
  double wavelengths;      ///< thickness over wavelength of the wave that is used
  std::optional<NearestPlateRoot> nearest_root;
};

/// Of layer `layer` of the path. Needs its wave to run (p c < 1).
WallIndicators wall_indicators(const SoundPath& path, const RayPath& ray, std::size_t layer);
/// The same without the root, which costs more than all the rest.
WallIndicators wall_echo_indicators(const SoundPath& path, const RayPath& ray, std::size_t layer);

/// Group speeds (m/s) of wall-borne sound, least and greatest: Rayleigh and plate speed. Bounds,
/// not values: single plate waves keep within them but for the lowest antisymmetric one in walls
/// much thinner than a wavelength, which is slower (and weakly driven by a wedge that is steep to
/// it). Without a shear wave both are the longitudinal speed.
struct SpeedBand {
  double least_m_s;
  double greatest_m_s;
};
SpeedBand wall_borne_speeds(const AcousticMedium& solid);

}  // namespace slantrule
