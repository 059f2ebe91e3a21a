import { describe, expect, test } from "vitest";
import { CallError } from "../../src/errors.js";
import {
  compareProtocols,
  type CompareOptions,
  type ProtocolComparison,
} from "../../src/projection/compare-protocols.js";
import { prepareProjection } from "../../src/projection/prepare-projection.js";
import { parsePrescription } from "../../src/protocol/written-form.js";
import { handMadeRegister, quickOptions, registerPairs } from "./hand-made-register.js";

const prepared = prepareProjection(handMadeRegister(), quickOptions);
const hard = "4 x 5 x 6 s at 85%, rest 15 s, 90 s between sets, 3/week, 8 weeks, middle";
const easy = "4 x 5 x 6 s at 55%, rest 6 s, 90 s between sets, 3/week, 8 weeks, middle";
const compared = (texts: readonly string[], options: CompareOptions = {}): ProtocolComparison => {
  const found = compareProtocols(prepared, texts.map(parsePrescription), {
    course: false,
    ...options,
  });
  if (found.kind !== "comparison") throw new Error(found.reason);
  return found;
};

describe("two protocols", () => {
  const comparison = compared([hard, easy], { smallestWorthwhilePercent: 2 });
  const [difference] = comparison.differences;

  test("the harder one of a register that favours effort is called better", () => {
    expect(difference!.average.estimate).toBeGreaterThan(0.03);
    expect(difference!.verdict.call).toBe("first is better");
    expect(difference!.verdict.words).toContain("A is better by more than 2%");
  });

  test("the difference of medians is the median of the difference", () => {
    const [a, b] = comparison.protocols.map(({ projection }) => projection.ranges.average);
    expect(difference!.average.estimate).toBeCloseTo(a!.estimate - b!.estimate, 3);
  });

  test("what the two share cancels: the range is narrower than from two answers apart", () => {
    const [a, b] = comparison.protocols.map(({ projection }) => projection.ranges.average);
    const width = ({ low, high }: { low: number; high: number }): number => high - low;
    expect(width(difference!.average)).toBeLessThan(Math.hypot(width(a!), width(b!)));
  });

  test("a further study scatters more than the average", () => {
    expect(difference!.newTrial.low).toBeLessThan(difference!.average.low);
    expect(difference!.newTrial.high).toBeGreaterThan(difference!.average.high);
  });

  test("first, second and within make one", () => {
    const { probabilityFirstWorthwhile, probabilitySecondWorthwhile, probabilityWithin } =
      difference!;
    expect(
      probabilityFirstWorthwhile + probabilitySecondWorthwhile + probabilityWithin,
    ).toBeCloseTo(1, 12);
    expect(probabilityFirstWorthwhile).toBeLessThanOrEqual(difference!.probabilityFirstBetter);
  });

  test("the other way round everything is turned over", () => {
    const [back] = compared([easy, hard], { smallestWorthwhilePercent: 2 }).differences;
    expect(back!.average.estimate).toBeCloseTo(-difference!.average.estimate, 8);
    expect(back!.average.low).toBeCloseTo(-difference!.average.high, 8);
    expect(back!.probabilityFirstBetter).toBeCloseTo(1 - difference!.probabilityFirstBetter, 8);
    expect(back!.verdict.call).toBe("second is better");
    expect(back!.headToHead.trials.length).toBe(difference!.headToHead.trials.length);
  });

  test("feasibility, session time, tension and soreness stand beside it, by hand", () => {
    // 4 × 5 × 6 s = 120 s of tension; 16 rests of 15 s and 3 of 90 s: 120 + 240 + 270 = 630 s; 85% × 120 s
    const [first] = comparison.protocols;
    expect(first).toMatchObject({ name: "A", tensionTimeSeconds: 120, sessionSeconds: 630 });
    expect(first!.torqueTime).toBeCloseTo(10200, 9);
    expect(first!.feasibility.kind).toBe("judged");
    expect(first!.soreness.length).toBeGreaterThan(0);
    const [vague] = compared(["4 x 5 x 6 s at 85%, 3/week, 8 weeks, middle", easy]).protocols;
    expect(vague!.feasibility).toMatchObject({ kind: "not judged" });
  });
});

