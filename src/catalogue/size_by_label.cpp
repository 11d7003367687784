#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <utility>

#include "size_answer.hpp"
#include "slantrule/catalogue/pipe_standards.hpp"

/// A wall by its name: "sch 40", "SDR 11", "type L", "K9".

namespace slantrule {
namespace {

using Kind = SizeReading::Kind;
using SizeKind = WrittenSize::Kind;

std::vector<std::string> texts_of(const PipeTables::Rows& rows) {
  std::vector<std::string> texts;
  for (const PipeRecord* row : rows) add_once(texts, size_text(*row));
  return texts;
}

/// "XS 80", "40 STD": the number may say the same as the name.
bool is_schedule_beside_weight(const SizeQuestion& q, const WrittenSize& size) {
  if (size.kind != SizeKind::number || size.length.unit != LengthUnit::none || q.named_standard) {
    return false;
  }
  static constexpr std::array<std::string_view, 11> schedules{"5",  "10",  "20",  "30",  "40", "60",
                                                              "80", "100", "120", "140", "160"};
  return q.parts.labels.front().kind == LabelKind::weight &&
         std::ranges::find(schedules, size.length.number) != schedules.end();
}

Answer several_rows(const SizeQuestion& q, const PipeTables::Rows& rows) {
  std::string list;
  for (const PipeRecord* row : rows) {
    list += fmt::format("{}{} ({} x {} mm)", list.empty() ? "" : ", ", size_text(*row),
                        row->outside_diameter_mm, row->wall_mm);
  }
  return ambiguous(fmt::format("{} can mean {}; write the one that is meant", q.quoted(), list),
                   texts_of(rows));
}

/// A DN, or a number that is not said to be inches.
bool may_be_dn(const WrittenSize& size) {
  if (size.kind == SizeKind::dn) return true;
  return size.kind == SizeKind::number && size.length.unit != LengthUnit::inch &&
         !size.length.fraction;
}

/// A DN of plastic pipe may stand for its metric outside diameter, too: rows of that.
void add_metric_rows(const SizeQuestion& q, const WrittenSize& size, PipeTables::Rows& rows) {
  if (inch_of_dn(size.length.mm()) == 0) return;
  if (size.kind == SizeKind::number && q.is_metric_outside(size.length.mm())) return;
  const WrittenLabel& label = q.parts.labels.front();
  const double outside_mm = metric_plastic_outside_mm(size.length.mm());
  for (const PipeRecord* row : q.tables.rows_with_outside(Standard::iso_4427, outside_mm, 0.01)) {
    if (has_label(*row, label.kind, label.text)) rows.push_back(row);
  }
}

/// PVC pipe by its ratio: the least wall is e = d / SDR, planned with is the mean.
std::string pvc_dimensions(double outside_mm, const WrittenLabel& label) {
  const double least_mm = outside_mm / designation_number(label.text);
  return fmt::format("OD {} x {:.1f} mm", outside_mm,
                     mean_wall_mm(WallRule::pvc_minimum, least_mm, 0));
}

/// The tables have no metric PVC pipe: its dimensions are offered. A DN counts its outside
/// diameter, or the size below that; nullopt where it can be neither.
std::optional<Answer> metric_and_ratio_of_pvc(const SizeQuestion& q, const WrittenSize& size,
                                              const PipeTables::Rows& rows) {
  const double mm = size.length.mm();
  std::vector<std::string> readings = texts_of(rows);
  const auto offer = [&](double outside_mm) {
    if (!q.tables.rows_with_outside(Standard::iso_4427, outside_mm, 0.01).empty()) {
      add_once(readings, pvc_dimensions(outside_mm, q.parts.labels.front()));
    }
  };
  const std::size_t inch_readings = readings.size();
  offer(mm);
  const double above_mm = metric_plastic_outside_mm(mm);
  const bool open = size.kind == SizeKind::dn || readings.size() == inch_readings;
  if (open && inch_of_dn(mm) > 0 && above_mm < 1.4 * mm) offer(above_mm);  // DN 15 has 20 mm
  if (readings.size() == inch_readings) return std::nullopt;
  std::string message = fmt::format("{} can mean {}; write the one that is meant", q.quoted(),
                                    fmt::join(readings, ", "));
  return ambiguous(std::move(message), std::move(readings));
}

/// Whether the wall that is written out goes with the ratio: SDR = d / e.
bool agrees_with_ratio(const SizeQuestion& q, const WrittenSize& size, const WrittenLabel& label) {
  if (label.kind != LabelKind::ratio || !q.parts.wall || size.is_nominal()) return false;
  const double ratio = designation_number(label.text);
  return std::fabs(size.length.mm() / q.parts.wall->mm() / ratio - 1) < 0.04;
}

/// Both a name and a measure of the wall: they must agree.
Answer label_and_wall(const SizeQuestion& q, const WrittenSize& size,
                      const PipeTables::Rows& hits) {
  for (const PipeRecord* row : hits) {
    for (LengthUnit unit : {LengthUnit::millimetre, LengthUnit::inch}) {
      if (q.parts.wall->unit != LengthUnit::none && q.parts.wall->unit != unit) continue;
      const double wall_mm = q.parts.wall->mm(unit);
      if (std::fabs(wall_mm - row->wall_mm) > std::max(0.1, 0.02 * row->wall_mm)) continue;
      // Written out beside a ratio, the dimensions fit pipe of other plastics as well.
      if (q.family() != Family::pe && row->material_family == "PE" && !q.named_standard) {
        return dimensions(row->outside_diameter_mm, wall_mm);
      }
      return understood(*row);
    }
  }
  std::vector<std::string> readings = texts_of(hits);
  SizeQuestion measured = q;
  measured.parts.labels.clear();
  measured.parts.pipe = true;
  add_readings(readings, by_wall(measured, size));
  return ambiguous(fmt::format("{}: the wall and its name differ, {} mm belongs to {}; leave "
                               "out what does not hold",
                               q.quoted(), hits.front()->wall_mm, size_text(*hits.front())),
                   std::move(readings));
}

std::string label_text(const WrittenLabel& label) {
  switch (label.kind) {
    case LabelKind::schedule:
    case LabelKind::stainless_schedule:
      return "sch " + label.text;
    case LabelKind::ratio:
      return "SDR " + label.text;
    case LabelKind::thickness_class:
      return "thickness " + label.text;
    default:
      return label.text;
  }
}

std::string schedule_text(const PipeRecord& row) {
  return (is_digit(row.schedule.front()) ? "sch " : "") + std::string(row.schedule);
}

/// PVC of a metric outside diameter by its ratio, SDR = d / e.
double metric_ratio_outside_mm(const SizeQuestion& q, const WrittenSize& size,
                               const WrittenLabel& label) {
  if (label.kind != LabelKind::ratio || q.family() != Family::pvc || !size.length.is_integer()) {
    return 0;
  }
  const double mm = size.length.mm();
  return q.tables.rows_with_outside(Standard::iso_4427, mm, 0.01).empty() ? 0 : mm;
}

/// What a name would mean for the materials that have it.
std::vector<std::string> other_material_readings(const SizeQuestion& q, const WrittenSize& size,
                                                 const WrittenLabel& label) {
  std::vector<std::string> readings;
  if (q.given.family != Family::unknown || q.parts.material.family != Family::unknown) {
    const double outside_mm = metric_ratio_outside_mm(q, size, label);
    if (outside_mm > 0) readings.push_back(pvc_dimensions(outside_mm, label));
    return readings;
  }
  SizeQuestion iron = q;
  iron.material = {Family::ductile_iron, "ductile iron"};
  for (const PipeRecord* row : iron.rows_labelled(size, label)) {
    add_once(readings, size_text(*row));
  }
  return readings;
}

Answer no_such_label(const SizeQuestion& q, const WrittenSize& size, const WrittenLabel& label) {
  // The size with the walls that there are: of the label's own standards, else of the material's.
  PipeTables::Rows rows;
  bool has_standards = false;
  Standard first{};
  const auto gather = [&](LabelKind kind) {
    for (const Meaning& meaning : q.meanings(size)) {
      for (Standard standard : q.standards(kind, meaning)) {
        if (!has_standards) first = standard;
        has_standards = true;
        for (const PipeRecord* row : q.rows_for(standard, size, meaning)) rows.push_back(row);
      }
    }
  };
  gather(label.kind);
  const bool label_is_known = has_standards;
  if (rows.empty()) gather(LabelKind::none);
  const std::string what = label_text(label);
  if (rows.empty()) {
    if (q.family() == Family::other) return not_in_tables(q, size);
    if (has_standards && label_is_known) return no_such_size(q, size, first);
    return refused(fmt::format("{}: {} is not in the tables{}; write outside diameter and wall",
                               q.quoted(), what, q.of_material()),
                   other_material_readings(q, size, label));
  }
  // Rows of one size stand together; the message names those of the first.
  std::string list;
  std::vector<std::string> readings;
  for (const PipeRecord* row : rows) {
    const auto standard = find_standard(row->standard);
    const bool fits = !standard || may_be_made_to(*standard, q.family());
    add_once(readings, fits ? size_text(*row) : std::string(row->designation));
    if (!row->schedule.empty() && row->standard == rows.front()->standard) {
      list += (list.empty() ? "" : ", ") + schedule_text(*row);
    }
  }
  if (list.empty()) {
    return refused(fmt::format("{}: {} names no walls; write outside diameter and wall", q.quoted(),
                               rows.front()->standard),
                   std::move(readings));
  }
  return refused(fmt::format("{}: {} has no {}; it has {}", q.quoted(), nominal_text(*rows.front()),
                             what, list),
                 std::move(readings));
}

/// "Ø 6" sch 40": people mark nominal sizes as diameters. Both are offered, unless "OD"
/// stands before the diameter of a row, or one pipe is both.
std::optional<Answer> marked_nominal(const SizeQuestion& q, const WrittenSize& size) {
  if (size.kind != SizeKind::outside || !is_whole_inches(size)) return std::nullopt;
  WrittenSize measured = size;
  measured.diameter_sign = false;
  const PipeTables::Rows rows = q.rows_labelled(measured, q.parts.labels.front());
  if (!rows.empty() && !size.diameter_sign) return std::nullopt;
  WrittenSize nominal = size;
  nominal.kind = SizeKind::nps;
  std::vector<std::string> readings;
  add_readings(readings, by_label(q, nominal));
  if (rows.empty()) add_once(readings, plain_diameter(size, q.meanings(measured).front()).text);
  for (const PipeRecord* row : rows) add_once(readings, size_text(*row));
  if (readings.size() == 1) return by_label(q, nominal);
  std::string message =
      fmt::format("{} can be the nominal size or the diameter: {}; write the one that is meant",
                  q.quoted(), fmt::join(readings, ", "));
  return ambiguous(std::move(message), std::move(readings));
}

}  // namespace

Answer by_label(const SizeQuestion& q, const WrittenSize& size) {
  if (auto answer = marked_nominal(q, size)) return std::move(*answer);
  PipeTables::Rows hits;
  for (const WrittenLabel& label : q.parts.labels) {
    PipeTables::Rows rows = q.rows_labelled(size, label);
    const bool metric_pvc = metric_ratio_outside_mm(q, size, label) > 0 && may_be_dn(size);
    if ((rows.empty() || metric_pvc) && agrees_with_ratio(q, size, label)) {
      SizeQuestion written_out = q;
      written_out.parts.labels.clear();
      WrittenSize outside = size;
      if (metric_pvc) {  // the ratio confirms that it is a diameter
        outside.kind = SizeKind::outside;
        if (outside.length.unit == LengthUnit::none) outside.length.unit = LengthUnit::millimetre;
      }
      return by_wall(written_out, outside);
    }
    if (rows.empty()) return no_such_label(q, size, label);
    if (hits.empty()) {
      hits = std::move(rows);
      continue;
    }
    PipeTables::Rows both = hits;
    std::erase_if(both, [&](const PipeRecord* hit) {
      return std::ranges::none_of(
          rows, [&](const PipeRecord* row) { return same_dimensions(*hit, *row); });
    });
    if (both.empty()) {
      return ambiguous(
          fmt::format("{}: these names stand for different walls, {} and {} mm; say which",
                      q.quoted(), hits.front()->wall_mm, rows.front()->wall_mm),
          {size_text(*hits.front()), size_text(*rows.front())});
    }
    hits = std::move(both);
  }
  if (q.parts.wall) return label_and_wall(q, size, hits);
  if (is_schedule_beside_weight(q, size)) {
    return refused(fmt::format("{}: is \"{}\" a schedule or a size? Write NPS or DN before a size",
                               q.quoted(), size.length.number),
                   texts_of(hits));
  }
  if (may_be_dn(size) && q.has_ratio() && !q.named_standard) {
    if (q.family() == Family::pvc || q.family() == Family::cpvc) {
      if (auto answer = metric_and_ratio_of_pvc(q, size, hits)) return std::move(*answer);
    } else {
      add_metric_rows(q, size, hits);
    }
  }
  return hits.size() > 1 ? several_rows(q, hits) : understood(*hits.front());
}

}  // namespace slantrule
