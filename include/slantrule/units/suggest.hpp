#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace slantrule {

/// The candidate nearest to `text` by edit distance (insert, delete, replace, swap of neighbours),
/// case and the characters space, '-' and '_' aside; nullopt when none is near enough to be a
/// likely slip (distance above a third of the length, at least 1; or nothing in common; or more
/// than 200 bytes). Of equally near ones the first. Counts bytes, not code points.
std::optional<std::string_view> nearest_name(std::string_view text,
                                             std::span<const std::string_view> candidates);

/// Lower case, with spaces, hyphens and underscores taken as one and the same separator '_' and
/// trimmed: the form in which catalogue names are compared. Capitals of ASCII, Latin-1, Latin
/// Extended-A, Greek and Cyrillic become small; all else, and bytes that are no UTF-8, stays.
std::string folded_name(std::string_view text);

/// `text` with control characters (C0, DEL, C1 in UTF-8), line and paragraph separators, controls
/// of writing direction and each byte of invalid UTF-8 replaced by '?', cut to `most` code points
/// with
/// "..." behind: what may be shown of a text that a file brought.
std::string shown(std::string_view text, std::size_t most = 60);

}  // namespace slantrule
