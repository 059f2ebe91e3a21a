/** Kinds of evidence: the published schema, and identities between the drawing and the comparison. */
import { describe, expect, test } from "vitest";
import { comparisonFigure } from "../../src/figures/comparison-figure.js";
import {
  compareProtocols,
  type ProtocolComparison,
} from "../../src/projection/compare-protocols.js";
import { sessionTimeline, timelineNeeds } from "../../src/protocol/session-timeline.js";
import { parsePrescription } from "../../src/protocol/written-form.js";
import { longHolds, readySize, shortHolds } from "../tables/sample-projection.js";
import { expectSoundFigure, rowsOf } from "./figure-checks.js";

const ready = readySize();
const compare = (texts: readonly string[], names?: readonly string[]): ProtocolComparison => {
  const answer = compareProtocols(ready, texts.map(parsePrescription), {
    ...(names === undefined ? {} : { names }),
  });
  if (answer.kind === "refusal") throw new Error(answer.reason);
  return answer;
};
const timelinesOf = ({ protocols }: ProtocolComparison) =>
  protocols.map(({ prescription }) =>
    timelineNeeds(prescription).length > 0 ? undefined : sessionTimeline(prescription),
  );

const long =
  "A protocol with a name that reaches past every margin anybody could think of, version ";
const six = compare(
  [
    longHolds,
    shortHolds,
    longHolds,
    "20 x 6 s at 70%, rest 30 s, 3/week, 12 weeks, middle, knee",
    "6 x 10 s, maximal, rest 60 s, 3/week, 12 weeks, knee",
    "4 x 20 s at 50%, 3/week, 12 weeks, knee",
  ],
  [1, 2, 3, 4, 5, 6].map((index) => `${long}${index}`),
);
const two = compare([longHolds, shortHolds]);

describe.each([
  ["two, wide", two, "wide"],
  ["two, narrow", two, "narrow"],
  ["six with long names, wide", six, "wide"],
  ["six with long names, narrow", six, "narrow"],
] as const)("%s", (_, comparison, layout) => {
  const figure = comparisonFigure({
    comparison,
    prepared: ready,
    timelines: timelinesOf(comparison),
    layout,
  });

  test("is sound, with a row a protocol, names whole in the data", () => {
    expectSoundFigure(figure);
    expect(figure.data.map(({ protocol }) => protocol)).toEqual(
      comparison.protocols.map(({ name }) => name),
    );
  });

  test("draws three nested bars for each protocol, on one axis", () => {
    const bars = (style: string) => rowsOf(figure, `comparison: gains, ${style}`);
    const person = bars("person");
    expect(person).toHaveLength(comparison.protocols.length);
    bars("average").forEach((bar, row) => {
      expect(bar.x).toBeGreaterThan(person[row]?.x ?? Infinity);
      expect(bar.x2).toBeLessThan(person[row]?.x2 ?? 0);
    });
    // Equal steps of the log ratio are equal steps along: the slope is the same for every bar.
    const slopes = comparison.protocols.map(({ projection: { ranges } }, row) => {
      const bar = person[row];
      return ((bar?.x2 ?? 0) - (bar?.x ?? 0)) / (ranges.person.high - ranges.person.low);
    });
    for (const slope of slopes) expect(slope).toBeCloseTo(slopes[0] ?? 0, 6);
  });

  test("a difference is turned to say what the row gives beyond the first", () => {
    const [pair] = comparison.differences;
    expect(figure.data[1]?.["overFirstLogRatio"]).toBeCloseTo(-(pair?.average.estimate ?? 0), 12);
    expect(figure.data[1]?.["probabilityBetterThanFirst"]).toBeCloseTo(
      1 - (pair?.probabilityFirstBetter ?? 0),
      12,
    );
    expect(figure.data[0]?.["overFirstLogRatio"]).toBe(null);
  });

  test("nothing stands beyond the edge", () => {
    const { hconcat } = figure.specification as unknown as {
      hconcat: readonly { width: number; height: number }[];
    };
    const [panel] = hconcat;
    for (const name of ["names", "prescriptions", "difference words", "other numbers"])
      for (const { x, y } of rowsOf(figure, `comparison: ${name}`)) {
        expect(x).toBeGreaterThanOrEqual(0);
        expect(x).toBeLessThan(panel?.width ?? 0);
        expect(y).toBeLessThan(panel?.height ?? 0);
      }
  });
});

test("the same protocol twice has no bar of difference and is said to be the same", () => {
  const twice = compare([longHolds, longHolds]);
  const figure = comparisonFigure({
    comparison: twice,
    prepared: ready,
    timelines: timelinesOf(twice),
  });
  expectSoundFigure(figure);
  expect(rowsOf(figure, "comparison: differences")).toHaveLength(0);
  expect(rowsOf(figure, "comparison: difference numbers").map(({ text }) => text)).toEqual([
    "the same protocol",
  ]);
});

test("a pair that cannot be told apart has words and no bar", () => {
  const rested = compare([longHolds, longHolds.replace("rest 90 s", "rest 120 s")]);
  const figure = comparisonFigure({
    comparison: rested,
    prepared: ready,
    timelines: timelinesOf(rested),
  });
  expectSoundFigure(figure);
  expect(rowsOf(figure, "comparison: differences")).toHaveLength(0);
  expect(rowsOf(figure, "comparison: difference numbers").map(({ text }) => text)).toEqual([
    "cannot be told apart",
  ]);
});

test("sessions that do not match the protocols are refused", () => {
  expect(() => comparisonFigure({ comparison: two, prepared: ready, timelines: [] })).toThrow(
    /2 sessions/,
  );
});
