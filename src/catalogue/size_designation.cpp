#include "slantrule/catalogue/size_designation.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <optional>
#include <utility>
#include <variant>

#include "size_parts.hpp"
#include "slantrule/catalogue/catalogue.hpp"
#include "slantrule/units/quantity.hpp"
#include "slantrule/units/suggest.hpp"

/// Second half of reading a designation: what its parts mean is looked up in the tables. What they
/// do not say is not supplied; every refusal names what the text could mean.

namespace slantrule {
namespace {

/// Standards round one diameter differently (NPS 10: 273 and 273.1 mm); up to here it is one size.
constexpr double same_diameter_mm = 0.15;

constexpr std::string_view how_to_write =
    "write it as \"NPS 6 sch 40\", \"DN 150 sch 40\" or \"168.3 x 7.11 mm\"";

SizeReading refused(std::string message, std::vector<std::string> readings = {}) {
  SizeReading reading;
  reading.message = std::move(message);
  reading.readings = std::move(readings);
  return reading;
}

SizeReading ambiguous(std::string message, std::vector<std::string> readings) {
  SizeReading reading = refused(std::move(message), std::move(readings));
  reading.kind = SizeReading::Kind::ambiguous;
  return reading;
}

SizeReading understood(const PipeRecord& row) {
  SizeReading reading;
  reading.kind = SizeReading::Kind::understood;
  reading.outside_diameter_m = row.outside_diameter_mm / 1000;
  reading.wall_m = row.wall_mm / 1000;
  reading.row = &row;
  return reading;
}

SizeReading needs_wall(double outside_diameter_m, std::string message) {
  SizeReading reading;
  reading.kind = SizeReading::Kind::needs_wall;
  reading.outside_diameter_m = outside_diameter_m;
  reading.message = std::move(message);
  return reading;
}

std::string mm_text(double length_m) {
  return fmt::format("{:.6g}", length_m * 1000);
}

enum class Family { unknown, carbon_steel, stainless, other };

Family family_of(std::string_view material_family) {
  const std::string folded = folded_name(material_family);
  const auto has = [&](std::string_view word) { return folded.find(word) != std::string::npos; };
  if (folded.empty()) return Family::unknown;
  if (has("stainless") || has("duplex")) return Family::stainless;
  return has("steel") ? Family::carbon_steel : Family::other;
}

/// "NPS 1-1/2" for 1.5 as written in `number`; empty when it is no eighth of an inch.
std::string nps_name(const std::string& number) {
  const auto inch = parse_quantity(number + " in", Dimension::length);
  const Reading* reading = std::get_if<Reading>(&inch);
  if (!reading || !(reading->si > 0 && reading->si < 10)) return {};
  const double eighths = reading->si / 0.0254 * 8;
  const int n = static_cast<int>(std::lround(eighths));
  if (std::abs(eighths - n) > 1e-9 * eighths) return {};
  std::string text = "NPS ";
  int above = n % 8, below = 8;
  while (above > 0 && above % 2 == 0) above /= 2, below /= 2;
  if (n / 8 > 0) text += std::to_string(n / 8);
  if (above > 0) text += fmt::format("{}{}/{}", n / 8 > 0 ? "-" : "", above, below);
  return text;
}

/// A nominal size as the tables name it: an NPS designation, or a DN.
struct Nominal {
  std::string nps;  ///< "NPS 6", or empty
  int dn = 0;

