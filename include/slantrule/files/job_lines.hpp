#pragma once

/// JSON Lines: one pipe a line, as a job or as an object of a list's headings and cells.

#include <cstddef>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "slantrule/files/delimited_text.hpp"
#include "slantrule/files/json_document.hpp"

namespace slantrule {

/// A line that is not blank.
struct JobLine {
  std::size_t line = 0;  ///< from 1
  std::string text;
  bool too_long = false;  ///< cut: longer than a job may be
};

/// Splits bytes into lines with bounded memory.
class LineSplitter {
 public:
  explicit LineSplitter(ReadBytes read) : read_(std::move(read)) {}
  /// The next line that is not blank; false at the end.
  bool next(JobLine& into);

 private:
  bool fill();

  ReadBytes read_;
  std::string buffer_;
  std::size_t at_ = 0, line_ = 0;
  bool ended_ = false;
};

/// Whether an object is a job: all its keys are a job's own. Else it holds headings and cells.
bool is_job_object(const JsonNode& object);

/// Whether a job has this key at its top, as "pipe" or "tag".
bool is_job_key(std::string_view key);

/// Whether a value is an object or holds one, which no cell can.
bool holds_object(const JsonNode& value);

/// A value as JSON without blanks; numbers as written.
std::string compact_json(const JsonNode& value);

/// Puts a value where a dotted key says; objects on the way are made where they are not. False
/// where something else than an object is in the way.
bool put_at(JsonNode& root, std::string_view dotted_key, JsonNode value);

/// The value of a member as a list's cell would have it: numbers as written, true and false as yes
/// and no, null as nothing, a list as readings apart by "; ". nullopt for an object.
std::optional<std::string> cell_text(const JsonNode& value);

}  // namespace slantrule
