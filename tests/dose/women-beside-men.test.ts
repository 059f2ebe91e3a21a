/** Kind of evidence: rows made by hand, whose arms are counted by eye. */
import { expect, test } from "vitest";
import { doseAxes } from "../../src/dose/dose-axes.js";
import { doseData } from "../../src/dose/dose-data.js";
import { equalTensionDefaults } from "../../src/dose/equal-tension.js";
import { equalTensionPairs } from "../../src/dose/equal-tension-pairs.js";
import { handMadeSet, sessionOf } from "./hand-made-set.js";

const arm = (study: string, name: string, holdSeconds: number, femalePercent?: number) => ({
  ...{ study, arm: name, estimate: 0.1, variance: 0.01 },
  row: {
    ...sessionOf(4, 120 / holdSeconds / 4, holdSeconds),
    ...(femalePercent === undefined ? {} : { femalePercent }),
  },
});

test("a dose says of which studies the arms it sets against each other are of women and of men", () => {
  const set = handMadeSet([
    ...[arm("Apart", "women", 3, 100), arm("Apart", "men", 30, 0)],
    ...[arm("One dose", "women", 5, 100), arm("One dose", "men", 5, 0)],
    ...[arm("Mixed", "short", 3, 60), arm("Mixed", "long", 30, 40)],
    ...[arm("Unsaid", "short", 3, 100), arm("Unsaid", "long", 30)],
  ]);
  const notes = doseData(set, doseAxes.holdSeconds).notes;
  expect(notes.filter(({ code }) => code === "women-beside-men").map((one) => one.message)).toEqual(
    [
      "arms of women stand beside arms of men inside Apart: who they are is part of what doses differ by there",
    ],
  );
  const { pairs } = equalTensionPairs(set, "hold length", "tension time", equalTensionDefaults);
  expect(pairs.map(({ study, alsoDiffer }) => [study, alsoDiffer])).toEqual([
    ["Apart", ["who trained (women, men)"]],
    ["Mixed", []],
    ["Unsaid", []],
  ]);
});
