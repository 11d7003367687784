// The worked lesson: its arithmetic recomputed from what is printed, its answers held against the
// plan, its exercises kept from telling them.

#include "slantrule/sheets/lesson.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <fstream>
#include <iterator>
#include <map>
#include <numbers>
#include <set>

#include "sheets/planned.hpp"
#include "slantrule/sheets/text_layout.hpp"

namespace slantrule::test {
namespace {

constexpr std::uint64_t seeds = 100;
const char* const example_names[] = {"lesson-easy", "lesson-lined", "lesson-opposite"};

std::string example_text(const std::string& name) {
  std::ifstream in(std::string(SLANTRULE_SOURCE_DIR) + "/examples/" + name + ".json");
  const std::string text{std::istreambuf_iterator<char>(in), {}};
  REQUIRE_FALSE(text.empty());
  return text;
}

Lesson lesson_of(const PlannedJob& job, UnitSystem units,
                 std::optional<std::uint64_t> seed = std::nullopt) {
  const Catalogue catalogue;
  auto made = make_lesson(job, catalogue, units, seed);
  if (const auto* why = std::get_if<std::string>(&made)) FAIL(*why);
  return std::get<Lesson>(made);
}

std::string refusal(const std::vector<std::string>& sets) {
  const Catalogue catalogue;
  auto made = make_lesson(planned(sets), catalogue, UnitSystem::metric);
  const auto* why = std::get_if<std::string>(&made);
  return why ? *why : "";
}

// ---------------------------------------------------------------- a pocket calculator

/// Works out the arithmetic that a lesson prints: + - x / ( ), sin cos tan asin in degrees, sqrt,
/// log10, pi. Shares no code with what printed it.
class Calculator {
 public:
  static double result(const std::string& text) {
    Calculator one(text);
    const double value = one.sum();
    INFO(text << " at " << one.at_);
    REQUIRE(one.at_ == text.size());
    return value;
  }

 private:
  explicit Calculator(const std::string& text) : text_(text) {}
  void blanks() {
    while (at_ < text_.size() && text_[at_] == ' ') ++at_;
  }
  bool take(char c) {
    blanks();
    if (at_ >= text_.size() || text_[at_] != c) return false;
    ++at_;
    blanks();
    return true;
  }
  double sum() {
    double value = product();
    while (true) {
      if (take('+')) {
        value += product();
      } else if (take('-')) {
        value -= product();
      } else {
        return value;
      }
    }
  }
  double product() {
    double value = atom();
    while (true) {
      if (take('x')) {
        value *= atom();
      } else if (take('/')) {
        value /= atom();
      } else {
        return value;
      }
    }
  }
  double atom() {
    if (take('(')) {
      const double value = sum();
      REQUIRE(take(')'));
      return value;
    }
    if (take('-')) return -atom();
    std::string word;
    while (at_ < text_.size() &&
           (std::isalnum(static_cast<unsigned char>(text_[at_])) != 0 || text_[at_] == '.')) {
      word += text_[at_++];
    }
    blanks();
    INFO(text_ << ": " << word);
    REQUIRE_FALSE(word.empty());
    if (std::isdigit(static_cast<unsigned char>(word[0]))) return std::stod(word);
    if (word == "pi") return 3.14159265358979;
    REQUIRE(take('('));
    const double inside = sum();
    REQUIRE(take(')'));
    const double degree = std::atan(1.0) / 45;
    if (word == "sin") return std::sin(inside * degree);
    if (word == "cos") return std::cos(inside * degree);
    if (word == "tan") return std::tan(inside * degree);
    if (word == "asin") return std::asin(inside) / degree;
    if (word == "sqrt") return std::sqrt(inside);
    if (word == "log10") return std::log10(inside);
    FAIL("no such key: " << word);
    return 0;
  }

