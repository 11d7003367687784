// Signal budget: published and independently computed coefficients part by part, known levels of
// whole paths, and properties.

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>
#include <utility>

#include "acoustics/sample_paths.hpp"
#include "slantrule/acoustics/beam.hpp"
#include "slantrule/acoustics/interface.hpp"
#include "slantrule/acoustics/signal_budget.hpp"

using namespace slantrule;
using sample::deg;
using sample::ray_of;

namespace {

SignalBudget budget_of(const SoundPath& path) {
  return signal_budget(path, ray_of(path));
}

double part_dB(const SignalBudget& budget, BudgetItem item, std::size_t layer = 0) {
  for (std::size_t i = 0; i < budget.part_count; ++i) {
    if (budget.parts[i].item == item && budget.parts[i].layer == layer) {
      return budget.parts[i].loss_dB;
    }
  }
  return 0;
}

/// Loss of an energy coefficient met at both ends.
double both_ends_dB(double energy) {
  return -20 * std::log10(energy);
}

/// The loss but for the spreading across the pipe: that of a model in two dimensions.
double flat_loss_dB(const SignalBudget& budget) {
  return budget.loss_dB - part_dB(budget, BudgetItem::spreading_across);
}

}  // namespace

TEST_CASE("Interface parts: energy coefficients of an independent program, both ends together") {
  SoundPath path = sample::steel_100();
  SignalBudget budget = budget_of(path);
  // acrylic to steel SV by slip at 38 deg; steel SV to water at 46.7541 deg
  CHECK(part_dB(budget, BudgetItem::wedge_interface) ==
        Approx(both_ends_dB(0.235195408967)).margin(1e-8));
  CHECK(part_dB(budget, BudgetItem::liquid_interface) ==
        Approx(both_ends_dB(0.156691168573)).margin(1e-5));

  // steel SV to cement SV, bonded, at 46.7541 deg
  path = sample::lined_1200();
  path.layers[1].medium.shear_absorption = path.layers[1].medium.longitudinal_absorption = {};
  budget = budget_of(path);
  CHECK(part_dB(budget, BudgetItem::layer_interface, 1) ==
        Approx(both_ends_dB(0.342332520749)).margin(1e-4));
  // into cement L instead
  path.layers[1].mode = WaveMode::longitudinal;
  CHECK(part_dB(budget_of(path), BudgetItem::layer_interface, 1) ==
        Approx(both_ends_dB(0.240372555672)).margin(1e-4));

  // acrylic to PVC L by slip at 38 deg
  path = sample::bare_path(sample::acrylic, 1e6, 0.015, 0.1, 2);
  path.add_layer({sample::pvc, 0.005, WaveMode::longitudinal});
  CHECK(part_dB(budget_of(path), BudgetItem::wedge_interface) ==
        Approx(both_ends_dB(0.717242469762)).margin(1e-8));
  // PEEK to copper SV at 38 deg; copper SV to water at 33.0688 deg
  budget = budget_of(sample::copper_22());
  CHECK(part_dB(budget, BudgetItem::wedge_interface) ==
        Approx(both_ends_dB(0.340330506928)).margin(1e-8));
  CHECK(part_dB(budget, BudgetItem::liquid_interface) ==
        Approx(both_ends_dB(0.200717549937)).margin(1e-4));
}

TEST_CASE("Bounces: |R| of water on steel, independent program") {
  SoundPath path = sample::steel_100();
  for (const auto& [angle_deg, reflection] :
       {std::pair{15.0, 0.940219878616}, {20.0, 0.919551790788}, {25.0, 0.924742773015}}) {
    // The wedge angle that sends the liquid leg at this angle.
    path.wedge_angle_rad = std::asin(std::sin(angle_deg * deg) / 1482.3 * 2730);
    for (int traverses = 1; traverses < 6; ++traverses) {
      path.traverses = traverses;
      const SignalBudget budget = budget_of(path);
      CHECK(budget.bounce_loss_dB == Approx(-20 * std::log10(reflection)).margin(1e-8));
      CHECK(part_dB(budget, BudgetItem::bounces) ==
            Approx((traverses - 1) * budget.bounce_loss_dB).margin(1e-12));
    }
    // A metal wall costs 0.7 to 1 dB a bounce between the critical angles.
    if (angle_deg > 18) CHECK(budget_of(path).bounce_loss_dB < 1.0);
  }
  CHECK(budget_of(sample::copper_22()).bounce_loss_dB == Approx(0.97).margin(0.05));
}

