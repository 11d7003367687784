/// Walks every built-in row, and compares samples with their sources.

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <map>
#include <set>
#include <span>
#include <string_view>
#include <tuple>
#include <utility>
#include <vector>

#include "slantrule/catalogue/catalogue.hpp"
#include "slantrule/units/suggest.hpp"

using namespace slantrule;

namespace {

const SolidRecord& solid(std::string_view key) {
  const auto row = std::ranges::find(built_in_solids(), key, &SolidRecord::key);
  REQUIRE(row != built_in_solids().end());
  return *row;
}

template <class Record>
void check_sources(std::span<const Record> rows) {
  REQUIRE_FALSE(rows.empty());
  for (const Record& row : rows) {
    CAPTURE(row.source);
    CHECK_FALSE(row.source.empty());
  }
}

template <class Record>
void check_keys_sorted(std::span<const Record> rows) {
  for (std::size_t i = 1; i < rows.size(); ++i) {
    CAPTURE(rows[i].key);
    CHECK(rows[i - 1].key < rows[i].key);
  }
}

}  // namespace

TEST_CASE("every built-in row has a source, and a confidence that fits it") {
  check_sources(built_in_pipes());
  check_sources(built_in_solids());
  check_sources(built_in_fittings());
  check_sources(built_in_couplants());
  check_sources(built_in_sensor_pairs());
  check_sources(built_in_liquids());
  for (const SolidRecord& row : built_in_solids()) {
    CAPTURE(row.key, row.source);
    if (row.confidence == Confidence::memory) {
      CHECK(row.source.find("memory") != std::string_view::npos);
    }
    CHECK(row.confidence != Confidence::invented);
  }
  for (const SensorPairRecord& row : built_in_sensor_pairs()) {
    CHECK(row.invented);
    CHECK(row.about.find("invented") != std::string_view::npos);
  }
}

TEST_CASE("tables are sorted by unique keys") {
  check_keys_sorted(built_in_solids());
  check_keys_sorted(built_in_fittings());
  check_keys_sorted(built_in_couplants());
  check_keys_sorted(built_in_sensor_pairs());
  check_keys_sorted(built_in_liquids());
  const auto order = [](const PipeRecord& row) {
    return std::tie(row.standard, row.outside_diameter_mm, row.wall_mm);
  };
  CHECK(std::ranges::is_sorted(built_in_pipes(), {}, order));
  // 182 rows of the reference list and the one of our own, pe_pipe.
  CHECK(built_in_solids().size() == 183);
}

TEST_CASE("common names lead to usable, recommended rows") {
  const auto check = [](std::span<const NameRecord> names, auto known) {
    for (std::size_t i = 0; i < names.size(); ++i) {
      CAPTURE(names[i].name, names[i].key);
      CHECK(folded_name(names[i].name) == names[i].name);
      CHECK(known(names[i].key));
      CHECK_FALSE(known(names[i].name));  // else the key would hide the name
      if (i > 0) {
        CHECK(std::tie(names[i - 1].name, names[i - 1].key) <
              std::tie(names[i].name, names[i].key));
      }
    }
  };
  check(built_in_solid_names(), [](std::string_view key) {
    const auto row = std::ranges::find(built_in_solids(), key, &SolidRecord::key);
    return row != built_in_solids().end() && row->usable && row->recommended;
  });
  check(built_in_liquid_names(), [](std::string_view key) {
    return std::ranges::count(built_in_liquids(), key, &LiquidRecord::key) == 1;
  });
}

