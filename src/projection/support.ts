/** How much evidence lies near a protocol: distances on dose axes scaled to steps a coach would call one step. */
import { doseOf, type DoseAxisName } from "../dose/dose-axes.js";
import type { Effect } from "../effects/effect.js";
import {
  contractionsPerSession,
  effectiveHoldSeconds,
  effectiveIntensityPercent,
} from "../protocol/derived-quantities.js";
import type { Joint, MuscleLength, Prescription } from "../protocol/prescription.js";
import { withUnit } from "../protocol/with-unit.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import { prescriptionOf } from "../records/prescription-of.js";

/** Words of muscle groups and the joint they move; the first that fits counts. */
const words: readonly (readonly [RegExp, Joint])[] = [
  [/knee|quadricep|vastus|hamstring/iu, "knee"],
  [/ankle|plantar|dorsiflex|calf|gastrocn|soleus|triceps surae|tibialis/iu, "ankle"],
  [/elbow|biceps brachii|triceps brachii|brachialis/iu, "elbow"],
  [/grip|hand|finger|thumb/iu, "hand"],
  [/wrist|forearm/iu, "wrist"],
  [/shoulder|deltoid|rotator/iu, "shoulder"],
  [/hip|glute|adductor/iu, "hip"],
  [/neck|cervic/iu, "neck"],
  [/trunk|lumbar|back|abdom|erector/iu, "trunk"],
];

/**
 * The joint a muscle group moves, by the words of its name; undefined where none is known.
 *
 * @example
 * jointOfMuscle("knee extensors") // => "knee"
 */
export const jointOfMuscle = (muscleGroup: string | undefined): Joint | undefined =>
  muscleGroup === undefined ? undefined : words.find(([word]) => word.test(muscleGroup))?.[1];

/** A place on the axes; an axis that is absent is not known. */
export type DosePlace = Readonly<{
  effortPercent?: number;
  holdSeconds?: number;
  tensionTimeSeconds?: number;
  sessionsPerWeek?: number;
  weeks?: number;
  muscleLength?: MuscleLength;
  joint?: Joint;
}>;

/**
 * One step on each axis: 20 points of effort, a doubling of hold or tension time, one session a week, four weeks of
 * programme, short to middle or middle to long, another joint. Common sense, no source.
 */
export const supportSteps = {
  effortPercent: 20,
  holdDoublings: 1,
  tensionTimeDoublings: 1,
  sessionsPerWeek: 1,
  weeks: 4,
  muscleLength: 1,
  joint: 1,
} as const;

/** An arm within this distance is near; with no arm within the second the answer is refused. */
export const supportLimits = { near: 2, far: 4 } as const;

/** Without these nobody can say whether an arm is like a protocol. */
export const neededAxes = ["effortPercent", "holdSeconds", "tensionTimeSeconds"] as const;

/** Where one of the two does not say: half a step, and three on an axis that is needed, which is never near. */
export const unknownSteps = { usual: 0.5, needed: 3 } as const;

const lengthPlace = { short: 0, middle: 1, long: 2 } as const satisfies Record<
  MuscleLength,
  number
>;

const doublings = (value: number | undefined): number | undefined =>
  value === undefined ? undefined : Math.log2(value);

type Steps = Readonly<Record<Exclude<keyof DosePlace, "joint">, number | undefined>>;

/** Of each place, once: an answer measures hundreds of distances from the same arms. */
const stepsMade = new WeakMap<DosePlace, Steps>();

/** The axes two places are compared on, each in steps. */
const stepsOf = (place: DosePlace): Steps => {
  const known = stepsMade.get(place);
  if (known !== undefined) return known;
  const made = steps(place);
  stepsMade.set(place, made);
  return made;
};

