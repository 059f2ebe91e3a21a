/** Kinds of evidence: the published schema, and identities between the drawing and the comparison. */
import { describe, expect, test } from "vitest";
import { comparisonFigure } from "../../src/figures/comparison-figure.js";
import {
  compareProtocols,
  type ProtocolComparison,
} from "../../src/projection/compare-protocols.js";
import { roomOf } from "../../src/figures/frame.js";
import { sessionTimeline, timelineNeeds } from "../../src/protocol/session-timeline.js";
import { parsePrescription } from "../../src/protocol/written-form.js";
import { longHolds, readySize, shortHolds } from "../tables/sample-projection.js";
import { expectSoundFigure, rowsOf } from "./figure-checks.js";

type NestedRow = Readonly<{ kind: string; x: number; x2?: number; y: number; y2?: number }>;

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
  ["two, page", two, "page"],
  ["two, column", two, "column"],
  ["six with long names, page", six, "page"],
  ["six with long names, slide", six, "slide"],
] as const)("%s", (_, comparison, size) => {
  const figure = comparisonFigure(
    { comparison, prepared: ready, timelines: timelinesOf(comparison) },
    roomOf(size),
  );

  test("is sound, with a row a protocol, names whole in the data", () => {
    expectSoundFigure(figure);
    expect(figure.data.map(({ protocol }) => protocol)).toEqual(
      comparison.protocols.map(({ name }) => name),
    );
  });

  test("draws three nested bars for each protocol, in percent on one axis", () => {
    const bars = rowsOf(figure, "gains: ranges") as readonly NestedRow[];
    const of = (kind: string) => bars.filter((bar) => bar.kind === kind);
    comparison.protocols.forEach(({ projection: { ranges } }, row) => {
      const [person, average] = [of("a single person")[row]!, of("the average")[row]!];
      // The drawing's percent out of the projection's log ratio: 100 (e^x - 1).
      expect(person.x).toBeCloseTo(100 * (Math.exp(ranges.person.low) - 1), 9);
      expect(person.x2).toBeCloseTo(100 * (Math.exp(ranges.person.high) - 1), 9);
      expect(average.x).toBeGreaterThan(person.x);
      expect(average.x2).toBeLessThan(person.x2!);
      expect(average.y).toBeGreaterThan(person.y);
      expect(average.y2).toBeLessThan(person.y2!);
    });
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
});

test("the same protocol twice has no bar of difference and is said to be the same", () => {
  const twice = compare([longHolds, longHolds]);
  const figure = comparisonFigure({
    comparison: twice,
    prepared: ready,
    timelines: timelinesOf(twice),
  });
  expectSoundFigure(figure);
  expect(rowsOf(figure, "differences: ranges")).toHaveLength(0);
  expect(rowsOf(figure, "differences: pooled-strong").map(({ text }) => text)).toEqual([
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
  expect(rowsOf(figure, "differences: ranges")).toHaveLength(0);
  expect(rowsOf(figure, "differences: pooled-strong").map(({ text }) => text)).toEqual([
    "cannot be told apart",
  ]);
});

test("sessions that do not match the protocols are refused", () => {
  expect(() => comparisonFigure({ comparison: two, prepared: ready, timelines: [] })).toThrow(
    /2 sessions/,
  );
});
