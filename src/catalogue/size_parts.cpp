#include "size_parts.hpp"

#include <algorithm>
#include <array>
#include <string>
#include <tuple>
#include <utility>

namespace slantrule {
namespace {

bool is_blank(char c) {
  return c == ' ';
}
bool is_run(char c) {
  return is_digit(c) || is_letter(c);
}

/// Reads a plain text from left to right. A word that needs a number ("DN", "sch") waits for it in
/// `waiting_`; a number without one is told by what stands behind it.
class Reader {
 public:
  explicit Reader(std::string_view written)
      : written_(written), plain_(plain_size_text(written)), text_(plain_.text) {}

  SizeParts parts() {
    while (skip_separators(), at_ < text_.size()) {
      part_start_ = at_;
      if (read_tag() || read_line_number() || read_word() || read_number() || read_split_times())
        continue;
      leave_over();
    }
    if (waiting_ != Waiting::nothing && waiting_ != Waiting::for_crossed) leave_over();
    end_aside();
    for (WrittenSize& size : parts_.sizes) {
      if (size.may_be_outside && parts_.wall) size.kind = WrittenSize::Kind::outside;
    }
    return std::move(parts_);
  }

 private:
  enum class Waiting {
    nothing,
    for_nps,
    for_dn,
    for_dn_or_outside,
    for_nominal,
    for_outside,
    for_inside,
    for_size,
    for_wall,
    for_length,
    for_crossed,  ///< behind an "x": a wall, a length or a second size
    for_schedule,
    for_s_schedule,
    for_ratio,
    for_pressure_class,
    for_thickness_class,
    for_nominal_pressure,
    for_gauge,
    for_grade
  };

  // --- text ---

  char char_at(std::size_t at) const { return at < text_.size() ? text_[at] : ' '; }
  bool starts_run(std::size_t at) const { return at == 0 || !is_run(text_[at - 1]); }

  std::size_t run_end(std::size_t at) const {
    while (at < text_.size() && is_run(text_[at])) ++at;
    return at;
  }
  bool is_hyphen(std::size_t at) const { return char_at(at) == '-'; }
  std::size_t letters_end(std::size_t at) const {
    while (at < text_.size() && is_letter(text_[at])) ++at;
    return at;
  }
  std::size_t blanks_end(std::size_t at) const {
    while (at < text_.size() && is_blank(text_[at])) ++at;
    return at;
  }

  /// Passes over what is not understood, with the word that waits for it.
  void leave_over() {
    const bool waits = waiting_ != Waiting::nothing && waiting_ != Waiting::for_crossed;
    const std::size_t from = waits ? waiting_since_ : at_;
    waiting_ = Waiting::nothing;
    last_was_size_ = last_was_label_ = false;
    if (const auto number = number_at(text_, at_)) {
      at_ += number->length;
    } else if (at_ < text_.size()) {
      ++at_;
    }
    at_ = run_end(at_);
    if (!parts_.left_over.empty()) parts_.left_over += ' ';
    parts_.left_over += plain_.written_part(written_, from, at_);
  }

  /// Skips what only separates; remembers what joins two sizes.
  void skip_separators() {
    constexpr std::string_view separators = " ,;:()[].=-/|_";
    while (at_ < text_.size() && separators.find(text_[at_]) != std::string_view::npos) {
      const char c = text_[at_];
      // ".237" is a number, "-6" is none.
      if ((c == '.' || c == ',') && is_digit(char_at(at_ + 1)) &&
          (at_ == 0 || !is_run(text_[at_ - 1]) || text_[at_ - 1] == 'x')) {
        break;  // not "sch.40"
      }
      if (c == '-' && is_digit(char_at(at_ + 1)) && at_ == 0) break;
      if (c == '/' || (c == '-' && at_ > 0)) joint_ = c;
      ++at_;
    }
    if (at_ < text_.size() && (text_[at_] == '?' || text_[at_] == '~')) {
      parts_.doubtful = true;
      ++at_;
      skip_separators();
    }
  }

  // --- what is set aside ---

  void end_aside() {
    if (aside_begin_ == none) return;
    parts_.set_aside.emplace_back(plain_.written_part(written_, aside_begin_, aside_end_));
    aside_begin_ = none;
  }
  /// Puts [from, to) aside; parts that `join` and stand side by side go together ("A106 GR B").
  void put_aside(std::size_t from, std::size_t to, bool joins = false) {
    const bool adjacent = aside_begin_ != none && blanks_end(aside_end_) >= from;
    if (!(joins && aside_joins_ && adjacent)) end_aside();
    if (aside_begin_ == none) aside_begin_ = from;
    aside_end_ = to;
    aside_joins_ = joins;
  }

