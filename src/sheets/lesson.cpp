#include "slantrule/sheets/lesson.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "lesson_parts.hpp"
#include "slantrule/planning/defaults.hpp"
#include "slantrule/units/suggest.hpp"

namespace slantrule {

std::string LessonMaker::text(double si, LessonKind kind) const {
  const LessonKindInfo info = kind_info(kind, units);
  std::string out = rounded_text(in_lesson_unit(si, kind, units), info.decimals);
  if (!info.unit.empty()) out += fmt::format(" {}", info.unit);
  return out;
}

Term LessonMaker::given(std::string symbol, double si, LessonKind kind) const {
  const int decimals = kind_info(kind, units).decimals;
  const double exact = in_lesson_unit(si, kind, units);
  return Term::named(std::move(symbol), exact, decimals, exact,
                     std::fabs(rounded_to(exact, decimals) - exact));
}

Term LessonMaker::known(std::string name, std::string symbol, double si, LessonKind kind,
                        std::string note) {
  lesson.known.push_back({std::move(name), symbol, text(si, kind), std::move(note)});
  return given(std::move(symbol), si, kind);
}

Term LessonMaker::line(LessonStep& step, std::string symbol, LessonKind kind,
                       const Term& term) const {
  const LessonKindInfo info = kind_info(kind, units);
  return line(step, std::move(symbol), term, info.unit, info.decimals);
}

Term LessonMaker::line(LessonStep& step, std::string symbol, const Term& term,
                       std::string_view unit, int decimals) const {
  step.lines.push_back({symbol, term.symbols(), term.numbers(),
                        rounded_text(term.value(), decimals), std::string(unit)});
  return Term::named(std::move(symbol), term.value(), decimals, term.exact(),
                     term.error() + 0.5 * std::pow(10.0, -decimals));
}

Term LessonMaker::round_number(std::string symbol, double value, int digits) const {
  const int first = static_cast<int>(std::floor(std::log10(std::fabs(value))));
  const double step = std::pow(10.0, first - digits + 1);
  const double rounded = std::round(value / step) * step;
  return Term::named(std::move(symbol), fmt::format("{:.6g}", rounded), rounded, value,
                     std::fabs(rounded - value));
}

Term LessonMaker::in_microseconds(const Term& length) const {
  return us() ? Term(1000000) / 12 * length : 1000 * length;
}

std::string liquid_name(const ResolvedLiquid& liquid) {
  std::string name = shown(liquid.name, 80);
  if (liquid.solution) name += fmt::format(" ({:.4g} % by mass)", 100 * liquid.mass_fraction);
  return name;
}

std::optional<LiquidProperties> liquid_beside(const ResolvedJob& job, const Plan& plan,
                                              double by_K) {
  const Conditions& at = plan.conditions;
  if (job.liquid.sound_speed_measured || at.at_range_end) return std::nullopt;
  const double temperature_K = job.liquid.temperature_K.value + by_K;
  const LiquidModel& model = *job.liquid.model;
  if (at.freezing_temperature_K && temperature_K <= *at.freezing_temperature_K) return std::nullopt;
  if (model.saturation_pressure_Pa(temperature_K).value_or(0) >= at.pressure_Pa)
    return std::nullopt;
  try {
    LiquidProperties there = model.at({temperature_K, at.pressure_Pa, job.liquid.mass_fraction});
    if (!there.sound_speed_m_s) return std::nullopt;
    return there;
  } catch (const std::domain_error&) {
    return std::nullopt;
  }
}

std::vector<const PipeRecord*> sibling_pipes(const ResolvedPipe& pipe, const Catalogue& catalogue) {
  std::vector<const PipeRecord*> rows;
  const auto take = [&](std::span<const PipeRecord> from) {
    for (const PipeRecord& row : from) {
      const bool same = pipe.standard.empty()
                            ? !pipe.family.empty() && row.material_family == pipe.family
                            : row.standard == pipe.standard;
      if (same) rows.push_back(&row);
    }
  };
  take(catalogue.user_pipes());
  take(built_in_pipes());
  return rows;
}

namespace {

/// The flow that is taught: the usual one, else the most, else the least, else 1 m/s.
struct TaughtFlow {
  FlowPoint point;
  std::optional<FlowAmount> amount;  ///< as stated; absent: taken for the lesson
  std::string_view which;
};

TaughtFlow taught_flow(const ResolvedJob& job, const Plan& plan) {
  const auto flows = [](const FlowPoint& point) { return point.velocity_m_s > 0; };
  if (plan.usual && flows(*plan.usual)) return {*plan.usual, job.flow.usual, "usual flow"};
  if (plan.most && flows(*plan.most)) return {*plan.most, job.flow.most, "greatest flow"};
  if (plan.least && flows(*plan.least)) return {*plan.least, job.flow.least, "least flow"};
  FlowPoint one_m_s = flow_point(plan.kernel, 1);
  one_m_s.time_difference_s =
      flow_time_difference_s(liquid_path(plan.kernel, plan.path->ray.ray_parameter_s_m), one_m_s);
  return {one_m_s, std::nullopt, "velocity, taken for the lesson: the job states no flow"};
}

/// Why a plan can't be taught; empty: it can.
std::string obstacle(const PlannedJob& planned, UnitSystem units) {
  if (planned.variants.size() > 1) {
    return fmt::format(
        "the job stands for {} candidates, and a lesson needs one pipe: settle what is open, for "
        "instance with --set pipe.size=\"NPS 6 sch 40\"",
        planned.variants.size());
  }
  const ResolvedJob& job = planned.variants.front().job;
  const Plan& plan = planned.variants.front().plan;
  if (plan.verdict == Verdict::stop || !plan.path) {
    for (const Finding& finding : plan.findings) {
      if (finding.severity != Severity::stop) continue;
      const FindingText words = finding_text(finding, {.units = units, .utf8 = true});
      return fmt::format("the plan of the job is a stop, so there is nothing to mount: {} {}",
                         words.message, words.mend);
    }
    return "the plan of the job has no sound path";
  }
  if (!plan.kernel.kinematic_viscosity_m2_s) {
    return "no viscosity is known for this liquid, and the profile factor needs one: state it with "
           "--set fluid.viscosity=\"1.0 mPa s\" (and fluid.density)";
  }
  const FlowPoint flow = taught_flow(job, plan).point;
  if (flow.regime == FlowRegime::transition) {
    return fmt::format(
        "the flow is between laminar and turbulent (Reynolds number {:.0f}), where the profile "
        "factor has no single value to be taught: choose another flow, for instance with "
        "--set flow.velocity=\"1 m/s\"",
        *flow.reynolds);
  }
  if (!flow.time_difference_s) return "the velocity is too great for any clamp-on path";
  return {};
}

/// The worked steps.
class WorkedSteps {
 public:
  explicit WorkedSteps(LessonMaker& make)
      : make_(make),
        job_(make.job),
        plan_(make.plan),
        ray_(make.plan.path->ray),
        flow_(taught_flow(make.job, make.plan)) {}

