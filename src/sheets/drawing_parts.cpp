#include "drawing_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace slantrule {

std::vector<DrawnLayer> drawn_layers(const PlannedVariant& variant, const Display& display) {
  const ResolvedPipe& pipe = variant.job.pipe;
  const Plan& plan = variant.plan;
  std::vector<DrawnLayer> layers;
  const auto add = [&](Texture texture, std::string_view name, double thickness_m,
                       std::string material, bool has_ray) {
    layers.push_back({texture, name, thickness_m, 0, 0, has_ray, std::move(material)});
  };
  if (pipe.coating && pipe.coating_under_sensors) {
    add(Texture::coating, "coating", pipe.coating->thickness_m,
        job_text(pipe.coating->material.name, display), true);
  }
  add(Texture::wall, "wall", pipe.wall_m.value, job_text(pipe.material.name, display), true);
  if (pipe.liner) {
    add(Texture::liner, "lining", pipe.liner->thickness_m,
        job_text(pipe.liner->material.name, display), true);
  }
  if (pipe.deposit_m > 0) add(Texture::deposit, "deposit", pipe.deposit_m, {}, false);
  if (!plan.path) return layers;
  for (std::size_t i = 0; i < plan.path->ray.layer_count; ++i) {
    layers[i].run_m = plan.path->ray.layer_legs[i].run_m;
    layers[i].angle_rad = plan.path->ray.layer_legs[i].angle_rad;
  }
  return layers;
}

double outer_diameter_m(const PlannedVariant& variant) {
  const ResolvedPipe& pipe = variant.job.pipe;
  const bool coated = pipe.coating && pipe.coating_under_sensors;
  return pipe.outside_diameter_m.value + (coated ? 2 * pipe.coating->thickness_m : 0);
}

DrawnBody drawn_body(const ResolvedSensors& sensors) {
  constexpr double usual_length_m = 0.05, usual_path_m = 0.012;
  DrawnBody body{};
  body.outline_known = sensors.nose_m && sensors.length_m;
  const double length_m = sensors.length_m.value_or(
      sensors.nose_m ? std::fabs(*sensors.nose_m) + usual_length_m : usual_length_m);
  body.front_m = sensors.nose_m.value_or(length_m / 3);
  body.rear_m = length_m - body.front_m;
  body.path_known = sensors.wedge_path_m > 0;
  body.path_m = body.path_known ? sensors.wedge_path_m : std::min(usual_path_m, length_m / 4);
  body.element_m = sensors.element_m.value_or(0);
  body.height_m = std::max(0.45 * length_m, body.path_m * std::cos(sensors.wedge_angle_rad) +
                                                0.5 * body.element_m + 0.1 * length_m);
  return body;
}

std::vector<At> ray_corners_m(const PlannedVariant& variant,
                              const std::vector<DrawnLayer>& layers) {
  const Plan& plan = variant.plan;
  std::vector<At> corners = {{0, 0}};
  const auto go = [&](double run_m, double across_m) {
    corners.push_back({corners.back().x + run_m, corners.back().y + across_m});
  };
  for (const DrawnLayer& layer : layers) go(layer.run_m, layer.thickness_m);
  for (int traverse = 0; traverse < plan.traverses; ++traverse) {
    go(plan.path->ray.liquid_leg.run_m, traverse % 2 == 0 ? plan.bore_m : -plan.bore_m);
  }
  const double way = plan.same_side() ? -1 : 1;
  for (auto layer = layers.rbegin(); layer != layers.rend(); ++layer) {
    go(layer->run_m, way * layer->thickness_m);
  }
  return corners;
}

std::string scale_text(double drawn_per_true) {
  const bool enlarged = drawn_per_true >= 1;
  const double ratio = enlarged ? drawn_per_true : 1 / drawn_per_true;
  const std::string number = fmt::format("{:.{}f}", ratio, ratio < 10 ? 1 : 0);
  return enlarged ? number + " : 1" : "1 : " + number;
}

}  // namespace slantrule
