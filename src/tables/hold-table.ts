/** Tables of one session: its doses, what is left at each hold, and what would make it fit. */
import type { CapacityPoint, HoldAssessment } from "../endurance/can-be-held.js";
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
import { formatCount, formatInterval, formatNumber } from "./number-format.js";
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
  const share = (value: number): string => `${formatNumber(100 * value, { digits: 0 })}%`;
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
            row("Duty cycle within a set", dutyCycle(p), share, ["the rest"]),
            row("Share of the session under tension", sessionTensionShare(p), share, [
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
 * What is left at the end of each hold, with the band from people who tire sooner to those who tire
 * later.
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
      { key: "band", label: "Tires sooner to later", unit: "% of MVC", align: "right" },
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

/**
 * The edges of what fits, one thing changed at a time: for a comfortable session and for one that is at
 * worst near the limit, side by side.
 */
export const holdFitTable = (
  p: Prescription,
  comfortable: WhatWouldFit,
  nearLimit: WhatWouldFit,
): Table => {
  const now = (value: number | undefined, unit: string): string =>
    value === undefined ? "" : `${plain(value)}${unit}`;
  const row = (
    change: string,
    written: string,
    pick: (fit: WhatWouldFit) => Fit | undefined,
    unit: string,
  ): readonly Readonly<Record<string, string>>[] => {
    const [easy, hard] = [pick(comfortable), pick(nearLimit)];
    return easy === undefined || hard === undefined
      ? []
      : [{ change, written, comfortable: fitText(easy, unit), near: fitText(hard, unit) }];
  };
  return {
    id: "what-would-fit",
    title: "What would make it fit, one thing changed at a time",
    columns: [
      { key: "change", label: "Changed alone", align: "left" },
      { key: "written", label: "Now", align: "right" },
      { key: "comfortable", label: "To be comfortable", align: "right" },
      { key: "near", label: "To be at worst near the limit", align: "right" },
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
    notes: comfortable.notes.map(
      ({ message }) => `${message.charAt(0).toUpperCase()}${message.slice(1)}.`,
    ),
  };
};

/** The answer in one sentence: the grade, and where the reserve runs out for whom. */
export const holdAnswer = (a: HoldAssessment): string => {
  const place = (failure: NonNullable<HoldAssessment["failsAt"]>): string =>
    `in ${failure.set > 1 ? `set ${failure.set}, ` : ""}hold ${failure.repetition}, ${formatNumber(failure.secondsIntoHold, { digits: 1 })} s into it`;
  const who = [
    ...(a.failsAt === undefined ? [] : [`a typical person runs out ${place(a.failsAt)}`]),
    ...(a.failsAtLow === undefined
      ? []
      : [`people who tire sooner run out ${place(a.failsAtLow)}`]),
    ...(a.failsAtHigh === undefined
      ? []
      : [`people who tire later run out ${place(a.failsAtHigh)}`]),
  ];
  // A grade between the two ends is easier to believe when the end that holds is named too.
  const keeps =
    a.failsAtHigh !== undefined
      ? ""
      : a.failsAt !== undefined
        ? "; people who tire later keep it to the end"
        : a.failsAtLow !== undefined
          ? "; a typical person keeps it to the end"
          : "";
  const grade = a.grade.charAt(0).toUpperCase() + a.grade.slice(1);
  if (a.maximal)
    return `${grade}: a maximal effort has no load to fail at; force falls with what is left.`;
  if (who.length > 0) return `${grade}: ${who.join("; ")}${keeps}.`;
  return `${grade}: not even people who tire sooner run out; at the closest they have ${formatNumber(a.smallestReservePercent.low, { digits: 0 })} points of MVC to spare.`;
};
