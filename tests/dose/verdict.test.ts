/** Kinds of evidence: the stated rules, tried on both sides of every edge. */
import { refusal } from "../../src/errors.js";
import { describe, expect, test } from "vitest";
import { agreementOf, perStep, statedAmount, verdictOf } from "../../src/dose/verdict.js";
import { coefficient } from "../../src/synthesis/inference.js";
import type { Coefficient } from "../../src/synthesis/synthesis-results.js";

const amount = 0.05;

/** A slope whose 95 % interval is the one given. */
const slope = (low: number, high: number, degreesOfFreedom = Infinity): Coefficient => {
  const middle = (low + high) / 2;
  // 1.959964: normal; the interval is handed over as it is.
  const made = coefficient("slope", middle, (high - low) / 2 / 1.959964, degreesOfFreedom, 0.95);
  return { ...made, interval: { low, high } };
};

const verdict = (within: Coefficient | undefined, between?: Coefficient) =>
  verdictOf({ within, between, amount }).verdict;

describe("rule 1 and 2: nothing to compare, or only studies against each other", () => {
  test("nothing is not studied", () => {
    expect(verdictOf({ within: undefined, between: undefined, amount })).toEqual({
      verdict: "not studied",
      reason: "no comparison of doses can be made",
    });
  });

  test("studies against each other never decide, however clear they are", () => {
    for (const between of [slope(0.1, 0.2), slope(-0.2, -0.1), slope(-0.01, 0.01)])
      expect(verdict(undefined, between)).toBe("unclear");
    const reason = (between: Coefficient) =>
      verdictOf({ within: undefined, between, amount }).reason;
    expect(reason(slope(0.1, 0.2))).toMatch(/points to more$/);
    expect(reason(slope(-0.2, -0.1))).toMatch(/points to less$/);
    expect(reason(slope(-0.01, 0.01))).not.toContain("points");
  });

  test("what studies say against each other does not change a within-study verdict", () => {
    expect(verdict(slope(0.01, 0.1), slope(-0.9, -0.5))).toBe("more is favoured");
  });
});

describe("rule 3: the within-study interval leaves out zero", () => {
  test("just above or just below zero it is favoured, on zero it is not", () => {
    expect(verdict(slope(1e-9, 0.2))).toBe("more is favoured");
    expect(verdict(slope(0, 0.2))).toBe("unclear");
    expect(verdict(slope(-0.2, -1e-9))).toBe("less is favoured");
    expect(verdict(slope(-0.2, 0))).toBe("unclear");
  });

  test("it comes before rule 4, and the reason says that the difference is small", () => {
    const small = verdictOf({ within: slope(0.01, 0.03), between: undefined, amount });
    expect(small.verdict).toBe("more is favoured");
    expect(small.reason).toContain("by less than the stated amount");
    expect(verdictOf({ within: slope(0.01, 0.08), between: undefined, amount }).reason).toContain(
      "leaves out no difference",
    );
  });
});

describe("rule 4 and 5: inside the stated amount, or not", () => {
  test("both ends must be inside; an end on the amount is not", () => {
    const none = "no difference larger than the stated amount";
    expect(verdict(slope(-0.049, 0.049))).toBe(none);
    expect(verdict(slope(-0.05, 0.049))).toBe("unclear");
    expect(verdict(slope(-0.049, 0.05))).toBe("unclear");
    expect(verdict(slope(-0.01, 0.02))).toBe(none);
  });

  test("the reason tells a wide interval from a lopsided one", () => {
    const reason = (low: number, high: number) =>
      verdictOf({ within: slope(low, high), between: undefined, amount }).reason;
    expect(reason(-0.1, 0.1)).toContain("both gain and loss larger");
    expect(reason(-0.01, 0.1)).toContain("no difference and a difference larger");
  });
});

