#include "slantrule/catalogue/liquid_designation.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <utility>

#include "liquid_parts.hpp"
#include "liquid_vocabulary.hpp"
#include "slantrule/units/number_text.hpp"
#include "slantrule/units/suggest.hpp"

/// Second half of reading a liquid: what its parts mean is looked up in the catalogue. What they do
/// not say is not supplied; every refusal names what the text could mean.

namespace slantrule {
namespace {

using Part = LiquidParts::Part;
using PartKind = LiquidParts::Kind;
using Kind = LiquidReading::Kind;
using Rows = std::vector<const LiquidRecord*>;
using Texts = std::vector<std::string>;

/// No name of a liquid is longer.
constexpr std::size_t longest_text = 200;

/// Shares written in per cent add up to 1 but for the rounding of their decimals.
constexpr double share_rounding = 1e-9;

// --- What liquids have to do with each other ---------------------------------------------------

struct InWater {
  std::string_view liquid, solution;
};
constexpr InWater in_water_rows[] = {
    {"ammonia", "ammonia_aq"},
    {"ethanol", "ethanol_aq"},
    {"ethylene_glycol", "ethylene_glycol_aq"},
    {"glycerol", "glycerol_water"},
    {"methanol", "methanol_coolant"},
    {"propanediol_13", "propanediol_13_aq"},
    {"propylene_glycol", "propylene_glycol_aq"},
};

std::string_view solution_of(std::string_view key) {
  const auto* const found = std::ranges::find(in_water_rows, key, &InWater::liquid);
  return found == std::end(in_water_rows) ? std::string_view() : found->solution;
}
std::string_view solute_of(std::string_view key) {
  const auto* const found = std::ranges::find(in_water_rows, key, &InWater::solution);
  return found == std::end(in_water_rows) ? std::string_view() : found->liquid;
}

template <std::size_t n>
bool is_one_of(const std::string_view (&keys)[n], std::string_view key) {
  return std::ranges::count(keys, key) > 0;
}

/// Gases at 1 atm and room temperature, whose rows hold for the liquid under pressure.
constexpr std::string_view pressure_liquids[] = {
    "ammonia", "carbon_dioxide", "isobutane", "n_butane", "propane", "r134a", "sulfur_dioxide"};

/// Named alone where a mixture with water is meant at least as often.
constexpr std::string_view mostly_mixed[] = {"ethylene_glycol", "propylene_glycol"};
constexpr std::string_view glycol_mixtures[] = {"ethylene_glycol_aq", "propylene_glycol_aq"};

/// Solutions of a liquid, whose per cent may be of volume. That of a salt, acid, gas or sugar is of
/// mass, or means grams in 100 ml.
constexpr std::string_view liquids_in_water[] = {
    "ethanol_aq",     "ethanol_coolant",  "ethylene_glycol_aq", "glycerol_coolant",
    "glycerol_water", "methanol_coolant", "propanediol_13_aq",  "propylene_glycol_aq"};

/// ISO 3448 grades that the mineral oil model knows.
constexpr std::array<int, 11> viscosity_grades{10, 15, 22, 32, 46, 68, 100, 150, 220, 320, 460};

bool takes_viscosity_grade(const LiquidRecord& row) {
  return row.model == "mineral_oil" && row.parameter.empty();
}
bool takes_api_gravity(const LiquidRecord& row) {
  return row.model == "crude_oil" && row.parameter.empty();
}
/// Neither salt nor gas has a share of the volume; of a user's solution it is not known.
bool may_be_by_volume(const LiquidRecord& row) {
  const bool built_in = std::ranges::count(built_in_liquids(), row.key, &LiquidRecord::key) > 0;
  return !built_in || is_one_of(liquids_in_water, row.key);
}

// --- Texts -------------------------------------------------------------------------------------

/// The number or range times 10^power: 0.25 to 0.3 with power 2 is "25-30".
std::string numbers(const Amount& amount, int power) {
  std::string text = decimal_text(amount.low, power);
  if (amount.high != amount.low) text += "-" + decimal_text(amount.high, power);
  return text;
}

std::string per_cent(const Amount& amount, StrengthBasis basis) {
  return numbers(amount, 2) + (basis == StrengthBasis::volume ? " % volume" : " % mass");
}

/// As `fluid.concentration` of a job: "35 % mass", for a range both of its ends.
std::string concentration(const Amount& amount, StrengthBasis basis) {
  const auto end = [&](double fraction) { return per_cent({fraction, fraction}, basis); };
  if (amount.low == amount.high) return "\"" + end(amount.low) + "\"";
  return fmt::format("{{ \"between\": [\"{}\", \"{}\"] }}", end(amount.low), end(amount.high));
}

std::string quoted_list(const Texts& texts) {
  return fmt::format("\"{}\"", fmt::join(texts, "\" or \""));
}

LiquidReading refused(std::string message, Texts readings = {}) {
  LiquidReading reading;
  reading.message = std::move(message);
  reading.readings = std::move(readings);
  return reading;
}

LiquidReading ambiguous(std::string message, Texts readings) {
  LiquidReading reading = refused(std::move(message), std::move(readings));
  reading.kind = Kind::ambiguous;
  return reading;
}

LiquidReading understood(const LiquidRecord& row) {
  LiquidReading reading;
  reading.kind = Kind::understood;
  reading.record = &row;
  return reading;
}

// --- Meaning -----------------------------------------------------------------------------------

void add_once(Rows& rows, const LiquidRecord* row) {
  if (row && std::ranges::count(rows, row) == 0) rows.push_back(row);
}

/// What is left for the other of two; per cent have few decimals, and 1 - 0.7 is not quite 0.3.
Amount rest_of(const Amount& amount) {
  const auto rest = [](double fraction) { return std::round((1 - fraction) * 1e12) / 1e12; };
  return {rest(amount.high), rest(amount.low), amount.unit};
}

/// A liquid that the text names, with the rows that it may stand for.
struct Named {
  std::size_t part;
  std::string written;
  Rows rows;
  bool water = false;
};

class Resolver {
 public:
  Resolver(std::string_view text, const Catalogue& catalogue)
      : text_(text), quoted_("\"" + shown(text) + "\""), catalogue_(catalogue) {}