  const std::string& text_;
  std::size_t at_ = 0;
};

/// Half of the last printed digit.
double half_digit(const std::string& number) {
  const std::size_t dot = number.find('.');
  const auto decimals = dot == std::string::npos ? 0 : number.size() - dot - 1;
  return 0.5 * std::pow(10.0, -static_cast<double>(decimals));
}

bool agrees(const LessonLine& line) {
  const double by_calculator = Calculator::result(line.numbers);
  return std::fabs(by_calculator - std::stod(line.result)) <= half_digit(line.result) * (1 + 1e-4);
}

/// The three-line sums of a rendered lesson, in order; a long line goes on deeper in.
std::vector<LessonLine> printed_sums(const std::string& text) {
  std::vector<LessonLine> sums;
  std::vector<std::string> parts;
  std::string symbol;
  std::size_t indent = 0;
  const auto finish = [&] {
    if (parts.size() == 3) {
      const std::size_t blank = parts[2].find(' ');
      const std::string unit = blank == std::string::npos ? "" : parts[2].substr(blank + 1);
      sums.push_back({symbol, parts[0], parts[1], parts[2].substr(0, blank), unit});
    }
    parts.clear();
  };
  for (const std::string& line : lines_of(text)) {
    const std::size_t equals = line.find(" = ");
    const bool starts = line.rfind("  ", 0) == 0 && line.size() > 2 && line[2] != ' ' &&
                        equals != std::string::npos && line.find(' ', 2) == equals;
    if (starts) {
      finish();
      symbol = line.substr(2, equals - 2);
      indent = equals;
      parts = {line.substr(equals + 3)};
    } else if (!parts.empty() && line.size() > indent + 3 &&
               line.find_first_not_of(' ') == indent + 1 && line[indent + 1] == '=') {
      parts.push_back(line.substr(indent + 3));
    } else if (!parts.empty() && parts.size() < 3 && line.size() > indent + 4 &&
               line.find_first_not_of(' ') == indent + 5) {
      parts.back() += " " + line.substr(indent + 5);
    } else {
      finish();
    }
  }
  finish();
  return sums;
}

/// Words and numbers of a formula, in order.
std::vector<std::string> tokens(const std::string& text) {
  std::vector<std::string> out;
  std::string word;
  const auto finish = [&] {
    if (!word.empty()) out.push_back(std::move(word));
    word.clear();
  };
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    // A negative number stands in brackets of its own.
    const bool sign = c == '-' && i > 0 && text[i - 1] == '(';
    if (std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '.' || sign) {
      word += c;
    } else {
      finish();
    }
  }
  finish();
  return out;
}

std::size_t count_lines(const std::vector<LessonStep>& steps) {
  std::size_t count = 0;
  for (const LessonStep& step : steps) count += step.lines.size();
  return count;
}

/// Every number of the steps is one that was given or the printed result of a line above it.
void check_carried(const Lesson& lesson) {
  std::map<std::string, std::string> values;
  for (const LessonKnown& one : lesson.known) {
    values[one.symbol] = one.value.substr(0, one.value.find(' '));
  }
  const auto check = [&](const LessonStep& step) {
    for (const LessonLine& line : step.lines) {
      const auto names = tokens(line.formula);
      const auto numbers = tokens(line.numbers);
      CAPTURE(line.formula, line.numbers);
      REQUIRE(names.size() == numbers.size());
      for (std::size_t i = 0; i < names.size(); ++i) {
        const auto known = values.find(names[i]);
        if (known != values.end()) CHECK(numbers[i] == known->second);
      }
      values[line.symbol] = line.result;
    }
  };
  for (const LessonStep& step : lesson.steps) check(step);
  for (const LessonStep& step : lesson.exercises) check(step);
}

const LessonLine* find_line(const std::vector<LessonStep>& steps, const std::string& symbol) {
  for (const LessonStep& step : steps) {
    for (const LessonLine& line : step.lines) {
      if (line.symbol == symbol) return &line;
    }
  }
  return nullptr;
}

double number(const std::vector<LessonStep>& steps, const std::string& symbol) {
  const LessonLine* line = find_line(steps, symbol);
  INFO(symbol);
  REQUIRE(line);
  return std::stod(line->result);
}

/// The suspect whose foretold number is nearest to what was found must be the one of the key.
void check_fault(const Lesson& lesson) {
  const LessonStep& fault = lesson.exercises.back();
  const double found = number({fault}, "d");
  std::size_t nearest = 0;
  double least = 1e9;
  for (std::size_t i = 1; find_line({fault}, "d" + std::to_string(i)); ++i) {
    const double off = std::fabs(number({fault}, "d" + std::to_string(i)) - found);
    if (off < least) {
      least = off;
      nearest = i;
    }
  }
  CAPTURE(fault.after, found);
  CHECK(std::fabs(found) > 1);  // beyond what the check after mounting accepts
  CHECK(fault.after.rfind("Cause (" + std::to_string(nearest) + ")", 0) == 0);
}

void check_comparisons(const Lesson& lesson) {
  for (const LessonComparison& one : lesson.comparisons) {
    CAPTURE(one.what, one.steps, one.program, one.allowed);
    CHECK(std::fabs(std::stod(one.steps) - std::stod(one.program)) <=
          std::stod(one.allowed) + half_digit(one.program));
  }
}

void check_mistakes(const Lesson& lesson, const Plan& plan, bool us) {
  const double unit_mm = us ? 25.4 : 1;
  const double right_mm = plan.path->ray.mark_spacing_m * 1e3;
  std::size_t numbers = 0;
  for (const LessonMistake& one : lesson.mistakes) {
    CAPTURE(one.answer, one.what);
    if (std::isdigit(static_cast<unsigned char>(one.answer[0])) == 0 && one.answer[0] != '-') {
      continue;
    }
    ++numbers;
    const double wrong_mm = std::stod(one.answer) * unit_mm;
    // Both as they would be set on the pipe, to the millimetre.
    CHECK(std::fabs(wrong_mm - right_mm) > 0.85);
    CHECK(std::round(wrong_mm) != std::round(right_mm));
  }
  CHECK(numbers >= 6);
}

// ---------------------------------------------------------------- over seeds

TEST_CASE("lesson: every line of every seed recomputes, and ends where the plan does",
          "[sheets][lesson]") {
  const Catalogue catalogue;
  for (const char* name : example_names) {
    const PlannedJob example = planned_text(example_text(name));
    const Plan& own = example.variants.front().plan;
    std::set<std::string> texts;
    std::set<double> diameters;
    for (std::uint64_t seed = 0; seed < seeds; ++seed) {
      CAPTURE(name, seed);
      const auto varied = vary_job(example, seed, catalogue);
      REQUIRE(varied);
      const PlannedVariant& drawn = varied->variants.front();
      const Plan& plan = drawn.plan;
      CHECK(plan.verdict != Verdict::stop);
      CHECK(plan.traverses == own.traverses);
      CHECK(plan.wall_mode == own.wall_mode);
      CHECK(drawn.job.pipe.liner.has_value() ==
            example.variants.front().job.pipe.liner.has_value());
      if (plan.same_side()) CHECK(*plan.path->face_gap_m > 0);
      diameters.insert(drawn.job.pipe.outside_diameter_m.value);
      for (const UnitSystem units : {UnitSystem::metric, UnitSystem::us}) {
        const bool us = units == UnitSystem::us;
        const Lesson lesson = lesson_of(*varied, units, seed);
        const std::string text = lesson_text(lesson, false, {.units = units, .utf8 = true});
        const auto sums = printed_sums(text);
        CHECK(sums.size() == count_lines(lesson.estimates) + count_lines(lesson.steps) +
                                 count_lines(lesson.exercises));
        std::size_t wrong = 0;
        for (const LessonLine& line : sums) {
          if (agrees(line)) continue;
          ++wrong;
          UNSCOPED_INFO(line.symbol << " = " << line.numbers << " = " << line.result);
        }
        CHECK(wrong == 0);
        check_carried(lesson);
        check_comparisons(lesson);
        check_mistakes(lesson, plan, us);
        check_fault(lesson);

        const double unit_m = us ? 0.0254 : 1e-3;
        const double spacing_m = number(lesson.steps, "M") * unit_m;
        CHECK(std::fabs(spacing_m - plan.path->ray.mark_spacing_m) < 0.5e-3);
        CHECK(std::fabs(number(lesson.estimates, "Me") * unit_m / spacing_m - 1) <= 0.15);
        CHECK(std::fabs(number(lesson.estimates, "te") / number(lesson.steps, "tf") - 1) <= 0.15);
        texts.insert(text);
      }
    }
    CHECK(texts.size() == 2 * seeds);
    CHECK(diameters.size() >= 3);
  }
}

TEST_CASE("lesson: the same seed gives the same bytes", "[sheets][lesson]") {
  const Catalogue catalogue;
  const PlannedJob example = planned_text(example_text("lesson-lined"));
  const auto text = [&] {
    const auto varied = vary_job(example, 31, catalogue);
    REQUIRE(varied);
    return lesson_html(lesson_of(*varied, UnitSystem::us, 31), true);
  };
  CHECK(text() == text());
}

TEST_CASE("lesson: the generator gives the published numbers", "[sheets][lesson]") {
  // Rosetta Code, "Pseudo-random numbers/Splitmix64", seed 1234567.
  SplitMix64 random(1234567);
  CHECK(random.next() == 6457827717110365317ULL);
  CHECK(random.next() == 3203168211198807973ULL);
  CHECK(random.next() == 9817491932198370423ULL);
  CHECK(random.next() == 4593380528125082431ULL);
  CHECK(random.next() == 16408922859458223821ULL);
  for (int i = 0; i < 1000; ++i) {
    const double drawn = random.between(2.5, 6, 0.5);
    CHECK((drawn >= 2.5 && drawn <= 6));
    CHECK(std::fabs(2 * drawn - std::round(2 * drawn)) < 1e-12);
  }
}

// ---------------------------------------------------------------- the numbers

TEST_CASE("lesson: published refraction and friction come out of the steps", "[sheets][lesson]") {
  // NDT course slides "Snell's law": 2700 to 3250 m/s at 37.9 deg gives 47.7 deg.
  const std::vector<std::string> sets = {
      R"(sensors={ "key": "own", "frequency": "1 MHz", "element": "12 mm",
        "wedge": { "sound_speed": "2700 m/s", "angle": "37.9 deg", "path": "14 mm" },
        "setback": "14 mm", "nose": "16 mm", "length": "58 mm" })",
      R"(pipe.material={ "name": "test steel", "longitudinal": "5960 m/s", "shear": "3250 m/s" })",
      "pipe.size=",
      "pipe.outside_diameter=110 mm",
      "pipe.wall=5 mm",
      "pipe.roughness=0.23 mm",
      "fluid.viscosity=1 mm2/s",
      "flow.rate=",
      "flow.velocity=0.6 m/s",
      "flow.least=",
      "flow.most="};
  const Lesson lesson = lesson_of(planned(sets), UnitSystem::metric);
  CHECK(number(lesson.steps, "beta") == Approx(47.7).margin(0.05));
  CHECK(number(lesson.steps, "D") == 100);
  CHECK(number(lesson.steps, "Re") == 60000);
  // Documentation of an open-source friction package: Re 6e4, e/D 0.0023 gives f = 0.027.
  const double y = number(lesson.steps, "y3");
  CHECK(1 / (y * y) == Approx(0.027).margin(0.0005));
}

