// Interface coefficients against published values, an independent computation, and properties that
// hold for any media.
//
// "independent computation" marks values that were derived and computed separately from this code,
// by a general linear solution of the continuity conditions; they are not published tables.

#include "slantrule/acoustics/interface.hpp"

#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <numbers>
#include <random>
#include <vector>

#include "acoustics/wave_media.hpp"

using namespace slantrule;
using namespace slantrule::wave_media;

namespace {

constexpr double deg = std::numbers::pi / 180;
constexpr double none = std::numeric_limits<double>::quiet_NaN();
constexpr WaveMode L = WaveMode::longitudinal;
constexpr WaveMode SV = WaveMode::shear;

enum Contact { slip, welded };

PartialWaves waves_in(const AcousticMedium& medium, double p) {
  return partial_waves(wave_medium(medium, 1e6), p);
}

Interface contact_of(Contact contact, const PartialWaves& upper, const PartialWaves& lower) {
  return contact == slip ? shear_free_contact(upper, lower) : welded_contact(upper, lower);
}

double ray_parameter(const AcousticMedium& medium, WaveMode mode, double angle_deg) {
  return std::sin(angle_deg * deg) / (mode == L ? medium.longitudinal_m_s : medium.shear_m_s);
}

Complex pressure_reflection(const WaveMedium& liquid, const WaveMedium& solid, double p) {
  return shear_free_contact(partial_waves(liquid, p), partial_waves(solid, p))
      .reflection_above.at(L, L);
}

/// Seeded, so that a failure can be repeated.
class RandomMedia {
 public:
  double between(double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(engine_);
  }
  /// `loss` is the greatest Im s / Re s.
  WaveMedium solid(double loss) {
    const double longitudinal_m_s = between(1500, 7000);
    const double shear_m_s = longitudinal_m_s * between(0.3, 0.7);
    return {between(800, 12000), slowness(longitudinal_m_s, loss), slowness(shear_m_s, loss),
            false};
  }
  WaveMedium liquid(double loss) {
    return {between(600, 2000), slowness(between(900, 2200), loss), 0, true};
  }
  WaveMedium medium(double loss) { return between(0, 1) < 0.3 ? liquid(loss) : solid(loss); }

