/**
 * Independent: base R, run inside the test, integrates the same posteriors by its own routes, from code written here:
 * nested adaptive `integrate` over standard deviations as they stand (and a plain grid where there are four
 * variables), dense matrices for the coefficients, and `uniroot` on the distribution for quantiles. Agreement is asked
 * to 1e-4 on the effects' scale, the tolerance the fit states.
 */
import { describe, expect, test } from "vitest";
import { matrixOf } from "../../src/numeric/matrix.js";
import {
  bayesianRegression,
  type RegressionPriors,
  type RegressionProblem,
} from "../../src/projection/bayesian-regression.js";
import { individualResponse } from "../../src/projection/individual-response.js";
import { mixtureQuantile } from "../../src/projection/normal-mixture.js";
import { posteriorMixture } from "../../src/projection/posterior-mixture.js";
import { weeksCurve } from "../../src/projection/weeks-curve.js";
import { asR, baseR } from "../base-r.js";

const routines = `
at <- function(s, c = NULL) {
  g <- if (is.null(c)) rep(1, length(y)) else (1 - exp(-weeks / c)) / (1 - exp(-8 / c))
  M <- V
  for (k in seq_along(B)) M <- M + s[k]^2 * outer(g, g) * B[[k]]
  G <- X * g
  # density of the data with the coefficients integrated out, as one normal distribution
  S <- M + G %*% S0 %*% t(G)
  L <- chol(S)
  r <- backsolve(L, y - G %*% m0, transpose = TRUE)
  K <- S0 %*% t(G) %*% chol2inv(L)
  list(log = -sum(log(diag(L))) - 0.5 * sum(r * r), mean = m0 + K %*% (y - G %*% m0),
    cov = S0 - K %*% G %*% S0)
}
prior <- function(s) sum(-0.5 * (s / scales)^2)
# weight, and weight times the normal probability below q of x'b
piece <- function(s, c = NULL, x, q, off) {
  a <- at(s, c)
  w <- exp(a$log + prior(s) - off)
  if (is.null(q)) w else w * pnorm(q, sum(x * a$mean), sqrt(sum(x * (a$cov %*% x))))
}
nest <- function(f, low, high)
  integrate(Vectorize(f), low, high, rel.tol = 1e-6, subdivisions = 200L)$value
middle <- function(low, high, n) low + (high - low) * (seq_len(n) - 0.5) / n
# posterior over a grid of standard deviations and the logarithm of the course's constant
on.grid <- function(x, ...) {
  found <- apply(expand.grid(...), 1, function(p) {
    s <- p[-length(p)]
    a <- at(s, exp(p[length(p)]))
    c(a$log + prior(s) + dnorm(p[length(p)], log(5), 0.6, log = TRUE),
      sum(x * a$mean), sqrt(sum(x * (a$cov %*% x))))
  })
  w <- exp(found[1, ] - max(found[1, ])); w <- w / sum(w)
  quantiles(function(q) sum(w * pnorm(q, found[2, ], found[3, ])), c(-1, 1))
}
quantiles <- function(below, range)
  sapply(c(0.025, 0.5, 0.975), function(p)
    uniroot(function(q) below(q) - p, range, tol = 1e-7)$root)
`;

const { run, numbers } = baseR(routines);

const weeks = [4, 8, 8, 12, 6, 10, 8];
const studies = [0, 0, 1, 1, 2, 2, 3];
const arms = [0, 1, 2, 2, 3, 4, 5];
const rows = [0, 1, 2, 3, 4, 5, 6];
const intercepts = [
  { name: "study", groupOf: studies },
  { name: "arm", groupOf: arms },
  { name: "effect_id", groupOf: rows },
];
const scales = [0.1, 0.05, 0.05];
const base: RegressionProblem = {
  estimates: [0.12, 0.21, 0.3, 0.28, 0.09, 0.24, 0.05],
  variances: [0.004, 0.003, 0.006, 0.005, 0.002, 0.004, 0.003],
  covariances: [{ indices: [2, 3], values: [0.006, 0.003, 0.003, 0.005] }],
  design: matrixOf([-0.4, 0.3, 0, 0.2, -0.2, 0.5, -0.1].map((x) => [1, x])),
  intercepts: [],
};
const coefficients = [
  { mean: 0.05, deviation: 0.3 },
  { mean: 0, deviation: 0.15 },
];
const logParameter = { mean: Math.log(5), deviation: 0.6 };

const handOver = async (levels: number): Promise<void> => {
  const size = rows.length;
  await run(`
    y <- ${asR(base.estimates)}
    weeks <- ${asR(weeks)}
    V <- diag(${asR(base.variances)}); V[3, 4] <- V[4, 3] <- 0.003
    X <- matrix(${asR(base.design.values)}, ${size}, byrow = TRUE)
    m0 <- ${asR(coefficients.map(({ mean }) => mean))}
    S0 <- diag(${asR(coefficients.map(({ deviation }) => deviation ** 2))})
    B <- lapply(list(${intercepts
      .slice(0, levels)
      .map(({ groupOf }) => asR(groupOf))
      .join(",")}), function(g) outer(g, g, "==") * 1)
    scales <- ${asR(scales.slice(0, levels))}
  `);
};

