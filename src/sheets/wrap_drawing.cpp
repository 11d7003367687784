#include "wrap_drawing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <vector>

#include "slantrule/planning/clock.hpp"
#include "slantrule/sheets/html_text.hpp"
#include "wrap_labels.hpp"

namespace slantrule {
namespace {

// Sizes on the paper, in millimetres.
constexpr double cross_arm_mm = 6;
constexpr double cross_ring_mm = 2.5;
constexpr double joint_arm_mm = 4;
constexpr double label_mm = 2.6;
constexpr double rim_mm = 1;

enum class Pen { cut, bold, sensor, level, dimension, joint, tick };

std::string_view pen_style(Pen pen) {
  switch (pen) {
    case Pen::cut:
      return "stroke-width=\".2\"";
    case Pen::bold:
      return "stroke-width=\".6\"";
    case Pen::sensor:
      return "stroke-width=\".35\"";
    case Pen::level:
      return "stroke-width=\".2\" stroke-dasharray=\"3 1.5\"";
    case Pen::dimension:
      return "stroke-width=\".2\"";
    case Pen::joint:
      return "stroke-width=\".3\" stroke-dasharray=\"6 1.5 1 1.5\"";
    case Pen::tick:
      return "stroke-width=\".25\"";
  }
  return {};
}

std::string side_words(double clock_h) {
  const double hours = std::fmod(clock_h, 12);
  const std::string side = hours == 0 || hours == 6 ? "" : hours < 6 ? " = RIGHT" : " = LEFT";
  return clock_text(clock_h) + " o'clock" + side;
}

/// One tile, drawn in paper coordinates and put on the page by a transformation.
class TileDrawing {
 public:
  TileDrawing(const WrapStrip& strip, const WrapPiece& piece, const WrapTile& tile,
              const WrapWords& words)
      : strip_(strip),
        piece_(piece),
        tile_(tile),
        words_(words),
        area_{tile.along_mm, tile.round_mm, tile.along_mm + tile.along_size_mm,
              tile.round_mm + tile.round_size_mm},
        places_({area_.along_mm + rim_mm, area_.round_mm + rim_mm, area_.along_end_mm - rim_mm,
                 area_.round_end_mm - rim_mm}) {}

  std::string draw() {
    cut_outline();
    levels();
    lines();
    joints();
    marks();
    dimension();
    taping();
    line_labels();
    quarter_ticks();
    dimension_label();
    identity();
    flow_arrow();
    return caption() + "<g transform=\"" + placing() + "\">\n" + out_ + labels_ + "</g>\n";
  }

 private:
  bool bound_to_whole() const { return piece_.kind == WrapPieceKind::whole; }

  std::string placing() const {
    const WrapPoint origin = wrap_on_page(piece_, tile_, 0, 0);
    return fmt::format("matrix({} {:.4f} {:.4f})", piece_.flow_up ? "0 -1 1 0" : "1 0 0 1",
                       origin.x_mm, origin.y_mm);
  }

  std::string caption() const {
    std::string_view name = "Strip";
    switch (piece_.kind) {
      case WrapPieceKind::whole:
        break;
      case WrapPieceKind::both_marks:
        name = "Band A to B";
        break;
      case WrapPieceKind::mark_a:
        name = "Panel A";
        break;
      case WrapPieceKind::mark_b:
        name = "Panel B";
        break;
      case WrapPieceKind::datum_to_b:
        name = "Band to B";
        break;
    }
    std::string text(name);
    if (piece_.rows * piece_.columns > 1) {
      text += fmt::format(": row {} of {}, column {} of {}", tile_.row + 1, piece_.rows,
                          tile_.column + 1, piece_.columns);
    }
    return fmt::format(
        "<text x=\"{:.2f}\" y=\"{:.2f}\" font-size=\"3\" font-weight=\"bold\">{}</text>\n",
        tile_.x_mm, tile_.y_mm - 1.3, text);
  }

  // ------------------------------------------------------------ strokes

