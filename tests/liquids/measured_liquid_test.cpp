// A measured liquid: what is stated wins, what is not stated comes from the base.

#include <catch2/catch.hpp>
#include <limits>
#include <memory>
#include <optional>
#include <stdexcept>
#include <string>

#include "slantrule/liquids/measured_liquid.hpp"
#include "slantrule/liquids/water.hpp"

using namespace slantrule;

namespace {

constexpr double kNaN = std::numeric_limits<double>::quiet_NaN();
constexpr double kInfinity = std::numeric_limits<double>::infinity();

// Invented: a base whose every answer can be told from a measured one, and which refuses hot
// states.
class InventedBase final : public LiquidModel {
 public:
  LiquidProperties at(const LiquidState& state) const override {
    if (state.temperature_K > 400) throw std::domain_error("too hot");
    return {.sound_speed_m_s = Estimate{1000 + state.temperature_K, 10},
            .density_kg_m3 = Estimate{900 + 100 * state.mass_fraction, 9},
            .viscosity_Pa_s = std::nullopt};
  }
  std::optional<double> saturation_pressure_Pa(double temperature_K) const override {
    return 10 * temperature_K;
  }
  std::optional<double> freezing_temperature_K(const LiquidState& state) const override {
    return 250 - 100 * state.mass_fraction;
  }
  std::optional<Absorption> absorption(const LiquidState& state) const override {
    if (state.temperature_K > 400) throw std::domain_error("too hot");
    return Absorption{
        .dB_m = 0.1 * state.temperature_K, .at_Hz = 2e6, .power = 1.5, .relative_u = 0.2};
  }
  std::optional<ValidRange> valid_range() const override { return ValidRange{260, 390, 5e6}; }
  std::string_view source() const override { return "an invented base"; }
};

const LiquidState kState{.temperature_K = 300, .pressure_Pa = 2e5, .mass_fraction = 0.3};

bool says(const LiquidModel& model, std::string_view text) {
  return model.source().find(text) != std::string_view::npos;
}

}  // namespace

TEST_CASE("a measured value overrides the base; the others pass through", "[liquids][measured]") {
  const auto liquid = make_measured_liquid({.sound_speed_m_s = Estimate{1234.5, 0.6},
                                            .density_kg_m3 = std::nullopt,
                                            .viscosity_Pa_s = std::nullopt},
                                           std::make_shared<InventedBase>());
  const auto got = liquid->at(kState);
  CHECK(got.sound_speed_m_s->value == 1234.5);
  CHECK(got.sound_speed_m_s->u == 0.6);
  CHECK(got.density_kg_m3->value == 930);  // the base's, at the same mass fraction
  CHECK(got.density_kg_m3->u == 9);
  CHECK_FALSE(got.viscosity_Pa_s.has_value());
  CHECK(*liquid->saturation_pressure_Pa(300) == 3000);
  CHECK(*liquid->freezing_temperature_K(kState) == 220);
  CHECK(liquid->valid_range()->highest_temperature_K == 390);
  CHECK_THROWS_AS(liquid->at({.temperature_K = 401, .pressure_Pa = 2e5}), std::domain_error);
  CHECK(says(*liquid, "measured: speed of sound;"));
  CHECK(says(*liquid, "an invented base"));
  CHECK_FALSE(says(*liquid, "density"));
}

TEST_CASE("density and viscosity can be measured as well", "[liquids][measured]") {
  const auto liquid = make_measured_liquid({.sound_speed_m_s = std::nullopt,
                                            .density_kg_m3 = Estimate{800, 0},
                                            .viscosity_Pa_s = Estimate{0.05, 0.001}},
                                           std::make_shared<InventedBase>());
  const auto got = liquid->at(kState);
  CHECK(got.sound_speed_m_s->value == 1300);
  CHECK(got.density_kg_m3->value == 800);
  CHECK(got.density_kg_m3->u == 0);
  CHECK(got.viscosity_Pa_s->value == 0.05);
  CHECK(says(*liquid, "measured: density, viscosity;"));
}

TEST_CASE("with all three measured the base is not asked for properties", "[liquids][measured]") {
  const auto liquid = make_measured_liquid({.sound_speed_m_s = Estimate{1500, 1},
                                            .density_kg_m3 = Estimate{950, 1},
                                            .viscosity_Pa_s = Estimate{1e-3, 1e-5}},
                                           std::make_shared<InventedBase>());
  const auto hot = liquid->at({.temperature_K = 500, .pressure_Pa = 1e6});
  const auto cold = liquid->at({.temperature_K = 200, .pressure_Pa = 1e8});
  CHECK(hot.sound_speed_m_s->value == cold.sound_speed_m_s->value);
  CHECK(hot.viscosity_Pa_s->value == cold.viscosity_Pa_s->value);
  CHECK_FALSE(liquid->valid_range().has_value());
  CHECK(*liquid->saturation_pressure_Pa(300) == 3000);
  CHECK_FALSE(says(*liquid, "invented"));
}

