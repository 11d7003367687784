// Whether the sound gets through wall and lining, and whether pair and pipe suit each other.

#include <catch2/catch.hpp>
#include <string>

#include "planning/test_jobs.hpp"

using namespace slantrule;
using test::Changes;
using test::check_rows;
using test::Planned;

TEST_CASE("path: plate waves in a thin wall", "[planning]") {
  // Steel 5900/3230 m/s under a wedge of 2730 m/s at 38 deg: trace speed 4434 m/s. The free plate's
  // first roots there lie at 2.347 and 4.707 MHz mm (independent computation, derived), 2.357 apart
  // on average. At 1 MHz and within 15 %: walls from 1.993 to 2.701 mm.
  const auto wall = [](const std::string& wall_mm) {
    return Changes{"pipe.size=OD 100 x " + wall_mm + " mm",
                   R"(pipe.material={"name":"steel","longitudinal":"5900 m/s","shear":"3230 m/s",)"
                   R"("density":"7850 kg/m3"})",
                   "sensors.wedge.sound_speed=2730 m/s", "sensors.wedge.slope=0 m/s/K"};
  };
  check_rows({
      {"pipe.plate-wave", wall("1.97"), "-"},
      {"pipe.plate-wave", wall("2.01"), "note"},
      {"pipe.plate-wave", wall("2.68"), "note"},
      {"pipe.plate-wave", wall("2.72"), "-"},
      {"pipe.plate-wave", wall("3.24"), "-"},  // a wavelength thick: a ray
      {"pipe.plate-wave", {}, "-"},
  });
  const Planned near(wall("2.5"));
  CHECK(near.finding("pipe.plate-wave")->values[1].value == Approx(2.347e6 / 2.5).epsilon(1e-3));
  CHECK(near.finding("pipe.plate-wave")->values[3].value ==
        Approx(100 * (2.5 - 2.347) / 2.357).epsilon(0.02));
  // Half a wavelength, 1.615 mm: below it there is no ray at all.
  CHECK(Planned(wall("1.62")).finding("pipe.thin-wall")->detail.empty());
  CHECK_FALSE(Planned(wall("1.60")).finding("pipe.thin-wall")->detail.empty());
}

TEST_CASE("path: small tube with a thin wall", "[planning]") {
  // Metrology notes section 4: 30 mm or less, wall of a few millimetres. Steel shear at 2 MHz has a
  // wavelength of 1.61 mm.
  const auto tube = [](const char* size) {
    return Changes{std::string("pipe.size=OD ") + size, "sensors.frequency=2 MHz"};
  };
  check_rows({
      {"pipe.small", tube("30 x 2 mm"), "caution"},
      {"pipe.small", tube("30.1 x 2 mm"), "-"},
      {"pipe.small", tube("30 x 3 mm"), "caution"},
      {"pipe.small", tube("30 x 3.1 mm"), "-"},
      {"pipe.small", tube("30 x 1.5 mm"), "-"},  // said by pipe.thin-wall
      {"pipe.thin-wall", tube("30 x 1.5 mm"), "caution"},
      {"pipe.small", {}, "-"},
  });
}

TEST_CASE("path: element against bore", "[planning]") {
  // Element 12 mm: a third of 36 mm.
  check_rows({
      {"path.element-long", {"pipe.size=46.1 x 5 mm"}, "-"},
      {"path.element-long", {"pipe.size=45.9 x 5 mm"}, "caution"},
      {"path.element-long", {"pipe.size=45.9 x 5 mm", "sensors.element="}, "-"},
      {"path.element-wide", {"sensors.element_width=154 mm"}, "-"},  // bore 154.08 mm
      {"path.element-wide", {"sensors.element_width=154.2 mm"}, "caution"},
      {"path.element-wide", {}, "-"},
      // A large pipe is no offence.
      {"path.element-long", {"pipe.size=OD 1219 x 12.7 mm"}, "-"},
  });
}

TEST_CASE("path: walls and linings that scatter", "[planning]") {
  // Solids notes section 6: grey iron, GRP, concrete, mortar, asbestos cement; not wrought metals,
  // ductile iron ("much lower than gray iron") or plastics.
  const auto wall = [](const char* material) {
    return Changes{"pipe.size=168.3 x 7.11 mm", std::string("pipe.material=") + material};
  };
  check_rows({
      {"pipe.scatter", wall("cast iron gray"), "caution"},
      {"pipe.scatter", wall("GRP"), "caution"},
      {"pipe.scatter", wall("concrete"), "caution"},
      {"pipe.scatter", wall("asbestos cement"), "caution"},
      {"pipe.scatter", wall("ductile iron"), "-"},
      {"pipe.scatter", wall("stainless 304"), "-"},
      {"pipe.scatter", wall("PVC"), "-"},
      {"pipe.scatter", {}, "-"},
      {"pipe.asbestos", wall("asbestos cement"), "caution"},
      {"pipe.asbestos", wall("concrete"), "-"},
      // A wall stays doubtful whatever is done.
      {"pipe.scatter",
       {"pipe.size=168.3 x 7.11 mm", "pipe.material=cast iron gray", "path.traverses=1",
        "sensors.frequency=500 kHz"},
       "caution"},
  });
  // Mortar: 1 MHz or below; a lining with one traverse has all that can be done.
  const auto lined = [](const char* frequency, const char* traverses) {
    return Changes{R"(pipe.liner={"material":"cement mortar","thickness":"3 mm"})",
                   std::string("sensors.frequency=") + frequency,
                   std::string("path.traverses=") + traverses};
  };
  check_rows({
      {"pipe.scatter", lined("1 MHz", "1"), "note"},
      {"pipe.scatter", lined("1.01 MHz", "1"), "caution"},
      {"pipe.scatter", lined("1 MHz", "2"), "caution"},
  });
  // The catalogue's own words go with it.
  CHECK(Planned(wall("cast iron gray")).finding("pipe.scatter")->detail.find("graphite") !=
        std::string::npos);
}
