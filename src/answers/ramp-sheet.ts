/** A working-up as a sheet for the client: a line for every session, in words of everyday; the cautions after it. */
import { cautionsWording } from "../projection/cautions-wording.js";
import type { Profile } from "../projection/profile.js";
import type { RampPlan } from "../projection/ramp-plan.js";
import type { RampWeek } from "../projection/ramp-week.js";
import { sorenessNotes } from "../projection/soreness.js";
import {
  effectiveHoldSeconds,
  effectiveIntensityPercent,
  percentPerRatingStep,
} from "../protocol/derived-quantities.js";
import type { Prescription } from "../protocol/prescription.js";
import { sessionTimeline } from "../protocol/session-timeline.js";
import { cautionsToHtml } from "../tables/cautions-block.js";
import { escapeHtml } from "../tables/escape-html.js";
import { noteLines } from "../tables/note-lines.js";
import { counted, formatNumber } from "../tables/number-format.js";
import { shownDuration } from "../tables/shown-duration.js";
import { cautionsWith } from "./profile.js";
import { sheetHtml } from "./sheet-html.js";

export type RampSheetOptions = Readonly<{
  /** Intensity as effort 0 to 10, for those without equipment. */
  byEffort?: boolean;
  /** What one person said of themselves: what applies to them comes first among the cautions. */
  profile?: Profile;
}>;

/** Lines drawn for a week whose number of sessions is not known. */
const linesWhenUnknown = 3;
const weeksOnPage = 8;
/** What is left for the lines of eight weeks on a printed page, and what a line takes at most, mm. */
const roomForRows = 200;
const highestRow = 8.2;

const plain = (value: number): string =>
  formatNumber(value, { digits: Number.isInteger(value) ? 0 : 1 });

/** How hard, in the client's words. */
const howHard = (p: Prescription, byEffort: boolean): string => {
  if (p.effortRating !== undefined) return `effort ${plain(p.effortRating)} of 10`;
  const percent = effectiveIntensityPercent(p) ?? 0;
  if (byEffort)
    return `effort ${plain(Math.round((2 * percent) / percentPerRatingStep) / 2)} of 10`;
  return percent >= 100 ? "as hard as you can" : `${plain(percent)}% of your best`;
};

const lengths: Readonly<Record<string, string>> = {
  short: "muscle short",
  middle: "middle of the range",
  long: "muscle long",
};

/** What to do in a session: holds, how long, how hard. */
const inWords = (p: Prescription, byEffort: boolean): string => {
  const sets = p.sets > 1 ? `${p.sets} rounds of ` : "";
  return `${sets}${counted(p.repetitions, "hold")} of ${plain(effectiveHoldSeconds(p))} s, ${howHard(p, byEffort)}`;
};

/** Seconds of the session that lasts longest, so that all strips of a plan have one scale. */
const secondsAcross = ({ weeks }: RampPlan): number =>
  Math.max(
    1,
    ...weeks
      .flatMap(({ prescription, long }) => [
        prescription,
        ...(long === undefined ? [] : [long.prescription]),
      ])
      .map((p) => sessionTimeline(p).at(-1)?.endSeconds ?? 0),
  );

/** Narrowest block, so that a short hold is still seen; percent of the strip. */
const narrowest = 2;

/** The session to scale: a block for each hold, as high as it is hard. */
const strip = (p: Prescription, across: number): string => {
  const along = (at: number): number => ((100 - narrowest) * at) / across;
  // A light, short hold is still seen.
  const high = (percent: number): number => Math.max(4, 0.16 * Math.min(100, percent));
  const blocks = sessionTimeline(p).flatMap(
    ({ kind, startSeconds, endSeconds, intensityPercent }) =>
      kind === "hold"
        ? [
            `<rect x="${along(startSeconds).toFixed(1)}" width="${Math.max(narrowest, along(endSeconds - startSeconds)).toFixed(1)}" y="${(16 - high(intensityPercent)).toFixed(1)}" height="${high(intensityPercent).toFixed(1)}"/>`,
          ]
        : [],
  );
  return `<svg class="strip" viewBox="0 0 100 16" preserveAspectRatio="none" aria-hidden="true">${blocks.join("")}<path d="M0 15.7H100"/></svg>`;
};

/** Joints drawn as two limbs, by which side the far one turns to; of the others angles are counted in too many ways. */
const turnsTo: Partial<Record<NonNullable<Prescription["joint"]>, 1 | -1>> = {
  knee: 1,
  hip: 1,
  elbow: -1,
  wrist: -1,
  shoulder: -1,
};