 private:
  Complex slowness(double speed_m_s, double loss) {
    return Complex(1, loss > 0 ? between(0, loss) : 0) / speed_m_s;
  }
  std::mt19937 engine_{20240613};
};

/// Scattering matrix over all channels: upper L, SV, lower L, SV; and which of them propagate.
struct Scattering {
  std::vector<std::vector<Complex>> matrix;
  std::vector<bool> propagates;
};

Scattering scattering(const Interface& f, const PartialWaves& upper, const PartialWaves& lower) {
  Scattering s;
  const std::size_t size = f.upper_channels + f.lower_channels;
  s.matrix.assign(size, std::vector<Complex>(size));
  for (std::size_t i = 0; i < size; ++i) {
    const bool i_above = i < f.upper_channels;
    const std::size_t out = i_above ? i : i - f.upper_channels;
    const PartialWaves& waves = i_above ? upper : lower;
    s.propagates.push_back(waves.vertical_slowness_s_m[out].imag() == 0);
    for (std::size_t k = 0; k < size; ++k) {
      const bool k_above = k < f.upper_channels;
      const std::size_t in = k_above ? k : k - f.upper_channels;
      const Coefficients& block = k_above ? (i_above ? f.reflection_above : f.transmission_down)
                                          : (i_above ? f.transmission_up : f.reflection_below);
      s.matrix[i][k] = block.at(out, in);
    }
  }
  return s;
}

/// Largest deviation of S^H S from 1 over the propagating channels.
double energy_error(const Scattering& s) {
  double worst = 0;
  for (std::size_t i = 0; i < s.matrix.size(); ++i) {
    for (std::size_t k = 0; k < s.matrix.size(); ++k) {
      if (!s.propagates[i] || !s.propagates[k]) continue;
      Complex sum = i == k ? -1.0 : 0.0;
      for (std::size_t m = 0; m < s.matrix.size(); ++m) {
        if (s.propagates[m]) sum += std::conj(s.matrix[m][i]) * s.matrix[m][k];
      }
      worst = std::max(worst, std::abs(sum));
    }
  }
  return worst;
}

double reciprocity_error(const Scattering& s) {
  double worst = 0;
  for (std::size_t i = 0; i < s.matrix.size(); ++i) {
    for (std::size_t k = 0; k < i; ++k) {
      worst = std::max(worst, std::abs(s.matrix[i][k] - s.matrix[k][i]));
    }
  }
  return worst;
}

/// State (ux, uz, sigma xz, sigma zz) that down and up amplitudes make.
std::array<Complex, 4> state(const PartialWaves& w, const std::array<Complex, 2>& down,
                             const std::array<Complex, 2>& up) {
  std::array<Complex, 4> sum{};
  for (std::size_t i = 0; i < w.channels; ++i) {
    sum[0] += w.along[i] * (down[i] + up[i]);
    sum[1] += w.across[i] * (down[i] - up[i]);
    sum[2] += w.shear_stress[i] * (down[i] - up[i]);
    sum[3] += w.normal_stress[i] * (down[i] + up[i]);
  }
  return sum;
}

std::array<Complex, 2> column(const Coefficients& c, std::size_t in) {
  return {c.at(0, in), c.at(1, in)};
}

/// By how much the fields on both sides fail to fit, relative to the incident wave's, for a wave
/// that comes from above.
double misfit(Contact contact, const Interface& f, const PartialWaves& upper,
              const PartialWaves& lower, std::size_t in) {
  std::array<Complex, 2> incident{};
  incident[in] = 1;
  const auto above = state(upper, incident, column(f.reflection_above, in));
  const auto below = state(lower, column(f.transmission_down, in), {});
  // Typical displacement and stress of a wave with unit flux.
  const double stress = std::sqrt(std::abs(upper.impedance)) + std::sqrt(std::abs(lower.impedance));
  const double motion =
      1 / std::sqrt(std::abs(upper.impedance)) + 1 / std::sqrt(std::abs(lower.impedance));
  double worst =
      std::max(std::abs(above[1] - below[1]) / motion, std::abs(above[3] - below[3]) / stress);
  if (contact == welded && upper.channels == 2 && lower.channels == 2) {
    worst = std::max(
        {worst, std::abs(above[0] - below[0]) / motion, std::abs(above[2] - below[2]) / stress});
  } else {
    worst = std::max({worst, std::abs(above[2]) / stress, std::abs(below[2]) / stress});
  }
  return worst;
}

}  // namespace

TEST_CASE("wave medium: slowness and absorption", "[interface]") {
  AcousticMedium lossy = steel;
  lossy.shear_absorption = {.dB_m = 20, .at_Hz = 2e6, .power = 1};
  const WaveMedium w = wave_medium(lossy, 1e6);
  CHECK(w.longitudinal_s_m == Complex(1 / 5900.0, 0));
  // 10 dB/m at 1 MHz; one neper is 8.685889638 dB (definition).
  CHECK(w.shear_s_m.imag() * 2 * std::numbers::pi * 1e6 == Approx(10 / 8.685889638));
  CHECK_FALSE(w.liquid);
  CHECK(wave_medium(water, 1e6).liquid);
}

TEST_CASE("vertical slowness: branch that decays, never zero", "[interface]") {
  CHECK(vertical_slowness_s_m(5e-4, 3e-4).real() == Approx(4e-4));  // 3-4-5 triangle
  CHECK(vertical_slowness_s_m(5e-4, 3e-4).imag() == 0);
  CHECK(vertical_slowness_s_m(3e-4, -5e-4).real() == 0);
  CHECK(vertical_slowness_s_m(3e-4, -5e-4).imag() == Approx(4e-4));
  RandomMedia random;
  for (int i = 0; i < 200; ++i) {
    const Complex s = random.solid(0.1).shear_s_m;
    const double p = random.between(0, 1e-3);
    const Complex q = vertical_slowness_s_m(s, p);
    CHECK(q.imag() >= 0);
    CHECK(std::abs(q * q + p * p - s * s) < 1e-14 * (std::norm(s) + p * p));
  }
  const Complex grazing = vertical_slowness_s_m(2e-4, 2e-4);
  CHECK(std::abs(grazing) > 0);
  CHECK(std::abs(grazing) < 1e-6 * 2e-4);
}

