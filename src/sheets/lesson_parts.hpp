#pragma once

/// What the parts of a lesson share while it is made.

#include "lesson_term.hpp"
#include "slantrule/sheets/lesson.hpp"

namespace slantrule {

/// Numbers of the worked example that later parts go on with.
struct WorkedNumbers {
  std::optional<Term> bore, outside_diameter, wall, liner, setback;
  std::optional<Term> traverses, liquid_speed, trace_speed, liquid_angle, mark_spacing;
  std::optional<Term> fluid_time, zero_flow_time, profile_factor, time_difference;
};

/// Makes lines of arithmetic in one system of units.
class LessonMaker {
 public:
  LessonMaker(const PlannedJob& planned, const Catalogue& catalogue_used, UnitSystem unit_system)
      : job(planned.variants.front().job),
        plan(planned.variants.front().plan),
        catalogue(catalogue_used),
        units(unit_system) {}

  bool us() const { return units == UnitSystem::us; }
  /// A number as printed in its kind, with the unit.
  std::string text(double si, LessonKind kind) const;
  /// A given number, rounded as printed.
  Term given(std::string symbol, double si, LessonKind kind) const;
  /// The same, listed among what is known.
  Term known(std::string name, std::string symbol, double si, LessonKind kind,
             std::string note = {});
  /// Writes the line `symbol = term` into `step`; the rounded result goes on under that name.
  Term line(LessonStep& step, std::string symbol, LessonKind kind, const Term& term) const;
  /// The same for a given number of decimals.
  Term line(LessonStep& step, std::string symbol, const Term& term, std::string_view unit,
            int decimals) const;
  /// A term to `digits` significant digits, for estimates.
  Term round_number(std::string symbol, double value, int digits) const;
  /// What turns a length over a speed into microseconds: mm and m/s, in and ft/s.
  Term in_microseconds(const Term& length) const;

  Lesson lesson;
  WorkedNumbers worked;
  const ResolvedJob& job;
  const Plan& plan;
  const Catalogue& catalogue;
  UnitSystem units;
};

/// The parts, in the order in which they are made.
void add_estimates(LessonMaker& make);
void add_mistakes(LessonMaker& make);
void add_exercises(LessonMaker& make, std::uint64_t seed);
void add_card(LessonMaker& make);

/// Rows of the standard that the pipe is made to; where that is not known, of its family.
std::vector<const PipeRecord*> sibling_pipes(const ResolvedPipe& pipe, const Catalogue& catalogue);

/// Rows of the liquid's excerpt lie this far apart.
inline constexpr double excerpt_step_K = 5;
/// The liquid `by_K` beside the job's temperature, with a speed of sound; nullopt where it would
/// freeze or boil, or nothing is known.
std::optional<LiquidProperties> liquid_beside(const ResolvedJob& job, const Plan& plan,
                                              double by_K);

/// Text for the place of the liquid in a table: "water", "MEG 30 % mass".
std::string liquid_name(const ResolvedLiquid& liquid);

}  // namespace slantrule
