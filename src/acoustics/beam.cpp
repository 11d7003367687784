#include "slantrule/acoustics/beam.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace slantrule {
namespace {

using Complex = std::complex<double>;
constexpr double pi = std::numbers::pi;

// F is the triangle 1 - |t| convolved with the kernel exp(i y^2/(2u))/sqrt(2 pi i u), so it is the
// second difference of the kernel's second integral K(y) = |y|/2 + E(y). The edge wave E decays
// away from y = 0, and the second difference of |y|/2 is the triangle itself: without cancellation
//
//     F = triangle(xi) + E(xi + 1) - 2 E(xi) + E(xi - 1)
//     E(y) = sqrt(u/(2 pi)) e^{i pi/4} e^{i x^2} - |y| erfc(s)/2,   x = |y|/sqrt(2u),  s =
//     e^{-i pi/4} x
//
// erfc(s), the Fresnel integral, by the midpoint rule with the pole's share added (Alazah,
// Chandler-Wilde & La Porte, Numer. Math. 128 (2014) 635; 12 nodes leave an error near 1e-15):
//
//     erfc(s)/2 = (s h/pi) e^{-s^2} Sum e^{-t_k^2}/(s^2 + t_k^2) + 1/(e^{2 pi s/h} + 1)

constexpr int nodes = 12;
constexpr double step = 0.5013256549262001;  // sqrt(pi/(nodes + 1/2))

struct Node {
  double square;  // t^2
  double weight;  // e^{-t^2}
};

constexpr double exp_of_negative(double x) {
  // Halved until the series is short; only for the constants below.
  double small = x / 1024;
  double term = 1, sum = 1;
  for (int n = 1; n < 20; ++n) {
    term *= small / n;
    sum += term;
  }
  for (int i = 0; i < 10; ++i) sum *= sum;
  return sum;
}

constexpr std::array<Node, nodes> midpoint_nodes() {
  std::array<Node, nodes> all{};
  for (int k = 0; k < nodes; ++k) {
    const double t = (k + 0.5) * step;
    all[static_cast<std::size_t>(k)] = {t * t, 1 / exp_of_negative(t * t)};
  }
  return all;
}

constexpr std::array<Node, nodes> midpoint = midpoint_nodes();
const Complex eighth_turn{std::numbers::sqrt2 / 2, std::numbers::sqrt2 / 2};

struct Edge {
  Complex wave;   // E(y)
  Complex slope;  // erfc(s)/2, so that dK/dy = 1/2 - slope for y > 0
};

Edge edge_wave(double y, double u) {
  const double x2 = y * y / (2 * u);
  const double x = std::sqrt(x2);
  double real = 0, imag = 0;
  for (const Node& node : midpoint) {
    const double share = node.weight / (node.square * node.square + x2 * x2);
    real += share * node.square;
    imag += share;
  }
  imag *= x2;
  const Complex turn{std::cos(x2), std::sin(x2)};
  const Complex s = x * std::conj(eighth_turn);
  const double exponent = 2 * pi / step * s.real();
  Complex pole{0, 0};
  if (exponent < 40) {
    const Complex below = 1.0 + std::polar(std::exp(exponent), 2 * pi / step * s.imag());
    pole = std::conj(below) / std::norm(below);
  }
  const Complex half_erfc = s * (step / pi) * turn * Complex{real, imag} + pole;
  return {std::sqrt(u / (2 * pi)) * eighth_turn * turn - y * half_erfc, half_erfc};
}

struct Response {
  Complex value;
  Complex slope;  // d/dxi
};

double triangle(double xi) {
  return std::max(0.0, 1 - xi);
}

Response by_edges(double xi, double u) {
  const Edge far = edge_wave(xi + 1, u);
  const Edge middle = edge_wave(xi, u);
  const Edge near = edge_wave(std::fabs(xi - 1), u);
  // dE/dy = -erfc(s)/2 for y > 0 and is odd.
  const double side = xi < 1 ? 1.0 : -1.0;
  return {triangle(xi) + far.wave - 2.0 * middle.wave + near.wave,
          (xi < 1 ? -1.0 : 0.0) - far.slope + 2.0 * middle.slope + side * near.slope};
}

// Beyond u = 100 the three edge waves nearly cancel; the convolution itself is smooth there:
//     F = 2 e^{i xi^2/(2u)}/sqrt(2 pi i u) Int_0^1 (1 - t) cos(xi t/u) e^{i t^2/(2u)} dt
// 12 Gauss-Legendre points: Abramowitz & Stegun, table 25.4.
constexpr double far_enough = 100;
constexpr double widest_far_offset = 10;  // xi/u
constexpr std::array<std::array<double, 2>, 6> gauss{{{0.125233408511469, 0.249147045813403},
                                                      {0.367831498998180, 0.233492536538355},
                                                      {0.587317954286617, 0.203167426723066},
                                                      {0.769902674194305, 0.160078328543346},
                                                      {0.904117256370475, 0.106939325995318},
                                                      {0.981560634246719, 0.047175336386512}}};

Response by_convolution(double xi, double u) {
  Complex value{0, 0}, slope{0, 0};
  for (const auto& [node, weight] : gauss) {
    for (double sign : {-1.0, 1.0}) {
      const double t = (1 + sign * node) / 2;
      const double phase = t * t / (2 * u);
      const Complex share = weight / 2 * (1 - t) * Complex{std::cos(phase), std::sin(phase)};
      value += share * std::cos(xi * t / u);
      slope -= share * (t / u) * std::sin(xi * t / u);
    }
  }
  const double phase = xi * xi / (2 * u);
  const Complex kernel = 2 / std::sqrt(2 * pi * u) * std::conj(eighth_turn) *
                         Complex{std::cos(phase), std::sin(phase)};
  return {kernel * value, kernel * (slope + Complex{0, xi / u} * value)};
}

/// by_edges(0, u): both far edges are equal, and E(0) is the whole amplitude of an edge wave.
Complex on_axis_by_edges(double u) {
  const Complex edge = edge_wave(1, u).wave;
  return 1.0 + 2.0 * (edge - std::sqrt(u / (2 * pi)) * eighth_turn);
}

constexpr double near_enough = 1e-25;  // F is the triangle within 1e-12

Response response(double offset, double u) {
  const double xi = std::fabs(offset);
  if (u < near_enough) return {triangle(xi), xi < 1 ? -1.0 : 0.0};
  if (u > far_enough && xi < widest_far_offset * u) return by_convolution(xi, u);
  return by_edges(xi, u);
}

/// Where |F| = level |F(0)|. |F| has one such offset for every u (scanned from 1e-6 to 10), so a
/// bracket and Newton's step on |F|^2 find the first.
double half_window(double u, double level, double guess, double widest) {
  const double target = std::norm(level * response(0, u).value);
  double low = 0, high = widest;
  double xi = guess;
  for (int iteration = 0; iteration < 60; ++iteration) {
    const Response at = response(xi, u);
    const double excess = std::norm(at.value) - target;
    (excess > 0 ? low : high) = xi;
    const double slope = 2 * (std::conj(at.value) * at.slope).real();
    double next = xi - excess / slope;
    if (!(next > low && next < high)) next = (low + high) / 2;
    const double moved = std::fabs(next - xi);
    xi = next;
    if (moved < 1e-6 * xi) break;  // the error is about the square of that
  }
  return xi;
}

double asin_or_right_angle(double sine) {
  return std::asin(std::min(sine, 1.0));
}

}  // namespace

