// Any bytes as a pipe size and as a liquid: understood, or refused in one line that shows; what it
// could mean can be read in its turn; whatever is understood is a pipe with a bore.

#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "slantrule/catalogue/liquid_designation.hpp"
#include "slantrule/catalogue/size_designation.hpp"

namespace {

using namespace slantrule;

void require(bool holds) {
  if (!holds) std::abort();
}

void require_one_line(std::string_view message) {
  require(!message.empty());
  for (const char c : message) require(static_cast<unsigned char>(c) >= 0x20);
}

void read_as_size(std::string_view text, std::string_view family, const Catalogue& catalogue) {
  const SizeReading size = read_size(text, family, catalogue);
  if (size.kind == SizeReading::Kind::understood) {
    require(size.wall_m > 0 && 2 * size.wall_m < size.outside_diameter_m);
  } else {
    require_one_line(size.message);
  }
  if (size.kind == SizeReading::Kind::needs_wall) require(size.outside_diameter_m > 0);
  if (size.kind == SizeReading::Kind::ambiguous) require(!size.readings.empty());
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const Catalogue catalogue;
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  for (const std::string_view family :
       {"", "carbon steel", "PVC", "PE", "copper", "ductile iron"}) {
    read_as_size(text, family, catalogue);
  }
  const LiquidReading liquid = read_liquid(text, catalogue);
  if (liquid.kind == LiquidReading::Kind::understood) {
    require(liquid.record != nullptr);
    for (const double strength : liquid.strengths) require(strength > 0 && strength < 1);
  } else {
    require_one_line(liquid.message);
  }
  return 0;
}
