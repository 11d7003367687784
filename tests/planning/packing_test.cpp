#include "slantrule/planning/packing.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "planning/test_jobs.hpp"
#include "slantrule/planning/packing_cover.hpp"
#include "slantrule/sheets/pack_sheet.hpp"

#include "sheets/pack_list.hpp"

namespace slantrule {
namespace {

constexpr double pi = 3.14159265358979323846;

std::size_t served(const std::vector<ServeNeed>& needs, const std::vector<std::size_t>& items) {
  std::size_t rows = 0;
  for (const ServeNeed& need : needs) {
    for (std::size_t item : need.items) {
      if (std::find(items.begin(), items.end(), item) == items.end()) continue;
      rows += need.rows;
      break;
    }
  }
  return rows;
}

/// The fewest items that serve the most rows, by trying every subset.
std::size_t fewest_by_trying(const std::vector<ServeNeed>& needs, std::size_t items,
                             std::size_t& most_rows) {
  std::size_t fewest = 0;
  most_rows = 0;
  for (std::size_t bits = 0; bits < (std::size_t{1} << items); ++bits) {
    std::vector<std::size_t> subset;
    for (std::size_t i = 0; i < items; ++i) {
      if (bits >> i & 1) subset.push_back(i);
    }
    const std::size_t rows = served(needs, subset);
    if (rows > most_rows || (rows == most_rows && subset.size() < fewest)) {
      most_rows = rows;
      fewest = subset.size();
    }
  }
  return fewest;
}

const PackAidUse* aid(const PackReport& report, PackAid which) {
  for (const PackAidUse& one : report.aids) {
    if (one.aid == which) return &one;
  }
  return nullptr;
}

std::size_t aid_rows(const PackReport& report, PackAid which) {
  const PackAidUse* one = aid(report, which);
  return one ? one->rows.count() : 0;
}

const PackLacking* lack(const PackReport& report, PackLack which) {
  for (const PackLacking& one : report.lacks) {
    if (one.lack == which) return &one;
  }
  return nullptr;
}

/// "1 3 9": the rows that are named.
std::string rows(const PackRows& counted) {
  std::string out;
  for (const PackRow& one : counted.examples()) {
    out += (out.empty() ? "" : " ") + std::to_string(one.row);
  }
  return out;
}

}  // namespace

TEST_CASE("cover: as few items as trying every subset finds", "[packing]") {
  std::mt19937 random(7);
  const auto up_to = [&](std::size_t n) { return random() % n; };
  for (int round = 0; round < 400; ++round) {
    const std::size_t items = 1 + up_to(8);
    std::vector<ServeNeed> needs(1 + up_to(12));
    for (ServeNeed& need : needs) {
      need.rows = 1 + up_to(20);
      for (std::size_t i = 0; i < items; ++i) {
        if (up_to(3) == 0) need.items.push_back(i);
      }
    }
    std::size_t most_rows = 0;
    const std::size_t fewest = fewest_by_trying(needs, items, most_rows);
    const std::vector<std::size_t> taken = fewest_that_serve(needs, items);
    CAPTURE(round, items, needs.size());
    REQUIRE(served(needs, taken) == most_rows);
    REQUIRE(taken.size() == fewest);
  }
}

TEST_CASE("cover: the greatest first would take three rails where two do", "[packing]") {
  // Rail 1 takes most (4 rows), but rails 0 and 2 take all six.
  const std::vector<ServeNeed> needs = {{{0}, 1}, {{0, 1}, 2}, {{1, 2}, 2}, {{2}, 1}};
  CHECK(fewest_that_serve(needs, 3) == std::vector<std::size_t>{0, 2});
  CHECK(fewest_that_serve({}, 3).empty());
  const std::vector<ServeNeed> nobody = {{{}, 5}};
  CHECK(fewest_that_serve(nobody, 3).empty());
}

TEST_CASE("rows counted: once a row, the least twenty named, in any order", "[packing]") {
  PackRows all, even, odd;
  for (std::size_t row = 100; row >= 1; --row) {
    all.add({row, "x"});
    all.add({row, "x"});
    (row % 2 ? odd : even).add({row, "x"});
  }
  CHECK(all.count() == 100);
  REQUIRE(all.examples().size() == PackRows::most_examples);
  for (std::size_t i = 0; i < PackRows::most_examples; ++i) CHECK(all.examples()[i].row == i + 1);
  odd.merge(even);
  CHECK(odd.count() == 100);
  CHECK(rows(odd) == rows(all));
}

TEST_CASE("packing: what goes, what stops, what is refused", "[packing]") {
  const PackReport report = test::packed(test::mixed_list()).report();
  CHECK(rows(report.load) == "1 2 3 4 5 8 9");
  CHECK(rows(report.stopped) == "6 10");  // crown; beyond the pair's 110 degC
  CHECK(rows(report.refused) == "7");
  CHECK(report.may_stop.count() == 0);
  CHECK(report.stopped.examples()[0].tag == "TOP-6");
  CHECK(rows(report.opposite_sides) == "3 8");
  CHECK(rows(report.by_marks) == "3 8");
  CHECK(rows(report.same_side) == "1 2 4 5 9");
  REQUIRE(report.pairs.size() == 3);
  CHECK(report.pairs[0].key == "demo-1mhz");
  CHECK(rows(report.pairs[0].rows) == "1 2 3 5 9");
  CHECK(report.pairs[0].invented);
  CHECK(report.pairs[0].number == 1);
  CHECK(report.pairs[0].outside_diameter_m.least == Approx(0.1683));  // ASME B36.10M, NPS 6
  CHECK(report.pairs[0].outside_diameter_m.greatest == Approx(1.22));
}

TEST_CASE("packing: a candidate that stops is loaded for, if another goes", "[packing]") {
  // 600 m3/h are 8.9 m/s in a bore of 154.1 mm and 15.2 m/s, a slip of units, in 118.3 mm.
  const test::ListedPipe row{"X",
                             {"pipe.wall={ \"one_of\": [\"7.11 mm\", \"25 mm\"] }",
                              "flow.rate=600 m3/h", "flow.least=", "flow.most="}};
  const PackReport report = test::packed({row}).report();
  CHECK(report.load.count() == 1);
  CHECK(report.stopped.count() == 0);
  CHECK(report.may_stop.count() == 1);
}

TEST_CASE("packing: girths by pi, over the coating that stays", "[packing]") {
  const std::vector<test::ListedPipe> list = {
      {"A", {}},
      {"B", {"pipe.coating={ \"material\": \"epoxy\", \"thickness\": \"0.5 mm\" }"}},
      {"C",
       {"pipe.coating={ \"material\": \"epoxy\", \"thickness\": \"0.5 mm\", "
        "\"under_sensors\": \"removed\" }"}}};
  const auto girth_m = [&](std::size_t i) { return test::packed({list[i]}).report().girth_m; };
  CHECK(girth_m(0).greatest == Approx(pi * 0.1683).epsilon(1e-12));
  CHECK(girth_m(1).greatest == Approx(pi * (0.1683 + 2 * 0.0005)).epsilon(1e-12));
  CHECK(girth_m(2).greatest == Approx(pi * 0.1683).epsilon(1e-12));

  const PackReport report = test::packed(test::mixed_list()).report();
  CHECK(report.girth_m.greatest == Approx(pi * 1.22).epsilon(1e-12));
  CHECK(report.girth_m.least == Approx(pi * 0.028).epsilon(1e-12));
  // Up to 0.3 m: 28 mm pipe. To 0.6: four of 168.3 mm. To 1.2: 232 mm. To 6: 1220 mm, 3.83 m.
  CHECK(report.girth_classes.counts == std::array<std::size_t, 7>{1, 4, 1, 0, 0, 1, 0});
  CHECK(rows(report.without_straps) == rows(report.load));
}

TEST_CASE("packing: rails, straps and couplants of a kit", "[packing]") {
  const PackReport report =
      test::packed(test::mixed_list(), {test::own_kit}, {.at_once = 2}).report();
  REQUIRE(report.rails.size() == 2);
  CHECK(report.rails[0].rail.name == "short rail");  // the kit's order
  CHECK(rows(report.rails[0].rows) == "1 2 4 5 9");
  CHECK(report.rails[0].number == 2);
  CHECK(report.rails[1].number == 0);
  CHECK(rows(report.rails[1].rows) == "1 2 5 9");  // 40 mm of the copper tube is too short for it
  REQUIRE(report.straps.size() == 2);
  CHECK(rows(report.straps[0].rows) == "1 2 4 5 8 9");
  CHECK(report.straps[0].number == 4);
  CHECK(report.straps[1].rows.count() == 0);
  const PackLacking* strap = lack(report, PackLack::strap);
  REQUIRE(strap);
  CHECK(rows(strap->rows) == "3");  // 3.83 m, and the longest chain goes round 3.5 m
  CHECK(strap->value.greatest == Approx(pi * 1.22).epsilon(1e-12));
  const PackLacking* hot = lack(report, PackLack::pair_temperature);
  REQUIRE(hot);
  CHECK(rows(hot->rows) == "10");
  CHECK(hot->value.greatest == Approx(140 + 273.15));
  const PackLacking* couplant = lack(report, PackLack::couplant_range);
  REQUIRE(couplant);
  CHECK(rows(couplant->rows) == "2");  // 95 degC; grease to 80, gel to 60 (data/couplants.csv)
  CHECK(rows(report.unserved) == "2 3 10");
  REQUIRE(report.couplants.size() == 2);
  CHECK_FALSE(report.couplants[0].load);  // gel
  CHECK(report.couplants[1].key == "grease");
  CHECK(report.couplants[1].load);
  CHECK(report.without_rails.count() == 0);
}

TEST_CASE("packing: a pipe that one of its readings is served as is not unserved", "[packing]") {
  // 1220 mm are 3.83 m round, and the longest chain of the kit 3.5 m; 600 mm are 1.88 m.
  const std::vector<std::string> large = test::mixed_list()[2].sets;
  std::vector<std::string> either = large, small = large;
  either.emplace_back(R"(pipe.outside_diameter={"one_of":["1220 mm","600 mm"]})");
  small.emplace_back("pipe.outside_diameter=600 mm");
  const std::vector<test::ListedPipe> list = {{"both", either}, {"large", large}, {"small", small}};
  const PackReport report = test::packed(list, {test::own_kit}).report();
  CHECK(report.load.count() == 3);
  CHECK(rows(report.unserved) == "2");
  CHECK(rows(report.unserved_loaded) == "2");
  CHECK(rows(report.may_lack) == "1");
  REQUIRE(lack(report, PackLack::strap));
  CHECK(rows(lack(report, PackLack::strap)->rows) == "2");
  REQUIRE(report.may_lacks.size() == 1);
  CHECK(report.may_lacks[0].lack == PackLack::strap);
  CHECK(rows(report.may_lacks[0].rows) == "1");
  std::string text = pack_text(test::packed(list, {test::own_kit}), Display{});
  CHECK(text.find("\nNOT SERVED BY ONE OF THEIR READINGS\n") != std::string::npos);
  std::replace(text.begin(), text.end(), '\n', ' ');
  CHECK(text.find("1 pipe NOT SERVED by what is at hand: 1 to load for all the same, 0 stopped. "
                  "1 pipe NOT SERVED by one of their readings.") != std::string::npos);
}

TEST_CASE("packing: a spacing that no rail takes", "[packing]") {
  const std::string kit = R"(kit={ "rails": [ { "name": "tiny", "least": "10 mm",
                                                "greatest": "60 mm", "sides": "either" } ] })";
  const PackReport report = test::packed(test::mixed_list(), {kit}).report();
  const PackLacking* rail = lack(report, PackLack::rail);
  REQUIRE(rail);
  CHECK(rows(rail->rows) == "1 2 3 5 8 9");
  CHECK(rows(report.rails[0].rows) == "4");
  CHECK(report.by_marks.count() == 0);  // this rail is made for opposite sides too
}