// Aki & Richards, Quantitative Seismology (1980), worked example p. 147: four digits, with signs.
TEST_CASE("welded contact: the table of Aki & Richards", "[interface]") {
  const WaveMedium upper{3, 1 / 6.0, 1 / 3.5, false};
  const WaveMedium lower{4, 1 / 7.0, 1 / 4.2, false};
  const Interface f = welded_contact(partial_waves(upper, 0.1), partial_waves(lower, 0.1));
  struct Block {
    const Coefficients& got;
    std::array<double, 4> want;
  };
  for (const Block& block : {Block{f.reflection_above, {0.1065, -0.1766, -0.1766, -0.0807}},
                             Block{f.transmission_up, {0.9701, -0.1277, 0.1326, 0.9720}},
                             Block{f.transmission_down, {0.9701, 0.1326, -0.1277, 0.9720}},
                             Block{f.reflection_below, {-0.0567, 0.1950, 0.1950, 0.0309}}}) {
    for (std::size_t i = 0; i < 4; ++i) {
      CHECK(block.got.value[i].real() == Approx(block.want[i]).margin(0.5e-4 + 1e-9));
      CHECK(std::abs(block.got.value[i].imag()) < 1e-14);
    }
  }
}

// Regression values of arim, the open array-imaging library of the University of Bristol, which
// cites Krautkraemer, Ultrasonic Testing of Materials, eq. A.7 to A.9: stress of the transmitted
// wave (rho c times its velocity) by incident pressure.
TEST_CASE("water to aluminium: an open library's values", "[interface]") {
  const AcousticMedium water_1480{.density_kg_m3 = 1000, .longitudinal_m_s = 1480};
  const AcousticMedium aluminium{
      .density_kg_m3 = 2700, .longitudinal_m_s = 6320, .shear_m_s = 3130};
  struct Row {
    double tangent;
    WaveMode mode;
    double stress_ratio;
  };
  for (const Row& row :
       {Row{5.005005e-06 / 0.01, L, 1.84037966}, Row{0.0022072072 / 0.01, L, 2.24977557},
        Row{0.0047847848 / 0.01, SV, 2.20005126344}}) {
    const double p = std::sin(std::atan(row.tangent)) / 1480;
    const PartialWaves above = waves_in(water_1480, p), below = waves_in(aluminium, p);
    const Complex flux = shear_free_contact(above, below).transmission_down.at(row.mode, L);
    const auto out = static_cast<std::size_t>(row.mode);
    const Complex ratio = flux * std::sqrt(2700.0 / below.vertical_slowness_s_m[out]) /
                          std::sqrt(1000.0 / above.vertical_slowness_s_m[0]);
    CHECK(std::abs(ratio) == Approx(row.stress_ratio).epsilon(1e-6));
  }
}

