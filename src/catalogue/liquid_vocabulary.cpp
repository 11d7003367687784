#include "liquid_vocabulary.hpp"

#include <algorithm>
#include <set>
#include <string>
#include <utility>

namespace slantrule {
namespace {

struct HinderedNames {
  Hindrance hindrance;
  std::string_view names;  ///< separated by semicolons
};
constexpr HinderedNames hindered[] = {
    {Hindrance::gas,
     "air;compressed air;instrument air;plant air;gas;natural gas;town gas;fuel gas;flue gas;"
     "exhaust gas;biogas;landfill gas;sour gas;syngas;synthesis gas;coke oven gas;process gas;"
     "blast furnace gas;vapour;vapor;steam;saturated steam;superheated steam;dry steam;live steam;"
     "nitrogen;N2;oxygen;O2;hydrogen;H2;argon;helium;methane;CH4;ethane;carbon monoxide;"
     "Dampf;Wasserdampf;Sattdampf;Heissdampf;Luft;Druckluft;Erdgas;Stickstoff;Sauerstoff;"
     "Wasserstoff;Abgas;vapeur;vapeur d'eau;gaz;gaz naturel;air comprimé;azote;oxygène;hydrogène;"
     "vapor de agua;aire;aire comprimido;gas natural;nitrógeno;oxígeno;hidrógeno"},
    {Hindrance::solids,
     "slurry;lime slurry;coal slurry;sludge;sewage sludge;activated sludge;digested sludge;"
     "digestate;pulp;pulp stock;paper stock;paper pulp;mud;drilling mud;drilling fluid;lime milk;"
     "milk of lime;tailings;grout;mortar;concrete;mash;Schlamm;Klärschlamm;Faulschlamm;Kalkmilch;"
     "Papierstoff;boue;boues;pâte à papier;lait de chaux;lodo;lodos;lechada de cal"},
    {Hindrance::two_phase,
     "wet steam;wet gas;two-phase;two-phase flow;two-phase mixture;multiphase;multiphase flow;foam;"
     "froth;steam-water mixture;gas-liquid mixture;air-water mixture;aerated water;Nassdampf;"
     "Zweiphasengemisch;Schaum;vapeur humide;diphasique;mousse;vapor húmedo;espuma"},
    {Hindrance::cryogenic,
     "LNG;liquefied natural gas;liquid nitrogen;LIN;LN2;liquid oxygen;LOX;liquid argon;LAR;liquid "
     "hydrogen;LH2;liquid helium;flüssiger Stickstoff;azote liquide;nitrógeno líquido"},
    {Hindrance::waste_water,
     "waste water;wastewater;sewage;raw sewage;effluent;storm water;Abwasser;eaux usées;"
     "aguas residuales;aguas negras"},
};

struct NameElsewhere {
  std::string_view name, key;
};
/// Names that lists have in other languages and orders of words (common practice, no source).
constexpr NameElsewhere names_elsewhere[] = {
    {"voda", "water"},
    {"woda", "water"},
    {"\u0432\u043e\u0434\u0430", "water"},
    {"acqua", "water"},
    {"\u00e1gua", "water"},
    {"vatten", "water"},
    {"vann", "water"},
    {"vand", "water"},
    {"v\u00edz", "water"},
    {"vesi", "water"},
    {"ap\u0103", "water"},
    {"demin", "water"},
    {"water treated", "water"},
    {"water potable", "water"},
    {"water demin", "water"},
    {"water chilled", "water"},
    {"water hot", "water"},
    {"water cold", "water"},
    {"water raw", "water"},
    {"glikol etylenowy", "ethylene_glycol"},
    {"etilen glikol", "ethylene_glycol"},
    {"\u044d\u0442\u0438\u043b\u0435\u043d\u0433\u043b\u0438\u043a\u043e\u043b\u044c",
     "ethylene_glycol"},
    {"glicol etilenico", "ethylene_glycol"},
    {"glicole etilenico", "ethylene_glycol"},
    {"glikol propylenowy", "propylene_glycol"},
    {"propilen glikol", "propylene_glycol"},
    {"\u043f\u0440\u043e\u043f\u0438\u043b\u0435\u043d\u0433\u043b\u0438\u043a\u043e\u043b\u044c",
     "propylene_glycol"},
    {"glicol propilenico", "propylene_glycol"},
    {"glicole propilenico", "propylene_glycol"}};

Vocabulary make_built_in_vocabulary() {
  std::vector<PhraseMeaning> meanings;
  std::vector<Phrase> phrases;
  const auto add = [&](std::string_view name, const PhraseMeaning& meaning) {
    phrases.push_back({plain_words(name), meanings.size()});
    meanings.push_back(meaning);
  };
  for (const LiquidRecord& row : built_in_liquids()) {
    add(row.key, {row.key});
    // "Propane, liquid" is read as two parts.
    const bool simple = row.name.find(", ") == std::string_view::npos;
    if (simple && plain_words(row.name) != phrases.back().words) add(row.name, {row.key});
  }
  for (const NameRecord& row : built_in_liquid_names()) add(row.name, {row.key});
  for (const NameElsewhere& row : names_elsewhere) add(row.name, {row.key});
  for (const HinderedNames& group : hindered) {
    for (std::string_view names = group.names; !names.empty();) {
      const std::size_t end = std::min(names.find(';'), names.size());
      add(names.substr(0, end), {{}, group.hindrance});
      names.remove_prefix(std::min(end + 1, names.size()));
    }
  }
  return {std::move(meanings), PhraseTable(std::move(phrases))};
}

}  // namespace

std::string_view reason(Hindrance hindrance) {
  switch (hindrance) {
    case Hindrance::gas:
      return "is a gas; clamp-on transit-time sensors are planned here on liquids only";
    case Hindrance::solids:
      return "carries solids, which scatter the sound; clamp-on transit-time sensors are planned "
             "here on liquids that the sound can cross";
    case Hindrance::two_phase:
      return "is gas and liquid together; bubbles and droplets block the sound of clamp-on "
             "transit-time sensors";
    case Hindrance::cryogenic:
      return "is colder than couplants and wedges of clamp-on sensors stand";
    case Hindrance::waste_water:
      return "is water with an unknown share of gas and solids; write \"water\" and state them as "
             "\"gas\" and \"solids\"";
    case Hindrance::none:
      break;
  }
  return {};
}

const Vocabulary& built_in_vocabulary() {
  static const Vocabulary vocabulary = make_built_in_vocabulary();
  return vocabulary;
}

Vocabulary with_user_names(const Catalogue& catalogue) {
  std::vector<PhraseMeaning> meanings = built_in_vocabulary().meanings;
  std::vector<Phrase> phrases;
  std::set<std::string> taken;
  const auto add = [&](std::string_view name, std::string_view key) {
    phrases.push_back({plain_words(name), meanings.size()});
    meanings.push_back({key});
    taken.insert(phrases.back().words);
  };
  for (const LiquidRecord& row : catalogue.user_liquids()) add(row.key, row.key);
  for (const NameRecord& row : catalogue.user_liquid_names()) add(row.name, row.key);
  for (const Phrase& phrase : built_in_vocabulary().phrases.all()) {
    if (!taken.contains(phrase.words)) phrases.push_back(phrase);
  }
  return {std::move(meanings), PhraseTable(std::move(phrases))};
}

}  // namespace slantrule