TEST_CASE("Couplant film: acrylic | film | steel, independent program") {
  SoundPath path = sample::steel_100();
  path.couplant = CouplantFilm{{1100, 1800, 0, {}, {}}, 0};
  for (const auto& [film_mm, energy] :
       {std::pair{0.05, 0.229269205772}, {0.1, 0.213622041667}, {0.2, 0.172353960684}}) {
    path.couplant->thickness_m = film_mm / 1000;
    const SignalBudget budget = budget_of(path);
    CHECK(part_dB(budget, BudgetItem::couplant) ==
          Approx(both_ends_dB(energy) - both_ends_dB(0.235195408967)).margin(1e-8));
    CHECK(budget.uncertainty.couplant_dB ==
          Approx(part_dB(budget, BudgetItem::couplant) / 2).margin(1e-12));
  }
  // 0.5 mm: 3.1 dB one way; at 2 MHz 0.1 mm costs 1.35 dB.
  path.couplant->thickness_m = 0.5e-3;
  CHECK(part_dB(budget_of(path), BudgetItem::couplant) / 2 == Approx(3.1).margin(0.05));
  path.couplant->thickness_m = 0.1e-3;
  path.frequency_Hz = 2e6;
  CHECK(part_dB(budget_of(path), BudgetItem::couplant) / 2 == Approx(1.35).margin(0.01));
  // Towards no film the excess goes, and without one it is no part at all.
  path.couplant->thickness_m = 0;
  CHECK(part_dB(budget_of(path), BudgetItem::couplant) == Approx(0).margin(1e-12));
  path.couplant.reset();
  const double without_dB = budget_of(path).loss_dB;
  path.couplant = CouplantFilm{{1100, 1800, 0, {}, {}}, 1e-9};
  CHECK(budget_of(path).loss_dB == Approx(without_dB).margin(1e-3));
}

TEST_CASE("Plastic wall: the bounce at the outer face is the stronger one") {
  // PVC 5.3 mm, water, acrylic at 38 deg: inner face -8.6 dB, outer -6.5 dB with the wall's
  // absorption, 6.7 mm more spacing (independent program).
  const SoundPath path = sample::pvc_110();
  const SignalBudget budget = budget_of(path);
  CHECK(budget.bounce_loss_dB == Approx(8.6).margin(0.05));
  CHECK(budget.outer_bounces[0].loss_dB == Approx(6.5).margin(0.05));
  CHECK(budget.outer_bounces[0].added_spacing_m * 1000 == Approx(6.7).margin(0.05));
  // 2 h/(c cos) of time
  const double cosine = std::cos(std::asin(std::sin(38 * deg) / 2730 * 2380));
  CHECK(budget.outer_bounces[0].added_time_s == Approx(2 * 0.0053 / 2380 / cosine));

  // In steel and copper it is far weaker than the inner.
  for (const SoundPath& metal : {sample::steel_100(), sample::copper_28()}) {
    const SignalBudget other = budget_of(metal);
    CHECK(other.outer_bounces[0].loss_dB > other.bounce_loss_dB + 10);
  }
}