  void stroke(Pen pen, double along_mm, double round_mm, double along_end_mm, double round_end_mm) {
    // Only what lies on this tile; all strokes run along or round.
    const double a = std::max(std::min(along_mm, along_end_mm), area_.along_mm);
    const double b = std::min(std::max(along_mm, along_end_mm), area_.along_end_mm);
    const double r = std::max(std::min(round_mm, round_end_mm), area_.round_mm);
    const double s = std::min(std::max(round_mm, round_end_mm), area_.round_end_mm);
    if (a > b || r > s || (a == b && r == s)) return;
    const std::string way = r == s ? fmt::format("H{:.4f}", b) : fmt::format("V{:.4f}", s);
    out_ += fmt::format("<path {} d=\"M{:.4f} {:.4f}{}\"/>\n", pen_style(pen), a, r, way);
  }
  void along_line(Pen pen, double round_mm) {
    stroke(pen, 0, round_mm, piece_.along_size_mm, round_mm);
  }
  void round_line(Pen pen, double along_mm, double from_mm, double to_mm) {
    stroke(pen, along_mm, from_mm, along_mm, to_mm);
  }

  void cut_outline() {
    out_ += fmt::format("<path {} d=\"M{:.4f} {:.4f}H{:.4f}V{:.4f}H{:.4f}Z\"/>\n",
                        pen_style(Pen::cut), area_.along_mm, area_.round_mm, area_.along_end_mm,
                        area_.round_end_mm, area_.along_mm);
  }

  /// Square to the axis through each mark.
  void levels() {
    const double to_mm = bound_to_whole() ? strip_.girth_mm : piece_.round_size_mm;
    for (const WrapMark& mark : piece_.marks) round_line(Pen::level, mark.along_mm, 0, to_mm);
    if (piece_.datum_along_mm) round_line(Pen::bold, *piece_.datum_along_mm, 0, to_mm);
  }

  void lines() {
    for (const WrapLine& line : piece_.lines) {
      const bool bold = line.kind == WrapLineKind::start || line.kind == WrapLineKind::end;
      along_line(bold                               ? Pen::bold
                 : line.kind == WrapLineKind::crown ? Pen::joint
                                                    : Pen::sensor,
                 line.round_mm);
      places_.take({0, line.round_mm - 0.7, piece_.along_size_mm, line.round_mm + 0.7});
    }
    if (piece_.datum_along_mm) {
      const double along_mm = *piece_.datum_along_mm;
      places_.take({along_mm - 0.7, 0, along_mm + 0.7, piece_.round_size_mm});
    }
  }

  void marks() {
    for (const WrapMark& mark : piece_.marks) {
      if (mark.along_mm < area_.along_mm || mark.along_mm > area_.along_end_mm ||
          mark.round_mm < area_.round_mm || mark.round_mm > area_.round_end_mm) {
        continue;
      }
      stroke(Pen::sensor, mark.along_mm - cross_arm_mm, mark.round_mm, mark.along_mm + cross_arm_mm,
             mark.round_mm);
      stroke(Pen::sensor, mark.along_mm, mark.round_mm - cross_arm_mm, mark.along_mm,
             mark.round_mm + cross_arm_mm);
      out_ += fmt::format("<circle {} cx=\"{:.4f}\" cy=\"{:.4f}\" r=\"{}\"/>\n",
                          pen_style(Pen::sensor), mark.along_mm, mark.round_mm, cross_ring_mm);
      places_.take({mark.along_mm - cross_arm_mm, mark.round_mm - cross_arm_mm,
                    mark.along_mm + cross_arm_mm, mark.round_mm + cross_arm_mm});
      mark_name(mark);
    }
  }

