#include "slantrule/sheets/columns_sheet.hpp"

#include <fmt/format.h>

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

}  // namespace

std::string columns_text(const ListLayout& layout,
                         const std::vector<std::vector<CellSample>>& samples,
                         const std::string& list, const std::string& how_written,
                         const Display& display) {
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
      indented(fmt::format("proposal: --map '{}={}'", heading, column.proposal));
    }
    if (!column.veto.empty()) indented("bare numbers: " + shown(column.veto, 500));
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
    const std::string heading = shown(column.heading, 200);
    if (column.key && column.key->kind == ColumnKind::unit_of) {
      continue;
    }
    if (column.key) {
      out += fmt::format("{}={}\n", heading, stands_for(column));
    } else if (!column.proposal.empty()) {
      out += fmt::format("{}={}\n", heading, column.proposal);
    } else {
      out += fmt::format("# {}=\n", heading);
    }
    if (column.unit_column) {
      out += fmt::format("{}=unit of {}\n", shown(layout.columns[*column.unit_column].heading, 200),
                         heading);
    }
  }
  return out;
}

}  // namespace slantrule
