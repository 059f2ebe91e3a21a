/** A client's tests and the rules followed about them, as tables and in words. */
import type { ClientChange, OccasionChange } from "../projection/client-change.js";
import { confidenceWords, counted, formatNumber, plainNumber } from "./number-format.js";
import { rangeLimits, rangeMiddle } from "./range-cells.js";
import { csvNumbers, csvTexts, type Table } from "./table.js";

/** Weeks since training began, "6 weeks", "2.4 weeks". */
export const weeksText = (weeks: number): string =>
  counted(Number(formatNumber(weeks, { digits: 1 })), "week");

const asRange = ({ change, low, high }: Pick<OccasionChange, "change" | "low" | "high">) => ({
  estimate: change,
  low,
  high,
});

/** A change for a sentence, "up 14.2% (3.1 to 26.5%)", or "(95% interval 3.1 to 26.5%)" where its confidence is given. */
export const changeText = (
  change: Pick<OccasionChange, "change" | "low" | "high">,
  confidence?: number,
): string => {
  const middle = rangeMiddle(asRange(change));
  const said = /^[\d.]*[1-9]/.test(middle)
    ? `up ${middle}%`
    : /[1-9]/.test(middle)
      ? `down ${middle.slice(1)}%`
      : "unchanged";
  return `${said} (${confidence === undefined ? "" : `${confidenceWords(confidence)} interval `}${rangeLimits(asRange(change))}%)`;
};

/** Whether a change is one, in words. */
export const callWords = {
  more: "higher, beyond the error of the test",
  less: "lower, beyond the error of the test",
  "within the error": "within the error of the test",
} as const satisfies Readonly<Record<OccasionChange["call"], string>>;

/** Every test of a client with its change, before training and after. */
export const followTable = (
  { baseline, occasions, threshold }: ClientChange,
  {
    dateOf,
    unit,
    confidence,
    isAdjusted,
    source,
  }: Readonly<{
    dateOf: (day: number) => string;
    unit: string;
    confidence: number;
    /** What people gain without training is taken off. */
    isAdjusted: boolean;
    /** Of the published error. */
    source?: string;
  }>,
): Table => {
  const made = ({ day, days, trials, logValue }: ClientChange["baseline"]) => ({
    date: dateOf(day),
    tests: days === 1 ? "1 day" : `${days} days`,
    trials: String(trials),
    value: formatNumber(Math.exp(logValue), { digits: Math.exp(logValue) < 20 ? 2 : 1 }),
    days: String(days),
    geometricMean: plainNumber(Math.exp(logValue)),
  });
  const of = (estimate: number) => rangeMiddle({ estimate });
  return {
    id: "follow",
    title: `The tests, with ${confidenceWords(confidence)} intervals that hold for all of them at once`,
    columns: [
      { key: "week", label: "Week", align: "right" },
      { key: "date", label: "Date", align: "left" },
      { key: "tests", label: "Made on", align: "left" },
      { key: "trials", label: "Trials", align: "right" },
      { key: "value", label: "Value", unit, align: "right" },
      { key: "measured", label: "As measured", unit: "%", align: "right" },
      ...(isAdjusted
        ? [{ key: "change", label: "Beyond no training", unit: "%", align: "right" } as const]
        : []),
      { key: "limits", label: "Interval", unit: "%", align: "right" },
      { key: "call", label: "Told apart from no change", align: "left" },
    ],
    narrowColumns: [
      { key: "week", label: "Week", align: "right" },
      { key: "value", label: "Value", unit, align: "right" },
      { key: isAdjusted ? "change" : "measured", label: "Change", unit: "%", align: "right" },
      { key: "limits", label: "Interval", unit: "%", align: "right" },
    ],
    csvColumns: [
      ...csvTexts("date"),
      ...csvNumbers("weeks", "days", "trials", "geometricMean"),
      ...csvNumbers("measuredLog", "changeLog", "lowLog", "highLog"),
      ...csvTexts("call"),
    ],
    rows: [
      {
        ...made(baseline),
        week: "before",
        weeks: "0",
        measured: "",
        change: "",
        limits: "",
        call: "",
        ...{ measuredLog: "", changeLog: "", lowLog: "", highLog: "" },
      },
      ...occasions.map((one) => ({
        ...made(one),
        week: formatNumber(one.weeks, { digits: 1 }),
        weeks: plainNumber(one.weeks),
        measured: of(one.measured),
        change: of(one.change),
        limits: rangeLimits(asRange(one)),
        call: callWords[one.call],
        measuredLog: plainNumber(one.measured),
        changeLog: plainNumber(one.change),
        lowLog: plainNumber(one.low),
        highLog: plainNumber(one.high),
      })),
    ],
    notes: [
      `Several trials of a day are averaged, and so are days at most 3 apart. A change is told from ${formatNumber(threshold, { digits: 2 })} of its own standard deviations, so that of all logs without any true change ${confidenceWords(1 - confidence)} or fewer have one called real.`,
      ...(source === undefined ? [] : [`Published error of the test: ${source}.`]),
    ],
  };
};

/** The rules in their order, with the one that is followed marked. */
export const rulesTable = (
  rules: readonly Readonly<{ id: string; advice: string; when: string; what: string }>[],
  followed: string,
): Table => ({
  id: "follow-rules",
  title: "The rules: the first that holds is followed",
  columns: [
    { key: "place", label: "Rule", align: "right" },
    { key: "when", label: "Where", align: "left" },
    { key: "advice", label: "Then", align: "left" },
    { key: "what", label: "That is", align: "left" },
    { key: "followed", label: "Followed", align: "left" },
  ],
  rows: rules.map(({ id, advice, when, what }, place) => ({
    place: String(place + 1),
    when,
    advice,
    what,
    followed: id === followed ? "here" : "",
  })),
  notes: ["Common practice and ours: no trial tested these rules. They are no medical advice."],
});
