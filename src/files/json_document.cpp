#include "slantrule/files/json_document.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <nlohmann/json.hpp>

#include "slantrule/planning/job_visit.hpp"
#include "slantrule/units/suggest.hpp"

namespace slantrule {
namespace {

/// Counts lines as the library's lexer walks the text; its events carry no position.
struct LineCount {
  int line = 1;
  char last = ' ';

  /// Line of the token just read. The lexer reads one character past a number.
  int of_token() const { return last == '\n' ? line - 1 : line; }
};

class CountingIterator {
 public:
  using iterator_category = std::input_iterator_tag;
  using value_type = char;
  using difference_type = std::ptrdiff_t;
  using pointer = const char*;
  using reference = const char&;

  CountingIterator(const char* at, LineCount* count) : at_(at), count_(count) {}
  reference operator*() const { return *at_; }
  CountingIterator& operator++() {
    count_->last = *at_;
    if (*at_ == '\n') ++count_->line;
    ++at_;
    return *this;
  }
  CountingIterator operator++(int) {
    CountingIterator before = *this;
    ++*this;
    return before;
  }
  bool operator==(const CountingIterator& other) const { return at_ == other.at_; }

 private:
  const char* at_;
  LineCount* count_;
};

/// Builds the tree from the library's events.
class TreeBuilder final : public nlohmann::json_sax<nlohmann::json> {
 public:
  TreeBuilder(const LineCount& count, std::string_view text, std::vector<Problem>& problems)
      : count_(count), text_(text), problems_(problems) {}

  JsonNode take_root() { return std::move(root_); }

  bool null() override { return leaf({}); }
  bool boolean(bool value) override {
    JsonNode node;
    node.kind = JsonNode::Kind::boolean;
    node.boolean = value;
    return leaf(std::move(node));
  }
  bool number_integer(number_integer_t value) override {
    return number(static_cast<double>(value), std::to_string(value));
  }
  bool number_unsigned(number_unsigned_t value) override {
    return number(static_cast<double>(value), std::to_string(value));
  }
  bool number_float(number_float_t value, const string_t& written) override {
    return number(value, written);
  }
  bool string(string_t& value) override {
    JsonNode node;
    node.kind = JsonNode::Kind::text;
    node.text = std::move(value);
    return leaf(std::move(node));
  }
  bool binary(binary_t&) override { return false; }

  bool start_object(std::size_t) override { return open(JsonNode::Kind::object); }
  bool end_object() override { return close(); }
  bool start_array(std::size_t) override { return open(JsonNode::Kind::list); }
  bool end_array() override { return close(); }

  bool key(string_t& name) override {
    key_ = std::move(name);
    key_line_ = count_.of_token();
    return true;
  }

  bool parse_error(std::size_t position, const std::string&,
                   const nlohmann::json::exception& error) override {
    // "[json.exception.parse_error.101] parse error at line 2, column 3: syntax error ..."
    std::string message = error.what();
    const std::size_t column = message.find("column");
    const std::size_t from = message.find(": ", column == std::string::npos ? 0 : column);
    if (from != std::string::npos) message = message.substr(from + 2);
    if (message.find("number overflow") != std::string::npos) {
      message = "a number is beyond the range of a double";
    }
    const auto end = text_.begin() + static_cast<std::ptrdiff_t>(
                                         std::min(position == 0 ? 0 : position - 1, text_.size()));
    const int line = 1 + static_cast<int>(std::count(text_.begin(), end, '\n'));
    problems_.push_back({{line, false}, "", "is not valid JSON: " + shown(message, 200)});
    return false;
  }

 private:
  bool number(double value, std::string written) {
    JsonNode node;
    node.kind = JsonNode::Kind::number;
    node.number = value;
    node.text = std::move(written);
    return leaf(std::move(node));
  }

  /// An object or list whose end has not been seen, with its dotted key.
  struct Open {
    JsonNode* node;
    std::string path;
  };

  JsonNode* add(JsonNode node) {
    node.place.line = count_.of_token();
    if (open_.empty()) {
      root_ = std::move(node);
      return &root_;
    }
    JsonNode& parent = *open_.back().node;
    if (parent.kind == JsonNode::Kind::list) {
      parent.items.push_back(std::move(node));
      return &parent.items.back();
    }
    node.place.line = key_line_;
    parent.members.push_back({std::move(key_), std::move(node)});
    return &parent.members.back().node;
  }

