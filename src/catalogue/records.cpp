#include "slantrule/catalogue/records.hpp"

namespace slantrule {

std::string_view confidence_name(Confidence confidence) {
  switch (confidence) {
    case Confidence::published:
      return "published";
    case Confidence::computed:
      return "computed";
    case Confidence::memory:
      return "memory";
    case Confidence::common_practice:
      return "common practice";
    case Confidence::proposal:
      return "proposal";
    case Confidence::invented:
      return "invented";
  }
  return {};
}

std::string_view solid_family_name(SolidFamily family) {
  switch (family) {
    case SolidFamily::metal:
      return "metal";
    case SolidFamily::plastic:
      return "plastic";
    case SolidFamily::wedge:
      return "wedge";
    case SolidFamily::glass:
      return "glass";
    case SolidFamily::composite:
      return "composite";
    case SolidFamily::cement:
      return "cement";
    case SolidFamily::rubber:
      return "rubber";
    case SolidFamily::coating:
      return "coating";
  }
  return {};
}

}  // namespace slantrule
