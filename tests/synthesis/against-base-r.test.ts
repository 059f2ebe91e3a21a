/**
 * Independent: base R, run inside the test, maximises the same likelihoods with its own optimiser, from
 * code written here in R with dense matrices, and computes the cluster-robust errors by their definition.
 * Agreement is asked to 1e-6 relative (estimates, errors, log likelihoods, robust errors and their degrees
 * of freedom), variance parts to 1e-5 of the total, which is what R's optimiser reaches.
 */
import { describe, expect, test } from "vitest";
import { fitMultilevel } from "../../src/synthesis/fit-multilevel.js";
import { headlineAnswer } from "../../src/synthesis/headline-answer.js";
import { levelMeans } from "../../src/synthesis/level-means.js";
import type { MultilevelOptions } from "../../src/synthesis/multilevel-options.js";
import { poolEffects } from "../../src/synthesis/pool-effects.js";
import type { KnownCovariance, SynthesisEffect } from "../../src/synthesis/synthesis-input.js";
import type { MultilevelResult } from "../../src/synthesis/synthesis-results.js";
import { bcg1994 } from "../published/bcg-1994.js";
import { expectRelative } from "../effects/agreement.js";
import { multilevelInBaseR } from "./multilevel-in-base-r.js";
import { randomEffects } from "./random-effects.js";
import { asR, baseR } from "../base-r.js";

const { run, numbers } = baseR(multilevelInBaseR);

type Level = "study" | "arm" | "effect_id";

/** Hands a data set to R as y, X, V, B and cluster. */
const hand = async (
  effects: readonly SynthesisEffect[],
  levels: readonly Level[],
  known: readonly KnownCovariance[],
  moderated: boolean,
): Promise<void> => {
  const n = effects.length;
  const columns = effects.map((effect) => {
    const { weeks, measure } = effect.moderators!;
    return moderated
      ? [1, weeks as number, measure === "strength" ? 1 : 0, measure === "tendon" ? 1 : 0]
      : [1];
  });
  const covariance = new Float64Array(n * n);
  effects.forEach((effect, i) => (covariance[i * n + i] = effect.variance));
  for (const { indices, values } of known) {
    indices.forEach((a, i) => {
      indices.forEach((b, j) => (covariance[a * n + b] = values[i * indices.length + j]!));
    });
  }
  const ids = (level: Level) =>
    effects.map((effect) =>
      level === "study" ? effect.study : level === "arm" ? effect.arm! : effect.effectId,
    );
  const text = (values: readonly string[]) =>
    `c(${values.map((v) => JSON.stringify(v)).join(",")})`;
  await run(`
    y <- ${asR(effects.map((effect) => effect.estimate))}
    X <- matrix(${asR(columns.flat())}, ${n}, byrow = TRUE)
    V <- matrix(${asR(covariance)}, ${n})
    B <- list(${levels.map((level) => `(function(id) outer(id, id, "==") * 1)(${text(ids(level))})`).join(",")})
    cluster <- ${text(ids("study"))}
  `);
};

