#pragma once

/// What to load on the truck for a list of pipes: counted row by row, so that the memory taken
/// grows with the kinds of things to load and not with the rows.

#include <array>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "slantrule/catalogue/catalogue.hpp"
#include "slantrule/planning/packing_aids.hpp"
#include "slantrule/planning/plan.hpp"
#include "slantrule/planning/safety.hpp"

namespace slantrule {

struct PackRow {
  std::size_t row = 0;  ///< of the list, from 1
  std::string tag;      ///< as written, its first 256 bytes
};

/// How many rows, and the first of them. What several workers counted comes to the same as what one
/// did, as long as no row is split.
class PackRows {
 public:
  static constexpr std::size_t most_examples = 20;

  /// Counts a row once, however often it is added in a run.
  void add(const PackRow& row);
  void merge(const PackRows& other);
  std::size_t count() const { return count_; }
  /// The rows with the least numbers, ascending.
  const std::vector<PackRow>& examples() const { return examples_; }

 private:
  void keep(const PackRow& row);

  std::size_t count_ = 0, last_ = 0;
  std::vector<PackRow> examples_;
};

/// Least and greatest of some numbers; `empty` of none.
struct PackRange {
  double least = std::numeric_limits<double>::infinity();
  double greatest = -std::numeric_limits<double>::infinity();

  bool empty() const { return least > greatest; }
  void add(double value);
  void merge(const PackRange& other);
};

/// PackClasses in which lengths are counted where no kit says what there is: up to each limit, and
/// one more beyond the last (proposal).
inline constexpr std::array<double, 4> rail_classes_m = {0.15, 0.3, 0.6, 1.0};
inline constexpr std::array<double, 6> girth_classes_m = {0.3, 0.6, 1.2, 2.0, 3.5, 6.0};

template <std::size_t N>
struct PackClasses {
  std::array<std::size_t, N + 1> counts{};

  void add(const std::array<double, N>& limits, double value) {
    std::size_t at = 0;
    while (at < N && value > limits[at]) ++at;
    ++counts[at];
  }
  void merge(const PackClasses& other) {
    for (std::size_t i = 0; i <= N; ++i) counts[i] += other.counts[i];
  }
};

/// Straps a pair takes: one for each sensor, or for each end of the fixture (common practice, no
/// source).
inline constexpr std::size_t straps_per_pair = 2;

struct PackOptions {
  std::size_t at_once = 1;  ///< pipes measured at the same time; 0 counts as 1
  /// What couplants there are; empty: the built-in ones. Their texts must outlive the report.
  std::vector<CouplantRecord> couplants = {};
};

/// Built-in and user's rows, a user's in the place of a built-in one with the same key.
std::vector<CouplantRecord> couplants_of(const Catalogue& catalogue);

/// Why no item at hand serves a pipe.
enum class PackLack : std::uint8_t {
  pair_not_in_kit,
  pair_path,         ///< no pair has a path
  pair_range,        ///< the diameter is outside every pair's range
  pair_temperature,  ///< the surface is outside every pair's rating
  rail,              ///< the spacing is outside every rail
  strap,             ///< the girth is beyond every strap
  couplant_range,    ///< the surface is outside every couplant's temperatures
  couplant_kind,  ///< one stands the temperature, but not the wall: wet, rough, closed in, harmed
  count_
};
inline constexpr std::size_t pack_lack_count = static_cast<std::size_t>(PackLack::count_);
std::string_view pack_lack_name(PackLack lack);

struct PackPair {
  std::string key;
  double frequency_Hz = 0;
  bool invented = false;
  bool in_kit = false;
  PackRows rows;  ///< none: of the kit, but no pipe is planned with it
  PackRange outside_diameter_m, spacing_m, surface_K;
  std::size_t number = 0;  ///< to load
};

struct PackRail {
  ResolvedRail rail;
  PackRows rows;  ///< that it takes
  PackRange spacing_m;
  std::size_t number = 0;  ///< to load; 0: others do
};

struct PackStrap {
  ResolvedStrap strap;
  PackRows rows;  ///< for which it is the shortest that goes round
  PackRange girth_m;
  std::size_t number = 0;
};

struct PackCouplant {
  std::string key, name;
  double lowest_K = 0, highest_K = 0;
  std::optional<double> limit_K;  ///< never above
  std::string lasts;
  bool in_kit = false;
  bool harms = false;  ///< some materials are said to be harmed by it
  PackRows rows;       ///< that it suits
  PackRange surface_K;
  bool load = false;
};

struct PackAidUse {
  PackAid aid = PackAid::count_;
  PackRows rows;
  PackRange value_m;
  PackRows not_in_kit;  ///< rows whose kit lists gauges, but not this one
};

struct PackSafety {
  SafetyId id = SafetyId::count_;
  PackRows rows;
  PackRange value;
  ValueKind kind = ValueKind::none;
  std::set<std::string> subjects;  ///< at most 8, the first by their letters
  bool more_subjects = false;
};

struct PackCheck {
  CheckId check = CheckId::count_;
  PackRows rows;
};

struct PackLacking {
  PackLack lack = PackLack::count_;
  PackRows rows;
  PackRange value;  ///< of what is not served: lengths in metres, temperatures in kelvins
};

/// All in the order of the list. `load`: rows that are worth going to, on which everything but the
/// stops, the lacks of pairs and the refused rows is counted.
struct PackReport {
  std::size_t at_once = 1;
  PackRows load;
  PackRows stopped;   ///< every candidate stops
  PackRows may_stop;  ///< some candidates stop: in `load` too
  PackRows refused;
  PackRows unserved;         ///< for which some item is lacking, whichever candidate is true
  PackRows unserved_loaded;  ///< those of them that are in `load`
  PackRows may_lack;         ///< for some candidates of which an item is lacking: not in `unserved`

