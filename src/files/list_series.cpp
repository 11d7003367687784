#include "list_series.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "slantrule/catalogue/catalogue.hpp"
#include "slantrule/units/number_text.hpp"
#include "slantrule/units/quantity.hpp"

namespace slantrule {
namespace {

struct Series {
  std::set<double> nps, dn;
};

const Series& series() {
  static const Series all = [] {
    Series out;
    for (const PipeRecord& row : built_in_pipes()) {
      if (row.dn > 0) out.dn.insert(row.dn);
      constexpr std::string_view nps = "NPS ";
      if (!row.designation.starts_with(nps)) continue;
      const std::string_view number = row.designation.substr(nps.size());
      const NumberText read = read_number(number);
      if (read.fault != NumberFault::none || read.length != number.size()) continue;
      if (const auto value = read.times_ten_to(0)) out.nps.insert(*value);
    }
    return out;
  }();
  return all;
}

void add_example(std::vector<std::string>& examples, double value) {
  const std::string text = fmt::format("{:g}", value);
  if (examples.size() < 3 && std::ranges::find(examples, text) == examples.end()) {
    examples.push_back(text);
  }
}

/// EN 1057, table 3: outside diameters of copper tube in mm, those apart that are as common as
/// sizes in inches.
const std::set<double> tube_diameters = {15, 18,   22,   28,   35,  42,  54,
                                         64, 66.7, 76.1, 88.9, 108, 133, 159};
const std::set<double> small_tube_diameters = {6, 8, 10, 12, 14, 16};
/// EN 12201-2 (and ISO 4065): outside diameters of plastic pipe in mm.
const std::set<double> plastic_diameters = {20,  25,  32,  40,  50,  63,  75,  90,  110,
                                            125, 140, 160, 180, 200, 225, 250, 280, 315,
                                            355, 400, 450, 500, 560, 630, 800, 1000};
/// Copper tubes that are also rare sizes in inches.
const std::set<double> tubes_and_rare_inches = {22, 28, 42, 54};

/// The numbers of a size column, told apart.
struct SizeTally {
  SeriesCount count;
  std::size_t total = 0;
  std::size_t sure_nps = 0, sure_dn = 0;  ///< of that series alone, and no tube
  std::size_t sure_large_nps = 0;         ///< NPS 24 and more among them
  std::size_t rare_inches = 0;            ///< of tubes_and_rare_inches
  std::size_t tubes_by_row = 0;           ///< of these, with a row that says tube
  std::size_t hardly_dn = 0;              ///< 6, 8 and 10, which are inches rather than mm
  std::size_t either_way = 0;             ///< other numbers of both series: 20, 32, 40
  std::vector<std::string> tubes;         ///< examples of outside diameters of tubes
  std::vector<std::string> small_inches;  ///< examples of what would be inches by itself
  std::vector<std::string> only_mm;       ///< examples of what cannot be inches

  explicit SizeTally(std::span<const BareSize> sizes);
  SizeDecision as_nps() const;
  SizeDecision as_dn() const;
  SizeDecision maybe_tubes() const {
    return {{},
            fmt::format("its bare numbers ({}) may be outside diameters of tubes in mm",
                        fmt::join(tubes, ", "))};
  }