const compare = async (
  effects: readonly SynthesisEffect[],
  options: MultilevelOptions & Readonly<{ levels: readonly Level[] }>,
): Promise<void> => {
  const restricted = options.heterogeneity !== "maximum-likelihood";
  const moderated = options.moderators !== undefined;
  const result = fitMultilevel(effects, options);
  await hand(effects, options.levels, options.knownCovariances ?? [], moderated);
  const flag = restricted ? "TRUE" : "FALSE";
  await run(`theta <- best(y, X, V, B, ${flag})`);
  const theirs = await numbers("theta");
  const ours = options.levels.map((level) => result.varianceByLevel[level]!);
  const total = ours.reduce((sum, value) => sum + value, 0);
  ours.forEach((value, k) => {
    // R searches over the square root, whose slope vanishes at the bound
    const share = value === 0 ? 1e-4 : 1e-5;
    expect(Math.abs(value - theirs[k]!)).toBeLessThan(share * total + 1e-9);
  });
  const [top, mine] = [
    (await numbers(`likelihood(theta, y, X, V, B, ${flag})`))[0]!,
    (await numbers(`likelihood(${asR(ours)}, y, X, V, B, ${flag})`))[0]!,
  ];
  expectRelative(result.logLikelihood, mine, 1e-9);
  // R's optimiser finds nothing higher
  expect(top).toBeLessThanOrEqual(mine + 1e-9 * Math.abs(mine));
  expectRelative(result.logLikelihood, top, 1e-6);
  const [p] = (await numbers("ncol(X)")) as [number];
  const errors = await numbers(`robust(${asR(ours)}, y, X, V, B, cluster)`);
  await modelBased(result, ours, p);
  if (p > 1) {
    const [bare] = await numbers(`sum(best(y, X[, 1, drop = FALSE], V, B, ${flag}))`);
    const explained = 100 * Math.max(0, 1 - total / bare!);
    expect(Math.abs(result.explainedPercent! - explained)).toBeLessThan(0.01);
  }
  await headline(result, ours, errors);
  const simple = fitMultilevel(effects, { ...options, robust: "simple" }).robust!;
  simple.coefficients.forEach((robust, j) => {
    expectRelative(robust.standardError, errors[2 * p + j]!, 1e-6);
    expect(robust.degreesOfFreedom).toBe(simple.clusters - p);
  });
  if (p > 1) {
    const [statistic, freedom] = await numbers(
      `hotelling(${asR(ours)}, y, X, V, B, cluster, 2:${p})`,
    );
    const omnibus = result.robust!.omnibus!;
    expectRelative(omnibus.statistic, statistic!, 1e-6);
    expect(omnibus.numeratorDegreesOfFreedom).toBe(p - 1);
    expectRelative(omnibus.denominatorDegreesOfFreedom, freedom!, 1e-6);
    const [probability] = await numbers(`pf(${statistic!}, ${p - 1}, ${freedom!}, lower = FALSE)`);
    expectRelative(omnibus.p, probability!, 1e-5);
  }
};

