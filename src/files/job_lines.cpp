#include "slantrule/files/job_lines.hpp"

#include <algorithm>

#include "slantrule/planning/job_keys.hpp"

namespace slantrule {

namespace {

/// What is kept of a line that is too long, to show it by.
constexpr std::size_t shown_of_long = 200;

}  // namespace

bool LineSplitter::fill() {
  if (ended_) return false;
  // What was taken out goes first, so that the buffer stays as small as its longest line.
  buffer_.erase(0, at_);
  at_ = 0;
  constexpr std::size_t step = std::size_t{1} << 16;
  const std::size_t had = buffer_.size();
  buffer_.resize(had + step);
  const std::size_t got = read_(buffer_.data() + had, step);
  buffer_.resize(had + got);
  ended_ = got == 0;
  return !ended_;
}

bool LineSplitter::next(JobLine& into) {
  std::size_t searched = at_;
  for (;;) {
    const std::size_t end = buffer_.find('\n', searched);
    if (end == std::string::npos) {
      if (buffer_.size() - at_ > largest_text_bytes) {
        // The rest of an endless line is read and dropped.
        into = {++line_, buffer_.substr(at_, shown_of_long), true};
        for (;;) {
          at_ = buffer_.size();
          if (!fill()) return true;
          const std::size_t stop = buffer_.find('\n');
          if (stop == std::string::npos) continue;
          at_ = stop + 1;
          return true;
        }
      }
      searched = buffer_.size() - at_;
      if (fill()) continue;
      if (at_ == buffer_.size()) return false;
    }
    std::string_view line(buffer_);
    line = line.substr(at_, end == std::string::npos ? line.npos : end - at_);
    ++line_;
    const std::size_t next = end == std::string::npos ? buffer_.size() : end + 1;
    if (line_ == 1 && line.starts_with("\xEF\xBB\xBF")) line.remove_prefix(3);
    if (line.find_first_not_of(" \t\r") != std::string_view::npos) {
      const bool too_long = line.size() > largest_text_bytes;
      into = {line_, std::string(line.substr(0, too_long ? shown_of_long : line.npos)), too_long};
      at_ = next;
      return true;
    }
    at_ = next;
    searched = at_;
  }
}

bool is_job_object(const JsonNode& object) {
  static const std::vector<std::string> known = [] {
    std::vector<std::string> keys = {"slantrule"};
    const JobRequest request;
    visit_keys(request, [&](const KeyInfo& info, const auto&) { keys.emplace_back(info.key); });
    return keys;
  }();
  return std::ranges::all_of(object.members, [&](const JsonMember& member) {
    return std::ranges::find(known, member.key) != known.end();
  });
}

std::optional<std::string> cell_text(const JsonNode& value) {
  switch (value.kind) {
    case JsonNode::Kind::null:
      return std::string();
    case JsonNode::Kind::boolean:
      return value.boolean ? "yes" : "no";
    case JsonNode::Kind::number:
    case JsonNode::Kind::text:
      return value.text;
    case JsonNode::Kind::list: {
      std::string out;
      for (const JsonNode& item : value.items) {
        const auto one = cell_text(item);
        if (!one) return std::nullopt;
        if (!out.empty()) out += "; ";
        out += *one;
      }
      return out;
    }
    case JsonNode::Kind::object:
      break;
  }
  return std::nullopt;
}

}  // namespace slantrule
