/** Whether most people would finish a session, and the nearest session that they would. */
import {
  canBeHeld,
  holdGrade,
  mostFinish,
  type CanBeHeldOptions,
} from "../endurance/can-be-held.js";
import type { Prescription } from "../protocol/prescription.js";
import { timelineNeeds } from "../protocol/session-timeline.js";
import { writePrescription } from "../protocol/write-prescription.js";
import { doseDistance, placeOfPrescription } from "./support.js";

export type NotDoable = Readonly<{
  /** Where a typical person, or even those who tire late, run out. */
  why: string;
  /** Absent where no change of rests, hold or intensity makes it doable. */
  nearest?: Prescription;
}>;

/** Rests tried, s; points of intensity taken off at a time, and the lowest intensity tried. */
const rests = [15, 30, 45, 60, 90, 120, 180, 240, 300];
const intensityStep = 5;
const lowestIntensity = 10;

const isDoable = (p: Prescription, options: CanBeHeldOptions): boolean =>
  mostFinish(holdGrade(p, options));

/** The same session with longer rests, where that is enough: no dose changes. */
const rested = (p: Prescription, options: CanBeHeldOptions): Prescription | undefined => {
  const { restBetweenRepetitionsSeconds: short, restBetweenSetsSeconds: long } = p;
  if (short === undefined && long === undefined) return undefined;
  return rests
    .map((rest) => ({
      ...p,
      ...(short === undefined ? {} : { restBetweenRepetitionsSeconds: Math.max(short, rest) }),
      ...(long === undefined ? {} : { restBetweenSetsSeconds: Math.max(long, rest) }),
    }))
    .find((one) => isDoable(one, options));
};

/** The nearest session by a shorter hold, a lower intensity or both; by steps of dose. */
const eased = (p: Prescription, options: CanBeHeldOptions): Prescription | undefined => {
  const { holdSecondsHigh: _hold, intensityPercentHigh: _intensity, ...one } = p;
  const intensities: (number | undefined)[] = [one.intensityPercent];
  if (one.intensityPercent !== undefined)
    for (
      let less = Math.ceil(one.intensityPercent / intensityStep - 1) * intensityStep;
      less >= lowestIntensity;
      less -= intensityStep
    )
      intensities.push(less);
  const place = placeOfPrescription(p, undefined, undefined);
  const found = intensities.flatMap((intensityPercent) => {
    const at = (holdSeconds: number): Prescription => ({
      ...one,
      holdSeconds,
      ...(intensityPercent === undefined ? {} : { intensityPercent }),
    });
    let [good, bad] = [0, Math.ceil(one.holdSeconds)];
    if (isDoable(at(one.holdSeconds), options)) return [at(one.holdSeconds)];
    while (bad - good > 1) {
      const middle = (good + bad) >> 1;
      if (isDoable(at(middle), options)) good = middle;
      else bad = middle;
    }
    return good === 0 ? [] : [at(good)];
  });
  const far = (other: Prescription): number =>
    doseDistance(place, placeOfPrescription(other, undefined, undefined));
  return found.sort((a, b) => far(a) - far(b))[0];
};

/**
 * Why a session is not doable as written, and the nearest that is; undefined where it is, or cannot be judged.
 *
 * A session is not doable when a typical person runs out in it. The nearest has longer rests where that is enough, else
 * the shorter hold or lower intensity that is fewest steps of dose away.
 *
 * @source none: a reading of the grade of `canBeHeld`
 */
export const notDoable = (
  p: Prescription,
  options: CanBeHeldOptions = {},
): NotDoable | undefined => {
  if (timelineNeeds(p).length > 0 || isDoable(p, options)) return undefined;
  const { failsAtHigh: late, failsAt: typical } = canBeHeld(p, { ...options, samplesPerPart: 0 });
  const point = late ?? typical;
  const nearest = rested(p, options) ?? eased(p, options);
  return {
    why:
      point === undefined
        ? "most people do not finish it"
        : `${late === undefined ? "a typical person runs" : "even people who tire late run"} out in set ${point.set}, hold ${point.repetition}, ${point.secondsIntoHold.toFixed(1)} s into it`,
    ...(nearest === undefined ? {} : { nearest }),
  };
};

/** The two in words, as a refusal has them: the reason, and what to try. */
export const notDoableWords = (
  written: string,
  { why, nearest }: NotDoable,
): Readonly<{ reason: string; try?: string }> => ({
  reason: `"${written}" is not doable as written: ${why}`,
  ...(nearest === undefined ? {} : { try: `the nearest that is: "${writePrescription(nearest)}"` }),
});
