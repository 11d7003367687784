#include "slantrule/cli/job_input.hpp"

#include "slantrule/cli/output.hpp"

namespace slantrule::cli {
namespace {

/// Variants of one job; empty after complaining.
std::vector<Variant> resolved(const std::string& path, std::optional<std::string_view> text,
                              const std::vector<std::string>& sets, const Catalogue& catalogue) {
  const std::string_view name = text ? input_name(path) : std::string_view("--set");
  const ReadJob read = read_job(text, sets, files_beside(path));
  // What was misread would look missing to the resolver: only one of the two speaks.
  if (!read.problems.empty()) {
    complain(name, read.problems);
    return {};
  }
  Resolution resolution = resolve(read.request, catalogue);
  complain(name, resolution.problems);
  return std::move(resolution.variants);
}

}  // namespace

ReadNamedFile files_beside(const std::string& job_path) {
  const std::size_t slash = job_path.rfind('/');
  const std::string folder =
      slash == std::string::npos ? std::string() : job_path.substr(0, slash + 1);
  return [folder](const std::string& path) {
    std::string why;
    return read_input(path.starts_with('/') ? path : folder + path, why);
  };
}

void JobInput::add_to(CLI::App& app, bool many) {
  CLI::Option* option = app.add_option("JOB", jobs,
                                       many ? "Job files; - reads one from standard input"
                                            : "Job file; - reads it from standard input");
  option->type_name("");
  if (!many) option->expected(0, 1);
  app.add_option("--set", sets, "sets a job key over the file; KEY= clears it")
      ->type_name("KEY=VALUE")
      ->allow_extra_args(false)
      ->group("Input");
}

std::optional<std::vector<std::vector<Variant>>> JobInput::resolve_all(const CommonOptions& common,
                                                                       Catalogue& catalogue) const {
  if (common.reads_stdin_twice(jobs)) return std::nullopt;
  if (jobs.empty() && sets.empty()) {
    complain(
        "no job: name a job file, or describe the job with --set; see "
        "`slantrule plan --help`");
    return std::nullopt;
  }
  bool good = common.load_catalogues(catalogue);
  std::vector<std::vector<Variant>> all;
  if (jobs.empty()) all.push_back(resolved("", std::nullopt, sets, catalogue));
  for (const std::string& path : jobs) {
    const auto text = read_or_complain(path);
    if (!text) {
      good = false;
      continue;
    }
    all.push_back(resolved(path, *text, sets, catalogue));
  }
  for (const auto& variants : all) good = good && !variants.empty();
  if (!good) return std::nullopt;
  return all;
}

}  // namespace slantrule::cli