  /// The letter outside the pair, away from the partner.
  void mark_name(const WrapMark& mark) {
    const bool after = (mark.sensor == 'B') == (strip_.spacing_mm >= 0);
    constexpr double letter_mm = 6;
    const std::string letter(1, mark.sensor);
    const double width_mm = label_width_mm(letter, letter_mm, true);
    const double letter_along_mm =
        after ? mark.along_mm + cross_arm_mm + 1 : mark.along_mm - cross_arm_mm - 1 - width_mm;
    write_near(letter, letter_mm, true, letter_along_mm, mark.round_mm - letter_mm - 1, 12, 12);
    const std::string where = mark.sensor == 'A' ? "upstream" : "downstream";
    const double where_mm = label_width_mm(where, label_mm, false);
    write_near(
        where, label_mm, false,
        after ? mark.along_mm + cross_arm_mm + 1 : mark.along_mm - cross_arm_mm - 1 - where_mm,
        mark.round_mm + 1.2, 14, 14);
  }

  // ------------------------------------------------------------ joints

  /// Where the next tile is laid on this one: a dash-dotted line with crosses. This tile's own cut
  /// edge carries the other half of its neighbour's crosses.
  void joints() {
    const auto crosses = [](double from_mm, double to_mm, const auto& cross) {
      for (const double share : {0.2, 0.5, 0.8}) cross(from_mm + share * (to_mm - from_mm));
    };
    const double along_joint_mm = area_.along_end_mm - wrap_overlap_mm;
    const double round_joint_mm = area_.round_end_mm - wrap_overlap_mm;
    const bool along_goes_on = area_.along_end_mm < piece_.along_size_mm - 1e-6;
    const bool round_goes_on = area_.round_end_mm < piece_.round_size_mm - 1e-6;
    const auto along_crosses = [&](double along_mm) {
      crosses(area_.round_mm, area_.round_end_mm, [&](double round_mm) {
        stroke(Pen::tick, along_mm - joint_arm_mm, round_mm, along_mm + joint_arm_mm, round_mm);
        stroke(Pen::tick, along_mm, round_mm - joint_arm_mm, along_mm, round_mm + joint_arm_mm);
        places_.take({along_mm - joint_arm_mm, round_mm - joint_arm_mm, along_mm + joint_arm_mm,
                      round_mm + joint_arm_mm});
      });
    };
    const auto round_crosses = [&](double round_mm) {
      crosses(area_.along_mm, area_.along_end_mm, [&](double along_mm) {
        stroke(Pen::tick, along_mm - joint_arm_mm, round_mm, along_mm + joint_arm_mm, round_mm);
        stroke(Pen::tick, along_mm, round_mm - joint_arm_mm, along_mm, round_mm + joint_arm_mm);
        places_.take({along_mm - joint_arm_mm, round_mm - joint_arm_mm, along_mm + joint_arm_mm,
                      round_mm + joint_arm_mm});
      });
    };
    if (along_goes_on) {
      round_line(Pen::joint, along_joint_mm, area_.round_mm, area_.round_end_mm);
      along_crosses(along_joint_mm);
    }
    if (round_goes_on) {
      stroke(Pen::joint, area_.along_mm, round_joint_mm, area_.along_end_mm, round_joint_mm);
      round_crosses(round_joint_mm);
    }
    if (area_.along_mm > 1e-6) along_crosses(area_.along_mm);
    if (area_.round_mm > 1e-6) round_crosses(area_.round_mm);
    if (along_goes_on) along_joint_words(along_joint_mm);
    if (round_goes_on) round_joint_words(round_joint_mm);
    // What lies under the neighbour is no place for other words.
    if (along_goes_on) {
      places_.take({along_joint_mm - 0.5, area_.round_mm, area_.along_end_mm, area_.round_end_mm});
    }
    if (round_goes_on) {
      places_.take({area_.along_mm, round_joint_mm - 0.5, area_.along_end_mm, area_.round_end_mm});
    }
  }

  /// The tile that begins at the joint: the flow upwards turns rows round.
  std::string neighbour(bool along) const {
    if (along && piece_.flow_up) return fmt::format("row {}", tile_.row);
    if (along || piece_.flow_up) return fmt::format("column {}", tile_.column + 2);
    return fmt::format("row {}", tile_.row + 2);
  }
  std::string joint_words(bool along) const {
    return "glue: edge of " + neighbour(along) + " here";
  }

  void round_joint_words(double round_mm) {
    write_near(joint_words(false), label_mm, false, area_.along_mm + 0.2 * tile_.along_size_mm,
               round_mm + 4, 40, 2);
  }

