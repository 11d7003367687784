// From a request to resolved jobs: names, defaults, corrections, candidates; all mistakes at once.

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>
#include <set>
#include <string>

#include "planning/test_jobs.hpp"
#include "slantrule/planning/defaults.hpp"
#include "slantrule/planning/resolved_job.hpp"

using namespace slantrule;
using test::Changes;
using test::job_of;
using test::resolution_of;

namespace {

constexpr double mm = 1e-3;

std::set<std::string> keys(const Resolution& resolution) {
  std::set<std::string> out;
  for (const Problem& one : resolution.problems) out.insert(one.key);
  return out;
}

/// The message about `key`; empty when there is none.
std::string message(const Resolution& resolution, std::string_view key) {
  for (const Problem& one : resolution.problems) {
    if (one.key == key) return one.message;
  }
  return {};
}

bool says(const std::string& text, std::string_view part) {
  return text.find(part) != text.npos;
}

/// Key and part of the message of the only problem.
void check_refused(const Changes& changes, const std::string& key, std::string_view part) {
  const Resolution resolution = resolution_of(changes);
  CAPTURE(changes, key);
  CHECK(keys(resolution) == std::set<std::string>{key});
  CAPTURE(message(resolution, key));
  CHECK(says(message(resolution, key), part));
  CHECK(resolution.variants.empty());
}

std::vector<double> walls_mm(const Resolution& resolution) {
  std::vector<double> out;
  for (const Variant& one : resolution.variants) {
    out.push_back(std::round(one.job.pipe.wall_m.value / mm * 1e6) / 1e6);
  }
  return out;
}

}  // namespace

// ---------------------------------------------------------------- required keys

TEST_CASE("resolve: everything missing is said at once", "[planning]") {
  const Resolution nothing = resolution_of({}, R"({ "slantrule": 1 })");
  CHECK(keys(nothing) == std::set<std::string>{"pipe.size", "pipe.material", "fluid.name",
                                               "fluid.temperature", "sensors"});
  CHECK(nothing.variants.empty());
  // The message shows how to write it.
  CHECK(says(message(nothing, "fluid.temperature"), "7 degC"));
}

TEST_CASE("resolve: missing inside an object", "[planning]") {
  const Resolution pair = resolution_of({"sensors.wedge.angle=", "sensors.setback="});
  CHECK(keys(pair) == std::set<std::string>{"sensors.wedge.angle", "sensors.setback"});
  check_refused({R"(pipe.liner={"material":"cement mortar"})"}, "pipe.liner.thickness", "3.2 mm");
  check_refused({R"(accept=[{"finding":"run.upstream","because":"test"}])"}, "accept[0].by",
                "missing");
  check_refused({R"(pipe.coating={"thickness":"0.3 mm"})"}, "pipe.coating.material", "missing");
}

TEST_CASE("resolve: a diameter needs a wall", "[planning]") {
  check_refused({"pipe.size=", "pipe.outside_diameter=168.3 mm"}, "pipe.wall", "unknown");
  const ResolvedJob both =
      job_of({"pipe.size=", "pipe.outside_diameter=168.3 mm", "pipe.wall=7.11 mm"});
  CHECK(both.pipe.bore_m() == Approx(154.08 * mm).epsilon(1e-12));
  check_refused({"pipe.size=NPS 6"}, "pipe.size", "wall");
  CHECK(job_of({"pipe.size=NPS 6", "pipe.wall=7.11 mm"}).pipe.bore_m() ==
        Approx(154.08 * mm).epsilon(1e-12));
}

TEST_CASE("resolve: unknown names, all in one run, with what was likely meant", "[planning]") {
  const Resolution wrong = resolution_of(
      {"pipe.material=carbon steal", "fluid.name=watter", "sensors=demo-1mhy", "couplant=greese",
       R"(location.upstream=[{"fitting":"elbow-9","distance":"3 m"}])",
       R"(accept=[{"finding":"run.upstreem","because":"x","by":"y"}])"});
  CHECK(keys(wrong) == std::set<std::string>{"pipe.material", "fluid.name", "sensors", "couplant",
                                             "location.upstream[0].fitting", "accept[0].finding"});
  CHECK(says(message(wrong, "pipe.material"), "carbon_steel"));
  CHECK(says(message(wrong, "fluid.name"), "water"));
  CHECK(says(message(wrong, "sensors"), "demo-1mhz"));
  CHECK(says(message(wrong, "couplant"), "grease"));
  CHECK(says(message(wrong, "location.upstream[0].fitting"), "elbow-90"));
  CHECK(says(message(wrong, "accept[0].finding"), "run.upstream"));
  CHECK(wrong.variants.empty());
}

TEST_CASE("resolve: a name far from all others points to the list", "[planning]") {
  check_refused({"pipe.material=unobtainium"}, "pipe.material", "lookup solids");
}

// ---------------------------------------------------------------- pipe

TEST_CASE("resolve: a bore that doesn't exist", "[planning]") {
  check_refused({"pipe.wall=90 mm"}, "pipe.wall", "leaves no bore");
  check_refused({"pipe.deposit=80 mm"}, "pipe.wall", "deposit");
  check_refused({R"(pipe.liner={"material":"cement mortar","thickness":"77.04 mm"})"}, "pipe.wall",
                "leaves no bore");
  CHECK(job_of({R"(pipe.liner={"material":"cement mortar","thickness":"77 mm"})"}).pipe.bore_m() ==
        Approx(0.08 * mm).epsilon(1e-6));
  // An oval pipe must have a bore both ways: 20 and 18.1 mm with 9.2 mm of wall.
  check_refused({"pipe.size=OD 20 x 9.2 mm", "pipe.across=18.1 mm"}, "pipe.wall", "leaves no bore");
}

