// What a job file's JSON may be, and on which line its mistakes are. Expected values follow from
// counting the lines of the text by hand, and from the limits in the header's contract.

#include "slantrule/files/json_document.hpp"

#include <catch2/catch.hpp>
#include <chrono>
#include <string>

#include "slantrule/files/job_file.hpp"

using namespace slantrule;
using Catch::Matchers::Contains;

namespace {

JsonNode parsed(std::string_view text) {
  std::vector<Problem> problems;
  JsonNode root = parse_json(text, problems);
  for (const Problem& one : problems) INFO(one.key << ": " << one.message);
  REQUIRE(problems.empty());
  return root;
}

std::vector<Problem> problems_of(std::string_view text) {
  std::vector<Problem> problems;
  parse_json(text, problems);
  return problems;
}

std::string nested_lists(int levels) {
  return std::string(static_cast<std::size_t>(levels), '[') +
         std::string(static_cast<std::size_t>(levels), ']');
}

}  // namespace

TEST_CASE("json document: every kind of node knows its line") {
  // A number's end is seen only one character later: "number" ends its line, "last" its object.
  const std::string_view text =
      "{\n"
      "  \"null\": null,\n"
      "  \"yes\": true,\n"
      "  \"no\": false,\n"
      "  \"number\":\n"
      "    12\n"
      "  , \"real\": -1.5e3,\n"
      "  \"text\": \"a\",\n"
      "  \"list\": [1,\n"
      "    2\n"
      "    , \"three\"\n"
      "  ],\n"
      "  \"object\": { \"deep\": {\n"
      "    \"last\": 7\n"
      "  } }\n"
      "}\n";
  const std::string line_end = GENERATE(as<std::string>(), "\n", "\r\n");
  std::string ended;
  for (char c : text) ended += c == '\n' ? line_end : std::string(1, c);
  CAPTURE(line_end.size());

  const JsonNode root = parsed(ended);
  CHECK(root.kind == JsonNode::Kind::object);
  CHECK(root.place.line == 1);
  REQUIRE(root.members.size() == 8);
  CHECK(root.find("null")->kind == JsonNode::Kind::null);
  CHECK(root.find("null")->place.line == 2);
  CHECK(root.find("yes")->boolean);
  CHECK(root.find("yes")->place.line == 3);
  CHECK(root.find("no")->kind == JsonNode::Kind::boolean);
  CHECK_FALSE(root.find("no")->boolean);
  CHECK(root.find("no")->place.line == 4);
  CHECK(root.find("number")->place.line == 5);  // a member stands where its key stands
  CHECK(root.find("number")->number == 12);
  CHECK(root.find("number")->text == "12");
  CHECK(root.find("real")->place.line == 7);
  CHECK(root.find("real")->number == -1500);
  CHECK(root.find("real")->text == "-1.5e3");
  CHECK(root.find("text")->text == "a");
  CHECK(root.find("text")->place.line == 8);
  const JsonNode& list = *root.find("list");
  CHECK(list.kind == JsonNode::Kind::list);
  CHECK(list.place.line == 9);
  REQUIRE(list.items.size() == 3);
  CHECK(list.items[0].place.line == 9);
  CHECK(list.items[1].place.line == 10);
  CHECK(list.items[2].place.line == 11);
  const JsonNode& deep = *root.find("object")->find("deep");
  CHECK(deep.place.line == 13);
  CHECK(deep.find("last")->place.line == 14);
  CHECK(root.find("nothing") == nullptr);
}

TEST_CASE("json document: comments of both kinds count their lines") {
  const JsonNode root = parsed(
      "// first\n"
      "/* second\n"
      "   third */ { // fourth: \"a\": 1\n"
      "  \"b\": /* here */ 2 // \"c\": 3\n"
      "  /* sixth\n"
      "  seventh */, \"d\": \"//no comment\"\n"
      "}\n"
      "// behind the value\n");
  REQUIRE(root.members.size() == 2);
  CHECK(root.place.line == 3);
  CHECK(root.find("b")->place.line == 4);
  CHECK(root.find("d")->place.line == 6);
  CHECK(root.find("d")->text == "//no comment");
}

