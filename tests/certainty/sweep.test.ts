import { describe, expect, test } from "vitest";
import { crossedWays, singleWays, sweep, type Way } from "../../src/certainty/sweep.js";
import { refusal } from "../../src/errors.js";

const choices = [
  { name: "spread", levels: ["in", "out"] },
  { name: "correlation", levels: ["usual", "low", "high"] },
  { name: "estimator", levels: ["first", "second"] },
] as const;

/** Effects of the levels by hand: the estimate is their sum, the interval one either side. */
const effects = [
  [0, -1.7],
  [1.5, 1.2, 2],
  [0, 0.1],
] as const;
const answerTo = (way: Way) => {
  const estimate = way.reduce((sum, level, place) => sum + effects[place]![level]!, 0);
  return { estimate, interval: { low: estimate - 1, high: estimate + 1 } };
};

describe("every level of every choice with every other", () => {
  const {
    all,
    choices: swept,
    movesMost,
    shown,
    bounds,
    crossed,
    sampled,
  } = sweep(choices, answerTo, { amount: 0.25 });

  test("counts are those of the twelve sums written out", () => {
    // 1.5 1.6 1.2 1.3 2 2.1 and the same less 1.7: −0.2 −0.1 −0.5 −0.4 0.3 0.4
    expect([crossed, sampled, shown.estimate]).toEqual([12, false, 1.5]);
    expect(all).toMatchObject({ ways: 12, answered: 12, sameSign: 8, clear: 6, counts: 8 });
    expect(all.least).toBeCloseTo(-0.5, 12);
    expect(all.most).toBeCloseTo(2.1, 12);
    expect(all.middle).toBeCloseTo((0.4 + 1.2) / 2, 12);
    expect([bounds.low, bounds.high]).toEqual([expect.closeTo(-1.5, 12), expect.closeTo(3.1, 12)]);
  });

  test("what a choice moves is the distance of its levels' means, which a crossing leaves apart", () => {
    expect(swept.map(({ moves }) => moves)).toEqual([
      expect.closeTo(1.7, 12),
      expect.closeTo(0.8, 12),
      expect.closeTo(0.1, 12),
    ]);
    expect(movesMost).toBe("spread");
    expect(swept[1]!.levels.map(({ ways, counts }) => [ways, counts])).toEqual([
      [4, 2],
      [4, 2],
      [4, 4],
    ]);
  });
});

test("ways without an answer are counted as such and stand in no agreement", () => {
  const { all, choices: swept } = sweep(choices, (way) =>
    way[0] === 1 && way[1] === 2 ? refusal("one-study", "one study") : answerTo(way),
  );
  expect(all).toMatchObject({ ways: 12, answered: 10, sameSign: 6, counts: null });
  expect(swept[1]!.levels[2]).toMatchObject({
    ways: 4,
    answered: 2,
    mean: expect.closeTo(2.05, 12) as number,
  });
});

test("of too many ways so many are drawn, each once, the shown one first, the same by the same seed", () => {
  const many = Array.from({ length: 6 }, (_, place) => ({
    name: String(place),
    levels: ["a", "b", "c"],
  }));
  const { ways, crossed } = crossedWays(many, { most: 50, seed: 7 });
  expect([crossed, ways.length]).toEqual([729, 50]);
  expect(new Set(ways.map((way) => way.join())).size).toBe(50);
  expect(ways[0]).toEqual([0, 0, 0, 0, 0, 0]);
  expect(crossedWays(many, { most: 50, seed: 7 }).ways).toEqual(ways);
  expect(crossedWays(many, { most: 50, seed: 8 }).ways).not.toEqual(ways);
});

test("one choice at a time, and the extremes take each choice's lowest and highest level", () => {
  const { single, lowest, highest } = singleWays(choices, (way) => answerTo(way).estimate);
  expect(single.map(({ name, level, way }) => [name, level, way.join("")])).toEqual([
    ["spread", "out", "100"],
    ["correlation", "low", "010"],
    ["correlation", "high", "020"],
    ["estimator", "second", "001"],
  ]);
  expect([lowest, highest]).toEqual([
    [1, 1, 0],
    [0, 2, 1],
  ]);
  // A level that leaves no number is no extreme.
  const some = singleWays(choices, (way) => (way[1] === 1 ? undefined : answerTo(way).estimate));
  expect([some.lowest, some.highest]).toEqual([
    [1, 0, 0],
    [0, 2, 1],
  ]);
});
