#include "slantrule/sheets/wrap_sheet.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "sheets/planned.hpp"

namespace slantrule {
namespace {

using namespace slantrule::test;
using Catch::Matchers::Contains;

WrapStrip strip_of(const std::vector<std::string>& sets, const WrapOptions& options = {}) {
  return wrap_strip(planned(sets).variants.front(), options);
}

std::string page_of(const std::vector<std::string>& sets, const WrapOptions& options = {},
                    const Display& display = {}) {
  const PlannedJob job = planned(sets);
  const PlannedVariant& variant = job.variants.front();
  return wrap_sheet(variant, wrap_strip(variant, options), display);
}

const WrapMark& mark_of(const WrapPiece& piece, char sensor) {
  const auto found = std::ranges::find(piece.marks, sensor, &WrapMark::sensor);
  REQUIRE(found != piece.marks.end());
  return *found;
}

std::size_t count_of(std::string_view text, std::string_view what) {
  std::size_t count = 0;
  for (std::size_t at = 0; (at = text.find(what, at)) != text.npos; at += what.size()) ++count;
  return count;
}

std::vector<std::string> pipe_of(std::string_view diameter, std::string_view wall, int traverses,
                                 std::string_view more = "pipe.orientation=horizontal") {
  return {"pipe.size=", "pipe.outside_diameter=" + std::string(diameter),
          "pipe.wall=" + std::string(wall), "path.traverses=" + std::to_string(traverses),
          std::string(more)};
}

/// From the smallest pipe to the largest, both sides, both ways.
std::vector<std::vector<std::string>> all_pipes() {
  std::vector<std::vector<std::string>> all;
  const std::pair<const char*, const char*> sizes[] = {
      {"15 mm", "0.7 mm"},  {"28 mm", "1 mm"},    {"60.3 mm", "3.9 mm"}, {"114.3 mm", "6 mm"},
      {"168.3 mm", "7 mm"}, {"219.1 mm", "8 mm"}, {"323.9 mm", "9 mm"},  {"610 mm", "9 mm"},
      {"1000 mm", "10 mm"}, {"1600 mm", "12 mm"}};
  for (const auto& [diameter, wall] : sizes) {
    for (int traverses = 1; traverses <= 4; ++traverses) {
      all.push_back(pipe_of(diameter, wall, traverses));
      all.push_back(pipe_of(diameter, wall, traverses, "pipe.orientation=vertical up"));
    }
  }
  return all;
}

TEST_CASE("wrap: the strip is as long as the paper's middle goes round the surface", "[sheets]") {
  // NPS 6 has 168.3 mm outside (ASME B36.10M); pi x 168.4 mm by hand.
  const WrapStrip plain = strip_of({});
  CHECK(plain.surface_diameter_mm == Approx(168.3).margin(0.03));
  CHECK(plain.girth_mm == Approx(529.04).margin(0.1));
  CHECK(plain.coating == WrapCoating::none);
  const WrapLine& end = plain.pieces.front().lines.back();
  CHECK(end.kind == WrapLineKind::end);
  CHECK(end.round_mm == Approx(plain.girth_mm));
  CHECK(plain.pieces.front().lines.front().round_mm == 0);

  // No paper thickness: the girth itself. A card of 1 mm: pi mm more.
  const WrapStrip thin = strip_of({}, {.paper_thickness_m = 0});
  CHECK(thin.girth_mm == Approx(thin.tape_girth_mm));
  CHECK(strip_of({}, {.paper_thickness_m = 1e-3}).girth_mm - thin.girth_mm ==
        Approx(3.14159).margin(1e-4));

  // Under a coating of 2 mm the surface has 4 mm more.
  const std::string coat = R"(pipe.coating={"material":"epoxy","thickness":"2 mm")";
  const WrapStrip left = strip_of({coat + "}"});
  CHECK(left.coating == WrapCoating::left);
  CHECK(left.surface_diameter_mm - plain.surface_diameter_mm == Approx(4));
  const WrapStrip removed = strip_of({coat + R"(,"under_sensors":"removed"})"});
  CHECK(removed.coating == WrapCoating::removed);
  CHECK(removed.girth_mm == Approx(plain.girth_mm));

  // Of an ellipse of 600 and 624 mm: 1922.84 mm by Ramanujan's second formula.
  std::vector<std::string> oval = pipe_of("600 mm", "9 mm", 2);
  oval.push_back("pipe.across=624 mm");
  CHECK(strip_of(oval).tape_girth_mm == Approx(1922.84).margin(0.01));
}

TEST_CASE("wrap: the paper leaves the spacing along the pipe alone", "[sheets]") {
  // The sheet of this job sets 168 mm; marks, thickness of paper and coating don't change it.
  const PlannedJob job = planned();
  CHECK_THAT(text_sheet(job, {}), Contains("SET   168 mm"));
  for (const double thickness_m : {0.0, 1e-4, 2e-3}) {
    const WrapStrip strip = strip_of({}, {.paper_thickness_m = thickness_m});
    CHECK(strip.spacing_mm == Approx(168));
    const WrapPiece& piece = strip.pieces.front();
    CHECK(mark_of(piece, 'B').along_mm - mark_of(piece, 'A').along_mm == Approx(168));
  }
}

TEST_CASE("wrap: clock positions, clockwise looking with the flow, from the crown", "[sheets]") {
  struct Row {
    const char* clock;
    int traverses;
    double a_share, b_share;  // of the girth
  };
  for (const Row& row : {Row{"3", 2, 0.25, 0.25}, Row{"3", 1, 0.25, 0.75}, Row{"9", 1, 0.75, 0.25},
                         Row{"9:30", 2, 0.79167, 0.79167}, Row{"2", 1, 0.16667, 0.66667}}) {
    CAPTURE(row.clock, row.traverses);
    const WrapStrip strip = strip_of({"location.clock=" + std::string(row.clock),
                                      "path.traverses=" + std::to_string(row.traverses)});
    const WrapPiece& piece = strip.pieces.front();
    REQUIRE(strip.whole);
    CHECK(mark_of(piece, 'A').round_mm / strip.girth_mm == Approx(row.a_share).margin(1e-4));
    CHECK(mark_of(piece, 'B').round_mm / strip.girth_mm == Approx(row.b_share).margin(1e-4));
    CHECK(strip.seam_clock_h == 12);
  }
  // Nothing stated: a horizontal pipe is drawn at 3 o'clock and says so.
  CHECK(strip_of({"location.clock="}).clock_taken);
  CHECK_FALSE(strip_of({}).clock_taken);
  CHECK_THAT(page_of({"location.clock="}), Contains("gives no clock position"));
  // A mark never lies in the seam.
  const WrapStrip top = strip_of({"location.clock=12"});
  CHECK(top.seam_clock_h == 9);
  CHECK(mark_of(top.pieces.front(), 'A').round_mm == Approx(top.girth_mm / 4));
  CHECK(std::ranges::count(top.pieces.front().lines, WrapLineKind::crown, &WrapLine::kind) == 1);
}

TEST_CASE("wrap: on a vertical pipe the landmark is A's line", "[sheets]") {
  const std::vector<std::string> sets{"pipe.orientation=vertical up", "path.traverses=1",
                                      "location.clock=facing the door"};
  const WrapStrip strip = strip_of(sets);
  CHECK_FALSE(strip.by_clock);
  const WrapPiece& piece = strip.pieces.front();
  CHECK(mark_of(piece, 'B').round_mm - mark_of(piece, 'A').round_mm == Approx(strip.girth_mm / 2));
  const std::string page = page_of(sets);
  CHECK_THAT(page, Contains("LANDMARK line") && Contains("facing the door") &&
                       !Contains("o'clock") && !Contains("o&#39;clock"));
}

TEST_CASE("wrap: marks that cross stay in order and are named so", "[sheets]") {
  // A setback of -60 mm on both sensors: the marks lie ahead of the exit points and cross.
  const std::vector<std::string> sets{
      R"(sensors={"frequency":"1 MHz","wedge":{"sound_speed":"2430 m/s","angle":"38 deg"},)"
      R"("setback":"-60 mm"})",
      "path.traverses=1"};
  const WrapStrip strip = strip_of(sets);
  REQUIRE(strip.spacing_mm < 0);
  const WrapPiece& piece = strip.pieces.front();
  CHECK(mark_of(piece, 'A').along_mm > mark_of(piece, 'B').along_mm);
  CHECK(std::ranges::min(piece.marks, {}, &WrapMark::along_mm).along_mm > 6);
  CHECK_THAT(page_of(sets), Contains("MARKS CROSS: A's mark lies that far DOWNSTREAM"));
}

TEST_CASE("wrap: tile starts cover the length with overlaps, as few as will do", "[sheets]") {
  CHECK(wrap_tile_starts(100, 100, {}) == std::vector<double>{0});
  // 3 tiles of 100 with overlaps of 10 reach 280.
  CHECK(wrap_tile_starts(280, 100, {}).size() == 3);
  CHECK(wrap_tile_starts(280.1, 100, {}).size() == 4);
  for (double length_mm = 50; length_mm < 1500; length_mm += 37) {
    const std::vector<double> lines{length_mm / 4, length_mm / 2, 3 * length_mm / 4};
    const auto starts = wrap_tile_starts(length_mm, 185, lines);
    CAPTURE(length_mm, starts);
    for (std::size_t i = 0; i < starts.size(); ++i) {
      const double end_mm = i + 1 < starts.size() ? starts[i + 1] + wrap_overlap_mm : length_mm;
      CHECK(end_mm - starts[i] <= 185 + 1e-9);
      CHECK(end_mm - starts[i] > wrap_overlap_mm);
    }
  }
  // The even cut would go through the line; it is moved off.
  const auto moved = wrap_tile_starts(300, 185, {145});
  REQUIRE(moved.size() == 2);
  CHECK((moved[1] + wrap_overlap_mm < 145 - 6 || moved[1] > 145 + 6));
}

TEST_CASE("wrap: on every pipe and paper the pages hold what they should", "[sheets]") {
  const Paper paper = GENERATE(paper_a4, paper_letter);
  for (const auto& sets : all_pipes()) {
    CAPTURE(paper.name, sets);
    const PlannedJob job = planned(sets);
    const PlannedVariant& variant = job.variants.front();
    if (!variant.plan.path) continue;
    const WrapStrip strip = wrap_strip(variant, {.paper = paper});
    int last_page = 0;
    bool a = false, b = false;
    for (const WrapPiece& piece : strip.pieces) {
      double covered_mm2 = 0;
      for (const WrapTile& tile : piece.tiles) {
        last_page = std::max(last_page, tile.page);
        // Inside the drawing, which is inside the paper's margins.
        const WrapDrawingSize size = wrap_drawing_size(paper, tile.page == 0);
        const double wide_mm = piece.flow_up ? tile.round_size_mm : tile.along_size_mm;
        const double high_mm = piece.flow_up ? tile.along_size_mm : tile.round_size_mm;
        CHECK(tile.x_mm + wide_mm <= size.width_mm);
        CHECK(tile.y_mm + high_mm <= size.height_mm);
        CHECK(size.width_mm + 2 * wrap_page_margin_mm < paper.width_mm);
        CHECK(size.height_mm + 2 * wrap_page_margin_mm < paper.height_mm);
        const double overlap_along_mm = tile.along_mm > 0 ? wrap_overlap_mm : 0;
        const double overlap_round_mm = tile.round_mm > 0 ? wrap_overlap_mm : 0;
        covered_mm2 +=
            (tile.along_size_mm - overlap_along_mm) * (tile.round_size_mm - overlap_round_mm);
      }
      CHECK(covered_mm2 == Approx(piece.along_size_mm * piece.round_size_mm));
      // A cross of 12 mm lies whole on one tile, and only there.
      for (const WrapMark& mark : piece.marks) {
        (mark.sensor == 'A' ? a : b) = true;
        CHECK(std::ranges::count_if(piece.tiles, [&](const WrapTile& tile) {
                return mark.along_mm - 6 >= tile.along_mm &&
                       mark.along_mm + 6 <= tile.along_mm + tile.along_size_mm &&
                       mark.round_mm - 6 >= tile.round_mm &&
                       mark.round_mm + 6 <= tile.round_mm + tile.round_size_mm;
              }) == 1);
      }
      if (piece.marks.size() == 2) {
        CHECK(mark_of(piece, 'B').along_mm - mark_of(piece, 'A').along_mm ==
              Approx(strip.spacing_mm));
      }
      if (piece.datum_along_mm) {
        CHECK(mark_of(piece, 'B').along_mm - *piece.datum_along_mm == Approx(strip.spacing_mm));
      }
    }
    CHECK((a && b));
    CHECK(last_page + 1 == strip.pages);
    CHECK(strip.pages <= 1 + most_row_tiles);

    const std::string page = wrap_sheet(variant, strip, {});
    const std::string of = " of " + std::to_string(strip.pages) + "</span>";
    CHECK(count_of(page, "<section class=\"page\">") == static_cast<std::size_t>(strip.pages));
    CHECK(count_of(page, of) == static_cast<std::size_t>(strip.pages));
    CHECK(count_of(page, "Measure these before you trust") ==
          static_cast<std::size_t>(strip.pages));
    // The ring round each mark is drawn once, and every line has its name.
    CHECK(count_of(page, "<circle") == 2);
    CHECK(count_of(page, ">FLOW</text>") >= 1);
    for (const WrapPiece& piece : strip.pieces) {
      for (const WrapLine& line : piece.lines) {
        switch (line.kind) {
          case WrapLineKind::start:
            CHECK_THAT(page, Contains(">START"));
            break;
          case WrapLineKind::end:
            CHECK_THAT(page, Contains(">END"));
            break;
          case WrapLineKind::sensor_b:
            CHECK_THAT(page, Contains(">line of B, OPPOSITE A"));
            break;
          default:
            CHECK_THAT(page, Contains(strip.by_clock ? " A" : ">LANDMARK line"));
        }
      }
    }
    if (strip.whole) CHECK(count_of(page, ">tape</text>") >= 1);
  }
}

TEST_CASE("wrap: with the flow upwards, clockwise is to the right; to the right, it is down",
          "[sheets]") {
  // Outside of a pipe whose flow goes up, looking at it: clockwise as seen along the flow, that is
  // from below, runs to the looker's right. Turning the picture to the right, it runs down.
  const WrapTile tile{0, 0, 10, 20, 100, 50, 0, 1, 5};
  WrapPiece piece{};
  for (const bool up : {true, false}) {
    piece.flow_up = up;
    const WrapPoint here = wrap_on_page(piece, tile, 40, 30);
    const WrapPoint on = wrap_on_page(piece, tile, 41, 30);
    const WrapPoint round = wrap_on_page(piece, tile, 40, 31);
    CHECK(on.x_mm - here.x_mm == Approx(up ? 0 : 1).margin(1e-9));
    CHECK(on.y_mm - here.y_mm == Approx(up ? -1 : 0).margin(1e-9));
    CHECK(round.x_mm - here.x_mm == Approx(up ? 1 : 0).margin(1e-9));
    CHECK(round.y_mm - here.y_mm == Approx(up ? 0 : 1).margin(1e-9));
  }
}

TEST_CASE("wrap: a pipe larger than the paper is folded, not glued", "[sheets]") {
  const auto sets = pipe_of("1600 mm", "12 mm", 1);
  const WrapStrip strip = strip_of(sets);
  CHECK_FALSE(strip.whole);
  CHECK(strip.spacing_drawn);
  CHECK(strip.pages <= 5);
  const std::string page = page_of(sets);
  CHECK_THAT(page, Contains("Fold it end to end") && Contains("3 and 9 o'clock"));
  // pi x 1600 mm and its quarter and half, by hand.
  CHECK_THAT(page, Contains("5026.5 mm (197.90 in)") &&
                       Contains("1256.6 mm (49.47 in), clockwise") &&
                       Contains("1256.6 mm (49.47 in), anticlockwise") &&
                       Contains("2513.3 mm (98.95 in)"));
  // Too far apart for glued paper: two panels and a tape.
  const auto far = pipe_of("1600 mm", "12 mm", 4);
  const WrapStrip apart = strip_of(far);
  CHECK_FALSE(apart.spacing_drawn);
  CHECK(apart.pages == 2);
  CHECK_THAT(page_of(far), Contains("by steel tape") && Contains("there lay panel B's level"));
}

TEST_CASE("wrap: no strip on a stop or with candidates open", "[sheets]") {
  CHECK(wrap_refusal(planned()).empty());
  const std::string frozen = wrap_refusal(planned({"fluid.temperature=-5 degC"}));
  CHECK_THAT(frozen, Contains("no strip is issued") && Contains("fluid.f"));
  CHECK(frozen.find('\n') == std::string::npos);
  const std::string open =
      wrap_refusal(planned({R"(pipe.wall={"one_of":["7.11 mm","10.97 mm"]})"}));
  CHECK_THAT(open, Contains("2 candidates"));
  const PlannedJob none = planned({"fluid.temperature=-5 degC"});
  WrapOptions options;
  options.paper_thickness_m = -1e-4;
  CHECK_THROWS_AS(wrap_strip(planned().variants.front(), options), std::invalid_argument);
  options.paper_thickness_m = 6e-3;
  CHECK_THROWS_AS(wrap_strip(planned().variants.front(), options), std::invalid_argument);
}

TEST_CASE("wrap: an invented pair is training data on every page and on the paper", "[sheets]") {
  const std::string invented = page_of({});
  const std::size_t pages = count_of(invented, "<section");
  CHECK(pages > 1);
  CHECK(count_of(invented, "<p class=\"training\">TRAINING DATA, do not mount") == pages);
  CHECK(count_of(invented, ">TRAINING DATA, do not mount</text>") == pages - 1);
  CHECK_THAT(page_of({real_pair}), !Contains("TRAINING"));
}

TEST_CASE("wrap: texts of a job neither run nor leave their place", "[sheets]") {
  const std::string page =
      page_of({"tag=</title><script>alert(1)</script>\"'", "title=<img src=x onerror=alert(1)>",
               "location.clock=<b>door</b>", "pipe.orientation=vertical up"});
  CHECK_THAT(page, !Contains("<script") && !Contains("<img") && !Contains("<b>door"));
  CHECK_THAT(page, Contains("&lt;b&gt;door"));
  // Long texts are cut to a line.
  const std::string long_tag = page_of({"tag=" + std::string(300, 'W')});
  CHECK_THAT(long_tag, !Contains(std::string(60, 'W')) && Contains("W..."));
}

TEST_CASE("wrap: both systems of units, the wished one first", "[sheets]") {
  CHECK_THAT(page_of({}), Contains("A to B, along the pipe: 168 mm = 6.61 in (6 5/8)"));
  CHECK_THAT(page_of({}, {}, {UnitSystem::us, true}),
             Contains("A to B, along the pipe: 6.61 in (6 5/8) = 168 mm") &&
                 Contains("20.83 in (529.0 mm)"));
}

}  // namespace
}  // namespace slantrule
