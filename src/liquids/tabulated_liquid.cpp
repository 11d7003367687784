#include "slantrule/liquids/tabulated_liquid.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <limits>
#include <stdexcept>
#include <string_view>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "state_range.hpp"

namespace slantrule {
namespace {

constexpr double kNaN = std::numeric_limits<double>::quiet_NaN();
constexpr double kIcePoint_K = 273.15;
constexpr double kBar_Pa = 1e5;

// Points nearer than this are one isobar: laboratories measure at the day's or the town's air
// pressure. 0.2 bar changes c by 0.2 m/s at most.
constexpr double kSameIsobar_bar = 0.25;

// Where a table with one isobar ends: the pressure effect is then known to about 10 %.
constexpr double kHighestPressure_Pa = 50 * kBar_Pa;

// Standard uncertainty of what is filled in or extrapolated, relative to the size of the step: from
// trials in which known points were left out.
constexpr double kFillError = 0.1;

// Density where the table has none, for the pressure effect alone.
constexpr double kAnyDensity_kg_m3 = 1000;

// Viscosity rises by some 0.09 % per bar in the tables that say so; where they do not it stays, and
// u grows instead.
constexpr double kViscosityPerPressure_1_Pa = 0.001 / kBar_Pa;

// Where a table has one temperature, or one strength: c of liquids changes by 2 to 5 m/s per kelvin
// and of solutions by up to 11 m/s per cent by mass.
constexpr double kAnySlope_m_s_K = 4;
constexpr double kAnySlope_m_s = 1000;  // per unit of the mass fraction

// What is interpolated. The square of c, because it is almost linear in pressure and straighter
// than c in temperature.
enum Quantity : std::size_t { kSoundSpeedSquared, kDensity, kLogViscosity, kUSoundSpeed, kCount };
constexpr Quantity kProperties[] = {kSoundSpeedSquared, kDensity, kLogViscosity};
using Values = std::array<double, kCount>;
constexpr Values kNothing = {kNaN, kNaN, kNaN, kNaN};

// --- Monotone piecewise cubics -----------------------------------------------------------------

// Slope at the end of a run: that of the parabola through three points, held to the sign of the
// outer chord and to three times it where the data turn.
double end_slope(double outer_step, double inner_step, double outer, double inner) {
  const double slope =
      ((2 * outer_step + inner_step) * outer - outer_step * inner) / (outer_step + inner_step);
  if (slope * outer <= 0) return 0;
  if (outer * inner < 0 && std::abs(slope) > 3 * std::abs(outer)) return 3 * outer;
  return slope;
}

// Slopes of the curve through y(x): weighted harmonic means of the two chords at each point, 0 at
// an extremum. A NaN in y ends a run; single points have slope 0.
void monotone_slopes(const std::vector<double>& x, const std::vector<double>& y,
                     std::vector<double>& slope) {
  const std::size_t n = x.size();
  const auto step = [&](std::size_t i) { return x[i + 1] - x[i]; };
  const auto chord = [&](std::size_t i) { return (y[i + 1] - y[i]) / step(i); };
  const auto known = [&](std::size_t i) { return i < n && !std::isnan(y[i]); };
  slope.assign(n, kNaN);
  for (std::size_t i = 0; i < n; ++i) {
    if (!known(i)) continue;
    const bool left = i > 0 && known(i - 1), right = known(i + 1);
    if (left && right) {
      const double before = chord(i - 1), after = chord(i);
      const double weight_before = 2 * step(i) + step(i - 1);
      const double weight_after = step(i) + 2 * step(i - 1);
      slope[i] = before * after <= 0 ? 0
                                     : (weight_before + weight_after) /
                                           (weight_before / before + weight_after / after);
    } else if (right) {
      slope[i] = known(i + 2) ? end_slope(step(i), step(i + 1), chord(i), chord(i + 1)) : chord(i);
    } else if (left) {
      slope[i] = i > 1 && known(i - 2)
                     ? end_slope(step(i - 1), step(i - 2), chord(i - 1), chord(i - 2))
                     : chord(i - 1);
    } else {
      slope[i] = 0;
    }
  }
}

// The curve at a place is the sum of value[k] f + slope[k] f' over two nodes.
struct Hermite {
  std::array<std::size_t, 2> node = {0, 0};
  std::array<double, 2> value = {1, 0}, slope = {0, 0};
};

Hermite hermite(const std::vector<double>& axis, double at) {
  const auto above = std::ranges::upper_bound(axis, at);
  const auto right = static_cast<std::size_t>(above - axis.begin());
  // Outside, the end's tangent. On a node, that node alone, since its neighbour may hold nothing;
  // a place converted from degC or per cent may miss its node by rounding.
  for (const std::size_t i : {right - 1, right}) {
    if (i < axis.size() && std::abs(at - axis[i]) < 1e-9) return {.node = {i, i}};
  }
  if (right == 0) return {.slope = {at - axis.front(), 0}};
  if (right == axis.size()) {
    return {.node = {right - 1, right - 1}, .slope = {at - axis.back(), 0}};
  }
  const double step = axis[right] - axis[right - 1];
  const double s = (at - axis[right - 1]) / step;
  const double rise = s * s * (3 - 2 * s);
  return {.node = {right - 1, right},
          .value = {1 - rise, rise},
          .slope = {step * s * (1 - s) * (1 - s), step * s * s * (s - 1)}};
}

// --- The grid ----------------------------------------------------------------------------------

// A grid point: what stands there, and its derivatives by temperature, mass fraction, and both.
struct Node {
  Values value = kNothing, by_temperature = kNothing, by_fraction = kNothing, by_both = kNothing;
};

void require(bool holds, const std::string& name, const LiquidPoint& point, const char* what) {
  if (holds) return;
  throw std::invalid_argument(fmt::format("{}: point at {} degC, {} bar, {} %: {}", name,
                                          point.temperature_degC, point.pressure_bar,
                                          point.mass_percent, what));
}

void check_point(const std::string& name, const LiquidPoint& p) {
  const auto positive = [](double value) { return value > 0 && std::isfinite(value); };
  const auto positive_or_absent = [&](double value) {
    return std::isnan(value) || positive(value);
  };
  require(positive(p.temperature_degC + kIcePoint_K), name, p, "temperature is not above 0 K");
  require(positive(p.pressure_bar), name, p, "pressure is not above 0");
  require(p.mass_percent >= 0 && p.mass_percent <= 100, name, p, "mass percent is not 0 to 100");
  require(positive(p.sound_speed_m_s), name, p, "speed of sound is not above 0");
  require(positive_or_absent(p.density_kg_m3), name, p, "density is not above 0");
  require(positive_or_absent(p.viscosity_mPa_s), name, p, "viscosity is not above 0");
  require(p.u_sound_speed_m_s >= 0 && std::isfinite(p.u_sound_speed_m_s), name, p,
          "uncertainty of the speed of sound is below 0 or missing");
}

class Grid {
 public:
  Grid(const std::string& name, std::span<const LiquidPoint> points, const PressureEffect& effect);

