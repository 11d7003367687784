#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <map>
#include <numbers>
#include <set>
#include <variant>

#include "lookup_parts.hpp"
#include "slantrule/catalogue/pipe_standards.hpp"
#include "slantrule/catalogue/size_designation.hpp"
#include "slantrule/sheets/lookup_sheet.hpp"
#include "slantrule/sheets/text_layout.hpp"
#include "slantrule/units/number_text.hpp"
#include "slantrule/units/quantity.hpp"
#include "slantrule/units/suggest.hpp"

namespace slantrule {
namespace {

using Rows = std::vector<const PipeRecord*>;

/// Every row, a user's included, in the order of the tables.
Rows all_pipes(const Catalogue& catalogue) {
  return pipes_near(1, 1e9, catalogue);
}

// ---------------------------------------------------------------- words

struct Word {
  std::string text;
  std::size_t begin, end;  ///< in the plain text
};

/// Texts and tables are compared word by word, letters and digits apart: "DN150, SDR 13,6" is
/// "dn 150 sdr 13.6", "B36.10M" is "b 36.10 m", "1-1/2" is "1 1/2".
std::vector<Word> words_of(std::string_view plain) {
  const auto is_digit = [&](std::size_t i) {
    return i < plain.size() && plain[i] >= '0' && plain[i] <= '9';
  };
  std::vector<Word> words;
  for (std::size_t i = 0; i < plain.size();) {
    Word word{{}, i, i};
    if (is_digit(i)) {
      while (is_digit(i) ||
             (is_digit(i + 1) && (plain[i] == '.' || plain[i] == ',' || plain[i] == '/'))) {
        word.text += plain[i] == ',' ? '.' : plain[i];
        ++i;
      }
    } else {
      const auto is_letter = [&](std::size_t at) {
        const auto byte = static_cast<unsigned char>(at < plain.size() ? plain[at] : ' ');
        return byte >= 0x80 || std::isalpha(byte);
      };
      while (is_letter(i)) {
        word.text += static_cast<char>(std::tolower(static_cast<unsigned char>(plain[i])));
        ++i;
      }
      if (word.text.empty() && (plain[i] == '"' || plain[i] == '\'')) word.text = plain[i];
      if (i == word.begin) ++i;
    }
    word.end = i;
    if (!word.text.empty()) words.push_back(std::move(word));
  }
  return words;
}

std::string joined(const std::vector<Word>& words, std::size_t from, std::size_t count) {
  std::string text;
  for (std::size_t i = from; i < from + count; ++i)
    text += (text.empty() ? "" : " ") + words[i].text;
  return text;
}

std::string plain_words(std::string_view text) {
  const auto words = words_of(text);
  return joined(words, 0, words.size());
}

// ---------------------------------------------------------------- phrases

/// What a row answers to. Some phrases say something only beside a standard or a material: "110" is
/// a size of polyethylene pipe, but a number alone is none.
struct Phrases {
  using Set = std::set<std::string, std::less<>>;
  Set context;       ///< standard and material
  Set sizes;         ///< "nps 6", "dn 150"
  Set walls;         ///< "sch 40", "sdr 11"
  Set sizes_beside;  ///< "110", "110 mm"
  Set walls_beside;  ///< "40"