  // --- line numbers: 6"-CW-1001-A1B-H ---

  /// The end of the text without blanks at `at`.
  std::size_t field_end(std::size_t at) const {
    while (at < text_.size() && !is_blank(text_[at]) && text_[at] != ',') ++at;
    return at;
  }

  /// Whether what is joined by hyphens at `at` looks like service and serial number.
  bool is_service_and_serial(std::size_t at, std::size_t end) const {
    bool first = true, first_known = false;
    int fields = 0;
    for (; at < end && text_[at] == '-'; ++fields) {
      const std::size_t from = ++at;
      bool only_digits = true;
      while (at < end && text_[at] != '-') only_digits = is_digit(text_[at++]) && only_digits;
      const std::string_view field = text_.substr(from, at - from);
      if (field.empty()) return false;
      if (first) {
        const Word* word = find_word(field);
        if (is_digit(field.front())) return false;  // 1-1/2, 6-8
        if (is_schedule(field)) return false;
        if (word && word->kind != WordKind::material && word->kind != WordKind::aside &&
            word->kind != WordKind::pressure_class) {
          return false;  // 6"-SCH-40
        }
        first_known = word != nullptr;
        first = false;
      } else if (only_digits && (field.size() >= 3 || (field.size() == 2 && !first_known))) {
        return true;
      }
    }
    return in_line_number_ && fields > 0;
  }

  /// "SCH40", "STD": the wall in a line number.
  static bool is_schedule(std::string_view field) {
    const std::size_t digits = std::min(field.find_first_of("0123456789"), field.size());
    const Word* word = find_word(field.substr(0, digits));
    if (!word) return false;
    return word->kind == WordKind::schedule ||
           (digits == field.size() && word->label == LabelKind::weight) ||
           (digits < field.size() && word->kind == WordKind::s_schedule);
  }

  /// Where the schedule among the fields in [at, end) starts, with its hyphen; `end` without one.
  std::size_t schedule_in(std::size_t at, std::size_t end) const {
    for (; at < end; ++at) {
      if (text_[at] != '-') continue;
      const std::size_t next = std::min(text_.find('-', at + 1), end);
      if (is_schedule(text_.substr(at + 1, next - at - 1))) return at;
    }
    return end;
  }

  bool read_line_number() {
    const std::size_t hyphen = at_ > 0 && text_[at_ - 1] == '-' ? at_ - 1 : none;
    if (hyphen != none && hyphen > 0 && !is_blank(text_[hyphen - 1]) &&
        (last_was_size_ || last_was_label_)) {
      const std::size_t end = schedule_in(at_, field_end(at_));
      if (is_service_and_serial(hyphen, end)) {
        put_aside(at_, end);
        in_line_number_ = parts_.pipe = true;
        at_ = end;
        return true;
      }
    }
    // CW-1001-6"-A1B: the only field with an inch sign is the size.
    if (!is_letter(text_[at_]) || !starts_run(at_)) return false;
    const std::size_t end = field_end(at_);
    const std::string_view field = text_.substr(at_, end - at_);
    const std::size_t inch = field.find('"');
    if (inch == std::string_view::npos || std::ranges::count(field, '-') < 2) return false;
    std::size_t from = field.rfind('-', inch);
    if (from == std::string_view::npos) return false;
    if (field.substr(from, inch - from).find('/') != std::string_view::npos) {  // -1-1/2"
      const std::size_t whole = from > 0 ? field.rfind('-', from - 1) : std::string_view::npos;
      if (whole != std::string_view::npos && from - whole <= 3 && is_digit(field[whole + 1])) {
        from = whole;
      }
    }
    const auto number = number_at(field, from + 1);
    if (!number || from + 1 + number->length != inch) return false;
    put_aside(at_, at_ + from);
    in_line_number_ = parts_.pipe = true;
    at_ += from + 1;
    return true;
  }

  // --- words ---

  struct Phrase {
    const Word* word = nullptr;
    std::size_t end = 0;
  };