TEST_CASE("A plastic liner lets the sound through to the steel behind it") {
  // Liquid | polyethylene | steel: the face of the steel sends back more than the liner's own.
  SoundPath path = sample::steel_100();
  path.traverses = 2;
  path.add_layer({{955, 2430, 950, {}, {}}, 0.003, WaveMode::longitudinal});
  const SignalBudget budget = budget_of(path);
  CHECK(budget.outer_bounces[1].loss_dB < budget.bounce_loss_dB - 5);
  CHECK(budget.outer_bounces[1].added_spacing_m == Approx(2 * ray_of(path).layer_legs[1].run_m));
  CHECK(budget.outer_bounces[0].added_spacing_m ==
        Approx(2 * (ray_of(path).layer_legs[0].run_m + ray_of(path).layer_legs[1].run_m)));
}

TEST_CASE("The loss is the sum of its parts") {
  for (SoundPath path : {sample::copper_22(), sample::copper_28(), sample::steel_100(),
                         sample::pvc_110(), sample::lined_1200()}) {
    for (int traverses : {1, 2, 5, 12}) {
      path.traverses = traverses;
      const SignalBudget budget = budget_of(path);
      double sum = 0;
      for (std::size_t i = 0; i < budget.part_count; ++i) {
        sum += budget.parts[i].loss_dB;
        if (budget.parts[i].item != BudgetItem::couplant) CHECK(budget.parts[i].loss_dB >= 0);
      }
      CHECK(budget.loss_dB == Approx(sum));
      CHECK(part_dB(budget, BudgetItem::spreading_in_plane) ==
            Approx(-20 * std::log10(two_aperture_magnitude(0, budget.inverse_fresnel_in_plane))));
      CHECK(part_dB(budget, BudgetItem::spreading_across) ==
            Approx(-20 * std::log10(two_aperture_magnitude(0, budget.inverse_fresnel_across))));
      const double u = budget.uncertainty.combined_dB;
      CHECK(u >= 0.7);
      CHECK(u * u == Approx(std::pow(budget.uncertainty.model_dB, 2) +
                            std::pow(budget.uncertainty.absorption_dB, 2) +
                            std::pow(budget.uncertainty.couplant_dB, 2) +
                            std::pow(budget.uncertainty.reverberation_dB, 2)));
    }
  }
}

TEST_CASE("Reciprocity: the path from liquid to wedge costs what wedge to liquid does") {
  const SoundPath path = sample::lined_1200();
  const SignalBudget budget = budget_of(path);
  const double p = ray_of(path).ray_parameter_s_m;
  const auto waves = [&](const AcousticMedium& medium) {
    return partial_waves(wave_medium(medium, path.frequency_Hz), p);
  };
  // Upside down, by the general solution throughout.
  const Interface from_liquid = welded_contact(waves(path.liquid), waves(path.layers[1].medium));
  const Interface between =
      welded_contact(waves(path.layers[1].medium), waves(path.layers[0].medium));
  const Interface to_wedge = shear_free_contact(waves(path.layers[0].medium), waves(path.wedge));
  const WaveMode S = WaveMode::shear, L = WaveMode::longitudinal;
  const double back_dB = -20 * std::log10(std::abs(from_liquid.transmission_down.at(S, L) *
                                                   between.transmission_down.at(S, S) *
                                                   to_wedge.transmission_down.at(L, S)));
  CHECK(2 * back_dB == Approx(part_dB(budget, BudgetItem::wedge_interface) +
                              part_dB(budget, BudgetItem::layer_interface, 1) +
                              part_dB(budget, BudgetItem::liquid_interface))
                           .margin(1e-10));
}

