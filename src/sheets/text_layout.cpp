#include "slantrule/sheets/text_layout.hpp"

#include <algorithm>

namespace slantrule {
namespace {

bool starts_code_point(char c) {
  return (static_cast<unsigned char>(c) & 0xC0) != 0x80;
}

/// Bytes of the first `count` code points.
std::size_t bytes_of(std::string_view text, std::size_t count) {
  std::size_t seen = 0;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (starts_code_point(text[i]) && seen++ == count) return i;
  }
  return text.size();
}

}  // namespace

std::size_t columns(std::string_view text) {
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), starts_code_point));
}

std::vector<std::string> wrapped(std::string_view text, std::string_view first,
                                 std::string_view next, std::size_t width) {
  std::vector<std::string> lines;
  std::string line(first);
  std::size_t used = columns(first);
  bool empty = true;
  const auto flush = [&] {
    lines.push_back(std::move(line));
    line = next;
    used = columns(next);
    empty = true;
  };
  while (!text.empty()) {
    const std::size_t blank = std::min(text.find(' '), text.size());
    std::string_view word = text.substr(0, blank);
    text.remove_prefix(std::min(blank + 1, text.size()));
    if (word.empty()) continue;
    if (!empty && used + 1 + columns(word) > width) flush();
    while (used + columns(word) > width && columns(word) > 1) {
      const std::size_t room = std::max<std::size_t>(1, width - std::min(used, width - 1));
      const std::size_t cut = bytes_of(word, room);
      line += word.substr(0, cut);
      word.remove_prefix(cut);
      flush();
    }
    if (!empty) {
      line += ' ';
      ++used;
    }
    line += word;
    used += columns(word);
    empty = false;
  }
  if (!empty || lines.empty()) lines.push_back(std::move(line));
  return lines;
}

std::string padded(std::string_view text, std::size_t width) {
  const std::size_t have = columns(text);
  if (have <= width) return std::string(text) + std::string(width - have, ' ');
  const std::size_t keep = width > 3 ? width - 3 : 0;
  return std::string(text.substr(0, bytes_of(text, keep))) + std::string(width - keep, '.');
}

std::string two_ends(std::string_view left, std::string_view right, std::size_t width) {
  const std::size_t right_columns = std::min(columns(right), width / 2);
  return padded(left, width - right_columns - 1) + " " + padded(right, right_columns);
}

}  // namespace slantrule
