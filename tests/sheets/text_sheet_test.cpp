// The setup sheet as a reader relies on it. Properties of many sheets, not pasted sheets: what the
// box says must be the plan's number, and nothing may be read that could be mounted by mistake.

#include <catch2/catch.hpp>
#include <cmath>
#include <regex>
#include <string>

#include "sheets/planned.hpp"
#include "slantrule/sheets/text_layout.hpp"

using namespace slantrule;
using namespace slantrule::test;
using Catch::Matchers::Contains;

namespace {

constexpr Display metric;
constexpr Display us{.units = UnitSystem::us};
constexpr Display ascii{.utf8 = false};

/// The rows between the two rules, joined: what stands in the box.
std::string box_of(const std::string& sheet) {
  std::string box;
  int rules = 0;
  for (const std::string& line : lines_of(sheet)) {
    if (line.rfind("+--", 0) == 0) {
      ++rules;
    } else if (rules == 1) {
      REQUIRE(line.size() > 4);
      CHECK(line.front() == '|');
      CHECK(line.back() == '|');
      box += line.substr(2, line.size() - 4) + " ";
    }
  }
  CHECK(rules == 2);
  return std::regex_replace(box, std::regex(" +"), " ");
}

/// The number before `unit` in the row that says SET.
double set_number(const std::string& box, const std::string& unit) {
  std::smatch found;
  REQUIRE(std::regex_search(box, found, std::regex("SET [^|]*?([0-9]+(\\.[0-9]+)?) " + unit)));
  return std::stod(found[1]);
}

void check_shape(const std::string& sheet) {
  REQUIRE(!sheet.empty());
  CHECK(sheet.back() == '\n');
  for (const std::string& line : lines_of(sheet)) {
    CAPTURE(line);
    CHECK(columns(line) <= sheet_columns);
    for (char c : line) {
      CHECK(static_cast<unsigned char>(c) >= 0x20);
      CHECK(c != '\x7f');
    }
  }
}

const std::vector<std::vector<std::string>>& many_changes() {
  static const std::vector<std::vector<std::string>> changes = {
      {},
      {real_pair},
      {"path.traverses=1"},
      {"path.traverses=1", real_pair},
      {"path.traverses=3"},
      {"path.traverses=4"},
      {"path.traverses=12"},
      {"path.traverses=best"},
      {"path.wall_mode=longitudinal"},
      {"pipe.size=NPS 1/2 sch 40"},
      {"pipe.size=NPS 1/2 sch 40", "path.traverses=6", real_pair},
      {"pipe.size=NPS 2 sch 40", real_pair},
      {"pipe.size=NPS 24 sch 40", real_pair, "path.traverses=1"},
      {"pipe.size=", "pipe.outside_diameter=2000 mm +- 3 mm", "pipe.wall=12 mm"},
      {"pipe.size=", "pipe.girth=690 mm", "pipe.wall=[\"6.2 mm\", \"6.4 mm\"]", real_pair},
      {"pipe.liner="},
      {R"(pipe.liner={"material":"cement mortar","thickness":"6 mm"})",
       R"(pipe.coating={"material":"epoxy","thickness":"0.4 mm"})"},
      {"pipe.material=stainless 316", "fluid.temperature=95 degC", real_pair},
      {"fluid.temperature=140 degC"},
      {"fluid.temperature=0.5 degC", "fluid.pressure="},
      {"fluid.temperature=120 degC", "fluid.pressure=0 bar gauge"},
      {"fluid.name=some oil with a long name that nobody would write",
       "fluid.sound_speed=1400 m/s"},
      {"fluid.name=oil", "fluid.sound_speed=1400 m/s +- 20 m/s", "fluid.density=870 kg/m3",
       "fluid.viscosity=40 mm2/s"},
      {"flow="},
      {"flow.rate=1.87 m3/h", "flow.least="},
      {"flow.rate=0.4 m3/h", "flow.least="},
      {"flow.rate=900 m3/h", "flow.most="},
      {"flow.rate=1e6 m3/h", "flow.most="},
      {"location="},
      {"location.upstream=[{\"fitting\":\"elbow-90\",\"distance\":\"1 D\"}]"},
      {"location.upstream=[{\"fitting\":\"elbow-90\",\"distance\":\"1 D\"}]",
       R"(accept=[{"finding":"run.upstream","because":"for comparison only, as agreed in writing","by":"the site engineer"}])"},
      {R"(location={"upstream":[{"fitting":"elbow-90"}],"downstream":[{"fitting":"tee"}],"straight":"4 m","clock":"9:30"})",
       real_pair},
      {"pipe.orientation=vertical up", "location.clock=90 deg from the manhole", real_pair},
      {"pipe.orientation=vertical down"},
      {"location.clock=12"},
      {"location.clock=1:30", "path.traverses=1", real_pair},
      {"location.access=one side", "path.traverses=1"},
      {"location.insulation=refitted", "location.ambient=-20 degC", "couplant=grease"},
      {R"(kit={"rail_length":"300 mm","rail_step":"5 mm"})", real_pair},
      {R"(kit={"rail_length":"100 mm"})"},
      {"prepared_by=A planner with a rather long name, of a company with a longer one", "note=hm"},
  };
  return changes;
}

}  // namespace

