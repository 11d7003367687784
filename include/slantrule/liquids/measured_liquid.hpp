#pragma once

#include <memory>
#include <optional>

#include "slantrule/liquids/liquid_model.hpp"
#include "slantrule/units/estimate.hpp"

namespace slantrule {

/// Values that the job states, each overriding the model behind it.
struct MeasuredProperties {
  std::optional<Estimate> sound_speed_m_s = std::nullopt;
  std::optional<Estimate> density_kg_m3 = std::nullopt;
  std::optional<Estimate> viscosity_Pa_s = std::nullopt;
  std::optional<Absorption> absorption = std::nullopt;
};

/// A liquid known by measured values, constant over temperature and pressure; what was not
/// measured is taken from `base`, which may be null (then it stays absent). Boiling and freezing
/// are the base's. So is the valid range, as long as any property but absorption is still taken
/// from the base: it is asked for those alone, and its exceptions pass through. Absorption not
/// measured is the base's; where the base is asked for nothing else and has no answer, it is
/// absent. `source` says which values were measured, and whence the others. Throws
/// std::invalid_argument for values that are not finite and positive (an absorption may be 0) and
/// for u that are not finite and >= 0; `at` and `absorption` for a state that is not finite.
std::shared_ptr<const LiquidModel> make_measured_liquid(const MeasuredProperties& measured,
                                                        std::shared_ptr<const LiquidModel> base);

}  // namespace slantrule
