#pragma once

/// What the bytes of a list mean as text. Lists come from spreadsheets of many countries, so that
/// UTF-8, UTF-16 and two code pages are met; everything behind this header is UTF-8.

#include <cstddef>
#include <string>
#include <string_view>

namespace slantrule {

/// ISO 8859-1 (Latin-1) is read as Windows-1252, which has letters where Latin-1 has controls.
enum class TextEncoding { utf8, windows_1252, windows_1250, utf16_le, utf16_be, windows_1251 };

/// As registered with IANA: "UTF-8", "windows-1252", ...
std::string_view encoding_name(TextEncoding encoding);

/// Length of the well-formed UTF-8 sequence at the start of `text`, 1 to 4; 0: none stands there.
/// Source: The Unicode Standard, table 3-7 (no overlong forms, no surrogates).
std::size_t utf8_sequence_bytes(std::string_view text);

bool is_ascii(std::string_view text);
bool is_utf8(std::string_view text);

void append_character(char32_t character, std::string& out);

/// A byte of a code page as a character; bytes that the page leaves undefined are U+FFFD.
/// Source: Unicode Consortium, MAPPINGS/VENDORS/MICSFT/WINDOWS/CP1252.TXT, CP1250.TXT and
/// CP1251.TXT.
char32_t code_page_character(unsigned char byte, TextEncoding page);

/// Appends bytes of a code page, or of UTF-8 with each byte of a malformed sequence as U+FFFD.
void append_as_utf8(std::string_view bytes, TextEncoding encoding, std::string& out);

/// Weighs which of the code pages a text is written in. All give most bytes a meaning, so the
/// neighbours decide: 0xB3 is a letter within a word and a superscript behind "m"; words that are
/// all bytes from 0xC0 on are Cyrillic, as Latin words have a marked letter here and there. The
/// rules are derived from the spelling of the languages that use the pages.
class CodePageEvidence {
 public:
  void add(std::string_view bytes);
  /// Windows-1252 where nothing speaks for the other.
  TextEncoding page() const;

 private:
  void add_word(std::string_view word);

  int for_1250_ = 0;
  int for_1252_ = 0;
  int for_1251_ = 0;      ///< letters of words that are Cyrillic throughout
  int against_1251_ = 0;  ///< letters of words that mix bytes from 0xC0 on with ASCII
};

struct EncodingGuess {
  TextEncoding encoding = TextEncoding::utf8;
  std::size_t mark_bytes = 0;  ///< of a byte order mark at the start
  CodePageEvidence evidence;   ///< of the bytes that are no UTF-8
  std::string_view reason;     ///< one clause for people
};

/// Judges the start of a file; `whole` says that nothing follows. A byte order mark is obeyed; NULs
/// at every other place mean UTF-16; what is valid UTF-8, or nearly so, is UTF-8; the rest is in a
/// code page.
EncodingGuess guess_encoding(std::string_view start, bool whole);

/// Bytes of a byte order mark that stands for `encoding`. Text in a code page has none of its own,
/// but some programs set that of UTF-8 before it.
std::size_t byte_order_mark_bytes(std::string_view start, TextEncoding encoding);

/// UTF-16 to UTF-8, piece by piece. Halves of a pair without the other are U+FFFD.
class Utf16Decoder {
 public:
  explicit Utf16Decoder(bool big_endian) : big_endian_(big_endian) {}
  void append(std::string_view bytes, std::string& out);
  /// What is left of a character when the text ends.
  void finish(std::string& out);

 private:
  void append_unit(char32_t unit, std::string& out);

  bool big_endian_;
  bool has_half_ = false;
  unsigned char half_ = 0;  ///< first byte of a unit
  char32_t high_ = 0;       ///< first unit of a surrogate pair, or 0
};

}  // namespace slantrule
