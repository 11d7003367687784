// The drawings, measured: what they show must be the plan's numbers, and their labels readable.

#include "slantrule/sheets/drawing.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "sheets/planned.hpp"
#include "sheets/svg_reader.hpp"

using namespace slantrule;
using namespace slantrule::test;
using Catch::Matchers::Contains;

namespace {

constexpr Display metric;
constexpr Display us{.units = UnitSystem::us};

const std::string crossing_pair =
    R"(sensors={"key":"own","frequency":"2 MHz","setback":"-60 mm","nose":"2 mm","length":"70 mm",
                "wedge":{"sound_speed":"2430 m/s","slope":"-1.9 m/s/K","angle":"38 deg"}})";
const std::string bare_pair =
    R"(sensors={"key":"own","frequency":"1 MHz","setback":"14 mm",
                "wedge":{"sound_speed":"2430 m/s","slope":"-1.9 m/s/K","angle":"38 deg"}})";
const std::string far_marks_pair =
    R"(sensors={"key":"own","frequency":"500 kHz","element":"20 mm","setback":"70 mm","nose":"5 mm",
                "length":"40 mm","wedge":{"sound_speed":"2430 m/s","angle":"40 deg","path":"20 mm"}})";

/// From a 15 mm tube to a pipe of 1.6 m, with all that can lie on them.
const std::vector<std::vector<std::string>>& pipes() {
  static const std::vector<std::vector<std::string>> out = {
      {},
      {real_pair},
      {"pipe.size=15 x 1 mm", "pipe.material=copper", "path.traverses=4", "sensors=demo-2mhz"},
      {"pipe.size=15 x 1 mm", "pipe.material=copper", "path.traverses=4", real_pair},
      {"pipe.size=15 x 1 mm", "pipe.material=copper", "path.traverses=1", real_pair},
      {"pipe.size=", "pipe.outside_diameter=1600 mm", "pipe.wall=12 mm", "path.traverses=1",
       real_pair},
      {"pipe.size=", "pipe.outside_diameter=1600 mm", "pipe.wall=40 mm", "path.traverses=1",
       real_pair, R"(pipe.liner={"material":"cement mortar","thickness":"25 mm"})"},
      {"pipe.size=", "pipe.outside_diameter=1200 mm", "pipe.wall=2 mm", "path.traverses=2",
       real_pair, R"(pipe.coating={"material":"paint","thickness":"0.05 mm"})"},
      {"pipe.size=", "pipe.outside_diameter=300 mm", "pipe.wall=60 mm", "path.traverses=1",
       real_pair},
      {"path.traverses=1", real_pair},
      {"path.traverses=3", real_pair},
      {"path.traverses=12", real_pair},
      {R"(pipe.liner={"material":"cement mortar","thickness":"6 mm"})",
       R"(pipe.coating={"material":"epoxy","thickness":"0.4 mm"})", real_pair},
      {"pipe.deposit=1 mm", real_pair},
      {"pipe.size=NPS 2 sch 40", "path.traverses=1", crossing_pair},
      {"pipe.size=NPS 2 sch 40", "path.traverses=2", crossing_pair},
      {"pipe.size=NPS 1/2 sch 40", "path.traverses=1", real_pair},
      {"pipe.size=NPS 1/2 sch 40", "path.traverses=2", real_pair},
      {"path.traverses=2", bare_pair},
      {"path.traverses=2", far_marks_pair},
      {"pipe.size=NPS 2 sch 40", "path.traverses=2", far_marks_pair},
      {"pipe.orientation=vertical up", "location.clock=90 deg from the manhole", real_pair},
      {"pipe.orientation=vertical down", "location.clock=", "path.traverses=1", real_pair},
      {"location.clock=", real_pair},
      {"location.clock=", "path.traverses=1", real_pair},
      {"location.clock=9:30", real_pair},
      {"location.clock=1:30", "path.traverses=1", real_pair},
      {"location.clock=12", "path.traverses=1", real_pair},
      {"fluid.temperature=140 degC"},
      {"pipe.material=PVC", "pipe.size=110 x 5.3 mm", real_pair},
      {R"(pipe.material={"name":"a material of a name that no drawing has room for, and longer","longitudinal":"2700 m/s"})",
       real_pair},
      {R"(pipe.material={"name":"Averyveryveryveryveryveryverylongnamewithoutanyblankinit","longitudinal":"2700 m/s"})",
       real_pair},
  };
  return out;
}

