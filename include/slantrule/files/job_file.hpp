#pragma once

/// Job files: text in, JobRequest out, every mistake with its line, key and mend.

#include <functional>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "slantrule/files/json_document.hpp"
#include "slantrule/planning/job_request.hpp"
#include "slantrule/planning/resolved_job.hpp"

namespace slantrule {

/// Reads a file that a job names (`kit`); nullopt when it cannot be read.
using ReadNamedFile = std::function<std::optional<std::string>(const std::string& path)>;

struct ReadJob {
  JobRequest request;
  std::vector<Problem> problems;  ///< all of them; with any, `request` is incomplete
};

/// `text` may be empty only when `sets` is not: then the job is made of `--set` alone.
/// `sets` holds "KEY=VALUE" texts, applied in order after the file; "KEY=" takes the key out.
ReadJob read_job(std::optional<std::string_view> text, std::span<const std::string> sets,
                 const ReadNamedFile& read_named_file = {});

/// The same from a tree that was read before.
ReadJob read_job(JsonNode root, std::span<const std::string> sets,
                 const ReadNamedFile& read_named_file = {});

/// Adds to a job the keys that only `defaults` has, at the top and in its sections (`pipe`, `fluid`
/// ...). A value of the job stands as a whole: nothing is added inside it.
void lay_under(JsonNode& job, const JsonNode& defaults);

/// A request in which every optional object is there, so that a walk by `visit_all_keys` shows
/// every key (those of `places` are the keys of `location`).
JobRequest request_with_every_key();

}  // namespace slantrule