TEST_CASE("resolve: diameter from a girth", "[planning]") {
  // Public how-to page: 12.57 in of girth is 4.0 in of diameter.
  const Changes taped{"pipe.size=", "pipe.girth=12.57 in", "pipe.wall=3 mm"};
  CHECK(job_of(taped).pipe.outside_diameter_m.value / 25.4e-3 == Approx(4.0).margin(0.005));
  CHECK(job_of(taped).pipe.diameter_source == DimensionSource::girth);
  // Solids notes section 7: girth = pi (OD + tape), so one tape thickness comes off.
  Changes thick = taped;
  thick.push_back("pipe.tape_thickness=0.25 mm");
  CHECK(job_of(taped).pipe.outside_diameter_m.value - job_of(thick).pipe.outside_diameter_m.value ==
        Approx(0.25 * mm).epsilon(1e-9));
  // The tolerance goes with it: 2 mm as a limit, k = 1, over pi.
  CHECK(job_of({"pipe.size=", "pipe.girth=528.7 mm +- 2 mm", "pipe.wall=7.11 mm"})
            .pipe.outside_diameter_m.u == Approx(2 * mm / std::sqrt(3) / std::numbers::pi));
  check_refused({"pipe.girth=529 mm", "pipe.outside_diameter=168.3 mm"}, "pipe.girth",
                "both stated");
  check_refused({"pipe.girth=1 mm", "pipe.tape_thickness=1 mm"}, "pipe.girth", "no diameter");
}

TEST_CASE("resolve: diameter over a coating", "[planning]") {
  // Solids notes section 7: OD of the metal is OD measured less twice the coating.
  const std::string paint = R"(pipe.coating={"material":"paint","thickness":"0.3 mm"})";
  const Changes over{"pipe.outside_diameter=168.9 mm", paint, "pipe.over_coating=true"};
  CHECK(job_of(over).pipe.outside_diameter_m.value == Approx(168.3 * mm).epsilon(1e-12));
  CHECK(job_of({"pipe.outside_diameter=168.9 mm", paint, "pipe.over_coating=false"})
            .pipe.outside_diameter_m.value == Approx(168.9 * mm).epsilon(1e-12));
  // The same with a girth, tape and all: (pi (168.9 + 0.2)) mm.
  CHECK(job_of({"pipe.girth=531.2433 mm", "pipe.tape_thickness=0.2 mm", paint,
                "pipe.over_coating=true"})
            .pipe.outside_diameter_m.value == Approx(168.3 * mm).margin(0.0001 * mm));
  // What was taken over a coating that isn't there?
  check_refused({"pipe.outside_diameter=168.9 mm", "pipe.over_coating=true"}, "pipe.over_coating",
                "no coating");
}

TEST_CASE("resolve: the second diameter of an oval pipe", "[planning]") {
  // Metrology notes 1.5: area pi a b/4, the beam crosses the first.
  const ResolvedJob oval = job_of({"pipe.outside_diameter=168 mm", "pipe.across=170 mm"});
  CHECK(oval.pipe.bore_m() == Approx(153.78 * mm).epsilon(1e-12));
  CHECK(oval.pipe.area_m2() ==
        Approx(std::numbers::pi / 4 * 153.78 * mm * 155.78 * mm).epsilon(1e-12));
  // It counts beside a designation too.
  CHECK(job_of({"pipe.across=171 mm"}).pipe.area_m2() ==
        Approx(std::numbers::pi / 4 * 154.08 * mm * 156.78 * mm).epsilon(1e-12));
  // Both taken over the coating.
  const ResolvedJob coated =
      job_of({"pipe.outside_diameter=168.6 mm", "pipe.across=170.6 mm", "pipe.over_coating=true",
              R"(pipe.coating={"material":"paint","thickness":"0.3 mm"})"});
  CHECK(*coated.pipe.across_m == Approx(170 * mm).epsilon(1e-12));
  check_refused({"pipe.across=190 mm"}, "pipe.across", "more than 10 %");
}

TEST_CASE("resolve: gauge readings", "[planning]") {
  SECTION("the mean, with its standard error") {
    const ResolvedJob job = job_of({R"(pipe.wall=["7.0 mm","7.1 mm","7.2 mm"])"});
    CHECK(job.pipe.wall_m.value == Approx(7.1 * mm).epsilon(1e-12));
    // s / sqrt(n), and 1 % of calibration that all readings share (judged).
    CHECK(job.pipe.wall_m.u == Approx(std::hypot(0.1 / std::sqrt(3), 0.071) * mm).epsilon(1e-9));
    CHECK(job.pipe.wall_source == DimensionSource::measured);
    CHECK(*job.pipe.designated_wall_m == Approx(7.11 * mm).epsilon(1e-12));
  }
  SECTION("gauge set to another speed") {
    // Engineering forum quoting NDT Handbook vol. 7: set to 5865 on 5700 reads about 2.9 % thick.
    const ResolvedJob job = job_of(
        {R"(pipe.wall={"readings":["7.11 mm"],"gauge_set_to":"5865 m/s"})",
         R"(pipe.material={"name":"austenitic","longitudinal":"5700 m/s","shear":"3100 m/s"})"});
    CHECK(7.11 * mm / job.pipe.wall_m.value == Approx(1.029).margin(0.0005));
  }
  SECTION("paint counts at the gauge's speed") {
    // 0.5 mm of paint (2400 m/s) reads as 0.5 * 5910/2400 mm of steel at 5910 m/s.
    const std::string readings = R"({"readings":["8.34125 mm"],"through_paint":"0.5 mm")";
    const double expected_m = 8.34125 * mm - 0.5 * mm * 5910 / 2400;
    CHECK(job_of({"pipe.wall=" + readings + R"(,"gauge_set_to":"5910 m/s"})"}).pipe.wall_m.value ==
          Approx(expected_m).epsilon(1e-9));
    // Not said: it was set to the material.
    CHECK(job_of({"pipe.wall=" + readings + "}"}).pipe.wall_m.value ==
          Approx(expected_m).epsilon(1e-9));
    // Set wrong as well: the paint reads by the setting, and what is left is scaled.
    CHECK(job_of({"pipe.wall=" + readings + R"(,"gauge_set_to":"6000 m/s"})"}).pipe.wall_m.value ==
          Approx((8.34125 * mm - 0.5 * mm * 6000 / 2400) * 5910 / 6000).epsilon(1e-9));
  }
  SECTION("no speed to correct with") {
    const std::string shear_only = R"(pipe.material={"name":"odd","shear":"3100 m/s"})";
    check_refused({R"(pipe.wall={"readings":["7 mm"],"gauge_set_to":"5900 m/s"})", shear_only},
                  "pipe.wall.gauge_set_to", "no longitudinal speed");
    check_refused({R"(pipe.wall={"readings":["7 mm"],"through_paint":"0.3 mm"})", shear_only},
                  "pipe.wall.through_paint", "gauge_set_to");
  }
  SECTION("nothing left") {
    check_refused({R"(pipe.wall={"readings":["1 mm"],"through_paint":"1 mm"})"}, "pipe.wall",
                  "leaves no wall");
  }
}

