#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "lookup_parts.hpp"
#include "slantrule/catalogue/liquid_designation.hpp"
#include "slantrule/catalogue/liquid_factory.hpp"
#include "slantrule/catalogue/liquid_strength.hpp"
#include "slantrule/planning/defaults.hpp"
#include "slantrule/sheets/lookup_sheet.hpp"
#include "slantrule/sheets/text_layout.hpp"
#include "slantrule/units/quantity.hpp"
#include "slantrule/units/suggest.hpp"

namespace slantrule {
namespace {

constexpr double zero_celsius_K = defaults::zero_celsius_K;

// ---------------------------------------------------------------- table

/// Asks one model, at one strength, for everything that a table shows.
class TableMaker {
 public:
  TableMaker(const LiquidModel& model, double mass_fraction, const LiquidQuery& query)
      : model_(model), mass_fraction_(mass_fraction), query_(query) {}

  /// Into `table`; false where no temperature is given and the model has no range to choose from.
  bool fill(LiquidTable& table) const {
    std::vector<double> temperatures_K = query_.temperatures_K;
    if (temperatures_K.empty()) temperatures_K = usual_temperatures_K();
    if (temperatures_K.empty()) return false;
    std::ranges::sort(temperatures_K);
    for (double temperature_K : temperatures_K) table.rows.push_back(row(temperature_K));
    const LiquidTableRow& first = table.rows.front();
    table.freezing_temperature_K = freezing_K({first.temperature_K, first.pressure_Pa});
    curve(table);
    return true;
  }

 private:
  LiquidState state(double temperature_K, double pressure_Pa) const {
    return {temperature_K, pressure_Pa, mass_fraction_};
  }

  std::optional<double> freezing_K(LiquidState at) const {
    at.mass_fraction = mass_fraction_;
    return model_.freezing_temperature_K(at);
  }

  std::optional<double> boiling_Pa(double temperature_K) const {
    return model_.saturation_pressure_Pa(temperature_K);
  }

  /// The stated pressure; else 1 atm, or boiling pressure where that is higher.
  double pressure_Pa(double temperature_K) const {
    if (query_.pressure_Pa) return *query_.pressure_Pa;
    return std::max(defaults::atmosphere_Pa, boiling_Pa(temperature_K).value_or(0));
  }

  LiquidTableRow row(double temperature_K) const {
    LiquidTableRow out;
    out.temperature_K = temperature_K;
    out.pressure_Pa = pressure_Pa(temperature_K);
    out.boiling_pressure_Pa = boiling_Pa(temperature_K);
    out.boils = out.boiling_pressure_Pa && *out.boiling_pressure_Pa > out.pressure_Pa;
    const LiquidState at = state(temperature_K, out.pressure_Pa);
    const auto freezing = freezing_K(at);
    out.frozen = freezing && temperature_K < *freezing;
    if (const auto range = model_.valid_range()) {
      out.in_range = temperature_K >= range->lowest_temperature_K &&
                     temperature_K <= range->highest_temperature_K &&
                     out.pressure_Pa <= range->highest_pressure_Pa &&
                     mass_fraction_ >= range->lowest_mass_fraction &&
                     mass_fraction_ <= range->highest_mass_fraction;
    }
    try {
      out.properties = model_.at(at);
      if (const auto absorption = model_.absorption(at)) out.absorption_dB_m = absorption->at(1e6);
    } catch (const std::domain_error& error) {
      out.refusal = error.what();
      return out;
    }
    out.sound_speed_slope_m_s_K = slope(out);
    return out;
  }

  /// Speed of sound where the model has an answer and the liquid stays one.
  std::optional<double> sound_speed(double temperature_K, double pressure_Pa) const {
    if (boiling_Pa(temperature_K).value_or(0) > pressure_Pa) return std::nullopt;
    try {
      const auto speed = model_.at(state(temperature_K, pressure_Pa)).sound_speed_m_s;
      return speed ? std::optional(speed->value) : std::nullopt;
    } catch (const std::domain_error&) {
      return std::nullopt;
    }
  }

  /// Difference quotient over 0.1 K, good to some 1e-5 m/s/K; one-sided beside boiling and the end
  /// of a model.
  std::optional<double> slope(const LiquidTableRow& row) const {
    constexpr double step_K = 0.05;
    if (!row.properties.sound_speed_m_s) return std::nullopt;
    const double here = row.properties.sound_speed_m_s->value;
    const auto below = sound_speed(row.temperature_K - step_K, row.pressure_Pa);
    const auto above = sound_speed(row.temperature_K + step_K, row.pressure_Pa);
    if (below && above) return (*above - *below) / (2 * step_K);
    if (above) return (*above - here) / step_K;
    if (below) return (here - *below) / step_K;
    return std::nullopt;
  }