  LiquidReading read() {
    const std::string folded = folded_name(text_);
    for (const LiquidRecord& row : catalogue_.user_liquids()) {
      if (folded_name(row.key) == folded) return understood(row);
    }
    if (text_.size() > longest_text) {
      return refused(fmt::format("{} is too long for the name of a liquid", quoted_));
    }
    cut();
    if (auto stop = hindrance()) return *stop;
    if (auto stop = not_known()) return *stop;
    if (auto stop = one_liquid()) return *stop;
    if (auto stop = grade()) return *stop;
    if (auto stop = shares()) return *stop;
    pure_or_in_water();
    if (rows_.size() > 1) return several_rows();
    return rows_.front()->solution ? solution(*rows_.front()) : liquid(*rows_.front());
  }

 private:
  using Stop = std::optional<LiquidReading>;

  const LiquidRecord* row(std::string_view key) const { return catalogue_.liquid(key).record; }

  const Part* first(PartKind kind) const {
    const auto found = std::ranges::find(parts_.parts, kind, &Part::kind);
    return found == parts_.parts.end() ? nullptr : &*found;
  }
  bool has(PartKind kind) const { return first(kind) != nullptr; }

  void cut() {
    if (catalogue_.user_liquids().empty() && catalogue_.user_liquid_names().empty()) {
      cut(built_in_vocabulary());
    } else {
      cut(with_user_names(catalogue_));
    }
  }

