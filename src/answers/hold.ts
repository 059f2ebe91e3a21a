/** What a session amounts to, whether it can be held, and what would make it fit. */
import * as z from "zod";
import { whatWouldFit } from "../endurance/what-would-fit.js";
import type { CanBeHeldOptions, HoldAssessment } from "../endurance/can-be-held.js";
import { refusal } from "../errors.js";
import { sorenessNotes, type SorenessNote } from "../projection/soreness.js";
import {
  contractionsPerSession,
  contractionsPerWeek,
  dutyCycle,
  effectiveIntensityPercent,
  sessionLengthSeconds,
  tensionTimePerSessionSeconds,
  tensionTimePerSetSeconds,
  tensionTimePerWeekSeconds,
  tensionTimeProgrammeSeconds,
  torqueTimePerSession,
} from "../protocol/derived-quantities.js";
import { doseNotes } from "../protocol/dose-notes.js";
import type { Prescription } from "../protocol/prescription.js";
import { writePrescription } from "../protocol/write-prescription.js";
import {
  holdAnswer,
  holdCapacityTable,
  holdDoseTable,
  holdFitTable,
} from "../tables/hold-table.js";
import { folded, type Table } from "../tables/table.js";
import { noteSchema, type AnswerDraft } from "./answer.js";
import { oneOf, option } from "./option.js";
import { question } from "./question.js";
import {
  cautionsOf,
  jointOption,
  judgedSession,
  namedAs,
  nameOption,
  oneSession,
  protocolOption,
  readProtocol,
  sessionFigure,
  sorenessOf,
} from "./session.js";

/** Quantities that follow from the prescription; null where a field they need is not given. */
const doses = (p: Prescription): Readonly<Record<string, number | null>> => ({
  holdsPerSession: contractionsPerSession(p),
  holdsPerWeek: contractionsPerWeek(p) ?? null,
  effortPercent: effectiveIntensityPercent(p) ?? null,
  tensionTimePerSetSeconds: tensionTimePerSetSeconds(p),
  tensionTimePerSessionSeconds: tensionTimePerSessionSeconds(p),
  tensionTimePerWeekSeconds: tensionTimePerWeekSeconds(p) ?? null,
  tensionTimeProgrammeSeconds: tensionTimeProgrammeSeconds(p) ?? null,
  torqueTimePerSession: torqueTimePerSession(p) ?? null,
  sessionLengthSeconds: sessionLengthSeconds(p) ?? null,
  dutyCycle: dutyCycle(p) ?? null,
});

/** The edges of what fits; none for a maximal effort, which has no load to fail at. */
const edges = (p: Prescription, holding: CanBeHeldOptions) => ({
  comfortable: whatWouldFit(p, { ...holding, keep: "comfortable" }),
  nearTheLimit: whatWouldFit(p, { ...holding, keep: "near the limit" }),
});

export type HoldData = Readonly<{
  written: string;
  prescription: Prescription;
  doses: ReturnType<typeof doses>;
  /** The grade and where the reserve runs out for whom, in a sentence. */
  answer: string | null;
  /** As `canBeHeld` gives it; the seconds of a hold that lasts for ever are null, as JSON has no infinity. */
  assessment: (HoldAssessment & Readonly<{ oneHoldLastsForEver: boolean }>) | null;
  whatWouldFit: ReturnType<typeof edges> | null;
  /** Fields without which nothing can be judged. */
  needs: readonly string[];
  soreness: readonly SorenessNote[];
}>;

/** One session drawn, reckoned up, and tried against endurance. */
export const hold = question({
  id: "hold",
  options: {
    protocol: protocolOption,
    joint: jointOption,
    name: nameOption,
    rates: option(oneOf(["default", "alternative"]).default("default"), {
      help: "published set of fatigue rates: default or alternative",
      value: "<set>",
    }),
  },
  choices: ["protocol", "joint", "rates", "name"],
  data: {
    written: z.string(),
    prescription: z.looseObject({}),
    doses: z.record(z.string(), z.number().nullable()),
    answer: z.string().nullable(),
    assessment: z
      .looseObject({
        grade: z.string(),
        smallestReservePercent: z.object({
          low: z.number(),
          central: z.number(),
          high: z.number(),
        }),
        oneHoldLastsForEver: z.boolean(),
      })
      .nullable(),
    whatWouldFit: z
      .object({ comfortable: z.looseObject({}), nearTheLimit: z.looseObject({}) })
      .nullable(),
    needs: z.array(z.string()),
    soreness: z.array(noteSchema),
  },
  prepare: () => undefined,
  answer: (_none, options): AnswerDraft<HoldData> => {
    const p = readProtocol(options.protocol, options.joint);
    const written = writePrescription(p);
    const holding = { parameters: options.rates };
    const session = judgedSession(p, holding);
    const { assessment, timeline, needs } = session;
    const fits = assessment === undefined || assessment.maximal ? null : edges(p, holding);
    const shared = { written, prescription: p, doses: doses(p), soreness: sorenessNotes(p), needs };
    const { suffix, lead } = namedAs(options.name);
    const titled = (table: Table): Table => ({
      ...table,
      id: `${table.id}${suffix}`,
      title: lead(table.title),
    });
    const doseTable = titled(holdDoseTable(p));
    const soreness = titled(sorenessOf([{ name: oneSession, prescription: p }]));
    const cautions = cautionsOf([p]);
    if (assessment === undefined || timeline === undefined) {
      const example = "for example 4 × 30 s at 70%, rest 60 s";
      const reason = session.words.slice(0, -1);
      return {
        headline: lead(`${reason}; ${example}.`),
        sentences: [`${written}.`],
        tables: [doseTable, soreness],
        notes: doseNotes(p),
        cautions,
        refusal: refusal("missing-field", `w${reason.slice(1)}`),
        data: { ...shared, answer: null, assessment: null, whatWouldFit: null },
      };
    }
    const answer = holdAnswer(assessment);
    return {
      headline: lead(answer),
      sentences: [`${written}.`],
      tables: [
        ...(fits === null ? [] : [titled(holdFitTable(p, fits.comfortable, fits.nearTheLimit))]),
        folded(titled(holdCapacityTable(assessment, timeline))),
        folded(doseTable),
        folded(soreness),
      ],
      figures: [
        ...sessionFigure(p, session, `hold-strip${suffix}`),
        {
          name: "remaining-capacity",
          data: { id: `remaining-capacity${suffix}`, label: written, timeline, assessment },
        },
      ],
      notes: assessment.statements,
      cautions,
      data: {
        ...shared,
        answer,
        assessment: {
          ...assessment,
          oneHoldLastsForEver: assessment.oneHoldModelSeconds === null,
        },
        whatWouldFit: fits,
      },
    };
  },
});
