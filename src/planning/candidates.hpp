#pragma once

/// Open entries of a job (`one_of`, `between`, "unknown") become closed requests, one a candidate.

#include <string>
#include <vector>

#include "name_memory.hpp"
#include "slantrule/planning/job_request.hpp"
#include "slantrule/planning/resolved_job.hpp"

namespace slantrule {

/// Whether the job has entries that open_unknowns opens.
bool has_unknowns(const JobRequest& request, NameMemory& names);

/// Puts the candidates that the catalogue knows in place of "unknown", and the two ends of a range
/// of strengths that stands in the liquid's name ("PG 25-30 % mass") into fluid.concentration.
void open_unknowns(JobRequest& request, NameMemory& names, std::vector<Problem>& problems);

/// A request in which every entry has one option at most, and how it came from the open one.
struct ClosedRequest {
  JobRequest request;
  std::string what;                 ///< "pipe.wall 7.11 mm, ..."
  std::vector<std::string> ranges;  ///< paths given as a range
};

bool has_open_entry(const JobRequest& request);

/// Opens the candidates one entry at a time, so that entries inside an option multiply that option
/// alone. Stops with one more than most_variants; then `crowded` is the path that was too many.
void expand(ClosedRequest one, std::vector<ClosedRequest>& into, std::string& crowded);

}  // namespace slantrule
