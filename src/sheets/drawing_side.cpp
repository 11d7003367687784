#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "drawing_parts.hpp"

namespace slantrule {
namespace {

// Where along the picture things lie: the flow arrow, then the pipe; labels of A and B need room
// beyond the bodies.
constexpr double pipe_left = 16, pipe_right = 110;
constexpr double pair_left = 24, pair_right = 80;
constexpr double most_pipe_height = 50;

class SideView {
 public:
  SideView(const PlannedVariant& variant, const Display& display, const DrawnResponse& response)
      : job_(variant.job),
        plan_(variant.plan),
        variant_(variant),
        display_(display),
        response_(response),
        layers_(drawn_layers(variant, display)),
        body_(drawn_body(variant.job.sensors)),
        exit_m_(variant.plan.path->ray.exit_spacing_m),
        outer_m_(outer_diameter_m(variant)) {
    const double setback_m = job_.sensors.setback_m;
    const double left_m = std::min({-body_.rear_m, -setback_m, exit_m_ + setback_m});
    const double right_m = std::max({exit_m_ + body_.rear_m, exit_m_ + setback_m, -setback_m});
    scale_ = std::min((pair_right - pair_left) / (right_m - left_m), most_pipe_height / outer_m_);
    exit_x_ = (pair_left + pair_right) / 2 - scale_ * (left_m + right_m) / 2;
  }

  View draw() {
    rows_above();
    pipe();
    bodies();
    ray();
    marks();
    labels();
    double end = rows_below();
    if (issued()) {
      end = draw_response(canvas_, end, axis(), response_, display_);
    }
    end = draw_detail(canvas_, end + 2, scale_, variant_, display_);
    return {side_view_width, end + 2, canvas_.content()};
  }

 private:
  /// On a stop, and while candidates are open, nothing is dimensioned.
  bool issued() const { return plan_.verdict != Verdict::stop && variant_.what.empty(); }
  bool same_side() const { return plan_.same_side(); }
  double x(double along_m) const { return exit_x_ + scale_ * along_m; }
  double y(double across_m) const { return face_ + scale_ * across_m; }
  double mark_a() const { return x(-job_.sensors.setback_m); }
  double mark_b() const { return x(exit_m_ + job_.sensors.setback_m); }
  double front_a() const { return x(body_.front_m); }
  double front_b() const { return x(exit_m_ - body_.front_m); }
  bool gap_shown() const { return issued() && same_side() && plan_.path->face_gap_m.has_value(); }
  SpacingAxis axis() const {
    return {mark_a(), scale_, plan_.path->ray.mark_spacing_m, pipe_left, pipe_right};
  }

  /// Rows over the pipe from the top: title, mark spacing, face gap, bodies.
  void rows_above() {
    double top = row_height;
    canvas_.text({1, top}, "Side view, to scale " + scale_text(scale_ / 1e3) +
                               fmt::format(" when {:.0f} mm wide", side_view_width));
    if (issued()) {
      top += row_height + 1;
      spacing_label(top);
      spacing_line_ = top + 2;
      top = spacing_line_;
    } else {
      top += row_height;
      canvas_.text({1, top}, plan_.verdict == Verdict::stop
                                 ? "No spacing is issued: clear the stops first."
                                 : "No spacing is issued while candidates are open.");
    }
    if (gap_shown()) {
      top += row_height + 0.6;
      gap_label(top);
      gap_line_ = top + 2;
      top = gap_line_;
    }
    // The label of A stands on the pipe beside its body.
    face_ = top + 2 + std::max(scale_ * body_.height_m, letter_size);
  }

  void spacing_label(double baseline) {
    const double spacing_m = plan_.path->ray.mark_spacing_m;
    std::string words =
        "mark spacing " + setting_text(std::fabs(spacing_m), plan_.setting_step_m, display_);
    if (spacing_m < 0) words += ": marks cross, A's downstream of B's";
    const double half = text_width(words) / 2;
    const double middle =
        std::clamp((mark_a() + mark_b()) / 2, 1 + half, side_view_width - 1 - half);
    canvas_.text({middle, baseline}, words, Anchor::middle, true);
  }

