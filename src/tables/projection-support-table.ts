/** How much evidence lies near a protocol: the nearest arms as a table, and the answer in sentences. */
import type { PriorSensitivity } from "../projection/prior-sensitivity.js";
import type { NearestRow } from "../projection/placed-protocol.js";
import type { Projection } from "../projection/project-protocol.js";
import type { ToldParts } from "../projection/told-parts.js";
import { listed } from "../protocol/listed.js";
import { counted, formatNumber, plainNumber } from "./number-format.js";
import { rangeMiddle } from "./range-cells.js";
import { csvNumbers, csvTexts, type Table } from "./table.js";

/** How far the middle moves with the priors of its slopes; nothing where these are flat. */
export const sensitivityWords = (middle: number, both: PriorSensitivity | undefined): string => {
  if (both === undefined) return "";
  const digits = { digits: 1 };
  const far = Math.max(Math.abs(both.halved - middle), Math.abs(both.doubled - middle));
  return `Halving or doubling the starting assumptions about what a dose changes moves the middle by at most ${formatNumber(far, digits)} points (halved ${formatNumber(both.halved, digits)}%, doubled ${formatNumber(both.doubled, digits)}%).`;
};

/** Which parts of a protocol moved its number, and which did not, in a sentence. */
export const partsSentence = ({ moved, still, stillWhy }: ToldParts): string =>
  still.length === 0
    ? `Moved by ${listed(moved)}.`
    : `Moved by ${listed(moved)}; ${listed(still.map(({ label }) => label))} played no part: ${stillWhy}.`;

/** What a projection rests on near it, in sentences; the first says extrapolation where it is one. */
export const supportSentences = ({
  support,
  parts,
  ranges,
}: Pick<Projection, "support" | "parts" | "ranges">): readonly string[] => [
  ...(parts.ofProtocol
    ? [
        support.extrapolates
          ? `EXTRAPOLATION: ${support.reasons.join("; ")}.`
          : "Inside what was studied on every axis.",
        `${counted(support.nearArms, "arm")} of ${counted(support.nearStudies, "study", "studies")} with ${counted(support.nearPeople, "person", "people")} ${support.nearArms === 1 ? "lies" : "lie"} within two steps of this protocol.`,
        partsSentence(parts),
      ]
    : []),
  ...[sensitivityWords(ranges.average.percent.estimate, support.priorSensitivity)].filter(Boolean),
];

/** The note that says what a step is; the same steps stand in the projection room. */
export const stepNote =
  "One step is 20 points of intensity, a doubling of hold or of tension time, one session a week, four weeks, short to middle or middle to long, or another joint (common sense, no source); what one side does not say counts half a step, and three where it is intensity, hold or tension time.";

/**
 * The nearest arms of the file with their citations and distances.
 *
 * @param nearest the nearest first
 */
export const nearestTable = (nearest: readonly NearestRow[], id = "nearest"): Table => ({
  id,
  title: "The nearest arms of the file",
  columns: [
    { key: "study", label: "Study and arm", align: "left" },
    { key: "written", label: "Prescription", align: "left" },
    { key: "people", label: "People", align: "right" },
    { key: "distance", label: "Distance", unit: "steps", align: "right" },
    { key: "gain", label: "Mean gain seen", unit: "%", align: "right" },
    { key: "citation", label: "Citation", align: "left" },
    { key: "lines", label: "Lines", align: "left" },
  ],
  csvColumns: [
    ...csvTexts("ownStudy", "arm", "written"),
    ...csvNumbers("people", "exactDistance", "logGain"),
    ...csvTexts("citation", "lines"),
  ],
  rows: nearest.map((row) => ({
    study: row.arm.startsWith(row.study) ? row.arm : `${row.study}: ${row.arm}`,
    ownStudy: row.study,
    arm: row.arm,
    written: row.written ?? "not coded fully enough to write",
    people: plainNumber(row.participants),
    distance: formatNumber(row.distance, { digits: 1 }),
    exactDistance: plainNumber(row.distance),
    gain: rangeMiddle({ estimate: row.meanEffect }),
    logGain: plainNumber(row.meanEffect),
    citation: row.doi === undefined ? row.citation : `${row.citation}, doi ${row.doi}`,
    lines: row.lines.join(", "),
  })),
  notes: [stepNote],
});
