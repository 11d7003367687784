#include <algorithm>

#include "json_parts.hpp"
#include "slantrule/sheets/survey_sheet.hpp"

namespace slantrule {
namespace {

void write_messages(JsonWriter& json, std::string_view key,
                    const std::vector<CellMessage>& messages) {
  json.array(key, [&] {
    for (const CellMessage& one : messages) {
      json.object([&] {
        json.text("column", one.column);
        json.text("cell", one.cell);
        json.text("message", one.message);
      });
    }
  });
}

void write_list(JsonWriter& json, std::span<const std::string_view> cells,
                const ListColumns& columns) {
  const std::size_t named = std::min(cells.size(), columns.names.size());
  json.object("list", [&] {
    for (std::size_t i = 0; i < named; ++i) {
      if (!columns.sparse || cells[i].data()) json.text(columns.names[i], cells[i]);
    }
  });
  if (named == cells.size()) return;
  json.array("list_beyond", [&] {
    for (std::string_view cell : cells.subspan(named)) json.value(cell);
  });
}

}  // namespace

void append_survey_json(std::string& out, const SurveyRow& row, const ListColumns& columns,
                        std::string_view version) {
  JsonWriter json(out);
  json.object([&] {
    json.count("row", row.list.row);
    json.count("line", row.list.line);
    json.text("status", row.refused() ? "refused" : "planned");
    if (row.refused()) {
      json.text("slantrule", version);
      json.count("format", 1);
      json.put("tag", row.tag);
      write_messages(json, "problems", row.list.problems);
    } else {
      write_sheet(json, row.planned, version);
    }
    if (!row.list.remarks.empty()) write_messages(json, "remarks", row.list.remarks);
    write_list(json, row.list.cells, columns);
  });
  out += '\n';
}

}  // namespace slantrule
