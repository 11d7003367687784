#pragma once

/// The wall's surface: moisture on it, and the couplants that suit it.

#include <span>
#include <vector>

#include "slantrule/catalogue/catalogue.hpp"
#include "slantrule/planning/plan.hpp"

namespace slantrule {

/// Temperature below which water condenses from air.
///
///     g = ln(relative humidity) + a t/(b + t),    dew point = b g/(a - g)    [degC]
///
/// Magnus form with a = 17.625, b = 243.04 degC: Alduchov and Eskridge, J. Appl. Meteorol. 35
/// (1996) 601, good to 0.4 % of the vapour pressure (0.06 K) from -40 to 50 degC (coefficients and
/// error from memory). `relative_humidity`: a fraction above 0, up to 1.
double dew_point_K(double ambient_K, double relative_humidity);

/// The material that the couplant touches: the coating left under the sensors, else the wall.
const ResolvedMaterial& contact_material(const ResolvedPipe& pipe);

/// What a place asks of a couplant.
struct CouplantNeed {
  double surface_K;
  bool permanent = false;   ///< closed under insulation
  bool wet = false;         ///< water condenses on the wall
  bool rough_wall = false;  ///< rusty or pitted
  const ResolvedMaterial* contact = nullptr;
};

CouplantNeed couplant_need(const ResolvedJob& job, const Plan& plan);

/// The rows that suit, in their order. A row that does not say whether it has a property is not
/// left out for it.
std::vector<const CouplantRecord*> suitable_couplants(
    const CouplantNeed& need, std::span<const CouplantRecord> rows = built_in_couplants());

/// Whether there is any.
bool any_suitable_couplant(const CouplantNeed& need,
                           std::span<const CouplantRecord> rows = built_in_couplants());

/// Whether one of the words `harms` of a couplant is the material: its key, its family, or
/// "stainless" for austenitic steel hot enough to crack by chlorides.
bool couplant_harms(std::string_view harms, const ResolvedMaterial& material, double surface_K);

}  // namespace slantrule
