#include "slantrule/catalogue/liquid_designation.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <random>
#include <string>
#include <string_view>
#include <vector>

#include "slantrule/units/suggest.hpp"

using namespace slantrule;
using Kind = LiquidReading::Kind;
using Texts = std::vector<std::string>;

// The texts are made up after pipe lists and survey sheets as the trade writes them; those marked
// "seen" stood so in a public file. What each means is said by hand, and none may be guessed.

namespace {

constexpr StrengthBasis none = StrengthBasis::none;
constexpr StrengthBasis mass = StrengthBasis::mass;
constexpr StrengthBasis volume = StrengthBasis::volume;

bool holds(const std::string& text, std::string_view part) {
  return text.find(part) != std::string::npos;
}

bool is_one_of(std::string_view key, std::initializer_list<std::string_view> keys) {
  return std::ranges::find(keys, key) != keys.end();
}

/// Rows for which the bare name has to be asked back, by design.
bool is_gas_unless_pressed(std::string_view key) {
  return is_one_of(key, {"ammonia", "carbon_dioxide", "isobutane", "n_butane", "propane", "r134a",
                         "sulfur_dioxide"});
}
bool is_mostly_mixed(std::string_view key) {
  return is_one_of(key, {"ethylene_glycol", "propylene_glycol"});
}

void check_form(const LiquidReading& reading) {
  CHECK(reading.message.empty() == (reading.kind == Kind::understood));
  CHECK(reading.message.find('\n') == std::string::npos);
  CHECK(reading.strengths.size() <= 2);
  CHECK(std::ranges::is_sorted(reading.strengths));
  for (double strength : reading.strengths) CHECK((strength > 0 && strength < 1));
  if (reading.kind == Kind::understood) {
    REQUIRE(reading.record != nullptr);
    CHECK(reading.readings.empty());
    CHECK(reading.strengths.empty() == (reading.basis == none));
    if (!reading.record->solution) CHECK(reading.strengths.empty());
  }
  if (reading.kind == Kind::ambiguous) CHECK_FALSE(reading.readings.empty());
  if (reading.kind == Kind::not_understood) CHECK(reading.record == nullptr);
}

}  // namespace

