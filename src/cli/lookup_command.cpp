#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <memory>
#include <nlohmann/json.hpp>
#include <variant>

#include "slantrule/cli/command_table.hpp"
#include "slantrule/cli/common_options.hpp"
#include "slantrule/cli/output.hpp"
#include "slantrule/files/job_file.hpp"
#include "slantrule/planning/check_table.hpp"
#include "slantrule/planning/defaults.hpp"
#include "slantrule/planning/job_visit.hpp"
#include "slantrule/sheets/lookup_sheet.hpp"
#include "slantrule/sheets/text_layout.hpp"
#include "slantrule/units/number_text.hpp"
#include "slantrule/units/quantity.hpp"
#include "slantrule/units/suggest.hpp"

namespace slantrule::cli {
namespace {

using Json = nlohmann::ordered_json;

/// One row of any kind: named fields, those without a value left out.
using Row = Json;

void put(Row& row, const char* key, double value) {
  if (std::isfinite(value)) row[key] = value;
}
void put(Row& row, const char* key, std::string_view text) {
  if (!text.empty()) row[key] = text;
}

Row fitting_row(const FittingRecord& fitting) {
  Row row;
  put(row, "key", fitting.key);
  put(row, "name", fitting.name);
  put(row, "upstream_D", fitting.upstream_D);
  put(row, "downstream_D", fitting.downstream_D);
  put(row, "confidence", confidence_name(fitting.confidence));
  put(row, "source", fitting.source);
  return row;
}

Row couplant_row(const CouplantRecord& couplant) {
  Row row;
  put(row, "key", couplant.key);
  put(row, "name", couplant.name);
  put(row, "lowest_degC", couplant.lowest_degC);
  put(row, "highest_degC", couplant.highest_degC);
  put(row, "lasts", couplant.lasts);
  put(row, "note", couplant.note);
  put(row, "confidence", confidence_name(couplant.confidence));
  put(row, "source", couplant.source);
  return row;
}

Row sensor_row(const SensorPairRecord& pair) {
  Row row;
  put(row, "key", pair.key);
  put(row, "about", pair.about);
  row["invented"] = pair.invented;
  put(row, "frequency_MHz", pair.frequency_MHz);
  put(row, "element_mm", pair.element_mm);
  put(row, "wedge_sound_speed_m_s", pair.wedge_sound_speed_m_s);
  put(row, "wedge_at_degC", pair.wedge_at_degC);
  put(row, "wedge_slope_m_s_K", pair.wedge_slope_m_s_K);
  put(row, "wedge_angle_deg", pair.wedge_angle_deg);
  put(row, "wedge_path_mm", pair.wedge_path_mm);
  put(row, "setback_mm", pair.setback_mm);
  put(row, "nose_mm", pair.nose_mm);
  put(row, "length_mm", pair.length_mm);
  put(row, "lowest_degC", pair.lowest_degC);
  put(row, "highest_degC", pair.highest_degC);
  put(row, "source", pair.source);
  return row;
}

Row check_row(const CheckInfo& check) {
  Row row;
  put(row, "id", check.id);
  put(row, "worst", severity_name(check.worst));
  row["acceptable"] = check.acceptable;
  put(row, "rule", check.rule);
  put(row, "do", check.mend);
  put(row, "basis", basis_name(check.basis));
  put(row, "source", check.source);
  return row;
}

template <class Record, class MakeRow>
void add_rows(std::vector<Row>& rows, std::span<const Record> records, const MakeRow& make_row) {
  for (const Record& record : records) rows.push_back(make_row(record));
}

/// Every job key, sections and inline objects with their own keys below them.
void add_key_rows(std::vector<Row>& rows) {
  const JobRequest all = request_with_every_key();
  visit_all_keys(all, "", [&](const std::string& path, const KeyInfo& info, const auto&) {
    Row row;
    put(row, "key", path);
    put(row, "help", info.help);
    row["required"] = info.required;
    put(row, "default", info.default_text);
    std::string choices;
    for (std::string_view choice : info.choices) {
      choices += (choices.empty() ? "" : ", ") + std::string(choice);
    }
    put(row, "one_of", choices);
    put(row, "example", info.example);
    rows.push_back(std::move(row));
  });
}

/// Whether every word of `text` stands somewhere in the row's own words (not in its source).
bool matches(const Row& row, std::string_view text) {
  std::string all;
  for (const auto& [key, value] : row.items()) {
    if (key == "source" || !value.is_string()) continue;
    all += folded_name(value.get<std::string>()) + " ";
  }
  std::string folded = folded_name(text);
  for (std::string_view rest = folded; !rest.empty();) {
    const std::size_t end = std::min(rest.find('_'), rest.size());
    if (all.find(rest.substr(0, end)) == std::string::npos) return false;
    rest.remove_prefix(std::min(end + 1, rest.size()));
  }
  return true;
}

std::string row_text(const Row& row, const Display& display) {
  std::string out;
  bool first = true;
  for (const auto& [key, value] : row.items()) {
    const std::string shown_value =
        job_text(value.is_string() ? value.get<std::string>() : value.dump(), display);
    if (first) {
      out += shown_value + '\n';
      first = false;
      continue;
    }
    const std::string label = "  " + padded(key, 26);
    for (const std::string& line : wrapped(shown_value, label, std::string(28, ' '))) {
      out += line + '\n';
    }
  }
  return out + '\n';
}

constexpr std::array<std::string_view, 8> kinds = {"pipes",     "solids",  "liquids", "fittings",
                                                   "couplants", "sensors", "checks",  "keys"};

/// The kind that `text` names, one of them or several: "liquid", "liquids".
std::optional<std::string_view> kind_named(std::string_view text) {
  for (std::string_view kind : kinds) {
    if (text == kind || text == kind.substr(0, kind.size() - 1)) return kind;
  }
  return std::nullopt;
}

// ---------------------------------------------------------------- options of liquids

/// A value, or what is wrong with it.
template <class Value>
using ValueOr = std::variant<Value, QuantityProblem>;

ValueOr<double> temperature_K(const std::string& text) {
  const auto read = parse_quantity(text, Dimension::temperature);
  if (const auto* problem = std::get_if<QuantityProblem>(&read)) return *problem;
  return std::get<Reading>(read).si;
}

/// A temperature that a liquid can have.
ValueOr<double> liquid_temperature_K(const std::string& text) {
  auto kelvins = temperature_K(text);
  const double* value = std::get_if<double>(&kelvins);
  if (value && !(*value > 0)) {
    return QuantityProblem{fmt::format("\"{}\" is at or below absolute zero", shown(text))};
  }
  return kelvins;
}

/// What stands behind the number: "degC".
std::string unit_of(const std::string& text) {
  const std::string plain = plain_text(text);
  const std::size_t start = std::min(plain.find_first_not_of(' '), plain.size());
  return plain.substr(start + read_number(std::string_view(plain).substr(start)).length);
}

/// Kelvins in one step of the unit of `text`; 0 where it has none.
double kelvins_of_unit(const std::string& text) {
  const auto one = temperature_K("1 " + unit_of(text));
  const auto zero = temperature_K("0 " + unit_of(text));
  const double* one_K = std::get_if<double>(&one);
  const double* zero_K = std::get_if<double>(&zero);
  return one_K && zero_K ? *one_K - *zero_K : 0;
}

/// A difference of temperatures: "10 K", "5 degC", "18 degF".
ValueOr<double> step_K(const std::string& text) {
  const auto value = temperature_K(text);
  if (const auto* problem = std::get_if<QuantityProblem>(&value)) return *problem;
  const auto zero = temperature_K("0 " + unit_of(text));
  const double step = std::get<double>(value) - std::get<double>(zero);
  if (!(step > 0)) return QuantityProblem{fmt::format("\"{}\": a step is above 0", shown(text))};
  return step;
}

/// Where the second temperature of a range starts, and how long the sign before it is.
struct RangeSign {
  std::size_t at = std::string::npos, length = 0;
};
RangeSign range_sign(const std::string& text) {
  for (std::string_view sign : {" to ", ".."}) {
    const std::size_t at = text.find(sign);
    if (at != std::string::npos) return {at, sign.size()};
  }
  return {};
}

bool is_range(const std::string& text) {
  return range_sign(text).length > 0;
}

/// "5 degC", "0 degC to 60 degC", "0 to 60 degC", "0..60 degC"; a range in steps of `step`, or of
/// a round number of its unit.
ValueOr<std::vector<double>> temperatures_K(const std::string& text, std::optional<double> step) {
  constexpr double most_rows = 1000, usual_rows = 12;
  const RangeSign sign = range_sign(text);
  if (sign.length == 0) {
    const auto one = liquid_temperature_K(text);
    if (const auto* problem = std::get_if<QuantityProblem>(&one)) return *problem;
    return std::vector<double>{std::get<double>(one)};
  }
  std::string first = text.substr(0, sign.at);
  const std::string second = text.substr(sign.at + sign.length);
  if (unit_of(first).find_first_not_of(' ') == std::string::npos) first += " " + unit_of(second);
  const auto low = liquid_temperature_K(first), high = liquid_temperature_K(second);
  for (const auto* end : {&low, &high}) {
    if (const auto* problem = std::get_if<QuantityProblem>(end)) return *problem;
  }
  const double low_K = std::get<double>(low), high_K = std::get<double>(high);
  if (!(low_K < high_K)) {
    return QuantityProblem{fmt::format("\"{}\" goes from warm to cold", shown(text))};
  }
  if (!step) {
    const double unit_K = kelvins_of_unit(second);
    step = unit_K;
    for (double wider : {2.0, 5.0, 10.0, 20.0, 50.0, 100.0}) {
      if ((high_K - low_K) / *step <= usual_rows) break;
      step = wider * unit_K;
    }
  }
  if ((high_K - low_K) / *step > most_rows) {
    return QuantityProblem{fmt::format("\"{}\" takes more than {} steps", shown(text), most_rows)};
  }
  std::vector<double> all;
  // The last step may be a shorter one; a hair's breadth is none.
  for (double i = 0; low_K + i * *step < high_K - 1e-6; ++i) all.push_back(low_K + i * *step);
  all.push_back(high_K);
  return all;
}

/// Absolute; gauge counts from the standard atmosphere.
ValueOr<double> pressure_Pa(const std::string& text) {
  const auto read = parse_quantity(text, {Dimension::pressure_absolute, Dimension::pressure_gauge});
  if (const auto* problem = std::get_if<QuantityProblem>(&read)) return *problem;
  const auto& reading = std::get<Reading>(read);
  const double pressure =
      reading.si + (reading.dimension == Dimension::pressure_gauge ? defaults::atmosphere_Pa : 0);
  if (!(pressure > 0)) return QuantityProblem{fmt::format("\"{}\" is below vacuum", shown(text))};
  return pressure;
}

ValueOr<double> mass_fraction(const std::string& text) {
  const auto read = parse_quantity(text, Dimension::mass_fraction);
  if (const auto* problem = std::get_if<QuantityProblem>(&read)) return *problem;
  const double fraction = std::get<Reading>(read).si;
  if (!(fraction >= 0 && fraction <= 1)) {
    return QuantityProblem{fmt::format("\"{}\" is not between 0 and 100 %", shown(text))};
  }
  return fraction;
}

struct LiquidOptions {
  std::vector<std::string> temperatures;
  std::string step, pressure, concentration;

