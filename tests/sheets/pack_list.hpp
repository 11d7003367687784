#pragma once

// An invented list of pipes, packed, for tests of the loading list.

#include <string>
#include <utility>
#include <vector>

#include "sheets/planned.hpp"
#include "slantrule/planning/packing.hpp"

namespace slantrule::test {

/// The changes that make a row out of `plain_job`.
struct ListedPipe {
  std::string tag;
  std::vector<std::string> sets;
  bool refused = false;
};

inline const std::string own_kit =
    R"(kit={ "sensors": ["demo-500khz", "demo-1mhz", "demo-2mhz"],
      "rails": [ { "name": "short rail", "least": "40 mm", "greatest": "260 mm", "sides": "same" },
                 { "name": "long rail", "least": "150 mm", "greatest": "520 mm", "sides": "same" } ],
      "straps": [ { "name": "strap pair", "greatest_girth": "1.2 m" },
                  { "name": "chain pair", "greatest_girth": "3.5 m" } ],
      "couplants": ["gel-water", "grease"],
      "gauges": ["girth tape", "surface thermometer"] })";

/// Ten rows of the usual mix. Outside diameters: NPS 6 168.3 mm, NPS 3/4 26.7 mm (ASME B36.10M);
/// the rest are stated.
inline std::vector<ListedPipe> mixed_list() {
  return {
      {"CHW-1", {}},
      {"STM-2",  // hot condensate at height, in lagging
       {"fluid.temperature=95 degC", "location.height=4.5 m", "location.insulation=opened",
        "location.surface=[\"rust\"]"}},
      {"RAW-3",  // a large main, one traverse
       {"pipe.size=", "pipe.outside_diameter=1220 mm", "pipe.wall=12.7 mm", "path.traverses=1",
        "fluid.temperature=12 degC", "flow.rate=4000 m3/h", "flow.least=", "flow.most=",
        "location.upstream=[{ \"fitting\": \"elbow-90\", \"distance\": \"40 D\" }]",
        "location.downstream=[{ \"fitting\": \"tee\", \"distance\": \"20 D\" }]"}},
      {"CU-4",
       {"pipe.size=28 x 1.2 mm", "pipe.material=copper", "sensors=demo-2mhz", "path.traverses=",
        "flow.rate=2 m3/h", "flow.least=", "flow.most=", "fluid.temperature=60 degC"}},
      {"MILK-5",
       {"fluid.name=milk", "pipe.material=stainless 304", "fluid.temperature=5 degC",
        "pipe.wall=unknown"}},
      {"TOP-6", {"location.clock=12"}},
      {"", {}, true},
      {"AC-8",
       {"pipe.size=", "pipe.outside_diameter=232 mm", "pipe.wall=16 mm",
        "pipe.material=asbestos cement", "sensors=demo-500khz", "path.traverses=1",
        "location.surface=[\"paint\"]"}},
      {"OR-9", {"pipe.wall={ \"one_of\": [\"7.11 mm\", \"10.97 mm\"] }"}},
      {"HOT-10", {"fluid.temperature=140 degC", "fluid.pressure=10 bar gauge"}},
  };
}

inline void pack_row(Packing& packing, std::size_t row, const ListedPipe& pipe,
                     const std::vector<std::string>& more = {}) {
  if (pipe.refused) {
    packing.add_refused(row, pipe.tag);
    return;
  }
  std::vector<std::string> sets = pipe.sets;
  sets.insert(sets.end(), more.begin(), more.end());
  const PlannedJob job = planned(sets);
  for (const PlannedVariant& one : job.variants) {
    packing.add(row, pipe.tag, one.job, one.plan);
  }
}

inline Packing packed(const std::vector<ListedPipe>& list,
                      const std::vector<std::string>& more = {}, PackOptions options = {}) {
  Packing packing(std::move(options));
  for (std::size_t i = 0; i < list.size(); ++i) pack_row(packing, i + 1, list[i], more);
  return packing;
}

}  // namespace slantrule::test
