/** Invented studies with a known average, some of which print no spread, and how often its 95% interval holds it. */
import { averageOf } from "../../src/answers/average.js";
import { resolvedOptions } from "../../src/answers/option.js";
import { poolShape } from "../../src/answers/pool.js";
import { effectsFromRows } from "../../src/effects/effects-from-rows.js";
import type { EffectsOptions } from "../../src/effects/effects-options.js";
import { randomStream, type RandomStream } from "../../src/numeric/random-stream.js";
import { studentTQuantile } from "../../src/numeric/student-t.js";
import type { OutcomeRow } from "../../src/records/outcome-row.js";
import { effectInputs } from "../../src/synthesis/effect-inputs.js";
import { bothTimes, rowOf } from "../effects/outcome-row.js";

export type Cell = Readonly<{
  studies: number;
  /** Share of the studies that print no spread. */
  missing: number;
  /** Which: any, or small ones more often than large ones. */
  which: "at random" | "small ones more often";
  /** Whether a study without a spread says where its change is significant. */
  printsThreshold: boolean;
  /** Average and deviation between studies of the log ratio. */
  mean: number;
  between: number;
}>;

const correlation = 0.8;
/** log CV is normal around the logarithm of 0.2, and differs between studies by 0.35. */
const [usualVariation, variationApart] = [0.2, 0.35];

const meanOf = (values: readonly number[]): number =>
  values.reduce((sum, one) => sum + one, 0) / values.length;
const deviationOf = (values: readonly number[]): number => {
  const middle = meanOf(values);
  return Math.sqrt(values.reduce((sum, one) => sum + (one - middle) ** 2, 0) / (values.length - 1));
};

/** 6 to 30 people, few more often than many. */
const sizeOf = (stream: RandomStream): number => 6 + Math.floor(24 * stream.uniform() ** 2);

/** Chance that a study of n people prints no spread: the share, or 1.5 times it up to nine people and less above. */
const chanceOf = ({ missing, which }: Cell, n: number): number =>
  which === "at random" ? missing : Math.min(0.95, n <= 9 ? 1.45 * missing : 0.6 * missing);

const rowsOfStudy = (cell: Cell, place: number, stream: RandomStream): readonly OutcomeRow[] => {
  const gain = cell.mean + cell.between * stream.normal();
  const variation = usualVariation * Math.exp(variationApart * stream.normal());
  const n = sizeOf(stream);
  const isMissing = stream.uniform() < chanceOf(cell, n);
  const arms = stream.uniform() < 0.4 ? 2 : 1;
  return Array.from({ length: arms }, (_, arm): OutcomeRow => {
    const people = Array.from({ length: n }, () => {
      const level = stream.normal();
      const other = correlation * level + Math.sqrt(1 - correlation ** 2) * stream.normal();
      return [100 * (1 + variation * level), 100 * Math.exp(gain) * (1 + variation * other)];
    });
    const [first, second] = [people.map(([x]) => x!), people.map(([, y]) => y!)];
    const changes = people.map(([x, y]) => y! - x!);
    const t = (meanOf(changes) * Math.sqrt(n)) / deviationOf(changes);
    const identity = { line: 10 * place + arm + 2, study: `S${place}`, arm: `arm ${arm}` };
    if (!isMissing)
      return rowOf({
        ...identity,
        ...bothTimes([meanOf(first), deviationOf(first)], [meanOf(second), deviationOf(second)], n),
      });
    const isSignificant = Math.abs(t) > studentTQuantile(0.025, n - 1, "upper");
    return rowOf({
      ...identity,
      statistic: "means at both times",
      preMean: meanOf(first),
      postMean: meanOf(second),
      nEnd: n,
      ...(cell.printsThreshold && isSignificant ? { pBound: { side: "below", p: 0.05 } } : {}),
    });
  });
};

export const rowsOf = (cell: Cell, seed: number): readonly OutcomeRow[] => {
  const stream = randomStream(seed);
  return Array.from({ length: cell.studies }, (_, place) =>
    rowsOfStudy(cell, place, stream.split()),
  ).flat();
};

/** What became of the averages of many files. */
export type Tally = Readonly<{
  files: number;
  /** Files with an average; of files with studies without a spread, only those in which some is borrowed. */
  averages: number;
  held: number;
  /** Of the average, in points of the log ratio × 100, with its Monte Carlo error. */
  bias: number;
  biasError: number;
  width: number;
}>;

const asked = resolvedOptions(poolShape, {});

export const tallyOf = (
  cell: Cell,
  files: number,
  options: EffectsOptions = {},
  firstSeed = 1,
): Tally => {
  const errors: number[] = [];
  const lends = cell.missing > 0 && options.borrowedSpread !== "none";
  let [held, width] = [0, 0];
  for (let seed = firstSeed; seed < firstSeed + files; seed++) {
    const set = effectsFromRows(rowsOf(cell, seed), options);
    if (lends && set.effects.every(({ borrowed }) => borrowed === undefined)) continue;
    const average = averageOf({ ...effectInputs(set), ready: false }, asked);
    if (average.kind === "refusal") continue;
    const { estimate, interval } = average.result;
    errors.push(100 * (estimate - cell.mean));
    if (interval.low <= cell.mean && cell.mean <= interval.high) held++;
    width += 100 * (interval.high - interval.low);
  }
  return {
    files,
    averages: errors.length,
    held,
    bias: meanOf(errors),
    biasError: deviationOf(errors) / Math.sqrt(errors.length),
    width: width / errors.length,
  };
};

/** The interval's coverage and its Monte Carlo error. */
export const coverageOf = ({ held, averages }: Tally): readonly [number, number] => {
  const share = held / averages;
  return [share, Math.sqrt((share * (1 - share)) / averages)];
};

export const tallyLine = (name: string, tally: Tally): string => {
  const [share, error] = coverageOf(tally);
  return `${name}: ${tally.averages} averages of ${tally.files} files | held ${(100 * share).toFixed(1)}% ± ${(100 * error).toFixed(1)} | bias ${tally.bias.toFixed(2)} ± ${tally.biasError.toFixed(2)} | width ${tally.width.toFixed(1)}`;
};