  bool any() const {
    return !temperatures.empty() || !step.empty() || !pressure.empty() || !concentration.empty();
  }

  void add(CLI::App& app) {
    app.add_option("--temperature", temperatures,
                   "\"5 degC\", repeatable, or \"0 to 60 degC\";\nwithout: over the range")
        ->type_name("T")
        ->allow_extra_args(false)
        ->group("Liquids");
    app.add_option("--step", step, "of a range of temperatures: \"10 K\"")
        ->type_name("DT")
        ->group("Liquids");
    app.add_option("--pressure", pressure,
                   "\"4 bar gauge\"; without: 1 atm, or boiling\npressure where that is higher")
        ->type_name("P")
        ->group("Liquids");
    app.add_option("--concentration", concentration, "strength of a solution: \"30 % mass\"")
        ->type_name("C")
        ->group("Liquids");
  }

  /// Into `query`; false after complaining about every mistake.
  bool read(LiquidQuery& query) const {
    bool good = true;
    const auto take = [&](const char* option, auto read, const auto& use) {
      if (const auto* problem = std::get_if<QuantityProblem>(&read)) {
        complain(fmt::format("{}: {}", option, problem->message));
        good = false;
      } else {
        use(std::get<0>(read));
      }
    };
    if (!step.empty() && !std::ranges::any_of(temperatures, is_range)) {
      complain("--step goes with a range: --temperature \"0 to 60 degC\"");
      good = false;
    }
    std::optional<double> step_value;
    if (!step.empty()) take("--step", step_K(step), [&](double value) { step_value = value; });
    for (const std::string& text : temperatures) {
      take("--temperature", temperatures_K(text, step_value), [&](const auto& all) {
        query.temperatures_K.insert(query.temperatures_K.end(), all.begin(), all.end());
      });
    }
    if (!pressure.empty()) {
      take("--pressure", pressure_Pa(pressure), [&](double value) { query.pressure_Pa = value; });
    }
    if (!concentration.empty()) {
      take("--concentration", mass_fraction(concentration),
           [&](double value) { query.mass_fraction = value; });
    }
    return good;
  }
};

// ---------------------------------------------------------------- the command

struct LookupCommand {
  CommonOptions common;
  LiquidOptions liquid_options;
  std::string kind;
  std::vector<std::string> words;