  /// The longest known word at `at`; its parts may stand apart ("std. wt", "EN 10255", "PVC-U").
  Phrase phrase_at(std::size_t at) const {
    std::array<char, longest_word> joined;
    std::size_t length = 0;
    Phrase found;
    const bool behind_digit = !starts_run(at);
    std::size_t end = at;
    for (int runs = 0; runs < 4; ++runs) {
      const std::size_t from = end;
      end = behind_digit ? letters_end(from) : run_end(from);
      const std::size_t size = end - from;
      if (size == 0 || length + size > joined.size()) break;
      if (runs > 0 && text_.substr(from, size) == "cl") break;  // "DI CL 350" is no "DICL"
      std::copy_n(text_.begin() + static_cast<std::ptrdiff_t>(from), size,
                  joined.begin() + static_cast<std::ptrdiff_t>(length));
      length += size;
      const Word* word = find_word({joined.data(), length});
      const bool number_goes_on = runs > 0 && is_digit(text_[from]) &&
                                  (unit_at(end).second != end ||
                                   (is_digit(text_[end - 1]) && char_at(blanks_end(end)) == 'x'));
      if (word && !number_goes_on) {
        found = {word, end};
      }
      const bool grade_or_heavy =  // X-65, X-STG
          is_hyphen(end) && (at == 0 || is_letter(char_at(end + 1)));
      const bool times = text_.substr(at, size) == "x" && !grade_or_heavy;
      if (behind_digit || (runs == 0 && times)) break;
      const std::size_t gap = end;
      while (end < text_.size() && end - gap < 2 &&
             (is_blank(text_[end]) || text_[end] == '-' || text_[end] == '.')) {
        ++end;
      }
      if (end == gap || end >= text_.size() || !is_run(text_[end])) break;
    }
    if (found.word) return found;
    end = letters_end(at);  // "sch40", "DN100"
    if (end > at && end - at <= longest_word) {
      if (const Word* word = find_word(text_.substr(at, end - at))) return {word, end};
    }
    return {};
  }

  /// What people write behind "sch" as well: "sch class 350", "sch SDR 11".
  static bool is_class_or_ratio(Waiting what) {
    return what == Waiting::for_pressure_class || what == Waiting::for_thickness_class ||
           what == Waiting::for_ratio;
  }

  bool wait_for(Waiting what, std::size_t end) {
    if (waiting_ != Waiting::nothing && waiting_ != Waiting::for_crossed &&
        !(waiting_ == Waiting::for_nominal && what == Waiting::for_outside) &&
        !(waiting_ == Waiting::for_schedule && is_class_or_ratio(what))) {
      return false;
    }
    if (waiting_ == Waiting::for_crossed && what != Waiting::for_wall &&
        what != Waiting::for_length && what < Waiting::for_schedule) {
      crosses_ = true;  // "DN100 x DN80"
    }
    waiting_ = what;
    waiting_since_ = part_start_;
    at_ = end;
    return true;
  }

  void say_material(Family family, std::string_view name) {
    Material& known = parts_.material;
    const bool is_steel = family == Family::carbon_steel || family == Family::stainless;
    if (known.family == Family::unknown || (known.family == Family::steel && is_steel)) {
      known = {family, name};
    } else if (family == Family::steel &&
               (known.family == Family::carbon_steel || known.family == Family::stainless)) {
      return;
    } else if (known.name != name) {
      parts_.second_material = {family, name};
    }
  }

  bool add_label(LabelKind kind, std::string_view text, std::size_t end, std::size_t since = none) {
    if (waiting_ == Waiting::for_schedule || waiting_ == Waiting::for_crossed ||
        waiting_ == Waiting::for_pressure_class) {
      waiting_ = Waiting::nothing;  // "sch STD", "class K9"
    }
    if (waiting_ != Waiting::nothing) return false;
    parts_.labels.push_back({kind, std::string(text), {}});
    if (since != none) parts_.labels.back().written = plain_.written_part(written_, since, end);
    last_was_size_ = false;
    last_was_label_ = true;
    at_ = end;
    return true;
  }

  bool is_steel_text() const {
    const Family family = parts_.material.family;
    return family == Family::steel || family == Family::carbon_steel || family == Family::stainless;
  }

