/**
 * Places of pairs that join effects not yet joined: fewest other differences first, then furthest apart.
 *
 * Three arms make three pairs of which two are free; the third follows from them and would be counted twice.
 *
 * @param pairs positions of the two effects, how far apart they are, in what else they differ
 * @source Kruskal (1956) Proceedings of the American Mathematical Society 7:48–50
 */
export const freePairs = (
  pairs: readonly Readonly<{
    positions: readonly [number, number];
    size: number;
    alsoDiffer: readonly string[];
  }>[],
): ReadonlySet<number> => {
  const parent = new Map<number, number>();
  const root = (position: number): number => {
    const up = parent.get(position) ?? position;
    return up === position ? position : root(up);
  };
  const order = pairs
    .map((_, index) => index)
    .sort(
      (a, b) =>
        pairs[a]!.alsoDiffer.length - pairs[b]!.alsoDiffer.length ||
        pairs[b]!.size - pairs[a]!.size,
    );
  const free = new Set<number>();
  for (const index of order) {
    const [a, b] = pairs[index]!.positions.map(root) as [number, number];
    if (a === b) continue;
    parent.set(a, b);
    free.add(index);
  }
  return free;
};