  void add() {
    known();
    bore();
    wedge_speed();
    trace_speed();
    angles();
    runs();
    spacing();
    half_girth();
    gap();
    times();
    velocity();
    reynolds();
    profile_factor();
    time_difference();
    straight_run();
    sensitivity();
    comparison();
  }

 private:
  /// A layer under the sensors with its letters.
  struct TaughtLayer {
    std::string name;    ///< "wall"
    std::string angle;   ///< "beta"
    std::string suffix;  ///< "w": Xw, tw
    Term thickness, speed;
    std::optional<Term> leg_angle, run, time;
  };

  LessonStep& step(std::string title, std::string before) {
    make_.lesson.steps.push_back({.title = std::move(title),
                                  .before = std::move(before),
                                  .table = {},
                                  .lines = {},
                                  .after = {},
                                  .blank = {}});
    return make_.lesson.steps.back();
  }
  Term known(std::string name, std::string symbol, double si, LessonKind kind,
             std::string note = {}) {
    return make_.known(std::move(name), std::move(symbol), si, kind, std::move(note));
  }
  bool by_girth() const { return job_.pipe.diameter_source == DimensionSource::girth; }

  std::string pipe_note() const {
    const ResolvedPipe& pipe = job_.pipe;
    if (pipe.diameter_source == DimensionSource::measured) return "measured, bare wall";
    return pipe.size_text.empty() ? "stated" : shown(pipe.size_text, 60);
  }

  std::string wall_note() const {
    const std::string of = shown(job_.pipe.material.name, 60);
    if (job_.pipe.wall_source == DimensionSource::measured) return of + ", as gauged or stated";
    if (job_.pipe.least_wall_m) {
      return fmt::format("{}; mean wall (the table's {} is a least wall)", of,
                         make_.text(*job_.pipe.least_wall_m, LessonKind::length));
    }
    return of;
  }

