/** Which protocols give the most for the time they take, within limits, as far as the evidence reaches. */
import { holdGrade, type HoldGrade } from "../endurance/can-be-held.js";
import { isKept, type KeptGrade } from "../endurance/what-would-fit.js";
import { CallError, type Note, type Refusal } from "../errors.js";
import type { Joint, MuscleLength, Prescription } from "../protocol/prescription.js";
import { sessionLengthSeconds } from "../protocol/derived-quantities.js";
import { compareProtocols } from "./compare-protocols.js";
import type { ProjectionGoal } from "./goals.js";
import type { PreparedProjection, ReadyProjection } from "./prepare-projection.js";
import { placedProtocol, type ProjectOptions } from "./placed-protocol.js";
import { courseFactors, projectProtocol, type Projection } from "./project-protocol.js";
import type { TrainingStatus } from "./predictors.js";
import { supportLimits } from "./support.js";
import { toldParts } from "./told-parts.js";
import type { Range } from "./three-ranges.js";

export type ExploreLimits = Readonly<{
  /** Longest session, minutes, rests included. */
  minutesPerSession: number;
  /** Most sessions a week. */
  sessionsPerWeek: number;
  /** Highest effort, %MVC. */
  effortCeilingPercent: number;
  /** Shortest rest between holds and between sets, seconds. */
  leastRestSeconds?: number;
  joint?: Joint;
  /** Lengths that may be trained at; those the file has, where absent. */
  muscleLengths?: readonly MuscleLength[];
  /** Weeks of the programme; the file's usual length where absent. */
  weeks?: number;
  trainingStatus?: TrainingStatus;
  testDistanceDegrees?: number;
}>;

export type ExploreOptions = Readonly<{
  /** Worst grade of the endurance model that is kept. */
  keep?: KeptGrade;
  /** A point must add this much to the expected gain of the one before it, percentage points. */
  smallestStepPercent?: number;
  confidence?: number;
}>;
export const exploreDefaults = {
  // An action is not proposed, so the band holds pushing and holding, and little is to spare for both.
  keep: "hard",
  smallestStepPercent: 0.5,
  leastRestSeconds: 15,
} as const;

export type FrontierPoint = Readonly<{
  prescription: Prescription;
  written: string;
  minutesPerSession: number;
  minutesPerWeek: number;
  grade: HoldGrade | null;
  projection: Projection;
  /** What it adds to the point before it, and the probability that it adds anything; absent for the first. */
  overPrevious?: Readonly<{ difference: Range; probabilityBetter: number }>;
}>;

/** Protocols that no other beats in both gain and time. */
export type Frontier = Readonly<{
  kind: "frontier";
  goal: ProjectionGoal;
  limits: ExploreLimits;
  /** From the least time to the most; every next one is expected to give more. */
  points: readonly FrontierPoint[];
  /** Every supported candidate's time and expected gain, for the picture. */
  candidates: readonly Readonly<{
    minutesPerWeek: number;
    expectedPercent: number;
    written: string;
  }>[];
  tried: number;
  /** How many fell out, by reason. */
  excluded: Readonly<{ tooLong: number; cannotBeHeld: number; notSupported: number }>;
  notes: readonly Note[];
}>;

export type FrontierRefusal = Refusal & Readonly<{ goal: ProjectionGoal }>;

const where = "exploreProtocols";

const holds = [2, 3, 5, 10, 15, 20, 30, 45, 60] as const;
const rests = [2, 3, 5, 10, 15, 20, 30, 45, 60, 90, 120, 180] as const;
/** Short holds come in sets, long ones singly: the forms that trials use. */
const shortHoldBelow = 8;
const counts = {
  short: [2, 3, 4, 5, 6].flatMap((sets) => [5, 10].map((repetitions) => ({ sets, repetitions }))),
  long: [2, 3, 4, 5, 6, 8, 10, 12].map((repetitions) => ({ sets: 1, repetitions })),
} as const;
const restBetweenShortSets = 120;
const effortStep = 10;
const lowestEffort = 20;
/** No search goes below this effort, percent of MVC. */
export const lowestEffortCeiling = lowestEffort;

/** Predictors that stand for time; without one of them a shorter session would always seem the better bargain. */
const takesTime: readonly string[] = ["tension time", "hold length", "frequency"];

const effortsUpTo = (ceiling: number): readonly number[] => {
  const list: number[] = [];
  for (let effort = lowestEffort; effort < ceiling; effort += effortStep) list.push(effort);
  return [...list, ceiling];
};

/** Work and rests of one session that can be held, with the shortest rest that allows it. */
type Session = Readonly<{ prescription: Prescription; seconds: number; grade: HoldGrade | null }>;

