#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "lesson_parts.hpp"
#include "slantrule/catalogue/liquid_designation.hpp"
#include "slantrule/catalogue/liquid_factory.hpp"
#include "slantrule/catalogue/pipe_standards.hpp"
#include "slantrule/catalogue/size_designation.hpp"
#include "slantrule/planning/straight_run.hpp"
#include "slantrule/units/quantity.hpp"
#include "slantrule/units/suggest.hpp"

namespace slantrule {

// ---------------------------------------------------------------- estimates

namespace {

/// By layer role: coating, wall, liner.
constexpr const char* layer_names[] = {"coating", "wall", "lining"};
constexpr const char* layer_letters[] = {"g", "w", "l"};
constexpr const char* layer_factors[] = {"hg", "hw", "hl"};

double rounded_by(double value, double step) {
  return std::round(value / step) * step;
}

/// How near the result of the steps must come: 15 %, and where the rough numbers of a job can't
/// promise that, the next 5 % that they can.
std::string how_close(const Term& estimate, double result, std::string_view what) {
  const double off_percent = 100 * std::fabs(estimate.value() / result - 1);
  const double percent = std::max(15.0, std::ceil(off_percent / 5) * 5);
  return fmt::format(
      " The {} by the steps must come within {:.0f} % of this; if it does not, look for a slip.",
      what, percent);
}

/// Run along the pipe over thickness, as rounded for a rule of thumb: to 0.05, at least one step.
Term thumb_factor(std::string symbol, double angle_rad) {
  const double exact = std::tan(angle_rad);
  const double factor = std::max(rounded_by(exact, 0.05), 0.05);
  return Term::named(std::move(symbol), fmt::format("{:.4g}", factor), factor, exact,
                     std::fabs(factor - exact));
}

}  // namespace

void add_estimates(LessonMaker& make) {
  const RayPath& ray = make.plan.path->ray;
  const ResolvedPipe& pipe = make.job.pipe;
  Lesson& lesson = make.lesson;
  const double angle_deg = ray.liquid_leg.angle_rad * 180 / std::numbers::pi;
  const double from_deg = std::floor(angle_deg / 5) * 5;
  lesson.estimate_intro = fmt::format(
      "In the head, with round numbers, before the calculator comes out. With this wedge the sound "
      "goes through the liquid at {:.0f} to {:.0f} deg, so each traverse carries it along the pipe "
      "by about {} of the bore (h)",
      from_deg, from_deg + 5, thumb_factor("h", ray.liquid_leg.angle_rad).numbers());
  for (std::size_t i = 0; i < ray.layer_count; ++i) {
    const auto role = static_cast<std::size_t>(make.plan.layer_roles[i]);
    lesson.estimate_intro += fmt::format(
        ", each crossing of the {} by about {} of its thickness ({})", layer_names[role],
        thumb_factor("", ray.layer_legs[i].angle_rad).numbers(), layer_factors[role]);
  }
  lesson.estimate_intro +=
      ". An estimate is not the answer: it catches the slip that a calculator hides.";

  const auto length = [&](double si) { return in_lesson_unit(si, LessonKind::length, make.units); };
  LessonStep spacing{.title = "Mark spacing, roughly",
                     .before = "Diameter, thicknesses and setback to two digits.",
                     .table = {},
                     .lines = {},
                     .after = {},
                     .blank = {}};
  const double layers_m = (pipe.outside_diameter_m.value - make.plan.bore_m) / 2;
  const Term bore =
      make.line(spacing, "De", LessonKind::round_length,
                make.round_number("OD", length(pipe.outside_diameter_m.value), 2) -
                    2 * make.round_number(pipe.liner ? "(w + l)" : "w", length(layers_m), 2));
  const Term traverses = *make.worked.traverses;
  Term sum = thumb_factor("h", ray.liquid_leg.angle_rad) * traverses * bore;
  for (std::size_t i = 0; i < ray.layer_count; ++i) {
    const auto role = static_cast<std::size_t>(make.plan.layer_roles[i]);
    sum = sum + 2 * thumb_factor(layer_factors[role], ray.layer_legs[i].angle_rad) *
                    make.round_number(layer_letters[role],
                                      length(make.plan.kernel.layers[i].thickness_m), 2);
  }
  if (make.job.sensors.setback_m != 0) {
    sum = sum + 2 * make.round_number("b", length(make.job.sensors.setback_m), 2);
  }
  const Term estimate = make.line(spacing, "Me", LessonKind::round_length, sum);
  spacing.before += how_close(estimate, length(ray.mark_spacing_m), "mark spacing");
  lesson.estimates.push_back(std::move(spacing));

  // Across the bore at c cos(angle): so many millimetres (inches) of bore a microsecond.
  LessonStep time{.title = "Fluid time, roughly",
                  .before = {},
                  .table = {},
                  .lines = {},
                  .after = {},
                  .blank = {}};
  const double across =
      in_lesson_unit(make.plan.bore_m * make.plan.traverses / ray.fluid_time_s * 1e-6,
                     LessonKind::length, make.units);
  const Term speed = make.round_number("ce", across, 2);
  time.before =
      fmt::format("The sound, slanting, gets across about {} {} of bore in a microsecond.",
                  speed.numbers(), make.us() ? "in" : "mm");
  const Term guess = make.line(time, "te", LessonKind::round_time, traverses * bore / speed);
  time.before += how_close(guess, ray.fluid_time_s * 1e6, "fluid time");
  lesson.estimates.push_back(std::move(time));
}

// ---------------------------------------------------------------- mistakes

namespace {

/// Nominal size as a length, where it is not the outside diameter itself: "NPS 2-1/2" in inches for
/// those who work in them, else the DN.
std::optional<double> nominal_m(const ResolvedPipe& pipe, UnitSystem units) {
  double nominal = pipe.nominal_mm * 1e-3;
  const std::size_t name = pipe.size_text.find("NPS ");
  if (units == UnitSystem::us && name != std::string::npos) {
    const std::size_t from = name + 4;
    const std::string inches = pipe.size_text.substr(from, pipe.size_text.find(' ', from) - from);
    const auto read = parse_quantity(inches + " in", Dimension::length);
    if (const Reading* reading = std::get_if<Reading>(&read)) nominal = reading->si;
  }
  if (nominal <= 0) return std::nullopt;
  if (std::fabs(nominal / pipe.outside_diameter_m.value - 1) < 0.005) return std::nullopt;
  return nominal;
}

class Mistakes {
 public:
  explicit Mistakes(LessonMaker& make) : make_(make), right_(make.plan.path->ray.mark_spacing_m) {}

