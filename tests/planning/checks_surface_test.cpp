// Checks of the wall's surface on both sides of their limits: what is on it, moisture, couplant.

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <string>

#include "planning/test_jobs.hpp"
#include "slantrule/planning/surface.hpp"

using namespace slantrule;
using test::Changes;
using test::check_rows;
using test::Planned;

namespace {

constexpr double zero_K = 273.15;

Changes with(Changes changes, std::initializer_list<std::string> more) {
  changes.insert(changes.end(), more.begin(), more.end());
  return changes;
}

std::string wall(const char* temperature_degC) {
  return std::string("pipe.wall_temperature=") + temperature_degC + " degC";
}
std::string couplant(const char* key) {
  return std::string("couplant=") + key;
}
std::string coating(const char* material, const char* thickness, const char* under = "left") {
  return std::string(R"(pipe.coating={"material":)") + material + R"(,"thickness":")" + thickness +
         R"(","under_sensors":")" + under + "\"}";
}

std::vector<std::string> keys(const CouplantNeed& need) {
  std::vector<std::string> all;
  for (const CouplantRecord* row : suitable_couplants(need)) all.emplace_back(row->key);
  std::sort(all.begin(), all.end());
  return all;
}

}  // namespace

// ---------------------------------------------------------------- what is on it

TEST_CASE("surface: words", "[planning]") {
  check_rows({
      {"mount.surface.rust", {"location.surface=rust"}, "note"},
      {"mount.surface.rust", {"location.surface=clean"}, "-"},
      {"mount.surface.rust", {}, "-"},
      {"mount.surface.pitted", {"location.surface=pitted"}, "caution"},
      {"mount.surface.pitted", {"location.surface=rust"}, "-"},
      {"mount.surface.scaled", {"location.surface=scaled"}, "caution"},
      {"mount.surface.scaled", {}, "-"},
      {"mount.surface.wrapped", {"location.surface=wrapped"}, "caution"},
      {"mount.surface.wrapped",
       {"location.surface=wrapped", coating("\"bitumen\"", "3 mm", "removed")},
       "note"},
      {"mount.surface.wrapped", {}, "-"},
      {"mount.surface.pitted", {R"(location.surface=["rust","pitted"])"}, "caution"},
      {"mount.surface.galvanised", {"pipe.material=galvanised steel"}, "note"},
      {"mount.surface.galvanised", {"pipe.material=GI"}, "note"},
      {"mount.surface.galvanised", {"pipe.material=Galvanized-Iron"}, "note"},
      {"mount.surface.galvanised", {"pipe.material=carbon steel"}, "-"},
  });
}

TEST_CASE("surface: paint matters through the tape", "[planning]") {
  // 0.3 mm of paint under the tape, by area: D^2/(D - 0.6 mm)^2 - 1 reaches 1 % at a bore of
  // 120.9 mm; by the diameter alone, where the transmitter computes the time, at 60.6 mm.
  const Changes painted{"location.surface=paint"};
  const auto measured = [&](const char* outside) {
    return with(painted, {"pipe.size=", std::string("pipe.outside_diameter=") + outside,
                          "pipe.wall=3.5 mm"});
  };
  check_rows({
      {"mount.surface.paint", painted, "note"},  // the designation is the bare pipe's
      {"mount.surface.paint", measured("127.8 mm"), "caution"},
      {"mount.surface.paint", measured("128.0 mm"), "note"},
      {"mount.surface.paint", with(measured("127.8 mm"), {"meter.fluid_time=computed"}), "note"},
      {"mount.surface.paint", with(measured("67.5 mm"), {"meter.fluid_time=computed"}), "caution"},
      {"mount.surface.paint", with(painted, {coating("\"paint\"", "0.3 mm")}), "-"},
      {"mount.surface.paint", {}, "-"},
  });
  // Second-pass notes E4: on a bore of 102.26 mm 1.2 % of flow.
  CHECK(Planned(with(painted, {"pipe.size=NPS 4 sch 40"}))
            .finding("mount.surface.paint")
            ->values[2]
            .value == Approx(1.2).margin(0.05));
}