TEST_CASE("json document: one value alone") {
  CHECK(parsed("5\n").place.line == 1);
  CHECK(parsed("\n\n5").place.line == 3);
  CHECK(parsed("\n\"a\"").place.line == 2);
  CHECK(parsed("\r\n[]\r\n").place.line == 2);
}

TEST_CASE("json document: duplicate keys are found wherever they stand, at the later one") {
  const auto problems = problems_of(
      "{\n"
      "  \"pipe\": {\n"
      "    \"size\": 1,\n"
      "    \"wall\": [ { \"a\": 1 }, { \"a\": 1,\n"
      "      \"a\": 2 } ],\n"
      "    \"size\": 2,\n"
      "    \"size\": 3\n"
      "  },\n"
      "  \"tag\": 1, \"pipe\": 2\n"
      "}");
  REQUIRE(problems.size() == 4);
  CHECK(problems[0].key == "pipe.wall[1].a");
  CHECK(problems[0].place.line == 5);
  CHECK(problems[1].key == "pipe.size");
  CHECK(problems[1].place.line == 6);
  CHECK(problems[2].key == "pipe.size");
  CHECK(problems[2].place.line == 7);
  CHECK(problems[3].key == "pipe");
  CHECK(problems[3].place.line == 9);
  for (const Problem& one : problems) CHECK_THAT(one.message, Contains("twice"));
  // The same key in different objects is none.
  CHECK(problems_of("{\"a\": {\"a\": [{\"a\": 1}, {\"a\": 1}]}}").empty());
  // Spelt in two ways.
  CHECK(problems_of("{\"a\": 1, \"\\u0061\": 2}").size() == 1);
}

TEST_CASE("json document: many keys in one object take no time to speak of") {
  // Comparing each with every one before it took minutes.
  std::string text = "{";
  for (int i = 0; i < 200000; ++i) text += "\"k" + std::to_string(i) + "\":1,";
  text += "\"k7\":1}";
  const auto start = std::chrono::steady_clock::now();
  const auto problems = problems_of(text);
  CHECK(std::chrono::steady_clock::now() - start < std::chrono::seconds(20));
  REQUIRE(problems.size() == 1);
  CHECK(problems[0].key == "k7");
}

TEST_CASE("json document: nesting ends at 32 levels") {
  CHECK(deepest_nesting == 32);
  CHECK(problems_of(nested_lists(32)).empty());
  const auto problems = problems_of("\n" + nested_lists(33));
  REQUIRE(problems.size() == 1);
  CHECK(problems[0].place.line == 2);
  CHECK_THAT(problems[0].message, Contains("deeper than 32"));
  // So deep that a recursive reader would run out of stack.
  CHECK(problems_of(nested_lists(1000000)).size() == 1);
  std::string objects;
  for (int i = 0; i < 33; ++i) objects += "{\"a\":";
  CHECK_THAT(problems_of(objects).at(0).message, Contains("deeper than 32"));
}

TEST_CASE("json document: texts up to 4 MiB are read") {
  CHECK(largest_text_bytes == 4 * 1024 * 1024);
  std::string text = "[1]";
  text.resize(largest_text_bytes, ' ');
  CHECK(problems_of(text).empty());
  text += ' ';
  const auto problems = problems_of(text);
  REQUIRE(problems.size() == 1);
  CHECK_THAT(problems[0].message, Contains("4 MiB"));
}

