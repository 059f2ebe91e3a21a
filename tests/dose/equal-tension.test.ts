/** Kinds of evidence: hand arithmetic on rows made by hand, and refusals by the stated rules. */
import { describe, expect, test } from "vitest";
import { equalTension, type EqualTensionAnswer } from "../../src/dose/equal-tension.js";
import type { EffectSet } from "../../src/effects/effect.js";
import type { OutcomeRow } from "../../src/records/outcome-row.js";
import { handMadeSet, sessionOf, type WrittenEffect } from "./hand-made-set.js";

/** One study with a short and a long hold of equal tension; their difference is `difference`. */
const pairOf = (
  study: string,
  difference: number,
  variance: number,
  row: Partial<OutcomeRow> = {},
): readonly WrittenEffect[] => [
  {
    study,
    arm: `${study} short`,
    estimate: 0.1,
    variance: variance / 2,
    row: { ...sessionOf(4, 10, 3), ...row },
  },
  {
    study,
    arm: `${study} long`,
    estimate: 0.1 + difference,
    variance: variance / 2,
    row: { ...sessionOf(4, 1, 30), ...row },
  },
];

const answerOn = (set: EffectSet, question = "hold length", family = "strength") =>
  equalTension(set).answers.find(
    (one) => one.question === question && one.family === family,
  ) as EqualTensionAnswer;

const refusal = ({ pooled }: EqualTensionAnswer): string =>
  pooled.kind === "told" ? "" : pooled.reason;

describe("the average, by hand", () => {
  // Equal variances weigh alike, so the average is the mean 0.08, its robust error the deviation over the
  // root of three, 0.06/√3, on two degrees of freedom; t(0.975, 2) = 4.302653 (tables of Student's t).
  const set = handMadeSet([
    ...pairOf("A", 0.02, 0.0016),
    ...pairOf("B", 0.08, 0.0016),
    ...pairOf("C", 0.14, 0.0016),
  ]);
  const answer = answerOn(set);
  const pooled = answer.pooled as Extract<typeof answer.pooled, { kind: "told" }>;

  test("estimate, error, degrees of freedom and interval", () => {
    expect(pooled.kind === "told").toBe(true);
    expect(pooled.estimate).toBeCloseTo(0.08, 9);
    expect(pooled.standardError).toBeCloseTo(0.06 / Math.sqrt(3), 7);
    expect(pooled.degreesOfFreedom).toBeCloseTo(2, 6);
    expect(pooled.interval.low).toBeCloseTo(0.08 - (4.302653 * 0.06) / Math.sqrt(3), 6);
    expect(pooled.interval.high).toBeCloseTo(0.08 + (4.302653 * 0.06) / Math.sqrt(3), 6);
    expect([pooled.pairs, pooled.studies, answer.people]).toEqual([3, 3, 60]);
  });

  test("variance of the true contrasts: the observed 0.0036 less the sampling 0.0016", () => {
    expect(pooled.betweenVariance).toBeCloseTo(0.002, 7);
    const reach = 4.302653 * Math.sqrt(0.0036 / 3 + 0.002);
    expect(pooled.predictionInterval!.low).toBeCloseTo(0.08 - reach, 5);
    expect(pooled.predictionInterval!.high).toBeCloseTo(0.08 + reach, 5);
  });

  test("all pairs are alike otherwise, so there is no second average, and few studies are said", () => {
    expect(answer.alikeOtherwise).toBeUndefined();
    expect(answer.headline).toEqual({ answer: pooled, of: "pairs alike otherwise" });
    expect(answer.notes.map(({ code }) => code)).toEqual(["robust-few-degrees-of-freedom"]);
    expect(answer.notes[0]!.message).toContain("2.0 degrees of freedom");
  });
});

test("precise pairs weigh more: inverse variances by hand where nothing is left between studies", () => {
  // Contrasts 0.10 (variance 0.01) and 0.12 (variance 0.04): far closer than their errors, so no variance
  // is left between them; weights 100 and 25; (10 + 3)/125 = 0.104.
  const answer = answerOn(handMadeSet([...pairOf("A", 0.1, 0.01), ...pairOf("B", 0.12, 0.04)]));
  expect(answer.pooled.kind === "told" && answer.pooled.estimate).toBeCloseTo(0.104, 6);
  expect(answer.pooled.kind === "told" && answer.pooled.betweenVariance).toBeCloseTo(0, 6);
});