  void along_joint_words(double along_mm) {
    // Beside the line, reading round the pipe.
    const std::string text = joint_words(true);
    const double width_mm = label_width_mm(text, label_mm, false);
    const auto box = places_.find(label_mm * 1.2, width_mm, along_mm + 4,
                                  area_.round_mm + 0.2 * tile_.round_size_mm, 2, 40);
    if (!box) return;
    labels_ += fmt::format(
        "<text transform=\"translate({:.2f} {:.2f}) rotate(90)\" font-size=\"{}\">{}</text>\n",
        box->along_mm + 0.3 * label_mm, box->round_mm, label_mm, text);
  }

  // ------------------------------------------------------------ words

  void put_text(std::string_view text, double size_mm, bool bold, const PaperBox& box) {
    // The dashed level lines end at words.
    labels_ += fmt::format(
        "<rect fill=\"#fff\" stroke=\"none\" x=\"{:.2f}\" y=\"{:.2f}\" width=\"{:.2f}\" "
        "height=\"{:.2f}\"/>\n<text x=\"{:.2f}\" y=\"{:.2f}\" font-size=\"{}\"{}>{}</text>\n",
        box.along_mm, box.round_mm, box.along_end_mm - box.along_mm, 1.15 * size_mm, box.along_mm,
        box.round_mm + 0.85 * size_mm, size_mm, bold ? " font-weight=\"bold\"" : "",
        html_text(text));
  }

  /// Writes as near as can be to the wished left upper corner; false when there is no room.
  bool write_near(std::string_view text, double size_mm, bool bold, double along_mm,
                  double round_mm, double along_reach_mm, double round_reach_mm) {
    const auto box = places_.find(label_width_mm(text, size_mm, bold), 1.15 * size_mm, along_mm,
                                  round_mm, along_reach_mm, round_reach_mm);
    if (box) put_text(text, size_mm, bold, *box);
    return box.has_value();
  }

  /// What a line is called, the fullest name first.
  std::vector<std::string> line_names(WrapLineKind kind) const {
    const std::string at =
        strip_.by_clock ? clock_text(strip_.seam_clock_h) + " o'clock" : std::string();
    switch (kind) {
      case WrapLineKind::start:
        if (!strip_.by_clock) return {"START edge, a quarter before the landmark", "START edge"};
        if (strip_.seam_clock_h < 12) return {"START edge, " + at};
        return {"START edge = CROWN line, " + at, "START = CROWN line"};
      case WrapLineKind::end:
        return {"END line: start edge must meet it", "END line"};
      case WrapLineKind::crown:
        return {"CROWN line, 12 o'clock"};
      case WrapLineKind::both_sensors:
        if (!strip_.by_clock) return {"LANDMARK line = line of A and B", "LANDMARK line"};
        return {"line of A and B, " + side_words(strip_.a_clock_h),
                "A and B, " + clock_text(strip_.a_clock_h) + " o'clock"};
      case WrapLineKind::sensor_a:
        if (!strip_.by_clock) return {"LANDMARK line = line of A", "LANDMARK line"};
        return {"line of A, " + side_words(strip_.a_clock_h), "line of A"};
      case WrapLineKind::sensor_b:
        if (!strip_.by_clock) return {"line of B, OPPOSITE A"};
        return {"line of B, OPPOSITE A, " + side_words(strip_.b_clock_h), "line of B, OPPOSITE A"};
    }
    return {};
  }

  void line_labels() {
    // A panel is too short for words between its cross and its ends: they stand farther off.
    const double reach_mm = bound_to_whole() ? 3 : 10;
    for (const WrapLine& line : piece_.lines) {
      if (line.round_mm < area_.round_mm - 1e-6 || line.round_mm > area_.round_end_mm + 1e-6) {
        continue;
      }
      for (const std::string& text : line_names(line.kind)) {
        const double width_mm = label_width_mm(text, label_mm, false);
        const bool below = line.kind == WrapLineKind::start;
        const double middle_mm = (area_.along_mm + area_.along_end_mm - width_mm) / 2;
        if (write_near(text, label_mm, false, middle_mm,
                       below ? line.round_mm + 1.1 : line.round_mm - 1.15 * label_mm - 0.8,
                       tile_.along_size_mm / 2, reach_mm)) {
          break;
        }
      }
    }
    if (piece_.datum_along_mm && *piece_.datum_along_mm < area_.along_end_mm) {
      write_near("level of A's mark: lay this line on the line round the pipe", label_mm, false,
                 *piece_.datum_along_mm + 2, area_.round_mm + 12, 30, 30);
    }
  }

