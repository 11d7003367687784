#include "slantrule/files/text_encoding.hpp"

#include <algorithm>
#include <array>
#include <cstdint>
#include <cstring>
#include <utility>

namespace slantrule {
namespace {

constexpr char32_t replacement = 0xFFFD;

// clang-format off
/// CP1252.TXT, 0x80 to 0x9F; from 0xA0 on the page is that of ISO 8859-1.
constexpr std::array<char16_t, 32> page_1252 = {
    0x20AC, 0xFFFD, 0x201A, 0x0192, 0x201E, 0x2026, 0x2020, 0x2021,  // 80
    0x02C6, 0x2030, 0x0160, 0x2039, 0x0152, 0xFFFD, 0x017D, 0xFFFD,  // 88
    0xFFFD, 0x2018, 0x2019, 0x201C, 0x201D, 0x2022, 0x2013, 0x2014,  // 90
    0x02DC, 0x2122, 0x0161, 0x203A, 0x0153, 0xFFFD, 0x017E, 0x0178,  // 98
};

/// CP1250.TXT, 0x80 to 0xFF.
constexpr std::array<char16_t, 128> page_1250 = {
    0x20AC, 0xFFFD, 0x201A, 0xFFFD, 0x201E, 0x2026, 0x2020, 0x2021,  // 80
    0xFFFD, 0x2030, 0x0160, 0x2039, 0x015A, 0x0164, 0x017D, 0x0179,  // 88
    0xFFFD, 0x2018, 0x2019, 0x201C, 0x201D, 0x2022, 0x2013, 0x2014,  // 90
    0xFFFD, 0x2122, 0x0161, 0x203A, 0x015B, 0x0165, 0x017E, 0x017A,  // 98
    0x00A0, 0x02C7, 0x02D8, 0x0141, 0x00A4, 0x0104, 0x00A6, 0x00A7,  // A0
    0x00A8, 0x00A9, 0x015E, 0x00AB, 0x00AC, 0x00AD, 0x00AE, 0x017B,  // A8
    0x00B0, 0x00B1, 0x02DB, 0x0142, 0x00B4, 0x00B5, 0x00B6, 0x00B7,  // B0
    0x00B8, 0x0105, 0x015F, 0x00BB, 0x013D, 0x02DD, 0x013E, 0x017C,  // B8
    0x0154, 0x00C1, 0x00C2, 0x0102, 0x00C4, 0x0139, 0x0106, 0x00C7,  // C0
    0x010C, 0x00C9, 0x0118, 0x00CB, 0x011A, 0x00CD, 0x00CE, 0x010E,  // C8
    0x0110, 0x0143, 0x0147, 0x00D3, 0x00D4, 0x0150, 0x00D6, 0x00D7,  // D0
    0x0158, 0x016E, 0x00DA, 0x0170, 0x00DC, 0x00DD, 0x0162, 0x00DF,  // D8
    0x0155, 0x00E1, 0x00E2, 0x0103, 0x00E4, 0x013A, 0x0107, 0x00E7,  // E0
    0x010D, 0x00E9, 0x0119, 0x00EB, 0x011B, 0x00ED, 0x00EE, 0x010F,  // E8
    0x0111, 0x0144, 0x0148, 0x00F3, 0x00F4, 0x0151, 0x00F6, 0x00F7,  // F0
    0x0159, 0x016F, 0x00FA, 0x0171, 0x00FC, 0x00FD, 0x0163, 0x02D9,  // F8
};

/// CP1251.TXT, 0x80 to 0xBF; from 0xC0 on the letters stand as in Unicode from U+0410 on.
constexpr std::array<char16_t, 64> page_1251 = {
    0x0402, 0x0403, 0x201A, 0x0453, 0x201E, 0x2026, 0x2020, 0x2021,  // 80
    0x20AC, 0x2030, 0x0409, 0x2039, 0x040A, 0x040C, 0x040B, 0x040F,  // 88
    0x0452, 0x2018, 0x2019, 0x201C, 0x201D, 0x2022, 0x2013, 0x2014,  // 90
    0xFFFD, 0x2122, 0x0459, 0x203A, 0x045A, 0x045C, 0x045B, 0x045F,  // 98
    0x00A0, 0x040E, 0x045E, 0x0408, 0x00A4, 0x0490, 0x00A6, 0x00A7,  // A0
    0x0401, 0x00A9, 0x0404, 0x00AB, 0x00AC, 0x00AD, 0x00AE, 0x0407,  // A8
    0x00B0, 0x00B1, 0x0406, 0x0456, 0x0491, 0x00B5, 0x00B6, 0x00B7,  // B0
    0x0451, 0x2116, 0x0454, 0x00BB, 0x0458, 0x0405, 0x0455, 0x0457,  // B8
};
// clang-format on

constexpr unsigned char byte_at(std::string_view text, std::size_t at) {
  return at < text.size() ? static_cast<unsigned char>(text[at]) : 0;
}

/// Small letters of both pages stand 0x20 above the capitals, 0x10 in the row of s, t, z and their
/// marks.
unsigned char small_letter(unsigned char c) {
  if ((c >= 'A' && c <= 'Z') || (c >= 0xC0 && c <= 0xDE && c != 0xD7)) {
    return static_cast<unsigned char>(c + 0x20);
  }
  if (c == 0x8A || (c >= 0x8C && c <= 0x8F)) return static_cast<unsigned char>(c + 0x10);
  return c;
}

bool is_digit(unsigned char c) {
  return c >= '0' && c <= '9';
}

bool is_letter(unsigned char c) {
  const unsigned char small = small_letter(c);
  return (small >= 'a' && small <= 'z') || (small >= 0xDF && small != 0xF7) || small == 0x9A ||
         (small >= 0x9C && small <= 0x9F);
}

/// Letters that are vowels in both pages, and e with caron, u with ring.
bool is_vowel(unsigned char c) {
  static constexpr std::string_view vowels =
      "aeiouy\xE1\xE2\xE4\xE9\xEB\xEC\xED\xEE\xF3\xF4\xF6\xF9\xFA\xFC\xFD";
  return vowels.find(static_cast<char>(small_letter(c))) != std::string_view::npos;
}

/// A byte beyond ASCII between its neighbours; 0 where there is none.
struct Spot {
  unsigned char before, after;

