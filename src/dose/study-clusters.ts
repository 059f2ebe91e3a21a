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
  const n = studies.length;
  const parent = Int32Array.from({ length: n }, (_, index) => index);
  const root = (index: number): number => {
    let at = index;
    while (parent[at] !== at) {
      parent[at] = parent[parent[at]!]!;
      at = parent[at]!;
    }
    return at;
  };
  const unite = (a: number, b: number): void => {
    const [left, right] = [root(a), root(b)];
    parent[Math.max(left, right)] = Math.min(left, right);
  };
  const firstOfStudy = new Map<string, number>();
  studies.forEach((study, row) => {
    const first = firstOfStudy.get(study);
    if (first === undefined) firstOfStudy.set(study, row);
    else unite(first, row);
  });
  for (const { indices } of known) for (const index of indices) unite(indices[0]!, index);
  for (const groupOf of groupings) {
    const first = new Map<number, number>();
    for (let row = 0; row < n; row++) {
      const group = groupOf[row]!;
      const one = first.get(group);
      if (one === undefined) first.set(group, row);
      else unite(one, row);
    }
  }
  const clusters = new Map<number, number[]>();
  for (let row = 0; row < n; row++) {
    const list = clusters.get(root(row));
    if (list === undefined) clusters.set(root(row), [row]);
    else list.push(row);
  }
  return [...clusters.values()];
};
