#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <tuple>

#include "json_writer.hpp"
#include "slantrule/planning/check_table.hpp"
#include "slantrule/sheets/survey_summary.hpp"
#include "slantrule/sheets/text_layout.hpp"

namespace slantrule {
namespace {

/// What of a kind the text shows; the JSON has all.
constexpr std::size_t most_shown = 12;

struct Reason {
  const CheckInfo* info;
  Severity severity;
  std::size_t rows;
};

/// Stops first, each kind by number of rows.
std::vector<Reason> reasons(const SurveySummary& summary) {
  std::vector<Reason> out;
  for (const CheckInfo& info : check_table()) {
    const SurveySummary::FindingCount& count = summary.count(info.check);
    if (count.stops > 0) out.push_back({&info, Severity::stop, count.stops});
    if (count.cautions > 0) out.push_back({&info, Severity::caution, count.cautions});
  }
  std::ranges::stable_sort(out, [](const Reason& a, const Reason& b) {
    return a.severity != b.severity ? a.severity > b.severity : a.rows > b.rows;
  });
  return out;
}

struct Lack {
  std::string key, what;
  const MissingFact* fact;
};

/// What would settle most rows first.
std::vector<Lack> lacks(const SurveySummary& summary) {
  std::vector<Lack> out;
  for (std::size_t i = 0; i < survey_facts().size(); ++i) {
    const SurveyFact& fact = survey_facts()[i];
    if (summary.missing(i).rows == 0) continue;
    out.push_back({std::string(fact.key), std::string(fact.what), &summary.missing(i)});
  }
  summary.missing_columns().each([&](const std::string& column, const MissingFact& fact) {
    out.push_back({column, column, &fact});
  });
  std::ranges::sort(out, [](const Lack& a, const Lack& b) {
    return std::tuple(b.fact->settled, b.fact->rows, std::string_view(a.key)) <
           std::tuple(a.fact->settled, a.fact->rows, std::string_view(b.key));
  });
  return out;
}

struct Counted {
  std::string text;
  std::size_t rows;
};

std::vector<Counted> by_rows(const BoundedGroups<RowCount>& groups) {
  std::vector<Counted> out;
  groups.each([&](const std::string& text, const RowCount& count) {
    out.push_back({text, count.rows});
  });
  std::ranges::sort(out, [](const Counted& a, const Counted& b) {
    return std::tuple(b.rows, std::string_view(a.text)) <
           std::tuple(a.rows, std::string_view(b.text));
  });
  return out;
}

std::vector<const RefusalGroup*> refusals_by_rows(const SurveySummary& summary) {
  std::vector<const RefusalGroup*> out;
  summary.refusals().each(
      [&](const std::string&, const RefusalGroup& group) { out.push_back(&group); });
  std::ranges::sort(out, [](const RefusalGroup* a, const RefusalGroup* b) {
    if (a->rows != b->rows) return a->rows > b->rows;
    return std::tie(a->lines, a->column, a->message) < std::tie(b->lines, b->column, b->message);
  });
  return out;
}

std::string rows_text(std::size_t rows) {
  return fmt::format("{} row{}", rows, rows == 1 ? "" : "s");
}

class Page {
 public:
  explicit Page(const Display& display) : display_(display) {}

  void heading(std::string_view text) {
    if (!out_.empty()) out_ += '\n';
    paragraph(text, "", "");
  }
  void item(std::string_view text) { paragraph(text, "  ", "    "); }
  void paragraph(std::string_view text, std::string_view first, std::string_view next) {
    for (const std::string& line : wrapped(text, first, next)) out_ += line + '\n';
  }
  void left_out(std::size_t all) {
    if (all > most_shown) item(fmt::format("and {} more kinds", all - most_shown));
  }
  std::string shown_text(std::string_view text) const { return job_text(text, display_); }
  const Display& display() const { return display_; }
  std::string text() && { return std::move(out_); }

