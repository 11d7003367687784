#include "slantrule/liquids/measured_liquid.hpp"

#include <cmath>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

#include <fmt/format.h>
#include <fmt/ranges.h>

namespace slantrule {
namespace {

struct Property {
  const char* name;
  std::optional<Estimate> MeasuredProperties::*measured;
  std::optional<Estimate> LiquidProperties::*given;
};
constexpr Property kProperties[] = {
    {"speed of sound", &MeasuredProperties::sound_speed_m_s, &LiquidProperties::sound_speed_m_s},
    {"density", &MeasuredProperties::density_kg_m3, &LiquidProperties::density_kg_m3},
    {"viscosity", &MeasuredProperties::viscosity_Pa_s, &LiquidProperties::viscosity_Pa_s}};

void require_estimate(const char* name, const Estimate& estimate) {
  if (!(estimate.value > 0 && std::isfinite(estimate.value))) {
    throw std::invalid_argument(
        fmt::format("measured {} is {}; it must be above 0", name, estimate.value));
  }
  if (!(estimate.u >= 0 && std::isfinite(estimate.u))) {
    throw std::invalid_argument(fmt::format(
        "uncertainty of the measured {} is {}; it must not be below 0", name, estimate.u));
  }
}

void require_absorption(const Absorption& absorption) {
  const auto require = [](bool holds, const char* what, double value) {
    if (!holds) {
      throw std::invalid_argument(fmt::format("measured absorption: {} is {}", what, value));
    }
  };
  const auto at_least_0 = [](double value) { return value >= 0 && std::isfinite(value); };
  require(at_least_0(absorption.dB_m), "value in dB/m", absorption.dB_m);
  require(absorption.at_Hz > 0 && std::isfinite(absorption.at_Hz), "frequency in Hz",
          absorption.at_Hz);
  require(at_least_0(absorption.power), "power of the frequency", absorption.power);
  require(at_least_0(absorption.relative_u), "relative uncertainty", absorption.relative_u);
}

void require_finite(const LiquidState& state) {
  if (!(std::isfinite(state.temperature_K) && std::isfinite(state.pressure_Pa) &&
        std::isfinite(state.mass_fraction))) {
    throw std::invalid_argument(fmt::format("liquid at {} K, {} Pa, mass fraction {}",
                                            state.temperature_K, state.pressure_Pa,
                                            state.mass_fraction));
  }
}

class MeasuredLiquid final : public LiquidModel {
 public:
  MeasuredLiquid(const MeasuredProperties& measured, std::shared_ptr<const LiquidModel> base)
      : measured_(measured), base_(std::move(base)) {
    std::vector<std::string> measured_names;
    for (const Property& property : kProperties) {
      if (const auto& estimate = measured.*property.measured) {
        require_estimate(property.name, *estimate);
        measured_names.emplace_back(property.name);
      } else if (base_) {
        asks_base_ = true;
      }
    }
    if (measured.absorption) {
      require_absorption(*measured.absorption);
      measured_names.emplace_back("absorption");
    }
    if (!measured_names.empty()) {
      source_ = fmt::format("measured: {}", fmt::join(measured_names, ", "));
    }
    if (asks_base_) {
      source_ += fmt::format("{}{}", source_.empty() ? "" : "; otherwise ", base_->source());
    }
    if (source_.empty()) source_ = "nothing known";
  }

  LiquidProperties at(const LiquidState& state) const override {
    require_finite(state);
    LiquidProperties properties = asks_base_ ? base_->at(state) : LiquidProperties{};
    for (const Property& property : kProperties) {
      if (const auto& estimate = measured_.*property.measured) {
        properties.*property.given = estimate;
      }
    }
    return properties;
  }

  std::optional<double> saturation_pressure_Pa(double temperature_K) const override {
    return base_ ? base_->saturation_pressure_Pa(temperature_K) : std::nullopt;
  }

  std::optional<double> freezing_temperature_K(const LiquidState& state) const override {
    return base_ ? base_->freezing_temperature_K(state) : std::nullopt;
  }

  std::optional<Absorption> absorption(const LiquidState& state) const override {
    require_finite(state);
    if (measured_.absorption) return measured_.absorption;
    if (!base_) return std::nullopt;
    if (asks_base_) return base_->absorption(state);
    // `at` answers in every state then, and so must this.
    try {
      return base_->absorption(state);
    } catch (const std::logic_error&) {  // domain_error, invalid_argument
      return std::nullopt;
    }
  }

  std::optional<ValidRange> valid_range() const override {
    return asks_base_ ? base_->valid_range() : std::nullopt;
  }

  std::string_view source() const override { return source_; }

 private:
  MeasuredProperties measured_;
  std::shared_ptr<const LiquidModel> base_;
  bool asks_base_ = false;
  std::string source_;
};

}  // namespace

std::shared_ptr<const LiquidModel> make_measured_liquid(const MeasuredProperties& measured,
                                                        std::shared_ptr<const LiquidModel> base) {
  return std::make_shared<MeasuredLiquid>(measured, std::move(base));
}

}  // namespace slantrule
