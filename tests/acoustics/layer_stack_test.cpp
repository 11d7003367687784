// Stacks of layers against closed forms of plates, an independent computation, and limits.
//
// "independent computation" marks values that were derived and computed separately from this code;
// they are not published tables.

#include "slantrule/acoustics/layer_stack.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <numbers>
#include <random>
#include <stdexcept>

#include "acoustics/wave_media.hpp"

using namespace slantrule;
using namespace slantrule::wave_media;

namespace {

constexpr double deg = std::numbers::pi / 180;
constexpr double lossless = std::numeric_limits<double>::infinity();
constexpr double MHz = 1e6;
constexpr double mm = 1e-3;

SoundPath acrylic_on(std::initializer_list<PathLayer> layers) {
  SoundPath path;
  path.wedge = acrylic;
  path.liquid = water;
  for (const PathLayer& layer : layers) path.add_layer(layer);
  return path;
}

Complex transmission_of(const SoundPath& path, double p, double frequency_Hz, double quality,
                        OuterFace outer_face = OuterFace::wedge) {
  const StackMedia media = stack_media(path, frequency_Hz, quality);
  return transmission(stack_interfaces(media, p), stack_phases(media, p, frequency_Hz), outer_face);
}

Complex bounce_of(const SoundPath& path, double p, double frequency_Hz, double quality) {
  const StackMedia media = stack_media(path, frequency_Hz, quality);
  return bounce(stack_interfaces(media, p), stack_phases(media, p, frequency_Hz));
}

/// Two media with a layer between, by join.
Interface sandwich(const AcousticMedium& upper, const AcousticMedium& layer,
                   const AcousticMedium& lower, double thickness_m, double p) {
  const auto waves = [&](const AcousticMedium& m) { return partial_waves(wave_medium(m, MHz), p); };
  return join(welded_contact(waves(upper), waves(layer)),
              layer_phase(wave_medium(layer, MHz), thickness_m, p, MHz),
              welded_contact(waves(layer), waves(lower)));
}

/// Impedances of a plate's two faces, driven alike (`driven`) and through it (`through`), in the
/// form of Brekhovskikh, Waves in Layered Media, section on a solid layer in a liquid (from memory;
/// checked below by its own energy balance).
struct PlateImpedance {
  Complex driven, through;
};

PlateImpedance plate(const AcousticMedium& m, double thickness_m, double p, double frequency_Hz) {
  const double w = 2 * std::numbers::pi * frequency_Hz;
  const Complex q_L = std::sqrt(Complex(1 / std::pow(m.longitudinal_m_s, 2) - p * p));
  const Complex q_S = std::sqrt(Complex(1 / std::pow(m.shear_m_s, 2) - p * p));
  const double b2 = m.shear_m_s * m.shear_m_s;
  const double g = 1 - 2 * b2 * p * p;
  const Complex Z_L = m.density_kg_m3 * g * g / q_L;
  const Complex Z_S = m.density_kg_m3 * 4 * b2 * b2 * p * p * q_S;
  const Complex P = w * q_L * thickness_m, Q = w * q_S * thickness_m;
  return {Z_L / std::tan(P) + Z_S / std::tan(Q), Z_L / std::sin(P) + Z_S / std::sin(Q)};
}

}  // namespace

TEST_CASE("plate between liquids: the closed form", "[layer_stack]") {
  const Complex i(0, 1);
  for (const double thickness_m : {0.3 * mm, 3 * mm, 6.02 * mm, 25 * mm}) {
    for (double angle_deg = 1; angle_deg < 80; angle_deg += 1.37) {
      const double p = std::sin(angle_deg * deg) / water.longitudinal_m_s;
      const auto [M, N] = plate(steel, thickness_m, p, MHz);
      const double Z =
          water.density_kg_m3 / std::sqrt(std::pow(1 / water.longitudinal_m_s, 2) - p * p);
      const Complex below = 2.0 * M * Z - i * (N * N - M * M + Z * Z);
      const Complex T = 2.0 * N * Z / below, R = -i * (N * N - M * M - Z * Z) / below;
      REQUIRE(std::norm(T) + std::norm(R) == Approx(1).epsilon(1e-9));

      CAPTURE(thickness_m, angle_deg);
      const Interface f = sandwich(water, steel, water, thickness_m, p);
      CHECK(std::abs(f.transmission_down.at(0, 0) - T) < 1e-9);
      CHECK(std::abs(f.reflection_above.at(0, 0) - R) < 1e-9);

      // With nothing behind the plate its input impedance is -i (N^2 - M^2)/M.
      const Complex in = -i * (N * N - M * M) / M;
      const SoundPath path = acrylic_on({{steel, thickness_m}});
      CHECK(std::abs(bounce_of(path, p, MHz, lossless) - (in - Z) / (in + Z)) < 1e-9);
    }
  }
}