  bool read_word() {
    if (text_[at_] == '#') return wait_for(Waiting::for_schedule, at_ + 1);
    if (!is_run(text_[at_])) return false;
    if (waiting_ == Waiting::for_grade) {
      const std::size_t end = run_end(at_);
      put_aside(waiting_since_, end, true);
      waiting_ = Waiting::nothing;
      at_ = end;
      return true;
    }
    // Words that start with a digit are grades of stainless steel.
    if (is_digit(text_[at_]) && text_[at_] != '2' && text_[at_] != '3') return false;
    const auto [word, end] = phrase_at(at_);
    if (!word) return false;
    if (is_digit(text_[at_]) && !is_grade_number(*word, end)) return false;
    switch (word->kind) {
      case WordKind::nps:
        return wait_for(Waiting::for_nps, end);
      case WordKind::dn:
        return wait_for(Waiting::for_dn, end);
      case WordKind::dn_or_outside:
        return wait_for(Waiting::for_dn_or_outside, end);
      case WordKind::nominal:
        return wait_for(Waiting::for_nominal, end);
      case WordKind::outside:
        diameter_sign_ = is_diameter_sign(*word, at_);
        return wait_for(Waiting::for_outside, end);
      case WordKind::inside:
        return wait_for(Waiting::for_inside, end);
      case WordKind::size:
        return wait_for(Waiting::for_size, end);
      case WordKind::wall:
        return wait_for(Waiting::for_wall, end);
      case WordKind::wall_if_equals:
        return (char_at(blanks_end(end)) == '=' ||
                (waiting_ == Waiting::for_crossed && is_digit(char_at(end)))) &&
               wait_for(Waiting::for_wall, end);  // t = 4.5, x t4.5
      case WordKind::length:
        return wait_for(Waiting::for_length, end);
      case WordKind::times:
        if (parts_.sizes.empty() && parts_.labels.empty()) return false;
        return wait_for(Waiting::for_crossed, end);
      case WordKind::or_else:
        if (!last_was_size_) return false;
        joint_ = '/';
        at_ = end;
        return true;
      case WordKind::schedule:
        return wait_for(Waiting::for_schedule, end);
      case WordKind::s_schedule:
        if (char_at(blanks_end(end)) == '=') return wait_for(Waiting::for_wall, end);
        return wait_for(Waiting::for_s_schedule, end);
      case WordKind::label:
        return add_label(word->label, word->value, end);
      case WordKind::ratio:
        parts_.ratio_is_dr = word->text == "dr";
        return wait_for(Waiting::for_ratio, end);
      case WordKind::pressure_class:
        if (last_was_label_ && !is_run(char_at(blanks_end(end)))) {  // "medium class"
          at_ = end;
          return true;
        }
        return wait_for(Waiting::for_pressure_class, end);
      case WordKind::thickness_class:
        return wait_for(Waiting::for_thickness_class, end);
      case WordKind::nominal_pressure:
        return wait_for(Waiting::for_nominal_pressure, end);
      case WordKind::taper_thread:
        parts_.taper_thread = true;
        put_aside(at_, end);
        break;
      case WordKind::pipe_thread:
        parts_.pipe_thread = true;
        put_aside(at_, end);
        break;
      case WordKind::thread_letter:
        if (!is_digit(char_at(blanks_end(end)))) return false;
        parts_.pipe_thread = true;
        put_aside(at_, end);
        break;
      case WordKind::iron_pipe_sizes:
        parts_.iron_pipe_sizes = true;
        break;
      case WordKind::cast_iron_sizes:
        parts_.cast_iron_sizes = true;
        break;
      case WordKind::copper_sizes:
        parts_.copper_sizes = true;
        break;
      case WordKind::tube:
        parts_.tube = true;
        put_aside(at_, end);
        break;
      case WordKind::pipe:
        parts_.pipe = true;
        put_aside(at_, end);
        break;
      case WordKind::material:
        // Behind steel "PE" means plain ends.
        if (word->text == "pe" && is_steel_text()) {
          put_aside(at_, end);
        } else {
          say_material(word->family, word->value);
        }
        break;
      case WordKind::grade:
        say_material(word->family, word->value);
        if (is_pipe_standard(word->text)) parts_.pipe = true;
        put_aside(aside_authority(), end, true);
        break;
      case WordKind::grade_of:
        return wait_for(Waiting::for_grade, end);
      case WordKind::standard:
        if (!parts_.standard.empty() && parts_.standard != word->value) return false;
        parts_.standard = word->value;
        parts_.standard_family = word->family;
        break;
      case WordKind::authority:
        authority_ = at_;
        at_ = end;
        return true;
      case WordKind::aside:
        put_aside(at_, end);
        break;
      case WordKind::gauge:
        return wait_for(Waiting::for_gauge, end);
      case WordKind::doubt:
        parts_.doubtful = true;
        break;
      case WordKind::missing:
        parts_.missing = true;
        break;
      default:  // a unit without a number, "lb" without one
        return false;
    }
    authority_ = none;
    at_ = end;
    return true;
  }

  /// "OD" and its like say more than that it is a diameter.
  bool is_diameter_sign(const Word& word, std::size_t at) const {
    static constexpr std::array<std::string_view, 5> signs{"d", "de", "da", "dia", "diameter"};
    return std::ranges::find(signs, word.text) != signs.end() || written_[plain_.from[at]] < 0;
  }

  /// ASTM A53 and its like, API 5L: for pipe, which goes by its nominal size.
  static bool is_pipe_standard(std::string_view text) {
    return text.starts_with("api5l") || (text.starts_with("a") && is_digit(text[1]));
  }

  std::size_t aside_authority() const { return authority_ == none ? at_ : authority_; }

