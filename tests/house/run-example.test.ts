import { expect, test } from "vitest";
import { runExample } from "./run-example.js";

const scope = { half: (value: number) => value / 2 };

test("a true promise is held, to the digits written", async () => {
  const code =
    'import { half } from "holdbook";\nconst value: number = half(1 / 3);\nvalue;\n// => 0.167\n[half(2), { a: "b 1" }] // => [1, { a: "b 1" }]';
  expect(await runExample(code, { ...scope }, "here")).toBe(2);
});

test("an untrue number, text or shape is noticed, and the place is named", async () => {
  await expect(runExample("half(1) // => 0.51", scope, "here")).rejects.toThrow(/here: half\(1\)/);
  await expect(runExample("half(4) // => 3", scope, "here")).rejects.toThrow(/promised 3/);
  await expect(runExample('`${half(4)}` // => "3"', scope, "here")).rejects.toThrow();
  await expect(runExample("[half(4)] // => [2, 2]", scope, "here")).rejects.toThrow();
});

test("code that fails is noticed", async () => {
  await expect(runExample("missing(1) // => 1", scope, "here")).rejects.toThrow(/missing/);
});