TEST_CASE("resolve: measurements win over the designation, which is remembered", "[planning]") {
  const ResolvedJob job = job_of({"pipe.outside_diameter=169 mm", "pipe.wall=6 mm"});
  CHECK(job.pipe.outside_diameter_m.value == Approx(169 * mm).epsilon(1e-14));
  CHECK(job.pipe.wall_m.value == Approx(6 * mm).epsilon(1e-14));
  CHECK(*job.pipe.designated_outside_diameter_m == Approx(168.3 * mm).epsilon(1e-14));
  CHECK(*job.pipe.designated_wall_m == Approx(7.11 * mm).epsilon(1e-14));
  const ResolvedJob plain = job_of({});
  CHECK_FALSE(plain.pipe.designated_outside_diameter_m);
  CHECK_FALSE(plain.pipe.designated_wall_m);
}

TEST_CASE("resolve: a diameter of another size has not the wall of the named one", "[planning]") {
  // ASME B36.10M: NPS 42 1067 mm, NPS 6 168.3 mm, NPS 4 114.3 mm, NPS 1-1/4 42.2 mm.
  check_refused({"pipe.size=NPS 42 STD", "pipe.outside_diameter=42.2 mm"}, "pipe.outside_diameter",
                "that of NPS 1-1/4 STD; correct one of them");
  check_refused(
      {"pipe.outside_diameter=114.3 mm"}, "pipe.outside_diameter",
      "gives 114.30 mm, but pipe.size \"NPS 6 sch 40\" has 168.30 mm: the diameter is that "
      "of NPS 4 sch 40; correct one of them");
  // 359 mm / pi = 114.3 mm.
  check_refused({"pipe.girth=359.1 mm"}, "pipe.girth", "that of NPS 4 sch 40");
  check_refused({"pipe.size=168.3 x 7.11 mm", "pipe.outside_diameter=114.3 mm"},
                "pipe.outside_diameter", "NPS 4");
  check_refused({"pipe.outside_diameter=230 mm"}, "pipe.outside_diameter",
                "no standard pipe of this material has the diameter");
  // 3 % of 168.3 mm on both sides: 163.25 and 173.35 mm.
  check_refused({"pipe.outside_diameter=163.2 mm"}, "pipe.outside_diameter", "correct one");
  check_refused({"pipe.outside_diameter=173.4 mm"}, "pipe.outside_diameter", "correct one");
  CHECK(job_of({"pipe.outside_diameter=163.3 mm"}).pipe.wall_m.value == Approx(7.11 * mm));
  CHECK(job_of({"pipe.outside_diameter=173.3 mm"}).pipe.wall_m.value == Approx(7.11 * mm));
  // With a wall of its own the pipe is what was measured.
  const ResolvedJob measured = job_of({"pipe.outside_diameter=114.3 mm", "pipe.wall=6 mm"});
  CHECK(measured.pipe.outside_diameter_m.value == Approx(114.3 * mm));
  CHECK(*measured.pipe.designated_outside_diameter_m == Approx(168.3 * mm));
}

TEST_CASE("resolve: larger than any pipe is a slip of the unit", "[planning]") {
  check_refused({"pipe.size=", "pipe.outside_diameter=219.1 m", "pipe.wall=6 mm"},
                "pipe.outside_diameter", "Write \"219.1 mm\"");
  check_refused({"pipe.size=", "pipe.girth=688 m", "pipe.wall=6 mm"}, "pipe.girth",
                "Write \"688 mm\"");
  check_refused({"pipe.size=", "pipe.outside_diameter=6.01 m", "pipe.wall=20 mm"},
                "pipe.outside_diameter", "larger than any pipe");
  CHECK(job_of({"pipe.size=", "pipe.outside_diameter=5.99 m", "pipe.wall=20 mm"})
            .pipe.outside_diameter_m.value == Approx(5.99));
  check_refused({"pipe.size=", "pipe.outside_diameter=0.2191 mm", "pipe.wall=8.18 mm"}, "pipe.wall",
                "leaves no bore");
}