  void add() {
    sizes();
    legs();
    calculator();
    liquid_row();
    wall_mode();
    merge();
    make_.lesson.mistakes_intro =
        std::string("What usual mistakes make of the mark spacing (to a few ") +
        (make_.us() ? "hundredths of an inch" : "tenths of a millimetre") +
        ": rounding on the wrong way differs).";
  }

 private:
  /// Told only when it differs clearly from the right answer: by more than a millimetre and well
  /// beyond what the lesson's rounding can make.
  void spacing(double wrong_m, std::string what) {
    const double rounding_m = make_.worked.mark_spacing->error() * (make_.us() ? 0.0254 : 1e-3);
    if (!(std::fabs(wrong_m - right_) > std::max(1e-3, 5 * rounding_m))) return;
    const double shown_value = wrong_m / (make_.us() ? 0.0254 : 1e-3);
    found_.push_back(
        {make_.us() ? rounded_text(shown_value, 2) + " in" : rounded_text(shown_value, 1) + " mm",
         std::move(what)});
  }

  void kernel(const KernelInputs& wrong, std::string what) {
    if (!(wrong.bore_m > 0)) return;
    const auto traced = trace_ray(wrong);
    if (const RayPath* ray = std::get_if<RayPath>(&traced)) {
      spacing(ray->mark_spacing_m, std::move(what));
    } else {
      found_.push_back({"an error of the calculator (asin of more than 1)", std::move(what)});
    }
  }

