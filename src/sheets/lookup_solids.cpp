#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "lookup_parts.hpp"
#include "slantrule/sheets/lookup_sheet.hpp"
#include "slantrule/sheets/text_layout.hpp"
#include "slantrule/units/quantity.hpp"
#include "slantrule/units/suggest.hpp"

namespace slantrule {
namespace {

const SolidRecord* built_in(std::string_view key) {
  const auto rows = built_in_solids();
  const auto row = std::ranges::find(rows, key, &SolidRecord::key);
  return row == rows.end() ? nullptr : &*row;
}

/// Key of the recommended row that a row is evidence of: the longest recommended key that it
/// continues ("copper_e494": "copper"); its own key where there is none.
std::string_view plain_key(std::string_view key) {
  std::string_view plain;
  for (const SolidRecord& row : built_in_solids()) {
    if (!row.recommended || row.key.size() <= plain.size()) continue;
    const bool continues =
        key.size() > row.key.size() && key.starts_with(row.key) && key[row.key.size()] == '_';
    if (continues || key == row.key) plain = row.key;
  }
  return plain.empty() ? key : plain;
}

SolidMeaning meaning_of(const SolidRecord& row, const Catalogue& catalogue) {
  SolidMeaning meaning;
  meaning.row = &row;
  meaning.recommended = &row;
  meaning.from_user = std::ranges::any_of(catalogue.user_solids(),
                                          [&](const SolidRecord& other) { return &other == &row; });
  meaning.names = names_of(row.key, catalogue.user_solid_names(), built_in_solid_names());
  const std::string folded = folded_name(row.key);
  const std::string_view plain = plain_key(folded);
  for (const SolidRecord& other : built_in_solids()) {
    if (&other == &row || plain_key(other.key) != plain) continue;
    meaning.evidence.push_back(&other);
    if (other.recommended && !row.recommended) meaning.recommended = &other;
  }
  return meaning;
}

bool holds(const SolidRecord& row, const SolidMeaning& meaning, std::string_view text) {
  if (holds_words(text, {row.key, row.name, solid_family_name(row.family)})) return true;
  return std::ranges::any_of(meaning.names,
                             [&](std::string_view name) { return holds_words(text, {name}); });
}

std::vector<SolidMeaning> by_words(std::string_view text, const Catalogue& catalogue) {
  std::vector<SolidMeaning> meanings;
  const auto consider = [&](const SolidRecord& row) {
    SolidMeaning meaning = meaning_of(row, catalogue);
    if (text.empty() || holds(row, meaning, text)) meanings.push_back(std::move(meaning));
  };
  for (const SolidRecord& row : catalogue.user_solids()) consider(row);
  for (const SolidRecord& row : built_in_solids()) {
    const bool overridden = std::ranges::any_of(
        catalogue.user_solids(),
        [&](const SolidRecord& other) { return folded_name(other.key) == row.key; });
    if (row.recommended && !overridden) consider(row);
  }
  return meanings;
}

std::optional<SpeedSpread> spread(const SolidMeaning& meaning, double SolidRecord::*speed) {
  SpeedSpread spread{0, 0, 0};
  const auto count = [&](const SolidRecord& row) {
    if (!row.usable || !std::isfinite(row.*speed)) return;
    spread.least_m_s = spread.rows ? std::min(spread.least_m_s, row.*speed) : row.*speed;
    spread.greatest_m_s = std::max(spread.greatest_m_s, row.*speed);
    ++spread.rows;
  };
  count(*meaning.row);
  for (const SolidRecord* row : meaning.evidence) count(*row);
  return spread.rows > 1 ? std::optional(spread) : std::nullopt;
}

std::string_view standing(const SolidMeaning& meaning) {
  if (meaning.from_user) return "yours";
  if (!meaning.row->usable) return "do not use";
  return meaning.row->recommended ? "recommended" : "evidence";
}

// ---------------------------------------------------------------- text

class SolidText {
 public:
  SolidText(const SolidLookup& lookup, const Display& display)
      : lookup_(lookup), display_(display) {}