std::complex<double> two_aperture_response(double offset, double inverse_fresnel) {
  return response(offset, inverse_fresnel).value;
}

double two_aperture_magnitude(double offset, double inverse_fresnel) {
  const double u = inverse_fresnel;
  const bool on_axis = offset == 0 && u >= near_enough && u <= far_enough;
  // Far from the limits of double; std::abs would guard against them.
  return std::sqrt(std::norm(on_axis ? on_axis_by_edges(u) : response(offset, u).value));
}

HalfWindows half_windows(double inverse_fresnel) {
  const double u = inverse_fresnel;
  const double minus_3_dB = std::pow(10.0, -3.0 / 20);
  const double minus_6_dB = std::pow(10.0, -6.0 / 20);
  // Guesses: the far field with its first correction, else a fit through the near field.
  const bool far = u > 0.3;
  const double guess_3 = far ? 2.0004 * u + 0.0116 / u : 0.292 + 0.5 * std::sqrt(u);
  const double guess_6 = far ? 2.7788 * u + 0.021 / u : 0.499 + 0.35 * std::sqrt(u);
  const double widest = 1 + 3 * u;
  return {half_window(u, minus_3_dB, guess_3, widest), half_window(u, minus_6_dB, guess_6, widest)};
}

double near_field_m(double diameter_m, double wavelength_m) {
  return std::max(0.0, (diameter_m - wavelength_m) * (diameter_m + wavelength_m)) /
         (4 * wavelength_m);
}

double near_field_short_wave_m(double diameter_m, double wavelength_m) {
  return diameter_m * diameter_m / (4 * wavelength_m);
}

double strip_half_angle_rad(double length_m, double wavelength_m) {
  return asin_or_right_angle(0.6033545644 * wavelength_m / length_m);
}

double strip_half_angle_both_ways_rad(double length_m, double wavelength_m) {
  return asin_or_right_angle(0.4429464707 * wavelength_m / length_m);
}

double circle_half_angle_rad(double diameter_m, double wavelength_m) {
  return asin_or_right_angle(0.7050848445 * wavelength_m / diameter_m);
}

double circle_half_angle_both_ways_rad(double diameter_m, double wavelength_m) {
  return asin_or_right_angle(0.5144969850 * wavelength_m / diameter_m);
}

double strip_first_null_rad(double length_m, double wavelength_m) {
  return asin_or_right_angle(wavelength_m / length_m);
}

double circle_first_null_rad(double diameter_m, double wavelength_m) {
  return asin_or_right_angle(1.2196698913 * wavelength_m / diameter_m);
}

}  // namespace slantrule