  /// The temperatures at which the model holds and the liquid is one at its pressure. What boils
  /// below 20 degC is kept liquid by pressure, and its whole range counts.
  std::vector<double> usual_temperatures_K() const {
    const auto range = model_.valid_range();
    if (!range) return {};
    double low_K = range->lowest_temperature_K, high_K = range->highest_temperature_K;
    if (const auto freezing = freezing_K({low_K, pressure_Pa(low_K)})) {
      low_K = std::max(low_K, *freezing);
    }
    const double limit_Pa = query_.pressure_Pa.value_or(defaults::atmosphere_Pa);
    const auto boils = [&](double temperature_K) {
      return boiling_Pa(temperature_K).value_or(0) > limit_Pa;
    };
    if (boils(high_K) && !boils(defaults::ambient_K) && low_K < defaults::ambient_K) {
      double liquid_K = defaults::ambient_K;
      while (high_K - liquid_K > 1e-3) {
        const double middle_K = (liquid_K + high_K) / 2;
        (boils(middle_K) ? high_K : liquid_K) = middle_K;
      }
    }
    if (!(high_K > low_K)) return {low_K};
    constexpr double most_rows = 12;
    double step_K = 1;
    for (double wider : {2.0, 5.0, 10.0, 20.0, 50.0, 100.0}) {
      if ((high_K - low_K) / step_K <= most_rows) break;
      step_K = wider;
    }
    std::vector<double> temperatures_K;
    // Water boils at 99.97 degC: its table goes to 100 degC, at boiling pressure.
    const double rounding = query_.pressure_Pa ? 1e-6 : 1e-2;
    const double first = std::ceil((low_K - zero_celsius_K) / step_K - 1e-3);
    const double last = std::floor((high_K - zero_celsius_K) / step_K + rounding);
    for (double i = first; i <= last; ++i) temperatures_K.push_back(zero_celsius_K + i * step_K);
    if (temperatures_K.empty()) temperatures_K.push_back(low_K);
    return temperatures_K;
  }

  void curve(LiquidTable& table) const {
    constexpr int points = 60;
    const double low_K = table.rows.front().temperature_K;
    const double high_K = table.rows.back().temperature_K;
    if (!(high_K > low_K)) return;
    for (int i = 0; i < points; ++i) {
      const double temperature_K = low_K + (high_K - low_K) * i / (points - 1);
      const auto speed = sound_speed(temperature_K, pressure_Pa(temperature_K));
      if (speed) table.curve.push_back({temperature_K, *speed});
    }
  }

