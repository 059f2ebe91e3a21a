import { studentTQuantile } from "../numeric/student-t.js";
import { grouped } from "../records/grouped.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import type { ArmReading } from "./arm-reading.js";
import type { ResolvedEffectsOptions } from "./effects-options.js";
import type { LentSpread } from "./lent-spread.js";
import { cohortOf } from "./pre-post-correlation.js";
import type { Refusal } from "./refusal.js";
import { manyPeople } from "./row-participants.js";
import { isScore } from "./scale-of-row.js";
import { intervalQuantile } from "./standard-deviation-from-standard-error.js";

/** Studies of the same outcome family that must print a spread before one is lent; of the same muscle, for its own. */
export const studiesThatLend = { family: 3, muscle: 5 } as const;

/** What one study says: its average CV², and the people behind it. */
type Voice = Readonly<{ square: number; people: number }>;

type Lender = Omit<LentSpread, "line">;

const sum = (values: readonly number[]): number => values.reduce((total, one) => total + one, 0);
const mean = (values: readonly number[]): number => sum(values) / values.length;

type CorrelationOf = (reading: ArmReading) => Readonly<{ value: number }>;

/** CV² of a row from its deviations and means, else from the spread of its changes: s²/(2(1 − r)), s relative to the means. */
const squareOf = (reading: ArmReading, correlationOf: CorrelationOf): number | undefined => {
  const { meanBefore: before, meanAfter: after, percentMean, percentDeviation, notes } = reading;
  const times = (
    [
      [before, reading.deviationBefore],
      [after, reading.deviationAfter],
    ] as const
  ).flatMap(([of, deviation]) =>
    of !== undefined && deviation !== undefined && of > 0 && deviation > 0
      ? [(deviation / of) ** 2]
      : [],
  );
  if (times.length > 0) return mean(times);
  // A p that looks like a threshold tells a bound of the spread and not the spread.
  if (notes.some(({ code }) => code === "p-threshold")) return undefined;
  const { changeDeviation = 0 } = reading;
  const relative =
    before !== undefined && after !== undefined && before > 0 && after > 0
      ? changeDeviation / Math.sqrt(before * after)
      : percentMean !== undefined && percentMean > -100 && percentDeviation !== undefined
        ? percentDeviation / (100 + percentMean)
        : 0;
  return relative > 0 ? relative ** 2 / (2 * (1 - correlationOf(reading).value)) : undefined;
};

/** The average CV² of a study's rows, weighted by their people; its people are those of its arms, each counted once. */
const voiceOf = (
  readings: readonly ArmReading[],
  correlationOf: CorrelationOf,
): readonly Voice[] => {
  const rows = readings.flatMap((reading) => {
    const square = squareOf(reading, correlationOf);
    const { participants } = reading;
    return square === undefined || participants === manyPeople
      ? []
      : [{ square, participants, arm: reading.row.arm }];
  });
  if (rows.length === 0) return [];
  const arms = [...grouped(rows, ({ arm }) => arm).values()];
  const people = sum(arms.map((own) => Math.max(...own.map((one) => one.participants))));
  const weight = sum(rows.map(({ participants }) => participants));
  return [
    {
      square: sum(rows.map(({ square, participants }) => square * participants)) / weight,
      people,
    },
  ];
};

const lenderOf = (of: string, voices: readonly Voice[]): Lender => {
  const people = sum(voices.map((voice) => voice.people));
  const square = sum(voices.map((voice) => (voice.square * voice.people) / people));
  const studies = voices.length;
  const apart = voices.map((voice) => ((voice.square - square) * voice.people) / people);
  const ofSquare = (sum(apart.map((one) => one ** 2)) * studies) / (studies - 1);
  const freedom = Math.min((2 * square ** 2) / ofSquare, 2 * (studies - 1));
  const logs = voices.map((voice) => Math.log(voice.square) / 2);
  const seen = sum(logs.map((log) => (log - mean(logs)) ** 2)) / (studies - 1);
  const reach = studentTQuantile(0.1, studies - 1, "upper") * Math.sqrt(seen * (1 + 1 / studies));
  return {
    of,
    studies,
    coefficient: Math.sqrt(square),
    low: Math.exp(mean(logs) - reach),
    high: Math.exp(mean(logs) + reach),
    widened: (intervalQuantile(95, freedom) / intervalQuantile(95, Infinity)) ** 2,
  };
};

