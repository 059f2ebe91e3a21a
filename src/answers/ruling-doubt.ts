/** A row whose spread is in doubt and that rules the average it is in. */
import type { Effect, EffectSet } from "../effects/effect.js";
import type { Issue } from "../errors.js";
import type { RecordSet } from "../records/record-set.js";
import { inputSubset } from "../synthesis/effect-inputs.js";
import { averageOf, type Average, type AverageInput, type AverageOptions } from "./average.js";
import { doubtsByLine } from "./row-doubts.js";

/** Doubts that bear on how much a row weighs. */
const spreadDoubts: ReadonlySet<string> = new Set([
  "deviation-for-error",
  "error-for-deviation",
  "people-out-of-scale",
  "spread-against-test",
  "spread-out-of-scale",
  "spreads-of-two-kinds",
]);
/** A row with more than this share of the weights rules its average. */
const rulesFromPercent = 40;

/** A row in doubt about its spread that rules an average, and the average without it. */
export type RulingDoubt = Readonly<{
  line: number;
  study: string;
  /** Name of the check. */
  doubt: string;
  weightPercent: number;
  without: Average;
}>;

/**
 * The row that rules an average although its spread is in doubt; undefined where none does.
 *
 * @param input the effects averaged, with the set they came from
 */
export const rulingDoubt = (
  records: RecordSet,
  input: AverageInput & Readonly<{ set?: EffectSet }>,
  average: Average,
  options: AverageOptions,
): RulingDoubt | undefined => {
  const { set } = input;
  if (average.kind === "refusal" || set === undefined) return undefined;
  const weights = new Map<Issue, { row: Effect["row"]; ids: Set<string>; percent: number }>();
  set.effects.forEach(({ effectId, row, comparatorRow }, i) => {
    for (const one of comparatorRow === undefined ? [row] : [row, comparatorRow]) {
      const doubt = doubtsByLine(records).get(one.line);
      if (doubt === undefined || !spreadDoubts.has(doubt.code)) continue;
      const known = weights.get(doubt) ?? { row: one, ids: new Set<string>(), percent: 0 };
      known.ids.add(effectId);
      known.percent += average.result.weightsPercent[i] ?? 0;
      weights.set(doubt, known);
    }
  });
  const ruling = [...weights].find(([, { percent }]) => percent > rulesFromPercent);
  if (ruling === undefined) return undefined;
  const [{ code }, { row, ids, percent }] = ruling;
  return {
    line: row.line,
    study: row.study,
    doubt: code,
    weightPercent: percent,
    without: averageOf(
      inputSubset(input, ({ effectId }) => !ids.has(effectId)),
      options,
    ),
  };
};
