// Checks of the place on both sides of their limits: position round the pipe, what is special about
// the place, welds, room, access.

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>
#include <set>
#include <string>

#include "planning/test_jobs.hpp"

using namespace slantrule;
using test::Changes;
using test::check_rows;
using test::Planned;

namespace {

constexpr double mm = 1e-3;

std::string number(double value, const char* unit) {
  return std::to_string(value) + unit;
}

Changes with(Changes changes, std::initializer_list<std::string> more) {
  changes.insert(changes.end(), more.begin(), more.end());
  return changes;
}

}  // namespace

// ---------------------------------------------------------------- position

TEST_CASE("place: the finding of a bad clock position names the other end too", "[planning]") {
  CHECK(Planned({"location.clock=1:30"}).finding("mount.clock")->detail ==
        " (the sound is reflected at 7:30)");
  CHECK(Planned({"location.clock=12", "path.traverses=1"}).finding("mount.clock")->detail ==
        " (sensor B at 6)");
}

TEST_CASE("place: a vertical pipe has no clock", "[planning]") {
  const std::string up = "pipe.orientation=vertical up";
  check_rows({
      {"mount.clock.no-landmark", {up}, "note"},
      {"mount.clock.no-landmark", {up, "location.clock=9:30"}, "note"},
      {"mount.clock.no-landmark", {up, "location.clock=90 deg from the manhole"}, "-"},
      {"mount.clock.no-landmark", {up, "location.clock="}, "-"},  // mount.clock.landmark
      {"mount.clock.no-landmark", {}, "-"},
  });
}

TEST_CASE("place: flow down a vertical pipe", "[planning]") {
  // Gas slugs rise at 0.35 sqrt(g D) (Dumitrescu, Davies and Taylor; from memory): 0.4302 m/s in
  // 154.08 mm.
  const Changes down{"pipe.orientation=vertical down"};
  check_rows({
      {"mount.down-flow", with(down, {"flow.least=0.431 m/s"}), "note"},
      {"mount.down-flow", with(down, {"flow.least=0.429 m/s"}), "caution"},
      {"mount.down-flow", with(down, {"flow.least=", "flow.rate=0.431 m/s"}), "note"},
      {"mount.down-flow", with(down, {"flow.least=", "flow.rate=0.429 m/s"}), "caution"},
      {"mount.down-flow", with(down, {"flow.least=", "flow.rate=", "flow.most="}), "caution"},
      // The pressure must be known to hold the pipe full.
      {"mount.down-flow", with(down, {"fluid.pressure=0.1 bar gauge"}), "note"},
      {"mount.down-flow", with(down, {"fluid.pressure=0 bar gauge"}), "caution"},
      {"mount.down-flow", with(down, {"fluid.pressure="}), "caution"},
      {"mount.down-flow", {"pipe.orientation=vertical up"}, "-"},
      {"mount.down-flow", {"pipe.orientation=sloped down"}, "-"},
  });
  CHECK(Planned(down).finding("mount.down-flow")->values[1].value == Approx(0.4302).margin(5e-5));
}

// ---------------------------------------------------------------- special places

