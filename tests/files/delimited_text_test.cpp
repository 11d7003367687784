// Lists as they are met: separators, quotes, line ends, encodings, and what breaks them. Expected
// cells follow from RFC 4180 and from what the writer of a line plainly meant; see each case.

#include "slantrule/files/delimited_text.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <chrono>
#include <cstring>
#include <stdexcept>
#include <string>
#include <utility>

using namespace slantrule;

namespace {

using Cells = std::vector<std::string>;

struct Row {
  std::size_t line = 0;
  Cells cells;
  bool quotes_mended = false;
  bool too_long = false;
  bool foreign_bytes = false;

  bool operator==(const Row&) const = default;
};

/// Gives `text` in pieces.
ReadBytes reader_of(std::string_view text, std::size_t piece) {
  return [text, piece, at = std::size_t{0}](char* into, std::size_t most) mutable {
    const std::size_t count = std::min({piece, most, text.size() - at});
    std::memcpy(into, text.data() + at, count);
    at += count;
    return count;
  };
}

std::vector<Row> rows_of(std::string_view text, const DelimitedOptions& options = {},
                         std::size_t piece = 1000, std::size_t block = 3) {
  DelimitedReader reader(reader_of(text, piece), options);
  std::vector<Row> rows;
  RecordBlock records;
  while (reader.next(records, block)) {
    CHECK(records.records.size() <= block);
    for (const auto& record : records.records) {
      const auto cells = records.cells(record);
      rows.push_back({record.line, Cells(cells.begin(), cells.end()), record.quotes_mended,
                      record.too_long, record.foreign_bytes});
    }
  }
  CHECK(records.records.empty());
  CHECK_FALSE(reader.next(records, block));
  return rows;
}

std::vector<Cells> cells_of(std::string_view text, const DelimitedOptions& options = {}) {
  std::vector<Cells> cells;
  for (Row& row : rows_of(text, options)) cells.push_back(std::move(row.cells));
  return cells;
}

std::vector<std::size_t> lines_of(std::string_view text) {
  std::vector<std::size_t> lines;
  for (const Row& row : rows_of(text)) lines.push_back(row.line);
  return lines;
}

char separator_of(std::string_view text) {
  return DelimitedReader(reader_of(text, 1000)).separator();
}

/// The row that `line` gives under a heading of four cells.
Row row_of(std::string_view line) {
  const std::string text = "Tag,Size,Wall,Note\nP-1,DN 50,3.2,ok\n" + std::string(line) +
                           "\nP-8,DN 80,3.2,ok\nP-9,DN 100,3.6,ok\n";
  const std::vector<Row> rows = rows_of(text);
  REQUIRE(rows.size() == 5);
  CHECK(rows[3] == Row{4, {"P-8", "DN 80", "3.2", "ok"}});
  CHECK(rows[2].line == 3);
  return rows[2];
}

constexpr std::string_view lost = "\xEF\xBF\xBD";

}  // namespace

TEST_CASE("list: the examples of RFC 4180, section 2") {
  // Rules 1 to 7 in order.
  const Cells abc = {"aaa", "bbb", "ccc"};
  const Cells xyz = {"zzz", "yyy", "xxx"};
  CHECK(cells_of("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n") == std::vector{abc, xyz});
  CHECK(cells_of("aaa,bbb,ccc\r\nzzz,yyy,xxx") == std::vector{abc, xyz});
  CHECK(cells_of("field_name,field_name,field_name\r\naaa,bbb,ccc\r\nzzz,yyy,xxx\r\n")[1] == abc);
  CHECK(cells_of("\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx") == std::vector{abc, xyz});
  CHECK(cells_of("\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx") ==
        std::vector<Cells>{{"aaa", "b\r\nbb", "ccc"}, xyz});
  CHECK(cells_of("\"aaa\",\"b\"\"bb\",\"ccc\"") == std::vector<Cells>{{"aaa", "b\"bb", "ccc"}});
}

