#pragma once

/// A text of a sheet in parts: our own words, texts of the job, places to write in.

#include <string_view>
#include <vector>

namespace slantrule {

struct TextPart {
  enum class Kind { own, of_job, blank };
  Kind kind;
  std::string_view text;
};

/// The parts of a text made with Display::isolate. Points into `text`.
std::vector<TextPart> text_parts(std::string_view text);

}  // namespace slantrule
