/** Two to six protocols side by side. Long because the result is described here field by field. */
import { canBeHeld, type HoldAssessment } from "../endurance/can-be-held.js";
import { CallError, type Note, type Refusal } from "../errors.js";
import type { Prescription } from "../protocol/prescription.js";
import type { DoseAxisName } from "../dose/dose-axes.js";
import { familyRecord } from "../records/outcome-families.js";
import type { Interval } from "../synthesis/synthesis-results.js";
import {
  contractionsPerSession,
  sessionLengthSeconds,
  tensionTimePerSessionSeconds,
  torqueTimePerSession,
} from "../protocol/derived-quantities.js";
import { timelineNeeds } from "../protocol/session-timeline.js";
import { equaliseProtocols, type EqualiseOptions, type Equalised } from "./equalise-protocols.js";
import type { ProjectionGoal } from "./goals.js";
import { headToHead, normalHalfWidth, type HeadToHead } from "./head-to-head.js";
import { goalRecord } from "./goals.js";
import { mixtureMoments, mixtureProbability, type NormalMixture } from "./normal-mixture.js";
import { predictors } from "./predictors.js";
import type { PreparedProjection, ReadyProjection } from "./prepare-projection.js";
import {
  placedProtocol,
  type PlacedProtocol,
  type ProjectOptions,
  type ProjectionRefusal,
} from "./placed-protocol.js";
import { courseFactors, projectProtocol, type Projection } from "./project-protocol.js";
import { sorenessNotes, type SorenessNote } from "./soreness.js";
import { placeOfPrescription, type DosePlace } from "./support.js";
import { toldParts } from "./told-parts.js";
import { rangeOf, type Range } from "./three-ranges.js";
import { tieOfTheUntold, tieRule, vetoed, type TieVerdict } from "./tie-rule.js";

export type CompareOptions = ProjectOptions &
  Readonly<{
    /** Names of the protocols, in order; A, B, C … where absent. */
    names?: readonly string[];
    /** What the curve of one dose gives over a span, where two protocols differ in that dose alone. */
    curveOn?: (axis: DoseAxisName, from: number, to: number) => CurveSpan | undefined;
    /** Changes every protocol but the first in one field, so that they agree in a quantity. */
    equalise?: EqualiseOptions;
  }>;

/** The gain of one dose over another by the curve of that dose, log scale. */
export type CurveSpan = Readonly<{
  axis: DoseAxisName;
  label: string;
  /** The two doses as they are written. */
  first: string;
  second: string;
  estimate: number;
  interval: Interval;
  /** Where the curve comes from, in a few words. */
  evidence: string;
}>;

/** A session as the endurance model judges it, or what the prescription lacks for that. */
export type Feasibility =
  | Readonly<{ kind: "judged"; assessment: HoldAssessment }>
  | Readonly<{ kind: "not judged"; needs: readonly string[] }>;

export type ComparedProtocol = Readonly<{
  name: string;
  prescription: Prescription;
  written: string;
  projection: Projection;
  feasibility: Feasibility;
  sessionSeconds?: number;
  tensionTimeSeconds: number;
  torqueTime?: number;
  soreness: readonly SorenessNote[];
}>;

export type ProtocolDifference = Readonly<{
  /** Places in the list of protocols; the difference is the first less the second. */
  first: number;
  second: number;
  /**
   * Difference of the average gains: the ratio of end scores, so 3% means an end score 3% higher. From the joint posterior, so what the two share cancels.
   */
  average: Range;
  /** The same in a further study that compares the two, with arms that scatter. */
  newTrial: Range;
  probabilityFirstBetter: number;
  probabilityFirstWorthwhile: number;
  probabilitySecondWorthwhile: number;
  probabilityWithin: number;
  /**
   * False where nothing in which the two differ is among the model's predictors: it then gives both one gain by
   * construction, and its zero difference is no finding.
   */
  toldApart: boolean;
  /** Parts in which the two differ and of which the model knows nothing. */
  unseen: readonly string[];
  /** By the curve of the only dose in which the two differ, where there is one. */
  curve?: CurveSpan;
  verdict: TieVerdict;
  headToHead: HeadToHead;
  /** Rows without a weight that compare two such arms, in a sentence; absent where there are none or others have one. */
  unweighted?: string;
  /** What the projected difference rests on. */
  evidence: "head-to-head trials and the model" | "indirect: no trial compares two such arms";
}>;

