#include "size_answer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <utility>

#include "slantrule/catalogue/pipe_standards.hpp"
#include "slantrule/units/suggest.hpp"

namespace slantrule {
namespace {

std::string with_standard(const PipeRecord& row) {
  const std::string text = size_text(row);
  return text.starts_with(row.standard) ? text : fmt::format("{} {}", row.standard, text);
}
}  // namespace

std::string_view how_to_write(Family family) {
  switch (family) {
    case Family::copper:
      return "write it as \"28 x 1 mm\", \"NPS 2 type L\" or \"OD 1.125 in x 0.05 in\"";
    case Family::copper_nickel:
      return "write it as \"NPS 2 special 1\" or \"60.3 x 2.1 mm\"";
    case Family::pe:
      return "write it as \"110 SDR 11\", \"NPS 4 DR 11\" or \"110 x 10 mm\"";
    case Family::pvc:
      return "write it as \"NPS 6 sch 40\", \"AWWA C900 NPS 8 DR 18\" or \"160 x 7.7 mm\"";
    case Family::cpvc:
      return "write it as \"NPS 4 sch 80\" or \"114.3 x 8.6 mm\"";
    case Family::ductile_iron:
      return "write it as \"DN 150 K9\", \"8 in class 350\" or \"170 x 6 mm\"";
    case Family::other:
      return "write it as \"168.3 x 7.11 mm\"";
    default:
      return "write it as \"NPS 6 sch 40\", \"DN 150 sch 40\" or \"168.3 x 7.11 mm\"";
  }
}

Answer refused(std::string message, std::vector<std::string> readings) {
  Answer answer;
  answer.reading.message = std::move(message);
  answer.reading.readings = std::move(readings);
  return answer;
}

Answer ambiguous(std::string message, std::vector<std::string> readings) {
  Answer answer = refused(std::move(message), std::move(readings));
  answer.reading.kind = SizeReading::Kind::ambiguous;
  return answer;
}

Answer understood(const PipeRecord& row) {
  Answer answer;
  answer.reading.kind = SizeReading::Kind::understood;
  answer.reading.outside_diameter_m = row.outside_diameter_mm / 1000;
  answer.reading.wall_m = mean_wall_mm(row) / 1000;
  answer.reading.row = &row;
  return answer;
}

Answer dimensions(double outside_mm, double wall_mm) {
  Answer answer;
  answer.reading.kind = SizeReading::Kind::understood;
  answer.reading.outside_diameter_m = outside_mm / 1000;
  answer.reading.wall_m = wall_mm / 1000;
  answer.own_text = fmt::format("OD {} x {} mm", millimetres(outside_mm), millimetres(wall_mm));
  return answer;
}

void add_once(std::vector<std::string>& texts, std::string text) {
  if (std::ranges::find(texts, text) == texts.end()) texts.push_back(std::move(text));
}

void add_readings(std::vector<std::string>& texts, const Answer& answer) {
  if (answer.has_diameter()) add_once(texts, answer.text());
  for (const std::string& reading : answer.reading.readings) add_once(texts, reading);
}

Answer not_in_tables(const SizeQuestion& q, const WrittenSize& size) {
  if (q.material.name == grey_iron) {
    return refused(fmt::format(
        "{}: sizes of cast iron pipe are not in the tables, and its walls are not those of ductile "
        "iron: they went by foundry, class and year; write outside diameter and wall as measured "
        "(\"177 x 12 mm\")",
        q.quoted()));
  }
  std::vector<std::string> readings;
  static constexpr std::array<std::string_view, 3> own_sizes{"asbestos cement", "concrete", "GRP"};
  const bool own = std::ranges::find(own_sizes, q.material.name) != own_sizes.end();
  SizeQuestion named = q;
  named.material = {};
  for (const Meaning& meaning : named.meanings(size)) {
    if (meaning.size.system == SizeSystem::outside) {
      if (own && !q.parts.wall) add_once(readings, plain_diameter(size, meaning).text);
      continue;
    }
    if (own) continue;
    if (q.parts.labels.empty()) {
      const auto rows = q.tables.rows_of(Standard::asme_b36_10, meaning.size);
      if (!rows.empty()) add_once(readings, nominal_text(*rows.front()));
    } else {
      for (const PipeRecord* row : named.rows_labelled(size, q.parts.labels.front())) {
        add_once(readings, with_standard(*row));
      }
    }
  }
  return refused(
      fmt::format("{}: sizes of {} pipe are not in the tables; write outside diameter and wall "
                  "(\"168.3 x 7.11 mm\"), or name the standard if it is made to one",
                  q.quoted(), shown(q.material.name)),
      std::move(readings));
}

Answer no_such_size(const SizeQuestion& q, const WrittenSize& size, Standard standard) {
  std::vector<std::string> readings;
  SystemSize wanted{SizeSystem::inch, size.length.value};
  std::string name = "NPS " + size.length.number;
  const auto means = q.meanings(size);
  if (!means.empty()) wanted = means.front().size;
  if (wanted.system == SizeSystem::dn) {
    name = "DN " + size.length.number;
    readings.push_back(fmt::format("OD {} mm", size.length.number));
  } else if (wanted.system == SizeSystem::outside) {
    name = fmt::format("outside diameter of {} mm", millimetres(wanted.number));
  } else if (wanted.system == SizeSystem::japanese) {
    name = size.length.number + (size.kind == WrittenSize::Kind::japanese_b ? "B" : "A");
  }
  for (const PipeRecord* row : q.tables.neighbours(standard, wanted)) {
    const bool nps = wanted.system == SizeSystem::inch &&
                     (standard == Standard::asme_b36_10 || standard == Standard::asme_b36_19);
    const bool japanese = wanted.system == SizeSystem::japanese && !q.named_standard;
    add_once(readings, nps || japanese ? std::string(row->designation) : nominal_text(*row));
  }
  return refused(fmt::format("{}: there is no {} in {}", q.quoted(), name, standard_name(standard)),
                 std::move(readings));
}
}  // namespace slantrule
