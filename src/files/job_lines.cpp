#include "slantrule/files/job_lines.hpp"

#include <algorithm>

#include "slantrule/planning/job_keys.hpp"

namespace slantrule {

namespace {

/// What is kept of a line that is too long, to show it by.
constexpr std::size_t shown_of_long = 200;

void append_text(std::string& out, std::string_view text) {
  out += '"';
  for (const char c : text) {
    if (c == '"' || c == '\\') {
      out += '\\';
      out += c;
    } else if (static_cast<unsigned char>(c) < 0x20) {
      constexpr std::string_view digits = "0123456789abcdef";
      out += "\\u00";
      out += digits[static_cast<unsigned char>(c) / 16];
      out += digits[static_cast<unsigned char>(c) % 16];
    } else {
      out += c;
    }
  }
  out += '"';
}

void append_json(std::string& out, const JsonNode& value) {
  std::string_view between;
  switch (value.kind) {
    case JsonNode::Kind::null:
      out += "null";
      return;
    case JsonNode::Kind::boolean:
      out += value.boolean ? "true" : "false";
      return;
    case JsonNode::Kind::number:
      out += value.text;
      return;
    case JsonNode::Kind::text:
      return append_text(out, value.text);
    case JsonNode::Kind::list:
      out += '[';
      for (const JsonNode& item : value.items) {
        out += between;
        append_json(out, item);
        between = ",";
      }
      out += ']';
      return;
    case JsonNode::Kind::object:
      out += '{';
      for (const JsonMember& member : value.members) {
        out += between;
        append_text(out, member.key);
        out += ':';
        append_json(out, member.node);
        between = ",";
      }
      out += '}';
      return;
  }
}

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

bool is_job_key(std::string_view key) {
  static const std::vector<std::string> known = [] {
    std::vector<std::string> keys = {"slantrule"};
    const JobRequest request;
    visit_keys(request, [&](const KeyInfo& info, const auto&) { keys.emplace_back(info.key); });
    return keys;
  }();
  return std::ranges::find(known, key) != known.end();
}

bool is_job_object(const JsonNode& object) {
  return std::ranges::all_of(object.members,
                             [](const JsonMember& member) { return is_job_key(member.key); });
}

bool holds_object(const JsonNode& value) {
  return value.kind == JsonNode::Kind::object || std::ranges::any_of(value.items, holds_object);
}

std::string compact_json(const JsonNode& value) {
  std::string out;
  append_json(out, value);
  return out;
}

bool put_at(JsonNode& root, std::string_view dotted_key, JsonNode value) {
  JsonNode* object = &root;
  for (std::size_t dot = dotted_key.find('.'); dot != std::string_view::npos;
       dot = dotted_key.find('.')) {
    const std::string_view key = dotted_key.substr(0, dot);
    dotted_key.remove_prefix(dot + 1);
    JsonNode* next = object->find(key);
    if (!next) {
      JsonNode fresh;
      fresh.kind = JsonNode::Kind::object;
      object->members.push_back({std::string(key), std::move(fresh)});
      next = &object->members.back().node;
    }
    if (next->kind != JsonNode::Kind::object) return false;
    object = next;
  }
  if (object->find(dotted_key)) return false;
  object->members.push_back({std::string(dotted_key), std::move(value)});
  return true;
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
