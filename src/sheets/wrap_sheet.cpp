#include "slantrule/sheets/wrap_sheet.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "slantrule/planning/clock.hpp"
#include "slantrule/sheets/html_text.hpp"
#include "slantrule/units/quantity.hpp"
#include "slantrule/units/suggest.hpp"
#include "wrap_drawing.hpp"

namespace slantrule {
namespace {

// Job texts are cut to what a line holds; the style cuts what is wider still.
constexpr std::size_t most_tag = 48, most_title = 110, most_tag_on_paper = 24;

std::string bdi(std::string_view text, std::size_t most) {
  return "<bdi dir=\"auto\">" + html_text(shown(text, most)) + "</bdi>";
}

std::string style(const Paper& paper) {
  return fmt::format(
             "@page {{ size: {}mm {}mm; margin: {}mm }}\n"
             ".page {{ width: {:.4f}mm }}\n",
             paper.width_mm, paper.height_mm, wrap_page_margin_mm,
             wrap_drawing_size(paper, false).width_mm) +
         R"(body { margin: 0; color: #000; background: #fff; font: 9.2pt/1.28 sans-serif }
svg { display: block }
svg text { fill: #000; stroke: none; font-family: sans-serif }
.page { break-after: page }
.page:last-child { break-after: auto }
header { height: 16mm; overflow: hidden }
header p { margin: 0; white-space: nowrap; overflow: hidden; text-overflow: ellipsis }
.top { display: flex; justify-content: space-between; gap: 4mm; font-weight: bold; font-size: 11pt }
.top span { flex: none }
.top bdi { min-width: 0; overflow: hidden; text-overflow: ellipsis }
.training { font-weight: bold }
.box { border: 0.5mm solid #000; padding: 1mm 2mm; margin: 1mm 0 }
.box p { margin: 0 }
.set { font-size: 14pt; font-weight: bold }
.words { overflow-wrap: anywhere }
.words p { margin: 1mm 0 }
ol { margin: 1mm 0; padding-left: 6mm }
li { margin: 0 0 0.6mm }
table { border-collapse: collapse; margin: 1mm 0 }
th, td { border: 0.2mm solid #000; padding: 0.4mm 2mm; text-align: left; font-weight: normal }
th { font-weight: bold }
.screen { display: none }
@media screen {
  body { padding: 3mm }
  .page { width: auto; max-width: 190mm; margin: 0 auto 8mm }
  header { height: auto }
  svg { width: 100%; height: auto }
  .screen { display: block; font-weight: bold }
  td, th { padding: 0.4mm 1mm }
}
)";
}

/// The words of one strip.
class WrapPages {
 public:
  WrapPages(const PlannedVariant& variant, const WrapStrip& strip, const Display& display)
      : job_(variant.job), plan_(variant.plan), strip_(strip), first_(display.units) {}

  std::string html() const {
    WrapWords words;
    words.tag = shown(job_.tag, most_tag_on_paper);
    words.spacing = spacing();
    words.invented = job_.sensors.invented;
    std::string body;
    for (int page = 0; page < strip_.pages; ++page) {
      body += "<section class=\"page\">\n" + head(page) + wrap_rulers(strip_.paper);
      if (page == 0)
        body += "<div class=\"words\">\n" + box() + corrections() + steps() + "</div>\n";
      body += wrap_page_drawing(strip_, page, words) + "</section>\n";
    }
    return html_page("Wrap strip " + shown(job_.tag, most_tag), style(strip_.paper), body);
  }

 private:
  std::string length(double length_mm, int decimals = 1) const {
    return wrap_length_text(length_mm, decimals, first_);
  }

  /// The size of the spacing as the setup sheet gives it.
  std::string spacing() const {
    const double size_m = std::fabs(strip_.spacing_mm) * 1e-3;
    const double step_m = plan_.setting_step_m;
    const std::string metric = setting_text(size_m, step_m, {UnitSystem::metric, true});
    const std::string inches = fmt::format("{:.2f} in ({})", size_m / 0.0254,
                                           format_inch_fraction(size_m, step_m < 1e-3 ? 64 : 32));
    return first_ == UnitSystem::us ? inches + " = " + metric : metric + " = " + inches;
  }

  std::string head(int page) const {
    std::string out = "<header>\n<p class=\"top\"><span>Wrap strip</span> " +
                      bdi(job_.tag.empty() ? "(no tag)" : job_.tag, most_tag) +
                      fmt::format(" <span>page {} of {}</span></p>\n<p>", page + 1, strip_.pages);
    out += bdi(job_.title.empty() ? job_.site_name : job_.title, most_title) + "</p>\n";
    out += fmt::format("<p class=\"training\">{}</p>\n</header>\n",
                       job_.sensors.invented
                           ? "TRAINING DATA, do not mount: the sensor pair is invented"
                           : fmt::format("Paper {}; A to B {}", strip_.paper.name, spacing()));
    if (page == 0) out += "<p class=\"screen\">To scale on paper only: print it at 100 %.</p>\n";
    return out;
  }

  // ------------------------------------------------------------ what to set

  static std::string clock_words(double clock_h) {
    const double hours = std::fmod(clock_h, 12);
    const std::string side = hours == 0 || hours == 6 ? "" : hours < 6 ? " = RIGHT" : " = LEFT";
    return clock_text(clock_h) + " o'clock" + side;
  }

  std::string sides() const {
    if (!strip_.by_clock) {
      const std::string landmark = job_.site.clock_text.empty()
                                       ? std::string("________________ (choose one, write it down)")
                                       : bdi(job_.site.clock_text, 60);
      return (strip_.same_side
                  ? "SAME side, both on the landmark line: "
                  : "OPPOSITE sides, A on the landmark line, B half the girth away: ") +
             landmark;
    }
    std::string out = strip_.same_side ? "SAME side, both at " + clock_words(strip_.a_clock_h)
                                       : "OPPOSITE sides: A at " + clock_words(strip_.a_clock_h) +
                                             ", B at " + clock_words(strip_.b_clock_h);
    out += ", looking with the flow";
    if (strip_.clock_taken) {
      out +=
          ". The job gives no clock position: 3 o'clock is drawn, set location.clock for another";
    }
    return out;
  }

  std::string box() const {
    std::string out =
        "<div class=\"box\">\n<p class=\"set\">A to B, along the pipe: " + spacing() + "</p>\n<p>";
    out += job_.sensors.mark.empty()
               ? std::string("The crosses are the reference marks (securing-bolt centres)")
               : "The crosses are the reference marks (" + bdi(job_.sensors.mark, 60) + ")";
    out += ". A = UPSTREAM; the arrow on the paper points with the flow.</p>\n<p>" + sides() +
           ".</p>\n";
    if (strip_.spacing_mm < 0) {
      out += "<p><b>MARKS CROSS: A's mark lies that far DOWNSTREAM of B's mark.</b></p>\n";
    }
    return out + "</div>\n";
  }

  // ------------------------------------------------------------ corrections

  std::string coating() const {
    switch (strip_.coating) {
      case WrapCoating::none:
        return "no coating";
      case WrapCoating::left:
        return "coating of " + length(strip_.coating_mm, 2) +
               " left under the sensors and counted in";
      case WrapCoating::removed:
        return fmt::format(
            "bare wall: take the coating of {} off all round under the strip, over it the strip "
            "is {} too short",
            length(strip_.coating_mm, 2), length(6.283185307 * strip_.coating_mm));
    }
    return {};
  }

  std::string corrections() const {
    std::string out =
        strip_.whole ? "<p><b>Start edge to end line: " + length(strip_.girth_mm)
                     : "<p><b>Length of a paper strip round the pipe: " + length(strip_.girth_mm);
    out += fmt::format(
        "</b> = pi x ({:.2f} mm surface diameter + {:.2f} mm paper); {}.{} Paper changes nothing "
        "along the pipe.</p>\n",
        strip_.surface_diameter_mm, strip_.paper_thickness_mm, coating(),
        job_.pipe.across_m ? " Oval pipe: diameter of equal girth." : "");
    const auto cautions = std::ranges::count_if(
        plan_.findings, [](const Finding& one) { return one.severity == Severity::caution; });
    if (cautions > 0) {
      out += fmt::format(
          "<p>The plan has {} {}: read the setup sheet before you use this paper.</p>\n", cautions,
          cautions == 1 ? "caution" : "cautions");
    }
    return out;
  }

  // ------------------------------------------------------------ steps

  static std::string item(std::string_view text) { return fmt::format("<li>{}</li>\n", text); }

  std::string steps() const {
    if (!strip_.whole) return positions() + folding_steps();
    // On a page of its own there is room for those who do without paper.
    return whole_steps() + (strip_.pages > 1 ? positions() : "");
  }

  std::string print_step() const {
    return item(
        "Print at 100 %, not fitted to the page. Measure both rulers on every page with a steel "
        "rule; if one is off by more than 0.5 mm, don't use the paper.");
  }

  bool glued() const {
    return std::ranges::any_of(strip_.pieces,
                               [](const WrapPiece& one) { return one.tiles.size() > 1; });
  }

  std::string glue_step() const {
    if (!glued()) return item("Cut along the outline.");
    return item(
        fmt::format("Cut along the outlines. Glue the tiles by row and column: the cut edge of one "
                    "on the dash-dotted line of the other ({:.0f} mm overlap), so that the half "
                    "crosses on the edge complete the crosses on the line. Then measure A to B "
                    "again.",
                    wrap_overlap_mm));
  }

  std::string girth_check() const {
    return fmt::format(
        "More than {} off: it is not the pipe that was planned; measure the girth "
        "and plan again",
        length(strip_.girth_tolerance_mm));
  }

  std::string align() const {
    if (!strip_.by_clock) {
      return "turn it until the line of A lies on the landmark";
    }
    return "find the crown with a level laid across the pipe and put the crown line on it";
  }

  std::string transfer_step() const {
    return item(fmt::format(
        "Mark through the crosses (prick or cut them out) and at both ends of the sensor "
        "{}. Take the paper off, draw the {} along the pipe with a straight edge, and measure A to "
        "B along the pipe: {}, to +- {}.",
        strip_.same_side ? "line" : "lines", strip_.same_side ? "line" : "lines", spacing(),
        length(plan_.mounting_tolerance_m * 1e3)));
  }

  std::string whole_steps() const {
    std::string out = "<ol>\n" + print_step() + glue_step();
    out += item("On a clean pipe wrap the strip round, print outside, the arrow with the flow; " +
                align() + ". The ends of the paper must be flush: then the lines run straight.");
    out += item("The start edge must lie on the end line. " + girth_check() +
                ". Tape over the seam at both ends, where it says so.");
    return out + transfer_step() + "</ol>\n";
  }

  // ------------------------------------------------------------ larger than the paper

  /// The shorter way round from where the strip starts, in words.
  std::string round_words(double clock_h) const {
    double share = std::fmod(clock_h - strip_.seam_clock_h + 12, 12) / 12;
    const bool clockwise = share <= 0.5;
    if (!clockwise) share = 1 - share;
    return length(share * strip_.tape_girth_mm) + (share == 0 || share == 0.5 ? ""
                                                   : clockwise                ? ", clockwise"
                                                                              : ", anticlockwise");
  }

  std::string positions() const {
    struct Row {
      std::string what;
      double clock_h;
    };
    std::vector<Row> rows;
    const std::string from = !strip_.by_clock           ? "landmark line"
                             : strip_.seam_clock_h < 12 ? clock_words(strip_.seam_clock_h)
                                                        : "crown line";
    if (strip_.by_clock) {
      rows.push_back({"A: " + clock_words(strip_.a_clock_h), strip_.a_clock_h});
      if (strip_.same_side) {
        rows.front().what = "A and B: " + clock_words(strip_.a_clock_h);
      } else {
        rows.push_back({"B: " + clock_words(strip_.b_clock_h), strip_.b_clock_h});
      }
      rows.push_back({"6 o'clock", 6});
    }
    std::string out =
        "<table>\n<tr><th>Round the surface, by tape</th><th>from the " + from + "</th></tr>\n";
    for (const Row& row : rows) {
      out += "<tr><td>" + row.what + "</td><td>" + round_words(row.clock_h) + "</td></tr>\n";
    }
    if (!strip_.by_clock) {
      out += fmt::format("<tr><td>{}</td><td>{}</td></tr>\n",
                         strip_.same_side ? "A and B: on it" : "A: on it", length(0));
      out += fmt::format("<tr><td>{}</td><td>{}</td></tr>\n",
                         strip_.same_side ? "opposite line" : "B: opposite line",
                         length(strip_.tape_girth_mm / 2));
    }
    out += "<tr><td>once round</td><td>" + length(strip_.tape_girth_mm) + "</td></tr>\n</table>\n";
    if (strip_.by_clock) out += "<p>Clockwise: looking with the flow.</p>\n";
    return out;
  }

  std::string folding_steps() const {
    std::string out = "<ol>\n" + print_step() + glue_step();
    out += item(
        "The pipe is larger than the paper. Wrap any long strip with straight edges (paper roll, "
        "adhesive tape) round the clean pipe, edges flush, and cut it where it meets "
        "itself. " +
        girth_check() + ".");
    out += item(fold_words());
    out += item(
        "Wrap it again at A's level with its start on the " +
        std::string(strip_.by_clock ? "crown (by a level laid across the pipe)" : "landmark") +
        ". Mark the folds or the distances of the table, and draw a line round the pipe along the "
        "strip's edge: square to the axis. Slide the strip along the pipe past B, edges flush "
        "again, "
        "mark there too, and join the marks to lines along the pipe.");
    out += item(panel_words());
    return out + transfer_step() + "</ol>\n";
  }

  std::string fold_words() const {
    if (!strip_.by_clock) {
      return "Fold it end to end: the fold is the opposite line, half the girth away.";
    }
    return "Fold it end to end: with its ends on the crown the fold is 6 o'clock. Fold both halves "
           "again: the new folds are 3 and 9 o'clock" +
           std::string(std::fmod(strip_.a_clock_h, 3) == 0
                           ? "."
                           : "; the sensor lines lie between, see the table.");
  }

  std::string panel_words() const {
    const std::string panel_a =
        strip_.same_side ? "" : "Lay panel A on A's line, its dashed level on the line round. ";
    if (!strip_.spacing_drawn) {
      return fmt::format(
          "Lay panel A on {0} line with its dashed level on the line round the pipe. From that "
          "line measure {1} {2} with a steel tape along {3} line; there lay panel B's level.",
          strip_.same_side ? "the sensor" : "A's", spacing(),
          strip_.spacing_mm < 0 ? "UPSTREAM" : "downstream",
          strip_.same_side ? "the sensor" : "B's");
    }
    if (strip_.same_side) {
      return "Lay the band on the sensor line, the arrow with the flow, A's dashed level on the "
             "line round the pipe.";
    }
    return panel_a +
           "Lay the band to B on B's line, arrow with the flow, its bold line on the line round "
           "the pipe.";
  }

  const ResolvedJob& job_;
  const Plan& plan_;
  const WrapStrip& strip_;
  UnitSystem first_;
};

}  // namespace

std::string wrap_sheet(const PlannedVariant& variant, const WrapStrip& strip,
                       const Display& display) {
  return WrapPages(variant, strip, display).html();
}

}  // namespace slantrule