TEST_CASE("a liquid by its name") {
  const Catalogue catalogue;
  struct Row {
    const char* text;
    const char* key;
  };
  const auto row = GENERATE(values<Row>({
      {"water", "water"},
      {"Water", "water"},
      {"WATER ", "water"},
      {"H2O", "water"},
      {"H\u2082O", "water"},
      {"CHW", "water"},
      {"CHWS", "water"},
      {"CHW return", "water"},
      {"chilled-water", "water"},
      {"chilled water supply", "water"},
      {"condenser water loop", "water"},
      {"boiler feed water", "water"},
      {"demin. water", "water"},
      {"LTHW", "water"},
      {"Wasser", "water"},
      {"K\u00FChlwasser", "water"},
      {"K\u00DCHLWASSER", "water"},
      {"Ku\u0308hlwasser", "water"},  // the accent as a character of its own
      {"Kuehlwasser", "water"},
      {"Heizwasser Vorlauf", "water"},
      {"VE-Wasser", "water"},
      {"agua", "water"},
      {"AGUA FR\u00CDA", "water"},
      {"agua potable", "water"},
      {"eau", "water"},
      {"eau glac\u00E9e", "water"},
      {"EAU GLAC\u00C9E", "water"},
      {"eau d\u00E9min\u00E9ralis\u00E9e", "water"},
      {"voda", "water"},
      {"\u0412\u043e\u0434\u0430", "water"},
      {"\u0412\u041e\u0414\u0410", "water"},
      {"\u0432\u043e\u0434\u0430", "water"},
      {"woda", "water"},
      {"\u00C1GUA", "water"},
      {"AP\u0102", "water"},  // A with breve
      {"demin", "water"},
      {"demin water", "water"},
      {"Water (treated)", "water"},
      {"Water - chilled", "water"},
      {"pure water", "water"},
      {"steam condensate", "water"},  // neither steam nor unknown
      {"sea water", "seawater"},
      {"Seawater", "seawater"},
      {"eau de mer", "seawater"},
      {"Meerwasser", "seawater"},
      {"D2O", "heavy_water"},
      {"MEG", "ethylene_glycol_aq"},
      {"E.G. water", nullptr},
      {"EG/water", "ethylene_glycol_aq"},
      {"ethylene glycol - water", "ethylene_glycol_aq"},
      {"ethylene glycol (MEG)", "ethylene_glycol_aq"},
      {"inhibited PG", "propylene_glycol_aq"},
      {"propylene glycol solution", "propylene_glycol_aq"},
      {"pure MEG", "ethylene_glycol"},
      {"ethylene glycol, pure", "ethylene_glycol"},
      {"MEG 100 %", "ethylene_glycol"},
      {"100 % propylene glycol", "propylene_glycol"},
      {"NaCl", "brine_nacl"},
      {"sodium chloride brine", "brine_nacl"},
      {"calcium chloride", "cacl2_aq"},
      {"CaCl\u2082", "cacl2_aq"},
      {"potassium formate", "potassium_formate_coolant"},
      {"NaOH", "naoh_aq"},
      {"caustic soda", "naoh_aq"},
      {"Natronlauge", "naoh_aq"},
      {"soude caustique", "naoh_aq"},
      {"soda c\u00E1ustica", "naoh_aq"},
      {"sulphuric acid", "h2so4_aq"},
      {"sulfuric acid", "h2so4_aq"},
      {"Schwefels\u00E4ure", "h2so4_aq"},
      {"SCHWEFELS\u00C4URE", "h2so4_aq"},
      {"H2SO4", "h2so4_aq"},
      {"aqueous ammonia", "ammonia_aq"},
      {"ammonia/water", "ammonia_aq"},
      {"liquid ammonia", "ammonia"},
      {"anhydrous ammonia, liquid", "ammonia"},
      {"liquid propane", "propane"},
      {"Propane, liquid", "propane"},
      {"CO2 liquid", "carbon_dioxide"},
      {"IPA", "isopropanol"},
      {"2-propanol", "isopropanol"},
      {"ethanol", "ethanol"},
      {"EtOH", "ethanol"},
      {"\u00E9thanol", "ethanol"},
      {"ethanol/water", "ethanol_aq"},
      {"1,2-dichloroethane", "dichloroethane_12"},
      {"1-butanol", "butanol_1"},
      {"1,3-propanediol", "propanediol_13"},
      {"n-hexane", "n_hexane"},
      {"iso-octane", "isooctane"},
      {"2,2,4-trimethylpentane", "isooctane"},
      {"MEK", "mek"},
      {"glycerine", "glycerol"},
      {"diesel", "diesel"},
      {"Heiz\u00F6l EL", "diesel"},
      {"gasoil", "diesel"},
      {"no. 2 fuel oil", "diesel"},
      {"#2 diesel", "diesel"},
      {"HFO", "heavy_fuel_oil"},
      {"HFO 380", "heavy_fuel_oil"},
      {"bunker C", "heavy_fuel_oil"},
      {"mazut", "heavy_fuel_oil"},
      {"petrol", "gasoline"},
      {"Jet A-1", "kerosene_jet"},
      {"crude", "crude_oil"},
      {"hydraulic oil", "hydraulic_oil"},
      {"Hydraulik\u00F6l", "hydraulic_oil"},
      {"transformer oil", "transformer_oil"},
      {"lube oil", "lubricating_oil"},
      {"milk", "milk_whole"},
      {"rapeseed oil", "vegetable_oil"},
  }));
  CAPTURE(row.text);
  const LiquidReading reading = read_liquid(row.text, catalogue);
  CAPTURE(reading.message);
  check_form(reading);
  if (!row.key) {  // initials with points are not known
    CHECK(reading.kind == Kind::not_understood);
    return;
  }
  REQUIRE(reading.kind == Kind::understood);
  CHECK(reading.record->key == row.key);
  CHECK(reading.strengths.empty());
  CHECK_FALSE(reading.parameter);
}