const steps = (place: DosePlace): Steps => ({
  effortPercent:
    place.effortPercent === undefined
      ? undefined
      : place.effortPercent / supportSteps.effortPercent,
  holdSeconds: doublings(place.holdSeconds),
  tensionTimeSeconds: doublings(place.tensionTimeSeconds),
  sessionsPerWeek: place.sessionsPerWeek,
  weeks: place.weeks === undefined ? undefined : place.weeks / supportSteps.weeks,
  muscleLength: place.muscleLength === undefined ? undefined : lengthPlace[place.muscleLength],
});

const stepAxes = (Object.keys(steps({})) as (keyof Steps)[]).map((axis) => ({
  axis,
  needed: (neededAxes as readonly string[]).includes(axis),
}));

/**
 * Distance of two places in steps: √(Σ (difference/step)²) over the axes.
 *
 * Where intensity, hold or tension time is not known for both, three steps are added, so that what is not coded is
 * never near; where another axis is known for one of them only, half a step; where for neither, nothing.
 *
 * @source none: common sense about steps
 */
export const doseDistance = (first: DosePlace, second: DosePlace): number => {
  const [a, b] = [stepsOf(first), stepsOf(second)];
  let squares = 0;
  for (const { axis, needed } of stepAxes) {
    const [value, other] = [a[axis], b[axis]];
    if (value !== undefined && other !== undefined) squares += (value - other) ** 2;
    else if (needed) squares += unknownSteps.needed ** 2;
    else if (value !== other) squares += unknownSteps.usual ** 2;
  }
  if (first.joint !== undefined && second.joint !== undefined && first.joint !== second.joint)
    squares += supportSteps.joint ** 2;
  return Math.sqrt(squares);
};

/** Where all arms have one value, another differs from it by this share. */
const clearlyOther = 0.1;

/** Label and unit of an axis in sentences. */
const axisWords = {
  effortPercent: ["intensity", "% of MVC"],
  holdSeconds: ["hold length", "s"],
  tensionTimeSeconds: ["tension time in a session", "s"],
  sessionsPerWeek: ["sessions a week", ""],
} as const;

/** Inside what was studied means that so many studies lie near, and trained in the same category. */
export const studiesNear = 2;

const categories = [
  {
    axis: "muscleLength",
    label: "muscle length",
    trained: (at: string) => `at ${at} muscle length`,
  },
  { axis: "joint", label: "joint", trained: (what: string) => `the ${what}` },
] as const;

/** Categories of a protocol that fewer studies trained in than an answer inside what was studied needs. */
const rareCategories = (arms: readonly EvidenceArm[], place: DosePlace) =>
  categories.flatMap(({ axis, label, trained }) => {
    const value = place[axis];
    if (value === undefined) return [];
    const coded = arms.filter(({ place: own }) => own[axis] !== undefined);
    const own = coded.flatMap(({ cohort, place: at }) => (at[axis] === value ? cohort : []));
    const studies = new Set(own).size;
    // A file that codes no joint at all is about one, or does not tell; a length makes another session.
    if (studies >= studiesNear || (axis === "joint" && coded.length === 0)) return [];
    const message =
      coded.length === 0
        ? `no arm codes ${label}`
        : `${studies === 0 ? "no study" : "only one study"} of the file trained ${trained(value)}`;
    return [{ label, message }];
  });

/** Axes of a protocol that no arm codes, or that lie outside what arms code; each in words. */
export const outsideCoded = (
  arms: readonly EvidenceArm[],
  place: DosePlace,
): readonly Readonly<{ label: string; message: string }>[] => {
  const short = (value: number): string => String(Number(value.toPrecision(3)));
  const doses = (Object.keys(axisWords) as (keyof typeof axisWords)[]).flatMap((axis) => {
    const value = place[axis];
    if (value === undefined) return [];
    const [label, unit] = axisWords[axis];
    const coded = arms.flatMap(({ place: own }) => own[axis] ?? []);
    const [low, high] = [Math.min(...coded), Math.max(...coded)];
    // Of a single value, what is near it is no other one.
    const slack = low === high ? clearlyOther * low : 0;
    if (value >= low - slack && value <= high + slack) return [];
    const told =
      coded.length === 0 ? "" : `outside what was studied (${short(low)} to ${short(high)})`;
    return [
      {
        label,
        message:
          told === ""
            ? `no arm codes ${label}`
            : `${label} ${withUnit(short(value), unit)} is ${told}`,
      },
    ];
  });
  return [...doses, ...rareCategories(arms, place)];
};

