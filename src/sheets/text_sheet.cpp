#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>

#include "slantrule/planning/check_table.hpp"
#include "slantrule/planning/clock.hpp"
#include "slantrule/planning/safety.hpp"
#include "slantrule/planning/surface.hpp"
#include "slantrule/sheets/sheet.hpp"
#include "slantrule/sheets/text_layout.hpp"
#include "slantrule/units/quantity.hpp"
#include "slantrule/units/suggest.hpp"

namespace slantrule {
namespace {

constexpr std::size_t most_lines = 120;  // two pages of 60
constexpr std::string_view blank_line = "________";

std::string upper(std::string_view text) {
  std::string out(text);
  std::transform(out.begin(), out.end(), out.begin(),
                 [](unsigned char c) { return static_cast<char>(std::toupper(c)); });
  return out;
}

/// Where a clock position lies for somebody who looks with the flow.
std::string side_of(double clock_h) {
  if (clock_h > 0 && clock_h < 6) return " = RIGHT";
  if (clock_h > 6 && clock_h < 12) return " = LEFT";
  return "";
}

std::string clock_words(double clock_h) {
  return clock_text(clock_h) + " o'clock";
}

int count_of(const std::vector<Finding>& findings, Severity severity) {
  return static_cast<int>(std::count_if(findings.begin(), findings.end(), [&](const Finding& one) {
    return one.severity == severity;
  }));
}

std::string verdict_words(Verdict verdict, const std::vector<Finding>& findings) {
  const int stops = count_of(findings, Severity::stop);
  const int cautions = count_of(findings, Severity::caution);
  switch (verdict) {
    case Verdict::go:
      return "GO";
    case Verdict::caution:
      return fmt::format("CAUTION ({})", cautions);
    case Verdict::stop:
      return cautions ? fmt::format("STOP ({}), CAUTION ({})", stops, cautions)
                      : fmt::format("STOP ({})", stops);
  }
  return {};
}

/// What yields, step by step, on a sheet that would be longer than two pages. Assumptions and notes
/// have yielded before.
enum class Fullness {
  all,
  no_sketch,     ///< the path in words stays, sources go
  few_cautions,  ///< as many as fit, gravest first, and how many more there are
};

/// Builds the sheet of one variant, section by section.
class TextSheet {
 public:
  TextSheet(const PlannedVariant& variant, const Display& display, Fullness fullness,
            std::size_t most_cautions)
      : job_(variant.job),
        plan_(variant.plan),
        what_(variant.what),
        display_(display),
        fullness_(fullness),
        most_cautions_(most_cautions) {}

  std::size_t line_count() const { return lines_.size(); }

  std::string build() {
    head();
    box();
    reasons();
    path_in_words();
    transmitter_values();
    steps();
    checks_after_mounting();
    straight_run_table();
    safety();
    leaving();
    notes();
    assumptions();
    sign_off();
    std::string out;
    for (const std::string& line : lines_) {
      out += line;
      out += '\n';
    }
    return out;
  }

 private:
  void line(std::string text = {}) { lines_.push_back(std::move(text)); }
  void wrap(std::string_view text, std::string_view first = "", std::string_view next = "") {
    for (std::string& one : wrapped(text, first, next)) lines_.push_back(std::move(one));
  }
  void heading(std::string_view text) {
    line();
    line(std::string(text));
  }
  std::string shown_text(std::string_view text) const { return job_text(text, display_); }
  /// Titles and names have two lines at most.
  std::string short_text(std::string_view text) const {
    const std::string whole = shown_text(text);
    return columns(whole) > 2 * sheet_columns ? padded(whole, 2 * sheet_columns - 8) : whole;
  }
  std::string length(double length_m) const { return length_text(length_m, display_); }
  bool issued() const { return plan_.path && plan_.verdict != Verdict::stop; }
  double spacing_m() const { return plan_.path->ray.mark_spacing_m; }

  /// The spacing as it is set, in the sheet's units, with the other system behind.
  std::string setting() const {
    const double size_m = std::fabs(spacing_m());
    const double rounded_m = std::round(size_m / plan_.setting_step_m) * plan_.setting_step_m;
    const std::string metric =
        setting_text(size_m, plan_.setting_step_m, {UnitSystem::metric, display_.utf8});
    const std::string inches =
        fmt::format("{} in ({})", in_unit_text(rounded_m, 2),
                    format_inch_fraction(rounded_m, plan_.setting_step_m < 1e-3 ? 64 : 32));
    return display_.units == UnitSystem::us ? inches + "   " + metric : metric + "   " + inches;
  }
  static std::string in_unit_text(double length_m, int decimals) {
    return fmt::format("{:.{}f}", length_m / 0.0254, decimals);
  }

