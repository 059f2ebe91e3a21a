/**
 * Independent: base R, run inside the test. Its own non-linear least squares, natural splines, linear models
 * and one-dimensional optimiser stand against our shapes; its own optimiser maximises the likelihoods of the
 * slopes within and between studies and of several doses, from designs it makes itself.
 */
import { describe, expect, test } from "vitest";
import { doseAxes } from "../../src/dose/dose-axes.js";
import { doseDataOf } from "../../src/dose/dose-data.js";
import { mixedModel } from "../../src/dose/mixed-model.js";
import { pooledCurve } from "../../src/dose/referent-curves.js";
import { severalDoses } from "../../src/dose/several-doses.js";
import { fractionalPowers } from "../../src/dose/shapes/fractional-polynomial.js";
import { restrictedCubicSplineBasis } from "../../src/dose/shapes/restricted-cubic-spline.js";
import { criterionWeights, smallSampleCriterion } from "../../src/dose/compare-shapes.js";
import { withinBetweenSlopeOf } from "../../src/dose/within-between-slope.js";
import { effectInputs } from "../../src/synthesis/effect-inputs.js";
import type { KnownCovariance, SynthesisEffect } from "../../src/synthesis/synthesis-input.js";
import { matrixOf } from "../../src/numeric/matrix.js";
import { randomStream } from "../../src/numeric/random-stream.js";
import { expectPrinted, expectRelative } from "../effects/agreement.js";
import { multilevelInBaseR } from "../synthesis/multilevel-in-base-r.js";
import { plainFit } from "./plain-fit.js";
import { doseTrials } from "./dose-trials.js";
import { asR, asText, baseR } from "../base-r.js";

const { run, numbers } = baseR(multilevelInBaseR);

describe("shapes on plain points", () => {
  test("saturating hyperbola: Puromycin, printed fit and base R's non-linear least squares", async () => {
    const x = await numbers(`Puromycin$conc[Puromycin$state == "treated"]`);
    const y = await numbers(`Puromycin$rate[Puromycin$state == "treated"]`);
    // Without a level: the curve begins at nothing, as the enzyme's does.
    const answer = plainFit("saturating hyperbola", x, y, "from nothing");
    // published: Bates and Watts (1988), section 2.1, treated enzyme
    expectPrinted(answer.fit.coefficients[0]!, "212.7");
    expectPrinted(answer.parameter!, "0.06412");
    const [ceiling, half] = await numbers(
      `coef(nls(rate ~ V * conc / (K + conc), Puromycin, subset = state == "treated",
        start = list(V = 200, K = 0.05), control = nls.control(tol = 1e-7, minFactor = 1e-9)))`,
    );
    expectRelative(answer.fit.coefficients[0]!, ceiling!, 1e-5);
    expectRelative(answer.parameter!, half!, 1e-5);
  });

  test("restricted cubic spline: the fitted values of a natural spline with the same knots", async () => {
    const x = await numbers("cars$speed");
    for (const knots of [
      [8, 15, 21],
      [6, 12, 17, 23],
      [5, 9.5, 14, 18.25, 24],
    ]) {
      const theirs = await numbers(
        `fitted(lm(dist ~ splines::ns(speed, knots = ${asR(knots.slice(1, -1))},
          Boundary.knots = ${asR([knots[0]!, knots.at(-1)!])}), cars))`,
      );
      const design = matrixOf(x.map((dose) => [1, ...restrictedCubicSplineBasis(dose, knots)]));
      const ours = await numbers(
        `fitted(lm(dist ~ 0 + matrix(${asR([...design.values])}, ${design.rows}, byrow = TRUE), cars))`,
      );
      theirs.forEach((fitted, row) => expectRelative(ours[row]!, fitted, 1e-10));
    }
  });

  // Royston and Altman (1994) print deviances of data that could not be found in open text: base R's linear
  // model on the same 36 pairs of powers stands in for the published example.
  test("fractional polynomials: base R finds the same powers and fits", async () => {
    const x = await numbers("cars$speed");
    const y = await numbers("cars$dist");
    const residuals = (powers: readonly number[]): string =>
      `sum(resid(lm(dist ~ ${powers
        .map((p, i) => {
          const one = p === 0 ? "log(speed)" : `I(speed^(${p}))`;
          return i > 0 && powers[0] === p
            ? p === 0
              ? "I(log(speed)^2)"
              : `I(speed^(${p}) * log(speed))`
            : one;
        })
        .join(" + ")}, cars))^2)`;
    const pairs = fractionalPowers.flatMap((first, i) =>
      fractionalPowers.slice(i).map((second) => [first, second] as const),
    );
    const theirs = await numbers(`c(${pairs.map(residuals).join(",")})`);
    const best = theirs.indexOf(Math.min(...theirs));
    const second = plainFit("fractional polynomial of second degree", x, y);
    expect(second.parameter).toBe(best);
    expectRelative(second.logLikelihood, -25 * Math.log(2 * Math.PI) - theirs[best]! / 2, 1e-9);
    const singles = [-2, -1, -0.5, 2, 3];
    const single = await numbers(`c(${singles.map((p) => residuals([p])).join(",")})`);
    const first = plainFit("fractional polynomial", x, y);
    expect(first.parameter).toBe(singles[single.indexOf(Math.min(...single))]);
    expectRelative(
      first.logLikelihood,
      -25 * Math.log(2 * Math.PI) - Math.min(...single) / 2,
      1e-9,
    );
  });

  test.each([
    ["plateau", "pmin(speed, p)", [5, 24]],
    ["peak", "I(speed / p * exp(1 - speed / p))", [6, 24]],
  ] as const)("%s: base R's optimiser finds the same place", async (name, column, [low, high]) => {
    const x = await numbers("cars$speed");
    // A curve of the shape's kind with its own scatter, so that the place lies inside the range.
    const y = await numbers(
      `with(cars, ${name === "plateau" ? "3 * pmin(speed, 16.4)" : "70 * speed / 14 * exp(1 - speed / 14)"} + 6 * sin(7 * seq_along(speed)))`,
    );
    const answer = plainFit(name, x, y);
    const [place, rest] = await numbers(
      `y <- ${asR(y)}
       f <- function(p) sum(resid(lm(y ~ ${column}, cars))^2)
       grid <- seq(${low}, ${high}, length.out = 60)
       top <- grid[which.min(sapply(grid, f))]
       o <- optimize(f, c(top - 0.4, top + 0.4), tol = 1e-9)
       c(o$minimum, o$objective)`,
    );
    expect(answer.atBound).toBe(false);
    expect(Math.abs(answer.parameter! - place!)).toBeLessThan(1e-4);
    expectRelative(answer.logLikelihood, -25 * Math.log(2 * Math.PI) - rest! / 2, 1e-8);
  });

  test("criterion and weights: the same from base R's log likelihoods", async () => {
    const [line, bent, lineCriterion, bentCriterion, weight] = await numbers(
      `a <- lm(dist ~ speed, cars); b <- lm(dist ~ speed + I(speed^2), cars)
       corrected <- function(m) { k <- attr(logLik(m), "df"); AIC(m) + 2 * k * (k + 1) / (50 - k - 1) }
       e <- exp(-(c(corrected(a), corrected(b)) - corrected(a)) / 2)
       c(logLik(a), logLik(b), corrected(a), corrected(b), e[1] / sum(e))`,
    );
    const ours = [smallSampleCriterion(line!, 3, 50), smallSampleCriterion(bent!, 4, 50)];
    expectRelative(ours[0]!, lineCriterion!, 1e-12);
    expectRelative(ours[1]!, bentCriterion!, 1e-12);
    expectRelative(criterionWeights(ours)[0]!, weight!, 1e-12);
  });
});

