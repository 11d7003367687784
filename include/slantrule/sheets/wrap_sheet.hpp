#pragma once

/// A paper strip at true scale to wrap round the pipe and mark both sensors.
///
/// First the layout, pure numbers: what is drawn where on the paper, and which piece of it on which
/// page. Then the pages as HTML with physical units, made from the layout.
///
/// Coordinates on the paper, in millimetres: `along` the pipe axis, growing with the flow, and
/// `round` the pipe, growing clockwise for somebody who looks with the flow. The printed face is
/// outside. With the flow to the right, `round` grows downwards.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "slantrule/sheets/sheet.hpp"

namespace slantrule {

/// A paper size, upright.
struct Paper {
  std::string_view name;
  double width_mm, height_mm;
};
inline constexpr Paper paper_a4{"A4", 210, 297};              ///< ISO 216
inline constexpr Paper paper_letter{"Letter", 215.9, 279.4};  ///< ANSI/ASME Y14.1, size A

struct WrapOptions {
  Paper paper = paper_a4;
  double paper_thickness_m = 1e-4;  ///< 0 to 5 mm; office paper of 80 g/m2 has about 0.1 mm
};

/// A line along the pipe axis.
enum class WrapLineKind { start, end, crown, sensor_a, sensor_b, both_sensors };
struct WrapLine {
  WrapLineKind kind;
  double round_mm;
};

/// Where a sensor's reference mark goes.
struct WrapMark {
  char sensor;  ///< 'A' or 'B'
  double along_mm, round_mm;
};

/// What is printed of a piece on one page. Neighbouring tiles overlap by `wrap_overlap_mm`.
struct WrapTile {
  int row, column;  ///< from 0, as the tiles lie when they are glued, seen from the printed face
  double along_mm, round_mm;            ///< the corner with the least coordinates
  double along_size_mm, round_size_mm;  ///< overlaps included
  int page;                             ///< from 0
  double x_mm, y_mm;  ///< left upper corner in the page's drawing, x to the right, y down
};

enum class WrapPieceKind {
  whole,       ///< the strip that goes all round
  both_marks,  ///< a band along the pipe with both marks
  mark_a,      ///< a panel with one mark
  mark_b,
  datum_to_b,  ///< a band from the level of A's mark to B's mark, for the other side
};

struct WrapPiece {
  WrapPieceKind kind;
  double along_size_mm, round_size_mm;
  bool flow_up;  ///< on the page: flow upwards and round to the right; else flow to the right
  int rows, columns;
  std::vector<WrapLine> lines;
  std::vector<WrapMark> marks;
  std::optional<double> datum_along_mm;  ///< level of A's mark on a piece without A
  std::vector<WrapTile> tiles;
};

enum class WrapCoating { none, left, removed };

/// Everything that the pages say in numbers.
struct WrapStrip {
  Paper paper;
  double paper_thickness_mm;
  double surface_diameter_mm;  ///< that the paper lies on; oval: of equal girth
  double girth_mm;             ///< of the paper: pi (surface diameter + paper thickness)
  double tape_girth_mm;        ///< of the surface: pi surface diameter
  /// A girth that differs by more moves the spacing by more than it is marked to, or the flow by
  /// more than 1 % (proposal); not below 1 mm.
  double girth_tolerance_mm;
  WrapCoating coating;
  double coating_mm;
  double spacing_mm;  ///< to the step it is set to; signed: negative where the marks cross
  bool same_side;
  bool by_clock;        ///< clock positions; false: a vertical pipe, from a landmark at A's line
  bool clock_taken;     ///< the job gives no clock position: 3 o'clock is drawn
  double seam_clock_h;  ///< where start and end of the strip meet; 12 where a sensor isn't
  double a_clock_h, b_clock_h;  ///< on a vertical pipe: 3 and 3 or 9, counted from the seam
  bool whole;                   ///< false: folding a strip of one's own instead
  bool spacing_drawn;           ///< both marks, or A's level and B's mark, at true distance
  int pages;
  std::vector<WrapPiece> pieces;
};

inline constexpr double wrap_overlap_mm = 10;
/// Printers reach nearer to the edge than this (common practice, no source: 3 to 6.4 mm).
inline constexpr double wrap_page_margin_mm = 8;
/// From the sensor line to the line that carries the figure of the spacing.
inline constexpr double wrap_dimension_off_mm = 9;
/// Beyond so many tiles, in one row or in several, the girth is not printed whole: glueing them is
/// harder than folding a strip of one's own.
inline constexpr int most_row_tiles = 6, most_grid_tiles = 4;
/// Beyond so many tiles along the pipe a steel tape is truer than glued paper.
inline constexpr int most_band_tiles = 4;

/// Size of the drawing on the first page and on the others, below what is written there. Whole
/// multiples of 1/8 in, which are whole pixels of a browser: else it would round the scale.
struct WrapDrawingSize {
  double width_mm, height_mm;
};
WrapDrawingSize wrap_drawing_size(const Paper& paper, bool first_page);

/// Tile starts for `length_mm` of paper on an area of `area_mm`: as few as will do, evenly, with
/// the overlaps clear of `keep_clear_mm` where that can be.
std::vector<double> wrap_tile_starts(double length_mm, double area_mm,
                                     const std::vector<double>& keep_clear_mm);

/// Where a point of the paper lies in the drawing of the tile's page.
struct WrapPoint {
  double x_mm, y_mm;
};
WrapPoint wrap_on_page(const WrapPiece& piece, const WrapTile& tile, double along_mm,
                       double round_mm);

/// Why no strip is issued, in one line; empty when one is: a stop, or several candidates.
std::string wrap_refusal(const PlannedJob& job);

/// The layout. Throws std::invalid_argument for a plan without a path or a paper thickness that is
/// not from 0 to 5 mm.
WrapStrip wrap_strip(const PlannedVariant& variant, const WrapOptions& options = {});

/// The pages: self-contained HTML with as many printed pages as `strip.pages`.
std::string wrap_sheet(const PlannedVariant& variant, const WrapStrip& strip,
                       const Display& display);

}  // namespace slantrule