const ours = (levels: number, curved: boolean, row: readonly number[]): readonly number[] => {
  const problem: RegressionProblem = {
    ...base,
    intercepts: intercepts.slice(0, levels),
    ...(curved ? { curve: (constant) => weeks.map((week) => weeksCurve(week, constant)) } : {}),
  };
  const priors: RegressionPriors = {
    coefficients,
    deviations: scales.slice(0, levels).map((scale) => ({ kind: "half-normal", scale })),
    ...(curved ? { logParameter } : {}),
  };
  const mixture = posteriorMixture(bayesianRegression(problem, priors), row);
  return [0.025, 0.5, 0.975].map((p) => mixtureQuantile(mixture, p));
};

const expectClose = (mine: readonly number[], theirs: readonly number[]): void => {
  expect(theirs).toHaveLength(mine.length);
  mine.forEach((value, i) =>
    expect(Math.abs(value - theirs[i]!), `${value} against ${theirs[i]}`).toBeLessThan(1e-4),
  );
};

describe("the regression's quantiles", () => {
  const row = [1, 0.4];
  test("one random intercept, by adaptive integrals", async () => {
    await handOver(1);
    const mine = ours(1, false, row);
    const theirs = await numbers(`{
      x <- ${asR(row)}; off <- at(0.05)$log
      whole <- nest(function(s) piece(s, NULL, x, NULL, off), 0, 0.8)
      below <- function(q) nest(function(s) piece(s, NULL, x, q, off), 0, 0.8) / whole
      # one step of the secant beside each of our quantiles
      mapply(function(q, p) {
        a <- below(q - 1e-3); b <- below(q + 1e-3)
        q - 1e-3 + 2e-3 * (p - a) / (b - a)
      }, ${asR(mine)}, c(0.025, 0.5, 0.975))
    }`);
    expectClose(mine, theirs);
  });

  test("one random intercept and the course over weeks, on a plain grid", async () => {
    await handOver(1);
    const theirs = await numbers(
      `on.grid(${asR(row)}, middle(0, 0.6, 25), middle(log(5) - 2.4, log(5) + 2.4, 15))`,
    );
    expectClose(ours(1, true, row), theirs);
  });

  test("three random intercepts and the course, on a plain grid", async () => {
    await handOver(3);
    const theirs = await numbers(`on.grid(${asR(row)}, middle(0, 0.5, 10), middle(0, 0.25, 6),
      middle(0, 0.25, 6), middle(log(5) - 2.4, log(5) + 2.4, 8))`);
    expectClose(ours(3, true, row), theirs);
  });
});

test("quantiles of a mixture, by uniroot", async () => {
  const mixture = {
    weights: Float64Array.of(0.2, 0.5, 0.3),
    means: Float64Array.of(-1, 0.2, 3),
    deviations: Float64Array.of(0.4, 1.5, 0.1),
  };
  const at = [0.001, 0.1, 0.5, 0.85, 0.999];
  const theirs = await numbers(`sapply(${asR(at)}, function(p) uniroot(function(q)
    sum(${asR(mixture.weights)} * pnorm(q, ${asR(mixture.means)}, ${asR(mixture.deviations)})) - p,
    c(-20, 20), tol = 1e-12)$root)`);
  at.forEach((p, i) => expect(mixtureQuantile(mixture, p)).toBeCloseTo(theirs[i]!, 6));
});

describe("the spread of people's own response, each control's variance integrated out by R", () => {
  test.each([
    [
      "a like pair",
      [
        { study: "a", trained: [[0.02, 12]], control: [0.009, 11] },
        { study: "b", trained: [[0.012, 9]], control: [0.014, 10] },
      ],
    ],
    [
      "few controls beside many who trained",
      [
        {
          study: "a",
          trained: [
            [0.018, 60],
            [0.022, 55],
          ],
          control: [0.006, 6],
        },
      ],
    ],
  ] as const)("%s", async (_, written) => {
    const spread = ([variance, participants]: readonly [number, number]) => ({
      variance,
      participants,
    });
    const comparisons = written.map(({ study, trained, control }) => ({
      study,
      trained: trained.map(spread),
      control: spread(control),
    }));
    const found = individualResponse(comparisons, 0.1);
    const likelihoods = written.map(
      ({ trained, control }) => `(function(r) integrate(function(u) {
        truth <- exp(u)
        log <- dchisq(${(control[1] - 1) * control[0]} / truth, ${control[1] - 1}, log = TRUE) - u - 20
        ${trained
          .map(
            ([v, n]) =>
              `log <- log + dchisq(${(n - 1) * v} / (truth + r^2), ${n - 1}, log = TRUE) - log(truth + r^2)`,
          )
          .join("\n        ")}
        exp(log)
      }, log(1e-5), 0, rel.tol = 1e-7, abs.tol = 0, subdivisions = 300L)$value)`,
    );
    const theirs = await numbers(`{
      parts <- list(${likelihoods.join(",")})
      r <- middle(0, 0.4, 200)
      w <- sapply(r, function(r) exp(-0.5 * (r / 0.1)^2) * prod(sapply(parts, function(f) f(r))))
      w <- w / sum(w)
      below <- function(q) approx(c(0, r + 0.001), c(0, cumsum(w)), q)$y
      c(sum(w * r^2), below(${found.interval.low}), below(${found.deviation}), below(${found.interval.high}))
    }`);
    const square = found.points.reduce(
      (sum, { weight, deviation }) => sum + weight * deviation ** 2,
      0,
    );
    // a person's range uses the square; 1% of it is half a per cent of a deviation
    expect(Math.abs(square / theirs[0]! - 1)).toBeLessThan(0.01);
    [0.025, 0.5, 0.975].forEach((p, i) => expect(Math.abs(theirs[1 + i]! - p)).toBeLessThan(0.01));
  });
});