  bool says_size(std::string_view words) const {
    return sizes.contains(words) || sizes_beside.contains(words);
  }
  bool says_alone(std::string_view words) const {
    return sizes.contains(words) || walls.contains(words);
  }
  bool says(std::string_view words) const {
    return says_size(words) || walls.contains(words) || walls_beside.contains(words);
  }
};

bool starts_with_digit(std::string_view text) {
  return !text.empty() && text.front() >= '0' && text.front() <= '9';
}

Phrases phrases_of(const PipeRecord& row) {
  Phrases phrases;
  const auto add_standard = [&](std::string words) {
    phrases.context.insert(words);
    if (words.ends_with(" m")) phrases.context.insert(words.substr(0, words.size() - 2));
  };
  // Without the publisher, where a letter is left: "B36.10M", "C900"; but no "545".
  add_standard(plain_words(row.standard));
  const std::size_t blank = row.standard.find(' ');
  if (blank != std::string_view::npos && !starts_with_digit(row.standard.substr(blank + 1))) {
    add_standard(plain_words(row.standard.substr(blank + 1)));
  }
  phrases.context.insert(plain_words(row.material_family));

  const std::string size = plain_words(row.designation);
  const bool named = size.starts_with("nps ") || size.starts_with("dn ");
  (named ? phrases.sizes : phrases.sizes_beside).insert(size);
  if (row.dn > 0) phrases.sizes.insert(fmt::format("dn {}", row.dn));
  if (size.starts_with("size ")) phrases.sizes.insert("nps " + size.substr(5));
  if (size.ends_with(" in")) phrases.sizes.insert("nps " + size.substr(0, size.size() - 3));
  // The designation is the outside diameter: "PE 110 mm", "PE DN 110".
  if (starts_with_digit(size) && size.find(' ') == std::string::npos) {
    for (const char* before : {"", "od ", "d ", "dn ", "de ", "da "}) {
      phrases.sizes_beside.insert(before + size);
      phrases.sizes_beside.insert(before + size + " mm");
    }
  }

  const std::string wall = plain_words(row.schedule);
  if (starts_with_digit(wall)) {
    (wall.ends_with(" s") ? phrases.walls : phrases.walls_beside).insert(wall);
  } else if (!wall.empty()) {
    phrases.walls.insert(wall);
    if (wall.starts_with("sdr ")) phrases.walls.insert(wall.substr(1));
    if (wall.starts_with("dr ")) phrases.walls.insert("s" + wall);
  }
  if (!wall.empty() && wall.find("dr ") == std::string::npos) {
    for (const char* before : {"sch ", "schedule ", "class "}) phrases.walls.insert(before + wall);
  }
  return phrases;
}

// ---------------------------------------------------------------- sizes

void add_row(std::vector<PipeSize>& sizes, const PipeRecord& row) {
  const auto same = std::ranges::find_if(sizes, [&](const PipeSize& size) {
    const PipeRecord& other = size.row();
    return other.standard == row.standard && other.designation == row.designation &&
           other.outside_diameter_mm == row.outside_diameter_mm;
  });
  if (same == sizes.end()) {
    sizes.push_back({{&row}});
  } else {
    same->walls.push_back(&row);
  }
}

std::vector<PipeSize> sizes_of(const Rows& rows) {
  std::vector<PipeSize> sizes;
  for (const PipeRecord* row : rows) add_row(sizes, *row);
  for (PipeSize& size : sizes) {
    std::ranges::stable_sort(size.walls, {}, [](const PipeRecord* row) { return row->wall_mm; });
  }
  return sizes;
}

std::string standard_and_size(const PipeRecord& row) {
  return fmt::format("{} {}", row.standard, row.designation);
}

double off_relative(const PipeRecord& row, double outside_diameter_m) {
  return row.outside_diameter_mm / 1000 / outside_diameter_m - 1;
}

PipeMeaning of_sizes(std::string reading, std::vector<PipeSize> sizes) {
  PipeMeaning meaning;
  meaning.reading = std::move(reading);
  meaning.sizes = std::move(sizes);
  return meaning;
}

PipeMeaning by_diameter(std::string reading, double outside_diameter_m,
                        std::optional<double> wall_m, const Rows& among) {
  PipeMeaning meaning;
  meaning.reading = std::move(reading);
  meaning.outside_diameter_m = outside_diameter_m;
  meaning.wall_m = wall_m;
  Rows near;
  double below_mm = 0, above_mm = 0;
  for (const PipeRecord* row : among) {
    const double off = off_relative(*row, outside_diameter_m);
    const double size_mm = row->outside_diameter_mm;
    if (std::fabs(off) <= same_size_tolerance) near.push_back(row);
    if (off < 0) below_mm = std::max(below_mm, size_mm);
    if (off > 0 && (above_mm == 0 || size_mm < above_mm)) above_mm = size_mm;
  }
  meaning.fits = !near.empty();
  if (near.empty()) {
    for (const PipeRecord* row : among) {
      const double size_mm = row->outside_diameter_mm;
      if (size_mm == below_mm || size_mm == above_mm) near.push_back(row);
    }
  }
  meaning.sizes = sizes_of(near);
  std::ranges::stable_sort(meaning.sizes, {}, [&](const PipeSize& size) {
    const double off = off_relative(size.row(), outside_diameter_m);
    return meaning.fits ? std::fabs(off) : off;
  });
  return meaning;
}

// ---------------------------------------------------------------- search

/// Reads one text. What names a standard or a material narrows the rows; of the rest either every
/// word is a size or a wall of the rows that are left, or it is a diameter or a girth, or it is
/// left to the reader of designations.
class Search {
 public:
  Search(std::string_view text, const Catalogue& catalogue)
      : text_(text), plain_(plain_text(text.substr(0, longest_text))), catalogue_(catalogue) {
    for (const PipeRecord* row : all_pipes(catalogue)) rows_.push_back({row, phrases_of(*row)});
  }

  PipeLookup run() {
    PipeLookup lookup;
    lookup.text = text_;
    if (text_.size() <= longest_text) read(lookup, true);
    if (lookup.found()) return lookup;
    lookup.message = why_nothing(lookup);
    return lookup;
  }

 private:
  static constexpr std::size_t longest_text = 200;

