// How numbers and texts are shown. Expected texts follow from the definitions of the units
// (1 in = 25.4 mm, 1 ft = 304.8 mm, 1 US gal = 231 in3, 1 lbf = 4.4482216152605 N) by hand.

#include "slantrule/sheets/display.hpp"

#include <catch2/catch.hpp>
#include <limits>
#include <string>

#include "slantrule/planning/check_table.hpp"
#include "slantrule/sheets/text_layout.hpp"

using namespace slantrule;
using Catch::Matchers::Contains;

namespace {
constexpr Display metric;
constexpr Display us{.units = UnitSystem::us};
constexpr Display ascii{.utf8 = false};
}  // namespace

TEST_CASE("display: lengths") {
  struct Row {
    double length_m;
    const char* metric_text;
  };
  const auto row = GENERATE(values<Row>({{0, "0 mm"},
                                         {4.5e-5, "0.045 mm"},
                                         {1.5e-6, "0.0015 mm"},
                                         {7.11e-3, "7.11 mm"},
                                         {3.2e-3, "3.2 mm"},
                                         {0.0145, "14.5 mm"},
                                         {0.1683, "168.3 mm"},
                                         {0.6, "600 mm"},
                                         {-0.012, "-12 mm"},
                                         {2.1, "2.10 m"},
                                         {12, "12.00 m"}}));
  CHECK(length_text(row.length_m, metric) == row.metric_text);

  CHECK_THAT(length_text(0.0254, us), Contains("1.0") && Contains(" in"));
  CHECK_THAT(length_text(3.048, us), Contains("10.00 ft"));  // 120 in
  CHECK_THAT(length_text(2.54, us), Contains("100.00 in"));
}

TEST_CASE("display: a setting is rounded to its step, never elsewhere") {
  CHECK(setting_text(0.16751, 1e-3, metric) == "168 mm");
  CHECK(setting_text(0.16749, 1e-3, metric) == "167 mm");
  CHECK(setting_text(0.08324, 0.5e-3, metric) == "83.0 mm");
  CHECK(setting_text(0.08326, 0.5e-3, metric) == "83.5 mm");
  CHECK(setting_text(-0.0021, 0.5e-3, metric) == "-2.0 mm");
  CHECK(setting_text(-0.0002, 0.5e-3, metric) == "0.0 mm");  // never "-0.0"
  CHECK(setting_text(0.1683, 5e-3, metric) == "170 mm");     // holes of a rail
  CHECK(setting_text(0.1, 1e-3, us) == "3.94 in");           // 100 / 25.4 = 3.937
}

TEST_CASE("display: steps of a rail that are no half millimetres keep their decimals") {
  // 0.16751 m / 0.25 mm = 670.04 -> 670 * 0.25 = 167.50; 671 * 0.25 = 167.75.
  CHECK(setting_text(0.16751, 0.25e-3, metric) == "167.50 mm");
  CHECK(setting_text(0.16775, 0.25e-3, metric) == "167.75 mm");
  CHECK(setting_text(0.16240, 1.2e-3, metric) == "162.0 mm");  // 135 steps
  // A 1/16 inch: 0.1675 m / 1.5875 mm = 105.5 -> 106 * 1.5875 = 168.275 mm.
  CHECK(setting_text(0.16752, 1.5875e-3, metric) == "168.275 mm");
}

TEST_CASE("display: temperatures, pressures, velocities, flows, times") {
  CHECK(temperature_text(280.15, metric) == "7.0 degC");
  CHECK(temperature_text(280.15, us) == "44.6 degF");  // 7 * 1.8 + 32
  CHECK(temperature_text(273.13, metric) == "0.0 degC");
  CHECK(pressure_text(501325, metric) == "5.01 bar absolute");
  CHECK(pressure_text(2339, metric) == "0.023 bar absolute");
  CHECK(pressure_text(101325, us) == "14.7 psi absolute");  // 14.696
  CHECK(velocity_text(0.8939, metric) == "0.894 m/s");
  CHECK(velocity_text(12.34, metric) == "12.3 m/s");
  CHECK(velocity_text(0.0086, metric) == "8.60 mm/s");
  CHECK(velocity_text(0.3048, us) == "1.00 ft/s");
  CHECK(sound_speed_text(1435.56, metric) == "1435.6 m/s");
  CHECK(sound_speed_text(1500, us) == "4921 ft/s");  // 1500 / 0.3048 = 4921.26
  CHECK(flow_text(60.0 / 3600, metric) == "60.0 m3/h");
  CHECK(flow_text(110.0 / 3600, metric) == "110 m3/h");
  CHECK(flow_text(60.0 / 3600, us) == "264 US gpm");  // 60 / 0.2271247 = 264.17
  CHECK(time_text(249.308e-6) == "249.31 us");
  CHECK(time_text(110.2e-9) == "110.20 ns");
  CHECK(time_text(-110.2e-9) == "-110.20 ns");
  CHECK(diameters_text(13.629) == "13.63 D");
  CHECK(diameters_text(10) == "10 D");
  CHECK(angle_text(0.6632251157578453) == "38 deg");
}