/** Protocols side by side: what each is expected to give, and every pair. */
export type ProtocolComparison = Readonly<{
  kind: "comparison";
  goal: ProjectionGoal;
  protocols: readonly ComparedProtocol[];
  differences: readonly ProtocolDifference[];
  smallestWorthwhilePercent: number;
  equalised?: Equalised;
  notes: readonly Note[];
}>;

export type ComparisonRefusal = Refusal &
  Readonly<{
    goal: ProjectionGoal;
    /** One for each protocol that cannot be projected. */
    refusals: readonly ProjectionRefusal[];
  }>;

const where = "compareProtocols";
export const comparedProtocols = { fewest: 2, most: 6 } as const;

const letters = ["A", "B", "C", "D", "E", "F"];

const feasibilityOf = (p: Prescription, options: CompareOptions): Feasibility => {
  const needs = timelineNeeds(p);
  if (needs.length > 0) return { kind: "not judged", needs };
  return {
    kind: "judged",
    assessment: canBeHeld(p, options.joint === undefined ? {} : { joint: options.joint }),
  };
};

/** The difference of two protocols' gains at each component, for the average and for a further study. */
const differenceMixtures = (
  prepared: ReadyProjection,
  first: PlacedProtocol,
  second: PlacedProtocol,
): Readonly<{ average: NormalMixture; newTrial: NormalMixture }> => {
  const { weights, levelVariances, columns: p } = prepared.posterior;
  const levels = prepared.levels.length;
  const studyLevel = prepared.levels.indexOf("study");
  const [g, h] = [courseFactors(prepared, first.weeks), courseFactors(prepared, second.weeks)];
  const means = weights.map((_, i) => g[i]! * first.means[i]! - h[i]! * second.means[i]!);
  const variances = weights.map((_, i) => {
    let total = 0;
    for (let a = 0; a < p; a++) {
      const at = i * p + a;
      total += (g[i]! * first.whitened[at]! - h[i]! * second.whitened[at]!) ** 2;
    }
    return total;
  });
  const scattered = weights.map((_, i) => {
    let total = variances[i]!;
    for (let k = 0; k < levels; k++) {
      const variance = levelVariances[i * levels + k]!;
      // Both arms share the study; arms and readings are each protocol's own.
      total +=
        k === studyLevel ? (g[i]! - h[i]!) ** 2 * variance : (g[i]! ** 2 + h[i]! ** 2) * variance;
    }
    return total;
  });
  const floor = 1e-12;
  const mixture = (squares: Float64Array): NormalMixture => ({
    weights,
    means,
    deviations: squares.map((variance) => Math.sqrt(Math.max(variance, floor ** 2))),
  });
  return { average: mixture(variances), newTrial: mixture(scattered) };
};

/** Whether the model sees any difference between two protocols. */
const areToldApart = (first: PlacedProtocol, second: PlacedProtocol): boolean =>
  first.weeks !== second.weeks || first.row.some((value, a) => value !== second.row[a]);

/** The smallest difference that counts, percent: as asked for, or as the family has it. */
const worthwhileOf = (
  goal: ProjectionGoal,
  { smallestWorthwhilePercent }: CompareOptions,
): number => smallestWorthwhilePercent ?? familyRecord(goalRecord(goal).family).countsFromPercent;

/**
 * The dose in which two protocols differ where it is one: intensity, hold, tension time (by the number of holds), sessions a week,
 * weeks, or short against long. A longer hold in as many holds is one of hold; tension time follows.
 */
