/** The rules of certainty, each triggered by hand; levels counted by hand. */
import { describe, expect, test } from "vitest";
import {
  peopleNeeded,
  rated,
  ratingRules,
  type RatingFacts,
  type RuleName,
} from "../../src/certainty/rating.js";
import { refusal } from "../../src/errors.js";

const nothing = refusal("too-few-studies", "too few");
/** A trial's dream: at random, coded low, alike, precise. */
const sound: RatingFacts = {
  allocation: "at random",
  estimate: 0.12,
  interval: { low: 0.09, high: 0.15 },
  range: { low: 0.07, high: 0.17 },
  iSquaredPercent: 20,
  studies: 12,
  people: 900,
  amount: 0.05,
  deviations: 0.5,
  weightByRisk: { low: 100, "some concerns": 0, high: 0, "not coded": 0 },
  smallStudies: nothing,
  selection: nothing,
};
const slope = (low: number, high: number) =>
  ({
    kind: "told",
    slope: { estimate: (low + high) / 2, interval: { low, high } },
    studies: 14,
  }) as never;
const risks = (low: number, some: number, high: number, blank: number) => ({
  weightByRisk: { low, "some concerns": some, high, "not coded": blank },
});

describe("what each rule proposes", () => {
  test.each<readonly [RuleName, 0 | 1 | 2, Partial<RatingFacts>]>([
    ["risk-low", 0, {}],
    ["risk-high", 1, risks(70, 5, 25, 0)],
    ["risk-low", 0, risks(70, 6, 24, 0)],
    ["risk-high", 2, risks(50, 0, 50, 0)],
    ["risk-concerns", 1, risks(50, 40, 10, 0)],
    ["risk-not-coded", 1, risks(49, 0, 0, 51)],
    ["studies-agree", 0, {}],
    ["further-study-crosses", 1, { range: { low: 0.04, high: 0.2 } }],
    // The interval crosses it too, so that it is imprecision and not inconsistency.
    ["studies-agree", 0, { range: { low: 0.04, high: 0.2 }, interval: { low: 0.045, high: 0.19 } }],
    ["further-study-crosses", 1, { range: { low: -0.06, high: 0.3 }, iSquaredPercent: 74 }],
    ["further-study-turns", 2, { range: { low: -0.06, high: 0.3 }, iSquaredPercent: 75 }],
    ["studies-differ", 1, { range: null, iSquaredPercent: 80 }],
    ["one-study", 0, { studies: 1, range: null, iSquaredPercent: null }],
    ["precise", 0, {}],
    ["interval-crosses-one", 1, { interval: { low: 0.04, high: 0.2 } }],
    ["interval-crosses-both", 2, { interval: { low: -0.06, high: 0.3 } }],
    ["interval-crosses-one", 1, { amount: undefined, interval: { low: -0.01, high: 0.3 } }],
    ["few-people", 1, { deviations: 0.8, people: 392 }],
    ["precise", 0, { deviations: 0.8, people: 393 }],
    ["few-people", 1, { deviations: 0.8, people: 98, allocation: "before to after" }],
    ["precise", 0, { deviations: 0.8, people: 99, allocation: "before to after" }],
    ["not-testable", 0, {}],
    ["small-alike", 0, { smallStudies: slope(-0.1, 0.4) }],
    ["small-show-more", 1, { smallStudies: slope(0.1, 0.4) }],
    ["small-alike", 0, { smallStudies: slope(-0.4, -0.1) }],
    [
      "null-unprinted",
      1,
      { selection: { kind: "told", estimated: { weight: 0.2, p: 0.01 } } as never },
    ],
    ["small-alike", 0, { selection: { kind: "told", estimated: { weight: 3, p: 0.01 } } as never }],
  ])("%s, by %i", (rule, lowered, facts) => {
    const { concerns } = rated({ ...sound, ...facts });
    expect(concerns.find(({ domain }) => domain === ratingRules[rule][0])).toEqual({
      domain: ratingRules[rule][0],
      lowered,
      rule,
    });
  });

  test("indirectness is asked and never proposed", () => {
    expect(rated(sound).concerns[2]).toEqual({
      domain: "indirectness",
      lowered: null,
      rule: "is-it-asked",
    });
  });

  test("people a trial needs: 393 and 98 doubled are those of a table of power by z", () => {
    // Two arms at 0.2 deviations, 5%, 80%: 393 a group (facts, grade.ois); one arm a quarter of both.
    expect([peopleNeeded(2), peopleNeeded(1)]).toEqual([785, 197]);
  });
});

describe("where a rating starts, and what it comes to", () => {
  test.each([
    ["at random", "high"],
    ["not at random", "low"],
    ["not coded", "low"],
    ["before to after", "low"],
    ["between studies", "low"],
  ] as const)("%s: %s", (allocation, word) => {
    const rating = rated({ ...sound, allocation });
    expect([rating.starts, rating.proposed, rating.certainty, rating.decided]).toEqual([
      word,
      word,
      word,
      null,
    ]);
  });

  test("levels add up and end at very low", () => {
    expect(rated({ ...sound, ...risks(70, 5, 25, 0) }).proposed).toBe("moderate");
    const doubtful = { ...sound, ...risks(40, 0, 60, 0), interval: { low: 0.04, high: 0.2 } };
    expect(rated(doubtful).proposed).toBe("very low");
    expect(rated({ ...doubtful, allocation: "before to after" }).proposed).toBe("very low");
  });

  test("a person's decisions stand beside what was proposed", () => {
    const asked = { ...sound, ...risks(50, 0, 50, 0) };
    const decide = (domain: string, levels: number | string) =>
      ({ domain, levels, reason: "because", by: "AB" }) as never;
    const taken = rated(asked, [decide("risk of bias", 1), decide("indirectness", 1)]);
    expect([taken.proposed, taken.decided, taken.certainty]).toEqual(["low", "low", "low"]);
    expect(rated(asked, [decide("risk of bias", 0)]).decided).toBe("high");
    expect(rated(asked, [decide("starting level", "low")]).decided).toBe("very low");
    expect(rated(asked, [decide("raised", 1)]).decided).toBe("moderate");
  });
});
