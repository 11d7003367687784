// The table of job keys: its examples and defaults are what the reader and the planner take.

#include "slantrule/planning/job_keys.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <map>
#include <set>
#include <string>

#include "slantrule/files/job_file.hpp"
#include "slantrule/planning/defaults.hpp"
#include "slantrule/planning/job_visit.hpp"
#include "slantrule/planning/resolved_job.hpp"

using namespace slantrule;

namespace {

/// A job in which every optional object is there once, so that a walk sees every key.
JobRequest full_request() {
  JobRequest job;
  const auto inline_material = [] {
    MaterialRequest material;
    material.is_inline = true;
    material.absorption.value.emplace();
    return material;
  };
  const auto layer = [&] {
    LayerRequest one;
    one.material.options.push_back({inline_material(), Origin::unstated, ""});
    return one;
  };
  job.pipe.material.options.push_back({inline_material(), Origin::unstated, ""});
  job.pipe.liner.options.push_back({layer(), Origin::unstated, ""});
  job.pipe.coating.options.push_back({layer(), Origin::unstated, ""});
  job.pipe.wall.options.push_back({WallRequest{}, Origin::unstated, ""});
  job.fluid.absorption.value.emplace();
  job.sensors.pair.emplace().wedge.value.emplace().absorption.value.emplace();
  job.location.upstream.items.emplace_back();
  job.location.downstream.items.emplace_back();
  job.kit.value.emplace();
  job.places.items.emplace_back();
  job.purpose.value.emplace();
  job.accept.items.emplace_back();
  return job;
}

enum class Kind { quantity, range, choice, words, flag, count, number, text, other };

struct Row {
  KeyInfo info;
  Kind kind;
};

template <class Entry>
Kind kind_of() {
  if constexpr (std::is_same_v<Entry, QuantityEntry>) return Kind::quantity;
  if constexpr (std::is_same_v<Entry, RangeRequest>) return Kind::range;
  if constexpr (std::is_same_v<Entry, ChoiceEntry>) return Kind::choice;
  if constexpr (std::is_same_v<Entry, WordsEntry>) return Kind::words;
  if constexpr (std::is_same_v<Entry, FlagEntry>) return Kind::flag;
  if constexpr (std::is_same_v<Entry, CountEntry>) return Kind::count;
  if constexpr (std::is_same_v<Entry, NumberEntry>) return Kind::number;
  if constexpr (std::is_same_v<Entry, TextEntry>) return Kind::text;
  return Kind::other;
}

/// Every key by its dotted path; `twice` collects paths met a second time.
std::map<std::string, Row> all_keys(std::vector<std::string>* twice = nullptr) {
  std::map<std::string, Row> rows;
  JobRequest job = full_request();
  visit_all_keys(job, "", [&](const std::string& path, const KeyInfo& info, auto& entry) {
    const Row row{info, kind_of<std::remove_cvref_t<decltype(entry)>>()};
    if (!rows.emplace(path, row).second && twice) twice->push_back(path);
  });
  return rows;
}

std::string unquoted(std::string_view text) {
  if (text.starts_with('"') && text.ends_with('"') && text.size() > 1) {
    text = text.substr(1, text.size() - 2);
  }
  return std::string(text);
}

Reading parsed(std::string_view text, Dimensions dimensions) {
  auto read = parse_quantity(text, dimensions);
  if (const auto* wrong = std::get_if<QuantityProblem>(&read)) FAIL(wrong->message);
  return std::get<Reading>(read);
}

bool has(std::span<const std::string_view> words, std::string_view word) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

}  // namespace