TEST_CASE("Absorption along the legs") {
  SoundPath path = sample::steel_100();
  path.liquid.longitudinal_absorption = {.dB_m = 13, .at_Hz = 1e6, .power = 2, .relative_u = 0.5};
  path.wedge.longitudinal_absorption = {.dB_m = 120, .at_Hz = 1e6, .power = 1, .relative_u = 0.25};
  path.layers[0].medium.shear_absorption = {
      .dB_m = 16, .at_Hz = 1e6, .power = 1, .relative_u = 0.4};
  path.layers[0].medium.longitudinal_absorption = {
      .dB_m = 1e4, .at_Hz = 1e6, .power = 1, .relative_u = 0};
  const SignalBudget budget = budget_of(path);
  // 100 mm2/s oil swallows 13 dB/m at 1 MHz: 2 x 102.26 mm / cos 19.529 deg.
  const double liquid_dB = 13 * 2 * 0.10226 / std::cos(19.5290 * deg);
  const double wall_dB = 16 * 2 * 0.00602 / std::cos(46.7541 * deg);
  CHECK(part_dB(budget, BudgetItem::liquid_absorption) == Approx(liquid_dB).epsilon(1e-5));
  CHECK(part_dB(budget, BudgetItem::layer_absorption) == Approx(wall_dB).epsilon(1e-5));
  CHECK(part_dB(budget, BudgetItem::wedge_absorption) == Approx(120 * 2 * 0.01));
  CHECK(budget.uncertainty.absorption_dB ==
        Approx(std::hypot(0.5 * liquid_dB, 0.4 * wall_dB, 0.25 * 2.4)).epsilon(1e-5));
  // Square of the frequency in the liquid, the frequency itself in solids.
  path.frequency_Hz = 2e6;
  CHECK(part_dB(budget_of(path), BudgetItem::liquid_absorption) == Approx(4 * liquid_dB));
  CHECK(part_dB(budget_of(path), BudgetItem::layer_absorption) == Approx(2 * wall_dB));
  // A longer bore, more absorption and more spreading.
  const SignalBudget before = budget_of(path);
  path.bore_m *= 1.5;
  const SignalBudget after = budget_of(path);
  CHECK(part_dB(after, BudgetItem::liquid_absorption) ==
        Approx(1.5 * part_dB(before, BudgetItem::liquid_absorption)));
  CHECK(part_dB(after, BudgetItem::spreading_in_plane) >
        part_dB(before, BudgetItem::spreading_in_plane));
}

TEST_CASE("Far-field spreading: 6 dB for double the path") {
  SoundPath path = sample::bare_path(sample::acrylic, 1e6, 0.01, 40, 1);
  path.add_layer({sample::steel, 0.01, WaveMode::shear});
  const auto spreading = [&] {
    const SignalBudget budget = budget_of(path);
    return part_dB(budget, BudgetItem::spreading_in_plane) +
           part_dB(budget, BudgetItem::spreading_across);
  };
  const double one_dB = spreading();
  path.bore_m *= 2;
  CHECK(spreading() - one_dB == Approx(6.02).margin(0.02));
}

TEST_CASE("Spacing slope is the derivative of the traced spacing") {
  for (const SoundPath& path : {sample::copper_22(), sample::lined_1200()}) {
    const double step = 1e-5;
    SoundPath steeper = path, flatter = path;
    steeper.wedge_angle_rad += step;
    flatter.wedge_angle_rad -= step;
    const RayPath a = ray_of(steeper), b = ray_of(flatter);
    const double slope =
        (a.exit_spacing_m - b.exit_spacing_m) / (a.ray_parameter_s_m - b.ray_parameter_s_m);
    CHECK(budget_of(path).spacing_slope_m2_s == Approx(slope).epsilon(1e-7));
  }
}

TEST_CASE("Whole paths: twelve cases studied with an independent angular-spectrum model") {
  // Two copper tubes share wedge, wall and frequency, so the unstated absorption cancels in their
  // difference: budgets 33.0 and 30.8 dB, in two dimensions.
  CHECK(flat_loss_dB(budget_of(sample::copper_22())) -
            flat_loss_dB(budget_of(sample::copper_28())) ==
        Approx(33.0 - 30.8).margin(0.15));
  // Ray spacings of the same cases.
  CHECK(ray_of(sample::copper_22()).exit_spacing_m * 1000 == Approx(32.0).margin(0.05));
  CHECK(ray_of(sample::copper_28()).exit_spacing_m * 1000 == Approx(21.2).margin(0.05));
  CHECK(ray_of(sample::steel_100()).exit_spacing_m * 1000 == Approx(85.3).margin(0.05));
}

