import type { DoseResponse } from "../../dose/dose-response.js";
import { percentFromLogRatio } from "../../effects/percent-from-log-ratio.js";

/** From arms of the same study, or from studies' means. */
export type SlopePart = "within" | "between";

/** What a step of the dose adds, in per cent; 0 where the file cannot tell. */
export const percentOfStep = (answer: DoseResponse, part: SlopePart, step: number): number => {
  const slope = answer.slopes[part];
  return slope.kind === "told" ? percentFromLogRatio(step * slope.robust.estimate) : 0;
};
