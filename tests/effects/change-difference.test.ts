import { expect, test } from "vitest";
import {
  changeDifferenceByPooledChangeDeviation,
  changeDifferenceByPooledPostDeviation,
} from "../../src/effects/change-difference.js";
import { effectsFromRows } from "../../src/effects/effects-from-rows.js";
import { standardisedMeanDifference } from "../../src/effects/standardised-mean-difference.js";
import { diong2022 } from "../published/diong-2022.js";
import { expectRelative } from "./agreement.js";
import { rowOf } from "./outcome-row.js";

// The author's numbers agree with the formula to about six decimals; 0.0001 is what the source claims.
const tolerance = 1e-4;

test(`published: 44 of 44 effects and variances, ${diong2022.cite}`, () => {
  const agreeing = diong2022.comparisons.filter(({ treated, control, estimate, variance }) => {
    const result = changeDifferenceByPooledPostDeviation(
      { ...treated, correlation: 0.5 },
      { ...control, correlation: 0.5 },
      { varianceForm: "factor-squared", smallSample: "approximate" },
    );
    return (
      Math.abs(Math.abs(result.estimate) - Math.abs(Number(estimate))) <= tolerance &&
      Math.abs(result.variance - Number(variance)) <= tolerance
    );
  });
  expect(diong2022.comparisons).toHaveLength(44);
  expect(agreeing).toHaveLength(44);
});

test("published: the same 44 through the rows of a file", () => {
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
  const treated = { meanChange: 12, changeDeviation: 6, participants: 11 };
  const control = { meanChange: 2, changeDeviation: 5, participants: 13 };
  const group = (arm: typeof treated) => ({
    mean: arm.meanChange,
    deviation: arm.changeDeviation,
    participants: arm.participants,
  });
  const one = changeDifferenceByPooledChangeDeviation(treated, control);
  const other = standardisedMeanDifference(group(treated), group(control));
  expectRelative(one.estimate, other.estimate, 1e-12);
  expectRelative(one.variance, other.variance, 1e-12);
  expect(one.scale).toBe("standardised-mean-change-change-deviation");
});
