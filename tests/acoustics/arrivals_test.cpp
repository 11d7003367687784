// Other arrivals: times and spacings by tracing each path on its own, levels by its own budget, and
// facts of the independent model's cases.

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "acoustics/sample_paths.hpp"
#include "slantrule/acoustics/arrivals.hpp"
#include "slantrule/acoustics/plate_waves.hpp"
#include "slantrule/acoustics/signal_budget.hpp"

using namespace slantrule;
using sample::deg;
using sample::ray_of;

namespace {

Arrivals arrivals_of(const SoundPath& path, double off_m = 0) {
  const RayPath ray = ray_of(path);
  return arrivals(path, ray, 0, ray.exit_spacing_m + off_m);
}

const Arrival* find(const Arrivals& found, ArrivalKind kind, int count = -1,
                    std::size_t layer = most_layers) {
  for (const Arrival& arrival : found.by_time()) {
    if (arrival.kind == kind && (count < 0 || arrival.count == count) &&
        (layer == most_layers || arrival.layer == layer)) {
      return &arrival;
    }
  }
  return nullptr;
}

}  // namespace

TEST_CASE("The planned path is among the arrivals, as its budget and ray say") {
  for (const SoundPath& path :
       {sample::copper_22(), sample::steel_100(), sample::pvc_110(), sample::lined_1200()}) {
    const RayPath ray = ray_of(path);
    const SignalBudget budget = signal_budget(path, ray);
    const Arrivals found = arrivals_of(path);
    const Arrival* nominal = find(found, ArrivalKind::nominal);
    REQUIRE(nominal);
    CHECK(nominal->earliest_s == Approx(ray.zero_flow_time_s).epsilon(1e-12));
    CHECK(*nominal->level_dB == Approx(-budget.loss_dB).epsilon(1e-12));
    CHECK(nominal->spacing_m == Approx(ray.exit_spacing_m).epsilon(1e-12));
    CHECK_FALSE(nominal->disturbs);
    CHECK(found.burst_s == Approx(path.cycles / path.frequency_Hz));

    // Misplaced: the loss of the window, the time along the wave front.
    const double off_m = 0.4 * budget.beam_length_m;
    const Arrivals moved = arrivals_of(path, off_m);
    CHECK(*find(moved, ArrivalKind::nominal)->level_dB ==
          Approx(-budget.loss_dB - misplacement_loss_dB(budget, off_m)));
    CHECK(moved.nominal_s - found.nominal_s == Approx(ray.ray_parameter_s_m * off_m));

    const auto all = found.by_time();
    CHECK(std::is_sorted(all.begin(), all.end(), [](const Arrival& a, const Arrival& b) {
      return a.earliest_s < b.earliest_s;
    }));
  }
}

TEST_CASE("Each alternative stands where its own path, planned by itself, is strongest") {
  // Other traverses.
  SoundPath path = sample::copper_22();
  for (int traverses : {2, 6}) {
    SoundPath other = path;
    other.traverses = traverses;
    const RayPath ray = ray_of(other);
    const Arrivals at_its_own = arrivals(path, ray_of(path), 0, ray.exit_spacing_m);
    const Arrival* found = find(at_its_own, ArrivalKind::other_traverses, traverses);
    REQUIRE(found);
    CHECK(found->spacing_m == Approx(ray.exit_spacing_m));
    CHECK(found->earliest_s == Approx(ray.zero_flow_time_s));
    CHECK(*found->level_dB == Approx(-signal_budget(other, ray).loss_dB));
  }
  // 2 Di/(c cos) apart, 2 Di tan in spacing.
  const Leg liquid = ray_of(path).liquid_leg;
  const Arrivals copper = arrivals_of(path);
  CHECK(find(copper, ArrivalKind::other_traverses, 6)->spacing_m -
            find(copper, ArrivalKind::nominal)->spacing_m ==
        Approx(2 * liquid.run_m));

  // The liner's other wave, both sides.
  path = sample::lined_1200();
  SoundPath other = path;
  other.layers[1].mode = WaveMode::longitudinal;
  const RayPath ray = ray_of(other);
  const Arrivals at_its_own = arrivals(path, ray_of(path), 0, ray.exit_spacing_m);
  const Arrival* liner = find(at_its_own, ArrivalKind::other_mode, -1, 1);
  REQUIRE(liner);
  CHECK(liner->spacing_m == Approx(ray.exit_spacing_m));
  CHECK(liner->earliest_s == Approx(ray.zero_flow_time_s));
  CHECK(*liner->level_dB == Approx(-signal_budget(other, ray).loss_dB));

  // Seen from the liner's longitudinal path, shear is the other.
  const Arrivals reversed = arrivals(other, ray, 0, ray_of(path).exit_spacing_m);
  CHECK(*find(reversed, ArrivalKind::other_mode, -1, 1)->level_dB ==
        Approx(-signal_budget(path, ray_of(path)).loss_dB));
}

