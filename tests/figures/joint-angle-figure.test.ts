/** Kinds of evidence: the published schema, and identities between the drawing and the answer. */
import { describe, expect, test } from "vitest";
import { jointAngle } from "../../src/dose/joint-angle.js";
import { hasAngles, jointAngleFigure } from "../../src/figures/joint-angle-figure.js";
import { randomStream } from "../../src/numeric/random-stream.js";
import { handMadeSet } from "../dose/hand-made-set.js";
import { simulatedSet, type SimulatedArm } from "../dose/simulated-set.js";
import { expectSoundFigure, rowsOf } from "./figure-checks.js";

const arms: Readonly<Record<"short" | "middle" | "long", SimulatedArm>> = {
  short: {
    arm: "short",
    muscleLength: "short",
    trainingAngle: 40,
    testAngles: [30, 40, 55, 70, 90],
    weeks: [8],
  },
  middle: {
    arm: "middle",
    muscleLength: "middle",
    trainingAngle: 65,
    testAngles: [40, 65, 90],
    weeks: [8],
  },
  long: {
    arm: "long",
    muscleLength: "long",
    trainingAngle: 90,
    testAngles: [30, 50, 70, 90, 100],
    weeks: [8],
  },
};

const made = (studies: number, ...lengths: readonly (keyof typeof arms)[]) => {
  const set = simulatedSet(
    Array.from({ length: studies }, (_, number) => ({
      study: `S${number}`,
      arms: lengths.map((length) => arms[length]),
    })),
    randomStream(11),
  );
  const answer = jointAngle(set);
  return { answer, figure: jointAngleFigure({ answer, family: "strength", scale: set.scale }) };
};

describe.each([
  ["three lengths", made(6, "short", "middle", "long")],
  ["short and long", made(6, "short", "long")],
  ["one length", made(6, "short")],
  ["one study", made(1, "short", "long")],
] as const)("%s", (_name, { figure, answer }) => {
  test("is sound, with a column and every effect for each length", () => {
    expectSoundFigure(figure);
    for (const { muscleLength, points } of answer.lengths)
      expect(rowsOf(figure, `carry-over ${muscleLength}: effects`)).toHaveLength(points.length);
  });

  test("the bar of the width lies at half the level, from limit to limit", () => {
    for (const { muscleLength, halfWidth, level } of answer.lengths) {
      const name = `carry-over ${muscleLength}: interval of the width`;
      if (halfWidth.kind === "refusal" || level.kind === "refusal") {
        expect(JSON.stringify(figure.specification)).not.toContain(name);
        continue;
      }
      const [bar] = rowsOf(figure, name);
      expect((bar!.y + bar!.y2!) / 2).toBeCloseTo(level.estimate / 2, 12);
      expect(bar!.x).toBeCloseTo(halfWidth.interval.low ?? 0, 12);
      expect(bar!.x2!).toBeLessThanOrEqual((halfWidth.interval.high ?? Infinity) + 1e-12);
      const [tick] = rowsOf(figure, `carry-over ${muscleLength}: width`);
      expect((tick!.x + tick!.x2!) / 2).toBeCloseTo(halfWidth.degrees, 9);
    }
  });

  test("the average of the angles stands beside each", () => {
    for (const { muscleLength, average } of answer.lengths) {
      if (average.kind === "refusal") continue;
      const [tick] = rowsOf(figure, `carry-over ${muscleLength}: average`);
      expect((tick!.y + tick!.y2!) / 2).toBeCloseTo(average.estimate, 12);
    }
  });
});

test("a length that cannot be told shows its reason instead of a curve", () => {
  const { figure } = made(1, "short");
  const words = rowsOf(figure, "head short: answer").map(({ text }) => text);
  expect(words.join(" ")).toContain("No width: 1 study with training at short muscle length");
  expect(rowsOf(figure, "carry-over short: curve")).toEqual([]);
});

test("without a test away from the trained angle there is nothing to draw", () => {
  const answer = jointAngle(handMadeSet([]));
  expect(hasAngles(answer)).toBe(false);
  expect(() =>
    jointAngleFigure({ answer, family: "strength", scale: "log-ratio-of-means" }),
  ).toThrow(/two distances or more/);
});
