#pragma once

/// Which pipe is this? What a measured diameter or wall says of the standard pipes.

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "slantrule/catalogue/catalogue.hpp"
#include "slantrule/planning/job_request.hpp"
#include "slantrule/planning/resolved_job.hpp"

namespace slantrule {

class NameMemory;

/// Bare-wall outside diameter as measured, before candidates are opened; nullopt: only a size.
std::optional<double> measured_diameter_m(const PipeRequest& pipe);

/// The standard sizes of a family of pipes (empty: of all) by their outside diameter.
class SizesByDiameter {
 public:
  SizesByDiameter(std::string_view family, const Catalogue& catalogue);

  /// Those within same_size_tolerance of the diameter, nearest first.
  std::vector<PipeMatch> matching(double outside_diameter_m) const;
  /// The next one below and above the diameter, where there is one within a half of it.
  std::vector<PipeMatch> neighbours(double outside_diameter_m) const;

 private:
  struct Size {
    PipeMatch match;
    double outside_diameter_mm;
    double first_bore_m;  ///< of the first row
    std::size_t place;    ///< of the first row in the tables
  };
  /// Sizes within `relative` of the diameter, in the order of the diameters.
  std::span<const Size> near(double outside_diameter_m, double relative) const;

  std::vector<Size> sizes_;  ///< by diameter, then in the order of the tables
};

/// The material that the size says the pipe is of, where pipe.material says nothing: "PE100" for
/// "PE100 SDR11 d110", "carbon steel" for "SGP 65A". Empty where it is not certain.
std::string material_of_size(const PipeRequest& pipe, NameMemory& names);

/// Nominal size for the tables of linings: the row's own, or from the diameter.
int nominal_size_mm(const PipeRecord* row, double outside_diameter_m);

}  // namespace slantrule