TEST_CASE("Cement lining carries both waves") {
  // Two lined pipes of an independent model: longitudinal in the mortar comes 9 to 24 mm farther
  // out, 0.3 to 0.8 us earlier each at its own spacing, 5.9 and 4.6 dB weaker.
  const SoundPath path = sample::lined_1200();
  const Arrivals found = arrivals_of(path);
  const Arrival* nominal = find(found, ArrivalKind::nominal);
  const Arrival* other = find(found, ArrivalKind::other_mode, -1, 1);
  REQUIRE(other);
  const double farther_m = other->spacing_m - nominal->spacing_m;
  CHECK(farther_m > 0.009);
  CHECK(farther_m < 0.024);
  const double p = ray_of(path).ray_parameter_s_m;
  const double earlier_s = nominal->earliest_s - (other->earliest_s + p * farther_m);
  CHECK(earlier_s > 0.3e-6);
  CHECK(earlier_s < 0.8e-6);
  const double weaker_dB = *nominal->level_dB - *other->level_dB;
  CHECK(weaker_dB > 3);
  CHECK(weaker_dB < 7);
  CHECK(other->disturbs);
  // One side each: halfway in spacing, and its two equal ways make it the geometric mean + 6 dB
  // (but for the window).
  const Arrival* mixed = find(found, ArrivalKind::mixed_mode, -1, 1);
  REQUIRE(mixed);
  CHECK(mixed->spacing_m - nominal->spacing_m == Approx(farther_m / 2));
  CHECK(*mixed->level_dB == Approx((*nominal->level_dB + *other->level_dB) / 2 + 6.02).margin(0.2));
}

TEST_CASE("Plastic wall, two traverses: the outer bounce is as strong, 6.7 mm farther") {
  const SoundPath path = sample::pvc_110();
  const Arrivals found = arrivals_of(path);
  const Arrival* outer = find(found, ArrivalKind::outer_bounce, 1);
  REQUIRE(outer);
  const double farther_m = outer->spacing_m - ray_of(path).exit_spacing_m;
  CHECK(farther_m * 1000 == Approx(6.7).margin(0.05));
  CHECK(outer->disturbs);
  // At its own spacing it is the stronger by 2.1 dB (-6.5 against -8.6) less some 0.5 dB of
  // spreading on the longer way.
  const Arrivals there = arrivals_of(path, farther_m);
  CHECK(*find(there, ArrivalKind::outer_bounce, 1)->level_dB +
            signal_budget(path, ray_of(path)).loss_dB ==
        Approx(1.6).margin(0.15));
  // p S + wall: added spacing on the wave front and the wall's own two crossings.
  CHECK(find(there, ArrivalKind::outer_bounce, 1)->earliest_s - ray_of(path).zero_flow_time_s ==
        Approx(2 * ray_of(path).layer_legs[0].time_s).epsilon(1e-9));

  // With three bounces one, two or all may go to the outside; one of three ways thrice as likely.
  SoundPath four = path;
  four.traverses = 4;
  const Arrivals many = arrivals_of(four);
  for (int count : {1, 2, 3}) REQUIRE(find(many, ArrivalKind::outer_bounce, count));
  CHECK(find(many, ArrivalKind::outer_bounce, 3)->spacing_m -
            find(many, ArrivalKind::nominal)->spacing_m ==
        Approx(3 * farther_m));
  const Arrivals shifted = arrivals_of(four, farther_m);
  CHECK(*find(shifted, ArrivalKind::outer_bounce, 1)->level_dB -
            *find(many, ArrivalKind::nominal)->level_dB ==
        Approx(1.6 + 20 * std::log10(3.0)).margin(0.3));
}

