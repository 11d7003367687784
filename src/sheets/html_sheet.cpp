#include <fmt/format.h>

#include <algorithm>
#include <variant>

#include "drawing_parts.hpp"
#include "html_paper.hpp"
#include "html_style.hpp"
#include "marked_text.hpp"
#include "sheet_words.hpp"
#include "slantrule/sheets/drawing.hpp"
#include "slantrule/sheets/html_text.hpp"
#include "slantrule/sheets/sheet.hpp"
#include "slantrule/sheets/sheet_content.hpp"

namespace slantrule {
namespace {

constexpr std::string_view blank_input =
    R"(<input class="blank" aria-label="to write in" autocomplete="off">)";

/// Texts of the job in elements of their own, places to write in as lines.
std::string rich(std::string_view text) {
  std::string out;
  for (const TextPart& part : text_parts(text)) {
    switch (part.kind) {
      case TextPart::Kind::own:
        out += html_text(part.text);
        break;
      case TextPart::Kind::of_job:
        out += "<span dir=\"auto\">" + html_text(part.text) + "</span>";
        break;
      case TextPart::Kind::blank:
        out += blank_input;
        break;
    }
  }
  return out;
}

/// A row of the box: parts that text sets apart by blanks stay apart, and break between them.
std::string box_row(std::string_view text) {
  constexpr std::string_view gap = "     ", arrow = "==>";
  std::string out;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find(gap), text.size());
    std::string part = rich(text.substr(0, end));
    const std::string escaped_arrow = html_text(arrow);
    if (const std::size_t at = part.find(escaped_arrow); at != part.npos) {
      part.replace(at, escaped_arrow.size(), "&rarr;");
    }
    const bool only = end == text.size() && out.empty();
    out += only ? part : "<span class=\"part\">" + part + "</span> ";
    text.remove_prefix(std::min(end + gap.size(), text.size()));
  }
  return out;
}

class HtmlSheet {
 public:
  HtmlSheet(const PlannedJob& job, const Display& display)
      : job_(job), display_(display), content_(sheet_content(job, display)) {}

  std::string build() {
    out_ = fmt::format("<article class=\"sheet {}\">\n", paper_class(content_, views_height()));
    put(fmt::format("<h1><span class=\"verdict {}\">{}</span> <span class=\"tag\">{}</span></h1>",
                    verdict_name(content_.verdict), rich(content_.verdict_words),
                    rich(content_.tag)));
    for (const std::string& one : content_.head_lines) put("<p>" + rich(one) + "</p>");
    box();
    for (const Section& one : content_.sections) section(one);
    sign_off();
    put("</article>");
    return std::move(out_);
  }

 private:
  void put(std::string_view html) {
    out_ += html;
    out_ += '\n';
  }

  void box() {
    const SpacingBox& box = content_.box;
    put("<div class=\"box\">");
    if (box.issued) {
      put(
          fmt::format("<p class=\"set\"><span>SET</span> <strong>{}</strong> "
                      "<span class=\"other\">{}</span> <span>mark to +- {}</span></p>",
                      rich(box.setting), rich(box.other), rich(box.hold)));
    }
    for (const BoxRow& row : box.rows) {
      put(fmt::format("<p{}>{}</p>", row.warning ? " class=\"warning\"" : "", box_row(row.text)));
    }
    put("</div>");
  }

  void section(const Section& section) {
    const bool yields = section.yield == Yield::named || section.yield == Yield::counted;
    put(yields ? "<section class=\"yields\">" : "<section>");
    if (!section.heading.empty()) put("<h2>" + rich(section.heading) + "</h2>");
    for (const Block& block : section.blocks) {
      std::visit([&](const auto& one) { show(one); }, block);
    }
    put("</section>");
    if (yields) left_out("few", section.heading);
  }

  /// What stands on paper in place of something that yields there.
  void left_out(std::string_view when, std::string_view what) {
    put(fmt::format("<p class=\"left-out {}\">{}: left out on paper, see the screen.</p>", when,
                    rich(what)));
  }

  void show(const Paragraph& text) { put("<p>" + rich(text.text) + "</p>"); }

  void show(const Values& values) {
    put("<dl class=\"values\">");
    bool open = false;
    for (const ValueRow& row : values.rows) {
      if (!row.name.empty()) {
        if (open) put("</div>");
        put("<div><dt>" + rich(row.name) + "</dt>");
        open = true;
      }
      put(fmt::format("<dd{}>{}</dd>", row.is_source ? " class=\"source\"" : "", rich(row.value)));
    }
    if (open) put("</div>");
    put("</dl>");
  }

