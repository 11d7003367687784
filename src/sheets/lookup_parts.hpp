#pragma once

/// What the look-ups of all kinds share.

#include <initializer_list>
#include <nlohmann/json.hpp>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "slantrule/sheets/lookup_sheet.hpp"

namespace slantrule {

using LookupJson = nlohmann::ordered_json;

/// Puts what is known; what is not finite or empty is left out, never null.
void put(LookupJson& object, const char* key, double value);
void put(LookupJson& object, const char* key, const std::optional<double>& value,
         double factor = 1);
void put(LookupJson& object, const char* key, std::string_view text);

/// The object that every look-up answers with, `found` inside.
LookupJson lookup_json(const char* kind, const Lookup& lookup, LookupJson found);
/// On one line, ASCII.
std::string one_line(const LookupJson& object);

/// The lines of a sheet.
class SheetLines {
 public:
  void add(std::string line = {});
  void wrap(std::string_view text, std::string_view first = "", std::string_view next = "");
  /// "  label         text", the text wrapped behind the label; nothing for an empty text.
  void field(std::string_view label, std::string_view text);
  std::string text() const;

 private:
  std::string text_;
};

/// "source (published)"
std::string source_text(std::string_view source, Confidence confidence);

/// Whether `text` has words, and every one stands somewhere in `places`; case, blanks and hyphens
/// aside.
bool holds_words(std::string_view text, std::initializer_list<std::string_view> places);

/// `; did you mean "A" or "B"?`, or nothing.
std::string did_you_mean(const std::vector<std::string>& names);
/// What is said of a text that finds nothing.
std::string nothing_matches(const char* kind, const Lookup& lookup);

/// "+1.5 %": how far `value` is from `of`; "-" where one is not known.
std::string percent_off(double value, double of);

/// The common names of `key` that mean nothing else, a user's first.
std::vector<std::string_view> names_of(std::string_view key, std::span<const NameRecord> user,
                                       std::span<const NameRecord> built_in);
/// "A, B, C", at most `most` of them.
std::string name_list(const std::vector<std::string_view>& names, std::size_t most);

}  // namespace slantrule