  const std::vector<double>& temperatures_K() const { return temperatures_K_; }
  const std::vector<double>& fractions() const { return fractions_; }
  const std::vector<double>& pressures_Pa() const { return pressures_Pa_; }
  // Of the points, for the pressure effect: the density itself may end within the table, and
  // nothing must jump there.
  double mean_density_kg_m3() const { return mean_density_kg_m3_; }

  // The quantities on one isobar.
  Values on_isobar(std::size_t isobar, const Hermite& temperature, const Hermite& fraction) const;

 private:
  std::size_t index(std::size_t fraction, std::size_t isobar, std::size_t temperature) const {
    return (fraction * pressures_Pa_.size() + isobar) * temperatures_K_.size() + temperature;
  }
  void place(const std::string& name, std::span<const LiquidPoint> points);
  void continue_isobars(const PressureEffect& effect);
  void continue_isobar(std::size_t fraction, std::size_t isobar, std::size_t donor,
                       const std::vector<Node>& given, const PressureEffect& effect);
  void complete_compositions();
  void complete(std::size_t fraction, std::size_t isobar, std::size_t temperature,
                Quantity quantity, const std::vector<Node>& given);
  void require_complete(const std::string& name) const;
  void set_slopes();

  std::vector<double> temperatures_K_, fractions_, pressures_Pa_;
  double mean_density_kg_m3_ = kAnyDensity_kg_m3;
  std::vector<Node> nodes_;
};

std::vector<double> sorted_unique(std::vector<double> values) {
  std::ranges::sort(values);
  const auto repeated = std::ranges::unique(values);
  values.erase(repeated.begin(), repeated.end());
  return values;
}

Grid::Grid(const std::string& name, std::span<const LiquidPoint> points,
           const PressureEffect& effect) {
  if (points.empty()) throw std::invalid_argument(name + ": no points");
  double density_sum = 0, densities = 0;
  for (const LiquidPoint& point : points) {
    check_point(name, point);
    if (!std::isnan(point.density_kg_m3)) {
      density_sum += point.density_kg_m3;
      ++densities;
    }
    temperatures_K_.push_back(point.temperature_degC + kIcePoint_K);
    fractions_.push_back(point.mass_percent / 100);
    pressures_Pa_.push_back(point.pressure_bar * kBar_Pa);
  }
  if (densities > 0) mean_density_kg_m3_ = density_sum / densities;
  temperatures_K_ = sorted_unique(std::move(temperatures_K_));
  fractions_ = sorted_unique(std::move(fractions_));
  std::vector<double> isobars;
  for (double pressure_Pa : sorted_unique(std::move(pressures_Pa_))) {
    if (isobars.empty() || pressure_Pa > isobars.back() + kSameIsobar_bar * kBar_Pa) {
      isobars.push_back(pressure_Pa);
    }
  }
  pressures_Pa_ = std::move(isobars);
  nodes_.resize(temperatures_K_.size() * fractions_.size() * pressures_Pa_.size());
  place(name, points);
  continue_isobars(effect);
  complete_compositions();
  require_complete(name);
  set_slopes();
}

void Grid::place(const std::string& name, std::span<const LiquidPoint> points) {
  const auto last_not_above = [](const std::vector<double>& axis, double at) {
    return static_cast<std::size_t>(std::ranges::upper_bound(axis, at) - axis.begin()) - 1;
  };
  for (const LiquidPoint& point : points) {
    Values& at =
        nodes_[index(last_not_above(fractions_, point.mass_percent / 100),
                     last_not_above(pressures_Pa_, point.pressure_bar * kBar_Pa),
                     last_not_above(temperatures_K_, point.temperature_degC + kIcePoint_K))]
            .value;
    require(std::isnan(at[kSoundSpeedSquared]), name, point, "another point stands there");
    at = {point.sound_speed_m_s * point.sound_speed_m_s, point.density_kg_m3,
          std::log(point.viscosity_mPa_s * 1e-3), point.u_sound_speed_m_s};
  }
}

void Grid::continue_isobars(const PressureEffect& effect) {
  const std::vector<Node> given = nodes_;
  for (std::size_t x = 0; x < fractions_.size(); ++x) {
    for (std::size_t k = pressures_Pa_.size() - 1; k-- > 0;) {
      continue_isobar(x, k, k + 1, given, effect);
    }
    for (std::size_t k = 1; k < pressures_Pa_.size(); ++k) {
      continue_isobar(x, k, k - 1, given, effect);
    }
  }
}

// Fills what an isobar lacks from the `donor` beside it. With S the stiffening and G the ratio of
// heat capacities, both constant along the isobar,
//
//     d(c^2)/dp = 2 S / rho,  d(rho)/dp = G / c^2,  d(ln mu)/dp = constant.
//
// They are had from the nearest temperature at which the table holds both isobars.
void Grid::continue_isobar(std::size_t x, std::size_t k, std::size_t donor,
                           const std::vector<Node>& given, const PressureEffect& effect) {
  const double step_Pa = pressures_Pa_[k] - pressures_Pa_[donor];
  for (const Quantity quantity : kProperties) {
    for (std::size_t t = 0; t < temperatures_K_.size(); ++t) {
      Values& to = nodes_[index(x, k, t)].value;
      const Values& from = nodes_[index(x, donor, t)].value;
      if (!std::isnan(to[quantity]) || std::isnan(from[quantity])) continue;

      double change = quantity == kSoundSpeedSquared ? 2 * effect.stiffening * step_Pa
                      : quantity == kDensity         ? effect.heat_capacity_ratio * step_Pa
                                                     : 0;
      const auto scale = [&](const Values& at) {
        const double density = std::isnan(at[kDensity]) ? mean_density_kg_m3_ : at[kDensity];
        return quantity == kSoundSpeedSquared ? density
               : quantity == kDensity         ? at[kSoundSpeedSquared]
                                              : 1;
      };
      double nearest_K = std::numeric_limits<double>::infinity();
      for (std::size_t other = 0; other < temperatures_K_.size(); ++other) {
        const Values& low = given[index(x, k, other)].value;
        const Values& high = given[index(x, donor, other)].value;
        const double away_K = std::abs(temperatures_K_[other] - temperatures_K_[t]);
        if (std::isnan(low[quantity]) || std::isnan(high[quantity]) || away_K >= nearest_K) {
          continue;
        }
        nearest_K = away_K;
        change = (low[quantity] - high[quantity]) * scale(high);
      }
      to[quantity] = from[quantity] + change / scale(from);
      if (quantity == kSoundSpeedSquared) {
        const double change_m_s =
            std::sqrt(to[kSoundSpeedSquared]) - std::sqrt(from[kSoundSpeedSquared]);
        to[kUSoundSpeed] = std::hypot(from[kUSoundSpeed], kFillError * change_m_s);
      }
    }
  }
}

void Grid::complete_compositions() {
  const std::vector<Node> given = nodes_;
  for (std::size_t x = 0; x < fractions_.size(); ++x) {
    for (std::size_t k = 0; k < pressures_Pa_.size(); ++k) {
      for (std::size_t t = 0; t < temperatures_K_.size(); ++t) {
        for (const Quantity quantity : kProperties) complete(x, k, t, quantity, given);
      }
    }
  }
}

// Carries a composition from the nearest temperature where it is known to another, by the change
// between those temperatures of the nearest compositions on both sides that hold the two.
void Grid::complete(std::size_t x, std::size_t k, std::size_t t, Quantity quantity,
                    const std::vector<Node>& given) {
  Values& to = nodes_[index(x, k, t)].value;
  if (!std::isnan(to[quantity])) return;
  const auto value = [&](std::size_t fraction, std::size_t temperature) {
    return given[index(fraction, k, temperature)].value[quantity];
  };
  const auto change = [&](std::size_t fraction, std::size_t from) {
    return value(fraction, t) - value(fraction, from);
  };
  double nearest_K = std::numeric_limits<double>::infinity();
  for (std::size_t from = 0; from < temperatures_K_.size(); ++from) {
    const double away_K = std::abs(temperatures_K_[from] - temperatures_K_[t]);
    if (std::isnan(value(x, from)) || away_K >= nearest_K) continue;
    std::size_t weaker = x, stronger = x + 1;
    while (weaker > 0 && std::isnan(change(weaker - 1, from))) --weaker;
    while (stronger < fractions_.size() && std::isnan(change(stronger, from))) ++stronger;
    if (weaker == 0 || stronger == fractions_.size()) continue;
    --weaker;
    const double along =
        (fractions_[x] - fractions_[weaker]) / (fractions_[stronger] - fractions_[weaker]);
    const double low = change(weaker, from), high = change(stronger, from);
    nearest_K = away_K;
    to[quantity] = value(x, from) + low + along * (high - low);
    if (quantity == kSoundSpeedSquared) {
      const double difference_m_s = (high - low) / (2 * std::sqrt(to[quantity]));
      to[kUSoundSpeed] =
          std::hypot(given[index(x, k, from)].value[kUSoundSpeed], kFillError * difference_m_s);
    }
  }
}

void Grid::require_complete(const std::string& name) const {
  for (std::size_t x = 0; x < fractions_.size(); ++x) {
    for (std::size_t t = 0; t < temperatures_K_.size(); ++t) {
      // A composition is known on every isobar or on none.
      if (!std::isnan(nodes_[index(x, 0, t)].value[kSoundSpeedSquared])) continue;
      throw std::invalid_argument(fmt::format(
          "{}: the speed of sound at {:.4g} degC is not known for {:.4g} % by mass, and "
          "cannot be had from a weaker and a stronger one; add points, or leave that "
          "temperature out",
          name, temperatures_K_[t] - kIcePoint_K, fractions_[x] * 100));
    }
  }
}

void Grid::set_slopes() {
  std::vector<double> line, slopes;
  const auto along = [&](const std::vector<double>& axis, auto node_at, Values Node::*from,
                         Values Node::*to) {
    for (std::size_t quantity = 0; quantity < kCount; ++quantity) {
      line.clear();
      for (std::size_t i = 0; i < axis.size(); ++i) {
        line.push_back((node_at(i).*from)[quantity]);
      }
      monotone_slopes(axis, line, slopes);
      for (std::size_t i = 0; i < axis.size(); ++i) (node_at(i).*to)[quantity] = slopes[i];
    }
  };
  for (std::size_t k = 0; k < pressures_Pa_.size(); ++k) {
    for (std::size_t t = 0; t < temperatures_K_.size(); ++t) {
      along(
          fractions_, [&](std::size_t x) -> Node& { return nodes_[index(x, k, t)]; }, &Node::value,
          &Node::by_fraction);
    }
    for (std::size_t x = 0; x < fractions_.size(); ++x) {
      const auto at = [&](std::size_t t) -> Node& { return nodes_[index(x, k, t)]; };
      along(temperatures_K_, at, &Node::value, &Node::by_temperature);
      along(temperatures_K_, at, &Node::by_fraction, &Node::by_both);
    }
  }
}

Values Grid::on_isobar(std::size_t isobar, const Hermite& t, const Hermite& x) const {
  Values sum = {};
  for (std::size_t i = 0; i < 2; ++i) {
    if (x.value[i] == 0 && x.slope[i] == 0) continue;
    for (std::size_t j = 0; j < 2; ++j) {
      if (t.value[j] == 0 && t.slope[j] == 0) continue;
      const Node& at = nodes_[index(x.node[i], isobar, t.node[j])];
      for (std::size_t q = 0; q < kCount; ++q) {
        sum[q] += x.value[i] * (t.value[j] * at.value[q] + t.slope[j] * at.by_temperature[q]) +
                  x.slope[i] * (t.value[j] * at.by_fraction[q] + t.slope[j] * at.by_both[q]);
      }
    }
  }
  return sum;
}

// --- Vapour pressure ---------------------------------------------------------------------------

// The two functions of Lee and Kesler, of the reduced temperature.
double simple_fluid(double x) {
  return 5.92714 - 6.09648 / x - 1.28862 * std::log(x) + 0.169347 * std::pow(x, 6);
}
double correction(double x) {
  return 15.2518 - 15.6875 / x - 13.4721 * std::log(x) + 0.43577 * std::pow(x, 6);
}

double acentric_factor(const VapourCurve& curve) {
  const double x = curve.boiling_point_K / curve.critical_temperature_K;
  const double pressure = curve.boiling_pressure_Pa / curve.critical_pressure_Pa;
  if (!(curve.boiling_point_K > 0 && x < 1 && std::isfinite(curve.critical_temperature_K) &&
        curve.boiling_pressure_Pa > 0 && pressure < 1 &&
        std::isfinite(curve.critical_pressure_Pa))) {
    throw std::invalid_argument(
        fmt::format("vapour curve: boiling at {} K and {} Pa does not lie below the critical point "
                    "at {} K and {} Pa",
                    curve.boiling_point_K, curve.boiling_pressure_Pa, curve.critical_temperature_K,
                    curve.critical_pressure_Pa));
  }
  return (std::log(pressure) - simple_fluid(x)) / correction(x);
}

double lee_kesler_Pa(const VapourCurve& curve, double acentric, double temperature_K) {
  const double x = temperature_K / curve.critical_temperature_K;
  return curve.critical_pressure_Pa * std::exp(simple_fluid(x) + acentric * correction(x));
}

// --- The model ---------------------------------------------------------------------------------

class TabulatedLiquid final : public LiquidModel {
 public:
  TabulatedLiquid(std::span<const LiquidPoint> points, TabulatedLiquidOptions options)
      : options_(std::move(options)),
        grid_(options_.name, points, options_.pressure_effect),
        acentric_(options_.vapour_curve ? acentric_factor(*options_.vapour_curve) : 0) {
    const auto& pressures_Pa = grid_.pressures_Pa();
    range_ = {.lowest_temperature_K = grid_.temperatures_K().front(),
              .highest_temperature_K = grid_.temperatures_K().back(),
              .highest_pressure_Pa = pressures_Pa.size() > 1
                                         ? pressures_Pa.back()
                                         : std::max(pressures_Pa.back(), kHighestPressure_Pa),
              .lowest_mass_fraction = grid_.fractions().front(),
              .highest_mass_fraction = grid_.fractions().back()};
    if (range_.highest_mass_fraction == 0) margin_.mass_fraction = 0;
  }

