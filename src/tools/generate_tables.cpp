/// generate_tables DATA_DIR OUTPUT.cpp
///
/// Build tool: reads the catalogue's CSV files, checks them, and writes one C++ file of sorted
/// constant tables that defines the built_in_...() functions of catalogue.hpp. All mistakes are
/// reported as `FILE:LINE: what is wrong`; with any, nothing is written and the exit code is 1
/// (2 for a wrong command line). The output depends on the rows alone, not on their order.

#include <algorithm>
#include <charconv>
#include <cmath>
#include <deque>
#include <fstream>
#include <iostream>
#include <iterator>
#include <span>
#include <sstream>
#include <string>
#include <string_view>
#include <tuple>
#include <utility>
#include <vector>

#include "slantrule/catalogue/catalogue.hpp"
#include "slantrule/catalogue/liquid_tables.hpp"
#include "slantrule/catalogue/records.hpp"
#include "slantrule/units/suggest.hpp"

namespace slantrule {
namespace {

// --- Reading -----------------------------------------------------------------------------------

class Problems {
 public:
  void add(const std::string& path, int line, const std::string& message) {
    lines_.push_back(path + ":" + std::to_string(line) + ": " + message);
  }
  bool none() const { return lines_.empty(); }
  void print(std::ostream& out) const {
    for (const std::string& line : lines_) out << line << '\n';
  }

 private:
  std::vector<std::string> lines_;
};

struct CsvRow {
  int line = 0;
  std::vector<std::string> cells;
};

struct CsvFile {
  std::string path;
  std::vector<std::string> header;
  std::vector<CsvRow> rows;
};

/// The cells of an RFC 4180 text. Stops at the first broken quote: what follows cannot be told.
std::vector<CsvRow> csv_rows(const std::string& text, const std::string& path, Problems& problems) {
  std::vector<CsvRow> rows;
  int line = 1;
  std::size_t at = 0;
  const auto end_of_cell = [&] {
    return at == text.size() || text[at] == ',' || text[at] == '\n' ||
           (text[at] == '\r' && at + 1 < text.size() && text[at + 1] == '\n');
  };
  while (at < text.size()) {
    CsvRow row{line, {}};
    while (true) {
      std::string& cell = row.cells.emplace_back();
      if (at < text.size() && text[at] == '"') {
        ++at;
        bool closed = false;
        while (at < text.size() && !closed) {
          if (text[at] != '"') {
            if (text[at] == '\n') ++line;
            cell += text[at++];
          } else if (at + 1 < text.size() && text[at + 1] == '"') {
            cell += '"';
            at += 2;
          } else {
            ++at;
            closed = true;
          }
        }
        if (!closed || !end_of_cell()) {
          problems.add(path, row.line, closed ? "text behind a closing quote" : "quote not closed");
          return rows;
        }
      } else {
        while (!end_of_cell()) {
          if (text[at] == '"') {
            problems.add(path, row.line, "quote inside a cell that is not quoted");
            return rows;
          }
          cell += text[at++];
        }
      }
      if (at == text.size() || text[at] != ',') break;
      ++at;
    }
    if (at < text.size() && text[at] == '\r') ++at;
    if (at < text.size()) ++at;
    ++line;
    rows.push_back(std::move(row));
  }
  return rows;
}

bool has_control_character(std::string_view text) {
  return std::ranges::any_of(
      text, [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7f; });
}

CsvFile read_csv(const std::string& path, const std::vector<std::string>& header,
                 Problems& problems) {
  CsvFile file{path, header, {}};
  std::ifstream in(path, std::ios::binary);
  const std::string text{std::istreambuf_iterator<char>(in), {}};
  if (!in) {
    problems.add(path, 1, "cannot be read");
    return file;
  }
  std::vector<CsvRow> rows = csv_rows(text, path, problems);
  if (rows.empty() || rows.front().cells != header) {
    std::string expected;
    for (const std::string& name : header) expected += (expected.empty() ? "" : ",") + name;
    problems.add(path, 1, "the header must be " + expected);
    return file;
  }
  for (CsvRow& row : rows) {
    if (&row == &rows.front()) continue;
    if (row.cells.size() != header.size()) {
      problems.add(
          path, row.line,
          std::to_string(row.cells.size()) + " cells instead of " + std::to_string(header.size()));
    } else if (std::ranges::any_of(row.cells, has_control_character)) {
      problems.add(path, row.line, "control character");
    } else {
      file.rows.push_back(std::move(row));
    }
  }
  return file;
}

/// One row under its column names. A wrong cell is reported, and a harmless value goes on.
class Cells {
 public:
  Cells(const CsvFile& file, const CsvRow& row, Problems& problems)
      : file_(file), row_(row), problems_(problems) {}

  void problem(const std::string& message) { problems_.add(file_.path, row_.line, message); }
  int line() const { return row_.line; }

