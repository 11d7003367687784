#pragma once

/// Lists as spreadsheets and people write them: cells between separators, a record a line. Reads in
/// one pass with bounded memory and without a file of its own, so that a list may be of any size.
///
/// Quotes follow RFC 4180: a cell that starts with `"` ends at the next lone one, `""` within it
/// being a quote. People write `4"` without knowing of that, so quotes that cannot be meant so are
/// taken as characters, cell by cell, and the record is marked; the number of cells that most lines
/// have tells a note of several lines from a stray quote.

#include <cstddef>
#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "slantrule/files/text_encoding.hpp"

namespace slantrule {

/// Writes up to `most` bytes to `into` and says how many; 0 at the end, for good. May throw.
using ReadBytes = std::function<std::size_t(char* into, std::size_t most)>;

struct DelimitedOptions {
  std::optional<char> separator =
      std::nullopt;  ///< unset: decided; ' ' is runs of two or more blanks
  std::optional<TextEncoding> encoding = std::nullopt;  ///< unset: decided
  /// With its line end; what is longer is cut and marked. From 16 bytes to 256 MiB.
  std::size_t longest_record_bytes = std::size_t{1} << 20;
  /// By which separator and encoding are decided; at least 16.
  std::size_t window_bytes = std::size_t{1} << 16;
};

/// A run of records. Views stay valid until the block is filled again or ends, also when it is
/// moved.
class RecordBlock {
 public:
  struct Record {
    std::size_t line = 0;  ///< its first, from 1
    std::uint32_t first_cell = 0;
    std::uint32_t cell_count = 0;  ///< at least 1
    bool quotes_mended = false;    ///< quotes that did not work out were taken as characters
    bool too_long = false;         ///< cut at the longest record; the rest of its line is lost
    bool foreign_bytes = false;    ///< bytes that the encoding lacks were read by a code page
  };

  std::vector<Record> records;

  RecordBlock() = default;
  RecordBlock(RecordBlock&&) noexcept = default;
  RecordBlock& operator=(RecordBlock&&) noexcept = default;

  /// In UTF-8, without blanks at either end (spreadsheets pad, in quotes too); what stands between
  /// quotes is else kept as it is, line ends included. Empty cells at the end are kept. A cell may
  /// hold any control character.
  std::span<const std::string_view> cells(const Record& record) const {
    return {cells_.data() + record.first_cell, record.cell_count};
  }

 private:
  friend class DelimitedReader;
  std::vector<char> text_;
  std::vector<std::string_view> cells_;
};

class DelimitedReader {
 public:
  /// Reads the first window and decides separator and encoding. Throws what `read` throws.
  explicit DelimitedReader(ReadBytes read, const DelimitedOptions& options = {});
  ~DelimitedReader();
  DelimitedReader(DelimitedReader&&) noexcept;
  DelimitedReader& operator=(DelimitedReader&&) noexcept;

  /// ',', ';', '\t', '|', what a first line "sep=" says, or ' ' for runs of two or more blanks;
  /// '\0': one column.
  char separator() const;
  TextEncoding encoding() const;
  /// One clause for people: why it is taken for that.
  std::string_view encoding_reason() const;
  /// Cells that most lines of the window have.
  std::size_t usual_cell_count() const;

  /// The next records in order, up to `most`, fewer where they are long; false at the end. Lines
  /// with nothing but separators, blanks and empty quotes are no records; NULs and control-Z at the
  /// end of the file are ignored. Throws what the source
  /// throws.
  bool next(RecordBlock& into, std::size_t most);

 private:
  class Records;
  std::unique_ptr<Records> records_;
};

}  // namespace slantrule
