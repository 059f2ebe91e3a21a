/** Kinds of evidence: hand arithmetic on a projection made by hand, and identities with what the projection room gives. */
import { describe, expect, test } from "vitest";
import type { Range } from "../../src/projection/three-ranges.js";
import {
  personSentences,
  projectionCourseTable,
  projectionTable,
  rangeWords,
} from "../../src/tables/projection-table.js";
import { longHolds, projected, readySize } from "./sample-projection.js";

const ready = readySize();
const projection = projected(ready, longHolds, { smallestWorthwhilePercent: 4 });

/** A range whose percentages are whole: 10 (5 to 20) per cent. */
const byHand = (low: number, middle: number, high: number): Range => ({
  estimate: Math.log1p(middle / 100),
  low: Math.log1p(low / 100),
  high: Math.log1p(high / 100),
  percent: { estimate: middle, low, high },
  probabilityOfGain: 0.97,
});
const madeByHand = {
  ...projection,
  weeks: 1,
  ranges: {
    average: byHand(5, 10, 15),
    newGroup: byHand(1, 10, 20),
    person: byHand(-10, 10, 33),
  },
};

describe("the three ranges", () => {
  test("stand together, each with words, in percent", () => {
    const table = projectionTable(madeByHand, ready);
    expect(table.rows.map(({ middle, limits, gain }) => [middle, limits, gain])).toEqual([
      ["10.0", "5.0 to 15.0", "97%"],
      ["10.0", "1.0 to 20.0", "97%"],
      ["10.0", "−10.0 to 33.0", "97%"],
    ]);
    expect(table.rows.map(({ range }) => range)).toEqual(rangeWords.map(({ name }) => name));
    for (const { meaning } of table.rows) expect(meaning?.length).toBeGreaterThan(10);
    expect(table.title).toContain("after 1 week,");
  });

  test("a smallest worthwhile gain gets a column of its own; without one there is none", () => {
    const labels = (options: Parameters<typeof projectionTable>[2]) =>
      projectionTable(projection, ready, options).columns.map(({ label }) => label);
    expect(labels({ smallestWorthwhilePercent: 4 })).toContain("Chance of more than 4%");
    expect(labels({}).join()).not.toContain("more than");
    expect(labels({ confidence: 0.8 })).toContain("80% range");
  });

  test("the CSV holds every digit on both scales", () => {
    const { rows, csvColumns } = projectionTable(projection, ready);
    const [first] = rows;
    expect(Number(first?.["logMiddle"])).toBe(projection.ranges.average.estimate);
    expect(Number(first?.["percentLow"])).toBeCloseTo(
      100 * (Math.exp(projection.ranges.average.low) - 1),
      10,
    );
    for (const { key } of csvColumns ?? []) expect(first?.[key], key).toMatch(/\S/);
  });

  test("what a single person's range is made of is said, and what is not known too", () => {
    const words = personSentences(ready).join(" ");
    expect(words).toContain(ready.measurement?.source ?? "?");
    const { measurement: _measurement, ...without } = ready;
    expect(personSentences(without).join(" ")).toContain("too narrow");
  });
});

describe("the course", () => {
  const table = projectionCourseTable(projection, ready);

  test("ends with the projection itself, and says which weeks were studied", () => {
    const last = table.rows.at(-1);
    expect(last?.["weeks"]).toBe("12");
    expect(last?.["average"]).toBe(
      `${projectionTable(projection, ready).rows[0]?.["middle"] ?? ""} (${projectionTable(projection, ready).rows[0]?.["limits"] ?? ""})`,
    );
    for (const { weeks, studied } of table.rows) {
      const week = Number(weeks);
      const inside = week >= ready.weeksStudied.low && week <= ready.weeksStudied.high;
      expect(studied === "yes", `week ${week}`).toBe(inside);
    }
  });

  test("the start is left out, since before training nothing has changed", () => {
    expect(table.rows.some(({ weeks }) => weeks === "0")).toBe(false);
  });
});
