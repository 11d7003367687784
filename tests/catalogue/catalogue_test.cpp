#include "slantrule/catalogue/catalogue.hpp"
#include "slantrule/units/suggest.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <random>
#include <string>
#include <vector>

using namespace slantrule;

namespace {

SolidRecord plain_solid(std::string_view key) {
  return {.key = key,
          .name = "A plate measured on site",
          .family = SolidFamily::metal,
          .longitudinal_m_s = 5900,
          .shear_m_s = 3200,
          .density_kg_m3 = 7850,
          .longitudinal_slope_m_s_K = absent,
          .shear_slope_m_s_K = absent,
          .u_longitudinal_m_s = 10,
          .attenuation_note = "",
          .source = "site record",
          .confidence = Confidence::published,
          .recommended = true,
          .usable = true};
}

}  // namespace

TEST_CASE("solids by key and by common name") {
  const Catalogue catalogue;
  // The names that the job file promises, and how people write them.
  const auto [name, key] = GENERATE(table<const char*, const char*>({
      {"carbon steel", "carbon_steel"},
      {"Carbon-Steel", "carbon_steel"},
      {"carbon_steel", "carbon_steel"},
      {"steel", "carbon_steel"},
      {"mild steel", "carbon_steel"},
      {"A106 Gr.B", "carbon_steel"},
      {"P235GH", "carbon_steel"},
      {"galvanized", "carbon_steel"},
      {"stainless steel", "stainless_304"},
      {"stainless", "stainless_304"},
      {"stainless 304", "stainless_304"},
      {"304L", "stainless_304"},
      {"1.4301", "stainless_304"},
      {"stainless 316", "stainless_316"},
      {"316L", "stainless_316"},
      {"316SS", "stainless_316"},
      {"cast iron", "cast_iron_gray"},
      {"grey iron", "cast_iron_gray"},
      {"gray iron", "cast_iron_gray"},
      {"CI", "cast_iron_gray"},
      {"ductile iron", "ductile_iron"},
      {"DI", "ductile_iron"},
      {"copper", "copper"},
      {"brass", "brass"},
      {"bronze", "bronze"},
      {"PVC", "pvc_u"},
      {"uPVC", "pvc_u"},
      {"PVC-U", "pvc_u"},
      {"CPVC", "cpvc"},
      {"PE", "pe_pipe"},
      {"HDPE", "hdpe"},
      {"PE100", "hdpe"},
      {"PE 80", "mdpe_pe80"},
      {"MDPE", "mdpe_pe80"},
      {"PP", "pp"},
      {"PVDF", "pvdf"},
      {"ABS", "abs"},
      {"GRP", "grp"},
      {"FRP", "grp"},
      {"concrete", "concrete"},
      {"asbestos cement", "asbestos_cement"},
      {"AC", "asbestos_cement"},
      {"cement mortar", "cement_mortar"},
      {"mortar", "cement_mortar"},
      {"epoxy", "epoxy"},
      {"rubber", "rubber_natural"},
      {"hard rubber", "rubber_hard"},
      {"paint", "paint"},
      {"PTFE", "ptfe"},
      {"aluminum", "aluminium"},
      {"titanium", "titanium"},
      {"copper_e494", "copper_e494"},  // evidence, by its full key
  }));
  CAPTURE(name);
  const Found<SolidRecord> found = catalogue.solid(name);
  if (!key) {
    CHECK(found.record == nullptr);
    CHECK_FALSE(found.nearest.empty());
    return;
  }
  REQUIRE(found.record != nullptr);
  CHECK(found.record->key == key);
  CHECK(found.nearest.empty());
  CHECK(found.readings.empty());
}