  void cut(const Vocabulary& vocabulary) {
    parts_ = parts_of_liquid(text_, vocabulary.phrases);
    for (std::size_t i = 0; i < parts_.parts.size(); ++i) {
      const Part& part = parts_.parts[i];
      if (part.kind != PartKind::phrase) continue;
      Named named{i, part.written, {}};
      for (std::size_t id : part.ids) {
        const PhraseMeaning& meaning = vocabulary.meanings[id];
        if (meaning.hindrance == Hindrance::none) {
          add_once(named.rows, row(meaning.key));
        } else if (hindrance_ == Hindrance::none) {
          hindrance_ = meaning.hindrance;
          hindered_ = part.written;
        }
      }
      if (named.rows.empty()) continue;
      named.water = named.rows.size() == 1 && named.rows.front()->model == "water";
      names_.push_back(std::move(named));
    }
  }

  Stop hindrance() const {
    // Beside the name of a liquid an unknown word decides: "air free water".
    if (hindrance_ == Hindrance::none || (!names_.empty() && has(PartKind::unknown))) return {};
    const std::string what = names_.empty() ? "\"" + shown(hindered_) + "\"" : quoted_;
    LiquidReading reading = refused(fmt::format("{} {}", what, reason(hindrance_)));
    reading.kind = Kind::out_of_scope;
    if (hindrance_ == Hindrance::waste_water) {
      reading.kind = Kind::ambiguous;
      reading.readings = {"water"};
    }
    return reading;
  }

  Stop not_known() const {
    if (parts_.parts.empty()) return refused("no liquid is named; write for instance \"water\"");
    if (!parts_.fault.empty()) return refused(fmt::format("in {} {}", quoted_, parts_.fault));
    const Part* unknown = first(PartKind::unknown);
    if (!unknown) return {};
    Texts readings = names_written();
    std::string message = fmt::format("no liquid is known as {}", quoted_);
    if (names_.empty()) {
      for (std::string_view name : catalogue_.liquid(text_).nearest) readings.emplace_back(name);
    } else {
      message = fmt::format("\"{}\" in {} is not understood", shown(unknown->written), quoted_);
    }
    if (unknown->written.starts_with("deg")) {
      message += "; a temperature belongs into \"temperature\"";
    } else if (!readings.empty()) {
      message += fmt::format("; did you mean {}?", quoted_list(readings));
    }
    return refused(std::move(message), std::move(readings));
  }

  /// The liquids of the text but water, or water if it is alone.
  Texts names_written() const {
    Texts texts;
    const bool only_water = std::ranges::all_of(names_, &Named::water);
    for (const Named& name : names_) {
      if (name.water && !only_water) continue;
      for (const LiquidRecord* one : name.rows) {
        std::string text = written(*one);
        if (std::ranges::count(texts, text) == 0) texts.push_back(std::move(text));
      }
    }
    return texts;
  }

  /// All names but water's have to agree on a liquid: "ethylene glycol (MEG)" does.
  Stop one_liquid() {
    for (const Named& name : names_) {
      if (name.water) {
        water_ = true;
      } else if (rows_.empty()) {
        rows_ = name.rows;
      } else {
        rows_ = common_rows(rows_, name.rows);
        if (rows_.empty()) return two_liquids();
      }
    }
    if (!rows_.empty()) return {};
    if (water_) {
      rows_ = names_.front().rows;
      water_ = false;
    } else if (has(PartKind::vg)) {
      rows_ = {row("hydraulic_oil")};
    } else if (has(PartKind::salinity) || has_salinity_unit()) {
      rows_ = {row("seawater")};
    } else {
      return no_name();
    }
    return {};
  }

  static Rows common_rows(const Rows& some, const Rows& others) {
    Rows common;
    for (const LiquidRecord* one : some) {
      for (const LiquidRecord* other : others) {
        if (one == other || solution_of(one->key) == other->key) add_once(common, other);
        if (solution_of(other->key) == one->key) add_once(common, one);
      }
    }
    return common;
  }

  LiquidReading two_liquids() const {
    Texts readings = names_written();
    if (has(PartKind::joint)) {
      std::string message =
          fmt::format("{} could be {}; write one of them", quoted_, quoted_list(readings));
      return ambiguous(std::move(message), std::move(readings));
    }
    return unknown_mixture();
  }

