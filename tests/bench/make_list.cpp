// Prints a list of N invented pipes, no two alike, to time `slantrule survey` with:
//
//     make_list 100000 > list.csv
//     make_list 100000 json > list.jsonl
//
// Clean rows: every size, wall, temperature, pressure, flow and distance is another one.

#include <fmt/format.h>

#include <array>
#include <charconv>
#include <cstdio>
#include <cstring>
#include <random>
#include <string>

namespace {

struct Size {
  const char* text;
  double outside_diameter_mm, wall_mm;
};

/// ASME B36.10M, schedule 40 and STD.
constexpr std::array<Size, 8> sizes = {{{"NPS 2", 60.3, 3.91},
                                        {"NPS 3", 88.9, 5.49},
                                        {"NPS 4", 114.3, 6.02},
                                        {"NPS 6", 168.3, 7.11},
                                        {"NPS 8", 219.1, 8.18},
                                        {"NPS 10", 273.0, 9.27},
                                        {"NPS 12", 323.8, 9.53},
                                        {"NPS 16", 406.4, 9.53}}};

}  // namespace

int main(int argc, char** argv) {
  std::size_t rows = 0;
  if (argc < 2 ||
      std::from_chars(argv[1], argv[1] + std::strlen(argv[1]), rows).ec != std::errc()) {
    fmt::print(stderr, "usage: make_list ROWS [json]\n");
    return 2;
  }
  const bool json = argc > 2 && std::strcmp(argv[2], "json") == 0;
  std::mt19937_64 random(20250101);
  const auto between = [&](double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random);
  };
  if (!json) {
    fmt::print(
        "tag,pipe.size,pipe.outside_diameter [mm],pipe.wall [mm],pipe.material,pipe.liner,"
        "pipe.orientation,fluid.name,fluid.temperature [degC],fluid.pressure [barg],"
        "flow.rate [m3/h],flow.least [m3/h],sensors,location.upstream,location.downstream,"
        "location.clock\n");
  }
  for (std::size_t i = 0; i < rows; ++i) {
    const Size& size = sizes[i % sizes.size()];
    const double bore_m = (size.outside_diameter_mm - 2 * size.wall_mm) * 1e-3;
    const double diameter_mm = size.outside_diameter_mm * between(0.998, 1.002);
    const double wall_mm = size.wall_mm * between(0.93, 1.07);
    const double flow_m3_h = 2827.43 * bore_m * bore_m * between(0.8, 2.5);
    const double up_m = bore_m * between(22, 60), down_m = bore_m * between(6, 20);
    const char* liquid = i % 5 == 4 ? "ethylene glycol 30 % mass" : "water";
    const double temperature_degC = between(4, 60), pressure_bar = between(2, 8);
    if (json) {
      fmt::print(
          "{{\"tag\":\"P-{:06}\",\"pipe\":{{\"size\":\"{}\",\"outside_diameter\":\"{:.3f} mm\","
          "\"wall\":\"{:.3f} mm\",\"material\":\"carbon steel\",\"liner\":\"none\",\"orientation\":"
          "\"horizontal\"}},\"fluid\":{{\"name\":\"{}\",\"temperature\":\"{:.2f} "
          "degC\",\"pressure\":"
          "\"{:.2f} barg\"}},\"flow\":{{\"rate\":\"{:.2f} m3/h\",\"least\":\"{:.2f} m3/h\"}},"
          "\"sensors\":\"demo-1mhz\",\"location\":{{\"upstream\":[{{\"fitting\":\"elbow-90\","
          "\"distance\":\"{:.2f} "
          "m\"}}],\"downstream\":[{{\"fitting\":\"tee\",\"distance\":\"{:.2f} "
          "m\"}}],\"clock\":\"3\"}}}}\n",
          i + 1, size.text, diameter_mm, wall_mm, liquid, temperature_degC, pressure_bar, flow_m3_h,
          0.3 * flow_m3_h, up_m, down_m);
    } else {
      fmt::print(
          "P-{:06},{},{:.3f},{:.3f},carbon steel,none,horizontal,{},{:.2f},{:.2f},{:.2f},{:.2f},"
          "demo-1mhz,elbow-90 @ {:.2f} m,tee @ {:.2f} m,3\n",
          i + 1, size.text, diameter_mm, wall_mm, liquid, temperature_degC, pressure_bar, flow_m3_h,
          0.3 * flow_m3_h, up_m, down_m);
    }
  }
  return std::fflush(stdout) == 0 ? 0 : 1;
}