  void head() {
    const std::string tag = shown_text(job_.tag.empty() ? "(no tag)" : job_.tag);
    line(two_ends(verdict_words(plan_.verdict, plan_.findings), tag));
    std::string title = job_.title;
    if (!job_.site_name.empty()) title += title.empty() ? job_.site_name : ", " + job_.site_name;
    if (!title.empty()) wrap(short_text(title));
    if (!job_.note.empty()) wrap("Note: " + short_text(job_.note));
    if (!what_.empty()) wrap("Candidate: " + shown_text(what_));
  }

  // ------------------------------------------------------------ the box

  void boxed(const std::vector<std::string>& rows) {
    constexpr std::size_t inside = sheet_columns - 4;
    const std::string rule = "+" + std::string(sheet_columns - 2, '-') + "+";
    line(rule);
    for (const std::string& row : rows) {
      // A row that fits keeps its wide gaps.
      if (columns(row) <= inside) {
        line("| " + padded(row, inside) + " |");
        continue;
      }
      for (const std::string& one : wrapped(row, "", "  ", inside)) {
        line("| " + padded(one, inside) + " |");
      }
    }
    line(rule);
  }

  bool vertical() const {
    return job_.pipe.orientation == Orientation::vertical_up ||
           job_.pipe.orientation == Orientation::vertical_down;
  }
  bool found(CheckId check) const {
    return std::ranges::any_of(plan_.findings,
                               [&](const Finding& one) { return one.check == check; });
  }

  std::string sides_row() const {
    if (plan_.clock_h) {
      const std::string a = clock_words(*plan_.clock_h) + side_of(*plan_.clock_h);
      if (plan_.same_side()) return "SAME side, both at " + a + ", looking with the flow";
      return "OPPOSITE sides: A at " + a + ", B at " + clock_words(*plan_.other_clock_h) +
             side_of(*plan_.other_clock_h) + ", looking with the flow";
    }
    if (!vertical()) {
      return std::string(plan_.same_side() ? "SAME side" : "OPPOSITE sides") +
             ", at 3 or 9 o'clock, NEVER at the top or bottom; chosen: " + std::string(blank_line);
    }
    const std::string where = job_.site.clock_text.empty()
                                  ? ", landmark " + std::string(blank_line)
                                  : ", position " + shown_text(job_.site.clock_text);
    return plan_.same_side() ? "SAME side of the pipe" + where
                             : "OPPOSITE sides of the pipe, half a girth apart" +
                                   (where.empty() ? std::string() : ", A at" + where.substr(1));
  }

  /// How the flow runs for a fitter who faces the pipe: at 3 o'clock left to right, at 9 o'clock
  /// right to left; on a riser A is the lower one.
  std::string flow_as_seen() const {
    switch (job_.pipe.orientation) {
      case Orientation::vertical_up:
        return "flow upward: A is the LOWER sensor";
      case Orientation::vertical_down:
        return "flow downward: A is the UPPER sensor";
      default:
        break;
    }
    if (!plan_.clock_h) {
      return "facing the pipe, flow runs LEFT TO RIGHT at 3 o'clock, RIGHT TO LEFT at 9";
    }
    const double clock_h = *plan_.clock_h;
    if (clock_h == 0 || clock_h == 6 || clock_h == 12) return {};
    const std::string way = clock_h < 6 ? "LEFT TO RIGHT" : "RIGHT TO LEFT";
    return "facing the pipe" + std::string(plan_.same_side() ? "" : " at A") + ", flow runs " +
           way + (plan_.same_side() ? "" : " (the other way at B)");
  }

  void box() {
    std::vector<std::string> rows;
    if (!issued()) {
      rows.push_back("NO SPACING IS ISSUED: clear the stops below, then plan again.");
      boxed(rows);
      return;
    }
    rows.push_back("SET   " + setting() + "        mark to +- " +
                   length(plan_.mounting_tolerance_m));
    rows.push_back(job_.sensors.mark.empty()
                       ? "between the reference marks (securing-bolt centres), along the pipe"
                       : "between the two marks (" + shown_text(job_.sensors.mark) +
                             "), along the pipe");
    rows.push_back(sides_row());
    if (const std::string way = flow_as_seen(); !way.empty()) rows.push_back(way);
    if (spacing_m() < 0) {
      rows.push_back("MARKS CROSS: A's mark lies that far DOWNSTREAM of B's mark");
    }
    rows.push_back("A = UPSTREAM     flow  A ==> B     beams face each other, cables outward");
    if (job_.flow.reversing) {
      rows.push_back("the flow REVERSES: A is upstream of the forward flow, which reads positive");
    }
    if (plan_.path->face_gap_m && plan_.same_side()) {
      rows.push_back("cross-check: clear gap between the front ends " +
                     setting_text(*plan_.path->face_gap_m, plan_.setting_step_m, display_));
    }
    if (job_.sensors.invented) {
      rows.push_back("TRAINING DATA: this pair is invented. DO NOT MOUNT BY THIS SHEET.");
    }
    boxed(rows);
  }

