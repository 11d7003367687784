// Every liquid of the list has a model that answers.

#include "slantrule/catalogue/liquid_factory.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <stdexcept>

using namespace slantrule;

namespace {

std::optional<double> usual_parameter(const LiquidRecord& row) {
  switch (parameter_needed(row)) {
    case LiquidParameter::api_gravity:
      return 32;
    case LiquidParameter::iso_vg:
      return 46;
    case LiquidParameter::none:
      break;
  }
  return std::nullopt;
}

}  // namespace

TEST_CASE("liquid factory: every built-in liquid answers in the middle of its range") {
  const Catalogue catalogue;
  for (const LiquidRecord& row : built_in_liquids()) {
    CAPTURE(row.key);
    const auto model = make_liquid(row, usual_parameter(row), catalogue);
    REQUIRE(model);
    const auto range = model->valid_range();
    REQUIRE(range);
    LiquidState state;
    state.temperature_K = (range->lowest_temperature_K + range->highest_temperature_K) / 2;
    state.mass_fraction = (range->lowest_mass_fraction + range->highest_mass_fraction) / 2;
    CHECK((range->highest_mass_fraction > 0) == row.solution);
    state.pressure_Pa = std::min(
        range->highest_pressure_Pa,
        std::max(2e5, 1.2 * model->saturation_pressure_Pa(state.temperature_K).value_or(0)));
    const LiquidProperties properties = model->at(state);
    // Whatever is known lies where liquids lie, with an uncertainty.
    if (properties.sound_speed_m_s) {
      CHECK(properties.sound_speed_m_s->value > 300);
      CHECK(properties.sound_speed_m_s->value < 2100);
      CHECK(properties.sound_speed_m_s->u > 0);
      CHECK(properties.sound_speed_m_s->u < 0.1 * properties.sound_speed_m_s->value);
    }
    if (properties.density_kg_m3) {
      CHECK(properties.density_kg_m3->value > 400);
      CHECK(properties.density_kg_m3->value < 2000);
      CHECK(properties.density_kg_m3->u > 0);
    }
    if (properties.viscosity_Pa_s) {
      CHECK(properties.viscosity_Pa_s->value > 1e-5);
      CHECK(properties.viscosity_Pa_s->u > 0);
    }
    CHECK_FALSE(model->source().empty());
    CHECK(model->source().size() < 200);
  }
}

TEST_CASE("liquid factory: strong electrolytes and coolants without glycol know no speed") {
  // fluids.md's sources hold none; a planner must ask for a measured one.
  const Catalogue catalogue;
  for (const char* key : {"naoh_aq", "h2so4_aq", "calcium_chloride_coolant", "glycerol_water"}) {
    CAPTURE(key);
    const LiquidRecord* row = catalogue.liquid(key).record;
    REQUIRE(row);
    const auto model = make_liquid(*row, std::nullopt, catalogue);
    CHECK_FALSE(model->at({293.15, 3e5, 0.2}).sound_speed_m_s);
    CHECK(model->at({293.15, 3e5, 0.2}).density_kg_m3);
  }
}

TEST_CASE("liquid factory: a parameter that is missing or impossible is named") {
  const Catalogue catalogue;
  const LiquidRecord& crude = *catalogue.liquid("crude_oil").record;
  const LiquidRecord& hydraulic = *catalogue.liquid("hydraulic_oil").record;
  CHECK_THROWS_WITH(make_liquid(crude, std::nullopt, catalogue), Catch::Contains("API"));
  CHECK_THROWS_WITH(make_liquid(hydraulic, std::nullopt, catalogue), Catch::Contains("VG"));
  CHECK_THROWS_AS(make_liquid(crude, 200, catalogue), std::invalid_argument);
  CHECK_THROWS_AS(make_liquid(hydraulic, 47, catalogue), std::invalid_argument);
}

TEST_CASE("liquid factory: models without state are shared") {
  const Catalogue catalogue;
  for (const char* key : {"water", "seawater", "toluene"}) {
    CAPTURE(key);
    const LiquidRecord& row = *catalogue.liquid(key).record;
    CHECK(make_liquid(row, std::nullopt, catalogue) == make_liquid(row, std::nullopt, catalogue));
  }
}
