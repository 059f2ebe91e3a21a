import { describe, expect, test } from "vitest";
import { CallError } from "../../src/errors.js";
import {
  requireCount,
  requireNotNegative,
  requirePositive,
  requireProbability,
} from "../../src/numeric/scalar-guard.js";

const codeOf = (act: () => void): string => {
  try {
    act();
  } catch (error) {
    if (error instanceof CallError) return error.code;
    throw error;
  }
  return "passed";
};

describe("refuses", () => {
  test("each kind with its own code", () => {
    expect(codeOf(() => requirePositive("f", "x", 0))).toBe("not-positive");
    expect(codeOf(() => requireNotNegative("f", "x", -1))).toBe("negative");
    expect(codeOf(() => requireProbability("f", 1.1))).toBe("not-a-probability");
    expect(codeOf(() => requireCount("f", "n", 1.5, 1))).toBe("not-a-count");
    expect(codeOf(() => requireCount("f", "n", 0, 1))).toBe("not-a-count");
    expect(codeOf(() => requireCount("f", "n", NaN, 1))).toBe("not-a-count");
  });
  test("nothing that is fit, nor NaN where the caller passes it on", () => {
    expect(codeOf(() => requirePositive("f", "x", NaN))).toBe("passed");
    expect(codeOf(() => requireNotNegative("f", "x", 0))).toBe("passed");
    expect(codeOf(() => requireProbability("f", 1))).toBe("passed");
    expect(codeOf(() => requireCount("f", "n", 3, 1))).toBe("passed");
  });
});
