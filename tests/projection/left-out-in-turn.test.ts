import { describe, expect, test } from "vitest";
import { condensedMixture, scaledMixture } from "../../src/projection/condensed-posterior.js";
import { mixtureQuantile } from "../../src/projection/normal-mixture.js";
import {
  prepareProjection,
  type PrepareProjectionOptions,
  type ReadyProjection,
} from "../../src/projection/prepare-projection.js";
import { weeksCurve } from "../../src/projection/weeks-curve.js";
import { handMadeRegister, quickOptions, registerPairs } from "./hand-made-register.js";

const fitted = (
  written: typeof registerPairs,
  options: Partial<PrepareProjectionOptions>,
): ReadyProjection => {
  // without the column of studies' means, which a study left out takes with it
  const prepared = prepareProjection(handMadeRegister(written), {
    ...quickOptions,
    priors: { contextualDeviation: 0 },
    ...options,
  });
  if (prepared.kind !== "ready") throw new Error(prepared.reason);
  return prepared;
};

// Doses at both ends stand in several studies, so that the shapes' span stays where it is without any of them.
describe.each([
  ["all shapes", {}, 0.006],
  ["one shape", { shapes: ["logarithm"] }, 0.004],
] as const)(
  "each trial left out, against a file fitted without it: %s",
  (_, options, tolerance) => {
    const whole = fitted(registerPairs, options);

    test.each(whole.leftOut.trials.map((trial) => [trial.study, trial] as const))(
      "%s",
      (study, trial) => {
        const own = registerPairs.filter((one) => one.study === study);
        const others = fitted(
          registerPairs.filter((one) => one.study !== study),
          options,
        );
        expect(trial.arms).toHaveLength(2);
        trial.arms.forEach((arm, i) => {
          const { row, estimate, variance } = own[i]!;
          expect(arm.found).toBe(estimate);
          const { row: place } = others.design.place({
            prescription: {
              sets: 4,
              repetitions: 5,
              holdSeconds: 6,
              intensityPercent: row!.intensityPercent!,
            },
          });
          const { parameters, groupDeviations } = others.posterior;
          const factors = parameters.map((constant) => weeksCurve(row!.weeks!, constant));
          const average = scaledMixture(condensedMixture(others.posterior, place), factors);
          const predicted = {
            ...average,
            deviations: average.deviations.map((deviation, k) =>
              Math.sqrt(deviation ** 2 + (factors[k]! * groupDeviations[k]!) ** 2 + variance),
            ),
          };
          const refitted = [0.025, 0.5, 0.975].map((p) => mixtureQuantile(predicted, p));
          // The range is about 0.25 wide; what is left is that components are few.
          [arm.low, arm.estimate, arm.high].forEach((value, k) =>
            expect(Math.abs(value - refitted[k]!)).toBeLessThan(tolerance),
          );
          expect(arm.inside).toBe(arm.low <= estimate && estimate <= arm.high);
        });
        // the trial itself is the mean of its arms, less uncertain than each
        expect(trial.found).toBeCloseTo((own[0]!.estimate + own[1]!.estimate) / 2, 12);
        expect(trial.high - trial.low).toBeLessThan(trial.arms[0]!.high - trial.arms[0]!.low);
      },
    );
  },
);

test("a trial far from all others falls outside, and is counted", () => {
  const moved = registerPairs.map((one) =>
    one.study === "Elm" ? { ...one, estimate: one.estimate + 0.6 } : one,
  );
  const { leftOut } = fitted(moved, {});
  const outside = leftOut.trials.filter(({ inside }) => !inside).map(({ study }) => study);
  expect(outside).toEqual(["Elm"]);
  expect(leftOut.inside).toBe(7);
  expect(leftOut.expected).toBeCloseTo(7.6, 12);
  // eight trials: six or more with 99.4%, seven or more with 94.3% (binomial, by hand)
  expect(leftOut.usual).toEqual({ low: 6, high: 8 });
});