  bool within_word() const { return is_letter(before) || is_letter(after); }
};

/// How much a byte speaks for Windows-1250 (positive) or Windows-1252 (negative) at its spot. The
/// comments give the character in 1250 and in 1252.
struct Leaning {
  unsigned char byte;  ///< small letter
  int (*weight)(Spot);
};

constexpr Leaning leanings[] = {
    // s, z with caron, in both pages; its languages use 1250
    {0x9A, [](Spot s) { return s.within_word() ? 2 : 0; }},
    {0x9E, [](Spot s) { return s.within_word() ? 2 : 0; }},
    // s with acute, oe: "coeur", "manoeuvre"
    {0x9C, [](Spot s) { return !s.within_word()               ? 0
                               : small_letter(s.after) == 'u' ? -2
                                                              : 2; }},
    // t with caron, undefined; z with acute, Y with diaeresis
    {0x9D, [](Spot s) { return s.within_word() ? 3 : 0; }},
    {0x9F, [](Spot s) { return s.within_word() ? 2 : 0; }},
    // capital L with stroke, pound
    {0xA3, [](Spot s) { return is_letter(s.after)  ? 2
                               : is_digit(s.after) ? -2
                                                   : 0; }},
    // capital A with ogonek, yen
    {0xA5, [](Spot s) { return is_letter(s.before) && is_letter(s.after) ? 2 : 0; }},
    // capital S with cedilla, feminine ordinal; small s with cedilla, masculine ordinal
    {0xAA, [](Spot s) { return is_letter(s.after)   ? 2
                               : is_digit(s.before) ? -2
                                                    : 0; }},
    {0xBA,
     [](Spot s) {
       if (is_letter(s.after)) return 2;
       return is_digit(s.before) || small_letter(s.before) == 'n' ? -2 : 0;
     }},
    // capital Z with dot, macron
    {0xAF, [](Spot s) { return is_letter(s.after) ? 2 : 0; }},
    // ogonek, superscript two
    {0xB2, [](Spot s) { return is_letter(s.before) ? -2 : 0; }},
    // l with stroke, superscript three: m3/h
    {0xB3,
     [](Spot s) {
       if (is_letter(s.after) || is_vowel(s.before)) return 3;
       return small_letter(s.before) == 'm' || small_letter(s.before) == 't' ? -3 : 0;
     }},
    // a with ogonek, superscript one
    {0xB9, [](Spot s) { return !is_letter(s.before) ? -1
                               : is_letter(s.after) ? 3
                                                    : 1; }},
    // capital and small l with caron, one quarter and three quarters; double acute, one half
    {0xBC, [](Spot s) { return is_letter(s.before) ? 2 : -2; }},
    {0xBE, [](Spot s) { return is_letter(s.before) ? 2 : -2; }},
    {0xBD, [](Spot s) { return is_letter(s.before) ? 0 : -1; }},
    // z with dot, inverted question mark
    {0xBF, [](Spot s) { return is_letter(s.before)  ? 3
                               : is_letter(s.after) ? 1
                                                    : 0; }},
    // r with acute, a with grave
    {0xE0, [](Spot) { return -1; }},
    // a with breve, a with tilde: "tubulacao", "dimensoes" with tildes
    {0xE3,
     [](Spot s) {
       const unsigned char after = small_letter(s.after);
       return after == 'o' || after == 'e' ? -2 : is_letter(s.before) ? 1 : 0;
     }},
    {0xF5,
     [](Spot s) {
       const unsigned char after = small_letter(s.after);
       return after == 'e' || after == 0xF5 ? -2 : s.within_word() ? 2 : 0;
     }},
    // l with acute, a with ring
    {0xE5, [](Spot s) { return s.within_word() ? -2 : 0; }},
    // c with acute, ae
    {0xE6,
     [](Spot s) {
       if (!s.within_word()) return 0;
       return is_vowel(s.before) || is_vowel(s.after) || !is_letter(s.after) ? 2 : -2;
     }},
    // c with caron, e with grave: the former before vowels and at the start, the latter as in
    // "metre", "polyethylene", "matiere"
    {0xE8,
     [](Spot s) {
       if (!s.within_word()) return -1;
       if (!is_letter(s.before) || is_vowel(s.after)) return 2;
       if (!is_letter(s.after) || small_letter(s.before) == 'i') return 0;
       return is_vowel(s.before) ? 2 : -2;
     }},
    // e with ogonek, e with circumflex
    {0xEA,
     [](Spot s) {
       if (!is_letter(s.before)) return 0;
       const unsigned char after = small_letter(s.after);
       return after == 't' || after == 'm' || after == 'n' ? -1 : 1;
     }},
    // e with caron, i with grave; u with ring, u with grave: these at the end of Italian words
    {0xEC, [](Spot s) { return is_letter(s.after) ? 2 : -1; }},
    {0xF9, [](Spot s) { return is_letter(s.after) ? 2 : -1; }},
    // d with caron, i with diaeresis
    {0xEF, [](Spot s) { return is_letter(s.after)    ? -1
                               : is_letter(s.before) ? 1
                                                     : 0; }},
    // d with stroke, eth
    {0xF0, [](Spot s) { return s.within_word() ? 2 : 0; }},
    // n with acute, n with tilde
    {0xF1, [](Spot s) { return is_vowel(s.after)     ? -2
                               : is_letter(s.before) ? 2
                                                     : 0; }},
    // n with caron, o with grave
    {0xF2, [](Spot s) { return is_letter(s.after) ? 1 : -1; }},
    // r with caron, o with stroke: alone it is the sign of diameter
    {0xF8,
     [](Spot s) {
       if (!is_letter(s.after)) return is_letter(s.before) ? 0 : -3;
       return is_vowel(s.after) ? 2 : -2;
     }},
    // u with double acute, u with circumflex; t with cedilla, thorn
    {0xFB, [](Spot s) { return s.within_word() ? 1 : 0; }},
    {0xFE, [](Spot s) { return s.within_word() ? 1 : 0; }},
};

using WeightOfByte = std::array<int (*)(Spot), 256>;

constexpr WeightOfByte weight_of_byte = [] {
  WeightOfByte weights{};
  for (const Leaning& leaning : leanings) weights[leaning.byte] = leaning.weight;
  return weights;
}();

/// Sequences of UTF-8 beyond ASCII, and bytes that belong to none.
struct Utf8Count {
  std::size_t sequences = 0;
  std::size_t strays = 0;
};

Utf8Count count_utf8(std::string_view text, bool whole) {
  Utf8Count count;
  for (std::size_t at = 0; at < text.size();) {
    if (byte_at(text, at) < 0x80) {
      ++at;
      continue;
    }
    const std::size_t bytes = utf8_sequence_bytes(text.substr(at));
    // A sequence may go on behind the window.
    if (bytes == 0 && !whole && text.size() - at < 4) break;
    ++(bytes > 0 ? count.sequences : count.strays);
    at += std::max<std::size_t>(bytes, 1);
  }
  return count;
}

/// Text that is mostly ASCII has a NUL in nearly every unit, always on the same side; digits,
/// blanks and separators give even a Cyrillic list one in four.
bool looks_like_utf16(std::string_view text, std::size_t side_of_nul) {
  std::array<std::size_t, 2> nuls{};
  for (std::size_t at = 0; at < text.size(); ++at) {
    if (text[at] == '\0') ++nuls[at % 2];
  }
  return nuls[side_of_nul] >= 2 && nuls[side_of_nul] * 8 >= text.size() &&
         nuls[1 - side_of_nul] * 8 <= nuls[side_of_nul];
}

}  // namespace

std::string_view encoding_name(TextEncoding encoding) {
  switch (encoding) {
    case TextEncoding::utf8:
      return "UTF-8";
    case TextEncoding::windows_1252:
      return "windows-1252";
    case TextEncoding::windows_1250:
      return "windows-1250";
    case TextEncoding::utf16_le:
      return "UTF-16LE";
    case TextEncoding::utf16_be:
      return "UTF-16BE";
    case TextEncoding::windows_1251:
      return "windows-1251";
  }
  return {};
}

std::size_t utf8_sequence_bytes(std::string_view text) {
  const unsigned char first = byte_at(text, 0);
  if (first < 0x80) return text.empty() ? 0 : 1;
  if (first < 0xC2 || first > 0xF4) return 0;
  const std::size_t bytes = first < 0xE0 ? 2 : first < 0xF0 ? 3 : 4;
  if (text.size() < bytes) return 0;
  const unsigned char least = first == 0xE0 ? 0xA0 : first == 0xF0 ? 0x90 : 0x80;
  const unsigned char most = first == 0xED ? 0x9F : first == 0xF4 ? 0x8F : 0xBF;
  if (byte_at(text, 1) < least || byte_at(text, 1) > most) return 0;
  for (std::size_t at = 2; at < bytes; ++at) {
    if ((byte_at(text, at) & 0xC0) != 0x80) return 0;
  }
  return bytes;
}

bool is_ascii(std::string_view text) {
  std::uint64_t seen = 0;
  std::size_t at = 0;
  for (; at + sizeof seen <= text.size(); at += sizeof seen) {
    std::uint64_t word = 0;
    std::memcpy(&word, text.data() + at, sizeof word);
    seen |= word;
  }
  for (; at < text.size(); ++at) seen |= static_cast<unsigned char>(text[at]);
  return (seen & 0x8080808080808080u) == 0;
}

bool is_utf8(std::string_view text) {
  for (std::size_t at = 0; at < text.size();) {
    if (byte_at(text, at) < 0x80) {
      ++at;
      continue;
    }
    const std::size_t bytes = utf8_sequence_bytes(text.substr(at));
    if (bytes == 0) return false;
    at += bytes;
  }
  return true;
}

void append_character(char32_t c, std::string& out) {
  const auto put = [&out](char32_t byte) { out += static_cast<char>(byte); };
  if (c < 0x80) {
    put(c);
  } else if (c < 0x800) {
    put(0xC0 | (c >> 6));
    put(0x80 | (c & 0x3F));
  } else if (c < 0x10000) {
    put(0xE0 | (c >> 12));
    put(0x80 | ((c >> 6) & 0x3F));
    put(0x80 | (c & 0x3F));
  } else {
    put(0xF0 | (c >> 18));
    put(0x80 | ((c >> 12) & 0x3F));
    put(0x80 | ((c >> 6) & 0x3F));
    put(0x80 | (c & 0x3F));
  }
}

char32_t code_page_character(unsigned char byte, TextEncoding page) {
  if (byte < 0x80) return byte;
  if (page == TextEncoding::windows_1250) return page_1250[byte - 0x80u];
  if (page == TextEncoding::windows_1251) {
    return byte < 0xC0 ? page_1251[byte - 0x80u] : 0x0410u + (byte - 0xC0u);
  }
  return byte < 0xA0 ? page_1252[byte - 0x80u] : byte;
}

void append_as_utf8(std::string_view bytes, TextEncoding encoding, std::string& out) {
  if (encoding != TextEncoding::utf8) {
    for (const char c : bytes) {
      append_character(code_page_character(static_cast<unsigned char>(c), encoding), out);
    }
    return;
  }
  for (std::size_t at = 0; at < bytes.size();) {
    const std::size_t length = utf8_sequence_bytes(bytes.substr(at));
    if (length == 0) append_character(replacement, out);
    out += bytes.substr(at, length);
    at += std::max<std::size_t>(length, 1);
  }
}

void CodePageEvidence::add_word(std::string_view word) {
  const auto is_high = [](char c) { return static_cast<unsigned char>(c) >= 0xC0; };
  const auto high = static_cast<int>(std::count_if(word.begin(), word.end(), is_high));
  if (high == 0) return;
  const bool all = high == static_cast<int>(word.size());
  // A letter alone is the sign of diameter or the French for "at"; two may be a word of either.
  if (all && high > 1) for_1251_ += high;
  if (!all) against_1251_ += static_cast<int>(word.size());
}

void CodePageEvidence::add(std::string_view bytes) {
  // Enough to decide; the sums stay small.
  constexpr int enough = 1'000'000;
  std::size_t word = 0;
  for (std::size_t at = 0; at < bytes.size() && std::max(for_1250_, for_1252_) < enough; ++at) {
    const unsigned char byte = byte_at(bytes, at);
    if (!is_letter(byte)) {
      add_word(bytes.substr(word, at - word));
      word = at + 1;
    }
    if (byte < 0x80) continue;
    const auto weight = weight_of_byte[small_letter(byte)];
    if (weight == nullptr) continue;
    const int leaning = weight(
        {at == 0 ? static_cast<unsigned char>(0) : byte_at(bytes, at - 1), byte_at(bytes, at + 1)});
    (leaning > 0 ? for_1250_ : for_1252_) += std::abs(leaning);
  }
  if (word < bytes.size()) add_word(bytes.substr(word));
}

TextEncoding CodePageEvidence::page() const {
  if (for_1251_ >= 3 && for_1251_ > 2 * against_1251_) return TextEncoding::windows_1251;
  return for_1250_ > for_1252_ ? TextEncoding::windows_1250 : TextEncoding::windows_1252;
}

std::size_t byte_order_mark_bytes(std::string_view start, TextEncoding encoding) {
  constexpr std::string_view marks[] = {"\xEF\xBB\xBF", "\xFF\xFE", "\xFE\xFF"};
  const std::string_view mark = encoding == TextEncoding::utf16_le   ? marks[1]
                                : encoding == TextEncoding::utf16_be ? marks[2]
                                                                     : marks[0];
  return start.starts_with(mark) ? mark.size() : 0;
}

EncodingGuess guess_encoding(std::string_view start, bool whole) {
  EncodingGuess guess;
  for (const TextEncoding marked :
       {TextEncoding::utf8, TextEncoding::utf16_le, TextEncoding::utf16_be}) {
    guess.mark_bytes = byte_order_mark_bytes(start, marked);
    if (guess.mark_bytes == 0) continue;
    guess.encoding = marked;
    guess.reason = "a byte order mark stands at its start";
    return guess;
  }
  for (const std::size_t side : {std::size_t{1}, std::size_t{0}}) {
    if (!looks_like_utf16(start, side)) continue;
    guess.encoding = side == 1 ? TextEncoding::utf16_le : TextEncoding::utf16_be;
    guess.reason = "every other byte is a NUL";
    return guess;
  }
  const Utf8Count count = count_utf8(start, whole);
  if (count.strays == 0) {
    guess.reason = count.sequences > 0 ? "all its bytes are valid UTF-8" : "it is plain ASCII";
    return guess;
  }
  if (count.sequences >= 2 * count.strays) {
    guess.reason = "nearly all its letters beyond ASCII are valid UTF-8";
    return guess;
  }
  guess.evidence.add(start);
  guess.encoding = guess.evidence.page();
  guess.reason = guess.encoding == TextEncoding::windows_1250
                     ? "its bytes are no UTF-8, and make words in Central European letters"
                 : guess.encoding == TextEncoding::windows_1251
                     ? "its bytes are no UTF-8, and make words in Cyrillic letters"
                     : "its bytes are no UTF-8";
  return guess;
}

void Utf16Decoder::append_unit(char32_t unit, std::string& out) {
  const bool is_high = unit >= 0xD800 && unit < 0xDC00;
  const bool is_low = unit >= 0xDC00 && unit < 0xE000;
  const char32_t high = std::exchange(high_, is_high ? unit : 0);
  if (high != 0 && is_low) {
    append_character(0x10000 + ((high - 0xD800) << 10) + (unit - 0xDC00), out);
    return;
  }
  if (high != 0) append_character(replacement, out);
  if (!is_high) append_character(is_low ? replacement : unit, out);
}

void Utf16Decoder::append(std::string_view bytes, std::string& out) {
  for (const char c : bytes) {
    const auto byte = static_cast<unsigned char>(c);
    if (!std::exchange(has_half_, !has_half_)) {
      half_ = byte;
      continue;
    }
    const char32_t first = half_;
    append_unit(big_endian_ ? first << 8 | byte : static_cast<char32_t>(byte) << 8 | first, out);
  }
}

void Utf16Decoder::finish(std::string& out) {
  // A lone NUL at the end is filling.
  const bool lost = high_ != 0 || (has_half_ && half_ != 0);
  high_ = 0;
  has_half_ = false;
  if (lost) append_character(replacement, out);
}

}  // namespace slantrule