TEST_CASE("surface: coating under the sensors", "[planning]") {
  const char* foam = R"({"name":"PU foam","longitudinal":"1500 m/s"})";
  check_rows({
      {"mount.coating", {coating("\"paint\"", "0.3 mm")}, "-"},
      {"mount.coating", {coating("\"paint\"", "0.31 mm")}, "caution"},
      {"mount.coating", {coating("\"epoxy\"", "1 mm")}, "-"},
      {"mount.coating", {coating("\"epoxy\"", "1.01 mm")}, "caution"},
      {"mount.coating", {coating("\"fbe\"", "0.6 mm")}, "-"},
      {"mount.coating", {coating("\"bitumen\"", "0.3 mm")}, "-"},
      {"mount.coating", {coating("\"bitumen\"", "0.31 mm")}, "caution"},
      {"mount.coating", {coating("\"neoprene\"", "0.3 mm")}, "-"},
      {"mount.coating", {coating("\"neoprene\"", "0.31 mm")}, "caution"},
      {"mount.coating", {coating("\"neoprene\"", "5 mm", "removed")}, "-"},
      {"mount.coating", {}, "-"},
      {"mount.coating.gas", {coating(foam, "0.1 mm")}, "stop"},
      {"mount.coating.gas", {coating(foam, "30 mm", "removed")}, "-"},
      {"mount.coating.gas", {coating("\"epoxy\"", "3 mm")}, "-"},
  });
}

// ---------------------------------------------------------------- moisture

TEST_CASE("surface: dew point", "[planning]") {
  // From steam tables: the temperature at which saturated steam has the fraction of its pressure at
  // ambient. 20 degC 23.39 hPa, 60 % of it 14.04: 12 degC has 14.03; and so on. Water vapour over
  // water; the margin is the formula's error and half the last digit.
  const struct {
    double ambient_degC, humidity, dew_degC;
  } rows[] = {{20, 0.6, 12.0}, {20, 0.8, 16.4}, {25, 0.6, 16.7},
              {30, 0.5, 18.4}, {40, 0.6, 30.7}, {20, 1.0, 20.0}};
  for (const auto& row : rows) {
    CAPTURE(row.ambient_degC, row.humidity);
    CHECK(dew_point_K(row.ambient_degC + zero_K, row.humidity) - zero_K ==
          Approx(row.dew_degC).margin(0.11));
  }
}

TEST_CASE("surface: water condenses on a cold wall", "[planning]") {
  // Surroundings at 20 degC: 12.0 degC at 60 %, 16.4 at 80 %.
  check_rows({
      {"mount.condensation", {wall("16.6")}, "-"},
      {"mount.condensation", {wall("16.3")}, "note"},
      {"mount.condensation", {wall("12.1")}, "note"},
      {"mount.condensation", {wall("11.9")}, "caution"},
      {"mount.condensation", {wall("11.9"), "location.ambient="}, "note"},
      {"mount.condensation", {wall("11.9"), couplant("gel-water")}, "caution"},
      {"mount.condensation", {wall("11.9"), couplant("grease")}, "note"},
      // At 16 degC 80 % is 14.55 hPa, saturated at 12.55 degC.
      {"mount.condensation", {wall("12.4"), "location.ambient=16 degC"}, "note"},
      {"mount.condensation", {wall("12.7"), "location.ambient=16 degC"}, "-"},
      {"mount.condensation", {}, "-"},
  });
  CHECK(Planned({wall("11.9")}).finding("mount.condensation")->detail.empty());
  CHECK(Planned({wall("-1")}).finding("mount.condensation")->detail == ", and freezes");
}

// ---------------------------------------------------------------- couplant

