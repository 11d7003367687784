#include "slantrule/units/suggest.hpp"

#include <algorithm>
#include <cstdint>
#include <vector>

#include "slantrule/units/ascii.hpp"

namespace slantrule {
namespace {

// A name from a catalogue is shorter than this; a longer text is no slip of one, and comparing it
// with every candidate would take long.
constexpr std::size_t kLongestName = 200;

constexpr bool is_separator(char c) {
  return c == ' ' || c == '-' || c == '_' || c == '\t';
}

std::string without_separators(std::string_view text) {
  std::string bare;
  for (char c : text) {
    if (!is_separator(c)) bare += lower(c);
  }
  return bare;
}

/// Optimal string alignment distance by bytes: Damerau-Levenshtein, with no part changed twice.
///
///     d(i,j) = min( d(i-1,j) + 1, d(i,j-1) + 1, d(i-1,j-1) + [a_i != b_j],
///                   d(i-2,j-2) + 1 if a_i a_(i-1) = b_(j-1) b_j )
///
/// Source: L. Boytsov, "Indexing methods for approximate dictionary searching", ACM J. Exp.
/// Algorithmics 16 (2011), section 2 (from memory).
std::size_t edit_distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> two_above(b.size() + 1), above(b.size() + 1), row(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) row[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    two_above.swap(above);
    above.swap(row);
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t replaced = above[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
      row[j] = std::min({above[j] + 1, row[j - 1] + 1, replaced});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) {
        row[j] = std::min(row[j], two_above[j - 2] + 1);
      }
    }
  }
  return row[b.size()];
}

/// Bytes of the well-formed UTF-8 character at the start of `text`, with its code point; length 1
/// and U+FFFD where there is none (Unicode Standard 15.0, table 3-7).
struct Character {
  std::size_t length;
  std::uint32_t code;
};

Character first_character(std::string_view text) {
  constexpr Character kInvalid{1, 0xFFFD};
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const std::uint32_t lead = byte(0);
  if (lead < 0x80) return {1, lead};
  const std::size_t length = lead >= 0xF0 ? 4 : lead >= 0xE0 ? 3 : 2;
  if (lead < 0xC2 || lead > 0xF4 || text.size() < length) return kInvalid;
  std::uint32_t code = lead & (0xFFU >> (length + 1));
  for (std::size_t i = 1; i < length; ++i) {
    if ((byte(i) & 0xC0U) != 0x80U) return kInvalid;
    code = (code << 6) | (byte(i) & 0x3FU);
  }
  const bool overlong = (length == 3 && code < 0x800) || (length == 4 && code < 0x10000);
  const bool surrogate = code >= 0xD800 && code <= 0xDFFF;
  if (overlong || surrogate || code > 0x10FFFF) return kInvalid;
  return {length, code};
}

/// Small letters of Latin-1, Latin Extended-A (Latin-2), Greek and Cyrillic; every other code stays
/// as it is (Unicode Standard 15.0, simple case mappings). All of two bytes in UTF-8.
std::uint32_t lower_letter(std::uint32_t code) {
  const auto in = [code](std::uint32_t first, std::uint32_t last) {
    return code >= first && code <= last;
  };
  const bool is_odd = (code & 1U) != 0;
  if (in(0xC0, 0xDE) && code != 0xD7) return code + 0x20;
  if (code == 0x178) return 0xFF;
  // Pairs of a capital and a small letter; the dotted capital and the dotless small i stay.
  if (in(0x100, 0x12F) || in(0x132, 0x137) || in(0x14A, 0x177)) return code | 1U;
  if ((in(0x139, 0x148) || in(0x179, 0x17E)) && is_odd) return code + 1;
  if (in(0x391, 0x3A9) && code != 0x3A2) return code + 0x20;
  if (in(0x400, 0x40F)) return code + 0x50;
  if (in(0x410, 0x42F)) return code + 0x20;
  return code;
}

void append_two_bytes(std::uint32_t code, std::string& to) {
  to += static_cast<char>(0xC0U | (code >> 6));
  to += static_cast<char>(0x80U | (code & 0x3FU));
}

/// Characters that steer a terminal or a line of text instead of showing something.
bool is_control(std::uint32_t code) {
  return code < 0x20 || (code >= 0x7F && code <= 0x9F) ||  // C0, DEL, C1
         code == 0x2028 || code == 0x2029 ||               // line and paragraph separator
         code == 0x200E || code == 0x200F || code == 0x061C ||
         (code >= 0x202A && code <= 0x202E) ||  // direction marks, embeddings and overrides
         (code >= 0x2066 && code <= 0x2069);    // direction isolates
}

}  // namespace

std::optional<std::string_view> nearest_name(std::string_view text,
                                             std::span<const std::string_view> candidates) {
  const std::string wanted = without_separators(text.substr(0, kLongestName + 1));
  if (wanted.empty() || text.size() > kLongestName) return {};
  const std::size_t limit = std::max<std::size_t>(1, wanted.size() / 3);

  std::optional<std::string_view> nearest;
  std::size_t least = limit + 1;
  for (std::string_view candidate : candidates) {
    const std::string bare = without_separators(candidate);
    const std::size_t longer = std::max(bare.size(), wanted.size());
    // The distance is no less than the difference of the lengths.
    if (longer - std::min(bare.size(), wanted.size()) >= least) continue;
    const std::size_t distance = edit_distance(wanted, bare);
    // As many edits as characters: nothing in common, no slip of anything.
    if (distance >= least || distance >= longer) continue;
    least = distance;
    nearest = candidate;
  }
  return nearest;
}

std::string folded_name(std::string_view text) {
  std::string folded;
  bool gap = false;
  for (std::size_t at = 0; at < text.size();) {
    const char c = text[at];
    if (is_separator(c)) {
      gap = true;
      ++at;
      continue;
    }
    if (gap && !folded.empty()) folded += '_';
    gap = false;
    if (static_cast<unsigned char>(c) < 0x80) {
      folded += lower(c);
      ++at;
      continue;
    }
    const Character character = first_character(text.substr(at));
    if (character.length == 2) {
      append_two_bytes(lower_letter(character.code), folded);
    } else {
      folded += text.substr(at, character.length);
    }
    at += character.length;
  }
  return folded;
}

std::string shown(std::string_view text, std::size_t most) {
  const bool plain = std::ranges::all_of(text, [](char c) { return c >= ' ' && c < 0x7F; });
  if (plain && text.size() <= most) return std::string(text);
  std::string out;
  for (std::size_t count = 0; !text.empty(); ++count) {
    if (count == most) return out + "...";
    const Character character = first_character(text);
    const bool invalid = character.length == 1 && character.code == 0xFFFD;
    if (invalid || is_control(character.code)) {
      out += '?';
    } else {
      out += text.substr(0, character.length);
    }
    text.remove_prefix(character.length);
  }
  return out;
}

}  // namespace slantrule
