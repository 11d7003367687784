#include "slantrule/files/list_cells.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cstdint>

#include "list_words.hpp"
#include "slantrule/catalogue/catalogue.hpp"
#include "slantrule/units/ascii.hpp"
#include "slantrule/units/number_text.hpp"
#include "slantrule/units/quantity.hpp"
#include "slantrule/units/suggest.hpp"

namespace slantrule {
namespace {

struct FittingWord {
  std::string_view words, key;
};

/// What people call fittings, as fitting_form() gives it (common practice, no source). A bend pair
/// whose plane is not said counts as out of plane, a return bend as two in one plane.
constexpr std::array<FittingWord, 70> fitting_words = {{
    {"90", "elbow-90"},
    {"45", "elbow-45"},
    {"2x90", "elbows-out-of-plane"},
    {"2_x_90", "elbows-out-of-plane"},
    {"2x45", "elbows-out-of-plane"},
    {"2_x_45", "elbows-out-of-plane"},
    {"2x90_oop", "elbows-out-of-plane"},
    {"2_x_90_oop", "elbows-out-of-plane"},
    {"double_elbow", "elbows-out-of-plane"},
    {"double_bend", "elbows-out-of-plane"},
    {"two_elbows", "elbows-out-of-plane"},
    {"two_bends", "elbows-out-of-plane"},
    {"2_elbows", "elbows-out-of-plane"},
    {"2_bends", "elbows-out-of-plane"},
    {"2x_elbow", "elbows-out-of-plane"},
    {"2_x_elbow", "elbows-out-of-plane"},
    {"2x90_out_of_plane", "elbows-out-of-plane"},
    {"two_elbows_out_of_plane", "elbows-out-of-plane"},
    {"2_elbows_out_of_plane", "elbows-out-of-plane"},
    {"2x90_ip", "elbows-in-plane"},
    {"2x90_in_plane", "elbows-in-plane"},
    {"two_elbows_in_plane", "elbows-in-plane"},
    {"2_elbows_in_plane", "elbows-in-plane"},
    {"two_elbows_same_plane", "elbows-in-plane"},
    {"2_elbows_same_plane", "elbows-in-plane"},
    {"u_bend", "elbows-in-plane"},
    {"return_bend", "elbows-in-plane"},
    {"180_bend", "elbows-in-plane"},
    {"t", "tee"},
    {"t_piece", "tee"},
    {"tee_branch", "tee"},
    {"branch_tee", "tee"},
    {"tee_run", "tee"},
    {"t_st\u00fcck", "tee"},
    {"\u0442\u0440\u043e\u0439\u043d\u0438\u043a", "tee"},
    {"manifold", "header"},
    {"gate_valve_open", "gate-valve-open"},
    {"gate_valve_full_open", "gate-valve-open"},
    {"gate_valve_fully_open", "gate-valve-open"},
    {"open_gate_valve", "gate-valve-open"},
    {"ball_valve_open", "ball-valve-open"},
    {"ball_valve_full_open", "ball-valve-open"},
    {"ball_valve_fully_open", "ball-valve-open"},
    {"open_ball_valve", "ball-valve-open"},
    {"butterfly_open", "butterfly-valve-open"},
    {"butterfly_valve_open", "butterfly-valve-open"},
    {"butterfly_valve_fully_open", "butterfly-valve-open"},
    {"open_butterfly_valve", "butterfly-valve-open"},
    {"valve_half_open", "valve-part-open"},
    {"valve_partly_open", "valve-part-open"},
    {"half_open_valve", "valve-part-open"},
    {"partly_open_valve", "valve-part-open"},
    {"throttled_valve", "valve-part-open"},
    {"globe", "globe-valve"},
    {"cv", "control-valve"},
    {"control_valve_throttling", "control-valve"},
    {"prv", "control-valve"},
    {"pressure_reducing_valve", "control-valve"},
    {"nrv", "check-valve"},
    {"non_return_valve", "check-valve"},
    {"swing_check", "check-valve"},
    {"strainer_y", "strainer"},
    {"y_strainer", "strainer"},
    {"filter", "strainer"},
    {"enlarger", "expander"},
    {"flanges", "flange"},
    {"pumpe", "pump"},
    {"bomba", "pump"},
    {"\u043d\u0430\u0441\u043e\u0441", "pump"},
    {"something", "unknown"},
}};

/// One bend, in the languages that lists are met in (common practice, no source).
constexpr std::array<std::string_view, 16> bend_words = {"elbow",
                                                         "ell",
                                                         "bend",
                                                         "bow",
                                                         "bogen",
                                                         "kr\u00fcmmer",
                                                         "kruemmer",
                                                         "codo",
                                                         "coude",
                                                         "curva",
                                                         "kolano",
                                                         "koljeno",
                                                         "\u043e\u0442\u0432\u043e\u0434",
                                                         "\u041e\u0442\u0432\u043e\u0434",
                                                         "\u043a\u043e\u043b\u0435\u043d\u043e",
                                                         "\u041a\u043e\u043b\u0435\u043d\u043e"};

/// Words that change nothing in what the catalogue knows of a fitting.
constexpr std::array<std::string_view, 14> idle_fitting_words = {
    "deg", "degree", "degrees",    "grad",      "long", "short", "radius",
    "lr",  "sr",     "concentric", "eccentric", "conc", "ecc",   "single"};

struct FittingQuestion {
  std::string_view words, answer;
};
/// Names that say too little, or of what the catalogue has no row.
constexpr std::array<FittingQuestion, 20> fitting_questions = {{
    {"valve",
     "a valve: write gate-valve-open, ball-valve-open, butterfly-valve-open, "
     "valve-part-open, globe-valve, control-valve or check-valve"},
    {"valve_open",
     "an open valve, but not which: write gate-valve-open, ball-valve-open or "
     "butterfly-valve-open"},
    {"valve_fully_open",
     "an open valve, but not which: write gate-valve-open, ball-valve-open or "
     "butterfly-valve-open"},
    {"open_valve",
     "an open valve, but not which: write gate-valve-open, ball-valve-open or "
     "butterfly-valve-open"},
    {"gv", "a gate or a globe valve: write gate-valve-open, valve-part-open or globe-valve"},
    {"gate_valve", "a valve, but not how far open: write gate-valve-open or valve-part-open"},
    {"bv",
     "a ball or a butterfly valve: write ball-valve-open, butterfly-valve-open or "
     "valve-part-open"},
    {"ball_valve", "a valve, but not how far open: write ball-valve-open or valve-part-open"},
    {"bfv", "a valve, but not how far open: write butterfly-valve-open or valve-part-open"},
    {"butterfly", "a valve, but not how far open: write butterfly-valve-open or valve-part-open"},
    {"butterfly_valve",
     "a valve, but not how far open: write butterfly-valve-open or valve-part-open"},
    {"orifice",
     "what the catalogue has no row for: write valve-part-open for a narrow opening, or "
     "unknown"},
    {"orifice_plate",
     "what the catalogue has no row for: write valve-part-open for a narrow "
     "opening, or unknown"},
    {"flow_meter",
     "what the catalogue has no row for: write flange for a free bore, reducer for a "
     "narrower one, thermowell for a body in the stream, or unknown"},
    {"flowmeter",
     "what the catalogue has no row for: write flange for a free bore, reducer for a "
     "narrower one, thermowell for a body in the stream, or unknown"},
    {"meter",
     "what the catalogue has no row for: write flange for a free bore, reducer for a "
     "narrower one, thermowell for a body in the stream, or unknown"},
    {"tank",
     "what the catalogue has no row for: write header for an outlet without a bend, or "
     "unknown"},
    {"tank_outlet",
     "what the catalogue has no row for: write header for an outlet without a "
     "bend, or unknown"},
    {"vessel",
     "what the catalogue has no row for: write header for an outlet without a bend, or "
     "unknown"},
    {"cross", "what the catalogue has no row for: write tee, or unknown"},
}};

/// The words of a name in lower case with '_' between them, without degree signs and brackets:
/// "90\u00b0 LR elbow" is "90_lr_elbow".
std::string fitting_form(std::string_view name) {
  std::string out;
  bool gap = false;
  for (const char c : plain_text(name)) {
    const bool between = std::string_view(" -_(),.\"").find(c) != std::string_view::npos;
    if (between) {
      gap = true;
      continue;
    }
    if (gap && !out.empty()) out += '_';
    gap = false;
    out += lower(c);
  }
  // "90deg" in one word.
  for (std::string_view angle : {"90deg", "45deg", "180deg"}) {
    const std::size_t at = out.find(angle);
    if (at != std::string::npos) out.erase(at + angle.size() - 3, 3);
  }
  return out;
}

/// "8x6", "8x6in" behind a reducer.
bool is_pair_of_sizes(std::string_view word) {
  const std::size_t x = word.find('x');
  return x != std::string_view::npos && x > 0 && x + 1 < word.size() && is_digit(word[0]) &&
         is_digit(word[x + 1]);
}

/// `form` without words that change nothing; a reducer's sizes among them.
std::string without_idle_words(std::string_view form) {
  std::string out;
  const bool reducer = form.find("reducer") != form.npos || form.find("expander") != form.npos;
  for (std::string_view rest = form; !rest.empty();) {
    const std::size_t end = std::min(rest.find('_'), rest.size());
    const std::string_view word = rest.substr(0, end);
    rest.remove_prefix(std::min(end + 1, rest.size()));
    const bool idle = std::ranges::find(idle_fitting_words, word) != idle_fitting_words.end() ||
                      (reducer && is_pair_of_sizes(word));
    if (idle) continue;
    if (!out.empty()) out += '_';
    out += word;
  }
  return out;
}

/// elbow-90 or elbow-45 for a word for a bend, with its angle before or behind it or without.
std::optional<std::string_view> bend_key(std::string_view form) {
  std::string_view key = "elbow-90";
  for (std::string_view angle : {"90", "45"}) {
    const bool before = form.starts_with(angle) && form.substr(angle.size()).starts_with('_');
    const bool behind =
        !before && form.size() > 3 && form.ends_with(angle) && form[form.size() - 3] == '_';
    if (before) form.remove_prefix(3);
    if (behind) form.remove_suffix(3);
    if (!before && !behind) continue;
    if (angle == "45") key = "elbow-45";
    break;
  }
  if (std::ranges::find(bend_words, form) == bend_words.end()) return std::nullopt;
  return key;
}

/// "butterfly 50%", "valve 30 % open": a valve in the stream.
bool part_open(std::string_view words) {
  return words.find('%') != std::string_view::npos &&
         (words.find("valve") != std::string_view::npos || words.starts_with("butterfly"));
}

std::optional<std::string_view> fitting_key(const std::string& form) {
  for (const std::string& words : {form, without_idle_words(form)}) {
    const auto word = std::ranges::find(fitting_words, words, &FittingWord::words);
    if (word != fitting_words.end()) return word->key;
    if (const auto bend = bend_key(words)) return bend;
    if (words == "reducer" || words == "expander") {
      return words == "reducer" ? "reducer" : "expander";
    }
  }
  if (part_open(form) && form.find("100") == std::string::npos) return "valve-part-open";
  return std::nullopt;
}

bool is_fitting_key(std::string_view name) {
  return std::ranges::find(built_in_fittings(), name, &FittingRecord::key) !=
         built_in_fittings().end();
}

/// Keys have no blanks and may have hyphens; "flow-meter" may be a user's.
bool may_be_key(std::string_view name) {
  return name.find('-') != std::string_view::npos && name.find(' ') == std::string_view::npos;
}

/// What is to be asked about a name; empty: nothing.
std::string question_about(std::string_view name) {
  if (is_fitting_key(name) || may_be_key(name)) return {};
  const std::string words = without_idle_words(fitting_form(name));
  const auto question = std::ranges::find(fitting_questions, words, &FittingQuestion::words);
  if (question == fitting_questions.end()) return {};
  return fmt::format("\"{}\" is {}", shown(name), question->answer);
}

CellFitting named_fitting(std::string_view name) {
  CellFitting out;
  out.fitting = name;
  if (is_fitting_key(name)) return out;
  const auto key = fitting_key(fitting_form(name));
  if (!key || *key == name) return out;
  out.fitting = *key;
  // A key in other letters is the key.
  if (folded_name(name) == folded_name(*key)) return out;
  out.taken_as = fmt::format("\"{}\" taken for {}", shown(name), *key);
  return out;
}

/// Where the distance of "elbow @ 2.1 m" or "elbow at 2.1 m" begins; npos: it has none.
std::size_t distance_mark(std::string_view text, std::size_t& length) {
  length = 1;
  const std::size_t at = text.find('@');
  if (at != std::string_view::npos) return at;
  length = 4;
  return lower(text).find(" at ");
}

/// What kind of distance the unit of a number makes without an "@" before it: an inch, a mm or a
/// few diameters can be the size of the fitting or the radius of a bend.
enum class DistanceKind : std::uint8_t { none, sure, doubtful };

DistanceKind distance_kind(std::string_view text) {
  text = trimmed(text);
  if (text.empty() || !(is_digit(text.front()) || text.front() == '.')) return DistanceKind::none;
  const std::size_t end = number_length(text);
  if (end == text.size()) return DistanceKind::none;
  const std::string one = fmt::format("1 {}", trimmed(text.substr(end)));
  const auto read = parse_quantity(one, {Dimension::length, Dimension::pipe_diameters});
  const auto* unit = std::get_if<Reading>(&read);
  if (unit == nullptr) return DistanceKind::none;
  if (unit->dimension == Dimension::length) {
    return unit->si < 0.1 ? DistanceKind::doubtful : DistanceKind::sure;
  }
  const bool few =
      is_digit(text.front()) && text.front() < '6' && (text.size() == 1 || !is_digit(text[1]));
  return few ? DistanceKind::doubtful : DistanceKind::sure;
}

/// A distance without words that change nothing; true where one of them made it less sure.
bool take_idle_words(std::string_view& distance) {
  // "2.1 m", "12 D": nearly all distances have nothing but a unit.
  const std::size_t blank = distance.find(' ');
  const bool short_unit = blank != std::string_view::npos && blank > 0 &&
                          distance.size() - blank <= 3 && is_digit(distance.front()) &&
                          lower(distance.back()) >= 'a' && lower(distance.back()) <= 'z';
  if (short_unit) return false;
  bool less_sure = false, changed = true;
  while (changed) {
    changed = false;
    distance = trimmed(distance);
    for (std::string_view word : {"upstream", "away", "before"}) {
      if (distance.size() <= word.size() ||
          lower(distance).substr(distance.size() - word.size()) != word)
        continue;
      distance.remove_suffix(word.size());
      changed = true;
    }
    for (std::string_view word :
         {"(approx)", "(approx.)", "approx.", "approx", "(ca.)", "(ca)", "(est)", "(est.)", "+"}) {
      if (distance.size() <= word.size() ||
          lower(distance).substr(distance.size() - word.size()) != word)
        continue;
      distance.remove_suffix(word.size());
      changed = less_sure = true;
    }
    for (std::string_view word : {"approx. ", "approx ", "about ", "ca. ", "ca.", "ca ", "~",
                                  ">=", ">", "\u2265", "min. ", "min "}) {
      if (distance.size() <= word.size() || !begins_with_letters(distance, word)) continue;
      distance.remove_prefix(word.size());
      changed = less_sure = true;
    }
  }
  return less_sure;
}

bool is_straight(std::string_view name) {
  const std::string form = fitting_form(name);
  for (std::string_view word :
       {"straight", "straight_run", "straight_pipe", "straight_length", "clear", "free", "run"}) {
    if (form == word) return true;
  }
  return false;
}

/// A name and its distance, either of them perhaps empty.
struct NameAndDistance {
  std::string_view name, distance;
  bool marked = false;  ///< an "@" or "at" stands between them
  DistanceKind kind = DistanceKind::none;
};

std::string_view without_marks_between(std::string_view text) {
  text = trimmed(text);
  while (!text.empty() && std::string_view(",:-=").find(text.back()) != std::string_view::npos) {
    text = trimmed(text.substr(0, text.size() - 1));
  }
  while (!text.empty() && std::string_view(",:-=").find(text.front()) != std::string_view::npos) {
    text = trimmed(text.substr(1));
  }
  for (std::string_view word : {"from ", "after ", "behind ", "past ", "downstream of ", "to "}) {
    if (begins_with_letters(text, word)) return trimmed(text.substr(word.size()));
  }
  return text;
}

/// Takes "elbow 2.1 m", "2 m elbow" and "90\u00b0 bend, 3 m" apart at the distance.
NameAndDistance name_and_distance(std::string_view text) {
  NameAndDistance out;
  std::size_t length = 0;
  const std::size_t mark = distance_mark(text, length);
  if (mark != std::string_view::npos) {
    out = {trimmed(text.substr(0, mark)), trimmed(text.substr(mark + length)), true,
           DistanceKind::sure};
    return out;
  }
  std::string_view bare = text;
  take_idle_words(bare);
  out.kind = distance_kind(bare);
  if (out.kind != DistanceKind::none) {
    out.distance = text;
    return out;
  }
  // From the longest to the shortest tail, then head, between blanks.
  for (std::size_t at = text.find(' '); at != std::string_view::npos; at = text.find(' ', at + 1)) {
    std::string_view tail = text.substr(at);
    take_idle_words(tail);
    const DistanceKind kind = distance_kind(tail);
    if (kind == DistanceKind::none) continue;
    return {without_marks_between(text.substr(0, at)), trimmed(text.substr(at)), false, kind};
  }
  for (std::size_t at = text.rfind(' '); at != std::string_view::npos && at > 0;
       at = text.rfind(' ', at - 1)) {
    std::string_view head = text.substr(0, at);
    take_idle_words(head);
    const DistanceKind kind = distance_kind(head);
    if (kind == DistanceKind::none) continue;
    return {without_marks_between(text.substr(at)), trimmed(text.substr(0, at)), false, kind};
  }
  out.name = text;
  return out;
}

bool is_known_fitting(std::string_view name) {
  return fitting_key(fitting_form(name)).has_value();
}

/// Cuts at the commas, slashes and plus signs between fittings that each have a distance or are
/// known by name; the whole text where that does not come out even.
std::vector<std::string_view> fittings_of(std::string_view text) {
  std::vector<std::string_view> out;
  std::size_t from = 0;
  const auto complete = [&](std::string_view one, std::string_view rest) {
    const NameAndDistance parts = name_and_distance(one);
    if (!parts.name.empty() && !parts.distance.empty()) return true;
    const std::string_view next = trimmed(rest.substr(0, rest.find_first_of(",/+")));
    return is_known_fitting(one) && distance_kind(next) == DistanceKind::none;
  };
  for (std::size_t at = 0; at < text.size(); ++at) {
    const bool mark = text[at] == ',' || text[at] == '/' || text[at] == '+';
    const bool in_number =
        at > 0 && at + 1 < text.size() && is_digit(text[at - 1]) && is_digit(text[at + 1]);
    if (!mark || in_number || at + 1 == text.size()) continue;
    const std::string_view one = trimmed(text.substr(from, at - from));
    if (!complete(one, text.substr(at + 1))) continue;
    out.push_back(one);
    from = at + 1;
  }
  const std::string_view last = trimmed(text.substr(from));
  const bool even = out.empty() || complete(last, {});
  if (!even) return {text};
  out.push_back(last);
  return out;
}

/// Adds the fitting that `one` is; a message where it is none.
std::string add_fitting(std::string_view one, std::vector<CellFitting>& fittings) {
  NameAndDistance parts = name_and_distance(one);
  const bool nothing_said = parts.marked && (parts.name.empty() || parts.distance.empty());
  if (nothing_said) {
    return fmt::format(
        "\"{}\" must be written FITTING @ DISTANCE, for instance \"elbow-90 @ 2.1 m; pump @ 12 D\"",
        shown(one));
  }
  if (says_nothing(parts.distance)) parts.distance = {};
  const std::string_view written = parts.distance;
  const bool less_sure = take_idle_words(parts.distance);
  if (is_straight(parts.name) && !parts.distance.empty()) {
    fittings.push_back({"unknown", std::string(parts.distance),
                        fmt::format("\"{}\" taken for unknown @ {}", shown(one), parts.distance)});
    return {};
  }
  if (parts.kind == DistanceKind::doubtful && !parts.name.empty()) {
    return fmt::format(
        "\"{}\" does not say whether {} is the distance or belongs to the fitting; write it such "
        "as "
        "\"{} @ 2.1 m\"",
        shown(one), shown(parts.distance), named_fitting(parts.name).fitting);
  }
  CellFitting fitting;
  if (parts.name.empty()) {
    fitting.fitting = "unknown";
  } else {
    std::string question = question_about(parts.name);
    if (!question.empty()) return question;
    fitting = named_fitting(parts.name);
    // "2.1" without a unit: a distance too, for the column to say in what; "90" is a bend.
    if (!parts.marked && fitting.taken_as.empty() &&
        (is_digit(parts.name.front()) || parts.name.front() == '.')) {
      fittings.push_back({"unknown", std::string(parts.name), {}});
      return {};
    }
  }
  fitting.distance = parts.distance;
  if (less_sure) {
    if (!fitting.taken_as.empty()) fitting.taken_as += "; ";
    fitting.taken_as += fmt::format("\"{}\" taken as {}", shown(written), shown(parts.distance));
  }
  fittings.push_back(std::move(fitting));
  return {};
}

}  // namespace

CellFittings read_fittings(std::string_view cell) {
  CellFittings out;
  for (std::string_view rest = trimmed(cell); !rest.empty();) {
    const std::size_t end = std::min(rest.find_first_of(";|\n"), rest.size());
    const std::string_view part = trimmed(rest.substr(0, end));
    rest = trimmed(rest.substr(std::min(end + 1, rest.size())));
    if (part.empty()) continue;
    for (std::string_view one : fittings_of(part)) {
      out.message = add_fitting(one, out.fittings);
      if (!out.message.empty()) return out;
    }
  }
  const std::string word = lower(trimmed(cell).substr(0, 9));
  const bool clear = begins_with_word(word, "none") || begins_with_word(word, "clear") ||
                     begins_with_word(word, "straight");
  const bool no_distance = std::ranges::all_of(
      out.fittings, [](const CellFitting& one) { return one.distance.empty(); });
  if (clear && no_distance) {
    out.fittings.clear();
    out.message = fmt::format(
        "\"{}\" does not say how long the pipe is straight; write \"unknown @ "
        "30 m\" with the length that was seen",
        shown(cell));
  }
  return out;
}

}  // namespace slantrule