  LiquidProperties at(const LiquidState& state) const override {
    require_state(options_.name, state);
    const double factor = range_factor(options_.name, state, range_, margin_);
    double pressure_Pa = state.pressure_Pa;
    if (const auto boiling_Pa = saturation_pressure_Pa(state.temperature_K)) {
      pressure_Pa = std::max(pressure_Pa, *boiling_Pa);
    }
    const Values got = values(state, pressure_Pa);
    const double sound_speed_m_s = std::sqrt(got[kSoundSpeedSquared]);
    const double u_sound_speed_m_s = std::hypot(got[kUSoundSpeed], u_of_unknown_slopes(state));
    const double viscosity_Pa_s = std::exp(got[kLogViscosity]);
    double relative_u_viscosity = options_.relative_u_viscosity;
    if (grid_.pressures_Pa().size() == 1) {
      relative_u_viscosity +=
          kViscosityPerPressure_1_Pa * std::abs(pressure_Pa - grid_.pressures_Pa().front());
    }
    const auto estimate = [factor](double value, double u) -> std::optional<Estimate> {
      if (std::isnan(value)) return std::nullopt;
      return Estimate{value, factor * u};
    };
    return {.sound_speed_m_s = estimate(sound_speed_m_s, u_sound_speed_m_s),
            .density_kg_m3 = estimate(got[kDensity], options_.relative_u_density * got[kDensity]),
            .viscosity_Pa_s = estimate(viscosity_Pa_s, relative_u_viscosity * viscosity_Pa_s)};
  }

