#include "slantrule/catalogue/records.hpp"

#include <algorithm>
#include <cmath>

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

std::string_view wall_rule_name(WallRule rule) {
  switch (rule) {
    case WallRule::nominal:
      return "nominal";
    case WallRule::pe_minimum:
      return "pe_minimum";
    case WallRule::pvc_minimum:
      return "pvc_minimum";
    case WallRule::ductile_minimum:
      return "ductile_minimum";
  }
  return {};
}

bool has_word(std::string_view list, std::string_view word, char separator) {
  while (!list.empty()) {
    const std::size_t end = std::min(list.find(separator), list.size());
    if (list.substr(0, end) == word) return true;
    list.remove_prefix(std::min(end + 1, list.size()));
  }
  return false;
}

double standard_u_longitudinal_m_s(const SolidRecord& row) {
  constexpr double usual_relative = 0.02;
  return std::isnan(row.u_longitudinal_m_s) ? usual_relative * row.longitudinal_m_s
                                            : row.u_longitudinal_m_s;
}

double standard_u_shear_m_s(const SolidRecord& row) {
  const bool stiff = row.family == SolidFamily::metal || row.family == SolidFamily::glass;
  const double relative = standard_u_longitudinal_m_s(row) / row.longitudinal_m_s;
  return (stiff ? 1 : 2) * relative * row.shear_m_s;
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
