#include "unit_table.hpp"

#include <algorithm>
#include <cmath>
#include <deque>
#include <utility>

#include "slantrule/units/ascii.hpp"
#include "slantrule/units/suggest.hpp"

namespace slantrule {
namespace {

// Source of the factors, where nothing else is said: exact by definition, NIST Special Publication
// 811 (2008), appendix B.

constexpr double kInch_m = 0.0254;
constexpr double kFoot_m = 0.3048;
constexpr double kYard_m = 0.9144;
constexpr double kPound_kg = 0.45359237;
constexpr double kUsGallon_m3 = 3.785411784e-3;  // 231 in3
constexpr double kImperialGallon_m3 = 4.54609e-3;
constexpr double kBarrel_m3 = 0.158987294928;  // petroleum: 42 US gallons
constexpr double kCubicFoot_m3 = 0.028316846592;
constexpr double kCubicInch_m3 = 1.6387064e-5;
// International feet; SP 811 has the survey foot, 6 parts in a million longer, which NIST withdrew
// at the end of 2022 (Federal Register 85 FR 62698).
constexpr double kAcreFoot_m3 = 43560 * kCubicFoot_m3;
constexpr double kGravity_m_s2 = 9.80665;
constexpr double kPsi_Pa = 6894.757293168361;    // lb x standard gravity / in2
constexpr double kMmHg_Pa = 133.322387415;       // 13 595.1 kg/m3, conventional
constexpr double kMmH2O_Pa = kGravity_m_s2;      // 1000 kg/m3, conventional
constexpr double kNeper_dB = 8.685889638065037;  // 20 / ln 10
constexpr double kPi = 3.14159265358979323846;
constexpr double kRankine_K = 5.0 / 9.0;
constexpr double kMinute_s = 60, kHour_s = 3600, kDay_s = 86400;

/// One unit; its spellings stand between bars, the one to print first.
struct Row {
  Dimension dimension;
  double factor;
  std::string_view spellings;
  double offset = 0;
};

/// A part of a compound unit.
struct Part {
  double factor;
  std::string_view spellings;
};

using enum Dimension;

constexpr Row kRows[] = {
    {length, 1, "m|metre|metres|meter|meters"},
    {length, 1e-3, "mm|millimetre|millimetres|millimeter|millimeters"},
    {length, 1e-2, "cm|centimetre|centimetres|centimeter|centimeters"},
    {length, 1e-6, "um|micron|microns|micrometre|micrometres|micrometer|micrometers"},
    {length, 1e3, "km|kilometre|kilometres|kilometer|kilometers"},
    {length, kInch_m, "in|inch|inches|\""},
    {length, kInch_m / 1000, "mil|mils|thou"},
    {length, kFoot_m, "ft|foot|feet|'"},
    {length, kYard_m, "yd|yard|yards"},

    {pipe_diameters, 1, "D|dia|diameter|diameters|pipe diameters"},

    {temperature, 1, "K|kelvin|kelvins"},
    {temperature, 1,
     "degC|deg C|C|degree C|degrees C|Celsius|degrees Celsius|degree Celsius|oC|gr C|Grad C|"
     "Grad Celsius|deg\u0421|\u0421",  // Cyrillic letters

     273.15},
    {temperature, kRankine_K,
     "degF|deg F|F|degree F|degrees F|Fahrenheit|degrees Fahrenheit|degree Fahrenheit|oF|Grad F",
     459.67 * kRankine_K},
    {temperature, kRankine_K, "degR|deg R|Rankine|degrees Rankine"},

    {volume_flow, 1e6 * kUsGallon_m3 / kDay_s,
     "mgd|MGD|US mgd|Mgal/d|Mgal/day|million gallons/day|million US gallons/day"},
    {volume_flow, 1e6 * kImperialGallon_m3 / kDay_s,
     "imp mgd|UK mgd|imperial mgd|MIGD|million imperial gallons/day"},
    {volume_flow, 1e3 * kBarrel_m3 / kDay_s, "kbd|kbpd|kbbl/d|kbbl/day|thousand barrels/day"},

    {velocity, 1e3, "mm/us"},
    {velocity, 1e4, "cm/us"},
    {velocity, 25400, "in/us"},
    {velocity, 0.44704, "mph|mi/h|miles/hour"},

    {dynamic_viscosity, 1, "Pa s|Pas|kg/m/s|kg/(m s)|kg/m s|N s/m2|pascal seconds|pascal second"},
    {dynamic_viscosity, 1e-3,
     "mPa s|mPas|cP|centipoise|millipascal seconds|millipascal second|g/m/s|g/(m s)"},
    {dynamic_viscosity, 1e-6, "uPa s|uPas"},
    {dynamic_viscosity, 0.1, "P|poise"},
    {dynamic_viscosity, kPound_kg / kFoot_m, "lb/ft/s|lb/(ft s)|lb/ft s|lbm/ft/s|lbm/(ft s)"},
    {dynamic_viscosity, kPound_kg / kFoot_m / kHour_s,
     "lb/ft/h|lb/(ft h)|lb/ft h|lbm/ft/h|lbm/(ft h)|lb/ft/hr|lb/(ft hr)|lbm/ft/hr|lbm/(ft hr)"},

    {kinematic_viscosity, 1, "m2/s"},
    {kinematic_viscosity, 1e-6, "mm2/s|cSt|centistokes|centistoke"},
    {kinematic_viscosity, 1e-4, "cm2/s|St|stokes|stoke"},
    {kinematic_viscosity, kFoot_m* kFoot_m, "ft2/s"},

    {density, 1, "kg/m3|kg m-3|g/l|g/L|g/dm3"},
    {density, 1e3, "g/cm3|g/cc|g/ml|g/mL|kg/l|kg/L|kg/dm3|t/m3"},
    {density, kPound_kg / kCubicFoot_m3, "lb/ft3|lbm/ft3|lb/cu ft|lbs/ft3"},
    {density, kPound_kg / kUsGallon_m3, "lb/gal|lbm/gal|lb/US gal|lbs/gal|ppg"},
    {density, kPound_kg / kCubicInch_m3, "lb/in3|lbm/in3|lbs/in3"},

    {angle, 1, "rad|radian|radians"},
    {angle, kPi / 180, "deg|degree|degrees"},
    {angle, 1e-3, "mrad"},
    {angle, kPi / 200, "gon|grad"},
    {angle, kPi / 180 / 60, "arcmin"},

    {time, 1, "s|sec|second|seconds"},
    {time, 1e-3, "ms|msec|millisecond|milliseconds"},
    {time, 1e-6, "us|usec|microsecond|microseconds"},
    {time, 1e-9, "ns|nsec|nanosecond|nanoseconds"},
    {time, 1e-12, "ps|picosecond|picoseconds"},
    {time, kMinute_s, "min|minute|minutes"},
    {time, kHour_s, "h|hr|hrs|hour|hours"},

    {frequency, 1, "Hz|hertz"},
    {frequency, 1e3, "kHz|kilohertz"},
    {frequency, 1e6, "MHz|megahertz"},
    {frequency, 1e9, "GHz|gigahertz"},

    {fraction, 1e-2, "%|percent|pct|per cent"},
    {fraction, 1e-3, "permille|per mille"},
    {fraction, 1e-6, "ppm"},
    {fraction, 1e-9, "ppb"},

    {mass_fraction, 1e-2,
     "% mass|% by mass|% wt|% by wt|% weight|% by weight|% w/w|%(w/w)|% m/m|%(m/m)|mass %|wt %|"
     "weight %|w/w %|percent by mass|percent by weight"},
    {mass_fraction, 1, "kg/kg|g/g"},
    {mass_fraction, 1e-3, "g/kg|permille mass|permille by mass"},
    {mass_fraction, 1e-6, "mg/kg|ppm mass|ppm by mass|ppmw|ppm w/w"},
    {mass_fraction, 1e-9, "ug/kg|ppb mass|ppb by mass|ppbw"},

    {volume_fraction, 1e-2,
     "% vol|% by vol|% volume|% by volume|% v/v|%(v/v)|vol %|volume %|v/v %|percent by volume"},
    {volume_fraction, 1, "m3/m3|l/l|L/L"},
    {volume_fraction, 1e-3, "ml/l|mL/L|l/m3|L/m3|permille vol|permille by volume"},
    {volume_fraction, 1e-6, "ml/m3|mL/m3|ppm vol|ppm by volume|ppmv|ppm v/v"},
    {volume_fraction, 1e-9, "ul/l|uL/L|ppb vol|ppb by volume|ppbv"},

    {attenuation, 1, "dB/m"},
    {attenuation, 1e2, "dB/cm"},
    {attenuation, 1e3, "dB/mm"},
    {attenuation, 1 / kInch_m, "dB/in|dB/inch"},
    {attenuation, kNeper_dB, "Np/m"},
    {attenuation, 100 * kNeper_dB, "Np/cm"},
    {attenuation, 1000 * kNeper_dB, "Np/mm"},
};

constexpr Part kPressures[] = {
    {1, "Pa"},
    {1e2, "hPa"},
    {1e3, "kPa"},
    {1e6, "MPa"},
    {1e5, "bar"},
    {1e2, "mbar"},
    {kPsi_Pa, "psi|lbf/in2|lb/in2"},
    {101325, "atm|atmosphere|atmospheres"},
    {kMmHg_Pa, "mmHg|mm Hg"},
    {25.4 * kMmHg_Pa, "inHg|in Hg"},
    {1e3 * kMmH2O_Pa, "mH2O|m H2O|mWC"},
    {kMmH2O_Pa, "mmH2O|mm H2O|mmWC"},
    {25.4 * kMmH2O_Pa, "inH2O|in H2O|inWC"},
    {304.8 * kMmH2O_Pa, "ftH2O|ft H2O"},
    {1e4 * kGravity_m_s2, "kgf/cm2|kg/cm2|kp/cm2"},
};
constexpr std::string_view kGaugeSuffixes[] = {" gauge", " g", "g", "(g)", "(gauge)", " gage"};
constexpr std::string_view kAbsoluteSuffixes[] = {" absolute", " a",    "a",   "(a)",
                                                  " abs",      "(abs)", "abs", "(absolute)"};
/// The atmosphere as a unit was always counted from zero.
constexpr std::string_view kAbsoluteAlone = "atm";

constexpr Part kVolumes[] = {
    {1, "m3|cbm|kl|kL|cu m|cubic metre|cubic metres|cubic meter|cubic meters"},
    {1e-3, "l|L|dm3|litre|litres|liter|liters"},
    {1e-6, "ml|mL|cm3|cc|millilitre|millilitres|milliliter|milliliters"},
    {1e-1, "hl|hL|hectolitre|hectolitres"},
    {1e3, "Ml|ML|megalitre|megalitres|megaliter|megaliters"},
    {kUsGallon_m3, "gal|US gal|U.S. gal|gallon|gallons|US gallon|US gallons"},
    {kImperialGallon_m3, "imp gal|imperial gal|imperial gallon|imperial gallons|UK gal|UK gallons"},
    {kBarrel_m3, "bbl|bbls|barrel|barrels"},
    {kCubicFoot_m3, "ft3|cu ft|cubic foot|cubic feet"},
    {kAcreFoot_m3, "acre-ft|ac-ft|acre foot|acre feet"},
};
constexpr Part kMasses[] = {
    {1, "kg|kilogram|kilograms"},
    {1e-3, "g|gram|grams"},
    {1e3, "t|tonne|tonnes"},
    {kPound_kg, "lb|lbs|lbm|pound|pounds"},
};
constexpr Part kLengths[] = {
    {1, "m|metre|metres|meter|meters"},
    {1e-3, "mm"},
    {1e-2, "cm"},
    {1e3, "km"},
    {kFoot_m, "ft|foot|feet"},
    {kInch_m, "in|inch|inches"},
};
constexpr Part kTimes[] = {
    {1, "s|sec|second"},
    {kMinute_s, "min|minute"},
    {kHour_s, "h|hr|hour"},
    {kDay_s, "d|day"},
};

constexpr Part kTemperatureSteps[] = {
    {1, "K|kelvin|degC|deg C|C"},
    {1.8, "degF|deg F|F|degR"},
};
constexpr Part kSlopeLengths[] = {{1, "m"}, {kFoot_m, "ft"}};

/// Short names of units that the tables above make up.
struct Acronym {
  std::string_view unit, spellings;
};
constexpr Acronym kAcronyms[] = {
    {"m3/h",
     "CMH|cum/h|cum/hr|qm/h|m3/Std|cbm/Std|m3/u|mc/h|m3h-1|\u043c3/\u0447|\u043c3/"
     "\u0447\u0430\u0441|"
     "\u043a\u0443\u0431.\u043c/\u0447"},
    {"m3/d", "CMD|cum/d|cum/day|m3/Tag|mc/d|\u043c3/\u0441\u0443\u0442"},
    {"m3/min", "cum/min|mc/min|\u043c3/\u043c\u0438\u043d"},
    {"m3/s", "cumec|cumecs|cum/s|mc/s|\u043c3/\u0441"},
    {"l/s", "lps|l/sek|lt/s|ltr/s|\u043b/\u0441|\u043b/\u0441\u0435\u043a"},
    {"l/min", "lpm|l/mn|lt/min|ltr/min|\u043b/\u043c\u0438\u043d"},
    {"l/h", "lph|lt/h|ltr/h|ltr/hr|l/Std|\u043b/\u0447"},
    {"Ml/d", "MLD|MLPD"},
    {"gal/min", "gpm|US gpm|U.S. gpm|USgpm|gpm (US)|gal(US)/min"},
    {"gal/h", "gph|US gph"},
    {"gal/d", "gpd|US gpd"},
    {"imp gal/min", "imp gpm|igpm|UK gpm|imperial gpm|gpm (UK)|gpm (imp)|gal(UK)/min"},
    {"imp gal/h", "imp gph|igph|UK gph"},
    {"imp gal/d", "imp gpd|igpd|UK gpd"},
    {"bbl/d", "bpd|b/d"},
    {"bbl/h", "bph|b/h"},
    {"ft3/s", "cfs|cusec|cusecs"},
    {"ft3/min", "cfm"},
    {"ft3/h", "cfh"},
    {"ft/s", "fps"},
    {"ft/min", "fpm"},
    {"km/h", "kph|kmh"},
    {"mgd", "mgd (US)"},
    {"imp mgd", "mgd (UK)|mgd (imp)"},
    // The petroleum industry's M is a thousand (common practice, no source).
    {"kbd", "MBPD|mbd"},
};

constexpr bool is_word(char c) {
  return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') ||
         static_cast<unsigned char>(c) >= 0x80;
}

/// One form for all ways to set the signs of a unit: words with one dot between them, no ^, "per"
/// as a slash: "m^3 / h" is "m3/h"; "Pa s", "Pa*s" and "Pa.s" are "Pa.s"; "ms" stays another.
std::string unit_key(std::string_view spelling) {
  std::string key;
  bool gap = false;
  for (std::size_t i = 0; i < spelling.size(); ++i) {
    const char c = spelling[i];
    const bool before_digit =
        i + 1 < spelling.size() && spelling[i + 1] >= '0' && spelling[i + 1] <= '9';
    if (c == ' ' || c == '.' || c == '*' || c == '_' || (c == '-' && !before_digit)) {
      gap = true;
    } else if (c != '^') {
      if (gap && !key.empty() && is_word(key.back()) && is_word(c)) key += '.';
      gap = false;
      key += c;
    }
  }
  constexpr std::string_view kPer = ".per.";
  for (std::size_t at = key.find(kPer); at != std::string::npos; at = key.find(kPer, at)) {
    key.replace(at, kPer.size(), "/");
  }
  return key;
}

std::optional<int> power_of_ten(double factor, double offset) {
  constexpr double kPowers[] = {1e-12, 1e-11, 1e-10, 1e-9, 1e-8, 1e-7, 1e-6, 1e-5, 1e-4,
                                1e-3,  1e-2,  1e-1,  1e0,  1e1,  1e2,  1e3,  1e4,  1e5,
                                1e6,   1e7,   1e8,   1e9,  1e10, 1e11, 1e12};
  const auto* found = std::find(std::begin(kPowers), std::end(kPowers), factor);
  if (offset != 0 || found == std::end(kPowers)) return {};
  return static_cast<int>(found - std::begin(kPowers)) - 12;
}

std::vector<std::string_view> split(std::string_view spellings) {
  std::vector<std::string_view> all;
  for (std::size_t bar = 0; bar != std::string_view::npos;) {
    bar = spellings.find('|');
    all.push_back(spellings.substr(0, bar));
    spellings.remove_prefix(bar == std::string_view::npos ? spellings.size() : bar + 1);
  }
  return all;
}

struct Spelling {
  std::string key;
  std::string_view written;
  std::size_t unit;
};

class UnitTable {
 public:
  UnitTable() {
    for (const Row& row : kRows) {
      add({row.spellings, row.dimension, row.factor, row.offset}, to_strings(row.spellings));
    }
    add_rates(volume_flow, kVolumes, std::size(kTimes));
    add_rates(mass_flow, kMasses, std::size(kTimes));
    add_rates(velocity, kLengths, std::size(kTimes) - 1);
    add_slopes();
    add_pressures();
    for (const Acronym& acronym : kAcronyms) {
      const auto unit = std::find_if(units_.begin(), units_.end(), [&](const Unit& one) {
        return one.info.name == acronym.unit;
      });
      add_spellings(static_cast<std::size_t>(unit - units_.begin()), to_strings(acronym.spellings));
    }

    by_key_ = spellings_;
    std::sort(by_key_.begin(), by_key_.end(),
              [](const Spelling& a, const Spelling& b) { return a.key < b.key; });
    by_lower_key_ = spellings_;
    for (Spelling& one : by_lower_key_) one.key = lower(one.key);
    std::stable_sort(by_lower_key_.begin(), by_lower_key_.end(),
                     [](const Spelling& a, const Spelling& b) { return a.key < b.key; });

    for (const Unit& unit : units_) {
      if (!unit.difference_only) known_.push_back(unit.info);
    }
    std::stable_sort(known_.begin(), known_.end(), [](const UnitInfo& a, const UnitInfo& b) {
      return a.dimension < b.dimension;
    });
  }

