#pragma once

// Complex arithmetic of the wave computations, for moduli far from the limits of double: plain
// formulas where the standard library's guard against overflow would cost several times as much.

#include <cmath>

#include "slantrule/acoustics/interface.hpp"

namespace slantrule::detail {

inline Complex times(Complex a, Complex b) {
  return {a.real() * b.real() - a.imag() * b.imag(), a.real() * b.imag() + a.imag() * b.real()};
}

inline Complex inverse(Complex z) {
  const double scale = 1 / std::norm(z);
  return {z.real() * scale, -z.imag() * scale};
}

/// Square root in the upper half plane of a number with Im >= 0: then both parts are >= 0.
inline Complex upper_root(Complex z) {
  const double modulus = std::sqrt(std::norm(z));
  if (z.real() >= 0) {
    const double real = std::sqrt(0.5 * (modulus + z.real()));
    return {real, real > 0 ? 0.5 * z.imag() / real : 0};
  }
  const double imaginary = std::sqrt(0.5 * (modulus - z.real()));
  return {0.5 * z.imag() / imaginary, imaginary};
}

/// exp(i z)
inline Complex phasor(Complex z) {
  const double modulus = std::exp(-z.imag());
  return {modulus * std::cos(z.real()), modulus * std::sin(z.real())};
}

inline Coefficients product(const Coefficients& a, const Coefficients& b) {
  return {{times(a.value[0], b.value[0]) + times(a.value[1], b.value[2]),
           times(a.value[0], b.value[1]) + times(a.value[1], b.value[3]),
           times(a.value[2], b.value[0]) + times(a.value[3], b.value[2]),
           times(a.value[2], b.value[1]) + times(a.value[3], b.value[3])}};
}

inline Coefficients sum(const Coefficients& a, const Coefficients& b) {
  return {{a.value[0] + b.value[0], a.value[1] + b.value[1], a.value[2] + b.value[2],
           a.value[3] + b.value[3]}};
}

inline Coefficients transpose(const Coefficients& a) {
  return {{a.value[0], a.value[2], a.value[1], a.value[3]}};
}

inline Coefficients inverse(const Coefficients& a) {
  const Complex scale = inverse(times(a.value[0], a.value[3]) - times(a.value[1], a.value[2]));
  return {{times(a.value[3], scale), -times(a.value[1], scale), -times(a.value[2], scale),
           times(a.value[0], scale)}};
}

}  // namespace slantrule::detail
