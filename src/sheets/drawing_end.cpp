#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "drawing_parts.hpp"
#include "slantrule/planning/clock.hpp"

namespace slantrule {
namespace {

constexpr double pi = std::numbers::pi;
constexpr double radius = 17;  // of the pipe
constexpr double body_height = 6.4, body_width = 8;
constexpr double arc_radius = radius + 8;
constexpr double numeral_radius = radius + 12;
constexpr At centre{end_view_width / 2, 38.5};
constexpr double least_drawn = 0.7;  // of a layer
constexpr double zone_rad = pi / 4;  // from the vertical: sensors there are a stop

double angle_of(double clock_h) {
  return clock_h * pi / 6;
}

/// From the crown, clockwise.
At on_circle(double r, double angle_rad) {
  return {centre.x + r * std::sin(angle_rad), centre.y - r * std::cos(angle_rad)};
}

std::vector<At> arc(double r, double from_rad, double to_rad) {
  constexpr int steps = 48;
  std::vector<At> points;
  for (int i = 0; i <= steps; ++i) {
    points.push_back(on_circle(r, from_rad + (to_rad - from_rad) * i / steps));
  }
  return points;
}

class EndView {
 public:
  EndView(const PlannedVariant& variant, const Display& display)
      : job_(variant.job),
        plan_(variant.plan),
        display_(display),
        layers_(drawn_layers(variant, display)),
        outer_m_(outer_diameter_m(variant)) {
    vertical_ = job_.pipe.orientation == Orientation::vertical_up ||
                job_.pipe.orientation == Orientation::vertical_down;
  }

  View draw() {
    canvas_.text({1, row_height}, "End view, looking with the flow");
    rings();
    if (!vertical_) zones();
    sensors();
    if (!vertical_) numerals();
    legend();
    return {end_view_width, y_ + 2, canvas_.content()};
  }

 private:
  void rings() {
    double r = radius;
    for (const DrawnLayer& layer : layers_) {
      const double true_thickness = layer.thickness_m * 2 * radius / outer_m_;
      const double thickness = std::max(true_thickness, least_drawn);
      thickened_ = thickened_ || thickness > true_thickness;
      const bool hatched = thickness >= least_hatched;
      canvas_.circle(centre, r, Pen::outline, tone(layer.texture, hatched));
      if (hatched) hatch_ring(r, r - thickness, layer.texture);
      r -= thickness;
    }
    bore_ = r;
    canvas_.circle(centre, bore_, Pen::outline, Fill::paper);
  }

  /// Slanting lines across the ring.
  void hatch_ring(double outer, double inner, Texture texture) {
    if (texture != Texture::wall && texture != Texture::liner) return;
    constexpr double step = 1.7;
    const double rising = texture == Texture::wall ? 1 : -1;
    const double ux = std::sqrt(0.5), uy = -rising * std::sqrt(0.5);
    for (double off = -outer + step / 2; off < outer; off += step) {
      const auto at = [&](double along) {
        return At{centre.x - off * uy + along * ux, centre.y + off * ux + along * uy};
      };
      const double far = std::sqrt(outer * outer - off * off);
      if (std::fabs(off) >= inner) {
        canvas_.line(at(-far), at(far), Pen::hatch);
        continue;
      }
      const double near = std::sqrt(inner * inner - off * off);
      canvas_.line(at(-far), at(-near), Pen::hatch);
      canvas_.line(at(near), at(far), Pen::hatch);
    }
  }

  /// Gas at the crown, sediment at the invert, by lines across the bore.
  void zones() {
    const double edge = bore_ * std::cos(zone_rad);
    for (double depth = edge; depth < bore_; depth += 1.1) {
      const double half = std::sqrt(bore_ * bore_ - depth * depth);
      canvas_.line({centre.x - half, centre.y - depth}, {centre.x + half, centre.y - depth},
                   Pen::dashed);
      canvas_.line({centre.x - half, centre.y + depth}, {centre.x + half, centre.y + depth},
                   Pen::hatch);
    }
  }

  void numerals() {
    for (const int hour : {12, 3, 6, 9}) {
      At at = on_circle(numeral_radius, angle_of(hour));
      at.y += 0.35 * letter_size;
      canvas_.text(at, std::to_string(hour), Anchor::middle);
    }
  }

  /// A body with its letter, outside the pipe; the letter stands upright.
  void body(double angle, std::string_view letter, Pen pen) {
    const At outward{std::sin(angle), -std::cos(angle)};
    const At along{std::cos(angle), std::sin(angle)};
    const auto at = [&](double r, double aside) {
      return At{centre.x + r * outward.x + aside * along.x,
                centre.y + r * outward.y + aside * along.y};
    };
    const At corners[] = {at(radius, -body_width / 2), at(radius, body_width / 2),
                          at(radius + body_height, body_width / 2),
                          at(radius + body_height, -body_width / 2)};
    canvas_.polygon(corners, pen, Fill::paper);
    const At middle = at(radius + body_height / 2, 0);
    canvas_.text({middle.x, middle.y + 0.26 * letter_size}, letter, Anchor::middle, true);
  }

