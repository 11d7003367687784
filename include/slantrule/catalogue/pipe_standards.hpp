#pragma once

/// What follows from the standard a pipe is made to.

#include <string_view>
#include <vector>

#include "slantrule/catalogue/records.hpp"

namespace slantrule {

/// A measured diameter fits a standard size this near (relative): tapes, paint, mill tolerances
/// (proposal).
inline constexpr double same_size_tolerance = 0.015;

/// The standard of a built-in row; null for a user's row of a standard that the tables lack.
const PipeStandardRecord* find_pipe_standard(std::string_view standard);

/// The wall to plan with. Where the standard's table gives a least wall, pipes are thicker; the
/// mean wall e_mean for the table's e, in mm:
///
///     PE      1.05 e + 0.05                      (e to about 1.1 e + 0.1, ISO 4427-2 web tables)
///     PVC     e + the larger of 0.06 e and 0.25  (from memory)
///     EN 545  e + 1.3, and where that is above 6 mm e + 1.3 + 0.001 DN: the nominal wall
///             (from memory)
///
/// otherwise e itself. `dn` is used by the last rule alone.
double mean_wall_mm(WallRule rule, double wall_mm, int dn);

/// The same for a table row; a user's row of an unknown standard counts as nominal.
double mean_wall_mm(const PipeRecord& row);

/// Bore inside the mean wall.
double mean_bore_mm(const PipeRecord& row);

/// The family of pipe standards that goes with a wall material, by the key of the solid:
/// "carbon_steel" -> "carbon steel", "hdpe" -> "PE". Empty where no built-in standard does.
std::string_view pipe_family(std::string_view solid_key);

/// The usual mortar linings of a pipe of this family and nominal size, one for each class of each
/// standard, in the order of the table. Between two bands the thicker one is meant; below the first
/// and above the last there is none.
std::vector<const LiningRecord*> usual_linings(std::string_view family, int dn);

/// The one to price where nothing is said of a lining: the first with a nominal thickness (ductile
/// iron: EN 545; carbon steel: AWWA C205). Null where there is none.
const LiningRecord* usual_lining(std::string_view family, int dn);

}  // namespace slantrule