  struct Candidate {
    const PipeRecord* row;
    Phrases phrases;
  };

  void read(PipeLookup& lookup, bool may_branch) {
    words_ = words_of(plain_);
    take_context();
    if (!words_.empty() && !solid_without_standard_.empty()) return;
    if (take_sizes()) {
      lookup.meanings.push_back(of_sizes(text_, sizes_of(left())));
      return;
    }
    if (const auto diameter_m = girth_or_diameter()) {
      lookup.meanings.push_back(by_diameter(text_, *diameter_m, {}, left()));
      lookup.meanings.back().by_girth = by_girth_;
      return;
    }
    // A diameter that is none has been complained about already.
    if (problem_.empty()) designation(lookup, may_branch);
  }

  Rows left() const {
    Rows rows;
    for (const Candidate& one : rows_) rows.push_back(one.row);
    return rows;
  }

  template <class Keep>
  bool narrow(const Keep& keep) {
    std::vector<Candidate> kept;
    std::ranges::copy_if(rows_, std::back_inserter(kept), keep);
    if (kept.empty()) return false;
    rows_ = std::move(kept);
    return true;
  }

  std::string_view slice(std::size_t from, std::size_t count) const {
    return std::string_view(plain_).substr(words_[from].begin,
                                           words_[from + count - 1].end - words_[from].begin);
  }

  /// Takes standards and materials out of the words; whatever they say, at most one family is left.
  void take_context() {
    constexpr std::size_t most_words = 5;
    for (std::size_t i = 0; i < words_.size();) {
      std::size_t taken = 0;
      for (std::size_t count = std::min(most_words, words_.size() - i); count > 0; --count) {
        const std::string phrase = joined(words_, i, count);
        const auto says = [&](const Candidate& one) {
          return one.phrases.context.contains(phrase);
        };
        if (std::ranges::any_of(rows_, says)) {
          narrow(says);
          taken = count;
        } else if (const auto family = family_named(slice(i, count))) {
          if (!narrow([&](const Candidate& one) { return one.row->material_family == *family; })) {
            continue;
          }
          taken = count;
        }
        if (taken > 0) break;
      }
      if (taken == 0) {
        ++i;
        continue;
      }
      has_context_ = true;
      const auto first = words_.begin() + static_cast<std::ptrdiff_t>(i);
      words_.erase(first, first + static_cast<std::ptrdiff_t>(taken));
    }
  }

  /// Family of pipe standards of a solid's name: "mild steel" is carbon steel.
  std::optional<std::string_view> family_named(std::string_view name) {
    if (name.empty() || starts_with_digit(name)) return std::nullopt;
    if (!wall_name_in(name).empty()) return std::nullopt;  // "PVC sch 80" is more than a family
    const auto found = catalogue_.solid(name);
    if (!found.record) return std::nullopt;
    const std::string_view family = pipe_family(found.record->key);
    if (!family.empty()) return family;
    solid_without_standard_ = name;
    return std::nullopt;
  }

  /// Whether every word is a size or a wall; narrows the rows to them. What no row has beside the
  /// others goes to `misfit_`, once a size or wall was understood.
  bool take_sizes() {
    if (words_.empty()) return has_context_;
    const std::vector<Candidate> before = rows_;
    bool any_alone = has_context_;
    for (std::size_t i = 0; i < words_.size();) {
      std::size_t taken = 0;
      for (std::size_t count = std::min<std::size_t>(4, words_.size() - i); count > 0; --count) {
        const std::string phrase = joined(words_, i, count);
        const auto says = [&](const Candidate& one) { return one.phrases.says(phrase); };
        if (!std::ranges::any_of(rows_, says)) continue;
        any_alone = any_alone || std::ranges::any_of(rows_, [&](const Candidate& one) {
                      return one.phrases.says_alone(phrase);
                    });
        size_named_ = size_named_ || std::ranges::any_of(rows_, [&](const Candidate& one) {
                        return one.phrases.says_size(phrase);
                      });
        narrow(says);
        taken = count;
        break;
      }
      if (taken == 0) {
        if (i > 0 && any_alone) {
          misfit_ = slice(i, words_.size() - i);
          fitting_ = rows_;
        }
        rows_ = before;
        return false;
      }
      i += taken;
    }
    if (!any_alone) rows_ = before;
    return any_alone;
  }

  /// The words that are left, as they were written; signs between them ("+-") and a minus before
  /// them belong to them.
  std::string rest() const {
    std::string text;
    std::size_t end = 0;
    for (const Word& word : words_) {
      const bool minus = word.begin > 0 && plain_[word.begin - 1] == '-';
      const std::size_t begin = text.empty() ? word.begin - (minus ? 1 : 0) : end;
      text += plain_.substr(begin, word.end - begin);
      end = word.end;
    }
    return text;
  }