  bool names(const PipeRecord& row) const {
    return nps.empty() ? row.dn == dn : row.designation == nps;
  }
  std::string text() const { return nps.empty() ? fmt::format("DN {}", dn) : nps; }
};

std::vector<const PipeRecord*> rows_of(std::string_view standard, const Nominal& nominal) {
  std::vector<const PipeRecord*> rows;
  for (const PipeRecord& row : built_in_pipes()) {
    if (row.standard == standard && nominal.names(row)) rows.push_back(&row);
  }
  return rows;
}

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

/// "40", "40S": written behind "sch"; STD, XS and XXS stand alone.
bool is_numbered(std::string_view schedule) {
  return !schedule.empty() && is_digit(schedule[0]);
}

std::string schedule_text(std::string_view schedule) {
  return (is_numbered(schedule) ? "sch " : "") + std::string(schedule);
}

/// The standard that a schedule belongs to when none is named: 40S is B36.19M.
std::string_view standard_of(std::string_view schedule) {
  return is_numbered(schedule) && schedule.back() == 'S' ? asme_b36_19 : asme_b36_10;
}

/// Standards that may be meant when none is named, the likeliest first.
std::vector<std::string_view> standards_for(Family family) {
  switch (family) {
    case Family::carbon_steel:
      return {asme_b36_10, en_10220};
    case Family::stainless:
      return {asme_b36_19, asme_b36_10};
    case Family::unknown:
      return {asme_b36_10, asme_b36_19, en_10220};
    case Family::other:
      break;
  }
  return {};
}

/// Reads one designation with its parts known.
class Resolver {
 public:
  Resolver(std::string_view text, const SizeParts& parts, std::string_view material_family)
      : quoted_("\"" + shown(text) + "\""),
        parts_(parts),
        standard_(parts.standard),
        material_family_(material_family),
        family_(family_of(material_family)) {}

  SizeReading read() const {
    if (!parts_.left_over.empty()) {
      return refused(fmt::format("{}: \"{}\" is not understood; {}", quoted_,
                                 shown(parts_.left_over), how_to_write));
    }
    if (parts_.size_kind == SizeParts::SizeKind::none) {
      return refused(fmt::format("{} names no size; {}", quoted_, how_to_write));
    }
    if (parts_.other_size) return two_sizes();
    if (parts_.wall && !parts_.schedules.empty()) {
      return refused(quoted_ + " has a wall and a schedule; leave one of them out");
    }
    switch (parts_.size_kind) {
      case SizeParts::SizeKind::nps:
        return nominal(nps());
      case SizeParts::SizeKind::dn:
        return nominal(dn());
      default:
        break;
    }
    if (!parts_.schedules.empty()) return number_with_schedule();
    return parts_.wall ? dimensions() : diameter_alone();
  }

 private:
  SizeReading two_sizes() const {
    const bool nps = parts_.size_kind == SizeParts::SizeKind::nps;
    const bool dn = parts_.size_kind == SizeParts::SizeKind::dn;
    const std::string before = nps ? "NPS " : (dn ? "DN " : "");
    const std::string& unit = parts_.size.unit.empty() ? parts_.other_size->unit : parts_.size.unit;
    const std::string behind = unit.empty() ? "" : " " + unit;
    return ambiguous(
        quoted_ + " names two sizes; say which",
        {before + parts_.size.number + behind, before + parts_.other_size->number + behind});
  }

  std::optional<Nominal> nps() const {
    Nominal nominal{nps_name(parts_.size.number), 0};
    return nominal.nps.empty() ? std::nullopt : std::optional(nominal);
  }

  std::optional<Nominal> dn() const {
    const std::string& number = parts_.size.number;
    if (number.size() > 4 || !std::ranges::all_of(number, is_digit)) return std::nullopt;
    Nominal nominal;
    std::from_chars(number.data(), number.data() + number.size(), nominal.dn);
    return nominal.dn > 0 ? std::optional(nominal) : std::nullopt;
  }

  /// A length as written; without a unit of its own it takes `unit`.
  std::variant<Reading, QuantityProblem> length(const WrittenLength& written,
                                                const std::string& unit) const {
    return parse_quantity(written.number + " " + (written.unit.empty() ? unit : written.unit),
                          Dimension::length);
  }

  // -- nominal sizes --

  SizeReading nominal(const std::optional<Nominal>& size) const {
    if (!size) return refused(fmt::format("{} is no nominal size; {}", quoted_, how_to_write));
    if (family_ == Family::other && standard_.empty()) return not_steel(*size);
    if (parts_.wall) return nominal_with_wall(*size);
    return parts_.schedules.empty() ? nominal_alone(*size) : with_schedule(*size);
  }

