import { answered } from "../../answers/ask.js";
import { hold } from "../../answers/hold.js";
import type { Exercise } from "../exercise.js";

/** What the question gives for a session, as a coach writes it. */
const held = (protocol: string) => answered(hold, undefined, { protocol }).data;

const session = "4 x 30 s at 50%, rest 60 s, knee, pushing";
const oneOf = "1 x 30 s at 50%, knee, pushing";

/** How long one fresh hold lasts. */
const oneHold = (effort: number, joint: string) =>
  held(`1 x 5 s at ${effort}%${joint}`).assessment?.oneHold;

const longest = (protocol: string, keep: "toSpare" | "hard"): number => {
  const fit = held(protocol).whatWouldFit?.[keep].longestHoldSeconds;
  return fit?.kind === "limit" ? fit.value : 0;
};

/** Notebook 6: can it be held. */
export const holdExercises: readonly Exercise[] = [
  {
    id: "6.1",
    decimals: 0,
    answer: () => Math.round(oneHold(40, ", knee")?.centralSeconds ?? 0),
    slips: [
      {
        answer: () => Math.round(oneHold(40, ", knee")?.lowSeconds ?? 0),
        because: "That is the low edge of the band; the centre is asked for.",
      },
      {
        answer: () => Math.round(oneHold(40, "")?.centralSeconds ?? 0),
        because: "That is the general curve; the knee has one of its own.",
      },
      {
        answer: () => Math.round(oneHold(60, ", knee")?.centralSeconds ?? 0),
        because: "That is the time at the intensity of the example; the exercise names another.",
      },
    ],
    hint: 'enduranceTime(effort, "knee").centralSeconds, rounded to a whole second.',
    reason:
      "The knee has a curve of its own: large muscles of the leg last less long than the general curve says at this intensity.",
  },
  {
    id: "6.2",
    answer: () => held(session).assessment?.grade ?? "",
    slips: [
      {
        answer: () => held(oneOf).assessment?.grade ?? "",
        because:
          "So it is for the first hold alone; the later holds begin before recovery is complete.",
      },
    ],
    hint: 'canBeHeld(parsePrescription("4 x 30 s at 50%, rest 60 s, knee, pushing")).grade, word for word.',
    reason:
      "Each hold begins before recovery is complete, so the last one decides and not the first.",
  },
  {
    id: "6.3",
    decimals: 1,
    answer: () => longest(session, "toSpare"),
    slips: [
      {
        answer: () => longest(session, "hard"),
        because:
          "That keeps the session at worst hard; asked for is the longest hold that is to spare.",
      },
      {
        answer: () => longest(oneOf, "toSpare"),
        because: "That is for one hold; there are four, each starting a little more tired.",
      },
      {
        answer: () => held(session).doses?.["tensionTimePerSessionSeconds"] ?? 0,
        because:
          "That is the tension time of the whole session; the length of one hold is asked for.",
      },
    ],
    hint: 'whatWouldFit(session, { keep: "to spare" }) changes one thing at a time; look at longestHoldSeconds.',
    reason: "All else kept, shorter holds leave more in reserve for each that follows.",
  },
];