  /// Rows of the kinds that are plain lists.
  std::vector<Row> all_rows(const Catalogue& catalogue) const {
    std::vector<Row> rows;
    if (kind == "fittings") {
      add_rows(rows, catalogue.user_fittings(), fitting_row);
      add_rows(rows, built_in_fittings(), fitting_row);
    }
    if (kind == "couplants") {
      add_rows(rows, catalogue.user_couplants(), couplant_row);
      add_rows(rows, built_in_couplants(), couplant_row);
    }
    if (kind == "sensors") {
      add_rows(rows, catalogue.user_sensor_pairs(), sensor_row);
      add_rows(rows, built_in_sensor_pairs(), sensor_row);
    }
    if (kind == "checks") add_rows(rows, check_table(), check_row);
    if (kind == "keys") add_key_rows(rows);
    return rows;
  }

  bool json() const { return common.format == "json"; }

  /// What was found goes out; that nothing was, to standard error, and to programs as an empty
  /// list too. A text that finds nothing is no mistake in the command line: as with grep, 1.
  ExitCode answer(bool found, const std::string& message, const std::string& out) const {
    if (!found) complain(message);
    const ExitCode written =
        found || json() ? write_output(out, common.output, common.force) : ExitCode::ok;
    if (written != ExitCode::ok) return written;
    return found ? ExitCode::ok : ExitCode::stop;
  }