  /// Ticks at both ends for the other quarters of the clock.
  void quarter_ticks() {
    if (!bound_to_whole() || !strip_.by_clock) return;
    for (const double clock_h : {3.0, 6.0, 9.0}) {
      const double round_mm =
          strip_.girth_mm * std::fmod(clock_h - strip_.seam_clock_h + 12, 12) / 12;
      const bool taken = std::ranges::any_of(piece_.lines, [&](const WrapLine& line) {
        return std::fabs(line.round_mm - round_mm) < 5;
      });
      if (taken) continue;
      constexpr double tick_mm = 6;
      const double end_mm = piece_.along_size_mm;
      stroke(Pen::tick, 0, round_mm, tick_mm, round_mm);
      stroke(Pen::tick, end_mm - tick_mm, round_mm, end_mm, round_mm);
      places_.take({0, round_mm - 0.7, tick_mm, round_mm + 0.7});
      places_.take({end_mm - tick_mm, round_mm - 0.7, end_mm, round_mm + 0.7});
      const std::string text = clock_text(clock_h) + " o'clock";
      const double width_mm = label_width_mm(text, label_mm, false);
      write_near(text, label_mm, false, tick_mm + 1, round_mm - label_mm / 2, 1, 1);
      write_near(text, label_mm, false, end_mm - tick_mm - 1 - width_mm, round_mm - label_mm / 2, 1,
                 1);
    }
  }

  // ------------------------------------------------------------ the spacing

  struct Dimension {
    double from_mm, to_mm, round_mm;
  };
  std::optional<Dimension> dimensioned() const {
    const bool both = piece_.marks.size() == 2;
    if (!both && !piece_.datum_along_mm) return std::nullopt;
    const double a_mm = both ? piece_.marks[0].along_mm : *piece_.datum_along_mm;
    return Dimension{std::min(a_mm, piece_.marks.back().along_mm),
                     std::max(a_mm, piece_.marks.back().along_mm),
                     piece_.marks.front().round_mm + wrap_dimension_off_mm};
  }

  void dimension() {
    const auto where = dimensioned();
    if (!where || where->round_mm < area_.round_mm || where->round_mm > area_.round_end_mm) return;
    stroke(Pen::dimension, where->from_mm, where->round_mm, where->to_mm, where->round_mm);
    places_.take({where->from_mm, where->round_mm - 1.2, where->to_mm, where->round_mm + 1.2});
    const double arrow_mm = std::min(3.0, 0.4 * (where->to_mm - where->from_mm));
    for (const double tip_mm : {where->from_mm, where->to_mm}) {
      if (tip_mm < area_.along_mm || tip_mm > area_.along_end_mm) continue;
      const double back_mm = tip_mm + (tip_mm == where->from_mm ? arrow_mm : -arrow_mm);
      out_ += fmt::format(
          "<path fill=\"#000\" stroke=\"none\" d=\"M{:.3f} {:.3f}L{:.3f} {:.3f}L{:.3f} "
          "{:.3f}Z\"/>\n",
          tip_mm, where->round_mm, back_mm, where->round_mm - 0.8, back_mm, where->round_mm + 0.8);
    }
  }

  void dimension_label() {
    const auto where = dimensioned();
    if (!where || where->round_mm < area_.round_mm || where->round_mm > area_.round_end_mm) return;
    const double middle_mm =
        std::clamp((where->from_mm + where->to_mm) / 2, area_.along_mm, area_.along_end_mm);
    const std::string text = "A to B  " + words_.spacing;
    constexpr double size_mm = 3;
    const double width_mm = label_width_mm(text, size_mm, true);
    write_near(text, size_mm, true, middle_mm - width_mm / 2, where->round_mm + 1.5,
               tile_.along_size_mm / 2, 12);
  }

