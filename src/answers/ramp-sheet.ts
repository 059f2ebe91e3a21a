/** A working-up as one sheet of paper: the weeks to tick off on the front, the cautions on the back. */
import { cautionsFor } from "../projection/cautions.js";
import { cautionsWording } from "../projection/cautions-wording.js";
import type { RampPlan } from "../projection/ramp-plan.js";
import type { RampWeek } from "../projection/ramp-week.js";
import { sorenessNotes } from "../projection/soreness.js";
import { cautionsToHtml } from "../tables/cautions-block.js";
import { escapeHtml } from "../tables/escape-html.js";
import { gradeWords } from "../tables/hold-table.js";
import { noteLines } from "../tables/note-lines.js";
import { writePrescription } from "../protocol/write-prescription.js";

/** Boxes drawn where the number of sessions a week is not known. */
const boxesWhenUnknown = 3;
const mostBoxes = 7;

const boxes = ({ prescription }: RampWeek): string => {
  const sessions = Math.ceil(prescription.sessionsPerWeek ?? boxesWhenUnknown);
  const count = Math.min(mostBoxes, sessions);
  return `<span class="boxes" role="img" aria-label="${sessions} boxes to tick">${"<i></i>".repeat(count)}</span>${sessions > count ? ` of ${sessions}` : ""}`;
};

/** Short values stay on one line. */
const isShort = ({ from, to }: NonNullable<RampWeek["change"]>): boolean =>
  from.length + to.length < 24;

const changed = ({ week, change }: RampWeek): string =>
  change === undefined
    ? week === 1
      ? "the start"
      : "as the week before"
    : `<strong>${escapeHtml(change.variable)}</strong> <span${isShort(change) ? ' class="step"' : ""}>${escapeHtml(change.from)} → ${escapeHtml(change.to)}</span>`;

/** What differs between weeks: holds, effort and length. Rests and place are the same in all, and stand once. */
const session = ({ prescription: p }: RampWeek): string =>
  writePrescription({
    sets: p.sets,
    repetitions: p.repetitions,
    holdSeconds: p.holdSeconds,
    ...(p.holdSecondsHigh === undefined ? {} : { holdSecondsHigh: p.holdSecondsHigh }),
    ...(p.intensityPercent === undefined ? {} : { intensityPercent: p.intensityPercent }),
    ...(p.intensityPercentHigh === undefined
      ? {}
      : { intensityPercentHigh: p.intensityPercentHigh }),
    ...(p.effortRating === undefined ? {} : { effortRating: p.effortRating }),
    ...(p.intensityBasis === undefined ? {} : { intensityBasis: p.intensityBasis }),
    ...(p.muscleLength === undefined ? {} : { muscleLength: p.muscleLength }),
  });

/** What is the same every week, as a paragraph; empty when there is nothing to say. */
const sameEveryWeek = ({ target }: RampPlan): string => {
  const { restBetweenRepetitionsSeconds: within, restBetweenSetsSeconds: between, action } = target;
  const parts = [
    ...(within === undefined ? [] : [`rest ${within} s between holds`]),
    ...(between === undefined ? [] : [`rest ${between} s between sets`]),
    ...(action === undefined ? [] : [action === "holding" ? "hold a load" : "push a fixed stop"]),
  ];
  return parts.length === 0 ? "" : `<p>Every session: ${escapeHtml(parts.join(", "))}.</p>\n`;
};

const row = (week: RampWeek): string =>
  `<tr><th scope="row">${week.week}</th><td>${escapeHtml(session(week))}</td><td>${changed(week)}</td><td${week.grade === "hard" ? ' class="near"' : ""}>${escapeHtml(gradeWords(week))}</td><td>${boxes(week)}</td><td class="blank"></td><td class="blank"></td></tr>`;

