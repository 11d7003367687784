#include <fmt/format.h>

#include <array>
#include <cmath>
#include <memory>
#include <nlohmann/json.hpp>

#include "slantrule/catalogue/size_designation.hpp"
#include "slantrule/cli/command_table.hpp"
#include "slantrule/cli/common_options.hpp"
#include "slantrule/cli/output.hpp"
#include "slantrule/files/job_file.hpp"
#include "slantrule/planning/check_table.hpp"
#include "slantrule/planning/job_visit.hpp"
#include "slantrule/sheets/text_layout.hpp"
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

Row pipe_row(const PipeRecord& pipe) {
  Row row;
  put(row, "size", size_text(pipe));
  put(row, "standard", pipe.standard);
  if (pipe.dn > 0) row["dn"] = pipe.dn;
  put(row, "outside_diameter_mm", pipe.outside_diameter_mm);
  put(row, "wall_mm", pipe.wall_mm);
  put(row, "inside_diameter_mm",
      std::round((pipe.outside_diameter_mm - 2 * pipe.wall_mm) * 1e3) / 1e3);
  put(row, "wall_kind", pipe.wall_kind == WallKind::nominal ? "nominal" : "minimum");
  put(row, "material", pipe.material_family);
  put(row, "confidence", confidence_name(pipe.confidence));
  put(row, "source", pipe.source);
  return row;
}

Row solid_row(const SolidRecord& solid) {
  Row row;
  put(row, "key", solid.key);
  put(row, "name", solid.name);
  put(row, "family", solid_family_name(solid.family));
  put(row, "longitudinal_m_s", solid.longitudinal_m_s);
  put(row, "u_longitudinal_m_s", solid.u_longitudinal_m_s);
  put(row, "shear_m_s", solid.shear_m_s);
  put(row, "density_kg_m3", solid.density_kg_m3);
  put(row, "longitudinal_slope_m_s_K", solid.longitudinal_slope_m_s_K);
  put(row, "shear_slope_m_s_K", solid.shear_slope_m_s_K);
  put(row, "attenuation", solid.attenuation_note);
  put(row, "standing",
      !solid.usable       ? "shows a trap, never planned with"
      : solid.recommended ? "recommended"
                          : "evidence, chosen only by its full key");
  put(row, "confidence", confidence_name(solid.confidence));
  put(row, "source", solid.source);
  return row;
}

Row liquid_row(const LiquidRecord& liquid) {
  Row row;
  put(row, "key", liquid.key);
  put(row, "name", liquid.name);
  put(row, "model", liquid.model);
  put(row, "confidence", confidence_name(liquid.confidence));
  put(row, "source", liquid.source);
  return row;
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

struct LookupCommand {
  CommonOptions common;
  std::string kind;
  std::vector<std::string> words;

  std::vector<Row> all_rows(const Catalogue& catalogue) const {
    std::vector<Row> rows;
    if (kind == "pipes") add_rows(rows, built_in_pipes(), pipe_row);
    if (kind == "solids") {
      add_rows(rows, catalogue.user_solids(), solid_row);
      add_rows(rows, built_in_solids(), solid_row);
    }
    if (kind == "liquids") add_rows(rows, built_in_liquids(), liquid_row);
    if (kind == "fittings") add_rows(rows, built_in_fittings(), fitting_row);
    if (kind == "couplants") add_rows(rows, built_in_couplants(), couplant_row);
    if (kind == "sensors") {
      add_rows(rows, catalogue.user_sensor_pairs(), sensor_row);
      add_rows(rows, built_in_sensor_pairs(), sensor_row);
    }
    if (kind == "checks") add_rows(rows, check_table(), check_row);
    if (kind == "keys") add_key_rows(rows);
    return rows;
  }

  /// The row that a common name stands for ("mild steel"), where the words themselves match none.
  std::optional<Row> by_common_name(const Catalogue& catalogue, const std::string& text) const {
    if (kind == "solids") {
      if (const auto found = catalogue.solid(text); found.record) return solid_row(*found.record);
    }
    if (kind == "liquids") {
      if (const auto found = catalogue.liquid(text); found.record) return liquid_row(*found.record);
    }
    if (kind == "pipes") {
      const SizeReading size = read_size(text, "");
      if (size.row) return pipe_row(*size.row);
    }
    return std::nullopt;
  }

  ExitCode run() const {
    if (common.reads_stdin_twice()) return ExitCode::failed;
    Catalogue catalogue;
    if (!common.load_catalogues(catalogue)) return ExitCode::failed;
    std::string text;
    for (const std::string& word : words) text += (text.empty() ? "" : " ") + word;

    const std::vector<Row> rows = all_rows(catalogue);
    std::vector<Row> found;
    if (!text.empty()) {
      if (auto row = by_common_name(catalogue, text)) found.push_back(std::move(*row));
    }
    for (const Row& row : rows) {
      if (!matches(row, text)) continue;
      if (!found.empty() && row == found.front()) continue;
      found.push_back(row);
    }
    if (found.empty()) {
      std::vector<std::string> names;
      for (const Row& row : rows) names.push_back(row.front().get<std::string>());
      const std::vector<std::string_view> known(names.begin(), names.end());
      const auto near = nearest_name(text, known);
      complain(fmt::format("nothing among the {} matches \"{}\"{}", kind, shown(text),
                           near ? fmt::format("; did you mean \"{}\"?", *near) : ""));
    }
    std::string out;
    if (common.format == "json") {
      for (const Row& row : found) out += row.dump(-1, ' ', true) + '\n';
    } else {
      for (const Row& row : found) out += row_text(row, common.display());
    }
    return write_output(out, common.output, common.force);
  }
};

}  // namespace

std::function<ExitCode()> setup_lookup(CLI::App& app) {
  auto command = std::make_shared<LookupCommand>();
  app.add_option("KIND", command->kind,
                 "pipes, solids, liquids, fittings, couplants,\nsensors, checks or keys")
      ->required()
      ->type_name("")
      ->check([](const std::string& kind) -> std::string {
        for (std::string_view one : kinds) {
          if (kind == one) return {};
        }
        const auto near = nearest_name(kind, kinds);
        return fmt::format("no kind \"{}\"; {}", shown(kind),
                           near ? fmt::format("did you mean {}?", *near)
                                : fmt::format("kinds are {}", fmt::join(kinds, ", ")));
      });
  app.add_option("TEXT", command->words, "Words that the rows must hold; nothing: all rows")
      ->type_name("");
  command->common.add_catalogues(app);
  command->common.add_format(app, {"text", "json"});
  command->common.add_output(app);
  return [command] { return command->run(); };
}

}  // namespace slantrule::cli