TEST_CASE("solids: speeds that a solid can have") {
  for (const SolidRecord& row : built_in_solids()) {
    CAPTURE(row.key);
    const bool has_longitudinal = !std::isnan(row.longitudinal_m_s);
    const bool has_shear = !std::isnan(row.shear_m_s);
    CHECK((has_longitudinal || has_shear));
    if (has_longitudinal) {
      // From PTFE by its static modulus (1006, a trap row) to rolled aluminium (6420).
      CHECK(row.longitudinal_m_s > 1000);
      CHECK(row.longitudinal_m_s < 6500);
      CHECK(row.u_longitudinal_m_s > 0);
      CHECK(row.u_longitudinal_m_s < 0.15 * row.longitudinal_m_s);
    }
    if (has_longitudinal && has_shear) {
      // Poisson's ratio from the two speeds, nu = (r^2 - 2) / (2 (r^2 - 1)), r = cL / cT.
      const double r2 = std::pow(row.longitudinal_m_s / row.shear_m_s, 2);
      const double poisson = (r2 - 2) / (2 * (r2 - 1));
      CHECK(poisson > 0.1);  // below it stands only what was copied wrong
      CHECK(poisson < 0.5);
      CHECK(row.shear_m_s < row.longitudinal_m_s / 1.4);
    }
    if (!std::isnan(row.density_kg_m3)) {
      CHECK(row.density_kg_m3 > 850);
      CHECK(row.density_kg_m3 < 17000);  // tantalum 16600
    }
    if (!std::isnan(row.longitudinal_slope_m_s_K)) {
      // Warm solids are slower, silicate glasses of low expansion apart.
      const bool quartz_like = row.key == "quartz_fused" || row.key == "glass_borosilicate";
      CHECK((row.longitudinal_slope_m_s_K > 0) == quartz_like);
      CHECK(std::abs(row.longitudinal_slope_m_s_K) <= 12);
    }
  }
}

TEST_CASE("solids: what is not fit for planning is marked") {
  for (const SolidRecord& row : built_in_solids()) {
    CAPTURE(row.key, row.name);
    if (row.name.find("do not use") != std::string_view::npos) CHECK_FALSE(row.usable);
    if (row.usable) CHECK(row.longitudinal_m_s > 0);
    if (row.recommended) CHECK(row.usable);
    if (row.family != SolidFamily::rubber && row.recommended && row.key != "phenolic") {
      CHECK(row.shear_m_s > 0);
    }
  }
}

TEST_CASE("solids: samples against their printed values") {
  struct Row {
    const char* source;
    const char* key;
    double longitudinal_m_s, shear_m_s, density_kg_m3;
  };
  const auto row = GENERATE(values<Row>({
      {"ASTM E494 table X3.1", "carbon_steel_e494", 5900, 3230, 7700},
      {"ASTM E494 table X3.1", "aluminium_e494", 6300, 3130, 2700},
      {"ASTM E494 table X3.1", "copper_e494", 4700, 2260, 8900},
      {"ASTM E494 table X3.1", "lead", 2160, 700, 11350},
      {"CRC Handbook, section 14", "brass_crc", 4700, 2110, 8600},
      {"CRC Handbook, section 14", "copper_annealed_crc", 4760, 2325, 8930},
      {"Ono 2020 (DLR list)", "stainless_304_ono", 5750, 3140, 8000},
      {"Ono 2020 (DLR list)", "pvc_u_ono", 2330, 1110, 1400},
  }));
  CAPTURE(row.source, row.key);
  CHECK(solid(row.key).longitudinal_m_s == row.longitudinal_m_s);
  CHECK(solid(row.key).shear_m_s == row.shear_m_s);
  CHECK(solid(row.key).density_kg_m3 == row.density_kg_m3);
}

TEST_CASE("solids: PEEK follows its published functions at 20 degC") {
  // Warwick 2022: cL = 2627 - 2.371 T + 0.005498 T^2, cT = 1161 - 1.335 T + 0.0043 T^2 (T in degC);
  // the row is rounded to 1 m/s and 0.01 m/s/K.
  const double t = 20;
  CHECK(std::abs(solid("peek").longitudinal_m_s - (2627 - 2.371 * t + 0.005498 * t * t)) <= 0.5);
  CHECK(std::abs(solid("peek").shear_m_s - (1161 - 1.335 * t + 0.0043 * t * t)) <= 0.5);
  CHECK(std::abs(solid("peek").longitudinal_slope_m_s_K - (-2.371 + 2 * 0.005498 * t)) <= 0.005);
  CHECK(std::abs(solid("peek").shear_slope_m_s_K - (-1.335 + 2 * 0.0043 * t)) <= 0.005);
}

