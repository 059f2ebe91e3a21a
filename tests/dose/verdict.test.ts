/** Kinds of evidence: the stated rules, tried on both sides of every edge; Holm's p values against base R. */
import { describe, expect, test } from "vitest";
import {
  agreementOf,
  holmAdjusted,
  statedAmount,
  verdictOf,
  type VerdictInput,
} from "../../src/dose/verdict.js";
import { coefficient } from "../../src/synthesis/inference.js";
import type { Coefficient } from "../../src/synthesis/synthesis-results.js";
import { asR, baseR } from "../base-r.js";
import { expectRelative } from "../effects/agreement.js";

const { numbers } = baseR();
const amount = 0.05;

/** A change whose 95% interval is the one given, on endless degrees of freedom unless told. */
const change = (low: number, high: number): Coefficient => {
  const middle = (low + high) / 2;
  // 1.959964: normal; the interval is handed over as it is.
  const made = coefficient("change", middle, (high - low) / 2 / 1.959964, Infinity, 0.95);
  return { ...made, interval: { low, high } };
};

/** A change of so many standard errors of 0.01. */
const of = (errors: number, degreesOfFreedom: number): Coefficient =>
  coefficient("change", errors * 0.01, 0.01, degreesOfFreedom, 0.95);

const judge = (within: Coefficient | undefined, more: Partial<VerdictInput> = {}) =>
  verdictOf({ within, between: undefined, amount, ...more });

describe("rules 1 to 3: nothing to compare, only studies against each other, or two doses as one", () => {
  test("nothing is not studied", () => {
    expect(judge(undefined)).toEqual({
      verdict: "not studied",
      reason: "no comparison of doses can be made",
    });
  });

  test("studies against each other never decide, however clear they are", () => {
    const reason = (between: Coefficient) => {
      const verdict = judge(undefined, { between });
      expect(verdict.verdict).toBe("cannot be told");
      return verdict.reason;
    };
    expect(reason(change(0.1, 0.2))).toMatch(/points to more$/);
    expect(reason(change(-0.2, -0.1))).toMatch(/points to less$/);
    expect(reason(change(-0.01, 0.01))).not.toContain("points");
  });

  test("what cannot be separated is neither favoured nor without a difference", () => {
    const inseparable = "cannot be separated from intensity (r −0.96 inside 12 studies)";
    expect(judge(of(30, 20), { inseparable })).toEqual({
      verdict: "cannot be separated",
      reason: inseparable,
    });
    expect(judge(of(0, 20), { inseparable, allInside: true }).verdict).toBe("cannot be separated");
  });
});

describe("rule 4: every pair of doses inside the amount", () => {
  // Printed tables of Student's t: 5% on one side at 4 degrees of freedom, 2.132.
  test("an interval of 90% that leaves out zero is a difference, smaller than counts; one that holds it is none", () => {
    expect(judge(of(2.13, 4), { allInside: true }).verdict).toBe("no difference that counts");
    expect(judge(of(2.14, 4), { allInside: true })).toMatchObject({
      verdict: "a difference, smaller than counts",
      side: "more",
    });
    expect(judge(of(-2.14, 4), { allInside: true })).toMatchObject({ side: "less" });
  });

  test("it comes before rule 5: a clear difference inside the amount is not favoured", () => {
    expect(judge(of(9, 40), { allInside: true }).verdict).toBe("a difference, smaller than counts");
    expect(judge(of(9, 40), { allInside: false }).verdict).toBe("favoured");
  });

  test("below four degrees of freedom nothing is said to be without a difference", () => {
    expect(judge(of(0.1, 3.9), { allInside: true }).verdict).toBe("cannot be told");
  });
});

describe("rule 5: the interval leaves out zero", () => {
  test("what stands among all questions is favoured, what stands only by itself is worth testing", () => {
    // t = 4 on 10 degrees of freedom: p = 0.0025 (printed: 3.581 at 0.005, 4.144 at 0.002)
    const clear = of(4, 10);
    expect(judge(clear)).toMatchObject({ verdict: "favoured", side: "more" });
    expect(judge(clear, { adjustedP: 0.049 }).verdict).toBe("favoured");
    expect(judge(clear, { adjustedP: 0.05 })).toMatchObject({
      verdict: "worth testing",
      side: "more",
    });
    expect(judge(of(-4, 10), { adjustedP: 0.2 })).toMatchObject({ side: "less" });
  });

  test("below four degrees of freedom nothing is favoured", () => {
    expect(judge(of(40, 3.99)).verdict).toBe("worth testing");
    expect(judge(of(40, 3.99)).reason).toContain("too few studies to rely on");
    expect(judge(of(40, 4)).verdict).toBe("favoured");
  });

  test("what is no choice of a protocol is never favoured", () => {
    expect(judge(of(40, 30), { isChoice: false }).verdict).toBe("worth testing");
  });

  test("just above or just below p = 0.05; another confidence moves it", () => {
    // 2.228: the printed two-sided 5% point at 10 degrees of freedom
    expect(judge(of(2.22, 10)).verdict).toBe("cannot be told");
    expect(judge(of(2.24, 10)).verdict).toBe("favoured");
    expect(judge(of(2.22, 10), { level: 0.1 }).verdict).toBe("favoured");
  });
});

test("rule 6: the reason tells a wide interval from a lopsided one and from one too thin to rely on", () => {
  const reason = (low: number, high: number) => judge(change(low, high)).reason;
  expect(reason(-0.1, 0.1)).toContain("both gain and loss larger");
  expect(reason(-0.01, 0.1)).toContain("no difference and a difference larger");
  expect(reason(-0.02, 0.03)).toContain("not every pair of doses");
});

test("an amount of nought or none is refused", () => {
  for (const bad of [0, -0.1, Infinity, NaN])
    expect(() => judge(undefined, { amount: bad })).toThrow(/amount above 0/);
});

describe("all questions at once", () => {
  test("by hand: 3 × 0.01, then 2 × 0.02, then 0.03 held at least as high", () => {
    expect(holmAdjusted([0.03, 0.01, 0.02])).toEqual([0.04, 0.03, 0.04]);
    expect(holmAdjusted([0.4, 0.9])).toEqual([0.8, 0.9]);
    expect(holmAdjusted([])).toEqual([]);
  });

  test("base R's p.adjust gives the same, ties and certainties among them", async () => {
    const ps = [0.0004, 0.031, 0.031, 0.2, 1, 0.00001, 0.049, 0.0021, 0.77, 0.012, 0.0021];
    const theirs = await numbers(`p.adjust(${asR(ps)}, method = "holm")`);
    holmAdjusted(ps).forEach((p, place) => expectRelative(p, theirs[place]!, 1e-12));
  });
});

describe("agreement of within and between", () => {
  const one = change(0.1, 0.2);

  test("differ when zero is left out, agree when inside the amount, else it cannot be told", () => {
    expect(agreementOf(one, one, change(0.001, 0.2), amount)).toBe("differ");
    expect(agreementOf(one, one, change(-0.2, -0.001), amount)).toBe("differ");
    expect(agreementOf(one, one, change(0, 0.2), amount)).toBe("cannot be told apart");
    expect(agreementOf(one, one, change(-0.04, 0.04), amount)).toBe("agree");
    expect(agreementOf(one, one, change(-0.05, 0.04), amount)).toBe("cannot be told apart");
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
