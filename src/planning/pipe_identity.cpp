#include "pipe_identity.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "resolve_draft.hpp"
#include "slantrule/catalogue/pipe_standards.hpp"
#include "slantrule/catalogue/size_designation.hpp"

namespace slantrule {
namespace {

/// Rows of one size of one standard count as one match with the range of their bores.
void add_row(std::vector<PipeMatch>& matches, const PipeRecord& row) {
  const double bore_m = mean_bore_mm(row) / 1000;
  // The designation of these standards is the diameter itself.
  const bool by_diameter = row.dn == 0 || row.schedule.empty();
  const std::string size = by_diameter
                               ? fmt::format("{} {:g} mm", row.standard, row.outside_diameter_mm)
                               : fmt::format("{} {}", row.standard, row.designation);
  const auto same = std::ranges::find(matches, size, &PipeMatch::size);
  if (same == matches.end()) {
    matches.push_back({size, row.outside_diameter_mm / 1000, bore_m, bore_m});
    return;
  }
  same->smallest_bore_m = std::min(same->smallest_bore_m, bore_m);
  same->largest_bore_m = std::max(same->largest_bore_m, bore_m);
}

bool of_family(const PipeRecord& row, std::string_view family) {
  return family.empty() || row.material_family == family;
}

}  // namespace

std::string material_family(const PipeRequest& pipe, const Catalogue& catalogue) {
  if (pipe.material.options.empty()) return {};
  const MaterialRequest& material = pipe.material.options.front().value;
  if (material.is_inline || !material.name.value) return {};
  const auto found = catalogue.solid(*material.name.value);
  if (!found.record) return {};
  const std::string_view family = pipe_family(found.record->key);
  return std::string(family.empty() ? found.record->key : family);
}

std::optional<double> measured_diameter_m(const PipeRequest& pipe) {
  double coating_m = 0;
  if (pipe.over_coating.value.value_or(false) && !pipe.coating.options.empty()) {
    coating_m = stated_si(pipe.coating.options.front().value.thickness).value_or(0);
  }
  if (const auto diameter_m = stated_si(pipe.outside_diameter)) return *diameter_m - 2 * coating_m;
  if (const auto girth_m = stated_si(pipe.girth)) {
    return *girth_m / std::numbers::pi - stated_si(pipe.tape_thickness).value_or(0) - 2 * coating_m;
  }
  return std::nullopt;
}

std::vector<PipeMatch> matching_sizes(double outside_diameter_m, std::string_view family,
                                      const Catalogue& catalogue) {
  std::vector<PipeMatch> matches;
  for (const PipeRecord* row : pipes_near(outside_diameter_m, same_size_tolerance, catalogue)) {
    if (of_family(*row, family)) add_row(matches, *row);
  }
  std::ranges::stable_sort(matches, {}, [&](const PipeMatch& match) {
    return std::fabs(match.outside_diameter_m - outside_diameter_m);
  });
  return matches;
}

std::vector<PipeMatch> neighbouring_sizes(double outside_diameter_m, std::string_view family,
                                          const Catalogue& catalogue) {
  const double diameter_mm = outside_diameter_m * 1000;
  double below_mm = 0, above_mm = 0;
  const auto rows = pipes_near(outside_diameter_m, 0.5, catalogue);
  for (const PipeRecord* row : rows) {
    if (!of_family(*row, family)) continue;
    const double size_mm = row->outside_diameter_mm;
    if (size_mm <= diameter_mm) below_mm = std::max(below_mm, size_mm);
    if (size_mm > diameter_mm && (above_mm == 0 || size_mm < above_mm)) above_mm = size_mm;
  }
  std::vector<PipeMatch> neighbours;
  for (const double wanted_mm : {below_mm, above_mm}) {
    // One name for each side: standards share most diameters.
    for (const PipeRecord* row : rows) {
      if (!of_family(*row, family) || row->outside_diameter_mm != wanted_mm) continue;
      add_row(neighbours, *row);
      break;
    }
  }
  return neighbours;
}

int nominal_size_mm(const PipeRecord* row, double outside_diameter_m) {
  if (row && row->dn > 0) return row->dn;
  // A pipe's outside diameter lies some 5 to 18 % above its nominal size; linings are listed in
  // wide bands.
  return static_cast<int>(std::lround(outside_diameter_m * 1000 / 1.1));
}

}  // namespace slantrule