TEST_CASE("couplant: temperature of the wall's surface", "[planning]") {
  // Limits of data/couplants.csv: gel 0 to 60, boils at 100; grease to 80 and 130; the paste's own
  // data sheet decides.
  const std::string gel = couplant("gel-water"), grease = couplant("grease");
  const std::string paste = couplant("paste-high-temperature");
  check_rows({
      {"mount.couplant.near", {gel, wall("55")}, "-"},
      {"mount.couplant.near", {gel, wall("55.1")}, "caution"},
      {"mount.couplant.near", {gel, wall("60")}, "caution"},
      {"mount.couplant.near", {gel, wall("60.1")}, "-"},
      {"mount.couplant.near", {gel, wall("4")}, "-"},
      {"mount.couplant", {gel, wall("60")}, "-"},
      {"mount.couplant", {gel, wall("60.1")}, "caution"},
      {"mount.couplant", {gel, wall("100")}, "caution"},
      {"mount.couplant", {gel, wall("100.1")}, "-"},
      {"mount.couplant", {gel, wall("0")}, "-"},
      {"mount.couplant", {gel, wall("-0.1")}, "caution"},
      {"mount.couplant.limit", {gel, wall("100")}, "-"},
      {"mount.couplant.limit", {gel, wall("100.1")}, "stop"},
      {"mount.couplant.limit", {grease, wall("130")}, "-"},
      {"mount.couplant.limit", {grease, wall("130.1")}, "stop"},
      {"mount.couplant.limit", {paste, wall("300")}, "-"},
      {"mount.couplant", {paste, wall("300")}, "caution"},
      {"mount.couplant.limit", {wall("300")}, "-"},
  });
}

TEST_CASE("couplant: not stated is no finding as long as one suits", "[planning]") {
  check_rows({
      {"mount.couplant.none", {}, "-"},
      {"mount.couplant.none", {wall("200")}, "-"},
      {"mount.couplant.none", {wall("200.1")}, "caution"},
      {"mount.couplant.none", {wall("-20")}, "-"},
      {"mount.couplant.none", {wall("-20.1")}, "caution"},
      {"mount.couplant.none", {wall("300"), couplant("grease")}, "-"},
  });
}

TEST_CASE("couplant: which of the table suit", "[planning]") {
  using Keys = std::vector<std::string>;
  const double room_K = 20 + zero_K;
  const Keys all{"gel-water", "glycerine", "grease", "oil", "pad-solid", "paste-high-temperature"};
  CHECK(keys({.surface_K = room_K}) == all);
  CHECK(keys({.surface_K = 90 + zero_K}) == Keys{"pad-solid", "paste-high-temperature"});
  CHECK(keys({.surface_K = -15 + zero_K}) == Keys{"grease", "pad-solid"});
  CHECK(keys({.surface_K = 201 + zero_K}).empty());
  CHECK(keys({.surface_K = room_K, .permanent = true}) ==
        Keys{"grease", "pad-solid", "paste-high-temperature"});
  CHECK(keys({.surface_K = room_K, .wet = true}) ==
        Keys{"grease", "oil", "pad-solid", "paste-high-temperature"});
  CHECK(keys({.surface_K = room_K, .rough_wall = true}) ==
        Keys{"grease", "paste-high-temperature"});

  // A user's row that says nothing of itself is not left out.
  const CouplantRecord own{.key = "own",
                           .name = "own",
                           .lowest_degC = 0,
                           .highest_degC = 40,
                           .lasts = "",
                           .note = "",
                           .source = "",
                           .confidence = Confidence::memory};
  CHECK(suitable_couplants(
            {.surface_K = room_K, .permanent = true, .wet = true, .rough_wall = true}, {&own, 1})
            .size() == 1);

  // The need of a job.
  const Planned planned(
      {"pipe.material=ABS", "pipe.size=OD 110 x 8 mm", "location.insulation=refitted", wall("5")});
  const CouplantNeed need = couplant_need(planned.job, planned.plan);
  CHECK(need.surface_K == Approx(5 + zero_K));
  CHECK(need.permanent);
  CHECK(need.wet);
  CHECK_FALSE(need.rough_wall);
  CHECK(need.contact->key == "abs");
  CHECK(keys(need) == Keys{"pad-solid", "paste-high-temperature"});
}