  // ------------------------------------------------------------ what it is

  void taping() {
    if (!bound_to_whole()) return;
    constexpr double long_mm = 14, wide_mm = 7, off_mm = 2;
    const auto tape = [&](double along_mm) {
      // Over the start edge and what lies beneath it: half of the tape is on the strip.
      const PaperBox box{along_mm, 0.7, along_mm + long_mm, wide_mm};
      if (!places_.is_free({box.along_mm, rim_mm, box.along_end_mm, wide_mm})) return;
      places_.take(box);
      out_ += fmt::format(
          "<rect stroke-width=\".2\" stroke-dasharray=\"1 1\" x=\"{:.2f}\" y=\"{:.2f}\" "
          "width=\"{}\" height=\"{:.2f}\"/>\n",
          box.along_mm, box.round_mm, long_mm, wide_mm - 0.7);
      put_text("tape", label_mm, false,
               {along_mm + 3.5, box.round_mm + 1.7, along_mm + long_mm, wide_mm});
    };
    if (area_.round_mm > 1e-6) return flap_words();
    tape(off_mm);
    tape(piece_.along_size_mm - off_mm - long_mm);
    flap_words();
  }

  void flap_words() {
    if (area_.round_end_mm < piece_.round_size_mm - 1e-6) return;
    const std::string text = "flap: goes under the start edge";
    const double width_mm = label_width_mm(text, label_mm, false);
    write_near(text, label_mm, false, (area_.along_mm + area_.along_end_mm - width_mm) / 2,
               strip_.girth_mm + 5, tile_.along_size_mm / 2, 3);
  }

  void identity() {
    const double middle_along_mm = (area_.along_mm + area_.along_end_mm) / 2;
    const double middle_round_mm = (area_.round_mm + area_.round_end_mm) / 2;
    const auto write = [&](const std::string& text, double size_mm, bool bold) {
      const double width_mm = label_width_mm(text, size_mm, bold);
      return write_near(text, size_mm, bold, middle_along_mm - width_mm / 2, middle_round_mm + 8,
                        tile_.along_size_mm / 2, tile_.round_size_mm / 2);
    };
    if (words_.invented && !write("TRAINING DATA, do not mount", 3.4, true)) {
      write("TRAINING DATA, do not mount", label_mm, false);
    }
    if (!words_.tag.empty()) write(words_.tag, label_mm, false);
    if (!strip_.spacing_drawn) {
      write("A to B by steel tape:", label_mm, false);
      write(words_.spacing, label_mm, false);
    }
    if (strip_.spacing_mm < 0) {
      write("MARKS CROSS: A's mark lies downstream of B's", label_mm, false);
    }
  }

  void flow_arrow() {
    constexpr double high_mm = 7;
    for (const double long_mm : {44.0, 30.0, 22.0}) {
      const auto box =
          places_.find(long_mm, high_mm, (area_.along_mm + area_.along_end_mm - long_mm) / 2,
                       (area_.round_mm + area_.round_end_mm) / 2 - high_mm - 2,
                       tile_.along_size_mm / 2, tile_.round_size_mm / 2);
      if (!box) continue;
      const double middle_mm = box->round_mm + high_mm / 2;
      const double head_mm = box->along_end_mm - 6;
      constexpr double word_mm = 12;  // "FLOW" stands in front of the shaft
      put_text("FLOW", 3, true,
               {box->along_mm, middle_mm - 1.5, box->along_mm + word_mm - 1, middle_mm + 2});
      out_ += fmt::format(
          "<path fill=\"#000\" stroke=\"none\" d=\"M{0:.3f} {1:.3f}H{2:.3f}V{3:.3f}L{4:.3f} "
          "{5:.3f}L{2:.3f} {6:.3f}V{7:.3f}H{0:.3f}Z\"/>\n",
          box->along_mm + word_mm, middle_mm - 0.8, head_mm, middle_mm - 3, box->along_end_mm,
          middle_mm, middle_mm + 3, middle_mm + 0.8);
      return;
    }
  }