TEST_CASE("resolve: a size that says the material", "[planning]") {
  struct Row {
    const char* size;
    const char* key;
    double outside_mm;
  };
  // Diameters: AWWA C900 9.05 in, EN 1057, ISO 4427, ASME B36.10M, JIS G 3452, EN 545.
  const auto row = GENERATE(values<Row>({
      {"8\" C900 DR18", "pvc_u", 229.9},
      {"28 x 1 mm Cu", "copper", 28},
      {"PE100 SDR11 d110", "hdpe", 110},
      {"PIPE 6 INCH SCH40 ASTM A106 GR B", "carbon_steel", 168.3},
      {"CS PIPE 10 INCH SCH40", "carbon_steel", 273},
      {"316SS 4\" sch 10S", "stainless_316", 114.3},
      {"SGP 65A", "carbon_steel", 76.3},
      {"200 DI K9", "ductile_iron", 222},
  }));
  CAPTURE(row.size);
  const ResolvedJob job = job_of({"pipe.material=", std::string("pipe.size=") + row.size});
  CHECK(job.pipe.material.key == row.key);
  CHECK(job.pipe.outside_diameter_m.value == Approx(row.outside_mm * mm).margin(0.05 * mm));
  const auto told = std::ranges::find_if(job.assumptions, [](const Assumption& one) {
    return one.key == "pipe.material" && one.what.find("as pipe.size says") != std::string::npos;
  });
  CHECK(told != job.assumptions.end());
}

TEST_CASE("resolve: a size that does not say the material for certain", "[planning]") {
  check_refused({"pipe.material="}, "pipe.material", "missing");  // NPS 6 sch 40: steel or PVC
  check_refused({"pipe.material=", "pipe.size=CS 114.3 x 6 mm"}, "pipe.material", "missing");
  check_refused({"pipe.material=", "pipe.size=CSC 600 x 80 mm"}, "pipe.material", "missing");
  check_refused({"pipe.material=", R"(pipe.size={"one_of":["NPS 4 sch 40 A106","28 x 1 mm Cu"]})"},
                "pipe.material", "missing");
  CHECK(keys(resolution_of({"pipe.material=", "pipe.size=28 mm Cu"})) ==
        std::set<std::string>{"pipe.size"});  // the wall alone
}

TEST_CASE("resolve: a wall that is named with the material", "[planning]") {
  // ASTM D1785 NPS 6 sch 80: 10.97 mm least wall, 6 % above that the mean.
  const ResolvedJob pvc = job_of({"pipe.material=PVC Sch 80", "pipe.size=NPS 6"});
  CHECK(pvc.pipe.wall_m.value == Approx(1.06 * 10.973 * mm).epsilon(1e-6));
  CHECK(job_of({"pipe.material=PVC Sch 80", "pipe.size=NPS 6 sch 80"}).pipe.wall_m.value ==
        pvc.pipe.wall_m.value);
  check_refused({"pipe.material=PVC Sch 80", "pipe.size=NPS 6 sch 40"}, "pipe.size",
                "different walls");

  // With a diameter instead of a size: ASME B36.10M NPS 6 sch 80 has 10.97 mm; ISO 4427 SDR 11 of
  // 110 mm at least 10.0 mm.
  const Changes measured = {"pipe.size=", "pipe.outside_diameter=168.3 mm"};
  const auto with = [&](Changes more) {
    more.insert(more.begin(), measured.begin(), measured.end());
    return more;
  };
  CHECK(job_of(with({"pipe.material=carbon steel sch 80"})).pipe.wall_m.value ==
        Approx(10.97 * mm));
  const auto conflict = [&](const char* wall) {
    const test::Planned planned(
        with({"pipe.material=carbon steel sch 80", std::string("pipe.wall=") + wall}),
        test::base_job, {.signal = SignalDetail::level});
    return planned.finding("pipe.wall-conflict") != nullptr;
  };
  CHECK(conflict("7.11 mm"));
  CHECK_FALSE(conflict("10.9 mm"));
  CHECK(job_of({"pipe.size=", "pipe.outside_diameter=110 mm", "pipe.material=PE100 SDR11"})
            .pipe.wall_m.value > 10.0 * mm);
}

TEST_CASE("resolve: PVC of AWWA C900 has no schedule", "[planning]") {
  for (const char* material : {"C900", "PVC-C900", "C905", "PVC-C905"}) {
    check_refused({std::string("pipe.material=") + material, "pipe.size=8 in sch 40"}, "pipe.size",
                  "AWWA C900 NPS 8 has no sch 40; it has DR 25");
  }
  // AWWA C900 NPS 8: 9.05 in = 229.9 mm.
  const ResolvedPipe c900 = job_of({"pipe.material=C900", "pipe.size=8 in DR 18"}).pipe;
  CHECK(c900.outside_diameter_m.value == Approx(229.9 * mm).margin(0.05 * mm));
  // Plain PVC keeps its schedules: ASTM D1785 NPS 8 219.08 mm.
  CHECK(job_of({"pipe.material=PVC", "pipe.size=8 in sch 40"}).pipe.outside_diameter_m.value ==
        Approx(219.08 * mm).margin(0.05 * mm));
}

