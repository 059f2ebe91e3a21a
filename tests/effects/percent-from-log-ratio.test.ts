import { expect, test } from "vitest";
import {
  logRatioFromPercent,
  percentFromLogRatio,
} from "../../src/effects/percent-from-log-ratio.js";
import { expectRelative } from "./agreement.js";

test("identity: ln 1.18 is +18%, ln 0.5 is −50%, and the two functions undo each other", () => {
  expectRelative(percentFromLogRatio(Math.log(1.18)), 18, 1e-12);
  expectRelative(percentFromLogRatio(Math.log(0.5)), -50, 1e-12);
  for (const x of [-2, -1e-9, 0, 1e-9, 0.3, 3]) {
    expect(Math.abs(logRatioFromPercent(percentFromLogRatio(x)) - x)).toBeLessThan(1e-12);
  }
});
