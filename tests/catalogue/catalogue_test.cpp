#include "slantrule/catalogue/catalogue.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
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
