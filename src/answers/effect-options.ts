/** Options that every question of a file takes: which rows, which scale and contrast, and what is assumed. */
import {
  effectsChoices,
  effectsDefaults,
  type EffectsOptions,
} from "../effects/effects-options.js";
import { contrasts, effectScales, type Contrast } from "../effects/effect.js";
import { contrastShortLabel, scaleLabel } from "../effects/scale-label.js";
import { aNumber, oneOf, option, someOf, text } from "./option.js";
import type { EvidenceEffectsOptions } from "./evidence.js";
import type { Options } from "./question.js";

const share = { above: -1, below: 1, needs: "a number above −1 and below 1" } as const;
const shared = { least: 0, below: 1, needs: "a number of 0 or more and below 1" } as const;

/** A correlation assumed between changes of the same people. */
const between = (
  name:
    | "outcomesCorrelation"
    | "anglesCorrelation"
    | "sitesCorrelation"
    | "timesCorrelation"
    | "limbsCorrelation"
    | "periodsCorrelation"
    | "limbsBaselineCorrelation",
  what: string,
) =>
  option(aNumber(shared).default(effectsDefaults[name]), {
    help: `assumed correlation between ${what}`,
    value: "<number>",
    seldom: true,
  });

/** Coverage of every interval. */
export const confidenceOption = option(
  aNumber({
    above: 0,
    below: 1,
    needs: "a share above 0 and below 1, for example 0.95",
  }).default(0.95),
  { help: "coverage of the intervals", value: "<share>" },
);

/** Which rows, and what a deviation of change is taken from. */
export const rowShape = {
  where: option(text().optional(), {
    help: "use only these rows, e.g. outcome_family=strength, weeks between 8 and 12, tension per session>=60, near maximal share=100",
    value: "<conditions>",
    label: "rows",
  }),
  correlation: option(aNumber(share).optional(), {
    help: "one pre–post correlation for all effects, in place of each one's own",
    value: "<number>",
  }),
};

/** Everything else that rows become effects by. */
export const assumptionShape = {
  armKinds: option(someOf(effectsChoices.armKinds).default(effectsDefaults.armKinds), {
    help: "kinds of arm whose gains are wanted",
    value: "<kinds>",
    seldom: true,
  }),
  testSides: option(someOf(effectsChoices.testSides).default(effectsDefaults.testSides), {
    help: "sides tested",
    value: "<sides>",
    seldom: true,
  }),
  logRatioOrder: option(
    oneOf(effectsChoices.logRatioOrder).default(effectsDefaults.logRatioOrder),
    { help: "expansion of the log ratio of means", value: "<order>", seldom: true },
  ),
  standardisedVarianceForm: option(
    oneOf(effectsChoices.standardisedVarianceForm).default(
      effectsDefaults.standardisedVarianceForm,
    ),
    { help: "variance of standardised differences", value: "<form>", seldom: true },
  ),
  smallSampleFactor: option(
    oneOf(effectsChoices.smallSampleFactor).default(effectsDefaults.smallSampleFactor),
    { help: "small-sample factor of standardised differences", value: "<form>", seldom: true },
  ),
  standardisedDifferenceOf: option(
    oneOf(effectsChoices.standardisedDifferenceOf).default(
      effectsDefaults.standardisedDifferenceOf,
    ),
    {
      help: "what a standardised difference between arms is one of",
      value: "<what>",
      seldom: true,
    },
  ),
  baselineDenominator: option(
    oneOf(effectsChoices.baselineDenominator).default(effectsDefaults.baselineDenominator),
    {
      help: "deviation that two arms' changes are divided by",
      value: "<denominator>",
      seldom: true,
    },
  ),
  armPairs: option(oneOf(effectsChoices.armPairs).default(effectsDefaults.armPairs), {
    help: "which training arms are compared with each other",
    value: "<pairs>",
    seldom: true,
  }),
  borrowedSpread: option(
    oneOf(effectsChoices.borrowedSpread).default(effectsDefaults.borrowedSpread),
    {
      help: "spread that log ratios of rows without one borrow from like studies of the file; none leaves such rows out",
      value: "<which>",
    },
  ),
  defaultCorrelation: option(aNumber(share).default(effectsDefaults.defaultPrePostCorrelation), {
    help: "pre–post correlation where nothing prints, implies or lends one",
    value: "<number>",
    seldom: true,
  }),
  defaultCorrelationOfSymptoms: option(
    aNumber(share).default(effectsDefaults.defaultPrePostCorrelationOfSymptoms),
    { help: "the same for symptoms", value: "<number>", seldom: true },
  ),
  studiesNeededToBorrow: option(
    aNumber({ least: 1, whole: true, needs: "a whole number of 1 or more" }).default(
      effectsDefaults.studiesNeededToBorrow,
    ),
    {
      help: "like studies needed before a correlation is borrowed",
      value: "<number>",
      seldom: true,
    },
  ),
  studiesNeededToBorrowApart: option(
    aNumber({ least: 1, whole: true, needs: "a whole number of 1 or more" }).default(
      effectsDefaults.studiesNeededToBorrowApart,
    ),
    {
      help: "lending studies of each kind before trained arms and controls borrow apart",
      value: "<number>",
      seldom: true,
    },
  ),
  fewPeople: option(
    aNumber({ least: 0, needs: "a number of 0 or more" }).default(effectsDefaults.fewPeople),
    {
      help: "groups of fewer people have their variance widened",
      value: "<people>",
      seldom: true,
    },
  ),
  baselineGapNoted: option(
    aNumber({ least: 0, needs: "a number of 0 or more" }).default(effectsDefaults.baselineGapNoted),
    {
      help: "standard deviations two arms may stand apart before training without a note",
      value: "<number>",
      seldom: true,
    },
  ),
  outcomesCorrelation: between("outcomesCorrelation", "changes of two outcomes of the same people"),
  anglesCorrelation: between("anglesCorrelation", "changes at two test angles"),
  sitesCorrelation: between("sitesCorrelation", "changes at two measurement sites"),
  timesCorrelation: between("timesCorrelation", "changes at two times"),
  limbsCorrelation: between("limbsCorrelation", "changes of two limbs of the same people"),
  periodsCorrelation: between("periodsCorrelation", "changes in two periods of a crossover"),
  limbsBaselineCorrelation: between("limbsBaselineCorrelation", "two limbs before training"),
  outcomeCorrelations: option(oneOf(["assumed", "none"]).default("assumed"), {
    help: "whether effects that share people are taken as correlated",
    value: "<choice>",
    seldom: true,
  }),
};

