#include "svg_canvas.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "slantrule/sheets/html_text.hpp"
#include "slantrule/sheets/text_layout.hpp"

namespace slantrule {
namespace {

/// Presentation of a pen, written into each element: a style sheet would reach other pictures.
std::string_view pen_attributes(Pen pen) {
  switch (pen) {
    case Pen::none:
      return R"(stroke="none")";
    case Pen::outline:
      return R"(stroke="#111" stroke-width="0.35")";
    case Pen::thin:
      return R"(stroke="#111" stroke-width="0.2")";
    case Pen::hatch:
      return R"(stroke="#444" stroke-width="0.16")";
    case Pen::ray:
      return R"(stroke="#0b4a86" stroke-width="0.6" stroke-linejoin="round")";
    case Pen::centre:
      return R"(stroke="#111" stroke-width="0.18" stroke-dasharray="4 1 0.8 1")";
    case Pen::dashed:
      return R"(stroke="#111" stroke-width="0.25" stroke-dasharray="1.4 0.9")";
    case Pen::beam:
      return R"(stroke="#0b4a86" stroke-width="0.45" stroke-dasharray="4 1.4")";
    case Pen::thick:
      return R"(stroke="#111" stroke-width="1")";
  }
  return {};
}

std::string_view fill_attribute(Fill fill) {
  switch (fill) {
    case Fill::none:
      return R"(fill="none")";
    case Fill::paper:
      return R"(fill="#fff")";
    case Fill::pale:
      return R"(fill="#e4e4e4")";
    case Fill::grey:
      return R"(fill="#8c8c8c")";
    case Fill::ink:
      return R"(fill="#111")";
  }
  return {};
}

/// Width of a character in parts of the letter size: upper bounds for Helvetica and its like.
double character_width(unsigned char c) {
  static constexpr std::string_view narrow = " !'(),./:;I[]fijlrt|-";
  if (narrow.find(static_cast<char>(c)) != narrow.npos) return 0.34;
  if (c == 'm' || c == 'w' || c == 'M' || c == 'W' || c == '%' || c == '@') return 0.95;
  if (c >= 'A' && c <= 'Z') return 0.74;
  return 0.6;
}

std::string point_list(std::span<const At> points) {
  std::string out;
  for (const At& point : points) {
    out += (out.empty() ? "" : " ") + svg_number(point.x) + "," + svg_number(point.y);
  }
  return out;
}

/// Bytes of the character at the start.
std::size_t character_bytes(std::string_view text) {
  std::size_t bytes = 1;
  while (bytes < text.size() && (static_cast<unsigned char>(text[bytes]) & 0xC0) == 0x80) ++bytes;
  return bytes;
}

}  // namespace

std::string svg_number(double value) {
  std::string text = fmt::format("{:.4f}", value);
  while (text.back() == '0') text.pop_back();
  if (text.back() == '.') text.pop_back();
  return text == "-0" ? "0" : text;
}

double text_width(std::string_view text, double size) {
  double width = 0;
  while (!text.empty()) {
    const auto first = static_cast<unsigned char>(text.front());
    // Latin, Greek and Cyrillic take two bytes; ideographs, as wide as high, three or more.
    width += first < 0x80 ? character_width(first) : first < 0xE0 ? 0.75 : 1.05;
    text.remove_prefix(character_bytes(text));
  }
  return width * size;
}

std::string text_within(std::string_view text, double width) {
  if (text_width(text) <= width) return std::string(text);
  std::string out;
  while (!text.empty()) {
    const std::size_t bytes = character_bytes(text);
    if (text_width(out + std::string(text.substr(0, bytes)) + "...") > width) break;
    out += text.substr(0, bytes);
    text.remove_prefix(bytes);
  }
  return out + "...";
}

std::vector<std::string> text_in_two(std::string_view text, double width) {
  if (text_width(text) <= width) return {std::string(text)};
  std::size_t cut = text.npos;
  for (std::size_t i = 1; i < text.size(); ++i) {
    // A number and its unit stay together.
    const bool after_number = text[i - 1] >= '0' && text[i - 1] <= '9';
    if (text[i] == ' ' && !after_number && text_width(text.substr(0, i)) <= width) cut = i;
  }
  if (cut == text.npos) return {text_within(text, width)};
  return {std::string(text.substr(0, cut)), text_within(text.substr(cut + 1), width)};
}

void SvgCanvas::line(At from, At to, Pen pen) {
  content_ +=
      fmt::format("<line x1=\"{}\" y1=\"{}\" x2=\"{}\" y2=\"{}\" {}/>\n", svg_number(from.x),
                  svg_number(from.y), svg_number(to.x), svg_number(to.y), pen_attributes(pen));
}

void SvgCanvas::polyline(std::span<const At> points, Pen pen, std::string_view name) {
  content_ += fmt::format("<polyline {}points=\"{}\" fill=\"none\" {}/>\n",
                          name.empty() ? "" : fmt::format("class=\"{}\" ", name),
                          point_list(points), pen_attributes(pen));
}

void SvgCanvas::polygon(std::span<const At> points, Pen pen, Fill fill) {
  content_ += fmt::format("<polygon points=\"{}\" {} {}/>\n", point_list(points),
                          fill_attribute(fill), pen_attributes(pen));
}

void SvgCanvas::circle(At centre, double radius, Pen pen, Fill fill) {
  content_ += fmt::format("<circle cx=\"{}\" cy=\"{}\" r=\"{}\" {} {}/>\n", svg_number(centre.x),
                          svg_number(centre.y), svg_number(radius), fill_attribute(fill),
                          pen_attributes(pen));
}

void SvgCanvas::text(At at, std::string_view words, Anchor anchor, bool bold) {
  const char* where = anchor == Anchor::start    ? ""
                      : anchor == Anchor::middle ? " text-anchor=\"middle\""
                                                 : " text-anchor=\"end\"";
  content_ +=
      fmt::format("<text x=\"{}\" y=\"{}\"{}{}>{}</text>\n", svg_number(at.x), svg_number(at.y),
                  where, bold ? " font-weight=\"bold\"" : "", html_text(words));
}

void SvgCanvas::arrow_head(At tip, double dx, double dy) {
  constexpr double length = 2.2, half_width = 0.6;
  const double size = std::hypot(dx, dy);
  const double ux = dx / size, uy = dy / size;
  const At back{tip.x - length * ux, tip.y - length * uy};
  const At points[] = {tip,
                       {back.x - half_width * uy, back.y + half_width * ux},
                       {back.x + half_width * uy, back.y - half_width * ux}};
  polygon(points, Pen::none, Fill::ink);
}

void SvgCanvas::dimension(double from_x, double to_x, double y) {
  constexpr double least_inside = 6, outside = 4;
  const double left = std::min(from_x, to_x), right = std::max(from_x, to_x);
  if (right - left >= least_inside) {
    line({left, y}, {right, y}, Pen::thin);
    arrow_head({left, y}, -1, 0);
    arrow_head({right, y}, 1, 0);
    return;
  }
  line({left - outside, y}, {right + outside, y}, Pen::thin);
  arrow_head({left, y}, 1, 0);
  arrow_head({right, y}, -1, 0);
}

Fill tone(Texture texture, bool hatched) {
  switch (texture) {
    case Texture::coating:
      return Fill::grey;
    case Texture::wall:
      return hatched ? Fill::paper : Fill::ink;
    case Texture::liner:
      return hatched ? Fill::paper : Fill::pale;
    case Texture::deposit:
      return Fill::pale;
  }
  return Fill::none;
}

void SvgCanvas::band(At top_left, At bottom_right, Texture texture, std::string_view name) {
  constexpr double step = 1.7;
  const double left = top_left.x, top = top_left.y, right = bottom_right.x, bottom = bottom_right.y;
  const double height = bottom - top;
  const bool hatched = height >= least_hatched;
  content_ += fmt::format(
      "<rect class=\"{}\" x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" {} stroke=\"none\"/>\n",
      name, svg_number(left), svg_number(top), svg_number(right - left), svg_number(height),
      fill_attribute(tone(texture, hatched)));
  if (hatched && (texture == Texture::wall || texture == Texture::liner)) {
    // Lines of 45 degrees from edge to edge, cut off at the ends of the band.
    for (double x = left - height + step / 2; x < right; x += step) {
      const double from = std::max(x, left), to = std::min(x + height, right);
      if (to <= from) continue;
      const double low = from - x, high = to - x;
      if (texture == Texture::wall) {
        line({from, bottom - low}, {to, bottom - high}, Pen::hatch);
      } else {
        line({from, top + low}, {to, top + high}, Pen::hatch);
      }
    }
  }
  line({left, top}, {right, top}, Pen::outline);
  line({left, bottom}, {right, bottom}, Pen::outline);
}

std::string svg_opening(double width, double height, std::string_view title, bool alone) {
  return fmt::format(
      "<svg{} viewBox=\"0 0 {} {}\" width=\"100%\" role=\"img\" font-family=\"Arial, Helvetica, "
      "sans-serif\" font-size=\"{}\" fill=\"#111\">\n<title>{}</title>\n",
      alone ? " xmlns=\"http://www.w3.org/2000/svg\"" : "", svg_number(width), svg_number(height),
      svg_number(letter_size), html_text(title));
}

}  // namespace slantrule