TEST_CASE("a strength that says what it is a share of") {
  const Catalogue catalogue;
  struct Row {
    const char* text;
    const char* key;
    std::vector<double> strengths;
    StrengthBasis basis;
  };
  const auto row = GENERATE(values<Row>({
      {"EG 35 % mass", "ethylene_glycol_aq", {0.35}, mass},
      {"MEG 35 % by weight", "ethylene_glycol_aq", {0.35}, mass},
      {"MEG 35% w/w", "ethylene_glycol_aq", {0.35}, mass},
      {"35% (w/w) MEG", "ethylene_glycol_aq", {0.35}, mass},
      {"35 wt.% MEG", "ethylene_glycol_aq", {0.35}, mass},
      {"35wt%MEG", "ethylene_glycol_aq", {0.35}, mass},
      {"35 Gew.-% MEG", "ethylene_glycol_aq", {0.35}, mass},
      {"35 Ma.-% MEG", "ethylene_glycol_aq", {0.35}, mass},
      {"MEG 35 % massique", "ethylene_glycol_aq", {0.35}, mass},
      {"MEG 35 % en peso", "ethylene_glycol_aq", {0.35}, mass},
      {"MEG 350 g/kg", "ethylene_glycol_aq", {0.35}, mass},
      {"MEG 0.35 kg/kg", "ethylene_glycol_aq", {0.35}, mass},
      {"MEG loop, 35 percent by mass", "ethylene_glycol_aq", {0.35}, mass},
      {"35 % MEG by mass", "ethylene_glycol_aq", {0.35}, mass},
      {"35 vol% MEG", "ethylene_glycol_aq", {0.35}, volume},
      {"35 Vol.-% MEG", "ethylene_glycol_aq", {0.35}, volume},
      {"35 % v/v PG", "propylene_glycol_aq", {0.35}, volume},
      {"PG 35 % volume", "propylene_glycol_aq", {0.35}, volume},
      {"PG 35 % en volume", "propylene_glycol_aq", {0.35}, volume},
      {"30 % propylene glycol by volume", "propylene_glycol_aq", {0.3}, volume},
      {"MEG 35,5 % mass", "ethylene_glycol_aq", {0.355}, mass},
      {"MEG 35.5 % mass", "ethylene_glycol_aq", {0.355}, mass},
      {"MEG - 35 % mass", "ethylene_glycol_aq", {0.35}, mass},
      {"MEG_35_%_mass", "ethylene_glycol_aq", {0.35}, mass},
      {"CHW 25-30 % mass PG", "propylene_glycol_aq", {0.25, 0.3}, mass},
      {"PG 25% - 30% mass", "propylene_glycol_aq", {0.25, 0.3}, mass},
      {"PG 25\u201330 vol%", "propylene_glycol_aq", {0.25, 0.3}, volume},
      {"PG 25 to 30 % volume", "propylene_glycol_aq", {0.25, 0.3}, volume},
      {"PG 30-30 % mass", "propylene_glycol_aq", {0.3}, mass},
      {"70 % mass water and 30 % mass propylene glycol", "propylene_glycol_aq", {0.3}, mass},
      {"70 % water, MEG (by volume)", "ethylene_glycol_aq", {0.3}, volume},
      {"40/60 MEG/water by volume", "ethylene_glycol_aq", {0.4}, volume},
      {"water/MEG 60:40 vol%", "ethylene_glycol_aq", {0.4}, volume},
      {"50/50 MEG % v/v", nullptr, {}, none},  // the unit does not stand behind a number
      {"seawater 35 g/kg", "seawater", {0.035}, mass},
      {"sea water 3.5 %", "seawater", {0.035}, mass},  // salinity is a share of the mass
      {"sea water 35\u2030", "seawater", {0.035}, mass},
      {"salinity 38 psu", "seawater", {0.038}, mass},
      {"sea water, salinity 35", "seawater", {0.035}, mass},
      {"seawater 36-38 psu", "seawater", {0.036, 0.038}, mass},
      {"agua de mar 35 ppt", "seawater", {0.035}, mass},
      {"NaCl 20 % mass", "brine_nacl", {0.2}, mass},
      {"calcium chloride brine 25 % w/w", "calcium_chloride_coolant", {0.25}, mass},
      {"caustic 10 % w/w", "naoh_aq", {0.1}, mass},
      {"50 wt% NaOH", "naoh_aq", {0.5}, mass},
      {"H\u2082SO\u2084 96 % mass", "h2so4_aq", {0.96}, mass},
      {"NH3 25 % mass", "ammonia_aq", {0.25}, mass},
      {"ammonia solution 25 wt%", "ammonia_aq", {0.25}, mass},
      {"ethanol 40 % vol", "ethanol_aq", {0.4}, volume},
      {"ethanol 40 % ABV", "ethanol_aq", {0.4}, volume},
      {"methanol 30 % mass", "methanol_coolant", {0.3}, mass},
      {"glycerine 50 % by weight", "glycerol_water", {0.5}, mass},
      {"sucrose 30 \u00B0Brix", "sucrose_aq", {0.3}, mass},  // Brix: per cent of sucrose by mass
  }));
  CAPTURE(row.text);
  const LiquidReading reading = read_liquid(row.text, catalogue);
  CAPTURE(reading.message);
  check_form(reading);
  if (!row.key) {
    CHECK(reading.kind == Kind::not_understood);
    return;
  }
  REQUIRE(reading.kind == Kind::understood);
  CHECK(reading.record->key == row.key);
  CHECK(reading.strengths == row.strengths);
  CHECK(reading.basis == row.basis);
}