  const LiquidModel& model_;
  double mass_fraction_;
  const LiquidQuery& query_;
};

// ---------------------------------------------------------------- search

LiquidMeaning meaning_of(const LiquidRecord& row, const Catalogue& catalogue) {
  LiquidMeaning meaning;
  meaning.row = &row;
  meaning.names = names_of(row.key, catalogue.user_liquid_names(), built_in_liquid_names());
  return meaning;
}

void add_table(LiquidMeaning& meaning, std::optional<double> mass_fraction,
               const LiquidQuery& query, const Catalogue& catalogue) {
  const LiquidRecord& row = *meaning.row;
  const bool assumed = row.solution && !mass_fraction && row.model == "seawater";
  if (assumed) mass_fraction = usual_salinity;
  if (row.solution && !mass_fraction) {
    meaning.why_no_table = "there is no usual strength; say it, as \"30 % mass\"";
    return;
  }
  if (!row.solution && mass_fraction.value_or(0) > 0) {
    meaning.why_no_table = "a strength has no meaning for it; name the solution, or leave it out";
    return;
  }
  LiquidTable table;
  table.mass_fraction = mass_fraction.value_or(0);
  table.strength_assumed = assumed;
  table.pressure_stated = query.pressure_Pa.has_value();
  try {
    table.model = make_liquid(row, meaning.parameter, catalogue);
  } catch (const std::invalid_argument& error) {
    meaning.why_no_table = error.what();
    return;
  }
  if (TableMaker(*table.model, table.mass_fraction, query).fill(table)) {
    meaning.table = std::move(table);
  } else {
    meaning.why_no_table = "its range is not known; say a temperature";
  }
}

/// What a text that is understood means: one liquid for each strength it says.
void add_meanings(const LiquidReading& reading, const LiquidQuery& query,
                  const Catalogue& catalogue, LiquidLookup& lookup) {
  LiquidMeaning meaning = meaning_of(*reading.record, catalogue);
  meaning.parameter = reading.parameter;
  if (reading.strengths.empty() || query.mass_fraction) {
    add_table(meaning, query.mass_fraction, query, catalogue);
    lookup.meanings.push_back(std::move(meaning));
    return;
  }
  for (double strength : reading.strengths) {
    LiquidMeaning one = meaning;
    const auto by_mass = reading.basis == StrengthBasis::volume
                             ? mass_fraction_of_volume(*reading.record, strength)
                             : strength;
    if (by_mass) {
      add_table(one, by_mass, query, catalogue);
    } else {
      one.why_no_table = "by volume it cannot be turned into mass; say it as \"30 % mass\"";
    }
    lookup.meanings.push_back(std::move(one));
  }
}

std::vector<const LiquidRecord*> rows_with_words(std::string_view text,
                                                 const Catalogue& catalogue) {
  std::vector<const LiquidRecord*> rows;
  const auto consider = [&](const LiquidRecord& row) {
    if (text.empty() || holds_words(text, {row.key, row.name})) {
      rows.push_back(&row);
      return;
    }
    for (const NameRecord& name : built_in_liquid_names()) {
      if (name.key == row.key && holds_words(text, {name.name})) {
        rows.push_back(&row);
        return;
      }
    }
  };
  for (const LiquidRecord& row : catalogue.user_liquids()) consider(row);
  for (const LiquidRecord& row : built_in_liquids()) {
    const bool overridden = std::ranges::any_of(
        catalogue.user_liquids(),
        [&](const LiquidRecord& other) { return folded_name(other.key) == row.key; });
    if (!overridden) consider(row);
  }
  return rows;
}

// ---------------------------------------------------------------- text

/// Three significant digits without an exponent.
std::string significant(double value) {
  const double size = std::fabs(value);
  if (size >= 100) return fmt::format("{:.0f}", value);
  if (size >= 10) return fmt::format("{:.1f}", value);
  if (size >= 1) return fmt::format("{:.2f}", value);
  if (size >= 0.1) return fmt::format("{:.3f}", value);
  return fmt::format("{:.4f}", value);
}

template <class Show>
std::string or_dash(const std::optional<double>& value, const Show& show) {
  return value ? show(*value) : "-";
}

std::optional<double> value_of(const std::optional<Estimate>& estimate) {
  return estimate ? std::optional(estimate->value) : std::nullopt;
}

std::optional<double> kinematic_m2_s(const LiquidProperties& properties) {
  if (!properties.viscosity_Pa_s || !properties.density_kg_m3) return std::nullopt;
  return properties.viscosity_Pa_s->value / properties.density_kg_m3->value;
}

class LiquidText {
 public:
  LiquidText(const LiquidLookup& lookup, const Display& display)
      : lookup_(lookup), display_(display) {}

  std::string build() {
    const bool any_table = std::ranges::any_of(
        lookup_.meanings, [](const LiquidMeaning& one) { return one.table.has_value(); });
    if (!lookup_.message.empty()) {
      lines_.wrap(safe(lookup_.message));
      lines_.add();
    }
    if (!any_table && lookup_.meanings.size() > 1) {
      list();
      return lines_.text();
    }
    for (const LiquidMeaning& meaning : lookup_.meanings) {
      if (&meaning != &lookup_.meanings.front()) lines_.add();
      in_full(meaning);
    }
    return lines_.text();
  }

 private:
  std::string safe(std::string_view text) const { return job_text(text, display_); }
  bool us() const { return display_.units == UnitSystem::us; }

  double temperature(double temperature_K) const {
    return in_unit(temperature_K, Dimension::temperature, us() ? "degF" : "degC");
  }
  double speed(double speed_m_s) const {
    return in_unit(speed_m_s, Dimension::velocity, us() ? "ft/s" : "m/s");
  }

  void list() {
    std::size_t width = 0;
    for (const LiquidMeaning& one : lookup_.meanings) width = std::max(width, one.row->key.size());
    width = std::min<std::size_t>(width, 30);
    lines_.add(fmt::format("{} liquids; look one up by its name for its properties",
                           lookup_.meanings.size()));
    for (const LiquidMeaning& meaning : lookup_.meanings) {
      const LiquidRecord& row = *meaning.row;
      const std::string start = padded(safe(row.key), width) + "  ";
      lines_.wrap(safe(fmt::format("{}{} ({})", row.name, row.solution ? ", needs a strength" : "",
                                   confidence_name(row.confidence))),
                  start, std::string(width + 2, ' '));
    }
  }

