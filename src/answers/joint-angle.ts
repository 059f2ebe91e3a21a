/** How far a gain carries over to joint angles that were not trained. */
import { jointAngle, jointAngleDefaults } from "../dose/joint-angle.js";
import { refusal } from "../errors.js";
import { hasAngles } from "../figures/joint-angle-figure.js";
import { carryOverSentence, jointAngleTable, lengthName } from "../tables/joint-angle-table.js";
import { capital, counted } from "../tables/number-format.js";
import { ofAllAnglesAndWeeks } from "./all-angles-and-weeks.js";
import { armsThatDiffer, valuesOf } from "./not-weighted.js";
import { numbers, option } from "./option.js";
import { borrowedIds } from "./outcome-groups.js";

/** Carry-over for every outcome tested away from a trained angle, apart for each length of muscle trained at. */
export const jointAngleQuestion = ofAllAnglesAndWeeks({
  id: "joint-angle",
  options: {
    degrees: option(numbers().default(jointAngleDefaults.degrees), {
      help: "distances from the trained angle at which the share left is told",
      value: "<degrees>",
    }),
  },
  fit: (all, { confidence, degrees }) => jointAngle(all, { confidence, degrees }),
  points: (answer) => (hasAngles(answer) ? answer.lengths.flatMap(({ points }) => points) : []),
  part: ({ id, label, all }, answer) => {
    const { scale } = all;
    const drawn = { answer, family: label, scale, borrowed: borrowedIds(all) };
    const name = capital(label);
    const told = carryOverSentence(answer);
    const missing = answer.lengths
      .flatMap(({ halfWidth }) => (halfWidth.kind === "told" ? [] : [halfWidth.reason]))
      .join("; ");
    const counts = answer.lengths.map(
      ({ muscleLength, effects, studies }) =>
        `${lengthName(muscleLength)}: ${counted(effects, "effect")} of ${counted(studies, "study", "studies")}`,
    );
    return {
      headline: `${name}: ${told ?? `no width, as ${missing}.`}`,
      sentences: [
        `${name}, all angles and weeks, by the muscle length trained at: ${counts.join("; ")}.`,
      ],
      tables: [{ ...jointAngleTable(answer, label, scale), id: `joint-angle-${id}` }],
      figures: [
        { name: "joint-angle", data: { id: `joint-angle-${id}`, ...drawn } },
        { name: "test-angle", data: { id: `test-angle-${id}`, ...drawn } },
      ],
      notes: answer.lengths.flatMap(({ notes }) => notes),
      refusal: told === undefined ? refusal("not-told", missing) : undefined,
    };
  },
  nothing: {
    code: "one-distance",
    what: "outcome",
    was: "tested at two distances from a trained angle",
  },
  rows: {
    of: (rows) => armsThatDiffer(rows, ({ testAngleDegrees }) => testAngleDegrees),
    detail: (rows) => `${valuesOf(rows, ({ testAngleDegrees }) => testAngleDegrees)}°`,
  },
});