  const std::vector<UnitInfo>& known() const { return known_; }
  const std::vector<Unit>& units() const { return units_; }
  const std::vector<Spelling>& spellings() const { return spellings_; }

  const Unit* exact(std::string_view key) const {
    const auto [first, last] = range(by_key_, key);
    return first == last ? nullptr : &units_[first->unit];
  }

  UnitMatch find(std::string_view spelling) const {
    const std::string key = unit_key(spelling);
    if (const Unit* unit = exact(key)) return {unit, {}};

    const auto [first, last] = range(by_lower_key_, lower(key));
    if (first == last) return {};
    // In capitals cubic metres as well as centimetres.
    if (key.starts_with("CM/")) {
      const std::string_view time = units_[first->unit].info.name.substr(2);
      const Unit* cubic = exact("m3" + std::string(time));
      if (cubic != nullptr) return {nullptr, {cubic->info.name, units_[first->unit].info.name}};
    }
    for (auto one = first; one != last; ++one) {
      if (one->unit != first->unit) return {nullptr, {first->written, one->written}};
      if (swaps_prefix(key, unit_key(one->written))) return {nullptr, {one->written, {}}};
    }
    return {&units_[first->unit], {}};
  }

 private:
  static std::vector<std::string> to_strings(std::string_view spellings) {
    const auto all = split(spellings);
    return {all.begin(), all.end()};
  }

