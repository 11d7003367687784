#include "list_headings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <span>

#include "slantrule/files/text_encoding.hpp"
#include "slantrule/units/ascii.hpp"
#include "slantrule/units/number_text.hpp"
#include "slantrule/units/quantity.hpp"

namespace slantrule {
namespace {

struct KnownHeading {
  std::string_view words, key;
  std::string_view unit = {};  ///< that the words themselves say
};

/// Headings met in public inventories, line lists and thickness surveys, and common ones in other
/// languages (common practice, no source). Folded: small letters, without accents.
constexpr KnownHeading known_headings[] = {
    // The likeliest first: the number of a pipe rather than of its loop, area or record.
    {"tag", "tag"},
    {"tag no", "tag"},
    {"tag number", "tag"},
    {"pipe tag", "tag"},
    {"line tag", "tag"},
    {"line number", "tag"},
    {"line no", "tag"},
    {"lineno", "tag"},
    {"line", "tag"},
    {"pipe no", "tag"},
    {"pipe id", "tag"},
    {"cml", "tag"},
    {"asset id", "tag"},
    {"asset", "tag"},
    {"watmainid", "tag"},
    {"facilityid", "tag"},
    {"facility id", "tag"},
    {"failure id", "tag"},
    {"circuit id", "tag"},
    {"objectid", "tag"},
    {"oznaczenie", "tag"},
    {"oznaka", "tag"},
    {"kks", "tag"},
    {"pos", "tag"},
    {"ref", "tag"},
    {"description", "title"},
    {"title", "title"},
    {"service description", "title"},
    {"наименование", "title"},
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
    {"bemerkung", "note"},
    {"bemerkungen", "note"},
    {"observaciones", "note"},
    {"remarques", "note"},
    {"uwagi", "note"},
    {"napomena", "note"},
    {"примечание", "note"},
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
    {"diam", "pipe.size"},
    {"pipe dia", "pipe.size"},
    {"nominal dia", "pipe.size"},
    {"nom dia", "pipe.size"},
    {"nom diameter", "pipe.size"},
    {"org diameter", "pipe.size"},
    {"rr diameter", "pipe.size"},
    {"durchmesser", "pipe.size"},
    {"rohrdurchmesser", "pipe.size"},
    {"diametre", "pipe.size"},
    {"diametre nominal", "pipe.size", "DN"},
    {"diametro", "pipe.size"},
    {"diametro nominal", "pipe.size"},
    {"diametro nominale", "pipe.size"},
    {"srednica", "pipe.size"},
    {"srednica kanalu", "pipe.size"},
    {"srednica rury", "pipe.size"},
    {"srednica nominalna", "pipe.size", "DN"},
    {"promjer", "pipe.size"},
    {"nazivni promjer", "pipe.size", "DN"},
    {"диаметр", "pipe.size"},
    {"размер трубы", "pipe.size"},
    {"nps", "pipe.size", "NPS"},
    {"dn", "pipe.size", "DN"},
    {"nb", "pipe.size"},
    {"nennweite", "pipe.size", "DN"},
    {"\u0434\u0443", "pipe.size", "DN"},
    {"дн", "pipe.size", "DN"},
    {"od", "pipe.outside_diameter"},
    {"o d", "pipe.outside_diameter"},
    {"da", "pipe.outside_diameter"},
    {"outer diameter", "pipe.outside_diameter"},
    {"outside diameter", "pipe.outside_diameter"},
    {"external diameter", "pipe.outside_diameter"},
    {"pipe od", "pipe.outside_diameter"},
    {"outside dia", "pipe.outside_diameter"},
    {"aussendurchmesser", "pipe.outside_diameter"},
    {"diametro esterno", "pipe.outside_diameter"},
    {"srednica zewnetrzna", "pipe.outside_diameter"},
    {"vanjski promjer", "pipe.outside_diameter"},
    {"наружный диаметр", "pipe.outside_diameter"},
    {"diametre exterieur", "pipe.outside_diameter"},
    {"diametro exterior", "pipe.outside_diameter"},
    {"girth", "pipe.girth"},
    {"circumference", "pipe.girth"},
    {"umfang", "pipe.girth"},
    {"wall", "pipe.wall"},
    {"wall thickness", "pipe.wall"},
    {"wall thk", "pipe.wall"},
    {"pipe wall", "pipe.wall"},
    {"pipe wall thickness", "pipe.wall"},
    {"w t", "pipe.wall"},
    {"tml", "pipe.wall"},
    {"wt", "pipe.wall"},
    {"thk", "pipe.wall"},
    {"thickness", "pipe.wall"},
    {"t act", "pipe.wall"},
    {"reading", "pipe.wall"},
    {"last measured", "pipe.wall"},
    {"wandstaerke", "pipe.wall"},
    {"wandstarke", "pipe.wall"},
    {"grubosc scianki", "pipe.wall"},
    {"debljina stijenke", "pipe.wall"},
    {"espesor de pared", "pipe.wall"},
    {"spessore", "pipe.wall"},
    {"epaisseur de paroi", "pipe.wall"},
    {"толщина стенки", "pipe.wall"},
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
    {"dr", "pipe.schedule", "SDR"},
    {"material", "pipe.material"},
    {"pipe material", "pipe.material"},
    {"moc", "pipe.material"},
    {"mat", "pipe.material"},
    {"matl", "pipe.material"},
    {"pipe mat", "pipe.material"},
    {"pipe matl", "pipe.material"},
    {"org material", "pipe.material"},
    {"rrps material", "pipe.material"},
    {"cod material", "pipe.material"},
    {"materijal", "pipe.material"},
    {"materiale", "pipe.material"},
    {"материал", "pipe.material"},
    {"werkstoff", "pipe.material"},
    {"materiau", "pipe.material"},
    {"lining", "pipe.liner"},
    {"liner", "pipe.liner"},
    {"lined", "pipe.liner"},
    {"internal lining", "pipe.liner"},
    {"auskleidung", "pipe.liner"},
    {"revestimiento", "pipe.liner"},
    {"revestimiento interior", "pipe.liner"},
    {"revetement interieur", "pipe.liner"},
    {"obloga", "pipe.liner"},
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
    {"fluido", "fluid.name"},
    {"fluide", "fluid.name"},
    {"czynnik", "fluid.name"},
    {"medij", "fluid.name"},
    {"среда", "fluid.name"},
    {"temperature", "fluid.temperature"},
    {"temp", "fluid.temperature"},
    {"fluid temp", "fluid.temperature"},
    {"fluid temperature", "fluid.temperature"},
    {"operating temperature", "fluid.temperature"},
    {"op temp", "fluid.temperature"},
    {"oper temp", "fluid.temperature"},
    {"temperatur", "fluid.temperature"},
    {"temperatura", "fluid.temperature"},
    {"температура", "fluid.temperature"},
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
    {"volumenstrom", "flow.rate"},
    {"przeplyw", "flow.rate"},
    {"protok", "flow.rate"},
    {"portata", "flow.rate"},
    {"расход", "flow.rate"},
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
    {"upstream distance", "location.upstream"},
    {"distance upstream", "location.upstream"},
    {"downstream distance", "location.downstream"},
    {"distance downstream", "location.downstream"},
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
    {"orig thickness", "the wall when new; the present one is wanted"},
    {"original thickness", "the wall when new; the present one is wanted"},
    {"nominal thickness", "the wall when new; the present one is wanted"},
    {"nominal wall", "the wall when new; the present one is wanted"},
    {"nom wall", "the wall when new; the present one is wanted"},
    {"nom thk", "the wall when new; the present one is wanted"},
    {"design thickness", "the wall when new; the present one is wanted"},
    {"min mm", "the least reading; the mean of all is wanted"},
    {"class", "a pressure class or a schedule"},
    {"service", "the liquid, or what the line serves"},
    {"uom", "the unit of another column: map it as \"unit of HEADING, HEADING\""},
    {"unit", "the unit of another column: map it as \"unit of HEADING, HEADING\""},
    {"units", "the unit of another column: map it as \"unit of HEADING, HEADING\""},
};

/// Numbers of rows.
constexpr KnownHeading unused_headings[] = {
    {"lp", {}},   {"no", {}},    {"nr", {}},    {"lfd nr", {}},
    {"r br", {}}, {"rb", {}},    {"row", {}},   {"row no", {}},
    {"s no", {}}, {"sl no", {}}, {"sr no", {}}, {"no \u043F/\u043F", {}},
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

/// Readings of a wall are numbered: "reading 3", "tml-1".
const KnownHeading* find_known(std::string_view words) {
  if (const KnownHeading* known = find(known_headings, words)) return known;
  const std::string_view front = without_number(words);
  const KnownHeading* numbered = front == words ? nullptr : find(known_headings, front);
  return numbered && numbered->key == "pipe.wall" ? numbered : nullptr;
}

bool says_nominal(const KnownHeading& known) {
  if (known.words.starts_with("nom")) return true;
  return known.unit == "DN" || known.unit == "NPS";
}

/// Letters without their marks from U+00C0 on (Latin-1 and Latin Extended-A), four of them written
/// with two.
constexpr std::u32string_view marked_to_plain =
    U"AAAAAA\u00C6CEEEEIIIIDNOOOOO\u00D7OUUUUY\u00DE\u00DF"
    U"aaaaaa\u00E6ceeeeiiiidnooooo\u00F7ouuuuy\u00FEy"
    U"AaAaAaCcCcCcCcDdDdEeEeEeEeEeGgGgGgGgHhHhIiIiIiIiIi\u0132\u0133JjKkkLlLlLlLlLlNnNnNnnNn"
    U"OoOoOo\u0152\u0153RrRrRrSsSsSsSsTtTtTtUuUuUuUuUuUuWwYyYZzZzZzs";

std::string_view letter_pair(char32_t c) {
  switch (c) {
    case 0xC6:
      return "AE";
    case 0xE6:
      return "ae";
    case 0xDF:
      return "ss";
    case 0x152:
      return "OE";
    case 0x153:
      return "oe";
    default:
      return {};
  }
}

/// Small letter of Greek and Cyrillic, "\u0451" as "\u0435"; others as they are.
char32_t small_letter(char32_t c) {
  if (c >= 0x391 && c <= 0x3A9) return c + 0x20;
  if (c >= 0x410 && c <= 0x42F) c += 0x20;
  if (c >= 0x400 && c <= 0x40F) c += 0x50;
  return c == 0x451 ? 0x435 : c;
}

/// Accents dropped; Greek and Cyrillic in small letters. What is no UTF-8 stays as it is.
std::string without_accents(std::string_view text) {
  std::string out;
  while (!text.empty()) {
    const std::size_t bytes = std::max<std::size_t>(utf8_sequence_bytes(text), 1);
    const std::string_view sequence = text.substr(0, bytes);
    text.remove_prefix(bytes);
    if (bytes != 2) {
      out += sequence == "\u2116" ? std::string_view("no") : sequence;
      continue;
    }
    const char32_t c = (static_cast<char32_t>(sequence[0] & 0x1F) << 6) |
                       static_cast<char32_t>(sequence[1] & 0x3F);
    if (c >= 0x300 && c <= 0x36F) continue;
    if (const std::string_view pair = letter_pair(c); !pair.empty()) {
      out += pair;
    } else if (c >= 0xC0 && c < 0xC0 + marked_to_plain.size()) {
      append_character(marked_to_plain[c - 0xC0], out);
    } else {
      append_character(small_letter(c), out);
    }
  }
  return out;
}

}  // namespace

HeadingParts heading_parts(std::string_view heading) {
  heading = trimmed(heading);
  for (const auto& [open, close] : {std::pair{'[', ']'}, std::pair{'(', ')'}}) {
    if (!heading.ends_with(close)) continue;
    const std::size_t at = heading.rfind(open);
    if (at == std::string_view::npos || at == 0) continue;
    return {trimmed(heading.substr(0, at)),
            trimmed(heading.substr(at + 1, heading.size() - at - 2))};
  }
  return {heading, {}};
}

std::string folded_heading(std::string_view heading) {
  const std::string plain = without_accents(plain_text(heading));
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

std::string_view without_number(std::string_view words) {
  const std::size_t last = words.find_last_not_of("0123456789 ");
  return last == std::string_view::npos ? words : words.substr(0, last + 1);
}

WallRole wall_role(std::string_view words) {
  const auto has = [&](std::string_view word) {
    return words.find(word) != std::string_view::npos;
  };
  if (has("nom") || has("orig") || has("org ") || has("new") || has("design")) {
    return WallRole::when_new;
  }
  const bool measured = has("reading") || has("measured") || has("act") || has("tml");
  return measured ? WallRole::measured : WallRole::unsaid;
}

std::optional<HeadingMeaning> heading_meaning(std::string_view heading) {
  const HeadingParts parts = heading_parts(heading);
  std::string words = folded_heading(parts.name);
  std::string unit(parts.unit);
  const auto unused = [&](const KnownHeading& unclear) {
    return HeadingMeaning{{}, {}, fmt::format("can be {}", unclear.key), words, 0};
  };
  if (const KnownHeading* unclear = find(unclear_headings, words)) return unused(*unclear);
  if (find(unused_headings, words)) {
    return HeadingMeaning{{}, {}, "not used: the number of the row", words, 0};
  }
  const KnownHeading* known = find_known(words);
  if (!known && unit.empty()) {
    for (const KnownHeading& trailing : trailing_units) {
      if (!words.ends_with(trailing.words)) continue;
      const std::size_t rest = words.size() - trailing.words.size();
      if (rest < 2 || words[rest - 1] != ' ') continue;
      const std::string front = words.substr(0, rest - 1);
      if (const KnownHeading* unclear = find(unclear_headings, front)) return unused(*unclear);
      known = find_known(front);
      if (!known) continue;
      unit = trailing.key;
      words = front;
      break;
    }
  }
  if (!known) return std::nullopt;
  const auto rank = static_cast<std::size_t>(known - std::begin(known_headings));
  const bool mm = unit == "mm", inch = unit == "in" || unit == "inch";
  // What calls itself nominal is a size of the series of that unit.
  if (known->key == "pipe.size" && (mm || inch) && says_nominal(*known)) unit = mm ? "DN" : "NPS";
  if (unit.empty()) unit = known->unit;
  std::string why = fmt::format("the heading says \"{}\"", known->words);
  // A size in millimetres is either nominal or measured, which the heading does not tell.
  if (known->key == "pipe.size" && (unit == "mm" || unit == "in" || unit == "inch")) {
    return HeadingMeaning{
        {},
        {},
        fmt::format("can be a nominal size (pipe.size [{}]) or a measured diameter "
                    "(pipe.outside_diameter [{}])",
                    mm ? "DN" : "NPS", mm ? "mm" : "in"),
        words,
        rank};
  }
  return HeadingMeaning{known->key, unit, why, words, rank};
}

}  // namespace slantrule
