#pragma once

#include <string>
#include <string_view>

namespace slantrule {

/// A message that tells a mend as a job has it, `"KEY": "VALUE"`, in the words of a list: the key
/// in full, or the cell alone where it is `key`, the one at fault; choices as "A or B".
std::string in_list_words(std::string_view message, std::string_view key);

}  // namespace slantrule
