#include "pack_lines.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "slantrule/units/suggest.hpp"

namespace slantrule {
namespace {

constexpr std::size_t most_tag_columns = 24;

/// The words of one report.
class PackWords {
 public:
  PackWords(const PackReport& report, const Display& display) : r_(report), display_(display) {}

  PackSection sensors() const;
  PackSection fixing() const;
  PackSection couplant() const;
  PackSection find_out() const;
  PackSection cleaning() const;
  PackSection safety() const;
  PackSection not_served() const;
  PackSection may_lack() const;
  PackSection before() const;

 private:
  std::string length(double length_m) const { return length_text(length_m, display_); }
  std::string temperature(double value_K) const { return temperature_text(value_K, display_); }
  std::string lengths(const PackRange& span) const;
  std::string temperatures(const PackRange& span) const;
  std::string shown_text(std::string_view text) const { return job_text(text, display_); }
  bool all(const PackRows& rows) const { return rows.count() == r_.load.count(); }
  PackLine line(std::string item, const PackRows& rows) const;
  void add_aids(PackGroup group, std::vector<PackLine>& lines) const;
  void add_rails(std::vector<PackLine>& lines) const;
  void add_open_rails(std::vector<PackLine>& lines) const;
  void add_straps(std::vector<PackLine>& lines) const;
  void add_questions(bool on_site, std::vector<PackLine>& lines) const;
  PackLine lacking(const PackLacking& one) const;
  template <std::size_t N>
  std::string classes(const std::array<double, N>& limits, const PackClasses<N>& classes) const;

