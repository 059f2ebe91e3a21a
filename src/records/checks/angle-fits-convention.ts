import type { OutcomeRow } from "../outcome-row.js";
import { noDoubts, rowIssue } from "./row-check.js";
import type { RowCheck } from "./row-check.js";

/** Angles that a joint can reach, by convention, degrees; generous, so that only slips fall outside. */
const reachable: Readonly<
  Partial<Record<NonNullable<OutcomeRow["angleConvention"]>, readonly [number, number]>>
> = {
  "full extension is 0": [-30, 160],
  "full extension is 180": [20, 210],
  "ankle neutral is 0": [-60, 60],
  "ankle neutral is 90": [30, 150],
};

/** Training and test angles that no joint reaches under the row's angle convention. */
export const angleFitsConvention: RowCheck = (row) => {
  const limits = row.angleConvention === undefined ? undefined : reachable[row.angleConvention];
  if (limits === undefined) return noDoubts;
  const [low, high] = limits;
  const outside = (angle: number) => angle < low || angle > high;
  const training = row.trainingAngleDegrees?.some(outside) === true;
  const test = row.testAngleDegrees !== undefined && outside(row.testAngleDegrees);
  if (!training && !test) return noDoubts;
  const doubt = {
    code: "angle-convention" as const,
    message: `where ${row.angleConvention ?? ""}, angles run from about ${low} to ${high} degrees`,
    mend: "check the angle and angle_convention; the other convention may be meant",
  };
  return [
    ...(training ? [rowIssue(row, "trainingAngleDegrees", "warning", doubt)] : []),
    ...(test ? [rowIssue(row, "testAngleDegrees", "warning", doubt)] : []),
  ];
};
