/** How the gain follows a dose. Longer than most: one answer with everything that is read off it, and its words. */
import type { Contrast, EffectScale, EffectSet } from "../effects/effect.js";
import { contrastLabel, scaleLabel } from "../effects/scale-label.js";
import { CallError, type Note, type Refusal } from "../errors.js";
import { randomStream } from "../numeric/random-stream.js";
import { coefficient } from "../synthesis/inference.js";
import type { Interval, Story } from "../synthesis/synthesis-results.js";
import {
  componentHeight,
  evaluateCurve,
  type AveragedCurve,
  type CurvePoint,
} from "./averaged-curve.js";
import { inseparableWords, standings, type Inseparable, type Standing } from "./collinearity.js";
import type { ComparedShape } from "./compare-shapes.js";
import type { CurveUse } from "./curve-design.js";
import { curveDraws, simultaneousMultiple } from "./curve-draws.js";
import {
  curveGrid,
  gridDoses,
  toldDoses,
  usualStepPlaces,
  type CurveGridPoint,
} from "./curve-grid.js";
import { doseAxisOf, type DoseAxis, type DoseAxisName } from "./dose-axes.js";
import { doseData, type DoseData } from "./dose-data.js";
import type { DoseSupport } from "./dose-support.js";
import { everyPairInside } from "./every-pair-inside.js";
import { fitCurve, rangeOf } from "./fit-curve.js";
import { chooseComparisons, doseText, withinRefusal } from "./identifiability.js";
import { mixedModel, type MixedModel } from "./mixed-model.js";
import { readOffs, type CurveStretch, type ReadOffs } from "./read-offs.js";
import type { ShapeName } from "./shapes/shape.js";
import { shapes as everyShape, usualShapes } from "./shapes/shapes.js";
import { twoStageAverage } from "./two-stage-average.js";
import { twoStageCheck, type TwoStageCheck } from "./two-stage-check.js";
import { statedAmount, verdictOf, type Verdict } from "./verdict.js";
import {
  withinBetweenSlopeOf,
  type SlopeAnswer,
  type WithinBetweenSlope,
} from "./within-between-slope.js";

/** One effect as it stands on the axis. */
export type DosePoint = Readonly<{
  effectId: string;
  study: string;
  arm: string;
  dose: number;
  estimate: number;
  standardError: number;
  isMidpoint: boolean;
}>;

type DoseResponseBase = Readonly<{
  axis: DoseAxis;
  scale: EffectScale;
  contrast: Contrast;
  confidence: number;
  slopes: WithinBetweenSlope;
  support: DoseSupport;
  points: readonly DosePoint[];
  effects: number;
  studies: number;
  people: number;
  notes: readonly Note[];
}>;

/** The answer: a curve, with everything read off it. */
export type DoseCurve = DoseResponseBase &
  Readonly<{
    kind: "told";
    form: "one-stage" | "two-stage";
    evidence: CurveUse;
    /** Where the evidence comes from, in a plain sentence without a full stop. */
    evidenceWords: string;
    /** Doses the comparisons behind the curve reach. */
    range: Interval;
    shapes: readonly ComparedShape[];
    averaged: AveragedCurve;
    curve: readonly CurveGridPoint[];
    /** Each shape in the average, at the grid's supported doses. */
    shapeCurves: readonly Readonly<{
      shape: ShapeName;
      weight: number;
      heights: readonly number[];
    }>[];
    /** Multiple of the standard error that makes the simultaneous band. */
    simultaneousMultiple: number;
    readOffs: ReadOffs;
    /** What is said of the span by this question alone, so never favoured; absent where no amount counts. */
    verdict?: Verdict;
    standing?: Standing;
    twoStage: TwoStageCheck;
    varianceByLevel: Readonly<Record<string, number>>;
    story: Story;
  }>;

/** No curve, and what is missing for one. */
export type NoDoseCurve = DoseResponseBase & Refusal;

/** The curve, or what is missing for one. */
export type DoseResponse = DoseCurve | NoDoseCurve;

/** Where the evidence comes from, in a plain sentence without a full stop. */
export const doseEvidence = ({ axis, support }: DoseData, use: CurveUse): string => {
  if (use === "within studies") {
    return `the curve uses only the ${support.studiesWithin} of ${support.studies} studies that compared ${axis.label} directly; differences between studies cannot bend it, but what else those arms differed in can`;
  }
  if (use === "within and between together") {
    return `comparisons inside ${support.studiesWithin} studies and differences between ${support.studies} studies are taken together; the second kind is open to everything else in which studies differ`;
  }
  const missing = withinRefusal(support, axis)?.reason;
  return `the curve rests on differences between ${support.studies} studies only, which differ in much else besides${missing === undefined ? "" : ` (${missing})`}`;
};