  const WrapStrip& strip_;
  const WrapPiece& piece_;
  const WrapTile& tile_;
  const WrapWords& words_;
  PaperBox area_;
  LabelPlaces places_;
  std::string out_, labels_;
};

std::string svg(double width_mm, double height_mm, std::string_view content) {
  return fmt::format(
      "<svg width=\"{0:.4f}mm\" height=\"{1:.4f}mm\" viewBox=\"0 0 {0:.4f} {1:.4f}\" fill=\"none\" "
      "stroke=\"#000\">\n{2}</svg>\n",
      width_mm, height_mm, content);
}

/// A ruler with its figures, from left to right.
std::string ruler(double y_mm, double length_mm, int parts, int per_figure, double part_mm,
                  bool ticks_up, std::string_view unit) {
  const double way = ticks_up ? -1 : 1;
  std::string out =
      fmt::format("<path stroke-width=\".25\" d=\"M1 {0:.3f}H{1:.3f}\"/>\n", y_mm, 1 + length_mm);
  std::string ticks;
  for (int i = 0; i <= parts; ++i) {
    const double size_mm = i % per_figure == 0 ? 3 : i * 2 % per_figure == 0 ? 2.2 : 1.3;
    ticks += fmt::format("M{:.4f} {:.3f}v{:.2f}", 1 + i * part_mm, y_mm, way * size_mm);
  }
  out += "<path stroke-width=\".12\" d=\"" + ticks + "\"/>\n";
  for (int i = 0; i <= parts; i += per_figure) {
    const bool last = i + per_figure > parts;
    const double number = unit == "mm" ? i * part_mm : i * part_mm / 25.4;
    out += fmt::format("<text x=\"{:.2f}\" y=\"{:.2f}\" font-size=\"2.3\"{}>{:.0f}{}</text>\n",
                       1 + i * part_mm + (i == 0 ? 0 : -1.3), y_mm + (ticks_up ? -3.4 : 5.2), "",
                       number, last ? " " + std::string(unit) : "");
  }
  return out;
}

}  // namespace

std::string wrap_length_text(double length_mm, int decimals, UnitSystem first) {
  const std::string metric = fmt::format("{:.{}f} mm", length_mm, decimals);
  const std::string inches = fmt::format("{:.2f} in", length_mm / 25.4);
  return first == UnitSystem::us ? inches + " (" + metric + ")" : metric + " (" + inches + ")";
}

std::string wrap_rulers(const Paper& paper) {
  std::string out = ruler(6.2, 100, 100, 10, 1, true, "mm");
  out += ruler(7, 101.6, 32, 8, 3.175, false, "in");
  constexpr double words_mm = 112;
  const std::array<std::string_view, 3> lines{
      "Measure these before you trust the paper:", "100 mm and 4 in, to half a millimetre.",
      "Print at 100 %, no fit to page."};
  for (std::size_t i = 0; i < lines.size(); ++i) {
    out += fmt::format("<text x=\"{}\" y=\"{:.1f}\" font-size=\"2.9\"{}>{}</text>\n", words_mm,
                       3.4 + 3.8 * static_cast<double>(i), i == 2 ? " font-weight=\"bold\"" : "",
                       lines[i]);
  }
  return svg(wrap_drawing_size(paper, false).width_mm, 12.7, out);
}

std::string wrap_page_drawing(const WrapStrip& strip, int page, const WrapWords& words) {
  std::string out;
  for (const WrapPiece& piece : strip.pieces) {
    for (const WrapTile& tile : piece.tiles) {
      if (tile.page == page) out += TileDrawing(strip, piece, tile, words).draw();
    }
  }
  if (out.empty()) return {};
  const WrapDrawingSize size = wrap_drawing_size(strip.paper, page == 0);
  return svg(size.width_mm, size.height_mm, out);
}

}  // namespace slantrule