/** The family a row borrows in; undefined where its outcomes are unlike each other. */
const familyOf = ({ outcomeFamily }: OutcomeRow): string | undefined =>
  outcomeFamily === "other" ? undefined : outcomeFamily;

/**
 * A function that lends a row without a spread the coefficient of variation of the file's studies of the same outcome
 * family, or says why none is lent.
 *
 *   CV² = Σᵢ nᵢ·CVᵢ² / Σᵢ nᵢ      CVᵢ² = average of (s/m)² over a study's rows and times, weighted by their people
 *   nᵢ = people of study i, every arm counted once;  s, m = printed deviation and mean
 *
 * A row that prints the spread of its changes alone, relative to its means, lends what that implies, s²/(2(1 − r)) with
 * its pre–post correlation r: lent to a row of the same r, this is the lender's own spread of changes again.
 *
 * Studies are averaged first, so that one with many rows has one voice. From five studies of the same muscle on these
 * lend by themselves; never across families, and scores neither lend nor borrow. An average of CV², not of CV, is
 * the variance to be expected of a row whose own CV is unknown, so the spread between studies is in it; that it is
 * estimated from k studies is carried by widening the variance by
 *
 *   (t(0.975; ν) / z(0.975))²      ν = min(2·CV⁴/V(CV²), 2·(k − 1)),  V(CV²) from the differences between studies,
 *
 * with which a row's own 95% interval covers 0.94 to 0.98 where log CV differs between studies by 0.2 to 0.6 and 3 to
 * 20 lend, against 0.90 to 0.95 without (seeded simulation beside this file's test).
 *
 * The 10th and 90th percentile are those of what a further study would print: mean log CVᵢ ± t(0.9; k − 1)·s·√(1 + 1/k),
 * s the deviation between the logarithms.
 *
 * @source Nakagawa S and others (2023) Ecology Letters 26:232–244, doi 10.1111/ele.14144: abstract read ("a weighted
 *   average coefficient of variation … from studies in the dataset that do report SDs"). Its equations could not be
 *   seen: weights by people and studies first are as public code of other authors states them after it. The widening is ours
 */
export const spreadLender = (
  readings: readonly ArmReading[],
  { borrowedSpread }: Pick<ResolvedEffectsOptions, "borrowedSpread">,
  correlationOf: CorrelationOf,
): ((reading: ArmReading) => LentSpread | Refusal) => {
  const families = grouped(
    readings.filter(({ row }) => !isScore(row)),
    ({ row }) => familyOf(row) ?? "",
  );
  // In the order of values, so that the order of the rows cannot change the last digit.
  const voicesOf = (of: readonly ArmReading[]): readonly Voice[] =>
    [...grouped(of, ({ row }) => cohortOf(row)).values()]
      .flatMap((own) => voiceOf(own, correlationOf))
      .sort((a, b) => a.square - b.square || a.people - b.people);
  const made = new Map<string, Lender | Refusal>();
  const lender = (family: string, muscle: string | undefined): Lender | Refusal => {
    const key = JSON.stringify([family, muscle]);
    const known = made.get(key);
    if (known !== undefined) return known;
    const all = families.get(family) ?? [];
    const voices = voicesOf(
      muscle === undefined ? all : all.filter(({ row }) => row.muscleGroup === muscle),
    );
    const needed = muscle === undefined ? studiesThatLend.family : studiesThatLend.muscle;
    const of = `${family} outcomes`;
    const answer =
      voices.length >= needed
        ? lenderOf(muscle === undefined ? of : `${of} of the ${muscle}`, voices)
        : muscle === undefined
          ? {
              refused: `none can be borrowed, as only ${voices.length} of the file's studies of ${of} print one (${needed} needed)`,
            }
          : lender(family, undefined);
    made.set(key, answer);
    return answer;
  };
  return ({ row }) => {
    if (borrowedSpread === "none") return { refused: "none is borrowed, as asked for" };
    const family = familyOf(row);
    if (family === undefined)
      return {
        refused: `none can be borrowed, as ${row.outcomeFamily === undefined ? "its outcome family is not coded" : "outcomes of the family other are unlike each other"}`,
      };
    const lent = lender(family, row.muscleGroup);
    if ("refused" in lent) return lent;
    return {
      ...lent,
      line: row.line,
      ...(borrowedSpread === "average"
        ? {}
        : { coefficient: borrowedSpread === "10th percentile" ? lent.low : lent.high, widened: 1 }),
    };
  };
};