  std::string_view text_or_empty(std::string_view column) const {
    const auto found = std::ranges::find(file_.header, column);
    return row_.cells.at(static_cast<std::size_t>(found - file_.header.begin()));
  }

  std::string_view text(std::string_view column) {
    const std::string_view cell = text_or_empty(column);
    if (cell.empty()) problem(std::string(column) + " is empty");
    return cell;
  }

  double number_or_absent(std::string_view column) {
    const std::string_view cell = text_or_empty(column);
    if (cell.empty()) return absent;
    double value = 0;
    const auto [end, error] = std::from_chars(cell.data(), cell.data() + cell.size(), value);
    if (error != std::errc{} || end != cell.data() + cell.size() || !std::isfinite(value)) {
      problem(std::string(column) + ": \"" + std::string(cell) + "\" is not a number");
      return absent;
    }
    return value;
  }

  double number(std::string_view column) {
    text(column);
    return number_or_absent(column);
  }

  /// A nominal size in mm: a whole number, 0 where there is none.
  int nominal_mm(std::string_view column) {
    const double value = number(column);
    if (!(value >= 0 && value <= 10000 && value == std::floor(value))) {
      problem(std::string(column) + " must be a whole number of millimetres, or 0");
      return 0;
    }
    return static_cast<int>(value);
  }

  double positive_or_absent(std::string_view column) {
    const double value = number_or_absent(column);
    if (value <= 0) problem(std::string(column) + " must be above 0");
    return value;
  }

  double positive(std::string_view column) {
    text(column);
    return positive_or_absent(column);
  }

  bool yes(std::string_view column) {
    const std::string_view cell = text_or_empty(column);
    if (cell != "yes" && cell != "no") problem(std::string(column) + " must be yes or no");
    return cell == "yes";
  }

  /// The enumerator from first to `last` that `name_of` gives the cell's word.
  template <class Enum>
  Enum word(std::string_view column, std::string_view (*name_of)(Enum), Enum last) {
    const std::string_view cell = text_or_empty(column);
    for (int i = 0; i <= static_cast<int>(last); ++i) {
      if (name_of(static_cast<Enum>(i)) == cell) return static_cast<Enum>(i);
    }
    problem(std::string(column) + ": \"" + std::string(cell) + "\" is not a known word");
    return last;
  }

  /// Words of `known`, separated by single blanks; none at all is allowed.
  std::string_view words(std::string_view column, std::span<const std::string_view> known) {
    const std::string_view cell = text_or_empty(column);
    for (std::string_view rest = cell; !rest.empty();) {
      const std::size_t end = std::min(rest.find(' '), rest.size());
      const std::string_view one = rest.substr(0, end);
      if (std::ranges::find(known, one) == known.end()) {
        problem(std::string(column) + ": \"" + std::string(one) + "\" is not a known word");
      }
      rest.remove_prefix(std::min(end + 1, rest.size()));
    }
    return cell;
  }

  Confidence confidence() { return word("confidence", confidence_name, Confidence::invented); }

  /// A key in its folded form, words joined by `joint`.
  std::string_view key(char joint) {
    const std::string_view cell = text("key");
    std::string folded = folded_name(cell);
    std::ranges::replace(folded, '_', joint);
    if (folded != cell) problem("key: write \"" + folded + "\"");
    return cell;
  }

  /// The source cell, which must name an entry of sources.csv.
  std::string_view source(const std::vector<std::string>& known) {
    const std::string_view cell = text("source");
    if (std::ranges::none_of(known, [&](const std::string& name) {
          return cell.find(name) != std::string_view::npos;
        })) {
      problem("source: no name of sources.csv stands in it");
    }
    return cell;
  }

 private:
  const CsvFile& file_;
  const CsvRow& row_;
  Problems& problems_;
};

// --- The tables --------------------------------------------------------------------------------

/// A liquid's point in its row.
struct LiquidPointRow {
  std::string_view key;
  LiquidPoint point;
};

/// Records hold views of the cells' texts, so the files are kept.
struct Tables {
  std::deque<CsvFile> files;
  std::vector<std::string> sources;
  std::deque<std::string> folded_names;