  void in_full(const LiquidMeaning& meaning) {
    const LiquidRecord& row = *meaning.row;
    lines_.wrap(safe(fmt::format("{}: {}", row.key, row.name)));
    lines_.field("also called", safe(name_list(meaning.names, 12)));
    lines_.field("row", safe(source_text(row.source, row.confidence)));
    if (!meaning.table) {
      lines_.field("no table", safe(meaning.why_no_table));
      return;
    }
    const LiquidTable& table = *meaning.table;
    lines_.field("model", safe(table.model->source()));
    if (const auto range = table.model->valid_range()) {
      std::string text =
          fmt::format("{} to {}, up to {}", temperature_text(range->lowest_temperature_K, display_),
                      temperature_text(range->highest_temperature_K, display_),
                      pressure_text(range->highest_pressure_Pa, display_));
      if (row.solution) {
        text += fmt::format(", {:g} to {:g} % by mass", 100 * range->lowest_mass_fraction,
                            100 * range->highest_mass_fraction);
      }
      lines_.field("holds from", text);
    }
    if (row.solution) lines_.field("strength", strength(row, table));
    lines_.field("pressure", table.pressure_stated
                                 ? pressure_text(table.rows.front().pressure_Pa, display_)
                                 : "1 atm, or boiling pressure where that is higher");
    if (table.freezing_temperature_K) {
      lines_.field("freezes at", temperature_text(*table.freezing_temperature_K, display_));
    }
    lines_.add();
    rows(table);
    plot(table);
  }

  static std::string strength(const LiquidRecord& row, const LiquidTable& table) {
    const std::string assumed = table.strength_assumed ? ", not stated: standard seawater" : "";
    if (row.model == "seawater") {
      return fmt::format("{:g} g/kg{}", 1000 * table.mass_fraction, assumed);
    }
    return fmt::format("{:.4g} % by mass{}", 100 * table.mass_fraction, assumed);
  }

  void rows(const LiquidTable& table) {
    static constexpr const char* form = "{:>7}{:1} {:>8} {:>6} {:>7} {:>7} {:>8} {:>8} {:>8} {:>8}";
    lines_.add(fmt::format(form, "T", "", "speed of", "+-", "dc/dT", "density", "kinem.", "dynamic",
                           "absorb.", "boils"));
    lines_.add(
        fmt::format(form, "", "", "sound c", "k=1", "", "", "visc.", "visc.", "1 MHz", "below"));
    lines_.add(us() ? fmt::format(form, "degF", "", "ft/s", "ft/s", "ft/s/F", "lb/ft3", "mm2/s",
                                  "mPa s", "dB/ft", "psia")
                    : fmt::format(form, "degC", "", "m/s", "m/s", "m/s/K", "kg/m3", "mm2/s",
                                  "mPa s", "dB/m", "bar abs"));
    bool out_of_range = false, frozen = false, boils = false;
    for (const LiquidTableRow& row : table.rows) {
      const char mark = row.boils ? 'b' : row.frozen ? 'f' : row.in_range ? ' ' : '*';
      boils = boils || row.boils;
      frozen = frozen || (row.frozen && !row.boils);
      out_of_range = out_of_range || mark == '*';
      const std::string t = fmt::format("{:.1f}", temperature(row.temperature_K));
      if (!row.refusal.empty()) {
        lines_.wrap(safe("no answer: " + row.refusal), fmt::format("{:>7}{}  ", t, mark),
                    std::string(10, ' '));
        continue;
      }
      const LiquidProperties& p = row.properties;
      lines_.add(fmt::format(
          form, t, mark,
          p.sound_speed_m_s ? fmt::format("{:.1f}", speed(p.sound_speed_m_s->value)) : "-",
          p.sound_speed_m_s ? fmt::format("{:.1f}", speed(p.sound_speed_m_s->u)) : "-",
          or_dash(row.sound_speed_slope_m_s_K,
                  [&](double slope) {
                    return fmt::format(
                        "{:+.2f}",
                        us() ? in_unit(slope, Dimension::speed_slope, "ft/s/degF") : slope);
                  }),
          or_dash(value_of(p.density_kg_m3),
                  [&](double density) {
                    return us() ? fmt::format("{:.2f}",
                                              in_unit(density, Dimension::density, "lb/ft3"))
                                : fmt::format("{:.1f}", density);
                  }),
          or_dash(kinematic_m2_s(p), [](double nu) { return significant(nu * 1e6); }),
          or_dash(value_of(p.viscosity_Pa_s), [](double mu) { return significant(mu * 1e3); }),
          or_dash(row.absorption_dB_m,
                  [&](double loss) { return significant(us() ? loss * 0.3048 : loss); }),
          or_dash(row.boiling_pressure_Pa, [&](double pressure_Pa) {
            return significant(pressure_Pa / (us() ? 6894.757293168361 : 1e5));
          })));
    }
    if (out_of_range) lines_.add("* outside the range of the model: larger uncertainty");
    if (frozen) lines_.add("f below the freezing point: would hold only while still liquid");
    if (boils) lines_.add("b boils at this pressure: values at boiling pressure");
  }