  /// "316" behind a size is a grade, unless it goes on as a number does.
  bool is_grade_number(const Word& word, std::size_t end) const {
    if (word.kind != WordKind::grade) return false;
    if (!std::ranges::all_of(word.text, is_digit)) return true;                     // 316L, 316SS
    if (at_ == 0 && is_marked_number(blanks_end(end))) return run_end(at_) == end;  // 304 4"
    return !parts_.sizes.empty() && waiting_ == Waiting::nothing && run_end(at_) == end &&
           char_at(end) != '.' && char_at(end) != ',' && unit_at(end).second == end &&
           char_at(blanks_end(end)) != 'x';
  }

  /// A number with an inch sign, or in front of a wall.
  bool is_marked_number(std::size_t at) const {
    const auto number = number_at(text_, at);
    if (!number) return false;
    const auto [unit, end] = unit_at(at + number->length);
    return unit == LengthUnit::inch || char_at(blanks_end(end)) == 'x';
  }

  /// "P-101: 4" sch 40", "LINE 12 - 4"": what numbers a place stands before a size with its mark.
  bool read_tag() {
    if (at_ != 0 || !is_letter(text_[0])) return false;
    const std::size_t letters = letters_end(0);
    const Word* word = find_word(text_.substr(0, letters));
    const bool line = text_.substr(0, letters) == "line";
    if (letters > 4 || (word && !line && word->kind != WordKind::foot)) return false;
    if (char_at(letters) != (line ? ' ' : '-')) return false;
    const auto number = number_at(text_, letters + 1);
    if (!number || !number->is_integer() || (!line && number->value < 100)) return false;
    const std::size_t end = letters + 1 + number->length;
    if (find_word(std::string(text_.substr(0, letters)) + std::string(number->text))) return false;
    if ((char_at(end) != ' ' && char_at(end) != ':') || unit_at(end).second != end) return false;
    const std::size_t next = text_.find_first_not_of(" :-", end);
    if (next == std::string_view::npos) return false;
    const std::string_view rest = text_.substr(next);
    const auto size = number_at(rest, 0);
    const bool inches = size && unit_at(next + size->length).first == LengthUnit::inch;
    if (!inches && !rest.starts_with("dn") && !rest.starts_with("nps")) return false;
    put_aside(0, end);
    at_ = end;
    return true;
  }

  /// `x` grown together with what follows it: 4"xSCH40.
  bool read_split_times() {
    if (text_[at_] != 'x' || (parts_.sizes.empty() && parts_.labels.empty())) return false;
    return wait_for(Waiting::for_crossed, at_ + 1);
  }

  // --- numbers ---

  /// The unit at `at`, blanks or a hyphen before it aside, and where it ends; `at` where none is.
  std::pair<LengthUnit, std::size_t> unit_at(std::size_t at) const {
    const std::size_t start = at;
    at = blanks_end(at);
    if (char_at(at) == '"') return {LengthUnit::inch, at + 1};
    const bool hyphen = char_at(at) == '-';  // 4-inch
    if (hyphen) ++at;
    std::size_t end = letters_end(at);
    if (end == at || end - at > longest_word) return {LengthUnit::none, start};
    const Word* word = find_word(text_.substr(at, end - at));
    if (!word && text_[end - 1] == 'x') {  // 168.3mmx7.11mm
      --end;
      word = find_word(text_.substr(at, end - at));
    }
    const bool per_metre = word && word->kind == WordKind::metre && char_at(end) == '.' &&
                           is_letter(char_at(end + 1));  // Cyrillic "m.p.": sold by the metre
    const LengthUnit unit = word && !per_metre ? unit_of(word->kind) : LengthUnit::none;
    if (unit == LengthUnit::none || (hyphen && unit != LengthUnit::inch)) {
      return {LengthUnit::none, start};
    }
    const bool abbreviated = char_at(end) == '.' && !is_run(char_at(end + 1));  // "6 in. nom."
    return {unit, abbreviated ? end + 1 : end};
  }

  static LengthUnit unit_of(WordKind kind) {
    switch (kind) {
      case WordKind::inch:
        return LengthUnit::inch;
      case WordKind::millimetre:
        return LengthUnit::millimetre;
      case WordKind::centimetre:
        return LengthUnit::centimetre;
      case WordKind::metre:
        return LengthUnit::metre;
      case WordKind::foot:
        return LengthUnit::foot;
      default:
        return LengthUnit::none;
    }
  }

  WrittenLength length_of(const WrittenNumber& number) {
    WrittenLength length;
    length.value = number.value;
    length.number = number.plain();
    length.decimals = number.decimals;
    length.fraction = !number.fraction.empty();
    length.comma = number.comma;
    length.comma_unclear = number.comma_is_unclear();
    std::tie(length.unit, at_) = unit_at(at_);
    return length;
  }