  // ------------------------------------------------------------ findings

  void one_finding(const Finding& finding) {
    const FindingText text = finding_text(finding, display_);
    const std::string first = upper(severity_name(finding.severity)) + "  ";
    const std::string next(columns(first), ' ');
    wrap(text.message, first, next);
    wrap("-> " + text.mend, next, next + "   ");
    if (finding.accepted) {
      wrap(fmt::format("Accepted by {}: {}", shown_text(finding.accepted_by),
                       shown_text(finding.accepted_because)),
           next, next);
    }
  }

  void reasons() {
    const bool any = std::any_of(plan_.findings.begin(), plan_.findings.end(),
                                 [](const Finding& one) { return one.severity != Severity::note; });
    if (!any) return;
    heading("BEFORE YOU START");
    std::size_t told = 0;
    std::vector<const Finding*> left_out;
    for (const Finding& finding : plan_.findings) {
      if (finding.severity == Severity::note) continue;
      if (finding.severity == Severity::caution && told >= most_cautions_) {
        left_out.push_back(&finding);
        continue;
      }
      one_finding(finding);
      ++told;
    }
    if (left_out.empty()) return;
    std::string rules;
    for (const Finding* one : left_out) {
      rules += fmt::format("{}{} ({})", rules.empty() ? "" : "; ", check_info(one->check).id,
                           check_info(one->check).rule);
    }
    wrap(fmt::format("AND {} MORE CAUTIONS, in full with --format json: {}.", left_out.size(),
                     rules));
  }

  void notes() {
    const bool any = std::any_of(plan_.findings.begin(), plan_.findings.end(),
                                 [](const Finding& one) { return one.severity == Severity::note; });
    if (!any) return;
    heading("NOTES");
    std::string left_out;
    for (const Finding& finding : plan_.findings) {
      if (finding.severity != Severity::note) continue;
      const FindingText text = finding_text(finding, display_);
      auto more = wrapped(text.message + " " + text.mend, "- ", "  ");
      // Notes yield to the sign-off, and to a line that names those which yielded.
      constexpr std::size_t names_of_the_rest = 3;
      if (lines_.size() + more.size() + sign_off_lines() + names_of_the_rest > most_lines) {
        const std::string id(check_info(finding.check).id);
        if (left_out.find(id) == left_out.npos) left_out += (left_out.empty() ? "" : ", ") + id;
        continue;
      }
      for (std::string& one : more) lines_.push_back(std::move(one));
    }
    if (!left_out.empty()) wrap("more, in full with --format json: " + left_out, "- ", "  ");
  }

  std::size_t sign_off_lines() const { return 1 + wrapped(sign_off_text(), "", "").size(); }

  // ------------------------------------------------------------ path

  void path_in_words() {
    if (!plan_.path) return;
    const RayPath& ray = plan_.path->ray;
    heading("PATH");
    std::string words =
        fmt::format("{} {} of the bore with the {} wave in the wall: wedge {}", plan_.traverses,
                    plan_.traverses == 1 ? "traverse" : "traverses",
                    wave_mode_name(plan_.wall_mode), angle_text(job_.sensors.wedge_angle_rad));
    for (std::size_t i = 0; i < ray.layer_count; ++i) {
      words += fmt::format(", {} {}", layer_role_name(plan_.layer_roles[i]),
                           angle_text(ray.layer_legs[i].angle_rad));
    }
    words += fmt::format(", liquid {} from the pipe normal.", angle_text(ray.liquid_leg.angle_rad));
    wrap(words);
    if (fullness_ == Fullness::all) sketch();
  }

