// Air and grains in the liquid, pulsation, and whether the zero can be trusted.

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>
#include <string>

#include "planning/test_jobs.hpp"

using namespace slantrule;
using test::Changes;
using test::check_rows;
using test::Planned;

namespace {

/// A liquid that nobody knows anything of but its speed: mean velocity is path velocity.
Changes brew(Changes more) {
  more.insert(more.begin(), {"fluid.name=brew", "fluid.sound_speed=1480 m/s"});
  return more;
}

std::string velocity(const char* key, double m_s) {
  return std::string(key) + "=" + std::to_string(m_s) + " m/s";
}

bool says(const Planned& planned, std::string_view id, std::string_view words) {
  const Finding* finding = planned.finding(id);
  REQUIRE(finding);
  return finding->detail.find(words) != std::string::npos;
}

}  // namespace

TEST_CASE("liquid: air comes out of warm water at low pressure", "[planning]") {
  // Needed: vapour pressure and 101.325 kPa times the ratio of what water holds at 20 degC to what
  // it holds there. From memory (steam tables; CRC): vapour 1.23, 2.34, 7.38, 19.9 kPa and
  // air 22.8, 18.7, 14.2, 12.2 mL/L at 10, 20, 40, 60 degC give 84.3, 103.7, 140.8, 175 kPa.
  // Above 1.5 bar nothing is said.
  const auto water = [](const char* temperature, const char* pressure) {
    return Changes{std::string("fluid.temperature=") + temperature + " degC",
                   std::string("fluid.pressure=") + pressure};
  };
  check_rows({
      {"fluid.degassing", water("10", "0.83 bar absolute"), "caution"},
      {"fluid.degassing", water("10", "0.86 bar absolute"), "-"},
      {"fluid.degassing", water("20", "1.03 bar absolute"), "caution"},
      {"fluid.degassing", water("20", "1.05 bar absolute"), "-"},
      {"fluid.degassing", water("40", "1.39 bar absolute"), "caution"},
      {"fluid.degassing", water("40", "1.42 bar absolute"), "-"},
      {"fluid.degassing", water("60", "1.49 bar absolute"), "caution"},
      {"fluid.degassing", water("60", "1.51 bar absolute"), "-"},
      {"fluid.degassing", {}, "-"},
      // Boiling is worse, and said by fluid.flashing.
      {"fluid.degassing", water("105", "1.3 bar absolute"), "-"},
      {"fluid.flashing", water("105", "1.3 bar absolute"), "caution"},
      // Looked for and not there; or no water.
      {"fluid.degassing",
       {"fluid.temperature=60 degC", "fluid.pressure=1.2 bar absolute", "fluid.gas=0 %"},
       "-"},
      {"fluid.degassing", brew({"fluid.pressure=0.5 bar absolute"}), "-"},
      {"fluid.degassing.unknown", water("20", ""), "-"},
      {"fluid.degassing.unknown", water("40", ""), "-"},
      {"fluid.degassing.unknown", water("50", ""), "caution"},
      {"fluid.degassing.unknown", water("90", ""), "-"},  // fluid.flashing.unknown
      {"fluid.degassing.unknown", {}, "-"},
  });
  CHECK(Planned(water("60", "1.2 bar absolute")).finding("fluid.degassing")->values[1].value ==
        Approx(175.2e3).epsilon(3e-3));
}

TEST_CASE("liquid: grains", "[planning]") {
  // Second-pass notes E6, quartz in water: clay of 1 um radius takes 1.6 dB/m per g/L at 1 MHz,
  // 0.88 at 0.5. On 0.332 m of path 20 dB are 37.6 and 68 g/L: 1.42 and 2.58 % by volume.
  const auto solids = [](const char* fraction, const char* frequency) {
    return Changes{std::string("fluid.solids=") + fraction,
                   std::string("sensors.frequency=") + frequency};
  };
  check_rows({
      {"fluid.solids", {}, "-"},
      {"fluid.solids", {"fluid.solids=0 %"}, "-"},
      {"fluid.solids", solids("1.35 %", "1 MHz"), "note"},
      {"fluid.solids", solids("1.5 %", "1 MHz"), "caution"},
      {"fluid.solids", solids("2.4 %", "500 kHz"), "note"},
      {"fluid.solids", solids("2.7 %", "500 kHz"), "caution"},
      // Coarse grains bite at 2 MHz: 4 g/L by the notes, about twice that with the geometric limit.
      {"fluid.solids", solids("0.13 %", "2 MHz"), "note"},
      {"fluid.solids", solids("0.3 %", "2 MHz"), "caution"},
      // Common practice: 1 to 5 %, though a small bore takes little.
      {"fluid.solids", {"pipe.size=21.3 x 2.77 mm", "fluid.solids=4.9 %"}, "note"},
      {"fluid.solids", {"pipe.size=21.3 x 2.77 mm", "fluid.solids=5.1 %"}, "caution"},
      {"job.not-evaluated", {"fluid.solids=2 %"}, "-"},
      {"job.not-evaluated", {"flow.pulsating=true"}, "-"},
  });
  CHECK(Planned(solids("1 %", "1 MHz")).finding("fluid.solids")->subject.starts_with("clay"));
  CHECK(Planned(solids("1 %", "2 MHz")).finding("fluid.solids")->subject.starts_with("sand"));
  // Fine silt is no limit (notes E6: 0.12 dB/m per g/L; 26.5 g/L on 0.332 m).
  CHECK(Planned(solids("1 %", "1 MHz")).finding("fluid.solids")->values[3].value ==
        Approx(0.12 * 26.5 * 0.332).epsilon(0.05));
}

