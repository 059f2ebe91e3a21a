/**
 * Small-sample information criterion and the weights it gives.
 *
 *   criterion = −2 ln L + 2k + 2k(k + 1)/(n − k − 1)      w_m = e^(−Δ_m/2) / Σ e^(−Δ/2)
 *   L = full likelihood at its maximum, k = coefficients, curved parameters and variances, n = effects
 *
 * n counts effects, the observations of the likelihood; k counts the variances too. Where n ≤ k + 1 the criterion has no value and the shape is not compared.
 *
 * @source Hurvich and Tsai (1989) Biometrika 76:297–307; Burnham and Anderson (2002) Model Selection and
 *   Multimodel Inference, section 2.9
 */
export const smallSampleCriterion = (
  logLikelihood: number,
  parameters: number,
  effects: number,
): number =>
  effects > parameters + 1
    ? -2 * logLikelihood +
      2 * parameters +
      (2 * parameters * (parameters + 1)) / (effects - parameters - 1)
    : Infinity;

/** Weights of finite criteria; zero for the others. */
export const criterionWeights = (criteria: readonly number[]): readonly number[] => {
  const lowest = Math.min(...criteria);
  if (lowest === Infinity) return criteria.map(() => 0);
  const shares = criteria.map((criterion) => Math.exp(-(criterion - lowest) / 2));
  const total = shares.reduce((sum, share) => sum + share, 0);
  return shares.map((share) => share / total);
};