TEST_CASE("Sound in the wall") {
  // Same side: straight along, from S/plate speed to S/Rayleigh speed, before the liquid path.
  SoundPath path = sample::steel_100();
  const double wedges_s = 0.02 / 2730;
  const Arrivals same = arrivals_of(path);
  const Arrival* along = find(same, ArrivalKind::along_wall);
  REQUIRE(along);
  const double spacing_m = ray_of(path).exit_spacing_m;
  CHECK(along->earliest_s == Approx(wedges_s + spacing_m / 5405.94379).epsilon(1e-8));
  CHECK(along->latest_s == Approx(wedges_s + spacing_m / 2988.43512).epsilon(1e-8));
  CHECK_FALSE(along->level_dB);
  CHECK(along->latest_s < same.nominal_s);
  CHECK_FALSE(along->disturbs);

  // Opposite sides: half a turn and whole turns more, with the spacing along.
  path.traverses = 1;
  const Arrivals opposite = arrivals_of(path);
  CHECK_FALSE(find(opposite, ArrivalKind::along_wall));
  const double outside_m = 0.10226 + 2 * 0.00602;
  const double half_m = std::numbers::pi * outside_m / 2;
  const Arrival* round = find(opposite, ArrivalKind::round_wall, 1);
  REQUIRE(round);
  CHECK(round->earliest_s ==
        Approx(wedges_s + std::hypot(ray_of(path).exit_spacing_m, half_m) / 5405.94379)
            .epsilon(1e-8));
  // 94 us in the liquid falls between 540/5.4 and 540/3.0 us of three half turns.
  const Arrival* thrice = find(opposite, ArrivalKind::round_wall, 3);
  REQUIRE(thrice);
  CHECK(thrice->disturbs);
}

TEST_CASE("Echoes in the wall") {
  // Acrylic | steel | water at 38 degrees: 0.839 * 0.918 = 0.770 from echo to echo (independent
  // program).
  const Arrivals found = arrivals_of(sample::steel_100());
  CHECK(found.echo_amplitude == Approx(0.770).margin(0.001));
  // tau = 2 h q = 2 h cos/c, until 0.77^n is a tenth.
  const double tau_s = 2 * 0.00602 * std::cos(46.7541 * deg) / 3230;
  CHECK(found.reverberation_s == Approx(tau_s * std::log(0.1) / std::log(0.770)).epsilon(0.01));
  // Matched plastics ring hardly at all.
  CHECK(arrivals_of(sample::pvc_110()).echo_amplitude < 0.1);
}

TEST_CASE("A small tube and a long burst bring other traverse counts together") {
  SoundPath path = sample::copper_22();
  path.bore_m = 0.006;
  path.frequency_Hz = 1e6;
  path.cycles = 8;
  path.traverses = 3;
  const Arrivals found = arrivals_of(path);
  const Arrival* more = find(found, ArrivalKind::other_traverses, 5);
  REQUIRE(more);
  CHECK(more->disturbs);
  CHECK_FALSE(find(arrivals_of(sample::copper_22()), ArrivalKind::other_traverses, 6)->disturbs);
}

TEST_CASE("As many layers as there may be") {
  SoundPath path = sample::bare_path(sample::acrylic, 1e6, 0.015, 0.1, 6);
  const AcousticMedium light{900, 2600, 1300, {}, {}};
  for (std::size_t i = 0; i < most_layers; ++i) {
    path.add_layer({i % 2 == 0 ? sample::pvc : light, 0.0005, WaveMode::longitudinal});
  }
  const Arrivals found = arrivals_of(path);
  CHECK(found.count <= most_arrivals);
  // None of any layer is lost: its three outer bounces, and its other wave on one side.
  for (std::size_t layer = 0; layer < most_layers; ++layer) {
    const auto count = [&](ArrivalKind kind) {
      return std::ranges::count_if(found.by_time(), [&](const Arrival& one) {
        return one.kind == kind && one.layer == layer;
      });
    };
    CAPTURE(layer);
    CHECK(count(ArrivalKind::outer_bounce) == 3);
    CHECK(count(ArrivalKind::mixed_mode) == 1);
  }
}

TEST_CASE("Impossible entries") {
  const SoundPath path = sample::steel_100();
  CHECK_THROWS_AS(arrivals(path, ray_of(path), 1, 0.08), std::invalid_argument);
  CHECK_THROWS_AS(arrivals(path, ray_of(path), 0, std::nan("")), std::invalid_argument);
}
