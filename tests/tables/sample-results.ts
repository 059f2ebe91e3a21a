import type { Effect, EffectSet } from "../../src/effects/effect.js";
import type {
  Coefficient,
  MultilevelResult,
  PooledResult,
} from "../../src/synthesis/synthesis-results.js";

/** An invented effect of a 10 % gain (log ratio ln 1.1) with a standard error of 0.05. */
export const sampleEffect: Effect = {
  effectId: "elm-1",
  study: "Elm 2011",
  cohort: "Elm 2011",
  arm: "long holds",
  comparatorArm: "no training",
  scale: "log-ratio-of-means",
  contrast: "against-control",
  estimate: Math.log(1.1),
  variance: 0.0025,
  route: "means and standard deviations at both times",
  prePostCorrelation: 0.8,
  correlationSource: "documented default",
  participants: 24,
  row: {
    line: 2,
    notReported: [],
    study: "Elm 2011",
    arm: "long holds",
    outcome: "peak isometric torque",
    testAngleDegrees: 60,
    weekMeasured: 12,
  },
  notes: [{ code: "spread-kind-assumed", message: "from medians", study: "Elm 2011" }],
};

export const sampleEffectSet: EffectSet = {
  scale: "log-ratio-of-means",
  contrast: "against-control",
  effects: [sampleEffect],
  blocks: [],
  rowUses: [],
  assumptions: [
    { name: "pre–post correlation", value: 0.8, source: "documented default", effects: 1 },
  ],
  notes: [{ code: "few-studies", message: "one study only" }],
};

export const samplePooled: PooledResult = {
  estimate: Math.log(1.1),
  standardError: 0.02,
  interval: { low: Math.log(1.05), high: Math.log(1.152) },
  degreesOfFreedom: 9,
  p: 0.0004,
  predictionInterval: { low: Math.log(0.98), high: Math.log(1.235) },
  heterogeneity: {
    betweenVariance: 0.0123,
    betweenVarianceInterval: { low: 0.001, high: 0.05 },
    q: 27.31,
    qDegreesOfFreedom: 9,
    qP: 0.0012,
    iSquaredPercent: 67.04,
    iSquaredInterval: { low: 30, high: 85 },
    hSquared: 3.03,
  },
  weightsPercent: Array.from({ length: 10 }, () => 10),
  coefficients: [],
  omnibus: null,
  termTests: [],
  explainedPercent: null,
  effects: 10,
  studies: 10,
  story: {
    model: "random effects",
    heterogeneityEstimator: "restricted maximum likelihood",
    intervalMethod: "Hartung–Knapp",
    confidence: 0.95,
    assumptions: ["effects are independent given their study"],
    effectIds: [],
    notes: [
      {
        code: "one-study-dominates",
        message: "one study carries most of the weight",
        study: "Elm 2011",
      },
    ],
  },
};

/** Two studies: too few for a prediction interval or a variance between studies. */
export const samplePair: PooledResult = {
  ...samplePooled,
  predictionInterval: null,
  heterogeneity: {
    ...samplePooled.heterogeneity,
    betweenVariance: null,
    betweenVarianceInterval: null,
    iSquaredPercent: null,
    iSquaredInterval: null,
    q: null,
    qP: null,
  },
  effects: 2,
  studies: 2,
};

const coefficient = (term: string, estimate: number): Coefficient => ({
  term,
  estimate,
  standardError: 0.004,
  interval: { low: estimate - 0.01, high: estimate + 0.01 },
  degreesOfFreedom: Infinity,
  p: 0.04,
});

export const sampleMultilevel: MultilevelResult = {
  estimate: samplePooled.estimate,
  standardError: samplePooled.standardError,
  interval: samplePooled.interval,
  degreesOfFreedom: 9,
  p: 0.01,
  predictionInterval: null,
  varianceByLevel: { study: 0.0121, arm: 0 },
  varianceIntervals: { study: { low: 0.001, high: 0.04 } },
  iSquaredPercentByLevel: { study: 61.2, arm: 0 },
  heterogeneity: samplePooled.heterogeneity,
  coefficients: [coefficient("intercept", 0.0953), coefficient("weeks", 0.0101)],
  robust: {
    correction: "bias-reduced",
    clusters: 10,
    coefficients: [
      { ...coefficient("intercept", 0.0953), degreesOfFreedom: 6.4 },
      { ...coefficient("weeks", 0.0101), degreesOfFreedom: 5.1, p: 0.09 },
    ],
    omnibus: null,
    termTests: [],
  },
  omnibus: null,
  termTests: [],
  weightsPercent: Array.from({ length: 30 }, () => 100 / 30),
  explainedPercent: null,
  logLikelihood: -3,
  effects: 30,
  studies: 10,
  asked: {
    interval: "cluster-robust",
    robust: "bias-reduced-satterthwaite",
    predictionDegreesOfFreedom: "full",
  },
  story: samplePooled.story,
};