TEST_CASE("job keys: all keys of the format are there", "[planning]") {
  // DESIGN section 4, the table of keys and the sensor pair.
  const auto rows = all_keys();
  for (const char* key : {"tag",
                          "title",
                          "site",
                          "prepared_by",
                          "note",
                          "pipe.size",
                          "pipe.outside_diameter",
                          "pipe.girth",
                          "pipe.tape_thickness",
                          "pipe.across",
                          "pipe.wall",
                          "pipe.wall.gauge_set_to",
                          "pipe.wall.through_paint",
                          "pipe.material",
                          "pipe.material.longitudinal_slope",
                          "pipe.material.shear_slope",
                          "pipe.material.at",
                          "pipe.material.absorption.power",
                          "pipe.liner.material",
                          "pipe.liner.thickness",
                          "pipe.coating.under_sensors",
                          "pipe.over_coating",
                          "pipe.roughness",
                          "pipe.deposit",
                          "pipe.wall_temperature",
                          "pipe.orientation",
                          "pipe.seam",
                          "fluid.name",
                          "fluid.temperature",
                          "fluid.pressure",
                          "fluid.concentration",
                          "fluid.sound_speed",
                          "fluid.density",
                          "fluid.viscosity",
                          "fluid.absorption.longitudinal",
                          "fluid.gas",
                          "fluid.solids",
                          "flow.rate",
                          "flow.velocity",
                          "flow.least",
                          "flow.most",
                          "flow.direction",
                          "flow.pulsating",
                          "flow.can_stop",
                          "sensors",
                          "sensors.frequency",
                          "sensors.wedge.sound_speed",
                          "sensors.wedge.angle",
                          "sensors.setback",
                          "sensors.element",
                          "sensors.element_width",
                          "sensors.nose",
                          "sensors.length",
                          "sensors.temperature",
                          "sensors.mark",
                          "sensors.delay",
                          "sensors.cycles",
                          "sensors.least_face_gap",
                          "sensors.time_resolution",
                          "sensors.zero_stability",
                          "sensors.certified_for",
                          "sensors.pipe_range",
                          "meter.fluid_time",
                          "path.traverses",
                          "path.wall_mode",
                          "path.liner_mode",
                          "path.coating_mode",
                          "location.upstream",
                          "location.downstream",
                          "location.straight",
                          "location.clock",
                          "location.surface",
                          "location.place",
                          "location.access",
                          "location.clear_length",
                          "location.insulation",
                          "location.hazardous_area",
                          "location.height",
                          "location.ambient",
                          "location.wedge_temperature",
                          "couplant",
                          "kit",
                          "places",
                          "purpose.difference",
                          "purpose.reference",
                          "accept",
                          "accept[0].finding",
                          "accept[0].because",
                          "accept[0].by",
                          "accept[0].down_to"}) {
    CAPTURE(key);
    CHECK(rows.count(key) == 1);
  }
}

TEST_CASE("job keys: no key twice, each with help and an example", "[planning]") {
  std::vector<std::string> twice;
  const auto rows = all_keys(&twice);
  CHECK(twice.empty());
  for (const auto& [path, row] : rows) {
    CAPTURE(path);
    CHECK(row.info.key.find_first_not_of("abcdefghijklmnopqrstuvwxyz_") == row.info.key.npos);
    CHECK(row.info.help.size() > 3);
    CHECK_FALSE(row.info.example.empty());
    CHECK_FALSE((row.info.required && !row.info.default_text.empty()));
  }
}

TEST_CASE("job keys: what is required", "[planning]") {
  // DESIGN section 4: a pipe's material, the liquid's name and temperature, the sensors (size or
  // diameter and wall have alternatives and are checked by `resolve`); of a pair frequency, wedge
  // sound speed and angle, setback.
  const auto rows = all_keys();
  std::set<std::string> required;
  for (const auto& [path, row] : rows) {
    if (row.info.required) required.insert(path);
  }
  const std::set<std::string> expected{
      "pipe", "pipe.material", "fluid", "fluid.name", "fluid.temperature", "sensors",
      "sensors.frequency", "sensors.wedge", "sensors.wedge.sound_speed", "sensors.wedge.angle",
      "sensors.setback",
      // Inside an object that is there:
      "pipe.material.name", "pipe.liner.material", "pipe.liner.material.name",
      "pipe.liner.thickness", "pipe.coating.material", "pipe.coating.material.name",
      "pipe.coating.thickness", "location.upstream[0].fitting", "location.downstream[0].fitting",
      "accept[0].finding", "accept[0].because", "accept[0].by"};
  CHECK(required == expected);
  // DESIGN section 4: "unknown" for wall, liner, size.
  for (const auto& [path, row] : rows) {
    CAPTURE(path);
    const bool may = path == "pipe.wall" || path == "pipe.liner" || path == "pipe.size";
    CHECK(row.info.may_be_unknown == may);
  }
}

TEST_CASE("job keys: examples and defaults of quantities parse", "[planning]") {
  for (const auto& [path, row] : all_keys()) {
    if (row.kind != Kind::quantity) continue;
    CAPTURE(path, row.info.example, row.info.default_text);
    const Reading example = parsed(unquoted(row.info.example), row.info.dimensions);
    if (row.info.positive) CHECK(example.si > 0);
    if (!row.info.default_text.empty()) parsed(row.info.default_text, row.info.dimensions);
  }
}