  /// Side view in proportion: bore height to exit spacing (a character is twice as high as wide).
  void sketch() {
    constexpr int most_width = 54;
    constexpr int most_rows = 7;
    constexpr int margin = 14;  // room for the flow arrow, and for the pipe left of A
    const double ratio = plan_.path->ray.exit_spacing_m / plan_.bore_m;
    int rows = most_rows;
    int width = static_cast<int>(std::lround(2 * ratio * rows));
    if (width > most_width) {
      rows = std::max(2, static_cast<int>(std::lround(most_width / (2 * ratio))));
      width = most_width;
    }
    const int least_width = std::max(4, 2 * plan_.traverses);
    const bool in_proportion = width >= least_width && (rows > 2 || ratio <= 14);
    width = std::max(width, least_width);

    const auto put = [](std::string& text, int column, std::string_view what) {
      const auto place = static_cast<std::size_t>(column);
      if (text.size() < place + what.size()) text.resize(place + what.size(), ' ');
      text.replace(place, what.size(), what);
    };
    std::string above, below;
    put(above, margin, "A");
    put(plan_.same_side() ? above : below, margin + width, "B");
    std::string face(static_cast<std::size_t>(margin - 4), ' ');
    face += std::string(static_cast<std::size_t>(width + 9), '=');

    std::vector<std::string> bore(static_cast<std::size_t>(rows));
    put(bore[static_cast<std::size_t>(rows / 2)], 0, "flow ==>");
    for (int traverse = 0; traverse < plan_.traverses; ++traverse) {
      const bool down = traverse % 2 == 0;
      for (int row = 0; row < rows; ++row) {
        const double across = (row + 0.5) / rows;
        const double along = (traverse + (down ? across : 1 - across)) / plan_.traverses;
        put(bore[static_cast<std::size_t>(row)],
            margin + static_cast<int>(std::lround(along * width)), down ? "\\" : "/");
      }
    }
    line(above);
    line(face);
    for (std::string& row : bore) line(std::move(row));
    line(face);
    if (!below.empty()) line(below);
    if (!in_proportion) line(std::string(margin, ' ') + "(not in proportion)");
  }

  // ------------------------------------------------------------ values

  void value(std::string_view name, std::string_view shown_value) {
    wrap(shown_value, "  " + padded(name, 34), std::string(36, ' '));
  }

  /// A dimension with its standard uncertainty, where one is known.
  std::string with_u(const Estimate& dimension_m) const {
    if (!(dimension_m.u > 0)) return length(dimension_m.value);
    return length(dimension_m.value) + " (u " + length(dimension_m.u) + ")";
  }

  std::string liquid_name() const {
    const ResolvedLiquid& liquid = job_.liquid;
    std::string name = shown_text(liquid.name);
    if (!liquid.full_name.empty() && folded_name(liquid.full_name) != folded_name(liquid.name)) {
      name += " (" + shown_text(liquid.full_name) + ")";
    }
    if (liquid.solution) name += fmt::format(", {:.4g} % by mass,", 100 * liquid.mass_fraction);
    return name;
  }

