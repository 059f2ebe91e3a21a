import type { Note } from "../errors.js";
import type { Story } from "../synthesis/synthesis-results.js";
import { confidenceWords } from "./number-format.js";

const sentence = (text: string): string => {
  const trimmed = text.trim();
  const capital = trimmed.charAt(0).toUpperCase() + trimmed.slice(1);
  return /[.!?]$/.test(capital) ? capital : `${capital}.`;
};

/**
 * Notes as footnotes: one sentence each, the same doubt about several studies written once.
 *
 * @returns in order of first appearance
 */
export const noteLines = (notes: readonly Note[]): readonly string[] => {
  const studiesByMessage = new Map<string, Set<string>>();
  for (const note of notes) {
    const studies = studiesByMessage.get(note.message) ?? new Set<string>();
    if (note.study !== undefined) studies.add(note.study);
    studiesByMessage.set(note.message, studies);
  }
  return [...studiesByMessage].map(([message, studies]) =>
    studies.size === 0 ? sentence(message) : `${[...studies].join(", ")}: ${sentence(message)}`,
  );
};

/** The story of a fit as footnotes: model, estimator, interval method, assumptions, doubts. */
export const storyNotes = (story: Story): readonly string[] => [
  `Model: ${story.model}. Heterogeneity: ${story.heterogeneityEstimator}. ` +
    `Intervals: ${story.intervalMethod}, ${confidenceWords(story.confidence)} confidence.`,
  ...story.assumptions.map((assumption) => `Assumed: ${assumption}.`),
  ...noteLines(story.notes),
];

/** Whether a footnote tells of the method and not of a doubt: model, estimator, what is assumed. */
export const tellsTheMethod = (line: string): boolean =>
  /^(?:[^:]+: )?(?:Model|Assumed): /u.test(line);