TEST_CASE("resolve: material", "[planning]") {
  // Solids table: carbon steel 5910/3220 m/s, slopes -0.9/-0.55, u 30 m/s; shear in metals with
  // the same relative uncertainty, in plastics with twice it (solids notes section 1).
  const ResolvedMaterial steel = job_of({}).pipe.material;
  CHECK(steel.longitudinal->sound_speed_m_s == 5910);
  CHECK(steel.shear->sound_speed_m_s == 3220);
  CHECK(steel.shear->at(273.15 + 120) == Approx(3220 - 0.55 * 100).epsilon(1e-12));
  CHECK(steel.longitudinal->u_m_s == Approx(30));
  CHECK(steel.shear->u_m_s == Approx(30.0 / 5910 * 3220).epsilon(1e-12));
  const ResolvedMaterial pvc =
      job_of({"pipe.material=PVC", "pipe.size=OD 160 x 7.7 mm"}).pipe.material;
  CHECK(pvc.longitudinal->sound_speed_m_s == 2340);
  CHECK(pvc.shear->u_m_s == Approx(2 * 60.0 / 2340 * 1100).epsilon(1e-12));

  const ResolvedMaterial own =
      job_of({R"(pipe.material={"name":"mill","longitudinal":"5900 m/s +- 17.320508 m/s",)"
              R"("longitudinal_slope":"-1 m/s/K","at":"25 degC","density":"7800 kg/m3"})",
              "path.wall_mode=longitudinal"})
          .pipe.material;
  CHECK(own.is_inline);
  CHECK_FALSE(own.shear);
  CHECK(own.longitudinal->at(298.15) == 5900);
  CHECK(own.longitudinal->at(308.15) == Approx(5890).epsilon(1e-12));
  CHECK(own.longitudinal->u_m_s == Approx(10).epsilon(1e-6));
  CHECK(*own.density_kg_m3 == 7800);
  check_refused({R"(pipe.material={"name":"mute"})"}, "pipe.material", "longitudinal");
}

TEST_CASE("resolve: layers", "[planning]") {
  const ResolvedJob lined =
      job_of({R"(pipe.liner={"material":"cement mortar","thickness":"4 mm"})",
              R"(pipe.coating={"material":"epoxy","thickness":"0.4 mm","under_sensors":"removed"})",
              "pipe.deposit=1 mm"});
  REQUIRE(lined.pipe.liner);
  CHECK(lined.pipe.liner->thickness_m == Approx(4 * mm));
  CHECK(lined.pipe.liner_stated);
  CHECK(lined.pipe.bore_m() == Approx((168.3 - 2 * (7.11 + 4 + 1)) * mm).epsilon(1e-12));
  CHECK_FALSE(lined.pipe.coating_under_sensors);
  CHECK(job_of({}).pipe.liner_stated);  // "none" is a statement
  const ResolvedJob silent = job_of({"pipe.liner="});
  CHECK_FALSE(silent.pipe.liner_stated);
  CHECK_FALSE(silent.pipe.liner);
  check_refused({R"(pipe.liner={"material":"cement morter","thickness":"4 mm"})"},
                "pipe.liner.material", "cement");
}

// ---------------------------------------------------------------- candidates

TEST_CASE("resolve: one_of and between", "[planning]") {
  const Resolution open = resolution_of({R"(pipe.wall={"one_of":["7.11 mm","10.97 mm"]})"});
  REQUIRE(open.variants.size() == 2);
  CHECK(walls_mm(open) == std::vector<double>{7.11, 10.97});
  CHECK(open.variants[0].what == "pipe.wall 7.11 mm");
  CHECK(open.variants[1].what == "pipe.wall 10.97 mm");
  CHECK(open.variants[0].job.ranges.empty());

  const Resolution range = resolution_of({R"(fluid.temperature={"between":["5 degC","15 degC"]})"});
  REQUIRE(range.variants.size() == 2);
  CHECK(range.variants[0].job.liquid.temperature_K.value == Approx(278.15));
  CHECK(range.variants[1].job.liquid.temperature_K.value == Approx(288.15));
  CHECK(range.variants[1].job.ranges == std::vector<std::string>{"fluid.temperature"});

  CHECK(resolution_of({}).variants.front().what.empty());
}

TEST_CASE("resolve: open entries multiply", "[planning]") {
  const Resolution cross = resolution_of({R"(pipe.wall={"one_of":["6 mm","7 mm","8 mm"]})",
                                          R"(fluid.temperature={"between":["5 degC","15 degC"]})"});
  REQUIRE(cross.variants.size() == 6);
  CHECK(walls_mm(cross) == std::vector<double>{6, 6, 7, 7, 8, 8});
  CHECK(cross.variants[1].what == "pipe.wall 6 mm, fluid.temperature 15 degC");
  std::set<std::string> whats;
  for (const Variant& one : cross.variants) whats.insert(one.what);
  CHECK(whats.size() == 6);
}

TEST_CASE("resolve: an open entry inside an option multiplies that option alone", "[planning]") {
  const Resolution liners = resolution_of(
      {R"(pipe.liner={"one_of":["none",)"
       R"({"material":"epoxy","thickness":{"one_of":["1 mm","2 mm"]}},)"
       R"({"material":"cement mortar","thickness":{"one_of":["4 mm","5 mm","6 mm"]}}]})"});
  for (const Problem& one : liners.problems) UNSCOPED_INFO(one.key << ": " << one.message);
  REQUIRE(liners.variants.size() == 6);
  CHECK_FALSE(liners.variants[0].job.pipe.liner);
  std::vector<double> thickness_mm;
  for (std::size_t i = 1; i < 6; ++i) {
    REQUIRE(liners.variants[i].job.pipe.liner);
    thickness_mm.push_back(std::round(liners.variants[i].job.pipe.liner->thickness_m / mm));
  }
  CHECK(thickness_mm == std::vector<double>{1, 2, 4, 5, 6});
}

TEST_CASE("resolve: none as one of the candidates needs no material", "[planning]") {
  const Resolution open = resolution_of(
      {R"(pipe.liner={"one_of":["none",{"material":"cement mortar","thickness":"4 mm"}]})"});
  CHECK(open.problems.empty());
  CHECK(open.variants.size() == 2);
  // The material that is missing in the other option is still missed.
  check_refused({R"(pipe.liner={"one_of":["none",{"thickness":"4 mm"}]})"}, "pipe.liner.material",
                "missing");
}

