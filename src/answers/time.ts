/** How the gain grows over the weeks, from arms that were measured more than once. */
import { timeCourse, timeCourseDefaults } from "../dose/time-course.js";
import { refusal } from "../errors.js";
import { capital, counted, formatCount } from "../tables/number-format.js";
import { borrowedIds } from "./outcome-groups.js";
import { timeConstantSentence, timeCourseTable } from "../tables/time-course-table.js";
import { ofAllAnglesAndWeeks } from "./all-angles-and-weeks.js";
import { armsThatDiffer, valuesOf } from "./not-weighted.js";
import { aNumber, numbers, option } from "./option.js";

/** The course of the gain for every kind of outcome with an arm that was measured more than once. */
export const time = ofAllAnglesAndWeeks({
  id: "time",
  options: {
    weeks: option(numbers().default(timeCourseDefaults.weeks), {
      help: "weeks at which the gain is told",
      value: "<weeks>",
    }),
    referenceWeek: option(
      aNumber({ above: 0, needs: "a week above 0" }).default(timeCourseDefaults.referenceWeek),
      { help: "week whose gain the shares are taken of", value: "<week>" },
    ),
  },
  fit: (all, { confidence, weeks, referenceWeek }) =>
    timeCourse(all, { confidence, weeks, referenceWeek }),
  points: ({ points }) => points,
  part: ({ id, label, all }, answer) => {
    const { scale } = all;
    const { timeConstant, effects, studies, people, notes, gains } = answer;
    return {
      headline: `${capital(label)}: ${timeConstantSentence(answer).replace(/^How/, "how")}`,
      sentences: [
        `${capital(label)}: ${counted(effects, "effect")} of ${counted(studies, "study", "studies")} with ${formatCount(people)} people, all of arms measured more than once in training.`,
      ],
      tables:
        gains.length === 0
          ? []
          : [{ ...timeCourseTable(answer, label, scale), id: `time-course-${id}` }],
      figures: [
        {
          name: "time-course",
          data: {
            id: `time-course-${id}`,
            answer,
            family: label,
            scale,
            borrowed: borrowedIds(all),
          },
        },
      ],
      notes,
      refusal: timeConstant.kind === "told" ? undefined : refusal("not-told", timeConstant.reason),
    };
  },
  nothing: {
    code: "measured-once",
    what: "arm",
    was: "measured more than once during training",
  },
  rows: {
    of: (rows) => armsThatDiffer(rows, ({ weekMeasured, weeks }) => weekMeasured ?? weeks),
    detail: (rows) => `weeks ${valuesOf(rows, ({ weekMeasured, weeks }) => weekMeasured ?? weeks)}`,
  },
});
