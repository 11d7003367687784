#include "list_mends.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>

#include "slantrule/files/list_columns.hpp"

namespace slantrule {
namespace {

/// `"KEY": "VALUE"` of a mend, beginning at `at`; nullopt: something else stands there.
struct JobWords {
  std::string_view key, value;
  std::size_t end;
};
std::optional<JobWords> job_words_at(std::string_view text, std::size_t at) {
  const auto quoted = [&](std::size_t from) -> std::optional<std::string_view> {
    if (from >= text.size() || text[from] != '"') return std::nullopt;
    const std::size_t close = text.find('"', from + 1);
    if (close == std::string_view::npos) return std::nullopt;
    return text.substr(from + 1, close - from - 1);
  };
  const auto key = quoted(at);
  if (!key || key->empty() ||
      !std::ranges::all_of(*key, [](char c) { return (c >= 'a' && c <= 'z') || c == '_'; })) {
    return std::nullopt;
  }
  const std::size_t colon = at + key->size() + 2;
  if (!text.substr(colon).starts_with(": ")) return std::nullopt;
  const auto value = quoted(colon + 2);
  if (!value) return std::nullopt;
  return JobWords{*key, *value, colon + 4 + value->size()};
}

/// `{ "one_of": ["A", "B"] }` and `{ "between": ["A", "B"] }` as a cell has them: "A or B".
void take_choices(std::string& message) {
  for (std::string_view begin : {"{ \"one_of\": [", "{ \"between\": ["}) {
    for (std::size_t at = message.find(begin); at != std::string::npos;
         at = message.find(begin, at + 1)) {
      const std::size_t close = message.find("] }", at);
      if (close == std::string::npos) break;
      std::string inside = message.substr(at + begin.size(), close - at - begin.size());
      for (std::size_t comma = inside.find("\", \""); comma != std::string::npos;
           comma = inside.find("\", \"")) {
        inside.replace(comma, 4, " or ");
      }
      message.replace(at, close + 3 - at, inside);
    }
  }
}

/// `{ "material": "A", "thickness": "B" }` at `at`: a layer as a cell has it, "A B".
std::optional<JobWords> job_layer_at(std::string_view text, std::size_t at, std::string& layer) {
  constexpr std::string_view begin = "{ ";
  if (!text.substr(at).starts_with(begin)) return std::nullopt;
  const auto material = job_words_at(text, at + begin.size());
  if (!material || material->key != "material") return std::nullopt;
  if (!text.substr(material->end).starts_with(", ")) return std::nullopt;
  auto thickness = job_words_at(text, material->end + 2);
  if (!thickness || !text.substr(thickness->end).starts_with(" }")) return std::nullopt;
  layer = fmt::format("{} {}", material->value, thickness->value);
  thickness->end += 2;
  return thickness;
}

/// The key inside the one at fault, or beside it; empty: it is no key of a list.
std::string whole_key(std::string_view word, std::string_view at_fault) {
  std::string inside = fmt::format("{}.{}", at_fault, word);
  if (find_column_key(inside)) return inside;
  std::string beside = fmt::format("{}.{}", at_fault.substr(0, at_fault.rfind('.')), word);
  return find_column_key(beside) ? beside : std::string();
}

}  // namespace

std::string in_list_words(std::string_view job_message, std::string_view key) {
  std::string message(job_message);
  take_choices(message);
  const std::string_view text = message;
  std::string out;
  bool other_key = false;
  for (std::size_t at = 0; at < text.size();) {
    std::string layer;
    if (const auto object = job_layer_at(text, at, layer)) {
      out += fmt::format("\"{}\"", layer);
      at = object->end;
      continue;
    }
    constexpr std::string_view liner = "\"liner\": ";
    if (text.substr(at).starts_with(liner)) {
      if (const auto object = job_layer_at(text, at + liner.size(), layer)) {
        out += fmt::format("\"{}\" for pipe.liner", layer);
        other_key = true;
        at = object->end;
        // Whole jobs can leave it open; a cell can't.
        constexpr std::string_view open = " or \"unknown\"";
        if (text.substr(at).starts_with(open)) at += open.size();
        continue;
      }
    }
    const auto words = job_words_at(text, at);
    if (!words) {
      out += text[at++];
      continue;
    }
    const std::string whole = whole_key(words->key, key);
    const bool layer_cell = key == "pipe.liner" || key == "pipe.coating";
    if (words->key == "material" && layer_cell) {
      out += fmt::format("the material before the thickness, such as \"{} 3.2 mm\"", words->value);
    } else if (words->key == "thickness" && layer_cell) {
      out += fmt::format("the thickness behind the material, such as \"cement mortar {}\"",
                         words->value);
    } else if (words->key == "distance") {
      out +=
          fmt::format("the distance behind the fitting, such as \"elbow-90 @ {}\"", words->value);
    } else if (whole == key) {
      out += fmt::format("\"{}\"", words->value);
    } else if (!whole.empty()) {
      out += fmt::format("\"{}\" for {}", words->value, whole);
      other_key = true;
    } else {
      out += text.substr(at, words->end - at);
    }
    at = words->end;
  }
  if (other_key) out += " (another column of the row; for all rows by --set)";
  return out;
}

}  // namespace slantrule