TEST_CASE("solids as lists write them") {
  // Grades behind standards, punctuation, several names of one material, other languages. What a
  // grade, a standard or a foreign word means: EN 10027-2, ASTM and ISO designations, dictionaries.
  const Catalogue catalogue;
  const auto [name, key] = GENERATE(table<const char*, const char*>({
      {"S.S.", "stainless_304"},
      {"D.I.", "ductile_iron"},
      {"G.I.", "carbon_steel"},
      {"SS 304", "stainless_304"},
      {"AISI 316L", "stainless_316"},
      {"AISI304", "stainless_304"},
      {"ASTM A106 Gr. B", "carbon_steel"},
      {"A 53 GR. B", "carbon_steel"},
      {"CS A106 Gr B", "carbon_steel"},
      {"ASTM A312 TP316L", "stainless_316"},
      {"SA-312 304L", "stainless_304"},
      {"API 5L Gr B", "carbon_steel"},
      {"API 5L X52", "carbon_steel"},
      {"Carbon Steel (A53)", "carbon_steel"},
      {"STEEL PIPE", "carbon_steel"},
      {"Duct. Iron", "ductile_iron"},
      {"Black iron", "carbon_steel"},
      {"X5CrNi18-10", "stainless_304"},
      {"St37-2", "carbon_steel"},
      {"S235JR", "carbon_steel"},
      {"1.4404 / 316L", "stainless_316"},
      {"Edelstahl 1.4571", "stainless_316"},
      {"V2A", "stainless_304"},
      {"V4A", "stainless_316"},
      {"GGG 40", "ductile_iron"},
      {"Cu-Ni 90/10", "cuni_90_10"},
      {"PVC Sch 80", "pvc_u"},
      {"Sch 40 PVC", "pvc_u"},
      {"DI K9", "ductile_iron"},
      {"S/S", "stainless_304"},
      {"St.St.", "stainless_304"},
      {"AC water main", "asbestos_cement"},
      {"\u0441\u0442\u0430\u043B\u044C 12\u042518\u041D10\u0422", "stainless_304"},
      {"acier inox 316L", "stainless_316"},
      {"PEAD PE100", "hdpe"},
      {"Copper EN1057", "copper"},
      {"Acero al carbono", "carbon_steel"},
      {"ACERO INOXIDABLE", "stainless_304"},
      {"Acero galvanizado", "carbon_steel"},
      {"FUNDICIÓN DÚCTIL", "ductile_iron"},
      {"Fundición gris", "cast_iron_gray"},
      {"PRFV", "grp"},
      {"Cobre", "copper"},
      {"Stahl verzinkt", "carbon_steel"},
      {"Stahl schwarz", "carbon_steel"},
      {"duktiles Gusseisen", "ductile_iron"},
      {"Grauguss", "cast_iron_gray"},
      {"GFK", "grp"},
      {"Asbestzement", "asbestos_cement"},
      {"Kupfer", "copper"},
      {"stal", "carbon_steel"},
      {"stal nierdzewna", "stainless_304"},
      {"ŻELIWO SFEROIDALNE", "ductile_iron"},
      {"miedź", "copper"},
      {"МЕДЬ", "copper"},
      {"чугун", "cast_iron_gray"},
      {"ВЧШГ", "ductile_iron"},
      {"Полиэтилен", "pe_pipe"},
      {"ПЭ", "pe_pipe"},
      {"ПНД", "hdpe"},
      {"СТАЛЬ", "carbon_steel"},
      {"сталь 20", "carbon_steel"},
      {"Нержавеющая сталь", "stainless_304"},
      {"Bakar", "copper"},
      {"ČELIK", "carbon_steel"},
      {"Lijevano željezo", "cast_iron_gray"},
      {"Nodularni lijev", "ductile_iron"},
      {"Pocinčani čelik", "carbon_steel"},
      {"acier", "carbon_steel"},
      {"inox", "stainless_304"},
      {"fonte ductile", "ductile_iron"},
      {"fonte grise", "cast_iron_gray"},
      {"cuivre", "copper"},
      {"Zementmörtel", "cement_mortar"},
      {"ZEMENTMÖRTEL", "cement_mortar"},
      {"ZM", "cement_mortar"},
      {"Gummi", "rubber_natural"},
      {"mortero de cemento", "cement_mortar"},
      {"CML", "cement_mortar"},
      {"cement", "cement_mortar"},
      {"FBE", "fbe"},
      {"Bitumen", "bitumen"},
      {"epoxy", "epoxy"},
      {"SS 316L seamless", "stainless_316"},
      {"A105", "carbon_steel"},
      {"St 316L", "stainless_316"},
      {"HDPE PE100 SDR11", "hdpe"},
      {"copper tube type L", "copper"},
      {"304/304L", "stainless_304"},
      {"316/316L SS", "stainless_316"},
      {"duplex 2205 S31803", "duplex_2205"},
      {"CuNi C70600", "cuni_90_10"},
      {"A53 Gr.B ERW Galvanised", "carbon_steel"},
      {"uPVC pipe", "pvc_u"},
      {"AWWA C900 PVC", "pvc_u"},
      {"Titanium Gr. 2", "titanium"},
      {"Ti Gr 2", "titanium"},
      {"Steel, galvanized", "carbon_steel"},
      {"galv. steel", "carbon_steel"},
      {"Carbon stl", "carbon_steel"},
      {"Cast Iron Pipe", "cast_iron_gray"},
      {"A 312 TP 304", "stainless_304"},
      {"ASTM A 312 TP 316 L", "stainless_316"},
      {"TP 316L", "stainless_316"},
      {"SUS316L", "stainless_316"},
      {"St 37.0", "carbon_steel"},
      {"P235 GH", "carbon_steel"},
      {"Ст. 20", "carbon_steel"},
  }));
  CAPTURE(name);
  const Found<SolidRecord> found = catalogue.solid(name);
  CAPTURE(found.readings, found.nearest, found.refused);
  REQUIRE(found.record != nullptr);
  CHECK(found.record->key == key);
}