test("two outcomes of one study are weighed with their covariance", () => {
  // Study A has two pairs whose errors are fully shared but for a hair: together they carry hardly more
  // than one, so A and B weigh nearly alike: about (0.00 + 0.10)/2, not (0 + 0 + 0.1)/3.
  const shared = 0.0199;
  const rows = [
    ...pairOf("A", 0, 0.04, { outcome: "peak torque at 60°" }),
    ...pairOf("A", 0, 0.04, { outcome: "peak torque at 90°" }),
    ...pairOf("B", 0.1, 0.04),
  ];
  const answer = answerOn(
    handMadeSet(rows, [
      { indices: [0, 2], values: [0.02, shared, shared, 0.02] },
      { indices: [1, 3], values: [0.02, shared, shared, 0.02] },
    ]),
  );
  expect(answer.pairs).toHaveLength(3);
  expect(answer.pooled.kind === "told" && answer.pooled.estimate).toBeGreaterThan(0.049);
  const apart = answerOn(handMadeSet(rows));
  expect(apart.pooled.kind === "told" && apart.pooled.estimate).toBeCloseTo(0.1 / 3, 3);
});

describe("refusals", () => {
  test("no pair", () => {
    const set = handMadeSet(pairOf("A", 0.1, 0.01));
    expect(refusal(answerOn(set, "intensity"))).toBe(
      "no study compares arms of equal tension time (within 10%) that differ in intensity by 10 points of MVC or more",
    );
    expect(answerOn(set, "intensity").people).toBe(0);
  });

  test("one study is listed and not averaged", () => {
    const answer = answerOn(handMadeSet(pairOf("A", 0.1, 0.01)));
    expect(answer.pairs).toHaveLength(1);
    expect(refusal(answer)).toContain("only A has such arms");
  });

  test("contrasts of two trained arms, and rules that make no sense", () => {
    const set = handMadeSet(pairOf("A", 0.1, 0.01));
    expect(() => equalTension({ ...set, contrast: "between-arms" })).toThrow(/two doses each/);
    expect(() => equalTension(set, { tolerance: -0.1 })).toThrow(/tolerance from 0/);
    expect(() => equalTension(set, { leastHoldRatio: 1 })).toThrow(/hold ratio above 1/);
    expect(() => equalTension(set, { leastIntensityPoints: 0 })).toThrow(
      /intensity points above 0/,
    );
  });
});

describe("pairs that also differ in something else", () => {
  const hardAndShort = (study: string, difference: number): readonly WrittenEffect[] => {
    const [short, long] = pairOf(study, difference, 0.01) as [WrittenEffect, WrittenEffect];
    return [short, { ...long, row: { ...long.row, intensityPercent: 60 } }];
  };

  test("are averaged apart, and the average of pairs alike otherwise is spoken of first", () => {
    const answer = answerOn(
      handMadeSet([
        ...pairOf("A", 0.02, 0.01),
        ...pairOf("B", 0.04, 0.01),
        ...hardAndShort("C", 0.3),
      ]),
    );
    expect(answer.pooled.kind === "told" && answer.pooled.estimate).toBeCloseTo(0.12, 6);
    const { answer: first, of } = answer.headline;
    expect(of).toBe("pairs alike otherwise");
    expect(first.kind === "told" && first.estimate).toBeCloseTo(0.03, 6);
    expect(answer.notes.map(({ message }) => message)).toContain(
      "1 of 3 pairs also differ in intensity",
    );
  });

  test("speak for all where no two studies have pairs alike otherwise", () => {
    const answer = answerOn(handMadeSet([...hardAndShort("A", 0.1), ...hardAndShort("B", 0.2)]));
    expect(answer.alikeOtherwise).toMatchObject({
      kind: "refusal",
      code: "no-pairs",
      reason: "no such pair is alike in everything else that is coded",
    });
    const { answer: first, of } = answer.headline;
    expect(of).toBe("all pairs");
    expect(first.kind === "told" && first.estimate).toBeCloseTo(0.15, 6);
  });
});

test("families are never averaged together, and rows without a family stand apart", () => {
  const { answers } = equalTension(
    handMadeSet([
      ...pairOf("A", 0.1, 0.01),
      ...pairOf("B", 0.1, 0.01, { outcomeFamily: "size" }),
      ...pairOf("C", 0.1, 0.01, { outcomeFamily: undefined as never }),
    ]),
  );
  expect(answers.map(({ question, family, pairs }) => [question, family, pairs.length])).toEqual([
    ["hold length", "strength", 1],
    ["hold length", "size", 1],
    ["hold length", "family not coded", 1],
    ["intensity", "strength", 0],
    ["intensity", "size", 0],
    ["intensity", "family not coded", 0],
  ]);
});