// Independent computation, derived.
TEST_CASE("acrylic, steel, water: transmission with all reverberations", "[layer_stack]") {
  struct Row {
    double angle_deg, through_1p5_mm, through_6p02_mm;
  };
  for (const Row& row :
       {Row{34, 0.0270402988366, 0.0472552529609}, Row{36, 0.0174670565294, 0.018139022689},
        Row{38, 0.0144201975433, 0.0121409025878}, Row{40, 0.01309906217, 0.0112374153977},
        Row{42, 0.0125037771601, 0.0140163596851}, Row{45, 0.0123198926217, 0.0459422773688}}) {
    const double p = std::sin(row.angle_deg * deg) / acrylic.longitudinal_m_s;
    CHECK(std::norm(transmission_of(acrylic_on({{steel, 1.5 * mm}}), p, MHz, lossless)) ==
          Approx(row.through_1p5_mm).epsilon(1e-8));
    CHECK(std::norm(transmission_of(acrylic_on({{steel, 6.02 * mm}}), p, MHz, lossless)) ==
          Approx(row.through_6p02_mm).epsilon(1e-8));
  }
}

// Independent computation, derived: acrylic | couplant | steel half-space at 38 degrees, 1 MHz.
TEST_CASE("couplant of a finite thickness", "[layer_stack]") {
  const double p = std::sin(38 * deg) / acrylic.longitudinal_m_s;
  const auto energy = [&](double thickness_m) {
    return sandwich(acrylic, couplant, steel, thickness_m, p)
        .transmission_down.energy(WaveMode::shear, WaveMode::longitudinal);
  };
  CHECK(energy(0.05 * mm) == Approx(0.229269205772).epsilon(1e-9));
  CHECK(energy(0.1 * mm) == Approx(0.213622041667).epsilon(1e-9));
  CHECK(energy(0.2 * mm) == Approx(0.172353960684).epsilon(1e-9));

  // Towards no thickness it becomes a slip contact, the amplitude in proportion to the thickness.
  const auto amplitude_off_slip = [&](double thickness_m) {
    const auto waves = [&](const AcousticMedium& m) {
      return partial_waves(wave_medium(m, MHz), p);
    };
    const Complex slip =
        shear_free_contact(waves(acrylic), waves(steel)).transmission_down.at(1, 0);
    return std::abs(sandwich(acrylic, couplant, steel, thickness_m, p).transmission_down.at(1, 0) -
                    slip);
  };
  CHECK(amplitude_off_slip(1e-6) < 0.01);
  CHECK(amplitude_off_slip(2e-6) / amplitude_off_slip(1e-6) == Approx(2).epsilon(0.01));
}

// Independent computation, derived: steel in water, 1 MHz.
TEST_CASE("steel plate in water: transmission and air-backed phase", "[layer_stack]") {
  struct Row {
    double angle_deg, energy, phase_3_deg, phase_6p02_deg;
  };
  for (const Row& row : {Row{15, 0.0144274646956, 5.07979436608, -1.71094266177},
                         Row{19.529, 0.0123275742314, -4.1549651643, 0.86143472348},
                         Row{22, 0.0295479845409, -9.4214845604, -5.83867341961}}) {
    const double p = std::sin(row.angle_deg * deg) / water.longitudinal_m_s;
    CHECK(sandwich(water, steel, water, 3 * mm, p)
              .transmission_down.energy(WaveMode::longitudinal, WaveMode::longitudinal) ==
          Approx(row.energy).epsilon(1e-9));
    const auto phase_deg = [&](double thickness_m) {
      return std::arg(bounce_of(acrylic_on({{steel, thickness_m}}), p, MHz, lossless)) / deg;
    };
    CHECK(phase_deg(3 * mm) == Approx(row.phase_3_deg).margin(1e-5));
    CHECK(phase_deg(6.02 * mm) == Approx(row.phase_6p02_deg).margin(1e-5));
  }
}