  void known() {
    const ResolvedPipe& pipe = job_.pipe;
    const ResolvedSensors& sensors = job_.sensors;
    if (by_girth()) {
      girth_ =
          known("girth of the bare pipe", "U", std::numbers::pi * pipe.outside_diameter_m.value,
                LessonKind::length, "taped; the tape's own thickness is taken off already");
    } else {
      outside_ = known("outside diameter, bare wall", "OD", pipe.outside_diameter_m.value,
                       LessonKind::length, pipe_note());
    }
    wall_ = known("wall thickness", "w", pipe.wall_m.value, LessonKind::length, wall_note());
    if (pipe.liner) {
      liner_ = known("lining thickness", "l", pipe.liner->thickness_m, LessonKind::length,
                     shown(pipe.liner->material.name, 60));
    }
    if (pipe.deposit_m > 0) {
      deposit_ = known("scale inside, thickness", "q", pipe.deposit_m, LessonKind::length,
                       "takes bore; the sound's way in it is left out");
    }
    if (pipe.across_m) {
      across_ = known("bore at right angles", "Dq",
                      *pipe.across_m - (pipe.outside_diameter_m.value - plan_.bore_m),
                      LessonKind::length, "the pipe is oval");
    }
    layers();
    const double wedge_K = plan_.conditions.wedge_temperature_K;
    if (sensors.wedge_slope_stated && std::fabs(wedge_K - sensors.wedge.at_K) > 1e-9) {
      reference_speed_ = known("wedge speed, at reference", "cr", sensors.wedge.sound_speed_m_s,
                               LessonKind::sound_speed,
                               "at " + make_.text(sensors.wedge.at_K, LessonKind::temperature));
      slope_ =
          known("wedge speed, change", "kz", sensors.wedge.slope_m_s_K, LessonKind::speed_slope);
      reference_temperature_ =
          known("reference temperature", "Tr", sensors.wedge.at_K, LessonKind::temperature);
      wedge_temperature_ =
          known("wedge temperature", "Tz", wedge_K, LessonKind::temperature,
                job_.site.wedge_temperature_K ? "stated" : "taken between pipe and surroundings");
    } else {
      wedge_speed_ = known("wedge speed of sound", "cz", plan_.kernel.wedge_sound_speed_m_s,
                           LessonKind::sound_speed);
    }
    wedge_angle_ = known("wedge angle", "alpha", sensors.wedge_angle_rad, LessonKind::angle,
                         "from the pipe normal");
    if (sensors.wedge_path_m > 0) {
      wedge_path_ =
          known("sound's way in one wedge", "z", sensors.wedge_path_m, LessonKind::length);
    }
    make_.worked.setback =
        known("setback", "b", sensors.setback_m, LessonKind::length, "mark behind exit point");
    if (sensors.nose_m) {
      nose_ =
          known("nose", "n", *sensors.nose_m, LessonKind::length, "front end ahead of exit point");
    }
    if (sensors.nose_m && sensors.length_m) {
      length_ = known("length of a sensor's body", "L", *sensors.length_m, LessonKind::length);
    }
    if (sensors.delay_s != 0) {
      delay_ = known("cable and electronics delay", "td", sensors.delay_s, LessonKind::time);
    }
    make_.worked.traverses = known(
        "traverses of the bore", "N", plan_.traverses, LessonKind::whole,
        plan_.same_side() ? "even: sensors on the same side" : "odd: sensors on opposite sides");
    make_.lesson.known.push_back({"wave in the wall", "-",
                                  std::string(wave_mode_name(plan_.wall_mode)),
                                  "the wall mode that the path goes by"});
    speed_ =
        make_.given("c", plan_.conditions.liquid_sound_speed_m_s.value, LessonKind::sound_speed);
    make_.worked.liquid_speed = speed_;
    known_flow();
    roughness_ =
        known("inner roughness", "e", job_.pipe.roughness_m.value_or(0), LessonKind::roughness);
    known_run(plan_.upstream, "upstream", "Lu", upstream_);
    known_run(plan_.downstream, "downstream", "Ld", downstream_);
    excerpts();
  }

  void known_flow() {
    const bool velocity_given = !flow_.amount || flow_.amount->dimension == Dimension::velocity;
    if (velocity_given) {
      velocity_ = known(std::string(flow_.amount ? "mean velocity" : "mean velocity (taken)"), "V",
                        flow_.point.velocity_m_s, LessonKind::velocity, std::string(flow_.which));
    } else {
      const bool mass = flow_.amount->dimension == Dimension::mass_flow;
      rate_ = known(
          "volume flow", "Q", flow_.point.volume_flow_m3_s, LessonKind::volume_flow,
          std::string(flow_.which) + (mass ? ", from the stated mass flow and the density" : ""));
    }
  }

  void known_run(const StraightRun& run, std::string side, std::string symbol,
                 std::optional<Term>& into) {
    if (!run.available_D) return;
    into = known("straight pipe " + side, std::move(symbol), *run.available_D * plan_.bore_m,
                 LessonKind::length, "to the near end of: " + shown(run.governing, 60));
  }

  void layers() {
    for (std::size_t i = 0; i < ray_.layer_count; ++i) {
      const double speed_m_s = plan_.kernel.layers[i].sound_speed_m_s;
      const auto add = [&](const char* name, const char* angle, const char* suffix,
                           Term thickness) {
        layers_.push_back(
            {name,
             angle,
             suffix,
             std::move(thickness),
             make_.given(fmt::format("c{}", suffix), speed_m_s, LessonKind::sound_speed),
             {},
             {},
             {}});
      };
      switch (plan_.layer_roles[i]) {
        case LayerRole::coating:
          add("coating", "delta", "k",
              known("coating thickness", "g", job_.pipe.coating->thickness_m, LessonKind::length,
                    shown(job_.pipe.coating->material.name, 60) + ", left under the sensors"));
          break;
        case LayerRole::wall:
          add("wall", "beta", "w", *wall_);
          break;
        case LayerRole::liner:
          add("lining", "gamma", "l", *liner_);
          break;
      }
    }
  }

  // ------------------------------------------------------------ excerpts

  std::string layer_caption() const {
    std::string names;
    for (const TaughtLayer& layer : layers_) {
      names += fmt::format("{}{} {}", names.empty() ? "" : ", ", layer.speed.symbols(), layer.name);
    }
    return "Speeds of sound of solids (" + names + ")";
  }

