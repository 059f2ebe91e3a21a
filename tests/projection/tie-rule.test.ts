import { describe, expect, test } from "vitest";
import { decisionProbability, tieRule, tieOfTheUntold } from "../../src/projection/tie-rule.js";

const rule = (firstWorthwhile: number, secondWorthwhile: number, amount = 2) =>
  tieRule(
    { firstWorthwhile, secondWorthwhile, within: 1 - firstWorthwhile - secondWorthwhile },
    amount,
    ["long holds", "short holds"],
  );

describe("the stated rule: 90 % for more than the smallest worthwhile amount", () => {
  test.each([
    [0.9, 0.05, "first is better"],
    [0.8999, 0.05, "tie"],
    [0.02, 0.95, "second is better"],
    [0.45, 0.45, "tie"],
    [0.03, 0.03, "tie"],
  ] as const)("%d and %d: %s", (first, second, call) => {
    expect(rule(first, second).call).toBe(call);
  });
  test("the threshold is the one that is said", () => {
    expect(decisionProbability).toBe(0.9);
    expect(rule(0.95, 0.01).words).toBe(
      "long holds is better by more than 2 % with probability 95 % (called from 90 % on)",
    );
  });
  test("a tie of equals and a tie for want of evidence are told apart", () => {
    expect(rule(0.03, 0.03).words).toContain("a tie of equals: they differ by less than 2 %");
    expect(rule(0.45, 0.45).words).toContain("a tie for want of evidence");
    expect(rule(0.45, 0.45).words).toContain("long holds 45 %, short holds 45 %");
  });
  test("without an amount there are no equals, only evidence or the want of it", () => {
    expect(rule(0.5, 0.5, 0).words).toContain("for want of evidence");
    expect(rule(0.5, 0.5, 0).words).not.toContain("0 % with probability 100 %");
  });
  test("no probability is written as certain", () => {
    expect(rule(0.9999, 0).words).toContain("over 99 %");
    expect(rule(0.9999, 0).words).not.toContain("100 %");
  });
});

describe("protocols that the model sees no difference between", () => {
  test("one protocol written twice is a tie with itself", () => {
    expect(tieOfTheUntold(true, ["A", "B"])).toEqual({
      call: "tie",
      words: "a tie, since they are the same protocol",
    });
  });
  test("two different ones are a tie for want of evidence, and not called equal", () => {
    const { call, words } = tieOfTheUntold(false, ["long holds", "short holds"]);
    expect(call).toBe("tie");
    expect(words).toContain(
      "for want of evidence: nothing in which long holds and short holds differ",
    );
    expect(words).toContain("no evidence that they are equal");
  });
});
