/** Tables of one session: its doses, what is left at each hold, and what would make it fit. */
import type { CapacityPoint, HoldAssessment } from "../endurance/can-be-held.js";
import type { FailurePoint } from "../endurance/session-course.js";
import type { Fit, WhatWouldFit } from "../endurance/what-would-fit.js";
import {
  contractionsPerSession,
  contractionsPerWeek,
  dutyCycle,
  effectiveIntensityPercent,
  effortLabel,
  sessionLengthSeconds,
  sessionTensionShare,
  tensionTimePerSessionSeconds,
  tensionTimePerSetSeconds,
  tensionTimePerWeekSeconds,
  tensionTimeProgrammeSeconds,
  torqueTimePerSession,
  torqueTimePerWeek,
  torqueTimeProgramme,
} from "../protocol/derived-quantities.js";
import type { Prescription } from "../protocol/prescription.js";
import type { TimelinePart } from "../protocol/session-timeline.js";
import {
  capital,
  formatCount,
  formatInterval,
  formatNumber,
  sharePercent,
} from "./number-format.js";
import { shownDuration } from "./shown-duration.js";
import { csvNumbers, csvTexts, type Table } from "./table.js";

const plain = (value: number): string =>
  formatNumber(value, { digits: Number.isInteger(value) ? 0 : 1 });

/**
 * Every quantity that follows from a prescription; what cannot be worked out is said not to be.
 *
 * @param p a sound prescription
 */
export const holdDoseTable = (p: Prescription): Table => {
  const row = (
    quantity: string,
    value: number | undefined,
    show: (value: number) => string,
    needs: readonly (string | undefined)[],
  ): Readonly<Record<string, string>> => ({
    quantity,
    value:
      value === undefined
        ? `not known without ${needs.filter(Boolean).join(" and ")}`
        : show(value),
  });
  // Only what is missing is named.
  const frequency = p.sessionsPerWeek === undefined ? "sessions a week" : undefined;
  const weeks = p.weeks === undefined ? "weeks" : undefined;
  const percent =
    effectiveIntensityPercent(p) === undefined ? "an intensity in percent of MVC" : undefined;
  const count = (value: number): string =>
    Number.isInteger(value) ? formatCount(value) : plain(value);
  const work = (value: number): string => `${count(value)} %·s`;
  const label = effortLabel(p);
  return {
    id: "dose",
    title: "What follows from the prescription",
    columns: [
      { key: "quantity", label: "Quantity", align: "left" },
      { key: "value", label: "Value", align: "right" },
    ],
    rows: [
      row("Holds in a session", contractionsPerSession(p), count, []),
      row("Holds in a week", contractionsPerWeek(p), count, [frequency]),
      row(
        "Intensity",
        effectiveIntensityPercent(p),
        (value) => `${plain(value)}% of MVC${label === undefined ? "" : `, ${label}`}`,
        [percent],
      ),
      row("Tension time in a set", tensionTimePerSetSeconds(p), shownDuration, []),
      row("Tension time in a session", tensionTimePerSessionSeconds(p), shownDuration, []),
      row("Tension time in a week", tensionTimePerWeekSeconds(p), shownDuration, [frequency]),
      row("Tension time in the programme", tensionTimeProgrammeSeconds(p), shownDuration, [
        frequency,
        weeks,
      ]),
      row("Torque–time in a session", torqueTimePerSession(p), work, [percent]),
      row("Torque–time in a week", torqueTimePerWeek(p), work, [percent, frequency]),
      row("Torque–time in the programme", torqueTimeProgramme(p), work, [
        percent,
        frequency,
        weeks,
      ]),
      row("Length of a session", sessionLengthSeconds(p), shownDuration, ["every rest"]),
      ...(contractionsPerSession(p) === 1
        ? []
        : [
            row("Duty cycle within a set", dutyCycle(p), sharePercent, ["the rest"]),
            row("Share of the session under tension", sessionTensionShare(p), sharePercent, [
              "every rest",
            ]),
          ]),
    ],
    notes: ["Torque–time is intensity times tension time, in percent of MVC times seconds."],
  };
};

/** Rows shown at most; beyond, the first and the last halves are. */
const mostRows = 20;

/**
 * What is left at the end of each hold, with the band from those who tire early to those who tire
 * late.
 *
 * @param timeline the session the assessment was made of
 */