TEST_CASE("list: separators are decided by how alike the lines become") {
  CHECK(separator_of("Tag,OD,Wall\nP1,114.3,6.02\n") == ',');
  CHECK(separator_of("Tag;OD;Wall\nP1;114,3;6,02\nP2;60,3;3,91\n") == ';');
  CHECK(separator_of("Tag\tOD\tWall\nP1\t114,3\t6,02\n") == '\t');
  CHECK(separator_of("Tag|OD|Wall\nP1|114.3|6.02\n") == '|');
  CHECK(separator_of("Tag     OD      Wall\nP1      114.3   6.02\nP 20    60.3    3.91\n") == ' ');
  CHECK(separator_of("DN 100\nDN 80, lined\nDN 65\nDN 50\n") == '\0');
  CHECK(separator_of("") == '\0');
  // Decimal commas in every cell and no heading.
  CHECK(separator_of("114,3;6,02\n60,3;3,91\n88,9;5,49\n") == ';');
  // Units in the heading with a comma each.
  CHECK(separator_of("Tag;OD, mm;wall, mm\nP1;114,3;6,02\nP2;60,3;3,91\n") == ';');
  // A comma in every note, and numbers only.
  CHECK(separator_of("Tag;Note\nP1;lined, old\nP2;bare, new\n") == ';');
  CHECK(separator_of("1,2,3\n4,5,6\n") == ',');
  // A semicolon in every row of a list with commas.
  CHECK(separator_of("Tag,DN,Wall,Upstream\nP1,100,6,elbow;10 D\nP2,80,5,tee;5 D\n") == ',');
  // Commas within quotes.
  CHECK(separator_of("\"a, b, c\";\"d\"\n\"e, f, g\";\"h\"\n") == ';');
  // A cell of several lines in every row.
  CHECK(separator_of("Tag;Note;DN\nP1;\"old,\nlined\";50\nP2;\"new,\nbare\";80\n") == ';');
}

TEST_CASE("list: titles above and notes below do not decide the separator") {
  const std::string_view text =
      "List of pipes, hall 2, building 4\n"
      "Issued: 2024-11-07, 11:30\n"
      "\n"
      "Tag;Size;OD\n"
      ";;mm\n"
      "P1;4\";114,3\n"
      "P2;6\";168,3\n"
      "TOTAL 2\n"
      "Walls as in the drawing, see there\n";
  const auto rows = rows_of(text);
  CHECK(separator_of(text) == ';');
  REQUIRE(rows.size() == 8);
  CHECK(rows[0] == Row{1, {"List of pipes, hall 2, building 4"}});
  CHECK(rows[2] == Row{4, {"Tag", "Size", "OD"}});
  CHECK(rows[3] == Row{5, {"", "", "mm"}});
  CHECK(rows[4] == Row{6, {"P1", "4\"", "114,3"}});
  CHECK(rows[6] == Row{8, {"TOTAL 2"}});
}

TEST_CASE("list: a given separator, and a first line that says it") {
  CHECK(cells_of("a,b;c\n", {.separator = ';'}) == std::vector<Cells>{{"a,b", "c"}});
  CHECK(cells_of("a  b c\td\n", {.separator = ' '}) == std::vector<Cells>{{"a", "b c", "d"}});
  for (const std::string_view first : {"sep=;", "SEP=;", "\"sep=;\""}) {
    const auto rows = rows_of(std::string(first) + "\r\na,b;c\r\nd,e;f\r\n");
    REQUIRE(rows.size() == 2);
    CHECK(rows[0] == Row{2, {"a,b", "c"}});
  }
  CHECK(cells_of("\xEF\xBB\xBFsep=:\na:b\n") == std::vector<Cells>{{"a", "b"}});
  CHECK(cells_of("sep=;\na;b,c\n", {.separator = ','}) == std::vector<Cells>{{"a;b", "c"}});
  // No separator: words of the list.
  CHECK(cells_of("sep=x,b\nc,d\n").size() == 2);
  CHECK(cells_of("separator,b\nc,d\n").size() == 2);
  CHECK(rows_of("sep=;").empty());
}

TEST_CASE("list: columns of text set with blanks") {
  const auto rows = rows_of(
      "  Tag      Size     Note\n"
      "  P1       DN 100   carbon steel  \n"
      "  P2       4\"       \"two  blanks\"\n"
      "           \n"
      "  \"P3 x    DN 50    none\n");
  REQUIRE(rows.size() == 4);
  CHECK(rows[0] == Row{1, {"Tag", "Size", "Note"}});
  CHECK(rows[1] == Row{2, {"P1", "DN 100", "carbon steel"}});
  CHECK(rows[2] == Row{3, {"P2", "4\"", "two  blanks"}});
  CHECK(rows[3] == Row{5, {"\"P3 x", "DN 50", "none"}});
}

TEST_CASE("list: every line end counts a line, blank lines are no records") {
  for (const std::string end : {"\n", "\r\n", "\r"}) {
    CAPTURE(end.size(), end == "\r");
    const std::string text = "a,b" + end + end + "c,d" + end + " , ,\t," + end + "\"\",\" \"" +
                             end + "e,\"f" + end + "g\"" + end + "h,i";
    CHECK(lines_of(text) == std::vector<std::size_t>{1, 3, 6, 8});
  }
  // Mixed, as files joined from several systems are.
  CHECK(lines_of("a,b\r\nc,d\re,f\n\n\rg,h") == std::vector<std::size_t>{1, 2, 3, 6});
  CHECK(lines_of("\n\n\n").empty());
  CHECK(lines_of("").empty());
}