  std::optional<double> saturation_pressure_Pa(double temperature_K) const override {
    if (!(temperature_K > 0 && std::isfinite(temperature_K))) {
      throw std::invalid_argument(
          fmt::format("{}: temperature in K is {}", options_.name, temperature_K));
    }
    const auto& curve = options_.vapour_curve;
    if (!curve || temperature_K > curve->critical_temperature_K) return std::nullopt;
    return lee_kesler_Pa(*curve, acentric_, temperature_K);
  }

  std::optional<double> freezing_temperature_K(const LiquidState& state) const override {
    require_state(options_.name, state);
    return options_.freezing_point_K;
  }

  std::optional<Absorption> absorption(const LiquidState& state) const override {
    const LiquidProperties got = at(state);
    if (!got.density_kg_m3 || !got.viscosity_Pa_s) return std::nullopt;
    return stokes_absorption(got.density_kg_m3->value, got.sound_speed_m_s->value,
                             got.viscosity_Pa_s->value, options_.absorption_factor,
                             options_.relative_u_absorption);
  }

  std::optional<ValidRange> valid_range() const override { return range_; }

  std::string_view source() const override { return options_.source; }

 private:
  Values values(const LiquidState& state, double pressure_Pa) const {
    const Hermite temperature = hermite(grid_.temperatures_K(), state.temperature_K);
    const Hermite fraction = hermite(grid_.fractions(), state.mass_fraction);
    const std::vector<double>& isobars_Pa = grid_.pressures_Pa();
    if (isobars_Pa.size() == 1) {
      return compressed(grid_.on_isobar(0, temperature, fraction),
                        pressure_Pa - isobars_Pa.front());
    }
    const auto above = static_cast<std::size_t>(std::ranges::upper_bound(isobars_Pa, pressure_Pa) -
                                                isobars_Pa.begin());
    const std::size_t right = std::clamp<std::size_t>(above, 1, isobars_Pa.size() - 1);
    const Values low = grid_.on_isobar(right - 1, temperature, fraction);
    const Values high = grid_.on_isobar(right, temperature, fraction);
    const double along =
        (pressure_Pa - isobars_Pa[right - 1]) / (isobars_Pa[right] - isobars_Pa[right - 1]);
    Values got;
    for (std::size_t q = 0; q < kCount; ++q) got[q] = std::lerp(low[q], high[q], along);
    if (along < 0 || along > 1) {
      const Values& end = along < 0 ? low : high;
      const double beyond_m_s =
          std::sqrt(got[kSoundSpeedSquared]) - std::sqrt(end[kSoundSpeedSquared]);
      got[kUSoundSpeed] = std::hypot(end[kUSoundSpeed], kFillError * beyond_m_s);
    }
    return got;
  }

