#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "sheet_words.hpp"
#include "slantrule/planning/surface.hpp"

namespace slantrule {
namespace {

/// The first step, as far as the surface is known.
std::string cleaning(const SheetWords& words) {
  const ResolvedJob& job = words.job;
  std::string text;
  if (job.site.opened_insulation || job.site.refitted_insulation) {
    const double window_m = words.plan.path->overall_length_m.value_or(words.spacing_m()) + 0.2;
    text = fmt::format("Open the insulation over {} of pipe, all round if you can. ",
                       words.marking(std::fabs(window_m)));
  }
  if (job.pipe.material.key.starts_with("asbestos_cement")) {
    return text + "Wipe the faces wet where both sensors go; don't scrape, sand or brush.";
  }
  text +=
      "Clean the pipe where both sensors go: flat, free of debris, build-up, corrosion and pits";
  const auto is = [&](std::string_view word) {
    return std::ranges::find(job.site.surface, word) != job.site.surface.end();
  };
  if (is("wrapped")) text += "; wrapping cut away to the bare wall";
  if (is("rust")) text += "; loose rust off, down to sound metal";
  if (is("scaled")) text += "; scale off";
  text += is("paint") ? "; thin tight paint may stay, loose or thick paint goes."
                      : "; bare or tight thin paint.";
  return text;
}

std::string couplant_words(const SheetWords& words) {
  const ResolvedJob& job = words.job;
  if (!job.site.couplant_name.empty()) {
    return " (" + words.shown_text(job.site.couplant_name) + ")";
  }
  std::string names;
  std::size_t told = 0;
  const ResolvedMaterial& contact = contact_material(job.pipe);
  for (const CouplantRecord* row : suitable_couplants(couplant_need(job, words.plan))) {
    // Some oils and greases attack plastics; which, their data sheets say.
    if (contact.family == SolidFamily::plastic && !row->harms.empty()) continue;
    if (told++ == 2) break;
    names += (names.empty() ? "" : " or ") + std::string(row->name);
  }
  return names.empty() ? std::string() : " (none stated; at this surface: " + names + ")";
}

/// Along the pipe: from the upstream fitting where its distance is known, else from a point that
/// the fitter chooses.
std::string datum_step(const SheetWords& words) {
  const ResolvedJob& job = words.job;
  const Plan& plan = words.plan;
  std::optional<double> exit_m;
  std::string datum = "the upstream fitting";
  if (plan.placement) exit_m = plan.placement->upstream_m;
  for (const ResolvedFitting& one : job.site.upstream) {
    if (one.mark_only) continue;
    datum = "the " + words.shown_text(one.name) + " upstream";
    if (!exit_m && one.distance_m) exit_m = *one.distance_m;
    if (!exit_m && one.distance_D) exit_m = *one.distance_D * plan.bore_m;
    break;
  }
  if (!exit_m) {
    return fmt::format("Choose a fixed point as datum: A's mark {} from it, B's mark {}.", write_in,
                       write_in);
  }
  // B from A by the very spacing that the box sets, or the two would disagree by a rounding.
  const double step_m = plan.setting_step_m;
  const auto rounded_m = [&](double x_m) { return std::round(x_m / step_m) * step_m; };
  const double a_m = rounded_m(*exit_m - job.sensors.setback_m);
  const double b_m = a_m + rounded_m(words.spacing_m());
  return fmt::format("Measure from the near end of {}: A's mark {}, B's mark {} downstream of it.",
                     datum, setting_text(a_m, step_m, words.display),
                     setting_text(b_m, step_m, words.display));
}

/// Round the pipe, from the crown; empty on a vertical pipe.
std::string crown_step(const SheetWords& words) {
  if (words.plan.clock_h) {
    const double clock_h = std::fmod(*words.plan.clock_h, 12);
    const bool right = clock_h <= 6;
    return fmt::format("Find the crown; go {} round to the {} (looking with the flow) for A.",
                       words.marking(words.girth_m() * (right ? clock_h : 12 - clock_h) / 12),
                       right ? "right" : "left");
  }
  if (words.vertical()) return {};
  return fmt::format("Find the crown; go a quarter round ({}) to the right or left for A.",
                     words.marking(words.girth_m() / 4));
}

std::string line_step(const SheetWords& words) {
  const char* way = words.spacing_m() < 0 ? "UPSTREAM of A" : "downstream of A";
  std::string text;
  if (words.plan.same_side()) {
    text = fmt::format("Draw a line along the pipe; mark B on it at the spacing in the box, {}{}.",
                       way, words.spacing_m() < 0 ? " (crossed)" : "");
  } else {
    text = fmt::format(
        "Draw a line along the pipe through A, and one half a girth away ({}); mark B on the "
        "second, {} by the spacing in the box.",
        words.marking(words.girth_m() / 2), way);
  }
  return text + " Where no paper will stick: tape, chalk and a square.";
}

Table expected_readings(const SheetWords& words) {
  const Plan& plan = words.plan;
  const Expectation& expect = *plan.expect;
  Table table{{{"", 36}, {"expected", 28}, {"found", 0}}, {}};
  const auto row = [&](std::string_view name, const std::string& expected) {
    table.rows.push_back({{std::string(name), expected, std::string(write_in)}, {}, {}});
  };
  row("speed of sound of the liquid",
      fmt::format("{} +- {}", sound_speed_text(expect.sound_speed_m_s, words.display),
                  sound_speed_text(expect.sound_speed_tolerance_m_s, words.display)));
  row("time of flight, one way", fmt::format("{:.2f} us +- {:.2f}", expect.zero_flow_time_s * 1e6,
                                             expect.zero_flow_time_tolerance_s * 1e6));
  if (plan.usual) {
    row("flow (usual)", flow_text(plan.usual->volume_flow_m3_s, words.display) + ", " +
                            velocity_text(plan.usual->velocity_m_s, words.display));
    if (expect.time_difference_s) {
      row("time difference at that flow",
          fmt::format("{:.2f} ns, positive", *expect.time_difference_s * 1e9));
    }
    if (plan.usual->reynolds) {
      row("Reynolds number", fmt::format("{:.0f}", *plan.usual->reynolds));
    }
  }
  row("signal, both directions alike", "");
  return table;
}

}  // namespace

Section steps_section(const SheetWords& words) {
  Section section{"STEPS", {}};
  if (!words.issued()) return section;
  if (words.job.sensors.invented) {
    section.blocks.push_back(Paragraph{"(as an exercise: the pair is invented)", true});
  }
  Steps steps;
  const auto step = [&](std::string text) {
    if (!text.empty()) steps.items.push_back(std::move(text));
  };
  step(cleaning(words));
  step(datum_step(words));
  step(crown_step(words));
  step(line_step(words));
  const std::string strapped =
      words.plan.same_side()
          ? "Set the fixture to the spacing and strap it to the pipe, parallel to its axis"
          : "Strap each sensor's fixture at its mark, parallel to the axis";
  step(strapped + "; straps go " + words.marking(words.girth_m()) + " round.");
  step("Spread couplant" + couplant_words(words) + " on both faces: thin, even, no air.");
  step("Mount A upstream and B downstream, faces towards each other, cable ends outward.");
  step("Tighten evenly; read the spacing again: " + std::string(write_in) + ".");
  step("Connect A as upstream, B as downstream; route the cables away from drives and heat.");
  section.blocks.push_back(std::move(steps));
  return section;
}

Section checks_section(const SheetWords& words) {
  Section section{"CHECK AFTER MOUNTING", {}};
  if (!words.issued() || !words.plan.expect) return section;
  section.blocks.push_back(expected_readings(words));
  std::string test =
      words.job.flow.can_stop.value_or(false)
          ? "Zero test: flow stopped and blocked in by the operator, pipe full, several minutes. "
            "Zero shown: " +
                std::string(write_in)
          : "Swap test where the flow can't stop: swap A and B in steady flow; half the sum of the "
            "two readings is the zero offset, half the difference the flow.";
  section.blocks.push_back(Steps{{std::move(test)}});
  return section;
}

Section leaving_section(const SheetWords& words) {
  Section section{"LEAVING THE PLACE", {}};
  if (!words.issued()) return section;
  section.blocks.push_back(
      Steps{{"Couplant wiped off, straps and tools counted, insulation and guards refitted, marks "
             "left or photographed as agreed, operator told."}});
  return section;
}

}  // namespace slantrule