TEST_CASE("resolve: up to 64 candidates", "[planning]") {
  const auto some = [](const char* key, const char* unit, int count) {
    std::string text = std::string(key) + "={\"one_of\":[";
    for (int i = 0; i < count; ++i) {
      text += (i ? ",\"" : "\"") + std::to_string(5 + i) + unit + "\"";
    }
    return text + "]}";
  };
  const Resolution all =
      resolution_of({some("pipe.wall", " mm", 4), some("flow.rate", " m3/h", 4),
                     some("fluid.temperature", " degC", 4), "flow.least=", "flow.most="});
  CHECK(all.problems.empty());
  CHECK(all.variants.size() == 64);
  const Resolution more = resolution_of(
      {some("pipe.wall", " mm", 13), some("flow.rate", " m3/h", 5), "flow.least=", "flow.most="});
  CHECK(more.variants.empty());
  REQUIRE(more.problems.size() == 1);
  CHECK(says(more.problems[0].message, "64"));
}

TEST_CASE("resolve: unknown wall", "[planning]") {
  // The walls of 168.3 mm: B36.10M has 2.77 to 21.95 mm (2.77, 3.4, 7.11, 10.97, 14.27, 18.26,
  // 21.95); each once, thin ones first.
  for (const Changes& changes :
       {Changes{"pipe.wall=unknown"}, Changes{"pipe.size=NPS 6", "pipe.wall=unknown"},
        Changes{"pipe.size=", "pipe.outside_diameter=168.4 mm", "pipe.wall=unknown"},
        Changes{"pipe.size=", "pipe.girth=528.7 mm", "pipe.wall=unknown"}}) {
    const Resolution open = resolution_of(changes);
    CHECK(open.problems.empty());
    const std::vector<double> walls = walls_mm(open);
    CHECK(std::is_sorted(walls.begin(), walls.end()));
    CHECK(std::adjacent_find(walls.begin(), walls.end()) == walls.end());
    for (double wall : {2.77, 3.4, 7.11, 10.97, 14.27, 18.26, 21.95}) {
      CAPTURE(wall);
      CHECK(std::count(walls.begin(), walls.end(), wall) == 1);
    }
  }
  // Taken over 3 mm of coating: the tables have the bare pipe.
  const Resolution coated = resolution_of(
      {"pipe.size=", "pipe.outside_diameter=174.3 mm", "pipe.wall=unknown",
       "pipe.over_coating=true", R"(pipe.coating={"material":"paint","thickness":"3 mm"})"});
  CHECK(coated.problems.empty());
  const std::vector<double> walls = walls_mm(coated);
  CHECK(std::count(walls.begin(), walls.end(), 7.11) == 1);

  check_refused({"pipe.size=", "pipe.outside_diameter=150 mm", "pipe.wall=unknown"}, "pipe.wall",
                "no candidates");
}

TEST_CASE("resolve: unknown size", "[planning]") {
  const Resolution open = resolution_of({"pipe.size=unknown", "pipe.girth=529 mm"});
  CHECK(open.problems.empty());
  const std::vector<double> walls = walls_mm(open);
  CHECK(std::count(walls.begin(), walls.end(), 7.11) >= 1);
  for (const Variant& one : open.variants) {
    // The girth stays the measurement whatever the candidate.
    CHECK(one.job.pipe.outside_diameter_m.value == Approx(0.529 / std::numbers::pi).epsilon(1e-12));
  }
  check_refused({"pipe.size=unknown"}, "pipe.size", "girth");
  check_refused({"pipe.size=unknown", "pipe.outside_diameter=5 m"}, "pipe.size",
                "no standard carbon steel pipe");
}

TEST_CASE("resolve: unknown liner is none or one of the usual mortars", "[planning]") {
  // EN 545: nominal cement-mortar lining 4 mm to DN 300, 5 to DN 600, 6 to DN 1200, 9 above;
  // outside diameters of DN 300, 350, 600, 700, 1200, 1400: 326, 378, 635, 738, 1255, 1462 mm.
  struct Row {
    const char* outside;
    double mortar_mm;
  };
  const Row row = GENERATE(values<Row>({{"326 mm", 4},
                                        {"378 mm", 5},
                                        {"635 mm", 5},
                                        {"738 mm", 6},
                                        {"1255 mm", 6},
                                        {"1462 mm", 9}}));
  CAPTURE(row.outside);
  const Resolution open =
      resolution_of({"pipe.size=", std::string("pipe.outside_diameter=") + row.outside,
                     "pipe.wall=10 mm", "pipe.material=ductile iron", "pipe.liner=unknown"});
  CHECK(open.problems.empty());
  REQUIRE(open.variants.size() >= 2);
  CHECK_FALSE(open.variants[0].job.pipe.liner);
  int en_545 = 0;
  for (std::size_t i = 1; i < open.variants.size(); ++i) {
    CAPTURE(open.variants[i].what);
    REQUIRE(open.variants[i].job.pipe.liner);
    if (open.variants[i].what.find("EN 545") == std::string::npos) continue;
    CHECK(open.variants[i].job.pipe.liner->thickness_m == Approx(row.mortar_mm * mm));
    ++en_545;
  }
  CHECK(en_545 == 1);
}

// ---------------------------------------------------------------- liquid and flow

TEST_CASE("resolve: pressure", "[planning]") {
  // Gauge counts from the standard atmosphere, 101325 Pa.
  CHECK(*job_of({"fluid.pressure=4 bar gauge"}).liquid.pressure_Pa ==
        Approx(501325).epsilon(1e-12));
  CHECK(*job_of({"fluid.pressure=4 bar absolute"}).liquid.pressure_Pa ==
        Approx(4e5).epsilon(1e-12));
  CHECK(*job_of({"fluid.pressure=-0.3 bar gauge"}).liquid.pressure_Pa ==
        Approx(71325).epsilon(1e-12));  // a suction line
  CHECK_FALSE(job_of({"fluid.pressure="}).liquid.pressure_Pa);
  check_refused({"fluid.pressure=-2 bar gauge"}, "fluid.pressure", "vacuum");
  check_refused({"fluid.pressure=0 bar absolute"}, "fluid.pressure", "vacuum");
}

