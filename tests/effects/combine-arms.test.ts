import { expect, test } from "vitest";
import { combineArms } from "../../src/effects/combine-arms.js";
import { expectRelative } from "./agreement.js";

const summary = (values: readonly number[]) => {
  const mean = values.reduce((sum, x) => sum + x, 0) / values.length;
  const squares = values.reduce((sum, x) => sum + (x - mean) ** 2, 0);
  return {
    mean,
    deviation: values.length > 1 ? Math.sqrt(squares / (values.length - 1)) : 0,
    participants: values.length,
  };
};
const [a, b, c] = [[3, 5, 8, 13], [2, 2, 9], [20]];

test("identity: combined summaries are the summary of the people put together", () => {
  const combined = combineArms(combineArms(summary(a), summary(b)), summary(c));
  const together = summary([...a, ...b, ...c]);
  expect(combined.participants).toBe(8);
  expectRelative(combined.mean, together.mean, 1e-12);
  expectRelative(combined.deviation, together.deviation, 1e-12);
});

test("identity: the order of combining does not matter", () => {
  const one = combineArms(combineArms(summary(a), summary(b)), summary(c));
  const other = combineArms(summary(a), combineArms(summary(b), summary(c)));
  expectRelative(one.deviation, other.deviation, 1e-12);
});