TEST_CASE("flow: pulsation", "[planning]") {
  check_rows({{"flow.pulsating", {"flow.pulsating=true"}, "caution"},
              {"flow.pulsating", {"flow.pulsating=false"}, "-"},
              {"flow.pulsating", {}, "-"}});
}

TEST_CASE("flow: a zero offset that nobody knows", "[planning]") {
  // 20 times the velocity that 1 ns stands for (metrology notes 1.6: 0.1 to 1 ns are usual), and
  // for a least flow that is not stated a tenth of the usual.
  constexpr double deg = std::numbers::pi / 180;
  const double p = std::sin(38 * deg) / 2430;
  const double fluid_time_s = 2 * 0.15408 / (1480 * std::cos(std::asin(1480 * p)));
  const double needed_1ns_m_s = 20 * 1e-9 / (2 * p * fluid_time_s);
  const double needed_m_s = 0.2 * needed_1ns_m_s;  // the base pair has 0.2 ns
  const auto least = [](double m_s, Changes more = {}) {
    more.push_back(velocity("flow.least", m_s));
    return brew(more);
  };
  const auto usual = [](double m_s, Changes more = {}) {
    more.insert(more.end(),
                {"flow.rate=", "flow.least=", "flow.most=", velocity("flow.velocity", m_s)});
    return brew(more);
  };
  const std::string no_zero = "sensors.zero_stability=";
  check_rows({
      {"flow.zero.unknown", least(1.001 * needed_1ns_m_s, {no_zero}), "note"},
      {"flow.zero.unknown", least(0.999 * needed_1ns_m_s, {no_zero}), "caution"},
      {"flow.zero.unknown", least(0.999 * needed_1ns_m_s, {no_zero, "flow.can_stop=false"}),
       "caution"},
      // A zero test will find it.
      {"flow.zero.unknown", least(0.999 * needed_1ns_m_s, {no_zero, "flow.can_stop=true"}), "note"},
      {"flow.zero.unknown", {}, "-"},
      {"flow.least.unknown", usual(10.01 * needed_m_s), "note"},
      {"flow.least.unknown", usual(9.99 * needed_m_s), "caution"},
      {"flow.least.unknown", usual(10.01 * needed_1ns_m_s, {no_zero}), "note"},
      {"flow.least.unknown", usual(9.99 * needed_1ns_m_s, {no_zero}), "caution"},
      {"flow.zero.unknown", usual(9.99 * needed_1ns_m_s, {no_zero}), "note"},  // one lack, once
      {"flow.least.unknown", {}, "-"},
      // Without any flow flow.unknown asks for all of them.
      {"flow.least.unknown", {"flow.rate=", "flow.least=", "flow.most="}, "-"},
      {"flow.least", least(0.999 * needed_m_s), "caution"},
      {"flow.least", least(1.001 * needed_m_s), "-"},
      {"flow.no-zero-test", {"flow.can_stop=false"}, "note"},
      {"flow.no-zero-test", {"flow.can_stop=true"}, "-"},
      {"flow.no-zero-test", {}, "-"},
  });
  // What to do follows from whether the flow can stop.
  const double slow_m_s = 0.5 * needed_m_s;
  CHECK(says(Planned(least(slow_m_s)), "flow.least", "if the flow can be stopped"));
  CHECK(says(Planned(least(slow_m_s, {"flow.can_stop=true"})), "flow.least", "Do a zero test"));
  CHECK(says(Planned(least(slow_m_s, {"flow.can_stop=false"})), "flow.least", "swap"));
  CHECK(says(Planned(least(0.05, {"flow.can_stop=false"})), "flow.velocity.low", "swap"));
}
