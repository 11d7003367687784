// Any bytes as a quantity: read or refused in one line, and what is read can be written and read
// back to the same number.

#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <optional>
#include <string_view>
#include <variant>

#include "slantrule/units/quantity.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace slantrule;
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  // Units stand in the order of their dimensions: each dimension is parsed once, and what it reads
  // is written in every unit.
  std::optional<std::variant<Reading, QuantityProblem>> parsed;
  Dimension dimension{};
  for (const UnitInfo& unit : known_units()) {
    if (!parsed || unit.dimension != dimension) {
      dimension = unit.dimension;
      parsed = parse_quantity(text, dimension);
    }
    if (const auto* problem = std::get_if<QuantityProblem>(&*parsed)) {
      if (problem->message.empty()) std::abort();
      for (const char c : problem->message) {
        if (static_cast<unsigned char>(c) < 0x20) std::abort();
      }
      continue;
    }
    const Reading& reading = std::get<Reading>(*parsed);
    if (!std::isfinite(reading.si) || !(reading.u_si >= 0)) std::abort();
    if (reading.dimension != dimension) std::abort();
    const auto again = parse_quantity(format_exact(reading.si, dimension, unit.name), dimension);
    if (!std::holds_alternative<Reading>(again)) std::abort();
    if (std::get<Reading>(again).si != reading.si) std::abort();
  }
  return 0;
}
