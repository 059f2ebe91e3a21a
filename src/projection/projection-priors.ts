/** Weakly informative priors of the projection model, on the log scale, with words to print. */
import { goalRecord, type ProjectionGoal } from "./goals.js";

/**
 * All on the log-ratio scale, where 0.1 is about 10%. Deviations are of normal priors, scales of half-normal ones.
 */
export type ProjectionPriors = Readonly<{
  /** Gain of a typical protocol after eight weeks. */
  averageMean: number;
  averageDeviation: number;
  /**
   * Of one column of a predictor: for a dose, what its logarithm gives for a factor of e (2.7); the other shapes have
   * the same prior of what lies between the least and the best dose studied.
   */
  slopeDeviation: number;
  /** Of logarithm of effort × logarithm of hold, where it is counted in; 0 leaves it out. */
  interactionDeviation: number;
  /** Of what studies that train harder differ by beyond their protocols; near zero, so that comparisons inside studies lead. */
  contextualDeviation: number;
  /** Of the loss when tested far from the trained angle. */
  angleDeviation: number;
  studyScale: number;
  armScale: number;
  effectScale: number;
  /** Of the spread of people's own response beyond what controls show. */
  individualScale: number;
  /** Weeks in which 63 % of the final gain is reached: median, and deviation of its logarithm. */
  weeksMedian: number;
  weeksLogDeviation: number;
}>;

/**
 * Default priors of a goal.
 *
 * The average is centred on no gain with a deviation u, the goal's usual gain: 0.3 (strength, tendon), 0.15 (size), 0.4 (rapid force);
 * slopes have u/2 for a factor of e of the dose, the product of effort's and hold's logarithms u/4, and what studies differ by beyond their protocols u/8; studies, arms and single readings scatter with half-normal
 * scales u/3, u/6 and u/6. Gains come fast at first: 63% of the final gain after a median of five weeks, between two and
 * sixteen weeks with 95% (a pooled model of knee-extension trials flattens near four weeks, Altan and others 2020; a
 * monthly trial still rises from the second to the third month, Kubo and others 2010).
 *
 * @source Gelman A (2006) Bayesian Analysis 1:515–534 for half-normal scales; sizes by the argument above
 */
export const projectionPriors = (goal: ProjectionGoal): ProjectionPriors => {
  const u = goalRecord(goal).usualGain;
  return {
    averageMean: 0,
    averageDeviation: u,
    slopeDeviation: u / 2,
    interactionDeviation: u / 4,
    contextualDeviation: u / 8,
    angleDeviation: u,
    studyScale: u / 3,
    armScale: u / 6,
    effectScale: u / 6,
    individualScale: u / 3,
    weeksMedian: 5,
    weeksLogDeviation: 0.6,
  };
};

const number = (value: number): string =>
  value === Infinity ? "flat" : String(Number(value.toPrecision(3)));

const normal = (deviation: number, mean = 0): string =>
  deviation === Infinity ? "flat" : `normal, mean ${number(mean)}, deviation ${number(deviation)}`;

const half = (scale: number): string =>
  scale === Infinity ? "flat from zero up" : `half-normal, scale ${number(scale)}`;

/** The priors in words, one line each; all on the log scale. */
export const priorWords = (
  priors: ProjectionPriors,
): readonly Readonly<{ of: string; prior: string }>[] => [
  {
    of: "gain of a typical protocol after eight weeks",
    prior: normal(priors.averageDeviation, priors.averageMean),
  },
  { of: "slope of a predictor", prior: normal(priors.slopeDeviation) },
  {
    of: "intensity that counts more or less in longer holds",
    prior:
      priors.interactionDeviation === 0
        ? "left out"
        : `in half of the models, ${normal(priors.interactionDeviation)}`,
  },
  {
    of: "what studies differ by beyond their protocols",
    prior: priors.contextualDeviation === 0 ? "left out" : normal(priors.contextualDeviation),
  },
  { of: "loss far from the trained angle", prior: normal(priors.angleDeviation) },
  { of: "spread between studies", prior: half(priors.studyScale) },
  { of: "spread between arms of a study", prior: half(priors.armScale) },
  { of: "spread between readings of an arm", prior: half(priors.effectScale) },
  { of: "spread of people's own response", prior: half(priors.individualScale) },
  {
    of: "weeks to 63% of the final gain",
    prior: `log-normal, median ${number(priors.weeksMedian)}, deviation of the logarithm ${number(priors.weeksLogDeviation)}`,
  },
];