DrawnResponse some_response(const PlannedVariant& variant) {
  const double planned_m = variant.plan.path->ray.mark_spacing_m;
  DrawnResponse out;
  out.window_3dB = {planned_m - 0.008, planned_m + 0.007};
  out.window_6dB = {planned_m - 0.013, planned_m + 0.012};
  for (int i = -60; i <= 60; ++i) {
    out.curve.push_back({planned_m + i * 1e-3, -0.012 * i * i});
  }
  return out;
}

void check_labels(const std::string& svg) {
  const Picture picture = picture_of(svg);
  CHECK(picture.words.size() > 3);
  for (std::size_t i = 0; i < picture.words.size(); ++i) {
    const Words& one = picture.words[i];
    CAPTURE(one.text, one.box.left, one.box.top, one.box.right, one.box.bottom);
    CHECK(one.box.left >= 0);
    CHECK(one.box.top >= 0);
    CHECK(one.box.right <= picture.width);
    CHECK(one.box.bottom <= picture.height);
    for (std::size_t j = i + 1; j < picture.words.size(); ++j) {
      if (!one.box.meets(picture.words[j].box)) continue;
      FAIL_CHECK("over " << picture.words[j].text);
    }
    for (const Stretch& line : picture.lines) {
      if (!runs_through(line, one.box)) continue;
      FAIL_CHECK("a line from " << line.from.x << "," << line.from.y << " to " << line.to.x << ","
                                << line.to.y);
    }
    const bool on_ring = std::any_of(picture.rings.begin(), picture.rings.end(),
                                     [&](const Ring& r) { return runs_through(r, one.box); });
    CHECK_FALSE(on_ring);
    const bool on_rect = std::any_of(picture.rects.begin(), picture.rects.end(),
                                     [&](const NamedRect& r) { return one.box.meets(r.box); });
    CHECK_FALSE(on_rect);
  }
}

/// All edges of the layers, from the top.
std::vector<double> edges_of(const Picture& picture) {
  std::vector<double> edges;
  for (const NamedRect& rect : picture.rects) {
    if (rect.name != "upper" && rect.name != "lower") continue;
    edges.push_back(rect.box.top);
    edges.push_back(rect.box.bottom);
  }
  std::sort(edges.begin(), edges.end());
  return edges;
}

}  // namespace

TEST_CASE("side view: labels overlap neither each other nor lines") {
  std::size_t row = 0;
  for (const auto& sets : pipes()) {
    CAPTURE(row++, sets);
    const PlannedJob job = planned(sets);
    for (const PlannedVariant& variant : job.variants) {
      for (const Display& display : {metric, us}) {
        if (!variant.plan.path) {
          CHECK(side_view_svg(variant, display).empty());
          continue;
        }
        check_labels(side_view_svg(variant, display));
        check_labels(side_view_svg(variant, display, some_response(variant)));
      }
    }
  }
}

TEST_CASE("end view: labels overlap neither each other nor lines") {
  std::size_t row = 0;
  for (auto sets : pipes()) {
    CAPTURE(row++, sets);
    for (const char* clock : {"", "location.clock=3", "location.clock=2", "location.clock=4:30",
                              "location.clock=7:45", "location.clock=10:15"}) {
      CAPTURE(clock);
      auto with_clock = sets;
      if (*clock) with_clock.push_back(clock);
      const PlannedJob job = planned(with_clock);
      for (const Display& display : {metric, us}) {
        check_labels(end_view_svg(job.variants.front(), display));
      }
    }
  }
}

