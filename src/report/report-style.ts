/** The report's own style: readable type, one accent, light and dark, and a print form. */
export const reportStyle = `
:root { --ink: #1b2530; --quiet: #566270; --ground: #ffffff; --soft: #f4f1ea; --line: #d3dae1; --accent: #1d4e8f; color-scheme: light dark; }
@media (prefers-color-scheme: dark) {
  :root { --ink: #e8edf2; --quiet: #a7b3bf; --ground: #12181f; --soft: #1c252e; --line: #33404c; --accent: #8fb8ef; }
}
* { box-sizing: border-box; }
body { margin: 0; background: var(--ground); color: var(--ink); font: 1.0625rem/1.55 Inter, "Helvetica Neue", Arial, sans-serif; overflow-wrap: break-word; }
main, header.top { max-width: 70rem; margin: 0 auto; padding: 1.25rem; }
main { padding-top: 0; }
nav ul { display: flex; flex-wrap: wrap; gap: 0.25rem 1.25rem; list-style: none; padding: 0; }
h1, h2, .goal h3, .brief h3 { font-family: "Source Serif 4", Georgia, "Times New Roman", serif; }
h1 { font-size: 1.9rem; line-height: 1.2; margin: 0.5rem 0; }
h2 { font-size: 1.45rem; line-height: 1.25; margin: 2rem 0 0.75rem; padding-top: 0.75rem; border-top: 1px solid var(--ink); }
h3 { font-size: 1.1rem; margin: 2rem 0 0.5rem; }
p, li { max-width: 46rem; }
a { color: var(--accent); }
.quiet, figcaption, caption { color: var(--quiet); }
.invented { background: #7a3a00; color: #ffffff; padding: 0.5rem 0.9rem; font-weight: 600; }
.headline { font-size: 1.1rem; font-weight: 600; }
.scroll { overflow-x: auto; margin: 1rem 0; }
table { border-collapse: collapse; font-size: 0.88rem; min-width: 30rem; }
caption { text-align: left; font-weight: 600; padding: 0.3rem 0; color: var(--ink); }
th, td { padding: 0.35rem 0.7rem 0.35rem 0; text-align: left; vertical-align: top; border-bottom: 1px solid var(--line); }
tbody th { font-weight: 500; }
thead th { border-bottom: 1px solid var(--ink); vertical-align: bottom; }
.tabular-nums { font-variant-numeric: tabular-nums; text-align: right; white-space: nowrap; }
.notes { font-size: 0.85rem; color: var(--quiet); }
.table-notes { font-size: 0.85rem; color: var(--quiet); padding-left: 1.2rem; }
figure { margin: 1.5rem 0; }
figure .drawing { background: #ffffff; padding: 0.5rem; }
figure svg { max-width: 100%; height: auto; display: block; }
figcaption { font-size: 0.9rem; max-width: 52rem; margin-top: 0.5rem; }
details { margin: 0.75rem 0; }
summary { cursor: pointer; color: var(--accent); font-weight: 600; padding: 0.3rem 0; }
code { font-size: 0.9em; overflow-wrap: anywhere; }
:focus-visible { outline: 3px solid var(--accent); outline-offset: 2px; }
.brief p { margin: 0.15rem 0; max-width: none; line-height: 1.4; }
.brief h2 { border: 0; margin: 0.25rem 0 0.75rem; padding: 0; font-size: 1.7rem; }
.brief .kicker, .brief .quiet { font-size: 0.88rem; }
.brief figcaption { display: none; }
.brief figure { margin: 0; }
.brief figure .drawing { padding: 0; }
.brief .headline { font-size: 1.02rem; }
.goal { display: grid; grid-template-columns: 8.5rem 1fr; gap: 0 1rem; border-top: 1px solid var(--ink); padding: 0.5rem 0; }
.goal h3, .brief .pair h3 { font-size: 1.05rem; margin: 0; line-height: 1.25; }
.pair { display: grid; grid-template-columns: 1fr 1fr; gap: 0 1.5rem; border-top: 1px solid var(--ink); padding: 0.5rem 0; align-items: start; }
.brief .foot { border-top: 1px solid var(--ink); padding-top: 0.5rem; overflow-wrap: anywhere; }
@media (max-width: 44rem) {
  main, header.top { padding: 1rem; }
  .goal, .pair { grid-template-columns: 1fr; gap: 0.5rem; }
  table { min-width: 0; font-size: 0.8rem; }
  th, td { padding-right: 0.4rem; overflow-wrap: anywhere; }
  .tabular-nums { white-space: normal; }
  .cautions ul, main ul { padding-left: 1.1rem; }
}
@page { size: A4; margin: 10mm 12mm; }
@media print {
  :root { --ink: #000000; --quiet: #333333; --ground: #ffffff; --soft: #ffffff; --line: #999999; --accent: #000000; color-scheme: light; font-size: 8.2pt; }
  body { line-height: 1.32; }
  main, header.top { max-width: none; padding: 0; }
  p, li, figcaption { max-width: none; margin: 0.3rem 0; }
  h2 { margin: 1.2rem 0 0.4rem; break-after: avoid; }
  h3 { margin: 1rem 0 0.3rem; break-after: avoid; }
  a { text-decoration: none; }
  .invented { background: #ffffff; color: #000000; border: 2px solid #000000; padding: 0.2rem 0.6rem; }
  .scroll { overflow: visible; margin: 0.5rem 0; }
  table { width: 100%; min-width: 0; font-size: 0.84rem; }
  tr, figure { break-inside: avoid; }
  thead { display: table-header-group; }
  caption { break-after: avoid; }
  th, td { padding: 0.12rem 0.5rem 0.12rem 0; overflow-wrap: anywhere; }
  .tabular-nums { white-space: normal; }
  figure { margin: 0.5rem 0; }
  figure .drawing { padding: 0; }
  figure svg { max-height: 84mm; width: auto; }
  figcaption { font-size: 0.82rem; }
  details { margin: 0.4rem 0; }
  details::details-content { content-visibility: visible; block-size: auto; }
  summary { list-style: none; padding: 0; }
  .notes, .table-notes { font-size: 0.8rem; }
  .notes li, .table-notes li { margin: 0; }
  .brief { break-after: page; font-size: 0.94rem; }
  .brief h2 { font-size: 1.5rem; margin: 0 0 0.4rem; }
  .brief p { line-height: 1.28; margin: 0.1rem 0; }
  .brief .kicker, .brief .quiet { font-size: 0.82rem; }
  .goal, .pair { padding: 0.3rem 0; }
  .goal { grid-template-columns: 6.5rem 1fr; }
  .pair { grid-template-columns: 1fr 1fr; gap: 0 1.2rem; }
  .brief figure svg { max-height: 54mm; width: auto; max-width: 100%; }
  .brief .headline { font-size: 0.94rem; }
}
`;
