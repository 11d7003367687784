#include "slantrule/sheets/columns_sheet.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "slantrule/sheets/text_layout.hpp"
#include "slantrule/units/suggest.hpp"

namespace slantrule {
namespace {

constexpr std::size_t longest_heading = 60;

std::string stands_for(const ListColumn& column) {
  if (!column.key) return "not used";
  if (column.unit.empty()) return column.key->path;
  return fmt::format("{} [{}]", column.key->path, column.unit);
}

/// Line ends and tabs as blanks: a map may call a heading so, as other blanks do not count either.
std::string on_one_line(std::string_view heading) {
  std::string out;
  for (const char c : heading) {
    const bool blank = c == '\n' || c == '\r' || c == '\t' || c == ' ';
    if (!blank) {
      out += c;
    } else if (!out.ends_with(' ')) {
      out += ' ';
    }
  }
  return out;
}

}  // namespace

std::string map_name(const ListColumn& column, const ListLayout& layout) {
  const std::string name = on_one_line(column.heading);
  const auto alike = std::ranges::count_if(
      layout.columns, [&](const ListColumn& other) { return on_one_line(other.heading) == name; });
  const bool readable = !name.empty() && name.front() != '#' && shown(name, name.size()) == name;
  return readable && alike == 1 && name.size() <= 200 ? name : fmt::format("#{}", column.index + 1);
}

std::string map_option(const ListColumn& column, const ListLayout& layout,
                       const std::string& meaning) {
  std::string quoted;
  for (const char c : map_name(column, layout) + "=" + meaning) {
    // A quote inside quotes: the text is closed, the quote written, the text opened again.
    quoted += c == '\'' ? std::string("'\\''") : std::string(1, c);
  }
  return fmt::format("--map '{}'", quoted);
}

std::string columns_text(const ListLayout& layout,
                         const std::vector<std::vector<CellSample>>& samples,
                         const std::string& list, const std::string& how_written,
                         const Display& display, std::span<const std::string> advice) {
  std::string out = fmt::format("{}\n{}; headings in line {}\n", shown(list, 78),
                                shown(how_written, 200), layout.heading_line);
  for (const LeftOutLine& line : layout.left_out) {
    out += fmt::format("line {} is no row ({}): {}\n", line.line, line.why,
                       shown(job_text(line.text, display), 50));
  }
  const auto indented = [&](const std::string& text) {
    for (const std::string& line : wrapped(job_text(text, display), "    ", "      ")) {
      out += line + '\n';
    }
  };
  for (const ListColumn& column : layout.columns) {
    const std::string heading = shown(column.heading, longest_heading);
    out += fmt::format("\n#{} \"{}\"  ->  {}\n", column.index + 1, job_text(heading, display),
                       stands_for(column));
    if (!column.why.empty()) indented("why: " + shown(column.why, 300));
    if (!column.proposal.empty() && !column.key) {
      indented("proposal: " + map_option(column, layout, column.proposal));
    }
    if (!column.veto.empty()) indented("bare numbers: " + shown(column.veto, 500));
    if (column.index < advice.size() && !advice[column.index].empty()) {
      indented("blanks: " + advice[column.index]);
    }
    if (column.index >= samples.size()) continue;
    for (const CellSample& sample : samples[column.index]) {
      const std::string cell = shown(sample.cell, 40);
      indented(column.key ? fmt::format("\"{}\"  ->  {}", cell, shown(sample.reading, 300))
                          : fmt::format("\"{}\"", cell));
    }
  }
  return out;
}

std::string columns_map(const ListLayout& layout) {
  std::string out = "# What each column stands for: HEADING=KEY [UNIT of bare numbers]\n";
  for (const ListColumn& column : layout.columns) {
    const std::string heading = map_name(column, layout);
    if (column.key && column.key->kind == ColumnKind::unit_of) {
      continue;
    }
    if (column.key) {
      out += fmt::format("{}={}\n", heading, stands_for(column));
    } else if (!column.proposal.empty()) {
      out += fmt::format("{}={}\n", heading, column.proposal);
    } else {
      out += fmt::format("# {}=\n", shown(column.heading, 200));
    }
    if (column.unit_column) {
      out += fmt::format("{}=unit of {}\n", map_name(layout.columns[*column.unit_column], layout),
                         heading);
    }
  }
  return out;
}

}  // namespace slantrule