  // From the only isobar to a pressure `step_Pa` above it.
  Values compressed(Values at, double step_Pa) const {
    const PressureEffect& effect = options_.pressure_effect;
    const double density = grid_.mean_density_kg_m3();
    at[kDensity] += effect.heat_capacity_ratio * step_Pa / at[kSoundSpeedSquared];
    at[kSoundSpeedSquared] += 2 * effect.stiffening * step_Pa / density;
    at[kUSoundSpeed] =
        std::hypot(at[kUSoundSpeed],
                   effect.u_stiffening * step_Pa / (density * std::sqrt(at[kSoundSpeedSquared])));
    return at;
  }

  double u_of_unknown_slopes(const LiquidState& state) const {
    const auto& temperatures_K = grid_.temperatures_K();
    const auto& fractions = grid_.fractions();
    double u_m_s = 0;
    if (temperatures_K.size() == 1) {
      u_m_s = kAnySlope_m_s_K * (state.temperature_K - temperatures_K.front());
    }
    if (fractions.size() == 1) {
      u_m_s = std::hypot(u_m_s, kAnySlope_m_s * (state.mass_fraction - fractions.front()));
    }
    return u_m_s;
  }

  TabulatedLiquidOptions options_;
  Grid grid_;
  double acentric_;
  ValidRange range_;
  RangeMargin margin_;
};

}  // namespace

double vapour_pressure_Pa(const VapourCurve& curve, double temperature_K) {
  const double acentric = acentric_factor(curve);
  if (!(temperature_K > 0 && temperature_K <= curve.critical_temperature_K)) {
    throw std::invalid_argument(
        fmt::format("vapour pressure: {} K is not above 0 and up to the "
                    "critical temperature of {} K",
                    temperature_K, curve.critical_temperature_K));
  }
  return lee_kesler_Pa(curve, acentric, temperature_K);
}

std::shared_ptr<const LiquidModel> make_tabulated_liquid(std::span<const LiquidPoint> points,
                                                         TabulatedLiquidOptions options) {
  return std::make_shared<TabulatedLiquid>(points, std::move(options));
}

}  // namespace slantrule
