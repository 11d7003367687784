// Plans one path with the installed library, and checks the number by hand-calculation.

#include <cmath>
#include <cstdio>
#include <numbers>
#include <slantrule/catalogue/catalogue.hpp>
#include <slantrule/liquids/water.hpp>
#include <slantrule/planning/kernel.hpp>

int main() {
  // 168.3 mm x 7.11 mm steel pipe, shear wave at 3230 m/s; liquid at 1482 m/s; two traverses.
  slantrule::KernelInputs in;
  in.add_layer({.thickness_m = 7.11e-3, .sound_speed_m_s = 3230});
  in.bore_m = 0.1683 - 2 * 7.11e-3;
  in.area_m2 = std::numbers::pi / 4 * in.bore_m * in.bore_m;
  in.wedge_sound_speed_m_s = 2430;
  in.wedge_angle_rad = 38 * std::numbers::pi / 180;
  in.wedge_path_m = 14e-3;
  in.setback_m = 14e-3;
  in.liquid_sound_speed_m_s = 1482;
  in.traverses = 2;
  const auto traced = slantrule::trace_ray(in);
  const auto* ray = std::get_if<slantrule::RayPath>(&traced);
  if (!ray) {
    std::puts("no ray");
    return 1;
  }
  // By hand: p = sin 38 deg / 2430 m/s = 2.5335862e-4 s/m; sin(wall) = 0.8183483,
  // sin(liquid) = 0.3754775; 2 * 154.08 * tan(liquid) + 2 * 7.11 * tan(wall) + 2 * 14 mm.
  const double p = std::sin(in.wedge_angle_rad) / 2430;
  const auto tangent = [&](double c) { return p * c / std::sqrt(1 - p * c * p * c); };
  const double by_hand_mm = 2 * 154.08 * tangent(1482) + 2 * 7.11 * tangent(3230) + 28;
  const double planned_mm = ray->mark_spacing_m * 1e3;
  std::printf("mark spacing %.4f mm, by hand %.4f mm\n", planned_mm, by_hand_mm);

  const slantrule::Catalogue catalogue;
  const bool steel = catalogue.solid("carbon steel").record != nullptr;
  const bool water = slantrule::make_water() != nullptr;
  return std::fabs(planned_mm - by_hand_mm) < 1e-9 && std::fabs(planned_mm - 173.1) < 0.05 &&
                 steel && water
             ? 0
             : 1;
}