TEST_CASE("place: high points, free outlets, part-full pipe, pump suction", "[planning]") {
  const std::string high = "location.place=high point", outlet = "location.place=free outlet";
  const std::string part_full = "location.place=may run part full";
  const std::string suction = "location.place=pump suction";
  check_rows({
      // Metrology notes section 4: refuse; held under pressure it can be vented.
      {"mount.high-point", {high}, "caution"},
      {"mount.high-point", {high, "fluid.pressure="}, "stop"},
      {"mount.high-point", {high, "fluid.pressure=0.9 bar absolute"}, "stop"},
      {"mount.high-point", {}, "-"},
      // Section 4: down-flow to a free outlet may run part full; a riser stays full.
      {"mount.free-outlet", {outlet}, "caution"},
      {"mount.free-outlet", {outlet, "pipe.orientation="}, "caution"},
      {"mount.free-outlet", {outlet, "pipe.orientation=vertical down"}, "stop"},
      {"mount.free-outlet", {outlet, "pipe.orientation=sloped down"}, "stop"},
      {"mount.free-outlet", {outlet, "pipe.orientation=vertical up"}, "note"},
      {"mount.free-outlet", {outlet, "pipe.orientation=sloped up"}, "note"},
      {"mount.free-outlet", {}, "-"},
      // Section 4: part-full pipe is refused.
      {"mount.part-full", {part_full}, "stop"},
      {"mount.part-full", {}, "-"},
      {"mount.part-full",
       {part_full,
        R"(accept=[{"finding":"mount.part-full","because":"filled first","by":"operator"}])"},
       "caution"},
      {"mount.pump-suction", {suction}, "caution"},
      {"mount.pump-suction", {}, "-"},
  });
  CHECK(Planned({suction}).finding("mount.pump-suction")->detail.empty());
  CHECK_FALSE(Planned({suction, "fluid.pressure=0.8 bar absolute"})
                  .finding("mount.pump-suction")
                  ->detail.empty());
  // Several words: a finding each.
  const Planned both({R"(location.place=["high point","pump suction"])"});
  CHECK(both.count("mount.high-point") == 1);
  CHECK(both.count("mount.pump-suction") == 1);
}

// ---------------------------------------------------------------- welds

TEST_CASE("place: a lengthwise weld keeps off both ends of the beam", "[planning]") {
  // Outside diameter 168.3 mm: an hour is 44.06 mm round the pipe. A body length, 58 mm, is
  // 1 h 18.98 min; half the element, 6 mm, 8.17 min. Sensors at 3 o'clock.
  const auto seam = [](const char* clock) { return std::string("pipe.seam=") + clock; };
  const std::string odd = "path.traverses=1";
  const auto accept = [](const std::string& down_to) {
    return R"(accept=[{"finding":"mount.seam","because":"ground flush","by":"site engineer",)"
           R"("down_to":")" +
           down_to + "\"}]";
  };
  check_rows({
      {"mount.seam", {seam("12")}, "-"},
      {"mount.seam", {seam("6")}, "-"},
      {"mount.seam", {seam("4:19")}, "-"},
      {"mount.seam", {seam("4:18")}, "caution"},
      {"mount.seam", {seam("1:41")}, "-"},
      {"mount.seam", {seam("1:42")}, "caution"},
      {"mount.seam", {seam("3:09")}, "caution"},
      {"mount.seam", {seam("3:08")}, "stop"},
      {"mount.seam", {seam("3")}, "stop"},
      {"mount.seam", {seam("2:52")}, "stop"},
      // Opposite them the sound is reflected, which suffers but still is; with an odd count sensor
      // B sits there.
      {"mount.seam", {seam("9")}, "caution"},
      {"mount.seam", {seam("10:18")}, "caution"},
      {"mount.seam", {seam("10:19")}, "-"},
      {"mount.seam", {seam("9"), odd}, "stop"},
      {"mount.seam", {seam("3"), odd}, "stop"},
      {"mount.seam", {seam("6"), odd}, "-"},
      // A small pipe (two hours are 31.6 mm) leaves no body length: two hours do.
      {"mount.seam", {seam("5"), "pipe.size=60.3 x 3.91 mm"}, "-"},
      {"mount.seam", {seam("1"), "pipe.size=60.3 x 3.91 mm"}, "-"},
      {"mount.seam", {seam("4:59"), "pipe.size=60.3 x 3.91 mm"}, "caution"},
      // The element not stated: no stop.
      {"mount.seam", {seam("3"), "sensors.element="}, "caution"},
      {"mount.seam", {seam("none")}, "-"},
      // A site may live with it, down to a limit: 3:05 is 3.67 mm.
      {"mount.seam", {seam("3:05"), accept("3.6 mm")}, "caution"},
      {"mount.seam", {seam("3:05"), accept("3.7 mm")}, "stop"},
      {"mount.seam", {seam("seamless")}, "-"},
  });
  const Planned near({seam("4")});
  const Finding& finding = *near.finding("mount.seam");
  CHECK(finding.values[0].value == Approx(168.3 * mm * std::numbers::pi / 12).epsilon(1e-12));
  CHECK(finding.values[1].value == Approx(58 * mm));
  CHECK(finding.values[2].value == 4);
  CHECK(finding.subject == "both sensors");
  CHECK(Planned({seam("8"), odd}).finding("mount.seam")->subject == "sensor B");
  CHECK(Planned({seam("2"), odd}).finding("mount.seam")->subject == "sensor A");
}