TEST_CASE("lesson: bore and velocity of a US pipe as handbooks have them", "[sheets][lesson]") {
  // ASME B36.10M: NPS 6 schedule 40 is 6.625 in outside, 0.280 in wall, 6.065 in inside.
  // Velocity in ft/s = 0.4085 gpm / (inside diameter in inches squared): trade form, from memory.
  const Lesson lesson =
      lesson_of(planned({"flow.rate=400 gpm", "flow.least=", "flow.most="}), UnitSystem::us);
  CHECK(number(lesson.steps, "D") == Approx(6.065).margin(0.0015));
  CHECK(number(lesson.steps, "V") == Approx(0.4085 * 400 / (6.065 * 6.065)).epsilon(1e-3));
}

TEST_CASE("lesson: metric and US twins are the same lesson", "[sheets][lesson]") {
  for (const char* name : example_names) {
    CAPTURE(name);
    const PlannedJob job = planned_text(example_text(name));
    const Lesson metric = lesson_of(job, UnitSystem::metric);
    const Lesson us = lesson_of(job, UnitSystem::us);
    REQUIRE(metric.steps.size() == us.steps.size());
    for (std::size_t i = 0; i < metric.steps.size(); ++i) {
      CHECK(metric.steps[i].title == us.steps[i].title);
    }
    CHECK(number(us.steps, "M") * 25.4 == Approx(number(metric.steps, "M")).margin(0.5));
    CHECK(number(us.steps, "dt") == Approx(number(metric.steps, "dt")).epsilon(2e-3));
    CHECK(number(us.steps, "K") == Approx(number(metric.steps, "K")).margin(2e-4));
  }
}