TEST_CASE("text sheet: no line is wider than 80 columns, no sheet longer than two pages") {
  std::size_t row = 0;
  for (std::vector<std::string> sets : many_changes()) {
    CAPTURE(row++, sets);
    for (const char* tag : {"T-1", "",
                            "A-tag-that-goes-on-and-on-without-any-blank-in-it-at-all-"
                            "and-on-and-on-and-on-and-on-and-on-and-on-and-on"}) {
      sets.push_back(std::string("tag=") + tag);
      sets.push_back(
          "title=K\xC3\xA4ltemaschinenr\xC3\xBC"
          "cklauf, Geb\xC3\xA4ude \xE2\x84\x96 7 \xE2\x80\x93 "
          "\xD0\xBD\xD0\xB0\xD1\x81\xD0\xBE\xD1\x81\xD0\xBD\xD0\xB0\xD1\x8F, and more "
          "words than one line of a sheet can hold");
      const PlannedJob job = planned(sets);
      for (const Display& display : {metric, us, ascii}) {
        const std::string sheet = text_sheet(job, display);
        check_shape(sheet);
        if (job.variants.size() == 1) CHECK(lines_of(sheet).size() <= 120);
      }
    }
  }
}

TEST_CASE("text sheet: the box sets the plan's mark spacing, rounded to the step") {
  std::size_t issued = 0;
  for (const auto& sets : many_changes()) {
    CAPTURE(sets);
    const PlannedJob job = planned(sets);
    if (job.variants.size() != 1 || job.verdict() == Verdict::stop) continue;
    ++issued;
    const Plan& plan = job.variants[0].plan;
    const double step_mm = plan.setting_step_m * 1e3;
    const double spacing_mm = std::fabs(plan.path->ray.mark_spacing_m) * 1e3;
    const double rounded_mm = std::round(spacing_mm / step_mm) * step_mm;
    // Half millimetres below a bore of 100 mm, else whole ones, or the step of the rail.
    if (!job.variants[0].job.site.rail_step_m) CHECK(step_mm == (plan.bore_m < 0.1 ? 0.5 : 1));
    const std::string box = box_of(text_sheet(job, metric));
    CHECK(set_number(box, "mm") == Approx(rounded_mm).epsilon(1e-12));
    CHECK_THAT(box, Contains("A = UPSTREAM"));
    CHECK_THAT(box, !Contains("NO SPACING"));
    // Both unit systems stand there, the reader's own first.
    const std::string us_box = box_of(text_sheet(job, us));
    CHECK(set_number(us_box, "mm") == Approx(rounded_mm).epsilon(1e-12));
    CHECK(set_number(us_box, "in") == Approx(rounded_mm / 25.4).margin(0.0051));
    CHECK(us_box.find(" in") < us_box.find(" mm"));
    CHECK(box.find(" mm") < box.find(" in"));
  }
  CHECK(issued >= 15);
}

