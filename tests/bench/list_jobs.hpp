#pragma once

/// Jobs as a list of pipes holds them, drawn by a seed: the same seed gives the same job anywhere.

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <random>
#include <span>
#include <string>
#include <string_view>
#include <utility>

#include "slantrule/planning/job_request.hpp"

namespace slantrule::test {

class JobDraw {
 public:
  explicit JobDraw(std::uint64_t seed) : engine_(seed) {}

  /// A row of a plant's list: DN 50 to DN 600, mostly steel, water and glycol, straight runs given,
  /// traverses left open.
  JobRequest typical() {
    JobRequest job;
    const double kind = part();
    if (kind < 0.40) {
      steel_by_size(job, "carbon steel");
    } else if (kind < 0.75) {
      measured(job, "carbon steel", exp_between(0.055, 0.62), 0.03, 2.5e-3);
    } else if (kind < 0.85) {
      steel_by_size(job, "stainless steel");
    } else if (kind < 0.90) {
      measured(job, "stainless steel", exp_between(0.055, 0.33), 0.02, 2e-3);
    } else if (kind < 0.93) {
      measured(job, "copper", exp_between(0.05, 0.11), 0.02, 1.2e-3);
    } else if (kind < 0.97) {
      measured(job, part() < 0.5 ? "PVC" : "HDPE", exp_between(0.06, 0.4), 0.06, 3e-3);
    } else {
      measured(job, "ductile iron", exp_between(0.1, 0.6), 0.02, 6e-3);
      if (part() < 0.7) line(job, "cement mortar", between(3e-3, 5e-3));
    }
    if (!job.pipe.liner.given()) no_liner(job);
    if (part() < 0.75) {
      water(job, between(278, 363));
    } else {
      glycol(job, between(0.15, 0.5), between(271, 300));
    }
    set(job.fluid.pressure, between(2.5e5, 9e5), Dimension::pressure_gauge);
    set(job.flow.velocity, between(0.3, 3.5), Dimension::velocity);
    job.sensors.key = "demo-1mhz";
    job.path.traverses.best = true;
    place(job);
    return job;
  }

  /// Anything that can be planned, well beyond what one meets: 15 mm copper to 1.2 m steel,
  /// linings, plastics, oils, hot and cold, counts of 1 to 12.
  JobRequest any() {
    static constexpr std::array<std::string_view, 8> materials{
        "carbon steel", "stainless steel", "copper", "PVC",
        "HDPE",         "ductile iron",    "grp",    "aluminium"};
    JobRequest job;
    measured(job, word(materials), exp_between(0.015, 1.22), 0.08, 0.8e-3);
    const double lined = part();
    if (lined < 0.12) {
      line(job, "cement mortar", between(2e-3, 12e-3));
    } else if (lined < 0.2) {
      line(job, "HDPE", between(2e-3, 10e-3));
    } else if (lined < 0.26) {
      line(job, "rubber", between(2e-3, 6e-3));
    } else {
      no_liner(job);
    }
    if (part() < 0.1) coat(job, between(0.1e-3, 1e-3));
    any_liquid(job);
    set(job.fluid.pressure, exp_between(1e5, 4e6), Dimension::pressure_gauge);
    set(job.flow.velocity, exp_between(0.02, 12), Dimension::velocity);
    if (part() < 0.5) set(job.flow.least, 0.01, Dimension::velocity);
    static constexpr std::array<std::string_view, 4> pairs{"demo-1mhz", "demo-1mhz", "demo-2mhz",
                                                           "demo-500khz"};
    job.sensors.key = word(pairs);
    if (part() < 0.6) {
      job.path.traverses.value = 1 + static_cast<int>(12 * part());
    } else {
      job.path.traverses.best = true;
    }
    const double mode = part();
    if (mode < 0.1) job.path.wall_mode.value = "longitudinal";
    if (mode > 0.9) job.path.wall_mode.value = "shear";
    place(job);
    if (part() < 0.3) set(job.location.ambient, between(253, 318), Dimension::temperature);
    return job;
  }

 private:
  using Words = std::span<const std::string_view>;

  /// 0 to 1; the library's own distributions differ from one to the next.
  double part() { return static_cast<double>(engine_() >> 11) * 0x1p-53; }
  double between(double low, double high) { return low + (high - low) * part(); }
  double exp_between(double low, double high) { return low * std::pow(high / low, part()); }
  std::string word(Words words) {
    const auto place = static_cast<std::size_t>(part() * static_cast<double>(words.size()));
    return std::string(words[place]);
  }

  static void set(QuantityEntry& entry, double si, Dimension dimension) {
    entry.options.push_back({{.si = si, .dimension = dimension}, Origin::unstated, {}});
  }
  static Option<MaterialRequest> named(std::string name) {
    MaterialRequest material;
    material.name.value = std::move(name);
    return {std::move(material), Origin::unstated, {}};
  }