TEST_CASE("solids: plain PE spans what pipe of either grade was measured at") {
  // Mazeika et al. 2010: PE80 pipe 2030 to 2060 m/s; a thickness-gauge list: HDPE 2460 m/s.
  const SolidRecord& pe = solid("pe_pipe");
  const double limit_m_s = pe.u_longitudinal_m_s * std::sqrt(3.0);
  CHECK(pe.longitudinal_m_s - limit_m_s <= 2030);
  CHECK(pe.longitudinal_m_s + limit_m_s >= 2460);
}

TEST_CASE("fittings keep the floor of 10 D upstream and 5 D downstream") {
  for (const FittingRecord& row : built_in_fittings()) {
    CAPTURE(row.key);
    const bool mark = row.key == "weld" || row.key == "flange";
    CHECK(row.mark_only == mark);
    CHECK(row.upstream_D >= (mark ? 1 : 10));
    CHECK(row.downstream_D >= (mark ? 1 : 5));
    CHECK(row.bend == row.key.starts_with("elbow"));
  }
}

TEST_CASE("fittings: what is not known counts as the worst") {
  const auto unknown = std::ranges::find(built_in_fittings(), "unknown", &FittingRecord::key);
  REQUIRE(unknown != built_in_fittings().end());
  for (const FittingRecord& row : built_in_fittings()) {
    CAPTURE(row.key);
    CHECK(unknown->upstream_D >= row.upstream_D);
    CHECK(unknown->downstream_D >= row.downstream_D);
  }
}

TEST_CASE("fittings: lengths of their sources") {
  struct Row {
    const char* source;
    const char* key;
    double upstream_D, downstream_D;
  };
  const auto row = GENERATE(values<Row>({
      {"JEMIS 032-1987, from memory", "elbow-90", 10, 5},
      {"JEMIS 032-1987, from memory", "tee", 50, 10},
      {"JEMIS 032-1987, from memory", "expander", 30, 5},
      {"JEMIS 032-1987, from memory", "reducer", 10, 5},
      {"JEMIS 032-1987, from memory", "valve-part-open", 30, 10},
      {"JEMIS 032-1987, from memory (upstream)", "pump", 50, 5},
      {"planner proposal", "elbows-in-plane", 20, 5},
      {"planner proposal", "elbows-out-of-plane", 30, 5},
      {"planner proposal", "butterfly-valve-open", 20, 5},
      {"planner proposal", "control-valve", 50, 10},
      {"planner proposal", "check-valve", 30, 5},
      {"planner proposal", "weld", 1, 1},
  }));
  CAPTURE(row.source, row.key);
  const auto fitting = std::ranges::find(built_in_fittings(), row.key, &FittingRecord::key);
  REQUIRE(fitting != built_in_fittings().end());
  CHECK(fitting->upstream_D == row.upstream_D);
  CHECK(fitting->downstream_D == row.downstream_D);
}

TEST_CASE("couplants have an ordered temperature range") {
  for (const CouplantRecord& row : built_in_couplants()) {
    CAPTURE(row.key);
    CHECK(row.lowest_degC < row.highest_degC);
    CHECK(row.confidence == Confidence::common_practice);
  }
}

TEST_CASE("the demonstration pair of the job format") {
  const auto pair = std::ranges::find(built_in_sensor_pairs(), "demo-1mhz", &SensorPairRecord::key);
  REQUIRE(pair != built_in_sensor_pairs().end());
  CHECK(pair->frequency_MHz == 1);
  CHECK(pair->element_mm == 12);
  CHECK(pair->wedge_sound_speed_m_s == 2430);
  CHECK(pair->wedge_at_degC == 20);
  CHECK(pair->wedge_slope_m_s_K == -1.9);
  CHECK(pair->wedge_angle_deg == 38);
  CHECK(pair->wedge_path_mm == 14);
  CHECK(pair->setback_mm == 14);
  CHECK(pair->nose_mm == 16);
  CHECK(pair->length_mm == 58);
  CHECK(pair->lowest_degC == -20);
  CHECK(pair->highest_degC == 110);
}
