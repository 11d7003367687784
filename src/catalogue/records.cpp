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

namespace {

/// Longitudinal loss in dB/m at 1 MHz where only the family is known (judged; data/README).
double usual_loss_dB_m(SolidFamily family) {
  switch (family) {
    case SolidFamily::metal:
      return 20;
    case SolidFamily::glass:
      return 10;
    case SolidFamily::wedge:
      return 150;
    case SolidFamily::plastic:
    case SolidFamily::composite:
      return 300;
    case SolidFamily::cement:
      return 600;
    case SolidFamily::rubber:
      return 500;
    case SolidFamily::coating:
      return 250;
  }
  return 0;
}

/// How much more a shear wave loses than a longitudinal one (judged; see standard_loss).
double shear_to_longitudinal_loss(SolidFamily family) {
  switch (family) {
    case SolidFamily::wedge:
    case SolidFamily::plastic:
    case SolidFamily::rubber:
    case SolidFamily::coating:
      return 4;
    default:
      return 1.5;
  }
}

}  // namespace

Absorption usual_loss(SolidFamily family, WaveMode mode) {
  const double factor = mode == WaveMode::shear ? shear_to_longitudinal_loss(family) : 1;
  return {.dB_m = usual_loss_dB_m(family) * factor, .at_Hz = 1e6, .power = 1, .relative_u = 1};
}

Absorption standard_loss(const SolidRecord& row, WaveMode mode) {
  if (std::isnan(row.longitudinal_dB_m)) return usual_loss(row.family, mode);
  Absorption loss{.dB_m = row.longitudinal_dB_m,
                  .at_Hz = 1e6,
                  .power = std::isnan(row.loss_power) ? 1 : row.loss_power,
                  .relative_u = row.u_loss_percent / 100};
  if (mode == WaveMode::longitudinal) return loss;
  if (std::isnan(row.shear_dB_m)) {
    loss.dB_m *= shear_to_longitudinal_loss(row.family);
    loss.relative_u = std::max(loss.relative_u, 0.5);
  } else {
    loss.dB_m = row.shear_dB_m;
  }
  return loss;
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
