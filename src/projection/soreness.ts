/** What is known of soreness and lost force after maximal holds, and what of it bears on a protocol. */
import type { Note } from "../errors.js";
import { effectiveIntensityPercent, effortLabel } from "../protocol/derived-quantities.js";
import type { Prescription } from "../protocol/prescription.js";
import type { CautionSourceKind, Sourced } from "./cautions-wording.js";

/** One sentence about soreness, with where it comes from. */
export type SorenessNote = Note & Sourced;

const abstractRead = "published paper" as const satisfies CautionSourceKind;

/**
 * Thirty maximal contractions of the elbow flexors, one arm near its strongest angle (90° between the
 * bones), the other longer (155°).
 *
 * @source Allen TJ, Jones T, Tsay A, Morgan DL, Proske U, Muscle damage produced by isometric
 *   contractions in human elbow flexors, J Appl Physiol, first published 2017 (abstract)
 */
export const elbowLengthStudy = {
  participants: 38,
  contractions: 30,
  longDegrees: 155,
  strongestDegrees: 90,
  forceLostAfterDayLongPercent: 20,
  forceLostAfterDayStrongestPercent: 7,
  forceHigherAtStrongestPercent: 28,
  citation:
    "Allen TJ, Jones T, Tsay A, Morgan DL, Proske U, Muscle damage produced by isometric contractions in human elbow flexors, Journal of Applied Physiology, first published 2017 (abstract)",
} as const;

/**
 * Fifty maximal contractions of the elbow flexors at a lengthened position.
 *
 * @source abstract of a 2007 study of seven men (IOS Press), scholar.uoa.gr/node/5870
 */
export const elbowFiftyStudy = {
  participants: 7,
  contractions: 50,
  forceLostNextDayPercent: 20.3,
  standardErrorOrDeviationPercent: 2.7,
  optimumShiftRadians: 0.12,
  citation: "a 2007 study of seven men (IOS Press; abstract, scholar.uoa.gr/node/5870)",
} as const;

/**
 * Four sets of eight maximal knee extensions, at 50° and at 90° of flexion, the same eight people.
 *
 * @source McMahon G, Onambélé-Pearson G (2024) J Appl Physiol, doi 10.1152/japplphysiol.00820.2023
 *   (abstract)
 */
export const kneeLengthStudy = {
  participants: 8,
  sets: 4,
  repetitions: 8,
  shortDegrees: 50,
  longDegrees: 90,
  citation: "McMahon G, Onambélé-Pearson G (2024) Journal of Applied Physiology (abstract)",
  doi: "10.1152/japplphysiol.00820.2023",
} as const;

/**
 * Two maximal holds at a long length some days before damaging exercise.
 *
 * @source Chen and others (2013) Eur J Appl Physiol (abstract)
 */
export const firstDoseStudy = {
  contractions: 2,
  flexionDegrees: 20,
  protectsFromDays: 2,
  protectsToDays: 4,
  lessDamagePercent: { low: 16, high: 62 },
  citation: "Chen and others (2013) European Journal of Applied Physiology (abstract)",
} as const;

const practice = {
  source: "common practice, no source",
  sourceKind: "common practice",
} as const satisfies Sourced;

const elbow = elbowLengthStudy;
const fifty = elbowFiftyStudy;
const knee = kneeLengthStudy;
const firstDose = firstDoseStudy;

