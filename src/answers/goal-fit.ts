/** What a file says of a goal, fitted once for every question about protocols, and the options they share. */
import * as z from "zod";
import { effectSubset } from "../effects/effect-subset.js";
import type { EffectSet } from "../effects/effect.js";
import { refusal, type Refusal } from "../errors.js";
import type { CompareOptions } from "../projection/compare-protocols.js";
import {
  effectsForGoal,
  goalOf,
  goalRecord,
  projectionGoals,
  sameAngleWithinDegrees,
  type ProjectionGoal,
} from "../projection/goals.js";
import { prepareProjection, type ReadyProjection } from "../projection/prepare-projection.js";
import type { ProjectOptions } from "../projection/placed-protocol.js";
import { projectProtocol } from "../projection/project-protocol.js";
import { toldParts } from "../projection/told-parts.js";
import { trainingStatuses } from "../records/people-fields.js";
import { projectionPriors, type ProjectionPriors } from "../projection/projection-priors.js";
import { kebabName } from "../tables/dose-table.js";
import { counted } from "../tables/number-format.js";
import { predictorsTable, priorsTable } from "../tables/projection-basis-table.js";
import { projectionAnswer, projectionRefusalAnswer } from "../tables/projection-table.js";
import { folded, type Table } from "../tables/table.js";
import { curvesOf } from "./curve-spans.js";
import { preparedFor } from "./prepared.js";
import { effectShape, effectsOptionsOf, gainContrastOption } from "./effect-options.js";
import { chosenRows, effectsOf, type Evidence } from "./evidence.js";
import {
  headlineGroups,
  headlineOf,
  lastAtEveryAngle,
  type HeadlineGroup,
} from "./headline-selection.js";
import { aNumber, kebab, oneOf, option, plainWord, unread } from "./option.js";
import { profileOption } from "./profile.js";
import { notWeighted, type NotWeighted } from "./not-weighted.js";
import { borrowedSentences, leftOut, rowsOfGroup } from "./outcome-groups.js";
import type { Options, Tell } from "./question.js";
import { atBothEnds, jointOption } from "./session.js";
import { withoutTraining, type WithoutTraining } from "../projection/without-training.js";
import { unsettled } from "./unsettled.js";

type PriorName = keyof ProjectionPriors;

const priorNames = Object.keys(projectionPriors("size")) as readonly PriorName[];

/** Priors that may be anything, that may not be flat, and that may be zero. */
const mayBeAnything: readonly string[] = ["averageMean"] satisfies PriorName[];
const mayNotBeFlat: readonly string[] = [
  "averageMean",
  "interactionDeviation",
  "individualScale",
  "weeksMedian",
  "weeksLogDeviation",
] satisfies PriorName[];
const mayBeZero: readonly string[] = [
  "contextualDeviation",
  "interactionDeviation",
] satisfies PriorName[];

/** One prior as it was changed, `slope-deviation=0.2`; `flat` where a prior can be. */
const changedPrior = (written: string, value: unknown): readonly [PriorName, number | "flat"] => {
  const name = priorNames.find((one) => plainWord(one) === plainWord(written));
  if (name === undefined)
    return unread(
      `name=value with a name out of ${priorNames.map(kebab).join(", ")}`,
      written,
      undefined,
      "unknown-prior",
    );
  const text = String(value).trim().replace(",", ".");
  if (text === "flat" && !mayNotBeFlat.includes(name)) return [name, "flat"];
  const number = text === "" ? NaN : Number(text);
  const isSound =
    Number.isFinite(number) &&
    (mayBeAnything.includes(name) || number > 0 || (number === 0 && mayBeZero.includes(name)));
  return isSound
    ? [name, number]
    : unread(
        `${kebab(name)}= and ${mayBeAnything.includes(name) ? "a number" : "a number above 0"} on the log scale${mayNotBeFlat.includes(name) ? "" : ", or flat"}`,
        text,
        undefined,
        "out-of-range",
      );
};

const priorChanges = z.preprocess(
  (value) => {
    const list = typeof value === "string" ? [value] : value;
    if (Array.isArray(list))
      return Object.fromEntries(
        list.map((one) => {
          const [name = "", ...rest] = String(one).split("=");
          return changedPrior(name, rest.join("="));
        }),
      );
    return typeof value === "object" && value !== null
      ? Object.fromEntries(Object.entries(value).map(([name, one]) => changedPrior(name, one)))
      : value;
  },
  z.record(z.string(), z.union([z.number(), z.literal("flat")])).default({}),
);

/** What training may be for, for those who offer it. */
export { projectionGoals, type ProjectionGoal };

const goalNamed = (value: unknown): unknown => (typeof value === "string" ? goalOf(value) : value);
const goalNames = z.enum(projectionGoals as [ProjectionGoal, ...ProjectionGoal[]]);
const goalWords = (help: string) => ({
  help: `${help}: ${projectionGoals.join(", ")}`,
  value: "<goal>",
});

/** A goal that may be left out. */
export const anyGoalOption = (help: string) =>
  option(z.preprocess(goalNamed, goalNames.optional()), goalWords(help));

