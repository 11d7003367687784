#include "slantrule/files/catalogue_file.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <numbers>

#include "slantrule/files/request_reader.hpp"
#include "slantrule/units/suggest.hpp"

namespace slantrule {
namespace {

constexpr std::string_view user_source = "catalogue file of the user";

double or_absent(const QuantityEntry& entry, double factor = 1, double offset = 0) {
  return entry.options.empty() ? absent : entry.options.front().value.si * factor + offset;
}

double or_default(const QuantityEntry& entry, double factor, double otherwise) {
  return entry.options.empty() ? otherwise : entry.options.front().value.si * factor;
}

double u_of(const QuantityEntry& entry) {
  return entry.options.empty() ? 0 : entry.options.front().value.u_si;
}

SensorPairRecord sensor_record(const SensorPairRequest& pair) {
  const WedgeRequest& wedge = *pair.wedge.value;
  const auto degC = [](const std::optional<Reading>& at) { return at ? at->si - 273.15 : absent; };
  const auto mm = [](const std::optional<Reading>& at) { return at ? at->si * 1e3 : absent; };
  SensorPairRecord row{};
  row.key = *pair.key.value;
  row.about = pair.about.value ? std::string_view(*pair.about.value) : std::string_view();
  row.invented = pair.invented.value.value_or(false);
  row.frequency_MHz = or_absent(pair.frequency, 1e-6);
  row.element_mm = or_absent(pair.element, 1e3);
  row.wedge_sound_speed_m_s = or_absent(wedge.sound_speed);
  row.wedge_at_degC = wedge.at.given() ? or_absent(wedge.at, 1, -273.15) : 20;
  row.wedge_slope_m_s_K = or_absent(wedge.slope);
  row.wedge_angle_deg = or_absent(wedge.angle, 180 / std::numbers::pi);
  row.wedge_path_mm = or_default(wedge.path, 1e3, 0);
  row.setback_mm = or_absent(pair.setback, 1e3);
  row.nose_mm = or_absent(pair.nose, 1e3);
  row.length_mm = or_absent(pair.length, 1e3);
  row.lowest_degC = degC(pair.temperature.low);
  row.highest_degC = degC(pair.temperature.high);
  row.mark = pair.mark.value ? std::string_view(*pair.mark.value) : std::string_view();
  row.source = user_source;
  row.delay_us = or_default(pair.delay, 1e6, 0);
  row.cycles = pair.cycles.value.value_or(4);
  row.least_face_gap_mm = or_default(pair.least_face_gap, 1e3, 0);
  row.smallest_pipe_mm = mm(pair.pipe_range.low);
  row.largest_pipe_mm = mm(pair.pipe_range.high);
  row.zero_stability_ns = or_absent(pair.zero_stability, 1e9);
  row.u_wedge_sound_speed_m_s = u_of(wedge.sound_speed);
  return row;
}

SolidRecord solid_record(std::string_view key, const MaterialRequest& material) {
  SolidRecord row{};
  row.key = key;
  row.name = *material.name.value;
  row.family = SolidFamily::metal;
  row.longitudinal_m_s = or_absent(material.longitudinal);
  row.shear_m_s = or_absent(material.shear);
  row.density_kg_m3 = or_absent(material.density);
  row.longitudinal_slope_m_s_K = or_absent(material.longitudinal_slope);
  row.shear_slope_m_s_K = or_absent(material.shear_slope);
  // Without a tolerance the uncertainty isn't nought but unknown.
  const double u_m_s = u_of(material.longitudinal);
  row.u_longitudinal_m_s = u_m_s > 0 ? u_m_s : absent;
  row.source = user_source;
  row.confidence = Confidence::published;
  row.recommended = true;
  row.usable = true;
  return row;
}

class CatalogueReader {
 public:
  CatalogueReader(Catalogue& catalogue, std::vector<Problem>& problems)
      : catalogue_(catalogue), problems_(problems), reader_(problems, no_files_) {}

  void sensors(const JsonNode& list) {
    each(list, "sensors", [&](const JsonNode& node, const std::string& path) {
      SensorPairRequest pair;
      reader_.read_object(node, path, pair);
      closed(pair, path);
      require(node, path, "key", pair.key.value && !folded_name(*pair.key.value).empty());
      require(node, path, "frequency", pair.frequency.given());
      require(node, path, "setback", pair.setback.given());
      const bool wedge = pair.wedge.value && pair.wedge.value->sound_speed.given() &&
                         pair.wedge.value->angle.given();
      require(node, path, "wedge", wedge);
      if (wedge) {
        const QuantityEntry& angle = pair.wedge.value->angle;
        refuse(angle.options.front().value.si >= std::numbers::pi / 2, angle.place,
               path + ".wedge.angle",
               "must lie between 0 and 90 degrees, counted from the pipe normal");
      }
      ordered(pair.temperature, path + ".temperature");
      ordered(pair.pipe_range, path + ".pipe_range");
      if (clean()) catalogue_.add(sensor_record(pair));
    });
  }