const sessionsWithin = (
  limits: ExploreLimits,
  keep: KeptGrade,
  excluded: { tooLong: number; cannotBeHeld: number },
): readonly Session[] => {
  const longest = 60 * limits.minutesPerSession;
  const joint = limits.joint === undefined ? {} : { joint: limits.joint };
  return effortsUpTo(limits.effortCeilingPercent).flatMap((intensityPercent) =>
    holds.flatMap((holdSeconds) => {
      const forms = holdSeconds < shortHoldBelow ? counts.short : counts.long;
      return forms.flatMap(({ sets, repetitions }): readonly Session[] => {
        const withRest = (restBetweenRepetitionsSeconds: number): Prescription => ({
          sets,
          repetitions,
          holdSeconds,
          intensityPercent,
          restBetweenRepetitionsSeconds,
          ...(sets > 1 ? { restBetweenSetsSeconds: restBetweenShortSets } : {}),
          ...joint,
        });
        const secondsOf = (rest: number): number =>
          sessionLengthSeconds(withRest(rest)) ?? Infinity;
        const least = limits.leastRestSeconds ?? exploreDefaults.leastRestSeconds;
        const fitting = rests.filter((rest) => rest >= least && secondsOf(rest) <= longest);
        if (fitting.length === 0) {
          excluded.tooLong += 1;
          return [];
        }
        // A longer rest never makes a session harder, so the shortest that serves is found by halving.
        const gradeAt = (index: number): HoldGrade | null =>
          holdGrade(withRest(fitting[index]!), joint);
        const serves = (index: number): boolean => isKept(gradeAt(index), keep);
        if (!serves(fitting.length - 1)) {
          excluded.cannotBeHeld += 1;
          return [];
        }
        let [bad, good] = [-1, fitting.length - 1];
        while (good - bad > 1) {
          const middle = (good + bad) >> 1;
          if (serves(middle)) good = middle;
          else bad = middle;
        }
        const rest = fitting[good]!;
        return [{ prescription: withRest(rest), seconds: secondsOf(rest), grade: gradeAt(good) }];
      });
    }),
  );
};

type Candidate = Readonly<{
  prescription: Prescription;
  minutesPerSession: number;
  minutesPerWeek: number;
  grade: HoldGrade | null;
  /** Posterior mean of the average gain, log scale. */
  expected: number;
  written: string;
}>;

/** Lengths to propose; none is stated where no arm codes one. */
const lengthsOf = (
  prepared: ReadyProjection,
  limits: ExploreLimits,
): readonly (MuscleLength | undefined)[] => {
  if (limits.muscleLengths !== undefined) return limits.muscleLengths;
  const inFile = new Set(prepared.arms.flatMap(({ place }) => place.muscleLength ?? []));
  const found = (["short", "middle", "long"] as const).filter((length) => inFile.has(length));
  return found.length === 0 ? [undefined] : found;
};

const checkedLimits = (limits: ExploreLimits): void => {
  const sound =
    limits.minutesPerSession > 0 &&
    limits.sessionsPerWeek >= 1 &&
    limits.effortCeilingPercent >= lowestEffort &&
    limits.effortCeilingPercent <= 100;
  if (!sound) {
    throw new CallError({
      code: "out-of-range",
      where,
      needs: `minutes above 0, at least one session a week and an intensity ceiling of ${lowestEffort} to 100% of MVC`,
      got: `${limits.minutesPerSession} minutes, ${limits.sessionsPerWeek} sessions, ${limits.effortCeilingPercent}%`,
    });
  }
};

/**
 * The frontier of expected gain against time: protocols for which no other takes less time and gives as much.
 *
 * Candidates are the usual forms (holds of 2 to 60 s, efforts in steps of ten points up to the ceiling, short holds in sets of
 * five or ten), each with the shortest rests at which the endurance model lets it be held. Those within the limits of time
 * and with an arm within two steps, inside what was studied on every predictor, are projected; of them the frontier is kept.
 * Points that add less than half a percentage point to the one before are passed over.
 *
 * @param prepared from `prepareProjection`
 * @throws {CallError} "out-of-range" for limits that leave nothing
 * @source none: a search over projections
 */