  void beam(double angle) {
    canvas_.line(on_circle(radius, angle), on_circle(radius, angle + pi), Pen::beam);
  }

  /// The way round from the crown to a sensor, the shorter one.
  void way_round(double clock_h, std::string_view letters) {
    const double hours = std::fmod(clock_h, 12);
    const double signed_h = hours <= 6 ? hours : hours - 12;
    if (signed_h != 0) {
      const double to = angle_of(signed_h);
      const std::vector<At> points = arc(arc_radius, 0, to);
      canvas_.polyline(points, Pen::thin);
      const double way = signed_h > 0 ? 1 : -1;
      canvas_.arrow_head(points.back(), way * std::cos(to), way * std::sin(to));
      canvas_.line(on_circle(crown_taken() ? radius + body_height : radius, 0),
                   on_circle(arc_radius + 1, 0), Pen::thin);
      canvas_.line(on_circle(radius + body_height, to), on_circle(arc_radius + 1, to), Pen::thin);
    }
    std::string words = fmt::format("{}: {} o'clock", letters, clock_text(clock_h));
    if (signed_h == 0) words += ", the crown";
    ways_.push_back(std::move(words));
    if (signed_h == 0) return;
    const double way_m = pi * outer_m_ * std::fabs(signed_h) / 12;
    ways_.push_back(setting_text(way_m, 1e-3, display_) + " round from crown");
  }

  /// A body stands on the crown.
  bool crown_taken() const {
    const auto at_crown = [](const std::optional<double>& clock_h) {
      return clock_h && std::cos(angle_of(*clock_h)) > std::cos(pi / 6);
    };
    return at_crown(plan_.clock_h) || (!plan_.same_side() && at_crown(plan_.other_clock_h));
  }

  void sensors() {
    const bool same = plan_.same_side();
    if (plan_.clock_h) {
      const double a = angle_of(*plan_.clock_h);
      beam(a);
      body(a, same ? "AB" : "A", Pen::outline);
      way_round(*plan_.clock_h, same ? "A, B behind it" : "A");
      if (!same && plan_.other_clock_h) {
        body(angle_of(*plan_.other_clock_h), "B", Pen::outline);
        way_round(*plan_.other_clock_h, "B");
      }
      return;
    }
    if (vertical_) {
      beam(0);
      body(0, same ? "AB" : "A", Pen::outline);
      if (!same) body(pi, "B", Pen::outline);
      ways_.push_back("A: " + (job_.site.clock_text.empty()
                                   ? std::string("a landmark of your choice")
                                   : job_text(job_.site.clock_text, display_)));
      ways_.push_back(same ? "B: behind A" : "B: half a girth from A");
      return;
    }
    beam(pi / 2);
    body(pi / 2, same ? "AB" : "A", Pen::dashed);
    body(-pi / 2, same ? "AB" : "B", Pen::dashed);
    ways_.push_back(same ? "A and B at 3 or both at 9 o'clock" : "A at 3 and B at 9, or A at 9");
  }

  // ------------------------------------------------------------ legend

  static constexpr double words_x = 9.5;

  void words(std::string_view text) {
    for (const std::string& one : text_in_two(text, end_view_width - 1 - words_x)) {
      canvas_.text({words_x, y_}, one);
      y_ += row_height;
    }
  }
  /// The middle of the sample left of the row that comes next.
  double sample_y() const { return y_ - 0.35 * letter_size; }

  void layer_row(const DrawnLayer& layer) {
    const double top = sample_y() - 1.4;
    canvas_.band({1, top}, {8, top + 2.8}, layer.texture, "sample");
    std::string text = std::string(layer.name) + " " + length_text(layer.thickness_m, display_);
    if (!layer.material.empty()) text += ", " + layer.material;
    words(text);
  }

  void legend() {
    y_ = centre.y + numeral_radius + 2.5 + row_height;
    for (const std::string& way : ways_) words(way);
    for (const DrawnLayer& layer : layers_) layer_row(layer);
    canvas_.line({1, sample_y()}, {8, sample_y()}, Pen::beam);
    words("plane of the beam");
    if (!vertical_) {
      for (const double off : {-1.1, 0.0, 1.1}) {
        canvas_.line({1, sample_y() + off}, {8, sample_y() + off}, Pen::dashed);
      }
      words("gas: no sensor here");
      for (const double off : {-1.1, 0.0, 1.1}) {
        canvas_.line({1, sample_y() + off}, {8, sample_y() + off}, Pen::hatch);
      }
      words("sediment: no sensor here");
    }
    words(thickened_ ? "Bodies, thin layers not to scale." : "Bodies not to scale.");
    y_ -= row_height;
  }

  const ResolvedJob& job_;
  const Plan& plan_;
  const Display& display_;
  std::vector<DrawnLayer> layers_;
  double outer_m_;
  double bore_ = 0;
  bool vertical_ = false, thickened_ = false;
  std::vector<std::string> ways_;
  double y_ = 0;
  SvgCanvas canvas_;
};

}  // namespace

View end_view(const PlannedVariant& variant, const Display& display) {
  return EndView(variant, display).draw();
}

}  // namespace slantrule