  std::optional<double> girth_or_diameter() {
    bool diameter = false;
    std::erase_if(words_, [&](const Word& word) {
      const bool says_girth = word.text == "girth" || word.text == "circumference";
      const bool says_diameter = word.text == "diameter" || word.text == "dia" ||
                                 word.text == "od" || word.text == "outside" ||
                                 word.text == "outer";
      by_girth_ = by_girth_ || says_girth;
      diameter = diameter || says_diameter;
      return says_girth || says_diameter || word.text == "of";
    });
    if (!by_girth_ && !diameter) return std::nullopt;
    const auto read = parse_quantity(rest(), Dimension::length);
    const Reading* length = std::get_if<Reading>(&read);
    if (!length || !(length->si > 0)) {
      misfit_ = rest();
      const auto* problem = std::get_if<QuantityProblem>(&read);
      problem_ = problem ? problem->message : "a diameter must be above 0";
      return std::nullopt;
    }
    return by_girth_ ? length->si / std::numbers::pi : length->si;
  }

  void designation(PipeLookup& lookup, bool may_branch) {
    const SizeReading size = read_size(text_, "", catalogue_);
    switch (size.kind) {
      case SizeReading::Kind::understood:
        if (size.row) {
          PipeLookup again = again_with(size_text(*size.row));
          if (!again.found()) again.meanings.push_back(of_sizes(text_, sizes_of({size.row})));
          again.meanings.front().reading = text_;
          lookup.meanings = std::move(again.meanings);
        } else {
          lookup.meanings.push_back(
              by_diameter(text_, size.outside_diameter_m, size.wall_m, left()));
        }
        return;
      case SizeReading::Kind::needs_wall:
        lookup.meanings.push_back(by_diameter(text_, size.outside_diameter_m, {}, left()));
        return;
      case SizeReading::Kind::ambiguous:
        if (!misfit_.empty()) return;
        lookup.readings = size.readings;
        lookup.message = size.message;
        for (const std::string& reading : size.readings) {
          if (!may_branch) break;
          for (PipeMeaning& meaning : again_with(reading).meanings) {
            lookup.meanings.push_back(std::move(meaning));
          }
        }
        return;
      case SizeReading::Kind::not_understood:
        if (!misfit_.empty()) return;
        lookup.nearest = size.readings;
        problem_ = size.message;
        return;
    }
  }

  PipeLookup again_with(const std::string& text) const {
    Search search(text, catalogue_);
    PipeLookup lookup;
    lookup.text = text;
    search.read(lookup, false);
    return lookup;
  }

  std::string why_nothing(PipeLookup& lookup) {
    const std::string quoted = "\"" + shown(text_) + "\"";
    if (text_.size() > longest_text) return quoted + " is too long for a size";
    if (!lookup.message.empty()) return lookup.message;
    if (!misfit_.empty() && problem_.empty()) {
      lookup.nearest = neighbours_of_misfit();
      return fmt::format("nothing among the pipes matches {}: no pipe has \"{}\" beside the rest{}",
                         quoted, shown(misfit_), did_you_mean(lookup.nearest));
    }
    if (!misfit_.empty()) return fmt::format("{}: {}", quoted, problem_);
    if (!solid_without_standard_.empty()) {
      return fmt::format(
          "{}: there are no standard sizes of {} here; measure outside diameter or girth, and wall",
          quoted, shown(solid_without_standard_));
    }
    if (has_context_) {
      misfit_ = rest();
      fitting_ = rows_;
      lookup.nearest = neighbours_of_misfit();
      return fmt::format("nothing among the pipes matches {}: no {} pipe is \"{}\"{}", quoted,
                         rows_.front().row->standard == rows_.back().row->standard
                             ? rows_.front().row->standard
                             : rows_.front().row->material_family,
                         shown(misfit_), did_you_mean(lookup.nearest));
    }
    if (lookup.nearest.empty()) {
      std::vector<std::string_view> names;
      for (const PipeStandardRecord& standard : built_in_pipe_standards()) {
        names.push_back(standard.standard);
        names.push_back(standard.material_family);
      }
      if (const auto near = nearest_name(text_, names)) {
        lookup.nearest.emplace_back(*near);
        problem_.clear();
      }
    }
    if (problem_.empty()) return nothing_matches("pipes", lookup);
    return fmt::format("nothing among the pipes matches {}{}", problem_,
                       did_you_mean(lookup.nearest));
  }

  static std::optional<double> number_in(std::string_view text) {
    const std::size_t digit = text.find_first_of("0123456789");
    if (digit == std::string_view::npos) return std::nullopt;
    std::string number(text.substr(digit));
    std::ranges::replace(number, '-', ' ');  // NPS 1-1/2
    return read_number(number).times_ten_to(0);
  }