  void excerpts() {
    liquid_excerpt();
    LessonTable solids{.caption = layer_caption(),
                       .head = {"layer", "wave", "at", "speed of sound"},
                       .rows = {},
                       .note = {}};
    for (std::size_t i = 0; i < layers_.size(); ++i) {
      const bool wall = plan_.layer_roles[i] == LayerRole::wall;
      const bool coating = plan_.layer_roles[i] == LayerRole::coating;
      const ResolvedMaterial& material = wall      ? job_.pipe.material
                                         : coating ? job_.pipe.coating->material
                                                   : job_.pipe.liner->material;
      const WaveMode mode = wall      ? plan_.wall_mode
                            : coating ? job_.path.coating_mode
                                      : job_.path.liner_mode;
      const double temperature_K = wall      ? plan_.conditions.wall_temperature_K
                                   : coating ? plan_.conditions.coating_temperature_K
                                             : plan_.conditions.liner_temperature_K;
      const auto row = [&](WaveMode wave) {
        if (!material.wave(wave)) return;
        solids.rows.push_back(
            {fmt::format("{}: {}", layers_[i].name, shown(material.name, 40)),
             std::string(wave_mode_name(wave)), make_.text(temperature_K, LessonKind::temperature),
             make_.text(material.wave(wave)->at(temperature_K), LessonKind::sound_speed)});
      };
      row(mode);
      if (wall) row(mode == WaveMode::shear ? WaveMode::longitudinal : WaveMode::shear);
      if (!material.source.empty()) {
        solids.note +=
            fmt::format("{}{}: {}.", solids.note.empty() ? "Source: " : " ", layers_[i].name,
                        shown(material.source.substr(0, material.source.find(';')), 160));
      }
    }
    solids.note += " More: slantrule lookup solids.";
    make_.lesson.excerpts.push_back(std::move(solids));
  }

  /// The liquid at its temperature and 5 K to either side: the right row has to be picked.
  void liquid_excerpt() {
    LessonTable table{.caption = "Liquid: " + liquid_name(job_.liquid),
                      .head = {"at", "speed of sound c", "density rho", "viscosity mu"},
                      .rows = {},
                      .note = {}};
    const Conditions& at = plan_.conditions;
    const double here_K = job_.liquid.temperature_K.value;
    const auto add = [&](double temperature_K, double speed_m_s,
                         const std::optional<Estimate>& density,
                         const std::optional<Estimate>& viscosity) {
      table.rows.push_back({make_.text(temperature_K, LessonKind::temperature),
                            make_.text(speed_m_s, LessonKind::sound_speed),
                            density ? make_.text(density->value, LessonKind::density) : "-",
                            viscosity ? make_.text(viscosity->value, LessonKind::viscosity) : "-"});
    };
    const auto neighbour = [&](double by_K) {
      if (const auto row = liquid_beside(job_, plan_, by_K)) {
        add(here_K + by_K, row->sound_speed_m_s->value, row->density_kg_m3, row->viscosity_Pa_s);
      }
    };
    neighbour(-excerpt_step_K);
    add(here_K, at.liquid_sound_speed_m_s.value, at.density_kg_m3, at.viscosity_Pa_s);
    neighbour(excerpt_step_K);
    table.note = fmt::format("The liquid is at {}, {:.2f} bar absolute. Source: {}.",
                             make_.text(here_K, LessonKind::temperature), at.pressure_Pa * 1e-5,
                             job_.liquid.sound_speed_measured
                                 ? "speed of sound measured, as stated in the job"
                                 : shown(job_.liquid.model->source(), 200));
    make_.lesson.excerpts.push_back(std::move(table));
  }

  // ------------------------------------------------------------ geometry

  void bore() {
    if (by_girth()) {
      LessonStep& here =
          step("Outside diameter OD from the girth U", "A girth is pi times the diameter.");
      outside_ = make_.line(here, "OD", LessonKind::length, *girth_ / pi_term());
    }
    std::string before = "The bore is what is left inside the wall on both sides";
    if (liner_) before += ", and inside the lining on both sides";
    LessonStep& here =
        step("The bore D", before + ". A nominal size is a name, never a dimension.");
    Term term = *outside_ - 2 * *wall_;
    if (liner_) term = term - 2 * *liner_;
    if (deposit_) term = term - 2 * *deposit_;
    bore_ = make_.line(here, "D", LessonKind::length, term);
    WorkedNumbers& worked = make_.worked;
    worked.bore = bore_;
    worked.outside_diameter = outside_;
    worked.wall = wall_;
    worked.liner = liner_;
  }

  void wedge_speed() {
    if (wedge_speed_) return;
    LessonStep& here = step("Speed of sound in the wedge, cz",
                            "The wedge is plastic, and its speed follows its temperature.");
    wedge_speed_ =
        make_.line(here, "cz", LessonKind::sound_speed,
                   *reference_speed_ + *slope_ * (*wedge_temperature_ - *reference_temperature_));
  }