  static std::pair<std::vector<Spelling>::const_iterator, std::vector<Spelling>::const_iterator>
  range(const std::vector<Spelling>& sorted, std::string_view key) {
    const auto first =
        std::lower_bound(sorted.begin(), sorted.end(), key,
                         [](const Spelling& one, std::string_view k) { return one.key < k; });
    auto last = first;
    while (last != sorted.end() && last->key == key) ++last;
    return {first, last};
  }

  /// Whether `typed` is `known` with mega for milli or the other way round, as in "mHz", "MPa s":
  /// a unit that exists although nobody here uses it, so the case can't be taken for a slip.
  bool swaps_prefix(std::string_view typed, std::string_view known) const {
    const bool swapped =
        (typed[0] == 'm' && known[0] == 'M') || (typed[0] == 'M' && known[0] == 'm');
    return swapped && typed.substr(1) == known.substr(1) && exact(typed.substr(1)) != nullptr;
  }

  void add(UnitInfo info, const std::vector<std::string>& spellings, bool difference_only = false) {
    const std::size_t unit = units_.size();
    units_.push_back({info, power_of_ten(info.factor, info.offset), difference_only});
    const std::size_t first = spellings_.size();
    add_spellings(unit, spellings);
    units_[unit].info.name = spellings_[first].written;
  }