  void sizes() {
    const KernelInputs& right = make_.plan.kernel;
    const ResolvedPipe& pipe = make_.job.pipe;
    if (const auto nominal = nominal_m(pipe, make_.units)) {
      const std::string size = make_.us() ? fmt::format("{:.4g} in", *nominal / 0.0254)
                                          : fmt::format("{:.4g} mm", *nominal * 1e3);
      KernelInputs wrong = right;
      wrong.bore_m = *nominal;
      kernel(wrong, "the nominal size (" + size + ") was taken for the bore");
      wrong.bore_m = *nominal - (pipe.outside_diameter_m.value - right.bore_m);
      kernel(wrong, "the nominal size (" + size + ") was taken for the outside diameter");
    }
    KernelInputs wrong = right;
    wrong.bore_m = right.bore_m + pipe.wall_m.value;
    kernel(wrong, "one wall was forgotten: the bore is less by two");
    if (pipe.liner) {
      wrong.bore_m = right.bore_m + 2 * pipe.liner->thickness_m;
      kernel(wrong, "the lining was left in the bore");
      --wrong.layer_count;  // the lining is the last layer
      kernel(wrong, "the lining was forgotten altogether");
    }
    wrong = right;
    wrong.traverses = right.traverses == 1 ? 2 : 1;
    kernel(wrong, right.traverses == 1
                      ? "two traverses were counted; the sensors sit on opposite sides"
                      : "one traverse was counted instead of " + std::to_string(right.traverses));
  }

  void legs() {
    const RayPath& ray = make_.plan.path->ray;
    const double setback_m = make_.job.sensors.setback_m;
    if (setback_m != 0) {
      spacing(ray.exit_spacing_m, "the setbacks were forgotten");
      spacing(ray.exit_spacing_m + setback_m, "one setback was forgotten");
      spacing(ray.exit_spacing_m - 2 * setback_m, "the setbacks were taken off instead of added");
    }
    double layers_run_m = 0, sine_run_m = 0;
    for (std::size_t i = 0; i < ray.layer_count; ++i) {
      layers_run_m += ray.layer_legs[i].run_m;
      sine_run_m += make_.plan.kernel.layers[i].thickness_m * std::sin(ray.layer_legs[i].angle_rad);
    }
    const std::string layers = make_.job.pipe.liner ? "wall and lining" : "the wall";
    spacing(right_ - layers_run_m,
            layers + " counted once only: the sound crosses under each sensor");
    spacing(right_ - 2 * layers_run_m, "the run in " + layers + " was forgotten");
    spacing(2 * setback_m + 2 * sine_run_m +
                make_.plan.traverses * make_.plan.bore_m * std::sin(ray.liquid_leg.angle_rad),
            "sine was taken for tangent");
  }

  void calculator() {
    // Angles in degrees put into a calculator that counts in radians: only the wedge angle is
    // wrong, because asin then gives radians, and tan takes them.
    const double sine = std::sin(make_.job.sensors.wedge_angle_rad * 180 / std::numbers::pi);
    KernelInputs wrong = make_.plan.kernel;
    const std::string what = "the calculator counted in radians";
    if (sine > 0) {
      wrong.wedge_angle_rad = std::asin(sine);
      kernel(wrong, what);
    } else {
      found_.push_back({"a trace speed below zero", what});
    }
  }

  /// The row of the excerpt above or below the right one.
  void liquid_row() {
    for (const double by_K : {-excerpt_step_K, excerpt_step_K}) {
      const auto row = liquid_beside(make_.job, make_.plan, by_K);
      if (!row) continue;
      KernelInputs wrong = make_.plan.kernel;
      wrong.liquid_sound_speed_m_s = row->sound_speed_m_s->value;
      kernel(wrong, fmt::format("the liquid's speed was taken from the row {} the right one",
                                by_K < 0 ? "above" : "below"));
    }
  }

  void wall_mode() {
    const Plan& plan = make_.plan;
    const WaveMode other =
        plan.wall_mode == WaveMode::shear ? WaveMode::longitudinal : WaveMode::shear;
    const auto& wave = make_.job.pipe.material.wave(other);
    if (!wave) return;
    KernelInputs wrong = plan.kernel;
    for (std::size_t i = 0; i < plan.layer_roles.size(); ++i) {
      if (plan.layer_roles[i] != LayerRole::wall) continue;
      wrong.layers[i].sound_speed_m_s = wave->at(plan.conditions.wall_temperature_K);
    }
    kernel(wrong, fmt::format("the wall's {} speed was taken, and the path goes by the {} wave",
                              wave_mode_name(other), wave_mode_name(plan.wall_mode)));
  }

  /// Mistakes that give the same answer share a row.
  void merge() {
    for (LessonMistake& one : found_) {
      const auto same =
          std::ranges::find(make_.lesson.mistakes, one.answer, &LessonMistake::answer);
      if (same == make_.lesson.mistakes.end()) {
        make_.lesson.mistakes.push_back(std::move(one));
      } else {
        same->what += "; or " + one.what;
      }
    }
  }

