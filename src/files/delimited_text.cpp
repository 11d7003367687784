#include "slantrule/files/delimited_text.hpp"

#include <algorithm>
#include <string>
#include <utility>

#include "record_split.hpp"
#include "separator_guess.hpp"

namespace slantrule {
namespace {

constexpr std::size_t chunk_bytes = std::size_t{1} << 16;
/// A block ends when its text is as long, however many records were asked for.
constexpr std::size_t longest_block_bytes = std::size_t{1} << 20;

/// A no-break space is a blank to whoever looks at a spreadsheet.
constexpr std::string_view no_break_space = "\xC2\xA0";

bool is_utf16(TextEncoding encoding) {
  return encoding == TextEncoding::utf16_le || encoding == TextEncoding::utf16_be;
}

bool is_code_page(TextEncoding encoding) {
  return encoding == TextEncoding::windows_1252 || encoding == TextEncoding::windows_1250;
}

bool is_continuation(char c) {
  return (static_cast<unsigned char>(c) & 0xC0) == 0x80;
}

std::string_view without_blanks(std::string_view cell) {
  for (;;) {
    if (cell.starts_with(no_break_space)) {
      cell.remove_prefix(no_break_space.size());
    } else if (cell.ends_with(no_break_space)) {
      cell.remove_suffix(no_break_space.size());
    } else if (cell.starts_with(' ') || cell.starts_with('\t')) {
      cell.remove_prefix(1);
    } else if (cell.ends_with(' ') || cell.ends_with('\t')) {
      cell.remove_suffix(1);
    } else {
      return cell;
    }
  }
}

/// Makes `""` to `"` in place and returns how many bytes are left.
std::size_t undouble_quotes(char* text, std::size_t bytes) {
  std::size_t to = 0;
  for (std::size_t from = 0; from < bytes; ++from) {
    text[to++] = text[from];
    if (text[from] == '"' && from + 1 < bytes && text[from + 1] == '"') ++from;
  }
  return to;
}

/// NULs and control-Z fill up files of old at their end.
std::size_t bytes_without_filling(std::string_view text) {
  return text.find_last_not_of(std::string_view("\0\x1A", 2)) + 1;
}

/// Enough for a byte order mark and a line that says the separator.
std::size_t window_of(const DelimitedOptions& options) {
  return std::max(options.window_bytes, std::size_t{16});
}

/// What has been read and is not yet used. UTF-16 is UTF-8 here already; bytes of a code page stay
/// until a record is made of them, since separators, quotes and line ends are ASCII in it.
class TextAhead {
 public:
  TextAhead(ReadBytes read, const DelimitedOptions& options, std::size_t longest_filling)
      : read_(std::move(read)), longest_filling_(longest_filling) {
    const std::size_t window_bytes = window_of(options);
    while (end_ <= window_bytes && !at_end_) read_raw();
    guess_ = guess_encoding(text().substr(0, window_bytes), end_ <= window_bytes);
    if (options.encoding) {
      guess_.encoding = *options.encoding;
      guess_.reason = "it was asked for";
    }
    use(byte_order_mark_bytes(text(), guess_.encoding));
    if (is_utf16(guess_.encoding)) start_decoding();
    count_filling(text());
    if (at_end_) drop_filling();
  }

  const EncodingGuess& guess() const { return guess_; }
  std::string_view text() const { return {buffer_.data() + begin_, end_ - begin_}; }
  bool at_end() const { return at_end_; }
  void use(std::size_t bytes) { begin_ += bytes; }
  /// Without what is to be ignored if nothing follows.
  std::string_view certain_text() const { return text().substr(0, text().size() - filling()); }

  /// Reads as much again as there is, so that whoever starts anew with more stays linear.
  void read_more() {
    const std::size_t ahead = end_ - begin_;
    std::copy(buffer_.begin() + static_cast<std::ptrdiff_t>(begin_),
              buffer_.begin() + static_cast<std::ptrdiff_t>(end_), buffer_.begin());
    begin_ = 0;
    end_ = ahead;
    const std::size_t enough = ahead + std::max<std::size_t>(ahead, 1);
    while (end_ < enough && !at_end_) {
      const std::size_t before = end_;
      decoder_ ? read_decoded() : read_raw();
      count_filling({buffer_.data() + before, end_ - before});
      drop_excess_filling();
    }
    if (at_end_) drop_filling();
  }

 private:
  std::size_t filling() const { return std::min(filling_, end_ - begin_); }

  std::size_t read_chunk(char* to) {
    const std::size_t count = std::min(read_(to, chunk_bytes), chunk_bytes);
    at_end_ = count == 0;
    return count;
  }

  void make_room(std::size_t bytes) {
    if (buffer_.size() < end_ + bytes) buffer_.resize(end_ + bytes);
  }

