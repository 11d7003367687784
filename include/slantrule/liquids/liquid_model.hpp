#pragma once

/// The seam between planning and what is known of a liquid.

#include <memory>
#include <optional>
#include <string_view>

#include "slantrule/units/absorption.hpp"
#include "slantrule/units/estimate.hpp"

namespace slantrule {

/// The state in which a property is asked for.
struct LiquidState {
  double temperature_K = 0;
  double pressure_Pa = 0;    ///< absolute
  double mass_fraction = 0;  ///< of the dissolved part; 0 for a pure liquid
};

/// Properties at one state; absent where nothing is known. u is the standard uncertainty.
struct LiquidProperties {
  std::optional<Estimate> sound_speed_m_s;
  std::optional<Estimate> density_kg_m3;
  std::optional<Estimate> viscosity_Pa_s;  ///< dynamic
};

/// Where a model holds. A state a little outside is answered with a larger uncertainty, never
/// silently: planning makes a finding.
struct ValidRange {
  double lowest_temperature_K, highest_temperature_K;
  double highest_pressure_Pa;
  double lowest_mass_fraction = 0, highest_mass_fraction = 0;
};

/// A liquid whose properties stay functions of temperature, pressure and concentration, so that
/// sensitivities and candidates can be computed after the job has been resolved.
/// Models are immutable and may be shared between threads.
class LiquidModel {
 public:
  virtual ~LiquidModel() = default;

  /// Properties at `state`. Throws std::domain_error where the model has no answer (too far outside
  /// its range, or no liquid root), std::invalid_argument for a state that is not finite, not above
  /// 0 K and 0 Pa, or with a mass fraction outside 0 to 1.
  virtual LiquidProperties at(const LiquidState& state) const = 0;

  /// Pressure (Pa, absolute) at which the liquid boils at this temperature; nullopt: not known.
  virtual std::optional<double> saturation_pressure_Pa(double temperature_K) const = 0;

  /// Temperature (K) at which it freezes at this state; nullopt: not known.
  virtual std::optional<double> freezing_temperature_K(const LiquidState& state) const = 0;

  /// Absorption of sound at this state; nullopt: not known. Throws as `at` does.
  virtual std::optional<Absorption> absorption(const LiquidState& state) const = 0;

  /// The same, where the properties at this state are known already.
  virtual std::optional<Absorption> absorption_of(const LiquidState& state,
                                                  const LiquidProperties& /*here*/) const {
    return absorption(state);
  }

  /// Whether every state that `at` answers has a speed of sound. Not every solution has one.
  virtual bool always_has_sound_speed() const { return false; }

  virtual std::optional<ValidRange> valid_range() const = 0;

  /// Where the numbers come from, for the sheet.
  virtual std::string_view source() const = 0;
};

}  // namespace slantrule
