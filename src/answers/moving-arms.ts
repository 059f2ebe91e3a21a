/** Arms that moved beside arms that held: which tests of the two are set against each other, and what work each did. */
import { testMatch } from "../effects/match-comparator.js";
import { withUnit } from "../protocol/with-unit.js";
import { grouped } from "../records/grouped.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import { formatNumber } from "../tables/number-format.js";

/** Arms that trained otherwise than by holding. */
export const movingKinds = ["dynamic", "other exercise"] as const;
export type MovingKind = (typeof movingKinds)[number];

/** The kind of an arm that did not hold; undefined of one that did. */
export const movingKindOf = ({ armKind }: OutcomeRow): MovingKind | undefined =>
  movingKinds.find((kind) => kind === armKind);

const times = (first: number | undefined, second: number | undefined): number | undefined =>
  first === undefined || second === undefined ? undefined : first * second;

/** What makes two programmes equal work, each as a number where it is coded. */
const work = {
  "contractions in a session": ({ sets, repetitions }) => times(sets, repetitions),
  "time under tension": ({ sets, repetitions, holdSeconds }) =>
    times(times(sets, repetitions), holdSeconds),
  "sessions a week": ({ sessionsPerWeek }) => sessionsPerWeek,
  weeks: ({ weeks }) => weeks,
} as const satisfies Readonly<Record<string, (row: OutcomeRow) => number | undefined>>;
const workNames = Object.keys(work) as readonly (keyof typeof work)[];

/** In what of their work two arms differ, and what of it is not coded for both. */
export const workCompared = (first: OutcomeRow, second: OutcomeRow) => {
  const pairs = workNames.map((name) => ({ name, both: [first, second].map(work[name]) }));
  return {
    alsoDiffer: pairs.flatMap(({ name, both: [a, b] }) =>
      a !== undefined && b !== undefined && Math.abs(a - b) > 1e-9 * Math.abs(a) ? [name] : [],
    ),
    unknown: pairs.flatMap(({ name, both }) => (both.includes(undefined) ? [name] : [])),
  };
};

const shown = (value: number): string => formatNumber(value, { digits: value % 1 === 0 ? 0 : 1 });

/** An arm's training in short: "moving (1 × 10, 75%; 3 a week, 12 weeks)". */
export const trainingOf = (row: OutcomeRow): string => {
  const { arm, sets, repetitions, holdSeconds, intensityPercent, sessionsPerWeek, weeks } = row;
  const kind = movingKindOf(row);
  const factors = [sets, repetitions].flatMap((one) => (one === undefined ? [] : [shown(one)]));
  const many = factors.filter((one) => one !== "1");
  const unit =
    factors.length !== 1 || many.length === 0 ? "" : sets === undefined ? " repetitions" : " sets";
  const done = [
    many.length > 0 || factors.length === 0
      ? many.join(" × ")
      : holdSeconds === undefined
        ? "1 contraction"
        : "1",
    ...(holdSeconds === undefined ? [] : [`${shown(holdSeconds)} s`]),
  ].filter((one) => one);
  const each = [
    done.length === 0 ? "" : `${done.join(" × ")}${holdSeconds === undefined ? unit : ""}`,
    intensityPercent === undefined ? "" : `${shown(intensityPercent)}%`,
  ].filter((one) => one);
  const course = [
    sessionsPerWeek === undefined ? "" : `${shown(sessionsPerWeek)} a week`,
    weeks === undefined ? "" : withUnit(shown(weeks), "weeks"),
  ].filter((one) => one);
  const told = [each.join(", "), course.join(", ")].filter((one) => one).join("; ");
  const name = kind === undefined ? "holding" : kind === "dynamic" ? "moving" : arm;
  return told === "" ? name : `${name} (${told})`;
};

/**
 * Tests of arms that held beside the same test of an arm of their study that moved.
 *
 * Blank angles, sites and methods fit anything, as in every contrast of two arms; a row that fits several of the other
 * arm equally well, as where a file names three angles alike, is paired with none.
 */
export const heldAndMoved = (
  rows: readonly OutcomeRow[],
): readonly (readonly [OutcomeRow, OutcomeRow])[] =>
  [...grouped(rows, ({ study, outcome }) => JSON.stringify([study, outcome])).values()].flatMap(
    (own) => {
      const best = (row: OutcomeRow, others: readonly OutcomeRow[]): OutcomeRow | undefined => {
        const fits = others
          .map((other) => ({ other, score: testMatch(row, other) ?? -1 }))
          .filter(({ score }) => score >= 0)
          .sort((a, b) => b.score - a.score);
        return fits.length === 0 || fits[0]!.score === fits[1]?.score ? undefined : fits[0]!.other;
      };
      const arms = [...grouped(own, ({ arm }) => arm).values()];
      const held = arms.filter(([row]) => movingKindOf(row!) === undefined);
      const moved = arms.filter(([row]) => movingKindOf(row!) !== undefined);
      return held.flatMap((ones) =>
        moved.flatMap((others) =>
          ones.flatMap((row): readonly (readonly [OutcomeRow, OutcomeRow])[] => {
            const other = best(row, others);
            return other !== undefined && best(other, ones) === row ? [[row, other]] : [];
          }),
        ),
      );
    },
  );
