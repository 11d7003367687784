#include "slantrule/files/request_reader.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "slantrule/units/suggest.hpp"

namespace slantrule {
namespace {

constexpr std::string_view unknown_word = "unknown";

bool is_object_with(const JsonNode& node, std::string_view key) {
  return node.kind == JsonNode::Kind::object && node.find(key);
}

bool is_fraction(Dimension dimension) {
  return dimension == Dimension::fraction || dimension == Dimension::mass_fraction ||
         dimension == Dimension::volume_fraction;
}

}  // namespace

std::optional<std::string> not_allowed(const Reading& reading, std::string_view text,
                                       const KeyInfo& info) {
  const bool gauge = reading.dimension == Dimension::pressure_gauge;
  if (reading.si < 0 && info.not_negative && !gauge) {
    return fmt::format("\"{}\" is below {}", shown(text),
                       reading.dimension == Dimension::temperature ? "absolute zero" : "zero");
  }
  const bool needs_positive = info.positive || reading.dimension == Dimension::temperature;
  if (reading.si == 0 && needs_positive) {
    return fmt::format("\"{}\" must be greater than zero", shown(text));
  }
  if (is_fraction(reading.dimension) && reading.si > 1) {
    return fmt::format("\"{}\" is more than the whole", shown(text));
  }
  return std::nullopt;
}

std::variant<Reading, std::string> stated_quantity(std::string_view text, const KeyInfo& info) {
  auto parsed = parse_quantity(text, info.dimensions);
  if (auto* wrong = std::get_if<QuantityProblem>(&parsed)) return std::move(wrong->message);
  const Reading& reading = std::get<Reading>(parsed);
  if (auto wrong = not_allowed(reading, text, info)) return std::move(*wrong);
  return reading;
}

std::variant<std::string_view, std::string> stated_choice(std::string_view text,
                                                          const KeyInfo& info) {
  for (std::string_view choice : info.choices) {
    if (folded_name(choice) == folded_name(text)) return choice;
  }
  const auto near = nearest_name(text, info.choices);
  return fmt::format("\"{}\" must be one of: {}{}", shown(text), fmt::join(info.choices, ", "),
                     near ? fmt::format("; did you mean \"{}\"?", *near) : "");
}

void RequestReader::problem(const JsonNode& node, const std::string& path, std::string message) {
  problems_.push_back({node.place, path, std::move(message)});
}

void RequestReader::unknown_key(const JsonNode& node, const std::string& path, std::string_view key,
                                const std::vector<std::string_view>& known) {
  const auto near = nearest_name(key, known);
  problem(node, joined_key(path, shown(key)),
          near ? fmt::format("is no known key; did you mean \"{}\"?", *near)
               : fmt::format("is no known key; known here: {}", fmt::join(known, ", ")));
}

bool RequestReader::want(const JsonNode& node, const std::string& path, const KeyInfo& info,
                         JsonNode::Kind kind) {
  if (node.kind == kind) return true;
  if (node.kind == JsonNode::Kind::null) {
    problem(node, path, "is null; leave the key out");
  } else {
    problem(node, path,
            fmt::format("is {} where {} is needed; write \"{}\": {}", kind_name(node.kind),
                        kind_name(kind), info.key, info.example));
  }
  return false;
}

template <KeyedRequest Request>
void RequestReader::read_object(const JsonNode& node, const std::string& path, Request& into,
                                std::span<const std::string_view> also) {
  for (const JsonMember& member : node.members) {
    const std::string& key = member.key;
    const JsonNode& value = member.node;
    if (std::find(also.begin(), also.end(), key) != also.end()) continue;
    bool found = false;
    visit_keys(into, [&](const KeyInfo& info, auto& entry) {
      if (found || info.key != key) return;
      found = true;
      read(value, joined_key(path, key), info, entry);
    });
    if (!found) {
      std::vector<std::string_view> known(also.begin(), also.end());
      visit_keys(into, [&](const KeyInfo& info, auto&) { known.push_back(info.key); });
      unknown_key(value, path, key, known);
    }
  }
}

template <class T, class ReadOne>
void RequestReader::options(const JsonNode& node, const std::string& path, const KeyInfo& info,
                            Entry<T>& entry, const ReadOne& read_one) {
  entry.place = node.place;
  const auto add = [&](const JsonNode& one, const std::string& where) {
    Option<T> option;
    const JsonNode* value = &one;
    if (is_object_with(one, "value")) {
      value = one.find("value");
      for (const auto& [key, member] : one.members) {
        if (key != "value" && key != "from") unknown_key(member, where, key, {"value", "from"});
      }
      if (const JsonNode* from = one.find("from")) {
        const auto origin = from->kind == JsonNode::Kind::text ? origin_from_name(from->text)
                                                               : std::optional<Origin>();
        if (origin) {
          option.from = *origin;
        } else {
          problem(*from, where + ".from",
                  "must be one of gauge, tape, calliper, drawing, plate, table, inventory, guess");
        }
      }
    }
    if (value->kind == JsonNode::Kind::text) option.text = value->text;
    if (read_one(*value, where, option)) entry.options.push_back(std::move(option));
  };

  if (node.kind == JsonNode::Kind::text && folded_name(node.text) == unknown_word) {
    if (info.may_be_unknown) {
      entry.unknown = true;
    } else {
      problem(node, path,
              fmt::format("cannot be \"unknown\"; leave the key out, or write {}", info.example));
    }
    return;
  }
  for (std::string_view list : {"one_of", "between"}) {
    if (!is_object_with(node, list)) continue;
    const JsonNode& items = *node.find(list);
    for (const auto& [key, member] : node.members) {
      if (key != list) unknown_key(member, path, key, {list});
    }
    const bool between = list == "between";
    if (items.kind != JsonNode::Kind::list || items.items.empty() ||
        (between && items.items.size() != 2)) {
      problem(items, joined_key(path, list),
              fmt::format("must be a list of {}; write {{ \"{}\": [{}, ...] }}",
                          between ? "two values" : "one or more values", list, info.example));
      return;
    }
    for (std::size_t i = 0; i < items.items.size(); ++i) {
      add(items.items[i], fmt::format("{}.{}[{}]", path, list, i));
    }
    entry.between = between;
    return;
  }
  add(node, path);
}

// ---------------------------------------------------------------- plain entries

void RequestReader::read(const JsonNode& node, const std::string& path, const KeyInfo& info,
                         TextEntry& entry) {
  if (!want(node, path, info, JsonNode::Kind::text)) return;
  entry = {node.text, node.place};
}

void RequestReader::read(const JsonNode& node, const std::string& path, const KeyInfo& info,
                         ChoiceEntry& entry) {
  if (!want(node, path, info, JsonNode::Kind::text)) return;
  const auto stated = stated_choice(node.text, info);
  if (const auto* wrong = std::get_if<std::string>(&stated)) return problem(node, path, *wrong);
  entry = {std::string(std::get<std::string_view>(stated)), node.place};
}

void RequestReader::read(const JsonNode& node, const std::string& path, const KeyInfo& info,
                         WordsEntry& entry) {
  entry.place = node.place;
  const auto add = [&](const JsonNode& word) {
    if (info.choices.empty()) {
      if (want(word, path, info, JsonNode::Kind::text)) entry.values.push_back(word.text);
      return;
    }
    ChoiceEntry choice;
    read(word, path, info, choice);
    if (choice.value) entry.values.push_back(*choice.value);
  };
  if (node.kind == JsonNode::Kind::list) {
    for (const JsonNode& word : node.items) add(word);
  } else {
    add(node);
  }
}

void RequestReader::read(const JsonNode& node, const std::string& path, const KeyInfo&,
                         FlagEntry& entry) {
  if (node.kind != JsonNode::Kind::boolean) {
    problem(node, path, "must be true or false, without quotes");
    return;
  }
  entry = {node.boolean, node.place};
}

void RequestReader::read(const JsonNode& node, const std::string& path, const KeyInfo& info,
                         CountEntry& entry) {
  entry.place = node.place;
  if (info.may_be_best && node.kind == JsonNode::Kind::text && node.text == "best") {
    entry.best = true;
    return;
  }
  const bool whole = node.kind == JsonNode::Kind::number && node.number == std::floor(node.number);
  if (!whole || node.number < 1 || node.number > info.most_count) {
    problem(node, path,
            fmt::format("must be a whole number from 1 to {}{}, without quotes or unit",
                        info.most_count, info.may_be_best ? ", or \"best\"" : ""));
    return;
  }
  entry.value = static_cast<int>(node.number);
}

void RequestReader::read(const JsonNode& node, const std::string& path, const KeyInfo& info,
                         NumberEntry& entry) {
  if (!want(node, path, info, JsonNode::Kind::number)) return;
  entry = {node.number, node.place};
}

std::optional<Reading> RequestReader::quantity(const JsonNode& node, const std::string& path,
                                               const KeyInfo& info) {
  if (node.kind == JsonNode::Kind::number) {
    problem(node, path,
            fmt::format("{} has no unit; write it as a text with its unit, for instance {}",
                        node.text, info.example));
    return std::nullopt;
  }
  if (!want(node, path, info, JsonNode::Kind::text)) return std::nullopt;
  auto stated = stated_quantity(node.text, info);
  if (auto* wrong = std::get_if<std::string>(&stated)) {
    problem(node, path, std::move(*wrong));
    return std::nullopt;
  }
  return std::get<Reading>(stated);
}

void RequestReader::read(const JsonNode& node, const std::string& path, const KeyInfo& info,
                         QuantityEntry& entry) {
  options(node, path, info, entry,
          [&](const JsonNode& one, const std::string& where, Option<Reading>& option) {
            const auto reading = quantity(one, where, info);
            if (reading) option.value = *reading;
            return reading.has_value();
          });
}

void RequestReader::read(const JsonNode& node, const std::string& path, const KeyInfo& info,
                         NameEntry& entry) {
  options(node, path, info, entry,
          [&](const JsonNode& one, const std::string& where, Option<std::string>& option) {
            if (!want(one, where, info, JsonNode::Kind::text)) return false;
            if (folded_name(one.text).empty()) {
              problem(one, where, fmt::format("is empty; write {}", info.example));
              return false;
            }
            option.value = one.text;
            return true;
          });
}

// ---------------------------------------------------------------- objects

void RequestReader::read(const JsonNode& node, const std::string& path, const KeyInfo& info,
                         Entry<MaterialRequest>& entry) {
  options(node, path, info, entry,
          [&](const JsonNode& one, const std::string& where, Option<MaterialRequest>& option) {
            if (one.kind == JsonNode::Kind::text) {
              option.value.name = {one.text, one.place};
              return true;
            }
            if (!want(one, where, info, JsonNode::Kind::object)) return false;
            option.value.is_inline = true;
            read_object(one, where, option.value);
            option.text = option.value.name.value.value_or("");
            return true;
          });
}

void RequestReader::read(const JsonNode& node, const std::string& path, const KeyInfo& info,
                         Entry<LayerRequest>& entry) {
  options(node, path, info, entry,
          [&](const JsonNode& one, const std::string& where, Option<LayerRequest>& option) {
            if (one.kind == JsonNode::Kind::text) {
              option.value.none = folded_name(one.text) == "none";
              if (!option.value.none) {
                problem(one, where,
                        fmt::format("\"{}\" must be \"none\", or a material with its thickness: "
                                    "{{ \"material\": \"cement mortar\", \"thickness\": \"3.2 "
                                    "mm\" }}",
                                    shown(one.text)));
              }
              return option.value.none;
            }
            if (!want(one, where, info, JsonNode::Kind::object)) return false;
            read_object(one, where, option.value);
            if (!option.value.material.options.empty() && !option.value.thickness.options.empty()) {
              option.text = option.value.material.options.front().text + " " +
                            option.value.thickness.options.front().text;
            }
            return true;
          });
}

void RequestReader::read(const JsonNode& node, const std::string& path, const KeyInfo& info,
                         Entry<WallRequest>& entry) {
  const auto add_readings = [&](const JsonNode& list, const std::string& where, WallRequest& wall) {
    for (std::size_t i = 0; i < list.items.size(); ++i) {
      const auto reading = quantity(list.items[i], fmt::format("{}[{}]", where, i), info);
      if (reading) wall.readings.push_back(*reading);
    }
    if (list.items.empty()) problem(list, where, "has no readings; write [\"7.1 mm\", \"7.0 mm\"]");
  };
  options(node, path, info, entry,
          [&](const JsonNode& one, const std::string& where, Option<WallRequest>& option) {
            WallRequest& wall = option.value;
            if (one.kind == JsonNode::Kind::list) {
              add_readings(one, where, wall);
            } else if (one.kind == JsonNode::Kind::object) {
              static constexpr std::string_view also[] = {"readings"};
              read_object(one, where, wall, also);
              const JsonNode* readings = one.find("readings");
              if (!readings || readings->kind != JsonNode::Kind::list) {
                problem(one, where,
                        "needs readings; write { \"readings\": [\"7.1 mm\", \"7.0 mm\"], "
                        "\"gauge_set_to\": \"5920 m/s\" }");
              } else {
                add_readings(*readings, where + ".readings", wall);
              }
            } else if (const auto reading = quantity(one, where, info)) {
              wall.readings.push_back(*reading);
            }
            return !wall.readings.empty();
          });
}

void RequestReader::read(const JsonNode& node, const std::string& path, const KeyInfo& info,
                         SensorsEntry& entry) {
  entry.place = node.place;
  if (node.kind == JsonNode::Kind::text) {
    entry.key = node.text;
  } else if (want(node, path, info, JsonNode::Kind::object)) {
    entry.pair.emplace();
    read_object(node, path, *entry.pair);
  }
}

void RequestReader::read(const JsonNode& node, const std::string& path, const KeyInfo& info,
                         RangeRequest& entry) {
  entry.place = node.place;
  if (!want(node, path, info, JsonNode::Kind::list)) return;
  if (node.items.size() != 2) {
    problem(node, path, fmt::format("must be a list of two, lowest first: {}", info.example));
    return;
  }
  entry.low = quantity(node.items[0], path + "[0]", info);
  entry.high = quantity(node.items[1], path + "[1]", info);
}

void RequestReader::read(const JsonNode& node, const std::string& path, const KeyInfo& info,
                         ObjectEntry<KitRequest>& entry) {
  entry.place = node.place;
  if (node.kind != JsonNode::Kind::text) {
    if (!want(node, path, info, JsonNode::Kind::object)) return;
    entry.value.emplace();
    read_object(node, path, *entry.value);
    return;
  }
  const auto text = read_named_file_ ? read_named_file_(node.text) : std::nullopt;
  if (!text) {
    problem(node, path, fmt::format("the kit file \"{}\" cannot be read", shown(node.text)));
    return;
  }
  std::vector<Problem> inside;
  const JsonNode kit = parse_json(*text, inside);
  entry.value.emplace();
  if (inside.empty() && kit.kind == JsonNode::Kind::object) {
    RequestReader(inside, read_named_file_).read_object(kit, path, *entry.value);
  } else if (inside.empty()) {
    inside.push_back({kit.place, path, "must hold an object"});
  }
  for (const Problem& one : inside) {
    problem(node, path,
            fmt::format("in the kit file \"{}\", line {}: {}: {}", shown(node.text), one.place.line,
                        one.key, one.message));
  }
}

template <KeyedRequest Section>
void RequestReader::read(const JsonNode& node, const std::string& path, const KeyInfo& info,
                         Section& section) {
  if (!want(node, path, info, JsonNode::Kind::object)) return;
  read_object(node, path, section);
}

template <class T>
void RequestReader::read(const JsonNode& node, const std::string& path, const KeyInfo& info,
                         ObjectEntry<T>& entry) {
  entry.place = node.place;
  if (!want(node, path, info, JsonNode::Kind::object)) return;
  entry.value.emplace();
  read_object(node, path, *entry.value);
}

template <class T>
void RequestReader::read(const JsonNode& node, const std::string& path, const KeyInfo& info,
                         ListEntry<T>& entry) {
  entry.place = node.place;
  if (!want(node, path, info, JsonNode::Kind::list)) return;
  entry.given = true;
  for (std::size_t i = 0; i < node.items.size(); ++i) {
    const std::string where = fmt::format("{}[{}]", path, i);
    T item;
    if (want(node.items[i], where, info, JsonNode::Kind::object)) {
      read_object(node.items[i], where, item);
      entry.items.push_back(std::move(item));
    }
  }
}

template void RequestReader::read_object(const JsonNode&, const std::string&, JobRequest&,
                                         std::span<const std::string_view>);
template void RequestReader::read_object(const JsonNode&, const std::string&, SensorRow&,
                                         std::span<const std::string_view>);
template void RequestReader::read_object(const JsonNode&, const std::string&, SolidRow&,
                                         std::span<const std::string_view>);
template void RequestReader::read_object(const JsonNode&, const std::string&, LiquidRow&,
                                         std::span<const std::string_view>);
template void RequestReader::read_object(const JsonNode&, const std::string&, PipeRow&,
                                         std::span<const std::string_view>);
template void RequestReader::read_object(const JsonNode&, const std::string&, CouplantRow&,
                                         std::span<const std::string_view>);
template void RequestReader::read_object(const JsonNode&, const std::string&, FittingRow&,
                                         std::span<const std::string_view>);

}  // namespace slantrule
