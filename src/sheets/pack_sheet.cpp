#include "slantrule/sheets/pack_sheet.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "json_parts.hpp"
#include "pack_lines.hpp"
#include "slantrule/sheets/text_layout.hpp"

namespace slantrule {
namespace {

/// Rows named in the text behind an item; JSON names PackRows::most_examples.
constexpr std::size_t most_rows_in_text = 12;

/// The letter that tells where a rule comes from.
char basis_letter(Basis basis) {
  switch (basis) {
    case Basis::published:
      return 's';
    case Basis::physics:
      return 'k';
    case Basis::common_practice:
      return 'c';
    case Basis::proposal:
      return 'p';
  }
  return '?';
}

void append(std::string& out, const std::vector<std::string>& lines) {
  for (const std::string& line : lines) out += line + '\n';
}

std::string joined(const std::vector<std::string>& texts) {
  std::string out;
  for (const std::string& one : texts) {
    // Behind a sentence none is needed.
    out += out.empty() ? "" : out.ends_with('.') ? " " : "; ";
    out += one;
  }
  return out;
}

void append_line(std::string& out, const PackLine& line, const Display& display) {
  constexpr std::size_t left_columns = 64;
  const bool counted = line.number > 0 && !line.tells_number;
  std::string item = counted ? fmt::format("{} x {}", line.number, line.item) : line.item;
  std::vector<std::string> head = wrapped(item, line.box ? "[ ] " : "    ", "    ", left_columns);
  const std::string pipes = line.rows.count() > 0 ? pipes_text(line.rows.count()) : "";
  head.front() = padded(head.front(), left_columns) +
                 fmt::format("{:>14} {}", pipes, basis_letter(line.basis));
  append(out, head);
  if (!line.warning.empty()) append(out, wrapped(line.warning, "      ", "      "));
  if (!line.details.empty()) append(out, wrapped(joined(line.details), "      ", "      "));
  if (line.rows.count() > 0 && !line.every_pipe) {
    append(out, wrapped("rows " + rows_text(line.rows, most_rows_in_text, display), "      ",
                        "        "));
  }
}

std::string counts_words(const PackReport& report) {
  const std::size_t rows = report.load.count() + report.stopped.count() + report.refused.count();
  std::string out =
      fmt::format("{} row{}: {} to load for, {} stopped, {} refused.", rows, rows == 1 ? "" : "s",
                  report.load.count(), report.stopped.count(), report.refused.count());
  if (const std::size_t all = report.unserved.count(); all > 0) {
    const std::size_t loaded = report.unserved_loaded.count();
    out +=
        fmt::format(" {} NOT SERVED by what is at hand: {} to load for all the same, {} stopped.",
                    pipes_text(all), loaded, all - loaded);
  }
  if (report.may_lack.count() > 0) {
    out += fmt::format(" {} NOT SERVED by one of their readings.",
                       pipes_text(report.may_lack.count()));
  }
  out += report.at_once == 1
             ? " One pipe is measured at a time."
             : fmt::format(" {} pipes are measured at the same time.", report.at_once);
  return out;
}

// ---------------------------------------------------------------- CSV

/// The warning first.
std::vector<std::string> texts_of(const PackLine& line) {
  std::vector<std::string> out = line.details;
  if (!line.warning.empty()) out.insert(out.begin(), line.warning);
  return out;
}

std::string cell(std::string text) {
  if (!text.empty() && std::string_view("=+-@\t\r").find(text.front()) != std::string_view::npos) {
    text.insert(text.begin(), '\'');
  }
  if (text.find_first_of(",;\"\n\r") == std::string::npos) return text;
  std::string out = "\"";
  for (char c : text) out += c == '"' ? std::string("\"\"") : std::string(1, c);
  return out + "\"";
}

// ---------------------------------------------------------------- JSON

Json& put_rows(Json& object, const PackRows& rows) {
  object["pipes"] = rows.count();
  Json list = Json::array();
  for (const PackRow& one : rows.examples()) {
    Json row = Json::object();
    row["row"] = one.row;
    put(row, "tag", one.tag);
    list.push_back(std::move(row));
  }
  object["rows"] = std::move(list);
  return object;
}

Json rows_json(const PackRows& rows) {
  Json out = Json::object();
  return put_rows(out, rows);
}

/// [ least, greatest ]; left out where there is none.
void put_span(Json& object, const char* key, const PackRange& span, double factor = 1,
              double offset = 0) {
  if (!span.empty()) {
    object[key] = {span.least * factor + offset, span.greatest * factor + offset};
  }
}
constexpr double millimetres = 1e3;
void put_lengths(Json& object, const char* key, const PackRange& span) {
  put_span(object, key, span, millimetres);
}
constexpr double celsius = -273.15;
void put_temperatures(Json& object, const char* key, const PackRange& span) {
  put_span(object, key, span, 1, celsius);
}

template <std::size_t N>
Json classes_json(const std::array<double, N>& limits, const PackClasses<N>& classes) {
  Json out = Json::array();
  for (std::size_t i = 0; i <= N; ++i) {
    Json one = Json::object();
    if (i < N) one["to_mm"] = limits[i] * millimetres;
    if (i == N) one["beyond_mm"] = limits[N - 1] * millimetres;
    one["pipes"] = classes.counts[i];
    out.push_back(std::move(one));
  }
  return out;
}

void put_source(Json& object, Basis basis, std::string_view source) {
  object["basis"] = basis_name(basis);
  object["source"] = source;
}

Json sensors_json(const PackReport& report) {
  Json out = Json::array();
  for (const PackPair& pair : report.pairs) {
    Json one = Json::object();
    one["sensors"] = pair.key;
    one["number"] = pair.number;
    one["frequency_MHz"] = pair.frequency_Hz * 1e-6;
    one["invented"] = pair.invented;
    one["must_not_be_mounted"] = pair.invented;
    one["in_kit"] = pair.in_kit;
    put_lengths(one, "outside_diameter_mm", pair.outside_diameter_m);
    put_lengths(one, "mark_spacing_mm", pair.spacing_m);
    put_temperatures(one, "surface_degC", pair.surface_K);
    put_rows(one, pair.rows);
    out.push_back(std::move(one));
  }
  return out;
}

Json rails_json(const PackReport& report) {
  Json out = Json::array();
  for (const PackRail& rail : report.rails) {
    Json one = Json::object();
    one["name"] = rail.rail.name;
    one["number"] = rail.number;
    one["takes_mm"] = {rail.rail.least_spacing_m * millimetres,
                       rail.rail.greatest_spacing_m * millimetres};
    put_lengths(one, "mark_spacing_mm", rail.spacing_m);
    put_rows(one, rail.rows);
    out.push_back(std::move(one));
  }
  return out;
}

Json fixing_json(const PackReport& report) {
  Json out = Json::object();
  Json same = rows_json(report.same_side), opposite = rows_json(report.opposite_sides);
  put_lengths(same, "mark_spacing_mm", report.same_spacing_m);
  put_lengths(same, "overall_length_mm", report.overall_m);
  put_lengths(opposite, "mark_spacing_mm", report.opposite_spacing_m);
  opposite["by_marks"] = report.by_marks.count();
  out["same_side"] = std::move(same);
  out["opposite_sides"] = std::move(opposite);
  out["rails"] = rails_json(report);
  if (report.without_rails.count() > 0) {
    Json open = rows_json(report.without_rails);
    open["by_mark_spacing"] = classes_json(rail_classes_m, report.spacing_classes);
    open["by_overall_length"] = classes_json(rail_classes_m, report.overall_classes);
    out["rails_to_find"] = std::move(open);
  }
  Json straps = Json::array();
  for (const PackStrap& strap : report.straps) {
    Json one = Json::object();
    one["name"] = strap.strap.name;
    one["number"] = strap.number;
    one["greatest_girth_mm"] = strap.strap.greatest_girth_m * millimetres;
    put_lengths(one, "girth_mm", strap.girth_m);
    put_rows(one, strap.rows);
    straps.push_back(std::move(one));
  }
  out["straps"] = std::move(straps);
  put_lengths(out, "girth_mm", report.girth_m);
  if (report.without_straps.count() > 0) {
    Json open = rows_json(report.without_straps);
    open["number"] = straps_per_pair * std::min(report.at_once, report.without_straps.count());
    open["by_girth"] = classes_json(girth_classes_m, report.girth_classes);
    out["straps_to_find"] = std::move(open);
  }
  return out;
}

Json couplants_json(const PackReport& report) {
  Json list = Json::array();
  for (const PackCouplant& couplant : report.couplants) {
    Json one = Json::object();
    one["couplant"] = couplant.key;
    one["name"] = couplant.name;
    one["load"] = couplant.load;
    one["in_kit"] = couplant.in_kit;
    one["lowest_degC"] = couplant.lowest_K + celsius;
    one["highest_degC"] = couplant.highest_K + celsius;
    if (couplant.limit_K) one["limit_degC"] = *couplant.limit_K + celsius;
    put(one, "lasts", couplant.lasts);
    one["harms_some_materials"] = couplant.harms;
    put_temperatures(one, "surface_degC", couplant.surface_K);
    put_rows(one, couplant.rows);
    list.push_back(std::move(one));
  }
  Json out = Json::object();
  put_temperatures(out, "surface_degC", report.surface_K);
  out["couplants"] = std::move(list);
  out["named_unfit"] = rows_json(report.named_unfit);
  out["food"] = rows_json(report.food);
  out["plastic"] = rows_json(report.plastic);
  return out;
}

std::string_view group_name(PackGroup group) {
  switch (group) {
    case PackGroup::sensors:
      return "sensors";
    case PackGroup::fixing:
      return "fixing";
    case PackGroup::couplant:
      return "couplant";
    case PackGroup::find_out:
      return "find out";
    case PackGroup::cleaning:
      return "cleaning";
    case PackGroup::safety:
      return "safety";
  }
  return {};
}

Json aids_json(const PackReport& report) {
  Json out = Json::array();
  for (const PackAidUse& use : report.aids) {
    const PackAidInfo& info = pack_aid_info(use.aid);
    Json one = Json::object();
    one["item"] = info.key;
    one["name"] = info.name;
    one["group"] = group_name(info.group);
    one["why"] = info.why;
    put_lengths(one, "value_mm", use.value_m);
    if (use.not_in_kit.count() > 0) one["not_in_kit"] = use.not_in_kit.count();
    put_rows(one, use.rows);
    put_source(one, info.basis, info.source);
    out.push_back(std::move(one));
  }
  return out;
}

Json safety_json(const PackReport& report) {
  Json out = Json::array();
  for (const PackSafety& safety : report.safety) {
    Json one = Json::object();
    one["caution"] = safety_info(safety.id).name;
    one["load"] = pack_safety_items(safety.id);
    if (safety.kind == ValueKind::temperature_K) {
      put_temperatures(one, "surface_degC", safety.value);
    } else if (safety.kind == ValueKind::length_m) {
      put_span(one, "height_m", safety.value);
    } else if (safety.kind == ValueKind::pressure_Pa) {
      put_span(one, "pressure_bar", safety.value, 1e-5);
    }
    if (!safety.subjects.empty()) one["subjects"] = safety.subjects;
    put_rows(one, safety.rows);
    one["source"] = safety_info(safety.id).source;
    out.push_back(std::move(one));
  }
  return out;
}

Json checks_json(const std::vector<PackCheck>& checks) {
  Json out = Json::array();
  for (const PackCheck& check : checks) {
    const CheckInfo& info = check_info(check.check);
    Json one = Json::object();
    one["id"] = info.id;
    one["rule"] = info.rule;
    put_rows(one, check.rows);
    put_source(one, info.basis, info.source);
    out.push_back(std::move(one));
  }
  return out;
}

bool is_temperature(PackLack lack) {
  return lack == PackLack::pair_temperature || lack == PackLack::couplant_range ||
         lack == PackLack::couplant_kind;
}

Json lacks_json(const std::vector<PackLacking>& lacks) {
  Json out = Json::array();
  for (const PackLacking& lacking : lacks) {
    Json one = Json::object();
    one["lack"] = pack_lack_name(lacking.lack);
    one["why"] = lack_words(lacking.lack);
    if (is_temperature(lacking.lack)) {
      put_temperatures(one, "surface_degC", lacking.value);
    } else {
      put_lengths(one,
                  lacking.lack == PackLack::rail    ? "mark_spacing_mm"
                  : lacking.lack == PackLack::strap ? "girth_mm"
                                                    : "outside_diameter_mm",
                  lacking.value);
    }
    put_rows(one, lacking.rows);
    out.push_back(std::move(one));
  }
  return out;
}

}  // namespace

std::string pack_text(const Packing& packing, const Display& display) {
  const PackReport report = packing.report();
  std::string out = two_ends("LOADING LIST", pipes_text(report.load.count())) + '\n';
  append(out, wrapped(counts_words(report), "", ""));
  for (const PackSection& section : pack_sections(report, display)) {
    out += '\n' + std::string(section.title) + '\n';
    for (const PackLine& line : section.lines) append_line(out, line, display);
  }
  out += '\n';
  append(out, wrapped("Last column: c common practice, no source; p proposal, judged; s published "
                      "source, in part from memory or a summary; k known by reckoning from the "
                      "list. The JSON and CSV formats name each source.",
                      "", ""));
  return out;
}

std::string pack_csv(const Packing& packing, const Display& display) {
  const PackReport report = packing.report();
  std::string out = "section,item,number,pipes,details,rows,basis,source\n";
  for (const PackSection& section : pack_sections(report, display)) {
    const std::string_view title = section.title.substr(0, section.title.find(':'));
    for (const PackLine& line : section.lines) {
      const auto number = [](std::size_t n) { return n ? std::to_string(n) : std::string(); };
      out += fmt::format("{},{},{},{},{},{},{},{}\n", title, cell(line.item), number(line.number),
                         number(line.rows.count()), cell(joined(texts_of(line))),
                         cell(rows_text(line.rows, PackRows::most_examples, display)),
                         basis_name(line.basis), cell(line.source));
    }
  }
  return out;
}

std::string pack_json(const Packing& packing, const std::string& version) {
  const PackReport report = packing.report();
  Json out = Json::object();
  out["slantrule"] = version;
  out["format"] = 1;
  out["at_once"] = report.at_once;
  out["load"] = rows_json(report.load);
  out["stopped"] = rows_json(report.stopped);
  out["may_stop"] = rows_json(report.may_stop);
  out["refused"] = rows_json(report.refused);
  out["unserved"] = rows_json(report.unserved);
  out["unserved"]["to_load_for"] = report.unserved_loaded.count();
  out["may_be_unserved"] = rows_json(report.may_lack);
  out["sensors"] = sensors_json(report);
  out["fixing"] = fixing_json(report);
  out["couplant"] = couplants_json(report);
  out["aids"] = aids_json(report);
  out["find_out"] = checks_json(report.questions);
  out["safety"] = safety_json(report);
  out["not_served"] = lacks_json(report.lacks);
  out["not_served_by_one_reading"] = lacks_json(report.may_lacks);
  out["stops"] = checks_json(report.stops);
  return one_line(out);
}

}  // namespace slantrule
