#pragma once

/// Reading inputs and writing outputs, whole or not at all.

#include <cerrno>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "slantrule/cli/command_table.hpp"
#include "slantrule/planning/resolved_job.hpp"

namespace slantrule::cli {

/// A line on standard error: "slantrule: TEXT".
void complain(std::string_view text);

/// A line a problem: "slantrule: FILE:LINE: key: message".
void complain(std::string_view file, const std::vector<Problem>& problems);

/// Content of a file, or of standard input for "-"; nullopt with `why` set when unreadable.
/// Files beyond the size a job may have are cut just above it, so that the reader can refuse them.
std::optional<std::string> read_input(const std::string& path, std::string& why);

/// The same, complaining itself: "slantrule: FILE: cannot be read: why".
std::optional<std::string> read_or_complain(const std::string& path);

/// Remembers an opened file as one that was read, so that no output is written over it. The readers
/// above do that by themselves.
void note_input_file(int descriptor);

/// What a file is called in messages: "-" is "<stdin>".
std::string_view input_name(const std::string& path);

/// A result in the writing: standard output for an empty path or "-", else a file that appears
/// whole or not at all and is never written over unless `force`, and by no means where it is one of
/// the files that were read.
class OutputFile {
 public:
  /// nullopt after complaining.
  static std::optional<OutputFile> open(const std::string& path, bool force);
  OutputFile(OutputFile&& other) noexcept;
  OutputFile(const OutputFile&) = delete;
  OutputFile& operator=(const OutputFile&) = delete;
  ~OutputFile();  ///< a file that was not finished vanishes

  /// Says that what is written is CSV, whose rows end in line ends outside quotes.
  void holds_csv() { is_csv_ = true; }

  /// Writes lines, or rows of CSV, each whole as far as the system allows: a program that is killed
  /// leaves no part of one in a pipe, nor in a file but for the one that crosses a page of memory.
  /// False once the reader has gone or the disk is full.
  bool write(std::string_view lines);
  bool reader_gone() const { return error_ == EPIPE; }
  /// Puts the file in its place, or complains.
  ExitCode finish();

 private:
  OutputFile() = default;
  ExitCode put_in_place();
  ExitCode fail(std::string_view why) const;

  int descriptor_ = -1;
  int error_ = 0;
  bool to_stdout_ = false, special_ = false, force_ = false, is_pipe_ = false, is_csv_ = false;
  std::string path_, target_, part_;
};

/// Writes `text` to `path`, or to standard output when `path` is empty or "-". A file appears
/// whole or not at all, and is never written over unless `force`. A closed pipe ends quietly.
ExitCode write_output(std::string_view text, const std::string& path, bool force);

}  // namespace slantrule::cli
