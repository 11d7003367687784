#pragma once

// Runs a program as a user would: arguments, standard input, and what came out.

#include <fcntl.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

namespace slantrule::test {

namespace fs = std::filesystem;
using Args = std::vector<std::string>;

inline std::string text_of(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

inline void write(const fs::path& path, const std::string& text) {
  std::ofstream(path, std::ios::binary) << text;
}

/// A folder of its own that goes away with it, holding a copy of examples/.
class Folder {
 public:
  Folder() {
    std::string name = (fs::temp_directory_path() / "slantrule-test-XXXXXX").string();
    REQUIRE(::mkdtemp(name.data()) != nullptr);
    path_ = name;
    fs::copy(fs::path(SLANTRULE_SOURCE_DIR) / "examples", path_ / "examples",
             fs::copy_options::recursive);
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  ~Folder() {
    std::error_code ignored;
    fs::remove_all(path_, ignored);
  }
  fs::path operator/(const std::string& name) const { return path_ / name; }
  const fs::path& path() const { return path_; }
  std::size_t entries() const {
    return static_cast<std::size_t>(
        std::distance(fs::directory_iterator(path_), fs::directory_iterator()));
  }

 private:
  fs::path path_;
};

struct Outcome {
  int code = -1;  ///< exit code; -signal when it died of one
  std::string out, err;
};

struct Setting {
  std::string input = {};            ///< standard input
  std::string standard_output = {};  ///< a device to write to instead of keeping what comes
  bool closed_pipe = false;          ///< standard output is a pipe that nobody reads
  std::string locale = "C.UTF-8";
};

/// Runs `program` in `folder`, on its PATH first.
inline Outcome run_program(const std::string& program, const Folder& folder, const Args& args,
                           const Setting& setting = {}) {
  // Kept outside the folder, so that a test can count what a command leaves there.
  const fs::path base = folder.path().string() + "-io";
  fs::create_directories(base);
  write(base / "in", setting.input);
  const std::string in = base / "in", out = base / "out", err = base / "err";
  const std::string path_variable =
      fs::path(SLANTRULE_PROGRAM).parent_path().string() + ":" + std::getenv("PATH");
  std::vector<char*> argv;
  argv.push_back(const_cast<char*>(program.c_str()));
  for (const std::string& arg : args) argv.push_back(const_cast<char*>(arg.c_str()));
  argv.push_back(nullptr);

  int pipe_ends[2] = {-1, -1};
  if (setting.closed_pipe) REQUIRE(::pipe(pipe_ends) == 0);
  const pid_t child = ::fork();
  REQUIRE(child >= 0);
  if (child == 0) {
    const std::string& target = setting.standard_output.empty() ? out : setting.standard_output;
    const int flags = O_WRONLY | (setting.standard_output.empty() ? O_CREAT | O_TRUNC : 0);
    const int output = setting.closed_pipe ? pipe_ends[1] : ::open(target.c_str(), flags, 0600);
    if (setting.closed_pipe) ::close(pipe_ends[0]);
    const int input = ::open(in.c_str(), O_RDONLY);
    const int error = ::open(err.c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0600);
    if (output < 0 || input < 0 || error < 0 || ::dup2(input, 0) < 0 || ::dup2(output, 1) < 0 ||
        ::dup2(error, 2) < 0 || ::chdir(folder.path().c_str()) != 0) {
      ::_exit(126);
    }
    ::setenv("PATH", path_variable.c_str(), 1);
    ::setenv("LC_ALL", setting.locale.c_str(), 1);
    ::execv(program.c_str(), argv.data());
    ::_exit(127);
  }
  if (setting.closed_pipe) {
    ::close(pipe_ends[0]);
    ::close(pipe_ends[1]);
  }
  int status = 0;
  REQUIRE(::waitpid(child, &status, 0) == child);
  Outcome outcome;
  outcome.code = WIFEXITED(status) ? WEXITSTATUS(status) : -WTERMSIG(status);
  outcome.out = text_of(out);
  outcome.err = text_of(err);
  fs::remove_all(base);
  return outcome;
}

inline Outcome run_slantrule(const Folder& folder, const Args& args, const Setting& setting = {}) {
  return run_program(SLANTRULE_PROGRAM, folder, args, setting);
}

inline std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::size_t at = 0;
  while (at < text.size()) {
    const std::size_t end = std::min(text.find('\n', at), text.size());
    lines.push_back(text.substr(at, end - at));
    at = end + 1;
  }
  return lines;
}

}  // namespace slantrule::test
