// The table of checks: one row a finding, every text there and well formed.

#include "slantrule/planning/check_table.hpp"

#include <catch2/catch.hpp>
#include <set>
#include <string>

using namespace slantrule;

namespace {

/// Placeholders of a text: "0" to "3", "s" and "d"; anything else in braces comes back as it
/// stands.
std::set<std::string> placeholders(std::string_view text) {
  std::set<std::string> found;
  for (std::size_t at = text.find('{'); at != text.npos; at = text.find('{', at + 1)) {
    const std::size_t end = text.find('}', at);
    found.insert(std::string(text.substr(at + 1, end == text.npos ? 1 : end - at - 1)));
  }
  return found;
}

}  // namespace

TEST_CASE("check table: one row a check, found by id", "[planning]") {
  const auto rows = check_table();
  REQUIRE(rows.size() == check_count);
  std::set<std::string_view> ids;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    CAPTURE(rows[i].id);
    CHECK(static_cast<std::size_t>(rows[i].check) == i);
    CHECK(&check_info(rows[i].check) == &rows[i]);
    CHECK(find_check(rows[i].id) == &rows[i]);
    CHECK(ids.insert(rows[i].id).second);
  }
  CHECK(find_check("run.sideways") == nullptr);
  CHECK(find_check("") == nullptr);
}

TEST_CASE("check table: ids that users and scripts rely on", "[planning]") {
  // DESIGN section 8.
  for (std::string_view id : {"run.upstream", "run.downstream", "mount.clock", "path.overlap",
                              "fluid.flashing", "pipe.wall-conflict", "sensors.invented"}) {
    CAPTURE(id);
    CHECK(find_check(id));
  }
}

TEST_CASE("check table: ids are area.what", "[planning]") {
  const std::set<std::string_view> areas{"run", "mount", "path", "sensors", "signal",
                                         "kit", "fluid", "flow", "pipe",    "job"};
  for (const CheckInfo& row : check_table()) {
    CAPTURE(row.id);
    const std::size_t dot = row.id.find('.');
    REQUIRE(dot != row.id.npos);
    CHECK(areas.count(row.id.substr(0, dot)) == 1);
    // Small letters; dots and hyphens stand alone between them.
    CHECK(row.id.find_first_not_of("abcdefghijklmnopqrstuvwxyz.-") == row.id.npos);
    for (std::string_view pair : {"..", "--", ".-", "-."}) CHECK(row.id.find(pair) == row.id.npos);
    CHECK(row.id.back() != '.');
    CHECK(row.id.back() != '-');
  }
}

TEST_CASE("check table: every text is there, on one line, with known placeholders", "[planning]") {
  const std::set<std::string> known{"0", "1", "2", "3", "s", "d"};
  for (const CheckInfo& row : check_table()) {
    CAPTURE(row.id);
    for (std::string_view text : {row.rule, row.message, row.mend, row.source}) {
      CHECK(text.size() > 3);
      CHECK(text.find('\n') == text.npos);
      CHECK(text.front() != ' ');
      CHECK(text.back() != ' ');
      CHECK(text.find("  ") == text.npos);
    }
    CHECK(row.message.back() == '.');
    CHECK(row.mend.back() == '.');
    CHECK(placeholders(row.rule).empty());
    CHECK(placeholders(row.source).empty());
    for (const std::string& one : placeholders(row.message)) {
      CAPTURE(one);
      CHECK(known.count(one) == 1);
    }
    // A number that the JSON gives out as measured or required is said in the text too.
    if (row.has_measured) CHECK(placeholders(row.message).count("0") == 1);
    if (row.has_required) {
      CHECK(placeholders(std::string(row.message) + std::string(row.mend)).count("1") == 1);
    }
    for (const std::string& one : placeholders(row.mend)) CHECK(known.count(one) == 1);
    CHECK_FALSE(basis_name(row.basis).empty());
  }
}

TEST_CASE("check table: what a rule may do follows from its basis", "[planning]") {
  for (const CheckInfo& row : check_table()) {
    CAPTURE(row.id);
    // DESIGN section 8: rules from memory or proposal may caution, never stop.
    if (row.basis == Basis::proposal) CHECK(row.worst != Severity::stop);
    if (row.worst == Severity::stop) CHECK(row.source.find("from memory") == row.source.npos);
    // Only a stop can be accepted.
    if (row.acceptable) CHECK(row.worst == Severity::stop);
  }
}

TEST_CASE("check table: an unknown input is a caution", "[planning]") {
  // DESIGN section 8: silence is never go.
  std::size_t unknown = 0;
  for (const CheckInfo& row : check_table()) {
    if (!row.id.ends_with(".unknown") && row.id != "flow.unknown") continue;
    ++unknown;
    CAPTURE(row.id);
    CHECK(row.worst == Severity::caution);
    CHECK_FALSE(row.acceptable);
  }
  CHECK(unknown >= 12);
}

TEST_CASE("check table: physics cannot be accepted away", "[planning]") {
  for (std::string_view id : {"path.no-ray", "path.no-wave", "path.overlap", "sensors.invented",
                              "sensors.temperature", "fluid.freezing", "flow.velocity.slip"}) {
    CAPTURE(id);
    REQUIRE(find_check(id));
    CHECK_FALSE(find_check(id)->acceptable);
  }
  // What a site may decide to live with.
  for (std::string_view id : {"run.upstream", "run.downstream", "mount.clock"}) {
    CAPTURE(id);
    CHECK(find_check(id)->acceptable);
  }
}

TEST_CASE("check table: names for output", "[planning]") {
  CHECK(severity_name(Severity::stop) == "stop");
  CHECK(severity_name(Severity::caution) == "caution");
  CHECK(severity_name(Severity::note) == "note");
  CHECK(verdict_name(Verdict::go) == "go");
  CHECK(verdict_name(Verdict::caution) == "caution");
  CHECK(verdict_name(Verdict::stop) == "stop");
}
