import type { KnownCovariance } from "../synthesis/synthesis-input.js";

/**
 * Rows of one study together, studies joined where a known covariance crosses them.
 *
 * @source none: a grouping
 */
export const studyClusters = (
  studies: readonly string[],
  known: readonly KnownCovariance[],
): readonly (readonly number[])[] => {
  const clusterOf = new Map<string, string>();
  const root = (study: string): string => {
    const up = clusterOf.get(study) ?? study;
    return up === study ? study : root(up);
  };
  for (const { indices } of known) {
    for (const index of indices) {
      const [a, b] = [root(studies[indices[0]!]!), root(studies[index]!)];
      if (a !== b) clusterOf.set(b, a);
    }
  }
  const clusters = new Map<string, number[]>();
  studies.forEach((study, row) => {
    const list = clusters.get(root(study));
    if (list === undefined) clusters.set(root(study), [row]);
    else list.push(row);
  });
  return [...clusters.values()];
};