  void read_raw() {
    make_room(chunk_bytes);
    end_ += read_chunk(buffer_.data() + end_);
  }

  void read_decoded() {
    if (raw_.size() < chunk_bytes) raw_.resize(chunk_bytes);
    const std::size_t count = read_chunk(raw_.data());
    append_decoded({raw_.data(), count});
  }

  void start_decoding() {
    decoder_.emplace(guess_.encoding == TextEncoding::utf16_be);
    raw_ = text();
    begin_ = end_ = 0;
    append_decoded(raw_);
  }

  void append_decoded(std::string_view raw) {
    decoded_.clear();
    decoder_->append(raw, decoded_);
    if (at_end_) decoder_->finish(decoded_);
    make_room(decoded_.size());
    std::copy(decoded_.begin(), decoded_.end(),
              buffer_.begin() + static_cast<std::ptrdiff_t>(end_));
    end_ += decoded_.size();
  }

  void count_filling(std::string_view added) {
    const std::size_t rest = bytes_without_filling(added);
    filling_ = added.size() - rest + (rest == 0 ? filling_ : 0);
  }

  /// Filling longer than a record or the window may be is as good as more: whatever it belongs to
  /// is cut, or nothing follows.
  void drop_excess_filling() {
    if (filling() <= longest_filling_) return;
    end_ -= filling() - longest_filling_;
    filling_ = longest_filling_;
  }

  void drop_filling() {
    end_ = begin_ + bytes_without_filling(text());
    filling_ = 0;
  }

  ReadBytes read_;
  EncodingGuess guess_;
  std::optional<Utf16Decoder> decoder_;
  std::vector<char> buffer_;
  std::size_t begin_ = 0;
  std::size_t end_ = 0;
  bool at_end_ = false;
  std::size_t filling_ = 0;
  std::size_t longest_filling_;
  std::string raw_;
  std::string decoded_;
};

}  // namespace

class DelimitedReader::Records {
 public:
  Records(ReadBytes read, const DelimitedOptions& options)
      : longest_record_(
            std::clamp(options.longest_record_bytes, std::size_t{16}, std::size_t{256} << 20)),
        ahead_(std::move(read), options, std::max(longest_record_, window_of(options)) + 1),
        encoding_is_given_(options.encoding),
        separator_(decide_separator(options.separator, window_of(options))),
        splitter_(separator_.separator, separator_.usual_cells),
        evidence_(ahead_.guess().evidence) {}

  const EncodingGuess& encoding() const { return ahead_.guess(); }
  const SeparatorGuess& separator() const { return separator_; }

  bool next(RecordBlock& into, std::size_t most) {
    into.records.clear();
    into.text_.clear();
    places_.clear();
    while (into.records.size() < most && into.text_.size() < longest_block_bytes &&
           next_line(into)) {
    }
    into.cells_.clear();
    into.cells_.reserve(places_.size());
    for (const Place& place : places_) {
      into.cells_.emplace_back(into.text_.data() + place.begin, place.bytes);
    }
    return !into.records.empty();
  }

 private:
  /// Of a cell in the text of a block, which moves while it grows.
  struct Place {
    std::size_t begin;
    std::size_t bytes;
  };

  SeparatorGuess decide_separator(std::optional<char> given, std::size_t window_bytes) {
    // Exactly a window, lest the guess depend on the pieces in which the text comes.
    const auto window = [&] {
      while (ahead_.certain_text().size() <= window_bytes && !ahead_.at_end()) ahead_.read_more();
      return ahead_.certain_text();
    };
    if (const auto line = read_separator_line(window())) {
      if (!given) given = line->separator;
      ahead_.use(line->bytes);
      ++line_;
    }
    const std::string_view text = window();
    return guess_separator(text.substr(0, window_bytes), text.size() <= window_bytes, given);
  }

  /// The text at hand up to the longest record.
  std::string_view longest_text(TextEnd& end) const {
    const std::string_view text = ahead_.certain_text();
    end = ahead_.at_end() ? TextEnd::file_end : TextEnd::more;
    if (text.size() <= longest_record_) return text;
    end = TextEnd::cut;
    std::size_t bytes = longest_record_;
    for (int i = 0; i < 3 && is_continuation(text[bytes]); ++i) --bytes;
    return text.substr(0, bytes);
  }

  /// Makes a record of the next line, or of several; false at the end of the file.
  bool next_line(RecordBlock& into) {
    RecordShape shape;
    std::string_view text;
    TextEnd end{};
    for (;;) {
      text = longest_text(end);
      if (text.empty() && ahead_.at_end()) return false;
      shape = splitter_.split(text, end, raw_cells_);
      if (!shape.starved) break;
      ahead_.read_more();
    }
    const bool too_long = shape.unended && end == TextEnd::cut;
    add(into, text.substr(0, shape.bytes),
        {.line = line_, .quotes_mended = shape.quotes_mended, .too_long = too_long});
    ahead_.use(shape.bytes);
    line_ += shape.lines;
    if (too_long) skip_line();
    return true;
  }

