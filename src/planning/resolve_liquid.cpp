#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "liquid_answer.hpp"
#include "resolve_draft.hpp"
#include "slantrule/catalogue/liquid_designation.hpp"
#include "slantrule/catalogue/liquid_strength.hpp"
#include "slantrule/liquids/measured_liquid.hpp"
#include "slantrule/planning/defaults.hpp"

namespace slantrule {
namespace {

/// From liquefied gases near their critical points to strong caustics and molten salts, with room.
constexpr double slowest_liquid_m_s = 200, fastest_liquid_m_s = 4000;

MeasuredProperties measured_properties(const FluidRequest& request, ResolvedLiquid& liquid) {
  MeasuredProperties measured;
  if (const Reading* speed = reading(request.sound_speed)) {
    measured.sound_speed_m_s = estimate_or(*speed, 1e-3);
    liquid.sound_speed_measured = true;
  }
  if (const Reading* density = reading(request.density)) {
    measured.density_kg_m3 = estimate_or(*density, 1e-3);
  }
  if (const Reading* viscosity = reading(request.viscosity)) {
    const Estimate value = estimate_or(*viscosity, 0.02);
    if (viscosity->dimension == Dimension::kinematic_viscosity) {
      liquid.kinematic_viscosity_m2_s = value;
    } else {
      measured.viscosity_Pa_s = value;
    }
  }
  if (request.absorption.value) {
    const AbsorptionRequest& absorption = *request.absorption.value;
    if (const Reading* loss = reading(absorption.longitudinal)) {
      measured.absorption = Absorption{.dB_m = loss->si,
                                       .at_Hz = stated_si(absorption.at).value_or(1e6),
                                       .power = absorption.power.value.value_or(2),
                                       .relative_u = 0.1};
    }
  }
  return measured;
}

/// Pressure, absolute; false: a mistake was reported.
bool pressure(Draft& draft) {
  ResolvedLiquid& liquid = draft.job.liquid;
  const QuantityEntry& entry = draft.request.fluid.pressure;
  const Reading* pressure = reading(entry);
  if (!pressure) {
    draft.assume("fluid.pressure",
                 "not stated: liquid taken at 1 atm, or just above its boiling pressure");
    return true;
  }
  // Gauge pressure counts from the standard atmosphere.
  const bool gauge = pressure->dimension == Dimension::pressure_gauge;
  liquid.pressure_Pa = pressure->si + (gauge ? defaults::atmosphere_Pa : 0);
  if (!(*liquid.pressure_Pa > 0)) {
    draft.problem(entry.place, "fluid.pressure", "is at or below vacuum; is it gauge or absolute?");
    return false;
  }
  if (gauge) draft.assume("fluid.pressure", "gauge pressure counts from 101.325 kPa");
  return true;
}

/// The strength of a solution from the job's key or from its name; false: a mistake was reported.
bool strength(const LiquidReading& named, Draft& draft) {
  ResolvedLiquid& liquid = draft.job.liquid;
  const FluidRequest& request = draft.request.fluid;
  const LiquidRecord& row = *named.record;
  const Reading* stated = reading(request.concentration);
  const bool in_name = !named.strengths.empty();
  const auto name = [&] { return shown(request.name.options.front().value); };
  if (!row.solution) {
    if (in_name || (stated && stated->si > 0)) {
      draft.problem(
          request.concentration.place, "fluid.concentration",
          fmt::format("has no meaning for {}; name the solution, or leave it out", name()));
      return false;
    }
    return true;
  }
  double fraction = 0, u = 0;
  bool by_volume = false;
  if (stated) {
    if (in_name) {
      draft.problem(request.concentration.place, "fluid.concentration",
                    "and the name both say a strength; keep one");
      return false;
    }
    fraction = stated->si;
    u = stated->u_si;
    by_volume = stated->dimension == Dimension::volume_fraction;
  } else if (in_name) {
    fraction = named.strengths.front();
    by_volume = named.basis == StrengthBasis::volume;
  } else if (row.model == "seawater") {
    liquid.mass_fraction = usual_salinity;
    liquid.u_mass_fraction = u_usual_salinity;
    draft.assume("fluid.concentration", "35 g/kg of salt, standard seawater");
    return true;
  } else {
    draft.problem(
        request.name.place, "fluid.concentration",
        fmt::format("is missing: {} has no usual strength; write \"concentration\": "
                    "\"30 % mass\"{}",
                    name(), mass_fraction_of_volume(row, 0.3) ? " (or \"30 % volume\")" : ""));
    return false;
  }
  if (by_volume) {
    const auto by_mass = mass_fraction_of_volume(row, fraction);
    if (!by_mass) {
      draft.problem(request.concentration.place, "fluid.concentration",
                    fmt::format("by volume cannot be turned into mass for {}; write it by mass: "
                                "\"30 % mass\"",
                                name()));
      return false;
    }
    u *= fraction > 0 ? *by_mass / fraction : 1;
    draft.assume("fluid.concentration",
                 fmt::format("{:.4g} % by volume at 20 degC are {:.4g} % by mass", 100 * fraction,
                             100 * *by_mass));
    fraction = *by_mass;
  }
  liquid.mass_fraction = fraction;
  liquid.u_mass_fraction = u;
  return true;
}

/// The model of the named liquid, or null with the mistake reported (none, when a measured speed
/// of sound makes the name a mere label).
std::shared_ptr<const LiquidModel> named_model(bool speed_measured, Draft& draft) {
  const FluidRequest& request = draft.request.fluid;
  const std::string& name = request.name.options.front().value;
  const LiquidReading& read = draft.names.liquid(name);
  LiquidReading in_solution;
  // "ethanol" with a concentration is ethanol and water.
  if (read.record && !read.record->solution && request.concentration.given()) {
    in_solution.record = in_water(*read.record, draft.names.catalogue());
    in_solution.kind = LiquidReading::Kind::understood;
  }
  const LiquidReading& named = in_solution.record ? in_solution : read;
  if (named.kind != LiquidReading::Kind::understood) {
    // With a measured speed any name goes, but not for what is no liquid.
    if (speed_measured && named.kind != LiquidReading::Kind::out_of_scope) return nullptr;
    std::string message = with_readings(named.message, named.readings);
    if (named.kind != LiquidReading::Kind::out_of_scope) {
      message += "; any liquid can be planned with a measured speed: \"sound_speed\": \"1482 m/s\"";
    }
    draft.problem(request.name.place, "fluid.name", std::move(message));
    return nullptr;
  }
  ResolvedLiquid& liquid = draft.job.liquid;
  liquid.full_name = named.record->name;
  liquid.solution = named.record->solution;
  liquid.aqueous = liquid.solution || named.record->model == "water";
  if (!strength(named, draft)) return nullptr;
  try {
    return draft.names.model(*named.record, named.parameter);
  } catch (const std::invalid_argument& error) {
    if (!speed_measured) draft.problem(request.name.place, "fluid.name", error.what());
    return nullptr;
  }
}

/// A model need not know the speed of sound of every solution.
void require_sound_speed(Draft& draft) {
  const ResolvedLiquid& liquid = draft.job.liquid;
  if (!liquid.model || liquid.sound_speed_measured || !draft.problems.empty()) return;
  if (liquid.model->always_has_sound_speed()) return;
  const double temperature_K = liquid.temperature_K.value;
  const double saturation_Pa = liquid.model->saturation_pressure_Pa(temperature_K).value_or(0);
  const LiquidState state{
      temperature_K, liquid.pressure_Pa.value_or(std::max(defaults::atmosphere_Pa, saturation_Pa)),
      liquid.mass_fraction};
  if (answer_near(*liquid.model, state).properties.sound_speed_m_s) return;
  draft.problem(draft.request.fluid.name.place, "fluid.sound_speed",
                fmt::format("is missing: no published speed of sound is known for {} at this "
                            "strength; measure it and write \"sound_speed\": \"1650 m/s\"",
                            shown(liquid.name)));
}

}  // namespace

void resolve_liquid(Draft& draft) {
  const FluidRequest& request = draft.request.fluid;
  ResolvedLiquid& liquid = draft.job.liquid;
  if (request.name.options.empty() || !request.temperature.given()) return;
  liquid.name = request.name.options.front().value;
  liquid.temperature_K = estimate(*reading(request.temperature));

  const MeasuredProperties measured = measured_properties(request, liquid);
  if (measured.sound_speed_m_s && !(measured.sound_speed_m_s->value >= slowest_liquid_m_s &&
                                    measured.sound_speed_m_s->value <= fastest_liquid_m_s)) {
    draft.problem(request.sound_speed.place, "fluid.sound_speed",
                  fmt::format("{} m/s is no speed of sound of a liquid; is it a slip of units?",
                              measured.sound_speed_m_s->value));
    return;
  }
  const bool any = measured.sound_speed_m_s || measured.density_kg_m3 || measured.viscosity_Pa_s ||
                   measured.absorption;
  const auto base = named_model(liquid.sound_speed_measured, draft);
  if (!base && !liquid.sound_speed_measured) return;
  const LiquidWords& written = draft.names.liquid_words(liquid.name);
  const LiquidWords& in_full = draft.names.liquid_words(liquid.full_name);
  liquid.food = written.food || in_full.food;
  liquid.oxidiser = written.oxidiser || in_full.oxidiser;
  liquid.model = any ? make_measured_liquid(measured, base) : base;
  liquid.named_model = base;
  if (!pressure(draft)) return;
  if (base && base->valid_range() && draft.problems.empty()) require_sound_speed(draft);
  liquid.gas_fraction = stated_si(request.gas);
  liquid.solids_fraction = stated_si(request.solids);
}

void resolve_flow(Draft& draft) {
  const FlowRequest& request = draft.request.flow;
  ResolvedFlow& flow = draft.job.flow;
  if (request.rate.given() && request.velocity.given()) {
    draft.problem(request.velocity.place, "flow.velocity",
                  "and flow.rate are both stated; keep one");
  }
  const auto amount = [](const QuantityEntry& entry) -> std::optional<FlowAmount> {
    const Reading* value = reading(entry);
    if (!value) return std::nullopt;
    return FlowAmount{value->dimension, value->si};
  };
  flow.usual = request.rate.given() ? amount(request.rate) : amount(request.velocity);
  flow.least = amount(request.least);
  flow.most = amount(request.most);
  flow.reversing = request.direction.value == "reversing";
  flow.pulsating = request.pulsating.value.value_or(false);
  flow.can_stop = request.can_stop.value;
  const auto rank = [&](const std::optional<FlowAmount>& low, const std::optional<FlowAmount>& high,
                        Place place, const char* key, const char* message) {
    if (low && high && low->dimension == high->dimension && low->si > high->si) {
      draft.problem(place, key, message);
    }
  };
  rank(flow.least, flow.most, request.least.place, "flow.least",
       "is greater than flow.most; are the two swapped?");
  rank(flow.least, flow.usual, request.least.place, "flow.least",
       "is greater than the usual flow; are the two swapped?");
  rank(flow.usual, flow.most, request.most.place, "flow.most",
       "is less than the usual flow; are the two swapped?");
}

}  // namespace slantrule
