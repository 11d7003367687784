#pragma once

/// The worked lesson: a plan as a trainee with a pocket calculator would make it, every step with
/// formula, numbers put in and result; and the same as an exercise with blanks and an answer key.
///
/// Every result is rounded as printed and carried on rounded, so that each line can be recomputed
/// from the numbers in it. The last numbers are compared with the plan's own, which are not rounded
/// on the way, and with the most that the rounding can make.

#include <cstdint>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "slantrule/catalogue/catalogue.hpp"
#include "slantrule/sheets/sheet.hpp"

namespace slantrule {

/// One line of arithmetic: "theta = asin(c / ct) = asin(1435.6 / 3967.0) = 21.22 deg".
struct LessonLine {
  std::string symbol, formula, numbers, result, unit;
};

/// One number that is given.
struct LessonKnown {
  std::string name, symbol, value, note;
};

struct LessonTable {
  std::string caption;
  std::vector<std::string> head;
  std::vector<std::vector<std::string>> rows;
  std::string note;  ///< source and how to read it
};

/// A step, a question, or one estimate.
struct LessonStep {
  std::string title;
  std::string before;                ///< what the step is about; holds no answer
  std::optional<LessonTable> table;  ///< numbers it needs
  std::vector<LessonLine> lines;
  std::string after;  ///< what the result says; may hold answers
  std::string blank;  ///< what is to be filled in by hand beside the lines; empty: nothing
};

/// A result by the rounded steps beside the plan's own.
struct LessonComparison {
  std::string what, symbol, unit;
  std::string steps, program, difference, allowed;
};

/// The answer that comes of a usual mistake.
struct LessonMistake {
  std::string answer;  ///< "139.5 mm"; or what the calculator shows
  std::string what;    ///< "the setbacks were forgotten"
};

struct LessonCardRow {
  std::string what, how;
};

struct Lesson {
  std::string tag, title;          ///< of the job
  std::string seed;                ///< "seed 17"; empty: the job as it is
  std::string varied;              ///< what the seed varied
  std::string warning;             ///< invented sensors are training data
  std::vector<std::string> rules;  ///< rounding, angle mode, constants, units
  std::vector<LessonKnown> known;
  std::vector<LessonTable> excerpts;
  std::string estimate_intro;
  std::vector<LessonStep> estimates;
  std::vector<LessonStep> steps;
  std::string comparison_intro;
  std::vector<LessonComparison> comparisons;
  std::string setting;  ///< what would be set on the pipe
  std::string mistakes_intro;
  std::vector<LessonMistake> mistakes;
  std::vector<LessonStep> exercises;
  std::vector<LessonCardRow> card;
  std::string card_note;
  std::vector<std::string> sources;
};

/// The lesson of a planned job; or one line that says why it can't be taught: several candidates, a
/// stop, no ray, a liquid whose viscosity is not known, flow in transition. `seed` is printed, and
/// picks among the numbers of the further exercises.
std::variant<Lesson, std::string> make_lesson(const PlannedJob& job, const Catalogue& catalogue,
                                              UnitSystem units,
                                              std::optional<std::uint64_t> seed = std::nullopt);

/// The job with another pipe of its family, another temperature, flow and distances, and where it
/// is lined another thickness of lining, by `seed` alone (SplitMix64): the same on every machine.
/// Only what is as easy to mount as the job itself: no stop, no caution that the job has not, the
/// same number of traverses, wall mode and flow regime, and room between the bodies. nullopt: no
/// such pipe was found. Assumptions and notes of the job are not brought up to date.
std::optional<PlannedJob> vary_job(const PlannedJob& job, std::uint64_t seed,
                                   const Catalogue& catalogue);

/// Text of at most 80 columns, Markdown, or a whole page of HTML. `blanks`: the exercise, and the
/// answer key on a page of its own behind it.
std::string lesson_text(const Lesson& lesson, bool blanks, const Display& display);
std::string lesson_markdown(const Lesson& lesson, bool blanks);
std::string lesson_html(const Lesson& lesson, bool blanks);

/// SplitMix64: a small generator of 64-bit numbers, the same on every machine (Steele, Lea and
/// Flood, "Fast splittable pseudorandom number generators", OOPSLA 2014; constants as in the
/// public-domain code by Vigna).
class SplitMix64 {
 public:
  explicit SplitMix64(std::uint64_t seed) : state_(seed) {}
  std::uint64_t next();
  /// From 0 to below `count` (1 or more).
  std::uint64_t below(std::uint64_t count) { return next() % count; }
  /// In steps of `step` from `low` to `high`, both included.
  double between(double low, double high, double step);

 private:
  std::uint64_t state_;
};

}  // namespace slantrule
