#include "slantrule/files/job_lines.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cstring>

using namespace slantrule;

namespace {

/// Gives `text` in pieces of `step` bytes.
ReadBytes source(const std::string& text, std::size_t step) {
  return [text, step, at = std::size_t{0}](char* into, std::size_t most) mutable {
    const std::size_t length = std::min({step, most, text.size() - at});
    std::memcpy(into, text.data() + at, length);
    at += length;
    return length;
  };
}

JsonNode tree(std::string_view text) {
  std::vector<Problem> problems;
  JsonNode out = parse_json(text, problems);
  REQUIRE(problems.empty());
  return out;
}

}  // namespace

TEST_CASE("job_lines: lines of any size from pieces of any size", "[list]") {
  const std::string text =
      "\xEF\xBB\xBF{\"a\":1}\r\n\n  \n{\"b\":2}\n{\"c\":" + std::string(9000, '3') + "}";
  for (const std::size_t step : {1u, 2u, 7u, 4096u, 100000u}) {
    LineSplitter lines(source(text, step));
    std::vector<JobLine> all;
    for (JobLine one; lines.next(one);) all.push_back(one);
    REQUIRE(all.size() == 3);
    CHECK(all[0].text == "{\"a\":1}\r");
    CHECK(all[0].line == 1);
    CHECK(all[1].text == "{\"b\":2}");
    CHECK(all[1].line == 4);
    CHECK(all[2].text.size() == 9006);
    CHECK(all[2].line == 5);
  }
}

TEST_CASE("job_lines: an endless line is cut and the next one is read", "[list]") {
  const std::string text = std::string(largest_text_bytes + 100, 'x') + "\n{\"a\":1}\n";
  LineSplitter lines(source(text, 1 << 16));
  JobLine one;
  REQUIRE(lines.next(one));
  CHECK(one.too_long);
  CHECK(one.text.size() == 200);
  REQUIRE(lines.next(one));
  CHECK_FALSE(one.too_long);
  CHECK(one.text == "{\"a\":1}");
  CHECK(one.line == 2);
  CHECK_FALSE(lines.next(one));
}

TEST_CASE("job_lines: jobs and rows of cells are told apart by their keys", "[list]") {
  CHECK(is_job_object(tree(R"({ "slantrule": 1, "tag": "a", "pipe": { "size": "NPS 6" } })")));
  CHECK_FALSE(is_job_object(tree(R"({ "tag": "a", "pipe.size": "NPS 6" })")));
  CHECK_FALSE(is_job_object(tree(R"row({ "OD (mm)": 168.3 })row")));
  CHECK(cell_text(tree("7.10")) == "7.10");
  CHECK(cell_text(tree("\"NPS 6\"")) == "NPS 6");
  CHECK(cell_text(tree("true")) == "yes");
  CHECK(cell_text(tree("null")) == "");
  CHECK(cell_text(tree("[7.1, \"7.0 mm\"]")) == "7.1; 7.0 mm");
  CHECK_FALSE(cell_text(tree("{}")));
}

TEST_CASE("job_lines: a value as JSON reads back the same", "[list]") {
  for (const std::string text :
       {"null", "true", "1.50", "-2e-3", R"("a \"b\" \\ c")", R"({"a":[1,{"b":[]}],"c":{}})",
        R"("\u0000\u001f")", "\"\u00b0C\""}) {
    CAPTURE(text);
    CHECK(compact_json(tree(text)) == text);
  }
  CHECK(compact_json(tree("{ \"a\" : [ 1 , 2 ] }")) == R"({"a":[1,2]})");
  CHECK(holds_object(tree(R"([1, [{"a": 2}]])")));
  CHECK_FALSE(holds_object(tree("[1, [2]]")));
}

TEST_CASE("job_lines: dotted keys become objects in objects", "[list]") {
  JsonNode job = tree(R"({"pipe": {"size": "NPS 6"}, "tag": "A"})");
  CHECK(put_at(job, "pipe.wall", tree("1")));
  CHECK(put_at(job, "flow.rate", tree("2")));
  CHECK(put_at(job, "note", tree("3")));
  CHECK(compact_json(job) ==
        R"({"pipe":{"size":"NPS 6","wall":1},"tag":"A","flow":{"rate":2},"note":3})");
  CHECK_FALSE(put_at(job, "pipe.size", tree("4")));
  CHECK_FALSE(put_at(job, "tag.a", tree("5")));
}
