/** How much evidence lies near a protocol: the nearest arms as a table, and the answer in sentences. */
import type { Support, NearestRow } from "../projection/project-protocol.js";
import { counted, formatNumber, plainNumber } from "./number-format.js";
import { rangeMiddle } from "./range-cells.js";
import { csvNumbers, csvTexts, type Table } from "./table.js";

/** What part of the answer is data, and what of it the priors, in words. */
const shareWords = (share: number): string => {
  const percent = Math.round(100 * share);
  const shown = percent >= 100 ? "over 99%" : percent <= 0 ? "under 1%" : `${percent}%`;
  return `Of what the answer knows about the average, ${shown} comes from the data and the rest from the priors.`;
};

/** The support of a projection in sentences; the first says extrapolation where it is one. */
export const supportSentences = (support: Support): readonly string[] => [
  support.extrapolates
    ? `EXTRAPOLATION: ${support.reasons.join("; ")}.`
    : "Inside what was studied on every predictor.",
  `${counted(support.nearArms, "arm")} of ${counted(support.nearStudies, "study", "studies")} with ${counted(support.nearPeople, "person", "people")} ${support.nearArms === 1 ? "lies" : "lie"} within two steps of this protocol.`,
  shareWords(support.shareFromData),
];

/** The note that says what a step is; the same steps stand in the projection room. */
export const stepNote =
  "One step is 20 points of effort, a doubling of hold or of tension time, one session a week, four weeks, short to middle or middle to long, or another joint (common sense, no source); what one side does not say counts half a step.";

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