/** The story of the curve: model, estimator, assumptions. */
export const doseStory = (
  data: DoseData,
  use: CurveUse,
  options: Readonly<{ confidence: number; form: string; seed: number; draws: number }>,
  model: MixedModel,
  notes: readonly Note[],
): Story => ({
  model: `${options.form} dose-response model of ${contrastLabel(data.contrast)} (${scaleLabel(data.scale)}) on ${data.axis.label} (${data.axis.definition}), random intercepts for ${model.levels.join(", ") || "nothing"}, known sampling covariances`,
  heterogeneityEstimator:
    "maximum likelihood to compare shapes, restricted maximum likelihood for the curves shown",
  intervalMethod: `bias-reduced cluster-robust errors by study with Satterthwaite degrees of freedom, the choice of shape included; simultaneous band and read-offs from ${String(options.draws).replace(/\B(?=(?:\d{3})+$)/gu, ",")} drawn curves (seed ${options.seed})`,
  confidence: options.confidence,
  assumptions: [
    use === "within studies"
      ? "the curve has the same form in every study, at a level of the study's own; studies' mean doses have a straight line of their own"
      : "studies that train at different doses would have gained the same at the same dose",
    "shapes are weighted by the information criterion for small samples, with the number of effects as its sample size",
    "the curve's level is the gain of the average study of the file, which holds learning and time as well as training where the effects are changes within an arm",
    "nothing is said about doses outside the range that was compared",
  ],
  effectIds: data.effects.map(({ effectId }) => effectId),
  notes,
});

/** A note where the slope between studies is not the slope inside them. */
export const contextNotes = (difference: SlopeAnswer, { axis }: DoseData): readonly Note[] =>
  difference.kind === "told" && difference.robust.p < 0.05
    ? [
        {
          code: "between-differs-from-within",
          message: `studies that train at a higher ${axis.label} differ in more than that: the slope between studies is not the slope inside them, and only the one inside is the dose's own`,
        },
      ]
    : [];

/** How a curve is fitted; every one can be left out. */
export type DoseResponseOptions = Readonly<{
  /** Shapes compared. */
  shapes?: readonly ShapeName[];
  /** Knots of the spline in the axis's unit; by percentile of the arms where not given. */
  knots?: readonly number[];
  /** Which comparisons the curve is made of; `best identified` takes those inside studies where it can. */
  comparisons?: CurveUse | "best identified";
  /**
   * `two-stage`: a curve for each study, then their average, for the first shape asked for that has no curved
   * parameter; its level is the one-stage model's.
   */
  form?: "one-stage" | "two-stage";
  confidence?: number;
  /** Doses at which a step is read off; the lowest, the middle and the highest dose with room for one where not given. */
  stepsFrom?: readonly number[];
  /** Length of the step in the axis's unit; the axis's own where not given. */
  step?: number;
  /** Difference that counts on the effects' scale; the family's own where not given. */
  amount?: number;
  /** How the dose stands to others of the file. */
  standing?: Standing;
  /** Seed of the drawn curves. */
  seed?: number;
  /** Number of drawn curves. */
  draws?: number;
}>;

/** What is taken where an option is left out. */
export const doseResponseDefaults = {
  shapes: usualShapes,
  comparisons: "best identified",
  form: "one-stage",
  confidence: 0.95,
  seed: 20251,
  draws: 2000,
} as const satisfies DoseResponseOptions;

/**
 * How the gain follows a dose: shapes compared and averaged, with bands, read-offs, or a refusal.
 *
 * One mixed model (random study, arm and effect, known sampling covariances) holds every shape. Where enough studies
 * compare doses head to head the curve is made of those comparisons alone, with the studies' mean doses kept
 * apart; otherwise it rests on differences between studies, and says so. Shapes are compared by maximum
 * likelihood and a small-sample criterion; the curve is their weighted average, its band holds the choice of shape.
 *
 * @param set    changes within arms, or arms against a control, of one outcome family
 * @param on     the axis
 * @throws {CallError} "unknown-axis", "between-arms", "unknown-shape", "bad-knots"
 * @source Crippa et al. (2019) Statistical Methods in Medical Research 28:1579–1596; Buckland, Burnham and
 *   Augustin (1997) Biometrics 53:603–618
 */
export const doseResponse = (
  set: EffectSet,
  on: DoseAxisName,
  options: DoseResponseOptions = {},
): DoseResponse => {
  const data = doseData(set, doseAxisOf(on));
  const amount = statedAmount(set.effects[0]?.row.outcomeFamily ?? "", set.scale);
  const [standing] = standings(set, [on]);
  return doseResponseOf(data, {
    ...(amount === undefined ? {} : { amount }),
    ...(standing === undefined ? {} : { standing }),
    ...options,
  });
};

type Resolved = DoseResponseOptions &
  Required<Omit<DoseResponseOptions, "knots" | "stepsFrom" | "step" | "amount" | "standing">>;

/**
 * The same for effects whose doses are already worked out.
 * @source none: the body of doseResponse
 */