  /// The word behind a number, if it does not announce the next one ("6 wall 7.1").
  Phrase word_behind_number() const {
    const std::size_t at = blanks_end(at_);
    if (at >= text_.size() || !is_letter(text_[at])) return {};
    const Phrase found = phrase_at(at);
    if (!found.word) return {};
    constexpr std::string_view joints = " .:=-";
    std::size_t next = found.end;
    while (next < text_.size() && joints.find(text_[next]) != std::string_view::npos) ++next;
    return is_digit(char_at(next)) ? Phrase{} : found;
  }

  static bool counts_inches(const WrittenLength& length) {
    return length.unit == LengthUnit::inch || (length.fraction && length.unit == LengthUnit::none);
  }

  bool add_size(WrittenSize::Kind kind, WrittenLength length, bool diameter_sign = false) {
    if (parts_.sizes.size() >= 4) return false;
    if (last_was_size_ && joint_ != ' ') parts_.alternatives = true;
    if (crosses_) parts_.crossed = true;
    crosses_ = false;
    if (kind == WrittenSize::Kind::outside && length.fraction && length.unit == LengthUnit::none) {
      length.unit = LengthUnit::inch;
    }
    parts_.sizes.push_back({kind, std::move(length), diameter_sign});
    last_was_size_ = true;
    last_was_label_ = false;
    return true;
  }

  bool add_wall(WrittenLength length, bool marked) {
    if (parts_.wall) return false;
    parts_.wall = std::move(length);
    parts_.wall_marked = marked;
    last_was_size_ = false;
    return true;
  }

  bool read_number() {
    const auto number = number_at(text_, at_);
    if (!number) return false;
    const std::size_t start = at_;
    const Waiting waiting = std::exchange(waiting_, Waiting::nothing);
    const std::size_t waiting_since = waiting_since_;
    at_ += number->length;
    const bool read = waiting == Waiting::nothing || waiting == Waiting::for_crossed
                          ? read_plain_number(*number, start, waiting == Waiting::for_crossed)
                          : read_awaited_number(*number, waiting, waiting_since);
    joint_ = ' ';
    if (!read) {
      at_ = start;
      if (waiting != Waiting::nothing) {
        waiting_ = waiting;
        waiting_since_ = waiting_since;
      }
    }
    return read;
  }

  bool read_awaited_number(const WrittenNumber& number, Waiting waiting, std::size_t since) {
    using Kind = WrittenSize::Kind;
    switch (waiting) {
      case Waiting::for_nps: {
        WrittenLength length = length_of(number);  // "NPS 6 in" says inch twice, no harm
        if (length.unit != LengthUnit::none && length.unit != LengthUnit::inch) return false;
        length.unit = LengthUnit::inch;
        return add_size(Kind::nps, std::move(length));
      }
      case Waiting::for_dn:
      case Waiting::for_dn_or_outside: {
        WrittenLength length = length_of(number);
        if (counts_inches(length)) return add_size(Kind::nps, std::move(length));  // DN 4"
        if (!length.fraction) length.unit = LengthUnit::millimetre;
        if (!add_size(Kind::dn, std::move(length))) return false;
        parts_.sizes.back().may_be_outside = waiting == Waiting::for_dn_or_outside;
        return true;
      }
      case Waiting::for_nominal:
        return add_size(Kind::nominal, length_of(number));
      case Waiting::for_outside:
        return add_size(Kind::outside, length_of(number), diameter_sign_);
      case Waiting::for_inside:
        return add_size(Kind::inside, length_of(number));
      case Waiting::for_size:
        return add_size(Kind::number, length_of(number));
      case Waiting::for_wall:
        return add_wall(length_of(number), true);
      case Waiting::for_length: {
        const WrittenLength length = length_of(number);
        if (length.mm() < 500) return false;
        put_aside(since, at_);
        return true;
      }
      case Waiting::for_schedule:
      case Waiting::for_s_schedule:
        return read_schedule(number, waiting == Waiting::for_schedule);
      case Waiting::for_ratio:
        if (number.value < 3 || number.value > 100) return false;
        return add_label(LabelKind::ratio, number.plain(), at_);
      case Waiting::for_pressure_class:
        if (!number.is_integer()) return false;
        return add_label(LabelKind::pressure_class, "class " + std::string(number.text), at_,
                         since);
      case Waiting::for_thickness_class:
        return add_label(LabelKind::thickness_class, "class " + std::string(number.text), at_);
      case Waiting::for_gauge:
        return add_gauge(number, since, at_);
      case Waiting::for_nominal_pressure:
        parts_.nominal_pressure = true;
        put_aside(since, at_);
        return true;
      default:
        return false;
    }
  }

