#pragma once

/// Walking a whole job by its key table.

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

/// Calls `visit(dotted path, KeyInfo, entry)` for every entry of `request`, sections included, and
/// goes down into sections, stated objects and list items (`accept[0].finding`).
template <class Request, class Visit>
void visit_all_keys(Request& request, std::string_view prefix, const Visit& visit) {
  visit_keys(request, [&](const KeyInfo& info, auto& entry) {
    using EntryType = std::remove_cvref_t<decltype(entry)>;
    const std::string path = joined_key(prefix, info.key);
    visit(path, info, entry);
    if constexpr (KeyedRequest<EntryType>) {
      visit_all_keys(entry, path, visit);
    } else if constexpr (requires { entry.items; }) {
      for (std::size_t i = 0; i < entry.items.size(); ++i) {
        visit_all_keys(entry.items[i], path + "[" + std::to_string(i) + "]", visit);
      }
    } else if constexpr (requires { entry.pair; }) {
      if (entry.pair) visit_all_keys(*entry.pair, path, visit);
    } else if constexpr (requires { entry.value.value(); }) {
      if constexpr (KeyedRequest<std::remove_cvref_t<decltype(*entry.value)>>) {
        if (entry.value) visit_all_keys(*entry.value, path, visit);
      }
    } else if constexpr (requires { entry.options.front().value; }) {
      if constexpr (KeyedRequest<std::remove_cvref_t<decltype(entry.options.front().value)>>) {
        for (auto& option : entry.options) visit_all_keys(option.value, path, visit);
      }
    }
  });
}

}  // namespace slantrule