/** Hands effects to R as y, V, B (study, arm, effect), study, armid and the doses a and b. */
const hand = async (
  effects: readonly SynthesisEffect[],
  known: readonly KnownCovariance[],
  doses: Readonly<Record<string, ArrayLike<number>>>,
): Promise<void> => {
  const n = effects.length;
  const covariance = new Float64Array(n * n);
  effects.forEach((effect, i) => (covariance[i * n + i] = effect.variance));
  for (const { indices, values } of known) {
    indices.forEach((a, i) => {
      indices.forEach((b, j) => (covariance[a * n + b] = values[i * indices.length + j]!));
    });
  }
  await run(`
    y <- ${asR(effects.map(({ estimate }) => estimate))}
    V <- matrix(${asR(covariance)}, ${n})
    study <- ${asText(effects.map((effect) => effect.study))}
    armid <- ${asText(effects.map((effect) => effect.arm!))}
    same <- function(id) outer(id, id, "==") * 1
    B <- list(same(study), same(armid), diag(${n}))
    ${Object.entries(doses)
      .map(([name, values]) => `${name} <- ${asR(values)}`)
      .join("\n")}
    # mean over a study's arms, each arm (or combination of doses) once
    overArms <- function(x, key) {
      first <- !duplicated(paste(study, armid, key))
      m <- tapply(x[first], study[first], mean)
      as.numeric(m[study])
    }
  `);
};