  LessonMaker& make_;
  double right_;
  std::vector<LessonMistake> found_;
};

}  // namespace

void add_mistakes(LessonMaker& make) {
  Mistakes(make).add();
}

// ---------------------------------------------------------------- exercises

namespace {

/// Tape thickness, gauge setting and the like, as found in a bag (invented for the exercise).
constexpr double tape_m = 0.25e-3;

class Exercises {
 public:
  Exercises(LessonMaker& make, std::uint64_t seed)
      : make_(make),
        random_(seed ^ 0x65786572636973ULL),
        rows_(sibling_pipes(make.job.pipe, make.catalogue)) {}

  void add() {
    girth();
    gauge();
    run();
    fault();
  }

 private:
  LessonStep& exercise(std::string title, std::string before) {
    make_.lesson.exercises.push_back({.title = std::move(title),
                                      .before = std::move(before),
                                      .table = {},
                                      .lines = {},
                                      .after = {},
                                      .blank = {}});
    return make_.lesson.exercises.back();
  }
  std::string text(double si, LessonKind kind) const { return make_.text(si, kind); }
  /// As a tape or gauge shows it: to 0.5 mm or 0.02 in, to 0.01 mm or 0.001 in.
  double taped(double length_m) const {
    return make_.us() ? rounded_by(length_m, 0.02 * 0.0254) : rounded_by(length_m, 0.5e-3);
  }
  double in_printed(double length_m) const {
    const int decimals = kind_info(LessonKind::length, make_.units).decimals;
    const double unit_m = make_.us() ? 0.0254 : 1e-3;
    return rounded_to(length_m / unit_m, decimals) * unit_m;
  }

  // ------------------------------------------------------------ girth

  /// Sizes of the standard by diameter, one row each; this pipe's and its neighbours.
  std::vector<const PipeRecord*> sizes_near() const {
    std::vector<const PipeRecord*> all = rows_;
    std::ranges::stable_sort(all, {}, &PipeRecord::outside_diameter_mm);
    const auto same = [](const PipeRecord* a, const PipeRecord* b) {
      return std::fabs(a->outside_diameter_mm / b->outside_diameter_mm - 1) < 0.005;
    };
    all.erase(std::unique(all.begin(), all.end(), same), all.end());
    const double here_mm = make_.job.pipe.outside_diameter_m.value * 1e3;
    const auto nearest = std::ranges::min_element(all, {}, [&](const PipeRecord* row) {
      return std::fabs(row->outside_diameter_mm - here_mm);
    });
    if (nearest == all.end()) return {};
    const auto at = nearest - all.begin();
    const auto from = std::max<std::ptrdiff_t>(0, at - 2);
    const auto to = std::min<std::ptrdiff_t>(std::ssize(all), at + 3);
    return {all.begin() + from, all.begin() + to};
  }

  /// "NPS 6", "DN 400", "EN 10220 168.3".
  static std::string size_name(const PipeRecord& row) {
    return row.designation.starts_with("NPS") || row.designation.starts_with("DN")
               ? std::string(row.designation)
               : fmt::format("{} {}", row.standard, row.designation);
  }

  void girth() {
    const auto sizes = sizes_near();
    const PipeRecord* chosen = sizes.empty() ? nullptr : sizes[random_.below(sizes.size())];
    const double diameter_m =
        chosen ? chosen->outside_diameter_mm * 1e-3 : make_.job.pipe.outside_diameter_m.value;
    const double girth_m = taped(std::numbers::pi * (diameter_m + tape_m));
    LessonStep& here = exercise(
        "Girth to diameter",
        fmt::format("A steel tape, {} thick, laid round another bare pipe, reads {}. What is the "
                    "outside diameter{} The tape's middle lies half its thickness off the pipe, so "
                    "one whole thickness comes off the diameter.",
                    text(tape_m, LessonKind::length), text(girth_m, LessonKind::length),
                    chosen ? ", and which size of the table is it?" : "?"));
    const Term diameter = make_.line(here, "OD", LessonKind::length,
                                     make_.given("Ut", girth_m, LessonKind::length) / pi_term() -
                                         make_.given("tt", tape_m, LessonKind::length));
    if (chosen) {
      here.blank = "Size:";
      here.after = fmt::format("It is {} ({}). ", shown(size_name(*chosen), 60),
                               text(diameter_m, LessonKind::length));
      LessonTable table{
          .caption = fmt::format("Outside diameters, {}", shown(sizes.front()->standard, 60)),
          .head = {"size", "outside diameter"},
          .rows = {},
          .note = {}};
      for (const PipeRecord* row : sizes) {
        table.rows.push_back({shown(size_name(*row), 60),
                              text(row->outside_diameter_mm * 1e-3, LessonKind::length)});
      }
      table.note = "Source: " + shown(sizes.front()->source, 160) + ".";
      here.table = std::move(table);
    }
    const double forgotten =
        diameter.value() + in_lesson_unit(tape_m, LessonKind::length, make_.units);
    here.after += fmt::format(
        "If you got {}: you forgot the tape.",
        fmt::format("{} {}",
                    rounded_text(forgotten, kind_info(LessonKind::length, make_.units).decimals),
                    kind_info(LessonKind::length, make_.units).unit));
  }