  void add_spellings(std::size_t unit, const std::vector<std::string>& spellings) {
    for (const std::string& spelling : spellings) {
      text_.push_back(spelling);
      spellings_.push_back({unit_key(spelling), text_.back(), unit});
    }
  }

  template <std::size_t N>
  void add_rates(Dimension dimension, const Part (&amounts)[N], std::size_t times) {
    for (const Part& amount : amounts) {
      for (std::size_t i = 0; i < times; ++i) {
        std::vector<std::string> spellings;
        for (std::string_view above : split(amount.spellings)) {
          for (std::string_view below : split(kTimes[i].spellings)) {
            spellings.push_back(std::string(above) + "/" + std::string(below));
          }
        }
        // ISO style with a negative exponent: "m3 h-1".
        spellings.push_back(std::string(split(amount.spellings).front()) + " " +
                            std::string(split(kTimes[i].spellings).front()) + "-1");
        add({{}, dimension, amount.factor / kTimes[i].factor, 0}, spellings);
      }
    }
  }

  void add_slopes() {
    for (const Part& length_unit : kSlopeLengths) {
      const std::string above(length_unit.spellings);
      for (const Part& step : kTemperatureSteps) {
        std::vector<std::string> spellings;
        for (std::string_view name : split(step.spellings)) {
          const std::string below(name);
          spellings.push_back(above + "/s/" + below);
          spellings.push_back(above + "/(s " + below + ")");
          spellings.push_back(above + "/s " + below);
          spellings.push_back(above + " s-1 " + below + "-1");
        }
        add({{}, speed_slope, length_unit.factor * step.factor, 0}, spellings);
      }
    }
  }

