#include "pipe_identity.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "name_memory.hpp"
#include "resolve_draft.hpp"
#include "slantrule/catalogue/pipe_standards.hpp"
#include "slantrule/catalogue/size_designation.hpp"

namespace slantrule {
namespace {

/// Whether the designation of the row's standard is the diameter itself.
bool named_by_diameter(const PipeRecord& row) {
  return row.dn == 0 || row.schedule.empty();
}

std::string size_name(const PipeRecord& row) {
  return named_by_diameter(row) ? fmt::format("{} {:g} mm", row.standard, row.outside_diameter_mm)
                                : fmt::format("{} {}", row.standard, row.designation);
}

bool same_size(const PipeRecord& a, const PipeRecord& b) {
  return a.outside_diameter_mm == b.outside_diameter_mm && a.standard == b.standard &&
         a.designation == b.designation && named_by_diameter(a) == named_by_diameter(b);
}

/// Sizes of one name count as one match with the range of their bores.
void add_match(std::vector<PipeMatch>& matches, const PipeMatch& match) {
  const auto same = std::ranges::find(matches, match.size, &PipeMatch::size);
  if (same == matches.end()) {
    matches.push_back(match);
    return;
  }
  same->smallest_bore_m = std::min(same->smallest_bore_m, match.smallest_bore_m);
  same->largest_bore_m = std::max(same->largest_bore_m, match.largest_bore_m);
}

bool of_family(const PipeRecord& row, std::string_view family) {
  return family.empty() || row.material_family == family;
}

/// What one designation says of the material; empty where that is not certain.
std::string material_of_size(const std::string& size, NameMemory& names) {
  const SizeReading& reading = names.size(size, "").reading;
  const std::string& said = reading.material_family;
  const SolidRecord* plain = said.empty() ? nullptr : names.solid(said).found.record;
  // "Concrete" stands for several kinds of pipe, most of which pass no sound.
  if (!plain || said == "concrete" || reading.kind == SizeReading::Kind::not_understood) return {};
  // "CS" is carbon steel only where a row of the tables bears it out.
  if (!reading.row && has_word(folded_name(size), "cs", '_')) return {};
  for (const std::string& aside : reading.set_aside) {  // the grade: "PE100", "316L"
    const SolidRecord* grade = names.solid(aside).found.record;
    if (grade && pipe_family(grade->key) == pipe_family(plain->key)) return aside;
  }
  return said;
}

}  // namespace

std::string material_of_size(const PipeRequest& pipe, NameMemory& names) {
  if (pipe.material.given() || pipe.size.options.empty()) return {};
  std::string all;
  for (const auto& option : pipe.size.options) {
    std::string one = material_of_size(option.value, names);
    if (one.empty() || (!all.empty() && one != all)) return {};
    all = std::move(one);
  }
  return all;
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

SizesByDiameter::SizesByDiameter(std::string_view family, const Catalogue& catalogue) {
  constexpr double any = 1e9;
  std::size_t place = 0;
  const PipeRecord* before = nullptr;
  for (const PipeRecord* row : pipes_near(1, any, catalogue)) {
    ++place;
    if (!of_family(*row, family)) continue;
    const double bore_m = mean_bore_mm(*row) / 1000;
    // The tables hold the walls of a size together.
    if (before && same_size(*before, *row)) {
      PipeMatch& same = sizes_.back().match;
      same.smallest_bore_m = std::min(same.smallest_bore_m, bore_m);
      same.largest_bore_m = std::max(same.largest_bore_m, bore_m);
    } else {
      const double outside_mm = row->outside_diameter_mm;
      sizes_.push_back(
          {{size_name(*row), outside_mm / 1000, bore_m, bore_m}, outside_mm, bore_m, place});
    }
    before = row;
  }
  std::ranges::stable_sort(sizes_, {}, &Size::outside_diameter_mm);
}

std::span<const SizesByDiameter::Size> SizesByDiameter::near(double outside_diameter_m,
                                                             double relative) const {
  const double off_m = relative * outside_diameter_m;
  const auto first = std::ranges::partition_point(sizes_, [&](const Size& size) {
    return size.match.outside_diameter_m - outside_diameter_m < -off_m;
  });
  const auto last = std::partition_point(first, sizes_.end(), [&](const Size& size) {
    return size.match.outside_diameter_m - outside_diameter_m <= off_m;
  });
  return {first, last};
}

std::vector<PipeMatch> SizesByDiameter::matching(double outside_diameter_m) const {
  std::vector<const Size*> found;
  for (const Size& size : near(outside_diameter_m, same_size_tolerance)) found.push_back(&size);
  std::ranges::sort(found, {}, &Size::place);
  std::vector<PipeMatch> matches;
  matches.reserve(found.size());
  for (const Size* size : found) add_match(matches, size->match);
  std::ranges::stable_sort(matches, {}, [&](const PipeMatch& match) {
    return std::fabs(match.outside_diameter_m - outside_diameter_m);
  });
  return matches;
}

std::vector<PipeMatch> SizesByDiameter::neighbours(double outside_diameter_m) const {
  // One name for each side: standards share most diameters.
  const double diameter_mm = outside_diameter_m * 1000;
  const Size* below = nullptr;
  const Size* above = nullptr;
  for (const Size& size : near(outside_diameter_m, 0.5)) {
    const double size_mm = size.outside_diameter_mm;
    if (size_mm <= diameter_mm && (!below || size_mm > below->outside_diameter_mm)) below = &size;
    if (size_mm > diameter_mm && !above) above = &size;
  }
  std::vector<PipeMatch> neighbours;
  for (const Size* size : {below, above}) {
    if (!size) continue;
    PipeMatch match = size->match;
    match.smallest_bore_m = match.largest_bore_m = size->first_bore_m;
    add_match(neighbours, match);
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
