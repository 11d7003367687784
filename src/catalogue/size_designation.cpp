#include "slantrule/catalogue/size_designation.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <span>
#include <utility>

#include "size_answer.hpp"
#include "size_families.hpp"
#include "size_parts.hpp"
#include "slantrule/catalogue/catalogue.hpp"
#include "slantrule/units/suggest.hpp"

namespace slantrule {
namespace {

constexpr std::size_t longest_text = 200;

bool is_blank(char c) {
  return c == ' ' || c == '\t' || c == '\n' || c == '\r';
}

/// What fills a cell in which nothing is known.
bool is_placeholder(std::string_view text) {
  static constexpr std::array<std::string_view, 6> not_available{"n/a",  "N/A",  "#n/a",
                                                                 "#N/A", "n.a.", "N.A."};
  if (std::ranges::find(not_available, text) != not_available.end()) return true;
  return std::ranges::all_of(text, [](char c) {
    return is_blank(c) || std::string_view("?-.#/*_0xX").find(c) != std::string_view::npos;
  });
}

SizeReading read_with(std::string_view text, std::string_view material_family,
                      std::span<const PipeRecord> user_rows) {
  while (!text.empty() && is_blank(text.front())) text.remove_prefix(1);
  while (!text.empty() && is_blank(text.back())) text.remove_suffix(1);
  if (text.size() > longest_text) {
    return refused(fmt::format("\"{}\" is too long for a size; {}", shown(text),
                               how_to_write(material_of(material_family).family)))
        .reading;
  }
  if (is_placeholder(text)) {
    return refused(fmt::format("\"{}\" stands for a missing size; {}", shown(text),
                               how_to_write(material_of(material_family).family)))
        .reading;
  }
  for (const PipeRecord& row : user_rows) {
    if (folded_name(size_text(row)) == folded_name(text)) return understood(row).reading;
  }
  const PipeTables tables(user_rows);
  const SizeQuestion question(text, parts_of_size(text), material_family, tables);
  SizeReading reading = read_question(question).reading;
  reading.set_aside = question.parts.set_aside;
  reading.material_family = question.said_material();
  return reading;
}

std::vector<const PipeRecord*> near(double outside_diameter_m, double relative,
                                    std::span<const PipeRecord> user_rows) {
  std::vector<const PipeRecord*> rows;
  const auto is_near = [&](const PipeRecord& row) {
    return std::fabs(row.outside_diameter_mm / 1000 - outside_diameter_m) <=
           relative * outside_diameter_m;
  };
  for (const PipeRecord& row : user_rows) {
    if (is_near(row)) rows.push_back(&row);
  }
  for (const PipeRecord& row : built_in_pipes()) {
    if (!is_near(row)) continue;
    const bool replaced =
        std::ranges::any_of(user_rows, [&](const PipeRecord& own) { return same_pipe(own, row); });
    if (!replaced) rows.push_back(&row);
  }
  return rows;
}

}  // namespace

SizeReading read_size(std::string_view text, std::string_view material_family) {
  return read_with(text, material_family, {});
}

SizeReading read_size(std::string_view text, std::string_view material_family,
                      const Catalogue& catalogue) {
  return read_with(text, material_family, catalogue.user_pipes());
}

std::string wall_name_in(std::string_view text) {
  if (text.size() > longest_text) return {};
  std::string names;
  for (const WrittenLabel& label : parts_of_size(text).labels) {
    if (!names.empty()) names += ' ';
    const bool schedule =
        label.kind == LabelKind::schedule || label.kind == LabelKind::stainless_schedule;
    names += (schedule ? "sch " : label.kind == LabelKind::ratio ? "SDR " : "") + label.text;
  }
  return names;
}

std::vector<const PipeRecord*> pipes_near(double outside_diameter_m, double relative) {
  return near(outside_diameter_m, relative, {});
}

std::vector<const PipeRecord*> pipes_near(double outside_diameter_m, double relative,
                                          const Catalogue& catalogue) {
  return near(outside_diameter_m, relative, catalogue.user_pipes());
}

std::string size_text(const PipeRecord& row) {
  const auto standard = find_standard(row.standard);
  const bool numbered = !row.schedule.empty() && is_digit(row.schedule.front());
  const std::string schedule =
      (row.schedule.empty() ? "" : (numbered ? " sch " : " ")) + std::string(row.schedule);
  if (standard == Standard::asme_b36_10 || standard == Standard::asme_b36_19) {
    return std::string(row.designation) + schedule;
  }
  const bool by_outside = standard && standard_system(*standard) == SizeSystem::outside;
  if (by_outside && row.schedule.empty()) {
    return fmt::format("{} {} x {} mm", row.standard, row.outside_diameter_mm, row.wall_mm);
  }
  return fmt::format("{} {}{}", row.standard, row.designation, schedule);
}

}  // namespace slantrule
