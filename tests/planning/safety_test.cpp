// Cautions for people: given where the job gives cause, and only there.

#include "slantrule/planning/safety.hpp"

#include <catch2/catch.hpp>
#include <set>
#include <string>

#include "planning/test_jobs.hpp"
#include "slantrule/sheets/display.hpp"

using namespace slantrule;
using test::Changes;
using test::Planned;

namespace {

std::set<std::string> cautions(const Changes& changes) {
  const Planned planned(changes);
  std::set<std::string> names;
  for (const SafetyCaution& one : safety_cautions(planned.job, planned.plan)) {
    names.insert(std::string(safety_info(one.id).name));
  }
  return names;
}

}  // namespace

TEST_CASE("safety: the base job gets what every steel pipe gets", "[planning]") {
  CHECK(cautions({}) == std::set<std::string>{"magnets", "permits"});
}

TEST_CASE("safety: each cause has its caution, and its absence none", "[planning]") {
  struct Row {
    const char* name;
    Changes cause;
    Changes none;
  };
  const std::vector<Row> rows{
      {"hot-surface", {"fluid.temperature=61 degC"}, {"fluid.temperature=59 degC"}},
      {"cold-surface",
       {"fluid.name=MEG 40 % mass", "fluid.temperature=-1 degC"},
       {"fluid.temperature=1 degC"}},
      {"height", {"location.height=2 m"}, {"location.height=1.9 m"}},
      {"hazardous-area", {"location.hazardous_area=zone 1"}, {"location.hazardous_area=none"}},
      {"confined-space", {"title=Valve chamber 3"}, {"title=Pump hall"}},
      {"chemicals", {"fluid.name=toluene"}, {"fluid.name=sea water"}},
      {"old-insulation", {"location.insulation=opened"}, {"location.insulation=none"}},
      {"work-on-wall", {"location.surface=rust"}, {"location.surface=clean"}},
      {"high-pressure", {"fluid.pressure=12 bar gauge"}, {"fluid.pressure=8 bar gauge"}},
      {"moving-plant",
       {R"(location.downstream=[{"fitting":"pump","distance":"6 D"}])"},
       {R"(location.downstream=[{"fitting":"pump","distance":"20 D"}])"}},
      {"zero-test", {"flow.can_stop=true"}, {"flow.can_stop=false"}},
      {"magnets",
       {"pipe.material=ductile iron", "pipe.size=DN 150 K9"},
       {"pipe.material=stainless 304", "pipe.size=NPS 6 sch 10S"}},
      {"asbestos-cement",
       {"pipe.material=asbestos cement", "pipe.size=OD 177 x 15 mm"},
       {"pipe.material=PVC", "pipe.size=160 x 7.7 mm"}},
  };
  for (const Row& row : rows) {
    CAPTURE(row.name);
    CHECK(cautions(row.cause).count(row.name) == 1);
    CHECK(cautions(row.none).count(row.name) == 0);
  }
}

TEST_CASE("safety: every text names a source and fills its places", "[planning]") {
  std::set<std::string_view> names;
  for (const SafetyInfo& row : safety_table()) {
    CAPTURE(row.name);
    CHECK(names.insert(row.name).second);
    CHECK_FALSE(row.source.empty());
    const std::string text = safety_text({row.id, {300, ValueKind::temperature_K}, "xyz"}, {});
    CHECK(text.find('{') == std::string::npos);
    CHECK(text.back() == '.');
  }
}