  void transmitter_values() {
    heading("VALUES FOR THE TRANSMITTER");
    const ResolvedPipe& pipe = job_.pipe;
    const Conditions& at = plan_.conditions;
    if (!pipe.size_text.empty()) value("pipe", shown_text(pipe.size_text));
    value("outside diameter, bare wall", with_u(pipe.outside_diameter_m));
    value("wall", with_u(pipe.wall_m) + ", " + shown_text(pipe.material.name));
    if (pipe.gauge && pipe.gauge->count > 1) {
      value("gauge readings",
            fmt::format("{}, mean {}, spread {}", pipe.gauge->count, length(pipe.gauge->mean_m),
                        length(pipe.gauge->spread_m)));
    }
    for (const PipeMatch& match : pipe.matches) {
      value(&match == &pipe.matches.front() ? "standard pipes of that diameter" : "",
            fmt::format("{}: {}, bores {} to {}", shown_text(match.size),
                        length(match.outside_diameter_m), length(match.smallest_bore_m),
                        length(match.largest_bore_m)));
    }
    if (plan_.wall_sound_speed_m_s > 0) {
      value("speed of sound in the wall", sound_speed_text(plan_.wall_sound_speed_m_s, display_) +
                                              " (" + std::string(wave_mode_name(plan_.wall_mode)) +
                                              ") at " +
                                              temperature_text(at.wall_temperature_K, display_));
    }
    value("wedge",
          fmt::format("{} at {}{}", sound_speed_text(plan_.kernel.wedge_sound_speed_m_s, display_),
                      temperature_text(at.wedge_temperature_K, display_),
                      job_.site.wedge_temperature_K ? "" : " (taken)"));
    value("lining", pipe.liner ? length(pipe.liner->thickness_m) + ", " +
                                     shown_text(pipe.liner->material.name)
                    : pipe.liner_stated ? "none"
                                        : "not stated; planned as none");
    if (pipe.coating) {
      value("coating", length(pipe.coating->thickness_m) + ", " +
                           shown_text(pipe.coating->material.name) +
                           (pipe.coating_under_sensors ? ", left under the sensors"
                                                       : ", removed under the sensors"));
    }
    value("bore", length(plan_.bore_m));
    value("liquid", liquid_name() + " at " +
                        temperature_text(job_.liquid.temperature_K.value, display_) + ", " +
                        pressure_text(at.pressure_Pa, display_) +
                        (job_.liquid.pressure_Pa ? "" : " (assumed)"));
    value("speed of sound in the liquid",
          fmt::format("{} +- {}{}", sound_speed_text(at.liquid_sound_speed_m_s.value, display_),
                      sound_speed_text(at.liquid_sound_speed_m_s.u, display_),
                      job_.liquid.sound_speed_measured ? " (measured)" : ""));
    if (fullness_ == Fullness::all) value("", "by " + shown_text(job_.liquid.model->source()));
    if (plan_.kernel.kinematic_viscosity_m2_s) {
      value("kinematic viscosity",
            fmt::format("{:.3g} mm2/s", *plan_.kernel.kinematic_viscosity_m2_s * 1e6));
    }
    value("traverses", std::to_string(plan_.traverses));
    if (issued()) {
      wrap(fmt::format("spacing the transmitter shows: {}   more than +- {} from plan: an entry "
                       "differs; find it before mounting",
                       blank_line,
                       length(std::ceil(plan_.transmitter_spacing_tolerance_m * 2e3) * 0.5e-3)),
           "  ", "  ");
    }
    const FlowPoint* usual = plan_.usual ? &*plan_.usual : nullptr;
    if (usual && usual->profile_factor) {
      const ProfileFactor& factor = *usual->profile_factor;
      const std::string band =
          found(CheckId::run_laminar) ? fmt::format("between {:.2f} and 1", factor.value)
          : usual->regime == FlowRegime::transition
              ? fmt::format("between {:.3f} and {:.3f}", factor.low, factor.high)
              : fmt::format("{:.4f} +- {:.4f}", factor.value, factor.u);
      wrap("profile factor " + band +
               ": find out whether the transmitter applies it itself, and "
               "have it applied once.",
           "  ", "  ");
    }
  }

  // ------------------------------------------------------------ steps

  void step(std::string_view text) { wrap(text, "  [ ] ", "      "); }

  void steps() {
    if (!issued()) return;
    heading("STEPS");
    if (job_.sensors.invented) line("  (as an exercise: the pair is invented)");
    step(cleaning());
    mark_positions();
    const std::string strapped =
        plan_.same_side()
            ? "Set the fixture to the spacing and strap it to the pipe, parallel to its axis"
            : "Strap each sensor's fixture at its mark, parallel to the axis";
    step(strapped + "; straps go " + marking(girth_m()) + " round.");
    step("Spread couplant" + couplant_words() + " on both faces: thin, even, no air.");
    step("Mount A upstream and B downstream, faces towards each other, cable ends outward.");
    step("Tighten evenly; read the spacing again: " + std::string(blank_line) + ".");
    step("Connect A as upstream, B as downstream; route the cables away from drives and heat.");
  }

  /// The first step, as far as the surface is known.
  std::string cleaning() const {
    std::string text;
    if (job_.site.opened_insulation || job_.site.refitted_insulation) {
      const double window_m = plan_.path->overall_length_m.value_or(spacing_m()) + 0.2;
      text = fmt::format("Open the insulation over {} of pipe, all round if you can. ",
                         marking(std::fabs(window_m)));
    }
    if (job_.pipe.material.key.starts_with("asbestos_cement")) {
      return text + "Wipe the faces wet where both sensors go; don't scrape, sand or brush.";
    }
    text +=
        "Clean the pipe where both sensors go: flat, free of debris, build-up, corrosion and pits";
    const auto is = [&](std::string_view word) {
      return std::ranges::find(job_.site.surface, word) != job_.site.surface.end();
    };
    if (is("wrapped")) text += "; wrapping cut away to the bare wall";
    if (is("rust")) text += "; loose rust off, down to sound metal";
    if (is("scaled")) text += "; scale off";
    text += is("paint") ? "; thin tight paint may stay, loose or thick paint goes."
                        : "; bare or tight thin paint.";
    return text;
  }

  /// A length to be marked out on the pipe: whole millimetres, or hundredths of an inch.
  std::string marking(double length_m) const { return setting_text(length_m, 1e-3, display_); }

  /// Round the pipe as the strap and the paper go.
  double girth_m() const {
    const ResolvedPipe& pipe = job_.pipe;
    const double coating_m =
        pipe.coating && pipe.coating_under_sensors ? pipe.coating->thickness_m : 0;
    return std::numbers::pi * (pipe.outside_diameter_m.value + 2 * coating_m);
  }