TEST_CASE("normal incidence: impedances alone decide", "[interface]") {
  // Stein & Wysession, Introduction to Seismology, ocean crust example p. 83 (two digits):
  // displacement ratios 0.82 and 0.18.
  const WaveMedium sea{1, 1 / 1.5, 0, true};
  const WaveMedium rock{3, 1 / 5.0, 1 / 3.0, false};
  const Interface f = shear_free_contact(partial_waves(sea, 0), partial_waves(rock, 0));
  CHECK(std::abs(f.reflection_above.at(L, L)) == Approx(0.82).margin(0.005));
  const double displacement =
      std::abs(f.transmission_down.at(L, L)) * std::sqrt(1 * 1.5 / (3 * 5.0));
  CHECK(displacement == Approx(0.18).margin(0.005));

  // 0.88 and 0.12 of the energy, water to stainless steel: study notes for the level III
  // examination in ultrasonic testing (two digits).
  const Interface g = shear_free_contact(waves_in(water, 0), waves_in(stainless, 0));
  CHECK(g.reflection_above.energy(L, L) == Approx(0.88).margin(0.01));
  CHECK(g.transmission_down.energy(L, L) == Approx(0.12).margin(0.01));

  RandomMedia random;
  for (int i = 0; i < 100; ++i) {
    const WaveMedium upper = random.solid(0), lower = random.medium(0);
    const double z1 = upper.density_kg_m3 / upper.longitudinal_s_m.real();
    const double z2 = lower.density_kg_m3 / lower.longitudinal_s_m.real();
    for (const Contact contact : {slip, welded}) {
      const Interface h = contact_of(contact, partial_waves(upper, 0), partial_waves(lower, 0));
      CHECK(h.transmission_down.energy(L, L) ==
            Approx(4 * z1 * z2 / std::pow(z1 + z2, 2)).epsilon(1e-12));
      CHECK(h.reflection_above.energy(L, SV) == 0);
      CHECK(h.transmission_down.energy(SV, L) == 0);
      if (contact == slip) {
        CHECK(std::abs(h.reflection_above.at(SV, SV)) == Approx(1).epsilon(1e-14));
      }
    }
  }
}

TEST_CASE("energy is conserved and waves are reciprocal", "[interface]") {
  RandomMedia random;
  double worst_energy = 0, worst_reciprocity = 0, worst_misfit = 0;
  for (int i = 0; i < 4000; ++i) {
    const double loss = i % 2 == 0 ? 0 : 0.05;
    const WaveMedium upper = random.medium(loss), lower = random.medium(loss);
    const double p = random.between(-1.2e-3, 1.2e-3);
    const PartialWaves above = partial_waves(upper, p), below = partial_waves(lower, p);
    for (const Contact contact : {slip, welded}) {
      const Interface f = contact_of(contact, above, below);
      const Scattering s = scattering(f, above, below);
      // Without loss p may come upon a pole of evanescent waves; there amplitudes are unlimited and
      // rounding grows with them.
      double largest = 1;
      for (const auto& row : s.matrix) {
        for (const Complex& value : row) largest = std::max(largest, std::abs(value));
      }
      worst_reciprocity = std::max(worst_reciprocity, reciprocity_error(s) / largest);
      if (loss == 0) worst_energy = std::max(worst_energy, energy_error(s));
      for (std::size_t in = 0; in < above.channels; ++in) {
        worst_misfit = std::max(worst_misfit, misfit(contact, f, above, below, in) / largest);
      }
    }
  }
  CHECK(worst_energy < 1e-12);
  CHECK(worst_reciprocity < 1e-12);
  CHECK(worst_misfit < 1e-12);
}

TEST_CASE("a free face returns all energy and mirrors itself", "[interface]") {
  RandomMedia random;
  for (int i = 0; i < 1000; ++i) {
    const WaveMedium medium = random.solid(0);
    const double p = random.between(0, medium.shear_s_m.real());
    const PartialWaves w = partial_waves(medium, p);
    const Coefficients r = free_face(w);
    CHECK(std::abs(r.at(L, SV) - r.at(SV, L)) < 1e-14);
    CHECK(std::norm(r.at(SV, SV)) +
              (w.vertical_slowness_s_m[0].imag() > 0 ? 0 : std::norm(r.at(L, SV))) ==
          Approx(1).epsilon(1e-12));
    // No stress is left at the face.
    for (std::size_t in = 0; in < 2; ++in) {
      std::array<Complex, 2> incident{};
      incident[in] = 1;
      const auto total = state(w, incident, column(r, in));
      const double scale = std::sqrt(std::abs(w.impedance));
      CHECK(std::abs(total[2]) < 1e-11 * scale * (1 + std::abs(r.at(0, in))));
      CHECK(std::abs(total[3]) < 1e-11 * scale * (1 + std::abs(r.at(0, in))));
    }
  }
  CHECK(std::abs(free_face(waves_in(water, 1e-4)).at(L, L) + 1.0) < 1e-15);
}

