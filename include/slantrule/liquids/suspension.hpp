#pragma once

/// What grains in a liquid take from a sound beam.

namespace slantrule {

struct Suspension {
  double volume_fraction;             ///< of solids, in [0, 0.5]
  double grain_radius_m;              ///< > 0
  double grain_density_kg_m3 = 2650;  ///< quartz
  double liquid_density_kg_m3 = 998;  ///< water
  double liquid_sound_speed_m_s = 1482;
  double kinematic_viscosity_m2_s = 1e-6;
};

/// Loss in dB/m of a dilute suspension of equal hard spheres (Urick 1948; formula from memory):
///
///     alpha = phi [ k^4 a^3 / 6 + k (g - 1)^2 s / (2 (s^2 + (g + tau)^2)) ]   Np/m
///     k = 2 pi f/c    b = sqrt(pi f/nu)    g = grain density / liquid density
///     s = 9/(4 b a) (1 + 1/(b a))    tau = 1/2 + 9/(4 b a)
///
/// The first term is scattering (coarse grains), the second friction (fine ones). Scattering holds
/// for k a well below 1; it is kept below the geometric limit 3/(4 a) of grains that take out twice
/// their shadow. Order of magnitude, as real grains are neither round nor equal.
/// Throws std::invalid_argument when an argument is not finite or out of its range.
double suspension_loss_dB_m(const Suspension& suspension, double frequency_Hz);

}  // namespace slantrule