TEST_CASE("lossless layers return and pass all energy", "[layer_stack]") {
  std::mt19937 engine(7);
  const auto between = [&](double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(engine);
  };
  const std::array solids{steel, copper, pvc, mortar, hdpe};
  double worst_bounce = 0, worst_energy = 0, worst_route = 0;
  for (int n = 0; n < 400; ++n) {
    SoundPath path = acrylic_on({});
    const int count = 1 + n % 3;
    for (int k = 0; k < count; ++k) {
      const std::size_t pick = static_cast<std::size_t>(between(0, 4.999));
      path.add_layer({solids[pick], between(0.2, 20) * mm});
    }
    if (n % 2 == 0) path.couplant = CouplantFilm{couplant, between(0.01, 0.5) * mm};
    const double p = between(-0.95, 0.95) / acrylic.longitudinal_m_s;
    const double frequency_Hz = between(0.2, 4) * MHz;
    worst_bounce =
        std::max(worst_bounce, std::abs(1 - std::abs(bounce_of(path, p, frequency_Hz, lossless))));

    // Second route: join everything from above, and balance the energy of a wave from the liquid.
    const StackMedia media = stack_media(path, frequency_Hz, lossless);
    const StackInterfaces stack = stack_interfaces(media, p);
    const StackPhases phases = stack_phases(media, p, frequency_Hz);
    Interface whole =
        stack.has_film ? join(stack.entry, phases.film, stack.below_film) : stack.entry;
    for (std::size_t k = 0; k < stack.layer_count; ++k)
      whole = join(whole, phases.layers[k], stack.below[k]);
    double energy =
        std::norm(whole.reflection_below.at(0, 0)) + std::norm(whole.transmission_up.at(0, 0));
    if (vertical_slowness_s_m(media.wedge.shear_s_m, p).imag() == 0) {
      energy += std::norm(whole.transmission_up.at(1, 0));
    }
    worst_energy = std::max(worst_energy, std::abs(energy - 1));
    const Complex T = transmission(stack, phases);
    worst_route = std::max({worst_route, std::abs(T - whole.transmission_down.at(0, 0)),
                            std::abs(T - whole.transmission_up.at(0, 0))});
  }
  CHECK(worst_bounce < 1e-11);
  CHECK(worst_energy < 1e-11);
  CHECK(worst_route < 1e-11);
}

