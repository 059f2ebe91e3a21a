/**
 * The three-compartment model of fatigue and recovery, carried through a session exactly.
 *
 * Muscle is resting, active or fatigued; the shares add up to 1. With target load T (share of MVC),
 * fatigue rate F, recovery rate R (r·R while T = 0: the rest rule of Looft 2018 in its reading "at
 * rest", not "whenever the load drops"), and drive rate L:
 *
 *     active'   =  C − F·active
 *     resting'  = −C + R·fatigued
 *     fatigued' =  F·active − R·fatigued
 *
 *     C = L·(T − active)   while active ≥ T, or resting > T − active   (the load is met)
 *     C = L·resting        otherwise                                    (all there is is called up)
 *
 * Capacity is 1 − fatigued = active + resting. Since resting > T − active says capacity > T, the first
 * regime lasts exactly until capacity falls to the load: that moment is the model's failure. Both
 * regimes are linear, so each stretch is a sum of exponentials, evaluated, not stepped; only the
 * moment of changing over is searched for, on a stretch where capacity is monotone.
 *
 * @source Xia T, Frey Law LA (2008) J Biomech 41:3046–3052, doi 10.1016/j.jbiomech.2008.07.013;
 *   Looft JM, Herkert N, Frey-Law L (2018) J Biomech 77:16–25
 */
import { ConvergenceError } from "../errors.js";
import { findRoot } from "../numeric/find-root.js";
import { drivePerSecond } from "./fatigue-parameters.js";
import type { FatigueParameters } from "./fatigue-parameters.js";

/** Shares of the muscle; `resting` is what is left, 1 − active − fatigued. */
export type FatigueState = Readonly<{ active: number; fatigued: number }>;

/** All muscle resting. */
export const freshState: FatigueState = { active: 0, fatigued: 0 };

/** Share of MVC that could be produced now: 1 − fatigued. */
export const capacity = (state: FatigueState): number => 1 - state.fatigued;

/** Share of the muscle at rest and ready. */
export const resting = (state: FatigueState): number => 1 - state.active - state.fatigued;

export type Advance = Readonly<{
  state: FatigueState;
  /** Seconds into the stretch at which capacity first fell below the load; absent if it did not. */
  failedAfterSeconds?: number;
}>;

/** One regime from one state: the state at any time, and when capacity turns, if it does. */
type Course = Readonly<{ at: (seconds: number) => FatigueState; turns: number }>;

/** Positive time at which a·e^(−α·t) + b·e^(−β·t) is 0, for α > β; Infinity when there is none. */
const zeroOfTwo = (a: number, alpha: number, b: number, beta: number): number => {
  const ratio = -a / b;
  return ratio > 1 && Number.isFinite(ratio) ? Math.log(ratio) / (alpha - beta) : Infinity;
};

/** The load is met: active muscle settles to the load, fatigued muscle follows it. */
const metCourse = (
  start: FatigueState,
  demand: number,
  fatigue: number,
  recovery: number,
  drive: number,
): Course => {
  const quick = drive + fatigue;
  const settled = (drive * demand) / quick;
  const above = start.active - settled;
  const transient = (fatigue * above) / (quick - recovery);
  const limit = (fatigue * settled) / recovery;
  return {
    at: (seconds) => {
      const quickLeft = Math.exp(-quick * seconds);
      const slowLeft = Math.exp(-recovery * seconds);
      return {
        active: settled + above * quickLeft,
        fatigued:
          start.fatigued * slowLeft +
          limit * -Math.expm1(-recovery * seconds) +
          transient * (slowLeft - quickLeft),
      };
    },
    // fatigued' = quick·transient·e^(−quick·t) − recovery·(fatigued + transient − limit)·e^(−recovery·t)
    turns: zeroOfTwo(
      quick * transient,
      quick,
      -recovery * (start.fatigued + transient - limit),
      recovery,
    ),
  };
};

