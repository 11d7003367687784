#include "slantrule/cli/output.hpp"

#include <fmt/format.h>

#include <unistd.h>
#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>

#include "slantrule/files/json_document.hpp"
#include "slantrule/units/suggest.hpp"

namespace slantrule::cli {
namespace {

bool write_all(std::FILE* file, std::string_view text) {
  return std::fwrite(text.data(), 1, text.size(), file) == text.size() && std::fflush(file) == 0;
}

}  // namespace

void complain(std::string_view text) {
  fmt::print(stderr, "slantrule: {}\n", text);
}

std::optional<std::string> read_or_complain(const std::string& path) {
  std::string why;
  auto text = read_input(path, why);
  if (!text) complain(fmt::format("{}: cannot be read: {}", shown(input_name(path), 200), why));
  return text;
}

std::string_view input_name(const std::string& path) {
  if (path == "-") return "<stdin>";
  return path;
}

void complain(std::string_view file, const std::vector<Problem>& problems) {
  for (const Problem& problem : problems) {
    std::string line = shown(file, 200);
    if (problem.place.from_set) line = "--set";
    if (problem.place.line > 0) line += fmt::format(":{}", problem.place.line);
    if (!problem.key.empty()) line += fmt::format(": {}", problem.key);
    complain(fmt::format("{}: {}", line, problem.message));
  }
}

std::optional<std::string> read_input(const std::string& path, std::string& why) {
  std::FILE* file = path == "-" ? stdin : std::fopen(path.c_str(), "rb");
  if (!file) {
    why = std::strerror(errno);
    return std::nullopt;
  }
  std::string text;
  char block[1 << 16];
  std::size_t got = 0;
  while (text.size() <= largest_text_bytes &&
         (got = std::fread(block, 1, sizeof block, file)) > 0) {
    text.append(block, got);
  }
  const bool failed = std::ferror(file) != 0;
  if (failed) why = std::strerror(errno);
  if (file != stdin) std::fclose(file);
  if (failed) return std::nullopt;
  return text;
}

ExitCode write_output(std::string_view text, const std::string& path, bool force) {
  if (path.empty() || path == "-") {
    if (write_all(stdout, text)) return ExitCode::ok;
    if (errno == EPIPE) return ExitCode::ok;
    complain(fmt::format("standard output could not be written: {}", std::strerror(errno)));
    return ExitCode::failed;
  }
  const auto fail = [&](std::string_view why) {
    complain(fmt::format("{}: could not be written: {}", shown(path, 200), why));
    return ExitCode::failed;
  };
  namespace fs = std::filesystem;
  std::error_code unknown;
  if (!force && fs::exists(fs::symlink_status(path, unknown))) {
    complain(fmt::format("{}: is there already; write over it with --force", shown(path, 200)));
    return ExitCode::failed;
  }
  // The file that a link points to is written, and the link stays.
  fs::path target = fs::canonical(path, unknown);
  if (unknown) target = path;
  // Devices and pipes are written as they are: renaming a file over one would destroy it.
  const bool special = fs::is_other(fs::status(target, unknown));
  const std::string place =
      special ? target.string() : fmt::format("{}.{}.part", target.string(), ::getpid());
  std::FILE* file = std::fopen(place.c_str(), special ? "wb" : "wbx");
  if (!file) return fail(std::strerror(errno));
  bool whole = write_all(file, text);
  int error = whole ? 0 : errno;
  if (std::fclose(file) != 0 && whole) {
    whole = false;
    error = errno;
  }
  if (special) return whole || error == EPIPE ? ExitCode::ok : fail(std::strerror(error));
  std::error_code renamed;
  if (whole) {
    if (force) {
      fs::rename(place, target, renamed);
    } else {
      // A hard link fails where a file has appeared meanwhile; a rename would replace it.
      fs::create_hard_link(place, target, renamed);
      // File systems of memory sticks know no hard links.
      if (renamed && !fs::exists(fs::symlink_status(target, unknown))) {
        fs::rename(place, target, renamed);
        if (!renamed) return ExitCode::ok;
      }
      if (!renamed) fs::remove(place, unknown);
    }
    if (!renamed) return ExitCode::ok;
  }
  std::remove(place.c_str());
  return fail(whole ? renamed.message() : std::string(std::strerror(error)));
}

}  // namespace slantrule::cli
