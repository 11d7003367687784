#pragma once

/// The loading list as lines: what text and CSV share.

#include <string>
#include <string_view>
#include <vector>

#include "slantrule/planning/packing.hpp"
#include "slantrule/sheets/display.hpp"

namespace slantrule {

struct PackLine {
  std::string item;           ///< as it may be shown
  std::size_t number = 0;     ///< to load; 0: not counted
  bool tells_number = false;  ///< `item` says the number itself
  PackRows rows;              ///< pipes that ask for it; none: not tied to pipes
  bool every_pipe = false;
  std::vector<std::string> details = {};
  std::string warning = {};  ///< on a line of its own
  Basis basis = Basis::common_practice;
  std::string source = "common practice, no source";
  bool box = true;  ///< something to tick off
};

struct PackSection {
  std::string_view title;
  std::vector<PackLine> lines;
};

/// In the order of the list; sections with nothing in them are left out.
std::vector<PackSection> pack_sections(const PackReport& report, const Display& display);

/// "12 pipes".
std::string pipes_text(std::size_t count);

/// "3 ST-1, 7, 12 ST-9 and 30 more": at most `most` of them.
std::string rows_text(const PackRows& rows, std::size_t most, const Display& display);

/// What is lacking, in words: "no rail takes the spacing".
std::string_view lack_words(PackLack lack);

}  // namespace slantrule
