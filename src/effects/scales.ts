/**
 * What is known of each scale of effects, in one record each. A new scale is one record here
 * and its formula, named in `change-on-scale.ts`: the compiler points there until it is.
 */
/** A work that a formula rests on. */
export type MethodSource = Readonly<{ key: string; citation: string; doi?: string }>;

export type ScaleRecord = Readonly<{
  /** In plain words, with the denominator named. */
  label: string;
  /** Heading of a column of estimates. */
  heading: string;
  /** Unit of the number people see. */
  unit: string;
  /**
   * `log ratio`: the logarithm of a ratio, which people see as 100·(eˣ − 1) per cent; `deviations`: in standard
   * deviations; `raw`: in the outcome's own unit.
   */
  kind: "log ratio" | "deviations" | "raw";
  /** Whether it compares spreads, which have no direction of improvement. */
  ofSpread: boolean;
  source: MethodSource | undefined;
  /** Stands in for another scale where lower is better: a positive number is a fall, 100·(1 − e⁻ˣ) per cent. */
  falls?: true;
}>;

const standardised: MethodSource = {
  key: "Hedges 1981",
  citation:
    "Hedges LV (1981) Distribution theory for Glass's estimator of effect size and related estimators. Journal of Educational Statistics 6:107–128",
  doi: "10.3102/10769986006002107",
};
const variability: MethodSource = {
  key: "Nakagawa 2015",
  citation:
    "Nakagawa S and others (2015) Meta-analysis of variation: ecological and evolutionary applications and beyond. Methods in Ecology and Evolution 6:143–152",
  doi: "10.1111/2041-210X.12309",
};

const logRatio: MethodSource = {
  key: "Lajeunesse 2015",
  citation:
    "Lajeunesse MJ (2015) Bias and correction for the log response ratio in ecological meta-analysis. Ecology 96:2056–2063",
  doi: "10.1890/14-2402.1",
};

const records = {
  "log-ratio-of-means": {
    label: "log ratio of means (shown as percent change)",
    heading: "Change",
    unit: "%",
    kind: "log ratio",
    ofSpread: false,
    source: logRatio,
  },
  "log-ratio-of-means-where-lower-is-better": {
    label: "log ratio of means where lower is better (shown as the fall in percent)",
    heading: "Fall",
    unit: "%",
    kind: "log ratio",
    ofSpread: false,
    source: logRatio,
    falls: true,
  },
  "standardised-mean-change-baseline-deviation": {
    label: "standardised mean change, in standard deviations at baseline",
    heading: "Change",
    unit: "baseline standard deviations",
    kind: "deviations",
    ofSpread: false,
    source: standardised,
  },
  "standardised-mean-change-after-deviation": {
    label: "standardised mean change, in standard deviations after training",
    heading: "Change",
    unit: "standard deviations after training",
    kind: "deviations",
    ofSpread: false,
    source: standardised,
  },
  "standardised-mean-change-pooled-deviation": {
    label: "standardised mean change, in standard deviations pooled over before and after",
    heading: "Change",
    unit: "standard deviations of before and after",
    kind: "deviations",
    ofSpread: false,
    source: standardised,
  },
  "standardised-mean-change-change-deviation": {
    label: "standardised mean change, in standard deviations of the changes",
    heading: "Change",
    unit: "standard deviations of the changes",
    kind: "deviations",
    ofSpread: false,
    source: standardised,
  },
  "standardised-mean-difference": {
    label: "standardised mean difference, in pooled standard deviations",
    heading: "Difference",
    unit: "pooled standard deviations",
    kind: "deviations",
    ofSpread: false,
    source: standardised,
  },
  "raw-mean-difference": {
    label: "mean difference, in the outcome's own unit",
    heading: "Difference",
    unit: "outcome's unit",
    kind: "raw",
    ofSpread: false,
    source: undefined,
  },
  "log-variability-ratio": {
    label: "log ratio of standard deviations (no direction of improvement)",
    heading: "Change in standard deviation",
    unit: "%",
    kind: "log ratio",
    ofSpread: true,
    source: variability,
  },
  "log-coefficient-of-variation-ratio": {
    label: "log ratio of coefficients of variation (no direction of improvement)",
    heading: "Change in coefficient of variation",
    unit: "%",
    kind: "log ratio",
    ofSpread: true,
    source: variability,
  },
} as const satisfies Readonly<Record<string, ScaleRecord>>;

/** The scales an effect can stand on. Two scales are never pooled together. */
export type EffectScale = keyof typeof records;
export const scales: Readonly<Record<EffectScale, ScaleRecord>> = records;
/** The scales that can be asked for; one of falls is given where it fits. */
export const effectScales = Object.keys(records).filter(
  (scale) => scales[scale as EffectScale].falls !== true,
) as unknown as readonly [EffectScale, ...EffectScale[]];
