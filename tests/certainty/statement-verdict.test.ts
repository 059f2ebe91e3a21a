import { describe, expect, test } from "vitest";
import {
  judgedTogether,
  sideOf,
  sideOfAll,
  statementVerdict,
} from "../../src/certainty/statement-verdict.js";

describe("an interval beside a claim", () => {
  const more = { low: 0, high: Infinity };
  test.each([
    [{ low: 0.1, high: 9 }, "inside"],
    [{ low: 0, high: 9 }, "neither"],
    [{ low: -2, high: 9 }, "neither"],
    [{ low: -3, high: -1 }, "outside"],
  ] as const)("%j and a claim of more", (interval, side) => {
    expect(sideOf(interval, more)).toBe(side);
  });

  test("a span is left at either end, and an interval wider than it holds both sides", () => {
    const span = { low: 5, high: 91 };
    expect(sideOf({ low: 6, high: 90 }, span)).toBe("inside");
    expect(sideOf({ low: 92, high: 95 }, span)).toBe("outside");
    expect(sideOf({ low: 1, high: 4 }, span)).toBe("outside");
    expect(sideOf({ low: 1, high: 99 }, span)).toBe("neither");
  });

  test("of several parts one outside is enough, and all must be inside", () => {
    expect(sideOfAll(["inside", "inside"])).toBe("inside");
    expect(sideOfAll(["inside", "neither"])).toBe("neither");
    expect(sideOfAll(["inside", "outside"])).toBe("outside");
  });
});

describe("statements asked together", () => {
  /** A claim decided at every coverage up to one: by its own p, by hand. */
  const claimOf = (p: number) => ({
    side: (confidence: number) => (p < 1 - confidence ? ("inside" as const) : ("neither" as const)),
  });

  test("Holm's procedure on four p, worked by hand", () => {
    // At 5%: 0.009 < 0.05/4; then three are left: 0.016 < 0.05/3; then 0.04 > 0.05/2, and so does 0.2.
    const judged = judgedTogether([0.04, 0.009, 0.2, 0.016].map(claimOf), 0.95);
    expect(judged.map((one) => one!.side)).toEqual(["neither", "inside", "neither", "inside"]);
    expect(judged.map((one) => one!.confidence)).toEqual(
      [1 - 0.05 / 2, 1 - 0.05 / 4, 1 - 0.05 / 2, 1 - 0.05 / 3].map((value) =>
        expect.closeTo(value, 12),
      ),
    );
  });

  test("one asked alone has its own coverage, and one without an interval is not counted", () => {
    const [first, second] = judgedTogether([{}, claimOf(0.04)], 0.95);
    expect(first).toBeUndefined();
    expect(second).toEqual({ confidence: expect.closeTo(0.95, 12) as number, side: "inside" });
  });
});

describe("verdicts", () => {
  const base = { studies: 5, needed: 3, side: "neither", forIt: 0, againstIt: 0 } as const;
  test.each([
    [{ ...base, studies: 2, side: "inside" }, "not testable with this file"],
    [{ ...base, side: "inside", forIt: 2, againstIt: 2 }, "supported"],
    [{ ...base, side: "outside" }, "against"],
    [{ ...base, forIt: 2, againstIt: 2 }, "mixed"],
    [{ ...base, forIt: 4, againstIt: 1 }, "undecided"],
    [{ ...base, side: undefined, forIt: 2, againstIt: 3 }, "mixed"],
    [{ ...base, side: undefined }, "undecided"],
  ] as const)("%j", (input, verdict) => {
    expect(statementVerdict(input)).toBe(verdict);
  });
});