TEST_CASE("a per cent that says neither mass nor volume is asked back") {
  const Catalogue catalogue;
  struct Row {
    const char* text;
    const char* key;
    std::vector<double> strengths;
    Texts readings;
  };
  const auto row = GENERATE(values<Row>({
      {"MEG 35 %", "ethylene_glycol_aq", {0.35}, {"MEG 35 % mass", "MEG 35 % volume"}},
      {"PG30", "propylene_glycol_aq", {0.3}, {"PG 30 % mass", "PG 30 % volume"}},
      {"MEG35", "ethylene_glycol_aq", {0.35}, {"MEG 35 % mass", "MEG 35 % volume"}},
      // seen
      {"30% PROPYLENE GLYCOL", "propylene_glycol_aq", {0.3}, {"PG 30 % mass", "PG 30 % volume"}},
      {"25-30% propylene glycol",  // seen
       "propylene_glycol_aq",
       {0.25, 0.3},
       {"PG 25-30 % mass", "PG 25-30 % volume"}},
      {"70% WATER AND 30% PROPYLENE GLYCOL",  // seen
       "propylene_glycol_aq",
       {0.3},
       {"PG 30 % mass", "PG 30 % volume"}},
      {"CHW 25-30% PG",
       "propylene_glycol_aq",
       {0.25, 0.3},
       {"PG 25-30 % mass", "PG 25-30 % volume"}},
      {"70-75 % water 25-30 % PG",
       "propylene_glycol_aq",
       {0.25, 0.3},
       {"PG 25-30 % mass", "PG 25-30 % volume"}},
      {"40/60 MEG/water", "ethylene_glycol_aq", {0.4}, {"MEG 40 % mass", "MEG 40 % volume"}},
      {"Glikol etylenowy 35%", "ethylene_glycol_aq", {0.35}, {"MEG 35 % mass", "MEG 35 % volume"}},
      {"Glicol et\u00edl\u0113nico 35 %",
       "ethylene_glycol_aq",
       {0.35},
       {"MEG 35 % mass", "MEG 35 % volume"}},
      {"CaCl2 20 %", "cacl2_aq", {0.2}, {"CaCl2 20 % mass"}},
      {"H2SO4 98%", "h2so4_aq", {0.98}, {"H2SO4 98 % mass"}},
      {"MEG/water 40/60", "ethylene_glycol_aq", {0.4}, {"MEG 40 % mass", "MEG 40 % volume"}},
      {"water/MEG 60/40", "ethylene_glycol_aq", {0.4}, {"MEG 40 % mass", "MEG 40 % volume"}},
      {"50/50 MEG", "ethylene_glycol_aq", {0.5}, {"MEG 50 % mass", "MEG 50 % volume"}},
      {"MEG/water 35 %", "ethylene_glycol_aq", {0.35}, {"MEG 35 % mass", "MEG 35 % volume"}},
      {"water/MEG 35 %", "ethylene_glycol_aq", {0.35}, {"MEG 35 % mass", "MEG 35 % volume"}},
      {"35 % MEG in water", "ethylene_glycol_aq", {0.35}, {"MEG 35 % mass", "MEG 35 % volume"}},
      {"water 65 %, MEG", "ethylene_glycol_aq", {0.35}, {"MEG 35 % mass", "MEG 35 % volume"}},
      {"eau + 35 % MEG", "ethylene_glycol_aq", {0.35}, {"MEG 35 % mass", "MEG 35 % volume"}},
      {"agua con 30 % de propilenglicol",
       "propylene_glycol_aq",
       {0.3},
       {"PG 30 % mass", "PG 30 % volume"}},
      // A salt has no volume, but grams in 100 ml are called per cent too.
      {"caustic 10 %", "naoh_aq", {0.1}, {"caustic 10 % mass"}},
      {"NaOH 5%", "naoh_aq", {0.05}, {"NaOH 5 % mass"}},
      {"5 % sulphuric acid", "h2so4_aq", {0.05}, {"sulphuric acid 5 % mass"}},
      {"ammonia water 25 %", "ammonia_aq", {0.25}, {"ammonia water 25 % mass"}},
      {"\u00E9thanol \u00E0 40 %",
       "ethanol_aq",
       {0.4},
       {"Ethanol and water 40 % mass", "Ethanol and water 40 % volume"}},
      {"glycerol 50 %",
       "glycerol_water",
       {0.5},
       {"Glycerol and water 50 % mass", "Glycerol and water 50 % volume"}},
  }));
  CAPTURE(row.text);
  const LiquidReading reading = read_liquid(row.text, catalogue);
  CAPTURE(reading.message);
  check_form(reading);
  REQUIRE(reading.kind == Kind::ambiguous);
  REQUIRE(reading.record != nullptr);
  CHECK(reading.record->key == row.key);
  CHECK(reading.strengths == row.strengths);
  CHECK(reading.basis == none);
  CHECK(reading.readings == row.readings);
}