  void trace_speed() {
    LessonStep& here =
        step("Trace speed ct",
             "The speed at which the wave's track runs along the pipe. By Snell's law it is the "
             "same in every layer. A wave runs through a layer only while its own speed is below "
             "it.");
    trace_ = make_.line(here, "ct", LessonKind::sound_speed, *wedge_speed_ / sine(*wedge_angle_));
    make_.worked.trace_speed = trace_;
  }

  /// "beta: wall; theta: liquid."
  std::string angle_names() const {
    std::string names;
    for (const TaughtLayer& layer : layers_) {
      names += fmt::format("{}: {}; ", layer.angle, layer.name);
    }
    return names + "theta: liquid.";
  }

  void angles() {
    LessonStep& here = step(
        "Angles in the layers",
        angle_names() +
            " Snell's law: sine = speed of sound / trace speed. The speeds stand in the excerpts: "
            "mind "
            "the row (temperature, wave). From the outside inwards, counted from the pipe normal.");
    for (TaughtLayer& layer : layers_) {
      layer.leg_angle =
          make_.line(here, layer.angle, LessonKind::angle, arc_sine(layer.speed / *trace_));
    }
    angle_ = make_.line(here, "theta", LessonKind::angle, arc_sine(*speed_ / *trace_));
    make_.worked.liquid_angle = angle_;
  }

  void runs() {
    LessonStep& here =
        step("How far the sound runs along the pipe",
             "Each layer is crossed twice, once under each sensor; the bore N times.");
    for (TaughtLayer& layer : layers_) {
      layer.run = make_.line(here, "X" + layer.suffix, LessonKind::length,
                             2 * layer.thickness * tangent(*layer.leg_angle));
    }
    liquid_run_ = make_.line(here, "Xf", LessonKind::length,
                             *make_.worked.traverses * *bore_ * tangent(*angle_));
  }

  void spacing() {
    LessonStep& here = step("Exit spacing S and mark spacing M",
                            "S is from exit point to exit point. The mark of each sensor lies "
                            "behind its exit point by the setback, so the marks are two setbacks "
                            "farther apart: M is the number to set.");
    Term sum = *liquid_run_;
    for (const TaughtLayer& layer : layers_) sum = sum + *layer.run;
    exit_ = make_.line(here, "S", LessonKind::length, sum);
    mark_ = make_.line(here, "M", LessonKind::length, *exit_ + 2 * *make_.worked.setback);
    make_.worked.mark_spacing = mark_;
    if (mark_->value() < 0) here.after = "Below zero: A's mark lies downstream of B's mark.";
  }

  /// With an odd count B sits half a girth round from A, over whatever lies under the sensors.
  void half_girth() {
    if (plan_.same_side()) return;
    LessonStep& here = step("Half a girth H",
                            "An odd count of traverses ends on the far side: B's line lies half a "
                            "girth round from A's.");
    Term diameter = *outside_;
    if (plan_.layer_roles.front() == LayerRole::coating) {
      diameter = diameter + 2 * layers_.front().thickness;
    }
    make_.line(here, "H", LessonKind::length, pi_term() * diameter / 2);
  }

  void gap() {
    if (!nose_) return;
    std::string before =
        "G: face gap, what a calliper finds between the front ends. " +
        std::string(plan_.same_side()
                        ? "On one side they must not touch: it must be above zero."
                        : "On opposite sides the bodies cannot touch: below zero is no matter.");
    if (length_) before += " Lo: overall length, which the straight pipe must give.";
    LessonStep& here = step("Room for the bodies", before);
    make_.line(here, "G", LessonKind::length, *exit_ - 2 * *nose_);
    if (length_) make_.line(here, "Lo", LessonKind::length, *exit_ + 2 * (*length_ - *nose_));
  }

  void times() {
    LessonStep& here =
        step("Times of flight with no flow",
             make_.us() ? "Way over speed, leg by leg: tf is the fluid time, t0 the zero-flow "
                          "time, one way. 1000000 / 12 turns inches over feet per second into "
                          "microseconds (us)."
                        : "Way over speed, leg by leg: tf is the fluid time, t0 the zero-flow "
                          "time, one way. 1000 turns millimetres over metres per second into "
                          "microseconds (us).");
    std::optional<Term> sum;
    const auto add = [&](const Term& one) { sum = sum ? *sum + one : one; };
    if (wedge_path_) {
      add(make_.line(here, "tz", LessonKind::time,
                     make_.in_microseconds(2 * *wedge_path_) / *wedge_speed_));
    }
    for (TaughtLayer& layer : layers_) {
      layer.time = make_.line(
          here, "t" + layer.suffix, LessonKind::time,
          make_.in_microseconds(2 * layer.thickness) / (layer.speed * cosine(*layer.leg_angle)));
      add(*layer.time);
    }
    fluid_time_ = make_.line(
        here, "tf", LessonKind::time,
        make_.in_microseconds(*make_.worked.traverses * *bore_) / (*speed_ * cosine(*angle_)));
    add(*fluid_time_);
    if (delay_) add(*delay_);
    zero_time_ = make_.line(here, "t0", LessonKind::time, *sum);
    make_.worked.fluid_time = fluid_time_;
    make_.worked.zero_flow_time = zero_time_;
  }

