/** Everything about a file that a projection needs and that does not depend on the protocol. */
import { CallError, type Note, type Refusal } from "../errors.js";
import { effectSubset } from "../effects/effect-subset.js";
import type { EffectSet } from "../effects/effect.js";
import { contrastLabel } from "../effects/scale-label.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import { effectInputs } from "../synthesis/effect-inputs.js";
import { resolveLevels } from "../synthesis/level-groups.js";
import type { MultilevelLevel } from "../synthesis/multilevel-options.js";
import { condensedWithin, type CondensedPosterior } from "./condensed-posterior.js";
import {
  bayesianRegression,
  type DeviationPrior,
  type QuadratureOptions,
  type RegressionPosterior,
  type RegressionPriors,
  type RegressionProblem,
} from "./bayesian-regression.js";
import {
  effectsForGoal,
  goalRecord,
  sameAngleWithinDegrees,
  testDistanceDegrees,
  type ProjectionGoal,
} from "./goals.js";
import {
  individualResponse,
  responseComparisons,
  type IndividualResponse,
} from "./individual-response.js";
import type { TestError } from "../records/outcome-families.js";
import { projectionDesign, withShapeWeights, type ProjectionDesign } from "./projection-design.js";
import { componentModels } from "./component-models.js";
import { leftOutInTurn, type LeftOutInTurn } from "./left-out-in-turn.js";
import { predictiveCheck, type PredictiveCheck } from "./predictive-check.js";
import { predictors } from "./predictors.js";
import { priorWords, projectionPriors, type ProjectionPriors } from "./projection-priors.js";
import { projectionShapes, type ProjectionShape } from "./projection-shapes.js";
import { checkedRows, shapeAverage } from "./shape-average.js";
import { evidenceArms, type EvidenceArm } from "./support.js";
import { referenceWeeks, weeksCurve } from "./weeks-curve.js";

export type PrepareProjectionOptions = Readonly<{
  goal: ProjectionGoal;
  /** Any of the priors, in place of the goal's default. */
  priors?: Partial<ProjectionPriors>;
  /** Rows with the control arms, from which the spread of people's own response is read; absent: the prior alone. */
  rows?: readonly OutcomeRow[];
  /** In place of what `rows` say. */
  individual?: IndividualResponse;
  /** Typical error of one measurement on the log scale, in place of the published one. */
  measurementError?: TestError;
  /** Fewest studies on which anything is projected. */
  fewestStudies?: number;
  quadrature?: QuadratureOptions;
  /** Shapes in which each dose may enter; with one of them the model is that one regression. */
  shapes?: readonly ProjectionShape[];
}>;
export const prepareProjectionDefaults = { fewestStudies: 3 } as const;

/** Levels that scatter, with words; in this order in the posterior's deviations where they could be fitted. */
export const projectionLevels = [
  "study",
  "arm",
  "effect_id",
] as const satisfies readonly MultilevelLevel[];

export type ReadyProjection = Readonly<{
  kind: "ready";
  goal: ProjectionGoal;
  contrast: EffectSet["contrast"];
  contrastWords: string;
  /** The effects used, in order, with their covariances. */
  set: EffectSet;
  /** The posterior in a few hundred components. */
  posterior: CondensedPosterior;
  quadrature: RegressionPosterior["quadrature"] &
    Readonly<{
      components: number;
      /** Models averaged; 1 where each dose has one shape. */
      models: number;
      /** Of a single model's components. */
      largestCondensingError?: number;
    }>;
  /** Levels of the posterior's deviations. */
  levels: readonly string[];
  design: ProjectionDesign;
  priors: ProjectionPriors;
  priorWords: ReturnType<typeof priorWords>;
  arms: readonly EvidenceArm[];
  individual: IndividualResponse;
  measurement?: TestError;
  /** Whether weeks differ between effects, so that the course is not the prior's alone. */
  courseIsIdentified: boolean;
  weeksStudied: Readonly<{ low: number; high: number; usual: number }>;
  /** Whether the model misses the arms it was fitted to. */
  check: PredictiveCheck;
  /** Each trial predicted from the others. */
  leftOut: LeftOutInTurn;
  /** Distance at which strength elsewhere is projected unless told otherwise, degrees. */
  usualTestDistance?: number;
  effects: number;
  studies: number;
  people: number;
  notes: readonly Note[];
}>;

export type RefusedProjection = Refusal &
  Readonly<{ goal: ProjectionGoal; notes: readonly Note[] }>;

/** A file made ready for projections towards one goal, or what is missing. */
export type PreparedProjection = ReadyProjection | RefusedProjection;

const where = "prepareProjection";

const halfNormal = (scale: number): DeviationPrior =>
  scale === Infinity ? { kind: "flat", scale: 0.1 } : { kind: "half-normal", scale };

const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor((values.length - 1) / 2)]!;