  std::vector<PipeStandardRecord> pipe_standards;
  std::vector<PipeRecord> pipes;
  std::vector<LiningRecord> linings;
  std::vector<SolidRecord> solids;
  std::vector<FittingRecord> fittings;
  std::vector<CouplantRecord> couplants;
  std::vector<SensorPairRecord> sensor_pairs;
  std::vector<LiquidRecord> liquids;
  std::vector<LiquidTableRecord> liquid_tables;  ///< their points stay in liquid_points
  std::vector<LiquidPointRow> liquid_points;
  std::vector<NameRecord> solid_names;
  std::vector<RefusedMaterialRecord> refused_materials;
  std::vector<NameRecord> liquid_names;
};

/// Sorts the records by what `order` gives of them and reports equal ones.
template <class Record, class Order>
void sort_unique(std::vector<std::pair<Record, int>>& rows, const std::string& path, Order order,
                 std::vector<Record>& sorted, Problems& problems) {
  std::ranges::stable_sort(rows, {}, [&](const auto& row) { return order(row.first); });
  for (std::size_t i = 0; i < rows.size(); ++i) {
    if (i > 0 && order(rows[i - 1].first) == order(rows[i].first)) {
      problems.add(path, rows[i].second,
                   "stands in line " + std::to_string(rows[i - 1].second) + " already");
    }
    sorted.push_back(rows[i].first);
  }
}

template <class Record, class Read, class Order>
void read_table(Tables& all, const std::string& path, const std::vector<std::string>& header,
                std::vector<Record>& sorted, Problems& problems, Read read, Order order) {
  const CsvFile& file = all.files.emplace_back(read_csv(path, header, problems));
  std::vector<std::pair<Record, int>> rows;
  for (const CsvRow& row : file.rows) {
    Cells cells(file, row, problems);
    rows.emplace_back(read(cells), row.line);
  }
  sort_unique(rows, path, order, sorted, problems);
}

constexpr auto by_key = [](const auto& record) { return record.key; };

void read_sources(Tables& all, const std::string& path, Problems& problems) {
  read_table(
      all, path, {"name", "citation", "seen_as"}, all.sources, problems,
      [](Cells& cells) {
        cells.text("citation");
        cells.text("seen_as");
        return std::string(cells.text("name"));
      },
      [](const std::string& name) { return name; });
}

PipeStandardRecord read_pipe_standard(Cells& cells, const Tables& all) {
  return {.standard = cells.text("standard"),
          .title = cells.text("title"),
          .material_family = cells.text("material_family"),
          .wall_rule = cells.word("wall_rule", wall_rule_name, WallRule::ductile_minimum),
          .u_outside_diameter_percent = cells.positive("u_outside_diameter_percent"),
          .u_wall_percent = cells.positive("u_wall_percent"),
          .tolerances = cells.text("tolerances"),
          .source = cells.source(all.sources),
          .confidence = cells.confidence()};
}

WallKind wall_kind(Cells& cells, std::string_view column) {
  const std::string_view word = cells.text(column);
  if (word != "nominal" && word != "minimum") {
    cells.problem(std::string(column) + " must be nominal or minimum");
  }
  return word == "minimum" ? WallKind::minimum : WallKind::nominal;
}

LiningRecord read_lining(Cells& cells, const Tables& all) {
  const LiningRecord lining{.standard = cells.text("standard"),
                            .pipe = cells.text("pipe"),
                            .lining_class = cells.text("lining_class"),
                            .lowest_dn = cells.nominal_mm("lowest_dn"),
                            .highest_dn = cells.nominal_mm("highest_dn"),
                            .thickness_mm = cells.positive("thickness_mm"),
                            .thickness_kind = wall_kind(cells, "thickness_kind"),
                            .material = cells.text("material"),
                            .source = cells.source(all.sources),
                            .confidence = cells.confidence()};
  if (lining.lowest_dn > lining.highest_dn) {
    cells.problem("lowest_dn must not be above highest_dn");
  }
  if (!std::ranges::binary_search(all.solids, lining.material, {}, &SolidRecord::key)) {
    cells.problem("material: no solid has the key \"" + std::string(lining.material) + "\"");
  }
  return lining;
}

PipeRecord read_pipe(Cells& cells, const Tables& all) {
  const double outside_diameter_mm = cells.positive("outside_diameter_mm");
  const double wall_mm = cells.positive("wall_mm");
  if (wall_mm >= outside_diameter_mm / 2) cells.problem("the wall leaves no bore");
  const std::string_view standard = cells.text("standard");
  const auto found =
      std::ranges::lower_bound(all.pipe_standards, standard, {}, &PipeStandardRecord::standard);
  const WallKind kind = wall_kind(cells, "wall_kind");
  if (found == all.pipe_standards.end() || found->standard != standard) {
    cells.problem("standard: pipe_standards.csv has no \"" + std::string(standard) + "\"");
  } else {
    if ((found->wall_rule == WallRule::nominal) != (kind == WallKind::nominal)) {
      cells.problem("wall_kind does not fit the standard's wall_rule");
    }
    if (found->material_family != cells.text("material_family")) {
      cells.problem("material_family is not that of the standard");
    }
  }
  return {.standard = standard,
          .designation = cells.text("designation"),
          .dn = cells.nominal_mm("dn"),
          .schedule = cells.text_or_empty("schedule"),
          .outside_diameter_mm = outside_diameter_mm,
          .wall_mm = wall_mm,
          .wall_kind = kind,
          .material_family = cells.text("material_family"),
          .source = cells.source(all.sources),
          .confidence = cells.confidence()};
}

SolidRecord read_solid(Cells& cells, const Tables& all) {
  const SolidRecord solid{
      .key = cells.key('_'),
      .name = cells.text("name"),
      .family = cells.word("family", solid_family_name, SolidFamily::coating),
      .longitudinal_m_s = cells.positive_or_absent("longitudinal_m_s"),
      .shear_m_s = cells.positive_or_absent("shear_m_s"),
      .density_kg_m3 = cells.positive_or_absent("density_kg_m3"),
      .longitudinal_slope_m_s_K = cells.number_or_absent("longitudinal_slope_m_s_K"),
      .shear_slope_m_s_K = cells.number_or_absent("shear_slope_m_s_K"),
      .u_longitudinal_m_s = cells.positive_or_absent("u_longitudinal_m_s"),
      .attenuation_note = cells.text_or_empty("attenuation_note"),
      .source = cells.source(all.sources),
      .confidence = cells.confidence(),
      .recommended = cells.yes("recommended"),
      .usable = cells.yes("usable"),
      .longitudinal_dB_m = cells.positive_or_absent("longitudinal_dB_m"),
      .shear_dB_m = cells.positive_or_absent("shear_dB_m"),
      .loss_power = cells.positive_or_absent("loss_power"),
      .u_loss_percent = cells.positive_or_absent("u_loss_percent")};
  if (std::isnan(solid.longitudinal_dB_m) != std::isnan(solid.u_loss_percent)) {
    cells.problem("a loss needs its uncertainty, and none without a loss");
  }
  if (solid.shear_m_s >= solid.longitudinal_m_s) {
    cells.problem("shear waves are slower than longitudinal waves");
  }
  if (solid.usable && !(solid.longitudinal_m_s > 0 && solid.u_longitudinal_m_s > 0)) {
    cells.problem("a usable row needs a longitudinal speed and its uncertainty");
  }
  return solid;
}

FittingRecord read_fitting(Cells& cells, const Tables& all) {
  return {.key = cells.key('-'),
          .name = cells.text("name"),
          .upstream_D = cells.positive("upstream_D"),
          .downstream_D = cells.positive("downstream_D"),
          .bend = cells.yes("bend"),
          .mark_only = cells.yes("mark_only"),
          .source = cells.source(all.sources),
          .confidence = cells.confidence()};
}

CouplantRecord read_couplant(Cells& cells, const Tables& all) {
  const CouplantRecord couplant{.key = cells.key('-'),
                                .name = cells.text("name"),
                                .lowest_degC = cells.number("lowest_degC"),
                                .highest_degC = cells.number("highest_degC"),
                                .lasts = cells.text("lasts"),
                                .note = cells.text("note"),
                                .source = cells.source(all.sources),
                                .confidence = cells.confidence(),
                                .limit_degC = cells.number_or_absent("limit_degC"),
                                .traits = cells.words("traits", couplant_traits),
                                .harms = cells.text_or_empty("harms")};
  if (couplant.lowest_degC >= couplant.highest_degC) {
    cells.problem("lowest_degC must be below highest_degC");
  }
  if (couplant.limit_degC < couplant.highest_degC) {
    cells.problem("limit_degC must not be below highest_degC");
  }
  return couplant;
}

SensorPairRecord read_sensor_pair(Cells& cells, const Tables& all) {
  const SensorPairRecord pair{
      .key = cells.key('-'),
      .about = cells.text("about"),
      .invented = cells.yes("invented"),
      .frequency_MHz = cells.positive("frequency_MHz"),
      .element_mm = cells.positive_or_absent("element_mm"),
      .wedge_sound_speed_m_s = cells.positive("wedge_sound_speed_m_s"),
      .wedge_at_degC = cells.number_or_absent("wedge_at_degC"),
      .wedge_slope_m_s_K = cells.number_or_absent("wedge_slope_m_s_K"),
      .wedge_angle_deg = cells.positive("wedge_angle_deg"),
      .wedge_path_mm = cells.positive_or_absent("wedge_path_mm"),
      .setback_mm = cells.number("setback_mm"),
      .nose_mm = cells.number_or_absent("nose_mm"),
      .length_mm = cells.positive_or_absent("length_mm"),
      .lowest_degC = cells.number_or_absent("lowest_degC"),
      .highest_degC = cells.number_or_absent("highest_degC"),
      .mark = cells.text_or_empty("mark"),
      .source = cells.source(all.sources),
      .wedge_shear_m_s = cells.positive_or_absent("wedge_shear_m_s"),
      .wedge_density_kg_m3 = cells.positive_or_absent("wedge_density_kg_m3"),
      .wedge_dB_m = cells.positive_or_absent("wedge_dB_m")};
  if (pair.wedge_angle_deg >= 90) cells.problem("wedge_angle_deg must be below 90");
  if (pair.lowest_degC >= pair.highest_degC) {
    cells.problem("lowest_degC must be below highest_degC");
  }
  if (!pair.invented) cells.problem("only invented pairs are built in");
  return pair;
}

LiquidRecord read_liquid(Cells& cells, const Tables& all) {
  static constexpr std::string_view models[] = {
      "water",     "seawater",   "brine_nacl", "electrolyte", "glycol_water", "coolant",
      "tabulated", "correlated", "crude_oil",  "mineral_oil", "fuel",         "glycerol_water"};
  if (std::ranges::count(models, cells.text("model")) == 0) {
    cells.problem("model: \"" + std::string(cells.text("model")) + "\" is not a known word");
  }
  return {.key = cells.key('_'),
          .name = cells.text("name"),
          .model = cells.text("model"),
          .parameter = cells.text_or_empty("parameter"),
          .solution = cells.yes("solution"),
          .source = cells.source(all.sources),
          .confidence = cells.confidence()};
}

/// Reports cells of which some are empty and some are not.
void all_or_none(Cells& cells, const std::vector<std::string_view>& columns) {
  const auto empty = std::ranges::count_if(
      columns, [&](std::string_view column) { return cells.text_or_empty(column).empty(); });
  if (empty == 0 || empty == std::ssize(columns)) return;
  cells.problem(std::string(columns.front()) + " and what belongs to it: fill in all or none");
}

LiquidTableRecord read_liquid_facts(Cells& cells, const Tables& all) {
  all_or_none(cells, {"boiling_point_K", "boiling_pressure_bar", "critical_temperature_K",
                      "critical_pressure_bar"});
  all_or_none(cells, {"stiffening", "u_stiffening", "heat_capacity_ratio"});
  const LiquidTableRecord facts{
      .key = cells.key('_'),
      .points = {},
      .boiling_point_K = cells.positive_or_absent("boiling_point_K"),
      .boiling_pressure_bar = cells.positive_or_absent("boiling_pressure_bar"),
      .critical_temperature_K = cells.positive_or_absent("critical_temperature_K"),
      .critical_pressure_bar = cells.positive_or_absent("critical_pressure_bar"),
      .freezing_point_K = cells.positive_or_absent("freezing_point_K"),
      .stiffening = cells.positive_or_absent("stiffening"),
      .u_stiffening = cells.positive_or_absent("u_stiffening"),
      .heat_capacity_ratio = cells.positive_or_absent("heat_capacity_ratio"),
      .u_density_percent = cells.positive_or_absent("u_density_percent"),
      .u_viscosity_percent = cells.positive_or_absent("u_viscosity_percent"),
      .absorption_factor = cells.positive("absorption_factor"),
      .relative_u_absorption = cells.positive("relative_u_absorption"),
      .source = cells.source(all.sources),
      .confidence = cells.confidence()};
  if (facts.boiling_point_K >= facts.critical_temperature_K ||
      facts.boiling_pressure_bar >= facts.critical_pressure_bar) {
    cells.problem("the boiling point must lie below the critical point");
  }
  if (facts.heat_capacity_ratio < 1) cells.problem("heat_capacity_ratio must be at least 1");
  return facts;
}

LiquidPointRow read_liquid_point(Cells& cells, const Tables& all) {
  const LiquidPointRow row{.key = cells.key('_'),
                           .point = {.temperature_degC = cells.number("temperature_degC"),
                                     .pressure_bar = cells.positive("pressure_bar"),
                                     .mass_percent = cells.number("mass_percent"),
                                     .sound_speed_m_s = cells.positive("sound_speed_m_s"),
                                     .density_kg_m3 = cells.positive_or_absent("density_kg_m3"),
                                     .viscosity_mPa_s = cells.positive_or_absent("viscosity_mPa_s"),
                                     .u_sound_speed_m_s = cells.positive("u_sound_speed_m_s")}};
  cells.source(all.sources);
  cells.confidence();
  if (row.point.temperature_degC <= -273.15) cells.problem("temperature_degC is not above 0 K");
  if (row.point.mass_percent < 0 || row.point.mass_percent > 100) {
    cells.problem("mass_percent must be 0 to 100");
  }
  if (!std::ranges::binary_search(all.liquid_tables, row.key, {}, &LiquidTableRecord::key)) {
    cells.problem("liquid_facts.csv has no key \"" + std::string(row.key) + "\"");
  }
  return row;
}

/// The points of one liquid in the sorted table of all.
auto points_of(const Tables& all, std::string_view key) {
  return std::ranges::equal_range(all.liquid_points, key, {}, &LiquidPointRow::key);
}

/// Common names of the records `known`; each must lead to a key, and be no key itself.
template <class Record>
void read_names(Tables& all, const std::string& path, const std::vector<Record>& known,
                std::vector<NameRecord>& names, Problems& problems) {
  const auto is_key = [&](std::string_view text) {
    return std::ranges::binary_search(known, text, {}, &Record::key);
  };
  read_table(
      all, path, {"name", "key", "note"}, names, problems,
      [&](Cells& cells) {
        const std::string& name = all.folded_names.emplace_back(folded_name(cells.text("name")));
        const std::string_view key = cells.text("key");
        if (!is_key(key)) cells.problem("no row has the key \"" + std::string(key) + "\"");
        if (is_key(name)) cells.problem("\"" + name + "\" is a key and needs no name");
        return NameRecord{name, key};
      },
      [](const NameRecord& row) { return std::tie(row.name, row.key); });
}

/// Kinds of pipe that are refused; none may be the name of a solid too.
void read_refused_materials(Tables& all, const std::string& path, Problems& problems) {
  read_table(
      all, path, {"name", "reason", "source"}, all.refused_materials, problems,
      [&](Cells& cells) {
        const std::string& name = all.folded_names.emplace_back(folded_name(cells.text("name")));
        cells.source(all.sources);
        if (std::ranges::binary_search(all.solids, name, {}, &SolidRecord::key) ||
            std::ranges::binary_search(all.solid_names, name, {}, &NameRecord::name)) {
          cells.problem("\"" + name + "\" is a solid");
        }
        return RefusedMaterialRecord{name, cells.text("reason")};
      },
      [](const RefusedMaterialRecord& row) { return row.name; });
}

void read_all(const std::string& folder, Tables& all, Problems& problems) {
  const auto with_sources = [&](auto read) {
    return [&all, read](Cells& cells) { return read(cells, all); };
  };
  read_sources(all, folder + "/sources.csv", problems);
  read_table(all, folder + "/pipe_standards.csv",
             {"standard", "title", "material_family", "wall_rule", "u_outside_diameter_percent",
              "u_wall_percent", "tolerances", "source", "confidence"},
             all.pipe_standards, problems, with_sources(read_pipe_standard),
             [](const PipeStandardRecord& row) { return row.standard; });
  read_table(all, folder + "/pipes.csv",
             {"standard", "designation", "dn", "schedule", "outside_diameter_mm", "wall_mm",
              "wall_kind", "material_family", "source", "confidence"},
             all.pipes, problems, with_sources(read_pipe), [](const PipeRecord& row) {
               return std::tie(row.standard, row.outside_diameter_mm, row.wall_mm, row.schedule);
             });
  read_table(all, folder + "/solids.csv",
             {"key", "name", "family", "longitudinal_m_s", "shear_m_s", "density_kg_m3",
              "longitudinal_slope_m_s_K", "shear_slope_m_s_K", "u_longitudinal_m_s",
              "attenuation_note", "longitudinal_dB_m", "shear_dB_m", "loss_power", "u_loss_percent",
              "recommended", "usable", "source", "confidence"},
             all.solids, problems, with_sources(read_solid), by_key);
  read_table(all, folder + "/linings.csv",
             {"standard", "pipe", "lining_class", "lowest_dn", "highest_dn", "thickness_mm",
              "thickness_kind", "material", "source", "confidence"},
             all.linings, problems, with_sources(read_lining), [](const LiningRecord& row) {
               return std::tie(row.standard, row.lining_class, row.lowest_dn);
             });
  read_table(
      all, folder + "/fittings.csv",
      {"key", "name", "upstream_D", "downstream_D", "bend", "mark_only", "source", "confidence"},
      all.fittings, problems, with_sources(read_fitting), by_key);
  read_table(all, folder + "/couplants.csv",
             {"key", "name", "lowest_degC", "highest_degC", "limit_degC", "lasts", "traits",
              "harms", "note", "source", "confidence"},
             all.couplants, problems, with_sources(read_couplant), by_key);
  read_table(all, folder + "/sensors.csv",
             {"key",
              "about",
              "invented",
              "frequency_MHz",
              "element_mm",
              "wedge_sound_speed_m_s",
              "wedge_at_degC",
              "wedge_slope_m_s_K",
              "wedge_angle_deg",
              "wedge_path_mm",
              "setback_mm",
              "nose_mm",
              "length_mm",
              "lowest_degC",
              "highest_degC",
              "wedge_shear_m_s",
              "wedge_density_kg_m3",
              "wedge_dB_m",
              "mark",
              "source"},
             all.sensor_pairs, problems, with_sources(read_sensor_pair), by_key);
  read_table(all, folder + "/liquids.csv",
             {"key", "name", "model", "parameter", "solution", "source", "confidence"}, all.liquids,
             problems, with_sources(read_liquid), by_key);
  const std::string facts = folder + "/liquid_facts.csv";
  read_table(all, facts,
             {"key", "boiling_point_K", "boiling_pressure_bar", "critical_temperature_K",
              "critical_pressure_bar", "freezing_point_K", "stiffening", "u_stiffening",
              "heat_capacity_ratio", "u_density_percent", "u_viscosity_percent",
              "absorption_factor", "relative_u_absorption", "source", "confidence"},
             all.liquid_tables, problems, with_sources(read_liquid_facts), by_key);
  read_table(all, folder + "/liquid_points.csv",
             {"key", "temperature_degC", "pressure_bar", "mass_percent", "sound_speed_m_s",
              "density_kg_m3", "viscosity_mPa_s", "u_sound_speed_m_s", "source", "confidence"},
             all.liquid_points, problems, with_sources(read_liquid_point),
             [](const LiquidPointRow& row) {
               return std::tie(row.key, row.point.mass_percent, row.point.pressure_bar,
                               row.point.temperature_degC);
             });
  for (const LiquidTableRecord& table : all.liquid_tables) {
    if (points_of(all, table.key).empty()) {
      problems.add(facts, 1, "liquid_points.csv has no point of " + std::string(table.key));
    }
  }
  read_names(all, folder + "/solid_names.csv", all.solids, all.solid_names, problems);
  read_refused_materials(all, folder + "/refused_materials.csv", problems);
  read_names(all, folder + "/liquid_names.csv", all.liquids, all.liquid_names, problems);
}

// --- Writing -----------------------------------------------------------------------------------

std::string literal(std::string_view text) {
  std::string out = "\"";
  for (char c : text) {
    if (c == '"' || c == '\\') out += '\\';
    out += c;
  }
  return out + '"';
}

std::string literal(double value) {
  if (std::isnan(value)) return "absent";
  char digits[32];
  return {digits, std::to_chars(digits, digits + sizeof digits, value).ptr};
}

std::string literal(int value) {
  return std::to_string(value);
}
std::string literal(bool value) {
  return value ? "true" : "false";
}
std::string literal(WallKind kind) {
  return kind == WallKind::minimum ? "WallKind::minimum" : "WallKind::nominal";
}
std::string literal(WallRule rule) {
  return "WallRule::" + std::string(wall_rule_name(rule));
}
std::string literal(Confidence confidence) {
  std::string name(confidence_name(confidence));
  std::ranges::replace(name, ' ', '_');
  return "Confidence::" + name;
}
std::string literal(SolidFamily family) {
  return "SolidFamily::" + std::string(solid_family_name(family));
}

template <class... Values>
std::string braces(const Values&... values) {
  std::string out;
  ((out += (out.empty() ? "{" : ", ") + literal(values)), ...);
  return out + "}";
}

std::string row_text(const PipeStandardRecord& r) {
  return braces(r.standard, r.title, r.material_family, r.wall_rule, r.u_outside_diameter_percent,
                r.u_wall_percent, r.tolerances, r.source, r.confidence);
}
std::string row_text(const LiningRecord& r) {
  return braces(r.standard, r.pipe, r.lining_class, r.lowest_dn, r.highest_dn, r.thickness_mm,
                r.thickness_kind, r.material, r.source, r.confidence);
}
std::string row_text(const PipeRecord& r) {
  return braces(r.standard, r.designation, r.dn, r.schedule, r.outside_diameter_mm, r.wall_mm,
                r.wall_kind, r.material_family, r.source, r.confidence);
}
std::string row_text(const SolidRecord& r) {
  return braces(r.key, r.name, r.family, r.longitudinal_m_s, r.shear_m_s, r.density_kg_m3,
                r.longitudinal_slope_m_s_K, r.shear_slope_m_s_K, r.u_longitudinal_m_s,
                r.attenuation_note, r.source, r.confidence, r.recommended, r.usable,
                r.longitudinal_dB_m, r.shear_dB_m, r.loss_power, r.u_loss_percent);
}
std::string row_text(const FittingRecord& r) {
  return braces(r.key, r.name, r.upstream_D, r.downstream_D, r.bend, r.mark_only, r.source,
                r.confidence);
}
std::string row_text(const CouplantRecord& r) {
  return braces(r.key, r.name, r.lowest_degC, r.highest_degC, r.lasts, r.note, r.source,
                r.confidence, r.limit_degC, r.traits, r.harms);
}
std::string row_text(const SensorPairRecord& r) {
  return braces(r.key, r.about, r.invented, r.frequency_MHz, r.element_mm, r.wedge_sound_speed_m_s,
                r.wedge_at_degC, r.wedge_slope_m_s_K, r.wedge_angle_deg, r.wedge_path_mm,
                r.setback_mm, r.nose_mm, r.length_mm, r.lowest_degC, r.highest_degC, r.mark,
                r.source, r.delay_us, r.cycles, r.least_face_gap_mm, r.smallest_pipe_mm,
                r.largest_pipe_mm, r.zero_stability_ns, r.u_wedge_sound_speed_m_s,
                r.element_width_mm, r.wedge_shear_m_s, r.wedge_density_kg_m3, r.wedge_dB_m);
}
std::string row_text(const LiquidRecord& r) {
  return braces(r.key, r.name, r.model, r.parameter, r.solution, r.source, r.confidence);
}
std::string row_text(const RefusedMaterialRecord& r) {
  return braces(r.name, r.reason);
}
std::string row_text(const LiquidPointRow& r) {
  return braces(r.point.temperature_degC, r.point.pressure_bar, r.point.mass_percent,
                r.point.sound_speed_m_s, r.point.density_kg_m3, r.point.viscosity_mPa_s,
                r.point.u_sound_speed_m_s);
}
std::string row_text(const NameRecord& r) {
  return braces(r.name, r.key);
}

template <class Record>
void write_table(std::ostream& out, std::string_view type, std::string_view name,
                 const std::vector<Record>& rows) {
  out << "constexpr " << type << " " << name << "[] = {\n";
  for (const Record& row : rows) out << "    " << row_text(row) << ",\n";
  out << "};\n\n";
}

/// The liquids' tables, each with its part of the points written before.
void write_liquid_tables(std::ostream& out, const Tables& all) {
  write_table(out, "LiquidPoint", "liquid_points", all.liquid_points);
  out << "constexpr LiquidTableRecord liquid_tables[] = {\n";
  for (const LiquidTableRecord& r : all.liquid_tables) {
    const auto points = points_of(all, r.key);
    out << "    {" << literal(r.key) << ", {liquid_points + "
        << points.begin() - all.liquid_points.begin() << ", " << points.size() << "}";
    for (double value : {r.boiling_point_K, r.boiling_pressure_bar, r.critical_temperature_K,
                         r.critical_pressure_bar, r.freezing_point_K, r.stiffening, r.u_stiffening,
                         r.heat_capacity_ratio, r.u_density_percent, r.u_viscosity_percent,
                         r.absorption_factor, r.relative_u_absorption}) {
      out << ", " << literal(value);
    }
    out << ", " << literal(r.source) << ", " << literal(r.confidence) << "},\n";
  }
  out << "};\n\n";
}

std::string tables_text(const Tables& all) {
  std::ostringstream out;
  out << "// Made by generate_tables from the files in data/. Do not edit.\n\n"
         "#include \"slantrule/catalogue/catalogue.hpp\"\n"
         "#include \"slantrule/catalogue/liquid_tables.hpp\"\n\n"
         "namespace slantrule {\nnamespace {\n\n";
  write_table(out, "PipeStandardRecord", "pipe_standards", all.pipe_standards);
  write_table(out, "PipeRecord", "pipes", all.pipes);
  write_table(out, "LiningRecord", "linings", all.linings);
  write_table(out, "SolidRecord", "solids", all.solids);
  write_table(out, "FittingRecord", "fittings", all.fittings);
  write_table(out, "CouplantRecord", "couplants", all.couplants);
  write_table(out, "SensorPairRecord", "sensor_pairs", all.sensor_pairs);
  write_table(out, "LiquidRecord", "liquids", all.liquids);
  write_liquid_tables(out, all);
  write_table(out, "NameRecord", "solid_names", all.solid_names);
  write_table(out, "RefusedMaterialRecord", "refused_materials", all.refused_materials);
  write_table(out, "NameRecord", "liquid_names", all.liquid_names);
  out << "}  // namespace\n\n"
         "std::span<const PipeStandardRecord> built_in_pipe_standards() { return pipe_standards; }"
         "\n"
         "std::span<const PipeRecord> built_in_pipes() { return pipes; }\n"
         "std::span<const LiningRecord> built_in_linings() { return linings; }\n"
         "std::span<const SolidRecord> built_in_solids() { return solids; }\n"
         "std::span<const FittingRecord> built_in_fittings() { return fittings; }\n"
         "std::span<const CouplantRecord> built_in_couplants() { return couplants; }\n"
         "std::span<const SensorPairRecord> built_in_sensor_pairs() { return sensor_pairs; }\n"
         "std::span<const LiquidRecord> built_in_liquids() { return liquids; }\n"
         "std::span<const LiquidTableRecord> built_in_liquid_tables() { return liquid_tables; }\n"
         "std::span<const NameRecord> built_in_solid_names() { return solid_names; }\n"
         "std::span<const RefusedMaterialRecord> built_in_refused_materials() { return "
         "refused_materials; }\n"
         "std::span<const NameRecord> built_in_liquid_names() { return liquid_names; }\n\n"
         "}  // namespace slantrule\n";
  return out.str();
}

int generate(const std::string& folder, const std::string& output) {
  Problems problems;
  Tables all;
  read_all(folder, all, problems);
  if (!problems.none()) {
    problems.print(std::cerr);
    return 1;
  }
  std::ofstream out(output, std::ios::binary);
  out << tables_text(all);
  out.close();
  if (!out) {
    std::cerr << output << ": cannot be written\n";
    return 1;
  }
  return 0;
}

}  // namespace
}  // namespace slantrule

int main(int argc, char** argv) {
  if (argc != 3) {
    std::cerr << "usage: generate_tables DATA_DIR OUTPUT.cpp\n";
    return 2;
  }
  return slantrule::generate(argv[1], argv[2]);
}