  // ------------------------------------------------------------ flow

  void velocity() {
    LessonStep& here = step("Area of the bore Ab, mean velocity V",
                            make_.us() ? "231 cubic inches are a US gallon; 720 = 12 x 60 turns "
                                         "inches per minute into feet per second."
                                       : "100 turns mm2 into cm2; 10000 / 3600 turns m3/h over cm2 "
                                         "into m/s.");
    Term squared = pi_term() / 4 * *bore_ * (across_ ? *across_ : *bore_);
    if (!make_.us()) squared = squared / 100;
    const Term area = make_.line(here, "Ab", LessonKind::area, squared);
    if (rate_) {
      velocity_ =
          make_.line(here, "V", LessonKind::velocity,
                     make_.us() ? 231 * *rate_ / (720 * area) : 10000 * *rate_ / (3600 * area));
    } else {
      make_.line(here, "Q", LessonKind::volume_flow,
                 make_.us() ? 720 * area * *velocity_ / 231 : 3600 * area * *velocity_ / 10000);
    }
  }

  void reynolds() {
    LessonStep& here =
        step("Kinematic viscosity nu, Reynolds number Re",
             make_.us() ? "mu and rho stand in the excerpt. Below 2000 laminar, above 4000 "
                          "turbulent. 62.428 lb/ft3 is 1 g/cm3; "
                          "7741.92 = 0.3048 x 0.0254 x 1000000 takes ft/s, inches and mm2/s."
                        : "mu and rho stand in the excerpt. Below 2000 laminar, above 4000 "
                          "turbulent. 1000 takes mPa s and kg/m3 to "
                          "mm2/s, and again m/s, mm and mm2/s to a pure number.");
    const Conditions& at = plan_.conditions;
    const bool measured = job_.liquid.kinematic_viscosity_m2_s.has_value();
    if (measured || !at.viscosity_Pa_s || !at.density_kg_m3) {
      viscosity_ = known("kinematic viscosity", "nu", *plan_.kernel.kinematic_viscosity_m2_s,
                         LessonKind::kinematic, "stated");
    } else {
      const Term mu = make_.given("mu", at.viscosity_Pa_s->value, LessonKind::viscosity);
      const Term rho = make_.given("rho", at.density_kg_m3->value, LessonKind::density);
      viscosity_ = make_.line(here, "nu", LessonKind::kinematic,
                              make_.us() ? 62.428 * mu / rho : 1000 * mu / rho);
    }
    reynolds_ =
        make_.line(here, "Re", LessonKind::whole,
                   (make_.us() ? Term(7741.92) : Term(1000)) * *velocity_ * *bore_ / *viscosity_);
  }

  void profile_factor() {
    LessonStep& here = step("Profile factor K", "");
    if (flow_.point.regime == FlowRegime::laminar) {
      here.before =
          "Mean velocity over the bore divided by that along the path. The laminar profile is a "
          "parabola, for which it is exactly three quarters.";
      factor_ = make_.line(here, "K", LessonKind::factor, Term(3) / 4);
      make_.worked.profile_factor = factor_;
      return;
    }
    here.before =
        "Mean velocity over the bore divided by that along the path. It follows from the wall "
        "friction f; y = 1 / sqrt(f) by the Colebrook equation, which has y on both sides: start "
        "with y0 = 7 and put each result in again until it moves by no more than 0.002.";
    Term y = Term::named("y0", "7", 7, 7, 0);
    constexpr int most_turns = 8;
    for (int turn = 1; turn <= most_turns; ++turn) {
      const Term next = make_.line(
          here, fmt::format("y{}", turn), LessonKind::root,
          2 * common_logarithm(1 / (*roughness_ / (3.7 * *bore_) + 2.51 * y / *reynolds_)));
      const bool settled = std::fabs(next.value() - y.value()) < 0.0025;
      y = next;
      if (settled) break;
    }
    factor_ = make_.line(here, "K", LessonKind::factor, 1 / (1 + 1.25 / (y * square_root(8))));
    make_.worked.profile_factor = factor_;
    here.after =
        "K below 1: the path crosses the fast middle, so the mean over the bore is less than what "
        "the path sees.";
  }

  void time_difference() {
    LessonStep& here =
        step("Path velocity v, time difference dt",
             "Upstream minus downstream time of flight, to first order in the velocity (exact to a "
             "millionth here). 2000: there and back, and microseconds to nanoseconds.");
    const Term path = make_.line(here, "v", LessonKind::velocity, *velocity_ / *factor_);
    difference_ =
        make_.line(here, "dt", LessonKind::nanoseconds, 2000 * path * *fluid_time_ / *trace_);
    make_.worked.time_difference = difference_;
    here.after = "dt is what the transmitter really measures: nanoseconds out of " +
                 make_.text(ray_.zero_flow_time_s, LessonKind::round_time) + ".";
  }

  // ------------------------------------------------------------ straight run, sensitivity