const style = `
@page { size: A4; margin: 12mm; }
* { box-sizing: border-box; }
body { margin: 0 auto; padding: 1.5rem; max-width: 62rem; background: #ffffff; color: #1b2530; font: 15px/1.45 Inter, "Helvetica Neue", Arial, "Liberation Sans", sans-serif; }
h1 { font-size: 1.5rem; margin: 0 0 0.2rem; }
h2 { font-size: 1.1rem; margin: 1.2rem 0 0.4rem; }
p { margin: 0.3rem 0; }
.fields { display: flex; flex-wrap: wrap; gap: 0.6rem 2rem; margin: 0.9rem 0; }
.fields span { flex: 1 1 12rem; border-bottom: 1px solid #566270; padding-bottom: 0.2rem; }
.scroll { overflow-x: auto; }
table { border-collapse: collapse; width: 100%; }
th, td { text-align: left; vertical-align: top; padding: 0.3rem 0.5rem; border-bottom: 1px solid #d3dae1; }
thead th { border-bottom: 2px solid #1b2530; vertical-align: bottom; }
tbody tr { break-inside: avoid; }
.near { font-weight: 600; }
.blank { min-width: 4rem; border-left: 1px solid #d3dae1; }
.boxes { white-space: nowrap; }
.boxes i { display: inline-block; width: 0.95em; height: 0.95em; border: 1.3px solid #1b2530; border-radius: 2px; margin-right: 0.3em; vertical-align: -0.12em; }
.stop { border: 2px solid #a32e3b; border-radius: 6px; padding: 0.5rem 0.9rem; margin: 0.9rem 0; }
.quiet, .source { color: #566270; }
.source { font-size: 0.88em; }
.source::before { content: "["; }
.source::after { content: "]"; }
ul { margin: 0.3rem 0; padding-left: 1.1rem; }
.stop-signs ul { columns: 2 12rem; }
.notes { columns: 2 20rem; column-gap: 1.5rem; font-size: 0.88em; color: #33404c; }
.step { white-space: nowrap; }
@media print {
  body { padding: 0; max-width: none; font-size: 8.6pt; line-height: 1.3; }
  h1 { font-size: 14pt; }
  th, td { padding: 1mm 1.2mm; }
  .blank { min-width: 16mm; }
  .fields { margin: 4mm 0 3mm; }
  .stop { padding: 1.5mm 3mm; margin: 3mm 0; }
  .notes { font-size: 7.4pt; }
  .back { break-before: page; font-size: 7pt; line-height: 1.24; columns: 2; column-gap: 6mm; }
  .back h2 { font-size: 9.5pt; margin: 0 0 1mm; }
  .back ul { margin: 0; padding-left: 3mm; }
  .back .soreness { margin-bottom: 2mm; }
  .back li { break-inside: avoid; margin-bottom: 0.3mm; }
  .stop-signs ul, .stop-signs ul li { display: inline; padding: 0; }
  .stop-signs ul li::after { content: "; "; }
}
`;

/**
 * A plan as one self-contained HTML sheet to print on both sides: on the front what to do each week, boxes to
 * tick, room for pain, the signs at which to stop and the pain bands; on the back soreness and every
 * caution in full, with its source.
 *
 * The page makes no request and runs no script. The same plan gives the same bytes. With many
 * weeks the front runs on to another page.
 *
 * @param plan  from `rampPlan`
 */
export const rampSheet = (plan: RampPlan): string => {
  const cautions = cautionsFor([
    plan.target,
    ...plan.weeks.map(({ prescription }) => prescription),
  ]);
  const { stopSigns } = cautions;
  const { painBands } = cautionsWording;
  const count = plan.weeks.length;
  const goal = plan.weeks.at(-1)?.written ?? writePrescription(plan.target);
  const title = `Working up to ${goal}`;
  const list = (lines: readonly string[]): string =>
    `<ul>${lines.map((line) => `<li>${escapeHtml(line)}</li>`).join("")}</ul>`;
  const bands = painBands.bands.map(({ from, to, label }) => `${from}–${to} ${label}`).join(" · ");
  const weekNotes = noteLines(plan.weeks.flatMap(({ notes }) => notes));
  return `<!doctype html>
<html lang="en-GB">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<meta name="generator" content="Holdbook">
<title>${escapeHtml(title)}</title>
<style>${style}</style>
</head>
<body>
<main>
<section class="front">
<h1>${escapeHtml(title)}</h1>
<p class="quiet">${count} ${count === 1 ? "week" : "weeks"}, ${escapeHtml(plan.from)}. One change at a time. This is not a clearance: ask a clinician first, and read the cautions before week 1.</p>
${sameEveryWeek(plan)}<p class="fields"><span>Name</span><span>Begun on</span><span>Seen by</span></p>
<div class="scroll" tabindex="0" role="region" aria-label="The weeks">
<table>
<thead><tr><th scope="col">Week</th><th scope="col">Each session</th><th scope="col">Changed</th><th scope="col">Can be held (model)</th><th scope="col">Sessions done</th><th scope="col">Worst pain 0–10</th><th scope="col">Next day</th></tr></thead>
<tbody>
${plan.weeks.map(row).join("\n")}
</tbody>
</table>
</div>
<div class="stop"><strong>${escapeHtml(stopSigns.title)}</strong>: ${escapeHtml(stopSigns.signs.join("; "))}. ${escapeHtml(stopSigns.text)}</div>
<p><strong>Pain</strong> (${escapeHtml(painBands.scale)}): ${escapeHtml(bands)}. <span class="source">${escapeHtml(painBands.source)}; a convention, not a law</span></p>
<div class="notes">${list([...weekNotes, ...noteLines(plan.notes)])}</div>
</section>
<div class="back">
<section class="soreness">
<h2>Soreness</h2>
<ul>${sorenessNotes(plan.target)
    .map(
      (note) =>
        `<li>${escapeHtml(noteLines([note])[0] ?? "")} <span class="source">${escapeHtml(note.source)}</span></li>`,
    )
    .join("\n")}</ul>
</section>
${cautionsToHtml(cautions)}</div>
</main>
</body>
</html>
`;
};
