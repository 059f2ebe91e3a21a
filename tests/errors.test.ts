import { expect, test } from "vitest";
import { CallError, ConvergenceError, DataError, issueText, type Issue } from "../src/errors.js";

const issue: Issue = {
  code: "not-a-number",
  severity: "error",
  line: 7,
  column: "weeks",
  value: "eight",
  message: "is not a number",
  mend: "type it in digits",
};

test("issueText: place, problem, value and mend, in one sentence", () => {
  expect(issueText(issue)).toBe(
    'line 7, column weeks: is not a number (got "eight"); type it in digits',
  );
  expect(issueText({ ...issue, line: 0, column: "", value: "" })).toBe(
    "file: is not a number; type it in digits",
  );
});

test("DataError: lists every problem, a line each", () => {
  expect(new DataError([issue, { ...issue, line: 9 }]).message.split("\n")).toHaveLength(2);
});

test("CallError and ConvergenceError: say what is needed, what was got, and what to try", () => {
  const call = new CallError({
    code: "out-of-range",
    where: "pool",
    needs: "two",
    got: "one",
    try: "add one",
  });
  expect(call.message).toBe("pool requires two, got one; add one");
  const fit = new ConvergenceError({
    where: "the fit",
    iterations: 5,
    lastChange: 0.1,
    tolerance: 0.01,
    try: "start elsewhere",
  });
  expect(fit.message).toMatch(/5 iterations .*0\.1.*0\.01.*start elsewhere/);
});