/** R's own maximum and its coefficients, errors and robust degrees of freedom. */
const solved = async (restricted = true) => {
  const p = (await numbers("ncol(X)"))[0]!;
  const all = await numbers(`
    theta <- best(y, X, V, B, ${restricted ? "TRUE" : "FALSE"})
    M <- V; for (k in seq_along(B)) M <- M + theta[k] * B[[k]]
    C <- solve(t(X) %*% solve(M, X))
    c(likelihood(theta, y, X, V, B, ${restricted ? "TRUE" : "FALSE"}), C %*% t(X) %*% solve(M, y),
      sqrt(diag(C)), robust(theta, y, X, V, B, study))`);
  return {
    logLikelihood: all[0]!,
    estimates: all.slice(1, 1 + p),
    errors: all.slice(1 + p, 1 + 2 * p),
    robustErrors: all.slice(1 + 2 * p, 1 + 3 * p),
    freedom: all.slice(1 + 3 * p, 1 + 4 * p),
  };
};

// R's optimiser settles variances to about five digits, and what rests on them to about as many.
const tolerance = 2e-4;

describe("mixed models", () => {
  const { set } = doseTrials(randomStream(8), { studies: 16, interaction: 0.00002 });
  const { effects, covariances } = effectInputs(set);
  const dose = (name: "intensityPercent" | "holdSeconds"): Float64Array =>
    Float64Array.from(set.effects, ({ row }) => row[name]!);
  const [intensity, hold] = [dose("intensityPercent"), dose("holdSeconds")];

  test("slopes within and between studies: the same restricted likelihood maximised by base R", async () => {
    const ours = withinBetweenSlopeOf(
      doseDataOf({ axis: doseAxes.intensityPercent, effects, covariances, doses: intensity }),
    );
    await hand(effects, covariances, { a: intensity });
    await run("m <- overArms(a, a); X <- cbind(1, a - m, m - mean(m))");
    const theirs = await solved();
    for (const [part, place] of [
      ["within", 1],
      ["between", 2],
    ] as const) {
      const slope = ours[part];
      if (slope.kind === "refusal") throw new Error(slope.reason);
      expectRelative(slope.model.estimate, theirs.estimates[place]!, tolerance);
      expectRelative(slope.model.standardError, theirs.errors[place]!, tolerance);
      // Effects less the three columns of X.
      expect(slope.model.degreesOfFreedom).toBe(effects.length - 3);
      expectRelative(slope.robust.standardError, theirs.robustErrors[place]!, tolerance);
      expectRelative(slope.robust.degreesOfFreedom, theirs.freedom[place]!, 10 * tolerance);
    }
    // The difference is the coefficient of the mean where the doses themselves stand beside it.
    await run("X <- cbind(1, a, m - mean(m))");
    const context = await solved();
    if (ours.difference.kind === "refusal") throw new Error(ours.difference.reason);
    expectRelative(ours.difference.robust.estimate, context.estimates[2]!, tolerance);
    expectRelative(ours.difference.robust.standardError, context.robustErrors[2]!, tolerance);
  });

  test("maximum likelihood of a curve: base R finds no higher one", async () => {
    const data = doseDataOf({
      axis: doseAxes.intensityPercent,
      effects,
      covariances,
      doses: intensity,
    });
    const model = mixedModel(effects, covariances);
    await hand(effects, covariances, { a: intensity });
    await run("m <- overArms(a, a); l <- log(a); X <- cbind(1, l - overArms(l, a), m - mean(m))");
    const { logLikelihood } = await solved(false);
    const design = matrixOf(
      await (async () => {
        const flat = await numbers("t(X)");
        return effects.map((_, row) => flat.slice(3 * row, 3 * row + 3));
      })(),
    );
    const ours = model.fit(design, { likelihood: "maximum-likelihood" });
    expectRelative(ours.logLikelihood, logLikelihood, 1e-6);
    expect(data.support.studiesWithin).toBeGreaterThan(5);
  });

  test("several doses with an interaction: the same restricted likelihood maximised by base R", async () => {
    const ours = severalDoses(set, ["intensityPercent", "holdSeconds"], {
      interactions: [["intensityPercent", "holdSeconds"]],
    });
    await hand(effects, covariances, { a: intensity, b: hold });
    const centres = await numbers(`
      first <- !duplicated(paste(study, armid, a, b))
      c(mean(a[first]), mean(b[first]))`);
    expectRelative(ours.centres[0]!, centres[0]!, 1e-12);
    expectRelative(ours.centres[1]!, centres[1]!, 1e-12);
    await run(`
      key <- paste(a, b)
      p <- (a - ${centres[0]}) * (b - ${centres[1]})
      ma <- overArms(a, key); mb <- overArms(b, key)
      # the columns in units near one, so that R's matrices can be inverted
      X <- cbind(1, (a - ma) / 10, (b - mb) / 10, (p - overArms(p, key)) / 100, (ma - mean(ma)) / 10, (mb - mean(mb)) / 10)`);
    const theirs = await solved();
    [10, 10, 100].forEach((unit, k) => {
      const slope = ours.terms[k]!.within;
      if (slope.kind === "refusal") throw new Error(slope.reason);
      expectRelative(slope.model.estimate, theirs.estimates[k + 1]! / unit, tolerance);
      expectRelative(slope.model.standardError, theirs.errors[k + 1]! / unit, tolerance);
      expect(slope.model.degreesOfFreedom).toBe(effects.length - 6);
      expectRelative(slope.robust.standardError, theirs.robustErrors[k + 1]! / unit, tolerance);
      expectRelative(slope.robust.degreesOfFreedom, theirs.freedom[k + 1]!, 10 * tolerance);
    });
  });
});

