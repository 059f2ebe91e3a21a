import type { SectionMaker } from "./old-sections.js";
import {
  jointAngleAnswers,
  shownEqualTension,
  shownJointAngle,
  shownTimeCourse,
  timeCourseAnswers,
} from "./special-questions.js";

/**
 * Three questions of their own: equal tension given otherwise, carry-over between joint angles, the course over weeks.
 *
 * @source as in equalTension, jointAngle and timeCourse
 */
export const specialQuestionsSection: SectionMaker = (analysis, _wishes, progress) => {
  const { confidence } = analysis;
  const set =
    analysis.sets.find(({ contrast }) => contrast === "change-within-arm") ??
    analysis.sets.find(({ contrast }) => contrast === "against-control");
  if (set === undefined || set.effects.length === 0) return undefined;
  progress("equal tension, joint angle and time");
  const tension = shownEqualTension(set, { confidence });
  const [averages] = tension.tables;
  const angle = shownJointAngle(jointAngleAnswers(set, confidence), set);
  const time = shownTimeCourse(timeCourseAnswers(set, confidence), set);
  const figures = [...angle.figures, ...time.figures, ...tension.figures];
  if (figures.length === 0) return undefined;
  return {
    id: "special-questions",
    title: "Equal tension, joint angle, time",
    sentences: [
      "Does the same work do the same when it is given in longer holds, or at a harder effort? How far does a gain carry over to angles that were not trained? How does it grow over the weeks? Each is asked inside studies only; where a file cannot answer, that is the answer.",
      ...angle.sentences,
      ...time.sentences,
    ],
    figures,
    tables: [averages!, ...angle.tables, ...time.tables],
    dataTables: tension.tables.slice(1),
  };
};
