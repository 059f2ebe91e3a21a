import { expect, test } from "vitest";
import {
  collinearity,
  contrastGroups,
  movingWith,
  multipleCorrelations,
  type CollinearPair,
} from "../../src/dose/collinearity.js";
import { doseAxes, type DoseAxisName } from "../../src/dose/dose-axes.js";
import { severalDoses } from "../../src/dose/several-doses.js";
import { randomStream } from "../../src/numeric/random-stream.js";
import type { EffectSet } from "../../src/effects/effect.js";
import { doseTrials } from "./dose-trials.js";

const { set: base } = doseTrials(randomStream(2), { studies: 8, arms: [3, 3], readings: 1 });

/** The set with the arms' doses put in place, study after study. */
const withDoses = (
  doses: (study: number, arm: number) => readonly [number, number],
): EffectSet => ({
  ...base,
  effects: base.effects.map((effect, i) => {
    const [intensityPercent, holdSeconds] = doses(Math.floor(i / 3), i % 3);
    return { ...effect, row: { ...effect.row, intensityPercent, holdSeconds } };
  }),
});
const pairOf = (set: EffectSet) => collinearity(set, ["intensityPercent", "holdSeconds"])[0]!;

test("doses that move against each other: r by hand, in plain words", () => {
  // intensity −20, 0, 20 and hold 10, −10, 0 about each study's mean: r = −200/√(800 × 200) = −0.5
  const half = pairOf(
    withDoses((study, arm) => [[40, 60, 80][arm]! + study, [30, 10, 20][arm]! + study]),
  );
  expect(half.within?.r).toBeCloseTo(-0.5, 12);
  expect(half.toldApart).toBe("yes");
  expect(half.words).toBe(
    "in these 8 studies intensity and hold length vary apart enough, r = −0.50",
  );
  // between: both means rise by one a study
  expect(half.between?.r).toBeCloseTo(1, 12);
  // −20, 0, 20 and 10, 0, −10: r = −1
  const opposite = pairOf(
    withDoses((study, arm) => [[40, 60, 80][arm]!, [30, 20, 10][arm]! + (study % 3)]),
  );
  expect(opposite.within?.r).toBeCloseTo(-1, 12);
  expect(opposite.toldApart).toBe("no");
  expect(opposite.words).toBe(
    "in these 8 studies intensity and hold length move against each other, r = −1.00: their parts cannot be told apart",
  );
});

test("the rule: hardly told apart from 0.6, not at all from 0.8", () => {
  // hold deviations (a, −2a + b … ) chosen so that r = x: intensity −1, 0, 1; hold h, −h − k, k
  const at = (r: number): string => {
    const angle = Math.acos(r);
    const u = [-Math.SQRT1_2, 0, Math.SQRT1_2];
    const v = [1, -2, 1].map((x) => x / Math.sqrt(6));
    return pairOf(
      withDoses((_, arm) => [
        60 + 20 * u[arm]!,
        20 + 10 * (Math.cos(angle) * u[arm]! + Math.sin(angle) * v[arm]!),
      ]),
    ).toldApart;
  };
  expect([0, 0.59, -0.59].map(at)).toEqual(["yes", "yes", "yes"]);
  expect([0.61, -0.79].map(at)).toEqual(["hardly", "hardly"]);
  expect([0.81, -0.95].map(at)).toEqual(["no", "no"]);
});

test("doses that do not vary: nothing is said", () => {
  const pair = pairOf(withDoses(() => [60, 20]));
  expect(pair.toldApart).toBe("not studied");
  expect(pair.within).toBeUndefined();
  expect(pair.words).toMatch(/do not both vary in three studies/);
});

test("between studies only: the words say which comparisons they are about", () => {
  const pair = pairOf(withDoses((study) => [40 + 5 * study, 45 - 5 * study]));
  expect(pair.within).toBeUndefined();
  expect(pair.words).toMatch(/^between these 8 studies .* r = −1\.00: their parts cannot be told/);
});

