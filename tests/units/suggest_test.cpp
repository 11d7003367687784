#include "slantrule/units/suggest.hpp"

#include <array>
#include <catch2/catch.hpp>
#include <random>
#include <string>
#include <vector>

using namespace slantrule;

TEST_CASE("nearest_name forgives case, separators and likely slips") {
  constexpr std::array<std::string_view, 7> names = {
      "carbon steel", "cast iron", "copper", "PE", "sea-water", "elbow-90", "stainless 316"};
  struct Row {
    const char* text;
    const char* want;  // nullptr: nothing near enough
  };
  const std::vector<Row> rows = {
      {"carbon steel", "carbon steel"},
      {"Carbon_Steel", "carbon steel"},
      {"carbonsteel", "carbon steel"},
      {"carbon stele", "carbon steel"},  // swap
      {"coper", "copper"},
      {"copppper", "copper"},  // 1 and 2 of 8 / 3
      {"cupper", "copper"},
      {"kupfer", nullptr},  // 3 of 6 / 3
      {"sea water", "sea-water"},
      {"elbow 90", "elbow-90"},
      {"elbow-09", "elbow-90"},
      {"elbow-45", "elbow-90"},  // 2 of 7 / 3
      {"PC", "PE"},
      {"P", "PE"},
      {"x", nullptr},
      {"", nullptr},
      {" -_", nullptr},
      {"titanium", nullptr},
      {"stainless 304", "stainless 316"},
  };
  for (const Row& row : rows) {
    CAPTURE(row.text);
    const auto nearest = nearest_name(row.text, names);
    CHECK(nearest.has_value() == (row.want != nullptr));
    if (nearest && row.want != nullptr) CHECK(*nearest == row.want);
  }
  CHECK_FALSE(nearest_name("copper", {}).has_value());
  CHECK_FALSE(nearest_name(std::string(1'000'000, 'a'), names).has_value());
}

TEST_CASE("nearest_name: the nearest wins, and of equals the first") {
  constexpr std::array<std::string_view, 3> names = {"walls", "wall", "wale"};
  CHECK(nearest_name("wall", names) == "wall");
  CHECK(nearest_name("wal", names) == "wall");
  constexpr std::array<std::string_view, 2> same = {"pipe-wall", "pipe_wall"};
  CHECK(nearest_name("pipe wall", same) == "pipe-wall");
}

TEST_CASE("nearest_name undoes every single edit") {
  constexpr std::array<std::string_view, 1> names = {"viscosity"};
  const std::string name(names[0]);
  for (std::size_t i = 0; i < name.size(); ++i) {
    std::string dropped = name, replaced = name, inserted = name, swapped = name;
    dropped.erase(i, 1);
    replaced[i] = 'x';
    inserted.insert(i, 1, 'x');
    if (i > 0) std::swap(swapped[i - 1], swapped[i]);
    for (const std::string& slip : {dropped, replaced, inserted, swapped}) {
      CAPTURE(slip);
      CHECK(nearest_name(slip, names) == names[0]);
    }
  }
  // A swap counts as one edit: here, of three letters, as all that is allowed.
  constexpr std::array<std::string_view, 1> tag = {"tag"};
  CHECK(nearest_name("tga", tag) == "tag");
  CHECK_FALSE(nearest_name("gat", tag).has_value());
}

TEST_CASE("folded_name is the form in which names are compared") {
  CHECK(folded_name("Carbon Steel") == "carbon_steel");
  CHECK(folded_name(" carbon-steel_") == "carbon_steel");
  CHECK(folded_name("carbon  - steel") == "carbon_steel");
  CHECK(folded_name("PE 100") == "pe_100");
  CHECK(folded_name("") == "");
  CHECK(folded_name(" _-") == "");
  CHECK(folded_name("Pocin\u010dani \u010delik") == "pocin\u010dani_\u010delik");
}

TEST_CASE("shown lets nothing reach the terminal but characters") {
  struct Row {
    std::string text, want;
  };
  const std::vector<Row> rows = {
      {"7.11 mm", "7.11 mm"},
      {"20 \u00b0C \u4e2d \U0001f600", "20 \u00b0C \u4e2d \U0001f600"},
      {"a\x1b[31mb", "a?[31mb"},
      {std::string("a\0b", 3), "a?b"},
      {"a\r\n\tb\x7f", "a???b?"},
      {"a\u0085b\u009b", "a?b?"},           // C1
      {"a\u2028b\u202ec\u2066", "a?b?c?"},  // line separator, direction override and isolate
      // Ill-formed UTF-8, a '?' for each byte (Unicode Standard, table 3-7).
      {"a\xff"
       "b",
       "a?b"},
      {"\x80", "?"},
      {"\xc3", "?"},
      {"\xe2\x82", "??"},
      {"\xc0\xaf", "??"},            // overlong
      {"\xe0\x80\xaf", "???"},       // overlong
      {"\xf0\x88\x80\x80", "????"},  // overlong U+8000
      {"\xf0\x80\x80\xaf", "????"},  // overlong
      {"\xed\xa0\x80", "???"},       // surrogate
      {"\xf4\x90\x80\x80", "????"},  // above U+10FFFF
      {"\xc3"
       "a",
       "?a"},
  };
  for (const Row& row : rows) {
    CAPTURE(row.want);
    CHECK(shown(row.text) == row.want);
  }
}

TEST_CASE("shown counts code points") {
  CHECK(shown("abc", 3) == "abc");
  CHECK(shown("abcd", 3) == "abc...");
  CHECK(shown("\u00b0\u00b0\u00b0", 3) == "\u00b0\u00b0\u00b0");
  CHECK(shown("\u00b0\u00b0\u00b0\u00b0", 3) == "\u00b0\u00b0\u00b0...");
  CHECK(shown("abc", 0) == "...");
  CHECK(shown("", 0) == "");
  CHECK(shown(std::string(61, 'a')) == std::string(60, 'a') + "...");
}

TEST_CASE("shown of any bytes is well-formed and stays as it is when shown again") {
  std::mt19937 random(7);
  std::uniform_int_distribution<int> byte(0, 255), lead(0xc0, 0xff), tail(0x80, 0xbf);
  for (int i = 0; i < 20'000; ++i) {
    std::string text;
    for (int n = 0; n < 6; ++n) {
      const int value = n == 0 ? lead(random) : n < 4 ? tail(random) : byte(random);
      text += static_cast<char>(value);
    }
    const std::string once = shown(text);
    if (shown(once) != once) {
      CAPTURE(once);
      CHECK(shown(once) == once);
    }
  }
  SUCCEED();
}