TEST_CASE("the message says how to write it in a job") {
  const Catalogue catalogue;
  CHECK(holds(read_liquid("MEG 35 %", catalogue).message,
              R"("name": "MEG", "concentration": "35 % mass" or "35 % volume")"));
  CHECK(holds(read_liquid("25-30 % PG", catalogue).message,
              R"("concentration": { "between": ["25 % mass", "30 % mass"] })"));
  CHECK(holds(read_liquid("glycol 30 %", catalogue).message,
              R"("name": "MEG", "concentration": "30 % mass")"));
  CHECK(holds(read_liquid("crude 870 kg/m3", catalogue).message, R"("density")"));
  CHECK(holds(read_liquid("water 7 \u00B0C", catalogue).message, R"("temperature")"));
  CHECK(holds(read_liquid("waste water", catalogue).message, R"("gas" and "solids")"));
}

TEST_CASE("what has several meanings names them all") {
  const Catalogue catalogue;
  struct Row {
    const char* text;
    Texts readings;
  };
  const auto row = GENERATE(values<Row>({
      {"glycol", {"MEG", "PG"}},
      {"antifreeze", {"MEG", "PG"}},
      {"water-glycol", {"MEG", "PG"}},
      {"glycol 30 % mass", {"MEG 30 % mass", "PG 30 % mass"}},
      {"glycol_water_30",  // seen
       {"MEG 30 % mass", "MEG 30 % volume", "PG 30 % mass", "PG 30 % volume"}},
      {"Wasser-Glykol 30 %",
       {"MEG 30 % mass", "MEG 30 % volume", "PG 30 % mass", "PG 30 % volume"}},
      {"eau glycol\u00E9e", {"MEG", "PG"}},
      {"brine", {"Sodium chloride brine", "Calcium chloride solution"}},
      {"brine 20 %", {"Sodium chloride brine 20 % mass", "Calcium chloride solution 20 % mass"}},
      {"brine/glycol", {"Sodium chloride brine", "Calcium chloride solution", "MEG", "PG"}},
      {"salt water", {"Sodium chloride brine", "Sea water"}},
      {"lye", {"Potassium hydroxide solution", "Sodium hydroxide solution"}},
      {"ethylene glycol", {"Ethylene glycol, pure", "MEG"}},
      {"propylene glycol", {"Propylene glycol, pure", "PG"}},
      {"PG 30 % water", {"PG 30 % mass", "PG 30 % volume", "PG 70 % mass", "PG 70 % volume"}},
      {"PG and water 30 %", {"PG 30 % mass", "PG 30 % volume", "PG 70 % mass", "PG 70 % volume"}},
      {"30 % water/PG", {"PG 30 % mass", "PG 30 % volume", "PG 70 % mass", "PG 70 % volume"}},
      {"40/60 MEG", {"MEG 40 % mass", "MEG 40 % volume", "MEG 60 % mass", "MEG 60 % volume"}},
      {"Propane", {"Propane, liquid"}},
      {"R-134a", {"R134a, liquid"}},
      {"NH3", {"Ammonia, liquid", "Ammonia water"}},
      {"anhydrous ammonia", {"Ammonia, liquid"}},
      {"LPG", {"n-Butane, liquid", "Propane, liquid"}},
      {"butane", {"Isobutane, liquid", "n-Butane, liquid"}},
      {"xylene", {"m-Xylene", "o-Xylene", "p-Xylene"}},
      {"fuel oil", {"Diesel fuel", "Heavy fuel oil"}},
      {"mazout", {"Diesel fuel", "Heavy fuel oil"}},
      {"alcohol", {"Ethanol", "Isopropanol", "Methanol"}},
      {"acid", {"Hydrochloric acid", "Nitric acid", "Sulphuric acid"}},
      {"sugar 30 % mass", {"Glucose solution 30 % mass", "Sucrose solution 30 % mass"}},
      {"toluene/benzene", {"toluene", "benzene"}},
      {"diesel or HFO", {"diesel", "HFO"}},
      {"crude 30-32 API", {"crude 30 API", "crude 32 API"}},
      {"waste water", {"water"}},
  }));
  CAPTURE(row.text);
  const LiquidReading reading = read_liquid(row.text, catalogue);
  CAPTURE(reading.message);
  check_form(reading);
  CHECK(reading.kind == Kind::ambiguous);
  Texts readings = reading.readings, expected = row.readings;
  std::ranges::sort(readings);
  std::ranges::sort(expected);
  CHECK(readings == expected);
}