  const PackReport& r_;
  const Display& display_;
};

std::string between(const std::string& least, const std::string& greatest) {
  return least == greatest ? least : least + " to " + greatest;
}

std::string PackWords::lengths(const PackRange& span) const {
  return between(length(span.least), length(span.greatest));
}

std::string PackWords::temperatures(const PackRange& span) const {
  return between(temperature(span.least), temperature(span.greatest));
}

PackLine PackWords::line(std::string item, const PackRows& rows) const {
  PackLine out;
  out.item = std::move(item);
  out.rows = rows;
  out.every_pipe = all(rows);
  return out;
}

PackLine plain(std::string item) {
  PackLine out;
  out.item = std::move(item);
  return out;
}

/// Items that are at hand and not needed.
void add_stay(const std::vector<std::string>& names, std::string_view why,
              std::vector<PackLine>& lines) {
  if (names.empty()) return;
  std::string text = "can stay: ";
  for (std::size_t i = 0; i < names.size(); ++i) text += (i ? ", " : "") + names[i];
  PackLine stay = plain(std::move(text));
  stay.box = false;
  stay.basis = Basis::physics;
  stay.source = "job file, key kit";
  stay.details = {std::string(why)};
  lines.push_back(std::move(stay));
}

void PackWords::add_aids(PackGroup group, std::vector<PackLine>& lines) const {
  for (const PackAidUse& use : r_.aids) {
    const PackAidInfo& info = pack_aid_info(use.aid);
    if (info.group != group) continue;
    PackLine one = line(std::string(info.name), use.rows);
    if (use.aid == PackAid::transmitter) one.number = std::min(r_.at_once, use.rows.count());
    one.details.push_back(std::string(info.why));
    if (!use.value_m.empty()) {
      one.details.push_back(fmt::format("{} {}", info.value, lengths(use.value_m)));
    }
    if (use.not_in_kit.count() > 0) {
      one.warning = "NOT IN THE KIT: load it beside.";
    }
    one.basis = info.basis;
    one.source = info.source;
    lines.push_back(std::move(one));
  }
}

PackSection PackWords::sensors() const {
  PackSection out{"SENSORS", {}};
  std::vector<std::string> stay;
  for (const PackPair& pair : r_.pairs) {
    if (pair.rows.count() == 0) {
      stay.push_back(shown_text(pair.key));
      continue;
    }
    PackLine one =
        line(fmt::format("pair {}, {}", shown_text(pair.key),
                         value_text({pair.frequency_Hz, ValueKind::frequency_Hz}, display_)),
             pair.rows);
    one.number = pair.number;
    one.details.push_back(fmt::format("outside diameter {}", lengths(pair.outside_diameter_m)));
    if (!pair.spacing_m.empty()) {
      one.details.push_back(fmt::format("mark spacing {}", lengths(pair.spacing_m)));
    }
    one.details.push_back(fmt::format("wall surface {}", temperatures(pair.surface_K)));
    if (pair.invented) {
      one.warning = "INVENTED for training: NOT TO BE MOUNTED; enter the data of the real pair.";
    }
    one.basis = Basis::physics;
    one.source = "plan of each pipe";
    out.lines.push_back(std::move(one));
  }
  add_stay(stay, "no pipe of the list is planned with it", out.lines);
  add_aids(PackGroup::sensors, out.lines);
  if (r_.load.count() > 0) {
    PackLine spare = plain("spare pair and spare cables, where there are any");
    spare.details = {"advised: a pair that fails ends the day"};
    out.lines.push_back(std::move(spare));
  }
  return out;
}

template <std::size_t N>
std::string PackWords::classes(const std::array<double, N>& limits,
                               const PackClasses<N>& counted) const {
  std::string out;
  for (std::size_t i = 0; i <= N; ++i) {
    if (counted.counts[i] == 0) continue;
    out += out.empty() ? "" : ", ";
    out += i < N ? "to " + length(limits[i]) : "beyond " + length(limits[N - 1]);
    out += fmt::format(": {}", counted.counts[i]);
  }
  return out;
}

void PackWords::add_rails(std::vector<PackLine>& lines) const {
  std::vector<std::string> stay;
  for (const PackRail& rail : r_.rails) {
    if (rail.number == 0) {
      stay.push_back(shown_text(rail.rail.name));
      continue;
    }
    PackLine one = line(shown_text(rail.rail.name), rail.rows);
    one.number = rail.number;
    one.details = {fmt::format("takes mark spacing {} to {}; here {}",
                               length(rail.rail.least_spacing_m),
                               length(rail.rail.greatest_spacing_m), lengths(rail.spacing_m))};
    one.basis = Basis::physics;
    one.source = "plan of each pipe; the fewest rails that serve as many pipes as all would";
    lines.push_back(std::move(one));
  }
  add_stay(stay, "others take what they would, or no pipe asks for them", lines);
}

/// Where no kit says what rails there are: what they have to span.
void PackWords::add_open_rails(std::vector<PackLine>& lines) const {
  if (r_.without_rails.count() == 0) return;
  PackLine one = line("rail or fixture for both sensors on one side", r_.without_rails);
  one.number = std::min(r_.at_once, r_.without_rails.count());
  one.details.push_back("pipes by mark spacing, " + classes(rail_classes_m, r_.spacing_classes));
  const std::string overall = classes(rail_classes_m, r_.overall_classes);
  if (!overall.empty()) one.details.push_back("by overall length of the bodies, " + overall);
  one.basis = Basis::proposal;
  one.source = "plan of each pipe; the classes are a proposal";
  lines.push_back(std::move(one));
}

void PackWords::add_straps(std::vector<PackLine>& lines) const {
  std::vector<std::string> stay;
  for (const PackStrap& strap : r_.straps) {
    if (strap.rows.count() == 0) {
      stay.push_back(shown_text(strap.strap.name));
      continue;
    }
    const std::size_t sets = strap.number / straps_per_pair;
    PackLine one =
        line(fmt::format("{}: {} single ones, or {} set{} of two", shown_text(strap.strap.name),
                         strap.number, sets, sets == 1 ? "" : "s"),
             strap.rows);
    one.number = strap.number;
    one.tells_number = true;
    one.details = {fmt::format("goes round {}; girth here {}", length(strap.strap.greatest_girth_m),
                               lengths(strap.girth_m)),
                   "one at each sensor, or at each end of the fixture"};
    lines.push_back(std::move(one));
  }
  add_stay(stay, "a shorter one goes round, or no pipe asks for them", lines);
  if (r_.without_straps.count() == 0) return;
  PackLine one = line("straps or chains, two for a pair", r_.without_straps);
  one.number = straps_per_pair * std::min(r_.at_once, r_.without_straps.count());
  one.details = {
      "pipes by girth, coating left on included, " + classes(girth_classes_m, r_.girth_classes),
      fmt::format("longest girth {}; add what the fastening takes", length(r_.girth_m.greatest))};
  lines.push_back(std::move(one));
}

PackSection PackWords::fixing() const {
  PackSection out{"FIXING", {}};
  if (r_.same_side.count() > 0) {
    PackLine one =
        line(fmt::format("both sensors on one side, mark spacing {}", lengths(r_.same_spacing_m)),
             r_.same_side);
    if (!r_.overall_m.empty()) {
      one.details = {"overall length of the bodies " + lengths(r_.overall_m)};
    }
    one.box = false;
    one.basis = Basis::physics;
    one.source = "plan of each pipe";
    out.lines.push_back(std::move(one));
  }
  add_rails(out.lines);
  add_open_rails(out.lines);
  if (r_.opposite_sides.count() > 0) {
    PackLine one = line(
        fmt::format("sensors on opposite sides, mark spacing {}", lengths(r_.opposite_spacing_m)),
        r_.opposite_sides);
    one.box = false;
    one.basis = Basis::physics;
    one.source = "plan of each pipe";
    out.lines.push_back(std::move(one));
  }
  if (r_.by_marks.count() > 0) {
    PackLine one = line("a fixture of its own for each sensor", r_.by_marks);
    one.number = 2 * std::min(r_.at_once, r_.by_marks.count());
    one.details = {"opposite sides: straps or chains alone, each sensor at its own mark"};
    out.lines.push_back(std::move(one));
  }
  add_straps(out.lines);
  add_aids(PackGroup::fixing, out.lines);
  return out;
}

PackSection PackWords::couplant() const {
  PackSection out{"COUPLANT", {}};
  std::vector<std::string> stay, others;
  for (const PackCouplant& one : r_.couplants) {
    if (!one.load) {
      if (one.in_kit) {
        stay.push_back(shown_text(one.name));
      } else {
        others.push_back(fmt::format("{} ({})", shown_text(one.name), one.rows.count()));
      }
      continue;
    }
    PackLine item = line(shown_text(one.name), one.rows);
    std::string range =
        fmt::format("good from {} to {}", temperature(one.lowest_K), temperature(one.highest_K));
    if (one.limit_K) range += fmt::format(", never above {}", temperature(*one.limit_K));
    item.details = {range, "wall surface here " + temperatures(one.surface_K)};
    if (!one.lasts.empty()) item.details.push_back("lasts " + shown_text(one.lasts));
    if (one.harms) item.details.push_back("harms some materials: read the data sheet");
    item.source = "data/couplants.csv, common practice; its data sheet decides";
    out.lines.push_back(std::move(item));
  }
  add_stay(stay, "others suit the same pipes, or no pipe asks for them", out.lines);
  if (!others.empty()) {
    PackLine also = plain("others that suit, and how many pipes: ");
    for (std::size_t i = 0; i < others.size(); ++i) also.item += (i ? ", " : "") + others[i];
    also.box = false;
    also.source = "data/couplants.csv";
    out.lines.push_back(std::move(also));
  }
  const auto remark = [&](std::string text, const PackRows& rows) {
    if (rows.count() == 0) return;
    PackLine one = line(std::move(text), rows);
    one.box = false;
    out.lines.push_back(std::move(one));
  };
  remark("the couplant that the list names does not suit the wall: another is counted above",
         r_.named_unfit);
  remark("food in the pipe: ask the plant which couplants and cleaners it allows", r_.food);
  remark("plastic under the couplant: no oil or grease before both data sheets allow it",
         r_.plastic);
  return out;
}

/// What is looked up with paper and telephone; the rest can be seen on the pipe.
bool seen_on_site(CheckId check) {
  const std::string_view id = check_info(check).id;
  if (check == CheckId::mount_hazardous_area_unknown) return false;
  return id.starts_with("run.") || id.starts_with("mount.") || id.starts_with("pipe.") ||
         check == CheckId::sensors_wedge_temperature_unknown ||
         check == CheckId::fluid_flashing_unknown || check == CheckId::fluid_degassing_unknown;
}

std::string lower_first(std::string_view text) {
  std::string out(text);
  if (!out.empty() && out.front() >= 'A' && out.front() <= 'Z') out.front() += 'a' - 'A';
  return out;
}

void PackWords::add_questions(bool on_site, std::vector<PackLine>& lines) const {
  for (const PackCheck& one : r_.questions) {
    if (seen_on_site(one.check) != on_site) continue;
    const CheckInfo& info = check_info(one.check);
    // Some rules go on to say when they are notes only; those are not counted here.
    const std::string_view rule = info.rule.substr(0, info.rule.find("; a note"));
    PackLine question = line(lower_first(rule), one.rows);
    question.details = {"finding " + std::string(info.id)};
    question.basis = info.basis;
    question.source = info.source;
    lines.push_back(std::move(question));
  }
}

PackSection PackWords::find_out() const {
  PackSection out{"FIND OUT ON SITE", {}};
  add_aids(PackGroup::find_out, out.lines);
  add_questions(true, out.lines);
  return out;
}

PackSection PackWords::cleaning() const {
  PackSection out{"CLEANING", {}};
  add_aids(PackGroup::cleaning, out.lines);
  return out;
}

PackSection PackWords::safety() const {
  PackSection out{"SAFETY: local codes, the site's permits and licensed people decide", {}};
  for (const PackSafety& one : r_.safety) {
    PackLine item = line(std::string(pack_safety_items(one.id)), one.rows);
    std::string subjects;
    for (const std::string& subject : one.subjects) {
      subjects += (subjects.empty() ? "" : ", ") + shown(subject);
    }
    if (one.more_subjects) subjects += " and others";
    const bool cold = one.id == SafetyId::cold_surface;
    const FindingValue worst{cold ? one.value.least : one.value.greatest, one.kind};
    item.details = {safety_text({one.id, worst, subjects}, display_)};
    const std::string_view source = safety_info(one.id).source;
    item.source = source;
    item.basis = source.starts_with("common practice") ? Basis::common_practice : Basis::published;
    out.lines.push_back(std::move(item));
  }
  return out;
}

PackLine PackWords::lacking(const PackLacking& one) const {
  PackLine out = line(std::string(lack_words(one.lack)), one.rows);
  out.every_pipe = false;
  out.box = false;
  out.basis = Basis::physics;
  out.source = "plan of each pipe against what is at hand";
  switch (one.lack) {
    case PackLack::rail:
      out.details = {"mark spacing " + lengths(one.value)};
      break;
    case PackLack::strap:
      out.details = {"girth " + lengths(one.value)};
      break;
    case PackLack::pair_temperature:
    case PackLack::couplant_range:
    case PackLack::couplant_kind:
      out.details = {"wall surface " + temperatures(one.value)};
      break;
    default:
      out.details = {"outside diameter " + lengths(one.value)};
  }
  return out;
}

PackSection PackWords::not_served() const {
  PackSection out{"NOT SERVED", {}};
  for (const PackLacking& one : r_.lacks) out.lines.push_back(lacking(one));
  return out;
}

PackSection PackWords::may_lack() const {
  PackSection out{"NOT SERVED BY ONE OF THEIR READINGS", {}};
  for (const PackLacking& one : r_.may_lacks) {
    out.lines.push_back(lacking(one));
    out.lines.back().details.emplace_back("settle which reading is true before you go");
  }
  return out;
}

PackSection PackWords::before() const {
  PackSection out{"BEFORE YOU GO", {}};
  const auto add = [&](std::string text, const PackRows& rows, std::string detail) {
    if (rows.count() == 0) return;
    PackLine one = line(std::move(text), rows);
    one.every_pipe = false;
    one.details = {std::move(detail)};
    one.basis = Basis::physics;
    one.source = "reading and planning of the row";
    out.lines.push_back(std::move(one));
  };
  add("rows that could not be read", r_.refused,
      "mend them first: `slantrule survey` says what is wrong with each; nothing is loaded for "
      "them");
  add("pipes that stop", r_.stopped,
      "no use to go before the stop is cleared; nothing is loaded for them");
  for (const PackCheck& stop : r_.stops) {
    const CheckInfo& info = check_info(stop.check);
    PackLine one = line("stop: " + lower_first(info.rule), stop.rows);
    one.every_pipe = false;
    one.details = {"finding " + std::string(info.id)};
    one.box = false;
    one.basis = info.basis;
    one.source = info.source;
    out.lines.push_back(std::move(one));
  }
  add("pipes that stop by one of their readings", r_.may_stop,
      "settle which reading is true before or on arrival; they are loaded for");
  add_questions(false, out.lines);
  if (r_.load.count() > 0) {
    PackLine sheets = line("setup sheets printed, one a pipe", r_.load);
    sheets.details = {"`slantrule plan`, or `slantrule survey` with --sheets"};
    out.lines.push_back(std::move(sheets));
    PackLine permits = line("permits asked for, the operator told when you come", r_.load);
    out.lines.push_back(std::move(permits));
  }
  return out;
}

}  // namespace

std::string pipes_text(std::size_t count) {
  if (count == 0) return "no pipe";
  return count == 1 ? "1 pipe" : fmt::format("{} pipes", count);
}

std::string rows_text(const PackRows& rows, std::size_t most, const Display& display) {
  std::string out;
  std::size_t told = 0;
  for (const PackRow& one : rows.examples()) {
    if (told++ == most) break;
    out += out.empty() ? "" : ", ";
    out += std::to_string(one.row);
    if (!one.tag.empty()) out += " " + job_text(shown(one.tag, most_tag_columns), display);
  }
  told = std::min(most, rows.examples().size());
  if (rows.count() > told) out += fmt::format(" and {} more", rows.count() - told);
  return out;
}

std::string_view lack_words(PackLack lack) {
  switch (lack) {
    case PackLack::pair_not_in_kit:
      return "the pair that the row names is not in the kit";
    case PackLack::pair_path:
      return "no pair at hand has a path with room for both bodies";
    case PackLack::pair_range:
      return "the diameter is outside the range of every pair at hand";
    case PackLack::pair_temperature:
      return "the wall's surface is outside the rating of every pair at hand";
    case PackLack::rail:
      return "no rail of the kit takes the spacing: a longer rail, or straps by the marks";
    case PackLack::strap:
      return "no strap of the kit goes round: a longer strap or chain, or two joined";
    case PackLack::couplant_range:
      return "no couplant at hand is good at the wall's surface";
    case PackLack::couplant_kind:
      return "no couplant at hand suits the wall (wet, rough, closed in, or harmed by it)";
    case PackLack::count_:
      break;
  }
  return {};
}

std::vector<PackSection> pack_sections(const PackReport& report, const Display& display) {
  const PackWords words(report, display);
  std::vector<PackSection> out;
  for (PackSection section :
       {words.sensors(), words.fixing(), words.couplant(), words.find_out(), words.cleaning(),
        words.safety(), words.not_served(), words.may_lack(), words.before()}) {
    if (!section.lines.empty()) out.push_back(std::move(section));
  }
  return out;
}

}  // namespace slantrule
