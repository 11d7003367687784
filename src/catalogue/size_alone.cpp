#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "size_answer.hpp"

/// A size without a wall: "NPS 6", "DN 100", "28 mm".

namespace slantrule {
namespace {

using Kind = SizeReading::Kind;
using SizeKind = WrittenSize::Kind;

/// A designation with a wall for this diameter.
std::string example(const SizeQuestion& q, const Diameter& diameter) {
  PipeTables::Rows rows;
  const Standard metric = q.family() == Family::copper ? Standard::en_1057 : Standard::iso_4427;
  if (diameter.row) {
    if (const auto standard = find_standard(diameter.row->standard)) {
      rows = q.tables.rows_with_outside(*standard, diameter.row->outside_diameter_mm, 0.01);
    }
  } else if (q.family() == Family::copper || q.family() == Family::pe) {
    rows = q.tables.rows_with_outside(metric, diameter.outside_mm, 0.01);
  }
  if (rows.empty()) {
    const double wall_mm = std::max(0.5, std::round(diameter.outside_mm / 20 * 2) / 2);
    return fmt::format("OD {} x {} mm", millimetres(diameter.outside_mm), millimetres(wall_mm));
  }
  for (std::string_view usual : {"40", "40S", "STD", "10S", "SDR 11", "type L", "C40"}) {
    const auto row = std::ranges::find(rows, usual, &PipeRecord::schedule);
    if (row != rows.end()) return size_text(**row);
  }
  return size_text(*rows.front());
}

Answer needs_wall(const SizeQuestion& q, const Diameter& diameter) {
  Answer answer;
  answer.reading.kind = Kind::needs_wall;
  answer.reading.outside_diameter_m = diameter.outside_mm / 1000;
  answer.own_text = diameter.text;
  std::string note;
  if (!q.parts.flange_class.empty()) note = "; the class of a flange is no schedule";
  if (q.parts.nominal_pressure) note = "; PN says nothing of the wall";
  answer.reading.message = fmt::format(
      "{} has an outside diameter of {} mm; its wall is missing: write for instance \"{}\", or "
      "add a measured wall{}",
      q.quoted(), millimetres(diameter.outside_mm), example(q, diameter), note);
  return answer;
}

Answer several(const SizeQuestion& q, const std::vector<Diameter>& all) {
  std::vector<std::string> readings;
  std::string list;
  for (const Diameter& diameter : all) {
    add_once(readings, diameter.text);
    list += fmt::format("{}{} ({} mm outside)", list.empty() ? "" : ", ", diameter.text,
                        millimetres(diameter.outside_mm));
  }
  return ambiguous(
      fmt::format("{} can mean {}; write the one that is meant, with its wall", q.quoted(), list),
      std::move(readings));
}

Answer bare_number(const SizeQuestion& q, const WrittenSize& size,
                   const std::vector<Diameter>& all) {
  std::vector<std::string> readings;
  for (const Diameter& diameter : all) {
    if (!diameter.row && diameter.unit == LengthUnit::inch) continue;
    add_once(readings, diameter.text);
  }
  // 457.2: the millimetres of a nominal size in inches.
  if (size.length.decimals > 0) {
    for (Standard standard :
         standards_for(q.family(), LabelKind::none, SizeSystem::inch, q.series())) {
      const auto rows = q.tables.rows_with_outside(standard, size.length.value,
                                                   outside_tolerance_mm(size.length));
      if (!rows.empty()) add_once(readings, q.nps_text(*rows.front()));
    }
  }
  return refused(fmt::format("{} has no unit; {}", q.quoted(), how_to_write(q.family())),
                 std::move(readings));
}

/// Rows of this outside diameter in the sizes that inches mean for the material.
PipeTables::Rows nominal_rows_near(const SizeQuestion& q, double outside_mm, double tolerance_mm) {
  for (Standard standard :
       standards_for(q.family(), LabelKind::none, SizeSystem::inch, q.series())) {
    auto rows = q.tables.rows_with_outside(standard, outside_mm, tolerance_mm);
    if (!rows.empty()) return rows;
  }
  return {};
}

/// Rows of B36.10M that have this wall as a standard one.
PipeTables::Rows walls_of(const SizeQuestion& q, double wall_mm) {
  PipeTables::Rows rows;
  if (!standards_for(q.family(), LabelKind::weight, SizeSystem::inch, q.series())
           .contains(Standard::asme_b36_10)) {
    return rows;
  }
  for (double inch : {0.5, 0.75, 1.0, 1.5, 2.0, 3.0, 4.0, 6.0, 8.0, 10.0}) {
    for (const PipeRecord* row :
         q.tables.rows_of(Standard::asme_b36_10, {SizeSystem::inch, inch})) {
      if (row->schedule == "STD" && std::fabs(row->wall_mm - wall_mm) <= same_wall_mm) {
        rows.push_back(row);
      }
    }
  }
  return rows;
}

/// A length without a mark that is no outside diameter of the tables.
std::optional<Answer> doubtful_diameter(const SizeQuestion& q, const WrittenSize& size,
                                        const std::vector<Diameter>& all) {
  const double mm = all.front().outside_mm;
  const WrittenLength& length = size.length;
  std::vector<std::string> readings{all.front().text};
  if (q.parts.tube) return std::nullopt;
  if (length.unit == LengthUnit::inch || length.fraction) {
    const auto rows = nominal_rows_near(q, mm, 0.06 + 0.0007 * mm);
    const bool written_out = length.decimals > 0;
    if (!rows.empty()) {
      if (written_out) return std::nullopt;  // 6.625 in
      readings.insert(readings.begin(), q.nps_text(*rows.front()));
      return ambiguous(fmt::format("{} is the outside diameter of {}, or that of a tube; write "
                                   "the one that is meant",
                                   q.quoted(), rows.front()->designation),
                       std::move(readings));
    }
    if (written_out && length.value >= 0.4) return std::nullopt;  // 8.6 in
    if (length.is_integer() && length.value >= 14) return std::nullopt;
    for (const PipeRecord* row : walls_of(q, mm)) add_once(readings, size_text(*row));
    if (!written_out) {  // 13/16: near the outside diameter of NPS 1/2
      for (const PipeRecord* row : nominal_rows_near(q, mm, 0.05 * mm)) {
        add_once(readings, q.nps_text(*row));
      }
    }
    return refused(fmt::format("{} is no nominal size; write \"OD {} in\" if it is an outside "
                               "diameter",
                               q.quoted(), length.number),
                   std::move(readings));
  }
  if (mm < 30 &&
      !q.tables.standard_outside(q.family(), mm, 0.5 * std::pow(10.0, -length.decimals))) {
    return refused(fmt::format("{} is no outside diameter of the tables; write \"{}\" if it is "
                               "one, or the size before a wall",
                               q.quoted(), all.front().text),
                   std::move(readings));
  }
  return std::nullopt;
}

/// A marked diameter without a unit: millimetres where the tables have it so and not in inches
/// as well; where they have neither it stays open.
/// Returns whether the unit is certain, or open between those that are left.
bool narrow_outside(const SizeQuestion& q, const WrittenSize& size, std::vector<Diameter>& all) {
  const WrittenLength& length = size.length;
  const bool metric = q.is_metric_table_outside(length);
  const bool inches = std::ranges::any_of(
      all, [](const Diameter& diameter) { return diameter.unit == LengthUnit::inch; });
  if (!inches) return metric;
  const bool written_out = length.decimals > 0;  // 76.1, 8.625: no chance hit
  if (metric && (written_out || q.is_metric_outside(length.value) || q.is_plastic())) {
    std::erase_if(all, [](const Diameter& d) { return d.unit == LengthUnit::inch; });
  } else if (!metric && written_out) {
    std::erase_if(all, [](const Diameter& d) { return d.unit != LengthUnit::inch; });
  }
  return true;
}

Answer no_such_size(const SizeQuestion& q, const WrittenSize& size) {
  const auto means = q.meanings(size);
  if (!means.empty()) {
    for (Standard standard : q.standards(LabelKind::none, means.front())) {
      return no_such_size(q, size, standard);
    }
  }
  return refused(fmt::format("{} is no nominal size{}; {}", q.quoted(), q.of_material(),
                             how_to_write(q.family())));
}

}  // namespace

Answer alone(const SizeQuestion& q, const WrittenSize& size) {
  if (q.family() == Family::other && !q.named_standard && size.kind != SizeKind::outside &&
      !(size.kind == SizeKind::number && size.length.unit != LengthUnit::none &&
        q.meanings(size).size() == 1)) {
    return not_in_tables(q, size);
  }
  std::vector<Diameter> all = q.diameters(size);
  if (q.named_standard == Standard::jis_g3452 && all.size() == 1 && all.front().row) {
    return understood(*all.front().row);  // one wall a size
  }
  const bool bare = size.kind == SizeKind::number && size.length.unit == LengthUnit::none &&
                    !size.length.fraction;
  const bool standard_decides =
      q.named_standard && all.size() == 1 &&
      (all.front().row || (standard_system(*q.named_standard) == SizeSystem::outside &&
                           q.is_metric_table_outside(size.length)));
  if (bare && !standard_decides) return bare_number(q, size, all);
  if (all.empty()) return no_such_size(q, size);
  if (size.kind == SizeKind::number && !all.front().row) {
    if (const auto doubt = doubtful_diameter(q, size, all)) return *doubt;
  }
  bool unit_is_certain = true;
  if (size.kind == SizeKind::outside && size.length.unit == LengthUnit::none) {
    unit_is_certain = narrow_outside(q, size, all);
  }
  const bool open_dn = size.kind == SizeKind::dn && q.family() == Family::unknown &&
                       !q.named_standard && !q.parts.pipe_thread;
  if (all.size() > 1 || (open_dn && inch_of_dn(size.length.value) > 0)) {
    return several(q, all);
  }
  if (!unit_is_certain) {
    return refused(fmt::format("{} has no unit; {}", q.quoted(), how_to_write(q.family())),
                   {all.front().text});
  }
  return needs_wall(q, all.front());
}

}  // namespace slantrule