TEST_CASE("lesson: mistakes are what they say", "[sheets][lesson]") {
  // By hand from the plan's own angles; NPS 6 is 150 mm nominal, 168.3 x 7.11 mm.
  const PlannedJob job = planned();
  const RayPath& ray = job.variants.front().plan.path->ray;
  const Lesson lesson = lesson_of(job, UnitSystem::metric);
  const auto answer = [&](const std::string& words) {
    for (const LessonMistake& one : lesson.mistakes) {
      if (one.what.find(words) != std::string::npos) return std::stod(one.answer);
    }
    FAIL(words);
    return 0.0;
  };
  const double tangent = std::tan(ray.liquid_leg.angle_rad);
  const double wall_mm = 2e3 * ray.layer_legs[0].run_m;
  const double sine = std::sin(ray.liquid_leg.angle_rad);
  CHECK(answer("taken for the bore") == Approx(300 * tangent + wall_mm + 28).margin(0.06));
  CHECK(answer("for the outside diameter") ==
        Approx(2 * (150 - 14.22) * tangent + wall_mm + 28).margin(0.06));
  CHECK(answer("one wall was forgotten") ==
        Approx(2 * 161.19 * tangent + wall_mm + 28).margin(0.06));
  CHECK(answer("setbacks were forgotten") == Approx(ray.exit_spacing_m * 1e3).margin(0.06));
  CHECK(answer("sine was taken") ==
        Approx(2 * 154.08 * sine + 2 * 7.11 * std::sin(ray.layer_legs[0].angle_rad) + 28)
            .margin(0.06));
  // 38 radians: sin(38) = 0.2964 (38 - 12 pi = 0.3009).
  const double slower = 0.29637 / std::sin(38 * std::numbers::pi / 180);
  const double liquid = slower * sine;
  const double wall = slower * std::sin(ray.layer_legs[0].angle_rad);
  CHECK(answer("radians") == Approx(308.16 * liquid / std::sqrt(1 - liquid * liquid) +
                                    14.22 * wall / std::sqrt(1 - wall * wall) + 28)
                                 .margin(0.1));
  // The longitudinal wave outruns the trace speed: no angle at all.
  bool no_angle = false;
  for (const LessonMistake& one : lesson.mistakes) {
    no_angle = no_angle || (one.what.find("longitudinal") != std::string::npos &&
                            one.answer.find("error") != std::string::npos);
  }
  CHECK(no_angle);
}