  // ------------------------------------------------------------ gauge

  /// A usual setting of a thickness gauge (common practice, no source) that differs from the wall.
  static double wrong_setting_m_s(double wall_m_s) {
    for (const double one : {5920.0, 4600.0, 2400.0}) {
      if (std::fabs(one / wall_m_s - 1) > 0.04) return one;
    }
    return 1.1 * wall_m_s;
  }

  void gauge() {
    const auto& wave = make_.job.pipe.material.longitudinal;
    if (!wave) return;
    const double true_m_s = wave->at(make_.plan.conditions.wall_temperature_K);
    const double set_m_s = wrong_setting_m_s(true_m_s);
    const double read_m = in_printed(make_.job.pipe.wall_m.value * set_m_s / true_m_s);
    LessonStep& here = exercise(
        "Gauge correction",
        fmt::format(
            "On a pipe like the one above the thickness gauge reads {} (wr), but it is still set "
            "to {}; the wall's longitudinal speed is in the excerpt (c1 here; a gauge works "
            "with the longitudinal wave). How thick is the wall (wt), and by how much would the "
            "flow be wrong if the reading were entered as it is?",
            text(read_m, LessonKind::length), text(set_m_s, LessonKind::sound_speed)));
    const Term read = make_.given("wr", read_m, LessonKind::length);
    const Term wall = make_.line(here, "wt", LessonKind::length,
                                 read * make_.given("c1", true_m_s, LessonKind::sound_speed) /
                                     make_.given("cg", set_m_s, LessonKind::sound_speed));
    const auto cost = std::ranges::find(make_.plan.sensitivity, std::string_view("pipe.wall"),
                                        &Sensitivity::input);
    if (cost == make_.plan.sensitivity.end() || !cost->flow_percent) return;
    const double per = *cost->flow_percent * (make_.us() ? 25.4 : 1);
    const Term price = Term::named("Fw", per, 2, per, 0.005);
    here.before += fmt::format(" Wall entered too great by 1 {}: {:+.2f} % of flow (Fw).",
                               make_.us() ? "in" : "mm", price.value());
    make_.line(here, "F", LessonKind::percent, price * (read - wall));
    here.after =
        "The reading is proportional to the speed the gauge is set to: correct, don't "
        "average.";
  }

  // ------------------------------------------------------------ straight run

  void run() {
    const double bore_m = make_.plan.bore_m;
    const double fraction = 0.4 + 0.1 * static_cast<double>(random_.below(9));
    const double step_m = make_.us() ? 0.0254 : 0.01;
    const double there_m = rounded_by(fraction * least_upstream_D * bore_m, step_m);
    LessonStep& here = exercise(
        "Straight run",
        fmt::format("On the same pipe somebody proposes a place {} behind a single 90 degree elbow "
                    "({:g} D needed). How many bores are that, how much pipe is needed, and is it "
                    "enough?",
                    text(there_m, LessonKind::length), least_upstream_D));
    const Term diameters =
        make_.line(here, "R", LessonKind::diameters,
                   make_.given("Le", there_m, LessonKind::length) / *make_.worked.bore);
    make_.line(here, "Ln", LessonKind::length, least_upstream_D * *make_.worked.bore);
    here.blank = "Enough?";
    const bool enough = diameters.value() >= least_upstream_D;
    here.after =
        enough
            ? fmt::format("Enough, {:.2f} D of {:g} D.", diameters.value(), least_upstream_D)
            : fmt::format(
                  "Not enough: {:.2f} D of {:g} D. Behind one elbow the reading "
                  "is low, here by about {:.1f} % (a curve through published 10.8 % at 1 D and 2 % "
                  "at 8 D); go farther down the pipe.",
                  diameters.value(), least_upstream_D, 100 * single_elbow_bias(diameters.value()));
  }