describe("ties are called ties", () => {
  test("what no predictor sees is not told, rather than told to be nothing", () => {
    // The two differ in their rests alone, and no projection moves with a rest.
    const rested = hard.replace("rest 15 s", "rest 20 s");
    const [pair] = compared([hard, rested]).differences;
    expect(pair!.toldApart).toBe(false);
    expect(pair!.verdict.words).toContain("no evidence that they are equal");
    expect(compared([hard, easy]).differences[0]!.toldApart).toBe(true);
    const longer = compared([hard, hard.replace("8 weeks", "10 weeks")]).differences[0]!;
    expect(longer.toldApart).toBe(true);
  });

  test("a protocol beside itself differs by nothing", () => {
    const [difference] = compared([hard, hard]).differences;
    expect(difference!.average.estimate).toBeCloseTo(0, 9);
    expect(difference!.probabilityFirstBetter).toBeCloseTo(0.5, 6);
    expect(difference!.verdict.call).toBe("tie");
  });
  test("nearly the same, with an amount that matters: no difference that counts", () => {
    const near = hard.replace("85", "84");
    const [difference] = compared([hard, near], { smallestWorthwhilePercent: 3 }).differences;
    expect(difference!.verdict).toMatchObject({ call: "tie" });
    expect(difference!.verdict.words).toContain("no difference that counts");
    expect(difference!.probabilityWithin).toBeGreaterThan(0.9);
  });
});

test("six protocols make fifteen differences, each of the right two", () => {
  const texts = [50, 60, 65, 70, 80, 90].map((effort) => hard.replace("85", String(effort)));
  const { differences, protocols } = compared(texts);
  expect(protocols.map(({ name }) => name)).toEqual(["A", "B", "C", "D", "E", "F"]);
  expect(differences.map(({ first, second }) => `${first}${second}`)).toEqual(
    [0, 1, 2, 3, 4, 5].flatMap((i) => [1, 2, 3, 4, 5].filter((j) => j > i).map((j) => `${i}${j}`)),
  );
  // efforts rise along the list, so in this register every first of a pair gives less
  for (const { average } of differences) expect(average.estimate).toBeLessThan(0);
});

test.each([1, 7])("%d protocols are refused", (count) => {
  expect(() =>
    compareProtocols(
      prepared,
      Array.from({ length: count }, () => parsePrescription(hard)),
    ),
  ).toThrow(CallError);
});

test.each([-1, Number.NaN, Infinity])("a smallest worthwhile amount of %d is refused", (amount) => {
  expect(() => compared([hard, easy], { smallestWorthwhilePercent: amount })).toThrow(CallError);
});

test("one protocol far from all evidence refuses the comparison and says which", () => {
  const far = "1 x 300 s at 20%, 3/week, 8 weeks, middle";
  const found = compareProtocols(prepared, [hard, far].map(parsePrescription));
  if (found.kind !== "refusal") throw new Error("not refused");
  expect(found.refusals).toHaveLength(1);
  expect(found.reason).toContain("300 s");
});

describe("at equal tension time", () => {
  test("the second is changed and both are projected as changed", () => {
    const { protocols, equalised } = compared(
      [hard, "4 x 2 x 6 s at 55%, rest 6 s, 90 s between sets, 3/week, 8 weeks, middle"],
      { equalise: { quantity: "tension time" } },
    );
    expect(equalised!.target).toBe(120);
    expect(protocols.map(({ tensionTimeSeconds }) => tensionTimeSeconds)).toEqual([120, 120]);
    expect(protocols[1]!.prescription.repetitions).toBe(5);
  });
});

describe("trials that compare two such arms", () => {
  test("are listed first and pooled; without one the evidence is called indirect", () => {
    const [direct] = compared([hard, easy]).differences;
    expect(direct!.evidence).toBe("head-to-head trials and the model");
    // Cedar's 70% is as near to 55% as to 85%, so it stands for neither
    expect(direct!.headToHead.trials.length).toBe(7);
    const single = prepareProjection(
      handMadeRegister(registerPairs.map((one) => ({ ...one, study: `${one.study} ${one.arm}` }))),
      quickOptions,
    );
    const found = compareProtocols(single, [hard, easy].map(parsePrescription), { course: false });
    if (found.kind !== "comparison") throw new Error(found.reason);
    expect(found.differences[0]!.evidence).toBe("indirect: no trial compares two such arms");
    expect(found.differences[0]!.headToHead).toEqual({ trials: [] });
  });
});