/**
 * Stands in for the aripiprazole result of Crippa and Orsini (2016), whose table of trials could not be found in
 * open text: five invented trials of the same doses, the same spline knots (0, 10, 30), the same model.
 */
test("one-stage spline through a referent, its maximum and four fifths of it: base R's optimiser", async () => {
  const stream = randomStream(19);
  const knots = [0, 10, 30];
  const basis = (dose: number): readonly number[] => restrictedCubicSplineBasis(dose, knots);
  const trials = [
    [0, 2, 5, 10],
    [0, 10, 15, 20],
    [0, 15, 30],
    [0, 20, 30],
    [0, 2, 10, 30],
  ].map((doses, s) => {
    const variance = 20 ** 2 / 95;
    const high = 12 + 2 * stream.normal();
    return {
      study: `trial ${s + 1}`,
      doses: doses.slice(1),
      estimates: doses
        .slice(1)
        .map((dose) => (high * dose) / (6 + dose) - 0.004 * dose ** 2 + 1.5 * stream.normal()),
      columns: matrixOf(doses.slice(1).map((dose) => basis(dose))),
      covariance: matrixOf(
        doses.slice(1).map((_, i) => doses.slice(1).map((__, j) => variance * (i === j ? 2 : 1))),
      ),
    };
  });
  const ours = pooledCurve(trials);
  const theirs = await numbers(`
    Z <- list(${trials.map(({ columns }) => `matrix(${asR(columns.values)}, ncol = 2, byrow = TRUE)`).join(",")})
    y <- list(${trials.map(({ estimates }) => asR(estimates)).join(",")})
    S <- lapply(y, function(v) (diag(length(v)) + 1) * ${20 ** 2 / 95})
    at <- function(theta) {
      L <- matrix(c(theta[1], theta[2], 0, theta[3]), 2); P <- L %*% t(L)
      A <- matrix(0, 2, 2); s <- c(0, 0); ll <- 0
      for (i in seq_along(y)) {
        W <- solve(S[[i]] + Z[[i]] %*% P %*% t(Z[[i]]))
        A <- A + t(Z[[i]]) %*% W %*% Z[[i]]; s <- s + t(Z[[i]]) %*% W %*% y[[i]]
        ll <- ll + determinant(W)$modulus - t(y[[i]]) %*% W %*% y[[i]]
      }
      b <- solve(A, s)
      list(b = b, C = solve(A), restricted = as.numeric(ll + t(b) %*% s - determinant(A)$modulus) / 2)
    }
    top <- NULL
    for (start in list(c(0.3, -0.3, 0.3), c(0.05, 0.05, 0.05))) {
      o <- optim(start, function(theta) -at(theta)$restricted, method = "BFGS", control = list(reltol = 1e-11, maxit = 200))
      if (is.null(top) || o$value < top$value) top <- o
    }
    fit <- at(top$par)
    c(fit$b, sqrt(diag(fit$C)), fit$restricted)`);
  const n = trials.reduce((total, { estimates }) => total + estimates.length, 0);
  const constant = ((n - 2) * Math.log(2 * Math.PI)) / 2;
  expect(Math.abs(ours.logLikelihood + constant - theirs[4]!)).toBeLessThan(1e-4);
  for (const k of [0, 1]) {
    expectRelative(ours.coefficients[k]!, theirs[k]!, 0.01);
    expectRelative(Math.sqrt(ours.covariance.values[3 * k]!), theirs[2 + k]!, 0.01);
  }
  const height = (b: ArrayLike<number>, dose: number): number =>
    basis(dose).reduce((sum, value, k) => sum + value * b[k]!, 0);
  const places = (b: ArrayLike<number>): readonly number[] => {
    const doses = Array.from({ length: 301 }, (_, i) => i / 10);
    const best = doses.reduce((most, dose) => (height(b, dose) > height(b, most) ? dose : most));
    const share = doses.find((dose) => height(b, dose) >= 0.8 * height(b, best))!;
    return [best, share];
  };
  places(ours.coefficients).forEach((place, i) =>
    expect(Math.abs(place - places(theirs)[i]!)).toBeLessThan(0.25),
  );
});
