#include "marked_text.hpp"

#include <algorithm>

#include "slantrule/sheets/sheet_content.hpp"

namespace slantrule {
namespace {

constexpr std::string_view opening = "\u2068", closing = "\u2069";

void own_parts(std::string_view text, std::vector<TextPart>& parts) {
  while (!text.empty()) {
    const std::size_t blank = std::min(text.find(write_in), text.size());
    if (blank > 0) parts.push_back({TextPart::Kind::own, text.substr(0, blank)});
    text.remove_prefix(blank);
    if (text.empty()) return;
    parts.push_back({TextPart::Kind::blank, text.substr(0, write_in.size())});
    text.remove_prefix(write_in.size());
  }
}

}  // namespace

std::vector<TextPart> text_parts(std::string_view text) {
  std::vector<TextPart> parts;
  while (!text.empty()) {
    const std::size_t open = std::min(text.find(opening), text.size());
    own_parts(text.substr(0, open), parts);
    text.remove_prefix(std::min(open + opening.size(), text.size()));
    if (text.empty()) break;
    const std::size_t close = std::min(text.find(closing), text.size());
    parts.push_back({TextPart::Kind::of_job, text.substr(0, close)});
    text.remove_prefix(std::min(close + closing.size(), text.size()));
  }
  return parts;
}

}  // namespace slantrule