  void show(const Steps& steps) {
    put("<ul class=\"steps\">");
    for (const std::string& one : steps.items) {
      const std::string text = rich(one);
      // A label belongs to one field.
      const bool two_fields = text.find(blank_input) != text.npos;
      put(two_fields
              ? "<li><input type=\"checkbox\" aria-label=\"done\"><div>" + text + "</div></li>"
              : "<li><label><input type=\"checkbox\"><span>" + text + "</span></label></li>");
    }
    put("</ul>");
  }

  void show(const Points& points) {
    put("<ul class=\"points\">");
    for (const Point& one : points.items) put("<li>" + rich(one.text) + "</li>");
    put("</ul>");
  }

  void show(const Ranking& ranking) {
    put("<ol>");
    for (const std::string& one : ranking.items) {
      put(fmt::format("<li>{}{}</li>",
                      &one == &ranking.items.front() ? "<strong>best</strong> " : "", rich(one)));
    }
    put("</ol>");
  }

  void show(const FindingList& list) {
    put("<ul>");
    for (const FindingItem& item : list.items) {
      const std::string severity(severity_name(item.severity));
      put(fmt::format("<li class=\"finding {}\"><strong>{}</strong> {}", severity, upper(severity),
                      rich(item.message)));
      put("<p>&rarr; " + rich(item.mend) + "</p>");
      if (!item.accepted.empty()) put("<p>" + rich(item.accepted) + "</p>");
      put("</li>");
    }
    put("</ul>");
  }

  void show(const Table& table) {
    put("<table>");
    if (std::ranges::any_of(table.columns, [](const Column& one) { return !one.head.empty(); })) {
      std::string heads;
      for (const Column& column : table.columns) heads += "<th>" + rich(column.head) + "</th>";
      put("<thead><tr>" + heads + "</tr></thead>");
    }
    put("<tbody>");
    for (const TableRow& row : table.rows) {
      std::string cells;
      for (std::size_t i = 0; i < row.cells.size(); ++i) {
        const std::string& head = table.columns[i].head;
        cells += (head.empty() ? "<td>" : "<td data-head=\"" + html_text(head) + "\">") +
                 rich(row.cells[i]) + "</td>";
      }
      put("<tr class=\"row\">" + cells + "</tr>");
      if (row.remark.empty()) continue;
      put(fmt::format(
          "<tr><td colspan=\"{}\">{}{}</td></tr>", table.columns.size(), rich(row.remark),
          row.source.empty() ? std::string()
                             : " <span class=\"source\">(" + rich(row.source) + ")</span>"));
    }
    put("</tbody></table>");
  }

  /// In place of the sketch, the drawings.
  void show(const Sketch&) {
    const PlannedVariant& variant = job_.variants.front();
    Display plain = display_;
    plain.isolate = false;
    put("<figure class=\"views\">");
    put("<div class=\"side\">" + side_view_svg(variant, plain, drawn_response(variant.plan)) +
        "</div>");
    put("<div class=\"end\">" + end_view_svg(variant, plain) + "</div>");
    put("</figure>");
    left_out("bare", "Drawings");
  }

  void sign_off() {
    if (content_.sign_off.empty()) return;
    put("<p class=\"sign-off\">");
    for (const ValueRow& one : content_.sign_off) {
      put("<span>" + rich(one.name) + ": " + rich(one.value) + "</span>");
    }
    put("</p>");
    put("<p class=\"source on-screen\">Ticks and entries stay while this page is open; print it to "
        "keep them.</p>");
  }

  /// Height of the drawings by their width, side by side.
  double views_height() const {
    if (content_.candidates) return 0;
    const PlannedVariant& variant = job_.variants.front();
    const auto side = side_view(variant, display_, drawn_response(variant.plan));
    if (!side) return 0;
    const double height = std::max(side->height, end_view(variant, display_).height);
    return height / (side->width + end_view_width + 4);
  }

  const PlannedJob& job_;
  const Display& display_;
  SheetContent content_;
  std::string out_;
};

}  // namespace

std::string html_sheets(const std::vector<PlannedJob>& jobs, const Display& display) {
  Display isolating = display;
  isolating.isolate = true;
  std::string body, tags;
  for (const PlannedJob& job : jobs) {
    body += HtmlSheet(job, isolating).build();
    const std::string& tag = job.variants.front().job.tag;
    tags += (tags.empty() ? "" : ", ") + job_text(tag.empty() ? "(no tag)" : tag, display);
  }
  return html_page("Setup sheet " + tags, sheet_style(), body);
}

}  // namespace slantrule
