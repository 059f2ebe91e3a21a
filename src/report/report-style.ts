/** The report's own style: readable type, one accent, light and dark, and a print form. */
export const reportStyle = `
:root { --ink: #1b2530; --quiet: #566270; --ground: #ffffff; --soft: #f1f4f7; --line: #d3dae1; --accent: #173f75; color-scheme: light dark; }
@media (prefers-color-scheme: dark) {
  :root { --ink: #e8edf2; --quiet: #a7b3bf; --ground: #12181f; --soft: #1c252e; --line: #33404c; --accent: #8fb8ef; }
}
* { box-sizing: border-box; }
body { margin: 0; background: var(--ground); color: var(--ink); font: 17px/1.55 Inter, "Helvetica Neue", Arial, sans-serif; }
main, header.top { max-width: 70rem; margin: 0 auto; padding: 1.25rem; }
main { padding-top: 0; }
nav ul { display: flex; flex-wrap: wrap; gap: 0.25rem 1.25rem; list-style: none; padding: 0; }
h1 { font-size: 1.9rem; line-height: 1.2; margin: 0.5rem 0; }
h2 { font-size: 1.35rem; margin: 2rem 0 0.75rem; padding-top: 0.75rem; border-top: 2px solid var(--accent); }
h3 { font-size: 1.1rem; margin: 2rem 0 0.5rem; }
p, li { max-width: 46rem; }
a { color: var(--accent); }
.quiet, figcaption, caption { color: var(--quiet); }
.invented { background: #7a3a00; color: #ffffff; padding: 0.5rem 0.9rem; border-radius: 0.4rem; font-weight: 600; }
.headline { font-size: 1.1rem; font-weight: 600; }
.scroll { overflow-x: auto; margin: 1rem 0; }
table { border-collapse: collapse; font-size: 0.88rem; min-width: 30rem; }
caption { text-align: left; font-weight: 600; padding: 0.3rem 0; color: var(--ink); }
th, td { padding: 0.35rem 0.7rem; text-align: left; vertical-align: top; border-bottom: 1px solid var(--line); }
thead th { border-bottom: 2px solid var(--ink); vertical-align: bottom; }
.tabular-nums { font-variant-numeric: tabular-nums; text-align: right; white-space: nowrap; }
.notes { font-size: 0.85rem; color: var(--quiet); }
figure { margin: 1.5rem 0; }
figure .drawing { background: #ffffff; border-radius: 0.4rem; padding: 0.75rem; overflow-x: auto; }
figure svg { max-width: 100%; height: auto; display: block; }
figcaption { font-size: 0.9rem; max-width: 52rem; margin-top: 0.5rem; }
details { margin: 0.75rem 0; }
summary { cursor: pointer; color: var(--accent); font-weight: 600; padding: 0.3rem 0; }
code { font-size: 0.9em; overflow-wrap: anywhere; }
:focus-visible { outline: 3px solid var(--accent); outline-offset: 2px; }
@media print {
  :root { --ink: #000000; --quiet: #333333; --ground: #ffffff; --soft: #ffffff; --line: #999999; --accent: #000000; }
  body { font-size: 10.5pt; }
  .invented { background: #ffffff; color: #000000; border: 2px solid #000000; }
  h2 { break-after: avoid; }
  figure, table { break-inside: avoid; }
  details { display: block; }
}
`;