TEST_CASE("resolve: measured properties win, and make any liquid known", "[planning]") {
  const ResolvedJob job = job_of({"fluid.name=plant brew", "fluid.sound_speed=1600 m/s +- 2 m/s",
                                  "fluid.density=1100 kg/m3", "fluid.viscosity=2 mm2/s"});
  CHECK(job.liquid.sound_speed_measured);
  const LiquidProperties at = job.liquid.model->at({293.15, 5e5, 0});
  CHECK(at.sound_speed_m_s->value == 1600);
  CHECK(at.sound_speed_m_s->u == Approx(2 / std::sqrt(3)));
  CHECK(at.density_kg_m3->value == 1100);
  // 2e-6 m2/s x 1100 kg/m3; a kinematic viscosity is all that the Reynolds number needs.
  CHECK(plan(job).conditions.viscosity_Pa_s->value == Approx(2.2e-3).epsilon(1e-12));
  const ResolvedJob no_density =
      job_of({"fluid.name=plant brew", "fluid.sound_speed=1600 m/s", "fluid.viscosity=2 mm2/s"});
  CHECK(plan(no_density).kernel.kinematic_viscosity_m2_s == 2e-6);
  CHECK_FALSE(plan(no_density).conditions.viscosity_Pa_s);

  check_refused({"fluid.name=plant brew"}, "fluid.name", "sound_speed");
  check_refused({"fluid.name=plant brew", "fluid.density=1100 kg/m3"}, "fluid.name", "sound_speed");
  // Beside the name of a known liquid the rest is that liquid's.
  const ResolvedJob water = job_of({"fluid.sound_speed=1490 m/s"});
  CHECK(water.liquid.model->at({298.15, 1e5, 0}).sound_speed_m_s->value == 1490);
  CHECK(water.liquid.model->at({298.15, 1e5, 0}).density_kg_m3->value ==
        Approx(997.047).margin(0.01));  // IAPWS SR6-08 table 8
}

TEST_CASE("resolve: concentration and gas", "[planning]") {
  check_refused({"fluid.concentration=30 % mass"}, "fluid.concentration", "no meaning");
  CHECK(*job_of({"fluid.gas=0.5 %"}).liquid.gas_fraction == Approx(0.005));
  CHECK(job_of({"fluid.concentration=0 % mass"}).liquid.mass_fraction == 0);
}

TEST_CASE("resolve: flows", "[planning]") {
  const ResolvedFlow flow = job_of({"flow.direction=reversing", "flow.can_stop=true"}).flow;
  CHECK(flow.usual->si == Approx(100.0 / 3600).epsilon(1e-12));
  CHECK(flow.least->si == Approx(50.0 / 3600).epsilon(1e-12));
  CHECK(flow.reversing);
  CHECK(*flow.can_stop);
  CHECK(job_of({"flow.rate=", "flow.velocity=1.2 m/s"}).flow.usual->dimension ==
        Dimension::velocity);
  CHECK(job_of({"flow.rate=20 kg/s"}).flow.usual->dimension == Dimension::mass_flow);

  check_refused({"flow.velocity=1 m/s"}, "flow.velocity", "both stated");
  const Resolution swapped =
      resolution_of({"flow.rate=", "flow.least=150 m3/h", "flow.most=50 m3/h"});
  CHECK(says(message(swapped, "flow.least"), "swapped"));
  check_refused({"flow.least=101 m3/h"}, "flow.least", "usual flow");
  check_refused({"flow.most=99 m3/h"}, "flow.most", "usual flow");
}

// ---------------------------------------------------------------- sensors, path, place

TEST_CASE("resolve: sensors by key", "[planning]") {
  // The demonstration pair as printed in DESIGN section 4.
  const ResolvedSensors demo = job_of({"sensors=demo-1mhz"}).sensors;
  CHECK(demo.invented);
  CHECK(demo.frequency_Hz == Approx(1e6));
  CHECK(*demo.element_m == Approx(12 * mm));
  CHECK(demo.wedge.sound_speed_m_s == 2430);
  CHECK(demo.wedge.slope_m_s_K == -1.9);
  CHECK(demo.wedge.at_K == Approx(293.15));
  CHECK(demo.wedge_angle_rad == Approx(38 * std::numbers::pi / 180).epsilon(1e-14));
  CHECK(demo.wedge_path_m == Approx(14 * mm));
  CHECK(demo.setback_m == Approx(14 * mm));
  CHECK(*demo.nose_m == Approx(16 * mm));
  CHECK(*demo.length_m == Approx(58 * mm));
  CHECK(*demo.lowest_K == Approx(253.15));
  CHECK(*demo.highest_K == Approx(383.15));
  CHECK(demo.delay_s == 0);
  CHECK(demo.cycles == 4);
  CHECK(demo.least_face_gap_m == 0);
  for (const char* key : {"demo-500khz", "demo-2mhz", "DEMO 1MHZ"}) {
    CAPTURE(key);
    CHECK(job_of({std::string("sensors=") + key}).sensors.invented);
  }
}

