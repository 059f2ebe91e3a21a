import { doseResponse, type DoseResponse } from "../../dose/dose-response.js";
import type { DoseAxisName } from "../../dose/dose-axes.js";
import { effectsFromRows } from "../../effects/effects-from-rows.js";
import { percentOfStep, type SlopePart } from "./slope-percent.js";
import type { Exercise } from "../exercise.js";
import { shippedFile } from "../shipped-data.js";

const known = new Map<string, DoseResponse>();

const answerOn = (family: "tendon" | "size", axis: DoseAxisName): DoseResponse => {
  const name = `${family} ${axis}`;
  const before = known.get(name);
  if (before !== undefined) return before;
  const set = effectsFromRows(shippedFile("demo-register.csv").records.rows, {
    outcomeFamilies: [family],
  });
  const answer = doseResponse(set, axis);
  known.set(name, answer);
  return answer;
};

const tendon = (): DoseResponse => answerOn("tendon", "intensityPercent");
const slope = (part: SlopePart, step: number): number => percentOfStep(tendon(), part, step);
const ninety = (): number => {
  const answer = tendon();
  return answer.kind === "told" && answer.readOffs.ninetyPercent.kind === "told"
    ? answer.readOffs.ninetyPercent.dose
    : 0;
};
const best = (): number => {
  const answer = tendon();
  return answer.kind === "told" && answer.readOffs.best.kind === "told"
    ? answer.readOffs.best.dose
    : 0;
};
const evidence = (answer: DoseResponse): string =>
  answer.kind === "told" ? answer.evidence : "none";

/** Notebook 4: dose-response. */
export const doseExercises: readonly Exercise[] = [
  {
    id: "4.1",
    decimals: 1,
    answer: () => slope("within", 10),
    slips: [
      {
        answer: () => slope("between", 10),
        because:
          "That compares whole studies, which differ in much else; asked for is the slope from arms of the same study.",
      },
      {
        answer: () => slope("within", 1),
        because: "That is for one point of MVC; ten are asked for.",
      },
      {
        answer: () => 10 * slope("within", 1),
        because:
          "Ten times the percentage of one point: percentages do not add up, logarithms do. Multiply first, then turn.",
      },
    ],
    hint: "slopes.within.robust.estimate is the log ratio for one point of MVC; take it times ten, and turn it into a percentage.",
  },
  {
    id: "4.2",
    decimals: 0,
    answer: () => Math.round(ninety()),
    slips: [
      {
        answer: () => Math.round(best()),
        because:
          "That is where the curve is highest; asked for is where it first reaches nine tenths of that height.",
      },
      {
        answer: () => Math.round(0.9 * best()),
        because:
          "That is nine tenths of the best dose; nine tenths of the best gain are asked for.",
      },
    ],
    hint: "readOffs.ninetyPercent.dose, rounded to a whole point of MVC.",
  },
  {
    id: "4.3",
    answer: () => evidence(answerOn("size", "weeks")),
    slips: [
      {
        answer: () => evidence(answerOn("size", "holdSeconds")),
        because:
          "So it is for the length of the holds; few studies train their own arms for different numbers of weeks.",
      },
    ],
    hint: "Take the curve of muscle size on weeks; its field evidence says it in a few words.",
  },
];