  LiquidReading unknown_mixture() const {
    return refused(fmt::format("{} is a mixture of which nothing is known", quoted_),
                   names_written());
  }

  LiquidReading no_name() const {
    const Part* api = first(PartKind::api);
    if (!api) return refused(fmt::format("{} names no liquid", quoted_));
    const std::string crude = fmt::format("crude oil {} API", numbers(api->amount, 0));
    return refused(fmt::format("{} names no liquid; did you mean \"{}\"?", quoted_, crude),
                   {crude});
  }

  bool has_salinity_unit() const {
    return std::ranges::any_of(parts_.parts, [](const Part& part) {
      return part.kind == PartKind::amount && part.amount.unit == AmountUnit::salinity;
    });
  }

  /// "API 32" belongs to crude oil, "VG 46" to mineral oils that need a grade.
  Stop grade() {
    const auto is_grade = [](const Part& part) {
      return part.kind == PartKind::api || part.kind == PartKind::vg;
    };
    const auto stated = std::ranges::find_if(parts_.parts, is_grade);
    if (stated == parts_.parts.end()) return {};
    if (std::ranges::count_if(parts_.parts, is_grade) > 1) {
      return refused(fmt::format("{} states two grades; keep one", quoted_));
    }
    const bool api = stated->kind == PartKind::api;

    Rows rows;
    for (const LiquidRecord* one : rows_) {
      // An oil of which nothing is known has a grade now.
      if (!api && one->key == "lubricating_oil") one = row("hydraulic_oil");
      if (api ? takes_api_gravity(*one) : takes_viscosity_grade(*one)) add_once(rows, one);
    }
    if (rows.empty()) {
      return refused(fmt::format("\"{}\" in {} belongs to {}", shown(stated->written), quoted_,
                                 api ? "crude oil" : "hydraulic and other mineral oils"),
                     names_written());
    }
    rows_ = std::move(rows);

    const double low = stated->amount.low, high = stated->amount.high;
    if (low != high) {
      Texts readings{graded(*rows_.front(), low), graded(*rows_.front(), high)};
      std::string message = fmt::format("{} is a range; plan {}", quoted_, quoted_list(readings));
      return ambiguous(std::move(message), std::move(readings));
    }
    if (!api && std::ranges::count(viscosity_grades, low) == 0) {
      return refused(fmt::format("VG {} is none of the ISO viscosity grades {}", decimal_text(low),
                                 fmt::join(viscosity_grades, ", ")));
    }
    if (api && !(low > 0 && low <= 100)) {
      return refused(fmt::format("{} is no API gravity of a crude oil", decimal_text(low)));
    }
    parameter_ = low;
    return {};
  }

  std::string graded(const LiquidRecord& one, double grade) const {
    return takes_api_gravity(one) ? fmt::format("{} {} API", written(one), decimal_text(grade))
                                  : fmt::format("{} VG {}", written(one), decimal_text(grade));
  }

  /// Finds the shares of what is not water: none, one, or two where it is not clear which.
  Stop shares() {
    std::vector<Amount> amounts;
    std::size_t last = 0;
    for (std::size_t i = 0; i < parts_.parts.size(); ++i) {
      const Part& part = parts_.parts[i];
      if (part.kind != PartKind::amount && part.kind != PartKind::ratio) continue;
      Amount amount = part.amount;
      // "PG30", "40/60" are per cent; "0.3" is not, and a number behind other names says nothing.
      const bool bare = amount.unit == AmountUnit::none;
      if (bare && amount.low >= 1 && (part.kind == PartKind::ratio || is_glycol())) {
        amount = {amount.low / 100, amount.high / 100, AmountUnit::percent};
      }
      if (part.kind == PartKind::ratio) {
        amounts.push_back({amount.low, amount.low, amount.unit});
        amounts.push_back({amount.high, amount.high, amount.unit});
      } else if (amount.low > amount.high) {
        return refused(fmt::format("the range in {} runs backwards", quoted_), names_written());
      } else {
        amounts.push_back(amount);
      }
      last = i;
    }
    if (amounts.empty()) return {};
    if (amounts.size() == 1) {
      const Owner owner = water_ ? owner_of(last) : Owner::solute;
      if (owner != Owner::water) shares_.push_back(amounts[0]);
      if (owner != Owner::solute) shares_.push_back(rest_of(amounts[0]));
      return {};
    }
    const bool two = amounts.size() == 2 && amounts[0].unit == amounts[1].unit;
    if (!two || (!water_ && !has(PartKind::ratio))) return too_many();
    return two_shares(amounts[0], amounts[1]);
  }

