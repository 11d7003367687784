// Any bytes as a quantity: read or refused in one line, and what is read can be written and read
// back to the same number.

#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "slantrule/units/quantity.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace slantrule;
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  // A tenth of the units a time, another tenth for each length of text: refusals search all names.
  const auto& units = known_units();
  for (std::size_t i = size % 10; i < units.size(); i += 10) {
    const UnitInfo& unit = units[i];
    const auto parsed = parse_quantity(text, unit.dimension);
    if (const auto* problem = std::get_if<QuantityProblem>(&parsed)) {
      if (problem->message.empty()) std::abort();
      for (const char c : problem->message) {
        if (static_cast<unsigned char>(c) < 0x20) std::abort();
      }
      continue;
    }
    const Reading& reading = std::get<Reading>(parsed);
    if (!std::isfinite(reading.si) || !(reading.u_si >= 0)) std::abort();
    if (reading.dimension != unit.dimension) std::abort();
    const auto again =
        parse_quantity(format_exact(reading.si, unit.dimension, unit.name), unit.dimension);
    if (!std::holds_alternative<Reading>(again)) std::abort();
    if (std::get<Reading>(again).si != reading.si) std::abort();
  }
  return 0;
}