TEST_CASE("Shift by the phase of the coefficients") {
  // Copper under PEEK at 38 deg, 2 MHz: +6.2 and +6.5 mm (independent program).
  CHECK(budget_of(sample::copper_22()).phase_shift_m * 1000 == Approx(6.2).margin(0.05));
  CHECK(budget_of(sample::copper_28()).phase_shift_m * 1000 == Approx(6.5).margin(0.05));
  // Steel: a few millimetres less than the ray.
  const SignalBudget steel = budget_of(sample::steel_100());
  CHECK(steel.phase_shift_m + steel.slope_shift_m < -0.0004);
  CHECK(steel.phase_shift_m + steel.slope_shift_m > -0.005);
  // As 1/f.
  SoundPath path = sample::steel_100();
  path.element_m = path.element_width_m = 0.06;  // a narrow beam, so that the step is small
  const double at_1_MHz = budget_of(path).phase_shift_m;
  path.frequency_Hz = 2e6;
  CHECK(budget_of(path).phase_shift_m == Approx(at_1_MHz / 2).epsilon(0.01));
  // Real coefficients shift nothing: a plastic wall below every critical angle.
  SoundPath plastic = sample::pvc_110();
  plastic.layers[0].medium.longitudinal_absorption = {};
  CHECK(std::fabs(budget_of(plastic).phase_shift_m) < 1e-6);
}

TEST_CASE("Windows and misplacement") {
  for (const SoundPath& path : {sample::copper_22(), sample::steel_100(), sample::lined_1200()}) {
    const SignalBudget budget = budget_of(path);
    CHECK(misplacement_loss_dB(budget, 0) == Approx(0).margin(1e-12));
    CHECK(misplacement_loss_dB(budget, budget.half_window_3_dB_m) == Approx(3).margin(1e-7));
    CHECK(misplacement_loss_dB(budget, -budget.half_window_6_dB_m) == Approx(6).margin(1e-7));
    CHECK(budget.beam_length_m == Approx(path.element_m / std::cos(path.wedge_angle_rad)));
  }
  // Far field: 2.783 M_all cos(thw)/(w a).
  const SoundPath path = sample::lined_1200();
  const SignalBudget budget = budget_of(path);
  CHECK(budget.half_window_6_dB_m ==
        Approx(2.783 * budget.beam_slope_m2_s /
               (2 * std::numbers::pi * path.frequency_Hz * budget.beam_length_m))
            .epsilon(0.03));
  // No sound at all far from the beam of a near-field element: much lost, still a number.
  SoundPath close = sample::steel_100();
  close.element_m = 1;
  CHECK(misplacement_loss_dB(budget_of(close), 5) > 60);
  CHECK(std::isfinite(misplacement_loss_dB(budget_of(close), 1e6)));
}

TEST_CASE("Uncertainty: reverberation counts where echoes fall into the burst") {
  CHECK(budget_of(sample::steel_100()).uncertainty.reverberation_dB == 2);
  SoundPath thick = sample::steel_100();
  thick.layers[0].thickness_m = 0.02;
  CHECK(budget_of(thick).uncertainty.reverberation_dB == 0);
  // Unstated couplant: even chance up to what 0.1 mm costs at both ends, 0.42 dB each.
  CHECK(budget_of(thick).uncertainty.couplant_dB ==
        Approx(2 * 0.42 / std::sqrt(12.0)).margin(0.01));
}