  /// Whether only glycols, pure or in water, can be meant.
  bool is_glycol() const {
    return std::ranges::all_of(rows_, [](const LiquidRecord* one) {
      return is_one_of(glycol_mixtures, one->key) || is_one_of(mostly_mixed, one->key);
    });
  }

  /// Two shares, in the order of the two liquids.
  Stop two_shares(const Amount& one, const Amount& other) {
    std::vector<bool> waters;  // in the order of the text
    for (const Named& name : names_) {
      if (waters.empty() || waters.back() != name.water) waters.push_back(name.water);
    }
    if (waters.size() > 2) return too_many();
    const bool sum = std::abs(one.low + other.high - 1) < share_rounding &&
                     std::abs(one.high + other.low - 1) < share_rounding;
    if (waters.size() < 2) {  // "40/60 MEG": the one or the other
      shares_ = {one};
      if (sum && one.low != other.low) shares_.push_back(other);
    } else {
      shares_ = {waters.front() ? other : one};
    }
    if (sum) return {};
    Texts readings;
    if (waters.size() == 2) {
      const Amount rest = rest_of(waters.front() ? one : other);
      for (const Amount& share : {shares_.front(), rest}) {
        readings.push_back(fmt::format("{} {} %", solute_written(), numbers(share, 2)));
      }
    }
    return refused(fmt::format("the shares in {} do not add up to 100 %", quoted_),
                   std::move(readings));
  }

  LiquidReading too_many() const {
    Texts readings;
    for (const Part& part : parts_.parts) {
      if (part.kind != PartKind::amount) continue;
      readings.push_back(fmt::format("{} {}", solute_written(), shown(part.written)));
    }
    return refused(
        fmt::format("{} states several strengths; keep one, as in \"35 % mass\"", quoted_),
        std::move(readings));
  }

  /// The name of what is not water, as it stands in the text.
  std::string solute_written() const {
    const auto solute = std::ranges::find(names_, false, &Named::water);
    return solute == names_.end() ? written(*rows_.front()) : shown(solute->written);
  }

  enum class Owner { solute, water, unclear };

  /// Whose share the only amount is in a text that names water too, by what stands next to it.
  Owner owner_of(std::size_t amount) const {
    const std::vector<Part>& parts = parts_.parts;
    // The part that follows in the direction of `step`, words about the amount aside; past the end
    // (a huge number before the beginning) where there is none.
    const auto next = [&](std::size_t at, std::size_t step) {
      do at += step;
      while (at < parts.size() &&
             (parts[at].kind == PartKind::mass || parts[at].kind == PartKind::volume ||
              parts[at].kind == PartKind::aqueous));
      return at;
    };
    constexpr std::size_t forward = 1, backward = static_cast<std::size_t>(-1);
    const auto name_at = [&](std::size_t at) {
      const auto found = std::ranges::find(names_, at, &Named::part);
      return found == names_.end() ? nullptr : &*found;
    };
    // "water/PG", "water PG"; but "water, PG" and "water and PG" are two things.
    const auto goes_on = [&](std::size_t at) {
      const bool slash =
          at < parts.size() && parts[at].kind == PartKind::joint && parts[at].written == "/";
      return slash || name_at(at) != nullptr;
    };
    const std::size_t right = next(amount, forward), left = next(amount, backward);
    const Named* after = name_at(right);
    const Named* before = name_at(left);
    if (after && !after->water) return Owner::solute;  // "water 30 % PG", "30 % PG in water"
    if (after && before) return Owner::unclear;        // "PG 30 % water"
    if (after) {                                       // "30 % water/PG"; "70 % water, PG"
      return goes_on(next(right, forward)) ? Owner::unclear : Owner::water;
    }
    if (!before) return Owner::unclear;
    if (!before->water) return Owner::solute;  // "water/PG 30 %"
    const std::size_t earlier = next(left, backward);
    if (goes_on(earlier)) return Owner::solute;                     // "PG/water 30 %"
    return earlier < parts.size() ? Owner::unclear : Owner::water;  // "PG and water 30 %"
  }

