import fc from "fast-check";
import { expect, test } from "vitest";
import { disjointSets } from "../../src/numeric/disjoint-sets.js";

/** Independent: groups found by walking from each member along the pairs, again and again. */
const walked = (count: number, pairs: readonly (readonly [number, number])[]): number[][] => {
  const groups: number[][] = [];
  const seen = new Set<number>();
  for (let start = 0; start < count; start++) {
    if (seen.has(start)) continue;
    const group = new Set([start]);
    for (let grown = -1; grown !== group.size;) {
      grown = group.size;
      for (const [a, b] of pairs) {
        if (group.has(a)) group.add(b);
        if (group.has(b)) group.add(a);
      }
    }
    group.forEach((member) => seen.add(member));
    groups.push([...group].sort((a, b) => a - b));
  }
  return groups;
};

const count = 12;
const member = fc.integer({ min: 0, max: count - 1 });

test("independent: groups are those found by walking along the pairs", () => {
  fc.assert(
    fc.property(fc.array(fc.tuple(member, member), { maxLength: 14 }), (pairs) => {
      const sets = disjointSets(count);
      for (const [a, b] of pairs) sets.unite(a, b);
      const groups = walked(count, pairs);
      expect(sets.groups()).toEqual(groups);
      for (const group of groups)
        for (const one of group) {
          expect(sets.size(one)).toBe(group.length);
          expect(sets.root(one)).toBe(sets.root(group[0]!));
        }
    }),
  );
});

test("members with one key are one group, words and numbers alike", () => {
  const sets = disjointSets(5);
  sets.uniteAlike(["a", "b", "a", "c", "b"]);
  expect(sets.groups()).toEqual([[0, 2], [1, 4], [3]]);
  sets.uniteAlike(Int32Array.of(0, 1, 2, 0, 3));
  expect(sets.groups()).toEqual([
    [0, 2, 3],
    [1, 4],
  ]);
});

test("nothing makes no group", () => {
  expect(disjointSets(0).groups()).toEqual([]);
});