TEST_CASE("lesson: sensitivities agree with the plan's", "[sheets][lesson]") {
  const PlannedJob job = planned();
  const Lesson lesson = lesson_of(job, UnitSystem::metric);
  for (const Sensitivity& one : job.variants.front().plan.sensitivity) {
    const bool diameter = one.input == "pipe.outside_diameter";
    if (!diameter && one.input != "pipe.wall") continue;
    CHECK(number(lesson.steps, diameter ? "M1" : "M2") ==
          Approx(one.mark_spacing_m * 1e3).margin(0.02));
    CHECK(number(lesson.steps, diameter ? "F1" : "F2") == Approx(*one.flow_percent).margin(0.02));
  }
}

TEST_CASE("lesson: layers, girth, oval and laminar pipes", "[sheets][lesson]") {
  const std::vector<std::vector<std::string>> changes = {
      {R"(pipe.coating={ "material": "epoxy", "thickness": "0.3 mm" })"},
      {"pipe.size=", "pipe.girth=529 mm", "pipe.wall=7.1 mm"},
      {"pipe.outside_diameter=168.0 mm", "pipe.across=169.0 mm"},
      {"fluid.viscosity=400 mm2/s"},
      {"pipe.deposit=1 mm"},
      {"meter.fluid_time=computed"},
      {"flow.rate=", "flow.least=", "flow.most="},
      {"flow.rate=60 t/h", "flow.least=", "flow.most="},
      {R"(pipe.material=PVC)", "pipe.size=", "pipe.outside_diameter=168 mm", "pipe.wall=7 mm"},
      {"sensors=demo-500khz", "path.traverses=3"},
  };
  for (const auto& sets : changes) {
    CAPTURE(sets);
    const PlannedJob job = planned(sets);
    for (const UnitSystem units : {UnitSystem::metric, UnitSystem::us}) {
      const Lesson lesson = lesson_of(job, units);
      check_carried(lesson);
      check_comparisons(lesson);
      for (const auto* part : {&lesson.estimates, &lesson.steps, &lesson.exercises}) {
        for (const LessonStep& step : *part) {
          for (const LessonLine& line : step.lines) {
            CAPTURE(line.symbol, line.numbers, line.result);
            CHECK(agrees(line));
          }
        }
      }
    }
  }
  CHECK(number(lesson_of(planned(changes[3]), UnitSystem::metric).steps, "K") == 0.75);
}