TEST_CASE("list: filling at the end of the file is ignored, NULs within are kept") {
  using namespace std::string_literals;
  const std::vector<Cells> two = {{"a", "b"}, {"c", "d"}};
  CHECK(cells_of("a,b\nc,d\n\x1A") == two);
  CHECK(cells_of("a,b\nc,d\x1A"s) == two);
  CHECK(cells_of("a,b\nc,d\n\x1A\0\0\0"s) == two);
  CHECK(cells_of("a,b\nc,d\0\0\0"s) == two);
  CHECK(cells_of("a,b\nc,\0d\x1A\x1B\n"s)[1] == Cells{"c", "\0d\x1A\x1B"s});
  // More NULs than a record may have bytes.
  const DelimitedOptions shortest = {.longest_record_bytes = 16, .window_bytes = 8};
  for (const std::string ending : {"", "\n"}) {
    const auto rows = rows_of("a,b\nc,d" + ending + std::string(100, '\0'), shortest);
    REQUIRE(rows.size() == 2);
    CHECK(rows[1] == Row{2, {"c", "d"}});
  }
}

TEST_CASE("list: cells are without blanks at their ends, and empty ones stay") {
  CHECK(cells_of("a,b,c,d\n  a , b\t,\"  c \", \"d\" \n,x,,\n") ==
        std::vector<Cells>{{"a", "b", "c", "d"}, {"a", "b", "c", "d"}, {"", "x", "", ""}});
  CHECK(cells_of("a,b\n\xC2\xA0 x \xC2\xA0,\"\xC2\xA0y\"\n\xC2\xA0,\xC2\xA0\n") ==
        std::vector<Cells>{{"a", "b"}, {"x", "y"}});
  // Rows longer and shorter than the heading.
  CHECK(cells_of("a,b,c\n1\n1,2,3,4,,\n1,2,3\n")[2] == Cells{"1", "2", "3", "4", "", ""});
}

TEST_CASE("list: quotes as spreadsheets write them are kept exactly") {
  CHECK(row_of(R"(P-2,"4""",6.02,"note, with comma")") ==
        Row{3, {"P-2", "4\"", "6.02", "note, with comma"}});
  CHECK(row_of(R"("P-2","6 5/8""","","say ""old"", then")") ==
        Row{3, {"P-2", "6 5/8\"", "", "say \"old\", then"}});
  CHECK(row_of(R"(P-2,"""4""",6.02,"""")") == Row{3, {"P-2", "\"4\"", "6.02", "\""}});
}

TEST_CASE("list: a quote within a cell is a character") {
  CHECK(row_of(R"(P-2,4",6.02,ok)") == Row{3, {"P-2", "4\"", "6.02", "ok"}});
  CHECK(row_of(R"(P-2,6 5/8",4" sch 40,ok)") == Row{3, {"P-2", "6 5/8\"", "4\" sch 40", "ok"}});
  CHECK(row_of(R"(P-2,4"x3",6.02,5' 6")") == Row{3, {"P-2", "4\"x3\"", "6.02", "5' 6\""}});
}

TEST_CASE("list: quotes that do not work out are mended cell by cell") {
  const auto mended = [](Cells cells) { return Row{3, std::move(cells), true}; };
  // Quoted without doubling the inch mark.
  CHECK(row_of(R"(P-2,"4"",6.02,ok)") == mended({"P-2", "4\"", "6.02", "ok"}));
  CHECK(row_of(R"("P-2","4" sch 40",6.02,ok)") == mended({"P-2", "4\" sch 40", "6.02", "ok"}));
  CHECK(row_of(R"(P-2,4,6.02,"4" and 6"")") == mended({"P-2", "4", "6.02", "4\" and 6\""}));
  // The same with a separator within: the number of cells tells.
  CHECK(row_of(R"(P-2,"4" sch 40, old",6.02,ok)") ==
        mended({"P-2", "4\" sch 40, old", "6.02", "ok"}));
  // A quote at the start only.
  CHECK(row_of(R"(P-2,"4" sch 40,6.02,ok)") == mended({"P-2", "\"4\" sch 40", "6.02", "ok"}));
  CHECK(row_of(R"(P-2,"4,6.02,ok)") == mended({"P-2", "\"4", "6.02", "ok"}));
  CHECK(row_of(R"(P-2,",6.02,ok)") == mended({"P-2", "\"", "6.02", "ok"}));
  // Marks for "the same as above".
  CHECK(row_of(R"(P-2,",",ok)") == mended({"P-2", "\"", "\"", "ok"}));
  CHECK(row_of(R"(P-2,",6.02,")") == mended({"P-2", "\"", "6.02", "\""}));
  // Others of the line are left as they are.
  CHECK(row_of(R"(P-2,"6"",STD,"note, with comma")") ==
        mended({"P-2", "6\"", "STD", "note, with comma"}));
  CHECK(row_of(R"("P-2, a",6",STD,"4" x)") == mended({"P-2, a", "6\"", "STD", "\"4\" x"}));
}