/**
 * A file made ready for projections towards one goal: the refit that is needed when the file changes.
 *
 *   y = g(w; c)·(xβ + study + arm + reading) + e      e ~ N(0, V), V with the covariances of shared people
 *
 * y is the log ratio, g the course over weeks (0 at the start, 1 at eight weeks), x the predictors the file can
 * speak about, each dose in every shape it may have, averaged by their evidence (`shapeAverage`). Study, arm and reading deviations grow with the gain, since groups cannot differ before they
 * train. Coefficients have normal priors, deviations half-normal ones, c a log-normal one; all are integrated over.
 *
 * @param set effects on the log-ratio scale, one contrast; other families than the goal's are left aside
 * @returns what `projectProtocol` and `compareProtocols` take; a refusal when the file says too little
 * @throws {CallError} "wrong-scale" for effects that are not log ratios of means
 * @throws {ConvergenceError} when the quadrature does not settle
 * @source Lindley DV, Smith AFM (1972); Gelman A (2006) Bayesian Analysis 1:515–534 (half-normal and half-t priors of deviations)
 */
export const prepareProjection = (
  set: EffectSet,
  options: PrepareProjectionOptions,
): PreparedProjection => {
  const { goal } = options;
  if (set.scale !== "log-ratio-of-means") {
    throw new CallError({
      code: "wrong-scale",
      where,
      needs: "effects on the scale log-ratio-of-means, which reads as percent",
      got: set.scale,
    });
  }
  const priors = { ...projectionPriors(goal), ...options.priors };
  const fewest = options.fewestStudies ?? prepareProjectionDefaults.fewestStudies;
  const ofGoal = effectsForGoal(set, goal);
  // A flat prior has no evidence to weigh shapes by.
  const shapes: readonly ProjectionShape[] =
    options.shapes ?? (priors.slopeDeviation === Infinity ? ["logarithm"] : projectionShapes);
  const design = projectionDesign(ofGoal.effects, goal, priors, shapes);
  const chosen = new Set(design.used.map((position) => ofGoal.effects[position]!));
  const used: EffectSet = effectSubset(ofGoal, (effect) => chosen.has(effect));
  const studies = new Set(used.effects.map(({ cohort }) => cohort)).size;
  if (studies < fewest) {
    return {
      kind: "refusal",
      code: ofGoal.effects.length === 0 ? "no-effects" : "few-studies",
      goal,
      reason:
        ofGoal.effects.length === 0
          ? `the file has no effect for the goal "${goal}" (${contrastLabel(set.contrast)})`
          : `the goal "${goal}" has usable effects of ${studies} ${studies === 1 ? "study" : "studies"} (${contrastLabel(set.contrast)}); fewer than ${fewest} say too little about how studies differ`,
      notes: design.notes,
    };
  }
  const inputs = effectInputs(used);
  const levels = resolveLevels(inputs.effects, projectionLevels);
  const scales: Readonly<Record<string, number>> = {
    study: priors.studyScale,
    arm: priors.armScale,
    effect_id: priors.effectScale,
  };
  const weeks = design.weeks;
  const courseIsIdentified = weeks.some((week) => week !== weeks[0]);
  const problem: RegressionProblem = {
    estimates: inputs.effects.map(({ estimate }) => estimate),
    variances: inputs.effects.map(({ variance }) => variance),
    covariances: inputs.covariances,
    design: design.design,
    intercepts: levels.fitted.map(({ level, groupOf }) => ({ name: level, groupOf })),
    curve: curveOver(weeks),
  };
  const regressionPriors: RegressionPriors = {
    coefficients: design.priors,
    deviations: levels.fitted.map(({ level }) => halfNormal(scales[level]!)),
    logParameter: { mean: Math.log(priors.weeksMedian), deviation: priors.weeksLogDeviation },
  };
  const fitted =
    design.choices.length === 0
      ? oneModel(problem, regressionPriors, options.quadrature)
      : shapeAverage(problem, regressionPriors, design.choices, options.quadrature);
  const { family, testError } = goalRecord(goal);
  const individual =
    options.individual ??
    individualResponse(
      responseComparisons(
        (options.rows ?? []).filter(({ outcomeFamily }) => outcomeFamily === family),
      ),
      priors.individualScale,
    );
  const measurement = options.measurementError ?? largerError(testError, fromControls(individual));
  const arms = evidenceArms(used.effects);
  const models = componentModels(problem, design.priors, design.choices, fitted.posterior);
  const check = predictiveCheck(
    models,
    arms,
    predictors.flatMap((one) =>
      one.kind === "number" && one.shaped && design.predictors.some(({ name }) => name === one.name)
        ? [
            {
              label: one.label,
              ofArm: arms.map(({ effects }) =>
                one.column(one.ofRow(used.effects[effects[0]!]!.row)!),
              ),
            },
          ]
        : [],
    ),
    used.effects.length,
  );
  const distances = used.effects
    .flatMap(({ row }) => testDistanceDegrees(row) ?? [])
    .filter((distance) => distance > sameAngleWithinDegrees);
  const armWeeks = arms.flatMap(({ place }) => place.weeks ?? []);
  const people = peopleOf(arms);
  const notes: Note[] = [...design.notes, ...levels.notes];
  if (goal === "strength at the trained angle") notes.push(...angleNotes(used));
  if (studies < 10) {
    notes.push({
      code: "few-studies",
      message: `${studies} studies: how far new studies fall from the average rests in good part on the prior`,
    });
  }
  if (!courseIsIdentified) {
    notes.push({
      code: "one-time",
      message: `all effects were measured at ${weeks[0]!} weeks: the course over weeks is the prior's alone`,
    });
  }
  if (check.misses) {
    notes.push({
      code: "model-misses-arms",
      message: `the model misses the arms of the file (p ${check.p.toFixed(2)} that trials made up by it stray as far), so no protocol is called better by it`,
    });
  }
  if (measurement === undefined) {
    notes.push({
      code: "no-measurement-error",
      message:
        "no typical error of this test was read and the file's controls give none: the range of a single person leaves measurement error out and is too narrow",
    });
  }
  return {
    kind: "ready",
    goal,
    contrast: set.contrast,
    contrastWords: contrastLabel(set.contrast),
    set: used,
    posterior: fitted.posterior,
    quadrature: {
      ...fitted.quadrature,
      components: fitted.posterior.weights.length,
      models: fitted.models,
    },
    levels: levels.fitted.map(({ level }) => level),
    design: withShapeWeights(design, fitted.weights),
    priors,
    priorWords: priorWords(priors),
    arms,
    individual,
    ...(measurement === undefined ? {} : { measurement }),
    check,
    leftOut: leftOutInTurn(models, arms, problem.estimates),
    courseIsIdentified,
    weeksStudied: {
      low: Math.min(...weeks),
      high: Math.max(...weeks),
      usual: median(armWeeks),
    },
    ...(goal === "strength elsewhere"
      ? { usualTestDistance: distances.length === 0 ? sameAngleWithinDegrees : median(distances) }
      : {}),
    effects: used.effects.length,
    studies,
    people,
    notes,
  };
};