TEST_CASE("layers: limits", "[layer_stack]") {
  const double p = std::sin(38 * deg) / acrylic.longitudinal_m_s;
  const auto T = [&](std::initializer_list<PathLayer> layers, double quality = lossless) {
    return transmission_of(acrylic_on(layers), p, MHz, quality);
  };

  SECTION("a seam inside one material is not seen") {
    CHECK(std::abs(T({{steel, 3 * mm}, {steel, 4 * mm}}) - T({{steel, 7 * mm}})) < 1e-12);
    CHECK(std::abs(bounce_of(acrylic_on({{steel, 3 * mm}, {steel, 4 * mm}}), p, MHz, lossless) -
                   bounce_of(acrylic_on({{steel, 7 * mm}}), p, MHz, lossless)) < 1e-12);
  }
  SECTION("a layer without thickness is not there") {
    CHECK(std::abs(T({{steel, 5 * mm}, {mortar, 0}}) - T({{steel, 5 * mm}})) < 1e-12);
    // Liquid with vacuum behind it.
    CHECK(std::abs(bounce_of(acrylic_on({{steel, 1e-12}}), p, MHz, lossless) + 1.0) < 1e-6);
  }
  SECTION("a thick lossy wall: only the first passage is left") {
    AcousticMedium absorbing = steel;
    absorbing.longitudinal_absorption = absorbing.shear_absorption = {.dB_m = 600, .power = 1};
    const SoundPath path = acrylic_on({{absorbing, 60 * mm}});
    const StackMedia media = stack_media(path, MHz, lossless);
    const StackInterfaces stack = stack_interfaces(media, p);
    const LayerPhase phase = layer_phase(media.layers[0], 60 * mm, p, MHz);
    const Complex once = stack.below[0].transmission_down.at(0, 0) * phase[0] *
                             stack.entry.transmission_down.at(0, 0) +
                         stack.below[0].transmission_down.at(0, 1) * phase[1] *
                             stack.entry.transmission_down.at(1, 0);
    const Complex all = transmission(stack, stack_phases(media, p, MHz));
    CHECK(std::abs(all - once) < 1e-4 * std::abs(once));
    CHECK(std::abs(bounce(stack, stack_phases(media, p, MHz)) -
                   stack.below[0].reflection_below.at(0, 0)) < 1e-4);
  }
  SECTION("thick evanescent layers stay finite") {
    // 2 m of steel far beyond both critical angles: nothing comes through, nothing overflows.
    const double steep = std::sin(80 * deg) / acrylic.longitudinal_m_s;
    const Complex through = transmission_of(acrylic_on({{steel, 2}}), steep, 5 * MHz, lossless);
    CHECK(std::abs(through) < 1e-100);
    CHECK(std::isfinite(through.real()));
  }
}

// At the wall's own plate resonance the longest reverberation builds up. Free-plate root of steel
// at the trace speed of acrylic at 38 degrees, 7.0636 MHz mm; transmitted energy 0.66 to 0.70 there
// and 0.0118 midway between roots: independent computation, derived.
TEST_CASE("plate resonance of the wall", "[layer_stack]") {
  const double p = std::sin(38 * deg) / acrylic.longitudinal_m_s;
  const auto energy = [&](double MHz_mm) {
    return std::norm(transmission_of(acrylic_on({{steel, MHz_mm * mm}}), p, MHz, lossless));
  };
  double most = 0, least = 1;
  for (double x = 6.9; x < 7.3; x += 0.001) most = std::max(most, energy(x));
  for (double x = 5.0; x < 7.0; x += 0.01) least = std::min(least, energy(x));
  CHECK(most > 0.655);
  CHECK(most < 0.705);
  CHECK(energy(7.0636) > 0.95 * most);
  CHECK(least == Approx(0.0118).margin(0.00005));
}

TEST_CASE("a bare outer face keeps more in the wall than a wedge", "[layer_stack]") {
  const double p = std::sin(38 * deg) / acrylic.longitudinal_m_s;
  const SoundPath path = acrylic_on({{steel, 7.0636 * mm}});
  CHECK(std::abs(transmission_of(path, p, MHz, 1000, OuterFace::air)) >
        1.5 * std::abs(transmission_of(path, p, MHz, 1000)));
}

TEST_CASE("stack media: least loss of solids, and refusal", "[layer_stack]") {
  AcousticMedium absorbing = pvc;
  absorbing.longitudinal_absorption = {.dB_m = 200, .power = 1};
  const SoundPath path = acrylic_on({{absorbing, 5 * mm}});
  const StackMedia media = stack_media(path, MHz);
  CHECK(media.wedge.longitudinal_s_m.imag() == Approx(1 / 2730.0 / 2000));
  CHECK(
      media.layers[0].longitudinal_s_m.imag() ==
      Approx(200 / 8.685889638 / (2 * std::numbers::pi * MHz)));  // stated, and more than the least
  CHECK(media.layers[0].shear_s_m.imag() == Approx(1 / 1060.0 / 2000));
  CHECK(media.liquid.longitudinal_s_m.imag() == 0);
  CHECK_THROWS_AS(stack_media(acrylic_on({}), MHz), std::invalid_argument);
}