const fitShape = {
  goal: option(
    z.preprocess(goalNamed, goalNames.default("strength at the trained angle")),
    goalWords("what the training is for"),
  ),
  ...effectShape,
  contrast: gainContrastOption,
  prior: option(priorChanges, {
    help: "change one prior (more than once for several), e.g. slope-deviation=0.2",
    value: "<name=value>",
    repeats: true,
    seldom: true,
  }),
};
const { confidence: _ofTheMoment, ...lasting } = fitShape;
const lastingNames = Object.keys(lasting) as readonly (keyof typeof lasting)[];

/** Options that every question about what to expect of a protocol takes. */
export const goalShape = {
  ...fitShape,
  joint: jointOption,
  trainingStatus: option(oneOf(trainingStatuses).optional(), {
    help: `of the people it is for: ${trainingStatuses.join(", ")}`,
    value: "<status>",
    label: "People",
    labels: { "": "as in most rows" },
  }),
  testDistance: option(aNumber({ least: 0, needs: "a number of degrees, 0 or more" }).optional(), {
    help: "degrees between trained and tested angle, for strength elsewhere",
    value: "<degrees>",
    label: "Degrees from trained to tested angle",
  }),
  profile: profileOption,
};
export type GoalOptions = Options<typeof goalShape>;

/** Those of them that ask nothing new of the file. */
export const goalChoices = [
  "confidence",
  "joint",
  "trainingStatus",
  "testDistance",
  "profile",
] as const;

/** The options of the moment as the projection room takes them. */
export const projectOptionsOf = ({
  confidence,
  joint,
  trainingStatus,
  testDistance,
}: GoalOptions): Readonly<
  { confidence: number } & Pick<ProjectOptions, "joint" | "trainingStatus" | "testDistanceDegrees">
> => ({
  confidence,
  ...(joint === undefined ? {} : { joint }),
  ...(trainingStatus === undefined ? {} : { trainingStatus }),
  ...(testDistance === undefined ? {} : { testDistanceDegrees: testDistance }),
});

/** The gain at both ends of a protocol's ranges, a sentence each; none where the file tells nothing of a protocol. */
export const gainAtBothEnds = (
  written: string,
  prepared: ReadyProjection,
  options: GoalOptions,
): readonly string[] =>
  !toldParts(prepared.design).ofProtocol
    ? []
    : atBothEnds(written, options.joint, (end) => {
        const there = projectProtocol(prepared, end, {
          ...projectOptionsOf(options),
          course: false,
        });
        return there.kind === "refusal"
          ? projectionRefusalAnswer(there)
          : projectionAnswer(there, prepared, options.confidence);
      });

/** The smallest gain or difference worth having. */
export const worthwhileOption = (of: "gain" | "difference") =>
  option(aNumber({ least: 0, needs: "a percentage of 0 or more" }).optional(), {
    help: `smallest ${of} worth having, percent`,
    value: "<percent>",
    label: `Smallest ${of} worth having, %`,
  });

/** A projected range, as it stands in data: log scale, percent, chance. */
export const rangeSchema = z.looseObject({
  estimate: z.number(),
  low: z.number(),
  high: z.number(),
  percent: z.object({ estimate: z.number(), low: z.number(), high: z.number() }),
  probabilityOfGain: z.number(),
});

/** A file fitted for a goal, and what must be said of which of its tests stand in the fit. */
export type GoalFit = Readonly<{
  kind: "fit";
  prepared: ReadyProjection;
  selection: readonly string[];
  /** What the curve of one dose gives over a span; each dose is fitted when it is first wanted. */
  curveOn: NonNullable<CompareOptions["curveOn"]>;
  /** Names rows without a weight. */
  unweighted: NotWeighted;
  /** Chances of a gain without training, where the file has arms for them. */
  untrained?: WithoutTraining;
}>;

/** Which tests stand in the fit and which do not, in sentences. */
const selectionWords = (
  goal: ProjectionGoal,
  own: HeadlineGroup,
  effects: EffectSet["effects"],
  others: readonly HeadlineGroup[],
): readonly string[] => {
  const { all, armsWithoutNearTest } = own;
  const [used, there] = [effects.length, all.effects.length];
  return [
    ...borrowedSentences(effects),
    ...(used === there
      ? []
      : [
          goal === "strength elsewhere"
            ? `${used} of ${counted(there, "isometric test")} of ${own.family} stand in this answer: the last in training at each angle.`
            : `${used} of ${counted(there, "effect")} of ${own.label} stand in this answer: ${own.family === "strength" ? `tests within ${sameAngleWithinDegrees}° of an angle trained at, and of these ` : ""}the last in training.`,
        ]),
    ...(goal === "strength elsewhere" ? [] : leftOut(armsWithoutNearTest)),
    ...(others.length === 0
      ? []
      : [
          `Not used, as a projection is about isometric tests: ${others.map(({ label, all: { effects } }) => `${label} (${counted(effects.length, "effect")})`).join("; ")}.`,
        ]),
  ];
};

