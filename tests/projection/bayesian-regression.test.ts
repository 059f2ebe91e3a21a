import { describe, expect, test } from "vitest";
import { CallError, ConvergenceError } from "../../src/errors.js";
import { matrixOf } from "../../src/numeric/matrix.js";
import { randomStream } from "../../src/numeric/random-stream.js";
import {
  bayesianRegression,
  type RegressionPosterior,
  type RegressionPriors,
  type RegressionProblem,
} from "../../src/projection/bayesian-regression.js";
import {
  mixtureMoments,
  mixtureProbability,
  mixtureQuantile,
} from "../../src/projection/normal-mixture.js";
import { posteriorMixture } from "../../src/projection/posterior-mixture.js";
import { fitMultilevel } from "../../src/synthesis/fit-multilevel.js";
import { expectPrinted } from "../effects/agreement.js";
import { randomEffects } from "../synthesis/random-effects.js";
import { eightSchools } from "./eight-schools.js";

const flat = { mean: 0, deviation: Infinity } as const;

const averageOf = (posterior: RegressionPosterior, row: readonly number[] = [1]) =>
  posteriorMixture(posterior, row);

/** Effects one to a group, with an intercept alone. */
const simpleProblem = (
  estimates: readonly number[],
  variances: readonly number[],
): RegressionProblem => ({
  estimates,
  variances,
  covariances: [],
  design: matrixOf(estimates.map(() => [1])),
  intercepts: [{ name: "study", groupOf: estimates.map((_, i) => i) }],
});

const meanOver = (posterior: RegressionPosterior, of: (deviation: number) => number): number =>
  posterior.weights.reduce(
    (sum, weight, point) => sum + weight * of(posterior.deviations[point]!),
    0,
  );

describe("eight schools, flat on the average and on the spread", () => {
  const { estimates, standardErrors } = eightSchools;
  const posterior = bayesianRegression(
    simpleProblem(
      estimates,
      standardErrors.map((error) => error ** 2),
    ),
    { coefficients: [flat], deviations: [{ kind: "flat", scale: 10 }] },
  );

  test("average and spread, as integrated by base R to the digits printed", () => {
    // Base R: integrate() over the spread, of the marginal likelihood written out.
    const { mean, deviation } = mixtureMoments(averageOf(posterior));
    expectPrinted(mean, "7.9324");
    expectPrinted(deviation, "5.1784");
    expectPrinted(
      meanOver(posterior, (spread) => spread),
      "6.5755",
    );
  });

  test("school A shrinks as integrated by base R", () => {
    // uniroot() over integrate() of the mixture of normals
    const [y, v] = [28, 15 ** 2];
    const average = averageOf(posterior);
    const means = average.means.map((middle, point) => {
      const share = v / (v + posterior.deviations[point]! ** 2);
      return share * middle + (1 - share) * y;
    });
    const deviations = average.deviations.map((error, point) => {
      const share = v / (v + posterior.deviations[point]! ** 2);
      return Math.sqrt((1 - share) * v + (share * error) ** 2);
    });
    const school = { weights: average.weights, means, deviations };
    const at = [0.025, 0.25, 0.5, 0.75, 0.975].map((p) => mixtureQuantile(school, p));
    ["-2.11", "5.98", "10.24", "15.53", "31.62"].forEach((printed, i) =>
      expectPrinted(at[i]!, printed),
    );
  });
});

describe("identities of the normal–normal model", () => {
  test("without random intercepts, precisions add up", () => {
    // mean = (m₀/s₀² + Σ y/v)/(1/s₀² + Σ 1/v), by hand
    const estimates = [0.1, 0.3, 0.2];
    const variances = [0.01, 0.04, 0.02];
    const posterior = bayesianRegression(
      { ...simpleProblem(estimates, variances), intercepts: [] },
      { coefficients: [{ mean: 0.05, deviation: 0.2 }], deviations: [] },
    );
    const precision = 1 / 0.04 + 1 / 0.01 + 1 / 0.04 + 1 / 0.02;
    const mean = (0.05 / 0.04 + 0.1 / 0.01 + 0.3 / 0.04 + 0.2 / 0.02) / precision;
    const found = mixtureMoments(averageOf(posterior));
    expect(found.mean).toBeCloseTo(mean, 12);
    expect(found.deviation).toBeCloseTo(1 / Math.sqrt(precision), 12);
  });

  test("the evidence is the density of the data", () => {
    // One effect: y ~ N(0, v + s₀²), by hand
    const posterior = bayesianRegression(
      { ...simpleProblem([0.3], [0.02]), intercepts: [] },
      { coefficients: [{ mean: 0, deviation: 0.5 }], deviations: [] },
    );
    const total = 0.02 + 0.25;
    expect(posterior.logEvidence).toBeCloseTo(
      -0.5 * Math.log(2 * Math.PI * total) - 0.5 * (0.09 / total),
      12,
    );
  });

  test("no effect at all that is precise leaves the prior as it was", () => {
    const priors: RegressionPriors = {
      coefficients: [{ mean: 0.1, deviation: 0.3 }],
      deviations: [{ kind: "half-normal", scale: 0.1 }],
    };
    const posterior = bayesianRegression(simpleProblem([5, -5], [1e8, 1e8]), priors);
    const { mean, deviation } = mixtureMoments(averageOf(posterior));
    expect(mean).toBeCloseTo(0.1, 5);
    expect(deviation).toBeCloseTo(0.3, 5);
    // mean of a half-normal: scale·√(2/π)
    expect(meanOver(posterior, (spread) => spread)).toBeCloseTo(0.1 * Math.sqrt(2 / Math.PI), 4);
  });
});

