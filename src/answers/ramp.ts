/** The weeks up to a protocol, one change a week, as a table, a figure and a sheet to print. */
import * as z from "zod";
import { refusal } from "../errors.js";
import { mostRampWeeks, rampHoldBackAt } from "../projection/ramp-options.js";
import { rampPlan, type RampPlan } from "../projection/ramp-plan.js";
import { rampFroms, rampRules, type RampFrom } from "../projection/ramp-start.js";
import { sorenessNotes, type SorenessNote } from "../projection/soreness.js";
import { fieldWords, type Prescription } from "../protocol/prescription.js";
import { timelineNeeds } from "../protocol/session-timeline.js";
import { parsePrescription } from "../protocol/written-form.js";
import { rampAnswer, rampTable } from "../tables/ramp-table.js";
import { noteSchema, type AnswerDraft } from "./answer.js";
import { aNumber, onOff, namedOne, option } from "./option.js";
import { profileOption } from "./profile.js";
import { question } from "./question.js";
import { rampSheet } from "./ramp-sheet.js";
import { assumedOf, jointOption, protocolOption, readProtocol, sorenessOf } from "./session.js";

/** How long a working-up can be. */
export const rampWeeks = { low: 1, high: mostRampWeeks } as const;

/** The words for where a person is now, for those who offer them. */
export { rampFroms };

/** The plan as `rampPlan` gives it; of a refusal, soreness alone. */
export type RampData = Partial<RampPlan> & Readonly<{ soreness: readonly SorenessNote[] }>;

/** A start is one of the words, or a session: what holds a digit. */
const isSession = (from: string): boolean => /\d/u.test(from);
const startOf = (from: string): RampFrom | Prescription =>
  isSession(from) ? parsePrescription(from) : (from as RampFrom);

const degrees = (most: number, needs: string) => aNumber({ above: 0, most, needs });

/** The way to a session, each week checked against endurance. */
export const ramp = question({
  id: "ramp",
  options: {
    protocol: protocolOption,
    from: option(
      z.preprocess(
        (value) =>
          typeof value === "string" && !isSession(value) ? namedOne(value, rampFroms) : value,
        z.string(),
      ),
      {
        help: `where the person is now: ${rampFroms.join(", ")}, or the session done now, as "2 x 10 s at 30%, middle"`,
        value: "<state>",
        label: "Where the person is now",
      },
    ),
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
    greatestAngle: option(degrees(180, "an angle above 0° and up to 180°").optional(), {
      help: "greatest joint angle that can be trained at now, degrees as the protocol has them",
      value: "<degrees>",
      label: "Greatest angle now, °",
    }),
    angleStep: option(
      degrees(90, "a step above 0° and up to 90°").default(
        rampRules.deconditioned.angleStepDegrees,
      ),
      {
        help: "step of the angle towards long length, degrees",
        value: "<degrees>",
        label: "Step of the angle, °",
      },
    ),
    holdBackAt: option(
      aNumber({ least: 0, most: 5, needs: "a pain from 0 to 5" }).default(rampHoldBackAt),
      {
        help: "pain from 0 to 10 up to which the next week goes on as planned",
        value: "<pain>",
        label: "Go on up to this pain",
      },
    ),
    profile: profileOption,
    byEffort: option(onOff(), {
      help: "write the sheet in effort 0 to 10, for those without equipment",
      label: "Without equipment: effort 0 to 10",
    }),
  },
  choices: [
    "protocol",
    "from",
    "weeks",
    "joint",
    "greatestAngle",
    "angleStep",
    "holdBackAt",
    "byEffort",
    "profile",
  ],
  data: {
    kind: z.literal("plan").optional(),
    weeks: z.array(z.looseObject({ week: z.number(), written: z.string() })).optional(),
    shortestWeeks: z.number().nullable().optional(),
    arrives: z.boolean().optional(),
    notes: z.array(noteSchema).optional(),
    soreness: z.array(noteSchema),
  },
  prepare: () => undefined,
  answer: (_none, options): AnswerDraft<RampData> => {
    const {
      protocol,
      from,
      weeks,
      joint,
      greatestAngle,
      angleStep,
      holdBackAt,
      byEffort,
      profile,
    } = options;
    const target = readProtocol(protocol, joint);
    const soreness = sorenessNotes(target);
    const sorenessShown = sorenessOf([{ name: "the target", prescription: target }]);
    const start = startOf(from);
    const missing = [
      ...timelineNeeds(target).map((field) => fieldWords[field]),
      ...(typeof start !== "string" && timelineNeeds(start).includes("intensityPercent")
        ? ["an intensity of the start in percent of MVC"]
        : []),
    ];
    if (missing.length > 0) {
      const reason = `no week can be checked without ${missing.join(" and ")}`;
      return {
        headline: `No plan: ${reason}; for example 4 × 20 s at 70%, rest 60 s, 3/week.`,
        tables: [sorenessShown],
        prescriptions: [target],
        refusal: refusal("missing-field", reason),
        data: { soreness },
      };
    }
    const answer = rampPlan(target, {
      from: start,
      weeks,
      holdBackAt,
      ...(greatestAngle === undefined ? {} : { greatestAngleDegrees: greatestAngle }),
      rule: { angleStepDegrees: angleStep },
    });
    if (answer.kind === "refusal")
      return {
        headline: rampAnswer(answer),
        tables: [sorenessShown],
        notes: answer.notes,
        prescriptions: [target],
        refusal: answer,
        data: { soreness },
      };
    return {
      headline: rampAnswer(answer),
      sentences: assumedOf(protocol),
      tables: [rampTable(answer), sorenessShown],
      figures: [{ name: "ramp", data: { id: "ramp", ...answer } }],
      prescriptions: answer.weeks.flatMap(({ prescription, long }) => [
        prescription,
        ...(long === undefined ? [] : [long.prescription]),
      ]),
      sheets: [
        {
          name: "sheet.html",
          title: "the sheet to print",
          html: rampSheet(answer, {
            byEffort,
            ...(profile === undefined ? {} : { profile }),
          }),
        },
      ],
      data: { ...answer, soreness },
    };
  },
});
