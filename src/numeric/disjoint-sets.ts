/** Numbers 0 … count − 1 in groups that grow together. */
export type DisjointSets = Readonly<{
  /** The member that stands for a member's group; the same for all of the group. */
  root: (index: number) => number;
  /** How many are in a member's group. */
  size: (index: number) => number;
  /** Makes one group of the groups of two members; the first's root stands for it. */
  unite: (a: number, b: number) => void;
  /** Makes one group of all members that carry the same key. */
  uniteAlike: (keys: ArrayLike<number | string>) => void;
  /** Every group, its members ascending, in the order of their first members. */
  groups: () => readonly (readonly number[])[];
}>;

/**
 * Groups of numbers that begin with each number alone and are united pair by pair.
 *
 * @param count of numbers, 0 or more
 * @source Tarjan RE (1975) Journal of the ACM 22:215–225 (a forest of parents, its paths halved on the way)
 */
export const disjointSets = (count: number): DisjointSets => {
  const parent = Int32Array.from({ length: count }, (_, index) => index);
  const sizes = new Int32Array(count).fill(1);
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
    if (left === right) return;
    parent[right] = left;
    sizes[left]! += sizes[right]!;
  };
  return {
    root,
    size: (index) => sizes[root(index)]!,
    unite,
    uniteAlike: (keys) => {
      const first = new Map<number | string, number>();
      for (let index = 0; index < keys.length; index++) {
        const before = first.get(keys[index]!);
        if (before === undefined) first.set(keys[index]!, index);
        else unite(before, index);
      }
    },
    groups: () => {
      const lists = new Map<number, number[]>();
      for (let index = 0; index < count; index++) {
        const list = lists.get(root(index));
        if (list === undefined) lists.set(root(index), [index]);
        else list.push(index);
      }
      return [...lists.values()];
    },
  };
};