 private:
  bool all_plastic_ = true, all_copper_ = true;  ///< outside diameters of that kind
};

SizeTally::SizeTally(std::span<const BareSize> sizes) : total(sizes.size()) {
  std::vector<double> values;
  for (const BareSize& size : sizes) values.push_back(size.value);
  count = count_series(values);
  const bool dn_15 = std::ranges::find(values, 15.0) != values.end();
  for (const BareSize& size : sizes) {
    const double value = size.value;
    const bool nps = is_nps(value), dn = is_dn(value);
    const bool small_tube = small_tube_diameters.contains(value);
    const bool copper = tube_diameters.contains(value) || (size.tube && small_tube);
    const bool plastic = plastic_diameters.contains(value);
    const bool rare = tubes_and_rare_inches.contains(value);
    all_plastic_ = all_plastic_ && plastic && !size.iron;
    all_copper_ = all_copper_ && copper && !size.iron;
    const bool tube = !size.iron && copper;
    sure_nps += nps && !dn && !tube;
    sure_large_nps += nps && !dn && !tube && value >= 24;
    sure_dn += dn && !nps;
    rare_inches += rare && !size.iron;
    tubes_by_row += rare && size.tube;
    if (copper || plastic) add_example(tubes, value);
    // DN 6 and DN 8 are hardly met, DN 10 among other small ones.
    const bool small_dn = value == 6 || value == 8 || (value == 10 && !dn_15);
    hardly_dn += small_dn;
    either_way += nps && dn && !small_dn;
    if (small_dn || (nps && !dn && !rare && value < 24)) add_example(small_inches, value);
    if (!nps) add_example(only_mm, value);
  }
}

SizeDecision SizeTally::as_nps() const {
  const bool rather_tubes = tubes_by_row > 0 || (rare_inches >= sure_nps && sure_large_nps == 0);
  if (rare_inches > 0 && rather_tubes) return maybe_tubes();
  return {"NPS", fmt::format("{} of its {} bare numbers are sizes in inches, {} of them no DN",
                             total - count.off_nps, total, count.only_nps)};
}

SizeDecision SizeTally::as_dn() const {
  if (all_plastic_ || all_copper_) return maybe_tubes();
  return {"DN", fmt::format("{} of its {} bare numbers are nominal sizes in mm, {} of them no NPS",
                            total - count.off_dn, total, count.only_dn)};
}

/// Every dimension a column of a list may have.
const Dimensions any_dimension = {Dimension::length,
                                  Dimension::pipe_diameters,
                                  Dimension::temperature,
                                  Dimension::pressure_absolute,
                                  Dimension::pressure_gauge,
                                  Dimension::volume_flow,
                                  Dimension::mass_flow,
                                  Dimension::velocity,
                                  Dimension::speed_slope,
                                  Dimension::dynamic_viscosity,
                                  Dimension::kinematic_viscosity,
                                  Dimension::density,
                                  Dimension::angle,
                                  Dimension::time,
                                  Dimension::frequency,
                                  Dimension::fraction,
                                  Dimension::mass_fraction,
                                  Dimension::volume_fraction,
                                  Dimension::attenuation};

}  // namespace

bool is_nps(double size) {
  return series().nps.contains(size);
}

bool is_dn(double size) {
  return series().dn.contains(size);
}

SeriesCount count_series(std::span<const double> values) {
  SeriesCount out;
  for (const double value : values) {
    const bool nps = is_nps(value), dn = is_dn(value);
    out.only_nps += nps && !dn;
    out.only_dn += dn && !nps;
    out.off_nps += !nps;
    out.off_dn += !dn;
    if (!nps) add_example(out.off_nps_examples, value);
    if (!dn) add_example(out.off_dn_examples, value);
  }
  return out;
}

SizeDecision decide_bare_sizes(std::span<const BareSize> sizes) {
  const SizeTally tally(sizes);
  const SeriesCount& count = tally.count;
  // One in ten may be a slip where at least ten are none; numbers of both series need some that are
  // of one alone beside them.
  const auto fits = [&](std::size_t off, std::size_t sure) {
    const bool slips = 10 * off <= sizes.size() && sizes.size() >= 10 + off;
    return (off == 0 || slips) && sure > 0 && tally.either_way <= 5 * sure;
  };
  const bool nps = fits(count.off_nps, tally.sure_nps);
  const bool dn = fits(count.off_dn, tally.sure_dn);
  if (nps && count.off_nps == 0) return tally.as_nps();
  // A slip that is off the series is refused in its row. One that is on both would be taken for the
  // wrong size, so that none may be in doubt: 20 beside 3 and 150, 6 beside 150.
  if (nps && !dn && (tally.sure_dn == 0 || tally.either_way == 0)) return tally.as_nps();
  if (dn && !nps && tally.hardly_dn == 0) return tally.as_dn();
  const bool on_one_series = (count.off_nps == 0) != (count.off_dn == 0);
  const bool none_sure = tally.sure_nps == 0 && tally.sure_dn == 0;
  if (tally.rare_inches > 0 || (on_one_series && none_sure)) return tally.maybe_tubes();
  if (!tally.small_inches.empty() && tally.sure_dn > 0) {
    return {{},
            fmt::format("its bare numbers mix inches and millimetres: {} would be sizes in inches, "
                        "{} can only be mm",
                        fmt::join(tally.small_inches, ", "), fmt::join(tally.only_mm, ", "))};
  }
  if (count.off_nps == 0 || count.off_dn == 0) {
    const bool all = count.off_nps == count.off_dn;
    return {{},
            fmt::format("{}its bare numbers are sizes in inches as well as nominal sizes in mm",
                        all ? "" : "nearly all of ")};
  }
  return {
      {},
      fmt::format("its bare numbers are neither all NPS ({} are none) nor all DN ({})",
                  fmt::join(count.off_nps_examples, ", "), fmt::join(count.off_dn_examples, ", "))};
}

SizeDecision check_stated_sizes(std::span<const BareSize> sizes, bool nps, bool by_user) {
  const SizeTally tally(sizes);
  // A size in inches whose row says that it is the outside diameter of a tube is none either.
  const std::size_t off =
      nps ? tally.count.off_nps + (by_user ? 0 : tally.tubes_by_row) : tally.count.off_dn;
  const std::string unit = nps ? "NPS" : "DN";
  // A heading that lies shows by many numbers that are no such size, not by a slip or two.
  if (by_user ? 2 * off > sizes.size() : 5 * off > sizes.size()) {
    const auto& examples = nps ? tally.count.off_nps_examples : tally.count.off_dn_examples;
    return {{},
            fmt::format("{} of {} numbers of this column are no {} ({})", off, sizes.size(), unit,
                        fmt::join(examples.empty() ? tally.tubes : examples, ", "))};
  }
  return {unit, {}};
}

bool parses_with_some_unit(std::string_view unit) {
  return std::holds_alternative<Reading>(parse_quantity(fmt::format("1 {}", unit), any_dimension));
}

bool different_units(std::string_view one, std::string_view other) {
  const auto size = [](std::string_view unit) -> std::optional<Reading> {
    const auto parsed = parse_quantity(fmt::format("1 {}", unit), any_dimension);
    if (const auto* reading = std::get_if<Reading>(&parsed)) return *reading;
    return std::nullopt;
  };
  const auto a = size(one), b = size(other);
  return a && b && (a->si != b->si || a->dimension != b->dimension);
}

std::string example_unit(const ColumnKey& key) {
  if (key.kind == ColumnKind::fittings) return "m";
  // The example of a key is a quoted quantity: "60 m3/h".
  const std::string_view example = key.info.example;
  const std::size_t blank = example.find(' ');
  const std::size_t end = example.rfind('"');
  if (blank == std::string_view::npos || end == std::string_view::npos || end < blank) return "mm";
  return std::string(example.substr(blank + 1, end - blank - 1));
}

}  // namespace slantrule
