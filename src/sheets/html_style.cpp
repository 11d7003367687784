#include "html_style.hpp"

namespace slantrule {

// Sizes in em, so that a sheet with much to say is printed smaller as a whole. Nothing is told by
// colour alone: every severity has its word and its kind of line.
std::string_view sheet_style() {
  return R"(body {
  margin: 0 auto;
  max-width: 54rem;
  padding: 0.75rem;
  color: #111;
  background: #fff;
  font: 100%/1.4 Arial, Helvetica, "Liberation Sans", sans-serif;
  overflow-wrap: anywhere;
}
.sheet + .sheet { margin-top: 3em; border-top: 1px solid #111; padding-top: 2em; }
p, ul, ol, dl, table, figure { margin: 0.3em 0; padding: 0; }
h1 {
  display: flex;
  flex-wrap: wrap;
  justify-content: space-between;
  align-items: baseline;
  gap: 0.2em 1em;
  margin: 0 0 0.3em;
  font-size: 1.3em;
}
.verdict { padding: 0.05em 0.5em; border: 2px solid #111; }
.verdict.caution { border-style: dashed; }
.verdict.stop { border: 5px double #8a0f0f; color: #8a0f0f; }
h2 {
  margin: 1em 0 0.3em;
  border-bottom: 1px solid #111;
  font-size: 1em;
  break-after: avoid;
}
.box { margin: 0.6em 0; border: 3px solid #111; padding: 0.5em 0.8em; break-inside: avoid; }
.box p { margin: 0.15em 0; }
.set { display: flex; flex-wrap: wrap; align-items: baseline; gap: 0 1.2em; }
.set strong { font-size: 2.5em; line-height: 1.15; }
.set .other { font-size: 1.3em; }
.part { display: inline-block; margin-right: 1.5em; }
.warning { font-weight: bold; }
ul, ol { list-style: none; }
li { margin: 0.25em 0; break-inside: avoid; }
.points li { padding-left: 1.1em; }
.points li::before { content: "\2013"; float: left; margin-left: -1.1em; }
.finding { border-left: 3px solid #111; padding-left: 0.6em; }
.finding.stop { border-left: 6px double #8a0f0f; }
.finding.note { border-left: 1px dotted #111; }
.finding p { margin: 0; padding-left: 1.2em; }
.steps li, .steps label { display: flex; gap: 0.6em; align-items: flex-start; }
.steps input[type="checkbox"] { flex: none; width: 1.15em; height: 1.15em; margin: 0.1em 0 0; }
.blank {
  width: 7em;
  border: 0;
  border-bottom: 1px solid #111;
  border-radius: 0;
  padding: 0;
  background: none;
  color: inherit;
  font: inherit;
  line-height: 1.2;
}
.values div { display: grid; grid-template-columns: 14em 1fr; gap: 0 1em; break-inside: avoid; }
.values dt { color: #333; }
.values dd { grid-column: 2; margin: 0; }
.source { color: #444; font-size: 0.9em; }
table { width: 100%; border-collapse: collapse; }
th, td { padding: 0.15em 1em 0.15em 0; text-align: left; vertical-align: baseline; }
th { font-weight: normal; font-size: 0.9em; color: #444; }
tr { break-inside: avoid; }
tr.row td { border-top: 1px solid #bbb; }
.views { display: flex; gap: 2.2%; align-items: flex-start; break-inside: avoid; }
.views svg { display: block; }
.side { flex: 112; }
.end { flex: 66; }
.sign-off { display: flex; flex-wrap: wrap; gap: 0.5em 2em; margin-top: 1.2em; break-inside: avoid; }
.left-out { display: none; }
@media (max-width: 42rem) {
  .views { display: block; }
  .side + .end { margin-top: 1em; }
  .values div { display: block; margin-bottom: 0.4em; }
  .values dt { font-size: 0.9em; }
  table, tbody, tr, td { display: block; }
  thead { display: none; }
  td { padding: 0; }
  tr.row { border-top: 1px solid #bbb; padding: 0.2em 0; }
  tr.row td { border: 0; }
  tr.row td:first-child { font-weight: bold; }
  td[data-head]::before { content: attr(data-head) ": "; color: #444; font-size: 0.9em; }
  .steps li, .steps label { padding: 0.3em 0; width: 100%; }
  .steps input[type="checkbox"] { width: 1.5em; height: 1.5em; }
}
@page { margin: 12mm; @bottom-right { content: counter(page) " / " counter(pages); font: 7pt Arial, sans-serif; } }
@media print {
  body { max-width: none; padding: 0; }
  .sheet { font-size: 9pt; line-height: 1.3; }
  .sheet + .sheet { margin: 0; border: 0; padding: 0; break-before: page; }
  .sheet.close { font-size: 8pt; line-height: 1.25; }
  .sheet.closest { font-size: 7pt; line-height: 1.2; }
  .sheet .views { width: 150mm; }
  .sheet.close .views { width: 132mm; }
  .sheet.closest .views { width: 114mm; }
  .sheet.bare .views { display: none; }
  .values { columns: 2; column-gap: 6mm; }
  .values div { grid-template-columns: 14em 1fr; }
  h2 { margin-top: 0.7em; }
  li { margin: 0.15em 0; }
  .on-screen, .sheet.few .yields { display: none; }
  .sheet.few .left-out.few, .sheet.bare .left-out.bare { display: block; }
}
)";
}

}  // namespace slantrule