TEST_CASE("text sheet: on a stop no spacing is to be read anywhere") {
  std::size_t stopped = 0;
  for (const auto& sets : many_changes()) {
    CAPTURE(sets);
    const PlannedJob job = planned(sets);
    if (job.variants.size() != 1 || job.verdict() != Verdict::stop) continue;
    ++stopped;
    for (const Display& display : {metric, us}) {
      const std::string sheet = text_sheet(job, display);
      const std::string box = box_of(sheet);
      CHECK_THAT(box, Contains("NO SPACING IS ISSUED"));
      CHECK_THAT(box, !Contains("SET ") && !Contains(" mm") && !Contains(" in "));
      CHECK(sheet.rfind("STOP", 0) == 0);
      if (!job.variants[0].plan.path) continue;
      const double spacing_m = job.variants[0].plan.path->ray.mark_spacing_m;
      for (double step_m : {0.5e-3, 1e-3, job.variants[0].plan.setting_step_m}) {
        CHECK_THAT(sheet, !Contains(" " + setting_text(spacing_m, step_m, display)));
      }
      CHECK_THAT(sheet, !Contains(" " + length_text(spacing_m, display)));
    }
  }
  CHECK(stopped >= 4);
}

TEST_CASE("text sheet: the verdict is the first word") {
  for (const auto& sets : many_changes()) {
    CAPTURE(sets);
    const PlannedJob job = planned(sets);
    const char* word = job.verdict() == Verdict::stop      ? "STOP"
                       : job.verdict() == Verdict::caution ? "CAUTION"
                                                           : "GO";
    CHECK(text_sheet(job, metric).rfind(word, 0) == 0);
  }
  CHECK(planned({real_pair}).verdict() == Verdict::go);
}

TEST_CASE("text sheet: every stop and caution is told with its mend") {
  for (const auto& sets : many_changes()) {
    CAPTURE(sets);
    const PlannedJob job = planned(sets);
    if (job.variants.size() != 1) continue;
    // Line breaks and margins aside.
    const auto flat = [](const std::string& text) {
      return std::regex_replace(text, std::regex("[ \n]+"), " ");
    };
    const std::string sheet = flat(text_sheet(job, metric));
    for (const Finding& finding : job.variants[0].plan.findings) {
      if (finding.severity == Severity::note) continue;
      const FindingText text = finding_text(finding, metric);
      CHECK_THAT(sheet, Contains(flat(text.message)));
      CHECK_THAT(sheet, Contains(flat(text.mend)));
    }
  }
}

TEST_CASE("text sheet: an invented pair must not be mounted, and its box says so") {
  const std::string invented = box_of(text_sheet(planned(), metric));
  CHECK_THAT(invented, Contains("invented") && Contains("DO NOT MOUNT"));
  const std::string own = text_sheet(planned({real_pair}), metric);
  CHECK_THAT(own, !Contains("invented") && !Contains("NOT MOUNT"));
}

TEST_CASE("text sheet: the side is named, and both clock positions where there are two") {
  CHECK_THAT(box_of(text_sheet(planned(), metric)), Contains("SAME side") &&
                                                        Contains("3 o'clock") &&
                                                        Contains("RIGHT") && !Contains("OPPOSITE"));
  CHECK_THAT(box_of(text_sheet(planned({"location.clock=9"}), metric)), Contains("LEFT"));
  const std::string opposite = box_of(text_sheet(planned({"path.traverses=1"}), metric));
  CHECK_THAT(opposite, Contains("OPPOSITE") && Contains("A at 3 o'clock") &&
                           Contains("B at 9 o'clock") && !Contains("SAME"));
  CHECK_THAT(box_of(text_sheet(planned({"path.traverses=1", "location.clock=1:30"}), metric)),
             Contains("A at 1:30 o'clock") && Contains("B at 7:30 o'clock"));
  CHECK_THAT(box_of(text_sheet(planned({"pipe.orientation=vertical up",
                                        "location.clock=90 deg from the manhole"}),
                               metric)),
             Contains("90 deg from the manhole"));
}

