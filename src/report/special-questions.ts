import {
  equalTension,
  type EqualTension,
  type EqualTensionOptions,
} from "../dose/equal-tension.js";
import { jointAngle, type JointAngle } from "../dose/joint-angle.js";
import { timeCourse, type TimeCourse } from "../dose/time-course.js";
import { effectSubset } from "../effects/effect-subset.js";
import type { EffectSet } from "../effects/effect.js";
import { equalTensionFigure } from "../figures/equal-tension-figure.js";
import type { Figure } from "../figures/figure.js";
import { hasAngles, jointAngleFigure } from "../figures/joint-angle-figure.js";
import { timeCourseFigure } from "../figures/time-course-figure.js";
import { equalTensionPairsTable, equalTensionTable } from "../tables/equal-tension-table.js";
import { jointAngleTable } from "../tables/joint-angle-table.js";
import type { Table } from "../tables/table.js";
import { timeCourseTable } from "../tables/time-course-table.js";
import { armTimeline } from "./arm-timeline.js";

/** An answer for each outcome family that gives occasion for one. */
export type FamilyAnswers<Answer> = readonly Readonly<{ family: string; answer: Answer }>[];

/** What is shown of one question. */
export type ShownQuestion = Readonly<{
  /** Sentences for a question that no family can be asked. */
  sentences: readonly string[];
  tables: readonly Table[];
  figures: readonly Figure[];
}>;

const familiesOf = ({ effects }: EffectSet): readonly string[] => [
  ...new Set(effects.map(({ row }) => row.outcomeFamily ?? "family not coded")),
];

const ofFamily = (set: EffectSet, family: string): EffectSet =>
  effectSubset(set, ({ row }) => (row.outcomeFamily ?? "family not coded") === family);

/**
 * Carry-over between joint angles for every outcome family that was tested away from a trained angle.
 * @source as in jointAngle
 */
export const jointAngleAnswers = (set: EffectSet, confidence: number): FamilyAnswers<JointAngle> =>
  familiesOf(set)
    .map((family) => ({ family, answer: jointAngle(ofFamily(set, family), { confidence }) }))
    .filter(({ answer }) => hasAngles(answer));

/**
 * The course over weeks for every outcome family with an arm that was measured more than once.
 * @source as in timeCourse
 */
export const timeCourseAnswers = (set: EffectSet, confidence: number): FamilyAnswers<TimeCourse> =>
  familiesOf(set)
    .map((family) => ({ family, answer: timeCourse(ofFamily(set, family), { confidence }) }))
    .filter(({ answer }) => answer.points.length > 0);

/**
 * Equal tension with different holds or efforts, as tables and figures.
 * @source as in equalTension
 */
export const shownEqualTension = (
  set: EffectSet,
  options: EqualTensionOptions,
): ShownQuestion & Readonly<{ result: EqualTension }> => {
  const result = equalTension(set, options);
  const timelines = Object.fromEntries(
    set.effects.flatMap(({ effectId, row }) => {
      const timeline = armTimeline(row);
      return timeline === undefined ? [] : [[effectId, timeline] as const];
    }),
  );
  const pairs = equalTensionPairsTable(result, set.scale);
  return {
    result,
    sentences: [],
    tables: [equalTensionTable(result, set.scale), ...(pairs.rows.length === 0 ? [] : [pairs])],
    figures: result.answers.flatMap((answer) =>
      answer.pairs.length === 0
        ? []
        : [equalTensionFigure({ answer, rules: result, scale: set.scale, timelines })],
    ),
  };
};

/**
 * Carry-over between joint angles, as tables and figures.
 * @source as in jointAngle
 */
export const shownJointAngle = (
  answers: FamilyAnswers<JointAngle>,
  { scale }: EffectSet,
): ShownQuestion => ({
  sentences:
    answers.length > 0
      ? []
      : [
          "No outcome was tested at two distances from a trained angle, so how far a gain carries over cannot be told.",
        ],
  tables: answers.map(({ family, answer }) => jointAngleTable(answer, family, scale)),
  figures: answers.map(({ family, answer }) => jointAngleFigure({ answer, family, scale })),
});

/**
 * The course over weeks, as tables and figures.
 * @source as in timeCourse
 */
export const shownTimeCourse = (
  answers: FamilyAnswers<TimeCourse>,
  { scale }: EffectSet,
): ShownQuestion => ({
  sentences:
    answers.length > 0
      ? []
      : [
          "No arm was measured more than once during training, so how the gain grows over the weeks cannot be told.",
        ],
  tables: answers.map(({ family, answer }) => timeCourseTable(answer, family, scale)),
  figures: answers.map(({ family, answer }) => timeCourseFigure({ answer, family, scale })),
});
