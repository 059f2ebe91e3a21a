import { expect, test } from "vitest";
import { keptLately } from "../../src/projection/kept-lately.js";

test("what was made for one owner and key is made once, and the oldest again after 8 others", () => {
  const kept = keptLately<string>();
  const [one, other] = [{}, {}];
  const made: string[] = [];
  const ask = (owner: object, key: string) =>
    kept(owner, key, () => {
      made.push(key);
      return `${key}!`;
    });
  expect([ask(one, "a"), ask(one, "a"), ask(other, "a")]).toEqual(["a!", "a!", "a!"]);
  expect(made).toEqual(["a", "a"]);
  for (let i = 0; i < 7; i++) ask(one, String(i));
  ask(one, "a");
  expect(made).toHaveLength(9);
  ask(one, "last");
  ask(one, "a");
  expect(made.slice(-2)).toEqual(["last", "a"]);
});

test("a failure is not kept", () => {
  const kept = keptLately<number>();
  const owner = {};
  expect(() =>
    kept(owner, "a", () => {
      throw new Error("not yet");
    }),
  ).toThrow("not yet");
  expect(kept(owner, "a", () => 7)).toBe(7);
});