TEST_CASE("display: values of findings") {
  CHECK(value_text({12.5, ValueKind::percent}, metric) == "12.5 %");
  CHECK(value_text({0.25, ValueKind::percent}, metric) == "0.25 %");
  CHECK(value_text({9.5, ValueKind::clock_h}, metric) == "9:30");
  CHECK(value_text({1e6, ValueKind::frequency_Hz}, metric) == "1 MHz");
  CHECK(value_text({10, ValueKind::temperature_difference_K}, us) == "18 degF");
  CHECK(value_text({3, ValueKind::count}, metric) == "3");
  CHECK(value_text({}, metric) == "an unknown amount");
}

TEST_CASE("display: every kind of value is shown, whatever the number") {
  for (int kind = 0; kind <= static_cast<int>(ValueKind::time_s); ++kind) {
    for (double value : {0.0, -0.0, 1e-12, -3.4, 1e12, -1e12, 1e300}) {
      for (const Display& display : {metric, us}) {
        CAPTURE(kind, value);
        const std::string text = value_text({value, static_cast<ValueKind>(kind)}, display);
        CHECK(!text.empty());
        CHECK(text != "-0");
        CHECK(text.rfind("-0 ", 0) != 0);
      }
    }
  }
}

TEST_CASE(
    "display: texts of a job lose their control characters and, where needed, all but ASCII") {
  CHECK(job_text("Pumpenhaus S\xC3\xBC"
                 "d",
                 metric) ==
        "Pumpenhaus S\xC3\xBC"
        "d");
  CHECK(job_text("Pumpenhaus S\xC3\xBC"
                 "d",
                 ascii) == "Pumpenhaus S?d");
  CHECK(job_text("\x1b[31mred\x07\n", metric) == "?[31mred??");
  CHECK(job_text("\xC2\x9B"
                 "31m",
                 metric) == "?31m");                   // C1: control sequence introducer
  CHECK(job_text("a\xE2\x80\xAEz", metric) == "a?z");  // right-to-left override
  CHECK(job_text("\xF0\x9F\x92\xA7", ascii) == "?");   // one character, one mark
  CHECK(columns(job_text(std::string(5000, 'x'), metric)) <= 403);
}

TEST_CASE("display: every check's words come out whole, with their numbers") {
  for (const CheckInfo& info : check_table()) {
    Finding finding;
    finding.check = info.check;
    finding.subject = "SUBJECT\x1b";
    finding.values = {{{1.5, ValueKind::length_m},
                       {2.5, ValueKind::length_m},
                       {3.5, ValueKind::percent},
                       {4.5, ValueKind::percent}}};
    CAPTURE(info.id);
    for (const Display& display : {metric, us, ascii}) {
      const FindingText text = finding_text(finding, display);
      CHECK(!text.message.empty());
      CHECK(!text.mend.empty());
      // No placeholder and no control character is left.
      for (const std::string& one : {text.message, text.mend}) {
        CHECK_THAT(one, !Contains("{0}") && !Contains("{1}") && !Contains("{2}") &&
                            !Contains("{3}") && !Contains("{s}"));
        for (char c : one) CHECK(static_cast<unsigned char>(c) >= 0x20);
      }
      CHECK_THAT(text.message.substr(0, 1), !Catch::Matchers::Matches("[a-z]"));
    }
    // Each number the row names is in its text.
    const FindingText text = finding_text(finding, metric);
    const std::string all = text.message + text.mend;
    if (info.message.find("{0}") != std::string_view::npos) CHECK_THAT(all, Contains("1500 mm"));
    if (info.message.find("{1}") != std::string_view::npos) CHECK_THAT(all, Contains("2.50 m"));
    if (info.message.find("{s}") != std::string_view::npos) CHECK_THAT(all, Contains("UBJECT?"));
  }
}