TEST_CASE("place: turning pipe and pair together changes nothing for the weld", "[planning]") {
  for (int apart = 0; apart < 12; ++apart) {
    for (int clock : {3, 4, 9}) {
      const auto of = [&](int turn) {
        return Planned({"location.clock=" + std::to_string(clock + turn),
                        "pipe.seam=" + std::to_string((clock + turn + apart) % 12)})
            .severity("mount.seam");
      };
      CAPTURE(apart, clock);
      CHECK(of(0) == of(-1));
      // The weld opposite lies as far from the beam.
      const auto at = [&](int seam) {
        return Planned({"location.clock=" + std::to_string(clock),
                        "pipe.seam=" + std::to_string(seam % 12), "path.traverses=1"})
            .severity("mount.seam");
      };
      CHECK(at(clock + apart) == at(clock + apart + 6));
    }
  }
}

TEST_CASE("place: welds that cannot be compared, and spiral ones", "[planning]") {
  const std::string spiral = "pipe.seam=spiral", large = "pipe.size=406.4 x 9.53 mm";
  check_rows({
      {"mount.seam.unknown", {"pipe.seam=on the wall side"}, "caution"},
      {"mount.seam.unknown", {"pipe.seam=12"}, "-"},
      {"mount.seam.unknown", {"pipe.seam=12", "location.clock="}, "caution"},
      {"mount.seam.unknown",
       {"pipe.seam=90 deg from the manhole", "pipe.orientation=vertical up"},
       "note"},
      {"mount.seam.unknown", {spiral}, "-"},
      {"mount.seam.unknown", {"pipe.seam=seamless"}, "-"},
      {"mount.seam.unknown", {}, "-"},
      {"mount.seam.spiral", {spiral}, "caution"},
      {"mount.seam.spiral", {"pipe.seam=Spiral"}, "caution"},
      {"mount.seam.spiral", {"pipe.seam=12"}, "-"},
      // Large steel pipe is usually welded: from 0.4 m.
      {"mount.seam.look", {large}, "note"},
      {"mount.seam.look", {"pipe.size=OD 400 x 9.5 mm"}, "note"},
      {"mount.seam.look", {"pipe.size=OD 399 x 9.5 mm"}, "-"},
      {"mount.seam.look", {large, "pipe.seam=seamless"}, "-"},
      {"mount.seam.look", {large, "pipe.seam=12"}, "-"},
      {"mount.seam.look", {"pipe.size=406.4 x 24 mm", "pipe.material=PVC"}, "-"},
      {"mount.seam.look", {}, "-"},
  });
  // With two traverses the sound is reflected half way; the bodies reach 42 mm behind each exit.
  const Planned two({spiral});
  const double exit_m = two.ray().exit_spacing_m;
  const Finding& finding = *two.finding("mount.seam.spiral");
  CHECK(finding.values[0].value == Approx(exit_m + 84 * mm).epsilon(1e-12));
  CHECK(finding.values[1].value == Approx(exit_m / 2).epsilon(1e-12));
  const Planned one({spiral, "path.traverses=1"});
  CHECK(one.finding("mount.seam.spiral")->values[1].value == one.ray().exit_spacing_m);
}

// ---------------------------------------------------------------- room and access

TEST_CASE("place: with one side in reach the planner keeps to an even count", "[planning]") {
  const Changes no_room{"path.traverses=",    "pipe.size=21.3 x 2.77 mm",
                        "sensors.nose=50 mm", "flow.rate=1 m3/h",
                        "flow.least=",        "flow.most="};
  CHECK_FALSE(Planned(no_room).plan.same_side());
  const Planned one_side(with(no_room, {"location.access=one side"}));
  CHECK(one_side.plan.same_side());
  CHECK(one_side.severity("path.one-side") == "-");
  CHECK(one_side.severity("path.overlap") == "stop");
}