  /// Between the fronts where it fits between the lines that pass, else beside them.
  void gap_label(double baseline) {
    const std::string gap = setting_text(*plan_.path->face_gap_m, plan_.setting_step_m, display_);
    const double from = std::min(front_a(), front_b()), to = std::max(front_a(), front_b());
    double left = 0, right = side_view_width;
    for (const double one : {mark_a(), mark_b()}) {
      if (one <= from) left = std::max(left, one);
      if (one >= to) right = std::min(right, one);
      if (one > from && one < to) left = right;  // a mark between the fronts: no room
    }
    const double middle = (from + to) / 2;
    const double most_right = std::max({from, to, mark_a(), mark_b()});
    for (const std::string& words : {"face gap " + gap, "gap " + gap}) {
      const double half = text_width(words) / 2;
      if (middle - half > left + 0.8 && middle + half < right - 0.8) {
        canvas_.text({middle, baseline}, words, Anchor::middle);
        return;
      }
      const double beside = most_right + 5.5;  // beyond heads that stand outside
      if (beside + 2 * half <= side_view_width - 0.5) {
        canvas_.text({beside, baseline}, words);
        canvas_.line({to, baseline + 2}, {beside + 2 * half, baseline + 2}, Pen::thin);
        return;
      }
    }
  }

  void pipe() {
    double depth_m = 0;
    for (const DrawnLayer& layer : layers_) {
      const double next_m = depth_m + layer.thickness_m;
      canvas_.band({pipe_left, y(depth_m)}, {pipe_right, y(next_m)}, layer.texture, "upper");
      canvas_.band({pipe_left, y(outer_m_ - next_m)}, {pipe_right, y(outer_m_ - depth_m)},
                   layer.texture, "lower");
      depth_m = next_m;
    }
    for (const double end : {pipe_left, pipe_right}) break_line(end);
    const double middle = y(outer_m_ / 2);
    canvas_.line({pipe_left, middle}, {pipe_right, middle}, Pen::centre);
    // The flow, entering.
    canvas_.line({2, middle}, {12, middle}, Pen::outline);
    canvas_.arrow_head({14, middle}, 1, 0);
    canvas_.text({2, middle + 1.4 + letter_size}, "flow");
  }

  /// The pipe goes on.
  void break_line(double at_x) {
    const double top = y(0), bottom = y(outer_m_), third = (bottom - top) / 3;
    const double jag = std::min(1.2, third / 4);
    const At points[] = {{at_x, top},
                         {at_x, top + third},
                         {at_x - jag, top + third + jag},
                         {at_x + jag, top + third + 3 * jag},
                         {at_x, top + third + 4 * jag},
                         {at_x, bottom}};
    canvas_.polyline(points, Pen::thin);
  }

  /// One body; `ahead` the way its front looks, `up` the way it stands off the pipe.
  void body(At exit, double ahead, double up) {
    const double angle = job_.sensors.wedge_angle_rad;
    const auto at = [&](double ahead_m, double up_m) {
      return At{exit.x + ahead * scale_ * ahead_m, exit.y - up * scale_ * up_m};
    };
    const double height_m = body_.height_m;
    const double nose_m = 0.35 * (body_.front_m + body_.rear_m);
    const At outline[] = {at(-body_.rear_m, 0), at(-body_.rear_m, height_m),
                          at(body_.front_m - nose_m, height_m), at(body_.front_m, 0.3 * height_m),
                          at(body_.front_m, 0)};
    canvas_.polygon(outline, body_.outline_known ? Pen::outline : Pen::dashed, Fill::pale);
    const At source = at(-body_.path_m * std::sin(angle), body_.path_m * std::cos(angle));
    const At way[] = {source, exit};
    canvas_.polyline(way, body_.path_known ? Pen::ray : Pen::dashed);
    const double half_m = body_.element_m / 2;
    if (half_m <= 0) return;
    const At element[] = {at(-body_.path_m * std::sin(angle) - half_m * std::cos(angle),
                             body_.path_m * std::cos(angle) - half_m * std::sin(angle)),
                          at(-body_.path_m * std::sin(angle) + half_m * std::cos(angle),
                             body_.path_m * std::cos(angle) + half_m * std::sin(angle))};
    canvas_.polyline(element, Pen::outline);
  }

  void bodies() {
    body({x(0), y(0)}, 1, 1);
    if (same_side()) {
      body({x(exit_m_), y(0)}, -1, 1);
    } else {
      body({x(exit_m_), y(outer_m_)}, -1, -1);
    }
  }