  /// Plastic, copper and iron pipe share the words and have other dimensions.
  SizeReading not_steel(const Nominal& size) const {
    std::string reading = fmt::format("{} {}", asme_b36_10, size.text());
    if (!parts_.schedules.empty()) {
      const std::string& schedule = parts_.schedules.front();
      reading =
          fmt::format("{} {} {}", standard_of(schedule), size.text(), schedule_text(schedule));
    }
    return refused(
        fmt::format("{}: sizes of {} pipe are not in the tables; write outside diameter and wall "
                    "(\"168.3 x 7.11 mm\"), or name the standard if it is made to one",
                    quoted_, shown(material_family_)),
        {std::move(reading)});
  }

  SizeReading with_schedule(const Nominal& size) const {
    const PipeRecord* row = nullptr;
    for (const std::string& schedule : parts_.schedules) {
      const std::string_view standard = standard_.empty() ? standard_of(schedule) : standard_;
      const auto rows = rows_of(standard, size);
      if (rows.empty()) return no_such_size(standard, size);
      const auto found = std::ranges::find(rows, schedule, &PipeRecord::schedule);
      if (found == rows.end()) return no_such_schedule(standard, size, schedule, rows);
      if (row && row->wall_mm != (*found)->wall_mm) {
        return ambiguous(fmt::format("{}: {} has two walls under these names, {} and {} mm; "
                                     "say which",
                                     quoted_, size.text(), row->wall_mm, (*found)->wall_mm),
                         {size_text(*row), size_text(**found)});
      }
      if (!row) row = *found;
    }
    return understood(*row);
  }

  SizeReading no_such_size(std::string_view standard, const Nominal& size) const {
    const double wanted_dn = size.nps.empty() ? size.dn : 25 * inches();  // near enough to order
    const PipeRecord* below = nullptr;
    const PipeRecord* above = nullptr;
    for (const PipeRecord& row : built_in_pipes()) {
      if (row.standard != standard) continue;
      if (row.dn < wanted_dn) below = &row;
      if (row.dn > wanted_dn && !above) above = &row;
    }
    std::vector<std::string> readings;
    for (const PipeRecord* row : {below, above}) {
      if (!row) continue;
      readings.push_back(size.nps.empty() || standard == en_10220
                             ? fmt::format("{} DN {}", standard, row->dn)
                             : std::string(row->designation));
    }
    return refused(fmt::format("{}: there is no {} in {}", quoted_, size.text(), standard),
                   std::move(readings));
  }

  /// The size's number taken as inches; 0 when it is none.
  double inches() const {
    const auto read = parse_quantity(parts_.size.number + " in", Dimension::length);
    const Reading* length = std::get_if<Reading>(&read);
    return length ? length->si / 0.0254 : 0;
  }

  SizeReading no_such_schedule(std::string_view standard, const Nominal& size,
                               const std::string& schedule,
                               const std::vector<const PipeRecord*>& rows) const {
    std::vector<std::string> readings;
    std::string list;
    for (const PipeRecord* row : rows) {
      if (row->schedule.empty()) continue;
      readings.push_back(size.nps.empty()
                             ? fmt::format("DN {} {}", row->dn, schedule_text(row->schedule))
                             : size_text(*row));
      list += (list.empty() ? "" : ", ") + schedule_text(row->schedule);
    }
    if (list.empty()) {
      return refused(fmt::format("{}: {} has no schedules; write \"EN 10220 168.3 x 7.1 mm\"",
                                 quoted_, standard));
    }
    return refused(fmt::format("{}: {} has no {} in {}; it has {}", quoted_, size.text(),
                               schedule_text(schedule), standard, list),
                   std::move(readings));
  }