/**
 * The joint's position, small: two limbs with the angle between the far one and straight on where it is one of bending;
 * otherwise how far from the middle of the range to the target's length.
 */
const position = (p: Prescription, share: number): string => {
  const [angle, ...others] = p.trainingAngleDegrees ?? [];
  const side = p.joint === undefined ? undefined : turnsTo[p.joint];
  if (angle !== undefined && others.length === 0 && side !== undefined) {
    const turn = (side * angle * Math.PI) / 180;
    const at = (length: number): string =>
      `${(22 + length * Math.cos(turn)).toFixed(1)} ${(20 + length * Math.sin(turn)).toFixed(1)}`;
    const over = Math.abs(angle) > 180 ? 1 : 0;
    return `<svg class="joint" viewBox="0 0 44 40" aria-hidden="true"><path class="straight" d="M22 20H40"/><path class="arc" d="M31 20A9 9 0 ${over} ${turn < 0 ? 0 : 1} ${at(9)}"/><path d="M3 20H22L${at(18)}"/><circle cx="22" cy="20" r="2.6"/></svg>`;
  }
  const x = (4 + 36 * share).toFixed(1);
  return `<svg class="joint" viewBox="0 0 44 40" aria-hidden="true"><path d="M4 24H40M4 18V30M40 18V30"/><circle cx="${x}" cy="24" r="4"/></svg>`;
};

/** A session, its place in words, its angles in degrees, and how far it is from the middle to the target's length. */
type Line = Readonly<{ p: Prescription; place: string; angles: string; share: number }>;

const anglesOf = ({ trainingAngleDegrees = [] }: Prescription): string =>
  trainingAngleDegrees.map((angle) => `${plain(angle)}°`).join(" and ");

/** The sessions of a week in order: the two kinds take turns, beginning and ending near the middle of the range. */
const linesOf = ({ prescription: main, long }: RampWeek, reached: boolean): readonly Line[] => {
  const count = (p: Prescription): number =>
    Math.max(1, Math.round(p.sessionsPerWeek ?? (long === undefined ? linesWhenUnknown : 1)));
  const near: Line = {
    p: main,
    place: lengths[main.muscleLength ?? ""] ?? "",
    angles: anglesOf(main),
    share: reached ? 1 : 0,
  };
  const mains = Array.from({ length: count(main) }, () => near);
  if (long === undefined) return mains;
  const [done, all] = long.steps;
  const angles = anglesOf(long.prescription);
  const longs = Array.from({ length: count(long.prescription) }, (): Line => ({
    p: long.prescription,
    place:
      done === all
        ? lengths["long"]!
        : angles === ""
          ? `${long.place.split(" of ")[0]} towards long`
          : "towards long",
    angles,
    share: done / all,
  }));
  const [more, fewer] = mains.length >= longs.length ? [mains, longs] : [longs, mains];
  return more.flatMap((line, index) => [
    line,
    ...(fewer[index] === undefined ? [] : [fewer[index]]),
  ]);
};

const rowsOf = (
  week: RampWeek,
  lines: readonly Line[],
  across: number,
  byEffort: boolean,
): string => {
  return lines
    .map(
      ({ p, place, angles, share }, index) =>
        `<tr${index === 0 ? ' class="first"' : ""}>${index === 0 ? `<th scope="rowgroup" rowspan="${lines.length}">${week.week}${week.grade === "hard" ? "<small>hard</small>" : ""}</th>` : ""}<td class="what">${escapeHtml(inWords(p, byEffort))}</td><td>${strip(p, across)}</td><td class="where">${position(p, share)}${angles === "" ? "" : `<b>${angles}</b> `}<span>${escapeHtml(place)}</span></td><td class="tick"><i></i></td><td class="blank"></td><td class="blank"></td><td class="blank"></td></tr>`,
    )
    .join("\n");
};

/** What is the same every week, as a paragraph; empty when there is nothing to say. */
const sameEveryWeek = ({ target }: RampPlan): string => {
  const { restBetweenRepetitionsSeconds: within, restBetweenSetsSeconds: between, action } = target;
  const parts = [
    ...(within === undefined ? [] : [`rest ${shownDuration(within)} between holds`]),
    ...(between === undefined ? [] : [`rest ${shownDuration(between)} between rounds`]),
    ...(action === undefined ? [] : [action === "holding" ? "hold a load" : "push a fixed stop"]),
    ...(target.effortIntent === undefined ? [] : [target.effortIntent]),
    "breathe on, do not hold the breath",
    ...(target.trainingAngleDegrees === undefined ? [] : ["angles with 0° as straight"]),
  ];
  return `<p>Every session: ${escapeHtml(parts.join(", "))}.</p>`;
};