  /// The end of "ga", "gauge" or its like behind a number; `at_` where there is none.
  std::size_t gauge_end() const {
    std::size_t at = blanks_end(at_);
    if (is_hyphen(at)) ++at;  // 16-gauge
    const std::size_t end = letters_end(at);
    const std::string_view written = text_.substr(at, end - at);
    const Word* word = written.size() <= longest_word ? find_word(written) : nullptr;
    return written == "ga" || (word && word->kind == WordKind::gauge) ? end : at_;
  }

  static bool may_be_gauge(const WrittenNumber& number) {
    constexpr double largest_gauge = 36;
    return number.is_integer() && number.value <= largest_gauge;
  }

  bool add_gauge(const WrittenNumber& number, std::size_t from, std::size_t end) {
    if (!may_be_gauge(number) || !parts_.gauge.empty()) return false;
    parts_.gauge = plain_.written_part(written_, from, end);
    last_was_size_ = last_was_label_ = false;
    at_ = end;
    return true;
  }

  /// "40", "40S", "40 S"; behind a slash another one may follow.
  bool read_schedule(const WrittenNumber& number, bool said) {
    if (!number.is_integer()) return false;
    std::string label(number.text);
    if (!said && label != "40" && label != "80" && label != "160" && label != "10") return false;
    LabelKind kind = LabelKind::schedule;
    const std::size_t s = said ? blanks_end(at_) : at_;
    if (char_at(s) == 's' && !is_run(char_at(s + 1))) {
      label += 'S';
      kind = LabelKind::stainless_schedule;
      at_ = s + 1;
    }
    add_label(kind, label, at_);
    const std::size_t slash = blanks_end(at_);
    if (char_at(slash) == '/' && is_digit(char_at(blanks_end(slash + 1)))) {
      waiting_ = Waiting::for_schedule;
      waiting_since_ = slash;
      at_ = slash + 1;
    }
    return true;
  }

  /// A number that no word announced.
  bool read_plain_number(const WrittenNumber& number, std::size_t start, bool crossed) {
    using Kind = WrittenSize::Kind;
    if (const std::size_t end = gauge_end(); end != at_ && may_be_gauge(number)) {
      return add_gauge(number, start, end);
    }
    const char next = char_at(at_);
    const bool letter_alone = !is_run(char_at(at_ + 1));
    if (letter_alone && !crossed) {
      if (next == 'a' && number.is_integer()) {
        ++at_;
        return add_size(Kind::japanese_a, plain_length(number));
      }
      if (next == 'b') {
        ++at_;
        return add_size(Kind::japanese_b, plain_length(number));
      }
    }
    if (number.is_integer() &&
        ((letter_alone && next == 's') || (last_was_label_ && joint_ == '/'))) {
      return read_schedule(number, true);  // 40S, STD/40
    }
    if (!crossed && is_material_number(number)) {
      const bool stainless = number.text[2] == '4';
      say_material(stainless ? Family::stainless : Family::carbon_steel,
                   stainless ? "stainless steel" : "carbon steel");
      put_aside(start, at_, true);
      return true;
    }
    const bool flange = number.is_integer() && is_flange_class(number.text);
    const Phrase behind = flange ? phrase_at(blanks_end(at_)) : Phrase{};
    const bool pounds = behind.word && behind.word->kind == WordKind::pounds;
    if (flange && (next == '#' || authority_ != none || pounds)) {
      if (pounds) at_ = behind.end;
      if (next == '#') ++at_;
      parts_.flange_class = number.text;
      put_aside(authority_ == none ? start : authority_, at_);
      authority_ = none;
      last_was_size_ = false;
      return true;
    }
    if (authority_ != none && number.is_integer()) return false;  // an unknown standard
    if (is_alloy_share(number)) {                                 // CuNi 90/10
      put_aside(start, at_, true);
      return true;
    }
    if (next == '/' && number.is_integer()) {  // 40/STD
      const auto [word, end] = phrase_at(at_ + 1);
      if (word && word->label == LabelKind::weight) return read_schedule(number, true);
    }
    WrittenLength length = length_of(number);
    if (crossed) return read_crossed_number(std::move(length), start);
    if (const auto [word, end] = word_behind_number(); word) {
      switch (word->kind) {
        case WordKind::wall:
          at_ = end;
          return add_wall(std::move(length), true);
        case WordKind::outside: {
          const bool sign = is_diameter_sign(*word, blanks_end(at_));
          at_ = end;
          return add_size(Kind::outside, std::move(length), sign);
        }
        case WordKind::inside:
          at_ = end;
          return add_size(Kind::inside, std::move(length));
        case WordKind::nps:
          at_ = end;
          if (length.unit == LengthUnit::none) length.unit = LengthUnit::inch;
          return length.unit == LengthUnit::inch && add_size(Kind::nps, std::move(length));
        case WordKind::dn:
          at_ = end;
          return add_size(counts_inches(length) ? Kind::nps : Kind::dn, std::move(length));
        case WordKind::nominal:
          at_ = end;
          return add_size(Kind::nominal, std::move(length));
        case WordKind::length:  // 6 m long
          if (length.mm() < 500) break;
          at_ = end;
          put_aside(start, at_);
          return true;
        default:
          break;
      }
    }
    if (parts_.wall && joint_ == '-' && length.is_integer() && length.mm() >= 1000) {
      put_aside(start, at_);  // 168.3 x 7.11 - 6000
      return true;
    }
    // A second bare number is not told from a schedule, unless "-", "/" or "," joins it.
    const bool joined = last_was_size_ && joint_ != ' ';
    const bool in_front_of_wall = char_at(blanks_end(at_)) == 'x';
    const bool behind_bare_size = !parts_.sizes.empty();
    if (behind_bare_size && length.unit == LengthUnit::none && length.is_integer() && !joined &&
        !in_front_of_wall) {
      return false;
    }
    return add_size(Kind::number, std::move(length));
  }