TEST_CASE("API gravity and viscosity grade") {
  const Catalogue catalogue;
  struct Row {
    const char* text;
    const char* key;
    double parameter;
  };
  const auto row = GENERATE(values<Row>({
      {"crude oil 32 API", "crude_oil", 32},
      {"API 28 crude", "crude_oil", 28},
      {"crude oil, 32.5\u00B0 API", "crude_oil", 32.5},
      {"crude oil API gravity 32,5", "crude_oil", 32.5},
      {"crude_oil_api30", "crude_oil", 30},
      {"oil 32 API", "crude_oil", 32},
      {"hydraulic oil VG 46", "hydraulic_oil", 46},
      {"hydraulic oil ISO VG 46", "hydraulic_oil", 46},
      {"hydraulic_oil_vg32", "hydraulic_oil", 32},
      {"ISO-VG-32", "hydraulic_oil", 32},
      {"VG46", "hydraulic_oil", 46},
      {"HLP 46", "hydraulic_oil", 46},
      {"lube oil VG 68", "hydraulic_oil", 68},
      {"gear oil ISO VG 220", "hydraulic_oil", 220},
      {"oil VG 46", "hydraulic_oil", 46},
  }));
  CAPTURE(row.text);
  const LiquidReading reading = read_liquid(row.text, catalogue);
  CAPTURE(reading.message);
  check_form(reading);
  REQUIRE(reading.kind == Kind::understood);
  CHECK(reading.record->key == row.key);
  REQUIRE(reading.parameter);
  CHECK(*reading.parameter == row.parameter);
}

TEST_CASE("gases, slurries and two-phase flows are out of scope, with the reason") {
  const Catalogue catalogue;
  struct Row {
    const char* text;
    const char* reason;
  };
  const auto row = GENERATE(values<Row>({
      {"steam", "is a gas"},
      {"STEAM 5 bar", "is a gas"},
      {"saturated steam", "is a gas"},
      {"Dampf", "is a gas"},
      {"vapeur", "is a gas"},
      {"air", "is a gas"},
      {"compressed air", "is a gas"},
      {"air comprim\u00E9", "is a gas"},
      {"Druckluft", "is a gas"},
      {"natural gas", "is a gas"},
      {"biogas", "is a gas"},
      {"nitrogen", "is a gas"},
      {"N\u2082", "is a gas"},
      {"propane gas", "is a gas"},
      {"CO2 gas", "is a gas"},
      {"wet steam", "is gas and liquid together"},
      {"two-phase flow", "is gas and liquid together"},
      {"foam", "is gas and liquid together"},
      {"slurry", "carries solids"},
      {"sludge", "carries solids"},
      {"Schlamm", "carries solids"},
      {"pulp stock", "carries solids"},
      {"drilling mud", "carries solids"},
      {"LNG", "is colder"},
      {"liquid nitrogen", "is colder"},
      {"steam/water", "is a gas"},
  }));
  CAPTURE(row.text);
  const LiquidReading reading = read_liquid(row.text, catalogue);
  CAPTURE(reading.message);
  check_form(reading);
  CHECK(reading.kind == Kind::out_of_scope);
  CHECK(reading.record == nullptr);
  CHECK(holds(reading.message, row.reason));
}