TEST_CASE("couplant: how long it lasts, and rough walls", "[planning]") {
  const std::string refitted = "location.insulation=refitted";
  check_rows({
      {"mount.couplant.short-lived", {refitted, couplant("gel-water")}, "caution"},
      {"mount.couplant.short-lived", {refitted, couplant("grease")}, "note"},
      {"mount.couplant.short-lived", {refitted, couplant("pad-solid")}, "-"},
      {"mount.couplant.short-lived", {refitted}, "-"},
      {"mount.couplant.short-lived", {couplant("gel-water")}, "-"},
      {"mount.couplant.rough-wall", {"location.surface=rust", couplant("oil")}, "caution"},
      {"mount.couplant.rough-wall", {"location.surface=pitted", couplant("pad-solid")}, "caution"},
      {"mount.couplant.rough-wall", {"location.surface=rust", couplant("grease")}, "-"},
      {"mount.couplant.rough-wall", {"location.surface=paint", couplant("oil")}, "-"},
      {"mount.couplant.rough-wall", {"location.surface=rust"}, "-"},
  });
}

TEST_CASE("couplant: what it may harm", "[planning]") {
  const std::string grease = couplant("grease"), gel = couplant("gel-water");
  const auto plastic = [](const char* material) {
    return Changes{std::string("pipe.material=") + material, "pipe.size=OD 110 x 8 mm"};
  };
  const auto liquid = [](const char* name) {
    return Changes{std::string("fluid.name=") + name, "fluid.sound_speed=1500 m/s"};
  };
  check_rows({
      {"mount.couplant.harm", with(plastic("ABS"), {grease}), "caution"},
      {"mount.couplant.harm", with(plastic("CPVC"), {couplant("oil")}), "caution"},
      {"mount.couplant.harm", with(plastic("PVC"), {grease}), "note"},
      {"mount.couplant.harm", with(plastic("ABS"), {gel}), "-"},
      {"mount.couplant.harm", {grease}, "-"},
      {"mount.couplant.harm", {grease, coating("\"neoprene\"", "0.3 mm")}, "caution"},
      {"mount.couplant.harm", {grease, coating("\"neoprene\"", "3 mm", "removed")}, "-"},
      // Chlorides crack austenitic steel where it is hot: from 50 degC.
      {"mount.couplant.harm", {"pipe.material=316L", gel, wall("49.9")}, "-"},
      {"mount.couplant.harm", {"pipe.material=316L", gel, wall("50")}, "caution"},
      {"mount.couplant.harm", {gel, wall("50")}, "-"},
      {"mount.couplant.harm", with(liquid("peroxide 35"), {grease}), "caution"},
      {"mount.couplant.harm", with(liquid("peroxide 35"), {gel}), "-"},
      {"mount.couplant.harm", with(liquid("brew"), {grease}), "-"},
      {"mount.couplant.food", liquid("beer"), "note"},
      {"mount.couplant.food", liquid("Apple juice"), "note"},
      {"mount.couplant.food", liquid("spent beerlike liquor"), "-"},
      {"mount.couplant.food", {}, "-"},
  });
}

TEST_CASE("couplant: words of a list", "[planning]") {
  CHECK(has_word("visit washes-off", "visit"));
  CHECK(has_word("visit washes-off", "washes-off"));
  CHECK_FALSE(has_word("visit washes-off", "washes"));
  CHECK_FALSE(has_word("", "visit"));
  CHECK_FALSE(has_word("", ""));
  CHECK(has_word("a_b", "b", '_'));
}

// ---------------------------------------------------------------- sensors

TEST_CASE("surface: little in hand of the pair's temperature rating", "[planning]") {
  // Rated -20 to 110 degC.
  check_rows({
      {"sensors.temperature.near", {wall("105")}, "-"},
      {"sensors.temperature.near", {wall("105.1")}, "caution"},
      {"sensors.temperature.near", {wall("110")}, "caution"},
      {"sensors.temperature.near", {wall("110.1")}, "-"},
      {"sensors.temperature.near", {wall("-15")}, "-"},
      {"sensors.temperature.near", {wall("-15.1")}, "caution"},
      {"sensors.temperature.near", {wall("-20.1")}, "-"},
      {"sensors.temperature.near", {wall("108"), "sensors.temperature="}, "-"},
  });
}