TEST_CASE("job keys: words, flags and counts", "[planning]") {
  for (const auto& [path, row] : all_keys()) {
    CAPTURE(path, row.info.example, row.info.default_text);
    const std::string example = unquoted(row.info.example);
    switch (row.kind) {
      case Kind::choice:
        REQUIRE_FALSE(row.info.choices.empty());
        CHECK(has(row.info.choices, example));
        if (!row.info.default_text.empty()) CHECK(has(row.info.choices, row.info.default_text));
        break;
      case Kind::flag:
        CHECK((example == "true" || example == "false"));
        if (!row.info.default_text.empty()) CHECK(row.info.default_text == "false");
        break;
      case Kind::count: {
        CHECK(row.info.most_count > 0);
        const int count = std::stoi(example);
        CHECK(count >= 1);
        CHECK(count <= row.info.most_count);
        if (row.info.default_text == "best") CHECK(row.info.may_be_best);
        break;
      }
      default:
        break;
    }
    if (row.kind == Kind::words && !row.info.choices.empty()) {
      CHECK(has(row.info.choices, example));
    }
  }
}

TEST_CASE("job keys: defaults are the numbers that the planner takes", "[planning]") {
  const auto rows = all_keys();
  const auto default_of = [&](const std::string& path) {
    const KeyInfo& info = rows.at(path).info;
    CAPTURE(path);
    return parsed(info.default_text, info.dimensions);
  };
  const Reading ambient = default_of("location.ambient");
  CHECK(ambient.si == defaults::ambient_K);
  CHECK(ambient.u_si == Approx(defaults::u_ambient_K).epsilon(1e-14));
  CHECK(default_of("sensors.wedge.at").si == defaults::solid_reference_K);
  CHECK(default_of("pipe.material.at").si == defaults::solid_reference_K);
  CHECK(default_of("pipe.material.longitudinal_slope").si == WaveSpeed{}.slope_m_s_K);
  CHECK(default_of("pipe.material.shear_slope").si == WaveSpeed{}.slope_m_s_K);
  const ResolvedSensors pair;
  CHECK(default_of("sensors.delay").si == pair.delay_s);
  CHECK(default_of("sensors.least_face_gap").si == pair.least_face_gap_m);
  CHECK(default_of("sensors.wedge.path").si == pair.wedge_path_m);
  CHECK(rows.at("sensors.cycles").info.default_text == std::to_string(pair.cycles));
  CHECK(default_of("pipe.deposit").si == ResolvedPipe{}.deposit_m);
  CHECK(default_of("pipe.tape_thickness").si == 0);
  CHECK(rows.at("path.liner_mode").info.default_text == wave_mode_name(PathWish{}.liner_mode));
  CHECK(rows.at("path.coating_mode").info.default_text == wave_mode_name(PathWish{}.coating_mode));
  CHECK(rows.at("path.traverses").info.default_text == "best");
  CHECK(rows.at("path.wall_mode").info.default_text == "best");
  CHECK(rows.at("path.traverses").info.most_count == 12);
}

TEST_CASE("job keys: each example is read as its key", "[planning]") {
  for (const auto& [path, row] : all_keys()) {
    if (path.find('[') != path.npos) continue;  // inside a list: no path of its own for --set
    CAPTURE(path, row.info.example);
    std::vector<std::string> sets{path + "=" + std::string(row.info.example)};
    // What the gauge was set to means nothing without its readings.
    if (path.starts_with("pipe.wall.")) sets.push_back(R"(pipe.wall.readings=["7.1 mm"])");
    const ReadJob read = read_job(std::nullopt, sets);
    for (const Problem& one : read.problems) UNSCOPED_INFO(one.key << ": " << one.message);
    CHECK(read.problems.empty());
  }
}

TEST_CASE("job keys: lists of fittings and acceptances read their examples", "[planning]") {
  const std::vector<std::string> sets{
      R"(accept=[{"finding":"run.upstream","because":"comparison only","by":"site engineer","down_to":"1.5 D"}])",
      R"(location.upstream=[{"fitting":"elbow-90","distance":"2.1 m"},{"fitting":"tee","distance":"12 D"}])"};
  const ReadJob read = read_job(std::nullopt, sets);
  CHECK(read.problems.empty());
  REQUIRE(read.request.accept.items.size() == 1);
  CHECK(read.request.accept.items[0].down_to.options.front().value.dimension ==
        Dimension::pipe_diameters);
  REQUIRE(read.request.location.upstream.items.size() == 2);
  CHECK(read.request.location.upstream.items[0].distance.options.front().value.si == 2.1);
}