  std::string couplant_words() const {
    if (!job_.site.couplant_name.empty()) return " (" + shown_text(job_.site.couplant_name) + ")";
    std::string names;
    std::size_t told = 0;
    const ResolvedMaterial& contact = contact_material(job_.pipe);
    for (const CouplantRecord* row : suitable_couplants(couplant_need(job_, plan_))) {
      // Some oils and greases attack plastics; which, their data sheets say.
      if (contact.family == SolidFamily::plastic && !row->harms.empty()) continue;
      if (told++ == 2) break;
      names += (names.empty() ? "" : " or ") + std::string(row->name);
    }
    return names.empty() ? std::string() : " (none stated; at this surface: " + names + ")";
  }

  /// Where A's and B's marks go along the pipe: from the upstream fitting where its distance is
  /// known, else from a point that the fitter chooses.
  void mark_positions() {
    std::optional<double> exit_m;
    std::string datum = "the upstream fitting";
    if (plan_.placement) exit_m = plan_.placement->upstream_m;
    for (const ResolvedFitting& one : job_.site.upstream) {
      if (one.mark_only) continue;
      datum = "the " + shown_text(one.name) + " upstream";
      if (!exit_m && one.distance_m) exit_m = *one.distance_m;
      if (!exit_m && one.distance_D) exit_m = *one.distance_D * plan_.bore_m;
      break;
    }
    if (exit_m) {
      // B from A by the very spacing that the box sets, or the two would disagree by a rounding.
      const double step_m = plan_.setting_step_m;
      const auto rounded_m = [&](double x_m) { return std::round(x_m / step_m) * step_m; };
      const double a_m = rounded_m(*exit_m - job_.sensors.setback_m);
      const double b_m = a_m + rounded_m(spacing_m());
      step(fmt::format(
          "Measure from the near end of {}: A's mark {}, B's mark {} downstream of it.", datum,
          setting_text(a_m, step_m, display_), setting_text(b_m, step_m, display_)));
    } else {
      step(fmt::format("Choose a fixed point as datum: A's mark {} from it, B's mark {}.",
                       blank_line, blank_line));
    }
    if (plan_.clock_h) {
      const double clock_h = std::fmod(*plan_.clock_h, 12);
      const bool right = clock_h <= 6;
      step(fmt::format("Find the crown; go {} round to the {} (looking with the flow) for A.",
                       marking(girth_m() * (right ? clock_h : 12 - clock_h) / 12),
                       right ? "right" : "left"));
    } else if (!vertical()) {
      step(fmt::format("Find the crown; go a quarter round ({}) to the right or left for A.",
                       marking(girth_m() / 4)));
    }
    std::string second;
    if (plan_.same_side()) {
      second =
          fmt::format("Draw a line along the pipe; mark B on it at the spacing in the box, {}.",
                      spacing_m() < 0 ? "UPSTREAM of A (crossed)" : "downstream of A");
    } else {
      second = fmt::format(
          "Draw a line along the pipe through A, and one half a girth away ({}); mark B on the "
          "second, {} by the spacing in the box.",
          marking(girth_m() / 2), spacing_m() < 0 ? "UPSTREAM of A" : "downstream of A");
    }
    step(second + " Where no paper will stick: tape, chalk and a square.");
  }

  void checks_after_mounting() {
    if (!issued() || !plan_.expect) return;
    const Expectation& expect = *plan_.expect;
    heading("CHECK AFTER MOUNTING                  expected                    found");
    const auto row = [&](std::string_view name, const std::string& expected) {
      line("  " + padded(name, 36) + padded(expected, 28) + std::string(blank_line));
    };
    row("speed of sound of the liquid",
        fmt::format("{} +- {}", sound_speed_text(expect.sound_speed_m_s, display_),
                    sound_speed_text(expect.sound_speed_tolerance_m_s, display_)));
    row("time of flight, one way", fmt::format("{:.2f} us +- {:.2f}", expect.zero_flow_time_s * 1e6,
                                               expect.zero_flow_time_tolerance_s * 1e6));
    if (plan_.usual) {
      row("flow (usual)", flow_text(plan_.usual->volume_flow_m3_s, display_) + ", " +
                              velocity_text(plan_.usual->velocity_m_s, display_));
      if (expect.time_difference_s) {
        row("time difference at that flow",
            fmt::format("{:.2f} ns, positive", *expect.time_difference_s * 1e9));
      }
      if (plan_.usual->reynolds) {
        row("Reynolds number", fmt::format("{:.0f}", *plan_.usual->reynolds));
      }
    }
    row("signal, both directions alike", "");
    if (job_.flow.can_stop.value_or(false)) {
      step(
          "Zero test: flow stopped and blocked in by the operator, pipe full, several minutes. "
          "Zero shown: " +
          std::string(blank_line));
    } else {
      step(
          "Swap test where the flow can't stop: swap A and B in steady flow; half the sum of the "
          "two readings is the zero offset, half the difference the flow.");
    }
  }