TEST_CASE("text sheet: marks that cross are said to, and which way") {
  // Marks 60 mm ahead of the exit points: on a small pipe B's mark comes upstream of A's.
  const std::string pair =
      R"(sensors={"key":"own","frequency":"2 MHz","setback":"-60 mm","nose":"2 mm","length":"70 mm",
                  "wedge":{"sound_speed":"2430 m/s","slope":"-1.9 m/s/K","angle":"38 deg"}})";
  const PlannedJob job = planned({"pipe.size=NPS 2 sch 40", "path.traverses=1", pair});
  REQUIRE(job.verdict() != Verdict::stop);
  const double spacing_m = job.variants[0].plan.path->ray.mark_spacing_m;
  REQUIRE(spacing_m < 0);
  const std::string box = box_of(text_sheet(job, metric));
  CHECK_THAT(box, Contains("CROSS") && Contains("DOWNSTREAM"));
  CHECK(set_number(box, "mm") == Approx(std::round(-spacing_m * 2e3) / 2).epsilon(1e-12));
  CHECK_THAT(box_of(text_sheet(planned(), metric)), !Contains("CROSS"));
}

TEST_CASE("text sheet: pure ASCII where the terminal wants it") {
  const PlannedJob job =
      planned({"tag=\xC3\xBC\xE2\x82\xAC", "title=\xF0\x9F\x92\xA7 water", "site=\xD0\x9D",
               "prepared_by=\xC3\x89", "fluid.name=\xC3\xB6l", "fluid.sound_speed=1400 m/s"});
  for (char c : text_sheet(job, ascii)) CHECK(static_cast<unsigned char>(c) < 0x80);
  CHECK_THAT(text_sheet(job, metric), Contains("\xC3\xBC\xE2\x82\xAC"));
}

TEST_CASE("text sheet: no text of the job brings control characters") {
  const std::string bad = "x\x1b[2Jy\x07\r\n\xC2\x9Bz\xE2\x80\xAE\x7f";
  for (const char* key :
       {"tag", "title", "site", "prepared_by", "note", "fluid.name", "pipe.seam"}) {
    CAPTURE(key);
    const std::string sheet =
        text_sheet(planned({std::string(key) + "=" + bad, "fluid.sound_speed=1400 m/s"}), metric);
    check_shape(sheet);
    CHECK_THAT(sheet, !Contains("\xC2\x9B") && !Contains("\xE2\x80\xAE"));
  }
  const std::string vertical = text_sheet(
      planned(
          {"pipe.orientation=vertical up", "location.clock=" + bad,
           R"(pipe.material={"name":"\u001b[1m","longitudinal":"5900 m/s","shear":"3200 m/s"})",
           R"(sensors={"key":"\u001b","about":"\u009b","mark":"\u0007","frequency":"1 MHz","setback":"14 mm",
                  "wedge":{"sound_speed":"2430 m/s","angle":"38 deg"}})",
           R"(accept=[{"finding":"run.upstream","because":"\u001b","by":"\u001b"}])"}),
      metric);
  check_shape(vertical);
}

TEST_CASE("text sheet: a flood of notes and long texts yields, the sign-off stays") {
  std::string accepts, long_text;
  for (int i = 0; i < 200; ++i) {
    accepts += std::string(i ? "," : "") +
               R"({"finding":"run.upstream","because":"nothing to accept","by":"nobody"})";
    long_text += "words and more words ";
  }
  const PlannedJob job =
      planned({"accept=[" + accepts + "]", "note=" + long_text, "title=" + long_text,
               "site=" + long_text, "prepared_by=" + long_text});
  const std::string sheet = text_sheet(job, metric);
  check_shape(sheet);
  CHECK(lines_of(sheet).size() <= 120);
  CHECK_THAT(sheet, Contains("Planned by"));
}

