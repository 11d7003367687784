#include "lesson_term.hpp"

#include <fmt/format.h>

#include <cmath>
#include <numbers>

namespace slantrule {
namespace {

constexpr double inch_m = 0.0254;
constexpr double foot_m = 0.3048;
constexpr double gallon_m3 = 3.785411784e-3;
constexpr double pound_per_cubic_foot_kg_m3 = 16.01846337396014;
constexpr double degree = std::numbers::pi / 180;

struct KindRow {
  LessonKind kind;
  std::string_view metric_unit;
  int metric_decimals;
  double metric_si;  ///< of one metric unit
  std::string_view us_unit;
  int us_decimals;
  double us_si;
};

constexpr KindRow kinds[] = {
    {LessonKind::length, "mm", 2, 1e-3, "in", 3, inch_m},
    {LessonKind::round_length, "mm", 0, 1e-3, "in", 1, inch_m},
    {LessonKind::roughness, "mm", 4, 1e-3, "in", 5, inch_m},
    {LessonKind::angle, "deg", 2, degree, "deg", 2, degree},
    {LessonKind::sound_speed, "m/s", 1, 1, "ft/s", 0, foot_m},
    {LessonKind::speed_slope, "m/s per K", 2, 1, "ft/s per degF", 2, foot_m * 1.8},
    {LessonKind::velocity, "m/s", 4, 1, "ft/s", 3, foot_m},
    {LessonKind::time, "us", 3, 1e-6, "us", 3, 1e-6},
    {LessonKind::round_time, "us", 0, 1e-6, "us", 0, 1e-6},
    {LessonKind::nanoseconds, "ns", 2, 1e-9, "ns", 2, 1e-9},
    {LessonKind::volume_flow, "m3/h", 2, 1 / 3600.0, "gpm", 1, gallon_m3 / 60},
    {LessonKind::area, "cm2", 2, 1e-4, "in2", 2, inch_m* inch_m},
    {LessonKind::temperature, "degC", 1, 1, "degF", 1, 1},
    {LessonKind::density, "kg/m3", 1, 1, "lb/ft3", 2, pound_per_cubic_foot_kg_m3},
    {LessonKind::viscosity, "mPa s", 4, 1e-3, "mPa s", 4, 1e-3},
    {LessonKind::kinematic, "mm2/s", 4, 1e-6, "mm2/s", 4, 1e-6},
    {LessonKind::whole, "", 0, 1, "", 0, 1},
    {LessonKind::factor, "", 4, 1, "", 4, 1},
    {LessonKind::root, "", 3, 1, "", 3, 1},
    {LessonKind::diameters, "D", 2, 1, "D", 2, 1},
    {LessonKind::percent, "%", 2, 0.01, "%", 2, 0.01},
};

const KindRow& row_of(LessonKind kind) {
  return kinds[static_cast<std::size_t>(kind)];
}

double sine_deg(double angle) {
  return std::sin(angle * degree);
}
double cosine_deg(double angle) {
  return std::cos(angle * degree);
}
double tangent_deg(double angle) {
  return std::tan(angle * degree);
}
double arc_sine_deg(double sine) {
  return std::asin(sine) / degree;
}

}  // namespace

LessonKindInfo kind_info(LessonKind kind, UnitSystem units) {
  const KindRow& row = row_of(kind);
  return units == UnitSystem::us ? LessonKindInfo{row.us_unit, row.us_decimals}
                                 : LessonKindInfo{row.metric_unit, row.metric_decimals};
}

double in_lesson_unit(double si, LessonKind kind, UnitSystem units) {
  const bool us = units == UnitSystem::us;
  if (kind == LessonKind::temperature) {
    const double celsius = si - 273.15;
    return us ? celsius * 1.8 + 32 : celsius;
  }
  const KindRow& row = row_of(kind);
  return si / (us ? row.us_si : row.metric_si);
}

double rounded_to(double value, int decimals) {
  const double scale = std::pow(10.0, decimals);
  const double steps = std::floor(std::fabs(value) * scale + 0.5 + 1e-7);
  return std::copysign(steps / scale, steps > 0 ? value : 1.0);
}

std::string rounded_text(double value, int decimals) {
  return fmt::format("{:.{}f}", rounded_to(value, decimals), decimals);
}

std::string Term::held(const std::string& text, Binding has, Binding needs) {
  return has < needs ? "(" + text + ")" : text;
}

Term::Term(double literal)
    : symbols_(fmt::format("{:.10g}", literal)),
      numbers_(symbols_),
      value_(literal),
      exact_(literal) {}

Term Term::named(std::string symbol, double value, int decimals, double exact, double error) {
  return named(std::move(symbol), rounded_text(value, decimals), rounded_to(value, decimals), exact,
               error);
}

Term Term::named(std::string symbol, std::string text, double value, double exact, double error) {
  Term term;
  term.symbols_ = std::move(symbol);
  term.numbers_ = std::move(text);
  if (value < 0) term.numbers_ = "(" + term.numbers_ + ")";
  term.value_ = value;
  term.exact_ = exact;
  term.error_ = error;
  return term;
}

Term Term::joined(const Term& a, std::string_view sign, const Term& b, Binding binding,
                  bool right_needs_more) {
  // Behind "-" and "/" a term of the same binding is held together.
  const Binding right = !right_needs_more         ? binding
                        : binding == Binding::sum ? Binding::product
                                                  : Binding::atom;
  Term out;
  const auto join = [&](const std::string& left_text, Binding left_binding,
                        const std::string& right_text, Binding right_binding) {
    return fmt::format("{} {} {}", held(left_text, left_binding, binding), sign,
                       held(right_text, right_binding, right));
  };
  out.symbols_ = join(a.symbols_, a.symbols_binding_, b.symbols_, b.symbols_binding_);
  out.numbers_ = join(a.numbers_, a.numbers_binding_, b.numbers_, b.numbers_binding_);
  out.symbols_binding_ = out.numbers_binding_ = binding;
  return out;
}

Term operator+(const Term& a, const Term& b) {
  Term out = Term::joined(a, "+", b, Term::Binding::sum, false);
  out.value_ = a.value_ + b.value_;
  out.exact_ = a.exact_ + b.exact_;
  out.error_ = a.error_ + b.error_;
  return out;
}

Term operator-(const Term& a, const Term& b) {
  Term out = Term::joined(a, "-", b, Term::Binding::sum, true);
  out.value_ = a.value_ - b.value_;
  out.exact_ = a.exact_ - b.exact_;
  out.error_ = a.error_ + b.error_;
  return out;
}

Term operator*(const Term& a, const Term& b) {
  Term out = Term::joined(a, "x", b, Term::Binding::product, false);
  out.value_ = a.value_ * b.value_;
  out.exact_ = a.exact_ * b.exact_;
  out.error_ = std::fabs(b.value_) * a.error_ + std::fabs(a.value_) * b.error_;
  return out;
}

Term operator/(const Term& a, const Term& b) {
  Term out = Term::joined(a, "/", b, Term::Binding::product, true);
  out.value_ = a.value_ / b.value_;
  out.exact_ = a.exact_ / b.exact_;
  out.error_ = (a.error_ + std::fabs(out.value_) * b.error_) / std::fabs(b.value_);
  return out;
}

Term call(std::string_view name, const Term& argument, double (*function)(double),
          double (*slope)(double)) {
  Term out;
  out.symbols_ = fmt::format("{}({})", name, argument.symbols_);
  out.numbers_ = fmt::format("{}({})", name, argument.numbers_);
  out.value_ = function(argument.value_);
  out.exact_ = function(argument.exact_);
  out.error_ = std::fabs(slope(argument.value_)) * argument.error_;
  return out;
}

Term sine(const Term& angle) {
  return call("sin", angle, sine_deg, [](double x) { return degree * cosine_deg(x); });
}

Term cosine(const Term& angle) {
  return call("cos", angle, cosine_deg, [](double x) { return degree * sine_deg(x); });
}

Term tangent(const Term& angle) {
  return call("tan", angle, tangent_deg,
              [](double x) { return degree / (cosine_deg(x) * cosine_deg(x)); });
}

Term arc_sine(const Term& sine) {
  return call("asin", sine, arc_sine_deg,
              [](double x) { return 1 / (degree * std::sqrt(1 - x * x)); });
}

Term square_root(const Term& a) {
  return call(
      "sqrt", a, [](double x) { return std::sqrt(x); },
      [](double x) { return 0.5 / std::sqrt(x); });
}

Term common_logarithm(const Term& a) {
  return call(
      "log10", a, [](double x) { return std::log10(x); },
      [](double x) { return std::numbers::log10e / x; });
}

Term pi_term() {
  return Term::named("pi", "pi", std::numbers::pi, std::numbers::pi, 0);
}

}  // namespace slantrule