  // ------------------------------------------------------------ fault

  /// What may be wrong, what it makes the transmitter show, and how the trainee foretells it.
  struct Suspect {
    enum class Foretold { by_bore, by_wall, by_liquid };
    Foretold foretold;
    std::string what, entered;
    double shown_m_s;
    double number_si;  ///< bore or wall as entered, or the liquid's true speed
  };

  /// Next smaller outside diameter of the standard.
  std::optional<double> smaller_diameter_m() const {
    const double here_m = make_.job.pipe.outside_diameter_m.value;
    std::optional<double> best;
    for (const PipeRecord* row : rows_) {
      const double one_m = row->outside_diameter_mm * 1e-3;
      if (one_m < 0.96 * here_m && one_m > 0.7 * here_m && one_m > best.value_or(0)) best = one_m;
    }
    return best;
  }

  std::optional<Suspect> by_entry(Suspect suspect, const KernelInputs& entered) const {
    if (!(entered.bore_m > 0)) return std::nullopt;
    const auto traced = trace_ray(entered);
    if (!std::holds_alternative<RayPath>(traced)) return std::nullopt;
    const ReadOut out = read_out(make_.plan.kernel, entered, FluidTime::measured);
    if (!std::isfinite(out.sound_speed_m_s)) return std::nullopt;
    suspect.shown_m_s = out.sound_speed_m_s;
    return suspect;
  }

  std::optional<Suspect> diameter_suspect() const {
    const ResolvedPipe& pipe = make_.job.pipe;
    const double layers_m = pipe.outside_diameter_m.value - make_.plan.bore_m;
    const auto smaller_m = smaller_diameter_m();
    const double entered_m = in_printed(smaller_m.value_or(0.94 * pipe.outside_diameter_m.value));
    KernelInputs entered = make_.plan.kernel;
    entered.bore_m = entered_m - layers_m;
    return by_entry({Suspect::Foretold::by_bore,
                     smaller_m ? "diameter one size too small" : "diameter by a misread tape",
                     "OD = " + text(entered_m, LessonKind::length), 0, entered.bore_m},
                    entered);
  }

  std::optional<Suspect> wall_suspect() const {
    const ResolvedPipe& pipe = make_.job.pipe;
    KernelInputs entered = make_.plan.kernel;
    if (pipe.liner) {
      --entered.layer_count;  // the lining is the last layer
      entered.bore_m += 2 * pipe.liner->thickness_m;
      return by_entry(
          {Suspect::Foretold::by_bore, "lining forgotten", "no lining", 0, entered.bore_m},
          entered);
    }
    const double entered_m = in_printed(0.6 * pipe.wall_m.value);
    for (std::size_t i = 0; i < make_.plan.layer_roles.size(); ++i) {
      if (make_.plan.layer_roles[i] == LayerRole::wall) entered.layers[i].thickness_m = entered_m;
    }
    entered.bore_m += 2 * (pipe.wall_m.value - entered_m);
    return by_entry({Suspect::Foretold::by_wall, "wall of a lighter pipe",
                     "w = " + text(entered_m, LessonKind::length), 0, entered_m},
                    entered);
  }

  /// Speed of sound of what may be in the pipe instead: in small water circuits antifreeze, else
  /// the same liquid at another temperature. Empty `what`: nothing is known of either.
  struct OtherLiquid {
    std::string what;
    double sound_speed_m_s = 0;
  };
  OtherLiquid other_liquid() const {
    constexpr double circuit_bore_m = 0.2;
    constexpr double colder_K = 10, warmer_K = 25;
    const ResolvedLiquid& liquid = make_.job.liquid;
    LiquidState state{liquid.temperature_K.value, make_.plan.conditions.pressure_Pa,
                      liquid.mass_fraction};
    const LiquidModel* model = liquid.model.get();
    std::shared_ptr<const LiquidModel> mixed;
    std::string what;
    const bool water = liquid.aqueous && !liquid.solution;
    const LiquidReading glycol = read_liquid("MEG 30 % mass", make_.catalogue);
    if (water && make_.plan.bore_m < circuit_bore_m && glycol.record) {
      mixed = make_liquid(*glycol.record, glycol.parameter, make_.catalogue);
      model = mixed.get();
      state.mass_fraction = 0.3;
      what = "30 % of glycol (MEG) forgotten";
    } else if (liquid.sound_speed_measured) {
      return {};
    } else {
      const double freezing_K = make_.plan.conditions.freezing_temperature_K.value_or(0);
      const bool colder = state.temperature_K - colder_K > freezing_K + 0.5;
      state.temperature_K += colder ? -colder_K : warmer_K;
      what = colder ? "liquid 10 K (18 degF) colder" : "liquid 25 K (45 degF) warmer";
    }
    try {
      const auto speed = model->at(state).sound_speed_m_s;
      if (speed) return {what, speed->value};
    } catch (const std::domain_error&) {
      // Beyond the model's range: one suspect less.
    }
    return {};
  }

