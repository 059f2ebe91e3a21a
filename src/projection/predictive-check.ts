/** Whether arms that the fitted model makes up look like those it was fitted to. */
import { randomStream } from "../numeric/random-stream.js";
import { blockErrors, type ComponentModel } from "./component-models.js";
import { forwardSolved, solveFactored } from "./conditional-posterior.js";
import type { EvidenceArm } from "./support.js";

export type PredictiveCheck = Readonly<{
  /** Share of replicated files that bend away from the model as far as the file does, or farther. */
  p: number;
  /** Whether that share is below 0.05: the model misses the arms. */
  misses: boolean;
  replicates: number;
  /** Mean squared length of each term's score in the file over that of the replicates: about 1 where the model fits. */
  terms: readonly Readonly<{ term: string; ratio: number }>[];
}>;

const replicates = 600;
const missesBelow = 0.05;

/** A dose in use: the logarithm of each arm's dose over a reference. */
export type CheckedDose = Readonly<{ label: string; ofArm: readonly number[] }>;

/** Squares and products of the doses, each less its mean over the study, at every effect; those that vary. */
const termsOf = (
  arms: readonly EvidenceArm[],
  doses: readonly CheckedDose[],
  effects: number,
): readonly Readonly<{ term: string; values: Float64Array }>[] => {
  const centred = doses.map(({ label, ofArm }) => {
    const mean = ofArm.reduce((sum, value) => sum + value, 0) / ofArm.length;
    return { label, ofArm: ofArm.map((value) => value - mean) };
  });
  return centred.flatMap((one, i) =>
    centred.slice(i).flatMap((two) => {
      const raw = arms.map((_, arm) => one.ofArm[arm]! * two.ofArm[arm]!);
      const values = new Float64Array(effects);
      arms.forEach(({ cohort, effects: rows }, arm) => {
        const own = raw.filter((_, other) => arms[other]!.cohort === cohort);
        const mean = own.reduce((sum, value) => sum + value, 0) / own.length;
        for (const row of rows) values[row] = raw[arm]! - mean;
      });
      return values.every((value) => Math.abs(value) < 1e-9)
        ? []
        : [{ term: one === two ? `${one.label} squared` : `${one.label} × ${two.label}`, values }];
    }),
  );
};

/**
 * A posterior predictive check of the shape of the arms' means.
 *
 *   D = Σ_j s_j² / E(s_j² replicated)      s_j = q_jᵀ M⁻¹ (y − FXb)
 *
 * b is fitted, M the covariance with all spreads; q_j are the squares and products of the logarithms of the doses in use, less their
 * means over each study, so that s_j asks whether what the model leaves over still bends with a dose inside studies, or with one
 * dose where another is high. The size of what is left over is no part of it: the spread between arms grows until any
 * curve fits. Replicated files are drawn from the posterior (deviations, course, shapes, coefficients, then arms) and fitted in
 * their turn before they are measured, by a seeded stream.
 *
 * @param models of one posterior
 * @param effects how many
 * @source Gelman A, Meng XL, Stern H (1996) Statistica Sinica 6:733–807
 */
export const predictiveCheck = (
  models: readonly ComponentModel[],
  arms: readonly EvidenceArm[],
  doses: readonly CheckedDose[],
  effects: number,
): PredictiveCheck => {
  const terms = termsOf(arms, doses, effects);
  const stream = randomStream(1996);
  const scores: Readonly<{ found: readonly number[]; replicated: readonly number[] }>[] = [];
  let [reached, at] = [0, -1];
  for (let draw = 0; draw < replicates && terms.length > 0; draw++) {
    // Components in even steps of their weight.
    while (at < models.length - 1 && (at < 0 || reached < (draw + 0.5) / replicates))
      reached += models[(at += 1)]!.weight;
    const model = models[at]!;
    const r = model.columns;
    // β ~ N(b, P⁻¹), as L⁻ᵀ times standard normals.
    const beta = new Float64Array(r).map(() => stream.normal());
    for (let a = r - 1; a >= 0; a--) {
      let total = beta[a]!;
      for (let k = a + 1; k < r; k++) total -= model.factor[k * r + a]! * beta[k]!;
      beta[a] = total / model.factor[a * r + a]!;
    }
    const cross = new Float64Array(r);
    const made = model.blocks.map((block) => {
      const residuals = block.residuals.map((_, i) => {
        let total = stream.normal();
        for (let a = 0; a < r; a++) total += block.design[i * r + a]! * (model.mean[a]! + beta[a]!);
        for (let a = 0; a < r; a++) cross[a]! += total * block.design[i * r + a]!;
        return total;
      });
      return { ...block, residuals };
    });
    const mean = new Float64Array(r);
    solveFactored(model.factor, cross, mean);
    const errors = model.blocks.map((block) => blockErrors(block, model.mean));
    const replicated = made.map((block) => blockErrors(block, mean));
    const scored = terms.map(({ values }) => {
      const sums = [0, 0];
      model.blocks.forEach((block, b) =>
        forwardSolved(
          block.factor,
          Float64Array.from(block.rows, (row) => values[row]!),
        ).forEach((q, i) => {
          sums[0]! += q * errors[b]![i]!;
          sums[1]! += q * replicated[b]![i]!;
        }),
      );
      return sums.map((sum) => sum ** 2);
    });
    scores.push({
      found: scored.map(([found]) => found!),
      replicated: scored.map(([, one]) => one!),
    });
  }
  const mean = (of: (one: (typeof scores)[number]) => number): number =>
    scores.reduce((sum, one) => sum + of(one), 0) / scores.length;
  const usual = terms.map((_, j) => mean(({ replicated }) => replicated[j]!));
  const distance = (squares: readonly number[]): number =>
    squares.reduce((sum, square, j) => sum + square / usual[j]!, 0);
  const p =
    terms.length === 0
      ? 1
      : mean(({ found, replicated }) => (distance(replicated) >= distance(found) ? 1 : 0));
  return {
    p,
    misses: p < missesBelow,
    replicates: scores.length,
    terms: terms.map(({ term }, j) => ({
      term,
      ratio: mean(({ found }) => found[j]!) / usual[j]!,
    })),
  };
};