  /// Settles for each row whether the liquid itself or its solution is meant.
  void pure_or_in_water() {
    const bool whole = shares_.size() == 1 && shares_[0].low == 1 && shares_[0].high == 1;
    pure_ = has(PartKind::pure) || whole;
    if (whole) shares_.clear();
    diluted_ = !pure_ && (water_ || has(PartKind::aqueous) || !shares_.empty());
    Rows rows;
    for (const LiquidRecord* one : rows_) {
      const std::string_view other = pure_      ? solute_of(one->key)
                                     : diluted_ ? solution_of(one->key)
                                                : std::string_view();
      add_once(rows, other.empty() ? one : row(other));
    }
    const auto dry = [](const LiquidRecord* one) { return !one->solution; };
    if (diluted_ && !std::ranges::all_of(rows, dry)) std::erase_if(rows, dry);
    rows_ = std::move(rows);
  }

  /// The name for readings and messages: as the text has it, where that means this row alone.
  std::string written(const LiquidRecord& one) const {
    if (one.key == "ethylene_glycol_aq") return "MEG";
    if (one.key == "propylene_glycol_aq") return "PG";
    const bool asked = is_one_of(pressure_liquids, one.key) || is_one_of(mostly_mixed, one.key);
    for (const Named& name : names_) {
      if (!asked && name.rows.size() == 1 && name.rows.front() == &one) return shown(name.written);
    }
    return std::string(one.name);
  }

  /// What a share could mean in this solution, each as one would write it.
  static Texts possible_strengths(const LiquidRecord& one, const std::string& name,
                                  const Amount& share) {
    const std::string by_mass = name + " " + per_cent(share, StrengthBasis::mass);
    const std::string by_volume = name + " " + per_cent(share, StrengthBasis::volume);
    switch (share.unit) {
      case AmountUnit::percent:
        if (one.model == "seawater") return {by_mass};
        if (may_be_by_volume(one)) return {by_mass, by_volume};
        return {by_mass};  // grams in a volume take a density to convert
      case AmountUnit::mass:
        return {by_mass};
      case AmountUnit::volume:
        return {by_volume};
      default:
        return {name};
    }
  }

  /// Several rows: the name does not say which.
  LiquidReading several_rows() const {
    const bool any_solution = std::ranges::any_of(rows_, &LiquidRecord::solution);
    if (diluted_ && !any_solution) return unknown_mixture();
    Texts names, readings;
    std::string example;
    for (const LiquidRecord* one : rows_) {
      const std::string& name = names.emplace_back(written(*one));
      if (shares_.empty() || !one->solution) {
        readings.push_back(name);
        continue;
      }
      for (const Amount& share : shares_) {
        for (std::string& text : possible_strengths(*one, name, share)) {
          readings.push_back(std::move(text));
        }
      }
      if (example.empty()) {
        example = fmt::format("; write for instance \"name\": \"{}\", \"concentration\": {}", name,
                              concentration(shares_[0], StrengthBasis::mass));
      }
    }
    return ambiguous(fmt::format("{} could be {}{}", quoted_, quoted_list(names), example),
                     std::move(readings));
  }

