// Any bytes as a list: the same records whether it comes at once or byte by byte, cells of valid
// UTF-8 without blanks round them, lines that go up, and no more text than there was.

#include <algorithm>
#include <cstdint>
#include <cstdlib>
#include <cstring>
#include <string>
#include <string_view>
#include <vector>

#include "slantrule/files/delimited_text.hpp"

namespace {

using namespace slantrule;

void require(bool holds) {
  if (!holds) std::abort();
}

struct Row {
  std::size_t line;
  bool quotes_mended, too_long, foreign_bytes;
  std::vector<std::string> cells;

  bool operator==(const Row&) const = default;
};

std::vector<Row> read_list(std::string_view text, const DelimitedOptions& options,
                           std::size_t piece) {
  DelimitedReader reader(
      [text, piece, at = std::size_t{0}](char* into, std::size_t most) mutable {
        const std::size_t count = std::min({piece, most, text.size() - at});
        if (count > 0) std::memcpy(into, text.data() + at, count);
        at += count;
        return count;
      },
      options);
  require(!reader.encoding_reason().empty() && reader.usual_cell_count() >= 1);
  std::vector<Row> rows;
  RecordBlock block;
  while (reader.next(block, piece)) {
    for (const auto& record : block.records) {
      const auto cells = block.cells(record);
      rows.push_back({record.line, record.quotes_mended, record.too_long, record.foreign_bytes,
                      std::vector<std::string>(cells.begin(), cells.end())});
    }
  }
  return rows;
}

void check_rows(const std::vector<Row>& rows, std::string_view text) {
  std::size_t line = 0;
  std::size_t bytes = 0;
  for (const Row& row : rows) {
    require(row.line > line && !row.cells.empty());
    line = row.line;
    for (const std::string& cell : row.cells) {
      require(is_utf8(cell));
      require(cell.empty() || (cell.front() != ' ' && cell.back() != ' '));
      bytes += cell.size();
    }
  }
  require(line <= text.size() + 1);
  require(bytes <= 3 * text.size());
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  DelimitedOptions options;
  options.window_bytes = 64;
  for (const std::size_t longest : {std::size_t{40}, std::size_t{1} << 20}) {
    options.longest_record_bytes = longest;
    const auto rows = read_list(text, options, 64);
    check_rows(rows, text);
    require(rows == read_list(text, options, 1));
  }
  for (const auto encoding : {TextEncoding::utf8, TextEncoding::windows_1250,
                              TextEncoding::utf16_le, TextEncoding::utf16_be}) {
    options.encoding = encoding;
    options.separator = size % 2 == 0 ? ' ' : ',';
    check_rows(read_list(text, options, 7), text);
  }
  return 0;
}
