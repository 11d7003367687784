#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <utility>

#include "size_answer.hpp"

/// A wall by its measure: "168.3 x 7.11 mm", "6\" x .280".

namespace slantrule {
namespace {

using Kind = SizeReading::Kind;
using SizeKind = WrittenSize::Kind;

/// Walls that tube is drawn to: sixteenths of an inch, and Birmingham wire gauge 1 to 20 (from
/// memory). Light pipe schedules share some of them.
bool is_tube_wall(double wall_mm) {
  static constexpr std::array<double, 20> gauges_inch{
      0.300, 0.284, 0.259, 0.238, 0.220, 0.203, 0.180, 0.165, 0.148, 0.134,
      0.120, 0.109, 0.095, 0.083, 0.072, 0.065, 0.058, 0.049, 0.042, 0.035};
  const double inch = wall_mm / 25.4;
  const double sixteenths = inch * 16;
  return std::fabs(sixteenths - std::round(sixteenths)) < 0.02 ||
         std::ranges::any_of(gauges_inch,
                             [&](double gauge) { return std::fabs(inch - gauge) < 6e-4; });
}

bool is_plausible_wall(double wall_mm, double outside_mm) {
  return wall_mm >= outside_mm / 250 && wall_mm <= outside_mm / 4;
}

/// A diameter with a wall.
struct Option {
  Diameter diameter;
  double wall_mm = 0;
  const PipeRecord* row = nullptr;  ///< a row of just this wall
  bool certain = false;             ///< the tables have it, so that a unit may be supplied
  std::string text;
};

/// The units that a wall may have beside this diameter.
std::vector<LengthUnit> wall_units(const SizeQuestion& q, const WrittenSize& size,
                                   const Diameter& diameter) {
  if (q.parts.wall->unit != LengthUnit::none) return {q.parts.wall->unit};
  const bool size_has_mm = size.length.unit != LengthUnit::none &&
                           size.length.unit != LengthUnit::inch &&
                           (size.kind == SizeKind::number || size.kind == SizeKind::outside);
  if (size_has_mm) return {LengthUnit::millimetre};  // one unit serves both
  if (!diameter.row && diameter.unit == LengthUnit::inch && size.length.unit == LengthUnit::inch) {
    const double as_inch_mm = q.parts.wall->mm(LengthUnit::inch);
    if (2 * as_inch_mm < diameter.outside_mm) return {LengthUnit::inch};
    return {LengthUnit::millimetre};  // 6" x 7.11
  }
  if (!diameter.row) return {diameter.unit};
  return {LengthUnit::millimetre, LengthUnit::inch};
}

/// A row of the diameter with just this wall. Not for least walls: these are taken as written.
const PipeRecord* row_with_wall(const SizeQuestion& q, const Diameter& diameter, double wall_mm) {
  PipeTables::Rows rows;
  double tolerance_mm = same_wall_mm;
  if (diameter.row) {
    const auto standard = find_standard(diameter.row->standard);
    if (standard) {
      rows = q.tables.rows_with_outside(*standard, diameter.row->outside_diameter_mm, 0.01);
    }
  } else {
    tolerance_mm = 0.006;
    if (q.named_standard) {
      rows = q.tables.rows_with_outside(*q.named_standard, diameter.outside_mm, 0.06);
    } else if (q.family() == Family::copper) {
      rows = q.tables.rows_with_outside(Standard::en_1057, diameter.outside_mm, 0.01);
    }
  }
  const auto found = std::ranges::find_if(rows, [&](const PipeRecord* row) {
    return std::fabs(row->wall_mm - wall_mm) <= tolerance_mm &&
           (q.named_standard || row->wall_kind == WallKind::nominal);
  });
  return found == rows.end() ? nullptr : *found;
}

/// A row of B36.10M in inches, with walls to the thousandth.
bool is_inch_row(const SizeQuestion& q, double outside_mm, double wall_mm) {
  const auto rows =
      q.tables.rows_with_outside(Standard::asme_b36_10, outside_mm, 0.06 + 0.0007 * outside_mm);
  return std::ranges::any_of(rows, [&](const PipeRecord* row) {
    return std::fabs(row->wall_mm - wall_mm) <= same_wall_mm;
  });
}

/// Whether the tables confirm units that the text does not give.
bool is_certain(const SizeQuestion& q, const WrittenSize& size, const Option& option) {
  if (option.diameter.row) return option.row != nullptr;
  if (option.diameter.unit == LengthUnit::inch) {
    return is_inch_row(q, option.diameter.outside_mm, option.wall_mm);
  }
  if (q.named_standard) return true;
  return q.is_metric_table_outside(size.length);
}

std::vector<Option> options(const SizeQuestion& q, const WrittenSize& size) {
  const bool no_unit = q.parts.wall->unit == LengthUnit::none;
  const bool bare = size.length.unit == LengthUnit::none && !q.named_standard &&
                    (size.kind == SizeKind::number || size.kind == SizeKind::outside);
  std::vector<Option> all;
  for (const Diameter& diameter : q.diameters(size)) {
    for (LengthUnit unit : wall_units(q, size, diameter)) {
      Option option{diameter, q.parts.wall->mm(unit), nullptr, false, {}};
      if (!(option.wall_mm > 0) || 2 * option.wall_mm >= diameter.outside_mm) continue;
      const bool supplied = no_unit ? (diameter.row != nullptr || bare) : bare;
      option.row = row_with_wall(q, diameter, option.wall_mm);
      if (supplied && !option.row && !is_plausible_wall(option.wall_mm, diameter.outside_mm)) {
        continue;
      }
      option.certain = !(no_unit && bare) || is_certain(q, size, option);
      const auto standard = diameter.row ? find_standard(diameter.row->standard) : std::nullopt;
      const bool by_size = standard && standard_system(*standard) != SizeSystem::outside;
      option.text = by_size ? fmt::format("{} x {} mm", diameter.text, millimetres(option.wall_mm))
                            : fmt::format("OD {} x {} mm", millimetres(diameter.outside_mm),
                                          millimetres(option.wall_mm));
      all.push_back(std::move(option));
    }
  }
  return all;
}

LengthUnit size_unit_of_second(const SizeQuestion& q, const WrittenSize& size) {
  return size.kind == SizeKind::dn ? q.parts.wall->unit : size.length.unit;
}

bool has_wall_mm(const SizeQuestion& q, const WrittenSize& size, double wall_mm) {
  const auto all = q.diameters(size);
  return std::ranges::any_of(all, [&](const Diameter& diameter) {
    return diameter.row && row_with_wall(q, diameter, wall_mm);
  });
}

Answer alone_without_wall(const SizeQuestion& q, const WrittenSize& size) {
  SizeQuestion other = q;
  other.parts.wall.reset();
  return alone(other, size);
}

Answer no_wall_fits(const SizeQuestion& q, const WrittenSize& size) {
  const auto all = q.diameters(size);
  const WrittenLength& wall = *q.parts.wall;
  if (all.empty()) return alone_without_wall(q, size);
  const double wall_mm =
      wall.mm(all.front().unit == LengthUnit::inch ? LengthUnit::inch : LengthUnit::millimetre);
  const double outside_mm = all.front().outside_mm;
  std::vector<std::string> readings;
  if (2 * std::max(outside_mm, size.length.mm()) < wall_mm && wall_mm <= largest_mm &&
      size.length.unit != LengthUnit::inch) {  // the order is wrong
    readings.push_back(
        fmt::format("OD {} x {} mm", millimetres(wall_mm), millimetres(size.length.mm())));
  }
  for (const Diameter& diameter : all) add_once(readings, diameter.text);
  if (!(wall.value > 0)) {
    return refused(q.quoted() + ": a wall must be above 0", std::move(readings));
  }
  return refused(fmt::format("{}: a wall of {} mm leaves no bore in an outside diameter of {} "
                             "mm, or is no wall of such a pipe; is a decimal point missing, or "
                             "the order wrong?",
                             q.quoted(), millimetres(wall_mm), millimetres(outside_mm)),
                 std::move(readings));
}

/// Drops the options that the tables and habits of writing speak against.
void keep_likely(const SizeQuestion& q, const WrittenSize& size, std::vector<Option>& all) {
  const auto is_inch = [](const Option& option) {
    return option.diameter.unit == LengthUnit::inch;
  };
  const auto any_certain = [&](bool inch) {
    return std::ranges::any_of(
        all, [&](const Option& option) { return option.certain && is_inch(option) == inch; });
  };
  // Inches that are a row of the tables, to the thousandth: 6.625 x .280.
  if (any_certain(true) && !any_certain(false)) {
    std::erase_if(all, [](const Option& option) { return !option.certain; });
  }
  // "Ø" and a decimal comma go with millimetres, unless the inches are a row of the tables.
  const bool metric_habit = size.diameter_sign || size.length.comma || q.parts.wall->comma;
  if (metric_habit && size.length.unit == LengthUnit::none && any_certain(false)) {
    std::erase_if(all, [&](const Option& option) { return is_inch(option) && !option.certain; });
  }
  // Stainless tube, 28 x 1: no pipe of NPS 28 has a wall of 1 in.
  if (q.family() == Family::stainless && any_certain(false)) {
    std::erase_if(all, [&](const Option& option) {
      const bool inch_wall = q.parts.wall->unit == LengthUnit::none &&
                             option.wall_mm == q.parts.wall->mm(LengthUnit::inch);
      return is_inch(option) && inch_wall && !option.row &&
             !is_inch_row(q, option.diameter.outside_mm, option.wall_mm);
    });
  }
  // 6" x .280: a wall that NPS 6 pipe has, and tube does not.
  const bool inches = size.kind == SizeKind::number && size.length.unit == LengthUnit::inch;
  if (all.size() > 1 && inches && !q.parts.tube) {
    const auto is_pipe_wall = [](const Option& option) {
      return option.row && option.diameter.row && !is_tube_wall(option.wall_mm);
    };
    if (std::ranges::count_if(all, is_pipe_wall) == 1)
      std::erase_if(all, std::not_fn(is_pipe_wall));
  }
}

/// The only option that is left.
Answer settled(const SizeQuestion& q, const Option& option) {
  if (!option.certain) {
    return refused(
        fmt::format("{} has no unit; write \"{}\" if that is meant", q.quoted(), option.text),
        {option.text});
  }
  if (option.row && option.diameter.row) return understood(*option.row);
  // EN 10220 pairs any diameter with any wall; beside a nominal size the wall is a measured one.
  if (q.named_standard && q.named_standard != Standard::en_10220 && !option.diameter.row &&
      !option.row) {
    return refused(
        fmt::format("{}: {} has no pipe of {} x {} mm; leave the standard out if these "
                    "are measured",
                    q.quoted(), standard_name(*q.named_standard),
                    millimetres(option.diameter.outside_mm), millimetres(option.wall_mm)),
        {option.text});
  }
  Answer answer =
      option.row ? understood(*option.row) : dimensions(option.diameter.outside_mm, option.wall_mm);
  answer.reading.outside_diameter_m = option.diameter.outside_mm / 1000;
  answer.own_text = option.text;
  return answer;
}

}  // namespace

bool is_second_size(const SizeQuestion& q, const WrittenSize& size) {
  const WrittenLength& wall = *q.parts.wall;
  if (q.parts.wall_marked || size.kind == SizeKind::outside) return false;
  const bool size_inch =
      size.length.unit == LengthUnit::inch || size.length.fraction || size.kind == SizeKind::nps;
  const bool wall_inch = wall.unit == LengthUnit::inch || wall.fraction;
  if (size_inch && wall_inch && dn_of_inch(wall.value) > 0) {
    return wall.value >= 1 || wall.value > size.length.value / 4;
  }
  const bool no_units = size.length.unit == LengthUnit::none && wall.unit == LengthUnit::none;
  if (no_units && size.kind == SizeKind::number && size.length.is_integer() && wall.is_integer() &&
      dn_of_inch(size.length.value) > 0 && dn_of_inch(wall.value) > 0 &&
      2 * wall.value >= size.length.value && size.length.value <= 48) {
    return true;  // 6x4
  }
  // Inches and no unit: both nominal, and too thick for a wall.
  if (size_inch && wall.unit == LengthUnit::none && dn_of_inch(wall.value) > 0) {
    return wall.is_integer() && wall.value >= size.length.value / 4 &&
           wall.value <= 4 * size.length.value && !has_wall_mm(q, size, wall.value);
  }
  const bool dn_size = size.kind == SizeKind::dn ||
                       (size.kind == SizeKind::number && inch_of_dn(size.length.value) > 0);
  return dn_size && !size_inch && wall.unit == size_unit_of_second(q, size) && wall.is_integer() &&
         inch_of_dn(wall.value) > 0 && wall.value > size.length.value / 3;
}

Answer by_wall(const SizeQuestion& q, const WrittenSize& size) {
  const WrittenLength& wall = *q.parts.wall;
  if (size.kind == SizeKind::outside && size.length.unit == LengthUnit::none &&
      wall.unit != LengthUnit::none) {  // one unit serves both
    WrittenSize with_unit = size;
    const bool inches = wall.unit == LengthUnit::inch && size.length.value <= 100;
    with_unit.length.unit = inches ? LengthUnit::inch : LengthUnit::millimetre;
    return by_wall(q, with_unit);
  }
  if (is_second_size(q, size)) {
    return several_sizes(q, "has two sizes, as a reducer has; say on which side");
  }
  if (q.family() == Family::other && !q.named_standard && size.is_nominal()) {
    return not_in_tables(q, size);
  }
  std::vector<Option> all = options(q, size);
  if (all.empty()) return no_wall_fits(q, size);
  keep_likely(q, size, all);
  if (all.size() == 1) return settled(q, all.front());
  std::vector<std::string> readings;
  for (const Option& option : all) add_once(readings, option.text);
  std::string message = fmt::format("{} can mean {}; write the one that is meant", q.quoted(),
                                    fmt::join(readings, ", "));
  return ambiguous(std::move(message), std::move(readings));
}

}  // namespace slantrule