  /// One row for each diameter that the size can mean.
  std::vector<const PipeRecord*> diameters(const Nominal& size) const {
    std::vector<std::string_view> standards{standard_};
    if (standard_.empty()) standards = standards_for(family_);
    std::vector<const PipeRecord*> found;
    for (std::string_view standard : standards) {
      const auto rows = rows_of(standard, size);
      if (rows.empty()) continue;
      const bool known = std::ranges::any_of(found, [&](const PipeRecord* other) {
        return std::abs(other->outside_diameter_mm - rows.front()->outside_diameter_mm) <=
               same_diameter_mm;
      });
      if (!known) found.push_back(rows.front());
    }
    return found;
  }

  /// The nominal size of one standard, as one would write it.
  static std::string nominal_text(const PipeRecord& row) {
    return row.designation.starts_with("NPS ") ? fmt::format("{} {}", row.standard, row.designation)
                                               : fmt::format("{} DN {}", row.standard, row.dn);
  }

  SizeReading nominal_alone(const Nominal& size) const {
    const auto found = diameters(size);
    if (found.empty()) {
      return no_such_size(standard_.empty() ? standards_for(family_).front() : standard_, size);
    }
    // A DN alone is used for steel, iron, copper and plastic pipe alike.
    const bool open = size.nps.empty() && standard_.empty() && family_ == Family::unknown;
    if (found.size() > 1 || open) {
      std::vector<std::string> readings;
      std::string list;
      for (const PipeRecord* row : found) {
        readings.push_back(nominal_text(*row));
        list += fmt::format("{}{} mm in {}", list.empty() ? "" : ", ", row->outside_diameter_mm,
                            row->standard);
      }
      return ambiguous(
          fmt::format("{} has several outside diameters: {}{}; name the material, or the standard "
                      "with a schedule or wall",
                      quoted_, list, open ? ", others in plastic, copper and ductile iron" : ""),
          std::move(readings));
    }
    return needs_wall(found.front()->outside_diameter_mm / 1000,
                      fmt::format("{} has an outside diameter of {} mm; its wall is missing: write "
                                  "for instance \"{}\", or add a measured wall",
                                  quoted_, found.front()->outside_diameter_mm,
                                  size_text(usual_row(found.front()->standard, size))));
  }

  /// The row of the size to show as an example.
  static const PipeRecord& usual_row(std::string_view standard, const Nominal& size) {
    const auto rows = rows_of(standard, size);
    for (std::string_view usual : {"40", "40S", "STD", "10S"}) {
      const auto row = std::ranges::find(rows, usual, &PipeRecord::schedule);
      if (row != rows.end()) return **row;
    }
    return *rows.front();
  }

  SizeReading nominal_with_wall(const Nominal& size) const {
    const SizeReading alone = nominal_alone(size);
    if (alone.kind != SizeReading::Kind::needs_wall) return alone;
    if (parts_.wall->unit.empty()) {
      return refused(fmt::format("{}: the wall has no unit", quoted_),
                     {fmt::format("{} x {} mm", size.text(), parts_.wall->number)});
    }
    return outside_and_wall(alone.outside_diameter_m, length(*parts_.wall, {}));
  }

  // -- a number that may be a dimension --

  bool in_inches() const { return parts_.size.unit == "in"; }

  /// The nominal size that a number of inches also names, where the diameter is another one:
  /// 4 in is NPS 4 (114.3 mm) or a diameter of 101.6 mm; from NPS 14 both are the same.
  std::optional<Nominal> also_nominal() const {
    if (parts_.outside_diameter || !in_inches()) return std::nullopt;
    const std::optional<Nominal> size = nps();
    if (!size) return std::nullopt;
    const auto rows = rows_of(asme_b36_10, *size);
    if (rows.empty()) return std::nullopt;
    const double written_mm = inches() * 25.4;
    const bool same = std::abs(rows.front()->outside_diameter_mm / written_mm - 1) < 0.002;
    return same ? std::nullopt : size;
  }

