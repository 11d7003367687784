#pragma once

/// Which pipe is this? What a measured diameter or wall says of the standard pipes.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "slantrule/catalogue/catalogue.hpp"
#include "slantrule/planning/job_request.hpp"
#include "slantrule/planning/resolved_job.hpp"

namespace slantrule {

/// The family of pipe standards of the job's wall material (pipe_family); for a material without
/// standards its key; empty when it is inline or not found.
std::string material_family(const PipeRequest& pipe, const Catalogue& catalogue);

/// Bare-wall outside diameter as measured, before candidates are opened; nullopt: only a size.
std::optional<double> measured_diameter_m(const PipeRequest& pipe);

/// The standard sizes of `family` (empty: of any) within same_size_tolerance of the diameter,
/// nearest first.
std::vector<PipeMatch> matching_sizes(double outside_diameter_m, std::string_view family,
                                      const Catalogue& catalogue);

/// The next standard size of `family` below and above the diameter, where there is one.
std::vector<PipeMatch> neighbouring_sizes(double outside_diameter_m, std::string_view family,
                                          const Catalogue& catalogue);

/// Nominal size for the tables of linings: the row's own, or from the diameter.
int nominal_size_mm(const PipeRecord* row, double outside_diameter_m);

}  // namespace slantrule