TEST_CASE("packing: a pair that is not in the kit, or not made for the pipe", "[packing]") {
  const std::string kit = R"(kit={ "sensors": ["demo-2mhz"] })";
  const PackReport report = test::packed({{"A", {}}}, {kit}).report();
  REQUIRE(lack(report, PackLack::pair_not_in_kit));
  REQUIRE(report.pairs.size() == 2);
  CHECK(report.pairs[0].key == "demo-2mhz");
  CHECK(report.pairs[0].rows.count() == 0);
  CHECK(report.pairs[1].rows.count() == 1);

  std::string small = test::real_pair;
  small.insert(small.rfind('}'), R"(, "pipe_range": ["20 mm", "100 mm"])");
  const PackReport outside = test::packed({{"A", {small}}}).report();
  const PackLacking* range = lack(outside, PackLack::pair_range);
  REQUIRE(range);
  CHECK(range->value.greatest == Approx(0.1683));
  CHECK_FALSE(outside.pairs[0].invented);
}

TEST_CASE("packing: couplants by surface, moisture and wall", "[packing]") {
  const auto loaded = [](const std::vector<test::ListedPipe>& list) {
    std::string out;
    for (const PackCouplant& one : test::packed(list).report().couplants) {
      if (one.load) out += one.key + " ";
    }
    return out;
  };
  // data/couplants.csv: above 120 degC the paste alone, and that not on hot austenitic steel.
  const std::string rating = R"(sensors={ "key": "hot", "frequency": "1 MHz",
    "wedge": { "sound_speed": "2430 m/s", "angle": "38 deg" }, "setback": "14 mm",
    "temperature": ["-60 degC", "250 degC"] })";
  const std::vector<std::string> hot = {rating, "fluid.temperature=150 degC",
                                        "fluid.pressure=12 bar gauge"};
  CHECK(loaded({{"hot", hot}}) == "paste-high-temperature ");
  std::vector<std::string> stainless = hot;
  stainless.push_back("pipe.material=stainless 316");
  stainless.push_back("pipe.size=NPS 6 sch 40S");
  CHECK(loaded({{"hot", stainless}}).empty());
  const PackReport none = test::packed({{"hot", stainless}}).report();
  REQUIRE(lack(none, PackLack::couplant_kind));
  CHECK_FALSE(lack(none, PackLack::couplant_range));
  // What the row names is taken, if it suits.
  CHECK(loaded({{"named", {"couplant=gel-water", "fluid.temperature=30 degC"}}}) == "gel-water ");
  const PackReport unfit =
      test::packed({{"named", {"couplant=gel-water", "fluid.temperature=90 degC"}}}).report();
  CHECK(unfit.named_unfit.count() == 1);
}