  void plot(const LiquidTable& table) {
    if (table.curve.size() < 2) return;
    lines_.add();
    lines_.add(fmt::format("speed of sound, {}", us() ? "ft/s" : "m/s"));
    for (const std::string& line : plot_lines(table.curve)) lines_.add(line);
  }

  std::vector<std::string> plot_lines(const std::vector<CurvePoint>& curve) const {
    constexpr std::size_t width = 60, height = 15;
    const auto [slowest, fastest] = std::ranges::minmax(
        curve, {}, [](const CurvePoint& point) { return point.sound_speed_m_s; });
    // A speed that hardly changes is a flat line, not noise blown up.
    const double middle = (slowest.sound_speed_m_s + fastest.sound_speed_m_s) / 2;
    const double span =
        std::max(fastest.sound_speed_m_s - slowest.sound_speed_m_s, 1e-3 * std::fabs(middle));
    const double bottom = middle - span / 2;
    const double low_K = curve.front().temperature_K, high_K = curve.back().temperature_K;
    std::vector<std::string> grid(height, std::string(width, ' '));
    for (const CurvePoint& point : curve) {
      const double x = (point.temperature_K - low_K) / (high_K - low_K) * (width - 1);
      const double y = (point.sound_speed_m_s - bottom) / span * (height - 1);
      const auto column = static_cast<std::size_t>(std::lround(x));
      const auto up = static_cast<std::size_t>(std::lround(y));
      grid[height - 1 - up][column] = '*';
    }
    std::vector<std::string> lines;
    for (std::size_t i = 0; i < height; ++i) {
      const bool labelled = i == 0 || i == height / 2 || i == height - 1;
      const double value =
          bottom + span * static_cast<double>(height - 1 - i) / static_cast<double>(height - 1);
      std::string line =
          (labelled ? fmt::format("{:>8.1f} +", speed(value)) : std::string(9, ' ') + "|") +
          grid[i];
      line.erase(line.find_last_not_of(' ') + 1);
      lines.push_back(std::move(line));
    }
    lines.push_back(std::string(9, ' ') + "+" + std::string(width, '-'));
    const auto at = [&](double temperature_K) {
      return fmt::format("{:.1f}", temperature(temperature_K));
    };
    const std::string unit = us() ? " degF" : " degC";
    lines.push_back(fmt::format("{:10}{:<20}{:^20}{:>20}", "", at(low_K), at((low_K + high_K) / 2),
                                at(high_K) + unit));
    return lines;
  }