  void straight_run_table() {
    heading("STRAIGHT RUN (in bores, D = " + length(plan_.bore_m) + ")");
    const auto row = [&](std::string_view side, const StraightRun& run) {
      const std::string length_needed = length(run.required_D * plan_.bore_m);
      std::string text =
          fmt::format("needed {:>6} ({})", diameters_text(run.required_D), length_needed);
      text = padded(text, 30);
      text += run.available_D ? fmt::format("there {:>7} ({})", diameters_text(*run.available_D),
                                            length(*run.available_D * plan_.bore_m))
                              : "there: not stated";
      line("  " + padded(side, 12) + text);
      if (!run.governing.empty())
        wrap("governed by: " + shown_text(run.governing) +
                 (run.source.empty() || fullness_ != Fullness::all
                      ? ""
                      : " (" + shown_text(run.source.substr(0, run.source.find(';'))) + ")"),
             "              ", "              ");
    };
    row("upstream", plan_.upstream);
    row("downstream", plan_.downstream);
  }

  // ------------------------------------------------------------ people

  void safety() {
    heading("SAFETY (local rules and licensed people decide)");
    for (const SafetyCaution& caution : safety_cautions(job_, plan_)) {
      wrap(safety_text(caution, display_), "- ", "  ");
    }
  }

  void leaving() {
    if (!issued()) return;
    heading("LEAVING THE PLACE");
    step(
        "Couplant wiped off, straps and tools counted, insulation and guards refitted, marks "
        "left or photographed as agreed, operator told.");
  }

  void assumptions() {
    // Sign-off takes the last lines; assumptions yield when two pages are full.
    if (job_.assumptions.empty() || lines_.size() + sign_off_lines() + 3 > most_lines) return;
    heading("ASSUMED WHERE THE JOB IS SILENT");
    std::size_t told = 0;
    for (const Assumption& one : job_.assumptions) {
      auto more = wrapped(fmt::format("{}: {}", one.key, one.what), "- ", "  ");
      if (lines_.size() + more.size() + sign_off_lines() + 1 > most_lines) break;
      for (std::string& text : more) lines_.push_back(std::move(text));
      ++told;
    }
    if (told < job_.assumptions.size()) {
      line(fmt::format("- and {} more: see --format json", job_.assumptions.size() - told));
    }
  }

  std::string sign_off_text() const {
    const std::string by =
        job_.prepared_by.empty() ? std::string(blank_line) : short_text(job_.prepared_by);
    return "Planned by: " + by + "    Mounted by: " + std::string(blank_line) +
           "    Date: " + std::string(blank_line) + "    Sign: " + std::string(blank_line);
  }

  void sign_off() {
    line();
    wrap(sign_off_text());
  }

