/** The lecturer's page: which of my statements stand, a line each, as pages of 16 : 9 that can be shown or printed. */
import { demoNotice } from "../demo/demo-notice.js";
import { escapeHtml } from "../tables/escape-html.js";
import { capital } from "../tables/number-format.js";
import type { EvidenceSource } from "./evidence.js";
import { sheetHtml } from "./sheet-html.js";
import {
  byVerdict,
  claimWords,
  numberWords,
  trialWords,
  verdictWords,
  type JudgedStatement,
} from "./statements-shown.js";

/** Lines of one page; a second line of small type stands under each. */
const linesOnPage = 6;

const style = `
@page { size: 338mm 190mm; margin: 0; }
* { box-sizing: border-box; }
body { margin: 0; background: #ffffff; color: #1b2530; font: 20px/1.3 Inter, "Helvetica Neue", Arial, "Liberation Sans", sans-serif; }
section { min-height: 100vh; padding: 4vh 5vw; display: flex; flex-direction: column; border-bottom: 1px solid #d3dae1; }
h1 { font: 600 2rem/1.15 "Source Serif 4", Georgia, serif; margin: 0 0 1.4rem; }
ul { list-style: none; margin: 0; padding: 0; flex: 1; }
li { display: grid; grid-template-columns: 9.5rem 1fr; gap: 0 1rem; padding: 0.45rem 0; border-top: 1px solid #d3dae1; break-inside: avoid; }
li strong { color: #173f73; }
li.open strong { color: #566270; font-weight: 400; }
li small { grid-column: 2; font-size: 0.7em; color: #566270; }
footer { font-size: 0.62em; color: #566270; padding-top: 0.6rem; }
@media (max-width: 40rem) { body { font-size: 17px; } li { grid-template-columns: 1fr; } li small { grid-column: 1; } }
@media print { body { font-size: 15pt; } section { min-height: 0; height: 190mm; padding: 12mm 16mm; border: 0; break-after: page; } section:last-of-type { break-after: auto; } }
`;

const lineOf = (one: JudgedStatement): string => {
  const { tested, verdict, read } = one;
  const isOpen = verdict !== "supported" && verdict !== "against" && verdict !== "mixed";
  const claim = tested?.estimate === undefined ? "" : claimWords(tested.claimed, tested.unit);
  const told =
    tested === undefined
      ? read.asked.map(({ question }) => question).join(" ")
      : [
          `${capital(tested.about)}: ${numberWords(one)}${claim === "" ? "" : `, claimed ${claim}`}`,
          trialWords(one),
        ]
          .filter((part) => part !== "")
          .join("; ");
  return `<li${isOpen ? ' class="open"' : ""}><strong>${escapeHtml(capital(verdictWords(one)))}</strong><span>${escapeHtml(read.statement)}</span><small>${escapeHtml(told)}</small></li>`;
};

/**
 * The page as one self-contained document: it makes no request and runs no script, and the same statements and file give the
 * same bytes.
 *
 * @param counts how many statements have which verdict, in a sentence
 * @param together how many intervals were adjusted for each other
 */
export const statementsSheet = (
  all: readonly JudgedStatement[],
  counts: string,
  { name, fingerprint, invented }: EvidenceSource,
  together: number,
): string => {
  const ordered = byVerdict(all);
  const pages = Array.from({ length: Math.ceil(ordered.length / linesOnPage) }, (_, page) =>
    ordered.slice(page * linesOnPage, (page + 1) * linesOnPage),
  );
  const foot = `${invented ? `${demoNotice} ` : ""}${name}, fingerprint ${fingerprint.slice(0, 8)}.${together > 1 ? ` ${together} statements were asked together, and each interval is widened for it.` : ""} Supported: the interval lies inside the claim; against: wholly outside.`;
  return sheetHtml("Which statements stand", {
    style,
    body: `${pages
      .map(
        (own, page) =>
          `<section><h1>${escapeHtml(page === 0 ? counts : `Which statements stand, ${page + 1} of ${pages.length}`)}</h1>\n<ul>\n${own.map(lineOf).join("\n")}\n</ul>\n<footer>${escapeHtml(foot)}</footer></section>`,
      )
      .join("\n")}`,
  });
};
