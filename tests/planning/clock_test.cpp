#include "slantrule/planning/clock.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

using namespace slantrule;

TEST_CASE("clock positions as people write them", "[planning]") {
  struct Row {
    const char* text;
    double hours;
  };
  const Row row = GENERATE(values<Row>({
      {"3", 3},
      {"12", 0},
      {"0", 0},
      {"9:30", 9.5},
      {"12:30", 0.5},
      {"1:20", 1 + 20.0 / 60},
      {"03:05", 3 + 5.0 / 60},
      {" 6 ", 6},
      {"3 o'clock", 3},
      {"3 o’clock", 3},
      {"10h", 10},
  }));
  CAPTURE(row.text);
  const auto read = read_clock_h(row.text);
  REQUIRE(read);
  CHECK(*read == Approx(row.hours).epsilon(1e-15));
}

TEST_CASE("what is no clock position", "[planning]") {
  const char* text =
      GENERATE("", " ", "13", "-3", "+3", "3:", "3:5", "3:60", "3:-5", "3:005", "3.5", "three",
               "3:00:00", ":30", "15:00", "45 deg", "3 4", "99999999999");
  CAPTURE(text);
  CHECK_FALSE(read_clock_h(text));
}

TEST_CASE("clock positions as the sheet writes them", "[planning]") {
  CHECK(clock_text(3) == "3");
  CHECK(clock_text(9.5) == "9:30");
  CHECK(clock_text(0) == "12");
  CHECK(clock_text(0.5) == "12:30");
  CHECK(clock_text(1 + 5.0 / 60) == "1:05");
  // Half a minute short of twelve is twelve, not 11:60.
  CHECK(clock_text(12 - 0.4 / 60) == "12");
  // Every minute comes back.
  for (int minute = 0; minute < 720; ++minute) {
    const auto back = read_clock_h(clock_text(minute / 60.0));
    REQUIRE(back);
    CHECK(std::lround(*back * 60) == minute);
  }
}

TEST_CASE("the other end of a diameter", "[planning]") {
  CHECK(opposite_clock_h(3) == 9);
  CHECK(opposite_clock_h(9) == 3);
  CHECK(opposite_clock_h(0) == 6);
  CHECK(opposite_clock_h(10.5) == 4.5);
}

TEST_CASE("angle of a diameter from the horizontal", "[planning]") {
  struct Row {
    double clock_h, angle_deg;  // 30 degrees an hour, from 3 or 9
  };
  const Row row = GENERATE(values<Row>({{3, 0},
                                        {9, 0},
                                        {2.5, 15},
                                        {2, 30},
                                        {4, 30},
                                        {1.5, 45},
                                        {10.5, 45},
                                        {7.5, 45},
                                        {0, 90},
                                        {6, 90},
                                        {0.5, 75},
                                        {11.5, 75},
                                        {1 + 20.0 / 60, 50}}));
  CAPTURE(row.clock_h);
  CHECK(angle_from_horizontal_rad(row.clock_h) * 180 / std::numbers::pi ==
        Approx(row.angle_deg).margin(1e-12));
  CHECK(angle_from_horizontal_rad(opposite_clock_h(row.clock_h)) ==
        Approx(angle_from_horizontal_rad(row.clock_h)).margin(1e-14));
}
