import { describe, expect, it } from "vitest";
import { demoScores } from "../../src/demo/demo-people.js";
import { demoStudies } from "../../src/demo/demo-studies.js";
import { demoTruthDefaults as truth, demoFamilies } from "../../src/demo/demo-truth.js";
import { impliedSpread } from "./simulate-effects.js";
import { mean, sampleVariance } from "simple-statistics";

// Against the known truth: what the samples estimate must be what the truth says, within Monte Carlo error.
const scores = Array.from({ length: 12 }, (_, index) => demoStudies(30, 500 + index))
  .flat()
  .flatMap((study) => demoScores(study, truth));

describe("people of the invented register", () => {
  it.each(demoFamilies)("%s: sample ratios of means centre on the true gain", (family) => {
    // one reading an arm: readings of one arm share their people
    const firsts = scores.filter(
      (score, index) => score.family === family && score.arm !== scores[index - 1]?.arm,
    );
    const errors = firsts.map(
      (score) =>
        Math.log(mean(score.post) / mean(score.pre)) * truth.families[family].direction -
        score.trueGain,
    );
    const monteCarlo = Math.sqrt(sampleVariance(errors) / errors.length);
    expect(errors.length).toBeGreaterThan(50);
    expect(Math.abs(mean(errors)), `bias ${mean(errors)} of ${errors.length}`).toBeLessThan(
      3.5 * monteCarlo,
    );
  });

  it.each(demoFamilies)("%s: log changes scatter as the truth implies", (family) => {
    for (const trained of [true, false]) {
      const ratios = scores
        .filter((score) => score.family === family)
        .filter((score) => (score.arm.kind !== "no exercise") === trained)
        .map((score) =>
          sampleVariance(
            score.post.map((value, index) => Math.log(value / (score.pre[index] ?? value))),
          ),
        )
        .map((variance) => variance / impliedSpread(truth, family, trained).change ** 2);
      expect(mean(ratios), `${ratios.length} samples`).toBeGreaterThan(0.9);
      expect(mean(ratios), `${ratios.length} samples`).toBeLessThan(1.1);
    }
  });

  it("study and arm deviations have the sizes of the truth", () => {
    const deviations = scores
      .filter((score) => score.family === "strength" && score.arm.kind !== "no exercise")
      .map((score) => score.trueGain - score.curveGain);
    const of = truth.families.strength;
    const total = of.studyDeviation ** 2 + of.armDeviation ** 2 + of.effectDeviation ** 2;
    expect(sampleVariance(deviations) / total).toBeGreaterThan(0.75);
    expect(sampleVariance(deviations) / total).toBeLessThan(1.25);
  });
});
