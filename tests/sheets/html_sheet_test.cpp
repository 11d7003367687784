// The setup sheet as a page: says all, runs nothing, lets no text of the job become markup.

#include <catch2/catch.hpp>
#include <regex>
#include <set>
#include <string>
#include <vector>

#include "sheets/planned.hpp"
#include "sheets/svg_reader.hpp"
#include "slantrule/sheets/sheet_content.hpp"

using namespace slantrule;
using namespace slantrule::test;
using Catch::Matchers::Contains;

namespace {

constexpr Display metric;
constexpr Display us{.units = UnitSystem::us};

std::string html_of(PlannedJob job, const Display& display = metric) {
  std::vector<PlannedJob> jobs;
  jobs.push_back(std::move(job));
  return html_sheets(jobs, display);
}

/// What a reader sees: without head and tags, blanks single, places to write in as in text.
std::string visible(const std::string& html) {
  std::string body = html.substr(html.find("<body>"));
  body = std::regex_replace(body, std::regex("<input class=\"blank\"[^>]*>"), "________");
  body = std::regex_replace(body, std::regex("<[^>]*>"), "");
  body = std::regex_replace(body, std::regex("&rarr;"), "==>");
  return std::regex_replace(unescaped(body), std::regex("[ \n]+"), " ");
}

std::string single_blanks(const std::string& text) {
  std::string out = std::regex_replace(text, std::regex(" +"), " ");
  while (!out.empty() && out.back() == ' ') out.pop_back();
  return out.empty() || out.front() != ' ' ? out : out.substr(1);
}

/// Every text that the sheet is made of.
struct Texts {
  std::vector<std::string> all;

  void add(const std::string& text) { all.push_back(single_blanks(text)); }
  void operator()(const Paragraph& one) { add(one.text); }
  void operator()(const Values& values) {
    for (const ValueRow& row : values.rows) add(row.name), add(row.value);
  }
  void operator()(const Steps& steps) {
    for (const std::string& one : steps.items) add(one);
  }
  void operator()(const Points& points) {
    for (const Point& one : points.items) add(one.text);
  }
  void operator()(const Ranking& ranking) {
    for (const std::string& one : ranking.items) add(one);
  }
  void operator()(const FindingList& list) {
    for (const FindingItem& one : list.items) add(one.message), add(one.mend), add(one.accepted);
  }
  void operator()(const Table& table) {
    for (const TableRow& row : table.rows) {
      for (const std::string& cell : row.cells) add(cell);
      add(row.remark);
      add(row.source);
    }
  }
  void operator()(const Sketch&) {}
};

std::vector<std::string> texts_of(const SheetContent& content) {
  Texts texts;
  texts.add(content.verdict_words);
  texts.add(content.tag);
  for (const std::string& one : content.head_lines) texts.add(one);
  texts.add(content.box.setting);
  texts.add(content.box.other);
  texts.add(content.box.hold);
  for (const BoxRow& row : content.box.rows) texts.add(row.text);
  for (const Section& section : content.sections) {
    texts.add(section.heading);
    for (const Block& block : section.blocks) std::visit(texts, block);
  }
  for (const ValueRow& row : content.sign_off) texts.add(row.name), texts.add(row.value);
  return texts.all;
}

/// Elements open and close in order; returns how many there are.
std::size_t check_nesting(const std::string& html) {
  static const std::set<std::string> empty = {"meta", "input", "br"};
  std::vector<std::string> open;
  std::size_t count = 0;
  const std::regex tag("<(/?)([a-z0-9]+)([^>]*)>");
  const std::string body = html.substr(html.find("<html"));
  for (std::sregex_iterator at(body.begin(), body.end(), tag), end; at != end; ++at) {
    const std::string name = (*at)[2], rest = (*at)[3];
    if ((*at)[1] == "/") {
      REQUIRE(!open.empty());
      CHECK(open.back() == name);
      open.pop_back();
    } else {
      ++count;
      if (!empty.contains(name) && (rest.empty() || rest.back() != '/')) open.push_back(name);
    }
  }
  CHECK(open.empty());
  return count;
}

void check_harmless(const std::string& html) {
  for (const char* bad :
       {"<script", "http", "url(", "<link", "<img", "<iframe", "@import", "javascript:", "<form"}) {
    CHECK_THAT(html, !Contains(bad));
  }
  CHECK(!std::regex_search(html, std::regex("<[^>]* on[a-z]+=")));
}

const std::vector<std::vector<std::string>>& jobs() {
  static const std::vector<std::vector<std::string>> out = {
      {},
      {real_pair},
      {"path.traverses=1"},
      {"pipe.size=NPS 1/2 sch 40", "path.traverses=6", real_pair},
      {R"(pipe.liner={"material":"cement mortar","thickness":"6 mm"})",
       R"(pipe.coating={"material":"epoxy","thickness":"0.4 mm"})"},
      {"pipe.size=", "pipe.girth=690 mm", "pipe.wall=[\"6.2 mm\", \"6.4 mm\"]", real_pair},
      {"fluid.temperature=140 degC"},
      {"location=", "flow="},
      {"location.clock=12"},
      {"location.upstream=[{\"fitting\":\"elbow-90\",\"distance\":\"1 D\"}]",
       R"(accept=[{"finding":"run.upstream","because":"for comparison only","by":"the engineer"}])"},
      {"pipe.orientation=vertical up", "location.clock=90 deg from the manhole", real_pair},
      {"location.insulation=refitted", "location.ambient=-20 degC", "couplant=grease",
       R"(location.surface=["rust","pitted","paint"])", "location.height=5 m",
       "location.hazardous_area=zone 1", "flow.pulsating=true"},
      {R"(pipe.size={"one_of":["NPS 6 sch 40","NPS 6 sch 80"]})", real_pair, "site=Hall 7"},
      {"prepared_by=A planner", "note=A note", "site=Hall 7"},
  };
  return out;
}

}  // namespace

