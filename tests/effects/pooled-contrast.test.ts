import { expect, test } from "vitest";
import { effectsFromRows } from "../../src/effects/effects-from-rows.js";
import { standardisedMeanDifference } from "../../src/effects/standardised-mean-difference.js";
import { diong2022 } from "../published/diong-2022.js";
import { expectRelative } from "./agreement.js";
import { rowOf } from "./outcome-row.js";

// The author's numbers agree with the formula to about six decimals; 0.0001 is what the source claims.
const tolerance = 1e-4;

test(`published: 44 of 44 effects and variances through the rows of a file, ${diong2022.cite}`, () => {
  const arm = (index: number, name: "trained" | "control", side: "treated" | "control") => {
    const { before, after, participants } = diong2022.comparisons[index]![side];
    return rowOf({
      line: 2 * index + (name === "trained" ? 2 : 3),
      study: `comparison ${index}`,
      arm: name,
      armKind: name === "trained" ? "other exercise" : "no exercise",
      outcome: "range of motion",
      outcomeFamily: "other",
      statistic: "means at both times",
      preMean: before.mean,
      preSpread: before.deviation,
      postMean: after.mean,
      postSpread: after.deviation,
      nEnd: participants,
    });
  };
  const rows = diong2022.comparisons.flatMap((_, index) => [
    arm(index, "trained", "treated"),
    arm(index, "control", "control"),
  ]);
  const { effects, rowUses } = effectsFromRows(rows, {
    scale: "standardised-mean-difference",
    contrast: "against-control",
    armKinds: ["other exercise"],
    standardisedDifferenceOf: "changes",
    standardisedVarianceForm: "factor-squared",
    smallSampleFactor: "approximate",
  });
  expect(effects).toHaveLength(44);
  expect(rowUses.filter(({ use }) => use === "comparator")).toHaveLength(44);
  effects.forEach((effect, index) => {
    const { estimate, variance } = diong2022.comparisons[index]!;
    expect(Math.abs(Math.abs(effect.estimate) - Math.abs(Number(estimate)))).toBeLessThan(
      tolerance,
    );
    expect(Math.abs(effect.variance - Number(variance))).toBeLessThan(tolerance);
    expect(effect.correlationSource).toBe("not needed");
  });
});

test("identity: over the deviation of the changes it is a standardised difference of change scores", () => {
  const changes = (line: number, changeMean: number, changeSpread: number, nEnd: number) =>
    rowOf({ line, statistic: "change with spread", changeMean, changeSpread, nEnd });
  const control = { ...changes(3, 2, 5, 13), arm: "control", armKind: "no exercise" as const };
  const [effect] = effectsFromRows([changes(2, 12, 6, 11), control], {
    scale: "standardised-mean-change-change-deviation",
    contrast: "against-control",
  }).effects;
  const scores = standardisedMeanDifference(
    { mean: 12, deviation: 6, participants: 11 },
    { mean: 2, deviation: 5, participants: 13 },
  );
  expectRelative(effect!.estimate, scores.estimate, 1e-12);
  expectRelative(effect!.variance, scores.variance, 1e-12);
});
