#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "run.hpp"

namespace slantrule::test {

TEST_CASE("cli compare: a table, or one JSON object; exit 1 when nothing is possible") {
  const Folder folder;
  const Outcome text = run_slantrule(folder, {"compare", "examples/kit-and-places.json"});
  CHECK(text.code == 0);
  CHECK(text.err.empty());
  CHECK(text.out.find("WAYS TO MEASURE") == 0);
  CHECK(text.out.find("north corridor") != std::string::npos);

  const Outcome json =
      run_slantrule(folder, {"compare", "examples/chilled-water.json", "--format", "json"});
  CHECK(json.code == 0);
  const auto object = nlohmann::json::parse(json.out);
  CHECK(object["tag"] == "CHW-R-02");
  CHECK(object["options"].size() > 12);
  CHECK(object["options"][0]["feasible"] == true);

  const Outcome none = run_slantrule(
      folder, {"compare", "examples/chilled-water.json", "--set", "location.clock=12"});
  CHECK(none.code == 1);
  CHECK(none.out.find("No way is possible") != std::string::npos);
}

TEST_CASE("cli compare: open candidates are refused with what to do") {
  const Folder folder;
  const Outcome open = run_slantrule(folder, {"compare", "examples/wall-unknown.json"});
  CHECK(open.code == 1);
  CHECK(open.out.empty());
  CHECK(open.err.find("candidates are open") != std::string::npos);
}

TEST_CASE("cli plan: --signal full adds the whole model, alike whatever is left of the machine") {
  const Folder folder;
  const Args args{"plan", "examples/copper-tube.json", "--signal", "full", "--format", "json"};
  const Outcome first = run_slantrule(folder, args), second = run_slantrule(folder, args);
  CHECK(first.err.empty());  // no progress where nobody watches
  CHECK(first.out == second.out);
  const auto signal = nlohmann::json::parse(first.out)["signal"];
  CHECK(signal["response"]["curve"].size() > 100);
  const Outcome plain =
      run_slantrule(folder, {"plan", "examples/copper-tube.json", "--format", "json"});
  CHECK_FALSE(nlohmann::json::parse(plain.out)["signal"].contains("response"));
}

TEST_CASE("cli plan: a kit file lies beside the job, and what is wrong with it is told") {
  const Folder folder;
  const Outcome good =
      run_slantrule(folder, {"plan", "examples/chilled-water.json", "--set", "kit=own-kit.json"});
  CHECK(good.code == 0);
  CHECK(good.out.find("short rail") != std::string::npos);
  write(folder / "examples/bad-kit.json",
        R"({ "rails": [ { "name": "r", "greatest": "300" } ], "strapz": [] })");
  const Outcome bad =
      run_slantrule(folder, {"plan", "examples/chilled-water.json", "--set", "kit=bad-kit.json"});
  CHECK(bad.code == 2);
  CHECK(bad.err.find("kit.rails[0].greatest") != std::string::npos);
  CHECK(bad.err.find("straps") != std::string::npos);
}

}  // namespace slantrule::test
