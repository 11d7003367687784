// A mutation loop for builds without libFuzzer: `TARGET --seconds N FOLDER` starts from the files
// of FOLDER and a few short texts, and changes them at random from a fixed seed. A failed check or
// a sanitizer report aborts, and the input stands in ./crash-input.

#include <chrono>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <random>
#include <sstream>
#include <string>
#include <vector>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

namespace {

std::string mutated(std::string text, const std::vector<std::string>& seeds, std::mt19937_64& rng) {
  const auto below = [&](std::size_t n) { return n == 0 ? 0 : rng() % n; };
  for (std::size_t changes = 1 + below(4); changes > 0; --changes) {
    const std::size_t at = below(text.size() + 1);
    switch (below(6)) {
      case 0:
        text.insert(at, 1, static_cast<char>(below(256)));
        break;
      case 1:
        text.erase(at, 1 + below(8));
        break;
      case 2:
        if (at < text.size()) text[at] = static_cast<char>(text[at] ^ (1 << below(8)));
        break;
      case 3: {
        const std::string& other = seeds[below(seeds.size())];
        const std::size_t from = below(other.size());
        text.insert(at, other.substr(from, 1 + below(40)));
        break;
      }
      case 4: {
        static constexpr const char* words[] = {"1e400", "NaN",  "\"unknown\"", "-",    "0",
                                                "{",     "[",    "one_of",      "null", "\xC3\xA9",
                                                "deg",   "+- 1", "\x1b[31m",    ",",    "\""};
        text.insert(at, words[below(std::size(words))]);
        break;
      }
      default:
        if (!text.empty()) text.insert(at, text.substr(below(text.size()), 1 + below(20)));
    }
  }
  return text.substr(0, 20000);
}

}  // namespace

int main(int argc, char** argv) {
  int seconds = 3;
  std::vector<std::string> seeds = {"7.11 mm +- 0.15 mm", "6 5/8 in", "5' 6 1/2\"", "20 degC",
                                    "4 bar gauge",        "60 m3/h",  "30 % mass",  "{}"};
  for (int i = 1; i < argc; ++i) {
    const std::string argument = argv[i];
    if (argument == "--seconds" && i + 1 < argc) {
      seconds = std::atoi(argv[++i]);
      continue;
    }
    for (const auto& file : std::filesystem::directory_iterator(argument)) {
      if (!file.is_regular_file()) continue;
      std::ifstream in(file.path(), std::ios::binary);
      std::stringstream text;
      text << in.rdbuf();
      seeds.push_back(text.str());
    }
  }
  std::mt19937_64 rng(20240601);
  const auto end = std::chrono::steady_clock::now() + std::chrono::seconds(seconds);
  long runs = 0;
  while (std::chrono::steady_clock::now() < end) {
    const std::string text = mutated(seeds[rng() % seeds.size()], seeds, rng);
    std::ofstream("crash-input", std::ios::binary) << text;
    LLVMFuzzerTestOneInput(reinterpret_cast<const std::uint8_t*>(text.data()), text.size());
    ++runs;
  }
  std::remove("crash-input");
  std::printf("%ld inputs, no fault\n", runs);
  return runs > 0 ? 0 : 1;
}
