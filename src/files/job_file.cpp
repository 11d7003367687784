#include "slantrule/files/job_file.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>

#include "slantrule/files/request_reader.hpp"
#include "slantrule/units/suggest.hpp"

namespace slantrule {
namespace {

constexpr int job_format = 1;

void mark_as_set(JsonNode& node) {
  node.place = {0, true};
  for (JsonNode& item : node.items) mark_as_set(item);
  for (JsonMember& member : node.members) mark_as_set(member.node);
}

/// The kind of a key, as far as `--set` must know it to read a bare VALUE.
enum class SetKind { text, number, flag };

SetKind kind_of_key(const std::string& path) {
  SetKind kind = SetKind::text;
  const JobRequest all = request_with_every_key();
  visit_all_keys(all, "", [&](const std::string& here, const KeyInfo&, const auto& entry) {
    if (here != path) return;
    using EntryType = std::remove_cvref_t<decltype(entry)>;
    if constexpr (std::is_same_v<EntryType, FlagEntry>) kind = SetKind::flag;
    if constexpr (std::is_same_v<EntryType, NumberEntry>) kind = SetKind::number;
    if constexpr (std::is_same_v<EntryType, CountEntry>) kind = SetKind::number;
  });
  return kind;
}

JsonNode bare_text(std::string_view value) {
  JsonNode node;
  node.kind = JsonNode::Kind::text;
  node.text = value;
  return node;
}

/// VALUE of a `--set`: JSON where it begins like an object, a list or a quoted text; otherwise a
/// bare word, number or flag as the key wants it.
JsonNode set_value(const std::string& path, std::string_view value,
                   std::vector<Problem>& problems) {
  std::vector<Problem> inside;
  if (value.starts_with('{') || value.starts_with('[') ||
      (value.starts_with('"') && value.ends_with('"') && value.size() > 1)) {
    JsonNode node = parse_json(value, inside);
    for (Problem& one : inside) {
      const std::string& key = one.key;
      problems.push_back(
          {{0, true}, key.empty() ? shown(path) : joined_key(shown(path), key), one.message});
    }
    return node;
  }
  const SetKind kind = kind_of_key(path);
  const bool flag = value == "true" || value == "false";
  const bool number = value.find_first_not_of("+-.0123456789eE") == std::string_view::npos;
  if (!(kind == SetKind::flag && flag) && !(kind == SetKind::number && number)) {
    return bare_text(value);
  }
  // What is no number of JSON ("007") stays a text, and the key says what it wants.
  JsonNode node = parse_json(value, inside);
  return inside.empty() ? node : bare_text(value);
}

void erase_member(JsonNode& object, std::string_view key) {
  std::erase_if(object.members, [&](const JsonMember& member) { return member.key == key; });
}

void apply_set(JsonNode& root, std::string_view set, std::vector<Problem>& problems) {
  const Place place{0, true};
  const std::size_t equals = set.find('=');
  if (equals == std::string_view::npos || equals == 0) {
    problems.push_back(
        {place, shown(set), "must be written KEY=VALUE, for instance --set flow.rate=\"60 m3/h\""});
    return;
  }
  const std::string path(set.substr(0, equals));
  const std::string_view value = set.substr(equals + 1);
  // A tree as deep as a command line is long could not be taken apart without running out of stack.
  if (std::count(path.begin(), path.end(), '.') >= deepest_nesting) {
    problems.push_back({place, shown(path), "is no known key: no key lies that deep"});
    return;
  }
  JsonNode* object = &root;
  std::string_view rest = path;
  for (std::size_t dot = rest.find('.'); dot != std::string_view::npos; dot = rest.find('.')) {
    const std::string_view key = rest.substr(0, dot);
    rest.remove_prefix(dot + 1);
    JsonNode* next = object->find(key);
    if (!next) {
      if (value.empty()) return;
      JsonNode fresh;
      fresh.kind = JsonNode::Kind::object;
      fresh.place = place;
      object->members.push_back({std::string(key), std::move(fresh)});
      next = &object->members.back().node;
    } else if (next->kind != JsonNode::Kind::object) {
      problems.push_back({place, shown(path),
                          fmt::format("cannot be set: \"{}\" is {} here, not an object", shown(key),
                                      kind_name(next->kind))});
      return;
    }
    object = next;
  }
  if (value.empty()) {
    erase_member(*object, rest);
    return;
  }
  JsonNode node = set_value(path, value, problems);
  mark_as_set(node);
  if (JsonNode* old = object->find(rest)) {
    *old = std::move(node);
  } else {
    object->members.push_back({std::string(rest), std::move(node)});
  }
}

void check_format(const JsonNode& root, std::vector<Problem>& problems) {
  const JsonNode* format = root.find("slantrule");
  if (!format) return;
  if (format->kind != JsonNode::Kind::number || format->number != job_format) {
    problems.push_back(
        {format->place, "slantrule",
         fmt::format("is the format of the job file and must be {}, without quotes", job_format)});
  }
}

}  // namespace

JobRequest request_with_every_key() {
  JobRequest all;
  const auto fill = [](Entry<MaterialRequest>& material) {
    material.options.emplace_back().value.absorption.value.emplace();
  };
  fill(all.pipe.material);
  fill(all.pipe.liner.options.emplace_back().value.material);
  fill(all.pipe.coating.options.emplace_back().value.material);
  all.pipe.wall.options.emplace_back();
  all.fluid.absorption.value.emplace();
  all.sensors.pair.emplace().wedge.value.emplace().absorption.value.emplace();
  all.location.upstream.items.emplace_back();
  all.location.downstream.items.emplace_back();
  all.kit.value.emplace();
  all.purpose.value.emplace();
  all.accept.items.emplace_back();
  return all;
}

ReadJob read_job(std::optional<std::string_view> text, std::span<const std::string> sets,
                 const ReadNamedFile& read_named_file) {
  ReadJob out;
  JsonNode root;
  root.kind = JsonNode::Kind::object;
  if (text) {
    std::string_view body = *text;
    if (body.starts_with("\xEF\xBB\xBF")) body.remove_prefix(3);
    root = parse_json(body, out.problems);
    // A text that is no JSON has no keys to complain about.
    const bool broken = std::any_of(out.problems.begin(), out.problems.end(),
                                    [](const Problem& one) { return one.key.empty(); });
    if (broken) return out;
    if (root.kind != JsonNode::Kind::object) {
      out.problems.push_back(
          {root.place, "", "must hold one object: { \"slantrule\": 1, \"pipe\": ... }"});
      return out;
    }
  }
  ReadJob of_tree = read_job(std::move(root), sets, read_named_file);
  out.request = std::move(of_tree.request);
  std::ranges::move(of_tree.problems, std::back_inserter(out.problems));
  return out;
}

ReadJob read_job(JsonNode root, std::span<const std::string> sets,
                 const ReadNamedFile& read_named_file) {
  ReadJob out;
  for (const std::string& set : sets) apply_set(root, set, out.problems);
  check_format(root, out.problems);
  static constexpr std::string_view also[] = {"slantrule"};
  RequestReader(out.problems, read_named_file).read_object(root, "", out.request, also);
  return out;
}

void lay_under(JsonNode& job, const JsonNode& defaults) {
  using Kind = JsonNode::Kind;
  static constexpr std::string_view sections[] = {"pipe",  "fluid", "flow",
                                                  "meter", "path",  "location"};
  const auto add_missing = [](JsonNode& to, const JsonNode& from) {
    for (const JsonMember& member : from.members) {
      if (!to.find(member.key)) to.members.push_back(member);
    }
  };
  add_missing(job, defaults);
  for (std::string_view section : sections) {
    JsonNode* mine = job.find(section);
    const JsonNode* from = defaults.find(section);
    if (!mine || !from || mine->kind != Kind::object || from->kind != Kind::object) continue;
    add_missing(*mine, *from);
  }
}

}  // namespace slantrule
