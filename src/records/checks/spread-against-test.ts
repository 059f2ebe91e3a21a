import type { OutcomeRow } from "../outcome-row.js";
import { shown } from "./peers.js";
import { noDoubts, rowIssue } from "./row-check.js";
import type { RowCheck } from "./row-check.js";

/** The deviation of the changes that a printed t, F or interval stands for. */
const deviationOfChange = (
  row: OutcomeRow,
  people: number,
): readonly [number, string] | undefined => {
  const { preMean, postMean, tValue, fValue, intervalLow, intervalHigh } = row;
  const root = Math.sqrt(people);
  if (intervalLow !== undefined && intervalHigh !== undefined && (row.intervalPercent ?? 95) === 95)
    return [((intervalHigh - intervalLow) / 2 / 2.1) * root, "interval"];
  if (preMean === undefined || postMean === undefined || preMean === postMean) return undefined;
  const change = Math.abs(postMean - preMean);
  if (tValue !== undefined && Math.abs(tValue) > 0.5)
    return [(change / Math.abs(tValue)) * root, "t value"];
  if (fValue !== undefined && fValue > 0.25)
    return [(change / Math.sqrt(fValue)) * root, "F value"];
  return undefined;
};

/** The test itself may be of a rounded number or of another model; beyond twice, no rounding explains it. */
const slack = 1.3;

/**
 * Spreads that contradict the test printed beside them: the deviation of the changes lies between the difference and
 * the sum of the deviations before and after, whatever their correlation.
 */
export const spreadAgainstTest: RowCheck = (row) => {
  const { preSpread, postSpread, spreadKind } = row;
  const people = row.nEnd ?? row.nStart;
  if (preSpread === undefined || postSpread === undefined || people === undefined) return noDoubts;
  if (row.statisticOf === "difference from comparator") return noDoubts;
  if (spreadKind === "95% interval half-width") return noDoubts;
  const known = deviationOfChange(row, people);
  if (known === undefined) return noDoubts;
  const whole = spreadKind === "standard error" ? Math.sqrt(people) : 1;
  const [deviation, test] = known;
  const most = slack * whole * (preSpread + postSpread);
  const least = (whole * Math.abs(postSpread - preSpread)) / slack;
  if (deviation <= most && deviation >= least) return noDoubts;
  return [
    rowIssue(row, "preSpread", "warning", {
      code: "spread-against-test",
      message: `the printed ${test} stands for changes that differ by ${shown(deviation)}, and with these spreads they differ by ${shown(least * slack)} to ${shown(most / slack)}`,
      mend:
        deviation > most && spreadKind !== "standard error"
          ? "check the spreads: a standard error may stand where a deviation is meant"
          : "check the spreads, their kind, and the test",
    }),
  ];
};
