import type { OutcomeRow } from "./outcome-row.js";

export type Statistic = NonNullable<OutcomeRow["statistic"]>;

/** What a printed form needs to become an effect, and whether it then can be weighted. */
type Form = Readonly<{ statistic: Statistic; complete: (row: Draft) => boolean }>;

/** A row before its statistic is settled. */
export type Draft = Omit<OutcomeRow, "statistic">;

const both = (row: Draft) => row.preMean !== undefined && row.postMean !== undefined;
const anyTimeSpread = (row: Draft) => row.preSpread !== undefined || row.postSpread !== undefined;
const changed = (row: Draft) => row.changeMean !== undefined || both(row);
const interval = (row: Draft) => row.intervalLow !== undefined && row.intervalHigh !== undefined;
const medians = (row: Draft) =>
  (row.preMedian !== undefined && row.postMedian !== undefined) || row.changeMedian !== undefined;
const quartiles = (row: Draft) =>
  row.changeMedian === undefined
    ? row.preQuartileLow !== undefined && row.preQuartileHigh !== undefined
    : row.changeQuartileLow !== undefined && row.changeQuartileHigh !== undefined;
const range = (row: Draft) =>
  row.changeMedian === undefined
    ? row.preMinimum !== undefined && row.preMaximum !== undefined
    : row.changeMinimum !== undefined && row.changeMaximum !== undefined;
/** A standardised difference from a comparator has a large-sample variance where the groups' sizes are known. */
const sizedDifference = (row: Draft) =>
  row.statisticOf === "difference from comparator" && !peopleUnknown(row);

/** Forms in the order they are preferred when a row fills the columns of several. */
const weightableForms: readonly Form[] = [
  { statistic: "means at both times", complete: (row) => both(row) && anyTimeSpread(row) },
  {
    statistic: "change with spread",
    complete: (row) => changed(row) && row.changeSpread !== undefined,
  },
  {
    statistic: "percent change with spread",
    complete: (row) => row.changePercentMean !== undefined && row.changePercentSpread !== undefined,
  },
  { statistic: "change with interval", complete: (row) => interval(row) },
  { statistic: "t value", complete: (row) => row.tValue !== undefined },
  { statistic: "F value", complete: (row) => row.fValue !== undefined },
  { statistic: "p value", complete: (row) => row.pValue !== undefined },
  {
    statistic: "medians with quartiles",
    complete: (row) => medians(row) && quartiles(row),
  },
  {
    statistic: "medians with range",
    complete: (row) => medians(row) && range(row),
  },
  {
    statistic: "effect computed elsewhere",
    complete: (row) =>
      row.effect !== undefined &&
      (row.effectStandardError !== undefined || interval(row) || sizedDifference(row)),
  },
];

/** Forms that tell how much changed and nothing about how surely. */
const unweightableForms: readonly Form[] = [
  { statistic: "means at both times", complete: both },
  { statistic: "change with spread", complete: (row) => row.changeMean !== undefined },
  {
    statistic: "percent change with spread",
    complete: (row) => row.changePercentMean !== undefined,
  },
  { statistic: "medians with quartiles", complete: medians },
  { statistic: "effect computed elsewhere", complete: (row) => row.effect !== undefined },
  { statistic: "p value", complete: (row) => row.pBound !== undefined },
];

/** Whether a row says nothing of how many people were measured. */
export const peopleUnknown = (row: Draft): boolean =>
  row.nStart === undefined && row.nEnd === undefined;

/**
 * Whether a row prints the error of its numbers itself, so that it can be weighted without a group size: standard
 * errors, half-widths of intervals, or an interval.
 */
export const printsItsError = (
  row: Draft,
  { statistic }: Readonly<{ statistic?: Statistic }>,
): boolean =>
  statistic === "change with interval" ||
  ((row.spreadKind === "standard error" || row.spreadKind === "95% interval half-width") &&
    (statistic === "means at both times" ||
      statistic === "change with spread" ||
      statistic === "percent change with spread"));

/** What a row's numbers can give. */
export type PrintedForm = Readonly<
  | { kind: "weightable"; statistic: Statistic }
  /** A change without spread, interval or test statistic. */
  | { kind: "no spread"; statistic: Statistic }
  /** Numbers at one time only, or none at all. */
  | { kind: "no change" }
>;

/**
 * Which printed form a row's filled columns make, best first: forms that can be weighted before forms
 * that cannot.
 *
 * @param stated  the form the row itself states; it is preferred when its columns are filled
 */
export const printedForm = (row: Draft, stated?: Statistic): PrintedForm => {
  const of = (forms: readonly Form[]) =>
    forms.find((form) => form.statistic === stated && form.complete(row)) ??
    forms.find((form) => form.complete(row));
  const best = of(weightableForms);
  if (best !== undefined) return { kind: "weightable", statistic: best.statistic };
  const rest = of(unweightableForms);
  return rest === undefined
    ? { kind: "no change" }
    : { kind: "no spread", statistic: rest.statistic };
};
