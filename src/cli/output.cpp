#include "slantrule/cli/output.hpp"

#include <fmt/format.h>

#include <fcntl.h>
#include <poll.h>
#include <sys/ioctl.h>
#include <sys/stat.h>
#include <unistd.h>
#include <algorithm>
#include <climits>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <mutex>
#include <utility>

#include "slantrule/files/json_document.hpp"
#include "slantrule/units/suggest.hpp"

namespace slantrule::cli {
namespace {

/// Which file it is, whatever it is called.
struct FileIdentity {
  dev_t device;
  ino_t number;
  bool operator==(const FileIdentity&) const = default;
};

/// Devices and pipes are none: writing to them loses nothing that was read.
std::optional<FileIdentity> regular_file(const struct stat& status) {
  if (!S_ISREG(status.st_mode)) return std::nullopt;
  return FileIdentity{status.st_dev, status.st_ino};
}

/// Every file that was read. A job may name files that are read by several threads.
struct InputFiles {
  std::mutex mutex;
  std::vector<FileIdentity> files;
};
InputFiles& input_files() {
  static InputFiles files;
  return files;
}

bool is_input_file(const struct stat& status) {
  const auto file = regular_file(status);
  if (!file) return false;
  const std::lock_guard lock(input_files().mutex);
  const auto& known = input_files().files;
  return std::find(known.begin(), known.end(), *file) != known.end();
}

/// Whether a text that begins outside quotes ends outside them.
bool quotes_are_closed(std::string_view text) {
  bool closed = true;
  for (std::size_t at = text.find('"'); at != text.npos; at = text.find('"', at + 1)) {
    closed = !closed;
  }
  return closed;
}

/// As many whole lines as a pipe takes at once (PIPE_BUF), or one line where it is longer. Of CSV,
/// whole rows: their cells may hold line ends.
std::size_t whole_lines(std::string_view text, bool is_csv) {
  if (text.size() <= PIPE_BUF) return text.size();
  const auto ends_row = [&](std::size_t at) {
    return !is_csv || quotes_are_closed(text.substr(0, at));
  };
  for (std::size_t last = text.rfind('\n', PIPE_BUF - 1); last != text.npos;
       last = last == 0 ? text.npos : text.rfind('\n', last - 1)) {
    if (ends_row(last)) return last + 1;
  }
  for (std::size_t end = text.find('\n', PIPE_BUF); end != text.npos;
       end = text.find('\n', end + 1)) {
    if (ends_row(end)) return end + 1;
  }
  return text.size();
}

/// Waits until a pipe has room for `length` bytes, so that a line longer than PIPE_BUF goes in at
/// once. A line longer than the pipe has to be written in parts.
void wait_for_room(int descriptor, std::size_t length) {
  if (length <= PIPE_BUF) return;
#ifdef F_GETPIPE_SZ
  const int capacity = ::fcntl(descriptor, F_GETPIPE_SZ);
#else
  const int capacity = -1;  // not known on this system
#endif
  // A page at either end may be filled in part.
  const std::size_t needed = length + 2 * PIPE_BUF;
  if (capacity < 0 || needed > static_cast<std::size_t>(capacity)) return;
  for (int unread = 0; ::ioctl(descriptor, FIONREAD, &unread) == 0;) {
    if (static_cast<std::size_t>(unread) + needed <= static_cast<std::size_t>(capacity)) return;
    pollfd closed{descriptor, 0, 0};
    // Only whether the reader has gone is asked: a pipe has no event for so much room.
    if (::poll(&closed, 1, 1) > 0 && (closed.revents & (POLLERR | POLLHUP)) != 0) return;
  }
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
  note_input_file(::fileno(file));
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

void note_input_file(int descriptor) {
  struct stat status {};
  if (::fstat(descriptor, &status) != 0) return;
  const auto file = regular_file(status);
  if (!file) return;
  const std::lock_guard lock(input_files().mutex);
  input_files().files.push_back(*file);
}

// ---------------------------------------------------------------- output

std::optional<OutputFile> OutputFile::open(const std::string& path, bool force) {
  OutputFile out;
  out.path_ = path;
  out.force_ = force;
  if (path.empty() || path == "-") {
    out.to_stdout_ = true;
    out.descriptor_ = STDOUT_FILENO;
    struct stat status {};
    const bool known = ::fstat(STDOUT_FILENO, &status) == 0;
    if (known && is_input_file(status)) {
      complain("standard output is a file that was read; write to another one");
      return std::nullopt;
    }
    out.is_pipe_ = known && S_ISFIFO(status.st_mode);
    std::fflush(stdout);
    return out;
  }
  namespace fs = std::filesystem;
  std::error_code unknown;
  if (!force && fs::exists(fs::symlink_status(path, unknown))) {
    complain(fmt::format("{}: is there already; write over it with --force", shown(path, 200)));
    return std::nullopt;
  }
  struct stat status {};
  if (::stat(path.c_str(), &status) == 0 && is_input_file(status)) {
    complain(fmt::format("{}: is a file that was read, which is never written over; name another",
                         shown(path, 200)));
    return std::nullopt;
  }
  // The file that a link points to is written, and the link stays.
  fs::path target = fs::canonical(path, unknown);
  if (unknown) target = path;
  out.target_ = target.string();
  // Devices and pipes are written as they are: renaming a file over one would destroy it.
  out.special_ = fs::is_other(fs::status(target, unknown));
  out.part_ = out.special_ ? out.target_ : fmt::format("{}.{}.part", out.target_, ::getpid());
  const int flags = O_WRONLY | O_CREAT | O_CLOEXEC | (out.special_ ? O_TRUNC : O_EXCL);
  out.descriptor_ = ::open(out.part_.c_str(), flags, 0666);
  if (out.descriptor_ < 0) {
    out.fail(std::strerror(errno));
    return std::nullopt;
  }
  return out;
}

OutputFile::OutputFile(OutputFile&& other) noexcept
    : descriptor_(std::exchange(other.descriptor_, -1)),
      error_(other.error_),
      to_stdout_(other.to_stdout_),
      special_(other.special_),
      force_(other.force_),
      is_pipe_(other.is_pipe_),
      is_csv_(other.is_csv_),
      path_(std::move(other.path_)),
      target_(std::move(other.target_)),
      part_(std::move(other.part_)) {}

OutputFile::~OutputFile() {
  if (descriptor_ < 0 || to_stdout_) return;
  ::close(descriptor_);
  if (!special_) std::remove(part_.c_str());
}

bool OutputFile::write(std::string_view lines) {
  while (!lines.empty() && error_ == 0) {
    const std::size_t length = is_pipe_ || to_stdout_ ? whole_lines(lines, is_csv_) : lines.size();
    if (is_pipe_) wait_for_room(descriptor_, length);
    for (std::string_view rest = lines.substr(0, length); !rest.empty() && error_ == 0;) {
      const ssize_t wrote = ::write(descriptor_, rest.data(), rest.size());
      if (wrote > 0) {
        rest.remove_prefix(static_cast<std::size_t>(wrote));
      } else if (errno == EAGAIN) {
        pollfd room{descriptor_, POLLOUT, 0};
        ::poll(&room, 1, -1);
      } else if (errno != EINTR) {
        error_ = errno;
      }
    }
    lines.remove_prefix(length);
  }
  return error_ == 0;
}

ExitCode OutputFile::fail(std::string_view why) const {
  if (to_stdout_) {
    complain(fmt::format("standard output could not be written: {}", why));
  } else {
    complain(fmt::format("{}: could not be written: {}", shown(path_, 200), why));
  }
  return ExitCode::failed;
}

ExitCode OutputFile::finish() {
  const int descriptor = std::exchange(descriptor_, -1);
  if (!to_stdout_ && ::close(descriptor) != 0 && error_ == 0) error_ = errno;
  const bool quiet = error_ == EPIPE && (to_stdout_ || special_);
  if (error_ != 0 && !quiet) {
    const std::string why = std::strerror(error_);
    if (!to_stdout_ && !special_) std::remove(part_.c_str());
    return fail(why);
  }
  return to_stdout_ || special_ ? ExitCode::ok : put_in_place();
}

ExitCode OutputFile::put_in_place() {
  namespace fs = std::filesystem;
  std::error_code renamed, unknown;
  if (force_) {
    fs::rename(part_, target_, renamed);
  } else {
    // A hard link fails where a file has appeared meanwhile; a rename would replace it.
    fs::create_hard_link(part_, target_, renamed);
    // File systems of memory sticks know no hard links.
    if (renamed && !fs::exists(fs::symlink_status(target_, unknown))) {
      fs::rename(part_, target_, renamed);
      if (!renamed) return ExitCode::ok;
    }
    if (!renamed) fs::remove(part_, unknown);
  }
  if (!renamed) return ExitCode::ok;
  std::remove(part_.c_str());
  return fail(renamed.message());
}

ExitCode write_output(std::string_view text, const std::string& path, bool force) {
  auto file = OutputFile::open(path, force);
  if (!file) return ExitCode::failed;
  file->write(text);
  return file->finish();
}

}  // namespace slantrule::cli
