// Compact forms of the interface coefficients.
//
// Let A hold the even rows (ux, sigma zz) and B the odd rows (sigma xz, uz) of the down-going
// waves, a column for each wave. With amplitudes d down and u up the state is A (d + u), B (d - u),
// and the normalisation makes A^T B = 1, so no matrix has to be inverted to find amplitudes from a
// state.
//
// Welded: A1 (d1 + u1) = A2 (d2 + u2) and B1 (d1 - u1) = B2 (d2 - u2). With M = B1^T A2 and
// N = A1^T B2,
//
//     d1 = (M + N)/2 d2 + (M - N)/2 u2,    u1 = (M - N)/2 d2 + (M + N)/2 u2.
//
// Shear-free: sigma xz = 0 on both sides, uz and sigma zz continuous. With c the row of sigma zz in
// A and Z = c.c, each side's free face reflects by 1 - 2 c c^T / Z, and the whole scattering matrix
// is the reflection of all channels at the vector v = (c1, -c2),
//
//     S = 1 - 2 v v^T / (Z1 + Z2),
//
// which is symmetric, and unitary wherever all its waves propagate.

#include "slantrule/acoustics/interface.hpp"

#include <cmath>
#include <numbers>

#include "small_complex.hpp"

namespace slantrule {

using namespace detail;

namespace {

/// dB in one neper, 20/ln 10.
const double dB_per_neper = 20 / std::numbers::ln10;

Complex slowness(double speed_m_s, const Absorption& absorption, double frequency_Hz) {
  const double neper_m = absorption.at(frequency_Hz) / dB_per_neper;
  return {1 / speed_m_s, neper_m / (2 * std::numbers::pi * frequency_Hz)};
}

/// a b^T * scale
Coefficients outer(const std::array<Complex, 2>& a, const std::array<Complex, 2>& b,
                   Complex scale) {
  const Complex b0 = b[0] * scale, b1 = b[1] * scale;
  return {{a[0] * b0, a[0] * b1, a[1] * b0, a[1] * b1}};
}

/// 1 - 2 c c^T / Z, the 1 only where the medium has a wave.
Coefficients reflection(const PartialWaves& medium, Complex minus_two_by_impedance) {
  Coefficients r = outer(medium.normal_stress, medium.normal_stress, minus_two_by_impedance);
  r.value[0] += 1.0;
  if (medium.channels == 2) r.value[3] += 1.0;
  return r;
}

/// a^T b of two matrices given by their rows.
Coefficients transposed_product(const std::array<Complex, 2>& a_first,
                                const std::array<Complex, 2>& a_second,
                                const std::array<Complex, 2>& b_first,
                                const std::array<Complex, 2>& b_second) {
  return {{a_first[0] * b_first[0] + a_second[0] * b_second[0],
           a_first[0] * b_first[1] + a_second[0] * b_second[1],
           a_first[1] * b_first[0] + a_second[1] * b_second[0],
           a_first[1] * b_first[1] + a_second[1] * b_second[1]}};
}

PartialWaves solid_waves(const WaveMedium& medium, double p) {
  const double rho = medium.density_kg_m3;
  PartialWaves waves;
  waves.channels = 2;
  const Complex q_L = vertical_slowness_s_m(medium.longitudinal_s_m, p);
  const Complex q_S = vertical_slowness_s_m(medium.shear_s_m, p);
  waves.vertical_slowness_s_m = {q_L, q_S};
  // sqrt(rho q) by principal roots one by one, so that signs stay those of the state vectors.
  const Complex root_L = upper_root(rho * q_L), root_S = upper_root(rho * q_S);
  const Complex by_root_L = inverse(root_L), by_root_S = inverse(root_S);
  const Complex twice_b2_p = 2 * p * inverse(medium.shear_s_m * medium.shear_s_m);
  const Complex g = 1.0 - p * twice_b2_p;
  waves.along = {p * by_root_L, q_S * by_root_S};
  waves.across = {q_L * by_root_L, -p * by_root_S};
  waves.shear_stress = {twice_b2_p * root_L, rho * g * by_root_S};
  waves.normal_stress = {rho * g * by_root_L, -twice_b2_p * root_S};
  waves.impedance = waves.normal_stress[0] * waves.normal_stress[0] +
                    waves.normal_stress[1] * waves.normal_stress[1];
  return waves;
}

PartialWaves liquid_waves(const WaveMedium& medium, double p) {
  const double rho = medium.density_kg_m3;
  PartialWaves waves;
  const Complex q = vertical_slowness_s_m(medium.longitudinal_s_m, p);
  const Complex by_root = inverse(upper_root(rho * q));
  waves.vertical_slowness_s_m[0] = q;
  waves.along[0] = p * by_root;
  waves.across[0] = q * by_root;
  waves.normal_stress[0] = rho * by_root;
  waves.impedance = rho * inverse(q);
  return waves;
}

}  // namespace

WaveMedium wave_medium(const AcousticMedium& medium, double frequency_Hz) {
  WaveMedium wave;
  wave.density_kg_m3 = medium.density_kg_m3;
  wave.liquid = medium.is_liquid();
  wave.longitudinal_s_m =
      slowness(medium.longitudinal_m_s, medium.longitudinal_absorption, frequency_Hz);
  if (!wave.liquid) {
    wave.shear_s_m = slowness(medium.shear_m_s, medium.shear_absorption, frequency_Hz);
  }
  return wave;
}

Complex vertical_slowness_s_m(Complex slowness_s_m, double ray_parameter_s_m) {
  const double p = ray_parameter_s_m;
  const Complex square{(slowness_s_m.real() - p) * (slowness_s_m.real() + p) -
                           slowness_s_m.imag() * slowness_s_m.imag(),
                       2 * slowness_s_m.real() * slowness_s_m.imag()};
  const double least = 1e-7 * slowness_s_m.real();
  if (std::norm(square) < least * least * least * least) return least;
  return upper_root(square);
}

PartialWaves partial_waves(const WaveMedium& medium, double ray_parameter_s_m) {
  return medium.liquid ? liquid_waves(medium, ray_parameter_s_m)
                       : solid_waves(medium, ray_parameter_s_m);
}

Interface shear_free_contact(const PartialWaves& upper, const PartialWaves& lower) {
  const Complex scale = 2.0 * inverse(upper.impedance + lower.impedance);
  Interface contact;
  contact.upper_channels = upper.channels;
  contact.lower_channels = lower.channels;
  contact.reflection_above = reflection(upper, -scale);
  contact.reflection_below = reflection(lower, -scale);
  contact.transmission_down = outer(lower.normal_stress, upper.normal_stress, scale);
  contact.transmission_up = transpose(contact.transmission_down);
  return contact;
}

Interface welded_contact(const PartialWaves& upper, const PartialWaves& lower) {
  if (upper.channels == 1 || lower.channels == 1) return shear_free_contact(upper, lower);
  const Coefficients m =
      transposed_product(upper.shear_stress, upper.across, lower.along, lower.normal_stress);
  const Coefficients n =
      transposed_product(upper.along, upper.normal_stress, lower.shear_stress, lower.across);
  Coefficients half_sum, half_difference;
  for (std::size_t i = 0; i < 4; ++i) {
    half_sum.value[i] = 0.5 * (m.value[i] + n.value[i]);
    half_difference.value[i] = 0.5 * (m.value[i] - n.value[i]);
  }
  Interface contact;
  contact.upper_channels = contact.lower_channels = 2;
  contact.transmission_down = inverse(half_sum);
  contact.transmission_up = transpose(contact.transmission_down);
  contact.reflection_above = product(half_difference, contact.transmission_down);
  contact.reflection_below = product(contact.transmission_down, half_difference);
  for (Complex& value : contact.reflection_below.value) value = -value;
  return contact;
}

Coefficients free_face(const PartialWaves& medium) {
  return reflection(medium, -2.0 * inverse(medium.impedance));
}

}  // namespace slantrule
