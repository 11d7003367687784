#include "name_memory.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <initializer_list>

#include "slantrule/catalogue/liquid_factory.hpp"
#include "slantrule/catalogue/pipe_standards.hpp"
#include "slantrule/planning/defaults.hpp"
#include "slantrule/units/suggest.hpp"

namespace slantrule {
namespace {

/// Texts that are kept at most, give or take one job's: some megabytes. A plant's list names a few
/// hundred.
constexpr std::size_t most_texts = 5000;

bool has_any_word(std::string_view folded, std::initializer_list<std::string_view> words) {
  return std::ranges::any_of(words,
                             [&](std::string_view word) { return has_word(folded, word, '_'); });
}

std::string text_with_standard(const PipeRecord& row) {
  const std::string text = size_text(row);
  return text.starts_with(row.standard) ? text : fmt::format("{} {}", row.standard, text);
}

}  // namespace

bool is_galvanised(std::string_view material) {
  const std::string name = folded_name(material);
  return name.find("galv") != name.npos || name == "gi" || name == "gal";
}

std::string_view material_family(const PipeRequest& pipe, NameMemory& names) {
  if (pipe.material.options.empty()) return {};
  const MaterialRequest& material = pipe.material.options.front().value;
  if (material.is_inline || !material.name.value) return {};
  return names.solid(*material.name.value).family;
}

ResolvedMaterial catalogue_material(const SolidRecord& row) {
  ResolvedMaterial out;
  out.key = row.key;
  out.name = row.name;
  out.family = row.family;
  out.source = row.source;
  out.attenuation_note = row.attenuation_note;
  out.longitudinal_loss = standard_loss(row, WaveMode::longitudinal);
  out.shear_loss = standard_loss(row, WaveMode::shear);
  out.loss_known = !std::isnan(row.longitudinal_dB_m);
  const auto wave = [](double speed_m_s, double slope_m_s_K,
                       double u_m_s) -> std::optional<WaveSpeed> {
    if (std::isnan(speed_m_s)) return std::nullopt;
    return WaveSpeed{speed_m_s, std::isnan(slope_m_s_K) ? 0 : slope_m_s_K,
                     defaults::solid_reference_K, u_m_s};
  };
  out.longitudinal =
      wave(row.longitudinal_m_s, row.longitudinal_slope_m_s_K, standard_u_longitudinal_m_s(row));
  out.shear = wave(row.shear_m_s, row.shear_slope_m_s_K, standard_u_shear_m_s(row));
  if (!std::isnan(row.density_kg_m3)) out.density_kg_m3 = row.density_kg_m3;
  return out;
}

ResolvedFitting catalogue_fitting(const FittingRecord& row) {
  return {.key = std::string(row.key),
          .name = std::string(row.name),
          .upstream_D = row.upstream_D,
          .downstream_D = row.downstream_D,
          .bend = row.bend,
          .mark_only = row.mark_only,
          .distance_m = {},
          .distance_D = {},
          .source = std::string(row.source)};
}

const NamedSolid& NameMemory::solid(std::string_view name) {
  return solids_.get(name, [&] {
    ++worked_out_;
    NamedSolid out{.found = catalogue_.solid(name), .material = {}, .family = {}};
    out.galvanised = is_galvanised(name);
    if (const SolidRecord* row = out.found.record) {
      out.material = catalogue_material(*row);
      out.family = pipe_family(row->key);
      if (out.family.empty()) out.family = row->key;
    }
    return out;
  });
}

const NamedSize& NameMemory::size(std::string_view text, std::string_view family) {
  Remembered<NamedSize>& of_family = sizes_.get(family, [] { return Remembered<NamedSize>(); });
  return of_family.get(text, [&] {
    ++worked_out_;
    NamedSize out{.reading = read_size(text, family, catalogue_), .row_text = {}};
    if (out.reading.row) out.row_text = text_with_standard(*out.reading.row);
    return out;
  });
}

const std::vector<const PipeRecord*>& NameMemory::walls(const PipeRecord& row) {
  const auto [found, is_new] = walls_.try_emplace(&row);
  std::vector<const PipeRecord*>& walls = found->second;
  if (is_new) {
    ++worked_out_;
    walls = pipes_near(row.outside_diameter_mm / 1000, 1e-6, catalogue_);
    std::erase_if(walls, [&](const PipeRecord* one) {
      return one->standard != row.standard || one->designation != row.designation;
    });
  }
  return walls;
}

const LiquidReading& NameMemory::liquid(std::string_view text) {
  return liquids_.get(text, [&] {
    ++worked_out_;
    return read_liquid(text, catalogue_);
  });
}

const LiquidWords& NameMemory::liquid_words(std::string_view name) {
  return liquid_words_.get(name, [&] {
    ++worked_out_;
    const std::string folded = folded_name(name);
    return LiquidWords{
        .food = has_any_word(folded, {"milk", "cream", "beer", "wort", "wine", "juice", "syrup",
                                      "edible", "vegetable", "food"}),
        .oxidiser = has_any_word(folded, {"oxygen", "peroxide"})};
  });
}

const Found<FittingRecord>& NameMemory::fitting(std::string_view key) {
  return fittings_.get(key, [&] {
    ++worked_out_;
    return catalogue_.fitting(key);
  });
}

const Found<CouplantRecord>& NameMemory::couplant(std::string_view key) {
  return couplants_.get(key, [&] {
    ++worked_out_;
    return catalogue_.couplant(key);
  });
}

const Found<SensorPairRecord>& NameMemory::sensor_pair(std::string_view key) {
  return sensor_pairs_.get(key, [&] {
    ++worked_out_;
    return catalogue_.sensor_pair(key);
  });
}

const SizesByDiameter& NameMemory::sizes_by_diameter(std::string_view family) {
  return sizes_by_diameter_.get(family, [&] { return SizesByDiameter(family, catalogue_); });
}

std::shared_ptr<const LiquidModel> NameMemory::model(const LiquidRecord& row,
                                                     std::optional<double> parameter) {
  const auto key = std::pair(&row, parameter);
  if (const auto found = models_.find(key); found != models_.end()) return found->second;
  auto made = make_liquid(row, parameter, catalogue_);
  ++worked_out_;
  models_.emplace(key, made);
  return made;
}

const ResolvedFitting& NameMemory::bend_pair() {
  if (!bend_pair_) {
    bend_pair_.emplace();
    if (const FittingRecord* row = fitting("elbows-out-of-plane").record) {
      bend_pair_ = catalogue_fitting(*row);
      bend_pair_->name = "two bends close together";
    }
  }
  return *bend_pair_;
}

void NameMemory::make_room() {
  if (worked_out_ <= most_texts) return;
  worked_out_ = 0;
  solids_.forget();
  sizes_.forget();
  walls_.clear();
  liquids_.forget();
  liquid_words_.forget();
  fittings_.forget();
  couplants_.forget();
  sensor_pairs_.forget();
  models_.clear();
}

}  // namespace slantrule
