/** Every way of estimating the between variance, by name: a new one is a file, a line and a check. */
import type { HeterogeneityEstimator } from "../weighted-problem.js";
import { dersimonianLaird, hedgesOlkin, hunterSchmidt, sidikJonkman } from "./moments.js";
import { maximumLikelihood, restrictedMaximumLikelihood } from "./likelihood.js";
import { pauleMandel } from "./paule-mandel.js";

export const heterogeneityEstimators = {
  "restricted-maximum-likelihood": restrictedMaximumLikelihood,
  "maximum-likelihood": maximumLikelihood,
  "dersimonian-laird": dersimonianLaird,
  "paule-mandel": pauleMandel,
  "hedges-olkin": hedgesOlkin,
  "sidik-jonkman": sidikJonkman,
  "hunter-schmidt": hunterSchmidt,
} as const satisfies Readonly<Record<string, HeterogeneityEstimator>>;

export type HeterogeneityName = keyof typeof heterogeneityEstimators;