  /// The sensors stand for the liquid that was entered.
  std::optional<Suspect> liquid_suspect() const {
    const OtherLiquid other = other_liquid();
    if (other.what.empty()) return std::nullopt;
    KernelInputs truth = make_.plan.kernel;
    truth.liquid_sound_speed_m_s = other.sound_speed_m_s;
    const auto traced = trace_ray(truth);
    const RayPath* ray = std::get_if<RayPath>(&traced);
    if (!ray) return std::nullopt;
    const ReadOut out = read_out(truth, make_.plan.kernel, FluidTime::measured,
                                 make_.plan.path->ray.exit_spacing_m - ray->exit_spacing_m);
    if (!std::isfinite(out.sound_speed_m_s)) return std::nullopt;
    return Suspect{Suspect::Foretold::by_liquid, other.what, "as above", out.sound_speed_m_s,
                   other.sound_speed_m_s};
  }

  void fault() {
    std::vector<Suspect> suspects;
    for (auto& one : {diameter_suspect(), wall_suspect(), liquid_suspect()}) {
      if (one) suspects.push_back(*one);
    }
    if (suspects.size() < 2) return;
    const Term speed = *make_.worked.liquid_speed;
    const Term slope = tangent(*make_.worked.liquid_angle);
    LessonStep foretold;
    LessonTable table{
        .caption = "Suspects", .head = {"", "what", "entered", "so"}, .rows = {}, .note = {}};
    std::string rules;
    const Term factor = make_.line(foretold, "kb", 1 / (1 - slope * slope), "", 2);
    for (std::size_t i = 0; i < suspects.size(); ++i) {
      const std::string number = foretell(foretold, rules, suspects[i], i + 1, factor);
      table.rows.push_back(
          {fmt::format("({})", i + 1), suspects[i].what, suspects[i].entered, number});
    }
    const auto culprit = clear_culprit(suspects, foretold);
    if (!culprit) return;
    const Suspect& one = suspects[*culprit];
    LessonStep& here = exercise(
        "A fault found by the speed of sound",
        fmt::format("The sensors stand at the spacing of your plan, the signal is good, and the "
                    "transmitter shows a speed of sound of {} (cd). By how many per cent (d) is "
                    "that off c? Foretell what each suspect would make of it (d1, d2 ...), and "
                    "name the likely one. A bore entered wrong by 1 % shows about kb per cent, the "
                    "same way; another liquid shows about its own speed.{}",
                    text(one.shown_m_s, LessonKind::sound_speed), rules));
    make_.line(here, "d", LessonKind::percent,
               100 * (make_.given("cd", one.shown_m_s, LessonKind::sound_speed) - speed) / speed);
    here.lines.insert(here.lines.end(), foretold.lines.begin(), foretold.lines.end());
    here.table = std::move(table);
    here.blank = "Likely cause:";
    here.after = fmt::format(
        "Cause ({}), {}: its foretold number is the nearest. The rules are rough: nearest counts, "
        "not equal.",
        *culprit + 1, one.what);
  }

  /// Below the 1 % to which the speed of sound is accepted nothing is a fault.
  static constexpr double least_fault_percent = 1.2;

