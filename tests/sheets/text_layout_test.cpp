// Breaking lines. Expected lines are counted by hand.

#include "slantrule/sheets/text_layout.hpp"

#include <catch2/catch.hpp>
#include <string>

using namespace slantrule;
using Lines = std::vector<std::string>;

TEST_CASE("text layout: columns count code points") {
  CHECK(columns("") == 0);
  CHECK(columns("abc") == 3);
  CHECK(columns("\xC3\xBC\xE2\x82\xAC\xF0\x9F\x92\xA7") == 3);
}

TEST_CASE("text layout: lines break at blanks") {
  CHECK(wrapped("", "", "", 10) == Lines{""});
  CHECK(wrapped("", "- ", "  ", 10) == Lines{"- "});
  CHECK(wrapped("one two", "", "", 10) == Lines{"one two"});
  CHECK(wrapped("one two three", "", "", 7) == Lines{"one two", "three"});
  CHECK(wrapped("one two three", "", "", 6) == Lines{"one", "two", "three"});
  CHECK(wrapped("one two three", "- ", "  ", 9) == Lines{"- one two", "  three"});
  CHECK(wrapped("  one   two  ", "", "", 10) == Lines{"one two"});
  // Code points, not bytes: ten columns of two bytes each.
  const std::string word = "\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC";
  CHECK(wrapped(word + " " + word, "", "", 11) == Lines{word + " " + word});
  CHECK(wrapped(word + " " + word, "", "", 10) == Lines{word, word});
}

TEST_CASE("text layout: a word longer than a line is cut, between code points") {
  CHECK(wrapped("abcdefgh", "", "", 3) == Lines{"abc", "def", "gh"});
  CHECK(wrapped("ab cdefgh", "", "", 4) == Lines{"ab", "cdef", "gh"});
  CHECK(wrapped("abcdef gh", "- ", "  ", 5) == Lines{"- abc", "  def", "  gh"});
  CHECK(wrapped("\xC3\xBC\xC3\xBC\xC3\xBC", "", "", 2) == Lines{"\xC3\xBC\xC3\xBC", "\xC3\xBC"});
}

TEST_CASE("text layout: no line is wider than asked, and no character but blanks is lost") {
  const std::string text =
      "A sentence of ordinary words, averyveryverylongwordwithoutanyblankinitatallwhichmustbecut "
      "and gr\xC3\xB6\xC3\x9F\x65r signs \xE2\x82\xAC \xF0\x9F\x92\xA7\xF0\x9F\x92\xA7 x";
  const auto without_blanks = [](std::string_view all) {
    std::string out;
    for (char c : all) {
      if (c != ' ') out += c;
    }
    return out;
  };
  for (std::size_t width = 5; width <= 90; ++width) {
    for (const char* indent : {"", "  ", "    "}) {
      CAPTURE(width, indent);
      std::string all;
      for (const std::string& line : wrapped(text, indent, indent, width)) {
        CHECK(columns(line) <= width);
        all += line;
      }
      CHECK(without_blanks(all) == without_blanks(text));
    }
  }
}

TEST_CASE("text layout: a margin as wide as the line still ends") {
  CHECK(wrapped("abc def", "----", "----", 4).size() <= 6);
  CHECK(wrapped("abc def", "------", "------", 4).size() <= 6);
  CHECK(wrapped("abc", "", "", 1) == Lines{"a", "b", "c"});
}

TEST_CASE("text layout: padding and cutting") {
  CHECK(padded("ab", 4) == "ab  ");
  CHECK(padded("abcd", 4) == "abcd");
  CHECK(padded("abcdefgh", 6) == "abc...");
  CHECK(padded("\xC3\xBC", 3) == "\xC3\xBC  ");
  CHECK(padded("\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC", 4) == "\xC3\xBC...");
  CHECK(padded("abcdef", 2) == "..");
  CHECK(padded("abc", 0).empty());
  for (std::size_t width = 0; width < 30; ++width) {
    CHECK(columns(padded("some text to pad", width)) == width);
  }
}

TEST_CASE("text layout: two ends of a line") {
  CHECK(two_ends("left", "right", 20) == "left           right");
  CHECK(two_ends("a long left side", "right", 16) == "a long ... right");
  for (const std::string& left : {std::string(), std::string("x"), std::string(200, 'x')}) {
    for (const std::string& right : {std::string(), std::string("y"), std::string(200, 'y')}) {
      CHECK(columns(two_ends(left, right)) <= sheet_columns);
    }
  }
}
