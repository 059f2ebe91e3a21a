import { describe, expect, test } from "vitest";
import { CallError } from "../../src/errors.js";
import { rangeOf, threeRanges, type RangeParts } from "../../src/projection/three-ranges.js";
import { expectPrinted } from "../effects/agreement.js";

const one = (value: number): Float64Array => Float64Array.of(value);

/** Everything known but the average: the arithmetic can be done by hand. */
const known: RangeParts = {
  average: { weights: one(1), means: one(Math.log(1.18)), deviations: one(0.03) },
  groupDeviations: one(0.08),
  responseFactors: one(1),
  response: [{ weight: 1, deviation: 0.1 }],
  measurementDeviation: 0,
};

describe("ranges from a log ratio, worked by hand", () => {
  // ln 1.18 with error 0.03, spread of groups 0.08, of people 0.10: 100(exp(ln 1.18 ± 1.96·√(sum of squares)) − 1)
  const ranges = threeRanges(known, { smallestWorthwhilePercent: 10 });
  test.each([
    ["average", ranges.average, ["11.26", "25.15"]],
    ["new group", ranges.newGroup, ["-0.19", "39.51"]],
    ["person", ranges.person, ["-8.81", "52.70"]],
  ] as const)("%s", (_, range, [low, high]) => {
    expect(range.percent.estimate).toBeCloseTo(18, 6);
    expectPrinted(range.percent.low, low);
    expectPrinted(range.percent.high, high);
  });
  test("probability of a person's gain above 10%", () => {
    expectPrinted(ranges.person.probabilityWorthwhile!, "0.7032");
  });
  test("probability of any gain on average", () => {
    expect(ranges.average.probabilityOfGain).toBeGreaterThan(0.9999);
  });
});

test.each([0.02, 0.05, 0.16])(
  "a person's range is at least what two measurements with error %d scatter by",
  (error) => {
    const { person } = threeRanges({
      ...known,
      response: [{ weight: 1, deviation: 0 }],
      groupDeviations: one(0),
      measurementDeviation: error,
    });
    const least = 2 * 1.959963984540054 * Math.SQRT2 * error;
    expect(person.high - person.low).toBeGreaterThanOrEqual(least);
    // average error 0.03 and two measurements, by hand
    expect(person.high - person.low).toBeCloseTo(
      2 * 1.959963984540054 * Math.hypot(0.03, Math.SQRT2 * error),
      6,
    );
  },
);

test("before any training nothing has changed, and a person's test still scatters", () => {
  const start = threeRanges({
    ...known,
    average: { ...known.average, means: one(0), deviations: one(0) },
    groupDeviations: one(0),
    responseFactors: one(0),
    measurementDeviation: 0.05,
  });
  expect([start.average.low, start.average.high, start.newGroup.high]).toEqual([0, 0, 0]);
  expect(start.person.high).toBeCloseTo(1.959963984540054 * Math.SQRT2 * 0.05, 6);
});

test("uncertainty about the spread of people widens their range beyond its mean square", () => {
  const spread = (response: RangeParts["response"]) => {
    const { person } = threeRanges({ ...known, response });
    return person.high - person.low;
  };
  const sure = spread([{ weight: 1, deviation: 0.2 }]);
  const unsure = spread([
    { weight: 0.5, deviation: 0.02 },
    { weight: 0.5, deviation: Math.sqrt(0.08 - 0.0004) },
  ]);
  expect(unsure).toBeGreaterThan(sure);
});

test("a higher confidence makes a wider range", () => {
  const width = (confidence: number) => {
    const { low, high } = rangeOf(known.average, { confidence });
    return high - low;
  };
  expect(width(0.99)).toBeGreaterThan(width(0.8));
  expect(() => rangeOf(known.average, { confidence: 1 })).toThrow(CallError);
});