TEST_CASE("html sheet: everything of the sheet's content is in it") {
  for (const auto& sets : jobs()) {
    CAPTURE(sets);
    for (const Display& display : {metric, us}) {
      const std::string page = visible(html_of(planned(sets), display));
      for (const std::string& text : texts_of(sheet_content(planned(sets), display))) {
        CHECK_THAT(page, Contains(text));
      }
    }
  }
}

TEST_CASE("html sheet: every finding's message and mend, stops first") {
  for (const auto& sets : jobs()) {
    CAPTURE(sets);
    const PlannedJob job = planned(sets);
    if (job.variants.size() != 1) continue;
    const std::string page = visible(html_of(planned(sets)));
    for (const Finding& finding : job.variants[0].plan.findings) {
      const FindingText text = finding_text(finding, metric);
      CHECK_THAT(page, Contains(text.message) && Contains(text.mend));
    }
    const std::string html = html_of(planned(sets));
    CHECK((html.rfind("class=\"finding stop\"") == html.npos ||
           html.find("class=\"finding caution\"") == html.npos ||
           html.rfind("class=\"finding stop\"") < html.find("class=\"finding caution\"")));
  }
}

TEST_CASE("html sheet: one page that needs nothing and runs nothing, well formed") {
  for (const auto& sets : jobs()) {
    CAPTURE(sets);
    const std::string html = html_of(planned(sets));
    CHECK(html.rfind("<!DOCTYPE html>", 0) == 0);
    check_harmless(html);
    CHECK(check_nesting(html) > 50);
  }
}

TEST_CASE("html sheet: the box first, then the order of the text sheet") {
  const std::string html = html_of(planned({}));
  std::size_t at = html.find("<div class=\"box\">");
  CHECK(at < html.find("<h2>"));
  for (const char* heading : {"BEFORE YOU START", "PATH AND SIGNAL", "VALUES FOR THE TRANSMITTER",
                              "STEPS", "CHECK AFTER MOUNTING", "STRAIGHT RUN", "SAFETY",
                              "LEAVING THE PLACE", "NOTES", "ASSUMED", "Planned by"}) {
    CAPTURE(heading);
    const std::size_t next = html.find(heading, at);
    REQUIRE(next != html.npos);
    at = next;
  }
  // Boxes to tick: eight steps, the zero or swap test and leaving the place, at least.
  std::size_t boxes = 0;
  for (std::size_t box = html.find("checkbox"); box != html.npos;
       box = html.find("checkbox", box + 1)) {
    ++boxes;
  }
  CHECK(boxes >= 10);
}