const style = `
@page { size: A4; margin: 10mm; }
* { box-sizing: border-box; }
body { margin: 0 auto; padding: 1.5rem; max-width: 56rem; background: #ffffff; color: #1b2530; font: 15px/1.4 Inter, "Helvetica Neue", Arial, "Liberation Sans", sans-serif; }
h1 { font-size: 1.4rem; margin: 0 0 0.2rem; }
h2 { font-size: 1.1rem; margin: 1rem 0 0.3rem; }
p { margin: 0.25rem 0; }
.fields { display: flex; flex-wrap: wrap; gap: 0.5rem 2rem; margin: 0.8rem 0; }
.fields span { flex: 1 1 10rem; border-bottom: 1px solid #566270; padding-bottom: 0.2rem; }
.scroll { overflow-x: auto; }
table { border-collapse: collapse; width: 100%; }
th, td { text-align: left; vertical-align: middle; padding: 0.15rem 0.4rem; border-bottom: 1px solid #d3dae1; }
thead th { border-bottom: 2px solid #1b2530; vertical-align: bottom; font-size: 0.85em; }
tbody th { vertical-align: top; font-size: 1.15em; }
tbody th small { display: block; font-size: 0.6em; font-weight: 400; color: #566270; }
tr.first > * { border-top: 1.5px solid #566270; }
tbody tr { break-inside: avoid; }
.what { white-space: nowrap; }
.strip { width: 7rem; height: 1rem; vertical-align: middle; }
.strip rect { fill: #3c5a78; }
.strip path { stroke: #566270; stroke-width: 1px; vector-effect: non-scaling-stroke; fill: none; }
.where { white-space: nowrap; }
.where span { font-size: 0.85em; }
.where b { display: inline-block; min-width: 2.6em; }
.joint { width: 2.5rem; height: 2.2rem; vertical-align: middle; margin-right: 0.35rem; }
.joint path { stroke: #1b2530; stroke-width: 2.4; fill: none; stroke-linecap: round; }
.joint path.straight { stroke: #8a96a3; stroke-width: 1.2; stroke-dasharray: 2.5 2.5; }
.joint path.arc { stroke: #a35a1f; stroke-width: 1.4; }
.joint circle { fill: #a35a1f; }
.blank { min-width: 3.6rem; border-left: 1px solid #d3dae1; }
.tick { text-align: center; }
.tick i { display: inline-block; width: 1.05em; height: 1.05em; border: 1.3px solid #1b2530; border-radius: 2px; vertical-align: -0.15em; }
.stop { border: 2px solid #a32e3b; border-radius: 6px; padding: 0.4rem 0.8rem; margin: 0.6rem 0; }
.pain { border: 1.5px solid #1b2530; border-radius: 6px; padding: 0.4rem 0.8rem; margin: 0.6rem 0; }
.quiet, .source { color: #566270; }
.source { font-size: 0.88em; }
.source::before { content: "["; }
.source::after { content: "]"; }
ul { margin: 0.3rem 0; padding-left: 1.1rem; }
.stop-signs ul { columns: 2 12rem; }
.notes { font-size: 0.88em; color: #33404c; }
@media print {
  body { padding: 0; max-width: none; font-size: 8.4pt; line-height: 1.2; }
  h1 { font-size: 13pt; }
  th, td { padding: 0 1mm; }
  .weeks { break-before: page; }
  .weeks:first-of-type { break-before: auto; }
  table { font-size: min(8.4pt, calc(var(--row) * 0.72)); line-height: 1.05; }
  tbody td { height: var(--row); padding-block: 0; white-space: nowrap; }
  .strip { width: 28mm; height: calc(var(--row) * 0.5); }
  .joint { width: calc(var(--row) * 0.95); height: calc(var(--row) * 0.86); }
  .blank { min-width: 13mm; }
  .fields { margin: 2mm 0; }
  .stop, .pain { padding: 1mm 2mm; margin: 1.5mm 0; }
  .back { break-before: page; font-size: 7pt; line-height: 1.24; columns: 2; column-gap: 6mm; }
  .back h2 { font-size: 9.5pt; margin: 0 0 1mm; }
  .back ul { margin: 0; padding-left: 3mm; }
  .back section { margin-bottom: 2mm; }
  .back li { break-inside: avoid; margin-bottom: 0.3mm; }
  .stop-signs ul, .stop-signs ul li { display: inline; padding: 0; }
  .stop-signs ul li::after { content: "; "; }
}
`;