/** Everything a result says from the model alone, made again by R with dense matrices at our variances. */
const modelBased = async (
  result: MultilevelResult,
  ours: readonly number[],
  p: number,
): Promise<void> => {
  await run(`
    theta <- ${asR(ours)}
    M <- V; for (k in seq_along(B)) M <- M + theta[k] * B[[k]]
    W <- solve(M); C <- solve(t(X) %*% W %*% X); b <- C %*% t(X) %*% W %*% y; n <- length(y)
    x <- colMeans(X); estimate <- sum(x * b); se <- sqrt(sum(x * (C %*% x)))
    reach <- qt(0.975, n - ncol(X))
    W0 <- solve(diag(diag(V))); P0 <- W0 - W0 %*% X %*% solve(t(X) %*% W0 %*% X) %*% t(X) %*% W0
    typical <- (n - ncol(X)) / sum(diag(P0))
    WV <- solve(V); r0 <- y - X %*% solve(t(X) %*% WV %*% X, t(X) %*% WV %*% y)
  `);
  const [estimate, se, low, high, furtherLow, furtherHigh, pValue, share, h, q, qP, freedom] =
    await numbers(`c(estimate, se, estimate - reach * se, estimate + reach * se,
      estimate - reach * sqrt(se^2 + sum(theta)), estimate + reach * sqrt(se^2 + sum(theta)),
      2 * pt(abs(estimate / se), n - ncol(X), lower = FALSE),
      100 * sum(theta) / (sum(theta) + typical), (sum(theta) + typical) / typical,
      sum(r0 * (WV %*% r0)), pchisq(sum(r0 * (WV %*% r0)), n - ncol(X), lower = FALSE), n - ncol(X))`);
  expectRelative(result.estimate, estimate!, 1e-6);
  expectRelative(result.standardError, se!, 1e-6);
  expectRelative(result.interval.low, low!, 1e-6);
  expectRelative(result.interval.high, high!, 1e-6);
  expectRelative(result.predictionInterval!.low, furtherLow!, 1e-6);
  expectRelative(result.predictionInterval!.high, furtherHigh!, 1e-6);
  expect(result.degreesOfFreedom).toBe(freedom);
  expectRelative(result.p, pValue!, 1e-5);
  const { heterogeneity } = result;
  const total = ours.reduce((sum, value) => sum + value, 0);
  expectRelative(heterogeneity.betweenVariance!, total, 1e-12);
  expect(Math.abs(heterogeneity.iSquaredPercent! - share!)).toBeLessThan(1e-6);
  expectRelative(heterogeneity.hSquared!, h!, 1e-6);
  expectRelative(heterogeneity.q!, q!, 1e-6);
  expect(heterogeneity.qDegreesOfFreedom).toBe(freedom);
  expectRelative(heterogeneity.qP!, qP!, 1e-4);
  Object.values(result.iSquaredPercentByLevel).forEach((part, level) => {
    expect(Math.abs(part - (share! * ours[level]!) / (total || 1))).toBeLessThan(1e-6);
  });
  const weights = await numbers("100 * t(x) %*% C %*% t(X) %*% W");
  expect(result.weightsPercent.length).toBe(weights.length);
  weights.forEach((weight, i) => {
    expect(Math.abs(result.weightsPercent[i]! - weight)).toBeLessThan(1e-6);
  });
  const table = await numbers(`{
    s <- sqrt(diag(C)); c(b, s, b - reach * s, b + reach * s, 2 * pt(abs(b / s), n - ncol(X), lower = FALSE))
  }`);
  expect(result.coefficients.length).toBe(p === 1 ? 0 : p);
  result.coefficients.forEach((coefficient, j) => {
    expectRelative(coefficient.estimate, table[j]!, 1e-6);
    expectRelative(coefficient.standardError, table[p + j]!, 1e-6);
    expectRelative(coefficient.interval.low, table[2 * p + j]!, 1e-5);
    expectRelative(coefficient.interval.high, table[3 * p + j]!, 1e-5);
    expectRelative(coefficient.p, table[4 * p + j]!, 1e-5);
    expect(coefficient.degreesOfFreedom).toBe(freedom);
  });
  if (p === 1) {
    expect([result.omnibus, result.termTests, result.explainedPercent]).toEqual([null, [], null]);
    return;
  }
  for (const [test, columns] of [
    [result.omnibus!, "2:ncol(X)"],
    [result.termTests[0]!, "2"],
    [result.termTests[1]!, "3:4"],
  ] as const) {
    const [statistic, numerator, probability] = await numbers(`{
      at <- ${columns}; f <- sum(b[at] * solve(C[at, at], b[at])) / length(at)
      c(f, length(at), pf(f, length(at), n - ncol(X), lower = FALSE))
    }`);
    expect(test.kind).toBe("F");
    expectRelative(test.statistic, statistic!, 1e-6);
    expect(test.numeratorDegreesOfFreedom).toBe(numerator);
    expect(test.denominatorDegreesOfFreedom).toBe(freedom);
    expectRelative(test.p, probability!, 1e-5);
  }
};

/** The headline, made again by R from its own robust errors and degrees of freedom. */
const headline = async (
  result: MultilevelResult,
  ours: readonly number[],
  errors: readonly number[],
): Promise<void> => {
  const shown = headlineAnswer(result);
  const p = errors.length / 3;
  const total = ours.reduce((sum, value) => sum + value, 0);
  const rows = p === 1 ? [result.robust!.average!] : shown.coefficients;
  expect(rows.length).toBe(p);
  for (const [j, row] of rows.entries()) {
    const [error, freedom] = [errors[j]!, errors[p + j]!];
    expectRelative(row.standardError, error, 1e-6);
    expectRelative(row.degreesOfFreedom, freedom, 1e-6);
    const [reach, probability] = await numbers(
      `c(qt(0.975, ${freedom}), 2 * pt(${Math.abs(row.estimate / error)}, ${freedom}, lower = FALSE))`,
    );
    expectRelative(row.interval.low, row.estimate - reach! * error, 1e-5);
    expectRelative(row.interval.high, row.estimate + reach! * error, 1e-5);
    expectRelative(row.p, probability!, 1e-5);
    if (p > 1) continue;
    expect(shown.estimate).toBe(row.estimate);
    expect(shown.interval).toEqual(row.interval);
    expect([shown.standardError, shown.degreesOfFreedom, shown.p]).toEqual([
      row.standardError,
      row.degreesOfFreedom,
      row.p,
    ]);
    const further = reach! * Math.sqrt(error ** 2 + total);
    expectRelative(shown.predictionInterval!.low, row.estimate - further, 1e-5);
    expectRelative(shown.predictionInterval!.high, row.estimate + further, 1e-5);
  }
};

