// Prints what the wave computations cost on this machine, with the grids they use. It judges
// nothing: quote its figures with the machine they come from. Media are typical handbook numbers,
// from memory.

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstring>
#include <numbers>
#include <vector>

#include "slantrule/acoustics/interface.hpp"
#include "slantrule/acoustics/layer_stack.hpp"
#include "slantrule/acoustics/wave_response.hpp"

namespace {

using namespace slantrule;

/// Keeps the optimiser from dropping a result.
volatile double sink = 0;

constexpr AcousticMedium acrylic{
    .density_kg_m3 = 1180, .longitudinal_m_s = 2730, .shear_m_s = 1430};
constexpr AcousticMedium peek{.density_kg_m3 = 1300, .longitudinal_m_s = 2550, .shear_m_s = 1130};
constexpr AcousticMedium steel{.density_kg_m3 = 7850, .longitudinal_m_s = 5900, .shear_m_s = 3230};
constexpr AcousticMedium copper{.density_kg_m3 = 8930, .longitudinal_m_s = 4700, .shear_m_s = 2260};
constexpr AcousticMedium mortar{.density_kg_m3 = 2200, .longitudinal_m_s = 3700, .shear_m_s = 2200};
constexpr AcousticMedium water{.density_kg_m3 = 998.2, .longitudinal_m_s = 1482.3};

/// Median seconds of one call over several batches.
template <class Call>
double seconds(int batches, int calls, const Call& call) {
  std::vector<double> took;
  for (int batch = 0; batch < batches; ++batch) {
    const auto start = std::chrono::steady_clock::now();
    for (int i = 0; i < calls; ++i) sink = sink + call();
    const std::chrono::duration<double> elapsed = std::chrono::steady_clock::now() - start;
    took.push_back(elapsed.count() / calls);
  }
  std::sort(took.begin(), took.end());
  return took[took.size() / 2];
}

SoundPath path_of(const AcousticMedium& wedge, double element_m, double frequency_Hz, int traverses,
                  double bore_m) {
  SoundPath path;
  path.wedge = wedge;
  path.wedge_angle_rad = 38 * std::numbers::pi / 180;
  path.wedge_path_m = 0.01;
  path.element_m = path.element_width_m = element_m;
  path.frequency_Hz = frequency_Hz;
  path.traverses = traverses;
  path.bore_m = bore_m;
  path.liquid = water;
  return path;
}

struct NamedPath {
  const char* name;
  SoundPath path;
};

std::vector<NamedPath> named_paths() {
  NamedPath tube{"copper tube 22 mm, N = 4, 2 MHz", path_of(peek, 0.008, 2e6, 4, 0.020)};
  tube.path.add_layer({copper, 0.001, WaveMode::shear});
  NamedPath pipe{"steel DN150, N = 2, 1 MHz", path_of(acrylic, 0.015, 1e6, 2, 0.154)};
  pipe.path.add_layer({steel, 0.0071, WaveMode::shear});
  NamedPath main{"steel 1.2 m, mortar lining, N = 1, 0.5 MHz",
                 path_of(acrylic, 0.025, 0.5e6, 1, 1.17)};
  main.path.add_layer({steel, 0.012, WaveMode::shear});
  main.path.add_layer({mortar, 0.012, WaveMode::shear});
  return {tube, pipe, main};
}

void measure_interfaces(int calls) {
  const WaveMedium upper = wave_medium(acrylic, 1e6), lower = wave_medium(steel, 1e6);
  double p = 0;
  const auto next = [&] {
    p = p > 3.5e-4 ? 1e-6 : p + 1e-9;
    return p;
  };
  const double slip_s = seconds(9, calls, [&] {
    const double at = next();
    return shear_free_contact(partial_waves(upper, at), partial_waves(lower, at))
        .transmission_down.value[2]
        .real();
  });
  const double welded_s = seconds(9, calls, [&] {
    const double at = next();
    return welded_contact(partial_waves(upper, at), partial_waves(lower, at))
        .transmission_down.value[2]
        .real();
  });
  fmt::print("{:<52}{:>10.3f} us\n", "interface, shear-free", slip_s * 1e6);
  fmt::print("{:<52}{:>10.3f} us\n", "interface, welded", welded_s * 1e6);
}

/// What is left of the grid's own error.
void show_change_when_finer(const SoundPath& path) {
  const WaveResponse once = wave_response(path), twice = wave_response(path, {.refinement = 2});
  fmt::print(
      "    twice as fine: best spacing {:+.3f} mm, its level {:+.3f} dB, at the ray {:+.3f} dB\n",
      1e3 * (twice.best_offset_m - once.best_offset_m), twice.best_level_dB - once.best_level_dB,
      twice.at_ray.level_dB - once.at_ray.level_dB);
}

}  // namespace

int main(int argc, char** argv) {
  const bool quick = argc > 1 && std::strcmp(argv[1], "--quick") == 0;
  fmt::print("medians, one core\n");
  measure_interfaces(quick ? 10 : 200000);
  for (const NamedPath& row : named_paths()) {
    fmt::print("{}\n", row.name);
    fmt::print("{:<52}{:>10.3f} ms\n", "  direct_response",
               1e3 * seconds(quick ? 1 : 9, quick ? 1 : 20,
                             [&] { return direct_response(row.path).best_offset_m; }));
    WaveGrid grid;
    const double took_s = seconds(quick ? 1 : 3, 1, [&] {
      const WaveResponse response = wave_response(row.path);
      grid = response.grid;
      return response.best_offset_m;
    });
    fmt::print("{:<52}{:>10.3f} s   {} frequencies x {} angles x {} spacings, {} times\n",
               "  wave_response", took_s, grid.frequencies, grid.angles, grid.spacings, grid.times);
    if (!quick) show_change_when_finer(row.path);
  }
  return 0;
}