TEST_CASE("packing: gauges and aids by what rows leave open", "[packing]") {
  const auto with = [](const std::vector<std::string>& sets) {
    return test::packed({{"X", sets}}).report();
  };
  const PackReport plain = with({});
  CHECK(aid_rows(plain, PackAid::wall_gauge) == 1);
  CHECK(aid_rows(plain, PackAid::girth_tape) == 1);
  CHECK(aid_rows(plain, PackAid::calliper) == 0);
  CHECK(aid(plain, PackAid::girth_tape)->value_m.greatest == Approx(pi * 0.1683));
  for (PackAid always : {PackAid::transmitter, PackAid::rule_and_tape, PackAid::marker,
                         PackAid::torch, PackAid::cloths, PackAid::cleaner}) {
    CHECK(aid_rows(plain, always) == 1);
  }
  const PackReport measured = with({"pipe.wall=7.1 mm", "pipe.girth=528.7 mm"});
  CHECK(aid_rows(measured, PackAid::wall_gauge) == 0);
  CHECK(aid_rows(measured, PackAid::girth_tape) == 0);
  // Two readings of the wall are no measurement.
  const PackReport open = with({"pipe.wall={ \"one_of\": [\"7.11 mm\", \"10.97 mm\"] }"});
  CHECK(aid_rows(open, PackAid::wall_gauge) == 1);
  CHECK(open.load.count() == 1);
  const PackReport unknown_pressure = with({"fluid.pressure=", "fluid.temperature=95 degC"});
  CHECK(aid_rows(unknown_pressure, PackAid::pressure_gauge) == 1);
  CHECK(aid_rows(plain, PackAid::pressure_gauge) == 0);

  const PackReport lagged = with({"location.insulation=refitted", "location.surface=paint"});
  CHECK(aid_rows(lagged, PackAid::insulation_knife) == 1);
  CHECK(aid_rows(lagged, PackAid::insulation_tape) == 1);
  CHECK(aid_rows(lagged, PackAid::scraper) == 1);
  CHECK(aid_rows(lagged, PackAid::wire_brush) == 0);
  const PackReport rusty = with({"location.surface=rust", "pipe.orientation=vertical up",
                                 "location.clock=30 deg from the ladder"});
  CHECK(aid_rows(rusty, PackAid::wire_brush) == 1);
  CHECK(aid_rows(rusty, PackAid::spirit_level) == 0);
  CHECK(aid_rows(plain, PackAid::spirit_level) == 1);

  const PackReport all = test::packed(test::mixed_list()).report();
  CHECK(rows(aid(all, PackAid::wrap_strip)->rows) == "3 8");
  CHECK(rows(aid(all, PackAid::calliper)->rows) == "4");
  // The painted asbestos cement is neither scraped nor brushed.
  CHECK(rows(aid(all, PackAid::wet_cloths)->rows) == "8");
  CHECK(aid_rows(all, PackAid::scraper) == 0);
  CHECK(rows(aid(all, PackAid::wire_brush)->rows) == "2");
  CHECK(rows(all.food) == "5");
}