TEST_CASE("place: clear length", "[planning]") {
  // Bodies reach 58 - 16 = 42 mm behind the exit points; 50 mm more a side for cables.
  const double pair_mm = Planned({}).ray().exit_spacing_m / mm + 84;
  const auto clear = [](double length_mm) {
    return "location.clear_length=" + number(length_mm, " mm");
  };
  check_rows({
      {"mount.clear-length", {clear(pair_mm + 100.01)}, "-"},
      {"mount.clear-length", {clear(pair_mm + 99.99)}, "caution"},
      {"mount.clear-length", {clear(pair_mm + 0.01)}, "caution"},
      {"mount.clear-length", {clear(pair_mm - 0.01)}, "stop"},
      {"mount.clear-length", {}, "-"},
      {"mount.clear-length.unknown", {clear(600), "sensors.length="}, "caution"},
      {"mount.clear-length.unknown", {clear(600), "sensors.nose="}, "caution"},
      {"mount.clear-length.unknown", {"sensors.length="}, "-"},
      {"mount.clear-length.unknown", {clear(600)}, "-"},
  });
}

TEST_CASE("place: height and hazardous areas", "[planning]") {
  const auto area = [](const char* text) { return std::string("location.hazardous_area=") + text; };
  const auto pair = [](const char* text) { return std::string("sensors.certified_for=") + text; };
  check_rows({
      {"mount.height", {"location.height=1.99 m"}, "-"},
      {"mount.height", {"location.height=2 m"}, "caution"},
      {"mount.height", {}, "-"},
      {"mount.hazardous-area.unknown", {area("zone 1")}, "caution"},
      {"mount.hazardous-area.unknown", {area("zone 1"), "sensors=demo-1mhz"}, "caution"},
      {"mount.hazardous-area.unknown", {area("none")}, "-"},
      {"mount.hazardous-area.unknown", {area("Non-hazardous")}, "-"},
      {"mount.hazardous-area.unknown", {area("zone 1"), pair("zone 1")}, "-"},
      {"mount.hazardous-area.unknown", {}, "-"},
      {"mount.hazardous-area", {pair("zone 1")}, "-"},
      // Never go: the same words, or more, still leave gas group and temperature class open.
      {"mount.hazardous-area", {area("zone 1"), pair("zone 1")}, "caution"},
      {"mount.hazardous-area", {area("zone 2"), pair("Zone 1, IIC T4")}, "caution"},
      // Plainly less than asked: zone 0 is more exacting than 1, and 1 than 2.
      {"mount.hazardous-area", {area("zone 1"), pair("zone 2")}, "stop"},
      {"mount.hazardous-area", {area("Zone 0; IIB"), pair("zone 1")}, "stop"},
      {"mount.hazardous-area", {area("zone 21"), pair("zone 22")}, "stop"},
      {"mount.hazardous-area", {area("Class I Division 1"), pair("division 2")}, "stop"},
      {"mount.hazardous-area", {area("zone 1"), pair("none")}, "stop"},
      {"mount.hazardous-area", {area("zone 1"), pair("not certified")}, "stop"},
      // Words that do not compare: people decide.
      {"mount.hazardous-area", {area("zone 2"), pair("zone 21")}, "caution"},
      {"mount.hazardous-area", {area("zone 1"), pair("division 2")}, "caution"},
      {"mount.hazardous-area", {area("zone 1"), pair("zone 2 / zone 1")}, "caution"},
      {"mount.hazardous-area", {area("zone 1/21"), pair("zone 2")}, "caution"},
      {"mount.hazardous-area", {area("paint shop"), pair("II 3G")}, "caution"},
      {"mount.hazardous-area", {area("zone"), pair("zone one")}, "caution"},
  });
  const Planned planned({area("zone 1"), pair("zone 2")});
  CHECK(planned.finding("mount.hazardous-area")->subject == "zone 1");
  CHECK(planned.finding("mount.hazardous-area")->detail == "zone 2");
}