TEST_CASE("html sheet: on a stop no spacing is to be read, in the drawing either") {
  for (const auto& sets : jobs()) {
    CAPTURE(sets);
    const PlannedJob job = planned(sets);
    if (job.variants.size() != 1 || job.verdict() != Verdict::stop) continue;
    const std::string page = visible(html_of(planned(sets)));
    CHECK_THAT(page, Contains("NO SPACING IS ISSUED") && !Contains("SET "));
    if (!job.variants[0].plan.path) continue;
    const double spacing_m = job.variants[0].plan.path->ray.mark_spacing_m;
    CHECK_THAT(page, !Contains(" " + setting_text(spacing_m, 1e-3, metric)));
    CHECK_THAT(page, !Contains(" " + length_text(spacing_m, metric)));
  }
}

TEST_CASE("html sheet: texts of the job stay texts, apart from ours") {
  const std::string markup =
      "</title></p><script>alert('x')</script>&amp;<img src=x onerror=\"y\">";
  const std::string hebrew = "\xD7\xA9\xD7\x9C\xD7\x95\xD7\x9D";
  const std::string turned =
      "a\xE2\x80\xAE"
      "b\xE2\x81\xA6"
      "c\x1b[31m";
  const std::string long_word(300, 'W');
  for (const std::string& text : {markup, hebrew, turned, long_word}) {
    CAPTURE(text);
    for (const char* key : {"tag", "title", "site", "prepared_by", "note", "fluid.name",
                            "location.hazardous_area", "couplant"}) {
      CAPTURE(key);
      std::vector<std::string> sets = {std::string(key) + "=" + text};
      if (key == std::string("fluid.name")) sets.push_back("fluid.sound_speed=1400 m/s");
      if (key == std::string("couplant")) sets = {"note=" + text};
      const std::string html = html_of(planned(sets));
      check_nesting(html);
      CHECK_THAT(html, !Contains("<script") && !Contains("<img") && !Contains("\x1b") &&
                           !Contains("\xE2\x80\xAE") && !Contains("\xE2\x81\xA6"));
      CHECK(std::regex_search(html, std::regex("<span dir=\"auto\">[^<]+</span>")));
    }
  }
  const std::string html = html_of(planned({"title=" + markup, "tag=" + hebrew}));
  CHECK_THAT(html, Contains("<span dir=\"auto\">&lt;/title&gt;&lt;/p&gt;&lt;script&gt;"));
  CHECK_THAT(html, Contains("<span dir=\"auto\">" + hebrew + "</span>"));
  CHECK_THAT(html_of(planned({"note=" + long_word})), Contains(long_word));
  CHECK_THAT(html, Contains("overflow-wrap: anywhere"));
}

TEST_CASE("html sheet: what has no room on paper yields there, not on the screen") {
  const std::string plain = html_of(planned({real_pair}));
  CHECK(!std::regex_search(plain, std::regex("<article class=\"sheet [^\"]*few")));
  std::string accepts;
  for (int i = 0; i < 200; ++i) {
    accepts += std::string(i ? "," : "") +
               R"({"finding":"run.upstream","because":"nothing to accept","by":"nobody"})";
  }
  const std::string flooded = html_of(planned({real_pair, "accept=[" + accepts + "]"}));
  CHECK(std::regex_search(flooded, std::regex("<article class=\"sheet [^\"]*few")));
  CHECK_THAT(flooded, Contains("NOTES: left out on paper") && Contains("Drawings: left out"));
}

TEST_CASE("html sheet: several jobs are sheets of one page") {
  std::vector<PlannedJob> several;
  several.push_back(planned({"tag=FIRST"}));
  several.push_back(planned({"tag=SECOND", real_pair}));
  const std::string html = html_sheets(several, metric);
  check_nesting(html);
  CHECK(html.find("<article") != html.rfind("<article"));
  CHECK(html.find("<html") == html.rfind("<html"));
  CHECK_THAT(
      html, Contains("<title>Setup sheet FIRST, SECOND</title>") && Contains("break-before: page"));
}