  /// Behind an "x": a wall; behind that, or far too large for one, a length.
  bool read_crossed_number(WrittenLength length, std::size_t start) {
    if (length.unit == LengthUnit::none && char_at(at_) == '\'') {  // 20'
      length.unit = LengthUnit::foot;
      ++at_;
    }
    const auto [word, end] = word_behind_number();
    const bool outside = word && word->kind == WordKind::outside;  // 0.28" x 6.625" OD
    const bool named = word && (word->kind == WordKind::wall ||
                                (word->text == "t" && !is_blank(char_at(at_))));  // 4.5t
    if (outside) return false;
    if (named) at_ = end;
    if (!parts_.wall && !parts_.sizes.empty() &&
        !(length.unit == LengthUnit::metre && length.value >= 1) &&
        !(length.unit == LengthUnit::foot && length.value >= 3)) {
      return add_wall(std::move(length), named);
    }
    if (parts_.wall && !parts_.wall_marked && parts_.sizes.size() == 1 &&
        parts_.wall->value > 4 * length.value) {  // DN 100 x 114.3 x 6.3
      parts_.sizes.push_back(
          {WrittenSize::Kind::outside, *std::exchange(parts_.wall, length), false});
      parts_.wall_marked = named;
      return true;
    }
    if (length.mm() < 500) return false;
    put_aside(start, at_);
    return true;
  }

  static WrittenLength plain_length(const WrittenNumber& number) {
    WrittenLength length;
    length.value = number.value;
    length.number = number.plain();
    length.decimals = number.decimals;
    length.fraction = !number.fraction.empty();
    return length;
  }

  /// "1.4404", "1.0345": material numbers of EN 10027-2.
  static bool is_material_number(const WrittenNumber& number) {
    return number.decimals == 4 && !number.comma && number.text.size() == 6 &&
           number.text[0] == '1' && (number.text[2] == '4' || number.text[2] == '0');
  }

  /// The other share of 90/10 follows.
  bool is_alloy_share(const WrittenNumber& number) {
    if (char_at(at_) != '/' || !number.is_integer()) return false;
    const auto other = number_at(text_, at_ + 1);
    if (!other || number.value + other->value != 100) return false;
    at_ += 1 + other->length;
    return true;
  }

  static constexpr std::size_t none = std::string_view::npos;

  std::string_view written_;
  PlainText plain_;
  std::string_view text_;
  std::size_t at_ = 0;
  std::size_t part_start_ = 0;
  Waiting waiting_ = Waiting::nothing;
  std::size_t waiting_since_ = 0;
  std::size_t aside_begin_ = none, aside_end_ = 0;
  bool aside_joins_ = false;
  std::size_t authority_ = none;
  char joint_ = ' ';
  bool last_was_size_ = false;
  bool last_was_label_ = false;
  bool diameter_sign_ = false;
  bool crosses_ = false;
  bool in_line_number_ = false;
  SizeParts parts_;
};

}  // namespace

double WrittenLength::mm(LengthUnit otherwise) const {
  switch (unit == LengthUnit::none ? otherwise : unit) {
    case LengthUnit::inch:
      return value * 25.4;
    case LengthUnit::centimetre:
      return value * 10;
    case LengthUnit::metre:
      return value * 1000;
    case LengthUnit::foot:
      return value * 304.8;
    default:
      return value;
  }
}

bool is_flange_class(std::string_view number) {
  static constexpr std::array<std::string_view, 9> classes{"125", "150", "250",  "300", "400",
                                                           "600", "900", "1500", "2500"};
  return std::ranges::find(classes, number) != classes.end();
}

SizeParts parts_of_size(std::string_view text) {
  return Reader(text).parts();
}

}  // namespace slantrule