 private:
  const Display& display_;
  std::string out_;
};

void add_totals(Page& page, const SurveySummary& summary) {
  page.heading(fmt::format("SUMMARY: {}: {} go, {} caution, {} stop, {} refused",
                           rows_text(summary.rows()), summary.go(), summary.caution(),
                           summary.stop(), summary.refused()));
  if (summary.with_remarks() > 0) {
    page.item(fmt::format("{} with remarks on how a cell was taken; csv and jsonl tell them.",
                          rows_text(summary.with_remarks())));
  }
  if (summary.invented() > 0) {
    page.item(
        fmt::format("TRAINING DATA: the spacings of {} are for an invented pair. DO NOT "
                    "MOUNT BY THEM.",
                    rows_text(summary.invented())));
  }
}

void add_reasons(Page& page, const SurveySummary& summary) {
  const std::vector<Reason> all = reasons(summary);
  if (all.empty()) return;
  page.heading("WHY (rows, what is asked for)");
  for (const Reason& one : all) {
    const std::string first = fmt::format("  {:<7} {:>6}  ", severity_name(one.severity), one.rows);
    page.paragraph(fmt::format("{}: {}", one.info->id, one.info->rule), first,
                   std::string(first.size() + 2, ' '));
  }
}

std::string lack_text(const Lack& one, const Page& page) {
  std::string text = page.shown_text(one.what) + " of " + rows_text(one.fact->rows);
  const std::vector<Counted> materials = by_rows(one.fact->materials);
  if (materials.size() > 1 || (materials.size() == 1 && materials[0].rows < one.fact->rows)) {
    std::string list;
    for (std::size_t i = 0; i < std::min<std::size_t>(materials.size(), 4); ++i) {
      list += fmt::format("{}{} {}", i > 0 ? ", " : "", page.shown_text(materials[i].text),
                          materials[i].rows);
    }
    if (materials.size() > 4 || one.fact->materials.other_rows() > 0) list += " and others";
    text += " (" + list + ")";
  }
  if (one.fact->settled > 0) {
    text += ": all that is unknown of " + (one.fact->settled == one.fact->rows
                                               ? "these"
                                               : std::to_string(one.fact->settled) + " of them");
  }
  return text;
}

void add_lacks(Page& page, const SurveySummary& summary) {
  const std::vector<Lack> all = lacks(summary);
  if (all.empty()) return;
  page.heading("FIND OUT FIRST (what would settle most rows)");
  for (std::size_t i = 0; i < std::min(all.size(), most_shown); ++i) {
    page.item(lack_text(all[i], page));
  }
  page.left_out(all.size());
  if (const std::size_t others = summary.missing_columns().other_rows()) {
    page.item(fmt::format("and others in {}", rows_text(others)));
  }
}

void add_worst(Page& page, const SurveySummary& summary) {
  if (summary.worst().empty()) return;
  page.heading("THE WORST ROWS");
  for (const WorstRow& one : summary.worst()) {
    std::string text = fmt::format("row {}, line {}", one.row, one.line);
    if (!one.tag.empty()) text += ", " + page.shown_text(one.tag);
    if (!one.what.empty()) text += " (" + page.shown_text(one.what) + ")";
    text += ": ";
    if (one.stops > 0) text += fmt::format("{} stop{}, ", one.stops, one.stops == 1 ? "" : "s");
    text += fmt::format("{} caution{}", one.cautions, one.cautions == 1 ? "" : "s");
    if (one.loss_dB) text += fmt::format(", {:.0f} dB", *one.loss_dB);
    text += ". " + finding_text(one.reason, page.display()).message;
    page.item(text);
  }
}

void add_refusals(Page& page, const SurveySummary& summary) {
  const std::vector<const RefusalGroup*> all = refusals_by_rows(summary);
  if (all.empty()) return;
  page.heading("REFUSED (by column and kind, with what the first line says)");
  for (std::size_t i = 0; i < std::min(all.size(), most_shown); ++i) {
    const RefusalGroup& group = *all[i];
    std::string text;
    if (!group.column.empty()) text = page.shown_text(group.column) + ": ";
    text +=
        fmt::format("{}, line{} {}{}: ", rows_text(group.rows), group.lines.size() == 1 ? "" : "s",
                    fmt::join(group.lines, ", "), group.rows > group.lines.size() ? " ..." : "");
    page.item(text + page.shown_text(group.message));
  }
  page.left_out(all.size());
  if (const std::size_t others = summary.refusals().other_rows()) {
    page.item(fmt::format("and others in {}", rows_text(others)));
  }
}

void write_lack(JsonWriter& json, const Lack& one) {
  json.text("key", one.key);
  json.text("what", one.what);
  json.count("rows", one.fact->rows);
  json.count("settled", one.fact->settled);
  const std::vector<Counted> materials = by_rows(one.fact->materials);
  if (materials.empty()) return;
  json.object("materials", [&] {
    for (const Counted& material : materials) json.count(material.text, material.rows);
  });
}

void write_worst(JsonWriter& json, const WorstRow& one) {
  json.count("row", one.row);
  json.count("line", one.line);
  json.put("tag", one.tag);
  json.put("what", one.what);
  json.count("stops", one.stops);
  json.count("cautions", one.cautions);
  json.put("loss_dB", one.loss_dB);
  json.text("id", check_info(one.reason.check).id);
  const FindingText text = finding_text(one.reason, Display{});
  json.text("message", text.message);
  json.text("do", text.mend);
}

void write_refusal(JsonWriter& json, const RefusalGroup& group) {
  json.text("column", group.column);
  json.text("message", group.message);
  json.count("rows", group.rows);
  json.array("lines", [&] {
    for (std::size_t line : group.lines) json.raw_value(std::to_string(line));
  });
}

/// An array of objects.
template <class Items, class Write>
void write_all(JsonWriter& json, std::string_view key, const Items& items, const Write& write) {
  json.array(key, [&] {
    for (const auto& one : items) json.object([&] { write(one); });
  });
}

}  // namespace

std::string survey_summary_text(const SurveySummary& summary, const Display& display) {
  Page page(display);
  add_totals(page, summary);
  add_reasons(page, summary);
  add_lacks(page, summary);
  add_worst(page, summary);
  add_refusals(page, summary);
  return std::move(page).text();
}

std::string survey_summary_json(const SurveySummary& summary, std::span<const std::string> unused) {
  std::string out;
  JsonWriter json(out);
  json.object([&] {
    json.count("rows", summary.rows());
    json.count("go", summary.go());
    json.count("caution", summary.caution());
    json.count("stop", summary.stop());
    json.count("refused", summary.refused());
    json.count("with_remarks", summary.with_remarks());
    json.count("invented", summary.invented());
    write_all(json, "findings", reasons(summary), [&](const Reason& one) {
      json.text("id", one.info->id);
      json.text("severity", severity_name(one.severity));
      json.count("rows", one.rows);
      json.text("rule", one.info->rule);
    });
    write_all(json, "missing", lacks(summary), [&](const Lack& one) { write_lack(json, one); });
    if (const std::size_t others = summary.missing_columns().other_rows()) {
      json.count("missing_elsewhere", others);
    }
    write_all(json, "worst", summary.worst(), [&](const WorstRow& one) { write_worst(json, one); });
    write_all(json, "refusals", refusals_by_rows(summary),
              [&](const RefusalGroup* one) { write_refusal(json, *one); });
    if (const std::size_t others = summary.refusals().other_rows()) {
      json.count("refused_elsewhere", others);
    }
    json.array("columns_not_used", [&] {
      for (const std::string& heading : unused) json.value(heading);
    });
  });
  return out;
}

}  // namespace slantrule