  std::string build() {
    // More than these are a list to choose from.
    constexpr std::size_t most_in_full = 3;
    if (lookup_.readings.empty() && lookup_.meanings.size() > most_in_full) {
      list();
      return lines_.text();
    }
    if (!lookup_.message.empty()) {
      lines_.wrap(safe(lookup_.message));
      lines_.add();
    }
    for (const SolidMeaning& meaning : lookup_.meanings) {
      if (&meaning != &lookup_.meanings.front()) lines_.add();
      in_full(meaning);
    }
    if (!lookup_.nearest.empty()) {
      lines_.add();
      lines_.wrap(safe(fmt::format("{}", fmt::join(lookup_.nearest, ", "))), "see also: ", "  ");
    }
    return lines_.text();
  }

 private:
  std::string safe(std::string_view text) const { return job_text(text, display_); }
  bool us() const { return display_.units == UnitSystem::us; }

  std::string speed(double speed_m_s) const {
    if (!std::isfinite(speed_m_s)) return "-";
    return fmt::format("{:.0f}",
                       us() ? in_unit(speed_m_s, Dimension::velocity, "ft/s") : speed_m_s);
  }
  std::string speed_unit() const { return us() ? "ft/s" : "m/s"; }
  std::string density(double density_kg_m3) const {
    if (!std::isfinite(density_kg_m3)) return "-";
    if (us()) return fmt::format("{:.1f}", in_unit(density_kg_m3, Dimension::density, "lb/ft3"));
    return fmt::format("{:.0f}", density_kg_m3);
  }
  std::string density_unit() const { return us() ? "lb/ft3" : "kg/m3"; }

  std::string wave(double speed_m_s, double u_m_s, double slope_m_s_K) const {
    if (!std::isfinite(speed_m_s)) return "no usable speed is known";
    std::string text =
        fmt::format("{} {} +- {} ({:.1f} %, k=1) at {}", speed(speed_m_s), speed_unit(),
                    speed(u_m_s), 100 * u_m_s / speed_m_s, temperature_text(293.15, display_));
    if (std::isfinite(slope_m_s_K)) {
      text += us() ? fmt::format(", {:+.2f} ft/s/degF",
                                 in_unit(slope_m_s_K, Dimension::speed_slope, "ft/s/degF"))
                   : fmt::format(", {:+.2f} m/s/K", slope_m_s_K);
    } else {
      text += ", change with temperature not known";
    }
    return text;
  }

  void list() {
    std::size_t width = 0;
    for (const SolidMeaning& one : lookup_.meanings) width = std::max(width, one.row->key.size());
    width = std::min<std::size_t>(width, 28);
    lines_.add(fmt::format("{} solids; look one up by its key for evidence and sources",
                           lookup_.meanings.size()));
    lines_.wrap(
        fmt::format("Longitudinal (L) speed with standard uncertainty and transverse (T) "
                    "speed in {} at 20 degC (68 degF); density in {}.",
                    speed_unit(), density_unit()));
    lines_.add(fmt::format("{:<{}} {:>5} {:>5} {:>5} {:>6}  {}", "key", width, "L", "+-", "T",
                           "dens", "name"));
    for (const SolidMeaning& meaning : lookup_.meanings) {
      const SolidRecord& row = *meaning.row;
      const std::string start =
          fmt::format("{} {:>5} {:>5} {:>5} {:>6}  ", padded(safe(row.key), width),
                      speed(row.longitudinal_m_s), speed(standard_u_longitudinal_m_s(row)),
                      speed(row.shear_m_s), density(row.density_kg_m3));
      lines_.wrap(safe(row.name), start, std::string(start.size(), ' '));
    }
  }

