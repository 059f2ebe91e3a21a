import { WebR } from "webr";
import { fitMultilevel } from "../../src/synthesis/fit-multilevel.js";
import type { SynthesisEffect } from "../../src/synthesis/synthesis-input.js";
import { randomEffects } from "../synthesis/random-effects.js";
import { mustHold, type Bench } from "./bench.js";
import { secondsUntil, shortestInTurns } from "./timing.js";

/** Our own code in R: the restricted likelihood study by study, climbed by R's own optimiser. */
const routines = `
blocks <- function(estimate, variance, study, arm, covariance)
  unname(lapply(split(seq_along(estimate), factor(study, unique(study))), function(rows) {
    known <- covariance * sqrt(outer(variance[rows], variance[rows]))
    diag(known) <- variance[rows]
    list(estimate = estimate[rows], known = known, arm = outer(arm[rows], arm[rows], "==") * 1)
  }))
likelihood <- function(parts, studies) {
  information <- 0; score <- 0; squares <- 0; size <- 0; logs <- 0
  for (one in studies) {
    n <- length(one$estimate)
    factor <- chol(one$known + parts[1] + parts[2] * one$arm + diag(parts[3], n))
    ones <- backsolve(factor, rep(1, n), transpose = TRUE)
    values <- backsolve(factor, one$estimate, transpose = TRUE)
    information <- information + sum(ones * ones)
    score <- score + sum(ones * values)
    squares <- squares + sum(values * values)
    logs <- logs + sum(log(diag(factor)))
    size <- size + n
  }
  -logs - 0.5 * (squares - score^2 / information) - 0.5 * (size - 1) * log(2 * pi) -
    0.5 * log(information) + 0.5 * log(size)
}
climb <- function(studies)
  optim(rep(0.3, 3), function(root) -likelihood(root^2, studies), method = "BFGS",
    control = list(reltol = 1e-12))
`;

const numbersInR = (values: readonly number[]): string => `c(${values.join(",")})`;
const textInR = (values: readonly string[]): string =>
  `c(${values.map((value) => JSON.stringify(value)).join(",")})`;

const handOver = (effects: readonly SynthesisEffect[]): string => `
  studies <- blocks(
    ${numbersInR(effects.map(({ estimate }) => estimate))},
    ${numbersInR(effects.map(({ variance }) => variance))},
    ${textInR(effects.map(({ study }) => study))},
    ${textInR(effects.map(({ arm }) => arm ?? ""))},
    0.4)`;

/** Three random intercepts on 1,000 effects: this project's fit against base R on the same likelihood. */
export const multilevelAgainstBaseR: Bench = {
  name: "multilevel-against-base-r",
  title: "Three random intercepts, 1,000 effects: base R on the same restricted likelihood",
  run: async (progress) => {
    const { effects, known } = randomEffects(40, { studies: 200, perStudy: 5 });
    const fit = () =>
      fitMultilevel(effects, {
        levels: ["study", "arm", "effect_id"],
        knownCovariances: known,
        robust: "none",
      });
    progress("starting R");
    const webR = new WebR({ interactive: false });
    await webR.init();
    try {
      await webR.evalRVoid(routines);
      await webR.evalRVoid(handOver(effects));
      progress("base R climbs");
      await webR.evalRVoid("top <- climb(studies)");
      const top = -(await webR.evalRNumber("top$value"));
      const calls = await webR.evalRNumber("top$counts[[1]] + 6 * top$counts[[2]]");
      const ours = fit();
      const parts = ["study", "arm", "effect_id"].map((level) => ours.varianceByLevel[level] ?? 0);
      const theirs = await webR.evalRNumber(`likelihood(${numbersInR(parts)}, studies)`);
      mustHold(
        `both compute the same likelihood (${theirs} and ${ours.logLikelihood})`,
        Math.abs(theirs - ours.logLikelihood) < 1e-9 * Math.abs(theirs),
      );
      mustHold(
        `both find the same maximum (${top} and ${ours.logLikelihood})`,
        Math.abs(top - ours.logLikelihood) < 1e-6 * Math.abs(top) &&
          top < ours.logLikelihood + 1e-6,
      );
      progress("timing");
      const baseR = Math.min(
        await secondsUntil(() => webR.evalRVoid("top <- climb(studies)")),
        await secondsUntil(() => webR.evalRVoid("top <- climb(studies)")),
      );
      const [own = 0] = shortestInTurns([fit], 5);
      return [
        {
          what: "base R / this fit",
          value: baseR / own,
          unit: "times",
          how: "R compiled to WebAssembly, in this process; a native R is a few times faster than that",
        },
        { what: "this fit", value: own, unit: "seconds" },
        {
          what: "base R",
          value: baseR,
          unit: "seconds",
          how: `${calls} evaluations of the likelihood`,
        },
      ];
    } finally {
      webR.close();
    }
  },
};