  template <class Found>
  ExitCode answer(const Found& lookup) const {
    return answer(lookup.found(), lookup.message,
                  json() ? json_sheet(lookup) + '\n' : text_sheet(lookup, common.display()));
  }

  ExitCode plain_list(const std::string& text, const Catalogue& catalogue) const {
    const std::vector<Row> rows = all_rows(catalogue);
    Row found = Row::array();
    std::string out;
    for (const Row& row : rows) {
      if (!matches(row, text)) continue;
      found.push_back(row);
      out += row_text(row, common.display());
    }
    std::string message;
    Row nearest = Row::array();
    if (found.empty()) {
      std::vector<std::string> names;
      for (const Row& row : rows) names.push_back(row.front().get<std::string>());
      const std::vector<std::string_view> known(names.begin(), names.end());
      const auto near = nearest_name(text, known);
      if (near) nearest.push_back(*near);
      message = fmt::format("nothing among the {} matches \"{}\"{}", kind, shown(text),
                            near ? fmt::format("; did you mean \"{}\"?", *near) : "");
    }
    const bool any = !found.empty();
    if (json()) {
      Row object = {{"kind", kind}, {"text", text}};
      put(object, "message", message);
      object["found"] = std::move(found);
      object["nearest"] = std::move(nearest);
      object["readings"] = Row::array();
      out = object.dump(-1, ' ', true, Row::error_handler_t::replace) + '\n';
    }
    return answer(any, message, out);
  }

  ExitCode run() const {
    if (common.reads_stdin_twice()) return ExitCode::failed;
    Catalogue catalogue;
    if (!common.load_catalogues(catalogue)) return ExitCode::failed;
    std::string text;
    for (const std::string& word : words) text += (text.empty() ? "" : " ") + word;

    if (liquid_options.any() && (kind != "liquids" || text.empty())) {
      complain(
          "--temperature, --step, --pressure and --concentration go with one liquid: "
          "`slantrule lookup liquid NAME`");
      return ExitCode::failed;
    }
    if (kind == "pipes" && text.empty()) {
      return answer(true, {},
                    json() ? pipe_standards_json(catalogue) + '\n'
                           : pipe_standards_text(catalogue, common.display()));
    }
    if (kind == "pipes") return answer(find_pipes(text, catalogue));
    if (kind == "solids") return answer(find_solids(text, catalogue));
    if (kind == "liquids") {
      LiquidQuery query;
      query.text = text;
      if (!liquid_options.read(query)) return ExitCode::failed;
      return answer(find_liquids(query, catalogue));
    }
    return plain_list(text, catalogue);
  }
};

}  // namespace

std::function<ExitCode()> setup_lookup(CLI::App& app) {
  auto command = std::make_shared<LookupCommand>();
  app.add_option("KIND", command->kind,
                 "pipes, solids, liquids, fittings, couplants,\nsensors, checks or keys")
      ->required()
      ->type_name("")
      ->transform([](std::string kind) -> std::string {
        if (const auto known = kind_named(kind)) return std::string(*known);
        const auto near = nearest_name(kind, kinds);
        throw CLI::ValidationError(
            "KIND", fmt::format("no kind \"{}\"; {}", shown(kind),
                                near ? fmt::format("did you mean {}?", *near)
                                     : fmt::format("kinds are {}", fmt::join(kinds, ", "))));
      });
  app.add_option("TEXT", command->words,
                 "pipes: size, standard, material, diameter or\n"
                 "girth (\"girth 721 mm\"); else a name, or words\n"
                 "that rows hold. Nothing: all of the kind.\n"
                 "A text that finds nothing: exit code 1")
      ->type_name("");
  command->liquid_options.add(app);
  command->common.add_catalogues(app);
  command->common.add_format(app, {"text", "json"});
  command->common.add_units(app);
  command->common.add_output(app);
  return [command] { return command->run(); };
}

}  // namespace slantrule::cli
