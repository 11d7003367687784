#include <fmt/format.h>

#include <algorithm>
#include <csignal>
#include <cstdio>
#include <exception>
#include <map>
#include <sstream>

#include "slantrule/cli/command_table.hpp"
#include "slantrule/cli/output.hpp"
#include "slantrule/units/suggest.hpp"

namespace {

using slantrule::cli::Command;
using slantrule::cli::command_table;
using slantrule::cli::complain;
using slantrule::cli::ExitCode;

constexpr const char* exit_codes =
    "Exit codes: 0 no stop; 1 a verdict is stop, no way is possible, or nothing was\n"
    "found; 2 wrong command line, unreadable input, or output that could not be\n"
    "written.";

std::string footer(const Command& command) {
  std::string text = "Examples:\n";
  for (std::string_view rest = command.examples; !rest.empty();) {
    const std::size_t end = std::min(rest.find('\n'), rest.size());
    text += "  " + std::string(rest.substr(0, end)) + "\n";
    rest.remove_prefix(std::min(end + 1, rest.size()));
  }
  return text + "\n" + exit_codes;
}

/// Says what is wrong with the command line, and the nearest name where one was misspelt.
void complain_about(const CLI::App& app, const CLI::ParseError& error) {
  const CLI::App* where = &app;
  for (const CLI::App* sub : app.get_subcommands()) where = sub;
  std::string message = error.what();
  std::vector<std::string> names;
  for (const CLI::Option* option : where->get_options()) {
    for (const std::string& name : option->get_lnames()) names.push_back("--" + name);
  }
  if (where == &app) {
    for (const Command& command : command_table()) names.emplace_back(command.name);
  }
  const std::vector<std::string_view> known(names.begin(), names.end());
  for (const std::string& extra : where->remaining(true)) {
    message = fmt::format("\"{}\" is not known here", slantrule::shown(extra));
    if (const auto near = slantrule::nearest_name(extra, known)) {
      message += fmt::format("; did you mean {}?", *near);
    }
    break;
  }
  for (char& c : message) {
    if (c == '\n') c = ' ';
  }
  complain(fmt::format("{}; see `slantrule{} --help`", slantrule::shown(message, 300),
                       where == &app ? "" : " " + where->get_name()));
}

int run(int argc, char** argv) {
  CLI::App app{
      "Plans the installation of clamp-on ultrasonic transit-time flow sensors on\n"
      "liquid-filled pipes: where, which path, how far apart, and what to expect.",
      "slantrule"};
  app.set_version_flag("-V,--version", fmt::format("slantrule {}", SLANTRULE_VERSION));
  app.footer(exit_codes);
  app.get_formatter()->column_width(26);
  app.require_subcommand(0, 1);
  std::map<const CLI::App*, std::function<ExitCode()>> code;
  for (const Command& command : command_table()) {
    CLI::App* sub = app.add_subcommand(std::string(command.name), std::string(command.summary));
    sub->footer(footer(command));
    code[sub] = command.setup(*sub);
  }
  try {
    app.parse(argc, argv);
  } catch (const CLI::Success& success) {
    // Help and version: a full disk is a failure here as well.
    std::ostringstream text;
    app.exit(success, text, text);
    return static_cast<int>(slantrule::cli::write_output(text.str(), "", false));
  } catch (const CLI::ParseError& error) {
    complain_about(app, error);
    return static_cast<int>(ExitCode::failed);
  }
  const auto chosen = app.get_subcommands();
  if (chosen.empty()) {
    fmt::print(stderr, "usage: slantrule COMMAND ...; see `slantrule --help`\n");
    return static_cast<int>(ExitCode::failed);
  }
  return static_cast<int>(code[chosen.front()]());
}

}  // namespace

int main(int argc, char** argv) {
  // A closed pipe shows as a failed write, which ends quietly, instead of as a signal.
  std::signal(SIGPIPE, SIG_IGN);
  try {
    return run(argc, argv);
  } catch (const std::exception& error) {
    complain(fmt::format("a fault of the program, not of the input: {}", error.what()));
    return static_cast<int>(ExitCode::failed);
  }
}