TEST_CASE("names of several materials, and words that are not known, are not guessed") {
  const Catalogue catalogue;
  using Keys = std::vector<std::string_view>;
  const auto [name, keys] = GENERATE(table<const char*, Keys>({
      {"C.S.", {"carbon_steel", "concrete"}},
      {"CS pipe", {"carbon_steel", "concrete"}},
      {"G.S.", {"carbon_steel", "cast_iron_gray"}},
      {"steel/PVC", {"carbon_steel", "pvc_u"}},
      {"316L/A106", {"carbon_steel", "stainless_316"}},
      {"St. Steel", {"carbon_steel", "stainless_304"}},
      {"M.S.", {"brass", "carbon_steel"}},  // mild steel; Messing
      {"HDPE PE80", {"hdpe", "mdpe_pe80"}},
      {"\u017CELIWO", {"cast_iron_gray", "ductile_iron"}},
      {"Gusseisen", {"cast_iron_gray", "ductile_iron"}},
      {"PE coated steel", {}},
      {"steel lined with concrete", {}},
      {"steel?", {}},
      {"A335 P11", {}},  // chromium-molybdenum steel
      {"40", {}},
      {"pipe", {}},
      {"ASTM", {}},
      {"sch 40", {}},
  }));
  CAPTURE(name);
  const Found<SolidRecord> found = catalogue.solid(name);
  CHECK(found.record == nullptr);
  CHECK(found.readings == keys);
}

TEST_CASE("kinds of pipe that pass no sound, and words for no lining, are told as such") {
  const Catalogue catalogue;
  const auto [name, reason] = GENERATE(table<const char*, const char*>({
      {"PCCP pipe", "wire-wound"},
      {"Hormig\u00F3n", "concrete of a kind that is not said"},
      {"BETON", "concrete of a kind that is not said"},
      {"\u0411\u0415\u0422\u041E\u041D", "concrete of a kind that is not said"},
      {"DI cement lined", "state the two apart"},
      {"No lining", "write \"none\""},
      {"no-liner", "write \"none\""},
      {"unlined", "write \"none\""},
      {"w/o", "write \"none\""},
      {"keine", "write \"none\""},
      {"sin revestimiento", "write \"none\""},
      {"nema", "write \"none\""},
      {"brak", "write \"none\""},
      {"\u041D\u0415\u0422", "write \"none\""},
  }));
  CAPTURE(name);
  const Found<SolidRecord> found = catalogue.solid(name);
  CHECK(found.record == nullptr);
  CHECK(found.nearest.empty());
  CHECK(found.refused.find(reason) != std::string_view::npos);
}

TEST_CASE("a user's names count in longer texts too") {
  Catalogue catalogue;
  catalogue.add(plain_solid("Works Steel 7"));
  REQUIRE(catalogue.solid("pipe, works steel 7").record != nullptr);
  CHECK(catalogue.solid("pipe, works steel 7").record->key == "Works Steel 7");
}

