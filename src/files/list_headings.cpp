#include "list_headings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <span>

#include "slantrule/units/number_text.hpp"
#include "slantrule/units/quantity.hpp"

namespace slantrule {
namespace {

struct KnownHeading {
  std::string_view words, key;
  std::string_view unit = {};  ///< that the words themselves say
};

/// Headings met in public inventories, line lists and thickness surveys, and common ones in other
/// languages (common practice, no source). Folded.
constexpr KnownHeading known_headings[] = {
    {"tag", "tag"},
    {"tag no", "tag"},
    {"tag number", "tag"},
    {"line no", "tag"},
    {"line number", "tag"},
    {"lineno", "tag"},
    {"line", "tag"},
    {"pipe no", "tag"},
    {"pipe id", "tag"},
    {"pipe tag", "tag"},
    {"line tag", "tag"},
    {"asset id", "tag"},
    {"asset", "tag"},
    {"cml", "tag"},
    {"circuit id", "tag"},
    {"watmainid", "tag"},
    {"objectid", "tag"},
    {"description", "title"},
    {"title", "title"},
    {"service description", "title"},
    {"site", "site"},
    {"location", "site"},
    {"building", "site"},
    {"area", "site"},
    {"note", "note"},
    {"notes", "note"},
    {"remark", "note"},
    {"remarks", "note"},
    {"comment", "note"},
    {"comments", "note"},
    {"pipe size", "pipe.size"},
    {"size", "pipe.size"},
    {"line size", "pipe.size"},
    {"nominal size", "pipe.size"},
    {"nominal diameter", "pipe.size"},
    {"nominal bore", "pipe.size"},
    {"nom size", "pipe.size"},
    {"nominal", "pipe.size"},
    {"diameter", "pipe.size"},
    {"dia", "pipe.size"},
    {"pipe diameter", "pipe.size"},
    {"nps", "pipe.size", "NPS"},
    {"dn", "pipe.size", "DN"},
    {"nb", "pipe.size"},
    {"nennweite", "pipe.size", "DN"},
    {"\u0434\u0443", "pipe.size", "DN"},
    {"\u0414\u0443", "pipe.size", "DN"},
    {"od", "pipe.outside_diameter"},
    {"outer diameter", "pipe.outside_diameter"},
    {"outside diameter", "pipe.outside_diameter"},
    {"external diameter", "pipe.outside_diameter"},
    {"pipe od", "pipe.outside_diameter"},
    {"outside dia", "pipe.outside_diameter"},
    {"aussendurchmesser", "pipe.outside_diameter"},
    {"diametre exterieur", "pipe.outside_diameter"},
    {"diametro exterior", "pipe.outside_diameter"},
    {"girth", "pipe.girth"},
    {"circumference", "pipe.girth"},
    {"umfang", "pipe.girth"},
    {"wall", "pipe.wall"},
    {"wall thickness", "pipe.wall"},
    {"wall thk", "pipe.wall"},
    {"wt", "pipe.wall"},
    {"thk", "pipe.wall"},
    {"thickness", "pipe.wall"},
    {"t act", "pipe.wall"},
    {"reading", "pipe.wall"},
    {"reading 1", "pipe.wall"},
    {"reading 2", "pipe.wall"},
    {"reading 3", "pipe.wall"},
    {"reading 4", "pipe.wall"},
    {"last measured", "pipe.wall"},
    {"wandstaerke", "pipe.wall"},
    {"wanddicke", "pipe.wall"},
    {"espesor", "pipe.wall"},
    {"epaisseur", "pipe.wall"},
    {"schedule", "pipe.schedule"},
    {"sch", "pipe.schedule"},
    {"sched", "pipe.schedule"},
    {"cedula", "pipe.schedule"},
    {"pipe schedule", "pipe.schedule"},
    {"pipe class", "pipe.schedule"},
    {"sdr", "pipe.schedule", "SDR"},
    {"material", "pipe.material"},
    {"pipe material", "pipe.material"},
    {"moc", "pipe.material"},
    {"mat", "pipe.material"},
    {"werkstoff", "pipe.material"},
    {"materiau", "pipe.material"},
    {"lining", "pipe.liner"},
    {"liner", "pipe.liner"},
    {"lined", "pipe.liner"},
    {"lined material", "pipe.liner.material"},
    {"lining material", "pipe.liner.material"},
    {"liner material", "pipe.liner.material"},
    {"lining thickness", "pipe.liner.thickness"},
    {"liner thickness", "pipe.liner.thickness"},
    {"orientation", "pipe.orientation"},
    {"fluid", "fluid.name"},
    {"medium", "fluid.name"},
    {"liquid", "fluid.name"},
    {"content", "fluid.name"},
    {"contents", "fluid.name"},
    {"temperature", "fluid.temperature"},
    {"temp", "fluid.temperature"},
    {"fluid temp", "fluid.temperature"},
    {"fluid temperature", "fluid.temperature"},
    {"operating temperature", "fluid.temperature"},
    {"op temp", "fluid.temperature"},
    {"oper temp", "fluid.temperature"},
    {"temperatur", "fluid.temperature"},
    {"pressure", "fluid.pressure"},
    {"operating pressure", "fluid.pressure"},
    {"op press", "fluid.pressure"},
    {"press", "fluid.pressure"},
    {"concentration", "fluid.concentration"},
    {"strength", "fluid.concentration"},
    {"flow", "flow.rate"},
    {"flow rate", "flow.rate"},
    {"flowrate", "flow.rate"},
    {"normal flow", "flow.rate"},
    {"design flow", "flow.rate"},
    {"durchfluss", "flow.rate"},
    {"debit", "flow.rate"},
    {"caudal", "flow.rate"},
    {"min flow", "flow.least"},
    {"minimum flow", "flow.least"},
    {"max flow", "flow.most"},
    {"maximum flow", "flow.most"},
    {"velocity", "flow.velocity"},
    {"upstream", "location.upstream"},
    {"upstream fitting", "location.upstream"},
    {"upstream fittings", "location.upstream"},
    {"downstream", "location.downstream"},
    {"downstream fitting", "location.downstream"},
    {"downstream fittings", "location.downstream"},
    {"straight upstream", "location.upstream"},
    {"upstream straight", "location.upstream"},
    {"straight downstream", "location.downstream"},
    {"downstream straight", "location.downstream"},
    {"straight run", "location.straight"},
    {"clock", "location.clock"},
    {"clock position", "location.clock"},
    {"couplant", "couplant"},
    {"sensors", "sensors"},
    {"sensor pair", "sensors"},
};

/// Headings that mean different things in different lists: asked, never proposed.
constexpr KnownHeading unclear_headings[] = {
    {"id", "the inside diameter, or the number of the record"},
    {"di", "the inside diameter, which a list does not take: state the wall"},
    {"id mm", "the inside diameter, which a list does not take: state the wall"},
    {"inside diameter", "the inside diameter, which a list does not take: state the wall"},
    {"inner diameter", "the inside diameter, which a list does not take: state the wall"},
    {"bore", "the inside diameter, which a list does not take: state the wall"},
    {"coating", "a lining inside, or a coating outside"},
    {"t", "the wall or the temperature"},
    {"e", "the wall"},
    {"s", "the wall"},
    {"insulation type",
     "insulation, which is no layer for the sound; location.insulation says "
     "none, opened or refitted"},
    {"nominal mm", "the nominal size, or the nominal wall"},
    {"orig thick", "the wall when new; the present one is wanted"},
    {"min mm", "the least reading; the mean of all is wanted"},
    {"class", "a pressure class or a schedule"},
    {"service", "the liquid, or what the line serves"},
    {"uom", "the unit of another column: map it as \"unit of HEADING\""},
    {"unit", "the unit of another column: map it as \"unit of HEADING\""},
    {"units", "the unit of another column: map it as \"unit of HEADING\""},
};

/// Units that stand at the end of a heading without brackets: "pipe od inch", "temp degc".
constexpr KnownHeading trailing_units[] = {
    {"mm", "mm"},      {"inch", "in"},    {"inches", "in"},  {"in", "in"},   {"degc", "degC"},
    {"deg c", "degC"}, {"degf", "degF"},  {"deg f", "degF"}, {"c", "degC"},  {"f", "degF"},
    {"m3h", "m3/h"},   {"m3/h", "m3/h"},  {"l/s", "l/s"},    {"gpm", "gpm"}, {"m/s", "m/s"},
    {"barg", "barg"},  {"bar g", "barg"}, {"psig", "psig"},  {"cm", "cm"},   {"lps", "l/s"},
};

const KnownHeading* find(std::span<const KnownHeading> list, std::string_view words) {
  const auto found = std::ranges::find(list, words, &KnownHeading::words);
  return found == list.end() ? nullptr : &*found;
}

}  // namespace

HeadingParts heading_parts(std::string_view heading) {
  const auto trim = [](std::string_view text) {
    const std::size_t first = text.find_first_not_of(" \t\r\n");
    if (first == std::string_view::npos) return std::string_view();
    return text.substr(first, text.find_last_not_of(" \t\r\n") - first + 1);
  };
  heading = trim(heading);
  for (const auto& [open, close] : {std::pair{'[', ']'}, std::pair{'(', ')'}}) {
    if (!heading.ends_with(close)) continue;
    const std::size_t at = heading.rfind(open);
    if (at == std::string_view::npos || at == 0) continue;
    return {trim(heading.substr(0, at)), trim(heading.substr(at + 1, heading.size() - at - 2))};
  }
  return {heading, {}};
}

std::string folded_heading(std::string_view heading) {
  const std::string plain = plain_text(heading);
  std::string out;
  const auto lower = [](char c) { return c >= 'a' && c <= 'z'; };
  const auto upper = [](char c) { return c >= 'A' && c <= 'Z'; };
  const auto digit = [](char c) { return c >= '0' && c <= '9'; };
  char before = ' ';
  for (char c : plain) {
    const bool mark = c == '_' || c == '-' || c == '.' || c == ' ' || c == ':' || c == '\n' ||
                      c == '\r' || c == '\t' || c == '*';
    const bool new_word = upper(c) && lower(before);
    const bool new_number = digit(c) && lower(before) && out.size() > 3;
    if ((mark || new_word || new_number) && !out.empty() && out.back() != ' ') out += ' ';
    if (!mark) out += upper(c) ? static_cast<char>(c - 'A' + 'a') : c;
    before = c;
  }
  while (out.ends_with(' ')) out.pop_back();
  return out;
}

std::optional<HeadingMeaning> heading_meaning(std::string_view heading) {
  const HeadingParts parts = heading_parts(heading);
  std::string words = folded_heading(parts.name);
  std::string unit(parts.unit);
  if (const KnownHeading* unclear = find(unclear_headings, words)) {
    return HeadingMeaning{{}, {}, fmt::format("can be {}", unclear->key)};
  }
  const KnownHeading* known = find(known_headings, words);
  if (!known && unit.empty()) {
    for (const KnownHeading& trailing : trailing_units) {
      if (!words.ends_with(trailing.words)) continue;
      const std::size_t rest = words.size() - trailing.words.size();
      if (rest < 2 || words[rest - 1] != ' ') continue;
      const std::string front = words.substr(0, rest - 1);
      if (const KnownHeading* unclear = find(unclear_headings, front)) {
        return HeadingMeaning{{}, {}, fmt::format("can be {}", unclear->key)};
      }
      if (!find(known_headings, front)) continue;
      known = find(known_headings, front);
      unit = trailing.key;
      break;
    }
  }
  if (!known) return std::nullopt;
  if (unit.empty()) unit = known->unit;
  // A size in millimetres is either nominal or measured, which the heading does not tell.
  const bool size = known->key == "pipe.size";
  std::string why = fmt::format("the heading says \"{}\"", known->words);
  if (size && (unit == "mm" || unit == "in" || unit == "inch")) {
    return HeadingMeaning{
        {},
        {},
        fmt::format("can be a nominal size (pipe.size [{}]) or a measured diameter "
                    "(pipe.outside_diameter [{}])",
                    unit == "mm" ? "DN" : "NPS", unit == "mm" ? "mm" : "in")};
  }
  return HeadingMeaning{known->key, unit, why};
}

}  // namespace slantrule