  const LiquidLookup& lookup_;
  const Display& display_;
  SheetLines lines_;
};

// ---------------------------------------------------------------- JSON

void put(LookupJson& object, const char* key, const std::optional<Estimate>& estimate,
         double factor = 1) {
  if (!estimate) return;
  slantrule::put(object, key, estimate->value * factor);
  slantrule::put(object, ("u_" + std::string(key)).c_str(), estimate->u * factor);
}
using slantrule::put;

LookupJson row_json(const LiquidTableRow& row) {
  LookupJson out = LookupJson::object();
  put(out, "temperature_degC", row.temperature_K - zero_celsius_K);
  put(out, "pressure_bar", row.pressure_Pa * 1e-5);
  put(out, "sound_speed_m_s", row.properties.sound_speed_m_s);
  put(out, "sound_speed_slope_m_s_K", row.sound_speed_slope_m_s_K);
  put(out, "density_kg_m3", row.properties.density_kg_m3);
  put(out, "kinematic_viscosity_mm2_s", kinematic_m2_s(row.properties), 1e6);
  put(out, "viscosity_mPa_s", row.properties.viscosity_Pa_s, 1e3);
  put(out, "absorption_1MHz_dB_m", row.absorption_dB_m);
  put(out, "boiling_pressure_bar", row.boiling_pressure_Pa, 1e-5);
  out["in_range"] = row.in_range;
  out["frozen"] = row.frozen;
  out["boils"] = row.boils;
  put(out, "refusal", row.refusal);
  return out;
}

LookupJson meaning_json(const LiquidMeaning& meaning) {
  const LiquidRecord& row = *meaning.row;
  LookupJson out = LookupJson::object();
  put(out, "key", row.key);
  put(out, "name", row.name);
  put(out, "model", row.model);
  put(out, "parameter", row.parameter);
  put(out, "stated_parameter", meaning.parameter);
  out["solution"] = row.solution;
  put(out, "confidence", confidence_name(row.confidence));
  put(out, "source", row.source);
  out["names"] = meaning.names;
  put(out, "why_no_rows", meaning.why_no_table);
  if (!meaning.table) return out;
  const LiquidTable& table = *meaning.table;
  put(out, "model_source", table.model->source());
  if (const auto range = table.model->valid_range()) {
    put(out, "lowest_temperature_degC", range->lowest_temperature_K - zero_celsius_K);
    put(out, "highest_temperature_degC", range->highest_temperature_K - zero_celsius_K);
    put(out, "highest_pressure_bar", range->highest_pressure_Pa * 1e-5);
    if (row.solution) {
      put(out, "lowest_mass_percent", range->lowest_mass_fraction * 100);
      put(out, "highest_mass_percent", range->highest_mass_fraction * 100);
    }
  }
  if (row.solution) {
    put(out, "mass_percent", table.mass_fraction * 100);
    out["strength_stated"] = !table.strength_assumed;
  }
  out["pressure_stated"] = table.pressure_stated;
  if (table.freezing_temperature_K) {
    put(out, "freezing_temperature_degC", *table.freezing_temperature_K - zero_celsius_K);
  }
  out["rows"] = LookupJson::array();
  for (const LiquidTableRow& one : table.rows) out["rows"].push_back(row_json(one));
  return out;
}

}  // namespace

LiquidLookup find_liquids(const LiquidQuery& query, const Catalogue& catalogue) {
  LiquidLookup lookup;
  lookup.text = query.text;
  if (query.text.empty()) {
    for (const LiquidRecord* row : rows_with_words("", catalogue)) {
      lookup.meanings.push_back(meaning_of(*row, catalogue));
    }
    return lookup;
  }
  const LiquidReading reading = read_liquid(query.text, catalogue);
  switch (reading.kind) {
    case LiquidReading::Kind::understood:
      add_meanings(reading, query, catalogue, lookup);
      return lookup;
    case LiquidReading::Kind::ambiguous:
      lookup.message = reading.message;
      lookup.readings = reading.readings;
      for (const std::string& text : reading.readings) {
        const LiquidReading one = read_liquid(text, catalogue);
        if (one.kind == LiquidReading::Kind::understood) {
          add_meanings(one, query, catalogue, lookup);
        }
      }
      return lookup;
    case LiquidReading::Kind::out_of_scope:
      lookup.message = reading.message;
      return lookup;
    case LiquidReading::Kind::not_understood:
      break;
  }
  const auto rows = rows_with_words(query.text, catalogue);
  for (const LiquidRecord* row : rows) {
    lookup.meanings.push_back(meaning_of(*row, catalogue));
    if (rows.size() == 1) {
      add_table(lookup.meanings.back(), query.mass_fraction, query, catalogue);
    }
  }
  if (lookup.found()) return lookup;
  lookup.readings = reading.readings;
  for (std::string_view name : catalogue.liquid(query.text).nearest) {
    lookup.nearest.emplace_back(name);
  }
  lookup.message = nothing_matches("liquids", lookup);
  if (lookup.nearest.empty()) lookup.message += ": " + reading.message;
  return lookup;
}

std::string text_sheet(const LiquidLookup& lookup, const Display& display) {
  return lookup.found() ? LiquidText(lookup, display).build() : std::string();
}

std::string json_sheet(const LiquidLookup& lookup) {
  LookupJson found = LookupJson::array();
  for (const LiquidMeaning& meaning : lookup.meanings) found.push_back(meaning_json(meaning));
  return one_line(lookup_json("liquids", lookup, std::move(found)));
}

}  // namespace slantrule