TEST_CASE("text sheet: with candidates open, none is issued and all are told apart") {
  const PlannedJob job = planned(
      {R"(pipe.size={"one_of":["NPS 6 sch 40","NPS 6 sch 80"]})", real_pair, "site=Hall 7"});
  REQUIRE(job.variants.size() == 2);
  for (const Display& display : {metric, us, ascii}) {
    const std::string sheet = text_sheet(job, display);
    check_shape(sheet);
    CHECK_THAT(sheet, Contains("NO SPACING IS ISSUED"));
    CHECK_THAT(sheet, !Contains("SET "));
    for (const PlannedVariant& variant : job.variants) {
      CHECK_THAT(sheet, Contains(variant.what));
      CHECK_THAT(sheet, Contains(time_text(variant.plan.path->ray.zero_flow_time_s)));
      CHECK_THAT(sheet, Contains(length_text(variant.plan.bore_m, display)));
    }
    CHECK_THAT(sheet, Contains("CHW-R-02"));
    CHECK_THAT(sheet, Contains("Hall 7"));
  }
}

TEST_CASE("text sheet: US units in the body") {
  // Assumptions are fixed texts.
  const std::string whole = text_sheet(planned(), us);
  const std::string sheet = whole.substr(0, whole.find("ASSUMED"));
  CHECK_THAT(sheet, Contains("44.6 degF"));   // 7 degC
  CHECK_THAT(sheet, Contains("264 US gpm"));  // 60 m3/h
  CHECK_THAT(sheet, !Contains("degC") && !Contains("m3/h"));
}

TEST_CASE("text sheet: marks A and B lie apart by what the box sets") {
  // examples/chilled-water.json: elbow 2.1 m upstream of A's exit point, setback 14 mm: A's mark at
  // 2100 - 14 mm; the box sets 168 mm.
  // Lines broken at any blank.
  std::string sheet;
  for (char c : text_sheet(planned({}), metric)) {
    if (c == '\n') c = ' ';
    if (c != ' ' || sheet.empty() || sheet.back() != ' ') sheet += c;
  }
  CHECK_THAT(sheet, Contains("SET 168 mm"));
  CHECK_THAT(sheet, Contains("A's mark 2086 mm") && Contains("2254 mm downstream of it"));
  // A quarter of the girth of 168.3 mm: 132 mm; all of it 529 mm.
  CHECK_THAT(sheet, Contains("go 132 mm round to the right") && Contains("straps go 529 mm"));
}

TEST_CASE("text sheet: which way the flow runs for who faces the pipe") {
  // Looking with the flow, 3 o'clock is on the right: facing the pipe from there, upstream is left.
  const auto box = [](const std::string& clock) {
    return text_sheet(planned({"location.clock=" + clock}), metric);
  };
  CHECK_THAT(box("3"), Contains("= RIGHT") && Contains("flow runs LEFT TO RIGHT"));
  CHECK_THAT(box("9:30"), Contains("= LEFT") && Contains("flow runs RIGHT TO LEFT"));
  CHECK_THAT(text_sheet(planned({"location.clock=9", "path.traverses=1"}), metric),
             Contains("facing the pipe at A, flow runs RIGHT TO LEFT (the other way at B)"));
  CHECK_THAT(box(""), Contains("at 3 or 9 o'clock, NEVER at the top or bottom"));
  CHECK_THAT(text_sheet(planned({"pipe.orientation=vertical up", "location.clock="}), metric),
             Contains("A is the LOWER sensor"));
  CHECK_THAT(text_sheet(planned({"flow.direction=reversing", "location.straight=",
                                 R"(location.downstream=[{"fitting":"tee","distance":"60 D"}])"}),
                        metric),
             Contains("the flow REVERSES"));
}