  /// Of the sizes, or of the walls where the size is settled, the next below and above the number
  /// that did not fit.
  std::vector<std::string> neighbours_of_misfit() const {
    const auto wanted = number_in(misfit_);
    if (!wanted) return {};
    const std::string words = plain_words(misfit_);
    const bool by_dn = words.starts_with("dn ");
    const auto number_of = [&](const PipeRecord& row) -> std::optional<double> {
      if (size_named_) {
        // "sch 41" is next to schedules, not to an SDR.
        const std::string wall = plain_words(row.schedule);
        const bool same_kind = starts_with_digit(wall) ? words.starts_with("sch")
                                                       : wall.substr(0, wall.find(' ')) ==
                                                             words.substr(0, words.find(' '));
        return same_kind ? number_in(wall) : std::nullopt;
      }
      if (by_dn && row.dn > 0) return row.dn;
      return number_in(row.designation);
    };
    const PipeRecord* below = nullptr;
    const PipeRecord* above = nullptr;
    double below_number = 0, above_number = 0;
    for (const Candidate& one : fitting_) {
      const auto number = number_of(*one.row);
      if (!number) continue;
      if (*number <= *wanted && (!below || *number > below_number)) {
        below = one.row;
        below_number = *number;
      }
      if (*number > *wanted && (!above || *number < above_number)) {
        above = one.row;
        above_number = *number;
      }
    }
    std::vector<std::string> names;
    for (const PipeRecord* row : {below, above}) {
      if (!row) continue;
      names.push_back(size_named_            ? size_text(*row)
                      : by_dn && row->dn > 0 ? fmt::format("{} DN {}", row->standard, row->dn)
                                             : standard_and_size(*row));
    }
    return names;
  }

  std::string text_;
  std::string plain_;
  const Catalogue& catalogue_;
  std::vector<Candidate> rows_;  ///< that are still meant
  std::vector<Word> words_;      ///< that are still to be read
  bool has_context_ = false;     ///< a standard or a material was named
  bool size_named_ = false;
  bool by_girth_ = false;
  std::string solid_without_standard_;
  std::string misfit_;              ///< words that no row has beside the others
  std::vector<Candidate> fitting_;  ///< the rows that have the others
  std::string problem_;
};

// ---------------------------------------------------------------- linings

std::string_view publisher(std::string_view standard) {
  return standard.substr(0, standard.find(' '));
}

/// Whether a pipe of this row may have the lining. Where the publisher of the pipe's standard has
/// linings of its own for the family, those are meant.
bool may_have(const LiningRecord& lining, const PipeRecord& row) {
  if (row.material_family != lining.pipe) return false;
  if (row.dn < lining.lowest_dn || row.dn > lining.highest_dn) return false;
  if (publisher(row.standard) == publisher(lining.standard)) return true;
  return std::ranges::none_of(built_in_linings(), [&](const LiningRecord& other) {
    return other.pipe == lining.pipe && publisher(other.standard) == publisher(row.standard);
  });
}

/// Usual linings for the sizes shown; the table is of iron and steel.
std::vector<const LiningRecord*> linings_for(const PipeLookup& lookup) {
  std::vector<const LiningRecord*> linings;
  for (const LiningRecord& lining : built_in_linings()) {
    const bool meant = std::ranges::any_of(lookup.meanings, [&](const PipeMeaning& meaning) {
      return std::ranges::any_of(
          meaning.sizes, [&](const PipeSize& size) { return may_have(lining, size.row()); });
    });
    if (meant) linings.push_back(&lining);
  }
  return linings;
}

std::vector<std::string_view> standards_of(const PipeLookup& lookup) {
  std::vector<std::string_view> standards;
  for (const PipeMeaning& meaning : lookup.meanings) {
    for (const PipeSize& size : meaning.sizes) {
      if (std::ranges::find(standards, size.row().standard) == standards.end()) {
        standards.push_back(size.row().standard);
      }
    }
  }
  return standards;
}

// ---------------------------------------------------------------- text

/// Columns line up on the decimal point.
std::string dimension(double length_mm, const Display& display) {
  if (display.units == UnitSystem::us) return fmt::format("{:.3f}", length_mm / 25.4);
  return fmt::format("{:.2f}", length_mm);
}

std::string_view unit(const Display& display) {
  return display.units == UnitSystem::us ? "in" : "mm";
}

std::string size_name(const PipeRecord& row) {
  std::string name(row.designation);
  const std::string dn = fmt::format("DN {}", row.dn);
  if (row.dn > 0 && name != dn) name += ", " + dn;
  return name;
}

class PipeText {
 public:
  PipeText(const PipeLookup& lookup, const Display& display) : lookup_(lookup), display_(display) {}