test("multiple correlations: with two columns the plain correlation, with a sum one", () => {
  // hand: columns (1, −1, 0) and (1, 0, −1): r = 1/2
  const two = multipleCorrelations([
    [1, 1],
    [-1, 0],
    [0, -1],
  ]);
  two.forEach((r) => expect(r).toBeCloseTo(0.5, 12));
  const sum = multipleCorrelations([
    [1, 2, 3],
    [-1, 1, 0],
    [0, -3, -3],
  ]);
  sum.forEach((r) => expect(r).toBeCloseTo(1, 12));
});

test("several doses: parts that cannot be told apart are refused in words", () => {
  const tied = severalDoses(
    withDoses((study, arm) => [[40, 60, 80][arm]! + study, [30, 20, 10][arm]!]),
    ["intensityPercent", "holdSeconds"],
  );
  for (const { within } of tied.terms) {
    expect(within.kind === "told" ? "" : within.reason).toMatch(/parts cannot be told apart/);
  }
  expect(() => severalDoses(base, ["holdSeconds"])).toThrow(/two different axes/);
  expect(() =>
    severalDoses(base, ["holdSeconds", "sets"], { interactions: [["holdSeconds", "weeks"]] }),
  ).toThrow(/products of two of the axes/);
  expect(() =>
    severalDoses({ ...base, contrast: "between-arms" }, ["holdSeconds", "sets"]),
  ).toThrow(/two doses each/);
});

const made = (first: DoseAxisName, second: DoseAxisName, r?: number): CollinearPair => ({
  first: doseAxes[first],
  second: doseAxes[second],
  ...(r === undefined ? {} : { within: { r, studies: 5, arms: 11 } }),
  words: "",
  toldApart: "not studied",
});

test("what is worked out from another dose joins the one it moves with most, from 0.8 on", () => {
  const names = [
    "intensityPercent",
    "holdSeconds",
    "contractionsPerSession",
    "tensionTimePerSessionSeconds",
    "torqueTimePerSession",
    "restBetweenSetsSeconds",
  ] as const;
  const groups = (...pairs: readonly CollinearPair[]) =>
    contrastGroups(names, pairs).map((group) => group.map(({ name }) => name));
  expect(
    groups(
      made("holdSeconds", "tensionTimePerSessionSeconds", 0.81),
      made("contractionsPerSession", "tensionTimePerSessionSeconds", -0.8),
      made("tensionTimePerSessionSeconds", "torqueTimePerSession", 0.95),
      made("intensityPercent", "torqueTimePerSession", 0.79),
      // neither follows from the other
      made("holdSeconds", "contractionsPerSession", -0.99),
      made("holdSeconds", "restBetweenSetsSeconds", 0.99),
    ),
  ).toEqual([
    ["intensityPercent"],
    ["holdSeconds", "tensionTimePerSessionSeconds", "torqueTimePerSession"],
    ["contractionsPerSession"],
    ["restBetweenSetsSeconds"],
  ]);
  expect(groups(made("holdSeconds", "tensionTimePerSessionSeconds"))).toEqual(
    names.map((name) => [name]),
  );
});

test("doses that move with one, the closest first, whichever of the pair it is", () => {
  const pairs = [
    made("intensityPercent", "holdSeconds", -0.83),
    made("holdSeconds", "restBetweenSetsSeconds", 0.91),
    made("holdSeconds", "weeks", 0.79),
  ];
  expect(movingWith(pairs, "holdSeconds").map(({ axis, r }) => [axis.name, r])).toEqual([
    ["restBetweenSetsSeconds", 0.91],
    ["intensityPercent", -0.83],
  ]);
});

test("a dose that varies in fewer than three studies counts where the two move together all the same", () => {
  // intensity varies in the first study alone, by far the most; hold goes with it there: 20 × 10 over small rest
  const one = pairOf(
    withDoses((study, arm) => [
      [40, 60, 80][arm]! * (study === 0 ? 1 : 0) + 50,
      study === 0 ? [10, 20, 30][arm]! : [20, 21, 20][arm]!,
    ]),
  );
  expect(one.within!.r).toBeGreaterThan(0.8);
  expect(one.within!.studies).toBe(8);
  const apart = pairOf(
    withDoses((study, arm) => [
      [40, 60, 80][arm]! * (study === 0 ? 1 : 0) + 50,
      study === 0 ? [10, 20, 30][arm]! : [10, 30, 20][arm]!,
    ]),
  );
  expect(apart.within).toBeUndefined();
});
