import type { Story } from "../synthesis/synthesis-results.js";
import { formatPercent } from "./number-format.js";
import { noteLines } from "./note-lines.js";

/** The story of a fit as footnotes: model, estimator, interval method, assumptions, doubts. */
export const storyNotes = (story: Story): readonly string[] => [
  `Model: ${story.model}. Heterogeneity: ${story.heterogeneityEstimator}. ` +
    `Intervals: ${story.intervalMethod}, ${formatPercent(100 * story.confidence, { digits: 0 })} confidence.`,
  ...story.assumptions.map((assumption) => `Assumed: ${assumption}.`),
  ...noteLines(story.notes),
];
