#pragma once

// The direct path's share of the coefficients and phases, for both models.

#include "slantrule/acoustics/layer_stack.hpp"
#include "slantrule/acoustics/sound_path.hpp"

namespace slantrule::detail {

/// Product of all interface coefficients of the direct path, there and back, with its bounces; a
/// couplant film counts as part of the entry, at the frequency of `media`.
Complex direct_coefficients(const SoundPath& path, const StackMedia& media,
                            const StackInterfaces& interfaces, double ray_parameter_s_m,
                            double frequency_Hz);

/// Sum over the layers, crossed twice, of thickness times vertical slowness of the path's mode.
Complex direct_layers_s(const SoundPath& path, const StackMedia& media, double ray_parameter_s_m);

/// z^n, n >= 0
Complex power(Complex z, int n);

}  // namespace slantrule::detail