  void one_run(LessonStep& here, const StraightRun& run, const std::optional<Term>& there,
               const char* side, const char* letter) {
    const double needed_D = run.required_D;
    make_.line(here, fmt::format("L{}n", letter), LessonKind::length, needed_D * *bore_);
    if (!there) {
      here.after += fmt::format("{}{}: {:g} D needed; what is there is not stated.",
                                here.after.empty() ? "" : " ", side, needed_D);
      return;
    }
    const Term diameters =
        make_.line(here, fmt::format("R{}", letter), LessonKind::diameters, *there / *bore_);
    here.after +=
        fmt::format("{}{}: {:g} D needed (by: {}), {} D there, {}.", here.after.empty() ? "" : " ",
                    side, needed_D, shown(run.governing, 60), rounded_text(diameters.value(), 2),
                    diameters.value() >= needed_D ? "enough" : "too little");
  }

  void straight_run() {
    LessonStep& here = step(
        "Straight run",
        fmt::format("Undisturbed straight pipe, counted in bores, not in nominal sizes. Needed "
                    "for these fittings: {:g} D upstream, {:g} D downstream.",
                    plan_.upstream.required_D, plan_.downstream.required_D));
    one_run(here, plan_.upstream, upstream_, "Upstream", "u");
    one_run(here, plan_.downstream, downstream_, "Downstream", "d");
  }

  void sensitivity() {
    const double by_m = make_.us() ? 0.04 * 0.0254 : 1e-3;
    const Term by = make_.given("s", by_m, LessonKind::length);
    LessonStep& here =
        step("What a wrong entry costs",
             fmt::format(
                 "s = {}{}. Diameter entered too great by s: the bore grows by s. Wall entered "
                 "too great by s: its own leg grows, and the bore shrinks by 2 s. M1, M2: change "
                 "of the planned mark spacing; F1, F2: error of the flow in per cent, with the "
                 "sensors set right{}.",
                 make_.text(by_m, LessonKind::length), make_.us() ? ", about a millimetre" : "",
                 job_.fluid_time_computed ? ""
                                          : " and the transmitter timing the liquid; ts: time in "
                                            "the extra wall, which it takes for dead time"));
    const Term run_per_bore = *make_.worked.traverses * tangent(*angle_);
    const auto wall = std::ranges::find(layers_, std::string("wall"), &TaughtLayer::name);
    make_.line(here, "M1", LessonKind::length, by * *make_.worked.traverses * tangent(*angle_));
    make_.line(here, "M2", LessonKind::length,
               by * (2 * tangent(*wall->leg_angle) - 2 * run_per_bore));
    // Flow goes with the area; where the liquid's time is computed from the bore, one power less.
    const double power = job_.fluid_time_computed ? 100 : 200;
    make_.line(here, "F1", LessonKind::percent, power * by / *bore_);
    if (job_.fluid_time_computed) {
      make_.line(here, "F2", LessonKind::percent, 0 - 2 * power * by / *bore_);
    } else {
      const Term wall_time =
          make_.line(here, "ts", LessonKind::time,
                     make_.in_microseconds(2 * by) / (wall->speed * cosine(*wall->leg_angle)));
      make_.line(here, "F2", LessonKind::percent,
                 100 * wall_time / *fluid_time_ - 2 * power * by / *bore_);
    }
    here.after = "Measure the wall: it costs more flow than the diameter.";
  }

  // ------------------------------------------------------------ comparison

  void compare(const char* what, const Term& steps, double program, std::string_view unit,
               int decimals) {
    const double difference = rounded_to(steps.value() - program, decimals + 1);
    const double scale = std::pow(10.0, decimals + 1);
    // First order, and a last place of the comparison itself.
    const double allowed = std::ceil(steps.error() * 1.01 * scale + 0.5) / scale;
    make_.lesson.comparisons.push_back(
        {what, steps.symbols(), std::string(unit), rounded_text(steps.value(), decimals),
         rounded_text(program, decimals + 1), fmt::format("{:+.{}f}", difference, decimals + 1),
         fmt::format("{:.{}f}", allowed, decimals + 1)});
  }
  void compare(const char* what, const Term& steps, double program_si, LessonKind kind) {
    const LessonKindInfo info = kind_info(kind, make_.units);
    compare(what, steps, in_lesson_unit(program_si, kind, make_.units), info.unit, info.decimals);
  }

  void comparison() {
    Lesson& lesson = make_.lesson;
    lesson.comparison_intro =
        "The program does not round on the way. The steps do, and may differ from it by no more "
        "than the last column says.";
    compare("bore", *bore_, plan_.bore_m, LessonKind::length);
    compare("liquid angle", *angle_, ray_.liquid_leg.angle_rad, LessonKind::angle);
    compare("mark spacing", *mark_, ray_.mark_spacing_m, LessonKind::length);
    compare("fluid time", *fluid_time_, ray_.fluid_time_s, LessonKind::time);
    compare("zero-flow time", *zero_time_, ray_.zero_flow_time_s, LessonKind::time);
    compare("Reynolds number", *reynolds_, *flow_.point.reynolds, LessonKind::whole);
    compare("profile factor", *factor_, flow_.point.profile_factor->value, LessonKind::factor);
    compare("time difference", *difference_, *flow_.point.time_difference_s,
            LessonKind::nanoseconds);
    const Display display{.units = make_.units, .utf8 = true};
    const auto set = [&](UnitSystem units) {
      return setting_text(ray_.mark_spacing_m, plan_.setting_step_m, {units, true});
    };
    lesson.setting = fmt::format(
        "The setup sheet rounds to the step that is marked: {}{}, marked to +- {}.",
        set(make_.units), make_.us() ? " (" + set(UnitSystem::metric) + ")" : std::string(),
        length_text(plan_.mounting_tolerance_m, display));
  }