export const holdCapacityTable = (
  assessment: HoldAssessment,
  timeline: readonly TimelinePart[],
): Table => {
  const at = new Map<number, CapacityPoint>(
    assessment.capacity.map((point) => [Number(point.seconds.toFixed(6)), point]),
  );
  const holds = timeline.filter(({ kind }) => kind === "hold");
  const all = holds.flatMap((hold) => {
    const point = at.get(Number(hold.endSeconds.toFixed(6)));
    if (point === undefined) return [];
    const reserve = point.central - hold.intensityPercent;
    return [
      {
        hold: holds.some(({ set }) => set > 1)
          ? `set ${hold.set}, ${hold.repetition}`
          : String(hold.repetition),
        ends: plain(hold.endSeconds),
        load: plain(hold.intensityPercent),
        left: formatNumber(point.central, { digits: 0 }),
        band: formatInterval({ low: point.low, high: point.high }, { digits: 0 }),
        low: String(point.low),
        high: String(point.high),
        reserve: formatNumber(reserve, { digits: 0 }),
      },
    ];
  });
  const half = mostRows / 2;
  const shown = all.length <= mostRows ? all : [...all.slice(0, half), ...all.slice(-half)];
  return {
    id: "remaining-capacity",
    title: "What is left at the end of each hold",
    columns: [
      { key: "hold", label: "Hold", align: "left" },
      { key: "ends", label: "Ends at", unit: "s", align: "right" },
      { key: "load", label: "Load", unit: "% of MVC", align: "right" },
      { key: "left", label: "Left", unit: "% of MVC", align: "right" },
      { key: "band", label: "Tires early to late", unit: "% of MVC", align: "right" },
      ...(assessment.maximal
        ? []
        : [{ key: "reserve", label: "Left above load", unit: "points", align: "right" } as const]),
    ],
    csvColumns: [...csvTexts("hold"), ...csvNumbers("ends", "load", "left", "low", "high")],
    rows: shown,
    notes: [
      ...(shown.length < all.length
        ? [`The first and the last ${half} of ${all.length} holds; the others lie between.`]
        : []),
      assessment.maximal
        ? "A maximal effort has no load to fail at: what is left is the force that can still be produced."
        : "Below the load the hold cannot be kept; what follows a failure is carried on at full force.",
    ],
  };
};

const fitText = (fit: Fit, unit: string): string =>
  fit.kind === "limit"
    ? `${plain(fit.value)}${unit}`
    : fit.kind === "no limit"
      ? `no limit (searched to ${plain(fit.searchedTo)}${unit})`
      : "cannot fit by this alone";

/** The edges of what fits, one thing changed at a time: for a session to spare and for one most people finish. */
export const holdFitTable = (p: Prescription, toSpare: WhatWouldFit, hard: WhatWouldFit): Table => {
  const now = (value: number | undefined, unit: string): string =>
    value === undefined ? "" : `${plain(value)}${unit}`;
  const row = (
    change: string,
    written: string,
    pick: (fit: WhatWouldFit) => Fit | undefined,
    unit: string,
  ): readonly Readonly<Record<string, string>>[] => {
    const [easy, most] = [pick(toSpare), pick(hard)];
    return easy === undefined || most === undefined
      ? []
      : [{ change, written, spare: fitText(easy, unit), hard: fitText(most, unit) }];
  };
  return {
    id: "what-would-fit",
    title: "What would make it fit, one thing changed at a time",
    columns: [
      { key: "change", label: "Changed alone", align: "left" },
      { key: "written", label: "Now", align: "right" },
      { key: "spare", label: "To be to spare", align: "right" },
      { key: "hard", label: "To be at worst hard", align: "right" },
    ],
    rows: [
      ...row(
        "Longest hold",
        p.holdSecondsHigh === undefined
          ? `${plain(p.holdSeconds)} s`
          : `${plain(p.holdSeconds)}–${plain(p.holdSecondsHigh)} s`,
        (fit) => fit.longestHoldSeconds,
        " s",
      ),
      ...row("Most holds in a set", String(p.repetitions), (fit) => fit.mostRepetitions, ""),
      ...row(
        "Shortest rest between holds",
        now(p.restBetweenRepetitionsSeconds, " s"),
        (fit) => fit.shortestRestBetweenRepetitionsSeconds,
        " s",
      ),
      ...row(
        "Shortest rest between sets",
        now(p.restBetweenSetsSeconds, " s"),
        (fit) => fit.shortestRestBetweenSetsSeconds,
        " s",
      ),
    ],
    notes: toSpare.notes.map(
      ({ message }) => `${message.charAt(0).toUpperCase()}${message.slice(1)}.`,
    ),
  };
};

/** A grade in words, or why there is none. */
export const gradeWords = ({
  grade,
  ungraded,
}: Pick<HoldAssessment, "grade" | "ungraded">): string =>
  grade ?? (ungraded === "over an hour" ? "not judged: over an hour" : "maximal: no grade");

const points = (value: number): string => formatNumber(value, { digits: 0 });

