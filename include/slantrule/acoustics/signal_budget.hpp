#pragma once

/// What of the sound arrives, part by part: the nominal path, each interface met once.
///
/// Reference: two equal elements face to face without wedges, 0 dB. One way; up and down are equal
/// at rest. Echoes inside walls and liners are not in it: they change the level by some dB and
/// delay its maximum (see `reverberation` below, and the wave response).
///
///     loss = 2 (wedge to first layer + each layer to the next + last layer to liquid)
///          + (N - 1) inner-face reflections
///          + absorption along every leg + spreading in the plane of the beam and across it
///          + 2 couplant film
///
/// Plane-wave coefficients at the beam's axis; spreading by the two-aperture function of beam.hpp;
/// flat layers. Within 1.2 dB of the angular-spectrum integral of the same path in twelve cases
/// from 22 mm copper to 1.2 m lined steel (derived).

#include <array>
#include <cstddef>
#include <cstdint>
#include <string_view>

#include "slantrule/acoustics/path_interfaces.hpp"
#include "slantrule/acoustics/sound_path.hpp"

namespace slantrule {

/// Interfaces count both ends of the path together.
enum class BudgetItem : std::uint8_t {
  wedge_interface,     ///< wedge to the first layer, film too thin to matter
  couplant,            ///< what the film's thickness adds to that
  layer_interface,     ///< into layer `layer` from the one above it
  liquid_interface,    ///< last layer to liquid
  bounces,             ///< all N - 1 reflections at the inner face
  wedge_absorption,    ///< both wedges
  layer_absorption,    ///< layer `layer`, both crossings
  liquid_absorption,   ///< N traverses
  spreading_in_plane,  ///< in the plane of the beam
  spreading_across     ///< across it, as if the pipe were flat
};
std::string_view budget_item_name(BudgetItem item);

struct BudgetPart {
  BudgetItem item;
  std::size_t layer;  ///< for layer_interface and layer_absorption, else 0
  double loss_dB;     ///< positive: lost
};

/// Wedge, couplant, liquid, bounces, spreading, and two for each layer.
inline constexpr std::size_t most_budget_parts = 8 + 2 * most_layers;

/// A bounce that goes through the inner face and turns round at the upper face of a layer: of layer
/// 0 that is the pipe's outside, with air behind it. In plastic pipes it can be the stronger one.
/// Per bounce, absorption in the layers included; the sound keeps its wave mode in each layer.
struct OuterBounce {
  double loss_dB;
  double added_spacing_m;
  double added_time_s;
  double added_slope_m2_s;  ///< to dS/dp
};

/// Standard uncertainties of the loss, dB.
struct BudgetUncertainty {
  double model_dB;          ///< 1.2 dB agreement taken as limits of even chance: 0.7 dB (derived)
  double absorption_dB;     ///< each absorption by its relative_u
  double couplant_dB;       ///< a stated film: half its excess. Else a film of even chance from 0
                            ///< to 0.1 mm (judged), 1100 kg/m3 and 1800 m/s
  double reverberation_dB;  ///< 2 dB where a layer's echoes fall into the burst, else 0: spread of
                            ///< twelve cases of the wave response at the ray spacing, whose mean
                            ///< was 1 dB above the budget (judged)
  double combined_dB;
};

struct SignalBudget {
  std::array<BudgetPart, most_budget_parts> parts;
  std::size_t part_count = 0;
  double loss_dB = 0;  ///< sum of the parts
  BudgetUncertainty uncertainty{};

  double bounce_loss_dB = 0;                             ///< one reflection at the inner face
  std::array<OuterBounce, most_layers> outer_bounces{};  ///< by layer, the first layer_count

  double spacing_slope_m2_s = 0;        ///< M = dS/dp of the exit spacing
  double beam_slope_m2_s = 0;           ///< the same with both wedges, which the beam crosses too
  double beam_length_m = 0;             ///< element / cos(wedge angle): unit of offsets on the pipe
  double inverse_fresnel_in_plane = 0;  ///< u of beam.hpp
  double inverse_fresnel_across = 0;

  /// Placement (BudgetDetail::placement only). The direct path is strongest at
  /// exit spacing + phase_shift_m + slope_shift_m: the first from the phase of the coefficients,
  /// -(1/w) d arg C/dp, reliable; the second from their slope and the absorption's,
  /// sigma_p^2 M d ln|C|/dp, good to a factor of two.
  double phase_shift_m = 0;
  double slope_shift_m = 0;
  /// Misplacement (exit spacing) that costs 3 and 6 dB, as if the coefficients were constant over
  /// the beam. A critical angle inside it narrows them, to a half at worst; wave_response.hpp
  /// knows.
  double half_window_3_dB_m = 0;
  double half_window_6_dB_m = 0;
};

/// `level` leaves shifts and windows out.
enum class BudgetDetail : std::uint8_t { level, placement };

/// Budget of the path, `ray` being its trace_ray. Throws std::invalid_argument when frequency,
/// cycles, element or its width are not positive. Never NaN: a part is at most 300 dB.
SignalBudget signal_budget(const SoundPath& path, const RayPath& ray,
                           BudgetDetail detail = BudgetDetail::placement);
/// The same with the interfaces at the ray at hand.
SignalBudget signal_budget(const SoundPath& path, const RayPath& ray, const PathInterfaces& at,
                           BudgetDetail detail);

/// The loss of one path for any number of traverses: the interfaces and all else that does not go
/// with it is worked out once.
class LossByTraverses {
 public:
  /// As signal_budget; of `path` and `ray` the number of traverses does not matter.
  LossByTraverses(const SoundPath& path, const RayPath& ray, const PathInterfaces& at);

  /// SignalBudget::loss_dB, to rounding.
  double loss_dB(int traverses) const;
  /// A bound below loss_dB that needs no Fresnel integrals.
  double least_loss_dB(int traverses) const;

 private:
  double without_spreading_dB(int traverses) const;

  double fixed_dB_ = 0, per_traverse_dB_ = 0, per_bounce_dB_ = 0;
  // Inverse Fresnel numbers: layers and wedges, and what each traverse adds.
  double fixed_in_plane_ = 0, fixed_across_ = 0;
  double in_plane_per_traverse_ = 0, across_per_traverse_ = 0;
};

/// Loss of a pair that stands `offset_m` (along the pipe) from where the direct path is strongest.
double misplacement_loss_dB(const SignalBudget& budget, double offset_m);

}  // namespace slantrule