  std::string build() {
    if (!lookup_.readings.empty()) lines_.wrap(safe(lookup_.message));
    bool first = lookup_.readings.empty();
    for (const PipeMeaning& meaning : lookup_.meanings) {
      if (!first) lines_.add();
      first = false;
      if (!lookup_.readings.empty()) lines_.add("IF IT IS " + safe(meaning.reading));
      meaning.outside_diameter_m ? by_diameter_table(meaning) : by_name_tables(meaning);
    }
    standards();
    linings();
    if (!sources_.empty()) {
      lines_.add();
      lines_.add("SOURCES OF THE ROWS");
      for (std::size_t i = 0; i < sources_.size(); ++i) {
        lines_.wrap(safe(sources_[i]), fmt::format("  {:>2}  ", i + 1), "      ");
      }
    }
    return lines_.text();
  }

 private:
  std::string safe(std::string_view text) const { return job_text(text, display_); }

  /// Number of the row's source in the list below the tables.
  std::size_t source_number(const PipeRecord& row) {
    std::string source = source_text(row.source, row.confidence);
    const auto known = std::ranges::find(sources_, source);
    const auto at = static_cast<std::size_t>(known - sources_.begin());
    if (known == sources_.end()) sources_.push_back(std::move(source));
    return at + 1;
  }

  void by_name_tables(const PipeMeaning& meaning) {
    std::string_view standard;
    for (const PipeSize& size : meaning.sizes) {
      if (size.row().standard != standard) {
        if (!standard.empty()) lines_.add();
        standard = size.row().standard;
        table_head(size.row());
      }
      for (const PipeRecord* row : size.walls) table_row(*row);
    }
  }

  static bool least_walls(std::string_view standard) {
    const PipeStandardRecord* record = find_pipe_standard(standard);
    return record && record->wall_rule != WallRule::nominal;
  }

  void table_head(const PipeRecord& row) {
    lines_.wrap(safe(fmt::format("{}, {}, in {}", row.standard, row.material_family,
                                 display_.units == UnitSystem::us ? "inches" : "mm")));
    const bool least = least_walls(row.standard);
    lines_.add(fmt::format("  {:<20} {:<12} {:>9} {:>10} {:>9} {:>9}   s", "size", "wall name",
                           "outside", least ? "least wall" : "wall", least ? "mean wall" : "",
                           "bore"));
  }

  void table_row(const PipeRecord& row) {
    const bool least = row.wall_kind == WallKind::minimum;
    lines_.add(fmt::format("  {} {} {:>9} {:>10} {:>9} {:>9}  {:>2}",
                           padded(safe(size_name(row)), 20), padded(safe(row.schedule), 12),
                           dimension(row.outside_diameter_mm, display_),
                           (least ? ">= " : "") + dimension(row.wall_mm, display_),
                           least_walls(row.standard) ? dimension(mean_wall_mm(row), display_) : "",
                           dimension(mean_bore_mm(row), display_), source_number(row)));
  }

  void by_diameter_table(const PipeMeaning& meaning) {
    const double diameter_m = *meaning.outside_diameter_m;
    const std::string in(unit(display_));
    const std::string wall =
        meaning.wall_m ? ", wall " + length_text(*meaning.wall_m, display_) : std::string();
    lines_.wrap(safe(fmt::format("{}: outside diameter {}{}{}", meaning.reading,
                                 length_text(diameter_m, display_), wall,
                                 meaning.by_girth ? ", paint and tape still in it" : "")));
    if (meaning.fits) {
      lines_.add(
          fmt::format("Standard sizes within {:g} %, nearest first:", same_size_tolerance * 100));
    } else {
      lines_.wrap(
          fmt::format("NO standard size is within {:g} %, and none is taken. The next below "
                      "and above:",
                      same_size_tolerance * 100));
    }
    lines_.add(fmt::format("  {:>7} {:>10} {:>18} {:>5}  {}", "off", "outside " + in, "bores " + in,
                           "walls", meaning.wall_m ? "size, nearest wall" : "size"));
    for (const PipeSize& size : meaning.sizes) {
      const PipeRecord& row = size.row();
      std::string name = standard_and_size(row);
      if (meaning.wall_m) name += ", " + nearest_wall(size, *meaning.wall_m);
      const std::string start = fmt::format(
          "  {:>7} {:>10} {:>18} {:>5}  ", percent_off(row.outside_diameter_mm, diameter_m * 1000),
          dimension(row.outside_diameter_mm, display_), bores(size), size.walls.size());
      lines_.wrap(safe(name), start, std::string(start.size(), ' '));
    }
  }