const withKnown = (place: Readonly<Record<keyof DosePlace, unknown>>): DosePlace =>
  Object.fromEntries(Object.entries(place).filter(([, value]) => value !== undefined));

/** Where a prescription stands. */
export const placeOfPrescription = (
  p: Prescription,
  weeks: number | undefined,
  joint: Joint | undefined,
): DosePlace =>
  withKnown({
    effortPercent: effectiveIntensityPercent(p),
    holdSeconds: effectiveHoldSeconds(p),
    tensionTimeSeconds: contractionsPerSession(p) * effectiveHoldSeconds(p),
    sessionsPerWeek: p.sessionsPerWeek,
    weeks: weeks ?? p.weeks,
    muscleLength: p.muscleLength,
    joint: joint ?? p.joint,
  });

/** An arm of the file as evidence for a goal. */
export type EvidenceArm = Readonly<{
  study: string;
  cohort: string;
  arm: string;
  citation: string;
  doi?: string;
  /** Lines of the file its effects stand on. */
  lines: readonly number[];
  participants: number;
  place: DosePlace;
  /** Present where the file codes enough of it. */
  prescription?: Prescription;
  /** Positions of its effects among those of the goal. */
  effects: readonly number[];
  /** Mean of its effects, log scale. */
  meanEffect: number;
}>;

/** Where the arm of a row stands. */
export const placeOfRow = (row: OutcomeRow): DosePlace => {
  const value = (axis: DoseAxisName): number | undefined => doseOf(row, axis)?.value;
  return withKnown({
    effortPercent: value("intensityPercent"),
    holdSeconds: value("holdSeconds"),
    tensionTimeSeconds: value("tensionTimePerSessionSeconds"),
    sessionsPerWeek: value("sessionsPerWeek"),
    weeks: value("weeks"),
    muscleLength: row.muscleLength,
    joint: jointOfMuscle(row.muscleGroup),
  });
};

/** The arms behind a list of effects; an arm measured at several times stands at its latest. */
export const evidenceArms = (effects: readonly Effect[]): readonly EvidenceArm[] => {
  const byArm = new Map<string, number[]>();
  effects.forEach((effect, position) => {
    const key = `${effect.cohort}\u0000${effect.arm}`;
    byArm.set(key, [...(byArm.get(key) ?? []), position]);
  });
  return [...byArm.values()].map((positions): EvidenceArm => {
    const own = positions.map((position) => effects[position]!);
    const places = own.map(({ row }) => placeOfRow(row));
    const latest = places.reduce((late, place) =>
      (place.weeks ?? 0) > (late.weeks ?? 0) ? place : late,
    );
    const { row, study, cohort, arm } = own[0]!;
    const prescription = prescriptionOf(row);
    return {
      study,
      cohort,
      arm,
      citation: row.citation ?? study,
      ...(row.doi === undefined ? {} : { doi: row.doi }),
      lines: own.map((effect) => effect.row.line),
      participants: Math.max(...own.map(({ participants }) => participants)),
      place: latest,
      ...(prescription === undefined ? {} : { prescription }),
      effects: positions,
      meanEffect: own.reduce((sum, { estimate }) => sum + estimate, 0) / own.length,
    };
  });
};

export type NearArm = Readonly<{ arm: EvidenceArm; distance: number }>;

/** Every arm with its distance, the nearest first; ties in the file's order. */
export const armsByDistance = (
  arms: readonly EvidenceArm[],
  place: DosePlace,
): readonly NearArm[] =>
  arms
    .map((arm, order) => ({ arm, order, distance: doseDistance(arm.place, place) }))
    .sort((a, b) => a.distance - b.distance || a.order - b.order)
    .map(({ arm, distance }) => ({ arm, distance }));
