import { describe, expect, test } from "vitest";
import { readTable } from "../../src/csv/read-table.js";
import { demoRegisterCsv } from "../../src/demo/demo-register-csv.js";
import {
  individualResponse,
  responseComparisons,
} from "../../src/projection/individual-response.js";
import { readRecords } from "../../src/records/read-records.js";

const pair = (trained: number, control: number, n = 20) => ({
  study: "Ash",
  trained: [{ variance: trained, participants: n }],
  control: { variance: control, participants: n },
});

describe("the signed root of the difference of variances", () => {
  test("20 a group, deviations of 5 and 3: 4.0, −0.95 to 5.74", () => {
    // SD_IR² = 25 − 9 = 16; SE = √(2[625/19 + 81/19]) = 8.62, by hand; on the log scale a hundredth of each
    const { signedDeviation } = individualResponse([pair(0.0025, 0.0009)], 0.1);
    expect(100 * signedDeviation!.estimate).toBeCloseTo(4, 6);
    expect(100 * signedDeviation!.low).toBeCloseTo(-0.95, 1);
    expect(100 * signedDeviation!.high).toBeCloseTo(5.74, 2);
  });

  test("stays negative where controls varied more: −17.67 for deviations of 3.7 and 5.6", () => {
    // Williamson and others (2016), variance of people's response 3.7² − 5.6² (their people are more than ours)
    const { signedDeviation, deviation, interval } = individualResponse(
      [pair(0.037 ** 2, 0.056 ** 2)],
      0.1,
    );
    expect(signedDeviation!.estimate).toBeCloseTo(-Math.sqrt(17.67) / 100, 4);
    // the posterior cannot be negative, and says so by lying near zero
    expect(interval.low).toBeLessThan(0.002);
    expect(deviation).toBeLessThan(0.02);
  });
});

describe("the posterior", () => {
  test("without a comparison is the prior: median 0.6745 and limits of a half-normal", () => {
    const { deviation, interval, source, controlDeviation } = individualResponse([], 0.1);
    expect(deviation / 0.1).toBeCloseTo(0.6745, 1);
    expect(interval.high / 0.1).toBeCloseTo(2.2414, 1);
    expect(source).toBe("the prior alone");
    expect(controlDeviation).toBeUndefined();
  });

  test("its points keep the prior's mean square", () => {
    const square = individualResponse([], 0.1).points.reduce(
      (sum, { weight, deviation }) => sum + weight * deviation ** 2,
      0,
    );
    expect(square).toBeCloseTo(0.01, 4);
  });

  test("closes in on the truth as comparisons add up", () => {
    const many = individualResponse(
      Array.from({ length: 40 }, () => pair(0.0114, 0.005, 30)),
      0.1,
    );
    // 0.0114 − 0.005 = 0.08²
    expect(many.deviation).toBeCloseTo(0.08, 2);
    expect(many.interval.low).toBeGreaterThan(0.07);
    expect(many.interval.high).toBeLessThan(0.09);
    expect(many.controlDeviation).toBeCloseTo(Math.sqrt(0.005), 9);
  });
});

test("comparisons of the demonstration register: one a cohort, printed spreads only", () => {
  const { rows } = readRecords(readTable(demoRegisterCsv()));
  const strength = rows.filter(({ outcomeFamily }) => outcomeFamily === "strength");
  const found = responseComparisons(strength);
  expect(found.length).toBeGreaterThan(3);
  expect(new Set(found.map(({ study }) => study)).size).toBe(found.length);
  for (const { trained, control } of found)
    for (const { variance, participants } of [...trained, control]) {
      expect(variance).toBeGreaterThan(0);
      expect(participants).toBeGreaterThan(1);
    }
  expect(responseComparisons(strength.filter(({ armKind }) => armKind === "isometric"))).toEqual(
    [],
  );
});