  SizeReading number_with_schedule() const {
    if (parts_.outside_diameter || (!parts_.size.unit.empty() && !in_inches())) {
      return diameter_with_schedule();
    }
    if (in_inches()) return nominal(nps());
    std::vector<std::string> readings;
    const std::string schedule = " " + schedule_text(parts_.schedules.front());
    if (const auto size = nps(); size && !rows_of(asme_b36_10, *size).empty()) {
      readings.push_back(size->text() + schedule);
    }
    if (const auto size = dn(); size && !rows_of(asme_b36_10, *size).empty()) {
      readings.push_back(size->text() + schedule);
    }
    return refused(fmt::format("{}: \"{}\" could be inches or millimetres; write NPS or DN before "
                               "it",
                               quoted_, parts_.size.number),
                   std::move(readings));
  }

  /// "168.3 mm sch 40": the diameter's own size is named, not taken.
  SizeReading diameter_with_schedule() const {
    const auto read = length(parts_.size, {});
    if (const auto* problem = std::get_if<QuantityProblem>(&read)) {
      return refused(quoted_ + ": " + problem->message);
    }
    std::vector<std::string> readings;
    for (const PipeRecord* row : pipes_near(std::get<Reading>(read).si, 0.005)) {
      if (row->schedule == parts_.schedules.front()) readings.push_back(size_text(*row));
    }
    return refused(quoted_ +
                       ": a schedule belongs to a nominal size, not to a diameter; write "
                       "\"NPS 6 sch 40\" or \"168.3 x 7.11 mm\"",
                   std::move(readings));
  }

  SizeReading diameter_alone() const {
    const std::string& number = parts_.size.number;
    if (parts_.size.unit.empty()) {
      std::vector<std::string> readings;
      if (const auto size = nps(); size && !parts_.outside_diameter) {
        if (!rows_of(asme_b36_10, *size).empty()) readings.push_back(size->text());
      }
      if (const auto size = dn(); size && !parts_.outside_diameter) {
        if (!rows_of(asme_b36_10, *size).empty()) readings.push_back(size->text());
      }
      readings.push_back("OD " + number + " mm");
      return refused(fmt::format("{} has no unit; {}", quoted_, how_to_write), std::move(readings));
    }
    if (const auto size = also_nominal()) {
      return ambiguous(
          fmt::format("{} can be the nominal size {} ({} mm outside) or a diameter of {} mm; write "
                      "\"{}\" with a schedule, or \"OD {} in\" with a wall",
                      quoted_, size->text(),
                      rows_of(asme_b36_10, *size).front()->outside_diameter_mm,
                      mm_text(inches() * 0.0254), size->text(), number),
          {size->text(), "OD " + number + " in"});
    }
    const auto read = length(parts_.size, {});
    if (const auto* problem = std::get_if<QuantityProblem>(&read)) {
      return refused(quoted_ + ": " + problem->message);
    }
    const double outside_diameter_m = std::get<Reading>(read).si;
    if (!(outside_diameter_m > 0)) return refused(quoted_ + ": a diameter must be above 0");
    return needs_wall(outside_diameter_m,
                      fmt::format("{} gives the outside diameter only; its wall is missing: write "
                                  "\"{} x wall mm\", or add a measured wall",
                                  quoted_, mm_text(outside_diameter_m)));
  }

  SizeReading dimensions() const {
    const WrittenLength& wall = *parts_.wall;
    // One unit serves both numbers; EN 10220 is in millimetres.
    std::string unit = wall.unit.empty() ? parts_.size.unit : wall.unit;
    if (unit.empty() && standard_ == en_10220) unit = "mm";
    if (unit.empty()) {
      return refused(fmt::format("{} has no unit", quoted_),
                     {fmt::format("{} x {} mm", parts_.size.number, wall.number),
                      fmt::format("{} x {} in", parts_.size.number, wall.number)});
    }
    const auto outside = length(parts_.size, unit);
    if (const auto* problem = std::get_if<QuantityProblem>(&outside)) {
      return refused(quoted_ + ": " + problem->message);
    }
    const double outside_m = std::get<Reading>(outside).si;
    if (const auto size = also_nominal()) {
      const auto wall_read = length(wall, unit);
      const Reading* wall_m = std::get_if<Reading>(&wall_read);
      if (wall_m && 2 * wall_m->si < outside_m) {
        const double nominal_mm = rows_of(asme_b36_10, *size).front()->outside_diameter_mm;
        const std::string wall_text = mm_text(wall_m->si);
        return ambiguous(
            fmt::format("{} can be the nominal size {} ({} mm outside) or a diameter of {} mm; "
                        "write \"{}\" or \"OD {}\" before the wall",
                        quoted_, size->text(), nominal_mm, mm_text(outside_m), size->text(),
                        parts_.size.number),
            {fmt::format("{} x {} mm", size->text(), wall_text),
             fmt::format("OD {} x {} mm", mm_text(outside_m), wall_text)});
      }
    }
    return outside_and_wall(outside_m, length(wall, unit));
  }