const longLengthNotes: readonly SorenessNote[] = [
  {
    code: "long-length-force-loss",
    message: `after ${elbow.contractions} maximal contractions of the elbow flexors at a long length force was still ${elbow.forceLostAfterDayLongPercent}% down after 24 hours, with more soreness, against ${elbow.forceLostAfterDayStrongestPercent}% near the strongest angle, where the force itself was ${elbow.forceHigherAtStrongestPercent}% higher (n = ${elbow.participants})`,
    source: elbow.citation,
    sourceKind: abstractRead,
  },
  {
    code: "long-length-next-day",
    message: `after ${fifty.contractions} maximal contractions of the elbow flexors at a long length the greatest isometric force was ${fifty.forceLostNextDayPercent}% down the next day (± ${fifty.standardErrorOrDeviationPercent}%, kind of spread not stated) and the strongest angle had moved by ${fifty.optimumShiftRadians} rad; angle and moving performance were back on the second day (n = ${fifty.participants})`,
    source: fifty.citation,
    sourceKind: abstractRead,
  },
  {
    code: "long-length-knee",
    message: `after ${knee.sets} × ${knee.repetitions} maximal knee extensions torque was down further and longer at ${knee.longDegrees}° than at ${knee.shortDegrees}° of flexion, while soreness rose alike after both (n = ${knee.participants}); not every muscle shows the same`,
    source: knee.citation,
    sourceKind: abstractRead,
    doi: knee.doi,
  },
  {
    code: "first-dose-protects",
    message: `a first small dose protects for a short time: ${firstDose.contractions} maximal holds at ${firstDose.flexionDegrees}° of flexion, ${firstDose.protectsFromDays} to ${firstDose.protectsToDays} days before, cut the damage of later lengthening work by ${firstDose.lessDamagePercent.low}–${firstDose.lessDamagePercent.high}%, and did nothing on the same day or a week before`,
    source: firstDose.citation,
    sourceKind: abstractRead,
  },
  {
    code: "half-effort-limits-damage",
    message:
      "where damage must be limited, the authors of the elbow study advise lengths below the strongest one and half of the greatest force or less",
    source: elbow.citation,
    sourceKind: abstractRead,
  },
];

const startSlowly: SorenessNote = {
  code: "start-slowly",
  message:
    "begin long-length work at moderate intensity with few holds, expect soreness for a day or two, and raise one thing at a time",
  ...practice,
};

/**
 * What to expect of soreness and lost force after a session, for this protocol.
 *
 * Only maximal and near-maximal holds were measured in what was read. For long (or not stated) length
 * with maximal, near-maximal or unknown effort the published facts are given; for easier holds it is
 * said that nothing was read about them. No number here is a prediction for a person.
 *
 * @returns at least one note, each with its source or "common practice, no source"
 * @source Allen and others, first published 2017; McMahon & Onambélé-Pearson (2024); Chen and others (2013)
 * @example sorenessNotes({ sets: 1, repetitions: 4, holdSeconds: 30, intensityPercent: 50, muscleLength: "short" })[0].code // => "not-measured"
 */
export const sorenessNotes = (p: Prescription): readonly SorenessNote[] => {
  const label = effortLabel(p);
  const effort = effectiveIntensityPercent(p);
  const isHard = label === "maximal" || label === "near-maximal";
  if (p.muscleLength === "long" && (isHard || effort === undefined))
    return [...longLengthNotes, startSlowly];
  if (p.muscleLength === "long")
    return [
      {
        code: "not-measured",
        message: `nothing that was read measured soreness after holds at ${String(effort)}% of MVC at long length; what is known comes from maximal holds, which cost more at long length`,
        ...practice,
      },
      ...longLengthNotes.filter(({ code }) => code === "half-effort-limits-damage"),
      startSlowly,
    ];
  if (isHard && p.muscleLength === undefined)
    return [
      {
        code: "length-unknown",
        message:
          "the muscle length is not stated; if it is long, what follows applies, and if it is not, less is to be expected",
        ...practice,
      },
      ...longLengthNotes,
      startSlowly,
    ];
  if (isHard)
    return [
      {
        code: "shorter-length-force-loss",
        message: `after ${elbow.contractions} maximal contractions of the elbow flexors near the strongest angle force was ${elbow.forceLostAfterDayStrongestPercent}% down after 24 hours, against ${elbow.forceLostAfterDayLongPercent}% at a long length (n = ${elbow.participants})`,
        source: elbow.citation,
        sourceKind: abstractRead,
      },
    ];
  return [
    {
      code: "not-measured",
      message:
        effort === undefined
          ? "the intensity is not known in percent of MVC, so nothing can be said of soreness beyond what is usual after the first sessions"
          : "nothing that was read measured soreness after submaximal holds at this length; some for a day or two after the first sessions is usual",
      ...practice,
    },
  ];
};