TEST_CASE("json document: what is no JSON is refused with its line") {
  struct Row {
    const char* what;
    std::string text;
    int line;  // 0: the whole text
    const char* message;
  };
  using namespace std::string_literals;
  const auto row = GENERATE(values<Row>({
      {"empty", "", 0, "is empty"},
      {"blanks", " \r\n\t\n", 0, "is empty"},
      {"comment alone", "// nothing\n", 2, "not valid JSON"},
      {"NUL", "{\n\"a\": \"\0\"}"s, 2, "NUL"},
      {"NUL behind the value", "{}\n\n\0"s, 3, "NUL"},
      {"binary",
       "\x7f"
       "ELF\x02\x01"s,
       1, "not valid JSON"},
      {"UTF-16", "\xff\xfe{\0}\0"s, 1, "NUL"},
      {"invalid UTF-8 in a text", "{\n\n\"a\": \"\xc3(\"}", 3, "UTF-8"},
      {"overlong UTF-8", "[\"\xc0\xaf\"]", 1, "UTF-8"},
      {"UTF-8 surrogate", "[\"\xed\xa0\x80\"]", 1, "UTF-8"},
      {"lone surrogate escape", "[\"\\ud800\"]", 1, "surrogate"},
      {"invalid UTF-8 outside texts", "\n[\xff]", 2, "not valid JSON"},
      {"beyond a double", "[\n1e400\n]", 2, "beyond the range"},
      {"beyond a double, below", "[\n\n-1e400]", 3, "beyond the range"},
      {"NaN", "{\n\"a\": NaN}", 2, "not valid JSON"},
      {"infinity", "{\"a\": Infinity}", 1, "not valid JSON"},
      {"leading zero", "[007]", 1, "not valid JSON"},
      {"leading plus", "[+7]", 1, "not valid JSON"},
      {"bare point", "[.5]", 1, "not valid JSON"},
      {"hexadecimal", "[0x10]", 1, "not valid JSON"},
      {"behind the value", "{}\nx", 2, "not valid JSON"},
      {"two values", "{}\n{}", 2, "not valid JSON"},
      {"comma at the end of a list", "[1,\n]", 2, "not valid JSON"},
      {"comma at the end of an object", "{\"a\": 1,\n}", 2, "not valid JSON"},
      {"single quotes", "{'a': 1}", 1, "not valid JSON"},
      {"key without quotes", "{a: 1}", 1, "not valid JSON"},
      {"line end in a text", "{\"a\": \"b\nc\"}", 1, "not valid JSON"},
      {"open comment", "{}\n/* ", 2, "not valid JSON"},
      {"cut off", "{\"a\":\n [1,\n", 3, "not valid JSON"},
      {"a bracket too many", "[1]\n]", 2, "not valid JSON"},
  }));
  CAPTURE(row.what);
  const auto problems = problems_of(row.text);
  REQUIRE(problems.size() == 1);
  CHECK(problems[0].key.empty());
  CHECK(problems[0].place.line == row.line);
  CHECK_THAT(problems[0].message, Contains(row.message));
  for (char c : problems[0].message) CHECK(static_cast<unsigned char>(c) >= 0x20);
}

TEST_CASE("json document: numbers are the doubles nearest to what is written") {
  CHECK(parsed("0.1").number == 0.1);
  CHECK(parsed("1.7976931348623157e308").number == 1.7976931348623157e308);
  CHECK(parsed("5e-324").number == 5e-324);
  CHECK(parsed("1e-400").number == 0);
  CHECK(parsed("18446744073709551615").number == 18446744073709551615.0);
  CHECK(parsed("-9223372036854775808").number == -9223372036854775808.0);
  CHECK(parsed("123456789012345678901234567890").number == 123456789012345678901234567890.0);
}

TEST_CASE("json document: the byte-order mark of UTF-8 before a job is passed over") {
  const std::string job = "\xEF\xBB\xBF{\n\"tag\": 5 }";
  const ReadJob read = read_job(job, {});
  REQUIRE(read.problems.size() == 1);
  CHECK(read.problems[0].key == "tag");
  CHECK(read.problems[0].place.line == 2);
  CHECK_THAT(read_job("\xEF\xBB\xBF", {}).problems.at(0).message, Contains("is empty"));
}
