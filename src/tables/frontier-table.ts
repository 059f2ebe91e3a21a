/** The frontier of expected gain against time as a table, and what the search did in sentences. */
import { shownDuration } from "./shown-duration.js";
import { contrastShortLabel } from "../effects/scale-label.js";
import type { Frontier } from "../projection/explore-protocols.js";
import type { ReadyProjection } from "../projection/prepare-projection.js";
import type { Prescription } from "../protocol/prescription.js";
import { writePrescription } from "../protocol/write-prescription.js";
import {
  confidenceWords,
  counted,
  formatCount,
  formatNumber,
  plainNumber,
} from "./number-format.js";
import { noteLines } from "./note-lines.js";
import { probabilityCell, rangeCell, rangeLimits, rangeMiddle } from "./range-cells.js";
import { csvNumbers, csvTexts, type Column, type Table } from "./table.js";

export type FrontierTableOptions = Readonly<{
  /** Share of the probability inside a range, as it was searched with. */
  confidence?: number;
  id?: string;
}>;
export const frontierTableDefaults = { confidence: 0.95, id: "frontier" } as const;

const minutes = (value: number): string => formatNumber(value, { digits: 1 });

/** A protocol without what all of a frontier share and its title says. */
const withoutShared = ({ weeks: _weeks, joint: _joint, ...p }: Prescription): string =>
  writePrescription(p);

/**
 * A row for each protocol of the frontier, from the least time to the most: what it takes and its three ranges. Weeks and joint,
 * which all share, stand in the title.
 *
 * @param frontier from `exploreProtocols`
 * @param prepared what it was projected from
 */
export const frontierTable = (
  frontier: Frontier,
  prepared: Pick<ReadyProjection, "contrast">,
  options: FrontierTableOptions = {},
): Table => {
  const { confidence, id } = { ...frontierTableDefaults, ...options };
  const right = (key: string, label: string, unit: string): Column => ({
    key,
    label,
    unit,
    align: "right",
  });
  return {
    id,
    title: `The most for the time: ${frontier.goal} after ${counted(frontier.limits.weeks ?? 0, "week")}${frontier.limits.joint === undefined ? "" : `, ${frontier.limits.joint}`}, ${contrastShortLabel(prepared.contrast)}; middle and ${confidenceWords(confidence)} range`,
    columns: [
      { key: "number", label: "No.", align: "right" },
      { key: "written", label: "Protocol", align: "left" },
      right("session", "A session", "min"),
      right("week", "A week", "min"),
      right("average", "The average", "%"),
      right("newGroup", "A new group", "%"),
      right("person", "A single person", "%"),
    ],
    csvColumns: [
      ...csvNumbers("number"),
      ...csvTexts("whole"),
      ...csvNumbers("exactSession", "exactWeek"),
      ...csvTexts("grade"),
      ...csvNumbers("middle", "low", "high", "exactChance"),
    ],
    rows: frontier.points.map((point, index) => {
      const { average, newGroup, person } = point.projection.ranges;
      const { overPrevious } = point;
      return {
        number: String(index + 1),
        written: withoutShared(point.prescription),
        session: minutes(point.minutesPerSession),
        week: minutes(point.minutesPerWeek),
        average: rangeCell(average),
        newGroup: rangeLimits(newGroup),
        person: rangeLimits(person),
        whole: point.written,
        exactSession: plainNumber(point.minutesPerSession),
        exactWeek: plainNumber(point.minutesPerWeek),
        grade: point.grade ?? "no grade",
        middle: plainNumber(average.percent.estimate),
        low: plainNumber(average.percent.low),
        high: plainNumber(average.percent.high),
        exactChance: overPrevious === undefined ? "" : plainNumber(overPrevious.probabilityBetter),
      };
    }),
    notes: [
      ...noteLines(frontier.notes),
      ...noteLines(frontier.points.flatMap(({ projection }) => projection.assumed)),
    ],
  };
};

/** What each protocol of the frontier adds to the one before it, and the chance that it adds anything. */
export const frontierStepsTable = (
  { points }: Pick<Frontier, "points">,
  options: FrontierTableOptions = {},
): Table => {
  const { confidence, id } = { ...frontierTableDefaults, ...options };
  return {
    id: `${id}-steps`,
    title: "What each adds to the one before",
    columns: [
      { key: "step", label: "Step", align: "left" },
      { key: "minutes", label: "More time", unit: "min a week", align: "right" },
      {
        key: "adds",
        label: `Adds, middle and ${confidenceWords(confidence)} range`,
        unit: "%",
        align: "right",
      },
      { key: "chance", label: "Chance that it adds", align: "right" },
    ],
    rows: points.flatMap(({ overPrevious, minutesPerWeek }, index) =>
      overPrevious === undefined
        ? []
        : [
            {
              step: `${index} to ${index + 1}`,
              minutes: minutes(minutesPerWeek - (points[index - 1]?.minutesPerWeek ?? 0)),
              adds: rangeCell(overPrevious.difference),
              chance: probabilityCell(overPrevious.probabilityBetter),
            },
          ],
    ),
    notes: [],
  };
};

/** What was searched and what fell out, then the two ends of the frontier. */
export const frontierSentences = (
  frontier: Frontier,
  options: FrontierTableOptions = {},
): readonly string[] => {
  const { confidence } = { ...frontierTableDefaults, ...options };
  const { tried, excluded, candidates, points, limits } = frontier;
  const [first] = points;
  const last = points.at(-1);
  const end = (point: typeof last): string =>
    point === undefined
      ? ""
      : `${point.written} takes ${shownDuration(Math.round(60 * point.minutesPerWeek))} a week and is expected to give ${rangeMiddle(point.projection.ranges.average)}% on average (${confidenceWords(confidence)} range ${rangeLimits(point.projection.ranges.average)}%; a single person ${rangeLimits(point.projection.ranges.person)}%)`;
  return [
    `${formatCount(tried)} candidates within ${plainNumber(limits.minutesPerSession)} min a session, ${counted(limits.sessionsPerWeek, "session")} a week and ${plainNumber(limits.effortCeilingPercent)}% of MVC: ${formatCount(candidates.length)} can be held and lie near evidence; ${formatCount(excluded.tooLong)} take too long, ${formatCount(excluded.cannotBeHeld)} cannot be held, ${formatCount(excluded.notSupported)} lie outside what was studied.`,
    points.length === 1
      ? `One stands alone: ${end(first)}.`
      : `At the short end, ${end(first)}; at the long end, ${end(last)}.`,
  ];
};
