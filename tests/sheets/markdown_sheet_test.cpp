// The setup sheet in Markdown: the same words, and no text of the job that marks anything up.

#include <catch2/catch.hpp>
#include <regex>
#include <string>

#include "sheets/planned.hpp"

using namespace slantrule;
using namespace slantrule::test;
using Catch::Matchers::Contains;

namespace {

constexpr Display metric;

/// Without backslashes and entities: what a reader shows.
std::string read(const std::string& markdown) {
  std::string out = std::regex_replace(markdown, std::regex("\\\\([^\n])"), "$1");
  out = std::regex_replace(out, std::regex("&lt;"), "<");
  out = std::regex_replace(out, std::regex("&gt;"), ">");
  return std::regex_replace(out, std::regex("&amp;"), "&");
}

}  // namespace

TEST_CASE("markdown sheet: the spacing first, sections as headings, steps as tasks") {
  const std::string sheet = markdown_sheet(planned({real_pair}), metric);
  CHECK(sheet.rfind("# GO: CHW-R-02\n", 0) == 0);
  CHECK_THAT(sheet, Contains("> **SET 168 mm** (6.61 in (6 5/8)), mark to +- 1 mm"));
  CHECK_THAT(sheet, Contains("\n## PATH AND SIGNAL\n") &&
                        Contains("\n## STEPS\n\n- [ ] Clean the pipe") &&
                        Contains("| bore | 154.1 mm |"));
  CHECK(sheet.find("**SET") < sheet.find("## "));
}

TEST_CASE("markdown sheet: every finding, and no spacing on a stop") {
  const std::vector<std::vector<std::string>> jobs = {{},
                                                      {real_pair},
                                                      {"location=", "flow="},
                                                      {"fluid.temperature=140 degC"},
                                                      {"location.clock=12"}};
  for (const auto& sets : jobs) {
    CAPTURE(sets);
    const PlannedJob job = planned(sets);
    const std::string sheet = read(markdown_sheet(job, metric));
    for (const Finding& finding : job.variants[0].plan.findings) {
      const FindingText text = finding_text(finding, metric);
      CHECK_THAT(sheet, Contains(text.message) && Contains(text.mend));
    }
    CHECK(Contains("SET ").match(sheet) == (job.verdict() != Verdict::stop));
  }
}

TEST_CASE("markdown sheet: texts of the job become neither markup nor HTML") {
  const std::string text =
      "# x\x1b | *a* _b_ `c` [d](e) <b>f</b> &lt; ![g](h) ~~i~~ \\ $j$ k@l ***";
  for (const char* key : {"tag", "title", "site", "note", "prepared_by"}) {
    CAPTURE(key);
    const std::string sheet =
        markdown_sheet(planned({std::string(key) + "=" + text, real_pair}), metric);
    const std::size_t at = sheet.find("\\# x?");
    REQUIRE(at != sheet.npos);
    const std::string line = sheet.substr(at, sheet.find('\n', at) - at);
    // No mark without its backslash, and no bracket of HTML.
    CHECK(!std::regex_search(line, std::regex("(^|[^\\\\])[*_`\\[\\]|~$@]")));
    CHECK_THAT(line,
               !Contains("<") && !Contains(">") && Contains("&lt;b&gt;") && Contains("&amp;lt;"));
    CHECK_THAT(sheet, !Contains("\x1b") && !Contains("\xE2\x81\xA8") && !Contains("\xE2\x81\xA9"));
  }
}

TEST_CASE("markdown sheet: a title starts no list, heading, rule or link") {
  const std::pair<const char*, const char*> titles[] = {
      {"1. one", "\n1\\. one\n"},
      {"2) two", "\n2\\) two\n"},
      {"- a", "\n\\- a\n"},
      {"  # b", "\n\\# b\n"},
      {"===", "\n\\===\n"},
      {"---", "\n\\---\n"},
      {"http://x.y", "\nhttp\\://x.y"},
      {"www.x.y", "\nwww\\.x.y"},
      {"DN 150, 7.1", "\nDN 150, 7.1\n"},
  };
  for (const auto& [title, want] : titles) {
    CAPTURE(title);
    CHECK_THAT(markdown_sheet(planned({std::string("title=") + title}), metric), Contains(want));
  }
}

TEST_CASE("markdown sheet: candidates side by side") {
  const PlannedJob job =
      planned({R"(pipe.size={"one_of":["NPS 6 sch 40","NPS 6 sch 80"]})", real_pair});
  const std::string sheet = markdown_sheet(job, metric);
  CHECK_THAT(sheet, Contains("NO SPACING IS ISSUED") && !Contains("SET "));
  for (const PlannedVariant& variant : job.variants) {
    CHECK_THAT(read(sheet), Contains(variant.what));
  }
  CHECK_THAT(sheet, Contains("1. best: "));
}