describe("fewer than four degrees of freedom: the 99% interval is asked", () => {
  // Student's t at 3.9 degrees of freedom: 2.80 for 95%, 4.66 for 99% (between the printed 3 and 4: 3.18 and
  // 2.78, 5.84 and 4.60).
  const error = 0.01;
  const of = (estimate: number, freedom: number) =>
    coefficient("slope", estimate, error, freedom, 0.95);

  test("a difference the 95% interval shows and the 99% does not is unclear, and says which way", () => {
    // 0.035/0.01 = 3.5 lies between the two.
    expect(verdict(of(0.035, 3.9))).toBe("unclear");
    expect(verdictOf({ within: of(0.035, 3.9), between: undefined, amount: 0.5 }).verdict).toBe(
      "no difference larger than the stated amount",
    );
    const { reason } = verdictOf({ within: of(0.035, 3.9), between: undefined, amount });
    expect(reason).toContain("point to more, on too few studies");
    expect(verdictOf({ within: of(-0.035, 3.9), between: undefined, amount }).reason).toContain(
      "point to less",
    );
  });

  test("at four the ordinary interval is trusted", () => {
    expect(verdict(of(0.035, 4))).toBe("more is favoured");
    expect(verdict(of(0.047, 3.9))).toBe("more is favoured");
  });

  test("no difference is asked of the 99% interval too", () => {
    // ± 2.8 × 0.01 = 0.028 is inside 0.04; ± 4.66 × 0.01 is not.
    expect(verdictOf({ within: of(0, 3.9), between: undefined, amount: 0.04 }).verdict).toBe(
      "unclear",
    );
    expect(verdictOf({ within: of(0, 4), between: undefined, amount: 0.04 }).verdict).toBe(
      "no difference larger than the stated amount",
    );
  });
});

test("an amount of nought or none is refused", () => {
  for (const bad of [0, -0.1, Infinity, NaN])
    expect(() => verdictOf({ within: undefined, between: undefined, amount: bad })).toThrow(
      /amount above 0/,
    );
});

describe("agreement of within and between", () => {
  const one = slope(0.1, 0.2);

  test("differ when zero is left out, agree when inside the amount, else it cannot be told", () => {
    expect(agreementOf(one, one, slope(0.001, 0.2), amount)).toBe("differ");
    expect(agreementOf(one, one, slope(-0.2, -0.001), amount)).toBe("differ");
    expect(agreementOf(one, one, slope(0, 0.2), amount)).toBe("cannot be told apart");
    expect(agreementOf(one, one, slope(-0.04, 0.04), amount)).toBe("agree");
    expect(agreementOf(one, one, slope(-0.05, 0.04), amount)).toBe("cannot be told apart");
  });

  test("with one answer, or none, there is nothing to agree", () => {
    expect(agreementOf(one, undefined, undefined, amount)).toBe("one answer only");
    expect(agreementOf(undefined, one, undefined, amount)).toBe("one answer only");
    expect(agreementOf(one, one, undefined, amount)).toBe("one answer only");
    expect(agreementOf(undefined, undefined, undefined, amount)).toBe("none");
  });
});

describe("stated amounts", () => {
  test("log ratios take a percentage of the family, scales in deviations a fifth of one", () => {
    // 5 % of strength, tendon and rapid force, 2 % of size, 10 % of endurance and symptoms: amounts of this project.
    const percents = {
      strength: 5,
      size: 2,
      tendon: 5,
      "rapid force": 5,
      endurance: 10,
      symptoms: 10,
    };
    for (const [family, percent] of Object.entries(percents))
      expect(Math.expm1(statedAmount(family, "log-ratio-of-means")!)).toBeCloseTo(
        percent / 100,
        12,
      );
    expect(Math.expm1(statedAmount("never heard of", "log-variability-ratio")!)).toBeCloseTo(
      0.05,
      12,
    );
    expect(statedAmount("strength", "standardised-mean-difference")).toBe(0.2);
  });

  test("a raw difference has a unit only the user knows", () => {
    expect(statedAmount("strength", "raw-mean-difference")).toBeUndefined();
  });
});

test("a slope per step is the slope times the step, its p unchanged; a refusal has none", () => {
  const robust = coefficient("within-study", 0.004, 0.001, 7, 0.95);
  const stepped = perStep({ kind: "told", robust, model: robust }, 10)!;
  expect(stepped.estimate).toBeCloseTo(0.04, 14);
  expect(stepped.standardError).toBeCloseTo(0.01, 14);
  expect(stepped.interval.low).toBeCloseTo(10 * robust.interval.low, 14);
  expect(stepped.interval.high).toBeCloseTo(10 * robust.interval.high, 14);
  expect(stepped.p).toBe(robust.p);
  expect(perStep(refusal("too-few-studies", "arms"), 10)).toBeUndefined();
});