/** A problem of three levels, covariances and a predictor, from a seeded file. */
const nested = (seed: number, studies = 10) => {
  const { effects, known } = randomEffects(seed, { studies, perStudy: 3 });
  const groups = (id: (i: number) => string): number[] => {
    const places = new Map<string, number>();
    return effects.map((_, i) => {
      const key = id(i);
      if (!places.has(key)) places.set(key, places.size);
      return places.get(key)!;
    });
  };
  const weeks = effects.map(({ moderators }) => Number(moderators!.weeks));
  const problem: RegressionProblem = {
    estimates: effects.map(({ estimate }) => estimate),
    variances: effects.map(({ variance }) => variance),
    covariances: known,
    design: matrixOf(weeks.map((week) => [1, (week - 8) / 4])),
    intercepts: [
      { name: "study", groupOf: groups((i) => effects[i]!.study) },
      { name: "arm", groupOf: groups((i) => effects[i]!.arm!) },
      { name: "effect_id", groupOf: groups((i) => String(i)) },
    ],
  };
  return { effects, known, problem };
};

const priorsOfThree: RegressionPriors = {
  coefficients: [
    { mean: 0, deviation: 1 },
    { mean: 0, deviation: 0.5 },
  ],
  deviations: [
    { kind: "half-normal", scale: 0.4 },
    { kind: "half-normal", scale: 0.2 },
    { kind: "half-normal", scale: 0.2 },
  ],
};

const quantilesOf = (posterior: RegressionPosterior, row: readonly number[]): readonly number[] =>
  [0.025, 0.5, 0.975].map((p) => mixtureQuantile(averageOf(posterior, row), p));

describe("three levels with known covariances", () => {
  const { problem } = nested(4);
  const base = bayesianRegression(problem, priorsOfThree);

  test("a finer rule moves no watched quantile by more than the tolerance said", () => {
    const finer = bayesianRegression(problem, priorsOfThree, { points: 15, tolerance: Infinity });
    for (const row of [
      [1, 0],
      [0, 1],
      [1, 1.5],
    ]) {
      const theirs = quantilesOf(finer, row);
      quantilesOf(base, row).forEach((value, i) =>
        expect(Math.abs(value - theirs[i]!)).toBeLessThan(1e-4),
      );
    }
    expect(base.quadrature.largestChange).toBeLessThanOrEqual(1e-4);
  });

  test("weights add up and the same input gives the same digits", () => {
    expect(base.weights.reduce((sum, weight) => sum + weight, 0)).toBeCloseTo(1, 12);
    expect(bayesianRegression(problem, priorsOfThree)).toEqual(base);
  });

  test("the order of the effects does not matter", () => {
    const n = problem.estimates.length;
    const order = randomStream(9).shuffle(Array.from({ length: n }, (_, i) => i));
    const placeOf = new Map(order.map((old, now) => [old, now]));
    const pick = (values: ArrayLike<number>): number[] => order.map((i) => values[i]!);
    const design = order.map((i) => [1, problem.design.values[2 * i + 1]!]);
    const shuffled = bayesianRegression(
      {
        estimates: pick(problem.estimates),
        variances: pick(problem.variances),
        covariances: problem.covariances.map(({ indices, values }) => ({
          indices: indices.map((i) => placeOf.get(i)!),
          values,
        })),
        design: matrixOf(design),
        intercepts: problem.intercepts.map(({ name, groupOf }) => ({
          name,
          groupOf: pick(groupOf),
        })),
      },
      priorsOfThree,
    );
    for (const row of [
      [1, 0],
      [0, 1],
    ]) {
      const theirs = quantilesOf(base, row);
      quantilesOf(shuffled, row).forEach((value, i) => expect(value).toBeCloseTo(theirs[i]!, 7));
    }
  });

  test("units may change: everything ten times as large answers ten times as large", () => {
    const times = 10;
    const scaled = bayesianRegression(
      {
        ...problem,
        estimates: Array.from(problem.estimates, (y) => times * y),
        variances: Array.from(problem.variances, (v) => times ** 2 * v),
        covariances: problem.covariances.map(({ indices, values }) => ({
          indices,
          values: values.map((v) => times ** 2 * v),
        })),
      },
      {
        coefficients: priorsOfThree.coefficients.map(({ mean, deviation }) => ({
          mean: times * mean,
          deviation: times * deviation,
        })),
        deviations: priorsOfThree.deviations.map(({ kind, scale }) => ({
          kind,
          scale: times * scale,
        })),
      },
      { tolerance: 1e-3 },
    );
    const theirs = quantilesOf(base, [1, 0.5]);
    quantilesOf(scaled, [1, 0.5]).forEach((value, i) =>
      expect(value / times).toBeCloseTo(theirs[i]!, 7),
    );
  });

  test("a curve that is one everywhere changes nothing, whatever its parameter", () => {
    const curved = bayesianRegression(
      { ...problem, curve: () => new Float64Array(problem.estimates.length).fill(1) },
      { ...priorsOfThree, logParameter: { mean: Math.log(5), deviation: 0.6 } },
      { tolerance: 5e-4 },
    );
    const theirs = quantilesOf(base, [1, 0.5]);
    quantilesOf(curved, [1, 0.5]).forEach((value, i) =>
      expect(Math.abs(value - theirs[i]!)).toBeLessThan(5e-4),
    );
    const middle = curved.parameters!.reduce(
      (sum, value, point) => sum + curved.weights[point]! * Math.log(value),
      0,
    );
    expect(middle).toBeCloseTo(Math.log(5), 3);
  });
});