const oneModel = (
  problem: RegressionProblem,
  priors: RegressionPriors,
  quadrature: QuadratureOptions = {},
) => {
  const checked = checkedRows(problem.design);
  const posterior = bayesianRegression(problem, priors, { checkedRows: checked, ...quadrature });
  const typical = Float64Array.from({ length: posterior.columns }, (_, a) => (a === 0 ? 1 : 0));
  const { condensed, largestError } = condensedWithin(
    posterior,
    [typical, ...checked.slice(0, 3)],
    [referenceWeeks / 4, referenceWeeks, 1.75 * referenceWeeks].map(
      (week) => (constant: number) => weeksCurve(week, constant),
    ),
    condensingTolerance,
  );
  return {
    posterior: condensed,
    weights: [],
    models: 1,
    quadrature: { ...posterior.quadrature, largestCondensingError: largestError },
  };
};

/** Largest error that drawing the posterior together may make on the quantiles watched, log scale. */
const condensingTolerance = 1e-4;

/** The course's factor at each of some weeks; equal weeks, of which a file has many, are worked out once. */
const curveOver = (weeks: Float64Array): ((constant: number) => Float64Array) => {
  const distinct = [...new Set(weeks)];
  const placeOf = Int32Array.from(weeks, (week) => distinct.indexOf(week));
  return (constant) => {
    const factors = distinct.map((week) => weeksCurve(week, constant));
    return Float64Array.from(placeOf, (place) => factors[place]!);
  };
};

/**
 * The larger of the published error and what the file's controls show: a person's range is never narrower than the
 * test can see, nor than people vary who do not train.
 */
const largerError = (
  published: TestError | undefined,
  controls: TestError | undefined,
): TestError | undefined => {
  if (published === undefined || controls === undefined) return published ?? controls;
  return controls.deviation > published.deviation ? controls : published;
};

const fromControls = ({ controlDeviation }: IndividualResponse): TestError | undefined =>
  controlDeviation === undefined
    ? undefined
    : {
        deviation: controlDeviation / Math.SQRT2,
        source:
          "the spread of changes in the file's control arms over the root of two: measurement error and everyday variation together",
      };

/** People summed over arms; limbs of the same people count with each arm. */
const peopleOf = (arms: readonly EvidenceArm[]): number =>
  arms.reduce((sum, { participants }) => sum + participants, 0);

const angleNotes = ({ effects }: EffectSet): readonly Note[] => {
  const unknown = effects.filter(({ row }) => testDistanceDegrees(row) === undefined).length;
  return unknown === 0
    ? []
    : [
        {
          code: "angle-not-coded",
          message: `${unknown} of ${effects.length} effects do not code both the trained and the test angle; they are taken as tests at the trained angle`,
        },
      ];
};
