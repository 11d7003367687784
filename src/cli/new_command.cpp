#include <algorithm>
#include <array>
#include <memory>
#include <vector>

#include "slantrule/cli/command_table.hpp"
#include "slantrule/cli/common_options.hpp"
#include "slantrule/cli/output.hpp"
#include "slantrule/planning/job_visit.hpp"
#include "slantrule/sheets/text_layout.hpp"
#include "slantrule/units/suggest.hpp"

namespace slantrule::cli {
namespace {

constexpr std::array<std::string_view, 14> questions = {
    "What is the measurement for, and how large a difference must it prove?",
    "Which pipe is it: standard, size, schedule; and has anybody taped its girth and gauged its "
    "wall?",
    "What is the wall made of? Is it lined (iron and old steel usually are), coated, painted?",
    "Which liquid, how strong, how warm, at what pressure? Gas or solids in it?",
    "Usual, least and greatest flow? Can it be stopped for a zero test?",
    "Horizontal, vertical (which way does it flow) or sloped? Is it always full?",
    "What is the nearest fitting upstream, and how far off? And downstream?",
    "How much clear pipe is there, how high, and can one get all round it?",
    "What is on the surface: paint, rust, wrap, insulation? What may be under old insulation?",
    "How hot or cold is the surface, and the air round it?",
    "Hazardous area? Permits, scaffold, rescue, lock-out: who decides?",
    "Which sensor pair and transmitter? Its frequency, wedge speed, angle, setback, nose?",
    "Does the transmitter apply the profile factor itself?",
    "Who will compare the reading with what, afterwards?",
};

/// Keys that a starter job has filled in; all others stand there as comments.
constexpr std::array<std::string_view, 19> filled = {"tag",
                                                     "title",
                                                     "pipe.size",
                                                     "pipe.material",
                                                     "pipe.liner",
                                                     "pipe.orientation",
                                                     "fluid.name",
                                                     "fluid.temperature",
                                                     "fluid.pressure",
                                                     "flow.rate",
                                                     "flow.least",
                                                     "flow.most",
                                                     "sensors",
                                                     "path.traverses",
                                                     "location.upstream",
                                                     "location.downstream",
                                                     "location.clock",
                                                     "flow.can_stop",
                                                     "location.ambient"};

bool is_filled(const std::string& path) {
  return std::find(filled.begin(), filled.end(), path) != filled.end();
}

template <KeyedRequest Request>
bool any_filled(const std::string& prefix);

/// Lines of one object: live entries, the others as comments. Commas stand so that the text stays
/// valid whichever // are taken off: behind an entry as long as a live one follows, else before it.
template <KeyedRequest Request>
void add_lines(std::vector<std::string>& lines, const std::string& prefix,
               const std::string& indent) {
  std::size_t left = 0;
  Request request;
  const auto is_live = [&](const std::string& path, auto& entry) {
    using EntryType = std::remove_cvref_t<decltype(entry)>;
    if constexpr (KeyedRequest<EntryType>) {
      return any_filled<EntryType>(path);
    } else {
      return is_filled(path);
    }
  };
  visit_keys(request, [&](const KeyInfo& info, auto& entry) {
    if (is_live(joined_key(prefix, info.key), entry)) ++left;
  });
  visit_keys(request, [&](const KeyInfo& info, auto& entry) {
    using EntryType = std::remove_cvref_t<decltype(entry)>;
    const std::string path = joined_key(prefix, info.key);
    const bool live = is_live(path, entry);
    std::string help(info.help);
    if (!info.choices.empty()) {
      help += ":";
      for (std::string_view choice : info.choices) {
        help += (help.back() == ':' ? " " : ", ") + std::string(choice);
      }
    }
    for (std::string& one : wrapped(help, indent + "// ", indent + "// ")) {
      lines.push_back(std::move(one));
    }
    const bool after_the_last = left == 0;
    if (live) --left;
    const std::string comma = left > 0 ? "," : "";
    const char* comment = live ? "" : after_the_last ? "//, " : "// ";
    const std::string begin = indent + comment + "\"" + std::string(info.key) + "\": ";
    if constexpr (KeyedRequest<EntryType>) {
      if (live) {
        lines.push_back(begin + "{");
        add_lines<EntryType>(lines, path, indent + "  ");
        lines.push_back(indent + "}" + comma);
        return;
      }
    }
    lines.push_back(begin + std::string(info.example) + comma);
  });
}

template <KeyedRequest Request>
bool any_filled(const std::string& prefix) {
  bool any = false;
  Request request;
  visit_all_keys(request, prefix, [&](const std::string& path, const KeyInfo&, const auto&) {
    any = any || is_filled(path);
  });
  return any;
}

std::string starter_job() {
  std::string out;
  out += "// A job for slantrule. Change what is filled in; take the // off what you know.\n";
  out += "// Quantities are texts with units; add tolerances as in \"7.11 mm +- 0.15 mm\".\n";
  out += "//\n// Ask the site before you travel:\n";
  for (std::string_view question : questions) {
    for (const std::string& one : wrapped(question, "//   - ", "//     ")) out += one + "\n";
  }
  out += "{\n  \"slantrule\": 1,\n";
  std::vector<std::string> lines;
  add_lines<JobRequest>(lines, "", "  ");
  for (const std::string& line : lines) out += line + "\n";
  return out + "}\n";
}

struct NewCommand {
  CommonOptions common;
  std::string file;

  ExitCode run() const {
    if (!file.empty() && !common.output.empty()) {
      complain("name the file once: as FILE or with --output");
      return ExitCode::failed;
    }
    const std::string path = file.empty() ? common.output : file;
    const ExitCode code = write_output(starter_job(), path, common.force);
    if (code == ExitCode::ok && !path.empty() && path != "-") {
      const std::string name = shown(path, 200);
      complain(name + ": written; fill it in, then run `slantrule plan " + name + "`");
    }
    return code;
  }
};

}  // namespace

std::function<ExitCode()> setup_new(CLI::App& app) {
  auto command = std::make_shared<NewCommand>();
  app.add_option("FILE", command->file, "File to write; nothing: standard output")->type_name("");
  command->common.add_output(app);
  return [command] { return command->run(); };
}

}  // namespace slantrule::cli