  void in_full(const SolidMeaning& meaning) {
    const SolidRecord& row = *meaning.row;
    lines_.wrap(safe(fmt::format("{}: {}", row.key, row.name)));
    std::string stands = fmt::format("{}, ", solid_family_name(row.family));
    if (meaning.from_user) {
      stands += "from your own catalogue, before any built-in row";
    } else if (!row.usable) {
      stands += "DO NOT USE: shows a trap, never planned with";
    } else if (row.recommended) {
      stands += "recommended: planned with";
    } else {
      stands += "evidence: planned with only where a job gives this full key";
    }
    lines_.field("standing", stands);
    lines_.field("longitudinal", wave(row.longitudinal_m_s, standard_u_longitudinal_m_s(row),
                                      row.longitudinal_slope_m_s_K));
    lines_.field("shear", wave(row.shear_m_s, standard_u_shear_m_s(row), row.shear_slope_m_s_K));
    if (std::isfinite(row.density_kg_m3)) {
      lines_.field("density", density(row.density_kg_m3) + " " + density_unit());
    }
    lines_.field("attenuation", safe(row.attenuation_note));
    lines_.field("also called", safe(name_list(meaning.names, 12)));
    lines_.field("source", safe(source_text(row.source, row.confidence)));
    evidence(meaning);
  }

  void evidence(const SolidMeaning& meaning) {
    if (meaning.evidence.empty()) return;
    const SolidRecord& base = *meaning.recommended;
    lines_.add();
    lines_.add(fmt::format("  {:<32} {:>8} {:>8} {:>7} {:>11}", "EVIDENCE", "L " + speed_unit(),
                           "T " + speed_unit(), density_unit(), "L off"));
    for (const SolidRecord* other : meaning.evidence) {
      lines_.add(fmt::format(
          "  {} {:>8} {:>8} {:>7} {:>11}", padded(safe(other->key), 32),
          speed(other->longitudinal_m_s), speed(other->shear_m_s), density(other->density_kg_m3),
          other->usable ? percent_off(other->longitudinal_m_s, base.longitudinal_m_s)
                        : "DO NOT USE"));
      lines_.wrap(safe(fmt::format("{}{}: {}", other == &base ? "recommended: " : "", other->name,
                                   source_text(other->source, other->confidence))),
                  "    ", "    ");
    }
    spread_line("L", longitudinal_spread(meaning), base.longitudinal_m_s);
    spread_line("T", shear_spread(meaning), base.shear_m_s);
  }

  void spread_line(const char* wave, const std::optional<SpeedSpread>& spread, double of_m_s) {
    if (!spread) return;
    std::string text = fmt::format("spread of {}: {} to {} {}", wave, speed(spread->least_m_s),
                                   speed(spread->greatest_m_s), speed_unit());
    if (std::isfinite(of_m_s)) {
      text += fmt::format(", {} to {} from {}", percent_off(spread->least_m_s, of_m_s),
                          percent_off(spread->greatest_m_s, of_m_s), speed(of_m_s));
    }
    lines_.wrap(fmt::format("{}, {} rows", text, spread->rows), "  ", "    ");
  }

