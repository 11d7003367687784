#include "lookup_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "slantrule/sheets/text_layout.hpp"
#include "slantrule/units/suggest.hpp"

namespace slantrule {

void put(LookupJson& object, const char* key, double value) {
  if (std::isfinite(value)) object[key] = value;
}

void put(LookupJson& object, const char* key, const std::optional<double>& value, double factor) {
  if (value) put(object, key, *value * factor);
}

void put(LookupJson& object, const char* key, std::string_view text) {
  if (!text.empty()) object[key] = text;
}

LookupJson lookup_json(const char* kind, const Lookup& lookup, LookupJson found) {
  LookupJson out = LookupJson::object();
  out["kind"] = kind;
  out["text"] = lookup.text;
  put(out, "message", lookup.message);
  out["found"] = std::move(found);
  out["nearest"] = lookup.nearest;
  out["readings"] = lookup.readings;
  return out;
}

std::string one_line(const LookupJson& object) {
  // The text may be any bytes; what is no UTF-8 shows as U+FFFD.
  return object.dump(-1, ' ', true, LookupJson::error_handler_t::replace);
}

void SheetLines::add(std::string line) {
  text_ += line;
  text_ += '\n';
}

void SheetLines::wrap(std::string_view text, std::string_view first, std::string_view next) {
  for (std::string& line : wrapped(text, first, next)) add(std::move(line));
}

void SheetLines::field(std::string_view label, std::string_view text) {
  constexpr std::size_t label_columns = 14;
  if (text.empty()) return;
  wrap(text, "  " + padded(label, label_columns), std::string(label_columns + 2, ' '));
}

std::string SheetLines::text() const {
  return text_;
}

std::string source_text(std::string_view source, Confidence confidence) {
  const bool says_so = source.find("from memory") != std::string_view::npos;
  if (confidence == Confidence::memory && says_so) return std::string(source);
  return fmt::format("{} ({})", source, confidence_name(confidence));
}

bool holds_words(std::string_view text, std::initializer_list<std::string_view> places) {
  std::string all;
  for (std::string_view place : places) all += folded_name(place) + ' ';
  const std::string folded = folded_name(text);
  if (folded.empty()) return false;
  for (std::string_view rest = folded; !rest.empty();) {
    const std::size_t end = std::min(rest.find('_'), rest.size());
    if (all.find(rest.substr(0, end)) == std::string::npos) return false;
    rest.remove_prefix(std::min(end + 1, rest.size()));
  }
  return true;
}

std::string did_you_mean(const std::vector<std::string>& names) {
  if (names.empty()) return {};
  return fmt::format("; did you mean \"{}\"?", fmt::join(names, "\" or \""));
}

std::string nothing_matches(const char* kind, const Lookup& lookup) {
  return fmt::format("nothing among the {} matches \"{}\"{}", kind, shown(lookup.text),
                     did_you_mean(lookup.nearest));
}

std::string percent_off(double value, double of) {
  const double percent = 100 * (value / of - 1);
  if (!std::isfinite(percent)) return "-";
  const std::string text = fmt::format("{:+.1f}", percent);
  return (text == "+0.0" || text == "-0.0" ? "0.0" : text) + " %";
}

std::vector<std::string_view> names_of(std::string_view key, std::span<const NameRecord> user,
                                       std::span<const NameRecord> built_in) {
  std::vector<std::string_view> names;
  for (const NameRecord& row : user) {
    if (row.key == key) names.push_back(row.name);
  }
  for (std::size_t i = 0; i < built_in.size(); ++i) {
    if (built_in[i].key != key) continue;
    // Sorted by name: an ambiguous one stands beside itself.
    const bool twice = (i > 0 && built_in[i - 1].name == built_in[i].name) ||
                       (i + 1 < built_in.size() && built_in[i + 1].name == built_in[i].name);
    if (!twice) names.push_back(built_in[i].name);
  }
  return names;
}

std::string name_list(const std::vector<std::string_view>& names, std::size_t most) {
  std::string list;
  for (std::size_t i = 0; i < std::min(most, names.size()); ++i) {
    std::string name(names[i]);
    std::ranges::replace(name, '_', ' ');
    list += (list.empty() ? "" : ", ") + name;
  }
  if (names.size() > most) list += fmt::format(", and {} more", names.size() - most);
  return list;
}

}  // namespace slantrule
