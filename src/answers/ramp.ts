/** The weeks up to a protocol, one change a week, as a table, a figure and a sheet to print. */
import * as z from "zod";
import { refusal } from "../errors.js";
import { mostRampWeeks } from "../projection/ramp-options.js";
import { rampPlan, type RampPlan } from "../projection/ramp-plan.js";
import { rampFroms } from "../projection/ramp-start.js";
import { sorenessNotes, type SorenessNote } from "../projection/soreness.js";
import { timelineNeeds } from "../protocol/session-timeline.js";
import { fieldWords } from "../protocol/prescription.js";
import { rampAnswer, rampRefusalTable, rampTable } from "../tables/ramp-table.js";
import { noteSchema, type AnswerDraft } from "./answer.js";
import { aNumber, oneOf, option } from "./option.js";
import { question } from "./question.js";
import { rampSheet } from "./ramp-sheet.js";
import {
  assumedOf,
  cautionsOf,
  jointOption,
  protocolOption,
  readProtocol,
  sorenessOf,
} from "./session.js";

/** How long a working-up can be. */
export const rampWeeks = { low: 1, high: mostRampWeeks } as const;

/** The plan as `rampPlan` gives it; of a refusal, soreness alone. */
export type RampData = Partial<RampPlan> & Readonly<{ soreness: readonly SorenessNote[] }>;

/** The way to a session, each week checked against endurance. */
export const ramp = question({
  id: "ramp",
  options: {
    protocol: protocolOption,
    from: option(oneOf(rampFroms), {
      help: `where the person is now: ${rampFroms.join(", ")}`,
      value: "<state>",
      label: "Where the person is now",
    }),
    weeks: option(
      aNumber({
        least: rampWeeks.low,
        most: rampWeeks.high,
        whole: true,
        needs: `a whole number of weeks from ${rampWeeks.low} to ${rampWeeks.high}`,
      }),
      {
        help: "weeks until the session itself",
        value: "<number>",
        label: "Weeks until the protocol itself",
      },
    ),
    joint: jointOption,
  },
  choices: ["protocol", "from", "weeks", "joint"],
  data: {
    kind: z.literal("plan").optional(),
    weeks: z.array(z.looseObject({ week: z.number(), written: z.string() })).optional(),
    shortestWeeks: z.number().optional(),
    notes: z.array(noteSchema).optional(),
    soreness: z.array(noteSchema),
  },
  prepare: () => undefined,
  answer: (_none, { protocol, from, weeks, joint }): AnswerDraft<RampData> => {
    const target = readProtocol(protocol, joint);
    const soreness = sorenessNotes(target);
    const sorenessShown = sorenessOf([{ name: "the target", prescription: target }]);
    const needs = timelineNeeds(target).map((field) => fieldWords[field]);
    if (needs.length > 0) {
      const reason = `no week can be checked without ${needs.join(" and ")}`;
      return {
        headline: `No plan: ${reason}; for example 4 × 20 s at 70%, rest 60 s, 3/week.`,
        tables: [sorenessShown],
        cautions: cautionsOf([target]),
        refusal: refusal("missing-field", reason),
        data: { soreness },
      };
    }
    const answer = rampPlan(target, { from, weeks });
    if (answer.kind === "refusal")
      return {
        headline: rampAnswer(answer),
        tables: [rampRefusalTable(answer), sorenessShown],
        cautions: cautionsOf([target]),
        refusal: answer,
        data: { soreness },
      };
    return {
      headline: rampAnswer(answer),
      sentences: assumedOf(protocol),
      tables: [rampTable(answer), sorenessShown],
      figures: [{ name: "ramp", data: { id: "ramp", ...answer } }],
      cautions: cautionsOf(answer.weeks.map(({ prescription }) => prescription)),
      sheets: [{ name: "sheet.html", title: "the sheet to print", html: rampSheet(answer) }],
      data: { ...answer, soreness },
    };
  },
});