TEST_CASE("packing: gauges that the kit lacks", "[packing]") {
  const PackReport report = test::packed(test::mixed_list(), {test::own_kit}).report();
  CHECK(aid(report, PackAid::wall_gauge)->not_in_kit.count() ==
        aid_rows(report, PackAid::wall_gauge));
  CHECK(aid(report, PackAid::girth_tape)->not_in_kit.count() == 0);
  CHECK(aid(report, PackAid::torch)->not_in_kit.count() == 0);  // no kit lists torches
}

TEST_CASE("packing: safety by the cautions that the rows raise", "[packing]") {
  const PackReport report = test::packed(test::mixed_list()).report();
  const auto safety = [&](SafetyId id) -> const PackSafety* {
    for (const PackSafety& one : report.safety) {
      if (one.id == id) return &one;
    }
    return nullptr;
  };
  REQUIRE(safety(SafetyId::hot_surface));
  CHECK(rows(safety(SafetyId::hot_surface)->rows) == "2 4");  // 95 and 60 degC; 10 stops
  CHECK(safety(SafetyId::hot_surface)->value.greatest == Approx(95 + 273.15));
  CHECK(rows(safety(SafetyId::height)->rows) == "2");
  CHECK(rows(safety(SafetyId::asbestos_cement)->rows) == "8");
  CHECK(safety(SafetyId::permits)->rows.count() == report.load.count());
  CHECK_FALSE(safety(SafetyId::hazardous_area));
  for (const PackSafety& one : report.safety) CHECK_FALSE(pack_safety_items(one.id).empty());

  std::vector<test::ListedPipe> acids;
  for (int i = 0; i < 12; ++i) {
    acids.push_back(
        {"",
         {"fluid.name=acid " + std::string(1, static_cast<char>('a' + i)),
          "fluid.sound_speed=1500 m/s", "fluid.density=1100 kg/m3", "fluid.viscosity=1 mPa s"}});
  }
  for (const PackSafety& one : test::packed(acids).report().safety) {
    if (one.id != SafetyId::chemicals) continue;
    CHECK(one.rows.count() == 12);
    CHECK(one.subjects.size() == 8);
    CHECK(one.more_subjects);
  }
}

