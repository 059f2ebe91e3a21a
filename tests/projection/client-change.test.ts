/**
 * Kinds of evidence: published pairs of error and smallest real difference; hand arithmetic on logs of a few days; closed
 * forms of normal updating worked out here.
 */
import { describe, expect, test } from "vitest";
import { clientChange, type ClientChange } from "../../src/projection/client-change.js";
import { clientOutlook } from "../../src/projection/client-outlook.js";
import { clientRule } from "../../src/projection/client-rule.js";

const on = (day: number, value: number) => ({ day, logValue: Math.log(value) });
const changeOf = (...given: Parameters<typeof clientChange>): ClientChange => {
  const found = clientChange(...given);
  if (typeof found === "string") throw new Error(found);
  return found;
};

describe("the smallest change that can be told", () => {
  // Kambič, Lainščak, Hadžić (2020) PLOS ONE 15:e0237842, abstract: errors from 2.54 to 6.93 % go with smallest real
  // differences from 7.04 to 19.22 %; Ferri-Morales and others (2014) Isokinetics and Exercise Science 22, abstract: 3.1 with 8.6 %.
  test.each([
    ["2.54", "7.04", 0.015],
    ["6.93", "19.22", 0.015],
    ["3.1", "8.6", 0.15],
  ])("an error of %s %% and a difference of %s %%", (error, difference, rounding) => {
    const known = { deviation: Number(error) / 100, people: 1e9 };
    const { detectable, error: used } = changeOf([on(0, 100), on(56, 110)], { published: known });
    // The published error counts as ten repeats at most; 2.228 is t(0.975) at 10 in every printed table, 1.960 the normal.
    expect(used.degreesOfFreedom).toBeCloseTo(10, 6);
    expect(Math.abs((100 * detectable * 1.96) / 2.228 - Number(difference))).toBeLessThan(rounding);
  });
});

describe("days, repeats and errors", () => {
  test("days near each other are one test; old days are no baseline; trials of a day are averaged", () => {
    const { baseline, occasions, tooOld } = changeOf(
      [on(-50, 90), on(-2, 100), on(1, 104), on(20, 110), on(20, 120), on(22, 115), on(40, 121)],
      { start: 0, published: { deviation: 0.05 } },
    );
    expect(tooOld).toEqual([-50]);
    expect(Math.exp(baseline.logValue)).toBeCloseTo(Math.sqrt(100 * 104), 9);
    expect(occasions.map(({ days, trials }) => [days, trials])).toEqual([
      [2, 3],
      [1, 1],
    ]);
    expect(Math.exp(occasions[0]!.logValue)).toBeCloseTo(Math.sqrt(Math.sqrt(110 * 120) * 115), 9);
    expect(occasions[0]!.weeks).toBeCloseTo(3, 9);
  });

  test("own repeats alone: three days before training, as on paper", () => {
    // Logs 0, 0.03, 0.06 about 0.03: 0.0018 over 2 degrees, s = 0.03; with three days a change has s·√(1 + 1/3) = 0.034641;
    // t(0.975) at 2 degrees is 4.303 in every printed table.
    const log = (value: number, day: number) => ({ day, logValue: value });
    const { error, occasions } = changeOf(
      [log(0, -4), log(0.03, -2), log(0.06, 0), log(0.33, 30)],
      { start: 0 },
    );
    expect(error).toMatchObject({ ownRepeats: 2, publishedRepeats: 0 });
    expect(error.deviation).toBeCloseTo(0.03, 12);
    expect(occasions[0]!.change).toBeCloseTo(0.3, 12);
    expect(occasions[0]!.high - occasions[0]!.change).toBeCloseTo(4.303 * 0.034641, 4);
    expect(occasions[0]!.call).toBe("more");
  });

  test("trials of a day never make the error smaller, and make it larger where they scatter", () => {
    const published = { deviation: 0.05 };
    const alike = [on(0, 100), on(0, 100.1), on(30, 120), on(30, 120.1)];
    const apart = [on(0, 70), on(0, 140), on(30, 90), on(30, 160)];
    expect(changeOf(alike, { published }).error.deviation).toBeCloseTo(0.05, 12);
    expect(changeOf(apart, { published }).error).toMatchObject({ trialsWiden: 2 });
    expect(changeOf(apart, { published }).error.deviation).toBeGreaterThan(0.1);
  });

  test("a test repeated within 3 days is one occasion and two looks", () => {
    const published = { deviation: 0.05 };
    const once = [on(0, 100), on(30, 105), on(60, 112)];
    const asPlanned = changeOf(once, { published, planned: 4 });
    const repeated = changeOf([...once, on(62, 110)], { published, planned: 4 });
    expect([asPlanned.thresholdFor, repeated.thresholdFor]).toEqual([4, 5]);
    expect(repeated.occasions.map(({ days }) => days)).toEqual([1, 2]);
    expect(changeOf([...once, on(62, 110)], { published }).thresholdFor).toBe(3);
  });

  test("no baseline, no error", () => {
    expect(clientChange([on(20, 100)], { start: 0 })).toBe("no-baseline");
    expect(clientChange([on(0, 100), on(30, 120)])).toBe("no-test-error");
  });
});

describe("the file and the log together", () => {
  const one = { weight: 1, mean: 0.2, variance: 0.04 ** 2, response: 0, constant: 1e-6 };
  const client = changeOf([on(0, 100), on(56, 130)], {
    published: { deviation: 0.05, people: 1e9 },
  });
  test("one case, no own response: precisions add up, as on paper", () => {
    // With very many degrees the error stands still; the course is level from the first week.
    const still = { ...client, error: { ...client.error, degreesOfFreedom: 1e9 } };
    const { together, alone, correlation } = clientOutlook([one], still, 12);
    // Prior 0.2 ± 0.04, a change of ln 1.3 ± 0.05·√2.
    const [prior, seen] = [1 / 0.0016, 1 / 0.005];
    const middle = (0.2 * prior + Math.log(1.3) * seen) / (prior + seen);
    expect(together.estimate).toBeCloseTo(middle, 4);
    expect((together.high - together.low) / 2 / 1.96).toBeCloseTo(1 / Math.sqrt(prior + seen), 4);
    expect(alone.estimate).toBeCloseTo(0.2, 6);
    expect(correlation).toBeCloseTo(1, 9);
  });
  test("an own response that does not keep its place tells less of the end", () => {
    const own = { ...one, response: 0.08 };
    const kept = clientOutlook([own], client, 16, { kept: 1 });
    const lost = clientOutlook([own], client, 16, { kept: 0.25 });
    expect(lost.correlation).toBeLessThan(kept.correlation - 0.2);
    expect(lost.together.high - lost.together.low).toBeGreaterThan(
      1.1 * (kept.together.high - kept.together.low),
    );
  });
});

test("the first rule that holds is followed", () => {
  const seen = { call: "within the error", days: 1, below: 0.4, detectable: 0.15 } as const;
  const cases = [
    [{ ...seen, call: "less" as const, below: 0.01 }, "less"],
    [{ ...seen, call: "more" as const, below: 0.99 }, "outside-once"],
    [{ ...seen, days: 2, below: 0.01 }, "below"],
    [{ ...seen, call: "more" as const, days: 2, below: 0.99 }, "more"],
    [{ ...seen, expected: 0.1 }, "too-early"],
    [{ ...seen, expected: 0.2 }, "not-seen"],
    [{ ...seen, days: 2, expected: 0.2 }, "not-seen-twice"],
  ] as const;
  expect(cases.map(([one]) => clientRule(one).id)).toEqual(cases.map(([, id]) => id));
});
