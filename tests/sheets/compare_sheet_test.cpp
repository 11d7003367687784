#include "slantrule/sheets/compare_sheet.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <sstream>

#include "planning/test_jobs.hpp"
#include "slantrule/sheets/text_layout.hpp"

namespace slantrule {
namespace {

Comparison sample() {
  return compare(test::job_of({"path.traverses=", "tag=T-1"}));
}

}  // namespace

TEST_CASE("compare sheet: at most 80 columns, best first, what is impossible below", "[sheets]") {
  const std::string text = compare_text(sample(), {});
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    CAPTURE(line);
    CHECK(columns(line) <= sheet_columns);
  }
  CHECK(text.find("T-1") != std::string::npos);
  CHECK(text.find("  1  bench pair") < text.find("  2  bench pair"));
  CHECK(text.find("NOT POSSIBLE") > text.find("  2  bench pair"));
  CHECK(text.find("longitudinal wave, any count") != std::string::npos);
}

TEST_CASE("compare sheet: JSON holds every option with the keys of the contract", "[sheets]") {
  const Comparison all = sample();
  const auto json = nlohmann::json::parse(compare_json(all, "0"));
  REQUIRE(json["options"].size() == all.size());
  for (std::size_t i = 0; i < all.size(); ++i) {
    const auto& one = json["options"][i];
    CHECK(one["rank"] == i + 1);
    for (const char* key : {"traverses", "wall_mode", "sensors", "feasible", "why"}) {
      CHECK(one.contains(key));
    }
    CHECK(one["feasible"] == all[i]->feasible);
    if (!all[i]->feasible) continue;
    CHECK(one["path"]["mark_spacing_mm"] ==
          Approx(all[i]->plan.path->ray.mark_spacing_m * 1e3).epsilon(1e-12));
    CHECK(one["signal"]["loss_dB"] == Approx(*all[i]->plan.merit.loss_dB).epsilon(1e-12));
    CHECK(one["signal"].contains("window_3dB_mm"));
  }
}

}  // namespace slantrule
