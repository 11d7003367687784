#pragma once

// What stands in one of our pictures: enough of SVG to look for overlaps and to measure.

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <iterator>
#include <regex>
#include <sstream>
#include <string>
#include <vector>

namespace slantrule::test {

struct Spot {
  double x = 0, y = 0;
};

struct Box {
  double left = 0, top = 0, right = 0, bottom = 0;

  bool meets(const Box& other) const {
    return left < other.right && other.left < right && top < other.bottom && other.top < bottom;
  }
};

struct Words {
  std::string text;
  Box box;
};

struct Stretch {
  Spot from, to;
};

struct Ring {
  Spot centre;
  double radius = 0;
};

struct NamedRect {
  std::string name;
  Box box;
};

struct Picture {
  double width = 0, height = 0;
  std::vector<Words> words;
  std::vector<Stretch> lines;  ///< lines, polylines, outlines of polygons
  std::vector<Ring> rings;
  std::vector<NamedRect> rects;
  std::vector<std::vector<Spot>> rays;       ///< polylines of class "ray"
  std::vector<std::vector<Spot>> responses;  ///< of class "response"
};

inline std::string attribute(const std::string& tag, const std::string& name) {
  std::smatch found;
  const std::regex pattern(" " + name + "=\"([^\"]*)\"");
  return std::regex_search(tag, found, pattern) ? found[1].str() : std::string();
}

inline double number_in(const std::string& tag, const std::string& name) {
  const std::string text = attribute(tag, name);
  INFO(tag << " " << name);
  REQUIRE(!text.empty());
  return std::stod(text);
}

inline std::vector<Spot> spots_of(const std::string& text) {
  std::vector<Spot> out;
  std::istringstream in(text);
  std::string pair;
  while (in >> pair) {
    const std::size_t comma = pair.find(',');
    out.push_back({std::stod(pair.substr(0, comma)), std::stod(pair.substr(comma + 1))});
  }
  return out;
}

inline std::string unescaped(std::string text) {
  const std::pair<const char*, const char*> entities[] = {
      {"&lt;", "<"}, {"&gt;", ">"}, {"&quot;", "\""}, {"&#39;", "'"}, {"&amp;", "&"}};
  for (const auto& [from, to] : entities) text = std::regex_replace(text, std::regex(from), to);
  return text;
}

/// Widths of the characters from blank to tilde in thousandths of the size: Adobe's font metrics of
/// Helvetica (Helvetica.afm), which Arial shares.
inline double helvetica_width(char c) {
  static constexpr int widths[] = {
      278,  278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278,
      556,  556, 556, 556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556,
      1015, 667, 667, 722, 722, 667, 611, 778, 722, 278, 500, 667, 556, 833, 722, 778,
      667,  778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469, 556,
      333,  556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556,
      556,  556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584};
  static_assert(std::size(widths) == '~' - ' ' + 1);
  const auto code = static_cast<unsigned char>(c);
  if ((code & 0xC0) == 0x80) return 0;  // goes on with the character before it
  return code >= ' ' && code <= '~' ? widths[code - ' '] / 1000.0 : 1.0;
}

inline Box box_of_words(const std::string& tag, const std::string& text, double size) {
  double width = 0;
  for (const char c : text) width += size * helvetica_width(c);
  // Bold is up to a tenth wider; other faces differ by some per cent.
  width *= attribute(tag, "font-weight").empty() ? 1.04 : 1.1;
  const double x = number_in(tag, "x"), y = number_in(tag, "y");
  const std::string anchor = attribute(tag, "text-anchor");
  const double left = anchor == "middle" ? x - width / 2 : anchor == "end" ? x - width : x;
  // Ascenders 0.73 and descenders 0.21 of the size.
  return {left, y - 0.73 * size, left + width, y + 0.21 * size};
}

inline Picture picture_of(const std::string& svg) {
  Picture out;
  std::smatch frame;
  REQUIRE(std::regex_search(svg, frame, std::regex("viewBox=\"0 0 ([0-9.]+) ([0-9.]+)\"")));
  out.width = std::stod(frame[1]);
  out.height = std::stod(frame[2]);
  std::smatch font;
  REQUIRE(std::regex_search(svg, font, std::regex("font-size=\"([0-9.]+)\"")));
  const double size = std::stod(font[1]);
  const auto join = [&](const std::vector<Spot>& spots, bool closed) {
    for (std::size_t i = 1; i < spots.size(); ++i) out.lines.push_back({spots[i - 1], spots[i]});
    if (closed && spots.size() > 2) out.lines.push_back({spots.back(), spots.front()});
  };
  const std::regex element("<(line|polyline|polygon|circle|rect|text)( [^>]*)>([^<]*)");
  for (std::sregex_iterator at(svg.begin(), svg.end(), element), end; at != end; ++at) {
    const std::string kind = (*at)[1], tag = (*at)[2];
    if (kind == "line") {
      out.lines.push_back({{number_in(tag, "x1"), number_in(tag, "y1")},
                           {number_in(tag, "x2"), number_in(tag, "y2")}});
    } else if (kind == "text") {
      const std::string text = unescaped((*at)[3]);
      out.words.push_back({text, box_of_words(tag, text, size)});
    } else if (kind == "circle") {
      out.rings.push_back({{number_in(tag, "cx"), number_in(tag, "cy")}, number_in(tag, "r")});
    } else if (kind == "rect") {
      const double x = number_in(tag, "x"), y = number_in(tag, "y");
      out.rects.push_back({attribute(tag, "class"),
                           {x, y, x + number_in(tag, "width"), y + number_in(tag, "height")}});
    } else {
      const std::vector<Spot> spots = spots_of(attribute(tag, "points"));
      join(spots, kind == "polygon");
      if (attribute(tag, "class") == "ray") out.rays.push_back(spots);
      if (attribute(tag, "class") == "response") out.responses.push_back(spots);
    }
  }
  return out;
}

/// Whether a stretch runs through a box (Liang and Barsky's clipping).
inline bool runs_through(const Stretch& stretch, const Box& box) {
  double from = 0, to = 1;
  const double dx = stretch.to.x - stretch.from.x, dy = stretch.to.y - stretch.from.y;
  const double p[] = {-dx, dx, -dy, dy};
  const double q[] = {stretch.from.x - box.left, box.right - stretch.from.x,
                      stretch.from.y - box.top, box.bottom - stretch.from.y};
  for (int i = 0; i < 4; ++i) {
    if (p[i] == 0) {
      if (q[i] < 0) return false;
      continue;
    }
    const double t = q[i] / p[i];
    if (p[i] < 0) {
      from = std::max(from, t);
    } else {
      to = std::min(to, t);
    }
  }
  return from < to;
}

inline bool runs_through(const Ring& ring, const Box& box) {
  const double near_x = std::clamp(ring.centre.x, box.left, box.right) - ring.centre.x;
  const double near_y = std::clamp(ring.centre.y, box.top, box.bottom) - ring.centre.y;
  const double far_x = std::max(ring.centre.x - box.left, box.right - ring.centre.x);
  const double far_y = std::max(ring.centre.y - box.top, box.bottom - ring.centre.y);
  return std::hypot(near_x, near_y) < ring.radius && std::hypot(far_x, far_y) > ring.radius;
}

}  // namespace slantrule::test
