import type { Effect } from "./effect.js";

const whole = (value: number): string => String(Math.round(value));

/**
 * What was measured, with what tells one measurement from another: angle, site, side, week.
 *
 * @source none: wording of this project
 */
export const outcomeName = ({ row }: Pick<Effect, "row">): string => {
  const place = measurementPlace({ row });
  return place === "" ? row.outcome : `${row.outcome} (${place})`;
};

/**
 * Angle, site, side and week of a measurement, as far as they are coded; empty where none is.
 *
 * @source none: wording of this project
 */
export const measurementPlace = ({ row }: Pick<Effect, "row">): string =>
  [
    row.testAngleDegrees === undefined ? "" : `${whole(row.testAngleDegrees)}°`,
    row.testSitePercent === undefined ? "" : `site ${row.testSitePercent}%`,
    row.testSide === "untrained" ? "untrained side" : "",
    row.weekMeasured === undefined ? "" : `week ${row.weekMeasured}`,
  ]
    .filter((place) => place !== "")
    .join(", ");

/**
 * The arm, or the two arms compared.
 *
 * @source none: wording of this project
 */
export const armName = ({ arm, comparatorArm }: Pick<Effect, "arm" | "comparatorArm">): string =>
  comparatorArm === undefined ? arm : `${arm} against ${comparatorArm}`;

/**
 * What tells an effect from the others of its study: arm or arms, and what was measured.
 *
 * @source none: wording of this project
 */
export const effectName = (effect: Effect): string => `${armName(effect)}: ${outcomeName(effect)}`;
