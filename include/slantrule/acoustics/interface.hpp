#pragma once

/// Plane waves at the flat interface of two media: how much is reflected, transmitted, converted.
///
/// Time factor exp(-i w t); x runs along the pipe, z from the upper medium into the lower; the ray
/// parameter p (s/m, any sign) is the horizontal slowness that all waves share. Every wave is
/// normalised to its vertical energy flux: the state (ux, uz, txz/(i w), tzz/(i w)) of
///
///     L, down/up      ( p, +-qL, +-2 rho b^2 p qL,  rho g)              / sqrt(rho qL)
///     SV, down/up     (qS,  -+p, +-rho g,          -2 rho b^2 p qS)     / sqrt(rho qS)
///     liquid, down/up ( p,  +-q,  0,                rho)                / sqrt(rho q)
///
/// with q the vertical slowness, b the shear speed and g = 1 - 2 b^2 p^2. The square of a
/// coefficient's modulus is then an energy coefficient without further factors, and the scattering
/// matrix is symmetric (reciprocity) for all waves, evanescent and lossy ones included.
///
/// Sources: continuity conditions and sign convention as in Aki & Richards, Quantitative
/// Seismology, section 5.2; the compact forms used here are derived in interface.cpp.

#include <array>
#include <complex>
#include <cstddef>

#include "slantrule/acoustics/sound_path.hpp"

namespace slantrule {

using Complex = std::complex<double>;

/// A medium at one frequency. A slowness is 1/speed + i absorption (Np/m) / w.
struct WaveMedium {
  double density_kg_m3 = 0;
  Complex longitudinal_s_m;
  Complex shear_s_m;  ///< unused in a liquid
  bool liquid = false;
};

/// The medium as waves of this frequency (> 0) meet it.
WaveMedium wave_medium(const AcousticMedium& medium, double frequency_Hz);

/// Vertical slowness sqrt(s^2 - p^2) on the branch that decays away from its source (Im >= 0).
/// Where the wave would run exactly along the interface the modulus is kept at 1e-7 of s, so that
/// nothing divides by zero.
Complex vertical_slowness_s_m(Complex slowness_s_m, double ray_parameter_s_m);

/// Waves of one medium at one ray parameter; index 0 is longitudinal, 1 shear (all 0 in a liquid).
/// The members are the even and the odd half of the state above; sigma = stress/(i w).
struct PartialWaves {
  std::size_t channels = 1;                        ///< 2 in a solid, 1 in a liquid
  std::array<Complex, 2> vertical_slowness_s_m{};  ///< Im >= 0
  std::array<Complex, 2> along{};                  ///< ux, equal for down and up
  std::array<Complex, 2> across{};                 ///< uz of the wave that runs down
  std::array<Complex, 2> shear_stress{};           ///< sigma xz of the wave that runs down
  std::array<Complex, 2> normal_stress{};          ///< sigma zz, equal for down and up
  Complex impedance;  ///< normal stress by normal velocity at a shear-free face, kg/(m2 s)
};

PartialWaves partial_waves(const WaveMedium& medium, double ray_parameter_s_m);

/// Two by two coefficients, outgoing wave first. Rows and columns a liquid lacks are 0.
struct Coefficients {
  std::array<Complex, 4> value{};

  Complex& at(std::size_t out, std::size_t in) { return value[2 * out + in]; }
  const Complex& at(std::size_t out, std::size_t in) const { return value[2 * out + in]; }
  const Complex& at(WaveMode out, WaveMode in) const {
    return at(static_cast<std::size_t>(out), static_cast<std::size_t>(in));
  }
  /// Share of the energy flux, for waves that propagate in lossless media.
  double energy(WaveMode out, WaveMode in) const { return std::norm(at(out, in)); }
};

/// All coefficients of one interface.
struct Interface {
  std::size_t upper_channels = 1;
  std::size_t lower_channels = 1;
  Coefficients reflection_above;   ///< upper medium: up from down
  Coefficients transmission_down;  ///< lower medium from upper medium
  Coefficients transmission_up;    ///< upper medium from lower medium
  Coefficients reflection_below;   ///< lower medium: down from up
};

/// A contact that carries no shear stress: solids with a thin liquid film between them, or any
/// contact with a liquid. Infinite at its own poles (Rayleigh, Scholte, slip wave), which real p of
/// lossy media never meet.
Interface shear_free_contact(const PartialWaves& upper, const PartialWaves& lower);

/// Bonded solids. With a liquid on either side the same as shear_free_contact.
Interface welded_contact(const PartialWaves& upper, const PartialWaves& lower);

/// Reflection at a face without anything behind it.
Coefficients free_face(const PartialWaves& medium);

}  // namespace slantrule