  const SolidLookup& lookup_;
  const Display& display_;
  SheetLines lines_;
};

// ---------------------------------------------------------------- JSON

LookupJson row_json(const SolidRecord& row, std::string_view standing) {
  LookupJson out = LookupJson::object();
  put(out, "key", row.key);
  put(out, "name", row.name);
  put(out, "family", solid_family_name(row.family));
  put(out, "standing", standing);
  out["recommended"] = row.recommended;
  out["usable"] = row.usable;
  put(out, "longitudinal_m_s", row.longitudinal_m_s);
  put(out, "u_longitudinal_m_s", standard_u_longitudinal_m_s(row));
  put(out, "shear_m_s", row.shear_m_s);
  put(out, "u_shear_m_s", standard_u_shear_m_s(row));
  put(out, "density_kg_m3", row.density_kg_m3);
  put(out, "longitudinal_slope_m_s_K", row.longitudinal_slope_m_s_K);
  put(out, "shear_slope_m_s_K", row.shear_slope_m_s_K);
  put(out, "attenuation", row.attenuation_note);
  put(out, "confidence", confidence_name(row.confidence));
  put(out, "source", row.source);
  return out;
}

void put_spread(LookupJson& out, const std::string& wave, const std::optional<SpeedSpread>& spread,
                double of_m_s) {
  if (!spread) return;
  out["least_" + wave + "_m_s"] = spread->least_m_s;
  out["greatest_" + wave + "_m_s"] = spread->greatest_m_s;
  if (!std::isfinite(of_m_s)) return;
  out["least_" + wave + "_percent"] = 100 * (spread->least_m_s / of_m_s - 1);
  out["greatest_" + wave + "_percent"] = 100 * (spread->greatest_m_s / of_m_s - 1);
}

LookupJson meaning_json(const SolidMeaning& meaning) {
  LookupJson out = row_json(*meaning.row, standing(meaning));
  out["names"] = meaning.names;
  const SolidRecord& base = *meaning.recommended;
  put_spread(out, "longitudinal", longitudinal_spread(meaning), base.longitudinal_m_s);
  put_spread(out, "shear", shear_spread(meaning), base.shear_m_s);
  out["evidence"] = LookupJson::array();
  for (const SolidRecord* row : meaning.evidence) {
    out["evidence"].push_back(row_json(*row, !row->usable       ? "do not use"
                                             : row->recommended ? "recommended"
                                                                : "evidence"));
  }
  return out;
}

}  // namespace

std::optional<SpeedSpread> longitudinal_spread(const SolidMeaning& meaning) {
  return spread(meaning, &SolidRecord::longitudinal_m_s);
}

std::optional<SpeedSpread> shear_spread(const SolidMeaning& meaning) {
  return spread(meaning, &SolidRecord::shear_m_s);
}

SolidLookup find_solids(std::string_view text, const Catalogue& catalogue) {
  SolidLookup lookup;
  lookup.text = text;
  if (text.empty()) {
    lookup.meanings = by_words(text, catalogue);
    return lookup;
  }
  const auto found = catalogue.solid(text);
  if (found.record) {
    lookup.meanings.push_back(meaning_of(*found.record, catalogue));
    for (const SolidMeaning& other : by_words(text, catalogue)) {
      if (other.row != found.record) lookup.nearest.emplace_back(other.row->key);
    }
    return lookup;
  }
  if (!found.refused.empty()) {
    lookup.message = fmt::format("\"{}\" is refused: {}", shown(text), found.refused);
    return lookup;
  }
  if (!found.readings.empty()) {
    for (std::string_view key : found.readings) {
      lookup.readings.emplace_back(key);
      if (const auto one = catalogue.solid(key); one.record) {
        lookup.meanings.push_back(meaning_of(*one.record, catalogue));
      }
    }
    lookup.message = fmt::format("\"{}\" can mean {}; say which", shown(text),
                                 fmt::join(lookup.readings, " or "));
    return lookup;
  }
  if (const SolidRecord* row = built_in(folded_name(text)); row && !row->usable) {
    lookup.meanings.push_back(meaning_of(*row, catalogue));
    return lookup;
  }
  lookup.meanings = by_words(text, catalogue);
  if (lookup.found()) return lookup;
  for (std::string_view name : found.nearest) lookup.nearest.emplace_back(name);
  lookup.message = nothing_matches("solids", lookup);
  return lookup;
}

std::string text_sheet(const SolidLookup& lookup, const Display& display) {
  return lookup.found() ? SolidText(lookup, display).build() : std::string();
}

std::string json_sheet(const SolidLookup& lookup) {
  LookupJson found = LookupJson::array();
  for (const SolidMeaning& meaning : lookup.meanings) found.push_back(meaning_json(meaning));
  return one_line(lookup_json("solids", lookup, std::move(found)));
}

}  // namespace slantrule