const onlyDose = (
  a: Prescription,
  b: Prescription,
  [first, second]: readonly [DosePlace, DosePlace],
): Readonly<{ axis: DoseAxisName; first: number; second: number }> | undefined => {
  const lengths = { short: 0, middle: undefined, long: 1 } as const;
  const longer = (place: DosePlace): number | undefined =>
    place.muscleLength === undefined ? undefined : lengths[place.muscleLength];
  const sameHolds = contractionsPerSession(a) === contractionsPerSession(b);
  const doses: readonly (readonly [DoseAxisName, number | undefined, number | undefined])[] = [
    ["intensityPercent", first.effortPercent, second.effortPercent],
    ["holdSeconds", first.holdSeconds, second.holdSeconds],
    ...(sameHolds
      ? []
      : ([
          ["tensionTimePerSessionSeconds", first.tensionTimeSeconds, second.tensionTimeSeconds],
        ] as const)),
    ["sessionsPerWeek", first.sessionsPerWeek, second.sessionsPerWeek],
    ["weeks", first.weeks, second.weeks],
  ];
  const differing = doses.filter(([, one, other]) => one !== other);
  if (first.muscleLength !== second.muscleLength)
    differing.push(["muscleLength", longer(first), longer(second)]);
  const [only, another] = differing;
  if (only === undefined || another !== undefined) return undefined;
  const [axis, one, other] = only;
  return one === undefined || other === undefined ? undefined : { axis, first: one, second: other };
};

const differenceOf = (
  prepared: ReadyProjection,
  placed: readonly PlacedProtocol[],
  pair: readonly [number, number],
  names: readonly string[],
  options: CompareOptions,
): ProtocolDifference => {
  const [i, j] = pair;
  const [first, second] = [placed[i]!, placed[j]!];
  const { average, newTrial } = differenceMixtures(prepared, first, second);
  const { confidence } = options;
  const worthwhile = worthwhileOf(prepared.goal, options);
  const ranged = confidence === undefined ? {} : { confidence };
  const amount = Math.log1p(worthwhile / 100);
  const firstWorthwhile = 1 - mixtureProbability(average, amount);
  const secondWorthwhile = mixtureProbability(average, -amount);
  const probabilities = {
    firstWorthwhile,
    secondWorthwhile,
    within: Math.max(0, 1 - firstWorthwhile - secondWorthwhile),
  };
  const toldApart = areToldApart(first, second);
  const pairNames = [names[i]!, names[j]!] as const;
  const place = ({ prescription, weeks }: PlacedProtocol) =>
    placeOfPrescription(prescription, weeks, options.joint);
  const places = [place(first), place(second)] as const;
  const direct = headToHead(prepared.set, prepared.arms, places);
  const unseen = toldParts(prepared.design)
    .still.filter(({ name }) => {
      const part = predictors.find((one) => one.name === name);
      const [a, b] = [first, second].map(({ prescription }) => part?.ofTarget({ prescription }));
      return a !== b;
    })
    .map(({ label }) => label);
  const only = onlyDose(first.prescription, second.prescription, places);
  const curve =
    only === undefined ? undefined : options.curveOn?.(only.axis, only.second, only.first);
  const halfWidth = ({ low, high }: Interval): number => (high - low) / 2;
  const { mean, deviation } = mixtureMoments(average);
  return {
    first: i,
    second: j,
    average: rangeOf(average, ranged),
    newTrial: rangeOf(newTrial, ranged),
    probabilityFirstBetter: 1 - mixtureProbability(average, 0),
    probabilityFirstWorthwhile: firstWorthwhile,
    probabilitySecondWorthwhile: secondWorthwhile,
    probabilityWithin: probabilities.within,
    toldApart,
    unseen,
    ...(curve === undefined ? {} : { curve }),
    verdict: toldApart
      ? vetoed(tieRule(probabilities, worthwhile, pairNames), {
          ...(direct.pooled === undefined
            ? {}
            : {
                trials: {
                  estimate: direct.pooled.estimate,
                  halfWidth: halfWidth(direct.pooled.interval),
                },
              }),
          model: { estimate: mean, halfWidth: normalHalfWidth * deviation },
          ...(curve === undefined ? {} : { curve }),
          amount,
          misses: prepared.check.misses,
          unseen,
        })
      : tieOfTheUntold(first.written === second.written, pairNames),
    headToHead: direct,
    evidence:
      direct.trials.length > 0
        ? "head-to-head trials and the model"
        : "indirect: no trial compares two such arms",
  };
};