// Independent computation, derived: signs of interface.hpp.
TEST_CASE("free face of steel: values with signs", "[interface]") {
  struct Row {
    double p;
    Complex LL, LS;
  };
  for (const Row& row :
       {Row{1e-4, {-0.563998335195, 0}, {0.82577592475, 0}},
        Row{2e-4, {0.992197654946, 0.124674831139}, {0.374457800905, -0.330349841258}},
        Row{2.6e-4, {0.942014622499, 0.335571826883}, {-0.669462678483, 0.472189978595}}}) {
    const Coefficients r = free_face(waves_in(steel, row.p));
    CHECK(std::abs(r.at(L, L) - row.LL) < 1e-9);
    CHECK(std::abs(r.at(L, SV) - row.LS) < 1e-9);
    CHECK(std::abs(r.at(SV, SV) + row.LL) < 1e-9);
  }
  CHECK(std::abs(waves_in(steel, 1e-4).impedance - 45936015.2793) < 1e-3);
  CHECK(std::abs(waves_in(steel, 2.255e-4).impedance - Complex(36867263.4976, -196585.712882)) <
        1e-3);
  CHECK(std::abs(waves_in(water, 2.255e-4).impedance - 1569932.19037) < 1e-3);
}

TEST_CASE("seen from below an interface is the one with its media exchanged", "[interface]") {
  RandomMedia random;
  for (int i = 0; i < 200; ++i) {
    const double p = random.between(0, 8e-4);
    const PartialWaves a = partial_waves(random.medium(0.02), p);
    const PartialWaves b = partial_waves(random.medium(0.02), p);
    for (const Contact contact : {slip, welded}) {
      const Interface f = contact_of(contact, a, b), mirrored = contact_of(contact, b, a);
      for (std::size_t k = 0; k < 4; ++k) {
        CHECK(std::abs(f.reflection_below.value[k] - mirrored.reflection_above.value[k]) < 1e-12);
        CHECK(std::abs(f.transmission_up.value[k] - mirrored.transmission_down.value[k]) < 1e-12);
      }
    }
  }
}

TEST_CASE("bonded to itself a solid has no interface", "[interface]") {
  RandomMedia random;
  for (int i = 0; i < 200; ++i) {
    const PartialWaves w = partial_waves(random.solid(0.02), random.between(0, 1e-3));
    const Interface f = welded_contact(w, w);
    for (std::size_t out = 0; out < 2; ++out) {
      for (std::size_t in = 0; in < 2; ++in) {
        CHECK(std::abs(f.transmission_down.at(out, in) - (out == in ? 1.0 : 0.0)) < 1e-13);
        CHECK(std::abs(f.reflection_above.at(out, in)) < 1e-13);
      }
    }
  }
}

TEST_CASE("a shear-free contact passes one combination of waves only", "[interface]") {
  RandomMedia random;
  for (int i = 0; i < 200; ++i) {
    const double p = random.between(0, 1e-3);
    const Coefficients t = shear_free_contact(partial_waves(random.solid(0.01), p),
                                              partial_waves(random.solid(0.01), p))
                               .transmission_down;
    const Complex determinant = t.at(L, L) * t.at(SV, SV) - t.at(L, SV) * t.at(SV, L);
    CHECK(std::abs(determinant) < 1e-14 * (std::norm(t.at(L, L)) + std::norm(t.at(SV, SV)) +
                                           std::norm(t.at(L, SV)) + std::norm(t.at(SV, L))));
  }
  // At 45 degrees of the shear wave g = 0, and longitudinal waves no longer feel the contact.
  const double p = ray_parameter(steel, SV, 45);
  CHECK(std::abs(
            shear_free_contact(waves_in(steel, p), waves_in(water, p)).transmission_down.at(L, L)) <
        1e-14);
}