  void solids(const JsonNode& list) {
    each(list, "solids", [&](const JsonNode& node, const std::string& path) {
      static constexpr std::string_view also[] = {"key"};
      MaterialRequest material;
      reader_.read_object(node, path, material, also);
      closed(material, path);
      const JsonNode* key = node.find("key");
      require(node, path, "key",
              key && key->kind == JsonNode::Kind::text && !folded_name(key->text).empty());
      require(node, path, "name", material.name.value.has_value());
      require(node, path, "longitudinal", material.longitudinal.given());
      if (material.at.given()) {
        const double at_K = material.at.options.front().value.si;
        refuse(at_K < 293.1 || at_K > 293.2, material.at.place, path + ".at",
               "must be 20 degC in a catalogue; convert the speeds with their slopes");
      }
      if (clean()) catalogue_.add(solid_record(key->text, material));
    });
  }

 private:
  template <class ReadRow>
  void each(const JsonNode& list, const std::string& kind, const ReadRow& read_row) {
    if (list.kind != JsonNode::Kind::list) {
      problems_.push_back({list.place, kind, "must be a list of objects"});
      return;
    }
    for (std::size_t i = 0; i < list.items.size(); ++i) {
      const std::string path = fmt::format("{}[{}]", kind, i);
      if (list.items[i].kind != JsonNode::Kind::object) {
        problems_.push_back({list.items[i].place, path, "must be an object"});
        continue;
      }
      before_ = problems_.size();
      read_row(list.items[i], path);
    }
  }

  void require(const JsonNode& node, const std::string& path, std::string_view key, bool there) {
    if (!there && clean_of(path + "." + std::string(key))) {
      problems_.push_back({node.place, joined_key(path, key), "is missing or incomplete"});
    }
  }

  void refuse(bool wrong, Place place, const std::string& key, const char* message) {
    if (wrong) problems_.push_back({place, key, message});
  }

  void ordered(const RangeRequest& range, const std::string& key) {
    refuse(range.low && range.high && range.low->si > range.high->si, range.place, key,
           "has its greater value first; write the lower one first");
  }

  /// Candidates are for jobs: a row of a catalogue has one value a key.
  template <KeyedRequest Request>
  void closed(const Request& row, const std::string& path) {
    visit_all_keys(row, path, [&](const std::string& key, const KeyInfo&, const auto& entry) {
      if constexpr (requires { entry.open(); }) {
        refuse(entry.open(), entry.place, key, "must be one value in a catalogue");
      }
    });
  }

  /// Whether this row already has a problem with the key, so that it isn't told twice.
  bool clean_of(const std::string& key) const {
    for (std::size_t i = before_; i < problems_.size(); ++i) {
      if (problems_[i].key.starts_with(key)) return false;
    }
    return true;
  }
  bool clean() const { return problems_.size() == before_; }

  Catalogue& catalogue_;
  std::vector<Problem>& problems_;
  ReadNamedFile no_files_;
  RequestReader reader_;
  std::size_t before_ = 0;
};

}  // namespace

std::vector<Problem> read_catalogue(std::string_view text, Catalogue& catalogue) {
  std::vector<Problem> problems;
  const JsonNode root = parse_json(text, problems);
  if (!problems.empty()) return problems;
  if (root.kind != JsonNode::Kind::object) {
    problems.push_back({root.place, "", "must hold one object: { \"sensors\": [ ... ] }"});
    return problems;
  }
  static constexpr std::array<std::string_view, 4> later = {"liquids", "pipes", "couplants",
                                                            "fittings"};
  CatalogueReader reader(catalogue, problems);
  for (const auto& [kind, node] : root.members) {
    if (kind == "sensors") {
      reader.sensors(node);
    } else if (kind == "solids") {
      reader.solids(node);
    } else if (std::find(later.begin(), later.end(), kind) != later.end()) {
      problems.push_back(
          {node.place, kind, "cannot be added by a catalogue file yet; sensors and solids can"});
    } else {
      problems.push_back({node.place, shown(kind),
                          "is no kind of catalogue rows; write \"sensors\" or \"solids\""});
    }
  }
  return problems;
}

}  // namespace slantrule