  SizeReading outside_and_wall(double outside_diameter_m,
                               const std::variant<Reading, QuantityProblem>& wall) const {
    if (const auto* problem = std::get_if<QuantityProblem>(&wall)) {
      return refused(quoted_ + ": " + problem->message);
    }
    const double wall_m = std::get<Reading>(wall).si;
    if (!(outside_diameter_m > 0 && wall_m > 0)) {
      return refused(quoted_ + ": diameter and wall must be above 0");
    }
    if (2 * wall_m >= outside_diameter_m) {
      std::vector<std::string> readings;
      if (2 * outside_diameter_m < wall_m) {
        readings.push_back(mm_text(wall_m) + " x " + mm_text(outside_diameter_m) + " mm");
      }
      return refused(fmt::format("{}: a wall of {} mm leaves no bore in an outside diameter of {} "
                                 "mm; is a decimal point missing, or the order wrong?",
                                 quoted_, mm_text(wall_m), mm_text(outside_diameter_m)),
                     std::move(readings));
    }
    SizeReading reading;
    reading.kind = SizeReading::Kind::understood;
    reading.outside_diameter_m = outside_diameter_m;
    reading.wall_m = wall_m;
    if (!standard_.empty()) {
      reading.row = row_with(outside_diameter_m, wall_m);
      // EN 10220 pairs any diameter with any wall; beside a nominal size the wall is a measured
      // one.
      if (!reading.row && standard_ != en_10220 &&
          parts_.size_kind == SizeParts::SizeKind::number) {
        return refused(
            fmt::format("{}: {} has no pipe of {} x {} mm; leave the standard out if "
                        "these are measured",
                        quoted_, standard_, mm_text(outside_diameter_m), mm_text(wall_m)),
            {mm_text(outside_diameter_m) + " x " + mm_text(wall_m) + " mm"});
      }
    }
    return reading;
  }

  /// The row of the named standard with these dimensions, to half its last digit.
  const PipeRecord* row_with(double outside_diameter_m, double wall_m) const {
    for (const PipeRecord& row : built_in_pipes()) {
      if (row.standard == standard_ &&
          std::abs(row.outside_diameter_mm - outside_diameter_m * 1000) <= 0.05 &&
          std::abs(row.wall_mm - wall_m * 1000) <= 0.005) {
        return &row;
      }
    }
    return nullptr;
  }

  std::string quoted_;
  const SizeParts& parts_;
  std::string_view standard_;
  std::string_view material_family_;
  Family family_;
};

}  // namespace

SizeReading read_size(std::string_view text, std::string_view material_family) {
  const SizeParts parts = parts_of_size(text);
  return Resolver(text, parts, material_family).read();
}

std::vector<const PipeRecord*> pipes_near(double outside_diameter_m, double relative) {
  std::vector<const PipeRecord*> near;
  for (const PipeRecord& row : built_in_pipes()) {
    const double off_m = row.outside_diameter_mm / 1000 - outside_diameter_m;
    if (std::abs(off_m) <= relative * outside_diameter_m) near.push_back(&row);
  }
  return near;
}

std::string size_text(const PipeRecord& row) {
  if (row.schedule.empty()) {
    return fmt::format("{} {} x {} mm", row.standard, row.outside_diameter_mm, row.wall_mm);
  }
  return fmt::format("{} {}", row.designation, schedule_text(row.schedule));
}

}  // namespace slantrule