TEST_CASE("capitals of other alphabets are folded") {
  CHECK(folded_name("\u010CELIK") == "\u010Delik");
  CHECK(folded_name("\u017BELIWO SZARE") == "\u017Celiwo_szare");
  CHECK(folded_name("FUNDICI\u00D3N") == "fundici\u00F3n");
  CHECK(folded_name("\u0421\u0422\u0410\u041B\u042C") == "\u0441\u0442\u0430\u043B\u044C");
  CHECK(folded_name("\u0401") == "\u0451");
  CHECK(folded_name("\u0141\u0143\u0178") == "\u0142\u0144\u00FF");
  CHECK(folded_name("\u00D7\u00DF\u0130\u0131\u0138") == "\u00D7\u00DF\u0130\u0131\u0138");
  CHECK(folded_name("\xC3") == "\xC3");  // no UTF-8
  CHECK(folded_name("\xFF\u4E2D") == "\xFF\u4E2D");
}

TEST_CASE("any bytes may be asked for as a solid") {
  const Catalogue catalogue;
  std::mt19937 random(11);
  for (int i = 0; i < 2000; ++i) {
    std::string text(random() % 60, ' ');
    for (char& c : text) c = static_cast<char>(random());
    CHECK(catalogue.solid(text).record == nullptr);
  }
}

TEST_CASE("an ambiguous name is asked back") {
  const Catalogue catalogue;
  using Keys = std::vector<std::string_view>;
  const auto [name, keys] = GENERATE(table<const char*, Keys>({
      {"CS", {"carbon_steel", "concrete"}},        // asset lists: concrete-steel cylinder
      {"GS", {"carbon_steel", "cast_iron_gray"}},  // galvanised steel, or grey iron
      {"CuNi", {"cuni_70_30", "cuni_90_10"}},
  }));
  CAPTURE(name);
  const Found<SolidRecord> found = catalogue.solid(name);
  CHECK(found.record == nullptr);
  CHECK(found.readings == keys);
}

TEST_CASE("rows that show a trap are never found") {
  const Catalogue catalogue;
  for (const char* key : {"pvc_u_static", "ptfe_static", "acrylic_static", "wedge_pei_static"}) {
    CAPTURE(key);
    CHECK(catalogue.solid(key).record == nullptr);
  }
}

TEST_CASE("a slip gets a suggestion") {
  const Catalogue catalogue;
  CHECK(catalogue.solid("carbon stell").nearest.front() == "carbon_steel");
  CHECK(catalogue.solid("alumnium").nearest.front() == "aluminium");
  CHECK(catalogue.liquid("watter").nearest.front() == "water");
  CHECK(catalogue.fitting("elbow90").nearest.front() == "elbow-90");
  CHECK(catalogue.fitting("gate-valve").nearest.front() == "gate-valve-open");
  CHECK(catalogue.sensor_pair("demo-1mzh").nearest.front() == "demo-1mhz");
  CHECK(catalogue.couplant("greese").nearest.front() == "grease");

  const auto nearest = catalogue.fitting("elbow").nearest;
  CHECK(nearest.size() == 3);  // at most three
  CHECK(
      std::ranges::all_of(nearest, [](std::string_view key) { return key.starts_with("elbow"); }));

  CHECK(catalogue.solid("quux").nearest.empty());
  CHECK(catalogue.solid("").record == nullptr);
}

TEST_CASE("suggestions hold no evidence rows and no trap") {
  const Catalogue catalogue;
  for (const char* text : {"copper_e49", "acrylic_stati", "steel_1020", "pvc_u_statc"}) {
    for (std::string_view name : catalogue.solid(text).nearest) {
      CAPTURE(text, name);
      const SolidRecord* row = catalogue.solid(name).record;
      const bool asked_back = !catalogue.solid(name).readings.empty();
      CHECK((asked_back || (row && row->recommended && row->usable)));
    }
  }
}

