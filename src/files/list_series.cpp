#include "list_series.hpp"

#include <fmt/format.h>

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

bool parses_with_some_unit(std::string_view unit) {
  return std::holds_alternative<Reading>(parse_quantity(fmt::format("1 {}", unit), any_dimension));
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