  /// The row of a liquid that has no strength.
  LiquidReading liquid(const LiquidRecord& one) const {
    if (!shares_.empty() || (diluted_ && one.model != "water")) return no_strength(one);
    const LiquidRecord* mixed = pure_ ? nullptr : row(solution_of(one.key));
    if (mixed && is_one_of(mostly_mixed, one.key)) {
      const std::string name = written(*mixed);
      return ambiguous(
          fmt::format(
              "{} could be pure or mixed with water; write \"{}\", or \"name\": \"{}\" with "
              "a strength, as in \"concentration\": \"35 % mass\"",
              quoted_, one.name, name),
          {std::string(one.name), name});
    }
    if (!has(PartKind::liquid) && is_one_of(pressure_liquids, one.key)) {
      Texts readings{std::string(one.name)};
      std::string message = fmt::format(
          "{} is a gas unless it is kept under pressure; for the liquid write \"{}\" and state its "
          "pressure",
          quoted_, one.name);
      if (mixed) {
        readings.push_back(written(*mixed));
        message += fmt::format(", for the solution \"{}\"", readings.back());
      }
      LiquidReading reading = ambiguous(std::move(message), std::move(readings));
      reading.record = &one;
      return reading;
    }
    LiquidReading reading = understood(one);
    reading.parameter = parameter_;
    return reading;
  }

  /// A strength stands beside what takes none.
  LiquidReading no_strength(const LiquidRecord& one) const {
    const std::string name = written(one);
    if (shares_.empty()) return unknown_mixture();
    const Amount& share = shares_[0];
    if (share.unit == AmountUnit::mass_per_volume) {
      return refused(
          fmt::format("\"{}\" has no strength; a density belongs into \"density\"", name), {name});
    }
    if (share.unit == AmountUnit::none && (takes_viscosity_grade(one) || takes_api_gravity(one))) {
      Texts readings{graded(one, share.low)};
      std::string message = fmt::format("\"{}\" in {} has no unit; did you mean \"{}\"?",
                                        numbers(share, 0), quoted_, readings.front());
      return refused(std::move(message), std::move(readings));
    }
    return refused(fmt::format("\"{}\" has no strength that could stand in {}; for a solution name "
                               "what is dissolved, as in \"MEG 35 % mass\"",
                               name, quoted_),
                   {name});
  }

  LiquidReading solution(const LiquidRecord& one) const {
    const std::string name = written(one);
    if (pure_) return by_mass_instead(name, fmt::format("\"{}\" is a solution, never pure,", name));
    if (shares_.empty()) return understood(one);
    if (shares_.size() > 1) {
      Texts readings;
      for (const Amount& share : shares_) {
        for (std::string& text : possible_strengths(one, name, share)) {
          readings.push_back(std::move(text));
        }
      }
      LiquidReading reading =
          ambiguous(fmt::format("{} does not say whose share it states; write \"name\": \"{}\", "
                                "\"concentration\": {} or {}",
                                quoted_, name, concentration(shares_[0], StrengthBasis::mass),
                                concentration(shares_[1], StrengthBasis::mass)),
                    std::move(readings));
      reading.record = &one;
      return reading;
    }

    Amount share = shares_[0];
    if (auto stop = settle_unit(one, name, share)) return *stop;
    if (!(share.low > 0 && share.high < 1)) {
      return refused(
          fmt::format("{} % in {} is not between 0 and 100 %", numbers(share, 2), quoted_), {name});
    }
    LiquidReading reading = understood(one);
    reading.strengths = {share.low};
    if (share.high != share.low) reading.strengths.push_back(share.high);
    if (share.unit == AmountUnit::mass) {
      reading.basis = StrengthBasis::mass;
    } else if (share.unit == AmountUnit::volume) {
      reading.basis = StrengthBasis::volume;
    } else {
      const bool by_volume = may_be_by_volume(one);
      reading.kind = Kind::ambiguous;
      reading.readings = possible_strengths(one, name, share);
      reading.message = fmt::format(
          "{} does not say {}; write \"name\": \"{}\", \"concentration\": {}{}", quoted_,
          by_volume ? "per cent of mass or of volume"
                    : "whether per cent of mass or grams in 100 ml",
          name, concentration(share, StrengthBasis::mass),
          by_volume ? " or " + concentration(share, StrengthBasis::volume)
                    : "; grams in 100 ml are to be divided by the density first");
    }
    return reading;
  }