TEST_CASE("list: a stray quote never swallows the lines below") {
  const std::string heading = "Tag,Size,Wall,Note\n";
  const std::string plain = "P-1,DN 50,3.2,ok\n";
  std::string below;
  for (int i = 0; i < 300; ++i) below += plain;
  const auto check_first = [&](const std::string& text, const Cells& first) {
    const auto rows = rows_of(heading + text);
    REQUIRE(rows.size() >= 2);
    CHECK(rows[1] == Row{2, first, true});
    for (std::size_t i = 2; i < rows.size(); ++i) {
      CAPTURE(i);
      CHECK(rows[i].line == i + 1);
      CHECK(rows[i].cells.size() == 4);
    }
    return rows.size();
  };
  const Cells first = {"P-2", "\"4", "STD", "ok"};
  // No other quote in the file, one far below, one near.
  CHECK(check_first("P-2,\"4,STD,ok\n" + below, first) == 302);
  CHECK(check_first("P-2,\"4,STD,ok\n" + below + "P-3,6\",STD,ok\n", first) == 303);
  CHECK(check_first("P-2,\"4,STD,ok\n" + plain + "P-3,6\" x,STD,ok\n" + plain, first) == 5);
  CHECK(check_first("P-2,\"4,STD,ok\n" + plain + "P-3,DN 50,6\",ok\n" + plain, first) == 5);
  // The same column below: what is swallowed has the usual number of cells as well.
  CHECK(check_first("P-2,\"4\"\",STD,ok\nP-3,6\",STD,ok\n" + plain, {"P-2", "4\"", "STD", "ok"}) ==
        4);
  CHECK(check_first("P-2,\"4,STD,ok\n" + plain + "P-3,6\",STD,ok\n" + plain, first) == 5);
  // A row that is too short itself, with whole rows between it and the next quote.
  CHECK(rows_of(heading + "P-2,\"4\n" + plain + plain + "P-3,6\",STD,ok\n" + plain).size() == 6);
}