TEST_CASE("packing: the report doesn't depend on how the list is split", "[packing]") {
  std::vector<test::ListedPipe> list;
  for (int round = 0; round < 4; ++round) {
    for (const test::ListedPipe& one : test::mixed_list()) list.push_back(one);
  }
  for (const std::vector<std::string>& more :
       {std::vector<std::string>{}, std::vector<std::string>{test::own_kit}}) {
    const PackOptions options{.at_once = 3, .couplants = {}};
    const std::string whole = pack_json(test::packed(list, more, options), "0");
    std::mt19937 random(11);
    for (int round = 0; round < 3; ++round) {
      std::vector<Packing> workers(3, Packing(options));
      for (std::size_t i = 0; i < list.size(); ++i) {
        test::pack_row(workers[random() % 3], i + 1, list[i], more);
      }
      Packing merged(options);
      for (std::size_t i = 0; i < 3; ++i) merged.merge(workers[(i + 1) % 3]);
      CHECK(pack_json(merged, "0") == whole);
    }
  }
}

TEST_CASE("packing: a list a hundred times as long names no more rows", "[packing]") {
  const test::Planned one({});
  Packing packing;
  for (std::size_t row = 1; row <= 5000; ++row) packing.add(row, "T", one.job, one.plan);
  const PackReport report = packing.report();
  CHECK(report.load.count() == 5000);
  CHECK(report.load.examples().size() == PackRows::most_examples);
  CHECK(report.pairs.at(0).rows.count() == 5000);
}

TEST_CASE("packing: a user's couplant takes the place of the built-in one", "[packing]") {
  Catalogue catalogue;
  CouplantRecord own = *catalogue.couplant("grease").record;
  own.highest_degC = 100;
  catalogue.add(own);
  own.key = "own-paste";
  catalogue.add(own);
  const std::vector<CouplantRecord> all = couplants_of(catalogue);
  CHECK(all.size() == built_in_couplants().size() + 1);
  std::size_t grease = 0;
  for (const CouplantRecord& one : all) {
    if (one.key != "grease") continue;
    ++grease;
    CHECK(one.highest_degC == 100);
  }
  CHECK(grease == 1);
}

}  // namespace slantrule