  void skip_line() {
    for (;;) {
      const std::string_view text = ahead_.text();
      const std::size_t end = text.find_first_of("\r\n");
      if (end != std::string_view::npos) return use_line_end(end);
      ahead_.use(text.size());
      if (ahead_.at_end()) return;
      ahead_.read_more();
    }
  }

  void use_line_end(std::size_t at) {
    const bool is_return = ahead_.text()[at] == '\r';
    ahead_.use(at + 1);
    if (!is_return) return;
    if (ahead_.text().empty() && !ahead_.at_end()) ahead_.read_more();
    if (ahead_.text().starts_with('\n')) ahead_.use(1);
  }

  void add(RecordBlock& into, std::string_view bytes, RecordBlock::Record record) {
    const std::size_t first_place = places_.size();
    const std::size_t first_byte = into.text_.size();
    into.text_.insert(into.text_.end(), bytes.begin(), bytes.end());
    for (const RawCell& raw : raw_cells_) {
      Place place{first_byte + raw.begin, raw.bytes};
      if (raw.quotes_doubled) {
        place.bytes = undouble_quotes(into.text_.data() + place.begin, place.bytes);
      }
      places_.push_back(place);
    }
    if (!is_ascii(bytes)) decode(into, bytes, first_place, record);
    const bool is_blank = std::all_of(places_.begin() + static_cast<std::ptrdiff_t>(first_place),
                                      places_.end(), [](Place place) { return place.bytes == 0; });
    if (is_blank && !record.too_long) {
      places_.resize(first_place);
      into.text_.resize(first_byte);
      return;
    }
    record.first_cell = static_cast<std::uint32_t>(first_place);
    record.cell_count = static_cast<std::uint32_t>(places_.size() - first_place);
    into.records.push_back(record);
  }

  void decode(RecordBlock& into, std::string_view bytes, std::size_t first_place,
              RecordBlock::Record& record) {
    TextEncoding page = encoding().encoding;
    if (is_utf16(page)) page = TextEncoding::utf8;
    if (page == TextEncoding::utf8 && !is_utf8(bytes)) {
      record.foreign_bytes = true;
      if (!encoding_is_given_) {
        evidence_.add(bytes);
        page = evidence_.page();
      }
    }
    for (std::size_t i = first_place; i < places_.size(); ++i) {
      decode_cell(into.text_, places_[i], page);
    }
  }

  /// Cells of UTF-8 in a record of another encoding stay.
  void decode_cell(std::vector<char>& text, Place& place, TextEncoding page) {
    std::string_view cell(text.data() + place.begin, place.bytes);
    if (is_ascii(cell)) return;
    const bool file_is_utf8 = !is_code_page(encoding().encoding);
    if (!(file_is_utf8 && is_utf8(cell))) {
      decoded_.clear();
      append_as_utf8(cell, page, decoded_);
      place = {text.size(), decoded_.size()};
      text.insert(text.end(), decoded_.begin(), decoded_.end());
      cell = {text.data() + place.begin, place.bytes};
    }
    const std::string_view trimmed = without_blanks(cell);
    place.begin += static_cast<std::size_t>(trimmed.data() - cell.data());
    place.bytes = trimmed.size();
  }

  std::size_t longest_record_;
  TextAhead ahead_;
  bool encoding_is_given_;
  std::size_t line_ = 1;
  SeparatorGuess separator_;
  RecordSplitter splitter_;
  CodePageEvidence evidence_;
  std::vector<RawCell> raw_cells_;
  std::vector<Place> places_;
  std::string decoded_;
};

DelimitedReader::DelimitedReader(ReadBytes read, const DelimitedOptions& options)
    : records_(std::make_unique<Records>(std::move(read), options)) {}
DelimitedReader::~DelimitedReader() = default;
DelimitedReader::DelimitedReader(DelimitedReader&&) noexcept = default;
DelimitedReader& DelimitedReader::operator=(DelimitedReader&&) noexcept = default;

char DelimitedReader::separator() const {
  return records_->separator().separator;
}
TextEncoding DelimitedReader::encoding() const {
  return records_->encoding().encoding;
}
std::string_view DelimitedReader::encoding_reason() const {
  return records_->encoding().reason;
}
std::size_t DelimitedReader::usual_cell_count() const {
  return records_->separator().usual_cells;
}

bool DelimitedReader::next(RecordBlock& into, std::size_t most) {
  return records_->next(into, most);
}

}  // namespace slantrule