  /// A suspect whom the rough rules find: what it really shows lies at least twice as near to its
  /// own foretold number as to any other. nullopt: there is none.
  std::optional<std::size_t> clear_culprit(const std::vector<Suspect>& suspects,
                                           const LessonStep& foretold) {
    const double speed_m_s = make_.plan.kernel.liquid_sound_speed_m_s;
    const std::size_t first = random_.below(suspects.size());
    for (std::size_t turn = 0; turn < suspects.size(); ++turn) {
      const std::size_t one = (first + turn) % suspects.size();
      const double shows = 100 * (suspects[one].shown_m_s / speed_m_s - 1);
      // The first line holds the factor.
      const auto off = [&](std::size_t i) {
        return std::fabs(std::stod(foretold.lines[i + 1].result) - shows);
      };
      bool clear = std::fabs(shows) > least_fault_percent;
      for (std::size_t i = 0; i < suspects.size(); ++i) {
        clear = clear && (i == one || off(i) > 2 * off(one) + 0.2);
      }
      if (clear) return one;
    }
    return std::nullopt;
  }

  /// Writes the line of one suspect, and the rule it goes by where that is not told yet; gives the
  /// number that the trainee is told: "D1 = 127.08 mm".
  std::string foretell(LessonStep& here, std::string& rules, const Suspect& one, std::size_t number,
                       const Term& factor) {
    const Term speed = *make_.worked.liquid_speed;
    const std::string result = fmt::format("d{}", number);
    switch (one.foretold) {
      case Suspect::Foretold::by_bore: {
        const Term bore = *make_.worked.bore;
        const Term entered =
            make_.given(fmt::format("D{}", number), one.number_si, LessonKind::length);
        make_.line(here, result, LessonKind::percent, 100 * factor * (entered - bore) / bore);
        return fmt::format("{} = {}", entered.symbols(), text(one.number_si, LessonKind::length));
      }
      case Suspect::Foretold::by_wall: {
        const auto row = std::ranges::find(make_.plan.sensitivity, std::string_view("pipe.wall"),
                                           &Sensitivity::input);
        const double per_m =
            row == make_.plan.sensitivity.end() ? 0 : row->sound_speed_m_s.value_or(0) * 1e3;
        const double per = make_.us() ? per_m / 12 : per_m * 1e-3;
        const Term cost = Term::named("Cw", per, 1, per, 0.05);
        const Term entered =
            make_.given(fmt::format("w{}", number), one.number_si, LessonKind::length);
        make_.line(here, result, LessonKind::percent,
                   100 * cost * (entered - *make_.worked.wall) / speed);
        rules += fmt::format(" Wall entered too great by 1 {}: shows {:+.1f} {} (Cw).",
                             make_.us() ? "in" : "mm", cost.value(),
                             kind_info(LessonKind::sound_speed, make_.units).unit);
        return fmt::format("{} = {}", entered.symbols(), text(one.number_si, LessonKind::length));
      }
      case Suspect::Foretold::by_liquid: {
        const Term other =
            make_.given(fmt::format("c{}", number), one.number_si, LessonKind::sound_speed);
        make_.line(here, result, LessonKind::percent, 100 * (other - speed) / speed);
        return fmt::format("{} = {}", other.symbols(),
                           text(one.number_si, LessonKind::sound_speed));
      }
    }
    return {};
  }

  LessonMaker& make_;
  SplitMix64 random_;
  std::vector<const PipeRecord*> rows_;
};

}  // namespace

void add_exercises(LessonMaker& make, std::uint64_t seed) {
  Exercises(make, seed).add();
}

// ---------------------------------------------------------------- card

void add_card(LessonMaker& make) {
  make.lesson.card = {
      {"Safety",
       "Permit seen; what is in the pipe, how hot, what pressure; height, traffic, zone; "
       "gloves and eyes"},
      {"Clean", "Loose paint, rust, scale and dirt off where both sensors go; wall not gouged"},
      {"Mark", make.plan.same_side()
                   ? "Line along the pipe at the clock position; both marks at M, read twice"
                   : "Line along the pipe, and the opposite one half a girth round; both marks at "
                     "M, read twice"},
      {"Couple",
       "Thin, even couplant on both faces, no air; sensors strapped parallel to the pipe"},
      {"Orient", "A upstream, B downstream, faces towards each other; positive flow is A to B"},
      {"Check", "Speed of sound within 1 % of c; time of flight near t0; both directions alike"},
      {"Zero", "Full pipe at rest, operator's leave: zero noted; where it can't stop: swap test"},
      {"Record",
       "Spacing as set, readings, place, who and when; couplant wiped off, guards refitted"},
  };
  make.lesson.card_note =
      make.job.sensors.invented
          ? "Invented sensors are training data: this card is for the training rig. On a real pipe "
            "work by the sheet of the real sensors."
          : "Local codes and licensed people decide.";
}

}  // namespace slantrule
