#pragma once

/// JSON text to a tree that knows its lines. The grammar is a library's; here are the limits that
/// a job file sets, and what the library lets pass in silence: duplicate keys.

#include <string>
#include <string_view>
#include <vector>

#include "slantrule/planning/resolved_job.hpp"

namespace slantrule {

struct JsonMember;

struct JsonNode {
  enum class Kind { null, boolean, number, text, list, object };
  Kind kind = Kind::null;
  Place place;
  bool boolean = false;
  double number = 0;
  std::string text;  ///< of a text; of a number, as written
  std::vector<JsonNode> items;
  std::vector<JsonMember> members;

  const JsonNode* find(std::string_view key) const;
  JsonNode* find(std::string_view key);
};

struct JsonMember {
  std::string key;
  JsonNode node;
};

std::string_view kind_name(JsonNode::Kind kind);

inline constexpr std::size_t largest_text_bytes = 4u << 20;
inline constexpr int deepest_nesting = 32;

/// Reads one JSON value; `//` and `/* */` comments are allowed. Refused, each with its line: NUL,
/// invalid UTF-8, duplicate keys, nesting beyond 32, texts over 4 MiB, numbers beyond a double,
/// anything behind the value. With problems the tree is incomplete.
JsonNode parse_json(std::string_view text, std::vector<Problem>& problems);

}  // namespace slantrule
