#pragma once

/// The field of a finite element: how a beam spreads, and what a misplaced receiver loses.
///
/// Two equal strip elements face each other through any flat layers. In the narrow-beam limit their
/// insertion loss depends on two numbers alone, in each plane:
///
///     F(xi, u) = | 1/(2 pi) Int sinc^2(x/2) exp(i xi x - i u x^2/2) dx |
///     xi = offset / element,    u = sum of (slowness-weighted path) / (w element^2)
///
/// u is an inverse Fresnel number: u -> 0 is the near field, F the triangle 1 - |xi|; u > 1 the far
/// field, F = sinc^2(xi/(2u)) / sqrt(2 pi u). Derived; agrees with direct Rayleigh integrals of two
/// facing strips and squares to 0.01 dB (tests).

#include <complex>

namespace slantrule {

/// F with its phase, by Fresnel integrals. Any finite `offset`, u >= 0. Error below 1e-12; for
/// u > 1e4 and |offset| > 10 u below 1e-15 sqrt(u).
std::complex<double> two_aperture_response(double offset, double inverse_fresnel);

/// |F|, 1 for elements face to face.
double two_aperture_magnitude(double offset, double inverse_fresnel);

/// Offsets (in elements, >= 0) at which F first falls by 3 and 6 dB from its value at offset 0.
struct HalfWindows {
  double minus_3_dB;
  double minus_6_dB;
};

/// For u >= 0. Error below 1e-9 of the window.
HalfWindows half_windows(double inverse_fresnel);

/// Near-field length of a circular element: (D^2 - lambda^2)/(4 lambda), 0 for an element smaller
/// than a wavelength; and its limit for short waves, D^2/(4 lambda), which handbooks print.
/// Krautkraemer, Ultrasonic Testing of Materials (from memory).
double near_field_m(double diameter_m, double wavelength_m);
double near_field_short_wave_m(double diameter_m, double wavelength_m);

/// Half angles (rad) of the far field: where the pressure of one element has fallen to a half
/// (one way), and where the product of two equal patterns has (both ways), a strip of length a or
/// a circle of diameter D:
///
///     strip   one way  asin(0.6034 lambda/a)    both ways  asin(0.4429 lambda/a)
///     circle  one way  asin(0.7051 lambda/D)    both ways  asin(0.5145 lambda/D)
///
/// The factors are roots of sinc and of 2 J1(x)/x. pi/2 where the element is too small for the
/// pressure ever to fall so far.
double strip_half_angle_rad(double length_m, double wavelength_m);
double strip_half_angle_both_ways_rad(double length_m, double wavelength_m);
double circle_half_angle_rad(double diameter_m, double wavelength_m);
double circle_half_angle_both_ways_rad(double diameter_m, double wavelength_m);

/// First angle without sound: asin(lambda/a), asin(1.2197 lambda/D); pi/2 where there is none.
double strip_first_null_rad(double length_m, double wavelength_m);
double circle_first_null_rad(double diameter_m, double wavelength_m);

}  // namespace slantrule
