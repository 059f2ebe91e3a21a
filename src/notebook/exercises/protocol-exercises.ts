import { effectsFromRows } from "../../effects/effects-from-rows.js";
import { prepareProjection, type PreparedProjection } from "../../projection/prepare-projection.js";
import { projectProtocol } from "../../projection/project-protocol.js";
import {
  tensionTimePerSessionSeconds,
  torqueTimePerSession,
} from "../../protocol/derived-quantities.js";
import { parsePrescription } from "../../protocol/written-form.js";
import type { Exercise } from "../exercise.js";
import { shippedRecords } from "../shipped-data.js";

const protocol = parsePrescription("5 x 20 s at 60 %, rest 60 s, 3/week, 10 weeks, long, knee");

let known: PreparedProjection | undefined;
const ranges = () => {
  if (known === undefined) {
    const { rows } = shippedRecords("demo-register.csv");
    known = prepareProjection(effectsFromRows(rows, { outcomeFamilies: ["size"] }), {
      goal: "size",
      rows,
    });
  }
  const projection = projectProtocol(known, protocol, { joint: "knee", course: false });
  return projection.kind === "projection" ? projection.ranges : undefined;
};

/** Notebook 7: projecting and comparing protocols. */
export const protocolExercises: readonly Exercise[] = [
  {
    id: "7.1",
    answer: () => tensionTimePerSessionSeconds(protocol),
    slips: [
      {
        answer: () => torqueTimePerSession(protocol) ?? 0,
        because: "That weighs each second with its effort; tension time counts seconds alone.",
      },
      {
        answer: () => 3 * tensionTimePerSessionSeconds(protocol),
        because: "That is a week's; one session is asked for.",
      },
    ],
    hint: "Number of holds in a session times the length of one; rests do not count.",
  },
  {
    id: "7.2",
    decimals: 1,
    answer: () => ranges()?.average.percent.estimate ?? 0,
    slips: [
      {
        answer: () => 100 * (ranges()?.average.estimate ?? 0),
        because: "That is a hundred times the logarithm; the percentages stand under percent.",
      },
      {
        answer: () => ranges()?.person.percent.low ?? 0,
        because: "That is where the range of a single person begins.",
      },
      {
        answer: () => ranges()?.average.percent.low ?? 0,
        because: "That is where the range begins; its middle is asked for.",
      },
    ],
    hint: 'projectProtocol(prepared, protocol, { joint: "knee" }).ranges.average.percent.estimate',
  },
  {
    id: "7.3",
    answer: () => Math.round(100 * (ranges()?.person.probabilityOfGain ?? 0)),
    slips: [
      {
        answer: () => Math.round(100 * (ranges()?.newGroup.probabilityOfGain ?? 0)),
        because: "So it is for the mean of a new group. People scatter much more than groups do.",
      },
      {
        answer: () => Math.round(100 * (1 - (ranges()?.person.probabilityOfGain ?? 0))),
        because: "That is the probability of no gain.",
      },
    ],
    hint: "ranges.person has a probabilityOfGain; give it in whole per cent.",
  },
];
