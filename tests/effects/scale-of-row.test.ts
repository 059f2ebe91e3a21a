/** Kind of evidence: rows written here; what each is, is plain from its words. */
import { expect, test } from "vitest";
import { isScore, scalesOfRows, scoreBounds } from "../../src/effects/scale-of-row.js";
import { rowOf } from "../records/record-table.js";

const pain = rowOf({ outcomeFamily: "symptoms", outcome: "pain 0–10", unit: "points" });
const sprint = rowOf({ outcome: "time of a sprint", unit: "s", higherIs: "worse" });

test("floor and ceiling are those stated, else those written, else the family's word", () => {
  expect(scoreBounds(rowOf({ lowestScore: 1, highestScore: 7 }))).toEqual({
    lowest: 1,
    highest: 7,
  });
  expect(scoreBounds(pain)).toEqual({ lowest: 0, highest: 10 });
  expect(scoreBounds(rowOf({ unit: "mm, 0 to 100" }))).toEqual({ lowest: 0, highest: 100 });
  // a span of angles or of time, a share of the greatest force and a plain count are no score
  for (const words of [
    "torque 20–100°",
    "torque from 0 to 90°",
    "torque 10–100",
    "10.0–100.5 N",
    "rate of torque development 0-10 ms",
    "impulse 0–100 ms",
  ])
    expect(isScore(rowOf({ outcome: words }))).toBe(false);
  expect(isScore(rowOf({ outcomeFamily: "symptoms", outcome: "stiffness", unit: "level" }))).toBe(
    true,
  );
});

test("a ratio where it means something, a fall where lower is better, points where there is a ceiling", () => {
  const force = rowOf();
  const scaleOf = scalesOfRows([force, sprint, pain], "log-ratio-of-means");
  expect([force, sprint, pain].map(scaleOf)).toEqual([
    "log-ratio-of-means",
    "log-ratio-of-means-where-lower-is-better",
    "raw-mean-difference",
  ]);
  const mixed = rowOf({ outcomeFamily: "symptoms", outcome: "function", unit: "0–100" });
  expect(scalesOfRows([pain, mixed], "log-ratio-of-means")(pain)).toBe(
    "standardised-mean-change-baseline-deviation",
  );
  const asked = scalesOfRows([force, sprint, pain], "standardised-mean-difference");
  expect([force, sprint, pain].map(asked)).toEqual(Array(3).fill("standardised-mean-difference"));
});