  std::vector<PackPair> pairs;
  PackRows same_side, opposite_sides;
  PackRange same_spacing_m, opposite_spacing_m, overall_m;
  std::vector<PackRail> rails;
  PackRows without_rails;  ///< on one side, and their kit lists no rails
  PackClasses<rail_classes_m.size()> spacing_classes, overall_classes;  ///< of `without_rails`
  PackRows by_marks;  ///< opposite sides, strapped by marks alone
  std::vector<PackStrap> straps;
  PackRows without_straps;                            ///< their kit lists no straps
  PackRange girth_m;                                  ///< of all
  PackClasses<girth_classes_m.size()> girth_classes;  ///< of `without_straps`
  std::vector<PackCouplant> couplants;
  PackRange surface_K;
  PackRows named_unfit;              ///< the couplant that the row names does not suit it
  PackRows food;                     ///< the liquid is food
  PackRows plastic;                  ///< the couplant touches a plastic
  std::vector<PackAidUse> aids;      ///< those that some row asks for
  std::vector<PackCheck> questions;  ///< what a check must know and the row doesn't say
  std::vector<PackSafety> safety;
  std::vector<PackLacking> lacks;      ///< of `unserved`
  std::vector<PackLacking> may_lacks;  ///< of `may_lack`
  std::vector<PackCheck> stops;
};

/// Counts the rows of a list. Workers may count parts of it each and be merged: the report doesn't
/// depend on how the list is split, as long as all candidates of a row come to the same worker, one
/// after another. Pure.
class Packing {
 public:
  explicit Packing(PackOptions options = {});

  /// One candidate of a row, planned with findings.
  void add(std::size_t row, std::string_view tag, const ResolvedJob& job, const Plan& plan);
  void add_refused(std::size_t row, std::string_view tag);
  void merge(const Packing& other);
  PackReport report() const;

 private:
  /// Where an item was first seen: the order in which its kit lists it.
  struct Seen {
    std::size_t row = std::numeric_limits<std::size_t>::max();
    std::size_t position = 0;
    auto operator<=>(const Seen&) const = default;
  };
  template <class Item>
  struct Listed {
    Item item;
    Seen seen;
  };
  template <class Item>
  using Items = std::map<std::string, Listed<Item>>;
  /// Ids of the items that would each serve one candidate; those of all candidates of a row.
  using Servers = std::set<std::string>;
  using RowServers = std::set<Servers>;
  using Cover = std::map<RowServers, std::size_t>;

  /// What one candidate asks for.
  struct Case {
    bool stops = false;
    FoundChecks found;
    std::bitset<check_count> stop_checks;
    std::string pair;
    double outside_diameter_m = 0, wall_m = 0, surface_K = 0, temperature_K = 0, girth_m = 0;
    std::optional<double> spacing_m, overall_m;
    bool same_side = true, by_marks = false, lists_rails = false, lists_straps = false;
    std::optional<Servers> rails;  ///< absent: no rail is asked for
    std::string strap;
    Servers couplants;
    bool named_unfit = false, plastic = false;
    PackAids aids, aids_not_in_kit;
    std::array<std::optional<double>, pack_aid_count> aid_values;
    std::vector<SafetyCaution> safety;
    std::bitset<pack_lack_count> lacks;
    std::array<double, pack_lack_count> lack_values{};
  };

  void list_kit(std::size_t row, const ResolvedJob& job);
  void look_at_pair(const ResolvedJob& job, Case& one) const;
  void look_at_fixing(const ResolvedJob& job, const Plan& plan, Case& one) const;
  void look_at_couplant(std::size_t row, const ResolvedJob& job, const Plan& plan, Case& one);
  void flush();
  void count(const Case& one);
  void count_fixing(const Case& one);
  void count_lacks(bool loaded);
  void merge_counts(const PackReport& other);
  std::vector<CouplantRecord> couplants_at_hand(const ResolvedKit& kit) const;

  std::vector<CouplantRecord> couplants_;
  PackReport counts_;  ///< without the lists, which are made for the report
  Items<PackPair> pairs_;
  Items<PackRail> rails_;
  Items<PackStrap> straps_;
  Items<PackCouplant> couplant_items_;
  Cover rail_cover_, couplant_cover_;
  std::array<PackAidUse, pack_aid_count> aids_;
  std::array<PackSafety, safety_count> safety_;
  std::array<PackRows, check_count> questions_, stops_;
  std::array<PackLacking, pack_lack_count> lacks_, may_lacks_;

  PackRow pending_row_;
  std::vector<Case> pending_;
};

}  // namespace slantrule