  std::string bores(const PipeSize& size) const {
    const std::string smallest = dimension(size.smallest_bore_mm(), display_);
    const std::string largest = dimension(size.largest_bore_mm(), display_);
    return smallest == largest ? smallest : smallest + " to " + largest;
  }

  std::string nearest_wall(const PipeSize& size, double wall_m) const {
    const PipeRecord& row = **std::ranges::min_element(size.walls, {}, [&](const PipeRecord* one) {
      return std::fabs(mean_wall_mm(*one) - wall_m * 1000);
    });
    const std::string wall = dimension(mean_wall_mm(row), display_);
    if (row.schedule.empty()) return fmt::format("wall {}", wall);
    return fmt::format("{}{} {}", starts_with_digit(row.schedule) ? "sch " : "", row.schedule,
                       wall);
  }

  void standards() {
    lines_.add();
    lines_.add("STANDARDS");
    bool least = false;
    for (std::string_view name : standards_of(lookup_)) {
      const PipeStandardRecord* standard = find_pipe_standard(name);
      if (!standard) {
        lines_.wrap(safe(name) + ": from your own catalogue", "  ", "    ");
        continue;
      }
      least = least || standard->wall_rule != WallRule::nominal;
      lines_.wrap(fmt::format("{}: {}", name, standard->title), "  ", "    ");
      lines_.wrap(fmt::format("tolerances: {}", standard->tolerances), "    ", "      ");
      lines_.wrap(fmt::format("standard uncertainty when only the size is known: diameter {:g} %, "
                              "wall {:g} %",
                              standard->u_outside_diameter_percent, standard->u_wall_percent),
                  "    ", "      ");
      lines_.wrap(fmt::format("source: {}", source_text(standard->source, standard->confidence)),
                  "    ", "      ");
    }
    lines_.add();
    if (least) {
      lines_.wrap(
          ">= marks a least wall: pipes are made thicker. The mean wall is planned with, and "
          "bores are inside it.");
    }
    lines_.wrap("Bores are without lining. What is on site decides: measure diameter and wall.");
  }

  void linings() {
    const auto rows = linings_for(lookup_);
    if (rows.empty()) return;
    lines_.add();
    lines_.add("USUAL MORTAR LININGS, where lined; twice the lining comes off the bore");
    for (const LiningRecord* row : rows) {
      lines_.wrap(
          fmt::format("{} {}, {}: {}{} {} for DN {} to {}; {}", row->pipe, row->standard,
                      row->lining_class, row->thickness_kind == WallKind::minimum ? ">= " : "",
                      dimension(row->thickness_mm, display_), unit(display_), row->lowest_dn,
                      row->highest_dn, source_text(row->source, row->confidence)),
          "  ", "    ");
    }
  }

