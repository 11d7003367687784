#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>
#include <variant>

#include "size_answer.hpp"
#include "slantrule/units/suggest.hpp"

/// From the parts of a designation to one answer.

namespace slantrule {
namespace {

using Kind = SizeReading::Kind;
using SizeKind = WrittenSize::Kind;

bool agree(const Material& said, const Material& given) {
  if (said.family == Family::unknown || given.family == Family::unknown) return true;
  if (said.family == Family::steel) {
    return given.family == Family::carbon_steel || given.family == Family::stainless;
  }
  return said.family == given.family && (said.family != Family::other || said.name == given.name);
}

std::optional<Answer> material_contradiction(const SizeQuestion& q) {
  Material said = q.parts.material, other = q.given;
  if (q.parts.second_material.family != Family::unknown) {
    other = q.parts.second_material;
  } else if (agree(said, q.given)) {
    const auto standard = find_standard(q.parts.standard);
    const bool grey_as_ductile = q.material.name == grey_iron && standard &&
                                 standard_family(*standard) == Family::ductile_iron;
    if (!standard || (may_be_made_to(*standard, q.material.family) && !grey_as_ductile)) {
      return std::nullopt;
    }
    said = {standard_family(*standard), q.parts.standard};
  }
  Answer answer = refused(fmt::format("{} says {}, but the material is {}; correct one of them",
                                      q.quoted(), said.name, shown(other.name)));
  if (q.parts.second_material.family != Family::unknown) {
    answer.reading.message = fmt::format("{} says {} and {}; leave out what does not hold",
                                         q.quoted(), said.name, other.name);
  }
  // What the size means for the material that was stated.
  SizeQuestion stated = q;
  stated.parts.standard = {};
  stated.named_standard = std::nullopt;
  stated.parts.left_over.clear();
  if (q.given.family != Family::unknown) stated.material = q.given;
  add_readings(answer.reading.readings, resolve(stated));
  return answer;
}

Answer missing(const SizeQuestion& q) {
  return refused(q.quoted() + " stands for a missing size; " +
                 std::string(how_to_write(q.family())));
}

Answer with_left_over(const SizeQuestion& q) {
  const std::string& left = q.parts.left_over;
  std::vector<std::string> readings;
  if (!q.parts.sizes.empty()) {
    // "NPS 6 40": a schedule without its name.
    if (q.parts.labels.empty() && !q.parts.wall && std::ranges::all_of(left, is_digit)) {
      SizeQuestion with_schedule = q;
      const bool iron = q.family() == Family::ductile_iron;
      with_schedule.parts.labels.push_back(
          iron ? WrittenLabel{LabelKind::pressure_class, "class " + left, {}}
               : WrittenLabel{LabelKind::schedule, left, {}});
      const Answer scheduled = resolve(with_schedule);
      if (scheduled.reading.kind == Kind::understood) readings.push_back(scheduled.text());
    }
    add_readings(readings, resolve(q));
  }
  return refused(fmt::format("{}: \"{}\" is not understood; {}", q.quoted(), shown(left),
                             how_to_write(q.family())),
                 std::move(readings));
}

std::string_view unit_text(LengthUnit unit) {
  switch (unit) {
    case LengthUnit::inch:
      return "in";
    case LengthUnit::centimetre:
      return "cm";
    case LengthUnit::metre:
      return "m";
    case LengthUnit::foot:
      return "ft";
    default:
      return "mm";
  }
}

/// "1,220": above 5 m no pipe is meant, and the comma is a decimal one.
bool is_thousands_unclear(const WrittenLength& length) {
  return length.comma_unclear && length.mm() * 1000 <= 5000;
}

Answer thousands(const SizeQuestion& q, const WrittenSize& size) {
  std::string digits = size.length.number;
  std::erase(digits, '.');
  const bool has_unit = size.length.unit != LengthUnit::none;
  const std::string unit = has_unit ? std::string(unit_text(size.length.unit)) : "mm";
  return refused(
      fmt::format("{}: the comma can be a decimal mark or stand between thousands; write it "
                  "with a point or without a separator",
                  q.quoted()),
      {fmt::format("OD {} {}", digits, unit),
       fmt::format("OD {} {}", size.length.number, has_unit ? unit : "m")});
}

/// "219.1 m": no pipe is so large; the number itself may be millimetres.
Answer too_large(const SizeQuestion& q, const WrittenSize& size) {
  std::vector<std::string> readings;
  const bool larger_unit =
      size.length.unit == LengthUnit::metre || size.length.unit == LengthUnit::centimetre;
  if (larger_unit && size.length.value >= 10 && size.length.value <= largest_mm) {
    readings.push_back(fmt::format("OD {} mm", size.length.number));
  }
  return refused(
      fmt::format("{} is larger than any pipe; {}", q.quoted(), how_to_write(q.family())),
      std::move(readings));
}

/// "6 5/8 mm": a fraction counts inches, whatever unit stands behind it.
bool is_fraction_of_mm(const WrittenLength& length) {
  return length.fraction && length.unit != LengthUnit::none && length.unit != LengthUnit::inch;
}

/// What it means in inches.
Answer fraction_of_mm(const SizeQuestion& q) {
  SizeQuestion inches = q;
  std::string_view unit;
  const auto correct = [&](WrittenLength& length) {
    if (!is_fraction_of_mm(length)) return;
    unit = unit_text(length.unit);
    length.unit = LengthUnit::inch;
  };
  for (WrittenSize& size : inches.parts.sizes) correct(size.length);
  if (inches.parts.wall) correct(*inches.parts.wall);
  std::vector<std::string> readings;
  add_readings(readings, resolve(inches));
  return refused(fmt::format("{}: a fraction counts inches, but \"{}\" stands behind it; write "
                             "the inches, or the millimetres with decimals",
                             q.quoted(), unit),
                 std::move(readings));
}

/// "16 ga": systems of gauges differ.
Answer wall_by_gauge(const SizeQuestion& q) {
  std::vector<std::string> readings;
  if (!q.parts.sizes.empty()) add_readings(readings, resolve(q));
  return refused(fmt::format("{}: \"{}\" is a wall by gauge, and systems of gauges differ (16: "
                             "1.3 to 1.65 mm); write the wall in mm",
                             q.quoted(), shown(q.parts.gauge)),
                 std::move(readings));
}

/// The DN that a size names; 0 for a diameter or a bare number.
int nominal_dn(const WrittenSize& size) {
  const WrittenLength& length = size.length;
  const bool inches = length.unit == LengthUnit::inch || length.fraction;
  switch (size.kind) {
    case SizeKind::nps:
    case SizeKind::japanese_b:
      return dn_of_inch(length.value);
    case SizeKind::dn:
    case SizeKind::japanese_a:
      return static_cast<int>(std::min(length.value, 1e5));
    case SizeKind::nominal:
    case SizeKind::number:
      if (inches) return dn_of_inch(length.value);
      return size.kind == SizeKind::nominal && length.value >= 15
                 ? static_cast<int>(std::min(length.mm(), 1e5))
                 : 0;
    case SizeKind::outside:
    case SizeKind::inside:
      break;
  }
  return 0;
}

/// Whether a pipe of this DN can have this outside diameter: DN 6 has 10.3 mm, DN 100 plastic 110
/// and ductile iron 118 mm, DN 1000 ductile iron 1048 mm.
bool agree(int dn, double outside_mm) {
  return outside_mm >= 0.98 * dn && outside_mm <= 1.25 * dn + 8;
}

/// Whether the last of several sizes is a length that can only be a wall: "DN 100 6.3 mm".
bool last_is_wall(const SizeQuestion& q) {
  const auto& sizes = q.parts.sizes;
  if (q.parts.wall || q.parts.alternatives || q.parts.crossed || sizes.size() < 2) return false;
  const WrittenSize& first = sizes.front();
  const int dn = nominal_dn(first);
  const WrittenSize& last = sizes.back();
  return last.kind == SizeKind::number && nominal_dn(last) == 0 &&
         last.length.mm() < (dn > 0 ? dn : first.length.mm()) / 4;
}

/// Takes it as the wall if the size has just such a wall.
Answer wall_without_name(const SizeQuestion& q) {
  SizeQuestion other = q;
  other.parts.wall = q.parts.sizes.back().length;
  other.parts.sizes.pop_back();
  Answer answer = resolve(other);
  if (answer.reading.kind == Kind::understood && answer.reading.row) return answer;
  std::vector<std::string> readings;
  add_readings(readings, answer);
  return refused(fmt::format("{}: what is {} {}? Write an \"x\" before a wall", q.quoted(),
                             other.parts.wall->number, unit_text(other.parts.wall->unit)),
                 std::move(readings));
}

/// Bare numbers that are inches rather than millimetres: "48/54", "6-8", "5/8x3/4".
bool are_inches(const std::vector<WrittenSize>& sizes) {
  return std::ranges::all_of(sizes, [](const WrittenSize& size) {
    return size.kind == SizeKind::number && size.length.decimals == 0 && size.length.value <= 64;
  });
}

/// Brings several sizes down to one where they say the same.
std::variant<WrittenSize, Answer> one_size(const SizeQuestion& q) {
  WrittenSize size = q.parts.sizes.front();
  if (q.parts.crossed)
    return several_sizes(q, "has two sizes, as a reducer has; say on which side");
  for (std::size_t i = 1; i < q.parts.sizes.size(); ++i) {
    WrittenSize next = q.parts.sizes[i];
    const int dn = nominal_dn(size), next_dn = nominal_dn(next);
    if (dn > 0 && next_dn > 0) {  // DN100 (4")
      if (dn != next_dn) return several_sizes(q, "names several sizes; say which");
      if (size.kind == SizeKind::number || size.kind == SizeKind::japanese_b) size = next;
    } else if (dn > 0 || next_dn > 0) {
      if (next_dn > 0) std::swap(size, next);  // size: nominal, next: diameter
      const double outside_mm = next.length.mm();
      const int nominal = std::max(dn, next_dn);
      if (next.kind == SizeKind::number && outside_mm == nominal) continue;  // 6" (150 mm)
      if (agree(nominal, outside_mm)) {                                      // 4IN, 114.3X6.02
        if (next.kind == SizeKind::number && next.length.unit != LengthUnit::none &&
            std::fabs(outside_mm / size.length.mm() - 1) < 0.01 &&
            size.length.unit == LengthUnit::inch) {
          return several_sizes(
              q, "can be the nominal size or the diameter; say which");  // 6" (152 mm)
        }
        next.kind = SizeKind::outside;
        if (next.length.unit == LengthUnit::none) next.length.unit = LengthUnit::millimetre;
        size = next;

      } else {
        return several_sizes(q, "names two sizes that do not go together; say which");
      }
    } else if (std::fabs(next.length.mm() / size.length.mm() - 1) > 0.003) {
      return several_sizes(q, "names several sizes; say which");
    }
  }
  return size;
}

/// Plastic pipe in the sizes of copper tube: nominal size + 1/8 in outside.
Answer copper_tube_sizes(const SizeQuestion& q, const WrittenSize& size) {
  std::vector<std::string> readings;
  const auto rows = q.tables.rows_of(Standard::astm_b88, {SizeSystem::inch, size.length.value});
  if (!rows.empty()) {
    readings.push_back(fmt::format("OD {} mm", rows.front()->outside_diameter_mm));
  }
  return refused(q.quoted() +
                     ": pipe in copper tube sizes is not in the tables; write outside "
                     "diameter and wall",
                 std::move(readings));
}

}  // namespace

Answer several_sizes(const SizeQuestion& q, std::string_view what) {
  std::vector<WrittenSize> sizes = q.parts.sizes;
  if (q.parts.wall && sizes.size() == 1) {  // 4"x3"
    WrittenSize other{sizes.front().kind, *q.parts.wall, false};
    sizes.push_back(std::move(other));
  }
  LengthUnit unit = LengthUnit::none;
  for (const WrittenSize& size : sizes) {
    if (unit == LengthUnit::none) unit = size.length.unit;
  }
  const bool inches = unit == LengthUnit::inch || (unit == LengthUnit::none && are_inches(sizes));
  std::vector<std::string> readings;
  for (WrittenSize size : sizes) {
    if (size.length.unit == LengthUnit::none) {
      size.length.unit = inches ? LengthUnit::inch : LengthUnit::millimetre;
      if (!inches && size.kind == SizeKind::number && inch_of_dn(size.length.value) == 0) {
        size.kind = SizeKind::outside;
      }
    }
    SizeQuestion alone = q;
    alone.parts.sizes = {size};
    alone.parts.alternatives = alone.parts.crossed = alone.parts.tube = false;
    if (!(q.parts.wall && sizes.size() > q.parts.sizes.size())) {
      alone.parts.wall = q.parts.wall;
    } else {
      alone.parts.wall.reset();
    }
    if (size.length.unit == LengthUnit::inch && dn_of_inch(size.length.value) > 0 &&
        size.kind == SizeKind::number) {
      alone.parts.pipe = true;
    }
    Answer answer = resolve(alone);
    if (!answer.has_diameter() && size.length.unit == LengthUnit::inch) {  // no NPS 54 in steel
      size.kind = SizeKind::outside;
      alone.parts.sizes = {size};
      answer = resolve(alone);
    }
    add_readings(readings, answer);
  }
  std::string message = fmt::format("{} {}", q.quoted(), what);
  return readings.empty() ? refused(std::move(message))
                          : ambiguous(std::move(message), std::move(readings));
}

Answer resolve(const SizeQuestion& q) {
  if (q.parts.sizes.empty()) {
    return refused(fmt::format("{} names no size; {}", q.quoted(), how_to_write(q.family())));
  }
  if ((q.parts.wall && is_fraction_of_mm(*q.parts.wall)) ||
      std::ranges::any_of(q.parts.sizes,
                          [](const WrittenSize& size) { return is_fraction_of_mm(size.length); })) {
    return fraction_of_mm(q);
  }
  for (const WrittenSize& size : q.parts.sizes) {
    if (!(size.length.value > 0)) {
      return refused(q.quoted() + " is no size: a diameter must be above 0");
    }
    const LengthUnit unit = size.length.fraction ? LengthUnit::inch : LengthUnit::millimetre;
    if (size.length.mm(unit) > largest_mm) {
      return too_large(q, size);
    }
    if (is_thousands_unclear(size.length)) return thousands(q, size);
  }
  if (last_is_wall(q)) return wall_without_name(q);
  auto merged = one_size(q);
  if (auto* answer = std::get_if<Answer>(&merged)) return std::move(*answer);
  const WrittenSize& size = std::get<WrittenSize>(merged);
  if (size.kind == SizeKind::inside) {
    return refused(
        fmt::format("{} gives an inside diameter; write the outside diameter and the "
                    "wall: \"168.3 x 7.11 mm\"",
                    q.quoted()));
  }
  if (q.parts.copper_sizes && q.family() != Family::copper) return copper_tube_sizes(q, size);
  if (!q.parts.labels.empty()) {
    if (q.parts.wall && is_second_size(q, size)) {  // 12" x 8" sch 40
      return several_sizes(q, "has two sizes, as a reducer has; say on which side");
    }
    return by_label(q, size);
  }
  return q.parts.wall ? by_wall(q, size) : alone(q, size);
}

Answer read_question(const SizeQuestion& q) {
  if (q.parts.missing && q.parts.sizes.empty()) return missing(q);
  if (const auto contradiction = material_contradiction(q)) return *contradiction;
  if (!q.parts.gauge.empty()) return wall_by_gauge(q);
  if (!q.parts.left_over.empty()) return with_left_over(q);
  Answer answer = resolve(q);
  if (q.parts.doubtful && answer.has_diameter()) {
    return ambiguous(q.quoted() + " is not certain; write the size alone if it holds",
                     {answer.text()});
  }
  return answer;
}

}  // namespace slantrule