describe("the same likelihood maximised by base R, and robust errors by their definition", () => {
  const moderators = ["weeks", "measure"] as const;
  test.each([1, 2])("two random intercepts, average, seed %i", async (seed) => {
    const { effects } = randomEffects(seed, { studies: 12, perStudy: 3 });
    await compare(effects, { levels: ["study", "effect_id"] });
  });

  test.each([4])("two random intercepts, moderators, full likelihood, seed %i", async (seed) => {
    const { effects } = randomEffects(seed, { studies: 12, perStudy: 2 });
    await compare(effects, {
      levels: ["study", "effect_id"],
      moderators,
      heterogeneity: "maximum-likelihood",
    });
  });

  test.each([6, 7])(
    "three random intercepts, known covariances, moderators, seed %i",
    async (seed) => {
      const { effects, known } = randomEffects(seed, { studies: 12, perStudy: 3 });
      await compare(effects, {
        levels: ["study", "arm", "effect_id"],
        knownCovariances: known,
        moderators,
      });
    },
  );

  test.each([8])("arm ids shared between studies, seed %i", async (seed) => {
    const { effects, known } = randomEffects(seed, { studies: 11, perStudy: 3, sharedArms: true });
    await compare(effects, {
      levels: ["study", "arm", "effect_id"],
      knownCovariances: known,
      moderators,
    });
  });

  test("a part on the boundary", async () => {
    const { effects } = randomEffects(10, {
      studies: 12,
      perStudy: 3,
      deviations: [0.4, 0, 0],
    });
    await compare(effects, { levels: ["study", "arm"] });
  });
});

test("more than seventy effects in one study, so that it is cut into blocks", async () => {
  const { effects } = randomEffects(31, { studies: 7, perStudy: 2 });
  const large = Array.from({ length: 70 }, (_, i) => ({
    ...effects[i % effects.length]!,
    study: "large",
    arm: `large ${i % 7}`,
    effectId: `l${i}`,
    estimate: effects[i % effects.length]!.estimate + 0.1 * Math.sin(i),
  }));
  await compare([...effects, ...large], { levels: ["study", "arm", "effect_id"] });
});

