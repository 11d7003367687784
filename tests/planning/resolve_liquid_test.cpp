// From the fluid keys of a job to a liquid: names, strengths, measured values, and the findings
// that follow.

#include <catch2/catch.hpp>
#include <cmath>
#include <string>

#include "planning/test_jobs.hpp"
#include "slantrule/liquids/coolant.hpp"
#include "slantrule/sheets/sheet.hpp"

using namespace slantrule;
using test::Changes;
using test::Planned;

namespace {

std::string problem_of(const Changes& changes, const std::string& key) {
  for (const Problem& one : test::resolution_of(changes).problems) {
    if (one.key == key) return one.message;
  }
  return {};
}

bool says(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

double speed_m_s(const Changes& changes) {
  return Planned(changes).plan.conditions.liquid_sound_speed_m_s.value;
}

}  // namespace

TEST_CASE("fluid: a solution by name and strength", "[planning]") {
  const ResolvedJob by_name = test::job_of({"fluid.name=MEG 35 % mass"});
  CHECK(by_name.liquid.mass_fraction == Approx(0.35));
  CHECK(by_name.liquid.solution);
  const ResolvedJob by_key = test::job_of({"fluid.name=MEG", "fluid.concentration=35 % mass"});
  CHECK(by_key.liquid.mass_fraction == Approx(0.35));
  CHECK(by_key.liquid.full_name == by_name.liquid.full_name);
  // "ethanol" with a strength is ethanol and water.
  CHECK(test::job_of({"fluid.name=ethanol", "fluid.concentration=20 % mass"}).liquid.solution);
  CHECK_FALSE(test::job_of({"fluid.name=ethanol"}).liquid.solution);
}

TEST_CASE("fluid: a strength by volume is counted at 20 degC before mixing", "[planning]") {
  // Ethylene glycol 1113.5 kg/m3, water 998.2 (CRC, from memory): 30 % by volume are
  // 0.3 * 1113.5 / (0.3 * 1113.5 + 0.7 * 998.2) = 32.3 % by mass (the pack's own figure).
  const ResolvedJob job = test::job_of({"fluid.name=MEG 30 % volume"});
  CHECK(100 * job.liquid.mass_fraction == Approx(32.3).margin(0.05));
}

TEST_CASE("fluid: what a strength must say", "[planning]") {
  CHECK(says(problem_of({"fluid.name=MEG 35 %"}, "fluid.name"), "volume"));
  CHECK(says(problem_of({"fluid.name=MEG"}, "fluid.concentration"), "no usual strength"));
  CHECK(says(problem_of({"fluid.name=glycol"}, "fluid.name"), "PG"));
  CHECK(says(problem_of({"fluid.name=MEG 30 % mass", "fluid.concentration=35 % mass"},
                        "fluid.concentration"),
             "keep one"));
  CHECK(says(problem_of({"fluid.concentration=5 % mass"}, "fluid.concentration"), "no meaning"));
  for (const char* none : {"steam", "compressed air", "natural gas", "slurry"}) {
    CAPTURE(none);
    CHECK_FALSE(problem_of({std::string("fluid.name=") + none}, "fluid.name").empty());
  }
}

TEST_CASE("fluid: a range of strengths makes two runs", "[planning]") {
  Resolution resolution = test::resolution_of({"fluid.name=CHW 25-30 % mass PG"});
  REQUIRE(resolution.problems.empty());
  REQUIRE(resolution.variants.size() == 2);
  CHECK(resolution.variants[0].job.liquid.mass_fraction == Approx(0.25));
  CHECK(resolution.variants[1].job.liquid.mass_fraction == Approx(0.30));
}

TEST_CASE("fluid: sea water without a salinity is standard sea water", "[planning]") {
  const Planned standard({"fluid.name=sea water", "fluid.temperature=10 degC"});
  CHECK(standard.job.liquid.mass_fraction == Approx(0.035));
  bool told = false;
  for (const Assumption& one : standard.job.assumptions) told |= one.key == "fluid.concentration";
  CHECK(told);
  // UNESCO 44 (1983), p. 50: 1489.8 m/s at S 35, 10 degC, 0 dbar; 4 bar gauge adds 0.7 m/s (0.165
  // m/s per bar).
  CHECK(standard.plan.conditions.liquid_sound_speed_m_s.value == Approx(1490.5).margin(0.3));
  // 1 g/kg of salinity left open is worth about 1.1 m/s (same source).
  CHECK(standard.plan.conditions.liquid_sound_speed_m_s.u > 1.0);
}

TEST_CASE("fluid: a measured speed overrides, and lets any liquid be planned", "[planning]") {
  const std::string missing =
      problem_of({"fluid.name=NaOH", "fluid.concentration=20 % mass"}, "fluid.sound_speed");
  CHECK(says(missing, "measure"));
  const Planned measured(
      {"fluid.name=NaOH", "fluid.concentration=20 % mass", "fluid.sound_speed=1850 m/s +- 10 m/s"});
  CHECK(measured.plan.conditions.liquid_sound_speed_m_s.value == 1850);
  CHECK(measured.job.liquid.sound_speed_measured);
  // Density stays the model's.
  REQUIRE(measured.plan.conditions.density_kg_m3);
  // 20 % NaOH at 20 degC: 1219 kg/m3 (CRC, from memory).
  CHECK(measured.plan.conditions.density_kg_m3->value == Approx(1219).margin(6));
  CHECK(says(std::string(measured.job.liquid.model->source()), "measured: speed of sound"));
  // No liquid at all, though, is no liquid.
  CHECK_FALSE(problem_of({"fluid.name=steam", "fluid.sound_speed=480 m/s"}, "fluid.name").empty());
}

TEST_CASE("fluid: glycol follows the published anchor", "[planning]") {
  // J. Clin. Ultrasound 7, 465 (1979): "30 percent" ethylene glycol 1638 +- 3.5 m/s from 15.6 to
  // 38.4 degC; the model's u is 8 m/s at the middle of the range.
  for (const char* t : {"16 degC", "27 degC", "38 degC"}) {
    CAPTURE(t);
    CHECK(speed_m_s({"fluid.name=MEG 30 % mass", std::string("fluid.temperature=") + t}) ==
          Approx(1638).margin(8));
  }
}

TEST_CASE("fluid: where temperature hardly matters, and where it does", "[planning]") {
  // Bilaniuk and Wong 1993: the maximum of water's speed of sound lies at 74.15 degC; its slope is
  // 5.0 m/s/K at 0 degC.
  CHECK(Planned({"fluid.temperature=74 degC"}).severity("fluid.temperature-flat") == "note");
  CHECK(Planned({"fluid.temperature=40 degC"}).severity("fluid.temperature-flat") == "-");
  CHECK(Planned({"fluid.temperature=2 degC"}).severity("fluid.temperature-steep") == "note");
  CHECK(Planned({"fluid.temperature=40 degC"}).severity("fluid.temperature-steep") == "-");
  CHECK(Planned({"fluid.temperature=5 degC +- 5 K"}).severity("fluid.temperature-uncertain") ==
        "caution");
  CHECK(Planned({"fluid.temperature=74 degC +- 5 K"}).severity("fluid.temperature-uncertain") ==
        "-");
}

TEST_CASE("fluid: frozen, beyond the model, too strong: stops, never a fault", "[planning]") {
  // Melinder: 30 % ethylene glycol freezes at -14.6 degC.
  CHECK(Planned({"fluid.name=MEG 30 % mass", "fluid.temperature=-20 degC"})
            .severity("fluid.freezing") == "stop");
  CHECK(Planned({"fluid.name=MEG 30 % mass", "fluid.temperature=-40 degC"})
            .severity("fluid.freezing") == "stop");
  CHECK(Planned({"fluid.name=MEG 30 % mass", "fluid.temperature=-13 degC"})
            .severity("fluid.freezing") == "caution");
  CHECK(Planned({"fluid.name=MEG 30 % mass", "fluid.temperature=-5 degC"})
            .severity("fluid.freezing") == "-");
  CHECK(Planned({"fluid.name=toluene", "fluid.temperature=300 degC"}).severity("fluid.range") ==
        "stop");
  CHECK(Planned({"fluid.name=sodium chloride brine 40 % mass"}).severity("fluid.strength") ==
        "stop");
}

TEST_CASE("fluid: no state of any liquid of the list is a fault of the program", "[planning]") {
  const Catalogue catalogue;
  for (const LiquidRecord& row : built_in_liquids()) {
    for (const char* temperature : {"-60 degC", "0 degC", "20 degC", "95 degC", "180 degC"}) {
      for (const char* pressure : {"", "4 bar gauge", "300 bar gauge"}) {
        std::string name(row.key);
        if (row.key == "crude_oil") name = "crude oil 32 API";
        if (row.key == "hydraulic_oil") name = "hydraulic oil VG 46";
        Changes changes{"fluid.name=" + name, std::string("fluid.temperature=") + temperature,
                        std::string("fluid.pressure=") + pressure};
        if (row.solution) changes.push_back("fluid.concentration=25 % mass");
        CAPTURE(changes);
        Resolution resolution = resolve(test::request_of(changes), catalogue);
        if (!resolution.problems.empty()) {
          CHECK(resolution.problems[0].key.starts_with("fluid."));
          continue;
        }
        for (const Variant& one : resolution.variants) CHECK_NOTHROW(plan(one.job));
      }
    }
  }
}

TEST_CASE("fluid: heavy oil swallows the sound", "[planning]") {
  // fluids.md 8.3: ISO VG 460 at 20 degC takes about 134 dB/m at 1 MHz with K 1.5; the path through
  // 154 mm of bore twice is 0.33 m.
  CHECK(Planned({"fluid.name=ISO VG 460 mineral oil"}).severity("fluid.absorption") == "caution");
  CHECK(Planned({"fluid.name=ISO VG 46 hydraulic oil", "fluid.temperature=60 degC"})
            .severity("fluid.absorption") == "-");
  // A measured loss wins: 100 dB/m at 1 MHz.
  CHECK(Planned({R"(fluid.absorption={"longitudinal":"100 dB/m","at":"1 MHz","power":2})"})
            .severity("fluid.absorption") == "caution");
}

TEST_CASE("fluid: a little caustic in the water is planned, strong caustic asks", "[planning]") {
  // Ion slopes: 63.86 + 34.516 m/s per mol/L at 25 degC (freshwater tool, second pass C4): 0.05 %
  // NaOH is 0.0125 mol/L, +1.2 m/s on 1496.7 m/s; at 20 degC slopes are 2.4 + 0.9 higher.
  const Planned weak({"fluid.name=NaOH", "fluid.concentration=0.05 % mass"});
  const Planned water({});
  CHECK(weak.plan.conditions.liquid_sound_speed_m_s.value -
            water.plan.conditions.liquid_sound_speed_m_s.value ==
        Approx(0.0125 * (63.86 + 0.4722 * 5 + 34.516 + 0.1857 * 5)).margin(0.1));
  for (const char* name : {"KCl", "CaCl2", "HCl"}) {
    CAPTURE(name);
    const Planned dilute({std::string("fluid.name=") + name, "fluid.concentration=0.05 % mass"});
    CHECK(dilute.plan.path);
  }
}

TEST_CASE("fluid: beyond its range a model knows less, not more", "[planning]") {
  const auto u_m_s = [](const char* temperature) {
    return Planned({"fluid.name=toluene", std::string("fluid.temperature=") + temperature,
                    "fluid.pressure=45 bar gauge"})
        .plan.conditions.liquid_sound_speed_m_s.u;
  };
  const Planned inside({"fluid.name=toluene", "fluid.temperature=100 degC"});
  CHECK(u_m_s("250 degC") > 3 * inside.plan.conditions.liquid_sound_speed_m_s.u);
  CHECK(u_m_s("300 degC") > u_m_s("250 degC"));
}

TEST_CASE("fluid: a measured speed that the liquid cannot have", "[planning]") {
  CHECK(says(problem_of({"fluid.sound_speed=50 m/s"}, "fluid.sound_speed"), "no speed of sound"));
  // Water at 20 degC: 1482.3 m/s; 1 % is 14.8 m/s.
  CHECK(Planned({"fluid.sound_speed=1500 m/s"}).severity("fluid.sound-speed-conflict") ==
        "caution");
  CHECK(Planned({"fluid.sound_speed=1490 m/s"}).severity("fluid.sound-speed-conflict") == "-");
  CHECK(Planned({"fluid.name=brew", "fluid.sound_speed=1700 m/s"})
            .severity("fluid.sound-speed-conflict") == "-");
}

TEST_CASE("fluid: near freezing is not frozen", "[planning]") {
  const Planned near({"fluid.name=MEG 30 % mass", "fluid.temperature=-13 degC"});
  const std::string text = finding_text(*near.finding("fluid.freezing"), {}).message;
  CHECK(says(text, "hardly above"));
}