export const exploreProtocols = (
  prepared: PreparedProjection,
  limits: ExploreLimits,
  options: ExploreOptions = {},
): Frontier | FrontierRefusal => {
  checkedLimits(limits);
  if (prepared.kind === "refusal") return prepared;
  const parts = toldParts(prepared.design);
  const timeBearing = prepared.design.predictors.filter(({ name }) => takesTime.includes(name));
  if (timeBearing.length === 0)
    return {
      kind: "refusal",
      code: "no-protocol-told",
      goal: prepared.goal,
      reason: `${
        parts.ofProtocol
          ? "only intensity is in the model, so gain cannot be set against time"
          : "this file cannot say what any intensity, hold or volume would give, so no protocol can be set above another"
      }: ${parts.stillWhy}`,
    };
  const { keep, smallestStepPercent } = { ...exploreDefaults, ...options };
  const weeks = limits.weeks ?? Math.max(1, Math.round(prepared.weeksStudied.usual));
  const excluded = { tooLong: 0, cannotBeHeld: 0, notSupported: 0 };
  const sessions = sessionsWithin(limits, keep, excluded);
  const lengths = lengthsOf(prepared, limits);
  const frequencies = Array.from({ length: Math.floor(limits.sessionsPerWeek) }, (_, i) => i + 1);
  const projectOptions: ProjectOptions = {
    weeks,
    ...(limits.joint === undefined ? {} : { joint: limits.joint }),
    ...(limits.trainingStatus === undefined ? {} : { trainingStatus: limits.trainingStatus }),
    ...(limits.testDistanceDegrees === undefined
      ? {}
      : { testDistanceDegrees: limits.testDistanceDegrees }),
    ...(options.confidence === undefined ? {} : { confidence: options.confidence }),
  };
  const factors = courseFactors(prepared, weeks);
  const { weights } = prepared.posterior;
  const candidates: Candidate[] = [];
  for (const session of sessions) {
    for (const muscleLength of lengths) {
      for (const sessionsPerWeek of frequencies) {
        const prescription = {
          ...session.prescription,
          ...(muscleLength === undefined ? {} : { muscleLength }),
          sessionsPerWeek,
          weeks,
        };
        const placed = placedProtocol(prepared, prescription, projectOptions);
        if (
          "kind" in placed ||
          placed.outside.length > 0 ||
          placed.near[0]!.distance > supportLimits.near
        ) {
          excluded.notSupported += 1;
          continue;
        }
        let expected = 0;
        placed.means.forEach((mean, i) => (expected += weights[i]! * factors[i]! * mean));
        candidates.push({
          prescription,
          written: placed.written,
          minutesPerSession: session.seconds / 60,
          minutesPerWeek: (session.seconds / 60) * sessionsPerWeek,
          grade: session.grade,
          expected,
        });
      }
    }
  }
  const tried =
    excluded.tooLong + excluded.cannotBeHeld + excluded.notSupported + candidates.length;
  if (candidates.length === 0) {
    return {
      kind: "refusal",
      code: "nothing-within-limits",
      goal: prepared.goal,
      reason: `none of ${tried} candidates lies inside the limits, can be held and has evidence near it: ${excluded.tooLong} take too long, ${excluded.cannotBeHeld} cannot be held, ${excluded.notSupported} lie outside what was studied`,
    };
  }
  const frontier = frontierOf(candidates, smallestStepPercent);
  const points = frontier.map(
    ({ prescription, written, minutesPerSession, minutesPerWeek, grade }, index): FrontierPoint => {
      const before = frontier[index - 1];
      const point = {
        prescription,
        written,
        minutesPerSession,
        minutesPerWeek,
        grade,
        projection: projectProtocol(prepared, prescription, {
          ...projectOptions,
          course: false,
        }) as Projection,
      };
      if (before === undefined) return point;
      const comparison = compareProtocols(prepared, [prescription, before.prescription], {
        ...projectOptions,
        course: false,
      });
      if (comparison.kind === "refusal") return point;
      const { average, probabilityFirstBetter } = comparison.differences[0]!;
      return {
        ...point,
        overPrevious: { difference: average, probabilityBetter: probabilityFirstBetter },
      };
    },
  );
  return {
    kind: "frontier",
    goal: prepared.goal,
    limits: {
      ...limits,
      weeks,
      muscleLengths: lengths.filter((length) => length !== undefined),
    },
    points,
    candidates: candidates.map(({ minutesPerWeek, expected, written }) => ({
      minutesPerWeek,
      expectedPercent: 100 * Math.expm1(expected),
      written,
    })),
    tried,
    excluded,
    notes: [
      {
        code: "best-of-many",
        message:
          "the frontier picks the best of many candidates, so its points are somewhat flattered; read each with its interval and with the probability that it gives more than the one before",
      },
      {
        code: "shortest-rests",
        message: `no projection moves with the rest between holds, so each protocol stands with the shortest rest of ${limits.leastRestSeconds ?? exploreDefaults.leastRestSeconds} s or more at which the endurance model lets it be held; that is the least that is needed and no advice, and a longer rest costs nothing but time`,
      },
      ...prepared.notes,
    ],
  };
};

/** Candidates in order of time, each expected to give more than all before it by the step or more. */
const frontierOf = (
  candidates: readonly Candidate[],
  smallestStepPercent: number,
): readonly Candidate[] => {
  const sorted = [...candidates].sort(
    (a, b) => a.minutesPerWeek - b.minutesPerWeek || b.expected - a.expected,
  );
  const frontier: Candidate[] = [];
  let best = -Infinity;
  for (const candidate of sorted) {
    const percent = 100 * Math.expm1(candidate.expected);
    if (percent < best + smallestStepPercent && frontier.length > 0) continue;
    frontier.push(candidate);
    best = percent;
  }
  return frontier;
};