  LessonMaker& make_;
  const ResolvedJob& job_;
  const Plan& plan_;
  const RayPath& ray_;
  const TaughtFlow flow_;
  std::vector<TaughtLayer> layers_;
  std::optional<Term> girth_, outside_, wall_, liner_, deposit_, across_, bore_;
  std::optional<Term> reference_speed_, slope_, reference_temperature_, wedge_temperature_;
  std::optional<Term> wedge_speed_, wedge_angle_, wedge_path_, trace_, speed_, angle_;
  std::optional<Term> nose_, length_, delay_, liquid_run_, exit_, mark_;
  std::optional<Term> fluid_time_, zero_time_, rate_, velocity_, viscosity_, roughness_, reynolds_;
  std::optional<Term> factor_, difference_, upstream_, downstream_;
};

void add_rules(LessonMaker& make) {
  const bool us = make.us();
  make.lesson.rules = {
      "Round every result as it is printed, halves away from zero, and carry the ROUNDED number to "
      "the next line. Inside a line do not round. A last digit off by one is right.",
      us ? "Lengths to 0.001 in, angles to 0.01 deg, speeds of sound to 1 ft/s, velocities to "
           "0.001 "
           "ft/s, times to 0.001 us, time differences to 0.01 ns, areas to 0.01 in2, diameters D "
           "and "
           "per cent to 0.01, pure numbers as printed."
         : "Lengths to 0.01 mm, angles to 0.01 deg, speeds of sound to 0.1 m/s, velocities to "
           "0.0001 "
           "m/s, times to 0.001 us, time differences to 0.01 ns, areas to 0.01 cm2, diameters D "
           "and "
           "per cent to 0.01, pure numbers as printed.",
      "Calculator in DEGREES: sin(30) must give 0.5. Angles count from the pipe normal. asin is "
      "the "
      "key sin-1, sqrt the square root, log10 the key log.",
      "pi = 3.14159265 (or the key). x is times. us is a microsecond, a millionth of a second; ns "
      "a "
      "nanosecond, a thousandth of that.",
  };
  if (us) {
    make.lesson.rules.push_back(
        "gpm are US gallons a minute: 1 gallon = 231 cubic inches. Viscosity stays in mPa s "
        "(centipoise) and mm2/s (centistokes).");
  }
}

void add_sources(LessonMaker& make) {
  make.lesson.sources = {
      "Angles: Snell's law. Spacings and times: straight rays through flat layers, reflected at "
      "the "
      "inner face (derived).",
      "Friction: Colebrook equation. Profile factor: logarithmic velocity profile, K = 1 / (1 + "
      "1.25 "
      "sqrt(f/8)) (derived).",
      "Elbow bias: curve through University of Western Ontario thesis 8357 (1 D) and Sensors 2021 "
      "21(3):868 (8 D). Gauge settings, tape: common practice, no source.",
      "Straight run: the planner's table of fittings, see slantrule lookup fittings.",
  };
}

}  // namespace

std::variant<Lesson, std::string> make_lesson(const PlannedJob& job, const Catalogue& catalogue,
                                              UnitSystem units, std::optional<std::uint64_t> seed) {
  if (std::string why = obstacle(job, units); !why.empty()) return why;
  LessonMaker make(job, catalogue, units);
  Lesson& lesson = make.lesson;
  lesson.tag = shown(make.job.tag, 60);
  lesson.title = shown(make.job.title, 200);
  if (!make.job.site_name.empty()) {
    lesson.title += (lesson.title.empty() ? "" : ", ") + shown(make.job.site_name, 100);
  }
  if (seed) {
    lesson.seed = fmt::format("seed {}", *seed);
    lesson.varied =
        "Drawn by the seed: the pipe within its family, where the catalogue has others; "
        "temperature, "
        "flow and distances. Invented numbers, the same for the same seed.";
  }
  lesson.warning =
      make.job.sensors.invented
          ? fmt::format(
                "The sensor pair {} is invented. Its numbers are training data and belong to "
                "no real sensor: never mount by this sheet.",
                shown(make.job.sensors.key, 60))
          : "This is a lesson, not a setup sheet: mount by the sheet of slantrule plan.";
  add_rules(make);
  WorkedSteps(make).add();
  add_estimates(make);
  add_mistakes(make);
  add_exercises(make, seed.value_or(0));
  add_card(make);
  add_sources(make);
  return std::move(lesson);
}

}  // namespace slantrule