/**
 * Protocols side by side: what is projected for each, every difference with its interval and probabilities, trials
 * that compare such arms directly, whether each can be held, and what it costs.
 *
 * Differences come from the joint posterior: where two protocols lean on the same coefficients, their uncertainty
 * cancels. A protocol set beside itself differs by nothing and is a tie.
 *
 * @param prepared from `prepareProjection`
 * @param prescriptions two to six
 * @throws {CallError} "protocol-count", and what `projectProtocol` and `equaliseProtocols` throw
 * @source Lindley DV, Smith AFM (1972) for the model (`prepareProjection`); the call by `tieRule`
 */
export const compareProtocols = (
  prepared: PreparedProjection,
  prescriptions: readonly Prescription[],
  options: CompareOptions = {},
): ProtocolComparison | ComparisonRefusal => {
  const { fewest, most } = comparedProtocols;
  if (prescriptions.length < fewest || prescriptions.length > most) {
    throw new CallError({
      code: "protocol-count",
      where,
      needs: `${fewest} to ${most} protocols`,
      got: String(prescriptions.length),
    });
  }
  const worthwhile = worthwhileOf(prepared.goal, options);
  if (!(worthwhile >= 0) || !Number.isFinite(worthwhile)) {
    throw new CallError({
      code: "out-of-range",
      where,
      needs: "a smallest worthwhile difference of 0% or more",
      got: String(options.smallestWorthwhilePercent),
    });
  }
  const equalised =
    options.equalise === undefined ? undefined : equaliseProtocols(prescriptions, options.equalise);
  const compared = equalised?.protocols.map(({ after }) => after) ?? prescriptions;
  const projections = compared.map((prescription) =>
    projectProtocol(prepared, prescription, options),
  );
  const refusals = projections.filter((one): one is ProjectionRefusal => one.kind === "refusal");
  if (prepared.kind === "refusal" || refusals.length > 0) {
    return {
      kind: "refusal",
      code: prepared.kind === "refusal" ? prepared.code : refusals[0]!.code,
      goal: prepared.goal,
      reason:
        prepared.kind === "refusal"
          ? prepared.reason
          : refusals.map(({ written, reason }) => `"${written}": ${reason}`).join("; "),
      refusals,
    };
  }
  const names = compared.map((_, i) => options.names?.[i] ?? letters[i]!);
  const placed = compared.map(
    // No refusal is left among them.
    (prescription) => placedProtocol(prepared, prescription, options) as PlacedProtocol,
  );
  const pairs = compared.flatMap((_, i) =>
    compared.slice(i + 1).map((_, k) => [i, i + 1 + k] as const),
  );
  return {
    kind: "comparison",
    goal: prepared.goal,
    protocols: compared.map((prescription, i): ComparedProtocol => {
      const sessionSeconds = sessionLengthSeconds(prescription);
      const torqueTime = torqueTimePerSession(prescription);
      const projection = projections[i] as Projection;
      return {
        name: names[i]!,
        prescription,
        written: projection.written,
        projection,
        feasibility: feasibilityOf(prescription, options),
        ...(sessionSeconds === undefined ? {} : { sessionSeconds }),
        tensionTimeSeconds: tensionTimePerSessionSeconds(prescription),
        ...(torqueTime === undefined ? {} : { torqueTime }),
        soreness: sorenessNotes(prescription),
      };
    }),
    differences: pairs.map((pair) => differenceOf(prepared, placed, pair, names, options)),
    smallestWorthwhilePercent: worthwhile,
    ...(equalised === undefined ? {} : { equalised }),
    notes: prepared.notes,
  };
};