TEST_CASE("side view: the ray's corners lie on the walls, and its run is the exit spacing") {
  for (const auto& sets : pipes()) {
    CAPTURE(sets);
    const PlannedJob job = planned(sets);
    const PlannedVariant& variant = job.variants.front();
    if (!variant.plan.path) continue;
    const Plan& plan = variant.plan;
    const Picture picture = picture_of(side_view_svg(variant, metric));
    REQUIRE(picture.rays.size() == 1);
    const std::vector<Spot>& ray = picture.rays.front();
    const std::vector<double> edges = edges_of(picture);

    // The scale, from the pipe as it is drawn: outer face to outer face.
    const ResolvedPipe& pipe = variant.job.pipe;
    const double outer_mm =
        1e3 * (pipe.outside_diameter_m.value + (pipe.coating ? 2 * pipe.coating->thickness_m : 0));
    const double scale = (edges.back() - edges.front()) / outer_mm;
    const double hundredth = 0.01 * scale;

    const std::size_t layers = plan.path->ray.layer_count + (pipe.deposit_m > 0 ? 1 : 0);
    REQUIRE(ray.size() == 2 * layers + static_cast<std::size_t>(plan.traverses) + 1);
    for (const Spot& corner : ray) {
      const auto nearest = std::min_element(edges.begin(), edges.end(), [&](double a, double b) {
        return std::fabs(a - corner.y) < std::fabs(b - corner.y);
      });
      CHECK(std::fabs(*nearest - corner.y) <= hundredth);
    }
    CHECK(std::fabs(ray.front().y - edges.front()) <= hundredth);
    const double end = plan.same_side() ? edges.front() : edges.back();
    CHECK(std::fabs(ray.back().y - end) <= hundredth);
    CHECK(std::fabs(ray.back().x - ray.front().x - scale * 1e3 * plan.path->ray.exit_spacing_m) <=
          hundredth);

    // Snell's law from the kernel's speeds: the run of each leg is height times tan.
    const double slowness =
        std::sin(plan.kernel.wedge_angle_rad) / plan.kernel.wedge_sound_speed_m_s;
    const auto run_mm = [&](double height_m, double speed_m_s) {
      return 1e3 * height_m * std::tan(std::asin(slowness * speed_m_s));
    };
    for (std::size_t i = 0; i < plan.kernel.layer_count; ++i) {
      const double want =
          run_mm(plan.kernel.layers[i].thickness_m, plan.kernel.layers[i].sound_speed_m_s);
      CHECK(std::fabs(ray[i + 1].x - ray[i].x - scale * want) <= hundredth);
    }
    for (int traverse = 0; traverse < plan.traverses; ++traverse) {
      const std::size_t at = layers + static_cast<std::size_t>(traverse);
      const double want = run_mm(plan.bore_m, plan.kernel.liquid_sound_speed_m_s);
      CHECK(std::fabs(ray[at + 1].x - ray[at].x - scale * want) <= hundredth);
    }
  }
}

TEST_CASE("side view: the stated scale and the bar are those of the drawing") {
  const PlannedJob job = planned({real_pair});
  const std::string svg = side_view_svg(job.variants.front(), metric);
  const Picture picture = picture_of(svg);
  const std::vector<double> edges = edges_of(picture);
  const double scale = (edges.back() - edges.front()) / 168.3;  // NPS 6: 168.3 mm (ASME B36.10M)
  std::smatch stated;
  REQUIRE(std::regex_search(svg, stated, std::regex("to scale 1 : ([0-9.]+)")));
  CHECK(std::stod(stated[1]) == Approx(1 / scale).margin(0.051));
  // The bar stands left of its label, and no line is just as long at its height.
  const auto label = std::find_if(picture.words.begin(), picture.words.end(),
                                  [](const Words& one) { return one.text == "100 mm"; });
  REQUIRE(label != picture.words.end());
  const auto bar =
      std::count_if(picture.lines.begin(), picture.lines.end(), [&](const Stretch& one) {
        return one.from.y == one.to.y && one.from.y > label->box.top &&
               one.from.y < label->box.bottom &&
               std::fabs(one.to.x - one.from.x - 100 * scale) < 0.001;
      });
  CHECK(bar == 1);
}

TEST_CASE("side view: the response lies on the axis of the marks") {
  const PlannedJob job = planned({real_pair});
  const PlannedVariant& variant = job.variants.front();
  const DrawnResponse response = some_response(variant);
  const Picture picture = picture_of(side_view_svg(variant, metric, response));
  REQUIRE(picture.rays.size() == 1);
  REQUIRE(picture.responses.size() == 1);
  const Spot& from = picture.rays.front().front();
  const Spot& to = picture.rays.front().back();
  const double scale = (to.x - from.x) / variant.plan.path->ray.exit_spacing_m;
  // B's mark lies a setback behind its exit point; there the level is greatest.
  const double mark_b = to.x + scale * variant.job.sensors.setback_m;
  const auto peak =
      std::min_element(picture.responses.front().begin(), picture.responses.front().end(),
                       [](const Spot& a, const Spot& b) { return a.y < b.y; });
  CHECK(peak->x == Approx(mark_b).margin(0.001));
}