/** The load is not met: everything at rest is called up, and capacity sinks towards its floor. */
const spentCourse = (
  start: FatigueState,
  fatigue: number,
  recovery: number,
  drive: number,
): Course => {
  const quick = drive + fatigue;
  // In (active, capacity): active' = −quick·active + drive·capacity, capacity' = −F·active + R·(1 − capacity).
  const floor = recovery / (recovery + (fatigue * drive) / quick);
  const activeFloor = (drive * floor) / quick;
  const root = Math.sqrt((quick - recovery) ** 2 - 4 * drive * fatigue);
  const slow = (-(quick + recovery) + root) / 2;
  const fast = (-(quick + recovery) - root) / 2;
  const a = start.active - activeFloor;
  const c = capacity(start) - floor;
  const activeSlow = ((-quick - fast) * a + drive * c) / root;
  const capacitySlow = (-fatigue * a + (-recovery - fast) * c) / root;
  const activeFast = a - activeSlow;
  const capacityFast = c - capacitySlow;
  return {
    at: (seconds) => {
      const slowLeft = Math.exp(slow * seconds);
      const fastLeft = Math.exp(fast * seconds);
      return {
        active: activeFloor + activeSlow * slowLeft + activeFast * fastLeft,
        fatigued: 1 - (floor + capacitySlow * slowLeft + capacityFast * fastLeft),
      };
    },
    turns: zeroOfTwo(fast * capacityFast, -fast, slow * capacitySlow, -slow),
  };
};

/** Capacity differing from the load by less than this is equal to it: a few roundings of 1. */
const rounding = 1e-14;
/** A stretch of constant load changes regime twice at most; more means the arithmetic went wrong. */
const mostChanges = 8;

/** First time within `seconds` at which capacity passes the load; Infinity when it does not. */
const passes = (
  course: Course,
  demand: number,
  seconds: number,
  from: "above" | "below",
): number => {
  const side = from === "above" ? 1 : -1;
  const margin = (time: number): number => side * (capacity(course.at(time)) - demand);
  let low = 0;
  for (const high of course.turns > 0 && course.turns < seconds
    ? [course.turns, seconds]
    : [seconds]) {
    if (margin(high) < -rounding)
      return margin(low) <= 0 ? low : findRoot(margin, low, high, { tolerance: 1e-13 });
    low = high;
  }
  return Infinity;
};

/**
 * The state after a stretch of constant load, and when in it capacity fell below the load.
 *
 * A load that cannot be met is carried on at full effort. A load of 1 is therefore a maximal effort:
 * force is whatever capacity is left.
 *
 * @param demand share of MVC, 0 (rest) to 1
 * @param seconds length of the stretch, at least 0
 * @param drive rate of calling up and letting go, 1/s
 */
export const advance = (
  start: FatigueState,
  demand: number,
  seconds: number,
  parameters: FatigueParameters,
  drive: number = drivePerSecond,
): Advance => {
  const { fatiguePerSecond, restMultiplier } = parameters;
  const recovery = parameters.recoveryPerSecond * (demand === 0 ? restMultiplier : 1);
  let state = start;
  let clock = 0;
  let failed: number | undefined;
  let met = state.active >= demand || capacity(state) > demand;
  for (let change = 0; change < mostChanges; change += 1) {
    if (!met) failed ??= clock;
    const course = met
      ? metCourse(state, demand, fatiguePerSecond, recovery, drive)
      : spentCourse(state, fatiguePerSecond, recovery, drive);
    const left = seconds - clock;
    const until = demand === 0 ? Infinity : passes(course, demand, left, met ? "above" : "below");
    if (until >= left) {
      const end = course.at(left);
      return failed === undefined ? { state: end } : { state: end, failedAfterSeconds: failed };
    }
    // At the change capacity is the load to within a rounding, so which regime comes next is carried
    // over rather than read off the state.
    state = course.at(until);
    met = !met;
    clock += until;
  }
  throw new ConvergenceError({
    where: "advance",
    iterations: mostChanges,
    lastChange: seconds - clock,
    tolerance: rounding,
    try: "check the rates: they must be far below the drive rate",
  });
};
