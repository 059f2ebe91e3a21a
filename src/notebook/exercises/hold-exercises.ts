import { canBeHeld } from "../../endurance/can-be-held.js";
import { enduranceTime } from "../../endurance/endurance-time.js";
import { whatWouldFit, type Fit } from "../../endurance/what-would-fit.js";
import { parsePrescription } from "../../protocol/written-form.js";
import { tensionTimePerSessionSeconds } from "../../protocol/derived-quantities.js";
import type { Exercise } from "../exercise.js";

const session = parsePrescription("4 x 30 s at 50 %, rest 60 s, knee");
const limit = (fit: Fit): number => (fit.kind === "limit" ? fit.value : 0);

/** Notebook 6: can it be held. */
export const holdExercises: readonly Exercise[] = [
  {
    id: "6.1",
    decimals: 0,
    answer: () => Math.round(enduranceTime(40, "knee").centralSeconds),
    slips: [
      {
        answer: () => Math.round(enduranceTime(40, "knee").lowSeconds),
        because: "That is the low edge of the band; the centre is asked for.",
      },
      {
        answer: () => Math.round(enduranceTime(40, "general").centralSeconds),
        because: "That is the general curve; the knee has one of its own.",
      },
      {
        answer: () => Math.round(enduranceTime(60, "knee").centralSeconds),
        because: "That is the time at the effort of the example; the exercise names another.",
      },
    ],
    hint: 'enduranceTime(effort, "knee").centralSeconds, rounded to a whole second.',
  },
  {
    id: "6.2",
    answer: () => canBeHeld(session).grade,
    slips: [
      {
        answer: () => canBeHeld({ ...session, repetitions: 1 }).grade,
        because:
          "So it is for the first hold alone; the later holds begin before recovery is complete.",
      },
    ],
    hint: 'canBeHeld(parsePrescription("4 x 30 s at 50 %, rest 60 s, knee")).grade, word for word.',
  },
  {
    id: "6.3",
    decimals: 1,
    answer: () => limit(whatWouldFit(session, { keep: "comfortable" }).longestHoldSeconds),
    slips: [
      {
        answer: () => limit(whatWouldFit(session, { keep: "near the limit" }).longestHoldSeconds),
        because:
          "That keeps the session near the limit; asked for is the longest hold that stays comfortable.",
      },
      {
        answer: () =>
          limit(
            whatWouldFit({ ...session, repetitions: 1 }, { keep: "comfortable" })
              .longestHoldSeconds,
          ),
        because: "That is for one hold; there are four, each starting a little more tired.",
      },
      {
        answer: () => tensionTimePerSessionSeconds(session),
        because:
          "That is the tension time of the whole session; the length of one hold is asked for.",
      },
    ],
    hint: 'whatWouldFit(session, { keep: "comfortable" }) changes one thing at a time; look at longestHoldSeconds.',
  },
];
