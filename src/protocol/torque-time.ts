/**
 * Torque–time: effort × tension time, in percent of MVC × seconds. It is the relative impulse of
 * the holds were the target met exactly; trials that call protocols equal in work mean this.
 */
import { effectiveIntensityPercent } from "./effective-intensity.js";
import type { Prescription } from "./prescription.js";
import {
  tensionTimePerSessionSeconds,
  tensionTimePerWeekSeconds,
  tensionTimeProgrammeSeconds,
} from "./tension-time.js";

const times = (p: Prescription, seconds: number | undefined): number | undefined => {
  const intensity = effectiveIntensityPercent(p);
  return intensity === undefined || seconds === undefined ? undefined : intensity * seconds;
};

/** Torque–time of one session, %MVC·s; undefined when the effort is not known in %MVC. */
export const torqueTimePerSession = (p: Prescription): number | undefined =>
  times(p, tensionTimePerSessionSeconds(p));

/** Torque–time of one week, %MVC·s; undefined when effort or sessions a week are not known. */
export const torqueTimePerWeek = (p: Prescription): number | undefined =>
  times(p, tensionTimePerWeekSeconds(p));

/** Torque–time of the whole programme, %MVC·s; undefined when a needed field is not known. */
export const torqueTimeProgramme = (p: Prescription): number | undefined =>
  times(p, tensionTimeProgrammeSeconds(p));
