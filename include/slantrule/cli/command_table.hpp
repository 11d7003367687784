#pragma once

/// The table of commands: the single definition of each command's name, help and code.

#include <CLI/CLI.hpp>
#include <functional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace slantrule::cli {

/// 0 no stop; 1 a verdict is stop or a row was refused; 2 wrong command line, unreadable input, or
/// output that could not be written.
enum class ExitCode : int { ok = 0, stop = 1, failed = 2 };

/// What a command is set up with: declares its options on `app` and returns the code to run once
/// they are parsed.
using Setup = std::function<ExitCode()> (*)(CLI::App& app);

struct Command {
  std::string_view name;
  std::string_view summary;   ///< one line
  std::string_view examples;  ///< two real command lines; a long one goes on behind "\\"
  Setup setup;
};

std::span<const Command> command_table();

std::function<ExitCode()> setup_plan(CLI::App& app);
std::function<ExitCode()> setup_compare(CLI::App& app);
std::function<ExitCode()> setup_survey(CLI::App& app);
std::function<ExitCode()> setup_pack(CLI::App& app);
std::function<ExitCode()> setup_wrap(CLI::App& app);
std::function<ExitCode()> setup_lesson(CLI::App& app);
std::function<ExitCode()> setup_lookup(CLI::App& app);
std::function<ExitCode()> setup_new(CLI::App& app);
std::function<ExitCode()> setup_schema(CLI::App& app);

}  // namespace slantrule::cli