// ---------------------------------------------------------------- exercise and key

TEST_CASE("lesson: the exercise tells no answer before the key", "[sheets][lesson]") {
  const Catalogue catalogue;
  for (const char* name : example_names) {
    const PlannedJob example = planned_text(example_text(name));
    const auto varied = vary_job(example, 5, catalogue);
    REQUIRE(varied);
    const Lesson lesson = lesson_of(*varied, UnitSystem::metric, 5);
    const std::string html = lesson_html(lesson, true);
    const std::string markdown = lesson_markdown(lesson, true);
    const std::string text = lesson_text(lesson, true, {});
    const std::vector<std::pair<std::string, std::size_t>> sheets = {
        {text, text.find('\f')},
        {markdown, markdown.find("\n---\n")},
        {html, html.find("<section class=\"key\">")}};
    for (const auto& [whole, cut] : sheets) {
      REQUIRE(cut != std::string::npos);
      const std::string exercise = whole.substr(0, cut), key = whole.substr(cut);
      for (const auto* part : {&lesson.estimates, &lesson.steps, &lesson.exercises}) {
        for (const LessonStep& step : *part) {
          for (const LessonLine& line : step.lines) {
            CAPTURE(name, line.symbol, line.result);
            CHECK(exercise.find("= " + line.result + " " + line.unit) == std::string::npos);
            const std::string digits = line.result[0] == '-' ? line.result.substr(1) : line.result;
            CHECK(key.find(digits) != std::string::npos);
          }
          if (!step.after.empty()) {
            CHECK(exercise.find(step.after.substr(0, 30)) == std::string::npos);
          }
        }
      }
      // The answer itself nowhere, whatever stands before it.
      CHECK(exercise.find(find_line(lesson.steps, "M")->result) == std::string::npos);
      CHECK(exercise.find(lesson.mistakes.front().answer) == std::string::npos);
      for (const std::string& half : {exercise, key}) {
        CHECK(half.find("seed 5") != std::string::npos);
      }
      CHECK(key.find("setbacks were forgotten") != std::string::npos);
    }
  }
}

