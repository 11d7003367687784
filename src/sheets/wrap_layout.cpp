#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "slantrule/planning/check_table.hpp"
#include "slantrule/planning/clock.hpp"
#include "slantrule/sheets/wrap_sheet.hpp"

namespace slantrule {
namespace {

constexpr double margin_mm = wrap_page_margin_mm;
constexpr double head_mm = 16;  // tag and page number
constexpr double rulers_mm = 12.7;
constexpr double slack_mm = 2;          // so that rounding never makes a page too full
constexpr double first_words_mm = 100;  // spacing, corrections and steps
constexpr double pixels_mm = 3.175;     // 12 CSS pixels
constexpr double caption_mm = 5;        // row and column above a tile
constexpr double rim_mm = 1;

constexpr double beyond_mark_mm = 28;  // paper beyond the outer mark of a whole strip
constexpr double beyond_panel_mark_mm = 40;
constexpr double flap_mm = 15;
constexpr double panel_round_mm = 88;  // two side by side on either paper
constexpr double between_panels_mm = 5;
constexpr double clear_of_joint_mm = 7;

double whole_pixels_mm(double length_mm) {
  return std::floor(length_mm / pixels_mm) * pixels_mm;
}

/// What a tile may take of a page's drawing.
WrapDrawingSize tile_area(const Paper& paper, bool first_page) {
  const WrapDrawingSize drawing = wrap_drawing_size(paper, first_page);
  return {drawing.width_mm - 2 * rim_mm, drawing.height_mm - caption_mm - rim_mm};
}

int tile_count(double length_mm, double area_mm) {
  if (length_mm <= area_mm) return 1;
  return static_cast<int>(
      std::ceil((length_mm - wrap_overlap_mm) / (area_mm - wrap_overlap_mm) - 1e-9));
}

struct Counts {
  int along, round;
  int all() const { return along * round; }
  bool can_be_glued() const {
    return all() <= (along == 1 || round == 1 ? most_row_tiles : most_grid_tiles);
  }
};

Counts tile_counts(const WrapPiece& piece, const WrapDrawingSize& area, bool flow_up) {
  return {tile_count(piece.along_size_mm, flow_up ? area.height_mm : area.width_mm),
          tile_count(piece.round_size_mm, flow_up ? area.width_mm : area.height_mm)};
}

/// Cuts the piece into tiles, row by row; pages and places are not given yet.
void cut_into_tiles(WrapPiece& piece, const WrapDrawingSize& area, bool flow_up) {
  piece.flow_up = flow_up;
  std::vector<double> clear_along, clear_round;
  for (const WrapMark& mark : piece.marks) clear_along.push_back(mark.along_mm);
  if (piece.datum_along_mm) clear_along.push_back(*piece.datum_along_mm);
  for (const WrapLine& line : piece.lines) clear_round.push_back(line.round_mm);
  if (!piece.marks.empty()) {
    clear_round.push_back(piece.marks.front().round_mm + wrap_dimension_off_mm);
  }
  const auto along =
      wrap_tile_starts(piece.along_size_mm, flow_up ? area.height_mm : area.width_mm, clear_along);
  const auto round =
      wrap_tile_starts(piece.round_size_mm, flow_up ? area.width_mm : area.height_mm, clear_round);
  const auto size = [](const std::vector<double>& starts, std::size_t i, double whole_mm) {
    const double end_mm = i + 1 < starts.size() ? starts[i + 1] + wrap_overlap_mm : whole_mm;
    return end_mm - starts[i];
  };
  const auto& across = flow_up ? round : along;  // the page
  const auto& down = flow_up ? along : round;
  piece.rows = static_cast<int>(down.size());
  piece.columns = static_cast<int>(across.size());
  piece.tiles.clear();
  for (std::size_t row = 0; row < down.size(); ++row) {
    for (std::size_t column = 0; column < across.size(); ++column) {
      // With the flow upwards the topmost row lies farthest downstream.
      const std::size_t a = flow_up ? down.size() - 1 - row : column;
      const std::size_t r = flow_up ? column : row;
      piece.tiles.push_back({.row = static_cast<int>(row),
                             .column = static_cast<int>(column),
                             .along_mm = along[a],
                             .round_mm = round[r],
                             .along_size_mm = size(along, a, piece.along_size_mm),
                             .round_size_mm = size(round, r, piece.round_size_mm),
                             .page = 0,
                             .x_mm = rim_mm,
                             .y_mm = caption_mm});
    }
  }
}

/// Positions round the strip, from its start.
double round_of_clock_mm(const WrapStrip& strip, double clock_h) {
  return strip.girth_mm * std::fmod(clock_h - strip.seam_clock_h + 12, 12) / 12;
}

WrapPiece whole_piece(const WrapStrip& strip) {
  WrapPiece piece{};
  piece.kind = WrapPieceKind::whole;
  piece.along_size_mm = std::fabs(strip.spacing_mm) + 2 * beyond_mark_mm;
  piece.round_size_mm = strip.girth_mm + flap_mm;
  const double a_mm = beyond_mark_mm + std::max(0.0, -strip.spacing_mm);
  const double round_a_mm = round_of_clock_mm(strip, strip.a_clock_h);
  const double round_b_mm = round_of_clock_mm(strip, strip.b_clock_h);
  piece.marks = {{'A', a_mm, round_a_mm}, {'B', a_mm + strip.spacing_mm, round_b_mm}};
  piece.lines.push_back({WrapLineKind::start, 0});
  if (strip.same_side) {
    piece.lines.push_back({WrapLineKind::both_sensors, round_a_mm});
  } else {
    piece.lines.push_back({WrapLineKind::sensor_a, round_a_mm});
    piece.lines.push_back({WrapLineKind::sensor_b, round_b_mm});
  }
  if (strip.by_clock && strip.seam_clock_h < 12) {
    piece.lines.push_back({WrapLineKind::crown, round_of_clock_mm(strip, 12)});
  }
  piece.lines.push_back({WrapLineKind::end, strip.girth_mm});
  return piece;
}

WrapPiece panel(const WrapStrip& strip, WrapPieceKind kind) {
  WrapPiece piece{};
  piece.kind = kind;
  piece.round_size_mm = panel_round_mm;
  const double middle_mm = panel_round_mm / 2;
  const bool long_one = kind == WrapPieceKind::both_marks || kind == WrapPieceKind::datum_to_b;
  const double reach_mm = long_one ? strip.spacing_mm : 0;
  piece.along_size_mm = std::fabs(reach_mm) + 2 * beyond_panel_mark_mm;
  const double a_mm = beyond_panel_mark_mm + std::max(0.0, -reach_mm);
  if (kind == WrapPieceKind::mark_a || kind == WrapPieceKind::both_marks) {
    piece.marks.push_back({'A', a_mm, middle_mm});
  }
  if (kind != WrapPieceKind::mark_a) piece.marks.push_back({'B', a_mm + reach_mm, middle_mm});
  if (kind == WrapPieceKind::datum_to_b) piece.datum_along_mm = a_mm;
  piece.lines.push_back({strip.same_side                 ? WrapLineKind::both_sensors
                         : kind == WrapPieceKind::mark_a ? WrapLineKind::sensor_a
                                                         : WrapLineKind::sensor_b,
                         middle_mm});
  return piece;
}

/// The whole strip, where it is no more work than folding.
bool lay_out_whole(WrapStrip& strip) {
  WrapPiece piece = whole_piece(strip);
  for (const bool first_page : {true, false}) {
    const WrapDrawingSize area = tile_area(strip.paper, first_page);
    const Counts right = tile_counts(piece, area, false), up = tile_counts(piece, area, true);
    const bool flow_up = up.all() < right.all();
    const Counts& least = flow_up ? up : right;
    if (first_page ? least.all() > 1 : !least.can_be_glued()) continue;
    cut_into_tiles(piece, area, flow_up);
    int page = first_page ? 0 : 1;
    for (WrapTile& tile : piece.tiles) tile.page = page++;
    strip.pages = page;
    strip.whole = strip.spacing_drawn = true;
    strip.pieces = {std::move(piece)};
    return true;
  }
  return false;
}

/// Panels with the marks; the girth is folded from a strip of the fitter's own.
void lay_out_panels(WrapStrip& strip) {
  using Kind = WrapPieceKind;
  const WrapDrawingSize area = tile_area(strip.paper, false);
  const WrapPiece band = panel(strip, strip.same_side ? Kind::both_marks : Kind::datum_to_b);
  strip.whole = false;
  strip.spacing_drawn = tile_counts(band, area, true).all() <= most_band_tiles;
  if (!strip.spacing_drawn) {
    strip.pieces = {panel(strip, Kind::mark_a), panel(strip, Kind::mark_b)};
  } else if (strip.same_side) {
    strip.pieces = {band};
  } else {
    strip.pieces = {panel(strip, Kind::mark_a), band};
  }
  int place = 2;  // two a page, from the second page on
  for (WrapPiece& piece : strip.pieces) {
    cut_into_tiles(piece, area, true);
    for (WrapTile& tile : piece.tiles) {
      tile.page = place / 2;
      tile.x_mm = rim_mm + (place % 2) * (panel_round_mm + between_panels_mm);
      ++place;
    }
  }
  strip.pages = (place + 1) / 2;
}

/// 0.5 % of girth is 1 % of bore area and flow; wrapped paper shows no less than 1 mm.
double girth_tolerance_mm(const Plan& plan, double girth_mm) {
  double tolerance_mm = 0.005 * girth_mm;
  for (const Sensitivity& one : plan.sensitivity) {
    if (one.input != "pipe.outside_diameter" || one.mark_spacing_m == 0) continue;
    // The spacing per millimetre of diameter.
    const double slope = std::fabs(one.mark_spacing_m) / 1e-3;
    tolerance_mm =
        std::min(tolerance_mm, std::numbers::pi * plan.mounting_tolerance_m * 1e3 / slope);
  }
  return std::max(1.0, tolerance_mm);
}

/// Of the round pipe with the girth of this one. An ellipse's girth is, by the first terms of its
/// series (Ivory and Bessel; from memory), pi (a + b)(1 + h/4 + h^2/64), h = ((a - b)/(a + b))^2.
double round_diameter_m(const ResolvedPipe& pipe) {
  const double one_m = pipe.outside_diameter_m.value;
  const double other_m = pipe.across_m.value_or(one_m);
  const double h = std::pow((one_m - other_m) / (one_m + other_m), 2);
  return (one_m + other_m) / 2 * (1 + h / 4 + h * h / 64);
}

void place_round(WrapStrip& strip, const PlannedVariant& variant) {
  const Orientation orientation = variant.job.pipe.orientation;
  strip.by_clock = variant.plan.clock_h.has_value() || (orientation != Orientation::vertical_up &&
                                                        orientation != Orientation::vertical_down);
  strip.clock_taken = strip.by_clock && !variant.plan.clock_h;
  strip.a_clock_h = variant.plan.clock_h.value_or(3);
  strip.b_clock_h = strip.same_side ? strip.a_clock_h : opposite_clock_h(strip.a_clock_h);
  // A seam on the crown can be seen and taped; but no mark may lie in it.
  constexpr double clear_h = 0.75;
  const auto near_crown = [](double clock_h) {
    return std::fabs(std::remainder(clock_h, 12)) < clear_h;
  };
  strip.seam_clock_h = near_crown(strip.a_clock_h) || near_crown(strip.b_clock_h) ? 9 : 12;
}

}  // namespace

WrapDrawingSize wrap_drawing_size(const Paper& paper, bool first_page) {
  const double words_mm = head_mm + rulers_mm + (first_page ? first_words_mm : 0);
  return {whole_pixels_mm(paper.width_mm - 2 * margin_mm - slack_mm),
          whole_pixels_mm(paper.height_mm - 2 * margin_mm - words_mm - slack_mm)};
}

std::vector<double> wrap_tile_starts(double length_mm, double area_mm,
                                     const std::vector<double>& keep_clear_mm) {
  const int count = tile_count(length_mm, area_mm);
  const double even_mm = (length_mm - wrap_overlap_mm) / count;
  std::vector<double> starts{0};
  for (int i = 1; i < count; ++i) {
    // What the tiles before and behind leave of choice.
    const double last_mm = starts.back() + area_mm - wrap_overlap_mm;
    const double first_mm = length_mm - wrap_overlap_mm - (count - i) * (area_mm - wrap_overlap_mm);
    const auto clear = [&](double start_mm) {
      return std::ranges::none_of(keep_clear_mm, [&](double line_mm) {
        return line_mm > start_mm - clear_of_joint_mm &&
               line_mm < start_mm + wrap_overlap_mm + clear_of_joint_mm;
      });
    };
    const double wish_mm = std::clamp(i * even_mm, first_mm, last_mm);
    double start_mm = wish_mm;
    for (double shift_mm = 0; shift_mm < 40; shift_mm += 1) {
      const double back_mm = wish_mm - shift_mm, on_mm = wish_mm + shift_mm;
      if (back_mm >= first_mm && clear(back_mm)) {
        start_mm = back_mm;
        break;
      }
      if (on_mm <= last_mm && clear(on_mm)) {
        start_mm = on_mm;
        break;
      }
    }
    starts.push_back(start_mm);
  }
  return starts;
}

WrapPoint wrap_on_page(const WrapPiece& piece, const WrapTile& tile, double along_mm,
                       double round_mm) {
  // The least along lies at the bottom when the flow runs up.
  if (piece.flow_up) {
    return {tile.x_mm + round_mm - tile.round_mm,
            tile.y_mm + tile.along_mm + tile.along_size_mm - along_mm};
  }
  return {tile.x_mm + along_mm - tile.along_mm, tile.y_mm + round_mm - tile.round_mm};
}

std::string wrap_refusal(const PlannedJob& job) {
  if (job.variants.size() > 1) {
    return fmt::format(
        "no strip is issued: the job leaves {} candidates open; settle it first, "
        "`slantrule plan` says by which measurement",
        job.variants.size());
  }
  const PlannedVariant& variant = job.variants.front();
  if (variant.plan.verdict != Verdict::stop && variant.plan.path) return {};
  std::string stops;
  for (const Finding& finding : variant.plan.findings) {
    if (finding.severity != Severity::stop) continue;
    stops += (stops.empty() ? "" : ", ") + std::string(check_info(finding.check).id);
  }
  return fmt::format(
      "no strip is issued: the plan is a stop ({}); `slantrule plan` says what to do", stops);
}

WrapStrip wrap_strip(const PlannedVariant& variant, const WrapOptions& options) {
  const Plan& plan = variant.plan;
  const ResolvedPipe& pipe = variant.job.pipe;
  if (!plan.path) throw std::invalid_argument("a strip needs a path");
  if (!(options.paper_thickness_m >= 0 && options.paper_thickness_m <= 5e-3)) {
    throw std::invalid_argument("paper thickness is from 0 to 5 mm");
  }
  WrapStrip strip{};
  strip.paper = options.paper;
  strip.paper_thickness_mm = options.paper_thickness_m * 1e3;
  const bool coated = pipe.coating && pipe.coating->thickness_m > 0;
  strip.coating = !coated                      ? WrapCoating::none
                  : pipe.coating_under_sensors ? WrapCoating::left
                                               : WrapCoating::removed;
  strip.coating_mm = coated ? pipe.coating->thickness_m * 1e3 : 0;
  strip.surface_diameter_mm = round_diameter_m(pipe) * 1e3;
  if (strip.coating == WrapCoating::left) strip.surface_diameter_mm += 2 * strip.coating_mm;
  strip.tape_girth_mm = std::numbers::pi * strip.surface_diameter_mm;
  // The middle of the paper keeps its length; it lies half a thickness above the surface.
  strip.girth_mm = std::numbers::pi * (strip.surface_diameter_mm + strip.paper_thickness_mm);
  strip.girth_tolerance_mm = girth_tolerance_mm(plan, strip.girth_mm);
  // To the step that the sheet sets it to, so that paper and sheet agree.
  strip.spacing_mm =
      std::round(plan.path->ray.mark_spacing_m / plan.setting_step_m) * plan.setting_step_m * 1e3;
  strip.same_side = plan.same_side();
  place_round(strip, variant);
  if (!lay_out_whole(strip)) lay_out_panels(strip);
  return strip;
}

}  // namespace slantrule