TEST_CASE("list: cells of several lines are kept") {
  const auto rows = rows_of(
      "Tag,Size,Note\n"
      "P-1,4\",\"old\nlined, 2 mm\n\n  \"\"see\"\" photo \"\n"
      "P-2,6\",\"first\n\"\n"
      "P-3,8\",ok\n");
  REQUIRE(rows.size() == 4);
  CHECK(rows[1] == Row{2, {"P-1", "4\"", "old\nlined, 2 mm\n\n  \"see\" photo"}});
  CHECK(rows[2] == Row{6, {"P-2", "6\"", "first\n"}});
  CHECK(rows[3] == Row{8, {"P-3", "8\"", "ok"}});
  // As many separators in each line of the note as the list has, in a list of two columns.
  CHECK(cells_of("Tag,Note\nP-1,\"first\nsecond, third\"\nP-2,x\n")[1] ==
        Cells{"P-1", "first\nsecond, third"});
  // Up to a hundred lines: beyond, the quote counts as stray.
  std::string list = "Tag,Note\n";
  for (int i = 0; i < 150; ++i) list += "P-0,z\n";
  const auto with_note_of = [&list](int lines) {
    std::string note = "P-1,\"";
    for (int i = 1; i < lines; ++i) note += "x\n";
    return rows_of(list + note + "x\"\nP-2,y\n");
  };
  CHECK(with_note_of(100).size() == 153);
  CHECK(with_note_of(101).size() == 253);
  CHECK(with_note_of(101)[151] == Row{152, {"P-1", "\"x"}, true});
  CHECK(rows_of("Tag,Note\nP-1,\"a\n" + std::string(60'000, 'x') + "\"\nP-2,y\n").size() == 3);
  CHECK(rows_of("Tag,Note\nP-1,\"a\n" + std::string(70'000, 'x') + "\"\nP-2,y\n").size() == 4);
}

TEST_CASE("list: encodings become UTF-8") {
  using namespace std::string_view_literals;
  const std::vector<Cells> croatian = {{"Oznaka", "Materijal"},
                                       {"P-1", "Pocin\u010dani \u010delik"},
                                       {"P-2", "Nehr\u0111aju\u0107i \u010delik"}};
  const std::string_view in_1250 =
      "Oznaka;Materijal\r\nP-1;Pocin\xE8"
      "ani \xE8"
      "elik\r\nP-2;Nehr\xF0"
      "aju\xE6i \xE8"
      "elik\r\n";
  CHECK(cells_of(in_1250) == croatian);
  CHECK_FALSE(rows_of(in_1250)[1].foreign_bytes);
  CHECK(DelimitedReader(reader_of(in_1250, 9)).encoding() == TextEncoding::windows_1250);
  const std::string_view in_1251 =
      "\xC4\xF3;\xCC\xE0\xF2\xE5\xF0\xE8\xE0\xEB\n100;\xF1\xF2\xE0\xEB\xFC\n";
  CHECK(cells_of(in_1251) == std::vector<Cells>{{"Ду", "Материал"}, {"100", "сталь"}});
  CHECK(DelimitedReader(reader_of(in_1251, 9)).encoding() == TextEncoding::windows_1251);

  const std::string_view in_1252 =
      "Tag;Flow;OD\nP-1;60 m\xB3/h;\xD8 114,3\nP-2;\xA0"
      "5;\xA0\n";
  CHECK(cells_of(in_1252) == std::vector<Cells>{{"Tag", "Flow", "OD"},
                                                {"P-1", "60 m\u00B3/h", "\u00D8 114,3"},
                                                {"P-2", "5", ""}});
  CHECK(DelimitedReader(reader_of(in_1252, 9)).encoding() == TextEncoding::windows_1252);
  CHECK(cells_of("a,b\n\x81,\"\xE9\"\"\"\n")[1] == Cells{std::string(lost), "\u00E9\""});

  // The mark of UTF-8 is no part of the first heading.
  CHECK(cells_of("\xEF\xBB\xBFTag,m\u00B3/h\nP-1,5\n")[0] == Cells{"Tag", "m\u00B3/h"});
  const std::vector<Cells> small = {{"a", "\u00D8"}, {"b", "c"}};
  CHECK(cells_of("\xFF\xFE"
                 "a\0,\0\xD8\0\n\0b\0,\0c\0"sv) == small);
  CHECK(cells_of("\xFE\xFF\0a\0,\0\xD8\0\n\0b\0,\0c"sv) == small);
  CHECK(cells_of("a\0,\0\xD8\0\n\0b\0,\0c\0\n\0\0\0"sv) == small);
  CHECK(cells_of("\0a\0,\0\xD8\0\n\0b\0,\0c\0\n"sv) == small);
}

TEST_CASE("list: a given encoding wins") {
  const std::string_view bytes = "a;\xE8\nb;m\xB3/h\n";
  CHECK(cells_of(bytes, {.encoding = TextEncoding::windows_1250})[0] == Cells{"a", "\u010d"});
  CHECK(cells_of(bytes, {.encoding = TextEncoding::windows_1252})[0] == Cells{"a", "\u00e8"});
  const auto as_utf8 = rows_of(bytes, {.encoding = TextEncoding::utf8});
  CHECK(as_utf8[0] == Row{1, {"a", std::string(lost)}, false, false, true});
  // Valid UTF-8, read as asked for all the same.
  CHECK(cells_of("a;\u00D8\n", {.encoding = TextEncoding::windows_1252})[0] ==
        Cells{"a", "\u00C3\u02DC"});
  CHECK(cells_of("\xEF\xBB\xBF"
                 "a;b\n",
                 {.encoding = TextEncoding::windows_1252})[0] == Cells{"a", "b"});
}

TEST_CASE("list: rows in another encoding further down are read by themselves and marked") {
  std::string text = "Tag;Material;Flow\n";
  for (int i = 0; i < 50; ++i) text += "P-1;carbon steel;5 m\u00B3/h\n";
  text +=
      "P-2;\xE8"
      "elik;5 m\u00B3/h\nP-3;steel;\u00D8\nP-4;\xE8;\n";
  const auto rows = rows_of(text, {.window_bytes = 100});
  REQUIRE(rows.size() == 54);
  CHECK(std::none_of(rows.begin(), rows.begin() + 51, [](auto& row) { return row.foreign_bytes; }));
  // A cell that is UTF-8 stays so within the row.
  CHECK(rows[51] == Row{52, {"P-2", "\u010delik", "5 m\u00B3/h"}, false, false, true});
  CHECK(rows[52] == Row{53, {"P-3", "steel", "\u00D8"}});
  // What was learned of the code page holds for the rows below.
  CHECK(rows[53] == Row{54, {"P-4", "\u010d", ""}, false, false, true});
}

TEST_CASE("list: records that are too long are cut and marked, the next line is read") {
  const DelimitedOptions options = {.longest_record_bytes = 20};
  for (const std::string end : {"\n", "\r\n", "\r"}) {
    const auto rows = rows_of("a,b,c" + end + "1,2," + std::string(50'000, 'x') + end + "4,5,6" +
                                  end + "7,8,\"" + std::string(100, 'y') + "\"" + end + "9,9,9",
                              options, 7);
    REQUIRE(rows.size() == 5);
    CHECK(rows[1] == Row{2, {"1", "2", std::string(16, 'x')}, false, true});
    CHECK(rows[2] == Row{3, {"4", "5", "6"}});
    CHECK(rows[3].too_long);
    CHECK(rows[4] == Row{5, {"9", "9", "9"}});
  }
  // The limit includes the line end; a character is not cut in two.
  CHECK_FALSE(rows_of("a,b\n1," + std::string(17, 'x') + "\n", options)[1].too_long);
  CHECK(rows_of("a,b\n1," + std::string(19, 'x') + "\n", options)[1].too_long);
  const Row cut = rows_of("a,b\n1," + std::string(17, 'x') + "\u20AC\u20AC\n", options)[1];
  CHECK(cut == Row{2, {"1", std::string(17, 'x')}, false, true});
  // A quoted cell of several lines may not exceed it either; then its lines are read singly.
  const auto rows = rows_of("a,b\n1,\"xxxxxxxx\nxxxxxxxxxxxx\"\n3,4\n", options);
  REQUIRE(rows.size() == 4);
  CHECK(rows[1] == Row{2, {"1", "\"xxxxxxxx"}, true});
  // Nothing but separators, yet something may be lost with the rest.
  CHECK(rows_of("a,b\n" + std::string(30, ',') + "x\n", options).size() == 2);
}

namespace {

/// Written by Python 3.11's csv.writer (seed 20240607) from the cells beside them, cells of outer
/// blanks left out; `csv.reader` gives the same back.
struct Table {
  char separator;
  std::string_view text;
  std::vector<Cells> cells;
};

// clang-format off
const std::vector<Table>& tables_from_outside() {
  static const std::vector<Table> tables = {
    {',',
     "h0,h1,h2,h3,h4\r\n"
     "12 D,m³/h,it's,\"6 5/8\"\"\",\",start\"\r\n"
     "x;y,\"a\r\n"
     "b\",x;y,\"6,02\",\r\n"
     "114.3,\"line 1\n"
     "line 2\",P-101,\"end\"\"\",\"a\r\n"
     "b\"\r\n"
     "\"\"\"start\",\"\"\"\",\",start\",it's,hall 2\r\n",
     {{"h0", "h1", "h2", "h3", "h4"},
      {"12 D", "m³/h", "it's", "6 5/8\"", ",start"},
      {"x;y", "a\r\nb", "x;y", "6,02", ""},
      {"114.3", "line 1\nline 2", "P-101", "end\"", "a\r\nb"},
      {"\"start", "\"", ",start", "it's", "hall 2"}}},
    {',',
     "\"h0\",\"h1\",\"h2\",\"h3\"\n"
     "\"6,02\",\"6 5/8\"\"\",\"x;y\",\"6,02\"\n"
     "\"hall 2\",\"|\",\"114.3\",\"\"\"old\"\"\"\n"
     "\"a,b\",\"\"\"start\",\"line 1\n"
     "line 2\",\"m³/h\"\n"
     "\"\"\"old\"\"\",\"it's\",\"6 5/8\"\"\",\"line 1\n"
     "line 2\"\n",
     {{"h0", "h1", "h2", "h3"},
      {"6,02", "6 5/8\"", "x;y", "6,02"},
      {"hall 2", "|", "114.3", "\"old\""},
      {"a,b", "\"start", "line 1\nline 2", "m³/h"},
      {"\"old\"", "it's", "6 5/8\"", "line 1\nline 2"}}},
    {';',
     "h0;h1;h2;h3;h4\n"
     "\"line 1\n"
     "line 2\";it's;\"\"\"\";\"6 5/8\"\"\";,start\n"
     "m³/h;,start;\"end\"\"\";\"\"\"\";\"\"\"\"\n"
     "a,b;;,start;;\"end\"\"\"\n"
     "\"end\"\"\";\"\"\"start\";m³/h;\"\"\"\";\"\"\"\"\n",
     {{"h0", "h1", "h2", "h3", "h4"},
      {"line 1\nline 2", "it's", "\"", "6 5/8\"", ",start"},
      {"m³/h", ",start", "end\"", "\"", "\""},
      {"a,b", "", ",start", "", "end\""},
      {"end\"", "\"start", "m³/h", "\"", "\""}}},
    {';',
     "\"h0\";\"h1\";\"h2\";\"h3\";\"h4\"\n"
     "\"x;y\";\"it's\";\",start\";\"note, with comma\";\"note, with comma\"\n"
     "\"it's\";\"it's\";\"note, with comma\";\"hall 2\";\"\"\n"
     "\"\";\"P-101\";\"\"\"\";\"a,b\";\"4\"\"\"\n"
     "\"4\"\"\";\"Ø 114,3\";\"P-101\";\"a,b\";\"it's\"\n",
     {{"h0", "h1", "h2", "h3", "h4"},
      {"x;y", "it's", ",start", "note, with comma", "note, with comma"},
      {"it's", "it's", "note, with comma", "hall 2", ""},
      {"", "P-101", "\"", "a,b", "4\""},
      {"4\"", "Ø 114,3", "P-101", "a,b", "it's"}}},
    {'\t',
     "h0\th1\th2\th3\n"
     "\"\"\"start\"\t\"end\"\"\"\tm³/h\t\"\"\"old\"\"\"\n"
     "x;y\thall 2\t\"end\"\"\"\t12 D\n"
     "a,b\tnote, with comma\t12 D\t,start\n"
     ",start\t6,02\t6,02\tit's\n",
     {{"h0", "h1", "h2", "h3"},
      {"\"start", "end\"", "m³/h", "\"old\""},
      {"x;y", "hall 2", "end\"", "12 D"},
      {"a,b", "note, with comma", "12 D", ",start"},
      {",start", "6,02", "6,02", "it's"}}},
    {'\t',
     "\"h0\"\t\"h1\"\t\"h2\"\t\"h3\"\r\n"
     "\"it's\"\t\"x;y\"\t\"\"\"old\"\"\"\t\",start\"\r\n"
     "\"Ø 114,3\"\t\"a,b\"\t\"\"\"\"\t\"4\"\"\"\r\n"
     "\"a,b\"\t\"a\r\n"
     "b\"\t\"P-101\"\t\"6,02\"\r\n"
     "\"4\"\"\"\t\"it's\"\t\"note, with comma\"\t\"it's\"\r\n",
     {{"h0", "h1", "h2", "h3"},
      {"it's", "x;y", "\"old\"", ",start"},
      {"Ø 114,3", "a,b", "\"", "4\""},
      {"a,b", "a\r\nb", "P-101", "6,02"},
      {"4\"", "it's", "note, with comma", "it's"}}},
    {'|',
     "h0|h1|h2|h3|h4\r\n"
     "P-101|\"line 1\n"
     "line 2\"|114.3|\"\"\"old\"\"\"|\"a\r\n"
     "b\"\r\n"
     "\"line 1\n"
     "line 2\"|P-101|note, with comma|12 D|hall 2\r\n"
     "|\"6 5/8\"\"\"|,start|\"|\"|\"4\"\"\"\r\n"
     "6,02|x;y||114.3|\"\"\"start\"\r\n",
     {{"h0", "h1", "h2", "h3", "h4"},
      {"P-101", "line 1\nline 2", "114.3", "\"old\"", "a\r\nb"},
      {"line 1\nline 2", "P-101", "note, with comma", "12 D", "hall 2"},
      {"", "6 5/8\"", ",start", "|", "4\""},
      {"6,02", "x;y", "", "114.3", "\"start"}}},
    {'|',
     "\"h0\"|\"h1\"|\"h2\"\r\n"
     "\"m³/h\"|\"a\r\n"
     "b\"|\"note, with comma\"\r\n"
     "\"it's\"|\"12 D\"|\"6 5/8\"\"\"\r\n"
     "\"a,b\"|\"m³/h\"|\"P-101\"\r\n"
     "\"\"\"old\"\"\"|\"114.3\"|\"6,02\"\r\n",
     {{"h0", "h1", "h2"},
      {"m³/h", "a\r\nb", "note, with comma"},
      {"it's", "12 D", "6 5/8\""},
      {"a,b", "m³/h", "P-101"},
      {"\"old\"", "114.3", "6,02"}}},
  };
  return tables;
}
// clang-format on

}  // namespace

TEST_CASE("list: tables that another program wrote") {
  for (const Table& table : tables_from_outside()) {
    CAPTURE(table.text);
    CHECK(separator_of(table.text) == table.separator);
    CHECK(cells_of(table.text) == table.cells);
    for (const Row& row : rows_of(table.text)) CHECK_FALSE(row.quotes_mended);
  }
}

TEST_CASE("list: the pieces in which it comes do not matter") {
  using namespace std::string_literals;
  const std::vector<std::string> texts = {
      "Tag,Size,Wall,Note\r\nP-2,\"6\"\",STD,\"note, with comma\"\r\n\r\nP-3,\"4\" "
      "x,\"a\r\nb\",\"\"\"\"\r\n"
      "P-4,\",\",z\rP-5,\"4,STD,ok\nP-6,6\",STD,ok\n\x1A\0\0"s,
      "\xEF\xBB\xBFTag;m\u00B3/h\nP;\xE8"
      "elik\n" +
          std::string(60, 'x') + ";y\n\u20AC;\xC2\xA0z",
      "a\0;\0b\0\r\0\n\0\"\0\x34\xD8\x1E\xDD\"\0;\0\x20\xD8\n\0c\0;\0d\0"s,
      "Tag   Size\r\nP 1   \"4  x\"\r\n\r\n  P2  y",
  };
  for (const std::string& text : texts) {
    for (std::size_t window = 1; window <= text.size(); window += 7) {
      const DelimitedOptions options = {.longest_record_bytes = 50, .window_bytes = window};
      // With a window that small the rest of the file comes piece by piece.
      const auto whole = rows_of(text, options, window);
      CHECK(whole == rows_of(text, options, 1, 1));
    }
    const DelimitedOptions options = {.longest_record_bytes = 50};
    const auto whole = rows_of(text, options, text.size());
    REQUIRE(whole.size() >= 2);
    for (std::size_t piece = 1; piece < text.size(); ++piece) {
      CAPTURE(piece);
      CHECK(rows_of(text, options, piece, piece) == whole);
    }
  }
}

TEST_CASE("list: views stay valid when a block moves") {
  DelimitedReader reader(
      reader_of("a,b\n\"c\"\"\",d\xE8"
                "\n",
                1));
  RecordBlock block;
  REQUIRE(reader.next(block, 1));
  const RecordBlock first = std::move(block);
  RecordBlock second;
  DelimitedReader moved = std::move(reader);
  REQUIRE(moved.next(second, 1));
  const RecordBlock last = std::move(second);
  CHECK(first.cells(first.records[0])[1] == "b");
  CHECK(last.cells(last.records[0])[0] == "c\"");
  CHECK(last.cells(last.records[0])[1] == "d\u00E8");
}

TEST_CASE("list: no more is read ahead than a window and two pieces") {
  // A source without end.
  const std::string_view line = "P-1,DN 100,6.3\n";
  std::size_t given = 0;
  DelimitedReader reader([&](char* into, std::size_t most) {
    for (std::size_t i = 0; i < most; ++i) into[i] = line[(given + i) % line.size()];
    given += most;
    return most;
  });
  RecordBlock block;
  std::size_t used = 0;
  for (int i = 0; i < 1000; ++i) {
    REQUIRE(reader.next(block, 100));
    REQUIRE(block.records.size() == 100);
    used += 100 * line.size();
    REQUIRE(given - used <= 3 * (std::size_t{1} << 16));
  }
  CHECK(block.records.back().line == 100'000);
  CHECK(reader.next(block, 1'000'000));
  CHECK(block.records.size() < 100'000);
}

TEST_CASE("list: faults of the source come through") {
  int calls = 0;
  DelimitedReader reader(
      [&calls](char* into, std::size_t) -> std::size_t {
        if (++calls > 4) throw std::runtime_error("the disk is gone");
        std::memcpy(into, "a,b\nc", 5);
        return 5;
      },
      {.window_bytes = 5});
  RecordBlock block;
  CHECK(reader.next(block, 1));
  CHECK_THROWS_WITH((reader.next(block, 100)), "the disk is gone");
}

TEST_CASE("list: hostile bytes cost no more than others, and nothing is lost in silence") {
  std::string every_byte;
  for (int i = 0; i < 256; ++i) every_byte += static_cast<char>(i);
  const auto repeated = [](std::string_view part, std::size_t bytes) {
    std::string text;
    while (text.size() < bytes) text += part;
    return text;
  };
  const std::size_t size = 1 << 20;
  const std::string texts[] = {
      repeated(every_byte, size),
      repeated("\"", size),
      repeated("\"a\"\"\n", size),
      repeated("\"\n", size),
      repeated("a,\"b\n", size),
      repeated("\",\"x\n", size),
      repeated("\"a\"b,", size),
      repeated("\"\"\"\",", size),
      "a,b\n" + repeated("\"x\n\",\"x\n", size),
      "a,b,c\n1,\"2,3\n" + repeated("\n", size),
      repeated("\xFF\xFE", size),
      repeated(std::string_view("\0", 1), size),
      repeated("\"a  ", size),
      repeated("\"a  b \"c  ", size),
      "a,b,c\n\"4\" x" + repeated(" ", size),
      repeated(" ", size),
      repeated(" ,\t", size),
      repeated("\r", size),
      "a,b\n\"" + repeated("x,", size),
  };
  for (const std::string& text : texts) {
    CAPTURE(text.substr(0, 20));
    const auto start = std::chrono::steady_clock::now();
    const auto rows = rows_of(text, {}, 1 << 16, 100);
    const std::chrono::duration<double> time = std::chrono::steady_clock::now() - start;
    // A second or less as built for release; quadratic time would be minutes.
    CHECK(time.count() < 20);
    for (std::size_t i = 1; i < rows.size(); ++i) {
      if (rows[i].line <= rows[i - 1].line) FAIL("lines do not go up at " << i);
    }
  }
}
