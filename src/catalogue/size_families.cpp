#include "size_families.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <utility>

#include "size_text.hpp"
#include "slantrule/catalogue/catalogue.hpp"

namespace slantrule {
namespace {

struct StandardInfo {
  std::string_view name;
  Family family;
  SizeSystem system;
};

constexpr std::array<StandardInfo, standard_count> standards{{
    {"ASME B36.10M", Family::carbon_steel, SizeSystem::inch},
    {"ASME B36.19M", Family::stainless, SizeSystem::inch},
    {"ASTM B42", Family::copper, SizeSystem::inch},
    {"ASTM B466", Family::copper_nickel, SizeSystem::inch},
    {"ASTM B88", Family::copper, SizeSystem::inch},
    {"ASTM D1785", Family::pvc, SizeSystem::inch},
    {"ASTM D2241", Family::pvc, SizeSystem::inch},
    {"ASTM F441", Family::cpvc, SizeSystem::inch},
    {"ASTM F714", Family::pe, SizeSystem::inch},
    {"AWWA C151", Family::ductile_iron, SizeSystem::inch},
    {"AWWA C900", Family::pvc, SizeSystem::inch},
    {"AWWA C905", Family::pvc, SizeSystem::inch},
    {"EN 10220", Family::carbon_steel, SizeSystem::outside},
    {"EN 10255", Family::carbon_steel, SizeSystem::dn},
    {"EN 1057", Family::copper, SizeSystem::outside},
    {"EN 545", Family::ductile_iron, SizeSystem::dn},
    {"ISO 2531", Family::ductile_iron, SizeSystem::dn},
    {"ISO 4427", Family::pe, SizeSystem::outside},
    {"JIS G 3452", Family::carbon_steel, SizeSystem::japanese},
    {"JIS G 3454", Family::carbon_steel, SizeSystem::japanese},
}};
static_assert(std::ranges::is_sorted(standards, {}, &StandardInfo::name));

const StandardInfo& info(Standard standard) {
  return standards[static_cast<std::size_t>(standard)];
}

/// The built-in rows of each standard; the table is sorted by standard and outside diameter.
std::span<const PipeRecord> built_in_rows(Standard standard) {
  static const auto all = [] {
    std::array<std::span<const PipeRecord>, standard_count> spans;
    const auto rows = built_in_pipes();
    for (std::size_t i = 0; i < standard_count; ++i) {
      const auto part =
          std::ranges::equal_range(rows, standards[i].name, {}, &PipeRecord::standard);
      spans[i] = {part.begin(), part.end()};
    }
    return spans;
  }();
  return all[static_cast<std::size_t>(standard)];
}

double outside_of(const PipeRecord& row) {
  return row.outside_diameter_mm;
}
double number_of(const PipeRecord& row) {
  return designation_number(row.designation);
}

double dn_of(const PipeRecord& row) {
  return row.dn;
}

constexpr double same_number = 1e-6;

/// The DN of the sizes whose DN is not 25 times the inches.
constexpr std::array<std::pair<int, double>, 13> small_sizes{{{6, 0.125},
                                                              {8, 0.25},
                                                              {10, 0.375},
                                                              {15, 0.5},
                                                              {20, 0.75},
                                                              {25, 1},
                                                              {32, 1.25},
                                                              {40, 1.5},
                                                              {50, 2},
                                                              {65, 2.5},
                                                              {80, 3},
                                                              {90, 3.5},
                                                              {100, 4}}};

double value_of(std::string_view digits) {
  double value = 0;
  std::from_chars(digits.data(), digits.data() + digits.size(), value);
  return value;
}

/// "SDR 11" -> 11.
double ratio_of(std::string_view schedule) {
  const std::size_t at = schedule.find("DR ");
  return at == std::string_view::npos ? 0 : value_of(schedule.substr(at + 3));
}

}  // namespace

std::string_view standard_name(Standard standard) {
  return info(standard).name;
}

std::optional<Standard> find_standard(std::string_view name) {
  const auto found = std::ranges::lower_bound(standards, name, {}, &StandardInfo::name);
  if (found == standards.end() || found->name != name) return std::nullopt;
  return static_cast<Standard>(found - standards.begin());
}

Family standard_family(Standard standard) {
  return info(standard).family;
}

SizeSystem standard_system(Standard standard) {
  return info(standard).system;
}

double inch_of_dn(double dn) {
  for (const auto& [small_dn, inch] : small_sizes) {
    if (small_dn == dn) return inch;
  }
  return dn >= 125 && std::fmod(dn, 25) == 0 ? dn / 25 : 0;
}

int dn_of_inch(double inch) {
  for (const auto& [dn, small_inch] : small_sizes) {
    if (std::fabs(small_inch - inch) < same_number) return dn;
  }
  return inch >= 5 && inch < 1000 && std::floor(inch) == inch ? static_cast<int>(inch) * 25 : 0;
}

bool StandardList::contains(Standard standard) const {
  return std::find(begin(), end(), standard) != end();
}

StandardList standards_for(Family family, LabelKind label, SizeSystem system,
                           DiameterSeries series) {
  using enum Standard;
  const bool unknown = family == Family::unknown;
  const bool carbon = unknown || family == Family::steel || family == Family::carbon_steel;
  const bool steel = carbon || family == Family::stainless;
  const bool iron = unknown || family == Family::ductile_iron;
  const bool cast_iron_series = series == DiameterSeries::cast_iron;
  const bool iron_pipe_series = series == DiameterSeries::iron_pipe;
  if (system == SizeSystem::japanese) {
    if (!steel) return {};
    switch (label) {
      case LabelKind::none:
        return {jis_g3452, jis_g3454};
      case LabelKind::schedule:
        return carbon ? StandardList{jis_g3454} : StandardList{};
      default:
        return {};
    }
  }
  const bool metric = system != SizeSystem::inch;
  switch (label) {
    case LabelKind::none:
      switch (family) {
        case Family::unknown:
        case Family::steel:
        case Family::carbon_steel:
          if (unknown && cast_iron_series) return {awwa_c900, awwa_c905};
          return metric ? StandardList{asme_b36_10, en_10220} : StandardList{asme_b36_10};
        case Family::stainless:
          return metric ? StandardList{asme_b36_19, asme_b36_10, en_10220}
                        : StandardList{asme_b36_19, asme_b36_10};
        case Family::copper:
          return {astm_b88, astm_b42};
        case Family::copper_nickel:
          return {astm_b466};
        case Family::pvc:
          if (iron_pipe_series) return {astm_d1785};
          if (cast_iron_series) return {awwa_c900, awwa_c905};
          return {astm_d1785, awwa_c900, awwa_c905};
        case Family::cpvc:
          return {astm_f441};
        case Family::pe:
          if (cast_iron_series) return {};
          return metric ? StandardList{iso_4427, astm_f714} : StandardList{astm_f714};
        case Family::ductile_iron:
          return metric ? StandardList{en_545, iso_2531} : StandardList{awwa_c151};
        case Family::other:
          break;
      }
      return {};
    case LabelKind::schedule:
      if (steel) return {asme_b36_10};
      // Pipe with the outside diameters of cast iron goes by its ratio.
      if (family == Family::pvc && !cast_iron_series) return {astm_d1785};
      return family == Family::cpvc ? StandardList{astm_f441} : StandardList{};
    case LabelKind::stainless_schedule:
      return steel ? StandardList{asme_b36_19} : StandardList{};
    case LabelKind::weight:
      if (steel) return {asme_b36_10};
      if (family == Family::copper) return {astm_b42};
      return family == Family::copper_nickel ? StandardList{astm_b466} : StandardList{};
    case LabelKind::threaded_weight:
      return carbon ? StandardList{en_10255} : StandardList{};
    case LabelKind::copper_type:
      return unknown || family == Family::copper ? StandardList{astm_b88} : StandardList{};
    case LabelKind::copper_weight:
      if (unknown) return {astm_b42, astm_b466};
      if (family == Family::copper) return {astm_b42};
      return family == Family::copper_nickel ? StandardList{astm_b466} : StandardList{};
    case LabelKind::ratio:
      if (system == SizeSystem::outside) {
        return unknown || family == Family::pe ? StandardList{iso_4427} : StandardList{};
      }
      switch (family) {
        case Family::unknown:
          if (iron_pipe_series) return {astm_f714, astm_d2241};
          if (cast_iron_series) return {awwa_c900, awwa_c905};
          return metric ? StandardList{iso_4427, astm_f714, astm_d2241}
                        : StandardList{astm_f714, astm_d2241, awwa_c900, awwa_c905};
        case Family::pe:
          if (cast_iron_series) return {};
          return metric ? StandardList{iso_4427, astm_f714} : StandardList{astm_f714};
        case Family::pvc:
          if (iron_pipe_series) return {astm_d2241};
          if (cast_iron_series) return {awwa_c900, awwa_c905};
          return {astm_d2241, awwa_c900, awwa_c905};
        default:
          return {};
      }
    case LabelKind::pressure_class:
    case LabelKind::thickness_class:
      return iron ? StandardList{awwa_c151} : StandardList{};
    case LabelKind::k_class:
      return iron ? StandardList{iso_2531} : StandardList{};
    case LabelKind::c_class:
      return iron ? StandardList{en_545} : StandardList{};
  }
  return {};
}

bool may_be_made_to(Standard standard, Family family) {
  const Family own = standard_family(standard);
  if (family == Family::unknown || family == Family::other || family == own) return true;
  const bool steel = family == Family::carbon_steel || family == Family::stainless;
  return steel && (standard == Standard::asme_b36_10 || standard == Standard::asme_b36_19 ||
                   standard == Standard::en_10220);
}
bool same_pipe(const PipeRecord& a, const PipeRecord& b) {
  return a.standard == b.standard && a.designation == b.designation && a.schedule == b.schedule &&
         (!a.schedule.empty() || a.wall_mm == b.wall_mm);
}

/// The rows of a standard whose key, which grows along the table, lies in [from, to].
PipeTables::Rows PipeTables::gather(Standard standard, double from, double to,
                                    double (*key)(const PipeRecord&)) const {
  Rows rows;
  for (const PipeRecord& row : user_rows_) {
    const double k = key(row);
    if (row.standard == standard_name(standard) && k >= from && k <= to) rows.push_back(&row);
  }
  const std::size_t own = rows.size();
  const auto table = built_in_rows(standard);
  auto row = std::ranges::lower_bound(table, from, {}, key);
  for (; row != table.end() && key(*row) <= to; ++row) {
    const bool replaced =
        std::any_of(rows.begin(), rows.begin() + static_cast<std::ptrdiff_t>(own),
                    [&](const PipeRecord* user) { return same_pipe(*user, *row); });
    if (!replaced) rows.push_back(&*row);
  }
  return rows;
}

PipeTables::Rows PipeTables::rows_of(Standard standard, SystemSize size) const {
  if (size.system == SizeSystem::outside) {
    return rows_with_outside(standard, size.number, same_number);
  }
  double number = size.number;
  switch (standard_system(standard)) {
    case SizeSystem::inch:
      if (size.system != SizeSystem::inch) number = inch_of_dn(number);
      break;
    case SizeSystem::dn:
    case SizeSystem::japanese:
      if (size.system == SizeSystem::inch) number = dn_of_inch(number);
      break;
    case SizeSystem::outside:
      if (size.system == SizeSystem::inch) return {};
      if (standard == Standard::en_10220) {
        // Steel tube goes by its DN too; its outside diameter lies a little above that.
        Rows rows = gather(standard, number, 1.25 * number + 10, outside_of);
        std::erase_if(rows, [&](const PipeRecord* row) { return row->dn != number; });
        return rows;
      }
      break;
  }
  if (!(number > 0)) return {};
  return gather(standard, number - same_number, number + same_number, number_of);
}

PipeTables::Rows PipeTables::rows_with_outside(Standard standard, double outside_mm,
                                               double tolerance_mm) const {
  return gather(standard, outside_mm - tolerance_mm, outside_mm + tolerance_mm, outside_of);
}

const PipeRecord* PipeTables::standard_outside(Family family, double outside_mm,
                                               double tolerance_mm) const {
  const bool any_family =
      family == Family::unknown || family == Family::steel || family == Family::other;
  const bool plastic = family == Family::pvc || family == Family::cpvc || family == Family::pe;
  const bool is_steel = family == Family::carbon_steel || family == Family::stainless;
  for (std::size_t i = 0; i < standard_count; ++i) {
    const Family of = standards[i].family;
    const bool fits = any_family || of == family ||
                      (plastic && static_cast<Standard>(i) == Standard::iso_4427) ||
                      (is_steel && (of == Family::carbon_steel || of == Family::stainless));
    if (!fits) continue;
    const auto rows = rows_with_outside(static_cast<Standard>(i), outside_mm, tolerance_mm);
    if (!rows.empty()) return rows.front();
  }
  return nullptr;
}

PipeTables::Rows PipeTables::neighbours(Standard standard, SystemSize size) const {
  const bool converted = size.system != standard_system(standard);
  const double wanted = converted && size.system == SizeSystem::inch
                            ? std::max<double>(dn_of_inch(size.number), 25 * size.number)
                            : size.number;
  const auto table = built_in_rows(standard);
  const auto key = converted ? dn_of : number_of;
  const auto same = std::ranges::lower_bound(table, wanted, {}, key);
  const auto above = std::ranges::upper_bound(table, wanted, {}, key);
  Rows rows;
  if (same != above) rows.push_back(&*same);
  if (same != table.begin()) rows.push_back(&*(same - 1));
  if (above != table.end()) rows.push_back(&*above);
  return rows;
}

double designation_number(std::string_view designation) {
  std::size_t at = 0;
  const auto digit = [&] { return at < designation.size() && is_digit(designation[at]); };
  const auto sign = [&](char c) { return at < designation.size() && designation[at] == c; };
  const auto whole = [&] {
    double value = 0;
    for (; digit(); ++at) value = 10 * value + (designation[at] - '0');
    return value;
  };
  while (at < designation.size() && !digit()) ++at;
  double number = whole();
  if (sign('/')) {  // 1/2
    ++at;
    return number / std::max(1.0, whole());
  }
  if (sign('.')) {  // 168.3
    ++at;
    const std::size_t from = at;
    const double decimals = whole();
    return number + decimals / std::pow(10.0, static_cast<double>(at - from));
  }
  if (sign('-')) {  // 1-1/2
    ++at;
    const double above = whole();
    if (sign('/')) {
      ++at;
      number += above / std::max(1.0, whole());
    }
  }
  return number;
}

double metric_plastic_outside_mm(double dn) {
  for (const PipeRecord& row : built_in_rows(Standard::iso_4427)) {
    if (row.outside_diameter_mm > 1.01 * dn) return row.outside_diameter_mm;
  }
  return 0;
}

bool has_label(const PipeRecord& row, LabelKind kind, std::string_view label) {
  if (kind == LabelKind::ratio) {
    const double stated = value_of(label), ratio = ratio_of(row.schedule);
    return ratio > 0 && std::fabs(stated / ratio - 1) < 0.017;
  }
  return row.schedule == label ||
         (kind == LabelKind::weight && label == "XS" && row.schedule == "extra strong");
}

std::string nominal_text(const PipeRecord& row) {
  const auto standard = find_standard(row.standard);
  const bool by_outside = standard && standard_system(*standard) == SizeSystem::outside;
  return by_outside && row.dn > 0 ? fmt::format("{} DN {}", row.standard, row.dn)
                                  : fmt::format("{} {}", row.standard, row.designation);
}

}  // namespace slantrule