/** The rule by which pain rewrites the week that comes. */
const painRule = (holdBackAt: number): string => {
  const { painBands } = cautionsWording;
  const repeat = holdBackAt < 5 ? ` More than that, up to 5: do this week again.` : "";
  return `<div class="pain"><strong>Worst pain of the week, 0 to 10</strong> (0 none, 10 the worst you can think of). Up to ${plain(holdBackAt)}: go on to the next week.${repeat} Above 5, or worse the next morning: go back one week, and ask before you go on. <span class="source">bands: ${escapeHtml(painBands.source)}; a convention, not a law; what follows from them is common practice</span></div>`;
};

/**
 * A plan as one self-contained HTML sheet to print: a page for each eight weeks with a line for every session, boxes to tick,
 * room for effort, pain and the next morning, the signs at which to stop and the pain rule; then soreness and every caution
 * in full, with its source.
 *
 * The page makes no request and runs no script. The same plan gives the same bytes.
 *
 * @param plan  from `rampPlan`
 */
export const rampSheet = (plan: RampPlan, options: RampSheetOptions = {}): string => {
  const { byEffort = false, profile } = options;
  const cautions = cautionsWith(
    [
      plan.target,
      ...plan.weeks.flatMap(({ prescription, long }) => [
        prescription,
        ...(long === undefined ? [] : [long.prescription]),
      ]),
    ],
    profile,
  );
  const { stopSigns } = cautions;
  const count = plan.weeks.length;
  const title = `Working up to ${inWords(plan.target, byEffort)}`;
  const list = (lines: readonly string[]): string =>
    `<ul>${lines.map((line) => `<li>${escapeHtml(line)}</li>`).join("")}</ul>`;
  const stop = `<div class="stop"><strong>${escapeHtml(stopSigns.title)}</strong>: ${escapeHtml(stopSigns.signs.join("; "))}. ${escapeHtml(stopSigns.text)}</div>`;
  const across = secondsAcross(plan);
  const pages = Array.from({ length: Math.ceil(count / weeksOnPage) }, (_, page) => {
    const weeks = plan.weeks.slice(page * weeksOnPage, (page + 1) * weeksOnPage);
    const lines = weeks.map((week) =>
      linesOf(week, week.prescription.muscleLength === plan.target.muscleLength),
    );
    const row = Math.min(highestRow, roomForRows / lines.flat().length);
    return `<section class="weeks">
<h1>${escapeHtml(title)}</h1>
<p class="quiet">Weeks ${weeks[0]!.week} to ${weeks.at(-1)!.week} of ${count}. Not a clearance: ask a clinician first, and read the cautions before week 1.</p>
${sameEveryWeek(plan)}
<p class="fields"><span>Name</span><span>Begun on</span><span>Seen by</span></p>
<div class="scroll" tabindex="0" role="region" aria-label="Weeks ${weeks[0]!.week} to ${weeks.at(-1)!.week}">
<table style="--row: ${row.toFixed(2)}mm">
<thead><tr><th scope="col">Week</th><th scope="col" colspan="2">Session</th><th scope="col">Where</th><th scope="col">Done</th><th scope="col">Effort 0–10</th><th scope="col">Worst pain 0–10</th><th scope="col">Next morning</th></tr></thead>
<tbody>
${weeks.map((week, index) => rowsOf(week, lines[index]!, across, byEffort)).join("\n")}
</tbody>
</table>
</div>
${painRule(plan.holdBackAt)}
${stop}
</section>`;
  });
  return sheetHtml(title, {
    style,
    body: `${pages.join("\n")}
<div class="back">
${cautionsToHtml(cautions, { onPaper: true })}
<section class="notes">
<h2>For whoever supervises</h2>
${list([...noteLines(plan.weeks.flatMap(({ notes }) => notes)), ...noteLines(plan.notes)])}
</section>
<section class="soreness">
<h2>Soreness</h2>
<ul>${sorenessNotes(plan.target)
      .map(
        (note) =>
          `<li>${escapeHtml(noteLines([note])[0] ?? "")} <span class="source">${escapeHtml(note.source)}</span></li>`,
      )
      .join("\n")}</ul>
</section></div>`,
  });
};
