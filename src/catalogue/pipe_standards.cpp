#include "slantrule/catalogue/pipe_standards.hpp"

#include <algorithm>
#include <array>
#include <utility>

#include "slantrule/catalogue/catalogue.hpp"

namespace slantrule {

const PipeStandardRecord* find_pipe_standard(std::string_view standard) {
  const auto rows = built_in_pipe_standards();
  const auto row = std::ranges::lower_bound(rows, standard, {}, &PipeStandardRecord::standard);
  return row != rows.end() && row->standard == standard ? &*row : nullptr;
}

double mean_wall_mm(WallRule rule, double wall_mm, int dn) {
  switch (rule) {
    case WallRule::nominal:
      return wall_mm;
    case WallRule::pe_minimum:
      return 1.05 * wall_mm + 0.05;
    case WallRule::pvc_minimum:
      return wall_mm + std::max(0.06 * wall_mm, 0.25);
    case WallRule::ductile_minimum: {
      constexpr double thin_mm = 6.0;
      const double nominal_mm = wall_mm + 1.3;
      return nominal_mm > thin_mm + 1e-9 ? nominal_mm + 0.001 * dn : nominal_mm;
    }
  }
  return wall_mm;
}

double mean_wall_mm(const PipeRecord& row) {
  const PipeStandardRecord* standard = find_pipe_standard(row.standard);
  return mean_wall_mm(standard ? standard->wall_rule : WallRule::nominal, row.wall_mm, row.dn);
}

double mean_bore_mm(const PipeRecord& row) {
  return row.outside_diameter_mm - 2 * mean_wall_mm(row);
}

std::string_view pipe_family(std::string_view solid_key) {
  // By the beginning of the key; grades and evidence rows share it.
  static constexpr std::array<std::pair<std::string_view, std::string_view>, 11> families{{
      {"carbon_steel", "carbon steel"},
      {"stainless", "stainless steel"},
      {"duplex", "stainless steel"},
      {"cuni", "copper-nickel"},
      {"copper", "copper"},
      {"pvc", "PVC"},
      {"cpvc", "CPVC"},
      {"pe_pipe", "PE"},
      {"hdpe", "PE"},
      {"mdpe", "PE"},
      {"ductile_iron", "ductile iron"},
  }};
  for (const auto& [beginning, family] : families) {
    if (solid_key.starts_with(beginning)) return family;
  }
  return {};
}

std::vector<const LiningRecord*> usual_linings(std::string_view family, int dn) {
  std::vector<const LiningRecord*> found;
  // The rows of a class stand together, by rising size.
  const LiningRecord* first = nullptr;
  bool taken = false;
  for (const LiningRecord& row : built_in_linings()) {
    if (row.pipe != family) continue;
    if (!first || row.standard != first->standard || row.lining_class != first->lining_class) {
      first = &row;
      taken = dn < row.lowest_dn;
    }
    if (taken || dn > row.highest_dn) continue;
    found.push_back(&row);
    taken = true;
  }
  return found;
}

const LiningRecord* usual_lining(std::string_view family, int dn) {
  const auto linings = usual_linings(family, dn);
  const auto nominal = std::ranges::find(linings, WallKind::nominal, &LiningRecord::thickness_kind);
  return nominal == linings.end() ? nullptr : *nominal;
}

}  // namespace slantrule
