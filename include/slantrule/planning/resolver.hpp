#pragma once

/// `resolve` for many jobs.

#include <memory>

#include "slantrule/catalogue/catalogue.hpp"
#include "slantrule/planning/resolved_job.hpp"

namespace slantrule {

class NameMemory;

/// Resolves one job after the other and remembers what their names mean (materials, liquids, sizes,
/// fittings, sensors), a few thousand at most; never a job. The resolutions are those of
/// slantrule::resolve, whatever came before. The catalogue must outlive it and stay as it is
/// meanwhile. One for each thread.
class Resolver {
 public:
  explicit Resolver(const Catalogue& catalogue);
  ~Resolver();
  Resolver(Resolver&&) noexcept;
  Resolver& operator=(Resolver&&) noexcept;

  Resolution resolve(const JobRequest& request);

 private:
  std::unique_ptr<NameMemory> names_;
};

}  // namespace slantrule