describe("means of levels: the linear algebra without an intercept, robust errors by their definition", () => {
  test.each([12, 13])("three levels, known covariances, seed %i", async (seed) => {
    const { effects, known } = randomEffects(seed, { studies: 14, perStudy: 3 });
    const levels = ["study", "effect_id"] as const;
    const options = { levels, knownCovariances: known };
    const means = levelMeans(effects, "measure", options);
    const ours = levels.map((level) => means.varianceByLevel[level]!);
    const same = fitMultilevel(effects, { ...options, moderators: ["measure"] }).varianceByLevel;
    levels.forEach((level, k) => {
      expectRelative(ours[k]!, same[level]!, 1e-6);
    });
    await hand(effects, levels, known, false);
    const names = means.levels.map(({ level }) => level);
    const measures = effects.map((effect) => effect.moderators!.measure as string);
    const cells = names.flatMap((name) => measures.map((one) => (one === name ? 1 : 0)));
    await run(`
      Z <- matrix(${asR(cells)}, length(y))
      M <- V; for (k in seq_along(B)) M <- M + ${asR(ours)}[k] * B[[k]]
    `);
    const solved = await numbers("solve(t(Z) %*% solve(M, Z), t(Z) %*% solve(M, y))");
    const errors = await numbers(`robust(${asR(ours)}, y, Z, V, B, cluster)`);
    const total = ours.reduce((sum, value) => sum + value, 0);
    for (const [j, one] of means.levels.entries()) {
      const mean = one.mean!;
      expectRelative(mean.estimate, solved[j]!, 1e-6);
      expectRelative(mean.standardError, errors[j]!, 1e-6);
      expectRelative(mean.degreesOfFreedom, errors[3 + j]!, 1e-6);
      const [reach] = await numbers(`qt(0.975, ${errors[3 + j]!})`);
      expectRelative(mean.interval.low, solved[j]! - reach! * errors[j]!, 1e-5);
      const further = reach! * Math.sqrt(errors[j]! ** 2 + total);
      expectRelative(one.predictionInterval!.high, solved[j]! + further, 1e-5);
      expect(one.effects).toBe(measures.filter((name) => name === one.level).length);
      const studies = effects.filter((_, i) => measures[i] === one.level).map(({ study }) => study);
      expect(one.studies).toBe(new Set(studies).size);
    }
    // the test does not know which level it is against
    const [statistic, freedom] = await numbers(
      `hotelling(${asR(ours)}, y, cbind(1, Z[, 2:3]), V, B, cluster, 2:3)`,
    );
    const difference = means.difference!;
    expectRelative(difference.statistic, statistic!, 1e-6);
    expect(difference.numeratorDegreesOfFreedom).toBe(2);
    expectRelative(difference.denominatorDegreesOfFreedom, freedom!, 1e-6);
    const [probability] = await numbers(`pf(${statistic!}, 2, ${freedom!}, lower = FALSE)`);
    expectRelative(difference.p, probability!, 1e-5);
    const plain = levelMeans(effects, "measure", { ...options, robust: "none" });
    const [f, half] = await numbers(`{
      C <- solve(t(Z) %*% solve(M, Z)); b <- C %*% t(Z) %*% solve(M, y)
      K <- rbind(c(-1, 1, 0), c(-1, 0, 1)); d <- K %*% b
      c(sum(d * solve(K %*% C %*% t(K), d)) / 2, qt(0.975, length(y) - 3) * sqrt(C[2, 2]))
    }`);
    expectRelative(plain.difference!.statistic, f!, 1e-6);
    expect(plain.difference!.denominatorDegreesOfFreedom).toBe(effects.length - 3);
    const { interval, estimate } = plain.levels[1]!.mean!;
    expectRelative(interval.high - estimate, half!, 1e-6);
  });
});

describe("the two-level model", () => {
  test.each([true, false])("restricted: %s, by R's one-dimensional search", async (restricted) => {
    const effects = bcg1994.logOddsRatios;
    await run(`
      y <- ${asR(effects.map((effect) => effect.estimate))}
      V <- diag(${asR(effects.map((effect) => effect.variance))})
      X <- cbind(1, ${asR(effects.map((effect) => effect.moderators!.latitude as number))})
    `);
    const flag = restricted ? "TRUE" : "FALSE";
    const [theirs] = await numbers(
      `optimize(function(t) likelihood(t, y, X, V, list(diag(13)), ${flag}), c(0, 2), maximum = TRUE, tol = 1e-12)$maximum`,
    );
    const result = poolEffects(effects, {
      moderators: ["latitude"],
      heterogeneity: restricted ? "restricted-maximum-likelihood" : "maximum-likelihood",
    });
    // a maximum is flat: R's search, without derivatives, stops within about 1e-7 of it
    expectRelative(result.heterogeneity.betweenVariance!, theirs!, 1e-5);
    const solved = await numbers(`{
      w <- 1 / (diag(V) + ${result.heterogeneity.betweenVariance!})
      fit <- lm(y ~ X[, 2], weights = w); c(coef(fit), sqrt(diag(vcov(fit))))
    }`);
    result.coefficients.forEach((coefficient, j) => {
      expectRelative(coefficient.estimate, solved[j]!, 1e-9);
      const unguarded = result.hartungKnapp!.floored
        ? coefficient.standardError * Math.sqrt(result.hartungKnapp!.scale)
        : coefficient.standardError;
      expectRelative(unguarded, solved[2 + j]!, 1e-9);
    });
  });
});