TEST_CASE("what is not understood is refused, with what was likely meant") {
  const Catalogue catalogue;
  struct Row {
    const char* text;
    const char* message;  // a part of it
    Texts readings;
  };
  const auto row = GENERATE(values<Row>({
      {"", "no liquid is named", {}},
      {"   ", "no liquid is named", {}},
      {"?", "no liquid is known", {}},
      {"unknown", "no liquid is known", {}},
      {"watter", "did you mean \"water\"", {"water"}},
      {"30 %", "names no liquid", {}},
      {"API 32", "did you mean", {"crude oil 32 API"}},
      {"hydraulic oil 46", "did you mean", {"hydraulic oil VG 46"}},
      {"crude 32", "did you mean", {"crude 32 API"}},
      {"70% WATER AND 20% PROPYLENE GLYCOL",
       "do not add up to 100 %",
       {"PROPYLENE GLYCOL 20 %", "PROPYLENE GLYCOL 30 %"}},
      {"40/50 MEG/water", "do not add up to 100 %", {"MEG 40 %", "MEG 50 %"}},
      {"MEG 35 % mass 40 % mass", "several strengths", {"MEG 35 % mass", "MEG 40 % mass"}},
      {"MEG 35 % mass 32 % volume", "several strengths", {"MEG 35 % mass", "MEG 32 % volume"}},
      {"PG 30-25 % mass", "runs backwards", {"PG"}},
      {"PG 0 %", "between 0 and 100 %", {"PG"}},
      {"PG 120 %", "between 0 and 100 %", {"PG"}},
      {"-5 % MEG", "\"-5\"", {"MEG"}},
      {"MEG 0.35", "without a unit", {"MEG"}},
      {"MEG 35,500 % mass", "35.500 or 35500", {}},
      {"MEG 1.2.3 % mass", "is no number", {}},
      {"MEG ~35 %", "\"~\"", {"MEG"}},
      {"MEG 35 % mol", "cannot be converted", {"MEG"}},
      {"NaOH 5", "without a unit", {"NaOH"}},
      {"NaCl2", "without a unit", {"NaCl"}},
      {"sea water 35", "without a unit", {"sea water 35 g/kg"}},
      {"NaOH 50 g/l", "takes a density", {"NaOH"}},
      {"NaOH 5 % w/v", "takes a density", {"NaOH"}},
      {"NaOH 5 % volume", "by volume of what is no liquid", {"NaOH"}},
      {"caustic 50 \u00B0B\u00E9", "cannot be converted", {"caustic"}},
      {"NaCl 35 psu", "belongs to sea water", {"NaCl"}},
      {"MEG 30 \u00B0Brix", "belong to sugar", {"MEG"}},
      {"pure NaOH", "never pure", {"NaOH"}},
      {"water 30 %", "has no strength", {"water"}},
      {"IPA 70 %", "has no strength", {"IPA"}},
      {"diesel 35 API", "belongs to crude oil", {"diesel"}},
      {"transformer oil VG 10", "belongs to hydraulic", {"transformer oil"}},
      {"VG 45", "none of the ISO viscosity grades", {}},
      {"crude 400 API", "no API gravity", {}},
      {"crude 870 kg/m3", "\"density\"", {"crude"}},
      {"20 \u00B0C water", "\"temperature\"", {"water"}},
      {"air free water", "\"free\"", {"water"}},
      {"oil in water", "mixture of which nothing is known", {"Crude oil"}},
      {"diesel/water", "mixture of which nothing is known", {"diesel"}},
      {"acetone and toluene", "mixture of which nothing is known", {"acetone", "toluene"}},
      {"SAE 10W-40", "no liquid is known", {}},
      {"mystery fluid 42", "no liquid is known", {}},
  }));
  CAPTURE(row.text);
  const LiquidReading reading = read_liquid(row.text, catalogue);
  CAPTURE(reading.message);
  check_form(reading);
  CHECK(reading.kind == Kind::not_understood);
  CHECK(holds(reading.message, row.message));
  if (std::string_view(row.text) == "oil in water") return;  // seven oils
  CHECK(reading.readings == row.readings);
}

TEST_CASE("every key and name reads back to its row") {
  const Catalogue catalogue;
  for (const LiquidRecord& row : built_in_liquids()) {
    CAPTURE(row.key, row.name);
    for (std::string_view name : {row.key, row.name}) {
      const LiquidReading reading = read_liquid(name, catalogue);
      CAPTURE(name, reading.message);
      check_form(reading);
      if (name == row.key) {  // in its own spelling it asks nothing back
        CHECK(reading.kind == Kind::understood);
        CHECK(reading.record == &row);
      } else {
        REQUIRE(reading.kind == Kind::understood);
        CHECK(reading.record == &row);
      }
    }
    // With blanks for underscores it is a name, and words settle what has to be asked.
    std::string name = row.key == "r134a" ? "R134a" : std::string(row.key);
    std::ranges::replace(name, '_', ' ');
    if (is_mostly_mixed(row.key)) CHECK(read_liquid(name, catalogue).kind == Kind::ambiguous);
    const std::string settled =
        (is_mostly_mixed(row.key) ? "pure " : "liquid ") + std::string(row.key);
    const LiquidReading reading = read_liquid(settled, catalogue);
    CHECK(reading.kind == Kind::understood);
    CHECK(reading.record == &row);
  }
}

TEST_CASE("every common name reads back to its row, or is asked back") {
  const Catalogue catalogue;
  for (const NameRecord& name : built_in_liquid_names()) {
    const LiquidReading reading = read_liquid(name.name, catalogue);
    CAPTURE(name.name, name.key, reading.message);
    check_form(reading);
    const auto meanings = std::ranges::count(built_in_liquid_names(), name.name, &NameRecord::name);
    if (meanings > 1) {
      CHECK(reading.kind == Kind::ambiguous);
      CHECK(static_cast<long>(reading.readings.size()) == meanings);
    } else if (is_mostly_mixed(name.key)) {
      CHECK(reading.kind == Kind::ambiguous);
    } else {
      CHECK(reading.kind == (is_gas_unless_pressed(name.key) ? Kind::ambiguous : Kind::understood));
      REQUIRE(reading.record != nullptr);
      CHECK(reading.record->key == name.key);
    }
  }
}

