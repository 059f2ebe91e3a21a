/**
 * Independent: base R, run inside the test, maximises the same likelihood of a curve with its own optimiser, over
 * level, width and variances at once, from code written here with dense matrices. Ours profiles the width on a
 * lattice instead. R's optimiser starts from several places and stops at 1e-14.
 */
import { describe, expect, test } from "vitest";
import { carryOverForm } from "../../src/dose/carry-over-width.js";
import { oneParameterCurve, type CurveForm } from "../../src/dose/one-parameter-curve.js";
import type { CurveRows } from "../../src/dose/scaled-model.js";
import { timeCourseForms } from "../../src/dose/time-course.js";
import { doseOf, type DoseAxisName } from "../../src/dose/dose-axes.js";
import { randomStream } from "../../src/numeric/random-stream.js";
import { effectInputs } from "../../src/synthesis/effect-inputs.js";
import { expectRelative } from "../effects/agreement.js";
import { simulatedSet, type SimulatedStudy } from "./simulated-set.js";
import { asR, asText, baseR } from "../base-r.js";

const routines = `
share <- function(x, phi, kind)
  if (kind == "bell") 2^(-(x / phi)^2) else 1 - exp(-x / phi)
height <- function(p, y, x, V, groups, kind) {
  f <- share(x, exp(p[2]), kind)
  M <- V
  for (k in seq_along(groups)) M <- M + p[2 + k]^2 * groups[[k]] * outer(f, f)
  M <- M + p[3 + length(groups)]^2 * diag(length(y))
  L <- tryCatch(chol(M), error = function(e) NULL)
  if (is.null(L)) return(-1e10)
  r <- backsolve(L, y - p[1] * f, transpose = TRUE)
  -sum(log(diag(L))) - 0.5 * sum(r^2) - 0.5 * length(y) * log(2 * pi)
}
best <- function(starts, y, x, V, groups, kind) {
  f <- function(p) -height(p, y, x, V, groups, kind)
  top <- NULL
  for (s in starts) {
    p <- c(0.2, log(s), rep(0.05, length(groups) + 1))
    for (i in 1:2)
      p <- optim(p, f, method = "BFGS",
        control = list(reltol = 1e-14, maxit = 500, ndeps = rep(1e-5, length(p))))$par
    if (is.null(top) || f(p) < f(top)) top <- p
  }
  c(top[1], exp(top[2]), -f(top), top[-(1:2)]^2)
}
`;

const { numbers } = baseR(routines);

/** Rows of a simulated register, with two arms in every study. */
const rowsOf = (seed: number, axis: DoseAxisName, arms: SimulatedStudy["arms"]): CurveRows => {
  const set = simulatedSet(
    Array.from({ length: 7 }, (_, study) => ({ study: `S${study}`, arms })),
    randomStream(seed),
    { deviations: "in proportion" },
  );
  const { effects, covariances } = effectInputs(set);
  return {
    effects,
    covariances,
    x: set.effects.map(({ row }) => doseOf(row, axis)!.value),
    series: set.effects.map(() => "torque"),
  };
};

const cases: readonly (readonly [
  string,
  CurveRows,
  CurveForm,
  "bell" | "approach",
  readonly number[],
])[] = [
  [
    "carry-over between angles",
    rowsOf(5, "angleDistanceDegrees", [
      {
        arm: "a",
        muscleLength: "short",
        trainingAngle: 40,
        testAngles: [40, 50, 65, 90],
        weeks: [8],
      },
      { arm: "b", muscleLength: "short", trainingAngle: 50, testAngles: [30, 50, 70], weeks: [8] },
    ]),
    carryOverForm(3, 100),
    "bell",
    [12, 30],
  ],
  [
    "course over weeks",
    rowsOf(6, "weeks", [
      { arm: "a", weeks: [2, 4, 8, 12] },
      { arm: "b", weeks: [3, 6, 12] },
    ]),
    timeCourseForms(2, 12)["rising and flattening"],
    "approach",
    [2.5, 7],
  ],
];

describe.each(cases)("%s", (_name, rows, form, kind, starts) => {
  test("the same level, parameter and likelihood", async () => {
    const fit = oneParameterCurve(rows, form, 0.95);
    const n = rows.effects.length;
    const covariance = new Float64Array(n * n);
    rows.effects.forEach(({ variance }, i) => (covariance[i * n + i] = variance));
    for (const { indices, values } of rows.covariances)
      indices.forEach((a, i) =>
        indices.forEach((b, j) => (covariance[a * n + b] = values[i * indices.length + j]!)),
      );
    const studies = rows.effects.map(({ study }) => study);
    const arms = rows.effects.map(({ arm }) => arm!);
    const [level, parameter, height] = await numbers(
      `best(${asR(starts)}, ${asR(rows.effects.map(({ estimate }) => estimate))}, ${asR(rows.x)},
        matrix(${asR(covariance)}, ${n}),
        list(outer(${asText(studies)}, ${asText(studies)}, "==") * 1, outer(${asText(arms)}, ${asText(arms)}, "==") * 1),
        "${kind}")`,
    );
    // Level, parameter, variances of study, arm and effect: series here are the arms themselves.
    expect(fit.parameters).toBe(5);
    expect(Math.abs(fit.logLikelihood - height!)).toBeLessThan(1e-6);
    expectRelative(fit.parameter!, parameter!, 1e-3);
    expectRelative(fit.level!.estimate, level!, 1e-3);
  }, 60_000);
});