/** Force left by the weakest hold of a maximal session, percent of MVC. */
export const expectedForcePercent = ({ smallestReservePercent: spare }: HoldAssessment) => ({
  low: 100 + spare.low,
  middle: 100 + spare.central,
  high: 100 + spare.high,
});

/** The answer in one sentence: the grade, and where the reserve runs out for whom. */
export const holdAnswer = (a: HoldAssessment): string => {
  if (a.ungraded === "over an hour")
    return "Not judged: the session takes over an hour, which nobody measured.";
  if (a.ungraded === "maximal") {
    const { low, middle, high } = expectedForcePercent(a);
    return `Maximal, so no grade: by the weakest hold force is expected to be ${points(middle)}% of MVC (${points(low)} to ${points(high)}%).`;
  }
  const place = ({ set, repetition, secondsIntoHold }: FailurePoint): string =>
    `in ${set > 1 ? `set ${set}, ` : ""}hold ${repetition}, ${formatNumber(secondsIntoHold, { digits: 1 })} s into it`;
  // Where it is not said what is done, the band runs from holding a load to pushing a stop.
  const doing = (what: string): string => (a.action === "not said" ? `, ${what},` : "");
  const early = `those who tire early${doing("holding a load")}`;
  const { low, central } = a.smallestReservePercent;
  const [first, ...rest] =
    a.failsAtHigh !== undefined
      ? [
          `even those who tire late run out ${place(a.failsAtHigh)}`,
          ...(a.failsAt === undefined ? [] : [`a typical person ${place(a.failsAt)}`]),
        ]
      : a.failsAt !== undefined
        ? [
            `a typical person runs out ${place(a.failsAt)}`,
            ...(a.failsAtLow === undefined ? [] : [`${early} ${place(a.failsAtLow)}`]),
            `those who tire late${doing("pushing a stop")} keep it to the end`,
          ]
        : a.failsAtLow !== undefined
          ? [
              `a typical person finishes with ${points(central)} points of MVC to spare`,
              `${early} run out ${place(a.failsAtLow)}`,
            ]
          : [
              `${early} finish with ${points(low)} points of MVC to spare`,
              `a typical person with ${points(central)}`,
              ...(a.aboveCriticalTorque
                ? ["such a mean load was not kept up for longer than five minutes"]
                : []),
            ];
  return `${capital(gradeWords(a))}: ${[first, ...rest].join("; ")}.`;
};

/** What an assessment leans on, in a sentence. */
export const holdSources = (a: HoldAssessment): string =>
  [
    `Leans on endurance times ${a.region === "general" ? "pooled over joints" : `of the ${a.region}`} (Frey Law & Avin 2010)`,
    a.parameters === "alternative"
      ? "recovery as in Rakshit 2021"
      : "recovery at rest as in Looft 2018",
    ...(a.holding === undefined
      ? []
      : [
          `${a.action === "holding" ? "holding a load" : "holding or pushing, as the action is not said,"} by Schaefer & Bittmann 2017`,
        ]),
    ...(a.aboveCriticalTorque || a.maximal ? ["repeated work by Burnley 2009"] : []),
  ].join("; ") + ".";

/** One line of a file of protocols: what became of it. */
export type HoldLine = Readonly<{
  line: number;
  name: string;
  written: string;
  /** Absent where the line cannot be read, or lacks a rest or an intensity: `problem` says so. */
  assessment?: HoldAssessment;
  problem?: string;
}>;

/** Many sessions, a row for each line of the file. */
export const holdLinesTable = (lines: readonly HoldLine[]): Table => ({
  id: "sessions",
  title: "Can they be held",
  columns: [
    { key: "line", label: "Line", align: "right" },
    { key: "name", label: "Session", align: "left" },
    { key: "joint", label: "Curve", align: "left" },
    { key: "action", label: "Action", align: "left" },
    { key: "grade", label: "Can be held", align: "left" },
    { key: "fails", label: "A typical person runs out", align: "left" },
    { key: "spare", label: "To spare", unit: "points of MVC", align: "right" },
  ],
  rows: lines.map(({ line, name, assessment: a, problem = "" }) => {
    const at = a?.failsAt;
    const spare = a?.smallestReservePercent;
    return {
      line: String(line),
      name,
      joint: a?.region ?? "",
      action: a?.action ?? "",
      grade: a === undefined ? problem : gradeWords(a),
      fails:
        at === undefined
          ? ""
          : `set ${at.set}, hold ${at.repetition}, ${formatNumber(at.secondsIntoHold, { digits: 1 })} s`,
      spare:
        spare === undefined || a?.ungraded !== undefined
          ? ""
          : `${points(spare.central)} (${points(spare.low)} to ${points(spare.high)})`,
    };
  }),
  notes: [
    "To spare: least capacity above the load at the end of a hold, with the band from those who tire early to those who tire late.",
  ],
});