TEST_CASE("place: insulation", "[planning]") {
  const std::string refitted = "location.insulation=refitted";
  check_rows({
      {"mount.insulation.opened", {"location.insulation=opened"}, "note"},
      {"mount.insulation.opened", {"location.insulation=none"}, "-"},
      {"mount.insulation.opened", {refitted}, "-"},
      {"mount.insulation.refitted", {refitted}, "note"},
      {"mount.insulation.refitted", {}, "-"},
      // Under refitted insulation the wedges are as warm as the wall, at 20 degC here.
      {"mount.wedge-temperature", {refitted, "location.wedge_temperature=25 degC"}, "-"},
      {"mount.wedge-temperature", {refitted, "location.wedge_temperature=25.1 degC"}, "caution"},
      {"mount.wedge-temperature", {refitted, "location.wedge_temperature=14.9 degC"}, "caution"},
      {"mount.wedge-temperature", {refitted}, "-"},
      {"mount.wedge-temperature", {"location.wedge_temperature=50 degC"}, "-"},
  });
  // Overall length and 100 mm for the hands at each end, by half the girth; the whole girth where
  // the sensors sit opposite each other.
  const Planned same({"location.insulation=opened"});
  const Finding& window = *same.finding("mount.insulation.opened");
  CHECK(window.values[0].value == Approx(same.ray().exit_spacing_m + 284 * mm).epsilon(1e-12));
  CHECK(window.values[1].value == Approx(264.4 * mm).margin(0.05 * mm));  // 168.3 pi/2
  const Planned opposite({"location.insulation=opened", "path.traverses=1"});
  CHECK(opposite.finding("mount.insulation.opened")->values[1].value ==
        Approx(528.7 * mm).margin(0.05 * mm));
}

TEST_CASE("place: what these checks answer for is no longer called unchecked", "[planning]") {
  const Planned planned({"pipe.seam=12", R"(location.surface=["paint","rust"])",
                         "location.place=pump suction", "location.insulation=opened",
                         "location.clear_length=600 mm", "location.hazardous_area=zone 1",
                         "location.height=3 m"});
  CHECK(planned.severity("job.not-evaluated") == "-");
}

TEST_CASE("place and surface: findings keep to their table", "[planning]") {
  const Changes much{
      "pipe.seam=3:30",
      R"(location.surface=["paint","rust","pitted","scaled","wrapped"])",
      R"(location.place=["high point","free outlet","may run part full","pump suction"])",
      "location.insulation=refitted",
      "location.wedge_temperature=60 degC",
      "location.clear_length=200 mm",
      "location.hazardous_area=zone 1",
      "location.height=3 m",
      "pipe.wall_temperature=5 degC",
      "pipe.material=galvanised steel",
      "couplant=oil"};
  const std::vector<Changes> jobs{
      much,
      with(much, {"pipe.seam=spiral", "sensors.certified_for=zone 2", "location.clock=1:30"}),
      with(much, {"pipe.seam=top", "sensors.length=", "pipe.wall_temperature=160 degC"}),
      with(much, {"pipe.orientation=vertical down", "location.insulation=opened",
                  "pipe.wall_temperature=109 degC", "couplant="}),
      with(much, {"pipe.material=ABS", "pipe.size=OD 110 x 8 mm", "pipe.wall_temperature=58 degC"}),
      {R"(pipe.coating={"material":"bitumen","thickness":"4 mm"})",
       "pipe.wall_temperature=300 degC"}};
  std::set<std::string_view> seen;
  for (const Changes& changes : jobs) {
    const Planned planned(changes);
    for (const Finding& one : planned.plan.findings) {
      const CheckInfo& info = check_info(one.check);
      CAPTURE(info.id);
      if (info.id.starts_with("mount.")) seen.insert(info.id);
      CHECK(one.severity <= info.worst);
      const std::string text = std::string(info.message) + std::string(info.mend);
      for (std::size_t i = 0; i < one.values.size(); ++i) {
        if (text.find('{' + std::to_string(i) + '}') == text.npos) continue;
        CHECK(one.values[i].kind != ValueKind::none);
        CHECK(std::isfinite(one.values[i].value));
      }
      if (text.find("{s}") != text.npos) CHECK_FALSE(one.subject.empty());
    }
  }
  CHECK(seen.size() >= 25);
}