TEST_CASE("side view: numbers of the plan, and none of the spacing on a stop") {
  const PlannedJob job = planned({real_pair});
  const std::string svg = side_view_svg(job.variants.front(), metric);
  // Text sheet of the same job: 168 mm, gap 108 mm; wedge 38, wall 54.4, liquid 21.2 deg.
  for (const char* words : {"mark spacing 168 mm", "face gap 108 mm", "A upstream", "B downstream",
                            "wedge 38 deg", "wall 54.4 deg (shear)", "liquid 21.2 deg", "flow"}) {
    CHECK_THAT(svg, Contains(words));
  }
  const PlannedJob stopped = planned({real_pair, "location.clock=12"});
  REQUIRE(stopped.verdict() == Verdict::stop);
  std::string words;
  for (const Words& one : picture_of(side_view_svg(stopped.variants.front(), metric,
                                                   some_response(stopped.variants.front())))
                              .words) {
    words += one.text + "\n";
  }
  CHECK_THAT(words, Contains("No spacing is issued") && !Contains("mark spacing") &&
                        !Contains("168") && !Contains("gap") && !Contains("within"));
}

TEST_CASE("end view: clock positions, the way round, and zones where the pipe lies") {
  const auto view = [](const std::vector<std::string>& sets) {
    return end_view_svg(planned(sets).variants.front(), metric);
  };
  // A quarter of the girth of 168.3 mm: 132 mm.
  CHECK_THAT(view({real_pair}), Contains(">12<") && Contains(">3<") && Contains(">6<") &&
                                    Contains(">9<") && Contains("132 mm") && Contains("gas: no") &&
                                    Contains("sediment: no") && Contains(">AB<"));
  CHECK_THAT(view({real_pair, "path.traverses=1"}), Contains(">A<") && Contains(">B<"));
  CHECK_THAT(view({real_pair, "pipe.orientation=vertical up", "location.clock=the ladder"}),
             !Contains(">12<") && !Contains("gas: no") && Contains("the ladder"));
}

TEST_CASE("end view: letters stand where the clock says") {
  const Picture picture = picture_of(end_view_svg(
      planned({real_pair, "path.traverses=1", "location.clock=2"}).variants.front(), metric));
  // The pipe is the greatest ring; angles from its crown, clockwise.
  const auto pipe =
      std::max_element(picture.rings.begin(), picture.rings.end(),
                       [](const Ring& a, const Ring& b) { return a.radius < b.radius; });
  const auto hour_of = [&](const std::string& text) {
    const auto found = std::find_if(picture.words.begin(), picture.words.end(),
                                    [&](const Words& one) { return one.text == text; });
    REQUIRE(found != picture.words.end());
    const double x = (found->box.left + found->box.right) / 2 - pipe->centre.x;
    const double y = (found->box.top + found->box.bottom) / 2 - pipe->centre.y;
    const double hours = std::atan2(x, -y) * 6 / std::numbers::pi;
    return hours < 0 ? hours + 12 : hours;
  };
  CHECK(hour_of("A") == Approx(2).margin(0.1));
  CHECK(hour_of("B") == Approx(8).margin(0.1));
  CHECK(hour_of("3") == Approx(3).margin(0.05));
  CHECK(hour_of("9") == Approx(9).margin(0.05));
}

TEST_CASE("drawings: one file for several jobs and candidates, nothing that runs or loads") {
  std::vector<PlannedJob> jobs;
  jobs.push_back(planned({real_pair, "tag=<b onload=\"x\">&'"}));
  jobs.push_back(planned({R"(pipe.size={"one_of":["NPS 6 sch 40","NPS 6 sch 80"]})", real_pair}));
  const std::string svg = drawings_svg(jobs, metric);
  CHECK(svg.rfind("<svg xmlns=\"http://www.w3.org/2000/svg\"", 0) == 0);
  CHECK_THAT(svg, Contains("&lt;b onload=&quot;x&quot;&gt;&amp;&#39;") && !Contains("<b ") &&
                      !Contains("<script") && !Contains("url(") && !Contains("href"));
  // The one job is dimensioned, the candidates are not.
  CHECK(svg.find("mark spacing") == svg.rfind("mark spacing"));
  CHECK_THAT(svg, Contains("while candidates are open"));
  std::size_t views = 0;
  for (std::size_t at = svg.find("End view, looking"); at != svg.npos;
       at = svg.find("End view, looking", at + 1)) {
    ++views;
  }
  CHECK(views == 3);
}