TEST_CASE("resolve: sensors written out", "[planning]") {
  const ResolvedSensors pair =
      job_of({"sensors.delay=1.2 us", "sensors.cycles=6", "sensors.least_face_gap=5 mm",
              R"(sensors.pipe_range=["25 mm","600 mm"])"})
          .sensors;
  CHECK_FALSE(pair.invented);
  CHECK(pair.delay_s == Approx(1.2e-6));
  CHECK(pair.cycles == 6);
  CHECK(pair.least_face_gap_m == Approx(5 * mm));
  CHECK(*pair.smallest_pipe_m == Approx(25 * mm));
  CHECK(*pair.zero_stability_s == Approx(0.2e-9));
  CHECK_FALSE(job_of({"sensors.wedge.slope="}).sensors.wedge_slope_stated);

  check_refused({"sensors.wedge.angle=90 deg"}, "sensors.wedge.angle", "90 degrees");
  check_refused({"sensors.length=10 mm"}, "sensors.length", "nose");
  check_refused({R"(sensors.temperature=["110 degC","-20 degC"])"}, "sensors.temperature",
                "lower one first");
}

TEST_CASE("resolve: path and place", "[planning]") {
  CHECK_FALSE(job_of({"path.traverses=best"}).path.traverses);
  CHECK(*job_of({"path.traverses=12"}).path.traverses == 12);
  CHECK(*job_of({"path.wall_mode=longitudinal"}).path.wall_mode == WaveMode::longitudinal);
  CHECK_FALSE(job_of({"path.wall_mode=best"}).path.wall_mode);
  CHECK(job_of({"path.liner_mode=shear"}).path.liner_mode == WaveMode::shear);
  CHECK(*job_of({}).site.clock_h == 3);
  CHECK(job_of({"couplant=grease"}).site.couplant_name == "water-resistant multi-purpose grease");
  CHECK(*job_of({R"(kit={"rail_length":"400 mm","rail_step":"2 mm"})"}).site.rail_step_m ==
        Approx(2 * mm));
  check_refused({"location.clock=25"}, "location.clock", "9:30");
  // On a vertical pipe any words will do.
  CHECK(job_of({"pipe.orientation=vertical up", "location.clock=45 deg from the door"})
            .site.clock_text == "45 deg from the door");
  // A distance may be missing only where the planner places the pair.
  check_refused({R"(location.upstream=[{"fitting":"tee"}])"}, "location.upstream[0].distance",
                "location.straight");
  CHECK_FALSE(job_of({R"(location.upstream=[{"fitting":"tee"}])", "location.straight=6 m"})
                  .site.upstream[0]
                  .distance_m);
}

TEST_CASE("resolve: acceptances", "[planning]") {
  const auto accept = [](const char* finding, const char* down_to) {
    return std::string(R"(accept=[{"finding":")") + finding +
           R"(","because":"comparison only","by":"site engineer","down_to":")" + down_to + "\"}]";
  };
  const ResolvedJob job = job_of({accept("run.upstream", "1.5 D")});
  REQUIRE(job.acceptances.size() == 1);
  CHECK(*job.acceptances[0].down_to_si == 1.5);
  CHECK(job.acceptances[0].by == "site engineer");
  check_refused({accept("run.upstream", "30 mm")}, "accept[0].down_to", "12 D");
  check_refused({accept("mount.clock", "1.5 D")}, "accept[0].down_to", "no meaning");
  CHECK(*job_of({accept("run.weld-or-flange", "30 mm")}).acceptances[0].down_to_si ==
        Approx(30 * mm));
}

TEST_CASE("resolve: what was assumed is said", "[planning]") {
  const auto assumed = [](const ResolvedJob& job, std::string_view key) {
    return std::any_of(job.assumptions.begin(), job.assumptions.end(),
                       [&](const Assumption& one) { return one.key == key; });
  };
  const ResolvedJob silent = job_of({"fluid.pressure=", "location.ambient="});
  CHECK(assumed(silent, "fluid.pressure"));
  CHECK(assumed(silent, "location.ambient"));
  CHECK(assumed(silent, "pipe.roughness"));
  CHECK(silent.site.ambient_K.value == 293.15);
  CHECK(silent.site.ambient_K.u == Approx(17 / std::sqrt(3)).epsilon(1e-12));
  const ResolvedJob told = job_of({"fluid.pressure=5 bar absolute", "pipe.roughness=0.1 mm"});
  CHECK_FALSE(assumed(told, "fluid.pressure"));
  CHECK_FALSE(assumed(told, "location.ambient"));
  CHECK_FALSE(assumed(told, "pipe.roughness"));
  CHECK(*told.pipe.roughness_m == Approx(0.1 * mm));
}

TEST_CASE("resolve: the inner face's material gives the roughness", "[planning]") {
  CHECK(*job_of({}).pipe.roughness_m == defaults::metal_roughness_m);
  CHECK(*job_of({"pipe.material=copper", "pipe.size=OD 54 x 1.5 mm"}).pipe.roughness_m ==
        defaults::smooth_roughness_m);
  CHECK(*job_of({"pipe.material=PVC", "pipe.size=OD 160 x 7.7 mm"}).pipe.roughness_m ==
        defaults::smooth_roughness_m);
  CHECK(
      *job_of({R"(pipe.liner={"material":"cement mortar","thickness":"4 mm"})"}).pipe.roughness_m ==
      defaults::cement_roughness_m);
}

TEST_CASE("resolve: the same request resolves the same", "[planning]") {
  const JobRequest request =
      test::request_of({R"(pipe.wall={"one_of":["7.11 mm","10.97 mm"]})", "pipe.girth=529 mm"});
  const Catalogue catalogue;
  const Resolution first = resolve(request, catalogue);
  const Resolution second = resolve(request, catalogue);
  REQUIRE(first.variants.size() == second.variants.size());
  for (std::size_t i = 0; i < first.variants.size(); ++i) {
    CHECK(first.variants[i].what == second.variants[i].what);
    CHECK(first.variants[i].job.pipe.wall_m.value == second.variants[i].job.pipe.wall_m.value);
    CHECK(first.variants[i].job.pipe.outside_diameter_m.value ==
          second.variants[i].job.pipe.outside_diameter_m.value);
  }
}
