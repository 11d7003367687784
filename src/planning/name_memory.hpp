#pragma once

/// What the names of a job mean, each worked out once: look-ups by text cost far more than the rest
/// of `resolve`, and a list of pipes names the same few things over and over.

#include <cstddef>
#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <utility>
#include <vector>

#include "pipe_identity.hpp"
#include "slantrule/catalogue/catalogue.hpp"
#include "slantrule/catalogue/liquid_designation.hpp"
#include "slantrule/catalogue/size_designation.hpp"
#include "slantrule/planning/resolved_job.hpp"

namespace slantrule {

/// Answers by text.
template <class Answer>
class Remembered {
 public:
  template <class WorkOut>
  Answer& get(std::string_view text, const WorkOut& work_out) {
    auto found = answers_.find(text);
    if (found == answers_.end()) found = answers_.emplace(std::string(text), work_out()).first;
    return found->second;
  }
  std::size_t size() const { return answers_.size(); }
  void forget() { answers_.clear(); }

 private:
  struct Hash {
    using is_transparent = void;
    std::size_t operator()(std::string_view text) const {
      return std::hash<std::string_view>()(text);
    }
  };
  std::unordered_map<std::string, Answer, Hash, std::equal_to<>> answers_;
};

/// A solid by name.
struct NamedSolid {
  Found<SolidRecord> found;
  std::optional<ResolvedMaterial> material;  ///< of the record
  std::string family;  ///< of pipe standards; else the record's key; empty: not found
  bool galvanised = false;
};

/// A size designation together with a family.
struct NamedSize {
  SizeReading reading;
  std::string row_text;  ///< the row with its standard: "ASME B36.10M NPS 6 sch 40"
};

/// What a liquid's name says beside what it is.
struct LiquidWords {
  bool food = false, oxidiser = false;
};

/// The catalogue must outlive it and stay as it is. Not for several threads. What is remembered of
/// a text never depends on anything but the text and the catalogue.
class NameMemory {
 public:
  explicit NameMemory(const Catalogue& catalogue) : catalogue_(catalogue) {}

  const Catalogue& catalogue() const { return catalogue_; }

  const NamedSolid& solid(std::string_view name);
  const NamedSize& size(std::string_view text, std::string_view family);
  /// All rows of the size of a row, in the order of the tables.
  const std::vector<const PipeRecord*>& walls(const PipeRecord& row);
  const LiquidReading& liquid(std::string_view text);
  const LiquidWords& liquid_words(std::string_view name);
  const Found<FittingRecord>& fitting(std::string_view key);
  const Found<CouplantRecord>& couplant(std::string_view key);
  const Found<SensorPairRecord>& sensor_pair(std::string_view key);
  const SizesByDiameter& sizes_by_diameter(std::string_view family);
  /// As make_liquid; throws as it does.
  std::shared_ptr<const LiquidModel> model(const LiquidRecord& row,
                                           std::optional<double> parameter);
  /// What two bends close together count as.
  const ResolvedFitting& bend_pair();

  /// Forgets all where too much has come together. What was handed out before is gone then, so only
  /// between two jobs.
  void make_room();

 private:
  const Catalogue& catalogue_;
  Remembered<NamedSolid> solids_;
  Remembered<Remembered<NamedSize>> sizes_;  ///< by family, then by text
  std::map<const PipeRecord*, std::vector<const PipeRecord*>> walls_;
  Remembered<LiquidReading> liquids_;
  Remembered<LiquidWords> liquid_words_;
  Remembered<Found<FittingRecord>> fittings_;
  Remembered<Found<CouplantRecord>> couplants_;
  Remembered<Found<SensorPairRecord>> sensor_pairs_;
  Remembered<SizesByDiameter> sizes_by_diameter_;
  std::map<std::pair<const LiquidRecord*, std::optional<double>>,
           std::shared_ptr<const LiquidModel>>
      models_;
  std::optional<ResolvedFitting> bend_pair_;
  std::size_t worked_out_ = 0;  ///< texts since the last make_room that forgot
};

/// The family of pipe standards of the job's wall material (pipe_family); for a material without
/// standards its key; empty when it is inline or not found.
std::string_view material_family(const PipeRequest& pipe, NameMemory& names);

/// Whether the name is one of the trade's for galvanised steel, which the catalogue takes for plain
/// steel.
bool is_galvanised(std::string_view material);

/// The catalogue's row as a material of a job.
ResolvedMaterial catalogue_material(const SolidRecord& row);
/// The catalogue's row as a fitting of a job, without its distance.
ResolvedFitting catalogue_fitting(const FittingRecord& row);

}  // namespace slantrule