TEST_CASE("lesson: text keeps to 80 columns, HTML is one page that runs nothing",
          "[sheets][lesson]") {
  for (const char* name : example_names) {
    const PlannedJob job = planned_text(example_text(name));
    for (const UnitSystem units : {UnitSystem::metric, UnitSystem::us}) {
      for (const bool blanks : {false, true}) {
        const Lesson lesson = lesson_of(job, units);
        for (const std::string& line : lines_of(lesson_text(lesson, blanks, {units, true}))) {
          CAPTURE(line);
          CHECK(columns(line) <= 80);
        }
        const std::string html = lesson_html(lesson, blanks);
        CHECK(html.find("<script") == std::string::npos);
        CHECK(html.find("http") == std::string::npos);
        CHECK(html.find("<img") == std::string::npos);
        CHECK(html.find("training data") != std::string::npos);
      }
    }
  }
}

TEST_CASE("lesson: texts of the job stay texts", "[sheets][lesson]") {
  const std::string long_word(500, 'w');
  const PlannedJob job = planned({
      "tag=<script>alert(1)</script>",
      "title=a|b *c* [d](javascript:e) `f` \xE2\x80\xAE turned " + long_word,
      "site=\"><img src=x onerror=y>",
  });
  const Lesson lesson = lesson_of(job, UnitSystem::metric);
  const std::string html = lesson_html(lesson, true);
  CHECK(html.find("<script>alert") == std::string::npos);
  CHECK(html.find("<img") == std::string::npos);
  CHECK(html.find("\xE2\x80\xAE") == std::string::npos);
  CHECK(html.find("&lt;script&gt;") != std::string::npos);
  const std::string markdown = lesson_markdown(lesson, true);
  CHECK(markdown.find("<script>") == std::string::npos);
  CHECK(markdown.find("\\<script\\>") != std::string::npos);
  CHECK(markdown.find("\\[d\\]") != std::string::npos);
  CHECK(markdown.find("a\\|b \\*c\\*") != std::string::npos);
  for (const std::string& line : lines_of(lesson_text(lesson, true, {}))) {
    CHECK(columns(line) <= 80);
  }
  for (const char c : lesson_text(lesson, false, {.units = UnitSystem::metric, .utf8 = false})) {
    CHECK(static_cast<unsigned char>(c) < 0x80);
  }
}

TEST_CASE("lesson: what can't be taught says why in one line", "[sheets][lesson]") {
  using Catch::Contains;
  CHECK_THAT(refusal({R"(pipe.size={ "one_of": ["NPS 6 sch 40", "NPS 6 sch 80"] })"}),
             Contains("2 candidates"));
  CHECK_THAT(refusal({"location.clock=12"}), Contains("is a stop"));
  CHECK_THAT(refusal({"path.wall_mode=longitudinal"}), Contains("is a stop"));
  CHECK_THAT(refusal({"fluid.viscosity=45 mm2/s"}), Contains("Reynolds number"));
  CHECK_THAT(refusal({"fluid.name=secret soup", "fluid.sound_speed=1500 m/s"}),
             Contains("viscosity"));
  CHECK(refusal({}).empty());
  for (const auto& sets : {std::vector<std::string>{"location.clock=12"},
                           std::vector<std::string>{"fluid.viscosity=45 mm2/s"}}) {
    CHECK(refusal(sets).find('\n') == std::string::npos);
  }
}

}  // namespace
}  // namespace slantrule::test