export const doseResponseOf = (data: DoseData, options: DoseResponseOptions = {}): DoseResponse => {
  const resolved: Resolved = { ...doseResponseDefaults, ...options };
  for (const name of resolved.shapes) {
    if (!(name in everyShape)) {
      throw new CallError({
        code: "unknown-shape",
        where: "shapes of a dose curve",
        needs: `shapes among ${Object.keys(everyShape).join(", ")}`,
        got: `"${String(name)}"`,
      });
    }
  }
  const { axis, support } = data;
  const slopes = withinBetweenSlopeOf(data, { confidence: resolved.confidence });
  const base = {
    axis,
    scale: data.scale,
    contrast: data.contrast,
    confidence: resolved.confidence,
    slopes,
    support,
    points: data.effects.map((effect, row) => ({
      effectId: effect.effectId,
      study: effect.study,
      arm: effect.arm ?? effect.effectId,
      dose: data.doses[row]!,
      estimate: effect.estimate,
      standardError: Math.sqrt(effect.variance),
      isMidpoint: data.midpoints[row]!,
    })),
    effects: data.effects.length,
    studies: support.studies,
    people: data.people,
    notes: data.notes,
  };
  const use = chooseComparisons(data, resolved.comparisons);
  if (typeof use !== "string") return { ...base, ...use };
  const range = rangeOf(data, use);
  const model = mixedModel(data.effects, data.covariances);
  const fitted = fitCurve(data, use, model, resolved);
  const { compared, kept, components } = fitted;
  if (kept.length === 0) {
    return {
      ...base,
      kind: "refusal",
      code: "too-few-effects",
      reason: `no shape can be fitted on ${axis.label}: ${support.arms} arms in ${support.studies} studies are too few`,
    };
  }
  const notes: Note[] = [...data.notes];
  if (components.some(({ errors }) => errors === "of the model")) {
    notes.push({
      code: "model-errors",
      message:
        "some shapes rest on too few studies for errors robust by study; the model's own errors are used for them",
    });
  }
  let { averaged } = fitted;
  if (resolved.form === "two-stage") {
    const own = twoStageAverage(data, averaged, resolved.shapes, kept);
    if (own.kind === "refusal") return { ...base, ...own };
    averaged = own.averaged;
    notes.push(own.note);
  }
  const inside = gridDoses(range);
  const draws = curveDraws(averaged, inside, resolved.draws, randomStream(resolved.seed));
  const multiple = simultaneousMultiple(averaged, draws, resolved.confidence);
  const step = resolved.step ?? axis.step;
  const { amount, standing } = resolved;
  const read = readOffs(averaged, draws, {
    step,
    from: resolved.stepsFrom ?? usualStepPlaces(range, step),
    span: use === "within studies" ? support.linked! : range,
  });
  return {
    ...base,
    kind: "told",
    form: resolved.form,
    evidence: use,
    evidenceWords: doseEvidence(data, use),
    range,
    shapes: compared.map(({ row }) => row),
    averaged,
    curve: curveGrid(averaged, range, support, multiple),
    shapeCurves: averaged.components.map((component) => ({
      shape: component.shape,
      weight: component.weight,
      heights: toldDoses(range).map((dose) => componentHeight(component, averaged.context, dose)),
    })),
    simultaneousMultiple: multiple,
    readOffs: read,
    ...(amount === undefined
      ? {}
      : { verdict: curveVerdict(averaged, read.whole, use, amount, standing?.inseparable) }),
    ...(standing === undefined ? {} : { standing }),
    twoStage: twoStageCheck(data, resolved.confidence),
    varianceByLevel: components[0]!.fit.varianceByLevel,
    notes: [...notes, ...contextNotes(slopes.difference, data)],
    story: doseStory(data, use, resolved, model, notes),
  };
};

/** The verdict on a curve between two doses, asked by itself. */
const curveVerdict = (
  averaged: AveragedCurve,
  { from, to, added }: CurveStretch,
  use: CurveUse,
  amount: number,
  inseparable: Inseparable | undefined,
): Verdict => {
  const { estimate, standardError, degreesOfFreedom } = added;
  const { confidence } = averaged;
  const whole = coefficient("whole span", estimate, standardError, degreesOfFreedom, confidence);
  const inside = use === "within studies";
  return verdictOf({
    within: inside ? whole : undefined,
    between: whole,
    amount,
    // One question does not know of the others: what stands by itself is worth testing.
    adjustedP: 1,
    allInside: inside && everyPairInside(averaged, { low: from, high: to }, amount),
    inseparable: inseparable && inseparableWords(inseparable),
    level: 1 - confidence,
  });
};

/** The gain at one dose, or why it is not told. */
export type GainAt =
  | Readonly<{ kind: "told"; dose: number; point: CurvePoint }>
  | (Refusal & Readonly<{ dose: number }>);

/**
 * The gain a curve predicts at a dose, with its pointwise interval; outside the doses that were compared a refusal.
 *
 * @param answer from `doseResponse`
 * @param dose   in the axis's unit
 * @source none: reads evaluateCurve inside the compared range only
 */
export const gainAt = (answer: DoseCurve, dose: number): GainAt => {
  const { range, axis, averaged } = answer;
  if (!(dose >= range.low && dose <= range.high)) {
    return {
      kind: "refusal",
      code: "outside-doses",
      dose,
      reason: `${doseText(dose, axis)} lies outside the doses compared, ${doseText(range.low, axis)} to ${doseText(range.high, axis)}; nothing is said there`,
    };
  }
  return { kind: "told", dose, point: evaluateCurve(averaged, dose) };
};
