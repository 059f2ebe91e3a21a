import { answered } from "../../answers/ask.js";
import { dose } from "../../answers/dose.js";
import type { Exercise } from "../exercise.js";
import { percent, shippedFile } from "../shipped-data.js";

/** The curve of a kind of outcome on one dose, or what is missing for it. */
const answerOn = (outcome: string, on: string) => {
  const answer = answered(dose, shippedFile("demo-register.csv"), { outcome, on }).data.groups[0]
    ?.answer;
  return answer !== undefined && "slopes" in answer ? answer : undefined;
};
const tendon = () => answerOn("tendon", "intensityPercent");

/** What a step of the dose adds, in per cent. */
const slope = (part: "within" | "between", step: number): number => {
  const found = tendon()?.slopes[part];
  return found?.kind === "told" ? percent(step * found.robust.estimate) : 0;
};
const readOff = (name: "ninetyPercent" | "best"): number => {
  const answer = tendon();
  const found = answer !== undefined && "readOffs" in answer ? answer.readOffs[name] : undefined;
  return found?.kind === "told" ? found.dose : 0;
};
const evidence = (on: string): string => {
  const answer = answerOn("size", on);
  return answer !== undefined && "evidence" in answer ? answer.evidence : "none";
};

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
    reason:
      "Arms of one study share people, machine and test, so their difference is the dose. Slopes multiply on the logarithmic scale, and only the product is turned into a percentage.",
  },
  {
    id: "4.2",
    decimals: 0,
    answer: () => Math.round(readOff("ninetyPercent")),
    slips: [
      {
        answer: () => Math.round(readOff("best")),
        because:
          "That is where the curve is highest; asked for is where it first reaches nine tenths of that height.",
      },
      {
        answer: () => Math.round(0.9 * readOff("best")),
        because:
          "That is nine tenths of the best dose; nine tenths of the best gain are asked for.",
      },
    ],
    hint: "readOffs.ninetyPercent.dose, rounded to a whole point of MVC.",
    reason:
      "A curve that flattens gets near its best long before its best: the last tenth costs the most intensity.",
  },
  {
    id: "4.3",
    answer: () => evidence("weeks"),
    slips: [
      {
        answer: () => evidence("holdSeconds"),
        because:
          "So it is for the length of the holds; few studies train their own arms for different numbers of weeks.",
      },
    ],
    hint: "Take the curve of muscle size on weeks; its field evidence says it in a few words.",
    reason:
      "No study of the file trained its own arms for different numbers of weeks, so short and long trials differ in all else, too.",
  },
];
