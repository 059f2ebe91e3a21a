/** Simulated trials whose truth is known; the tolerance of a share of N registers is three binomial deviations. */
import { expect, test } from "vitest";
import { doseResponse } from "../../src/dose/dose-response.js";
import { withinBetweenSlope } from "../../src/dose/within-between-slope.js";
import { doseDataOf } from "../../src/dose/dose-data.js";
import { withinBetweenSlopeOf } from "../../src/dose/within-between-slope.js";
import { doseAxes } from "../../src/dose/dose-axes.js";
import { simulateEffects } from "../demo/simulate-effects.js";
import { randomStream } from "../../src/numeric/random-stream.js";
import { mean } from "simple-statistics";
import { doseTrials } from "./dose-trials.js";

const holds = (interval: Readonly<{ low: number; high: number }>, value: number): boolean =>
  interval.low <= value && value <= interval.high;

test("slopes within and between studies of the demonstration truth are both recovered, and covered", () => {
  const stream = randomStream(61);
  const truth = { within: 0.03, between: -0.02 };
  const answers = Array.from({ length: 60 }, () => {
    const { effects, covariances } = simulateEffects(
      { studies: 16, arms: [2, 3], effects: [1, 2], line: truth },
      stream,
    );
    return withinBetweenSlopeOf(
      doseDataOf({
        axis: doseAxes.intensityPercent,
        effects,
        covariances,
        doses: effects.map(({ moderators }) => moderators["dose"] as number),
      }),
    );
  });
  for (const [part, value] of [
    ["within", truth.within],
    ["between", truth.between],
    ["difference", truth.between - truth.within],
  ] as const) {
    const slopes = answers.flatMap((answer) =>
      answer[part].kind === "told" ? [answer[part].robust] : [],
    );
    expect(slopes).toHaveLength(60);
    const estimates = slopes.map(({ estimate }) => estimate);
    const error = Math.sqrt(mean(estimates.map((e) => (e - mean(estimates)) ** 2)) / 60);
    expect(Math.abs(mean(estimates) - value)).toBeLessThan(3.5 * error);
    // 95 % of 60 less three deviations of a share of 60
    expect(slopes.filter(({ interval }) => holds(interval, value)).length).toBeGreaterThanOrEqual(
      51,
    );
  }
});

test("confounding between studies alone makes no slope within them, and the difference shows it", () => {
  const stream = randomStream(52);
  const answers = Array.from({ length: 50 }, () =>
    withinBetweenSlope(
      doseTrials(stream, { studies: 14, arms: [2, 3], gain: () => 0.15, confounding: 0.006 }).set,
      "intensityPercent",
    ),
  );
  const found = (part: "within" | "between" | "difference"): number =>
    answers.filter((answer) => answer[part].kind === "told" && answer[part].robust.p < 0.05).length;
  // 5 % of 50 and three deviations of a share of 50
  expect(found("within")).toBeLessThanOrEqual(7);
  expect(found("between")).toBeGreaterThan(40);
  expect(found("difference")).toBeGreaterThan(35);
});

test("doses that vary between studies only: the answer rests on studies, and says so", () => {
  const { set } = doseTrials(randomStream(4), { studies: 14, arms: [2, 2], sameWithin: true });
  const slope = withinBetweenSlope(set, "intensityPercent");
  expect(slope.within.kind === "told").toBe(false);
  expect(slope.within.kind === "told" ? "" : slope.within.reason).toBe(
    "no study with a weight compares arms that differ in intensity; at least 3 are needed",
  );
  expect(slope.between.kind === "told").toBe(true);
  expect(slope.difference.kind === "told").toBe(false);
  const curve = doseResponse(set, "intensityPercent");
  if (curve.kind === "refusal") throw new Error(curve.reason);
  expect(curve.evidence).toBe("between studies only");
  expect(curve.evidenceWords).toMatch(/rests on differences between 14 studies only/);
});

test("identities: units of the dose do not matter, nor does the order of the effects", () => {
  const { set } = doseTrials(randomStream(9));
  const effects = set.effects.map(({ effectId, study, arm, estimate, variance }) => ({
    effectId,
    study,
    arm: `${study} ${arm}`,
    estimate,
    variance,
  }));
  const doses = set.effects.map(({ row }) => row.intensityPercent!);
  const axis = doseAxes.intensityPercent;
  const covariances = set.blocks.map(({ indices, values }) => ({ indices, values }));
  const slopeOf = (answer: ReturnType<typeof withinBetweenSlopeOf>) => {
    if (answer.within.kind === "refusal") throw new Error(answer.within.reason);
    return answer.within.robust;
  };
  const base = slopeOf(withinBetweenSlopeOf(doseDataOf({ axis, effects, covariances, doses })));
  const scaled = slopeOf(
    withinBetweenSlopeOf(
      doseDataOf({ axis, effects, covariances, doses: doses.map((dose) => dose * 60 + 7) }),
    ),
  );
  expect(scaled.estimate * 60).toBeCloseTo(base.estimate, 8);
  expect(scaled.p).toBeCloseTo(base.p, 5);
  const last = effects.length - 1;
  const turned = slopeOf(
    withinBetweenSlopeOf(
      doseDataOf({
        axis,
        effects: [...effects].reverse(),
        covariances: covariances.map(({ indices, values }) => ({
          indices: indices.map((index) => last - index),
          values,
        })),
        doses: [...doses].reverse(),
      }),
    ),
  );
  expect(turned.estimate).toBeCloseTo(base.estimate, 8);
  expect(turned.standardError).toBeCloseTo(base.standardError, 8);
});
