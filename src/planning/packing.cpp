#include "slantrule/planning/packing.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "slantrule/planning/defaults.hpp"
#include "slantrule/planning/packing_cover.hpp"
#include "slantrule/planning/surface.hpp"

namespace slantrule {
namespace {

constexpr std::size_t most_tag_bytes = 256;
constexpr std::size_t most_subjects = 8;

template <class Enum>
constexpr std::size_t at(Enum value) {
  return static_cast<std::size_t>(value);
}

/// Checks that ask for what a job does not say, on the pipe or in the office.
const std::bitset<check_count>& question_checks() {
  static const std::bitset<check_count> checks = [] {
    std::bitset<check_count> out;
    for (const CheckInfo& row : check_table()) {
      if (row.id.ends_with(".unknown")) out.set(at(row.check));
    }
    return out;
  }();
  return checks;
}

std::string pair_id(const ResolvedSensors& pair) {
  return pair.key + '\n' + std::to_string(pair.frequency_Hz);
}

std::string rail_id(const ResolvedRail& rail) {
  return rail.name + '\n' + std::to_string(rail.least_spacing_m) + '\n' +
         std::to_string(rail.greatest_spacing_m) + (rail.same_side ? "s" : "") +
         (rail.opposite_sides ? "o" : "");
}

std::string strap_id(const ResolvedStrap& strap) {
  return strap.name + '\n' + std::to_string(strap.greatest_girth_m);
}

/// Whether a pair fails by `check` and none of its kit does better by `suits`.
template <class Suits>
bool no_pair(const ResolvedJob& job, bool fails, Suits suits) {
  return fails && std::ranges::none_of(job.kit.sensors, suits);
}

PackCouplant couplant_item(const CouplantRecord& row) {
  PackCouplant out;
  out.key = row.key;
  out.name = row.name;
  out.lowest_K = row.lowest_degC + defaults::zero_celsius_K;
  out.highest_K = row.highest_degC + defaults::zero_celsius_K;
  if (!std::isnan(row.limit_degC)) out.limit_K = row.limit_degC + defaults::zero_celsius_K;
  out.lasts = row.lasts;
  out.harms = !row.harms.empty();
  return out;
}

template <class Map>
std::vector<typename Map::mapped_type> in_kit_order(const Map& items) {
  std::vector<typename Map::mapped_type> out;
  for (const auto& [id, one] : items) out.push_back(one);
  std::ranges::stable_sort(out, {}, [](const auto& one) { return one.seen; });
  return out;
}

/// Ids in the order of the kit, and the needs as indices into them.
template <class Map, class Cover>
std::set<std::string> fewest(const Map& items, const Cover& cover) {
  std::vector<std::pair<decltype(items.begin()->second.seen), std::string>> order;
  for (const auto& [id, one] : items) order.emplace_back(one.seen, id);
  std::ranges::sort(order);
  std::map<std::string, std::size_t> index;
  for (std::size_t i = 0; i < order.size(); ++i) index[order[i].second] = i;
  std::map<std::vector<std::size_t>, std::size_t> rows;
  for (const auto& [servers_of_row, count] : cover) {
    for (const auto& servers : servers_of_row) {
      std::vector<std::size_t> indices;
      for (const std::string& id : servers) indices.push_back(index.at(id));
      std::ranges::sort(indices);
      rows[indices] += count;
    }
  }
  std::vector<ServeNeed> needs;
  for (const auto& [indices, count] : rows) needs.push_back({indices, count});
  std::set<std::string> out;
  for (std::size_t i : fewest_that_serve(needs, order.size())) out.insert(order[i].second);
  return out;
}

void add_subject(PackSafety& safety, const std::string& subject) {
  if (subject.empty()) return;
  safety.subjects.insert(subject.substr(0, most_tag_bytes));
  if (safety.subjects.size() > most_subjects) {
    safety.subjects.erase(std::prev(safety.subjects.end()));
    safety.more_subjects = true;
  }
}

}  // namespace

// ---------------------------------------------------------------- counting

void PackRows::keep(const PackRow& row) {
  if (examples_.size() == most_examples && row.row >= examples_.back().row) return;
  const auto place = std::ranges::upper_bound(examples_, row.row, {}, &PackRow::row);
  examples_.insert(place, row);
  if (examples_.size() > most_examples) examples_.pop_back();
}

void PackRows::add(const PackRow& row) {
  if (count_ > 0 && row.row == last_) return;
  last_ = row.row;
  ++count_;
  keep(row);
}

void PackRows::merge(const PackRows& other) {
  count_ += other.count_;
  for (const PackRow& row : other.examples_) keep(row);
}

void PackRange::add(double value) {
  least = std::min(least, value);
  greatest = std::max(greatest, value);
}

void PackRange::merge(const PackRange& other) {
  least = std::min(least, other.least);
  greatest = std::max(greatest, other.greatest);
}

std::string_view pack_lack_name(PackLack lack) {
  switch (lack) {
    case PackLack::pair_not_in_kit:
      return "pair-not-in-kit";
    case PackLack::pair_path:
      return "pair-path";
    case PackLack::pair_range:
      return "pair-range";
    case PackLack::pair_temperature:
      return "pair-temperature";
    case PackLack::rail:
      return "rail";
    case PackLack::strap:
      return "strap";
    case PackLack::couplant_range:
      return "couplant-temperature";
    case PackLack::couplant_kind:
      return "couplant-kind";
    case PackLack::count_:
      break;
  }
  return {};
}

std::vector<CouplantRecord> couplants_of(const Catalogue& catalogue) {
  std::vector<CouplantRecord> out;
  for (const CouplantRecord& row : built_in_couplants()) {
    out.push_back(*catalogue.couplant(row.key).record);
  }
  for (const CouplantRecord& row : catalogue.user_couplants()) {
    const auto same_key = [&](const CouplantRecord& other) { return other.key == row.key; };
    if (std::ranges::none_of(out, same_key)) out.push_back(row);
  }
  return out;
}

Packing::Packing(PackOptions options) : couplants_(std::move(options.couplants)) {
  counts_.at_once = std::max<std::size_t>(1, options.at_once);
  if (couplants_.empty()) {
    couplants_.assign(built_in_couplants().begin(), built_in_couplants().end());
  }
}

// ---------------------------------------------------------------- looking at one candidate

void Packing::list_kit(std::size_t row, const ResolvedJob& job) {
  const auto list = [&](auto& items, const std::string& id, auto make, std::size_t position) {
    auto [found, is_new] = items.try_emplace(id);
    if (is_new) found->second.item = make();
    found->second.seen = std::min(found->second.seen, Seen{row, position});
  };
  const auto pair = [](const ResolvedSensors& one) {
    return [&one] {
      PackPair out;
      out.key = one.key;
      out.frequency_Hz = one.frequency_Hz;
      out.invented = one.invented;
      return out;
    };
  };
  const ResolvedKit& kit = job.kit;
  for (std::size_t i = 0; i < kit.sensors.size(); ++i) {
    const std::string id = pair_id(kit.sensors[i]);
    list(pairs_, id, pair(kit.sensors[i]), i);
    pairs_.at(id).item.in_kit = true;
  }
  list(pairs_, pair_id(job.sensors), pair(job.sensors), kit.sensors.size());
  for (std::size_t i = 0; i < kit.rails.size(); ++i) {
    const auto make = [&] { return PackRail{kit.rails[i], {}, {}, 0}; };
    list(rails_, rail_id(kit.rails[i]), make, i);
  }
  for (std::size_t i = 0; i < kit.straps.size(); ++i) {
    const auto make = [&] { return PackStrap{kit.straps[i], {}, {}, 0}; };
    list(straps_, strap_id(kit.straps[i]), make, i);
  }
}

void Packing::look_at_pair(const ResolvedJob& job, Case& one) const {
  const auto lack = [&](PackLack which, bool lacks, double value) {
    if (!lacks) return;
    one.lacks.set(at(which));
    one.lack_values[at(which)] = value;
  };
  one.pair = pair_id(job.sensors);
  lack(PackLack::pair_not_in_kit, one.found.has(CheckId::kit_sensors), one.outside_diameter_m);
  lack(PackLack::pair_path,
       // A pair that the row names may fail where another of the kit would do.
       (job.sensors_open || job.kit.sensors.empty()) &&
           (one.stop_checks[at(CheckId::path_no_ray)] ||
            one.stop_checks[at(CheckId::path_no_wave)] ||
            one.stop_checks[at(CheckId::path_overlap)]),
       one.outside_diameter_m);
  const double outside_m = one.outside_diameter_m, surface_K = one.surface_K;
  lack(PackLack::pair_range,
       no_pair(job, one.found.has(CheckId::sensors_pipe_range),
               [&](const ResolvedSensors& pair) {
                 return outside_m >= pair.smallest_pipe_m.value_or(0) &&
                        outside_m <= pair.largest_pipe_m.value_or(outside_m);
               }),
       outside_m);
  lack(PackLack::pair_temperature,
       no_pair(job, one.found.has(CheckId::sensors_temperature),
               [&](const ResolvedSensors& pair) {
                 return pair.lowest_K && pair.highest_K && surface_K >= *pair.lowest_K &&
                        surface_K <= *pair.highest_K;
               }),
       surface_K);
}

void Packing::look_at_fixing(const ResolvedJob& job, const Plan& plan, Case& one) const {
  const ResolvedKit& kit = job.kit;
  one.same_side = plan.same_side();
  one.lists_rails = !kit.rails.empty();
  one.lists_straps = !kit.straps.empty();
  if (plan.path) {
    one.spacing_m = plan.path->ray.mark_spacing_m;
    one.overall_m = plan.path->overall_length_m;
    // Sensors on opposite sides are strapped on by their marks where no rail is made for that.
    const bool made_for_it = std::ranges::any_of(kit.rails, [&](const ResolvedRail& rail) {
      return one.same_side ? rail.same_side : rail.opposite_sides;
    });
    one.by_marks = !one.same_side && !made_for_it;
    if (one.lists_rails && !one.by_marks) {
      one.rails.emplace();
      for (const ResolvedRail& rail : kit.rails) {
        if (rail.takes(*one.spacing_m, one.same_side)) one.rails->insert(rail_id(rail));
      }
      if (one.rails->empty()) {
        one.lacks.set(at(PackLack::rail));
        one.lack_values[at(PackLack::rail)] = *one.spacing_m;
      }
    }
  }
  const ResolvedStrap* shortest = nullptr;
  for (const ResolvedStrap& strap : kit.straps) {
    if (strap.greatest_girth_m < one.girth_m) continue;
    if (!shortest || strap.greatest_girth_m < shortest->greatest_girth_m) shortest = &strap;
  }
  if (shortest) {
    one.strap = strap_id(*shortest);
  } else if (one.lists_straps) {
    one.lacks.set(at(PackLack::strap));
    one.lack_values[at(PackLack::strap)] = one.girth_m;
  }
}

/// The kit's, with what the catalogue knows of them; else the catalogue's.
std::vector<CouplantRecord> Packing::couplants_at_hand(const ResolvedKit& kit) const {
  if (kit.couplants.empty()) return couplants_;
  std::vector<CouplantRecord> out;
  for (const ResolvedCouplant& one : kit.couplants) {
    const auto row = std::ranges::find(couplants_, one.key, &CouplantRecord::key);
    if (row != couplants_.end()) {
      out.push_back(*row);
      continue;
    }
    CouplantRecord plain{};
    plain.key = one.key;
    plain.name = one.name;
    plain.lowest_degC = one.lowest_K - defaults::zero_celsius_K;
    plain.highest_degC = one.highest_K - defaults::zero_celsius_K;
    out.push_back(plain);
  }
  return out;
}

void Packing::look_at_couplant(std::size_t row, const ResolvedJob& job, const Plan& plan,
                               Case& one) {
  const std::vector<CouplantRecord> at_hand = couplants_at_hand(job.kit);
  const CouplantNeed need = couplant_need(job, plan);
  std::vector<const CouplantRecord*> suitable = suitable_couplants(need, at_hand);
  // What the row names is taken, in the kit or not, unless it doesn't suit.
  const auto named = std::ranges::find(couplants_, job.site.couplant_name, &CouplantRecord::name);
  if (!job.site.couplant_name.empty() && named != couplants_.end()) {
    const auto fit = suitable_couplants(need, std::span(&*named, 1));
    one.named_unfit = fit.empty();
    if (!fit.empty()) suitable = fit;
  }
  const auto list = [&](const CouplantRecord& record, std::size_t position, bool in_kit) {
    auto [item, is_new] = couplant_items_.try_emplace(std::string(record.key));
    if (is_new) item->second.item = couplant_item(record);
    item->second.seen = std::min(item->second.seen, Seen{row, position});
    item->second.item.in_kit = item->second.item.in_kit || in_kit;
  };
  for (std::size_t i = 0; i < at_hand.size(); ++i) {
    list(at_hand[i], i, !job.kit.couplants.empty());
  }
  for (const CouplantRecord* record : suitable) {
    list(*record, at_hand.size(), false);
    one.couplants.emplace(record->key);
  }
  one.plastic = !need.contact->is_inline && need.contact->family == SolidFamily::plastic;
  if (!suitable.empty()) return;
  const bool stands = !suitable_couplants({.surface_K = need.surface_K}, at_hand).empty();
  const PackLack lack = stands ? PackLack::couplant_kind : PackLack::couplant_range;
  one.lacks.set(at(lack));
  one.lack_values[at(lack)] = need.surface_K;
}

void Packing::add(std::size_t row, std::string_view tag, const ResolvedJob& job, const Plan& plan) {
  if (pending_.empty() || pending_row_.row != row) {
    flush();
    pending_row_ = {row, std::string(tag.substr(0, most_tag_bytes))};
  }
  list_kit(row, job);
  Case one;
  one.found = found_checks(plan);
  for (const Finding& finding : plan.findings) {
    if (finding.severity == Severity::stop) one.stop_checks.set(at(finding.check));
  }
  one.stops = plan.verdict == Verdict::stop;
  one.outside_diameter_m = job.pipe.outside_diameter_m.value;
  one.wall_m = job.pipe.wall_m.value;
  one.surface_K = plan.conditions.wall_temperature_K;
  one.temperature_K = job.liquid.temperature_K.value;
  one.girth_m = std::numbers::pi * job.pipe.outer_surface_m();
  look_at_pair(job, one);
  // Nobody goes to a pipe that stops, so nothing is loaded for it.
  if (!one.stops) {
    look_at_fixing(job, plan, one);
    look_at_couplant(row, job, plan, one);
    one.aids = pack_aids_of(job, plan, one.found);
    for (const PackAidInfo& info : pack_aid_table()) {
      one.aid_values[at(info.aid)] = pack_aid_value(info.aid, job);
      const std::vector<std::string>& gauges = job.kit.gauges;
      if (!info.kit_word.empty() && !gauges.empty() &&
          std::ranges::find(gauges, info.kit_word) == gauges.end()) {
        one.aids_not_in_kit.set(at(info.aid));
      }
    }
    one.safety = safety_cautions(job, plan);
  }
  pending_.push_back(std::move(one));
}

void Packing::add_refused(std::size_t row, std::string_view tag) {
  flush();
  counts_.refused.add({row, std::string(tag.substr(0, most_tag_bytes))});
}

// ---------------------------------------------------------------- counting a row

void Packing::count_fixing(const Case& one) {
  const PackRow& row = pending_row_;
  if (one.spacing_m) {
    (one.same_side ? counts_.same_side : counts_.opposite_sides).add(row);
    (one.same_side ? counts_.same_spacing_m : counts_.opposite_spacing_m).add(*one.spacing_m);
    if (one.same_side && one.overall_m) counts_.overall_m.add(*one.overall_m);
  }
  if (one.by_marks) counts_.by_marks.add(row);
  if (one.rails) {
    for (const std::string& id : *one.rails) {
      PackRail& rail = rails_.at(id).item;
      rail.rows.add(row);
      rail.spacing_m.add(*one.spacing_m);
    }
  }
  counts_.girth_m.add(one.girth_m);
  if (!one.strap.empty()) {
    PackStrap& strap = straps_.at(one.strap).item;
    strap.rows.add(row);
    strap.girth_m.add(one.girth_m);
  }
}

/// A pipe that one of its candidates would be served as is gone to with what serves that one.
void Packing::count_lacks(bool loaded) {
  const auto lacking = [](const Case& one) { return one.lacks.any(); };
  if (std::ranges::none_of(pending_, lacking)) return;
  const bool unserved = std::ranges::all_of(pending_, lacking);
  (unserved ? counts_.unserved : counts_.may_lack).add(pending_row_);
  if (unserved && loaded) counts_.unserved_loaded.add(pending_row_);
  auto& lacks = unserved ? lacks_ : may_lacks_;
  for (const Case& one : pending_) {
    for (std::size_t i = 0; i < pack_lack_count; ++i) {
      if (!one.lacks[i]) continue;
      lacks[i].rows.add(pending_row_);
      lacks[i].value.add(one.lack_values[i]);
    }
  }
}

void Packing::count(const Case& one) {
  const PackRow& row = pending_row_;
  counts_.load.add(row);
  PackPair& pair = pairs_.at(one.pair).item;
  pair.rows.add(row);
  pair.outside_diameter_m.add(one.outside_diameter_m);
  pair.surface_K.add(one.surface_K);
  if (one.spacing_m) pair.spacing_m.add(*one.spacing_m);
  count_fixing(one);
  counts_.surface_K.add(one.surface_K);
  for (const std::string& key : one.couplants) {
    PackCouplant& couplant = couplant_items_.at(key).item;
    couplant.rows.add(row);
    couplant.surface_K.add(one.surface_K);
  }
  if (one.named_unfit) counts_.named_unfit.add(row);
  if (one.found.has(CheckId::mount_couplant_food)) counts_.food.add(row);
  if (one.plastic) counts_.plastic.add(row);
  for (std::size_t i = 0; i < pack_aid_count; ++i) {
    if (!one.aids[i]) continue;
    aids_[i].rows.add(row);
    if (one.aid_values[i]) aids_[i].value_m.add(*one.aid_values[i]);
    if (one.aids_not_in_kit[i]) aids_[i].not_in_kit.add(row);
  }
  for (const SafetyCaution& caution : one.safety) {
    PackSafety& safety = safety_[at(caution.id)];
    safety.rows.add(row);
    if (caution.value.kind != ValueKind::none) {
      safety.value.add(caution.value.value);
      safety.kind = caution.value.kind;
    }
    add_subject(safety, caution.subject);
  }
  const auto asked = one.found.cautions & question_checks();
  for (std::size_t i = 0; i < check_count; ++i) {
    if (asked[i]) questions_[i].add(row);
  }
}

void Packing::flush() {
  if (pending_.empty()) return;
  const PackRow& row = pending_row_;
  const auto goes = [](const Case& one) { return !one.stops; };
  const bool all_stop = std::ranges::none_of(pending_, goes);
  const bool all_go = std::ranges::all_of(pending_, goes);
  if (all_stop) counts_.stopped.add(row);
  if (!all_stop && !all_go) counts_.may_stop.add(row);

  count_lacks(!all_stop);
  // What tells candidates apart is to be measured, whatever its writer called it.
  PackRange outside_m, wall_m, temperature_K;
  for (const Case& one : pending_) {
    outside_m.add(one.outside_diameter_m);
    wall_m.add(one.wall_m);
    temperature_K.add(one.temperature_K);
  }
  const auto differs = [](const PackRange& span) { return span.least < span.greatest; };
  RowServers rails, couplants;
  for (Case& one : pending_) {
    for (std::size_t i = 0; i < check_count; ++i) {
      if (one.stop_checks[i] && one.stops) stops_[i].add(row);
    }
    if (one.stops) continue;
    if (differs(wall_m)) one.aids.set(at(PackAid::wall_gauge));
    if (differs(temperature_K)) one.aids.set(at(PackAid::surface_thermometer));
    if (differs(outside_m)) {
      const bool small = outside_m.greatest <= calliper_reach_m;
      one.aids.set(at(small ? PackAid::calliper : PackAid::girth_tape));
    }
    count(one);
    if (one.rails) rails.insert(*one.rails);
    couplants.insert(one.couplants);
  }
  // Each row once in the classes, by what it needs most.
  std::optional<double> spacing_m, overall_m, girth_m;
  const auto keep_most = [](std::optional<double>& most, const std::optional<double>& value) {
    if (value && (!most || *value > *most)) most = value;
  };
  for (const Case& one : pending_) {
    if (one.stops) continue;
    if (one.same_side && !one.lists_rails) {
      keep_most(spacing_m, one.spacing_m);
      keep_most(overall_m, one.overall_m);
    }
    if (!one.lists_straps) keep_most(girth_m, one.girth_m);
  }
  if (spacing_m) {
    counts_.without_rails.add(row);
    counts_.spacing_classes.add(rail_classes_m, *spacing_m);
  }
  if (overall_m) counts_.overall_classes.add(rail_classes_m, *overall_m);
  if (girth_m) {
    counts_.without_straps.add(row);
    counts_.girth_classes.add(girth_classes_m, *girth_m);
  }
  if (!rails.empty()) ++rail_cover_[rails];
  if (!couplants.empty()) ++couplant_cover_[couplants];
  pending_.clear();
}

// ---------------------------------------------------------------- merging

namespace {

void merge_item(PackPair& mine, const PackPair& its) {
  mine.in_kit = mine.in_kit || its.in_kit;
  mine.rows.merge(its.rows);
  mine.outside_diameter_m.merge(its.outside_diameter_m);
  mine.spacing_m.merge(its.spacing_m);
  mine.surface_K.merge(its.surface_K);
}

void merge_item(PackRail& mine, const PackRail& its) {
  mine.rows.merge(its.rows);
  mine.spacing_m.merge(its.spacing_m);
}

void merge_item(PackStrap& mine, const PackStrap& its) {
  mine.rows.merge(its.rows);
  mine.girth_m.merge(its.girth_m);
}

void merge_item(PackCouplant& mine, const PackCouplant& its) {
  mine.rows.merge(its.rows);
  mine.surface_K.merge(its.surface_K);
  mine.in_kit = mine.in_kit || its.in_kit;
}

template <class Map>
void merge_items(Map& mine, const Map& its) {
  for (const auto& [id, one] : its) {
    auto [found, is_new] = mine.try_emplace(id, one);
    if (is_new) continue;
    found->second.seen = std::min(found->second.seen, one.seen);
    merge_item(found->second.item, one.item);
  }
}

}  // namespace

void Packing::merge_counts(const PackReport& other) {
  for (PackRows PackReport::*member :
       {&PackReport::load, &PackReport::stopped, &PackReport::may_stop, &PackReport::refused,
        &PackReport::unserved, &PackReport::unserved_loaded, &PackReport::may_lack,
        &PackReport::same_side, &PackReport::opposite_sides, &PackReport::without_rails,
        &PackReport::by_marks, &PackReport::without_straps, &PackReport::named_unfit,
        &PackReport::food, &PackReport::plastic}) {
    (counts_.*member).merge(other.*member);
  }
  for (PackRange PackReport::*member :
       {&PackReport::same_spacing_m, &PackReport::opposite_spacing_m, &PackReport::overall_m,
        &PackReport::girth_m, &PackReport::surface_K}) {
    (counts_.*member).merge(other.*member);
  }
  counts_.spacing_classes.merge(other.spacing_classes);
  counts_.overall_classes.merge(other.overall_classes);
  counts_.girth_classes.merge(other.girth_classes);
}

void Packing::merge(const Packing& other) {
  Packing its = other;
  its.flush();
  flush();
  merge_counts(its.counts_);
  merge_items(pairs_, its.pairs_);
  merge_items(rails_, its.rails_);
  merge_items(straps_, its.straps_);
  merge_items(couplant_items_, its.couplant_items_);
  for (const auto& [servers, rows] : its.rail_cover_) rail_cover_[servers] += rows;
  for (const auto& [servers, rows] : its.couplant_cover_) couplant_cover_[servers] += rows;
  for (std::size_t i = 0; i < pack_aid_count; ++i) {
    aids_[i].rows.merge(its.aids_[i].rows);
    aids_[i].value_m.merge(its.aids_[i].value_m);
    aids_[i].not_in_kit.merge(its.aids_[i].not_in_kit);
  }
  for (std::size_t i = 0; i < safety_count; ++i) {
    safety_[i].rows.merge(its.safety_[i].rows);
    safety_[i].value.merge(its.safety_[i].value);
    if (its.safety_[i].kind != ValueKind::none) safety_[i].kind = its.safety_[i].kind;
    safety_[i].more_subjects = safety_[i].more_subjects || its.safety_[i].more_subjects;
    for (const std::string& subject : its.safety_[i].subjects) add_subject(safety_[i], subject);
  }
  for (std::size_t i = 0; i < check_count; ++i) {
    questions_[i].merge(its.questions_[i]);
    stops_[i].merge(its.stops_[i]);
  }
  for (std::size_t i = 0; i < pack_lack_count; ++i) {
    lacks_[i].rows.merge(its.lacks_[i].rows);
    lacks_[i].value.merge(its.lacks_[i].value);
    may_lacks_[i].rows.merge(its.may_lacks_[i].rows);
    may_lacks_[i].value.merge(its.may_lacks_[i].value);
  }
}

// ---------------------------------------------------------------- the report

PackReport Packing::report() const {
  Packing all = *this;
  all.flush();
  PackReport out = std::move(all.counts_);
  const auto number = [&](std::size_t rows) { return std::min(out.at_once, rows); };
  for (auto& one : in_kit_order(all.pairs_)) {
    if (one.item.rows.count() == 0 && !one.item.in_kit) continue;
    one.item.number = number(one.item.rows.count());
    out.pairs.push_back(std::move(one.item));
  }
  for (const std::string& id : fewest(all.rails_, all.rail_cover_)) {
    PackRail& rail = all.rails_.at(id).item;
    rail.number = number(rail.rows.count());
  }
  for (auto& one : in_kit_order(all.rails_)) out.rails.push_back(std::move(one.item));
  for (auto& one : in_kit_order(all.straps_)) {
    one.item.number = straps_per_pair * number(one.item.rows.count());
    out.straps.push_back(std::move(one.item));
  }
  for (const std::string& key : fewest(all.couplant_items_, all.couplant_cover_)) {
    all.couplant_items_.at(key).item.load = true;
  }
  for (auto& one : in_kit_order(all.couplant_items_)) {
    if (one.item.rows.count() == 0 && !one.item.in_kit) continue;
    out.couplants.push_back(std::move(one.item));
  }
  const auto append = [](auto& list, auto& from, auto id_of) {
    for (std::size_t i = 0; i < from.size(); ++i) {
      if (from[i].rows.count() == 0) continue;
      id_of(from[i], i);
      list.push_back(std::move(from[i]));
    }
  };
  append(out.aids, all.aids_,
         [](PackAidUse& one, std::size_t i) { one.aid = static_cast<PackAid>(i); });
  append(out.safety, all.safety_,
         [](PackSafety& one, std::size_t i) { one.id = static_cast<SafetyId>(i); });
  const auto name_lack = [](PackLacking& one, std::size_t i) {
    one.lack = static_cast<PackLack>(i);
  };
  append(out.lacks, all.lacks_, name_lack);
  append(out.may_lacks, all.may_lacks_, name_lack);
  for (std::size_t i = 0; i < check_count; ++i) {
    const auto check = static_cast<CheckId>(i);
    if (all.questions_[i].count() > 0) {
      out.questions.push_back({check, std::move(all.questions_[i])});
    }
    if (all.stops_[i].count() > 0) out.stops.push_back({check, std::move(all.stops_[i])});
  }
  return out;
}

}  // namespace slantrule
