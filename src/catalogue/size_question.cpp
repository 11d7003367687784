#include "size_question.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "slantrule/units/suggest.hpp"

namespace slantrule {
namespace {

using SizeKind = WrittenSize::Kind;

/// Half of the last digit that was written.
double half_digit_mm(const WrittenLength& length) {
  const double digit = std::pow(10.0, -length.decimals);
  return 0.5 * (length.unit == LengthUnit::inch ? 25.4 * digit : digit);
}

/// The largest nominal size in inches that anyone means by a bare number.
constexpr double largest_nps = 72;

}  // namespace

std::string millimetres(double length_mm) {
  return fmt::format("{:.6g}", length_mm);
}

SizeQuestion::SizeQuestion(std::string_view text, SizeParts text_parts,
                           std::string_view material_family, const PipeTables& pipe_tables)
    : written(text),
      parts(std::move(text_parts)),
      tables(pipe_tables),
      given(material_of(material_family)) {
  if (!parts.standard.empty()) named_standard = find_standard(parts.standard);
  // "PVC C900": PVC pipe with the outside diameters of cast iron.
  if (given.family == Family::pvc && !parts.iron_pipe_sizes) {
    const std::string named = folded_name(material_family);
    if (named.find("c900") != named.npos || named.find("c905") != named.npos) {
      parts.cast_iron_sizes = true;
    }
  }
  use_material();
  sort_labels();
}

/// The stated material, else what the words or the standard say.
void SizeQuestion::use_material() {
  material = given;
  if (material.family == Family::unknown) material = parts.material;
  if (material.family == Family::unknown && parts.standard_family != Family::unknown) {
    material = {parts.standard_family, family_name(parts.standard_family)};
  }
  if (material.family == Family::steel) material.family = Family::carbon_steel;
}

/// A class is one of ductile iron, or of a flange and no part of the size.
void SizeQuestion::sort_labels() {
  const bool iron = given.family == Family::ductile_iron ||
                    parts.material.family == Family::ductile_iron ||
                    parts.standard == standard_name(Standard::awwa_c151);
  const bool pvc = family() == Family::pvc;
  static constexpr std::array<std::string_view, 5> iron_classes{"150", "200", "250", "300", "350"};
  for (WrittenLabel& label : parts.labels) {  // ductile iron has classes and no schedules
    if (iron && label.kind == LabelKind::schedule &&
        std::ranges::find(iron_classes, label.text) != iron_classes.end()) {
      label = {LabelKind::pressure_class, "class " + label.text, {}};
    }
  }
  std::erase_if(parts.labels, [&](WrittenLabel& label) {
    if (label.kind != LabelKind::pressure_class) return false;
    const std::string number = label.text.substr(label.text.find(' ') + 1);
    if (!iron && !pvc && is_flange_class(number)) {
      parts.flange_class = number;
      parts.set_aside.push_back(label.written);
      return true;
    }
    const bool inches = std::ranges::any_of(parts.sizes, [](const WrittenSize& size) {
      return size.kind == SizeKind::nps || size.length.unit == LengthUnit::inch;
    });
    if (number.size() == 2 && number >= "50" && number <= "56" && (inches || number > "50")) {
      label.kind = LabelKind::thickness_class;
    } else if (number.size() == 2 || number == "100") {  // EN 545: "Class 40"
      label = {LabelKind::c_class, "C" + number, {}};
    }
    return false;
  });
}

bool SizeQuestion::is_plastic() const {
  return family() == Family::pvc || family() == Family::cpvc || family() == Family::pe;
}

DiameterSeries SizeQuestion::series() const {
  if (parts.iron_pipe_sizes) return DiameterSeries::iron_pipe;
  return parts.cast_iron_sizes ? DiameterSeries::cast_iron : DiameterSeries::not_said;
}

bool SizeQuestion::has_ratio() const {
  return std::ranges::any_of(
      parts.labels, [](const WrittenLabel& label) { return label.kind == LabelKind::ratio; });
}

std::string SizeQuestion::quoted() const {
  return "\"" + shown(written) + "\"";
}

std::string SizeQuestion::of_material() const {
  return material.name.empty() ? "" : fmt::format(" of {} pipe", shown(material.name));
}

std::string_view SizeQuestion::said_material() const {
  if (parts.material.family == Family::steel && given.family == Family::stainless) {
    return given.name;
  }
  return parts.material.name.empty() ? family_name(parts.standard_family) : parts.material.name;
}

bool SizeQuestion::is_metric_outside(double mm) const {
  const bool metric = family() == Family::copper || family() == Family::pe ||
                      (family() == Family::unknown && has_ratio());
  if (!metric) return false;
  const Standard standard = family() == Family::copper ? Standard::en_1057 : Standard::iso_4427;
  return !tables.rows_with_outside(standard, mm, 0.01).empty();
}

bool SizeQuestion::is_metric_table_outside(const WrittenLength& length) const {
  // Metal pipe has more diameters than the tables have walls for: EN 10220 series 2 and 3, GOST
  // 10704 (from memory).
  static constexpr std::array<double, 29> further_mm{
      44.5, 51,    57,    63.5,  70,  76,  82.5, 89,  101.6, 102, 108, 127,  133,  140, 152.4,
      159,  177.8, 193.7, 244.5, 325, 377, 426,  530, 630,   720, 820, 1020, 1220, 1420};
  // Stainless tube: ISO 1127, ISO 2037, DIN 11850 (from memory).
  static constexpr std::array<double, 41> stainless_mm{
      6,  8,  10,  12,  14,  16,   18,  19,  20,   22,  23,   25,   25.4, 28,
      29, 30, 34,  35,  38,  38.1, 40,  41,  50.8, 52,  53,   54,   73,   76.1,
      84, 85, 104, 129, 154, 204,  254, 256, 304,  306, 31.8, 63.5, 101.6};
  const bool metal = !is_plastic() && family() != Family::copper;
  const auto is_length = [&](double mm) { return std::fabs(mm - length.value) < 0.01; };
  if (family() == Family::stainless && std::ranges::any_of(stainless_mm, is_length)) return true;
  if (metal && std::ranges::any_of(further_mm, is_length)) return true;
  const double tolerance_mm =
      length.is_integer() && length.value < 100 ? 0.01 : half_digit_mm(length) + 1e-9;
  return tables.standard_outside(family(), length.value, tolerance_mm) != nullptr;
}

/// Inches that are nominal, whatever else they could be.
bool SizeQuestion::inches_are_nominal() const {
  switch (family()) {
    case Family::pvc:
    case Family::cpvc:
    case Family::pe:
    case Family::ductile_iron:
    case Family::copper_nickel:
      return true;
    default:
      break;
  }
  if (named_standard && standard_system(*named_standard) == SizeSystem::inch) return true;
  return parts.pipe || parts.pipe_thread || parts.taper_thread || !parts.labels.empty() ||
         !parts.flange_class.empty() || parts.nominal_pressure || parts.iron_pipe_sizes;
}

/// Whether a number without a unit can be an outside diameter in inches: one of the tables, or
/// any with a wall in inches.
bool SizeQuestion::is_inch_outside(double inch) const {
  if (inch > 100) return false;
  return (parts.wall && parts.wall->unit == LengthUnit::inch) ||
         tables.standard_outside(family(), 25.4 * inch, 0.06 + 0.02 * inch) != nullptr;
}

std::vector<Meaning> SizeQuestion::meanings(const WrittenSize& size) const {
  const double value = size.length.value;
  const LengthUnit unit = size.length.unit;
  const bool inches = unit == LengthUnit::inch || size.length.fraction;
  const Meaning inch{{SizeSystem::inch, value}, LengthUnit::inch};
  const Meaning dn{{SizeSystem::dn, size.length.mm()}, LengthUnit::millimetre};
  const Meaning outside{{SizeSystem::outside, size.length.mm()},
                        unit == LengthUnit::none ? LengthUnit::millimetre : unit};
  std::vector<Meaning> all;
  switch (size.kind) {
    case SizeKind::nps:
      return {inch};
    case SizeKind::dn:
      if (size.may_be_outside) return {dn, outside};
      return {dn};
    case SizeKind::japanese_a:
      return {{{SizeSystem::japanese, value}, LengthUnit::millimetre}};
    case SizeKind::japanese_b:
      return {{{SizeSystem::japanese, static_cast<double>(dn_of_inch(value))}, LengthUnit::inch}};
    case SizeKind::nominal:
      if (inches) return {inch};
      if (unit != LengthUnit::none) return {dn};
      if (dn_of_inch(value) > 0 && value <= largest_nps) all.push_back(inch);
      if (inch_of_dn(value) > 0) all.push_back(dn);
      return all;
    case SizeKind::outside:
      // "8\" dia" is said of nominal sizes as well; "OD 8 in" is not.
      if (size.diameter_sign && is_whole_inches(size)) all.push_back(inch);
      all.push_back(outside);
      if (unit == LengthUnit::none && is_inch_outside(value)) {
        all.push_back({{SizeSystem::outside, 25.4 * value}, LengthUnit::inch});
      }
      return all;
    case SizeKind::inside:
      return {};
    case SizeKind::number:
      break;
  }
  if (inches) return inch_meanings(size);
  if (unit == LengthUnit::none) return bare_meanings(size);
  if (parts.tube) return {outside};
  if (inch_of_dn(dn.size.number) > 0) {  // 150 mm
    const bool dn_standard = named_standard && standard_system(*named_standard) == SizeSystem::dn;
    if (family() == Family::ductile_iron || dn_standard) return {dn};
    if (!is_metric_outside(dn.size.number)) all.push_back(dn);
  }
  all.push_back(outside);
  return all;
}

std::vector<Meaning> SizeQuestion::inch_meanings(const WrittenSize& size) const {
  const double value = size.length.value;
  std::vector<Meaning> all;
  const bool is_nominal = dn_of_inch(value) > 0 || named_standard == Standard::astm_b88;
  // Steel pipe goes by its nominal size; with a wall it may be a tube.
  const bool steel_alone =
      (given.family == Family::carbon_steel || given.family == Family::stainless) && !parts.wall &&
      parts.sizes.size() == 1;
  if (is_nominal && (!parts.tube || family() == Family::copper)) {
    all.push_back({{SizeSystem::inch, value}, LengthUnit::inch});
    if (steel_alone || inches_are_nominal()) return all;
  }
  all.push_back({{SizeSystem::outside, 25.4 * value}, LengthUnit::inch});
  return all;
}

/// A number without unit and mark: inches, DN or a diameter, unless the standard counts its sizes
/// in one way.
std::vector<Meaning> SizeQuestion::bare_meanings(const WrittenSize& size) const {
  const double value = size.length.value;
  const Meaning inch{{SizeSystem::inch, value}, LengthUnit::inch};
  const Meaning dn{{SizeSystem::dn, value}, LengthUnit::millimetre};
  const Meaning outside{{SizeSystem::outside, value}, LengthUnit::millimetre};
  std::vector<Meaning> all;
  if (named_standard) {
    switch (standard_system(*named_standard)) {
      case SizeSystem::inch: {
        const bool both =
            named_standard == Standard::asme_b36_10 || named_standard == Standard::asme_b36_19;
        const bool eighths = std::fmod(8 * value, 1) == 0;
        if (value <= largest_nps && eighths) all.push_back(inch);
        if ((all.empty() || both) && inch_of_dn(value) > 0) all.push_back(dn);
        if (all.empty()) all.push_back(outside);
        return all;
      }
      case SizeSystem::dn:
        return {dn};
      case SizeSystem::japanese:
        return {{{SizeSystem::japanese, value}, LengthUnit::millimetre}};
      case SizeSystem::outside:
        return {outside};
    }
  }
  const bool is_inch = dn_of_inch(value) > 0 && value <= largest_nps;
  const bool metric_outside = is_metric_outside(value);
  // "PE 32 SDR 11" is metric; with inches people write DR, and the sign.
  const bool metric_ratio = metric_outside && family() == Family::pe && !parts.ratio_is_dr;
  if (is_inch && !metric_ratio) all.push_back(inch);
  if (inch_of_dn(value) > 0 && !metric_outside) all.push_back(dn);
  all.push_back(outside);
  const bool named_wall = is_inch && !parts.labels.empty();
  const bool metric_wall =
      parts.wall && parts.wall->unit != LengthUnit::none && parts.wall->unit != LengthUnit::inch;
  if (!metric_outside && !metric_wall && !named_wall && is_inch_outside(value)) {
    all.push_back({{SizeSystem::outside, 25.4 * value}, LengthUnit::inch});
  }
  return all;
}

StandardList SizeQuestion::standards(LabelKind label, const Meaning& meaning) const {
  if (named_standard) {
    // Later editions of C900 hold the sizes of C905, earlier ones of EN 545 the class K9.
    if (named_standard == Standard::awwa_c900) return {Standard::awwa_c900, Standard::awwa_c905};
    if (named_standard == Standard::en_545 && label == LabelKind::k_class) {
      return {Standard::iso_2531};
    }
    return {*named_standard};
  }
  if (label == LabelKind::none && parts.pipe_thread && !is_plastic()) return {Standard::en_10255};
  const bool copper_tube =
      parts.tube && family() == Family::copper && meaning.size.system == SizeSystem::inch;
  if (label == LabelKind::none && copper_tube) return {Standard::astm_b88};
  // "300 mm" of ductile iron can be the inch sizes as well.
  const bool iron_mm = family() == Family::ductile_iron && label == LabelKind::none &&
                       std::ranges::none_of(parts.sizes, [](const WrittenSize& size) {
                         return size.kind == SizeKind::dn;
                       });
  if (iron_mm && meaning.size.system == SizeSystem::dn) {
    return {Standard::en_545, Standard::iso_2531, Standard::awwa_c151};
  }
  return standards_for(family(), label, meaning.size.system, series());
}

std::vector<Diameter> SizeQuestion::diameters(const WrittenSize& size) const {
  std::vector<Diameter> all;
  const auto add = [&](Diameter diameter) {
    const bool known = std::ranges::any_of(all, [&](const Diameter& other) {
      return std::fabs(other.outside_mm - diameter.outside_mm) <=
             std::max(same_diameter_mm, 0.001 * other.outside_mm);
    });
    if (!known && diameter.outside_mm <= largest_mm) all.push_back(std::move(diameter));
  };
  for (const Meaning& meaning : meanings(size)) {
    if (meaning.size.system == SizeSystem::outside) {
      add(plain_diameter(size, meaning));
      continue;
    }
    for (Standard standard : standards(LabelKind::none, meaning)) {
      const auto rows = tables.rows_of(standard, meaning.size);
      if (rows.empty()) continue;
      add({rows.front()->outside_diameter_mm, rows.front(), size_name(*rows.front(), meaning),
           meaning.unit});
    }
    if (size.kind == SizeKind::dn && !named_standard) {
      for (Diameter& diameter : unsaid_materials(meaning.size.number)) add(std::move(diameter));
    }
  }
  return all;
}

/// A nominal size as the text counts it: "NPS 6", "ASME B36.10M DN 150", "65A".
std::string SizeQuestion::size_name(const PipeRecord& row, const Meaning& meaning) const {
  switch (meaning.size.system) {
    case SizeSystem::inch:
      return nps_text(row);
    case SizeSystem::dn:
      if (row.dn == meaning.size.number) return fmt::format("{} DN {}", row.standard, row.dn);
      break;
    case SizeSystem::japanese:
      if (!named_standard) return std::string(row.designation);
      break;
    case SizeSystem::outside:
      break;
  }
  return nominal_text(row);
}

/// A DN without a material is used for iron and plastic pipe as well; plastic pipe has metric
/// outside diameters or those of other pipe.
std::vector<Diameter> SizeQuestion::unsaid_materials(double dn) const {
  const bool open = family() == Family::unknown && !parts.pipe_thread;
  if (!open && !is_plastic()) return {};
  std::vector<Diameter> all;
  const auto add_outside = [&](double mm) {
    all.push_back({mm, nullptr, fmt::format("OD {} mm", mm), LengthUnit::millimetre});
  };
  if (open) {
    for (const PipeRecord* row : tables.rows_of(Standard::iso_2531, {SizeSystem::dn, dn})) {
      all.push_back({row->outside_diameter_mm, row, nominal_text(*row), LengthUnit::millimetre});
    }
  } else if (!tables.rows_with_outside(Standard::iso_4427, dn, 0.01).empty()) {
    add_outside(dn);
  }
  const double metric_mm = metric_plastic_outside_mm(dn);
  if (metric_mm > 0 && inch_of_dn(dn) > 0) add_outside(metric_mm);
  return all;
}

PipeTables::Rows SizeQuestion::rows_for(Standard standard, const WrittenSize& size,
                                        const Meaning& meaning) const {
  return meaning.size.system == SizeSystem::outside
             ? tables.rows_with_outside(standard, meaning.size.number,
                                        outside_tolerance_mm(size.length))
             : tables.rows_of(standard, meaning.size);
}

PipeTables::Rows SizeQuestion::rows_labelled(const WrittenSize& size,
                                             const WrittenLabel& label) const {
  PipeTables::Rows hits;
  for (const Meaning& meaning : meanings(size)) {
    for (Standard standard : standards(label.kind, meaning)) {
      for (const PipeRecord* row : rows_for(standard, size, meaning)) {
        if (!has_label(*row, label.kind, label.text)) continue;
        const bool known = std::ranges::any_of(
            hits, [&](const PipeRecord* hit) { return same_dimensions(*hit, *row); });
        if (!known) hits.push_back(row);
      }
    }
  }
  return hits;
}

std::string SizeQuestion::nps_text(const PipeRecord& row) const {
  const bool implied = row.standard.starts_with("ASME") && family() != Family::other &&
                       !is_plastic() && !named_standard;
  return implied ? std::string(row.designation) : nominal_text(row);
}

Diameter plain_diameter(const WrittenSize& size, const Meaning& meaning) {
  const bool inches = meaning.unit == LengthUnit::inch;
  return {meaning.size.number, nullptr,
          inches ? fmt::format("OD {} in", size.length.number)
                 : fmt::format("OD {} mm", millimetres(meaning.size.number)),
          meaning.unit};
}

bool is_whole_inches(const WrittenSize& size) {
  return size.length.unit == LengthUnit::inch && size.length.decimals == 0 &&
         dn_of_inch(size.length.value) > 0;
}

double outside_tolerance_mm(const WrittenLength& length) {
  const double rounding_mm = 0.06 + 0.0007 * length.mm();
  const bool inches = length.unit == LengthUnit::inch || length.fraction;
  if (length.mm() < 100 || (inches && length.decimals == 0)) return rounding_mm;
  const double largest = std::max(1.0, 0.003 * length.mm());  // sizes lie farther apart
  return std::max(rounding_mm, std::min(half_digit_mm(length), largest));
}

bool same_dimensions(const PipeRecord& a, const PipeRecord& b) {
  return std::fabs(a.outside_diameter_mm - b.outside_diameter_mm) <= same_diameter_mm &&
         std::fabs(a.wall_mm - b.wall_mm) <= same_wall_mm &&
         (a.material_family == b.material_family ||
          (a.material_family.ends_with("steel") && b.material_family.ends_with("steel")));
}

}  // namespace slantrule