  const PipeLookup& lookup_;
  const Display& display_;
  SheetLines lines_;
  std::vector<std::string> sources_;
};

// ---------------------------------------------------------------- JSON

std::string_view wall_kind_name(WallKind kind) {
  return kind == WallKind::nominal ? "nominal" : "minimum";
}

LookupJson standard_json(const PipeStandardRecord& standard) {
  LookupJson out = LookupJson::object();
  put(out, "standard", standard.standard);
  put(out, "title", standard.title);
  put(out, "material_family", standard.material_family);
  put(out, "wall_rule", wall_rule_name(standard.wall_rule));
  put(out, "u_outside_diameter_percent", standard.u_outside_diameter_percent);
  put(out, "u_wall_percent", standard.u_wall_percent);
  put(out, "tolerances", standard.tolerances);
  put(out, "confidence", confidence_name(standard.confidence));
  put(out, "source", standard.source);
  return out;
}

LookupJson size_json(const PipeSize& size, const PipeMeaning& meaning) {
  const PipeRecord& row = size.row();
  LookupJson out = LookupJson::object();
  put(out, "reading", meaning.reading);
  put(out, "standard", row.standard);
  put(out, "size", row.designation);
  if (row.dn > 0) out["dn"] = row.dn;
  put(out, "material_family", row.material_family);
  put(out, "outside_diameter_mm", row.outside_diameter_mm);
  if (meaning.outside_diameter_m) {
    put(out, "asked_outside_diameter_mm", meaning.outside_diameter_m, 1000);
    put(out, "asked_wall_mm", meaning.wall_m, 1000);
    put(out, "off_percent", 100 * off_relative(row, *meaning.outside_diameter_m));
    out["fits"] = meaning.fits;
  }
  put(out, "smallest_bore_mm", size.smallest_bore_mm());
  put(out, "largest_bore_mm", size.largest_bore_mm());
  out["walls"] = LookupJson::array();
  for (const PipeRecord* wall : size.walls) {
    LookupJson one = LookupJson::object();
    put(one, "designation", size_text(*wall));
    put(one, "schedule", wall->schedule);
    put(one, "wall_mm", wall->wall_mm);
    put(one, "wall_kind", wall_kind_name(wall->wall_kind));
    put(one, "mean_wall_mm", mean_wall_mm(*wall));
    put(one, "bore_mm", mean_bore_mm(*wall));
    put(one, "confidence", confidence_name(wall->confidence));
    put(one, "source", wall->source);
    out["walls"].push_back(std::move(one));
  }
  return out;
}

LookupJson lining_json(const LiningRecord& lining) {
  LookupJson out = LookupJson::object();
  put(out, "standard", lining.standard);
  put(out, "pipe", lining.pipe);
  put(out, "lining_class", lining.lining_class);
  out["lowest_dn"] = lining.lowest_dn;
  out["highest_dn"] = lining.highest_dn;
  put(out, "thickness_mm", lining.thickness_mm);
  put(out, "thickness_kind", wall_kind_name(lining.thickness_kind));
  put(out, "material", lining.material);
  put(out, "confidence", confidence_name(lining.confidence));
  put(out, "source", lining.source);
  return out;
}

/// A standard with what is in the tables of it.
struct StandardExtent {
  const PipeStandardRecord* standard;
  std::vector<PipeSize> sizes;
  std::size_t walls = 0;
};

std::vector<StandardExtent> extents(const Catalogue& catalogue) {
  std::map<std::string_view, Rows> by_standard;
  for (const PipeRecord* row : all_pipes(catalogue)) by_standard[row->standard].push_back(row);
  std::vector<StandardExtent> all;
  for (const PipeStandardRecord& standard : built_in_pipe_standards()) {
    const Rows& rows = by_standard[standard.standard];
    all.push_back({&standard, sizes_of(rows), rows.size()});
  }
  return all;
}

}  // namespace

double PipeSize::largest_bore_mm() const {
  return mean_bore_mm(*walls.front());
}

double PipeSize::smallest_bore_mm() const {
  return mean_bore_mm(*walls.back());
}

PipeLookup find_pipes(std::string_view text, const Catalogue& catalogue) {
  return Search(text, catalogue).run();
}

std::string text_sheet(const PipeLookup& lookup, const Display& display) {
  return lookup.found() ? PipeText(lookup, display).build() : std::string();
}

std::string json_sheet(const PipeLookup& lookup) {
  LookupJson found = LookupJson::array();
  for (const PipeMeaning& meaning : lookup.meanings) {
    for (const PipeSize& size : meaning.sizes) found.push_back(size_json(size, meaning));
  }
  LookupJson out = lookup_json("pipes", lookup, std::move(found));
  out["standards"] = LookupJson::array();
  for (std::string_view name : standards_of(lookup)) {
    const PipeStandardRecord* standard = find_pipe_standard(name);
    if (standard) out["standards"].push_back(standard_json(*standard));
  }
  out["linings"] = LookupJson::array();
  for (const LiningRecord* lining : linings_for(lookup)) {
    out["linings"].push_back(lining_json(*lining));
  }
  return one_line(out);
}

std::string pipe_standards_text(const Catalogue& catalogue, const Display& display) {
  SheetLines lines;
  const auto all = extents(catalogue);
  lines.add(fmt::format("PIPE STANDARDS ({})", all.size()));
  for (const StandardExtent& one : all) {
    if (one.sizes.empty()) continue;
    const auto [least, greatest] = std::ranges::minmax(
        one.sizes, {}, [](const PipeSize& size) { return size.row().outside_diameter_mm; });
    lines.wrap(fmt::format("{}, {}", one.standard->title, one.standard->material_family),
               padded(one.standard->standard, 14), std::string(14, ' '));
    lines.wrap(fmt::format("{} sizes, {} to {} {} outside; {} walls; {}", one.sizes.size(),
                           dimension(least.row().outside_diameter_mm, display),
                           dimension(greatest.row().outside_diameter_mm, display), unit(display),
                           one.walls, confidence_name(one.standard->confidence)),
               std::string(14, ' '), std::string(14, ' '));
  }
  lines.add();
  lines.add("Look up a standard (\"EN 545\"), a material (\"ductile iron\"), a size (\"NPS 6\",");
  lines.add("\"PE 110 SDR 11\"), a diameter (\"168.3 mm\") or a girth (\"girth 721 mm\").");
  return lines.text();
}

std::string pipe_standards_json(const Catalogue& catalogue) {
  LookupJson found = LookupJson::array();
  for (const StandardExtent& one : extents(catalogue)) {
    LookupJson row = standard_json(*one.standard);
    row["sizes"] = one.sizes.size();
    row["walls"] = one.walls;
    found.push_back(std::move(row));
  }
  return one_line(lookup_json("pipes", {}, std::move(found)));
}

}  // namespace slantrule