  void steel_by_size(JobRequest& job, std::string_view material) {
    static constexpr std::array<std::string_view, 10> sizes{
        "NPS 2", "NPS 2 1/2", "NPS 3",  "NPS 4",  "NPS 6",
        "NPS 8", "NPS 10",    "NPS 12", "NPS 16", "NPS 24"};
    static constexpr std::array<std::string_view, 3> plain{"sch 40", "STD", "sch 80"};
    static constexpr std::array<std::string_view, 2> stainless{"sch 10S", "sch 40S"};
    const bool carbon = material == "carbon steel";
    const std::size_t most = carbon ? sizes.size() : 8;
    const std::string size = word(Words(sizes).first(most));
    const std::string wall = carbon ? word(plain) : word(stainless);
    job.pipe.size.options.push_back({size + " " + wall, Origin::unstated, {}});
    job.pipe.material.options.push_back(named(std::string(material)));
  }

  void measured(JobRequest& job, std::string_view material, double outside_m, double most_wall,
                double least_wall_m) {
    set(job.pipe.outside_diameter, outside_m, Dimension::length);
    const double wall_m =
        std::max(least_wall_m, outside_m * exp_between(0.012, std::max(0.013, most_wall)));
    WallRequest wall;
    wall.readings.push_back(
        {.si = std::min(wall_m, 0.2 * outside_m), .dimension = Dimension::length});
    job.pipe.wall.options.push_back({std::move(wall), Origin::gauge, {}});
    job.pipe.material.options.push_back(named(std::string(material)));
  }

  static void no_liner(JobRequest& job) { job.pipe.liner.options.emplace_back().value.none = true; }
  static Option<LayerRequest> layer(std::string material, double thickness_m) {
    LayerRequest out;
    out.material.options.push_back(named(std::move(material)));
    set(out.thickness, thickness_m, Dimension::length);
    return {std::move(out), Origin::unstated, {}};
  }
  static void line(JobRequest& job, std::string material, double thickness_m) {
    job.pipe.liner.options.push_back(layer(std::move(material), thickness_m));
  }
  static void coat(JobRequest& job, double thickness_m) {
    job.pipe.coating.options.push_back(layer("paint", thickness_m));
  }

  static void name_liquid(JobRequest& job, std::string name, double temperature_K) {
    job.fluid.name.options.push_back({std::move(name), Origin::unstated, {}});
    set(job.fluid.temperature, temperature_K, Dimension::temperature);
  }
  static void water(JobRequest& job, double temperature_K) {
    name_liquid(job, "water", temperature_K);
  }
  void glycol(JobRequest& job, double mass_fraction, double temperature_K) {
    name_liquid(job, part() < 0.5 ? "MEG and water" : "MPG and water", temperature_K);
    set(job.fluid.concentration, mass_fraction, Dimension::mass_fraction);
  }
  void any_liquid(JobRequest& job) {
    const double kind = part();
    if (kind < 0.4) {
      water(job, between(271, 440));
    } else if (kind < 0.65) {
      glycol(job, between(0.05, 0.7), between(255, 370));
    } else if (kind < 0.75) {
      name_liquid(job, "diesel", between(268, 330));
    } else if (kind < 0.85) {
      name_liquid(job, "hydraulic oil VG 46", between(280, 350));
    } else if (kind < 0.92) {
      name_liquid(job, "sea water", between(273, 310));
    } else {
      name_liquid(job, "ethanol", between(270, 320));
    }
  }

  void add_fitting(ListEntry<FittingRequest>& list, Words kinds, double distance_m) {
    FittingRequest fitting;
    fitting.fitting.value = word(kinds);
    set(fitting.distance, distance_m, Dimension::length);
    list.items.push_back(std::move(fitting));
    list.given = true;
  }
  void place(JobRequest& job) {
    static constexpr std::array<std::string_view, 5> before{"elbow-90", "tee", "pump",
                                                            "control-valve", "reducer"};
    static constexpr std::array<std::string_view, 4> behind{"elbow-90", "gate-valve-open", "tee",
                                                            "check-valve"};
    static constexpr std::array<std::string_view, 5> hours{"3", "9", "2:30", "10", "8:30"};
    add_fitting(job.location.upstream, before, exp_between(0.5, 15));
    add_fitting(job.location.downstream, behind, exp_between(0.3, 6));
    job.location.orientation.value = part() < 0.8 ? "horizontal" : "vertical up";
    job.location.clock.value = word(hours);
  }

  std::mt19937_64 engine_;
};

}  // namespace slantrule::test