// Independent computation, derived; 12 digits. Energy coefficients; `none` is not given. For a
// liquid below, its wave stands in the column of L.
TEST_CASE("energy coefficients against an independent computation", "[interface]") {
  struct Row {
    Contact contact;
    AcousticMedium upper, lower;
    WaveMode incident;
    double angle_deg;
    double to_L, to_SV, back_L, back_SV;
  };
  // clang-format off
  const std::vector<Row> rows{
      {slip, acrylic, steel, L, 0.001, 0.243207761508, 2.27102763294e-10, 0.756792238261, 2.96234280884e-12},
      {slip, acrylic, steel, L, 10, 0.218130890908, 0.0218186971101, 0.759760809263, 0.000289602718856},
      {slip, acrylic, steel, L, 20, 0.152404584608, 0.0744269926277, 0.772123963194, 0.0010444595703},
      {slip, acrylic, steel, L, 27, 0.0973747112589, 0.0560533800145, 0.845729947618, 0.000841961108205},
      {slip, acrylic, steel, L, 30, none, 0.283758945826, 0.711810456937, 0.00443059723657},
      {slip, acrylic, steel, L, 35, none, 0.257281826243, 0.73836007365, 0.00435810010656},
      {slip, acrylic, steel, L, 38, none, 0.235195408967, 0.760565991853, 0.0042385991794},
      {slip, acrylic, steel, L, 40, none, 0.224153903405, 0.771606037877, 0.00424005871831},
      {slip, acrylic, steel, L, 45, none, 0.205313286241, 0.790145509498, 0.00454120426023},
      {slip, acrylic, steel, L, 50, none, 0.191603808678, 0.802978298781, 0.00541789254162},
      {slip, acrylic, steel, L, 55, none, 0.159545490521, 0.832823998338, 0.00763051114114},
      {welded, acrylic, steel, L, 10, 0.236480870181, 0.00767968898644, 0.707524210013, 0.0483152308198},
      {welded, acrylic, steel, L, 20, 0.219543560438, 0.0264414449132, 0.583209714608, 0.17080528004},
      {welded, acrylic, steel, L, 30, none, 0.242537138321, 0.345546642024, 0.411916219655},
      {welded, acrylic, steel, L, 38, none, 0.219711160818, 0.133109353697, 0.647179485485},
      {welded, acrylic, steel, L, 45, none, 0.191432509065, 0.0563872470808, 0.752180243855},
      {welded, acrylic, steel, L, 55, none, 0.141046692269, 0.00103290510594, 0.857920402625},
      {slip, peek, copper, L, 20, 0.214579713279, 0.0421075646245, 0.742517945457, 0.000794776639381},
      {slip, peek, copper, L, 30, 0.150293127661, 0.0535721926335, 0.795074248431, 0.00106043127491},
      {slip, peek, copper, L, 38, none, 0.340330506928, 0.652559741719, 0.00710975135309},
      {slip, peek, copper, L, 45, none, 0.371593375672, 0.620166350719, 0.008240273609},
      {slip, peek, copper, L, 55, none, 0.334533360045, 0.657218431909, 0.00824820804616},
      {slip, acrylic, pvc, L, 10, 0.974483987669, 0.00792683808361, 0.00121611477953, 0.0163730594683},
      {slip, acrylic, pvc, L, 20, 0.904421087473, 0.0288839594204, 0.00736403652731, 0.0593309165794},
      {slip, acrylic, pvc, L, 30, 0.80470120242, 0.055798396542, 0.0259004340687, 0.11359996697},
      {slip, acrylic, pvc, L, 38, 0.717242469762, 0.0762567982306, 0.0526659576588, 0.153834774349},
      {slip, acrylic, pvc, L, 45, 0.644412377924, 0.0908492420676, 0.0831273575693, 0.181611022439},
      {slip, acrylic, hdpe, L, 20, 0.891436827278, 0.0197805407973, 0.00618488625727, 0.0825977456671},
      {slip, acrylic, hdpe, L, 38, 0.727585894037, 0.0517312219089, 0.00941877963049, 0.211264104423},
      {slip, acrylic, stainless, L, 38, none, 0.248970212068, 0.746226105187, 0.00480368274525},
      {slip, acrylic, stainless, L, 45, none, 0.21294887778, 0.782227797122, 0.00482332509768},
      {slip, steel, water, SV, 10, 0.0078856878659, none, none, 0.763016101586},
      {slip, steel, water, SV, 20, 0.0296688131624, none, none, 0.281040238648},
      {slip, steel, water, SV, 30, 0.0495525212066, none, none, 0.023707255457},
      {slip, steel, water, SV, 33, 0.0147184250129, none, none, 0.257079459562},
      {slip, steel, water, SV, 37.75, 0.17958901262, none, none, 0.82041098738},
      {slip, steel, water, SV, 45, 0.160213805855, none, none, 0.839786194145},
      {slip, steel, water, SV, 46.7541, 0.156691168573, none, none, 0.843308831427},
      {slip, steel, water, SV, 50, 0.152206093364, none, none, 0.847793906636},
      {slip, steel, water, SV, 60, 0.147684618692, none, none, 0.852315381308},
      {slip, steel, water, SV, 70, 0.141408571357, none, none, 0.858591428643},
      {slip, steel, water, L, 0.001, 0.119998852256, none, 0.880001146993, none},
      {slip, steel, water, L, 20, 0.111757413836, none, 0.625397276167, none},
      {slip, steel, water, L, 45, 0.0851246566218, none, 0.121483454688, none},
      {slip, copper, water, SV, 20, 0.0261105979479, none, none, 0.371315793098},
      {slip, copper, water, SV, 33.0688, 0.200717549937, none, none, 0.799282450063},
      {slip, copper, water, SV, 45, 0.208898464851, none, none, 0.791101535149},
      {slip, copper, water, SV, 60, 0.202023628757, none, none, 0.797976371243},
      {slip, pvc, water, L, 0.001, 0.851792622753, none, 0.148207377041, none},
      {slip, pvc, water, L, 20, 0.821888220576, none, 0.104230841839, none},
      {slip, pvc, water, L, 32.5, 0.778878967133, none, 0.0573992320878, none},
      {slip, pvc, water, SV, 20, 0.151366390553, none, none, 0.574384330127},
      {slip, pvc, water, SV, 40, 0.918471212191, none, none, 0.0815287878086},
      {slip, mortar, water, SV, 20, 0.143776972923, none, none, 0.304063193814},
      {slip, mortar, water, SV, 30, 0.290513272104, none, none, 0.0143358259726},
      {slip, mortar, water, SV, 45, 0.633601656783, none, none, 0.366398343217},
      {welded, steel, mortar, SV, 30, 0.0155266618795, 0.605586919422, none, none},
      {welded, steel, mortar, SV, 38, 0.282124928988, 0.426418104558, none, none},
      {welded, steel, mortar, SV, 46.7541, 0.240372555672, 0.342332520749, none, none},
  };
  // clang-format on
  for (const Row& row : rows) {
    CAPTURE(row.upper.density_kg_m3, row.lower.density_kg_m3, row.angle_deg);
    const double p = ray_parameter(row.upper, row.incident, row.angle_deg);
    const Interface f = contact_of(row.contact, waves_in(row.upper, p), waves_in(row.lower, p));
    const auto check = [](double got, double want) {
      if (!std::isnan(want)) CHECK(got == Approx(want).margin(1e-9).epsilon(1e-9));
    };
    check(f.transmission_down.energy(L, row.incident), row.to_L);
    check(f.transmission_down.energy(SV, row.incident), row.to_SV);
    check(f.reflection_above.energy(L, row.incident), row.back_L);
    check(f.reflection_above.energy(SV, row.incident), row.back_SV);
  }
}

