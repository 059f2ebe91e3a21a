import { expect, test } from "vitest";
import { plainJson } from "../../src/answers/answer.js";

test("undefined fields go, what is unlimited is null, and a list keeps its places", () => {
  expect(plainJson({ a: undefined, b: Infinity, c: [1, undefined, "x"], d: { e: false } })).toEqual(
    {
      b: null,
      c: [1, null, "x"],
      d: { e: false },
    },
  );
});

test("a field of any name is a field", () => {
  const copy = plainJson(JSON.parse('{"__proto__":{"x":1},"y":2}') as object);
  expect(JSON.stringify(copy)).toBe('{"__proto__":{"x":1},"y":2}');
  expect(Object.getPrototypeOf(copy)).toBe(Object.prototype);
});

test.each([
  [{ a: [{ b: Number.NaN }] }, "answer.a.0.b", "a not-a-number"],
  [{ f: () => 1 }, "answer.f", "a function"],
  [{ m: new Map() }, "answer.m", "an object with a life of its own"],
])("what is not plain is refused with its place", (value, place, got) => {
  expect(() => plainJson<object>(value)).toThrow(place);
  expect(() => plainJson<object>(value)).toThrow(got);
});
