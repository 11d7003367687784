#pragma once

/// A picture put together in SVG. Coordinates are those of the viewBox, y downwards. No ids and no
/// references, so that several pictures stand on one page; hatching is drawn line by line.

#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace slantrule {

struct At {
  double x, y;
};

enum class Pen {
  none,
  outline,  ///< edges of parts
  thin,     ///< leaders, extension and dimension lines
  hatch,    ///< hatching
  ray,      ///< the sound's way
  centre,   ///< dash-dot: axes and normals
  dashed,   ///< what is only indicated
  beam,     ///< long dashes: plane of the beam
  thick,    ///< elements, bars
};

enum class Fill { none, paper, pale, grey, ink };

enum class Anchor { start, middle, end };

/// How a layer is hatched; plain tones where it is too thin for that.
enum class Texture { coating, wall, liner, deposit };

/// Below this height a layer is drawn in a plain tone.
inline constexpr double least_hatched = 1.0;
Fill tone(Texture texture, bool hatched);

/// Height of letters, from which rows follow.
inline constexpr double letter_size = 3.6;
inline constexpr double row_height = 4.9;

/// Width that a text takes at most in a common sans-serif face.
double text_width(std::string_view text, double size = letter_size);

/// Cut at the end, with "...", to a width.
std::string text_within(std::string_view text, double width);

/// Broken at blanks into lines no wider than `width`, two at most.
std::vector<std::string> text_in_two(std::string_view text, double width);

class SvgCanvas {
 public:
  void line(At from, At to, Pen pen);
  void polyline(std::span<const At> points, Pen pen, std::string_view name = {});
  void polygon(std::span<const At> points, Pen pen, Fill fill);
  void circle(At centre, double radius, Pen pen, Fill fill);
  void text(At at, std::string_view words, Anchor anchor = Anchor::start, bool bold = false);

  /// A head at `tip`, pointing along (`dx`, `dy`).
  void arrow_head(At tip, double dx, double dy);
  /// A dimension line along x with heads at both ends, outside when there is no room inside.
  void dimension(double from_x, double to_x, double y);
  /// A layer as a horizontal band, open at its ends.
  void band(At top_left, At bottom_right, Texture texture, std::string_view name);

  /// What is drawn, without a picture's tags.
  const std::string& content() const { return content_; }

 private:
  std::string content_;
};

/// The opening tag of a picture; `alone` for a file of its own.
std::string svg_opening(double width, double height, std::string_view title, bool alone);

/// Four decimals at most.
std::string svg_number(double value);

}  // namespace slantrule