  void ray() {
    std::vector<At> corners;
    for (const At& corner : ray_corners_m(variant_, layers_)) {
      corners.push_back({x(corner.x), y(corner.y)});
    }
    canvas_.polyline(corners, Pen::ray, "ray");
    const At& from = corners[layers_.size()];
    const At& to = corners[layers_.size() + 1];
    if (std::hypot(to.x - from.x, to.y - from.y) > 8) {
      canvas_.arrow_head({(from.x + to.x) / 2, (from.y + to.y) / 2}, to.x - from.x, to.y - from.y);
    }
  }

  /// Extension and dimension lines; a mark's line starts at the face its sensor sits on.
  void marks() {
    if (!issued()) return;
    canvas_.line({mark_a(), y(0)}, {mark_a(), spacing_line_ - 0.6}, Pen::thin);
    canvas_.line({mark_b(), y(0)}, {mark_b(), spacing_line_ - 0.6}, Pen::thin);
    if (!same_side()) canvas_.line({mark_b(), y(outer_m_)}, {mark_b(), y(0)}, Pen::dashed);
    canvas_.dimension(mark_a(), mark_b(), spacing_line_);
    if (!gap_shown()) return;
    for (const double front : {front_a(), front_b()}) {
      canvas_.line({front, y(0)}, {front, gap_line_ - 0.6}, Pen::thin);
    }
    canvas_.dimension(front_a(), front_b(), gap_line_);
  }

  void labels() {
    const double rear_a = x(-body_.rear_m), rear_b = x(exit_m_ + body_.rear_m);
    const double left = std::min({rear_a, mark_a(), mark_b()}) - 1.5;
    const double right = std::max({rear_b, mark_a(), mark_b()}) + 1.5;
    canvas_.text({left, face_ - 1}, "A upstream", Anchor::end, true);
    canvas_.text({right, same_side() ? face_ - 1 : y(outer_m_) + 1 + 0.8 * letter_size},
                 "B downstream", Anchor::start, true);
  }

  /// Under the pipe: scale bar, and what is not as drawn. Returns the lower end.
  double rows_below() {
    double end = y(outer_m_) + 1;
    if (!same_side()) end += std::max(scale_ * body_.height_m, letter_size) + 1;
    end += row_height;
    scale_bar(end);
    end += row_height;
    canvas_.text({1, end}, body_.outline_known ? "Bodies: height and shape indicated, not to scale."
                                               : "Bodies: outline not known, indicated.");
    if (!body_.path_known) {
      end += row_height;
      canvas_.text({1, end}, "The way in the wedge is not known, indicated.");
    }
    if (job_.pipe.deposit_m > 0) {
      end += row_height;
      canvas_.text({1, end}, "Ray straight through the deposit, whose speed is not known.");
    }
    return end;
  }

  void scale_bar(double baseline) {
    const bool us = display_.units == UnitSystem::us;
    const double unit_m = us ? 0.0254 : 1e-3;
    double length = std::pow(10, std::floor(std::log10(40 / (scale_ * unit_m))));
    for (const double times : {5.0, 2.0}) {
      if (times * length * scale_ * unit_m <= 40) {
        length *= times;
        break;
      }
    }
    const double to = pipe_left + length * scale_ * unit_m;
    const double middle = baseline - 0.35 * letter_size;
    canvas_.line({pipe_left, middle}, {to, middle}, Pen::outline);
    for (const double end : {pipe_left, to}) {
      canvas_.line({end, middle - 1}, {end, middle + 1}, Pen::outline);
    }
    canvas_.text({to + 2, baseline}, fmt::format("{:g} {}", length, us ? "in" : "mm"));
  }

  const ResolvedJob& job_;
  const Plan& plan_;
  const PlannedVariant& variant_;
  const Display& display_;
  const DrawnResponse& response_;
  std::vector<DrawnLayer> layers_;
  DrawnBody body_;
  double exit_m_, outer_m_;
  double scale_ = 0;   ///< units per metre
  double exit_x_ = 0;  ///< of A's exit point
  double face_ = 0;    ///< y of the outer face on A's side
  double spacing_line_ = 0, gap_line_ = 0;
  SvgCanvas canvas_;
};

}  // namespace

std::optional<View> side_view(const PlannedVariant& variant, const Display& display,
                              const DrawnResponse& response) {
  if (!variant.plan.path) return std::nullopt;
  return SideView(variant, display, response).draw();
}

}  // namespace slantrule