export const scaleOption = option(oneOf(effectsChoices.scale).default(effectsDefaults.scale), {
  help: "scale of the effects",
  value: "<scale>",
  labels: Object.fromEntries(effectScales.map((scale) => [scale, scaleLabel(scale)])),
});

const contrastLabels = Object.fromEntries(
  contrasts.map((contrast) => [contrast, contrastShortLabel(contrast)]),
);

export const contrastOption = option(
  oneOf(effectsChoices.contrast).default(effectsDefaults.contrast),
  {
    help: "what is compared",
    value: "<contrast>",
    labels: contrastLabels,
  },
);

/** The contrasts in which every effect has one dose of its own. */
export const gainContrastOption = option(
  oneOf(
    effectsChoices.contrast.filter(
      (contrast) => contrast !== "between-arms",
    ) as unknown as readonly [
      Exclude<Contrast, "between-arms">,
      ...Exclude<Contrast, "between-arms">[],
    ],
  ).default(effectsDefaults.contrast),
  { help: "what is compared", value: "<contrast>", labels: contrastLabels },
);

/** Rows, scale, contrast, assumptions and confidence. */
export const effectShape = {
  scale: scaleOption,
  contrast: contrastOption,
  ...rowShape,
  confidence: confidenceOption,
  ...assumptionShape,
};

/** What a question was asked about rows, scale, contrast and assumptions. */
export type EffectChoices = Options<typeof rowShape> &
  Options<typeof assumptionShape> &
  Required<Pick<EffectsOptions, "scale" | "contrast">>;

/** A question's options as the effects take them. */
export const effectsOptionsOf = (chosen: EffectChoices): EvidenceEffectsOptions => ({
  where: chosen.where,
  outcomeCorrelations: chosen.outcomeCorrelations,
  scale: chosen.scale,
  contrast: chosen.contrast,
  prePostCorrelation: chosen.correlation,
  defaultPrePostCorrelation: chosen.defaultCorrelation,
  defaultPrePostCorrelationOfSymptoms: chosen.defaultCorrelationOfSymptoms,
  studiesNeededToBorrow: chosen.studiesNeededToBorrow,
  studiesNeededToBorrowApart: chosen.studiesNeededToBorrowApart,
  fewPeople: chosen.fewPeople,
  baselineGapNoted: chosen.baselineGapNoted,
  outcomesCorrelation: chosen.outcomesCorrelation,
  anglesCorrelation: chosen.anglesCorrelation,
  sitesCorrelation: chosen.sitesCorrelation,
  timesCorrelation: chosen.timesCorrelation,
  limbsCorrelation: chosen.limbsCorrelation,
  periodsCorrelation: chosen.periodsCorrelation,
  limbsBaselineCorrelation: chosen.limbsBaselineCorrelation,
  armKinds: chosen.armKinds,
  testSides: chosen.testSides,
  logRatioOrder: chosen.logRatioOrder,
  standardisedVarianceForm: chosen.standardisedVarianceForm,
  smallSampleFactor: chosen.smallSampleFactor,
  standardisedDifferenceOf: chosen.standardisedDifferenceOf,
  baselineDenominator: chosen.baselineDenominator,
  armPairs: chosen.armPairs,
  borrowedSpread: chosen.borrowedSpread,
});