  const ResolvedJob& job_;
  const Plan& plan_;
  const std::string& what_;
  const Display& display_;
  Fullness fullness_;
  std::size_t most_cautions_;
  std::vector<std::string> lines_;
};

/// The fullest sheet that two pages hold.
std::string fitting_sheet(const PlannedVariant& variant, const Display& display) {
  std::string out;
  const auto fits = [&](Fullness fullness, std::size_t most_cautions) {
    TextSheet sheet(variant, display, fullness, most_cautions);
    out = sheet.build();
    return sheet.line_count() <= most_lines;
  };
  const std::size_t findings = variant.plan.findings.size();
  if (fits(Fullness::all, findings) || fits(Fullness::no_sketch, findings)) return out;
  for (std::size_t most = findings; most-- > 0;) {
    if (fits(Fullness::few_cautions, most)) break;
  }
  return out;
}

std::string difference_text(const Separation& one, const Display& display) {
  switch (one.measurement) {
    case TellingMeasurement::outside_diameter:  // what the tape shows
      return length_text(one.least_difference_si * std::numbers::pi, display);
    case TellingMeasurement::wall:
      return length_text(one.least_difference_si, display);
    case TellingMeasurement::time_of_flight:
      return time_text(one.least_difference_si);
    case TellingMeasurement::liquid_density:
      return fmt::format("{:.0f} kg/m3", one.least_difference_si);
    case TellingMeasurement::liquid_temperature:
      return value_text({one.least_difference_si, ValueKind::temperature_difference_K}, display);
  }
  return {};
}

/// The measurements that tell candidates apart, best first.
void tell_apart(const CandidateComparison& comparison, const Display& display,
                const std::function<void(const std::string&)>& line) {
  line("");
  line("TO TELL THEM APART");
  if (comparison.separations.empty()) {
    line("No single measurement on the pipe does; narrow the candidates first.");
  }
  constexpr std::size_t most = 3;
  for (std::size_t i = 0; i < std::min(most, comparison.separations.size()); ++i) {
    const Separation& one = comparison.separations[i];
    const std::string text =
        fmt::format("{}: tells {} of {} pairs apart, the nearest by {}",
                    telling_measurement_name(one.measurement), one.pairs_separated, one.pairs,
                    difference_text(one, display));
    for (const std::string& part : wrapped(text, i == 0 ? "best  " : "      ", "        ")) {
      line(part);
    }
  }
  for (const std::string& part : wrapped(
           "Once one is left, plan again with it alone and set that plan's own spacing.", "", "")) {
    line(part);
  }
}

/// Several candidates: side by side first, so that they can be told apart; then what they share.
std::string candidates_sheet(const PlannedJob& job, const Display& display) {
  const ResolvedJob& first = job.variants.front().job;
  std::string out;
  const auto line = [&](const std::string& text) { out += text + '\n'; };
  const auto wrap = [&](std::string_view text, std::string_view from, std::string_view next) {
    for (const std::string& one : wrapped(text, from, next)) line(one);
  };
  // Nothing is issued while candidates are open, so the word is never GO.
  const Verdict verdict = std::max(job.verdict(), Verdict::caution);
  line(two_ends(upper(verdict_name(verdict)) + ": " + std::to_string(job.variants.size()) +
                    " candidates, no spacing to set yet",
                job_text(first.tag.empty() ? "(no tag)" : first.tag, display)));
  std::string title = first.title;
  if (!first.site_name.empty()) title += (title.empty() ? "" : ", ") + first.site_name;
  if (!title.empty()) wrap(job_text(title, display), "", "");
  line("");
  line("NO SPACING IS ISSUED while these candidates are open. Measure, then plan again:");
  line("");
  line("     bore        spacing     flow time   shows c       flow off   verdict");
  for (std::size_t i = 0; i < job.variants.size(); ++i) {
    const PlannedVariant& variant = job.variants[i];
    const Plan& plan = variant.plan;
    std::string row = fmt::format("{:>3}  ", i + 1);
    row += padded(length_text(plan.bore_m, display), 12);
    row += padded(plan.path ? length_text(plan.path->ray.mark_spacing_m, display) : "no ray", 12);
    row += padded(plan.path ? time_text(plan.path->ray.zero_flow_time_s) : "-", 12);
    const auto& shows = job.comparison.read_outs;
    const CandidateReadOut* shown = i < shows.size() && shows[i] ? &*shows[i] : nullptr;
    row += padded(shown ? sound_speed_text(shown->sound_speed_m_s, display) : "-", 14);
    row += padded(shown ? fmt::format("{:+.1f} %", shown->flow_percent) : "-", 11);
    row += verdict_name(plan.verdict);
    line(row);
    wrap(job_text(variant.what, display), "     ", "     ");
  }
  if (!job.comparison.read_outs.empty()) {
    line("");
    wrap(
        "\"shows c\" and \"flow off\": what the transmitter shows on a pipe that is as the row "
        "says, with the entries and the spacing of candidate 1.",
        "", "");
  }
  tell_apart(job.comparison, display, line);
  // One line a finding and subject: the numbers differ from candidate to candidate.
  std::vector<const Finding*> told;
  for (const PlannedVariant& variant : job.variants) {
    for (const Finding& finding : variant.plan.findings) {
      if (finding.severity == Severity::note) continue;
      const bool known = std::ranges::any_of(told, [&](const Finding* other) {
        return other->check == finding.check && other->subject == finding.subject &&
               other->severity == finding.severity;
      });
      if (known) continue;
      if (told.empty()) {
        line("");
        line("FINDINGS (numbers of the first candidate that has them)");
      }
      told.push_back(&finding);
      const FindingText text = finding_text(finding, display);
      wrap(upper(severity_name(finding.severity)) + "  " + text.message + " -> " + text.mend, "",
           "      ");
    }
  }
  return out;
}

}  // namespace

std::string text_sheet(const PlannedJob& job, const Display& display) {
  if (job.variants.size() > 1) return candidates_sheet(job, display);
  return fitting_sheet(job.variants.front(), display);
}

}  // namespace slantrule