test("with flat priors and many studies the answer approaches the restricted likelihood's", () => {
  // Independent: the multilevel fit's own optimiser on the same data; both know the same likelihood.
  const { effects, known, problem } = nested(12, 120);
  const posterior = bayesianRegression(
    { ...problem, intercepts: [problem.intercepts[0]!, problem.intercepts[2]!] },
    {
      coefficients: [flat, flat],
      deviations: [
        { kind: "flat", scale: 0.2 },
        { kind: "flat", scale: 0.2 },
      ],
    },
  );
  const fitted = fitMultilevel(
    effects.map((effect, i) => ({
      ...effect,
      moderators: { dose: problem.design.values[2 * i + 1]! },
    })),
    {
      levels: ["study", "effect_id"],
      moderators: ["dose"],
      knownCovariances: known,
      robust: "none",
    },
  );
  fitted.coefficients.forEach(({ estimate, standardError }, a) => {
    const { mean, deviation } = mixtureMoments(
      averageOf(
        posterior,
        [0, 1].map((b) => (a === b ? 1 : 0)),
      ),
    );
    // what is left is the uncertainty of the two variances, a few per cent of an error at 120 studies
    expect(Math.abs(mean - estimate)).toBeLessThan(0.05 * standardError);
    expect(deviation / standardError).toBeGreaterThan(0.99);
    expect(deviation / standardError).toBeLessThan(1.05);
  });
});

test("probabilities and quantiles are each other's inverse", () => {
  const posterior = bayesianRegression(nested(7).problem, priorsOfThree);
  const mixture = averageOf(posterior, [1, 0]);
  for (const p of [0.001, 0.3, 0.9])
    expect(mixtureProbability(mixture, mixtureQuantile(mixture, p))).toBeCloseTo(p, 8);
});

describe("what cannot be fitted is refused", () => {
  const problem = simpleProblem([0.1, 0.2, 0.3], [0.01, 0.01, 0.01]);
  const codeOf = (work: () => unknown): string => {
    try {
      work();
    } catch (error) {
      if (error instanceof CallError) return error.code;
      throw error;
    }
    return "nothing was thrown";
  };

  test.each([
    ["bad-prior", { coefficients: [flat], deviations: [] }],
    ["bad-prior", { coefficients: [flat], deviations: [{ kind: "half-normal", scale: 0 }] }],
    [
      "bad-prior",
      {
        coefficients: [{ mean: 0, deviation: -1 }],
        deviations: [{ kind: "half-normal", scale: 0.1 }],
      },
    ],
    ["shape", { coefficients: [flat, flat], deviations: [{ kind: "half-normal", scale: 0.1 }] }],
    [
      "bad-prior",
      {
        coefficients: [flat],
        deviations: [{ kind: "half-normal", scale: 0.1 }],
        logParameter: { mean: 0, deviation: 1 },
      },
    ],
  ] satisfies [string, RegressionPriors][])("%s", (code, priors) => {
    expect(codeOf(() => bayesianRegression(problem, priors))).toBe(code);
  });

  test("two equal columns with flat priors", () => {
    const twice = { ...problem, design: matrixOf([1, 1, 1].map((x) => [x, x])) };
    const half = [{ kind: "half-normal", scale: 0.1 }] as const;
    expect(
      codeOf(() => bayesianRegression(twice, { coefficients: [flat, flat], deviations: half })),
    ).toBe("not-identified");
  });

  test("points that run out before the quantiles settle", () => {
    expect(() =>
      bayesianRegression(nested(4).problem, priorsOfThree, {
        points: 3,
        maxPoints: 4,
        tolerance: 1e-12,
      }),
    ).toThrow(ConvergenceError);
  });
});