TEST_CASE("water by its names; a brine or glycol is no water") {
  const Catalogue catalogue;
  for (const char* name :
       {"water", "Chilled Water", "CHW", "hot water", "cooling-water", "tap water",
        "drinking water", "feed water", "DM water", "demineralised water", "condensate"}) {
    CAPTURE(name);
    REQUIRE(catalogue.liquid(name).record != nullptr);
    CHECK(catalogue.liquid(name).record->key == "water");
    CHECK(catalogue.liquid(name).record->model == "water");
  }
  const std::pair<const char*, const char*> solutions[] = {
      {"sea water", "seawater"}, {"MEG", "ethylene_glycol_aq"}, {"PG", "propylene_glycol_aq"}};
  for (const auto& [name, key] : solutions) {
    CAPTURE(name);
    REQUIRE(catalogue.liquid(name).record != nullptr);
    CHECK(catalogue.liquid(name).record->key == key);
  }
  // Several meanings, or none that a trade agrees on.
  for (const char* name : {"brine", "glycol", "oil"}) {
    CAPTURE(name);
    CHECK(catalogue.liquid(name).record == nullptr);
  }
}

TEST_CASE("the keys of the job format are there") {
  const Catalogue catalogue;
  for (const char* key : {"elbow-90",
                          "elbow-45",
                          "elbows-in-plane",
                          "elbows-out-of-plane",
                          "tee",
                          "header",
                          "reducer",
                          "expander",
                          "gate-valve-open",
                          "ball-valve-open",
                          "butterfly-valve-open",
                          "valve-part-open",
                          "globe-valve",
                          "control-valve",
                          "check-valve",
                          "pump",
                          "thermowell",
                          "strainer",
                          "flange",
                          "weld",
                          "unknown"}) {
    CAPTURE(key);
    CHECK(catalogue.fitting(key).record != nullptr);
  }
  CHECK(built_in_fittings().size() == 21);
  CHECK(catalogue.fitting("Elbow 90").record == catalogue.fitting("elbow-90").record);
  for (const char* key : {"demo-500khz", "demo-1mhz", "demo-2mhz"}) {
    CAPTURE(key);
    REQUIRE(catalogue.sensor_pair(key).record != nullptr);
    CHECK(catalogue.sensor_pair(key).record->invented);
  }
}

TEST_CASE("a user's row overrides a built-in one and is reached by its common names") {
  Catalogue catalogue;
  {
    std::string key = "Carbon Steel";  // as a user may write it
    catalogue.add(plain_solid(key));
    key.assign(key.size(), '?');  // texts are copied
  }
  REQUIRE(catalogue.user_solids().size() == 1);
  const SolidRecord* own = &catalogue.user_solids().front();
  CHECK(own->key == "Carbon Steel");
  CHECK(catalogue.solid("carbon_steel").record == own);
  CHECK(catalogue.solid("mild steel").record == own);
  CHECK(catalogue.solid("stainless").record->key == "stainless_304");

  SolidRecord again = plain_solid("carbon-steel");
  again.longitudinal_m_s = 5950;
  catalogue.add(again);
  REQUIRE(catalogue.user_solids().size() == 1);
  CHECK(catalogue.solid("steel").record->longitudinal_m_s == 5950);
}

TEST_CASE("a user's own material and sensor pair") {
  Catalogue catalogue;
  catalogue.add(plain_solid("plate 7"));
  CHECK(catalogue.solid("plate-7").record != nullptr);
  CHECK(catalogue.solid("plate 8").nearest.front() == "plate 7");

  SensorPairRecord pair = *catalogue.sensor_pair("demo-1mhz").record;
  pair.key = "shop-1";
  pair.setback_mm = 15.5;
  catalogue.add(pair);
  REQUIRE(catalogue.sensor_pair("shop-1").record != nullptr);
  CHECK(catalogue.sensor_pair("shop-1").record->setback_mm == 15.5);
  pair.key = "demo-1mhz";
  catalogue.add(pair);
  CHECK(catalogue.sensor_pair("demo-1mhz").record->setback_mm == 15.5);
  CHECK(catalogue.user_sensor_pairs().size() == 2);
}

TEST_CASE("enumerators have names") {
  CHECK(confidence_name(Confidence::common_practice) == "common practice");
  CHECK(confidence_name(Confidence::published) == "published");
  CHECK(solid_family_name(SolidFamily::composite) == "composite");
}