TEST_CASE("a reading can be written: it is understood") {
  const Catalogue catalogue;
  for (const NameRecord& name : built_in_liquid_names()) {
    for (const char* strength : {"", " 30 %", " 30 % mass", " 20-30 %"}) {
      const std::string text = std::string(name.name) + strength;
      const LiquidReading reading = read_liquid(text, catalogue);
      CAPTURE(text, reading.message);
      check_form(reading);
      if (reading.kind != Kind::ambiguous) continue;
      for (const std::string& other : reading.readings) {
        CAPTURE(other);
        CHECK(read_liquid(other, catalogue).kind == Kind::understood);
      }
    }
  }
}

TEST_CASE("a user's liquid answers to its key, whatever that says") {
  Catalogue catalogue;
  catalogue.add(LiquidRecord{.key = "Loop B, steam side 35 %",
                             .name = "our mixture",
                             .model = "water",
                             .parameter = "",
                             .solution = false,
                             .source = "own measurement",
                             .confidence = Confidence::published});
  catalogue.add(LiquidRecord{.key = "quench oil",
                             .name = "quench oil",
                             .model = "glycol_water",
                             .parameter = "ethylene_glycol",
                             .solution = true,
                             .source = "own measurement",
                             .confidence = Confidence::published});
  const LiquidReading whole = read_liquid("loop b, steam side 35 %", catalogue);
  REQUIRE(whole.kind == Kind::understood);
  CHECK(whole.record->name == "our mixture");
  const LiquidReading part = read_liquid("quench-oil 20 % mass", catalogue);
  REQUIRE(part.kind == Kind::understood);
  CHECK(part.record->key == "quench oil");
  CHECK(part.strengths == std::vector<double>{0.2});
  CHECK(read_liquid("quench oil 20 %", catalogue).readings ==
        Texts{"quench oil 20 % mass", "quench oil 20 % volume"});
  CHECK(read_liquid("MEG 35 % mass", catalogue).kind == Kind::understood);

  catalogue.add_liquid_name("brine", "brine_nacl");
  REQUIRE(read_liquid("brine", catalogue).kind == Kind::understood);
  CHECK(read_liquid("brine", catalogue).record->key == "brine_nacl");
}

TEST_CASE("a liquid and its solution") {
  const Catalogue catalogue;
  for (const auto& [liquid, solution] : {std::pair{"ethanol", "ethanol_aq"},
                                         {"ammonia", "ammonia_aq"},
                                         {"ethylene_glycol", "ethylene_glycol_aq"},
                                         {"glycerol", "glycerol_water"}}) {
    CAPTURE(liquid);
    const LiquidRecord* row = in_water(*catalogue.liquid(liquid).record, catalogue);
    REQUIRE(row != nullptr);
    CHECK(row->key == solution);
    CHECK(row->solution);
  }
  CHECK(in_water(*catalogue.liquid("acetone").record, catalogue) == nullptr);
}

TEST_CASE("any bytes are read or refused in one line") {
  const Catalogue catalogue;
  CHECK(read_liquid(std::string(201, 'a'), catalogue).kind == Kind::not_understood);
  CHECK(read_liquid(std::string(1'000'000, '-'), catalogue).kind == Kind::not_understood);
  CHECK(read_liquid(std::string("water\0MEG", 9), catalogue).kind == Kind::not_understood);
  CHECK(read_liquid("\xC3", catalogue).kind == Kind::not_understood);
  CHECK(read_liquid("water\xE2\x82", catalogue).kind == Kind::not_understood);

  static constexpr const char* pieces[] = {
      "MEG",         "water", "glycol", "35",    "30",
      "%",           " ",     "-",      "/",     ",",
      ".",           "mass",  "vol",    "wt",    "API",
      "VG",          "pure",  "gas",    "H2SO4", "NaOH",
      "and",         "in",    "sea",    "psu",   "100",
      "0",           "1e300", "+-",     "\xCC",  "\xC3\xBC",
      "liquid",      "(",     "by",     "oil",   "steam",
      ":",           "g/l",   "brine",  "a",     "9999999999999999999999999",
      "\xE2\x82\x84"};
  std::mt19937_64 random(20240601);
  for (int i = 0; i < 20000; ++i) {
    std::string text;
    for (auto n = random() % 9; n > 0; --n) {
      if (random() % 8 == 0) {
        text += static_cast<char>(random() % 256);
      } else {
        text += pieces[random() % std::size(pieces)];
        if (random() % 2 == 0) text += ' ';
      }
    }
    CAPTURE(text);
    const LiquidReading reading = read_liquid(text, catalogue);
    check_form(reading);
    // What is shown of a text can be printed.
    CHECK(shown(reading.message, 10000) == reading.message);
    for (const std::string& other : reading.readings) CHECK(shown(other, 10000) == other);
  }
}