// Independent computation, derived. Modulus, and phase in degrees for exp(-i w t).
TEST_CASE("water to steel: modulus and phase of the reflection", "[interface]") {
  // clang-format off
  const std::vector<std::array<double, 3>> rows{
      {0.001, 0.938083763681, 0}, {5, 0.937581263152, 0}, {10, 0.936848880173, 0}, {14, 0.948612928232, 0}, {14.5, 0.974252320664, 0}, {15, 0.940219878616, -3.28816792404}, {20, 0.919551790788, -0.0789529170273}, {22, 0.922502367989, -0.549201429754}, {25, 0.924742773015, -2.22143862702}, {27, 0.953316820273, -5.33560963035}, {27.3, 0.987650553408, -6.23385853131}, {29, 1, -45.4061114706}, {30, 1, 107.779400875}, {35, 1, 12.1626936315}};
  // clang-format on
  for (const auto& [angle_deg, modulus, phase_deg] : rows) {
    CAPTURE(angle_deg);
    const Complex r = pressure_reflection(wave_medium(water, 1e6), wave_medium(steel, 1e6),
                                          ray_parameter(water, L, angle_deg));
    CHECK(std::abs(r) == Approx(modulus).margin(1e-9));
    CHECK(std::arg(r) / deg == Approx(phase_deg).margin(1e-6));
  }
}

