// Prints what the library's main calls cost on this machine. It judges nothing: quote its figures
// with the machine they come from.

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstring>
#include <fstream>
#include <sstream>
#include <vector>

#include "slantrule/catalogue/liquid_designation.hpp"
#include "slantrule/catalogue/liquid_factory.hpp"
#include "slantrule/catalogue/size_designation.hpp"
#include "slantrule/files/job_file.hpp"
#include "slantrule/liquids/water.hpp"
#include "slantrule/planning/compare.hpp"
#include "slantrule/sheets/sheet.hpp"

namespace {

using namespace slantrule;

/// Keeps the optimiser from dropping a result.
volatile double sink = 0;

/// Median time of one call over several batches.
template <class Call>
void measure(const char* what, int calls, const Call& call) {
  constexpr int batches = 9;
  std::vector<double> us;
  for (int batch = 0; batch < batches; ++batch) {
    const auto start = std::chrono::steady_clock::now();
    for (int i = 0; i < calls; ++i) sink = sink + call();
    const std::chrono::duration<double, std::micro> took = std::chrono::steady_clock::now() - start;
    us.push_back(took.count() / calls);
  }
  std::sort(us.begin(), us.end());
  fmt::print("{:<52}{:>10.3f} us  (fastest {:.3f}, slowest {:.3f})\n", what, us[batches / 2],
             us.front(), us.back());
}

}  // namespace

int main(int argc, char** argv) {
  const bool quick = argc > 1 && std::strcmp(argv[1], "--quick") == 0;
  const int many = quick ? 10 : 20000;
  const int some = quick ? 10 : 2000;

  std::ifstream file(SLANTRULE_SOURCE_DIR "/examples/chilled-water.json");
  std::stringstream text;
  text << file.rdbuf();
  const std::string job_text = text.str();
  const Catalogue catalogue;
  const ReadJob read = read_job(job_text, {});
  Resolution resolution = resolve(read.request, catalogue);
  if (!read.problems.empty() || resolution.variants.size() != 1) {
    fmt::print(stderr, "the example job does not resolve\n");
    return 1;
  }
  const ResolvedJob job = resolution.variants.front().job;
  const PlannedJob planned = plan_all(std::move(resolution.variants));
  const auto water = make_water();

  fmt::print("median of 9 batches, one core, job examples/chilled-water.json\n");
  double temperature_K = 280;
  measure("water: speed of sound, density, viscosity", many, [&] {
    // A new state each time, so that nothing could be remembered.
    temperature_K = temperature_K > 360 ? 280 : temperature_K + 0.001;
    return water->at({temperature_K, 5e5, 0}).sound_speed_m_s->value;
  });
  for (const char* key : {"seawater", "ethylene_glycol_aq", "toluene", "brine_nacl"}) {
    const LiquidRecord& row = *catalogue.liquid(key).record;
    const auto model = make_liquid(row, std::nullopt, catalogue);
    const double fraction = row.solution ? 0.03 : 0;
    measure(fmt::format("{}: the same", key).c_str(), many, [&] {
      temperature_K = temperature_K > 300 ? 280 : temperature_K + 0.001;
      return model->at({temperature_K, 5e5, fraction}).sound_speed_m_s->value;
    });
  }
  for (const char* size : {"NPS 6 sch 40", "PE 110 SDR 11", "TB A53 \u00D8114,3x6,02 L6000mm"}) {
    measure(fmt::format("read_size \"{}\"", size).c_str(), many,
            [&] { return read_size(size, "", catalogue).outside_diameter_m; });
  }
  measure("read_liquid \"MEG 35 % mass\"", many, [&] {
    return static_cast<double>(read_liquid("MEG 35 % mass", catalogue).strengths.size());
  });
  measure("parse_quantity \"168.3 mm +- 0.2 mm\"", many, [] {
    return std::get<Reading>(parse_quantity("168.3 mm +- 0.2 mm", Dimension::length)).si;
  });
  const auto options = [](bool findings, SignalDetail signal) {
    PlanOptions out;
    out.findings = findings;
    out.sensitivity = false;
    out.signal = signal;
    return out;
  };
  const PlanOptions bare = options(false, SignalDetail::none);
  const PlanOptions checked = options(true, SignalDetail::none);
  const PlanOptions budgeted = options(true, SignalDetail::level);
  ResolvedJob open = job;
  open.path.traverses.reset();
  measure("plan, path and flow only", many, [&] { return plan(job, bare).bore_m; });
  measure("plan with all checks, no signal", many, [&] { return plan(job, checked).bore_m; });
  measure("plan with all checks and the budget", many, [&] { return plan(job, budgeted).bore_m; });
  measure("the same, traverses chosen from 12", some, [&] { return plan(open, budgeted).bore_m; });
  measure("plan with everything but the whole wave model", quick ? 2 : 100,
          [&] { return plan(job).bore_m; });
  measure("compare", quick ? 1 : 20, [&] { return static_cast<double>(compare(open).size()); });
  measure("read_job", some,
          [&] { return static_cast<double>(read_job(job_text, {}).problems.size()); });
  measure("resolve", some,
          [&] { return static_cast<double>(resolve(read.request, catalogue).variants.size()); });
  measure("text_sheet", some, [&] { return static_cast<double>(text_sheet(planned, {}).size()); });
  measure("json_sheet", some,
          [&] { return static_cast<double>(json_sheet(planned, "bench").size()); });
  return 0;
}
