#pragma once

/// What the catalogue holds under a text, found and shown: pipes, solids, liquids.
///
/// Each kind has a `find_...`, which takes any bytes and never guesses, and two sheets of what it
/// found: `text_sheet`, lines of at most 80 columns ended by '\n', and `json_sheet`, one ASCII
/// object on one line without the line end, numbers unrounded and with their unit in the key:
///
///     {"kind", "text", "message", "found": [...], "nearest": [...], "readings": [...], ...}
///
/// What was found points into the catalogue and lives as long as it.

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "slantrule/catalogue/catalogue.hpp"
#include "slantrule/catalogue/pipe_standards.hpp"
#include "slantrule/liquids/liquid_model.hpp"
#include "slantrule/sheets/display.hpp"
#include "slantrule/units/estimate.hpp"

namespace slantrule {

/// What every look-up answers.
struct Lookup {
  std::string text;     ///< as asked
  std::string message;  ///< one line: why nothing was found, or between what to choose; or empty
  std::vector<std::string> nearest;   ///< what was likely meant; where found, what else it may be
  std::vector<std::string> readings;  ///< what an ambiguous text could mean
};

// ---------------------------------------------------------------- pipes

/// One size of one standard: rows that differ in their wall alone.
struct PipeSize {
  std::vector<const PipeRecord*> walls;  ///< at least one, the thinnest first

  const PipeRecord& row() const { return *walls.front(); }
  double largest_bore_mm() const;
  double smallest_bore_mm() const;
};

/// One meaning of the text.
struct PipeMeaning {
  std::string reading;                       ///< as one would write it; the text, where it has one
  std::optional<double> outside_diameter_m;  ///< asked for by diameter or girth
  std::optional<double> wall_m;              ///< and wall
  bool by_girth = false;
  /// false: no standard size is within same_size_tolerance of the diameter, and `sizes` are the
  /// next below and above. Nothing is rounded to them.
  bool fits = true;
  std::vector<PipeSize> sizes;  ///< by a diameter: nearest first; else in the order of the tables
};

struct PipeLookup : Lookup {
  std::vector<PipeMeaning> meanings;  ///< several for an ambiguous text
  bool found() const { return !meanings.empty(); }
};

/// Sizes under a text:
///
///     designation  NPS 6 sch 40; DN 150; PE 110 SDR 11; 6" STD; any order; what is left out is
///     open standard     EN 545; C900 material     ductile iron; HDPE diameter     168.3 mm;
///     OD 9.05 in; 168.3 x 7.1 mm girth        girth 721 mm; 28.4 in circumference
///
/// A nominal size finds every standard that uses it, because that is the question on site.
PipeLookup find_pipes(std::string_view text, const Catalogue& catalogue);

std::string text_sheet(const PipeLookup& lookup, const Display& display);
std::string json_sheet(const PipeLookup& lookup);

/// The standards with the number of their sizes and walls.
std::string pipe_standards_text(const Catalogue& catalogue, const Display& display);
std::string pipe_standards_json(const Catalogue& catalogue);

// ---------------------------------------------------------------- solids

/// A row and what speaks for and against it.
struct SolidMeaning {
  const SolidRecord* row = nullptr;
  const SolidRecord* recommended = nullptr;  ///< of the same plain key; the row where there is none
  bool from_user = false;                    ///< a catalogue file's row, before any built-in one
  std::vector<std::string_view> names;       ///< common names that lead to the row alone
  std::vector<const SolidRecord*> evidence;  ///< other rows of the same plain key, by key
};

/// Least and greatest speed of a material: its row and its usable evidence.
struct SpeedSpread {
  double least_m_s, greatest_m_s;
  int rows;  ///< that have the speed
};
/// nullopt where fewer than two rows have it.
std::optional<SpeedSpread> longitudinal_spread(const SolidMeaning& meaning);
std::optional<SpeedSpread> shear_spread(const SolidMeaning& meaning);

struct SolidLookup : Lookup {
  std::vector<SolidMeaning> meanings;  ///< several for an ambiguous text
  bool found() const { return !meanings.empty(); }
};

/// By key or common name; an ambiguous name finds each of its meanings, a refused kind of pipe says
/// why in `message`. Else the recommended rows that hold every word of the text; an empty text
/// finds all of them. A row that is not usable is found by its full key, marked "do not use".
SolidLookup find_solids(std::string_view text, const Catalogue& catalogue);

std::string text_sheet(const SolidLookup& lookup, const Display& display);
std::string json_sheet(const SolidLookup& lookup);

// ---------------------------------------------------------------- liquids

struct LiquidQuery {
  std::string text;
  std::vector<double> temperatures_K;   ///< empty: some over the range of the model
  std::optional<double> pressure_Pa;    ///< absolute; absent: 1 atm, or boiling pressure if higher
  std::optional<double> mass_fraction;  ///< absent: as the text says
};

/// Properties at one temperature; what is not known is absent.
struct LiquidTableRow {
  double temperature_K = 0;
  double pressure_Pa = 0;
  LiquidProperties properties;
  std::optional<double> sound_speed_slope_m_s_K;  ///< at constant pressure
  std::optional<double> absorption_dB_m;          ///< at 1 MHz
  std::optional<double> boiling_pressure_Pa;
  bool in_range = true;
  bool frozen = false;  ///< below the freezing point: what would hold, were it still liquid
  bool boils = false;   ///< the stated pressure is below boiling pressure
  std::string refusal;  ///< why the model has no answer here; else empty
};

struct CurvePoint {
  double temperature_K, sound_speed_m_s;
};

/// One liquid with its properties over the temperatures asked for.
struct LiquidTable {
  std::shared_ptr<const LiquidModel> model;
  double mass_fraction = 0;
  bool strength_assumed = false;  ///< sea water of which no salinity is stated
  bool pressure_stated = false;
  std::optional<double> freezing_temperature_K;  ///< at the pressure of the first row
  std::vector<LiquidTableRow> rows;
  std::vector<CurvePoint> curve;  ///< for the plot, over the same range
};

struct LiquidMeaning {
  const LiquidRecord* row = nullptr;
  std::optional<double> parameter;      ///< degrees API, ISO VG
  std::vector<std::string_view> names;  ///< common names that lead to the row alone
  std::optional<LiquidTable> table;     ///< absent: `why_no_table`
  std::string why_no_table;
};

struct LiquidLookup : Lookup {
  std::vector<LiquidMeaning> meanings;
  bool found() const { return !meanings.empty(); }
};

/// The liquid that the text names as a job would, with its table; an ambiguous text finds each of
/// its meanings. Else the rows that hold every word of the text, and all for an empty text, without
/// tables when there are several.
LiquidLookup find_liquids(const LiquidQuery& query, const Catalogue& catalogue);

std::string text_sheet(const LiquidLookup& lookup, const Display& display);
std::string json_sheet(const LiquidLookup& lookup);

}  // namespace slantrule