  void add_pressures() {
    for (const Part& pressure : kPressures) {
      const auto names = split(pressure.spellings);
      const auto with = [&](const auto& suffixes) {
        std::vector<std::string> spellings;
        for (std::string_view name : names) {
          for (std::string_view suffix : suffixes) {
            spellings.push_back(std::string(name) + std::string(suffix));
          }
        }
        return spellings;
      };
      std::vector<std::string> bare(names.begin(), names.end());
      std::vector<std::string> absolute = with(kAbsoluteSuffixes);
      if (names.front() == kAbsoluteAlone) {
        absolute.insert(absolute.end(), bare.begin(), bare.end());
      } else {
        add({{}, pressure_gauge, pressure.factor, 0}, bare, true);
      }
      add({{}, pressure_gauge, pressure.factor, 0}, with(kGaugeSuffixes));
      add({{}, pressure_absolute, pressure.factor, 0}, absolute);
    }
  }

  std::deque<std::string> text_;  // a deque, because views of its elements are handed out
  std::vector<Unit> units_;
  std::vector<UnitInfo> known_;
  std::vector<Spelling> spellings_;  // in the order of the table
  std::vector<Spelling> by_key_, by_lower_key_;
};

const UnitTable& table() {
  static const UnitTable the_table;
  return the_table;
}

}  // namespace

UnitMatch find_unit(std::string_view spelling) {
  return table().find(spelling);
}

const Unit& si_unit(Dimension dimension) {
  const Unit* best = nullptr;
  for (const Unit& unit : table().units()) {
    if (unit.info.dimension != dimension || unit.difference_only || !unit.power_of_ten) continue;
    if (best == nullptr || (*unit.power_of_ten == 0 && *best->power_of_ten != 0)) best = &unit;
  }
  return *best;  // every dimension has one; a test walks them
}

std::optional<std::string_view> nearest_unit_among(std::string_view spelling, Dimensions some) {
  std::vector<std::string_view> candidates;
  std::vector<std::size_t> units;
  for (const Spelling& one : table().spellings()) {
    const Unit& unit = table().units()[one.unit];
    const bool wanted = some.contains(unit.info.dimension) ||
                        (unit.difference_only && some.contains(pressure_absolute));
    if (!wanted) continue;
    candidates.push_back(one.written);
    units.push_back(one.unit);
  }
  const auto nearest = nearest_name(spelling, candidates);
  if (!nearest) return {};
  const auto at = std::find_if(candidates.begin(), candidates.end(),
                               [&](std::string_view one) { return one.data() == nearest->data(); });
  return table().units()[units[static_cast<std::size_t>(at - candidates.begin())]].info.name;
}

const std::vector<UnitInfo>& known_units() {
  return table().known();
}

std::optional<std::string_view> nearest_unit(std::string_view text) {
  return nearest_unit_among(
      text, {length, pipe_diameters, temperature, pressure_absolute, pressure_gauge, volume_flow,
             mass_flow, velocity, speed_slope, dynamic_viscosity, kinematic_viscosity, density,
             angle, time, frequency, fraction, mass_fraction, volume_fraction, attenuation});
}

}  // namespace slantrule
