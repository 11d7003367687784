#pragma once

/// Reading inputs and writing outputs, whole or not at all.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "slantrule/cli/command_table.hpp"
#include "slantrule/planning/resolved_job.hpp"

namespace slantrule::cli {

/// A line on standard error: "slantrule: TEXT".
void complain(std::string_view text);

/// A line a problem: "slantrule: FILE:LINE: key: message".
void complain(std::string_view file, const std::vector<Problem>& problems);

/// Content of a file, or of standard input for "-"; nullopt with `why` set when unreadable.
/// Files beyond the size a job may have are cut just above it, so that the reader can refuse them.
std::optional<std::string> read_input(const std::string& path, std::string& why);

/// The same, complaining itself: "slantrule: FILE: cannot be read: why".
std::optional<std::string> read_or_complain(const std::string& path);

/// What a file is called in messages: "-" is "<stdin>".
std::string_view input_name(const std::string& path);

/// Writes `text` to `path`, or to standard output when `path` is empty or "-". A file appears
/// whole or not at all, and is never written over unless `force`. A closed pipe ends quietly.
ExitCode write_output(std::string_view text, const std::string& path, bool force);

}  // namespace slantrule::cli
