#pragma once

/// Walking a whole job by its key table.

#include <cstddef>
#include <string>
#include <string_view>
#include <type_traits>

#include "slantrule/planning/job_keys.hpp"

namespace slantrule {

/// An object that has a table of keys.
template <class T>
concept KeyedRequest = requires(std::remove_const_t<T>& request) {
  visit_keys(request, [](const KeyInfo&, auto&) {});
};

inline std::string joined_key(std::string_view prefix, std::string_view key) {
  std::string path(prefix);
  if (!path.empty()) path += '.';
  path += key;
  return path;
}

/// Where a walk stands: a key of the object above, or an item of the list above. The text is put
/// together only when it is asked for.
struct KeyPath {
  const KeyPath* above = nullptr;  ///< null: of the whole
  std::string_view key;            ///< empty: an item
  std::size_t item = 0;

  /// "accept[0].finding"
  std::string text() const {
    const std::string before = above ? above->text() : std::string();
    return key.empty() ? before + '[' + std::to_string(item) + ']' : joined_key(before, key);
  }
};

/// Calls `visit(KeyPath, KeyInfo, entry)` for every entry of `request`, sections included, and goes
/// down into sections, stated objects and list items.
template <class Request, class Visit>
void walk_keys(Request& request, const Visit& visit, const KeyPath* above = nullptr) {
  visit_keys(request, [&](const KeyInfo& info, auto& entry) {
    using EntryType = std::remove_cvref_t<decltype(entry)>;
    const KeyPath path{above, info.key};
    visit(path, info, entry);
    if constexpr (KeyedRequest<EntryType>) {
      walk_keys(entry, visit, &path);
    } else if constexpr (requires { entry.items; }) {
      for (std::size_t i = 0; i < entry.items.size(); ++i) {
        const KeyPath item{&path, {}, i};
        walk_keys(entry.items[i], visit, &item);
      }
    } else if constexpr (requires { entry.pair; }) {
      if (entry.pair) walk_keys(*entry.pair, visit, &path);
    } else if constexpr (requires { entry.value.value(); }) {
      if constexpr (KeyedRequest<std::remove_cvref_t<decltype(*entry.value)>>) {
        if (entry.value) walk_keys(*entry.value, visit, &path);
      }
    } else if constexpr (requires { entry.options.front().value; }) {
      if constexpr (KeyedRequest<std::remove_cvref_t<decltype(entry.options.front().value)>>) {
        for (auto& option : entry.options) walk_keys(option.value, visit, &path);
      }
    }
  });
}

/// The same with the path as a text, below `prefix`: `visit(dotted path, KeyInfo, entry)`.
template <class Request, class Visit>
void visit_all_keys(Request& request, std::string_view prefix, const Visit& visit) {
  const KeyPath above{nullptr, prefix};
  walk_keys(
      request,
      [&](const KeyPath& path, const KeyInfo& info, auto& entry) {
        visit(path.text(), info, entry);
      },
      prefix.empty() ? nullptr : &above);
}

}  // namespace slantrule
