import { disjointSets } from "../numeric/disjoint-sets.js";
import type { KnownCovariance } from "../synthesis/synthesis-input.js";

/**
 * Rows joined by a study, a known covariance or a random intercept, directly or through others: each cluster is
 * independent of all other rows.
 *
 * @param studies   one per row
 * @param known     covariances between rows
 * @param groupings further groupings, one number per row
 * @source none: a grouping
 */
export const studyClusters = (
  studies: readonly string[],
  known: readonly Pick<KnownCovariance, "indices">[],
  groupings: readonly ArrayLike<number>[] = [],
): readonly (readonly number[])[] => {
  const rows = disjointSets(studies.length);
  rows.uniteAlike(studies);
  for (const { indices } of known) for (const index of indices) rows.unite(indices[0]!, index);
  for (const groupOf of groupings) rows.uniteAlike(groupOf);
  return rows.groups();
};