TEST_CASE("absorption is measured, or the base's", "[liquids][measured]") {
  const auto base = std::make_shared<InventedBase>();
  const Absorption stated{.dB_m = 40, .at_Hz = 1e6, .power = 1.7, .relative_u = 0.1};
  const auto liquid = make_measured_liquid({.absorption = stated}, base);
  CHECK(liquid->absorption(kState)->dB_m == 40);
  CHECK(liquid->absorption(kState)->power == 1.7);
  CHECK(liquid->at(kState).sound_speed_m_s->value == 1300);  // still the base's
  CHECK(says(*liquid, "measured: absorption;"));
  CHECK(liquid->valid_range().has_value());

  const auto without = make_measured_liquid({.sound_speed_m_s = Estimate{1234, 1}}, base);
  CHECK(without->absorption(kState)->dB_m == 30);
  CHECK(without->absorption(kState)->at_Hz == 2e6);
  const LiquidState hot{.temperature_K = 401, .pressure_Pa = 2e5};
  CHECK_THROWS_AS(without->absorption(hot), std::domain_error);  // as `at` does
  CHECK(liquid->absorption(hot)->dB_m == 40);

  // With all three properties measured `at` answers anywhere, and absorption does not refuse.
  const auto all = make_measured_liquid({.sound_speed_m_s = Estimate{1500, 1},
                                         .density_kg_m3 = Estimate{950, 1},
                                         .viscosity_Pa_s = Estimate{1e-3, 1e-5}},
                                        base);
  CHECK(all->absorption(kState)->dB_m == 30);
  CHECK_FALSE(all->absorption(hot).has_value());
  CHECK_FALSE(make_measured_liquid({}, nullptr)->absorption(kState).has_value());
  CHECK_THROWS_AS(all->absorption({kNaN, 1e5, 0}), std::invalid_argument);
  CHECK_THROWS_AS(liquid->absorption({300, kInfinity, 0}), std::invalid_argument);

  const auto make = [](Absorption absorption) {
    return make_measured_liquid({.absorption = absorption}, nullptr);
  };
  CHECK_NOTHROW(make({.dB_m = 0, .at_Hz = 1e6, .power = 0, .relative_u = 0}));
  for (double bad : {kNaN, kInfinity, -1.0}) {
    CAPTURE(bad);
    CHECK_THROWS_AS(make({.dB_m = bad}), std::invalid_argument);
    CHECK_THROWS_AS(make({.dB_m = 1, .at_Hz = bad}), std::invalid_argument);
    CHECK_THROWS_AS(make({.dB_m = 1, .power = bad}), std::invalid_argument);
    CHECK_THROWS_AS(make({.dB_m = 1, .relative_u = bad}), std::invalid_argument);
  }
  CHECK_THROWS_AS(make({.dB_m = 1, .at_Hz = 0}), std::invalid_argument);
}

TEST_CASE("without a base what was not measured is absent", "[liquids][measured]") {
  const auto liquid = make_measured_liquid({.sound_speed_m_s = Estimate{1500, 1},
                                            .density_kg_m3 = std::nullopt,
                                            .viscosity_Pa_s = std::nullopt},
                                           nullptr);
  const auto got = liquid->at(kState);
  CHECK(got.sound_speed_m_s->value == 1500);
  CHECK_FALSE(got.density_kg_m3.has_value());
  CHECK_FALSE(got.viscosity_Pa_s.has_value());
  CHECK_FALSE(liquid->saturation_pressure_Pa(300).has_value());
  CHECK_FALSE(liquid->freezing_temperature_K(kState).has_value());
  CHECK_FALSE(liquid->valid_range().has_value());
  CHECK(liquid->source() == "measured: speed of sound");
  CHECK(make_measured_liquid({}, nullptr)->source() == "nothing known");
}

TEST_CASE("with nothing measured the base shows through", "[liquids][measured]") {
  const auto water = make_water();
  const auto liquid = make_measured_liquid({}, water);
  const LiquidState state{.temperature_K = 300, .pressure_Pa = 2e5};
  CHECK(liquid->at(state).sound_speed_m_s->value == water->at(state).sound_speed_m_s->value);
  CHECK(liquid->source() == water->source());
}

TEST_CASE("measured values that are no values are refused", "[liquids][measured]") {
  const auto make = [](std::optional<Estimate> c, std::optional<Estimate> rho,
                       std::optional<Estimate> mu) {
    return make_measured_liquid({.sound_speed_m_s = c, .density_kg_m3 = rho, .viscosity_Pa_s = mu},
                                nullptr);
  };
  for (double bad : {kNaN, kInfinity, -kInfinity, 0.0, -1.0}) {
    CAPTURE(bad);
    CHECK_THROWS_AS(make(Estimate{bad, 0}, {}, {}), std::invalid_argument);
    CHECK_THROWS_AS(make({}, Estimate{bad, 0}, {}), std::invalid_argument);
    CHECK_THROWS_AS(make({}, {}, Estimate{bad, 0}), std::invalid_argument);
  }
  for (double bad_u : {kNaN, kInfinity, -1.0}) {
    CAPTURE(bad_u);
    CHECK_THROWS_AS(make(Estimate{1500, bad_u}, {}, {}), std::invalid_argument);
  }
  const auto liquid = make(Estimate{1500, 1}, {}, {});
  CHECK_THROWS_AS(liquid->at({kNaN, 1e5, 0}), std::invalid_argument);
  CHECK_THROWS_AS(liquid->at({300, kInfinity, 0}), std::invalid_argument);
  CHECK_THROWS_AS(liquid->at({300, 1e5, kNaN}), std::invalid_argument);
}