// The sound field takes the Rayleigh wave's share out of the reflection as soon as steel absorbs.
// Place and depth of the dip: independent computation, derived (leaky Rayleigh angle 29.72 degrees
// for these speeds); that there is a deep minimum near the Rayleigh angle in real metals is a
// published observation (Becker & Richardson, J. Acoust. Soc. Am. 51, 1972, from memory).
TEST_CASE("water to steel: Rayleigh dip grows with loss", "[interface]") {
  struct Row {
    double loss_tangent, least, margin;
  };
  // The three depths are printed with two digits.
  for (const Row& row : {Row{0.005, 0.62, 0.005}, Row{0.01, 0.36, 0.005}, Row{0.02, 0.03, 0.005}}) {
    WaveMedium lossy = wave_medium(steel, 1e6);
    // Modulus (1 - i tangent): to first order the slowness has half the tangent.
    lossy.longitudinal_s_m /= std::sqrt(Complex(1, -row.loss_tangent));
    lossy.shear_s_m /= std::sqrt(Complex(1, -row.loss_tangent));
    double least = 2, at_deg = 0;
    for (double angle_deg = 28; angle_deg < 32; angle_deg += 0.002) {
      const double modulus = std::abs(
          pressure_reflection(wave_medium(water, 1e6), lossy, ray_parameter(water, L, angle_deg)));
      if (modulus < least) {
        least = modulus;
        at_deg = angle_deg;
      }
    }
    CHECK(least == Approx(row.least).margin(row.margin));
    CHECK(at_deg == Approx(29.72).margin(0.1));
  }
  // Without loss nothing is missing.
  CHECK(std::abs(pressure_reflection(wave_medium(water, 1e6), wave_medium(steel, 1e6),
                                     ray_parameter(water, L, 29.72))) == Approx(1).epsilon(1e-12));
}

// Independent computation, derived: 0.289268 at 30.835 degrees, just above the first critical
// angle.
TEST_CASE("acrylic to steel: the best wedge angle for shear waves", "[interface]") {
  double most = 0, at_deg = 0;
  for (double angle_deg = 28; angle_deg < 40; angle_deg += 0.001) {
    const double p = ray_parameter(acrylic, L, angle_deg);
    const double energy = shear_free_contact(waves_in(acrylic, p), waves_in(steel, p))
                              .transmission_down.energy(SV, L);
    if (energy > most) {
      most = energy;
      at_deg = angle_deg;
    }
  }
  CHECK(most == Approx(0.289268255228).margin(1e-5));
  CHECK(at_deg == Approx(30.835).margin(0.01));
}
