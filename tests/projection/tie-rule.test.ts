import { describe, expect, test } from "vitest";
import {
  decisionProbability,
  tieRule,
  tieOfTheUntold,
  vetoed,
} from "../../src/projection/tie-rule.js";

const rule = (firstWorthwhile: number, secondWorthwhile: number, amount = 2) =>
  tieRule(
    { firstWorthwhile, secondWorthwhile, within: 1 - firstWorthwhile - secondWorthwhile },
    amount,
    ["long holds", "short holds"],
  );

describe("the stated rule: 90% for more than the smallest worthwhile amount", () => {
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
      "long holds is better by more than 2% (with a chance of 95%; we call it from 90%)",
    );
  });
  test("no difference that counts and what cannot be told are told apart", () => {
    expect(rule(0.03, 0.03)).toMatchObject({
      short: "no difference that counts",
      words: "no difference that counts (less than 2% apart with a chance of 94%)",
    });
    expect(rule(0.44, 0.45)).toMatchObject({
      short: "cannot be told",
      words:
        "cannot be told from this file (long holds is better by more than 2% with a chance of 44%, short holds with one of 45%; we call it from 90%)",
    });
    expect(rule(0.95, 0.01).short).toBe("long holds is better");
    expect(rule(0.01, 0.95).short).toBe("short holds is better");
  });
  test.each([
    [0.55, "cannot be told"],
    [0.8999, "cannot be told"],
    [0.9, "no difference that counts"],
  ])("less than the amount apart with %d: %s", (within, short) => {
    const rest = (1 - within) / 2;
    expect(
      tieRule({ firstWorthwhile: rest, secondWorthwhile: rest, within }, 2, ["A", "B"]).short,
    ).toBe(short);
  });
  test("without an amount there are no equals, only evidence or the want of it", () => {
    expect(rule(0.5, 0.5, 0).words).toContain("cannot be told");
    expect(rule(0.5, 0.5, 0).words).not.toContain("more than 0%");
    expect(rule(0.05, 0.05, 0).short).toBe("cannot be told");
  });
  test("no probability is written as certain", () => {
    expect(rule(0.9999, 0).words).toContain("over 99%");
    expect(rule(0.9999, 0).words).not.toContain("100%");
  });
});

describe("protocols that the model sees no difference between", () => {
  test("one protocol written twice differs by nothing", () => {
    expect(tieOfTheUntold(true, ["A", "B"])).toEqual({
      call: "tie",
      short: "the same protocol",
      words: "the same protocol, so nothing differs",
    });
  });
  test("two different ones cannot be told, and are not called equal", () => {
    const { call, words } = tieOfTheUntold(false, ["long holds", "short holds"]);
    expect(call).toBe("tie");
    expect(words).toContain(
      "cannot be told from this file, as nothing in which long holds and short holds differ",
    );
    expect(words).toContain("no evidence that they are equal");
  });
});

describe("what speaks against a call", () => {
  const called = rule(0.95, 0.01);
  const model = { estimate: 0.06, halfWidth: 0.04 };
  const after = (doubts: Partial<Parameters<typeof vetoed>[1]>, verdict = called) =>
    vetoed(verdict, { model, ...doubts });

  test("nothing does: the call stands", () => {
    expect(after({})).toBe(called);
    expect(after({ trials: { estimate: 0.01, halfWidth: 0.1 } })).toBe(called);
    const wide = { low: -0.2, high: 0.2 };
    expect(after({ curve: { estimate: 0.001, interval: wide, label: "hold length" } })).toBe(
      called,
    );
    expect(after({ unseen: ["hold length"] })).toBe(called);
  });

  test("trials that point the other way, however unsure, or that lie beyond the joint error", () => {
    const turned = after({ trials: { estimate: -0.001, halfWidth: 0.3 } });
    expect(turned).toMatchObject({ call: "tie", short: "the trials and the model disagree" });
    expect(turned.words).toContain("point the other way than the model, so nothing is called");
    // √(0.03² + 0.04²) is 0.05: 0.06 − 0.005 lies beyond it, 0.06 − 0.015 within.
    const trials = (estimate: number) => ({ trials: { estimate, halfWidth: 0.03 } });
    expect(after(trials(0.005)).words).toContain("differ by more than both can err");
    expect(after(trials(0.015))).toBe(called);
    // Beyond the joint error two are not called equal either.
    const equal = rule(0.03, 0.03);
    expect(after(trials(0.005), equal).short).toBe("the trials and the model disagree");
    expect(after({ trials: { estimate: -0.001, halfWidth: 0.3 } }, equal)).toBe(equal);
  });

  test("the second is called by the other sign", () => {
    const second = rule(0.01, 0.95);
    const there = { estimate: -0.06, halfWidth: 0.04 };
    expect(vetoed(second, { model: there, trials: { estimate: -0.02, halfWidth: 0.2 } })).toBe(
      second,
    );
    expect(
      vetoed(second, {
        model: there,
        curve: { estimate: 0.01, interval: { low: -0.01, high: 0.03 }, label: "intensity" },
      }).words,
    ).toBe(
      "the curve of intensity alone points the other way than the model, so nothing is called",
    );
  });

  test("two are not called equal where the curve leaves room for the amount, either way", () => {
    const equal = rule(0.03, 0.03);
    const room = (low: number, high: number) =>
      after(
        { amount: 0.05, curve: { estimate: 0, interval: { low, high }, label: "intensity" } },
        equal,
      );
    expect(room(-0.06, 0.01).words).toBe(
      "cannot be told from this file, as the curve of intensity alone leaves room for a difference that counts",
    );
    expect(room(-0.01, 0.06).short).toBe("cannot be told");
    expect(room(-0.04, 0.04)).toBe(equal);
  });

  test("a model that misses the arms calls nothing; what it does not hold makes no equals", () => {
    expect(after({ misses: true })).toMatchObject({ call: "tie", short: "cannot be told" });
    const unseen = { unseen: ["hold length", "muscle length"] };
    expect(after(unseen, rule(0.03, 0.03)).words).toBe(
      "cannot be told from this file, as the two also differ in hold length and muscle length, of which the model knows nothing",
    );
  });
});