/** Changes of the arms that did not train, before to after. */
const untrainedEffects = (evidence: Evidence, options: Options<typeof lasting>): EffectSet =>
  effectsOf(evidence, {
    ...effectsOptionsOf(options),
    contrast: "change-within-arm",
    armKinds: ["no exercise"],
  });

/** The one fit that all questions about protocols share. */
const fit = {
  id: "goal-fit",
  choices: [],
  prepare: (
    evidence: Evidence,
    options: Options<typeof lasting>,
    tell: Tell,
  ): GoalFit | Refusal => {
    const { goal, scale, where, prior } = options;
    if (scale !== "log-ratio-of-means")
      return refusal(
        "other-scale",
        `gains are projected in percent, on the scale log-ratio-of-means, and ${scale} was asked for`,
      );
    const { family } = goalRecord(goal);
    const set = effectsOf(evidence, effectsOptionsOf(options));
    const groups = headlineGroups(set).filter(
      (group) => group.family === family && group.all.scale === scale,
    );
    const own = groups.find(({ testMode }) => testMode === "isometric");
    const used =
      own === undefined
        ? effectSubset(set, () => false)
        : goal === "strength elsewhere"
          ? lastAtEveryAngle(own.all)
          : own.headline;
    tell(`learning what the trials say of ${goal}; this may take some seconds`);
    try {
      const prepared = prepareProjection(used, {
        goal,
        priors: Object.fromEntries(
          Object.entries(prior).map(([name, value]) => [name, value === "flat" ? Infinity : value]),
        ),
        rows: chosenRows(evidence, where),
      });
      if (prepared.kind === "refusal" || own === undefined) {
        const refused = prepared as Refusal;
        const rows = notWeighted(
          evidence,
          set,
        )({ of: rowsOfGroup({ family, testMode: "isometric" }) });
        return rows === ""
          ? refused
          : { ...refused, reason: `${refused.reason}. ${rows.slice(0, -1)}` };
      }
      const untrained = withoutTraining(
        headlineOf(effectsForGoal(untrainedEffects(evidence, options), goal)).headline.effects,
        prepared,
      );
      return {
        kind: "fit",
        prepared,
        ...(untrained === undefined ? {} : { untrained }),
        curveOn: curvesOf(used),
        unweighted: notWeighted(evidence, set),
        selection: selectionWords(
          goal,
          own,
          used.effects,
          groups.filter((group) => group !== own),
        ),
      };
    } catch (error) {
      return unsettled(error);
    }
  },
};

/** The fit of a goal, made when it is first wanted and once for the same file and options. */
export const goalFit = (
  evidence: Evidence,
  options: GoalOptions,
): ((tell: Tell) => GoalFit | Refusal) => {
  const chosen = Object.fromEntries(
    lastingNames.flatMap((name) => (name in options ? [[name, options[name]]] : [])),
  ) as Options<typeof lasting>;
  return (tell) => preparedFor<typeof lasting, GoalFit | Refusal>(fit, evidence, chosen, tell);
};

/** What a projection rests on, as data: model, priors, predictors, spreads, doubts. */
export const basisOf = ({ prepared, untrained }: GoalFit) => {
  const { points: _points, ...individual } = prepared.individual;
  return {
    goal: prepared.goal,
    contrast: prepared.contrast,
    contrastWords: prepared.contrastWords,
    effects: prepared.effects,
    studies: prepared.studies,
    people: prepared.people,
    levels: prepared.levels,
    predictors: prepared.design.predictors,
    withoutTraining: untrained ?? null,
    predictorsLeftOut: prepared.design.dropped.map(({ name, label, reason }) => ({
      name,
      label,
      reason,
    })),
    priors: Object.fromEntries(
      // A flat prior has no number; its word says so.
      Object.entries(prepared.priors).map(([name, value]) => [
        name,
        value === Infinity ? "flat" : value,
      ]),
    ),
    priorWords: prepared.priorWords,
    individualResponse: individual,
    measurementError: prepared.measurement ?? null,
    weeksStudied: prepared.weeksStudied,
    courseIsIdentified: prepared.courseIsIdentified,
    quadrature: prepared.quadrature,
    check: prepared.check,
    leftOut: prepared.leftOut,
    notes: prepared.notes,
  };
};

export type GoalBasis = ReturnType<typeof basisOf>;

/** Predictors and priors, folded away; priors that were asked for are read at first sight. */
export const basisTables = (
  { prepared }: GoalFit,
  { goal, prior }: Pick<GoalOptions, "goal" | "prior">,
): readonly Table[] => {
  const priors = priorsTable(prepared, `priors-${kebabName(goal)}`);
  return [
    folded(predictorsTable(prepared, `predictors-${kebabName(goal)}`)),
    // Priors that were asked for are read at first sight.
    Object.keys(prior).length > 0 ? priors : folded(priors),
  ];
};

/** Said with the headline where priors were asked for. */
export const priorsAskedFor = ({ prior }: Pick<GoalOptions, "prior">): string => {
  const changed = Object.entries(prior).map(([name, value]) => `${kebab(name)} ${value}`);
  return changed.length === 0 ? "" : `, with the priors asked for: ${changed.join(", ")}`;
};