TEST_CASE("What is known of pipes comes out") {
  // Small copper tube: two more traverses cost little, each a bounce of about 1 dB.
  const auto step_dB = [](SoundPath path, int from, int to) {
    path.traverses = to;
    const double more = budget_of(path).loss_dB;
    path.traverses = from;
    return more - budget_of(path).loss_dB;
  };
  CHECK(step_dB(sample::copper_22(), 2, 4) < 5);
  // Large lined steel pipe: a second traverse costs a bounce at the liner of some 3 dB and the
  // spreading of twice the way, near 6 dB.
  CHECK(step_dB(sample::lined_1200(), 1, 2) > 8);
  // Plastic pipe: a bounce costs 8.6 dB at the inner face.
  CHECK(step_dB(sample::pvc_110(), 1, 2) > 8);
  // Thick oil in a large pipe wants a low frequency.
  SoundPath oil = sample::bare_path(sample::acrylic, 1e6, 0.015, 0.5, 1);
  oil.add_layer({sample::steel, 0.01, WaveMode::shear});
  oil.liquid = {900, 1450, 0, {.dB_m = 130, .at_Hz = 1e6, .power = 2, .relative_u = 0.7}, {}};
  const double at_1_MHz = budget_of(oil).loss_dB;
  oil.frequency_Hz = 0.5e6;
  CHECK(budget_of(oil).loss_dB < at_1_MHz - 30);
}

TEST_CASE("No path makes a number that is none") {
  // Liquid-like layers, no layers, waves that vanish on the other side, near every critical angle.
  for (double angle_deg : {0.01, 14.0, 27.5622380744, 27.6, 45.0, 57.6, 57.69}) {
    for (const AcousticMedium& wall :
         {sample::steel, AcousticMedium{7850, 2600, 0, {}, {}}, sample::pvc}) {
      for (WaveMode mode : {WaveMode::longitudinal, WaveMode::shear}) {
        for (const bool lined : {false, true}) {
          if (mode == WaveMode::shear && wall.is_liquid()) continue;
          SoundPath path = sample::bare_path(sample::acrylic, 1e6, 0.015, 0.1, 3);
          path.wedge_angle_rad = angle_deg * deg;
          path.add_layer({wall, 0.005, mode});
          if (lined) path.add_layer({{1100, 1600, 0, {}, {}}, 0.002, WaveMode::longitudinal});
          const auto ray = trace_ray(path);
          if (!std::holds_alternative<RayPath>(ray)) continue;
          const SignalBudget budget = signal_budget(path, std::get<RayPath>(ray));
          INFO("angle " << angle_deg << ", wall " << wall.longitudinal_m_s << ", lined " << lined);
          CHECK(std::isfinite(budget.loss_dB));
          CHECK(std::isfinite(budget.uncertainty.combined_dB));
          CHECK(std::isfinite(budget.phase_shift_m));
          CHECK(std::isfinite(budget.slope_shift_m));
          CHECK(std::isfinite(budget.half_window_6_dB_m));
          CHECK(std::isfinite(budget.outer_bounces[0].loss_dB));
        }
      }
    }
  }
  SoundPath bare = sample::bare_path(sample::acrylic, 1e6, 0.015, 0.1, 2);
  CHECK(std::isfinite(budget_of(bare).loss_dB));
}

TEST_CASE("Without placement the level is the same") {
  const SoundPath path = sample::lined_1200();
  const SignalBudget level = signal_budget(path, ray_of(path), BudgetDetail::level);
  CHECK(level.loss_dB == budget_of(path).loss_dB);
  CHECK(level.half_window_3_dB_m == 0);
}

TEST_CASE("Impossible entries are refused") {
  const auto refused = [](auto change) {
    SoundPath path = sample::steel_100();
    const RayPath ray = ray_of(path);
    change(path);
    CHECK_THROWS_AS(signal_budget(path, ray), std::invalid_argument);
  };
  refused([](SoundPath& path) { path.frequency_Hz = 0; });
  refused([](SoundPath& path) { path.cycles = 0; });
  refused([](SoundPath& path) { path.element_m = std::nan(""); });
  refused([](SoundPath& path) { path.element_width_m = -1; });
}