  LiquidReading by_mass_instead(const std::string& name, std::string_view what) const {
    return refused(fmt::format("{} in {}; write \"name\": \"{}\" and its strength by mass, as in "
                               "\"concentration\": \"20 % mass\"",
                               what, quoted_, name),
                   {name});
  }

  /// Makes the unit of the share per cent, mass or volume, or says why it can't be.
  Stop settle_unit(const LiquidRecord& one, const std::string& name, Amount& share) const {
    const bool sea = one.model == "seawater";
    const bool by_mass = has(PartKind::mass), by_volume = has(PartKind::volume);
    if (by_mass || by_volume) {  // "30 % MEG by volume"
      const AmountUnit said = by_mass ? AmountUnit::mass : AmountUnit::volume;
      if ((by_mass && by_volume) || (share.unit != AmountUnit::percent && share.unit != said)) {
        return by_mass_instead(name, "two units of strength stand");
      }
      share.unit = said;
    }
    if (sea && share.unit == AmountUnit::percent) share.unit = AmountUnit::mass;  // salinity
    switch (share.unit) {
      case AmountUnit::percent:
      case AmountUnit::mass:
        return {};
      case AmountUnit::volume:
        if (may_be_by_volume(one)) return {};
        return by_mass_instead(name, "a share by volume of what is no liquid stands");
      case AmountUnit::salinity:
        if (!sea) return by_mass_instead(name, "salinity, which belongs to sea water, stands");
        share.unit = AmountUnit::mass;
        return {};
      case AmountUnit::sugar:
        if (one.key != "sucrose_aq") {
          return by_mass_instead(name, "degrees Brix, which belong to sugar, stand");
        }
        share.unit = AmountUnit::mass;
        return {};
      case AmountUnit::mass_per_volume:
        return by_mass_instead(name, "mass in a volume, which takes a density to convert, stands");
      case AmountUnit::other:
        return by_mass_instead(name, "a unit that cannot be converted stands");
      case AmountUnit::none:
        break;
    }
    if (sea && has(PartKind::salinity)) {  // practical salinity has no unit
      share = {share.low / 1000, share.high / 1000, AmountUnit::mass};
      return {};
    }
    LiquidReading stop = by_mass_instead(name, "a number without a unit stands");
    if (sea) stop.readings = {fmt::format("{} {} g/kg", name, numbers(share, 0))};
    return stop;
  }

  std::string_view text_;
  std::string quoted_;
  const Catalogue& catalogue_;
  LiquidParts parts_;
  std::vector<Named> names_;
  Hindrance hindrance_ = Hindrance::none;
  std::string hindered_;  ///< the word that says so
  Rows rows_;             ///< what the liquid may be
  bool water_ = false;    ///< named beside it
  std::optional<double> parameter_;
  std::vector<Amount> shares_;
  bool pure_ = false, diluted_ = false;
};

}  // namespace

LiquidReading read_liquid(std::string_view text, const Catalogue& catalogue) {
  // A key in its own spelling is the row that bears it: "ethylene_glycol" is pure, "propane"
  // liquid.
  const auto row = std::ranges::lower_bound(built_in_liquids(), text, {}, &LiquidRecord::key);
  const bool is_key = row != built_in_liquids().end() && row->key == text;
  if (is_key && catalogue.liquid(text).record == &*row) {
    LiquidReading reading;
    reading.kind = LiquidReading::Kind::understood;
    reading.record = &*row;
    return reading;
  }
  return Resolver(text, catalogue).read();
}

const LiquidRecord* in_water(const LiquidRecord& liquid, const Catalogue& catalogue) {
  const std::string_view key = solution_of(liquid.key);
  return key.empty() ? nullptr : catalogue.liquid(key).record;
}

}  // namespace slantrule