  bool leaf(JsonNode node) {
    add(std::move(node));
    return true;
  }

  bool open(JsonNode::Kind kind) {
    if (static_cast<int>(open_.size()) >= deepest_nesting) {
      problems_.push_back({{count_.of_token(), false},
                           "",
                           fmt::format("is nested deeper than {} levels", deepest_nesting)});
      return false;
    }
    std::string path;
    if (!open_.empty()) {
      const Open& parent = open_.back();
      path = parent.node->kind == JsonNode::Kind::list
                 ? fmt::format("{}[{}]", parent.path, parent.node->items.size())
                 : joined_key(parent.path, shown(key_));
    }
    JsonNode node;
    node.kind = kind;
    // Parents stay where they are while a child is open: only the innermost node grows.
    open_.push_back({add(std::move(node)), std::move(path)});
    return true;
  }

  bool close() {
    if (open_.back().node->kind == JsonNode::Kind::object) find_duplicates();
    open_.pop_back();
    return true;
  }

  /// By sorting: looking back at every key would take minutes over a hostile file of 4 MiB.
  void find_duplicates() {
    const auto& [object, path] = open_.back();
    std::vector<const JsonMember*> sorted;
    for (const JsonMember& member : object->members) sorted.push_back(&member);
    std::stable_sort(sorted.begin(), sorted.end(),
                     [](const JsonMember* a, const JsonMember* b) { return a->key < b->key; });
    for (std::size_t i = 1; i < sorted.size(); ++i) {
      if (sorted[i - 1]->key != sorted[i]->key) continue;
      problems_.push_back({sorted[i]->node.place, joined_key(path, shown(sorted[i]->key)),
                           "stands twice in the same object; keep one of the two"});
    }
  }

  const LineCount& count_;
  std::string_view text_;
  std::vector<Problem>& problems_;
  JsonNode root_;
  std::vector<Open> open_;
  std::string key_;
  int key_line_ = 0;
};

int line_of(std::string_view text, std::size_t position) {
  const auto end = text.begin() + static_cast<std::ptrdiff_t>(position);
  return 1 + static_cast<int>(std::count(text.begin(), end, '\n'));
}

}  // namespace

const JsonNode* JsonNode::find(std::string_view key) const {
  for (const auto& [name, node] : members) {
    if (name == key) return &node;
  }
  return nullptr;
}

JsonNode* JsonNode::find(std::string_view key) {
  return const_cast<JsonNode*>(std::as_const(*this).find(key));
}

std::string_view kind_name(JsonNode::Kind kind) {
  switch (kind) {
    case JsonNode::Kind::null:
      return "null";
    case JsonNode::Kind::boolean:
      return "true or false";
    case JsonNode::Kind::number:
      return "a bare number";
    case JsonNode::Kind::text:
      return "a text";
    case JsonNode::Kind::list:
      return "a list";
    case JsonNode::Kind::object:
      return "an object";
  }
  return {};
}

JsonNode parse_json(std::string_view text, std::vector<Problem>& problems) {
  if (text.size() > largest_text_bytes) {
    problems.push_back({{}, "", "is larger than 4 MiB; a job file is a few kilobytes"});
    return {};
  }
  if (const std::size_t nul = text.find('\0'); nul != std::string_view::npos) {
    problems.push_back(
        {{line_of(text, nul), false}, "", "holds a NUL character; is it a text file in UTF-8?"});
    return {};
  }
  if (text.find_first_not_of(" \t\r\n") == std::string_view::npos) {
    problems.push_back({{}, "", "is empty; start one with `slantrule new`"});
    return {};
  }
  LineCount count;
  TreeBuilder builder(count, text, problems);
  nlohmann::json::sax_parse(CountingIterator(text.data(), &count),
                            CountingIterator(text.data() + text.size(), &count), &builder,
                            nlohmann::json::input_format_t::json, /*strict=*/true,
                            /*ignore_comments=*/true);
  return builder.take_root();
}

}  // namespace slantrule
