#pragma once

/// Answers to a SizeQuestion.

#include <string>
#include <string_view>
#include <vector>

#include "size_question.hpp"
#include "slantrule/catalogue/size_designation.hpp"

namespace slantrule {

/// "write it as ..." with designations that pipe of the family has.
std::string_view how_to_write(Family family);

/// A reading, and the text that says just this where a diameter was found; empty for a row, which
/// has its own.
struct Answer {
  SizeReading reading;
  std::string own_text = {};

  std::string text() const {
    return own_text.empty() && reading.row ? size_text(*reading.row) : own_text;
  }
  bool has_diameter() const {
    return reading.kind == SizeReading::Kind::understood ||
           reading.kind == SizeReading::Kind::needs_wall;
  }
};

Answer refused(std::string message, std::vector<std::string> readings = {});
Answer ambiguous(std::string message, std::vector<std::string> readings);
Answer understood(const PipeRecord& row);
/// Dimensions as they were written.
Answer dimensions(double outside_mm, double wall_mm);

void add_once(std::vector<std::string>& texts, std::string text);
/// What an answer offers: itself, or its readings.
void add_readings(std::vector<std::string>& texts, const Answer& answer);

/// Reads a designation as far as it is about the size: neither contradictions nor words that are
/// not understood are looked at.
Answer resolve(const SizeQuestion& question);
/// The same with them.
Answer read_question(const SizeQuestion& question);

/// A size whose wall goes by a name.
Answer by_label(const SizeQuestion& question, const WrittenSize& size);
/// A size with the measure of its wall.
Answer by_wall(const SizeQuestion& question, const WrittenSize& size);
/// A size without a wall.
Answer alone(const SizeQuestion& question, const WrittenSize& size);
/// Whether what stands as a wall is the other side of a reducer: "4\" x 3\"", "100x80".
bool is_second_size(const SizeQuestion& question, const WrittenSize& size);
/// Sizes that do not mean the same: each as it would be read alone. `what` ends the sentence.
Answer several_sizes(const SizeQuestion& question, std::string_view what);

/// The tables have no pipe of the material: others share the words and have other dimensions.
Answer not_in_tables(const SizeQuestion& question, const WrittenSize& size);
Answer no_such_size(const SizeQuestion& question, const WrittenSize& size, Standard standard);

}  // namespace slantrule
